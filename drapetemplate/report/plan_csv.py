"""A plan in, one CSV table for a spreadsheet out: holes, motifs, seams, drops, pieces and order.

Lengths are millimetres to 0.001; `measure` says them again in the job's unit. A hole's, a motif's
and a seam's `position_mm` is from the leading edge (from the left edge of a single panel; a
lining's seam from its own), a drop's along the cloth from its start, a piece's across its drop from
the left selvage, a bracket's along the pole from its left end. Band that is cut from
rolls has its roll's number for its drop, and its place along that.
"""

from __future__ import annotations

from collections.abc import Iterator

from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_length, format_order
from drapetemplate.planning.band import BandOrder
from drapetemplate.planning.cloth import ClothOrder, ClothUse
from drapetemplate.planning.drops import Drop, drops, made_panel
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.planning.seams import SeamPlan
from drapetemplate.report.csv_table import Row, csv_table, in_mm
from drapetemplate.wording import Wording
from drapetemplate.words.band_words import rolls_to_buy
from drapetemplate.words.figures import on_the_folds
from drapetemplate.words.plan_words import eyelet_sizes, finished_size, lining_joined, packs_of

COLUMNS = (
    "record",
    "window",
    "panel",
    "part",
    "fabric",
    "drop",
    "number",
    "position_mm",
    "width_mm",
    "length_mm",
    "measure",
    "quantity",
    "note",
)
NAMES = ("window", "fabric")


def as_csv(job: Job, plan: Plan) -> bytes:
    """Return the table as a file's bytes: RFC 4180, UTF-8, a line of column names first."""
    return csv_table(COLUMNS, _rows(job, plan), NAMES)


def _rows(job: Job, plan: Plan) -> Iterator[Row]:
    for window in plan.windows:
        yield from _holes(job, window)
        yield from _pattern(job, window)
        yield from _linings(job, window)
        yield from _seams(job, window)
        yield from _pole(job, window)
    for order in plan.order.cloth:
        for drop in drops(plan, order):
            yield from _drop(job, drop, order.fabric or "", order.width)
    yield from _order(job, plan)


def _holes(job: Job, window: WindowPlan) -> Iterator[Row]:
    for panel in window.panels:
        for number, center in enumerate(panel.centers, 1):
            after = panel.gaps[number - 1] if number <= len(panel.gaps) else ""
            yield {
                "record": "hole",
                "window": window.name,
                "panel": panel.side,
                "number": str(number),
                "position_mm": in_mm(center),
                "width_mm": in_mm(panel.hole),
                "measure": format_length(center, job.units),
                "quantity": str(window.quantity),
                "note": f"{after} gap after it" if after else "",
            }


def _pole(job: Job, window: WindowPlan) -> Iterator[Row]:
    """The pole where its length is known, and its brackets from its left end."""
    stand = window.stand
    if stand.length is None:
        return
    yield {
        "record": "pole",
        "window": window.name,
        "length_mm": in_mm(stand.length),
        "measure": format_length(stand.length, job.units),
        "quantity": str(window.quantity),
        "note": "worked out, to clear the glass" if stand.worked_out else "",
    }
    last = len(stand.brackets)
    for number, place in enumerate(stand.brackets, 1):
        yield {
            "record": "bracket",
            "window": window.name,
            "number": str(number),
            "position_mm": in_mm(place),
            "measure": format_length(place, job.units),
            "note": "at an end" if number in {1, last} else "between the ends",
        }


def _pattern(job: Job, window: WindowPlan) -> Iterator[Row]:
    """What became of a pattern on the folds: from eyelet to eyelet, and the width asked for."""
    pattern = window.pattern
    if pattern is not None:
        yield {
            "record": "pattern",
            "window": window.name,
            "part": "face",
            "width_mm": in_mm(pattern.asked_width),
            "length_mm": in_mm(pattern.repeat),
            "measure": format_length(pattern.asked_width, job.units),
            "quantity": str(window.quantity),
            "note": on_the_folds(pattern, Wording(job.units)),
        }
    for use in window.cloth:
        if use.motif_cut is not None:
            yield {
                "record": "motif down",
                "window": window.name,
                "part": use.part,
                "fabric": use.cloth.name or "",
                "position_mm": in_mm(use.motif_cut),
                "measure": format_length(use.motif_cut, job.units),
                "quantity": str(window.quantity),
                "note": "its centre from a cut's start",
            }
    for panel in window.panels:
        for number, motif in enumerate(panel.motifs or (), 1):
            yield {
                "record": "motif",
                "window": window.name,
                "panel": panel.side,
                "part": "face",
                "number": str(number),
                "position_mm": in_mm(motif),
                "measure": format_length(motif, job.units),
                "quantity": str(window.quantity),
                "note": f"its centre in front fold {number}",
            }


