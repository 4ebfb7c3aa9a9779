"""The job ticket: a job, its plan and its sheets in, the ticket's pages out, as marks.

Page 1 answers first what the table asks first: what, when, how many, how far apart; then what
must not go wrong; then every hole as a running measure, so that a ruler will do. Ink is black:
nothing depends on colour.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from drapetemplate import picture, views
from drapetemplate.drawing import Line, Mark, Typeface
from drapetemplate.flow import BODY, HEAVY, Flow, paper_flow
from drapetemplate.job import Assumption, Cloth, Job, Paper, Window
from drapetemplate.measures import INCH, Length, format_length, format_order
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.plan import PanelPlan, Plan, WindowPlan
from drapetemplate.readers import SHEETS
from drapetemplate.strips import Strips
from drapetemplate.words import PARTS, bought, cloth_rows

SMALL = 2.75
TICKET_MARGIN = INCH / 2

PRINTING = (
    (
        "Print at actual size: 100 %, no “fit”, no “shrink”, single-sided, on {paper} paper, "
        "heavy enough to trace against. The file asks for this; not every program listens."
    ),
    (
        "Before taping, measure the bars on every sheet: 100 mm and 4 in, across and down. "
        "A bar that is off by more than 0.5 mm (1/64 in) means: don't use the sheet."
    ),
    (
        "The 100 mm bar reads about 90 mm: an A4 file was sent to letter paper. About 94 mm: "
        "“fit to page” was on. 96 to 97 mm: the viewer shrank the page to its margins. "
        "Off by less than 3 %, or across and down differ: that is the printer, and drapetemplate "
        "calibrate corrects for it."
    ),
    (
        "Cut every sheet but the first on its solid left line (in rows, on its solid top line too) "
        "and lay it over the one before, edge to the dashed line, so that the crosses in circles "
        "fall on one another (hold them to the light, or prick through the centres). Tape, then "
        "measure from panel end to panel end: {closing}."
    ),
)

CORRECTED = (
    "The template is corrected for printer {printer} the upright page. Print it on that one alone, "
    "on the paper it was calibrated with: its bars then read true. On any other they don't."
)

CAUTIONS = (
    "Test on scrap first: band, lining and cloth as in the panel; cut one hole, set one eyelet.",
    (
        "Press and die: fingers clear, one pair of hands, guards on. Blades and punches: cut away "
        "from you, on a board."
    ),
    (
        "Ladders, and the load on pole, brackets and wall: keep to the makers' ratings; where in "
        "doubt, and wherever wires are near, a licensed trade fixes it."
    ),
    (
        "Cloth away from heaters, stoves and lamps. In public rooms local fire codes decide what "
        "cloth may hang (in many places by NFPA 701 or EN 13773)."
    ),
)


def ticket(
    job: Job,
    plan: Plan,
    strips: Strips,
    more: tuple[Finding, ...],
    accepted: frozenset[str],
    paper: Paper,
    typeface: Typeface,
) -> tuple[tuple[Mark, ...], ...]:
    """The ticket's pages, on `paper`, which with a roll isn't the strips' own.

    `more` are findings that only paper shows; `accepted` codes of stops taken on, to be signed.
    """
    flow = paper_flow(paper, typeface)
    _opening(flow, job, plan)
    for n, (window, planned) in enumerate(zip(job.windows, plan.windows, strict=True)):
        _window(flow, job, window, planned, _sheets(plan, strips, n))
    _findings(flow, plan, more, accepted)
    _advice(flow, job, strips)
    _signatures(flow)
    for window, planned in zip(job.windows, plan.windows, strict=True):
        _pictures(flow, job, window, planned)
    return flow.numbered(job.details, "ticket")


def ticket_paper(job: Job) -> Paper:
    """What the ticket is printed on: the job's sheets; with a roll, letter or A4 by its units."""
    if job.paper.height is not None:
        return job.paper
    size = SHEETS["letter" if job.units == "in" else "a4"]
    return replace(
        job.paper,
        name=size.name,
        width=size.width,
        height=size.height,
        margin=TICKET_MARGIN,
        correction=None,  # that is the roll's printer
    )


