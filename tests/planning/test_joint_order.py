"""One order for many jobs, against sums worked by hand; what is one thing to buy."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drapetemplate.measures import INCH, YARD
from drapetemplate.planning.joint_order import (
    BandLine,
    JointOrder,
    PlannedJob,
    cuts,
    joint_order,
    one_name,
)
from tests.helpers.jobfiles import RING
from tests.helpers.ordered import LINEN, PAIR, order_toml, planned

STUDY = planned(order_toml("study", job='number = "2041"\ndue = 2027-03-12'))
LIBRARY = planned(
    order_toml(
        "library",
        f"{PAIR}\nquantity = 2",
        job='number = "2040"\ndue = 2027-03-05',
        eyelet=f"{RING}\npack = 10\nspares = 2",
        tables=LINEN.replace("allowance = 0", "allowance = 5"),
    )
)
PORCH = planned(
    order_toml(
        "porch",
        PAIR.replace("length = 84", "length = 60"),
        eyelet=f'{RING}\npack = 10\nspares = 1\nthickness = "1/8"',
        tables=f'{LINEN}\n[band]\nroll = "10 yd"',
    )
)
IN_MM = {
    "head": 'units = "mm"',
    "eyelet": 'outside = "2 in"\nopening = "1 in"\nhole = "1 in"',
    "tables": '[fabric]\nname = "Heron linen"\nwidth = "54 in"',
}
SAME_IN_MM = 'width = "74 in"\nleading = "3 in"\nreturn = "3 in"\ncount = 12\nlength = "84 in"'
METRIC, LOFT = (planned(order_toml(room, SAME_IN_MM, **IN_MM)) for room in ("landing", "loft"))
ALL = (STUDY, LIBRARY, PORCH, METRIC)


def test_drops_of_each_job_and_its_allowance() -> None:
    """Cloth of one name and width adds up exactly, and is rounded up once over all jobs."""
    (line,) = joint_order([STUDY, LIBRARY, PORCH]).cloth
    # 4 drops of 100 in; two such pairs and 5 in; 4 drops of 60 + 8 + 8 = 76 in.
    own = [(order.drops, order.to_buy) for _, order in line.takes]
    assert own == [(8, 805 * INCH), (4, 400 * INCH), (4, 304 * INCH)]
    # 1509 in are 41.9 yd, so 42. Each by itself: 22.5 + 11.25 + 8.5 = 42.25 yd.
    assert (line.order.drops, line.order.to_buy) == (16, 1509 * INCH)
    assert (line.order.amount, line.order.unit) == (Fraction(42), "yd")
    assert sum(order.amount or 0 for _, order in line.takes) == Fraction("42.25")
    assert (line.order.total, line.order.allowance) == (1504 * INCH, 5 * INCH)


def test_a_job_that_says_more_has_the_same_eyelet() -> None:
    """Eyelets of one size add up, each job's spares with them, and are packed once."""
    order = joint_order([STUDY, LIBRARY, PORCH])
    (line,) = order.eyelets
    # 24 + 48 + 24 used, 0 + 2 + 1 spare: 99 in packs of 10. Packed job by job 24 loose, 50 and 30.
    found = line.order
    assert (found.used, found.spares, found.packs, found.bought) == (96, 3, 10, 100)
    assert [own.used for _, own in line.takes] == [48, 24, 24]
    assert order.due(line) == date(2027, 3, 5)


def test_band_comes_off_the_same_rolls() -> None:
    """Jobs that don't say how long a roll is take the one that is known, and share its rolls."""
    (line,) = joint_order([STUDY, LIBRARY, PORCH]).bands
    # Eight panels of 74 in: 592 in, on rolls of 360 in two; alone 148, 296 and 148 take three.
    assert (line.order.length, line.order.rolls) == (592 * INCH, 2)
    assert line.order.amount == Fraction("16.5")  # 16.44 yd
    check_cut(line, ALL)


def check_cut(line: BandLine, jobs: Sequence[PlannedJob]) -> None:
    """Fail unless every panel is whole, no roll is cut twice or too far, no splice under a ring."""
    assert line.order.roll is not None
    ends: dict[int, list[tuple[Fraction, Fraction]]] = {}
    found: dict[tuple[int, int], int] = {}
    for band in line.order.panels:
        owner = line.owners[band.window]
        found[owner] = found.get(owner, 0) + 1
        window = joint_order(jobs).jobs[owner[0]].plan.windows[owner[1]]
        panel = window.panels[0]
        at = Fraction(0)
        for piece in band.pieces:
            assert piece.start == at
            at += piece.length
            ends.setdefault(piece.roll, []).append((piece.at, piece.at + piece.length))
        assert at == panel.width
        for splice in band.splices:
            near = min(abs(splice - center) for center in panel.centers)
            assert near >= panel.outside / 2 + INCH / 2
    for stretches in ends.values():
        in_turn = sorted(stretches)
        assert all(before[1] <= after[0] for before, after in pairwise(in_turn))
        assert in_turn[-1][1] <= line.order.roll
    for (job, number), count in found.items():
        window = joint_order(jobs).jobs[job].plan.windows[number]
        assert count == window.quantity * len(window.panels)


