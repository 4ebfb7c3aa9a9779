"""Streams that several pages are drawn with: each page is held to them as to its own."""

from __future__ import annotations

import re

import pytest
from pikepdf import Array, Object, Pdf

import drapetemplate
from drapetemplate.measure.drawn_marks import Glyph, Path
from drapetemplate.measure.page_content import OddContentError
from drapetemplate.measure.page_fonts import Font
from drapetemplate.measure.page_reader import AS_IT_IS, PageReader
from drapetemplate.record.budget import Budget
from tests.helpers.edits import Edit, edited, sheet_of
from tests.helpers.read_pages import TRUE


def said(pdf: bytes) -> list[str]:
    """All that is wrong, a line each."""
    return [str(flaw) for flaw in drapetemplate.measure_pdf(pdf, "held.pdf").flaws]


def contents(pdf: Pdf, number: int = 1) -> Object:
    """A sheet's streams: its own, then what it shares."""
    found = pdf.pages[sheet_of(pdf, number)].obj.Contents
    assert len(found) == 2
    return found


def shared_changed(pdf: Pdf) -> None:
    """A line of what is shared half a millimetre off."""
    shared = contents(pdf)[1]
    held = shared.read_bytes()
    changed = re.sub(
        rb"(\d+)(\.\d+ [\d.]+ l S)", lambda m: b"%d" % (int(m[1]) + 1) + m[2], held, count=1
    )
    assert changed != held
    shared.write(changed)


def left_out(pdf: Pdf) -> None:
    """One sheet without what it shares."""
    held = contents(pdf, 2)
    pdf.pages[sheet_of(pdf, 2)].obj.Contents = Array([held[0]])


def named_twice(pdf: Pdf) -> None:
    """One sheet with it twice over."""
    contents(pdf, 2).append(contents(pdf, 2)[1])


def another_order(pdf: Pdf) -> None:
    """One sheet with what it shares under its own."""
    own, shared = contents(pdf, 2)
    pdf.pages[sheet_of(pdf, 2)].obj.Contents = Array([shared, own])


def into_its_own(pdf: Pdf) -> None:
    """One sheet with all it draws in a stream of its own."""
    whole = b"\n".join(part.read_bytes() for part in contents(pdf, 2))
    pdf.pages[sheet_of(pdf, 2)].obj.Contents = pdf.make_stream(whole)


def each_its_own(pdf: Pdf) -> None:
    """Every page with copies of its streams that no other page names."""
    for page in pdf.pages:
        held = page.obj.Contents
        if isinstance(held, Array):
            copies = [pdf.make_stream(part.read_bytes()) for part in held]
            page.obj.Contents = Array(copies)


def test_shared_and_changed() -> None:
    """A shared stream that is changed is wrong on every page that names it."""
    with_fault = {
        line.partition(":")[0] for line in said(edited(shared_changed)) if "off by" in line
    }
    with_sheets = {f"sheet {n} of" for n in (1, 2)}
    for sheet in with_sheets:
        assert any(sheet in line for line in with_fault), with_fault


@pytest.mark.parametrize(
    ("edit", "expected"),
    [
        (left_out, r"sheet 2 of \d\): in all \d+ marks not where they should be, 0 others drawn"),
        (
            named_twice,
            r"sheet 2 of \d\): in all 0 marks not where they should be, \d+ others drawn",
        ),
        (
            another_order,
            r"sheet 2 of \d\): (sets .* otherwise than|is drawn in another order than) this tool",
        ),
    ],
)
def test_told(edit: Edit, expected: str) -> None:
    """What one page names more or less of, or in another order, is told on that page alone."""
    lines = said(edited(edit))
    assert any(re.search(expected, line) for line in lines), lines
    assert all("sheet 2 of" in line for line in lines), lines


@pytest.mark.parametrize("edit", [into_its_own, each_its_own])
def test_the_same(edit: Edit) -> None:
    """Which stream it is in says nothing of what prints."""
    assert said(edited(edit)) == []


LETTERS = Font({65: ("A", 500.0)}, bold=False)
SHARED = b"BT (AA) Tj ET 0 0 m 9 9 l S"


def drawn(*pages: list[bytes]) -> tuple[list[list[Path | Glyph]], Budget]:
    """What pages of such streams draw, read one after another; and what was counted."""
    budget = Budget(1000)
    reader = PageReader(TRUE, budget)
    fonts = {"/F1": LETTERS}
    return [reader.marks(page, fonts, AS_IT_IS) for page in pages], budget


def test_read_as_it_begins() -> None:
    """A stream draws what the state it begins in has it draw, whatever it drew a page before."""
    small, large = b"/F1 5 Tf 1 w", b"/F1 9 Tf 2 w"
    (first, second, third), _ = drawn([small, SHARED], [large, SHARED], [large, SHARED])
    assert [mark.advance for mark in first if isinstance(mark, Glyph)] != [
        mark.advance for mark in second if isinstance(mark, Glyph)
    ]
    assert second == third == drawn([large + b" " + SHARED])[0][0]


def test_what_it_leaves() -> None:
    """What follows a stream that was known begins where that ends."""
    line = b"0 0 m 9 9 l S"
    pages, _ = drawn([b"3 w", line], [b"3 w", line + b" "])
    assert pages[0] == pages[1]
    [mark] = pages[1]
    assert isinstance(mark, Path)
    assert mark.pen is not None
    assert mark.pen.width == pytest.approx(3 * 25.4 / 72)


def test_counted_on_every_page() -> None:
    """However often it was read, a stream is counted as often as it is named."""
    page = [b"/F1 5 Tf", SHARED]
    once, thrice = drawn(page)[1].spent, drawn(page, page, page)[1].spent
    assert thrice["marks"] == 3 * once["marks"] == 9
    assert thrice["parsed"] == 3 * once["parsed"] == 3 * sum(map(len, page))


@pytest.mark.parametrize(
    "page",
    [[b"0 0 m", b"q Q", b"9 9 l S"], [b"q", b"Q Q"], [b"1 2", b"q"]],
    ids=["in-a-path", "saved", "operands"],
)
def test_known_but_out_of_place(page: list[bytes]) -> None:
    """What was read by itself is refused in the midst of something else."""
    known = [[b"q Q"], [b"q Q"]]
    with pytest.raises(OddContentError):
        drawn(*known, page)


def test_other_fonts() -> None:
    """A stream says with other fonts what those have it say."""
    reader = PageReader(TRUE, Budget(1000))
    stream = [b"BT /F1 9 Tf (A) Tj ET"]
    [first] = reader.marks(stream, {"/F1": LETTERS}, AS_IT_IS)
    [other] = reader.marks(stream, {"/F1": Font({65: ("B", 500.0)}, bold=True)}, AS_IT_IS)
    assert isinstance(first, Glyph)
    assert isinstance(other, Glyph)
    assert (first.text, other.text, other.bold) == ("A", "B", True)


def test_what_paints_nothing_is_counted() -> None:
    """Eight operators that paint nothing count as a mark; a letter and a path each as one."""
    assert drawn([b"q Q " * 8])[1].spent["marks"] == 2
    assert drawn([b"/F1 5 Tf BT (A) Tj ET"])[1].spent["marks"] == 1
