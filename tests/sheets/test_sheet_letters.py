"""Letters on the sheets: what a person acts on has capitals of 2.2 mm, as on the pages to read.

Measured on the marks: a capital of the shipped font is 0.729 of its size, which
`printed/test_letter_sizes` measures in ink. The map, guide lines and ticks have no letters.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from drapetemplate.drawing.marks import Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import DrapeError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import job_of
from tests.helpers.searching import searched
from tests.helpers.strips import Spec, sheet_pages

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
CAPITAL = 0.729
LEAST = 2.2


# On a part that shows so little two joins' names, or what to do at them, may not have room side by
# side. Each stands on the neighbour's sheet as well, and the heading has both neighbours' numbers.
NARROW = 100
NARROW_MAY = {Role.JOIN_NAME, Role.LAP_WORDS}


def is_small(mark: Mark) -> bool:
    """True for words whose capitals are lower."""
    return isinstance(mark, Text) and mark.size * CAPITAL < LEAST


def small(job: Job) -> list[Mark]:
    """What is written smaller on a job's sheets."""
    return [mark for page in sheet_pages(job) for mark in page.marks if is_small(mark)]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples(path: Path) -> None:
    """No word on any sample's sheets is smaller, none at all."""
    assert small(read_job(path.read_bytes(), path.name)) == []


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("style", ["whole", "stepping"])
@pytest.mark.parametrize("strips", ["each", "one"])
def test_what_sheets_can_say(size: str, style: str, strips: str) -> None:
    """Nor where there is more to say: low bands in lanes, seams, a pair on one strip, pieces.

    Between them these have every role that has words on a sheet, so that all were looked at.
    """
    tables = f'[paper]\nsize = "{size}"\nstyle = "{style}"\nstrips = "{strips}"\n'
    low = job_of(
        "width = 60\ncount = 8",
        eyelet='outside = 1\nopening = "9/16"',
        tables=f"{tables}[band]\nheight = 2\n[fabric]\nwidth = 30\nrailroad = false",
    )
    high = job_of(
        "width = 90\ncount = 8\nreturn = 5",
        eyelet='outside = 4\nopening = "2 1/2"',
        tables=f"{tables}[band]\nheight = 5\n[fabric]\nwidth = 54\nrailroad = false",
    )
    for job in (low, high):
        assert small(job) == []
    roles = {
        mark.role
        for job in (low, high)
        for page in sheet_pages(job)
        for mark in page.marks
        if isinstance(mark, Text)
    }
    expected = {Role.SHEET_NUMBER, Role.SHEET_TITLE, Role.HEADING, Role.BAR_LABEL, Role.NUMBER}
    expected |= {Role.MEASURE, Role.JOIN_NAME, Role.LAP_WORDS, Role.BAND_TOP, Role.END_LABEL}
    expected |= {Role.LANE_NAME, Role.HOLE_WORDS}
    if style == "whole":
        expected |= {Role.SEAM_LABEL, Role.FOLD_LABEL}
        if strips == "one":
            expected |= {Role.OTHER_NUMBER, Role.OTHER_MEASURE, Role.OTHER_LABEL}
    assert expected <= roles


def test_two_ends_share_what_room_there_is() -> None:
    """On a narrow part the longer of what two ends say has what the shorter one leaves it.

    A pair's pieces to step along, the right panel's second: what it shows of the strip between the
    marks at its laps has room for both, but not for the longer one in half of it.
    """
    job = job_of(
        "width = 60\ncount = 8",
        eyelet="outside = 2\nopening = 1\nhole = 1",
        tables='[paper]\nstyle = "stepping"\nletters = ["V", "R"]',
    )
    assert small(job) == []
    both = [
        mark
        for page in sheet_pages(job)
        for mark in page.marks
        if isinstance(mark, Text) and mark.text in {"over H1a", "H2a on top"}
    ]
    over, on_top = sorted(both, key=lambda mark: mark.width)
    # At the ends of one line, on a sheet that is turned or not.
    assert {over.anchor, on_top.anchor} == {"start", "end"}
    along = max(abs(float(over.x - on_top.x)), abs(float(over.y - on_top.y)))
    assert over.width + on_top.width + 0.99 < along < 2 * on_top.width + 1


@st.composite
def workroom(draw: st.DrawFn) -> Spec:
    """Jobs as workrooms have them: eyelets and gaps of 1 in or more, a band of 1 in more."""
    outside, count = Fraction(draw(st.integers(16, 56)), 16), draw(st.sampled_from([4, 6, 8, 12]))
    gap, more = Fraction(draw(st.integers(150, 600)), 100), Fraction(draw(st.integers(16, 64)), 16)
    panels = draw(st.sampled_from(["left", "right", "single", "pair"]))
    return_ = Fraction(draw(st.integers(8, 112)), 16)
    leading = return_ if panels == "single" else Fraction(draw(st.integers(8, 64)), 16)
    return Spec(
        width=str(leading + return_ + count * outside + (count - 1) * gap),
        outside=str(outside),
        hole=str(outside * 9 / 16),
        count=str(count),
        panels=panels,
        leading=str(leading),
        return_=str(return_),
        band=str(outside + more),
        above=str(more * draw(st.sampled_from([4, 5, 8])) / 16),
        size=draw(st.sampled_from(["letter", "a4"])),
        orientation=draw(st.sampled_from(["auto", "portrait", "landscape"])),
        overlap=draw(st.sampled_from(["3/8", "1/2", "3/4"])),
        view=draw(st.sampled_from(["face", "back"])),
        hung=draw(st.sampled_from(["pole", "hooks"])),
        units=draw(st.sampled_from(["in", "mm"])),
        strips=draw(st.sampled_from(["each", "one"])),
        fabric=draw(st.sampled_from(["", "54", "30"])),
    )


@searched(100)
@given(workroom())
def test_any_workroom_job(spec: Spec) -> None:
    """Nor does any other on letter or A4 with margins of 1/2 in, but at joins of narrow parts."""
    try:
        every = spec.every(typeface())
    except DrapeError:
        reject()
    for found in every:
        for sheet in found.sheets:
            narrow = any(part.shown[2] - part.shown[0] < NARROW for part in sheet.parts)
            may = NARROW_MAY if narrow else set()
            assert {mark.role for mark in sheet.marks if is_small(mark)} <= may
