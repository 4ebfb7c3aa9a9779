"""How a strip's sheets are put together: the strip in small, the order of taping, what to check.

One strip's sheets in, its assembly page out; a strip that is whole on one sheet needs none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job, View
from drapetemplate.measures import Length, format_length
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.sheets import furniture
from drapetemplate.sheets.joins import Clear
from drapetemplate.sheets.sheet import SheetSet, clear_laps, clear_row_laps
from drapetemplate.sheets.tiling import Tiling
from drapetemplate.template.stepping import steps
from drapetemplate.template.strip import Template
from drapetemplate.ticket.flow import BODY, LEADING, SMALL, Flow
from drapetemplate.ticket.taped_picture import draw_taped
from drapetemplate.wording import Wording, joined
from drapetemplate.words.plan_words import pages_named
from drapetemplate.words.tolerances import (
    STEP_OFF,
    STRIP_IS_OFF,
    said_off,
    strip_may_be_off,
    taped_to_measure,
)

CHECKED = 5  # holes that are measured
SIZE = BODY * 1.13  # mm, of letters that are read at a table, the strip in both hands
PAIR = ", each panel by its own ends and numbers"
BESIDE = 4.0  # mm from a column of measures to the next

LAID = (
    "Lay it on the {seen} of {each}: its line marked TOP on the panel's top edge, the paper "
    "standing over it. Never turn it over."
)
RUN = 5  # sheets that are taped and measured at once; more are taped in such runs
STEPS = (
    (
        "Check the bars on every sheet first. Lay the sheets out in this order on a flat table, "
        "print up, the panel's top away from you."
    ),
    (
        "Work from left to right. Cut the next {part} on its solid line and lay it over the one "
        "before, its cut edge on the long-dashed line, crosses in circles on one another.{wedges}"
    ),
    (
        "Tape across each join above and below the band first, then once on the band, where no "
        "circle is. No tape over a hole circle or a registration mark: pens and pins slip there."
    ),
)
RUNS = (
    "Tape in runs of four or five {part}s, check each run against the measures that follow, then "
    "join the runs."
)

WEDGES = " Black wedges above and below the band point at these two lines."
LEADING_WEDGES = " Black wedges in the band point at the leading edge."
ROLL_STEP = (
    "Check the bars on every page first, then cut the pages apart between their double lines. Lay "
    "this strip's sheets out in this order on a flat table, print up, the panel's top away from "
    "you."
)
STEPPING = (
    "Lay the {edge} end on the band, its panel end on the band's; trace holes 1 and 2.",
    (
        "Lay the stepping piece with A on hole 1, B on hole 2, its band lines on the band's edges; "
        "trace B and C. Then lay A on the hole that was C, and so on, as the table says."
    ),
    (
        "After every step measure C from the {edge} edge by ruler before it is traced: steps add "
        "up, measures don't. Off by more than {off}: shift the piece to the measure."
    ),
    "{far} Measure the whole from end to end.",
)
# With an even count the steps end one hole short of the last.
FAR_EVEN = (
    "Lay the far end with its hole {before} on the last hole traced, its band lines on the band's "
    "edges; trace hole {last} and the panel end."
)
FAR_ODD = "Lay the far end on the last two holes traced; trace the panel end."

CROSSED: dict[Clear, str] = {
    "hole": "the lap runs over an eyelet's outside circle, but over no hole",
    "whole": (
        "the lap runs over a hole, which is whole on one of the two sheets: trace it there before "
        "the next is taped over"
    ),
    "hole only": (
        "the lap runs over no hole, but an eyelet's outside circle is whole on neither of the two "
        "sheets: trace the hole, and the outside only where the sheets are taped"
    ),
    "hole whole": (
        "an eyelet's outside circle is whole on neither of the two sheets, and the lap runs over a "
        "hole, which is whole on one: trace it there before the next is taped over"
    ),
    "cut": (
        "a hole is whole on neither of the two sheets: trace it only where they are taped, and "
        "check it by its cross"
    ),
}


def assembly(
    job: Job,
    sheets: SheetSet,
    panel: PanelPlan,
    flow: Flow,
    *,
    other: PanelPlan | None = None,
    windows: Sequence[WindowPlan] = (),
) -> tuple[tuple[Mark, ...], ...]:
    """The assembly page of one strip, put on the empty page `flow`.

    `panel` is what is measured: of a pair on one strip the first, `other` its second. `windows`
    are those that the strip is for, one panel or pair of each as often as it is made.
    """
    tiling, template = sheets.tiling, sheets.template
    if tiling.across == tiling.rows == 1:
        return ()
    flow.line("ASSEMBLY", SMALL, role=Role.KICKER)
    flow.paragraph(f"{template.window}, {template.panel}", 6.0, bold=True, role=Role.TITLE)
    seen = f"seen from the {template.seen}"
    parts = f"{tiling.across * tiling.rows} parts" if tiling.lanes > 1 else ""
    count = f"{tiling.count} sheets of {sheets.paper.name}"
    if tiling.places:
        pages = sorted({place.page + 1 for place in tiling.places})
        count += f", from {pages_named(pages)}"
    if template.letter:
        count = f"Strip {template.letter}: {count}"
    flow.paragraph(", ".join(words for words in (count, parts, seen) if words), bold=True)
    for words in _made_for(windows, template.panels):
        flow.paragraph(words, SIZE, role=Role.MADE_FOR)
    if other is not None:
        for words in serves_both(panel, other, template.seen, job):
            flow.paragraph(words, SIZE, role=Role.MADE_FOR)
    else:
        flow.paragraph(LAID.format(seen=template.seen, each="the panel"), SIZE, role=Role.MADE_FOR)
    for words in _crossed(sheets):
        flow.paragraph(words, bullet="!", role=Role.CLEARANCE)
    flow.space(2)
    draw_taped(flow, job, sheets, panel, other)
    flow.heading("Taping")
    part = "sheet" if tiling.lanes == 1 else "part"
    wedges = WEDGES if furniture.has_wedges(sheets.paper.overlap) else ""
    if any(mark.role == Role.LEADING_WEDGE for mark in template.marks):
        wedges += LEADING_WEDGES
    for n, words in enumerate(_taping(tiling), 1):
        flow.paragraph(words.format(part=part, wedges=wedges), SIZE, bullet=f"{n}")
    _measuring(flow, job, panel, len(tiling.joins), pair=other is not None)
    letter = f" of strip {template.letter}" if template.letter else ""
    return flow.numbered(job.details, f"assembly{letter}")


def _taping(tiling: Tiling) -> list[str]:
    """The order of taping, in steps."""
    taping = [*STEPS, RUNS] if tiling.across > RUN else list(STEPS)
    if tiling.lanes > 1:
        taping.insert(
            1, "Cut each sheet into its parts, on the solid line between them: a is the upper one."
        )
    if tiling.places:
        taping[0] = ROLL_STEP
    if tiling.rows > 1:
        taping.insert(
            1, "Tape each row from left to right, then the rows, the lower over the upper."
        )
    return taping


def _crossed(sheets: SheetSet) -> Iterator[str]:
    """What the laps run over, join by join and row by row, where it is more than cloth."""
    tiling, whole = sheets.tiling, sheets.template.strip
    clear = clear_laps(whole, tiling, sheets.paper)
    for kind, words in CROSSED.items():
        joins = [number for number, join in enumerate(clear, 1) if join == kind]
        if joins:
            noun = "Join" if len(joins) == 1 else "Joins"
            names = ", ".join(sheets.template.sheet_name(str(number)) for number in joins)
            yield f"{noun} {names}: {words}."
    for row, kind in enumerate(clear_row_laps(whole, tiling, sheets.paper), 1):
        if kind != "outside":
            yield f"Between rows {row} and {row + 1}: {CROSSED[kind]}."


def _made_for(windows: Sequence[WindowPlan], panels: int) -> Iterator[str]:
    """How many panels a strip marks, and of which windows, where it is for more than one.

    Windows made once each are named over it already.
    """
    quantities = {window.quantity for window in windows}
    if sum(window.quantity for window in windows) > 1:
        names = joined(f"{window.name} ×{window.quantity}" for window in windows)
        if quantities == {1}:
            names = f"{panels // len(windows)} for each of the {len(windows)} windows"
        yield f"Tape 1 strip, mark {panels} panels with it: {names}."


def serves_both(panel: PanelPlan, other: PanelPlan, seen: View, job: Job) -> Iterator[str]:
    """How a pair's one strip marks each panel, seen from one side: the same holes, other ends.

    The second panel is the first one's mirror image, and an even row of holes is its own: laid on
    the same holes only the panels' ends may differ, by what return and leading edge do.
    """
    first, second = panel.side, other.side
    off = abs(panel.return_ - panel.leading)
    ends = f"its ends are the {first} panel's, with leading and return edge changed over"
    if off:
        apart = format_length(off, job.units)
        ends = f"its ends are the dashed ones, {apart} from the {first} panel's"
    yield f"One strip for both panels. {LAID.format(seen=seen, each='each')}"
    marked = "panel takes what the sheets mark"
    yield f"The {first} {marked} {first.upper()}, above the eyelets."
    yield (
        f"The {second} {marked} {second.upper()}, below the eyelets, read from the strip's other "
        f"end: {ends}."
    )
    if off:
        say = Wording(job.units)
        yield (
            f"The paper is {say(panel.width + off)} long over all, and {say(panel.width)} of it "
            "is each panel. Don't cut it to one panel's end."
        )


def _measuring(flow: Flow, job: Job, panel: PanelPlan, joins: int, *, pair: bool) -> None:
    """What the taped strip must measure, and what to do where it doesn't: whole on one page."""
    title = "Measure the taped strip from both ends"
    table = partial(_measures, flow, job, panel, f"{title}{PAIR if pair else ''}")
    most = said_off(strip_may_be_off(panel.width, joins), job.units)
    off = partial(_may_be_off, flow, taped_to_measure(panel.width, joins, job.units), most)
    flow.in_parts([table, off], partial(flow.heading, f"{title}, continued"))


