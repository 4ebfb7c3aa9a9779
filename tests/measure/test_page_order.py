"""Which page each page of a PDF is, and what is said of those that aren't as made."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.document.model import Document, Page
from drapetemplate.drawing.marks import Line, Pen, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measure.compare_marks import PageComparison
from drapetemplate.measure.page_order import MOST_EXTRA, PageOrder


def order_of(*texts: str) -> PageOrder:
    """Of a document whose pages say these words, each page in two texts, and are called by them."""
    line = Line(0, 0, 9, 0, Pen(0.5), role=Role.OUTSIDE)
    pages = tuple(
        Page(
            f"page {text}",
            (
                *(
                    Text(0, 0, part, 5, 9, "start", bold=False, angle=0, role=Role.HEADING)
                    for part in (text[:1], text[1:])
                ),
                line,
            ),
        )
        for text in texts
    )
    return PageOrder(Document("A title", Fraction(100), Fraction(200), pages, ()))


ABC = ("one", "two", "three")


@pytest.mark.parametrize(
    ("made", "found", "said"),
    [
        (ABC, ABC, []),
        (ABC, ("one", "three", "two"), [
            "page 2 (page three): is out of order: it belongs on page 3",
            "page 3 (page two): is out of order: it belongs on page 2",
        ]),
        (ABC, ("one", "three"), ["page two is missing: it was page 2"]),
        (ABC, ("one", "two"), ["page three is missing: it was page 3"]),
        (ABC, ("one", "two", "one"), [
            # The second page is where it should be, whatever comes after it.
            "page 3 (page one): is there twice",
            "page three is missing: it was page 3",
        ]),
        (ABC, (*ABC, "three"), ["page 4 (page three): is there twice"]),
        (ABC, (*ABC, "four"), ["page 4 (one too many): isn’t a page of this job"]),
        # A page that says nothing known is measured as the page of its number.
        (ABC, ("one", "2", "three"), []),
        # Two pages that say the same are each found once.
        (("one", "same", "same"), ("same", "one", "same"), [
            "page 1 (page same): is out of order: it belongs on page 2",
            "page 2 (page one): is out of order: it belongs on page 1",
        ]),
    ],
)  # fmt: skip
def test_order(made: tuple[str, ...], found: tuple[str, ...], said: list[str]) -> None:
    """Pages are known by their words, wherever they are."""
    order = order_of(*made)
    for number, text in enumerate(found):
        order.place(number, text)
    assert [str(flaw) for flaw in order.flaws(len(found))] == said


@pytest.mark.parametrize(
    ("text", "matched", "foreign"),
    [("two", 0, False), ("2", 5, False), ("2", 4, True)],
)
def test_foreign(text: str, matched: int, foreign: bool) -> None:  # noqa: FBT001  # a row's own answer
    """A page of another job neither reads as its place does nor has half of its marks."""
    order = order_of("one", "two")
    assert order.place(0, "one") == 0
    assert order.place(1, text) == 1
    assert order.foreign(1, 1, text, PageComparison(10, matched, 0.0, "")) is foreign
    assert [str(flaw) for flaw in order.flaws(2)] == (
        ["page 2 (page two): isn’t a page of this job"] if foreign else []
    )


def test_a_page_that_was_not_read() -> None:
    """One that can't be read is told elsewhere: it is neither missing nor foreign."""
    order = order_of(*ABC)
    order.place(0, "one")
    order.place(2, "three")
    assert list(order.flaws(3)) == []


@pytest.mark.parametrize("more", [0, 1])
def test_many_pages_more(more: int) -> None:
    """Beyond so many pages more than the job makes, how many are not read is told."""
    order = order_of("one")
    order.place(0, "one")
    said = [str(flaw) for flaw in order.flaws(1 + MOST_EXTRA + more)]
    assert said == ["21 pages more than the job makes: not read"] * more
