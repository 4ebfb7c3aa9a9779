"""The check bars on a sheet with all else that is on it, and how many sheets their column costs."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, cos, radians, sin
from pathlib import Path

import pytest
from hypothesis import example, given, reject
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.marks import Arc, Line, Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import DrapeError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list
from tests.helpers.jobfiles import job_of
from tests.helpers.searching import searched
from tests.helpers.strips import Spec, sheet_pages, specs

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
BARS = (Role.BAR_ACROSS_MM, Role.BAR_DOWN_MM, Role.BAR_ACROSS_IN, Role.BAR_DOWN_IN)
OF_BARS = {*BARS, Role.BAR_TICK, Role.BAR_LABEL}


def inked(mark: Mark) -> tuple[float, float, float, float]:
    """A mark's box, a line's with half its pen to either side, an arc's of what is drawn of it."""
    if isinstance(mark, Arc):
        angles = [radians(mark.start + n * mark.sweep / 90) for n in range(91)]
        xs = [float(mark.x) + float(mark.r) * cos(angle) for angle in angles]
        ys = [float(mark.y) + float(mark.r) * sin(angle) for angle in angles]
        return min(xs), min(ys), max(xs), max(ys)
    left, bottom, right, top = drawing.box(mark)
    if not isinstance(mark, Line):
        return left, bottom, right, top
    half = mark.pen.width / 2
    if mark.x1 == mark.x2:
        return left - half, bottom, right + half, top
    return left, bottom - half, right, top + half


def check(job: Job) -> None:
    """Every page has its four bars, and nothing else on it comes on them, their ticks or labels.

    Nor do they come out of the margins, but for half a pen.
    """
    paper = strip_list(job, plan(job).windows, None).paper
    low, right, top = (
        float(side)
        for side in (paper.margin, paper.width - paper.margin, paper.height - paper.margin)
    )
    for page in sheet_pages(job):
        own = [mark for mark in page.marks if mark.role in OF_BARS]
        assert sorted(mark.role for mark in own if mark.role in BARS) == sorted(BARS)
        boxes = [inked(mark) for mark in own]
        for left, bottom, far, high in boxes:
            assert low - 0.126 <= min(left, bottom)
            assert far <= right + 0.126
            assert high <= top + 0.126
        for mark in page.marks:
            if mark.role in OF_BARS:
                continue
            a = inked(mark)
            for b in boxes:
                apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
                assert apart, (page.label, mark.role, a, b)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples(path: Path) -> None:
    """The bars of no sample's sheets meet anything."""
    check(read_job(path.read_bytes(), path.name))


PAPERS = ["5.5 x 8.5 in", "letter", "a4", "a3", "7 x 8 in", "12 in roll", "24 in roll"]
MARGINS = ["0", "1/4", "1/2", "3/4", "1", "1 9/16"]  # the last is 39.7 mm


@searched(120)
@given(specs(), st.sampled_from(PAPERS), st.sampled_from(MARGINS))
@example(Spec(band="1 1/2", outside="1", hole="1/2", above="1/4"), "letter", "1 9/16")
@example(Spec(band="14", above="3"), "a3", "1 9/16")
@example(Spec(band="1 1/2", outside="1", hole="1/2", above="1/4"), "5.5 x 8.5 in", "1/4")
@example(Spec(band="12", above="3", strips="one", panels="pair"), "5.5 x 8.5 in", "1/2")
@example(Spec(width="300", count="24", band="2"), "24 in roll", "1 9/16")
def test_any_paper(spec: Spec, size: str, margin: str) -> None:
    """Nor do those of any job on any paper, whatever its margin, its lanes and its rows."""
    orientation = "auto" if "roll" in size else spec.orientation
    spec = spec.but(size=size, margin=margin, orientation=orientation)
    try:
        strip_list(job := spec.job(), plan(job).windows, None)
    except DrapeError:
        reject()  # no room for a sheet
    check(job)


def test_least_paper() -> None:
    """Nor on the least paper there is, of either direction: 113.6 mm square between its margins."""
    spec = Spec(band="2", outside="1", hole="1/2", above="1/2", margin="1/2", overlap="3/8")
    for size in ("139 x 139 mm", "139 x 400 mm"):
        for orientation in ("portrait", "landscape"):
            check(spec.but(size=size, orientation=orientation).job())


# Letter along its long side, margins and laps of 1/2 in, a column of 2 1/2 mm: a sheet shows
# 279.4 - 25.4 - 2.5 = 251.5 mm, 238.8 more than the one before, and 1 mm past either end. Of a pair
# on one strip this is its length: (75 in + 1 1/2 in) x 25.4 + 2 - 12.7 = 1932.4, /238.8 = 8.09, 9
# sheets, where a column of 11 mm left 230.3, 8.39 and one sheet more to keep laps off the eyelets.
SHEETS = {
    60: 7,
    66: 9,
    70: 8,
    72: 9,
    75: 9,
    80: 10,
    84: 10,
    88: 11,
    96: 11,
    100: 12,
    110: 13,
    120: 14,
}


@pytest.mark.parametrize(("width", "sheets"), SHEETS.items())
def test_sheets_a_width_takes(width: int, sheets: int) -> None:
    """As many as its length takes in even steps, or one more to keep its laps clear."""
    job = job_of(f"width = {width}", eyelet='outside = "2 5/8"\nopening = "1 9/16"')
    [strip] = strip_list(job, plan(job).windows, None).strips
    even = ceil((strip.strip.length + 2 - Fraction(127, 10)) / Fraction(2388, 10))
    assert strip.sheets == sheets
    assert sheets in {even, even + 1}
