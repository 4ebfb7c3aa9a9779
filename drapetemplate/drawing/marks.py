"""What can be drawn: frozen marks in one frame, and the moves that make new ones.

Frame: millimetres, x to the right, y up; angles in degrees, anticlockwise from x. Where a mark
comes from the strip its coordinates stay exact fractions until a backend needs floats; the
ticket's are floats. Grey runs from 0, black, to 1, white. A mark's `role` says what it
stands for.

Decide in layout, draw without deciding: text is measured and made drawable here, through a
`Typeface`, and a backend only writes what it is given.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from drapetemplate.drawing.roles import Role

Number: TypeAlias = Fraction | float
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Pen:
    """A stroke: `width` and the `dash` pattern (on, off, ...) in mm, solid where empty."""

    width: float
    dash: tuple[float, ...] = ()
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A straight stroke; `phase` is how far into the dash pattern it begins, in mm."""

    x1: Number
    y1: Number
    x2: Number
    y2: Number
    pen: Pen
    role: Role
    phase: float = 0.0


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle."""

    x: Number
    y: Number
    r: Number
    pen: Pen
    role: Role


@dataclass(frozen=True, slots=True)
class Arc:
    """The part of a circle from `start` over `sweep` degrees."""

    x: Number
    y: Number
    r: Number
    start: float
    sweep: float
    pen: Pen
    role: Role


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline, stroked with `pen` and filled with grey `fill`, either or both."""

    points: tuple[tuple[Number, Number], ...]
    pen: Pen | None
    fill: float | None
    role: Role


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text on its baseline at (x, y); `size` and `width` in mm, `angle` 0, 90 ..."""

    x: Number
    y: Number
    text: str
    size: float
    width: float
    anchor: Anchor
    bold: bool
    angle: int
    role: Role


Mark: TypeAlias = Line | Circle | Arc | Polygon | Text


# Each mark that is drawn is made anew here once or twice, and `dataclasses.replace` takes twice as
# long as naming all its fields.


def moved(mark: Mark, dx: Number, dy: Number) -> Mark:
    """Return the mark shifted by `dx` and `dy`."""
    match mark:
        case Line():
            return Line(
                mark.x1 + dx,
                mark.y1 + dy,
                mark.x2 + dx,
                mark.y2 + dy,
                mark.pen,
                mark.role,
                mark.phase,
            )
        case Polygon():
            return Polygon(
                tuple((x + dx, y + dy) for x, y in mark.points), mark.pen, mark.fill, mark.role
            )
        case Circle():
            return Circle(mark.x + dx, mark.y + dy, mark.r, mark.pen, mark.role)
        case Arc():
            return Arc(
                mark.x + dx, mark.y + dy, mark.r, mark.start, mark.sweep, mark.pen, mark.role
            )
        case Text():
            return Text(
                mark.x + dx,
                mark.y + dy,
                mark.text,
                mark.size,
                mark.width,
                mark.anchor,
                mark.bold,
                mark.angle,
                mark.role,
            )


def turned(mark: Mark, height: Number, along: Number = 0) -> Mark:
    """Return a mark of a frame `height` high, in that frame turned a quarter anticlockwise.

    (x, y) goes to (height - y, x + along), so a frame w wide and `height` high lands on a page
    `height` wide and w high, `along` over its lower edge.
    """
    match mark:
        case Line():
            return Line(
                height - mark.y1,
                mark.x1 + along,
                height - mark.y2,
                mark.x2 + along,
                mark.pen,
                mark.role,
                mark.phase,
            )
        case Polygon():
            return Polygon(
                tuple((height - y, x + along) for x, y in mark.points),
                mark.pen,
                mark.fill,
                mark.role,
            )
        case Circle():
            return Circle(height - mark.y, mark.x + along, mark.r, mark.pen, mark.role)
        case Arc():
            return Arc(
                height - mark.y,
                mark.x + along,
                mark.r,
                mark.start + 90,
                mark.sweep,
                mark.pen,
                mark.role,
            )
        case Text():
            return Text(
                height - mark.y,
                mark.x + along,
                mark.text,
                mark.size,
                mark.width,
                mark.anchor,
                mark.bold,
                mark.angle + 90,
                mark.role,
            )


def lozenge(x: Number, y: Number, half: Number, pen: Pen, role: Role) -> Polygon:
    """Return a lozenge about (x, y), `half` as wide to either side and twice that up and down.

    A motif's centre is drawn so, which no eyelet is taken for.
    """
    corners = ((x - half, y), (x, y + 2 * half), (x + half, y), (x, y - 2 * half))
    return Polygon(corners, pen, None, role)


def box(mark: Mark) -> tuple[float, float, float, float]:
    """Smallest upright box (left, bottom, right, top) round a mark; an arc's whole circle.

    Text is taken from 0.25 em under its baseline to 0.78 em above: DejaVu Sans' capitals and
    descenders.
    """
    match mark:
        case Line():
            xs: Iterable[Number] = (mark.x1, mark.x2)
            ys: Iterable[Number] = (mark.y1, mark.y2)
        case Polygon():
            xs, ys = zip(*mark.points, strict=True)
        case Circle() | Arc():
            xs, ys = (mark.x - mark.r, mark.x + mark.r), (mark.y - mark.r, mark.y + mark.r)
        case Text():
            shift = {"start": 0.0, "middle": mark.width / 2, "end": mark.width}[mark.anchor]
            run, rise = (-shift, mark.width - shift), (-0.25 * mark.size, 0.78 * mark.size)
            x, y = float(mark.x), float(mark.y)
            match mark.angle % 360:
                case 0:
                    xs, ys = [x + a for a in run], [y + c for c in rise]
                case 90:
                    xs, ys = [x - c for c in rise], [y + a for a in run]
                case 180:
                    xs, ys = [x - a for a in run], [y - c for c in rise]
                case _:
                    xs, ys = [x + c for c in rise], [y - a for a in run]
    across, up = [float(x) for x in xs], [float(y) for y in ys]
    return min(across), min(up), max(across), max(up)
