"""The page for the client: what hangs, a line to sign, and nothing of how it is cut."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate import drawing
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


def test_what_is_worked_out_is_approved_as_it_will_be() -> None:
    """Of a job that names neither width nor length the client sees what they come to.

    Asked for are 2 x 38 = 76 in between the end eyelets; on cloth that repeats every 7 in, 11
    pitches are 77: with 3 + 3 + 2 in 85 wide, and 77/38 times as full. The top is 1 + 1 - 1/2 in
    over the pole's 84, and the lower edge 1/2 in off the floor.
    """
    window = "covers = 38\nfullness = 2\nreturn = 3\nleading = 3\ncount = 12\npattern = 'folds'"
    job = job_of(window, tables="[fabric]\nwidth = 54\nrepeat_across = 7\n[pole]\ntop = 84")
    rows = dict(approval_rows(job, plan(job).windows[0]))
    assert rows["Each panel, flat"] == "85 in wide"
    assert rows["Finished length"] == "85 in"
    assert rows["Fullness"] == "2.03 times the pole"
    assert rows["Cloth"] == "not named yet"


def test_which_picture_is_which() -> None:
    """The left picture is the closed window and the right one the open one, as they stand."""
    job = job_of(WINDOW)
    [page] = approval(job, plan(job), paper_flow(ticket_paper(job, None), typeface()))
    captions = [text.text for text in texts(page, Role.CAPTION)]
    assert captions[0].startswith("Left. Closed: the window from the front.")
    assert captions[1].startswith("Right. Open: 10 in each on the pole.")
    # A closed pair covers 2 x 26 3/4 in, its two stacks less: by the panels in each half.
    panels = sorted(drawing.box(mark) for mark in page if mark.role == Role.PANEL)
    wide = [right - left for left, _, right, _ in panels]
    assert len(wide) == 4
    assert min(wide[:2]) > 2 * max(wide[2:])


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
    # Each is named with the window that it is like, though others alike come between.
    two = (f'name = "{name}"\n{WINDOW.replace("60", wide)}' for name, wide in ORDER)
    said = [line for page in pages(job_of(*two)) for line in page if ": a pair" in line]
    assert said == ["Bay + Den: a pair", "Hall + Attic: a pair"]


ORDER = (("Bay", "60"), ("Hall", "70"), ("Den", "60"), ("Attic", "70"))


def test_hooks() -> None:
    """What hangs from hooks is approved too."""
    job = job_of("width = 60\npanels = 'single'", eyelet=f'{RING}\nhung = "hooks"')
    [words] = pages(job)
    assert any("from hooks" in line for line in words)
