"""The seam dot on the folds from above: as far along the cloth as the seam lies flat."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.drawing.marks import Circle
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import INCH
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.from_above import from_above
from drapetemplate.ticket.picture import Picture
from tests.helpers.jobfiles import inches, job_of
from tests.helpers.marks import lines
from tests.helpers.searching import searched

# 12 eyelets of 2 in, 4 in apart: centres from 4 in on, every 6 in, to 70 in of 74.
TWELVE = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nfullness = 2.25"
MM = 1e-6
# A fold drawn in straight steps is a little short of itself, by less than 0.1 %.
SHORT = 1e-3

Point = tuple[float, float]


def above(side: str, *seams: Fraction, scale: int = 4, stacked: bool = False) -> Picture:
    """One panel with seams, from above."""
    window = TWELVE.replace("leading = 3\n", "") if side == "single" else TWELVE
    job = job_of(f'{window}\npanels = "{side}"')
    (panel,) = plan(job, advise=False).windows[0].panels
    assert panel.hang is not None
    seamed = replace(panel, seams=seams)
    return from_above(job, job.windows[0], seamed, panel.hang, typeface(), scale, stacked=stacked)


def dots(drawn: Picture) -> list[Point]:
    """The seam dots, in order."""
    found = (mark for mark in drawn.marks if isinstance(mark, Circle) and mark.role == Role.SEAM)
    return [(float(mark.x), float(mark.y)) for mark in found]


def curve(drawn: Picture, side: str) -> list[Point]:
    """The cloth's points from the leading edge on: a left panel's is at the right."""
    cloth = lines(drawn, Role.CLOTH)
    points = [(float(line.x1), float(line.y1)) for line in cloth]
    points.append((float(cloth[-1].x2), float(cloth[-1].y2)))
    return points[::-1] if side == "left" else points


def along(points: list[Point], spot: Point) -> Iterator[float]:
    """How far along a line of points a spot on it is; nothing where it isn't on it."""
    gone = 0.0
    for one, two in pairwise(points):
        if dist(one, spot) + dist(spot, two) - dist(one, two) < MM:
            yield gone + dist(one, spot)
        gone += dist(one, two)


def check(side: str, seam: Fraction, scale: int, *, stacked: bool) -> None:
    """A seam's dot is on the cloth, its flat distance from the leading edge along it."""
    drawn = above(side, seam, scale=scale, stacked=stacked)
    (dot,) = dots(drawn)
    found = next(along(curve(drawn, side), dot), None)
    assert found is not None, "not on the cloth"
    assert found * scale == pytest.approx(float(seam), rel=SHORT)
    # Within its own gap it is as true: the steps before it don't count.
    centers = [(4 + 6 * n) * INCH for n in range(12)]
    n = bisect_right(centers, seam) - 1
    rings = lines(drawn, Role.RING)
    ring = rings[n if side != "left" else 11 - n]
    middle = (float(ring.x1 + ring.x2) / 2, float(ring.y1 + ring.y2) / 2)
    start = next(along(curve(drawn, side), middle))
    assert (found - start) * scale == pytest.approx(float(seam - centers[n]), rel=SHORT, abs=MM)


@pytest.mark.parametrize("side", ["left", "right", "single"])
@pytest.mark.parametrize("stacked", [False, True])
@pytest.mark.parametrize("seam", ["11 5/8", "23 5/8", "47 5/8", "50 1/4", "67"])
def test_as_far_along_as_flat(side: str, seam: str, *, stacked: bool) -> None:
    """Closed or pushed together, the seam is where that much cloth has gone by."""
    check(side, inches(seam), 4, stacked=stacked)


@searched(40)
@given(
    seam=st.fractions(4, 70, max_denominator=64).filter(lambda x: 4 < x < 70),
    side=st.sampled_from(["left", "right"]),
    scale=st.sampled_from([1, 5, 24]),
    stacked=st.booleans(),
)
def test_anywhere_along(seam: Fraction, side: str, scale: int, *, stacked: bool) -> None:
    """The same for a seam anywhere between the first and the last centre, at any scale."""
    check(side, seam * INCH, scale, stacked=stacked)


@pytest.mark.parametrize("stacked", [False, True])
@pytest.mark.parametrize("seam", ["11 5/8", "47 5/8", "62 1/2"])
def test_mirrored(seam: str, *, stacked: bool) -> None:
    """A pair's seams are mirror images: as far from the leading end's ring, as far off the pole."""
    places = []
    for side in ("right", "left"):
        drawn = above(side, inches(seam), stacked=stacked)
        rings = [(float(r.x1 + r.x2) / 2, float(r.y1 + r.y2) / 2) for r in lines(drawn, Role.RING)]
        lead, sign = (rings[0], 1) if side == "right" else (rings[-1], -1)
        ((x, y),) = dots(drawn)
        places.append((sign * (x - lead[0]), y - lead[1]))
        assert places[-1][0] > 0
    assert places[0] == pytest.approx(places[1], abs=MM)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("stacked", [False, True])
@pytest.mark.parametrize(
    # Gaps alternate from the leading edge, front first: 4 to 10 in, then a back one to 16 in.
    ("seam", "behind"),
    [("6", False), ("13", True), ("11 5/8", True), ("19", False), ("67", False), ("61", True)],
)
def test_side_of_the_pole(side: str, seam: str, *, behind: bool, stacked: bool) -> None:
    """A seam in a back gap lies behind the pole, toward the wall; in a front gap in the room."""
    drawn = above(side, inches(seam), stacked=stacked)
    ((_, y),) = dots(drawn)
    (axis,) = lines(drawn, Role.POLE_AXIS)
    assert (y > float(axis.y1)) == behind


def test_mid_gap_is_deepest() -> None:
    """A seam in the middle of a back gap is at the fold's depth, half way between two rings."""
    drawn = above("right", 13 * INCH)
    ((x, y),) = dots(drawn)
    assert y == pytest.approx(max(float(line.y1) for line in lines(drawn, Role.REACH)), abs=MM)
    two, three = lines(drawn, Role.RING)[1:3]
    assert x == pytest.approx(float(two.x1 + two.x2 + three.x1 + three.x2) / 4, abs=MM)


def test_a_dot_for_each_seam() -> None:
    """Each seam between the first and the last eyelet has its dot; without seams there is none."""
    seams = [inches(seam) for seam in ("11 5/8", "35 5/8", "59 5/8")]
    for side in ("left", "right"):
        found = dots(above(side, *seams))
        xs = [x for x, _ in found]
        assert len(set(xs)) == 3
        assert xs == sorted(xs, reverse=side == "left")
    assert dots(above("right")) == []


@pytest.mark.parametrize("seam", ["1", "3 1/2", "72", "70"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_beyond_the_eyelets(side: str, seam: str) -> None:
    """A seam outside the first and last centre is on no fold, and isn't drawn on a wrong one."""
    assert dots(above(side, inches(seam))) == []
