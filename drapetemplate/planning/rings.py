"""How far a ring turns on its pole, and what pole lets it turn so far; mm and degrees, unrounded.

D opening, t thickness, d pole diameter. A ring's turn, a, is from square on the pole, about an
upright axis. Two turns count:

The largest. Along the pole a turned ring leaves

    D * cos(a) - t * sin(a)

clear from side to side, between the near edge of one rim and the far edge of the other; that is
the narrowest place, since a turned rim is flatter there than the pole. Where it comes down to d
the pole is caught between the rims.

The free one. The ring hangs by the top of its opening, and there it grows too narrow for the pole
before that. Seen along the pole a rim is an ellipse, D * cos(a) / 2 to either side and D/2 up; at
its top it is round with a radius of

    (D * cos(a) / 2)^2 / (D/2) = D/2 * cos(a)^2

While that is the pole's radius or more, the top of the opening rests on the top of the pole. Past
that the pole no longer fits into it: it bears on two places beside the top, and every degree more
lifts the ring and the cloth with it. So the free turn of a ring without thickness has

    D * cos(a)^2 >= d

A thick ring shows two such ellipses, its rims, t * sin(a) apart, and the pole bears on one of them
at each side. What both leave clear from side to side, as above, is taken in place of D * cos(a):

    (D * cos(a) - t * sin(a))^2 >= d * D

Strictly a thick ring lifts from the first degree on, but by little: as searched for in space, at
its free turn it has risen by at most a 25th of its opening, with a pole of a third of that or more
and a ring up to three tenths of it thick (a 1 5/8 in ring 1/8 in thick, on a 1 in pole, by 1/64
in); past it, it rises faster and faster, by half of what opening and pole differ at its largest
turn. Friction is left out.

A 1 in pole in a 1 5/8 in ring without thickness:

>>> round(free_turn(opening=41.275, thickness=0, diameter=25.4), 1)
38.3
>>> round(largest_turn(opening=41.275, thickness=0, diameter=25.4), 1)
52.0
"""

from __future__ import annotations

import math

from drapetemplate.planning.folds import check_positive


def largest_turn(opening: float, thickness: float, diameter: float) -> float:
    """Return a ring's largest turn on a pole.

    >>> round(largest_turn(opening=40, thickness=6, diameter=25), 2)
    43.29

    ValueError: a measure that is not a positive length (thickness may be 0), or no room to hang.
    """
    _check(opening, thickness, diameter)
    return _turn_to(diameter, opening, thickness)


def free_turn(opening: float, thickness: float, diameter: float) -> float:
    """Return how far a ring turns on a pole before it lifts; less than its largest turn.

    >>> round(free_turn(opening=40, thickness=6, diameter=25), 2)
    30.04

    ValueError: as `largest_turn`.
    """
    _check(opening, thickness, diameter)
    return _turn_to(math.sqrt(diameter * opening), opening, thickness)


def pole_for_free_turn(opening: float, thickness: float, angle_deg: float = 45.0) -> float:
    """Return the thickest pole on which a ring turns so far before it lifts.

    At 45 degrees, which an operable panel should have, (opening - thickness)^2 / (2 * opening):

    >>> round(pole_for_free_turn(opening=40, thickness=6), 2)
    14.45

    ValueError: a measure that is not a length, an angle outside 0 to 90, or a ring too thick to
    turn so far on any pole.
    """
    _check(opening, thickness)
    if not 0 <= angle_deg < 90:
        raise ValueError(f"angle is {angle_deg:g} degrees; it must be from 0 to less than 90")
    angle = math.radians(angle_deg)
    clear = opening * math.cos(angle) - thickness * math.sin(angle)
    if clear <= 0:
        raise ValueError(
            f"thickness is {thickness:g} mm; to turn {angle_deg:g} degrees on any pole it must be "
            f"less than {opening / math.tan(angle):g} mm with an opening of {opening:g} mm"
        )
    return clear**2 / opening


def _turn_to(clear: float, opening: float, thickness: float) -> float:
    """Return the degrees at which so much is left clear from side to side."""
    across = math.hypot(opening, thickness)
    return math.degrees(max(math.acos(clear / across) - math.atan2(thickness, opening), 0))


def _check(opening: float, thickness: float, diameter: float | None = None) -> None:
    check_positive("opening", opening)
    if not 0 <= thickness < math.inf:
        raise ValueError(f"thickness is {thickness:g} mm; it must be 0 or a positive length")
    if diameter is None:
        return
    check_positive("diameter", diameter)
    if diameter >= opening:
        raise ValueError(
            f"diameter is {diameter:g} mm; the pole must be thinner than the opening, "
            f"{opening:g} mm"
        )
