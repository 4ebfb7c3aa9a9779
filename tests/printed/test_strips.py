"""Strips measured from their PDFs, against figures worked by hand, to a hundredth of a mm."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.helpers import pages
from tests.helpers.cases import A4_ROWS, Printed, near
from tests.helpers.pages import Words


def test_sheets(printed: Printed) -> None:
    """Sheets are numbered in order, and as many as their columns and rows ask for."""
    rows = 2 if printed.case is A4_ROWS else 1
    count = printed.case.columns * rows
    assert list(range(1, count + 1)) == [sheet.number for sheet in printed.sheets]


@pytest.mark.parametrize("part", ["outside", "hole", "center-hole"])
def test_circles(printed: Printed, part: str) -> None:
    """Each eyelet's circles are whole on some sheet, at its centre and nowhere else."""
    case = printed.case
    diameter = {"outside": case.outside, "hole": case.hole, "center-hole": 1.5}[part]
    found = [c for sheet in printed.taped for c in sheet.circles(diameter)]
    assert near(list(case.centers)) == pages.distinct(c.x for c in found)
    assert near([case.y]) == pages.distinct(c.y for c in found)
    assert near([diameter] * len(found)) == [c.diameter for c in found]


def test_heaviest(printed: Printed) -> None:
    """The line to cut is the heaviest on the sheet."""
    for sheet in printed.sheets:
        pens = {c.pen for c in sheet.circles(printed.case.hole)}
        others = [s.pen for s in sheet.strokes]
        others += [c.pen for c in sheet.rounds if abs(c.diameter - printed.case.hole) > 0.01]
        assert all(pen > max(others) + 0.1 for pen in pens)


def test_center_crosses(printed: Printed) -> None:
    """The two strokes of every centre cross meet at the eyelet's centre, half of each beyond."""
    case = printed.case
    arm = min(6, case.hole / 3)  # 6 mm, or a third of a small hole
    seen = set()
    for sheet in printed.taped:
        for hole in sheet.circles(case.hole):
            crossing = [
                s
                for s in sheet.strokes
                if abs(s.length - 2 * arm) < 0.01
                and abs(s.x1 + s.x2 - 2 * hole.x) < 0.02
                and abs(s.y1 + s.y2 - 2 * hole.y) < 0.02
            ]
            assert len(crossing) == 2
            upright = next(s for s in crossing if s.upright)
            level = next(s for s in crossing if s.level)
            nearest = case.centers[round((upright.x1 - case.centers[0]) / case.pitch)]
            assert near((nearest, case.y)) == (upright.x1, level.y1)
            seen.add(nearest)
    assert list(case.centers) == sorted(seen)


def test_band_lines(printed: Printed) -> None:
    """The band's edges run from end to end of the panel, its height apart, on no other height."""
    case = printed.case
    lines = [s for sheet in printed.taped for s in sheet.strokes if s.level and not s.dashed]
    edges = [s for s in lines if abs(s.pen - 0.35) < 0.01]
    assert near([0, case.height]) == pages.distinct(s.y1 for s in edges)
    for y in (0, case.height):
        [run] = pages.covered((s.x1, s.x2) for s in edges if abs(s.y1 - y) < 0.01)
        assert near((0, case.width)) == run


def test_panel_ends(printed: Printed) -> None:
    """The panel's ends are uprights over the band's height, its width apart."""
    case = printed.case
    ends = [
        s for sheet in printed.taped for s in sheet.strokes if s.upright and abs(s.pen - 0.5) < 0.01
    ]
    assert near([0, case.width]) == pages.distinct(s.x1 for s in ends)
    for x in (0, case.width):
        [run] = pages.covered((s.y1, s.y2) for s in ends if abs(s.x1 - x) < 0.01)
        assert near((0, case.height)) == run


def test_guides(printed: Printed) -> None:
    """A dashed guide stands at both edges of every flange, over the band's height."""
    case = printed.case
    guides = [
        s
        for sheet in printed.taped
        for s in sheet.strokes
        if s.upright and s.dashed and abs(s.pen - 0.15) < 0.01
    ]
    edges = sorted(c + side * case.outside / 2 for c in case.centers for side in (-1, 1))
    assert near(edges) == pages.distinct(s.x1 for s in guides)
    for x in edges:
        [run] = pages.covered((s.y1, s.y2) for s in guides if abs(s.x1 - x) < 0.01)
        assert near((0, case.height)) == run


def test_return_folds(printed: Printed) -> None:
    """The return folds are dashed uprights at the last flange's edge, a return from the end."""
    folds = [
        s.x1
        for sheet in printed.taped
        for s in sheet.strokes
        if s.upright and s.dashed and abs(s.pen - 0.35) < 0.01
    ]
    assert near(list(printed.case.fold)) == pages.distinct(folds)


def on_strip(printed: Printed, size: float) -> list[Words]:
    """Level words of one size on the taped strip, from left to right, each place once."""
    words = [w for s in printed.taped for w in s.words if w.level and abs(w.size - size) < 0.05]
    words = [w for w in words if not w.text.startswith("Sheet")]
    words.sort(key=lambda w: w.middle)
    return words[:1] + [b for a, b in pairwise(words) if b.x - a.x > 1]


def test_letters(printed: Printed) -> None:
    """Front gaps carry F and back gaps B, upright, between the flanges on either side."""
    case = printed.case
    letters = on_strip(printed, 15)
    assert case.letters == "".join(w.text for w in letters)
    for i, letter in enumerate(letters):
        assert case.centers[i] + case.outside / 2 < letter.x
        assert letter.end < case.centers[i + 1] - case.outside / 2
        assert 0 < letter.y < case.height


@pytest.mark.parametrize(("part", "size"), [("numbers", 6.5), ("measures", 4.2)])
def test_labels(printed: Printed, part: str, size: float) -> None:
    """Numbers run from the leading edge, over their eyelet; its centre's measure stands under."""
    case = printed.case
    labels = on_strip(printed, size)
    expected = {"numbers": case.numbers, "measures": case.measures}[part]
    assert list(expected) == [w.text for w in labels]
    assert near(list(case.centers)) == [w.middle for w in labels]
    for label in labels:
        if part == "numbers":
            assert case.y + case.outside / 2 < label.y < case.height
        else:
            assert 0 < label.y < case.y - case.outside / 2


def test_ends(printed: Printed) -> None:
    """Words up each end say which it is."""
    upward = [w for s in printed.taped for w in s.words if not w.level and w.text.endswith("EDGE")]
    upward.sort(key=lambda w: w.x)
    assert list(printed.case.ends) == [w.text for w in upward]
    assert upward[0].x < 10
    assert upward[-1].x > printed.case.width - 10
