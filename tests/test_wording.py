"""Figures in words: exact where a ruler's steps can be, and where lines of them may break."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.measures import INCH, Length, Units
from drapetemplate.wording import (
    PAGE_BREAKS,
    SCREEN_BREAKS,
    Wording,
    all_of,
    counted,
    degrees,
    joined,
    load,
    number,
    times,
    weight_in,
)


@pytest.mark.parametrize(
    ("length", "units", "expected"),
    [
        (INCH * Fraction(151, 2), "in", "75 1/2 in"),
        # What inches round is told in millimetres too where those are exact, and the other way.
        (Fraction(5), "in", "≈ 3/16 in (5 mm)"),
        (INCH / 3, "in", "≈ 5/16 in"),
        (Fraction(2380), "mm", "2380 mm"),
        (INCH / 16, "mm", "1.6 mm (1/16 in)"),
        (INCH / 16, "cm", "0.16 cm (1/16 in)"),
        (INCH / 64, "mm", "0.4 mm"),
        (INCH, "cm", "2.54 cm"),
        (INCH / 3, "mm", "8.5 mm"),
    ],
)
def test_exact(length: Length, units: Units, expected: str) -> None:
    """A measure is told in the job's units, and exactly wherever a ruler's steps can."""
    assert Wording(units).exact(length) == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (Fraction(2), "2"),
        (Fraction(9, 4), "2.25"),
        (Fraction(7, 3), "2 1/3"),
        (Fraction(1, 3), "1/3"),
        (Fraction(100), "100"),
        (Fraction(0), "0"),
        (Fraction(23456, 10000), "2.3456"),
    ],
)
def test_number(value: Fraction, expected: str) -> None:
    """A number is told as it is, with a fraction where no short decimal is exact."""
    assert number(value) == expected


def test_counted() -> None:
    """One of a thing, or more in the plural."""
    assert [counted(n, "drop") for n in (0, 1, 2)] == ["0 drops", "1 drop", "2 drops"]


@pytest.mark.parametrize(
    ("text", "page", "screen"),
    [
        ("a gap of ≈ 5 13/16 in or so", 5, 5),
        ("1 in 2 mm 3 oz/yd² 4 times", 3, 3),
        # What a number counts stays with it in a terminal's short lines, not on a page.
        ("take 16 eyelets", 2, 1),
        ("take 16 inside", 2, 1),
        ("1 2 3", 2, 2),
    ],
)
def test_where_a_line_breaks(text: str, page: int, screen: int) -> None:
    """A number never parts from its sign, its fraction or its unit; a list of numbers does."""
    assert len(PAGE_BREAKS.findall(text)) == page
    assert len(SCREEN_BREAKS.findall(text)) == screen


def test_figures_on_the_safe_side() -> None:
    """What must hold as printed is rounded that way: by the sixteenth, or by the millimetre."""
    inch, mm, cm = Wording("in"), Wording("mm"), Wording("cm")
    room = INCH * Fraction(131, 64)  # 2 3/64
    assert (inch.at_least(room), inch.at_most(room)) == ("2 1/16 in", "2 in")
    assert (inch.deep(room), inch.free(room, "{} free", "{} short")) == ("2 1/16 in", "2 in free")
    assert inch.free(-room, "{} free", "{} short") == "2 1/16 in short"
    assert inch.free(Length(0), "{} free", "{} short") == "0 in free"
    metric = Fraction("45.4")
    assert (mm.at_least(metric), mm.at_most(metric), mm.hung(metric)) == ("46 mm", "45 mm", "45 mm")
    assert (cm.at_least(metric), cm.deep(metric), cm.hung(metric)) == ("4.6 cm", "4.6 cm", "4.5 cm")
    assert cm.free(-metric, "{} free", "{} short") == "4.6 cm short"
    assert inch.hung(INCH * 5 / 32) == "≈ 3/16 in"


def test_figures_that_may_be_missing_or_in_both_systems() -> None:
    """Nothing stands for no figure; the other system is beside it where it is asked for."""
    say = Wording("in")
    assert (say.known(None), say.known(INCH), say.bare(None), say.bare(INCH)) == (
        ("not known", "1 in", "-", "1")
    )
    assert say.in_both(Fraction("0.625")) == "≈ 0 in (0.625 mm)"
    assert say.in_both(INCH / 3) == "≈ 5/16 in (8.5 mm)"
    assert Wording("mm").in_both(Fraction(5)) == "5 mm (≈ 3/16 in)"


def test_weights_and_others() -> None:
    """Weights as scales show them, in whole ounces or tenths of a kilogram."""
    grams = Fraction(2400)  # 84.66 oz
    assert (weight_in(grams, "in"), weight_in(grams, "cm")) == ("5 lb 5 oz", "2.4 kg")
    assert (weight_in(Fraction(450), "in"), weight_in(Fraction(440), "in")) == (
        "1 lb 0 oz",
        "1 lb 0 oz",
    )
    assert weight_in(Fraction(439), "in") == "15 oz"
    assert load(grams, "cm") == "2.4 kg (5 lb 5 oz)"
    assert load(grams, "in") == "5 lb 5 oz (2.4 kg)"
    assert (times(Fraction(9, 4)), times(Fraction(2))) == ("2.25 times", "2.00 times")
    assert (degrees(44.99), degrees(45 - 1e-12), degrees(45.0)) == ("44°", "45°", "45°")


def test_names_in_a_row() -> None:
    """Windows are parted by what no name is read with, words by commas and a last "and"."""
    assert joined(["Bay, left", "Door"]) == "Bay, left + Door"
    assert all_of(["a"]) == "a"
    assert all_of(["a", "b", "c"]) == "a, b and c"
