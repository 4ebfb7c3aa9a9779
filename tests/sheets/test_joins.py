"""Joins against brute force on a grid, and what each kind of clearance promises."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drapetemplate.sheets.joins import Clear, SheetRun, _inside, clearances, joins, shown_by_sheets
from tests.helpers.searching import searched

Rings = list[tuple[Fraction, Fraction, Fraction]]
KINDS: tuple[Clear, ...] = ("outside", "hole", "hole only", "whole", "hole whole", "cut")


def keep_out(kind: Clear, outside: Fraction, hole: Fraction, overlap: Fraction) -> Fraction:
    """How near to a ring's centre a join may not come, from what the kind says in words."""
    whole = (outside - overlap) / 2  # nearer, and neither neighbour has the flange whole
    if kind == "outside":
        return (outside + overlap) / 2  # nearer, and the lap touches the flange
    if kind == "hole":
        return max((hole + overlap) / 2, whole)
    if kind == "hole only":
        return (hole + overlap) / 2
    if kind == "whole":
        return max(whole, Fraction(0))
    # Nearer, and neither neighbour has the hole whole.
    return max((hole - overlap) / 2, Fraction(0)) if kind == "hole whole" else Fraction(0)


@st.composite
def strips(draw: st.DrawFn, *, longest: int = 2000) -> tuple[SheetRun, Rings]:
    """A run and evenly spaced rings on it; sizes even, so that a 1 mm grid has every limit."""
    overlap = Fraction(2 * draw(st.integers(3, 20)))
    shown = Fraction(draw(st.integers(int(4 * overlap), 400)))
    outside = Fraction(2 * draw(st.integers(5, 110)))
    hole = min(Fraction(2 * draw(st.integers(2, 100))), outside)
    pitch = outside + draw(st.integers(0, 300))
    lead = Fraction(draw(st.integers(0, 200)))
    count = draw(st.integers(1, max(1, int((longest - lead) / pitch))))
    rings = [(lead + outside / 2 + i * pitch, outside, hole) for i in range(count)]
    end = rings[-1][0] + outside / 2 + draw(st.integers(0, 200)) + 1
    return SheetRun(Fraction(-1), end, shown, overlap), rings


@searched(200)
@given(strips(), st.booleans())
def test_clearance(strip: tuple[SheetRun, Rings], even: bool) -> None:  # noqa: FBT001  # drawn
    """No join stands nearer to a ring than the kind it is told to be allows."""
    run, rings = strip
    found, clear = joins(run, rings, even=even)
    for join in found:
        for center, outside, hole in rings:
            assert abs(join - center) >= keep_out(clear, outside, hole, run.overlap)


@searched(200)
@given(strips(), st.booleans())
def test_sheets_cover(strip: tuple[SheetRun, Rings], even: bool) -> None:  # noqa: FBT001  # drawn
    """Sheets show all of the strip, each no more than it can, and lap by the overlap exactly."""
    run, rings = strip
    found, _ = joins(run, rings, even=even)
    shown = shown_by_sheets(run, found)
    assert len(found) + 1 == len(shown)
    assert (run.start, run.end) == (shown[0][0], shown[-1][1])
    assert all(right - left <= run.shown for left, right in shown)
    assert all(left < right for left, right in shown)
    assert all(b - a <= run.step for a, b in pairwise(found))
    for (_, right), (left, _), join in zip(shown, shown[1:], found, strict=False):
        assert (join - run.overlap / 2, join + run.overlap / 2) == (left, right)


@searched(200)
@given(strips())
def test_mirrored(strip: tuple[SheetRun, Rings]) -> None:
    """The same strip from its other end takes as many sheets, just as clear."""
    run, rings = strip
    there = run.start + run.end
    back = sorted((there - c, outside, hole) for c, outside, hole in rings)
    found, clear = joins(run, rings, even=False)
    mirrored, likewise = joins(run, back, even=False)
    assert (len(found), clear) == (len(mirrored), likewise)