def _measures(flow: Flow, job: Job, panel: PanelPlan, title: str) -> None:
    """Under their title the strip's measures, hole by hole, from both its ends."""
    start, end = ("left", "right") if panel.side == "single" else ("leading", "return")
    head = ("", f"from the {start} edge", f"from the {end} edge")
    measured = list(checks(panel))
    rows = [(f"hole {n}", _said(first, job), _said(second, job)) for n, first, second in measured]
    # On paper too narrow for both systems the job's own does.
    if sum(_widths(flow, [head, *rows])) > flow.width:
        say = Wording(job.units)
        rows = [(f"hole {n}", say(first), say(second)) for n, first, second in measured]
    widths = _widths(flow, [head, *rows])
    height = (len(rows) + 2) * SIZE * LEADING
    flow.heading(title, keep=height)
    flow.pairs([("panel end to panel end", _said(panel.width, job))], 1, SIZE)
    flow.space(1)
    roles = (Role.NAME, Role.VALUE, Role.VALUE)
    for row in (head, *rows):
        flow.down(SIZE * LEADING)
        x = flow.left
        for words, role, width in zip(row, roles, widths, strict=True):
            of_head = row is head
            shown = Role.MEASURED_FROM if of_head else role
            flow.put(x, words, SIZE, shown, bold=role == Role.VALUE and not of_head)
            x += width


