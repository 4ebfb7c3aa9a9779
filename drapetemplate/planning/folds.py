"""From pitch, eyelet and fullness to the shape a fold takes on its pole, seen from above.

Lengths are in millimetres, angles in degrees; nothing is rounded. In formulas and in code:

  P       pitch              mm    one ring's centre to the next, along the cloth
  G       outside            mm    across an eyelet. Seen from above its ring is a rigid piece so
                                   long, its centre on the pole's axis
  S       gap                mm    P - G: cloth between two rings; it bends and doesn't stretch
  theta   angle_deg          deg   a ring to the pole's axis: at 0 the panel is flat, at 90 the ring
                                   stands square to the pole; its turn is 90 less that
  m       half_sine_squared        sin^2(theta/2)
  q       pole_per_gap       mm    pole that one pitch of cloth takes; P/q is the fullness, P - q
                                   the take-up
  A       depth              mm    from the pole's axis to the middle of the gap, either side
  lambda  wave               1/mm  how tight the cloth is bent: lambda^2 * y at height y
  k       modulus                  how steep it runs: above 1 where rings stand close and steep
  phi     phi                      a place along the gap: 0 in its middle, phi0 at the ring

The gap is an elastica. It is symmetric about its middle, so it carries no force across the pole;
the ring turns freely on the pole, so no moment acts about the ring's centre: the line of force is
the pole's axis. With psi the cloth's angle to that axis, and sin(psi/2) = k * sin(phi):

    lambda * S/2 = F(phi0, k)                         fixes lambda, the one unknown at an angle
    tan(phi0)    = 2 / (lambda * G * cos(theta/2))
    k            = sin(theta/2) / sin(phi0)
    A            = 2k / lambda
    P - q        = 2G * m + (4 / lambda) * (F - E)

A fullness fixes theta: the take-up wanted, P * (fullness - 1) / fullness, is the last line's. The
panel of eyelets 95.25 mm across every 184.15 mm, that is gaps of 88.9 mm, pulled to twice the pole:

>>> fold = solve(pitch=184.15, outside=95.25, fullness=2)
>>> round(fold.angle_deg, 2), round(fold.wave, 6), round(fold.modulus, 4)
(72.97, 0.021456, 0.7696)
>>> round(fold.pole_per_gap, 3), round(fold.depth, 3)
(92.075, 71.736)

The cloth has no thickness or weight here, and there is no friction. Departure from the textbook:
F and E are taken in Carlson's symmetric form, which holds for a modulus above 1 as well and gives
F - E, the small difference that matters in a nearly flat panel, without cancellation.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from drapetemplate.planning.elliptic import rd, rf
from drapetemplate.planning.roots import falling_root

# sin^2(angle / 2) no fold reaches: at 154 degrees pole per gap is negative for every eyelet.
_OUT_OF_REACH = 0.95


@dataclass(frozen=True, slots=True)
class Fold:
    """One gap of cloth and its rings, by the glossary's names; `points` draws it."""

    pitch: float
    outside: float
    angle_deg: float
    pole_per_gap: float
    depth: float
    fullness: float
    modulus: float
    wave: float


def solve(pitch: float, outside: float, fullness: float) -> Fold:
    """Return the fold of a pitch and an eyelet that has a fullness of 1 or more.

    ValueError: a measure that makes no fold, or a fullness past `largest_fullness`.
    """
    _check_eyelet(pitch, outside)
    if not fullness >= 1:
        raise ValueError(f"fullness is {fullness:g}; it must be 1 (flat) or more")
    if fullness == math.inf:
        raise ValueError("fullness is infinite; it must be a number of 1 or more")
    wanted = pitch * (fullness - 1) / fullness

    def lacking(half_sine_squared: float) -> float:
        """Return the take-up wanted less what a fold at that angle has."""
        wave = _wave(pitch, outside, half_sine_squared)
        return wanted - _take_up(outside, half_sine_squared, wave)

    low, at_low, high, at_high = 0.0, wanted, 0.5, lacking(0.5)
    if at_high > 0:
        low, at_low, high, at_high = high, at_high, _OUT_OF_REACH, lacking(_OUT_OF_REACH)
    fold = _fold(pitch, outside, falling_root(lacking, low, at_low, high, at_high))
    # The limit itself may come out a last digit past touching.
    if fold.angle_deg > 90 and _clearance(fold) < -1e-9 * pitch:
        limit = _fullest(pitch, outside).fullness
        raise ValueError(
            f"fullness is {fullness:g}; with eyelets {outside:g} mm across every {pitch:g} mm "
            f"neighbouring folds touch at {limit:.3f}, so it must be that or less"
        )
    return fold


