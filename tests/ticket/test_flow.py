"""Text and tables on pages: what wraps, what goes to the next page, and that nothing is lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.marks import Line
from drapetemplate.drawing.roles import Role
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.flow import BODY, LEADING, RULE, Flow
from tests.helpers.flows import HEIGHT, LINES, MARGIN, WIDTH, check_inside, flow, texts
from tests.helpers.strips import FixedWidths

# A line of the body: its letters are 0.6 of 3.1 mm wide, so 43 of them fill the 80 mm between.
FULL_LINE = 43


def words(filled: Flow) -> str:
    """All that is written, line after line."""
    return " ".join(text.text for page in texts(filled) for text in page)


def test_first_line_under_the_margin() -> None:
    """The first baseline is a line's height under the top margin, at the left one."""
    filled = flow()
    filled.line("first", 4)
    ((text,),) = texts(filled)
    assert text.x == MARGIN
    assert text.y == pytest.approx(HEIGHT - MARGIN - 4 * LEADING)


def test_line_is_cut_rather_than_wrapped() -> None:
    """A line by itself shrinks, then ends in a sign that some of it is left out."""
    filled = flow()
    filled.line("x" * 500)
    ((text,),) = texts(filled)
    assert text.text.endswith("…")
    assert text.width <= WIDTH - 2 * MARGIN


@pytest.mark.parametrize(
    ("string", "expected"),
    [
        ("one", ["one"]),
        ("x" * FULL_LINE, ["x" * FULL_LINE]),
        ("x" * (FULL_LINE + 1), ["x" * FULL_LINE, "x"]),
        # 20 + 1 + 22 letters just fit, one more doesn't.
        ("a" * 20 + " " + "b" * 22, ["a" * 20 + " " + "b" * 22]),
        ("a" * 20 + " " + "b" * 23, ["a" * 20, "b" * 23]),
        ("one\ntwo\r\nthree", ["one", "two", "three"]),
        ("one\n\ntwo", ["one", "", "two"]),
        ("", [""]),
        ("in " + "x" * 50 + " out", ["in", "x" * FULL_LINE, "x" * 7 + " out"]),
    ],
)
def test_paragraph_wraps(string: str, expected: list[str]) -> None:
    """Lines break between words, within a word that is longer than a line, and where told to."""
    filled = flow()
    filled.paragraph(string)
    assert expected == [text.text for text in texts(filled)[0]]


def test_uneven_word_is_cut_to_fit() -> None:
    """A long word that begins with its widest letters is cut where a line is full, not past it."""
    filled = Flow(typeface(), WIDTH, HEIGHT, MARGIN)
    word = "W" * 60 + "i" * 200
    filled.paragraph(word)
    lines = texts(filled)[0]
    assert word == "".join(text.text for text in lines)
    # Text put on a page is shrunk to fit, so its size says whether it did.
    assert {BODY} == {text.size for text in lines}
    check_inside(filled)


class CountedWidths(FixedWidths):
    """Fixed widths, and how many letters were measured."""

    letters = 0

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """A fixed part of the size for each character, which is counted."""
        self.letters += len(text)
        return super().width(text, size, bold=bold)


def test_each_word_is_measured_once() -> None:
    """A line isn't measured again with every word that is added to it, however wide the page."""
    counted = CountedWidths()
    string = "a word " * 200
    assert len(list(Flow(counted, 2000, 300, 10).wrapped(string, 3.0, 1900.0))) == 2
    assert counted.letters < 1.1 * len(string)


def test_paragraph_with_a_bullet_hangs() -> None:
    """The bullet stands alone at the left; every line of the text starts beside it."""
    filled = flow()
    filled.paragraph("word " * 30, bullet="WARN")
    bullet, *rest = texts(filled)[0]
    assert (bullet.text, bullet.x) == ("WARN", MARGIN)
    assert len(rest) > 2
    # The bullet and two spaces, bold: 6 x 0.7 x 3.1.
    assert [pytest.approx(MARGIN + 6 * 0.7 * BODY)] * len(rest) == [text.x for text in rest]
    assert bullet.y == rest[0].y


def test_paragraph_goes_to_the_next_page() -> None:
    """A page is filled to its foot, and the rest starts at the top of the next."""
    filled = flow()
    filled.paragraph("\n".join(str(i) for i in range(LINES + 2)))
    assert [len(page) for page in texts(filled)] == [LINES, 2]
    assert texts(filled)[1][0].y == texts(filled)[0][0].y


def test_space_is_not_left_at_the_top() -> None:
    """White space parts things on a page; at the top of one it would only be lost."""
    filled = flow()
    filled.space(20)
    assert filled.y == HEIGHT - MARGIN
    filled.line("one")
    before = filled.y
    filled.space(20)
    assert filled.y == before - 20


