"""How far a print and a taped strip may be off, in one place: what each page says agrees.

A bar. It is read to the nearest line of a ruler (common practice), which has one each 1/2 mm or
1/64 in. One that reads 100 mm is off by half of 1/2 mm at most: 0.25 mm, a quarter of a per cent.
The 4 in bar tells a little more: half of 1/64 in of 4 in is a fifth of a per cent.

A strip. A printer stretches every sheet alike, so what a bar may be off goes on along the whole
strip: `SCALE_OFF` of its length. At a join the cut edge may lie anywhere in the solid line, and on
the sheet below anywhere in the dashed one. Both are 0.25 mm wide, so an edge is off by half of
each: `JOIN_OFF`. One hand errs the same way at every join, so joins are added up, not evened out.

78 3/4 in in 10 sheets: 2000.25 mm / 400 + 9 x 0.25 mm = 7.25 mm, a little over 1/4 in. A strip that
is off by more has sheets that should have failed by their bars, or a join that slipped.
"""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.measures import INCH, MM, Length, Units, format_length

SCALE_OFF = Fraction(1, 400)
"""What a bar may be off, as a share of its length; and so a strip, by its print alone."""

JOIN_OFF = MM / 4
"""What a join may be off: half of either line's width."""

STEP_OFF = MM
"""What a hole may be off that a stepping piece marks; its measure is taken by ruler (common
practice: a pencil's line and a ruler's reading, half a millimetre each)."""


def strip_may_be_off(length: Length, joins: int) -> Length:
    """Return how far a taped strip of this length and so many joins may be off, in the whole.

    Exact, to either side. The same holds from any place on it to another, with the joins between.

    >>> float(strip_may_be_off(Length(2000), 9))
    7.25
    """
    return length * SCALE_OFF + joins * JOIN_OFF


def said_off(off: Length, units: Units) -> str:
    """Return what something may be off as a tape can tell it, rounded down to 1/32 in or 1/2 mm.

    One line of a tape at least, since it tells no less.

    >>> said_off(Fraction("7.25"), "in"), said_off(Fraction("7.25"), "mm")
    ('9/32 in', '7 mm')
    >>> said_off(Fraction("0.6"), "in"), said_off(Fraction("4.9"), "cm")
    ('1/32 in', '0.45 cm')
    """
    line = INCH / 32 if units == "in" else MM / 2
    lines = max(off // line, 1)
    if units != "in":
        return format_length(lines * line, units)
    whole, part = divmod(Fraction(lines, 32), 1)
    return f"{' '.join(str(number) for number in (whole, part) if number)} in"


def bars_may_be_off(units: Units) -> str:
    """Return what a sheet's bars may be off, how a ruler shows it, and what then, in sentences."""
    bar, ruler = _quarter_mm(units), "1/64 in" if units == "in" else "1/2 mm"
    return (
        f"Each may be off by {bar} at most: on a ruler with a line each {ruler} its end is nearer "
        "to the line that it should meet than to the next. Don't use a sheet that is off by more."
    )


def taped_to_measure(length: Length, joins: int, units: Units) -> str:
    """Return what a taped strip may be off, and why, as a sentence."""
    off = said_off(strip_may_be_off(length, joins), units)
    where = f"each of its {joins} joins" if joins > 1 else "its join"
    at_joins = f", and {_quarter_mm(units)} at {where}" if joins else ""
    return f"The whole strip may be off by {off}: {_of_its_length()}{at_joins}."


def _of_its_length() -> str:
    return f"{float(SCALE_OFF) * 100:g} % of its length, as its bars may be"


def _quarter_mm(units: Units) -> str:
    """What a 100 mm bar may be off, and a join: in inches to a hundredth, as steel rulers read."""
    return "0.01 in" if units == "in" else "0.25 mm"


STRIP_IS_OFF = (
    (
        "Off evenly (half way along by half as much): that is the printer. Calibrate it with "
        "drapetemplate calibrate, and print again."
    ),
    (
        "True up to one place, and off by the same from there on: that is the join there. Take it "
        "apart and tape it again. Measured from the other edge, the fault shows from the other "
        "side."
    ),
)
"""What to do about a strip that is off by more, as sentences: for its printer, and for a join."""
