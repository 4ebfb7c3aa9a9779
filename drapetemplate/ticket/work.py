"""The work in its order, from cloth to pole: a box to tick for each step, and what it needs.

The pages of a job come in the same order: the ticket with this list, the cutting pages, each
strip's assembly page with its sheets, the hanging pages. `pages_in_order` says so on page 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from drapetemplate.drawing.marks import Line
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.model import Plan
from drapetemplate.sheets.furniture import BAR_MM
from drapetemplate.sheets.strip_list import PlacedStrip, StripList
from drapetemplate.ticket.flow import BODY, HEAVY, LEADING, SMALL, Flow
from drapetemplate.ticket.hanging_pictures import SAFE_HANGING, weaves
from drapetemplate.wording import Wording
from drapetemplate.words.band_words import BUTTED
from drapetemplate.words.bar_readings import SCALED_PRINTS
from drapetemplate.words.plan_words import roll_taken, windows_named
from drapetemplate.words.tolerances import (
    STRIP_IS_OFF,
    bars_may_be_off,
    said_off,
    strip_may_be_off,
)

BOX = "\N{BALLOT BOX}"
INDENT = 9.0  # mm from the margin to what a step needs
MOST_STRIPS = 6  # whose measures the list has; more have theirs on their own pages alone


@dataclass(frozen=True, slots=True)
class Step:
    """What is done; under it, a line each, what it needs; `readings`; what comes `last`."""

    words: str
    needs: tuple[str, ...] = ()
    readings: tuple[tuple[str, str], ...] = ()
    last: str = ""


BUY = Step("Check and buy what the cutting page lists. Check the cloth's width, repeats and flaws.")
SEW = Step("Cut, seam and hem each panel, heading and band in, as the cutting pages draw it.")
LINE = Step(
    "Cut, seam and hem each panel and its lining, sew both together, heading and band in, as the "
    "cutting pages draw it."
)
NO_CLOTH = Step("Make each panel up to its finished size, heading and band in.")
NO_FIT = (
    "Nothing set to “fit” or “shrink”. The file asks for actual size; not every program listens."
)
CUT_FILE = (
    "Or have it cut whole by a machine, from what drapetemplate cutfile writes. Cut files carry no "
    "blade offset: the machine's own settings do."
)
CUT_APART = Step(
    "Cut each page of the roll apart between its double lines, first along it, then across.",
    ("Each sheet says whose it is, which side is seen and where its top is.",),
)
READINGS = (
    *((f"{scaled.reading(BAR_MM)} mm", scaled.happened) for scaled in SCALED_PRINTS),
    ("101.6 mm", "that is the 4 in bar"),
)
ANOTHER_READING = (
    "Off by less than 3 % and none of these, or across and down differ: the printer; drapetemplate "
    "calibrate corrects for it."
)
CUT_PARTS = "Cut each sheet into its parts, on the solid line between them."
CUT_EDGE = "Cut every {part} but the first on its solid left line."
CUT_ROWS = (
    "Cut every {part} but the first on its solid left line; below the first row on its top line "
    "too."
)
LAY_OVER = (
    "Lay its cut edge on the long-dashed line of the {part} before, crosses in circles on one "
    "another: hold them to the light, or prick through the centres."
)
TEST = Step(
    "Test on scrap first: band, lining and cloth as in the panel; cut one hole, set one eyelet."
)
MOTIFS = "A motif's centre lies under every lozenge; where one doesn't, look why before you cut."
# Common practice: a pressed fold would show where the panel turns otherwise on its pole.
RETURN_FOLD = "Mark the RETURN FOLD, don't press it: it is folded when the panel hangs."
PRESS = Step("Press each panel from its back. Keep the iron off the eyelets.")
SIGNED = ("Marked", "Punched", "Checked")
OWN, OWN_LINES = "Times and notes", 3  # for the workroom's own words
OWN_LINE = 7.0  # mm from one to the next
SAFE_PUNCH = (
    "Press and die: fingers clear, one pair of hands, guards on.",
    "Blades and punches: cut away from you, on a board.",
)
CORRECTED = (
    "The template is corrected for printer {printer} the upright page. Print it on that one alone, "
    "on the paper it was calibrated with: its bars then read true. On any other they don't."
)


def pages_in_order(plan: Plan, strips: StripList) -> str:
    """Return what the pages after the ticket are for, in the order that they are used."""
    taped, stepped = _taped(strips), _stepped(strips)
    pages = ["CUTTING (buy, cut, sew)"] if plan.order.cloth else []
    # A roll's sheets are a PDF of their own.
    sheets = "sheets" if strips.roll is None else "the roll's sheets"
    name = f"STEPPING and {sheets}" if stepped else f"ASSEMBLY and {sheets}" if taped else sheets
    each = "each " if len(strips.strips) > 1 and taped else ""
    pages.append(f"{each}{name} ({'tape, ' if taped else ''}check, mark, punch)")
    if weaves(plan):
        pages.append("HANGING (hang)")
    return f"Next: {', then '.join(pages)}."


def put_work(flow: Flow, job: Job, plan: Plan, strips: StripList) -> None:
    """Put the list on the ticket."""
    flow.heading("The work, in the order of the pages")
    for number, step in enumerate(_steps(job, plan, strips), 1):
        flow.together(partial(_put, flow, step, f"{BOX} {number}"))
    if strips.paper.factors is not None:
        words = CORRECTED.format(printer=strips.paper.factors.words)
        flow.paragraph(words, SMALL, bold=True, bullet="!", role=Role.CORRECTED)
    flow.together(partial(_sign, flow))


def _sign(flow: Flow) -> None:
    """Lines to sign what was done, and lines for the workroom's own times and notes."""
    face, each = flow.typeface, flow.width / len(SIGNED)
    flow.space(2)
    y = flow.down(OWN_LINE)
    for n, word in enumerate(SIGNED):
        x = flow.left + n * each
        start = x + face.width(word, BODY, bold=True) + 2
        flow.put(x, word, BODY, Role.SIGN, bold=True)
        flow.draw([Line(start, y, x + each - 4, y, HEAVY, Role.SIGN_LINE)])
    flow.down(SMALL * LEADING)
    flow.put(flow.left, "name and date", SMALL, Role.SIGN_HINT)
    x = flow.left + face.width(OWN, BODY, bold=True) + 2
    for n in range(OWN_LINES):
        y = flow.down(OWN_LINE)
        if n == 0:
            flow.put(flow.left, OWN, BODY, Role.SIGN, bold=True)
        flow.draw([Line(flow.left if n else x, y, flow.right, y, HEAVY, Role.OWN_LINE)])


