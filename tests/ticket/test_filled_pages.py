"""Paper isn't left blank: no page to read but a kind's last is short where more could stand on it.

How full a page is, and what could have stood there, is read from its marks alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from drapetemplate import drawing
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.ticket.cutting import cutting
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.hanging_pictures import hanging
from drapetemplate.ticket.job_ticket import ticket, ticket_paper
from tests.helpers.jobfiles import job_of
from tests.helpers.marks import texts

LEAST = 0.6
FOOT = {Role.FOOT, Role.FOOT_ROUNDED}
METRIC = 'units = "mm"\n'
METRIC_RING = "outside = 66\nopening = 40\nhole = 41\nthickness = 5"
PLAIN = "[pole]\ndiameter = 0.5\nprojection = 4\n[fabric]\nwidth = 54"
PATTERNED = (
    '[paper]\nsize = "a4"\n[pole]\ndiameter = 28\nprojection = 90\n'
    '[fabric]\nname = "gull stripe"\nwidth = 1400\nrepeat_down = 320\nrepeat_across = 175\n'
    '[lining]\nname = "plain sateen"\nwidth = 1370'
)
INCHES = (
    "covers = 44\nfullness = 2\nlength = 84",
    'panels = "right"\nwidth = 60\nlength = 84',
    'panels = "single"\nwidth = 40\nlength = 60',
    "covers = 60\nfullness = 2\nlength = 96\nquantity = 2",
    'panels = "left"\nwidth = 71\nlength = 100',
    "width = 50\nlength = 50",
)
MILLIMETRES = (
    "covers = 900\nfullness = 2\nlength = 2400",
    'panels = "single"\ncovers = 700\nfullness = 1.9\nlength = 2400\nquantity = 2',
    'panels = "left"\nwidth = 1500\nlength = 2100',
    "width = 1200\nlength = 1300",
    'panels = "single"\nwidth = 900\nlength = 2000',
    "covers = 1100\nfullness = 2.2\nlength = 2600",
)
# A little one first, and then so many holes that the next window has no room below it.
TALL = (
    "width = 20\nlength = 30\ncount = 2\nquantity = 2",
    *(f"width = {190 + n}\nlength = 84\ncount = 56" for n in range(5)),
)
KINDS = {
    "plain": (INCHES, PLAIN),
    "bare": (INCHES, ""),
    "tall": (TALL, ""),
    "patterned": (MILLIMETRES, PATTERNED),
}


def pages_read(kind: str, count: int) -> dict[str, tuple[tuple[Mark, ...], ...]]:
    """The pages to read of a job of so many windows that differ, by their kind."""
    windows, tables = KINDS[kind]
    metric = {"head": METRIC, "eyelet": METRIC_RING} if kind == "patterned" else {}
    named = [f'name = "Window {n}"\n{words}' for n, words in enumerate(windows[:count], 1)]
    job = job_of(*named, tables=tables, **metric)
    planned, paper, face = plan(job), ticket_paper(job, None), typeface()
    strips = strip_list(job, planned.windows, None)
    return {
        "ticket": ticket(job, planned, strips, (), frozenset(), paper, face),
        "cutting": cutting(job, planned, paper_flow(paper, face)),
        "hanging": hanging(job, planned, paper_flow(paper, face)),
    }


def room_of(page: tuple[Mark, ...]) -> tuple[float, float, float]:
    """The y where what flows on a page begins, where it ends, and where it could have ended."""
    boxes = [drawing.box(mark) for mark in page if mark.role not in FOOT]
    # 6 mm over the margin the foot.
    bottom = float(texts(page, Role.FOOT)[0].y) + 5
    return max(box[3] for box in boxes), min(box[1] for box in boxes), bottom


def short_pages(kind: str, count: int) -> Iterator[str]:
    """Every page that is less than `LEAST` full though it isn't the last of its kind."""
    for name, pages in pages_read(kind, count).items():
        for number, page in enumerate(pages[:-1], 1):
            top, low, bottom = room_of(page)
            if (top - low) / (top - bottom) < LEAST:
                yield f"{name}, page {number}: {(top - low) / (top - bottom):.2f}"


@pytest.mark.parametrize("count", range(1, 7))
@pytest.mark.parametrize("kind", KINDS)
def test_no_page_is_short(kind: str, count: int) -> None:
    """Jobs of one to six windows: every page but a kind's last is at least so full."""
    assert list(short_pages(kind, count)) == []


@pytest.mark.parametrize("kind", KINDS)
def test_what_goes_on_is_named_again(kind: str) -> None:
    """A window's size, count and cut stand under its name; what goes on has its name over it."""
    windows = 0
    for page in pages_read(kind, 6)["ticket"]:
        heads = [t for t in texts(page, Role.SECTION) if t.text.startswith("Window ")]
        for mark in texts(page, Role.HEADLINE):
            over = min((h for h in heads if h.y > mark.y), key=lambda head: head.y)
            assert "continued" not in over.text
        own = [head for head in heads if "continued" not in head.text]
        assert len({t.y for t in texts(page, Role.HEADLINE)}) >= 2 * len(own)
        windows += len(own)
        holes = [t for t in texts(page) if t.text.startswith("Hole centres")]
        assert all(any(head.y > mark.y for head in heads) for mark in holes)
    assert windows == 6


def test_a_table_begins_low_where_that_saves_a_page() -> None:
    """Where the last steps would stand alone on a third page, what is assumed begins on page 1.

    On this paper, somewhat longer than A4, they would.
    """
    path = Path(__file__).parents[2] / "sample_jobs" / "tide_room.toml"
    text = path.read_text(encoding="utf-8").replace('size = "a4"', 'size = "210 x 324 mm"')
    job = read_job(text.encode(), path.name)
    planned, paper = plan(job), ticket_paper(job, None)
    strips = strip_list(job, planned.windows, None)
    found = ticket(job, planned, strips, (), frozenset(), paper, typeface())
    assert len(found) == 2
    assumed = [t for t in texts(found[0], Role.SECTION) if t.text.startswith("Assumed")]
    names = [t for t in texts(found[0], Role.NAME) if t.y < assumed[0].y]
    assert len(names) >= 3
