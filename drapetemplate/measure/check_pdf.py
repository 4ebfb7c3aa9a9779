"""A PDF in; how true it is out: every mark it draws, measured against its own job laid out again.

The job comes out of the PDF (`record`), and so do the settings it was made with. Each page is then
read as PDF's own rules say, one at a time (`page_reader`), and held against its marks
(`compare_marks`). Nothing of what wrote the PDF has a part in this: `render` is never imported,
fonts' widths are handed in.

Marks don't tell all: what else decides how a page prints, its fonts' shapes, its size to the last
digit, what the file does as it is opened, is held against what this tool writes for the job
(`written_otherwise`, `page_content`). The function that writes it is handed in likewise.

A PDF is not to be trusted (`strange_pdf`): no stream is unpacked beyond MOST_CONTENT, no page read
with far more drawn on it than on any of its job's, and none beyond those the job has. In all it may
ask for little more work than the job's own (`record/budget.py`).
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any, TypeAlias

from pypdf import PageObject, PdfReader

from drapetemplate.document.job_document import documents
from drapetemplate.document.model import Document, Page, Settings
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import narrowed
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.measure.compare_marks import (
    MOST_PAIRS,
    TOLERANCE,
    ExpectedMark,
    beyond_margin,
    compare,
    drawn_words,
    expected_marks,
)
from drapetemplate.measure.compare_objects import ObjectComparison
from drapetemplate.measure.drawn_marks import DrawnMark, Glyph, measurable
from drapetemplate.measure.one_meaning import two_meanings
from drapetemplate.measure.page_content import (
    OddContentError,
    drawn_otherwise,
    streams_of,
    written_streams,
)
from drapetemplate.measure.page_fonts import Fonts, OddFontError
from drapetemplate.measure.page_order import MOST_EXTRA, Flaw, PageOrder
from drapetemplate.measure.page_reader import PageReader, paper
from drapetemplate.measure.strange_pdf import allow_for, check_packing
from drapetemplate.measure.written_otherwise import file_otherwise, page_otherwise
from drapetemplate.planning.plan import plan
from drapetemplate.record.attachment import NAME
from drapetemplate.record.budget import NOT_MEASURED, Budget, bounded
from drapetemplate.record.counted_reader import CountedReader
from drapetemplate.record.read import UNREADABLE, StrangePdf
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.version import __version__
from drapetemplate.wording import counted

Writer: TypeAlias = Callable[[Document, bytes], bytes]
"""A document and its job file's bytes in, its PDF out."""

MADE_BY = f"drapetemplate {__version__}"
# What a page is drawn with: a page of text takes 380 bytes for each of its few marks, a sheet 70.
LEAST_DRAWN = 200_000
MOST_PAIRS_OF_ALL = 2_000_000
"""What has moved is looked for on the first pages that have so many pairs, counted on the rest."""
DRAWN_EACH = 500
LEAST_OF_SHEET = 1_000
"""Bytes that a PDF has for each sheet of its job, at the least: this tool's own has 6,000."""
MOST_SMALL = 60
"""So many sheets are soon laid out, whatever the PDF is like."""
DAMAGED = "can’t be read: damaged"


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
        return lines if self.true else [*lines, *_another_version(self.made_by)]

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


def measure(pdf: bytes, source: str, typeface: Typeface, write: Writer) -> Measured:
    """Every page of a PDF against its own job; `source` names it in messages.

    `write` makes a PDF of a document and its job file's bytes, as it should be. FileError where the
    PDF can't be read as one, or has no job in it; JobError where this version can't read or plan
    that job.
    """
    with bounded(source):
        budget = Budget(len(pdf), NOT_MEASURED)
        strange = StrangePdf(pdf, source, budget)
        data = strange.job(MOST_BYTES)
        begun = time.thread_time()
        try:
            document = _document(data, len(pdf), strange.settings(), source, typeface)
        except DrapeError as error:
            hint = [Fault(source, text) for text in _another_version(strange.made_by())]
            raise type(error)([*error.faults, *hint]) from error
        written = write(document, data)
        took = time.thread_time() - begun
        budget.excuse(took)
        allow_for(document, written, took, budget)
        return _measured(strange, pdf, source, document, typeface, written, budget)


