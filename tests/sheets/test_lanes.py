"""Low strips: several parts on a sheet, in lanes that are cut apart."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import cos, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.marks import Arc, Line, Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.report.plan_json import as_json
from drapetemplate.sheets.sheet import SheetSet
from tests.helpers.searching import searched
from tests.helpers.strips import Spec, as_read, inches, parts, sixteenths, specs

INCH = Fraction(254, 10)
HAIR = 1e-6


@st.composite
def low(draw: st.DrawFn, *, orientation: str = "auto") -> Spec:
    """Jobs whose band is little higher than the eyelet, on any paper."""
    outside = draw(sixteenths("1/2", "2"))
    spare = Fraction(draw(st.integers(2, 12)), 16)
    spec = draw(specs(widest=200)).but(
        outside=outside,
        hole=str(inches(outside) * draw(st.integers(4, 15)) / 16),
        count=draw(st.sampled_from(["2", "6", "10"])),
        band=str(inches(outside) + spare),
        above=str(spare / 2),
        orientation=orientation,
    )
    # A single panel has its return at both ends.
    a, b = inches(spec.leading), inches(spec.return_)
    room = inches(spec.width) - max(a, b) - b
    assume(room > int(spec.count) * inches(outside))
    return spec


def extent(mark: Mark) -> tuple[float, float, float, float]:
    """The box round a mark, round an arc's own points."""
    if not isinstance(mark, Arc):
        return drawing.box(mark)
    angles = [radians(mark.start + i * mark.sweep / 90) for i in range(91)]
    xs = [float(mark.x) + float(mark.r) * cos(a) for a in angles]
    ys = [float(mark.y) + float(mark.r) * sin(a) for a in angles]
    return min(xs), min(ys), max(xs), max(ys)


def lane_of(found: SheetSet, marks: list[Mark]) -> tuple[float, float]:
    """Where a part's lane lies on its sheet: from its laps' lines, which run its whole height."""
    ys = [
        float(y)
        for mark in marks
        if isinstance(mark, Line) and mark.role in {Role.CUT_LINE, Role.LANDING_LINE}
        for y in (mark.y1, mark.y2)
    ]
    assert len(found.tiling.joins) > 0
    return min(ys), max(ys)


@searched(40)
@given(low())
def test_apart(spec: Spec) -> None:
    """A part's marks stay in its lane; lanes are 4 mm apart, cut midway, the first on top."""
    found = spec.sheets(typeface())
    assume(found.tiling.lanes > 1)
    frame = found.tiling.frame
    for sheet in found.sheets:
        lanes = []
        for part in sheet.parts:
            marks = as_read(found, part)
            bottom, top = lane_of(found, marks)
            lanes.append((bottom, top))
            for mark in marks:
                left, low, right, high = extent(mark)
                assert bottom - HAIR <= low <= high <= top + HAIR, mark
                assert float(frame.margin) - HAIR <= left, mark
                assert right <= float(frame.strip_right) + HAIR, mark
        for (upper, _), (_, lower) in pairwise(lanes):
            assert upper - lower == pytest.approx(4)
        cuts = [m for m in as_read(found, sheet) if m.role == Role.LANE_CUT and isinstance(m, Line)]
        middles = [(upper + lower) / 2 for (upper, _), (_, lower) in pairwise(lanes)]
        assert pytest.approx(middles) == [float(cut.y1) for cut in cuts]
        assert {(frame.margin, frame.strip_right)} >= {(cut.x1, cut.x2) for cut in cuts}
        assert float(frame.strip_bottom) - HAIR <= lanes[-1][0]
        assert lanes[0][1] <= float(frame.strip_bottom + frame.strip_height) + HAIR


@searched(40)
@given(low())
def test_labels(spec: Spec) -> None:
    """Parts run on from lane to lane, then from sheet to sheet: 1a, 1b ... 2a; or 1, 2 ..."""
    found = spec.sheets()
    lanes = found.tiling.lanes
    expected = [
        f"{sheet}{letter}"
        for sheet in range(1, len(found.sheets) + 1)
        for letter in ("abcdefghijklmnopqrstuvwxyz"[:lanes] if lanes > 1 else [""])
    ]
    across = len(found.tiling.joins) + 1
    assert found.tiling.rows == 1
    assert expected[:across] == [part.label for part in parts(found)]
    assert list(range(across)) == [part.column for part in parts(found)]