def _opening(flow: Flow, job: Job, plan: Plan) -> None:
    details = job.details
    flow.line("JOB TICKET", SMALL, role="kicker")
    flow.paragraph(details.name, 6.0, bold=True, role="title")
    flow.space(1)
    given: list[tuple[str, str]] = []
    for name, value in (
        ("Due", details.due.strftime("%Y-%m-%d, %A") if details.due else None),
        ("Number", details.number),
        ("Client", details.client),
        ("Room", details.room),
    ):
        if value:
            given.append((name, value))
    panels = sum(w.quantity * len(w.panels) for w in plan.windows)
    given.append(("Panels", str(panels)))
    given += [("Eyelets", bought(ring)) for ring in plan.order.eyelets]
    given.append(("Band", format_length(plan.band, job.units)))
    for one in plan.order.cloth:
        if one.amount is not None:
            much = f"{format_order(one.amount, one.unit)} {one.fabric or ''}".rstrip()
            given.append((PARTS[one.part].capitalize(), much))
    flow.pairs(given, 2, BODY * 1.1)
    if details.notes:
        flow.space(1)
        flow.paragraph(details.notes, bullet="Notes", role="notes")


def _window(flow: Flow, job: Job, window: Window, planned: WindowPlan, sheets: str) -> None:
    """A window: the line that matters, its figures, and where its holes go."""

    def say(length: Length | None) -> str:
        return "not known" if length is None else format_length(length, job.units)

    panel = planned.panels[0]
    flow.heading(f"{planned.name}: {_made(planned)}", keep=30)
    size = say(panel.width) + " wide"
    if planned.length is not None:
        size += f" × {say(planned.length)} long"
    flow.paragraph(f"Finished {size}", 4.4, bold=True, role="headline")
    gap = f"{panel.count} eyelets, {say(panel.gap)} apart edge to edge"
    flow.paragraph(f"{gap} ({say(panel.pitch)} centre to centre)", 4.4, bold=True, role="headline")
    flow.paragraph(f"Count: {panel.reason}.", SMALL)
    flow.space(1)
    flow.pairs(_figures(job, window, planned, panel, sheets), 2)
    flow.space(1.5)
    edge = "left" if panel.side == "single" else "leading"
    flow.room(4 * BODY)
    flow.paragraph(
        f"Hole centres, each from the {edge} edge, on the line "
        f"{say(panel.above + panel.outside / 2)} below the panel's top",
        bold=True,
    )
    flow.grid([_hole(i, c, job) for i, c in enumerate(panel.centers, 1)], "hole-centre")


def _hole(number: int, center: Length, job: Job) -> tuple[str, ...]:
    """A hole's number and running measure; in inches, with millimetres beside."""
    measure = format_length(center, job.units)
    if job.units == "in":
        return f"{number}", measure, format_length(center, "mm")
    return f"{number}", measure


def _made(planned: WindowPlan) -> str:
    panels = {"pair": "a pair", "left": "a left panel", "right": "a right panel"}
    kind = "pair" if len(planned.panels) == 2 else planned.panels[0].side
    made = panels.get(kind, "a single panel, returns at both ends")
    return made if planned.quantity == 1 else f"{made}, make {planned.quantity}"


