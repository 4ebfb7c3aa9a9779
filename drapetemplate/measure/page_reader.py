"""A page's content in, all it draws out: PDF's own operators, followed one by one.

Nothing here knows how a page was written: each operator does what ISO 32000-1 says that it does,
in the clause named beside it, and where it may stand (figure 9). What isn't understood to the last
operand is refused with OddContentError, never guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import hypot
from typing import Any, TypeAlias

from pypdf import PageObject

from drapetemplate.drawing.marks import Pen
from drapetemplate.measure.drawn_marks import POINT, DrawnMark, Glyph, Path, Point, Step
from drapetemplate.measure.page_content import (
    OddContentError,
    Operands,
    instructions,
    named,
    text_bytes,
)
from drapetemplate.measure.page_fonts import Font
from drapetemplate.record.budget import Budget

A_MARK = 8
"""So many other operators cost a reader as much as one letter or painted path."""
MOST_ODD = 5
Matrix: TypeAlias = tuple[float, float, float, float, float, float]
"""a b c d e f: x, y become ax + cy + e, bx + dy + f (8.3.3)."""
AS_IT_IS: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)

# All that a page of this tool's is written with: paths, ink, text. What clips, hides, shades,
# turns text invisible or draws an image is none of these (annex A).
_STATE = {"w", "d", "j", "J", "M", "G", "g", "Tf", "TL"}
_PAINTING = {"S", "f", "f*", "B", "B*"}
_ON_PAGE = _STATE | {"q", "Q", "cm", "m", "n", "BT"}
_IN_PATH = _PAINTING | {"m", "l", "c", "h", "n"}
_IN_TEXT = _STATE | {"Tm", "Td", "T*", "Tj", "ET"}
OPERATORS = _ON_PAGE | _IN_PATH | _IN_TEXT
# How many numbers each takes; those left out take other things.
_NUMBERS = {
    **dict.fromkeys(_PAINTING | {"q", "Q", "h", "n", "BT", "ET", "T*"}, 0),
    **dict.fromkeys(("w", "j", "J", "M", "G", "g", "TL"), 1),
    **dict.fromkeys(("m", "l", "Td"), 2),
    **dict.fromkeys(("c", "cm", "Tm"), 6),
}

_NUMBER = {float}


def paper(page: PageObject) -> Matrix:
    """From a page's own coordinates to the paper's, both in points, from its lower left corner.

    The paper is the MediaBox (14.11.2), turned clockwise by /Rotate (table 30). ValueError where
    those are no box and no quarter turns.
    """
    sides = [float(side) for side in page.mediabox]
    left, right = sorted(sides[0::2])
    bottom, top = sorted(sides[1::2])
    match page.rotation % 360:
        case 0:
            return 1.0, 0.0, 0.0, 1.0, -left, -bottom
        case 90:
            return 0.0, -1.0, 1.0, 0.0, -bottom, right
        case 180:
            return -1.0, 0.0, 0.0, -1.0, right, top
        case 270:
            return 0.0, 1.0, -1.0, 0.0, top, -left
    raise ValueError(f"{page.rotation}° isn't quarter turns")


@dataclass(frozen=True, slots=True)
class _State:
    """What q keeps: the graphics state (8.4.1) and the text state (9.3.1), as set here."""

    matrix: Matrix
    width: float = 1.0
    dash: tuple[float, ...] = ()
    stroke: float = 0.0
    fill: float = 0.0
    font: Font | None = None
    size: float = 0.0
    leading: float = 0.0


_Begun: TypeAlias = tuple[bytes, _State | None]
"""A stream, and the state it begins in."""


@dataclass(frozen=True, slots=True)
class _Followed:
    """What a stream drew, the state it left and what it took of the budget."""

    marks: list[DrawnMark]
    ended: _State
    spent: int


class PageReader:
    """Reads a PDF's pages one after another, by a printer's factors; all they do is counted.

    A stream that the page before is drawn with too, from the very same state on, draws the same:
    it isn't followed again, but counted again.
    """

    def __init__(self, scale: tuple[Fraction, Fraction], budget: Budget) -> None:
        self._scale, self.budget = scale, budget
        self._fonts: Mapping[str, Font] = {}
        self._last: dict[_Begun, _Followed] = {}

    def marks(
        self, streams: Sequence[bytes], fonts: Mapping[str, Font], matrix: Matrix
    ) -> list[DrawnMark]:
        """A page's content in its streams, its fonts and way to the paper in; what it draws out.

        In the order drawn. The streams are one content (7.8.2). OddContentError for one that no
        page of this tool has.
        """
        if fonts != self._fonts:
            self._fonts, self._last = fonts, {}
        reader = _Reader(fonts, matrix, self._scale, self.budget)
        followed: dict[_Begun, _Followed] = {}
        for stream in streams:
            self.budget.spend("parsed", len(stream))
            begun = stream, reader.at_rest()
            known = self._last.get(begun) if begun[1] else None
            if known is not None:
                self.budget.spend("marks", known.spent)
                reader.go_on(known.marks, known.ended)
            else:
                drawn, spent = len(reader.marks), self.budget.spent["marks"]
                reader.follow(stream)
                ended = reader.at_rest()
                if begun[1] and ended:
                    spent = self.budget.spent["marks"] - spent
                    known = _Followed(reader.marks[drawn:], ended, spent)
            if known is not None:
                followed[begun] = known
        reader.end()
        self._last = followed
        return reader.marks


class _Reader:
    """Follows one page's operators; `marks` are what they have painted."""

    def __init__(
        self,
        fonts: Mapping[str, Font],
        matrix: Matrix,
        scale: tuple[Fraction, Fraction],
        budget: Budget,
    ) -> None:
        self.marks: list[DrawnMark] = []
        self._fonts, self._budget = fonts, budget
        self._across, self._down = (float(factor) for factor in scale)
        self._state = _State(matrix)
        self._saved: list[_State] = []
        self._pen: Pen | None = None
        self._here = _ON_PAGE
        self._operands: list[bytes | float] = []
        self._odd: set[str] = set()
        self._subpaths: list[list[Step]] = []
        self._text = self._line = AS_IT_IS
        self._do: dict[str, Callable[..., None]] = {
            "q": self._save,
            "Q": self._restore,
            "cm": self._concatenate,
            "w": self._set_width,
            "d": self._set_dash,
            # Ends and joins are no part of a mark: `drawn_otherwise` holds them.
            "j": lambda _: None,
            "J": lambda _: None,
            "M": lambda _: None,
            "G": self._set_stroke,
            "g": self._set_fill,
            "m": self._move,
            "l": self._line_to,
            "c": self._curve_to,
            "h": self._close,
            "n": self._end_path,
            "S": lambda: self._paint(stroke=True),
            "f": lambda: self._paint(fill=True),
            "f*": lambda: self._paint(fill=True),
            "B": lambda: self._paint(stroke=True, fill=True),
            "B*": lambda: self._paint(stroke=True, fill=True),
            "BT": self._begin_text,
            "ET": self._end_text,
            "Tf": self._set_font,
            "TL": self._set_leading,
            "Tm": self._set_text_matrix,
            "Td": self._move_line,
            "T*": self._next_line,
            "Tj": self._show,
        }

    def at_rest(self) -> _State | None:
        """The state now, where nothing else is begun; None in the midst of something."""
        resting = self._here is _ON_PAGE and not (self._saved or self._operands or self._odd)
        return self._state if resting else None

    def go_on(self, marks: list[DrawnMark], state: _State) -> None:
        """Take a stream as followed that draws these marks and leaves this state."""
        self.marks += marks
        self._state, self._pen = state, None

    def follow(self, stream: bytes) -> None:
        """Follow a stream on from where the last one ended."""
        others = 0
        for operator, operands in instructions(stream, self._operands):
            step = self._do.get(operator)
            if step is None:
                self._odd.add(operator)
            elif not self._odd:
                self._check(operator, operands)
                step(*operands)
            if operator not in _PAINTING and operator != "Tj":
                others += 1
                if others % A_MARK == 0:
                    self._budget.spend("marks")

    def end(self) -> None:
        """OddContentError where operators are odd, or something is still begun."""
        if self._odd:
            raise OddContentError(", ".join(sorted(self._odd)[:MOST_ODD]))
        if self._operands:
            raise OddContentError("words that nothing is done with")
        if self._here is not _ON_PAGE or self._saved:
            raise OddContentError("something that is begun and not ended")

    def _check(self, operator: str, operands: Operands) -> None:
        """OddContentError where an operator may not stand (figure 9), or not with these numbers."""
        if operator not in self._here:
            raise OddContentError(f"{operator} where it has no meaning")
        count = _NUMBERS.get(operator)
        if count is not None and (len(operands) != count or not _are_numbers(operands)):
            raise OddContentError(f"{operator} without the numbers it takes")

    # Graphics state (8.4.4), greys (8.6.8)

    def _set(self, **settings: Any) -> None:  # noqa: ANN401  # as _State has them
        self._state, self._pen = replace(self._state, **settings), None

    def _save(self) -> None:
        self._saved.append(self._state)

    def _restore(self) -> None:
        if not self._saved:
            raise OddContentError("Q without a q before it")
        self._state, self._pen = self._saved.pop(), None

    def _concatenate(self, *matrix: float) -> None:
        self._set(matrix=_times(matrix, self._state.matrix))

    def _set_width(self, width: float) -> None:
        self._set(width=width)

    def _set_dash(self, *operands: bytes | float) -> None:
        """Lengths between brackets, and where in them a line begins, which is no part of a mark."""
        match operands:
            case (b"[", *lengths, b"]", float()) if _are_numbers(lengths):
                self._set(dash=tuple(map(float, lengths)))
            case _:
                raise OddContentError("d without the lengths it takes")

    def _set_stroke(self, grey: float) -> None:
        self._set(stroke=grey)

    def _set_fill(self, grey: float) -> None:
        self._set(fill=grey)

    # Paths (8.5.2, 8.5.3)

    def _point(self, x: float, y: float) -> Point:
        """A point in the marks' own frame."""
        a, b, c, d, e, f = self._state.matrix
        return (
            (a * x + c * y + e) * POINT / self._across,
            (b * x + d * y + f) * POINT / self._down,
        )

    def _move(self, x: float, y: float) -> None:
        if self._subpaths and len(self._subpaths[-1]) == 1:
            del self._subpaths[-1]  # a further m overrides one that nothing has followed
        self._subpaths.append([("m", (self._point(x, y),))])
        self._here = _IN_PATH

    def _add(self, operator: str, *points: Point) -> None:
        """Go on with the subpath that is open."""
        subpath = self._subpaths[-1]
        if subpath[-1][0] == "h":
            raise OddContentError("a path that goes on after its end")
        subpath.append((operator, points))

    def _line_to(self, x: float, y: float) -> None:
        self._add("l", self._point(x, y))

    def _curve_to(self, *places: float) -> None:
        x1, y1, x2, y2, x3, y3 = places
        self._add("c", self._point(x1, y1), self._point(x2, y2), self._point(x3, y3))

    def _close(self) -> None:
        self._add("h")

    def _end_path(self) -> None:
        self._subpaths = []
        self._here = _ON_PAGE

    def _paint(self, *, stroke: bool = False, fill: bool = False) -> None:
        """A mark for each subpath: one of a single point paints nothing."""
        self._budget.spend("marks")
        pen = self._current_pen() if stroke else None
        grey = self._state.fill if fill else None
        self.marks += [Path(tuple(steps), pen, grey) for steps in self._subpaths if len(steps) > 1]
        self._end_path()

    def _current_pen(self) -> Pen:
        """The pen as the matrix of now makes it (8.4.3.2): its width along the x axis."""
        if self._pen is None:
            state = self._state
            by = hypot(state.matrix[0], state.matrix[1]) * POINT
            dash = tuple(length * by for length in state.dash)
            self._pen = Pen(state.width * by, dash, state.stroke)
        return self._pen

    # Text: its state (9.3), where it stands and what it shows (9.4)

    def _begin_text(self) -> None:
        self._text = self._line = AS_IT_IS
        self._here = _IN_TEXT

    def _end_text(self) -> None:
        self._here = _ON_PAGE

    def _set_font(self, *operands: bytes | float) -> None:
        match operands:
            case (bytes(name), float(size)) if named(name) in self._fonts:
                self._set(font=self._fonts[named(name)], size=size)
            case _:
                raise OddContentError("Tf without a font of the page")

    def _set_leading(self, leading: float) -> None:
        self._set(leading=leading)

    def _set_text_matrix(self, *matrix: float) -> None:
        a, b, c, d, e, f = matrix
        self._text = self._line = (a, b, c, d, e, f)

    def _move_line(self, x: float, y: float) -> None:
        self._text = self._line = _times((1.0, 0.0, 0.0, 1.0, x, y), self._line)

    def _next_line(self) -> None:
        self._move_line(0.0, -self._state.leading)

    def _show(self, *operands: bytes | float) -> None:
        """A mark for each letter; each moves the next by its advance (9.4.4)."""
        state = self._state
        if len(operands) != 1 or not isinstance(operands[0], bytes) or state.font is None:
            raise OddContentError("Tj without a string, or a font")
        codes = text_bytes(operands[0])
        self._budget.spend("marks", len(codes))
        a, b, c, d, x, y = _times(self._text, state.matrix)
        by_x, by_y = POINT / self._across, POINT / self._down
        turn = (a / self._across, b / self._down, c / self._across, d / self._down)
        run = 0.0
        for code in codes:
            letter = state.font.letters.get(code)
            if letter is None:
                raise OddContentError("a letter that its font doesn’t have")
            text, width = letter
            advance = width / 1000 * state.size
            at = (x + a * run) * by_x, (y + b * run) * by_y
            self.marks.append(Glyph(text, *at, advance * POINT, turn, state.font.bold, state.fill))
            run += advance
        self._text = _times((1.0, 0.0, 0.0, 1.0, run, 0.0), self._text)


def _are_numbers(operands: Iterable[bytes | float]) -> bool:
    return _NUMBER.issuperset(map(type, operands))


def _times(first: tuple[float, ...], then: Matrix) -> Matrix:
    """One matrix after another (8.3.4)."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )
