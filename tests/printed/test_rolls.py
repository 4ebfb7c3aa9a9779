"""Strips on a roll, measured from their PDFs within 0.01 mm; and the pages as a printer has them.

ISO 32000-1:2008, Annex C: a page's side is at most 14,400 units of 1/72 in.
"""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pikepdf
import pytest

from tests.helpers import pages
from tests.helpers.cases import near
from tests.helpers.made import bare
from tests.helpers.taping import Laid, Taped, cut_apart, measured

MM = 25.4 / 72

# W = 100 in = 2540, a = 38.1, b = 76.2, G = 50.8, N = 14:
# S = (2540 - 38.1 - 76.2 - 711.2)/13 = 1714.5/13, P = 50.8 + S = 2374.9/13. A right panel seen from
# the face leads at the left: 38.1 + 25.4 = 63.5. The band is G + 2 in = 101.6, y half of it.
ONE_PAGE = Laid(
    toml="""
[job]
name = "Heron Point, long gallery"
[paper]
size = "24 in roll"
[eyelet]
outside = 2
opening = 1
[[window]]
panels = "right"
width = 100
return = 3
count = 14
""",
    turned=True,
    lanes=(1,),
    length=2540,
    height=101.6,
    first=63.5,
    pitch=2374.9 / 13,
    count=14,
    y=50.8,
    outside=50.8,
    hole=25.4,
)

# A single panel of 550 in = 13,970, b = 76.2 at both ends, G = 50.8, N = 40:
# S = (13970 - 152.4 - 2032)/39 = 11785.6/39, P = 50.8 + S = 13766.8/39; first 76.2 + 25.4 = 101.6.
# A page of 200 in shows 5080 - 25.4 - 2.5 = 5052.1: (13972 - 12.7)/(5052.1 - 12.7) = 2.8, 3 parts.
# 8 in of paper have 203.2 - 25.4 - 19 = 158.8 for lanes of 101.6 + 12: one. 24 in have 565.2: 4.
LONG = """
[job]
name = "Heron Point, ballroom"
[paper]
size = "{size}"
[eyelet]
outside = 2
opening = 1
[[window]]
panels = "single"
width = 550
return = 3
count = 40
"""


def long(size: str, lanes: tuple[int, ...]) -> Laid:
    """The strip that is longer than a page can be, on a roll."""
    return Laid(
        toml=LONG.format(size=size),
        turned=True,
        lanes=lanes,
        length=13970,
        height=101.6,
        first=101.6,
        pitch=13766.8 / 39,
        count=40,
        y=50.8,
        outside=50.8,
        hole=25.4,
    )


PAGES = long("8 in roll", (1, 1, 1))
LANES = long("24 in roll", (3,))


@pytest.fixture(
    scope="module", params=[ONE_PAGE, PAGES, LANES], ids=["one-page", "three-pages", "three-lanes"]
)
def taped(request: pytest.FixtureRequest) -> Taped:
    """Every strip in turn, made and measured once."""
    return measured(request.param)


def test_pages(taped: Taped) -> None:
    """The strip takes as many pages, and sheets of each, as worked; nothing else is in its PDF."""
    with pikepdf.open(BytesIO(taped.data)) as pdf:
        assert len(taped.laid.lanes) == len(pdf.pages)
    assert list(taped.laid.lanes) == [len(cut_apart(sheet)) for sheet in taped.sheets]


@pytest.mark.parametrize("part", ["outside", "hole", "center-hole"])
def test_circles(taped: Taped, part: str) -> None:
    """Every eyelet's circles are whole, in place on the taped strip, and nowhere else."""
    laid = taped.laid
    diameter = {"outside": laid.outside, "hole": laid.hole, "center-hole": 1.5}[part]
    found = [c for sheet in taped.parts for c in sheet.circles(diameter)]
    assert near(laid.centers) == pages.distinct(c.x for c in found)
    assert near([laid.y]) == pages.distinct(c.y for c in found)
    assert near([diameter] * len(found)) == [c.diameter for c in found]


def test_ends(taped: Taped) -> None:
    """The panel's ends are its width apart."""
    found = pages.distinct(
        s.x1
        for part in taped.parts
        for s in part.strokes
        if s.upright and not s.dashed and abs(s.pen - 0.5) < 0.01
    )
    assert near([0, taped.laid.length]) == found


def boxes(data: bytes) -> set[tuple[float, ...]]:
    """The pages' sizes in units; nothing else may scale or turn them."""
    found = set()
    with pikepdf.open(BytesIO(data)) as pdf:
        for page in pdf.pages:
            assert "/UserUnit" not in page.obj
            assert "/Rotate" not in page.obj
            found.add(tuple(float(side) for side in page.mediabox))
    return found


def test_media_box(taped: Taped) -> None:
    """Pages are alike and upright, as wide as the roll and no longer than 14,400 units.

    One page is as long as its strip with 1 mm over at either end and the margins, with the bars
    under the strip: 2540 + 2 + 25.4 = 2567.4.
    """
    [(left, bottom, right, top)] = boxes(taped.data)
    assert (left, bottom) == (0, 0)
    assert right <= top <= 14_400
    assert near(203.2 if taped.laid is PAGES else 609.6) == right * MM
    if taped.laid is ONE_PAGE:
        assert near(2567.4) == top * MM


def test_no_longer_than_needed() -> None:
    """A page of a long strip is no longer than its longest part: the laps' lines say how long."""
    found = measured(PAGES)
    [(_, _, _, top)] = boxes(found.data)
    longest = 0.0
    for sheet in found.sheets:
        band = [s for s in sheet.strokes if s.level and abs(s.pen - 0.35) < 0.01]
        longest = max(longest, max(s.x2 for s in band) - min(s.x1 for s in band))
    # The first and the last part show 1 mm past the strip, those between don't.
    extra = top * MM - longest - 25.4 - 2.5
    assert -0.01 < extra < 1.01


@pytest.mark.parametrize(
    ("units", "size"), [("in", (612, 792)), ("mm", (210 / MM, 297 / MM))], ids=["letter", "a4"]
)
def test_ticket_beside(units: str, size: tuple[float, float]) -> None:
    """The ticket is a PDF of its own, on letter or A4 by the job's units, with no sheet in it."""
    strips, ticket = bare(f'units = "{units}"{ONE_PAGE.toml}')
    [box] = boxes(ticket)
    assert pytest.approx((0, 0, *size), abs=0.01) == box
    assert pages.sheets(ticket, turned=False) == []
    assert boxes(strips).isdisjoint({box})


def test_ticket_has_assembly() -> None:
    """The assembly of a strip in parts stands with the ticket, not on the roll."""
    strips, ticket = bare(PAGES.toml)
    texts = []
    for data in (strips, ticket):
        with pdfplumber.open(BytesIO(data)) as pdf:
            texts.append(" ".join(page.extract_text() for page in pdf.pages))
    assert "ASSEMBLY" not in texts[0]
    assert "ASSEMBLY" in texts[1]
    assert "Heron Point, ballroom" in texts[1]
