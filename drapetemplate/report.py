"""A plan and how it falls on paper, for programs (JSON) and for a terminal (text).

The JSON's lengths are millimetres as floats, positions from the leading edge, or the left edge
of a single panel. What isn't known is null; its keys stay the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drapetemplate.job import Job
from drapetemplate.measures import Length, format_length, printable
from drapetemplate.planning.findings import Finding, assumed
from drapetemplate.planning.plan import PanelPlan, Plan, WindowPlan
from drapetemplate.sheets import Tiling, tile
from drapetemplate.template import Strip, strip

FORMAT = 1

Laid = tuple[Strip, Tiling]


def laid_out(job: Job, plan: Plan) -> tuple[tuple[Laid, ...], ...]:
    """For each window, each panel's strip and how it falls on the job's paper."""
    windows = []
    for window in plan.windows:
        strips = [strip(panel, job.paper.view) for panel in window.panels]
        windows.append(tuple((s, tile(s, job.paper, job.units)) for s in strips))
    return tuple(windows)


def as_json(job: Job, plan: Plan) -> dict[str, Any]:
    """The plan as `plan --json` prints it, ready for a JSON writer."""
    details = job.details
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
                    _panel(job, panel, laid)
                    for panel, laid in zip(window.panels, strips, strict=True)
                ],
                "cloth": None,
                "findings": [
                    {"level": f.level, "code": f.code, "text": f.text}
                    for f in (*window.findings, *map(assumed, (*window.assumed, *plan.assumed)))
                ],
            }
            for window, strips in zip(plan.windows, laid_out(job, plan), strict=True)
        ],
        "order": {"cloth": None, "eyelets": plan.eyelets, "band_mm": _mm(plan.band)},
    }


def _mm(length: Length | None) -> float | None:
    return None if length is None else float(length)


def _panel(job: Job, panel: PanelPlan, laid: Laid) -> dict[str, Any]:
    bare, tiling = laid
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
        "fold": {
            "fullness": None if panel.fullness is None else float(panel.fullness),
            "pole_per_gap_mm": None,
            "depth_closed_mm": None,
            "depth_stacked_mm": None,
            "ring_angle_deg": None,
            "turn_limit_deg": None,
            "least_fullness": None,
        },
        "stack_mm": _mm(panel.stack),
        "weight_kg": None,
        "seams_mm": None,
        "pieces_mm": None,
        "strip": {
            "length_mm": _mm(bare.length),
            "height_mm": _mm(bare.height),
            "paper": job.paper.name,
            "orientation": tiling.orientation,
            "sheets": tiling.count,
            "rows": tiling.rows,
            "lanes": 1,
            "overlap_mm": _mm(job.paper.overlap),
            "joins_mm": [float(x) for x in tiling.joins_from_leading(bare)],
        },
    }


def as_text(job: Job, plan: Plan) -> str:
    """The plan for a terminal: findings first, then a table for each window."""
    title = f"{job.details.number} · {job.details.name}" if job.details.number else job.details.name
    lines = [printable(title), ""]
    for window, strips in zip(plan.windows, laid_out(job, plan), strict=True):
        lines += _window_text(job, window, strips)
    panels = sum(w.quantity * len(w.panels) for w in plan.windows)
    lines.append(
        f"In all: {panels} panels, {plan.eyelets} eyelets, "
        f"{format_length(plan.band, job.units)} of stiffener band"
    )
    lines += [_finding_text(assumed(a)) for a in plan.assumed]
    return "\n".join(lines)


def _finding_text(finding: Finding) -> str:
    return f"  {finding.level.upper():5} {finding.code}: {printable(finding.text)}"


def _window_text(job: Job, window: WindowPlan, strips: Sequence[Laid]) -> list[str]:
    def say(length: Length | None) -> str:
        return "not known" if length is None else format_length(length, job.units)

    panel = window.panels[0]
    sides = " and ".join(p.side for p in window.panels)
    many = f", make {window.quantity}" if window.quantity > 1 else ""
    edge = "left" if panel.side == "single" else "leading"
    rows = [
        ("panels", sides + many),
        ("finished width", say(panel.width)),
        ("finished length", say(window.length)),
        ("eyelets", f"{panel.count}, {panel.reason}"),
        ("gap, edge to edge", say(panel.gap)),
        ("pitch, centre to centre", say(panel.pitch)),
        ("return, both ends" if panel.side == "single" else "leading", say(panel.leading)),
    ]
    if panel.side != "single":
        rows.append(("return", say(panel.return_)))
    rows += [
        ("ring", f"{say(panel.outside)} outside, {say(panel.opening)} opening"),
        ("hole to cut", say(panel.hole)),
        ("band", f"{say(panel.band_height)} high, eyelets {say(panel.above)} below its top"),
        ("stack", say(panel.stack)),
    ]
    if panel.fullness is not None:
        rows.append(("fullness", f"{float(panel.fullness):.2f} over {say(panel.covers)} of pole"))
    for each, (_, tiling) in zip(window.panels, strips, strict=True):
        rows.append(
            (
                f"template, {each.side}",
                f"{tiling.count} sheets, {job.paper.name}, {tiling.orientation}",
            )
        )
    wide = max(len(name) for name, _ in rows)
    lines = [printable(window.name)]
    lines += [_finding_text(f) for f in window.findings]
    lines += [f"  {name:<{wide}}  {value}" for name, value in rows]
    lines.append(f"  hole centres from the {edge} edge:")
    for i, center in enumerate(panel.centers):
        kind = panel.gaps[i] if i < len(panel.gaps) else ""
        lines.append(f"    {i + 1:>4}  {say(center):<16} {float(center):>9.1f} mm  {kind}".rstrip())
    lines += [_finding_text(assumed(a)) for a in window.assumed]
    return [*lines, ""]
