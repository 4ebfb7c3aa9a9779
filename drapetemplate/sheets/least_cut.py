"""Where joins cut the fewest circles, on a strip whose eyelets can't all be whole on some sheet.

A join cuts a circle where its lap lies inside of it, so that neither of the join's two sheets has
the circle whole. That is a stretch of places about the circle's centre, its ends not among them;
so are the places whose lap touches the circle. Between the ends of all such stretches every place
is as good as the next. What comes out are the places that cut the fewest holes, then the fewest
flanges, then touch the fewest holes, then the fewest joins that do so.

Of two ways to set as many joins at the same cost the one whose last join is farther along is as
good or better, whatever follows. So the search goes from join to join and keeps, for every cost,
how far that many joins can reach. Then each join is moved to the middle of the places that cost no
more than its own, as far as its neighbours' sheets reach.

The strip's places are in whole units, small enough that every limit is one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from drapetemplate.measures import Length

RingPlace = tuple[Length, Length, Length]
"""An eyelet's centre along this direction, and its circles: outside and hole across."""


@dataclass(frozen=True, slots=True)
class _Reached:
    """The farthest place of a join that a cost allows, and the joins before it."""

    cost: int
    place: int
    before: _Reached | None

    def places(self) -> list[int]:
        """Every join's place, the first one's first; the strip's start is none."""
        places = []
        reached = self
        while reached.before is not None:
            places.append(reached.place)
            reached = reached.before
        return places[::-1]


def least_cut(
    start: Length,
    end: Length,
    shown: Length,
    overlap: Length,
    rings: Sequence[RingPlace],
    most: int,
) -> tuple[Length, ...]:
    """A strip, its sheets and eyelets in, the `most` or fewer join centres that cut least out.

    A sheet shows `shown` of the strip. `most` joins must be enough for even steps.

    A flange of 300 mm on sheets that show 100 is cut by whatever joins it; its hole of 40 needn't:

    >>> sizes = (Fraction(size) for size in (0, 300, 100, 10))
    >>> joins = least_cut(*sizes, [(Fraction(150), Fraction(300), Fraction(40))], 4)
    >>> [float(join) for join in joins]
    [85.0, 175.0, 235.0]
    """
    sizes = [start, end, shown, overlap, *(size for ring in rings for size in ring)]
    unit = 4 * lcm(*{size.denominator for size in sizes})
    lap, step = overlap * unit, int((shown - overlap) * unit)
    first, last = int(start * unit + lap / 2), int(end * unit - lap / 2)
    # One flange cut is worse than all holes touched, one hole cut than all flanges cut.
    worse = (most + 1) * (len(rings) + 1)
    stretches = []
    for center, outside, hole in rings:
        for across, cost in (
            (hole + overlap, 1),
            (outside - overlap, worse),
            (hole - overlap, worse**2),
        ):
            half = int(across * unit / 2)
            if half > 0:
                middle = int(center * unit)
                stretches.append((middle - half, middle + half, cost))
    ground = _Ground(stretches, first, last)
    found = _fewest_cuts(ground, first, last, step, most).places()
    return tuple(
        Fraction(place, unit) for place in _in_the_middle(ground, found, last, step, first)
    )


class _Ground:
    """What a join costs at each place: at every limit, and between it and the next."""

    def __init__(self, stretches: Sequence[tuple[int, int, int]], first: int, last: int) -> None:
        limits = {first, last, *(limit for low, high, _ in stretches for limit in (low, high))}
        self.limits = sorted(limit for limit in limits if first <= limit <= last)
        begin: dict[int, int] = {}
        end: dict[int, int] = {}
        for low, high, cost in stretches:
            begin[low] = begin.get(low, 0) + cost
            end[high] = end.get(high, 0) + cost
        now = sum(cost for low, high, cost in stretches if low < first < high)
        self.at, self.after = [], []
        for limit in self.limits:
            # What begins at a limit doesn't count there yet, what ends there no longer.
            ends = end.get(limit, 0) if limit > first else 0
            self.at.append(now - ends)
            now += begin.get(limit, 0) - ends
            self.after.append(now)

    def cost(self, place: int) -> int:
        """What a join at a place costs."""
        n = bisect_right(self.limits, place) - 1
        return self.at[n] if self.limits[n] == place else self.after[n]

    def farthest(self, low: int, high: int) -> Iterator[tuple[int, int]]:
        """Places over `low` up to `high` and what each costs: the farthest for ever less."""
        least = self.cost(high)
        yield high, least
        n = bisect_left(self.limits, high) - 1
        # A limit costs no more than the places beside it, so it is the first to cost less.
        while least and n >= 0 and self.limits[n] > low:
            if self.at[n] < least:
                least = self.at[n]
                yield self.limits[n], least
            n -= 1

    def around(self, place: int) -> tuple[int, int]:
        """The stretch of places about this one that cost no more."""
        cost = self.cost(place)
        low = high = bisect_right(self.limits, place) - 1
        if self.limits[high] < place:
            high += 1
        while low > 0 and self.after[low - 1] <= cost and self.at[low - 1] <= cost:
            low -= 1
        while high < len(self.limits) - 1 and max(self.after[high], self.at[high + 1]) <= cost:
            high += 1
        return self.limits[low], self.limits[high]


def _fewest_cuts(ground: _Ground, first: int, last: int, step: int, most: int) -> _Reached:
    """The joins that cost least, each as far along as that allows."""
    best: _Reached | None = None
    level = [_Reached(0, first, None)]
    for count in range(1, most + 1):
        farthest: dict[int, _Reached] = {}
        for before in level:
            high = min(before.place + step, last)
            for place, cost in ground.farthest(before.place, high):
                total = before.cost + cost
                known = farthest.get(total)
                if known is None or known.place < place:
                    farthest[total] = _Reached(total, place, before)
        level, reach = [], first
        for _, reached in sorted(farthest.items()):
            if best is not None and reached.cost >= best.cost:
                break
            if reached.place >= last - step:
                best = reached
                break
            if reached.place > reach and reached.place + (most - count + 1) * step >= last:
                level.append(reached)
                reach = reached.place
    if best is None:
        raise ValueError(f"{most} joins are too few")
    return best


def _in_the_middle(
    ground: _Ground, found: Sequence[int], last: int, step: int, first: int
) -> Iterator[int]:
    """Joins as far along as can be, each moved to the middle of what costs no more."""
    around = [ground.around(place) for place in found]
    earliest = [last]
    for low, _ in reversed(around):
        earliest.append(max(low, earliest[-1] - step))
    before = first
    for (low, high), least in zip(around, reversed(earliest[1:]), strict=True):
        before = min(max((low + high) // 2, least), high, before + step)
        yield before
