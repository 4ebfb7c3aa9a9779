"""Measures: every way to write one, what is refused and how, and the way back to text."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.measures import (
    ECHO,
    INCH,
    LONGEST,
    Units,
    format_length,
    format_order,
    parse_area_weight,
    parse_length,
    parse_mass,
    parse_number,
    parse_share,
    printable,
    round_half_up,
    rounded_down,
    rounded_up,
    shown,
)

UNITS = get_args(Units)
GRID = {"in": INCH / 16, "mm": Fraction(1, 10), "cm": Fraction(1, 10)}
lengths = st.fractions(min_value=0, max_value=LONGEST - INCH)


def _exactly(message: str) -> str:
    return f"^{re.escape(message)}$"


@pytest.mark.parametrize(
    ("written", "inches"),
    [
        (75, 75),
        (0, 0),
        (Decimal("75.5"), Fraction(151, 2)),
        (Decimal("-0.0"), 0),
        (Decimal("0e999999999"), 0),
        (Fraction(1, 3), Fraction(1, 3)),
        ("75", 75),
        ("75.5", Fraction(151, 2)),
        (".5", Fraction(1, 2)),
        ("75,5", Fraction(151, 2)),
        ("75,50 in", Fraction(151, 2)),
        ("6 ft 3,5 in", Fraction(151, 2)),
        # No thousands are written so.
        ("0,125", Fraction(1, 8)),
        ("1,2500", Fraction(5, 4)),
        ("1250,500", Fraction(2501, 2)),
        ("75 1/2", Fraction(151, 2)),
        ("75-1/2", Fraction(151, 2)),
        ("75\N{EN DASH}1/2", Fraction(151, 2)),
        ("75½", Fraction(151, 2)),
        ("75 ½", Fraction(151, 2)),
        ("75-½", Fraction(151, 2)),
        ("75 1\N{FRACTION SLASH}2", Fraction(151, 2)),
        ("75\N{NO-BREAK SPACE}1/2", Fraction(151, 2)),
        ("3/4", Fraction(3, 4)),
        ("3 / 4", Fraction(3, 4)),
        ("11/16", Fraction(11, 16)),
        ("⅞", Fraction(7, 8)),
        ("  75 in ", 75),
        ("75 in.", 75),
        ("75 Inches", 75),
        ('75"', 75),
        ("75''", 75),
        ("6'", 72),
        ("6' 3\"", 75),
        ("6' 3 1/2\"", Fraction(151, 2)),
        ("6'-3 1/2\"", Fraction(151, 2)),
        ("6'3½\"", Fraction(151, 2)),
        ("6\N{PRIME} 3½\N{DOUBLE PRIME}", Fraction(151, 2)),
        ("6\N{RIGHT SINGLE QUOTATION MARK} 3½\N{RIGHT DOUBLE QUOTATION MARK}", Fraction(151, 2)),
        ("6 ft 3 in", 75),
        ("6 1/2 ft", 78),
        ("13 ft 0 1/2 in", Fraction(313, 2)),
        ("2 yd", 72),
        ("1 yd 2 ft 11 1/2 in", Fraction(143, 2)),
        ("190.5 cm", 75),
        ("1905mm", 75),
        ("1.905 m", 75),
        ("\N{ALMOST EQUAL TO} 10 7/16 in", Fraction(167, 16)),
    ],
)
def test_parse_length(written: object, inches: Fraction) -> None:
    """Every way a workroom writes a length is read exactly."""
    assert inches * INCH == parse_length(written, "in")


@pytest.mark.parametrize(("units", "millimetres"), [("in", 1905), ("cm", 750), ("mm", 75)])
def test_parse_length_bare(units: Units, millimetres: int) -> None:
    """A bare number is in the file's units, whether it comes as a number or as text."""
    expected = Fraction(millimetres)
    assert (expected, expected) == (parse_length(75, units), parse_length("75", units))


