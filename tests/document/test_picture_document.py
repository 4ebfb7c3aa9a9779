"""Pictures on pages of their own: nothing off the page, nothing lost, nothing over a text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import combinations, pairwise

import pytest

from drapetemplate.document.model import Document
from drapetemplate.document.picture_document import MARGIN, WIDTH, comparison_sheets, panel_pictures
from drapetemplate.drawing.marks import Line, Mark, Text, box
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.compare import compare
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import RING, job_of
from tests.helpers.marks import texts

USUAL = "width = 60\nfullness = 2\nlength = 84"
WALL = '[pole]\nprojection = 4\ndiameter = "7/8"'
NEAR = '[pole]\nprojection = 2\ndiameter = "7/8"'
TWENTY = tuple(range(2, 42, 2))
HOOKS = RING + '\nhung = "hooks"'
LONG = 'name = "' + "Heron Point, the long room over the boat store, " * 4 + '"\n'


def pictured(*windows: str, tables: str = WALL, eyelet: str = RING) -> Document:
    """A job's picture."""
    job = job_of(*windows, tables=tables, eyelet=eyelet)
    return panel_pictures(job, plan(job), typeface())[0]


def compared(job: Job, counts: Iterable[int] = ()) -> Document:
    """A job's counts side by side."""
    return comparison_sheets(job, compare(job, list(counts)), typeface())


def captions(document: Document) -> str:
    """All captions of all pages, in order, wrapped lines joined."""
    return " ".join(
        m.text for p in document.pages for m in texts(p.marks) if m.role == Role.CAPTION
    )


def apart(marks: Iterable[Mark]) -> None:
    """Fail where two texts' boxes meet."""
    for one, other in combinations(texts(marks), 2):
        left, bottom, right, top = box(one)
        left2, bottom2, right2, top2 = box(other)
        clear = left >= right2 or left2 >= right or bottom >= top2 or bottom2 >= top
        assert clear, (one.text, other.text)


def inside(document: Document, margin: float) -> None:
    """Fail where a mark leaves a page's margins; a centred thousandth is rounding."""
    for page in document.pages:
        for mark in page.marks:
            left, bottom, right, top = box(mark)
            assert min(left, bottom) >= margin - 1e-3, mark
            assert right <= float(document.width) - margin + 1e-3, mark
            assert top <= float(document.height) - margin + 1e-3, mark


def under_its_caption(marks: Iterable[Mark]) -> None:
    """Fail where a mark of a picture reaches up into the caption over it."""
    low = float("inf")
    for mark in marks:
        if isinstance(mark, Text) and mark.role in {
            Role.CAPTION,
            Role.SECTION,
            Role.TITLE,
            Role.TEXT,
        }:
            low = min(low, box(mark)[1])
        else:
            assert box(mark)[3] <= low + 1e-3 or mark.role == Role.RULE, mark


@pytest.mark.parametrize("tables", [WALL, NEAR, ""])
@pytest.mark.parametrize(
    "windows",
    [
        (USUAL,),
        (USUAL, 'width = 120\npanels = "single"\ncount = 4', 'name = "North"\nwidth = 30'),
        ("width = 60\ncount = 7",),
        (LONG + USUAL,),
    ],
)
def test_panel_picture(windows: tuple[str, ...], tables: str) -> None:
    """One page that holds every window, as high as it takes, with no text over another."""
    document = pictured(*windows, tables=tables)
    (page,) = document.pages
    assert float(document.width) == WIDTH
    inside(document, MARGIN)
    apart(page.marks)
    under_its_caption(page.marks)
    lowest = min(box(mark)[1] for mark in page.marks)
    assert lowest == pytest.approx(MARGIN, abs=0.5)  # no empty foot
    assert len(windows) == sum("heading laid flat" in text for text in heads(document))


def heads(document: Document) -> list[str]:
    """The captions' lines."""
    return [m.text for m in texts(document.pages[0].marks) if m.role == Role.CAPTION]


def test_panel_picture_on_hooks() -> None:
    """On hooks there is the flat heading alone."""
    document = pictured("width = 60", eyelet=HOOKS)
    inside(document, MARGIN)
    assert [text.split(",")[0] for text in heads(document)] == [
        "The left panel's heading laid flat"
    ]


def test_too_many_windows_for_a_picture() -> None:
    """Windows that one page can't take have a page each, and none is drawn over another."""
    job = job_of(*[USUAL] * 60, tables=WALL)
    found = panel_pictures(job, plan(job), typeface())
    assert [
        [m.text for m in texts(one.pages[0].marks) if m.text[:7] == "Window "] for one in found
    ] == [[f"Window {n}"] for n in range(1, 61)]
    for one in found:
        apart(one.pages[0].marks)


