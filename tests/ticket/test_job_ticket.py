"""The ticket says all that a job says, inside its margins, on as many pages as it takes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.document.job_document import document
from drapetemplate.document.model import Document, Page
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import RING, job_of, job_toml
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED

DETAILS = 'number = "HP-201"\nclient = "The house"\nroom = "Upper landing"\ndue = 2027-03-04'
IN_MM = "width = 600\nlength = 800\nleading = 20\nreturn = 30\ncount = 8"
FULL = "width = 60\nlength = 80\nquantity = 3\ncount = 8"


def made(toml: str, face: Typeface = FIXED, accepted: frozenset[str] = frozenset()) -> Document:
    """The document of a job file."""
    job = read_job(toml.encode(), "job.toml")
    return document(job, plan(job), face, accepted)


def ticket_pages(made: Document) -> list[Page]:
    """The ticket's pages."""
    return [page for page in made.pages if page.label.startswith("ticket")]


def ticket_texts(made: Document) -> list[list[Text]]:
    """The text of each of the ticket's pages."""
    return [[m for m in page.marks if isinstance(m, Text)] for page in ticket_pages(made)]


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
        "Each panel: finished 60 in wide × 80 in long",
        "99 in",
    ):
        assert word in words


@pytest.mark.parametrize(
    ("head", "window", "expected"),
    [
        # (60 - 1 1/2 - 3 - 16)/7 = 5 9/14 in of gap, 7 9/14 of pitch, from 2 1/2 in.
        ("", FULL, [["2 1/2 in", "63.5 mm"], ["≈ 10 1/8 in", "257.6 mm"]]),
        # (1500 - 37.1 - 75 - 8 x 50.8)/7 = 140.21 mm of gap, 191.01 of pitch, from 62.5 mm.
        ('units = "mm"', "width = 1500\nleading = 37.1\ncount = 8", [["62.5 mm"], ["253.5 mm"]]),
    ],
)
def test_hole_centres(head: str, window: str, expected: list[list[str]]) -> None:
    """Holes are listed as running measures from the leading edge, in inches with mm beside."""
    texts = ticket_texts(made(job_toml(window, head=head)))[0]
    cells = [text.text for text in texts if text.role == Role.HOLE_CENTRE]
    parts = 1 + len(expected[0])
    holes = {int(cells[i]): cells[i + 1 : i + parts] for i in range(0, len(cells), parts)}
    assert sorted(holes) == list(range(1, 9))
    assert [holes[1], holes[2]] == expected


def test_findings_and_assumptions() -> None:
    """What is wrong stands with its level, what was assumed in words with its value."""
    words = said(made(job_toml("width = 60\ncount = 7"), accepted=frozenset({"odd-count"})))
    for word in ("STOP", "use an even count, 6 or 8", "ACCEPTED all the same (odd-count) by:"):
        assert word in words
    for word in ("Paper letter", "Stack, each eyelet 1 1/4 in", "Ring thickness 0, not given"):
        assert word in words


def test_advice_and_lines_to_sign() -> None:
    """How to print, what a wrong bar means, the cautions, and who marked, punched and checked."""
    words = said(made(job_toml(FULL)))
    for word in ("actual size", "about 90 mm", "94 mm", "96 to 97 mm", "60 in, and may be off by"):
        assert word in words
    for word in ("Press and die", "Ladders", "fire codes", "Marked", "Punched", "Checked"):
        assert word in words


LONG = "bay " * 4700  # with WORD almost 20,000 characters, the most a text may have
WORD = "x" * 1000
MANY = [f'name = "Bay {i}"\nwidth = {40 + i}' for i in range(1, 41)]


