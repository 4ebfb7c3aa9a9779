"""Sizes of paper: pages by their name, and how long a page can be."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drapetemplate.measures import INCH, MM, Length

# A page's side is at most 14,400 units of 1/72 in: ISO 32000-1, annex C.
LONGEST_PAGE = 200 * INCH


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A page upright, `width` <= `height`; a roll's `height` is None. `name` is for people."""

    name: str
    width: Length
    height: Length | None


# North American sizes by their inches, ISO 216 sizes by their mm, as PWG 5101.1 lists them.
SHEETS = {
    "letter": PaperSize("letter", Fraction(17, 2) * INCH, 11 * INCH),
    "legal": PaperSize("legal", Fraction(17, 2) * INCH, 14 * INCH),
    "tabloid": PaperSize("tabloid", 11 * INCH, 17 * INCH),
    "a4": PaperSize("A4", 210 * MM, 297 * MM),
    "a3": PaperSize("A3", 297 * MM, 420 * MM),
}
