"""The job ticket: a job, its plan and its sheets in, the ticket's pages out, as marks.

Page 1 answers first what the table asks first: what, when, how many, how far apart, what to cut;
with it what must not go wrong; then every hole as a running measure, so that a ruler will do. The
work in its order follows, with the lines to sign. Ink is black: nothing depends on colour.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Details, Job
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.measures import INCH, Length, format_length, format_order
from drapetemplate.planning.model import Finding, Plan, WindowPlan
from drapetemplate.planning.set_out import ASKED_FOR
from drapetemplate.sheets.laid_paper import LEAST_OVERLAP, LaidPaper, laid_paper
from drapetemplate.sheets.strip_list import StripList
from drapetemplate.sheets.tiling import turns_of
from drapetemplate.ticket.findings_box import FindingsBox
from drapetemplate.ticket.flow import (
    BODY,
    HEAVY,
    LEADING,
    LEAST_FILLED,
    SMALL,
    Flow,
    paper_flow,
)
from drapetemplate.ticket.hanging_pictures import put_hanging, weaves
from drapetemplate.ticket.windows_alike import twins_of
from drapetemplate.ticket.work import pages_in_order, put_work
from drapetemplate.wording import Wording
from drapetemplate.words.band_words import band_to_buy, roll_rows, splice_rows
from drapetemplate.words.figures import cloth_figures, in_short, window_figures
from drapetemplate.words.job_words import Row, of_job, of_window, words_of
from drapetemplate.words.plan_words import (
    BAND_TO_TEST,
    PARTS,
    assumed_where,
    cloth_called,
    cut_line,
    eyelet_sizes,
    eyelets_to_buy,
    measured_from,
    pages_named,
    panels_to_make,
    windows_named,
)

LARGE = 6.0
HEADLINE = 4.4
WINDOW_SIZE = BODY * 1.25  # of a window's name
MOST_TRIED = 8  # pages; a longer ticket is laid out once
TICKET_MARGIN = INCH / 2
SHORT = 24  # characters of a name that may stand beside what is said of it
# Words longer than this stand at the ticket's end, so that page 1 keeps room for the figures.
LONG = 420
IN_FULL = "in full at the end"
ROUNDED_HOLES = "≈ is to the nearest 1/16 in; the strip is exact. Don't step these off."


def ticket(
    job: Job,
    plan: Plan,
    strips: StripList,
    more: tuple[Finding, ...],
    accepted: frozenset[str],
    paper: LaidPaper,
    typeface: Typeface,
) -> tuple[tuple[Mark, ...], ...]:
    """The ticket's pages, on `paper`, which with a roll isn't the strips' own.

    `more` are findings that only paper shows; `accepted` codes of stops taken on, to be signed.
    """
    findings = FindingsBox(plan, more, accepted)
    laid: list[Flow] = []
    # A window is parted over pages where a page would be left short, or where it saves a page; and
    # then a table begins on less of one.
    for least, begun in ((LEAST_FILLED, 1 / 4), (1.0, 1 / 10)):
        flow = paper_flow(paper, typeface)
        laid.append(_filled(job, plan, strips, findings, flow, (least, begun)))
        if not 1 < len(laid[0].pages) <= MOST_TRIED:
            break
    fewest = min(laid, key=lambda filled: len(filled.pages))
    return fewest.numbered(job.details, "ticket")


def _filled(
    job: Job,
    plan: Plan,
    strips: StripList,
    findings: FindingsBox,
    flow: Flow,
    parted: tuple[float, float],
) -> Flow:
    """The empty `flow` with all of the ticket on it.

    `parted` are shares of a page: no page so full has a window parted, and a table begins on so
    much of one.
    """
    least, begun = parted
    figures = [in_short(window_figures(job, window)) for window in plan.windows]
    twins = twins_of(plan)
    _opening(flow, job, plan, strips, findings)
    findings.top(flow)
    for n, planned in enumerate(plan.windows):
        rows = [*figures[n], ("Template sheets", _sheets(plan, strips, n))]
        parts = _window(flow, job, plan, findings, n, rows, twins.get(n))
        again = partial(flow.heading, f"{planned.name}, continued", size=WINDOW_SIZE)
        if n == 0:  # it begins on page 1, come what may
            parts.pop(0)()
        flow.in_parts(parts, again, least=least if n else 1.0)
    _band(flow, job, plan)
    findings.notes(flow)
    _assumed(flow, plan, begun)
    _given(flow, job, figures, begun)
    put_work(flow, job, plan, strips)
    _in_full(flow, job)
    if not weaves(plan):
        put_hanging(flow, job, plan)
    return flow


def ticket_paper(job: Job, factors: Factors | None) -> LaidPaper:
    """What the ticket is printed on: the job's sheets, for their printer's `factors`.

    With a roll, letter or A4 by the job's units, for any printer. PaperError as `laid_paper`'s.
    """
    if job.paper.height is not None:
        return laid_paper(job.paper, factors, job.units)
    size = SHEETS["letter" if job.units == "in" else "a4"]
    sheet = replace(
        job.paper,
        name=size.name,
        width=size.width,
        height=size.height,
        margin=TICKET_MARGIN,
        overlap=LEAST_OVERLAP,  # a roll's own may be too much for it, and no page here laps another
    )
    return laid_paper(sheet, None, job.units)


def _opening(flow: Flow, job: Job, plan: Plan, strips: StripList, findings: FindingsBox) -> None:
    """What the job is and when it is due; how many panels; what to fetch for it."""
    details, say = job.details, Wording(job.units)
    flow.line("JOB TICKET", SMALL, role=Role.KICKER)
    flow.paragraph(details.name, _title_size(flow, details.name), bold=True, role=Role.TITLE)
    panels = sum(w.quantity * len(w.panels) for w in plan.windows)
    glance = [("Due", details.due.strftime("%Y-%m-%d, %A"))] if details.due else []
    glance.append(("Panels", str(panels)))
    if len(plan.windows) > 1:
        glance.append(("Windows", str(len(plan.windows))))
    _glance(flow, glance)
    notes = details.notes or ""
    rows = [
        (name, value if len(value) <= LONG else IN_FULL) for name, value in _named_details(details)
    ]
    if len(notes) > LONG:
        rows.append(("Notes", IN_FULL))
    rings = plan.order.eyelets
    rows += [
        ("Eyelets", f"{size}: " * (len(rings) > 1) + eyelets_to_buy(ring))
        for size, ring in zip(eyelet_sizes(plan.order.eyelets, say), rings, strict=True)
    ]
    several = len(plan.order.bands) > 1
    for band in plan.order.bands:
        height = f"{format_length(band.height, job.units)} high, " if several else ""
        rows.append(("Band", f"{height}{band_to_buy(band, job.units)}, {BAND_TO_TEST}"))
    for cloth in plan.order.cloth:
        amount = None if cloth.amount is None else format_order(cloth.amount, cloth.unit)
        across = "" if cloth.width is None else f", {format_length(cloth.width, job.units)} wide"
        name = cloth_called(cloth)
        bought_cloth = f"{name}{across}, amount not known"
        if amount and cloth.total is not None:
            bought_cloth = f"{amount} {name}{across} ({say(cloth.total)} cut)"
        rows.append((PARTS[cloth.part].capitalize(), bought_cloth))
    rows.append(("Warnings", findings.summary()))
    flow.pairs(rows, 2, BODY * 1.1)
    if 0 < len(notes) <= LONG:
        flow.space(1)
        flow.paragraph(notes, bullet="Notes", role=Role.NOTES)
    flow.space(0.6)
    flow.paragraph(pages_in_order(plan, strips), SMALL, role=Role.PAGES)


def _named_details(details: Details) -> list[Row]:
    """What a job says of itself beside its name, day and notes."""
    named = (("Number", details.number), ("Client", details.client), ("Room", details.room))
    return [(name, value) for name, value in named if value]


def _title_size(flow: Flow, name: str) -> float:
    """Large letters for a name that takes a line or two, smaller ones for a longer."""
    for size, most in ((LARGE, 2), (HEADLINE, 4)):
        if len(list(flow.wrapped(name, size, flow.width, bold=True))) <= most:
            return size
    return BODY


def _glance(flow: Flow, items: Sequence[Row]) -> None:
    """A few words in large letters between two heavy rules."""
    flow.space(3)
    flow.rule(HEAVY)
    face = flow.typeface
    x = flow.right
    for name, value in items:
        label, large = face.width(name, BODY) + 2, face.width(value, LARGE, bold=True)
        if x + label + large > flow.right:
            flow.down(LARGE * LEADING)
            x = flow.left
        flow.put(x, name, BODY, Role.GLANCE_NAME)
        flow.put(x + label, value, LARGE, Role.GLANCE, bold=True)
        x += label + large + 9
    flow.gap(LARGE * 0.38)
    flow.rule(HEAVY)
    flow.space(0.6)


def _window(
    flow: Flow,
    job: Job,
    plan: Plan,
    findings: FindingsBox,
    n: int,
    rows: Sequence[Row],
    twin: int | None,
) -> list[Callable[[], None]]:
    """What puts a window: the lines that matter and what must not go wrong; its figures; its holes.

    Of one like its `twin` only what is its own, in one.
    """
    planned = plan.windows[n]
    head = partial(_headlines, flow, job, planned, findings, n)
    if twin is None:
        return [head, partial(_figures, flow, planned, rows), partial(_holes, flow, job, planned)]

    def all_of_it() -> None:
        head()
        flow.space(1)
        same = ("Figures, holes", f"the same as for {plan.windows[twin].name}")
        flow.pairs([*in_short(cloth_figures(job, planned)), rows[-1], same], 2)

    return [all_of_it]


def _headlines(flow: Flow, job: Job, planned: WindowPlan, findings: FindingsBox, n: int) -> None:
    """A window's name, its size, count, gap and cut, and what must not go wrong with it."""
    say = Wording(job.units)
    panel = planned.panels[0]
    flow.heading(f"{planned.name}: {panels_to_make(planned)}", keep=34, size=WINDOW_SIZE)
    several = planned.quantity * len(planned.panels) > 1
    size = f"{'Each panel: finished' if several else 'Finished'} {say(panel.width)} wide"
    if planned.length is not None:
        size += f" × {say(planned.length)} long"
    gap = f"{panel.count} eyelets{' each' if several else ''}, {say(panel.gap)} apart edge to edge"
    lines = [size, f"{gap} ({say(panel.pitch)} centre to centre)", cut_line(job, planned)]
    for line in lines:
        if line:
            flow.paragraph(line, HEADLINE, bold=True, role=Role.HEADLINE)
    findings.at(flow, n)


