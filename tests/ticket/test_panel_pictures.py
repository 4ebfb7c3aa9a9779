"""Pictures measured: every length on paper times the scale is the length in the room."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import dist, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.drawing.marks import Circle, Line, Polygon, Text, box
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket import from_above, panel_pictures, panel_views
from drapetemplate.ticket.picture import SCALES, Picture, moved, scale_for
from tests.helpers.jobfiles import NO_HOLE, RING, job_of
from tests.helpers.marks import lines

# P = (60 - 4 1/2 - 16)/7 + 2 = 107/14 in; at 2 1/4 times a gap takes P/2.25 of pole.
EIGHT = "width = 60\nreturn = 3\ncount = 8\nfullness = 2.25"
PITCH = 107 / 14 * 25.4
MM = 1e-6  # floats of hundreds of mm keep a dozen digits; what is drawn is off by less


@dataclass(frozen=True)
class Shown:
    """The first panel of a job's first window, as planned."""

    job: Job
    planned: WindowPlan

    @property
    def panel(self) -> PanelPlan:
        """The panel."""
        return self.planned.panels[0]

    @property
    def hang(self) -> Hang:
        """How it hangs."""
        assert self.panel.hang is not None
        return self.panel.hang

    def above(self, scale: int, *, stacked: bool = False) -> Picture:
        """It from above."""
        return from_above.from_above(
            self.job,
            self.planned.window,
            self.panel,
            self.hang,
            typeface(),
            scale,
            stacked=stacked,
        )


def shown(window: str, *, head: str = "", tables: str = "", eyelet: str = RING) -> Shown:
    """A job's first window, planned."""
    job = job_of(window, head=head, tables=tables, eyelet=eyelet)
    return Shown(job, plan(job).windows[0])


def length(line: Line) -> float:
    """How long a line is on paper."""
    return dist((line.x1, line.y1), (line.x2, line.y2))


def middle(line: Line) -> tuple[float, float]:
    """Half way along a line."""
    return float(line.x1 + line.x2) / 2, float(line.y1 + line.y2) / 2


def axis(drawn: Picture) -> float:
    """How high the pole's axis is drawn."""
    (line,) = lines(drawn, Role.POLE_AXIS)
    assert line.y1 == line.y2
    return float(line.y1)


def letters(drawn: Picture, role: Role) -> list[Text]:
    """The letters of a role, in order."""
    return [mark for mark in drawn.marks if isinstance(mark, Text) and mark.role == role]


@pytest.mark.parametrize("panels", ["left", "right", "single", "pair"])
@pytest.mark.parametrize("projection", ["", "projection = 4", "projection = 9"])
@pytest.mark.parametrize("scale", [1, 8, 24])
@pytest.mark.parametrize("stacked", [False, True])
def test_no_cloth_is_lost(panels: str, projection: str, scale: int, *, stacked: bool) -> None:
    """The cloth drawn is one line as long as the panel is wide: ends, rings and gaps."""
    one = shown(f'{EIGHT}\npanels = "{panels}"', tables=f"[pole]\n{projection}")
    cloth = lines(one.above(scale, stacked=stacked), Role.CLOTH)
    for before, after in pairwise(cloth):
        assert (before.x2, before.y2) == (after.x1, after.y1)
    # A fold drawn in straight steps is a little short of itself, by less than 0.1 %.
    total = sum(map(length, cloth)) * scale
    assert total == pytest.approx(60 * 25.4, rel=1e-3)
    assert total <= 60 * 25.4 + MM


def test_cloth_along_the_wall() -> None:
    """A return longer than the way to the wall turns along it, shown for 4 mm at most."""
    one = shown(EIGHT.replace("return = 3", "return = 6"), tables="[pole]\nprojection = 4")
    drawn = one.above(8)
    (wall,) = lines(drawn, Role.WALL)
    first = lines(drawn, Role.CLOTH)[0]
    assert (first.y1, first.y2) == (wall.y1, wall.y1)
    assert length(first) == pytest.approx(4, abs=MM)
    assert first.x1 < first.x2  # from its end, away from the panel, to the turn


