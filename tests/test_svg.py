"""The SVG and PNG backends: the same marks, in their own formats."""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO
from xml.etree import ElementTree as ET

import pytest
from PIL import Image
from strips import FIXED

from drapetemplate import drawing
from drapetemplate.document import Document, Page
from drapetemplate.drawing import Arc, Circle, Line, Mark, Pen, Polygon
from drapetemplate.render import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.png import DOTS_PER_INCH, png
from drapetemplate.render.svg import SvgBackend
from drapetemplate.render.typeface import typeface

SVG = "{http://www.w3.org/2000/svg}"
PEN = Pen(0.5, (2, 1))


def page_of(*marks: Mark, width: int = 100, height: int = 60) -> Document:
    """One page of marks."""
    return Document("a <b> & c", Fraction(width), Fraction(height), (Page("one", marks),), ())


def svg_of(*marks: Mark) -> ET.Element:
    """The page as SVG, parsed."""
    return ET.fromstring(render(page_of(*marks), SvgBackend("a <b> & c")))  # noqa: S314  # our own


def test_size_is_in_millimetres() -> None:
    """The picture is as large as the page, and its unit is the millimetre."""
    root = svg_of()
    assert (root.get("width"), root.get("height")) == ("100mm", "60mm")
    assert root.get("viewBox") == "0 0 100 60"


def test_line() -> None:
    """Y rises in a drawing and falls in SVG; dashes keep their phase."""
    (line,) = svg_of(Line(1, 2, Fraction(7, 2), 4, PEN, "x", phase=0.5)).iter(f"{SVG}line")
    assert [line.get(k) for k in ("x1", "y1", "x2", "y2")] == ["1", "58", "3.5", "56"]
    assert line.get("stroke-dasharray") == "2 1"
    assert line.get("stroke-dashoffset") == "0.5"


def test_circle_and_polygon() -> None:
    """A circle keeps centre and radius; a polygon its corners, fill and no stroke."""
    root = svg_of(Circle(10, 20, 5, PEN, "x"), Polygon(((0, 0), (1, 0), (1, 2)), None, 0.0, "x"))
    (circle,), (polygon,) = root.iter(f"{SVG}circle"), root.iter(f"{SVG}polygon")
    assert [circle.get(k) for k in ("cx", "cy", "r")] == ["10", "40", "5"]
    assert polygon.get("points") == "0,60 1,60 1,58"
    assert (polygon.get("fill"), polygon.get("stroke")) == ("#000000", "none")


@pytest.mark.parametrize(("sweep", "large", "end"), [(90, 0, "10 35"), (270, 1, "10 45")])
def test_arc(sweep: float, large: int, end: str) -> None:
    """An arc from the right, anticlockwise on paper: SVG's sweep flag is 0 with y falling."""
    (path,) = svg_of(Arc(10, 20, 5, 0, sweep, PEN, "x")).iter(f"{SVG}path")
    assert path.get("d") == f"M 15 40 A 5 5 0 {large} 0 {end}"


def test_text_is_no_markup() -> None:
    """Words that look like markup come out as the words they are, title included."""
    words = "<script>&amp;</script>\u202e\x00"
    mark = drawing.text(typeface(), 5, 6, words, 3.0, "x", anchor="middle", angle=90)
    root = svg_of(mark)
    (element,) = root.iter(f"{SVG}text")
    assert element.text == "<script>&amp;</script>\ufffd\ufffd"
    assert element.get("transform") == "rotate(-90 5 54)"
    assert float(element.get("textLength", "0")) == pytest.approx(mark.width, abs=1e-4)
    (title,) = root.iter(f"{SVG}title")
    assert title.text == "a <b> & c"


def test_one_page() -> None:
    """An SVG can't hold two pages."""
    backend = SvgBackend("x")
    backend.start_page(10, 10)
    with pytest.raises(ValueError, match="one page"):
        backend.start_page(10, 10)


def test_png() -> None:
    """A PNG at its resolution: as large as the page, and a line where it was drawn."""
    line = Line(20, 30, 80, 30, Pen(1.0), "x")
    data = png(render(page_of(line), PdfBackend("x")))
    image = Image.open(BytesIO(data))
    dots = DOTS_PER_INCH / 25.4
    assert image.format == "PNG"
    assert list(image.size) == pytest.approx([100 * dots, 60 * dots], abs=1)
    dark = [y for y in range(image.height) if image.getpixel((image.width // 2, y)) == 0]
    assert sum(dark) / len(dark) == pytest.approx(30 * dots, abs=1)
    assert len(dark) == pytest.approx(1.0 * dots, abs=1.5)


def test_fixed_typeface_measures() -> None:
    """Text's measured width is what the layout's typeface says, in any backend."""
    assert drawing.text(FIXED, 0, 0, "abcd", 10.0, "x").width == 24.0
