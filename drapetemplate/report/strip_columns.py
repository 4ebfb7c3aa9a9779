"""Where everything of a panel's strip stands in columns of characters, and how it breaks in rows.

Columns are counted from 0 at the panel's left end as seen from the face, along one long line; a
row is a stretch of it. Every place is rounded to the nearest column from its own measure, so
roundings never add up.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil

from rich.cells import cell_len

from drapetemplate.measures import Length, round_half_up
from drapetemplate.planning.model import PanelPlan


@dataclass(frozen=True, slots=True)
class LongLine:
    """A panel along one long line of columns, from 0 to `end`; rings from left to right.

    `scale` is columns a millimetre. `numbers` are the rings', `letters` stand in the gaps, each
    with the column it begins at. `seams` may stand at a ring's column, where they lie under it.
    `folds` are the columns of the left and the right return fold, where there is one to see.
    """

    scale: Fraction
    end: int
    rings: tuple[int, ...]
    numbers: tuple[int, ...]
    letters: tuple[tuple[int, str], ...]
    seams: tuple[int, ...]
    folds: tuple[int | None, int | None]


@dataclass(frozen=True, slots=True)
class Stretch:
    """One row of the picture: the columns of the long line strictly between its two ends."""

    first: int
    last: int

    def rings(self, laid: LongLine) -> range:
        """Which of the rings it shows, by their place from the left."""
        return range(bisect_right(laid.rings, self.first - 1), bisect_right(laid.rings, self.last))


def arranged(
    panel: PanelPlan, letters: tuple[str, str], columns: int
) -> tuple[LongLine, tuple[Stretch, ...]]:
    """The panel on its long line, and that line cut into rows of at most `columns`.

    One row at the largest scale if every eyelet, letter and seam has its own column there; else
    the smallest scale at which they do.
    """
    least = _least_pitch(panel, letters)
    scale = (columns - 1) / panel.width
    if panel.pitch * scale < least:
        scale = least / panel.pitch
    laid = _laid(panel, letters, scale)
    room = columns - 2
    rows = _cut(laid, room)
    # Rows of about one length look better than full ones with a stub at the end.
    for narrower in range(-(-(laid.end - 1) // len(rows)), room):
        even = _cut(laid, narrower)
        if len(even) == len(rows):
            return laid, even
    return laid, rows


def _seams_by_gap(panel: PanelPlan) -> dict[int, list[Length]]:
    """The seams of each gap that has some, by the eyelet before it as `centers` run; -1: outside.

    A seam that meets a flange is in no gap.
    """
    by_gap: dict[int, list[Length]] = {}
    for seam in panel.seams or ():
        before = bisect_right(panel.centers, seam) - 1
        inside = 0 <= before < panel.count - 1
        clear = inside and panel.outside / 2 < seam - panel.centers[before] < (
            panel.pitch - panel.outside / 2
        )
        if clear:
            by_gap.setdefault(before, []).append(seam)
    return by_gap


def _least_pitch(panel: PanelPlan, letters: tuple[str, str]) -> int:
    """Columns from ring to ring that leave room for a gap's letter, its seams, and numbers.

    With n seams some run between them has a letter's L columns if (n + 1)·L + n are free.
    """
    letter = max(map(cell_len, letters)) if panel.gaps else 0
    most = max(map(len, _seams_by_gap(panel).values()), default=0)
    number = len(str(panel.count))
    return max(letter + 3, (most + 1) * letter + most + 1, most + 2, number + 1)


def _laid(panel: PanelPlan, letters: tuple[str, str], scale: Fraction) -> LongLine:
    """Everything of the panel at its column, mirrored where the leading edge is at the right."""
    end = ceil(panel.width * scale)  # up, so that a ring kept off it is less than a column away

    def column(measure: Length) -> int:
        return min(max(round_half_up(panel.seen_from_room(measure) * scale), 1), end - 1)

    rings = [column(center) for center in panel.centers]
    seams: dict[Length, int] = {}
    by_gap = _seams_by_gap(panel)
    for before, own in by_gap.items():
        low, high = sorted((rings[before], rings[before + 1]))
        # From left to right each keeps clear of the ring, and of the seams on both its sides.
        for n, seam in enumerate(sorted(own, reverse=panel.leading_at_right)):
            place = min(max(column(seam), low + 1), high - len(own) + n)
            seams[seam], low = place, place
    for seam in panel.seams or ():
        if seam not in seams:
            seams[seam] = _outside_gaps(panel, seam, column(seam), rings)
    names = dict(zip(("front", "back"), letters, strict=True))
    placed = [
        _letter(names[kind], min(pair), max(pair), [seams[seam] for seam in by_gap.get(n, ())])
        for n, (kind, pair) in enumerate(zip(panel.gaps, pairwise(rings), strict=False))
    ]
    numbers = range(1, panel.count + 1)
    step = -1 if panel.leading_at_right else 1
    return LongLine(
        scale,
        end,
        tuple(rings[::step]),
        tuple(numbers[::step]),
        tuple(placed[::step]),
        tuple(sorted(seams.values())),
        _folds(panel, scale, end),
    )


def _outside_gaps(panel: PanelPlan, seam: Length, column: int, rings: Sequence[int]) -> int:
    """The column of a seam that is in no gap: a ring's own where it meets its flange."""
    nearest = min(range(panel.count), key=lambda n: abs(panel.centers[n] - seam))
    if abs(panel.centers[nearest] - seam) <= panel.outside / 2:
        return rings[nearest]
    return column


def _letter(text: str, low: int, high: int, seams: Sequence[int]) -> tuple[int, str]:
    """Where a gap's letter begins: in the middle of the widest run between rings and seams."""
    start, end = max(pairwise([low, *sorted(seams), high]), key=lambda run: run[1] - run[0])
    return start + 1 + (end - start - 1 - cell_len(text)) // 2, text


def _folds(panel: PanelPlan, scale: Fraction, end: int) -> tuple[int | None, int | None]:
    """Columns of the return folds, left and right; None where there is none, or none to see.

    As on the template: a single panel has one at either end, a panel on hooks none.
    """
    back = round_half_up(panel.return_ * scale)
    if not panel.gaps or back < 1:
        return None, None
    left = back if panel.side in {"left", "single"} else None
    right = end - back if panel.side in {"right", "single"} else None
    return left, right


def _cut(laid: LongLine, room: int) -> tuple[Stretch, ...]:
    """The long line in stretches of at most `room` columns, each cut just before a ring.

    Plain cloth longer than a row is cut anywhere, but never within a letter.
    """
    rows = []
    first = 1
    while first < laid.end:
        last = min(first + room - 1, laid.end - 1)
        if last < laid.end - 1:
            last = _cut_before(laid, first, last)
        rows.append(Stretch(first, last))
        first = last + 1
    return tuple(rows)


def _cut_before(laid: LongLine, first: int, last: int) -> int:
    """The last column of a row that begins at `first` and can't go beyond `last`."""
    for n in range(bisect_right(laid.rings, last + 2) - 1, 0, -1):
        cut = laid.rings[n] - 2  # a column stays before the next row's first ring
        if cut <= last:
            if laid.rings[n - 1] >= first:
                last = cut
            break
    n = bisect_right(laid.letters, last, key=lambda letter: letter[0]) - 1
    if n >= 0:
        start, text = laid.letters[n]
        if first < start and start + cell_len(text) - 1 > last:
            return start - 1
    return last
