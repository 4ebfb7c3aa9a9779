"""Strips in lanes, and one strip for a pair, measured from their PDFs within 0.01 mm."""

from __future__ import annotations

import pytest

from tests.helpers import pages
from tests.helpers.cases import near
from tests.helpers.taping import Laid, Taped, measured

# W = 40 in = 1016, a = 38.1, b = 76.2, G = 25.4, N = 6: S = (1016 - 38.1 - 76.2 - 152.4)/5
# = 149.86, P = 175.26. A left panel seen from the face has its return at the left: the first
# centre is 76.2 + 12.7 = 88.9. y = 38.1 - 6.35 - 12.7 = 19.05. A lane takes 38.1 + 2 x 6 = 50.1:
# three on letter, landscape, (171.5 + 4)/54.1 = 3.2. (1018 - 12.7)/(243 - 12.7) = 4.4: 5 parts.
LETTER = Laid(
    toml="""
[job]
name = "Heron Point, pantry"
[paper]
orientation = "landscape"
[eyelet]
outside = 1
opening = "1/2"
[band]
height = "1 1/2"
above = "1/4"
[[window]]
panels = "left"
width = 40
return = 3
count = 6
""",
    turned=True,
    lanes=(3, 2),
    length=1016,
    height=38.1,
    first=88.9,
    pitch=175.26,
    count=6,
    y=19.05,
    outside=25.4,
    hole=12.7,
)

# W = 1250, a = 40, b = 85, G = 40, N = 6: S = (1250 - 125 - 240)/5 = 177, P = 217. A right panel
# seen from the back has its return at the left: 85 + 20 = 105. y = 60 - 10 - 20 = 30. A lane takes
# 72, two on A4, landscape: (171 + 4)/76 = 2.3. (1252 - 15)/(266 - 15) = 4.9: 5 parts by
# even steps, one more to keep clear of the eyelets, on 3 sheets.
A4_BACK = Laid(
    toml="""
units = "mm"
[job]
name = "Heron Point, stair window"
[paper]
size = "a4"
orientation = "landscape"
margin = 10
overlap = 15
view = "back"
[eyelet]
outside = 40
opening = 25
[band]
height = 60
above = 10
[[window]]
panels = "right"
width = 1250
leading = 40
return = 85
count = 6
""",
    turned=True,
    lanes=(2, 2, 2),
    length=1250,
    height=60,
    first=105,
    pitch=217,
    count=6,
    y=30,
    outside=40,
    hole=25,
)

# Each panel W = 1000, a = 40, b = 90, G = 50, N = 6: S = (1000 - 130 - 300)/5 = 114, P = 164.
# At either end of the one strip one panel has its leading edge, the other its return: it is
# 2 x 90 + 6 x 50 + 5 x 114 = 1050 long, the first centre 90 + 25 = 115. y = 110 - 30 - 25 = 55.
# A4, portrait: (1052 - 12.7)/(210 - 25.4 - 2.5 - 12.7) = 6.1: 7 parts, a lane taking 122, two of
# them on 297 - 25.4 - 19 = 252.6.
PAIR = Laid(
    toml="""
units = "mm"
[job]
name = "Heron Point, east window"
[paper]
size = "a4"
orientation = "portrait"
strips = "one"
[eyelet]
outside = 50
opening = 30
[band]
height = 110
above = 30
[[window]]
width = 1000
leading = 40
return = 90
count = 6
""",
    turned=False,
    lanes=(2, 2, 2, 1),
    length=1050,
    height=110,
    first=115,
    pitch=164,
    count=6,
    y=55,
    outside=50,
    hole=30,
)


@pytest.fixture(
    scope="module", params=[LETTER, A4_BACK, PAIR], ids=["letter-left", "a4-back", "one-for-a-pair"]
)
def taped(request: pytest.FixtureRequest) -> Taped:
    """Every strip in turn, made and measured once."""
    return measured(request.param)


def test_lanes(taped: Taped) -> None:
    """Each sheet is cut into as many lanes as there is room for, or parts left."""
    assert list(taped.laid.lanes) == [len(pages.lanes(sheet)) for sheet in taped.sheets]


@pytest.mark.parametrize("part", ["outside", "hole", "center-hole"])
def test_circles(taped: Taped, part: str) -> None:
    """Lanes taped by their marks have every eyelet's circles whole, in place and nowhere else."""
    laid = taped.laid
    diameter = {"outside": laid.outside, "hole": laid.hole, "center-hole": 1.5}[part]
    found = [c for sheet in taped.parts for c in sheet.circles(diameter)]
    assert near(laid.centers) == pages.distinct(c.x for c in found)
    assert near([laid.y]) == pages.distinct(c.y for c in found)
    assert near([diameter] * len(found)) == [c.diameter for c in found]


def test_band(taped: Taped) -> None:
    """The band's lines run from end to end of the strip, its height apart."""
    laid = taped.laid
    lines = [
        s
        for part in taped.parts
        for s in part.strokes
        if s.level and not s.dashed and abs(s.pen - 0.35) < 0.01
    ]
    assert near([0, laid.height]) == pages.distinct(s.y1 for s in lines)
    for y in (0, laid.height):
        [run] = pages.covered((s.x1, s.x2) for s in lines if abs(s.y1 - y) < 0.01)
        assert near((0, laid.length)) == run


def uprights(taped: Taped, *, dashed: bool) -> list[float]:
    """Where uprights of half a millimetre stand on the strip: panel ends, dashed the other's."""
    return pages.distinct(
        s.x1
        for part in taped.parts
        for s in part.strokes
        if s.upright and s.dashed is dashed and abs(s.pen - 0.5) < 0.01
    )


def test_ends(taped: Taped) -> None:
    """A panel's ends are solid; on a pair's strip the other panel's are dashed, where they fall.

    The left panel's return end is the strip's left, its leading edge 90 - 40 = 50 mm short of the
    right; the right panel's are the mirror of that.
    """
    length = taped.laid.length
    pair = taped.laid is PAIR
    assert near([0, length - 50 if pair else length]) == uprights(taped, dashed=False)
    assert near([50, length] if pair else []) == uprights(taped, dashed=True)
