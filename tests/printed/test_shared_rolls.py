"""Strips side by side on a roll: cut apart as a workroom would, taped, measured from the PDF.

The reader knows nothing of the package. What each strip must measure is worked here from its job:
the space S between flanges is (W - a - b - N x G)/(N - 1), centres are G + S apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from io import BytesIO
from itertools import combinations

import pikepdf
import pytest

import drapetemplate
from drapetemplate.job.factors import Factors
from drapetemplate.report.plan_json import as_json
from tests.helpers import pages
from tests.helpers.cases import near
from tests.helpers.made import bare, made
from tests.helpers.pages import Box, Sheet

MM = 25.4 / 72


LETTERS = "ACDEGH"
"""What strips are called in a job whose gaps are F and B."""


@dataclass(frozen=True)
class OnRoll:
    """One strip in mm: its window and panel, how it lies, and of what its holes' places come."""

    window: str
    panel: str
    width: float
    leading: float
    back: float
    outside: float
    count: int
    leads_right: bool
    sheets: int = 1

    @property
    def centers(self) -> list[float]:
        """Every hole's centre from the strip's left end, as it is seen."""
        flanges = self.count * self.outside
        space = (self.width - self.leading - self.back - flanges) / (self.count - 1)
        first = self.leading + self.outside / 2
        measures = [first + n * (self.outside + space) for n in range(self.count)]
        return sorted(self.width - x if self.leads_right else x for x in measures)


@dataclass(frozen=True)
class Case:
    """A job on a roll: its strips A, C ..., its pages' size in mm, how many, its eyelets.

    `y` is the holes' height over the band's lower edge.
    """

    toml: str
    strips: tuple[OnRoll, ...]
    page: tuple[float, float]
    count: int
    hole: float
    y: float
    height: float
    seen: str = "FACE"
    margin: float = 12.7


# Two strips of 100 in and 2 mm: 2542 + 25.4 = 2567.4 of the roll. Band 2 + 2 = 4 in = 101.6, with
# 6 mm above and below 113.6, and 11 mm of heading, 124.6; two and the cut are 253.2. The roll has
# 609.6 - 25.4 - 106 = 478.2 over the bars.
INCH_PAIR = Case(
    toml="""
[job]
name = "Heron Point, long gallery"
[paper]
size = "24 in roll"
strips = "each"
[eyelet]
outside = 2
opening = 1
hole = 1
[[window]]
name = "North"
width = 100
return = 3
count = 14
""",
    strips=(
        OnRoll("North", "LEFT", 2540, 38.1, 76.2, 50.8, 14, leads_right=True),
        OnRoll("North", "RIGHT", 2540, 38.1, 76.2, 50.8, 14, leads_right=False),
    ),
    page=(609.6, 2567.4),
    count=1,
    hole=25.4,
    y=50.8,
    height=101.6,
)

# 8 in of band, 203.2 + 12 + 11 = 226.2, and 304.8 - 25.4 - 11 = 268.4: one fits across. Two of 60
# in lie end to end: 2 x 1526 + 4, and 25.4 and the column of 2.5: 3083.9.
ONE_ACROSS = Case(
    toml=INCH_PAIR.toml.replace("24 in roll", "12 in roll")
    .replace("width = 100", "width = 60")
    .replace("count = 14", "count = 8")
    .replace("[[window]]", "[band]\nheight = 8\nabove = 3\n[[window]]"),
    strips=(
        OnRoll("North", "LEFT", 1524, 38.1, 76.2, 50.8, 8, leads_right=True),
        OnRoll("North", "RIGHT", 1524, 38.1, 76.2, 50.8, 8, leads_right=False),
    ),
    page=(304.8, 3083.9),
    count=1,
    hole=25.4,
    # 8 - 3 - 1 in from below.
    y=101.6,
    height=203.2,
)

