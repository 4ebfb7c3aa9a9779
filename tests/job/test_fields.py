"""Values of a job file: what each kind of key takes, and the line that refuses the rest."""

from __future__ import annotations

from datetime import date, datetime, time
from fractions import Fraction
from typing import Annotated

import pytest
from pydantic import PlainValidator, TypeAdapter, ValidationError

from drapetemplate.job import fields
from drapetemplate.job.fields import LONGEST_TEXT, read_paper, whole, word
from drapetemplate.job.model import Joins
from drapetemplate.job.paper_sizes import SHEETS, PaperSize
from drapetemplate.measures import INCH, Units


def _as_field(reader: PlainValidator, value: object) -> object:
    """What a field of the job file, in inches, reads."""
    field: TypeAdapter[object] = TypeAdapter(Annotated[object, reader])
    return field.validate_python(value, context={"units": "in"})


COUNT = whole(2, 2000, instead="auto")
JOINS = word(Joins)
SIZES = 'write letter, legal, tabloid, a4, a3, or a size such as "13 x 19 in" or "24 in roll"'


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("letter", Fraction(2159, 10), Fraction(2794, 10)),
        ("legal", Fraction(2159, 10), Fraction(3556, 10)),
        ("tabloid", Fraction(2794, 10), Fraction(4318, 10)),
        ("a4", Fraction(210), Fraction(297)),
        ("a3", Fraction(297), Fraction(420)),
    ],
)
def test_sheets(name: str, width: Fraction, height: Fraction) -> None:
    """The named sheets have the sizes of PWG 5101.1 to the tenth of a millimetre."""
    paper = read_paper(name.upper(), "mm")
    assert (width, height) == (paper.width, paper.height)


@pytest.mark.parametrize(
    ("written", "units", "size"),
    [
        ("Letter", "mm", SHEETS["letter"]),
        (" A4 ", "in", SHEETS["a4"]),
        ("13 x 19 in", "mm", PaperSize("13 x 19 in", 13 * INCH, 19 * INCH)),
        ("19 in x 13 in", "mm", PaperSize("19 in x 13 in", 13 * INCH, 19 * INCH)),
        ("13 X 19", "in", PaperSize("13 x 19 in", 13 * INCH, 19 * INCH)),
        ("8½ x 11", "in", PaperSize("8½ x 11 in", INCH * 17 / 2, 11 * INCH)),
        ('13" x 19"', "mm", PaperSize('13" x 19"', 13 * INCH, 19 * INCH)),
        ("330×480 mm", "in", PaperSize("330 x 480 mm", Fraction(330), Fraction(480))),
        ("24 in roll", "mm", PaperSize("24 in roll", 24 * INCH, None)),
        ("610mm Roll", "in", PaperSize("610mm roll", Fraction(610), None)),
        ("24 roll", "in", PaperSize("24 in roll", 24 * INCH, None)),
        ("24 in. roll", "mm", PaperSize("24 in roll", 24 * INCH, None)),
        ("2 ft. roll", "mm", PaperSize("2 ft roll", 24 * INCH, None)),
        ("13 x 19 in.", "mm", PaperSize("13 x 19 in", 13 * INCH, 19 * INCH)),
        ("13 in. x 19 in.", "mm", PaperSize("13 in. x 19 in", 13 * INCH, 19 * INCH)),
    ],
)
def test_read_paper(written: str, units: Units, size: PaperSize) -> None:
    """A paper is read by its name, its two sides or its roll's width, and stands upright."""
    assert size == read_paper(written, units)


FORM = "is not a paper size"


