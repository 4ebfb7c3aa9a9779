"""Carlson's integrals against SciPy's."""

from __future__ import annotations

import pytest
from scipy import special

from drapetemplate.planning import elliptic


@pytest.mark.parametrize("square", [0.0, 1e-20, 1e-4, 0.3, 1.0, 7.0, 1e10, 1e20])
@pytest.mark.parametrize("part", [0.05, 0.3, 0.5, 0.9, 1.0])
def test_carlson_scipy(square: float, part: float) -> None:
    """R_F and R_D are SciPy's over the arguments the folds use."""
    arguments = square, part * (1 + square), 1 + square
    assert float(special.elliprf(*arguments)) == pytest.approx(elliptic.rf(*arguments), rel=2e-15)
    assert float(special.elliprd(*arguments)) == pytest.approx(elliptic.rd(*arguments), rel=2e-15)
