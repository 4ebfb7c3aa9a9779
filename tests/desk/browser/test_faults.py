"""A wrong answer says what is wrong at its own field, and at no other."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.helpers.desk_page import a_desk, field_at, open_page, rest, type_in

JOB = """units = "in"
[job]
name = "Heron Point, library"
number = "HP-7"
due = 2027-03-31
[paper]
size = "letter"
margin = "1/2"
letters = ["F", "B"]
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
hole = "1 5/8"
thickness = "1/4"
weight = "12 g"
pack = 8
spares = 1
[band]
height = 5
[pole]
diameter = "3/4"
projection = 4
wall_clearance = "1/2"
top = 90
length = 120
[fabric]
name = "grey wool"
width = 54
seam = "1/2"
side_hem = 3
repeat_down = 12
weight = "320 gsm"
shrinkage = "2 %"
[lining]
width = 54
[[window]]
width = 88
fullness = 2
quantity = 2
leading = "1 1/2"
return = 4
gap = 3
stack_each = 1
"""

LENGTHS = (
    "eighty",
    "-3",
    "1.5.2",
    "3 furlongs",
    "1/0",
    "inf",
    "nan",
    "200 m",
    "88 1/",
    "5 4 3",
    "''",
    "12 inches 3",
)
WRONG = {
    "window[1].width": LENGTHS,
    "eyelet.outside": (*LENGTHS, "0"),
    "eyelet.opening": ("wide", "0", "-1", "3"),
    "eyelet.hole": ("x", "0", "40 ells"),
    "eyelet.thickness": ("thin", "-1/8"),
    "band.height": ("0", "tall", "1/8/2", "1"),
    "pole.diameter": (*LENGTHS[:6], "0", "2"),
    "pole.projection": ("far", "-2", "0"),
    "pole.wall_clearance": ("some", "-1"),
    "pole.length": ("long", "0", "1e9"),
    "window[1].fullness": ("twice full", "0", "-2", "1/0"),
    "window[1].leading": ("edge", "-1", "1;2"),
    "window[1].return": ("back", "-4"),
    "window[1].gap": ("0", "near", "-1"),
    "window[1].stack_each": ("0", "much"),
    "window[1].count": ("many", "seven", "-2", "1.5", "0", "9999999"),
    "window[1].quantity": ("0", "two", "1.5", "-1"),
    "eyelet.pack": ("0", "a box", "2.5"),
    "eyelet.spares": ("-1", "few"),
    "eyelet.weight": ("light", "-3 g", "12 miles"),
    "fabric.width": ("broad", "0", "-54"),
    "fabric.seam": ("small", "-1/2", "40"),
    "fabric.side_hem": ("-3", "double"),
    "fabric.repeat_down": ("0", "often"),
    "fabric.weight": ("250 miles", "heavy", "-1 gsm"),
    "fabric.shrinkage": ("fifty", "-1 %", "100 %"),
    "lining.width": ("0", "same"),
    "job.due": ("tomorrow", "2027-02-30", "32 Mar 2027", "4/5/2027"),
    "paper.size": ("napkin", "0 x 5 in", "letter x"),
    "paper.margin": ("white", "-1", "9"),
    "paper.overlap": ("lots", "-1", "20"),
    "paper.letters": ("A", "A B C", "A A"),
}
"""What is typed wrong, by the path where: of each kind of answer, and what contradicts others."""


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """The page of a job file in which nearly every question has an answer."""
    folder: Path = tmp_path_factory.mktemp("desk")
    (folder / "library.toml").write_text(JOB, encoding="utf-8")
    with a_desk(folder, "library.toml") as desk:
        page = open_page(browser, desk.address).page
        for steering in page.locator("input[type=radio][value=yes]").all():
            path = steering.get_attribute("name") or ""
            if path.endswith(("?job", "?pole", "?eyelet", "?paper", "?more fabric")):
                steering.check()
                rest(page)
        yield page


def test_every_question_is_a_labelled_field(page: Page) -> None:
    """Each question has one field, a name that is its words, and its explanation."""
    unlabelled = page.locator("#form .field").evaluate_all(
        """fields => fields.filter(field => {
            const label = field.querySelector(".label");
            const control = field.querySelector("[role=radiogroup], select, input[type=text]");
            const named = control.labels?.length
                ? control.labels[0] === label
                : control.getAttribute("aria-labelledby") === label.id;
            const help = field.querySelector(".help").textContent;
            return !named || !label.textContent.trim() || !help;
        }).map(field => field.dataset.path)"""
    )
    assert unlabelled == []
    paths = page.locator("#form .field").evaluate_all("all => all.map(one => one.dataset.path)")
    assert len(paths) == len(set(paths)) > 45


TYPED = """async ([path, texts]) => {
    const field = document.querySelector(`[data-path="${path}"]`);
    const line = field.querySelector("input[type=text]");
    const before = line.value;
    const looked = () => new Promise(done => {
        const whether = () => {
            if (document.body.dataset.looked === "yes") done();
            else setTimeout(whether, 5);
        };
        whether();
    });
    const shown = () => [...document.querySelectorAll(".fault")]
        .filter(one => one.checkVisibility())
        .map(one => [one.closest(".field").dataset.path, one.textContent]);
    const type = async text => {
        line.focus();
        line.select();
        if (text) document.execCommand("insertText", false, text);
        else document.execCommand("delete");
        line.blur();
        await looked();
    };
    const seen = [];
    for (const text of texts) {
        await type(text);
        const described = (line.getAttribute("aria-describedby") ?? "").split(" ");
        seen.push({
            said: shown(),
            invalid: line.getAttribute("aria-invalid"),
            described: described.includes(field.querySelector(".fault").id),
        });
    }
    await type(before);
    return {seen, left: shown()};
}"""
"""Types texts into a field, one after the other, and then what stood there; what the page said.

