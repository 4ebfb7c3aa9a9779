"""How far a ring turns on its pole, and what pole lets it turn so far; mm and degrees, unrounded.

A ring's turn is from square on the pole. Along the pole a ring turned by a leaves

    opening * cos(a) - thickness * sin(a)

clear, between the near edge of one rim and the far edge of the other; that is the narrowest place,
since a turned rim is flatter there than the pole.
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
    _check(opening, thickness)
    check_positive("diameter", diameter)
    if diameter >= opening:
        raise ValueError(
            f"diameter is {diameter:g} mm; the pole must be thinner than the opening, "
            f"{opening:g} mm"
        )
    across = math.hypot(opening, thickness)
    return math.degrees(math.acos(diameter / across) - math.atan2(thickness, opening))


def pole_for_turn(opening: float, thickness: float, angle_deg: float = 45.0) -> float:
    """Return the thickest pole on which a ring still turns so far.

    At 45 degrees, which an operable panel should have, (opening - thickness) / sqrt(2):

    >>> round(pole_for_turn(opening=40, thickness=6), 2)
    24.04

    ValueError: a measure that is not a length, an angle outside 0 to 90, or a ring too thick to
    turn so far on any pole.
    """
    _check(opening, thickness)
    if not 0 <= angle_deg < 90:
        raise ValueError(f"angle is {angle_deg:g} degrees; it must be from 0 to less than 90")
    angle = math.radians(angle_deg)
    diameter = opening * math.cos(angle) - thickness * math.sin(angle)
    if diameter <= 0:
        raise ValueError(
            f"thickness is {thickness:g} mm; to turn {angle_deg:g} degrees on any pole it must be "
            f"less than {opening / math.tan(angle):g} mm with an opening of {opening:g} mm"
        )
    return diameter


def _check(opening: float, thickness: float) -> None:
    check_positive("opening", opening)
    if not 0 <= thickness < math.inf:
        raise ValueError(f"thickness is {thickness:g} mm; it must be 0 or a positive length")
