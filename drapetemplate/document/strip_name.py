"""What a strip without sheets is of, in words on the strip itself: where they have room.

Frame as in `template/strip.py`. On paper a sheet says all this beside the strip; on a strip that a
machine cuts, it has the gaps between the eyelets, under their centre line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface, clipped_to
from drapetemplate.drawing.marks import Mark, Text, box
from drapetemplate.drawing.roles import Role
from drapetemplate.template.strip import Template

SIZES = (3.1, 2.6, 2.2)
"""mm of the letters: the largest that have room are taken."""
LEADING = 1.35  # from line to line, of their size
FREE = 2.0  # mm about them
MOST_TRIED = 12
"""Gaps from the left end on: nobody looks for the words farther along."""
NEARLY = 0.95  # of the most room, which will do
LEAST_ACROSS = 12.0  # mm of room: less holds no words
# A line of a DXF file holds 255 signs, and a letter beyond ASCII takes seven.
MOST_LETTERS = 34
_SEAMS = {Role.SEAM, Role.OTHER_SEAM}


@dataclass(frozen=True, slots=True)
class _Room:
    """A free upright rectangle, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def across(self) -> float:
        return self.right - self.left

    @property
    def down(self) -> float:
        return self.top - self.bottom


def strip_name(template: Template, words: Sequence[str], typeface: Typeface) -> list[Mark]:
    """Words in, what matters most first; their lines on the strip out.

    They stand in the roomiest of the first gaps, from the left; those that have no room there, even
    small, are left out.
    """
    rooms = list(_rooms(template))
    if not rooms:
        return []
    # Gaps that are as wide to a hair are alike, and the first of them is where one looks.
    most = max(room.across * room.down for room in rooms)
    room = next(room for room in rooms if room.across * room.down > most * NEARLY)
    for size in SIZES:
        lines = [line for word in words for line in _wrapped(word, size, room.across, typeface)]
        if len(lines) * LEADING * size <= room.down:
            break
    lines = lines[: int(room.down / (LEADING * size))]
    middle = (room.left + room.right) / 2
    top = room.top - size
    return [
        drawing.text(
            typeface,
            middle,
            top - number * LEADING * size,
            line,
            size,
            Role.STRIP_NAME,
            anchor="middle",
        )
        for number, line in enumerate(lines)
    ]


def _rooms(template: Template) -> Iterator[_Room]:
    """What is free in each of the first gaps, under the eyelets' centre line."""
    rings = sorted(template.strip.rings, key=lambda ring: ring.x)[: MOST_TRIED + 1]
    seams = [mark for mark in template.marks if mark.role in _SEAMS]
    others: list[Mark] = [mark for mark in template.marks if isinstance(mark, Text)]
    others += [mark for mark in template.marks if mark.role in {Role.MOTIF, Role.OTHER_MOTIF}]
    boxes = [(*box(mark), isinstance(mark, Text) and mark.angle != 0) for mark in others]
    boxes = [each for each in boxes if each[0] < rings[-1].x]
    upright = [(left, right) for left, _, right, _, turned in boxes if turned]
    upright += [(box(seam)[0], box(seam)[2]) for seam in seams]
    for ring, next_ring in pairwise(rings):
        reach = float(ring.outside) / 2 + FREE
        line = float(ring.y)
        for left, right in _parted(float(ring.x) + reach, float(next_ring.x) - reach, upright):
            bottom, top = FREE, line - FREE
            for low_x, low, high_x, high, turned in boxes:
                if turned or high_x + FREE <= left or low_x - FREE >= right:
                    continue
                if high < line / 2:  # a row of measures, which may be wider than its eyelet
                    bottom = max(bottom, high + FREE / 2)
                elif low < top:  # a motif's lozenge, or a letter that comes down so far
                    top = min(top, low - FREE / 2)
            if right - left >= LEAST_ACROSS and top - bottom >= LEADING * SIZES[-1]:
                yield _Room(left, bottom, right, top)


def _parted(
    left: float, right: float, taken: Sequence[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    """The parts of a gap beside seams and words that run up through it."""
    for low, high in sorted(taken):
        if high + FREE > left and low - FREE < right:
            yield left, low - FREE
            left = high + FREE
    yield left, right


def _wrapped(words: str, size: float, most: float, typeface: Typeface) -> Iterator[str]:
    """Words in lines of at most `most` mm, a word that is longer than a line cut short."""
    line = ""
    for word in typeface.drawable(words).split():
        longer = f"{line} {word}" if line else word
        if line and (len(longer) > MOST_LETTERS or typeface.width(longer, size) > most):
            yield line
            longer = word
        line = longer
        if len(line) > MOST_LETTERS:
            line = f"{line[: MOST_LETTERS - 1]}…"
        line = clipped_to(typeface, line, size, most)
    if line:
        yield line
