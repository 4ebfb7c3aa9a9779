"""Where the sheets of a strip join: the fewest sheets whose laps stay clear of the eyelets.

Along one direction a strip runs from `start` to `end`; a sheet shows `shown` of it, and two
neighbours show the same `overlap`, centred on their join. All lengths exact millimetres.

What a lap does to the circles around it, the best first; a circle that a lap lies inside of is
whole on neither of its two sheets, which is what "cut" says here:
  outside     it touches no flange circle
  hole        it touches no hole circle, and cuts no flange
  hole only   it touches no hole circle, but cuts a flange
  whole       it touches a hole circle, and cuts no flange
  hole whole  it touches a hole circle and cuts a flange, but no hole
  cut         it cuts a hole

All joins of a strip are held to the first of these that can be had:
  1. no flange touched, at one sheet over even steps or fewer
  2. no hole touched, likewise; no flange cut either, where that costs no sheet
  3. no flange cut, at a fifth more sheets than even steps or one over them; and no flange or no
     hole touched, where that costs no sheet
  4. the fewest holes cut, then the fewest flanges, for as many sheets as 3 (`least_cut`)
Of a strip over several rows one more row costs as many sheets as the strip is long, and is taken
only where that many more may be. With `joins = "even"` steps are equal, whatever they cut.

A join's margin is how much farther it could move before it came into a keep-out, or its lap
before it ran over an end of the strip. Among the arrangements with the fewest sheets, all
joins held to the same keep-outs, the best has, in this order:
  1. the largest smallest margin of all its joins
  2. the fewest sheets narrower than two overlaps, which is where three sheets lie on one
     another or an end sheet has no room for its join's name
  3. the first join's margin as large as can be, then its place nearest to an even one, then
     nearest to the start; then likewise the second's, and so on
Margins are not evened out further (the second smallest as large as can be, and so on): that
would take one search a join, where this takes one a strip.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil, lcm
from operator import itemgetter
from typing import Literal, TypeVar, get_args

from drapetemplate.measures import Length
from drapetemplate.sheets.least_cut import RingPlace, least_cut

Clear = Literal["outside", "hole", "hole only", "whole", "hole whole", "cut"]
CLEAR: tuple[Clear, ...] = get_args(Clear)
"""From the best that a lap can be to the worst."""

Stretch = tuple[int, int]
Exact = TypeVar("Exact", int, Fraction)
_START, _END = itemgetter(0), itemgetter(1)


@dataclass(frozen=True, slots=True)
class SheetRun:
    """Sheets along one direction of a strip, from its `start` to its `end`.

    Each shows at most `shown` of it; neighbours both show an `overlap`.
    """

    start: Length
    end: Length
    shown: Length
    overlap: Length

    @property
    def step(self) -> Length:
        """The farthest two joins can stand apart."""
        return self.shown - self.overlap

    @property
    def even_sheets(self) -> int:
        """How many sheets even steps take."""
        if self.end - self.start <= self.shown:
            return 1
        return ceil((self.end - self.start - self.overlap) / self.step)

    def even_joins(self) -> tuple[Length, ...]:
        """Joins at equal steps."""
        n = self.even_sheets
        step = (self.end - self.start - self.overlap) / n
        return tuple(self.start + self.overlap / 2 + i * step for i in range(1, n))


def joins(
    run: SheetRun, rings: Sequence[RingPlace], *, even: bool, each: int = 1
) -> tuple[tuple[Length, ...], Clear]:
    """A run and the eyelets on it in, the best join centres out, and what their laps are clear of.

    `rings` are in order of their centres; `each` is how many sheets one more of the run costs: of
    rows, as many as stand beside one another. No centre where the strip fits on one sheet. What is
    said of the laps holds for each; `clearances` says it of each by itself.

    A strip of 500 mm on sheets that show 320, with three eyelets of 60 mm: even steps would join at
    250, through the second. The lap of 20 mm has room for 30 mm more beside it at 310.

    >>> run = SheetRun(Fraction(0), Fraction(500), Fraction(320), Fraction(20))
    >>> rings = [(Fraction(center), Fraction(60), Fraction(40)) for center in (80, 240, 400)]
    >>> joins(run, rings, even=False)
    ((Fraction(310, 1),), 'outside')
    >>> run.even_joins()
    (Fraction(250, 1),)
    """
    equal = run.even_joins()
    if not equal:
        return (), "outside"
    if even:
        return equal, _of_all(clearances(equal, run.overlap, rings))
    one_more = len(equal) + 1 // each
    a_fifth_more = len(equal) + max(1, run.even_sheets * each // 5) // each
    searches = {kind: _JoinSearch(run, rings, kind) for kind in CLEAR[:4]}
    fewest = {kind: len(search.farthest(0)) for kind, search in searches.items()}
    kinds: tuple[Clear, ...]
    for kinds, most in (
        (("outside",), one_more),
        (("hole", "hole only"), one_more),
        (("outside", "hole", "whole"), a_fifth_more),
    ):
        needed = fewest[kinds[-1]]
        if 0 < needed <= most:
            best = next(kind for kind in kinds if fewest[kind] == needed)
            return searches[best].best(), best
    places = least_cut(run.start, run.end, run.shown, run.overlap, rings, a_fifth_more)
    return places, _of_all(clearances(places, run.overlap, rings))


def clearances(
    centers: Iterable[Length], overlap: Length, rings: Sequence[RingPlace]
) -> tuple[Clear, ...]:
    """What each join's own lap is clear of.

    `rings` as for `joins`. An arrangement is as clear as its least clear join, so all but a few
    of its laps may be clear of more than `joins` says of all.
    """
    at = [center for center, _, _ in rings]
    reach = max((outside for _, outside, _ in rings), default=Fraction(0)) / 2 + overlap / 2
    clear: list[Clear] = []
    for join in centers:
        near = rings[bisect_right(at, join - reach) : bisect_left(at, join + reach)]
        off = [(2 * abs(join - center), outside, hole) for center, outside, hole in near]
        kinds = (
            kind
            for kind in CLEAR
            if all(far >= _keep_out(kind, outside, hole, overlap) for far, outside, hole in off)
        )
        clear.append(next(kinds))
    return tuple(clear)


def _of_all(clear: Sequence[Clear]) -> Clear:
    """What holds of every lap, from what holds of each."""
    worst = max(clear, key=CLEAR.index)
    return "hole whole" if worst == "whole" and "hole only" in clear else worst


def _keep_out(kind: Clear, outside: Exact, hole: Exact, overlap: Exact) -> Exact:
    """How wide a ring's keep-out is; none for what no lap can cut, but its centre's place."""
    none = 0 * overlap
    touching = {"outside": outside, "hole": hole, "hole only": hole}
    cut = {"hole": outside, "whole": outside, "hole whole": hole}
    return max(
        touching[kind] + overlap if kind in touching else none,
        cut[kind] - overlap if kind in cut else none,
    )


class _JoinSearch:
    """A run and the stretches its joins may stand in, in whole units that miss no optimum.

    Every limit is even. A largest margin is where a chain of steps from one limit just reaches
    another, one or both of them moved by the margin: so twice or once the margin is a sum of
    limits, and the margin is whole. So is the middle of any stretch.
    """

    def __init__(self, run: SheetRun, rings: Sequence[RingPlace], kind: Clear) -> None:
        sizes = [run.start, run.end, run.shown, run.overlap, *(x for r in rings for x in r)]
        self.unit = 4 * lcm(*{size.denominator for size in sizes})
        start, end, shown, self.lap = (self._whole(size) for size in sizes[:4])
        self.step = shown - self.lap
        self.first, self.last = start + self.lap // 2, end - self.lap // 2
        taken = []
        for ring in rings:
            center, outside, hole = map(self._whole, ring)
            half = _keep_out(kind, outside, hole, self.lap) // 2
            taken.append((center - half, center + half))
        self.stretches: list[Stretch] = []
        low = self.first
        for left, right in sorted(taken):
            if low <= min(left, self.last):
                self.stretches.append((low, min(left, self.last)))
            low = max(low, right)
        if low <= self.last:
            self.stretches.append((low, self.last))

    def _whole(self, length: Length) -> int:
        return length.numerator * (self.unit // length.denominator)

    def free(self, margin: int) -> list[Stretch]:
        """Where a join keeps the margin."""
        return [(a + margin, b - margin) for a, b in self.stretches if b - a >= 2 * margin]

    def farthest(self, margin: int) -> list[int]:
        """The fewest joins that keep a margin, each as far along as it can be; [] if none do."""
        free = self.free(margin)
        lows = [low for low, _ in free]
        places = [self.first]
        while places[-1] < self.last - self.step:
            limit = places[-1] + self.step
            at = bisect_right(lows, limit) - 1
            if at < 0 or free[at][1] <= places[-1]:
                return []
            places.append(min(limit, free[at][1]))
        return places[1:]

    def margin(self, count: int) -> int:
        """The largest margin that `count` joins, which are enough, can all keep."""
        good, bad = 0, max(b - a for a, b in self.stretches) // 2 + 1
        while bad - good > 1:
            middle = (good + bad) // 2
            if 0 < len(self.farthest(middle)) <= count:
                good = middle
            else:
                bad = middle
        return good

    def best(self) -> tuple[Length, ...]:
        """The best arrangement of as few joins as will do."""
        count = len(self.farthest(0))
        margin = self.margin(count)
        free = self.free(margin)
        lows = [low for low, _ in free]
        rest = self._rest(free, self.farthest(margin))
        spare, placed = len(rest) - 1, [self.first]
        for i in range(1, count + 1):
            before = placed[-1]
            near, far = before + self.lap, before + self.step
            places = _inside(rest[spare][i], [(near, far)])
            if spare:
                places += _inside(rest[spare - 1][i], [(before, far)])
            even = i * (self.last - self.first)
            choices = []
            for low, high in places:
                a, b = free[bisect_right(lows, low) - 1]
                point = min(max((a + b) // 2, low), high)
                off = abs((count + 1) * (point - self.first) - even)
                choices.append((-min(point - a, b - point), off, point))
            placed.append(min(choices)[2])
            spare -= placed[-1] < near
        return tuple(Fraction(point, self.unit) for point in placed[1:])

    def _rest(self, free: Sequence[Stretch], farthest: Sequence[int]) -> list[list[list[Stretch]]]:
        """For 0, 1 ... narrow sheets: where each join can stand for the rest to need no more.

        As many entries as it takes for the first join to have a place; in each, a list for the
        start of the strip, each join and the end.
        """
        # A join that could stand as near as the one before it can be far would be one too many:
        # so each has places of its own, and all of them together are no more than the stretches.
        ends = [self.first, *farthest]
        places = [_inside(free, [(a + 1, b)]) for a, b in pairwise(ends)]
        places = [[(self.first, self.first)], *places, [(self.last, self.last)]]
        rest: list[list[list[Stretch]]] = []
        while not rest or not rest[-1][0]:
            level = places[-1:]
            for i in range(len(places) - 2, -1, -1):
                if rest and rest[-1][i] == places[i]:
                    level.insert(0, places[i])
                    continue
                reach = [(a - self.step, b - self.lap) for a, b in level[0]]
                if rest:
                    reach += [(a - self.step, b) for a, b in rest[-1][i + 1]]
                level.insert(0, _inside(places[i], reach) if reach else [])
            rest.append(level)
        return rest


def _inside(stretches: Sequence[Stretch], others: Sequence[Stretch]) -> list[Stretch]:
    """The parts of stretches, which are apart and in order, that lie in any of the others."""
    merged: list[Stretch] = []
    for low, high in sorted(others):
        if merged and low <= merged[-1][1] + 1:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        elif low <= high:
            merged.append((low, high))
    return [
        (max(a, low), min(b, high))
        for low, high in merged
        for a, b in stretches[
            bisect_left(stretches, low, key=_END) : bisect_right(stretches, high, key=_START)
        ]
    ]


def shown_by_sheets(run: SheetRun, centers: Sequence[Length]) -> list[tuple[Length, Length]]:
    """A run and its join centres in, what each sheet shows of it out, both laps included.

    >>> run = SheetRun(Fraction(0), Fraction(500), Fraction(320), Fraction(20))
    >>> [(float(low), float(high)) for low, high in shown_by_sheets(run, [Fraction(310)])]
    [(0.0, 320.0), (300.0, 500.0)]
    """
    half = run.overlap / 2
    edges = [run.start + half, *centers, run.end - half]
    return [(a - half, b + half) for a, b in pairwise(edges)]