def _linings(job: Job, window: WindowPlan) -> Iterator[Row]:
    """What a window's lining finishes at, and how it is joined to the face."""
    say = Wording(job.units)
    for use in window.cloth:
        if use.cloth.joined is not None:
            yield {
                "record": "lining",
                "window": window.name,
                "part": use.part,
                "fabric": use.cloth.name or "",
                "width_mm": in_mm(use.width),
                "length_mm": in_mm(use.length),
                "measure": finished_size(use, say),
                "quantity": str(window.quantity * len(window.panels)),
                "note": lining_joined(use.cloth, say),
            }


def _seams(job: Job, window: WindowPlan) -> Iterator[Row]:
    for use in window.cloth:
        if use.seams is None:
            continue
        for place, seam in enumerate(use.seams.seams):
            yield {
                "record": "seam",
                "window": window.name,
                "part": use.part,
                "fabric": use.cloth.name or "",
                "number": str(place + 1),
                "position_mm": in_mm(seam),
                "measure": format_length(seam, job.units),
                "note": _seen(use, use.seams, place),
            }


def _seen(use: ClothUse, seams: SeamPlan, place: int) -> str:
    """Where the seam at this place of the list falls, for who looks at the panel."""
    if place in seams.struck:
        return "under an eyelet or a hem"
    if place in seams.visible:
        return "in sight" if use.part == "face" else "outside the eyelets"
    return "hidden"


def _drop(job: Job, drop: Drop, fabric: str, width: Length | None) -> Iterator[Row]:
    common = {
        "window": drop.window,
        "part": drop.part,
        "fabric": fabric,
        "drop": str(drop.number),
        "length_mm": in_mm(drop.length),
    }
    yield {
        **common,
        "record": "drop",
        "position_mm": in_mm(drop.at),
        "width_mm": in_mm(width),
        "measure": format_length(drop.length, job.units),
        "note": "railroaded" if drop.turned else "",
    }
    for piece in drop.pieces:
        yield {
            **common,
            "record": "piece",
            "length_mm": in_mm(drop.length - drop.over),
            "panel": piece.panel.name,
            "number": str(piece.number),
            "position_mm": in_mm(piece.left),
            "width_mm": in_mm(piece.width) if piece.known else "",
            "measure": format_length(piece.width, job.units) if piece.known else "",
        }


def _allowance(job: Job, cloth: ClothOrder) -> Iterator[Row]:
    """What an order holds beside its drops."""
    for length, why in (
        (cloth.allowance, "to square the start and cut round a flaw"),
        (cloth.repeat, "one repeat, to begin at a chosen place of the pattern"),
    ):
        if length:
            yield {
                "record": "allowance",
                "part": cloth.part,
                "fabric": cloth.fabric or "",
                "width_mm": in_mm(cloth.width),
                "length_mm": in_mm(length),
                "measure": format_length(length, job.units),
                "note": why,
            }


def _order(job: Job, plan: Plan) -> Iterator[Row]:
    for cloth in plan.order.cloth:
        yield {
            "record": "order",
            "part": cloth.part,
            "fabric": cloth.fabric or "",
            "width_mm": in_mm(cloth.width),
            "length_mm": in_mm(cloth.total),
            "measure": "" if cloth.amount is None else format_order(cloth.amount, cloth.unit),
            "quantity": "" if cloth.drops is None else str(cloth.drops),
            "note": "drops, what they take exactly, and what to order, allowance included",
        }
        yield from _allowance(job, cloth)
    sizes = eyelet_sizes(plan.order.eyelets, Wording(job.units))
    for size, ring in zip(sizes, plan.order.eyelets, strict=True):
        packs = f", {packs_of(ring)}" if ring.packs else ""
        yield {
            "record": "order",
            "part": "eyelets",
            "width_mm": in_mm(ring.eyelet.outside),
            "quantity": str(ring.bought),
            "note": f"{size}: {ring.used} used, {ring.spares} spare{packs}",
        }
    for band in plan.order.bands:
        yield {
            "record": "order",
            "part": "band",
            "width_mm": in_mm(band.height),
            "length_mm": in_mm(band.length),
            "measure": format_order(band.amount, band.unit),
            "quantity": "" if band.rolls is None else str(band.rolls),
            "note": "what all panels take exactly, and what to order"
            + (f"; {rolls_to_buy(band, job.units)}" if band.rolls else ""),
        }
        yield from _band_pieces(job, plan, band)


def _band_pieces(job: Job, plan: Plan, order: BandOrder) -> Iterator[Row]:
    """What the rolls of a band are cut into, panel by panel."""
    for band in order.panels:
        window = plan.windows[band.window]
        for number, piece in enumerate(band.pieces, 1):
            edge = window.panels[0].edge
            start = format_length(piece.start, job.units)
            yield {
                "record": "band",
                "window": window.name,
                "panel": made_panel(window, band.number).name,
                "part": "band",
                "drop": str(piece.roll),
                "number": str(number),
                "position_mm": in_mm(piece.at),
                "width_mm": in_mm(order.height),
                "length_mm": in_mm(piece.length),
                "measure": format_length(piece.length, job.units),
                "note": f"spliced {start} from the {edge} edge" if number > 1 else "",
            }
