"""What planning seams costs in processor time, and how it grows; run with -s to see figures.

Times are told as shares of a fixed loop's in the same run, so that the machine's pace cancels out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from time import process_time

import pytest

from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH
from drapetemplate.planning.seam_places import EyeletRow
from tests.helpers.rows import goods, row_of, seams_of

pytestmark = pytest.mark.long

COUNTS = (26, 50, 100, 200)  # a row on a pole is even
RUNS = 5
LOOPS = 100_000

# From 50 eyelets to 200: linear growth would be 4, squared 16, cubed 64. Measured 3 to 12.
MOST_GROWTH = 24
# In loops of 5.5 ms, for 200 eyelets: measured 0.2 to 3.2. A search of every grid for every piece
# that might share, as it was once done, took 9 to 14 where seams show.
MOST_LOOPS = 6
# For 26 eyelets, where pieces of several kinds are packed: measured 0.1 to 80.
MOST_PACKING_LOOPS = 200


def row(count: int) -> EyeletRow:
    """Eyelets 2 5/8 in across and 5 1/2 in apart: 200 of them take over 30 widths of 54 in."""
    return row_of(Fraction(21, 8) * INCH, Fraction(11, 2) * INCH, count, (3 * INCH, 3 * INCH))


def hidden(count: int) -> tuple[Cloth, EyeletRow]:
    """Plain cloth whose seams hide in the least widths, as on hooks they do in any gap."""
    return goods(54 * INCH), replace(row(count), gaps=())


def shared(count: int) -> tuple[Cloth, EyeletRow]:
    """Plain cloth whose seams hide in one width more, two partials out of one drop."""
    halves = {26: 90, 50: 92, 100: 92, 200: 99}
    return goods(halves[count] * INCH / 2), row(count)


def shown(count: int) -> tuple[Cloth, EyeletRow]:
    """Plain cloth, not every seam of which can hide in up to two widths more (of 26, all can)."""
    return goods(45 * INCH), row(count)


def patterned(count: int) -> tuple[Cloth, EyeletRow]:
    """Cloth whose pattern puts all seams on one grid, where they hide: two pitches a repeat."""
    return goods(51 * INCH, repeat=Fraction(65, 4) * INCH), row(count)


def patterned_shown(count: int) -> tuple[Cloth, EyeletRow]:
    """Cloth whose pattern puts all seams on one grid, none of which hides them all."""
    return goods(54 * INCH, repeat=Fraction(53, 2) * INCH), row(count)


def patterned_fine(count: int) -> tuple[Cloth, EyeletRow]:
    """The same with a short repeat, so that each seam has many places (of 26, all can hide)."""
    return goods(45 * INCH, repeat=7 * INCH), row(count)


def loop() -> None:
    """A fixed piece of work."""
    sum(n * n for n in range(LOOPS))


def seconds(work: Callable[[], object]) -> float:
    """The least processor time of some runs."""
    times = []
    for _ in range(RUNS):
        start = process_time()
        work()
        times.append(process_time() - start)
    return min(times)


CASES = [hidden, shared, shown, patterned, patterned_shown, patterned_fine]


@pytest.mark.parametrize("case", CASES)
def test_two_hundred_eyelets(case: Callable[[int], tuple[Cloth, EyeletRow]]) -> None:
    """Up to 200 eyelets over 30 widths, time grows about squared at most, and stays short."""
    for count in COUNTS[1:]:
        made = seams_of(*case(count))
        assert bool(made.visible) == (case in {shown, patterned_shown, patterned_fine})
        assert (len({*made.layouts[-1].pieces}) == 2) == (case is shared)
    assert len(made.pieces) >= 30
    floor = seconds(loop)
    times = [seconds(partial(seams_of, *case(count))) for count in COUNTS]
    floor = min(floor, seconds(loop))
    growth = times[3] / times[1]
    print(  # noqa: T201
        f"\n{case.__name__:>15}: "
        + ", ".join(f"{n} in {1000 * t:.2f} ms" for n, t in zip(COUNTS, times, strict=True))
        + f"; from 50 to 200 {growth:.1f} times; {times[3] / floor:.2f} loops of "
        f"{1000 * floor:.2f} ms"
    )
    assert growth < MOST_GROWTH
    assert times[3] < MOST_LOOPS * floor
    assert times[0] < MOST_PACKING_LOOPS * floor
