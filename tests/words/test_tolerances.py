"""What a bar and a taped strip may be off: worked by hand, and the same wherever it is said."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from drapetemplate.measures import INCH, Units
from drapetemplate.sheets import furniture
from drapetemplate.words.tolerances import (
    JOIN_OFF,
    SCALE_OFF,
    bars_may_be_off,
    said_off,
    strip_may_be_off,
    taped_to_measure,
)

README = Path(__file__).parents[2] / "README.md"


@pytest.mark.parametrize(
    ("inches", "joins", "mm", "in_inches", "in_mm"),
    [
        # 1905/400 = 4.7625, and 9 x 0.25 = 2.25: 7.0125 mm, 8.83 of 1/32 in.
        ("75", 9, "7.0125", "1/4 in", "7 mm"),
        # 2000.25/400 + 2.25 = 7.250625 mm, 9.13 of 1/32 in.
        ("78.75", 9, "7.250625", "9/32 in", "7 mm"),
        # 381/400 + 0.25 = 1.2025 mm, 1.5 of 1/32 in.
        ("15", 1, "1.2025", "1/32 in", "1 mm"),
        # One page of a roll: 5080/400 = 12.7 mm.
        ("200", 0, "12.7", "1/2 in", "12.5 mm"),
        # 1 m or so in 18 sheets: 1016/400 + 17/4 = 6.79 mm.
        ("40", 17, "6.79", "1/4 in", "6.5 mm"),
        # 127/400 = 0.3175 mm: less than a tape tells.
        ("5", 0, "0.3175", "1/32 in", "0.5 mm"),
    ],
)
def test_strip(inches: str, joins: int, mm: str, in_inches: str, in_mm: str) -> None:
    """A quarter of a per cent of its length and a quarter of a millimetre a join, rounded down."""
    off = strip_may_be_off(Fraction(inches) * INCH, joins)
    assert off == Fraction(mm)
    assert (said_off(off, "in"), said_off(off, "mm")) == (in_inches, in_mm)


def test_over_an_inch() -> None:
    """More than an inch is a mixed number, as a tape has it."""
    assert said_off(Fraction("1.25") * INCH, "in") == "1 1/4 in"
    assert said_off(2 * INCH, "in") == "2 in"


@pytest.mark.parametrize("joins", [1, 5, 20])
@pytest.mark.parametrize("length", [300, 1000, 2700])
def test_bars_and_strip_agree(length: int, joins: int) -> None:
    """A strip of sheets that all just pass by their bars, with every lap just right, passes.

    Printed the largest that a 100 mm bar may read, 100.25 mm for 100, each join cut and laid as
    far to one side as their lines are wide. A bar that a ruler of 1/2 mm reads as 100.5 fails, and
    so does a strip without joins that is printed so.
    """
    stretch = Fraction("100.25") / 100
    lines = (Fraction(str(furniture.CUT_PEN.width)) + Fraction(str(furniture.LAND_PEN.width))) / 2
    taped = length * stretch + joins * lines
    assert taped - length == strip_may_be_off(Fraction(length), joins)
    assert length * Fraction("100.5") / 100 - length > strip_may_be_off(Fraction(length), 0)


def test_lines_are_so_wide() -> None:
    """A join may be off by half of the line that is cut on, and half of that it is laid on."""
    assert float(JOIN_OFF) == (furniture.CUT_PEN.width + furniture.LAND_PEN.width) / 2


def test_bar_between_lines() -> None:
    """What a ruler with a line each 1/2 mm reads as a true 100 mm is within the limit, no more."""
    assert Fraction(1, 2) / 2 == SCALE_OFF * furniture.BAR_MM
    # In inches to a hundredth: 4 in x 0.0025 = 0.01 in; half of 1/64 in is less.
    assert Fraction("0.01") == SCALE_OFF * 4
    assert Fraction(1, 128) < SCALE_OFF * 4


@pytest.mark.parametrize(
    ("units", "bar", "ruler", "strip", "join"),
    [
        ("in", "off by 0.01 in at most", "each 1/64 in", "by 1/4 in:", "0.01 in at each of its 9"),
        ("mm", "off by 0.25 mm at most", "each 1/2 mm", "by 7 mm:", "0.25 mm at each of its 9"),
        ("cm", "off by 0.25 mm at most", "each 1/2 mm", "by 0.7 cm:", "0.25 mm at each of its 9"),
    ],
)
def test_in_the_jobs_units(units: Units, bar: str, ruler: str, strip: str, join: str) -> None:
    """Both are said in what the job is measured in."""
    assert bar in bars_may_be_off(units)
    assert ruler in bars_may_be_off(units)
    said = taped_to_measure(75 * INCH, 9, units)
    assert strip in said
    assert "0.25 % of its length" in said
    assert join in said


def test_joins_counted() -> None:
    """One join is its join; a strip on one page has none, and nothing is said of any."""
    assert taped_to_measure(Fraction(400), 1, "mm").endswith("and 0.25 mm at its join.")
    two = taped_to_measure(Fraction(400), 2, "mm")
    assert " may be off by 1.5 mm: " in two
    assert two.endswith("and 0.25 mm at each of its 2 joins.")
    assert taped_to_measure(Fraction(400), 0, "mm") == (
        "The whole strip may be off by 1 mm: 0.25 % of its length, as its bars may be."
    )


def test_readme_says_the_same() -> None:
    """README gives the same figures for bar, strip and join, and works one strip."""
    text = " ".join(README.read_text(encoding="utf-8").split())
    assert "0.25 mm (0.01 in)" in text
    assert "0.25 % of its length, and 0.25 mm (0.01 in) at each join" in text
    off = said_off(strip_may_be_off(75 * INCH, 8), "in")
    assert f"75 in in 9 sheets may be off by {off}" in text
    assert "0.5 mm" not in text
