"""Where the sheets of a strip join: the fewest sheets whose laps stay clear of the eyelets.

Along one direction a strip runs from `start` to `end`; a sheet shows `window` of it, and two
neighbours show the same `overlap`, centred on their join. All lengths exact millimetres.

A join is tried against one keep-out a ring, the strongest first:
  outside  the lap touches no flange circle
  hole     the lap touches no hole circle, and each flange is whole on one of the two sheets
  whole    each flange circle is whole on one of the two sheets
The first two may cost one sheet over even steps; the last may cost more, since an eyelet
that is whole on no sheet can't be traced. Where even that fails, an eyelet is larger than a
sheet, and the steps are even.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Literal

from drapetemplate.measures import Length

Clear = Literal["outside", "hole", "whole", "even"]
REFINEMENTS = 24


@dataclass(frozen=True, slots=True)
class Span:
    """One direction of a strip: what is to be shown, by how long a window, lapping how much."""

    start: Length
    end: Length
    window: Length
    overlap: Length

    @property
    def step(self) -> Length:
        """The farthest two joins can stand apart."""
        return self.window - self.overlap

    @property
    def first_reach(self) -> Length:
        """The farthest the first join can stand."""
        return self.start + self.window - self.overlap / 2

    @property
    def last_need(self) -> Length:
        """The nearest to the start the last join can stand."""
        return self.end - self.window + self.overlap / 2

    @property
    def even_sheets(self) -> int:
        """How many sheets even steps take."""
        if self.end - self.start <= self.window:
            return 1
        return ceil((self.end - self.start - self.overlap) / self.step)

    def even_joins(self) -> tuple[Length, ...]:
        """Joins at equal steps."""
        n = self.even_sheets
        step = (self.end - self.start - self.overlap) / n
        return tuple(self.start + self.overlap / 2 + i * step for i in range(1, n))


def joins(
    span: Span, rings: Sequence[tuple[Length, Length, Length]], *, even: bool
) -> tuple[tuple[Length, ...], Clear]:
    """Join centres in order, and what their laps are clear of.

    `rings` are (centre, outside, hole) along this direction, in order. With `even`, equal
    steps are kept if they leave every flange whole on some sheet.
    """
    lap = span.overlap
    keep_outs: dict[Clear, list[tuple[Length, Length]]] = {
        "outside": [(c, (outside + lap) / 2) for c, outside, hole in rings],
        "hole": [(c, max((hole + lap) / 2, (outside - lap) / 2)) for c, outside, hole in rings],
        "whole": [(c, max((outside - lap) / 2, Fraction(0))) for c, outside, hole in rings],
    }
    equal = span.even_joins()
    if not equal:
        return (), "outside"
    if even and _free_of(equal, keep_outs["whole"]):
        clear: list[Clear] = [k for k, outs in keep_outs.items() if _free_of(equal, outs)]
        return equal, clear[0]
    for kind, outs in keep_outs.items():
        fewest = _fewest(span, _Free(span, outs, Fraction(0)))
        if fewest is not None and (kind == "whole" or fewest <= span.even_sheets):
            return _place(span, outs, fewest), kind
    return equal, "even"


def _free_of(points: Sequence[Length], outs: Sequence[tuple[Length, Length]]) -> bool:
    """True where no point lies inside a keep-out."""
    centers = [c for c, _ in outs]
    for point in points:
        at = bisect_left(centers, point)
        if any(abs(point - c) < half for c, half in outs[max(at - 1, 0) : at + 1]):
            return False
    return True


class _Free:
    """The stretches of a span outside all keep-outs, each keep-out widened by `more`."""

    def __init__(self, span: Span, outs: Sequence[tuple[Length, Length]], more: Length) -> None:
        self.stretches: list[tuple[Length, Length]] = []
        low = span.start
        for center, half in outs:
            if low <= center - half - more:
                self.stretches.append((low, center - half - more))
            low = max(low, center + half + more)
        if low <= span.end:
            self.stretches.append((low, span.end))
        self._lows = [low for low, _ in self.stretches]

    def latest(self, limit: Length) -> Length | None:
        """The farthest free point up to `limit`."""
        at = bisect_right(self._lows, limit) - 1
        return None if at < 0 else min(limit, self.stretches[at][1])

    def earliest(self, limit: Length) -> Length | None:
        """The nearest free point from `limit` on."""
        at = bisect_right(self._lows, limit) - 1
        if at >= 0 and limit <= self.stretches[at][1]:
            return limit
        return self._lows[at + 1] if at + 1 < len(self._lows) else None

    def between(self, low: Length, high: Length) -> list[tuple[Length, Length]]:
        """The free stretches that reach into low ... high."""
        first = max(bisect_right(self._lows, low) - 1, 0)
        last = bisect_right(self._lows, high)
        return [s for s in self.stretches[first:last] if s[1] >= low]


def _fewest(span: Span, free: _Free) -> int | None:
    """Fewest joins that reach the end, each as far along as it can be; None where none do."""
    count, limit, before = 0, span.first_reach, span.start
    while True:
        join = free.latest(limit)
        if join is None or join <= before:
            return None
        count += 1
        if join >= span.last_need:
            return count
        before, limit = join, join + span.step


def _place(span: Span, outs: Sequence[tuple[Length, Length]], count: int) -> tuple[Length, ...]:
    """`count` joins as far from every keep-out as can be (the nearest of them, to within 1e-6).

    First the widest margin that all joins together can keep is found; then each join in turn
    is centred as well as the ones after it allow, nearest to its even place among equals.
    """

    def feasible(more: Length) -> bool:
        fewest = _fewest(span, _Free(span, outs, more))
        return fewest is not None and fewest <= count

    bare = _Free(span, outs, Fraction(0))
    halves = sorted({(high - low) / 2 for low, high in bare.stretches} | {Fraction(0)})
    good = max(half for half in halves if half == 0 or feasible(half))
    bad = min((half for half in halves if half > good), default=good)
    for _ in range(REFINEMENTS if bad > good else 0):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if feasible(middle) else (good, middle)

    free = _Free(span, outs, good)
    needs = [span.last_need]
    for _ in range(count - 1):
        needs.append(_must(free.earliest(needs[-1])) - span.step)
    placed: list[Length] = []
    for i, need in enumerate(reversed(needs), 1):
        high = placed[-1] + span.step if placed else span.first_reach
        low = _must(free.earliest(need))
        # Laps side by side, not on one another, wherever the ones after it allow that.
        apart = free.earliest(placed[-1] + span.overlap if placed else span.start)
        if apart is not None and low < apart <= high:
            low = apart
        even = span.start + (span.end - span.start) * i / (count + 1)
        choices = []
        for a, b in free.between(low, high):
            point = min(max((a + b) / 2, low, a), high, b)
            choices.append((-min(point - a, b - point), abs(point - even), point))
        placed.append(min(choices)[2])
    return tuple(placed)


def _must(point: Length | None) -> Length:
    """A point that feasibility has shown to be there."""
    if point is None:
        raise AssertionError("a feasible margin left no place for a join")
    return point


def windows(span: Span, centers: Sequence[Length]) -> list[tuple[Length, Length]]:
    """What each sheet shows: from lap to lap, `start` and `end` at the two ends."""
    half = span.overlap / 2
    edges = [span.start + half, *centers, span.end - half]
    return [(a - half, b + half) for a, b in pairwise(edges)]
