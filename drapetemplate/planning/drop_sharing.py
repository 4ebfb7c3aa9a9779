"""Which pieces of a window's panels share a drop, and so which of all plans of its seams is best.

A partial is a piece that is cut beside another from one drop. A drop is slit once at most, so two
share it, and of each panel these may:

- none (`Sharing` "none"): a drop to each piece;
- one ("like"), with the same piece of the window's next panel: a drop less for each two panels;
- two ("each other"), both of one panel: a drop less for each panel. Plain cloth only, since a
  pattern puts different pieces at different places of the drop.

How a plan is chosen (the aims are in `seams`)
----------------------------------------------
`hide_all` goes through numbers of pieces and kinds of sharing from the fewest drops on, of as
many drops from the fewest pieces on, and takes the first that hides every seam. `show_fewest`
does the same for the least number of pieces where none does.

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
from operator import attrgetter
from typing import Literal, NamedTuple, get_args

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

Sharing = Literal["none", "like", "each other"]
"""How the pieces of a window's panels share drops, as told above."""
SHARINGS: tuple[Sharing, ...] = get_args(Sharing)


class SeamChoice(NamedTuple):
    """The plan chosen: where a panel's seams stand, how its pieces share drops, and which do.

    Pieces count from the leading edge, from 0.
    """

    seams: tuple[int, ...]
    sharing: Sharing
    partials: tuple[int, ...]


def drops_of(panels: int, pieces: int, sharing: Sharing) -> int:
    """Return the number of drops that so many panels of so many pieces take.

    >>> [drops_of(3, 2, sharing) for sharing in ("none", "like", "each other")]
    [6, 5, 3]
    """
    saved = {"none": 0, "like": panels // 2, "each other": panels}
    return panels * pieces - saved[sharing]


def least_drops(sizes: PanelSizes, pieces: int, panels: int) -> int:
    """Return the fewest drops of panels of so many pieces, wherever their seams fall."""
    if pieces == 1:
        reach = sizes.widest_of_two(0)
    else:
        # The first piece shares and ends as far left on its drop as it can: that leaves the
        # others no less to span than where another piece shares.
        reach = sizes.widest_of_two(sizes.slack) + (pieces - 1) * sizes.inner_reach + sizes.slack
    return drops_of(panels, pieces, "like" if sizes.panel <= reach else "none")


def hide_all(
    sizes: PanelSizes, hidden: SeamCosts, least_pieces: int, panels: int
) -> SeamChoice | None:
    """Return the best plan that hides every seam, of up to two pieces more; None if none does.

    `hidden` has only the places that hide a seam, all at a cost of 0.
    """
    plans = sorted(
        (drops_of(panels, pieces, sharing), pieces, SHARINGS.index(sharing))
        for pieces in range(least_pieces, least_pieces + MORE_WIDTHS + 1)
        for sharing in SHARINGS
    )
    searched: dict[int, list[SearchedGrid]] = {}
    for _, pieces, index in plans:
        if pieces not in searched:
            grids = grids_to_try(sizes, hidden, pieces)
            searched[pieces] = cheapest_grids(hidden, grids, sizes.panel, 0)[1]
        # Partials are narrower, so where full pieces make no panel they don't either.
        if not searched[pieces]:
            continue
        sharing, choice = SHARINGS[index], None
        if sharing == "none":
            choice = SeamChoice(best_seams(hidden, searched[pieces], sizes.panel, 0), "none", ())
        elif sharing == "like" and panels > 1:
            choice = _with_like(sizes, hidden, searched[pieces], 0)
        elif sharing == "each other" and pieces > least_pieces and sizes.repeat == 1:
            choice = _with_each_other(sizes, hidden, pieces)
        if choice is not None:
            return choice
    return None


def show_fewest(sizes: PanelSizes, everywhere: SeamCosts, pieces: int, panels: int) -> SeamChoice:
    """Return the best plan of so many pieces, which make the panel if seams stand anywhere.

    `everywhere` has every place from edge to edge, so there is such a plan.
    """
    grids = grids_to_try(sizes, everywhere, pieces)
    cost, searched = cheapest_grids(everywhere, grids, sizes.panel)
    choice = _with_like(sizes, everywhere, searched, cost) if panels > 1 else None
    return choice or SeamChoice(best_seams(everywhere, searched, sizes.panel, cost), "none", ())


def _with_like(
    sizes: PanelSizes, costs: SeamCosts, searched: list[SearchedGrid], budget: int
) -> SeamChoice | None:
    """Return the best plan with a piece that shares with its like, within budget; None if none.

    `searched` are the grids that make the panel for that much if no piece shares.
    """
    panel, pieces, reach = sizes.panel, len(searched[0].grid.reaches), sizes.shared_inner_reach
    mirrored = costs.mirrored(panel)
    to_leading = [
        costs_to_go(mirrored, grid.mirrored(panel), panel, budget) for grid, _ in searched
    ]
    for partial in reversed(range(pieces)):
        if partial in {0, pieces - 1}:
            grids = list(grids_to_try(sizes, costs, pieces, partial))
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
            return SeamChoice(best_seams(costs, sharing, panel, budget), "like", (partial,))
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


def _with_each_other(sizes: PanelSizes, hidden: SeamCosts, pieces: int) -> SeamChoice | None:
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
    return SeamChoice(close_behind(starts, reaches, panel), "each other", partials)


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
