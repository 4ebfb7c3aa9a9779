"""A window from the front: where brackets, panels, glass and floor are drawn, to its scale."""

from __future__ import annotations

import pytest

from drapetemplate import drawing
from drapetemplate.drawing.marks import Circle, Line, Mark, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.picture import Picture
from drapetemplate.ticket.window_from_front import from_front_of_window
from tests.helpers.jobfiles import RING, job_of
from tests.helpers.marks import texts

INCH = 25.4
PAIR = "width = 100\ncount = 8\nreturn = 3\nfullness = 3\nglass = 50"
POLE = "[pole]\nlength = 66\nsupports = 1\ntop = 90"
BOX = (90.0, 90.0)


def views(job: Job, box: tuple[float, float] = BOX, **more: bool) -> tuple[Picture, Picture]:
    """The only window, closed and open."""
    return from_front_of_window(job, plan(job).windows[0], typeface(), box, **more)


def spans(picture: Picture, role: Role) -> list[tuple[float, float]]:
    """From where to where marks of a role reach across, in inches of the room, from the left.

    Counted from the pole's left end.
    """
    [pole] = [mark for mark in picture.marks if mark.role == Role.POLE]
    assert isinstance(pole, Polygon)
    zero = min(float(x) for x, _ in pole.points)
    found = []
    for mark in picture.marks:
        if mark.role == role:
            xs = _xs(mark)
            ends = ((x - zero) * picture.scale / INCH for x in (min(xs), max(xs)))
            found.append((next(ends), next(ends)))
    return found


def _xs(mark: Mark) -> list[float]:
    match mark:
        case Polygon():
            return [float(x) for x, _ in mark.points]
        case Line():
            return [float(mark.x1), float(mark.x2)]
        case Circle():
            return [float(mark.x - mark.r), float(mark.x + mark.r)]
    raise AssertionError(mark)


def heights(picture: Picture, role: Role) -> tuple[float, float]:
    """From where to where the first mark of a role reaches up, in inches over the floor."""
    [floor] = [mark for mark in picture.marks if mark.role == Role.FLOOR]
    assert isinstance(floor, Line)
    mark = next(mark for mark in picture.marks if mark.role == role)
    assert isinstance(mark, Polygon)
    ys = [(float(y) - float(floor.y1)) * picture.scale / INCH for _, y in mark.points]
    return min(ys), max(ys)


def test_closed() -> None:
    """A pair on 66 in of pole: each panel from beside the end to beside the middle bracket.

    The end eyelet takes 1 1/4 in beyond brackets at 1 1/4, 33 and 64 3/4 in; its centre stands
    5/8 in from the end.
    """
    closed, _ = views(job_of(PAIR, tables=POLE))
    left, right = spans(closed, Role.PANEL)
    covers = 93.5 / 3  # 100 - 1 1/2 - 3 - 2 in of cloth, three times as full
    assert left == pytest.approx((0.625, 0.625 + covers), abs=1e-6)
    assert right == pytest.approx((66 - 0.625 - covers, 66 - 0.625), abs=1e-6)
    marks = [m for m in closed.marks if m.role == Role.BRACKET and isinstance(m, Line)]
    places = [(x0 + x1) / 2 for x0, x1 in spans(closed, Role.BRACKET)]
    assert sorted({round(place, 6) for place in places}) == [1.25, 33, 64.75]
    assert len(marks) == 3
    assert [text.text for text in texts(closed, Role.BRACKET_NUMBER)] == ["1", "2", "3"]


def test_open() -> None:
    """Drawn open a panel takes eight eyelets' stack, less the last one's share, from its end.

    Glass of 50 in stands in the middle: from 8 to 58 in.
    """
    _, opened = views(job_of(PAIR, tables=POLE))
    left, right = spans(opened, Role.PANEL)
    assert left == pytest.approx((0.625, 0.625 + 7 * 1.25))
    assert right == pytest.approx((66 - 0.625 - 7 * 1.25, 66 - 0.625))
    assert [x0 for x0, _ in spans(opened, Role.GLASS)] == pytest.approx([8, 58])


@pytest.mark.parametrize(("side", "glass"), [("left", (16, 66)), ("right", (0, 50))])
def test_one_panel_stands_beside_its_glass(side: str, glass: tuple[int, int]) -> None:
    """Of one panel all that the pole is longer than the glass is at its own side."""
    job = job_of(f"{PAIR}\npanels = '{side}'", tables="[pole]\nlength = 66")
    _, opened = views(job)
    assert [x0 for x0, _ in spans(opened, Role.GLASS)] == pytest.approx(glass)
    [(start, end)] = spans(opened, Role.PANEL)
    assert (start < 1) is (side == "left")
    assert (end > 65) is (side == "right")


def test_glass_left_bare() -> None:
    """Closed panels that leave glass bare are drawn with the glass, others without.

    33 in that each covers meet on 66 in of pole: 25 in leave light between them.
    """
    for covers, shown in ((33, []), (25, [8, 58])):
        closed, _ = views(job_of(PAIR.replace("fullness = 3", f"covers = {covers}"), tables=POLE))
        assert [x0 for x0, _ in spans(closed, Role.GLASS)] == pytest.approx(shown)


