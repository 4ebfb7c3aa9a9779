"""Pieces of several panels on one drop, and the bounds that they put on seams."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import count, product

import pytest

from drapetemplate.measures import INCH
from drapetemplate.planning.bounds import Bound, least_point
from drapetemplate.planning.drop_packing import Filling, _Fitting
from drapetemplate.planning.seam_places import EyeletRow
from drapetemplate.planning.seams import SeamPlan
from tests.helpers.jobfiles import plan_of
from tests.helpers.rows import goods, row_of, seams_of


def drops_by_hand(made: SeamPlan) -> dict[tuple[int, ...], int]:
    """How many drops hold which pieces."""
    return {layout.pieces: layout.times for layout in made.layouts}


# 10 eyelets of 3 1/8 in with gaps of 4: 1 1/2 + 31 1/4 + 36 + 3 = 71 3/4 in finished, 77 3/4 raw.
# A seam keeps 1/2 + 1/8 in off: it hides raw 15 3/8 to 18 1/8, 29 5/8 to 32 3/8, 43 7/8 to 46 5/8
# or 58 1/8 to 60 7/8 in from the leading edge.
PAIR = row_of(Fraction(25, 8) * INCH, 4 * INCH, 10, (Fraction(3, 2) * INCH, 3 * INCH))


def test_what_has_failed_is_not_tried_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nine pairs and the counts beside theirs are packed in some 45,000 steps, once 95,000.

    Steps that only differ in how they were come to are one; each of the others goes through all
    that a drop could hold, so it took nine times as long.
    """
    steps, packed = count(), _Fitting.packed

    def counting(
        fitting: _Fitting, left: Filling, drops: int, taken: tuple[Filling, ...] = ()
    ) -> tuple[tuple[Fraction, ...], tuple[Filling, ...]] | None:
        next(steps)
        return packed(fitting, left, drops, taken)

    monkeypatch.setattr(_Fitting, "packed", counting)
    plan_of(
        'width = "43 1/2"\nquantity = 9\nlength = 90',
        eyelet='outside = "3 3/8"\nopening = 1\nhole = 1',
        tables="[fabric]\nwidth = 48\n[lining]\nwidth = 54",
    )
    assert next(steps) < 60_000


def test_three_alike_share() -> None:
    """Three pieces of a third of a width come out of one drop, and five out of two."""
    # 6 eyelets: 3 + 2 + 30 + 3 = 38 in finished, 44 raw.
    row = row_of(2 * INCH, 4 * INCH, 6, (3 * INCH, 3 * INCH))
    made = seams_of(goods(132 * INCH), row, panels=3)
    assert drops_by_hand(made) == {(0, 0, 0): 1}
    assert (made.drops, made.least_drops) == (1, 1)
    assert made.layouts[0].starts == (Fraction(0), 44 * INCH, 88 * INCH)
    # What three don't fill to the last digit doesn't hold them.
    assert seams_of(goods(132 * INCH - INCH / 64), row, panels=3).drops == 2
    assert drops_by_hand(seams_of(goods(132 * INCH), row, panels=4)) == {(0, 0): 2}
    assert drops_by_hand(seams_of(goods(132 * INCH), row, panels=5)) == {(0, 0, 0): 1, (0, 0): 1}


def test_one_seam_unless_more_are_allowed() -> None:
    """A pair takes four drops with a seam a panel, and three with two where the window allows it.

    Of 56 in cloth a panel's one seam stands 77 3/4 - 55 1/2 = 22 1/4 to 55 1/2 in from the edge;
    for a pair to share, at 27 1/2 or before or at 50 1/4 or after. No gap is there.
    With two seams the middle pieces share if they are 28 in, and end pieces do with 51 3/4 left.
    """
    one = seams_of(goods(56 * INCH), PAIR)
    assert (len(one.seams), one.drops, one.drops_with_one_more) == (1, 4, 3)
    two = seams_of(goods(56 * INCH), PAIR, extra_seams=1)
    assert drops_by_hand(two) == {(0, 2): 2, (1, 1): 1}
    # The farther gaps, the second seam close behind its eyelet, the first 27 in before it.
    assert [float(seam / INCH) for seam in two.seams] == [28.125, 55.125]
    assert (two.drops, two.visible, two.drops_with_one_more) == (3, (), 3)


def test_an_extra_seam_saves_a_drop_or_is_not_made() -> None:
    """More seams are allowed and change nothing where they save nothing."""
    assert seams_of(goods(60 * INCH), PAIR, extra_seams=5) == seams_of(goods(60 * INCH), PAIR)


def hidden_by_hand(seam: Fraction, row: EyeletRow) -> bool:
    """Whether a seam of 1/2 in a side stands in a back gap, 1/8 in more off either flange."""
    before = [center for center in row.centers if center <= seam]
    return len(before) % 2 == 0 and all(
        abs(center - seam) >= row.outside / 2 + INCH * 5 / 8 for center in row.centers
    )


@pytest.mark.parametrize("panels", [24, 25, 100])
def test_many_panels(panels: int) -> None:
    """Of many panels a few are packed, and the others like them: never worse than a drop each."""
    made = seams_of(goods(56 * INCH), PAIR, panels=panels, extra_seams=1)
    assert all(hidden_by_hand(seam, PAIR) for seam in made.seams)
    # Three drops a pair; of an odd number the last takes a drop and a half.
    assert made.drops == panels * 3 // 2 + panels % 2
    for piece in range(3):
        held = sum(times * pieces.count(piece) for pieces, times in drops_by_hand(made).items())
        assert held == panels


def test_least_point_against_every_point() -> None:
    """The least point of random bounds is the least of all points of a fine grid that keep them."""
    pick = random.Random(7)  # noqa: S311
    for _ in range(100):
        size = pick.randint(1, 3)
        boxes = [
            (low, low + pick.randint(0, 4)) for low in (pick.randint(-3, 3) for _ in "." * size)
        ]
        bounds = [
            Bound(tuple(sign * (n == i) for i in range(size)), sign * end)
            for n, box in enumerate(boxes)
            for sign, end in zip((-1, 1), box, strict=True)
        ]
        bounds += [
            Bound(tuple(pick.randint(-1, 1) for _ in range(size)), pick.randint(-3, 6))
            for _ in range(pick.randint(0, 3))
        ]
        # Corners of such bounds are halves at most: a determinant of three is no more than 4.
        grid = [[Fraction(n, 12) for n in range(12 * low, 12 * high + 1)] for low, high in boxes]
        steps = product(*([*row[::3], row[-1]] for row in grid))
        kept = [
            point
            for point in steps
            if all(
                sum(f * x for f, x in zip(b.factors, point, strict=True)) <= b.most for b in bounds
            )
        ]
        found = least_point(bounds, size)
        if found is None:
            assert not kept
        else:
            assert all(
                sum(f * x for f, x in zip(b.factors, found, strict=True)) <= b.most for b in bounds
            )
            assert not kept or found <= min(kept)
