"""A PDF in; how true it is out: every mark it draws, measured against its own job laid out again.

The job comes out of the PDF (`record`), and so do the settings it was made with. Each page is then
read as any reader of PDFs would, by pdfplumber, one at a time (`drawn_marks`), and held against its
marks (`compare_marks`). Nothing of what wrote the PDF has a part in this: `render` is never
imported, fonts' widths are handed in.

A PDF is not to be trusted (`strange_pdf`): no stream is unpacked beyond MOST_CONTENT, no page read
with far more drawn on it than on any of its job's, and none beyond those the job has. What
pdfplumber is given is a copy of those pages alone, so that only what they draw can lead it astray.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from typing import Any

import pdfplumber
from pypdf import PdfReader, PdfWriter

from drapetemplate.document.job_document import documents
from drapetemplate.document.model import Document
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import narrowed
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.measure.compare_marks import (
    TOLERANCE,
    beyond_margin,
    compare,
    drawn_words,
    expected_marks,
)
from drapetemplate.measure.drawn_marks import DrawnMark, Glyph, drawn_marks, measurable
from drapetemplate.measure.page_order import MOST_EXTRA, Flaw, PageOrder
from drapetemplate.measure.strange_pdf import check_packing, frame_flaws, lost_hints, odd_drawing
from drapetemplate.planning.plan import plan
from drapetemplate.record.read import NAME, UNREADABLE, job_in, settings_in
from drapetemplate.version import __version__
from drapetemplate.wording import counted

MADE_BY = f"drapetemplate {__version__}"
# What a page is drawn with: a page of text takes 380 bytes for each of its few marks, a sheet 70.
LEAST_DRAWN = 200_000
DRAWN_EACH = 500
DAMAGED = "can’t be read: damaged"
_NOT_DRAWN = ("/Annots", "/AA", "/B", "/Metadata", "/PieceInfo", "/Thumb")


@dataclass(frozen=True, slots=True, kw_only=True)
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
        marks = f"{counted(self.pages, 'page')}, {counted(self.marks, 'mark')} where they should be"
        worst = f", the worst is off by {self.worst:.4f} mm ({self.where})" if self.marks else ""
        verdict = "true" if self.true else f"NOT TRUE, {counted(len(self.flaws), 'fault')}"
        lines = [str(flaw) for flaw in self.flaws]
        lines.append(f"{source}: {verdict}: {marks}{worst}")
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
    laid_out = documents(job, planned, typeface, settings.accepted, settings.factors)
    if settings.of != len(laid_out):
        text = f"says it is one of {settings.of} PDFs, but its job makes {len(laid_out)}"
        raise FileError([Fault(source, text)])
    return _measured(pdf, source, laid_out[settings.number - 1], typeface)


def _measured(pdf: bytes, source: str, document: Document, typeface: Typeface) -> Measured:
    """A PDF against the document it should be."""
    most = LEAST_DRAWN + DRAWN_EACH * max(len(page.marks) for page in document.pages)
    copy = PdfWriter()
    try:
        reader = PdfReader(BytesIO(pdf), strict=False)
        check_packing(reader, source)
        count = len(reader.pages)
        made_by = str(reader.metadata.creator) if reader.metadata else "not said"
        flaws = list(lost_hints(reader))
        numbers = range(min(count, len(document.pages) + MOST_EXTRA))
        pages = [_looked_over(reader, number, document, most, copy) for number in numbers]
        copied = BytesIO()
        copy.write(copied)
        plumbed = pdfplumber.open(copied)
    except FileError:
        raise
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise FileError([Fault(source, UNREADABLE)]) from error
    order = PageOrder(document)
    marks, worst, where = 0, 0.0, ""
    with plumbed:
        for number, looked_over in enumerate(pages):
            page = _read(plumbed, looked_over, document)
            flaws += [Flaw(number + 1, order.label(number), text) for text in page.flaws]
            place = order.place(number, page.text)
            if page.drawn is None or place is None:
                continue
            expected = list(expected_marks(document.pages[place].marks, typeface))
            comparison = compare(expected, page.drawn)
            if order.foreign(number, place, page.text, comparison):
                continue
            label = document.pages[place].label
            texts = (*comparison.faults, *_outside(page.drawn, document))
            flaws += [Flaw(number + 1, label, text) for text in texts]
            marks += comparison.matched
            if comparison.worst > worst or not where:
                worst, where = comparison.worst, f"page {number + 1}, {comparison.where}"
    flaws += order.flaws(count)
    flaws.sort(key=lambda flaw: flaw.page or 0)
    return Measured(
        title=document.title,
        made_by=made_by,
        pages=count,
        marks=marks,
        worst=worst,
        where=where,
        flaws=tuple(flaws),
    )


def _outside(drawn: Sequence[DrawnMark], document: Document) -> Iterator[str]:
    """What a printer may cut off."""
    across, down = document.scale
    width, height = float(document.width / across), float(document.height / down)
    outside = beyond_margin(drawn, width, height, float(document.margin))
    if outside:
        more = f" and {counted(len(outside) - 1, 'other')}" if len(outside) > 1 else ""
        yield f"{drawn_words(outside[0])}{more} outside the printable window"


@dataclass(frozen=True, slots=True)
class _Page:
    """A page as read: what is wrong with it before it is measured, where it stands in the copy.

    `drawn` is None where it isn't read, or can't be.
    """

    flaws: tuple[str, ...]
    place: int | None = None
    drawn: list[DrawnMark] | None = None
    text: str = ""


def _looked_over(
    reader: PdfReader, number: int, document: Document, most: int, copy: PdfWriter
) -> _Page:
    """A page before anything of it is measured; added to the `copy` where it can be read."""
    try:
        page = reader.pages[number]
        flaws = list(frame_flaws(page, document))
        odd = odd_drawing(page, most)
        if odd:
            text = f"is drawn with {odd}, which no page of this tool is: not measured further"
            return _Page((*flaws, text))
        copy.add_page(page, _NOT_DRAWN)
    except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
        return _Page((DAMAGED,))
    return _Page(tuple(flaws), len(copy.pages) - 1)


def _read(plumbed: Any, page: _Page, document: Document) -> _Page:  # noqa: ANN401  # pdfplumber has no types
    """A page with what it draws."""
    if page.place is None:
        return page
    try:
        plumbed_page = plumbed.pages[page.place]
        drawn = list(drawn_marks(plumbed_page, document.scale))
        plumbed_page.close()
    except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
        return _Page((DAMAGED,))
    if not all(map(measurable, drawn)):
        return _Page((DAMAGED,))
    text = "".join(mark.text for mark in drawn if isinstance(mark, Glyph))
    return replace(page, drawn=drawn, text=text)
