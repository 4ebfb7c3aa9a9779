"""Everything one PDF holds, before any PDF exists: pages of marks, all of one size."""

from __future__ import annotations

from dataclasses import dataclass

from drapetemplate.drawing import Mark, Typeface
from drapetemplate.job import Job
from drapetemplate.measures import Length
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.plan import Plan
from drapetemplate.sheets import SheetSet, check_paper, sheet_set
from drapetemplate.template import template
from drapetemplate.ticket import ticket


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its `label` in words, and its marks in page coordinates."""

    label: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Document:
    """A PDF to be: every page is upright, `width` x `height`; `findings` only paper can show."""

    title: str
    width: Length
    height: Length
    pages: tuple[Page, ...]
    findings: tuple[Finding, ...]


def document(
    job: Job, plan: Plan, typeface: Typeface, accepted: frozenset[str] = frozenset()
) -> Document:
    """The job's ticket and every strip's sheets, in the order they are used.

    `accepted` are codes of stop findings that someone takes on; the ticket says so.

    A strip is made once for a window, however many of it are to be made.
    """
    height = check_paper(job.paper, job.units)
    strips: list[list[SheetSet]] = [
        [sheet_set(template(job, w, p, typeface), job, typeface) for p in w.panels]
        for w in plan.windows
    ]
    undrawn = _undrawn(job, typeface)
    pages = [
        Page(f"ticket {i}", marks)
        for i, marks in enumerate(ticket(job, plan, strips, undrawn, accepted, typeface), 1)
    ]
    for strip in (strip for window in strips for strip in window):
        name = f"{strip.template.window}, {strip.template.panel}"
        pages += [
            Page(f"{name}, sheet {sheet.number} of {len(strip.sheets)}", sheet.marks)
            for sheet in strip.sheets
        ]
    return Document(job.details.name, job.paper.width, height, tuple(pages), undrawn)


def _undrawn(job: Job, typeface: Typeface) -> tuple[Finding, ...]:
    """A note where the job's words have characters that the font can only stand in for."""
    details = job.details
    words = [details.name, details.number, details.client, details.room, details.notes]
    words += [*job.paper.letters, *(w.name for w in job.windows)]
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
    return (Finding("note", "missing-glyph", text),)
