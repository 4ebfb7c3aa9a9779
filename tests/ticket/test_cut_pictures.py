"""Pictures of the roll and of the raw panel, measured: on paper times the scale is the cloth."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.fit_labels import LABEL
from drapetemplate.drawing.marks import Circle, Line, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH, Length
from drapetemplate.planning.drops import Drop, MadePanel, PlacedPiece, drops
from drapetemplate.planning.model import Plan
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket import cut_pictures
from drapetemplate.ticket.picture import Picture
from tests.helpers.cutpages import touching, within
from tests.helpers.jobfiles import RING, inches, job_of
from tests.helpers.marks import lines, texts
from tests.helpers.rows import goods

# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in. The seam
# at 47 5/8 in makes pieces of 51 1/8 and 29 7/8 in.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
PLAIN = "[fabric]\nwidth = 54"
MM = 1e-6
FACE = typeface()


def roll_of(job: Job, *, scale: int, part: int = 0, rows: slice = slice(None)) -> Picture:
    """The roll of one of a job's cloths, drops in one row."""
    planned = plan(job, advise=False)
    order = planned.order.cloth[part]
    every = tuple(drops(planned, order))[rows]
    assert order.width is not None
    return cut_pictures.roll(job, every, order.width, FACE, scale)


def panels_of(job: Job, *, scale: int, part: int = 0) -> list[Picture]:
    """Each panel of a job's first window, flat and raw."""
    window = plan(job, advise=False).windows[0]
    one = window.cloth[part]
    return [cut_pictures.raw_panel(job, window, panel, one, FACE, scale) for panel in window.panels]


def said(drawn: Picture, *roles: Role) -> list[str]:
    """Their words."""
    return [text.text for text in texts(drawn, *roles)]


def boxes(drawn: Picture, role: Role) -> list[tuple[float, float, float, float]]:
    """The boxes of the polygons of a role, in order."""
    return [drawing.box(m) for m in drawn.marks if isinstance(m, Polygon) and m.role == role]


def across(drawn: Picture, scale: int) -> list[list[float]]:
    """Each drop's slits in inches from the lower edge, the left selvage; from left to right."""
    low = min(float(line.y1) for line in lines(drawn, Role.SELVAGE))
    found: dict[float, list[float]] = {}
    for line in lines(drawn, Role.SLIT):
        assert line.y1 == line.y2
        found.setdefault(round(float(line.x1), 6), []).append(
            round((float(line.y1) - low) * scale / 25.4, 9)
        )
    return [found[x] for x in sorted(found)]


@pytest.mark.parametrize("scale", [50, 75])
def test_crosscuts(scale: int) -> None:
    """Cuts across stand where the drops end, from selvage to selvage."""
    drawn = roll_of(job_of(LONG, tables=PLAIN), scale=scale)
    found = sorted(
        {round(float(line.x1) * scale / 25.4, 9) for line in lines(drawn, Role.CROSSCUT)}
    )
    assert found == [0, 100, 200, 300, 400]
    low, high = sorted(float(line.y1) for line in lines(drawn, Role.SELVAGE))
    assert (high - low) * scale == pytest.approx(54 * 25.4, abs=MM)
    assert {(line.y1, line.y2) for line in lines(drawn, Role.CROSSCUT)} == {(low, high)}
    assert said(drawn, Role.RUNNING_MEASURE) == ["0 in", "100 in", "200 in", "300 in", "400 in"]
    assert said(drawn, Role.DROP_NUMBER) == [f"drop {n}" for n in (1, 2, 3, 4)]


def test_a_later_row() -> None:
    """A later row starts at its left too, its measures still from the cloth's start."""
    drawn = roll_of(job_of(LONG, tables=PLAIN), scale=50, rows=slice(2, None))
    found = sorted({float(line.x1) * 50 / 25.4 for line in lines(drawn, Role.CROSSCUT)})
    assert found == pytest.approx([0, 100, 200], abs=MM)
    assert said(drawn, Role.RUNNING_MEASURE) == ["200 in", "300 in", "400 in"]
    assert said(drawn, Role.DROP_NUMBER) == ["drop 3", "drop 4"]


def test_slits() -> None:
    """Slits run at the pieces' edges, over their own drop alone."""
    drawn = roll_of(job_of(LONG, tables=PLAIN), scale=50)
    # A left panel's pieces lie from the right selvage: 54 - 51 1/8 and 54 - 29 7/8.
    assert across(drawn, 50) == [[2.875], [24.125], [51.125], [29.875]]
    for n, line in enumerate(lines(drawn, Role.SLIT)):
        assert (line.x1, line.x2) == pytest.approx((n * 50.8, (n + 1) * 50.8), abs=MM)


