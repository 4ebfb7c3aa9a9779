"""How each window's panels hang, to scale: a plan in, its last pages out."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.ticket import panel_views
from drapetemplate.ticket.flow import BODY, SMALL, Flow
from drapetemplate.ticket.picture import Picture
from drapetemplate.ticket.window_from_front import from_front_of_window
from drapetemplate.ticket.windows_alike import twins_of
from drapetemplate.wording import Wording
from drapetemplate.words.plan_words import windows_named
from drapetemplate.words.standing import NOT_GIVEN, standing_rows

BETWEEN = 10.0  # mm from a picture to one beside it
# mm of paper that a panel on its pole may be high: the largest that take the fewest pages. Beyond
# so many pages the largest are taken untried.
HEIGHTS = (90.0, 72.0, 58.0, 48.0)
MOST_TRIED = 8
ABOVE_SHARE = 0.66  # of the page's width for a closed panel from above, so that a stacked one has
# room beside it
SAFE_HANGING = (
    (
        "Ladders, and the load on pole, brackets and wall: keep to the makers' ratings. Where in "
        "doubt, and wherever wires are near, a licensed trade fixes it."
    ),
    (
        "Cloth away from heaters, stoves and lamps. In public rooms local fire codes decide what "
        "cloth may hang (in many places by NFPA 701 or EN 13773)."
    ),
)


def hanging(job: Job, plan: Plan, flow: Flow) -> tuple[tuple[Mark, ...], ...]:
    """The hanging pages, put on the empty page `flow`; none where nothing weaves on a pole."""
    if not weaves(plan):
        return ()
    laid: list[Flow] = []
    for height in HEIGHTS:
        filled = flow.fresh()
        filled.line("HANGING", SMALL, role=Role.KICKER)
        filled.paragraph(job.details.name, 6.0, bold=True, role=Role.TITLE)
        filled.space(1.5)
        for words in SAFE_HANGING:
            filled.paragraph(words, SMALL, bullet="!")
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
            _pictures(flow, job, planned, windows_named(names), height)


def _pictures(flow: Flow, job: Job, planned: WindowPlan, names: str, most: float) -> None:
    """A window from the front, its figures, and a panel to scale from above and flat."""
    face, room = flow.typeface, flow.width
    rows: list[list[tuple[str, Picture]]] = []
    if planned.panels[0].hang is not None:
        front = _rows(window_views(job, planned, face, (room, most)), room)
        above = panel_views.window_pictures(job, planned, face, ABOVE_SHARE * room, most)[:2]
        rows = [*front, *_rows(above, room)]
    flat = panel_views.window_pictures(job, planned, face, room, most)[-1]
    rows.append([flat])
    title = f"{names}: how it hangs"

    def first() -> None:
        flow.heading(title, keep=_height(rows[0]))
        _row(flow, rows[0])

    rest = [partial(_row, flow, row) for row in rows[1:]]
    if planned.panels[0].hang is not None:
        rest.insert(len(front) - 1, partial(_figures, flow, job, planned))
    flow.in_parts([first, *rest], partial(flow.heading, f"{title}, continued"))


def _figures(flow: Flow, job: Job, planned: WindowPlan) -> None:
    """What the pole and its brackets are to be, and what they bear."""
    flow.space(2)
    flow.pairs([(name, _to_write(value)) for name, value in standing_rows(job, planned)], 2, SMALL)
    for finding in planned.findings:
        if finding.code in TOLD:
            flow.paragraph(finding.text, SMALL, bold=True, bullet="!", role=Role.FINDING)


def _to_write(value: str) -> str:
    """A figure, or a line to write it on where the job doesn't give it."""
    return value.replace(NOT_GIVEN, BLANK)


BLANK = 16 * "_"
"""Where whoever measures on site writes what the job doesn't say."""


TOLD = (
    *("panel-over-bracket", "glass-bare", "on-floor"),
    *("short-pole", "short-return", "back-fold-hits-wall"),
)
"""Findings that whoever hangs the panels must know of."""


def window_views(
    job: Job,
    planned: WindowPlan,
    typeface: Typeface,
    box: tuple[float, float],
    *,
    brackets: bool = True,
) -> list[tuple[str, Picture]]:
    """Return the window from the front with captions, closed and drawn open, side by side in `box`.

    `brackets` and what is told of them are for whoever hangs it.
    """
    room, most = box
    say, stand = Wording(job.units), planned.stand
    each = ((room - BETWEEN) / 2, most)
    views = from_front_of_window(job, planned, typeface, each, brackets=brackets)
    closed = "Closed: the window from the front"
    if planned.panels[0].gaps and brackets:
        closed += "; grey: folds behind the pole"
    closed += "; lozenges: motifs' centres" if planned.panels[0].motifs else ""
    if stand.brackets and brackets:
        closed += "; black: brackets, numbered from the left"
    if planned.length is None:
        closed += "; the length isn't known, and not to scale"
    if stand.length is None and brackets:
        closed += "; the pole's length isn't known, so its ends are drawn at the panels'"
    each_of = " each" if stand.on_pole == 2 else ""
    opened = f"Open: {say(stand.stack)}{each_of} on the pole"
    if planned.panels[0].side == "single":
        opened += ", drawn to the left: its left end stays at the wall"
        opened += ", or as well to the right" if brackets else ""
    if stand.glass is not None:
        opened += "; dotted: the glass"
        closed += "; dotted: the glass" if stand.bare else ""
    return [(closed, views[0]), (opened, views[1])]


def _height(row: Sequence[tuple[str, Picture]]) -> float:
    """What pictures side by side take with their captions, in mm."""
    return max(drawn.height for _, drawn in row) + (1 + 3 * len(row)) * BODY


def _row(flow: Flow, row: Sequence[tuple[str, Picture]]) -> None:
    """Pictures side by side under their captions."""
    flow.space(2)
    flow.room(_height(row))
    for caption, drawn in row:
        flow.paragraph(f"{caption}. Scale 1:{drawn.scale}", SMALL, role=Role.CAPTION)
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
