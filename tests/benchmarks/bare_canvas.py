"""The same marks through reportlab's canvas, by its own ways: what a library makes of them."""

from __future__ import annotations

from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Pen, Polygon, Text
from drapetemplate.render.font_metrics import FONTS

POINT = 72 / 25.4


class Bare:
    """A backend that hands each mark to reportlab's canvas in the plainest way, every pen anew."""

    def __init__(self) -> None:
        for name in ("DejaVuSans", "DejaVuSans-Bold"):
            pdfmetrics.registerFont(TTFont(name, str(FONTS / f"{name}.ttf")))
        self._file = BytesIO()
        self._canvas = Canvas(self._file, pageCompression=1, invariant=1)
        self._begun = False

    def start_page(self, width: float, height: float, scale: tuple[float, float]) -> None:
        """Begin a page of this size."""
        assert scale == (1.0, 1.0)
        if self._begun:
            self._canvas.showPage()
        self._begun = True
        self._canvas.setPageSize((width * POINT, height * POINT))

    def start_shared(self, marks: tuple[Mark, ...]) -> bool:
        """Draw what is shared, if there is any."""
        return bool(marks)

    def _stroke(self, pen: Pen) -> None:
        self._canvas.setLineWidth(pen.width * POINT)
        self._canvas.setDash([dash * POINT for dash in pen.dash])
        self._canvas.setStrokeGray(pen.grey)

    def line(self, mark: Line) -> None:
        """Stroke a line."""
        self._stroke(mark.pen)
        self._canvas.line(*(float(n) * POINT for n in (mark.x1, mark.y1, mark.x2, mark.y2)))

    def circle(self, mark: Circle) -> None:
        """Stroke a circle."""
        self._stroke(mark.pen)
        self._canvas.circle(*(float(n) * POINT for n in (mark.x, mark.y, mark.r)))

    def arc(self, mark: Arc) -> None:
        """Stroke an arc."""
        self._stroke(mark.pen)
        x, y, r = (float(n) * POINT for n in (mark.x, mark.y, mark.r))
        self._canvas.arc(x - r, y - r, x + r, y + r, mark.start, mark.sweep)

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""
        if mark.pen is not None:
            self._stroke(mark.pen)
        self._canvas.setFillGray(mark.fill or 0)
        path = self._canvas.beginPath()
        (x, y), *rest = [(float(x) * POINT, float(y) * POINT) for x, y in mark.points]
        path.moveTo(x, y)
        for x, y in rest:
            path.lineTo(x, y)
        path.close()
        self._canvas.drawPath(path, stroke=mark.pen is not None, fill=mark.fill is not None)

    def text(self, mark: Text) -> None:
        """Write a line of text, straight or turned."""
        self._canvas.setFillGray(0)
        self._canvas.setFont("DejaVuSans-Bold" if mark.bold else "DejaVuSans", mark.size * POINT)
        x, y = float(mark.x) * POINT, float(mark.y) * POINT
        if mark.angle:
            self._canvas.saveState()
            self._canvas.translate(x, y)
            self._canvas.rotate(mark.angle)
            self._canvas.drawString(0, 0, mark.text)
            self._canvas.restoreState()
        else:
            self._canvas.drawString(x, y, mark.text)

    def finish(self) -> bytes:
        """The file's bytes."""
        self._canvas.save()
        return self._file.getvalue()
