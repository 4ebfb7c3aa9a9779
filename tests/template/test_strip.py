"""The strip of one panel in its own frame, against figures worked by hand."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given

from drapetemplate import drawing
from drapetemplate.drawing.marks import Mark, Polygon, Text
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.template.strip import Template
from tests.helpers.jobfiles import inches
from tests.helpers.marks import circles, lines, texts
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED, Spec, specs

INCH = Fraction(254, 10)
# W 40, a 1 1/2, b 3, G 2, N 6, in inches: centres 2.5, 9.2, 15.9, 22.6, 29.3, 36 from the
# leading edge, gaps of 4.7.
CENTERS = [Fraction(c, 10) * INCH for c in (25, 92, 159, 226, 293, 360)]
SPEC = Spec()


def of_role(template: Template, role: Role) -> list[Mark]:
    """A strip's marks of one role, as drawn."""
    return [mark for mark in template.marks if mark.role == role]


@pytest.mark.parametrize(
    ("panels", "view", "at_right"),
    [
        ("left", "face", True),
        ("right", "face", False),
        ("single", "face", False),
        ("left", "back", False),
        ("right", "back", True),
        ("single", "back", True),
    ],
)
def test_leading_end(panels: str, view: str, at_right: bool) -> None:  # noqa: FBT001  # a case
    """A left panel leads at its right as seen from the face; the back mirrors."""
    return_ = "1 1/2" if panels == "single" else "3"
    found = SPEC.but(panels=panels, view=view, return_=return_).template()
    assert at_right == found.strip.leading_at_right
    first = circles(found, Role.HOLE)[0]
    assert first.x == (40 * INCH - CENTERS[0] if at_right else CENTERS[0])


@pytest.mark.parametrize(("role", "diameter"), [(Role.OUTSIDE, 2), (Role.HOLE, Fraction(17, 16))])
def test_circles(role: Role, diameter: Fraction) -> None:
    """Circles are exact, to the last digit; the eyelet's top is 1 in below the panel's."""
    found = circles(SPEC.but(panels="right").template(), role)
    expected = [(c, 2 * INCH, diameter * INCH / 2) for c in CENTERS]
    assert expected == [(c.x, c.y, c.r) for c in found]


@pytest.mark.parametrize(("hole", "arm"), [("1 1/16", 6), ("1/2", Fraction(127, 30))])
def test_crosses(hole: str, arm: Fraction) -> None:
    """Through every centre runs a line each way, 6 mm to either side or a third of a small hole.

    The small hole to prick is 1.5 mm wide, on the centre.
    """
    template = SPEC.but(panels="right", hole=hole).template()
    crosses = [(m.x1, m.y1, m.x2, m.y2) for m in lines(template, Role.CENTER_CROSS)]
    y = 2 * INCH
    level = [(c - arm, y, c + arm, y) for c in CENTERS]
    upright = [(c, y - arm, c, y + arm) for c in CENTERS]
    assert sorted(crosses) == sorted([*level, *upright])
    pricked = [(c.x, c.y, c.r) for c in circles(template, Role.CENTER_HOLE)]
    assert pricked == [(c, y, Fraction(3, 4)) for c in CENTERS]


@pytest.mark.parametrize(("leading", "return_"), [("1 1/2", "3"), ("3", "1 1/2")])
@pytest.mark.parametrize("view", ["face", "back"])
def test_both_panels_measure_their_own_centres(leading: str, return_: str, view: str) -> None:
    """On a pair's strip each eyelet is one centre of either panel, from that one's leading edge."""
    spec = SPEC.but(panels="pair", strips="one", leading=leading, return_=return_, view=view)
    strip = spec.every()[0].template.strip
    first = inches(leading) + INCH  # and then every 6.7 in
    expected = [first + n * Fraction(67, 10) * INCH for n in range(6)]
    for panel in (strip, strip.of_other):
        assert sorted(panel.measure(ring.x) for ring in panel.rings) == expected
    assert strip.measure(strip.rings[0].x) == strip.of_other.measure(strip.rings[-1].x)


def test_words_at_the_ends() -> None:
    """The ends' words read up the middle of the band, inside its edges."""
    found = texts(SPEC.but(panels="right").template(), Role.END_LABEL)
    assert [m.text for m in found] == ["LEADING EDGE", "RETURN EDGE"]
    for words in found:
        _, low, _, high = drawing.box(words)
        assert (low + high) / 2 == pytest.approx(2 * 25.4)
        assert 0 < low < high < 4 * 25.4


