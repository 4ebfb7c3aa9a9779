"""Elliptic integrals in Carlson's symmetric forms R_F and R_D: plain numbers in and out.

In terms of Legendre's, with c = 1/sin^2(phi) and k^2 = m (DLMF 19.25.5 and 19.25.9):

    F(phi, k)             = R_F(c - 1, c - m, c)
    F(phi, k) - E(phi, k) = m/3 * R_D(c - 1, c - m, c)

Own code rather than SciPy, which takes longer to import than a hundred panels to plan. Both series
end at the seventh order; below a hundredth the rest is under a double's resolution.
B. C. Carlson, Numerical Algorithms 10 (1995) 13-26; DLMF 19.36.1 and 19.36.2 (from memory).
"""

from __future__ import annotations

import math


def rf(x: float, y: float, z: float) -> float:
    """Return Carlson's R_F of three numbers, none negative and at most one of them 0.

    It is 1 of three ones, and K of modulus k is R_F(0, 1 - k^2, 1):

    >>> rf(1, 1, 1), round(rf(0, 0.5, 1), 12)
    (1.0, 1.854074677301)
    """
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


def rd(x: float, y: float, z: float) -> float:
    """Return Carlson's R_D of three numbers, none negative, z and one of the others positive.

    >>> rd(1, 1, 1)
    1.0
    """
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
