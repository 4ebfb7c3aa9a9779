"""A `Job` in, a `Plan` out: every figure of every panel, and what is wrong while it is cheap.

Positions run from the leading edge, or from the left edge of a single panel. Figures that
need what the job doesn't say are None.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Assumption, Cloth, Job, Window
from drapetemplate.measures import Length, Units, format_length, rounded_up
from drapetemplate.planning import cloth, eyelets, hanging
from drapetemplate.planning.cloth import ClothUse, Part
from drapetemplate.planning.eyelets import LEAST_GAP, EyeletLine
from drapetemplate.planning.findings import panel_findings
from drapetemplate.planning.model import Finding, Order, PanelPlan, Plan, Side, WindowPlan
from drapetemplate.planning.seam_findings import SEAM_CODES, seam_findings
from drapetemplate.planning.seam_places import EyeletRow

MOST_ADVISED = 100
"""Eyelets a panel up to which the counts beside are tried for advice: that takes six plans more."""
MOST_WORK = 10_000_000
"""The most that a job's panels' counts, each squared, may come to: what placing seams takes grows
so. A thousand windows of 100 eyelets, or two of 2,000, take up to a minute."""


def plan(job: Job, *, advise: bool = True) -> Plan:
    """Return the job's plan; JobError with every fault that leaves a window without one.

    To `advise`, what other counts would bring is worked out where it is worth saying.
    """
    windows: list[WindowPlan] = []
    faults: list[Fault] = []
    work = 0
    for window in job.windows:
        try:
            windows.append(_plan_window(window, job.units, advise=advise))
            work += windows[-1].panels[0].count ** 2
        except JobError as error:
            faults.extend(error.faults)
        if work > MOST_WORK:
            text = (
                "with this window the job has more large panels than this tool plans at once: "
                "make several jobs of it"
            )
            raise JobError([*faults, Fault(window.key, text)])
    if faults:
        raise JobError(faults)
    panels = [(window.quantity, panel) for window in windows for panel in window.panels]
    return Plan(
        windows=tuple(windows),
        eyelets=sum(quantity * panel.count for quantity, panel in panels),
        band=sum((quantity * panel.width for quantity, panel in panels), Fraction(0)),
        order=_order(job, windows),
        assumed=job.assumed,
    )


def _order(job: Job, windows: Sequence[WindowPlan]) -> Order:
    """Return what all windows take, each thing once."""
    alike = [
        (planned.window.eyelet, planned.panels[0], planned.quantity * len(planned.panels))
        for planned in windows
    ]
    return Order(
        cloth=cloth.cloth_orders((use for window in windows for use in window.cloth), job.units),
        eyelets=cloth.eyelet_orders((ring, n * panel.count) for ring, panel, n in alike),
        bands=cloth.band_orders((panel.band_height, n * panel.width) for _, panel, n in alike),
    )


def _plan_window(window: Window, units: Units, *, advise: bool) -> WindowPlan:
    """Return the plan of one window, whose panels differ only in their side.

    To `advise`, other counts are planned where one of them might mend what is wrong with seams.
    """
    ring = window.eyelet
    assumed = list(window.assumed)
    return_ = window.return_
    if return_ is None:
        return_ = eyelets.default_return(window.pole.projection, ring.outside)
        why = "" if window.pole.projection is None else ", so that it reaches the wall"
        assumed.append(Assumption("return", format_length(return_, units) + why))
    leading = return_ if window.panels == "single" else window.leading
    line = EyeletLine(
        width=_width(window, leading, return_),
        leading=leading,
        return_=return_,
        outside=ring.outside,
    )
    length = _length(window, units)
    count, reason = _count(window, line, length)
    if line.gap(count) <= 0:
        raise JobError([_no_room(window, line, count, units)])
    pitch = line.pitch(count)
    fullness, covers = _closed(window, (count - 1) * pitch, units)
    hang = None
    if ring.hung == "pole":
        hang = hanging.hang(window, pitch, fullness)
        if hang.assumed:
            assumed.append(Assumption("fullness", f"{hang.fullness:g} times, for the folds"))
    centers, gaps = line.centers(count), eyelets.gap_kinds(count, ring.hung)
    sides: tuple[Side, ...] = ("left", "right") if window.panels == "pair" else (window.panels,)
    row = EyeletRow(line.width, line.outside, centers, gaps)
    uses = _cloth_uses(window, row, length, window.quantity * len(sides), units)
    face = next((use.seams for use in uses if use.part == "face"), None)
    panel = PanelPlan(
        side=sides[0],
        width=line.width,
        count=count,
        reason=reason,
        outside=line.outside,
        opening=ring.opening,
        hole=ring.hole,
        leading=line.leading,
        return_=line.return_,
        gap=line.gap(count),
        pitch=pitch,
        centers=centers,
        gaps=gaps,
        band_height=window.band.height,
        above=window.band.above,
        stack=count * window.stack_each,
        hang=hang,
        weight=hanging.panel_weight(window, line.width, length, count, units),
        fullness=fullness,
        covers=covers,
        seams=None if face is None else face.seams,
        pieces=None if face is None else face.pieces,
    )
    findings = tuple(panel_findings(window, panel, units))
    others = None
    if advise and count <= MOST_ADVISED:
        others = partial(_uses_beside, window, panel, findings, units)
    return WindowPlan(
        window=window,
        length=length,
        panels=tuple(replace(panel, side=side) for side in sides),
        cloth=uses,
        findings=(*findings, *seam_findings(window, uses, count, others=others, units=units)),
        assumed=tuple(assumed),
    )


def _cloth_uses(
    window: Window, row: EyeletRow, length: Length | None, panels: int, units: Units
) -> tuple[ClothUse, ...]:
    """Return what the window's panels take of the face and of the lining, where it has them."""
    parts: tuple[tuple[Part, str, Cloth | None], ...] = (
        ("face", "fabric", window.fabric),
        ("lining", "lining", window.lining),
    )
    uses: list[ClothUse] = []
    faults: list[Fault] = []
    for part, table, goods in parts:
        if goods is None:
            continue
        key = f"{window.key}.{table}"
        try:
            uses.append(
                cloth.cloth_use(part, goods, row, length, panels=panels, key=key, units=units)
            )
        except JobError as error:
            faults += error.faults
    if faults:
        raise JobError(faults)
    return tuple(uses)


