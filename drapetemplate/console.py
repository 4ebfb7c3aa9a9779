"""A plan, and its counts side by side, for a terminal: text, findings first."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drapetemplate.job import Job
from drapetemplate.measures import Length, format_length, printable
from drapetemplate.planning.compare import Choice, Comparison
from drapetemplate.planning.findings import Finding, assumed
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.plan import Plan, WindowPlan
from drapetemplate.report import Laid, laid_out, sheet_count
from drapetemplate.strips import strips
from drapetemplate.words import cloth_rows, counted, order_rows, ordered


def as_text(job: Job, plan: Plan) -> str:
    """The plan for a terminal: findings first, then a table for each window."""
    title = f"{job.details.number} · {job.details.name}" if job.details.number else job.details.name
    lines = [printable(title), ""]
    for window, laid in zip(plan.windows, laid_out(job, plan), strict=True):
        lines += _window_text(job, window, laid)
    panels = sum(w.quantity * len(w.panels) for w in plan.windows)
    lines.append(
        f"In all: {counted(panels, 'panel')}, {plan.eyelets} eyelets, "
        f"{format_length(plan.band, job.units)} of stiffener band, "
        f"{counted(strips(plan.windows, job.paper, job.units).sheets, 'template sheet')}"
    )
    lines += [printable(f"  {what:<8}  {much}") for what, much in order_rows(job, plan)]
    lines += [_finding_text(assumed(a)) for a in plan.assumed]
    return "\n".join(lines)


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
    rows += cloth_rows(job, window)
    if panel.weight is not None:
        rows.append(("weight, each panel", f"{float(panel.weight) / 1000:.1f} kg"))
    for each, (_, pieces) in zip(window.panels, strips, strict=True):
        tilings = [tiling for _, tiling in pieces]
        sheets = sum(tiling.count for tiling in tilings)
        rows.append(
            (
                f"template, {each.side}",
                f"{counted(sheets, 'sheet')}, {job.paper.name}, {tilings[0].orientation}",
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
    "seams hidden",
    "drops",
    "order",
    "sheets",
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
        *_cloth_cells(job, choice.window),
        f"{sheet_count(job, choice)}",
        codes,
    )


def _cloth_cells(job: Job, window: WindowPlan) -> tuple[str, str, str]:
    """Seams hidden, drops and order of a count, the lining's after the face's."""
    hidden, drops, orders = [], [], []
    for one in window.cloth:
        seams = one.seams
        hidden.append("-" if seams is None else f"{seams.hidden}/{len(seams.seams)}")
        drops.append("-" if seams is None else f"{seams.drops}")
        orders.append(ordered(job, one.total))
    return (" + ".join(hidden) or "-", " + ".join(drops) or "-", " + ".join(orders) or "-")
