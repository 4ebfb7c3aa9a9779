"""Which value counts for each window, its own over the file's, and which can't go together.

Keys are named as in a job file, "eyelet.hole" or "leading". A fault names the window's key where
the window gives it itself, else the file's, so that each wrong value is a fault once.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from drapetemplate.errors import Fault
from drapetemplate.job.defaults import BAND_OVER_EYELET, OFF_FLOOR, SEAM, SIDE_HEM, WALL_CLEARANCE
from drapetemplate.job.merge import Merged
from drapetemplate.job.tables import FabricTable
from drapetemplate.measures import INCH, Length, Units, format_length

MIRRORED_WITHIN = INCH / 8
"""What a motif may be off, as measured from one selvage and from the other."""


def contradictions(windows: list[Merged], units: Units) -> list[Fault]:
    """Return what can't be as the windows ask, once each; measures in `units`."""
    checks = (
        *(_eyelet, _band, _pole, _brackets, _glass, _cloth, _width, _widths),
        *(_pattern, _motif, _motif_below),
    )
    faults = (fault for window in windows for check in checks for fault in check(window, units))
    return list(dict.fromkeys(faults))


def _eyelet(merged: Merged, units: Units) -> Iterator[Fault]:
    eyelet = merged.eyelet
    if eyelet.outside is None and merged.readable("eyelet.outside"):
        yield Fault("eyelet.outside", 'missing: give the width over the flange, such as "2 5/8"')
    if eyelet.opening is None and merged.readable("eyelet.opening"):
        yield Fault("eyelet.opening", 'missing: give the clear width inside, such as "1 9/16"')
    for key, size in (("opening", eyelet.opening), ("hole", eyelet.hole)):
        if eyelet.outside and size and size >= eyelet.outside:
            yield Fault(
                merged.path(f"eyelet.{key}", "eyelet.outside"),
                f"{format_length(size, units)} must be less than eyelet.outside, "
                f"{format_length(eyelet.outside, units)}",
            )


def _band(merged: Merged, units: Units) -> Iterator[Fault]:
    outside, band = merged.eyelet.outside, merged.band
    if outside is None or not merged.readable("band.height", "band.above"):
        return
    height = band.height or outside + BAND_OVER_EYELET.of(units)
    above = band.above or Length(0)
    if above + outside > height:
        assumed = "" if band.height else " unless band.height says more"
        yield Fault(
            merged.path("band.above" if band.above else "band.height", "eyelet.outside"),
            f"{format_length(above, units)} above an eyelet of {format_length(outside, units)} "
            f"doesn't fit in a band of {format_length(height, units)}{assumed}: give a higher "
            "band, or less above",
        )


def _pole(merged: Merged, units: Units) -> Iterator[Fault]:
    pole, opening = merged.pole, merged.eyelet.opening
    on_pole = merged.eyelet.hung != "hooks" and merged.readable("eyelet.hung")
    if on_pole and pole.diameter and opening and pole.diameter >= opening:
        yield Fault(
            merged.path("pole.diameter", "eyelet.opening"),
            f"a pole of {format_length(pole.diameter, units)} doesn't pass an opening of "
            f"{format_length(opening, units)}: take a thinner pole or a wider eyelet",
        )
    clearance = WALL_CLEARANCE.in_units(units).unless_given(pole.wall_clearance)
    readable = merged.readable("pole.wall_clearance")
    if readable and pole.projection and pole.projection <= clearance:
        yield Fault(
            merged.path("pole.projection", "pole.wall_clearance"),
            f"{format_length(pole.projection, units)} from wall to pole centre must be more than "
            f"pole.wall_clearance, {format_length(clearance, units)}",
        )
    off_floor = OFF_FLOOR.in_units(units).unless_given(pole.off_floor)
    hangs = merged.window.length is None and merged.readable("length", "pole.off_floor")
    if hangs and pole.top and pole.top <= off_floor:
        yield Fault(
            merged.path("pole.top", "pole.off_floor"),
            f"{format_length(pole.top, units)} from floor to pole must be more than "
            f"pole.off_floor, {format_length(off_floor, units)}",
        )