def _figures(flow: Flow, planned: WindowPlan, rows: Sequence[Row]) -> None:
    """Why so many eyelets, and every figure of a window's panels."""
    flow.space(1)
    panel = planned.panels[0]
    if panel.reason != ASKED_FOR:
        flow.paragraph(f"Why {panel.count} eyelets: {panel.reason}.", SMALL)
        flow.space(1)
    flow.pairs(rows, 2)


def _holes(flow: Flow, job: Job, planned: WindowPlan) -> None:
    """Where a panel's holes go."""
    panel = planned.panels[0]
    flow.space(1.5)
    flow.room(min(panel.count // 3 + 3, 12) * BODY * LEADING)
    flow.paragraph(f"Hole centres, {measured_from(job, planned)}", bold=True)
    cells = [_hole(i, c, job) for i, c in enumerate(panel.centers, 1)]
    flow.grid(cells, Role.HOLE_CENTRE)
    if any("≈" in measure for _, measure, *_ in cells):
        flow.paragraph(ROUNDED_HOLES, SMALL)


def _hole(number: int, center: Length, job: Job) -> tuple[str, ...]:
    """A hole's number and running measure; in inches, with millimetres beside."""
    measure = format_length(center, job.units)
    if job.units == "in":
        return f"{number}", measure, format_length(center, "mm")
    return f"{number}", measure


def _sheets(plan: Plan, strips: StripList, here: int) -> str:
    """A window's own sheets, and whose the others are that an earlier window has already."""
    own = list(dict.fromkeys(strips.numbers[here]))
    before = {n: plan.windows[w].name for w in reversed(range(here)) for n in strips.numbers[w]}
    new = [strips.strips[number] for number in own if number not in before]
    parts = []
    if new:
        counts = [strip.sheets for strip in new]
        each = f" ({' + '.join(map(str, counts))})" if len(counts) > 1 else ""
        laid = [tiling for strip in new for tiling in strip.tilings]
        alike = {tiling.lanes for tiling in laid}
        shared = len(alike) == 1 and laid[0].lanes > 1
        on_each = f", {laid[0].lanes} parts on each" if shared else ""
        both = " for both" if any(strip.other for strip in new) else ""
        pages = sorted({page for strip in new for page in strip.roll_pages})
        where = pages_named(pages) if pages else turns_of(laid)
        parts.append(f"{sum(counts)}{each}{both}, {strips.paper.name}, {where}{on_each}")
    names = list(dict.fromkeys(before[number] for number in own if number in before))
    if names:
        whose = "the same as for" if not new else "the rest as for"
        parts.append(f"{whose} {windows_named(names)}")
    return "; ".join(parts)


def _band(flow: Flow, job: Job, plan: Plan) -> None:
    """What each roll of band is cut into, and where panels are spliced; nothing without rolls."""
    rows, spliced = roll_rows(plan, job.units), splice_rows(plan, job.units)
    if not rows:
        return
    flow.table("Stiffener band, roll by roll", [(n.capitalize(), w) for n, w in rows], 1, SMALL)
    if spliced:
        flow.table("Spliced, from roll to roll", spliced, 1, SMALL)


def _assumed(flow: Flow, plan: Plan, begun: float) -> None:
    """What the job file leaves open, each with its windows where it isn't all of them."""
    rows = [
        (
            words_of(assumption.key),
            assumption.value + (f" ({windows_named(names)})" if names else ""),
        )
        for assumption, names in assumed_where(plan).items()
    ]
    if rows:
        flow.table(
            "Assumed, since the job file doesn't say: check before cutting",
            rows,
            3,
            SMALL,
            begun=begun,
        )


def _given(flow: Flow, job: Job, figures: Sequence[Sequence[Row]], begun: float) -> None:
    """What the job says and the figures don't repeat, for every window and then for some."""
    given = [
        [row for row in of_window(window, job.units) if row not in shown]
        for window, shown in zip(job.windows, figures, strict=True)
    ]
    common = set(given[0]).intersection(*given[1:])
    shared = [*of_job(job), *(row for row in given[0] if row in common)]
    flow.table("The job in full", shared, 3, SMALL, begun=begun)
    own = [
        (
            window.name,
            "; ".join(f"{name} {value}" for name, value in rows if (name, value) not in common),
        )
        for window, rows in zip(job.windows, given, strict=True)
    ]
    own = [(name, given_words) for name, given_words in own if given_words]
    if own:
        flow.space(1.5)
    if all(len(name) <= SHORT for name, _ in own):
        flow.pairs(own, 3, SMALL)
    else:
        for name, given_words in own:
            flow.paragraph(f"{name}: {given_words}", SMALL, role=Role.GIVEN_WINDOW)


def _in_full(flow: Flow, job: Job) -> None:
    """Words too long for page 1."""
    for name, value in (*_named_details(job.details), ("Notes", job.details.notes or "")):
        if len(value) > LONG:
            flow.heading(f"{name}, in full")
            flow.paragraph(value, role=Role.NOTES)
