"""Strips on their sheets: all of it there, and nothing on anything else."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import combinations, product
from math import cos, hypot, radians, sin

import pytest
from hypothesis import example, given, reject
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.marks import Arc, Circle, Line, Text
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.errors import JobError
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.sheet import SheetSet, clear_laps, clear_row_laps
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED, Spec, as_read, inches, parts, read_back, sixteenths, specs

Box = tuple[float, float, float, float]


def overlap(a: Box, b: Box) -> bool:
    """True where two boxes share more than a hair."""
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return min(wide, high) > 1e-6


def on_outline(box: Box, mark: Circle | Arc) -> bool:
    """True where a circle's or an arc's line runs through a box."""
    start, sweep = (mark.start, mark.sweep) if isinstance(mark, Arc) else (0.0, 360.0)
    x, y, r = float(mark.x), float(mark.y), float(mark.r)
    near = hypot(max(box[0] - x, 0, x - box[2]), max(box[1] - y, 0, y - box[3]))
    far = max(hypot(a - x, b - y) for a in (box[0], box[2]) for b in (box[1], box[3]))
    if not near < r < far:
        return False
    angles = (radians(start + i * sweep / 720) for i in range(721))
    points = ((x + r * cos(a), y + r * sin(a)) for a in angles)
    return any(box[0] < a < box[2] and box[1] < b < box[3] for a, b in points)


Stretch = tuple[str, str, Fraction, Fraction, Fraction]


def stretch(line: Line) -> Stretch:
    """A line as its role, its direction, where it stands, and from where to where it runs."""
    xs = sorted((Fraction(line.x1), Fraction(line.x2)))
    ys = sorted((Fraction(line.y1), Fraction(line.y2)))
    if xs[0] == xs[1]:
        return line.role, "up", xs[0], ys[0], ys[1]
    return line.role, "along", ys[0], xs[0], xs[1]


def covers(parts: list[tuple[Fraction, Fraction]], low: Fraction, high: Fraction) -> bool:
    """True where stretches leave nothing of low ... high out, to the last digit."""
    for a, b in sorted(parts):
        if a > low:
            break
        low = max(low, b)
        if low >= high:
            return True
    return False


@searched(60)
@given(specs())
def test_lines_in_full(spec: Spec) -> None:
    """Every line of the strip is on the sheets from end to end, to the last digit."""
    found = spec.sheets()
    found_parts: dict[tuple[str, str, Fraction], list[tuple[Fraction, Fraction]]] = {}
    for part in parts(found):
        for mark in read_back(found, part):
            if isinstance(mark, Line):
                role, way, at, low, high = stretch(mark)
                found_parts.setdefault((role, way, at), []).append((low, high))
    for mark in found.template.marks:
        if isinstance(mark, Line):
            role, way, at, low, high = stretch(mark)
            assert covers(found_parts[role, way, at], low, high), mark


@searched(60)
@given(specs())
def test_circles_whole(spec: Spec) -> None:
    """A circle is whole on some sheet, to the last digit, or the joins' words say it is cut."""
    found = spec.sheets()
    whole = {mark for part in parts(found) for mark in read_back(found, part)}
    circles = [mark for mark in found.template.marks if isinstance(mark, Circle)]
    cut = {mark.role for mark in circles if mark not in whole}
    laps = {
        *clear_laps(found.template.strip, found.tiling, found.paper),
        *clear_row_laps(found.template.strip, found.tiling, found.paper),
    }
    assert (Role.HOLE in cut) == ("cut" in laps)
    assert (Role.OUTSIDE in cut) == bool(laps & {"hole only", "hole whole", "cut"})


