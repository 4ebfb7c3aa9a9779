"""Seams against a search that shares nothing with theirs: every place on a coarse grid, tried.

Cloth is tried too: a plan is one only if its pieces can be laid on drops, each at some whole unit
from the left selvage, so that the pattern is the same on both sides of every seam.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from drapetemplate.errors import JobError
from tests.helpers.rows import seams_of
from tests.helpers.seam_grid import (
    Grid,
    check,
    check_extra,
    check_pairs,
    fewest,
    fewest_drops,
    grid,
    lies,
    pair_shares,
    plans,
)


@pytest.mark.parametrize("seed", range(4))
def test_no_fewer_drops_with_more_seams(seed: int) -> None:
    """Seams more than needed, with every place and every way to share drops tried."""
    pick = random.Random(seed)  # noqa: S311
    for _ in range(40):
        check_extra(replace(grid(pick), repeat=0, panels=pick.randint(1, 4)))


@pytest.mark.parametrize("seed", range(3))
def test_no_fewer_drops_of_patterned_cloth(seed: int) -> None:
    """The same with a pattern: every place of every piece where its seams match is tried."""
    pick = random.Random(seed)  # noqa: S311
    tried = 0
    while tried < 40:
        problem = grid(pick)
        repeat = problem.repeat or pick.randint(2, problem.width // pick.randint(1, 6))
        panels = pick.randint(1, 4)
        problem = replace(problem, repeat=repeat, panels=panels)
        if problem.width <= 60 and problem.total <= 90 and fewest(problem) in {1, 2}:
            tried += 1
            check_extra(problem)
            check_pairs(replace(problem, panels=min(4, 2 * panels)))


@pytest.mark.parametrize("seed", range(4))
def test_a_pair_shares_patterned_cloth(seed: int) -> None:
    """A pair's like pieces share a drop wherever both can be laid on it, each from its selvage.

    Of panels of up to two pieces, no more than they need. Left panels are mirror images, with the
    pattern's place as far from the right selvage as the others' is from the left one.
    """
    pick = random.Random(seed)  # noqa: S311
    tried = 0
    while tried < 60:
        problem = grid(pick)
        repeat = problem.repeat or pick.randint(2, problem.width // pick.randint(1, 6))
        problem = replace(problem, repeat=repeat, panels=2)
        least = fewest(problem)
        if least not in {1, 2}:
            continue
        hiding = [n for n in range(1, problem.total) if problem.gap_of(n) is not None]
        ways = [*plans(problem, least, hiding)]
        if ways:
            tried += 1
            made = seams_of(problem.cloth(), problem.row(), 2, pairs=True)
            shares = any(pair_shares(problem, widths) for widths in ways)
            assert made.drops == 2 * least - shares, problem
            assert lies(problem, made), problem


@pytest.mark.parametrize(
    ("problem", "pairs", "drops"),
    [
        # On one drop the return piece and the leading one, in this order and in the other.
        (Grid(76, 2, 42, 10, 3, 1, 4, 14, (4, 2), hooks=False), False, 6),
        (Grid(74, 3, 42, 2, 2, 1, 5, 10, (6, 7), hooks=False), False, 4),
        # Of a pair, and of two.
        (Grid(76, 2, 42, 10, 2, 1, 4, 14, (4, 2), hooks=False), True, 4),
        (Grid(109, 2, 60, 4, 4, 2, 5, 14, (6, 6), hooks=False), True, 8),
    ],
)
def test_different_pieces_share_patterned_cloth(problem: Grid, drops: int, *, pairs: bool) -> None:
    """Pieces of several kinds share drops where it takes more seams to hide them all."""
    made = seams_of(problem.cloth(), problem.row(), problem.panels, pairs=pairs)
    hiding = [n for n in range(1, problem.total) if problem.gap_of(n) is not None]
    assert made.drops == fewest_drops(problem, len(made.pieces), hiding, pairs=pairs) == drops
    assert any(len({*layout.pieces}) > 1 for layout in made.layouts)
    assert lies(problem, made)


def test_three_kinds_of_shared_drops() -> None:
    """Five panels take eight drops with two seams each, which three kinds of drops bring about.

    The search once filled drops in an order in which it missed one of them, and took nine.
    """
    problem = Grid(125, 0, 90, 0, 5, 4, 8, 10, (8, 5), hooks=False)
    made = seams_of(problem.cloth(), problem.row(), problem.panels, extra_seams=1)
    hiding = [n for n in range(1, problem.total) if problem.gap_of(n) is not None]
    assert made.drops == fewest_drops(problem, 3, hiding) == 8
    assert lies(problem, made)


@pytest.mark.parametrize("seed", range(12))
def test_no_other_plan_is_better(seed: int) -> None:
    """Trying every place on the grid finds no plan better than the one made, nor a worse best.

    All ends of gaps are whole units, and widths are so that halves and thirds are too.
    """
    pick = random.Random(seed)  # noqa: S311
    tried = 0
    while tried < 60:
        problem = grid(pick)
        least = fewest(problem)
        if least is not None:
            tried += 1
            check(problem, least)


@pytest.mark.parametrize(
    "problem",
    [
        # The first piece shares, and only as all seams stand farther from the left selvage.
        Grid(33, 2, 30, 3, 5, 2, 4, 4, (2, 7), hooks=False),
        Grid(102, 1, 46, 14, 5, 4, 4, 12, (1, 7), hooks=False),
        # A gap with one place for a seam, where one beside it that shows is farther.
        Grid(49, 3, 22, 5, 4, 2, 4, 6, (6, 5), hooks=False),
        # Three places a seam, which the last piece cuts down to fewer than it has.
        Grid(93, 3, 34, 4, 5, 1, 5, 14, (5, 3), hooks=False),
    ],
)
def test_rare_problems(problem: Grid) -> None:
    """Problems too rare to be met by chance."""
    least = fewest(problem)
    assert least is not None
    check(problem, least)


def test_no_plan_is_refused() -> None:
    """Where the search finds no plan as the repeat is too large for any seam, there is a fault."""
    pick = random.Random(12)  # noqa: S311
    tried = 0
    while tried < 20:
        problem = grid(pick)
        if problem.repeat <= problem.width - 2:
            continue
        if fewest(problem) is None:
            tried += 1
            with pytest.raises(JobError):
                seams_of(problem.cloth(), problem.row(), problem.panels)
        else:
            assert seams_of(problem.cloth(), problem.row(), problem.panels).seams == ()
