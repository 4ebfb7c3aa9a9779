"""What of a PDF could stop or mislead a reader of PDFs, found before anything of it is measured.

A PDF is not to be trusted: what unpacks without end, or has maps without end, could stop the
program.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from pypdf import PageObject, PdfReader
from pypdf.generic import StreamObject

from drapetemplate.errors import Fault, FileError
from drapetemplate.record.read import inflated, unpacked

MOST_CONTENT = 16_000_000
MOST_MAP = 50_000
# A map from codes to text lists each code; what spans ranges, or refers elsewhere, isn't ours.
_RANGES = re.compile(rb"bfrange|cidrange|notdefrange|usecmap")


def check_packing(reader: PdfReader, source: str) -> None:
    """FileError where a stream of the file unpacks to more than any of this tool's does."""
    for number in {n for table in reader.xref.values() for n in table} | set(reader.xref_objStm):
        stream = reader.get_object(number)
        if isinstance(stream, StreamObject) and inflated(stream, MOST_CONTENT) is None:
            text = f"has a part that unpacks to over {MOST_CONTENT:,} bytes, or in no usual way"
            raise FileError([Fault(source, text)])


def odd_fonts(page: PageObject) -> Iterator[str]:
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
