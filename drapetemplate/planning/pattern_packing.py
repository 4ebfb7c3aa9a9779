"""The fewest drops that a window's panels take of patterned cloth when any of their pieces share.

`drop_packing` is the same for plain cloth and has the words; those of a pattern are in
`seam_search`. Plain pieces lie one beside the other, so what a drop holds is a matter of their
widths. Here every piece but the first starts at the place where seams match, a seam allowance
before it, and every piece but the last ends at one: where a piece can begin on a drop is settled
by the seams and by the skew.

The search
----------
Of all plans that hold the same pieces on the same drops take the one with its seams nearest to the
leading edge, whole repeats apart as they are. What keeps them from moving on is the start of an
interval or the last piece, which would not fit: so the phases of `grids_to_try` are all that there
are. With the seams settled, the drops hold no less when the skew is as little as it can be, and
then the leftmost piece on some drop begins at its selvage: one that starts at a seam, the skew
being 0, or a first one. So with every phase every way to put the seams is tried, with two skews
each. Whether a drop holds some pieces is found by laying them in every order, each as far left as
it can be.

A left panel's pieces lie from the other selvage, with the pattern's place there. Of a pair's panels
a drop holds pieces alike of both, as many as it holds of one: `drops` shows how. It may hold more
of them, one half from either selvage: `drop_sharing` looks for that, this search doesn't.

Limits, past which the plan is what it is without this search: those below, and `MOST_PIECES` and
`MOST_ON_A_DROP`. Of more panels than `MOST_STATES` allows a few are packed, all others like them.
An inner piece isn't seamed twice in one gap. Pieces of different kinds share a drop only if they
are of panels of one side: those of a left panel and of a right one have the pattern at places that
may fit together too, which isn't looked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from itertools import combinations, islice
from math import ceil
from typing import NamedTuple

from drapetemplate.planning.drop_packing import (
    FEW_PANELS,
    MOST_ON_A_DROP,
    MOST_PIECES,
    Filling,
    PackedDrops,
    PackedPlan,
    drops_at_least,
)
from drapetemplate.planning.seam_search import PanelSizes, SeamCosts

MOST_TRIED = 3000
"""Ways to put so many seams."""
MOST_PACKED = 60
"""Of these, with a skew each, so many are packed."""
MOST_STATES = {1: 7000, 2: 800}
"""Of pieces still to pack, by sides: panels of a side and one, to the power of their pieces."""


class Rank(NamedTuple):
    """How good a packing is, less being better: of partials and seams the farthest are best."""

    drops: int
    partials: int
    places: tuple[int, ...]
    intervals: tuple[int, ...]
    seams: int


class _Taken(NamedTuple):
    """What one drop holds of a window's pieces: of its panels of either side."""

    near: Filling
    left: Filling


def fewer_matched_drops(
    sizes: PanelSizes, hidden: SeamCosts, pieces: int, panels: int, sides: int, drops: int
) -> PackedPlan | None:
    """Return the best plan of patterned cloth in fewer than so many drops; None if none is found.

    `hidden` has only the places that hide a seam. `panels` are those of a side, and `sides` is 2
    where there are as many left ones. The fewest drops, then the fewest partials, then the first of
    them as near the return edge as can be, then the next; then each seam, from the leading edge
    on, in the farthest interval, and all of them as near their starts as can be.
    """
    few = next(
        (
            n
            for n in (panels, *FEW_PANELS)
            if n <= panels and (n + 1) ** (pieces * sides) <= MOST_STATES[sides]
        ),
        None,
    )
    if few is None or pieces > MOST_PIECES or sizes.inner_reach <= 0:
        return None
    # Of a few panels as many as would save a drop of the whole window.
    most = ceil(Fraction(drops * few, panels)) - 1
    best: tuple[Rank, Laying] | None = None
    packed = 0
    for seams, intervals in islice(_ways(sizes, hidden, pieces), MOST_TRIED):
        widths = sizes.widths(seams)
        if drops_at_least(widths, few * sides, sizes.width) > most:
            continue
        for skew in sorted({0, (widths[0] - 2 * sizes.seam) % sizes.repeat}):
            laying = Laying(sizes, seams, skew, few, sides)
            if packed == MOST_PACKED or not laying.may_take(most):
                continue
            packed += 1
            rank = laying.rank(most, intervals)
            if rank is not None and (best is None or rank < best[0]):
                best = rank, laying
                most = rank.drops
    if best is None:
        return None
    rank, laying = best
    partials = [-n for n in rank.places]
    plan = laying.plan(partials)
    if few < panels:
        plan = _for_all(plan, laying, partials, panels)
    return plan if plan.drop_count < drops else None


