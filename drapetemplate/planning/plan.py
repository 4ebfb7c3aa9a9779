"""A `Job` in, a `Plan` out: every figure of every panel, and what is wrong while it is cheap.

Positions run from the leading edge, or from the left edge of a single panel. Figures that
need what the job doesn't say are None.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from itertools import pairwise

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Assumption, Cloth, Job, Window
from drapetemplate.measures import Length, Units, format_length
from drapetemplate.planning import band, cloth, eyelets, hanging
from drapetemplate.planning.advice import Advice
from drapetemplate.planning.band import BandUse
from drapetemplate.planning.cloth import ClothUse, Part
from drapetemplate.planning.drop_sharing import Panels
from drapetemplate.planning.findings import panel_findings
from drapetemplate.planning.model import Order, PanelPlan, Plan, Side, WindowPlan
from drapetemplate.planning.pattern_findings import pattern_findings
from drapetemplate.planning.pole_findings import pole_findings
from drapetemplate.planning.pole_for_glass import on_pole_for_glass
from drapetemplate.planning.pole_stand import pole_stand
from drapetemplate.planning.seam_findings import seam_findings
from drapetemplate.planning.seam_places import FLANGE_CLEARANCE, EyeletRow
from drapetemplate.planning.seams import SeamPlan
from drapetemplate.planning.set_out import set_out

MOST_ADVISED = 100
"""Eyelets a panel up to which remedies are tried for advice: six plans more, a few now and then."""
MOST_WORK = 10_000_000
"""The most that a job's windows may come to, each taken as its panel's eyelets squared, since so
grows the time it takes to place seams. A thousand windows of 100 eyelets, or two of 2,000, don't
pass it, and take up to a minute."""


def plan(job: Job, *, advise: bool = True) -> Plan:
    """Return the job's plan; JobError with every fault that leaves a window without one.

    To `advise`, what would mend a finding is worked out, and what else it would bring.
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
        bands=band.band_orders(map(band_use, range(len(windows)), windows), job.units),
    )


def band_use(number: int, planned: WindowPlan) -> BandUse:
    """Return what the panels of a window, so many from the first, take of their band."""
    panel, window = planned.panels[0], planned.window
    return BandUse(
        window=number,
        key=window.key,
        panels=planned.quantity * len(planned.panels),
        height=panel.band_height,
        roll=window.band.roll,
        width=panel.width,
        outside=panel.outside,
        centers=panel.centers,
    )


def _plan_window(window: Window, units: Units, *, advise: bool) -> WindowPlan:
    """Return the plan of one window, whose panels differ only in their side.

    To `advise`, what would mend a finding is planned whole before it is named.
    """
    said, window = window, on_pole_for_glass(window, units)
    ring = window.eyelet
    assumed = list(window.assumed)
    setting = set_out(window, units)
    line, count, length = setting.line, setting.count, setting.length
    if window.return_ is None:
        why = "" if window.pole.projection is None else ", so that it reaches the wall"
        assumed.append(Assumption("return", format_length(line.return_, units) + why))
    pitch = line.pitch(count)
    hang = None
    if ring.hung == "pole":
        hang = hanging.hang(window, pitch, setting.fullness)
        if hang.assumed:
            assumed.append(Assumption("fullness", f"{hang.fullness:g} times, for the folds"))
    centers, gaps = line.centers(count), eyelets.gap_kinds(count, ring.hung)
    sides: tuple[Side, ...] = ("left", "right") if window.panels == "pair" else (window.panels,)
    on_folds = setting.pattern is not None and setting.pattern.half_repeats is not None
    row = EyeletRow(
        line.width,
        line.outside,
        centers,
        gaps,
        clearance=FLANGE_CLEARANCE.of(units),
        motif_at=(centers[0] + centers[1]) / 2 if on_folds else None,
    )
    all_panels = Panels(
        window.quantity * len(sides),
        len(sides) == 2,
        window.extra_seams,
        left=window.panels == "left",
    )
    uses = _cloth_uses(window, row, length, all_panels, units)
    face = next((use.seams for use in uses if use.part == "face"), None)
    panel = PanelPlan(
        side=sides[0],
        width=line.width,
        count=count,
        reason=setting.reason,
        outside=line.outside,
        opening=ring.opening,
        hole=ring.hole,
        leading=line.leading,
        return_=line.return_,
        gap=line.gap(count),
        least_gap=line.least_gap,
        pitch=pitch,
        centers=centers,
        gaps=gaps,
        band_height=window.band.height,
        above=window.band.above,
        stack=count * window.stack_each,
        hang=hang,
        weight=hanging.panel_weight(window, line.width, length, count),
        fullness=setting.fullness,
        covers=setting.covers,
        seams=None if face is None else face.seams,
        pieces=None if face is None else face.pieces,
    )
    stand = pole_stand(window, setting, hang=hang, weight=panel.weight, units=units)
    if stand.worked_out and stand.length is not None:
        why = "the glass and what the open panels take"
        assumed.append(Assumption("pole.length", f"{format_length(stand.length, units)}, {why}"))
    findings = (
        *panel_findings(window, panel, units),
        *pole_findings(window, panel, stand, units),
        *seam_findings(window, uses, panel, units),
        *pattern_findings(window, setting.pattern, panel, uses, units),
    )
    if advise and findings and count <= MOST_ADVISED:
        advice = Advice(said, findings, partial(_plan_window, units=units, advise=False))
        findings = (
            *panel_findings(window, panel, units, advice),
            *pole_findings(window, panel, stand, units, advice),
            *seam_findings(window, uses, panel, units, advice),
            *pattern_findings(window, setting.pattern, panel, uses, units, advice),
        )
    return WindowPlan(
        window=window,
        length=length,
        panels=tuple(
            replace(panel, side=side, motifs=_motifs(panel, side, face)) for side in sides
        ),
        stand=stand,
        cloth=uses,
        findings=findings,
        assumed=tuple(assumed),
        pattern=setting.pattern,
    )


def _motifs(panel: PanelPlan, side: Side, seams: SeamPlan | None) -> tuple[Length, ...] | None:
    """Return where the motif's centre is in every front fold; None where no motif is placed."""
    if seams is None or seams.motif_off is None:
        return None
    off = seams.motif_off.left if side == "left" else seams.motif_off.near
    return tuple(
        (before + after) / 2 + off
        for (before, after), kind in zip(pairwise(panel.centers), panel.gaps, strict=True)
        if kind == "front"
    )


def _cloth_uses(
    window: Window, row: EyeletRow, length: Length | None, panels: Panels, units: Units
) -> tuple[ClothUse, ...]:
    """Return what the window's panels take of the face and of the lining, where it has them."""
    parts: tuple[tuple[Part, str, Cloth | None], ...] = (
        ("face", "fabric", window.fabric),
        ("lining", "lining", window.lining),
    )
    uses: list[ClothUse] = []
    faults: list[Fault] = []
    below = window.motif_below
    if below is not None and length is not None and below >= length:
        text = f"{format_length(below, units)} must be less than the panel's length, "
        faults.append(Fault(f"{window.key}.motif_below", text + format_length(length, units)))
    for part, table, goods in parts:
        if goods is None:
            continue
        key = f"{window.key}.{table}"
        try:
            uses.append(
                cloth.cloth_use(
                    part,
                    goods,
                    row,
                    length,
                    panels=panels,
                    key=key,
                    units=units,
                    motif_below=window.motif_below if part == "face" else None,
                )
            )
        except JobError as error:
            faults += error.faults
    if faults:
        raise JobError(faults)
    return tuple(uses)
