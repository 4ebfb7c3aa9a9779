"""The reader of pages against PDF's own rules, worked by hand from ISO 32000-1."""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO
from math import sqrt

import pikepdf
import pytest

from drapetemplate.drawing.marks import Pen
from drapetemplate.measure.drawn_marks import POINT, Glyph, Path
from drapetemplate.measure.page_content import OddContentError
from drapetemplate.measure.page_fonts import OddFontError
from tests.helpers.read_pages import marks_of, one_page, read_pages, width_of

P = POINT
BLACK = Pen(P, (), 0.0)


def line(x1: float, y1: float, x2: float, y2: float, pen: Pen = BLACK) -> Path:
    """A line in points, stroked."""
    return Path((("m", ((x1 * P, y1 * P),)), ("l", ((x2 * P, y2 * P),))), pen, None)


def near(mark: object) -> object:
    """A mark to be compared to nine decimals."""
    if isinstance(mark, float):
        return round(mark, 9) + 0.0
    if isinstance(mark, Pen):
        return near((mark.width, mark.dash, mark.grey))
    return tuple(map(near, mark)) if isinstance(mark, tuple) else mark


def written(codes: bytes) -> str:
    """What these codes say in the font of the page."""
    return "".join(chr(300 + code) for code in codes)


BOX = b"0 0 m 9 0 l 9 9 l h "
CLOSED = (("m", ((0.0, 0.0),)), ("l", ((9 * P, 0.0),)), ("l", ((9 * P, 9 * P),)), ("h", ()))
DRAWN = {
    "line": (b"10 20 m 30.5 -.5 l S", [line(10, 20, 30.5, -0.5)]),
    "numbers": (b"+1. 007.50 m -.5 4. l S", [line(1, 7.5, -0.5, 4)]),
    "tight": (b"[]0 d 1 2 m\t3\r4\0l\fS", [line(1, 2, 3, 4)]),
    "nothing": (b"n 0 0 m 9 9 l n", []),
    "alone": (b"5 5 m S", []),
    "overridden": (b"5 5 m 1 2 m 3 4 l S", [line(1, 2, 3, 4)]),
    "two": (b"0 0 m 1 2 l 3 4 m 5 6 l S", [line(0, 0, 1, 2), line(3, 4, 5, 6)]),
    "filled": (b".5 g " + BOX + b"f", [Path(CLOSED, None, 0.5)]),
    "odd-filled": (b".5 g " + BOX + b"f*", [Path(CLOSED, None, 0.5)]),
    "both": (b".5 g .25 G " + BOX + b"B", [Path(CLOSED, Pen(P, (), 0.25), 0.5)]),
    "odd-both": (BOX + b"B*", [Path(CLOSED, BLACK, 0.0)]),
    "curve": (
        b"0 0 m 1 2 3 4 5 6 c S",
        [
            Path(
                (("m", ((0.0, 0.0),)), ("c", ((P, 2 * P), (3 * P, 4 * P), (5 * P, 6 * P)))),
                BLACK,
                None,
            )
        ],
    ),
    "pen": (
        b"2 w [3 1 2] 7 d .5 G 0 0 m 1 1 l S",
        [line(0, 0, 1, 1, Pen(2 * P, (3 * P, P, 2 * P), 0.5))],
    ),
    "ends": (b"1 j 2 J 4 M 0 0 m 1 1 l S", [line(0, 0, 1, 1)]),
    "moved": (b"1 0 0 1 5 6 cm 0 0 m 1 1 l S", [line(5, 6, 6, 7)]),
    # What is concatenated last is done first (8.3.4).
    "moved-turned": (b"1 0 0 1 5 6 cm 0 1 -1 0 0 0 cm 1 0 m 2 0 l S", [line(5, 7, 5, 8)]),
    "saved": (
        b"q 3 w [2] 0 d .5 G 1 0 0 1 5 5 cm Q 0 0 m 1 1 l S",
        [line(0, 0, 1, 1)],
    ),
    "saved-twice": (
        b"2 w q 3 w q 4 w Q 0 0 m 1 1 l S Q 0 0 m 1 1 l S",
        [line(0, 0, 1, 1, Pen(3 * P, (), 0.0)), line(0, 0, 1, 1, Pen(2 * P, (), 0.0))],
    ),
    # A pen is scaled by the matrix it paints with, dashes as well (8.4.3.2, 8.4.3.6).
    "pen-scaled": (
        b"2 w [3] 0 d q 2 0 0 2 0 0 cm 0 0 m 1 1 l S Q 0 0 m 1 1 l S",
        [
            line(0, 0, 2, 2, Pen(4 * P, (6 * P,), 0.0)),
            line(0, 0, 1, 1, Pen(2 * P, (3 * P,), 0.0)),
        ],
    ),
}


