"""What one key of the job file may hold: a value as TOML gives it in, the exact value out.

Each reader raises ValueError with one plain line that says what was read and what would be
right. It leaves the key's name to the caller, and describes itself as JSON Schema.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from math import floor
from typing import Annotated, cast, get_args

from pydantic import PlainValidator, ValidationInfo, WithJsonSchema
from pydantic.json_schema import JsonSchemaValue

from drapetemplate.job import spellings
from drapetemplate.job.defaults import UNITS
from drapetemplate.job.paper_sizes import LONGEST_PAGE, SHEETS, PaperSize
from drapetemplate.job.spellings import NOT_ZERO, alone, one_of
from drapetemplate.measures import (
    ECHO,
    INCH,
    LONGEST,
    MM,
    Length,
    Units,
    parse_area_weight,
    parse_length,
    parse_mass,
    parse_number,
    parse_share,
    refusal,
)

LONGEST_TEXT = 20_000
NONE = "none"
"""The word by which a window takes back what the file's own table says."""


Read = Callable[[object, Units], object]
"""Takes a raw value and the units of bare numbers; gives the exact value, or raises ValueError."""


def reader(read: Read, schema: JsonSchemaValue) -> PlainValidator:
    """Return the annotation of a field that `read` reads and `schema` describes.

    The units of bare numbers are those of the validation's context.
    """

    def validate(value: object, info: ValidationInfo) -> object:
        context = cast("dict[str, Units]", info.context or {})
        return read(value, context.get("units", UNITS.value))

    described = Annotated[object, WithJsonSchema(schema)]
    return PlainValidator(validate, json_schema_input_type=described)


def nearest_of(word: str, known: list[str]) -> str | None:
    """Return the one of `known` that `word` is most like, or None; long words are like nothing."""
    if len(word) > ECHO:
        return None
    nearest = get_close_matches(word.casefold(), known, n=1)
    return nearest[0] if nearest else None


def read_paper(value: object, units: Units) -> PaperSize:
    """Read a paper size: a name, "13 x 19 in" or "24 in roll"; bare numbers are in `units`.

    Raises ValueError: neither a known name nor two sides or a roll's width, over 200 in.
    """
    if not isinstance(value, str):
        raise refusal(value, f"is not a paper size: write {PAPER_WORDS}")
    text = " ".join(value.casefold().split())
    if text in SHEETS:
        return SHEETS[text]
    if not any(char.isdecimal() for char in text):
        hint = nearest_of(text, list(SHEETS))
        meant = f"did you mean {hint}? " if hint else ""
        raise refusal(value, f"is not a paper size: {meant}write {PAPER_WORDS}")
    if text.endswith("roll"):
        side = _with_unit(text.removesuffix("roll"), units)
        return PaperSize(f"{side} roll", _side(side, units), None)
    sides = re.split("[x\N{MULTIPLICATION SIGN}]", text)
    if len(sides) != 2 or not all(side.strip() for side in sides):
        raise refusal(value, f"is not a paper size: write {PAPER_WORDS}")
    second = _with_unit(sides[1], units)
    first = _with_unit(sides[0], _unit_of(second))
    width, height = sorted((_side(first, units), _side(second, units)))
    return PaperSize(f"{sides[0].strip()} x {second}", width, height)


PAPER_WORDS = 'letter, legal, tabloid, a4, a3, or a size such as "13 x 19 in" or "24 in roll"'


def _unit_of(side: str) -> str:
    """Return what follows the last number in one side of a page, or nothing."""
    number = (i for i, char in enumerate(side, 1) if char.isnumeric() or char in "./ ")
    return side[max(number, default=0) :]


def _with_unit(side: str, unit: str) -> str:
    """Return one side of a page with `unit` behind it where it has none of its own."""
    side = side.strip().removesuffix(".")
    return side if _unit_of(side) else f"{side} {unit}"