def test_a_shared_drop() -> None:
    """Where two pieces lie on one drop each has its edge cut, and what is between is left over."""
    # From 60 in two of 29 7/8 leave 1/4 in between them.
    drawn = roll_of(job_of(LONG, tables="[fabric]\nwidth = 60"), scale=60)
    assert across(drawn, 60) == [[8.875], [51.125], [29.875, 30.125]]
    third = boxes(drawn, Role.PIECE)[2:]
    assert [(high - low) * 60 / 25.4 for _, low, _, high in third] == pytest.approx([29.875] * 2)


def a_drop(number: int, at: Length, length: Length, pieces: tuple[PlacedPiece, ...]) -> Drop:
    """A drop of a face, not turned."""
    return Drop(
        number=number,
        window="x",
        part="face",
        at=at,
        length=length,
        over=Fraction(0),
        pieces=pieces,
        cloth=goods(54 * INCH),
    )


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [
        ([(0, 54)], []),
        ([(0, 30)], [30]),
        ([(4, 50)], [4]),
        ([(4, 30)], [4, 34]),
        ([(0, 20), (20, 20)], [20, 40]),
        ([(0, 20), (30, 24)], [20, 30]),
        # Less than 1/32 in is no sliver that anyone cuts off.
        ([("1/64", "53 63/64")], []),
        ([(0, "53 63/64")], []),
        ([(0, 20), ("20 1/64", 20)], [20, "40 1/64"]),
        ([(0, "53 15/16")], ["53 15/16"]),
    ],
)
def test_where_slits_are(pieces: list[tuple[object, object]], expected: list[object]) -> None:
    """A drop is slit at each edge of a piece but at a selvage, and no place twice."""
    held = tuple(
        PlacedPiece(MadePanel("left"), n, 2, inches(str(left)), inches(str(wide)))
        for n, (left, wide) in enumerate(pieces)
    )
    drop = a_drop(1, Fraction(0), 100 * INCH, held)
    assert cut_pictures.slits(drop, 54 * INCH) == tuple(inches(str(x)) for x in expected)


def test_repeats() -> None:
    """Ticks along both selvages at each repeat from the cloth's start; across, on every drop."""
    # Cuts of 100 in go up to four repeats of 25 1/4: 101 in.
    cloth = f'{PLAIN}\nrepeat_down = "25 1/4"\nrepeat_across = 27'
    drawn = roll_of(job_of(LONG, tables=cloth), scale=50, rows=slice(1, 3))
    ticks = lines(drawn, Role.REPEAT)
    along = [line for line in ticks if line.x1 == line.x2]
    expected = [n * 25.25 for n in range(9)]  # from the row's start at 101 in to 303 in
    for y in {float(line.y1) for line in lines(drawn, Role.SELVAGE)}:
        found = [float(line.x1) * 50 / 25.4 for line in along if line.y1 == y]
        assert found == pytest.approx(expected, abs=MM)
    low = min(float(line.y1) for line in lines(drawn, Role.SELVAGE))
    level = [line for line in ticks if line.y1 == line.y2]
    places = {
        (round(float(line.x1) * 50 / 25.4, 6), round((float(line.y1) - low) * 50 / 25.4, 6))
        for line in level
    }
    assert places == {(0, 27), (0, 54), (101, 27), (101, 54)}


def test_plain_cloth_has_no_ticks() -> None:
    """Without a pattern, or where its ticks would run together, there are none."""
    assert lines(roll_of(job_of(LONG, tables=PLAIN), scale=50), Role.REPEAT) == []
    fine = roll_of(job_of(LONG, tables=f"{PLAIN}\nrepeat_down = 2"), scale=50)
    assert lines(fine, Role.REPEAT) == []  # 2 in at 1:50 are 1.016 mm


