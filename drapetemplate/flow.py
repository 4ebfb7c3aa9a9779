"""Text and tables set one under another, over as many pages as they take, as marks.

Frame: the page's, floats in millimetres from its lower left corner; y falls as text is added.
Nothing is drawn outside the margins, and nothing is left out: what doesn't fit a line wraps,
what doesn't fit a page goes on the next.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drapetemplate import drawing
from drapetemplate.drawing import Line, Mark, Pen, Typeface
from drapetemplate.job import Details, Paper

BODY = 3.1
LEADING = 1.38
RULE = Pen(0.2)
HEAVY = Pen(0.5)


MOST_MARGIN = 20


class Flow:
    """Pages being filled. `width`, `height` and `margin` in mm; `pages` holds finished marks."""

    def __init__(self, typeface: Typeface, width: float, height: float, margin: float) -> None:
        self.typeface = typeface
        self.left, self.right = margin, width - margin
        self.top, self.bottom = height - margin, margin + 6
        self.pages: list[list[Mark]] = [[]]
        self.y = self.top

    def numbered(self, details: Details, kind: str) -> tuple[tuple[Mark, ...], ...]:
        """The finished pages, each with a foot: the job, and which page of its kind this is."""
        name = f"{details.number} · {details.name}" if details.number else details.name
        most = (self.right - self.left) / 2
        y = self.bottom - 5.3
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
            self.pages.append([])
            self.y = self.top

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

    def heading(self, string: str, keep: float = 12) -> None:
        """A heading under a rule, kept on one page with `keep` mm of what follows."""
        self.space(2.2)
        self.room(BODY * 2 + keep)
        self.rule()
        self.paragraph(string, BODY * 1.12, bold=True, role="section")
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
        """Wrapped text, with `bullet` hanging to the left of it."""
        x = self.left + indent
        if bullet:
            bullet = self.typeface.drawable(bullet)
            hang = self.typeface.width(bullet + "  ", size, bold=True)
        else:
            hang = 0.0
        for i, part in enumerate(self.wrapped(string, size, self.right - x - hang, bold=bold)):
            self.room(size * LEADING)
            self.y -= size * LEADING
            if bullet and i == 0:
                self.put(x, bullet, size, role, bold=True)
            self.put(x + hang, part, size, role, bold=bold)

    def wrapped(
        self, string: str, size: float, most: float, *, bold: bool = False
    ) -> Iterator[str]:
        """The text in lines of at most `most` mm; a word longer than a line is cut in two."""

        def wide(piece: str) -> float:
            return self.typeface.width(piece, size, bold=bold)

        for paragraph in string.splitlines() or [""]:
            line = ""
            for word in self.typeface.drawable(paragraph).split(" "):
                piece = word
                while wide(piece) > most:
                    if line:
                        yield line
                        line = ""
                    cut = max(1, int(len(piece) * most / wide(piece)))
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
        """Name and value pairs, down each of `columns` columns in turn; values stand out.

        A column's values start together; a value too long for its column wraps.
        """
        per = -(-len(rows) // columns)
        wide = (self.right - self.left) / columns
        names = [
            max((self.typeface.width(n, size) for n, _ in rows[c * per : (c + 1) * per]), default=0)
            for c in range(columns)
        ]
        cells = [
            list(self.wrapped(value, size, wide - names[i // per] - 5, bold=True))
            for i, (_, value) in enumerate(rows)
        ]
        for r in range(per):
            high = max(len(cells[i]) for i in range(r, len(rows), per))
            self.room(min(high * size * LEADING, self.top - self.bottom))
            for k in range(high):
                self.room(size * LEADING)
                self.y -= size * LEADING
                for c, i in enumerate(range(r, len(rows), per)):
                    x = self.left + c * wide
                    if k == 0:
                        self.put(x, rows[i][0], size, "name")
                    if k < len(cells[i]):
                        self.put(x + names[c] + 2, cells[i][k], size, "value", bold=True)

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


def paper_flow(paper: Paper, typeface: Typeface) -> Flow:
    """An empty page to be read, not taped: a wide margin set for the strip only makes it longer."""
    height = paper.width if paper.height is None else paper.height
    margin = min(float(paper.margin), MOST_MARGIN)
    return Flow(typeface, float(paper.width), float(height), margin)
