"""What a sheet carries round its piece of the strip, in the sheet's own frame."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise

import pytest

from drapetemplate import drawing
from drapetemplate.drawing.clip import Area
from drapetemplate.drawing.marks import Circle, Line, Mark, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import Length
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets import furniture
from drapetemplate.sheets.furniture import Frame, HeadingWords
from drapetemplate.template.strip import Strip
from tests.helpers.marks import lines
from tests.helpers.strips import FIXED, Spec

MARGIN = Fraction(127, 10)
# As of a roll: the bars down under the strip.
BELOW = Frame(Fraction(2794), Fraction(6096, 10), MARGIN, bars_below=True)
LETTER = Frame(Fraction(2794, 10), Fraction(2159, 10), MARGIN)
NARROW = Frame(Fraction(180), Fraction(240), MARGIN)
# The least a sheet can print on.
LEAST = Frame(furniture.LEAST_PRINTABLE, furniture.LEAST_PRINTABLE, Fraction(0))
FRAMES = [
    pytest.param(LETTER, id="landscape"),
    pytest.param(NARROW, id="narrow"),
    pytest.param(LEAST, id="least"),
    pytest.param(BELOW, id="below"),
    pytest.param(replace(LEAST, across=Fraction(300), bars_below=True), id="least, below"),
]


def test_zones() -> None:
    """Letter, landscape: 279.4 - 25.4 - 2.5 of strip, 215.9 - 25.4 - 8 - 11 of its height."""
    assert (Fraction(2515, 10), Fraction(1715, 10)) == (LETTER.strip_length, LETTER.strip_height)
    assert not LETTER.map_below


def test_zones_narrow() -> None:
    """180 x 240: 180 - 25.4 - 2.5 leave too little beside the bars: the map takes 7 below."""
    assert NARROW.map_below
    assert (Fraction(1521, 10), Fraction(1886, 10)) == (NARROW.strip_length, NARROW.strip_height)


def test_zones_with_bars_below() -> None:
    """Where the bars down have 106 mm under the strip, it has the paper's whole length."""
    assert BELOW.strip_length == Fraction(2794) - Fraction(254, 10)
    assert BELOW.strip_height == Fraction(6096, 10) - Fraction(254, 10) - 8 - 106


@pytest.mark.parametrize("frame", FRAMES)
def test_bars(frame: Frame) -> None:
    """Bars of 100 mm and 4 in, both ways, exact, with a tick every 10 mm and 1/2 in."""
    marks = list(furniture.bars(frame, FIXED))
    for (one, other), size, step in (
        ((Role.BAR_ACROSS_MM, Role.BAR_DOWN_MM), Fraction(100), Fraction(10)),
        ((Role.BAR_ACROSS_IN, Role.BAR_DOWN_IN), Fraction(1016, 10), Fraction(127, 10)),
    ):
        [across], [down] = lines(marks, one), lines(marks, other)
        assert size == across.x2 - across.x1
        assert size == down.y2 - down.y1
        ticks = lines(marks, Role.BAR_TICK)
        xs = sorted(t.x1 for t in ticks if t.x1 == t.x2 and t.y1 <= across.y1 < t.y2)
        level = [t for t in ticks if t.y1 == t.y2 and down.y1 <= t.y1 <= down.y2]
        ys = sorted(t.y1 for t in level if min(t.x1, t.x2) <= down.x1 <= max(t.x1, t.x2))
        count = int(size / step) + 1
        assert [across.x1 + i * step for i in range(count)] == xs
        assert [down.y1 + i * step for i in range(count)] == ys


def ink(mark: Line) -> tuple[float, float, float, float]:
    """A line's box with half its pen's width to either side."""
    half = mark.pen.width / 2
    left, bottom, right, top = drawing.box(mark)
    level = mark.y1 == mark.y2
    return (
        (left, bottom - half, right, top + half)
        if level
        else (left - half, bottom, right + half, top)
    )