def _brackets(merged: Merged, units: Units) -> Iterator[Fault]:
    supports, span = merged.pole.supports, merged.pole.span
    if supports is not None and span is not None:
        yield Fault(
            merged.path("pole.span", "pole.supports"),
            f"{format_length(span, units)} beside pole.supports, {supports}, which settles how "
            "many brackets there are: give one of the two",
        )


def _glass(merged: Merged, units: Units) -> Iterator[Fault]:
    glass, length = merged.window.glass, merged.pole.length
    if glass is not None and length is not None and glass > length:
        yield Fault(
            merged.path("glass", "pole.length"),
            f"{format_length(glass, units)} is more than pole.length, "
            f"{format_length(length, units)}: a pole reaches from one side of the glass to the "
            "other",
        )


def _cloth(merged: Merged, units: Units) -> Iterator[Fault]:
    for name, cloth in (("fabric", merged.fabric), ("lining", merged.lining)):
        if cloth is None or cloth.width is None or not merged.readable(f"{name}.seam"):
            continue
        seam = SEAM.in_units(units).unless_given(cloth.seam)
        if 2 * seam >= cloth.width:
            yield Fault(
                merged.path(f"{name}.seam", f"{name}.width"),
                f"{format_length(seam, units)} on both sides leaves nothing of a width of "
                f"{format_length(cloth.width, units)}: give a narrower seam, or wider cloth",
            )


def _width(merged: Merged, units: Units) -> Iterator[Fault]:
    window = merged.window
    if window.panels == "single" and window.leading is not None:
        yield Fault(
            merged.path("leading"),
            f"{format_length(window.leading, units)} at the leading edge, which a single panel "
            "hasn't: it has a return at both ends, so give return instead",
        )
    if not merged.readable("width", "widths", "covers", "fullness", "glass", "pole.length"):
        return
    settled = window.width is not None or window.widths is not None
    if window.width is not None and window.widths is not None:
        text = f"{float(window.widths):g} beside a width of {format_length(window.width, units)}"
        yield Fault(merged.path("widths"), f"{text}, which settles it: give one of the two")
    elif settled and window.covers is not None and window.fullness is not None:
        key = "width" if window.widths is None else "widths"
        text = (
            f"covers {format_length(window.covers, units)} and fullness {float(window.fullness):g}"
            f" settle the panel's width too: give two of the three, {key}, covers and fullness"
        )
        yield Fault(merged.path(key), text)
    elif settled or (window.covers is not None and window.fullness is not None):
        return
    elif window.covers is not None:
        text = f"{format_length(window.covers, units)} settles the width only with fullness"
        yield Fault(merged.path("covers"), f"{text}: add fullness, such as fullness = 2")
    elif window.fullness is None:
        yield Fault(merged.key, "no width: give width, or covers and fullness, or widths")
    elif merged.pole.length is None and window.glass is None:
        yield Fault(
            merged.path("fullness"),
            f"{float(window.fullness):g} settles the width only with covers, with length in [pole] "
            "or with glass: add one of them",
        )


def _widths(merged: Merged, units: Units) -> Iterator[Fault]:
    widths = merged.window.widths
    keys = ("fabric.width", "fabric.railroad", "fabric.seam", "fabric.side_hem")
    if widths is None or not merged.readable(*keys):
        return
    cloth = merged.fabric or FabricTable()
    if cloth.railroad:
        yield Fault(
            merged.path("widths"),
            f"{float(widths):g} of a railroaded cloth, which has no widths: give width, or "
            "covers and fullness",
        )
    elif cloth.width is None:
        text = f"{float(widths):g} of a cloth whose width isn't given: give width in [fabric]"
        yield Fault(merged.path("widths"), text)
    else:
        seam = SEAM.in_units(units).unless_given(cloth.seam)
        hem = SIDE_HEM.in_units(units).unless_given(cloth.side_hem)
        if widths * cloth.width - 2 * seam * (ceil(widths) - 1) <= 2 * hem:
            yield Fault(
                merged.path("widths"),
                f"{float(widths):g} of {format_length(cloth.width, units)} leave nothing between "
                f"hems of {format_length(hem, units)}: give more widths, or narrower hems",
            )


