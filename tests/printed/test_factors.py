"""A template corrected for a printer, measured: the file is off by the factors, the paper true.

The printer here stretches by 1/1.01 across and 1/0.985 down, exactly, and nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from io import BytesIO

import pdfplumber
import pikepdf
import pytest

from drapetemplate.document.job_document import document
from drapetemplate.document.model import Document
from drapetemplate.job.build import read_job
from drapetemplate.job.factors import Factors
from drapetemplate.planning.plan import plan
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface
from tests.helpers import pages
from tests.helpers.cases import A4_BACK, A4_ROWS, CASES, LETTER_LEFT, Case, near

MM = 25.4 / 72
OFF = Factors("workroom laser", Fraction(101, 100), Fraction(985, 1000))
ACROSS, DOWN = 1.01, 0.985


def laid(case: Case, factors: Factors | None) -> Document:
    """A case's document, for a printer or for none."""
    job = read_job(case.toml.encode(), "job.toml")
    return document(job, plan(job), typeface(), factors=factors)


def pdf(whole: Document) -> bytes:
    """The document's PDF."""
    return render(whole, PdfBackend(whole.title))


@dataclass(frozen=True)
class Corrected:
    """A case made for the printer, and measured as that printer prints it, sheet by sheet."""

    case: Case
    whole: Document
    data: bytes
    sheets: list[pages.Sheet]
    taped: list[pages.Sheet]


@pytest.fixture(scope="module", params=list(CASES.values()), ids=list(CASES))
def made(request: pytest.FixtureRequest) -> Corrected:
    """Every hand-worked case, made for the printer."""
    case: Case = request.param
    whole = laid(case, OFF)
    data = pdf(whole)
    found = pages.sheets(data, turned=case.turned, scale=(ACROSS, DOWN))
    columns = len(found) // (2 if case is A4_ROWS else 1)
    ends = [s for s in found[0].strokes if s.upright and abs(s.pen - 0.5) < 0.01]
    corner = (min(s.x1 for s in ends), max(s.y2 for s in ends) - case.height)
    return Corrected(case, whole, data, found, pages.taped(found, columns, corner))


def test_pages_are_the_papers(made: Corrected) -> None:
    """Every page has the paper's own size: only what is drawn on it is corrected."""
    with pikepdf.open(BytesIO(made.data)) as whole:
        for page in whole.pages:
            assert near((0, 0, *made.case.paper)) == tuple(float(x) * MM for x in page.mediabox)


def points(data: bytes) -> Iterator[tuple[str, float, float]]:
    """Every point of every page, in mm from its lower left corner, named for what it is of."""
    with pdfplumber.open(BytesIO(data)) as whole:
        for page in whole.pages:
            height = float(page.height)
            for mark in (*page.lines, *page.rects, *page.curves):
                for step in mark["path"]:
                    for x, y in step[1:] if step[0] != "h" else ():
                        yield step[0], x * MM, (height - y) * MM
            for char in page.chars:
                yield f"letter {char['text']}", char["matrix"][4] * MM, char["matrix"][5] * MM


def test_every_coordinate(made: Corrected) -> None:
    """Each point of lines, curves, their control points and text is its own times the factors.

    What it would be without is the same layout on a page of what the printer makes millimetres.
    """
    plain = replace(
        made.whole,
        width=made.whole.width / OFF.across,
        height=made.whole.height / OFF.down,
        scale=(Fraction(1), Fraction(1)),
    )
    drawn, expected = list(points(made.data)), list(points(pdf(plain)))
    assert len(drawn) > 5_000
    assert [kind for kind, _, _ in expected] == [kind for kind, _, _ in drawn]
    assert {"m", "l", "c"} < {kind for kind, _, _ in drawn}
    worst = max(
        max(abs(x - px * ACROSS), abs(y - py * DOWN))
        for (_, x, y), (_, px, py) in zip(drawn, expected, strict=True)
    )
    assert worst < 0.001


@pytest.mark.parametrize("part", ["outside", "hole", "center-hole"])
def test_true_circles(made: Corrected, part: str) -> None:
    """On that printer's paper every eyelet's circles are true and chain to their true centres."""
    case = made.case
    diameter = {"outside": case.outside, "hole": case.hole, "center-hole": 1.5}[part]
    found = [c for sheet in made.taped for c in sheet.circles(diameter)]
    assert near(list(case.centers)) == pages.distinct(c.x for c in found)
    assert near([case.y]) == pages.distinct(c.y for c in found)
    assert near([diameter] * len(found)) == [c.diameter for c in found]


def test_ellipses_in_the_file(made: Corrected) -> None:
    """In the file itself no circle is one: each is as much too wide and too low as is asked."""
    with pytest.raises(AssertionError, match="not a circle"):
        pages.sheets(made.data, turned=made.case.turned)
    wide, high = made.case.hole * ACROSS, made.case.hole * DOWN
    with pdfplumber.open(BytesIO(made.data)) as whole:
        shown = [whole.pages[sheet.page] for sheet in made.sheets]
        rounds = [(c["width"] * MM, c["height"] * MM) for page in shown for c in page.curves]
    holes = [size for size in rounds if abs(size[0] - wide) < 0.01]
    assert len(holes) >= len(made.case.centers)
    assert near([high] * len(holes)) == [size[1] for size in holes]