def test_parse_length_longest() -> None:
    """A length of 100 m to the dot is let through."""
    expected = LONGEST
    assert expected == parse_length("100 m", "in")


A_COMMA = "has a comma that can't be read: write 1250, or 64.5"
NOT_A_LENGTH = (
    'is not a length: write a number, or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"'
)


TWO_WAYS = "has a fraction of 1 or more: write 1 1/2 or 5 1/2"


@pytest.mark.parametrize(
    ("written", "message"),
    [
        (True, f"true {NOT_A_LENGTH}"),
        (1.5, f"1.5 {NOT_A_LENGTH}"),
        (None, f"None {NOT_A_LENGTH}"),
        ([], f"[] {NOT_A_LENGTH}"),
        ([1, "a\x1b", [], 4], f'[1, "a�", [], …] {NOT_A_LENGTH}'),
        ({}, f"a table {NOT_A_LENGTH}"),
        (Decimal("nan"), f"NaN {NOT_A_LENGTH}"),
        (Decimal("sNaN"), f"sNaN {NOT_A_LENGTH}"),
        (Decimal("-inf"), f"-Infinity {NOT_A_LENGTH}"),
        ("nan", f'"nan" {NOT_A_LENGTH}'),
        ("inf", f'"inf" {NOT_A_LENGTH}'),
        ("in", f'"in" {NOT_A_LENGTH}'),
        ("1/2/3", f'"1/2/3" {NOT_A_LENGTH}'),
        ("1_0", f'"1_0" {NOT_A_LENGTH}'),
        ("75 in in", f'"75 in in" {NOT_A_LENGTH}'),
        ("75..5", f'"75..5" {NOT_A_LENGTH}'),
        ("7½5", f'"7½5" {NOT_A_LENGTH}'),
        ("½½", f'"½½" {NOT_A_LENGTH}'),
        ("6 ft.5 in", f'"6 ft.5 in" {NOT_A_LENGTH}'),
        ("+75", f'"+75" {NOT_A_LENGTH}'),
        ("", '"" is empty: write a number, or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"'),
        (-3, "-3 is negative: write a length of 0 or more"),
        (Decimal("-0.5"), "-0.5 is negative: write a length of 0 or more"),
        ("-3", '"-3" is negative: write a length of 0 or more'),
        ("\N{MINUS SIGN}3", '"\N{MINUS SIGN}3" is negative: write a length of 0 or more'),
        (
            "1,905 mm",
            '"1,905 mm" may be 1905 or 1.905: write one of them, without a comma',
        ),
        ("64,500", '"64,500" may be 64500 or 64.500: write one of them, without a comma'),
        (
            "3 ft 1,250 in",
            '"3 ft 1,250 in" may be 1250 or 1.250: write one of them, without a comma',
        ),
        ("1,250.5", f'"1,250.5" {A_COMMA}'),
        ("1,250,000", f'"1,250,000" {A_COMMA}'),
        ("75,", f'"75," {A_COMMA}'),
        (",5", f'",5" {A_COMMA}'),
        ("75, 5", f'"75, 5" {A_COMMA}'),
        ("64,5,5", f'"64,5,5" {A_COMMA}'),
        ("75 inn", '"75 inn" has an unknown unit: use in, ft, yd, mm, cm or m'),
        ("1e3", '"1e3" has an unknown unit: use in, ft, yd, mm, cm or m'),
        ("75 см", '"75 см" has an unknown unit: use in, ft, yd, mm, cm or m'),
        (
            "\N{ARABIC-INDIC DIGIT SEVEN}",
            '"\N{ARABIC-INDIC DIGIT SEVEN}" has digits this tool can\'t read: use 0 to 9',
        ),
        (
            "75 9/8",
            '"75 9/8" has a fraction of 1 or more after a whole number: 76 1/8, or is it a slip?',
        ),
        ("11/2", '"11/2" has a fraction of 1 or more: write 1 1/2 or 5 1/2'),
        ("11\N{FRACTION SLASH}2 in", f'"11\N{FRACTION SLASH}2 in" {TWO_WAYS}'),
        ("6' 11/2\"", f'"6\' 11/2"" {TWO_WAYS}'),
        ("5/2", '"5/2" has a fraction of 1 or more: write 2 1/2'),
        ("16/16", '"16/16" has a fraction of 1 or more: write 1 6/16 or 1'),
        ("12/8", '"12/8" has a fraction of 1 or more: write 1 2/8 or 1 1/2'),
        ("115/16", '"115/16" has a fraction of 1 or more: write 11 5/16, 1 15/16 or 7 3/16'),
        ("105/8", '"105/8" has a fraction of 1 or more: write 10 5/8 or 13 1/8'),
        ("020/4", '"020/4" has a fraction of 1 or more: write 5'),
        (
            "1/0",
            f'"1/0" divides by zero: {NOT_A_LENGTH.partition(": ")[2]}',
        ),
        ("6' 3", '"6\' 3" needs a unit after each number, as in 6 ft 3 in'),
        ("3 m 20 cm", '"3 m 20 cm" mixes units: only yd, ft and in go together'),
        ("101 m", '"101 m" is over 100 m, the longest this tool takes'),
        (4000, "4000 is over 100 m, the longest this tool takes"),
        pytest.param(10**5000, "a very large number is far too large for a length", id="huge"),
        pytest.param(
            -(10**5000), "a very large number is negative: write a length of 0 or more", id="-huge"
        ),
        (Decimal("1e999999999"), "1E+999999999 is far too large or too small for a length"),
        (Decimal("1e-999999999"), "1E-999999999 is far too large or too small for a length"),
        (Decimal("1." + "1" * 90), f"1.{'1' * 38}… has more digits than a length can use"),
    ],
)
def test_parse_length_refused(written: object, message: str) -> None:
    """What is no length is refused in one plain line that says what would be right."""
    with pytest.raises(ValueError, match=_exactly(message)):
        parse_length(written, "in")


