"""The work on the ticket: every step in its order, with a box, and what it needs of the job."""

from __future__ import annotations

import re

import pytest

from drapetemplate.document.job_document import documents
from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import job_of

FULL = "width = 60\nlength = 84\ncount = 8"
CLOTH = "[fabric]\nwidth = 54"
TAPED = "(tape, check, mark, punch)"


def steps(*windows: str, tables: str = "", eyelet: str | None = None, head: str = "") -> list[str]:
    """Each step of the ticket in words, its box and number first."""
    more = {} if eyelet is None else {"eyelet": eyelet}
    job = job_of(*windows, tables=tables, head=head, **more)
    pages = [page for one in documents(job, plan(job), typeface()) for page in one.pages]
    lines = [
        mark.text
        for page in pages
        if page.label.startswith("ticket")
        for mark in page.marks
        if isinstance(mark, Text) and mark.role == Role.STEP
    ]
    found: list[str] = []
    for line in lines:
        if re.fullmatch(r"☐ \d+", line):
            found.append(line)
        else:
            found[-1] += f" {line}"
    return found


def test_in_order() -> None:
    """Cloth, cut, print, bars, tape, check, mark, test, punch, check, press, hang; each once."""
    found = steps(FULL, tables=CLOTH)
    starts = (
        "Check and buy what",
        "Cut, seam and hem",
        "Print at actual size",
        "Measure the bars",
        "Tape",
        "Check the strip",
        "Mark",
        "Test on scrap",
        "Punch and set",
        "Check each panel against the strip",
        "Press each panel",
        "Hang",
    )
    assert len(found) == len(starts)
    for number, (step, start) in enumerate(zip(found, starts, strict=True), 1):
        assert step.startswith(f"☐ {number} {start}")


def test_without_cloth() -> None:
    """Where the job names no cloth a panel is made up to its size, and no cutting page is named."""
    first, second, *rest = steps(FULL)
    assert first.startswith("☐ 1 Make each panel up")
    assert second.startswith("☐ 2 Print")
    assert not [step for step in rest if "cutting page" in step]


def test_spliced_band_is_minded() -> None:
    """Where a panel's band is spliced its step says so, with cloth or without; else it doesn't."""
    for tables in (CLOTH, ""):
        short = f'{tables}\n[band]\nroll = "40 in"'
        spliced = [s for s in steps(FULL, tables=short) if "Splice" in s]
        assert len(spliced) == 1
        assert "heading and band in" in spliced[0]
        assert "Butt the ends of a splice" in spliced[0]
        whole = steps(FULL, tables=f'{tables}\n[band]\nroll = "60 in"')
        assert not [step for step in whole if "Splice" in step]


@pytest.mark.parametrize(
    ("units", "bar", "strip"),
    [
        # 60 in are 1524 mm: 3.81 mm, and six joins of 1/4 mm: 5.31 mm, 6.7 of 1/32 in.
        ("in", "off by 0.01 in at most", "60 in, and may be off by 3/16 in."),
        ("mm", "off by 0.25 mm at most", "1524 mm, and may be off by 5 mm."),
    ],
)
def test_tolerances(units: str, bar: str, strip: str) -> None:
    """Where bars are measured it says what they may be off, and what a strip then may be."""
    head = f'units = "{units}"\n'
    eyelet = 'outside = "2 in"\nopening = "1 in"'
    window = 'width = "60 in"\nlength = "84 in"\ncount = 8'
    tables = '[paper]\nsize = "letter"\njoins = "even"\norientation = "landscape"'
    words = " ".join(steps(window, tables=tables, head=head, eyelet=eyelet))
    assert bar in words
    assert strip in words
    assert "calibrate" in words
    assert "Off by more: its assembly page says what to do" in words


def test_strips_that_differ() -> None:
    """Strips of several lengths are listed with what each may be off; very many on their pages."""
    [check] = [
        step
        for step in steps(FULL, 'name = "Hall"\nwidth = 30\nlength = 84\ncount = 4')
        if "Check the strip" in step
    ]
    assert "Strip A, Window 1: 60 in, and may be off by " in check
    assert "Strip C, Hall: 30 in, and may be off by " in check
    many = (f"width = {30 + n}\nlength = 84\ncount = 4" for n in range(7))
    [check] = [step for step in steps(*many) if "Check the strip" in step]
    assert "Strip A" not in check
    assert "By the measures on its assembly page" in check