# Seen from the back a left panel leads at the left. The band is 117, with 12 mm of marks 129, with
# 11 of heading 140; 610 - 25.4 - 11 = 573.6 across, and (573.6 + 4)/144 = 4.01: four lanes. Over
# bars below, 478.6, three. Two strips each of 1402, 2302 and 2802 in four lanes: with one of 2802
# in each of two, the others take 1402 + 4 + 2302 = 3708 in each of two; any other way has a lane
# of 4204 or more, or of three. With 25.4 and the column of 2.5 that is 3735.9; two pages are 2 x
# 2829.9 at least.
METRIC_THREE = Case(
    toml="""
units = "mm"
[job]
name = "Heron Point, three bays"
[paper]
size = "610 mm roll"
strips = "each"
view = "back"
margin = 12.7
[eyelet]
outside = 66
opening = 40
hole = 43
[band]
height = 117
above = 25
[[window]]
name = "East bay"
width = 1400
leading = 38
return = 75
count = 8
[[window]]
name = "Middle bay"
width = 2300
leading = 38
return = 75
count = 12
[[window]]
name = "West bay"
width = 2800
leading = 38
return = 75
count = 16
""",
    strips=tuple(
        OnRoll(window, panel, width, 38, 75, 66, count, leads_right=panel == "RIGHT")
        for window, width, count in (
            ("East bay", 1400, 8),
            ("Middle bay", 2300, 12),
            ("West bay", 2800, 16),
        )
        for panel in ("LEFT", "RIGHT")
    ),
    page=(610, 3735.9),
    count=1,
    hole=43,
    y=117 - 25 - 33,
    height=117,
    seen="BACK",
)

# A single panel of 550 in takes three parts, whose laps add 12.7 twice; with it one of 100 in, in
# four lanes of a 36 in roll: 914.4 - 25.4 - 106 = 783 over the bars, (783 + 4)/128.6 = 6.1.
PARTS = Case(
    toml="""
[job]
name = "Heron Point, ballroom"
[paper]
size = "36 in roll"
joins = "even"
[eyelet]
outside = 2
opening = 1
hole = 1
[[window]]
name = "Ballroom"
panels = "single"
width = 550
return = 3
count = 40
[[window]]
name = "Alcove"
panels = "right"
width = 100
return = 3
count = 14
""",
    strips=(
        OnRoll("Ballroom", "SINGLE", 13970, 76.2, 76.2, 50.8, 40, leads_right=False, sheets=3),
        OnRoll("Alcove", "RIGHT", 2540, 38.1, 76.2, 50.8, 14, leads_right=False),
    ),
    # (13972 + 2 x 12.7)/3 = 4665.8, and the margins.
    page=(914.4, 4665.8 + 25.4),
    count=1,
    hole=25.4,
    y=50.8,
    height=101.6,
)

CASES = {"24": INCH_PAIR, "12": ONE_ACROSS, "610": METRIC_THREE, "36": PARTS}


@dataclass(frozen=True)
class CutApart:
    """A case's PDF, its pages as printed, and each sheet cut out of them, by its name."""

    case: Case
    data: bytes
    printed: list[Sheet]
    cut: dict[str, Sheet]

    def strip(self, number: int) -> Sheet:
        """All of a strip as it is taped, its band's lower left corner at (0, 0)."""
        letter = LETTERS[number]
        parts = [self.cut[f"{letter}{n + 1}"] for n in range(self.case.strips[number].sheets)]
        band = [s for s in parts[0].strokes if s.level and abs(s.pen - 0.35) < 0.01]
        corner = (min(s.x1 for s in band), min(s.y1 for s in band))
        laid = pages.taped(parts, len(parts), corner)
        every = laid[0]
        return Sheet(
            every.page,
            every.number,
            tuple(c for part in laid for c in part.rounds),
            tuple(s for part in laid for s in part.strokes),
            tuple(w for part in laid for w in part.words),
            every.ink,
            every.chars,
        )


@cache
def cut_apart(key: str) -> CutApart:
    """A case made once, and cut apart."""
    case = CASES[key]
    data = bare(case.toml)[0]
    printed = pages.sheets(data, turned=True)
    cut: dict[str, Sheet] = {}
    for page in printed:
        for letter, piece in pages.sheets_cut(page):
            name = f"{letter}{piece.number}"
            assert name not in cut
            cut[name] = piece
    return CutApart(case, data, printed, cut)


@pytest.fixture(params=list(CASES))
def shared(request: pytest.FixtureRequest) -> CutApart:
    """Every case in turn."""
    return cut_apart(request.param)


def test_pages(shared: CutApart) -> None:
    """As many pages as worked, all as wide as the roll and as long as worked."""
    with pikepdf.open(BytesIO(shared.data)) as pdf:
        boxes = {tuple(float(side) * MM for side in page.mediabox) for page in pdf.pages}
        assert len(pdf.pages) == shared.case.count
    [(left, low, right, high)] = boxes
    assert (left, low) == (0, 0)
    assert near(shared.case.page) == (right, high)