@pytest.mark.parametrize("written", ["6 ft 14 in", "6 1/2 ft 3 in", "3 in 2 ft", "2 yd 5 ft"])
def test_parse_length_out_of_step(written: str) -> None:
    """Feet and inches that don't step down from large to small are taken for a slip."""
    with pytest.raises(ValueError, match="is out of step: write whole yards"):
        parse_length(written, "in")


def test_parse_length_echo() -> None:
    """A message repeats a little of a long text, and none of its control characters."""
    with pytest.raises(ValueError, match="too long") as caught:
        parse_length("\x1b[31m" + "7" * 10_000, "in")
    expected = f'"�[31m{"7" * (ECHO - 5)}…"'
    assert expected == str(caught.value).partition(" is too long")[0]


@given(st.text(max_size=60), st.sampled_from(UNITS))
def test_parse_length_any_text(text: str, units: Units) -> None:
    """Any text is a length in range or one printable line of refusal, and nothing else."""
    try:
        length = parse_length(text, units)
    except ValueError as error:
        refused = str(error)
    else:
        refused = ""
        assert 0 <= length <= LONGEST
    assert refused.isprintable()


@given(st.integers(0, 90), st.integers(0, 15), st.sampled_from(["{} {}/16", "{}-{}/16 in"]))
def test_parse_length_mixed(whole: int, part: int, style: str) -> None:
    """A whole number and sixteenths are the sum of both."""
    assert (whole + Fraction(part, 16)) * INCH == parse_length(style.format(whole, part), "in")


