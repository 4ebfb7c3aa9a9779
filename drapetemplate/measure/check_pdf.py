"""A PDF in; how true it is out: every mark it draws, measured against its own job laid out again.

The job comes out of the PDF (`record`), and so do the settings it was made with. Each page is then
read as any reader of PDFs would, by pdfplumber, one at a time, and held against its marks
(`drawn`). Nothing of what wrote the PDF has a part in this: `render` is never imported, fonts'
widths are handed in.

A PDF is not to be trusted: no stream is unpacked beyond MOST_CONTENT, no page read with far more
drawn on it than on any of its job's, and none beyond those the job has. What pdfplumber is given
is a copy of those pages alone, so that only what they draw can lead it astray.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from math import inf
from typing import Any

import pdfplumber
from pdfminer.layout import LTChar, LTContainer, LTCurve, LTItem
from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import StreamObject

from drapetemplate.document.job_document import documents
from drapetemplate.document.model import Document
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Pen
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import narrowed
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.measure.compare_marks import (
    TOLERANCE,
    Drawn,
    Glyph,
    Path,
    beyond,
    compare,
    items_of,
    kind_of,
    measurable,
)
from drapetemplate.measure.page_order import MOST_EXTRA, Flaw, PageOrder
from drapetemplate.planning.plan import plan
from drapetemplate.record.read import NAME, UNREADABLE, job_in, settings_in, unpacked
from drapetemplate.version import __version__
from drapetemplate.wording import counted

POINT = 25.4 / 72
MADE_BY = f"drapetemplate {__version__}"
MOST_CONTENT = 16_000_000
# What a page is drawn with: a page of text takes 380 bytes for each of its few marks, a sheet 70.
LEAST_DRAWN = 200_000
DRAWN_EACH = 500
BOXES = ("/MediaBox", "/CropBox", "/BleedBox", "/TrimBox", "/ArtBox")
HINTS = {"/PrintScaling": "/None", "/Duplex": "/Simplex", "/PickTrayByPDFSize": True}
# All that a page of this tool's is written with: paths, ink, text. What clips, hides, shades,
# turns text invisible or draws an image is none of these (ISO 32000-1, Annex A).
OPERATORS = {
    *("q", "Q", "cm", "m", "l", "c", "h", "n", "S", "f", "f*", "B", "B*"),
    *("w", "d", "j", "J", "M", "G", "g"),
    *("BT", "ET", "Tf", "Tm", "Tj", "TL", "Td", "T*"),
}
_STRINGS = re.compile(
    rb"\((?:[^()\\]|\\.)*\)|<[0-9A-Fa-f\s]*>|/[^\s/<>()\[\]]+|%[^\r\n]*", re.DOTALL
)
MOST_MAP = 50_000
# A map from codes to text lists each code; what spans ranges, or refers elsewhere, isn't ours.
_RANGES = re.compile(rb"bfrange|cidrange|notdefrange|usecmap")
_WORDS = re.compile(rb"[A-Za-z'\"][A-Za-z0-9*'\"]*")


@dataclass(frozen=True, slots=True)
class Measured:
    """How true a PDF is: `worst` is the largest error found, in mm, and `where` it is."""

    title: str
    made_by: str
    pages: int
    marks: int
    worst: float
    where: str
    flaws: tuple[Flaw, ...]

    @property
    def true(self) -> bool:
        """Whether every mark is there, and within TOLERANCE of its place, and nothing else is."""
        return not self.flaws

    def lines(self, source: str) -> list[str]:
        """For a terminal: each flaw with its page, then how true the whole is."""
        found = f"{counted(self.pages, 'page')}, {counted(self.marks, 'mark')} where they should be"
        worst = f", the worst is off by {self.worst:.4f} mm ({self.where})" if self.marks else ""
        verdict = "true" if self.true else f"NOT TRUE, {counted(len(self.flaws), 'fault')}"
        lines = [str(flaw) for flaw in self.flaws]
        lines.append(f"{source}: {verdict}: {found}{worst}")
        if not self.true and self.made_by != MADE_BY:
            lines.append(f"made by {self.made_by}, measured by {MADE_BY}: make it again to compare")
        return lines

    def as_json(self) -> dict[str, Any]:
        """For another program: lengths in mm, pages counted from 1, null for the file itself."""
        return {
            "format": 1,
            "true": self.true,
            "title": self.title,
            "made_by": self.made_by,
            "measured_by": MADE_BY,
            "pages": self.pages,
            "marks": self.marks,
            "tolerance_mm": TOLERANCE,
            "worst_mm": round(self.worst, 6),
            "where": self.where,
            "faults": [
                {"page": flaw.page, "label": flaw.label or None, "text": flaw.text}
                for flaw in self.flaws
            ],
        }


def measure(pdf: bytes, source: str, typeface: Typeface) -> Measured:
    """Every page of a PDF against its own job; `source` names it in messages.

    FileError where it can't be read as a PDF, or has no job in it; JobError where this version
    can't read or plan that job.
    """
    data = job_in(pdf, source, MOST_BYTES)
    settings = settings_in(pdf, source)
    job = read_job(data, f"{source}, {NAME}")
    if settings.only:
        job = narrowed(job, settings.only)
    planned = plan(job)
    made = documents(job, planned, typeface, settings.accepted, settings.factors)
    if settings.of != len(made):
        text = f"says it is one of {settings.of} PDFs, but its job makes {len(made)}"
        raise FileError([Fault(source, text)])
    return _measured(pdf, source, made[settings.number - 1], typeface)


def _measured(pdf: bytes, source: str, document: Document, typeface: Typeface) -> Measured:
    most = LEAST_DRAWN + DRAWN_EACH * max(len(page.marks) for page in document.pages)
    kept = PdfWriter()
    try:
        reader = PdfReader(BytesIO(pdf), strict=False)
        _check_packing(reader, source)
        count = len(reader.pages)
        made_by = str(reader.metadata.creator) if reader.metadata else "not said"
        flaws = list(_hints(reader))
        numbers = range(min(count, len(document.pages) + MOST_EXTRA))
        pages = [_looked_over(reader, number, document, most, kept) for number in numbers]
        copy = BytesIO()
        kept.write(copy)
        plumbed = pdfplumber.open(copy)
    except FileError:
        raise
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise FileError([Fault(source, UNREADABLE)]) from error
    order = PageOrder(document)
    marks, worst, where = 0, 0.0, ""
    with plumbed:
        for number, looked in enumerate(pages):
            page = _read(plumbed, looked, document)
            flaws += [Flaw(number + 1, order.label(number), text) for text in page.flaws]
            place = order.place(number, page.text)
            if page.drawn is None or place is None:
                continue
            label = document.pages[place].label
            found = compare(list(items_of(document.pages[place].marks, typeface)), page.drawn)
            if order.foreign(number, place, page.text, found):
                continue
            texts = (*found.faults, *_outside(page.drawn, document))
            flaws += [Flaw(number + 1, label, text) for text in texts]
            marks += found.like
            if found.worst > worst or not where:
                worst, where = found.worst, f"page {number + 1}, {found.where}"
    flaws += order.flaws(count)
    flaws.sort(key=lambda flaw: flaw.page or 0)
    return Measured(document.title, made_by, count, marks, worst, where, tuple(flaws))


def _outside(drawn: Sequence[Drawn], document: Document) -> Iterator[str]:
    """What a printer may cut off."""
    across, down = document.scale
    wide, high = float(document.width / across), float(document.height / down)
    found = beyond(drawn, wide, high, float(document.margin))
    if found:
        more = f" and {counted(len(found) - 1, 'other')}" if len(found) > 1 else ""
        yield f"{kind_of(found[0])}{more} outside the printable window"


def _check_packing(reader: PdfReader, source: str) -> None:
    """FileError where a stream of the file unpacks to more than any of this tool's does."""
    for number in {n for table in reader.xref.values() for n in table} | set(reader.xref_objStm):
        held = reader.get_object(number)
        if isinstance(held, StreamObject) and not _packed_as_usual(held):
            text = f"has a part that unpacks to over {MOST_CONTENT:,} bytes, or in no usual way"
            raise FileError([Fault(source, text)])