@pytest.mark.parametrize(
    "toml",
    [
        pytest.param(job_toml(FULL, job=DETAILS), id="usual"),
        pytest.param(job_toml(IN_MM, head='units = "mm"', job=DETAILS), id="mm"),
        pytest.param(job_toml('width = 60\npanels = "single"'), id="single"),
        pytest.param(job_toml("width = 60", eyelet=f'{RING}\nhung = "hooks"'), id="hooks"),
        pytest.param(job_toml("width = 60\ncount = 7"), id="accepted"),
        pytest.param(
            job_toml("width = 1500\ncount = 200"), id="200 eyelets", marks=pytest.mark.long
        ),
        pytest.param(job_toml(*MANY), id="40 windows", marks=pytest.mark.long),
        pytest.param(job_toml(FULL, job=f'number = "{WORD}"'), id="number"),
        pytest.param(job_toml(FULL, job=f'client = "{LONG}"\nroom = "{WORD}"'), id="client"),
        pytest.param(job_toml(FULL, job=f'notes = "{LONG}{WORD}"'), id="notes"),
        pytest.param(job_toml(FULL).replace("linen store", LONG + WORD[:300]), id="name"),
        pytest.param(job_toml(f'{FULL}\nname = "{LONG}"'), id="window"),
        pytest.param(job_toml(f'{FULL}\nname = "{WORD}"', FULL), id="window's word"),
        pytest.param(job_toml(FULL, tables=f'[fabric]\nname = "{LONG}"'), id="cloth"),
        pytest.param(job_toml(FULL, tables='[paper]\nsize = "5.5 x 8.5 in"'), id="narrow"),
        pytest.param(
            job_toml("width = 60\ncount = 7", tables='[paper]\nsize = "5 x 5 in"\nmargin = 0'),
            id="least",
        ),
        pytest.param(job_toml(FULL, tables='[paper]\nsize = "a3"\nmargin = "2 in"'), id="margin"),
        pytest.param(
            job_toml(FULL, tables='[paper]\nsize = "213.6 x 213.6 mm"\nmargin = "50 mm"'),
            id="least within a margin",
        ),
    ],
)
def test_nothing_outside_and_nothing_on_anything(toml: str) -> None:
    """Every mark lies within the margins and no text on another, however much there is to say."""
    document = made(toml, typeface(), frozenset({"odd-count"}))
    margin = float(read_job(toml.encode(), "job.toml").paper.margin)
    for page in ticket_pages(document):
        check_page(document, page, margin)


def check_page(document: Document, page: Page, margin: float) -> None:
    """A page's marks within its margins, its texts apart."""
    for left, bottom, right, top in map(drawing.box, page.marks):
        assert min(left, bottom) >= margin - 1e-6
        assert right <= float(document.width) - margin + 1e-6
        assert top <= float(document.height) - margin + 1e-6
    boxes = sorted((drawing.box(m) for m in page.marks if isinstance(m, Text)), key=lambda b: b[1])
    for i, (left, _, right, top) in enumerate(boxes):
        for other in boxes[i + 1 :]:
            if other[1] >= top - 1e-6:
                break
            assert other[0] >= right - 1e-6 or left >= other[2] - 1e-6


@pytest.mark.parametrize(
    "key", ["name", "number", "client", "room", "notes", "window", "fabric", "lining"]
)
def test_nothing_is_cut_off(key: str) -> None:
    """Twenty thousand characters of any name are all there, to the last word."""
    long = f"{LONG}{WORD} the last of it"
    table = key in {"fabric", "lining"}
    toml = job_toml(
        f'{FULL}\nname = "{long}"' if key == "window" else FULL,
        job=f'{key} = "{long}"' if key in {"number", "client", "room", "notes"} else "",
        tables=f'[{key}]\nname = "{long}"' if table else "",
    )
    if key == "name":
        toml = toml.replace("Heron Point, linen store", long)
    words = said(made(toml))
    assert words.count("bay") >= 4700
    assert words.count("x") >= 1000
    assert "the last of it" in words


@pytest.mark.long
def test_every_hole_of_many() -> None:
    """Two hundred holes are each listed once, in order of their numbers down the columns."""
    found = made(job_toml("width = 1500\ncount = 200"))
    numbers = [
        [int(t.text) for t in page if t.role == Role.HOLE_CENTRE and t.bold]
        for page in ticket_texts(found)
    ]
    assert sorted(n for page in numbers for n in page) == list(range(1, 201))