@pytest.mark.parametrize("stacked", [False, True])
@pytest.mark.parametrize("scale", [2, 10])
def test_rings(scale: int, *, stacked: bool) -> None:
    """Each ring is an eyelet long, its centre on the axis, each a gap's pole from the next."""
    drawn = shown(f"{EIGHT}\nstack_each = 1").above(scale, stacked=stacked)
    rings = lines(drawn, Role.RING)
    assert len(rings) == 8
    each = 25.4 if stacked else PITCH / 2.25
    start = middle(rings[0])[0]
    for i, ring in enumerate(rings):
        assert length(ring) * scale == pytest.approx(50.8, abs=MM)
        assert middle(ring) == pytest.approx((start + i * each / scale, axis(drawn)), abs=MM)


@pytest.mark.parametrize("stacked", [False, True])
def test_cloth_runs_through_the_rings(*, stacked: bool) -> None:
    """The cloth passes both ends of every ring and its centre: a ring is a stiff piece of it."""
    drawn = shown(EIGHT).above(6, stacked=stacked)
    cloth = lines(drawn, Role.CLOTH)
    for ring in lines(drawn, Role.RING):
        for point in ((ring.x1, ring.y1), middle(ring), (ring.x2, ring.y2)):
            off = min(
                dist((line.x1, line.y1), point) + dist(point, (line.x2, line.y2)) - length(line)
                for line in cloth
            )
            assert off == pytest.approx(0, abs=MM)


@pytest.mark.parametrize("scale", [4, 12])
def test_closed_depth(scale: int) -> None:
    """The reach lines stand at the closed depth on both sides, and the folds just touch them."""
    one = shown(EIGHT)
    drawn = one.above(scale)
    depth = float(one.hang.depth_closed) / scale
    level = axis(drawn)
    ends = sorted(float(line.y1) for line in lines(drawn, Role.REACH))
    assert ends == pytest.approx([level - depth, level + depth], abs=MM)
    inner = lines(drawn, Role.CLOTH)[1:-1]  # without what hangs beyond the end eyelets
    folds = [float(y) for line in inner for y in (line.y1, line.y2)]
    assert (min(folds), max(folds)) == pytest.approx(ends, abs=MM)


@pytest.mark.parametrize(("each", "drawn_each"), [("1", 1.0), ("2 1/2", 2.5), ("1/2", 0.5)])
def test_stacked_depth(each: str, drawn_each: float) -> None:
    """Stacked folds are straight: sqrt(P^2 - s^2)/2 deep for s of pole each, never past P/2."""
    drawn = shown(f'{EIGHT}\nstack_each = "{each}"').above(5, stacked=True)
    expected = sqrt(PITCH**2 - (drawn_each * 25.4) ** 2) / 2
    low, high = sorted(float(line.y1) for line in lines(drawn, Role.REACH))
    assert (high - low) * 5 / 2 == pytest.approx(expected, abs=MM)
    assert expected <= PITCH / 2


def test_stack_wider_than_the_closed_panel() -> None:
    """A stack that a job says is wider than the panel closed isn't drawn wider than that."""
    one = shown(f"{EIGHT}\nstack_each = 20")
    stacked, closed = (
        [middle(ring)[0] for ring in lines(one.above(5, stacked=state), Role.RING)]
        for state in (True, False)
    )
    assert stacked[-1] - stacked[0] <= closed[-1] - closed[0] + MM


@pytest.mark.parametrize("projection", ["3", "4 1/2"])
@pytest.mark.parametrize("scale", [3, 16])
def test_wall(projection: str, scale: int) -> None:
    """The wall is a projection above the pole's axis, at scale, and there is none unless known."""
    tables = f'[pole]\nprojection = "{projection}"'
    drawn = shown(EIGHT, tables=tables).above(scale)
    (wall,) = lines(drawn, Role.WALL)
    expected = float(sum(map(Fraction, projection.split()))) * 25.4
    assert (float(wall.y1) - axis(drawn)) * scale == pytest.approx(expected, abs=MM)
    assert float(wall.x2 - wall.x1) == pytest.approx(drawn.width, abs=MM)
    assert lines(shown(EIGHT).above(scale), Role.WALL) == []


def test_pole() -> None:
    """The pole is as thick as it is, about its axis."""
    drawn = shown(EIGHT, tables='[pole]\ndiameter = "3/4"').above(4)
    (pole,) = [m for m in drawn.marks if isinstance(m, Polygon) and m.role == Role.POLE]
    low, high = min(y for _, y in pole.points), max(y for _, y in pole.points)
    assert float(high - low) * 4 == pytest.approx(0.75 * 25.4, abs=MM)
    assert float(high + low) / 2 == pytest.approx(axis(drawn), abs=MM)