def _put(flow: Flow, step: Step, bullet: str) -> None:
    """A step with what it needs indented under it."""
    flow.paragraph(step.words, SMALL, bullet=bullet, role=Role.STEP)
    with flow.indented(INDENT):
        for words in step.needs:
            flow.paragraph(words, SMALL, bullet="·", role=Role.STEP)
        flow.pairs(step.readings, 1, SMALL)
        if step.last:
            flow.paragraph(step.last, SMALL, bullet="·", role=Role.STEP)


def _steps(job: Job, plan: Plan, strips: StripList) -> Iterator[Step]:
    """Every step in words."""
    stepped = _stepped(strips)
    yield from _cloth(plan)
    yield Step(
        f"Print at actual size, 100 %, single-sided, on {job.paper.name} paper, heavy enough to "
        "trace against.",
        (*_of_roll(job, strips), NO_FIT, CUT_FILE),
    )
    yield _bars(job, strips)
    if strips.sheets > strips.pages:
        yield CUT_APART
    if _taped(strips):
        how = "Tape each piece." if stepped else "Tape, as each assembly page says."
        in_parts = any(tiling.lanes > 1 for strip in strips.strips for tiling in strip.tilings)
        part = "part" if in_parts else "sheet"
        in_rows = any(tiling.rows > 1 for strip in strips.strips for tiling in strip.tilings)
        cut = CUT_ROWS if in_rows else CUT_EDGE
        needs = (cut.format(part=part), LAY_OVER.format(part=part))
        yield Step(how, (CUT_PARTS, *needs) if in_parts else needs)
    if stepped:
        yield Step(
            "Check each piece: what its last sheet says.",
            ("Then step it along the band, as the stepping page says.",),
        )
    else:
        yield _check(job, strips)
        edges = {strip.panel.edge for strip in strips.strips}
        placed = any(panel.motifs for window in plan.windows for panel in window.panels)
        folded = any(strip.panel.gaps and strip.panel.return_ for strip in strips.strips)
        edge = edges.pop() if len(edges) == 1 else "leading (or left)"
        yield _mark(edge, motifs=placed, returns=folded)
    yield TEST
    yield Step("Punch and set, one eyelet at a time from one end.", SAFE_PUNCH)
    whole = "the ticket's hole centres" if stepped else "the strip: every eyelet on its circle"
    yield Step(f"Check each panel against {whole}. Sign below.")
    yield PRESS
    drawn = ", as the hanging page draws it" if weaves(plan) else ""
    yield Step(f"Hang{drawn}.", SAFE_HANGING)


