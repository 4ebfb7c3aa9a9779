"""A taped strip's picture on its assembly page: how it lies, its holes, letters and ends."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from drapetemplate import drawing, plan_job
from drapetemplate.drawing.roles import Role
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.assembly import assembly
from drapetemplate.ticket.flow import paper_flow
from tests.helpers.assembled import assembled, outside_or_colliding, placed, readable, texts
from tests.helpers.strips import Spec, parts

INCH = Fraction(254, 10)
HAIR = 1e-6


@pytest.mark.parametrize("view", ["face", "back"])
@pytest.mark.parametrize("side", ["left", "right", "single"])
def test_picture_as_it_lies(side: str, view: str) -> None:
    """Holes count from the leading edge, a single panel's from its left; both ends are named so.

    A left panel's leading edge is at its right, seen from the face; from the back all is mirrored.
    The first gap from either end is in front, and they take turns: of six holes' five F B F B F.
    """
    _, pages = assembled(Spec(panels=side, view=view))
    at_right = (side == "left") != (view == "back")
    ends = {
        "single": ["LEFT RETURN EDGE", "RIGHT RETURN EDGE"],
    }.get(side, ["LEADING EDGE", "RETURN EDGE"])
    order = -1 if at_right else 1
    named = [m.text for m in placed(pages, Role.PART_END)]
    assert named == [*ends[::order][:1], "TOP", *ends[::order][1:]]
    assert [m.text for m in placed(pages, Role.PART_HOLE)] == list("123456")[::order]
    letters = placed(pages, Role.LETTER_FRONT, Role.LETTER_BACK)
    assert [m.text for m in letters] == list("FBFBF")


def test_picture_places() -> None:
    """A hole's number stands over its circle, a gap's letter between two circles, TOP above all."""
    _, pages = assembled(Spec(panels="right"))
    [page] = pages
    circles = sorted((m for m in page if m.role == Role.PART_EYELET), key=drawing.box)
    boxes = [drawing.box(circle) for circle in circles]
    numbers = placed(pages, Role.PART_HOLE)
    for number, (left, _, right, upper) in zip(numbers, boxes, strict=True):
        assert float(number.x) == pytest.approx((left + right) / 2)
        assert number.y > upper
    letters = placed(pages, Role.LETTER_FRONT, Role.LETTER_BACK)
    for letter, one, two in zip(letters, boxes, boxes[1:], strict=False):
        assert one[2] < letter.x < two[0]
    [outline] = [drawing.box(mark) for mark in page if mark.role == Role.PART_OUTLINE]
    [top] = [m for m in placed(pages, Role.PART_END) if m.text == "TOP"]
    assert top.y > max(number.y for number in numbers) > outline[3]
    # Each end's name begins or ends where the panel does.
    leading, _, return_ = placed(pages, Role.PART_END)
    assert float(leading.x) == pytest.approx(outline[0], abs=0.5)
    assert drawing.box(return_)[2] == pytest.approx(outline[2], abs=0.5)


def test_no_second_line_for_a_part_alone() -> None:
    """A picture just too long for one line is drawn a little smaller: one band, every hole named.

    110 in at 1:15 are 186 mm, and parts drawn longer for their names make it longer than the page.
    """
    ends = replace(Spec(width="110", count="10"), leading="1", return_="1")
    found, pages = assembled(
        replace(ends, outside="2", hole="1", band="4", panels="right"), typeface()
    )
    assert len([m for page in pages for m in page if m.role == Role.PART_OUTLINE]) == 1
    assert len(placed(pages, Role.PART_HOLE)) == 10
    assert len(texts(pages, Role.PART_NAME)) == len(parts(found))


@pytest.mark.parametrize(
    ("width", "count", "in_band"), [("60", "10", True), ("60", "18", False), ("120", "34", False)]
)
def test_letters_stand_alike(width: str, count: str, in_band: bool) -> None:  # noqa: FBT001
    """All gaps' letters are in the band where each has room there, or else between the numbers.

    Eighteen eyelets on 60 in have joins in gaps too narrow for a letter beside them; of 34 on
    120 in just one has.
    """
    spec = Spec(width=width, count=count, outside="1", hole="1/2", leading="1", return_="1")
    _, pages = assembled(spec, typeface())
    letters = placed(pages, Role.LETTER_FRONT, Role.LETTER_BACK)
    assert len(letters) == int(count) - 1
    boxes = [drawing.box(m) for m in pages[0] if m.role == Role.PART_OUTLINE]
    bands = [any(low < letter.y < high for _, low, _, high in boxes) for letter in letters]
    assert bands == [in_band] * len(letters)


@pytest.mark.parametrize(("band", "rows"), [("4", 1), ("12", 2)])
@pytest.mark.parametrize("count", ["6", "12"])
def test_picture_of_a_pair(count: str, band: str, rows: int) -> None:
    """Of a pair's strip the left panel's numbers stand above the band, the right's below it.

    So do the sheets' own marks. The right panel counts its holes from the strip's other end.
    """
    spec = Spec(panels="pair", strips="one", count=count, band=band, width="80", size="a4")
    job = spec.job()
    left, right = plan_job(job).windows[0].panels
    [found] = spec.every(typeface())
    assert found.tiling.rows == rows
    pages = assembly(job, found, left, paper_flow(found.paper, typeface()), other=right)
    readable(found, pages)
    [page] = pages
    [(_, low, _, high)] = [drawing.box(mark) for mark in page if mark.role == Role.PART_OUTLINE]
    holes = placed(pages, Role.PART_HOLE)
    above = {m.x: int(m.text) for m in holes if float(m.y) > high}
    below = {m.x: int(m.text) for m in holes if float(m.y) < low}
    assert list(above.values()) == list(range(int(count), 0, -1))
    assert below == {x: int(count) + 1 - number for x, number in above.items()}
    owners = {m.text: m.y for m in placed(pages, Role.PART_HOLE_OF)}
    assert {m.y for m in holes if m.x in above} == set(owners.values())
    assert owners["LEFT"] > high
    assert owners["RIGHT"] < low


@pytest.mark.parametrize("count", ["60", "300"])
@pytest.mark.parametrize("size", ["letter", "12 in roll"])
def test_picture_of_many_holes(count: str, size: str) -> None:
    """Sixty holes are all named, on as many lines as it takes, and their gaps; so are hundreds.

    On a roll's long parts those that find room are.
    """
    spec = Spec(width="700", outside="1", hole="1/2", count=count, band="2", above="1/4", size=size)
    _, pages = assembled(spec.but(leading="1", return_="1"), typeface())
    outside_or_colliding(spec.but(leading="1", return_="1"))
    names = [int(name) for name in texts(pages, Role.PART_HOLE)]
    if size == "letter":
        assert sorted(names) == list(range(1, int(count) + 1))
        fronts, backs = texts(pages, Role.LETTER_FRONT), texts(pages, Role.LETTER_BACK)
        assert (len(fronts), len(backs)) == (int(count) // 2, int(count) // 2 - 1)
    else:
        assert len(set(names)) == len(names) > int(count) // 5