def _pattern(merged: Merged, _units: Units) -> Iterator[Fault]:
    """A pattern that is to be alike on the folds needs a repeat across, and folds."""
    keys = ("pattern", "eyelet.hung", "fabric.repeat_across", "fabric.railroad", "fabric")
    if merged.window.pattern != "folds" or not merged.readable(*keys):
        return
    cloth = merged.fabric or FabricTable()
    where = merged.path("pattern")
    if merged.eyelet.hung == "hooks":
        text = "folds on hooks, where no gap is sure to be in front: give seams, or hung = pole"
        yield Fault(where, text)
    if cloth.railroad:
        text = "folds of a railroaded cloth, whose repeat across runs down the panel: give seams"
        yield Fault(where, text)
    elif cloth.repeat_across is None:
        text = "folds of a cloth without a repeat: give repeat_across in [fabric], or seams"
        yield Fault(where, text)


def _motif(merged: Merged, units: Units) -> Iterator[Fault]:
    """A motif is on its cloth, and from both selvages where that is said."""
    cloth = merged.fabric
    keys = ("fabric.motif", "fabric.mirrored", "fabric.width", "fabric.repeat_across", "pattern")
    if cloth is None or not merged.readable(*keys):
        return
    where = merged.path("fabric.motif", "fabric.width")
    motif, width, repeat = cloth.motif, cloth.width, cloth.repeat_across
    if motif is None:
        if cloth.mirrored:
            text = "true of a cloth whose motif isn't given: give motif in [fabric], or false"
            yield Fault(merged.path("fabric.mirrored"), text)
        return
    if width is None:
        if merged.window.pattern == "folds":
            text = f"{format_length(motif, units)} on a cloth whose width isn't given: give width"
            yield Fault(where, f"{text} in [fabric]")
    elif motif >= width and repeat is not None:
        yield Fault(
            where,
            f"{format_length(motif, units)} from the left selvage is more than fabric.width, "
            f"{format_length(width, units)}: give the centre of the first whole motif",
        )
    elif cloth.mirrored and repeat is not None:
        past = (width - 2 * motif) % repeat
        if min(past, repeat - past) > MIRRORED_WITHIN:
            from_right = format_length((width - motif) % repeat, units)
            yield Fault(
                merged.path("fabric.mirrored", "fabric.motif"),
                f"true, but from the right selvage a motif's centre is at {from_right}, and from "
                f"the left one at {format_length(motif % repeat, units)}: give false, or another "
                "motif or width",
            )


def _motif_below(merged: Merged, units: Units) -> Iterator[Fault]:
    """A motif at a height needs to be known along the cloth, and a panel that is longer."""
    below = merged.window.motif_below
    keys = ("motif_below", "fabric", "fabric.repeat_down", "fabric.motif_down", "fabric.railroad")
    if below is None or not merged.readable(*keys):
        return
    cloth = merged.fabric or FabricTable()
    where, said = merged.path("motif_below"), format_length(below, units)
    if cloth.railroad:
        text = f"{said} of a railroaded cloth, whose motifs lie on their side: leave it out"
        yield Fault(where, text)
    elif cloth.repeat_down is None or cloth.motif_down is None:
        missing = "repeat_down" if cloth.repeat_down is None else "motif_down"
        yield Fault(where, f"{said} of a cloth without {missing}: give {missing} in [fabric]")