def test_every_sheet_says_whose_it_is(shared: CutApart) -> None:
    """Cut off, each sheet has its name, panel, side, window and TOP, in letters of 6 mm."""
    names = [
        f"{letter}{n + 1}"
        for letter, strip in zip(LETTERS, shared.case.strips, strict=False)
        for n in range(strip.sheets)
    ]
    assert sorted(shared.cut) == sorted(names)
    for name, piece in shared.cut.items():
        strip = shared.case.strips[LETTERS.index(name[0])]
        [title] = [w for w in piece.words if w.text.startswith("Sheet ")]
        about = f"{strip.sheets} · {strip.panel} panel · {shared.case.seen} · {strip.window}"
        assert title.text == f"Sheet {name} of {about}"
        assert title.size == pytest.approx(6, abs=0.01)
        assert [w for w in piece.words if "TOP" in w.text]
        others = {other.window for other in shared.case.strips} - {strip.window}
        assert not [w for w in piece.words if any(other in w.text for other in others)]


@pytest.mark.parametrize("part", ["outside", "hole", "center-hole"])
def test_circles(shared: CutApart, part: str) -> None:
    """Every strip's circles are whole, in place on it, and nowhere else."""
    for number, strip in enumerate(shared.case.strips):
        diameter = {"outside": strip.outside, "hole": shared.case.hole, "center-hole": 1.5}[part]
        found = shared.strip(number).circles(diameter)
        assert near(strip.centers) == pages.distinct(c.x for c in found)
        assert near([shared.case.y]) == pages.distinct(c.y for c in found)


def test_ends_and_band(shared: CutApart) -> None:
    """Each panel's ends are its width apart, the band's edges its height."""
    for number, strip in enumerate(shared.case.strips):
        taped = shared.strip(number)
        ends = [s.x1 for s in taped.strokes if s.upright and abs(s.pen - 0.5) < 0.01]
        assert near([0, strip.width]) == pages.distinct(ends)
        edges = [s.y1 for s in taped.strokes if s.level and abs(s.pen - 0.35) < 0.01]
        assert near([0, shared.case.height]) == pages.distinct(edges)


def test_numbers_and_measures(shared: CutApart) -> None:
    """Holes are numbered from the leading edge on every strip, each over its own hole."""
    for number, strip in enumerate(shared.case.strips):
        words = shared.strip(number).words
        order = strip.centers[:: -1 if strip.leads_right else 1]
        for n, center in enumerate(order, 1):
            near_it = [w for w in words if w.text == str(n) and abs(w.middle - center) < 0.5]
            assert near_it, (strip, n)


def extents(sheet: Sheet) -> list[Box]:
    """The box of everything on a page or a piece of it."""
    found = [
        (c.x - c.diameter / 2, c.y - c.diameter / 2, c.x + c.diameter / 2, c.y + c.diameter / 2)
        for c in sheet.rounds
    ]
    for s in sheet.strokes:
        (left, right), (low, high) = sorted((s.x1, s.x2)), sorted((s.y1, s.y2))
        found.append((left, low, right, high))
    for word in sheet.words:
        # A letter stands 0.8 of its size over its baseline at most, and a quarter below it.
        over, under = 0.8 * word.size, word.size / 4
        if word.level:
            found.append((word.x, word.y - under, word.end, word.y + over))
        else:
            found.append((word.x - over, word.y, word.x + under, word.end))
    return found


def test_apart(shared: CutApart) -> None:
    """No mark of a sheet comes within 1 mm of the middle of where it is cut from another."""
    for page in shared.printed:
        for cell in pages.cells(page):
            for left, low, right, high in extents(pages.cut_out(page, cell)):
                assert cell[0] + 1 < left
                assert right < cell[2] - 1
                assert cell[1] + 1 < low
                assert high < cell[3] - 1


def test_strips_lie_apart(shared: CutApart) -> None:
    """No two sheets of a page overlap: their bands' boxes, laps and all, are apart."""
    boxes = []
    for piece in shared.cut.values():
        band = [s for s in piece.strokes if s.level and abs(s.pen - 0.35) < 0.01]
        own = (
            min(s.x1 for s in band),
            min(s.y1 for s in band) - 6,
            max(s.x2 for s in band),
            max(s.y1 for s in band) + 6,
        )
        boxes.append((piece.page, own))
    for (page, a), (other, b) in combinations(boxes, 2):
        apart = a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]
        assert page != other or apart


def test_bars_once_where_no_sheet_is(shared: CutApart) -> None:
    """Each page has 100 mm and 4 in across and down once, under the sheets or beside them."""
    for page in shared.printed:
        bars = [
            s
            for s in page.strokes
            if abs(s.pen - 0.25) < 0.01 and (near(100) == s.length or near(101.6) == s.length)
        ]
        level = sorted(s.length for s in bars if s.level)
        upright = sorted(s.length for s in bars if s.upright)
        assert near([100, 101.6]) == level
        assert near([100, 101.6]) == upright
        band = [s for s in page.strokes if s.level and abs(s.pen - 0.35) < 0.01]
        lowest = min(s.y1 for s in band) - 6
        for bar in bars:
            under = max(bar.y1, bar.y2) < lowest
            assert under or bar.x1 > max(s.x2 for s in band)