@searched(100)
@given(strips(), st.booleans())
def test_circles_whole_on_a_sheet(strip: tuple[SheetRun, Rings], even: bool) -> None:  # noqa: FBT001  # drawn
    """What is said of the laps holds for the sheets: which circles each of them has whole."""
    run, rings = strip
    found, clear = joins(run, rings, even=even)
    shown = shown_by_sheets(run, found)

    def whole(center: Fraction, across: Fraction) -> bool:
        low, high = center - across / 2, center + across / 2
        return any(left <= low and high <= right for left, right in shown)

    flanges = all(whole(center, outside) for center, outside, _ in rings)
    holes = all(whole(center, hole) for center, _, hole in rings)
    assert flanges == (clear in {"outside", "hole", "whole"})
    assert holes == (clear != "cut")


def lap_clear_of(join: Fraction, overlap: Fraction, rings: Rings) -> Clear:
    """What a lap is clear of, as the circles and the lap lie on the strip."""
    left, right = join - overlap / 2, join + overlap / 2

    def touched(radius: Fraction, center: Fraction) -> bool:
        return left < center + radius and center - radius < right

    def cut(radius: Fraction, center: Fraction) -> bool:
        return right < center + radius and center - radius < left

    flange_cut = any(cut(outside / 2, center) for center, outside, _ in rings)
    if any(cut(hole / 2, center) for center, _, hole in rings):
        return "cut"
    if any(touched(hole / 2, center) for center, _, hole in rings):
        return "hole whole" if flange_cut else "whole"
    if flange_cut:
        return "hole only"
    if any(touched(outside / 2, center) for center, outside, _ in rings):
        return "hole"
    return "outside"


@given(
    st.lists(st.integers(0, 300), max_size=5),
    st.lists(st.tuples(st.integers(0, 300), st.integers(1, 90), st.integers(1, 90)), max_size=6),
    st.integers(1, 40),
)
@example([20], [(10, 12, 4)], 8)
@example([19], [(10, 12, 4)], 8)
@example([16], [(10, 12, 4)], 8)
@example([15], [(10, 12, 4)], 8)
@example([100], [(10, 200, 4), (60, 8, 4)], 8)
def test_clearances(points: list[int], sizes: list[tuple[int, int, int]], overlap: int) -> None:
    """Each lap is clear of what the circles around it leave, larger ones farther off included."""
    rings = [
        (Fraction(c), Fraction(outside), Fraction(min(outside, hole)))
        for c, outside, hole in sorted(sizes)
    ]
    at = [Fraction(point) for point in points]
    expected = tuple(lap_clear_of(join, Fraction(overlap), rings) for join in at)
    assert expected == clearances(at, Fraction(overlap), rings)


@given(
    st.lists(st.integers(0, 60), max_size=10, unique=True),
    st.lists(st.tuples(st.integers(-5, 65), st.integers(-5, 65)), max_size=6),
)
@example([0, 60], [(1, 50), (10, 20)])
def test_shared(ends: list[int], others: list[tuple[int, int]]) -> None:
    """Shared parts hold what is in a stretch and in any of the others, each place once."""
    ends.sort()
    stretches = list(zip(ends[::2], ends[1::2], strict=False))
    found = [x for low, high in _inside(stretches, others) for x in range(low, high + 1)]
    inside = {x for low, high in others for x in range(low, high + 1)}
    assert [x for low, high in stretches for x in range(low, high + 1) if x in inside] == found


def test_widest_margin() -> None:
    """Joins stand in the middle of their gaps where every sheet can reach that far.

    Rings of 40 every 100 from 50; a sheet shows 130, so every gap of 60 needs a join, and the lap
    of 20 in its middle keeps 20 off on either side.
    """
    rings = [(Fraction(50 + 100 * i), Fraction(40), Fraction(20)) for i in range(6)]
    run = SheetRun(Fraction(0), Fraction(600), Fraction(130), Fraction(20))
    found, clear = joins(run, rings, even=False)
    assert ([Fraction(100 * i) for i in range(1, 6)], "outside") == (list(found), clear)


def keeping_off(*taken: tuple[int, int], overlap: int) -> Rings:
    """Rings whose flanges leave no place for such a lap's middle between those given."""
    return [
        (Fraction(low + high, 2), Fraction(high - low - overlap), Fraction(1))
        for low, high in taken
    ]


