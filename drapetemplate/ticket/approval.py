"""A page for the client to sign: what hangs at each window, without a figure of how it is cut."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Cloth, Job
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.ticket.flow import SMALL, Flow
from drapetemplate.ticket.hanging_pictures import BETWEEN, window_views
from drapetemplate.ticket.windows_alike import twins_of
from drapetemplate.wording import Wording, times
from drapetemplate.words.figures import glass_bare, glass_covered, lower_edge
from drapetemplate.words.plan_words import panels_to_make, windows_named

TITLE = 6.0
HEIGHTS = (120.0, 90.0, 70.0)  # mm of paper for a window from the front: the first that takes the
# fewest pages; beyond so many pages the first is taken untried
MOST_TRIED = 8
TO_SIGN = (
    "Please check every measure, the cloth and the panels' sides. They are made as this page says; "
    "once cut, cloth can't be made longer or wider."
)


def approval(job: Job, plan: Plan, flow: Flow) -> tuple[tuple[Mark, ...], ...]:
    """Return the pages for the client, put on the empty page `flow`, with lines to sign at the end.

    Windows alike are drawn once.
    """
    laid: list[Flow] = []
    for height in HEIGHTS:
        laid.append(_filled(job, plan, flow.fresh(), height))
        if not 1 < len(laid[0].pages) <= MOST_TRIED:
            break
    return min(laid, key=lambda filled: len(filled.pages)).numbered(job.details, "approval")


def _filled(job: Job, plan: Plan, flow: Flow, height: float) -> Flow:
    """The pages with windows from the front no higher than this."""
    details = job.details
    flow.line("FOR YOUR APPROVAL", SMALL, role=Role.KICKER)
    flow.paragraph(details.name, TITLE, bold=True, role=Role.TITLE)
    flow.space(1.5)
    named = (
        ("Client", details.client),
        ("Room", details.room),
        ("Number", details.number),
        ("Due", details.due.isoformat() if details.due else None),
    )
    flow.pairs([(name, value) for name, value in named if value], 2)
    twins = twins_of(plan)
    for n, planned in enumerate(plan.windows):
        if n not in twins:
            names = [planned.name, *(plan.windows[m].name for m, of in twins.items() if of == n)]
            flow.together(partial(_window, flow, job, planned, windows_named(names), height))
    flow.together(partial(_to_sign, flow))
    return flow


def _window(flow: Flow, job: Job, planned: WindowPlan, names: str, height: float) -> None:
    """A window from the front, closed and open, and what is told of it."""
    flow.heading(f"{names}: {panels_to_make(planned)}", keep=height / 2)
    views = window_views(job, planned, flow.typeface, (flow.width, height), brackets=False)
    for side, (caption, drawn) in zip(("Left", "Right"), views, strict=True):
        flow.paragraph(f"{side}. {caption}. Scale 1:{drawn.scale}", SMALL, role=Role.CAPTION)
    flow.room(max(drawn.height for _, drawn in views) + 2)
    flow.pictures([drawn for _, drawn in views], above=2, between=BETWEEN, hung=True)
    flow.space(2)
    flow.pairs(approval_rows(job, planned), 2)


def approval_rows(job: Job, planned: WindowPlan) -> list[tuple[str, str]]:
    """Return names and values of what the client is shown of a window."""
    return [row for row in _rows(job, planned) if row[1]]


def _rows(job: Job, planned: WindowPlan) -> Iterator[tuple[str, str]]:
    say, window, stand = Wording(job.units), planned.window, planned.stand
    panel = planned.panels[0]
    pair = stand.on_pole == 2
    yield "Finished length", say.known(planned.length)
    yield "Lower edge", lower_edge(stand, say)
    yield "Each panel, flat" if pair else "The panel, flat", f"{say(panel.width)} wide"
    if panel.covers is not None:
        yield "Closed", f"covers {say(panel.covers)} of pole{', each panel' if pair else ''}"
    yield "Glass, closed", glass_bare(stand, say)
    yield "Open", f"{say(stand.stack)} of pole{', each panel' if pair else ''}"
    yield "Glass, open", glass_covered(stand, say)
    if panel.fullness is not None:
        yield "Fullness", f"{times(panel.fullness)} the pole"
    yield "Cloth", _called(window.fabric)
    if window.lining is not None:
        yield "Lining", _called(window.lining)
    hung = "on a pole" if window.eyelet.hung == "pole" else "from hooks"
    each = " a panel" if pair else ""
    yield "Eyelets", f"{panel.count}{each}, {say(panel.outside)} across, {hung}"


def _called(cloth: Cloth | None) -> str:
    """A cloth's name, or that it is still to be named."""
    return "not named yet" if cloth is None or cloth.name is None else cloth.name


def _to_sign(flow: Flow) -> None:
    """What is signed for, and the lines to sign on."""
    flow.heading("To be made as drawn", keep=30)
    flow.paragraph(TO_SIGN)
    flow.sign_line("Approved, name")
    flow.space(4)
    flow.sign_line("Signature and date")
