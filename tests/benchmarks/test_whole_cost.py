"""The bounds that no release may pass: ratios in one run, as `tests.benchmarks.bench` has them."""

from __future__ import annotations

import pytest

from tests.benchmarks import bench

pytestmark = pytest.mark.long


def held(figures: list[bench.Figure]) -> None:
    """Every ratio is at most its bound; -s shows them."""
    print("\n" + bench.table(figures))  # noqa: T201  # read with -s
    for figure in figures:
        assert figure.ratio <= figure.bound, figure


def test_make() -> None:
    """The whole process of making twelve sheets costs at most twice a bare one's."""
    held([bench.whole()])


def test_starting() -> None:
    """The version and help are told in little more than Python and the parser take to load."""
    held(list(bench.starting()))


def test_drawing() -> None:
    """Drawing and its bytes cost little more than the bare calls."""
    held(list(bench.drawing()))


def test_measure() -> None:
    """Measuring costs little more than reading the pages alone."""
    held([bench.measuring()])


def test_growth() -> None:
    """Cost grows no faster than the panel."""
    held([bench.growth()])


def test_shelf() -> None:
    """A PDF on the shelf costs a few times its bytes and its job: at the bound 1,000 take 3 s.

    To order for it costs little more than to plan it, however many there are.
    """
    held(bench.shelved())


def test_many() -> None:
    """Many jobs in one call: cheaper than one by one, flat in memory."""
    held(bench.many(100))
