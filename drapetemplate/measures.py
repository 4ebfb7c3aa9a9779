"""Measures as people write them in, exact fractions out, and back to text.

Lengths are exact millimetres, masses grams, cloth weights grams a square metre. Every parser
raises ValueError with one line that says what was read and what would be right; it leaves the
key's name to the caller. Echoed text is cut short and stripped of control characters.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from typing import Literal, TypeAlias

Length: TypeAlias = Fraction
"""An exact number of millimetres."""

Units = Literal["in", "mm", "cm"]

MM = Fraction(1)
CM = Fraction(10)
METRE = Fraction(1000)
# 1 in = 25.4 mm, 1 ft = 12 in, 1 yd = 3 ft, all exact: NIST SP 811 (2008), appendix B.6.
INCH = Fraction(254, 10)
FOOT = 12 * INCH
YARD = 3 * FOOT
LONGEST = 100 * METRE

# 1 avoirdupois ounce = 28.349523125 g, exact: NIST SP 811 (2008), appendix B.8.
OUNCE = Fraction(28349523125, 10**9)
SQUARE_YARD = (YARD / METRE) ** 2

ECHO = 40
"""How many characters of what was read a message may repeat, and a measure may have."""

_MOST_DIGITS = 40
_LARGEST = 10**9  # beyond every limit below, so refusing it early changes no answer

LENGTH_UNITS = {
    **dict.fromkeys(("in", "inch", "inches", '"', "''"), INCH),
    **dict.fromkeys(("ft", "foot", "feet", "'"), FOOT),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), YARD),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), MM),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), CM),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), METRE),
}
MASS_UNITS = {
    **dict.fromkeys(("g", "gram", "grams"), Fraction(1)),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), Fraction(1000)),
    **dict.fromkeys(("oz", "ounce", "ounces"), OUNCE),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), 16 * OUNCE),
}
AREA_WEIGHT_UNITS = {
    **dict.fromkeys(("gsm", "g/m2", "g/m²", "g/m^2", "g/sqm"), Fraction(1)),
    **dict.fromkeys(("oz/yd2", "oz/yd²", "oz/yd^2", "oz/sqyd"), OUNCE / SQUARE_YARD),
}

VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
# Each vulgar fraction is set apart by spaces: "75½" must read as 75 1/2, never as 751/2.
_PLAINER = str.maketrans(
    {
        **{sign: f" {unicodedata.normalize('NFKC', sign)} " for sign in VULGAR},
        **dict.fromkeys(
            "\N{PRIME}\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}", "'"
        ),
        **dict.fromkeys("″“”", '"'),
        **dict.fromkeys("\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{EN DASH}\N{MINUS SIGN}", "-"),
    }
)
_NUMBER = re.compile(
    r"\s*-?\s*(?:"
    r"(?:(?P<whole>[0-9]+)(?:\s*-\s*|\s+))?(?P<over>[0-9]+)\s*[/\u2044]\s*(?P<under>[0-9]+)"
    r"|(?P<decimal>[0-9]+\.?[0-9]*|(?<!\S)\.[0-9]+))"
)
# A decimal comma, and what may be one as well as a thousands separator: three digits behind it, and
# before it one to three that a number may begin with.
_COMMA = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9.,])")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_UNIT = re.compile(r"\s*(''|'|\"|[^\W\d_]+)(?:(?<=\w)\.(?![0-9]))?")


@dataclass(frozen=True, slots=True)
class _Wanted:
    """What a parser is to read, for its messages: what it is called, and how to write one."""

    noun: str
    write: str


_LENGTH = _Wanted("a length", 'a number, or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"')
_MULTIPLIER = _Wanted("a plain number", 'a number without a unit, such as 2.5 or "2 1/2"')
_MASS = _Wanted("a weight", 'a number and its unit, such as "12 g" or "0.4 oz"')
_AREA_WEIGHT = _Wanted("a cloth weight", 'a number and its unit, such as "250 gsm" or "8 oz/yd2"')
_SHARE = _Wanted("a share", 'a share of 1 or per cent, such as 0.03 or "3 %"')


def printable(text: str) -> str:
    r"""Return any text as text that is safe in an error line or a terminal.

    Spaces of every kind, tabs and newlines become a space; what else doesn't print (control,
    format and bidi characters, surrogates, unassigned) becomes U+FFFD.

    >>> printable("writing\troom")
    'writing room'
    """
    return "".join(
        " " if char.isspace() else char if char.isprintable() else "\N{REPLACEMENT CHARACTER}"
        for char in text
    )


def shown(value: object) -> str:
    """Return any value of a job file as short, safe text for a message; text comes in quotes.

    >>> print(shown("88"), shown(True), shown([1, 2, 3, 4]))
    "88" true [1, 2, 3, …]
    """
    match value:
        case bool():
            text = "true" if value else "false"
        case int() if abs(value) >= 10**ECHO:
            text = "a very large number"  # Python refuses to write out thousands of digits
        case list():
            listed = ", ".join(shown(item) for item in value[:3])
            text = f"[{listed}{', …' if len(value) > 3 else ''}]"
        case dict():
            text = "a table"
        case _:
            text = str(value)
    text = printable(text[:ECHO] + "…" if len(text) > ECHO else text)
    return f'"{text}"' if isinstance(value, str) else text


def refusal(value: object, text: str) -> ValueError:
    """Return the error for a value that can't be used: what was read, then `text`."""
    return ValueError(f"{shown(value)} {text}")


