"""Seams as whole numbers: where they can stand, and the best of all ways to place them.

Lengths are whole multiples of one unit, raw from the leading edge; `seams` says what the words and
the aims are. Pieces have upper bounds only, so where a seam can stand, every allowed place before
it can be had too. It is enough to know, for so many pieces from an edge, the farthest place
reached (where seams may show, the farthest at each cost). That is dynamic programming over the
pieces, with one search among the spans for each.

A pattern puts all seams on one grid of its repeat: the grids tried are those with a seam at its
span's first place, or the last piece at its full width. Any other can be moved towards the
leading edge to one of them.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple, cast

MORE_WIDTHS = 2

Mode = Literal["like", "each", "two"]
"""How a panel's pieces share drops: one with its like, none, or two with each other."""


class Spans(NamedTuple):
    """Places alike: what a seam there costs, and where they begin and end, in order.

    With a `repeat` over 1 only phase, phase + repeat, ... are places.
    """

    cost: int
    los: tuple[int, ...]
    his: tuple[int, ...]
    phase: int = 0
    repeat: int = 1

    def first(self, at: int) -> int | None:
        """The first place from `at` on."""
        for n in range(bisect_left(self.his, at), len(self.his)):
            place = max(self.los[n], at)
            place += (self.phase - place) % self.repeat
            if place <= self.his[n]:
                return place
        return None

    def last(self, at: int) -> tuple[int, int] | None:
        """The last place up to `at`, and the first one of its span."""
        for n in reversed(range(bisect_right(self.los, at))):
            place = min(self.his[n], at)
            place -= (place - self.phase) % self.repeat
            if place >= self.los[n]:
                return place, self.los[n] + (self.phase - self.los[n]) % self.repeat
        return None


Ground = tuple[Spans, ...]


def spans_of(cost: int, spans: Sequence[tuple[int, int]]) -> Spans:
    """Spans from their ends, in order."""
    return Spans(cost, tuple(lo for lo, _ in spans), tuple(hi for _, hi in spans))


