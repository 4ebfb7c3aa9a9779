"""Band cut from rolls, held against every way there is to cut a small job's.

The search of all ways shares no code and no reasoning with the plan: it unrolls one roll after
another, cuts the panels in every order and from either end, joins at every place that is clear of
the eyelets, and begins a new roll wherever it likes.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH, MM, YARD, Length
from drapetemplate.planning.band import BandOrder, BandUse, band_orders
from drapetemplate.planning.plan import plan
from tests.helpers.jobfiles import job_of
from tests.helpers.searching import searched

HALF_INCH = Fraction(127, 10)

Toy = tuple[int, int, tuple[int, ...]]
"""A panel in half inches: its width, its eyelets' flange across, their centres."""


def use(
    width: Length,
    *centers: Length,
    outside: Length = 2 * INCH,
    roll: Length | None = None,
    panels: int = 1,
    window: int = 0,
) -> BandUse:
    """What a window's panels take."""
    return BandUse(
        window=window,
        key=f"window[{window + 1}]",
        panels=panels,
        height=4 * INCH,
        roll=roll,
        width=width,
        outside=outside,
        centers=centers,
    )


def of_toys(toys: list[Toy], roll: int) -> BandOrder:
    """What the plan makes of panels, each of a window of its own."""
    [order] = band_orders(
        [
            use(
                width * HALF_INCH,
                *(center * HALF_INCH for center in centers),
                outside=outside * HALF_INCH,
                roll=roll * HALF_INCH,
                window=number,
            )
            for number, (width, outside, centers) in enumerate(toys)
        ],
        "in",
    )
    return order


def fewest(toys: list[Toy], roll: int) -> tuple[int, int] | None:
    """The fewest rolls, then splices, of every way to cut them; None where there is none."""

    def clear(toy: Toy, place: int) -> bool:
        # Half an inch is one place; the flange reaches half its outside from the centre.
        return all(2 * abs(place - center) >= toy[1] + 2 for center in toy[2])

    @cache
    def rest(todo: frozenset[int], left: int) -> tuple[int, int] | None:
        if not todo:
            return 0, 0
        found = []
        for number in todo:
            width, outside, centers = toys[number]
            for toy in (
                toys[number],
                (width, outside, tuple(width - center for center in centers)),
            ):
                ends = [(0, left, 0, 0), (0, roll, 1, 0)]
                while ends:
                    start, room, rolls, splices = ends.pop()
                    if width - start <= room:
                        after = rest(todo - {number}, room - (width - start))
                        if after:
                            found.append((rolls + after[0], splices + after[1]))
                    ends += [
                        (place, roll, rolls + 1, splices + 1)
                        for place in range(start + 1, min(start + room, width - 1) + 1)
                        if clear(toy, place)
                    ]
        return min(found, default=None)

    return rest(frozenset(range(len(toys))), 0)


