"""Where the seams of a panel stand, and its pieces on their drops, with a motif at a settled place.

`pattern_folds` makes every front fold show the same place of the pattern; here that place is the
motif's centre. A panel's raw edge then lies at a settled place of the cloth, and so does every
piece: where seams stand settles where each piece begins.

A left panel's leading edge is at its right. What lies some way from the left selvage of a right
panel's cloth, counted away from its leading edge, lies so far from the right selvage in a left
panel, and the motif seldom is as far from the one selvage as from the other: so pieces of left and
right panels begin at different places, each from its own selvage, with their seams at the same
places of the panel. A pair shares drops as its pieces come to fit.

The search
----------
The words are those of `seam_search`, and so are the aims but that the motif comes before drops. On
a phase each piece has one start a side, so there is one grid. Moved towards the leading edge by
less than takes a piece to its selvage, seams leave no piece less room: inner pieces begin farther
left, the last one ends where it did. So the best plan has a seam at the start of an interval or a
piece at its selvage, and no other phases are tried. Of so many pieces the plan that `best_seams`
takes is packed, and others up to `MOST_TRIED`, for fewer drops.

Where no plan hides all seams with the motif in the middle, the plan without it is taken, and the
place of the pattern nearest to the motif with which all its pieces lie on their drops.

Lengths are whole units, as in `seam_search`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import NamedTuple

from drapetemplate.planning.drop_packing import FEW_PANELS, PackedDrops, drops_at_least
from drapetemplate.planning.drop_sharing import MORE_WIDTHS, Panels
from drapetemplate.planning.pattern_packing import MOST_STATES, Laying, Rank
from drapetemplate.planning.seam_search import (
    PanelSizes,
    SeamCosts,
    SeamGrid,
    best_seams,
    cheapest_grids,
)

MOST_TRIED = 400
"""Ways to put so many seams, of which `MOST_PACKED` are packed."""
MOST_PACKED = 12


@dataclass(frozen=True, slots=True)
class Motif:
    """A motif on its cloth and on the panel: `at` from the left selvage, `fold` from the raw edge.

    `fold` is the middle of the first front fold, from the edge beside the leading edge. A
    `mirrored` cloth has the motif as far from its right selvage as from its left one.
    """

    at: int
    fold: int
    mirrored: bool


class Side(NamedTuple):
    """Panels of one side: whether `left` ones, and how many `panels`.

    `edge` is where their raw edge beside the leading edge lies on the cloth, from the selvage on
    that side.
    """

    left: bool
    panels: int
    edge: int

    def start(self, place: int, repeat: int) -> int:
        """Return where a piece begins whose raw edge is at a place: as near its selvage as can be.

        >>> Side(left=False, panels=1, edge=3).start(place=45, repeat=10)
        8
        """
        return (self.edge + place) % repeat


class LaidPiece(NamedTuple):
    """One piece on its drop: its number in its panel, and where it begins from its selvage."""

    number: int
    left: bool
    start: int
    width: int


class MotifPlan(NamedTuple):
    """Seams of every panel, and the pieces of each drop; `sides` say where they begin.

    `off` is how far the motif's centre lies past the middle of a front fold, counted away from the
    leading edge, for each of `sides`. A piece's number in `drops` counts on through the sides.
    """

    seams: tuple[int, ...]
    sides: tuple[Side, ...]
    off: tuple[int, ...]
    drops: tuple[PackedDrops, ...]

    def starts(self, sizes: PanelSizes, side: Side) -> tuple[int, ...]:
        """Return where each piece of a side begins, from its own selvage."""
        return tuple(side.start(place, sizes.repeat) for place in _edges(sizes, self.seams))

    def laid(self, sizes: PanelSizes, kinds: Sequence[int]) -> tuple[LaidPiece, ...]:
        """Return the pieces of one drop, which holds them in this order from its left selvage.

        Where all are of left panels they lie as near to the right selvage as they can.
        """
        widths = sizes.widths(self.seams)
        of = [(self.sides[kind // len(widths)], kind % len(widths)) for kind in kinds]
        from_right = all(side.left for side, _ in of)
        pieces, end = [], 0
        for side, number in reversed(of) if from_right else of:
            start, width = self.starts(sizes, side)[number], widths[number]
            if side.left and not from_right:
                start = sizes.width - start - width
            at = end + (start - end) % sizes.repeat
            end = at + width
            own = sizes.width - end if side.left and not from_right else at
            pieces.append(LaidPiece(number, side.left, own, width))
        return tuple(pieces)


def sides_of(sizes: PanelSizes, motif: Motif, panels: Panels, shift: int = 0) -> tuple[Side, ...]:
    """Return a window's sides, with the place `shift` past the motif in the middle of its folds."""
    shown = motif.at + shift
    from_right = shown if motif.mirrored else sizes.width - shown
    near = Side(left=False, panels=panels.count, edge=(shown - motif.fold) % sizes.repeat)
    left = Side(left=True, panels=panels.count, edge=(from_right - motif.fold) % sizes.repeat)
    if panels.pairs:
        half = panels.count // 2
        return near._replace(panels=half), left._replace(panels=half)
    return (left,) if panels.left else (near,)


