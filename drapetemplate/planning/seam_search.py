"""Seams as whole numbers: where they can stand, and the best of all ways to place them.

Lengths are whole multiples of one unit, raw from the leading edge; `seams` says what the words and
the aims are. Pieces have upper bounds only, so it is enough to know, for so many pieces from an
edge, the farthest place reached (where seams may show, the farthest at each cost). That is dynamic
programming over the pieces, with one search among the spans for each.

A pattern puts all seams at one phase of the cloth, first met `skew` past the left selvage and its
allowance. Inner pieces span `whole` repeats at most, which leaves `slack` of the cloth. Skews over
the slack cost every inner piece a repeat and gain nothing. Up to it skew is room that the first
piece has and the last hasn't. With a drop to each piece
  first <= seam + whole + skew, last <= width - seam - skew, both together <= width + whole.
In the panel all seams stand on one grid of the repeat. The grids tried are those with a seam at
its span's first place or the last piece as wide as can be: any other plan can be moved towards
the leading edge to one of them, skew and all. On a grid no more than two skews need be tried.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate
from operator import add, ge
from typing import NamedTuple, TypeAlias

NEVER = 10**9  # what a seam costs where none may stand


class Spans(NamedTuple):
    """Places alike: what a seam there costs, and where they begin and end, in order.

    On a grid only phase, phase + repeat, ... are places.
    """

    cost: int
    los: tuple[int, ...]
    his: tuple[int, ...]

    def first(self, at: int, most: int, phase: int = 0, repeat: int = 1) -> int | None:
        """The first place from `at` on, up to `most`."""
        for n in range(bisect_left(self.his, at), len(self.his)):
            place = max(self.los[n], at)
            place += (phase - place) % repeat
            if place > most:
                return None
            if place <= self.his[n]:
                return place
        return None

    def last(self, at: int, phase: int = 0, repeat: int = 1) -> tuple[int, int, int] | None:
        """Where the span begins that has the last place up to `at`, its first place, and that."""
        for n in reversed(range(bisect_right(self.los, at))):
            place = min(self.his[n], at)
            place -= (place - phase) % repeat
            if place >= self.los[n]:
                return self.los[n], self.los[n] + (phase - self.los[n]) % repeat, place
        return None


class Ground(NamedTuple):
    """Spans of each cost, the cheapest first, none on another; all places from edge to edge."""

    spans: tuple[Spans, ...]
    edges: list[int]
    costs: list[int]

    def flipped(self, total: int) -> Ground:
        """The same from the return edge."""
        spans = (
            (cost, [(total - hi, total - lo) for lo, hi in zip(los, his, strict=True)][::-1])
            for cost, los, his in self.spans
        )
        return ground_of(*spans)

    def lines(self, phases: Iterable[int], repeat: int, total: int) -> Iterator[list[int]]:
        """What each place up to `total` costs on the grids of those phases, in order."""
        places = range(0, total + repeat, repeat)
        line = [self.costs[bisect_right(self.edges, at) - 1] for at in places]
        # A place that moves on with the phase changes its cost at each edge it comes to.
        steps = sorted(
            (edge % repeat, edge // repeat, cost)
            for edge, cost in zip(self.edges, self.costs, strict=True)
        )[::-1]
        for phase in phases:
            while steps and steps[-1][0] <= phase:
                _, place, line[place] = steps.pop()
            yield line[: (total - phase) // repeat + 1]


def ground_of(*spans: tuple[int, Sequence[tuple[int, int]]]) -> Ground:
    """Ground from what places cost and the spans that cost that, in order."""
    steps = {0: NEVER} | {hi + 1: NEVER for _, pairs in spans for _, hi in pairs}
    steps |= {lo: cost for cost, pairs in spans for lo, _ in pairs}
    edges = sorted(steps)
    alike = [Spans(c, tuple(lo for lo, _ in at), tuple(hi for _, hi in at)) for c, at in spans]
    return Ground(tuple(alike), edges, [steps[edge] for edge in edges])


class Grid(NamedTuple):
    """Where seams may stand, and what each piece can span.

    `line` is what each place on the grid costs. Without a pattern the repeat is 1, the line empty.
    """

    phase: int
    repeat: int
    line: list[int]
    caps: tuple[int, ...]

    def flipped(self, total: int) -> Grid:
        """The same from the return edge."""
        phase = (total - self.phase) % self.repeat
        return Grid(phase, self.repeat, self.line[::-1], self.caps[::-1])


class Goods:
    """Whole numbers of one unit: a panel's raw `total`, cloth width, seam, repeat across.

    Every length is more than a unit. Without a pattern the repeat is 1, so that all else holds.
    An inner piece spans `whole` at most, which leaves `slack` between seams, less than a repeat;
    one that shares with its like spans `shared`, whatever the skew.
    """

    def __init__(self, total: int, width: int, seam: int, repeat: int) -> None:
        self.total, self.width, self.seam, self.repeat = total, width, seam, repeat
        self.whole = self.inner(width)
        self.slack = width - 2 * seam - self.whole
        self.shared = self.inner(self.half(0))

    def inner(self, room: int) -> int:
        """The most that an inner piece can span, cut from `room` of a drop's width."""
        span = room - 2 * self.seam
        return span - span % self.repeat

    def half(self, skew: int) -> int:
        """The widest piece that two alike can be cut of, from one drop, starting at `skew`."""
        room = self.width - skew
        repeats = room // (2 * self.repeat) * self.repeat
        return max(repeats, room - repeats - self.repeat)

    def grids(self, ground: Ground, count: int, share: int | None = None) -> Iterator[Grid]:
        """All that may hold the best plan, the piece at `share` narrow enough for its like."""
        if count == 1:
            yield Grid(0, 1, [], (self.width if share is None else self.half(0),))
        elif self.whole > 0:
            # Without a whole repeat to span, more pieces make no more than one.
            yield from self._grids(ground, count, share)

    def _grids(self, ground: Ground, count: int, share: int | None) -> Iterator[Grid]:
        """With a seam or more."""
        inner = (self.whole,) * (count - 2)
        # A seam may move towards the leading edge unless the place before costs more.
        firsts: dict[int, list[int]] = {}
        for was, cost, lo in zip(ground.costs, ground.costs[1:], ground.edges[1:], strict=False):
            if cost < was:
                firsts.setdefault(lo % self.repeat, []).append(lo)
        # The last piece as wide as can be: on its own, or where its like starts just after it.
        ends = {(self.total - self.width + self.seam) % self.repeat}
        if share == count - 1:
            ends.add((self.total + self.seam) % self.repeat)
        phases = sorted(ends | firsts.keys())
        lines = ground.lines(phases, self.repeat, self.total) if self.repeat > 1 else ([],)
        for phase, line in zip(phases, lines, strict=True):
            tried: list[tuple[int, int]] = []
            for caps in self._on_grid(phase, share, count):
                first, last = caps
                spare = first + sum(inner) + last - self.total
                if spare < 0 or any(all(map(ge, other, caps)) for other in tried):
                    continue
                tried.append(caps)
                # Seams can be where the first piece and whole ones reach, and `spare` before.
                if phase in ends or any((first - lo) % self.whole <= spare for lo in firsts[phase]):
                    yield Grid(phase, self.repeat, line, (first, *inner, last))

    def _on_grid(self, phase: int, share: int | None, count: int) -> Iterator[tuple[int, int]]:
        """At each skew to try, what the first piece and the last can span."""
        # The least skew that gives the first piece another repeat, and none; or if that shares,
        # the most that leaves the last piece its own, and the most of all.
        skews = (phase - self.seam - self.whole) % self.repeat, 0
        if share == 0:
            skews = (phase - self.total + self.width - self.seam) % self.repeat, self.slack
        for skew in skews:
            if skew <= self.slack:
                half = self.half(self.slack - skew if share == 0 else skew)
                first = half if share == 0 else self.width - self.slack + skew
                last = half if share == count - 1 else self.width - skew
                first, last = first - self.seam, last - self.seam
                first -= (first - phase) % self.repeat
                yield first, last - (last - self.total + phase) % self.repeat