def test_nothing_to_tape() -> None:
    """A strip that is one page of a roll isn't taped, but checked all the same."""
    found = steps(FULL, tables='[paper]\nsize = "24 in roll"')
    assert not [step for step in found if "Tape" in step or "joins" in step]
    [check] = [step for step in found if "Check the strip" in step]
    assert "60 in, and may be off by 1/8 in." in check
    assert "Off evenly (half way along by half as much): that is the printer." in check
    assert "assembly page" not in check


@pytest.mark.parametrize("style", ["whole", "stepping"])
def test_cut_by_a_machine(style: str) -> None:
    """Beside printing stands what a cut file leaves to the machine."""
    found = steps(FULL, tables=f"[paper]\nstyle = {style!r}")
    [printing] = [step for step in found if "Print at actual size" in step]
    assert "Cut files carry no blade offset: the machine's own settings do." in printing


def test_stepped() -> None:
    """Pieces to step along have no assembly page and make no strip: no step names either."""
    found = steps(FULL, tables='[paper]\nstyle = "stepping"')
    words = " ".join(found)
    assert "assembly page" not in words
    assert "the strip" not in words
    assert "Tape each piece. · Cut each sheet into its parts" in words
    assert "Cut every part but the first on its solid left line" in words
    assert "as the stepping page says" in words
    assert "Check each panel against the ticket's hole centres." in words


def test_a_step_stays_on_one_page() -> None:
    """No step is parted over two pages, wherever on the page the list begins."""
    for count in range(1, 9):
        notes = "Mind the newel post. " * (14 * count)
        job = job_of(FULL, job=f'notes = "{notes}"', tables='[paper]\nsize = "5.5 x 8.5 in"')
        for page in documents(job, plan(job), typeface())[0].pages:
            marks = [m for m in page.marks if isinstance(m, Text) and m.role == Role.STEP]
            assert not marks or re.fullmatch(r"☐ \d+", marks[0].text)


def test_on_hooks_no_hanging_page() -> None:
    """What hangs on hooks has no page of its hanging, so the step names none."""
    [last] = steps("width = 70", eyelet='outside = 1\nopening = "1/2"\nhung = "hooks"')[-1:]
    assert "hanging page" not in last
    assert last.split(" ", 2)[2].startswith("Hang. · Ladders")


@pytest.mark.parametrize(("panels", "edge"), [("left", "leading"), ("single", "left")])
def test_where_the_strip_is_laid(panels: str, edge: str) -> None:
    """The strip is laid from the edge that its measures begin at."""
    said = " ".join(steps(f'{FULL}\npanels = "{panels}"'))
    line = f"the line of the {edge} edge, not the paper's end, on the panel's {edge} edge."
    assert line in said


def test_the_return_fold_is_marked_and_not_pressed() -> None:
    """Where a strip marks a return fold, the list says what is done with it; elsewhere nothing."""
    told = "Mark the RETURN FOLD, don't press it: it is folded when the panel hangs."
    [mark] = [step for step in steps(FULL) if " Mark." in step]
    assert told in mark
    on_hooks = steps("width = 70", eyelet='outside = 1\nopening = "1/2"\nhung = "hooks"')
    assert "RETURN FOLD" not in " ".join((*on_hooks, *steps(f"{FULL}\nreturn = 0")))


@pytest.mark.parametrize(
    ("size", "where"), [("letter", "sheet before taping"), ("24 in roll", "page before it is cut")]
)
def test_when_bars_are_measured(size: str, where: str) -> None:
    """Bars are measured before sheets are taped, and of a roll before its pages are cut apart."""
    said = " ".join(steps(FULL, tables=f'[paper]\nsize = "{size}"'))
    assert f"Measure the bars on every {where}: 100 mm and 4 in, across and down." in said