def test_margin_exact() -> None:
    """Two joins a full step apart share what the flange between them leaves, to the last digit.

    It takes the places from 9 to 18 1/7, the joins stand 10 apart: 6/7 is left, 3/7 on each side.
    """
    run = SheetRun(Fraction(0), Fraction(28), Fraction(12), Fraction(2))
    ring = (Fraction(95, 7), Fraction(50, 7), Fraction(1))
    expected = (Fraction(60, 7), Fraction(130, 7))
    assert (expected, "outside") == joins(run, [ring], even=False)


def test_quarter() -> None:
    """From whole sizes, odd and even, the best place may be a quarter: midway of 12 1/2 and 17."""
    rings = [(Fraction(10), Fraction(3), Fraction(1)), (Fraction(20), Fraction(4), Fraction(1))]
    run = SheetRun(Fraction(0), Fraction(30), Fraction(25), Fraction(2))
    assert ((Fraction(59, 4),), "outside") == joins(run, rings, even=False)


def test_no_narrow_sheet() -> None:
    """A first join with a choice takes the gap that leaves no narrow sheet, though a tighter one.

    The second join's gap is the tightest, 2 either way. The first has one with 4 around 12, which
    leaves a sheet of 17, under two laps of 10, and one with 3 around 50.
    """
    run = SheetRun(Fraction(0), Fraction(185), Fraction(95), Fraction(10))
    rings = keeping_off((-8, 8), (16, 47), (53, 94), (98, 181), overlap=10)
    assert ((Fraction(50), Fraction(96)), "outside") == joins(run, rings, even=False)


def test_margin_before_narrow_sheet() -> None:
    """A narrow sheet is no reason to come nearer to an eyelet than need be."""
    run = SheetRun(Fraction(0), Fraction(100), Fraction(95), Fraction(10))
    rings = keeping_off((-8, 8), (16, 47), (53, 96), overlap=10)
    assert ((Fraction(12),), "outside") == joins(run, rings, even=False)


def test_ends_kept_off() -> None:
    """A lap stands off the strip's end as off a flange: no sheet shows only what another does."""
    run = SheetRun(Fraction(0), Fraction(100), Fraction(95), Fraction(10))
    rings = keeping_off((-8, 15), overlap=10)
    assert ((Fraction(55),), "outside") == joins(run, rings, even=False)


def test_clear_where_whole_costs_as_much() -> None:
    """Where every eyelet takes a sheet anyway, the laps touch none of them.

    Twelve eyelets take twelve sheets, where even steps take ten.
    """
    rings = [(Fraction(50 + 100 * i), Fraction(60), Fraction(20)) for i in range(12)]
    run = SheetRun(Fraction(0), Fraction(1200), Fraction(150), Fraction(20))
    assert run.even_sheets == 10
    found = tuple(Fraction(100 * i) for i in range(1, 12))
    assert (found, "outside") == joins(run, rings, even=False)


@pytest.mark.parametrize(
    ("gap", "clear"),
    [
        pytest.param(20, "outside", id="gap as wide as the lap"),
        pytest.param(19, "hole", id="gap narrower than the lap"),
        pytest.param(0, "hole", id="flanges that touch"),
    ],
)
def test_gap_and_lap(gap: int, clear: Clear) -> None:
    """A lap needs a gap of its own width to touch no flange; a touch on the edge is none."""
    rings = [(Fraction(20 + (40 + gap) * i), Fraction(40), Fraction(20)) for i in range(12)]
    run = SheetRun(Fraction(0), rings[-1][0] + 20, Fraction(150), Fraction(20))
    assert clear == joins(run, rings, even=False)[1]


def test_flange_larger_than_sheet() -> None:
    """A flange that fits on no sheet is cut by every join on it, its hole by none.

    Sheets show 100, even steps take 6. The flange lies from 100 to 400, the hole from 230 to 270:
    a lap of 10 ends at 230 and the next begins at 270, 50 farther, with steps of 90 on either side.
    """
    run = SheetRun(Fraction(0), Fraction(500), Fraction(100), Fraction(10))
    found, clear = joins(run, [(Fraction(250), Fraction(300), Fraction(40))], even=False)
    assert (len(found), clear) == (5, "hole only")
    assert all(join <= 225 or join >= 275 for join in found)


def test_hole_larger_than_sheet() -> None:
    """A hole that fits on no sheet is cut, and that is said."""
    run = SheetRun(Fraction(0), Fraction(500), Fraction(100), Fraction(10))
    assert joins(run, [(Fraction(250), Fraction(300), Fraction(280))], even=False)[1] == "cut"


