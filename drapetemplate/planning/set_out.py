"""Where a window's eyelets stand on its panels: its width, return, count and fullness settled.

They hang on one another. A return that isn't given is to reach the wall; how far the end ring
reaches toward it is a matter of the ring's angle, so of count and fullness, which the return
shortens the cloth for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, radians, sin

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.defaults import HALF_THE_POLE, RETURN_WITHOUT_PROJECTION, WHOLE_POLE
from drapetemplate.job.model import Window
from drapetemplate.measures import INCH, MM, Length, Units, format_length, rounded_up
from drapetemplate.planning import eyelets, folds, rings
from drapetemplate.planning.eyelets import LEAST_GAP, LEAST_RETURN, EyeletLine
from drapetemplate.planning.pattern_folds import (
    NEAREST,
    FoldPattern,
    closes,
    longest_pitch,
    on_folds,
)

UNKNOWN_ANGLE = 45.0
"""Degrees of the end ring to the pole where nothing says how it stands: half way to square."""
ASKED_FOR = "asked for"
"""Why a window has as many eyelets as its job says."""
NEEDNT_CLOSE = "give covers for a panel that isn't to close"
"""What to do where a panel is too flat for what `pole.length` would have it cover."""
MOST_TRIED = 200
"""Returns that are tried one step apart, which are all that may do for an eyelet of up to 25 in or
400 mm; for a larger one the steps grow."""
_HAIR = 1e-9  # of the ring's sine: far above a fold's last digits, far below what paper shows


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How a panel's eyelets are set out: their line and how many, and `reason` for so many.

    `fullness` and `covers` are the closed panel's, None where unknown; `length` is finished.
    `pattern` is what became of one that is wanted on the folds, None where none is.
    """

    line: EyeletLine
    count: int
    reason: str
    fullness: Fraction | None
    covers: Length | None
    length: Length | None
    pattern: FoldPattern | None = None


def set_out(window: Window, units: Units) -> Setting:
    """Return how the window's eyelets are set out; a return it doesn't give reaches the wall.

    Such a return is the least of whole 1/16 in (1 mm where `units` are metric) that reaches at
    the ring angle it brings itself, and `LEAST_RETURN` or more. Where nothing says how full the
    panel hangs the ring is taken to stand at `UNKNOWN_ANGLE`, and so it is on hooks, on which
    nothing holds a ring at an angle. Without a projection it is the customary one.
    JobError where the panel can't be made so.
    """
    length = _length(window, units)
    if window.return_ is not None:
        return _with_return(window, window.return_, length, units)
    if window.pole.projection is None:
        return _with_return(window, RETURN_WITHOUT_PROJECTION.of(units), length, units)
    return reaching_return(window, LEAST_RETURN.of(units), units)


def reaching_return(window: Window, least: Length, units: Units) -> Setting:
    """Return how the eyelets are set out with the first return from `least` up that reaches.

    The window's own return is set aside. Each is tried: count and fold are worked out with it,
    since a longer one leaves less cloth, so may bring another count and another angle.
    """
    length = _length(window, units)
    step = INCH / 16 if units == "in" else MM

    def up(return_: Length) -> Length:
        return ceil(max(return_, least) / step) * step

    most = up(return_to_wall(window, 0))
    if not turns_by_fold(window):
        return _with_return(window, up(return_to_wall(window, UNKNOWN_ANGLE)), length, units)
    return_ = up(return_to_wall(window, 90))
    stride = step * max(1, ceil((most - return_) / step / MOST_TRIED))
    while return_ < most:
        try:
            setting = _with_return(window, return_, length, units)
            reaching = return_to_wall(window, _ring_angle(setting))
        except (JobError, ValueError):  # no panel, or no fold, with so short a return
            pass
        else:
            if return_ >= reaching:
                return setting
        return_ += stride
    return _with_return(window, most, length, units)  # reaches at any angle


def turns_by_fold(window: Window) -> bool:
    """Return whether the end ring's angle follows from how full the window's panel hangs."""
    known = window.fullness is not None or window.covers is not None
    return known and window.eyelet.hung == "pole"


def return_to_wall(window: Window, angle_deg: float) -> Length:
    """Return the return that just reaches the wall from an end ring at so many degrees to the pole.

    The pole's projection, which must be known, less what half the ring spans toward the wall:
    p - G/2 * sin(angle), too long by a hair rather than too short. It may come out negative.
    """
    projection = window.pole.projection
    if projection is None:
        raise ValueError("projection is not known")
    rise = Fraction(max(sin(radians(angle_deg)) - _HAIR, 0))
    return projection - window.eyelet.outside / 2 * rise


def covers_from(window: Window) -> str:
    """Return what a `covers` that is assumed was worked out from: "half of pole.length"."""
    return (HALF_THE_POLE if window.panels == "pair" else WHOLE_POLE).note


def _ring_angle(setting: Setting) -> float:
    """Return the degrees of a ring to the pole, closed; ValueError where folds would touch."""
    line, fullness = setting.line, float(setting.fullness or 0)
    return folds.solve(float(line.pitch(setting.count)), float(line.outside), fullness).angle_deg


