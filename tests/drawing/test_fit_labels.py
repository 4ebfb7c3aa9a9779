"""Words fitted into a picture, in letters whose widths can be worked by hand.

A label's size is 3.05 mm; a bold letter of the fixed typeface is 0.7 em, 2.135 mm, a plain one
1.83 mm; a line takes 1.25 x 3.05 = 3.8125 mm.
"""

from __future__ import annotations

import pytest

from drapetemplate.drawing import fit_labels
from drapetemplate.drawing.fit_labels import Fitted, Form, Way, fitted
from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from tests.helpers.strips import FIXED

LETTER, LINE = 2.135, 3.8125
HAIR = 1e-6


def room(letters: float, lines: float, angle: int = 0) -> Way:
    """Room for so many letters and lines, and a hair."""
    return angle, letters * LETTER + HAIR, lines * LINE + HAIR


AFTER: Form = (", left", "40 in")  # as it goes on after the name, and with the name on a line alone
BELOW: Form = ("", "left", "40 in")


@pytest.mark.parametrize(
    ("ways", "expected"),
    [
        pytest.param([room(9, 2)], (("Bay, left", "40 in"), 0), id="just fits"),
        pytest.param([room(9, 1.9), room(9, 2, 90)], (("Bay, left", "40 in"), 90), id="turned"),
        pytest.param([room(8.9, 3)], (("Bay", "left", "40 in"), 0), id="next form"),
        pytest.param([room(8.9, 2.9)], (("left", "40 in"), 0), id="without its name"),
        pytest.param([room(4.9, 9)], (("left",), 0), id="the figure left out whole"),
        pytest.param([room(3.9, 9)], None, id="nothing fits"),
        pytest.param([room(99, 0.9)], None, id="no height for a line"),
    ],
)
def test_fitted(ways: list[Way], expected: Fitted | None) -> None:
    """The first words that fit whole, in the first way they do: "Bay, left" is nine letters."""
    bare = (("left", "40 in"), ("left",))
    assert expected == fitted(FIXED, (AFTER, BELOW), ways, name="Bay", bare=bare)


@pytest.mark.parametrize(
    ("ways", "expected"),
    [
        # Shorter words are rather taken than a name is cut.
        pytest.param([room(16, 1)], (("Long gallery, lt",), 0), id="shorter"),
        # It is cut on a line of its own rather than before others: 8 letters, then 3.8 lines.
        pytest.param([room(8, 3)], (("Long ga…", "left", "40 in"), 0), id="alone"),
        pytest.param([room(11, 2)], (("Long…, left", "40 in"), 0), id="before others"),
        # Three letters of a name, "Lo…", would say nothing.
        pytest.param([room(9, 2)], (("left",), 0), id="too short"),
    ],
)
def test_only_a_name_is_cut(ways: list[Way], expected: Fitted) -> None:
    """A name of twelve letters is cut where nothing else helps, to no fewer than four."""
    found = fitted(
        FIXED,
        (AFTER, BELOW),
        ways,
        name="Long gallery",
        shorter=((", lt",),),
        bare=(("left",),),
    )
    assert expected == found


@pytest.mark.parametrize("angle", [0, 90])
def test_stacked(angle: int) -> None:
    """Lines stand under one another about the middle, turned a quarter from left to right.

    From the top of the first one's capitals, 0.729 em, to the last baseline.
    """
    label = (("Bay", "left", "40 in"), angle)
    found = [
        mark
        for mark in fit_labels.stacked(FIXED, label, 30, 20, Role.PIECE_LABEL, bold=True)
        if isinstance(mark, Text)
    ]
    assert [mark.text for mark in found] == ["Bay", "left", "40 in"]
    assert [mark.bold for mark in found] == [True, False, False]
    assert {(mark.anchor, mark.angle, mark.size) for mark in found} == {("middle", angle, 3.05)}
    # How far each baseline is down from the middle; turned, down is to the right.
    down = [float(mark.x) - 30 if angle else 20 - float(mark.y) for mark in found]
    assert {float(mark.y) - 20 if angle else float(mark.x) - 30 for mark in found} == {0}
    assert pytest.approx([down[0] + LINE, down[1] + LINE]) == down[1:]
    assert abs((down[0] - 0.729 * 3.05) + down[2]) / 2 < 0.3
    assert list(fit_labels.stacked(FIXED, None, 30, 20, Role.PIECE_LABEL)) == []


@pytest.mark.parametrize(
    ("second", "places"),
    [
        # Plain letters: "40 in" is 9.15 mm. The next begins 1.5 mm on, its middle 10.65 on.
        pytest.param(10.65 + HAIR, [(10, 5), (20.65, 5)], id="just apart"),
        pytest.param(10.6, [(10, 5), (20.6, 1)], id="nearer: a level down"),
        pytest.param(0.0, [(10, 5), (10, 1)], id="at one place"),
    ],
)
def test_spaced(second: float, places: list[tuple[float, float]]) -> None:
    """Two labels keep 1.5 mm between them, or the second goes a level down."""
    labels = [(10 + second, "40 in"), (10.0, "30 in")]
    marks = fit_labels.spaced(FIXED, labels, (5, 1), 100, Role.RUNNING_MEASURE)
    found = [mark for mark in marks if isinstance(mark, Text)]
    assert [mark.text for mark in found] in (["30 in", "40 in"], ["40 in", "30 in"])
    assert [pytest.approx(place, abs=1e-4) for place in places] == [(m.x, m.y) for m in found]
    assert {mark.anchor for mark in found} == {"middle"}


def test_spaced_within_its_row() -> None:
    """A label at an end is pushed into the row; one wider than the row, or in the way, is left out.

    "40 in" is 9.15 mm, so that its middle is 4.575 from an end, bold 10.675 and 5.3375; eleven
    letters are 20.13.
    """
    ends = [(0.0, "30 in"), (1.0, "35 in"), (40.0, "40 in")]
    marks = fit_labels.spaced(FIXED, ends, (5,), 40, Role.RUNNING_MEASURE)
    found = [(mark.text, mark.x) for mark in marks if isinstance(mark, Text)]
    assert [words for words, _ in found] == ["30 in", "40 in"]
    assert pytest.approx([4.575, 40 - 4.575]) == [x for _, x in found]
    [mark] = fit_labels.spaced(FIXED, ends[2:], (5,), 40, Role.DROP_NUMBER, bold=True)
    assert isinstance(mark, Text)
    assert pytest.approx(40 - 5.3375) == mark.x
    assert mark.bold
    long = [(10.0, "12345678901")]
    assert list(fit_labels.spaced(FIXED, long, (5, 1), 20, Role.RUNNING_MEASURE)) == []
    [mark] = fit_labels.spaced(FIXED, long, (5, 1), 20.13 + HAIR, Role.RUNNING_MEASURE)
    assert isinstance(mark, Text)


def test_all_or_none() -> None:
    """A row that says only some of its measures would be misread: it is left out."""
    far, near = ([(5.0, "30 in"), (5.0 + apart, "40 in")] for apart in (11, 10))
    found = fit_labels.all_spaced(FIXED, far, 5, 100, Role.SEAM_MEASURE)
    assert [mark.text for mark in found if isinstance(mark, Text)] == ["30 in", "40 in"]
    assert fit_labels.all_spaced(FIXED, near, 5, 100, Role.SEAM_MEASURE) == ()