def test_over_the_floor() -> None:
    """From 90 in up the panel rises 1 1/2 in over the pole's top and ends 1/2 in off the floor."""
    closed, opened = views(job_of(PAIR, tables=POLE))
    assert closed.scale == opened.scale
    for view in (closed, opened):
        assert heights(view, Role.PANEL) == pytest.approx((0.5, 91.5))
        assert heights(view, Role.POLE)[1] == pytest.approx(90)
    broken, _ = views(job_of(PAIR, tables=f"{POLE}\noff_floor = -2"))
    assert heights(broken, Role.PANEL) == pytest.approx((0, 91.5))


def test_sizes() -> None:
    """What is measured is drawn from end to end, and said."""
    closed, opened = views(job_of(PAIR, tables=POLE))
    assert [text.text for text in texts(closed, Role.SIZE)] == [
        *("pole covered ≈ 31 3/16 in each", "pole 66 in", "91 in long"),
    ]
    assert [text.text for text in texts(opened, Role.SIZE)] == ["glass 50 in", "pole's top 90 in"]
    lines = [m for m in closed.marks if m.role == Role.SIZE_LINE and isinstance(m, Line)]
    across = sorted(float(m.x2 - m.x1) * closed.scale / INCH for m in lines if m.y1 == m.y2)
    assert across[-2:] == pytest.approx([93.5 / 3, 66])
    upright = max(float(m.y2 - m.y1) * closed.scale / INCH for m in lines if m.x1 == m.x2)
    assert upright == pytest.approx(91)


def test_sizes_on_a_pole_of_unknown_length() -> None:
    """Where the pole's length isn't known what a panel covers is drawn from its first eyelet."""
    closed, _ = views(job_of("width = 60\ncount = 8\nreturn = 3\ncovers = 25\npanels = 'left'"))
    [panel] = [m for m in closed.marks if m.role == Role.PANEL]
    [line] = [
        m
        for m in closed.marks
        if m.role == Role.SIZE_LINE and isinstance(m, Line) and m.y1 == m.y2 and m.x2 - m.x1 > 5
    ]
    left, _, right, _ = drawing.box(panel)
    ends = (float(line.x1), float(line.x2))
    assert ends == pytest.approx((left, right), abs=0.5)
    assert (ends[1] - ends[0]) * closed.scale / INCH == pytest.approx(25)


def test_motifs_hang_as_far_down_as_asked() -> None:
    """A motif 20 in below the finished top is 71 1/2 in over the floor: the top is 91 1/2 in up.

    In 11 gaps of 7 in of cloth the front ones are the first and every other; six motifs a panel,
    each over the middle of its own.
    """
    fold = 'width = 82\nleading = 3\nreturn = 3\ncount = 12\npattern = "folds"\ncovers = 38'
    cloth = "[fabric]\nwidth = 54\nrepeat_across = 7\nmotif = 2\nrepeat_down = 25\nmotif_down = 9"
    job = job_of(f"{fold}\nmotif_below = 20", tables=f"[pole]\nlength = 80\ntop = 90\n{cloth}")
    closed, opened = views(job, (180.0, 180.0))
    [floor] = [m for m in closed.marks if m.role == Role.FLOOR]
    assert isinstance(floor, Line)
    motifs = [drawing.box(m) for m in closed.marks if m.role == Role.MOTIF]
    up = [((y0 + y1) / 2 - float(floor.y1)) * closed.scale / INCH for _, y0, _, y1 in motifs]
    [top] = {round(heights(closed, Role.PANEL)[1], 6)}
    assert up == pytest.approx([top - 20] * 12, abs=0.01)
    assert top == pytest.approx(91.5)
    backs = sorted(spans(closed, Role.BACK_FOLD))
    assert len(backs) == 10
    at = sorted((x0 + x1) / 2 for x0, x1 in spans(closed, Role.MOTIF))
    assert not [x for x in at for start, end in backs if start < x < end]
    assert not [m for m in opened.marks if m.role in {Role.MOTIF, Role.BACK_FOLD}]


def test_for_the_client() -> None:
    """The client sees neither brackets nor the pole's sizes."""
    closed, opened = views(job_of(PAIR, tables=POLE), brackets=False)
    for view in (closed, opened):
        assert not [m for m in view.marks if m.role in {Role.BRACKET, Role.BRACKET_NUMBER}]
        assert not [text for text in texts(view, Role.SIZE) if "pole" in text.text]


@pytest.mark.parametrize(
    ("window", "tables", "eyelet"),
    [
        (PAIR, POLE, RING),
        ("width = 60", "", RING),
        ("width = 60\npanels = 'single'\nlength = 300", "[pole]\ntop = 290", RING),
        ("width = 2000\ncount = 200", "", RING),
        ("width = 60\nglass = 400", "[pole]\nspan = 9", RING),
        ("width = 70\npanels = 'single'\nlength = 74", "", f'{RING}\nhung = "hooks"'),
    ],
)
@pytest.mark.parametrize("box", [BOX, (60.0, 48.0)])
def test_within_its_box(window: str, tables: str, eyelet: str, box: tuple[float, float]) -> None:
    """Whatever the window, both views keep to their box, and to their own width and height."""
    for view in views(job_of(window, tables=tables, eyelet=eyelet), box):
        assert view.width <= box[0] + 1e-6
        assert view.height <= box[1] + 1e-6
        for mark in view.marks:
            if isinstance(mark, Polygon | Line | Circle):
                assert min(_xs(mark)) >= -1e-6
                assert max(_xs(mark)) <= view.width + 1e-6