@pytest.mark.parametrize("frame", FRAMES)
def test_bars_are_named(frame: Frame) -> None:
    """Each bar's length is told beside it, level, in capitals of 2.2 mm, whatever the paper.

    Across: close under it, three times as far or more from what else is drawn. Down: at the lower
    end, whose tick is as long as the words that stand on it or hang from it; both begin at one
    level, under one tick over both.
    """
    marks = list(furniture.bars(frame, typeface()))
    labels = [m for m in marks if isinstance(m, Text) and m.role == Role.BAR_LABEL]
    assert [m.text for m in labels] == ["100 mm", "4 in"] * 2
    assert all(m.angle == 0 and m.size * 0.729 >= 2.2 for m in labels)
    drawn = {m: ink(m) for m in marks if isinstance(m, Line)}
    for role, label in zip((Role.BAR_ACROSS_MM, Role.BAR_ACROSS_IN), labels[:2], strict=True):
        [bar] = lines(marks, role)
        left, _, right, _ = drawing.box(label)
        capitals, foot = float(label.y) + 0.729 * label.size, float(label.y)
        assert float(bar.x1) < left < right < float(bar.x2)
        assert 0.3 < drawn[bar][1] - capitals < 0.6
        beneath = [
            foot - box[3] for box in drawn.values() if box[3] < foot and box[0] < right < box[2]
        ]
        assert min(beneath, default=9) > 3 * (drawn[bar][1] - capitals)
    [mm], [inch] = lines(marks, Role.BAR_DOWN_MM), lines(marks, Role.BAR_DOWN_IN)
    ticks = lines(marks, Role.BAR_TICK)
    assert mm.y2 == inch.y2
    assert [t for t in ticks if t.y1 == t.y2 == mm.y2 and t.x1 < mm.x1 < inch.x1 < t.x2]
    assert Fraction(16, 10) == mm.y1 - inch.y1
    assert Fraction(3, 4) <= inch.x1 - mm.x1
    for bar, label in zip((mm, inch), labels[2:], strict=True):
        [end] = [t for t in ticks if t.y1 == t.y2 == bar.y1]
        left, _, right, _ = drawing.box(label)
        assert pytest.approx(left) == float(end.x1)
        assert end.x2 == bar.x1
        assert right < mm.x1
        # On narrow paper too they stand over the bars across, not between them.
        under = lines(marks, Role.BAR_ACROSS_MM) + lines(marks, Role.BAR_ACROSS_IN)
        assert all(m.y1 < end.y1 - 1 for m in under if left < m.x2)
        capitals = float(label.y) + 0.729 * label.size
        gap = float(label.y - end.y1) if bar is mm else float(end.y1) - capitals
        assert 0.3 < gap < 1


