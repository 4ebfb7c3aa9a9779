"""The PNG of a page: the whole first page, true size, dark where the marks are."""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO

import pytest
from PIL import Image

from drapetemplate.document.model import Document, Page
from drapetemplate.document.picture_document import panel_pictures
from drapetemplate.drawing.marks import Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.planning.plan import plan
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.png import DOTS_PER_INCH, png
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import job_of

DOTS = DOTS_PER_INCH / 25.4  # a millimetre
SIGNATURE = b"\x89PNG\r\n\x1a\n"  # PNG (ISO/IEC 15948), 5.2


def pages_of(width: float, height: float, *pages: tuple[Mark, ...]) -> Document:
    """A document of some pages."""
    made = tuple(Page(f"page {n}", marks) for n, marks in enumerate(pages, 1))
    return Document("Heron Point, trial", Fraction(width), Fraction(height), made, ())


def image(document: Document) -> Image.Image:
    """A document's first page as PNG, read again."""
    data = png(render(document, PdfBackend(document.title)))
    assert data.startswith(SIGNATURE)
    return Image.open(BytesIO(data))


@pytest.mark.parametrize(("width", "height"), [(260, 130.5), (100, 50), (25.4, 12.7), (260, 4000)])
def test_size(width: float, height: float) -> None:
    """As many dots as its millimetres take at 200 to the inch, which the file says too."""
    found = image(pages_of(width, height, ()))
    assert found.size == pytest.approx((width * DOTS, height * DOTS), abs=1)
    # PNG keeps whole dots a metre: 7874.
    assert found.info["dpi"] == pytest.approx((200, 200), abs=0.02)
    assert found.mode == "L"


def test_dark_where_the_marks_are() -> None:
    """A filled box is black within, white without, the right way up."""
    corners = ((10.0, 30.0), (20.0, 30.0), (20.0, 35.0), (10.0, 35.0))
    found = image(pages_of(50, 40, (Polygon(corners, None, 0.0, Role.GROUND),)))
    dark = found.point(lambda level: 255 * (level < 128)).getbbox()
    # y falls in an image: 35 mm up is 5 mm down. An edge may fall within a dot.
    expected = (10 * DOTS, 5 * DOTS, 20 * DOTS, 10 * DOTS)
    assert dark == pytest.approx(expected, abs=1)


def test_first_page_only() -> None:
    """Of several pages the first is shown."""
    line = Line(0, 5.0, 10.0, 5.0, Pen(10), Role.RULE)
    assert image(pages_of(10, 10, (), (line,))).getextrema() == (255, 255)
    assert image(pages_of(10, 10, (line,), ())).getextrema() == (0, 0)


def test_rings_of_a_picture() -> None:
    """Every ring of a job's picture is black along its middle, and the paper beside it white."""
    job = job_of("width = 60\ncount = 6\nfullness = 2", tables="[pole]\nprojection = 6")
    document = panel_pictures(job, plan(job), typeface())[0]
    found = image(document)
    rings = [
        mark
        for mark in document.pages[0].marks
        if isinstance(mark, Line) and mark.role == Role.RING
    ]
    assert len(rings) == 12  # closed and stacked

    def level(x: float, y: float) -> float | tuple[int, ...] | None:
        return found.getpixel((int(x * DOTS), int((float(document.height) - y) * DOTS)))

    for ring in rings:
        x1, y1, x2, y2 = (float(at) for at in (ring.x1, ring.y1, ring.x2, ring.y2))
        for part in (0.15, 0.3, 0.7, 0.85):
            x, y = x1 + part * (x2 - x1), y1 + part * (y2 - y1)
            # 0.9 mm of pen are 7 dots, so the middle one is wholly inked; 2 mm aside is paper.
            assert level(x, y) == 0
            assert level(x - 2, y) == 255
