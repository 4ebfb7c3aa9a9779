"""Sheets taped by their registration marks rebuild the strip exactly, whatever the paper.

Each part is read as it lies on its sheet. Where its neighbour goes is taken from the marks that
both show on their join, never from where the layout says that the part lies on the strip.
"""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, reject
from hypothesis import strategies as st

from drapetemplate.drawing.marks import Arc, Circle, Line, Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import JobError
from drapetemplate.sheets.sheet import SheetSet
from tests.helpers.searching import searched
from tests.helpers.strips import Spec, as_read, inches, parts, sixteenths, specs

Point = tuple[Fraction, Fraction]
INCH = Fraction(254, 10)


@st.composite
def anywhere(draw: st.DrawFn) -> Spec:
    """Any job on any paper: sheets or a roll, a strip for each panel or one for a pair."""
    spec = draw(specs())
    if draw(st.booleans()):
        spec = spec.but(
            panels="pair", strips=draw(st.sampled_from(["one", "one", "each"])), hung="pole"
        )
    if draw(st.booleans()):  # low enough for lanes
        spare = Fraction(draw(st.integers(2, 12)), 16)
        spec = spec.but(band=str(inches(spec.outside) + spare), above=str(spare / 2))
    if draw(st.integers(0, 2)) == 0:
        roll = draw(st.sampled_from(["7 in roll", "24 in roll", "42 in roll"]))
        wide = draw(sixteenths("60", "450"))
        spec = spec.but(size=roll, orientation="auto", width=wide)
    try:
        panel = spec.panel()
    except JobError:
        reject()  # a pair's panel may be too narrow where a single one wasn't
    return spec.but(count=str(panel.count))


def on_join(found: SheetSet, marks: list[Mark], role: Role, axis: int) -> list[Point]:
    """The registration marks on a join: half a lap inside its line, along it in order."""
    half = found.paper.overlap / 2
    [line] = {
        Fraction((mark.x1, mark.y1)[axis])
        for mark in marks
        if isinstance(mark, Line)
        and mark.role == role
        and (mark.x1, mark.y1)[axis] == (mark.x2, mark.y2)[axis]
    }
    # A cut line is the left or the upper edge of its part; so is a landing line, of its lap.
    at = line + half if axis == 0 else line - half
    points = [
        (Fraction(mark.x), Fraction(mark.y))
        for mark in marks
        if isinstance(mark, Circle) and mark.role == Role.REGISTRATION
    ]
    return sorted(point for point in points if point[axis] == at)


def step(found: SheetSet, old: list[Mark], new: list[Mark], axis: int) -> Point:
    """How far the new part must go for its marks on the join to fall on the old one's."""
    before = on_join(found, old, Role.LANDING_LINE, axis)
    after = on_join(found, new, Role.CUT_LINE, axis)
    assert before
    [moved] = {(a[0] - b[0], a[1] - b[1]) for a, b in zip(before, after, strict=True)}
    return moved


def taped(found: SheetSet) -> list[tuple[list[Mark], Point]]:
    """Every part with where it goes, walked from the first; every join must agree."""
    read = {(part.row, part.column): as_read(found, part) for part in parts(found)}
    places: dict[tuple[int, int], Point] = {(0, 0): (Fraction(0), Fraction(0))}
    for (row, column), marks in sorted(read.items()):
        for before, axis in (((row, column - 1), 0), ((row - 1, column), 1)):
            if before in read:
                dx, dy = step(found, read[before], marks, axis)
                x, y = places[before]
                here = (x + dx, y + dy)
                assert here == places.setdefault((row, column), here)
    return [(read[at], place) for at, place in places.items()]


def worked(spec: Spec) -> tuple[Fraction, set[tuple[Fraction, Fraction, Fraction]]]:
    """The strip's length and its holes' centres and radii, from its lower left corner.

    P = G + (W - a - b - N G)/(N - 1). The first centre is half an eyelet past the cloth at the
    strip's left end: the return of a left panel as it is seen from the face, of a right one from
    the back. One strip for both has at either end the longer of the two.
    """
    width, outside, hole = (inches(x) * INCH for x in (spec.width, spec.outside, spec.hole))
    leading, return_ = (inches(x) * INCH for x in (spec.leading, spec.return_))
    if spec.panels == "single":
        leading = return_
    count = int(spec.count)
    pitch = outside + (width - leading - return_ - count * outside) / (count - 1)
    left = return_ if (spec.panels != "right") == (spec.view == "face") else leading
    length = width
    if spec.strips == "one" and spec.panels == "pair":
        left = max(leading, return_)
        length = 2 * left + outside + (count - 1) * pitch
    y = (inches(spec.band) - inches(spec.above)) * INCH - outside / 2
    centers = {(left + outside / 2 + i * pitch, y, hole / 2) for i in range(count)}
    return length, centers


@searched(40)
@given(anywhere())
def test_rebuilt(spec: Spec) -> None:
    """Parts walked from join to join by their marks put every hole where the formula says."""
    found = spec.every()[0]
    laid = taped(found)
    band = [
        (x + Fraction(at), y + Fraction(mark.y1))
        for marks, (x, y) in laid
        for mark in marks
        if isinstance(mark, Line) and mark.role == Role.BAND_LINE
        for at in (mark.x1, mark.x2)
    ]
    left, bottom = min(x for x, _ in band), min(y for _, y in band)
    holes = {
        (x + Fraction(mark.x) - left, y + Fraction(mark.y) - bottom, Fraction(mark.r))
        for marks, (x, y) in laid
        for mark in marks
        if isinstance(mark, Circle | Arc) and mark.role == Role.HOLE
    }
    length, expected = worked(spec)
    assert length == max(x for x, _ in band) - left
    assert expected == holes
