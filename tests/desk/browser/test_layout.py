"""What stands where: the pictures in view, nothing cut off, nothing over another, at any width."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page

import drapetemplate
from tests.helpers.desk_page import Desk, a_desk, field_at, look, open_page, rest, type_in

SAMPLES = Path(drapetemplate.__file__).parent.parent / "sample_jobs"
SAMPLE = "stair_hall.toml"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk with a job that has findings, folds and a pair of panels."""
    folder = tmp_path_factory.mktemp("desk")
    (folder / SAMPLE).write_bytes((SAMPLES / SAMPLE).read_bytes())
    with a_desk(folder, SAMPLE) as desk:
        yield desk


@pytest.fixture
def own_desk(tmp_path: Path) -> Iterator[Desk]:
    """One with the same job, for what would leave another behind."""
    (tmp_path / SAMPLE).write_bytes((SAMPLES / SAMPLE).read_bytes())
    with a_desk(tmp_path, SAMPLE) as desk:
        yield desk


IN_VIEW = """() => [...document.querySelectorAll(".picture svg")].slice(0, 3).map(picture => {
    const box = picture.getBoundingClientRect();
    return box.width > 50 && box.top >= 0 && box.left >= 0
        && box.bottom <= innerHeight + 1 && box.right <= innerWidth + 1;
})"""


def test_pictures_stay_in_view(browser: Browser, desk: Desk) -> None:
    """At 1280 × 800 all three pictures are whole in view, whichever field has the focus."""
    page = open_page(browser, desk.address).page
    assert page.evaluate(IN_VIEW) == [True, True, True]
    for field in page.locator("#form .field").all():
        control = field.locator("input, select").first
        control.focus()
        inside = control.evaluate(
            """one => { const box = one.getBoundingClientRect();
                return box.top >= 0 && box.bottom <= innerHeight; }"""
        )
        assert inside, field.get_attribute("data-path")
        assert page.evaluate(IN_VIEW) == [True, True, True], field.get_attribute("data-path")


def test_a_wide_panels_pictures_are_in_view(browser: Browser, tmp_path: Path) -> None:
    """Those of a panel far wider than it is long are whole in view too, one under the other."""
    job = tmp_path / "wide.toml"
    job.write_text(
        'units = "in"\n[job]\nname = "Heron Point, terrace"\n'
        '[eyelet]\noutside = "2 5/8"\nopening = "1 9/16"\n'
        '[pole]\nprojection = 4\ndiameter = "3/4"\n'
        '[[window]]\nwidth = 300\nlength = 84\npanels = "single"\n',
        encoding="utf-8",
    )
    with a_desk(tmp_path, job.name) as desk:
        page = open_page(browser, desk.address).page
        assert page.evaluate(IN_VIEW) == [True, True, True]
        type_in(page, {"pole.diameter": "1 1/2", "window[1].count": "30"})
        assert page.locator("#findings .stop").count() >= 1
        assert page.evaluate(IN_VIEW) == [True, True, True]


def test_pictures_do_not_move_while_typing(browser: Browser, own_desk: Desk) -> None:
    """Findings, figures and deeper folds that come and go move no picture and no field."""
    page = open_page(browser, own_desk.address).page
    tops = """() => [...document.querySelectorAll("#pictures svg"), document.activeElement]
        .map(one => Math.round(one.getBoundingClientRect().top))"""
    page.evaluate("() => { window.setTimeout = () => 0; }")  # slow as it may be, typing never rests
    for path, texts in (("pole.projection", ("2", "2 1/2", "6")), ("window[1].count", ("6", "20"))):
        line = field_at(page, path).locator("input")
        line.scroll_into_view_if_needed()
        line.focus()
        before = page.evaluate(tops)
        assert len(before) == 4
        for text in texts:
            line.fill(text)
            look(page)
            assert page.evaluate(tops) == before, text