@searched(60)
@given(specs(), st.sampled_from(["1", "2 1/2", "6", "8"]))
def test_cut_circles_are_said(spec: Spec, outside: str) -> None:
    """A sheet whose lap lies inside of a circle that it shows says so, and no other does."""
    larger = inches(outside)
    spec = spec.but(outside=outside, hole=str(larger * 3 / 4), band=str(larger * 2), above="1/4")
    try:
        spec.panel()
    except JobError:
        reject()
    found = spec.sheets()
    lap = found.paper.overlap
    for sheet in found.sheets:
        heading = [m.text for m in sheet.marks if isinstance(m, Text) and m.role == Role.HEADING]
        said = " ".join(heading)
        cut = set()
        for part, mark in product(sheet.parts, found.template.marks):
            if not isinstance(mark, Circle) or mark.role not in {Role.HOLE, Role.OUTSIDE}:
                continue
            low, high = mark.y - mark.r, mark.y + mark.r
            left, right = mark.x - mark.r, mark.x + mark.r
            a, bottom, b, top = part.shown
            on = left < b and a < right and low < top and bottom < high
            inside = (left < a and a + lap < right) or (left < b - lap and b < right)
            inside |= (low < bottom and bottom + lap < high) or (low < top - lap and top < high)
            if on and inside:
                cut.add(mark.role)
        assert ("hole cut" in said) == (Role.HOLE in cut)
        assert (Role.OUTSIDE in cut) == ("cut" in said.replace("cut apart", ""))


def test_laps_of_rows_are_said() -> None:
    """A lap over a flange of 5 in, 63.5 mm about its centre, is told on every sheet that has it.

    A join's name stands above the band, so on the upper row's sheets alone: their headings tell
    again only what is cut, the lower row's all. A lap is 6.35 mm to either side of its join.
    """
    found = Spec(
        band="12",
        above="5",
        outside="5",
        hole="2",
        count="4",
        joins="even",
        orientation="landscape",
    ).sheets(typeface())
    joins, centers = found.tiling.joins, [ring.x for ring in found.template.strip.rings]
    told = Counter[str]()
    names_on, headings = (sheet_texts(found, role) for role in (Role.JOIN_NAME, Role.HEADING))
    for sheet, named, lines in zip(found.sheets, names_on, headings, strict=True):
        [part] = sheet.parts
        names, heading = " ".join(named), " ".join(lines)
        for join in {part.column - 1, part.column} & {*range(len(joins))}:
            apart = min(abs(center - joins[join]) for center in centers)
            touched, cut = apart < Fraction("69.85"), apart < Fraction("57.15")
            upper = part.row == 0
            assert (f"join {join + 1}" in heading) == (cut if upper else touched)
            if upper:
                assert f"join {join + 1}" in names
            told[f"{'upper' if upper else 'lower'}, {'cut' if cut else touched}"] += 1
        assert not (part.row and names)
    # Each case is there: a lap clear of flanges, one over an edge, one inside.
    assert len(told) == 6


# Three rows, the middle one lower than "RETURN EDGE" is long, and most of it in there.
LOW_ROW = Spec(
    width="8",
    outside="1/2",
    hole="1/8",
    count="auto",
    leading="0",
    return_="5/16",
    band="11 1/16",
    above="0",
    size="7 x 8 in",
    orientation="portrait",
    margin="3/8",
)


@searched(60)
@example(LOW_ROW)
@given(specs())
def test_texts_whole(spec: Spec) -> None:
    """Every text is whole on some sheet, inside what that sheet shows of the strip."""
    found = spec.sheets()
    words: Counter[tuple[str, str]] = Counter()
    for part in parts(found):
        left, bottom, right, top = (float(side) for side in part.shown)
        for mark in read_back(found, part):
            box = drawing.box(mark)
            across = left - 1e-9 <= box[0] and box[2] <= right + 1e-9
            if (
                isinstance(mark, Text)
                and across
                and bottom - 1e-9 <= box[1] <= box[3] <= top + 1e-9
            ):
                words[mark.role, mark.text] += 1
    # What is in a hole that no sheet shows whole would be taken for words of another place.
    whole = {mark for part in parts(found) for mark in read_back(found, part)}
    holes = [m for m in found.template.marks if isinstance(m, Circle) and m.role == Role.HOLE]
    parted = [(float(hole.x), float(hole.r)) for hole in holes if hole not in whole]
    wanted = Counter(
        (m.role, m.text)
        for m in found.template.marks
        if isinstance(m, Text)
        and not (m.role == Role.HOLE_WORDS and any(abs(float(m.x) - x) < r for x, r in parted))
    )
    assert {key: n for key, n in wanted.items() if words[key] < n} == {}


