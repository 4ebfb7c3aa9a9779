"""What sheets carry for taping and checking, measured from their PDFs."""

from __future__ import annotations

from itertools import pairwise

from tests.helpers import pages
from tests.helpers.cases import CASES, Printed, near


def test_same_strip_point(printed: Printed) -> None:
    """A mark's distances to the eyelets on its two sheets add up to the pitch between them."""
    case = printed.case
    shared = 0
    for i, (old, new) in enumerate(pairwise(printed.sheets), 1):
        if i % case.columns == 0:
            continue
        before, after = old.circles(case.hole), new.circles(case.hole)
        if not before or not after:
            continue
        there = old.marks("right")[0].x - before[-1].x
        back = after[0].x - new.marks("left")[0].x
        steps = round((there + back) / case.pitch)
        assert near(steps * case.pitch) == there + back
        shared += 1
    assert shared >= 2


def test_marks_off_band(printed: Printed) -> None:
    """Registration marks stand 3 mm above and below the band on each join, and where rows join."""
    case = printed.case
    marks = [c for sheet in printed.taped for c in sheet.circles(pages.REGISTRATION)]
    heights = pages.distinct(c.y for c in marks)
    assert near([-3, case.height + 3]) == [heights[0], heights[-1]]
    rows = len(printed.sheets) // case.columns
    assert 2 + rows - 1 == len(heights)
    for mark in marks:
        for center in case.centers:
            assert (
                abs(mark.x - center) > case.outside / 2 or abs(mark.y - case.y) > case.outside / 2
            )


def test_join_numbers(printed: Printed) -> None:
    """Both neighbours name their join; sheets name their neighbours."""
    case = printed.case
    last = len(printed.sheets) - case.columns
    for i, sheet in enumerate(printed.sheets):
        texts = [w.text for w in sheet.words]
        column = i % case.columns
        joins = [f"← join {column}"] if column else []
        joins += [f"join {column + 1} →"] if column + 1 < case.columns else []
        if i < case.columns:
            assert joins == [t for t in texts if t.startswith(("join ", "← join "))]
        said = " ".join(t for t in texts if " · " in t)
        if column:
            assert f"{sheet.number - 1} (left)" in said
        if column < case.columns - 1:
            assert f"{sheet.number + 1} (right)" in said
        if i >= case.columns:
            assert f"{sheet.number - case.columns} (above)" in said
        if i < last:
            assert f"{sheet.number + case.columns} (below)" in said


def test_check_bars(printed: Printed) -> None:
    """Every sheet has bars of 100 mm and 4 in, across and down, a tick at each end."""
    for sheet in printed.sheets:
        for length in (100, 101.6):
            bars = [s for s in sheet.strokes if abs(s.length - length) < 0.01 and not s.dashed]
            [across] = [s for s in bars if s.level and abs(s.pen - 0.25) < 0.01]
            [down] = [s for s in bars if s.upright and abs(s.pen - 0.25) < 0.01]
            assert near((length, length)) == (across.x2 - across.x1, down.y2 - down.y1)
            ticks = [s for s in sheet.strokes if s.upright and abs(s.length - 2) < 0.01]
            ends = {round(s.x1, 2) for s in ticks if s.y1 < across.y1 < s.y2}
            assert {round(across.x1, 2), round(across.x2, 2)} <= ends
            level = [s for s in sheet.strokes if s.level and s.x1 - 0.01 < down.x1 < s.x2 + 0.01]
            assert {round(down.y1, 2), round(down.y2, 2)} <= {round(s.y1, 2) for s in level}


def test_closing_dimension(printed: Printed) -> None:
    """The last sheet says how long the taped strip must measure."""
    closing = {"letter-left": "40 in", "a4-back": "1250 mm", "a4-rows": "700 mm"}
    name = next(name for name, case in CASES.items() if case is printed.case)
    said = [any("check the taped strip" in w.text for w in s.words) for s in printed.sheets]
    assert [False] * (len(said) - 1) + [True] == said
    expected = f"check the taped strip: {closing[name]} end to end"
    assert any(expected in w.text for w in printed.sheets[-1].words)


def test_inside_margins(printed: Printed) -> None:
    """Nothing is printed outside the margins, but for half a pen's width."""
    case = printed.case
    width, height = case.paper
    for sheet in printed.sheets:
        for box, slack in ((sheet.ink, 0.35), (sheet.chars, 0.0)):
            left, bottom, right, top = box
            assert left >= case.margin - slack - 0.001
            assert bottom >= case.margin - slack - 0.001
            assert right <= width - case.margin + slack + 0.001
            assert top <= height - case.margin + slack + 0.001