def _packed_as_usual(stream: StreamObject) -> bool:
    raw: bytes = stream._data  # noqa: SLF001  # get_data would unpack it whole, however large
    packing = stream.get("/Filter")
    packing = None if packing is None else packing.get_object()
    if packing is None:
        return True
    if packing not in ("/FlateDecode", ["/FlateDecode"]):
        return False
    try:
        return len(zlib.decompressobj().decompress(raw, MOST_CONTENT + 1)) <= MOST_CONTENT
    except zlib.error:
        return False


def _hints(reader: PdfReader) -> Iterator[Flaw]:
    """Printing hints that are gone."""
    asked = reader.root_object.get("/ViewerPreferences")
    found = {} if asked is None else asked.get_object()
    for key, value in HINTS.items():
        held = found.get(key)
        if held is None or held.get_object() != value:
            kept = "true" if value is True else value
            text = f"the printing hint {key[1:]} isn’t {kept} any more"
            fits = ": viewers may fit pages to the paper" if key == "/PrintScaling" else ""
            yield Flaw(None, "", text + fits)


@dataclass(frozen=True, slots=True)
class _Page:
    """A page as read: what is wrong with it before it is measured, where it stands in the copy.

    `drawn` is None where it isn't read, or can't be.
    """

    flaws: tuple[str, ...]
    place: int | None = None
    drawn: list[Drawn] | None = None
    text: str = ""


DAMAGED = "can’t be read: damaged"
_NOT_DRAWN = ("/Annots", "/AA", "/B", "/Metadata", "/PieceInfo", "/Thumb")


