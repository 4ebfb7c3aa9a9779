"""A PDF's title and bookmarks: one line of what shows, whatever a name holds."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.document.model import Document, titled

STANDS_FOR = "\N{REPLACEMENT CHARACTER}"


@pytest.mark.parametrize(
    "char",
    [
        pytest.param("\x07", id="control"),
        pytest.param("\u202e", id="turns the direction"),
        pytest.param("\ud800", id="half of a pair"),
        pytest.param("\ue000", id="private"),
        pytest.param("\u0378", id="unassigned"),
    ],
)
def test_unshown(char: str) -> None:
    """What shows nothing, or turns what comes after, is told by a sign in its place."""
    assert titled(f"Heron{char}Point") == f"Heron{STANDS_FOR}Point"


def test_one_line() -> None:
    """Line ends, paragraphs and runs of spaces are one space; any script stays."""
    assert titled("  Heron\n Point,\u2028 Zoë\u2029ΩΣ \t 窓 ") == "Heron Point, Zoë ΩΣ 窓"


def test_longest() -> None:
    """200 signs stay as they are; of more, 199 do, and a sign that there is more."""
    assert titled("x" * 200) == "x" * 200
    assert titled("x" * 201) == "x" * 199 + "…"


def test_true_size() -> None:
    """What no printer's factors are given for is drawn as large as it is, both ways."""
    one = Fraction(1)
    assert Document("Order", Fraction(210), Fraction(297), (), ()).scale == (one, one)