def test_strip(made: Corrected) -> None:
    """The taped strip has the panel's width, the band's height, and its return folds in place."""
    case = made.case
    ends = [
        s.x1 for sheet in made.taped for s in sheet.strokes if s.upright and abs(s.pen - 0.5) < 0.01
    ]
    assert near([0, case.width]) == pages.distinct(ends)
    edges = [s for sheet in made.taped for s in sheet.strokes if s.level and not s.dashed]
    edges = [s for s in edges if abs(s.pen - 0.35) < 0.01]
    assert near([0, case.height]) == pages.distinct(s.y1 for s in edges)
    folds = [
        s.x1
        for sheet in made.taped
        for s in sheet.strokes
        if s.upright and s.dashed and abs(s.pen - 0.35) < 0.01
    ]
    assert near(list(case.fold)) == pages.distinct(folds)


def test_bars(made: Corrected) -> None:
    """Each sheet's bars are 100 mm and 4 in times the page's factor: corrected like the rest."""
    with pdfplumber.open(BytesIO(made.data)) as whole:
        for sheet in made.sheets:
            page = whole.pages[sheet.page]
            bars = [line for line in page.lines if abs(line["linewidth"] * MM - 0.25) < 0.01]
            for side, factor in (("width", ACROSS), ("height", DOWN)):
                for length in (100, 101.6):
                    found = [b for b in bars if abs(b[side] * MM - length * factor) < 0.005]
                    assert len(found) == 1, (side, length)


def test_inside_margins(made: Corrected) -> None:
    """Nothing is printed outside the paper's margins, but for half a pen, on any page."""
    width, height = made.case.paper
    least = made.case.margin - 0.001
    for sheet in made.sheets:
        for box, slack in ((sheet.ink, 0.35), (sheet.chars, 0.0)):
            left, bottom, right, top = box
            assert min(left, bottom) >= least - slack
            assert right <= width - least + slack
            assert top <= height - least + slack
    with pdfplumber.open(BytesIO(made.data)) as whole:
        for page in whole.pages:
            assert min(char["x0"] for char in page.chars) * MM >= least
            assert max(char["x1"] for char in page.chars) * MM <= width - least


@pytest.mark.parametrize("case", [LETTER_LEFT, A4_BACK], ids=["landscape", "portrait"])
@pytest.mark.parametrize("factors", [("97/100", "97/100"), ("103/100", "97/100")])
def test_margins_at_the_worst(case: Case, factors: tuple[str, str]) -> None:
    """At 3 % either way text and lines still stay inside, on ticket and sheets."""
    across, down = map(Fraction, factors)
    data = pdf(laid(case, Factors("a", across, down)))
    width, height = case.paper
    with pdfplumber.open(BytesIO(data)) as whole:
        for page in whole.pages:
            drawn = [*page.chars, *page.lines, *page.curves, *page.rects]
            assert min(o["x0"] for o in drawn) * MM >= case.margin - 0.001
            assert min(o["y0"] for o in drawn) * MM >= case.margin - 0.001
            assert max(o["x1"] for o in drawn) * MM <= width - case.margin + 0.001
            assert max(o["y1"] for o in drawn) * MM <= height - case.margin + 0.001


def test_pens_stay(made: Corrected) -> None:
    """A pen's width isn't corrected: the line to cut is as heavy as ever."""
    pens = [circle.pen for sheet in made.sheets for circle in sheet.circles(made.case.hole)]
    # 0.7 times either factor would be off by 0.007.
    assert pytest.approx([0.7] * len(pens), abs=1e-3) == pens
    assert pens


def drawings(data: bytes) -> list[bytes]:
    """What each page's content draws, all text left out."""
    with pikepdf.open(BytesIO(data)) as whole:
        for page in whole.pages:
            page.contents_coalesce()
        return [
            re.sub(rb"BT.*?ET\s*", b"", page.Contents.read_bytes(), flags=re.DOTALL)
            for page in whole.pages
        ]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_factor_of_one(case: Case) -> None:
    """A printer that is true changes no byte of any sheet but the words that name it."""
    one, none = laid(case, Factors("true", Fraction(1), Fraction(1))), laid(case, None)
    first = next(i for i, page in enumerate(none.pages) if "sheet 1 of" in page.label)
    assert len(none.pages) - first > 3
    assert [page.label for page in one.pages[-4:]] == [page.label for page in none.pages[-4:]]
    count = len(none.pages) - first
    assert drawings(pdf(one))[-count:] == drawings(pdf(none))[-count:]
    # And the words left as they are: with the layout of no printer, every byte.
    assert pdf(replace(none, scale=one.scale)) == pdf(none)