def _with_return(window: Window, return_: Length, length: Length | None, units: Units) -> Setting:
    """Return how the eyelets are set out with this return; JobError where they don't fit."""
    leading = return_ if window.panels == "single" else window.leading
    line = EyeletLine(
        width=_width(window, leading, return_),
        leading=leading,
        return_=return_,
        outside=window.eyelet.outside,
        least_gap=LEAST_GAP.of(units),
    )
    setting = _as_asked(window, line, length, units)
    face = window.fabric
    if window.pattern != "folds" or face is None or face.repeat_across is None:
        return setting
    return _on_its_folds(window, setting, face.repeat_across, units)


def _as_asked(window: Window, line: EyeletLine, length: Length | None, units: Units) -> Setting:
    """Return how the eyelets are set out on just this line; JobError where they don't fit."""
    count, reason = _count(window, line, length, units)
    if line.gap(count) <= 0:
        raise JobError([_no_room(window, line, count, units)])
    fullness, covers = _closed(window, (count - 1) * line.pitch(count), units)
    return Setting(
        line=line, count=count, reason=reason, fullness=fullness, covers=covers, length=length
    )


def _on_its_folds(window: Window, asked: Setting, repeat: Length, units: Units) -> Setting:
    """Return a setting changed so that every front fold shows the same place of the pattern.

    What the panel covers stays, so its fullness changes with its width. Where no width and count do
    it is as asked, and its pattern says so.
    """
    line, covers = asked.line, asked.covers
    aim, _ = _target(window, asked.length, units)
    found = on_folds(
        line,
        window.count,
        repeat,
        aim=aim,
        covers=covers,
        longest=longest_pitch(line.outside, aim, _wall_room(window), window.count),
        turn=_turn_to_close(window, asked),
    )
    pattern = FoldPattern(
        repeat=repeat,
        half_repeats=None if found is None else found.half_repeats,
        asked_width=line.width,
        asked_fullness=asked.fullness,
    )
    if found is None:
        return replace(asked, pattern=pattern)
    return replace(
        asked,
        line=found.line,
        count=found.count,
        reason=asked.reason if window.count is not None else NEAREST,
        fullness=None if covers is None else found.line.pitch(2) / covers,
        pattern=pattern,
    )


def _turn_to_close(window: Window, asked: Setting) -> float | None:
    """Return how far rings turn where a panel as asked for closes by it; None where nothing says.

    Where it doesn't close, no width that is as asked for can be held to that.
    """
    ring, diameter, fullness = window.eyelet, window.pole.diameter, asked.fullness
    if diameter is None or fullness is None:
        return None
    turn = rings.largest_turn(float(ring.opening), float(ring.thickness), float(diameter))
    pitch = asked.line.pitch(asked.count)
    return turn if closes(pitch, ring.outside, fullness, turn) else None


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


def _count(
    window: Window, line: EyeletLine, length: Length | None, units: Units
) -> tuple[int, str]:
    """Return the count and its reason: asked for, or chosen."""
    if window.count is not None:
        return window.count, ASKED_FOR
    choice = eyelets.auto_count(line, _target(window, length, units), _wall_room(window))
    # Where not even two fit, two is the count that the refusal speaks of.
    return choice or (2, "the fewest")


def _wall_room(window: Window) -> Length | None:
    """Return how deep a fold may be that keeps off the wall; None where nothing says, or folds."""
    pole = window.pole
    if pole.projection is None or window.eyelet.hung == "hooks":
        return None
    return pole.projection - pole.wall_clearance


def _target(window: Window, length: Length | None, units: Units) -> tuple[Length, str]:
    """Return the gap that the window's eyelets aim at, and why."""
    ring = window.eyelet
    return eyelets.target_gap(ring.outside, ring.opening, ring.hung, length, window.gap, units)


def _no_room(window: Window, line: EyeletLine, count: int, units: Units) -> Fault:
    """Return the refusal of a panel too narrow for its eyelets: what fits, or what two need."""
    most = line.most_that_fit
    ends = line.leading + line.return_
    need = rounded_up(ends + 2 * line.outside + line.least_gap, units)
    text = (
        f"{count} eyelets of {format_length(line.outside, units)} don't fit across "
        f"{format_length(line.width, units)} with {format_length(ends, units)} kept at "
        f"the ends: "
    ) + (
        f"up to {most} fit well"
        if most
        else f"two need a panel of {format_length(need, units)} or more"
    )
    return Fault(f"{window.key}.{'count' if window.count is not None else 'width'}", text)


def _closed(window: Window, span: Length, units: Units) -> tuple[Fraction | None, Length | None]:
    """Return fullness and covers of the closed panel, each from the other; None where unknown.

    `span` is the flat cloth between the first and the last centre.
    """
    fullness, covers = window.fullness, window.covers
    if fullness is None and covers is not None:
        if covers > span:
            share, mend = "", "less to cover"
            if window.covers_assumed:
                share, mend = f", {covers_from(window)}", NEEDNT_CLOSE
            text = (
                f"{format_length(span, units)} of cloth between the end eyelets can't cover "
                f"{format_length(covers, units)} of pole{share}: a wider panel, or {mend}"
            )
            raise JobError([Fault(f"{window.key}.covers", text)])
        fullness = span / covers
    elif covers is None and fullness is not None:
        covers = span / fullness
    return fullness, covers