def test_a_point() -> None:
    """72 points are an inch (8.3.2.3)."""
    [mark] = marks_of(b"36 0 m 72 144 l S")
    assert isinstance(mark, Path)
    assert near(mark.ends) == ((12.7, 0.0), (25.4, 50.8))


@pytest.mark.parametrize(("content", "expected"), DRAWN.values(), ids=DRAWN)
def test_paths(content: bytes, expected: list[Path]) -> None:
    """Paths are where the operators put them, in the ink they were given."""
    assert near(tuple(marks_of(content))) == near(tuple(expected))


def test_letters() -> None:
    """Each letter stands where the one before it ends; its turn and its advance are told apart."""
    marks = marks_of(b"BT /F2 10 Tf .5 g 0 2 -2 0 100 200 Tm (AB) Tj ET")
    turn = (0.0, 2.0, -2.0, 0.0)
    first, second = width_of(65) / 100, width_of(66) / 100
    expected = [
        Glyph(chr(365), 100 * P, 200 * P, first * P, turn, bold=True, grey=0.5),
        Glyph(chr(366), 100 * P, (200 + 2 * first) * P, second * P, turn, bold=True, grey=0.5),
    ]
    assert near(tuple(marks)) == near(tuple(expected))


@pytest.mark.parametrize(
    ("content", "places"),
    [
        (b"(A) Tj (A) Tj", [(0, 0), (3.655, 0)]),
        (b"5 6 Td (A) Tj 7 8 Td (A) Tj", [(5, 6), (12, 14)]),
        (b"12 TL (A) Tj T* (A) Tj T* (A) Tj", [(0, 0), (0, -12), (0, -24)]),
        (b"2 0 0 2 1 1 Tm 5 6 Td (A) Tj", [(11, 13)]),
        (b"1 0 0 1 9 9 Tm (A) Tj 1 0 0 1 5 5 Tm (A) Tj", [(9, 9), (5, 5)]),
        (b"5 5 Td ET BT (A) Tj", [(0, 0)]),
    ],
    ids=["after", "lines-moved", "leading", "through-matrix", "set-anew", "begun-anew"],
)
def test_places_of_letters(content: bytes, places: list[tuple[float, float]]) -> None:
    """Lines begin where the line before them did, not where it ended (9.4.2)."""
    marks = marks_of(b"/F1 10 Tf BT " + content + b" ET")
    found = [(mark.x, mark.y) for mark in marks if isinstance(mark, Glyph)]
    assert near(tuple(found)) == near(tuple((x * P, y * P) for x, y in places))


@pytest.mark.parametrize(
    ("string", "says"),
    [
        (rb"(A\(\)\\)", b"A()\\"),
        (rb"(\101\1012\53x\7)", b"AA2+x\7"),
        (rb"(\n\r\t\b\f)", b"\n\r\t\b\f"),
        (rb"(\A\q)", b"Aq"),
        (b"(a\\\nb\\\r\nc\\\rd)", b"abcd"),
        (b"(a\nb\rc\r\nd)", b"a\nb\nc\nd"),
        (b"<41 4\n2>", b"AB"),
        (b"<417>", b"Ap"),
        (b"()", b""),
        (rb"(\501)", b"A"),
    ],
)
def test_strings(string: bytes, says: bytes) -> None:
    """Escapes, ends of lines and hexadecimal digits say what 7.3.4 has them say."""
    marks = marks_of(b"BT /F1 9 Tf " + string + b" Tj ET")
    assert "".join(mark.text for mark in marks if isinstance(mark, Glyph)) == written(says)


