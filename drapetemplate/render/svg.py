"""The SVG backends: one page, millimetres, text as text in the font's name.

SVG's y falls (SVG 1.1, 7.3), the drawing's rises: every y is taken from the page's height. One
writes a file; one what a page in a browser takes in, in that page's own colours; one a file for a
cutting machine.
"""

from __future__ import annotations

from html import escape
from math import cos, radians, sin

from drapetemplate.document.cut_drawing import Layer
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Number, Pen, Polygon, Text
from drapetemplate.measures import printable

EDGE = 0.5
"""Millimetres that a page shows round a picture, so that no stroke at its edge is cut."""


class SvgBackend:
    """Takes the picture's title; draws one page and returns the file's bytes."""

    _decimals = 4

    def __init__(self, title: str) -> None:
        # XML has no place for control characters (XML 1.0, 2.2); marks bring none.
        self._title = printable(title)
        self._parts: list[str] = []
        self._width = self._height = 0.0

    def start_page(
        self, width: float, height: float, scale: tuple[float, float] = (1.0, 1.0)
    ) -> None:
        """Begin the page; SVG holds one, and as a picture it is corrected for no printer."""
        if scale != (1.0, 1.0):
            raise ValueError("an SVG is not corrected for a printer")
        if self._width:
            raise ValueError("an SVG holds one page")
        self._width, self._height = width, height

    def start_shared(self, marks: tuple[Mark, ...]) -> bool:  # noqa: ARG002  # they aren't kept
        """Draw them: an SVG holds one page."""
        return True

    def _x(self, x: Number) -> str:
        return f"{float(x):.{self._decimals}f}".rstrip("0").rstrip(".")

    def _y(self, y: Number) -> str:
        return self._x(self._height - float(y))

    def _stroke(self, pen: Pen | None, phase: float = 0.0) -> str:
        if pen is None:
            return 'stroke="none"'
        dashes = ""
        if pen.dash:
            dashes = f' stroke-dasharray="{" ".join(self._x(d) for d in pen.dash)}"'
            dashes += f' stroke-dashoffset="{self._x(phase)}"'
        return f'{self._painted("stroke", pen.grey)} stroke-width="{self._x(pen.width)}"{dashes}'

    def _painted(self, what: str, grey: float) -> str:
        """The attribute that gives a mark's "stroke" or "fill" its grey."""
        return f'{what}="{_grey(grey)}"'

    def _class(self, mark: Mark) -> str:  # noqa: ARG002  # what a page takes in has one
        """The attribute that says what a mark is; a file has none."""
        return ""

    def line(self, mark: Line) -> None:
        """Stroke a straight line."""
        self._parts.append(
            f"<line{self._class(mark)} "
            f'x1="{self._x(mark.x1)}" y1="{self._y(mark.y1)}" x2="{self._x(mark.x2)}" '
            f'y2="{self._y(mark.y2)}" {self._stroke(mark.pen, mark.phase)}/>'
        )

    def circle(self, mark: Circle) -> None:
        """Stroke a whole circle."""
        self._parts.append(
            f"<circle{self._class(mark)} "
            f'cx="{self._x(mark.x)}" cy="{self._y(mark.y)}" r="{self._x(mark.r)}" '
            f'fill="none" {self._stroke(mark.pen)}/>'
        )

    def arc(self, mark: Arc) -> None:
        """Stroke part of a circle: from its start over its sweep, anticlockwise on paper."""
        x, y, r = float(mark.x), float(mark.y), float(mark.r)
        ends = [radians(mark.start), radians(mark.start + mark.sweep)]
        (x0, y0), (x1, y1) = ((x + r * cos(a), y + r * sin(a)) for a in ends)
        self._parts.append(
            f"<path{self._class(mark)} "
            f'd="M {self._x(x0)} {self._y(y0)} A {self._x(r)} {self._x(r)} 0 '
            f'{int(mark.sweep > 180)} 0 {self._x(x1)} {self._y(y1)}" fill="none" '
            f"{self._stroke(mark.pen)}/>"
        )

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""
        points = " ".join(f"{self._x(x)},{self._y(y)}" for x, y in mark.points)
        fill = 'fill="none"' if mark.fill is None else self._painted("fill", mark.fill)
        self._parts.append(
            f'<polygon{self._class(mark)} points="{points}" {fill} {self._stroke(mark.pen)}/>'
        )

    def text(self, mark: Text) -> None:
        """Write one line, kept to the width that layout measured, whatever font is at hand."""
        x, y = self._x(mark.x), self._y(mark.y)
        turn = f' transform="rotate({-mark.angle} {x} {y})"' if mark.angle else ""
        weight = ' font-weight="bold"' if mark.bold else ""
        self._parts.append(
            f'<text{self._class(mark)} x="{x}" y="{y}" font-size="{self._x(mark.size)}"{weight} '
            f'text-anchor="{mark.anchor}" textLength="{self._x(mark.width)}" '
            f'lengthAdjust="spacingAndGlyphs" {self._painted("fill", 0.0)}{turn}>'
            f"{escape(mark.text, quote=False)}</text>"
        )

    def finish(self) -> bytes:
        """The whole SVG, in UTF-8."""
        width, height = self._x(self._width), self._x(self._height)
        lines = [
            '<?xml version="1.0" encoding="UTF-8"?>',
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
                f'viewBox="0 0 {width} {height}" '
                "font-family=\"'DejaVu Sans', Verdana, sans-serif\">"
            ),
            f"<title>{escape(self._title, quote=False)}</title>",
            *self._drawn(),
            "</svg>",
        ]
        return ("\n".join(lines) + "\n").encode()

    def _drawn(self) -> list[str]:
        """What lies inside the drawing: white paper, and the marks on it."""
        width, height = self._x(self._width), self._x(self._height)
        return [f'<rect width="{width}" height="{height}" fill="#fff"/>', *self._parts]


