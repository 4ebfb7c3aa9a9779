"""The fewest drops that a window's panels take of plain cloth when any of their pieces may share.

`pattern_packing` does the same for cloth with a pattern. `drop_sharing` has the ways to share that
cover nearly every window. Where a panel has more pieces than its width alone asks for, other ways
may save more: pieces of several panels and of several kinds mixed, as in {1, 1}, {0, 2}, {0, 2} for
a pair. All are tried here.

Terminology
-----------
filling
    What one drop holds: how often each piece of a panel, by its number from the leading edge.
box
    For each seam the interval it stands in: from its first place to its last.
partial
    A piece of which at least one lies on a drop with another. Every other piece has its own drop.

The search
----------
`fewer_drops` goes through the boxes, each seam in turn from the farthest interval on. In a box a
piece is as narrow as its seams can make it, and a filling as narrow as they can make all of it
together: with the fillings that may fit so, `_Box.least_drops` packs all pieces. Few boxes can save
a drop even so. In those the partials are chosen, the fewest first, and their drops filled one after
the other: the fillings taken are linear bounds on the seams, and `bounds` says whether any seams
keep to all of them. So no plan is missed, of those within the limits below.

Limits, past which the plan is what it is without this search: `MOST_PIECES` a panel, `MOST_BOXES`
(the farthest seams come first, so it is the partials at the return edge that are tried), and
`MOST_ON_A_DROP`. Of more panels than `MOST_STATES` allows a few are packed, all others like them.
An inner piece isn't seamed twice in one gap: that would sew in a sliver.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from itertools import combinations, islice, pairwise
from math import ceil
from typing import NamedTuple

from drapetemplate.planning.bounds import Bound, least_point
from drapetemplate.planning.seam_search import PanelSizes, SeamCosts

MOST_PIECES = 8
"""A panel."""
MOST_BOXES = 300
"""Tried for one number of pieces."""
MOST_ON_A_DROP = 6
MOST_STATES = 7000
"""Of pieces still to pack, in one box: panels and one to the power of pieces."""
MOST_FITTED = 200
"""Times that one box asks for the places of its seams."""
FEW_PANELS = (12, 6, 4, 2, 1)
"""Of a window of too many panels so many are packed at once."""

Filling = tuple[int, ...]
Place = int | Fraction
"""Of a seam: whole units, but for one that the fill of a drop settles."""


class PackedDrops(NamedTuple):
    """Pieces on one drop, by their numbers, and how many drops hold these.

    `left` says whether they must be of left panels or must not; None where they may be of any.
    """

    pieces: tuple[int, ...]
    times: int
    left: bool | None = None


class PackedPlan(NamedTuple):
    """Where a panel's seams stand, and every drop of the window.

    `skew` is where a pattern's seams stand on the cloth, if the drops ask for one.
    """

    seams: Sequence[Place]
    drops: tuple[PackedDrops, ...]
    skew: int | None = None

    @property
    def drop_count(self) -> int:
        """How many drops there are."""
        return sum(each.times for each in self.drops)


def fewer_drops(
    sizes: PanelSizes, hidden: SeamCosts, pieces: int, panels: int, drops: int
) -> PackedPlan | None:
    """Return the best plan of plain cloth in fewer than so many drops; None where none is found.

    `hidden` has only the places that hide a seam. The fewest drops, then the fewest partials, then
    the first of them as near the return edge as can be, then the next; then each seam, from the
    leading edge on, in the farthest interval and there as near its start as the drops let it.
    """
    if pieces > MOST_PIECES:
        return None
    few = panels
    if (panels + 1) ** pieces > MOST_STATES:
        few = next(n for n in FEW_PANELS if n < panels and (n + 1) ** pieces <= MOST_STATES)
    # Of a few panels as many as would save a drop of the whole window.
    worst = _Rank(ceil(Fraction(drops * few, panels)), 0, ())
    if (worst.drops - 1) * sizes.width < few * (sizes.panel + 2 * sizes.seam * (pieces - 1)):
        return None
    best: tuple[_Rank, PackedPlan] | None = None
    for seams in islice(_boxes(sizes, hidden, pieces), MOST_BOXES):
        found = _Box(sizes, seams, few).better_than(best[0] if best else worst)
        best = found or best
    if best is None:
        return None
    plan = best[1]
    if few < panels:
        plan = _for_all(sizes, plan, few, panels)
    return plan if plan.drop_count < drops else None


def _boxes(
    sizes: PanelSizes, hidden: SeamCosts, pieces: int
) -> Iterator[tuple[tuple[int, int], ...]]:
    """Yield each way to put every seam in an interval: the first and last place of each."""
    end_reach, inner_reach = sizes.width - sizes.seam, sizes.width - 2 * sizes.seam
    reaches = (end_reach, *(inner_reach,) * (pieces - 2), end_reach)
    # The nearest place of each seam from which the pieces after it reach the panel's end.
    nearest = [sizes.panel]
    for reach in reversed(reaches[1:]):
        places = hidden.first_places(nearest[-1] - reach, sizes.panel)
        if not places:
            return iter(())
        nearest.append(places[0][0])
    nearest.reverse()

    def place(seams: tuple[tuple[int, int], ...]) -> Iterator[tuple[tuple[int, int], ...]]:
        n = len(seams)
        first, last = seams[-1] if seams else (0, 0)
        if n == pieces - 1:
            narrowed = _narrowed(seams, reaches, sizes.panel)
            if all(first <= last for first, last in narrowed):
                yield narrowed
            return
        for interval in hidden.last_places(last + reaches[n]):
            if (seams and interval.start <= first) or interval.last < nearest[n]:
                break
            yield from place((*seams, (interval.start, interval.last)))

    return place(())


def _narrowed(
    seams: Sequence[tuple[int, int]], reaches: Sequence[int], panel: int
) -> tuple[tuple[int, int], ...]:
    """Return each seam's places without those from which the pieces after it don't reach."""
    narrowed, after = [], panel
    for (first, last), reach in zip(reversed(seams), reversed(reaches), strict=False):
        after = max(first, after - reach)
        narrowed.append((after, last))
    return tuple(narrowed[::-1])


class _Rank(NamedTuple):
    """How good a packing is, less being better: `places` are the partials' numbers, negative."""

    drops: int
    partials: int
    places: tuple[int, ...]


