"""Marks with nothing drawn twice: the same ink, and each spot of it once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from random import Random

from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.repeats import each_once
from drapetemplate.drawing.roles import Role

PEN = Pen(0.2)


def line(x1: int, y1: int, x2: int, y2: int) -> Line:
    """A guide from one point to another."""
    return Line(Fraction(x1), Fraction(y1), Fraction(x2), Fraction(y2), PEN, Role.GUIDE)


def spots(marks: Iterable[Mark]) -> Counter[tuple[str, int, int]]:
    """How often each step of 1 mm of an upright or level stroke is drawn, by where it begins."""
    found: Counter[tuple[str, int, int]] = Counter()
    for mark in marks:
        match mark:
            case Line():
                ends = [((mark.x1, mark.y1), (mark.x2, mark.y2))]
            case Polygon():
                ends = list(zip(mark.points, mark.points[1:] + mark.points[:1], strict=True))
            case _:
                ends = []
        for (x1, y1), (x2, y2) in ends:
            for x in range(int(min(x1, x2)), int(max(x1, x2))):
                found["level", x, int(y1)] += 1
            for y in range(int(min(y1, y2)), int(max(y1, y2))):
                found["upright", int(x1), y] += 1
    return found


def test_every_spot_once() -> None:
    """Whatever lines come, in whatever order and direction: drawn wherever they were, and once."""
    chance = Random(7)  # noqa: S311  # no secret
    for _ in range(300):
        marks: list[Mark] = []
        corners = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (6, 0), (6, 6), (0, 6)))
        if chance.random() < 0.5:
            marks.append(Polygon(corners, PEN, None, Role.OUTLINE))
        for _ in range(chance.randrange(1, 8)):
            start, end = chance.sample(range(8), 2)
            at = chance.choice((0, 3, 6))
            level = chance.random() < 0.5
            marks.append(line(start, at, end, at) if level else line(at, start, at, end))
        drawn = spots(each_once(marks))
        assert set(drawn) == set(spots(marks))
        assert set(drawn.values()) == {1}


def test_what_comes_first_is_kept_whole() -> None:
    """A line is parted by those before it, never by those after."""
    assert list(each_once([line(5, 2, 5, 8), line(5, 0, 5, 10)])) == [
        line(5, 2, 5, 8),
        line(5, 0, 5, 2),
        line(5, 8, 5, 10),
    ]


def test_circles_and_outlines() -> None:
    """The same circle or outline is drawn once, whatever it stands for; a wider one is another."""
    hole = Circle(5.0, 5.0, 2.0, PEN, Role.HOLE)
    outside = Circle(5.0, 5.0, 2.0, PEN, Role.OUTSIDE)
    wider = Circle(5.0, 5.0, 2.1, PEN, Role.OUTSIDE)
    corners = ((0.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    wedge = Polygon(corners, PEN, None, Role.MOTIF)
    again = Polygon(corners, PEN, None, Role.OTHER_MOTIF)
    assert list(each_once([hole, outside, wider, wedge, again])) == [hole, wider, wedge]


def test_slanted_lines_are_left() -> None:
    """A slanted line goes through as it is."""
    slanted = line(0, 0, 4, 3)
    assert list(each_once([slanted, line(0, 0, 4, 0)])) == [slanted, line(0, 0, 4, 0)]
