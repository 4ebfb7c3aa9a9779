"""A check sheet's readings in, a printer's factors out; and a job laid out for a printer."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from drapetemplate.errors import DrapeError, Fault, FileError, PaperError
from drapetemplate.job.defaults import PAPER_EDGE
from drapetemplate.job.factors import Factors, read_name, within
from drapetemplate.job.model import Job
from drapetemplate.job.paper import PaperSize
from drapetemplate.measures import Length, format_length, parse_length, shown
from drapetemplate.sheets.tiling import check_paper

LONG = Fraction(150)
SHORT = Fraction(100)
CORNER = Fraction(20)
SCALED = (
    "print at actual size (100 %, no fit, no shrink) and measure again; about 90 for 100 means an "
    "A4 file sent to letter paper, about 94 fit to page, 96 to 97 a viewer that shrank the page "
    "to its margins"
)


def long_bar(paper: PaperSize) -> Length:
    """How long this paper's long bars are, across and down alike."""
    return LONG if paper.width - 2 * PAPER_EDGE >= CORNER + LONG + Fraction(1, 2) else SHORT


def measured(paper: PaperSize, across: str, down: str, name: str) -> Factors:
    """Factors from what the long bars of this paper's check sheet measured, as people write it.

    A bare number is millimetres. FileError with a fault an option: not a length, no length that
    bar can have, or so far off that a setting scaled the page.
    """
    faults, factors = [], {}
    for option, text in (("--across", across), ("--down", down)):
        try:
            factors[option] = _factor(text, long_bar(paper))
        except ValueError as error:
            faults.append(Fault(option, str(error)))
    try:
        name = read_name(name)
    except ValueError as error:
        faults.append(Fault("--save", str(error)))
    if faults:
        raise FileError(faults)
    return Factors(name, factors["--across"], factors["--down"])


def _factor(text: str, nominal: Length) -> Fraction:
    reading = parse_length(text, "mm")
    should = format_length(nominal, "mm")
    if not nominal * 4 / 5 <= reading <= nominal * 5 / 4:
        raise ValueError(
            f"{shown(text)} is nowhere near the long bar's {should}: measure it from end tick to "
            'end tick; a bare number is millimetres, inches are written as in "5 57/64 in"'
        )
    if not within(nominal / reading):
        share = float(reading / nominal) * 100
        raise ValueError(
            f"{shown(text)} for {should} is {share:.1f} for 100: more than 3 % is a setting that "
            f"scales the page, not the printer: {SCALED}"
        )
    return nominal / reading


def corrected(job: Job, factors: Factors) -> Job:
    """The job laid out for this printer: its paper in what comes out as millimetres there.

    Every mark is then multiplied by the factors as it is drawn, so that nothing is laid out where
    it would leave the margins. PaperError as `check_paper` has it, and where the correction leaves
    no room on paper that has it otherwise.
    """
    paper = job.paper
    if paper.correction is not None:
        raise ValueError("the job is corrected for a printer already")
    check_paper(paper, job.units)
    laid = replace(
        paper,
        width=paper.width / factors.across,
        height=None if paper.height is None else paper.height / factors.down,
        margin=paper.margin / factors.smaller,
        correction=factors,
    )
    try:
        check_paper(laid, job.units)
    except DrapeError:
        text = f"leaves no room on this paper for printer {factors.words}: give less"
        raise PaperError([Fault("paper.margin", text)]) from None
    return replace(job, paper=laid)
