"""The PDF backend, by reportlab: true size, the same bytes each time, in one pass.

No UserUnit is set, which several readers ignore. How marks are drawn is in `pdf_content.py`, how
letters are kept in `pdf_font.py`, what a record holds beside its pages in `pdf_record.py`.
"""

from __future__ import annotations

from reportlab.pdfbase.pdfdoc import PDFObjectReference

from drapetemplate.document.model import SUBJECT
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Polygon, Text
from drapetemplate.render.lasting import Lasting
from drapetemplate.render.pdf_content import POINT, Content
from drapetemplate.render.pdf_file import PRODUCER, PdfFile, array, dictionary, name, text_string
from drapetemplate.render.pdf_font import FontInUse
from drapetemplate.render.pdf_record import record_entries
from drapetemplate.render.typeface import BOLD, REGULAR, typeface
from drapetemplate.version import __version__

CREATOR = f"drapetemplate {__version__}"
LANGUAGE = "en"
Key = tuple[int, tuple[float, float]]
"""Which tuple of marks, and what its x and y are multiplied by."""

# Hints (ISO 32000-1 Table 150): some print pipelines ignore them, so each sheet has its bars.
PREFERENCES = {
    "PrintScaling": name("None"),
    "Duplex": name("Simplex"),
    "PickTrayByPDFSize": "true",
    "DisplayDocTitle": "true",
}


class PdfBackend:
    """Takes the document's title and subject; draws marks onto pages and returns the file's bytes.

    `lasting` is what the file holds beside them, of a record.
    """

    def __init__(self, title: str, subject: str = SUBJECT, lasting: Lasting | None = None) -> None:
        self._information = {
            "Title": title,
            "Subject": subject,
            "Creator": CREATOR,
            "Producer": PRODUCER,
        }
        self._lasting = lasting
        self._file = PdfFile()
        family = typeface()
        self._fonts = {
            REGULAR: FontInUse(family.regular, REGULAR, "R"),
            BOLD: FontInUse(family.bold, BOLD, "B"),
        }
        # Both are filled at the end, when all pages and fonts are known.
        self._tree, self._named = dictionary(Type=name("Pages")), dictionary()
        self._above, self._all = self._file.add(self._tree), self._file.add(self._named)
        self._pages: list[PDFObjectReference] = []
        # Of the page that is drawn: its size, what it multiplies by, and its streams that are done.
        self._size: tuple[float, float] | None = None
        self._scale = (1.0, 1.0)
        self._contents: list[PDFObjectReference] = []
        # What is drawn into, and whether it belongs to the page; the marks it is of if shared.
        self._content, self._open = Content(self._scale, self._fonts), False
        self._sharing: tuple[Mark, ...] | None = None
        # Streams that several pages name, by the tuple of marks itself, which is kept so that no
        # other can come to lie in its place.
        self._shared: dict[Key, tuple[tuple[Mark, ...], PDFObjectReference]] = {}

    def start_page(
        self, width: float, height: float, scale: tuple[float, float] = (1.0, 1.0)
    ) -> None:
        """Begin a page of this size, which is the paper's and not scaled."""
        self._end_page()
        self._size, self._scale = (width * POINT, height * POINT), scale
        self._begin_stream(None)

    def start_shared(self, marks: tuple[Mark, ...]) -> bool:
        """Begin a stream of its own for marks that other pages end with; False where it is there.

        Each page names it after its own stream (ISO 32000-1, 7.8.2).
        """
        self._end_stream()
        kept = self._shared.get((id(marks), self._scale))
        if kept is None:
            self._begin_stream(marks)
            return True
        self._contents.append(kept[1])
        return False

    def _begin_stream(self, sharing: tuple[Mark, ...] | None) -> None:
        self._content, self._open, self._sharing = Content(self._scale, self._fonts), True, sharing

    def _end_stream(self) -> None:
        if not self._open:
            return
        held = self._file.stream(self._content.data(), drawing=True)
        if self._sharing is not None:
            self._shared[id(self._sharing), self._scale] = self._sharing, held
        self._contents.append(held)
        self._open = False

    def _end_page(self) -> None:
        if self._size is None:
            return
        self._end_stream()
        alone = len(self._contents) == 1
        page = dictionary(
            Type=name("Page"),
            Parent=self._above,
            MediaBox=array(0, 0, *self._size),
            Resources=dictionary(Font=self._all),
            Contents=self._contents[0] if alone else array(*self._contents),
        )
        self._pages.append(self._file.add(page))
        self._contents = []

    def line(self, mark: Line) -> None:
        """Stroke a straight line, its dashes begun `phase` in."""
        self._content.line(mark)

    def circle(self, mark: Circle) -> None:
        """Stroke a whole circle, closed."""
        self._content.circle(mark)

    def arc(self, mark: Arc) -> None:
        """Stroke part of a circle."""
        self._content.arc(mark)

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""
        self._content.polygon(mark)

    def text(self, mark: Text) -> None:
        """Write one line of text as it stands."""
        self._content.text(mark)

    def finish(self) -> bytes:
        """The whole PDF."""
        self._end_page()
        self._tree["Kids"], self._tree["Count"] = array(*self._pages), len(self._pages)
        for font in self._fonts.values():
            for own_name, held in font.add_to(self._file).items():
                self._named[own_name] = held
        information = self._information
        catalogue = dictionary(
            Type=name("Catalog"),
            Pages=self._above,
            PageMode=name("UseNone"),
            Lang=text_string(LANGUAGE),
            ViewerPreferences=dictionary(**PREFERENCES),
        )
        if self._lasting is not None:
            for key, value in record_entries(self._file, self._lasting, self._pages).items():
                catalogue[key] = value
            information = information | self._lasting.information
        texts = {key: text_string(text) for key, text in information.items()}
        return self._file.finish(catalogue, dictionary(**texts))