def _figures(
    job: Job, window: Window, planned: WindowPlan, panel: PanelPlan, sheets: str
) -> list[tuple[str, str]]:
    def say(length: Length | None) -> str:
        return "not known" if length is None else format_length(length, job.units)

    rows = [
        ("Eyelet outside", say(panel.outside)),
        ("Opening", say(panel.opening)),
        ("Hole to cut", say(panel.hole)),
        ("Band height", say(panel.band_height)),
        ("Top to eyelet", say(panel.above)),
    ]
    if panel.side == "single":
        rows.append(("Return, both ends", say(panel.return_)))
    else:
        rows += [("Leading", say(panel.leading)), ("Return", say(panel.return_))]
    if planned.length is None:
        rows.append(("Finished length", "not known"))
    if panel.gaps:
        front, back = panel.gaps.count("front"), panel.gaps.count("back")
        letters = job.paper.letters
        rows.append(("Gaps", f"{front} front ({letters[0]}), {back} back ({letters[1]})"))
    else:
        rows.append(("Hung", "from hooks"))
    if panel.covers is not None:
        rows.append(("Covers", say(panel.covers)))
    if panel.fullness is not None:
        rows.append(("Fullness", f"{float(panel.fullness):.2f} times"))
    rows.append(("Stack", say(panel.stack)))
    if panel.hang is not None:
        rows += _hanging(panel.hang, say)
    if panel.weight is not None:
        eyelets = "" if window.eyelet.weight else ", eyelets not counted"
        rows.append(("Weight, each panel", f"{float(panel.weight) / 1000:.1f} kg{eyelets}"))
    rows += [
        (name.capitalize(), much)
        for name, much in cloth_rows(job, planned)
        if not name.endswith("pieces")
    ]
    rows += _given(window, say)
    rows.append(("Template sheets", sheets))
    return rows


def _sheets(plan: Plan, strips: Strips, here: int) -> str:
    """A window's own sheets, and whose the others are that an earlier window has already."""
    own = list(dict.fromkeys(strips.of[here]))
    before = {place: plan.windows[w].name for w in reversed(range(here)) for place in strips.of[w]}
    new = [place for place in own if place not in before]
    parts = []
    if new:
        counts = [strips.sheets_of(place) for place in new]
        each = f" ({' + '.join(map(str, counts))})" if len(counts) > 1 else ""
        one = strips.tilings[new[0]][0]
        lanes = f", {one.lanes} lanes each" if one.lanes > 1 else ""
        parts.append(f"{sum(counts)}{each}, {strips.paper.name}, {one.orientation}{lanes}")
    names = ", ".join(dict.fromkeys(before[place] for place in own if place in before))
    if names:
        whose = "the same as for" if not new else "the rest as for"
        parts.append(f"{whose} {names}")
    return "; ".join(parts)


def _hanging(hang: Hang, say: Callable[[Length | None], str]) -> list[tuple[str, str]]:
    """How far the folds reach, what is free behind them, and how far the rings turn."""
    closed, stacked = hang.depth_closed, hang.depth_stacked
    rows = [("Folds, closed", f"{say(closed)} each way"), ("Folds, stacked", f"to {say(stacked)}")]
    if hang.wall_room is not None:
        free = hang.wall_room - closed
        room = f"{say(free)} closed" if free >= 0 else f"none, closed {say(-free)} too deep"
        rows.append(("Free to the wall", room))
    if hang.turn_limit is not None:
        rows.append(("Rings turn", f"to {hang.turn_limit:.0f}°"))
    return rows


def _given(window: Window, say: Callable[[Length | None], str]) -> list[tuple[str, str]]:
    """What the job says of the pole and the cloth."""
    pole = window.pole
    measures = (
        ("Pole", pole.diameter),
        ("Projection", pole.projection),
        ("Pole top", pole.top),
        ("Pole length", pole.length),
    )
    rows = [(name, say(value)) for name, value in measures if value is not None]
    for part, cloth in (("Fabric", window.fabric), ("Lining", window.lining)):
        if cloth is not None:
            rows.append((f"{part} is", _cloth(cloth, say(cloth.width))))
    return rows


def _cloth(cloth: Cloth, width: str) -> str:
    parts = [cloth.name or "not named"]
    if cloth.width is not None:
        parts.append(f"{width} wide")
    if cloth.railroad:
        parts.append("railroaded")
    return ", ".join(parts)


