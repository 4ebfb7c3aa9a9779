"""What a PDF's sheets measure once taped, strip by strip, read off as a workroom would.

Nothing here knows the package: a strip is found by its sheets' titles, its parts are taped by their
registration marks, and every mark is known by its pen, as the eye knows it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from io import BytesIO
from math import hypot

import pdfplumber

from tests.helpers import pages
from tests.helpers.pages import REGISTRATION, Round, Sheet, Stroke, Words

FINE, HOLE, OUTSIDE, BAND, END, SEAM, SHEET_LINE = 0.2, 0.7, 0.3, 0.35, 0.5, 0.6, 0.25
TICK = 4.1  # mm that a bar's is shorter than
SIDE = "(?:LEFT|RIGHT|SINGLE)"
TITLE = re.compile(
    rf"Sheet [A-Z]*\d+ of \d+ · ({SIDE}(?: \+ {SIDE})? panel)(?:, (.+?))? · (?:FACE|BACK)"
    r"(?: · ↑ TOP)?(?: · (.+))?"
)
MEASURE = re.compile(r"(?:≈ )?(?:(\d+) )?(?:(\d+)(?:/(\d+))? in|(\d+(?:\.\d+)?) (mm|cm))")
FIGURED = "Printing and taping"
MM = {"mm": 1, "cm": 10}


def measure_of(text: str) -> float | None:
    """A printed measure in mm; None where the words are none."""
    found = MEASURE.fullmatch(text)
    if found is None:
        return None
    whole, top, under, metric, unit = found.groups()
    if metric is not None:
        return None if whole else float(metric) * MM[unit]
    inches = Fraction(int(top), int(under or 1))
    if whole is not None:
        if under is None:
            return None
        inches += int(whole)
    return float(inches * Fraction(254, 10))


@dataclass(frozen=True)
class Taped:
    """One strip: what its sheets say that it is, how they lie, and its parts taped together."""

    window: str
    panel: str
    piece: str | None
    heading: str
    sheets: tuple[Sheet, ...]
    parts: tuple[Sheet, ...]
    rows: int
    lanes: int

    def strokes(self, pen: float, *, dashed: bool) -> list[Stroke]:
        """Every line of one pen."""
        return [
            s
            for part in self.parts
            for s in part.strokes
            if abs(s.pen - pen) < 0.01 and s.dashed is dashed
        ]

    def uprights(self, pen: float, *, dashed: bool) -> list[float]:
        """Where uprights of one pen stand along the strip, each place once."""
        return pages.distinct(s.x1 for s in self.strokes(pen, dashed=dashed) if s.upright)

    def rounds(self, pen: float) -> list[Round]:
        """Whole circles of one pen, each once, from left to right."""
        found: list[Round] = []
        for one in sorted(
            (c for part in self.parts for c in part.rounds if abs(c.pen - pen) < 0.01),
            key=lambda c: (c.x, c.y),
        ):
            if not any(
                hypot(one.x - c.x, one.y - c.y) < pages.SAME
                and abs(one.diameter - c.diameter) < pages.SAME
                for c in found
            ):
                found.append(one)
        return found

    def arcs(self, pen: float) -> list[tuple[float, float]]:
        """Points of circles of one pen that sheets cut."""
        return [(x, y) for part in self.parts for x, y, w in part.arcs if abs(w - pen) < 0.01]

    @cached_property
    def band(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the band, by the lines along its edges."""
        edges = [s for s in self.strokes(BAND, dashed=False) if s.level]
        low, high = pages.distinct(s.y1 for s in edges)
        return min(s.x1 for s in edges), low, max(s.x2 for s in edges), high

    def words(self) -> Iterator[Words]:
        """Every line of text that reads along the strip."""
        return (w for part in self.parts for w in part.words if w.level)

    def joins(self) -> list[float]:
        """Where registration marks stand above or below the band, along the strip."""
        _, low, _, high = self.band
        return pages.distinct(
            c.x for part in self.parts for c in part.circles(REGISTRATION) if not low < c.y < high
        )


@dataclass(frozen=True)
class Read:
    """What is read off a job's PDFs: strips, their band's corner anywhere; the ticket's lines.

    `pages` are those with sheets, as they are printed.

    The ticket is read to the page where it begins to say how to print: figures come before.
    """

    strips: tuple[Taped, ...]
    ticket: tuple[str, ...]
    pages: tuple[Sheet, ...]


