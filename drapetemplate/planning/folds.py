"""From pitch, eyelet and fullness to the shape a fold takes on its pole, seen from above.

Every length is in millimetres, every angle in degrees; nothing is rounded.

ring: an eyelet seen from above, a rigid piece as long as the eyelet is across (`outside`), its
    centre on the pole's axis. Its angle is measured from the pole's axis: at 0 the panel is flat,
    at 90 the ring stands square to the pole. Its tilt on the pole is 90 less that angle.
gap: the cloth between two rings, `pitch` less `outside` long; it bends and does not stretch.
pole per gap: how much pole one pitch of cloth takes; pitch over it is the fullness.
depth: how far the middle of the gap stands off the pole's axis.
take-up: pitch less pole per gap.

The gap is an elastica. It is symmetric about its middle, so it carries no force across the pole;
the ring turns freely on the pole, so no moment acts about the ring's centre: the line of force is
the pole's axis, and the curvature at height y is wave^2 * y. With m = sin^2(angle / 2), the
half-angle psi/2 of the tangent as sin(psi/2) = modulus * sin(phi), and phi = phi0 at the ring:

    wave * gap / 2 = F(phi0, modulus)                    fixes the wave
    tan(phi0)      = 2 / (wave * outside * cos(angle/2))
    modulus        = sin(angle/2) / sin(phi0)            above 1 where rings stand close and steep
    depth          = 2 * modulus / wave
    take-up        = 2 * outside * m + (4 / wave) * (F - E)

The cloth has no thickness or weight here, and there is no friction. Departure from the textbook:
F and E are taken in Carlson's symmetric form, which holds for a modulus above 1 as well and gives
F - E, the small difference that matters in a nearly flat panel, without cancellation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

# sin^2(angle / 2) no fold reaches: at 154 degrees pole per gap is negative for every eyelet.
_OUT_OF_REACH = 0.95


@dataclass(frozen=True, slots=True)
class Fold:
    """One gap of cloth and its rings: lengths in mm, `angle_deg` in degrees, unrounded.

    `modulus` (a number) and `wave` (per mm) are the elastica's constants; `points` draws by them.
    """

    pitch: float
    outside: float
    angle_deg: float
    pole_per_gap: float
    depth: float
    fullness: float
    modulus: float
    wave: float


def solve(pitch: float, outside: float, fullness: float) -> Fold:
    """Take pitch and eyelet (mm) and a fullness of 1 or more, give the fold that has it.

    ValueError: a measure that makes no fold, or a fullness past `largest_fullness`.
    """
    _check_eyelet(pitch, outside)
    if not fullness >= 1:
        raise ValueError(f"fullness is {fullness:g}; it must be 1 (flat) or more")
    if fullness == math.inf:
        raise ValueError("fullness is infinite; it must be a number of 1 or more")
    wanted = pitch * (fullness - 1) / fullness

    def lacking(half_sine_squared: float) -> float:
        """Take sin^2(angle / 2), give the take-up wanted less what a fold at that angle has."""
        wave = _wave(pitch, outside, half_sine_squared)
        return wanted - _take_up(outside, half_sine_squared, wave)

    low, at_low, high, at_high = 0.0, wanted, 0.5, lacking(0.5)
    if at_high > 0:
        low, at_low, high, at_high = high, at_high, _OUT_OF_REACH, lacking(_OUT_OF_REACH)
    fold = _fold(pitch, outside, _falling_root(lacking, low, at_low, high, at_high))
    # The limit itself may come out a last digit past touching.
    if fold.angle_deg > 90 and _clearance(fold) < -1e-9 * pitch:
        limit = _fullest(pitch, outside).fullness
        raise ValueError(
            f"fullness is {fullness:g}; with eyelets {outside:g} mm across every {pitch:g} mm "
            f"neighbouring folds touch at {limit:.3f}, so it must be that or less"
        )
    return fold


def at_angle(pitch: float, outside: float, angle_deg: float) -> Fold:
    """Take pitch and eyelet (mm) and the rings' angle to the pole (degrees), give the fold.

    ValueError: a measure that makes no fold, or an angle at which neighbouring folds would overlap.
    """
    _check_eyelet(pitch, outside)
    if not angle_deg >= 0:
        raise ValueError(f"angle is {angle_deg:g} degrees; it must be 0 (flat) or more")
    if angle_deg > 90:
        limit = _fullest(pitch, outside).angle_deg
        if angle_deg > limit:
            raise ValueError(
                f"angle is {angle_deg:g} degrees; with eyelets {outside:g} mm across every "
                f"{pitch:g} mm neighbouring folds touch at {limit:.3f}, so it must be that or less"
            )
    return _fold(pitch, outside, math.sin(math.radians(angle_deg) / 2) ** 2)


def largest_fullness(pitch: float, outside: float) -> float:
    """Take pitch and eyelet (mm), give the fullness at which neighbouring folds touch.

    Past 90 degrees folds overhang. Two folds on one side of the pole mirror each other about the
    fold between them, so they meet there first, before any other part of the cloth or a ring
    meets anything: where a fold, half its width on either side, is as wide as the two gaps
    from one to the next. It is 6.607 for the smallest eyelets and more for larger ones.

    ValueError: a measure that makes no fold.
    """
    _check_eyelet(pitch, outside)
    return _fullest(pitch, outside).fullness


def least_fullness(pitch: float, outside: float, turn_limit_deg: float) -> float:
    """Take pitch and eyelet (mm) and a ring's largest turn (degrees), give the flattest fullness.

    The further a ring can turn on its pole, the flatter the panel can be pulled: a ring turned
    all the way stands at 90 degrees less its turn to the pole's axis.

    ValueError: a measure that makes no fold, or a turn that is not between 0 and 90 degrees.
    """
    if not 0 <= turn_limit_deg <= 90:
        raise ValueError(
            f"turn limit is {turn_limit_deg:g} degrees; it must be between 0 and 90 degrees"
        )
    return at_angle(pitch, outside, 90 - turn_limit_deg).fullness


def largest_turn(opening: float, thickness: float, diameter: float) -> float:
    """Take a ring's opening and thickness and a pole's diameter (mm), give the ring's turn limit.

    Degrees from square on the pole. Along the pole a ring tilted by a leaves
    opening * cos(a) - thickness * sin(a) clear, between the near edge of one rim and the far edge
    of the other; that is the narrowest place, since a tilted rim is flatter there than the pole.

    ValueError: a measure that is not a positive length (thickness may be 0), or no room to hang.
    """
    _check_ring(opening, thickness)
    _check_positive("diameter", diameter)
    if diameter >= opening:
        raise ValueError(
            f"diameter is {diameter:g} mm; the pole must be thinner than the opening, "
            f"{opening:g} mm"
        )
    across = math.hypot(opening, thickness)
    return math.degrees(math.acos(diameter / across) - math.atan2(thickness, opening))


def pole_for_turn(opening: float, thickness: float, angle_deg: float = 45.0) -> float:
    """Take a ring's opening and thickness (mm) and a turn (degrees), give the thickest pole (mm).

    The thickest one on which the ring still turns so far; at 45 degrees (opening - thickness) /
    sqrt(2), which is what an operable panel should have.

    ValueError: a measure that is not a length, an angle outside 0 to 90, or a ring too thick to
    turn so far on any pole.
    """
    _check_ring(opening, thickness)
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


def points(fold: Fold, n: int) -> tuple[tuple[float, float], ...]:
    """Take a fold and the steps from a ring to mid-gap, give one front gap as 2n + 3 points (mm).

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
    """Take pitch and eyelet and sin^2(angle / 2) below 1, give the fold, touching or not."""
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
    """Take pitch and eyelet, give the fold at which neighbours on one side of the pole touch."""

    def clearance(half_sine_squared: float) -> float:
        return _clearance(_fold(pitch, outside, half_sine_squared))

    half_sine_squared = _falling_root(
        clearance, 0.5, clearance(0.5), _OUT_OF_REACH, clearance(_OUT_OF_REACH)
    )
    return _fold(pitch, outside, half_sine_squared)