@pytest.mark.parametrize("return_", ["2", "2 1/4", "2 1/2"])
def test_words_of_two_ends_near_one_another(return_: str) -> None:
    """Where a pair's ends are near one another, the first panel's words are over the second's."""
    spec = SPEC.but(panels="pair", strips="one", leading="2", return_=return_)
    template = spec.every()[0].template
    first, second = (
        [m for m in texts(template) if m.angle == 90 and m.text.startswith(f"{side}: ")]
        for side in ("LEFT", "RIGHT")
    )
    assert len(first) >= 2
    assert len(second) >= 2
    assert all(drawing.box(m)[1] > 2 * 25.4 for m in first)
    assert all(drawing.box(m)[3] < 2 * 25.4 for m in second)


def test_above() -> None:
    """An eyelet nearer the top: 1/2 in above it in a band of 4 leaves its centre 2 1/2 up."""
    found = circles(SPEC.but(above="1/2").template(), Role.HOLE)
    assert {Fraction(5, 2) * INCH} == {c.y for c in found}


def test_guides() -> None:
    """Two guides an eyelet, at its flange's edges, over the band's whole height."""
    found = lines(SPEC.but(panels="right").template(), Role.GUIDE)
    expected = {(c + side * INCH, 0, 4 * INCH) for c in CENTERS for side in (-1, 1)}
    assert expected == {(g.x1, g.y1, g.y2) for g in found}
    assert all(g.x1 == g.x2 for g in found)
    assert len(expected) == len(found)


def test_letters() -> None:
    """F and B in turn, in the middle of their gaps, from F at the leading edge to F."""
    template = SPEC.but(panels="right").template()
    found = [m for m in template.marks if isinstance(m, Text) and m.role in LETTERS.values()]
    assert [m.text for m in found] == ["F", "B", "F", "B", "F"]
    assert [m.role for m in found] == [Role.LETTER_FRONT, Role.LETTER_BACK] * 2 + [
        Role.LETTER_FRONT
    ]
    middles = [(a + b) / 2 for a, b in pairwise(CENTERS)]
    assert middles == [m.x for m in found]


def test_hooks() -> None:
    """On hooks nothing weaves: no letters, no return folds, plain edges."""
    template = SPEC.but(hung="hooks", panels="single", return_="1 1/2").template()
    roles = {mark.role for mark in template.marks}
    assert roles.isdisjoint({Role.LETTER_FRONT, Role.LETTER_BACK, Role.RETURN_FOLD})
    assert [m.text for m in texts(template, Role.END_LABEL)] == ["LEFT EDGE", "RIGHT EDGE"]


@pytest.mark.parametrize("panels", ["left", "right"])
def test_numbers(panels: str) -> None:
    """Numbers and measures run from the leading edge, whichever end that is."""
    template = SPEC.but(panels=panels).template()
    assert [str(n) for n in range(1, 7)] == [m.text for m in texts(template, Role.NUMBER)]
    measures = ["2 1/2 in", "≈ 9 3/16 in", "≈ 15 7/8 in", "≈ 22 5/8 in", "≈ 29 5/16 in", "36 in"]
    assert measures == [m.text for m in texts(template, Role.MEASURE)]
    xs = [40 * INCH - c if panels == "left" else c for c in CENTERS]
    assert xs == [m.x for m in texts(template, Role.MEASURE)]


def test_rounding_not_added() -> None:
    """Each measure is the nearest sixteenth to its own centre, whatever the ones before were."""
    template = SPEC.but(width="400", count="40").template()
    for ring, label in zip(template.strip.rings, texts(template, Role.MEASURE), strict=True):
        whole, _, part = label.text.removeprefix("≈ ").removesuffix(" in").partition(" ")
        said = Fraction(whole) + (Fraction(part) if part else 0)
        assert abs(said * INCH - template.strip.x(ring.x)) <= INCH / 32


def test_return_fold() -> None:
    """The return fold stands a return from the return edge; a single panel has one at each end."""
    assert [m.x1 for m in lines(SPEC.but(panels="right").template(), Role.RETURN_FOLD)] == [
        37 * INCH
    ]
    single = SPEC.but(panels="single").template()
    assert sorted(m.x1 for m in lines(single, Role.RETURN_FOLD)) == [3 * INCH, 37 * INCH]


