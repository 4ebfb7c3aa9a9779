"""Figures in words: the formatter that every front shares, and where a line of words may break.

A `Wording` is made from a job's units; by custom it is called `say`. What fronts word in their
own way they hand in as words, so that a figure is turned into text in one place.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from drapetemplate.measures import (
    INCH,
    MM,
    OUNCE,
    Length,
    Units,
    format_length,
    round_half_up,
    rounded_down,
    rounded_up,
)


@dataclass(frozen=True, slots=True)
class Wording:
    """Lengths in, words in `units` out.

    >>> say = Wording("in")
    >>> say(Fraction(1905))
    '75 in'
    """

    units: Units

    def __call__(self, length: Length) -> str:
        """Return a length as `format_length` writes it: "75 1/2 in", "≈ 3/16 in", "5 mm"."""
        return format_length(length, self.units)

    def known(self, length: Length | None) -> str:
        """Return a length, or that it isn't known."""
        return "not known" if length is None else self(length)

    def bare(self, length: Length | None) -> str:
        """Return a length without its unit, for a table that names it; a dash if not known."""
        return "-" if length is None else format_length(length, self.units, unit=False)

    def exact(self, length: Length) -> str:
        """Return a length; where `units` round it and the other system doesn't, that beside it.

        >>> Wording("in").exact(Fraction(5)), Wording("mm").exact(Fraction(5))
        ('≈ 3/16 in (5 mm)', '5 mm')
        """
        in_inches = (length / INCH * 16).denominator == 1
        in_mm = (length / MM * 10).denominator == 1
        exact, beside = (in_inches, in_mm) if self.units == "in" else (in_mm, in_inches)
        text = self(length)
        return f"{text} ({format_length(length, self._other)})" if beside and not exact else text

    def in_both(self, length: Length) -> str:
        """Return a length and, beside it, the other system's: mm to the last of three decimals.

        >>> Wording("in").in_both(Fraction(5) / 8)
        '≈ 0 in (0.625 mm)'
        >>> Wording("cm").in_both(Fraction(254))
        '25.4 cm (10 in)'
        """
        other = format_length(length, self._other)
        if self._other == "mm" and (length * 1000).denominator == 1:
            other = f"{number(length)} mm"
        return f"{self(length)} ({other})"

    def at_least(self, length: Length) -> str:
        """Return a length rounded up, for advice that must hold as it is printed.

        >>> Wording("mm").at_least(Fraction("40.2"))
        '41 mm'
        """
        return self(rounded_up(length, self.units))

    def at_most(self, length: Length) -> str:
        """Return a length rounded down, for advice that must hold as it is printed.

        >>> Wording("mm").at_most(Fraction("40.8"))
        '40 mm'
        """
        return self(rounded_down(length, self.units))

    def hung(self, length: Length) -> str:
        """Return a measure of cloth as it hangs: in a metric job to 1 mm, as none hangs nearer.

        >>> Wording("mm").hung(Fraction("45.6")), Wording("in").hung(Fraction("45.6"))
        ('46 mm', '≈ 1 13/16 in')
        """
        return self(length if self.units == "in" else Fraction(round_half_up(length)))

    def deep(self, depth: Length) -> str:
        """Return how far folds reach, up to a whole 1/16 in or 1 mm: no deeper for certain.

        So it and what is `free` behind it, which is rounded down, add up to the projection.

        >>> say = Wording("mm")
        >>> say.deep(Fraction("45.4")), say.free(95 - Fraction("45.4"), "{} free", "")
        ('46 mm', '49 mm free')
        """
        return self.at_least(depth)

    def free(self, room: Length, fits: str, hits: str) -> str:
        """Return what is free before the wall in a front's own words; `hits` where it is negative.

        So much is free for certain, and no more than so much is missing, to 1/16 in or 1 mm.

        >>> say = Wording("mm")
        >>> say.free(Fraction("12.38"), "{} free", "{} past the wall")
        '12 mm free'
        >>> say.free(Fraction("-3.2"), "{} free", "{} past the wall")
        '4 mm past the wall'
        """
        certain = self.free_for_certain(room)
        return hits.format(self(-certain)) if room < 0 else fits.format(self(certain))

    def free_for_certain(self, room: Length) -> Length:
        """Return what is free, down to a whole 1/16 in or 1 mm; negative: so much is missing."""
        step = INCH / 16 if self.units == "in" else MM
        return floor(room / step) * step

    @property
    def _other(self) -> Units:
        return "mm" if self.units == "in" else "in"


