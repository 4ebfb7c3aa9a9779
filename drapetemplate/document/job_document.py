"""Everything one PDF holds, before any PDF exists: pages of marks, all of one size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drapetemplate.document.model import Document, Page, Settings, titled
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.planning.findings import finding
from drapetemplate.planning.model import Finding, Plan
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.sheets.roll_pages import Roll, page_bars, page_marks
from drapetemplate.sheets.sheet import Sheet, SheetSet, sheet_set
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.ticket.assembly import assembly, stepping_page
from drapetemplate.ticket.cutting import cutting
from drapetemplate.ticket.flow import paged, paper_flow
from drapetemplate.ticket.hanging_pictures import hanging
from drapetemplate.ticket.job_ticket import ticket, ticket_paper
from drapetemplate.words.plan_words import listed


def documents(
    job: Job,
    plan: Plan,
    typeface: Typeface,
    accepted: frozenset[str] = frozenset(),
    factors: Factors | None = None,
) -> tuple[Document, ...]:
    """The ticket, cutting pages, every strip with its assembly, hanging pages: as the work goes.

    One PDF, or with a roll two, the strips and then the ticket with the rest, so that no PDF mixes
    page sizes. `accepted` are codes of stop findings that someone takes on; the ticket says so.
    `factors` are those of the printer to correct for; a roll's ticket goes to another. Each strip
    is made once, however many panels it is for.
    """
    strips = strip_list(job, plan.windows, factors)
    undrawn = _undrawn(job, factors, typeface)
    paper = ticket_paper(job, factors)
    pages = ticket(job, plan, strips, undrawn, accepted, paper, typeface)
    read = _numbered("ticket", pages, "Job ticket")
    read += _numbered("cutting", cutting(job, plan, paper_flow(paper, typeface)), "Cutting")
    taped: list[Page] = []
    put = taped if strips.roll is None else read
    sets: list[SheetSet] = []
    for strip in strips.strips:
        drawn = strip.templates(job, typeface)
        if len(drawn) > 1:
            pages = stepping_page(job, drawn, strip.panel, paper_flow(paper, typeface))
            name = f"{drawn[0].window}, {strip.panel.side} panel"
            put += _numbered("stepping", pages, name, f"strip {drawn[0].letter}")
        for template, tiling in zip(drawn, strip.tilings, strict=True):
            sheets = sheet_set(template, job, strips.paper, tiling, typeface)
            sets.append(sheets)
            if len(drawn) == 1:
                page = paper_flow(paper, typeface)
                pages = assembly(
                    job, sheets, strip.panel, page, other=strip.other, windows=strip.windows
                )
                short = f"strip {template.letter or len(sets)}"
                put += _numbered("assembly", pages, _name(sheets), short)
            if strips.roll is None:
                taped += _sheet_pages(sheets, len(sets))
    if strips.roll is not None:
        taped += _roll_pages(strips.roll, sets, typeface)
    # What was taken on is what there was to take on: a code that no stop has says nothing.
    taken_on = accepted & {stop.code for stop in plan.stops}
    pages = hanging(job, plan, paper_flow(paper, typeface))
    last = _numbered("hanging", pages, "Hanging")
    settings = Settings(factors, taken_on, only=job.only)
    if strips.roll is None:
        return (_document(job, strips.paper, [*read, *taped, *last], undrawn, settings, typeface),)
    return (
        _document(job, strips.paper, taped, undrawn, replace(settings, of=2), typeface),
        _document(job, paper, [*read, *last], (), replace(settings, number=2, of=2), typeface),
    )


def document(
    job: Job,
    plan: Plan,
    typeface: Typeface,
    accepted: frozenset[str] = frozenset(),
    factors: Factors | None = None,
) -> Document:
    """The first of `documents`: the whole of a job on sheets, the strips alone on a roll."""
    return documents(job, plan, typeface, accepted, factors)[0]


def _document(
    job: Job,
    paper: LaidPaper,
    pages: Sequence[Page],
    findings: tuple[Finding, ...],
    settings: Settings,
    typeface: Typeface,
) -> Document:
    width, height = paper.true_size
    return Document(
        title=titled(job.details.name),
        width=width,
        height=height,
        pages=tuple(
            replace(one, marks=marks)
            for one, marks in zip(pages, paged([one.marks for one in pages], typeface), strict=True)
        ),
        findings=findings,
        scale=paper.scale,
        settings=settings,
        margin=paper.margin,
    )


def _name(sheets: SheetSet) -> str:
    return f"{sheets.template.window}, {sheets.template.panel}"


def _sheet_pages(sheets: SheetSet, number: int) -> Iterator[Page]:
    """A page for each sheet of the job's strip of this number."""
    for sheet in sheets.sheets:
        yield _sheet_page(sheets, number, sheet, sheet.marks, sheet.shared)