def test_fonts_are_by_name() -> None:
    """A name with a code in it is the name that it spells (7.3.5); a size stays until it's set."""
    marks = marks_of(b"/F#32 9 Tf BT (A) Tj /F1 5 Tf (A) Tj ET q /F2 7 Tf Q BT (A) Tj ET")
    glyphs = [mark for mark in marks if isinstance(mark, Glyph)]
    assert [mark.bold for mark in glyphs] == [True, False, False]
    assert near(tuple(mark.advance for mark in glyphs)) == near(
        tuple(width_of(65) / 1000 * size * P for size in (9, 5, 5))
    )


def test_streams_are_one_content() -> None:
    """What is in several streams is read as one, what they set included (7.8.2)."""
    whole = b"2 w q 1 0 0 1 5 5 cm 0 0 m 1 1 l S Q 3 3 m 4 4 l S"
    at = [whole.index(b" q"), whole.index(b"m 1"), whole.index(b" 3")]
    parts = [whole[a:b] for a, b in zip([0, *at], [*at, len(whole)], strict=True)]
    assert marks_of(*parts) == marks_of(whole)
    assert len(marks_of(whole)) == 2


@pytest.mark.parametrize(
    ("box", "rotate", "place"),
    [
        ((0, 0, 612, 792), None, (10, 20)),
        ((5, 7, 617, 799), None, (5, 13)),
        ((617, 799, 5, 7), None, (5, 13)),
        ((5, 7, 105, 207), 90, (13, 95)),
        ((5, 7, 105, 207), 180, (95, 187)),
        ((5, 7, 105, 207), 270, (187, 5)),
        ((5, 7, 105, 207), -90, (187, 5)),
    ],
)
def test_paper(box: tuple[float, ...], rotate: int | None, place: tuple[float, float]) -> None:
    """Marks are from the corner of the paper as it lies after it is turned clockwise."""
    [mark] = next(read_pages(one_page(b"10 20 m 11 20 l S", box=box, rotate=rotate)))
    assert isinstance(mark, Path)
    assert near(mark.ends[0]) == near((place[0] * P, place[1] * P))


def test_a_turn_by_no_quarters() -> None:
    """A page turned by anything else is no page."""
    with pytest.raises(ValueError, match="45° isn't quarter turns"):
        next(read_pages(one_page(b"q Q", rotate=45)))


REFUSED = {
    "unknown": (b"0 0 9 9 re W n", "W, re"),
    "few": (b"0 0 m 9 l S", "l without the numbers it takes"),
    "many": (b"0 0 0 m 9 9 l S", "m without the numbers it takes"),
    "no-number": (b"0 /x m 9 9 l S", "m without the numbers it takes"),
    "number-for-none": (b"5 q Q", "q without the numbers it takes"),
    "dashes": (b"[1 /x] 0 d", "d without the lengths it takes"),
    "dashes-open": (b"1 2] 0 d", "d without the lengths it takes"),
    "dashes-alone": (b"d", "d without the lengths it takes"),
    "no-phase": (b"[1 2] d", "d without the lengths it takes"),
    "no-font": (b"/F3 9 Tf", "Tf without a font of the page"),
    "no-size": (b"/F1 Tf", "Tf without a font of the page"),
    "font-string": (b"(F1) 9 Tf", "Tf without a font of the page"),
    "fontless": (b"BT (a) Tj ET", "Tj without a string, or a font"),
    "no-string": (b"BT /F1 9 Tf /F1 Tj ET", "words where a string belongs"),
    "number-for-string": (b"BT /F1 9 Tf 5 Tj ET", "Tj without a string, or a font"),
    "no-letter": (b"BT /F1 9 Tf (\xff) Tj ET", "a letter that its font doesn’t have"),
    "no-path": (b"S", "S where it has no meaning"),
    "no-point": (b"9 9 l S", "l where it has no meaning"),
    "after-end": (b"0 0 m 9 9 l h 5 5 l S", "a path that goes on after its end"),
    "ended-twice": (b"0 0 m 9 9 l h h S", "a path that goes on after its end"),
    "set-in-path": (b"0 0 m 2 w 9 9 l S", "w where it has no meaning"),
    "matrix-in-text": (b"BT 1 0 0 1 0 0 cm ET", "cm where it has no meaning"),
    "path-in-text": (b"BT 0 0 m ET", "m where it has no meaning"),
    "saved-in-text": (b"BT q ET Q", "q where it has no meaning"),
    "text-in-text": (b"BT BT ET", "BT where it has no meaning"),
    "text-outside": (b"/F1 9 Tf (a) Tj", "Tj where it has no meaning"),
    "unsaved": (b"Q", "Q without a q before it"),
    "saved-for-ever": (b"q", "something that is begun and not ended"),
    "text-for-ever": (b"BT", "something that is begun and not ended"),
    "path-for-ever": (b"0 0 m 9 9 l", "something that is begun and not ended"),
    "words-left": (b"0 0", "words that nothing is done with"),
    "comment": (b"0 0 m 9 9 l S % x", "words that can’t be read"),
    "exponent": (b"1e3 0 m 9 9 l S", "words that can’t be read"),
    "signs": (b"--5 0 m 9 9 l S", "words that can’t be read"),
    "brackets-inside": (b"BT /F1 9 Tf ((a)) Tj ET", "words that can’t be read"),
    "dictionary": (b"<< >> q Q", "words that can’t be read"),
}


