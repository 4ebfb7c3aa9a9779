"""Folds against outside checks: integration, SciPy, geometry, and a strip bent by least energy."""

from __future__ import annotations

import itertools
import math
import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy import integrate, optimize, special

from drapetemplate.planning import folds
from tests.helpers.searching import searched

Floats = NDArray[np.float64]

# Pitch, outside (mm).
EYELETS = [
    pytest.param(184.15, 95.25, id="common"),
    pytest.param(140.0, 40.0, id="small"),
    pytest.param(200.0, 100.0, id="one-eyelet-apart"),
    pytest.param(150.0, 120.0, id="close"),
    pytest.param(100.0, 1.0, id="nearly-no-eyelet"),
    pytest.param(100.0, 99.0, id="nearly-no-gap"),
]


@st.composite
def panels(draw: st.DrawFn) -> tuple[float, float, float]:
    """Pitch, outside and a fullness from hardly any to what every eyelet allows."""
    pitch = draw(st.floats(10, 1000))
    outside = pitch * draw(st.floats(0.001, 0.999))
    return pitch, outside, draw(st.floats(1.0001, 6.6))


def bent_strip(pitch: float, outside: float, pole: float, steps: int) -> tuple[float, float]:
    """Take pitch, eyelet and pole per gap, give ring angle and depth of the least-bent strip.

    The strip is a chain of stiff steps between two rigid halves of rings; each is an unknown
    angle. Nothing says it is symmetric, nor where the force runs.
    """
    step = (pitch - outside) / steps
    lengths = np.array([outside / 2, *[step] * steps, outside / 2])
    # The first and last turn are half a step from where the ring ends.
    stiffness = np.array([2.0, *[1.0] * (steps - 1), 2.0])

    def energy(angles: Floats) -> float:
        return float(np.sum(stiffness * np.diff(angles) ** 2))

    def energy_slope(angles: Floats) -> Floats:
        turns: Floats = 2 * stiffness * np.diff(angles)
        slope: Floats = np.append(0, turns) - np.append(turns, 0)
        return slope

    def ends(angles: Floats) -> Floats:
        return np.array([lengths @ np.cos(angles) - pole, lengths @ np.sin(angles)])

    def ends_slope(angles: Floats) -> Floats:
        return np.array([-lengths * np.sin(angles), lengths * np.cos(angles)])

    found = optimize.minimize(
        energy,
        np.linspace(0.8, -0.8, steps + 2),
        jac=energy_slope,
        method="SLSQP",
        constraints=optimize.NonlinearConstraint(ends, 0, 0, jac=ends_slope),
        options={"maxiter": 1000, "ftol": 1e-12},
    )
    assert found.success, found.message
    heights = np.cumsum(lengths * np.sin(found.x))
    return math.degrees(found.x[0]), float(np.max(heights))


@pytest.mark.parametrize(
    ("pitch", "outside", "fullness"),
    [
        (200.0, 100.0, 2.0),
        (200.0, 100.0, 4.0),
        (184.15, 95.25, 1.1),
        (184.15, 95.25, 2.5),
        (140.0, 40.0, 1.5),
        (150.0, 120.0, 3.0),
        (100.0, 1.0, 2.0),
        (100.0, 20.0, 4.0),
    ],
)
def test_least_energy(pitch: float, outside: float, fullness: float) -> None:
    """A strip bent by least energy between rings free to turn has the same angle and depth."""
    fold = folds.solve(pitch, outside, fullness)
    angle, depth = bent_strip(pitch, outside, pitch / fullness, 60)
    assert angle == pytest.approx(fold.angle_deg, rel=2e-3)
    assert depth == pytest.approx(fold.depth, rel=2e-3)


@pytest.mark.parametrize(("pitch", "outside"), EYELETS)
@pytest.mark.parametrize("part", [0.05, 0.3, 0.7, 0.9, 1.0, 1.3, 1.7])
def test_integrated_curve(pitch: float, outside: float, part: float) -> None:
    """Half the gap, integrated from the ring by its curvature, ends level at mid-gap and depth."""
    most = folds.solve(pitch, outside, folds.largest_fullness(pitch, outside)).angle_deg
    fold = folds.at_angle(pitch, outside, part * 90 if part <= 1 else 90 + (part - 1) * (most - 90))
    angle = math.radians(fold.angle_deg)

    def run(_: float, state: Floats) -> list[float]:
        _x, y, psi = state
        return [math.cos(psi), math.sin(psi), -(fold.wave**2) * y]

    start = [outside / 2 * math.cos(angle), outside / 2 * math.sin(angle), angle]
    end = integrate.solve_ivp(
        run, (0, (pitch - outside) / 2), start, rtol=1e-11, atol=1e-11, method="DOP853"
    ).y[:, -1]
    assert end == pytest.approx([fold.pole_per_gap / 2, fold.depth, 0], rel=1e-8, abs=1e-8)


