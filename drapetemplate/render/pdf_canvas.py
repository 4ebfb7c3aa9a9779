"""reportlab's canvas, drawn on for one stream of a PDF, with the fonts of that PDF.

Its pages aren't used: one of them has one stream, which is its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFDocument
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfgen.canvas import Canvas

from drapetemplate.render.pdf_font import FontInUse
from drapetemplate.render.typeface import BOLD, REGULAR


class _Document(PDFDocument):
    """What a canvas draws for, with the faces in use by their names."""

    faces: Mapping[str, FontInUse]


def registered(face: str) -> str:
    """Return what reportlab knows a face by: another name than a program's own font of the kind."""
    return f"drapetemplate {face}"


class _Face:
    """A face as reportlab asks for it while it writes text (`reportlab.pdfbase.ttfonts`).

    What is drawn is kept by each PDF for itself, since several may be drawn at once.
    """

    _dynamicFont = True  # noqa: N815  # reportlab's names
    _multiByte = False  # noqa: N815
    shapable = False

    def __init__(self, face: str) -> None:
        self._face = face
        self.fontName = self.name = registered(face)
        self.face = self

    def splitString(self, text: str, document: _Document) -> list[tuple[int, bytes]]:  # noqa: N802  # reportlab's name
        """Return runs of a text, each with its font's number and its codes."""
        return document.faces[self._face].runs(text)

    def getSubsetInternalName(self, number: int, document: _Document) -> str:  # noqa: N802  # likewise
        """Return what a font of these is called in a stream."""
        return "/" + document.faces[self._face].name(number)

    def stringWidth(self, _text: str, _size: float, **_options: object) -> float:  # noqa: N802  # likewise
        """Return nothing: what it would move is where a second text would begin."""
        return 0.0


for _name in (REGULAR, BOLD):
    registerFont(_Face(_name))


class StreamCanvas(Canvas):
    """Takes the faces in use by their names; drawn on as any canvas."""

    def __init__(self, faces: Mapping[str, FontInUse]) -> None:
        rl_config.canvas_baseColor = None  # a user's own setting
        # Not reportlab's own Helvetica, which would be set without being in the file.
        super().__init__(BytesIO(), invariant=1, initialFontName=registered(REGULAR))  # type: ignore[arg-type]  # stubs say float; it is a name
        self._doc = _Document(invariant=1)
        self._doc.faces = faces

    def drawn(self) -> bytes:
        """Return the stream, not packed."""
        code: list[str] = self._code  # type: ignore[attr-defined]  # what its pages are made of
        return "\n".join(code).encode("ascii")