def parse_length(value: object, units: Units) -> Length:
    r"""Read a length in exact millimetres from a number in `units`, or text that may carry its own.

    Takes int, Decimal, Fraction or text: "75 1/2", "75-1/2", "75½", `6' 3 1/2"`, "190.5 cm",
    "64,5". A comma that may part thousands is refused.
    Zero is let through; whether it makes sense is the caller's to say. Nothing is rounded.
    Raises ValueError: negative, over 100 m, or not a length. So is "11/2", which may be 1 1/2 with
    its space left out as well as 5 1/2.

    >>> parse_length("75 1/2", "in"), parse_length("190.5 cm", "in"), parse_length(75, "mm")
    (Fraction(19177, 10), Fraction(1905, 1), Fraction(75, 1))
    >>> parse_length("6' 3\"", "mm") == 75 * INCH
    True
    >>> float(parse_length("64,5", "mm"))
    64.5
    >>> parse_length("1,250", "mm")
    Traceback (most recent call last):
    ValueError: "1,250" may be 1250 or 1.250: write one of them, without a comma
    """
    if isinstance(value, str):
        length = _length_of(value, units)
    else:
        length = _exact(value, _LENGTH) * LENGTH_UNITS[units]
    if length > LONGEST:
        raise refusal(value, "is over 100 m, the longest this tool takes")
    return length


def format_length(length: Length, units: Units, *, unit: bool = True) -> str:
    """Return a length as text in `units`, halves rounded away from zero; bare without `unit`.

    Inches go to the nearest 1/16 and show "≈ " where that isn't exact; mm go to 0.1 and cm to
    0.01, where rounding is the custom and isn't marked. `parse_length` reads all of it back, but
    for negative lengths.

    >>> format_length(INCH * 151 / 2, "in"), format_length(Length(100), "in")
    ('75 1/2 in', '≈ 3 15/16 in')
    >>> format_length(INCH * 3 / 16, "mm"), format_length(INCH * 3 / 16, "cm", unit=False)
    ('4.8 mm', '0.48')
    """
    if units == "in":
        sixteenths = length / INCH * 16
        steps = round_half_up(sixteenths)
        text = _mixed(Fraction(steps, 16))
        if steps != sixteenths:
            text = f"≈ {text}"
    else:
        decimals, size = (1, MM) if units == "mm" else (2, CM)
        grid = 10**decimals
        steps = round_half_up(length / size * grid)
        whole, part = divmod(abs(steps), grid)
        digits = f"{part:0{decimals}d}".rstrip("0")
        text = f"{'-' if steps < 0 else ''}{whole}{'.' if digits else ''}{digits}"
    return f"{text} {units}" if unit else text


