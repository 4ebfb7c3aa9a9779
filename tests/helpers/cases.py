"""Three jobs whose strips are worked by hand, made into PDFs and measured."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tests.helpers import pages
from tests.helpers.made import bare
from tests.helpers.pages import Sheet


def near(value: object) -> object:
    """Within 0.01 mm."""
    return pytest.approx(value, abs=0.01, rel=0)


@dataclass(frozen=True)
class Case:
    """A job and what its strip must measure: centres from the strip's left end as it is seen."""

    toml: str
    turned: bool
    paper: tuple[float, float]
    margin: float
    columns: int
    width: float
    height: float
    outside: float
    hole: float
    y: float
    centers: tuple[float, ...]
    numbers: tuple[str, ...]
    measures: tuple[str, ...]
    letters: str
    ends: tuple[str, str]
    fold: tuple[float, ...]

    @property
    def pitch(self) -> float:
        """Centre to centre."""
        return self.centers[1] - self.centers[0]


# W = 40 in = 1016 mm, a = 1 1/2 in = 38.1, b = 3 in = 76.2, G = 2 in = 50.8, N = 6:
# S = (1016 - 38.1 - 76.2 - 6 x 50.8)/5 = 596.9/5 = 119.38 (4.7 in), P = 170.18 (6.7 in).
# From the leading edge: 38.1 + 25.4 = 63.5, then every 170.18; in inches 2.5, 9.2, 15.9, 22.6,
# 29.3, 36. A left panel's leading edge is at the right: x = 1016 - that.
# 9.2 = 9 3.2/16, 15.9 = 15 14.4/16, 22.6 = 22 9.6/16, 29.3 = 29 4.8/16.
LETTER_LEFT = Case(
    toml="""
units = "in"
[job]
name = "Heron Point, upper landing"
[paper]
size = "letter"
orientation = "landscape"
[eyelet]
outside = 2
opening = 1
hole = "1 1/16"
[[window]]
panels = "left"
width = 40
return = 3
count = 6
""",
    turned=True,
    paper=(215.9, 279.4),
    margin=12.7,
    columns=5,  # (1018 - 12.7)/(279.4 - 25.4 - 2.5 - 12.7) = 4.2
    width=1016,
    height=101.6,  # outside + 2 in
    outside=50.8,
    hole=26.9875,  # 17/16 in
    y=50.8,  # centred
    centers=(101.6, 271.78, 441.96, 612.14, 782.32, 952.5),
    numbers=("6", "5", "4", "3", "2", "1"),
    measures=(
        "36 in",
        "≈ 29 5/16 in",
        "≈ 22 5/8 in",
        "≈ 15 7/8 in",
        "≈ 9 3/16 in",
        "2 1/2 in",
    ),
    letters="FBFBF",
    ends=("RETURN EDGE", "LEADING EDGE"),
    fold=(76.2,),
)

# W = 1250, a = 40, b = 85, G = 66, N = 6: S = (1250 - 40 - 85 - 396)/5 = 729/5 = 145.8,
# P = 211.8. From the leading edge 40 + 33 = 73, 284.8, 496.6, 708.4, 920.2, 1132. A right panel
# leads at its left; seen from the back that is the right: x = 1250 - that. The eyelet's top is
# 24 below the panel's: y = 130 - 24 - 33 = 73.
A4_BACK = Case(
    toml="""
units = "mm"
[job]
name = "Heron Point, lower landing"
[paper]
size = "a4"
orientation = "portrait"
margin = 10
overlap = 15
view = "back"
[eyelet]
outside = 66
opening = 40
[band]
height = 130
above = 24
[[window]]
panels = "right"
width = 1250
leading = 40
return = 85
count = 6
""",
    turned=False,
    paper=(210, 297),
    margin=10,
    # The bars down have 297 - 20 - 8 - 142 = 127 mm under the band, so that the strip has the whole
    # width: (1252 - 15)/(210 - 20 - 15) = 7.07, 8 sheets.
    columns=8,
    width=1250,
    height=130,
    outside=66,
    hole=40,
    y=73,
    centers=(118, 329.8, 541.6, 753.4, 965.2, 1177),
    numbers=("6", "5", "4", "3", "2", "1"),
    measures=("1132 mm", "920.2 mm", "708.4 mm", "496.6 mm", "284.8 mm", "73 mm"),
    letters="FBFBF",
    ends=("RETURN EDGE", "LEADING EDGE"),
    fold=(85,),
)

# A single panel, b = 60 at both ends, W = 700, G = 66, N = 4: S = (700 - 120 - 264)/3 = 316/3,
# P = 514/3. From the left edge 93, 93 + 514/3 = 793/3, 1307/3, 607. A 250 mm band on a sheet
# 210 mm across takes two rows. y = 250 - 40 - 33 = 177.
A4_ROWS = Case(
    toml="""
units = "mm"
[job]
name = "Heron Point, boat store"
[paper]
size = "a4"
orientation = "landscape"
margin = 10
overlap = 15
[eyelet]
outside = 66
opening = 40
[band]
height = 250
above = 40
[[window]]
panels = "single"
width = 700
return = 60
count = 4
""",
    turned=True,
    paper=(210, 297),
    margin=10,
    columns=3,  # (702 - 15)/(297 - 20 - 2.5 - 15) = 2.6
    width=700,
    height=250,
    outside=66,
    hole=40,
    y=177,
    centers=(93, 793 / 3, 1307 / 3, 607),
    numbers=("1", "2", "3", "4"),
    measures=("93 mm", "264.3 mm", "435.7 mm", "607 mm"),
    letters="FBF",
    ends=("LEFT RETURN EDGE", "RIGHT RETURN EDGE"),
    fold=(60, 640),
)

CASES = {"letter-left": LETTER_LEFT, "a4-back": A4_BACK, "a4-rows": A4_ROWS}


@dataclass(frozen=True)
class Printed:
    """A case made and measured: its sheets one by one, and taped together."""

    case: Case
    data: bytes
    sheets: list[Sheet]
    taped: list[Sheet]


def measured(case: Case) -> Printed:
    """A case made and measured, its sheets taped from the panel's lower left corner."""
    [data] = bare(case.toml)
    found = pages.sheets(data, turned=case.turned)
    # The first sheet shows the strip's left end, the only uprights half a millimetre wide; its
    # top is the band's upper line, which the first sheet shows in every case.
    ends = [s for s in found[0].strokes if s.upright and abs(s.pen - 0.5) < 0.01]
    corner = (min(s.x1 for s in ends), max(s.y2 for s in ends) - case.height)
    return Printed(case, data, found, pages.taped(found, case.columns, corner))
