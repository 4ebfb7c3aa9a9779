"""A PDF's file: numbers, names, texts and letters as other readers take them, and its identity."""

from __future__ import annotations

import re
from fractions import Fraction
from io import BytesIO

import pikepdf
import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont as ReportlabFont
from reportlab.pdfgen.canvas import Canvas

from drapetemplate import drawing
from drapetemplate.document.model import Document, Page
from drapetemplate.drawing.marks import Line, Pen
from drapetemplate.drawing.roles import Role
from drapetemplate.record.write import as_record
from drapetemplate.render.backend import render
from drapetemplate.render.font_metrics import FONTS, FontMetrics
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import BOLD, REGULAR, typeface
from tests.helpers.made import with_job

SIDE = Fraction(100)


def test_more_letters_than_a_font_has() -> None:
    """Some 600 letters in a text, in several fonts, are found again in their order and place.

    Among their codes are those of a string's own signs and of ends of lines.
    """
    have = FontMetrics(FONTS / f"{REGULAR}.ttf").glyphs
    letters = "".join(chr(code) for code in [*range(33, 127), *range(0x100, 0x300)] if code in have)
    assert len(letters) > 550
    words = [letters[n : n + 20] for n in range(0, len(letters), 20)]
    marks = [
        drawing.text(typeface(), 5.0, 95.0 - 3 * n, word, 2.0, Role.HEADING)
        for n, word in enumerate(words)
    ]
    assert [mark.text for mark in marks] == words
    page = Page("page", tuple(marks))
    data = render(Document("A title", SIDE, SIDE, (page,), ()), PdfBackend("A title"))
    document = pypdfium2.PdfDocument(data)
    text = document[0].get_textpage().get_text_bounded()
    document.close()
    assert text.split() == words
    with pikepdf.open(BytesIO(data)) as opened:
        fonts = opened.pages[0].Resources.Font
        assert len(fonts) == 3
        names = {str(font.BaseFont) for font in fonts.values()}
        for font in fonts.values():
            assert font.FontDescriptor.FontName == font.BaseFont
            assert 0 < font.FirstChar < font.LastChar < 256
            assert len(font.Widths) == font.LastChar - font.FirstChar + 1
        # Most letters to a font: 95 of ASCII and 160 others, then 255.
        assert [len(font.Widths) for font in fonts.values()][:2] == [255, 255]
    assert len(names) == 3
    assert all(re.fullmatch(rf"/[A-Z]{{6}}\+{REGULAR}", name) for name in names)


@pytest.mark.parametrize(("face", "bold", "stem"), [(REGULAR, False, 87), (BOLD, True, 165)])
def test_a_font_described(face: str, stem: int, *, bold: bool) -> None:
    """A descriptor says what another library finds in the font's own tables."""
    mark = drawing.text(typeface(), 5.0, 50.0, "b ~ a½", 5.0, Role.HEADING, bold=bold)
    page = Page("page", (mark,))
    data = render(Document("A title", SIDE, SIDE, (page,), ()), PdfBackend("A title"))
    whole = TTFont(FONTS / f"{face}.ttf")
    head, sizes, widths = whole["head"], whole["OS/2"], whole["hmtx"]
    with pikepdf.open(BytesIO(data)) as opened:
        assert b"(b ~ a\\200) Tj" in opened.pages[0].Contents.read_bytes()
        [font] = opened.pages[0].Resources.Font.values()
        said = font.FontDescriptor
        # Symbolic is bit 3, force bold bit 19 (ISO 32000-1, Table 123).
        assert said.Flags == (1 << 2) + (1 << 18) * bold
        assert [float(said.ItalicAngle), float(said.StemV)] == [0, stem]
        thousandths = [
            (said.Ascent, sizes.sTypoAscender),
            (said.Descent, sizes.sTypoDescender),
            (said.CapHeight, sizes.sTypoAscender),
            (said.MissingWidth, widths[".notdef"][0]),
            *zip(said.FontBBox, (head.xMin, head.yMin, head.xMax, head.yMax), strict=True),
            *zip(font.Widths[:2], (widths["space"][0], 0), strict=True),
            (font.Widths[-1], widths["onehalf"][0]),
        ]
        for found, units in thousandths:
            assert float(found) == pytest.approx(units * 1000 / head.unitsPerEm, abs=1e-3)
        assert [int(font.FirstChar), int(font.LastChar)] == [32, 128]


def identity(data: bytes) -> bytes:
    """A file's identity, which says twice the same."""
    with pikepdf.open(BytesIO(data)) as opened:
        first, second = (bytes(part) for part in opened.trailer.ID)
    assert first == second
    assert len(first) == 16
    return first


def test_identity_is_of_all_bytes() -> None:
    """Another job, title, drawing or bookmark is another file; the same is the same."""
    page = Page("page", (Line(10, 20, 30, 40, Pen(0.3), Role.GUIDE),), "Part", "1", "one")
    other = Page("page", (Line(10, 20, 30, 41, Pen(0.3), Role.GUIDE),), "Part", "1", "one")
    named = Page("page", page.marks, "Another part", "1", "one")
    files = [
        as_record(Document(title, SIDE, SIDE, (drawn,), ()), job)
        for title, drawn, job in (
            ("A title", page, b"x = 1"),
            ("A title", page, b"x = 2"),
            ("Another", page, b"x = 1"),
            ("A title", other, b"x = 1"),
            ("A title", named, b"x = 1"),
        )
    ]
    assert len({identity(data) for data in files}) == len(files)
    assert identity(with_job(b"x = 1")) == identity(with_job(b"x = 1"))


@pytest.mark.parametrize(
    "title", ["A (b) \\ c", "\x19\x1b[31m", "Ärmel ½", "þÿx", "ÿþx", "ï»¿x", "窓", "(", ""]
)
def test_information_by_others(title: str) -> None:
    """Any title is read as it is, with the rest of what a drawn PDF says of itself, and no date."""
    page = Page("page", ())
    data = render(Document(title, SIDE, SIDE, (page,), ()), PdfBackend(title, "A subject"))
    with pikepdf.open(BytesIO(data)) as opened:
        info = {key: str(value) for key, value in opened.docinfo.items()}
        assert set(info) == {"/Title", "/Subject", "/Creator", "/Producer"}
        assert (info["/Title"], info["/Subject"]) == (title, "A subject")
        assert opened.Root.PageMode == "/UseNone"
        assert set(opened.Root.keys()) == {
            "/Type", "/Pages", "/PageMode", "/Lang", "/ViewerPreferences"
        }  # fmt: skip
        assert opened.check_pdf_syntax() == []


def test_a_programs_own_font_of_the_name() -> None:
    """Another part of a program draws with the face from its own file, before and after."""
    mark = drawing.text(typeface(), 5.0, 50.0, "one", 5.0, Role.HEADING)
    document = Document("A title", SIDE, SIDE, (Page("page", (mark,)),), ())
    ours = render(document, PdfBackend("A title"))
    registerFont(ReportlabFont(REGULAR, str(FONTS / f"{REGULAR}.ttf")))
    own = BytesIO()
    canvas = Canvas(own, initialFontName=REGULAR)  # type: ignore[arg-type]  # stubs say float
    canvas.drawString(10, 10, "another")
    canvas.save()
    assert pypdfium2.PdfDocument(own)[0].get_textpage().get_text_bounded() == "another"
    assert render(document, PdfBackend("A title")) == ours
