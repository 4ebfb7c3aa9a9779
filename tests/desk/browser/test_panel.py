"""The panel pushed open and closed, its counts side by side, and the windows of a job."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import pairwise

import pytest
from playwright.sync_api import Browser, Page

from drapetemplate.planning import folds
from tests.desk.browser.test_typing import figure, inches
from tests.helpers.commands import typed
from tests.helpers.desk_page import Desk, a_desk, field_at, look, open_page, rest, type_in

JOB = """units = "in"
[job]
name = "Heron Point, writing room"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
[pole]
diameter = "3/4"
projection = 6
[[window]]
width = 88
length = 84
count = 10
"""


@pytest.fixture(scope="module")
def hung(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk with a job whose pole is known."""
    folder = tmp_path_factory.mktemp("desk")
    (folder / "hung.toml").write_text(JOB, encoding="utf-8")
    with a_desk(folder, "hung.toml") as desk:
        yield desk


@pytest.fixture
def page(browser: Browser, hung: Desk) -> Page:
    """The page of that job, as if nobody had changed anything."""
    for left in hung.folder.iterdir():
        left.unlink()
    (hung.folder / "hung.toml").write_text(JOB, encoding="utf-8")
    return open_page(browser, hung.address).page


def running(page: Page, name: str) -> str:
    """What stands beside a name under the slider."""
    row = page.locator(".running div").filter(has=page.get_by_text(name, exact=True))
    return row.locator("dd").inner_text()