def test_motifs_are_looked_at_where_the_strip_marks_them() -> None:
    """Where the strip has motifs the list says what lies under its lozenges; else it doesn't."""
    window = 'width = 82\nlength = 84\ncount = 12\nreturn = 3\npattern = "folds"'
    plain = f"{CLOTH}\nrepeat_across = 7"
    for tables, told in ((f"{plain}\nmotif = 2", True), (plain, False)):
        [mark] = [step for step in steps(window, tables=tables) if " Mark." in step]
        assert ("A motif's centre lies under every lozenge" in mark) is told


def test_the_top_line_lies_on_the_top_edge() -> None:
    """Paper stands over the band's line, so that the line is laid on the edge and not the paper."""
    [mark] = [step for step in steps(FULL) if " Mark." in step]
    assert "the line marked TOP on the panel's top edge, the paper standing over it" in mark
    assert "shows at the far end: leave it there" in mark


def test_rows_are_named_where_there_are_some() -> None:
    """Of a strip in one row no sheet is cut along its top; one higher than its paper has rows."""
    tall = '[band]\nheight = 12\nabove = 3\n[paper]\nsize = "5 x 8 in"\nmargin = "1/4"'
    said = {
        tables: " ".join(steps("width = 60\ncount = 8", tables=tables)) for tables in ("", tall)
    }
    assert ["top line too" in words for words in said.values()] == [False, True]
    assert "rows" not in said[""]


def test_a_step_is_short() -> None:
    """What is done takes two lines at most, and so does each thing that it needs."""
    for tables in (CLOTH, '[paper]\nstyle = "stepping"', '[paper]\nsize = "24 in roll"'):
        job = job_of(FULL, "width = 30\nlength = 84\ncount = 4", tables=tables)
        marks = [
            mark
            for document in documents(job, plan(job), typeface())
            for page in document.pages
            if page.label.startswith("ticket")
            for mark in page.marks
            if isinstance(mark, Text) and mark.role == Role.STEP
        ]
        run = 0
        for mark in marks:
            run = 0 if re.fullmatch(r"☐ \d+|·", mark.text) else run + 1
            assert run <= 2, mark.text


def test_every_wrong_reading_has_its_line() -> None:
    """Each setting that scales a page has a line of its own under the bars, and the 4 in bar."""
    job = job_of(FULL)
    [page, *_] = documents(job, plan(job), typeface())
    said = [mark for page in page.pages[:2] for mark in page.marks if isinstance(mark, Text)]
    for reading in ("about 90 mm", "about 94 mm", "96 to 97 mm", "about 97.3 mm", "101.6 mm"):
        [name] = [mark for mark in said if mark.text == reading]
        assert [mark.text for mark in said if mark.y == name.y and mark.x > name.x]


@pytest.mark.parametrize(
    ("tables", "pages"),
    [
        (
            CLOTH,
            f"CUTTING (buy, cut, sew), then ASSEMBLY and sheets {TAPED}, then HANGING (hang).",
        ),
        ("", f"ASSEMBLY and sheets {TAPED}, then HANGING (hang)."),
        (
            '[paper]\nstyle = "stepping"',
            f"each STEPPING and sheets {TAPED}, then HANGING (hang).",
        ),
        (
            '[paper]\nsize = "24 in roll"',
            "the roll's sheets (check, mark, punch), then HANGING (hang).",
        ),
    ],
)
def test_page_one_says_what_follows(tables: str, pages: str) -> None:
    """In one line, in the order of the pages, which there are and what each is for."""
    job = job_of(FULL, tables=tables)
    read = [page for one in documents(job, plan(job), typeface()) for page in one.pages]
    marks = [mark for page in read for mark in page.marks if mark.role == Role.PAGES]
    assert [mark.text for mark in marks if isinstance(mark, Text)] == [f"Next: {pages}"]
    first = [page for page in read if page.label == "ticket 1"]
    assert marks[0] in first[0].marks
    kickers = (
        mark.text
        for page in read
        for mark in page.marks
        if isinstance(mark, Text) and mark.role == Role.KICKER and mark.text != "JOB TICKET"
    )
    kinds = list(dict.fromkeys(kickers))
    assert kinds == sorted(kinds, key=pages.find)
    assert all(kind in pages for kind in kinds)
