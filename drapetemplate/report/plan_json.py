"""A plan and how it falls on paper in, what programs read (JSON) out.

Lengths are millimetres as floats, positions from the leading edge, or the left edge
of a single panel; a lining's seams from its own. What isn't known is null; its keys stay the same.

A finding's `remedies` are what its text names to do, any one of which clears it: each a list of
changes that go together, {"key", "value_mm"} of a window's length and {"key", "value"} of a number
or a word. Keys are a window's, as in a job file: "count", "pole.projection". What names no value
has none.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Any

from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.measures import Length
from drapetemplate.planning.advice import MULTIPLIERS
from drapetemplate.planning.band import BandOrder, BandPanel
from drapetemplate.planning.cloth import (
    ClothOrder,
    ClothUse,
    EyeletOrder,
    OrderUnit,
    order_unit,
    rounded_order,
)
from drapetemplate.planning.compare import Choice, Comparison
from drapetemplate.planning.drops import made_panel
from drapetemplate.planning.findings import assumed
from drapetemplate.planning.model import Change, Finding, PanelPlan, Plan, WindowPlan
from drapetemplate.planning.pattern_folds import FoldPattern
from drapetemplate.planning.pole_stand import PoleStand
from drapetemplate.sheets.strip_list import PlacedStrip, sheet_count, strip_list
from drapetemplate.sheets.tiling import turns_of

FORMAT = 1


def as_json(job: Job, plan: Plan, factors: Factors | None = None) -> dict[str, Any]:
    """Return the plan as `plan --json` prints it, ready for a JSON writer.

    Its sheets are as a printer with these `factors` takes them.
    """
    details = job.details
    strips = strip_list(job, plan.windows, factors)
    return {
        "format": FORMAT,
        "job": {
            "name": details.name,
            "number": details.number,
            "client": details.client,
            "room": details.room,
            "due": details.due.isoformat() if details.due else None,
            "notes": details.notes,
        },
        "windows": [
            {
                "name": window.name,
                "quantity": window.quantity,
                "length_mm": _mm(window.length),
                "panels": [
                    _panel(job, panel, strip)
                    for panel, strip in zip(window.panels, own, strict=True)
                ],
                "pattern": _pattern(window.pattern),
                "pole": _stand(window.stand),
                "cloth": [_cloth(job, use) for use in window.cloth],
                "findings": _findings(
                    (*window.findings, *map(assumed, (*window.assumed, *plan.assumed)))
                ),
            }
            for window, own in zip(plan.windows, strips.by_panel, strict=True)
        ],
        "paper": {
            "name": job.paper.name,
            "sheets": strips.sheets,
            "pages": strips.pages,
            "roll_mm": None if strips.roll is None else _mm(strips.roll.length),
        },
        "order": {
            "cloth": [cloth_order_json(order) for order in plan.order.cloth],
            "eyelets": plan.eyelets,
            "band_mm": _mm(plan.band),
            "packs": [eyelet_order_json(order) for order in plan.order.eyelets],
            "bands": [band_order_json(order, plan.windows) for order in plan.order.bands],
        },
    }


def _mm(length: Length | None) -> float | None:
    return None if length is None else float(length)


def _findings(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    return [
        {
            "level": f.level,
            "code": f.code,
            "text": f.text,
            "remedies": [[_change(change) for change in remedy] for remedy in f.remedies],
        }
        for f in findings
    ]


def _change(change: Change) -> dict[str, Any]:
    """One key that a remedy changes, and what it is to be."""
    key, value = change
    if not isinstance(value, Fraction):
        return {"key": key, "value": value}
    return {"key": key, "value" if key in MULTIPLIERS else "value_mm": float(value)}


def _panel(job: Job, panel: PanelPlan, strip: PlacedStrip) -> dict[str, Any]:
    joins = [
        x
        for piece in strip.pieces
        for x in piece.tiling.joins_from_leading(
            piece.strip.of_other if panel is strip.other else piece.strip
        )
    ]
    tilings = strip.tilings
    return {
        "side": panel.side,
        "width_mm": _mm(panel.width),
        "count": panel.count,
        "outside_mm": _mm(panel.outside),
        "opening_mm": _mm(panel.opening),
        "hole_mm": _mm(panel.hole),
        "leading_mm": _mm(panel.leading),
        "return_mm": _mm(panel.return_),
        "gap_mm": _mm(panel.gap),
        "pitch_mm": _mm(panel.pitch),
        "centers_mm": [float(c) for c in panel.centers],
        "gaps": list(panel.gaps),
        "fold": _fold(panel),
        "stack_mm": _mm(panel.stack),
        "weight_kg": None if panel.weight is None else float(panel.weight / 1000),
        "seams_mm": None if panel.seams is None else [float(x) for x in panel.seams],
        "pieces_mm": None if panel.pieces is None else [float(x) for x in panel.pieces],
        "motifs_mm": None if panel.motifs is None else [float(x) for x in panel.motifs],
        "strip": {
            "length_mm": _mm(strip.strip.length),
            "height_mm": _mm(strip.strip.height),
            "paper": job.paper.name,
            "orientation": turns_of(tilings),
            "sheets": strip.sheets,
            "rows": max(tiling.rows for tiling in tilings),
            "lanes": max(tiling.lanes for tiling in tilings),
            "overlap_mm": _mm(job.paper.overlap),
            "joins_mm": [float(x) for x in joins],
            "panels": [one.side for one in (strip.panel, strip.other) if one is not None],
        },
    }


def _pattern(pattern: FoldPattern | None) -> dict[str, Any] | None:
    """What became of a pattern on the folds: its half repeats a pitch, null where none does."""
    if pattern is None:
        return None
    full = pattern.asked_fullness
    return {
        "repeat_mm": _mm(pattern.repeat),
        "half_repeats": pattern.half_repeats,
        "asked_width_mm": _mm(pattern.asked_width),
        "asked_fullness": None if full is None else float(full),
    }


def _stand(stand: PoleStand) -> dict[str, Any]:
    """How the panels stand on their pole; brackets from its left end, as seen from the room."""
    return {
        "length_mm": _mm(stand.length),
        "worked_out": stand.worked_out,
        "glass_mm": _mm(stand.glass),
        "glass_covered_mm": _mm(stand.over_glass),
        "glass_bare_mm": _mm(stand.bare),
        "clearing_mm": _mm(stand.clearing),
        "supports": stand.supports,
        "brackets_mm": [float(place) for place in stand.brackets],
        "past_bracket_mm": _mm(stand.beyond),
        "off_floor_mm": _mm(stand.bottom),
        "weight_kg": None if stand.weight is None else float(stand.weight / 1000),
        "brackets_kg": [float(grams / 1000) for grams in stand.bearing],
    }


def _fold(panel: PanelPlan) -> dict[str, float | None]:
    """The fold's figures; all null on hooks, where nothing weaves."""
    hang = panel.hang
    return {
        "fullness": None if hang is None else hang.fullness,
        "pole_per_gap_mm": None if hang is None else hang.closed.pole_per_gap,
        "depth_closed_mm": None if hang is None else hang.closed.depth,
        "depth_stacked_mm": None if hang is None else float(hang.depth_stacked),
        "ring_angle_deg": None if hang is None else hang.closed.angle_deg,
        "free_turn_deg": None if hang is None else hang.free_turn,
        "turn_limit_deg": None if hang is None else hang.turn_limit,
        "least_fullness": None if hang is None else hang.least_fullness,
    }