@pytest.mark.parametrize(("pitch", "outside"), EYELETS[:3])
@pytest.mark.parametrize("angle", [5.0, 30.0, 60.0, 89.0, 95.0])
def test_scipy_legendre(pitch: float, outside: float, angle: float) -> None:
    """The fold fulfils its equations with SciPy's incomplete integrals, modulus below 1."""
    fold = folds.at_angle(pitch, outside, angle)
    half_angle = math.radians(angle / 2)
    assert fold.modulus < 1
    phi = math.asin(math.sin(half_angle) / fold.modulus)
    first = special.ellipkinc(phi, fold.modulus**2)
    second = special.ellipeinc(phi, fold.modulus**2)
    height = outside / 2 * math.sin(2 * half_angle)
    assert math.hypot(math.sin(half_angle), fold.wave * height / 2) == pytest.approx(fold.modulus)
    assert fold.wave * (pitch - outside) / 2 == pytest.approx(first, rel=1e-9)
    assert 2 * fold.modulus / fold.wave == pytest.approx(fold.depth, rel=1e-12)
    pole = outside * math.cos(2 * half_angle) + 2 / fold.wave * (2 * second - first)
    assert pole == pytest.approx(fold.pole_per_gap, rel=1e-9)


@pytest.mark.parametrize("phi", [1e-6, 0.1, 0.5, 1.0, 1.5, math.pi / 2])
@pytest.mark.parametrize("modulus", [0.0, 0.1, 0.5, 0.9, 0.999])
def test_along_scipy(phi: float, modulus: float) -> None:
    """2E - F is SciPy's over the grid of amplitudes and moduli."""
    squared = modulus**2
    expected = 2 * special.ellipeinc(phi, squared) - special.ellipkinc(phi, squared)
    actual = folds._along(math.sin(phi), math.cos(phi), modulus)
    assert expected == pytest.approx(actual, rel=1e-12, abs=1e-14)


@searched(2000)
@given(panels())
def test_triangle_bound(panel: tuple[float, float, float]) -> None:
    """Half a pitch of cloth spans half the pole and the depth, so never more than half a pitch."""
    pitch, outside, fullness = panel
    fold = folds.solve(pitch, outside, fullness)
    bound = math.sqrt((pitch - fold.pole_per_gap) * (pitch + fold.pole_per_gap)) / 2
    assert 0 < fold.depth <= bound * (1 + 1e-9)
    assert fold.depth <= pitch / 2


@searched(500)
@given(panels())
def test_fullness_kept(panel: tuple[float, float, float]) -> None:
    """The fold solved for a fullness has it, and so has the fold at its angle."""
    pitch, outside, fullness = panel
    fold = folds.solve(pitch, outside, fullness)
    assert fullness == pytest.approx(fold.fullness, rel=1e-9)
    assert pitch / fullness == pytest.approx(fold.pole_per_gap, rel=1e-9)
    if fold.angle_deg < 90:
        again = folds.at_angle(pitch, outside, fold.angle_deg)
        assert fold.depth == pytest.approx(again.depth, rel=1e-9)


@pytest.mark.parametrize(("pitch", "outside"), EYELETS)
def test_fuller_is_steeper(pitch: float, outside: float) -> None:
    """A fuller panel turns its rings further and takes less pole; to 90 degrees it is deeper."""
    most = folds.largest_fullness(pitch, outside)
    row = [folds.solve(pitch, outside, float(f)) for f in np.geomspace(1.0, most, 60)]
    assert all(a.angle_deg < b.angle_deg for a, b in itertools.pairwise(row))
    assert all(a.pole_per_gap > b.pole_per_gap for a, b in itertools.pairwise(row))
    upright = [fold for fold in row if fold.angle_deg <= 90]
    assert all(a.depth < b.depth for a, b in itertools.pairwise(upright))
    assert len(upright) > 10


