"""Figures in words: exact where a ruler's steps can be, and where lines of them may break."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.measures import INCH, Length, Units
from drapetemplate.wording import PAGE_BREAKS, SCREEN_BREAKS, Wording, counted, number


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
