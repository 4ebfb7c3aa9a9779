"""Where on a panel a seam may stand, and what it costs there.

`seams` has the words: hidden, visible, struck, raw and finished. Places are raw, in whole units
(`seams` says of how many a millimetre), so that the search steps along them without rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from drapetemplate.job.defaults import Usual
from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH, MM, Length
from drapetemplate.planning.eyelets import GapKind
from drapetemplate.planning.seam_search import SeamCosts, seam_costs

FLANGE_CLEARANCE = Usual(INCH / 8, 3 * MM)
"""Between a seam allowance and a flange."""

# What a seam costs where it shows: any number of struck ones weighs less than one more visible.
_VISIBLE = 1000
_STRUCK = _VISIBLE + 1


@dataclass(frozen=True, slots=True)
class EyeletRow:
    """One panel's row of eyelets: finished `width`, flange `outside`, `centers` and gap kinds.

    Positions are finished, from the leading edge (from the left edge of a single panel). `gaps`
    empty means that any gap hides a seam: hooks, or a lining. A seam's allowance keeps `clearance`
    off the flanges. `motif_at` is the first place at
    which the cloth's motif is to have its centre; None where it needn't.
    """

    width: Length
    outside: Length
    centers: tuple[Length, ...]
    gaps: tuple[GapKind, ...]
    clearance: Length = FLANGE_CLEARANCE.inch
    motif_at: Length | None = None


def in_units(length: Length, scale: int) -> int:
    """Return a length in whole units."""
    return length.numerator * (scale // length.denominator)


Places = list[tuple[int, int]]
"""First and last place of each interval."""


def hidden_and_clear(cloth: Cloth, row: EyeletRow, scale: int) -> tuple[Places, Places]:
    """Return where a seam is hidden, and where it clears every flange and both side hems.

    The second holds the first. A side hem is taken as folded once, so that seams keep off however
    it is made: turned in, it reaches twice its cloth from the raw edge, and folded double less.
    """
    hem, seam = in_units(cloth.side_hem, scale), in_units(cloth.seam, scale)
    off_center = in_units(row.outside / 2, scale) + seam + in_units(row.clearance, scale)
    centers = [hem + in_units(center, scale) for center in row.centers]
    nearest, farthest = 2 * hem + seam, in_units(row.width, scale) - seam
    gaps = [
        (max(nearest, before + off_center), min(farthest, after - off_center))
        for before, after in pairwise(centers)
    ]
    kinds = row.gaps or ("back",) * len(gaps)
    before_first = (nearest, centers[0] - off_center)
    after_last = (centers[-1] + off_center, farthest)
    hidden = [
        (start, end)
        for (start, end), kind in zip(gaps, kinds, strict=True)
        if kind == "back" and start <= end
    ]
    clear = [(start, end) for start, end in (before_first, *gaps, after_last) if start <= end]
    return hidden, clear


def costs_hidden(hidden: Places) -> SeamCosts:
    """Return what a seam costs where it must be hidden: nothing there, and none elsewhere."""
    return seam_costs((start, end, 0) for start, end in hidden)


def costs_anywhere(hidden: Places, clear: Places, panel: int) -> SeamCosts:
    """Return what a seam costs at every place between the panel's edges."""
    hiding, intervals, free = set(hidden), [], 1
    for start, end in clear:
        if start > free:
            intervals.append((free, start - 1, _STRUCK))
        intervals.append((start, end, 0 if (start, end) in hiding else _VISIBLE))
        free = end + 1
    if panel > free:
        intervals.append((free, panel - 1, _STRUCK))
    return seam_costs(intervals)


def within(place: int | Fraction, intervals: Places) -> bool:
    """Return whether a place is in one of these intervals."""
    return any(start <= place <= end for start, end in intervals)
