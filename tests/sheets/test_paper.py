"""Papers, margins and overlaps that won't do: each refusal names what will."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from drapetemplate.errors import PaperError
from drapetemplate.measures import parse_length
from drapetemplate.sheets.tiling import check_paper
from tests.helpers.strips import Spec

# Inches in a millimetre.
MM = Fraction(10, 254)


def faults(spec: Spec) -> list[str]:
    """What is wrong with a job's paper."""
    job = spec.job()
    with pytest.raises(PaperError) as caught:
        check_paper(job.paper, job.units)
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
    assert job.paper.height == check_paper(job.paper, job.units)
    # Rounded down to a sixteenth of an inch or a tenth of a millimetre.
    step = Fraction(254, 160) if units == "in" else Fraction(1, 10)
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
    assert job.paper.height == check_paper(job.paper, job.units)


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
    assert check_paper(job.paper, job.units) == 200 * Fraction(254, 10)
    assert faults(Spec(size="24 in roll", orientation="portrait")) == [
        'paper.orientation: "portrait" on a roll, along which a strip runs: leave orientation out'
    ]


def test_roll_margin() -> None:
    """A roll too narrow for its margins is refused with the margin that works, as a sheet is.

    The bars need 101.6 + 11 + 1 = 113.6 mm; 6 in are 152.4: (152.4 - 113.6)/2 = 19.4 mm.
    """
    [fault] = faults(Spec(size="6 in roll", margin="1", units="mm"))
    needs = "the check bars need 113.6 mm each way: 19.4 mm or less"
    assert fault == f"paper.margin: 25.4 mm leaves 101.6 mm across this paper and {needs}"


def test_too_many_sheets() -> None:
    """A strip that would take over 2000 sheets is refused before any is drawn."""
    spec = Spec(width="3900", count="2", band="60", above="1")
    with pytest.raises(PaperError, match=r"paper.size: .* over 2000: use larger paper"):
        spec.sheets()
