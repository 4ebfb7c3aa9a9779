"""Jobs from few words, a typeface of fixed widths, and sheets put back on their strip."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import reject
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.document.job_document import documents
from drapetemplate.document.model import Page
from drapetemplate.drawing.marks import Line, Mark, Number, Polygon, Text
from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.planning.model import PanelPlan
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.laid_paper import laid_paper
from drapetemplate.sheets.sheet import Sheet, SheetSet, StripPart, sheet_set
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.sheets.tiling import tile
from drapetemplate.template.panel_drawing import template
from drapetemplate.template.strip import Template
from tests.helpers.jobfiles import mixed


class FixedWidths:
    """Every character as wide as the others, so that a test can work a width out by hand."""

    def drawable(self, text: str) -> str:
        """Text as it is: this font has everything."""
        return text

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """A fixed part of the size for each character."""
        return len(text) * size * (0.7 if bold else 0.6)


FIXED = FixedWidths()


def _said(inches: str) -> str:
    """A measure as a job file takes it: a fraction of 1 or more as a mixed number."""
    return inches if " " in inches else mixed(Fraction(inches))


@dataclass(frozen=True)
class Spec:
    """What the tests vary of a job; lengths in inches, as text or whole sixteenths said so."""

    width: str = "40"
    outside: str = "2"
    hole: str = "1 1/16"
    count: str = "6"
    panels: str = "left"
    leading: str = "1 1/2"
    return_: str = "3"
    band: str = "4"
    above: str = "1"
    size: str = "letter"
    orientation: str = "auto"
    margin: str = "1/2"
    overlap: str = "1/2"
    joins: str = "clear"
    view: str = "face"
    hung: str = "pole"
    units: str = "in"
    letters: str = '["F", "B"]'
    strips: str = "each"
    fabric: str = ""

    def toml(self) -> str:
        """The job file that says it."""
        count = self.count if self.count.isdigit() else f'"{self.count}"'
        leading = "" if self.panels == "single" else f'leading = "{_said(self.leading)} in"'
        return f"""
units = "{self.units}"
[job]
name = "Heron Point, upper landing"
[paper]
size = "{self.size}"
orientation = "{self.orientation}"
margin = "{_said(self.margin)} in"
overlap = "{_said(self.overlap)} in"
joins = "{self.joins}"
view = "{self.view}"
letters = {self.letters}
strips = "{self.strips}"
{f"[fabric]{chr(10)}width = {chr(34)}{_said(self.fabric)} in{chr(34)}" if self.fabric else ""}
[eyelet]
outside = "{_said(self.outside)} in"
opening = "{_said(self.hole)} in"
hole = "{_said(self.hole)} in"
hung = "{self.hung}"
[band]
height = "{_said(self.band)} in"
above = "{_said(self.above)} in"
[[window]]
panels = "{self.panels}"
width = "{_said(self.width)} in"
{leading}
return = "{_said(self.return_)} in"
count = {count}
"""

    def job(self) -> Job:
        """The job, read."""
        return read_job(self.toml().encode(), "job.toml")

    def panel(self) -> PanelPlan:
        """The plan of the first panel."""
        return plan(self.job()).windows[0].panels[0]

    def template(self, typeface: drawing.Typeface = FIXED) -> Template:
        """The first panel's strip."""
        job = self.job()
        window = plan(job).windows[0]
        return template(job, window, window.panels[0], typeface)

    def sheets(self, typeface: drawing.Typeface = FIXED) -> SheetSet:
        """The first panel's strip on its sheets."""
        job, whole = self.job(), self.template(typeface)
        paper = laid_paper(job.paper, None, job.units)
        return sheet_set(whole, job, paper, tile(whole.strip, paper), typeface)

    def every(self, typeface: drawing.Typeface = FIXED) -> list[SheetSet]:
        """Every strip on its sheets, as the document has them: shared, and on a roll's page."""
        job = self.job()
        found = strip_list(job, plan(job).windows, None)
        return [
            sheet_set(strip.template(job, typeface), job, found.paper, tiling, typeface)
            for strip in found.strips
            for tiling in strip.tilings
        ]

    def but(self, **changes: str) -> Spec:
        """The same with some things changed."""
        return replace(self, **changes)


def sheet_pages(job: Job) -> list[Page]:
    """Every page of a job that its sheets are on, in the shipped font."""
    every = documents(job, plan(job), typeface())
    return [page for one in every for page in one.pages if "sheet" in page.label]