def _clearance(fold: Fold) -> float:
    """Take a fold at 90 degrees or more, give half the space (mm) to the next one on its side."""
    # It is widest where psi is 90 degrees.
    sine = math.sqrt(0.5) / fold.modulus
    half_width = _along(sine, math.sqrt(1 - sine * sine), fold.modulus) / fold.wave
    return fold.pole_per_gap - half_width


def _wave(pitch: float, outside: float, half_sine_squared: float) -> float:
    """Take pitch and eyelet and sin^2(angle / 2), give the elastica's wave (per mm)."""
    gap = pitch - outside
    cosine_squared = 1 - half_sine_squared
    # F(phi0, modulus) by DLMF 19.25.5, csc^2(phi0) being 1 + cotangent^2(phi0).
    ratio_squared = (outside / gap) ** 2 * cosine_squared

    def integral(half: float) -> float:
        """Take wave * gap / 2, give F(phi0, modulus), which falls as it rises: one root."""
        cotangent_squared = half * half * ratio_squared
        cosecant_squared = 1 + cotangent_squared
        return _rf(cotangent_squared, cosine_squared * cosecant_squared, cosecant_squared)

    most = _rf(0, cosine_squared, 1)
    least = integral(most)
    half = _falling_root(
        lambda half: integral(half) - half, least, integral(least) - least, most, least - most
    )
    return 2 * half / gap


def _take_up(outside: float, half_sine_squared: float, wave: float) -> float:
    """Take a fold's measures, give pitch less pole per gap (mm); F - E by DLMF 19.25.9."""
    cosecant_squared = 1 + _cotangent_squared(outside, half_sine_squared, wave)
    integral = cosecant_squared * _rd(
        cosecant_squared - 1, (1 - half_sine_squared) * cosecant_squared, cosecant_squared
    )
    return half_sine_squared * (2 * outside + 4 / (3 * wave) * integral)


