"""Where the eyelets of one panel stand: widths, even counts, gaps and centres.

Glossary (lengths are exact millimetres, measured along the flat cloth):
  outside   G, across the eyelet's flange        opening  D, clear inside the ring
  leading   a, panel edge to first flange edge   return   b, last flange edge to panel edge
  count     N                                    gap      S, flange edge to flange edge
  pitch     P = S + G, centre to centre          covers   pole length, first to last centre
Departure from workroom talk: "spacing" is said of both S and P, so neither is called that here.

Every function is pure and exact; the trade rules are common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Literal

from drapetemplate.job.defaults import Usual
from drapetemplate.job.model import Hung
from drapetemplate.measures import INCH, MM, Length, Units
from drapetemplate.wording import Wording

GapKind = Literal["front", "back"]

LEAST_GAP = Usual(INCH, 25 * MM)
LEAST_RETURN = Usual(Fraction(3, 2) * INCH, 40 * MM)
LONG_DROP = Usual(120 * INCH, 3000 * MM)
SMALL_OPENING = Usual(Fraction(13, 16) * INCH, 20 * MM)
SMALL_OPENING_PITCH = Usual(6 * INCH, 150 * MM)
MOST_EYELETS = 2000
BESIDE = 3
"""Even counts on either side of a panel's own that may be looked at beside it."""


def width_from_covers(
    covers: Length, fullness: Fraction, leading: Length, return_: Length, outside: Length
) -> Length:
    """Return the finished width W = fullness x covers + a + b + G."""
    return fullness * covers + leading + return_ + outside


def width_from_widths(widths: Fraction, cloth: Length, seam: Length, side_hem: Length) -> Length:
    """Return the finished width of a panel of `widths` widths of cloth, whole or half.

    A half width is a piece like any other, so it brings a whole seam: ceil(widths) - 1 seams.
    """
    return widths * cloth - 2 * seam * (ceil(widths) - 1) - 2 * side_hem


def length_from_pole(
    top: Length, above: Length, outside: Length, opening: Length, off_floor: Length
) -> Length:
    """Return the finished length of a panel whose rings rest on a pole `top` above the floor.

    The top of the opening sits on the top of the pole; the panel rises above that by
    `above` and the flange's breadth (G - D)/2.
    """
    return top + above + outside / 2 - opening / 2 - off_floor


@dataclass(frozen=True, slots=True, kw_only=True)
class EyeletLine:
    """The line along a panel's heading that its eyelets stand on, before their count is settled.

    `width` is the panel's, finished; `leading` and `return_` are kept free at its ends; `outside`
    is across the eyelet, and `least_gap` what a gap should be at the least. Ask it what a count of
    2 or more comes to:

    >>> line = EyeletLine(width=60 * INCH, leading=2 * INCH, return_=4 * INCH, outside=2 * INCH)
    >>> line.most_that_fit
    18
    >>> line.gap(10) / INCH, line.pitch(10) / INCH
    (Fraction(34, 9), Fraction(52, 9))
    >>> [float(center / INCH) for center in line.centers(3)]
    [3.0, 29.0, 55.0]
    """

    width: Length
    leading: Length
    return_: Length
    outside: Length
    least_gap: Length = LEAST_GAP.inch

    def gap(self, count: int) -> Length:
        """Return S = (W - a - b - N*G)/(N - 1), negative where the flanges would overlap."""
        return (self.width - self.leading - self.return_ - count * self.outside) / (count - 1)

    def pitch(self, count: int) -> Length:
        """Return P = S + G, one centre to the next."""
        return self.gap(count) + self.outside

    def centers(self, count: int) -> tuple[Length, ...]:
        """Return the centres a + G/2 + i*P, each from the edge that `leading` is measured from."""
        first, pitch = self.leading + self.outside / 2, self.pitch(count)
        return tuple(first + i * pitch for i in range(count))

    @property
    def most_that_fit(self) -> int:
        """The largest even count whose gap is at least `least_gap`; 0 where not even two fit."""
        room = self.width - self.leading - self.return_ + self.least_gap
        most = min(floor(room / (self.outside + self.least_gap)), MOST_EYELETS)
        return max(most - most % 2, 0)

    def counts_beside(self, count: int) -> range:
        """Return the even counts up to `BESIDE` steps from this one that fit, itself if even.

        >>> line = EyeletLine(width=60 * INCH, leading=2 * INCH, return_=4 * INCH, outside=2 * INCH)
        >>> list(line.counts_beside(14))
        [8, 10, 12, 14, 16, 18]
        """
        even = count - count % 2
        return range(max(2, even - 2 * BESIDE), min(self.most_that_fit, even + 2 * BESIDE) + 1, 2)


def gap_kinds(count: int, hung: Hung) -> tuple[GapKind, ...]:
    """Return front, back, front ... from the first gap; none on hooks, where nothing weaves.

    >>> gap_kinds(4, "pole")
    ('front', 'back', 'front')
    """
    if hung == "hooks":
        return ()
    return tuple("front" if i % 2 == 0 else "back" for i in range(count - 1))


def target_gap(
    outside: Length,
    opening: Length,
    hung: Hung,
    length: Length | None,
    asked: Length | None,
    units: Units,
) -> tuple[Length, str]:
    """Return the gap to come nearest to, and why: asked for, hooks, small ring, long, usual.

    The rules are the same in every job; a metric one has rounder measures for them.
    """
    say = Wording(units)
    if asked is not None:
        return asked, "the gap asked for"
    pitch, small, long = (
        usual.of(units) for usual in (SMALL_OPENING_PITCH, SMALL_OPENING, LONG_DROP)
    )
    apart = f"{say(pitch)} from centre to centre"
    if hung == "hooks":
        return pitch - outside, f"{apart}, usual on hooks"
    if opening < small:
        return pitch - outside, f"{apart}, usual for openings under {say(small)}"
    if length is not None and length >= long:
        words = f"one and a half eyelets apart, for a drop of {say(long)} or more"
        return outside * 3 / 2, words
    return outside, "one eyelet apart"


def auto_count(
    line: EyeletLine, target: tuple[Length, str], wall_room: Length | None
) -> tuple[int, str] | None:
    """Return the even count whose gap is nearest the target, and why; None where two don't fit.

    `wall_room` is projection less wall clearance, or None where it isn't known: only counts
    whose stacked fold clears the wall, P/2 <= wall_room, are taken then, or failing those the
    largest that fits. A tie takes the larger count.
    """
    most = line.most_that_fit
    if most == 0:
        return None
    aim, reason = target[0], f"nearest to {target[1]}"
    span = line.pitch(2)  # first centre to last, whatever the count
    first = 2
    if wall_room is not None:
        first = max(_even_from(1 + span / (2 * wall_room)), 2)
        if first > most:
            return most, "the most that fit: no count keeps a stacked fold off the wall"
        if first > 2:
            reason += ", among those that clear the wall"
    # Gaps fall as counts rise, so the nearest is one of the two that the target lies between.
    above = _even_from(1 + span / (aim + line.outside))

    def nearest(least: int) -> int:
        beside = {min(max(count, least), most) for count in (above - 2, above)}
        return min(beside, key=lambda n: (abs(line.gap(n) - aim), -n))

    count, without_wall = nearest(first), nearest(2)
    if count != without_wall:
        # A count that moves when a bracket does must say so where it stands.
        reason += f"; {without_wall} would hit the wall stacked"
    if count == MOST_EYELETS:
        reason += f", and {MOST_EYELETS:,} at most"
    return count, reason


def _even_from(number: Fraction) -> int:
    """Return the least even number that is no less than this one."""
    return ceil(number / 2) * 2
