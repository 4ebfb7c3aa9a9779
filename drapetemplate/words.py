"""What a plan takes of cloth, eyelets and band, in words that a terminal and a ticket share."""

from __future__ import annotations

from drapetemplate.job import Job
from drapetemplate.measures import Length, format_length, format_order
from drapetemplate.planning.cloth import EyeletOrder, order_unit, rounded_order
from drapetemplate.planning.plan import Plan, WindowPlan

PARTS = {"face": "fabric", "lining": "lining"}


def order_rows(job: Job, plan: Plan) -> list[tuple[str, str]]:
    """What to buy for the whole job, thing by thing, in words."""

    def say(length: Length | None) -> str:
        return "not known" if length is None else format_length(length, job.units)

    rows = []
    for one in plan.order.cloth:
        wide = f"{say(one.width)} wide" if one.width is not None else "width not known"
        name = f"{one.fabric or 'not named'}, {wide}"
        if one.amount is None:
            rows.append((PARTS[one.part], f"{name}: amount not known"))
        else:
            drops = counted(one.drops or 0, "drop")
            much = f"{format_order(one.amount, one.unit)} ({drops}, {say(one.total)} exactly)"
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


def edge_of(window: WindowPlan) -> str:
    """The edge that running measures start from."""
    return "left" if window.panels[0].side == "single" else "leading"


def cloth_rows(job: Job, window: WindowPlan) -> list[tuple[str, str]]:
    """What a window takes of each cloth, its seams and its pieces, in words."""

    def say(length: Length) -> str:
        return format_length(length, job.units)

    rows = []
    edge = edge_of(window)
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
                shown = seams.struck if one.part == "lining" else seams.visible
                hidden = f"{len(seams.seams) - len(shown)} hidden" if shown else "all hidden"
                at = ", ".join(say(x) for x in seams.seams)
                rows.append((f"{part} seams", f"{at} from the {edge} edge, {hidden}"))
                pieces = " + ".join(say(x) for x in seams.pieces)
                rows.append((f"{part} pieces", f"{pieces}, raw, from the {edge} edge"))
    return rows


def ordered(job: Job, total: Length | None) -> str:
    """What to order for an exact total, or a dash where that isn't known."""
    unit = order_unit(job.units)
    return "-" if total is None else format_order(rounded_order(total, unit), unit)


def counted(number: int, noun: str) -> str:
    """A number and its noun, in the plural where it is one."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
