"""Sizes of paper: pages by name, and the longest that a page can be."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.job.fields import read_paper
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.measures import INCH


def test_pages_by_name() -> None:
    """Upright, to the last digit: inches in North America, ISO 216 elsewhere (PWG 5101.1)."""
    inches = {"letter": ("8.5", "11"), "legal": ("8.5", "14"), "tabloid": ("11", "17")}
    mm = {"a4": (210, 297), "a3": (297, 420)}
    in_mm = {name: (INCH * Fraction(w), INCH * Fraction(h)) for name, (w, h) in inches.items()} | mm
    assert {name: (size.width, size.height) for name, size in SHEETS.items()} == in_mm


def test_the_longest_page() -> None:
    """200 in, which is 14,400 units of 1/72 in (ISO 32000-1, annex C), and not a bit more."""
    assert read_paper("200 x 8 in", "in").height == 200 * INCH
    for longer in ("200 1/16 x 8 in", "5080.1 x 200 mm"):
        with pytest.raises(ValueError, match="more than 0, up to 200 in"):
            read_paper(longer, "in")
