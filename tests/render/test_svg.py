"""The SVG backend: XML that parses, true size, y the right way up, and text that stays text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from io import BytesIO
from math import cos, radians, sin
from xml.etree import ElementTree as ET

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.document.cut_drawing import Layer
from drapetemplate.document.model import Document, Page
from drapetemplate.document.picture_document import panel_pictures
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Pen, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import printable
from drapetemplate.planning.plan import plan
from drapetemplate.render.backend import draw, render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.svg import CutSvgBackend, ScreenSvgBackend, SvgBackend
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import job_of

SVG = "{http://www.w3.org/2000/svg}"
PEN = Pen(0.3)
WIDTH, HEIGHT = 200.0, 100.0
POINT = 25.4 / 72


def drawn(marks: Iterable[Mark], title: str = "Heron Point, trial") -> ET.Element:
    """A page of marks, as SVG, parsed."""
    backend = SvgBackend(title)
    backend.start_page(WIDTH, HEIGHT)
    for mark in marks:
        draw(mark, backend)
    return ET.fromstring(backend.finish())  # noqa: S314  # our own bytes, a moment old


def only(root: ET.Element, tag: str) -> dict[str, str]:
    """The attributes of the one element of this kind, the page's white ground left out."""
    (found,) = [e for e in root.iter(SVG + tag) if e.get("fill") != "#fff"]
    return dict(found.attrib)


def word(string: str, *, angle: int = 0, bold: bool = False) -> Text:
    """A word as layout makes it."""
    return drawing.text(typeface(), 30.0, 40.0, string, 5.0, Role.TEXT, angle=angle, bold=bold)


def test_true_size() -> None:
    """One user unit is one millimetre: the size is said in mm and the view box in the same."""
    root = drawn([])
    assert root.tag == SVG + "svg"
    assert (root.get("width"), root.get("height")) == ("200mm", "100mm")
    assert root.get("viewBox") == "0 0 200 100"


def test_line() -> None:
    """A line's ends, its y taken from the page's height, and its pen in mm."""
    line = only(
        drawn([Line(Fraction(10), 20.5, 30.0, 90.0, Pen(0.25, grey=0.2), Role.RULE)]), "line"
    )
    assert {k: float(line[k]) for k in ("x1", "y1", "x2", "y2", "stroke-width")} == {
        "x1": 10,
        "y1": 79.5,
        "x2": 30,
        "y2": 10,
        "stroke-width": 0.25,
    }
    assert line["stroke"] == "#333333"


def test_dashes() -> None:
    """A dashed line keeps its pattern and its phase, in mm; a solid one has neither."""
    dashed = Line(0, 0, 9, 9, Pen(0.2, (1.5, 0.75)), Role.RULE, phase=0.5)
    found = only(drawn([dashed]), "line")
    assert (found["stroke-dasharray"], found["stroke-dashoffset"]) == ("1.5 0.75", "0.5")
    assert "stroke-dasharray" not in only(drawn([Line(0, 0, 9, 9, PEN, Role.RULE)]), "line")


def test_circle() -> None:
    """A circle's centre and radius, stroked and not filled."""
    circle = only(drawn([Circle(50, 30, Fraction(25, 2), PEN, Role.HOLE)]), "circle")
    assert [float(circle[k]) for k in ("cx", "cy", "r")] == [50, 70, 12.5]
    assert circle["fill"] == "none"


@pytest.mark.parametrize(
    ("pen", "fill", "stroke", "filled"),
    [(PEN, None, "#000000", "none"), (None, 0.8, "none", "#cccccc"), (PEN, 1.0, "#000000", None)],
)
def test_polygon(pen: Pen | None, fill: float | None, stroke: str, filled: str | None) -> None:
    """An outline with its own stroke and fill, either or both."""
    corners = ((10.0, 10.0), (60.0, 10.0), (60.0, 40.0))
    polygon = only(drawn([Polygon(corners, pen, fill, Role.PANEL)]), "polygon")
    assert polygon["points"] == "10,90 60,90 60,60"
    assert polygon["stroke"] == stroke
    assert polygon["fill"] == (filled or "#ffffff")


def bulge(start: float, sweep: float) -> tuple[float, float]:
    """The middle of the arc as SVG 1.1 (F.6.5) reads the path, y up again."""
    arc = Arc(100.0, 50.0, 20.0, start, sweep, PEN, Role.HOLE)
    move, x0, y0, kind, rx, ry, turn, large, way, x1, y1 = only(drawn([arc]), "path")["d"].split()
    assert (move, kind, turn) == ("M", "A", "0")
    assert (float(rx), float(ry)) == (20, 20)
    ax, ay, bx, by = float(x0), HEIGHT - float(y0), float(x1), HEIGHT - float(y1)
    mx, my = (ax + bx) / 2, (ay + by) / 2
    # Flag 0: the angle falls as SVG's y falls, so it rises on paper. Going from a to b with the
    # centre on the left for the small arc, the arc itself runs on the right.
    assert way == "0"
    dx, dy = bx - ax, by - ay
    chord = (dx * dx + dy * dy) ** 0.5
    off = (400 - chord * chord / 4) ** 0.5
    centre_left = 1 if large == "0" else -1
    cx, cy = mx - centre_left * off * dy / chord, my + centre_left * off * dx / chord
    return cx + 20 * dy / chord, cy - 20 * dx / chord


