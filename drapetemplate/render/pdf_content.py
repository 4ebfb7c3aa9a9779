"""Marks in, a content stream of a PDF out (ISO 32000-1, 8.5 and 9.4): true size, no matrix.

PDF's unit is 1/72 in (8.3.2.3). Where a printer is corrected for, every coordinate is multiplied as
it is written, those of a circle's Bezier arcs and of text too: no matrix in the file hides what
will be printed. Pens keep their width. Numbers have six or seven digits, as reportlab writes them.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, cos, hypot, pi, radians, sin, tan

from drapetemplate.drawing.marks import Arc, Circle, Line, Number, Pen, Polygon, Text
from drapetemplate.render.pdf_file import numbers
from drapetemplate.render.pdf_font import FontInUse

POINT = 72 / 25.4
# A Bezier arc over 45 degrees strays from the circle by 4e-6 of its radius, over 90 by 3e-4.
STEP = pi / 4


class Content:
    """What is drawn in one stream, which stands by itself: it takes no setting for granted.

    `scale` is what x and y are multiplied by; `fonts` are the faces by whether they are bold.
    """

    def __init__(self, scale: tuple[float, float], fonts: Mapping[bool, FontInUse]) -> None:
        self._across, self._down = scale
        self._fonts = fonts
        self._written: list[str] = []
        # Each setting's operator, and what was last set by it.
        self._settings: dict[str, str] = {}
        self._pen: Pen | None = None

    def data(self) -> bytes:
        """The stream's bytes, not packed."""
        return "\n".join(self._written).encode("latin-1")

    def _set(self, operator: str, value: str) -> None:
        """Write a setting where it isn't so already."""
        if self._settings.get(operator) != value:
            self._settings[operator] = value
            self._written.append(f"{value} {operator}")

    def _x(self, x: Number) -> float:
        return float(x) * self._across * POINT

    def _y(self, y: Number) -> float:
        return float(y) * self._down * POINT

    def _stroke(self, pen: Pen, phase: float = 0.0, stretch: float = 1.0) -> None:
        """Set the pen; `stretch` is how much longer than drawn its dashes are to be."""
        if pen is self._pen and not pen.dash:
            return
        self._pen = pen
        self._set("w", numbers(pen.width * POINT))
        self._set("G", numbers(pen.grey))
        dashes = " ".join(numbers(dash * stretch * POINT) for dash in pen.dash)
        # A pattern of an odd number goes on with its dashes and gaps changed about.
        period = sum(pen.dash) * (1 + len(pen.dash) % 2)
        begun = phase % period if period else 0.0
        self._set("d", f"[{dashes}] {numbers(begun * stretch * POINT)}")

    def line(self, mark: Line) -> None:
        """Stroke a straight line, its dashes begun `phase` in."""
        dx, dy = float(mark.x2 - mark.x1), float(mark.y2 - mark.y1)
        # Else the dashes of neighbouring sheets would fall out of step in their lap.
        drawn = hypot(dx, dy)
        stretch = hypot(dx * self._across, dy * self._down) / drawn if drawn else 1.0
        self._stroke(mark.pen, mark.phase, stretch)
        begin = numbers(self._x(mark.x1), self._y(mark.y1))
        end = numbers(self._x(mark.x2), self._y(mark.y2))
        self._written.append(f"{begin} m {end} l S")

    def circle(self, mark: Circle) -> None:
        """Stroke a whole circle, closed."""
        self._curve(mark.x, mark.y, mark.r, 0.0, 2 * pi, mark.pen, "h S")

    def arc(self, mark: Arc) -> None:
        """Stroke part of a circle."""
        start, sweep = radians(mark.start), radians(mark.sweep)
        self._curve(mark.x, mark.y, mark.r, start, sweep, mark.pen, "S")

    def _curve(
        self, x: Number, y: Number, r: Number, start: float, sweep: float, pen: Pen, paint: str
    ) -> None:
        """Bezier arcs of at most STEP each; control points at 4/3 tan(step/4) of the radius."""
        self._stroke(pen)
        cx, cy, radius = float(x), float(y), float(r)
        pieces = max(1, ceil(sweep / STEP - 1e-9))
        step = sweep / pieces
        reach = 4 / 3 * tan(step / 4) * radius
        cos_a, sin_a = cos(start), sin(start)
        begin = numbers(self._x(cx + radius * cos_a), self._y(cy + radius * sin_a))
        path = [f"{begin} m"]
        for i in range(1, pieces + 1):
            cos_b, sin_b = cos(start + i * step), sin(start + i * step)
            points = numbers(
                self._x(cx + radius * cos_a - reach * sin_a),
                self._y(cy + radius * sin_a + reach * cos_a),
                self._x(cx + radius * cos_b + reach * sin_b),
                self._y(cy + radius * sin_b - reach * cos_b),
                self._x(cx + radius * cos_b),
                self._y(cy + radius * sin_b),
            )
            path.append(f"{points} c")
            cos_a, sin_a = cos_b, sin_b
        self._written.append(f"{' '.join(path)} {paint}")

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""
        if mark.pen is not None:
            self._stroke(mark.pen)
        if mark.fill is not None:
            self._set("g", numbers(mark.fill))
        first, *rest = (numbers(self._x(x), self._y(y)) for x, y in mark.points)
        paint = {(True, False): "S", (False, True): "f*", (True, True): "B*", (False, False): "n"}
        operator = paint[mark.pen is not None, mark.fill is not None]
        corners = " ".join(f"{point} l" for point in rest)
        self._written.append(f"{first} m {corners} h {operator}")

    def text(self, mark: Text) -> None:
        """Write one line, turned about its anchor; its width was measured by the layout.

        Its letters are scaled with the rest: a line that fills its room must still fit it.
        """
        self._set("g", "0")
        angle = radians(mark.angle)
        cos_a, sin_a = round(cos(angle), 12), round(sin(angle), 12)
        back = {"start": 0.0, "middle": mark.width / 2, "end": mark.width}[mark.anchor]
        across, down = self._across, self._down
        turned = (cos_a * across, sin_a * down, 0.0 - sin_a * across, cos_a * down)
        at = (self._x(float(mark.x) - back * cos_a), self._y(float(mark.y) - back * sin_a))
        size = numbers(mark.size * POINT)
        # Without a turn or a printer to correct for there is no more to say than where it begins.
        upright = turned == (1.0, 0.0, 0.0, 1.0)
        placed = f"{numbers(*at)} Td" if upright else f"{numbers(*turned, *at)} Tm"
        self._written.append(f"BT {placed}")
        for font, codes in self._fonts[mark.bold].written(mark.text):
            self._set("Tf", f"/{font} {size}")
            self._written.append(f"({codes}) Tj")
        self._written.append("ET")
