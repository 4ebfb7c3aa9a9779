"""How wide a panel must be so that every front fold shows the same place of its cloth's pattern.

Along the heading the pattern advances by one pitch P from fold to fold, so front folds, two pitches
apart, agree where 2 * P is a whole number m of repeats R. With m even the back folds show the same
as the front ones; with m odd they show what lies half a repeat further: the light stripe in front,
the dark one behind.

So P = m * R / 2, and the cloth between the end eyelets' centres is (N - 1) * m of half repeats for
N eyelets. Of all that leave the least gap between eyelets (1 in, 25 mm in a metric job), keep a
stacked fold off the wall and lose no more than a tenth of the fullness asked for, the nearest to
that cloth is taken. One so flat that its rings jam before it covers its pole is taken only where
none is fuller, or where what is asked for jams too.

Lengths are exact millimetres. Derived from the geometry; that a panel may give up a tenth of its
fullness for its pattern is this tool's choice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from drapetemplate.measures import Length
from drapetemplate.planning import folds
from drapetemplate.planning.eyelets import MOST_EYELETS, EyeletLine
from drapetemplate.wording import counted

LEAST_SHARE = Fraction(9, 10)
"""Of the fullness asked for, what a panel keeps at the least."""
MOST_OF_AIM = 2
"""Gaps so many times the one aimed at are the longest, where neither the wall nor the job's count
keeps folds from being too deep."""
NEAREST = "the nearest width at which every front fold shows the same place of the pattern"
"""Why a window has as many eyelets, where its job leaves that open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldPattern:
    """A pattern that is wanted on the folds: `half_repeats` of its `repeat` make a pitch.

    None where no count and width do. `asked_width` and `asked_fullness` are what the job comes to
    without it; None where nothing says how full.
    """

    repeat: Length
    half_repeats: int | None
    asked_width: Length
    asked_fullness: Fraction | None


@dataclass(frozen=True, slots=True)
class OnFolds:
    """A line made wider or narrower for its pattern, its count, and the half repeats a pitch."""

    line: EyeletLine
    count: int
    half_repeats: int


def longest_pitch(
    outside: Length, aim: Length, wall_room: Length | None, count: int | None
) -> Length | None:
    """Return the longest pitch that may be taken; None where the job's `count` alone says.

    `wall_room` is projection less wall clearance, None where it isn't known: a stacked fold is half
    a pitch deep. `aim` is the gap aimed at.
    """
    if wall_room is not None:
        return 2 * wall_room
    return None if count is not None else outside + MOST_OF_AIM * aim


def least_half_repeats(line: EyeletLine, repeat: Length) -> int:
    """Return the fewest half repeats of a pitch that leaves the line's least gap between eyelets.

    >>> fifty = Fraction(50)
    >>> line = EyeletLine(width=30 * fifty, leading=fifty, return_=fifty, outside=fifty)
    >>> least_half_repeats(line, repeat=Fraction(60))
    3
    """
    return ceil((line.outside + line.least_gap) / (repeat / 2))


def half_repeats(number: int) -> str:
    """Return so many half repeats in words.

    >>> half_repeats(1), half_repeats(2), half_repeats(5)
    ('half a repeat', '1 repeat', '2 1/2 repeats')
    """
    whole, half = divmod(number, 2)
    if not whole:
        return "half a repeat"
    return f"{whole} 1/2 repeats" if half else counted(whole, "repeat")


def on_folds(
    line: EyeletLine,
    count: int | None,
    repeat: Length,
    *,
    aim: Length,
    covers: Length | None,
    longest: Length | None,
    turn: float | None = None,
) -> OnFolds | None:
    """Return the line with the pattern on its folds, as near to its own width as can be.

    `count` is the job's, None where it is left open, and `covers` the pole to cover, where that is
    known. Of widths equally far from the line's own the one with its gap nearest `aim` is taken,
    then the one with more eyelets. `turn` is how many degrees rings turn before they jam, None
    where that doesn't matter. None where nothing fits.
    """
    half = repeat / 2
    span = line.width - line.leading - line.return_ - line.outside
    wanted = span / half
    least = ceil(max(LEAST_SHARE * span, covers or 0) / half)
    most = None if longest is None else floor(longest / half)

    def rank(choice: tuple[int, int]) -> tuple[Fraction, Fraction, int, int]:
        eyelets, halves = choice
        off = abs((eyelets - 1) * halves - wanted)
        return off, abs(halves * half - line.outside - aim), -eyelets, -halves

    first = least_half_repeats(line, repeat)
    choices = {*_choices(count, wanted, least, first, most)}
    jammed: OnFolds | None = None
    for eyelets, halves in sorted(choices, key=rank):
        pitch = halves * half
        flat = (eyelets - 1) * pitch
        found = OnFolds(replace(line, width=line.width - span + flat), eyelets, halves)
        if covers is None:
            return found
        if _bends(pitch, line.outside, flat / covers):
            if turn is None or closes(pitch, line.outside, flat / covers, turn):
                return found
            jammed = jammed or found
    return jammed


def _choices(
    count: int | None, wanted: Fraction, least: int, first: int, most: int | None
) -> Iterator[tuple[int, int]]:
    """Yield the nearest counts and half repeats a pitch, from `first` to `most`, on either side.

    In half repeats `wanted` is the cloth asked for, and `least` the least that will do.
    """
    for eyelets in range(2, MOST_EYELETS + 1, 2) if count is None else (count,):
        gaps = eyelets - 1
        lowest = max(first, ceil(Fraction(least, gaps)))
        below = floor(wanted / gaps)
        for halves in (below, below + 1):
            if most is None or lowest <= most:
                near = max(halves, lowest)
                yield eyelets, near if most is None else min(near, most)
        if gaps * first >= wanted and gaps * first >= least:  # more eyelets only make it wider
            return


def closes(pitch: Length, outside: Length, fullness: Fraction, turn: float) -> bool:
    """Return whether rings that turn so many degrees let a panel be pulled as flat as that."""
    # A float's last digits must not speak against a panel that is just as full as it must be.
    return float(fullness) * (1 + 1e-9) >= folds.least_fullness(float(pitch), float(outside), turn)


def _bends(pitch: Length, outside: Length, fullness: Fraction) -> bool:
    """Return whether folds so full of that pitch don't touch each other."""
    return fullness <= folds.largest_fullness(float(pitch), float(outside))