def round_half_up(value: Fraction) -> int:
    """Return the nearest whole number, exactly; halves go away from zero.

    >>> round_half_up(Fraction(5, 2)), round_half_up(Fraction(-5, 2))
    (3, -3)
    """
    nearest = floor(abs(value) + Fraction(1, 2))
    return nearest if value >= 0 else -nearest


def rounded_up(length: Length, units: Units) -> Length:
    """Return a length rounded up to a whole 1/16 in or 1 mm, so that advice holds as printed.

    >>> rounded_up(Fraction(201, 10), "mm"), format_length(rounded_up(Length(20), "in"), "in")
    (Fraction(21, 1), '13/16 in')
    """
    grid = INCH / 16 if units == "in" else Fraction(1)
    return ceil(length / grid) * grid


def rounded_down(length: Length, units: Units) -> Length:
    """Return a length rounded down to a whole 1/16 in or 1 mm, so that advice holds as printed.

    >>> rounded_down(Fraction(209, 10), "mm"), format_length(rounded_down(Length(20), "in"), "in")
    (Fraction(20, 1), '3/4 in')
    """
    grid = INCH / 16 if units == "in" else Fraction(1)
    return length // grid * grid


def format_order(amount: Fraction, unit: Literal["yd", "m"]) -> str:
    """Return cloth to buy as text; `amount` is in quarters of a yard or tenths of a metre.

    >>> format_order(Fraction(37, 4), "yd"), format_order(Fraction(42, 5), "m")
    ('9 1/4 yd', '8.4 m')
    """
    return f"{_mixed(amount)} yd" if unit == "yd" else f"{float(amount):.1f} m"


def parse_number(value: object) -> Fraction:
    """Read a plain exact number, zero or more, from a number or text.

    Raises ValueError: negative, huge, carrying a unit, or not a number.

    >>> parse_number("2 1/2"), parse_number("2½"), parse_number(2)
    (Fraction(5, 2), Fraction(5, 2), Fraction(2, 1))
    """
    if not isinstance(value, str):
        return _exact(value, _MULTIPLIER)
    number, rest = _split(value, _MULTIPLIER)
    if rest:
        raise refusal(value, f"is not a plain number: write {_MULTIPLIER.write}")
    return number


def parse_mass(value: object) -> Fraction:
    """Read grams, exact, from text with its unit.

    Raises ValueError: no unit, an unknown one, negative, or over 100 kg.

    >>> parse_mass("12 g"), parse_mass("0.5 kg")
    (Fraction(12, 1), Fraction(500, 1))
    """
    grams = _with_unit(value, _MASS, MASS_UNITS, "g, kg, oz or lb")
    if grams > 100_000:
        raise refusal(value, "is over 100 kg, the most this tool takes")
    return grams


def parse_area_weight(value: object) -> Fraction:
    """Read grams a square metre, exact, from text with its unit.

    Raises ValueError: no unit, an unknown one ("8 oz" doesn't say per what), negative, or over
    10,000 gsm.

    >>> parse_area_weight("250 gsm"), round(float(parse_area_weight("8 oz/yd2")), 2)
    (Fraction(250, 1), 271.25)
    """
    weight = _with_unit(value, _AREA_WEIGHT, AREA_WEIGHT_UNITS, "gsm, g/m2 or oz/yd2")
    if weight > 10_000:
        raise refusal(value, "is over 10000 gsm, the most this tool takes")
    return weight