def test_heading_stays_with_what_follows() -> None:
    """A heading that would stand alone at a page's foot goes with its text to the next."""
    filled = flow()
    for _ in range(LINES - 3):
        filled.line("filler")
    filled.heading("Cautions", keep=12)
    filled.paragraph("text")
    head, under = texts(filled)[1]
    assert (head.text, under.text) == ("Cautions", "text")
    assert head.bold
    assert head.size > under.size
    (rule,) = [mark for mark in filled.pages[1] if isinstance(mark, Line)]
    assert (rule.x1, rule.x2, rule.pen) == (MARGIN, WIDTH - MARGIN, RULE)


def test_long_heading_wraps() -> None:
    """A heading is never cut, since it may end in how many are to be made."""
    filled = flow()
    filled.heading("bay " * 60 + ": a pair, make 4")
    assert words(filled).endswith("a pair, make 4")
    assert "…" not in words(filled)
    check_inside(filled)


def test_pairs_run_down_the_columns() -> None:
    """Five pairs in two columns: three, then two; the values of both start equally far in."""
    filled = flow()
    filled.pairs([(f"n{i}" + "x" * i, f"v{i}") for i in range(5)], 2)
    names, values = texts(filled, Role.NAME)[0], texts(filled, Role.VALUE)[0]
    assert [text.text for text in names] == ["n0", "n1x", "n2xx", "n3xxx", "n4xxxx"]
    assert [text.text for text in values] == ["v0", "v1", "v2", "v3", "v4"]
    # Columns of 40 mm; the widest name is 6 letters of 0.6 x 3.1 mm.
    first = MARGIN + 6 * 0.6 * BODY + 2
    assert [pytest.approx(x) for x in [first] * 3 + [first + 40] * 2] == [t.x for t in values]
    assert [text.y for text in names[:2]] == [text.y for text in names[3:]]


def test_long_value_wraps_in_its_column() -> None:
    """A value too long for its column takes more lines; the next column doesn't wait for it."""
    filled = flow()
    rows = [("a", "word " * 20), *((name, "short") for name in "bcdefghi")]
    filled.pairs(rows, 2)
    check_inside(filled)
    lines = [text for text in texts(filled, Role.VALUE)[0] if "word" in text.text]
    names = texts(filled, Role.NAME)[0]
    assert len(lines) > 3
    # The first column has the long one and one more, the second the other seven from the top.
    assert names[1].y < lines[-1].y
    assert [text.y for text in names[2 : 2 + len(lines)]] == [text.y for text in lines]


def test_columns_as_many_as_are_least_high() -> None:
    """Where long values would wrap more often than columns save lines, fewer columns are used."""
    for value, expected in (("short", 2), ("word " * 6, 1)):
        filled = flow()
        filled.pairs([(name, value) for name in "abc"], 2)
        assert len({text.x for text in texts(filled, Role.NAME)[0]}) == expected


def test_columns_stay_apart() -> None:
    """Values filled to the last letter leave at least 3 mm to the next column."""
    for name in ("a", "ab", "abc", "abcd", "abcde"):
        filled = flow()
        filled.pairs([(name, "x " * 20)] * 4, 2)
        values = texts(filled, Role.VALUE)[0]
        ends = [drawing.box(text)[2] for text in values if text.x < MARGIN + 40]
        assert len(ends) < len(values)
        assert max(ends) <= MARGIN + 40 - 3 + 1e-6
        # Nor is room wasted: one more letter with its space would not have fitted.
        assert max(ends) > MARGIN + 40 - 3 - 2 * 0.7 * BODY


def test_pairs_go_over_pages() -> None:
    """Many pairs fill each page's columns, each once and in order, and end on no lone line."""
    for many in (2 * LINES, 3 * LINES, 70):
        filled = flow()
        filled.line("first")
        filled.pairs([(f"n{i}", f"v{i}") for i in range(many)], 2)
        check_inside(filled)
        pages = texts(filled, Role.VALUE)
        assert [f"v{i}" for i in range(many)] == [text.text for page in pages for text in page]
        assert len(pages) == 2
        assert len(pages[-1]) >= 4


@pytest.mark.parametrize(
    ("string", "expected"),
    [
        ("≈ 75 1/2 in", ["≈ 75 1/2 in"]),
        ("4 drops of 126 in, 14 yd", ["126 in,", "14 yd"]),
        ("2.5 mm, 3 cm, 4 m, 5 ft", ["2.5 mm,", "3 cm,", "4 m,", "5 ft"]),
        ("250 gsm or 8 oz/yd² or 9 oz", ["250 gsm", "8 oz/yd²", "9 oz"]),
        ("2.25 times, 3 %", ["2.25 times,", "3 %"]),
    ],
)
def test_measure_is_not_parted(string: str, expected: list[str]) -> None:
    """A line breaks between words, never between a sign, a number, its fraction and its unit."""
    filled = flow()
    # Just as wide as the longest, so that little else goes beside it.
    widest = max(len(part) for part in expected) * 0.6 * BODY + 1e-6
    lines = list(filled.wrapped(string, BODY, widest))
    assert " ".join(lines) == string
    assert [part for part in expected if not any(part in line for line in lines)] == []


