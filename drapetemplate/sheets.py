"""A template and paper in, the sheets that carry it out: one scale, 1:1, whatever the paper.

A strip goes over columns along its length and, where the band is taller than a sheet, over
rows. Neighbours show the same overlap, centred on their join, with registration marks at the
same points of the strip. The page is always upright; a strip that runs along the paper's long
side is drawn turned a quarter, since print pipelines scale what is mixed or rotated.

Frames: the strip's (`template`), the sheet's as it is read (`furniture`), and the page's:
millimetres from the upright page's lower left corner. All are exact until a backend draws.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from drapetemplate import drawing, furniture
from drapetemplate.clip import Window, clipped
from drapetemplate.drawing import Anchor, Line, Mark, Text, Typeface
from drapetemplate.errors import Fault, PaperError
from drapetemplate.furniture import Frame
from drapetemplate.job import Job, Paper
from drapetemplate.joins import Clear, Span, joins, windows
from drapetemplate.measures import Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.template import EDGE_ZONE, Strip, Template

Turn = Literal["portrait", "landscape"]

END_PAD = Fraction(1)
LEAST_OVERLAP = 2 * furniture.REGISTRATION_ARM
MOST_SHEETS = 2000
# A sheet narrower than this between its laps has no room for a join's name.
LEAST_WORDS = 6


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its number, column and row from 0, what it shows of the strip, its page."""

    number: int
    column: int
    row: int
    shown: Window
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a strip falls on sheets of one orientation: joins along it, and between rows."""

    orientation: Turn
    frame: Frame
    columns: Span
    joins: tuple[Length, ...]
    clear: Clear
    levels: Span
    row_joins: tuple[Length, ...]

    @property
    def rows(self) -> int:
        """How many sheets high."""
        return len(self.row_joins) + 1

    @property
    def count(self) -> int:
        """How many sheets in all."""
        return (len(self.joins) + 1) * self.rows

    def joins_from_leading(self, strip: Strip) -> tuple[Length, ...]:
        """Join centres in running order, measured from the leading edge."""
        return tuple(sorted(strip.x(x) for x in self.joins))


@dataclass(frozen=True, slots=True)
class SheetSet:
    """The sheets of one strip."""

    template: Template
    paper: Paper
    tiling: Tiling
    sheets: tuple[Sheet, ...]


def check_paper(paper: Paper, units: Units) -> Length:
    """The paper's height, once it is known to have room for a sheet; PaperError with each fault."""
    if paper.height is None:
        raise PaperError([Fault("paper.size", "a roll can't be laid out yet: name a sheet size")])
    faults = []
    least = furniture.LEAST_PRINTABLE
    short = min(paper.width, paper.height)
    if short - 2 * paper.margin < least:
        needs = f"the check bars need {format_length(least, units)} each way"
        if short < least:
            faults.append(Fault("paper.size", f"too small for a template sheet: {needs}"))
        else:
            left = max(short - 2 * paper.margin, Fraction(0))
            allowed = rounded_down((short - least) / 2, units)
            faults.append(
                Fault(
                    "paper.margin",
                    f"{format_length(paper.margin, units)} leaves {format_length(left, units)} "
                    f"across this paper and {needs}: {format_length(allowed, units)} or less",
                )
            )
    elif paper.overlap < LEAST_OVERLAP:
        need = rounded_up(LEAST_OVERLAP, units)
        text = f"the registration marks need {format_length(need, units)} or more"
        faults.append(Fault("paper.overlap", text))
    elif paper.overlap > (short - 2 * paper.margin) / 4:
        most = rounded_down((short - 2 * paper.margin) / 4, units)
        faults.append(Fault("paper.overlap", f"{format_length(most, units)} or less on this paper"))
    if faults:
        raise PaperError(faults)
    return paper.height


def tile(strip: Strip, paper: Paper, units: Units) -> Tiling:
    """The tiling with the fewest sheets, then the fewest rows, then along the longer side."""
    height = check_paper(paper, units)
    turns: tuple[Turn, ...] = ("landscape", "portrait")
    if paper.orientation != "auto":
        turns = (paper.orientation,)
    tilings = []
    for turn in turns:
        sides = (height, paper.width) if turn == "landscape" else (paper.width, height)
        tilings.append(_tile(strip, paper, Frame(*sides, paper.margin), turn))
    best = min(tilings, key=lambda t: (t.count, t.rows))
    if best.count > MOST_SHEETS:
        text = f"the strip would take {best.count} sheets, over {MOST_SHEETS}: use larger paper"
        raise PaperError([Fault("paper.size", text)])
    return best


