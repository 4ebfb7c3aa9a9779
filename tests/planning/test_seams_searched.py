"""Seams against a search that shares nothing with theirs: every place on a coarse grid, tried."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, combinations, pairwise

import pytest
from rows import goods, row_of, seams_of

from drapetemplate.job import Cloth
from drapetemplate.measures import INCH
from drapetemplate.planning.seams import Row

# One unit of the grid. A seam of one unit keeps 2 of them off a flange: 1/8 + 1/8 in.
UNIT = INCH / 8


@dataclass(frozen=True)
class Grid:
    """A small problem in whole units: two flange edges for each gap that hides, and cloth."""

    total: int
    hem: int
    width: int
    repeat: int
    panels: int
    outside: int
    gap: int
    count: int
    ends: tuple[int, int]
    hooks: bool

    def row(self) -> Row:
        """The same, as the planner reads it."""
        row = row_of(
            self.outside * UNIT,
            self.gap * UNIT,
            self.count,
            (self.ends[0] * UNIT, self.ends[1] * UNIT),
        )
        return replace(row, gaps=()) if self.hooks else row

    def cloth(self) -> Cloth:
        """The cloth, with seams of one unit."""
        return goods(
            self.width * UNIT,
            seam=UNIT,
            side_hem=self.hem * UNIT,
            repeat=self.repeat * UNIT if self.repeat else None,
        )

    def clear(self, place: int) -> bool:
        """Whether a seam at a raw place clears every flange by two units and both side hems."""
        first = self.hem + self.ends[0]
        last = self.total - self.hem - self.ends[1]
        if place < first or place > last:
            inside = 2 * self.hem + 1 <= place <= self.total - 2 * self.hem - 1
            return inside and (place <= first - 2 or place >= last + 2)
        off = (place - first) % (self.outside + self.gap)
        return self.outside + 2 <= off <= self.outside + self.gap - 2

    def gap_of(self, place: int) -> int | None:
        """Which hiding gap a raw place is in, two units clear of both flanges; None if none."""
        for n in range(0 if self.hooks else 1, self.count - 1, 1 if self.hooks else 2):
            left = self.hem + self.ends[0] + n * (self.outside + self.gap) + self.outside
            if left + 2 <= place <= left + self.gap - 2:
                return n
        return None


def grid(pick: random.Random) -> Grid:
    """A small random problem of one to three widths, often with little to spare."""
    count, outside, gap = 2 * pick.randint(1, 7), pick.randint(1, 4), pick.randint(2, 9)
    ends, hem = (pick.randint(1, 8), pick.randint(1, 8)), pick.randint(0, 3)
    total = sum(ends) + count * outside + (count - 1) * gap + 2 * hem
    pieces = pick.choice([1, 2, 2, 3])
    need = total + 2 * (pieces - 1) + pick.choice([0, 1, 2, 4, 8, total // 4])
    width = 2 * max(4, -(-need // (2 * pieces)))
    repeat = pick.randint(2, width // 2) if pick.random() < 0.3 else 0
    hooks = pick.random() < 0.2
    return Grid(total, hem, width, repeat, pick.randint(1, 5), outside, gap, count, ends, hooks)


def plans(
    problem: Grid, pieces: int, places: Sequence[int], before: tuple[int, ...] = ()
) -> Iterator[tuple[int, ...]]:
    """The raw piece widths of every way to seam so many pieces at those places."""
    if len(before) == pieces - 1:
        ends = (0, *before, problem.total)
        widths = tuple(two - one + (one > 0) + (two < problem.total) for one, two in pairwise(ends))
        if max(widths) <= problem.width:
            yield widths
        return
    last = before[-1] if before else 0
    rest = (pieces - len(before) - 1) * problem.width
    for place in places:
        if (
            last < place < last + problem.width
            and place > problem.total - rest
            and not (before and problem.repeat and (place - last) % problem.repeat)
        ):
            yield from plans(problem, pieces, places, (*before, place))


def seams(widths: tuple[int, ...]) -> tuple[int, ...]:
    """The raw seams between pieces so wide, seams of one unit counted out."""
    joined = [width - 1 - (n > 0) for n, width in enumerate(widths[:-1])]
    return tuple(accumulate(joined))


def drops(problem: Grid, widths: tuple[int, ...]) -> int:
    """Drops for the window, cut by the rules of sharing."""
    saved = 0
    ends = (0, *seams(widths), problem.total)

    def sliver(n: int) -> bool:
        """Whether both seams of an inner piece are in one gap."""
        return 0 < n < len(widths) - 1 and problem.gap_of(ends[n]) == problem.gap_of(ends[n + 1])

    for width in widths:
        start = -(-width // problem.repeat) * problem.repeat if problem.repeat else width
        if start + width <= problem.width:
            saved = max(saved, problem.panels // 2)
    if not problem.repeat:
        for one, two in combinations(range(len(widths)), 2):
            if widths[one] + widths[two] <= problem.width and not sliver(one) and not sliver(two):
                saved = problem.panels
    return problem.panels * len(widths) - saved


def searched(problem: Grid) -> tuple[int, int, int, int] | None:
    """Visible and struck seams, drops and pieces of the best plan of all.

    None for more widths than three, too many to try every place.
    """
    everywhere = range(1, problem.total)
    least = next((n for n in (1, 2, 3) if any(plans(problem, n, everywhere))), None)
    if least is None:
        return None
    hiding = [place for place in everywhere if problem.gap_of(place) is not None]
    found = [
        (drops(problem, widths), pieces)
        for pieces in range(least, least + 3)
        for widths in plans(problem, pieces, hiding)
    ]
    if found:
        return (0, 0, *min(found))
    return min(
        (
            sum(problem.gap_of(place) is None for place in seams(widths)),
            sum(not problem.clear(place) for place in seams(widths)),
            drops(problem, widths),
            least,
        )
        for widths in plans(problem, least, everywhere)
    )


@pytest.mark.parametrize("seed", range(12))
def test_no_other_plan_is_better(seed: int) -> None:
    """Trying every place on the grid finds no plan better than the one made, nor a worse best.

    All ends of gaps, widths and halves are whole units, so some best plan has whole places.
    """
    pick = random.Random(seed)  # noqa: S311
    tried = 0
    while tried < 30:
        problem = grid(pick)
        expected = searched(problem)
        if expected is None:
            continue
        tried += 1
        made = seams_of(problem.cloth(), problem.row(), problem.panels)
        actual = (len(made.visible), len(made.struck), made.drops, len(made.pieces))
        assert expected == actual, problem