def _ways(
    sizes: PanelSizes, hidden: SeamCosts, pieces: int
) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Yield every way to put the seams, each in an interval of its own, with its starts."""
    end_reach, inner_reach = sizes.width - sizes.seam, sizes.inner_reach
    phases = {start % sizes.repeat for start in hidden.starts}
    phases |= {(sizes.panel + sizes.seam - most) % sizes.repeat for most in (0, sizes.width)}

    def place(
        phase: int, seams: tuple[int, ...], starts: tuple[int, ...]
    ) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
        left = pieces - 1 - len(seams)
        if left == 0:
            yield seams, starts
            return
        reach = seams[-1] + inner_reach if seams else end_reach
        nearest = sizes.panel - end_reach - (left - 1) * inner_reach
        for interval in hidden.last_places(reach, phase, sizes.repeat):
            if (seams and interval.start <= starts[-1]) or interval.last < nearest:
                break
            for seam in range(interval.last, interval.start - 1, -sizes.repeat):
                if seam >= nearest:
                    yield from place(phase, (*seams, seam), (*starts, interval.start))

    for phase in sorted(phases):
        yield from place(phase, (), ())


class Laying:
    """Panels with their seams and the pattern's place on the cloth settled.

    `panels` are those of a side, and `sides` 2 where there are as many left ones.
    """

    def __init__(
        self, sizes: PanelSizes, seams: Sequence[int], skew: int, panels: int, sides: int
    ) -> None:
        self.sizes, self.seams, self.skew = sizes, seams, skew
        self.panels, self.sides = panels, sides
        self.widths = sizes.widths(seams)
        self.pieces = len(self.widths)
        first = (2 * sizes.seam + skew - self.widths[0]) % sizes.repeat
        self.starts = (first, *(skew,) * (self.pieces - 1))
        self._least: dict[_Taken, tuple[int, _Taken]] = {}

    @property
    def holds_each(self) -> bool:
        """Whether a drop holds each piece by itself."""
        return all(
            start + piece <= self.sizes.width
            for start, piece in zip(self.starts, self.widths, strict=True)
        )

    def may_take(self, drops: int) -> bool:
        """Whether so many drops might do, were all panels of one side."""
        if not self.holds_each:
            return False
        if self.sides == 1:
            return True
        panels = self.panels * self.sides
        if (panels + 1) ** self.pieces > MOST_STATES[1]:
            return True
        one_side = Laying(self.sizes, self.seams, self.skew, panels, 1)
        return one_side.least(one_side.left(range(self.pieces))) <= drops

    def order(self, filling: Filling, end: int = 0) -> tuple[int, ...] | None:
        """Return the pieces in an order in which a drop holds them from `end` on; None if none."""
        if not any(filling):
            return ()
        for n, count in enumerate(filling):
            if count:
                place = end + (self.starts[n] - end) % self.sizes.repeat + self.widths[n]
                if place <= self.sizes.width:
                    rest = self.order((*filling[:n], count - 1, *filling[n + 1 :]), place)
                    if rest is not None:
                        return (n, *rest)
        return None

    @cached_property
    def fillings(self) -> list[_Taken]:
        """What a drop can hold, without what is part of another."""
        one_side: list[Filling] = []

        def add(filling: list[int], first: int, held: int) -> None:
            for n in range(first, self.pieces):
                if filling[n] < self.panels * self.sides and held < MOST_ON_A_DROP:
                    filling[n] += 1
                    if self.order(tuple(filling)) is not None:
                        one_side.append(tuple(filling))
                        add(filling, n, held + 1)
                    filling[n] -= 1

        add([0] * self.pieces, 0, 0)
        none = (0,) * self.pieces
        taken: set[_Taken] = set()
        for filling in one_side:
            if max(filling) <= self.panels:
                taken |= {_Taken(filling, none), *([_Taken(none, filling)] * (self.sides - 1))}
            if self.sides == 2 and sum(map(bool, filling)) == 1:
                for right in range(1, sum(filling)):
                    near = tuple(min(n, right) for n in filling)
                    left = _less(filling, near)
                    if max(*near, *left) <= self.panels:
                        taken.add(_Taken(near, left))
        return [
            one
            for one in sorted(taken, reverse=True)
            if not any(one != other and _within(one, other) for other in taken)
        ]

    def least(self, left: _Taken) -> int:
        """Return the fewest drops for the pieces left."""
        return self._step(left)[0]

    def _step(self, left: _Taken) -> tuple[int, _Taken]:
        """Return the fewest drops for the pieces left, and what the first of them holds."""
        if left in self._least:
            return self._least[left]
        # The widest piece left is on some drop, and of what may lie beside it more does no harm.
        widest = max(
            (
                (self.widths[n], side, n)
                for side in (0, 1)
                for n in range(self.pieces)
                if left[side][n]
            ),
            default=None,
        )
        best: tuple[int, _Taken] = (0, left)
        if widest is not None:
            _, side, piece = widest
            steps = (
                (1 + self.least(_without(left, filling)), filling)
                for filling in self.fillings
                if filling[side][piece]
            )
            best = min(steps, key=lambda step: step[0])
        self._least[left] = best
        return best

    def left(self, partials: Sequence[int]) -> _Taken:
        """Return all of these pieces of all panels."""
        filling = tuple(self.panels if n in partials else 0 for n in range(self.pieces))
        return _Taken(filling, filling if self.sides == 2 else (0,) * self.pieces)

    def rank(self, most: int, intervals: Sequence[int]) -> Rank | None:
        """Return how good the best packing is; None where it takes more drops than `most`."""
        drops = self.least(self.left(range(self.pieces)))
        if drops > most:
            return None
        panels = self.panels * self.sides
        for size in range(self.pieces + 1):
            for partials in sorted(combinations(range(self.pieces), size), reverse=True):
                if panels * (self.pieces - size) + self.least(self.left(partials)) == drops:
                    return Rank(
                        drops,
                        size,
                        tuple(-n for n in partials),
                        tuple(-start for start in intervals),
                        sum(self.seams),
                    )
        return None

    def plan(self, partials: Sequence[int]) -> PackedPlan:
        """Return the plan of pieces that have their own drops, and of partials packed."""
        panels = self.panels * self.sides
        drops = {PackedDrops((n,), 1): panels for n in range(self.pieces) if n not in partials}
        left = self.left(partials)
        while any(left.near) or any(left.left):
            _, filling = self._step(left)
            held = _Taken(*(tuple(map(min, a, b)) for a, b in zip(left, filling, strict=True)))
            left = _without(left, held)
            both = tuple(a + b for a, b in zip(*held, strict=True))
            order = self.order(both) or ()
            mixed = len(set(order)) > 1 and self.sides == 2
            drop = PackedDrops(order, 1, any(held.left) if mixed else None)
            drops[drop] = drops.get(drop, 0) + 1
        listed = sorted(drops.items(), key=lambda item: len(item[0].pieces) > 1)
        return PackedPlan(
            self.seams,
            tuple(drop._replace(times=times) for drop, times in listed),
            self.skew,
        )


def _for_all(
    plan: PackedPlan, laying: Laying, partials: Sequence[int], each_side: int
) -> PackedPlan:
    """Return a plan of a few panels for all of them: so often, and what is over likewise."""
    times, over = divmod(each_side, laying.panels)
    drops = {each._replace(times=1): each.times * times for each in plan.drops}
    if over:
        rest = Laying(laying.sizes, laying.seams, laying.skew, over, laying.sides)
        for each in rest.plan(partials).drops:
            drop = each._replace(times=1)
            drops[drop] = drops.get(drop, 0) + each.times
    return plan._replace(drops=tuple(drop._replace(times=n) for drop, n in drops.items()))


def _within(one: _Taken, other: _Taken) -> bool:
    """Return whether one filling is part of another."""
    return all(
        a <= b for mine, its in zip(one, other, strict=True) for a, b in zip(mine, its, strict=True)
    )


def _less(filling: Filling, taken: Filling) -> Filling:
    """Return what is left of pieces without those taken."""
    return tuple(max(0, most - count) for most, count in zip(filling, taken, strict=True))


def _without(left: _Taken, taken: _Taken) -> _Taken:
    """Return what is left of both sides' pieces without those taken."""
    return _Taken(_less(left.near, taken.near), _less(left.left, taken.left))