@pytest.mark.parametrize(
    ("length", "units", "text"),
    [
        (Fraction(151, 2) * INCH, "in", "75 1/2 in"),
        (INCH * 3 / 4, "in", "3/4 in"),
        (INCH * 0, "in", "0 in"),
        (INCH * 12, "in", "12 in"),
        (-INCH / 4, "in", "-1/4 in"),
        (-INCH * 9 / 4, "in", "-2 1/4 in"),
        (Fraction(265), "in", "≈ 10 7/16 in"),
        (Fraction(1, 10), "in", "≈ 0 in"),
        (-Fraction(1, 10), "in", "≈ 0 in"),
        (INCH / 32, "in", "≈ 1/16 in"),
        (-INCH / 32, "in", "≈ -1/16 in"),
        (Fraction(1905), "mm", "1905 mm"),
        (Fraction(1905, 10), "mm", "190.5 mm"),
        (Fraction(5, 100), "mm", "0.1 mm"),
        (Fraction(-5, 100), "mm", "-0.1 mm"),
        (Fraction(-4, 100), "mm", "0 mm"),
        (Fraction(1905), "cm", "190.5 cm"),
        (Fraction(1), "cm", "0.1 cm"),
        (Fraction(1, 10), "cm", "0.01 cm"),
        (Fraction(1000), "cm", "100 cm"),
    ],
)
def test_format_length(length: Fraction, units: Units, text: str) -> None:
    """A length is written on its units' grid, halves away from zero."""
    assert text == format_length(length, units)


def test_format_length_bare() -> None:
    """Without its unit a length is the number alone."""
    expected = "75 1/2"
    assert expected == format_length(Fraction(151, 2) * INCH, "in", unit=False)


@given(lengths, st.sampled_from(UNITS))
def test_format_then_parse(length: Fraction, units: Units) -> None:
    """A length written and read again is that length rounded to the grid of its units."""
    rounded = round_half_up(length / GRID[units]) * GRID[units]
    texts = [format_length(length, units, unit=unit) for unit in (True, False)]
    assert [rounded, rounded] == [parse_length(text, units) for text in texts]


@given(lengths, st.sampled_from(UNITS))
def test_parse_then_format(length: Fraction, units: Units) -> None:
    """What is written of a length on the grid is read and written the same."""
    text = format_length(round_half_up(length / GRID[units]) * GRID[units], units)
    assert text == format_length(parse_length(text, units), units)


@given(st.fractions())
def test_round_half_up(value: Fraction) -> None:
    """The nearest whole number is at most a half away, and a half goes away from zero."""
    nearest = round_half_up(value)
    distance = abs(nearest) - abs(value)
    assert -Fraction(1, 2) < distance <= Fraction(1, 2)


@pytest.mark.parametrize(
    ("written", "number"),
    [(2, 2), (Decimal("2.5"), Fraction(5, 2)), ("2 1/2", Fraction(5, 2)), ("2½", Fraction(5, 2))],
)
def test_parse_number(written: object, number: Fraction) -> None:
    """A multiplier is read as a number or a mixed fraction."""
    assert number == parse_number(written)


@pytest.mark.parametrize("written", ["2 in", "200%", "2 1/2 1/2", "2x"])
def test_parse_number_refused(written: str) -> None:
    """A multiplier has no unit."""
    with pytest.raises(ValueError, match="is not a plain number: write a number without a unit"):
        parse_number(written)


@pytest.mark.parametrize(
    ("written", "grams"),
    [
        ("12 g", Fraction(12)),
        ("0.5 kg", Fraction(500)),
        ("1/2 oz", Fraction(28349523125, 2 * 10**9)),
        ("1 lb", Fraction(45359237, 10**5)),
    ],
)
def test_parse_mass(written: str, grams: Fraction) -> None:
    """A weight is read exactly with its unit."""
    assert grams == parse_mass(written)


@pytest.mark.parametrize(
    ("written", "message"),
    [
        (12, '12 has no unit: write a number and its unit, such as "12 g" or "0.4 oz"'),
        ("12", '"12" has no unit: write a number and its unit, such as "12 g" or "0.4 oz"'),
        ("12 st", '"12 st" has an unknown unit: use g, kg, oz or lb'),
        ("101 kg", '"101 kg" is over 100 kg, the most this tool takes'),
        (False, 'false is not a weight: write a number and its unit, such as "12 g" or "0.4 oz"'),
    ],
)
def test_parse_mass_refused(written: object, message: str) -> None:
    """A weight needs a known unit."""
    with pytest.raises(ValueError, match=_exactly(message)):
        parse_mass(written)


