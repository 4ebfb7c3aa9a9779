"""The classical elastica, eyelets vanishing: folds against published constants."""

from __future__ import annotations

import math

import pytest

from drapetemplate.planning import folds

PITCH = 100.0
# So small that the fold is the classical elastica to a dozen digits.
VANISHING = 1e-11

# OEIS A093341 and A257407; Abramowitz & Stegun section 18.14.7.
K_SQUARE = 1.854074677301372
E_SQUARE = 1.350643881047676
# OEIS A076390: the second lemniscate constant, B.
LEMNISCATE_B = 0.599070117367796


def test_integrals_square() -> None:
    """The rectangular elastica's wave and span give K and E of modulus 1 / sqrt(2)."""
    fold = folds.at_angle(PITCH, VANISHING, 90)
    first = fold.wave * PITCH / 2
    assert pytest.approx(first, abs=1e-12) == K_SQUARE
    assert pytest.approx((first + fold.wave * fold.pole_per_gap / 2) / 2, abs=1e-12) == E_SQUARE


def test_rectangular_elastica() -> None:
    """Ends square to the axis: chord, fullness and depth, from K and E of 1 / sqrt(2)."""
    fold = folds.at_angle(PITCH, VANISHING, 90)
    assert pytest.approx(fold.pole_per_gap / PITCH, abs=5e-10) == 0.456946581
    assert pytest.approx(fold.fullness, abs=5e-7) == 2.188440
    assert pytest.approx(fold.depth / PITCH, abs=5e-7) == 0.381380
    assert pytest.approx(folds.solve(PITCH, VANISHING, fold.fullness).angle_deg, abs=1e-9) == 90


def test_rectangular_elastica_lemniscate() -> None:
    """Half its chord over its depth is B, its chord over its arc B over pi / (4B)."""
    fold = folds.at_angle(PITCH, VANISHING, 90)
    assert pytest.approx(fold.pole_per_gap / 2 / fold.depth, abs=1e-12) == LEMNISCATE_B
    expected = LEMNISCATE_B / (math.pi / (4 * LEMNISCATE_B))
    assert expected == pytest.approx(fold.pole_per_gap / PITCH, abs=1e-12)


@pytest.mark.parametrize(
    ("angle", "fullness", "digit"),
    [(30, 1.072464, 1e-6), (60, 1.349492, 1e-6), (120, 8.11952, 1e-5)],
)
def test_elastica_table(angle: float, fullness: float, digit: float) -> None:
    """Fullness 1 / (2E/K - 1), from K and E of Abramowitz & Stegun table 17.1.

    At 120 degrees neighbouring folds overlap, so that figure checks the curve and makes no panel.
    """
    fold = folds._fold(PITCH, VANISHING, math.sin(math.radians(angle) / 2) ** 2)
    assert fullness == pytest.approx(fold.fullness, abs=digit / 2)


def test_overlap_at_120() -> None:
    """120 degrees is past the largest angle of the classical elastica, which folds refuse."""
    with pytest.raises(ValueError, match=r"touch at 117\.540"):
        folds.at_angle(PITCH, VANISHING, 120)
