"""What a page of a PDF draws: painted paths and letters, as a reader of PDFs finds them.

Frame: millimetres from the paper's lower left corner, divided by the printer's factors, so that
they are the template's own lengths. Nothing here knows how the marks were written.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import inf
from typing import Any, TypeAlias

from pdfminer.layout import LTChar, LTContainer, LTCurve, LTItem

from drapetemplate.drawing.marks import Pen

POINT = 25.4 / 72
FARTHEST = 1e6
"""Millimetres: no page, and nothing on it, is so large."""
Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """A painted path: each step an operator of m, l, c, h and its points; greys None if unused."""

    steps: tuple[tuple[str, tuple[Point, ...]], ...]
    pen: Pen | None
    fill: float | None

    @property
    def shape(self) -> str:
        """Its operators in a row."""
        return "".join(operator for operator, _ in self.steps)

    @property
    def ends(self) -> tuple[Point, ...]:
        """Where each step but a closing one ends."""
        return tuple(points[-1] for _, points in self.steps if points)


@dataclass(frozen=True, slots=True)
class Glyph:
    """A drawn character: its origin, its advance in mm before `turn`, a 2 x 2 matrix by rows."""

    text: str
    x: float
    y: float
    advance: float
    turn: tuple[float, float, float, float]
    bold: bool
    grey: float


DrawnMark: TypeAlias = Path | Glyph


def drawn_marks(page: Any, scale: tuple[Fraction, Fraction]) -> Iterator[DrawnMark]:  # noqa: ANN401  # pdfplumber has no types
    """A page of pdfplumber's and a printer's factors in, everything it draws out, in its order."""
    across, down = (float(factor) for factor in scale)
    by_x, by_y = POINT / across, POINT / down
    waiting: list[LTItem] = [page.layout]
    while waiting:
        item = waiting.pop()
        if isinstance(item, LTContainer):
            waiting += reversed(list(item))
        elif isinstance(item, LTChar):
            a, b, c, d, x, y = item.matrix
            turn = (a / across, b / down, c / across, d / down)
            bold = item.fontname.endswith("Bold")
            grey = _grey(item.graphicstate.ncolor)
            yield Glyph(item.get_text(), x * by_x, y * by_y, item.adv * POINT, turn, bold, grey)
        elif isinstance(item, LTCurve):
            path: Any = item.original_path or ()  # pdfminer's own type leaves the points out
            steps = tuple(
                (operator, tuple((x * by_x, y * by_y) for x, y in points))
                for operator, *points in path
            )
            pen = _pen(item) if item.stroke else None
            yield Path(steps, pen, _grey(item.non_stroking_color) if item.fill else None)


def measurable(mark: DrawnMark) -> bool:
    """Whether all its numbers are less than any page could hold: a stranger's may even be none."""
    if isinstance(mark, Glyph):
        numbers: Iterable[float] = (mark.x, mark.y, mark.advance, *mark.turn)
    else:
        numbers = (number for _, points in mark.steps for point in points for number in point)
    return all(abs(number) < FARTHEST for number in numbers)


def _pen(curve: LTCurve) -> Pen:
    style: Any = curve.dashing_style  # pdfminer gives it no type
    dashes = style[0] if style else ()
    dash = tuple(float(length) * POINT for length in dashes)
    return Pen(curve.linewidth * POINT, dash, _grey(curve.stroking_color))


def _grey(colour: Any) -> float:  # noqa: ANN401  # whatever a PDF names
    """A device's grey; infinite for any other colour."""
    if isinstance(colour, (tuple, list)) and len(colour) == 1:
        colour = colour[0]
    if colour is None:
        return 0.0
    return float(colour) if isinstance(colour, (int, float)) else inf