def _looked_over(
    reader: PdfReader, number: int, document: Document, most: int, kept: PdfWriter
) -> _Page:
    """A page before anything of it is measured; added to what is `kept` where it can be read."""
    try:
        held = reader.pages[number]
        flaws = list(_frame_flaws(held, document))
        strange = _strange(held, most) or ", ".join(_odd_fonts(held))
        if strange:
            text = f"is drawn with {strange}, which no page of this tool is: not measured further"
            return _Page((*flaws, text))
        kept.add_page(held, _NOT_DRAWN)
    except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
        return _Page((DAMAGED,))
    return _Page(tuple(flaws), len(kept.pages) - 1)


def _read(plumbed: Any, page: _Page, document: Document) -> _Page:  # noqa: ANN401  # pdfplumber has no types
    """A page with what it draws."""
    if page.place is None:
        return page
    try:
        held = plumbed.pages[page.place]
        drawn = list(_drawn(held, document))
        held.close()
    except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
        return _Page((DAMAGED,))
    if not all(map(measurable, drawn)):
        return _Page((DAMAGED,))
    text = "".join(one.text for one in drawn if isinstance(one, Glyph))
    return replace(page, drawn=drawn, text=text)


def _frame_flaws(page: PageObject, document: Document) -> Iterator[str]:
    """What is wrong with a page's size, its turn and its unit, and what lies over it."""
    wide, high = float(document.width), float(document.height)
    for box in BOXES:
        found = [float(side) * POINT for side in getattr(page, box[1:].lower())]
        if any(abs(a - b) > TOLERANCE for a, b in zip(found, (0, 0, wide, high), strict=True)):
            left, bottom, right, top = found
            at = f" from {left:.2f}, {bottom:.2f}" if abs(left) + abs(bottom) > TOLERANCE else ""
            size = f"{right - left:.2f} × {top - bottom:.2f} mm{at}"
            yield f"has a {box[1:]} of {size}, not {wide:.2f} × {high:.2f} mm"
            if box == "/MediaBox":
                break  # the others follow it where they aren't set
    if page.rotation % 360:
        yield f"is turned by {page.rotation % 360}°"
    if page.user_unit != 1:
        yield f"has a unit of {page.user_unit} points: a page’s is 1"
    if page.get("/Annots"):
        yield "has something laid over it (annotations), which may print"


def _strange(page: PageObject, most: int) -> str:
    """What a page is drawn with that this tool doesn't use; "" where all is as usual."""
    held = page.get("/Contents")
    found = [] if held is None else held.get_object()
    parts: list[bytes] = []
    for part in found if isinstance(found, list) else [found]:
        data = unpacked(part.get_object(), most)
        most -= len(data or b"") + 1
        if data is None or most < 0:
            return "more than there is on any of this job’s, or packed in no usual way"
        parts.append(data)
    words = {word.decode("ascii") for word in _WORDS.findall(_STRINGS.sub(b" ", b"\n".join(parts)))}
    return ", ".join(sorted(words - OPERATORS)[:5])


def _odd_fonts(page: PageObject) -> Iterator[str]:
    """Fonts of kinds that this tool doesn't use, whose maps or widths can be without end."""
    resources = page.get("/Resources")
    held = None if resources is None else resources.get_object().get("/Font")
    for name, one in ({} if held is None else held.get_object()).items():
        font = one.get_object()
        text = font.get("/ToUnicode")
        text = b"" if text is None else unpacked(text.get_object(), MOST_MAP)
        odd = text is None or _RANGES.search(text)
        if odd or font.get("/Subtype") != "/TrueType" or len(font["/Widths"]) > 256:
            yield f"a font, {name}, of another kind"


def _drawn(page: Any, document: Document) -> Iterator[Drawn]:  # noqa: ANN401  # pdfplumber has no types
    """Everything a page draws, in its order."""
    across, down = (float(factor) for factor in document.scale)
    by_x, by_y = POINT / across, POINT / down
    waiting: list[LTItem] = [page.layout]
    while waiting:
        one = waiting.pop()
        if isinstance(one, LTContainer):
            waiting += reversed(list(one))
        elif isinstance(one, LTChar):
            a, b, c, d, x, y = one.matrix
            turn = (a / across, b / down, c / across, d / down)
            bold = one.fontname.endswith("Bold")
            grey = _grey(one.graphicstate.ncolor)
            yield Glyph(one.get_text(), x * by_x, y * by_y, one.adv * POINT, turn, bold, grey)
        elif isinstance(one, LTCurve):
            path: Any = one.original_path or ()  # pdfminer's own type leaves the points out
            steps = tuple(
                (op, tuple((x * by_x, y * by_y) for x, y in points)) for op, *points in path
            )
            pen = _pen(one) if one.stroke else None
            yield Path(steps, pen, _grey(one.non_stroking_color) if one.fill else None)


def _pen(curve: LTCurve) -> Pen:
    style: Any = curve.dashing_style  # likewise
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