def test_labels_are_on_their_pieces() -> None:
    """Every piece says its window, panel, place and width, within its own edges."""
    job = job_of(f'{LONG}\nname = "Hall"', tables="[fabric]\nwidth = 60")
    drawn = roll_of(job, scale=50)
    pieces, labels = boxes(drawn, Role.PIECE), texts(drawn, Role.PIECE_LABEL)
    held = [" ".join(t.text for t in labels if within(drawing.box(t), box)) for box in pieces]
    assert held == [
        "Hall left panel, piece 1 of 2 51 1/8 in wide",
        "Hall right panel, piece 1 of 2 51 1/8 in wide",
        "Hall right panel, piece 2 of 2 29 7/8 in wide",
        "Hall left panel, piece 2 of 2 29 7/8 in wide",
    ]
    tops = boxes(drawn, Role.TOP)
    assert [any(within(top, box) for top in tops) for box in pieces] == [True] * 4
    assert not any(touching(top, drawing.box(text)) for top in tops for text in labels)


def test_a_lining_of_the_same_cloth_is_told_apart() -> None:
    """Where one cloth makes face and lining each piece says which it is of."""
    both = '[fabric]\nname = "x"\nwidth = 54\n[lining]\nname = "x"\nwidth = 54'
    words = " ".join(said(roll_of(job_of(LONG, tables=both), scale=50), Role.PIECE_LABEL))
    assert words.count("left panel, piece 1 of 2") == 1
    assert words.count("left lining, piece 1 of 2") == 1


def test_narrow_pieces_have_their_name() -> None:
    """A piece with no room for all its words says whose it is, and which piece of how many.

    At 1:70 those that share a drop are 11 mm wide and 36 mm long; the list has their width.
    """
    job = job_of(f"name = 'A'\n{LONG}", tables="[fabric]\nwidth = 60")
    words = said(roll_of(job, scale=70), Role.PIECE_LABEL)
    assert words[-2:] == ["A, right panel 2/2", "A, left panel 2/2"]


@pytest.mark.parametrize(("length", "expected"), [("84", "100 in"), ("", "length not known")])
def test_turned_cloth(length: str, expected: str) -> None:
    """Railroaded, a panel runs along the cloth, its cut length across, its top upward."""
    window = LONG.replace("length = 84", f"length = {length}" if length else "")
    drawn = roll_of(job_of(window, tables="[fabric]\nwidth = 118\nrailroad = true"), scale=75)
    # 74 + 2 x 3 in a run.
    found = sorted({float(line.x1) * 75 / 25.4 for line in lines(drawn, Role.CROSSCUT)})
    assert found == pytest.approx([0, 80, 160], abs=MM)
    assert across(drawn, 75) == ([[100], [100]] if length else [])
    words = said(drawn, Role.PIECE_LABEL)
    assert [word for word in words if word == expected] == [expected] * 2
    for top, (left, low, right, high) in zip(
        [m for m in drawn.marks if m.role == Role.TOP], boxes(drawn, Role.PIECE), strict=True
    ):
        assert isinstance(top, Polygon)
        tip = max(top.points, key=lambda point: point[1])
        assert sum(1 for _, y in top.points if y == tip[1]) == 1, "points up"
        assert tip[0] == pytest.approx((left + right) / 2)
        assert low < high - 1 < tip[1] < high


def test_turned_cloth_in_repeats() -> None:
    """What whole repeats leave of a turned run is grey at its end, behind a dashed line."""
    tables = "[fabric]\nwidth = 118\nrailroad = true\nrepeat_down = 27\nrepeat_across = 30"
    drawn = roll_of(job_of(LONG.replace("74", "60"), tables=tables), scale=75)
    # 60 + 2 x 3 = 66 in of a run of 3 x 27 = 81 in; 100 in across.
    inch = 25.4 / 75
    crosscuts = sorted({float(line.x1) / inch for line in lines(drawn, Role.CROSSCUT)})
    assert crosscuts == pytest.approx([0, 81, 162], abs=MM)
    assert [(low / inch, high / inch) for low, _, high, _ in boxes(drawn, Role.PIECE)] == [
        pytest.approx((start, start + 66), abs=MM) for start in (0, 81)
    ]
    trims = lines(drawn, Role.END_TRIM)
    assert [float(line.x1) / inch for line in trims] == pytest.approx([66, 147], abs=MM)
    assert all(line.pen.dash for line in trims)
    measures = ["0 in", "66 in", "81 in", "147 in", "162 in"]
    assert said(drawn, Role.RUNNING_MEASURE) == measures
    # Ticks along at every 27 in, on both selvages; across at 30, 60 and 90 in of each run.
    ticks = lines(drawn, Role.REPEAT)
    along = {round(float(line.x1) / inch) for line in ticks if line.x1 == line.x2}
    assert along == {0, 27, 54, 81, 108, 135, 162}
    low = min(float(line.y1) for line in lines(drawn, Role.SELVAGE))
    over = sorted(round((float(line.y1) - low) / inch) for line in ticks if line.x1 != line.x2)
    assert over == [30, 30, 60, 60, 90, 90]


