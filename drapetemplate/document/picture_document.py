"""Pictures put on pages of their own: a job's panels, and a window's counts side by side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from drapetemplate.document.job_document import documents
from drapetemplate.document.model import Document, Page, titled
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.model import Job
from drapetemplate.measures import shown
from drapetemplate.planning.compare import Choice, Comparison
from drapetemplate.planning.finding_words import short
from drapetemplate.planning.model import Plan, WindowPlan, worst_first
from drapetemplate.ticket import from_above, panel_views
from drapetemplate.ticket.approval import approval
from drapetemplate.ticket.flow import BODY, SMALL, Flow, paper_flow
from drapetemplate.ticket.job_ticket import ticket_paper
from drapetemplate.ticket.panel_pictures import flat_strip
from drapetemplate.ticket.picture import SCALES, Picture, scale_for, shifted
from drapetemplate.wording import Wording
from drapetemplate.words.figures import free_to_wall

WIDTH = 260.0
MARGIN = 8.0
TALLEST = 4000.0
MOST_LISTED = 12


def panel_pictures(job: Job, plan: Plan, typeface: Typeface) -> tuple[Document, ...]:
    """Every window's panel from above, from the front and flat, each on a page as high as it takes.

    All windows are on one, or where they don't fit one, each has its own.
    """
    together = _panel_picture(job, plan.windows, typeface)
    if together is not None:
        return (together,)
    alone = (_panel_picture(job, (window,), typeface) for window in plan.windows)
    return tuple(picture for picture in alone if picture is not None)  # one always fits


def _panel_picture(job: Job, windows: Sequence[WindowPlan], typeface: Typeface) -> Document | None:
    """Some windows on one page; None where they don't fit it."""
    flow = Flow(typeface, WIDTH, TALLEST, MARGIN)
    flow.line(job.details.name, 5.0, bold=True, role=Role.TITLE)
    for window in windows:
        flow.heading(window.name)
        for caption, drawn in panel_views.window_pictures(
            job, window, typeface, WIDTH - 2 * MARGIN
        ):
            _put(flow, f"{caption}. Scale 1:{drawn.scale}", [drawn])
        if len(flow.pages) > 1:
            return None
    lowest = flow.y - MARGIN
    marks = tuple(shifted(flow.pages[0], 0.0, -lowest))
    page = Page("picture", marks)
    title = titled(job.details.name)
    return Document(title, Fraction(WIDTH), Fraction(TALLEST - lowest), (page,), ())


def page_picture(job: Job, plan: Plan, name: str, typeface: Typeface) -> Document:
    """One page of the job's PDF by itself, by the name viewers show; FileError for no such page."""
    laid_out = documents(job, plan, typeface)
    for document in laid_out:
        for page in document.pages:
            if page.short == name:
                return replace(document, pages=(page,))
    names = [page.short for document in laid_out for page in document.pages]
    listed = ", ".join(names[:MOST_LISTED]) + (" and on" if len(names) > MOST_LISTED else "")
    raise FileError([Fault("--page", f"{shown(name)} is no page: there are {listed}")])


def approval_pages(job: Job, plan: Plan, typeface: Typeface) -> Document:
    """The pages for the client to sign, which are no part of the job's PDF."""
    paper = ticket_paper(job, None)
    pages = approval(job, plan, paper_flow(paper, typeface))
    named = tuple(Page(f"approval {n}", marks) for n, marks in enumerate(pages, 1))
    return Document(titled(job.details.name), paper.width, paper.height, named, ())


def comparison_sheets(
    job: Job, comparisons: tuple[Comparison, ...], typeface: Typeface
) -> Document:
    """A page a window: for each count the panel on its pole, wall above, its strip below."""
    paper = ticket_paper(job, None)
    pages = []
    for comparison in comparisons:
        filled = _comparison(job, comparison, lambda: paper_flow(paper, typeface))
        pages += [Page(comparison.name, marks) for marks in filled]
    return Document(titled(job.details.name), paper.width, paper.height, tuple(pages), ())


def _comparison(
    job: Job, comparison: Comparison, fresh: Callable[[], Flow]
) -> tuple[tuple[Mark, ...], ...]:
    """One page, at the largest customary scale at which all its counts fit it.

    Where they don't at any, as many pages as they take at the largest that fits across.
    """
    empty = fresh()
    widest = max(_widest(choice) for choice in comparison.choices)
    least = scale_for(widest, empty.width - 14)
    for scale in (least, *(s for s in SCALES if s > least)):
        flow = _at_scale(job, comparison, fresh(), scale, one_page=True)
        if len(flow.pages) == 1:
            return flow.pages
    return _at_scale(job, comparison, fresh(), least).pages


def _at_scale(
    job: Job, comparison: Comparison, flow: Flow, scale: int, *, one_page: bool = False
) -> Flow:
    """All counts of a window at one scale, put on `flow`.

    Of what is wanted on `one_page` only so much as shows that it isn't.
    """
    flow.line(f"{job.details.name} · {comparison.name}", 4.4, bold=True, role=Role.TITLE)
    shown = "Each count's heading laid flat"
    if comparison.window.eyelet.hung == "pole":
        shown = (
            "Each count closed, seen from above with the wall at the top, its heading flat below"
        )
    flow.paragraph(
        f"{shown}. All at 1:{scale}. The job's count: {comparison.reason}.",
        SMALL,
    )
    for choice in comparison.choices:
        _choice(flow, job, comparison, choice, scale)
        if one_page and len(flow.pages) > 1:
            break
    return flow


def _widest(choice: Choice) -> float:
    return 0.0 if choice.window is None else float(choice.window.panels[0].width)


def _choice(flow: Flow, job: Job, comparison: Comparison, choice: Choice, scale: int) -> None:
    flow.space(1.5)
    if choice.window is None:
        flow.paragraph(f"{choice.count} eyelets: {choice.fault}", SMALL, role=Role.CAPTION)
        return
    panel = choice.window.panels[0]
    drawn = [flat_strip(job, panel, flow.typeface, scale)]
    if panel.hang is not None:
        window = comparison.window
        drawn.insert(0, from_above.from_above(job, window, panel, panel.hang, flow.typeface, scale))
    _put(flow, _caption(job, choice, choice.window), drawn, bold=choice.chosen)


def _caption(job: Job, choice: Choice, window: WindowPlan) -> str:
    """A count in words: gap, folds and what is free to the wall, closed and stacked; findings."""
    say = Wording(job.units)
    panel, hang = window.panels[0], window.panels[0].hang
    parts = [f"{panel.count} eyelets, {say(panel.gap)} apart"]
    if hang is not None:
        closed, stacked = map(say.deep, (hang.depth_closed, hang.depth_stacked))
        parts.append(f"folds {closed} deep closed, up to {stacked} stacked")
        if hang.projection is not None:
            parts.append(f"free to the wall: {free_to_wall(hang, say)}")
    worst = worst_first(window.findings)
    parts += dict.fromkeys(f"{each.level.upper()} {short(each.code, each.level)}" for each in worst)
    return " · ".join((["THE JOB'S COUNT"] if choice.chosen else []) + parts)


def _put(flow: Flow, words: str, drawn: list[Picture], *, bold: bool = False) -> None:
    """A caption and its pictures, kept together."""
    flow.room(sum(picture.height + 2 for picture in drawn) + 3 * BODY)
    flow.paragraph(words, SMALL, bold=bold, role=Role.CAPTION)
    for picture in drawn:
        flow.pictures([picture], above=2)
