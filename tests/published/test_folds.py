"""The classical elastica, eyelets vanishing: folds against published constants."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special

from drapetemplate.errors import JobError
from drapetemplate.planning import elliptic, folds
from tests.helpers.jobfiles import mixed, panel_of
from tests.helpers.searching import searched

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


def test_complete_integrals() -> None:
    """The tool's own integrals, and SciPy's, are the published K and E of modulus 1 / sqrt(2).

    K = R_F(0, 1 - m, 1) and E = K - m/3 R_D(0, 1 - m, 1): DLMF 19.25.1 (from memory).
    """
    first = elliptic.rf(0, 0.5, 1)
    second = first - elliptic.rd(0, 0.5, 1) / 6
    assert (first, second) == pytest.approx((K_SQUARE, E_SQUARE), abs=5e-16, rel=0)
    assert (special.ellipk(0.5), special.ellipe(0.5)) == pytest.approx((first, second), abs=5e-16)


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


@pytest.mark.parametrize(("angle", "fullness"), [(30, 1.072464), (60, 1.349492)])
def test_elastica_table(angle: float, fullness: float) -> None:
    """Fullness 1 / (2E/K - 1), from K and E of Abramowitz & Stegun table 17.1."""
    fold = folds.at_angle(PITCH, VANISHING, angle)
    assert fullness == pytest.approx(fold.fullness, abs=5e-7)
    assert folds.solve(PITCH, VANISHING, fullness).angle_deg == pytest.approx(angle, abs=1e-3)


def test_overlap_at_120() -> None:
    """At 120 degrees (fullness 8.11952 by the same table) neighbours overlap, which is refused."""
    with pytest.raises(ValueError, match=r"touch at 117\.540"):
        folds.at_angle(PITCH, VANISHING, 120)


def test_rectangular_elastica_of_a_job() -> None:
    """As a job: eyelets of nothing every 100 mm, fullness 2.188440, rings square to the pole."""
    # Eyelets of 1/1000 mm: W = 15 x 100 + 0.001 + 2 x 50.
    panel = panel_of(
        'panels = "single"\nwidth = 1600.001\nreturn = 50\ncount = 16\nfullness = 2.188440',
        head='units = "mm"',
        eyelet="outside = 0.001\nopening = 0.0005",
    )
    assert panel.pitch == 100
    assert panel.hang is not None
    closed = panel.hang.closed
    # Half a digit of the fullness is 1e-5 degrees; eyelets of 1e-5 of the pitch turn more.
    assert pytest.approx(closed.angle_deg, abs=2e-3) == 90
    assert pytest.approx(closed.depth, abs=2e-3) == 38.1380
    assert pytest.approx(closed.pole_per_gap, abs=2e-5) == 45.6946581


@searched(200)
@given(
    width=st.integers(30, 120),
    outside=st.integers(4, 60),
    count=st.sampled_from([None, 4, 8, 12]),
    hundredths=st.integers(101, 500),
)
def test_no_fold_is_deeper_than_its_cloth_is_long(
    width: int, outside: int, count: int | None, hundredths: int
) -> None:
    """Half a pitch of cloth reaches no further than sqrt(P^2 - q^2)/2, nor stacked than P/2.

    The triangle inequality: from a ring's centre to mid-gap it is half the pole per gap along the
    pole, and the depth across.
    """
    body = f"width = {width}\nreturn = 3\nfullness = {hundredths / 100}"
    ring = f'outside = "{mixed(Fraction(outside, 16))}"\nopening = "{mixed(Fraction(outside, 32))}"'
    try:
        panel = panel_of(body if count is None else f"{body}\ncount = {count}", eyelet=ring)
    except JobError:
        return  # too narrow for its eyelets, or fuller than they allow
    assert panel.hang is not None
    pitch, taken = float(panel.pitch), panel.hang.closed.pole_per_gap
    assert pytest.approx(hundredths / 100) == pitch / taken
    assert 0 < panel.hang.closed.depth <= math.sqrt(pitch**2 - taken**2) / 2 * (1 + 1e-9)
    assert panel.hang.depth_stacked == panel.pitch / 2
