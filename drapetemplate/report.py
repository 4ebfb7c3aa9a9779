"""A plan and how it falls on paper, for programs (JSON) and for a terminal (text).

The JSON's lengths are millimetres as floats, positions from the leading edge, or the left edge
of a single panel. What isn't known is null; its keys stay the same.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from drapetemplate.job import Job
from drapetemplate.measures import Length, format_length, printable
from drapetemplate.planning.compare import Choice, Comparison
from drapetemplate.planning.findings import Finding, assumed
from drapetemplate.planning.hanging import Hang
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
        "fold": _fold(panel),
        "stack_mm": _mm(panel.stack),
        "weight_kg": None if panel.weight is None else float(panel.weight / 1000),
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


def _fold(panel: PanelPlan) -> dict[str, float | None]:
    """The fold's figures; all null on hooks, where nothing weaves."""
    hang = panel.hang
    return {
        "fullness": None if hang is None else hang.fullness,
        "pole_per_gap_mm": None if hang is None else hang.closed.pole_per_gap,
        "depth_closed_mm": None if hang is None else hang.closed.depth,
        "depth_stacked_mm": None if hang is None else float(hang.depth_stacked),
        "ring_angle_deg": None if hang is None else hang.closed.angle_deg,
        "turn_limit_deg": None if hang is None else hang.turn_limit,
        "least_fullness": None if hang is None else hang.least_fullness,
    }


def as_text(job: Job, plan: Plan) -> str:
    """The plan for a terminal: findings first, then a table for each window."""
    title = f"{job.details.number} · {job.details.name}" if job.details.number else job.details.name
    lines = [printable(title), ""]
    for window, strips in zip(plan.windows, laid_out(job, plan), strict=True):
        lines += _window_text(job, window, strips)
    panels = sum(w.quantity * len(w.panels) for w in plan.windows)
    lines.append(
        f"In all: {_counted(panels, 'panel')}, {plan.eyelets} eyelets, "
        f"{format_length(plan.band, job.units)} of stiffener band"
    )
    lines += [_finding_text(assumed(a)) for a in plan.assumed]
    return "\n".join(lines)


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _finding_text(finding: Finding) -> str:
    return f"  {finding.level.upper():5} {finding.code}: {printable(finding.text)}"


def _hanging_text(hang: Hang, say: Callable[[Length | None], str]) -> list[tuple[str, str]]:
    """How deep the folds are, what that leaves at the wall, and how far the rings turn."""
    at = f"at {hang.fullness:g} times, assumed" if hang.assumed else f"at {hang.fullness:.2f} times"
    rows = []
    for state, depth in (
        (f"folds closed, {at}", hang.depth_closed),
        ("folds stacked", hang.depth_stacked),
    ):
        free = hang.free(depth)
        wall = "wall not known"
        if free is not None:
            wall = f"{say(free)} free to the wall" if free >= 0 else f"{say(-free)} too deep"
        rows.append((state, f"{say(depth)} each way, {wall}"))
    if hang.turn_limit is not None and hang.least_fullness is not None:
        turn = f"to {int(hang.turn_limit)}°, so no flatter than {hang.least_fullness:.2f} times"
        rows.append(("rings turn", turn))
    return rows


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
    if panel.hang is not None:
        rows += _hanging_text(panel.hang, say)
    if panel.weight is not None:
        rows.append(("weight, each panel", f"{float(panel.weight) / 1000:.1f} kg"))
    for each, (_, tiling) in zip(window.panels, strips, strict=True):
        rows.append(
            (
                f"template, {each.side}",
                f"{_counted(tiling.count, 'sheet')}, {job.paper.name}, {tiling.orientation}",
            )
        )
    wide = max(len(name) for name, _ in rows)
    lines = [printable(window.name)]
    lines += [_finding_text(f) for f in window.findings]
    lines += [f"  {name:<{wide}}  {value}" for name, value in rows]
    lines.append(f"  hole centres from the {edge} edge:")
    for i, center in enumerate(panel.centers):
        kind = panel.gaps[i] if i < len(panel.gaps) else ""
        beside = f"{float(center):>9.1f} mm  " if job.units == "in" else ""
        lines.append(f"    {i + 1:>4}  {say(center):<16} {beside}{kind}".rstrip())
    lines += [_finding_text(assumed(a)) for a in window.assumed]
    return [*lines, ""]


