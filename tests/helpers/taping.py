"""Strips in lanes and on rolls, worked by hand, made into PDFs, cut apart and taped."""

from __future__ import annotations

from dataclasses import dataclass

from tests.helpers import pages
from tests.helpers.made import bare
from tests.helpers.pages import Sheet


@dataclass(frozen=True)
class Laid:
    """A job and what its first strip must measure, from its lower left corner as it is seen.

    `lanes` says how many parts each of its sheets has; `first` is the leftmost hole's centre.
    """

    toml: str
    turned: bool
    lanes: tuple[int, ...]
    length: float
    height: float
    first: float
    pitch: float
    count: int
    y: float
    outside: float
    hole: float

    @property
    def centers(self) -> list[float]:
        """Every hole's centre along the strip."""
        return [self.first + i * self.pitch for i in range(self.count)]


@dataclass(frozen=True)
class Taped:
    """A strip's PDF, its sheets as printed, and its parts taped from its lower left corner."""

    laid: Laid
    data: bytes
    sheets: list[Sheet]
    parts: list[Sheet]


def measured(laid: Laid) -> Taped:
    """A job made, its first strip's sheets cut apart along their lines and taped by their marks."""
    data = bare(laid.toml)[0]
    found = pages.sheets(data, turned=laid.turned)[: len(laid.lanes)]
    parts = [part for sheet in found for part in cut_apart(sheet)]
    # The strip's left end, on the first part: where both lines of the band, 0.35 mm wide, begin.
    band = [s for s in parts[0].strokes if s.level and not s.dashed and abs(s.pen - 0.35) < 0.01]
    corner = (min(s.x1 for s in band), min(s.y1 for s in band))
    return Taped(laid, data, found, pages.taped(parts, len(parts), corner))


def cut_apart(sheet: Sheet) -> list[Sheet]:
    """What a sheet is cut into: a roll's page into its sheets, any other into its lanes."""
    if len(pages.cells(sheet)) > 1:
        return [piece for _, piece in pages.sheets_cut(sheet)]
    return pages.lanes(sheet)