@pytest.mark.parametrize(
    ("counts", "tables", "eyelet"),
    [
        *(((4, 8, 30), tables, RING) for tables in (WALL, NEAR, "")),
        ((), WALL, RING),
        ((), '[paper]\nsize = "tabloid"\nmargin = "20 mm"', RING),
        ((), WALL, HOOKS),
        pytest.param(TWENTY, WALL, RING, marks=pytest.mark.long),
        (TWENTY, "", HOOKS),
    ],
)
def test_comparison_sheets(tables: str, counts: tuple[int, ...], eyelet: str) -> None:
    """Every count once, at one scale for a window, inside the margins, texts apart."""
    job = job_of(USUAL, 'name = "North"\nwidth = 90', tables=tables, eyelet=eyelet)
    comparisons = compare(job, list(counts))
    document = comparison_sheets(job, comparisons, typeface())
    inside(document, float(job.paper.margin))
    for page in document.pages:
        apart(page.marks)
        under_its_caption(page.marks)
    # 20 counts don't fit a letter page at any scale: their words alone would.
    pages = [[p.marks for p in document.pages if p.label == name] for name in ("Window 1", "North")]
    if len(counts) < 20:
        assert [len(each) for each in pages] == [1, 1]
    for each, comparison in zip(pages, comparisons, strict=True):
        marks = [mark for page in each for mark in page]
        (scale,) = re.findall(r"All at 1:(\d+)\.", " ".join(m.text for m in texts(marks)))
        heads = [m for m in texts(marks) if m.role == Role.CAPTION]
        shown = [int(m[1]) for h in heads if (m := re.match(r"(?:.*· )?(\d+) eyelets", h.text))]
        assert shown == [choice.count for choice in comparison.choices]
        bold = next(m.text for m in heads if m.bold)
        chosen = next(c.count for c in comparison.choices if c.chosen)
        assert bold.startswith(f"THE JOB'S COUNT · {chosen} eyelets")
        bands = [m for m in marks if m.role == Role.BAND]
        fitting = [c.window.panels[0] for c in comparison.choices if c.window is not None]
        assert len(bands) == len(fitting)
        for band, panel in zip(bands, fitting, strict=True):
            left, _, right, _ = box(band)
            assert (right - left) * int(scale) == pytest.approx(float(panel.width), abs=1e-6)


def test_comparison_takes_the_largest_scale() -> None:
    """At the next larger customary scale not all counts would fit the page or its width."""
    few, many = (compared(job_of(USUAL, tables=WALL), c) for c in ([14], range(2, 20, 2)))
    scales = [
        int(re.findall(r"1:(\d+)", " ".join(m.text for m in texts(d.pages[0].marks)))[0])
        for d in (few, many)
    ]
    # 60 in are 1524 mm, across 190.5 mm less 14: at 1:8 they take 190.5, at 1:10 152.4.
    assert scales[0] == 10
    assert scales[1] > scales[0]


@pytest.mark.long
def test_too_many_counts_for_a_page() -> None:
    """Where no scale fits one page the counts go on over more, none lost, and as large as they can.

    At 1:60 a panel of 400 in takes 169 mm of the 190.5 less 14 there are, at 1:50 203.
    """
    job = job_of("width = 400", tables=WALL)
    counts = list(range(2, 62, 2))
    document = compared(job, counts)
    assert len(document.pages) > 1
    assert "All at 1:60." in " ".join(m.text for m in texts(document.pages[0].marks))
    inside(document, float(job.paper.margin))
    found = [int(n) for n in re.findall(r"(\d+) eyelets, ", captions(document))]
    assert found == sorted({*counts, *found})
    assert set(counts) <= set(found)


def test_fault_instead_of_a_picture() -> None:
    """A count without room is told in words where its picture would be."""
    document = compared(job_of(USUAL, tables=WALL), [60])
    assert re.search(r"60 eyelets: 60 eyelets of 2 in don't fit across 60 in", captions(document))


def test_captions_say_what_is_wrong() -> None:
    """A count whose folds hit the wall says so in words, and how far past it they are.

    Sixteen stack to (60 - 3 - 2)/15/2 = 1 5/6 in of the 2 to the wall: 1 7/8 up, 1/8 free down.
    """
    document = compared(job_of(USUAL, tables=NEAR), [4, 16])
    _, four, sixteen = re.split(r"(?=\b(?:4|16) eyelets, )", captions(document))
    past = (
        r"free to the wall: none closed \([0-9/ ]+ in past it\), none stacked \(.+ in past it\), "
    )
    assert re.search(past + r"1/2 in asked for · STOP back folds hit the wall · WARN", four)
    assert "back-fold-hits-wall" not in four
    room = r"up to 1 7/8 in stacked · free to the wall: .+ in closed, 1/8 in stacked, 1/2 in asked"
    assert re.search(room, sixteen)
    assert "WARN stacked, back folds hit the wall" in sixteen


def test_hooks_are_not_said_to_hang_at_a_wall() -> None:
    """The page's opening words fit what is shown."""
    words = " ".join(
        m.text for m in texts(compared(job_of("width = 60", eyelet=HOOKS)).pages[0].marks)
    )
    assert "wall" not in words
    assert "Each count's heading laid flat." in words


def test_walls_of_one_page_line_up() -> None:
    """On a page of one scale every count's wall stands equally far over its pole."""
    (page,) = compared(job_of(USUAL, tables=WALL)).pages
    upright = [
        (mark.role, float(mark.y1))
        for mark in page.marks
        if isinstance(mark, Line) and mark.role in {Role.WALL, Role.POLE_AXIS}
    ]
    apart = [abs(a[1] - b[1]) for a, b in list(pairwise(upright))[::2]]
    assert len(apart) == 6
    assert apart == pytest.approx([apart[0]] * 6, abs=1e-9)


@pytest.mark.parametrize(("units", "size"), [("in", "letter"), ("mm", "a4")])
def test_counts_of_a_roll_job_go_on_sheets(units: str, size: str) -> None:
    """Counts side by side are to be read: of a job on a roll they stand on letter or A4."""
    window = USUAL if units == "in" else "width = 1500\nfullness = 2\nlength = 2100"
    job = job_of(window, head=f'units = "{units}"', tables='[paper]\nsize = "24 in roll"')
    sheets = job_of(USUAL, tables=f'[paper]\nsize = "{size}"').paper
    found = compared(job, [6, 8])
    assert (found.width, found.height) == (sheets.width, sheets.height)
