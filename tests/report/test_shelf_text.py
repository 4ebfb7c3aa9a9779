"""A list of kept jobs as text: a table where it fits, else lines a job, or a fact a line."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from rich.cells import cell_len

from drapetemplate.report.shelf_text import MOST_TOLD, shelf_text, unreadable
from drapetemplate.shelf.kept import PassedOver
from drapetemplate.shelf.listing import (
    SAME_NUMBER,
    STALE_PDF,
    Doubt,
    ListedJob,
    Listing,
    Place,
)

LINEN = ListedJob(
    name="Heron Point, linen store",
    number="HP-9",
    client="Heron House",
    due=date(2027, 2, 10),
    panels=7,
    sheets=12,
    places=(
        Place(Path("jobs/linen.toml"), "job file", "1"),
        Place(Path("jobs/linen.pdf"), "PDF", "1"),
    ),
)
ROLL = ListedJob(
    name="Heron Point,\tattic \u202e\x1b[31m" + "x" * 20_000,
    panels=1,
    sheets=2,
    on_roll=True,
    places=(Place(Path("jobs/\x1b]0;x.pdf"), "PDF", "1"),),
)
FAULTY = ListedJob(faults=1, places=(Place(Path("odd.toml"), "job file", "1"),))


def shelf(*jobs: ListedJob, kept: int = 3, **parts: object) -> Listing:
    """A list of these jobs."""
    usual: dict[str, object] = {"undated": 0, "doubts": (), "passed_over": ()}
    return Listing(jobs=jobs, kept=kept, **(usual | parts))  # type: ignore[arg-type]


def test_table() -> None:
    """In a pipe a line a job, in columns; a column that no job has isn't there."""
    files = "jobs/linen.toml, jobs/linen.pdf"
    lines = shelf_text(shelf(LINEN, FAULTY, kept=2), "jobs", columns=None).splitlines()
    assert lines == [
        "due         number  name                      client       panels  sheets  kept in",
        f"2027-02-10  HP-9    Heron Point, linen store  Heron House       7      12  {files}",
        "no date     -       no name                   -                 -       -  odd.toml",
        "  odd.toml: 1 fault in the job file, so that its panels aren't counted",
        "2 jobs in jobs",
    ]


def test_narrow() -> None:
    """Where the table is too wide each job has lines of its own."""
    lines = shelf_text(shelf(LINEN, FAULTY), "jobs", columns=60).splitlines()
    assert lines[:6] == [
        "2027-02-10  HP-9 · Heron Point, linen store",
        "            Heron House · 7 panels · 12 sheets",
        "            jobs/linen.toml",
        "            jobs/linen.pdf",
        "no date     no name",
        "            odd.toml",
    ]
    assert lines[-1] == "2 of 3 jobs in jobs"


def test_plain() -> None:
    """For a screen reader a fact a line, the job and its place among them first."""
    lines = shelf_text(shelf(LINEN, ROLL), "jobs", plain=True).splitlines()
    assert lines[:9] == [
        "job 1 of 2: Heron Point, linen store",
        "number: HP-9",
        "client: Heron House",
        "due: 2027-02-10",
        "panels: 7",
        "paper: 12 sheets",
        "job file: jobs/linen.toml",
        "PDF: jobs/linen.pdf",
        f"job 2 of 2: Heron Point, attic \ufffd\ufffd[31m{'x' * 34}…",
    ]
    assert lines[9:13] == [
        "due: no date",
        "panels: 1",
        "paper: 2 roll pages",
        "PDF: jobs/\ufffd]0;x.pdf",
    ]


@pytest.mark.parametrize("columns", [20, 40, 80, 200, None])
@pytest.mark.parametrize("ascii_only", [False, True])
def test_safe_and_in_its_columns(columns: int | None, *, ascii_only: bool) -> None:
    """Whatever a job or a file is called, nothing steers the terminal, and no line is too wide."""
    text = shelf_text(shelf(LINEN, ROLL), "jobs", columns=columns, ascii_only=ascii_only)
    assert all(line.isprintable() for line in text.splitlines())
    if columns and columns > 60:
        assert max(map(cell_len, text.splitlines())) <= columns
    if ascii_only:
        assert text.isascii()


def test_doubts() -> None:
    """What is doubtful says what to do."""
    doubts = (
        Doubt(STALE_PDF, (Path("a.pdf"), Path("a.toml"))),
        Doubt(STALE_PDF, (Path("old/a.pdf"), Path("a.toml"))),
        Doubt(SAME_NUMBER, (Path("a.toml"), Path("b.toml"), Path("c.toml")), "HP-9"),
    )
    text = shelf_text(shelf(LINEN, doubts=doubts), "jobs", columns=None)
    assert text.splitlines()[2:5] == [
        "  a.pdf: not made from a.toml as that is now; make it again before it is used",
        "  old/a.pdf: not made from a.toml as that is now; make it again before it is used",
        "  number HP-9: 3 jobs have it and differ: a.toml, b.toml and c.toml",
    ]


def test_summary() -> None:
    """How many there are, how many are listed, and what was passed over."""
    passed = (
        PassedOver(Path("bill.pdf"), "no job in it"),
        PassedOver(Path("pyproject.toml"), "no job file"),
        PassedOver(Path("old.pdf"), "encrypted"),
    )
    assert shelf_text(shelf(kept=0), "jobs") == "no jobs are kept in jobs"
    assert shelf_text(shelf(undated=1, passed_over=passed), "jobs").splitlines() == [
        "none of 3 jobs in jobs is as asked for",
        "1 job not listed has no due date",
        "passed over: 2 files without a job, 1 file that can't be read",
    ]
    assert unreadable(shelf(passed_over=passed)) == ["old.pdf: encrypted"]
    many = unreadable(shelf(passed_over=passed[2:] * (MOST_TOLD + 5)))
    assert many[-2:] == ["old.pdf: encrypted", "and 5 more that can't be read"]