def _document(
    data: bytes, size: int, settings: Settings, source: str, typeface: Typeface
) -> Document:
    """What a PDF of this size with these bytes as its job file should be."""
    job = read_job(data, f"{source}, {NAME}")
    if settings.only:
        job = narrowed(job, settings.only)
    planned = plan(job)
    sheets = strip_list(job, planned.windows, settings.factors).sheets
    if size < LEAST_OF_SHEET * (sheets - MOST_SMALL):
        text = f"has {size:,} bytes, too few for its job’s {counted(sheets, 'sheet')}"
        raise FileError([Fault(source, f"{text}: {NOT_MEASURED}")])
    laid_out = documents(job, planned, typeface, settings.accepted, settings.factors)
    if settings.of != len(laid_out):
        text = f"says it is one of {settings.of} PDFs, but its job makes {len(laid_out)}"
        raise FileError([Fault(source, text)])
    return laid_out[settings.number - 1]


def _another_version(creator: str) -> Iterator[str]:
    """What to say where something is wrong with a PDF that another version made."""
    if creator != MADE_BY:
        yield (
            f"made by {creator}, measured by {MADE_BY}: another version may read and draw a job "
            "otherwise. Measure it with the version that made it, or make it again"
        )


def _measured(
    strange: StrangePdf,
    pdf: bytes,
    source: str,
    document: Document,
    typeface: Typeface,
    written: bytes,
    budget: Budget,
) -> Measured:
    """A PDF against the document it should be, and against that as this tool writes it."""
    most = LEAST_DRAWN + DRAWN_EACH * max(len(page.marks) for page in document.pages)
    try:
        reader = strange.reader
        check_packing(reader, source, budget)
        count = len(reader.pages)
        read = min(count, len(document.pages) + MOST_EXTRA)
        both = _Both(
            reader, PdfReader(BytesIO(written)), read, most, PageReader(document.scale, budget)
        )
    except FileError:
        raise
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise FileError([Fault(source, UNREADABLE)]) from error
    order, expected = PageOrder(document), _Expected(typeface)
    flaws: list[Flaw] = []
    otherwise: list[tuple[str, ...]] = []
    marks, worst, where = 0, 0.0, ""
    pairs_left = MOST_PAIRS_OF_ALL
    for number in range(read):
        page = both.read(number)
        otherwise.append(page.otherwise)
        flaws += [Flaw(number + 1, order.label(number), text) for text in page.flaws]
        place = order.place(number, page.text)
        if page.drawn is None or place is None:
            continue
        comparison = compare(
            expected.of(document.pages[place]), page.drawn, min(MOST_PAIRS, pairs_left)
        )
        pairs_left -= comparison.pairs
        budget.look()
        if order.foreign(number, place, page.text, comparison):
            continue
        label = document.pages[place].label
        texts = comparison.faults or both.drawn_otherwise(number, place)
        texts = (*texts, *_outside(page.drawn, document))
        flaws += [Flaw(number + 1, label, text) for text in texts]
        marks += comparison.matched
        if comparison.worst > worst or not where:
            worst, where = comparison.worst, f"page {number + 1}, {comparison.where}"
    flaws = [*_told_once(otherwise, order), *flaws]
    out_of_order = list(order.flaws(count))
    flaws += [Flaw(None, "", text) for text in both.file_otherwise(in_order=not out_of_order)]
    flaws += out_of_order
    flaws += [Flaw(None, "", text) for text in _two_meanings(pdf, reader, budget)]
    flaws.sort(key=lambda flaw: flaw.page or 0)
    return Measured(
        title=document.title,
        made_by=strange.made_by(),
        pages=count,
        marks=marks,
        worst=worst,
        where=where,
        flaws=tuple(flaws),
    )


def _two_meanings(pdf: bytes, reader: CountedReader, budget: Budget) -> list[str]:
    """How the file could be read in another way than it was."""
    try:
        return list(two_meanings(pdf, reader, budget))
    except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
        return [f"what the file says of its pages {DAMAGED}"]