def number(value: Fraction) -> str:
    """Return an exact number as people write it, with a fraction where no short decimal is exact.

    >>> number(Fraction(9, 4)), number(Fraction(7, 3))
    ('2.25', '2 1/3')
    """
    tenthousands = value * 10_000
    if tenthousands.denominator == 1:
        return f"{float(value):.4f}".rstrip("0").rstrip(".")
    whole, part = divmod(value, 1)
    return f"{whole} {part}" if whole else f"{part}"


def weight_in(grams: Fraction, units: Units) -> str:
    """Return a weight as scales show it: lb and whole oz in a job in inches, else kg to 0.1.

    >>> weight_in(Fraction(2100), "in"), weight_in(Fraction(200), "in")
    ('4 lb 10 oz', '7 oz')
    >>> weight_in(Fraction(2100), "mm")
    '2.1 kg'
    """
    if units != "in":
        return f"{float(grams) / 1000:.1f} kg"
    pounds, ounces = divmod(round_half_up(grams / OUNCE), 16)
    return f"{pounds} lb {ounces} oz" if pounds else f"{ounces} oz"


def times(fullness: Fraction | float) -> str:
    """Return a fullness to two decimals.

    >>> times(Fraction(9, 4))
    '2.25 times'
    """
    return f"{float(fullness):.2f} times"


def degrees(limit: float) -> str:
    """Return a ring's turn in whole degrees, rounded down: it turns that far for certain.

    A float's last digits don't count.

    >>> degrees(44.6), degrees(44.99999999999999)
    ('44°', '45°')
    """
    return f"{int(limit + 1e-9)}°"


def load(grams: Fraction, units: Units) -> str:
    """Return a weight that something must bear, in both systems: the job's own first.

    >>> load(Fraction(2400), "mm"), load(Fraction(2400), "in")
    ('2.4 kg (5 lb 5 oz)', '5 lb 5 oz (2.4 kg)')
    """
    other: Units = "mm" if units == "in" else "in"
    return f"{weight_in(grams, units)} ({weight_in(grams, other)})"


def joined(names: Iterable[str]) -> str:
    """Return names of windows in a row: a name may hold a comma, so that none parts them.

    >>> joined(["Dining, north", "Dining, south"])
    'Dining, north + Dining, south'
    """
    return " + ".join(names)


def all_of(words: Iterable[str]) -> str:
    """Return words in a row, "and" before the last: at least one.

    >>> all_of(["2 in"]), all_of(["2 in", "9 in"]), all_of(["2 in", "9 in", "12 in"])
    ('2 in', '2 in and 9 in', '2 in, 9 in and 12 in')
    """
    *before, last = words
    return f"{', '.join(before)} and {last}" if before else last


def counted(count: int, noun: str) -> str:
    """Return a count and its noun, in the plural unless there is one.

    >>> counted(1, "drop"), counted(0, "drop")
    ('1 drop', '0 drops')
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _breaks(*kept: tuple[str, str]) -> re.Pattern[str]:
    """A pattern for the spaces where a line may break: not between any of these pairs."""
    return re.compile(" " + "".join(f"(?!(?<={before} ){after})" for before, after in kept))


_UNIT = r"(?:in|mm|cm|m|yd|ft|kg|g|gsm|lb|oz|oz/yd²|times|%)(?!\w)"

PAGE_BREAKS = _breaks(("≈", ""), ("[0-9]", f"(?:[0-9]+/[0-9]+|{_UNIT})"))
"""Where a line of a page may break: a number stays with its sign, its fraction and its unit."""

SCREEN_BREAKS = _breaks(("[≈~]", r"\d"), (r"\d", r"(?:\d+/\d|[^\W\d_])"))
"""Where a line of a terminal may break: a number also stays with what it counts."""
