"""The search for seams in whole units, and the panel that the modules work through in words."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from drapetemplate.measures import INCH, Length, format_length
from drapetemplate.planning import seams
from drapetemplate.planning.seam_search import (
    CostToGo,
    PanelSizes,
    SeamCosts,
    SeamGrid,
    costs_to_go,
    grids_to_try,
    seam_costs,
)
from tests.helpers.rows import goods, row_of, seams_of

# 75 in, 10 eyelets of 3 3/4 in, 3 1/2 in apart; 3 in at both ends.
ROW = row_of(Fraction(15, 4) * INCH, Fraction(7, 2) * INCH, 10, (3 * INCH, 3 * INCH))
HEM = 3 * INCH


def said(length: Length) -> str:
    """A length in the words of a docstring, its unit left out."""
    return format_length(length, "in").removesuffix(" in")


def test_the_panel_in_numbers() -> None:
    """What `seams` says of its panel is what is planned: gaps, bounds, seam, pieces, drops."""
    text = " ".join((seams.__doc__ or "").split())
    back = [
        (HEM + before + ROW.outside / 2, HEM + after - ROW.outside / 2)
        for (before, after), kind in zip(pairwise(ROW.centers), ROW.gaps, strict=True)
        if kind == "back"
    ]
    off = INCH / 2 + INCH / 8
    *places, last = [f"{said(start + off)} to {said(end - off)}" for start, end in back]
    assert f"{', '.join(places)} and {last} in." in text
    plan = seams_of(goods(54 * INCH), ROW)
    (seam,) = plan.seams
    assert f"its start: {said(seam + HEM)} in raw, {said(seam)} in finished" in text
    first, last_piece = plan.pieces
    assert f"+ 1/2 = {said(first)} and" in text
    assert f"+ 1/2 = {said(last_piece)} in wide" in text
    assert (plan.drops, plan.least_drops, plan.hidden) == (4, 4, 1)
    assert "four drops are bought" in text


def test_cost_to_go() -> None:
    """A place nearer the leading edge is kept where it costs more, a farther one where less.

    A panel of 100 in three pieces of 40 at most: the last seam is at 60 to 80, the first at 40 or
    before. The last is hidden at 70 and shows from 60 on. From 60 the first may be at 20, where it
    is hidden; from 70 it must be at 30, which shows, or 35, which hides it.
    """
    costs = seam_costs([(20, 20, 0), (30, 34, 5), (35, 36, 0), (60, 65, 5), (70, 75, 0)])
    grid = SeamGrid(phase=0, repeat=1, reaches=(40, 40, 40))
    first, last, end = costs_to_go(costs, grid, 100, budget=20)
    assert last == CostToGo((60, 70), (5, 0))
    assert first == CostToGo((20, 35), (5, 0))
    assert end == CostToGo((100,), (0,))
    assert [first.least(place) for place in (20, 34, 35, 99)] == [5, 5, 0, 0]
    assert first.least(19) > 20
    # With less to spend only the dearer ones go.
    assert costs_to_go(costs, grid, 100, budget=4)[0] == CostToGo((35,), (0,))
    assert costs_to_go(costs, grid, 121, budget=20) == []


def test_mirrored() -> None:
    """From the return edge, all is as in a mirror; mirrored twice it is as before."""
    costs = seam_costs([(20, 24, 0), (30, 34, 5), (70, 75, 0)])
    assert costs.mirrored(100) == SeamCosts((25, 66, 76), (30, 70, 80), (0, 5, 0))
    assert costs.mirrored(100).mirrored(100) == costs
    grid = SeamGrid(phase=3, repeat=10, reaches=(7, 8, 9))
    assert grid.mirrored(101) == SeamGrid(phase=8, repeat=10, reaches=(9, 8, 7))


@pytest.mark.parametrize(
    ("repeat", "sharing", "expected"),
    [
        # Plain cloth of 50, seams of 1: 49 at the ends, 48 between; 25 wide where two share.
        (1, None, [SeamGrid(0, 1, (49, 48, 49))]),
        (1, 0, [SeamGrid(0, 1, (24, 48, 49))]),
        (1, 2, [SeamGrid(0, 1, (49, 48, 24))]),
        # Repeats of 20, so 40 of the 48. On the phase of 40 and 80 both ends span 40; on that of
        # 71, from where the last piece spans its 49, the first ends at 31.
        (20, None, [SeamGrid(0, 20, (40, 40, 40)), SeamGrid(11, 20, (31, 40, 49))]),
    ],
)
def test_grids(repeat: int, sharing: int | None, expected: list[SeamGrid]) -> None:
    """The grids worth trying, and what each piece can span there."""
    sizes = PanelSizes(panel=120, width=50, seam=1, repeat=repeat)
    costs = seam_costs([(40, 42, 0), (80, 85, 0)])
    assert list(grids_to_try(sizes, costs, 3, sharing)) == expected


def test_cheaper_from() -> None:
    """A grid is worth trying from where a seam costs less than just before, but from no edge."""
    costs = seam_costs([(0, 4, 5), (5, 9, 6), (10, 14, 5), (20, 24, 6), (25, 29, 6)])
    assert list(costs.cheaper_from()) == [10, 20]
