"""A mark and an area in, the parts of the mark inside it out, so that no page holds ink unseen.

A clip path would hide the rest on paper and leave it in the file, where a reader that
measures the page still finds it. Lines stay exact and keep their dashes in step with the
uncut line; circles become arcs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import acos, asin, cos, degrees, hypot, pi, sin
from typing import TypeVar

from drapetemplate.drawing import marks
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Number, Text
from drapetemplate.measures import Length

Area = tuple[Length, Length, Length, Length]
"""Left, bottom, right and top."""
Box = tuple[float, float, float, float]
"""The same in floats, as `marks.box` gives it."""
Key = TypeVar("Key")

# In radians: where a circle touches a side its crossings are some 1e-8 apart, for floats.
NO_INK = 1e-6


def clipped(mark: Mark, area: Area) -> Iterator[Mark]:
    """The parts of a mark inside `area`, in the mark's own frame.

    Text, polygons and arcs are whole or absent.
    """
    if within(marks.box(mark), in_floats(area)):
        yield mark
        return
    match mark:
        case Line():
            yield from _clipped_line(mark, area)
        case Circle():
            yield from _arcs(mark, area)


def in_floats(area: Area) -> Box:
    """An area as boxes of marks are told."""
    left, bottom, right, top = area
    return float(left), float(bottom), float(right), float(top)


def within(box: Box, area: Box) -> bool:
    """True where a mark's whole box lies in an area, its edge included.

    What lies on the edge exactly does so in floats too: both are rounded alike.
    """
    return box[0] >= area[0] and box[1] >= area[1] and box[2] <= area[2] and box[3] <= area[3]


def _clipped_line(line: Line, area: Area) -> Iterator[Line]:
    """Liang and Barsky, A new concept and method for line clipping, ACM TOG 3(1), 1984."""
    dx, dy = line.x2 - line.x1, line.y2 - line.y1
    start: Number = 0
    end: Number = 1
    for step, room in (
        (-dx, line.x1 - area[0]),
        (dx, area[2] - line.x1),
        (-dy, line.y1 - area[1]),
        (dy, area[3] - line.y1),
    ):
        if step == 0:
            if room < 0:
                return
        elif step < 0:
            start = max(start, room / step)
        else:
            end = min(end, room / step)
    if start >= end:
        return
    if start == 0 and end == 1:
        yield line
        return
    yield replace(
        line,
        x1=line.x1 + start * dx,
        y1=line.y1 + start * dy,
        x2=line.x1 + end * dx,
        y2=line.y1 + end * dy,
        phase=line.phase + hypot(start * dx, start * dy),
    )


def _arcs(circle: Circle, area: Area) -> Iterator[Arc]:
    """The arcs of a circle inside an area that cuts it: between its crossings of the sides."""
    # From its centre, told exactly before it is rounded: far along a strip floats are coarser.
    x, y, r = circle.x, circle.y, float(circle.r)
    left, right = float(area[0] - x), float(area[2] - x)
    bottom, top = float(area[1] - y), float(area[3] - y)
    crossings: set[float] = set()
    for side in (left, right):
        if abs(side) < r:
            angle = acos(side / r)
            crossings |= {angle, 2 * pi - angle}
    for side in (bottom, top):
        if abs(side) < r:
            angle = asin(side / r)
            crossings |= {angle % (2 * pi), pi - angle}
    angles = sorted(crossings)
    for i, start in enumerate(angles):
        end = angles[i + 1] if i + 1 < len(angles) else angles[0] + 2 * pi
        middle = (start + end) / 2
        px, py = r * cos(middle), r * sin(middle)
        if end - start > NO_INK and left <= px <= right and bottom <= py <= top:
            yield Arc(
                circle.x,
                circle.y,
                circle.r,
                degrees(start),
                degrees(end - start),
                circle.pen,
                circle.role,
            )


def nudged(text: Text, areas: Mapping[Key, Box]) -> tuple[Key, Mark]:
    """A text that is whole in no area, shifted into the one that shows the most of it, by its key.

    Of those that have room for it, where any has.
    """
    left, bottom, right, top = marks.box(text)

    def shown(area: Box) -> float:
        return (min(right, area[2]) - max(left, area[0])) * (
            min(top, area[3]) - max(bottom, area[1])
        )

    def fits(area: Box) -> bool:
        return right - left <= area[2] - area[0] and top - bottom <= area[3] - area[1]

    key, area = max(areas.items(), key=lambda one: (fits(one[1]), shown(one[1])))
    low_x, low_y, high_x, high_y = area
    dx = min(max(0.0, low_x - left), max(0.0, high_x - low_x)) - max(0.0, right - high_x)
    dy = max(0.0, low_y - bottom) - max(0.0, top - high_y)
    return key, marks.moved(text, dx, dy)