def parse_share(value: object) -> Fraction:
    """Read a share from 0 to 0.25, exact, from a number or text.

    Raises ValueError: more than 0.25, negative, or not a share.

    >>> parse_share("3 %"), parse_share(Decimal("0.03"))
    (Fraction(3, 100), Fraction(3, 100))
    """
    if isinstance(value, str):
        share, rest = _split(value, _SHARE)
        if rest not in {"", "%"}:
            raise refusal(value, f"is not a share: write {_SHARE.write}")
        if rest:
            share /= 100
    else:
        share = _exact(value, _SHARE)
    if share > Fraction(1, 4):
        raise refusal(value, 'is more than 25 %: for 3 % write 0.03 or "3 %"')
    return share


def _mixed(value: Fraction) -> str:
    """Return a number as a whole one and a proper fraction in lowest terms.

    >>> [_mixed(Fraction(quarters, 4)) for quarters in (302, 3, 0, -1)]
    ['75 1/2', '3/4', '0', '-1/4']
    """
    whole, part = divmod(abs(value), 1)
    words = [str(whole)] if whole or not part else []
    if part:
        words.append(f"{part.numerator}/{part.denominator}")
    return ("-" if value < 0 else "") + " ".join(words)


def _exact(value: object, wanted: _Wanted) -> Fraction:
    """Read a number that isn't text as a fraction, or ValueError; huge ones are refused unbuilt."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal | Fraction):
        raise refusal(value, f"is not {wanted.noun}: write {wanted.write}")
    if isinstance(value, Decimal):
        if not value.is_finite():
            raise refusal(value, f"is not {wanted.noun}: write {wanted.write}")
        if value and not -_MOST_DIGITS < value.adjusted() < _MOST_DIGITS:
            raise refusal(value, f"is far too large or too small for {wanted.noun}")
        _, digits, exponent = value.as_tuple()
        if value and (len(digits) > _MOST_DIGITS or abs(int(exponent)) > _MOST_DIGITS):
            raise refusal(value, f"has more digits than {wanted.noun} can use")
    if value < 0:
        raise refusal(value, f"is negative: write {wanted.noun} of 0 or more")
    if value > _LARGEST:
        raise refusal(value, f"is far too large for {wanted.noun}")
    return Fraction(value) if value else Fraction(0)


def _plain(text: str, wanted: _Wanted) -> str:
    """Return text in plain characters, or raise ValueError for what can't be read."""
    if len(text) > ECHO:
        raise refusal(text, f"is too long for {wanted.noun}: write {wanted.write}")
    plain = "".join(" " if char.isspace() else char for char in text.translate(_PLAINER)).strip()
    plain = plain.removeprefix("≈").strip()
    if not plain:
        raise refusal(text, f"is empty: write {wanted.write}")
    if any(char.isdecimal() and not char.isascii() for char in plain):
        raise refusal(text, "has digits this tool can't read: use 0 to 9")
    plain = _COMMA.sub(lambda number: _pointed(number, text), plain)
    if "," in plain:
        raise refusal(text, "has a comma that can't be read: write 1250, or 64.5")
    if plain.startswith("-"):
        raise refusal(text, f"is negative: write {wanted.noun} of 0 or more")
    return plain


def _pointed(number: re.Match[str], text: str) -> str:
    """Return a number with a point for its comma; ValueError where that may part thousands."""
    if _THOUSANDS.fullmatch(number[0]):
        either = f"{number[1]}{number[2]} or {number[1]}.{number[2]}"
        raise refusal(text, f"may be {either}: write one of them, without a comma")
    return f"{number[1]}.{number[2]}"