class ScreenSvgBackend(SvgBackend):
    """Draws what a page in a browser takes in: in that page's own colour, on its own ground.

    Ink is `currentColor`, grey so much of it; what is white, to cover what lies under it, has the
    class `ground` too, which the page paints. Every mark's class is its role. Marks of one role
    and pen that follow each other are one path, in which lines go on from one another: so a curve
    is one element and not a thousand, and a panel of a thousand eyelets no more than one of eight.
    """

    _decimals = 2  # mm: a fifteenth of a pixel, at a page's 96 an inch

    def __init__(self, title: str) -> None:
        super().__init__(title)
        self._attributes = ""
        self._paint: object = None
        self._path: list[str] = []
        self._last: tuple[Number, Number] | None = None

    def _painted(self, what: str, grey: float) -> str:
        if grey in {0.0, 1.0}:
            return f'{what}="{"#fff" if grey else "currentColor"}"'
        return f'{what}="currentColor" {what}-opacity="{self._x(1 - grey)}"'

    def _class(self, mark: Mark) -> str:
        white = isinstance(mark, Polygon) and mark.fill == 1.0
        return f' class="{mark.role}{" ground" if white else ""}"'

    def _begins_path(self, *paint: object) -> bool:
        """Whether what is painted so begins another path than the one so far, which is ended."""
        if paint == self._paint:
            return False
        self._end_path()
        self._paint = paint
        return True

    def _end_path(self) -> None:
        """Write the path so far, if there is one."""
        if self._path:
            self._parts.append(f'<path{self._attributes} d="{"".join(self._path)}"/>')
        self._paint, self._path, self._last = None, [], None

    def line(self, mark: Line) -> None:
        """Stroke a straight line."""
        if self._begins_path(Line, mark.role, mark.pen, mark.phase):
            stroke = self._stroke(mark.pen, mark.phase)
            self._attributes = f'{self._class(mark)} fill="none" {stroke} stroke-linejoin="round"'
        # What is dashed begins with its dash anew.
        if self._last != (mark.x1, mark.y1) or mark.pen.dash:
            self._path.append(f"M{self._x(mark.x1)} {self._y(mark.y1)}")
        self._path.append(f"L{self._x(mark.x2)} {self._y(mark.y2)}")
        self._last = (mark.x2, mark.y2)

    def circle(self, mark: Circle) -> None:
        """Stroke a whole circle, from its left round to its left."""
        if self._begins_path(Circle, mark.role, mark.pen):
            self._attributes = f'{self._class(mark)} fill="none" {self._stroke(mark.pen)}'
        r, across = self._x(mark.r), self._x(2 * mark.r)
        self._path.append(
            f"M{self._x(mark.x - mark.r)} {self._y(mark.y)}"
            f"a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0"
        )

    def arc(self, mark: Arc) -> None:
        """Stroke part of a circle."""
        self._end_path()
        super().arc(mark)

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""
        if self._begins_path(Polygon, mark.role, mark.pen, mark.fill):
            fill = 'fill="none"' if mark.fill is None else self._painted("fill", mark.fill)
            self._attributes = f"{self._class(mark)} {fill} {self._stroke(mark.pen)}"
        points = "L".join(f"{self._x(x)} {self._y(y)}" for x, y in mark.points)
        self._path.append(f"M{points}Z")

    def text(self, mark: Text) -> None:
        """Write one line of text."""
        self._end_path()
        super().text(mark)

    def finish(self) -> bytes:
        """The whole SVG as a page takes it in, without a declaration or a ground, in UTF-8."""
        self._end_path()
        width, height = (self._x(size + 2 * EDGE) for size in (self._width, self._height))
        lines = [
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
                f'viewBox="{-EDGE:g} {-EDGE:g} {width} {height}" role="img" '
                "font-family=\"'DejaVu Sans', Verdana, sans-serif\">"
            ),
            f"<title>{escape(self._title, quote=False)}</title>",
            *self._parts,
            "</svg>",
        ]
        return "\n".join(lines).encode()


class CutSvgBackend(SvgBackend):
    """Draws one strip for a cutting machine: a group a layer, lines alone, nothing filled or under.

    A layer's group has its name and its colour; coordinates are exact to 1e-7 mm.
    """

    _decimals = 7
    colours = {  # noqa: RUF012  # none changes it
        Layer.HOLES: "#ff0000",
        Layer.OUTLINE: "#0000ff",
        Layer.PRICK: "#00ff00",
        Layer.FOLD: "#ff00ff",
        Layer.MARKS: "#00ffff",
        Layer.TEXT: "#000000",
    }

    def __init__(self, title: str) -> None:
        super().__init__(title)
        self._colour = ""

    def start_layer(self, layer: Layer) -> None:
        """Begin a layer's group; marks that follow belong to it."""
        if self._colour:
            self._parts.append("</g>")
        self._colour = self.colours[layer]
        self._parts.append(f'<g id="{layer}">')

    def _painted(self, what: str, grey: float) -> str:  # noqa: ARG002  # a layer has its colour
        return f'{what}="{self._colour}"'

    def _drawn(self) -> list[str]:
        """The layers' groups, the last one ended; no paper, which a machine would cut."""
        return [*self._parts, *["</g>"] * bool(self._colour)]


def _grey(grey: float) -> str:
    level = round(grey * 255)
    return f"#{level:02x}{level:02x}{level:02x}"