@pytest.mark.parametrize("stacked", [False, True])
def test_letters_from_above(*, stacked: bool) -> None:
    """The job's letters stand in the room under front folds, and behind back folds, in turn."""
    one = shown(EIGHT, tables='[pole]\nprojection = 9\n[paper]\nletters = ["R", "W"]')
    drawn = one.above(5, stacked=stacked)
    front, back = letters(drawn, Role.LETTER_FRONT), letters(drawn, Role.LETTER_BACK)
    assert [mark.text for mark in (*front, *back)] == ["R"] * 4 + ["W"] * 3
    low, high = sorted(float(line.y1) for line in lines(drawn, Role.REACH))
    assert all(box(mark)[3] < low for mark in front)
    assert all(float(mark.y) > high for mark in back)
    rings = [middle(ring)[0] for ring in lines(drawn, Role.RING)]
    middles = [(a + b) / 2 for a, b in pairwise(rings)]
    assert [float(mark.x) for mark in front] == pytest.approx(middles[::2], abs=MM)
    assert [float(mark.x) for mark in back] == pytest.approx(middles[1::2], abs=MM)


@pytest.mark.parametrize("projection", ["3 1/2", "2"])
def test_back_letters_near_the_wall(projection: str) -> None:
    """Where the wall leaves no room above a closed fold its letter stands inside, clear of both."""
    drawn = shown(EIGHT, tables=f'[pole]\nprojection = "{projection}"').above(6)
    (wall,) = lines(drawn, Role.WALL)
    high = max(float(line.y1) for line in lines(drawn, Role.REACH))
    back = letters(drawn, Role.LETTER_BACK)
    assert len(back) == 3
    assert all(axis(drawn) <= box(m)[1] + m.size / 4 for m in back)  # a capital has no descender
    assert all(box(mark)[3] < min(high, float(wall.y1)) for mark in back)


@pytest.mark.parametrize(
    ("panels", "left", "right"), [("left", 3, 1.5), ("right", 1.5, 3), ("single", 3, 3)]
)
def test_return_is_at_its_own_end(panels: str, left: float, right: float) -> None:
    """A left panel returns at the left, a right one at the right, a single one at both."""
    lead = "" if panels == "single" else '\nleading = "1 1/2"'
    drawn = shown(f'{EIGHT}\npanels = "{panels}"{lead}').above(4)
    cloth = lines(drawn, Role.CLOTH)
    ends = [length(cloth[0]) * 4 / 25.4, length(cloth[-1]) * 4 / 25.4]
    assert ends == pytest.approx([left, right], abs=MM)
    assert cloth[0].y1 > cloth[0].y2  # both go back to the wall
    assert cloth[-1].y2 > cloth[-1].y1


@pytest.mark.parametrize(("panels", "end"), [("left", 0), ("right", -1)])
def test_odd_count_turns_its_return_to_the_room(panels: str, end: int) -> None:
    """With an odd count the return end goes into the room, as the strip's letters say."""
    one = shown(f'{EIGHT.replace("8", "7")}\npanels = "{panels}"')
    drawn = one.above(4)
    cloth = lines(drawn, Role.CLOTH)
    outer = [(cloth[0].y1, cloth[0].y2), (cloth[-1].y2, cloth[-1].y1)]
    assert [turned < ring for turned, ring in outer] == [end == 0, end == -1]
    above = sorted((m for m in drawn.marks if isinstance(m, Text)), key=lambda m: m.x)
    strip = panel_pictures.flat_strip(one.job, one.panel, typeface(), 4)
    flat = sorted((m for m in strip.marks if isinstance(m, Text)), key=lambda m: m.x)
    assert [m.text for m in flat] == [m.text for m in above]