def _side(text: str, units: Units) -> Length:
    """Read one side of a page; raises ValueError when it is no length a page can have."""
    side = parse_length(text, units)
    if not 0 < side <= LONGEST_PAGE:
        raise refusal(text, "can't be the side of a page: more than 0, up to 200 in")
    return side


def _positive_length(value: object, units: Units) -> Length:
    length = parse_length(value, units)
    if not length:
        raise refusal(value, "means nothing here: write a length over 0")
    return length


HYPHENS = ("-", "\N{HYPHEN}", "\N{NON-BREAKING HYPHEN}", "\N{EN DASH}", "\N{MINUS SIGN}")
MOST_ON_FLOOR = 24 * INCH
"""The most that a panel may be asked to lie on the floor: more is taken for a slip."""


def _off_floor(value: object, units: Units) -> Length:
    """Read a length that may be negative: cloth on the floor."""
    on_floor: object = None
    if isinstance(value, str) and value.lstrip().startswith(HYPHENS):
        on_floor = value.lstrip()[1:]
    elif isinstance(value, Decimal) and value.is_signed():
        on_floor = value.copy_abs()
    elif isinstance(value, int) and value < 0:
        on_floor = -value
    if on_floor is None:
        return parse_length(value, units)
    length = parse_length(on_floor, units)
    if length > MOST_ON_FLOOR:
        most = "24 in" if units == "in" else "600 mm"
        raise refusal(
            value, f"is more cloth on the floor than is ever wanted: write {most} or less"
        )
    return -length


def none_for_word(value: object) -> object:
    """Return None for the word none, in any case, and anything else as it is."""
    return None if isinstance(value, str) and value.casefold() == NONE else value


def _positive_or_none(value: object, units: Units) -> Length | None:
    return None if none_for_word(value) is None else _positive_length(value, units)


def _written(pattern: str) -> JsonSchemaValue:
    """Describe text of a measure's pattern, and nothing else."""
    return {"type": "string", "maxLength": ECHO, "pattern": alone(pattern)}


def _measure(
    parse: Callable[[object], Fraction],
    pattern: str,
    bounds: JsonSchemaValue | None = None,
) -> PlainValidator:
    """Make the reader of what `parse` reads; `bounds` are a number's, None if it can't be one."""

    def read(value: object, _units: Units) -> Fraction:
        return parse(value)

    described = _written(pattern)
    if bounds is None:
        return reader(read, described | {"allOf": [{"pattern": NOT_ZERO}]})
    return reader(read, described | {"type": ["number", "string"]} | bounds)


def _over_zero(parse: Callable[[object], Fraction]) -> Callable[[object], Fraction]:
    """Make `parse` refuse 0."""

    def read(value: object) -> Fraction:
        measure = parse(value)
        if not measure:
            raise refusal(value, "means nothing here: write more than 0")
        return measure

    return read


def _fullness(value: object) -> Fraction:
    fullness = parse_number(value)
    if not 1 <= fullness <= 10:
        raise refusal(value, "can't be a fullness: it is a multiplier from 1 to 10, 2 means twice")
    return fullness


def _widths(value: object) -> Fraction:
    widths = parse_number(value)
    if not 1 <= widths <= 100 or (2 * widths).denominator != 1:
        raise refusal(value, "can't be a number of widths: write whole or half ones, 1 to 100")
    return widths


def whole(least: int, most: int, *, instead: str | None = None) -> PlainValidator:
    """Make the reader of a whole number from `least` to `most`; `instead` stands for None."""

    def read(value: object, _units: Units) -> int | None:
        if instead and isinstance(value, str) and value.casefold() == instead:
            return None
        right = f"write {least} to {most}, without quotes"
        if instead:
            right += f', or "{instead}"'
        if not isinstance(value, int) or isinstance(value, bool):
            raise refusal(value, f"is not a whole number: {right}")
        if not least <= value <= most:
            raise refusal(value, f"is out of range: {right}")
        return value

    schema: JsonSchemaValue = {"type": "integer", "minimum": least, "maximum": most}
    if instead is None:
        return reader(read, schema)
    return reader(read, {"anyOf": [schema, {"const": instead}, _in_any_case(instead)]})


