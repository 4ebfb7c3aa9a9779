"""The words that say what a strip is of: in a gap, clear of what else is there."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate import drawing
from drapetemplate.document.strip_name import strip_name
from drapetemplate.drawing.marks import Line, Mark, Pen, Text, box, lozenge
from drapetemplate.drawing.roles import Role
from drapetemplate.render.typeface import typeface
from drapetemplate.template.strip import Ring, Strip, Template

PEN = Pen(0.2)
HEIGHT = Fraction(100)
WORDS = ["LEFT panel", "seen from the face, top edge above", "Heron Point, the linen store", "bay"]


def template(*marks: Mark, gap: Fraction | int = 60, count: int = 2) -> Template:
    """A strip of eyelets 40 mm across, so far apart, their centres 50 mm up."""
    rings = tuple(
        Ring(n, Fraction(40 + n * (gap + 40)), HEIGHT / 2, Fraction(40), Fraction(20))
        for n in range(count)
    )
    length = Fraction((count - 1) * (gap + 40) + 80)
    strip = Strip(
        length=length,
        height=HEIGHT,
        rings=rings,
        leading_at_right=False,
        labels_inside=True,
        start=Fraction(0),
        width=length,
    )
    return Template("", "bay", ("left",), "", 1, "face", strip, marks, "")


def word(text: str, x: float, y: float, *, angle: int = 0) -> Text:
    """A word in the middle of its place."""
    return drawing.text(typeface(), x, y, text, 4.0, Role.MEASURE, anchor="middle", angle=angle)


# The gap is from 60 to 120 mm, its middle at 90.
MIDDLE = 90.0
IN_THE_WAY: dict[str, Mark] = {
    "nothing": word("far away", 20, 80),
    "seam": Line(MIDDLE, 0.0, MIDDLE, 100.0, PEN, Role.SEAM),
    "other-seam": Line(MIDDLE, 0.0, MIDDLE, 100.0, PEN, Role.OTHER_SEAM),
    "motif": lozenge(MIDDLE, 42.0, 2.0, PEN, Role.MOTIF),
    "letter": word("F", MIDDLE, 46.0),
    "measures": word("a measure that is wider than its eyelet", MIDDLE, 20.0),
    "upright": word("words up along a seam", 84.0, 40.0, angle=90),
}


@pytest.mark.parametrize("name", IN_THE_WAY)
def test_clear_of_what_is_there(name: str) -> None:
    """Every line lies in the gap under the centre line, clear of what is in its way."""
    other = box(IN_THE_WAY[name])
    lines = strip_name(template(IN_THE_WAY[name]), WORDS * 2, typeface())
    assert lines
    for line in lines:
        left, bottom, right, top = box(line)
        assert left >= 60
        assert right <= 120
        assert bottom >= 0
        assert top <= 50
        assert right < other[0] or left > other[2] or top < other[1] or bottom > other[3]


def test_smaller_where_there_is_less_room() -> None:
    """Words come whole as long as small letters let them; then the first ones alone."""

    def sizes_and_words(gap: int) -> tuple[set[float], str]:
        lines = strip_name(template(gap=gap), WORDS * 2, typeface())
        texts = [line for line in lines if isinstance(line, Text)]
        return {text.size for text in texts}, " ".join(text.text for text in texts)

    whole = " ".join(WORDS * 2)
    assert sizes_and_words(80) == ({3.1}, whole)
    assert sizes_and_words(40) == ({2.6}, whole)
    sizes, words = sizes_and_words(18)
    assert sizes == {2.2}
    assert words.startswith("LEFT panel seen from the")
    assert len(words) < len(whole)
    assert sizes_and_words(14) == (set(), "")


@pytest.mark.parametrize(("in_first", "left"), [(False, 60), (True, 160)])
def test_in_the_first_gap_with_room(left: int, *, in_first: bool) -> None:
    """Of gaps alike the first from the left has the words, unless something stands in it."""
    seam = Line(90.0, 0.0, 90.0, 100.0, PEN, Role.SEAM)
    # Thirds, of which no float is exact, so that a gap farther along comes out wider by a hair.
    strip = template(*[seam] * in_first, gap=Fraction(181, 3), count=12)
    lines = strip_name(strip, WORDS, typeface())
    assert all(left <= box(line)[0] < left + 60 for line in lines)