@pytest.mark.parametrize("scale", [5, 20])
def test_from_the_front(scale: int) -> None:
    """From the front: as wide as the closed panel with half a ring over, as long as it is long."""
    one = shown(f"{EIGHT}\nlength = 84")
    drawn = panel_pictures.from_front(one.planned, one.panel, one.hang, scale)
    span = 7 * PITCH / 2.25
    assert drawn.width * scale == pytest.approx(span + 50.8, abs=MM)
    assert drawn.height * scale == pytest.approx(84 * 25.4, abs=MM)
    found = {role: [box(m) for m in drawn.marks if m.role == role] for role in ROLES}
    assert {role: len(boxes) for role, boxes in found.items()} == ROLES
    ((left, bottom, right, top),) = found[Role.PANEL]
    assert ((right - left) * scale, bottom, top) == pytest.approx((span, 0, drawn.height), abs=MM)
    for i, back in enumerate(found[Role.BACK_FOLD]):
        start = left + (2 * i + 1) * span / 7 / scale
        assert back == pytest.approx((start, 0, start + span / 7 / scale, drawn.height), abs=MM)
    # The folds turn and the rings stand at each end of a gap, seven of them from the panel's edge.
    turns = [left + n * span / 7 / scale for n in range(8)]
    for n, (edge, ring) in enumerate(
        zip(found[Role.FOLD_EDGE], found[Role.RING_EDGE_ON], strict=True)
    ):
        assert edge == pytest.approx((turns[n], 0, turns[n], drawn.height), abs=0.1)
        assert (ring[0] + ring[2]) / 2 == pytest.approx(turns[n], abs=MM)
    # The band is 4 in (eyelet and 2 in), the eyelet centred in it.
    ((_, foot, _, _),) = found[Role.BAND_FOOT]
    assert (top - foot) * scale == pytest.approx(4 * 25.4, abs=MM)
    for _, low, _, high in found[Role.RING_EDGE_ON]:
        assert ((top - high) * scale, (top - low) * scale) == pytest.approx((25.4, 76.2), abs=MM)


ROLES = {
    Role.PANEL: 1,
    Role.BACK_FOLD: 3,
    Role.FOLD_EDGE: 8,
    Role.BAND_FOOT: 1,
    Role.RING_EDGE_ON: 8,
}


@pytest.mark.parametrize(
    ("window", "square"), [(EIGHT, True), ("width = 8\nreturn = 1\ncount = 2", False)]
)
def test_unknown_length(window: str, *, square: bool) -> None:
    """A panel of unknown length is drawn square, but never shorter than two bands."""
    one = shown(window)
    drawn = panel_pictures.from_front(one.planned, one.panel, one.hang, 4)
    assert drawn.height == pytest.approx(drawn.width if square else 8 * 25.4 / 4, abs=MM)


def width_of(part: tuple[float, float]) -> float:
    """From end to end."""
    return part[1] - part[0]


@pytest.mark.parametrize("panels", ["left", "right", "single"])
def test_flat_strip(panels: str) -> None:
    """The heading laid flat has every hole exactly where the plan has it, seen from the face."""
    one = shown(f'{EIGHT}\npanels = "{panels}"', eyelet=NO_HOLE + '\nhole = "1 1/8"')
    seamed = replace(one.panel, seams=(20 * INCH,))
    drawn = panel_pictures.flat_strip(one.job, seamed, typeface(), 5)
    assert (drawn.width, drawn.height) == pytest.approx((60 * 25.4 / 5, 4 * 25.4 / 5), abs=MM)
    ends = 3 if panels == "single" else 1.5
    centers = [ends + 1 + i * ((60 - 3 - ends - 16) / 7 + 2) for i in range(8)]
    mirrored = panels == "left"  # its leading edge is at the right
    expected = sorted((60 - c if mirrored else c) * 25.4 / 5 for c in centers)
    for role, radius in ((Role.OUTSIDE, 1.0), (Role.HOLE, 9 / 16)):
        circles = [m for m in drawn.marks if isinstance(m, Circle) and m.role == role]
        assert sorted(float(m.x) for m in circles) == pytest.approx(expected, abs=MM)
        assert {round(float(m.r) * 5 / 25.4, 9) for m in circles} == {radius}
        assert {round(float(m.y) * 5 / 25.4, 9) for m in circles} == {2.0}
    words = sorted((m for m in drawn.marks if isinstance(m, Text)), key=lambda m: m.x)
    assert "".join(m.text for m in words) == "FBFBFBF"
    # A letter stands in the middle of its gap; beside a seam, of the wider part that is left.
    gaps = [(a + 25.4 / 5, b - 25.4 / 5) for a, b in pairwise(expected)]
    at = (40 if mirrored else 20) * 25.4 / 5
    parts = [(a, b) if not a < at < b else max((a, at), (at, b), key=width_of) for a, b in gaps]
    assert parts != gaps
    middles = [(a + b) / 2 for a, b in parts]
    assert [float(m.x) for m in words] == pytest.approx(middles, abs=MM)
    (seam,) = lines(drawn, Role.SEAM)
    assert float(seam.x1) * 5 / 25.4 == pytest.approx(40 if mirrored else 20, abs=MM)


