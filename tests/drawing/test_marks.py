"""Marks moved, turned, boxed and fitted, in a typeface whose widths can be worked by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing import lettering
from drapetemplate.drawing.marks import Anchor, Arc, Circle, Line, Mark, Pen, Polygon, Text
from drapetemplate.drawing.roles import Role
from tests.helpers.strips import FIXED, turned_back

PEN = Pen(0.3)
numbers = st.integers(-400, 400).map(lambda n: Fraction(n, 4))
sizes = st.integers(1, 400).map(lambda n: Fraction(n, 4))

marks: st.SearchStrategy[Mark] = st.one_of(
    st.builds(
        Line, numbers, numbers, numbers, numbers, st.just(PEN), st.just("guide"), st.just(1.5)
    ),
    st.builds(Circle, numbers, numbers, sizes, st.just(PEN), st.just("hole")),
    st.builds(
        Arc,
        numbers,
        numbers,
        sizes,
        st.integers(0, 359),
        st.integers(1, 359),
        st.just(PEN),
        st.just("hole"),
    ),
    st.builds(
        Polygon,
        st.lists(st.tuples(numbers, numbers), min_size=3, max_size=5).map(tuple),
        st.none(),
        st.just(0.5),
        st.just("map-sheet"),
    ),
    st.builds(
        Text,
        numbers,
        numbers,
        st.text(max_size=5),
        st.just(4.0),
        st.just(16.0),
        st.sampled_from(["start", "middle", "end"]),
        st.booleans(),
        st.sampled_from([0, 90, 180, 270]),
        st.just("number"),
    ),
)


@given(marks, numbers, numbers)
def test_moved(mark: Mark, dx: Fraction, dy: Fraction) -> None:
    """A move shifts the box by just that, and the move back gives the very mark."""
    moved = drawing.moved(mark, dx, dy)
    left, bottom, right, top = drawing.box(mark)
    x, y = float(dx), float(dy)
    assert pytest.approx((left + x, bottom + y, right + x, top + y)) == drawing.box(moved)
    assert mark == drawing.moved(moved, -dx, -dy)


@given(marks, sizes)
def test_turned(mark: Mark, height: Fraction) -> None:
    """A turn takes the box with it, and the turn back gives the very mark."""
    turned = drawing.turned(mark, height)
    left, bottom, right, top = drawing.box(mark)
    high = float(height)
    assert pytest.approx((high - top, left, high - bottom, right)) == drawing.box(turned)
    assert mark == turned_back(turned, height)
    assert drawing.turned(mark, height, high) == drawing.moved(turned, 0, high)


def test_turned_frame() -> None:
    """A frame 279.4 wide and 215.9 high lands on the upright page, its corners in the corners.

    The frame's lower left goes to the page's lower right, its lower right to the upper right.
    """
    frame = Line(Fraction(0), Fraction(0), Fraction(2794, 10), Fraction(0), PEN, Role.PANEL_END)
    turned = drawing.turned(frame, Fraction(2159, 10))
    expected = Line(
        Fraction(2159, 10), Fraction(0), Fraction(2159, 10), Fraction(2794, 10), PEN, Role.PANEL_END
    )
    assert expected == turned


@pytest.mark.parametrize(
    ("anchor", "angle", "expected"),
    [
        ("start", 0, (10, 19, 26, 23.12)),
        ("middle", 0, (2, 19, 18, 23.12)),
        ("end", 0, (-6, 19, 10, 23.12)),
        ("start", 90, (6.88, 20, 11, 36)),
        ("start", 180, (-6, 16.88, 10, 21)),
        ("start", 270, (9, 4, 13.12, 20)),
        ("end", 90, (6.88, 4, 11, 20)),
    ],
)
def test_text_box(anchor: Anchor, angle: int, expected: tuple[float, ...]) -> None:
    """Text at (10, 20), size 4, 16 wide: 1 under its baseline, 3.12 over it, turned with it."""
    mark = Text(10.0, 20.0, "abcd", 4.0, 16.0, anchor, False, angle, Role.NUMBER)  # noqa: FBT003  # not bold
    assert pytest.approx(expected) == drawing.box(mark)


@pytest.mark.parametrize(
    ("most", "string", "size", "width"),
    [
        pytest.param(None, "0123456789", 5.0, 30.0, id="free"),
        pytest.param(30.0, "0123456789", 5.0, 30.0, id="just fits"),
        pytest.param(15.0, "0123456789", 2.5, 15.0, id="shrinks to half"),
        pytest.param(12.0, "0123456789", 2.0, 12.0, id="shrinks to the least"),
        # At size 2 a character is 1.2 wide: six of them and the sign are 8.4, seven 9.6.
        pytest.param(9.0, "012345…", 2.0, 8.4, id="cut"),
    ],
)
def test_fitted(most: float | None, string: str, size: float, width: float) -> None:
    """Ten characters of 0.6 em at size 5 are 30 wide; they shrink to fit, then are cut."""
    mark = drawing.text(FIXED, 0, 0, "0123456789", 5.0, Role.HEADING, most=most, least=2.0)
    assert string == mark.text
    assert pytest.approx((size, width)) == (mark.size, mark.width)


@pytest.mark.parametrize(
    ("most", "string", "size", "width"),
    [
        pytest.param(28.0, "0123456789", 4.0, 28.0, id="shrinks"),
        # At size 2 one is 1.4 wide: six of them and the sign are 9.8, five 8.4.
        pytest.param(9.0, "01234…", 2.0, 8.4, id="cut"),
    ],
)
def test_fitted_bold(most: float, string: str, size: float, width: float) -> None:
    """Ten bold characters of 0.7 em at size 5 are 35 wide, and are measured so when they shrink."""
    mark = drawing.text(
        FIXED, 0, 0, "0123456789", 5.0, Role.HEADING, most=most, least=2.0, bold=True
    )
    assert string == mark.text
    assert pytest.approx((size, width)) == (mark.size, mark.width)


@given(st.text(max_size=40), st.floats(3, 100))
def test_clipped_to(string: str, most: float) -> None:
    """What is left fits, is the string's beginning, and one more character would not have fit."""
    left = drawing.clipped_to(FIXED, string, 5.0, most)
    assert FIXED.width(left, 5.0) <= most * (1 + 1e-9)
    if left == string:
        return
    assert left.endswith("…")
    assert string.startswith(left[:-1])
    more = string[: len(left)]
    if more == more.rstrip():
        assert FIXED.width(more + "…", 5.0) > most


