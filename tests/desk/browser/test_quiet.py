"""The page keeps to itself: nothing is fetched from elsewhere and nothing goes wrong in silence."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

import drapetemplate
from tests.helpers.desk_page import LEAST, Desk, a_desk, field_at, open_page, rest, type_in

SAMPLES = sorted((Path(drapetemplate.__file__).parent.parent / "sample_jobs").glob("*.toml"))
HOSTILE = '<img src="http://192.0.2.1/x.png" onerror="document.title=1"><svg onload="alert(1)">'


def test_nothing_leaves_this_computer(browser: Browser, desk: Desk) -> None:
    """Every request of a whole session goes to the desk, and the console says nothing."""
    watched = open_page(browser, desk.address)
    page = watched.page
    type_in(page, {**LEAST, "pole.projection": "4", "window[1].?cloth": "yes"})
    type_in(page, {"fabric.width": "54", "window[1].?lining": "yes"})
    page.get_by_role("button", name="Copy this one").click()
    rest(page)
    with page.expect_download():
        page.get_by_role("button", name="Save the PDF").click()
    rest(page)
    assert watched.elsewhere == []
    assert watched.errors == []


def test_a_jobs_words_are_never_markup(browser: Browser, desk: Desk) -> None:
    """Names that look like a page's code are shown as they are typed, wherever they stand."""
    watched = open_page(browser, desk.address)
    page = watched.page
    type_in(page, {**LEAST, "job.name": HOSTILE, "window[1].name": HOSTILE})
    page.get_by_role("button", name="Add a window").click()
    rest(page)
    assert page.locator("#job-name").inner_text() == HOSTILE
    assert page.locator("img, [onload], [onerror]").count() == 0
    assert watched.elsewhere == []
    assert watched.errors == []


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.stem)
def test_samples_are_shown(browser: Browser, tmp_path: Path, sample: Path) -> None:
    """Every sample job opens with pictures, without a fault, an error or a console line."""
    (tmp_path / sample.name).write_bytes(sample.read_bytes())
    with a_desk(tmp_path, sample.name) as desk:
        watched = open_page(browser, desk.address)
        page = watched.page
        assert page.locator("#pictures .picture svg").count() >= 1
        assert page.locator(".fault:visible").count() == 0
        assert page.locator("#file").inner_text() == f"{sample.name}: as the file has it"
        assert field_at(page, "job.name").locator("input").input_value()
        assert watched.elsewhere == []
        assert watched.errors == []