def test_flat() -> None:
    """Fullness 1 is a flat panel, and hardly more is hardly deeper."""
    flat = folds.solve(184.15, 95.25, 1)
    assert (flat.angle_deg, flat.depth, flat.fullness) == (0, 0, 1)
    assert flat == folds.at_angle(184.15, 95.25, 0)
    nearly = folds.solve(184.15, 95.25, 1 + 1e-12)
    assert 0 < nearly.depth < 1e-3


@pytest.mark.parametrize(("pitch", "outside"), EYELETS)
def test_stiff_limit(pitch: float, outside: float) -> None:
    """Near flat, the cloth is the cosine that meets the ring's line: tan(u) = gap/(outside*u)."""
    fold = folds.at_angle(pitch, outside, 0.01)
    ratio = (pitch - outside) / outside
    u = optimize.brentq(lambda v: v * math.sin(v) - ratio * math.cos(v), 1e-9, math.pi / 2)
    assert u == pytest.approx(fold.wave * (pitch - outside) / 2, rel=1e-6)


def crossings(fold: folds.Fold, gaps: int, n: int) -> int:
    """Count the pairs of drawn steps, neighbours left out, that cross in so many gaps of cloth."""
    gap = np.array(folds.points(fold, n))
    runs = [gap[:-1] * [1, (-1) ** index] + [index * fold.pole_per_gap, 0] for index in range(gaps)]
    path = np.concatenate(runs)
    start, along = path[:-1], np.diff(path, axis=0)

    def side(origin: Floats, direction: Floats, target: Floats) -> Floats:
        offset = target[None, :, :] - origin[:, None, :]
        return np.sign(
            direction[:, None, 0] * offset[:, :, 1] - direction[:, None, 1] * offset[:, :, 0]
        )

    apart = side(start, along, start) * side(start, along, start + along) < 0
    count = len(start)
    far = np.abs(np.subtract.outer(np.arange(count), np.arange(count))) > 2
    return int(np.sum(apart & apart.T & far)) // 2


@pytest.mark.parametrize(("pitch", "outside"), EYELETS[:5])
def test_touching(pitch: float, outside: float) -> None:
    """Just under the largest fullness no two parts of the cloth meet, just past it they cross."""
    limit = folds.largest_fullness(pitch, outside)
    under = folds.solve(pitch, outside, limit * 0.998)
    past = folds._fold(pitch, outside, math.sin(math.radians(under.angle_deg * 1.01) / 2) ** 2)
    assert past.fullness > limit
    assert crossings(under, 5, 120) == 0
    assert crossings(past, 5, 120) > 0


@pytest.mark.parametrize(("pitch", "outside"), EYELETS)
@pytest.mark.parametrize("fullness", [1.0, 1.3, 2.0, 3.0])
def test_points(pitch: float, outside: float, fullness: float) -> None:
    """The drawn gap is as long as the pitch, as deep as the fold and ends on both ring centres."""
    fold = folds.solve(pitch, outside, fullness)
    drawn = np.array(folds.points(fold, 4000))
    steps = np.diff(drawn, axis=0)
    assert len(drawn) == 8003
    assert tuple(drawn[0]) == (0, 0)
    assert tuple(drawn[-1]) == (fold.pole_per_gap, 0)
    assert float(np.sum(np.hypot(*steps.T))) == pytest.approx(pitch, rel=1e-6)
    assert float(np.max(drawn[:, 1])) == fold.depth
    assert tuple(drawn[4001]) == (fold.pole_per_gap / 2, fold.depth)


@pytest.mark.parametrize(("pitch", "outside"), EYELETS)
@pytest.mark.parametrize("fullness", [1.3, 2.0, 3.0])
def test_points_smooth(pitch: float, outside: float, fullness: float) -> None:
    """The ring's halves stand at its angle, and the cloth leaves and runs on without a corner."""
    fold = folds.solve(pitch, outside, fullness)
    steps = np.diff(np.array(folds.points(fold, 2000)), axis=0)
    angles = np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
    assert float(np.hypot(*steps[0])) == pytest.approx(outside / 2, rel=1e-9)
    assert float(np.hypot(*steps[-1])) == pytest.approx(outside / 2, rel=1e-9)
    assert float(angles[0]) == pytest.approx(fold.angle_deg, abs=1e-6)
    assert float(angles[-1]) == pytest.approx(-fold.angle_deg, abs=1e-6)
    assert float(np.max(np.abs(np.diff(angles)))) < 0.2