def test_turned_cloth_without_repeats_has_nothing_over() -> None:
    """A turned run that isn't in repeats is cut as long as the panel is raw: no trim."""
    drawn = roll_of(job_of(LONG, tables="[fabric]\nwidth = 118\nrailroad = true"), scale=75)
    assert not lines(drawn, Role.END_TRIM)


@pytest.mark.parametrize(
    ("width", "longest", "room", "height", "scale"),
    [
        # 54 in over 30 mm: 45.7; 100 in over 190 mm: 13.4.
        ("54", "100", 190, 30, 50),
        # Over 36 mm: 38.1.
        ("54", "100", 190, 36, 40),
        # 1000 in over 190 mm: 133.7.
        ("54", "1000", 190, 30, 150),
        ("118", "5", 190, 30, 100),
        ("9", "5", 190, 30, 8),
    ],
)
def test_roll_scale(width: str, longest: str, room: float, height: float, scale: int) -> None:
    """The scale at which both the width and the longest drop have room."""
    assert cut_pictures.roll_scale(inches(width), inches(longest), room, height) == scale


@given(
    lengths=st.lists(st.fractions(20, 12_000, max_denominator=7), max_size=30),
    room=st.floats(80, 300),
)
def test_rows(lengths: list[Fraction], room: float) -> None:
    """Rows hold every drop in order, none longer than there is room, none shorter than need be."""
    at, every = Fraction(0), []
    for n, length in enumerate(lengths, 1):
        every.append(a_drop(n, at, length, ()))
        at += length
    scale = cut_pictures.roll_scale(1372 * INCH / INCH, max(lengths, default=INCH), room, 30)
    rows = list(cut_pictures.roll_rows(every, scale, room))
    assert [drop for row in rows for drop in row] == every
    long = [float(row[-1].at + row[-1].length - row[0].at) / scale for row in rows]
    assert all(one <= room + MM for one in long)
    for one, (before, after) in zip(long, pairwise(rows), strict=False):
        assert one + float(after[0].length) / scale > room
        assert before


@pytest.mark.parametrize(("part", "hem"), [(0, "3"), (1, "1 1/2")])
@pytest.mark.parametrize("scale", [24, 30])
def test_raw_panel(part: int, hem: str, scale: int) -> None:
    """A raw panel has its seams at seam and side hem, folds at hems, mirrored for a left panel."""
    tables = f"{PLAIN}\n[lining]\nwidth = 54"
    left, right = panels_of(job_of(LONG, tables=tables), scale=scale, part=part)
    # The lining finishes at 74 - 3 by 84 - 1 in, 1 1/2 in within the face at each side.
    finished, set_in = ((Fraction(74), Fraction(0)), (Fraction(71), Fraction("1.5")))[part]
    wide, high = finished + 2 * inches(hem) / INCH, (100, 87)[part]
    # Both have their seam behind the eighth eyelet, 5/8 in from its flange.
    seam = Fraction("47.625") - set_in
    for drawn, mirrored in ((left, True), (right, False)):
        ((x0, y0, x1, y1),) = boxes(drawn, Role.RAW_EDGE)
        assert (x1 - x0, y1 - y0) == pytest.approx((wide * 25.4 / scale, high * 25.4 / scale))

        def at(measure: Fraction, *, flip: bool = mirrored) -> float:
            raw = measure + inches(hem) / INCH
            return float(wide - raw if flip else raw) * 25.4 / scale

        (line,) = lines(drawn, Role.SEAM)
        assert (float(line.x1), float(line.x2)) == pytest.approx((at(seam), at(seam)), abs=MM)
        assert (float(line.y1), float(line.y2)) == pytest.approx((y0, y1), abs=MM)
        folds = lines(drawn, Role.FOLD)
        upright = sorted(float(fold.x1) for fold in folds if fold.x1 == fold.x2)
        assert upright == pytest.approx(sorted([at(Fraction(0)), at(finished)]), abs=MM)
        level = sorted((float(fold.y1) - y0) * scale / 25.4 for fold in folds if fold.y1 == fold.y2)
        # Heading 8 in from the top of 100, bottom hem 8; the lining is caught under that heading
        # with its raw top, and has a hem of 4.
        assert level == pytest.approx([(8, 92), (4,)][part], abs=MM)
        eyelets = [m for m in drawn.marks if isinstance(m, Circle)]
        expected = [at(4 + 6 * n - set_in) for n in range(12)]
        assert [float(m.x) for m in eyelets] == pytest.approx(expected, abs=MM)
        # An inch of cloth above the eyelet, its centre another inch down.
        below = {round((y1 - float(m.y)) * scale / 25.4, 6) for m in eyelets}
        assert below == {(8, 0)[part] + 2}