def _uses_beside(
    window: Window, panel: PanelPlan, findings: Sequence[Finding], units: Units
) -> dict[int, tuple[ClothUse, ...]]:
    """Return what the window takes of its cloths at each of the even counts beside its own.

    Only counts that bring no stop or warning of a kind that `findings` don't have already, but
    those of seams, which are what another count is looked for.
    """
    known = {finding.code for finding in findings} | SEAM_CODES
    uses = {}
    for count in panel.line.counts_beside(panel.count):
        if count == panel.count:
            continue
        try:
            other = _plan_window(replace(window, count=count), units, advise=False)
        except JobError:
            continue
        if all(finding.level == "note" or finding.code in known for finding in other.findings):
            uses[count] = other.cloth
    return uses


def _width(window: Window, leading: Length, return_: Length) -> Length:
    """Return the finished width by the one route the window gives; reading has checked for one."""
    if window.width is not None:
        return window.width
    face = window.fabric
    if window.widths is not None and face is not None and face.width is not None:
        width = eyelets.width_from_widths(window.widths, face.width, face.seam, face.side_hem)
        if width <= 0:
            text = (
                f"{float(window.widths):g} leave no cloth between seams and side hems: use more "
                "widths or wider cloth"
            )
            raise JobError([Fault(f"{window.key}.widths", text)])
        return width
    if window.covers is not None and window.fullness is not None:
        return eyelets.width_from_covers(
            window.covers, window.fullness, leading, return_, window.eyelet.outside
        )
    raise JobError([Fault(window.key, "give width, or covers and fullness, or widths")])


def _length(window: Window, units: Units) -> Length | None:
    """Return the finished length, given or from the pole; None on hooks, which hang lower."""
    pole, ring = window.pole, window.eyelet
    band = format_length(window.band.height, units)
    if window.length is not None:
        if window.length <= window.band.height:
            text = f"{format_length(window.length, units)} must be more than the band, {band} high"
            raise JobError([Fault(f"{window.key}.length", text)])
        return window.length
    if pole.top is None or ring.hung == "hooks":
        return None
    length = eyelets.length_from_pole(
        pole.top, window.band.above, ring.outside, ring.opening, pole.off_floor
    )
    if length <= window.band.height:
        text = (
            f"{format_length(pole.top, units)} is too near the floor: it leaves a length of "
            f"{format_length(length, units)}, which must be more than the band, {band} high"
        )
        raise JobError([Fault(f"{window.key}.pole.top", text)])
    return length


def _count(window: Window, line: EyeletLine, length: Length | None) -> tuple[int, str]:
    """Return the count and its reason: asked for, or chosen."""
    if window.count is not None:
        return window.count, "asked for"
    ring, pole = window.eyelet, window.pole
    room = None
    if pole.projection is not None and ring.hung == "pole":
        room = pole.projection - pole.wall_clearance
    target = eyelets.target_gap(ring.outside, ring.opening, ring.hung, length, window.gap)
    choice = eyelets.auto_count(line, target, room)
    # Where not even two fit, two is the count that the refusal speaks of.
    return choice or (2, "the fewest")


def _no_room(window: Window, line: EyeletLine, count: int, units: Units) -> Fault:
    """Return the refusal of a panel too narrow for its eyelets: what fits, or what two need."""
    most = line.most_that_fit
    ends = line.leading + line.return_
    need = rounded_up(ends + 2 * line.outside + LEAST_GAP, units)
    text = (
        f"{count} eyelets of {format_length(line.outside, units)} don't fit across "
        f"{format_length(line.width, units)} with {format_length(ends, units)} kept at "
        f"the ends: "
    ) + (
        f"up to {most} fit" if most else f"two need a panel of {format_length(need, units)} or more"
    )
    return Fault(f"{window.key}.{'count' if window.count is not None else 'width'}", text)


def _closed(window: Window, span: Length, units: Units) -> tuple[Fraction | None, Length | None]:
    """Return fullness and covers of the closed panel, each from the other; None where unknown.

    `span` is the flat cloth between the first and the last centre.
    """
    fullness, covers = window.fullness, window.covers
    if fullness is None and covers is not None:
        if covers > span:
            text = (
                f"{format_length(span, units)} of cloth between the end eyelets can't cover "
                f"{format_length(covers, units)} of pole: a wider panel, or less to cover"
            )
            raise JobError([Fault(f"{window.key}.covers", text)])
        fullness = span / covers
    elif covers is None and fullness is not None:
        covers = span / fullness
    return fullness, covers
