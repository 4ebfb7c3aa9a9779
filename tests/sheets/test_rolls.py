"""Rolls: pages as long as the sheets on one need, and a ticket of its own beside them."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.document.job_document import documents
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list
from tests.helpers.commands import run
from tests.helpers.jobfiles import inches, job_of, job_toml
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED, Spec, sixteenths

ROLL = '[paper]\nsize = "24 in roll"'
INCH = Fraction(254, 10)


@searched(40)
@given(
    st.sampled_from(["7 in roll", "12 in roll", "24 in roll", "42 in roll"]),
    sixteenths("12", "700"),
    st.sampled_from(["1/2", "3/4", "1"]),
    st.sampled_from(["clear", "even"]),
    st.sampled_from(["1 1/2", "4", "12"]),
)
def test_page(size: str, width: str, overlap: str, joins: str, band: str) -> None:
    """A roll's pages are upright, no longer than 200 in, and as long as the sheets on one need.

    They have their length less the margins, and less the 2 1/2 mm column of bars, which is spared
    where the sheets leave 106 mm for it below: across they have the roll's width less the margins
    and that, or less the 11 mm that the bars across take.
    """
    spec = Spec(
        size=size, width=width, overlap=overlap, joins=joins, band=band, outside="1", hole="1/2"
    ).but(above="1/4", panels="right")
    [found] = spec.every()
    long, wide, margin = found.paper.height, found.paper.width, found.paper.margin
    assert long is not None
    assert wide <= long <= 200 * INCH
    shown = [part.shown[2] - part.shown[0] for sheet in found.sheets for part in sheet.parts]
    ends = [place.left + own for place, own in zip(found.tiling.places, shown, strict=True)]
    column = long - margin - max(ends)
    assert column in (0, Fraction(5, 2)) or (long == wide and column > 0)
    lowest = min(place.low for place in found.tiling.places)
    highest = max(place.low + place.frame.across for place in found.tiling.places)
    assert highest <= wide - margin
    assert lowest >= margin + 11
    assert lowest >= margin + 106 or column >= Fraction(5, 2)
    column = min(column, Fraction(5, 2))
    assert found.tiling.orientation == "landscape"
    # No more parts than even steps along pages of 200 in take, but for one more to keep clear.
    length, lap = found.template.strip.length + 2, found.paper.overlap
    step = 200 * INCH - 2 * found.paper.margin - column - lap
    even = 1 if length <= step + lap else -(-(length - lap) // step)
    assert len(shown) in ({1} if even == 1 else {even, even + 1}) or found.tiling.rows > 1


def test_one_page_for_all() -> None:
    """All strips of a job lie on pages of one length: the longest part's of any of them.

    100 in and 1 mm at either end, the 1 1/2 in by which a pair's ends differ and 12.7 mm of margin
    twice: 2605.5 mm. The bars down stand under the strip.
    """
    job = job_of("width = 100", "width = 40", tables=ROLL)
    found = strip_list(job, plan(job).windows, None)
    assert found.paper.height == 100 * INCH + 2 + 3 * INCH / 2 + 2 * Fraction(127, 10)
    [strip_pages, ticket] = documents(job, plan(job), FIXED)
    assert (strip_pages.width, strip_pages.height) == (24 * INCH, found.paper.height)
    assert all("sheet" in page.label for page in strip_pages.pages)
    assert not any("sheet" in page.label for page in ticket.pages)


@pytest.mark.parametrize(
    ("head", "size"),
    [
        ('units = "in"', (inches("8 1/2"), inches("11"))),
        ('units = "mm"', (Fraction(210), Fraction(297))),
        ('units = "cm"', (Fraction(210), Fraction(297))),
    ],
)
def test_ticket_paper(head: str, size: tuple[Fraction, Fraction]) -> None:
    """The ticket is on letter where the job is in inches, on A4 where it is metric."""
    job = job_of('width = "40 in"\nlength = "80 in"', head=head, tables=ROLL)
    _, ticket = documents(job, plan(job), FIXED)
    assert size == (ticket.width, ticket.height)
    assert ticket.pages[0].label == "ticket 1"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job on a roll."""
    path = tmp_path / "gallery.toml"
    path.write_text(job_toml("width = 100", tables=ROLL), encoding="utf-8")
    return path


