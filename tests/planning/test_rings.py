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


def lift(opening: float, thickness: float, diameter: float, turn: float) -> float:
    """Take a ring turned by `turn` degrees, give how far it stands above where it hung unturned.

    The pole runs along x, and the ring comes down on it from above, in space: every point of its
    bore's two rims is let down until the first one meets the pole. It may slip sideways.
    """
    # Fine at the top of the opening, where it comes to bear.
    around = np.pi / 2 + np.linspace(-1, 1, 8001) ** 3 * np.pi / 2
    angle, radius = math.radians(turn), diameter / 2
    rims = np.array([[-thickness / 2], [thickness / 2]])
    y = opening / 2 * np.cos(around)[None, :] * math.cos(angle) + rims * math.sin(angle)
    z = np.broadcast_to(opening / 2 * np.sin(around), y.shape)

    def rest(shift: float) -> float:
        over = np.abs(y - shift) < radius
        return float(np.max(np.sqrt(radius**2 - (y - shift)[over] ** 2) - z[over]))

    slips = np.linspace(-0.02, 0.02, 9) * opening
    return min(map(rest, slips)) - (diameter - opening) / 2


@pytest.mark.parametrize(
    ("opening", "diameter"), [(41.275, 25.4), (39.7, 28.0), (66.0, 20.0), (44.0, 41.0)]
)
def test_a_thin_ring_lifts_past_its_free_turn(opening: float, diameter: float) -> None:
    """Let down on its pole in space, it hangs as it did unturned up to there, and higher after."""
    free = rings.free_turn(opening, 0, diameter)
    for turn in (0, free / 2, free - 0.1):
        assert lift(opening, 0, diameter, turn) == pytest.approx(0, abs=1e-6)
    for more, least in ((1, 1e-3), (3, 1e-2), (6, 5e-2)):
        assert lift(opening, 0, diameter, free + more) > least
    # Where it is caught its middle is as high as the pole's.
    caught = lift(opening, 0, diameter, rings.largest_turn(opening, 0, diameter) - 1e-4)
    assert caught == pytest.approx((opening - diameter) / 2, rel=0.02)


def test_free_turn_of_a_pole() -> None:
    """A 1 in pole in a 1 5/8 in ring: cos(a)^2 = 8/13, so 38.3 degrees; caught at 52.0."""
    assert rings.free_turn(41.275, 0, 25.4) == pytest.approx(38.33, abs=0.005)
    assert rings.largest_turn(41.275, 0, 25.4) == pytest.approx(52.02, abs=0.005)


@pytest.mark.parametrize("thin", [1 / 3, 0.5, 0.65, 0.8, 0.95])
@pytest.mark.parametrize("thick", [0.05, 0.1, 0.2, 0.3])
def test_a_thick_ring_lifts_little_up_to_its_free_turn(thin: float, thick: float) -> None:
    """In space it has risen there by a 25th of its opening at most; past it, faster by far."""
    ring = (40.0, 40 * thick, 40 * thin)
    free, caught = rings.free_turn(*ring), rings.largest_turn(*ring)
    unturned, half_way, there = (lift(*ring, free * part) for part in (0, 0.5, 1))
    assert unturned == pytest.approx(0, abs=1e-9)
    assert 0 < half_way < there / 4
    assert there < 40 / 25
    beyond = lift(*ring, (free + caught) / 2)
    assert (beyond - there) / ((caught - free) / 2) > 3 * there / free


@given(st.floats(1, 100), st.floats(0, 1), st.floats(0.001, 0.999))
def test_turns_of_a_ring_on_a_pole(opening: float, thick: float, thin: float) -> None:
    """It lifts before it is caught; the thickest pole for a free turn is the one that has it."""
    caught = rings.largest_turn(opening, thick * opening, thin * opening)
    turn = rings.free_turn(opening, thick * opening, thin * opening)
    assert 0 < turn < caught < 90
    assert thin * opening == pytest.approx(
        rings.pole_for_free_turn(opening, thick * opening, turn), rel=1e-9, abs=1e-9
    )


def test_pole_at_45() -> None:
    """At 45 degrees the pole is the opening less the thickness, squared, over twice the opening."""
    assert pytest.approx(rings.pole_for_free_turn(40, 6), rel=1e-12) == (40 - 6) ** 2 / 80


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
def test_pole_for_free_turn_refuses(thickness: float, angle: float, message: str) -> None:
    """A turn no pole allows is refused, saying what would."""
    with pytest.raises(ValueError, match=message):
        rings.pole_for_free_turn(40, thickness, angle)
