"""Pages of PDFs as measuring reads them, and pages of a few operators to be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf
from pypdf import PdfReader

from drapetemplate.measure.drawn_marks import DrawnMark
from drapetemplate.measure.page_content import streams_of
from drapetemplate.measure.page_fonts import Fonts
from drapetemplate.measure.page_reader import PageReader, paper
from drapetemplate.record.budget import Budget

TRUE = (Fraction(1), Fraction(1))
CODES = range(1, 251)
"""The codes that the font of `one_page` has; each says the letter of its number, 300 on."""


def width_of(code: int) -> float:
    """A code's width in thousandths of the size."""
    return 300.5 + code


def map_of(texts: Mapping[int, str]) -> bytes:
    """A font's map from codes to text (ISO 32000-1, 9.10.3)."""
    pairs = [
        b"<%02X> <%s>\n" % (code, text.encode("utf-16-be").hex().encode())
        for code, text in texts.items()
    ]
    return b"%d beginbfchar\n%s endbfchar" % (len(pairs), b"".join(pairs))


def one_page(
    *contents: bytes, box: Sequence[float] = (0, 0, 612, 792), rotate: int | None = None
) -> bytes:
    """A PDF of one page with fonts /F1 and, bold, /F2; its content in so many streams."""
    pdf = Pdf.new()
    texts = pdf.make_stream(map_of({code: chr(300 + code) for code in CODES}))
    fonts = {
        name: Dictionary(
            Type=Name.Font,
            Subtype=Name.TrueType,
            BaseFont=Name(f"/AAAAAA+{base}"),
            FirstChar=CODES[0],
            LastChar=CODES[-1],
            Widths=Array([width_of(code) for code in CODES]),
            FontDescriptor=Dictionary(
                Type=Name.FontDescriptor,
                FontName=Name(f"/AAAAAA+{base}"),
                FontBBox=Array([0, 0, 1000, 1000]),
            ),
            ToUnicode=texts,
        )
        for name, base in (("/F1", "Some"), ("/F2", "Some-Bold"))
    }
    page = Dictionary(
        Type=Name.Page,
        MediaBox=Array(list(box)),
        Resources=Dictionary(Font=Dictionary(fonts)),
        Contents=Array([pdf.make_stream(content) for content in contents]),
    )
    if rotate is not None:
        page.Rotate = rotate
    pdf.pages.append(pikepdf.Page(pdf.make_indirect(page)))
    out = BytesIO()
    pdf.save(out)
    return out.getvalue()


def read_pages(
    pdf: bytes, scale: tuple[Fraction, Fraction] = TRUE, numbers: Sequence[int] = (0,)
) -> Iterator[list[DrawnMark]]:
    """What each of these pages, counted from 0, draws by our reader."""
    reader = PdfReader(BytesIO(pdf))
    budget = Budget(10**8)
    budget.allow({"marks": 10**7, "parsed": 10**8, "unpacked": 10**8})
    fonts, page_reader = Fonts(budget), PageReader(scale, budget)
    for number in numbers:
        page = reader.pages[number]
        streams = streams_of(page, 10**7, budget)
        yield page_reader.marks(streams, fonts.of(page), paper(page))


def marks_of(*contents: bytes) -> list[DrawnMark]:
    """What a page of such content draws."""
    return next(read_pages(one_page(*contents)))