def sheets_and_joins(spec: Spec) -> int:
    """The fewest sheets one orientation can do with, every number of lanes tried, and its joins.

    A sheet has, above and below what it shows of the strip, its heading (8 mm), the bars (11 mm)
    and, where fewer than 45 mm are left between the 4 in bar with 5 mm after it and 16 mm of labels
    before the column of 2 1/2 mm, the map (7 mm). Its window is that column less than the margins
    leave, unless the bars down stand under it, which take 106 mm in all.
    """
    tiling = spec.sheets().tiling
    frame, band = tiling.frame, inches(spec.band) * INCH
    under = inches(spec.above) * INCH
    edge = 6 if min(under, band - under - inches(spec.outside) * INCH) >= 5 else 12
    room = frame.across - 2 * frame.margin - 8 - (106 if frame.bars_below else 11)
    if frame.along - 2 * frame.margin - 4 * INCH - 5 - 16 - 2.5 < 45:
        room -= 7
    across, each = len(tiling.joins) + 1, band + 2 * edge
    fits = [n for n in range(1, 27) if n * each + (n - 1) * 4 <= room]
    return min(-(-across // n) for n in fits) + across - 1


@searched(40)
@given(low())
def test_fewest_of_all(spec: Spec) -> None:
    """Auto takes no more sheets and joins than the better orientation with any number of lanes."""
    each = [sheets_and_joins(spec.but(orientation=o)) for o in ("portrait", "landscape")]
    found = spec.sheets()
    assert min(each) == len(found.sheets) + len(found.tiling.joins)


def test_lanes_turn_the_choice() -> None:
    """A sheet that lanes save isn't worth two joins more: each is a thing to cut and tape.

    A band of 90 mm on 230 x 320 mm with margins of 10 mm: a lane takes 102 mm. Along the long side
    there are 230 - 20 - 19 = 191 mm for it, one lane, and a window of 297.5 mm, 284.8 after the
    lap: (1002 - 12.7)/284.8 = 3.5, 4 sheets. Along the short side there are 281 mm, and
    (281 + 4)/106 = 2.7, two lanes, of 207.5 mm, 194.8 after the lap: 5.1, so 6 parts, 3 sheets.
    4 sheets and 3 joins are fewer than 3 and 5. A panel of 1,140 mm takes 1142 - 12.7 = 1129.3: 4
    sheets and 3 joins, or 6 parts. One of 1,150 takes 1139.3, which is 5 sheets and 4 joins, or 6
    parts on 3 sheets and 5 joins.
    """
    spec = Spec(
        width=mm(1000),
        outside=mm(40),
        hole=mm(20),
        count="2",
        band=mm(90),
        above=mm(25),
        size="230 x 320 mm",
        margin=mm(10),
        joins="even",
        units="mm",
    )
    long, short = (spec.but(orientation=o).sheets() for o in ("landscape", "portrait"))
    assert (len(long.sheets), long.tiling.lanes) == (4, 1)
    assert (len(short.sheets), short.tiling.lanes) == (3, 2)
    assert spec.sheets().tiling.orientation == "landscape"
    assert spec.but(width=mm(1140)).sheets().tiling.orientation == "landscape"
    assert spec.but(width=mm(1150)).sheets().tiling.orientation == "portrait"


def mm(length: int) -> str:
    """Millimetres as the inches that a spec is in."""
    return str(Fraction(length * 10, 254))


# 3 lanes of 38.1 + 12 = 50.1 mm on letter, landscape: (171.5 + 4)/54.1 = 3.2. Five parts:
# (1018 - 12.7)/(243 - 12.7) = 4.4, so two sheets.
LOW = Spec(outside="1", hole="1/2", band="1 1/2", above="1/4", orientation="landscape")


def test_json() -> None:
    """The plan as JSON says how many sheets a strip takes, and in how many lanes."""
    job = LOW.job()
    told = as_json(job, plan(job))["windows"][0]["panels"][0]["strip"]
    assert (told["sheets"], told["rows"], told["lanes"]) == (2, 1, 3)
    assert len(told["joins_mm"]) == 4
    found = LOW.sheets()
    assert (len(found.sheets), [len(sheet.parts) for sheet in found.sheets]) == (2, [3, 2])


def texts(found: SheetSet, role: Role) -> list[list[str]]:
    """The texts of one role, sheet by sheet."""
    return [
        [m.text for m in s.marks if isinstance(m, Text) and m.role == role] for s in found.sheets
    ]


def test_named() -> None:
    """Each lane bears its label, and each sheet says into what it is cut apart."""
    found = LOW.sheets(typeface())
    assert texts(found, Role.LANE_NAME) == [["1a", "1b", "1c"], ["2a", "2b"]]
    assert [lines[0].split(" · ")[1] for lines in texts(found, Role.HEADING)] == [
        "cut apart into 1a to 1c",
        "cut apart into 2a and 2b",
    ]
    names = ["join 1 →", "← join 1", "join 2 →", "← join 2", "join 3 →"]
    assert texts(found, Role.JOIN_NAME) == [names, ["← join 3", "join 4 →", "← join 4"]]


def boxes_apart(one: Mark, other: Mark) -> bool:
    """True where two marks' boxes don't meet."""
    a, b = drawing.box(one), drawing.box(other)
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("width", ["26 1/8", "26 5/8", "51 3/4", "64 1/2"])
def test_narrow_lanes_are_named(width: str) -> None:
    """A part of 3 to 4 cm has its label too, before the names of its joins, and off their marks."""
    spec = LOW.but(count="auto", orientation="auto", size="7 x 8 in", width=width, band="2")
    found = spec.sheets(typeface())
    assert found.tiling.lanes > 1
    assert min(part.shown[2] - part.shown[0] for part in parts(found)) < 41
    for sheet in found.sheets:
        assert [part.label for part in sheet.parts] == [
            m.text for m in sheet.marks if isinstance(m, Text) and m.role == Role.LANE_NAME
        ]
        words = [m for m in sheet.marks if m.role in {Role.LANE_NAME, Role.LANE_OWNER}]
        others = {Role.JOIN_NAME, Role.REGISTRATION, Role.NUMBER, Role.LAP_WORDS}
        for mark in words:
            for other in sheet.marks:
                if other.role in others:
                    assert boxes_apart(mark, other)


def test_lanes_say_whose_they_are() -> None:
    """A lane that is cut off its sheet says its panel, and its window where there is room."""
    found = LOW.sheets(typeface())
    for sheet in texts(found, Role.LANE_OWNER):
        assert set(sheet) == {"Window 1, left panel"}
    narrow = LOW.but(size="5.5 x 8.5 in", orientation="portrait").sheets(typeface())
    said = {text for sheet in texts(narrow, Role.LANE_OWNER) for text in sheet}
    assert said
    assert all(text.endswith("left panel") for text in said)
    # "left panel" is 14.7 mm. After the lane's own label and 2 mm, before the 23 mm of the next
    # join's name, 1b has 6.3 and 2a 18.9: no room for four letters of the window's name as well.
    middling = LOW.but(size="6.5 x 8 in", orientation="portrait").sheets(typeface())
    by_part = {
        part.label: [
            m.text for m in part.marks if isinstance(m, Text) and m.role is Role.LANE_OWNER
        ]
        for part in parts(middling)
    }
    whole = ["Window 1, left panel"]
    expected = {"1a": whole, "1b": [], "2a": ["left panel"], "4b": [], "5a": whole}
    assert by_part | expected == by_part


def test_neighbours_by_label() -> None:
    """The words in a lap name the lane before or after, across sheets too."""
    found = LOW.sheets(typeface())
    words = [text for sheet in texts(found, Role.LAP_WORDS) for text in sheet]
    assert [word for word in words if "1c" in word] == [
        "part 1c goes on top, up to the long-dashed line",
        "cut on the solid line, lay over part 1c",
    ]


def test_one_on_the_last() -> None:
    """A last sheet of one lane names its one part, and has nothing to be cut apart.

    Seven parts in lanes of three leave one.
    """
    found = LOW.but(width="60").sheets()
    assert found.tiling.across == 7
    assert [lines[0].split(" · ")[1] for lines in texts(found, Role.HEADING)][2] == "3a"
    assert not [mark for mark in found.sheets[2].marks if mark.role == Role.LANE_CUT]


def test_rows_have_no_lanes() -> None:
    """A band that takes rows shares no sheet, however little the last row shows."""
    found = Spec(band="9", above="3", orientation="landscape").sheets()
    assert (found.tiling.rows, found.tiling.lanes) == (2, 1)


@searched(40)
@given(low(), st.sampled_from(["face", "back"]))
def test_covered(spec: Spec, view: str) -> None:
    """Grey lies only where the next part goes on top: beside the band, over its whole lap."""
    found = spec.but(view=view).sheets()
    for part in parts(found):
        marks = as_read(found, part)
        grey = [drawing.box(mark) for mark in marks if mark.role == Role.COVERED]
        if part.column == found.tiling.across - 1:
            assert grey == []
            continue
        [landing] = [
            float(mark.x1)
            for mark in marks
            if isinstance(mark, Line) and mark.role == Role.LANDING_LINE
        ]
        lap = float(found.paper.overlap)
        for left, _, right, _ in grey:
            assert landing == pytest.approx(left)
            assert landing + lap == pytest.approx(right)
        band = [float(m.y1) for m in marks if isinstance(m, Line) and m.role == Role.BAND_LINE]
        for _, bottom, _, top in grey:
            assert all(y <= bottom + HAIR or y >= top - HAIR for y in band)
