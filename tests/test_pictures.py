"""Pictures are to scale: their lines are measured against figures worked here."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, radians, sqrt

import pytest
from jobfiles import job_of
from strips import FIXED

from drapetemplate import drawing, picture
from drapetemplate.document import Document
from drapetemplate.drawing import Circle, Line, Polygon, Text
from drapetemplate.gallery import comparison_sheets, panel_picture
from drapetemplate.job import Job
from drapetemplate.picture import Picture
from drapetemplate.planning.compare import compare
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.plan import PanelPlan, plan

RING = 'outside = "2 1/2 in"\nopening = "1 1/2 in"'
POLE = "[pole]\ndiameter = 1\nprojection = 4"
WINDOW = "width = 64\nlength = 80\nleading = 1\nreturn = 2\ncount = 10\nfullness = 2"
SCALE = 8


def of(window: str = WINDOW, tables: str = POLE) -> tuple[Job, PanelPlan, Hang]:
    """A job, its first panel, and how that hangs."""
    job = job_of(window, eyelet=RING, tables=tables)
    panel = plan(job).windows[0].panels[0]
    assert panel.hang is not None
    return job, panel, panel.hang


def above(window: str = WINDOW, *, stacked: bool = False) -> tuple[Picture, PanelPlan, Hang]:
    """The view from above at 1:8."""
    job, panel, hang = of(window)
    drawn = picture.from_above(job, job.windows[0], panel, hang, FIXED, SCALE, stacked=stacked)
    return drawn, panel, hang


def lines(drawn: Picture, role: str) -> list[Line]:
    """The picture's lines of that role."""
    return [mark for mark in drawn.marks if isinstance(mark, Line) and mark.role == role]


def length(line: Line) -> float:
    """Room millimetres along a line."""
    return hypot(float(line.x2) - float(line.x1), float(line.y2) - float(line.y1)) * SCALE


@pytest.mark.parametrize("stacked", [False, True])
def test_cloth_is_as_long_as_it_is(*, stacked: bool) -> None:
    """The cloth drawn is the panel's finished width: it bends and does not stretch."""
    drawn, panel, _ = above(stacked=stacked)
    whole = sum(length(line) for line in lines(drawn, "cloth"))
    # Closed, the gaps are chords of a curve and fall short of it by some hundredths of a percent.
    assert whole == pytest.approx(float(panel.width), rel=1e-9 if stacked else 2e-3)


def test_rings_on_the_pole() -> None:
    """Each ring is as long as the eyelet is across, centred on the axis, at the fold's angle."""
    drawn, panel, hang = above()
    (axis,) = lines(drawn, "pole-axis")
    rings = lines(drawn, "ring")
    middles = [(float(r.x1) + float(r.x2)) / 2 for r in rings]
    assert [length(r) for r in rings] == pytest.approx([63.5] * 10)
    assert [(float(r.y1) + float(r.y2)) / 2 for r in rings] == pytest.approx([float(axis.y1)] * 10)
    steps = [(b - a) * SCALE for a, b in pairwise(middles)]
    assert steps == pytest.approx([hang.closed.pole_per_gap] * 9)
    across = [abs(float(r.x2) - float(r.x1)) * SCALE for r in rings]
    assert across == pytest.approx([63.5 * abs(cos(radians(hang.closed.angle_deg)))] * 10)
    assert sum(steps) == pytest.approx(float(panel.covers or 0))


def test_wall_and_reach() -> None:
    """The wall stands the projection off the axis; the reach lines the fold's depth either side."""
    drawn, _, hang = above()
    (axis,), (wall,) = lines(drawn, "pole-axis"), lines(drawn, "wall")
    assert (float(wall.y1) - float(axis.y1)) * SCALE == pytest.approx(101.6)
    off = sorted((float(r.y1) - float(axis.y1)) * SCALE for r in lines(drawn, "reach"))
    assert off == pytest.approx([-hang.closed.depth, hang.closed.depth])
    tops = [float(y) for line in lines(drawn, "cloth")[2:-2] for y in (line.y1, line.y2)]
    assert (max(tops) - float(axis.y1)) * SCALE == pytest.approx(hang.closed.depth)
    assert (min(tops) - float(axis.y1)) * SCALE == pytest.approx(-hang.closed.depth)


def test_front_is_away_from_the_wall() -> None:
    """F stands below the pole, in the room, and B above it, toward the wall."""
    drawn, panel, _ = above()
    (axis,) = lines(drawn, "pole-axis")
    letters = {m.x: m for m in drawn.marks if isinstance(m, Text)}
    said = [(t.text, float(t.y) < float(axis.y1)) for _, t in sorted(letters.items())]
    assert said == [("F", True), ("B", False)] * 4 + [("F", True)]
    assert len(said) == len(panel.gaps)