@given(mm=st.floats(1, 2_000_000), room=st.floats(50, 400))
def test_scale_for(mm: float, room: float) -> None:
    """The scale is the smallest customary one at which the length fits, or coarser than all."""
    scale = scale_for(mm, room)
    assert mm / scale <= room * (1 + 1e-9)
    smaller = [s for s in SCALES if s < scale]
    assert all(mm / s > room for s in smaller)
    assert scale in SCALES or scale % SCALES[-1] == 0


JOBS = [
    (EIGHT, ""),
    (f'{EIGHT}\npanels = "right"', '[pole]\nprojection = 9\ndiameter = "7/8"'),
    (EIGHT, "[pole]\nprojection = 1"),  # folds through the wall
    (EIGHT.replace("8", "7"), "[pole]\nprojection = 2"),
    (f"{EIGHT}\nlength = 120", "[pole]\nprojection = 4"),
    ("width = 60\nreturn = 12\ncount = 4\nfullness = 1.05", "[pole]\nprojection = 4"),
    ("width = 60\nreturn = 3\ncount = 14\nfullness = 6", ""),  # rings past square
    ("width = 8\nreturn = 1\ncount = 2", ""),
    ("width = 900", ""),
    ("width = 1200\nlength = 300\nstack_each = 9", "[pole]\nprojection = 4"),
]


@pytest.mark.parametrize(("window", "tables"), JOBS)
@pytest.mark.parametrize("room", [120, 250])
def test_nothing_outside_its_box(window: str, tables: str, room: float) -> None:
    """Every picture is no wider than asked, and all its marks stand in its own box."""
    one = shown(window, tables=tables)
    for _, drawn in panel_views.window_pictures(one.job, one.planned, typeface(), room):
        assert drawn.width <= room + MM
        left, bottom, right, top = zip(*map(box, drawn.marks), strict=True)
        assert min(left) >= -MM
        assert min(bottom) >= -MM
        assert max(right) <= drawn.width + MM
        assert max(top) <= drawn.height + MM


def test_pictures_of_a_window() -> None:
    """Closed, stacked, front and flat, each captioned; both views from above at one scale."""
    one = shown(EIGHT, tables="[pole]\nprojection = 4")
    shots = panel_views.window_pictures(one.job, one.planned, typeface(), 200)
    (closed, spread), (stacked, pushed), (front, _), (flat, _) = shots
    assert spread.scale == pushed.scale
    depth = float(one.hang.depth_closed) / 25.4
    assert closed.startswith("Closed, fullness 2.25 times first eyelet to last: ")
    assert ". The left panel from above, wall at the top" in closed
    assert closed.endswith("; the right panel is its mirror image")
    assert f"{int(depth)} " in closed
    # P/2 = 3.82 in of 4: 0.18.
    assert stacked.endswith(", 1/8 in free to the wall with 1/2 in asked for")
    assert " in free to the wall with 1/2 in asked for" in closed
    assert "past it" not in closed
    assert front.endswith("its length not known and not to scale")
    other = "the right one's is its mirror image"
    assert flat == f"The left panel's heading laid flat, seen from the face; {other}"


def test_deep_folds_fit() -> None:
    """Two eyelets far apart hang deeper than they are wide: the scale is of the depth then."""
    one = shown("width = 14\nleading = 0\nreturn = 1\ncount = 2")
    (_, closed), (_, pushed), *_ = panel_views.window_pictures(
        one.job, one.planned, typeface(), 200
    )
    assert max(closed.height, pushed.height) <= 90
    assert closed.scale == pushed.scale > 1


def test_pictures_on_hooks() -> None:
    """On hooks nothing weaves: the strip is all there is to show, without letters."""
    one = shown("width = 60", eyelet=RING + '\nhung = "hooks"')
    ((_, drawn),) = panel_views.window_pictures(one.job, one.planned, typeface(), 200)
    assert [m.text for m in drawn.marks if isinstance(m, Text)] == ["finished width 60 in"]


def test_moved() -> None:
    """A picture put on a page is the same picture elsewhere."""
    drawn = shown(EIGHT).above(6)
    put = list(moved(drawn, 10.0, 20.0))
    for before, after in zip(drawn.marks, put, strict=True):
        left, bottom, right, top = box(before)
        assert box(after) == pytest.approx((left + 10, bottom + 20, right + 10, top + 20), abs=MM)