@pytest.mark.parametrize(("limit", "most"), [("MOST_PANELS", 2), ("MOST_ROLLS", 1)])
def test_more_band_than_is_cut_at_once(
    monkeypatch: pytest.MonkeyPatch, limit: str, most: int
) -> None:
    """Very many panels, or rolls, are cut lot by lot, and no roll is in two lots."""
    monkeypatch.setattr(f"drapetemplate.planning.joint_order.{limit}", most)
    (line,) = joint_order([STUDY, LIBRARY, PORCH]).bands
    check_cut(line, ALL)
    # Four panels are 296 in of a roll of 360; two and two share one only by its length.
    assert line.order.rolls == {"MOST_PANELS": 3, "MOST_ROLLS": 2}[limit]


@pytest.mark.parametrize("job", ALL, ids=lambda job: job.called)
def test_one_job_alone(job: PlannedJob) -> None:
    """The order for one job is its plan's own, thing by thing."""
    assert all_orders(joint_order([job])) == own_orders(job)


def all_orders(order: JointOrder) -> list[object]:
    """Every order there is."""
    found: list[object] = [line.order for line in order.cloth]
    found += [line.order for line in order.eyelets]
    return [*found, *(line.order for line in order.bands)]


def own_orders(job: PlannedJob) -> list[object]:
    """Every order of a job's own plan."""
    order = job.plan.order
    return [*order.cloth, *order.eyelets, *order.bands]


def test_one_job_keeps_apart_what_its_plan_does() -> None:
    """Two eyelets of one size in a job, two spellings and two bands stay two beside other jobs."""
    other = (
        f'{PAIR}\n[window.eyelet]\nhole = "1 1/8"\n[window.fabric]\nname = "heron LINEN"\n'
        '[window.band]\nroll = "8 yd"'
    )
    two = planned(order_toml("hall", PAIR, other))
    alone = joint_order([two])
    assert all_orders(alone) == sorted_own(two)
    both = joint_order([two, STUDY])
    assert [line.order.drops for line in both.cloth] == [8, 4]
    assert [line.order.used for line in both.eyelets] == [48, 24]
    assert [line.order.roll for line in both.bands] == [8 * YARD, None]


def sorted_own(job: PlannedJob) -> list[object]:
    """The same with the band whose roll isn't known last."""
    order = job.plan.order
    bands = sorted(order.bands, key=lambda band: band.roll is None)
    return [*order.cloth, *order.eyelets, *bands]


def test_capitals_and_spaces_make_no_other_name() -> None:
    """A cloth that jobs spell in two ways is one."""
    spelled = planned(order_toml("porch", tables=LINEN.replace("Heron linen", " heron  LINEN")))
    (line,) = joint_order([STUDY, spelled]).cloth
    assert line.order.to_buy == 800 * INCH
    assert one_name("Café") == one_name("Café ")  # one letter, or two


def test_two_widths_are_two_lines() -> None:
    """The same name at another width is another bolt."""
    wide = planned(order_toml("porch", tables=LINEN.replace("54", "118")))
    lines = joint_order([STUDY, wide]).cloth
    # At 118 in one width holds a panel: two drops of 100 in.
    assert [(line.order.width, line.order.drops) for line in lines] == [
        (54 * INCH, 4),
        (118 * INCH, 2),
    ]


def test_cloth_without_a_name_is_its_own_jobs() -> None:
    """Nobody knows whether two unnamed cloths are one."""
    tables = "[fabric]\nwidth = 54"
    jobs = [planned(order_toml(room, tables=tables)) for room in ("porch", "hall")]
    assert [line.order.drops for line in joint_order(jobs).cloth] == [4, 4]


def test_face_and_lining_of_one_name() -> None:
    """A cloth that one job has for its face and another for its lining is one."""
    lining = LINEN.replace("fabric", "lining").replace("Heron linen", "Heron sateen")
    lined = planned(order_toml("attic", tables=f"{LINEN}\n{lining}"))
    sateen = planned(order_toml("hall", tables=LINEN.replace("Heron linen", "Heron sateen")))
    lines = joint_order([lined, sateen]).cloth
    # The lining is 3 drops of 84 - 1 + 4 = 87 in.
    assert [(line.order.fabric, line.order.part, line.order.to_buy) for line in lines] == [
        ("Heron linen", "face", 400 * INCH),
        ("Heron sateen", "face", 661 * INCH),
    ]