@searched(60)
@given(specs())
def test_nothing_added(spec: Spec) -> None:
    """What a sheet has of the strip is the strip's, and inside what the sheet shows."""
    found = spec.sheets()
    roles = {mark.role for mark in found.template.marks}
    circles = {(m.role, m.x, m.y, m.r) for m in found.template.marks if isinstance(m, Circle)}
    for part in parts(found):
        left, bottom, right, top = part.shown
        for mark in read_back(found, part):
            if mark.role not in roles:
                continue
            if isinstance(mark, Circle | Arc):
                assert (mark.role, mark.x, mark.y, mark.r) in circles
            if isinstance(mark, Line):
                assert left <= min(mark.x1, mark.x2)
                assert max(mark.x1, mark.x2) <= right
                assert bottom <= min(mark.y1, mark.y2)
                assert max(mark.y1, mark.y2) <= top


@searched(60)
@given(specs())
def test_neighbours_share(spec: Spec) -> None:
    """Two neighbours show the same registration marks, at the same points of the strip."""
    found = spec.sheets()
    points = {}
    for part in parts(found):
        marks = read_back(found, part)
        points[part.row, part.column] = {
            (m.x, m.y) for m in marks if isinstance(m, Circle) and m.role == Role.REGISTRATION
        }
    for (row, column), here in points.items():
        for there, joins, i in (
            (points.get((row, column + 1)), found.tiling.joins, 0),
            (points.get((row + 1, column)), found.tiling.row_joins[::-1], 1),
        ):
            if there is not None:
                join = joins[column if i == 0 else row]
                mine = {point for point in here if point[i] == join}
                assert mine == {point for point in there if point[i] == join}
                assert mine


def test_two_marks_a_join() -> None:
    """In one row each join has a mark above the band and one below, 3 mm off it."""
    found = Spec().sheets()
    for part in parts(found)[1:-1]:
        marks = read_back(found, part)
        points = {
            (m.x, m.y) for m in marks if isinstance(m, Circle) and m.role == Role.REGISTRATION
        }
        beside = found.tiling.joins[part.column - 1 : part.column + 1]
        height = Fraction(1016, 10)
        assert {(x, y) for x in beside for y in (Fraction(-3), height + 3)} == points


@searched(60)
@given(specs())
def test_inside_margins(spec: Spec) -> None:
    """Nothing is outside the margins of the upright page, in the shipped font."""
    found = spec.sheets(typeface())
    height = found.paper.height
    assert height is not None
    margin = found.paper.margin
    for sheet in found.sheets:
        for mark in sheet.marks:
            left, bottom, right, top = outer(mark) if isinstance(mark, Arc) else drawing.box(mark)
            assert left >= float(margin) - 1e-6
            assert bottom >= float(margin) - 1e-6
            assert right <= float(found.paper.width - margin) + 1e-6
            assert top <= float(height - margin) + 1e-6


def outer(arc: Arc) -> Box:
    """The box round an arc's own points, not its whole circle."""
    angles = [radians(arc.start + i * arc.sweep / 90) for i in range(91)]
    xs = [float(arc.x) + float(arc.r) * cos(a) for a in angles]
    ys = [float(arc.y) + float(arc.r) * sin(a) for a in angles]
    return min(xs), min(ys), max(xs), max(ys)


@st.composite
def sensible(draw: st.DrawFn) -> Spec:
    """Jobs as workrooms have them: eyelets of 1 to 4 in, at least an inch apart, in one row."""
    outside = draw(sixteenths("1", "4"))
    size = inches(outside)
    more = Fraction(draw(st.integers(8, 64)), 16)
    gap = Fraction(draw(st.integers(100, 600)), 100)
    count = draw(st.sampled_from([2, 4, 6, 8, 10]))
    panels = draw(st.sampled_from(["left", "right", "single"]))
    return_ = Fraction(draw(st.integers(8, 112)), 16)
    leading = return_ if panels == "single" else Fraction(draw(st.integers(8, 64)), 16)
    width = leading + return_ + count * size + (count - 1) * gap
    return Spec(
        width=str(width),
        outside=outside,
        hole=str(size * draw(st.integers(7, 13)) / 16),
        count=str(count),
        panels=panels,
        leading=str(leading),
        return_=str(return_),
        band=str(size + more),
        above=str(more * draw(st.sampled_from([4, 5, 8])) / 16),
        size=draw(st.sampled_from(["letter", "a4", "legal", "tabloid", "a3"])),
        orientation=draw(st.sampled_from(["auto", "portrait"])),
        margin=draw(st.sampled_from(["1/4", "1/2"])),
        overlap=draw(st.sampled_from(["3/8", "1/2", "3/4"])),
        view=draw(st.sampled_from(["face", "back"])),
        hung=draw(st.sampled_from(["pole", "pole", "hooks"])),
        units=draw(st.sampled_from(["in", "mm", "cm"])),
    )


