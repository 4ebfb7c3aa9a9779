"""Sheets to be cut from a roll in, the pages that they lie on out, for the least of the roll.

All pages of a PDF are of one size, so that what they take of the roll is their count times the
longest one's length.

    lane    a row of blocks, one after another along the roll, as high as the highest of them
    page    lanes side by side across the roll, as long as the longest of them
    block   what is cut out: a sheet of one strip, with its heading
    gap     free between two blocks and between two lanes, for the cut

Blocks are dealt out by best fit, the highest first, on pages that are made as short as that goes.
Of few blocks every way to deal them out to lanes, and the lanes to pages, is then tried but for
those that can't be better than what is found already: of up to nine blocks all of them, of up to
MOST_SEARCHED as many as MOST_WAYS lets.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import TypeAlias

from drapetemplate.measures import Length

MOST_SEARCHED = 12
MOST_WAYS = 30_000  # nine blocks have 26,443 to be dealt out to lanes: Bell's numbers, added up
_STEPS = 14  # a page's length is closed in on by halves so often
_MORE_PAGES = 3  # so many counts of pages beyond the fewest are tried

Lane: TypeAlias = tuple[int, ...]
PageLanes: TypeAlias = tuple[Lane, ...]
_Cost: TypeAlias = tuple[int, int, int]
"""What all pages take of the roll, their count, the longest lane."""


@dataclass(frozen=True, slots=True)
class RollRoom:
    """A page of a roll: what its lanes may take along it and across, and what else it takes along.

    A page is at least `least` long, `beside` included.
    """

    along: Length
    across: Length
    beside: Length
    least: Length
    gap: Length


@dataclass(frozen=True, slots=True)
class RollPacking:
    """Pages of lanes of blocks, by the blocks' places in what was packed; each page so `length`."""

    pages: tuple[PageLanes, ...]
    length: Length

    @property
    def taken(self) -> Length:
        """How much of the roll all pages take."""
        return len(self.pages) * self.length


def packed(blocks: Sequence[tuple[Length, Length]], room: RollRoom) -> RollPacking:
    """Blocks as (length, height), each of which fits on a page, on the least of a roll.

    Of two ways that take as much the one with fewer pages, then with the shorter lanes. In the
    order of the blocks, as far as that goes: in a lane, of the lanes, of the pages.

    >>> two = [(Fraction(900), Fraction(100)), (Fraction(500), Fraction(100))]
    >>> room = RollRoom(*map(Fraction, (5000, 300, 25, 300, 4)))
    >>> packed(two, room)
    RollPacking(pages=(((0,), (1,)),), length=Fraction(925, 1))
    """
    lengths = [*(side for block in blocks for side in block), room.along, room.across]
    lengths += [room.beside, room.least, room.gap]
    unit = lcm(*(Fraction(length).denominator for length in lengths))
    packer = _Packer([(int(a * unit), int(b * unit)) for a, b in blocks], room, unit)
    pages = sorted(tuple(sorted(tuple(sorted(lane)) for lane in lanes)) for lanes in packer.pages())
    along = max(_length(lane, blocks, room.gap) for lanes in pages for lane in lanes)
    return RollPacking(tuple(pages), max(along + room.beside, room.least))


def _length(lane: Lane, blocks: Sequence[tuple[Length, Length]], gap: Length) -> Length:
    return sum((blocks[n][0] for n in lane), (len(lane) - 1) * gap)


@dataclass(slots=True)
class _Open:
    """A lane that blocks are being dealt out to: each counts with a gap after it."""

    length: int
    height: int
    blocks: Lane


