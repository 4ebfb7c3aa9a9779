"""A printer's factors: what a file must be multiplied by, each way, to come out true on it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from drapetemplate.measures import shown

# Printers that are in order are off by tenths of a per cent. More is a setting that scales the
# page, which may be another one tomorrow: such a factor would spoil the next print.
MOST_OFF = Fraction(3, 100)
# So long that the widest letters still fit an upright letter sheet's heading with both factors.
LONGEST_NAME = 24
_FRACTION = re.compile(r"[0-9]{1,40}(?:/[0-9]{1,40})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Factors:
    """A printer's name, and what to multiply by `across` and `down` the upright page."""

    name: str
    across: Fraction
    down: Fraction

    @property
    def smaller(self) -> Fraction:
        """The smaller factor: the one that asks most of a margin."""
        return min(self.across, self.down)

    @property
    def words(self) -> str:
        """For people: "workroom laser: ×1.0027 across, ×0.9984 down"."""
        return f"{self.name}: ×{float(self.across):.4f} across, ×{float(self.down):.4f} down"


def read_name(text: str) -> str:
    """A printer's name with its spaces made single; ValueError for one nobody could print."""
    name = " ".join(text.split())
    if not name:
        raise ValueError("is blank: write a name")
    if len(name) > LONGEST_NAME:
        raise ValueError(f"{len(name)} characters: write {LONGEST_NAME} or fewer")
    if not name.isprintable():
        raise ValueError(f"{shown(name)} has characters that don't show: leave them out")
    return name


def within(factor: Fraction) -> bool:
    """Whether a factor can be a printer's own stretch, and not a setting that scales."""
    return abs(factor - 1) <= MOST_OFF


def factors_of(name: str, value: Any) -> Factors:  # noqa: ANN401  # whatever JSON holds
    """A printer out of JSON, its factors checked; ValueError says what is wrong with it."""
    if not isinstance(value, dict):
        raise ValueError(f"{shown(name)} isn't a table")  # noqa: TRY004  # a damaged file
    try:
        plain = read_name(name)
    except ValueError:
        plain = None
    if plain != name:
        raise ValueError(f"{shown(name)} isn't a printer's name")
    across, down = (_factor(name, way, value.get(way)) for way in ("across", "down"))
    return Factors(name, across, down)


def _factor(name: str, way: str, text: object) -> Fraction:
    if not isinstance(text, str) or not _FRACTION.fullmatch(text):
        raise ValueError(f'{shown(name)} has no factor {way}, such as "600/599"')
    over, _, under = text.partition("/")
    if not int(under or 1) or not within(Fraction(int(over), int(under or 1))):
        raise ValueError(f"{shown(name)} has a factor {way} beyond {MOST_OFF * 100} %")
    return Fraction(text)
