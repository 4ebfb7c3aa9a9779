"""Which pieces of a window's panels share a drop, and so which of all plans of its seams is best.

A partial is a piece that is cut beside another from one drop. Of a panel there may be

- none: a drop to each piece;
- one, with the same piece of the window's next panels, as many as fit: `PanelSizes.widest_alike`.
  With a pattern they start whole repeats from each other. A pair's left panels are cut as mirror
  images, so that their pieces lie whole repeats from the other selvage: an even number may fit as
  well with one half of them from either selvage, each half on one half of the cloth (not inner
  pieces: which can do so depends on the skew);
- two, both of one panel: a drop less for each panel (plain cloth);
- any number, of several panels mixed: `drop_packing` tries them all for plain cloth, and
  `pattern_packing` for cloth whose pattern must match at every seam.

A panel of the fewest pieces that make it has one partial at most: if two of its pieces went on one
drop side by side, they could be one piece. So only where it has more is the last kind looked for.

How a plan is chosen (the aims are in `seams`)
----------------------------------------------
`hide_all` takes the fewest pieces that hide every seam, and more where each more saves a drop and
the window allows so many. `show_fewest` does the same for the least number of pieces where none
hides all. Of so many pieces the kinds of sharing are tried from the fewest drops on.

One with its like is `seam_search` once more for each piece that may be it, from the return edge
on: that piece just has less to span. Two with each other are searched in `_with_each_other`:

    leading edge | full ... full | partial | full ... full : full ... | partial | full ... | return
                                                        middle seam

The pieces between an edge and its partial span all they can, and so do those from the middle seam
outwards; what is left on either side is a partial. The middle seam stands at the start of some
interval, or all seams between the partials could move there. So every interval is tried with
every number of full pieces at either edge, about (intervals) x (pieces) pairs of sides.

Lengths are whole units, and the words those of `seam_search`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from operator import attrgetter
from typing import NamedTuple

from drapetemplate.planning.drop_packing import PackedDrops, PackedPlan, fewer_drops
from drapetemplate.planning.pattern_packing import fewer_matched_drops
from drapetemplate.planning.seam_search import (
    CostToGo,
    PanelSizes,
    SeamCosts,
    SearchedGrid,
    best_seams,
    cheapest_grids,
    close_behind,
    costs_to_go,
    grids_to_try,
)

MORE_WIDTHS = 2
"""How many widths more than the least are tried for hiding every seam."""
MOST_ALIKE = 12
"""Pieces alike on one drop."""


@dataclass(frozen=True, slots=True)
class Panels:
    """All panels of a window that are planned alike: how many, its quantity included.

    Of `pairs` one half are left panels, which lie on their cloth from the other selvage; of others
    all are, or none, as `left` says. Each may have so many `extra_seams`, more than hide them,
    where each saves a drop.
    """

    count: int
    pairs: bool = False
    extra_seams: int = 0
    left: bool = False


class HiddenChoice(NamedTuple):
    """The best plan that hides every seam, and the drops if a panel may have one seam more.

    These are fewer where that seam saves one, else as many.
    """

    plan: PackedPlan
    drops_with_one_more: int


def alike_to_try(panels: int, *, pairs: bool = False) -> list[int]:
    """Return how many pieces alike may share a drop, the most first, each for fewer drops.

    Of `pairs` more may fit where fewer don't, if their number is even.

    >>> alike_to_try(panels=6)
    [6, 3, 2]
    """
    most = min(panels, MOST_ALIKE)
    return [
        n
        for n in range(most, 1, -1)
        if n == 2 or ceil(panels / (n - 1)) > ceil(panels / n) or (pairs and n % 2 == 0)
    ]


def least_drops(sizes: PanelSizes, pieces: int, panels: int) -> int:
    """Return the fewest drops of panels of the least number of pieces, wherever their seams fall.

    >>> [least_drops(PanelSizes(80, 54, 1, 1), pieces=2, panels=n) for n in (1, 2, 3)]
    [2, 4, 6]
    >>> [least_drops(PanelSizes(70, 54, 1, 1), pieces=2, panels=n) for n in (1, 2, 3)]
    [2, 3, 4]
    """
    for alike in alike_to_try(panels, pairs=sizes.pairs):
        if pieces == 1:
            reach = sizes.widest_alike(alike, 0)
        else:
            # The first piece shares and ends as far left on its drop as it can: that leaves the
            # others no less to span than where another piece shares.
            reach = sizes.widest_alike(alike, sizes.slack)
            reach += (pieces - 1) * sizes.inner_reach + sizes.slack
        if sizes.panel <= reach:
            return panels * (pieces - 1) + ceil(panels / alike)
    return panels * pieces


def hide_all(
    sizes: PanelSizes, hidden: SeamCosts, least_pieces: int, panels: Panels
) -> HiddenChoice | None:
    """Return the best plan that hides every seam, of up to two pieces more; None if none does.

    `hidden` has only the places that hide a seam, all at a cost of 0. A panel may have
    `extra_seams` besides.
    """
    for needed in range(least_pieces, least_pieces + MORE_WIDTHS + 1):
        # Partials are narrower, so where full pieces make no panel they don't either.
        grids = grids_to_try(sizes, hidden, needed)
        searched = cheapest_grids(hidden, grids, sizes.panel, 0)[1]
        if searched:
            break
    else:
        return None
    plan = _best_of(sizes, hidden, searched, panels, spread=needed > least_pieces)
    most, drops_with_one_more = plan.drop_count, plan.drop_count
    for extra in range(1, panels.extra_seams + 2):
        # A seam more saves a drop or isn't taken.
        most -= 1
        found = _packed(sizes, hidden, needed + extra, panels, most + 1)
        if found is not None:
            drops_with_one_more = most = found.drop_count
            if extra <= panels.extra_seams:
                plan = found
    return HiddenChoice(plan, drops_with_one_more)


def _best_of(
    sizes: PanelSizes,
    hidden: SeamCosts,
    searched: list[SearchedGrid],
    panels: Panels,
    *,
    spread: bool,
) -> PackedPlan:
    """Return the best plan that hides every seam, on one of these grids where none is shared.

    `spread` is true of panels of more pieces than their width alone asks for.
    """
    pieces = len(searched[0].grid.reaches)
    plan = None
    if spread and sizes.repeat == 1:
        plan = _with_each_other(sizes, hidden, pieces, panels.count)
    plan = plan or _alone_or_alike(sizes, hidden, searched, panels.count, 0)
    packed = _packed(sizes, hidden, pieces, panels, plan.drop_count) if spread else None
    return packed or plan


def _packed(
    sizes: PanelSizes, hidden: SeamCosts, pieces: int, panels: Panels, drops: int
) -> PackedPlan | None:
    """Return the best plan in fewer than so many drops that hides every seam; None if none does."""
    if sizes.repeat > 1:
        sides = 2 if panels.pairs else 1
        return fewer_matched_drops(sizes, hidden, pieces, panels.count // sides, sides, drops)
    return fewer_drops(sizes, hidden, pieces, panels.count, drops)


def show_fewest(sizes: PanelSizes, everywhere: SeamCosts, pieces: int, panels: int) -> PackedPlan:
    """Return the best plan of so many pieces, which make the panel if seams stand anywhere.

    `everywhere` has every place from edge to edge, so there is such a plan.
    """
    grids = grids_to_try(sizes, everywhere, pieces)
    cost, searched = cheapest_grids(everywhere, grids, sizes.panel)
    return _alone_or_alike(sizes, everywhere, searched, panels, cost)


def _alone_or_alike(
    sizes: PanelSizes, costs: SeamCosts, searched: list[SearchedGrid], panels: int, budget: int
) -> PackedPlan:
    """Return the best plan within budget with no partial, or with one and as many alike as fit."""
    pieces = range(len(searched[0].grid.reaches))
    for alike in alike_to_try(panels, pairs=sizes.pairs):
        found = _with_like(sizes, costs, searched, budget, alike)
        if found is not None:
            seams, partial = found
            times, over = divmod(panels, alike)
            shared = [PackedDrops((partial,) * alike, times)]
            if over:
                shared.append(PackedDrops((partial,) * over, 1))
            own = [PackedDrops((n,), panels) for n in pieces if n != partial]
            return PackedPlan(seams, (*own, *shared))
    seams = best_seams(costs, searched, sizes.panel, budget)
    return PackedPlan(seams, tuple(PackedDrops((n,), panels) for n in pieces))


def _with_like(
    sizes: PanelSizes, costs: SeamCosts, searched: list[SearchedGrid], budget: int, alike: int
) -> tuple[tuple[int, ...], int] | None:
    """Return the best seams within budget with which so many of a piece fit on a drop, and which.

    None where none do. `searched` are the grids that make the panel for that much if no piece
    shares.
    """
    panel, pieces = sizes.panel, len(searched[0].grid.reaches)
    reach = sizes.shared_inner_reach(alike)
    mirrored = costs.mirrored(panel)
    to_leading = [
        costs_to_go(mirrored, grid.mirrored(panel), panel, budget) for grid, _ in searched
    ]
    for partial in reversed(range(pieces)):
        if partial in {0, pieces - 1}:
            grids = list(grids_to_try(sizes, costs, pieces, partial, alike))
        else:
            grids = [
                grid._replace(
                    reaches=(*grid.reaches[:partial], reach, *grid.reaches[partial + 1 :])
                )
                for (grid, to_return), before in zip(searched, to_leading, strict=True)
                if _may_span(before[-1 - partial], to_return[partial], panel + reach, budget)
            ]
        _, sharing = cheapest_grids(costs, grids, panel, budget)
        if sharing:
            return best_seams(costs, sharing, panel, budget), partial
    return None


def _may_span(before: CostToGo, after: CostToGo, most: int, budget: int) -> bool:
    """Whether the seams at a piece's ends may be near enough to each other within budget.

    Each place counts from its own edge, so together they are `most` at most: the panel and what
    the piece can span. Where they aren't, no search of the whole grid could find a plan.
    """
    return any(
        cost + after.least(most - place) <= budget
        for place, cost in zip(before.places, before.costs, strict=True)
    )


class _Side(NamedTuple):
    """A panel on one side of its middle seam: full pieces at the edge, a partial, full pieces.

    `full` counts the first of these. `partial` is the partial's width, seam allowances included,
    and `end` the place where it ends. `inner` are the seams from there to the middle seam.
    """

    full: int
    partial: int
    end: int
    inner: tuple[int, ...]


class _Edge(NamedTuple):
    """How far so many full pieces at an edge reach, and where a partial next to them can end."""

    full_end: int
    partial_end: int


def _with_each_other(
    sizes: PanelSizes, hidden: SeamCosts, pieces: int, panels: int
) -> PackedPlan | None:
    """Return the best plan in which two partials of a panel share a drop; None if none does.

    The one nearer the leading edge is as near the return edge as can be, then the other is. Of
    those the two narrowest together, and of those the ones with the farthest middle seam.
    """
    panel, width = sizes.panel, sizes.width
    mirrored = hidden.mirrored(panel)
    near_edges, far_edges = _edges(sizes, hidden, pieces), _edges(sizes, mirrored, pieces)
    best: tuple[tuple[int, int, int], _Side, _Side] | None = None
    for middle in hidden.starts:
        far_sides: dict[int, list[_Side]] = {}
        for side in _sides(sizes, mirrored, far_edges, panel - middle):
            far_sides.setdefault(pieces - 2 - side.full - len(side.inner), []).append(side)
        for near_side in _sides(sizes, hidden, near_edges, middle):
            for far_side in far_sides.get(near_side.full + len(near_side.inner), ()):
                together = near_side.partial + far_side.partial
                rank = near_side.full, -far_side.full, -together
                if together <= width and (best is None or rank >= best[0]):
                    best = rank, near_side, far_side
    if best is None:
        return None
    _, near_side, far_side = best
    seams = _seams_of(near_edges, near_side)
    seams += [panel - place for place in _seams_of(far_edges, far_side)[-2::-1]]
    partials = near_side.full, pieces - 1 - far_side.full
    reaches = [width - sizes.seam, *[sizes.inner_reach] * (pieces - 2), width - sizes.seam]
    # The first is as wide as found; the second has what that leaves of the drop.
    reaches[partials[0]] -= width - near_side.partial
    reaches[partials[1]] -= near_side.partial
    starts = [hidden.starts[bisect_right(hidden.starts, place) - 1] for place in seams]
    own = [PackedDrops((n,), panels) for n in range(pieces) if n not in partials]
    placed = close_behind(starts, reaches, panel)
    return PackedPlan(placed, (*own, PackedDrops(partials, panels)))


def _edges(sizes: PanelSizes, hidden: SeamCosts, pieces: int) -> list[_Edge]:
    """Return how far 0, 1, 2 and more full pieces reach from an edge, each ending hidden."""
    full_ends, reach = [0], sizes.width - sizes.seam
    for _ in range(pieces - 2):
        place = next(hidden.last_places(full_ends[-1] + reach), None)
        if place is None or place.last <= full_ends[-1]:
            break
        full_ends.append(place.last)
        reach = sizes.inner_reach
    # A partial ends in a later interval than it begins in, or a sliver would be sewn in.
    ends = (*hidden.starts, sizes.panel)
    return [_Edge(place, ends[bisect_right(hidden.starts, place)]) for place in full_ends]


def _sides(
    sizes: PanelSizes, hidden: SeamCosts, edges: list[_Edge], middle: int
) -> Iterator[_Side]:
    """Yield every way to fill one side from the edge up to a middle seam."""
    inner: tuple[int, ...] = ()
    # The partial ends at `place`, or past it where it has to reach farther, before the next seam.
    place, after = middle, middle + 1
    while True:
        nearest = bisect_left(edges, place - sizes.width, key=attrgetter("full_end"))
        for full, edge in enumerate(edges[nearest:], nearest):
            end = max(place, edge.partial_end)
            if end >= after:
                break
            partial = end - edge.full_end + sizes.seam * (2 if full else 1)
            if partial <= sizes.width:
                yield _Side(full, partial, end, inner)
        before = hidden.first_places(place - sizes.inner_reach, place - 1)
        if not before:
            return
        after, inner = place, (place, *inner)
        place = before[0][0]


def _seams_of(edges: list[_Edge], side: _Side) -> list[int]:
    """Return all seams of a side from its edge on; the last is the middle seam."""
    return [*(edge.full_end for edge in edges[1 : side.full + 1]), side.end, *side.inner]
