"""Band that is cut from rolls, as terminal, ticket, cutting page, JSON and CSV say it."""

from __future__ import annotations

import csv
import io

import pytest

from drapetemplate.document.job_document import documents
from drapetemplate.drawing.marks import Text
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.report.plan_csv import as_csv
from drapetemplate.report.plan_json import as_json
from drapetemplate.words.plan_words import order_rows
from tests.helpers.jobfiles import job_of

# Two pairs of 88 in take 352 of a roll's 360 in. A panel of 410 in takes all of another roll, up to
# 360 in from its edge, and 50 in of the third, which leaves 310 in for one of 61 in. Its eyelets
# of 2 in are 402/39 in apart from centre to centre, the first at 4 in: at 354.5 and 364.8 in two
# reach to 355.5 and from 363.8 in.
NORTH = 'name = "North"\nwidth = 88\nlength = 84\ncount = 8\nquantity = 2'
PORCH = 'name = "Porch"\nwidth = 61\npanels = "single"\nlength = 84\ncount = 8'
HALL = 'name = "Hall"\nwidth = 410\npanels = "single"\nlength = 84\ncount = 40\nreturn = 3'
ROLLS = '[band]\nroll = "10 yd"\n[fabric]\nwidth = 54'


@pytest.fixture(scope="module")
def job() -> Job:
    """Panels of which one is spliced."""
    return job_of(NORTH, PORCH, HALL, tables=ROLLS)


def texts(job: Job, label: str) -> str:
    """All words of a job's pages of one label."""
    pages = [page for one in documents(job, plan(job), typeface()) for page in one.pages]
    marks = [m for page in pages if page.label.startswith(label) for m in page.marks]
    return " ".join(mark.text for mark in marks if isinstance(mark, Text))


def test_rolls_and_what_they_are_cut_into(job: Job) -> None:
    """Rolls to buy, the exact length beside; each roll's pieces in order; where the splice falls.

    352 + 61 + 410 = 823 in are 22.86 yd.
    """
    rows = [row for row in order_rows(job, plan(job)) if row[0].startswith("band")]
    assert rows == [
        ("band", "4 in high: 3 rolls of 10 yd, for 23 yd (823 in), and a piece to test"),
        ("band roll 1", "North 88 in ×4; 8 in over"),
        ("band roll 2", "Hall single: 360 in at its left edge"),
        ("band roll 3", "Hall single: 50 in at its right edge; Porch 61 in; 249 in over"),
        ("band spliced", "Hall single 360 in from its left edge"),
    ]


@pytest.mark.parametrize("label", ["ticket", "cutting"])
def test_on_the_pages(job: Job, label: str) -> None:
    """The ticket and the cutting page say what each roll is cut into, and where it is spliced."""
    words = texts(job, label)
    assert "3 rolls of 10 yd, for 23 yd (823 in)" in words
    for piece in ("North 88 in ×4; 8 in over", "360 in at its left edge", "360 in from its left"):
        assert piece in words


def test_a_panel_of_three_pieces_and_a_second_band() -> None:
    """Each piece of a spliced panel says where on it; where bands differ, each roll how high.

    Eyelets stand 10 in apart from 4 in on, so 150 and 300 in of 398 fall between flanges, and the
    last roll leaves 150 - 98. 2 x 398 = 796 in are 22.1 yd. The den's rings of 3 in take 5 in.
    """
    gallery = 'name = "Gallery"\nwidth = 398\ncount = 40\nleading = 3\nreturn = 3'
    den = (
        'name = "Den"\nwidth = 90\ncount = 10\npanels = "left"\nreturn = 3\n'
        "[window.eyelet]\noutside = 3\nopening = 2\nhole = 2"
    )
    made = job_of(gallery, den, tables="[band]\nroll = 150")
    rows = [row for row in order_rows(made, plan(made)) if row[0].startswith("band")]
    assert rows == [
        ("band", "4 in high: 6 rolls of 150 in, for 22 1/4 yd (796 in), and a piece to test"),
        ("band", "5 in high: 1 roll of 150 in, for 2 1/2 yd (90 in), and a piece to test"),
        ("band roll 1, 4 in high", "Gallery left: 150 in at its leading edge"),
        ("band roll 2, 4 in high", "Gallery left: 150 in from 150 in on"),
        ("band roll 3, 4 in high", "Gallery left: 98 in at its return edge; 52 in over"),
        ("band roll 4, 4 in high", "Gallery right: 150 in at its leading edge"),
        ("band roll 5, 4 in high", "Gallery right: 150 in from 150 in on"),
        ("band roll 6, 4 in high", "Gallery right: 98 in at its return edge; 52 in over"),
        ("band roll 1, 5 in high", "Den 90 in; 60 in over"),
        ("band spliced", "Gallery left 150 in, 300 in from its leading edge"),
        ("band spliced", "Gallery right 150 in, 300 in from its leading edge"),
    ]


def test_without_rolls() -> None:
    """Where no roll is told, the ticket says what to order, and the cut for each panel."""
    words = texts(job_of(NORTH), "ticket")
    assert "10 yd (352 in)" in words
    assert "88 in for each panel" in words
    assert "roll by roll" not in words


@pytest.mark.parametrize(
    ("units", "roll", "said"),
    [
        ("in", "25 m", "1 roll of 25 m"),
        ("in", "12 1/2 yd", "1 roll of 12 1/2 yd"),
        ("in", "399 1/2 in", "1 roll of 399 1/2 in"),
        ("mm", "22.5 m", "1 roll of 22.5 m"),
        ("mm", "25 yd", "1 roll of 25 yd"),
    ],
)
def test_a_roll_as_it_is_sold(units: str, roll: str, said: str) -> None:
    """A roll is of yards or metres where it comes to them, whatever the job's units."""
    window = NORTH.replace("88", '"88 in"').replace("84", '"84 in"')
    eyelet = 'outside = "2 in"\nopening = "1 in"'
    made = job_of(
        window, head=f'units = "{units}"', eyelet=eyelet, tables=f'[band]\nroll = "{roll}"'
    )
    [band, *_] = [value for name, value in order_rows(made, plan(made)) if name == "band"]
    assert f": {said}, for " in band


def test_for_programs(job: Job) -> None:
    """JSON and CSV have every piece with its roll, and from where on its panel it reaches."""
    [band] = as_json(job, plan(job))["order"]["bands"]
    assert (band["rolls"], band["roll_mm"]) == (3, 9144)
    hall = [panel for panel in band["panels"] if panel["window"] == "Hall"]
    assert [panel["panel"] for panel in hall] == ["single"]
    assert [(p["roll"], p["at_mm"], p["start_mm"], p["length_mm"]) for p in hall[0]["pieces"]] == [
        (2, 0, 0, 9144),
        (3, 0, 9144, 1270),
    ]
    rows = list(csv.DictReader(io.StringIO(as_csv(job, plan(job)).decode())))
    pieces = [row for row in rows if row["record"] == "band" and row["window"] == "Hall"]
    assert [(row["drop"], row["position_mm"], row["length_mm"]) for row in pieces] == [
        ("2", "0", "9144"),
        ("3", "0", "1270"),
    ]
    assert pieces[1]["note"] == "spliced 360 in from the left edge"
    [order] = [row for row in rows if row["record"] == "order" and row["part"] == "band"]
    assert (order["quantity"], order["measure"]) == ("3", "23 yd")
    assert len([row for row in rows if row["record"] == "band"]) == 4 + 1 + 2
