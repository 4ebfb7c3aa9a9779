"""Whoever can't see the page, or use a pointer, gets all of it: axe-core, the keyboard, speech."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import drapetemplate
from tests.helpers.desk_page import LEAST, Desk, a_desk, field_at, open_page, rest, type_in

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
SAMPLES = Path(drapetemplate.__file__).parent.parent / "sample_jobs"


@pytest.fixture
def new_job(browser: Browser, shared_desk: Desk) -> Page:
    """The page of a desk without a job file."""
    return open_page(browser, shared_desk.address).page


def violations(page: Page, *rules: str) -> list[str]:
    """What axe-core finds wrong with the page as it stands, by all its rules or by these."""
    # By Playwright's own way in, since the page's policy lets no foreign script run.
    page.evaluate(AXE)
    only = {"runOnly": list(rules)} if rules else {}
    found = page.evaluate(
        "only => axe.run(document, {resultTypes: ['violations'], ...only})",
        only,
    )
    return [
        f"{rule['id']}: {node['target']} {node['failureSummary']}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def nothing(_page: Page) -> None:
    """Leave the page as it opens."""


def a_fault(page: Page) -> None:
    """Type a measure that can't be read."""
    type_in(page, {**LEAST, "window[1].width": "eighty"})


def findings(page: Page) -> None:
    """Type a job that is warned of, and open all explanations."""
    type_in(page, {**LEAST, "pole.diameter": "1 3/8", "pole.projection": "6"})
    for why in page.locator(".why").all():
        why.click()


def a_stop(page: Page) -> None:
    """Type a job that a stop speaks against, and take it on."""
    type_in(page, {**LEAST, "window[1].count": "7", "pole.projection": "3"})
    page.locator(".take-on input").first.check()
    rest(page)


def many_windows(page: Page) -> None:
    """Add two windows to a job."""
    type_in(page, LEAST)
    for name in ("Add a window", "Copy this one"):
        page.get_by_role("button", name=name).click()
        rest(page)


def a_dialog(page: Page) -> None:
    """Ask to save without a name."""
    type_in(page, LEAST)
    page.get_by_role("button", name="Save the job file").click()
    page.get_by_label("Name of the file").wait_for()


def nothing_answers(page: Page) -> None:
    """Type on while the desk doesn't answer."""
    type_in(page, LEAST)
    page.context.set_offline(True)
    field_at(page, "window[1].width").locator("input").fill("91")
    page.locator("#not-kept li").wait_for()


STATES = (nothing, a_fault, findings, a_stop, many_windows, a_dialog, nothing_answers)


@pytest.mark.parametrize("state", STATES, ids=lambda state: state.__name__)
def test_axe_finds_nothing(new_job: Page, state: Callable[[Page], None]) -> None:
    """No state of the page breaks a rule that axe-core knows, in light or dark."""
    state(new_job)
    assert violations(new_job) == []
    new_job.emulate_media(color_scheme="dark")
    assert violations(new_job, "color-contrast") == []


@pytest.fixture(scope="module")
def lined(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk with a sample job that has cloth, lining and a pattern."""
    folder = tmp_path_factory.mktemp("desk")
    (folder / "job.toml").write_bytes((SAMPLES / "long_gallery.toml").read_bytes())
    (folder / "other.toml").write_bytes((SAMPLES / "boot_room.toml").read_bytes())
    with a_desk(folder, "job.toml") as desk:
        yield desk


@pytest.mark.parametrize("width", [1280, 412])
def test_axe_finds_nothing_with_cloth(browser: Browser, lined: Desk, width: int) -> None:
    """Nor does a whole job with its cloth, counts and paper, in one column too.

    Nor the list of jobs to open, which comes over it.
    """
    page = open_page(browser, lined.address, width=width).page
    assert violations(page) == []
    page.get_by_role("button", name="Open a job").click()
    page.locator("#jobs li").nth(1).wait_for()
    assert violations(page) == []
    page.locator("#dialog").get_by_role("button", name="Cancel").click()
    page.emulate_media(color_scheme="dark")
    assert violations(page, "color-contrast") == []


def test_the_whole_way_by_keyboard(browser: Browser, desk: Desk) -> None:
    """A job is typed, looked at, changed and saved without a pointer, in the order of the page."""
    page = open_page(browser, desk.address).page
    focused = "() => document.activeElement.closest('[data-path]')?.dataset.path ?? ''"

    def go_to(path: str) -> None:
        for _ in range(200):
            if page.evaluate(focused) == path:
                return
            page.keyboard.press("Tab")
        pytest.fail(f"no Tab leads to {path}")

    for path in ("job.name", "window[1].width", "eyelet.outside", "eyelet.opening"):
        go_to(path)
        page.keyboard.type("?")
        assert field_at(page, path).locator(".help").is_visible()
        page.keyboard.type(LEAST[path])
    rest(page)
    go_to("paper.size")
    page.keyboard.type("a4")
    rest(page)
    page.keyboard.press("Control+s")
    page.keyboard.press("Control+a")
    page.keyboard.type("by_keyboard.toml")
    page.keyboard.press("Enter")
    page.get_by_text("Saved as by_keyboard.toml.").wait_for()
    assert 'size = "a4"' in (desk.folder / "by_keyboard.toml").read_text(encoding="utf-8")
    assert page.evaluate(focused) == "paper.size"


def test_slider_goes_by_keyboard_and_says_where_it_is(new_job: Page) -> None:
    """Arrow keys push the panel open; what a reader says has the figures of that place."""
    page = new_job
    type_in(page, {**LEAST, "pole.projection": "4", "pole.diameter": "3/4"})
    slider = page.get_by_role("slider")
    closed = slider.get_attribute("aria-valuetext")
    slider.focus()
    page.keyboard.press("End")
    stacked = slider.get_attribute("aria-valuetext")
    assert closed
    assert stacked
    assert closed != stacked


def test_speech_waits_for_rest(new_job: Page) -> None:
    """What a reader speaks of its own accord changes once, when typing rests."""
    page = new_job
    type_in(page, LEAST)
    page.evaluate(
        """() => {
            window.spoken = [];
            for (const one of document.querySelectorAll("[role=status], [role=alert]")) {
                new MutationObserver(() => window.spoken.push(one.textContent)).observe(
                    one, {childList: true, subtree: true, characterData: true});
            }
        }"""
    )
    line = field_at(page, "window[1].width").locator("input")
    line.fill("")
    line.press_sequentially("91 1/2", delay=60)
    assert page.evaluate("() => window.spoken") == []
    rest(page)
    spoken = page.evaluate("() => window.spoken")
    assert len(spoken) == 1
    assert "91 1/2 in" in spoken[0]