def test_each_job_begins_at_its_own_place_of_the_pattern() -> None:
    """A repeat to begin at, and what lies between motifs at two heights, come with every job."""
    motif = "repeat_down = 25\nrepeat_across = 27\nmotif = 5\nmotif_down = 10"
    jobs = [
        planned(order_toml(room, *heights, tables=f"{LINEN}\n{motif}"))
        for room, heights in {
            "hall": (f"{PAIR}\nmotif_below = 12", f"{PAIR}\nmotif_below = 20"),
            "porch": (f"{PAIR}\nmotif_below = 12",),
        }.items()
    ]
    (line,) = joint_order(jobs).cloth
    # Four drops of 4 x 25 in a window. The lower motif's cuts begin 8 in further up the pattern,
    # which is 17 in on from where the ones before end.
    assert [order.to_buy for _, order in line.takes] == [842 * INCH, 425 * INCH]
    assert (line.order.repeat, line.order.between) == (50 * INCH, 17 * INCH)
    assert line.order.to_buy == 1267 * INCH


def test_railroaded_in_some_jobs() -> None:
    """Runs are told only of a cloth that all jobs railroad."""
    wide = LINEN.replace("54", "118")
    turned = [
        planned(order_toml(room, tables=f"{wide}\nrailroad = true")) for room in ("hall", "porch")
    ]
    cut = planned(order_toml("attic", tables=wide))
    assert joint_order(turned).cloth[0].order.turned
    assert not joint_order([*turned, cut]).cloth[0].order.turned


def test_roll_that_is_not_said() -> None:
    """It is another job's only where all others say one, and the panels can be cut from that."""
    short, long = (
        planned(order_toml(f"r{n}", tables=f"{LINEN}\n[band]\nroll = {n}")) for n in (60, 99)
    )
    both = joint_order([STUDY, short, long]).bands
    assert [(line.order.roll, line.order.length) for line in both] == [
        (60 * INCH, 148 * INCH),
        (99 * INCH, 148 * INCH),
        (None, 148 * INCH),
    ]
    # 24 eyelets of 2 in leave 20/23 in: no splice is clear of them, from end to end of 70 in.
    close = planned(order_toml("hall", PAIR.replace("12", "24"), eyelet=f'{RING}\nhung = "hooks"'))
    assert [line.order.roll for line in joint_order([close, short]).bands] == [60 * INCH, None]
    assert [line.order.roll for line in joint_order([close, long]).bands] == [99 * INCH]


def test_what_isnt_known_is_left_out_and_named() -> None:
    """Of a window without a length the cloth isn't known: the rest is still ordered."""
    endless = planned(order_toml("porch", PAIR.replace("\nlength = 84", "")))
    (line,) = joint_order([STUDY, endless]).cloth
    order = joint_order([STUDY, endless])
    assert [order.jobs[number].called for number in line.without] == ["Heron Point, porch"]
    assert (line.order.drops, line.order.to_buy) == (4, 400 * INCH)
    (line,) = joint_order([endless]).cloth
    assert (line.order.amount, line.without) == (None, (0,))


@pytest.mark.parametrize(
    ("jobs", "unit", "amount"),
    [
        # 400 in + 10144 + 100 mm = 20404 mm: 22.31 yd, or 20.404 m.
        ((STUDY, METRIC), "yd", Fraction("22.5")),
        ((METRIC, LOFT, STUDY), "m", Fraction("30.7")),
    ],
)
def test_unit_of_most_jobs(jobs: Sequence[PlannedJob], unit: str, amount: Fraction) -> None:
    """A cloth is ordered in the unit of most of its jobs; of as many in either, the first's."""
    (line,) = joint_order(jobs).cloth
    assert (line.order.unit, line.order.amount) == (unit, amount)


def test_cuts_of_a_job() -> None:
    """Drops of one length are told together."""
    job = planned(order_toml("hall", PAIR, PAIR.replace("84", "60"), f"{PAIR}\nquantity = 2"))
    (order,) = job.plan.order.cloth
    assert cuts(job, order) == ((12, 100 * INCH), (4, 76 * INCH))


@settings(max_examples=12)
@given(st.permutations(ALL))
def test_order_of_jobs_makes_no_difference(jobs: list[PlannedJob]) -> None:
    """However the jobs are given, the order is the same."""
    assert joint_order(jobs) == joint_order(ALL)