def test_a_half_typed_count_is_not_what_was_understood(browser: Browser, own_desk: Desk) -> None:
    """Of a count that can't be, the last that was typed to the end is shown, not its beginning."""
    page = open_page(browser, own_desk.address).page
    line = field_at(page, "window[1].count").locator("input")
    before = page.locator("#first-figures").inner_text()
    # However slow this is, typing rests only after the whole of it.
    page.evaluate("() => { window.later = setTimeout; window.setTimeout = () => 0; }")
    line.fill("2")
    look(page)
    page.evaluate("() => { window.setTimeout = window.later; }")
    line.fill("200")
    rest(page)
    assert page.locator("#old").is_visible()
    assert page.locator("#first-figures").inner_text() == before


def test_on_a_narrow_screen_the_panel_is_a_press_away(browser: Browser, desk: Desk) -> None:
    """The way to the panel and back stays in view at the top, and covers no title."""
    page = open_page(browser, desk.address, width=412).page
    for name, place in (("See the panel", "#panel-title"), ("Back to the questions", "#windows")):
        page.get_by_role("link", name=name).click()
        top = page.locator(place).evaluate("one => one.getBoundingClientRect().top")
        under = page.locator("#go-to").evaluate("one => one.getBoundingClientRect().bottom")
        assert 0 < under <= top < 200, name


def test_an_answered_field_moves_none(browser: Browser, tmp_path: Path) -> None:
    """What stood beside an empty field goes as one types; the fields below stay where they are."""
    with a_desk(tmp_path) as desk:
        page = open_page(browser, desk.address).page
        for path, text in {"job.name": "Heron Point", "eyelet.hole": "1 5/8"}.items():
            line = field_at(page, path).locator("input")
            line.focus()
            below = f"""() => {{ const all = [...document.querySelectorAll("#form .field")];
                const at = all.findIndex(one => one.dataset.path === "{path}");
                return all[at + 1].offsetTop - all[at].offsetTop; }}"""
            before = page.evaluate(below)
            line.fill(text)
            rest(page)
            assert page.evaluate(below) == before, path


