"""A page of few marks, drawn otherwise than it should be: what is said of it, worked by hand."""

from __future__ import annotations

from dataclasses import replace
from math import atan, sqrt

import pytest

from drapetemplate.drawing.marks import Anchor, Arc, Circle, Line, Pen, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measure.compare_marks import (
    ExpectedMark,
    beyond_margin,
    compare,
    drawn_words,
    expected_marks,
)
from drapetemplate.measure.drawn_marks import DrawnMark, Glyph, Path, Point, measurable
from drapetemplate.render.typeface import DejaVu

PEN = Pen(0.5, (), 0.0)
UPRIGHT = (1.0, 0.0, 0.0, 1.0)


def should(x: float, y: float, length: float = 4.0) -> Line:
    """A line that should be there, level, from a place on."""
    return Line(x, y, x + length, y, PEN, role=Role.OUTSIDE)


def ruled(*points: Point) -> Path:
    """A line as drawn."""
    first, *rest = points
    return Path((("m", (first,)), *(("l", (point,)) for point in rest)), PEN, None)


def drawn(x: float, y: float, length: float = 4.0) -> Path:
    """A level line as drawn."""
    return ruled((x, y), (x + length, y))


def letter(text: str, x: float, y: float) -> Glyph:
    """An upright letter, 2 wide."""
    return Glyph(text, x, y, 2.0, UPRIGHT, bold=False, grey=0.0)


ROUND = Circle(30, 40, 10, PEN, role=Role.OUTSIDE)
K = 10 * 4 / 3 * (sqrt(2) - 1)
QUARTERS: list[Point] = [
    (40, 40), (40, 40 + K), (30 + K, 50), (30, 50),
    (30 - K, 50), (20, 40 + K), (20, 40),
    (20, 40 - K), (30 - K, 30), (30, 30),
    (30 + K, 30), (40, 40 - K), (40, 40),
]  # fmt: skip


def curve(points: list[Point], *, close: bool) -> Path:
    """Bezier arcs through points: the first, then three for each arc."""
    arcs = (("c", tuple(points[at : at + 3])) for at in range(1, len(points), 3))
    return Path((("m", (points[0],)), *arcs, *((("h", ()),) if close else ())), PEN, None)


@pytest.mark.parametrize(
    ("x", "y", "beyond"),
    [
        (9.995, 50, False),
        (9.985, 50, True),
        (90.005, 50, False),
        (90.015, 50, True),
        (50, 9.995, False),
        (50, 9.985, True),
        (50, 190.005, False),
        (50, 190.015, True),
    ],
)
def test_each_margin(x: float, y: float, beyond: bool) -> None:  # noqa: FBT001  # a row's own answer
    """On paper of 100 by 200 mm with margins of 10, by 0.01 mm and no more; any end counts."""
    for mark in (letter("8", x, y), ruled((50, 50), (x, y)), ruled((x, y), (50, 50))):
        assert beyond_margin([drawn(20, 20), mark], 100, 200, 10) == ([mark] if beyond else [])


@pytest.mark.parametrize(("anchor", "before"), [("start", 0), ("middle", 0.5), ("end", 1)])
@pytest.mark.parametrize(("angle", "along"), [(0, (1, 0)), (90, (0, 1)), (180, (-1, 0))])
def test_a_text_letter_by_letter(
    anchor: Anchor, before: float, angle: int, along: tuple[int, int]
) -> None:
    """A text stands before, about or after its place, each letter where the last one ends."""
    face = DejaVu()
    first, second = (face.width(char, 5, bold=True) for char in "W8")
    words = Text(30, 40, "W8", 5, first + second, anchor, bold=True, angle=angle, role=Role.OUTSIDE)
    line = should(1, 2)
    a, b, after = expected_marks([words, line], face)
    assert isinstance(a, Glyph)
    assert isinstance(b, Glyph)
    assert (a.text, a.advance, a.bold, a.grey, b.text, b.advance) == (
        "W", first, True, 0.0, "8", second,
    )  # fmt: skip
    run = -before * (first + second)
    right, up = along
    assert (a.x, a.y) == pytest.approx((30 + run * right, 40 + run * up))
    assert (b.x, b.y) == pytest.approx((30 + (run + first) * right, 40 + (run + first) * up))
    assert a.turn == pytest.approx((right, up, -up, right))
    assert after is line


