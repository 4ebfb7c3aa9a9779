"""What of a PDF could stop or mislead a reader of PDFs, found before anything of it is measured.

A PDF is not to be trusted: what unpacks without end, or has maps without end, could stop the
program.
"""

from __future__ import annotations

from pypdf import PdfReader
from pypdf.generic import StreamObject

from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Text
from drapetemplate.errors import Fault, FileError
from drapetemplate.record.budget import Budget
from drapetemplate.record.unpacking import inflated

MOST_CONTENT = 16_000_000


def allow_for(document: Document, written: bytes, seconds: float, budget: Budget) -> None:
    """Let a PDF ask for what this tool's own of its job does: between two and five times that.

    `document` is that job laid out and `written` its PDF, which took `seconds` of processor time.

    What the largest ask for, as measured in November 2026: per page 4.5 objects, per byte of the
    PDF 0.8 bytes parsed and 10 unpacked, per mark 20 bytes parsed and 0.07 ms.
    """
    marks = sum(
        len(mark.text) if isinstance(mark, Text) else 1
        for page in document.pages
        for mark in page.marks
    )
    budget.allow(
        {
            "objects": 20 * len(document.pages),
            "parsed": 3 * len(written) + 60 * marks,
            "unpacked": 30 * len(written),
            "marks": 3 * marks,
            "seconds": int(4 * seconds) + marks // 5_000,
        }
    )


def check_packing(reader: PdfReader, source: str, budget: Budget) -> None:
    """FileError where a stream of the file unpacks to more than any of this tool's does."""
    for number in {n for table in reader.xref.values() for n in table} | set(reader.xref_objStm):
        stream = reader.get_object(number)
        if isinstance(stream, StreamObject) and inflated(stream, MOST_CONTENT, budget) is None:
            text = f"has a part that unpacks to over {MOST_CONTENT:,} bytes, or in no usual way"
            raise FileError([Fault(source, text)])
