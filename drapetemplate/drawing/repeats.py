"""Marks in, the same with nothing drawn twice out: of what lies on a mark before it, the rest.

A printer's ink doesn't show it; a cutting machine goes over such a line again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from drapetemplate.drawing.marks import Circle, Line, Mark, Number, Polygon

Span = tuple[Number, Number]
Track = tuple[bool, Number]
"""A line without ends: upright or level, and at which x or y."""


def each_once(marks: Iterable[Mark]) -> Iterator[Mark]:
    """The marks without what lies on one before: whole circles and outlines, and parts of lines.

    Of straight lines the upright and level ones are told, an outline's sides among them; others and
    text come out as they went in.

    >>> from drapetemplate.drawing.marks import Pen
    >>> from drapetemplate.drawing.roles import Role
    >>> fold = Line(5, 20, 5, 80, Pen(0.2), Role.RETURN_FOLD)
    >>> guide = Line(5, 0, 5, 100, Pen(0.2), Role.GUIDE)
    >>> [(mark.y1, mark.y2) for mark in each_once([fold, guide])]
    [(20, 80), (0, 20), (80, 100)]
    """
    drawn: dict[Track, list[Span]] = defaultdict(list)
    shapes: set[object] = set()
    for mark in marks:
        match mark:
            case Line():
                yield from _rest_of(mark, drawn)
            case Circle():
                if (shape := (mark.x, mark.y, mark.r)) not in shapes:
                    shapes.add(shape)
                    yield mark
            case Polygon():
                if mark.points not in shapes:
                    shapes.add(mark.points)
                    for start, end in pairwise((*mark.points, mark.points[0])):
                        if (on := _on_track(*start, *end)) is not None:
                            drawn[on[0]].append(on[1])
                    yield mark
            case _:
                yield mark


def _rest_of(line: Line, drawn: dict[Track, list[Span]]) -> Iterator[Line]:
    """A line's parts that aren't drawn yet, which then are."""
    on = _on_track(line.x1, line.y1, line.x2, line.y2)
    if on is None:
        yield line
        return
    (upright, _), (start, end) = on
    free = []
    for low, high in [*sorted(drawn[on[0]]), (end, end)]:
        if low > start:
            free.append((start, min(low, end)))
        start = max(start, high)
        if start >= end:
            break
    drawn[on[0]] += free
    for low, high in free:
        if upright:
            yield replace(line, y1=low, y2=high)
        else:
            yield replace(line, x1=low, x2=high)


def _on_track(x1: Number, y1: Number, x2: Number, y2: Number) -> tuple[Track, Span] | None:
    """Which track a straight line lies on, and from where to where; None for a slanted one."""
    if x1 == x2:
        return (True, x1), (min(y1, y2), max(y1, y2))
    if y1 == y2:
        return (False, y1), (min(x1, x2), max(x1, x2))
    return None