class _Box:
    """The panels of a window with each seam somewhere in its interval."""

    def __init__(
        self, sizes: PanelSizes, seams: Sequence[tuple[Place, Place]], panels: int
    ) -> None:
        self.sizes, self.seams, self.panels = sizes, seams, panels
        self.pieces = len(seams) + 1
        self._least: dict[Filling, int] = {(0,) * self.pieces: 0}

    @cached_property
    def fillings(self) -> list[Filling]:
        """Every filling that some seams of the box let a drop hold, those that hold most first."""
        return sorted(self._fillings(), key=lambda filling: (-sum(filling), filling))

    @cached_property
    def narrowest(self) -> list[Place]:
        """The least that each piece can be, whatever the others are."""
        seam = self.sizes.seam
        firsts = [first for first, _ in self.seams] + [self.sizes.panel - seam]
        lasts = [seam] + [last for _, last in self.seams]
        return [first - last + 2 * seam for first, last in zip(firsts, lasts, strict=True)]

    @cached_property
    def _widest_first(self) -> list[int]:
        """The pieces in the order in which they are packed: the widest fit in the fewest ways."""
        return sorted(range(self.pieces), key=lambda n: -self.narrowest[n])

    @cached_property
    def _fullest(self) -> dict[int, list[Filling]]:
        """By the widest piece of a filling, those to which none as narrow could be added."""
        held = set(self.fillings)
        fullest: dict[int, list[Filling]] = {n: [] for n in range(self.pieces)}
        for filling in self.fillings:
            rank = next(rank for rank, n in enumerate(self._widest_first) if filling[n])
            if not any(
                (*filling[:n], filling[n] + 1, *filling[n + 1 :]) in held
                for n in self._widest_first[rank:]
            ):
                fullest[self._widest_first[rank]].append(filling)
        return fullest

    def at_least(self) -> int:
        """Return a number of drops that all pieces take at least, each as narrow as it can be."""
        return drops_at_least(self.narrowest, self.panels, self.sizes.width)

    def bound(self, filling: Filling) -> Bound:
        """Return the bound on the seams with which a drop holds this filling."""
        sizes, last = self.sizes, self.pieces - 1
        allowances = sum(
            count * sizes.seam * ((n > 0) + (n < last)) for n, count in enumerate(filling)
        )
        factors = tuple(before - after for before, after in pairwise(filling))
        return Bound(factors, sizes.width - allowances - filling[last] * sizes.panel)

    def spare(self, filling: Filling, *, best: bool) -> Place:
        """Return what a drop has left over beside a filling, with the best or worst of seams."""
        factors, most = self.bound(filling)
        return most - sum(
            factor * (places[0] if (factor > 0) == best else places[1])
            for factor, places in zip(factors, self.seams, strict=True)
        )

    def _fillings(self) -> list[Filling]:
        """Return every filling that some seams of the box let a drop hold."""
        fillings: list[Filling] = []

        def add(filling: list[int], first: int, held: int) -> None:
            for n in range(first, self.pieces):
                if filling[n] < self.panels and held < MOST_ON_A_DROP:
                    filling[n] += 1
                    if held == 0 or self.spare(tuple(filling), best=True) >= 0:
                        fillings.append(tuple(filling))
                        add(filling, n, held + 1)
                    filling[n] -= 1

        add([0] * self.pieces, 0, 0)
        return fillings

    def least_drops(self, left: Filling) -> int:
        """Return the fewest drops for the pieces left, if every filling fits that may."""
        least = self._least.get(left)
        if least is None:
            first = next(n for n in self._widest_first if left[n])
            least = 1 + min(
                self.least_drops(
                    tuple(max(0, n - count) for n, count in zip(left, filling, strict=True))
                )
                for filling in self._fullest[first]
            )
            self._least[left] = least
        return least

    def better_than(self, rank: _Rank) -> tuple[_Rank, PackedPlan] | None:
        """Return the best packing of a lower rank than this, with its rank; None if none is."""
        panels, pieces = self.panels, self.pieces
        if self.at_least() >= rank.drops + (rank.partials > 0):
            return None
        least = self.least_drops((panels,) * pieces)
        fitted = _Fitting(self)
        for drops in range(least, rank.drops + 1):
            for size in range(1, pieces + 1):
                for partials in sorted(combinations(range(pieces), size), reverse=True):
                    new = _Rank(drops, size, tuple(-n for n in partials))
                    if new >= rank:
                        break
                    left = tuple(panels if n in partials else 0 for n in range(pieces))
                    shared = drops - panels * (pieces - size)
                    if shared > 0 and self.least_drops(left) <= shared:
                        packed = fitted.packed(left, shared)
                        if packed is not None:
                            return new, self._plan(partials, *packed)
        return None

    def _plan(
        self, partials: Sequence[int], seams: tuple[Fraction, ...], fillings: Sequence[Filling]
    ) -> PackedPlan:
        """Return the plan of pieces that have their own drops, and partials on these fillings."""
        own = [PackedDrops((n,), self.panels) for n in range(self.pieces) if n not in partials]
        return PackedPlan(seams, (*own, *_listed(fillings)))