def compare_json(job: Job, comparisons: Sequence[Comparison]) -> dict[str, Any]:
    """Each window's counts side by side, as `compare --json` prints them."""
    return {
        "format": FORMAT,
        "job": {"name": job.details.name, "number": job.details.number},
        "windows": [
            {
                "name": comparison.name,
                "reason": comparison.reason,
                "counts": [_choice_json(choice) for choice in comparison.choices],
            }
            for comparison in comparisons
        ],
    }


def _choice_json(choice: Choice) -> dict[str, Any]:
    panel = None if choice.window is None else choice.window.panels[0]
    hang = None if panel is None else panel.hang
    found = () if choice.window is None else choice.window.findings
    return {
        "count": choice.count,
        "chosen": choice.chosen,
        "fault": choice.fault or None,
        "gap_mm": None if panel is None else _mm(panel.gap),
        "gap_eyelets": None if panel is None else float(panel.gap / panel.outside),
        "pitch_mm": None if panel is None else _mm(panel.pitch),
        "depth_closed_mm": None if hang is None else _mm(hang.depth_closed),
        "depth_stacked_mm": None if hang is None else _mm(hang.depth_stacked),
        "wall_clear_closed_mm": None if hang is None else _mm(hang.free(hang.depth_closed)),
        "wall_clear_stacked_mm": None if hang is None else _mm(hang.free(hang.depth_stacked)),
        "ring_angle_deg": None if hang is None else hang.closed.angle_deg,
        "stack_mm": None if panel is None else _mm(panel.stack),
        "findings": [{"level": f.level, "code": f.code, "text": f.text} for f in found],
    }


COMPARED = (
    "eyelets",
    "gap",
    "in eyelets",
    "pitch",
    "fold closed",
    "stacked",
    "wall free",
    "ring angle",
    "stack",
    "findings",
)


def compare_text(job: Job, comparisons: Sequence[Comparison]) -> str:
    """Each window's counts in one table, the job's own marked, with the reason under it."""
    lines = [printable(job.details.name)]
    for comparison in comparisons:
        rows = [COMPARED, *(_choice_row(job, choice) for choice in comparison.choices)]
        wide = [max(len(row[c]) for row in rows if len(row) > 2) for c in range(len(COMPARED))]
        lines += ["", printable(comparison.name)]
        for row, choice in zip(rows, (None, *comparison.choices), strict=True):
            sign = ">" if choice is not None and choice.chosen else " "
            cells = (cell.rjust(wide[c]) for c, cell in enumerate(row[:-1]))
            lines.append(printable(f"{sign} {'  '.join(cells)}  {row[-1]}".rstrip()))
        chosen = next(choice for choice in comparison.choices if choice.chosen)
        lines.append(f"  > {chosen.count}: {comparison.reason}")
        shown = {
            (finding.code, finding.text): None
            for choice in comparison.choices
            if choice.chosen and choice.window is not None
            for finding in choice.window.findings
        }
        lines += [printable(f"    {code}: {text}") for code, text in shown]
    return "\n".join(lines)


def _choice_row(job: Job, choice: Choice) -> tuple[str, ...]:
    def say(length: Length | None) -> str:
        return "-" if length is None else format_length(length, job.units, unit=False)

    if choice.window is None:
        return f"{choice.count}", choice.fault
    panel = choice.window.panels[0]
    hang = panel.hang
    codes = ", ".join(dict.fromkeys(f"{f.level} {f.code}" for f in choice.window.findings))
    return (
        f"{choice.count}",
        say(panel.gap),
        f"{float(panel.gap / panel.outside):.2f}",
        say(panel.pitch),
        say(None if hang is None else hang.depth_closed),
        say(None if hang is None else hang.depth_stacked),
        say(None if hang is None else hang.free(hang.depth_closed)),
        "-" if hang is None else f"{hang.closed.angle_deg:.0f}°",
        say(panel.stack),
        codes,
    )