def test_slider_goes_from_closed_to_stacked(page: Page, hung: Desk) -> None:
    """It stands where the plan is closed, ends where it is stacked, and between says the solver's.

    Twenty places between are held against the folds that have the fullness said there.
    """
    told = typed("plan", "hung.toml", "--json", cwd=hung.folder)
    panel = json.loads(told.stdout)["windows"][0]["panels"][0]
    fold, gaps = panel["fold"], panel["count"] - 1
    covered = fold["pole_per_gap_mm"] * gaps / 25.4
    assert inches(running(page, "Pole taken")) == pytest.approx(covered, abs=1 / 32)
    slider = page.get_by_role("slider")
    last = int(slider.get_attribute("max") or 0)
    assert last > 40

    taken = []
    for place in range(0, last, max(1, last // 20)):
        slider.fill(str(place))
        fullness = float(running(page, "Fullness").split()[0])
        pole = inches(running(page, "Pole taken"))
        taken.append(pole)
        # Fullness is shown to a hundredth, so what the solver makes of it is near, not the same.
        solved = folds.solve(panel["pitch_mm"], panel["outside_mm"], fullness)
        assert pole == pytest.approx(solved.pole_per_gap * gaps / 25.4, rel=0.01)
        depth = inches(running(page, "In front and behind"))
        # And the depth is rounded up to 1/16 in, on the whole by half of that.
        assert depth - 1 / 32 == pytest.approx(solved.depth / 25.4, abs=1 / 16)
    assert all(before > after for before, after in pairwise(taken))

    slider.fill(str(last))
    assert inches(running(page, "Pole taken")) == pytest.approx(
        panel["stack_mm"] / 25.4, abs=1 / 32
    )
    assert "up to" in running(page, "In front and behind")


def test_picture_follows_the_slider(page: Page) -> None:
    """Each place has its own picture, in one frame, with as many rings as the panel has."""
    slider = page.get_by_role("slider")
    seen, frames = set(), set()
    for place in range(0, int(slider.get_attribute("max") or 0), 10):
        slider.fill(str(place))
        picture = page.locator(".above svg")
        seen.add(picture.locator("path.cloth").get_attribute("d"))
        frames.add(picture.get_attribute("viewBox"))
        strokes = picture.locator("path.ring").get_attribute("d") or ""
        assert strokes.lower().count("m") == 10
    assert len(seen) > 4
    assert len(frames) == 1


def test_a_count_is_chosen(page: Page) -> None:
    """Counts stand side by side with their figures; the one pressed becomes the job's."""
    chosen, shown = page.locator("#counts .chosen"), page.locator("#counts [data-count='12']")
    assert page.locator("#counts tbody svg").count() >= 3
    assert chosen.get_attribute("data-count") == "10"
    (of_all,) = page.locator("#counts > .warn").all_inner_texts()  # once, not under each
    assert (
        page.locator("#counts").inner_text().count(of_all.removeprefix("Warning at any count")) == 1
    )
    gap = shown.locator("[data-name=Gap]").inner_text()
    shown.get_by_role("button", name="Take 12").click()
    rest(page)
    assert field_at(page, "window[1].count").locator("input").input_value() == "12"
    assert inches(figure(page, "gap, edge to edge")) == pytest.approx(inches(gap), abs=1 / 32)
    assert chosen.get_attribute("data-count") == "12"


def test_right_panel_is_chosen(page: Page) -> None:
    """Of a pair both panels can be looked at; the right one is the left one's mirror image."""
    right = page.get_by_role("radio", name="Right panel")
    left = page.locator(".flat svg").inner_html()
    right.check()
    assert page.locator(".flat svg").inner_html() != left
    type_in(page, {"window[1].width": "90"})
    assert right.is_checked()


def test_the_front_is_said_to_be_closed(page: Page) -> None:
    """It doesn't follow the slider; of a length that isn't told it says that any is drawn."""
    front = page.locator(".from-front")
    assert "From the front, closed" in front.inner_text()
    unknown = front.get_by_text("length not told: drawn at any length")
    assert unknown.is_hidden()
    type_in(page, {"window[1].length": ""})
    assert unknown.is_visible()


def test_another_window_is_seen_from_its_top(page: Page) -> None:
    """The panel's side is scrolled up for another window, whose name and findings come first."""
    page.get_by_role("button", name="Copy this one").click()
    rest(page)
    page.locator("#panel").evaluate("one => one.scrollTo(0, 500)")
    assert page.locator("#panel").evaluate("one => one.scrollTop") > 100
    page.locator("#windows li button").first.click()
    rest(page)
    assert page.locator("#panel").evaluate("one => one.scrollTop") == 0


def test_what_is_missing_at_another_window_is_gone_to(page: Page) -> None:
    """Why there is no PDF names the window, and leads to its question."""
    page.get_by_role("button", name="Copy this one").click()
    rest(page)
    type_in(page, {"window[2].width": ""})
    page.locator("#windows li button").first.click()
    rest(page)
    page.get_by_role("button", name="Save the PDF").click()
    page.locator("#notice").get_by_text("“Finished width of one panel, laid flat?”").wait_for()
    page.get_by_role("button", name="Go to it").click()
    line = field_at(page, "window[2].width").locator("input")
    line.wait_for()
    assert line.evaluate("one => one === document.activeElement")


def test_windows_are_added_copied_and_removed(page: Page) -> None:
    """Each window is looked at by itself; undo brings a removed one back."""
    listed = page.locator("#windows li button")
    page.get_by_role("button", name="Add a window").click()
    rest(page)
    assert page.locator(".picture svg").count() == 0  # of this one nothing is known yet
    page.keyboard.type("Bay")  # its name is asked first
    type_in(page, {"window[2].width": "60"})
    assert figure(page, "finished width") == "60 in"
    page.get_by_role("button", name="Copy this one").click()
    rest(page)
    assert listed.count() == 3
    type_in(page, {"window[3].width": "50"})
    listed.nth(1).click()
    look(page)
    assert "Bay" in page.locator("#panel-title").inner_text()
    assert figure(page, "finished width") == "60 in"
    page.get_by_role("button", name="Remove this one").click()
    rest(page)
    assert listed.count() == 2
    assert figure(page, "finished width") == "50 in"
    page.get_by_role("button", name="Undo").click()
    rest(page)
    assert listed.count() == 3
    assert figure(page, "finished width") == "60 in"


def test_a_stop_is_taken_on_by_name(page: Page, hung: Desk) -> None:
    """While a stop stands there is no PDF; taken on by its code, there is, as `make --accept`."""
    type_in(page, {"pole.projection": "3", "window[1].count": "8"})
    page.get_by_role("button", name="Save the job file").click()
    page.get_by_text("Saved as hung.toml.").wait_for()
    page.get_by_role("button", name="Save the PDF").click()
    page.locator("#notice").get_by_text("No PDF").wait_for()
    box = page.get_by_label("back folds hit the wall")
    box.check()
    rest(page)
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save the PDF").click()
    coming.value.save_as(hung.folder / "page.pdf")
    accept = ("--accept", "back-fold-hits-wall")
    made = typed("make", "hung.toml", "--out", "made.pdf", *accept, cwd=hung.folder)
    assert made.returncode == 0, made.stderr
    assert (hung.folder / "page.pdf").read_bytes() == (hung.folder / "made.pdf").read_bytes()
    page.reload()
    rest(page)
    assert box.is_checked()
    for projection in ("6", "3"):  # it goes, and comes again: to be decided anew
        type_in(page, {"pole.projection": projection})
    assert not box.is_checked()


def test_cloth_and_paper_of_the_whole_job(page: Page) -> None:
    """Cloth has its cut diagram and its order, the paper its sheets, when typing rests."""
    type_in(page, {"window[1].?cloth": "yes", "fabric.width": "54", "fabric.name": "linen"})
    cloth = page.locator("#cloth")
    assert cloth.locator("svg").count() >= 1
    assert "linen" in cloth.inner_text()
    assert "yd" in cloth.inner_text()
    assert "sheets" in page.locator("#paper").inner_text()
