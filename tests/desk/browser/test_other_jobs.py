"""Another job of the folder opened from the page: nothing that was typed is lost on the way."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, Page, expect

from tests.helpers.desk_page import a_desk, field_at, open_page, rest, type_in
from tests.helpers.jobfiles import LEAST, job_toml


def choose(page: Page, words: str) -> None:
    """Press the button of the header, and the job with these words."""
    page.get_by_role("button", name="Open a job").click()
    page.locator("#dialog").get_by_role("button", name=words).click()


def opened(page: Page, name: str) -> None:
    """Wait until a job is on the page, and at rest."""
    expect(page.locator("#job-name")).to_have_text(name)
    rest(page)


def test_found_by_its_cloth(browser: Browser, tmp_path: Path) -> None:
    """Words find a job as on the shelf, also by what its row doesn't show; none is said to be."""
    for number in range(10):
        cloth = '[fabric]\nname = "Grey Wool"\nwidth = 54' if number == 4 else ""
        job = f'number = "HP-{number}"\nroom = "Étage {number}"'
        (tmp_path / f"{number}.toml").write_text(job_toml(job=job, tables=cloth))
    with a_desk(tmp_path) as desk:
        page = open_page(browser, desk.address).page
        page.get_by_role("button", name="Open a job").click()
        rows = page.locator("#jobs button:visible")
        expect(rows).to_have_count(10)
        none = page.get_by_text("No job here has these words.")
        for words, found in (("wool GREY", ["HP-4"]), ("etage 7", ["HP-7"]), ("silk", [])):
            page.locator("#find-job").fill(words)
            expect(rows).to_have_count(len(found))
            expect(rows).to_contain_text(found)
            assert none.is_visible() == (not found)


def test_there_and_back(browser: Browser, tmp_path: Path) -> None:
    """What was typed waits as a draft; where it can't be kept the page stays with it, and says so.

    Loaded again a page has what it had open, not what the desk was started with.
    """
    (tmp_path / "writing.toml").write_text(LEAST)
    (tmp_path / "linen.toml").write_text(job_toml(job='number = "HP-9"'))
    width = "window[1].width"
    with a_desk(tmp_path, "writing.toml") as desk:
        watched = open_page(browser, desk.address)
        page = watched.page
        field_at(page, width).locator("input").fill("89")
        choose(page, "HP-9")
        opened(page, "Heron Point, linen store")
        page.reload()
        opened(page, "Heron Point, linen store")
        choose(page, "writing room")
        opened(page, "Heron Point, writing room")
        typed = field_at(page, width).locator("input")
        expect(typed).to_have_value("89")
        expect(page.locator("#notice")).to_contain_text("Taken up")
        # Another page of the same job takes it over: what is typed here now can't be kept.
        other = open_page(browser, desk.address)
        type_in(other.page, {width: "90"})
        typed.fill("91")
        expect(page.locator("#notice")).to_contain_text("Another page")
        choose(page, "HP-9")
        expect(page.locator("#dialog")).to_be_hidden()
        expect(page.locator("#notice")).to_contain_text("not kept as a draft")
        expect(typed).to_have_value("91")
        assert (watched.elsewhere, other.errors) == ([], [])
    assert (tmp_path / "writing.toml").read_text() == LEAST