def _leading_number(plain: str, start: int, text: str, wanted: _Wanted) -> tuple[Fraction, int]:
    """Return the number that begins at `start` of `plain` and where it ends, or ValueError."""
    spelled = _NUMBER.match(plain, start)
    if spelled is None:
        raise refusal(text, f"is not {wanted.noun}: write {wanted.write}")
    if spelled["decimal"]:
        return Fraction(spelled["decimal"]), spelled.end()
    over, under = int(spelled["over"]), int(spelled["under"])
    if under == 0:
        raise refusal(text, f"divides by zero: write {wanted.write}")
    if spelled["whole"] is None:
        if over >= under:
            *others, last = _meant(spelled["over"], under)
            either = " or ".join([", ".join(others), last] if others else [last])
            raise refusal(text, f"has a fraction of 1 or more: write {either}")
        return Fraction(over, under), spelled.end()
    number = int(spelled["whole"]) + Fraction(over, under)
    if over >= under:
        raise refusal(
            text,
            f"has a fraction of 1 or more after a whole number: {_mixed(number)}, or is it a slip?",
        )
    return number, spelled.end()


def _meant(over: str, under: int) -> list[str]:
    """Return what "11/2" may stand for: with the space that was left out, and as it stands.

    >>> _meant("11", 2), _meant("5", 2), _meant("115", 16), _meant("16", 16)
    (['1 1/2', '5 1/2'], ['2 1/2'], ['11 5/16', '1 15/16', '7 3/16'], ['1 6/16', '1'])
    """
    mixed = [
        f"{over[:end]} {over[end:]}/{under}"
        for end in range(len(over) - 1, 0, -1)
        if over[0] != "0" and over[end] != "0" and int(over[end:]) < under
    ]
    return [*mixed[:2], _mixed(Fraction(int(over), under))]


def _split(text: str, wanted: _Wanted) -> tuple[Fraction, str]:
    """Return the number that text begins with, and the rest without spaces, case folded."""
    plain = _plain(text, wanted)
    number, end = _leading_number(plain, 0, text, wanted)
    return number, "".join(plain[end:].split()).casefold()


def _with_unit(value: object, wanted: _Wanted, units: dict[str, Fraction], known: str) -> Fraction:
    """Return a number times the unit it must carry, or ValueError naming the known units."""
    if not isinstance(value, str):
        _exact(value, wanted)
        raise refusal(value, f"has no unit: write {wanted.write}")
    number, unit = _split(value, wanted)
    unit = unit.removesuffix(".")
    if not unit:
        raise refusal(value, f"has no unit: write {wanted.write}")
    if unit not in units:
        raise refusal(value, f"has an unknown unit: use {known}")
    return number * units[unit]


def _length_of(text: str, units: Units) -> Length:
    """Read a length from text: one number with or without a unit, or yards, feet and inches."""
    plain = _plain(text, _LENGTH)
    terms: list[tuple[Fraction, Fraction | None]] = []
    end = 0
    while end < len(plain):
        number, end = _leading_number(plain, end, text, _LENGTH)
        unit = _UNIT.match(plain, end)
        if unit is None:
            terms.append((number, None))
            continue
        end = unit.end()
        size = LENGTH_UNITS.get(unit[1].casefold())
        if size is None:
            raise refusal(text, "has an unknown unit: use in, ft, yd, mm, cm or m")
        terms.append((number, size))
    if len(terms) == 1:
        [(number, size)] = terms
        return number * (size or LENGTH_UNITS[units])
    return _compound(terms, text)


def _compound(terms: list[tuple[Fraction, Fraction | None]], text: str) -> Length:
    """Add up yards, feet and inches, from large to small, each less than the next larger."""
    if all(size is None for _, size in terms):
        raise refusal(text, f"is not {_LENGTH.noun}: write {_LENGTH.write}")
    total = Fraction(0)
    larger: Fraction | None = None
    for number, size in terms:
        if size is None:
            raise refusal(text, "needs a unit after each number, as in 6 ft 3 in")
        if size not in {INCH, FOOT, YARD}:
            raise refusal(text, "mixes units: only yd, ft and in go together")
        if larger is not None and (total % larger or number * size >= larger):
            raise refusal(
                text,
                "is out of step: write whole yards, whole feet under 3, "
                "inches under 12, as in 6 ft 3 1/2 in",
            )
        total += number * size
        larger = size
    return total
