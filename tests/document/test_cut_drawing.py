"""What is drawn for a cutting machine: each mark on its layer, and words that have room."""

from __future__ import annotations

from itertools import combinations

import pytest

import drapetemplate
from drapetemplate.document.cut_drawing import CutDrawing, Layer
from drapetemplate.drawing.marks import Line, Mark, Text, box
from drapetemplate.drawing.roles import Role
from tests.helpers.cutfiles import JOBS
from tests.helpers.jobfiles import job_toml

LONG = "the long gallery's northern bay of windows over the water"


def drawings(text: str) -> tuple[CutDrawing, ...]:
    """A job's strips, whatever stops it has."""
    job = drapetemplate.read_job(text.encode())
    plan = drapetemplate.plan_job(job)
    return drapetemplate.cut_drawings(job, plan, accepted=[stop.code for stop in plan.stops])


def marks_of(drawing: CutDrawing, *layers: Layer) -> list[Mark]:
    """The marks of some layers."""
    return [mark for layer, marks in drawing.layers for mark in marks if layer in layers]


def apart(one: Mark, other: Mark) -> bool:
    """Whether two marks' boxes don't meet."""
    left, bottom, right, top = box(one)
    left_2, bottom_2, right_2, top_2 = box(other)
    return right < left_2 or right_2 < left or top < bottom_2 or top_2 < bottom


@pytest.mark.parametrize("name", JOBS)
def test_name_has_room(name: str) -> None:
    """What a strip is of touches no other words, no circle, no seam, no edge of a flange."""
    for drawing in drawings(JOBS[name]):
        words = marks_of(drawing, Layer.TEXT)
        own = [mark for mark in words if mark.role == Role.STRIP_NAME]
        assert own
        others = [mark for mark in words if mark.role != Role.STRIP_NAME]
        others += marks_of(drawing, Layer.HOLES, Layer.FOLD, Layer.MARKS)
        for mark in own:
            assert all(apart(mark, other) for other in others)
        assert all(apart(one, other) for one, other in combinations(own, 2))
        left, bottom, right, top = zip(*map(box, words), strict=True)
        assert min(*left, *bottom) >= 0
        assert max(right) <= drawing.width
        assert max(top) <= drawing.height


@pytest.mark.parametrize("count", [2, 8, 20])
def test_long_names_are_cut(count: int) -> None:
    """However long the names are, what matters most is whole, and no line is too long for a DXF."""
    window = f"name = '{'é' * 400}'\nwidth = 60\npanels = 'left'\ncount = {count}\nreturn = 2"
    text = job_toml(window, eyelet='outside = "1 in"\nopening = "1/2 in"\nhung = "hooks"')
    [drawing] = drawings(text.replace("linen store", LONG))
    own = [
        mark.text
        for mark in marks_of(drawing, Layer.TEXT)
        if isinstance(mark, Text) and mark.role == Role.STRIP_NAME
    ]
    assert own[0] == "LEFT panel"
    assert max(map(len, own)) * len("\\U+00E9") <= 255


def test_nothing_to_fill_and_no_fine_dashes() -> None:
    """No mark is filled, and no pen goes down and up more than once in 4 mm."""
    for text in JOBS.values():
        for drawing in drawings(text):
            for mark in marks_of(drawing, *Layer):
                assert getattr(mark, "fill", None) is None
                pen = getattr(mark, "pen", None)
                assert pen is None or min(pen.dash, default=4) >= 4


def test_splices_are_not_of_the_strip() -> None:
    """Splices are told where a band is cut: a strip is the same with rolls or without."""
    rolls = JOBS["rolls"]
    assert drawings(rolls) == drawings(rolls.replace("roll = '3 yd'", ""))


def test_guides_stand_at_flanges() -> None:
    """Each edge of a flange has an upright line: its guide, or the fold in its place."""
    [drawing] = drawings(JOBS["left"])
    rings = [mark for mark in marks_of(drawing, Layer.MARKS) if mark.role == Role.OUTSIDE]
    upright = {
        mark.x1
        for mark in marks_of(drawing, Layer.MARKS, Layer.FOLD)
        if isinstance(mark, Line) and mark.x1 == mark.x2 and mark.y1 == 0
    }
    assert rings
    for ring in rings:
        left, _, right, _ = box(ring)
        for edge in (left, right):
            assert any(abs(float(x) - edge) < 1e-9 for x in upright)


@pytest.mark.parametrize("number", ["", "HP-101"])
def test_what_a_strip_says(number: str) -> None:
    """Panel, side, the stops taken on, and the job, with its number where it has one.

    Codes that aren't stops of its own, its warning's among them, aren't said.
    """
    text = job_toml(
        "panels = 'left'\nwidth = 60\ncount = 7",
        job=f'number = "{number}"' if number else "",
        tables='[pole]\nprojection = 4\ndiameter = "7/8"',
    )
    job = drapetemplate.read_job(text.encode())
    plan = drapetemplate.plan_job(job)
    found = [(each.level, each.code) for window in plan.windows for each in window.findings]
    assert {("stop", "odd-count"), ("warn", "tight-turn")} <= {*found}
    codes = ["odd-count", "tight-turn", "wont-close"]
    [drawing] = drapetemplate.cut_drawings(job, plan, accepted=codes)
    texts = [mark for mark in marks_of(drawing, Layer.TEXT) if isinstance(mark, Text)]
    said = " ".join(mark.text for mark in texts if mark.role == Role.STRIP_NAME)
    assert said.startswith("LEFT panel seen from the face, top edge above made despite odd-count ")
    assert said.count("made despite") == 1
    assert said.endswith(f"Heron Point, linen store{f', {number}' if number else ''}")