@pytest.mark.parametrize(("panels", "expected"), [("left", [2, 1]), ("right", [1, 2])])
def test_ends_hang_where_they_should(panels: str, expected: list[int]) -> None:
    """A left panel's return edge is at the left, a right one's at the right."""
    drawn, _, _ = above(f'{WINDOW}\npanels = "{panels}"')
    cloth = lines(drawn, "cloth")
    ends = [round(length(cloth[0]) / 25.4, 1), round(length(cloth[-1]) / 25.4, 1)]
    assert ends == expected


def test_stacked_is_the_deepest() -> None:
    """Stacked, straight legs of half a pitch over half the stack of one eyelet."""
    drawn, panel, hang = above(stacked=True)
    (axis,) = lines(drawn, "pole-axis")
    depth = max(float(r.y1) - float(axis.y1) for r in lines(drawn, "reach")) * SCALE
    pitch = float(panel.pitch)
    assert depth == pytest.approx(sqrt(pitch**2 - 31.75**2) / 2)
    assert depth <= float(hang.depth_stacked)


def test_front_view() -> None:
    """From the front the panel is as wide as the pole it covers and as long as it finishes."""
    job, panel, hang = of()
    drawn = picture.from_front(plan(job).windows[0], panel, hang, 10)
    (outline,) = [m for m in drawn.marks if isinstance(m, Polygon) and m.role == "panel"]
    left, bottom, right, top = drawing.box(outline)
    assert (right - left) * 10 == pytest.approx(float(panel.covers or 0))
    assert (top - bottom) * 10 == pytest.approx(80 * 25.4)
    backs = [m for m in drawn.marks if m.role == "back-fold"]
    assert len(backs) == panel.gaps.count("back")


def test_flat_strip() -> None:
    """The flat strip's holes stand at the panel's centres, at scale, from the leading end."""
    job, panel, _ = of(f'{WINDOW}\npanels = "left"')
    drawn = picture.flat_strip(job, panel, FIXED, 10)
    holes = [m for m in drawn.marks if isinstance(m, Circle) and m.role == "hole"]
    # (64 - 1 - 2 - 10 x 2 1/2)/9 = 4 in of gap, 6 1/2 in of pitch, from 1 + 1 1/4 in.
    expected = [(64 - (2.25 + i * 6.5)) * 2.54 for i in range(10)]
    assert [float(h.x) for h in holes] == pytest.approx(expected)
    assert [float(h.r) * 2 for h in holes] == pytest.approx([3.81] * 10)


@pytest.mark.parametrize(
    ("size", "room", "expected"), [(100, 100, 1), (101, 100, 2), (2000, 100, 20), (0, 50, 1)]
)
def test_scale(size: int, room: int, expected: int) -> None:
    """The smallest customary scale that fits."""
    assert picture.scale_for(size, room) == expected


def test_scale_beyond_the_customary() -> None:
    """What no customary scale holds still fits."""
    scale = picture.scale_for(99_000, 90)
    assert 99_000 / scale <= 90


def boxes_inside(document: Document) -> None:
    """Every mark lies on its page, and no two texts overlap."""
    for page in document.pages:
        texts = []
        for mark in page.marks:
            left, bottom, right, top = drawing.box(mark)
            assert left >= -0.5
            assert bottom >= -0.5
            assert right <= float(document.width) + 0.5
            assert top <= float(document.height) + 0.5
            if isinstance(mark, Text) and not mark.role.startswith("letter"):
                texts.append((left, bottom, right, top))
        texts.sort(key=lambda b: b[1])
        for i, a in enumerate(texts):
            for b in texts[i + 1 :]:
                if b[1] >= a[3]:
                    break
                assert b[0] >= a[2] - 0.01 or a[0] >= b[2] - 0.01, (a, b)


@pytest.mark.parametrize("tables", [POLE, ""])
def test_picture_page(tables: str) -> None:
    """One page as high as it takes, everything on it, for windows that hang and that don't."""
    hooks = 'width = 72\n[window.eyelet]\nhung = "hooks"'
    job = job_of(WINDOW, "width = 40", hooks, eyelet=RING, tables=tables)
    document = panel_picture(job, plan(job), FIXED)
    assert len(document.pages) == 1
    boxes_inside(document)


@pytest.mark.parametrize("asked", [[], list(range(2, 21))])
def test_comparison_page(asked: list[int]) -> None:
    """Every count is there, all at one scale, and nothing is lost where there are many."""
    job = job_of(WINDOW, eyelet=RING, tables=POLE)
    (comparison,) = compare(job, asked)
    document = comparison_sheets(job, (comparison,), FIXED)
    boxes_inside(document)
    said = " ".join(m.text for p in document.pages for m in p.marks if isinstance(m, Text))
    for choice in comparison.choices:
        assert f"{choice.count} eyelets" in said
    bands = [m for p in document.pages for m in p.marks if m.role == "band"]
    widths = {round(drawing.box(band)[2] - drawing.box(band)[0], 6) for band in bands}
    assert len(bands) == sum(choice.window is not None for choice in comparison.choices)
    assert len(widths) == 1
    if not asked:
        assert len(document.pages) == 1