def _cloth(plan: Plan) -> Iterator[Step]:
    """What is bought and sewn before the template is laid on."""
    if not plan.order.cloth:
        yield replace(NO_CLOTH, needs=tuple(_band(plan)))
        return
    yield BUY
    sew = LINE if any(window.window.lining for window in plan.windows) else SEW
    yield replace(sew, needs=tuple(_band(plan)))


def _band(plan: Plan) -> Iterator[str]:
    """What is to be minded of the band that is sewn in; nothing where no panel's is spliced."""
    if any(order.splices for order in plan.order.bands):
        yield f"Splice band only where the list of rolls says. {BUTTED}."


def _taped(strips: StripList) -> bool:
    """True where any strip takes more than one sheet, or part of one."""
    tilings = [tiling for strip in strips.strips for tiling in strip.tilings]
    return any(tiling.across * tiling.rows > 1 for tiling in tilings)


def _stepped(strips: StripList) -> bool:
    """True where pieces are stepped along the band."""
    return any(len(strip.pieces) > 1 for strip in strips.strips)


def _of_roll(job: Job, strips: StripList) -> Iterator[str]:
    """What the template takes of a roll; nothing on cut paper."""
    if strips.roll is not None:
        yield f"It takes {roll_taken(strips.pages, strips.roll.length, job.units)}."


def _bars(job: Job, strips: StripList) -> Step:
    """The check bars: what they may be off, and what a wrong reading comes of."""
    where = "sheet before taping" if strips.roll is None else "page before it is cut"
    return Step(
        f"Measure the bars on every {where}: 100 mm and 4 in, across and down.",
        (bars_may_be_off(job.units), "What the 100 mm bar reads where a setting is wrong:"),
        READINGS,
        ANOTHER_READING,
    )


def _check(job: Job, strips: StripList) -> Step:
    """What each strip measures from panel end to panel end, and what it may be off."""
    measures = {_whose(strip): _measure(strip, job) for strip in strips.strips}
    needs: tuple[str, ...]
    if len(set(measures.values())) == 1:
        needs = (f"{next(iter(measures.values())).capitalize()}.",)
    elif len(measures) <= MOST_STRIPS:
        needs = tuple(f"{whose}: {measure}." for whose, measure in measures.items())
    else:
        needs = ("By the measures on its assembly page, which says what it may be off.",)
    more = "Off by more: its assembly page says what to do. Trace nothing from it before."
    if not _taped(strips):
        more = STRIP_IS_OFF[0]
    return Step(
        "Check the strip: measure it from panel end to panel end, its holes from both ends.",
        (*needs, more),
    )


def _whose(strip: PlacedStrip) -> str:
    """A strip's letter, which it has where there are several, and its windows."""
    names = windows_named([window.name for window in strip.windows])
    return f"Strip {strip.letters[0]}, {names}"


def _measure(strip: PlacedStrip, job: Job) -> str:
    """A strip's length and what it may be off, joins and all."""
    joins = len(strip.tilings[0].joins)
    off = said_off(strip_may_be_off(strip.panel.width, joins), job.units)
    return f"{Wording(job.units)(strip.panel.width)}, and may be off by {off}"


def _mark(edge: str, *, motifs: bool, returns: bool) -> Step:
    """How the strip is laid, and what is marked by it.

    Where `motifs` are placed, that they are; where `returns` have a fold, what is done with it.
    """
    return Step(
        f"Mark. Lay the line marked TOP on the panel's top edge, the paper standing over it; the "
        f"line of the {edge} edge, not the paper's end, on the panel's {edge} edge.",
        (
            (
                "What the strip is off, within what it may be, shows at the far end: leave it "
                "there, don't shift the strip."
            ),
            *([MOTIFS] if motifs else []),
            "Trace the holes, prick their centres. Check some by ruler against the hole centres."
            + (f" {RETURN_FOLD}" if returns else ""),
        ),
    )
