"""The page for the client: what hangs, a line to sign, and nothing of how it is cut."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate.drawing.marks import Line
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.approval import approval, approval_rows
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.job_ticket import ticket_paper
from tests.helpers.jobfiles import RING, job_of
from tests.helpers.marks import texts

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
LINEN = '[fabric]\nname = "undyed linen"\nwidth = 54\n[lining]\nname = "white sateen"'
WINDOW = "width = 60\ncount = 8\nreturn = 3\nlength = 84\nfullness = 2"


def pages(job: Job) -> list[list[str]]:
    """The words of each page."""
    filled = approval(job, plan(job), paper_flow(ticket_paper(job, None), typeface()))
    return [[text.text for text in texts(page)] for page in filled]


def test_what_is_approved() -> None:
    """Sizes, closed and open, cloth, eyelets and fullness: 53 1/2 in of cloth, twice as full."""
    job = job_of(WINDOW, tables=f"{LINEN}\n[pole]\ntop = 84")
    assert approval_rows(job, plan(job).windows[0]) == [
        ("Finished length", "84 in"),
        ("Lower edge", "1 1/2 in off the floor"),
        ("Each panel, flat", "60 in wide"),
        ("Closed", "covers 26 3/4 in of pole, each panel"),
        ("Open", "10 in of pole, each panel"),
        ("Fullness", "2.00 times the pole"),
        ("Cloth", "undyed linen"),
        ("Lining", "white sateen"),
        ("Eyelets", "8 a panel, 2 in across, on a pole"),
    ]


def test_signed() -> None:
    """It ends with two lines to sign on."""
    job = job_of(WINDOW)
    [page] = approval(job, plan(job), paper_flow(ticket_paper(job, None), typeface()))
    lines = [mark for mark in page if mark.role == Role.SIGN_LINE]
    assert len(lines) == 2
    assert all(isinstance(line, Line) and line.x2 - line.x1 > 40 for line in lines)


@pytest.mark.parametrize("path", SAMPLES, ids=[path.stem for path in SAMPLES])
def test_nothing_of_the_cutting(path: Path) -> None:
    """No hole, drop, seam, hem or order stands on it, of any sample job."""
    job = read_job(path.read_bytes(), path.name)
    said = " ".join(words for page in pages(job) for words in page).casefold()
    for word in ("drop", "seam", "hem", "hole", "opening", "cut ", "order", "band", "pitch", "gap"):
        assert word not in said.replace("once cut, cloth", ""), word


def test_windows_alike_once() -> None:
    """Windows alike are drawn once, under both names; others have their own."""
    other = WINDOW.replace("60", "70")
    words = pages(job_of(f'name = "Bay"\n{WINDOW}', f'name = "Hall"\n{WINDOW}', other))
    said = [line for page in words for line in page if ": a pair" in line]
    assert said == ["Bay + Hall: a pair", "Window 3: a pair"]


def test_hooks() -> None:
    """What hangs from hooks is approved too."""
    job = job_of("width = 60\npanels = 'single'", eyelet=f'{RING}\nhung = "hooks"')
    [words] = pages(job)
    assert any("from hooks" in line for line in words)
