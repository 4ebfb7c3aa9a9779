"""A picture in, the same with its sizes drawn beside it out: a line from end to end, and words."""

from __future__ import annotations

from collections.abc import Iterator

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line, Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.ticket.flow import SMALL
from drapetemplate.ticket.picture import THIN, Picture, moved

FREE = 2.5  # mm from the picture to a size's line
TICK = 1.2  # mm to either side of it at its ends
WORDS = 1.8  # mm from the line to its words
Size = tuple[float, float, str]
"""From where to where something is measured, and in words."""
BELOW = FREE + WORDS + SMALL * 1.02  # mm that a size under the picture takes
ABOVE = FREE + WORDS + SMALL  # and one over it

BESIDE_TURNED = BELOW  # and one at its right, its words turned along the line


def beside(words: str, typeface: Typeface) -> float:
    """How many mm a size to the right of a picture takes."""
    return FREE + WORDS + TICK + typeface.width(words, SMALL)


def with_sizes(
    picture: Picture,
    typeface: Typeface,
    across: Size,
    up: Size | None = None,
    over: Size | None = None,
    *,
    turned: bool = False,
) -> Picture:
    """The picture with a size under it, from one x to another, and one at its right, between y.

    And one `over` it, from one x to another. Words at the right are `turned` along their line.

    Words under it stand in the middle of their line, and past its ends where they are longer. The
    picture grows by what they take.
    """
    marks: list[Mark] = [*moved(picture, 0.0, BELOW)]
    width, height = picture.width, picture.height + BELOW
    y = BELOW - FREE
    sizes = [(across, y, y - WORDS - SMALL * 0.76)]
    if over is not None:
        sizes.append((over, height + FREE / 2, height + FREE / 2 + WORDS))
        height += ABOVE
    for (start, end, words), y, baseline in sizes:
        length = typeface.width(words, SMALL)
        middle = max((start + end) / 2, length / 2)
        width = max(width, middle + length / 2)
        marks += _line(start, y, end, y)
        text = drawing.text(typeface, middle, baseline, words, SMALL, Role.SIZE, anchor="middle")
        marks.append(text)
    if up is not None:
        low, high, words = up
        x = picture.width + FREE
        marks += _line(x, low + BELOW, x, high + BELOW)
        at, middle = x + TICK + WORDS, (low + high) / 2 + BELOW
        if turned:
            at = x + WORDS + SMALL * 0.76
            text = drawing.text(
                typeface, at, middle, words, SMALL, Role.SIZE, anchor="middle", angle=90
            )
            marks.append(text)
            width = max(width, picture.width + BESIDE_TURNED)
        else:
            baseline = middle - SMALL * 0.36
            marks.append(drawing.text(typeface, at, baseline, words, SMALL, Role.SIZE))
            width = max(width, picture.width + beside(words, typeface))
    return Picture(width, height, picture.scale, tuple(marks))


def _line(x0: float, y0: float, x1: float, y1: float) -> Iterator[Mark]:
    """A size's line with a tick at either end."""
    yield Line(x0, y0, x1, y1, THIN, Role.SIZE_LINE)
    across, up = (0.0, TICK) if y0 == y1 else (TICK, 0.0)
    for x, y in ((x0, y0), (x1, y1)):
        yield Line(x - across, y - up, x + across, y + up, THIN, Role.SIZE_LINE)