def centred(
    sizes: PanelSizes, hidden: SeamCosts, motif: Motif, panels: Panels, least_pieces: int
) -> MotifPlan | None:
    """Return the best plan with every seam hidden and the motif in the middle; None if none has.

    Of up to two pieces more than the least.
    """
    sides = sides_of(sizes, motif, panels)
    for pieces in range(least_pieces, least_pieces + MORE_WIDTHS + 1):
        grids = [*_grids(sizes, hidden, pieces, sides)]
        _, searched = cheapest_grids(hidden, grids, sizes.panel, 0)
        if searched:
            seams = best_seams(hidden, searched, sizes.panel, 0)
            ways = _ways(sizes, hidden, [each.grid for each in searched])
            return _packed(sizes, sides, (0,) * len(sides), seams, ways)
    return None


def centred_in_sight(
    sizes: PanelSizes,
    everywhere: SeamCosts,
    motif: Motif,
    panels: Panels,
    pieces: int,
    without: Sequence[int],
) -> MotifPlan | None:
    """Return the best plan with the motif in the middle that costs no more than one `without` it.

    `everywhere` has every place; `without` are that plan's seams. None where it costs more.
    """
    sides = sides_of(sizes, motif, panels)
    most = sum(
        cost
        for place in without
        for start, end, cost in zip(*everywhere, strict=True)
        if start <= place <= end
    )
    grids = _grids(sizes, everywhere, pieces, sides)
    cost, searched = cheapest_grids(everywhere, grids, sizes.panel, most)
    if not searched:
        return None
    seams = best_seams(everywhere, searched, sizes.panel, cost)
    return _packed(sizes, sides, (0,) * len(sides), seams)


def off_centre(
    sizes: PanelSizes, motif: Motif, panels: Panels, seams: tuple[int, ...]
) -> MotifPlan:
    """Return the plan with these seams and the motif as near the middle as its pieces allow.

    The same place of the pattern is in the middle on both panels of a pair; only where no place
    serves both is each as near as it can be.
    """
    shift = _least_shift(sizes, motif, panels, seams, None)
    if shift is not None:
        sides = sides_of(sizes, motif, panels, shift)
        shifts = [shift] * len(sides)
    else:
        both = range(len(sides_of(sizes, motif, panels)))
        shifts = [_least_shift(sizes, motif, panels, seams, n) or 0 for n in both]
        sides = tuple(sides_of(sizes, motif, panels, shifts[n])[n] for n in both)
    # With a place past the motif in the middle the motif is short of it, but in a left panel, which
    # runs the other way over a cloth that isn't mirrored.
    off = tuple(
        shift if side.left and not motif.mirrored else -shift
        for side, shift in zip(sides, shifts, strict=True)
    )
    return _packed(sizes, sides, off, seams)


def _least_shift(
    sizes: PanelSizes, motif: Motif, panels: Panels, seams: Sequence[int], only: int | None
) -> int | None:
    """Return the least shift with which the pieces of both sides, or `only` one, lie on drops."""
    widths, places = sizes.widths(seams), _edges(sizes, seams)
    repeat = sizes.repeat
    shifts = {0}
    for side in sides_of(sizes, motif, panels):
        for place, width in zip(places, widths, strict=True):
            start = side.start(place, repeat)
            for end in (0, sizes.width - width):  # the piece at one selvage or at the other
                shifts |= {end - start, start - end}

    def nearest(shift: int) -> int:
        past = shift % repeat
        return min(past, past - repeat, key=abs)

    for shift in sorted(map(nearest, shifts), key=lambda n: (abs(n), n)):
        sides = sides_of(sizes, motif, panels, shift)
        if all(
            side.start(place, repeat) + width <= sizes.width
            for side in (sides if only is None else sides[only : only + 1])
            for place, width in zip(places, widths, strict=True)
        ):
            return shift
    return None


def _edges(sizes: PanelSizes, seams: Sequence[int]) -> tuple[int, ...]:
    """Return where each piece begins on the panel, its seam allowance included."""
    return (0, *(seam - sizes.seam for seam in seams))


