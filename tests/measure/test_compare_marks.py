"""A mark drawn otherwise than it should be, each in one way: how far off it is said to be."""

from __future__ import annotations

from math import hypot, inf, pi, radians

import pytest

from drapetemplate.drawing.marks import Arc, Circle, Line, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.measure.compare_marks import TOLERANCE, alike, compare, off
from drapetemplate.measure.drawn_marks import Glyph, Path, Point, Step

PEN = Pen(0.5, (), 0.0)


def curve(points: list[tuple[float, float]], *, close: bool = False) -> Path:
    """Bezier arcs through points: the first, then three for each arc."""
    steps: list[Step] = [("m", (points[0],))]
    steps += [("c", tuple(points[at : at + 3])) for at in range(1, len(points), 3)]
    return Path((*steps, ("h", ())) if close else tuple(steps), PEN, None)


K = 0.5522847498
"""How far a quarter circle's control points reach; it strays by 0.0003 of the radius."""
QUARTER = [(10.0, 0.0), (10.0, 10 * K), (10 * K, 10.0), (0.0, 10.0)]
HALF = [*QUARTER, (-10 * K, 10.0), (-10.0, 10 * K), (-10.0, 0.0)]


@pytest.mark.parametrize(
    ("start", "sweep", "error"),
    [
        (0, 90, 0.0),
        (0, 90 + 0.2, 10 * radians(0.2)),  # the sweep alone
        (0.2, 90 - 0.2, 10 * radians(0.2)),
        (0, 180, 10 * pi / 2),
        (0, 90 - 360, 10 * 2 * pi),  # the same ends, but the other way round
    ],
)
def test_an_arc(start: float, sweep: float, error: float) -> None:
    """An arc is as far off as its worse end along the circle, or as much turned too little."""
    expected = Arc(0, 0, 10, start, sweep, PEN, role=Role.OUTSIDE)
    assert off(expected, curve(QUARTER)) == pytest.approx(error, abs=0.004)


def test_a_bulge() -> None:
    """A curve that leaves its circle between its ends is off by that."""
    bulging = [QUARTER[0], (10.0, 8.0), (8.0, 10.0), QUARTER[3]]
    middle = (QUARTER[0][0] + 3 * 10 + 3 * 8 + 0) / 8
    expected = Arc(0, 0, 10, 0, 90, PEN, role=Role.OUTSIDE)
    assert off(expected, curve(bulging)) == pytest.approx(hypot(middle, middle) - 10, abs=0.01)


def test_a_circle() -> None:
    """One that stops half way round, though it is closed, is none."""
    whole = Circle(0, 0, 10, PEN, role=Role.OUTSIDE)
    assert off(whole, curve(HALF, close=True)) > 10
    round_again = [*HALF, (-10.0, -10 * K), (-10 * K, -10.0), (0.0, -10.0),
                   (10 * K, -10.0), (10.0, -10 * K), (10.0, 0.0)]  # fmt: skip
    assert off(whole, curve(round_again, close=True)) < 0.004


LETTER = Glyph("8", 5.0, 6.0, 2.0, (1.0, 0.0, 0.0, 1.0), bold=False, grey=0.0)


@pytest.mark.parametrize(
    ("change", "error"),
    [
        ({}, 0.0),
        ({"x": 5.3, "y": 6.4}, 0.5),
        ({"advance": 2.1}, 0.1),
        ({"advance": 1.9}, 0.1),
        ({"turn": (1.0, 0.0, 0.0, -1.0)}, 4.0),
        ({"turn": (1.0, 0.0, 0.25, 1.0)}, 0.5),
        ({"advance": 3.0, "turn": (1.5, 0.0, 0.0, 1.0)}, 1.0 + 0.5 * 3.0),
    ],
)
def test_a_letter(change: dict[str, float], error: float) -> None:
    """A letter is off by where it begins, what it is wide, and what is turned at its far end."""
    assert off(LETTER, LETTER._replace(**change)) == pytest.approx(error)  # type: ignore[arg-type]


@pytest.mark.parametrize("change", [{"text": "6"}, {"bold": True}, {"grey": 0.006}])
def test_another_letter(change: dict[str, object]) -> None:
    """What says something else, or in another ink, is no such letter."""
    assert alike(LETTER, LETTER._replace(grey=0.004))
    assert not alike(LETTER, LETTER._replace(**change))  # type: ignore[arg-type]


LINE = Line(0, 0, 9, 0, Pen(0.5, (3.0, 1.0), 0.25), role=Role.OUTSIDE)


def ruled(pen: Pen | None, fill: float | None = None, end: Point = (9.0, 0.0)) -> Path:
    """A line drawn with a pen."""
    return Path((("m", ((0.0, 0.0),)), ("l", (end,))), pen, fill)


@pytest.mark.parametrize(
    ("pen", "same"),
    [
        (Pen(0.5, (3.0, 1.0), 0.25), True),
        (Pen(0.509, (3.0, 1.0), 0.25), True),
        (Pen(0.511, (3.0, 1.0), 0.25), False),
        (Pen(0.489, (3.0, 1.0), 0.25), False),
        (Pen(0.5, (3.0, 1.0), 0.254), True),
        (Pen(0.5, (3.0, 1.0), 0.256), False),
        (Pen(0.5, (3.15, 1.05), 0.25), True),
        (Pen(0.5, (3.17, 1.0), 0.25), False),
        (Pen(0.5, (2.83, 1.0), 0.25), False),
        (Pen(0.5, (3.0,), 0.25), False),
        (Pen(0.5, (), 0.25), False),
        (None, False),
    ],
)
def test_a_pen(pen: Pen | None, same: bool) -> None:  # noqa: FBT001  # a row's own answer
    """A line is of a pen's width, dashes and grey, or it's another line."""
    assert alike(LINE, ruled(pen)) is same
    assert not alike(LINE, ruled(LINE.pen, 0.25))


def test_an_area() -> None:
    """An area is of its own grey, filled and stroked as it should be, corner by corner."""
    square = Polygon(((0, 0), (9, 0), (9, 9)), PEN, 0.5, role=Role.OUTSIDE)
    steps: tuple[Step, ...] = (
        ("m", ((0.0, 0.0),)), ("l", ((9.0, 0.0),)), ("l", ((9.0, 9.5),)), ("h", ()),
    )  # fmt: skip
    drawn = Path(steps, PEN, 0.5)
    assert alike(square, drawn)
    assert off(square, drawn) == pytest.approx(0.5)
    for other in (
        drawn._replace(fill=0.506),
        drawn._replace(fill=None),
        drawn._replace(pen=None),
        drawn._replace(steps=steps[:-1]),
        drawn._replace(steps=(*steps[:2], *steps[1:])),
    ):
        assert not alike(square, other)


def test_what_is_no_such_mark() -> None:
    """A letter is never a line, nor a line a letter."""
    assert not alike(LETTER, ruled(PEN))
    assert not alike(LINE, LETTER)
    assert off(LETTER, ruled(PEN)) == off(LINE, LETTER) == inf


def test_at_the_tolerance() -> None:
    """What is off by no more than the tolerance is where it should be; what is off more isn't."""
    for end, matched in ((9 + TOLERANCE * 0.99, 1), (9 + TOLERANCE * 1.01, 0)):
        found = compare([LINE], [ruled(LINE.pen, end=(end, 0.0))])
        assert (found.matched, bool(found.faults)) == (matched, not matched)
        assert found.worst == pytest.approx(end - 9)
