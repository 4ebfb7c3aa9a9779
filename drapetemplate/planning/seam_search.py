"""Where one panel's seams can stand, and the best of all ways to place so many of them.

All lengths here are whole numbers of one unit, which `seams` makes so small that none has a part of
it left. So places can be counted, stepped along and held against a repeat without rounding.

Terminology
-----------
`seams` has the words of the trade. The search adds its own, some apart from common speech:

panel
    Here the panel's raw width alone: its flat cloth from edge to edge, side hems included.
place
    A seam line's distance from the panel's raw edge at the leading edge. 0 is that edge, and
    `panel` the other.
cost
    How bad a seam at a place is, no money: 0 where it is hidden, more where it shows
    (`SeamCosts`).
interval
    Places in a row that cost the same, first and last included.
span, reach
    A piece spans the cloth between its seam lines, or a seam line and the panel's edge, so its
    cloth is wider by its seam allowances. Its reach is the most that it can span.
phase
    What a place leaves over when divided by the repeat. Seams of patterned cloth share one.
grid
    The places of one phase, and how far each piece reaches if seams stand there (`SeamGrid`).
    Plain cloth has a repeat of one unit: one grid, of every place.
slack
    What the whole repeats between two seams leave of the cloth: less than a repeat.
skew
    Where on the cloth seams match: so far past the left selvage and a seam allowance, and whole
    repeats from there. It is measured on the cloth; the phase is measured on the panel.
cost to go
    The least that a seam and those after it cost, by the seam's place (`CostToGo`). A term of
    dynamic programming; it is the seams still to go, from the leading edge on.

The search
----------
A piece may be as narrow as one likes but only so wide. So of two plans that cost the same from
some seam on, the one with that seam nearer the leading edge leaves the pieces before it less to
span and is never worse. From the return edge backwards, `costs_to_go` keeps no more than that:
for each seam and each cost of it and those after it, the first place that it can have.
`cheapest_grids` does so for every grid and keeps those of least cost. `best_seams` then goes
forwards: each seam in turn takes the farthest interval from which the rest costs no more than is
left, and in the end each moves back to the start of its interval, or as near as the next piece
reaches.

A step from a seam to the one before is a bisection among the intervals, and a few on from there
until one hides it: of g intervals n pieces take about n k log g steps a grid, with k different
costs to go (1 where every seam hides). Plain cloth has one grid, a pattern two at most for each
interval. `tests/benchmarks/test_seams_cost.py` holds the growth.

Patterned cloth
---------------
A piece between two seams spans `inner_reach` at most, the whole repeats in the cloth less two
allowances. A skew over the slack would cost every such piece a repeat and gain nothing. Up to the
slack it is room that the first piece has and the last one hasn't: with a drop to each piece
    first <= seam + inner_reach + skew,   last <= width - seam - skew.
Of all grids those are tried where a seam stands at the start of an interval, or the last piece
spans all it can: any other plan moves towards the leading edge, skew and all, to one of them. On
a grid two skews do: they give the one or the other end piece all it can have.

One panel in numbers
--------------------
In 1/8 in: a panel 75 in wide with side hems of 3 in is 648 raw, of cloth 54 in wide (432) with
seams of 1/2 in (4). Its 10 eyelets leave four back gaps for a hidden seam, 18 wide. Two pieces
reach 428 each, so the seam stands at 220 to 428. The first place that hides it is 257; the
farthest interval starts at 373, 46 5/8 in from the raw edge and 43 5/8 in from the finished one.

>>> sizes = PanelSizes(panel=648, width=432, seam=4, repeat=1)
>>> costs = seam_costs([(141, 159, 0), (257, 275, 0), (373, 391, 0), (489, 507, 0)])
>>> least, searched = cheapest_grids(costs, grids_to_try(sizes, costs, pieces=2), sizes.panel)
>>> least, searched[0].grid
(0, SeamGrid(phase=0, repeat=1, reaches=(428, 428)))
>>> searched[0].costs_to_go
[CostToGo(places=(257,), costs=(0,)), CostToGo(places=(648,), costs=(0,))]
>>> best_seams(costs, searched, sizes.panel, least)
(373,)

The rules were derived for this tool; `tests/planning/test_seams_searched.py` holds the outcome
against a search that tries every place and lays every piece on its cloth.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

NEVER = 10**9
"""More than the seams of any panel cost together: what a seam costs where none may stand."""


class LastPlace(NamedTuple):
    """The last place in an interval that a seam can have.

    With it the start of the interval, the first place of the grid in it, and what a seam costs.
    """

    start: int
    first: int
    last: int
    cost: int


class SeamCosts(NamedTuple):
    """All intervals of a panel in order: number n runs from `starts[n]` to `ends[n]`.

    A seam in it costs `costs[n]`. Where no interval is, none may stand.
    """

    starts: tuple[int, ...]
    ends: tuple[int, ...]
    costs: tuple[int, ...]

    def first_places(
        self, nearest: int, farthest: int, phase: int = 0, repeat: int = 1
    ) -> list[tuple[int, int]]:
        """Return the places of a phase between two that cost less than all before, with the cost.

        >>> costs = seam_costs([(10, 14, 5), (20, 24, 0), (25, 29, 5)])
        >>> costs.first_places(12, 40), costs.first_places(15, 40, phase=0, repeat=9)
        ([(12, 5), (20, 0)], [(27, 5)])
        """
        starts, ends, costs = self
        places, least = [], NEVER
        for n in range(bisect_left(ends, nearest), len(ends)):
            if starts[n] > farthest or least == 0:  # none costs less than nothing
                break
            if costs[n] < least:
                place = max(starts[n], nearest)
                place += (phase - place) % repeat
                if place <= min(ends[n], farthest):
                    least = costs[n]
                    places.append((place, least))
        return places

    def last_places(self, farthest: int, phase: int = 0, repeat: int = 1) -> Iterator[LastPlace]:
        """Yield the last place of each interval up to `farthest`, the farthest one first.

        >>> next(seam_costs([(10, 14, 5), (30, 39, 0)]).last_places(38, phase=1, repeat=5))
        LastPlace(start=30, first=31, last=36, cost=0)
        """
        for n in reversed(range(bisect_right(self.starts, farthest))):
            start, last = self.starts[n], min(self.ends[n], farthest)
            last -= (last - phase) % repeat
            if last >= start:
                yield LastPlace(start, start + (phase - start) % repeat, last, self.costs[n])

    def cheaper_from(self) -> Iterator[int]:
        """Yield the starts of intervals that cost less than the place before.

        A seam there can't move towards the leading edge for nothing.
        """
        before = (0, NEVER)
        for start, end, cost in zip(*self, strict=True):
            if start > 0 and (start > before[0] + 1 or cost < before[1]):
                yield start
            before = end, cost

    def mirrored(self, panel: int) -> SeamCosts:
        """Return the same with places counted from the return edge."""
        return seam_costs(
            (panel - end, panel - start, cost) for start, end, cost in zip(*self, strict=True)
        )


def seam_costs(intervals: Iterable[tuple[int, int, int]]) -> SeamCosts:
    """Return what seams cost from each interval's start, end and cost; none is on another."""
    starts, ends, costs = [], [], []
    for start, end, cost in sorted(intervals):
        starts.append(start)
        ends.append(end)
        costs.append(cost)
    return SeamCosts(tuple(starts), tuple(ends), tuple(costs))