def parts(found: SheetSet) -> list[StripPart]:
    """Every part of a strip, sheet by sheet, lane by lane."""
    return [part for sheet in found.sheets for part in sheet.parts]


def read_back(found: SheetSet, part: StripPart) -> list[Mark]:
    """A part's marks moved back into the strip's frame."""
    dx, dy = place(found, part)
    return [drawing.moved(mark, -dx, -dy) for mark in as_read(found, part)]


def place(found: SheetSet, part: StripPart) -> tuple[Fraction, Fraction]:
    """Where the strip's origin lies on the sheet that has this part."""
    frame, tiling = found.tiling.frame, found.tiling
    left, bottom, _, top = part.shown
    high, lanes = top - bottom, tiling.lanes
    spare = frame.strip_height - lanes * high - (lanes - 1) * 4 if tiling.rows == 1 else 0
    spare -= min(spare, 10)  # the heading takes so much first
    lane = part.column % lanes
    low = frame.strip_bottom + Fraction(spare) / 2 + (lanes - 1 - lane) * (high + 4)
    return frame.margin - left, low - bottom


def as_read(found: SheetSet, sheet: Sheet | StripPart) -> list[Mark]:
    """A sheet's or a part's marks as a reader sees them, a landscape sheet turned upright."""
    if found.tiling.orientation == "portrait":
        return list(sheet.marks)
    return [turned_back(mark, found.tiling.frame.across) for mark in sheet.marks]


def turned_back(mark: Mark, height: Number) -> Mark:
    """The inverse of `drawing.turned`, worked here on its own: (px, py) was (py, height - px)."""
    match mark:
        case Line():
            return replace(mark, x1=mark.y1, y1=height - mark.x1, x2=mark.y2, y2=height - mark.x2)
        case Polygon():
            return replace(mark, points=tuple((y, height - x) for x, y in mark.points))
        case Text():
            return replace(mark, x=mark.y, y=height - mark.x, angle=mark.angle - 90)
        case drawing.Arc():
            return replace(mark, x=mark.y, y=height - mark.x, start=mark.start - 90)
        case _:
            return replace(mark, x=mark.y, y=height - mark.x)


def sixteenths(low: str, high: str) -> st.SearchStrategy[str]:
    """Text of a length in inches, in sixteenths, from `low` to `high` inches."""
    least, most = (int(Fraction(x) * 16) for x in (low, high))
    return st.integers(least, most).map(
        lambda n: f"{n // 16} {n % 16}/16" if n % 16 else str(n // 16)
    )


def inches(text: str) -> Fraction:
    """A length in inches, from text such as "2 5/8"."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


@st.composite
def specs(draw: st.DrawFn, *, widest: int = 100) -> Spec:
    """Jobs that can be made, from a pair of eyelets to many, sensible or not."""
    outside = draw(sixteenths("1/2", "4"))
    band = draw(sixteenths("1/2", "18").filter(lambda h: inches(h) >= inches(outside)))
    spare = int((inches(band) - inches(outside)) * 16)
    above = Fraction(draw(st.integers(0, spare)), 16)
    hole = inches(outside) * draw(st.integers(4, 15)) / 16
    overlap = Fraction(draw(st.integers(4, 16)), 16)
    spec = Spec(
        width=draw(sixteenths("8", str(widest))),
        outside=outside,
        hole=str(hole),
        count=draw(st.sampled_from(["auto", "2", "4", "6", "8", "12", "20"])),
        panels=draw(st.sampled_from(["left", "right", "single"])),
        leading=draw(sixteenths("0", "5")),
        return_=draw(sixteenths("0", "5")),
        band=band,
        above=str(above),
        size=draw(st.sampled_from(["letter", "a4", "legal", "tabloid", "7 x 8 in"])),
        orientation=draw(st.sampled_from(["auto", "portrait", "landscape"])),
        margin=draw(st.sampled_from(["1/4", "3/8", "1/2"])),
        overlap=str(overlap),
        joins=draw(st.sampled_from(["clear", "even"])),
        view=draw(st.sampled_from(["face", "back"])),
        hung=draw(st.sampled_from(["pole", "pole", "hooks"])),
        units=draw(st.sampled_from(["in", "mm", "cm"])),
    )
    try:
        spec.panel()
    except JobError:
        reject()  # the panel is too narrow for its eyelets
    return spec