OVERLAPPING = """() => {
    const shown = [...document.querySelectorAll(
        "button, input:not([type=radio], [type=checkbox]), .label, .back, .fault, h1, h2, h3, dt, "
        + "dd, #findings p, .picture"
    )].filter(one => one.checkVisibility({checkVisibilityCSS: true})
        && !one.closest(".for-ears") && !one.matches(".for-ears, #questions-title"));
    const boxes = shown.map(one => [one, one.getBoundingClientRect()])
        .filter(([, box]) => box.width > 1 && box.height > 1);
    const bad = [];
    boxes.forEach(([one, a], at) => {
        if (a.left < -1 || a.right > document.documentElement.clientWidth + 1) {
            bad.push(`cut off: ${one.outerHTML.slice(0, 90)}`);
        }
        for (const [other, b] of boxes.slice(at + 1)) {
            if (one.contains(other) || other.contains(one)) continue;
            const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
            const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
            if (across > 1.5 && down > 1.5) {
                bad.push(`${one.outerHTML.slice(0, 80)} over ${other.outerHTML.slice(0, 80)}`);
            }
        }
    });
    return bad;
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [412, 699, 700, 1280])
def test_nothing_overlaps(
    browser: Browser, desk: Desk, width: int, scheme: Literal["light", "dark"]
) -> None:
    """No words, fields or pictures lie over one another, and none is cut off at the side."""
    page = open_page(browser, desk.address, width=width, height=5000, scheme=scheme).page
    told = page.locator("#notice").get_by_role("button", name="Close")
    if told.count():  # what it took up of another test stands at its foot until it is read
        told.click()
    assert page.evaluate(OVERLAPPING) == []
    sideways = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert page.evaluate(sideways) <= 0
    one_column = page.evaluate(
        """() => document.querySelector("#panel").getBoundingClientRect().left
            < document.querySelector("#questions").getBoundingClientRect().right - 1"""
    )
    assert one_column == (width < 700)


def test_explanation_opens_in_place(browser: Browser, desk: Desk) -> None:
    """Every ? opens its words between the question and its field, in view, without overlap."""
    page: Page = open_page(browser, desk.address, height=9000).page
    for why in page.locator(".why").all():
        why.click()
    rest(page)
    assert page.evaluate(OVERLAPPING) == []


MANY = """units = "in"
[job]
name = "Heron Point, library"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
[pole]
diameter = "1 3/8"
projection = 3
[[window]]
width = 88
length = 84
count = 7
"""
"""A job with two stops, two warnings and notes."""

CUT = """() => [...document.querySelectorAll("#said p, #said li, #said button, #said label")]
    .filter(one => one.checkVisibility()).filter(one => {
        const box = one.getBoundingClientRect();
        const round = document.querySelector("#said").getBoundingClientRect();
        return box.bottom > round.bottom + 1 || box.top < round.top - 1;
    }).map(one => one.textContent)"""
"""What stands among the findings and is cut by their box."""


def test_no_finding_is_cut(browser: Browser, tmp_path: Path) -> None:
    """The worst is whole, with all that it offers; how many more there are is said, and opened."""
    (tmp_path / "many.toml").write_text(MANY, encoding="utf-8")
    with a_desk(tmp_path, "many.toml") as desk:
        page = open_page(browser, desk.address).page
        assert page.evaluate(CUT) == []
        found = page.locator("#findings li")
        shown = page.locator("#findings li:visible")
        assert "7 eyelets" in shown.first.inner_text()
        # In brief, a second is told; pressed, it and those that had no room at all are whole.
        brief = page.locator("#findings .in-brief:visible")
        assert brief.count() >= 1
        assert brief.count() == shown.count() - 1
        hidden = found.count() - shown.count()
        assert page.get_by_role("button", name=f"Show {hidden} more").is_visible()
        brief.first.click()
        assert page.evaluate(CUT) == []
        assert page.locator("#findings > ul > li:visible").count() == 4
        page.get_by_role("button", name="Show fewer").click()
        assert page.evaluate(IN_VIEW) == [True, True, True]
        wrong = ("window[1].width", "pole.diameter", "pole.projection", "eyelet.outside")
        type_in(page, dict.fromkeys((*wrong, "eyelet.opening", "window[1].count"), "x"))
        assert page.locator("#still li").count() == 6
        assert page.evaluate(CUT) == []


def test_a_long_name_leaves_what_is_known_of_its_window(browser: Browser, tmp_path: Path) -> None:
    """It is cut short in the list of windows, each of one line; stops and warnings stay in view."""
    name = "Bay, the long one towards the sea, the pier and the harbour wall"
    job = MANY.replace("[[window]]", f'[[window]]\nname = "{name}"')
    (tmp_path / "many.toml").write_text(job + 6 * "[[window]]\nwidth = 60\n", encoding="utf-8")
    with a_desk(tmp_path, "many.toml") as desk:
        page = open_page(browser, desk.address).page
        known = page.locator("#windows .against")
        known.nth(1).wait_for()
        listed = page.locator("#windows ul").bounding_box()
        assert listed
        for each in known.all():
            box = each.bounding_box()
            assert box
            assert box["x"] + box["width"] <= listed["x"] + listed["width"]
        lines = [button.bounding_box() for button in page.locator("#windows li button").all()]
        assert all(line and line["height"] < 40 for line in lines)
        # A copy is the last of a long list, and in view there.
        page.get_by_role("button", name="Copy this one").click()
        rest(page)
        chosen = page.locator("#windows [aria-current]").bounding_box()
        assert chosen
        assert chosen["y"] + chosen["height"] <= listed["y"] + listed["height"]


def test_no_room_is_kept_for_absent_findings(browser: Browser, tmp_path: Path) -> None:
    """Where nothing speaks against a job, one line says so and the pictures follow."""
    job = MANY.replace("= 3", "= 6").replace("count = 7", "count = 10").replace("1 3/8", "3/4")
    job = job.replace("[pole]", 'hole = "1 5/8"\n[pole]')
    (tmp_path / "good.toml").write_text(job, encoding="utf-8")
    with a_desk(tmp_path, "good.toml") as desk:
        page = open_page(browser, desk.address).page
        assert page.locator("#findings li").count() == 0
        line = page.locator("#findings p").bounding_box()
        pictures = page.locator("#pictures").bounding_box()
        assert line
        assert pictures
        assert pictures["y"] - line["y"] - line["height"] < 16