def word(choice: object) -> PlainValidator:
    """Make the reader of one of a few words, in any case; `choice` is the Literal of them."""
    words: tuple[str, ...] = get_args(choice)

    def read(value: object, _units: Units) -> str:
        if isinstance(value, str) and value.casefold() in words:
            return value.casefold()
        hint = nearest_of(value, list(words)) if isinstance(value, str) else None
        meant = f"did you mean {hint}? " if hint else ""
        raise refusal(value, f"is not known here: {meant}write {_either(words)}")

    return reader(read, {"anyOf": [{"enum": list(words)}, _in_any_case(*words)]})


def _in_any_case(*words: str) -> JsonSchemaValue:
    """Describe words in any case: an editor offers those beside it, and takes these."""
    return {"type": "string", "pattern": f"^{one_of(words)}$"}


def _either(words: tuple[str, ...]) -> str:
    quoted = [f'"{word}"' for word in words]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]])


def _yes_or_no(value: object, _units: Units) -> bool:
    if not isinstance(value, bool):
        raise refusal(value, "is neither: write true or false, without quotes")
    return value


def _text(value: object, _units: Units) -> str:
    if not isinstance(value, str):
        raise refusal(value, 'is not text: write it in quotes, "like this"')
    if len(value) > LONGEST_TEXT:
        raise refusal(value, f"has {len(value)} characters: write {LONGEST_TEXT} or fewer")
    return value


def _name(value: object, units: Units) -> str:
    text = _text(value, units)
    if not any(char.isprintable() and not char.isspace() for char in text):
        raise refusal(text, "is blank: write a name")
    return text


def _number(value: object, units: Units) -> str:
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) < 10**ECHO:
        return str(value)
    return _text(value, units)


