"""How a panel hangs on its pole: its folds, how far its rings turn, what it reaches, its weight.

Folds come from an elastica and are floats; their errors are far below a tenth of a millimetre.
Closed means pulled to cover the pole it is to cover, stacked pushed together.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Window
from drapetemplate.measures import Length
from drapetemplate.planning import cloth, folds, rings
from drapetemplate.planning.eyelets import EyeletLine
from drapetemplate.planning.folds import Fold
from drapetemplate.planning.set_out import covers_from
from drapetemplate.wording import times

USUAL_FULLNESS = 2.0
OPERABLE_TURN = 45.0
"""Degrees that the rings of a panel that is drawn should turn without lifting: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hang:
    """How a panel hangs on its pole.

    `closed` is one fold at `fullness`, which is `assumed` where the job doesn't say. `free_turn`
    is how many degrees a ring turns before it lifts, `turn_limit` its largest turn, and
    `least_fullness` how flat that lets the panel be pulled; None where the pole's diameter isn't
    known. `projection` is the pole's, None where it isn't known, and `clearance` what is asked for
    between folds and wall.
    """

    fullness: float
    assumed: bool
    closed: Fold
    depth_stacked: Length
    free_turn: float | None
    turn_limit: float | None
    least_fullness: float | None
    projection: Length | None
    clearance: Length

    @property
    def depth_closed(self) -> Length:
        """How far a fold of the closed panel stands off the pole's axis, either side."""
        return Fraction(self.closed.depth)

    @property
    def wall_room(self) -> Length | None:
        """How deep a fold may be that keeps the clearance."""
        return None if self.projection is None else self.projection - self.clearance

    def free(self, depth: Length) -> Length | None:
        """Return what is free from a fold of this depth to the wall, negative where it hits it."""
        return None if self.projection is None else self.projection - depth


def hang(window: Window, pitch: Length, fullness: Fraction | None) -> Hang:
    """Return how a window's panel hangs whose eyelets stand `pitch` apart, closed at `fullness`.

    JobError where the fullness is more than the rings allow.
    """
    ring, pole = window.eyelet, window.pole
    outside = float(ring.outside)
    closed_at = USUAL_FULLNESS if fullness is None else float(fullness)
    try:
        closed = folds.solve(float(pitch), outside, closed_at)
    except ValueError as error:
        most = folds.largest_fullness(float(pitch), outside)
        key, mend = "fullness", ""
        if window.fullness is None:
            key, mend = "covers", ", so cover more pole or take a narrower panel"
        share = f", on {covers_from(window)}," if window.covers_assumed else ""
        text = (
            f"{times(closed_at)}{share} is more than the eyelets allow, since neighbouring folds "
            f"touch: {times(int(most * 100) / 100)} or less{mend}"
        )
        raise JobError([Fault(f"{window.key}.{key}", text)]) from error
    free = turn = least = None
    if pole.diameter is not None:
        on_pole = (float(ring.opening), float(ring.thickness), float(pole.diameter))
        free, turn = rings.free_turn(*on_pole), rings.largest_turn(*on_pole)
        least = folds.least_fullness(float(pitch), outside, turn)
    return Hang(
        fullness=closed_at,
        assumed=fullness is None,
        closed=closed,
        depth_stacked=pitch / 2,  # a fold can be no deeper
        free_turn=free,
        turn_limit=turn,
        least_fullness=least,
        projection=pole.projection,
        clearance=pole.wall_clearance,
    )


def first_clear(
    line: EyeletLine, counts: Sequence[int], room: Length, fullness: float | None
) -> int | None:
    """Return the first of `counts` whose fold clears `room`, closed at `fullness`, or else stacked.

    `counts` rise, so pitches fall; with them folds get shallower and more fullness is allowed,
    and a search by halves finds the first.
    """

    def clears(count: int) -> bool:
        pitch = line.pitch(count)
        if fullness is None:
            return pitch / 2 <= room
        try:
            return folds.solve(float(pitch), float(line.outside), fullness).depth <= room
        except ValueError:  # neighbouring folds would touch
            return False

    first = bisect_left(counts, 1, key=clears)
    return counts[first] if first < len(counts) else None


def panel_weight(
    window: Window, width: Length, length: Length | None, count: int
) -> Fraction | None:
    """Return the grams of one panel as it hangs; None unless all its cloth's weights are known.

    Cloth and lining, and its `count` eyelets where their weight is known.
    """
    if window.fabric is None or length is None:
        return None
    total = Fraction(count) * (window.eyelet.weight or 0)
    for goods in (window.fabric, window.lining):
        if goods is not None:
            grams = cloth.cloth_weight(goods, width, length)
            if grams is None:
                return None
            total += grams
    return total