def _sheet_page(
    sheets: SheetSet,
    number: int,
    sheet: Sheet,
    marks: tuple[Mark, ...],
    shared: tuple[Mark, ...],
) -> Page:
    """A page named for the one sheet that is on it."""
    template, name = sheets.template, _name(sheets)
    which = f"sheet {template.sheet_name(str(sheet.number))} of {sheets.tiling.count}"
    short = f"strip {template.letter or number} sheet {sheet.number}"
    return Page(f"{name}, {which}", marks, name, short, which, shared)


def _roll_pages(roll: Roll, sets: Sequence[SheetSet], typeface: Typeface) -> Iterator[Page]:
    """The pages of a roll, each with all sheets that are cut from it.

    One with a single sheet is named as that is.
    """
    bars = page_bars(roll, typeface)
    shared = bars if len(roll.pages) > 1 else ()
    for page in range(len(roll.pages)):
        own = [
            (sheets, number, sheet)
            for number, sheets in enumerate(sets, 1)
            for sheet, place in zip(sheets.sheets, sheets.tiling.places, strict=True)
            if place.page == page
        ]
        names = [sheets.template.sheet_name(str(sheet.number)) for sheets, _, sheet in own]
        marks = tuple(page_marks(roll, page, names, typeface))
        marks += tuple(mark for _, _, sheet in own for mark in sheet.marks)
        marks += bars
        if len(own) == 1:
            yield _sheet_page(*own[0], marks, shared)
        else:
            which = f"page {page + 1} of {len(roll.pages)}, sheets {listed(names)}"
            yield Page(f"roll {which}", marks, "Roll", f"roll page {page + 1}", which, shared)


def _numbered(
    kind: str, pages: Iterable[tuple[Mark, ...]], part: str, strip: str = ""
) -> list[Page]:
    """Pages named for their kind with their numbers; those of a `strip` for that too."""
    named = [(f"{kind} {i}", marks) for i, marks in enumerate(pages, 1)]
    if not strip:
        return [Page(name, marks, part, name, name) for name, marks in named]
    return [Page(f"{part}, {name}", marks, part, f"{strip} {name}", name) for name, marks in named]


def _undrawn(job: Job, factors: Factors | None, typeface: Typeface) -> tuple[Finding, ...]:
    """A note where the job's words have characters that the font can only stand in for."""
    details = job.details
    words = [details.name, details.number, details.client, details.room, details.notes]
    words += [*job.paper.letters, *(w.name for w in job.windows)]
    words += [] if factors is None else [factors.name]
    words += [c.name for w in job.windows for c in (w.fabric, w.lining) if c is not None]
    missing = {
        char
        for word in words
        for char in word or ""
        if not char.isspace() and typeface.drawable(char) != char
    }
    if not missing:
        return ()
    codes = ", ".join(f"U+{ord(char):04X}" for char in sorted(missing)[:8])
    more = f" and {len(missing) - 8} more" if len(missing) > 8 else ""
    text = f"characters the printed font lacks are drawn as a stand-in: {codes}{more}"
    return (finding("missing-glyph", text),)