def test_both_written(job: Path, tmp_path: Path) -> None:
    """The template goes where it is asked for, the ticket beside it; each is told in a line."""
    target = tmp_path / "out.pdf"
    done = run("make", job, "--out", target)
    assert done.exit_code == 0
    beside = tmp_path / "out-ticket.pdf"
    told = [line.rpartition(": ")[0] for line in done.stdout.splitlines()]
    assert told == [str(beside), str(target)]
    assert sorted(tmp_path.glob("*")) == sorted([beside, target, job])


def test_portrait(tmp_path: Path) -> None:
    """A strip that should run across a roll is refused in one line, and nothing is written."""
    job = tmp_path / "gallery.toml"
    tables = f'{ROLL}\norientation = "portrait"'
    job.write_text(job_toml("width = 100", tables=tables), encoding="utf-8")
    done = run("make", job, "--out", tmp_path / "out.pdf")
    assert done.exit_code == 2
    said = '"portrait" on a roll, along which a strip runs: leave orientation out'
    assert done.stderr.splitlines() == [f"{job}, line 11: paper.orientation: {said}"]
    assert list(tmp_path.iterdir()) == [job]


def test_no_template_without_its_ticket(job: Path, tmp_path: Path) -> None:
    """Where the ticket can't be written, the template isn't either, and no half of one is left."""
    beside = tmp_path / "out-ticket.pdf"
    (beside / "kept").mkdir(parents=True)
    done = run("make", job, "--out", tmp_path / "out.pdf")
    assert done.exit_code == 2
    [line] = done.stderr.splitlines()
    assert line.startswith(f"{beside}: can't be written: ")
    assert sorted(tmp_path.iterdir()) == sorted([job, beside])


def test_template_not_written(job: Path, tmp_path: Path) -> None:
    """Where the template can't be written no half of it is left, and what stood there stands."""
    target = tmp_path / "out.pdf"
    os.mkfifo(target)
    done = run("make", job, "--out", target)
    assert done.exit_code == 2
    assert done.stderr.splitlines() == [f"{target}: can't be written: not a plain file"]
    assert target.is_fifo()
    # The ticket is written first; it is whole.
    ticket = tmp_path / "out-ticket.pdf"
    assert sorted(tmp_path.iterdir()) == sorted([job, target, ticket])
    assert ticket.read_bytes().rstrip().endswith(b"%%EOF")


def test_undrawable_leaves_nothing(job: Path, tmp_path: Path) -> None:
    """A fault that only layout finds comes before either file is there.

    3,900 in take 20 pages along, and 600 in of band 200 rows and more of 6 in of roll.
    """
    window = "width = 3900\ncount = 2\n[window.band]\nheight = 600\nabove = 1"
    job.write_text(job_toml(window, tables='[paper]\nsize = "6 in roll"'), encoding="utf-8")
    done = run("make", job, "--out", tmp_path / "out.pdf")
    assert done.exit_code == 2
    [line] = [line for line in done.stderr.splitlines() if "paper.size" in line]
    assert line.endswith("sheets, over 2000: use larger paper")
    assert list(tmp_path.iterdir()) == [job]


def test_ticket_replaces_no_other_file(tmp_path: Path) -> None:
    """A ticket that would take a job file's or another template's place is refused in one line."""
    plain, other = tmp_path / "a.toml", tmp_path / "a-ticket.toml"
    for path in (plain, other):
        path.write_text(job_toml("width = 60", tables=ROLL), encoding="utf-8")
    before = other.read_bytes()
    itself = run("make", other, "--out", tmp_path / "a.toml")
    assert (itself.exit_code, other.read_bytes()) == (2, before)
    out = tmp_path / "out"
    out.mkdir()
    both = run("make", plain, other, "--out", out)
    assert both.exit_code == 2
    assert [line for line in both.stderr.splitlines() if "replace another file" in line]
    assert sorted(path.name for path in out.iterdir()) == [
        "a-ticket-ticket.pdf",
        "a-ticket.pdf",
    ]
