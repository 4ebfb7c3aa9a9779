"""What a check sheet's long bars measured in, a printer's factors out."""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.errors import Fault, FileError
from drapetemplate.job.defaults import PAPER_EDGE
from drapetemplate.job.factors import Factors, read_name, within
from drapetemplate.job.paper_sizes import PaperSize
from drapetemplate.measures import INCH, Length, format_length, parse_length, shown
from drapetemplate.words.bar_readings import CLOSE, readings_for_100, settings_that_give

LONG = Fraction(150)
SHORT = Fraction(100)
CORNER = Fraction(20)
AGAIN = "print at actual size (100 %, no fit, no shrink) and measure again"
SCALED = f"{AGAIN}; {readings_for_100()}"
SURE = "--sure keeps it all the same"


def long_bar(paper: PaperSize) -> Length:
    """How long this paper's long bars are, across and down alike."""
    return LONG if paper.width - 2 * PAPER_EDGE >= CORNER + LONG + Fraction(1, 2) else SHORT


def measured_factors(
    paper: PaperSize, across: str, down: str, name: str, *, sure: bool = False
) -> Factors:
    """Factors from what the long bars of this paper's check sheet measured, as people write it.

    A bare number is millimetres. FileError with a fault an option: not a length, no length that
    bar can have, or so far off that a setting scaled the page. Unless one is `sure`, also for what
    another bar reads, and where both read what a known setting makes of them.
    """
    faults, factors = [], {}
    for option, text in (("--across", across), ("--down", down)):
        try:
            factors[option] = _factor(text, long_bar(paper), sure=sure)
        except ValueError as error:
            faults.append(Fault(option, str(error)))
    try:
        name = read_name(name)
    except ValueError as error:
        faults.append(Fault("--save", str(error)))
    if len(factors) == 2 and not sure:
        faults += _set_so(1 / factors["--across"], 1 / factors["--down"])
    if faults:
        raise FileError(faults)
    return Factors(name, factors["--across"], factors["--down"])


def _set_so(across: Fraction, down: Fraction) -> list[Fault]:
    """A fault where a known setting makes both bars read these shares of their length."""
    settings = settings_that_give(across, down)
    if not settings:
        return []
    causes = " or ".join(f"{setting.cause} ({setting.reading()})" for setting in settings)
    text = (
        f"{float(across) * 100:.1f} and {float(down) * 100:.1f} for 100 look like {causes}, not "
        f"like the printer: {AGAIN}; {SURE}"
    )
    return [Fault("--across, --down", text)]


def _factor(text: str, nominal: Length, *, sure: bool) -> Fraction:
    reading = parse_length(text, "mm")
    should = format_length(nominal, "mm")

    def reads(length: Length) -> bool:
        return abs(reading - length) <= length * CLOSE

    if reads(4 * INCH) and not (sure and nominal == SHORT):
        text = f"{shown(text)} is the 4 in bar's 101.6 mm: measure the heavy bar, {should}"
        raise ValueError(f"{text}; {SURE}" if nominal == SHORT else text)
    if reads(SHORT) and nominal == LONG:
        raise ValueError(f"{shown(text)} is the square's 100 mm: measure the heavy bar, {should}")
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