def _cotangent_squared(outside: float, half_sine_squared: float, wave: float) -> float:
    return (wave * outside / 2) ** 2 * (1 - half_sine_squared)


def _along(sine: float, cosine: float, modulus: float) -> float:
    """Take sin(phi), cos(phi) and the modulus, give 2E - F: wave times x from mid-gap."""
    bend = (modulus * sine) ** 2
    first = sine * _rf(cosine * cosine, 1 - bend, 1)
    return first - 2 / 3 * bend * sine * _rd(cosine * cosine, 1 - bend, 1)


# Own code rather than SciPy, which takes longer to import than a hundred panels to plan. Both
# series end at the seventh order; below a hundredth the rest is under a double's resolution.
# B. C. Carlson, Numerical Algorithms 10 (1995) 13-26; DLMF 19.36.1 and 19.36.2 (from memory).


def _rf(x: float, y: float, z: float) -> float:
    """Carlson's R_F of three numbers, none negative and at most one of them 0."""
    mean = (x + y + z) / 3
    spread = 100 * max(abs(mean - x), abs(mean - y), abs(mean - z))
    while spread > mean:
        root_x, root_y, root_z = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        shift = root_x * root_y + root_x * root_z + root_y * root_z
        x, y, z, mean = (x + shift) / 4, (y + shift) / 4, (z + shift) / 4, (mean + shift) / 4
        spread /= 4
    dx, dy = 1 - x / mean, 1 - y / mean
    dz = -dx - dy
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    series = 1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44
    series += -5 * e2**3 / 208 + 3 * e3 * e3 / 104 + e2 * e2 * e3 / 16
    return series / math.sqrt(mean)


def _rd(x: float, y: float, z: float) -> float:
    """Carlson's R_D of three numbers, none negative, z and one of the others positive."""
    mean = (x + y + 3 * z) / 5
    spread = 100 * max(abs(mean - x), abs(mean - y), abs(mean - z))
    scale, total = 1.0, 0.0
    while spread > mean:
        root_x, root_y, root_z = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        shift = root_x * root_y + root_x * root_z + root_y * root_z
        total += scale / (root_z * (z + shift))
        scale /= 4
        x, y, z, mean = (x + shift) / 4, (y + shift) / 4, (z + shift) / 4, (mean + shift) / 4
        spread /= 4
    dx, dy = 1 - x / mean, 1 - y / mean
    dz = -(dx + dy) / 3
    dxy, dz2 = dx * dy, dz * dz
    e2, e3, e4, e5 = dxy - 6 * dz2, (3 * dxy - 8 * dz2) * dz, 3 * (dxy - dz2) * dz2, dxy * dz * dz2
    series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52
    series += 3 * e5 / 26 - e2**3 / 16 + 3 * e3 * e3 / 40 + 3 * e2 * e4 / 20
    series += 45 * e2 * e2 * e3 / 272 - 9 * (e3 * e4 + e2 * e5) / 68
    return 3 * total + scale * series / (mean * math.sqrt(mean))


def _falling_root(
    function: Callable[[float], float], low: float, at_low: float, high: float, at_high: float
) -> float:
    """Take a function that falls through 0, two places about it and its values there, give where.

    Exact to a few last digits; `low` or `high` itself where rounding leaves no fall to search.

    Bisection, with inverse quadratic steps where they are safe: T. R. Chandrupatla, Advances in
    Engineering Software 28 (1997) 145-149 (from memory).
    """
    if at_low <= 0:
        return low
    if at_high >= 0:
        return high
    a, b, fa, fb = high, low, at_high, at_low
    part = 0.5
    while True:
        new = a + part * (b - a)
        value = function(new)
        if (value > 0) == (fa > 0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = new, value
        best = a if abs(fa) < abs(fb) else b
        resolution = 1e-15 * abs(best)
        if fa == 0 or abs(b - a) <= 2 * resolution:
            return best
        xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
        part = 0.5
        if phi * phi < xi and (1 - phi) ** 2 < 1 - xi:
            part = fa / (fb - fa) * fc / (fb - fc)
            part += (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        edge = resolution / abs(b - a)
        part = min(1 - edge, max(edge, part))


def _check_positive(name: str, value: float) -> None:
    if not 0 < value < math.inf:
        raise ValueError(f"{name} is {value:g} mm; it must be a positive length")


def _check_eyelet(pitch: float, outside: float) -> None:
    _check_positive("pitch", pitch)
    _check_positive("outside", outside)
    if outside >= pitch:
        raise ValueError(
            f"outside is {outside:g} mm; it must be less than the pitch, {pitch:g} mm, "
            "for cloth to be left between two eyelets"
        )


def _check_ring(opening: float, thickness: float) -> None:
    _check_positive("opening", opening)
    if not 0 <= thickness < math.inf:
        raise ValueError(f"thickness is {thickness:g} mm; it must be 0 or a positive length")
