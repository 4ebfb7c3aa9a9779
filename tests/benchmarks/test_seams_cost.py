"""What planning seams costs in processor time, and how it grows; run with -s to see figures."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from time import process_time

import pytest
from rows import goods, row_of, seams_of

from drapetemplate.job import Cloth
from drapetemplate.measures import INCH
from drapetemplate.planning.seams import Row

COUNTS = (26, 50, 100, 200)  # a row on a pole is even
# 200/26 squared. Measured on a 2-core machine, 200 eyelets over 30 widths take 6 to 23 ms, and
# 78 ms where every grid of a pattern is tried.
MOST_GROWTH = 59


def row(count: int) -> Row:
    """Eyelets 2 5/8 in across and 5 1/2 in apart: 200 of them take over 30 widths of 54 in."""
    return row_of(Fraction(21, 8) * INCH, Fraction(11, 2) * INCH, count, (3 * INCH, 3 * INCH))


def hidden(count: int) -> tuple[Cloth, Row]:
    """Plain cloth, where the seams hide: six pitches of 8 1/8 in and what seams take."""
    return goods(51 * INCH), row(count)


def shared(count: int) -> tuple[Cloth, Row]:
    """Cloth just too narrow to hide the seams of the least widths, so that more are tried."""
    total = row(count).width + 6 * INCH
    pieces = round(total / (52 * INCH))
    return goods(total / pieces + Fraction(9, 8) * INCH), row(count)


def patterned(count: int) -> tuple[Cloth, Row]:
    """Cloth whose pattern puts all seams on one grid, where they hide: two pitches a repeat."""
    return goods(51 * INCH, repeat=Fraction(65, 4) * INCH), row(count)


def patterned_shown(count: int) -> tuple[Cloth, Row]:
    """Cloth whose pattern puts all seams on one grid, none of which hides them all."""
    return goods(54 * INCH, repeat=Fraction(53, 2) * INCH), row(count)


def shown(count: int) -> tuple[Cloth, Row]:
    """Seams that don't all hide, so that the fewest visible ones are sought."""
    return goods(54 * INCH), row(count)


def seconds(problem: tuple[Cloth, Row], panels: int) -> float:
    """The least processor time of five runs."""
    times = []
    for _ in range(5):
        start = process_time()
        seams_of(*problem, panels)
        times.append(process_time() - start)
    return min(times)


@pytest.mark.parametrize("case", [hidden, shared, shown, patterned, patterned_shown])
def test_two_hundred_eyelets(case: Callable[[int], tuple[Cloth, Row]]) -> None:
    """From 26 eyelets to 200 over 30 widths, time grows more slowly than squared."""
    assert len(seams_of(*case(200)).pieces) >= 30
    times = [seconds(case(count), 2) for count in COUNTS]
    ratios = [after / before for before, after in pairwise(times)]
    print(  # noqa: T201
        f"\n{case.__name__:>15}: "
        + ", ".join(f"{n} in {1000 * t:.2f} ms" for n, t in zip(COUNTS, times, strict=True))
        + "; ratios "
        + ", ".join(f"{ratio:.1f}" for ratio in ratios)
    )
    assert times[-1] < MOST_GROWTH * times[0]
