"""Dates and units as people write them: typed text in, the job file's own spelling out.

The rule for dates: one that could be two days is refused, with both named. So the year has four
digits; a month in words, or the year first, settles the order; of two numbers before the year one
must be over 12, or both be the same.
"""

from __future__ import annotations

import re
from datetime import date

from drapetemplate.measures import CM, INCH, LENGTH_UNITS, MM, shown

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_RIGHT = "write it as 31 Mar 2027 or 2027-03-31"
_YEAR_FIRST = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})")
_YEAR_LAST = re.compile(r"([0-9]{1,2})([-/. ])([0-9]{1,2})\2([0-9]{4})")
_SHORT_YEAR = re.compile(r"[0-9]{1,2}([-/. ])[0-9]{1,2}\1[0-9]{1,2}")
_ANY = re.compile(r"[0-9a-z ,./-]+")
_PIECE = re.compile(r"[0-9]+|[a-z]+")
_FIRST_YEAR = 1900  # an earlier one is a slip of the finger
_ENDINGS = frozenset({"st", "nd", "rd", "th", "of"})
_UNITS = {INCH: "in", MM: "mm", CM: "cm"}


def units_meant(text: str) -> str:
    """Return "in", "mm" or "cm" for any name of one of them; ValueError for anything else.

    >>> units_meant("Inches"), units_meant('"'), units_meant("millimetres"), units_meant("cm.")
    ('in', 'in', 'mm', 'cm')
    """
    plain = text.casefold().replace("”", '"').replace("″", '"').removesuffix(".")
    size = LENGTH_UNITS.get(plain)
    if size not in _UNITS:
        raise ValueError(f"{shown(text)} is not known here: write in, mm or cm")
    return _UNITS[size]


def date_meant(text: str) -> str:
    """Return a date as year-month-day; ValueError where it is none, or could be two.

    >>> date_meant("1 Dec 2026"), date_meant("December 1st, 2026"), date_meant("2026/12/1")
    ('2026-12-01', '2026-12-01', '2026-12-01')
    >>> date_meant("13.12.2026"), date_meant("12/13/2026"), date_meant("12/12/2026")
    ('2026-12-13', '2026-12-13', '2026-12-12')
    """
    plain = " ".join(text.split())
    if numbers := _YEAR_FIRST.fullmatch(plain):
        return _day(text, int(numbers[1]), int(numbers[3]), int(numbers[4]))
    if numbers := _YEAR_LAST.fullmatch(plain):
        first, second, year = int(numbers[1]), int(numbers[3]), int(numbers[4])
        if max(first, second) <= len(MONTHS) and first != second and min(first, second):
            both = f"{_written(first, second, year)} or {_written(second, first, year)}"
            raise ValueError(f"{shown(text)} could be {both}: write the one that is meant")
        day, month = (first, second) if second <= len(MONTHS) else (second, first)
        return _day(text, year, month, day)
    if _SHORT_YEAR.fullmatch(plain):
        raise ValueError(f"{shown(text)} needs a year of four digits: {_RIGHT}")
    return _with_month_in_words(text, plain)


def day_in_words(day: date) -> str:
    """Return a date with its month in words, which no one can take for another.

    >>> day_in_words(date(2026, 12, 1))
    '1 December 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year:04}"


def _with_month_in_words(text: str, plain: str) -> str:
    """A day, a month's name or its first three letters or more, and a year, the month not last."""
    plain = plain.casefold()
    pieces = [piece for piece in _PIECE.findall(plain) if piece not in _ENDINGS]
    numbers = [piece for piece in pieces if piece.isdecimal()]
    months = [_month(piece) for piece in pieces if not piece.isdecimal()]
    if not _ANY.fullmatch(plain) or len(months) != 1 or not months[0]:
        raise ValueError(f"{shown(text)} is not a date: {_RIGHT}")
    if len(numbers) != 2 or len(numbers[1]) != 4 or len(numbers[0]) > 2 or len(pieces[-1]) != 4:
        raise ValueError(f"{shown(text)} needs a day and a year of four digits: {_RIGHT}")
    return _day(text, int(numbers[1]), months[0], int(numbers[0]))


def _month(word: str) -> int:
    """The number of the month that begins so; 0 for none."""
    named = [number for number, name in enumerate(MONTHS, 1) if name.casefold().startswith(word)]
    return named[0] if len(word) >= 3 and named else 0


def _day(text: str, year: int, month: int, day: int) -> str:
    try:
        return date(year if year >= _FIRST_YEAR else 0, month, day).isoformat()
    except ValueError:
        raise ValueError(f"{shown(text)} is not a day of the calendar: {_RIGHT}") from None


def _written(day: int, month: int, year: int) -> str:
    return f"{day} {MONTHS[month - 1][:3]} {year:04}"
