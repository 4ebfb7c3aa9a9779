"""How measures may be spelled, as patterns that a JSON Schema can carry (ECMA 262).

They let through all that `measures` reads, and refuse what a pattern can: they know numbers,
signs and units, but nothing of sizes. `alone` anchors them.
"""

from __future__ import annotations

from collections.abc import Iterable
from string import ascii_lowercase

from drapetemplate.measures import (
    AREA_WEIGHT_UNITS,
    FOOT,
    INCH,
    LENGTH_UNITS,
    MASS_UNITS,
    VULGAR,
    YARD,
)

# What Python's casefold takes for these letters too: the long s and the kelvin sign.
_ALSO = {"s": "\u017f", "k": "\u212a"}
_SIGNS = {"^": r"\^", "'": "['\u2032\u2018\u2019]", '"': '["\u2033\u201c\u201d]'}
_HYPHEN = "[-\u2010\u2011\u2013\u2212]"
_OVER = rf"[0-9]+\s*[/{chr(0x2044)}]\s*0*[1-9][0-9]*"  # a stroke or a fraction slash
_NUMBER = (
    rf"(?:(?:[0-9]+(?:\s*{_HYPHEN}\s*|\s+))?{_OVER}"
    rf"|(?:[0-9]+\s*(?:{_HYPHEN}\s*)?)?[{VULGAR}]"
    r"|[0-9]+\.?[0-9]*|\.[0-9]+"
    # A decimal comma, unless it may part thousands.
    r"|[0-9]+,(?:[0-9]{1,2}|[0-9]{4,})|(?:0[0-9]*|[0-9]{4,}),[0-9]{3})"
)
NOT_ZERO = f"[1-9{VULGAR}]"
"""What every number over zero has in it."""


def any_case(text: str) -> str:
    """Return the pattern of a text in whatever case, and with whatever primes.

    >>> any_case("ft.")
    '[fF][tT].'
    """
    return "".join(
        f"[{char}{char.upper()}{_ALSO.get(char, '')}]"
        if char in ascii_lowercase
        else _SIGNS.get(char, char)
        for char in text
    )


def one_of(words: Iterable[str]) -> str:
    """Return the pattern of one of some words, each in whatever case."""
    return f"(?:{'|'.join(any_case(word) for word in words)})"


def _spaced(words: Iterable[str]) -> str:
    """Return the pattern of one of some words, with spaces anywhere in it."""
    between = r"\s*"
    return f"(?:{'|'.join(between.join(any_case(char) for char in word) for word in words)})"


def alone(pattern: str) -> str:
    """Return the pattern of a text that is this and nothing else."""
    return rf"^\s*(?:≈\s*)?{pattern}\s*$"


_UNIT = rf"\s*{one_of(LENGTH_UNITS)}\.?"
_SMALLER = rf"\s*{one_of(n for n, size in LENGTH_UNITS.items() if size in (INCH, FOOT, YARD))}\.?"
# Feet and inches: every number but the last needs its unit.
_LONGER = rf"(?:{_NUMBER}{_SMALLER}\s*(?:{_HYPHEN}\s*)?)+"

LENGTH = f"(?:{_LONGER}{_NUMBER}{_SMALLER}|{_NUMBER}(?:{_UNIT})?)"
SIGNED_LENGTH = rf"(?:{_HYPHEN}\s*)?{LENGTH}"
"""A length that may be negative."""
SIDE = rf"(?:≈\s*)?(?:{_LONGER})?{_NUMBER}(?:{_UNIT})?"
"""A side of a page, whose last unit may stand at the other side."""
PAPER = rf"{SIDE}\s*(?:{any_case('roll')}|[xX×]\s*{SIDE})"
"""A roll by its width, or a page by its two sides."""
MULTIPLIER = _NUMBER
SHARE = rf"{_NUMBER}\s*%?"
MASS = rf"{_NUMBER}\s*{_spaced(MASS_UNITS)}\s*\.?"
AREA_WEIGHT = rf"{_NUMBER}\s*{_spaced(AREA_WEIGHT_UNITS)}\s*\.?"
