"""A document handed to a backend, mark by mark, and the odd texts a PDF must take."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import pdfplumber
import pytest

from drapetemplate import drawing
from drapetemplate.document.job_document import document
from drapetemplate.document.model import Document, Page
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Pen, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.planning.plan import plan
from drapetemplate.render.backend import draw, render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface
from tests.helpers.strips import FIXED, Spec

PEN = Pen(0.3)


class Recorder:
    """A backend that writes down what it is asked for."""

    def __init__(self) -> None:
        self.calls: list[tuple[str, object]] = []

    def start_page(self, width: float, height: float, scale: tuple[float, float]) -> None:
        """Record a page."""
        self.calls.append(("start_page", (width, height, *scale)))

    def start_shared(self, marks: tuple[Mark, ...]) -> bool:
        """Record what pages share."""
        self.calls.append(("start_shared", marks))
        return True

    def line(self, mark: Line) -> None:
        """Record a line."""
        self.calls.append(("line", mark))

    def circle(self, mark: Circle) -> None:
        """Record a circle."""
        self.calls.append(("circle", mark))

    def arc(self, mark: Arc) -> None:
        """Record an arc."""
        self.calls.append(("arc", mark))

    def polygon(self, mark: Polygon) -> None:
        """Record a polygon."""
        self.calls.append(("polygon", mark))

    def text(self, mark: Text) -> None:
        """Record a text."""
        self.calls.append(("text", mark))

    def finish(self) -> bytes:
        """Record the end."""
        self.calls.append(("finish", None))
        return b"all of it"


def word(string: str) -> Text:
    """A text in the shipped font, made drawable as the layout makes it."""
    return drawing.text(typeface(), 20.0, 30.0, string, 5.0, Role.HEADING)


MARKS: list[tuple[str, Mark]] = [
    ("line", Line(1, 2, 3, 4, PEN, Role.GUIDE)),
    ("circle", Circle(1, 2, 3, PEN, Role.HOLE)),
    ("arc", Arc(1, 2, 3, 10, 20, PEN, Role.HOLE)),
    ("polygon", Polygon(((1, 2), (3, 4), (5, 7)), None, 0.0, Role.LEADING_WEDGE)),
    ("text", word("F")),
]


def paper(*marks: Mark) -> Document:
    """A document of one page, 100 x 200 mm."""
    return Document("A title", Fraction(100), Fraction(200), (Page("one", marks),), ())


@pytest.mark.parametrize(("method", "mark"), MARKS)
def test_draw(method: str, mark: Mark) -> None:
    """Each kind of mark goes to its own method, unchanged."""
    recorder = Recorder()
    draw(mark, recorder)
    assert [(method, mark)] == recorder.calls


def test_every_mark_once() -> None:
    """A whole job's marks reach the backend once each, in order, page by page."""
    job = Spec().job()
    whole = document(job, plan(job), FIXED)
    recorder = Recorder()
    assert render(whole, recorder) == b"all of it"
    expected: list[object] = []
    for page in whole.pages:
        expected += [(float(whole.width), float(whole.height), 1.0, 1.0)]
        own = page.marks[: len(page.marks) - len(page.shared)]
        expected += [*own, page.shared, *page.shared] if page.shared else own
    assert [*expected, None] == [thing for _, thing in recorder.calls]


def read(data: bytes) -> list[str]:
    """The text of each page, by pdfplumber, as it stands there."""
    with pdfplumber.open(BytesIO(data)) as pdf:
        return ["".join(char["text"] for char in page.chars) for page in pdf.pages]


@pytest.mark.parametrize(
    ("string", "drawn"),
    [
        pytest.param("<b>&amp;</b>", "<b>&amp;</b>", id="markup"),
        pytest.param('<img src="file:///nowhere"/>', '<img src="file:///nowhere"/>', id="image"),
        pytest.param("(a) \\ (b", "(a) \\ (b", id="PDF's own signs"),
        pytest.param("a\tb\nc", "a b c", id="white space"),
        pytest.param("a\x00b\x1bc", "a\ufffdb\ufffdc", id="control"),
        pytest.param("a\u202eb", "a\ufffdb", id="reordering"),
        pytest.param("窓 x", "\ufffd x", id="missing"),
        pytest.param("\U0001f9f5", "\ufffd", id="missing beyond the first plane"),
        pytest.param("Küche, 3½ ″ ≈ №", "Küche, 3½ ″ ≈ №", id="signs it has"),
    ],
)
def test_text_as_text(string: str, drawn: str) -> None:
    """Text is written as it stands, nothing in it is markup, and what can't be drawn is seen."""
    mark = word(string)
    assert drawn == mark.text
    assert [drawn] == read(render(paper(mark), PdfBackend("A title")))


def test_title_as_text() -> None:
    """A title may hold anything: it is the file's title, no markup."""
    title = "<b>&\x00(\\"
    with pdfplumber.open(BytesIO(render(paper(word("x")), PdfBackend(title)))) as pdf:
        assert title == pdf.metadata["Title"]


