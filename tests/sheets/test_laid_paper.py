"""Paper as sheets are laid out on it: for a printer, and refused by naming what will do."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from drapetemplate.document.job_document import documents
from drapetemplate.errors import PaperError
from drapetemplate.job.factors import Factors
from drapetemplate.measures import INCH, parse_length
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.laid_paper import laid_paper
from tests.helpers.jobfiles import job_of
from tests.helpers.strips import FIXED, Spec

# Inches in a millimetre.
MM = Fraction(10, 254)
OFF = Factors("workroom laser", Fraction(101, 100), Fraction(985, 1000))


def faults(spec: Spec) -> list[str]:
    """What is wrong with a job's paper."""
    job = spec.job()
    with pytest.raises(PaperError) as caught:
        laid_paper(job.paper, None, job.units)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("size", ["letter", "a4", "7 x 8 in"])
def test_margin_too_big(size: str, units: str) -> None:
    """The refusal of a margin names one that then works, and hardly more would."""
    spec = Spec(size=size, margin="3", units=units)
    [fault] = faults(spec)
    assert fault.startswith("paper.margin: ")
    allowed = re.search(r": ([^:]+) or less$", fault)
    assert allowed is not None
    most = parse_length(allowed[1], "in")
    job = spec.but(margin=str(most * MM)).job()
    assert job.paper.height == laid_paper(job.paper, None, job.units).height
    # Rounded down to a sixteenth of an inch or a millimetre.
    step = Fraction(254, 160) if units == "in" else Fraction(1)
    assert faults(spec.but(margin=str((most + step) * MM)))


@pytest.mark.parametrize("units", ["in", "mm"])
def test_paper_too_small(units: str) -> None:
    """Paper that no margin helps is told so."""
    [fault] = faults(Spec(size="4 x 9 in", units=units))
    assert fault.startswith(
        "paper.size: 4 x 9 in is too small for a template sheet: the check bars need "
    )


@pytest.mark.parametrize(
    ("overlap", "allowed"),
    [
        # A registration mark is 6 mm across.
        pytest.param(
            "1/8",
            r"^paper.overlap: .* is too little: the registration marks need ([^:]+) or more$",
            id="small",
        ),
        pytest.param(
            "3", r"^paper.overlap: .* is too much: ([^:]+) or less on this paper$", id="large"
        ),
    ],
)
@pytest.mark.parametrize("units", ["in", "mm"])
def test_overlap(overlap: str, allowed: str, units: str) -> None:
    """The refusal of an overlap names one that then works."""
    spec = Spec(overlap=overlap, units=units)
    [fault] = faults(spec)
    found = re.search(allowed, fault)
    assert found is not None
    works = parse_length(found[1], "in")
    job = spec.but(overlap=str(works * MM)).job()
    assert job.paper.height == laid_paper(job.paper, None, job.units).height


def test_overlap_limits() -> None:
    """Overlaps from 6 mm to a quarter of what the sheet prints work, and no others.

    Letter, margins of 1/2 in: 215.9 - 25.4 = 190.5 mm, a quarter of which is 47.625.
    """
    for overlap in (Fraction(6), Fraction(47625, 1000)):
        assert Spec(overlap=str(overlap * MM)).sheets().sheets
    for overlap in (Fraction(599, 100), Fraction(47626, 1000)):
        assert faults(Spec(overlap=str(overlap * MM)))


def test_roll() -> None:
    """A roll has room for a page of 200 in; a strip that should run across it is refused."""
    job = Spec(size="24 in roll").job()
    assert laid_paper(job.paper, None, job.units).height == 200 * Fraction(254, 10)
    assert faults(Spec(size="24 in roll", orientation="portrait")) == [
        'paper.orientation: "portrait" on a roll, along which a strip runs: leave orientation out'
    ]


def test_roll_margin() -> None:
    """A roll too narrow for its margins is refused with the margin that works, as a sheet is.

    The bars and a label need 101.6 + 12 = 113.6 mm; 6 in are 152.4: half of 38.8 mm is 19.4, so 19.
    """
    [fault] = faults(Spec(size="6 in roll", margin="1", units="mm"))
    needs = "the check bars need 113.6 mm each way: 19 mm or less"
    assert fault == f"paper.margin: 25.4 mm leaves 101.6 mm across this paper and {needs}"


def test_too_many_sheets() -> None:
    """A strip that would take over 2000 sheets is refused before any is drawn."""
    spec = Spec(width="3900", count="2", band="60", above="1")
    with pytest.raises(PaperError, match=r"paper.size: .* over 2000: use larger paper"):
        spec.sheets()


def test_corrected() -> None:
    """Paper is measured in what comes out as millimetres; the margin by the smaller factor."""
    job = Spec(size="letter", margin="1/2").job()
    found = laid_paper(job.paper, OFF, job.units)
    assert (found.width, found.height) == (
        job.paper.width / Fraction(101, 100),
        Fraction(11) * INCH / Fraction(985, 1000),
    )
    assert found.margin == INCH / 2 / Fraction(985, 1000)
    assert (found.overlap, found.name) == (job.paper.overlap, "letter")
    assert found.scale == (OFF.across, OFF.down)


@pytest.mark.parametrize("size", ["letter", "200 x 200 mm", "24 in roll"])
def test_pages_keep_their_size(size: str) -> None:
    """Pages are the paper's own size to the last digit, whatever the factors; a roll's width is."""
    job = Spec(size=size).job()
    first, *_ = documents(job, plan(job), FIXED, factors=OFF)
    true = job.paper
    assert first.scale == (OFF.across, OFF.down)
    assert first.width == true.width
    if true.height is not None:
        assert first.height == true.height


def test_roll_ticket_is_not_corrected() -> None:
    """A roll's ticket goes to another printer: it is true as it is."""
    job = Spec(size="24 in roll").job()
    _, read = documents(job, plan(job), FIXED, factors=OFF)
    assert read.scale == (Fraction(1), Fraction(1))
    assert (read.width, read.height) == (Fraction(17, 2) * INCH, 11 * INCH)


def test_roll_no_longer_than_a_page_can_be() -> None:
    """A roll's page is at most 200 in as it is written, not only as it is laid out."""
    spec = Spec(size="24 in roll", width="196", count="40")
    plain = documents(spec.job(), plan(spec.job()), FIXED)[0]
    assert 197 * INCH < plain.height < 200 * INCH
    factors = Factors("a", Fraction(1), Fraction(103, 100))
    corrected = documents(spec.job(), plan(spec.job()), FIXED, factors=factors)[0]
    assert corrected.height <= 200 * INCH


def test_no_room_once_corrected() -> None:
    """Paper that has just room says what is in the way once it is corrected."""
    # The bars need 4 in + 12 mm = 113.6 mm.
    tight = '[paper]\nsize = "126.3 x 200 mm"\nmargin = "6.35 mm"'
    job = job_of("width = 40", tables=tight)
    with pytest.raises(PaperError) as refused:
        laid_paper(job.paper, OFF, job.units)
    assert str(refused.value) == (
        "paper.margin: leaves no room on this paper for printer workroom laser: "
        "×1.0100 across, ×0.9850 down: give less"
    )


def test_no_room_at_all() -> None:
    """Paper that has no room for a sheet anyway is told in its own measures."""
    job = job_of("width = 40", tables="[paper]\nmargin = 4")
    with pytest.raises(PaperError, match=r"paper.margin: 4 in leaves 1/2 in across"):
        laid_paper(job.paper, OFF, job.units)
