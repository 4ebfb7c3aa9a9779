"""Every picture of a window's panel, with its caption: from above, from the front, flat."""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.job.model import Job
from drapetemplate.measures import Length
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.ticket.flow import SMALL
from drapetemplate.ticket.from_above import LEAST_STEPS, SCREEN_STEPS, from_above
from drapetemplate.ticket.panel_pictures import (
    MOST_HEIGHT,
    closed_width,
    flat_strip,
    from_front,
    shown_length,
)
from drapetemplate.ticket.picture import SCALES, Picture, scale_for
from drapetemplate.ticket.sized_picture import BELOW, BESIDE_TURNED, beside, with_sizes
from drapetemplate.wording import Wording, times

FRONT_ON_SCREEN = 78.0
"""Millimetres that a view from the front may be wide on a page, which has others beside it."""
ABOVE_ON_SCREEN = 41.0
"""And one from above high: a page keeps as much room for it whatever the fold, so that nothing
under it moves."""


def covered(panel: PanelPlan, hang: Hang) -> Length:
    """The pole between the closed panel's first and last eyelet centre."""
    if panel.covers is not None:
        return panel.covers
    return panel.pitch * (panel.count - 1) / Fraction(hang.fullness)


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
    span = covered(panel, hang)
    closed = (
        f"Closed, fullness {times(hang.fullness)}{guess} first eyelet to last: {say.hung(span)} of "
        f"pole covered, folds {say.deep(hang.depth_closed)} from pole's centre, "
        f"{free(hang.depth_closed)}"
    )
    stacked = (
        f"Open: {say(panel.stack)} of pole, folds up to {say.deep(hang.depth_stacked)} "
        f"from pole's centre, {free(hang.depth_stacked)}"
    )
    return closed, stacked


def window_pictures(
    job: Job,
    planned: WindowPlan,
    typeface: Typeface,
    room: float,
    most: float = MOST_HEIGHT,
    *,
    on_screen: bool = False,
) -> list[tuple[str, Picture]]:
    """Every picture of a window's first panel with its caption, each no wider than `room` mm.

    Those of the panel on its pole are no higher than `most`. `on_screen` the flat heading shows
    too where it turns back to the wall, and names what it shows; the view from the front leaves
    room beside it for the others; and curves have fewer steps.

    The two views from above share one scale.
    """
    panel, say = planned.panels[0], Wording(job.units)
    deepest = min(most, ABOVE_ON_SCREEN) if on_screen else most
    flat = flat_strip(job, panel, typeface, scale_for(panel.width, room), named=on_screen)
    flat = with_sizes(flat, typeface, (0.0, flat.width, f"finished width {say(panel.width)}"))
    seams = ", seams dotted" if panel.seams else ""
    seams += ", lozenges at motifs' centres" if panel.motifs else ""
    turns = ", dashed where it turns back to the wall" if on_screen and panel.hang else ""
    whose, other = _whose(planned)
    strip = (f"{whose} laid flat, seen from the face{seams}{turns}{other}", flat)
    hang = panel.hang
    if hang is None:
        return [strip]
    side = {"left": "left panel", "right": "right panel", "single": "panel"}[panel.side]
    pair = len(planned.panels) > 1
    mirrored = f"; the {planned.panels[1].side} panel is its mirror image" if pair else ""
    closed_across = closed_width(panel, hang)
    widest = scale_for(closed_across, room - 14)
    for above in (widest, *(scale for scale in SCALES if scale > widest)):
        views = [
            from_above(
                job,
                planned.window,
                panel,
                hang,
                typeface,
                above,
                stacked=stacked,
                least_steps=SCREEN_STEPS if on_screen else LEAST_STEPS,
            )
            for stacked in (False, True)
        ]
        # Few eyelets far apart hang deeper than they are wide.
        if max(view.height for view in (views[:1] if on_screen else views)) <= deepest:
            break
    box = (min(room, FRONT_ON_SCREEN) if on_screen else room, most)
    front = _front(job, planned, panel, hang, typeface, box, turned=on_screen)
    closed, stacked = captions(job, panel, hang)
    unknown = ", its length not known and not to scale" if planned.length is None else ""
    pole = "; grey along the rings: the pole" if planned.window.pole.diameter else ""
    seam = "; small ring: a seam" if panel.seams else ""
    back = f" ({job.paper.letters[1]})" if panel.gaps else ""
    return [
        (f"{closed}. The {side} from above, wall at the top{pole}{seam}{mirrored}", views[0]),
        (stacked, views[1]),
        (
            f"The {side} from the front, closed; grey: the folds behind the pole{back}{unknown}",
            front,
        ),
        strip,
    ]


def _whose(planned: WindowPlan) -> tuple[str, str]:
    """Whose heading is drawn, a window's first panel's; and of a pair, what the other's is."""
    first, *others = planned.panels
    if first.side == "single":
        return "The heading", ""
    # Holes are mirrored whatever the cloth; a motif may have its seams elsewhere.
    mirrored = [other for other in others if (other.seams or ()) == (first.seams or ())]
    other = f"; the {mirrored[0].side} one's is its mirror image" if mirrored else ""
    return f"The {first.side} panel's heading", other


def _front(
    job: Job,
    planned: WindowPlan,
    panel: PanelPlan,
    hang: Hang,
    typeface: Typeface,
    box: tuple[float, float],
    *,
    turned: bool,
) -> Picture:
    """The closed panel from the front with its sizes, no wider or higher than `box`, in mm.

    Its length is written along its line if `turned`, and if it is long enough for that.
    """
    room, most = box
    say = Wording(job.units)
    span = covered(panel, hang)
    covers = f"pole covered {say.hung(span)}, first eyelet to last"
    long = "" if planned.length is None else f"finished length {say(planned.length)}"
    across, high = closed_width(panel, hang), shown_length(planned, panel, hang)
    by_height = scale_for(high, most - BELOW)

    def scale_beside(taken: float) -> int:
        return max(scale_for(across, room - taken), by_height)

    scale = scale_beside(BESIDE_TURNED)
    turned = turned and high / scale >= typeface.width(long, SMALL)
    if not turned:
        scale = scale_beside(beside(long, typeface) if long else 0.0)
    bare = from_front(planned, panel, hang, scale)
    left = hang.closed.outside / 2 / scale
    return with_sizes(
        bare,
        typeface,
        (left, left + float(span) / scale, covers),
        (0.0, bare.height, long) if long else None,
        turned=turned,
    )