def test_points_few() -> None:
    """One step a side gives ring, cloth and middle, no more."""
    fold = folds.solve(184.15, 95.25, 2)
    angle = math.radians(fold.angle_deg)
    x, y = 95.25 / 2 * math.cos(angle), 95.25 / 2 * math.sin(angle)
    end = fold.pole_per_gap
    expected = [(0, 0), (x, y), (end / 2, fold.depth), (end - x, y), (end, 0)]
    assert np.array(expected) == pytest.approx(np.array(folds.points(fold, 1)))


def test_least_fullness() -> None:
    """A ring that turns 45 degrees lets the panel be pulled as flat as rings at 45 degrees."""
    least = folds.least_fullness(184.15, 95.25, 45)
    assert folds.solve(184.15, 95.25, least).angle_deg == pytest.approx(45, abs=1e-9)
    assert folds.least_fullness(184.15, 95.25, 90) == 1
    assert folds.least_fullness(184.15, 95.25, 60) < least
    assert folds.least_fullness(184.15, 95.25, 0) == folds.at_angle(184.15, 95.25, 90).fullness


@pytest.mark.parametrize(
    ("pitch", "outside", "fullness", "message"),
    [
        (0, 10, 2, "pitch is 0 mm; it must be a positive length"),
        (math.inf, 10, 2, "pitch is inf mm; it must be a positive length"),
        (math.nan, 10, 2, "pitch is nan mm; it must be a positive length"),
        (100, -1, 2, "outside is -1 mm; it must be a positive length"),
        (100, 100, 2, "outside is 100 mm; it must be less than the pitch, 100 mm"),
        (100, 50, 0.99, r"fullness is 0\.99; it must be 1 \(flat\) or more"),
        (100, 50, math.nan, r"fullness is nan; it must be 1 \(flat\) or more"),
        (100, 50, math.inf, "fullness is infinite; it must be a number of 1 or more"),
        (100, 50, 8.1, r"fullness is 8\.1; .* touch at 8\.042, so it must be that or less"),
        (100, 50, 1e9, r"fullness is 1e\+09; .* touch at 8\.042, so it must be that or less"),
    ],
)
def test_solve_refuses(pitch: float, outside: float, fullness: float, message: str) -> None:
    """What makes no fold is refused, saying what would."""
    with pytest.raises(ValueError, match=message):
        folds.solve(pitch, outside, fullness)


@pytest.mark.parametrize(
    ("angle", "message"),
    [
        (-1, r"angle is -1 degrees; it must be 0 \(flat\) or more"),
        (math.nan, r"angle is nan degrees; it must be 0 \(flat\) or more"),
        (104, r"angle is 104 degrees; .* touch at 103\.209, so it must be that or less"),
        (180, r"angle is 180 degrees; .* touch at 103\.209, so it must be that or less"),
    ],
)
def test_at_angle_refuses(angle: float, message: str) -> None:
    """An angle no fold can have is refused, naming the largest."""
    with pytest.raises(ValueError, match=message):
        folds.at_angle(100, 50, angle)


@pytest.mark.parametrize("turn", [-1, 91, math.nan])
def test_least_fullness_refuses(turn: float) -> None:
    """A turn limit outside a quarter turn is refused."""
    with pytest.raises(ValueError, match="it must be between 0 and 90 degrees"):
        folds.least_fullness(100, 50, turn)


def test_others_refuse() -> None:
    """Pitch and steps are checked wherever they come in."""
    with pytest.raises(ValueError, match="pitch is -1 mm; it must be a positive length"):
        folds.solve(-1, 50, 2)
    with pytest.raises(ValueError, match="outside is 9 mm; it must be less than the pitch"):
        folds.largest_fullness(8, 9)
    with pytest.raises(ValueError, match="n is 0; it must be 1 step or more"):
        folds.points(folds.solve(100, 50, 2), 0)


def test_hundred_panels() -> None:
    """A hundred panels, limits and all, take under half a second of processor time."""
    begun = time.process_time()
    for index in range(100):
        folds.solve(150 + index, 95, 1.5 + index / 100)
        folds.least_fullness(150 + index, 95, 50)
    assert time.process_time() - begun < 0.5