def at_angle(pitch: float, outside: float, angle_deg: float) -> Fold:
    """Return the fold of a pitch and an eyelet whose rings stand at an angle to the pole.

    ValueError: a measure that makes no fold, or an angle at which neighbouring folds would overlap.
    """
    (fold,) = at_angles(pitch, outside, [angle_deg])
    return fold


def at_angles(pitch: float, outside: float, angles_deg: Sequence[float]) -> tuple[Fold, ...]:
    """Return what `at_angle` does at each of some angles, for little more than the folds' own cost.

    ValueError: as `at_angle`.
    """
    _check_eyelet(pitch, outside)
    for angle_deg in angles_deg:
        if not angle_deg >= 0:
            raise ValueError(f"angle is {angle_deg:g} degrees; it must be 0 (flat) or more")
    largest = max(angles_deg, default=0.0)
    if largest > 90:
        limit = _fullest(pitch, outside).angle_deg
        if largest > limit:
            raise ValueError(
                f"angle is {largest:g} degrees; with eyelets {outside:g} mm across every "
                f"{pitch:g} mm neighbouring folds touch at {limit:.3f}, so it must be that or less"
            )
    return tuple(
        _fold(pitch, outside, math.sin(math.radians(angle_deg) / 2) ** 2)
        for angle_deg in angles_deg
    )


def largest_fullness(pitch: float, outside: float) -> float:
    """Return the fullness at which neighbouring folds of a pitch and an eyelet touch.

    Past 90 degrees folds overhang. Two folds on one side of the pole mirror each other about the
    fold between them, so they meet there first, before any other part of the cloth or a ring
    meets anything: where a fold, half its width on either side, is as wide as the two gaps
    from one to the next. It is 6.607 for the smallest eyelets and more for larger ones.

    ValueError: a measure that makes no fold.
    """
    _check_eyelet(pitch, outside)
    return _fullest(pitch, outside).fullness


def least_fullness(pitch: float, outside: float, turn_limit_deg: float) -> float:
    """Return the least fullness of a pitch and an eyelet that a ring's largest turn allows.

    The further a ring can turn on its pole, the flatter the panel can be pulled: a ring turned
    all the way stands at 90 degrees less its turn to the pole's axis.

    ValueError: a measure that makes no fold, or a turn that is not between 0 and 90 degrees.
    """
    if not 0 <= turn_limit_deg <= 90:
        raise ValueError(
            f"turn limit is {turn_limit_deg:g} degrees; it must be between 0 and 90 degrees"
        )
    return at_angle(pitch, outside, 90 - turn_limit_deg).fullness


def points(fold: Fold, n: int) -> tuple[tuple[float, float], ...]:
    """Return one front gap of a fold as 2n + 3 points: n steps from a ring to mid-gap.

    From one ring's centre to the next: the frame's origin is the first ring's centre, x runs along
    the pole and y away from the wall. The first and last steps are the rings' halves; between
    them is the cloth, its middle point the deepest. A back gap is the same with y negated.

    ValueError: n is less than 1.
    """
    if n < 1:
        raise ValueError(f"n is {n}; it must be 1 step or more")
    angle = math.radians(fold.angle_deg)
    middle = fold.pole_per_gap / 2
    start = math.atan2(1, fold.wave * fold.outside * math.cos(angle / 2) / 2)
    half = [(0.0, 0.0)]
    for step in range(n):
        phi = start * (1 - step / n)
        along = _along(math.sin(phi), math.cos(phi), fold.modulus) / fold.wave
        half.append((middle - along, fold.depth * math.cos(phi)))
    mirrored = [(fold.pole_per_gap - x, y) for x, y in reversed(half)]
    return (*half, (middle, fold.depth), *mirrored)


