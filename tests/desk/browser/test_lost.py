"""A desk that ends in mid-typing, and a job that two pages have open."""

from __future__ import annotations

import signal
from pathlib import Path

from playwright.sync_api import Browser

from tests.helpers.desk_page import LEAST, Desk, a_desk, field_at, open_page, rest, type_in

JOB = """units = "in"
[job]
name = "Heron Point, landing"
[eyelet]
outside = "2 1/2"
opening = "1 1/2"
[[window]]
width = 88
"""


def test_killed_in_mid_typing(browser: Browser, tmp_path: Path) -> None:
    """The page says that the desk has ended and how to start it; a new one has the answers."""
    with a_desk(tmp_path) as desk:
        page = open_page(browser, desk.address).page
        type_in(page, LEAST)
        desk.kill()
        field_at(page, "window[1].width").locator("input").fill("91")
        lost = page.locator("#lost")
        lost.wait_for()
        assert "drapetemplate desk" in lost.inner_text()
        assert "Finished width of one panel, laid flat? 91" in lost.inner_text()
    with a_desk(tmp_path) as again:
        page = open_page(browser, again.address).page
        kept = {path: field_at(page, path).locator("input").input_value() for path in LEAST}
        assert kept == LEAST


def test_a_pdf_of_a_dead_desk_ends_at_once(browser: Browser, tmp_path: Path) -> None:
    """Nothing goes on being made; no promise is made that another run can't keep."""
    with a_desk(tmp_path) as desk:
        page = open_page(browser, desk.address).page
        type_in(page, LEAST)
        desk.kill()
        page.get_by_role("button", name="Save the PDF").click()
        page.locator("#notice").get_by_text("No PDF: the desk's program doesn't answer.").wait_for()
        assert "Making" not in page.locator("#notice").inner_text()
        lost = page.locator("#lost").inner_text()
        assert "start the desk again in a terminal, open the page it shows" in lost
        assert "by itself" not in lost
        assert "All that was typed is kept." in lost


def test_half_a_figure_is_not_taken_up_in_silence(browser: Browser, tmp_path: Path) -> None:
    """A measure half typed when the desk died is told beside the file's, which can be taken."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        page = open_page(browser, desk.address).page
        assert page.locator("#file").inner_text() == "job.toml: as the file has it"
        type_in(page, {"window[1].width": "8"})
        assert page.locator("#file").inner_text().startswith("job.toml: changed, and kept as")
        desk.kill()
    with a_desk(tmp_path, "job.toml") as again:
        page = open_page(browser, again.address).page
        told = page.locator("#notice").inner_text()
        assert "Taken up where this was left on 20" in told
        assert "it differs from the job file in" in told
        assert "Finished width of one panel, laid flat? 8, in the file 88" in told
        assert page.locator("#undo").is_enabled()
        page.get_by_role("button", name="Take the file as it is instead").click()
        rest(page)
        assert field_at(page, "window[1].width").locator("input").input_value() == "88"
        assert page.locator("#file").inner_text() == "job.toml: as the file has it"
        assert page.locator("#notice").inner_text() == ""
        assert [each.name for each in tmp_path.iterdir()] == ["job.toml"]


def test_typed_back_is_as_the_file_has_it(browser: Browser, tmp_path: Path) -> None:
    """The file's own value typed anew leaves nothing changed, of a draft taken up as well."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        type_in(open_page(browser, desk.address).page, {"window[1].width": "8"})
        page = open_page(browser, desk.address).page
        type_in(page, {"window[1].width": "88"})
        assert page.locator("#file").inner_text() == "job.toml: as the file has it"


def test_what_is_not_kept_is_called_so(browser: Browser, tmp_path: Path) -> None:
    """While the red bar says what isn't kept, the head of the page doesn't say that it is."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        page = open_page(browser, desk.address).page
        type_in(page, {"window[1].width": "90"})
        desk.kill()
        field_at(page, "window[1].width").locator("input").fill("91")
        page.locator("#lost").wait_for()
        assert "Not kept yet" in page.locator("#not-kept").inner_text()
        assert page.locator("#file").inner_text() == "job.toml: changed, and not kept yet"


def test_what_is_not_kept_outlives_its_page(browser: Browser, tmp_path: Path) -> None:
    """Loaded again, a page of the same desk has what it couldn't have kept, and keeps it."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        page = open_page(browser, desk.address).page
        page.on("dialog", lambda dialog: dialog.accept())
        page.route("**/draft", lambda route: route.abort())
        field_at(page, "window[1].width").locator("input").fill("91")
        page.get_by_text("changed, and not kept yet").wait_for()
        assert not (tmp_path / "job.toml.draft").exists()
        held = "Object.entries(sessionStorage).filter(([key]) => key.startsWith('unkept'))"
        [[_, answers]] = page.evaluate(held)
        assert '"91"' in answers
        page.unroute("**/draft")
        page.reload()
        rest(page)
        assert page.evaluate(held) == []
        assert field_at(page, "window[1].width").locator("input").input_value() == "91"
        assert page.locator("#file").inner_text().startswith("job.toml: changed, and kept as")
        assert '"91"' in (tmp_path / "job.toml.draft").read_text(encoding="utf-8")