@pytest.mark.parametrize(
    ("string", "most", "bold", "expected"),
    [
        # Ten bold letters of 0.7 em are 35 wide, plain ones 30; seven of them and the sign are 28.
        pytest.param("0123456789", 30.0, True, "0123456…", id="bold"),
        # More than sixteen fit: 24 plain letters and the sign are 75, in a string of 30, of 400.
        pytest.param("0123456789" * 3, 75.0, False, "0123456789" * 2 + "0123…", id="long"),
        pytest.param("0123456789" * 40, 75.0, False, "0123456789" * 2 + "0123…", id="very long"),
    ],
)
def test_clipped_by_hand(string: str, most: float, bold: bool, expected: str) -> None:  # noqa: FBT001  # a case
    """As much of a string at size 5 as fits, in letters as heavy as it is drawn."""
    assert drawing.clipped_to(FIXED, string, 5.0, most, bold=bold) == expected


@pytest.mark.parametrize(
    ("name", "room", "bold", "expected"),
    [
        # Plain letters at size 5 are 3 wide: nineteen are 57, and " 12" is 9.
        pytest.param("Heron Point, bay 12", 57.0, False, "Heron Point, bay 12", id="whole"),
        pytest.param("Heron Point, bay 12", 36.0, False, "Heron Po… 12", id="last word kept"),
        pytest.param("Heron Point, bay 12", 18.0, False, "He… 12", id="which is half"),
        pytest.param("Heron Point, bay 12", 17.0, False, "Hero…", id="which is over half"),
        pytest.param("Upper gallery", 15.0, False, "Uppe…", id="long last word"),
        # Bold ones are 3.5: twelve are 42.
        pytest.param("Heron Point, bay 12", 42.0, True, "Heron Po… 12", id="bold"),
    ],
)
def test_name_cut_short(name: str, room: float, bold: bool, expected: str) -> None:  # noqa: FBT001  # a case
    """A name keeps its last word, which may tell two bays apart, up to half of its room."""
    assert lettering.name_cut_short(FIXED, name, 5.0, room, bold=bold) == expected


def test_text_begins_at_its_place() -> None:
    """Text that says nothing else begins at (x, y), level, in plain letters."""
    mark = drawing.text(FIXED, 10, 20, "abcd", 5.0, Role.TEXT)
    assert mark == Text(10, 20, "abcd", 5.0, 12.0, "start", False, 0, Role.TEXT)  # noqa: FBT003  # not bold


def test_lozenge() -> None:
    """Four corners about (10, 20), 3 to either side, 6 up and down, and no two alike."""
    mark = drawing.lozenge(10, 20, 3, PEN, Role.MOTIF)
    assert set(mark.points) == {(7, 20), (10, 26), (13, 20), (10, 14)}
    assert (mark.pen, mark.fill) == (PEN, None)
    # Round, not across: opposite corners are two steps apart.
    assert {mark.points.index((7, 20)) % 2, mark.points.index((13, 20)) % 2} in ({0}, {1})


def test_exact() -> None:
    """Moves keep fractions fractions."""
    mark = cast(
        "Circle", drawing.moved(Circle(Fraction(1, 3), 0, 1, PEN, Role.HOLE), Fraction(1, 7), 0)
    )
    assert Fraction(10, 21) == mark.x