def test_a_raw_panel_that_shrinks() -> None:
    """Drawn before it shrinks, all that lies along a panel is longer: 1.05 times 84 + 8 + 8 in.

    From the top 1.05 x 8 to the heading's fold, 1.05 x (8 + 2) to the eyelets' line; from the foot
    1.05 x 8 to the hem's fold. Figures in words are of the finished panel, and its width is too.
    """
    job = job_of(LONG, tables=f"{PLAIN}\nshrinkage = 0.05")
    drawn = panels_of(job, scale=30)[1]
    ((x0, foot, x1, top),) = boxes(drawn, Role.RAW_EDGE)
    assert ((x1 - x0) * 30 / 25.4, (top - foot) * 30 / 25.4) == pytest.approx((80, 105))
    folds = [float(fold.y1) for fold in lines(drawn, Role.FOLD) if fold.y1 == fold.y2]
    assert sorted((y - foot) * 30 / 25.4 for y in folds) == pytest.approx([8.4, 105 - 8.4])
    eyelets = [m for m in drawn.marks if isinstance(m, Circle)]
    assert {round((top - float(m.y)) * 30 / 25.4, 6) for m in eyelets} == {10.5}
    assert {round(float(m.r) * 30 / 25.4, 6) for m in eyelets} == {1}
    assert {"finished", "74 in wide", "84 in long", "heading 8 in"} <= set(said(drawn))


def test_eyelets_beside_a_lining() -> None:
    """Set in 6 in with hems of 1 in, a lining's raw edge is 5 in from the face's: no eyelet there.

    The first, with its flange from 3 to 5 in, is beside it, and the last likewise.
    """
    tables = f"{PLAIN}\n[lining]\nwidth = 54\nset_in = 6\nside_hem = 1"
    _, right = panels_of(job_of(LONG, tables=tables), scale=30, part=1)
    at = [float(m.x) * 30 / 25.4 for m in right.marks if isinstance(m, Circle)]
    assert at == pytest.approx([4 + 6 * n - 5 for n in range(1, 11)], abs=MM)


def test_words_of_a_raw_panel() -> None:
    """Hems, seams, edges and the finished size stand on it; what a drop leaves over doesn't."""
    left, right = panels_of(job_of(f'{LONG}\nname = "Hall"', tables=PLAIN), scale=30)
    for drawn, side in ((left, "left"), (right, "right")):
        assert sorted(said(drawn)) == sorted(
            [
                f"Hall, {side} panel",
                "finished",
                "74 in × 84 in",
                "heading 8 in",
                "bottom hem 8 in",
                "LEADING EDGE · hem 3 in",
                "RETURN EDGE · hem 3 in",
                "1: 51 1/8 in",
                "2: 29 7/8 in",
                "seam 47 5/8 in from leading edge",
            ]
        )
    xs = {text.text: float(text.x) for text in texts(right)}
    mirror = {text.text: left.width - float(text.x) for text in texts(left)}
    for words in ("1: 51 1/8 in", "seam 47 5/8 in from leading edge"):
        assert xs[words] == pytest.approx(mirror[words], abs=MM)
    # Words stand in the widest piece, and so off its seam and the dashes of hems.
    for drawn in (left, right):
        uprights = [m for m in drawn.marks if isinstance(m, Line) and m.x1 == m.x2]
        at = [float(m.x1) for m in uprights if m.role in {Role.SEAM, Role.FOLD}]
        assert len(at) == 3
        for text in texts(drawn):
            x0, _, x1, _ = drawing.box(text)
            if text.role == Role.PANEL_WORDS:
                assert not [x for x in at if x0 < x < x1], text.text
    assert xs["LEADING EDGE · hem 3 in"] < xs["RETURN EDGE · hem 3 in"]
    assert xs["1: 51 1/8 in"] < xs["seam 47 5/8 in from leading edge"] < xs["2: 29 7/8 in"]


