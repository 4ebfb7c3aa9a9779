"""A printer's factors: what a file must be multiplied by, each way, to come out true on it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    PlainSerializer,
    PlainValidator,
    ValidationInfo,
)

from drapetemplate.measures import shown

# Printers that are in order are off by tenths of a per cent. More is a setting that scales the
# page, which may be another one tomorrow: such a factor would spoil the next print.
MOST_OFF = Fraction(3, 100)
# So long that the widest letters still fit an upright letter sheet's heading with both factors.
LONGEST_NAME = 24
RIGHT = 'such as "600/599"'
_FRACTION = re.compile(r"[0-9]{1,40}(?:/[0-9]{1,40})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Factors:
    """A printer's name, and what to multiply by `across` and `down` the upright page."""

    name: str
    across: Fraction
    down: Fraction

    @property
    def smaller(self) -> Fraction:
        """Return the smaller factor: the one that asks most of a margin."""
        return min(self.across, self.down)

    @property
    def words(self) -> str:
        """Return name and factors for people.

        >>> Factors("workroom laser", Fraction(600, 599), Fraction(1)).words
        'workroom laser: ×1.0017 across, ×1.0000 down'
        """
        return f"{self.name}: ×{float(self.across):.4f} across, ×{float(self.down):.4f} down"


def read_name(text: str) -> str:
    """Return a printer's name, its spaces made single; ValueError for one nobody could print."""
    name = " ".join(text.split())
    if not name:
        raise ValueError("is blank: write a name")
    if len(name) > LONGEST_NAME:
        raise ValueError(f"{len(name)} characters: write {LONGEST_NAME} or fewer")
    if not name.isprintable():
        raise ValueError(f"{shown(name)} has characters that don't show: leave them out")
    return name


def within(factor: Fraction) -> bool:
    """Return whether a factor can be a printer's own stretch, and not a setting that scales."""
    return abs(factor - 1) <= MOST_OFF


def _factor(value: object, info: ValidationInfo) -> Fraction:
    text = "1" if type(value) is int and value == 1 else value  # as a hand may write it
    if not isinstance(text, str) or not _FRACTION.fullmatch(text):
        raise ValueError(f"has no factor {info.field_name}, {RIGHT}")
    over, _, under = text.partition("/")
    if not int(under or 1) or not within(Fraction(int(over), int(under or 1))):
        raise ValueError(f"has a factor {info.field_name} beyond {MOST_OFF * 100} %")
    return Fraction(text)


def _printable_name(name: str) -> str:
    try:
        plain = read_name(name)
    except ValueError:
        plain = None
    if plain != name:
        raise ValueError("isn't a printer's name")
    return name


PrinterName = Annotated[str, AfterValidator(_printable_name)]
_Factor = Annotated[Fraction, PlainValidator(_factor), PlainSerializer(str)]


class FactorsTable(BaseModel):
    """A printer's factors as they are kept in JSON: each the text of an exact fraction.

    >>> FactorsTable.model_validate_json('{"across": "600/599", "down": "1"}').across
    Fraction(600, 599)
    """

    model_config = ConfigDict(frozen=True)

    across: _Factor
    down: _Factor


def factors_of(name: str, value: object) -> Factors:
    """Return a printer by its name and its factors as JSON holds them; ValueError if damaged."""
    table = FactorsTable.model_validate(value)
    return Factors(_printable_name(name), table.across, table.down)
