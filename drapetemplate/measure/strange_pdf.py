"""What a PDF has that none of this tool's has, found before anything of it is measured.

A PDF is not to be trusted: what clips, hides or repeats could make a page look true that isn't, and
what unpacks without end could stop the program.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

from pypdf import PageObject, PdfReader
from pypdf.generic import StreamObject

from drapetemplate.document.model import Document
from drapetemplate.errors import Fault, FileError
from drapetemplate.measure.compare_marks import TOLERANCE
from drapetemplate.measure.drawn_marks import POINT
from drapetemplate.measure.page_order import Flaw
from drapetemplate.record.read import unpacked

MOST_CONTENT = 16_000_000
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


def check_packing(reader: PdfReader, source: str) -> None:
    """FileError where a stream of the file unpacks to more than any of this tool's does."""
    for number in {n for table in reader.xref.values() for n in table} | set(reader.xref_objStm):
        stream = reader.get_object(number)
        if isinstance(stream, StreamObject) and not _packed_as_usual(stream):
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


def lost_hints(reader: PdfReader) -> Iterator[Flaw]:
    """A PDF in, what of its printing hints is gone out."""
    asked = reader.root_object.get("/ViewerPreferences")
    hints = {} if asked is None else asked.get_object()
    for key, value in HINTS.items():
        hint = hints.get(key)
        if hint is None or hint.get_object() != value:
            usual = "true" if value is True else value
            text = f"the printing hint {key[1:]} isn’t {usual} any more"
            fits = ": viewers may fit pages to the paper" if key == "/PrintScaling" else ""
            yield Flaw(None, "", text + fits)


def frame_flaws(page: PageObject, document: Document) -> Iterator[str]:
    """What is wrong with a page's size, its turn and its unit, and what lies over it."""
    width, height = float(document.width), float(document.height)
    for box in BOXES:
        sides = [float(side) * POINT for side in getattr(page, box[1:].lower())]
        if any(abs(a - b) > TOLERANCE for a, b in zip(sides, (0, 0, width, height), strict=True)):
            left, bottom, right, top = sides
            at = f" from {left:.2f}, {bottom:.2f}" if abs(left) + abs(bottom) > TOLERANCE else ""
            size = f"{right - left:.2f} × {top - bottom:.2f} mm{at}"
            yield f"has a {box[1:]} of {size}, not {width:.2f} × {height:.2f} mm"
            if box == "/MediaBox":
                break  # the others follow it where they aren't set
    if page.rotation % 360:
        yield f"is turned by {page.rotation % 360}°"
    if page.user_unit != 1:
        yield f"has a unit of {page.user_unit} points: a page’s is 1"
    if page.get("/Annots"):
        yield "has something laid over it (annotations), which may print"


def odd_drawing(page: PageObject, most: int) -> str:
    """What a page, of at most so many bytes, is drawn with that this tool doesn't use; else ""."""
    return _odd_content(page, most) or ", ".join(_odd_fonts(page))


def _odd_content(page: PageObject, most: int) -> str:
    """What a page is drawn with that this tool doesn't use; "" where all is as usual."""
    entry = page.get("/Contents")
    contents = [] if entry is None else entry.get_object()
    parts: list[bytes] = []
    for part in contents if isinstance(contents, list) else [contents]:
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
    entry = None if resources is None else resources.get_object().get("/Font")
    for name, reference in ({} if entry is None else entry.get_object()).items():
        font = reference.get_object()
        text = font.get("/ToUnicode")
        text = b"" if text is None else unpacked(text.get_object(), MOST_MAP)
        odd = text is None or _RANGES.search(text)
        if odd or font.get("/Subtype") != "/TrueType" or len(font["/Widths"]) > 256:
            yield f"a font, {name}, of another kind"
