"""How each window's panels hang, to scale: a plan in, its last pages out."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.ticket import panel_views
from drapetemplate.ticket.flow import BODY, SMALL, Flow
from drapetemplate.ticket.picture import Picture
from drapetemplate.ticket.windows_alike import twins_of
from drapetemplate.words.plan_words import listed

BETWEEN = 10.0  # mm from a picture to one beside it
# mm of paper that a panel on its pole may be high: the largest that take the fewest pages. Beyond
# so many pages the largest are taken untried.
HEIGHTS = (90.0, 75.0, 60.0)
MOST_TRIED = 8


def hanging(job: Job, plan: Plan, flow: Flow) -> tuple[tuple[Mark, ...], ...]:
    """The hanging pages, put on the empty page `flow`; none where nothing weaves on a pole."""
    if not weaves(plan):
        return ()
    laid: list[Flow] = []
    for height in HEIGHTS:
        filled = flow.fresh()
        filled.line("HANGING", SMALL, role=Role.KICKER)
        filled.paragraph(job.details.name, 6.0, bold=True, role=Role.TITLE)
        put_hanging(filled, job, plan, height)
        laid.append(filled)
        if not 1 < len(laid[0].pages) <= MOST_TRIED:
            break
    fewest = min(laid, key=lambda filled: (len(filled.pages), filled.short_pages))
    return fewest.numbered(job.details, "hanging")


def weaves(plan: Plan) -> bool:
    """True where any panel hangs on its pole by its eyelets, and so has more to show than holes."""
    return any(panel.hang is not None for window in plan.windows for panel in window.panels)


def put_hanging(flow: Flow, job: Job, plan: Plan, height: float = HEIGHTS[0]) -> None:
    """Put every window's pictures, those of windows alike once, on a pole no higher than this."""
    twins = twins_of(plan)
    for n, planned in enumerate(plan.windows):
        if n not in twins:
            names = [planned.name, *(plan.windows[m].name for m, of in twins.items() if of == n)]
            _pictures(flow, job, planned, listed(names), height)


def _pictures(flow: Flow, job: Job, planned: WindowPlan, names: str, most: float) -> None:
    """A window's panel to scale: on its pole from above, from the front, and flat."""
    rows = _rows(
        panel_views.window_pictures(job, planned, flow.typeface, flow.width, most), flow.width
    )
    title = f"{names}: how it hangs"

    def first() -> None:
        flow.heading(title, keep=_height(rows[0]))
        _row(flow, rows[0])

    rest = [partial(_row, flow, row) for row in rows[1:]]
    flow.in_parts([first, *rest], partial(flow.heading, f"{title}, continued"))


def _height(row: Sequence[tuple[str, Picture]]) -> float:
    """What pictures side by side take with their captions, in mm."""
    return max(drawn.height for _, drawn in row) + (1 + 3 * len(row)) * BODY


def _row(flow: Flow, row: Sequence[tuple[str, Picture]]) -> None:
    """Pictures side by side under their captions."""
    flow.space(2)
    flow.room(_height(row))
    where = ("Left. ", "Right. ") if len(row) > 1 else ("",)
    for side, (caption, drawn) in zip(where, row, strict=True):
        words = f"{side}{caption}. Scale 1:{drawn.scale}"
        flow.paragraph(words, SMALL, role=Role.CAPTION)
    flow.pictures([drawn for _, drawn in row], above=2, between=BETWEEN, hung=True)


def _rows(shown: list[tuple[str, Picture]], room: float) -> list[list[tuple[str, Picture]]]:
    """Pictures side by side where two have room, else one under another, in their order."""
    rows: list[list[tuple[str, Picture]]] = []
    for one in shown:
        beside = rows and len(rows[-1]) == 1
        if beside and rows[-1][0][1].width + BETWEEN + one[1].width <= room:
            rows[-1].append(one)
        else:
            rows.append([one])
    return rows
