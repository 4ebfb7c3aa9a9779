"""Every picture of a window's panel, with its caption: from above, from the front, flat."""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.job.model import Job
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.ticket.from_above import from_above
from drapetemplate.ticket.panel_pictures import (
    MOST_HEIGHT,
    closed_width,
    flat_strip,
    from_front,
    shown_length,
)
from drapetemplate.ticket.picture import SCALES, Picture, scale_for
from drapetemplate.wording import Wording, times


def captions(job: Job, panel: PanelPlan, hang: Hang) -> tuple[str, str]:
    """What the closed and the stacked view show, in words: depth, room to the wall, length."""
    say = Wording(job.units)

    def free(depth: Fraction) -> str:
        room = hang.free(depth)
        if room is None:
            return "wall not known"
        free = say.free(room, "{} free to the wall", "none free to the wall ({} past it)")
        return f"{free} with {say(hang.clearance)} asked for"

    guess = " (assumed)" if hang.assumed else ""
    span = Fraction(hang.closed.pole_per_gap) * (panel.count - 1)
    closed = (
        f"Closed at {times(hang.fullness)}{guess}: {say(span)} of pole, folds "
        f"{say(hang.depth_closed)} deep to either side, {free(hang.depth_closed)}"
    )
    stacked = (
        f"Stacked: {say(panel.stack)} of pole, folds up to {say(hang.depth_stacked)} deep, "
        f"{free(hang.depth_stacked)}"
    )
    return closed, stacked


def window_pictures(
    job: Job, planned: WindowPlan, typeface: Typeface, room: float
) -> list[tuple[str, Picture]]:
    """Every picture of a window's first panel with its caption, each no wider than `room` mm.

    The two views from above share one scale.
    """
    panel = planned.panels[0]
    flat = flat_strip(job, panel, typeface, scale_for(panel.width, room))
    seams = ", seams dotted" if panel.seams else ""
    strip = (f"The heading laid flat, seen from the face{seams}", flat)
    hang = panel.hang
    if hang is None:
        return [strip]
    side = {"left": "left panel", "right": "right panel", "single": "panel"}[panel.side]
    closed_across = closed_width(panel, hang)
    widest = scale_for(closed_across, room - 14)
    for above in (widest, *(scale for scale in SCALES if scale > widest)):
        views = [
            from_above(job, planned.window, panel, hang, typeface, above, stacked=stacked)
            for stacked in (False, True)
        ]
        # Few eyelets far apart hang deeper than they are wide.
        if max(view.height for view in views) <= MOST_HEIGHT:
            break
    front = max(
        scale_for(closed_across, room), scale_for(shown_length(planned, panel, hang), MOST_HEIGHT)
    )
    closed, stacked = captions(job, panel, hang)
    if panel.seams:
        closed += ". Small ring: a seam"
    unknown = ", its length not known and not to scale" if planned.length is None else ""
    return [
        (
            f"The {side} from above, wall at the top. {closed}",
            views[0],
        ),
        (stacked, views[1]),
        (f"The {side} from the front, closed{unknown}", from_front(planned, panel, hang, front)),
        strip,
    ]