@pytest.mark.parametrize(("content", "why"), REFUSED.values(), ids=REFUSED)
def test_refused(content: bytes, why: str) -> None:
    """What isn't understood to the last word is never guessed."""
    with pytest.raises(OddContentError) as error:
        marks_of(content)
    assert str(error.value) == why


def test_a_diagonal_pen() -> None:
    """A pen through a matrix that turns keeps its width; one that turns and grows is wider."""
    [mark] = marks_of(b"2 w 1 1 -1 1 0 0 cm 0 0 m 1 0 l S")
    assert isinstance(mark, Path)
    assert mark.pen is not None
    assert mark.pen.width == pytest.approx(2 * sqrt(2) * P)


def test_a_matrix_of_six() -> None:
    """Each of a matrix's six numbers does its part, through another's six (8.3.3, 8.3.4)."""
    [mark] = marks_of(b"2 3 5 7 11 13 cm 1 2 3 4 5 6 cm 1 1 m 2 2 l S")
    # 1 1 is 9 12, and then 89 124; 2 2 is 13 18, and then 127 178; 1 0 becomes 12 17 longer.
    pen = Pen(sqrt(12**2 + 17**2) * P, (), 0.0)
    assert near(mark) == near(line(89, 124, 127, 178, pen))


def test_a_printers_factors() -> None:
    """A letter's place and turn are divided by the printer's factors, its advance isn't."""
    pdf = one_page(b"BT /F1 10 Tf 1 2 3 4 8 16 Tm (A) Tj ET")
    [mark] = next(read_pages(pdf, (Fraction(1, 2), Fraction(1, 4))))
    turn = (2.0, 8.0, 6.0, 16.0)
    expected = Glyph(chr(365), 16 * P, 64 * P, width_of(65) / 100 * P, turn, bold=False, grey=0.0)
    assert near(mark) == near(expected)


def test_codes_are_a_byte() -> None:
    """A font's codes end with 255 (9.6.2): one that has widths for more is refused."""

    def begun_at(first: int) -> bytes:
        out = BytesIO()
        with pikepdf.open(BytesIO(one_page(b"BT /F1 10 Tf (A) Tj ET"))) as pdf:
            font = pdf.pages[0].obj.Resources.Font.F1
            font.FirstChar = first
            pdf.save(out)
        return out.getvalue()

    # 250 widths, each 1 more than the one before: the letter's is that of the 60th of them.
    [mark] = next(read_pages(begun_at(6)))
    assert isinstance(mark, Glyph)
    assert mark.advance == pytest.approx(width_of(60) / 100 * P)
    for first in (7, -1):
        with pytest.raises(OddFontError, match="a font, /F1, of another kind"):
            next(read_pages(begun_at(first)))
