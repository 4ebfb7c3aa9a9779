"""What sheets are called: no two of a job alike, and everything that names one by the same name."""

from __future__ import annotations

import re

import pytest

from drapetemplate import drawing
from drapetemplate.document.job_document import document
from drapetemplate.document.model import Page
from drapetemplate.drawing.marks import Line, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.strip_list import strip_list
from tests.helpers.jobfiles import job_of

EACH = '[paper]\nstrips = "each"'
LANES = "[band]\nheight = 2\n"
SMALL = "outside = 1\nopening = 0.5\nhole = 0.5"


def pages_of(job: Job) -> list[Page]:
    """Every page of a job's PDF, in the shipped font."""
    return list(document(job, plan(job), typeface()).pages)


def words(page: Page, *roles: Role) -> list[str]:
    """What a page says in some roles, in the order it is drawn."""
    return [m.text for m in page.marks if isinstance(m, Text) and m.role in roles]


def title(page: Page) -> str:
    """All that a sheet says as large as its number."""
    return "".join(words(page, Role.SHEET_NUMBER, Role.SHEET_TITLE))


JOBS = [
    pytest.param(("width = 60", "width = 40"), "", "", id="pairs"),
    pytest.param(("width = 60",), EACH, "", id="each"),
    pytest.param(("width = 60", "width = 50"), LANES, SMALL, id="lanes"),
    pytest.param(("width = 30",), '[band]\nheight = 12\n[paper]\nstrips = "each"', "", id="rows"),
    pytest.param(('width = 90\npanels = "left"',), '[paper]\nstyle = "stepping"', "", id="steps"),
]


@pytest.mark.parametrize(("windows", "tables", "eyelet"), JOBS)
def test_no_two_alike(windows: tuple[str, ...], tables: str, eyelet: str) -> None:
    """Each sheet of a job has a number of its own, and its bookmark, laps and neighbours use it.

    A name stands for the strip by its letter: nothing on a sheet or on a strip's assembly page
    names a sheet, a part or a join of another.
    """
    job = job_of(*windows, tables=tables, **({"eyelet": eyelet} if eyelet else {}))
    found = pages_of(job)
    sheets = [page for page in found if words(page, Role.SHEET_NUMBER)]
    numbers = [words(page, Role.SHEET_NUMBER)[0] for page in sheets]
    assert len(set(numbers)) == len(numbers) > 2
    names = {}
    for page, number in zip(sheets, numbers, strict=True):
        match = re.fullmatch(r"Sheet (([A-Z])(\d+)) of (\d+)", number)
        assert match is not None
        assert page.label.endswith(f", {number.lower().replace(match[1].lower(), match[1])}")
        names[match[1]] = match[2]
    assert len(set(names.values())) > 1
    for page, number in zip(sheets, numbers, strict=True):
        letter = number.split()[1][0]
        said = " ".join(words(page, Role.HEADING, Role.LAP_WORDS, Role.LANE_NAME, Role.JOIN_NAME))
        called = re.findall(r"\b([A-Z])(\d+)[a-z]?\b", said)
        assert called or number.endswith("1 of 1")
        assert {one for one, _ in called} <= {letter}
        beside = re.findall(r"(?:sheets?|,) ([A-Z]\d+) \(", said)
        assert set(beside) <= set(names)
    for page in found:
        taped = words(page, Role.PART_NAME, Role.PART_JOIN_NAME)
        letters = {re.findall(r"[A-Z]", one)[0] for one in taped}
        assert len(letters) <= 1
        assert {re.sub(r"[a-z]+$", "", one) for one in words(page, Role.PART_NAME)} <= set(names)


def test_one_strip_needs_no_letter() -> None:
    """A job of one strip numbers its sheets alone."""
    found = pages_of(job_of("width = 60"))
    numbers = [text for page in found for text in words(page, Role.SHEET_NUMBER)]
    assert numbers == [f"Sheet {n} of {len(numbers)}" for n in range(1, len(numbers) + 1)]


def test_letters_run_on() -> None:
    """After Z comes AA, and each strip of 30 has its own; none is B or F, nor I or O."""
    job = job_of(*(f'width = {20 + n}\npanels = "left"' for n in range(30)))
    letters = [one.letters for one in strip_list(job, plan(job).windows, None).strips]
    assert letters[:8] == [(one,) for one in "ACDEGHJK"]
    assert letters[10:14] == [(one,) for one in "NPQR"]
    assert letters[20:24] == [("Y",), ("Z",), ("AA",), ("AB",)]
    assert len(set(letters)) == 30


