"""What a page of a PDF draws: painted paths and letters, as `page_reader` finds them.

Frame: millimetres from the paper's lower left corner, divided by the printer's factors, so that
they are the template's own lengths.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple, TypeAlias

from drapetemplate.drawing.marks import Pen

POINT = 25.4 / 72
FARTHEST = 1e6
"""Millimetres: no page, and nothing on it, is so large."""
Point: TypeAlias = tuple[float, float]
Step: TypeAlias = tuple[str, tuple[Point, ...]]
"""An operator of m, l, c, h and its points."""


# Both are tuples, since a page has thousands and a tuple takes a third of a dataclass's time.
class Path(NamedTuple):
    """A painted path: its steps; its pen and its fill's grey, None where it hasn't one."""

    steps: tuple[Step, ...]
    pen: Pen | None
    fill: float | None

    @property
    def shape(self) -> str:
        """Its operators in a row."""
        return "".join([operator for operator, _ in self.steps])

    @property
    def ends(self) -> tuple[Point, ...]:
        """Where each step but a closing one ends."""
        return tuple([points[-1] for _, points in self.steps if points])


class Glyph(NamedTuple):
    """A drawn character: its origin, its advance in mm before `turn`, a 2 x 2 matrix by rows."""

    text: str
    x: float
    y: float
    advance: float
    turn: tuple[float, float, float, float]
    bold: bool
    grey: float


DrawnMark: TypeAlias = Path | Glyph


def measurable(mark: DrawnMark) -> bool:
    """Whether all its numbers are less than any page could hold: a stranger's may even be none."""
    if isinstance(mark, Glyph):
        numbers: Iterable[float] = (mark.x, mark.y, mark.advance, *mark.turn)
    else:
        numbers = [number for _, points in mark.steps for point in points for number in point]
    # One that is none (nan) makes the sum none.
    return sum(map(abs, numbers)) < FARTHEST
