"""A ring on its pole: how far it turns, against a pole searched for in space."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.planning import rings


def clear_pole(opening: float, thickness: float, turn: float) -> float:
    """Take a ring turned by `turn` degrees, give the thickest pole through it, by points in space.

    The pole runs along x; the ring's bore, its axis turned in the x-y plane, is drawn as circles
    from rim to rim. The pole is the thickest about any axis beside the ring's middle.
    """
    around = np.linspace(0, 2 * math.pi, 1441)
    through = np.linspace(-thickness / 2, thickness / 2, 5)
    angle = math.radians(turn)
    across = opening / 2 * np.cos(around)
    y = across[None, :] * math.cos(angle) + through[:, None] * math.sin(angle)
    z = np.broadcast_to(opening / 2 * np.sin(around), y.shape)
    shifts = np.linspace(-0.2, 0.2, 41) * opening
    return max(2 * float(np.min(np.hypot(y - shift, z))) for shift in shifts)


@pytest.mark.parametrize(
    ("opening", "thickness", "diameter"),
    [
        (39.7, 0.0, 28.0),
        (39.7, 6.0, 25.4),
        (39.7, 12.0, 35.0),
        (66.0, 10.0, 20.0),
        (44.0, 3.0, 43.5),
    ],
)
def test_turn_in_space(opening: float, thickness: float, diameter: float) -> None:
    """The largest turn is where a pole in space first meets the ring, found by halving."""
    free, caught = 0.0, 90.0
    for _ in range(30):
        turn = (free + caught) / 2
        if clear_pole(opening, thickness, turn) >= diameter:
            free = turn
        else:
            caught = turn
    assert free == pytest.approx(rings.largest_turn(opening, thickness, diameter), abs=0.01)


@given(st.floats(1, 100), st.floats(0, 1), st.floats(0.001, 0.999))
def test_turn_and_pole(opening: float, thick: float, thin: float) -> None:
    """The thickest pole for a turn is the one whose largest turn it is."""
    turn = rings.largest_turn(opening, thick * opening, thin * opening)
    assert 0 < turn < 90
    assert thin * opening == pytest.approx(
        rings.pole_for_turn(opening, thick * opening, turn), rel=1e-9, abs=1e-9
    )


def test_pole_at_45() -> None:
    """At 45 degrees the pole is the opening less the thickness, over the root of 2."""
    assert (40 - 6) / math.sqrt(2) == pytest.approx(rings.pole_for_turn(40, 6), rel=1e-12)


@pytest.mark.parametrize(
    ("opening", "thickness", "diameter", "message"),
    [
        (0, 1, 1, "opening is 0 mm; it must be a positive length"),
        (40, -1, 20, "thickness is -1 mm; it must be 0 or a positive length"),
        (40, 1, 0, "diameter is 0 mm; it must be a positive length"),
        (40, 1, 40, "diameter is 40 mm; the pole must be thinner than the opening, 40 mm"),
    ],
)
def test_turn_refuses(opening: float, thickness: float, diameter: float, message: str) -> None:
    """A ring that can't hang on the pole is refused, saying what would."""
    with pytest.raises(ValueError, match=message):
        rings.largest_turn(opening, thickness, diameter)


@pytest.mark.parametrize(
    ("thickness", "angle", "message"),
    [
        (41, 45, "thickness is 41 mm; .* it must be less than 40 mm with an opening of 40 mm"),
        (1, 90, "angle is 90 degrees; it must be from 0 to less than 90"),
        (1, -1, "angle is -1 degrees; it must be from 0 to less than 90"),
    ],
)
def test_pole_for_turn_refuses(thickness: float, angle: float, message: str) -> None:
    """A turn no pole allows is refused, saying what would."""
    with pytest.raises(ValueError, match=message):
        rings.pole_for_turn(40, thickness, angle)
