"""The PDF backend, by reportlab: absolute page coordinates, true size, the same bytes each time.

PDF's unit is 1/72 in (ISO 32000-1:2008, 8.3.2.3); no UserUnit is set, which several readers
ignore. Where a printer is corrected for, every coordinate is multiplied as it is written, those of
a circle's Bezier arcs and of text too: no matrix in the file hides what will be printed. Pens keep
their width. Text goes through reportlab's text objects, the mechanism under drawString: its
paragraph markup, which can read local files, is never used.
"""

from __future__ import annotations

from io import BytesIO
from math import ceil, cos, hypot, pi, radians, sin, tan

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import ViewerPreferencesPDFDictionary, checkPDFBoolean
from reportlab.pdfgen.canvas import Canvas

from drapetemplate.document.model import SUBJECT
from drapetemplate.drawing.marks import Arc, Circle, Line, Number, Pen, Polygon, Text
from drapetemplate.render.pdf_fonts import register_fonts
from drapetemplate.render.typeface import BOLD, REGULAR
from drapetemplate.version import __version__

POINT = 72 / 25.4
# A Bezier arc over 45 degrees strays from the circle by 4e-6 of its radius, over 90 by 3e-4.
STEP = pi / 4

# Hints (ISO 32000-1 Table 150): some print pipelines ignore them, so each sheet has its bars.
PREFERENCES = {
    "PrintScaling": "None",
    "Duplex": "Simplex",
    "PickTrayByPDFSize": "true",
    "DisplayDocTitle": "true",
}

# What a user's own reportlab settings, in a file or RL_ variables, would else change in the bytes.
PINNED = {
    "useA85": 0,
    "wrapA85": 0,
    "pdfMultiLine": 0,
    "pdfComments": 0,
    "allowTTFSubsetting": [],
    "canvas_baseColor": None,
    "documentLang": None,
    "defaultImageCaching": 0,
}


class PdfBackend:
    """Takes the document's title; draws marks onto pages and returns the file's bytes."""

    def __init__(self, title: str, language: str = "en", subject: str = SUBJECT) -> None:
        register_fonts()
        for setting, value in PINNED.items():
            setattr(rl_config, setting, value)
        self._file = BytesIO()
        self._canvas = Canvas(
            self._file,
            invariant=1,
            pageCompression=1,
            lang=language,
            # Not reportlab's own Helvetica, which would stand in the file without being in it.
            initialFontName=REGULAR,  # type: ignore[arg-type]  # stubs say float; it is a name
        )
        self._canvas.setTitle(title)
        self._canvas.setAuthor("")
        self._canvas.setSubject(subject)
        self._canvas.setCreator(f"drapetemplate {__version__}")
        preferences = ViewerPreferencesPDFDictionary(
            validate={
                **ViewerPreferencesPDFDictionary.validate,
                "PickTrayByPDFSize": checkPDFBoolean,
            }
        )
        for key, value in PREFERENCES.items():
            preferences[key] = value
        # setViewerPreference doesn't know the tray key, which is in ISO 32000-1 Table 150.
        document = self._canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001  # no public way
        document.Catalog.ViewerPreferences = preferences
        # Left out of the pages rather than written as 0: nothing there is to be read as turned.
        self._canvas._pageRotation = None  # type: ignore[attr-defined]  # noqa: SLF001  # likewise
        self._started = False
        self._pen: Pen | None = None
        self._fill: float | None = None
        self._across = self._down = 1.0

    def start_page(
        self, width: float, height: float, scale: tuple[float, float] = (1.0, 1.0)
    ) -> None:
        """Begin a page of this size, which is the paper's and not scaled."""
        if self._started:
            self._canvas.showPage()
        self._canvas.setPageSize((width * POINT, height * POINT))
        self._started, self._pen, self._fill = True, None, None
        self._across, self._down = scale

    def _x(self, x: Number) -> float:
        return float(x) * self._across * POINT

    def _y(self, y: Number) -> float:
        return float(y) * self._down * POINT

    def _stroke(self, pen: Pen, phase: float = 0.0, stretch: float = 1.0) -> None:
        """Set the pen; `stretch` is how much longer than drawn its dashes are to be."""
        if pen == self._pen and not pen.dash:
            return
        old, canvas = self._pen, self._canvas
        if old is None or old.width != pen.width:
            canvas.setLineWidth(pen.width * POINT)
        if pen.dash or (old is not None and old.dash):
            canvas.setDash([d * stretch * POINT for d in pen.dash], phase * stretch * POINT)
        if old is None or old.grey != pen.grey:
            canvas.setStrokeGray(pen.grey)
        self._pen = pen

    def _paint(self, grey: float) -> None:
        if grey != self._fill:
            self._canvas.setFillGray(grey)
            self._fill = grey

    def line(self, mark: Line) -> None:
        """Stroke a straight line, its dashes begun `phase` in."""
        dx, dy = float(mark.x2 - mark.x1), float(mark.y2 - mark.y1)
        # Else the dashes of neighbouring sheets would fall out of step in their lap.
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
        line = self._canvas.beginText()
        line.setFont(BOLD if mark.bold else REGULAR, mark.size * POINT)
        line.setTextTransform(
            cos_a * self._across,
            sin_a * self._down,
            -sin_a * self._across,
            cos_a * self._down,
            self._x(float(mark.x) - back * cos_a),
            self._y(float(mark.y) - back * sin_a),
        )
        line.textOut(mark.text)
        self._canvas.drawText(line)

    def finish(self) -> bytes:
        """The whole PDF."""
        self._canvas.showPage()
        self._canvas.save()
        return self._file.getvalue()