@pytest.mark.parametrize(
    ("reader", "value", "message"),
    [
        (fields.PAPER, "leter", f'"leter" {FORM}: did you mean letter? {SIZES}'),
        (fields.PAPER, "a5", f'"a5" {FORM}: {SIZES}'),
        (fields.PAPER, "13 by 19 in", f'"13 by 19 in" {FORM}: {SIZES}'),
        (fields.PAPER, "13 x", f'"13 x" {FORM}: {SIZES}'),
        (fields.PAPER, "1 x 2 x 3", f'"1 x 2 x 3" {FORM}: {SIZES}'),
        (fields.PAPER, 13, f"13 {FORM}: {SIZES}"),
        (fields.PAPER, "0 x 3", '"0 in" can\'t be the side of a page: more than 0, up to 200 in'),
        (
            fields.PAPER,
            "300 in roll",
            '"300 in" can\'t be the side of a page: more than 0, up to 200 in',
        ),
        (fields.POSITIVE, 0, "0 means nothing here: write a length over 0"),
        (fields.LENGTH, -1, "-1 is negative: write a length of 0 or more"),
        (fields.MASS, "0 g", '"0 g" means nothing here: write more than 0'),
        (fields.AREA_WEIGHT, "0 gsm", '"0 gsm" means nothing here: write more than 0'),
        (
            fields.FULLNESS,
            200,
            "200 can't be a fullness: it is a multiplier from 1 to 10, 2 means twice",
        ),
        (
            fields.FULLNESS,
            "1/2",
            '"1/2" can\'t be a fullness: it is a multiplier from 1 to 10, 2 means twice',
        ),
        (
            fields.WIDTHS,
            "2 1/3",
            '"2 1/3" can\'t be a number of widths: write whole or half ones, 1 to 100',
        ),
        (
            fields.WIDTHS,
            Fraction(1, 2),
            "1/2 can't be a number of widths: write whole or half ones, 1 to 100",
        ),
        (COUNT, "8", '"8" is not a whole number: write 2 to 2000, without quotes, or "auto"'),
        (COUNT, True, 'true is not a whole number: write 2 to 2000, without quotes, or "auto"'),
        (COUNT, 1, '1 is out of range: write 2 to 2000, without quotes, or "auto"'),
        (whole(1, 9), 10, "10 is out of range: write 1 to 9, without quotes"),
        (JOINS, "clar", '"clar" is not known here: did you mean clear? write "clear" or "even"'),
        (JOINS, "z" * 999, f'"{"z" * 40}…" is not known here: write "clear" or "even"'),
        (JOINS, 3, '3 is not known here: write "clear" or "even"'),
        (fields.YES_OR_NO, 1, "1 is neither: write true or false, without quotes"),
        (fields.TEXT, 3, '3 is not text: write it in quotes, "like this"'),
        (fields.TEXT, "x" * 20_001, f'"{"x" * 40}…" has 20001 characters: write 20000 or fewer'),
        (fields.NAME, " \n\u200b", '"  �" is blank: write a name'),
        (fields.NUMBER, True, 'true is not text: write it in quotes, "like this"'),
        (
            fields.DATE,
            "31/03/2027",
            '"31/03/2027" is not a date: write year-month-day, such as 2027-03-31',
        ),
        (
            fields.DATE,
            "2027-02-30",
            '"2027-02-30" is not a day of the calendar: write year-month-day, such as 2027-03-31',
        ),
        (
            fields.DATE,
            time(7, 32),
            "07:32:00 is not a date: write year-month-day, such as 2027-03-31",
        ),
        (
            fields.DATE,
            datetime(2027, 3, 31),  # noqa: DTZ001 (a TOML local time has no zone)
            "2027-03-31 00:00:00 is not a date: write year-month-day, such as 2027-03-31",
        ),
        (fields.LETTERS, "FB", '"FB" is not a pair of letters: write two, such as ["F", "B"]'),
        (fields.LETTERS, ["F"], '["F"] is not a pair of letters: write two, such as ["F", "B"]'),
        (
            fields.LETTERS,
            ["F", "back"],
            '"back" is not 1 to 3 characters of text: write two, such as ["F", "B"]',
        ),
        (
            fields.LETTERS,
            ["F", "\u200b"],
            '"�" has characters that don\'t show: write two, such as ["F", "B"]',
        ),
        (
            fields.LETTERS,
            ["f", "F"],
            '"f" stands for both front and back: write two, such as ["F", "B"]',
        ),
        *(
            (fields.LETTERS, [letter, "B"], f'"{letter}" {reason}: write two, such as ["F", "B"]')
            for letter, reason in (
                ("1", "would be read as an eyelet's number"),
                ("F2", "would be read as an eyelet's number"),
                ("\N{ARABIC-INDIC DIGIT SEVEN}", "would be read as an eyelet's number"),
                ("\N{DEVANAGARI DIGIT TWO}", "would be read as an eyelet's number"),
                ("\N{CIRCLED DIGIT THREE}", "would be read as an eyelet's number"),
                ("\N{ROMAN NUMERAL FOUR}", "would be read as an eyelet's number"),
                ("\N{CJK UNIFIED IDEOGRAPH-4E00}", "would be read as an eyelet's number"),
                ("+", "would be read as a mark of the strip"),
                ("|", "would be read as a mark of the strip"),
                ("<", "would be read as a mark of the strip"),
                ("O", "looks like a circle, a line or a number"),
                ("lO", "looks like a circle, a line or a number"),
                ("\N{CYRILLIC CAPITAL LETTER O}", "looks like a circle, a line or a number"),
                ("\N{FULLWIDTH LATIN CAPITAL LETTER B}", "stands for both front and back"),
            )
        ),
    ],
)
def test_refused(reader: PlainValidator, value: object, message: str) -> None:
    """What a key can't hold is refused in one plain line."""
    with pytest.raises(ValidationError) as refused:
        _as_field(reader, value)
    assert [message] == [str(error["ctx"]["error"]) for error in refused.value.errors()]


@pytest.mark.parametrize(
    ("reader", "value", "read"),
    [
        (fields.POSITIVE, "1/2", INCH / 2),
        (fields.LENGTH, 0, Fraction(0)),
        (fields.LETTERS, ["out", "in"], ("out", "in")),
        (
            fields.LETTERS,
            ["\N{CYRILLIC CAPITAL LETTER ZHE}", "\N{CJK UNIFIED IDEOGRAPH-524D}"],
            ("\N{CYRILLIC CAPITAL LETTER ZHE}", "\N{CJK UNIFIED IDEOGRAPH-524D}"),
        ),
        (fields.LETTERS, ["X", "V"], ("X", "V")),
        (fields.FULLNESS, 1, Fraction(1)),
        (fields.FULLNESS, "2½", Fraction(5, 2)),
        (fields.WIDTHS, "2 1/2", Fraction(5, 2)),
        (fields.WIDTHS, 100, Fraction(100)),
        (COUNT, "Auto", None),
        (COUNT, 2000, 2000),
        (JOINS, "EVEN", "even"),
        (fields.YES_OR_NO, False, False),
        (fields.TEXT, "<b>\x1b\n漢", "<b>\x1b\n漢"),
        (fields.TEXT, "x" * LONGEST_TEXT, "x" * LONGEST_TEXT),
        (fields.NUMBER, 41, "41"),
        (fields.NUMBER, "0041", "0041"),
        (fields.DATE, date(2027, 3, 31), date(2027, 3, 31)),
        (fields.DATE, "2027-03-31", date(2027, 3, 31)),
        (fields.LETTERS, ["av", "AR"], ("av", "AR")),
    ],
)
def test_read(reader: PlainValidator, value: object, read: object) -> None:
    """What a key can hold is read into its exact value."""
    assert read == _as_field(reader, value)
