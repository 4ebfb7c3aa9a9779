"""The seams of small panels by trying everything: every place on a coarse grid, every packing.

It shares nothing with the planner. Cloth is tried too: a plan is one only if its pieces can be laid
on drops, each at some whole unit from the left selvage, so that the pattern is the same on both
sides of every seam.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import accumulate, combinations, pairwise, product
from math import ceil

from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH
from drapetemplate.planning.seam_places import EyeletRow
from drapetemplate.planning.seams import SeamPlan
from tests.helpers.rows import goods, row_of, seams_of

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

    def row(self) -> EyeletRow:
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

    @cache  # noqa: B019
    def clear(self, place: int) -> bool:
        """Whether a seam at a raw place clears every flange by two units and both side hems."""
        first = self.hem + self.ends[0]
        last = self.total - self.hem - self.ends[1]
        if not self.off_hems(place):
            return False
        if place < first or place > last:
            return place <= first - 2 or place >= last + 2
        off = (place - first) % (self.outside + self.gap)
        return self.outside + 2 <= off <= self.outside + self.gap - 2

    def off_hems(self, place: int) -> bool:
        """Whether a seam's allowance is off both side hems, turned in once."""
        return 2 * self.hem + 1 <= place <= self.total - 2 * self.hem - 1

    @property
    def modulus(self) -> int:
        """The repeat; without a pattern every place is alike."""
        return self.repeat or 1

    @cache  # noqa: B019  # a few hundred small problems
    def span_of(self, place: int) -> int:
        """A number that grows with each span, of places clear or of places not."""
        if place == 0:
            return 0
        return self.span_of(place - 1) + (self.clear(place) != self.clear(place - 1))

    @cache  # noqa: B019
    def gap_of(self, place: int) -> int | None:
        """Which hiding gap a raw place is in, two units clear of both flanges; None if none."""
        if not self.off_hems(place):
            return None
        for n in range(0 if self.hooks else 1, self.count - 1, 1 if self.hooks else 2):
            left = self.hem + self.ends[0] + n * (self.outside + self.gap) + self.outside
            if left + 2 <= place <= left + self.gap - 2:
                return n
        return None