@searched(80)
@given(sensible())
def test_labels_apart(spec: Spec) -> None:
    """No text lies on another, on a circle's line, or on a guide, in the shipped font."""
    found = spec.sheets(typeface())
    for sheet in found.sheets:
        marks = as_read(found, sheet)
        texts = [(mark, drawing.box(mark)) for mark in marks if isinstance(mark, Text)]
        for (one, a), (other, b) in combinations(texts, 2):
            assert not overlap(a, b), (one.text, other.text)
        for mark in marks:
            for text, box in texts:
                if isinstance(mark, Circle | Arc):
                    assert not on_outline(box, mark), (text.text, mark.role)
                elif isinstance(mark, Line) and mark.role == Role.GUIDE:
                    assert not overlap(box, thick(mark)), (text.text, mark.role)


def thick(line: Line) -> Box:
    """A line's box, a hundredth of a mm wide."""
    left, bottom, right, top = drawing.box(line)
    return left - 0.005, bottom - 0.005, right + 0.005, top + 0.005


@searched(80)
@given(sensible())
def test_letters_not_taped_over(spec: Spec) -> None:
    """Where laps touch no flange, no landing line runs through a letter: the next sheet hides it.

    A letter moved off the line is in the lap, and both sheets have it.
    """
    found = spec.sheets()
    if found.tiling.clear != "outside":
        return
    seen: Counter[tuple[object, object, str]] = Counter()
    for part in parts(found):
        marks = read_back(found, part)
        landing = [m.x1 for m in marks if m.role == Role.LANDING_LINE and isinstance(m, Line)]
        for mark in marks:
            if isinstance(mark, Text) and mark.role in LETTERS.values():
                left, _, right, _ = drawing.box(mark)
                assert not any(left < x < right for x in landing)
                seen[mark.x, mark.y, mark.text] += 1
    gaps = len(found.template.strip.rings) - 1 if spec.hung == "pole" else 0
    assert gaps == len(seen)


@searched(60)
@given(specs())
def test_mirrored(spec: Spec) -> None:
    """Seen from the back as many sheets, and on auto no more sheets and joins than either way."""
    face, back = (spec.but(view=view).sheets() for view in ("face", "back"))
    assert len(face.sheets) == len(back.sheets)

    def sheets_and_joins(orientation: str) -> int:
        tiling = spec.but(orientation=orientation).sheets().tiling
        return tiling.count + tiling.rows * tiling.across - 1

    turns = map(sheets_and_joins, ("portrait", "landscape"))
    assert min(turns) == sheets_and_joins("auto")


def sheet_texts(found: SheetSet, role: Role) -> list[list[str]]:
    """The texts of one role, sheet by sheet."""
    return [
        [m.text for m in s.marks if isinstance(m, Text) and m.role == role] for s in found.sheets
    ]


def test_numbering() -> None:
    """Sheets say which they are, of how many, and which lie beside them."""
    found = Spec(orientation="landscape").sheets()
    numbers = [text for [text] in sheet_texts(found, Role.SHEET_NUMBER)]
    assert numbers == [f"Sheet {n} of 5" for n in range(1, 6)]
    joins = sheet_texts(found, Role.JOIN_NAME)
    assert joins == [
        ["join 1 →"],
        *[[f"← join {n}", f"join {n + 1} →"] for n in range(1, 4)],
        ["← join 4"],
    ]