class Front(NamedTuple):
    """What can be had at one seam: the first place for each cost from there on, dearest first."""

    places: Sequence[int]
    costs: Sequence[int]

    def least(self, most: int) -> int:
        """The least cost of a place up to `most`."""
        n = bisect_right(self.places, most)
        return self.costs[n - 1] if n else NEVER


Lane: TypeAlias = tuple[Grid, list[Front]]
"""A grid, and for each seam, and last the panel's end, its front."""


def fronts_of(ground: Ground, grid: Grid, total: int, most: int) -> list[Front]:
    """The fronts of a grid, of places that the pieces before them reach; none if over `most`."""
    reach = sum(grid.caps)
    if total > reach:
        return []
    if grid.repeat > 1 and reach - total < min(grid.caps):
        return _columns(grid, total, most)
    if len(ground.spans) == 1:
        return _chain(ground.spans[0], grid, total)
    fronts = [Front([total], [0])]
    for cap in reversed(grid.caps[1:]):
        reach -= cap
        places = []
        for after, cost in zip(*fronts[-1], strict=True):
            # The cheapest first, so a dearer place needn't be looked for past a full width.
            for spans in ground.spans:
                at = spans.first(after - cap, min(after - 1, reach), grid.phase, grid.repeat)
                if at is not None and cost + spans.cost <= most:
                    places.append((at, cost + spans.cost))
                if at == after - cap:
                    break
        least = NEVER
        front = [(at, least := cost) for at, cost in sorted(places) if cost < least]
        if not front:
            return []
        fronts.append(Front(*zip(*front, strict=True)))
    return fronts[::-1]


