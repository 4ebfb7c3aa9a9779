"""Words inside a hole's circle, so that nobody cuts along the ring's edge instead.

Frame and units as in `strip.py`. All holes of a strip are alike, and so are their words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import Length, Units, format_length
from drapetemplate.template.strip import Ring

SIZE = 3.1  # mm of letters, whose capitals are 2.2 mm high
ASCENT, DESCENT = 0.77, 0.16  # of the size: from the baseline up and, of a fraction's bar, down
FREE = 1.0  # mm from the cross's arms to the words, and from them to the circle


@dataclass(frozen=True, slots=True)
class HoleWords:
    """Lines of words in a hole; each with its baseline over the hole's centre, in mm."""

    lines: tuple[tuple[str, float], ...]

    def at(self, ring: Ring, typeface: Typeface) -> Iterator[Mark]:
        """The words in one ring's hole."""
        for words, up in self.lines:
            y = ring.y + Fraction(up)
            yield drawing.text(
                typeface, ring.x, y, words, SIZE, Role.HOLE_WORDS, anchor="middle", bold=True
            )


def hole_words(hole: Length, arm: Length, units: Units, typeface: Typeface) -> HoleWords:
    """What a hole of this diameter says, clear of its cross, whose arms are so long.

    In one line below the cross, in two above it and below, or "hole" alone; no lines where not
    even that has room.
    """
    size = format_length(hole, units)
    over = float(arm) + FREE
    under = -over - ASCENT * SIZE
    forms = ((f"hole {size}", under),), (("hole", over), (size, under)), (("hole", under),)
    fitting = (form for form in forms if _fits(form, float(hole) / 2, typeface))
    return HoleWords(next(fitting, ()))


def _fits(lines: Sequence[tuple[str, float]], radius: float, typeface: Typeface) -> bool:
    """Whether every line's box lies inside the circle."""
    for words, up in lines:
        farthest = max(abs(up - DESCENT * SIZE), abs(up + ASCENT * SIZE))
        inside = (radius - FREE) ** 2 - farthest**2
        if inside <= 0 or typeface.width(words, SIZE, bold=True) > 2 * sqrt(inside):
            return False
    return True