In the page itself: to ask it from outside after each takes twice as long.
"""


@pytest.mark.parametrize("path", WRONG)
def test_a_fault_stands_at_its_own_field(page: Page, path: str) -> None:
    """Each wrong text is said to be wrong there, in words that the field is described by."""
    told = page.evaluate(TYPED, [path, WRONG[path]])
    for text, seen in zip(WRONG[path], told["seen"], strict=True):
        said = seen["said"]
        assert [where for where, _ in said] == [path], (text, said)
        assert len(said[0][1]) > len("Not right: "), text
        assert (seen["invalid"], seen["described"]) == ("true", True), text
    assert told["left"] == []


def test_there_are_about_a_hundred() -> None:
    """The wrong texts are enough to say something."""
    assert sum(map(len, WRONG.values())) >= 100


def test_figures_are_old_too_and_how_many_answers_are_wrong(page: Page) -> None:
    """While answers can't be read, figures and pictures are said to be as last understood."""
    old = page.locator("#old")
    before = page.locator("#first-figures dd").first.evaluate("one => getComputedStyle(one).color")
    wrong = {"window[1].width": "eighty", "eyelet.outside": "wide"}
    kept = {path: field_at(page, path).locator("input").input_value() for path in wrong}
    try:
        type_in(page, wrong)
        assert "as last understood: 2 answers aren't right yet" in old.inner_text()
        for place in ("#first-figures", "#all-figures"):
            grey = page.locator(f"{place} dd").first.evaluate("one => getComputedStyle(one).color")
            assert grey != before
    finally:
        type_in(page, kept)
    assert old.is_hidden()


def test_many_faults_are_one_line_at_the_foot(page: Page) -> None:
    """How many stand in the PDF's way is said; each opens with its question."""
    wrong = {"window[1].width": "eighty", "eyelet.outside": "wide", "pole.projection": "far"}
    kept = {path: field_at(page, path).locator("input").input_value() for path in wrong}
    try:
        type_in(page, wrong)
        page.get_by_role("button", name="Save the PDF").click()
        foot = page.locator("#notice")
        foot.get_by_text("No PDF: 3 things to mend first").wait_for()
        box = foot.bounding_box()
        assert box
        assert box["height"] < 60
        assert foot.locator("li:visible").count() == 0
        foot.locator("summary").click()
        assert foot.locator("li:visible").count() == 3
        assert "Projection, from the wall" in foot.inner_text()
    finally:
        type_in(page, kept)