class Goods(NamedTuple):
    """Whole numbers of one unit: a panel's raw `total`, cloth width, seam, repeat across or 0."""

    total: int
    width: int
    seam: int
    repeat: int

    def allowance(self, place: int, count: int) -> int:
        """Seam cloth of the piece at `place` of `count`."""
        return self.seam * ((place > 0) + (place < count - 1))

    def most(self, place: int, count: int, room: int) -> int:
        """The most that a piece can span, cut from `room` of a drop's width."""
        span = room - self.allowance(place, count)
        return span - span % self.repeat if self.repeat and 0 < place < count - 1 else span

    def caps(self, count: int) -> list[int]:
        """The most that each of `count` pieces can span, a drop to each."""
        return [self.most(place, count, self.width) for place in range(count)]

    @property
    def half(self) -> int:
        """The widest piece that two alike can be cut of, from one drop."""
        if not self.repeat:
            return self.width // 2
        repeats = self.width // (2 * self.repeat) * self.repeat
        return max(repeats, self.width - repeats - self.repeat)

    def like(self, count: int, place: int) -> list[int]:
        """The caps with the piece at `place` narrow enough to share with its like."""
        caps = self.caps(count)
        caps[place] = self.most(place, count, self.half)
        return caps

    def least_widths(self) -> int:
        """The fewest pieces that make a panel, wherever their seams fall."""
        if self.total <= self.width:
            return 1
        rest = self.total - 2 * (self.width - self.seam)
        return 2 + (-(-rest // self.most(1, 3, self.width)) if rest > 0 else 0)

    def least_drops(self, count: int, panels: int) -> int:
        """The fewest drops for panels of `count` pieces, wherever their seams fall."""
        spans = (sum(self.like(count, place)) for place in range(count))
        return drops(panels, count, "like" if max(spans) >= self.total else "each")

    def grids(self, ground: Ground, caps: Sequence[int]) -> Iterable[int]:
        """The phases of the pattern that may be best; one if there is no pattern to match."""
        if not self.repeat:
            return (0,)
        starts = {lo % self.repeat for spans in ground for lo in spans.los}
        return sorted(starts | {(self.total - caps[-1]) % self.repeat})

    def on_grid(self, ground: Ground, caps: list[int], phase: int) -> tuple[Ground, list[int]]:
        """Ground and caps that keep every seam on the pattern's grid."""
        if not self.repeat or len(caps) == 1:
            return ground, caps
        last = self.total - caps[-1]
        first = caps[0] - (caps[0] - phase) % self.repeat
        caps = [first, *caps[1:-1], caps[-1] - (phase - last) % self.repeat]
        return tuple(one._replace(phase=phase, repeat=self.repeat) for one in ground), caps


class Found(NamedTuple):
    """Raw seams, how pieces share, and which pieces do."""

    seams: tuple[int, ...]
    mode: Mode
    partials: tuple[int, ...]


def drops(panels: int, count: int, mode: Mode) -> int:
    """Drops for `panels` panels of `count` pieces."""
    return panels * count - {"like": panels // 2, "each": 0, "two": panels}[mode]


def _fronts(
    ground: Ground, caps: Sequence[int], total: int, most: int | None
) -> list[list[tuple[int, int]]]:
    """For each seam, and last the panel's end: (cost from there on, first place), best ones only.

    A dearer place is listed only where it stands before every cheaper one; none over `most`.
    `ground` is in order of cost, so a dearer place needn't be looked for past a full width.
    """
    fronts = [[(0, total)]]
    for cap in reversed(caps[1:]):
        places = []
        for cost, after in fronts[-1]:
            for spans in ground:
                if most is not None and cost + spans.cost > most:
                    break
                at = spans.first(after - cap)
                if at is not None and at < after:
                    places.append((cost + spans.cost, at))
                if at == after - cap:
                    break
        front: list[tuple[int, int]] = []
        for cost, at in sorted(places):
            if not front or at < front[-1][1]:
                front.append((cost, at))
        fronts.append(front)
    return fronts[::-1]


def _settle(ground: Ground, caps: Sequence[int], total: int, budget: int) -> tuple[int, ...]:
    """The best seams (aims 3 and 4) that cost `budget`, the least that can be had."""
    fronts = _fronts(ground, caps, total, budget)
    reach, starts = 0, []
    for cap, after, front in zip(caps, caps[1:], fronts[1:], strict=False):
        options = []
        for spans in ground:
            span = spans.last(reach + cap)
            left = budget - spans.cost
            if span is not None and any(c <= left and at <= span[0] + after for c, at in front):
                options.append((span[1], span[0], left))
        start, reach, budget = max(options)
        starts.append(start)
    return _closest(starts, caps, total)


def _closest(starts: Sequence[int], caps: Sequence[int], total: int) -> tuple[int, ...]:
    """Each seam as near to its span's start as the pieces after it reach."""
    seams = [total]
    for start, cap in zip(reversed(starts), reversed(caps), strict=False):
        seams.append(max(start, seams[-1] - cap))
    return tuple(seams[:0:-1])


def _best(
    goods: Goods, ground: Ground, caps: list[int], least: int | None = None
) -> tuple[int, tuple[int, ...]] | None:
    """The least cost of pieces so wide and its best seams, over every grid of a pattern.

    None where that would cost more than `least`, or such pieces don't make the panel.
    """
    grids: list[tuple[Ground, list[int]]] = []
    for phase in goods.grids(ground, caps):
        fixed = goods.on_grid(ground, caps, phase)
        front = _fronts(*fixed, goods.total, least)[0]
        costs = [cost for cost, at in front if at <= fixed[1][0]]
        if costs:
            # None costs more than the least so far.
            grids = [*grids, fixed] if costs[0] == least else [fixed]
            least = costs[0]
    if least is None or not grids:
        return None
    # Spans are told apart by where they truly start, not by their first place on a grid.
    starts = sorted(lo for spans in ground for lo in spans.los)

    def rank(seams: tuple[int, ...]) -> tuple[list[int], int]:
        return [bisect_right(starts, at) for at in seams], -sum(seams)

    return least, max((_settle(*fixed, goods.total, least) for fixed in grids), key=rank)


def _like(goods: Goods, ground: Ground, count: int, budget: int) -> Found | None:
    """The best plan at no more cost with one partial that shares with its like."""
    for place in reversed(range(count)):
        caps = goods.like(count, place)
        if sum(caps) >= goods.total:
            found = _best(goods, ground, caps, budget)
            if found is not None:
                return Found(found[1], "like", (place,))
    return None


def hide(goods: Goods, ground: Ground, least: int, panels: int) -> Found | None:
    """The best plan that hides every seam, with up to two more widths than `least`."""
    counts = range(least, least + MORE_WIDTHS + 1)
    modes: tuple[Mode, ...] = ("like", "each", "two")
    levels = sorted((drops(panels, count, mode), count, mode) for count in counts for mode in modes)
    each = {count: _best(goods, ground, goods.caps(count)) for count in counts}
    for _, count, mode in levels:
        plain, found = each[count], None
        # Pieces that share are narrower, so they make no panel that others don't.
        if plain is None:
            continue
        if mode == "each":
            found = Found(plain[1], mode, ())
        elif mode == "like" and panels > 1:
            found = _like(goods, ground, count, 0)
        elif mode == "two" and count > least and not goods.repeat:
            found = _two(goods, ground[0], count)
        if found is not None:
            return found
    return None


def least_visible(goods: Goods, ground: Ground, count: int, panels: int) -> Found:
    """The best plan of `count` widths that costs least, on a ground that covers the panel."""
    # So many widths make the panel if seams may fall anywhere, and `ground` is everywhere.
    cost, seams = cast("tuple[int, tuple[int, ...]]", _best(goods, ground, goods.caps(count)))
    like = _like(goods, ground, count, cost) if panels > 1 else None
    return like or Found(seams, "each", ())


class _Part(NamedTuple):
    """A panel's edge up to a seam: whole pieces at the edge, room the partial takes, the seams."""

    edge: int
    room: int
    seams: tuple[int, ...]


def _parts(goods: Goods, spans: Spans, far: Sequence[int], start: int) -> Iterator[_Part]:
    """Every edge up to a seam at `start`: whole pieces, the partial, whole pieces."""
    chain: tuple[int, ...] = (start,)
    while True:
        for edge in range(bisect_left(far, chain[0] - goods.width), len(far)):
            # The partial ends in a later span than it begins, or it would be a sliver.
            later = bisect_right(spans.los, far[edge]) if edge else 0
            at = max(chain[0], spans.los[later]) if later < len(spans.los) else start + 1
            if at > start or (len(chain) > 1 and at >= chain[1]):
                break
            room = at - far[edge] + goods.seam * (1 + (edge > 0))
            if room <= goods.width:
                yield _Part(edge, room, (*far[1 : edge + 1], at, *chain[1:]))
        before = spans.first(chain[0] - goods.width + 2 * goods.seam)
        if before is None or before >= chain[0]:
            return
        chain = (before, *chain)


def _far(goods: Goods, spans: Spans, count: int) -> list[int]:
    """The farthest seams that 0, 1, 2 ... whole pieces reach from the edge at 0."""
    far = [0]
    for place in range(count - 2):
        span = spans.last(far[-1] + goods.most(place, count, goods.width))
        if span is None or span[0] <= far[-1]:
            break
        far.append(span[0])
    return far


def _two(goods: Goods, spans: Spans, count: int) -> Found | None:
    """The best plan with two partials that share one drop with each other.

    Whole pieces from either edge are as wide as can be. Between the partials one seam stands at
    its span's start, or all could move there, and from it the others are as far apart as can be.
    """
    total = goods.total
    flipped = spans_of(
        0, [(total - hi, total - lo) for lo, hi in zip(spans.los, spans.his, strict=True)][::-1]
    )
    far, near = _far(goods, spans, count), _far(goods, flipped, count)
    best: tuple[tuple[int, int, int], _Part, _Part] | None = None
    for start in spans.los:
        ends: dict[int, list[_Part]] = {}
        for part in _parts(goods, flipped, near, total - start):
            ends.setdefault(len(part.seams), []).append(part)
        narrowest = {seams: min(part.room for part in parts) for seams, parts in ends.items()}
        for one in _parts(goods, spans, far, start):
            # Both parts have the seam at `start`.
            seams = count - len(one.seams)
            if one.room + narrowest.get(seams, goods.width) > goods.width:
                continue
            for two in ends[seams]:
                rank = (one.edge, -two.edge, -one.room - two.room)
                if one.room + two.room <= goods.width and (best is None or rank > best[0]):
                    best = rank, one, two
    if best is None:
        return None
    _, one, two = best
    seams_at = (*one.seams, *(total - at for at in two.seams[-2::-1]))
    places = (one.edge, count - 1 - two.edge)
    caps = goods.caps(count)
    for place, room in zip(places, (one.room, goods.width - one.room), strict=True):
        caps[place] = goods.most(place, count, room)
    starts = [spans.los[bisect_right(spans.los, at) - 1] for at in seams_at]
    return Found(_closest(starts, caps, total), "two", places)