@pytest.mark.parametrize(
    ("panels", "strips", "sides"),
    [
        ("pair", "one", ["LEFT + RIGHT panel"]),
        ("pair", "each", ["LEFT panel", "RIGHT panel"]),
        ("left", "one", ["LEFT panel"]),
        ("right", "one", ["RIGHT panel"]),
        ("single", "one", ["SINGLE panel"]),
    ],
)
@pytest.mark.parametrize("view", ["face", "back"])
def test_title(panels: str, strips: str, sides: list[str], view: str) -> None:
    """Every sheet says as large as its number whose panel it is, which side, and the window."""
    tables = f'[paper]\nstrips = "{strips}"\nview = "{view}"'
    job = job_of(f'name = "Bay"\nwidth = 60\npanels = "{panels}"', tables=tables)
    sheets = [page for page in pages_of(job) if words(page, Role.SHEET_NUMBER)]
    said = list(dict.fromkeys(title(page).split(" · ", 1)[1] for page in sheets))
    assert said == [f"{side} · {view.upper()} · Bay" for side in sides]
    for page in sheets:
        sizes = {
            m.size
            for m in page.marks
            if isinstance(m, Text) and m.role in {Role.SHEET_NUMBER, Role.SHEET_TITLE}
        }
        assert sizes == {6.0}


def test_one_sheet_says_how_it_serves_both() -> None:
    """A pair's strip on one sheet, which has no assembly page, tells whose marks are which."""
    job = job_of("width = 60", tables='[paper]\nsize = "24 in roll"')
    [page] = pages_of(job)
    [said] = words(page, Role.HEADING)
    assert "LEFT above the eyelets, RIGHT below them from the other end · never turned over" in said
    sheets = [page for page in pages_of(job_of("width = 60")) if words(page, Role.SHEET_NUMBER)]
    assert not any("turned over" in text for page in sheets for text in words(page, Role.HEADING))


@pytest.mark.parametrize(("windows", "tables", "eyelet"), JOBS)
def test_top_on_every_sheet(windows: tuple[str, ...], tables: str, eyelet: str) -> None:
    """Every part that has the band's top on it says so above it; a lower row's sheet in its title.

    On these sheets of letter paper, turned so that they are read from the right or upright.
    """
    job = job_of(*windows, tables=tables, **({"eyelet": eyelet} if eyelet else {}))
    for page in pages_of(job):
        if not words(page, Role.SHEET_NUMBER):
            continue
        tops = [m for m in page.marks if isinstance(m, Text) and m.role == Role.BAND_TOP]
        parts = max(len(words(page, Role.LANE_NAME)), 1)
        if not tops:
            assert "↑ TOP" in title(page)
            continue
        assert [m.text for m in tops] == ["↑ TOP"] * parts
        bands = [m for m in page.marks if isinstance(m, Line) and m.role == Role.BAND_LINE]
        for top in tops:
            # Beyond a line of the band, on the far side from the other.
            _, low, right, _ = drawing.box(top)
            if top.angle:
                edges = sorted(float(m.x1) for m in bands)
                assert any(0 < edge - right < 4 for edge in edges)
                assert top.angle == 90
            else:
                assert any(0 < low - float(m.y1) < 4 for m in bands)


def test_stepping_pieces_by_one_name() -> None:
    """A stepping piece is called on its sheets what the page calls it, letter and all."""
    job = job_of('width = 90\npanels = "left"', tables='[paper]\nstyle = "stepping"')
    found = pages_of(job)
    [page] = [page for page in found if page.label.endswith("stepping 1")]
    said = " ".join(m.text for m in page.marks if isinstance(m, Text))
    sheets = [title(page).split(" · ") for page in found if words(page, Role.SHEET_NUMBER)]
    pieces = dict.fromkeys((words[0].split()[1][0], words[1]) for words in sheets)
    assert list(pieces) == [
        ("D", "LEFT panel, leading end"),
        ("E", "LEFT panel, stepping piece"),
        ("G", "LEFT panel, far end"),
    ]
    assert "D, the leading end; E, the stepping piece with holes A, B and C; G, the far end" in said