def extent(mark: Mark) -> tuple[float, float, float, float]:
    """Where the PDF has a mark, in mm, y up."""
    data = render(paper(mark), PdfBackend("A title"))
    with pdfplumber.open(BytesIO(data)) as pdf:
        [page] = pdf.pages
        [drawn] = [*page.lines, *page.curves, *page.rects]
        sides = (drawn["x0"], drawn["y0"], drawn["x1"], drawn["y1"])
    left, bottom, right, top = (float(side) * 25.4 / 72 for side in sides)
    return left, bottom, right, top


@pytest.mark.parametrize(
    ("mark", "expected"),
    [
        (Line(10, 20, 30, 50, PEN, Role.GUIDE), (10, 20, 30, 50)),
        (Circle(50, 60, 20, PEN, Role.HOLE), (30, 40, 70, 80)),
        (
            Circle(Fraction(151, 3), 60, Fraction(1, 3), PEN, Role.HOLE),
            (50, 179 / 3, 152 / 3, 181 / 3),
        ),
        # A quarter from straight right to straight up.
        (Arc(50, 60, 20, 0, 90, PEN, Role.HOLE), (50, 60, 70, 80)),
        # Half, over the top.
        (Arc(50, 60, 20, 0, 180, PEN, Role.HOLE), (30, 60, 70, 80)),
        (Polygon(((10, 20), (30, 20), (30, 25)), None, 0.0, Role.LEADING_WEDGE), (10, 20, 30, 25)),
    ],
)
def test_true_size(mark: Mark, expected: tuple[float, ...]) -> None:
    """A mark's millimetres are the page's."""
    assert pytest.approx(expected, abs=0.001) == extent(mark)


@pytest.mark.parametrize(
    ("mark", "pieces"),
    [
        (Circle(50, 100, 45, PEN, Role.HOLE), 8),
        (Arc(50, 100, 45, 30, 100, PEN, Role.HOLE), 3),
        (Arc(50, 100, 45, 350, 45, PEN, Role.HOLE), 1),
    ],
)
def test_round(mark: Circle | Arc, pieces: int) -> None:
    """A circle's Bezier arcs, of 45 degrees at most, keep its radius between their ends too."""
    with pdfplumber.open(BytesIO(render(paper(mark), PdfBackend("A title")))) as pdf:
        [page] = pdf.pages
        steps = page.curves[0]["path"]
        height = float(page.height)
    points = [steps[0][1], *(point for step in steps if step[0] == "c" for point in step[1:])]
    at = [complex(x, height - y) * 25.4 / 72 for x, y in points]
    assert 3 * pieces + 1 == len(at)
    for i in range(0, len(at) - 1, 3):
        a, b, c, d = at[i : i + 4]
        for j in range(1, 20):
            t = j / 20
            u = 1 - t
            point = u**3 * a + 3 * u**2 * t * b + 3 * u * t**2 * c + t**3 * d
            # 4e-6 of the radius, and four decimals of a point.
            assert pytest.approx(45, abs=0.0003) == abs(point - complex(50, 100))


def strokes(*marks: Mark) -> list[tuple[float, object]]:
    """Each drawn line's width in mm and its dash in points."""
    with pdfplumber.open(BytesIO(render(paper(*marks), PdfBackend("A title")))) as pdf:
        return [(line["linewidth"] * 25.4 / 72, line["dash"]) for line in pdf.pages[0].lines]


def test_greys() -> None:
    """An area is as grey as it says; a text is black, whatever was filled before it."""
    corners = ((10, 20), (30, 20), (20, 40))
    marks = (
        word("first"),
        Polygon(corners, None, 0.25, Role.LEADING_WEDGE),
        word("F"),
        Polygon(corners, None, 0.75, Role.LEADING_WEDGE),
        Line(10, 20, 90, 20, Pen(0.3, grey=0.5), Role.GUIDE),
        Line(10, 30, 90, 30, Pen(0.3), Role.GUIDE),
    )
    with pdfplumber.open(BytesIO(render(paper(*marks), PdfBackend("A title")))) as pdf:
        [page] = pdf.pages
        assert [area["non_stroking_color"] for area in page.curves] == [0.25, 0.75]
        assert {char["non_stroking_color"] for char in page.chars} == {(0.0,)}
        assert [line["stroking_color"] for line in page.lines] == [0.5, 0.0]


def test_dashes() -> None:
    """A dashed line's pattern and phase are its own; the solid line after it is solid."""
    dashed = Line(10, 20, 90, 20, Pen(0.15, (1.2, 1.2)), Role.GUIDE, 0.6)
    solid = Line(10, 30, 90, 30, Pen(0.15), Role.CENTER_CROSS)
    [(_, dash), (_, none), (_, again)] = strokes(dashed, solid, dashed)
    unit = 1.2 * 72 / 25.4
    for found in (dash, again):
        assert isinstance(found, tuple)
        pattern, phase = found
        assert pytest.approx([unit, unit]) == pattern
        assert pytest.approx(unit / 2) == phase
    assert none is None or none == ([], 0)


