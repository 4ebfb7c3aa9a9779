"""The ticket says all that a job says, inside its margins, on as many pages as it takes."""

from __future__ import annotations

import pytest
from jobfiles import job_of, job_toml
from strips import FIXED

from drapetemplate import drawing
from drapetemplate.document import Document, document
from drapetemplate.drawing import Text, Typeface
from drapetemplate.job import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface

DETAILS = 'number = "HP-201"\nclient = "The house"\nroom = "Upper landing"\ndue = 2027-03-04'
FULL = "width = 60\nlength = 80\nquantity = 3\ncount = 8"


def made(toml: str, face: Typeface = FIXED, accepted: frozenset[str] = frozenset()) -> Document:
    """The document of a job file."""
    job = read_job(toml.encode(), "job.toml")
    return document(job, plan(job), face, accepted)


def ticket_texts(made: Document) -> list[list[Text]]:
    """The text of each of the ticket's pages."""
    pages = [page for page in made.pages if page.label.startswith("ticket")]
    return [[mark for mark in page.marks if isinstance(mark, Text)] for page in pages]


def said(made: Document) -> str:
    """All the ticket's words, in order."""
    return " ".join(text.text for page in ticket_texts(made) for text in page)


def test_everything_the_job_says() -> None:
    """Name, number, client, room, due date, notes and cloth all appear."""
    tables = (
        '[pole]\ndiameter = "1/2"\nprojection = 4\ntop = 99\n[fabric]\nname = "linen"\nwidth=50'
    )
    words = said(made(job_toml(FULL, job=f'{DETAILS}\nnotes = "Mind the newel"', tables=tables)))
    for word in (
        "Heron Point, linen store",
        "HP-201",
        "The house",
        "Upper landing",
        "2027-03-04, Thursday",
        "Mind the newel",
        "linen, 50 in wide",
        "make 3",
        "Finished 60 in wide × 80 in long",
        "99 in",
    ):
        assert word in words


@pytest.mark.parametrize(
    ("head", "window", "expected"),
    [
        # (60 - 1 1/2 - 3 - 16)/7 = 5 9/14 in of gap, 7 9/14 of pitch, from 2 1/2 in.
        ("", FULL, [["2 1/2 in", "63.5 mm"], ["≈ 10 1/8 in", "257.6 mm"]]),
        # (1500 - 37.1 - 76.2 - 8 x 50.8)/7 = 140.04 mm of gap, 190.84 of pitch, from 62.5 mm.
        ('units = "mm"', "width = 1500\nleading = 37.1\ncount = 8", [["62.5 mm"], ["253.3 mm"]]),
    ],
)
def test_hole_centres(head: str, window: str, expected: list[list[str]]) -> None:
    """Holes are listed as running measures from the leading edge, in inches with mm beside."""
    texts = ticket_texts(made(job_toml(window, head=head)))[0]
    cells = [text.text for text in texts if text.role == "hole-centre"]
    parts = 1 + len(expected[0])
    holes = {int(cells[i]): cells[i + 1 : i + parts] for i in range(0, len(cells), parts)}
    assert sorted(holes) == list(range(1, 9))
    assert [holes[1], holes[2]] == expected


def test_findings_and_assumptions() -> None:
    """What is wrong stands with its level, what was assumed with its key and value."""
    words = said(made(job_toml("width = 60\ncount = 7"), accepted=frozenset({"odd-count"})))
    for word in ("STOP", "use an even count, 6 or 8", "ACCEPTED all the same (odd-count) by:"):
        assert word in words
    for word in ("paper.size", "letter", "stack_each", "1 1/4 in", "eyelet.thickness"):
        assert word in words


def test_advice_and_lines_to_sign() -> None:
    """How to print, what a wrong bar means, the cautions, and who marked, punched and checked."""
    words = said(made(job_toml(FULL)))
    for word in ("actual size", "about 90 mm", "94 mm", "96 to 97 mm", "panel end: 60 in"):
        assert word in words
    for word in ("Press and die", "Ladders", "fire codes", "Marked", "Punched", "Checked"):
        assert word in words


HUGE = "\n".join(f'[[window]]\nname = "Bay {i}"\nwidth = {40 + i}' for i in range(1, 40))


@pytest.mark.parametrize(
    "toml",
    [
        job_toml(FULL, job=DETAILS),
        job_toml("width = 1500\ncount = 200"),
        job_toml("width = 40") + HUGE,
        job_toml(FULL, job='notes = """' + "word " * 3900 + '"""'),
        job_toml(FULL, job=f'client = "{"long " * 300}"\nroom = "{"x" * 1000}"'),
        job_toml(FULL, tables='[paper]\nsize = "5.5 x 8.5 in"'),
        job_toml(FULL, tables='[paper]\nsize = "a3"\nmargin = "2 in"'),
    ],
)
def test_nothing_outside_and_nothing_on_anything(toml: str) -> None:
    """Every line of text lies on its page and on no other, however much there is to say."""
    document = made(toml, typeface())
    for page in ticket_texts(document):
        boxes = sorted((drawing.box(text) for text in page), key=lambda b: b[1])
        for i, (left, bottom, right, top) in enumerate(boxes):
            assert left >= 0
            assert bottom >= 0
            assert right <= float(document.width)
            assert top <= float(document.height)
            for other in boxes[i + 1 :]:
                if other[1] >= top - 0.4:
                    break
                assert other[0] >= right - 0.01 or left >= other[2] - 0.01


def test_missing_glyph_is_told() -> None:
    """A character the font lacks is drawn as a stand-in and said, on the ticket and by make."""
    document = made(job_toml(FULL, job='room = "The \U0001f642 room"'), typeface())
    assert [finding.code for finding in document.findings] == ["missing-glyph"]
    assert "U+1F642" in said(document)
    assert "The \N{REPLACEMENT CHARACTER} room" in said(document)


def test_pages_are_all_alike() -> None:
    """One size for all pages; the ticket comes first, then each panel's sheets in order."""
    document = made(job_toml(FULL))
    labels = [page.label for page in document.pages]
    first = next(i for i, label in enumerate(labels) if "sheet" in label)
    assert all(label.startswith("ticket") for label in labels[:first])
    sheets = [label for label in labels[first:] if "left" in label]
    assert sheets == [
        f"Window 1, left panel, sheet {i} of {len(sheets)}" for i in range(1, 1 + len(sheets))
    ]
    assert job_of(FULL).paper.width == document.width