def test_a_guide_is_no_join() -> None:
    """Guides have dots, finer than any other line; the line of a join has the longest dashes.

    A dash is told from a dot at twenty times its length, and a join's from a panel's end at twice.
    """
    found = Spec(orientation="landscape", panels="pair", strips="one", return_="5").sheets()
    lines = [m for sheet in found.sheets for m in sheet.marks if isinstance(m, Line)]
    pens = {m.role: m.pen for m in lines if m.role in {Role.GUIDE, Role.LANDING_LINE}}
    guide, landing = pens[Role.GUIDE], pens[Role.LANDING_LINE]
    assert landing.dash[0] >= 20 * guide.dash[0]
    assert guide.width < landing.width
    ends = [m.pen.dash[0] for m in lines if m.role == Role.OTHER_END]
    assert all(landing.dash[0] >= 2 * dash for dash in ends)


def test_the_rings_edge_is_named() -> None:
    """Each sheet that shows an eyelet says what its thin circle is; one that shows none doesn't."""
    found = Spec(width="60", return_="20", orientation="landscape").sheets(typeface())
    told = [
        " ".join(m.text for m in sheet.marks if isinstance(m, Text) and m.role == Role.HEADING)
        for sheet in found.sheets
    ]
    circles = [
        any(isinstance(m, Circle | Arc) and m.role == Role.OUTSIDE for m in sheet.marks)
        for sheet in found.sheets
    ]
    assert set(circles) == {True, False}
    assert ["thin circle: the ring's edge" in words for words in told] == circles


def test_rows() -> None:
    """A band of 12 in takes two rows on letter: neighbours are named above and below."""
    found = Spec(band="12", above="3", orientation="landscape").sheets()
    assert found.tiling.rows == 2
    across = len(found.tiling.joins) + 1
    assert 2 * across == len(found.sheets)
    details = [line for [line] in sheet_texts(found, Role.HEADING)]
    for i, line in enumerate(details):
        if i < across:
            assert f"{i + 1 + across} (below)" in line
        else:
            assert f"{i + 1 - across} (above)" in line


@pytest.mark.parametrize(
    ("width", "band", "expected"),
    [
        pytest.param("15 7/8", "5 1/8", [["join 1 →"], ["← join 1"]], id="sheets"),
        pytest.param("16", "1 1/2", [["join 1 →", "← join 1"]], id="lanes"),
    ],
)
def test_narrow_sheet(width: str, band: str, expected: list[list[str]]) -> None:
    """A sheet with little beside its lap still says its join's name, clear of its marks.

    15 7/8 in of strip just miss one tabloid sheet with its bars beside them, 16 in one with them
    below; the join goes into the wide return. A band of 1 1/2 in has both parts on one sheet, in
    lanes.
    """
    found = Spec(width=width, outside="1", hole="9/16", band=band, above="1/4", size="tabloid").but(
        orientation="landscape"
    )
    assert expected == sheet_texts(found.sheets(typeface()), Role.JOIN_NAME)


def test_one_sheet() -> None:
    """A strip that fits on one sheet has no joins, laps or registration marks."""
    found = Spec(width="8", outside="1", hole="1/2", count="2", size="tabloid").sheets()
    [sheet] = found.sheets
    of_joins = {Role.REGISTRATION, Role.CUT_LINE, Role.LANDING_LINE, Role.JOIN_NAME}
    assert of_joins.isdisjoint(mark.role for mark in sheet.marks)
    longer = Spec(width="40", outside="1", hole="1/2", count="2", size="tabloid").sheets()
    assert of_joins <= {mark.role for sheet in longer.sheets for mark in sheet.marks}


def test_dashes_in_step() -> None:
    """A dashed line goes on over a join where it left off: its phase is how far it has come."""
    found = Spec(panels="right").sheets(FIXED)
    for part in parts(found):
        for mark in read_back(found, part):
            if isinstance(mark, Line) and mark.role == Role.CENTER_LINE:
                # It begins 1 mm short of the first flange, 1 1/2 in from the leading edge.
                assert mark.phase == pytest.approx(float(mark.x1) - (38.1 - 1))