def _listed(fillings: Sequence[Filling]) -> Iterator[PackedDrops]:
    """Yield fillings by their pieces' numbers, those alike together, what holds most first."""
    for filling in sorted(set(fillings), key=lambda filling: (-sum(filling), filling)):
        pieces = tuple(n for n, count in enumerate(filling) for _ in range(count))
        yield PackedDrops(pieces, fillings.count(filling))


class _Fitting:
    """One box's drops being filled, with the seams that the fillings taken leave."""

    def __init__(self, box: _Box) -> None:
        self.box = box
        last = len(box.seams) - 1
        self.edges = [
            Bound(tuple(sign * (n == i) for i in range(last + 1)), sign * place)
            for n, places in enumerate(box.seams)
            for sign, place in zip((-1, 1), places, strict=True)
        ]
        self.edges += [
            box.bound(tuple(int(n == i) for i in range(box.pieces))) for n in range(box.pieces)
        ]
        self.points: dict[frozenset[Filling], tuple[Fraction, ...] | None] = {}
        self.tight: dict[Filling, bool] = {}
        self.failed: set[tuple[Filling, int, frozenset[Filling], int]] = set()

    def packed(
        self, left: Filling, drops: int, taken: tuple[Filling, ...] = ()
    ) -> tuple[tuple[Fraction, ...], tuple[Filling, ...]] | None:
        """Return the seams, and the fillings that hold all that is left in so many drops more.

        Of the fillings taken only those that bound the seams matter for the rest, and which may
        come next: what has failed after some fails after all that come to the same.
        """
        box = self.box
        if not any(left):
            seams = self._point(taken)
            return None if seams is None else (seams, taken)
        first = next(n for n, count in enumerate(left) if count)
        # Drops that begin with the same piece are filled in one order, since any would do.
        again = bool(taken) and taken[-1][first] > 0 and not any(taken[-1][:first])
        start = box.fillings.index(taken[-1]) if again else 0
        state = (left, drops, self._bounding(taken), start)
        if state in self.failed:
            return None
        for filling in box.fillings[start:]:
            if not filling[first] or not _within(filling, left):
                continue
            rest = _less(left, filling)
            if box.least_drops(rest) < drops and self._point((*taken, filling)) is not None:
                found = self.packed(rest, drops - 1, (*taken, filling))
                if found is not None:
                    return found
        self.failed.add(state)
        return None

    def _bounding(self, fillings: Sequence[Filling]) -> frozenset[Filling]:
        """Return those of these fillings that a drop doesn't hold wherever the seams are."""
        for filling in fillings:
            if filling not in self.tight:
                self.tight[filling] = self.box.spare(filling, best=False) < 0
        return frozenset(filling for filling in fillings if self.tight[filling])

    def _point(self, fillings: Sequence[Filling]) -> tuple[Fraction, ...] | None:
        """Return the seams with which drops hold these fillings; None if no seams do."""
        tight = self._bounding(fillings)
        if tight not in self.points:
            if len(self.points) >= MOST_FITTED:
                return None
            bounds = [*self.edges, *map(self.box.bound, sorted(tight))]
            self.points[tight] = least_point(bounds, len(self.box.seams))
        return self.points[tight]