def test_how_many_to_make_is_never_cut() -> None:
    """However long a window's name, the line with it says of which side and how many."""
    found = made(job_toml(f'{FULL}\nname = "{LONG}"'))
    assert "a pair, make 3" in said(found)


@pytest.mark.parametrize(
    ("panels", "expected"),
    [
        ("pair", "Window 1: a pair"),
        ("left", "Window 1: a left panel"),
        ("right", "Window 1: a right panel"),
        ("single", "Window 1: a single panel, returns at both ends"),
    ],
)
def test_which_panels(panels: str, expected: str) -> None:
    """A window's line says which panels it has, and where its holes are measured from."""
    words = said(made(job_toml(f'width = 60\npanels = "{panels}"')))
    assert expected in words
    edge = "left" if panels == "single" else "leading"
    assert f"each from the {edge} edge" in words


def test_gaps_by_their_letters() -> None:
    """Front and back gaps are counted with the letters they have on the template."""
    found = made(job_toml(FULL, tables='[paper]\nletters = ["R", "W"]'))
    assert "4 front (R), 3 back (W)" in said(found)


def test_hooks_have_no_front_and_back() -> None:
    """On hooks the ticket says so instead of counting gaps."""
    words = said(made(job_toml("width = 60", eyelet=f'{RING}\nhung = "hooks"')))
    assert "from hooks" in words
    assert " front (F)" not in words


def test_finding_of_one_window_names_it() -> None:
    """A finding of one window stands at it; an assumption names the windows it is of."""
    found = made(job_toml('name = "Bay"\nwidth = 60\ncount = 7', "width = 60\nleading = 2"))
    words = said(found)
    bay, finding, other = (words.index(w) for w in ("Bay: a pair", "STOP", "Window 2: a pair"))
    assert bay < finding < other
    assert words.count("7 eyelets would turn") == 1
    assert "1 1/2 in (Bay)" in words


def test_no_findings_are_said() -> None:
    """That nothing was found is said too, so that nobody looks for a lost line."""
    assert "Warnings none" in said(made(job_toml(FULL, eyelet=f'{RING}\nthickness = "1/8"')))


def test_closing_dimension() -> None:
    """Strips of one length name it to be taped to; where they differ each panel's own counts."""
    check = "Check the strip: measure it from panel end to panel end, its holes from both ends. ·"
    assert f"{check} 60 in, and may be off by " in said(made(job_toml(FULL, FULL)))
    assert f"{check} Strip A, Window 1: 60 in, and" in said(made(job_toml(FULL, "width = 50")))


def test_every_page_has_its_foot() -> None:
    """Every page of a ticket says whose it is and which of how many."""
    document = made(job_toml(*MANY[:5], job=DETAILS))
    pages, whole = ticket_texts(document), len(document.pages)
    feet = [[text.text for text in page if text.role == Role.FOOT] for page in pages]
    assert feet == [
        [
            "HP-201 · Heron Point, linen store",
            f"ticket, page {i} of {len(pages)} · {i} of {whole} in all",
        ]
        for i in range(1, len(pages) + 1)
    ]


words_of_all_kinds = st.text(st.characters(codec="utf-8"), min_size=1, max_size=200)


@given(name=words_of_all_kinds, notes=words_of_all_kinds, client=words_of_all_kinds)
@searched(30)
def test_any_words_fit(name: str, notes: str, client: str) -> None:
    """Whatever the words, right to left and unassigned ones too, they stay in their places."""
    job = job_of("width = 30\ncount = 4")
    job = replace(job, details=replace(job.details, name=name, notes=notes, client=client))
    found = document(job, plan(job), typeface())
    for page in ticket_pages(found):
        check_page(found, page, float(job.paper.margin))


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
    first = next(i for i, label in enumerate(labels) if not label.startswith("ticket"))
    assert labels[first] == "Window 1, left and right panel, assembly 1"
    assert not any(label.startswith("ticket") for label in labels[first:])
    sheets = [label for label in labels[first + 1 :] if ", sheet " in label]
    assert sheets == [
        f"Window 1, left and right panel, sheet {i} of {len(sheets)}"
        for i in range(1, 1 + len(sheets))
    ]
    assert job_of(FULL).paper.width == document.width
