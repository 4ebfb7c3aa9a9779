"""Everything of one PDF before there is one: its pages in order, their size, its own findings."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

import pytest

from drapetemplate import drawing
from drapetemplate.document.job_document import document, documents
from drapetemplate.document.model import Document
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Arc, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import PaperError
from drapetemplate.planning.model import Finding
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import inches, job_of, plan_of
from tests.helpers.strips import FIXED


def made(
    *windows: str, head: str = "", job: str = "", tables: str = "", face: Typeface = FIXED
) -> Document:
    """The document of a job."""
    read = job_of(*windows, head=head, job=job, tables=tables)
    return document(read, plan(read), face)


def labels(found: Document) -> list[str]:
    """The label of every page but the ticket's and those for whoever hangs it."""
    read = ("ticket ", "hanging ")
    return [page.label for page in found.pages if not page.label.startswith(read)]


def test_ticket_comes_first() -> None:
    """The ticket's pages, numbered from 1, stand before every sheet."""
    found = made("width = 40", "width = 50", job='notes = """' + "word " * 3000 + '"""')
    tickets = [page.label for page in found.pages if page.label.startswith("ticket ")]
    assert len(tickets) > 2
    assert tickets == [f"ticket {i}" for i in range(1, len(tickets) + 1)]
    assert tickets == [page.label for page in found.pages[: len(tickets)]]


def test_sheets_follow_in_order() -> None:
    """Window after window, left before right, every sheet numbered of how many."""
    tables = '[paper]\nstrips = "each"'
    found = made('name = "Bay"\nwidth = 20', 'width = 14\npanels = "single"', tables=tables)
    sheets = [label for label in labels(found) if "assembly" not in label]
    starts = [label.split(", sheet ")[0] for label in sheets]
    assert sorted(set(starts), key=starts.index) == [
        "Bay, left panel",
        "Bay, right panel",
        "Window 2, single panel",
    ]
    left = [label for label in sheets if "left" in label]
    assert left == [f"Bay, left panel, sheet A{i} of {len(left)}" for i in range(1, len(left) + 1)]
    right = [label for label in sheets if "right" in label]
    assert right[0] == f"Bay, right panel, sheet C1 of {len(right)}"


def test_assembly_comes_before_its_sheets() -> None:
    """Each strip's assembly page stands before its first sheet; one whole on a sheet has none."""
    tables = '[paper]\nsize = "tabloid"\nstrips = "each"'
    found = labels(made('name = "Bay"\nwidth = 20\ncount = 4', tables=tables))
    for side, letter in (("left", "A"), ("right", "C")):
        at = found.index(f"Bay, {side} panel, assembly 1")
        assert found[at + 1].startswith(f"Bay, {side} panel, sheet {letter}1 of ")
    [page] = labels(made('width = 10\npanels = "single"\nreturn = 2', tables=tables))
    assert page == "Window 1, single panel, sheet 1 of 1"


def test_strip_is_made_once() -> None:
    """A window that is made nine times has one template, not nine; it may take a page more to say.

    What is taped once for all nine is told beside the measures, which may go on to a second page.
    """
    many, one = labels(made("width = 40\nquantity = 9")), labels(made("width = 40"))
    assert [label for label in many if not label.endswith("assembly 2")] == one
    assert sum(label.endswith("assembly 2") for label in many) <= 1


@pytest.mark.parametrize(
    ("tables", "width", "height"),
    [
        ("", inches("8 1/2"), inches("11")),
        ('[paper]\nsize = "a3"\norientation = "landscape"', Fraction(297), Fraction(420)),
        ('[paper]\nsize = "19 x 13 in"', inches("13"), inches("19")),
    ],
)
def test_pages_are_upright(tables: str, width: Fraction, height: Fraction) -> None:
    """Every page has the paper's size, upright, whichever way the strip runs; and it is exact."""
    found = made("width = 40", tables=tables)
    assert (width, height) == (found.width, found.height)


@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_nothing_outside_the_paper(orientation: str) -> None:
    """Every mark of every page lies on the paper, turned or not.

    Arcs are left out: their box is the whole circle's, and they are what is left of it on a sheet.
    """
    found = made("width = 60", tables=f'[paper]\norientation = "{orientation}"', face=typeface())
    for page in found.pages:
        whole = [mark for mark in page.marks if not isinstance(mark, Arc)]
        for left, bottom, right, top in map(drawing.box, whole):
            assert min(left, bottom) >= 0
            assert right <= float(found.width)
            assert top <= float(found.height)


def test_title_is_the_jobs_name() -> None:
    """The document is called what the job is called."""
    assert made("width = 40").title == "Heron Point, linen store"


def test_nothing_missing_is_no_finding() -> None:
    """Letters that the font has, accents and Greek among them, are no finding."""
    assert made("width = 40", job='client = "Zoë Ωμέγα, ½ № 3"', face=typeface()).findings == ()


@pytest.mark.parametrize(
    ("window", "job", "tables"),
    [
        ("width = 40", 'number = "\U0002a6d6"', ""),
        ("width = 40", 'client = "\U0002a6d6"', ""),
        ("width = 40", 'room = "\U0002a6d6"', ""),
        ("width = 40", 'notes = "\U0002a6d6"', ""),
        ('width = 40\nname = "\U0002a6d6"', "", ""),
        ("width = 40", "", '[paper]\nletters = ["\U0002a6d6", "B"]'),
        ("width = 40", "", '[fabric]\nname = "\U0002a6d6"'),
        ("width = 40", "", '[lining]\nname = "\U0002a6d6"'),
    ],
)
def test_missing_glyph(window: str, job: str, tables: str) -> None:
    """A character the font lacks is noted wherever the job says it."""
    assert made(window, job=job, tables=tables, face=typeface()).findings == (
        Finding(
            "note",
            "missing-glyph",
            "characters the printed font lacks are drawn as a stand-in: U+2A6D6",
        ),
    )