@st.composite
def toy(draw: st.DrawFn) -> Toy:
    """A panel of 3 to 8 in with a flange or a few, which may touch and stand at its very edge."""
    width = draw(st.integers(6, 16))
    centers = draw(st.sets(st.integers(1, width - 1), min_size=1, max_size=max(1, width // 5)))
    return width, draw(st.sampled_from([2, 4])), tuple(sorted(centers))


@searched(300)
@given(st.lists(toy(), min_size=1, max_size=3), st.data())
def test_no_way_is_better(kinds: list[Toy], data: st.DataObject) -> None:
    """No way to cut a job takes fewer rolls, or as many with fewer splices."""
    toys = data.draw(st.lists(st.sampled_from(kinds), min_size=1, max_size=4))
    roll = data.draw(st.integers(5, 20))
    if sum(width for width, _, _ in toys) > 5 * roll:
        reject()
    best = fewest(toys, roll)
    if best is None:
        with pytest.raises(JobError, match=r"band\.roll: .* too short to be spliced"):
            of_toys(toys, roll)
        return
    order = of_toys(toys, roll)
    assert (order.rolls, order.splices) == best
    as_it_is_cut(order, toys, roll)


def as_it_is_cut(order: BandOrder, toys: list[Toy], roll: int) -> None:
    """Every panel is whole, no piece lies on another, and no splice is at a flange."""
    taken: dict[int, list[tuple[Length, Length]]] = {}
    assert sorted(band.window for band in order.panels) == list(range(len(toys)))
    for band in order.panels:
        width, outside, centers = toys[band.window]
        end = Fraction(0)
        for piece in band.pieces:
            assert piece.start == end
            end += piece.length
            taken.setdefault(piece.roll, []).append((piece.at, piece.at + piece.length))
        assert end == width * HALF_INCH
        for splice in band.splices:
            nearest = min(abs(splice - center * HALF_INCH) for center in centers)
            assert nearest - outside * HALF_INCH / 2 >= HALF_INCH
    for pieces in taken.values():
        ends = sorted(pieces)
        assert ends[0][0] >= 0
        assert ends[-1][1] <= roll * HALF_INCH
        assert all(one[1] <= two[0] for one, two in pairwise(ends))


def test_spliced_clear_of_an_eyelet() -> None:
    """A roll that ends 1/4 in from a flange is spliced before it, and its last bit isn't used.

    Three panels of 60 in from two rolls of 100 in: 40 in are left of the first. A flange of 2 in at
    41 1/4 in reaches from 40 1/4 in, and what is kept clear from 39 3/4 in. From its other end the
    panel has that flange at 18 3/4 in, and is spliced at 40 in, which is 20 in from the leading
    edge.
    """
    [order] = band_orders([use(60 * INCH, INCH * 165 / 4, roll=100 * INCH, panels=3)], "in")
    assert (order.rolls, order.splices) == (2, 1)
    [spliced] = [band for band in order.panels if band.splices]
    assert spliced.splices == (20 * INCH,)
    # One more at its mirrored place: neither end will do for 40 in.
    [order] = band_orders(
        [use(60 * INCH, INCH * 75 / 4, INCH * 165 / 4, roll=100 * INCH, panels=3)], "in"
    )
    [spliced] = [band for band in order.panels if band.splices]
    assert spliced.splices == (INCH * 159 / 4,)
    first, second = spliced.pieces
    assert (first.roll, first.at, first.length) == (1, 60 * INCH, Fraction(159, 4) * INCH)
    assert (second.roll, second.at, second.length) == (2, Fraction(0), Fraction(81, 4) * INCH)


def test_spliced_clear_of_an_eyelet_in_millimetres() -> None:
    """Three panels of 1500 mm from rolls of 2500: 1000 mm are left, 5 mm before a flange of 66.

    A splice keeps 13 mm from it, so the panel has 992 mm from the one roll and 508 from the next.
    Its mirrored flange ends at 495 mm, 5 mm past what the other end would take.
    """
    center, other = Length(1005 + 33), Length(1500 - 1005 - 33)
    [order] = band_orders(
        [use(Length(1500), center, other, outside=Length(66), roll=Length(2500), panels=3)], "mm"
    )
    [spliced] = [band for band in order.panels if band.splices]
    assert [piece.length for piece in spliced.pieces] == [992, 508]


def test_longer_than_a_roll() -> None:
    """A panel of 410 in takes one whole roll of 360 in and 50 in of the next."""
    [order] = band_orders([use(410 * INCH, 5 * INCH, 405 * INCH, roll=360 * INCH)], "in")
    [band] = order.panels
    assert [piece.length for piece in band.pieces] == [360 * INCH, 50 * INCH]


def test_no_splice_where_the_order_of_cutting_saves_it() -> None:
    """Panels of 88 and 61 in from rolls of 149 in: one of each from a roll, whatever comes first.

    One after another as they come, a pair of 88 in first, would splice.
    """
    uses = [
        use(88 * INCH, 3 * INCH, roll=149 * INCH, panels=2),
        use(61 * INCH, 3 * INCH, roll=149 * INCH, panels=2, window=1),
    ]
    [order] = band_orders(uses, "in")
    assert (order.rolls, order.splices) == (2, 0)


def test_panels_that_waste_too_much_by_themselves() -> None:
    """Some of a job's panels alone would waste more than all of them together have to spare.

    Panels of 28 and 15 half inches make 142 of 4 rolls of 37, 148: 6 are spare. A roll holds one of
    28, and leaves 9, so that either of 15 is spliced.
    """
    wide, narrow = (28, 4, (1, 6, 11, 16, 21, 26)), (15, 4, (2, 9))
    toys = [narrow, wide, wide, wide, narrow, wide]
    order = of_toys(toys, 37)
    assert (order.rolls, order.splices) == (4, 2)
    as_it_is_cut(order, toys, 37)


def test_a_usual_job_from_short_rolls() -> None:
    """A left panel of 83 3/8 in, made three times, and four pairs of 116 in: 6 rolls of 5 m.

    3 x 83 3/8 and 8 x 116 in are 1178 1/8 in, 29,924 mm of 30,000.
    """
    tables = '[band]\nroll = "5 m"'
    job = job_of(
        'panels = "left"\nquantity = 3\nwidth = "83 3/8"',
        "quantity = 4\nwidth = 116",
        tables=tables,
    )
    [order] = plan(job, advise=False).order.bands
    assert order.rolls == 6
    assert order.length == INCH * 9425 / 8


def test_heights_and_rolls_apart() -> None:
    """Band of one height from rolls of two lengths is two orders; amounts are rounded up."""
    window = "width = 60\ncount = 8"
    job = job_of(
        window,
        f'{window}\nband = {{roll = "50 m"}}',
        f'{window}\nband = {{height = 6, roll = "25 yd"}}',
        tables='[band]\nheight = 5\nroll = "25 yd"',
    )
    bands = plan(job).order.bands
    assert [(band.height, band.roll) for band in bands] == [
        (5 * INCH, 25 * YARD),
        (5 * INCH, 50_000 * MM),
        (6 * INCH, 25 * YARD),
    ]
    assert {(band.length, band.rolls, band.splices) for band in bands} == {(120 * INCH, 1, 0)}
    assert {(band.amount, band.unit) for band in bands} == {(Fraction(7, 2), "yd")}


@pytest.mark.parametrize(
    ("window", "fault"),
    [
        (
            'band = {roll = "2 in"}',
            "a roll of 2 in is too short to be spliced clear of the eyelets: 3 in must be in one",
        ),
        ('quantity = 1000\nband = {roll = "5 in"}', "over 2000 rolls of 5 in would be needed"),
        ("quantity = 1000\nwidth2", "more than 2000 panels"),
        ('band = {roll = "0 in"}', "write a length over 0"),
        ("band = {roll = -3}", "-3 is negative"),
        ('band = {roll = "much"}', "not a length"),
    ],
)
def test_refused(window: str, fault: str) -> None:
    """A roll that is no roll is refused in one plain line, with its key."""
    windows = [f"width = 60\ncount = 8\n{window}"]
    if "width2" in window:
        own = 'width = 60\ncount = 8\nband = {roll = "100 m"}'
        windows = [f"{own}\nquantity = 1000", own]
    with pytest.raises(JobError) as caught:
        plan(job_of(*windows))
    [told] = caught.value.faults
    assert "band.roll" in told.where
    assert fault in told.text


def test_many_panels() -> None:
    """A large job is cut from as few rolls as its length can be, with a splice a roll at most.

    Seven sizes of thirty panels are more than are searched together. All of them take 30 times
    60 + 67 + ... + 102 = 17,010 in: 18.9 rolls of 900 in.
    """
    uses = [
        use(
            (60 + 7 * n) * INCH,
            *(c * INCH for c in range(4, 56 + 7 * n, 7)),
            roll=900 * INCH,
            panels=30,
            window=n,
        )
        for n in range(7)
    ]
    [order] = band_orders(uses, "in")
    assert order.rolls == 19
    assert order.splices < 19