def test_row_costs_as_many_sheets_as_the_strip_is_long() -> None:
    """A third row that would keep a lap off the flanges isn't taken where it is nine sheets more.

    Sheets show 100 and laps are 10, so a band of 170 is two rows high with a join from 75 to 95. A
    flange from 25 to 95 is clear of a lap from 100 on only, its hole from 50 to 70 from 75 on.
    """
    run = SheetRun(Fraction(0), Fraction(170), Fraction(100), Fraction(10))
    ring = [(Fraction(60), Fraction(70), Fraction(20))]
    found, clear = joins(run, ring, even=False, each=1)
    assert (len(found), clear) == (2, "outside")
    found, clear = joins(run, ring, even=False, each=9)
    assert (len(found), clear) == (1, "hole")


def test_clear_holes_before_whole_flanges() -> None:
    """Laps clear of every hole at no more sheets than even steps go before flanges that are whole.

    Sheets show 180, laps are 10, eyelets of 150 stand every 175. Joins 170 apart fall back 5 at
    each eyelet. A gap has 25 + 10 = 35 of places that leave flanges whole, so every eighth needs
    two joins; holes of 40 leave 175 - 50 = 125, enough for all twenty.
    """
    rings = [(Fraction(175 * i) + Fraction(175, 2), Fraction(150), Fraction(40)) for i in range(20)]
    run = SheetRun(Fraction(0), Fraction(20 * 175), Fraction(180), Fraction(10))
    found, clear = joins(run, rings, even=False)
    assert (run.even_sheets, len(found) + 1, clear) == (21, 21, "hole only")


@pytest.mark.parametrize(
    ("shown", "even", "sheets"),
    [
        pytest.param(133, 7, 8, id="one more"),
        pytest.param(150, 6, 7, id="two more"),
    ],
)
def test_one_sheet_more(shown: int, even: int, sheets: int) -> None:
    """Laps touch no flange at one sheet over even steps, and not at two, where a fifth is one.

    Eight eyelets of 60, the gaps 40: two of them take 160 of a sheet, so each takes a sheet, or one
    of them is whole on none.
    """
    rings = [(Fraction(50 + 100 * i), Fraction(60), Fraction(60)) for i in range(8)]
    run = SheetRun(Fraction(0), Fraction(800), Fraction(shown), Fraction(20))
    assert run.even_sheets == even
    found, clear = joins(run, rings, even=False)
    assert (sheets, "outside" if sheets == 8 else "cut") == (len(found) + 1, clear)


@pytest.mark.parametrize(
    ("shown", "even", "sheets"),
    [
        # 12 sheets are a fifth more than 10, which is two; of 9 a fifth is one.
        pytest.param(150, 10, 12, id="a fifth"),
        pytest.param(160, 9, 10, id="past a fifth"),
    ],
)
def test_a_fifth_more(shown: int, even: int, sheets: int) -> None:
    """Flanges are whole at a fifth more sheets than even steps; past that all but a few are.

    Twelve eyelets of 80, the gaps 20: two of them take 180 of a sheet, so a sheet has one whole.
    """
    rings = [(Fraction(50 + 100 * i), Fraction(80), Fraction(80)) for i in range(12)]
    run = SheetRun(Fraction(0), Fraction(1200), Fraction(shown), Fraction(20))
    assert run.even_sheets == even
    found, clear = joins(run, rings, even=False)
    shown_parts = shown_by_sheets(run, found)
    whole = sum(
        any(left <= center - 40 and center + 40 <= right for left, right in shown_parts)
        for center, _, _ in rings
    )
    assert (sheets, sheets) == (len(found) + 1, whole)
    assert clear == ("outside" if whole == 12 else "cut")


@pytest.mark.parametrize(("length", "sheets"), [(100, 1), (101, 2), (190, 2), (191, 3)])
def test_even_sheets(length: int, sheets: int) -> None:
    """One sheet for 100, then 90 more a sheet, since 10 are shown twice."""
    run = SheetRun(Fraction(0), Fraction(length), Fraction(100), Fraction(10))
    assert sheets == run.even_sheets
    assert sheets - 1 == len(run.even_joins())