def _told_once(pages: Sequence[tuple[str, ...]], order: PageOrder) -> Iterator[Flaw]:
    """How pages are otherwise than written: what several share is told on the first of them."""
    sharing: dict[str, list[int]] = {}
    for number, otherwise in enumerate(pages):
        for text in otherwise:
            sharing.setdefault(text, []).append(number)
    for text, (first, *others) in sharing.items():
        more = f" (so on {counted(len(others), 'other page')})" if others else ""
        yield Flaw(first + 1, order.label(first), text + more)


def _outside(drawn: Sequence[DrawnMark], document: Document) -> Iterator[str]:
    """What a printer may cut off."""
    across, down = document.scale
    width, height = float(document.width / across), float(document.height / down)
    outside = beyond_margin(drawn, width, height, float(document.margin))
    if outside:
        more = f" and {counted(len(outside) - 1, 'other')}" if len(outside) > 1 else ""
        yield f"{drawn_words(outside[0])}{more} outside the printable window"


@dataclass(frozen=True, slots=True)
class _ReadPage:
    """A page as read: what is wrong with it before it is measured, and what it draws.

    `otherwise` is how it is written otherwise than it should be. `drawn` is None where it can't be
    read.
    """

    flaws: tuple[str, ...] = ()
    otherwise: tuple[str, ...] = ()
    drawn: list[DrawnMark] | None = None
    text: str = ""


class _Expected:
    """What pages should draw; what the page before ends with too isn't found again."""

    def __init__(self, typeface: Typeface) -> None:
        self._typeface = typeface
        self._shared: tuple[Mark, ...] = ()
        self._last: list[ExpectedMark] = []

    def of(self, page: Page) -> list[ExpectedMark]:
        """Everything a page should draw, text letter by letter."""
        if page.shared is not self._shared:
            self._shared = page.shared
            self._last = list(expected_marks(page.shared, self._typeface))
        own = page.marks[: len(page.marks) - len(page.shared)]
        return [*expected_marks(own, self._typeface), *self._last]


class _Both:
    """A PDF, and the same as this tool writes it; `read` pages of it, of at most so many bytes."""

    def __init__(
        self,
        reader: PdfReader,
        written: PdfReader,
        read: int,
        most: int,
        page_reader: PageReader,
    ) -> None:
        self._reader, self._written, self._most = reader, written, most
        self._page_reader = page_reader
        self._budget = budget = page_reader.budget
        self._fonts = Fonts(budget)
        self._comparison = ObjectComparison(reader, written, read, budget)
        self._as_written: set[int] = set()

    def read(self, number: int) -> _ReadPage:
        """A page, with what it draws."""
        try:
            page, usual = self._reader.pages[number], self._usual(number)
            otherwise = tuple(page_otherwise(page, usual, self._comparison))
            try:
                drawn = self._drawn(page, number)
            except (OddContentError, OddFontError) as odd:
                text = f"is drawn with {odd}, which no page of this tool is: not measured further"
                return _ReadPage((text,), otherwise)
        except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
            return _ReadPage((DAMAGED,))
        if not all(map(measurable, drawn)):
            return _ReadPage((DAMAGED,), otherwise)
        text = "".join([mark.text for mark in drawn if isinstance(mark, Glyph)])
        return _ReadPage((), otherwise, drawn, text)

    def _drawn(self, page: PageObject, number: int) -> list[DrawnMark]:
        streams = streams_of(page, self._most, self._budget)
        if streams == written_streams(self._usual(number)):
            self._as_written.add(number)
        return self._page_reader.marks(streams, self._fonts.of(page), paper(page))

    def drawn_otherwise(self, number: int, place: int) -> list[str]:
        """How a page, which is that of this `place`, is drawn otherwise than the tool draws it."""
        if place == number and number in self._as_written:
            return []
        streams = streams_of(self._reader.pages[number], self._most, self._budget)
        return drawn_otherwise(streams, written_streams(self._usual(place)))

    def file_otherwise(self, *, in_order: bool) -> list[str]:
        """How the file is otherwise than written, but for its pages, if those are `in_order`."""
        try:
            return file_otherwise(self._reader, self._written, self._comparison, in_order=in_order)
        except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
            return [f"what the file says of itself {DAMAGED}"]

    def _usual(self, number: int) -> PageObject:
        """A page as written; the last one where there are fewer."""
        return self._written.pages[min(number, len(self._written.pages) - 1)]
