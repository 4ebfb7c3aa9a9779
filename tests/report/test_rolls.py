"""What a template takes of a roll, as plan, JSON, ticket and assembly page say it."""

from __future__ import annotations

from drapetemplate.document.job_document import documents
from drapetemplate.drawing.marks import Text
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.report.plan_json import as_json
from drapetemplate.report.plan_text import as_text
from tests.helpers.jobfiles import job_of

# A panel of 550 in is three parts of (13972 + 2 x 12.7)/3 = 4665.8 mm; with one of 100 in each
# has a lane. The page has 25.4 more: 4691.2 mm, 184.7 in, in sixteenths upward 184 3/4.
JOB = job_of(
    "panels = 'single'\nwidth = 550\ncount = 40",
    "panels = 'right'\nwidth = 100\ncount = 14",
    tables='[paper]\nsize = "36 in roll"\njoins = "even"',
)
# A 12 in roll has one lane for 8 in of band: 203.2 + 12 + 11 of 268.4. Two panels of 100 in don't
# lie end to end in 200 in, so that a page has 2542 + 25.4 and the column of 2.5, twice: 5139.8 mm,
# 202.35 in, upward 202 3/8.
APART = job_of(
    "width = 100\ncount = 14",
    tables='[paper]\nsize = "12 in roll"\nstrips = "each"\n[band]\nheight = 8\nabove = 3',
)


def test_json() -> None:
    """Sheets are counted for each strip, pages and roll for all; a sheet of a roll has one part."""
    found = as_json(JOB, plan(JOB))
    assert found["paper"] == {"name": "36 in roll", "sheets": 4, "pages": 1, "roll_mm": 4691.2}
    strips = [window["panels"][0]["strip"] for window in found["windows"]]
    assert [(s["sheets"], s["rows"], s["lanes"]) for s in strips] == [(3, 1, 1), (1, 1, 1)]
    assert [len(s["joins_mm"]) for s in strips] == [2, 0]
    assert as_json(APART, plan(APART))["paper"] == {
        "name": "12 in roll",
        "sheets": 2,
        "pages": 2,
        "roll_mm": 5139.8,
    }


def test_json_of_cut_paper() -> None:
    """On cut paper each sheet is a page, and nothing is taken of a roll."""
    job = job_of("width = 40", tables='[paper]\nstrips = "each"')
    paper = as_json(job, plan(job))["paper"]
    assert paper["name"] == "letter"
    assert paper["sheets"] == paper["pages"] > 2
    assert paper["roll_mm"] is None


def test_plan() -> None:
    """The plan says on which page a strip is, and what the whole takes, rounded up to 1/16 in."""
    text = as_text(JOB, plan(JOB), plain=True)
    assert "template, single: 3 sheets, 36 in roll, page 1\n" in text
    assert "template, right: 1 sheet, 36 in roll, page 1\n" in text
    assert "4 template sheets on 1 page, 184 3/4 in of the roll\n" in text
    text = as_text(APART, plan(APART), plain=True)
    assert "template, left: 1 sheet, 12 in roll, page 1\n" in text
    assert "template, right: 1 sheet, 12 in roll, page 2\n" in text
    assert "2 template sheets on 2 pages, 202 3/8 in of the roll\n" in text


def test_read_pages() -> None:
    """Ticket and assembly page say the same, and that pages are cut apart before all else."""
    roll, read = documents(JOB, plan(JOB), typeface())
    lines = [mark.text for page in read.pages for mark in page.marks if isinstance(mark, Text)]
    words = " ".join(lines)
    assert "It takes 1 page, 184 3/4 in of the roll." in words
    assert "Measure the bars on every page before it is cut" in words
    assert "Cut each page of the roll apart between its double lines" in words
    assert words.index("before it is cut") < words.index("between its double lines")
    assert "3, 36 in roll, page 1" in words
    assert "each ASSEMBLY and the roll's sheets (tape, check, mark, punch)" in words
    assert "Strip A: 3 sheets of 36 in roll, from page 1, seen from the face" in words
    [page] = roll.pages
    assert (page.label, page.short) == ("roll page 1 of 1, sheets A1, A2, A3, C1", "roll page 1")
    said = [mark.text for mark in page.marks if isinstance(mark, Text)]
    assert "Page 1 of 1 · cut apart between the double lines into A1, A2, A3, C1" in said


def test_nothing_to_cut_apart() -> None:
    """Where each page has one sheet the ticket names no cut, and pages are named for theirs."""
    roll, read = documents(APART, plan(APART), typeface())
    words = " ".join(m.text for page in read.pages for m in page.marks if isinstance(m, Text))
    assert "double lines" not in words
    assert [page.short for page in roll.pages] == ["strip A sheet 1", "strip C sheet 1"]
    said = [mark.text for page in roll.pages for mark in page.marks if isinstance(mark, Text)]
    assert [text for text in said if text.startswith("Page ")] == ["Page 1 of 2", "Page 2 of 2"]