def test_measure_in_a_narrow_column() -> None:
    """A measure takes fewer columns rather than being cut in two."""
    filled = flow()
    filled.pairs([("Finished", "≈ 101 11/16 in"), ("Return", "≈ 3 1/16 in")], 2)
    assert [text.text for text in texts(filled, Role.VALUE)[0]] == ["≈ 101 11/16 in", "≈ 3 1/16 in"]


def test_value_longer_than_a_page() -> None:
    """A value that fills pages goes on over them, none of it under the margin or lost."""
    filled = flow()
    filled.line("first")
    said = " ".join(f"w{i}" for i in range(700))
    filled.pairs([("Client", said), ("Room", "here")], 2)
    assert len(filled.pages) > 2
    check_inside(filled)
    found = [t.text for page in texts(filled, Role.VALUE) for t in page if t.text != "here"]
    assert said == " ".join(found)


def test_grid_reads_down() -> None:
    """Cells are read down a column, then the next; their parts stand under one another."""
    filled = flow()
    cells = [(str(i), "m" * (1 + i % 3)) for i in range(1, 8)]
    filled.grid(cells, Role.HOLE)
    (page,) = texts(filled, Role.HOLE)
    numbers = [text for text in page if text.bold]
    # A cell is 0.7 + 3 x 0.6 of 3.1 mm, two gaps of 3 mm and one of 4 wide: four in 84 mm.
    assert [text.text for text in numbers] == ["1", "3", "5", "7", "2", "4", "6"]
    assert len({round(float(text.x), 6) for text in numbers}) == 4
    assert len({round(float(text.x), 6) for text in page if not text.bold}) == 4
    check_inside(filled)


def test_grid_goes_over_pages() -> None:
    """Two hundred cells go over pages, each once, each page read down its own columns."""
    filled = flow()
    filled.line("first")
    filled.grid([(str(i), "1234 mm") for i in range(1, 201)], Role.HOLE)
    assert len(filled.pages) > 1
    check_inside(filled)
    seen = [int(t.text) for page in texts(filled, Role.HOLE) for t in page if t.bold]
    assert sorted(seen) == list(range(1, 201))
    first, second = ([int(t.text) for t in page if t.bold] for page in texts(filled, Role.HOLE)[:2])
    assert max(first) < min(second)


def test_page_of_one_thing() -> None:
    """Something larger than a page is put on one of its own, not on endless empty ones."""
    filled = flow()
    filled.room(10 * HEIGHT)
    assert len(filled.pages) == 1
    filled.line("one")
    filled.room(10 * HEIGHT)
    filled.room(10 * HEIGHT)
    assert len(filled.pages) == 2


plain = st.text(st.sampled_from("abc xyz\n"), max_size=400)


@given(plain, st.sampled_from(["", "NOTE"]), st.sampled_from([2.3, BODY, 6.0]))
def test_every_word_is_kept(string: str, bullet: str, size: float) -> None:
    """Whatever is written, its letters come out in order, inside the margins."""
    filled = flow()
    filled.paragraph(string, size, bullet=bullet)
    check_inside(filled)
    kept = "".join(text.text for page in texts(filled) for text in page)
    assert "".join((bullet + string).split()) == "".join(kept.split())


@given(st.lists(st.tuples(st.text("abc ", min_size=1, max_size=8), plain), min_size=1, max_size=9))
def test_every_pair_is_kept(rows: list[tuple[str, str]]) -> None:
    """Whatever the pairs, each value's letters come out, inside the margins and apart."""
    filled = flow()
    filled.pairs(rows, 1)
    check_inside(filled)
    kept = "".join(text.text for page in texts(filled, Role.VALUE) for text in page)
    assert "".join("".join(value.split()) for _, value in rows) == "".join(kept.split())


@pytest.mark.parametrize("count", [12, 40, 400])
def test_long_name_wraps_beside_its_value(count: int) -> None:
    """A name that leaves no room for values wraps too; every word of both is kept."""
    page = flow()
    name = " ".join(f"window{n}" for n in range(count))
    page.pairs([(name, "spliced 20 in from its edge"), ("Short", "whole")], 2)
    check_inside(page)
    names = [mark for found in texts(page, Role.NAME) for mark in found]
    values = [mark for found in texts(page, Role.VALUE) for mark in found]
    assert " ".join(mark.text for mark in names) == f"{name} Short"
    assert " ".join(mark.text for mark in values) == "spliced 20 in from its edge whole"
    assert max(mark.x + mark.width for mark in names) <= min(mark.x for mark in values)