def _tile(strip: Strip, paper: Paper, frame: Frame, turn: Turn) -> Tiling:
    even = paper.joins == "even"
    columns = Span(-END_PAD, strip.length + END_PAD, frame.window, paper.overlap)
    rings = sorted((r.x, r.outside, r.hole) for r in strip.rings)
    along, clear = joins(columns, rings, even=even)
    bottom, top = -strip.edge, strip.height + strip.edge
    levels = Span(bottom, top, frame.strip_height, paper.overlap)
    ring = strip.rings[0]
    up, _ = joins(levels, [(ring.y, ring.outside, ring.hole)], even=even)
    return Tiling(turn, frame, columns, along, clear, levels, up)


def sheet_set(template: Template, job: Job, typeface: Typeface) -> SheetSet:
    """Every sheet of a template, each with its page as it will be drawn."""
    tiling = tile(template.strip, job.paper, job.units)
    return SheetSet(template, job.paper, tiling, tuple(_Sheets(template, job, tiling, typeface)))


class _Sheets:
    """The drawing of all sheets of one strip."""

    def __init__(self, template: Template, job: Job, tiling: Tiling, typeface: Typeface) -> None:
        self.template, self.job, self.tiling, self.typeface = template, job, tiling, typeface
        self.frame = tiling.frame
        self.columns = windows(tiling.columns, tiling.joins)
        self.lefts = [left for left, _ in self.columns]
        # Rows are numbered from the top, as they lie on the table.
        self.rows = windows(tiling.levels, tiling.row_joins)[::-1]

    def __iter__(self) -> Iterator[Sheet]:
        pieces = self._pieces()
        furnishing = list(furniture.bars(self.frame, self.typeface))
        for row, (bottom, top) in enumerate(self.rows):
            for column, (left, right) in enumerate(self.columns):
                shown = (left, bottom, right, top)
                number = row * len(self.columns) + column + 1
                dx, dy = self._offset(shown)
                marks = [drawing.moved(mark, dx, dy) for mark in pieces[row, column]]
                marks += [drawing.moved(m, dx, dy) for m in self._lap(row, column, shown)]
                marks += furnishing
                marks += self._heading(number, row, column)
                marks += furniture.strip_map(
                    self.frame, self.template.strip, self.tiling.joins, shown
                )
                if self.tiling.orientation == "landscape":
                    marks = [drawing.turned(mark, self.frame.across) for mark in marks]
                yield Sheet(number, column, row, shown, tuple(marks))

    def _offset(self, shown: Window) -> tuple[Length, Length]:
        """From the strip's frame to the sheet's: a single row is centred in its zone."""
        spare = Fraction(0)
        if len(self.rows) == 1:
            spare = self.frame.strip_height - (shown[3] - shown[1])
        return self.frame.margin - shown[0], self.frame.strip_bottom + spare / 2 - shown[1]

    def _pieces(self) -> dict[tuple[int, int], list[Mark]]:
        """For each (row, column) the parts of the strip's marks on it; text is whole somewhere."""
        cells: dict[tuple[int, int], list[Mark]] = {
            (r, c): [] for r in range(len(self.rows)) for c in range(len(self.columns))
        }
        rights = [right for _, right in self.columns]
        for mark in (*map(self._off_landing, self.template.marks), *self._registration()):
            left, bottom, right, top = drawing.box(mark)
            first = min(bisect_left(rights, left), len(self.columns) - 1)
            last = max(bisect_right(self.lefts, right) - 1, first)
            near = [
                ((row, column), (self.columns[column][0], low, self.columns[column][1], high))
                for row, (low, high) in enumerate(self.rows)
                if low <= top and bottom <= high
                for column in range(first, last + 1)
            ]
            drawn = False
            for cell, window in near:
                for part in clipped(mark, window):
                    cells[cell].append(part)
                    drawn = True
            if not drawn and isinstance(mark, Text):
                cell, moved = _nudged(mark, near)
                cells[cell].append(moved)
        return cells

    def _off_landing(self, mark: Mark) -> Mark:
        """A letter that a landing line would cross, moved into the lap, which holds no flange.

        The next sheet is taped over up to that line, and would hide the letter's other half.
        """
        if self.tiling.clear != "outside" or not mark.role.startswith("letter-"):
            return mark
        left, _, right, _ = drawing.box(mark)
        at = bisect_right(self.lefts, left)
        if at == len(self.lefts) or right <= self.lefts[at]:
            return mark
        return drawing.moved(mark, self.lefts[at] + Fraction(1, 2) - Fraction(left), Fraction(0))

    def _registration(self) -> Iterator[Mark]:
        """Marks on each join's centre line, above and below the band, and where rows join."""
        tiling = self.tiling
        above, below = tiling.levels.end - EDGE_ZONE / 2, tiling.levels.start + EDGE_ZONE / 2
        for x in tiling.joins:
            for y in (above, below, *tiling.row_joins):
                yield from furniture.registration(x, y)
        inset = Fraction(10)
        for y in tiling.row_joins:
            for x in (tiling.columns.start + inset, tiling.columns.end - inset):
                yield from furniture.registration(x, y)

    def _heading(self, number: int, row: int, column: int) -> Iterator[Mark]:
        template, job = self.template, self.job
        total = len(self.rows) * len(self.columns)
        title = " · ".join(
            part for part in (job.details.number, job.details.name) if part is not None
        )
        parts = [template.window, template.panel]
        if number == total:
            closing = format_length(template.strip.length, job.units)
            parts.append(f"check the taped strip: {closing} end to end")
        parts.append(f"seen from the {template.seen}")
        if template.quantity > 1:
            parts.append(f"make {template.quantity}")
        neighbours = self._neighbours(row, column)
        if neighbours:
            parts.append("sheets " + ", ".join(neighbours))
        return furniture.heading(
            self.frame, self.typeface, f"Sheet {number} of {total}", (title, " · ".join(parts))
        )

    def _neighbours(self, row: int, column: int) -> list[str]:
        across, down = len(self.columns), len(self.rows)
        number = row * across + column + 1
        found = []
        if column > 0:
            found.append(f"{number - 1} (left)")
        if column < across - 1:
            found.append(f"{number + 1} (right)")
        if row > 0:
            found.append(f"{number - across} (above)")
        if row < down - 1:
            found.append(f"{number + across} (below)")
        return found

    def _lap(self, row: int, column: int, shown: Window) -> Iterator[Mark]:
        """In the strip's frame: where to cut, where the next sheet lands, and the joins' names."""
        left, bottom, right, top = shown
        overlap = self.job.paper.overlap
        number = row * len(self.columns) + column + 1
        if column > 0:
            yield Line(left, bottom, left, top, furniture.CUT, "cut-line")
            words = f"cut on the solid line, lay over sheet {number - 1}"
            yield from self._join_words(row, shown, left + overlap / 2 + 4, column, words, "start")
        if column < len(self.columns) - 1:
            x = right - overlap
            yield Line(x, bottom, x, top, furniture.LAND, "landing-line")
            words = f"sheet {number + 1} goes on top, up to the dashed line"
            x -= Fraction(3, 2)
            yield from self._join_words(row, shown, x, column + 1, words, "end")
        if row > 0:
            yield Line(left, top, right, top, furniture.CUT, "cut-line")
        if row < len(self.rows) - 1:
            y = bottom + overlap
            yield Line(left, y, right, y, furniture.LAND, "landing-line")

    def _join_words(
        self, row: int, shown: Window, x: Length, join: int, words: str, anchor: Anchor
    ) -> Iterator[Mark]:
        """A join's name above the band and what to do below it, beside the registration marks."""
        left, bottom, right, top = shown
        overlap, edge = self.job.paper.overlap, Fraction(1, 2)
        before, after = left > self.columns[0][0], right < self.columns[-1][1]
        taken = (overlap / 2 + 4 if before else edge) + (overlap + 3 * edge if after else edge)
        most = float(right - left - taken - 1) / (before + after)
        if most < LEAST_WORDS:
            return
        if row == 0:
            yield drawing.text(
                self.typeface,
                x,
                top - 4,
                f"join {join}",
                3.0,
                "join-name",
                anchor=anchor,
                bold=True,
                most=most,
            )
        if row == len(self.rows) - 1:
            yield drawing.text(
                self.typeface, x, bottom + 2, words, 2.6, "lap-words", anchor=anchor, most=most
            )


def _nudged(
    mark: Text, near: Sequence[tuple[tuple[int, int], Window]]
) -> tuple[tuple[int, int], Mark]:
    """Text that is whole on no sheet, shifted into the one that shows the most of it."""
    left, bottom, right, top = drawing.box(mark)

    def shown(window: Window) -> float:
        return (min(right, float(window[2])) - max(left, float(window[0]))) * (
            min(top, float(window[3])) - max(bottom, float(window[1]))
        )

    cell, window = max(near, key=lambda n: shown(n[1]))
    low_x, low_y, high_x, high_y = (float(side) for side in window)
    dx = min(max(0.0, low_x - left), max(0.0, high_x - low_x)) - max(0.0, right - high_x)
    dy = max(0.0, low_y - bottom) - max(0.0, top - high_y)
    return cell, drawing.moved(mark, dx, dy)