def _fold(pitch: float, outside: float, half_sine_squared: float) -> Fold:
    """Return the fold of a pitch, an eyelet and m, whether neighbours touch or not."""
    wave = _wave(pitch, outside, half_sine_squared)
    pole_per_gap = pitch - _take_up(outside, half_sine_squared, wave)
    squared = half_sine_squared * (1 + _cotangent_squared(outside, half_sine_squared, wave))
    modulus = math.sqrt(squared)
    return Fold(
        pitch=pitch,
        outside=outside,
        angle_deg=math.degrees(2 * math.asin(math.sqrt(half_sine_squared))),
        pole_per_gap=pole_per_gap,
        depth=2 * modulus / wave,
        fullness=pitch / pole_per_gap,
        modulus=modulus,
        wave=wave,
    )


def _fullest(pitch: float, outside: float) -> Fold:
    """Return the fold at which neighbours on one side of the pole touch."""

    def clearance(half_sine_squared: float) -> float:
        return _clearance(_fold(pitch, outside, half_sine_squared))

    half_sine_squared = falling_root(
        clearance, 0.5, clearance(0.5), _OUT_OF_REACH, clearance(_OUT_OF_REACH)
    )
    return _fold(pitch, outside, half_sine_squared)


def _clearance(fold: Fold) -> float:
    """Return half the space from a fold at 90 degrees or more to the next one on its side."""
    # It is widest where psi is 90 degrees.
    sine = math.sqrt(0.5) / fold.modulus
    half_width = _along(sine, math.sqrt(1 - sine * sine), fold.modulus) / fold.wave
    return fold.pole_per_gap - half_width


def _wave(pitch: float, outside: float, half_sine_squared: float) -> float:
    """Return lambda for a pitch, an eyelet and m."""
    gap = pitch - outside
    cosine_squared = 1 - half_sine_squared
    # F(phi0, k) by DLMF 19.25.5, csc^2(phi0) being 1 + cotangent^2(phi0).
    ratio_squared = (outside / gap) ** 2 * cosine_squared

    def integral(half: float) -> float:
        """Return F(phi0, k) for half of lambda * S; it falls as the half rises: they meet once."""
        cotangent_squared = half * half * ratio_squared
        cosecant_squared = 1 + cotangent_squared
        return rf(cotangent_squared, cosine_squared * cosecant_squared, cosecant_squared)

    most = rf(0, cosine_squared, 1)
    least = integral(most)
    half = falling_root(
        lambda half: integral(half) - half, least, integral(least) - least, most, least - most
    )
    return 2 * half / gap


def _take_up(outside: float, half_sine_squared: float, wave: float) -> float:
    """Return P - q for an eyelet, m and lambda; F - E by DLMF 19.25.9."""
    cosecant_squared = 1 + _cotangent_squared(outside, half_sine_squared, wave)
    integral = cosecant_squared * rd(
        cosecant_squared - 1, (1 - half_sine_squared) * cosecant_squared, cosecant_squared
    )
    return half_sine_squared * (2 * outside + 4 / (3 * wave) * integral)


def _cotangent_squared(outside: float, half_sine_squared: float, wave: float) -> float:
    """Return 1 / tan^2(phi0) for an eyelet, m and lambda."""
    return (wave * outside / 2) ** 2 * (1 - half_sine_squared)


def _along(sine: float, cosine: float, modulus: float) -> float:
    """Return 2E - F at a phi and k: lambda times the length of pole from there to mid-gap."""
    bend = (modulus * sine) ** 2
    first = sine * rf(cosine * cosine, 1 - bend, 1)
    return first - 2 / 3 * bend * sine * rd(cosine * cosine, 1 - bend, 1)


def check_positive(name: str, value: float) -> None:
    """ValueError, by this name, for what isn't a length above 0."""
    if not 0 < value < math.inf:
        raise ValueError(f"{name} is {value:g} mm; it must be a positive length")


def _check_eyelet(pitch: float, outside: float) -> None:
    check_positive("pitch", pitch)
    check_positive("outside", outside)
    if outside >= pitch:
        raise ValueError(
            f"outside is {outside:g} mm; it must be less than the pitch, {pitch:g} mm, "
            "for cloth to be left between two eyelets"
        )
