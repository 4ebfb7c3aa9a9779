"""Text and tables set one under another, over as many pages as they take, as marks.

Frame: the page's, floats in millimetres from its lower left corner; y falls as text is added.
Nothing is drawn outside the margins, and nothing is left out: what doesn't fit a line wraps,
what doesn't fit a page goes on the next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line, Mark, Pen
from drapetemplate.job.model import Details
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.wording import PAGE_BREAKS

LONG_WORD = 500
BODY = 3.1
LEADING = 1.38
RULE = Pen(0.2)
HEAVY = Pen(0.5)
BAR = Pen(1.4)
FRAME = Pen(0.7)

MOST_MARGIN = 20
BESIDE_BAR = 3.0  # mm from the left margin to text beside a bar or in a frame
BETWEEN = 3.0  # mm kept free to the right of a column of pairs
NAME_GAP = 2.0  # mm at least from a pair's name to its value
SHORTEST = 3  # lines of a table worth putting at a page's foot, or on the next
WHOLE = 4  # lines of a paragraph that aren't parted over pages


@dataclass(frozen=True, slots=True)
class _Row:
    """A pair's name and the lines of its value; a row without a name goes on from a column."""

    name: str
    lines: tuple[str, ...]


class Flow:
    """Pages being filled. `width`, `height` and `margin` in mm; `pages` holds finished marks."""

    def __init__(self, typeface: Typeface, width: float, height: float, margin: float) -> None:
        self.typeface = typeface
        self.left, self.right = margin, width - margin
        self.top, self.bottom = height - margin, margin + 6
        self.pages: list[list[Mark]] = [[]]
        self.y = self.top
        self._reserved = 0.0

    def numbered(self, details: Details, kind: str) -> tuple[tuple[Mark, ...], ...]:
        """The finished pages, each with a foot: the job, and which page of its kind this is."""
        name = f"{details.number} · {details.name}" if details.number else details.name
        most = (self.right - self.left) / 2
        y = self.bottom - self._reserved - 5.3
        face, size = self.typeface, 2.4
        pages = []
        for number, page in enumerate(self.pages, 1):
            here = f"{kind}, page {number} of {len(self.pages)}"
            pages.append(
                (
                    *page,
                    drawing.text(face, self.left, y, name, size, "foot", most=most, least=size),
                    drawing.text(face, self.right, y, here, size, "foot", anchor="end"),
                )
            )
        return tuple(pages)

    def room(self, needed: float) -> None:
        """Go to a new page unless `needed` mm are left on this one, or it is empty."""
        if self.y - needed < self.bottom and self.y < self.top:
            self.turn()

    def turn(self) -> None:
        """Go to a new page."""
        self.pages.append([])
        self.y = self.top
        self.bottom -= self._reserved
        self._reserved = 0.0

    def reserve(self, height: float) -> float:
        """Keep `height` mm at the foot of this page free of what flows; the upper end of that."""
        self.bottom += height
        self._reserved += height
        return self.bottom

    def together(self, put: Callable[[], None]) -> None:
        """What `put` adds, all on one page where a whole one has room for it."""
        before = len(self.pages), len(self.pages[-1]), self.y, self.bottom, self._reserved
        fresh = self.y == self.top
        put()
        if fresh or len(self.pages) == before[0]:
            return
        self._undo(*before)
        self.turn()
        put()
        if len(self.pages) > before[0] + 1:
            self._undo(*before)
            put()

    def _undo(self, pages: int, marks: int, y: float, bottom: float, reserved: float) -> None:
        """Take away what was added since there were so many pages, and marks on the last."""
        del self.pages[pages:]
        del self.pages[-1][marks:]
        self.y, self.bottom, self._reserved = y, bottom, reserved

    def space(self, height: float) -> None:
        """Leave white space, but not at the top of a page."""
        if self.y < self.top:
            self.y -= height

    def put(self, x: float, string: str, size: float, role: str, *, bold: bool = False) -> None:
        """One line of text at x on the current baseline, which stays; it must fit."""
        mark = drawing.text(
            self.typeface, x, self.y, string, size, role, bold=bold, most=self.right - x
        )
        self.pages[-1].append(mark)

    def rule(self, pen: Pen = RULE) -> None:
        """A line across the page."""
        self.pages[-1].append(Line(self.left, self.y, self.right, self.y, pen, "rule"))

    def line(
        self, string: str, size: float = BODY, *, bold: bool = False, role: str = "text"
    ) -> None:
        """One line of text, shrunk and cut with a sign where it is too long."""
        self.room(size * LEADING)
        self.y -= size * LEADING
        self.put(self.left, string, size, role, bold=bold)

    def heading(self, string: str, keep: float = 12, size: float = BODY * 1.12) -> None:
        """A heading under a rule, kept on one page with `keep` mm of what follows."""
        self.space(2.2)
        self.room(size * 2 + keep)
        self.rule()
        self.paragraph(string, size, bold=True, role="section")
        self.y -= 0.6

    def paragraph(
        self,
        string: str,
        size: float = BODY,
        *,
        bold: bool = False,
        bullet: str = "",
        indent: float = 0.0,
        role: str = "text",
    ) -> None:
        """Wrapped text, with `bullet` hanging to the left of it; a short one stays on one page."""
        x = self.left + indent
        if bullet:
            bullet = self.typeface.drawable(bullet)
            hang = self.typeface.width(bullet + "  ", size, bold=True)
        else:
            hang = 0.0
        lines = list(self.wrapped(string, size, self.right - x - hang, bold=bold))
        if len(lines) <= WHOLE:
            self.room(min(len(lines) * size * LEADING, self.top - self.bottom))
        for i, part in enumerate(lines):
            self.room(size * LEADING)
            self.y -= size * LEADING
            if bullet and i == 0:
                self.put(x, bullet, size, role, bold=True)
            self.put(x + hang, part, size, role, bold=bold)

    def warning(self, string: str, bullet: str, *, framed: bool = False) -> None:
        """A paragraph that the eye finds: beside a heavy bar, or in a frame with its text bold.

        Kept on one page where one has room for it.
        """
        size = BODY * 1.1
        high = size * LEADING
        inset = BESIDE_BAR
        hang = self.typeface.width(f"{bullet}  ", size, bold=True)
        room = self.right - self.left - hang - 2 * inset
        lines = list(self.wrapped(string, size, room, bold=framed))
        self.space(1.2)
        self.room(min(len(lines) * high, self.top - self.bottom))
        for i, part in enumerate(lines):
            self.room(high)
            self.y -= high
            # From the foot of the line before to the foot of this one.
            low = self.y - 0.36 * size
            pen = FRAME if framed else BAR
            half = pen.width / 2
            sides = (self.left + half, self.right - half) if framed else (self.left + half,)
            self.pages[-1] += [Line(x, low, x, low + high, pen, "bar") for x in sides]
            if framed:
                ends = [low + high] if i == 0 else []
                ends += [low] if i == len(lines) - 1 else []
                self.pages[-1] += [Line(self.left, y, self.right, y, pen, "bar") for y in ends]
            if i == 0:
                self.put(self.left + inset, bullet, size, "finding", bold=True)
            self.put(self.left + inset + hang, part, size, "finding", bold=framed)
        self.y -= 0.36 * size

    def wrapped(
        self, string: str, size: float, most: float, *, bold: bool = False
    ) -> Iterator[str]:
        """The text in lines of at most `most` mm; a word longer than a line is cut in two.

        A number stays with its unit, and the parts of a mixed number with one another.
        """

        def wide(piece: str) -> float:
            return self.typeface.width(piece, size, bold=bold)

        for paragraph in string.splitlines() or [""]:
            line = ""
            for word in PAGE_BREAKS.split(self.typeface.drawable(paragraph)):
                piece = word
                # Its first letters tell for a very long word, which would else be measured whole
                # for every line it takes.
                while wide(head := piece[:LONG_WORD]) > most or wide(piece) > most:
                    if line:
                        yield line
                        line = ""
                    cut = max(1, int(len(head) * most / max(wide(head), most)))
                    while cut > 1 and wide(piece[:cut]) > most:
                        cut -= 1
                    yield piece[:cut]
                    piece = piece[cut:]
                longer = f"{line} {piece}" if line else piece
                if line and wide(longer) > most:
                    yield line
                    line = piece
                else:
                    line = longer
            yield line

    def pairs(self, rows: Sequence[tuple[str, str]], columns: int, size: float = BODY) -> None:
        """Name and value pairs in up to `columns` columns, as many as make them least high.

        They read down a column, then the next. Values start together and stand out; one too long
        for its column wraps, one too long for a page goes on in the next column.
        """
        if rows:
            self._columns(*self._set(rows, columns, size), size)

    def table(
        self, heading: str, rows: Sequence[tuple[str, str]], columns: int, size: float = BODY
    ) -> None:
        """Pairs under a heading, all on one page where they don't take more than half of it."""
        cells, number, names = self._set(rows, columns, size)
        high = (_balanced(cells, number) + 1) * size * LEADING
        self.heading(heading, keep=high if high < (self.top - self.bottom) / 2 else 16)
        self._columns(cells, number, names, size)

    def _set(
        self, rows: Sequence[tuple[str, str]], columns: int, size: float
    ) -> tuple[list[_Row], int, float]:
        """The rows wrapped, in how many columns they are least high, and where values start."""
        face = self.typeface
        names = max(face.width(name, size) for name, _ in rows) + NAME_GAP
        room = self.right - self.left
        words = {word for _, value in rows for word in PAGE_BREAKS.split(face.drawable(value))}
        longest = max(face.width(word, size, bold=True) for word in words)
        settings = []
        for number in range(columns, 0, -1):
            wide = room / number - names - BETWEEN
            if wide >= longest or number == 1:  # so that no measure is cut in two
                cells = [
                    _Row(name, tuple(self.wrapped(value, size, wide, bold=True)))
                    for name, value in rows
                ]
                settings.append((_balanced(cells, number), -number, cells))
        _, number, cells = min(settings, key=lambda one: one[:2])
        return cells, -number, names

    def _columns(self, rows: list[_Row], columns: int, names: float, size: float) -> None:
        """Rows in columns, on as many pages as they take."""
        high = size * LEADING
        while rows:
            fit = int((self.y - self.bottom) / high + 1e-9)
            even = _balanced(rows, columns)
            if even > fit < SHORTEST and self.y < self.top:
                self.turn()
                continue
            page = max(1, int((self.top - self.bottom) / high + 1e-9))
            # Not only a line or two for the next page.
            here = fit if even <= fit else min(fit, max(even - SHORTEST, SHORTEST))
            filled, rows = _filled(rows, columns, max(1, min(even, here)), page)
            top = self.y
            for c, column in enumerate(filled):
                x, self.y = self.left + c * (self.right - self.left) / columns, top
                for row in column:
                    for k, line in enumerate(row.lines):
                        self.y -= high
                        if k == 0 and row.name:
                            self.put(x, row.name, size, "name")
                        self.put(x + names, line, size, "value", bold=True)
            self.y = top - high * max(sum(len(r.lines) for r in column) for column in filled)
            if rows:
                self.turn()

    def grid(self, cells: Sequence[Sequence[str]], role: str, size: float = BODY) -> None:
        """Rows of equal cells, several to a line, read down each column in turn, then across.

        Every cell is a tuple of parts; parts are aligned under one another.
        """
        parts = [
            max(self.typeface.width(cell[p], size, bold=p == 0) for cell in cells)
            for p in range(len(cells[0]))
        ]
        wide = sum(parts) + 3 * len(parts) + 4
        columns = max(1, min(len(cells), int((self.right - self.left + 4) / wide)))
        done = 0
        while done < len(cells):
            self.room(size * LEADING)
            lines = max(1, int((self.y - self.bottom) / (size * LEADING)))
            left = len(cells) - done
            per = min(lines, -(-left // columns))
            for r in range(per):
                self.y -= size * LEADING
                for c in range(columns):
                    i = done + c * per + r
                    if c * per + r < left:
                        x = self.left + c * wide
                        for p, part in enumerate(cells[i]):
                            self.put(x, part, size, role, bold=p == 0)
                            x += parts[p] + 3
            done += per * columns


def _balanced(rows: Sequence[_Row], columns: int) -> int:
    """The fewest lines that hold the rows in so many columns, none of them parted."""
    counts = [len(row.lines) for row in rows]
    high = max(-(-sum(counts) // columns), *counts)
    while _columns_taken(counts, high) > columns:
        high += 1
    return high


def _columns_taken(counts: Sequence[int], high: int) -> int:
    """How many columns of `high` lines rows of so many lines take."""
    taken, used = 1, 0
    for count in counts:
        if used + count > high:
            taken, used = taken + 1, 0
        used += count
    return taken


def _filled(
    rows: list[_Row], columns: int, high: int, page: int
) -> tuple[list[list[_Row]], list[_Row]]:
    """Columns of at most `high` lines, and the rows left over.

    A row is parted only where it is longer than a whole page, of `page` lines.
    """
    filled: list[list[_Row]] = []
    rest = list(rows)
    while rest and len(filled) < columns:
        column: list[_Row] = []
        free = high
        while rest and free:
            row = rest[0]
            if len(row.lines) <= free:
                column.append(rest.pop(0))
                free -= len(row.lines)
            elif len(row.lines) > page:
                column.append(_Row(row.name, row.lines[:free]))
                rest[0] = _Row("", row.lines[free:])
                free = 0
            else:
                break
        filled.append(column)
    return filled, rest


def paper_flow(paper: LaidPaper, typeface: Typeface) -> Flow:
    """An empty page to be read, not taped: a wide margin set for the strip only makes it longer."""
    margin = min(float(paper.margin), MOST_MARGIN)
    return Flow(typeface, float(paper.width), float(paper.height), margin)
