"""Marks cut to a window: nothing added, nothing lost, dashes and arcs where they were."""

from __future__ import annotations

from fractions import Fraction
from math import cos, hypot, isclose, radians, sin, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drapetemplate.drawing.clip import Area, clipped
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Number, Pen, Polygon, Text
from drapetemplate.drawing.roles import Role
from tests.helpers.searching import searched

PEN = Pen(0.3)
DASHED = Pen(0.3, (6, 1.5, 1, 1.5))
WINDOW: Area = (Fraction(0), Fraction(0), Fraction(100), Fraction(50))

numbers = st.integers(-200, 200).map(lambda n: Fraction(n, 2))


@st.composite
def windows(draw: st.DrawFn) -> Area:
    """Any window with room in it."""
    left, right = sorted(draw(st.tuples(numbers, numbers)))
    bottom, top = sorted(draw(st.tuples(numbers, numbers)))
    assume(left < right)
    assume(bottom < top)
    return left, bottom, right, top


circles = st.builds(
    Circle,
    x=numbers,
    y=numbers,
    r=st.integers(1, 200).map(lambda n: Fraction(n, 2)),
    pen=st.just(PEN),
    role=st.just(Role.OUTSIDE),
)


def point(arc: Arc, part: float) -> tuple[float, float]:
    """A point `part` of the way along an arc."""
    angle = radians(arc.start + part * arc.sweep)
    return float(arc.x + arc.r * cos(angle)), float(arc.y + arc.r * sin(angle))


def holds(window: Area, x: Number, y: Number, slack: float = 0.0) -> bool:
    """True where a point lies in a window."""
    left, bottom, right, top = window
    return left - slack <= x <= right + slack and bottom - slack <= y <= top + slack


@searched(100)
@given(circles, windows())
def test_arcs(circle: Circle, window: Area) -> None:
    """A circle's parts and what lies outside add up to 360 degrees; every part is inside.

    What lies outside is counted degree by degree, a crossing's own tenths aside.
    """
    parts = list(clipped(circle, window))
    if parts == [circle]:
        assert holds(window, float(circle.x - circle.r), float(circle.y - circle.r))
        assert holds(window, float(circle.x + circle.r), float(circle.y + circle.r))
        return
    arcs = [part for part in parts if isinstance(part, Arc)]
    assert len(parts) == len(arcs)
    for arc in arcs:
        assert all(holds(window, *point(arc, part), 1e-6) for part in (0.01, 0.5, 0.99))
    steps = 3600
    whole = Arc(circle.x, circle.y, circle.r, 0, 360, PEN, Role.OUTSIDE)
    out = sum(not holds(window, *point(whole, i / steps)) for i in range(steps)) * 360 / steps
    # Each of at most eight crossings is off by a step at most.
    assert sum(arc.sweep for arc in arcs) + out == pytest.approx(360, abs=8 * 360 / steps)


@given(circles, numbers)
def test_halves(circle: Circle, at: Fraction) -> None:
    """Cut by one line, the two sides' parts are the whole circle."""
    assume(abs(float(at - circle.x)) < float(circle.r))
    far = Fraction(10_000)
    sides: list[Area] = [(-far, -far, at, far), (at, -far, far, far)]
    parts = [part for side in sides for part in clipped(circle, side)]
    sweeps = [part.sweep for part in parts if isinstance(part, Arc)]
    assert len(sweeps) == 2
    assert sum(sweeps) == pytest.approx(360, abs=1e-6)


def test_half_circle() -> None:
    """A circle on the window's right side leaves its left half: from 90 over 180 degrees."""
    circle = Circle(Fraction(100), Fraction(25), Fraction(10), PEN, Role.HOLE)
    assert [Arc(Fraction(100), Fraction(25), Fraction(10), 90.0, 180.0, PEN, Role.HOLE)] == list(
        clipped(circle, WINDOW)
    )


def test_touching_circle() -> None:
    """A circle that touches the window's side from within is whole."""
    circle = Circle(Fraction(90), Fraction(25), Fraction(10), PEN, Role.HOLE)
    assert [circle] == list(clipped(circle, WINDOW))


@pytest.mark.parametrize("beyond", [1, -1])
def test_touching_circle_outside(beyond: int) -> None:
    """One that touches a side from beyond it leaves nothing, not a dot, however floats round it."""
    near = [(Fraction(n, 7), Fraction(n, 30)) for n in range(300, 320)]
    far = [(Fraction(n, 7), Fraction(1651, 80)) for n in range(699_980, 700_000)]
    for side, r in near + far:
        circle = Circle(side + beyond * r, Fraction(25), r, PEN, Role.HOLE)
        turned = Circle(Fraction(25), side + beyond * r, r, PEN, Role.HOLE)
        low, high = (Fraction(0), side) if beyond > 0 else (side, side + 100)
        assert list(clipped(circle, (low, Fraction(0), high, Fraction(50)))) == []
        assert list(clipped(turned, (Fraction(0), low, Fraction(50), high))) == []


