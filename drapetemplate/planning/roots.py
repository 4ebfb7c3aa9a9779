"""Where a falling function is 0."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


def falling_root(
    function: Callable[[float], float], low: float, at_low: float, high: float, at_high: float
) -> float:
    """Return where a function falls through 0, from two places about that and its values there.

    Exact to a few last digits; `low` or `high` itself where rounding leaves no fall to search.

    >>> round(falling_root(lambda x: 2 - x * x, 1, 1, 2, -2), 12)
    1.414213562373

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
