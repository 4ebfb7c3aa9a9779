"""The order's pages, read back: a box for each thing, each job's share, and no template."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pikepdf import pdfa

from drapetemplate.cli.rendering import as_lasting_pdf
from drapetemplate.document.model import Document
from drapetemplate.document.order_document import order_document
from drapetemplate.drawing.marks import Circle, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.planning.joint_doubts import order_doubts
from drapetemplate.planning.joint_order import PlannedJob, joint_order
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.work import BOX
from tests.helpers.jobfiles import RING
from tests.helpers.ordered import LINEN, PAIR, order_toml, planned

METRIC_PAPER = {"head": 'units = "mm"', "tables": '[fabric]\nname = "Heron linen"\nwidth = 1370'}
METRIC_PAIR = "width = 1880\ncount = 12\nlength = 2000"
METRIC_RING = {"eyelet": "outside = 66\nopening = 40"}
STUDY = planned(order_toml("study", job="due = 2027-03-12"))
HALL = planned(
    order_toml(
        "hall",
        job="due = 2027-03-05",
        eyelet=f"{RING}\npack = 10",
        tables=LINEN.replace("54", "118"),
    )
)
ODD = planned(order_toml("loft", PAIR.replace("count = 12", "count = 11")))


def laid(*jobs: PlannedJob) -> Document:
    """The order's pages."""
    order = joint_order(jobs)
    return order_document(order, order_doubts(order), typeface())


def texts(document: Document) -> list[Text]:
    """Every line of text."""
    return [mark for page in document.pages for mark in page.marks if isinstance(mark, Text)]


def test_what_is_over_in_the_last_pack_is_tested_first() -> None:
    """Only eyelets to test that the packs leave nothing for are bought beside them.

    By hand: 24 + 22 + 22 are 68, 7 packs of 10 leave 2, and three jobs test one each.
    """
    porch = planned(order_toml("porch", PAIR.replace("count = 12", "count = 11")))
    lines = [mark.text for mark in texts(laid(HALL, ODD, porch))]
    assert "7 packs of 10 and one to test  eyelets: 2 in outside, 1 in opening" in lines
    (why,) = [line for line in lines if line.startswith("68: ")]
    assert why.startswith("68: 7 packs of 10, with 2 to test, and 1 more to test")


def test_each_thing_has_its_box() -> None:
    """Amounts are large, each behind a box; what each job takes stands under it with its day."""
    document = laid(STUDY, HALL, ODD)
    found = texts(document)
    things = [mark.text for mark in found if mark.role == Role.HEADLINE]
    assert [text for text in things if text != BOX] == [
        "22 1/4 yd  fabric: Heron linen, 54 in wide",
        "5 3/4 yd  fabric: Heron linen, 118 in wide",
        # 24 + 24 + 22 fill the packs to the last.
        "7 packs of 10 and 3 to test  eyelets: 2 in outside, 1 in opening",
        "12 1/2 yd  band: 4 in high",
    ]
    assert things.count(BOX) == 4
    names = {mark.text for mark in found if mark.role == Role.NAME}
    assert {"Heron Point, hall, 2027-03-05", "Heron Point, study, 2027-03-12"} <= names
    values = [mark.text for mark in found if mark.role == Role.VALUE]
    assert "4 drops of 100 in = 400 in" in values
    warned = " ".join(mark.text for mark in found if mark.role == Role.FINDING)
    assert "WARN" in warned
    assert "Heron linen has several widths" in warned
    assert "no template is made of it yet" in warned


ROLLS = f"{LINEN}\n[band]\nroll = 100"