def _chain(spans: Spans, grid: Grid, total: int) -> list[Front]:
    """The fronts of a grid where all spans cost alike: nothing."""
    reach, after = sum(grid.caps), total
    fronts = [Front((total,), (0,))]
    for cap in reversed(grid.caps[1:]):
        reach -= cap
        at = spans.first(after - cap, min(after - 1, reach), grid.phase, grid.repeat)
        if at is None:
            return []
        fronts.append(Front((at,), (0,)))
        after = at
    return fronts[::-1]


def _columns(grid: Grid, total: int, most: int) -> list[Front]:
    """The fronts of a grid where each seam has few places, none of them another's."""
    # A seam so many places past its first needs those after it to be no more past theirs.
    first, spare = total, sum(grid.caps) - total
    costs = [0] * (spare // grid.repeat + 1)
    fronts = [Front([total], [0])]
    for cap in reversed(grid.caps[1:]):
        first -= cap
        line = grid.line[first // grid.repeat : (first + spare) // grid.repeat + 1]
        costs = list(accumulate(map(add, line, costs), min))
        if costs[-1] > most:
            return []
        fronts.append(Front(range(first, first + spare + 1, grid.repeat), costs))
    return fronts[::-1]


def cheapest(
    ground: Ground, grids: Iterable[Grid], total: int, most: int = NEVER - 1
) -> tuple[int, list[Lane]]:
    """The least cost, no more than `most`, and the grids that have it; none where none can."""
    lanes: list[Lane] = []
    for grid in grids:
        fronts = fronts_of(ground, grid, total, most)
        if fronts:
            # None costs more than the least so far.
            cost = fronts[0].costs[-1]
            lanes = [*lanes, (grid, fronts)] if cost == most else [(grid, fronts)]
            most = cost
    return most, lanes


def settled(ground: Ground, lanes: Iterable[Lane], total: int, budget: int) -> tuple[int, ...]:
    """The best seams (aims 3 and 4) that cost `budget`, the least that can be had."""
    # Of each lane the spans' first places, the farthest place of the last, and what is left.
    trails: list[tuple[Lane, tuple[int, ...], int, int]] = [(one, (), 0, budget) for one in lanes]
    for seam in range(len(trails[0][0][1]) - 1):
        # In spans as far as can be: told apart by where they truly start, whatever the grid.
        options = [_next(ground, lane, seam, reach, left) for lane, _, reach, left in trails]
        farthest = max(options)[0]
        trails = [
            (lane, (*starts, first), reach, left)
            for (lane, starts, *_), (start, first, reach, left) in zip(trails, options, strict=True)
            if start == farthest
        ]
    return min((_closest(starts, grid.caps, total) for (grid, _), starts, *_ in trails), key=sum)


def _next(ground: Ground, lane: Lane, seam: int, reach: int, left: int) -> tuple[int, ...]:
    """Where the farthest span a seam can have starts, its first and last place, what is left."""
    grid, fronts = lane
    options = []
    for spans in ground.spans:
        span = spans.last(reach + grid.caps[seam], grid.phase, grid.repeat)
        rest = left - spans.cost
        if span is not None and fronts[seam + 1].least(span[2] + grid.caps[seam + 1]) <= rest:
            options.append((*span, rest))
    return max(options)


def _closest(starts: Sequence[int], caps: Sequence[int], total: int) -> tuple[int, ...]:
    """Each seam as near to its span's start as the pieces after it reach."""
    seams = [total]
    for start, cap in zip(reversed(starts), reversed(caps), strict=False):
        seams.append(max(start, seams[-1] - cap))
    return tuple(seams[:0:-1])


_Far: TypeAlias = list[tuple[int, int]]
_Chain: TypeAlias = "tuple[int, _Chain] | None"


class _Part(NamedTuple):
    """So many whole pieces at an edge, the partial's share of its drop, whole pieces, seams."""

    whole: int
    room: int
    inner: int
    chain: _Chain


def _parts(goods: Goods, spans: Spans, far: _Far, start: int) -> Iterator[_Part]:
    """Every edge up to a seam at `start`."""
    head: int | None = start
    after, inner = start + 1, 0
    chain: _Chain = None
    while head is not None:
        for edge in range(bisect_left(far, (head - goods.width,)), len(far)):
            at = max(head, far[edge][1])
            if at >= after:
                break
            room = at - far[edge][0] + goods.seam * (1 + (edge > 0))
            if room <= goods.width:
                yield _Part(edge, room, inner, (at, chain))
        after, inner, chain = head, inner + 1, (head, chain)
        head = spans.first(head - goods.whole, head - 1)


def _seams(far: _Far, part: _Part) -> list[int]:
    """All seams of an edge."""
    seams, chain = [at for at, _ in far[1 : part.whole + 1]], part.chain
    while chain is not None:
        at, chain = chain
        seams.append(at)
    return seams


def _far(goods: Goods, spans: Spans, count: int) -> _Far:
    """The farthest seams that 0, 1, 2 ... whole pieces reach, and where partials can end next."""
    # That is in a later span than they begin, or they would be slivers.
    far, cap = [0], goods.width - goods.seam
    for _ in range(count - 2):
        span = spans.last(far[-1] + cap)
        if span is None or span[2] <= far[-1]:
            break
        far.append(span[2])
        cap = goods.whole
    nexts = (*spans.los, goods.total)
    return [(at, nexts[bisect_right(spans.los, at)]) for at in far]


def two(goods: Goods, ground: Ground, count: int) -> tuple[tuple[int, ...], tuple[int, int]] | None:
    """The best seams with two partials that share one drop with each other, and which those are.

    Whole pieces from either edge are as wide as can be. Between the partials one seam stands at
    its span's start, or all could move there, and from it the others are as far apart as can be.
    """
    total = goods.total
    spans, flipped = ground.spans[0], ground.flipped(total).spans[0]
    far, near = _far(goods, spans, count), _far(goods, flipped, count)
    best: tuple[tuple[int, int, int], _Part, _Part] | None = None
    for start in spans.los:
        ends: dict[int, list[_Part]] = {}
        for part in _parts(goods, flipped, near, total - start):
            ends.setdefault(count - 2 - part.whole - part.inner, []).append(part)
        for one in _parts(goods, spans, far, start):
            for other in ends.get(one.whole + one.inner, ()):
                rank = (one.whole, -other.whole, -one.room - other.room)
                if one.room + other.room <= goods.width and (best is None or rank >= best[0]):
                    best = rank, one, other
    if best is None:
        return None
    _, one, other = best
    seams = _seams(far, one) + [total - at for at in _seams(near, other)[-2::-1]]
    places = (one.whole, count - 1 - other.whole)
    caps = [goods.width - goods.seam, *[goods.whole] * (count - 2), goods.width - goods.seam]
    caps[places[0]] -= goods.width - one.room
    caps[places[1]] -= one.room
    starts = [spans.los[bisect_right(spans.los, at) - 1] for at in seams]
    return _closest(starts, caps, total), places