@pytest.mark.parametrize(
    ("written", "weight"),
    [
        ("250 gsm", Fraction(250)),
        ("250 g/m2", Fraction(250)),
        ("250g/m²", Fraction(250)),
        ("8 oz/yd2", 8 * Fraction(28349523125, 10**9) / Fraction(83612736, 10**8)),
        ("8 oz/yd²", 8 * Fraction(28349523125, 10**9) / Fraction(83612736, 10**8)),
        ("8 oz / sq yd", 8 * Fraction(28349523125, 10**9) / Fraction(83612736, 10**8)),
    ],
)
def test_parse_area_weight(written: str, weight: Fraction) -> None:
    """A cloth weight is read exactly in either system."""
    assert weight == parse_area_weight(written)


@pytest.mark.parametrize(
    ("written", "message"),
    [
        (250, '250 has no unit: write a number and its unit, such as "250 gsm" or "8 oz/yd2"'),
        ("8 oz", '"8 oz" has an unknown unit: use gsm, g/m2 or oz/yd2'),
        ("10001 gsm", '"10001 gsm" is over 10000 gsm, the most this tool takes'),
    ],
)
def test_parse_area_weight_refused(written: object, message: str) -> None:
    """Ounces alone don't say per what, and are refused like a bare number."""
    with pytest.raises(ValueError, match=_exactly(message)):
        parse_area_weight(written)


@pytest.mark.parametrize("written", [Decimal("0.03"), "0.03", "3 %", "3%"])
def test_parse_share(written: object) -> None:
    """A share is read as a number or per cent."""
    assert Fraction(3, 100) == parse_share(written)


@pytest.mark.parametrize("written", [3, "26 %", Decimal("0.2501")])
def test_parse_share_refused(written: object) -> None:
    """A share over a quarter is taken for a slip."""
    with pytest.raises(ValueError, match="is more than 25 %: for 3 % write"):
        parse_share(written)


@pytest.mark.parametrize(
    ("text", "safe"),
    [
        ("plain ½ é 漢", "plain ½ é 漢"),
        ("a\tb\r\nc", "a b  c"),
        ("\x1b[31m", "�[31m"),
        ("a\N{RIGHT-TO-LEFT OVERRIDE}b\N{ZERO WIDTH SPACE}", "a�b�"),
        ("\ud800\x00\x7f\u0378", "����"),
    ],
)
def test_printable(text: str, safe: str) -> None:
    """What can't be printed safely is replaced, the rest kept."""
    assert safe == printable(text)


@given(st.text(st.characters()))
def test_printable_any_text(text: str) -> None:
    """Safe text prints, keeps its length, and is left alone the second time."""
    safe = printable(text)
    assert (True, len(text), safe) == (safe.isprintable(), len(safe), printable(safe))


@given(st.one_of(st.text(), st.integers(), st.decimals(), st.booleans(), st.dates()))
def test_shown_is_short(value: object) -> None:
    """Whatever a file holds is shown short and in one printable line."""
    text = shown(value)
    assert text.isprintable()
    assert len(text) <= ECHO + 3