def drops_at_least(pieces: Sequence[Place], panels: int, width: int) -> int:
    """Return a number of drops that so many panels' pieces take at least, by their widths.

    Of pieces that a drop can't hold two of, each has its own, and the rest must fit in beside
    them or have more (Martello and Toth's second bound, from memory).
    """
    most = 0
    for limit in {0, *(piece for piece in pieces if 2 * piece <= width)}:
        alone = sum(piece > width - limit for piece in pieces)
        large = [piece for piece in pieces if width - limit >= piece > width - piece]
        small = sum(piece for piece in pieces if limit <= piece <= width - piece)
        over = panels * (small - len(large) * width + sum(large))
        over = max(0, -(-over // width))
        most = max(most, panels * (alone + len(large)) + over)
    return most


def _within(filling: Filling, left: Filling) -> bool:
    """Return whether so many pieces are left."""
    return all(count <= most for count, most in zip(filling, left, strict=True))


def _less(left: Filling, filling: Filling) -> Filling:
    """Return what is left without a filling."""
    return tuple(most - count for count, most in zip(filling, left, strict=True))


def _for_all(sizes: PanelSizes, plan: PackedPlan, few: int, panels: int) -> PackedPlan:
    """Return a plan of a few panels for all of them: so often, and what is over with its seams."""
    times, over = divmod(panels, few)
    drops = {each.pieces: each.times * times for each in plan.drops}
    if over:
        box = _Box(sizes, [(seam, seam) for seam in plan.seams], over)
        found = box.better_than(_Rank(over * box.pieces + 1, 0, ()))
        for each in found[1].drops if found else ():
            drops[each.pieces] = drops.get(each.pieces, 0) + each.times
    return PackedPlan(plan.seams, tuple(PackedDrops(*each) for each in drops.items()))