MARKS: list[ExpectedMark] = [should(10, 20), should(50, 20, 8), should(30, 90)]


@pytest.mark.parametrize(
    ("across", "right", "down", "up", "said"),
    [
        (1, 0.02, 1, 0, "everything on it is shifted by +0.02 mm across and +0.00 mm up"),
        (1, 0, 1, -3, "everything on it is shifted by +0.00 mm across and -3.00 mm up"),
        (1.01, 0, 1, 0, ("everything on it is scaled: ×1.0100 across, ×1.0000 down "
                        "(100 mm would print as 101.00 by 100.00 mm)")),
        (1, 0, 0.98, 0, ("everything on it is scaled: ×1.0000 across, ×0.9800 down "
                        "(100 mm would print as 100.00 by 98.00 mm)")),
        (1, 2, 1.01, 0, ("everything on it is scaled: ×1.0000 across, ×1.0100 down "
                        "(100 mm would print as 100.00 by 101.00 mm) "
                        "and shifted by +2.00 mm across and +0.00 mm up")),
        (-1, 100, -1, 100, "everything on it is upside down"),
        (-1, 100, 1, 0, ("everything on it is scaled: ×-1.0000 across, ×1.0000 down "
                        "(100 mm would print as -100.00 by 100.00 mm) "
                        "and shifted by +100.00 mm across and +0.00 mm up")),
        (1, 0, -1, 100, ("everything on it is scaled: ×1.0000 across, ×-1.0000 down "
                        "(100 mm would print as 100.00 by -100.00 mm) "
                        "and shifted by +0.00 mm across and +100.00 mm up")),
    ],
)  # fmt: skip
def test_a_whole_page(across: float, right: float, down: float, up: float, said: str) -> None:
    """What one scale and one shift explain is said of all in a sentence; none is in its place."""

    def changed(x: float, y: float) -> Point:
        return across * x + right, down * y + up

    page = [
        ruled(changed(10, 20), changed(14, 20)),
        ruled(changed(50, 20), changed(58, 20)),
        ruled(changed(30, 90), changed(34, 90)),
    ]
    found = compare(MARKS, page)
    assert found.faults == (said,)
    assert (found.marks, found.matched) == (3, 0)


def test_a_page_with_one_mark_elsewhere() -> None:
    """What no one shift explains is told mark by mark; the worst is named with its place."""
    page = [drawn(10, 20.005), drawn(50, 20, 8), drawn(30, 92.5), drawn(10, 90)]
    found = compare([*MARKS, should(10, 90)], page)
    assert found.faults == ("outside at 32.0, 90.0 mm is off by 2.50 mm",)
    assert (found.marks, found.matched) == (4, 3)
    assert found.worst == pytest.approx(2.5)
    assert found.where == "outside at 32.0, 90.0 mm"
    assert found.pairs == 1


def test_in_any_order() -> None:
    """Marks drawn in another order are each found, over the border of a millimetre too."""
    arc = Arc(30, 40, 10, 90, 180, PEN, role=Role.OUTSIDE)
    square = Polygon(((1, 2), (4, 2), (4, 8)), None, 0.5, role=Role.OUTSIDE)
    filled = (("m", ((1.0, 2.0),)), ("l", ((4.0, 2.0),)), ("l", ((4.0, 8.0),)), ("h", ()))
    expected: list[ExpectedMark] = [
        should(10, 20), should(50, 19.996, 8), arc, ROUND, letter("8", 1, 1), square,
    ]  # fmt: skip
    page: list[DrawnMark] = [
        Path(filled, None, 0.5),
        letter("8", 1, 1),
        curve(QUARTERS, close=True),
        curve(QUARTERS[3:10], close=False),
        drawn(10, 20),
        drawn(50, 20.004, 8),
    ]
    found = compare(expected, page)
    assert (found.matched, found.faults, found.pairs) == (6, (), 0)
    assert found.worst == pytest.approx(0.008)
    assert found.where == "outside at 54.0, 20.0 mm"