def _cloth(job: Job, use: ClothUse) -> dict[str, Any]:
    """What a window takes of one cloth, its order as if it were bought for this window alone."""
    unit = order_unit(job.units)
    seams = use.seams
    return {
        "part": use.part,
        "fabric": use.cloth.name,
        "joined": use.cloth.joined,
        "set_in_mm": _mm(use.cloth.set_in),
        "short_mm": _mm(use.cloth.short),
        "finished_width_mm": _mm(use.width),
        "finished_length_mm": _mm(use.length),
        "drops": None if seams is None else seams.drops,
        "least_drops": None if seams is None else seams.least_drops,
        "cut_length_mm": _mm(use.cut),
        "total_mm": _mm(use.total),
        "allowance_mm": _mm(use.cloth.allowance),
        "repeat_mm": _mm(use.cloth.repeat_down or Length(0)),
        "motif_cut_mm": _mm(use.motif_cut),
        "to_buy_mm": _mm(use.to_buy),
        "order": _amount(None if use.to_buy is None else rounded_order(use.to_buy, unit), unit),
        "seams_mm": None if seams is None else [float(x) for x in seams.seams],
        "pieces_mm": None if seams is None else [float(x) for x in seams.pieces],
        "seams_hidden": None if seams is None else use.hidden,
    }


