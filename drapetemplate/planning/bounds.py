"""Whether a few numbers can keep to linear bounds, and the least numbers that do: exact.

A bound is a row of whole factors and a most: the numbers, each times its factor and added up, come
to no more than that. Numbers are taken out one after the other, last first, by adding each bound
that holds one down to each that holds it up (Fourier and Motzkin's elimination, from memory). That
grows fast with the numbers, so it is for the seams of one panel and not for more.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import gcd
from typing import NamedTuple


class Bound(NamedTuple):
    """The numbers, each times its factor and added up, are `most` at most."""

    factors: tuple[int, ...]
    most: int | Fraction


def least_point(bounds: Iterable[Bound], size: int) -> tuple[Fraction, ...] | None:
    """Return the numbers within all bounds, the first one least, then the next; None if none are.

    Every number must have a bound that holds it up.

    >>> boxes = [Bound((-1, 0), -2), Bound((1, 0), 9), Bound((0, -1), -5), Bound((0, 1), 9)]
    >>> [int(number) for number in least_point([*boxes, Bound((-1, 1), 1)], 2)]
    [4, 5]
    >>> least_point([*boxes, Bound((1, 1), 6)], 2) is None
    True
    """
    systems = [_tightest(bounds)]
    for n in reversed(range(size)):
        system = systems[-1]
        if _broken(system):
            return None
        upper = [bound for bound in system if bound.factors[n] > 0]
        lower = [bound for bound in system if bound.factors[n] < 0]
        without = [bound for bound in system if not bound.factors[n]]
        systems.append(_tightest([*without, *(_sum(up, low, n) for up in upper for low in lower)]))
    if _broken(systems.pop()):
        return None
    point: list[Fraction] = []
    for n in range(size):
        point.append(
            max(
                (most - sum(factors[i] * point[i] for i in range(n))) / Fraction(factors[n])
                for factors, most in systems.pop()
                if factors[n] < 0
            )
        )
    return tuple(point)


def _sum(upper: Bound, lower: Bound, n: int) -> Bound:
    """Return the bound that two make together when number `n` is taken out of them."""
    up, low = -lower.factors[n], upper.factors[n]
    return Bound(
        tuple(up * a + low * b for a, b in zip(upper.factors, lower.factors, strict=True)),
        up * upper.most + low * lower.most,
    )


def _tightest(bounds: Iterable[Bound]) -> list[Bound]:
    """Return the bounds in their least whole factors, the tightest of those alike."""
    tightest: dict[tuple[int, ...], int | Fraction] = {}
    for factors, most in bounds:
        shared = gcd(*factors)
        if shared > 1:
            factors = tuple(factor // shared for factor in factors)  # noqa: PLW2901
            most = Fraction(most, shared)  # noqa: PLW2901
        if factors not in tightest or most < tightest[factors]:
            tightest[factors] = most
    return [Bound(factors, most) for factors, most in tightest.items()]


def _broken(system: Iterable[Bound]) -> bool:
    """Return whether a bound without any number left in it asks for the impossible."""
    return any(most < 0 and not any(factors) for factors, most in system)