@pytest.mark.parametrize(
    ("sixty_fourths", "nearest", "up", "down"),
    [
        # A ruler in sixteenths has no finer line: 1/64 is nearer to none, 1/32 to the next.
        (0, "0 in", "0 in", "0 in"),
        (1, "≈ 0 in", "1/16 in", "0 in"),
        (2, "≈ 1/16 in", "1/16 in", "0 in"),
        (4, "1/16 in", "1/16 in", "1/16 in"),
        (5, "≈ 1/16 in", "1/8 in", "1/16 in"),
        (61, "≈ 15/16 in", "1 in", "15/16 in"),
        (63, "≈ 1 in", "1 in", "15/16 in"),
        (65, "≈ 1 in", "1 1/16 in", "1 in"),
    ],
)
def test_sixteenths(sixty_fourths: int, nearest: str, up: str, down: str) -> None:
    """Inches are told in whole sixteenths: the nearest, or as advice needs them up or down."""
    length = INCH * sixty_fourths / 64
    told = [format_length(each, "in") for each in (length, rounded_up(length, "in"))]
    assert [*told, format_length(rounded_down(length, "in"), "in")] == [nearest, up, down]


@pytest.mark.parametrize("units", ["mm", "cm"])
def test_advice_in_whole_millimetres(units: Units) -> None:
    """In a metric job advice is rounded to 1 mm, though a tenth could be told."""
    for length, up in ((Fraction("45.1"), 46), (Fraction(45), 45)):
        assert rounded_up(length, units) == up
        assert rounded_down(length, units) == 45


def test_cloth_to_buy() -> None:
    """Quarters of a yard, and tenths of a metre with their nought, as a shop writes them."""
    amounts = [Fraction(37, 4), Fraction(9), Fraction(1, 2)]
    assert [format_order(each, "yd") for each in amounts] == ["9 1/4 yd", "9 yd", "1/2 yd"]
    amounts = [Fraction(42, 5), Fraction(9), Fraction(1, 2)]
    assert [format_order(each, "m") for each in amounts] == ["8.4 m", "9.0 m", "0.5 m"]


@pytest.mark.parametrize(
    ("units", "parse", "one"),
    [
        ("in inch inches \" ''", parse_length, INCH),
        ("ft foot feet '", parse_length, 12 * INCH),
        ("yd yds yard yards", parse_length, 36 * INCH),
        ("mm millimetre millimetres millimeter millimeters", parse_length, Fraction(1)),
        ("cm centimetre centimetres centimeter centimeters", parse_length, Fraction(10)),
        ("m metre metres meter meters M.", parse_length, Fraction(1000)),
        ("g gram grams", parse_mass, Fraction(1)),
        ("kg kilogram kilograms", parse_mass, Fraction(1000)),
        ("oz ounce ounces", parse_mass, Fraction("28.349523125")),
        ("lb lbs pound pounds LB.", parse_mass, Fraction("453.59237")),
        ("gsm g/m2 g/m² g/m^2 g/sqm", parse_area_weight, Fraction(1)),
        (
            "oz/yd2 oz/yd² oz/yd^2 oz/sqyd",
            parse_area_weight,
            Fraction("28.349523125") / Fraction("0.83612736"),
        ),
    ],
)
def test_every_unit(units: str, parse: Callable[..., Fraction], one: Fraction) -> None:
    """Each unit by each of its names; published in NIST SP 811 (2008), appendix B."""
    in_units = ["mm"] if parse is parse_length else []
    assert {parse(f"3 {unit}", *in_units) for unit in units.split()} == {3 * one}


def test_limits() -> None:
    """The most of each is taken, and the least over it isn't."""
    assert parse_mass("100 kg") == 100_000
    assert parse_area_weight("10000 gsm") == 10_000
    assert parse_share("25 %") == parse_share(Decimal("0.25")) == Fraction(1, 4)
    assert parse_number(0) == 0
    for over, parse in (("100.1 kg", parse_mass), ("10000.1 gsm", parse_area_weight)):
        with pytest.raises(ValueError, match="the most this tool takes"):
            parse(over)
    with pytest.raises(ValueError, match="is over 100 m"):
        parse_length("100000.1 mm", "in")
    for many in ("1." + "0" * 40, "0." + "0" * 38 + "100"):
        with pytest.raises(ValueError, match="has more digits than a length can use"):
            parse_length(Decimal(many), "mm")
