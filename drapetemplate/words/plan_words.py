"""What a plan takes and what a window measures, in words that a terminal and a ticket share."""

from __future__ import annotations

from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_length, format_order
from drapetemplate.planning.cloth import EyeletOrder, order_unit, rounded_order
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.wording import Wording, counted, degrees, times

PARTS = {"face": "fabric", "lining": "lining"}


def order_rows(job: Job, plan: Plan) -> list[tuple[str, str]]:
    """What to buy for the whole job, thing by thing, in words."""
    say = Wording(job.units)
    rows = []
    for one in plan.order.cloth:
        wide = f"{say(one.width)} wide" if one.width is not None else "width not known"
        name = f"{one.fabric or 'not named'}, {wide}"
        if one.amount is None:
            rows.append((PARTS[one.part], f"{name}: amount not known"))
        else:
            drops = counted(one.drops or 0, "drop")
            much = f"{format_order(one.amount, one.unit)} ({drops}, {say.known(one.total)} exactly)"
            rows.append((PARTS[one.part], f"{name}: {much}"))
    for ring in plan.order.eyelets:
        name = f"{say(ring.eyelet.outside)} outside, {say(ring.eyelet.opening)} opening"
        rows.append(("eyelets", f"{name}: {bought(ring)}"))
    rows += [("band", f"{say(b.height)} high: {say(b.length)}") for b in plan.order.bands]
    return rows


def bought(ring: EyeletOrder) -> str:
    """How many of an eyelet are used, and what to buy."""
    spares = f" and {counted(ring.spares, 'spare')}" if ring.spares else ""
    packs = f": {counted(ring.packs, 'pack')} of {ring.eyelet.pack}" if ring.packs else ""
    return f"{ring.used}{spares}{packs}"


def cloth_rows(job: Job, window: WindowPlan) -> list[tuple[str, str]]:
    """What a window takes of each cloth, its seams and its pieces, in words."""
    say = Wording(job.units)
    rows = []
    edge = window.panels[0].edge
    for one in window.cloth:
        part, seams = PARTS[one.part], one.seams
        if seams is None:
            rows.append((part, "cloth width not given, so no seams and drops"))
        else:
            what = "run" if one.cloth.railroad else "drop"
            drops = counted(seams.drops, what)
            known = "cut length not known" if one.cut is None else f"of {say(one.cut)}"
            much = "" if one.total is None else f", {ordered(job, one.total)}"
            rows.append((part, f"{drops} {known}{much}"))
            if seams.seams:
                hidden = f"{one.hidden} hidden" if one.shown else "all hidden"
                at = ", ".join(say(x) for x in seams.seams)
                rows.append((f"{part} seams", f"{at} from the {edge} edge, {hidden}"))
                pieces = " + ".join(say(x) for x in seams.pieces)
                rows.append((f"{part} pieces", f"{pieces}, raw, from the {edge} edge"))
    return rows


def made(window: WindowPlan) -> str:
    """Which panels a window has, and how many of it to make."""
    panels = {"pair": "a pair", "left": "a left panel", "right": "a right panel"}
    kind = "pair" if len(window.panels) == 2 else window.panels[0].side
    said = panels.get(kind, "a single panel, returns at both ends")
    return said if window.quantity == 1 else f"{said}, make {window.quantity}"


def figure_rows(job: Job, window: WindowPlan) -> list[tuple[str, str]]:
    """A window's figures for the table: eyelet, band, ends, folds and cloth, named."""
    say = Wording(job.units)
    panel = window.panels[0]
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
    if window.length is None:
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
        rows.append(("Fullness", times(panel.fullness)))
    rows.append(("Stack", say(panel.stack)))
    if panel.hang is not None:
        rows += _hanging(panel.hang, say)
    if panel.weight is not None:
        eyelets = "" if window.window.eyelet.weight else ", eyelets not counted"
        rows.append(("Weight, each panel", f"{float(panel.weight) / 1000:.1f} kg{eyelets}"))
    return rows + cloth_figures(job, window)


def cloth_figures(job: Job, window: WindowPlan) -> list[tuple[str, str]]:
    """What a window takes of its cloths and where its seams are, as the ticket names it."""
    return [
        (name.capitalize(), much)
        for name, much in cloth_rows(job, window)
        if not name.endswith("pieces")
    ]


def _hanging(hang: Hang, say: Wording) -> list[tuple[str, str]]:
    """How far the folds reach, what is free behind them, and how far the rings turn."""
    closed, stacked = hang.depth_closed, hang.depth_stacked
    rows = [("Folds, closed", f"{say(closed)} each way"), ("Folds, stacked", f"to {say(stacked)}")]
    free = hang.free(closed)
    if free is not None:
        rows.append(("Free to the wall", say.free(free, "{} closed", "none, closed {} too deep")))
    if hang.turn_limit is not None:
        rows.append(("Rings turn", f"to {degrees(hang.turn_limit)}"))
    return rows


def cut_line(job: Job, window: WindowPlan) -> str:
    """What to cut for a window in one line, "" where nothing is known; no yardage, no seams."""
    cuts = []
    for one in window.cloth:
        if one.seams is not None and one.cut is not None:
            what = counted(one.seams.drops, "run" if one.cloth.railroad else "drop")
            cut = f"{what} of {format_length(one.cut, job.units)}"
            cuts.append(f"lining {cut}" if one.part == "lining" else cut)
    if not cuts:
        return ""
    many = f", for all {window.quantity}" if window.quantity > 1 else ""
    return f"Cut {'; '.join(cuts)}{many}"


def ordered(job: Job, total: Length | None) -> str:
    """What to order for an exact total, or a dash where that isn't known."""
    unit = order_unit(job.units)
    return "-" if total is None else format_order(rounded_order(total, unit), unit)