def test_the_nearest_is_taken() -> None:
    """Of two lines drawn within the tolerance the nearer is the mark, the other one too many."""
    found = compare([should(10, 20)], [drawn(10, 20.008), drawn(10, 20.001)])
    assert found.worst == pytest.approx(0.001)
    assert found.faults == ("a line at 12.0, 20.0 mm that doesn't belong there",)


def test_drawn_once_is_there_once() -> None:
    """A mark that should be there twice and is drawn once is missing once; and the other way."""
    found = compare([should(10, 20), should(10, 20)], [drawn(10, 20)])
    assert found.matched == 1
    assert found.faults == ("outside at 12.0, 20.0 mm is missing, or drawn otherwise",)
    found = compare([should(10, 20)], [drawn(10, 20), drawn(10, 20)])
    assert found.faults == ("a line at 12.0, 20.0 mm that doesn't belong there",)


@pytest.mark.parametrize(("off", "moved"), [(0.5, True), (24.9, True), (25.1, False)])
def test_how_far_a_line_moves(off: float, moved: bool) -> None:  # noqa: FBT001  # a row's own answer
    """A line up to 25 mm off has moved; farther it's missing, and another one is there."""
    found = compare([*MARKS], [*map(drawn, (10, 30), (20, 90)), drawn(50, 20 + off, 8)])
    line = "outside at 54.0, 20.0 mm"
    if moved:
        assert found.faults == (f"{line} is off by {off:.2f} mm",)
    else:
        assert found.faults == (
            f"{line} is missing, or drawn otherwise",
            "a line at 54.0, 45.1 mm that doesn't belong there",
        )


@pytest.mark.parametrize(("off", "moved"), [(0.9, True), (1.1, False)])
def test_how_far_a_letter_moves(off: float, moved: bool) -> None:  # noqa: FBT001  # a row's own answer
    """Letters are so many that one more than 1 mm off is another."""
    found = compare(
        [*MARKS, letter("8", 30, 40)],
        [drawn(10, 20), drawn(50, 20, 8), drawn(30, 90), letter("8", 30, 40 + off)],
    )
    if moved:
        assert found.faults == ("letter “8” at 30.0, 40.0 mm is off by 0.90 mm",)
    else:
        assert found.faults == (
            "letter “8” at 30.0, 40.0 mm is missing, or drawn otherwise",
            "a letter “8” at 30.0, 41.1 mm that doesn't belong there",
        )


def test_lines_before_letters() -> None:
    """Four of a kind are told, lines before letters and those before spaces; then how many."""
    spaces = [letter(" ", 10, 60 + n) for n in range(2)]
    letters = [letter("8", 10, 40 + n) for n in range(2)]
    expected: list[ExpectedMark] = [*spaces, *letters, should(10, 20)]
    other: list[DrawnMark] = [*[mark._replace(bold=True) for mark in (*spaces, *letters)]]
    other.append(drawn(70, 20))
    assert compare(expected[1:], other[1:]).faults == (
        "outside at 12.0, 20.0 mm is missing, or drawn otherwise",
        "letter “8” at 10.0, 40.0 mm is missing, or drawn otherwise",
        "letter “8” at 10.0, 41.0 mm is missing, or drawn otherwise",
        "letter “ ” at 10.0, 61.0 mm is missing, or drawn otherwise",
        "a line at 72.0, 20.0 mm that doesn't belong there",
        "a letter “8” at 10.0, 40.0 mm that doesn't belong there",
        "a letter “8” at 10.0, 41.0 mm that doesn't belong there",
        "a letter “ ” at 10.0, 61.0 mm that doesn't belong there",
    )
    faults = compare(expected, other).faults
    assert len(faults) == 9
    assert faults[-1] == "in all 5 marks not where they should be, 5 others drawn"


