"""Sheets packed on a roll's pages, against every way to deal out a few, tried one by one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.sheets.roll_packing import RollPacking, RollRoom, packed
from tests.helpers.searching import searched

MOST_EXACT = 9  # blocks of which every way is tried

Blocks = list[tuple[Fraction, Fraction]]


def shared_out(things: Sequence[int]) -> Iterator[list[list[int]]]:
    """Every way to share things out to piles that have no order."""
    if not things:
        yield []
        return
    first, *rest = things
    for piles in shared_out(rest):
        yield [[first], *piles]
        for n in range(len(piles)):
            yield [*piles[:n], [first, *piles[n]], *piles[n + 1 :]]


def least(blocks: Blocks, room: RollRoom) -> Fraction:
    """The least of the roll that any dealing out takes: to lanes first, then lanes to pages."""
    found = []
    for lanes in shared_out(range(len(blocks))):
        lengths = [sum(blocks[n][0] for n in lane) + room.gap * (len(lane) - 1) for lane in lanes]
        heights = [max(blocks[n][1] for n in lane) for lane in lanes]
        if max(lengths) > room.along:
            continue
        page = max(max(lengths) + room.beside, room.least)
        for pages in shared_out(range(len(lanes))):
            high = [sum(heights[n] for n in own) + room.gap * (len(own) - 1) for own in pages]
            if max(high) <= room.across:
                found.append(page * len(pages))
    return min(found)


def check(found: RollPacking, blocks: Blocks, room: RollRoom) -> None:
    """Every block once, in lanes that hold what is in them, on pages that hold the lanes."""
    every = [n for lanes in found.pages for lane in lanes for n in lane]
    assert sorted(every) == list(range(len(blocks)))
    for lanes in found.pages:
        high = sum(max(blocks[n][1] for n in lane) for lane in lanes)
        assert high + room.gap * (len(lanes) - 1) <= room.across
        for lane in lanes:
            long = sum(blocks[n][0] for n in lane) + room.gap * (len(lane) - 1)
            assert long <= room.along
            assert long + room.beside <= found.length
    assert found.length >= room.least


ROOM = RollRoom(
    along=Fraction(100),
    across=Fraction(40),
    beside=Fraction(5),
    least=Fraction(40),
    gap=Fraction(1),
)
sides = st.tuples(
    st.fractions(Fraction(5), Fraction(100), max_denominator=7),
    st.one_of(st.just(Fraction(10)), st.fractions(Fraction(6), Fraction(40), max_denominator=3)),
)


@searched(150)
@given(st.lists(sides, min_size=1, max_size=5), st.sampled_from([15, 40, 45, 60, 90]))
def test_least_of_all(blocks: Blocks, across: int) -> None:
    """A few blocks take as little of the roll as any way to deal them out."""
    room = RollRoom(ROOM.along, Fraction(across), ROOM.beside, ROOM.least, ROOM.gap)
    blocks = [(length, min(height, room.across)) for length, height in blocks]
    found = packed(blocks, room)
    check(found, blocks, room)
    assert found.taken == least(blocks, room)


@searched(40)
@given(st.lists(sides, min_size=MOST_EXACT + 1, max_size=40))
def test_many(blocks: Blocks) -> None:
    """Many blocks are packed whole, as little of the roll as one lane for each takes or less."""
    found = packed(blocks, ROOM)
    check(found, blocks, ROOM)
    one_each = max(length for length, _ in blocks) + ROOM.beside
    high = sorted(((height + 1, n) for n, (_, height) in enumerate(blocks)), reverse=True)
    pages: list[Fraction] = []
    for height, _ in high:
        page = next((n for n, used in enumerate(pages) if used + height <= 41), len(pages))
        pages[page : page + 1] = [height + (pages[page] if page < len(pages) else 0)]
    assert found.taken <= len(pages) * max(one_each, ROOM.least)


def least_of_longest(lengths: list[int], lanes: int) -> int:
    """How short the longest of so many lanes can be, each block counted with 1 for its gap."""
    reached = {(0,) * lanes}
    for length in lengths:
        reached = {
            tuple(sorted((*own[:n], own[n] + length + 1, *own[n + 1 :])))
            for own in reached
            for n in range(lanes)
        }
    return min(own[-1] for own in reached) - 1


@searched(40)
@given(st.lists(st.integers(5, 60), min_size=13, max_size=14))
def test_near_the_least(lengths: list[int]) -> None:
    """More blocks of one height take at most 1.22 times the least that one page of them can.

    So near first fit is proved to come, on lanes as short as that goes (Coffman, Garey, Johnson
    1978; from memory): best fit is held to as much. A second page costs more than it can save.
    """
    room = RollRoom(Fraction(900), Fraction(32), Fraction(900), Fraction(0), Fraction(1))
    found = packed([(Fraction(length), Fraction(10)) for length in lengths], room)
    assert len(found.pages) == 1
    best = least_of_longest(lengths, 3)
    assert best <= found.length - room.beside <= best * Fraction(122, 100) + 1


@pytest.mark.parametrize(
    ("count", "pages", "length"),
    [
        # Four lanes of 10 with 1 between them are 43: three go in 40. A block is 30: three go in
        # 100 after one another with 1 between, 92. Nine make a page of 3 x 3.
        (3, 1, 40),
        (6, 1, 61 + 5),
        (9, 1, 92 + 5),
        # Ten take two pages of 2 lanes' length: 5 to a page, two in a lane at most.
        (10, 2, 61 + 5),
        (12, 2, 61 + 5),
        (18, 2, 92 + 5),
    ],
)
def test_alike(count: int, pages: int, length: int) -> None:
    """Blocks that are alike fill lanes and pages as worked by hand, however many they are."""
    found = packed([(Fraction(30), Fraction(10))] * count, ROOM)
    assert (len(found.pages), found.length) == (pages, Fraction(length))


@pytest.mark.parametrize(
    ("count", "pages", "taken"), [(5, 2, 344), (7, 4, 484), (9, 3, 516), (10, 5, 605), (13, 7, 847)]
)
def test_more_pages_for_less_of_the_roll(count: int, pages: int, taken: int) -> None:
    """All pages are as long as the fullest, so that one more can take less of the roll in all.

    One lane a page, of 160: three blocks of 50 with 1 between are 152, two are 101, and a page is
    20 longer: 172, 121, or 70 with a single one. Seven are three pages of 172, 516, four of 121,
    484, or seven of 70, 490.
    """
    room = RollRoom(Fraction(160), Fraction(12), Fraction(20), Fraction(40), Fraction(1))
    found = packed([(Fraction(50), Fraction(12))] * count, room)
    assert (len(found.pages), found.taken) == (pages, Fraction(taken))


def test_in_order() -> None:
    """Lanes and pages are in the order of the blocks: the first on top, on the first page."""
    blocks = [(Fraction(60), Fraction(10)), (Fraction(90), Fraction(10))]
    blocks += [(Fraction(29), Fraction(10)), (Fraction(80), Fraction(10))]
    found = packed(blocks, ROOM)
    assert found.pages == (((0, 2), (1,), (3,)),)
    twice = packed([(Fraction(100), Fraction(40))] * 2, ROOM)
    assert twice.pages == (((0,),), ((1,),))