@pytest.mark.parametrize(("start", "sweep"), [(0, 90), (30, 100), (200, 45), (-30, 250), (90, 181)])
def test_arc(start: float, sweep: float) -> None:
    """An arc runs anticlockwise on paper over its whole sweep, the large way round where large."""
    middle = radians(start + sweep / 2)
    expected = (100 + 20 * cos(middle), 50 + 20 * sin(middle))
    # Four decimals of a millimetre are written; a sweep near half a turn magnifies them.
    assert bulge(start, sweep) == pytest.approx(expected, abs=0.02)


@pytest.mark.parametrize(("start", "sweep"), [(0, 90), (-30, 250)])
def test_arc_as_in_the_pdf(start: float, sweep: float) -> None:
    """Both backends run through the same point half way along the arc."""
    backend = PdfBackend("Heron Point, trial")
    backend.start_page(WIDTH, HEIGHT)
    backend.arc(Arc(100.0, 50.0, 20.0, start, sweep, PEN, Role.HOLE))
    with pdfplumber.open(BytesIO(backend.finish())) as pdf:
        (curve,) = pdf.pages[0].curves
        found = [(x * POINT, HEIGHT - y * POINT) for x, y in curve["pts"]]
    x, y = bulge(start, sweep)
    # The pieces' ends lie on the arc; the middle one of an even number is half way.
    assert min(abs(x - a) + abs(y - b) for a, b in found) < 0.01


@pytest.mark.parametrize(
    "string",
    [
        "<b>&amp;",
        "</text><script>",
        "\"quoted\" & 'so'",
        "]]>",
        "<!-- -->",
        "a < b > c",
        "½ in – ≈",
    ],
)
def test_text_is_no_markup(string: str) -> None:
    """Whatever a job says is drawn as it stands, in text and in the title."""
    root = drawn([word(string)], title=string)
    (text,) = root.iter(SVG + "text")
    (title,) = root.iter(SVG + "title")
    assert (text.text, title.text) == (string, string)
    assert len(list(root.iter())) == 4  # svg, title, ground, text: nothing grew out of it


@given(st.text(min_size=1))
def test_no_text_breaks_the_file(string: str) -> None:
    """Any characters at all, control characters and surrogates too, leave the XML well formed."""
    mark = word(string)
    root = drawn([mark], title=string)
    (text,) = root.iter(SVG + "text")
    assert mark.text == (text.text or "")
    (title,) = root.iter(SVG + "title")
    assert printable(string).strip() == (title.text or "").strip()


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_text_keeps_its_measure(anchor: drawing.Anchor) -> None:
    """Text stands at its anchor, in its size, as wide as layout measured it."""
    mark = drawing.text(typeface(), 30.0, 40.0, "Heron Point", 5.0, Role.TEXT, anchor=anchor)
    text = only(drawn([mark]), "text")
    assert [float(text[k]) for k in ("x", "y", "font-size")] == [30, 60, 5]
    assert text["text-anchor"] == anchor
    assert float(text["textLength"]) == pytest.approx(mark.width, abs=5e-5)
    assert "font-weight" not in text
    assert only(drawn([word("Heron", bold=True)]), "text")["font-weight"] == "bold"


def test_turned_text() -> None:
    """Text turned anticlockwise on paper is turned by the negative angle, y falling."""
    assert only(drawn([word("up", angle=90)]), "text")["transform"] == "rotate(-90 30 60)"
    assert "transform" not in only(drawn([word("level")]), "text")


def test_one_page_only() -> None:
    """A second page is refused rather than drawn over the first."""
    page = Page("page", ())
    document = Document("Heron Point", Fraction(200), Fraction(100), (page, page), ())
    with pytest.raises(ValueError, match="one page"):
        render(document, SvgBackend("Heron Point"))


def test_whole_picture() -> None:
    """A job's picture is one SVG of its page's size with every mark in it, in order."""
    job = job_of("width = 60\nlength = 84", tables='[pole]\nprojection = 4\ndiameter = "3/4"')
    document = panel_pictures(job, plan(job), typeface())[0]
    root = ET.fromstring(render(document, SvgBackend(document.title)))  # noqa: S314  # likewise
    tags = {Line: "line", Circle: "circle", Polygon: "polygon", Text: "text"}
    expected = [SVG + tags[type(mark)] for mark in document.pages[0].marks]
    assert expected == [element.tag for element in root][2:]
    assert root.get("width") == "260mm"
    assert root.get("height", "").startswith(f"{float(document.height):.3f}"[:-1])