def _findings(flow: Flow, plan: Plan, more: tuple[Finding, ...], accepted: frozenset[str]) -> None:
    """Findings, the worst first, then what was assumed; each said once, with its windows."""
    said: dict[Finding, list[str]] = {f: [] for f in more}
    assumed: dict[Assumption, list[str]] = {a: [] for a in plan.assumed}
    for window in plan.windows:
        for finding in window.findings:
            said.setdefault(finding, []).append(window.name)
        for assumption in window.assumed:
            assumed.setdefault(assumption, []).append(window.name)

    def where(names: list[str]) -> str:
        return ", ".join(names) if 0 < len(names) < len(plan.windows) else ""

    flow.heading("Findings")
    if not said:
        flow.paragraph("None.")
    for finding in sorted(said, key=lambda f: ("stop", "warn", "note").index(f.level)):
        place = where(said[finding])
        text = f"{place}: {finding.text}" if place else finding.text
        flow.paragraph(text, bullet=finding.level.upper(), role="finding")
        if finding.level == "stop" and finding.code in accepted:
            flow.space(1.5)
            flow.line(f"ACCEPTED all the same ({finding.code}) by:", bold=True, role="accepted")
            start = flow.left + flow.typeface.width("M" * 36, BODY)
            flow.pages[-1].append(Line(start, flow.y, flow.right, flow.y, HEAVY, "sign-line"))
    if assumed:
        flow.heading("Assumed, since the job file doesn't say: check before cutting")
        rows = [
            (a.key, f"{a.value} ({where(names)})" if where(names) else a.value)
            for a, names in assumed.items()
        ]
        flow.pairs(rows, 2, SMALL)


def _advice(flow: Flow, job: Job, strips: Strips) -> None:
    widths = {format_length(one.width, job.units) for one in strips.bare}
    closing = widths.pop() if len(widths) == 1 else "the panel's finished width"
    flow.heading("Printing and taping")
    for i, words in enumerate(PRINTING, 1):
        flow.paragraph(words.format(paper=job.paper.name, closing=closing), SMALL, bullet=f"{i}")
    if job.paper.correction is not None:
        words = CORRECTED.format(printer=job.paper.correction.words)
        flow.paragraph(words, SMALL, bold=True, bullet="!", role="corrected")
    flow.heading("Cautions")
    for words in CAUTIONS:
        flow.paragraph(words, SMALL, bullet="·")


def _signatures(flow: Flow) -> None:
    """Lines to sign, kept together."""
    flow.space(4)
    flow.room(16)
    flow.y -= 12
    wide = (flow.right - flow.left) / 3
    for i, word in enumerate(("Marked", "Punched", "Checked")):
        x = flow.left + i * wide
        flow.put(x, word, BODY, "sign", bold=True)
        start = x + flow.typeface.width(word, BODY, bold=True) + 2
        flow.pages[-1].append(Line(start, flow.y, x + wide - 4, flow.y, HEAVY, "sign-line"))
    flow.y -= 4
    flow.put(flow.left, "name and date", 2.3, "sign-hint")


def _pictures(flow: Flow, job: Job, window: Window, planned: WindowPlan) -> None:
    """A window's panel to scale: on its pole from above, from the front, and flat."""
    wide = flow.right - flow.left
    shown = views.window_pictures(job, window, planned, flow.typeface, wide)
    # All on one page where one page has room for them.
    keep = sum(drawn.height + 4 * BODY for _, drawn in shown)
    flow.heading(f"{planned.name}: how it hangs", keep=min(keep, flow.top - flow.bottom - 20))
    for caption, drawn in shown:
        flow.space(2)
        flow.room(drawn.height + 3 * BODY)
        flow.paragraph(f"{caption}. Scale 1:{drawn.scale}", SMALL, role="caption")
        flow.y -= drawn.height + 2
        flow.pages[-1] += picture.moved(drawn, flow.left, flow.y)