def test_the_page_from_top_to_bottom() -> None:
    """What to buy, which job takes how much, what each roll is cut into, and then the jobs.

    Three panels of 74 in, a pair and one by itself: each takes a roll of 100 in, 26 are over. 222
    in of band are 6.17 yd; six drops of 100 in 16.67 yd.
    """
    hall = order_toml(
        "hall",
        f'{PAIR}\nname = "Bay"',
        job='number = "2040"\ndue = 2027-03-05\nclient = "The keeper"\nroom = "Gallery"',
        tables=ROLLS,
    )
    study = order_toml("study", f'{PAIR}\nname = "Door"\npanels = "left"', tables=ROLLS)
    found = texts(laid(planned(hall, "hall.toml"), planned(study, "study.toml")))
    said = [mark.text for mark in found if mark.role not in {Role.TEXT, Role.FOOT, Role.FINDING}]
    bay, door = "2040 · Heron Point, hall", "Heron Point, study"
    assert [words for words in said if words != BOX] == [
        *("ORDER", "Order for 2 jobs, due 2027-03-05", "To buy"),
        "16 3/4 yd  fabric: Heron linen, 54 in wide",
        *(f"{bay}, 2027-03-05", "4 drops of 100 in = 400 in"),
        *(door, "2 drops of 100 in = 200 in"),
        "36 and 2 to test  eyelets: 2 in outside, 1 in opening",
        *(f"{bay}, 2027-03-05", "24", door, "12"),
        "3 rolls of 100 in  band: 4 in high",
        *(f"{bay}, 2027-03-05", "148 in", door, "74 in"),
        *("Roll 1", f"{bay}, Bay 74 in; 26 in over", "Roll 2", f"{bay}, Bay 74 in; 26 in over"),
        *("Roll 3", f"{door}, Door 74 in; 26 in over"),
        *("The jobs", bay, "due 2027-03-05 · The keeper · Gallery · hall.toml"),
        *(door, "no day · study.toml"),
    ]
    why = " ".join(mark.text for mark in found if mark.role == Role.TEXT)
    assert "6 drops 600 in. First due 2027-03-05, Friday" in why
    assert "Rolls serve all jobs: cut the band by this list" in why
    # Of one job the rolls are its own ticket's.
    alone = " ".join(mark.text for mark in texts(laid(planned(hall, "hall.toml"))))
    assert "Roll 1" not in alone
    assert "First due" not in alone


def test_no_page_passes_for_a_template() -> None:
    """Each page says in its foot that it is none, and none has a circle to trace."""
    document = laid(STUDY, HALL)
    for n, page in enumerate(document.pages, 1):
        assert (page.part, page.short, page.bookmark) == ("Order", f"order {n}", f"order {n}")
        feet = [
            mark.text for mark in page.marks if isinstance(mark, Text) and mark.role == Role.FOOT
        ]
        assert any("no template" in text for text in feet)
        assert not any(isinstance(mark, Circle) for mark in page.marks)
    assert any("It is no template" in mark.text for mark in texts(document))


def test_letters_are_read_at_arms_length() -> None:
    """No letter is smaller than those of the ticket."""
    assert min(mark.size for mark in texts(laid(STUDY, HALL, ODD))) >= 3.05


@pytest.mark.parametrize(
    ("inch", "metric", "paper"), [(2, 1, "letter"), (1, 2, "a4"), (0, 1, "a4")]
)
def test_paper(inch: int, metric: int, paper: str) -> None:
    """The order is on the paper of most of its jobs."""
    jobs = [planned(order_toml(f"room {n}")) for n in range(inch)]
    jobs += [
        planned(order_toml(f"hall {n}", METRIC_PAIR, **METRIC_PAPER, **METRIC_RING))
        for n in range(metric)
    ]
    document = laid(*jobs)
    size = {"letter": (215.9, 279.4), "a4": (210, 297)}[paper]
    assert (float(document.width), float(document.height)) == size


def test_many_jobs_go_on_over_pages() -> None:
    """Nothing is left out where the jobs of one cloth take more than a page."""
    job, details = STUDY.job, STUDY.job.details
    numbered = (replace(job, details=replace(details, number=str(n))) for n in range(90))
    jobs = [replace(STUDY, job=one) for one in numbered]
    document = laid(*jobs)
    assert len(document.pages) > 2
    found = texts(document)
    taken = [mark.text for mark in found if mark.role == Role.VALUE]
    assert taken.count("4 drops of 100 in = 400 in") == 90
    assert any("1000 yd  fabric" in mark.text for mark in found)  # 36000 in
    for mark in found:
        assert float(document.margin) <= mark.y <= float(document.height)


def test_lasting() -> None:
    """It is a PDF/A-3b without a job file, the same each time, which says what it is."""
    pdf = as_lasting_pdf(laid(STUDY, HALL))
    assert pdf == as_lasting_pdf(laid(HALL, STUDY))
    report = pdfa.validate_written(BytesIO(pdf), "3b")
    assert [str(found) for found in report.findings] == []
    assert b"EmbeddedFile" not in pdf
    assert b"What to buy; no template" in pdf
