"""What a check sheet's long bars measured in, a printer's factors out."""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.errors import Fault, FileError
from drapetemplate.job.defaults import PAPER_EDGE
from drapetemplate.job.factors import Factors, read_name, within
from drapetemplate.job.paper_sizes import PaperSize
from drapetemplate.measures import Length, format_length, parse_length, shown
from drapetemplate.words.bar_readings import readings_for_100

LONG = Fraction(150)
SHORT = Fraction(100)
CORNER = Fraction(20)
SCALED = "print at actual size (100 %, no fit, no shrink) and measure again; " + readings_for_100()


def long_bar(paper: PaperSize) -> Length:
    """How long this paper's long bars are, across and down alike."""
    return LONG if paper.width - 2 * PAPER_EDGE >= CORNER + LONG + Fraction(1, 2) else SHORT


def measured_factors(paper: PaperSize, across: str, down: str, name: str) -> Factors:
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
