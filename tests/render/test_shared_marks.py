"""Marks that several pages end with: written once in a PDF, and read the same on every page."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import pdfplumber
import pikepdf
import pypdfium2

from drapetemplate import drawing
from drapetemplate.document.model import Document, Page
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.svg import SvgBackend
from drapetemplate.render.typeface import typeface

SIDE = Fraction(100)


def word(text: str, y: float, *, bold: bool = False) -> Text:
    """A line of text."""
    return drawing.text(typeface(), 10.0, y, text, 5.0, Role.HEADING, bold=bold)


# Each page leaves off with another pen, fill and font than what is shared begins with.
OWN: tuple[tuple[Mark, ...], ...] = (
    (word("First ж", 80), Line(5, 70, 95, 70, Pen(2, (3, 1), 0.5), Role.GUIDE, 1)),
    (Polygon(((5, 60), (15, 60), (10, 70)), None, 0.8, Role.LEADING_WEDGE),),
    (),
    (word("Last", 80, bold=True), Line(5, 70, 95, 70, Pen(0.7, (3, 1)), Role.GUIDE)),
)
SHARED: tuple[Mark, ...] = (
    Line(5, 50, 95, 50, Pen(0.7), Role.GUIDE),
    Circle(50, 30, 15, Pen(0.7), Role.HOLE),
    word("On each Ω", 20),
    word("and bold ½", 10, bold=True),
    Polygon(((60, 10), (70, 10), (65, 20)), None, 0.3, Role.LEADING_WEDGE),
)


def pages(*, sharing: bool) -> Document:
    """A document of pages that end alike, said to share that or not."""
    made = tuple(
        Page(f"page {n}", (*own, *SHARED), shared=SHARED if sharing else ())
        for n, own in enumerate(OWN)
    )
    return Document("A title", SIDE, SIDE, made, (), (Fraction(99, 100), Fraction(101, 100)))


def pdf(document: Document) -> bytes:
    """Its PDF."""
    return render(document, PdfBackend(document.title))


def contents(data: bytes) -> list[list[tuple[int, int]]]:
    """Each page's streams, as the file numbers them."""
    with pikepdf.open(BytesIO(data)) as opened:
        held = [page.obj.Contents for page in opened.pages]
        return [
            [one.objgen for one in each] if isinstance(each, pikepdf.Array) else [each.objgen]
            for each in held
        ]


def test_written_once() -> None:
    """The shared stream is one object, which each page names last, after a stream of its own."""
    found = contents(pdf(pages(sharing=True)))
    assert all(len(streams) == 2 for streams in found)
    assert len({last for _, last in found}) == 1
    assert len({first for first, _ in found}) == len(OWN)
    assert all(len(streams) == 1 for streams in contents(pdf(pages(sharing=False))))


def test_another_tuple_is_another_stream() -> None:
    """What is shared is the very same tuple: another one is drawn by itself."""
    other = (word("Of two", 20),)
    whole = pages(sharing=True)
    changed = tuple(
        replace(page, marks=(*own, *other), shared=other) if n > 1 else page
        for n, (own, page) in enumerate(zip(OWN, whole.pages, strict=True))
    )
    found = [last for _, last in contents(pdf(replace(whole, pages=changed)))]
    assert found[0] == found[1] != found[2] == found[3]


def test_read_as_if_each_page_had_its_own() -> None:
    """Letters, lines and outlines, with their pens and greys, as two readers have them."""
    found = []
    for sharing in (True, False):
        data = pdf(pages(sharing=sharing))
        with pdfplumber.open(BytesIO(data)) as opened:
            drawn = [
                (
                    [(c["text"], c["matrix"], c["fontname"], c["size"]) for c in page.chars],
                    [
                        [m[key] for key in ("pts", "linewidth", "dash", "stroking_color", "fill")]
                        for m in (*page.lines, *page.curves, *page.rects)
                    ],
                    [m["non_stroking_color"] for m in page.curves if m["fill"]],
                )
                for page in opened.pages
            ]
        document = pypdfium2.PdfDocument(data)
        dots = [document[n].render(scale=2, grayscale=True).to_numpy().tobytes() for n in range(4)]
        document.close()
        found.append((drawn, dots))
    assert found[0] == found[1]
    words = "".join(letter for letter, *_ in found[0][0][2][0])
    assert words == "On each Ωand bold ½"  # on the page that has nothing else
    assert len(set(found[0][1])) == len(OWN)


def test_a_picture_draws_all() -> None:
    """SVG, which has one page, draws what is shared with the rest."""
    whole = pages(sharing=True)
    found = []
    for sharing in (True, False):
        one = replace(
            whole, pages=pages(sharing=sharing).pages[:1], scale=(Fraction(1), Fraction(1))
        )
        found.append(render(one, SvgBackend(one.title)))
    assert found[0] == found[1]
    assert b"bold" in found[0]