def _grids(
    sizes: PanelSizes, costs: SeamCosts, pieces: int, sides: Sequence[Side]
) -> Iterator[SeamGrid]:
    """Yield every grid that may hold the best plan of so many pieces with the motif in place."""
    width, seam, repeat, panel = sizes.width, sizes.seam, sizes.repeat, sizes.panel
    first = width - max(side.start(0, repeat) for side in sides)
    if pieces == 1:
        yield SeamGrid(0, 1, (first,))
        return
    phases = {start % repeat for start in costs.cheaper_from()}
    phases |= {(seam - side.edge) % repeat for side in sides}  # pieces begin at their selvage
    for phase in sorted(phases):
        room = width - max(side.start(phase - seam, repeat) for side in sides)
        ends_at = first - seam - (first - seam - phase) % repeat
        inner = room - 2 * seam
        inner -= inner % repeat
        last = room - seam - (room - seam - panel + phase) % repeat
        if ends_at > 0 and last > 0 and (inner > 0 or pieces == 2):
            yield SeamGrid(phase, repeat, (ends_at, *(inner,) * (pieces - 2), last))


def _ways(
    sizes: PanelSizes, hidden: SeamCosts, grids: Sequence[SeamGrid]
) -> Iterator[tuple[int, ...]]:
    """Yield every way to put the seams on these grids, each in an interval of its own."""

    def place(
        grid: SeamGrid, seams: tuple[int, ...], starts: tuple[int, ...]
    ) -> Iterator[tuple[int, ...]]:
        to_put = len(grid.reaches) - 1 - len(seams)
        if to_put == 0:
            yield seams
            return
        reach = (seams[-1] if seams else 0) + grid.reaches[len(seams)]
        nearest = sizes.panel - sum(grid.reaches[-to_put:])
        for interval in hidden.last_places(reach, grid.phase, grid.repeat):
            if (seams and interval.start <= starts[-1]) or interval.last < nearest:
                break
            for seam in range(interval.last, interval.start - 1, -grid.repeat):
                if seam >= nearest:
                    yield from place(grid, (*seams, seam), (*starts, interval.start))

    for grid in grids:
        yield from place(grid, (), ())


def _packed(
    sizes: PanelSizes,
    sides: tuple[Side, ...],
    off: tuple[int, ...],
    seams: tuple[int, ...],
    ways: Iterable[tuple[int, ...]] = (),
) -> MotifPlan:
    """Return the plan in the fewest drops: with these seams, or in one of the `ways` of fewer."""
    pieces, count = len(seams) + 1, sides[0].panels
    kinds = pieces * len(sides)
    alone = tuple(PackedDrops((n,), count) for n in range(kinds))
    few = next(
        (n for n in (count, *FEW_PANELS) if n <= count and (n + 1) ** kinds <= MOST_STATES[1]), None
    )
    if few is None:
        return MotifPlan(seams, sides, off, alone)
    best: tuple[Rank, _BothSides] | None = None
    most, packed = kinds * few, 0
    for places in (seams, *islice(ways, MOST_TRIED)):
        if best is not None:
            if packed == MOST_PACKED or places == seams:
                continue
            if drops_at_least(sizes.widths(places), few * len(sides), sizes.width) >= most:
                continue
        packed += 1
        laying = _BothSides(sizes, places, sides, few)
        rank = laying.rank(most if best is None else most - 1, places)
        if rank is not None:
            best, most = (rank, laying), rank.drops
    if best is None:  # never, since each piece may have a drop to itself
        return MotifPlan(seams, sides, off, alone)
    rank, laying = best
    partials = [-n for n in rank.places]
    drops = _for_all(laying, partials, count)
    return MotifPlan(tuple(laying.seams), sides, off, drops)


def _for_all(laying: _BothSides, partials: Sequence[int], count: int) -> tuple[PackedDrops, ...]:
    """Return the drops of a few panels for all of them: so often, and what is over likewise."""
    times, over = divmod(count, laying.panels)
    drops = {each._replace(times=1): each.times * times for each in laying.plan(partials).drops}
    if over:
        rest = _BothSides(laying.sizes, laying.seams, laying.all_sides, over)
        for each in rest.plan(partials).drops:
            drop = each._replace(times=1)
            drops[drop] = drops.get(drop, 0) + each.times
    return tuple(drop._replace(times=n) for drop, n in drops.items())


class _BothSides(Laying):
    """Panels of all sides with their seams settled, laid from the left selvage.

    A left panel's pieces count on from those of the other side: on one cloth they are kinds of
    their own, each with its place in the pattern.
    """

    def __init__(
        self, sizes: PanelSizes, seams: Sequence[int], sides: Sequence[Side], panels: int
    ) -> None:
        super().__init__(sizes, seams, 0, panels, 1)
        self.all_sides = sides
        widths, places = self.widths, _edges(sizes, seams)
        self.widths = widths * len(sides)
        self.pieces = len(self.widths)
        starts: list[int] = []
        for side in sides:
            for place, width in zip(places, widths, strict=True):
                start = side.start(place, sizes.repeat)
                starts.append(sizes.width - start - width if side.left else start)
        self.starts = tuple(starts)
