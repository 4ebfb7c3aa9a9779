"""What stays together on a page, what the eye must find there, and what is kept free."""

from __future__ import annotations

import pytest

from drapetemplate import drawing
from drapetemplate.drawing.marks import Line, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Details
from drapetemplate.ticket.flow import BAR, BODY, LEADING, RULE
from drapetemplate.ticket.picture import Picture
from tests.helpers.flows import HEIGHT, LINES, MARGIN, check_inside, flow, texts


def test_table_stays_on_one_page() -> None:
    """A table with less than a quarter of a page left goes whole to the next, with its heading."""
    filled = flow()
    for _ in range(LINES - LINES // 4 + 1):
        filled.line("filler")
    filled.table("Cloth", [(f"n{i}", "v") for i in range(LINES // 4)], 1)
    first, second = texts(filled)
    assert {text.text for text in first} == {"filler"}
    assert [text.text for text in second][:2] == ["Cloth", "n0"]


def test_table_fills_a_page() -> None:
    """A table that doesn't fit begins where a quarter of the page is free for it."""
    filled = flow()
    for _ in range(LINES - LINES // 4 - 2):
        filled.line("filler")
    filled.table("Cloth", [(f"n{i}", "v") for i in range(LINES // 2)], 1)
    assert "Cloth" in [text.text for text in texts(filled)[0]]
    assert len(filled.pages) == 2


def test_short_paragraph_stays_on_one_page() -> None:
    """Four lines aren't parted over pages, five may be."""
    for lines, expected in ((4, 4), (5, 3)):
        filled = flow()
        for _ in range(LINES - 2):
            filled.line("filler")
        filled.paragraph("\n".join("x" for _ in range(lines)))
        assert [text.text for text in texts(filled)[1]] == ["x"] * expected


def test_warning_has_a_bar() -> None:
    """A heavy bar stands at the left of every line of a warning, and its word in bold."""
    filled = flow()
    filled.warning("word " * 30, "WARN")
    (page,) = texts(filled, Role.FINDING)
    bars = [mark for mark in filled.pages[0] if isinstance(mark, Line)]
    assert [text.text for text in page if text.bold] == ["WARN"]
    assert len(bars) == len(page) - 1 > 2
    assert {bar.pen for bar in bars} == {BAR}
    assert {float(bar.x1) for bar in bars} == {MARGIN + BAR.width / 2}
    # Its word stands before the first line, not between others.
    word, first = page[0], page[1]
    assert (word.text, word.y) == ("WARN", first.y)
    assert drawing.box(word)[2] < drawing.box(first)[0]
    # Each ends where the next begins, and they reach from over the first line to under the last.
    assert [bar.y1 for bar in bars[:-1]] == [pytest.approx(bar.y2) for bar in bars[1:]]
    tops, lows = [drawing.box(text)[3] for text in page], [drawing.box(text)[1] for text in page]
    assert float(bars[0].y2) > max(tops)
    assert float(bars[-1].y1) < min(lows)
    check_inside(filled)


def test_framed_warning() -> None:
    """What stops the work is bold in a frame: a line on every side, and all its text inside."""
    filled = flow()
    filled.warning("word " * 30, "STOP", framed=True)
    (page,) = texts(filled, Role.FINDING)
    lines = [mark for mark in filled.pages[0] if isinstance(mark, Line)]
    level = [line for line in lines if line.y1 == line.y2]
    assert all(text.bold for text in page)
    assert len(level) == 2
    left, right = min(float(a.x1) for a in level), max(float(a.x2) for a in level)
    low, up = sorted(float(a.y1) for a in level)
    for text in page:
        box = drawing.box(text)
        assert left < box[0] < box[2] < right
        assert low < box[1] < box[3] < up
    check_inside(filled)


def test_warning_longer_than_a_page() -> None:
    """Even a warning that fills pages keeps its bar and every word."""
    filled = flow()
    said = " ".join(f"w{i}" for i in range(700))
    filled.warning(said, "WARN")
    check_inside(filled)
    assert len(filled.pages) > 1
    assert said == " ".join(t.text for page in texts(filled) for t in page if t.text != "WARN")


@pytest.mark.parametrize(
    ("lines", "expected"), [(9, [5, 9]), (LINES + 3, [10, LINES - 2]), (5, [10])]
)
def test_together(lines: int, expected: list[int]) -> None:
    """What fits a page is put whole on the next, what fits none begins where it is."""
    filled = flow()
    filled.paragraph("\n".join(["filler"] * 5))
    filled.gap((LINES - 10) * BODY * LEADING)  # five lines are left
    filled.together(lambda: filled.paragraph("\n".join(["x"] * lines)))
    assert [len(page) for page in texts(filled)] == expected


def test_together_where_there_is_room() -> None:
    """What fits where it is stays there, once."""
    filled = flow()
    filled.line("one")
    filled.together(lambda: filled.line("two"))
    assert [[text.text for text in page] for page in texts(filled)] == [["one", "two"]]


def test_reserved_foot() -> None:
    """What is reserved at a page's foot stays free there, and only there."""
    filled = flow()
    foot = filled.reserve(20)
    filled.paragraph("\n".join("x" for _ in range(3 * LINES)))
    counts = [len(page) for page in texts(filled)]
    assert counts[0] == int((HEIGHT - 2 * MARGIN - 6 - 20) / (BODY * LEADING))
    assert counts[1] == LINES
    assert min(drawing.box(text)[3] for text in texts(filled)[0]) > foot
    assert foot == MARGIN + 6 + 20


def test_foot_is_where_it_was() -> None:
    """The line at the foot stands under what is reserved, on a page that is the only one too."""
    places = []
    for height in (0, 20):
        filled = flow()
        if height:
            filled.reserve(height)
        filled.line("one")
        (page,) = filled.numbered(Details(name="Heron Point"), "ticket")
        places.append([m.y for m in page if isinstance(m, Text) and m.role == Role.FOOT])
    assert places[0] == places[1]


def test_foot_is_in_the_margins() -> None:
    """The job and which page this is stand under what flows, and not in the lower margin."""
    filled = flow()
    filled.paragraph("\n".join(["x"] * LINES))
    (page,) = filled.numbered(Details(name="Heron Point"), "ticket")
    feet = [mark for mark in page if mark.role == Role.FOOT]
    assert len(feet) == 2
    flowed = [drawing.box(mark)[1] for mark in page if mark not in feet]
    for low, high in ((box[1], box[3]) for box in map(drawing.box, feet)):
        assert low >= MARGIN
        assert high < min(flowed)


@pytest.mark.parametrize(("hung", "lows"), [(False, [70, 70]), (True, [80, 70])])
def test_pictures_side_by_side(lows: list[float], *, hung: bool) -> None:
    """Pictures 20 and 30 mm high, 5 under a filled 5: their feet on one line, or their tops.

    The page is filled from 110 mm: 110 - 5 - 5 - 30 = 70. The second stands 4 mm beside the first,
    which is 15 wide.
    """
    filled = flow()
    filled.gap(5)
    high = (20, 30)
    pictures = [Picture(15, h, 10, (Line(0, 0, 15, h, RULE, Role.CLOTH),)) for h in high]
    filled.pictures(pictures, above=5, between=4, hung=hung)
    found = [drawing.box(mark) for mark in filled.pages[0]]
    expected = [
        (left, low, left + 15, low + h)
        for left, low, h in zip((MARGIN, MARGIN + 19), lows, high, strict=True)
    ]
    assert found == expected
    assert filled.y == 70


def test_room_to_the_last_hair() -> None:
    """What takes all that is left stays on its page, what takes more goes on the next."""
    for needed, pages in ((60.0, 1), (60.25, 2)):
        filled = flow()
        filled.line("one")
        filled.gap(filled.y - filled.bottom - 60)
        assert filled.y - filled.bottom == 60
        filled.room(needed)
        assert len(filled.pages) == pages


@pytest.mark.parametrize(("rows", "pages"), [(2, 1), (9, 2)])
def test_two_lines_are_left(rows: int, pages: int) -> None:
    """Two rows go where two lines are left; of nine two wouldn't be worth it: all on the next."""
    filled = flow()
    filled.paragraph("\n".join(["filler"] * (LINES - 2)))
    filled.pairs([(f"n{n}", "v") for n in range(rows)], 1)
    found = texts(filled, Role.VALUE)
    assert [len(page) for page in found] == [0] * (pages - 1) + [rows]
