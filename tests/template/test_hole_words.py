"""What stands in a hole: that this is the circle to cut, and how far across it is.

Whether words lie inside a circle is asked of their corners, in the font that is printed.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.marks import Circle, Line, Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import INCH
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.template.panel_drawing import template
from drapetemplate.template.strip import Template
from drapetemplate.wording import number
from tests.helpers.jobfiles import job_of

CAPITAL = 0.729  # of the size, as `printed/test_letter_sizes` measures it


def made(hole: Fraction | str, *, seamed: bool = False) -> Template:
    """The first panel's strip, of an eyelet with this hole, in inches.

    Where it is `seamed` its seam runs through the fourth hole.
    """
    sizes = (Fraction(hole) + Fraction(1, 2), Fraction(hole) * 3 / 4, Fraction(hole))
    keys = zip(("outside", "opening", "hole"), map(number, sizes), strict=True)
    eyelet = "\n".join(f'{key} = "{size}"' for key, size in keys)
    job = job_of("width = 60\ncount = 8", eyelet=eyelet)
    (planned,) = plan(job, advise=False).windows
    panel = planned.panels[0]
    panel = replace(panel, seams=(panel.centers[3],)) if seamed else panel
    return template(job, planned, panel, typeface())


def said(found: Template) -> list[Text]:
    """The words in holes."""
    return [m for m in found.marks if isinstance(m, Text) and m.role == Role.HOLE_WORDS]


def apart(one: Mark, other: Mark) -> bool:
    """True where two marks' boxes don't meet."""
    a, b = drawing.box(one), drawing.box(other)
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        ("27/16", ["hole 1 11/16 in"]),  # in one line under the cross
        ("17/16", ["hole", "1 1/16 in"]),  # over it and under
        ("1/4", []),
    ],
)
def test_words(hole: str, words: list[str]) -> None:
    """Each hole says that it is one and how large, in as many lines as it has room for."""
    found = made(hole)
    assert [mark.text for mark in said(found)] == words * 8


@given(st.fractions(Fraction(1, 8), 3, max_denominator=16))
def test_in_the_hole_and_clear_of_the_cross(hole: Fraction) -> None:
    """Corners lie in the circle, 1/2 mm off its line; no word meets the cross; all can be read."""
    found = made(hole)
    holes = [m for m in found.marks if isinstance(m, Circle) and m.role == Role.HOLE]
    crosses = [m for m in found.marks if isinstance(m, Line) and m.role == Role.CENTER_CROSS]
    for mark in said(found):
        assert mark.size * CAPITAL >= 2.2
        ring = min(holes, key=lambda one: abs(float(one.x) - float(mark.x)))
        left, low, right, high = drawing.box(mark)
        far = max(
            hypot(x - float(ring.x), y - float(ring.y)) for x in (left, right) for y in (low, high)
        )
        assert far <= hole * INCH / 2 - Fraction(1, 2)
        assert all(apart(mark, cross) for cross in crosses)


def test_a_seam_in_the_hole_leaves_no_room() -> None:
    """Where a seam's line runs through a hole its words would be struck through: it has none."""
    found = made("27/16", seamed=True)
    [seam] = [m for m in found.marks if isinstance(m, Line) and m.role == Role.SEAM]
    assert len(said(found)) == 7
    assert all(apart(mark, seam) for mark in said(found))