class _Packer:
    """The search. All lengths are whole numbers of one unit; a gap counts to what is before it."""

    def __init__(self, blocks: Sequence[tuple[int, int]], room: RollRoom, unit: int) -> None:
        gap = self.gap = int(room.gap * unit)
        self.blocks = [(length + gap, height + gap) for length, height in blocks]
        self.along, self.across = int(room.along * unit) + gap, int(room.across * unit) + gap
        self.ways = 0
        self.beside, self.least = int(room.beside * unit), int(room.least * unit)
        # The longest first, then the highest: what is left to deal out later fits in anywhere.
        self.order = sorted(
            range(len(blocks)), key=lambda n: (-self.blocks[n][0], -self.blocks[n][1], n)
        )

    def pages(self) -> list[list[Lane]]:
        """The best pages there are, or that are found."""
        self.best = min(self._fitted(), key=lambda pages: self._cost(*_sizes(pages)))
        self.cost = self._cost(*_sizes(self.best))
        if len(self.blocks) <= MOST_SEARCHED:
            self._deal(0, [])
        return [[lane.blocks for lane in page] for page in self.best]

    def _cost(self, pages: int, longest: int) -> _Cost:
        return (pages * max(longest - self.gap + self.beside, self.least), pages, longest)

    def _deal(self, done: int, lanes: list[_Open]) -> None:
        """Deal out the blocks from `done` on to lanes and a new one, every way that may be best."""
        self.ways += 1
        high = sum(lane.height for lane in lanes)
        longest = max((lane.length for lane in lanes), default=0)
        if self._cost(-(-high // self.across), longest) >= self.cost or self.ways > MOST_WAYS:
            return
        if done == len(self.order):
            pages = self._on_fewest_pages(sorted(lanes, key=lambda lane: -lane.height), [])
            cost = self._cost(len(pages), longest)
            if cost < self.cost:
                self.best, self.cost = pages, cost
            return
        number = self.order[done]
        length, height = self.blocks[number]
        tried = set()
        for n, lane in enumerate(lanes):
            alike = (lane.length, lane.height)
            if alike in tried or lane.length + length > self.along:
                continue
            tried.add(alike)
            longer = _Open(lane.length + length, max(lane.height, height), (*lane.blocks, number))
            self._deal(done + 1, [*lanes[:n], longer, *lanes[n + 1 :]])
        self._deal(done + 1, [*lanes, _Open(length, height, (number,))])

    def _on_fewest_pages(
        self, lanes: Sequence[_Open], pages: list[list[_Open]]
    ) -> list[list[_Open]]:
        """Lanes dealt out to the fewest pages, beside what these hold: every way is tried."""
        if not lanes:
            return pages
        lane, rest = lanes[0], lanes[1:]
        heights = [sum(other.height for other in page) for page in pages]
        ways = [
            self._on_fewest_pages(rest, [*pages[:n], [*page, lane], *pages[n + 1 :]])
            for n, page in enumerate(pages)
            if heights[n] + lane.height <= self.across and heights[n] not in heights[:n]
        ]
        ways.append(self._on_fewest_pages(rest, [*pages, [lane]]))
        return min(ways, key=len)

    def _fitted(self) -> Iterator[list[list[_Open]]]:
        """Best fit, on the longest pages and then on shorter ones, for several counts of pages."""
        pages = self._best_fit(self.along)
        yield pages
        for most in range(len(pages), len(pages) + _MORE_PAGES):
            yield from self._shorter(most)

    def _shorter(self, most: int) -> Iterator[list[list[_Open]]]:
        """Best fit on ever shorter pages, as long as it takes at most so many of them."""
        low, high = max(length for length, _ in self.blocks), self.along
        for _ in range(_STEPS):
            if low >= high:
                return
            middle = (low + high) // 2
            pages = self._best_fit(middle)
            if len(pages) > most:
                low = middle + 1
                continue
            yield pages
            high = max(lane.length for page in pages for lane in page)

    def _best_fit(self, along: int) -> list[list[_Open]]:
        """The highest first, each into the fullest lane with room for it, else a new one.

        No lane is then lower than what comes into it. A new one goes on the first page it fits on.
        """
        pages: list[list[_Open]] = []
        lanes: list[_Open] = []
        free: list[tuple[int, int]] = []  # what each lane has left, in order, and its place
        rooms: list[int] = []
        for number in sorted(self.order, key=lambda n: -self.blocks[n][1]):
            length, height = self.blocks[number]
            at = bisect_left(free, (length, 0))
            if at < len(free):
                left, place = free.pop(at)
                lanes[place].length += length
                lanes[place].blocks += (number,)
                insort(free, (left - length, place))
                continue
            insort(free, (along - length, len(lanes)))
            lanes.append(_Open(length, height, (number,)))
            page = next((n for n, room in enumerate(rooms) if room >= height), len(rooms))
            if page == len(rooms):
                rooms.append(self.across)
                pages.append([])
            rooms[page] -= height
            pages[page].append(lanes[-1])
        return pages


def _sizes(pages: Sequence[Sequence[_Open]]) -> tuple[int, int]:
    """How many pages, and how long the longest lane."""
    return len(pages), max(lane.length for page in pages for lane in page)
