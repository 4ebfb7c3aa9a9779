"""A mark and an area in, the parts of the mark inside it out, so that no page holds ink unseen.

A clip path would hide the rest on paper and leave it in the file, where a reader that
measures the page still finds it. Lines stay exact and keep their dashes in step with the
uncut line; circles become arcs.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import acos, asin, cos, degrees, hypot, pi, sin

from drapetemplate.drawing import marks
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Number
from drapetemplate.measures import Length

Area = tuple[Length, Length, Length, Length]
"""Left, bottom, right and top."""


def clipped(mark: Mark, area: Area) -> Iterator[Mark]:
    """The parts of a mark inside `area`, in the mark's own frame.

    Text, polygons and arcs are whole or absent.
    """
    match mark:
        case Line():
            yield from _clipped_line(mark, area)
        case Circle():
            if inside(mark, area):
                yield mark
            else:
                yield from _arcs(mark, area)
        case _:
            if inside(mark, area):
                yield mark


def inside(mark: Mark, area: Area) -> bool:
    """True where the whole of a mark lies in the area, its edge included."""
    if isinstance(mark, Circle):
        x0, y0, x1, y1 = mark.x - mark.r, mark.y - mark.r, mark.x + mark.r, mark.y + mark.r
        return x0 >= area[0] and y0 >= area[1] and x1 <= area[2] and y1 <= area[3]
    left, bottom, right, top = marks.box(mark)
    return left >= area[0] and bottom >= area[1] and right <= area[2] and top <= area[3]


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
    x, y, r = float(circle.x), float(circle.y), float(circle.r)
    left, bottom, right, top = (float(side) for side in area)
    crossings: set[float] = set()
    for side in (left - x, right - x):
        if abs(side) < r:
            angle = acos(side / r)
            crossings |= {angle, 2 * pi - angle}
    for side in (bottom - y, top - y):
        if abs(side) < r:
            angle = asin(side / r)
            crossings |= {angle % (2 * pi), pi - angle}
    angles = sorted(crossings)
    for i, start in enumerate(angles):
        end = angles[i + 1] if i + 1 < len(angles) else angles[0] + 2 * pi
        middle = (start + end) / 2
        px, py = x + r * cos(middle), y + r * sin(middle)
        if end - start > 1e-9 and left <= px <= right and bottom <= py <= top:
            yield Arc(
                circle.x,
                circle.y,
                circle.r,
                degrees(start),
                degrees(end - start),
                circle.pen,
                circle.role,
            )