@pytest.mark.parametrize(
    ("end", "stretch"),
    [
        ((90, 20), 1.01),
        ((10, 90), 0.985),
        # 3, 4, 5: hypot(3 x 1.01, 4 x 0.985)/5
        ((40, 60), (3.03**2 + 3.94**2) ** 0.5 / 5),
    ],
)
def test_dashes_keep_step_on_a_scaled_page(end: tuple[int, int], stretch: float) -> None:
    """Dashes are stretched as their line is, so that neighbouring sheets' meet in the lap."""
    dashed = Line(10, 20, *end, Pen(0.15, (1.2, 1.2)), Role.GUIDE, 0.6)
    scaled = replace(paper(dashed), scale=(Fraction(101, 100), Fraction(985, 1000)))
    with pdfplumber.open(BytesIO(render(scaled, PdfBackend("A title")))) as pdf:
        [line] = pdf.pages[0].lines
    unit = 1.2 * 72 / 25.4 * stretch
    pattern, phase = line["dash"]
    assert pytest.approx([unit, unit]) == pattern
    assert pytest.approx(unit / 2) == phase


def test_scaled_page() -> None:
    """Every mark's x and y are multiplied by the page's factors; the page and pens are not."""
    marks = [mark for _, mark in MARKS] + [word("F")]
    turned = drawing.turned(word("Sheet"), 50.0)
    scaled = replace(paper(*marks, turned), scale=(Fraction(3, 2), Fraction(1, 2)))
    found = []
    for made in (paper(*marks, turned), scaled):
        with pdfplumber.open(BytesIO(render(made, PdfBackend("A title")))) as pdf:
            [page] = pdf.pages
            drawn = [*page.lines, *page.curves, *page.rects]
            points = [
                (x, float(page.height) - y)
                for mark in drawn
                for step in mark["path"]
                for x, y in step[1:]
            ]
            letters = [char["matrix"] for char in page.chars]
            found.append(
                (page.width, page.height, {m["linewidth"] for m in drawn}, points, letters)
            )
    (*plain, points, letters), (*same, moved, stretched) = found
    assert plain == same
    assert pytest.approx([x * 1.5 for x, _ in points], abs=1e-3) == [x for x, _ in moved]
    assert pytest.approx([y * 0.5 for _, y in points], abs=1e-3) == [y for _, y in moved]
    for old, new in zip(letters, stretched, strict=True):
        assert pytest.approx([n * (1.5, 0.5)[i % 2] for i, n in enumerate(old)], abs=1e-3) == new


@pytest.mark.parametrize("pens", [(0.7, 0.3, 0.7), (0.3, 0.3, 0.2)])
def test_pens(pens: tuple[float, ...]) -> None:
    """Every line has its own pen, whatever was drawn before."""
    marks = [Line(10, 20 + i, 90, 20 + i, Pen(pen), Role.GUIDE) for i, pen in enumerate(pens)]
    assert pytest.approx(pens, abs=1e-3) == tuple(width for width, _ in strokes(*marks))


def test_pen_on_next_page() -> None:
    """A page begins with PDF's own pen, so the first line of each sets its own anew."""
    mark = Line(10, 20, 90, 20, Pen(0.7), Role.GUIDE)
    pages = (Page("one", (mark,)), Page("two", (mark,)))
    made = Document("A title", Fraction(100), Fraction(200), pages, ())
    with pdfplumber.open(BytesIO(render(made, PdfBackend("A title")))) as pdf:
        found = [page.lines[0]["linewidth"] * 25.4 / 72 for page in pdf.pages]
    assert pytest.approx([0.7, 0.7], abs=1e-3) == found


WIDTH = typeface().width("Sheet 12", 5.0)


@pytest.mark.parametrize(
    ("anchor", "angle", "start"),
    [
        ("start", 0, lambda: (50, 60)),
        ("middle", 0, lambda: (50 - WIDTH / 2, 60)),
        ("end", 0, lambda: (50 - WIDTH, 60)),
        ("start", 90, lambda: (50, 60)),
        ("middle", 90, lambda: (50, 60 - WIDTH / 2)),
        ("end", 90, lambda: (50, 60 - WIDTH)),
    ],
)
def test_anchors(
    anchor: drawing.Anchor, angle: int, start: Callable[[], tuple[float, float]]
) -> None:
    """Text begins, is centred or ends at its point, along its direction."""
    mark = drawing.text(
        typeface(), 50.0, 60.0, "Sheet 12", 5.0, Role.HEADING, anchor=anchor, angle=angle
    )
    with pdfplumber.open(BytesIO(render(paper(mark), PdfBackend("A title")))) as pdf:
        first = pdf.pages[0].chars[0]
    at = tuple(float(side) * 25.4 / 72 for side in first["matrix"][4:])
    assert pytest.approx(start(), abs=0.001) == at


def test_measured_width() -> None:
    """What the layout takes a text's width to be is what the PDF's characters advance."""
    mark = word("≈ 109 13/16 in, Wäf")
    with pdfplumber.open(BytesIO(render(paper(mark), PdfBackend("A title")))) as pdf:
        advance = sum(char["adv"] for char in pdf.pages[0].chars) * 25.4 / 72
    assert pytest.approx(mark.width, abs=0.001) == advance
