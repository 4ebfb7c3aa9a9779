"""Marks in, a content stream of a PDF out, drawn by reportlab: true size, no matrix.

PDF's unit is 1/72 in (ISO 32000-1, 8.3.2.3). Where a printer is corrected for, every coordinate is
multiplied as it is drawn, those of a circle's Bezier arcs and of text too: no matrix in the file
hides what will be printed. Pens keep their width. Text goes through reportlab's text objects, the
mechanism under drawString: its paragraph markup, which can read local files, is never used.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, cos, hypot, pi, radians, sin, tan

from drapetemplate.drawing.marks import Arc, Circle, Line, Number, Pen, Polygon, Text
from drapetemplate.render.pdf_canvas import StreamCanvas, registered
from drapetemplate.render.pdf_font import FontInUse
from drapetemplate.render.typeface import BOLD, REGULAR

POINT = 72 / 25.4
# A Bezier arc over 45 degrees strays from the circle by 4e-6 of its radius, over 90 by 3e-4.
STEP = pi / 4
LEAST_PHASE = 1e-4
"""Points: reportlab writes where a smaller dash begins with a power of ten, which PDF hasn't."""


class Content:
    """What is drawn in one stream, which stands by itself: it takes no setting for granted.

    `scale` is what x and y are multiplied by; `faces` are those in use by their names.
    """

    def __init__(self, scale: tuple[float, float], faces: Mapping[str, FontInUse]) -> None:
        self._canvas = StreamCanvas(faces)
        self._across, self._down = scale
        # What was last set: nothing yet.
        self._pen: Pen | None = None
        self._dash: tuple[list[float], float] | None = None
        self._fill: float | None = None

    def data(self) -> bytes:
        """The stream's bytes, not packed."""
        return self._canvas.drawn()

    def _x(self, x: Number) -> float:
        return float(x) * self._across * POINT

    def _y(self, y: Number) -> float:
        return float(y) * self._down * POINT

    def _stroke(self, pen: Pen, phase: float = 0.0, stretch: float = 1.0) -> None:
        """Set the pen; `stretch` is how much longer than drawn its dashes are to be."""
        old, canvas = self._pen, self._canvas
        if pen == old and not pen.dash:
            return
        if old is None or old.width != pen.width:
            canvas.setLineWidth(pen.width * POINT)
        if old is None or old.grey != pen.grey:
            canvas.setStrokeGray(pen.grey)
        self._pen = pen
        # A pattern of an odd number goes on with its dashes and gaps changed about.
        period = sum(pen.dash) * (1 + len(pen.dash) % 2)
        begun = round(phase % period * stretch * POINT, 6) if period else 0.0
        dash = [d * stretch * POINT for d in pen.dash], begun if begun >= LEAST_PHASE else 0
        if dash != self._dash:
            canvas.setDash(*dash)
            self._dash = dash

    def _paint(self, grey: float) -> None:
        if grey != self._fill:
            self._canvas.setFillGray(grey)
            self._fill = grey

    def line(self, mark: Line) -> None:
        """Stroke a straight line, its dashes begun `phase` in."""
        stretch = 1.0
        if mark.pen.dash:
            # Else the dashes of neighbouring sheets would fall out of step in their lap.
            dx, dy = float(mark.x2 - mark.x1), float(mark.y2 - mark.y1)
            drawn = hypot(dx, dy)
            stretch = hypot(dx * self._across, dy * self._down) / drawn if drawn else 1.0
        self._stroke(mark.pen, mark.phase, stretch)
        self._canvas.line(self._x(mark.x1), self._y(mark.y1), self._x(mark.x2), self._y(mark.y2))

    def circle(self, mark: Circle) -> None:
        """Stroke a whole circle, closed."""
        self._curve(mark.x, mark.y, mark.r, 0.0, 2 * pi, mark.pen, close=True)

    def arc(self, mark: Arc) -> None:
        """Stroke part of a circle."""
        start, sweep = radians(mark.start), radians(mark.sweep)
        self._curve(mark.x, mark.y, mark.r, start, sweep, mark.pen, close=False)

    def _curve(
        self, x: Number, y: Number, r: Number, start: float, sweep: float, pen: Pen, *, close: bool
    ) -> None:
        """Bezier arcs of at most STEP each; control points at 4/3 tan(step/4) of the radius."""
        self._stroke(pen)
        cx, cy, radius = float(x), float(y), float(r)
        pieces = max(1, ceil(sweep / STEP - 1e-9))
        step = sweep / pieces
        reach = 4 / 3 * tan(step / 4) * radius
        path = self._canvas.beginPath()
        cos_a, sin_a = cos(start), sin(start)
        path.moveTo(self._x(cx + radius * cos_a), self._y(cy + radius * sin_a))
        for i in range(1, pieces + 1):
            cos_b, sin_b = cos(start + i * step), sin(start + i * step)
            path.curveTo(
                self._x(cx + radius * cos_a - reach * sin_a),
                self._y(cy + radius * sin_a + reach * cos_a),
                self._x(cx + radius * cos_b + reach * sin_b),
                self._y(cy + radius * sin_b - reach * cos_b),
                self._x(cx + radius * cos_b),
                self._y(cy + radius * sin_b),
            )
            cos_a, sin_a = cos_b, sin_b
        if close:
            path.close()
        self._canvas.drawPath(path, stroke=1, fill=0)

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""
        if mark.pen is not None:
            self._stroke(mark.pen)
        if mark.fill is not None:
            self._paint(mark.fill)
        path = self._canvas.beginPath()
        (x, y), *rest = mark.points
        path.moveTo(self._x(x), self._y(y))
        for x, y in rest:
            path.lineTo(self._x(x), self._y(y))
        path.close()
        self._canvas.drawPath(path, stroke=mark.pen is not None, fill=mark.fill is not None)

    def text(self, mark: Text) -> None:
        """Write one line, turned about its anchor; its width was measured by the layout.

        Its letters are scaled with the rest: a line that fills its room must still fit it.
        """
        self._paint(0.0)
        angle = radians(mark.angle)
        cos_a, sin_a = round(cos(angle), 12), round(sin(angle), 12)
        back = {"start": 0.0, "middle": mark.width / 2, "end": mark.width}[mark.anchor]
        across, down = self._across, self._down
        turned = (cos_a * across, sin_a * down, -sin_a * across, cos_a * down)
        at = (self._x(float(mark.x) - back * cos_a), self._y(float(mark.y) - back * sin_a))
        if turned == (1.0, 0.0, 0.0, 1.0):
            line = self._canvas.beginText(*at)
        else:
            line = self._canvas.beginText()
            line.setTextTransform(*turned, *at)
        # No second line follows it, so that none leads to it.
        line.setFont(registered(BOLD if mark.bold else REGULAR), mark.size * POINT, leading=0)
        line.textOut(mark.text)
        self._canvas.drawText(line)