def test_ends_and_edges() -> None:
    """The band's edges and the panel's ends close a box of the panel's size."""
    template = SPEC.template()
    box = (0, 0, 40 * INCH, 4 * INCH)
    marks = [*of_role(template, Role.BAND_LINE), *of_role(template, Role.PANEL_END)]
    assert len(marks) == 4
    boxes = [drawing.box(mark) for mark in marks]
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    assert pytest.approx(box) == (min(lefts), min(bottoms), max(rights), max(tops))


@pytest.mark.parametrize("panels", ["left", "right"])
def test_wedges(panels: str) -> None:
    """Wedges point at the leading edge."""
    template = SPEC.but(panels=panels).template()
    wedges = [m for m in template.marks if isinstance(m, Polygon)]
    edge = 40 * INCH if panels == "left" else 0
    inward = -5 if panels == "left" else 5
    assert len(wedges) == 2
    for wedge in wedges:
        assert [edge, edge + inward, edge + inward] == [x for x, _ in wedge.points]


def test_labels_inside() -> None:
    """Over each eyelet's flange stands its number, under it its measure, both inside the band."""
    template = SPEC.but(panels="right").template()
    for role, low, high in ((Role.NUMBER, 3, 4), (Role.MEASURE, 0, 1)):
        found = texts(template, role)
        assert len(found) == 6
        for words in found:
            _, bottom, _, top = drawing.box(words)
            assert low * 25.4 < bottom < top < high * 25.4


def test_labels_outside() -> None:
    """A band with less than 5 mm over the eyelet sends numbers above it, measures below."""
    template = SPEC.but(band="2 1/4", above="1/8").template()
    assert not template.strip.labels_inside
    assert template.strip.edge == 12
    assert all(float(m.y) >= 2.25 * 25.4 for m in texts(template, Role.NUMBER))
    assert all(drawing.box(m)[3] <= 0 for m in texts(template, Role.MEASURE))


@pytest.mark.parametrize("outside", ["1", "1 1/2", "2"])
def test_measure_between_guides(outside: str) -> None:
    """A long measure is set smaller to stay between its eyelet's guides, to 3 mm at least."""
    template = SPEC.but(outside=outside, hole="1/2").template()
    for ring, label in zip(template.strip.rings, texts(template, Role.MEASURE), strict=True):
        assert label.width <= ring.outside - 1 or label.size == 3
        assert "…" not in label.text


def test_own_letters() -> None:
    """A workroom's own letters for front and back stand in the gaps, no wider than a lap."""
    template = SPEC.but(letters='["VOR", "H"]').template()
    found = texts(template, Role.LETTER_FRONT)
    assert {m.text for m in found} == {"VOR"}
    assert all(m.width <= 11.7 + 1e-9 for m in found)


@searched(100)
@given(specs())
def test_mirrored(spec: Spec) -> None:
    """From the back every circle and line is where its mirror image was; text isn't mirrored."""
    face, back = (spec.but(view=view).template() for view in ("face", "back"))
    width = face.strip.length
    for role in (Role.OUTSIDE, Role.HOLE, Role.CENTER_HOLE):
        there = [(width - c.x, c.y, c.r) for c in circles(face, role)]
        assert there == [(c.x, c.y, c.r) for c in circles(back, role)]
    for role in (Role.GUIDE, Role.PANEL_END, Role.RETURN_FOLD):
        xs = sorted(width - m.x1 for m in lines(face, role))
        assert xs == sorted(m.x1 for m in lines(back, role))
    for role in (Role.NUMBER, Role.MEASURE):
        assert [m.text for m in texts(face, role)] == [m.text for m in texts(back, role)]
    assert all(m.angle in {0, 90} for m in back.marks if isinstance(m, Text))


@searched(100)
@given(specs())
def test_letters_in_gaps(spec: Spec) -> None:
    """Every letter stands between two neighbouring flanges, with room on both sides."""
    template = spec.template(FIXED)
    rings = sorted(template.strip.rings, key=lambda r: r.x)
    found = [m for m in template.marks if isinstance(m, Text) and m.role in LETTERS.values()]
    found.sort(key=lambda m: m.x)
    for letter, before, after in zip(found, rings, rings[1:], strict=False):
        left, _, right, _ = drawing.box(letter)
        assert left > before.x + before.outside / 2
        assert right < after.x - after.outside / 2
