"""Text, tables and pictures in, one under another on as many pages as they take, marks out.

Frame: the page's, floats in millimetres from its lower left corner; y falls as text is added.
Nothing is drawn outside the margins, and nothing is left out: what doesn't fit a line wraps,
what doesn't fit a page goes on the next.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line, Mark, Pen, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Details
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.ticket.picture import Picture, moved
from drapetemplate.ticket.table_columns import Row, balanced, filled_columns, rows_of
from drapetemplate.wording import PAGE_BREAKS

BODY = 3.1  # mm, the size of letters that are read
SMALL = 3.05  # of what explains them; capitals of either are 2.2 mm high
LEADING = 1.38  # of the size, from line to line
FOOT = 6.0  # mm over the lower margin for the line that names job and page
FOOT_SIZE = 3.05
BETWEEN_FEET = 4.0  # mm from one part of the foot to the next
LEAST_OF_JOB = 0.2  # of the width, for the job's name beside what else the foot says
ROUNDED = re.compile(r"≈ [0-9]+( [0-9]+/[0-9]+|/[0-9]+)? in\b")
ROUNDED_WORDS = (
    "≈ to the nearest 1/16 in; don't step these off",
    "≈ to the nearest 1/16 in",
    "≈ nearest 1/16 in",
)
RULE = Pen(0.2)
HEAVY = Pen(0.5)
BAR = Pen(1.4)
FRAME = Pen(0.7)

BESIDE_BAR = 3.0  # mm from the left margin to text beside a bar or in a frame
BELOW_LINE = 0.36  # of the size, from a baseline to the foot of its line
BETWEEN = 3.0  # mm kept free to the right of a column of pairs
MOST_NAME = 0.5  # of the width, for the names of pairs
NAME_GAP = 2.0  # mm at least from a pair's name to its value
SHORTEST = 3  # lines of a table worth putting at a page's foot, or on the next
WHOLE = 4  # lines of a paragraph that aren't parted over pages
LEAST_SIGN = 40.0  # mm to sign on
LONG_WORD = 500  # letters of a word that are measured at once
UNITS = 1000.0  # to the em: at this size the font's widths are added up without an error
LEAST_FILLED = 0.6  # of a page, before what could begin on it goes on the next
NEARLY = 1e-9  # of a line, for floats that add up to a whole page


class Flow:
    """Pages being filled, of `width` by `height` mm, with one `margin` on every side.

    What flows ends at `bottom`, over the foot where that isn't given. The pages are changed by
    these methods alone; everything else that is public can only be read.

    >>> from drapetemplate.render.typeface import typeface
    >>> flow = Flow(typeface(), 100, 60, 10)
    >>> flow.line("Heron Point")
    >>> flow.paragraph("as many lines as it takes " * 8)
    >>> [len(page) for page in flow.pages]
    [5]
    """

    __slots__ = (
        "_bottom",
        "_left",
        "_pages",
        "_reserved",
        "_right",
        "_shares",
        "_top",
        "_typeface",
        "_y",
    )

    def __init__(
        self,
        typeface: Typeface,
        width: float,
        height: float,
        margin: float,
        *,
        bottom: float | None = None,
    ) -> None:
        self._typeface = typeface
        self._left, self._right = margin, width - margin
        self._top, self._bottom = height - margin, margin + FOOT if bottom is None else bottom
        self._pages: list[list[Mark]] = [[]]
        self._shares: list[float] = []  # of what each page but this one holds, how much it has
        self._y = self._top
        self._reserved = 0.0

    def fresh(self) -> Flow:
        """An empty one like this, for another try at the same pages."""
        margin = self._left
        width, height = self._right + margin, self._top + margin
        return Flow(self._typeface, width, height, margin, bottom=self._bottom)

    @property
    def typeface(self) -> Typeface:
        """What text is measured and made drawable with."""
        return self._typeface

    @property
    def pages(self) -> tuple[tuple[Mark, ...], ...]:
        """The marks of each page so far."""
        return tuple(map(tuple, self._pages))

    @property
    def left(self) -> float:
        """The left margin's x."""
        return self._left

    @property
    def right(self) -> float:
        """The right margin's x."""
        return self._right

    @property
    def bottom(self) -> float:
        """The lowest y of what flows on this page."""
        return self._bottom

    @property
    def y(self) -> float:
        """How far down this page is filled."""
        return self._y

    @property
    def width(self) -> float:
        """From margin to margin."""
        return self._right - self._left

    @property
    def height(self) -> float:
        """What an empty page like this one has room for."""
        return self._top - self._bottom

    @property
    def filled(self) -> float:
        """The share of this page that is filled."""
        return (self._top - self._y) / self.height

    @property
    def short_pages(self) -> int:
        """How many pages before this one are less than `LEAST_FILLED` full."""
        return sum(share < LEAST_FILLED for share in self._shares)

    def numbered(self, details: Details, kind: str) -> tuple[tuple[Mark, ...], ...]:
        """The finished pages, each with a foot: the job, and which page of its kind this is."""
        name = f"{details.number} · {details.name}" if details.number else details.name
        name = self._typeface.drawable(name)
        y = self._bottom - self._reserved - 5.0
        pages = []
        for number, page in enumerate(self._pages, 1):
            here = f"{kind}, page {number} of {len(self._pages)}"
            rounded = any(isinstance(mark, Text) and ROUNDED.search(mark.text) for mark in page)
            pages.append((*page, *self._foot(y, name, here, ROUNDED_WORDS if rounded else ())))
        return tuple(pages)

    def _foot(self, y: float, name: str, here: str, rounded: Sequence[str]) -> Iterator[Mark]:
        """The job at the left, the page at the right, between them `rounded` words that fit.

        The page has room for its number in the whole PDF after it, which isn't known yet.
        """
        face, size = self._typeface, FOOT_SIZE
        free = self.width - face.width(here + in_whole(9999, 9999), size) - 2 * BETWEEN_FEET
        whole = face.width(name, size)
        most = self.width / 2
        rooms = [(w, min(whole, most)) for w in rounded]
        rooms += [(w, min(whole, self.width * LEAST_OF_JOB)) for w in rounded[-1:]]
        words = next((w for w, kept in rooms if face.width(w, size) + kept <= free), "")
        if words:
            wide = face.width(words, size)
            most = min(most, free - wide)
            x = self._left + min(whole, most) + BETWEEN_FEET
            yield drawing.text(face, x, y, words, size, Role.FOOT_ROUNDED)
        yield drawing.text(face, self._left, y, name, size, Role.FOOT, most=most, least=size)
        yield drawing.text(face, self._right, y, here, size, Role.FOOT, anchor="end")

    def room(self, needed: float) -> None:
        """Go to a new page unless `needed` mm are left on this one, or it is empty."""
        if self._y - needed < self._bottom and self._y < self._top:
            self._turn()

    def _turn(self) -> None:
        """Go to a new page."""
        self._shares.append(self.filled)
        self._pages.append([])
        self._y = self._top
        self._bottom -= self._reserved
        self._reserved = 0.0

    def reserve(self, height: float) -> float:
        """Keep `height` mm at the foot of this page free of what flows; the upper end of that."""
        self._bottom += height
        self._reserved += height
        return self._bottom

    def down(self, height: float) -> float:
        """Go down by `height` mm, on a new page where this one hasn't them; the new y."""
        self.room(height)
        self._y -= height
        return self._y

    def gap(self, height: float) -> None:
        """Leave `height` mm white, wherever that is."""
        self._y -= height

    def space(self, height: float) -> None:
        """Leave `height` mm white, but not at the top of a page."""
        if self._y < self._top:
            self.gap(height)

    @contextmanager
    def indented(self, indent: float) -> Iterator[None]:
        """Put what is added meanwhile `indent` mm right of the margin, or a tenth of the width."""
        indent = min(indent, self.width / 10)
        self._left += indent
        try:
            yield
        finally:
            self._left -= indent

    def draw(self, marks: Iterable[Mark], *, page: int = -1) -> None:
        """Put marks of the page's own frame on it, or on an earlier one by its index."""
        self._pages[page] += marks

    def pictures(
        self,
        pictures: Sequence[Picture],
        *,
        above: float = 0.0,
        between: float = 0.0,
        hung: bool = False,
    ) -> None:
        """Put pictures on this page side by side, their lower edges on one line.

        Where they are `hung`, their upper ones.
        `above` are mm over the highest. They don't turn the page: `room` was asked before.
        """
        highest = max(picture.height for picture in pictures)
        self._y -= highest + above
        x = self._left
        for picture in pictures:
            up = highest - picture.height if hung else 0.0
            self.draw(moved(picture, x, self._y + up))
            x += picture.width + between

    def together(self, put: Callable[[], None]) -> None:
        """What `put` adds, all on one page where a whole one has room for it."""
        before = len(self._pages), len(self._pages[-1]), self._y, self._bottom, self._reserved
        fresh = self._y == self._top
        put()
        if fresh or len(self._pages) == before[0]:
            return
        self._undo(*before)
        self._turn()
        put()
        if len(self._pages) > before[0] + 1:
            self._undo(*before)
            put()

    def in_parts(
        self,
        parts: Sequence[Callable[[], None]],
        again: Callable[[], None],
        *,
        least: float = LEAST_FILLED,
    ) -> None:
        """What the `parts` add, in their order, each on one page where a whole one has room for it.

        All stay on one page, unless that leaves this one less than `least` full: then as many begin
        here as have room, and `again` says on the next page whose the others are.
        """

        def whole() -> None:
            for part in parts:
                part()

        if self.filled >= least or not self._turns(whole):
            self.together(whole)
            return
        for n, part in enumerate(parts):
            if n and self._turns(part):
                self._turn()
                again()
            self.together(part)

    def _turns(self, put: Callable[[], None]) -> bool:
        """True where this page has no room for what `put` adds; nothing is added."""
        before = len(self._pages), len(self._pages[-1]), self._y, self._bottom, self._reserved
        put()
        turned = len(self._pages) > before[0]
        self._undo(*before)
        return turned

    def _undo(self, pages: int, marks: int, y: float, bottom: float, reserved: float) -> None:
        """Take away what was added since there were so many pages, and marks on the last."""
        del self._pages[pages:]
        del self._shares[pages - 1 :]
        del self._pages[-1][marks:]
        self._y, self._bottom, self._reserved = y, bottom, reserved

    def put(self, x: float, string: str, size: float, role: Role, *, bold: bool = False) -> None:
        """One line of text at x on the current baseline, which stays; it must fit."""
        mark = drawing.text(
            self._typeface,
            x,
            self._y,
            string,
            size,
            role,
            bold=bold,
            most=self._right - x,
            least=SMALL,
        )
        self.draw([mark])

    def rule(self, pen: Pen = RULE) -> None:
        """A line across the page."""
        self.draw([Line(self._left, self._y, self._right, self._y, pen, Role.RULE)])

    def line(
        self, string: str, size: float = BODY, *, bold: bool = False, role: Role = Role.TEXT
    ) -> None:
        """One line of text, shrunk and cut with a sign where it is too long."""
        self.down(size * LEADING)
        self.put(self._left, string, size, role, bold=bold)

    def heading(self, string: str, keep: float = 12, size: float = BODY * 1.12) -> None:
        """A heading under a rule, kept on one page with `keep` mm of what follows."""
        self.space(2.2)
        self.room(size * 2 + keep)
        self.rule()
        self.paragraph(string, size, bold=True, role=Role.SECTION)
        self.gap(0.6)

    def paragraph(
        self,
        string: str,
        size: float = BODY,
        *,
        bold: bool = False,
        bullet: str = "",
        role: Role = Role.TEXT,
    ) -> None:
        """Wrapped text, with `bullet` hanging to the left of it; a short one stays on one page."""
        hang = 0.0
        if bullet:
            bullet = self._typeface.drawable(bullet)
            hang = self._typeface.width(bullet + "  ", size, bold=True)
        lines = list(self.wrapped(string, size, self.width - hang, bold=bold))
        if len(lines) <= WHOLE:
            self.room(min(len(lines) * size * LEADING, self.height))
        for i, line in enumerate(lines):
            self.down(size * LEADING)
            if bullet and i == 0:
                self.put(self._left, bullet, size, role, bold=True)
            self.put(self._left + hang, line, size, role, bold=bold)

    def warning(self, string: str, bullet: str, *, framed: bool = False) -> None:
        """A paragraph that the eye finds: beside a heavy bar, or in a frame with its text bold.

        Kept on one page where one has room for it.
        """
        size = BODY * 1.1
        line_height = size * LEADING
        hang = self._typeface.width(f"{bullet}  ", size, bold=True)
        room = self.width - hang - 2 * BESIDE_BAR
        lines = list(self.wrapped(string, size, room, bold=framed))
        pen = FRAME if framed else BAR
        half = pen.width / 2
        sides = (self._left + half, self._right - half) if framed else (self._left + half,)
        self.space(1.2)
        self.room(min(len(lines) * line_height, self.height))
        for i, line in enumerate(lines):
            self.down(line_height)
            # From the foot of the line before to the foot of this one.
            low = self._y - BELOW_LINE * size
            high = low + line_height
            self.draw(Line(x, low, x, high, pen, Role.BAR) for x in sides)
            if framed:
                ends = [high] if i == 0 else []
                ends += [low] if i == len(lines) - 1 else []
                self.draw(Line(self._left, y, self._right, y, pen, Role.BAR) for y in ends)
            if i == 0:
                self.put(self._left + BESIDE_BAR, bullet, size, Role.FINDING, bold=True)
            self.put(self._left + BESIDE_BAR + hang, line, size, Role.FINDING, bold=framed)
        self.gap(BELOW_LINE * size)

    def sign_line(self, words: str) -> None:
        """Bold words with a line to sign on after them, or under them where too little is left."""
        self.space(2)
        self.line(words, bold=True, role=Role.ACCEPTED)
        start = self._left + self._typeface.width(words, BODY, bold=True) + 2
        if start > self._right - LEAST_SIGN:
            self.down(2 * BODY * LEADING)
            start = self._left
        self.draw([Line(start, self._y, self._right, self._y, HEAVY, Role.SIGN_LINE)])

    def wrapped(
        self, string: str, size: float, most: float, *, bold: bool = False
    ) -> Iterator[str]:
        """The text in lines of at most `most` mm; a word longer than a line is cut in two.

        A number stays with its unit, and the parts of a mixed number with one another.
        """

        def units(piece: str) -> float:
            return self._typeface.width(piece, UNITS, bold=bold)

        def fits(run: float) -> bool:
            return run * size / UNITS <= most

        def run_of(word: str) -> float:
            # Its first letters tell for a very long word, which would else be measured whole for
            # every line it takes.
            head = units(word[:LONG_WORD])
            return units(word) if len(word) > LONG_WORD and fits(head) else head

        space = units(" ")
        for paragraph in string.splitlines() or [""]:
            # What a line has is measured once, and added up: not again with every word.
            line, taken = "", 0.0
            for piece in PAGE_BREAKS.split(self._typeface.drawable(paragraph)):
                word = piece
                while not fits(run := run_of(word)):
                    if line:
                        yield line
                        line = ""
                    head = word[:LONG_WORD]
                    cut = max(1, int(len(head) * most / max(units(head) * size / UNITS, most)))
                    while cut > 1 and not fits(units(word[:cut])):
                        cut -= 1
                    yield word[:cut]
                    word = word[cut:]
                longer = taken + space + run if line else run
                if line and not fits(longer):
                    yield line
                    line, taken = word, run
                else:
                    line, taken = f"{line} {word}" if line else word, longer
            yield line

    def pairs(self, rows: Sequence[tuple[str, str]], columns: int, size: float = BODY) -> None:
        """Name and value pairs in up to `columns` columns, as many as make them least high.

        They read down a column, then the next. Values start together and stand out; one too long
        for its column wraps, one too long for a page goes on in the next column.
        """
        if rows:
            self._columns(*self._set(rows, columns, size), size)

    def table(
        self,
        heading: str,
        rows: Sequence[tuple[str, str]],
        columns: int,
        size: float = BODY,
        *,
        begun: float = 1 / 4,
    ) -> None:
        """Pairs under a heading; they begin on a page where they fit or so much of it is free."""
        cells, number, names = self._set(rows, columns, size)
        height = (balanced(cells, number) + 1) * size * LEADING
        self.heading(heading, keep=min(height, self.height * begun))
        again = partial(self.paragraph, f"{heading}, continued", size, bold=True, role=Role.SECTION)
        self._columns(cells, number, names, size, again)

    def _set(
        self, rows: Sequence[tuple[str, str]], columns: int, size: float
    ) -> tuple[list[Row], int, float]:
        """The rows wrapped, in how many columns they are least high, and where values start."""
        face = self._typeface
        names = max(face.width(name, size) for name, _ in rows) + NAME_GAP
        words = {word for _, value in rows for word in PAGE_BREAKS.split(face.drawable(value))}
        longest = max(face.width(word, size, bold=True) for word in words)
        settings = []
        for number in range(columns, 0, -1):
            # In a column by themselves very long names wrap, so that values have room.
            room = min(names, self.width * MOST_NAME) if number == 1 else names
            width = self.width / number - room - BETWEEN
            if width >= longest or number == 1:  # so that no measure is cut in two
                cells = [
                    cell
                    for name, value in rows
                    for cell in rows_of(
                        list(self.wrapped(name, size, room - NAME_GAP)) if room < names else [name],
                        list(self.wrapped(value, size, width, bold=True)),
                    )
                ]
                settings.append((balanced(cells, number), -number, cells, room))
        _, number, cells, room = min(settings, key=lambda setting: setting[:2])
        return cells, -number, room

    def _columns(
        self,
        rows: list[Row],
        columns: int,
        names: float,
        size: float,
        again: Callable[[], None] | None = None,
    ) -> None:
        """Rows in columns, on as many pages as they take; `again` heads each page but the first."""
        line_height = size * LEADING
        while rows:
            fit = int((self._y - self._bottom) / line_height + NEARLY)
            even = balanced(rows, columns)
            if even > fit < SHORTEST and self._y < self._top:
                self._turn()
                continue
            page = max(1, int(self.height / line_height + NEARLY))
            # Not only a line or two for the next page.
            here = fit if even <= fit else min(fit, max(even - SHORTEST, SHORTEST))
            filled, rows = filled_columns(rows, columns, max(1, min(even, here)), page)
            top = self._y
            for c, column in enumerate(filled):
                x, self._y = self._left + c * self.width / columns, top
                for row in column:
                    for k, line in enumerate(row.lines):
                        self.gap(line_height)
                        if k == 0 and row.name:
                            self.put(x, row.name, size, Role.NAME)
                        if line or not row.name:
                            self.put(x + names, line, size, Role.VALUE, bold=True)
            most = max(sum(len(row.lines) for row in column) for column in filled)
            self._y = top - line_height * most
            if rows:
                self._turn()
                if again is not None:
                    again()

    def grid(self, cells: Sequence[Sequence[str]], role: Role, size: float = BODY) -> None:
        """Rows of equal cells, several to a line, read down each column in turn, then across.

        Every cell is a tuple of parts; parts are aligned under one another.
        """
        parts = [
            max(self._typeface.width(cell[p], size, bold=p == 0) for cell in cells)
            for p in range(len(cells[0]))
        ]
        cell_width = sum(parts) + 3 * len(parts) + 4
        columns = max(1, min(len(cells), int((self.width + 4) / cell_width)))
        done = 0
        while done < len(cells):
            self.room(size * LEADING)
            lines = max(1, int((self._y - self._bottom) / (size * LEADING)))
            left = len(cells) - done
            per = min(lines, -(-left // columns))
            for r in range(per):
                self.gap(size * LEADING)
                for c in range(columns):
                    i = done + c * per + r
                    if c * per + r < left:
                        x = self._left + c * cell_width
                        for p, part in enumerate(cells[i]):
                            self.put(x, part, size, role, bold=p == 0)
                            x += parts[p] + 3
            done += per * columns


def in_whole(page: int, pages: int) -> str:
    """What follows a page's name in its foot: where it is in the whole PDF.

    >>> in_whole(3, 16)
    ' · 3 of 16 in all'
    """
    return f" · {page} of {pages} in all"


def paged(pages: Iterable[tuple[Mark, ...]], typeface: Typeface) -> list[tuple[Mark, ...]]:
    """A PDF's pages, each that is read with its number in it at its foot; sheets have none.

    A page that is `numbered` ends with the words that the number goes after.
    """
    pages = list(pages)

    def marked(page: tuple[Mark, ...], number: int) -> tuple[Mark, ...]:
        *rest, last = page
        if not (isinstance(last, Text) and last.role == Role.FOOT):
            return page
        words = last.text + in_whole(number, len(pages))
        foot = drawing.text(typeface, last.x, last.y, words, last.size, last.role, anchor="end")
        return (*rest, foot)

    return [marked(page, n) for n, page in enumerate(pages, 1)]


def paper_flow(paper: LaidPaper, typeface: Typeface) -> Flow:
    """An empty page of the job's paper to be read, inside the margin that its sheets keep."""
    return Flow(typeface, float(paper.width), float(paper.height), float(paper.margin))