def test_margin(shared: CutApart) -> None:
    """No ink is nearer the edge than the margin, but for half a line's width."""
    wide, long = shared.case.page
    for page in shared.printed:
        for left, low, right, high in (page.ink, page.chars):
            assert min(left, low) > shared.case.margin - 0.3
            assert right < wide - shared.case.margin + 0.3
            assert high < long - shared.case.margin + 0.3


FACTORS = Factors("plotter", Fraction(1004, 1000), Fraction(997, 1000))
WINDOWS = """
[eyelet]
outside = 2
opening = 1
hole = 1
[[window]]
name = "North"
width = 70
return = 3
count = 10
quantity = 2
[[window]]
name = "South"
width = 230
panels = "right"
return = 3
count = 30
"""
TALL = "[band]\nheight = 12\nabove = 4"


@pytest.mark.parametrize("printer", [None, FACTORS], ids=["", "corrected"])
@pytest.mark.parametrize(
    ("size", "paper", "band"),
    [
        ("24 in roll", 'strips = "one"', ""),
        ("42 in roll", 'strips = "each"\nview = "back"', ""),
        ("24 in roll", 'style = "stepping"', ""),
        ("12 in roll", 'strips = "each"\njoins = "even"', TALL),
        ("14 in roll", 'strips = "one"\nmargin = "3/4"', TALL),
        ("7 in roll", 'strips = "each"', ""),
    ],
    ids=["one", "back", "stepping", "rows", "one-row", "narrow"],
)
def test_any_way(size: str, paper: str, band: str, printer: Factors | None) -> None:
    """However strips are printed each sheet is cut out whole with its name; the roll is as told."""
    toml = f'[job]\nname = "Heron Point"\n[paper]\nsize = "{size}"\n{paper}\n{band}{WINDOWS}'
    job = drapetemplate.read_job(toml.encode())
    told = as_json(job, drapetemplate.plan_job(job), printer)
    pdf = made(toml, printer=printer)[0]
    assert [str(flaw) for flaw in drapetemplate.measure_pdf(pdf).flaws] == []
    scale = (1.0, 1.0) if printer is None else (float(printer.across), float(printer.down))
    printed = pages.sheets(pdf, turned=True, scale=scale)
    names = []
    for page in printed:
        for cell in pages.cells(page):
            for left, low, right, high in extents(pages.cut_out(page, cell)):
                assert cell[0] + 1 < left
                assert right < cell[2] - 1
                assert cell[1] + 1 < low
                assert high < cell[3] - 1
        names += [(letter, piece.number) for letter, piece in pages.sheets_cut(page)]
    assert len(set(names)) == len(names) == told["paper"]["sheets"]
    assert len(printed) == told["paper"]["pages"]
    with pikepdf.open(BytesIO(pdf)) as opened:
        length = sum(float(page.mediabox[3]) for page in opened.pages) * MM
    assert length == pytest.approx(told["paper"]["roll_mm"], abs=0.01)


STEPPED = """
[job]
name = "Heron Point, long gallery"
number = "204"
[paper]
size = "8 in roll"
style = "stepping"
[eyelet]
outside = 1.5
opening = 0.8
hole = 0.8
[band]
height = 5.5
above = 2
[[window]]
name = "North window of the long gallery"
width = 40
count = 12
return = 3
"""


def test_short_sheets_on_a_narrow_roll() -> None:
    """Where the band leaves no room for a map under it, a short sheet's title is still large.

    The roll's 203.2 mm less margins and 11 mm for the bars are 166.8, of which the band and its
    marks take 151.7: title and facts, one of which names the thin circle, have 15.1. A title of
    3.6 mm has capitals of 2.6 mm.
    """
    [page] = pages.sheets(bare(STEPPED)[0], turned=True)
    cut = pages.sheets_cut(page)
    assert [letter for letter, _ in cut] == ["D", "E", "G", "H", "J", "K"]
    for _, piece in cut:
        [title] = [w for w in piece.words if w.text.startswith("Sheet ")]
        assert title.size == pytest.approx(3.6, abs=0.01)


def test_registration_where_a_strip_goes_on() -> None:
    """A strip's parts share two marks at each join, and every other sheet has none."""
    shared = cut_apart("36")
    counts = {name: len(piece.circles(4.5)) for name, piece in shared.cut.items()}
    assert counts == {"A1": 2, "A2": 4, "A3": 2, "C1": 0}
