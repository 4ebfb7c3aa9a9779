"""A picture: marks in a box, a length in the room drawn `1/scale` as long.

Frame: millimetres on paper, x right, y up, the box's lower left corner at (0, 0).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drapetemplate import drawing
from drapetemplate.drawing.marks import Mark, Number, Pen

CLOTH = Pen(0.35)
THIN = Pen(0.15)
MOTIF_HALF = 0.5  # half as wide as the mark of a motif's centre is, on paper
SEAM = Pen(0.4, (0.5, 0.8))

SCALES = (
    1,
    2,
    3,
    4,
    5,
    6,
    8,
    10,
    12,
    15,
    16,
    20,
    24,
    25,
    30,
    40,
    50,
    60,
    75,
    80,
    100,
    150,
    200,
    250,
    300,
    400,
    500,
)

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Picture:
    """Marks in a box `width` x `height`, drawn at 1:`scale`."""

    width: float
    height: float
    scale: int
    marks: tuple[Mark, ...]


def scale_for(length: Number, room: float) -> int:
    """The smallest customary scale at which `length` in the room takes at most `room` on paper.

    >>> scale_for(1500, 90)
    20
    """
    fitting = (scale for scale in SCALES if float(length) / scale <= room)
    return next(fitting, SCALES[-1] * max(1, -(-int(length) // int(room * SCALES[-1]))))


def moved(picture: Picture, dx: float, dy: float) -> Iterator[Mark]:
    """The picture's marks, shifted."""
    return shifted(picture.marks, dx, dy)


def shifted(marks: Iterable[Mark], dx: float, dy: float) -> Iterator[Mark]:
    """All marks, shifted alike."""
    return (drawing.moved(mark, dx, dy) for mark in marks)