def test_many_missing_glyphs() -> None:
    """Of many missing characters eight are named, each once, and the rest are counted."""
    signs = "".join(chr(0x4E00 + i) for i in range(11))
    (finding,) = made("width = 40", job=f'notes = "{signs}{signs}"', face=typeface()).findings
    assert finding.text.count("U+") == 8
    assert finding.text.endswith("U+4E07 and 3 more")


def test_strip_across_a_roll_is_refused() -> None:
    """A strip that should run across a roll is refused with its key, before anything is drawn."""
    with pytest.raises(PaperError) as refused:
        made("width = 40", tables='[paper]\nsize = "24 in roll"\norientation = "portrait"')
    assert [fault.where for fault in refused.value.faults] == ["paper.orientation"]


def test_accepted_stop_is_signed_for() -> None:
    """A stop that someone takes on stands on the ticket with a line to sign; others don't."""
    job = job_of("width = 60\ncount = 7")
    for accepted, lines in ((frozenset({"odd-count"}), 1), (frozenset({"wont-close"}), 0)):
        pages = document(job, plan_of("width = 60\ncount = 7"), FIXED, accepted).pages
        marks = [mark for page in pages for mark in page.marks if isinstance(mark, Text)]
        assert lines == len([mark for mark in marks if mark.role == Role.ACCEPTED])


def test_pages_in_the_order_of_the_work() -> None:
    """Ticket, cutting, each strip's assembly and its sheets, then how it hangs."""
    tables = '[paper]\nstrips = "each"\n[fabric]\nwidth = 54'
    found = made("width = 40\nlength = 84", tables=tables)
    kinds = [next(kind for kind in KINDS if f"{kind} " in page.label) for page in found.pages]
    runs = [kind for kind, _ in groupby(kinds)]
    assert runs == ["ticket", "cutting", *["assembly", "sheet"] * 2, "hanging"]


@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_a_strips_sheets_end_with_the_same_marks(orientation: str) -> None:
    """Bars and map are one tuple for all sheets of a strip, over the grey that is each one's own.

    A strip of a single sheet has nothing to share, and its bars all the same.
    """
    found = made(
        "width = 60",
        'width = 7\npanels = "single"\nreturn = 1',
        tables=f'[paper]\nstrips = "each"\norientation = "{orientation}"',
    )
    sheets = [page for page in found.pages if ", sheet " in page.label]
    single, taped = sheets[-1], sheets[:-1]
    assert single.label == "Window 2, single panel, sheet D1 of 1"
    assert not single.shared
    assert sum(mark.role == Role.BAR_DOWN_IN for mark in single.marks) == 1
    for _, pages in groupby(taped, key=lambda page: page.part):
        first, *others = pages
        assert others
        assert all(page.shared is first.shared for page in others)
    for page in taped:
        end = len(page.marks) - len(page.shared)
        assert page.marks[end:] == page.shared
        assert not {*page.marks[:end]} & {*page.shared}
        own, shared = ({mark.role for mark in part} for part in (page.marks[:end], page.shared))
        on_all = {Role.BAR_TICK, Role.BAR_LABEL, Role.MAP_STRIP, Role.MAP_EYELET, Role.MAP_JOIN}
        assert on_all <= shared
        assert not on_all & own
        assert Role.MAP_SHEET in own


def test_a_rolls_pages_end_with_the_same_bars() -> None:
    """Its sheets lie at many places, the bars at one; a single page has nothing to share."""
    for width, pages in ((600, 2), (40, 1)):
        job = job_of(f"width = {width}\npanels = 'left'", tables='[paper]\nsize = "13 in roll"')
        strips, _ = documents(job, plan(job), typeface())
        assert len(strips.pages) == pages
        first = strips.pages[0]
        assert all(page.shared is first.shared for page in strips.pages)
        bars = [mark for mark in first.marks if mark.role.name.startswith("BAR_")]
        assert list(first.shared) == (bars if pages > 1 else [])
        assert bars == list(first.marks[-len(bars) :])


def test_strips_of_a_roll_apart() -> None:
    """With a roll what is read is a PDF of its own, in the same order."""
    job = job_of(
        "width = 40\nlength = 84",
        tables='[paper]\nsize = "24 in roll"\nstrips = "each"\n[fabric]\nwidth = 54',
    )
    strips, read = documents(job, plan(job), typeface())
    [page] = strips.pages
    assert page.label == "roll page 1 of 1, sheets A1, C1"
    assert (page.part, page.short, page.bookmark) == (
        "Roll",
        "roll page 1",
        "page 1 of 1, sheets A1, C1",
    )
    assert [(each.settings.number, each.settings.of) for each in (strips, read)] == [(1, 2), (2, 2)]
    assert [kind for kind, _ in groupby(page.label.split()[0] for page in read.pages)] == [
        "ticket",
        "cutting",
        "hanging",
    ]


KINDS = ("ticket", "cutting", "assembly", "sheet", "hanging")


def test_one_word_for_a_part() -> None:
    """Where a sheet carries parts one above another every page calls them parts."""
    found = made(
        "width = 40\nlength = 84\npanels = 'left'\n[window.band]\nheight = 2.5",
        tables='[paper]\norientation = "landscape"',
    )
    said = [mark.text for page in found.pages for mark in page.marks if isinstance(mark, Text)]
    assert any("cut apart into 1A, 1B" in words or "parts on each" in words for words in said)
    assert not [words for words in said if "lane" in words or "strip 1" in words]
