"""A motif at one height: every drop of the roll begins where it hangs there, and all is bought."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning.drops import drops
from drapetemplate.planning.model import Plan
from drapetemplate.planning.plan import plan
from drapetemplate.ticket.cutting import cutting
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.job_ticket import ticket_paper
from tests.helpers.jobfiles import job_of, mixed, plan_of
from tests.helpers.strips import FIXED

LEAF = '[fabric]\nname = "Leaf"\nwidth = 54\nrepeat_down = 25\nmotif_down = 9\nheading = 8'
WINDOW = "width = 60\nlength = 84\nmotif_below = {}"


def motif_heights(planned: Plan, repeat: Fraction, down: Fraction) -> list[set[Fraction]]:
    """Window by window, from every drop's start to the first motif's centre on it."""
    (order,) = planned.order.cloth
    found: dict[str, set[Fraction]] = {}
    end = Fraction(0)
    for drop in drops(planned, order):
        assert drop.at >= end
        end = drop.at + drop.length
        found.setdefault(drop.window, set()).add((down - drop.at) % repeat)
    assert order.to_buy is not None
    assert end <= order.to_buy - order.allowance
    return list(found.values())


def test_a_height_by_hand() -> None:
    """Motifs at 9, 34, 59 in; one is to hang 20 in below the top, so 28 in from the cut.

    The heading takes 8 in. So the first cut is 34 - 28 = 6 in from the start of the roll. Cuts of
    84 + 8 + 8 = 100 in are four repeats, so all begin alike.
    """
    planned = plan_of(WINDOW.format(20), tables=LEAF)
    (order,) = planned.order.cloth
    first, *others = drops(planned, order)
    assert (first.at, first.length) == (6 * INCH, 100 * INCH)
    assert [drop.at for drop in others] == [(6 + 100 * n) * INCH for n in range(1, len(others) + 1)]
    (use,) = planned.windows[0].cloth
    assert use.motif_cut == 28 * INCH
    assert order.between == 0


def test_windows_at_other_heights() -> None:
    """The second window's cuts begin 7 in farther up the motif: 18 in of cloth lie between."""
    planned = plan_of(WINDOW.format(20), WINDOW.format(27), tables=LEAF)
    (order,) = planned.order.cloth
    assert order.between == 18 * INCH
    assert order.total is not None
    assert order.to_buy == order.total + (4 + 25 + 18) * INCH


def test_without_a_height_all_begins_at_the_start() -> None:
    """A cloth whose motif is known along it is cut as before where no window asks for a height."""
    planned = plan_of("width = 60\nlength = 84", tables=LEAF)
    (order,) = planned.order.cloth
    assert next(drops(planned, order)).at == 0
    assert planned.windows[0].cloth[0].motif_cut is None


def test_the_cutting_page_says_where_to_cut() -> None:
    """From a motif's centre, and how far from the start the first cut is."""
    job = job_of(f'name = "Alcove"\n{WINDOW.format(20)}', tables=LEAF)
    pages = cutting(job, plan(job), paper_flow(ticket_paper(job, None), FIXED))
    words = " ".join(
        mark.text
        for page in pages
        for mark in page
        if isinstance(mark, Text) and mark.role == Role.CAPTION
    )
    assert (
        "Alcove: cut 28 in above a motif's centre, which then hangs 20 in below the finished top; "
        "begin 6 in from the squared start"
    ) in words


def test_what_lies_between_windows_is_shown() -> None:
    """The second window's first cut has its place under the roll, and what lies before it is told.

    Drops begin at 6 in, and the second window's after 18 in more.
    """
    job = job_of(WINDOW.format(20), WINDOW.format(27), tables=LEAF)
    planned = plan(job)
    pages = cutting(job, planned, paper_flow(ticket_paper(job, None), FIXED))
    texts = [mark for page in pages for mark in page if isinstance(mark, Text)]
    measures = [mark.text for mark in texts if mark.role == Role.RUNNING_MEASURE]
    first = planned.windows[0].cloth[0].total
    assert first is not None
    assert f"{first / INCH + 6} in" in measures
    assert f"{first / INCH + 6 + 18} in" in measures
    words = " ".join(mark.text for mark in texts)
    assert "+ 18 in between windows" in words
    assert "18 in more lies between windows" in words


@pytest.mark.parametrize(
    ("below", "tables", "said"),
    [
        ("20", "[fabric]\nwidth = 54", "give repeat_down in [fabric]"),
        ("20", "[fabric]\nwidth = 54\nrepeat_down = 25", "give motif_down in [fabric]"),
        ("20", f"{LEAF}\nrailroad = true", "leave it out"),
        ("84", LEAF, "84 in must be less than the panel's length, 84 in"),
    ],
)
def test_heights_that_cant_be(below: str, tables: str, said: str) -> None:
    """A motif that isn't known along the cloth, lies on its side, or is to hang under the foot."""
    with pytest.raises(JobError) as refused:
        plan_of(WINDOW.format(below), tables=tables)
    (fault,) = refused.value.faults
    assert fault.where == "window[1].motif_below"
    assert said in fault.text


EIGHTHS = st.integers(1, 320).map(lambda n: Fraction(n, 8))


@given(
    repeat=st.integers(16, 240).map(lambda n: Fraction(n, 8)),
    down=EIGHTHS,
    belows=st.lists(EIGHTHS, min_size=1, max_size=3),
    heading=st.integers(0, 80).map(lambda n: Fraction(n, 8)),
    shrinkage=st.sampled_from(["0", "0.04"]),
)
def test_every_drop_begins_at_its_motif(
    repeat: Fraction, down: Fraction, belows: list[Fraction], heading: Fraction, shrinkage: str
) -> None:
    """So that a motif's centre is heading and height below each cut, shrinkage and all."""
    tables = (
        f"[fabric]\nname = 'Leaf'\nwidth = 54\nrepeat_down = '{mixed(repeat)}'\n"
        f"motif_down = '{mixed(down)}'\nheading = '{mixed(heading)}'\nshrinkage = {shrinkage}"
    )
    windows = [WINDOW.format(f"'{mixed(below)}'") for below in belows]
    found = motif_heights(plan_of(*windows, tables=tables), repeat * INCH, down * INCH)
    for below, starts in zip(belows, found, strict=True):
        cut = (heading + below) * (1 + Fraction(shrinkage)) * INCH
        assert starts == {cut % (repeat * INCH)}