@pytest.mark.parametrize(
    "name", ["Hall", "Upper gallery, north elevation, third bay from the stair"]
)
def test_narrow_panels_have_their_name(name: str) -> None:
    """Panels of 14 in, 15 mm on paper, are named along, and told apart; a long name is cut."""
    window = f'name = "{name}"\nwidth = 14\nlength = 84'
    for drawn, side in zip(
        panels_of(job_of(window, tables=PLAIN), scale=24), ("left", "right"), strict=True
    ):
        (label,) = (text for text in texts(drawn) if "panel" in text.text)
        shown, ending = label.text.split(", ")[0], f", {side} panel"
        assert label.text.endswith(ending)
        assert label.angle == 90
        assert label.text == name + ending if name == "Hall" else shown.startswith("Upper gallery")
        left, bottom, right, top = drawing.box(label)
        assert 0 < left < right < drawn.width
        assert 0 < bottom < top < drawn.height


def test_what_a_repeat_leaves_over() -> None:
    """What whole repeats leave is at the foot, below the hem, shrinkage counted."""
    # 1.02 x 100 = 102 in, up to five repeats of 24 in: 120. Hem 8.16 in and 18 in over.
    cloth = f"{PLAIN}\nrepeat_down = 24\nshrinkage = 0.02"
    (drawn,) = panels_of(job_of(f'{LONG}\npanels = "left"', tables=cloth), scale=40)
    assert "bottom hem 8 in + 18 in left over" in " ".join(said(drawn))
    ((_, low, _, high),) = boxes(drawn, Role.RAW_EDGE)
    level = sorted(
        (float(fold.y1) - low) * 40 / 25.4 for fold in lines(drawn, Role.FOLD) if fold.y1 == fold.y2
    )
    assert (high - low) * 40 / 25.4 == pytest.approx(120)
    assert level == pytest.approx([26.16, 120 - 8.16], abs=MM)  # 120 - 1.02 x 92


def test_single_panel() -> None:
    """A single panel's edges are its left and its right; it is called a panel, not only single."""
    window = LONG.replace("leading = 3\n", "") + '\npanels = "single"'
    (drawn,) = panels_of(job_of(window, tables=PLAIN), scale=30)
    xs = {text.text: float(text.x) for text in texts(drawn)}
    assert xs["LEFT EDGE · hem 3 in"] < xs["RIGHT EDGE · hem 3 in"]
    assert "single panel" in xs


@pytest.mark.parametrize(
    ("window", "tables", "scale"),
    [
        (LONG, PLAIN, 30),
        (LONG, PLAIN, 75),
        (LONG, PLAIN, 200),
        (LONG.replace("84", "5"), f"{PLAIN}\nheading = 0\nbottom_hem = 0", 24),
        (LONG.replace("84", "1000"), PLAIN, 500),
        (LONG.replace("\nlength = 84", ""), PLAIN, 30),
        ('panels = "left"\nwidth = 1700\nreturn = 3\nlength = 84', "[fabric]\nwidth = 48", 500),
        (f'{LONG}\nname = "{"the long gallery " * 9}seven"', PLAIN, 40),
    ],
)
def test_no_words_of_a_raw_panel_are_cut(window: str, tables: str, scale: int) -> None:
    """No figure is ever cut short: what has no room is left out whole, a name's middle excepted."""
    for drawn in panels_of(job_of(window, tables=tables), scale=scale):
        for text in texts(drawn):
            assert text.size == LABEL
            assert "…" not in text.text or text.text.endswith("seven")
            assert drawing.box(text)[0] >= -MM
            assert drawing.box(text)[2] <= drawn.width + MM
        for one, two in ((a, b) for a in texts(drawn) for b in texts(drawn) if a is not b):
            assert not touching(drawing.box(one), drawing.box(two))
        (edges,) = boxes(drawn, Role.RAW_EDGE)
        inside = texts(drawn, Role.PANEL_WORDS)
        assert all(within(drawing.box(text), edges) for text in inside)
        rings = [drawing.box(m) for m in drawn.marks if isinstance(m, Circle)]
        assert not any(touching(drawing.box(t), ring) for t in inside for ring in rings)


def test_hooks() -> None:
    """On hooks a panel is cut as on a pole, its seams shown the same way."""
    job = job_of(LONG, tables=PLAIN, eyelet=f'{RING}\nhung = "hooks"')
    planned: Plan = plan(job, advise=False)
    seams = planned.windows[0].panels[0].seams
    assert seams
    for drawn in panels_of(job, scale=30):
        assert len(lines(drawn, Role.SEAM)) == len(seams)