def test_too_many_pairs_to_look_for() -> None:
    """Up to so many pairs what moved is looked for; with one more it's only counted."""
    expected = [should(10, 20), should(10, 60)]
    page = [drawn(10, 22), drawn(10, 63), drawn(90, 90)]
    found = compare(expected, page, 6)
    assert found.pairs == 6
    assert found.worst == pytest.approx(3)
    assert found.faults == (
        "outside at 12.0, 20.0 mm is off by 2.00 mm",
        "outside at 12.0, 60.0 mm is off by 3.00 mm",
        "a line at 92.0, 90.0 mm that doesn't belong there",
    )
    found = compare(expected, page, 5)
    assert (found.pairs, found.worst) == (0, 0.0)
    assert found.faults == ("in all 2 marks not where they should be, 3 others drawn",)


def test_round_a_place_of_its_own() -> None:
    """A circle and an arc about another place than the page's corner; each side of it moved."""
    circle = curve(QUARTERS, close=True)
    arc = Arc(30, 40, 10, 90, 180, PEN, role=Role.OUTSIDE)
    half = curve(QUARTERS[3:10], close=False)
    page: list[DrawnMark] = [circle, half, drawn(10, 20), drawn(50, 20, 8), drawn(30, 90)]
    expected: list[ExpectedMark] = [ROUND, arc, *MARKS]
    found = compare(expected, page)
    assert (found.matched, found.faults) == (5, ())
    assert found.worst < 0.004
    # From a place beside it the half circle is seen as less than half.
    for right, up, half_off in ((3, 0, 10 * 2 * atan(0.3)), (0, 3, 3)):
        other = [replace(ROUND, x=30 - right, y=40 - up), *expected[1:]]
        [fault] = compare(other, page).faults
        assert fault == f"outside at {30 - right:.1f}, {40 - up:.1f} mm is off by 3.00 mm"
        other = [ROUND, replace(arc, x=30 - right, y=40 - up), *MARKS]
        [fault] = compare(other, page).faults
        assert fault == f"outside at {30 - right:.1f}, {40 - up:.1f} mm is off by {half_off:.2f} mm"


def test_what_a_drawn_mark_is_called() -> None:
    """Each kind in words, at the middle of its corners, a circle at its centre."""
    steps = (("m", ((1.0, 2.0),)), ("l", ((4.0, 2.0),)), ("l", ((4.0, 8.0),)), ("h", ()))
    for mark, words in (
        (letter("8", 3, 4), "a letter “8” at 3.0, 4.0 mm"),
        (Path(steps, None, 0.5), "an area of ink at 3.0, 4.0 mm"),
        (Path(steps, PEN, None), "a curve or outline at 3.0, 4.0 mm"),
        (Path((*steps[:2], steps[-1]), PEN, None), "a line at 2.5, 2.0 mm"),
        (curve(QUARTERS, close=True), "a curve or outline at 30.0, 40.0 mm"),
        (curve(QUARTERS[3:10], close=False), "a curve or outline at 26.7, 40.0 mm"),
    ):
        assert drawn_words(mark) == words
    corners = Polygon(((1, 2), (4, 2), (4, 8)), PEN, None, role=Role.OUTSIDE)
    [fault] = compare([corners], []).faults
    assert fault == "outside at 3.0, 4.0 mm is missing, or drawn otherwise"


@pytest.mark.parametrize("number", [1e6, -1e6, float("inf"), float("nan")])
def test_what_no_page_could_hold(number: float) -> None:
    """A number too large or none makes a mark that isn't measured, wherever it stands in it."""
    place = letter("8", 3, 4)
    assert measurable(place)
    assert measurable(drawn(499_997, 0))
    assert not measurable(drawn(499_999, 0))
    assert not measurable(place._replace(x=number))
    assert not measurable(place._replace(y=number))
    assert not measurable(place._replace(advance=number))
    for at in range(4):
        turn = [*UPRIGHT]
        turn[at] = number
        a, b, c, d = turn
        assert not measurable(place._replace(turn=(a, b, c, d)))
    for points in (
        ((number, 0.0), (1.0, 1.0)),
        ((0.0, number), (1.0, 1.0)),
        ((1.0, 1.0), (0.0, number)),
    ):
        assert not measurable(ruled(*points))
