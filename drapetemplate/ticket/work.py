"""The work in its order, from cloth to pole: a box to tick for each step, and what it needs.

The pages of a job come in the same order: the ticket with this list, the cutting pages, each
strip's assembly page with its sheets, the hanging pages.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import format_length
from drapetemplate.planning.model import Plan
from drapetemplate.sheets.furniture import BAR_MM
from drapetemplate.sheets.strip_list import StripList
from drapetemplate.ticket.flow import SMALL, Flow
from drapetemplate.ticket.hanging_pictures import weaves
from drapetemplate.words.bar_readings import readings
from drapetemplate.words.tolerances import (
    STRIP_IS_OFF,
    any_to_measure,
    bars_to_measure,
    taped_to_measure,
)

BOX = "\N{BALLOT BOX}"

CLOTH = (
    "Check and buy: what the cutting page lists. Check the cloth's width, repeats and flaws.",
    "Cut, seam and hem each panel, heading and band in, as the cutting pages draw it.",
)
NO_CLOTH = ("Make each panel up to its finished size, heading and band in.",)
PRINT = (
    "Print at actual size: 100 %, no “fit”, no “shrink”, single-sided, on {paper} paper, heavy "
    "enough to trace against. The file asks for this; not every program listens."
)
READINGS = (
    f"The 100 mm bar reads {readings(BAR_MM)} 101.6 mm: that is the 4 in bar. Off by less than 3 % "
    "and none of these, or across and down differ: that is the printer, and drapetemplate "
    "calibrate corrects for it."
)
TAPE = (
    "Tape{as_said}. Cut every sheet but the first on its solid left line (in "
    "rows, on its solid top line too) and lay it over the one before, edge to the dashed line, so "
    "that the crosses in circles fall on one another (hold them to the light, or prick through the "
    "centres)."
)
CHECK = "Check the strip, from both ends: {closing}. {off}"
STEPPED = "Check each piece: {closing}. Then step it along the band, as the stepping page says."
MARK = (
    "Mark. Lay the strip on the heading, TOP at the top, {edge} edge on {edge} edge: what it is "
    "off is then at the other end. Trace the holes, prick their centres, and check some by ruler "
    "against the ticket's hole centres."
)
THEN = (
    "Test on scrap first: band, lining and cloth as in the panel; cut one hole, set one eyelet.",
    (
        "Punch and set, one eyelet at a time from one end. Press and die: fingers clear, one pair "
        "of hands, guards on. Blades and punches: cut away from you, on a board."
    ),
    "Check each panel against {whole}. Sign on page 1.",
    (
        "Hang{as_drawn}. Ladders, and the load on pole, brackets and wall: keep to the "
        "makers' ratings; where in doubt, and wherever wires are near, a licensed trade "
        "fixes it. Cloth away from heaters, stoves and lamps. In public rooms local fire codes "
        "decide what cloth may hang (in many places by NFPA 701 or EN 13773)."
    ),
)

CORRECTED = (
    "The template is corrected for printer {printer} the upright page. Print it on that one alone, "
    "on the paper it was calibrated with: its bars then read true. On any other they don't."
)


def put_work(flow: Flow, job: Job, plan: Plan, strips: StripList) -> None:
    """Put the list on the ticket."""
    flow.heading("The work, in the order of the pages")
    for number, words in enumerate(_steps(job, plan, strips), 1):
        put = partial(flow.paragraph, words, SMALL, bullet=f"{BOX} {number}", role=Role.STEP)
        flow.together(put)
    if strips.paper.factors is not None:
        words = CORRECTED.format(printer=strips.paper.factors.words)
        flow.paragraph(words, SMALL, bold=True, bullet="!", role=Role.CORRECTED)


def _steps(job: Job, plan: Plan, strips: StripList) -> Iterator[str]:
    """Every step in words."""
    yield from CLOTH if plan.order.cloth else NO_CLOTH
    stepped = any(len(strip.pieces) > 1 for strip in strips.strips)
    yield PRINT.format(paper=job.paper.name)
    yield f"{bars_to_measure(job.units)} {READINGS}"
    if any(tiling.across * tiling.rows > 1 for strip in strips.strips for tiling in strip.tilings):
        yield TAPE.format(as_said=" each piece" if stepped else ", as each assembly page says")
    if stepped:
        yield STEPPED.format(closing="what its last sheet says")
    else:
        yield CHECK.format(closing=_closing(job, strips), off=_may_be_off(job, strips))
        edges = {strip.panel.edge for strip in strips.strips}
        yield MARK.format(edge=edges.pop() if len(edges) == 1 else "leading (or left)")
    drawn = ", as the hanging page draws it" if weaves(plan) else ""
    whole = "the ticket's hole centres" if stepped else "the strip: every eyelet on its circle"
    yield from (words.format(as_drawn=drawn, whole=whole) for words in THEN)


def _closing(job: Job, strips: StripList) -> str:
    """What the taped strips measure from end to end."""
    widths = {format_length(strip.panel.width, job.units) for strip in strips.strips}
    whole = widths.pop() if len(widths) == 1 else "the panel's finished width"
    return f"from panel end to panel end {whole}"


def _may_be_off(job: Job, strips: StripList) -> str:
    """What they may be off, where that is the same of all, and what is done about more."""
    alike = {
        taped_to_measure(strip.panel.width, len(strip.tilings[0].joins), job.units)
        for strip in strips.strips
    }
    off = alike.pop() if len(alike) == 1 else any_to_measure(job.units)
    return " ".join((off, *STRIP_IS_OFF))
