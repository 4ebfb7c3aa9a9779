"""Where joins cut the fewest circles, on a strip whose eyelets can't all be whole on some sheet.

A join cuts a circle where its lap lies inside of it, so that neither of the join's two sheets has
the circle whole. That is a stretch of places about the circle's centre, its ends not among them;
so are the places whose lap touches the circle. Between the ends of all such stretches every place
is as good as the next. What comes out are the places that cut the fewest holes, then the fewest
flanges, then touch the fewest holes, then the fewest joins that do so.

Of two ways to set joins at the same cost the one whose last join is farther along is as good or
better, whatever follows. So the search takes the cheapest ways first and keeps, for every cost, how
far it can reach.

No more than so many joins may be set. Rather than keep how far each number of joins can reach,
which would be as much work again for each, the search puts a price on every join: the dearer, the
fewer joins the cheapest way has. Some price is just right, and a few tries find it, because each
further join saves no more than the one before it did. That is so because reach is all that binds
two joins in a row: where a < b < c < d, and d is in reach of a, then so is c, and d is in reach of
b. So of two ways, one with a join too few and one with a join too many, each can go on as the other
from some join on, which makes two ways of the right number that together cost no more.

Then each join is moved to the middle of the places that cost no more than its own, as far as its
neighbours' sheets reach.

The strip's places are in whole units, small enough that every limit is one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from heapq import heappop, heappush
from math import lcm
from operator import attrgetter, or_

from drapetemplate.measures import Length

RingPlace = tuple[Length, Length, Length]
"""An eyelet's centre along this direction, and its circles: outside and hole across."""


@dataclass(frozen=True, slots=True)
class _Reached:
    """A place that joins reach most cheaply, and the joins that may be the last before it.

    Bit n of `counts` is set where n joins reach it, and as many reach none farther as cheaply.
    """

    place: int
    counts: int
    before: Sequence[_Reached]

    def places(self, count: int) -> list[int]:
        """Every join's place, of `count` of them, the first one's first, each as far as can be."""
        places = []
        reached = self
        for left in range(count, 0, -1):
            places.append(reached.place)
            reached = _farthest_of(reached.before, left - 1)
        return places[::-1]


def _farthest_of(ways: Iterable[_Reached], count: int) -> _Reached:
    """The one that `count` joins bring farthest."""
    return max((way for way in ways if way.counts >> count & 1), key=attrgetter("place"))


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
    found = _fewest_cuts(ground, first, last, step, most)
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
        self.dearer: dict[int, list[int]] = {}
        """By cost: the numbers of the limits after which it is dearer, or the strip ends."""

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
        if cost not in self.dearer:
            # A limit costs no more than the places beside it, so none stands in the way by itself.
            gaps = range(len(self.limits) - 1)
            self.dearer[cost] = [-1, *(n for n in gaps if self.after[n] > cost), len(gaps)]
        dearer = self.dearer[cost]
        at = bisect_left(dearer, bisect_right(self.limits, place) - 1)
        return self.limits[dearer[at - 1] + 1], self.limits[dearer[at]]


class _Walk:
    """The ways from join to join along the ground, each join as far along as its cost allows."""

    def __init__(self, ground: _Ground, first: int, last: int, step: int) -> None:
        self.ground, self.first, self.last, self.step = ground, first, last, step
        self.known: dict[int, list[tuple[int, int]]] = {}

    def next_joins(self, place: int) -> list[tuple[int, int]]:
        """Where the join after one at a place may stand, and what it costs there."""
        if place not in self.known:
            high = min(place + self.step, self.last)
            self.known[place] = list(self.ground.farthest(place, high))
        return self.known[place]

    def cheapest(self, weight: int, price: int) -> tuple[int, list[_Reached]]:
        """The least that all joins come to, and every last join of those that come to as much.

        A join comes to its cost times `weight` and a `price` over 0.
        """
        ahead: dict[int, dict[int, list[_Reached]]] = {0: {self.first: []}}
        totals = [0]
        reach = self.first - 1
        while True:
            total = heappop(totals)
            ways = list(_undominated(ahead.pop(total), reach))
            if not ways:
                continue
            reach = ways[0].place
            if reach >= self.last - self.step:
                return total, [way for way in ways if way.place >= self.last - self.step]
            for way in ways:
                for place, cost in self.next_joins(way.place):
                    if place <= reach:
                        break
                    then = total + weight * cost + price
                    if then not in ahead:
                        ahead[then] = {}
                        heappush(totals, then)
                    ahead[then].setdefault(place, []).append(way)


def _undominated(reached: Mapping[int, list[_Reached]], reach: int) -> Iterator[_Reached]:
    """The places over `reach` with the joins before them, the farthest first, each for its counts.

    Those that a farther place has with as many joins are left out.
    """
    known = 0
    for place in sorted(reached, reverse=True):
        if place <= reach:
            return
        before = reached[place]
        counts = _counts_of(before) << 1 if before else 1
        if counts & ~known:
            yield _Reached(place, counts & ~known, before)
            known |= counts


def _counts_of(ways: Iterable[_Reached]) -> int:
    """How many joins any of the ways has, a bit for each."""
    return reduce(or_, (way.counts for way in ways), 0)


def _as_many(walk: _Walk, few: tuple[int, int], many: tuple[int, int], most: int) -> list[_Reached]:
    """The last joins of the ways with exactly `most` joins that cost least.

    `few` and `many` are ways with fewer and with more, the latter the cheapest of all: how many
    joins they have, and what these cost.
    """
    while True:
        # At this price both come to the same. Either a way comes to less, and takes the place of
        # one of them, or one with as many joins as are wanted comes to the same too.
        weight, price = many[0] - few[0], few[1] - many[1]
        total, ways = walk.cheapest(weight, price)
        counts = _counts_of(ways)
        if counts >> most & 1:
            return ways
        count = counts.bit_length() - 1
        if count < most:
            few = count, (total - price * count) // weight
        else:
            count = (counts & -counts).bit_length() - 1
            many = count, (total - price * count) // weight


def _fewest_cuts(ground: _Ground, first: int, last: int, step: int, most: int) -> list[int]:
    """The joins that cost least, and of those the fewest, each as far along as that allows."""
    count = (last - first - 1) // step
    if count > most:
        raise ValueError(f"{most} joins are too few")
    few = count, sum(ground.cost(first + n * step) for n in range(1, count + 1))
    walk = _Walk(ground, first, last, step)
    # Of any three joins in a row the outer two are over a step apart, or the middle one would be
    # left out. So there are fewer than this, and whatever is cut is worse than all of them.
    weight, price = 2 * ((last - first) // step + 2), 1
    total, ways = walk.cheapest(weight, price)
    count = _counts_of(ways).bit_length() - 1
    if count > most:
        ways = _as_many(walk, few, (count, (total - count) // weight), most)
        count = most
    return _farthest_of(ways, count).places(count)


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