def grid(pick: random.Random) -> Grid:
    """A small random problem of half a width to three, often with little to spare."""
    count, outside, gap = 2 * pick.randint(1, 7), pick.randint(1, 4), pick.randint(2, 9)
    ends, hem = (pick.randint(1, 8), pick.randint(1, 8)), pick.randint(0, 3)
    total = sum(ends) + count * outside + (count - 1) * gap + 2 * hem
    halves = pick.choice([1, 2, 3, 3, 4, 4, 5, 5, 6])
    need = total + halves + pick.choice([0, 1, 2, 4, 8, total // 4])
    width = 6 * max(2, -(-need // (3 * halves)))
    repeat = pick.randint(2, width // pick.randint(1, 4)) * pick.randint(0, 1)
    hooks = pick.random() < 0.2
    return Grid(total, hem, width, repeat, pick.randint(1, 5), outside, gap, count, ends, hooks)


@cache
def offsets(width: int, piece: int, repeat: int, alike: int) -> tuple[int, ...]:
    """Where a piece can start on cloth so wide so that others alike follow it on the drop."""
    every = range(width - piece + 1)
    if alike == 1:
        return tuple(every)
    followed = offsets(width, piece, repeat, alike - 1)
    steps = [step for step in range(piece, width) if step % repeat == 0]
    return tuple(at for at in every if any(at + step in followed for step in steps))


def matches(
    problem: Grid, widths: Sequence[int], shared: int | None = None, alike: int = 2
) -> bool:
    """Whether pieces so wide can be cut that match, so many of the shared one from one drop."""
    phases = set(range(problem.modulus))
    for n, piece in enumerate(widths):
        times = alike if n == shared else 1
        phases = {
            (at + piece - 1) % problem.modulus
            for at in offsets(problem.width, piece, problem.modulus, times)
            if n == 0 or (at + 1) % problem.modulus in phases
        }
    return bool(phases)


def plans(
    problem: Grid, pieces: int, places: Sequence[int], before: tuple[int, ...] = ()
) -> Iterator[tuple[int, ...]]:
    """The raw piece widths of every way to seam so many pieces at those places."""
    if len(before) == pieces - 1:
        ends = (0, *before, problem.total)
        widths = tuple(two - one + (one > 0) + (two < problem.total) for one, two in pairwise(ends))
        if max(widths) <= problem.width and matches(problem, widths):
            yield widths
        return
    last = before[-1] if before else 0
    rest = (pieces - len(before) - 1) * problem.width
    for place in places:
        if (
            last < place < last + problem.width
            and place > problem.total - rest
            and not (before and (place - last) % problem.modulus)
        ):
            yield from plans(problem, pieces, places, (*before, place))


def seams(widths: tuple[int, ...]) -> tuple[int, ...]:
    """The raw seams between pieces so wide, seams of one unit counted out."""
    joined = [width - 1 - (n > 0) for n, width in enumerate(widths[:-1])]
    return tuple(accumulate(joined))


@cache
def bins(widths: tuple[int, ...], width: int) -> int:
    """The fewest drops so wide for pieces so wide, by putting each into every drop that is open."""
    best = len(widths)
    area = -(-sum(widths) // width)

    def put(n: int, free: tuple[int, ...]) -> None:
        nonlocal best
        if len(free) >= best or best == area:
            return
        if n == len(widths):
            best = len(free)
            return
        for room in {*free}:
            if room >= widths[n]:
                others = list(free)
                others.remove(room)
                put(n + 1, (*others, room - widths[n]))
        put(n + 1, (*free, width - widths[n]))

    put(0, ())
    return best


Counts = tuple[int, ...]
"""How many of each piece: of the panels that lie from the left selvage, then of left panels."""


@dataclass(frozen=True)
class Cut:
    """Patterned cloth and a panel's pieces, whose seams stand at one phase from their selvage."""

    width: int
    repeat: int
    widths: tuple[int, ...]
    phase: int

    def fits(self, piece: int, at: int) -> bool:
        """Whether a piece can begin there, seen from the selvage that its panel leads at."""
        if len(self.widths) == 1:
            return at % self.repeat == 0
        seam = at + self.widths[piece] - 1 if piece == 0 else at + 1
        return (seam - self.phase) % self.repeat == 0

    @cache  # noqa: B019
    def places(self, kind: int) -> tuple[int, ...]:
        """Where on a drop a piece can begin, from the left selvage; left panels' kinds are last."""
        left, piece = divmod(kind, len(self.widths))
        last = self.width - self.widths[piece]
        return tuple(at for at in range(last + 1) if self.fits(piece, last - at if left else at))

    @cache  # noqa: B019
    def laid(self, counts: Counts, end: int = 0) -> bool:
        """Whether a drop holds so many of each from `end` on: every order and place is tried."""
        if not any(counts):
            return True
        pieces = len(self.widths)
        wide = sum(count * self.widths[n % pieces] for n, count in enumerate(counts))
        return end + wide <= self.width and any(
            self.laid((*counts[:n], count - 1, *counts[n + 1 :]), at + self.widths[n % pieces])
            for n, count in enumerate(counts)
            if count
            for at in self.places(n)
            if at >= end
        )

    def drops(self, counts: Counts, *, apart: bool = False) -> int:
        """The fewest drops for so many of each, every way to share them out being tried.

        Where the sides are `apart`, no drop holds pieces of left panels and of others.
        """
        pieces = len(self.widths)
        if not all(self.places(n) for n, count in enumerate(counts) if count):
            return NO_WAY
        ways = [
            way
            for way in product(*(range(count + 1) for count in counts))
            if any(way)
            and not (apart and any(way[:pieces]) and any(way[pieces:]))
            and self.laid(way)
        ]

        @cache
        def fewest(left: Counts) -> int:
            if not any(left):
                return 0
            first = next(n for n, count in enumerate(left) if count)
            return min(
                (
                    1 + fewest(tuple(a - b for a, b in zip(left, way, strict=True)))
                    for way in ways
                    if way[first] and all(b <= a for a, b in zip(left, way, strict=True))
                ),
                default=NO_WAY,
            )

        return fewest(counts)


NO_WAY = 10**6
"""More drops than any window takes: of pieces that don't fit on any."""


def shared(problem: Grid, widths: tuple[int, ...], partials: Sequence[int]) -> int:
    """The fewest drops for these pieces of all panels."""
    every = sorted((widths[n] for n in partials for _ in range(problem.panels)), reverse=True)
    return bins(tuple(every), problem.width)


def shares(
    problem: Grid, widths: tuple[int, ...], *, spread: bool
) -> tuple[int, int, tuple[int, ...]]:
    """The fewest drops for the window, and the fewest partials that come to that, best placed.

    Where `spread` panels, which have more pieces than they need, are seamed twice in one gap, only
    one piece shares, with its like.
    """
    panels, pieces = problem.panels, len(widths)
    gaps = [problem.gap_of(place) for place in seams(widths)]
    if problem.repeat and spread and len({*gaps}) == len(gaps):
        cuts = [
            Cut(problem.width, problem.repeat, widths, phase) for phase in range(problem.repeat)
        ]
        return min(
            (
                panels * (pieces - size)
                + cut.drops(tuple(panels if n in partials else 0 for n in range(pieces))),
                size,
                tuple(-n for n in partials),
            )
            for cut in cuts
            if all(cut.places(n) for n in range(pieces))
            for size in range(pieces + 1)
            for partials in combinations(range(pieces), size)
        )
    if problem.repeat:
        return min(
            [(panels * pieces, 0, ())]
            + [
                (panels * (pieces - 1) + ceil(panels / alike), 1, (-n,))
                for n in range(pieces)
                for alike in range(2, panels + 1)
                if matches(problem, widths, n, alike)
            ]
        )
    sizes = range(1, pieces + 1)
    if spread and any(one == other for one, other in pairwise(gaps)):
        sizes = range(1, 2)
    if shared(problem, widths, range(pieces)) == panels * pieces:
        return panels * pieces, 0, ()
    return min(
        (
            panels * (pieces - size) + shared(problem, widths, partials),
            size,
            tuple(-n for n in partials),
        )
        for size in sizes
        for partials in combinations(range(pieces), size)
    )


Outcome = tuple[int, int, int, int, int, tuple[int, ...], tuple[int, ...], int]


def outcome(problem: Grid, widths: tuple[int, ...], least: int) -> Outcome:
    """What a plan comes to, aim after aim, less being better.

    Seams visible, seams struck, pieces, drops; the partials, how many and which, then the gap each
    seam is in, from the return edge; how far the seams stand, all together.
    """
    drops, size, partials = shares(problem, widths, spread=len(widths) > least)
    places = seams(widths)
    return (
        sum(problem.gap_of(place) is None for place in places),
        sum(not problem.clear(place) for place in places),
        len(widths),
        drops,
        size,
        partials,
        # Several partials settle the seams by what they leave of the drops.
        () if size > 1 else tuple(-problem.span_of(place) for place in places),
        0 if size > 1 else sum(places),
    )


def fewest(problem: Grid) -> int | None:
    """The fewest pieces that make the panel, three at most: more are too many to try."""
    everywhere = range(1, problem.total)
    return next((n for n in (1, 2, 3) if any(plans(problem, n, everywhere))), None)


def bare_drops(problem: Grid, least: int) -> int:
    """The fewest drops of so few pieces, wherever their seams fall."""
    return min(
        shares(problem, widths, spread=False)[0]
        for widths in plans(problem, least, range(1, problem.total))
    )


def searched(problem: Grid, least: int) -> Outcome:
    """What the best plan of all comes to."""
    everywhere = range(1, problem.total)
    hiding = [place for place in everywhere if problem.gap_of(place) is not None]
    for pieces in range(least, least + 3):
        found = [outcome(problem, widths, least) for widths in plans(problem, pieces, hiding)]
        if found:
            return min(found)
    return min(outcome(problem, widths, least) for widths in plans(problem, least, everywhere))


def planned(problem: Grid, made: SeamPlan) -> Outcome:
    """The same of the plan made, by its own account of drops and cuts."""
    partials = sorted({n for each in made.layouts if len(each.pieces) > 1 for n in each.pieces})
    places = [at / UNIT + problem.hem for at in made.seams]
    one = len(partials) <= 1
    return (
        len(made.visible),
        len(made.struck),
        len(made.pieces),
        made.drops,
        len(partials),
        tuple(-n for n in partials),
        tuple(-problem.span_of(ceil(place)) for place in places) if one else (),
        # The next whole places, which are those that the search tries.
        sum(map(ceil, places)) if one else 0,
    )


def lies(problem: Grid, made: SeamPlan) -> bool:
    """Whether the pieces lie on their drops as told, and match at every seam."""
    starts = [start / UNIT for start in made.starts]
    pieces = [piece / UNIT for piece in made.pieces]

    def matched(one: Fraction, other: Fraction) -> bool:
        """Whether the pattern is the same at two places of the cloth."""
        return not problem.repeat or (one - other) % problem.repeat == 0

    for layout in made.layouts:
        laid = []
        for place, (n, start) in enumerate(zip(layout.pieces, layout.starts, strict=True)):
            at = start / UNIT
            if not matched(at, starts[n]):
                return False
            if layout.lefts is not None and layout.lefts[place]:  # from the right selvage
                at = problem.width - at - pieces[n]
            laid.append((at, at + pieces[n]))
        laid.sort()
        if laid[0][0] < 0 or laid[-1][1] > problem.width:
            return False
        if any(after[0] < before[1] for before, after in pairwise(laid)):
            return False
    every = [n for layout in made.layouts for n in layout.pieces * layout.times]
    ends = [start + piece for start, piece in zip(starts, pieces, strict=True)]
    return all(every.count(n) == problem.panels for n in range(len(pieces))) and all(
        matched(end - 1, start + 1) for end, start in zip(ends, starts[1:], strict=False)
    )


def check(problem: Grid, least: int) -> None:
    """The plan made is one that can be cut, and no plan of the search is better."""
    made = seams_of(problem.cloth(), problem.row(), problem.panels)
    assert searched(problem, least) == planned(problem, made), problem
    assert made.least_drops <= made.drops, problem
    assert bare_drops(problem, least) == made.least_drops or made.least_drops == made.drops, problem
    assert lies(problem, made), problem


def fewest_drops(
    problem: Grid,
    pieces: int,
    hiding: Sequence[int],
    *,
    pairs: bool = False,
    apart: bool = False,
) -> int | None:
    """The fewest drops of panels of so many pieces, each seam hidden in a gap of its own."""
    ways = {
        widths
        for widths in plans(problem, pieces, hiding)
        if len({problem.gap_of(place) for place in seams(widths)}) == pieces - 1
    }
    if not problem.repeat:
        ways = {tuple(sorted(widths)) for widths in ways}
        return min((shared(problem, widths, range(pieces)) for widths in ways), default=None)
    counts = (problem.panels,) * pieces
    if pairs:
        counts = (problem.panels // 2,) * (2 * pieces)
    return min(
        (
            Cut(problem.width, problem.repeat, widths, phase).drops(counts, apart=apart)
            for widths in ways
            for phase in range(problem.repeat)
        ),
        default=None,
    )


def check_extra(problem: Grid) -> None:
    """No way to seam a panel once or twice more than needed takes fewer drops.

    An extra seam is made where each saves a drop, and of one more the plan says what it saves.
    """
    made = seams_of(problem.cloth(), problem.row(), problem.panels)
    needed = len(made.pieces)
    if needed > 3 or made.visible:
        return
    hiding = [n for n in range(1, problem.total) if problem.gap_of(n) is not None]
    more = range(needed + 1, min(needed + 2, 4) + 1)
    counts = [
        made.drops,
        *(fewest_drops(problem, n, hiding) or made.drops for n in more),
    ]
    best = [
        min((drops + n, -n, drops) for n, drops in enumerate(counts[: allowed + 1]))
        for allowed in range(len(counts))
    ]
    for allowed, (_, extra, drops) in enumerate(best):
        again = seams_of(problem.cloth(), problem.row(), problem.panels, extra_seams=allowed)
        assert (drops, needed - extra) == (again.drops, len(again.pieces)), problem
        assert lies(problem, again), problem
        assert not again.visible, problem
        if allowed + 1 < len(best):
            assert best[allowed + 1][2] == again.drops_with_one_more, problem


def check_pairs(problem: Grid) -> None:
    """Pairs take no fewer drops than their cloth allows, nor more than with left panels apart."""
    one_side = seams_of(problem.cloth(), problem.row(), problem.panels // 2, extra_seams=1)
    made = seams_of(problem.cloth(), problem.row(), problem.panels, extra_seams=1, pairs=True)
    plain = seams_of(problem.cloth(), problem.row(), problem.panels, pairs=True)
    assert made.drops <= plain.drops, problem
    assert lies(problem, made), problem
    assert lies(problem, plain), problem
    if len(made.pieces) == len(one_side.pieces):
        assert made.drops <= 2 * one_side.drops, problem
    if made.visible or len(made.pieces) > 3:
        return
    hiding = [n for n in range(1, problem.total) if problem.gap_of(n) is not None]
    least = fewest_drops(problem, len(made.pieces), hiding, pairs=True)
    most = fewest_drops(problem, len(made.pieces), hiding, pairs=True, apart=True)
    assert (least or 0) <= made.drops, problem
    assert len(made.pieces) == len(plain.pieces) or made.drops <= (most or NO_WAY), problem


def pair_shares(problem: Grid, widths: tuple[int, ...]) -> bool:
    """Whether a drop holds one piece of a pair's right panel and the same of its left one."""
    pieces = len(widths)
    cuts = [Cut(problem.width, problem.repeat, widths, phase) for phase in range(problem.repeat)]
    return any(
        cut.laid(tuple(int(n % pieces == shared) for n in range(2 * pieces)))
        for cut in cuts
        if all(cut.places(n) for n in range(pieces))
        for shared in range(pieces)
    )