def _may_be_off(flow: Flow, allowed: str, most: str) -> None:
    """What the strip is allowed to be off, and what is done where it is off by more than `most`."""
    flow.space(1)
    flow.paragraph(allowed, SIZE, bold=True, role=Role.MAY_BE_OFF)
    for words in STRIP_IS_OFF:
        flow.paragraph(words, SIZE, bullet="·")
    flow.paragraph(f"Nothing is traced from a strip that is off by more than {most}.", SIZE)


def _widths(flow: Flow, rows: Sequence[Sequence[str]]) -> list[float]:
    """How wide each column is, with what is kept free beside it."""
    face = flow.typeface
    return [
        max(face.width(words, SIZE, bold=True) for words in column) + BESIDE
        for column in zip(*rows, strict=True)
    ]


def _said(length: Length, job: Job) -> str:
    """A measure; in a job in inches with millimetres beside, for rulers that have them."""
    words = format_length(length, job.units)
    return words if job.units != "in" else f"{words}  =  {float(length):.1f} mm"


def checks(panel: PanelPlan) -> Iterator[tuple[int, Length, Length]]:
    """Yield some holes, a quarter of them apart or so: number, and measures from either end.

    The first is from the edge that all is measured from; exact, so that both add up to the width.
    """
    count = panel.count
    for number in sorted({1 + round(n * (count - 1) / (CHECKED - 1)) for n in range(CHECKED)}):
        center = panel.centers[number - 1]
        yield number, center, panel.width - center


def stepping_page(
    job: Job, pieces: Sequence[Template], panel: PanelPlan, flow: Flow
) -> tuple[tuple[Mark, ...], ...]:
    """How three pieces mark a whole panel: the steps with every hole's measure, as a page."""
    edge = panel.edge
    near, step, far_end = (piece.piece for piece in pieces)
    letters = ", ".join(piece.letter for piece in pieces)
    flow.line("STEPPING", SMALL, role=Role.KICKER)
    flow.paragraph(f"{pieces[0].window}, {panel.side} panel", 6.0, bold=True, role=Role.TITLE)
    flow.paragraph(
        f"{panel.count} holes from three short pieces: {pieces[0].letter}, the {near}; "
        f"{pieces[1].letter}, the {step} with holes A, B and C; {pieces[2].letter}, the {far_end}.",
        bold=True,
    )
    flow.space(1)
    last, off = panel.count, said_off(STEP_OFF, job.units)
    far = FAR_ODD if last % 2 else FAR_EVEN.format(before=last - 1, last=last)
    for n, words in enumerate(STEPPING, 1):
        flow.paragraph(words.format(edge=edge, far=far, off=off), SIZE, bullet=f"{n}")
    flow.heading(f"The steps; holes measured from the {edge} edge")
    _steps(flow, [(f"step {n}", *holes) for n, holes in steps(panel, job.units)])
    if panel.seams:
        flow.heading("Seams")
        places = ", ".join(format_length(seam, job.units) for seam in panel.seams)
        flow.paragraph(f"Mark them by ruler, from the {edge} edge: {places}.", SIZE)
    return flow.numbered(job.details, f"stepping of pieces {letters}")


def _steps(flow: Flow, cells: Sequence[tuple[str, ...]]) -> None:
    """The steps as a table; on paper too narrow for one, each as a paragraph."""
    parts = zip(*cells, strict=True)
    wide = sum(max(flow.typeface.width(part, BODY, bold=True) for part in own) for own in parts)
    if wide + 3 * len(cells[0]) <= flow.width:
        flow.grid(cells, Role.STEP, BODY)
        return
    for name, *holes in cells:
        flow.paragraph(", ".join(holes), BODY, bullet=name, role=Role.STEP)