def test_arcs_beside_a_corner() -> None:
    """A circle of 10 about (30, 40), cut 8 right of it and 5 below, keeps two arcs.

    The sides cross it at 36.87 and 323.13 degrees, cos 0.8, and at 210 and 330, sin -0.5. So the
    corner at (38, 35) lies inside of it, and the circle is in the window from 36.87 over the top to
    210, and where y is over 35 again, from 330, x is over 38 already.
    """
    circle = Circle(Fraction(30), Fraction(40), Fraction(10), PEN, Role.HOLE)
    window = (Fraction(10), Fraction(35), Fraction(38), Fraction(60))
    [arc] = clipped(circle, window)
    assert isinstance(arc, Arc)
    assert (arc.start, arc.start + arc.sweep) == pytest.approx((36.8699, 210), abs=1e-4)
    # At x = 39.9, 9.9 from the centre, whose cos is 8.1096 degrees, the corner lies outside: two.
    window = (Fraction(10), Fraction(35), Fraction(399, 10), Fraction(60))
    arcs = [arc for arc in clipped(circle, window) if isinstance(arc, Arc)]
    found = sorted((arc.start % 360, arc.sweep) for arc in arcs)
    expected = [(8.1096, 210 - 8.1096), (330, 30 - 8.1096)]
    assert [pytest.approx(pair, abs=1e-4) for pair in expected] == found


def test_circle_round_window() -> None:
    """A window wholly inside a circle shows none of its line."""
    assert list(clipped(Circle(50, 25, 80, PEN, Role.OUTSIDE), WINDOW)) == []


@given(windows(), numbers, numbers, numbers, numbers)
def test_lines(window: Area, x1: Fraction, y1: Fraction, x2: Fraction, y2: Fraction) -> None:
    """A line's part lies inside, on the line, and its dashes go on as the uncut line's."""
    assume((x1, y1) != (x2, y2))
    line = Line(x1, y1, x2, y2, DASHED, Role.CENTER_LINE, 0.25)
    parts = list(clipped(line, window))
    assert len(parts) <= 1
    for part in parts:
        assert isinstance(part, Line)
        for x, y in ((part.x1, part.y1), (part.x2, part.y2)):
            assert holds(window, x, y)
            assert (x - x1) * (y2 - y1) == (y - y1) * (x2 - x1)
        gone = hypot(part.x1 - x1, part.y1 - y1)
        assert isclose(part.phase, 0.25 + gone, abs_tol=1e-9)
    for i in range(101):
        x, y = x1 + (x2 - x1) * Fraction(i, 100), y1 + (y2 - y1) * Fraction(i, 100)
        left, bottom, right, top = window
        if left < x < right and bottom < y < top:
            [part] = parts
            assert isinstance(part, Line)
            assert min(part.x1, part.x2) <= x <= max(part.x1, part.x2)
            assert min(part.y1, part.y2) <= y <= max(part.y1, part.y2)


def test_line_cut_twice() -> None:
    """A line across the window keeps what is inside; its dashes began 30 before."""
    line = Line(Fraction(-30), Fraction(20), Fraction(130), Fraction(20), DASHED, Role.BAND_LINE)
    expected = Line(
        Fraction(0), Fraction(20), Fraction(100), Fraction(20), DASHED, Role.BAND_LINE, 30
    )
    assert [expected] == list(clipped(line, WINDOW))


def test_slanted_phase() -> None:
    """Dashes are counted along the line, not along an axis."""
    line = Line(Fraction(-10), Fraction(-10), Fraction(20), Fraction(20), DASHED, Role.GUIDE)
    [part] = clipped(line, WINDOW)
    assert isinstance(part, Line)
    assert part.phase == pytest.approx(10 * sqrt(2))


@pytest.mark.parametrize("x", [0, 100])
def test_line_on_side(x: int) -> None:
    """A line along the window's side is inside."""
    line = Line(Fraction(x), Fraction(0), Fraction(x), Fraction(50), PEN, Role.GUIDE)
    assert [line] == list(clipped(line, WINDOW))


@pytest.mark.parametrize(
    "line",
    [
        Line(-5, 0, -5, 50, PEN, Role.GUIDE),
        Line(-10, 60, 110, 60, PEN, Role.BAND_LINE),
        Line(-20, 10, 0, 10, PEN, Role.GUIDE),  # touches with its end alone
    ],
)
def test_line_outside(line: Line) -> None:
    """A line outside, or with no more than an end on the side, leaves nothing."""
    assert list(clipped(line, WINDOW)) == []


TEXT = Text(50.0, 25.0, "F", 10.0, 7.0, "middle", True, 0, Role.LETTER_FRONT)  # noqa: FBT003  # bold
WEDGE = Polygon(
    ((Fraction(0), Fraction(7)), (Fraction(5), Fraction(9))), None, 0.0, Role.LEADING_WEDGE
)


@pytest.mark.parametrize("mark", [TEXT, WEDGE])
def test_whole_or_absent(mark: Mark) -> None:
    """Text and wedges are drawn whole or not at all."""
    assert [mark] == list(clipped(mark, WINDOW))
    for window in ((Fraction(4), Fraction(8), Fraction(50), Fraction(50)),):
        assert list(clipped(mark, window)) == []