def read(data: Iterable[bytes], scale: tuple[float, float]) -> Read:
    """A job's PDFs, read off: the sheets and the ticket alone, which a viewer's labels tell."""
    strips: dict[str, list[Sheet]] = {}
    printed: list[Sheet] = []
    ticket: list[str] = []
    for one in data:
        with pdfplumber.open(BytesIO(one)) as pdf:
            for number, page in enumerate(pdf.pages):
                label = page.page_obj.label or ""
                if "ticket" in label and FIGURED not in ticket:
                    ticket += pages.lines_of(page)
                elif "sheet" in label or "roll page" in label:
                    sheet = pages.sheet_on(page, number, turned=None, scale=scale)
                    assert sheet is not None, label
                    printed.append(sheet)
                    for letter, piece in pages.sheets_cut(_barless(_bare(sheet))):
                        strips.setdefault(letter, []).append(piece)
    groups = [sorted(own, key=lambda piece: piece.number) for own in strips.values()]
    return Read(tuple(map(_taped, groups)), tuple(ticket), tuple(printed))


def _bare(sheet: Sheet) -> Sheet:
    """A sheet without its bars' words, and circles of its map as large as registration marks.

    Those have crosses; under the bar of 100 mm stand the words of both, and those of the bars down
    by their lower ends, left of them.
    """
    bars = [s.y1 for s in sheet.strokes if s.level and abs(s.length - 100) < pages.SAME]
    assert bars, f"no bar of 100 mm across on sheet {sheet.number}"

    def crossed(c: Round) -> bool:
        return any(
            abs(s.length - 6) < 0.01
            and abs(s.x1 + s.x2 - 2 * c.x) < 0.02
            and abs(s.y1 + s.y2 - 2 * c.y) < 0.02
            for s in sheet.strokes
        )

    kept = (c for c in sheet.rounds if abs(c.diameter - REGISTRATION) > 0.01 or crossed(c))
    down = [
        s
        for s in sheet.strokes
        if s.upright and abs(s.pen - SHEET_LINE) < 0.01 and _is_bar(s.length)
    ]
    words = tuple(
        w
        for w in sheet.words
        if not w.level
        or (w.y > min(bars) and not any(0 < s.x1 - w.end < 2 and abs(w.y - s.y1) < 3 for s in down))
    )
    return replace(sheet, rounds=tuple(kept), words=words)


def _barless(page: Sheet) -> Sheet:
    """A page without its bars and their ticks: on a roll they belong to none of its sheets."""
    kept = (
        s
        for s in page.strokes
        if abs(s.pen - SHEET_LINE) > 0.01 or not (s.length < TICK or _is_bar(s.length))
    )
    return replace(page, strokes=tuple(kept))


def _is_bar(length: float) -> bool:
    return any(abs(length - bar) < pages.SAME for bar in (100, 101.6))


def _taped(group: list[Sheet]) -> Taped:
    # From the top: the title, the window's name in its line or the next, and what else it says.
    lines = sorted((w for w in group[0].words if w.level), key=lambda w: -w.y)
    said = ["".join(w.text for w in lines if abs(w.y - y) < 0.01) for y in _levels(lines)]
    named = TITLE.fullmatch(said[0])
    assert named is not None, f"a sheet that doesn't say what it is of: {said[0]}"
    # A row's lower edge is where the next one lands, a level dashed line of a sheet's own pen.
    over = any(s.level and s.dashed and abs(s.pen - SHEET_LINE) < 0.01 for s in group[0].strokes)
    lanes = [[sheet] if over else pages.lanes(sheet) for sheet in group]
    parts = [part for sheet in lanes for part in sheet]
    columns = len(parts)
    if over:
        columns = next((n for n in range(1, len(parts)) if _leftmost(parts[n])), columns)
    panel, piece, window = named.groups()
    window, panel = window or said[1], panel.lower()
    return Taped(
        window,
        panel,
        piece,
        " · ".join(said[:3]),
        tuple(group),
        tuple(pages.taped(parts, columns, (0, 0))),
        len(parts) // columns,
        max(map(len, lanes)),
    )


def _levels(lines: Iterable[Words]) -> list[float]:
    """At which heights lines of words stand, from the top."""
    return list(dict.fromkeys(round(w.y, 3) for w in lines))


def _leftmost(part: Sheet) -> bool:
    """True where nothing is to be cut off at the left."""
    return not any(
        s.upright and not s.dashed and abs(s.pen - SHEET_LINE) < 0.01 for s in part.strokes
    )