def read_date(value: object) -> date:
    """Read a day from a date, or text such as 2027-03-31; ValueError for all else."""
    right = "write year-month-day, such as 2027-03-31"
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    if isinstance(value, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise refusal(value, f"is not a day of the calendar: {right}") from None
    raise refusal(value, f"is not a date: {right}")


# On the strip an O alone is a circle or the number 0, an I or an l a guide line or a 1: the Latin
# ones, and those of Greek and Cyrillic that are drawn alike.
_LIKE_MARKS = frozenset(
    "OoIl"
    "\N{GREEK CAPITAL LETTER OMICRON}\N{GREEK SMALL LETTER OMICRON}\N{GREEK CAPITAL LETTER IOTA}"
    "\N{CYRILLIC CAPITAL LETTER O}\N{CYRILLIC SMALL LETTER O}"
    "\N{CYRILLIC CAPITAL LETTER BYELORUSSIAN-UKRAINIAN I}\N{CYRILLIC LETTER PALOCHKA}"
)


def _letters(value: object, _units: Units) -> tuple[str, str]:
    """Read what stands in front and back gaps: letters of any script, not taken for other marks.

    Digits would be eyelets' numbers, and signs such as +, | or < centres, guide lines and wedges.
    """
    right = 'write two, such as ["F", "B"]'
    if not isinstance(value, list) or len(value) != 2:
        raise refusal(value, f"is not a pair of letters: {right}")
    for letter in value:
        if not isinstance(letter, str) or not 1 <= len(letter) <= 3:
            raise refusal(letter, f"is not 1 to 3 characters of text: {right}")
        visible = all(char.isprintable() and not char.isspace() for char in letter)
        if not visible or unicodedata.combining(letter[0]):
            raise refusal(letter, f"has characters that don't show: {right}")
        # Some scripts' numerals are letters too.
        if any(char.isnumeric() for char in letter):
            raise refusal(letter, f"would be read as an eyelet's number: {right}")
        if not all(unicodedata.category(char)[0] in "LM" for char in letter):
            raise refusal(letter, f"would be read as a mark of the strip: {right}")
        if _LIKE_MARKS.issuperset(letter):
            raise refusal(letter, f"looks like a circle, a line or a number: {right}")
    front, back = value
    if letter_as_seen(front) == letter_as_seen(back):
        raise refusal(front, f"stands for both front and back: {right}")
    return front, back


def letter_as_seen(letter: str) -> str:
    """Return letters as one for all that are told apart by width, form or case alone."""
    return unicodedata.normalize("NFKC", letter).casefold()


_LENGTH_EXAMPLES = [75, 75.5, "75 1/2", "6' 3 1/2\"", "190.5 cm", "2 yd"]
# A bare number's units aren't known to a schema: the smallest bound no length there is.
_UP_TO_LONGEST: JsonSchemaValue = {
    "type": ["number", "string"],
    "maximum": int(LONGEST / MM),
    "examples": _LENGTH_EXAMPLES,
}
_SPELLED_LENGTH = _written(spellings.LENGTH) | _UP_TO_LONGEST
LENGTH_SCHEMA: JsonSchemaValue = _SPELLED_LENGTH | {"minimum": 0}
POSITIVE_SCHEMA: JsonSchemaValue = _SPELLED_LENGTH | {
    "exclusiveMinimum": 0,
    "allOf": [{"pattern": NOT_ZERO}],
}

LENGTH = reader(parse_length, LENGTH_SCHEMA)
POSITIVE = reader(_positive_length, POSITIVE_SCHEMA)
OFF_FLOOR = reader(
    _off_floor,
    _written(spellings.SIGNED_LENGTH)
    | _UP_TO_LONGEST
    | {"minimum": -floor(MOST_ON_FLOOR / MM), "examples": [0.5, "1/2", -1, "-1 in"]},
)
NONE_SCHEMA: JsonSchemaValue = {"anyOf": [{"const": NONE}, _in_any_case(NONE)]}
POSITIVE_OR_NONE = reader(
    _positive_or_none, {"anyOf": [POSITIVE_SCHEMA, {"const": NONE}, _in_any_case(NONE)]}
)
NAME = reader(
    _name, {"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT, "pattern": r"\S"}
)
TEXT = reader(_text, {"type": "string", "maxLength": LONGEST_TEXT})
MASS = _measure(_over_zero(parse_mass), spellings.MASS)
AREA_WEIGHT = _measure(_over_zero(parse_area_weight), spellings.AREA_WEIGHT)
SHARE = _measure(parse_share, spellings.SHARE, {"minimum": 0, "maximum": 0.25})
FULLNESS = _measure(_fullness, spellings.MULTIPLIER, {"minimum": 1, "maximum": 10})
WIDTHS = _measure(_widths, spellings.MULTIPLIER, {"minimum": 1, "maximum": 100, "multipleOf": 0.5})
YES_OR_NO = reader(_yes_or_no, {"type": "boolean"})
NUMBER = reader(_number, {"type": ["string", "integer"], "maxLength": LONGEST_TEXT})
DATE = reader(
    lambda value, _units: read_date(value),
    {"type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
)
PAPER = reader(
    read_paper,
    {
        "anyOf": [
            {"enum": list(SHEETS)},
            {
                "type": "string",
                "pattern": alone(f"(?:{one_of(SHEETS)}|{spellings.PAPER})"),
                "examples": ["13 x 19 in", "24 in roll"],
            },
        ]
    },
)
LETTERS = reader(
    _letters,
    {
        "type": "array",
        # Of digits in other scripts, and of signs, a schema knows nothing.
        "items": {"type": "string", "minLength": 1, "maxLength": 3, "pattern": "^[^0-9]*$"},
        "minItems": 2,
        "maxItems": 2,
    },
)