@pytest.mark.parametrize("frame", FRAMES)
def test_bars_labels_are_clear(frame: Frame) -> None:
    """No label touches another, a bar or a tick, and no tick a bar that isn't its own."""
    marks = list(furniture.bars(frame, typeface()))
    drawn = [(m, ink(m) if isinstance(m, Line) else drawing.box(m)) for m in marks]
    met = Counter[Mark]()
    for (one, a), (other, b) in combinations(drawn, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        texts = isinstance(one, Text) or isinstance(other, Text)
        ticks = one.role == other.role == Role.BAR_TICK
        assert apart or not (texts or ticks)
        if not apart:
            assert Role.BAR_TICK in {one.role, other.role}
            met[one if one.role == Role.BAR_TICK else other] += 1
    # The tick over both upper ends is two bars'.
    assert sorted(met.values()) == [1] * (len(lines(marks, Role.BAR_TICK)) - 1) + [2]


# The most that a sheet can have to say: longest printer, rows and columns, a pair's strip.
MOST_TO_SAY = HeadingWords(
    title=("Sheet AB1999 of 2000", "LEFT + RIGHT panel", "FACE", "↑ TOP"),
    printer="printer workroom laser, tray two: ×1.0017 across, ×0.9983 down",
    job="HP-2027-0113, Heron Point, the long upper gallery over the boat house " * 5,
    window="Upper gallery, north elevation, third bay from the stair " * 5,
    facts=(
        "make 100",
        "sheets AB1998 (left), AB2000 (right), AB999 (above)",
        "join AB12, rows 1 and 2: flange cut",
        "check the taped strip: left panel 100 15/16 in end to end",
    ),
)


@pytest.mark.parametrize("frame", FRAMES)
def test_inside_printable(frame: Frame) -> None:
    """Bars, their labels and heading stay inside the margins, in the shipped font."""
    marks = list(furniture.bars(frame, typeface()))
    marks += furniture.heading(frame, typeface(), MOST_TO_SAY)
    for mark in marks:
        left, bottom, right, top = drawing.box(mark)
        assert frame.margin <= left
        assert frame.margin <= bottom
        assert right <= frame.along - frame.margin + Fraction(1, 10**9)
        assert top <= frame.across - frame.margin


@pytest.mark.parametrize("frame", FRAMES)
@pytest.mark.parametrize("letters", [8, 30, 60, 270])
def test_no_fact_is_cut(frame: Frame, letters: int) -> None:
    """Whatever the paper, every fact is whole; names are cut, and still say which they are.

    No two of its lines run into each other or below the heading's zone.
    """
    words = replace(MOST_TO_SAY, job=MOST_TO_SAY.job[:letters], window=MOST_TO_SAY.window[:letters])
    marks = [m for m in furniture.heading(frame, typeface(), words) if isinstance(m, Text)]
    large = [m for m in marks if m.role in {Role.SHEET_NUMBER, Role.SHEET_TITLE}]
    assert large[0].text == words.title[0]
    title = "".join(m.text for m in large[:2])
    if len(large) > 2:
        title = f"{title} · {large[2].text}"
    *parts, window = title.split(" · ")
    assert tuple(parts) == words.title
    assert len({m.size for m in large}) == 1
    job, *said = " · ".join(m.text for m in marks if m not in large).split(" · ")
    assert tuple(said) == (words.printer, *words.facts)
    for name, whole in ((window, words.window), (job, words.job)):
        assert name.strip() == whole.strip() or (len(name) >= 4 and "…" in name)
        assert name[:2] == whole[:2]
    boxes = [drawing.box(mark) for mark in marks]
    assert min(box[1] for box in boxes) >= frame.strip_bottom + frame.strip_height
    for one, other in combinations(boxes, 2):
        beside = one[2] <= other[0] or other[2] <= one[0]
        assert beside or one[1] >= other[3] or other[1] >= one[3]


SAID = HeadingWords(
    title=("Sheet A2 of 11", "LEFT + RIGHT panel", "FACE"),
    printer="",
    job="HP-101 · Heron Point, garden room",
    window="Garden door, left bay",
    facts=("tape 1 strip, mark 2 panels", "sheets A1 (left), A3 (right)"),
)


def test_names_that_fit_are_whole() -> None:
    """What a sheet is stands in one line as large as its number, the rest in one to be read.

    In the least height on letter paper: capitals of 2.6 mm over capitals of 2.2 mm.
    """
    marks = [m for m in furniture.heading(LETTER, typeface(), SAID) if isinstance(m, Text)]
    assert [(mark.text, mark.size) for mark in marks] == [
        ("Sheet A2 of 11", 3.6),
        (" · LEFT + RIGHT panel · FACE · Garden door, left bay", 3.6),
        (
            (
                "HP-101 · Heron Point, garden room · tape 1 strip, mark 2 panels · "
                "sheets A1 (left), A3 (right)"
            ),
            3.1,
        ),
    ]


def test_heading_grows_into_free_paper() -> None:
    """Where the strip leaves paper free the heading takes it: capitals of 4.4 mm over 2.4 mm."""
    height = furniture.HEADING + furniture.HEADING_MORE
    marks = [m for m in furniture.heading(LETTER, typeface(), SAID, height) if isinstance(m, Text)]
    assert [mark.size for mark in marks] == [6.0, 6.0, 3.3]
    # The line under the title stands clear of the tails of its letters.
    number, _, under = marks
    apart = drawing.box(number)[1] - drawing.box(under)[3]
    assert apart > 0.9


@pytest.mark.parametrize("job", ["Pantry", "HP-101 · Heron Point, garden room"])
def test_what_can_be_spared(job: str) -> None:
    """Which circle is the hole is told where it has room at a size to be read, else left out whole.

    All else of the heading is the same without it. Letters to be read are 3.1 mm or more.
    """
    hole = "heavy circle: the hole, 1 1/16 in"
    words = replace(SAID, job=job, spare=(hole,))
    tall = furniture.HEADING + furniture.HEADING_MORE
    for frame, height, told in ((LETTER, tall, True), (LEAST, furniture.HEADING, False)):
        marks = [m for m in furniture.heading(frame, FIXED, words, height) if isinstance(m, Text)]
        lines = [mark for mark in marks if mark.role == Role.HEADING]
        said = " · ".join(mark.text for mark in lines).split(" · ")
        assert said[-3 if told else -2 :] == [*SAID.facts, *[hole] * told]
        if told:
            assert job == " · ".join(said[:-3])
            assert min(mark.size for mark in lines) >= 3.1


def test_sizes_fall() -> None:
    """A heading is as large as has room: sizes are tried from the largest down."""
    read = (*furniture.READ_SIZES, *furniture.SMALL_SIZES)
    for sizes in (furniture.TITLE_SIZES, read):
        assert all(one > other for one, other in pairwise(sizes))


@pytest.mark.parametrize("frame", FRAMES)
def test_bars_off_strip(frame: Frame) -> None:
    """Bars across stay under the strip's zone; bars down do too, or right of what it shows."""
    for mark in furniture.bars(frame, typeface()):
        left, _, _, top = drawing.box(mark)
        below = top <= frame.strip_bottom
        assert below or left >= float(frame.margin + frame.strip_length) - 1e-9


def on_map(frame: Frame, strip: Strip, cuts: Sequence[Length], shown: Sequence[Area]) -> list[Mark]:
    """A sheet's map as it is drawn: its grey parts, and over them what all sheets have."""
    return [*furniture.map_parts(frame, strip, shown), *furniture.strip_map(frame, strip, cuts)]


@pytest.mark.parametrize("frame", [LETTER, NARROW, BELOW])
def test_map(frame: Frame) -> None:
    """The map is the strip in small: its eyelets, its joins, and this sheet's piece in grey.

    A strip of 40 x 4 in; the sheet shows 10 to 20 in of it, so a quarter, from a quarter on.
    """
    strip = Spec(panels="right").template().strip
    inch = Fraction(254, 10)
    shown = (10 * inch, Fraction(-6), 20 * inch, 4 * inch + 6)
    cuts = [10 * inch, 20 * inch, 30 * inch]
    marks = on_map(frame, strip, cuts, [shown])
    piece, whole = (mark for mark in marks if isinstance(mark, Polygon))
    assert piece.fill is not None
    left, bottom, right, top = drawing.box(whole)
    long = right - left
    assert pytest.approx(10) == long / (top - bottom)
    low, _, high, _ = drawing.box(piece)
    assert pytest.approx((left + long / 4, left + long / 2)) == (low, high)
    eyelets = [mark for mark in marks if isinstance(mark, Circle)]
    expected = [left + long * c / 40 for c in (2.5, 9.2, 15.9, 22.6, 29.3, 36)]
    assert pytest.approx(expected) == [float(e.x) for e in eyelets]
    joins = lines(marks, Role.MAP_JOIN)
    assert pytest.approx([left + long * c / 4 for c in (1, 2, 3)]) == [float(m.x1) for m in joins]


def test_map_of_lanes() -> None:
    """A sheet with two parts in lanes greys both, each where it lies on the strip.

    A strip of 40 in: the parts show 0 to 10 in and 10 to 20 in of it.
    """
    strip = Spec(panels="right").template().strip
    inch = Fraction(254, 10)
    shown = [(n * 10 * inch, Fraction(0), (n + 1) * 10 * inch, 4 * inch) for n in range(2)]
    marks = on_map(LETTER, strip, [10 * inch], shown)
    boxes = [drawing.box(mark) for mark in marks if mark.role == Role.MAP_SHEET]
    [whole] = [drawing.box(mark) for mark in marks if mark.role == Role.MAP_STRIP]
    quarter = (whole[2] - whole[0]) / 4
    expected = [(whole[0] + n * quarter, whole[0] + (n + 1) * quarter) for n in range(2)]
    found = [(left, right) for left, _, right, _ in boxes]
    assert [pytest.approx(pair) for pair in expected] == found


@pytest.mark.parametrize("frame", [LETTER, NARROW, BELOW])
def test_map_clear_of_bars(frame: Frame) -> None:
    """The map touches neither bar, label, margin nor the strip's zone."""
    strip = Spec().template().strip
    shown = (Fraction(0), Fraction(0), strip.length, strip.height)
    bars = [drawing.box(mark) for mark in furniture.bars(frame, typeface())]
    for mark in on_map(frame, strip, [], [shown]):
        left, bottom, right, top = drawing.box(mark)
        assert bottom >= frame.margin
        assert top <= frame.strip_bottom
        assert all(right < b[0] or left > b[2] or bottom > b[3] or top < b[1] for b in bars)


def test_map_of_rows() -> None:
    """A sheet of the upper row greys the upper part of the map alone: from a quarter up."""
    strip = Spec(panels="right").template().strip
    shown = (Fraction(0), strip.height / 4, strip.length, strip.height + 6)
    marks = on_map(LETTER, strip, [], [shown])
    [piece] = [drawing.box(mark) for mark in marks if mark.role == Role.MAP_SHEET]
    [whole] = [drawing.box(mark) for mark in marks if mark.role == Role.MAP_STRIP]
    left, bottom, right, top = whole
    assert pytest.approx((left, bottom + (top - bottom) / 4, right, top)) == piece


def test_map_of_many() -> None:
    """A strip of very many eyelets shows its outline and the piece alone."""
    strip = Spec(width="500", count="62").template().strip
    shown = (Fraction(0), Fraction(0), Fraction(200), strip.height)
    cuts = [Fraction(i) for i in range(61)]
    roles = [mark.role for mark in on_map(LETTER, strip, cuts, [shown])]
    assert roles == [Role.MAP_SHEET, Role.MAP_STRIP]


def test_wedge() -> None:
    """A wedge is solid, 2.5 mm long and high, its tip on the line it points at from the right."""
    mark = furniture.wedge(Fraction(50), Fraction(20), Role.CUT_WEDGE)
    assert isinstance(mark, Polygon)
    assert mark.fill == 0
    assert (Fraction(50), Fraction(20)) in mark.points
    assert drawing.box(mark) == (50, 18.75, 52.5, 21.25)


def test_registration() -> None:
    """A cross in a circle about one point; the cross reaches past the circle."""
    marks = list(furniture.registration(Fraction(50), Fraction(-3)))
    [circle] = [mark for mark in marks if isinstance(mark, Circle)]
    assert (circle.x, circle.y) == (50, -3)
    crosses = lines(marks, Role.REGISTRATION_CROSS)
    middles = {((m.x1 + m.x2) / 2, (m.y1 + m.y2) / 2) for m in crosses}
    assert {(Fraction(50), Fraction(-3))} == middles
    assert all(max(m.x2 - m.x1, m.y2 - m.y1) > 2 * circle.r for m in crosses)


def test_bars_give_way_where_there_is_room() -> None:
    """A strip that just misses a tabloid sheet beside its bars fits with them under it.

    17 in less 1 in of margins are 406.4 mm, 403.9 beside the column; 15 7/8 in and 2 mm are 405.2.
    A band of 4 1/8 in with 12 mm about it takes 116.8 of 11 in - 25.4 - 8 - 106 = 140 mm. One of
    5 1/8 in takes 142.2, and has two sheets.
    """
    spec = Spec(
        width="15 7/8", outside="1", hole="9/16", above="1/4", size="tabloid", count="2"
    ).but(orientation="landscape")
    low, high = spec.but(band="4 1/8").sheets(), spec.but(band="5 1/8").sheets()
    assert (len(low.sheets), low.tiling.frame.bars_below) == (1, True)
    assert (len(high.sheets), high.tiling.frame.bars_below) == (2, False)
    for found in (low, high):
        for sheet in found.sheets:
            bars = {m.role for m in sheet.marks if m.role.startswith("bar-")}
            assert {Role.BAR_DOWN_MM, Role.BAR_DOWN_IN} <= bars


def test_lanes_are_cut_midway() -> None:
    """Three lanes, 4 mm apart, the first on top: cut 2 mm off each, from margin to strip's end."""
    lanes = [(Fraction(low), Fraction(low + 50)) for low in (120, 66, 12)]
    cuts = lines(list(furniture.lane_cuts(LETTER, lanes)), Role.LANE_CUT)
    right = Fraction(127, 10) + Fraction(2515, 10)
    assert [(m.x1, m.y1, m.x2, m.y2) for m in cuts] == [
        (MARGIN, 118, right, 118),
        (MARGIN, 64, right, 64),
    ]
    assert not list(furniture.lane_cuts(LETTER, lanes[:1]))