@dataclass(frozen=True, slots=True)
class PanelSizes:
    """A panel's raw width, its cloth's width, a seam's allowance per side, the repeat across.

    Whole units, the width an even number of them. Without a pattern the repeat is 1, and every rule
    of patterned cloth holds as is. Of `pairs` one half are left panels: their pieces lie from the
    other selvage.
    """

    panel: int
    width: int
    seam: int
    repeat: int
    pairs: bool = False

    @property
    def inner_reach(self) -> int:
        """The most that a piece between two seams can span, with a drop to itself."""
        return self._whole_repeats(self.width - 2 * self.seam)

    @property
    def slack(self) -> int:
        """What `inner_reach` leaves of the cloth between the seams."""
        return self.width - 2 * self.seam - self.inner_reach

    def shared_inner_reach(self, alike: int) -> int:
        """The same of one that shares its drop with its like, whatever the skew up to the slack."""
        return self._whole_repeats(self._widest_of(alike, self.width) - 2 * self.seam)

    def widest_alike(self, alike: int, skew: int) -> int:
        """Return how wide so many pieces alike can be that one drop holds, the first from `skew`.

        Each starts whole repeats after the one before. In cloth of 54 with a repeat of 10 two of
        24 fit at 0 and 30; at 0 and 20 they would be 20 at most. Of pairs one half of the pieces
        may lie from either selvage, each half on its half of the cloth.

        >>> PanelSizes(panel=100, width=54, seam=1, repeat=10).widest_alike(2, 0)
        24
        >>> PanelSizes(panel=100, width=54, seam=1, repeat=10, pairs=True).widest_alike(2, 0)
        27
        """
        widest = self._widest_of(alike, self.width - skew)
        if self.pairs and alike % 2 == 0:
            half = self.width // 2
            # From this half of the cloth, or from the first place of the pattern on the other one.
            for room in (half - skew, half - (skew - half) % self.repeat):
                widest = max(widest, self._widest_of(alike // 2, room))
        return widest

    def _widest_of(self, alike: int, room: int) -> int:
        """Return how wide so many pieces alike can be whole repeats apart in so much cloth."""
        step = room // (alike * self.repeat) * self.repeat
        return max(step, room - (alike - 1) * (step + self.repeat))

    def widths(self, seams: Sequence[int]) -> tuple[int, ...]:
        """Return how wide a panel's pieces are that has its seams at these places.

        >>> PanelSizes(panel=100, width=54, seam=1, repeat=1).widths((40, 60))
        (41, 22, 41)
        """
        return tuple(
            end - start + self.seam * ((start > 0) + (end < self.panel))
            for start, end in pairwise((0, *seams, self.panel))
        )

    def _whole_repeats(self, span: int) -> int:
        return span - span % self.repeat


class SeamGrid(NamedTuple):
    """Places `phase`, `phase + repeat` and so on, and the most that each piece can span there."""

    phase: int
    repeat: int
    reaches: tuple[int, ...]

    def mirrored(self, panel: int) -> SeamGrid:
        """Return the same with places counted from the return edge."""
        return SeamGrid((panel - self.phase) % self.repeat, self.repeat, self.reaches[::-1])


def grids_to_try(
    sizes: PanelSizes, costs: SeamCosts, pieces: int, sharing: int | None = None, alike: int = 2
) -> Iterator[SeamGrid]:
    """Yield every grid that may hold the best plan of so many pieces.

    `sharing` is the first piece (0) or the last, if it has to fit `alike` times on one drop.
    """
    reach = sizes.inner_reach
    if pieces == 1:
        yield SeamGrid(0, 1, (sizes.width if sharing is None else sizes.widest_alike(alike, 0),))
    if pieces == 1 or reach <= 0:
        # Where no repeat fits between two seams, several pieces span no more than one does.
        return
    starts: dict[int, list[int]] = {}
    for start in costs.cheaper_from():
        starts.setdefault(start % sizes.repeat, []).append(start)
    # The last piece spans all it can: on its own, or where its like starts just after it.
    last_widest = {(sizes.panel - sizes.width + sizes.seam) % sizes.repeat}
    if sharing == pieces - 1:
        last_widest.add((sizes.panel + sizes.seam) % sizes.repeat)
        last_widest.add((sizes.panel + sizes.seam - sizes.width // 2) % sizes.repeat)
    for phase in sorted(last_widest | starts.keys()):
        tried: list[tuple[int, int]] = []
        for first, last in _end_reaches(sizes, phase, pieces, sharing, alike):
            # The other skew may give both ends as much.
            if any(
                first <= other_first and last <= other_last for other_first, other_last in tried
            ):
                continue
            tried.append((first, last))
            # An interval's start is of use only where the first piece and whole ones reach it, or
            # overreach it by no more than all pieces together overreach the panel.
            spare = first + (pieces - 2) * reach + last - sizes.panel
            if phase in last_widest or any(
                (first - start) % reach <= spare for start in starts[phase]
            ):
                yield SeamGrid(phase, sizes.repeat, (first, *(reach,) * (pieces - 2), last))


def _end_reaches(
    sizes: PanelSizes, phase: int, pieces: int, sharing: int | None, alike: int
) -> Iterator[tuple[int, int]]:
    """Yield the reach of the first piece and of the last on a phase, for each skew worth trying."""
    width, seam, repeat, slack = sizes.width, sizes.seam, sizes.repeat, sizes.slack
    if sharing == 0:
        # The most that leaves the last piece all it can have with none, and the most of all.
        skews = {(phase - sizes.panel + width - seam) % repeat, slack}
        if sizes.pairs:
            skews.add(slack - (width // 2) % repeat)
    else:
        # The least that gives the first piece another repeat, and none.
        skews = {(phase - seam - sizes.inner_reach) % repeat, 0}
        if sizes.pairs:
            skews.add((width // 2) % repeat)
    for skew in sorted(skews):
        if not 0 <= skew <= slack:
            continue
        first = width - slack + skew
        last = width - skew
        if sharing == 0:
            first = sizes.widest_alike(alike, slack - skew)
        elif sharing == pieces - 1:
            last = sizes.widest_alike(alike, skew)
        # Down to the nearest place of the phase.
        first -= seam + (first - seam - phase) % repeat
        last -= seam + (last - seam - sizes.panel + phase) % repeat
        yield first, last


class CostToGo(NamedTuple):
    """The least that a seam and those after it cost: `costs[n]` from `places[n]` on, and falling.

    Before `places[0]` the pieces after the seam don't reach the panel's end.
    """

    places: Sequence[int]
    costs: Sequence[int]

    def least(self, place: int) -> int:
        """Return the least cost with the seam at `place` or before.

        >>> CostToGo(places=(20, 26), costs=(1000, 0)).least(25)
        1000
        """
        n = bisect_right(self.places, place)
        return self.costs[n - 1] if n else NEVER


class SearchedGrid(NamedTuple):
    """A grid with the cost to go from each of its seams, and last from the panel's end: 0."""

    grid: SeamGrid
    costs_to_go: list[CostToGo]


def costs_to_go(costs: SeamCosts, grid: SeamGrid, panel: int, budget: int) -> list[CostToGo]:
    """Return the cost to go from each seam, the panel's end being last; [] if all cost more.

    A seam is put no farther than the pieces before it reach, so [] where they span too little.
    """
    reach = sum(grid.reaches)
    if panel > reach:
        return []
    from_end = [CostToGo((panel,), (0,))]
    for piece_reach in reversed(grid.reaches[1:]):
        reach -= piece_reach
        options = [
            (place, cost + cost_after)
            for after, cost_after in zip(*from_end[-1], strict=True)
            for place, cost in costs.first_places(
                after - piece_reach, min(after - 1, reach), grid.phase, grid.repeat
            )
            if cost + cost_after <= budget
        ]
        places, least_costs, least = [], [], NEVER
        for place, cost in sorted(options):
            if cost < least:
                least = cost
                places.append(place)
                least_costs.append(cost)
        if not places:
            return []
        from_end.append(CostToGo(tuple(places), tuple(least_costs)))
    return from_end[::-1]


def cheapest_grids(
    costs: SeamCosts, grids: Iterable[SeamGrid], panel: int, budget: int = NEVER - 1
) -> tuple[int, list[SearchedGrid]]:
    """Return the least cost, no more than `budget`, and all grids that have it, if any."""
    cheapest: list[SearchedGrid] = []
    for grid in grids:
        to_go = costs_to_go(costs, grid, panel, budget)
        if to_go:
            cost = to_go[0].costs[-1]
            if cost < budget:
                cheapest.clear()
            cheapest.append(SearchedGrid(grid, to_go))
            budget = cost
    return budget, cheapest


class _Path(NamedTuple):
    """The seams placed so far on one grid: each at the first place of its interval.

    `reached` is the last place of the latest seam's interval that it can have, and `budget` what
    the seams after it may cost.
    """

    searched: SearchedGrid
    first_places: tuple[int, ...]
    reached: int
    budget: int


def best_seams(
    costs: SeamCosts, searched: Iterable[SearchedGrid], panel: int, budget: int
) -> tuple[int, ...]:
    """Return the best places of the seams (aims 4 and 5 of `seams`) at their least cost, `budget`.

    From the leading edge on each seam is in the farthest interval that it can have. Grids with all
    seams in the same ones are told apart by how near their starts the seams are, all together.
    """
    paths = [_Path(grid, (), 0, budget) for grid in searched]
    for seam in range(len(paths[0].searched.costs_to_go) - 1):
        steps = [_farthest_interval(costs, path, seam) for path in paths]
        farthest = max(place.start for place in steps)
        paths = [
            _Path(
                path.searched,
                (*path.first_places, place.first),
                place.last,
                path.budget - place.cost,
            )
            for path, place in zip(paths, steps, strict=True)
            if place.start == farthest
        ]
    plans = [close_behind(path.first_places, path.searched.grid.reaches, panel) for path in paths]
    return min(plans, key=sum)


def _farthest_interval(costs: SeamCosts, path: _Path, seam: int) -> LastPlace:
    """Return the last place of the farthest interval from which the rest keeps to the budget."""
    grid, to_go = path.searched
    return next(
        place
        for place in costs.last_places(path.reached + grid.reaches[seam], grid.phase, grid.repeat)
        if place.cost + to_go[seam + 1].least(place.last + grid.reaches[seam + 1]) <= path.budget
    )


def close_behind(starts: Sequence[int], reaches: Sequence[int], panel: int) -> tuple[int, ...]:
    """Return each seam at its start, or as near after it as the piece behind the seam reaches.

    >>> close_behind(starts=(20, 60), reaches=(50, 50, 50), panel=120)
    (20, 70)
    """
    seams = [panel]
    for start, reach in zip(reversed(starts), reversed(reaches), strict=False):
        seams.append(max(start, seams[-1] - reach))
    return tuple(seams[:0:-1])