def test_goes_on_when_the_desk_is_back(browser: Browser, desk: Desk) -> None:
    """A desk that only stood still is found again, with what was typed meanwhile."""
    page = open_page(browser, desk.address).page
    type_in(page, LEAST)
    page.context.set_offline(True)
    field_at(page, "window[1].width").locator("input").fill("91")
    page.locator("#lost").wait_for()
    page.context.set_offline(False)
    page.locator("#lost").wait_for(state="hidden")
    rest(page)
    assert "91 in" in page.locator("#first-figures").inner_text()


def test_a_desk_that_stands_still_is_waited_for(browser: Browser, desk: Desk) -> None:
    """A desk that is held for a while answers the newest key afterwards."""
    page = open_page(browser, desk.address).page
    type_in(page, LEAST)
    desk.signal(signal.SIGSTOP)
    line = field_at(page, "window[1].width").locator("input")
    line.fill("")
    line.press_sequentially("95", delay=30)
    desk.signal(signal.SIGCONT)
    rest(page)
    assert "95 in" in page.locator("#first-figures").inner_text()


def test_two_pages_on_one_job(browser: Browser, desk: Desk) -> None:
    """The page that is behind says so, keeps what it shows, and can take what the other has."""
    first = open_page(browser, desk.address).page
    type_in(first, LEAST)
    second = open_page(browser, desk.address).page
    type_in(second, {"window[1].width": "70"})
    field_at(first, "window[1].width").locator("input").fill("99")
    first.get_by_text("Another page has changed this job").wait_for()
    assert field_at(first, "window[1].width").locator("input").input_value() == "99"
    third = open_page(browser, desk.address).page
    assert field_at(third, "window[1].width").locator("input").input_value() == "70"
    first.get_by_role("button", name="Take what is there now").click()
    rest(first)
    assert field_at(first, "window[1].width").locator("input").input_value() == "70"


def test_a_file_changed_on_disk_is_not_written_over(browser: Browser, tmp_path: Path) -> None:
    """Saving over what another program wrote asks first: the choice is the user's."""
    job = tmp_path / "job.toml"
    job.write_text(JOB, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        page = open_page(browser, desk.address).page
        type_in(page, {"window[1].width": "90"})
        job.write_text(JOB.replace("88", "77"), encoding="utf-8")
        page.get_by_role("button", name="Save the job file").click()
        page.get_by_role("heading", name="job.toml has changed on disk").wait_for()
        page.get_by_role("button", name="Cancel").click()
        assert "77" in job.read_text(encoding="utf-8")
        page.get_by_role("button", name="Save the job file").click()
        page.get_by_role("button", name="Save under another name").click()
        page.get_by_label("Name of the file").fill("mine.toml")
        page.get_by_role("button", name="Save", exact=True).click()
        page.get_by_text("Saved as mine.toml.").wait_for()
        assert "90" in (tmp_path / "mine.toml").read_text(encoding="utf-8")
        assert "77" in job.read_text(encoding="utf-8")


def test_a_file_that_cant_be_changed_is_saved_under_another_name(
    browser: Browser, tmp_path: Path
) -> None:
    """One whose window is no list: its press asks for the name at once, and says why."""
    job = tmp_path / "job.toml"
    text = JOB.replace("[[window]]", "[window]")
    job.write_text(text, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        page = open_page(browser, desk.address).page
        type_in(page, {"window[1].width": "90"})
        page.get_by_role("button", name="Save the job file").click()
        page.get_by_text("job.toml can't be changed key by key").wait_for()
        page.get_by_label("Name of the file").fill("mine.toml")
        page.get_by_role("button", name="Save", exact=True).click()
        page.get_by_text("Saved as mine.toml.").wait_for()
    assert "90" in (tmp_path / "mine.toml").read_text(encoding="utf-8")
    assert job.read_text(encoding="utf-8") == text


def test_what_is_on_disk_can_be_taken(browser: Browser, tmp_path: Path) -> None:
    """Of a file that changed on disk the page can take what is there now."""
    job = tmp_path / "job.toml"
    job.write_text(JOB, encoding="utf-8")
    with a_desk(tmp_path, "job.toml") as desk:
        page = open_page(browser, desk.address).page
        type_in(page, {"window[1].width": "92"})
        job.write_text(JOB.replace("88", "66"), encoding="utf-8")
        page.get_by_role("button", name="Save the job file").click()
        page.get_by_role("button", name="Take what is on disk").click()
        rest(page)
        assert field_at(page, "window[1].width").locator("input").input_value() == "66"
        assert page.locator("#file").inner_text() == "job.toml: as the file has it"