def cloth_order_json(order: ClothOrder) -> dict[str, Any]:
    """Return one cloth's order."""
    return {
        "part": order.part,
        "fabric": order.fabric,
        "width_mm": _mm(order.width),
        "drops": order.drops,
        "total_mm": _mm(order.total),
        "allowance_mm": _mm(order.allowance),
        "repeat_mm": _mm(order.repeat),
        "between_mm": _mm(order.between),
        "to_buy_mm": _mm(order.to_buy),
        "order": _amount(order.amount, order.unit),
    }


def _amount(amount: Fraction | None, unit: OrderUnit) -> dict[str, Any]:
    return {"amount": None if amount is None else float(amount), "unit": unit}


def eyelet_order_json(order: EyeletOrder) -> dict[str, Any]:
    """Return one eyelet's order."""
    return {
        "outside_mm": _mm(order.eyelet.outside),
        "opening_mm": _mm(order.eyelet.opening),
        "hole_mm": _mm(order.eyelet.hole),
        "used": order.used,
        "spares": order.spares,
        "pack": order.eyelet.pack,
        "packs": order.packs,
        "bought": order.bought,
    }


def band_order_json(order: BandOrder, windows: Sequence[WindowPlan]) -> dict[str, Any]:
    """Return one band's order, its panels' `windows` by their place among these."""
    return {
        "height_mm": _mm(order.height),
        "length_mm": _mm(order.length),
        "roll_mm": _mm(order.roll),
        "rolls": order.rolls,
        "order": _amount(order.amount, order.unit),
        "panels": [_band_panel(windows[band.window], band) for band in order.panels],
    }


def _band_panel(window: WindowPlan, band: BandPanel) -> dict[str, Any]:
    """One panel's band: `start_mm` from the panel's edge, `at_mm` along the roll."""
    return {
        "window": window.name,
        "panel": made_panel(window, band.number).name,
        "pieces": [
            {
                "roll": piece.roll,
                "at_mm": _mm(piece.at),
                "start_mm": _mm(piece.start),
                "length_mm": _mm(piece.length),
            }
            for piece in band.pieces
        ],
    }


def compare_json(job: Job, comparisons: Sequence[Comparison]) -> dict[str, Any]:
    """Return each window's counts side by side, as `compare --json` prints them."""
    return {
        "format": FORMAT,
        "job": {"name": job.details.name, "number": job.details.number},
        "windows": [
            {
                "name": comparison.name,
                "reason": comparison.reason,
                "counts": [_choice_json(job, choice) for choice in comparison.choices],
            }
            for comparison in comparisons
        ],
    }


def _choice_json(job: Job, choice: Choice) -> dict[str, Any]:
    panel = None if choice.window is None else choice.window.panels[0]
    hang = None if panel is None else panel.hang
    pattern = None if choice.window is None else choice.window.pattern
    findings = () if choice.window is None else choice.window.findings
    uses = () if choice.window is None else choice.window.cloth
    return {
        "count": choice.count,
        "chosen": choice.chosen,
        "fault": choice.fault or None,
        "width_mm": None if panel is None else _mm(panel.width),
        "fullness": None if panel is None or not panel.fullness else float(panel.fullness),
        "half_repeats": None if pattern is None else pattern.half_repeats,
        "gap_mm": None if panel is None else _mm(panel.gap),
        "gap_eyelets": None if panel is None else float(panel.gap / panel.outside),
        "pitch_mm": None if panel is None else _mm(panel.pitch),
        "depth_closed_mm": None if hang is None else _mm(hang.depth_closed),
        "depth_stacked_mm": None if hang is None else _mm(hang.depth_stacked),
        "wall_free_closed_mm": None if hang is None else _mm(hang.free(hang.depth_closed)),
        "wall_free_stacked_mm": None if hang is None else _mm(hang.free(hang.depth_stacked)),
        "wall_clearance_mm": None if hang is None else _mm(hang.clearance),
        "ring_angle_deg": None if hang is None else hang.closed.angle_deg,
        "free_turn_deg": None if hang is None else hang.free_turn,
        "turn_limit_deg": None if hang is None else hang.turn_limit,
        "stack_mm": None if panel is None else _mm(panel.stack),
        "glass_covered_mm": None if choice.window is None else _mm(choice.window.stand.over_glass),
        "clearing_mm": None if choice.window is None else _mm(choice.window.stand.clearing),
        "cloth": [_cloth(job, use) for use in uses],
        "sheets": sheet_count(job, choice),
        "findings": _findings(findings),
    }