def test_not_for_a_printer() -> None:
    """An SVG is a picture: it says so rather than leave out a printer's factors."""
    with pytest.raises(ValueError, match="not corrected for a printer"):
        SvgBackend("Heron Point").start_page(WIDTH, HEIGHT, (1.01, 1.0))


def test_for_a_page_in_its_own_colours() -> None:
    """Ink is the page's own colour, grey so much of it, and white is the page's ground."""
    backend = ScreenSvgBackend("A strip")
    backend.start_page(40.0, 20.0)
    square = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0))
    backend.polygon(Polygon(square, None, 0.86, Role.BACK_FOLD))
    backend.polygon(Polygon(square, Pen(0.15), 1.0, Role.RING_EDGE_ON))
    backend.circle(Circle(5.0, 5.0, 2.0, Pen(0.2, grey=0.5), Role.HOLE))
    root = ET.fromstring(backend.finish())  # noqa: S314  # our own
    title, back, ring, hole = root
    assert title.text == "A strip"
    assert back.attrib["class"] == "back-fold"
    assert (back.attrib["fill"], back.attrib["fill-opacity"]) == ("currentColor", "0.14")
    assert (ring.attrib["class"], ring.attrib["fill"]) == ("ring-edge-on ground", "#fff")
    assert ring.attrib["stroke"] == "currentColor"
    assert (hole.attrib["stroke"], hole.attrib["stroke-opacity"]) == ("currentColor", "0.5")


def test_for_a_page_marks_of_a_kind_are_one_path() -> None:
    """Each begins where it stands, lines go on; another pen, role or phase is another path."""
    backend = ScreenSvgBackend("")
    backend.start_page(10.0, 10.0)
    pen, broad, dashed = Pen(0.35), Pen(0.9), Pen(0.9, (1.0, 0.5))

    def round_a(r: str, width: str) -> str:
        return f"a{r} {r} 0 1 0 {width} 0a{r} {r} 0 1 0 -{width} 0"

    marks: tuple[Mark, ...] = (
        Line(0.0, 0.0, 1.0, 2.0, pen, Role.CLOTH),
        Line(1.0, 2.0, 3.25, 1.0, pen, Role.CLOTH),
        Line(3.25, 2.0, 4.0, 2.0, pen, Role.CLOTH),
        Line(4.0, 2.0, 5.0, 1.0, broad, Role.CLOTH),
        Line(5.0, 1.0, 6.0, 1.0, broad, Role.RING),
        Line(6.0, 1.0, 7.0, 1.0, dashed, Role.RING, 0.25),
        Line(7.0, 1.0, 8.0, 1.0, dashed, Role.RING, 0.25),
        Line(8.0, 1.0, 9.0, 1.0, dashed, Role.RING, 0.5),
        Circle(5.0, 5.0, 2.0, pen, Role.HOLE),
        Circle(7.5, 5.0, 0.25, pen, Role.HOLE),
        Polygon(((0.0, 0.0), (4.0, 0.0), (4.0, 4.0)), None, 0.5, Role.BACK_FOLD),
        Polygon(((1.0, 0.0), (4.0, 0.0), (4.0, 3.0)), None, 0.5, Role.BACK_FOLD),
    )
    for mark in marks:
        draw(mark, backend)
    root = ET.fromstring(backend.finish())  # noqa: S314  # our own
    paths = [(path.attrib["class"], path.attrib["d"]) for path in root.iter(f"{SVG}path")]
    assert paths == [
        ("cloth", "M0 10L1 8L3.25 9M3.25 8L4 8"),
        ("cloth", "M4 8L5 9"),
        ("ring", "M5 9L6 9"),
        ("ring", "M6 9L7 9M7 9L8 9"),
        ("ring", "M8 9L9 9"),
        ("hole", f"M3 5{round_a('2', '4')}M7.25 5{round_a('0.25', '0.5')}"),
        ("back-fold", "M0 10L4 10L4 6ZM1 10L4 10L4 7Z"),
    ]
    dashes = [path.get("stroke-dashoffset") for path in root.iter(f"{SVG}path")]
    assert dashes == [None, None, None, "0.25", "0.5", None, None]


def test_a_colour_for_each_layer() -> None:
    """Programs of cutting machines tell layers by their strokes' colours: holes are red."""
    backend = CutSvgBackend("A strip")
    backend.start_page(100.0, 50.0, (1.0, 1.0))
    for layer in Layer:
        backend.start_layer(layer)
        backend.line(Line(1, 2, 3, 4, Pen(0.1), Role.GUIDE))
    written = backend.finish().decode()
    found = [re.findall("#[0-9a-f]{6}", part)[-1] for part in written.split("<g ")[1:]]
    named = dict(zip([layer.name for layer in Layer], found, strict=True))
    assert named == {
        "HOLES": "#ff0000",
        "OUTLINE": "#0000ff",
        "PRICK": "#00ff00",
        "FOLD": "#ff00ff",
        "MARKS": "#00ffff",
        "TEXT": "#000000",
    }
