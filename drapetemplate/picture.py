"""A panel as it will hang, drawn to scale: on its pole from above, from the front, and flat.

Frame of a picture: millimetres on paper, x right, y up, its lower left corner at (0, 0); a length
in the room is drawn `1/scale` as long. Seen from above the wall is at the top and the room
below. Seen from the front, and for the flat strip under it, left is left as seen from the room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, sin, sqrt

from drapetemplate import drawing
from drapetemplate.drawing import Circle, Line, Mark, Number, Pen, Polygon, Typeface
from drapetemplate.job import Job, Window
from drapetemplate.measures import format_length
from drapetemplate.planning import folds
from drapetemplate.planning.eyelets import GapKind
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.plan import PanelPlan, WindowPlan

CLOTH = Pen(0.35)
RING = Pen(0.9)
WALL = Pen(0.6)
THIN = Pen(0.15)
REACH = Pen(0.15, (1.0, 0.8))
SEAM = Pen(0.4, (0.5, 0.8))
POLE_GREY = 0.82
BACK_GREY = 0.86
LEAST_STEPS, MOST_STEPS = 12, 48  # half a gap's, so that a large fold looks round
LETTER = 3.0
LETTER_FREE = 0.6  # mm between a fold and its letter
MOST_HEIGHT = 90.0  # mm of paper a panel from the front may take
WALL_SHOWN = 3.0  # mm of paper above the wall line, for its hatching

SCALES = (
    1,
    2,
    3,
    4,
    5,
    6,
    8,
    10,
    12,
    15,
    16,
    20,
    24,
    25,
    30,
    40,
    50,
    60,
    75,
    80,
    100,
    150,
    200,
    500,
)

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Picture:
    """Marks in a box `width` x `height`, drawn at 1:`scale`."""

    width: float
    height: float
    scale: int
    marks: tuple[Mark, ...]


def scale_for(length: Number, room: float) -> int:
    """The smallest customary scale at which `length` in the room takes at most `room` on paper."""
    fitting = (s for s in SCALES if float(length) / s <= room)
    return next(fitting, SCALES[-1] * max(1, -(-int(length) // int(room * SCALES[-1]))))


def closed_width(panel: PanelPlan, hang: Hang) -> float:
    """Room millimetres the closed panel takes of its pole, half a ring over at each end."""
    return (panel.count - 1) * hang.closed.pole_per_gap + hang.closed.outside


def left_to_right(panel: PanelPlan) -> tuple[GapKind, ...]:
    """The panel's gaps as seen from the room."""
    return panel.gaps[::-1] if panel.side == "left" else panel.gaps


def from_above(
    job: Job,
    window: Window,
    panel: PanelPlan,
    hang: Hang,
    typeface: Typeface,
    scale: int,
    *,
    stacked: bool = False,
) -> Picture:
    """The panel on its pole from above: closed, or `stacked` with its folds as deep as can be."""
    return _Above(job, window, panel, hang, typeface, scale, stacked=stacked).picture()


class _Above:
    """One view from above. Inside, lengths are the room's: x along the pole, y toward the wall."""

    def __init__(
        self,
        job: Job,
        window: Window,
        panel: PanelPlan,
        hang: Hang,
        typeface: Typeface,
        scale: int,
        *,
        stacked: bool,
    ) -> None:
        self.job, self.window, self.panel, self.hang = job, window, panel, hang
        self.typeface, self.scale, self.stacked = typeface, scale, stacked
        fold = hang.closed
        if stacked:
            # Pushed together: straight between the deepest points, which no fold can pass.
            self.each = min(float(window.stack_each), fold.pole_per_gap, 0.98 * float(panel.pitch))
            self.depth = sqrt(float(panel.pitch) ** 2 - self.each**2) / 2
            run, rise = self.each / float(panel.pitch), 2 * self.depth / float(panel.pitch)
            self.gap: tuple[Point, ...] = (
                (0.0, 0.0),
                (self.each / 2, self.depth),
                (self.each, 0.0),
            )
        else:
            self.each, self.depth = fold.pole_per_gap, fold.depth
            run, rise = cos(radians(fold.angle_deg)), sin(radians(fold.angle_deg))
            steps = max(LEAST_STEPS, min(int(fold.pitch / scale / 2), MOST_STEPS))
            self.gap = folds.points(fold, steps)
        self.half_ring = (float(panel.outside) / 2 * run, float(panel.outside) / 2 * rise)
        # The first gap and the last pass in front; both ends turn back to the wall.
        self.at_left = float(panel.leading if panel.side == "right" else panel.return_)
        self.at_right = float(panel.leading if panel.side == "left" else panel.return_)
        pole = window.pole
        self.wall = None if pole.projection is None else float(pole.projection)
        # An odd count turns the end away from the leading edge to the room.
        self.gaps = left_to_right(panel)
        self.turns = tuple(1 if self.gaps[i] == "front" else -1 for i in (0, -1))
        ends = tuple(zip(self.turns, (self.at_left, self.at_right), strict=True))
        to_wall = max(cloth for turn, cloth in ends if turn > 0)
        to_room = max((self.half_ring[1] + cloth for turn, cloth in ends if turn < 0), default=0.0)
        reach = self.half_ring[1] + to_wall if self.wall is None else self.wall
        self.top = max(reach, self.depth)
        self.bottom = max(self.depth, to_room, float(pole.diameter or 0) / 2)
        self.left = max(abs(self.half_ring[0]), 0.0) + 5 * scale
        self.length = (panel.count - 1) * self.each

    def x(self, along: float) -> float:
        """Paper x of a point along the pole."""
        return (along + self.left) / self.scale

    def y(self, off: float) -> float:
        """Paper y of a point off the pole's axis."""
        return 5.0 + (off + self.bottom) / self.scale

    def picture(self) -> Picture:
        width = self.x(self.length + self.left)
        height = self.y(self.top) + max(WALL_SHOWN, LETTER + LETTER_FREE)
        return Picture(width, height, self.scale, tuple(self._marks(width)))

    def _marks(self, width: float) -> Iterator[Mark]:
        yield from self._pole(width)
        yield from self._wall(width)
        curve = list(self._curve())
        for (x0, y0), (x1, y1) in pairwise(curve):
            yield Line(self.x(x0), self.y(y0), self.x(x1), self.y(y1), CLOTH, "cloth")
        dx, dy = self.half_ring
        for i in range(self.panel.count):
            at, tilt = i * self.each, (-dy if i % 2 == 0 else dy) * self.turns[0]
            yield Line(self.x(at - dx), self.y(-tilt), self.x(at + dx), self.y(tilt), RING, "ring")
        yield from self._letters()

    def _curve(self) -> Iterator[Point]:
        """The cloth from panel edge to panel edge, as it lies."""
        dx, dy = self.half_ring
        yield from self._end(-dx, self.turns[0] * dy, self.at_left, outward=-1)[::-1]
        for i, kind in enumerate(self.gaps):
            sign = -1 if kind == "front" else 1
            yield from ((i * self.each + x, sign * y) for x, y in self.gap)
        yield from self._end(self.length + dx, self.turns[1] * dy, self.at_right, outward=1)

    def _end(self, x: float, y: float, cloth: float, *, outward: int) -> list[Point]:
        """The cloth beyond an end eyelet: straight to the wall, and along it if any is left.

        From an end that is turned to the room it hangs into the room.
        """
        if y < 0:
            return [(x, y), (x, y - cloth)]
        room = max((self.wall - y) if self.wall is not None else cloth, 0.0)
        straight = min(cloth, room)
        points = [(x, y), (x, y + straight)]
        if cloth > straight:
            points.append((x + outward * min(cloth - straight, 4.0 * self.scale), y + straight))
        return points

    def _pole(self, width: float) -> Iterator[Mark]:
        diameter = self.window.pole.diameter
        if diameter is not None:
            low, high = self.y(-float(diameter) / 2), self.y(float(diameter) / 2)
            corners = ((0.0, low), (width, low), (width, high), (0.0, high))
            yield Polygon(corners, None, POLE_GREY, "pole")
        yield Line(0.0, self.y(0), width, self.y(0), THIN, "pole-axis")
        for side in (1, -1):
            y = self.y(side * self.depth)
            yield Line(0.0, y, width, y, REACH, "reach")

    def _wall(self, width: float) -> Iterator[Mark]:
        if self.wall is None:
            return
        y = self.y(self.wall)
        yield Line(0.0, y, width, y, WALL, "wall")
        for i in range(int(width / 3)):
            yield Line(i * 3.0, y, i * 3.0 + 2.5, y + 2.5, THIN, "wall-hatch")

    def _letters(self) -> Iterator[Mark]:
        names = dict(zip(("front", "back"), self.job.paper.letters, strict=True))
        size = min(LETTER, self.each / self.scale * 0.55)
        if size < 1.3:
            return
        places = {"front": self.y(-self.depth) - size - 0.4, "back": self._back_letter(size)}
        for i, kind in enumerate(self.gaps):
            y = places[kind]
            if y is None:
                continue
            x = self.x((i + 0.5) * self.each)
            yield drawing.text(
                self.typeface, x, y, names[kind], size, "letter-" + kind, anchor="middle"
            )

    def _back_letter(self, size: float) -> float | None:
        """Where a back fold's letter stands: above it; inside where the wall is too near for that.

        None where a stacked fold is too narrow for it inside.
        """
        above = self.y(self.depth) + LETTER_FREE
        if self.wall is None or above + size <= self.y(self.wall):
            return above
        inside = self.y(min(self.depth, self.wall)) - size - LETTER_FREE
        return None if self.stacked or inside < self.y(0) else inside


def shown_length(window: WindowPlan, panel: PanelPlan, hang: Hang) -> float:
    """Room millimetres a panel is drawn long: where that isn't known square, or twice its band."""
    if window.length is not None:
        return float(window.length)
    return max(closed_width(panel, hang), 2 * float(panel.band_height))


def from_front(window: WindowPlan, panel: PanelPlan, hang: Hang, scale: int) -> Picture:
    """The closed panel from the room: front folds white, back folds grey, rings seen edge on.

    Where the length isn't known the panel is drawn as `shown_length` says.
    """
    each, width = hang.closed.pole_per_gap, closed_width(panel, hang)
    length = shown_length(window, panel, hang)
    left = hang.closed.outside / 2

    def at(x: float, y: float) -> Point:
        return (x + left) / scale, y / scale

    def boxed(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
        return at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)

    marks: list[Mark] = []
    for i, kind in enumerate(left_to_right(panel)):
        if kind == "back":
            box = boxed(i * each, 0, (i + 1) * each, length)
            marks.append(Polygon(box, None, BACK_GREY, "back-fold"))
    span = (panel.count - 1) * each
    marks += [
        Line(*at(i * each, 0), *at(i * each, length), THIN, "fold-edge") for i in range(panel.count)
    ]
    band = length - float(panel.band_height)
    marks.append(Line(*at(0, band), *at(span, band), REACH, "band-foot"))
    across = hang.closed.outside / 2 * abs(cos(radians(hang.closed.angle_deg)))
    high = length - float(panel.above)
    low = high - float(panel.outside)
    wide = min(max(across, 0.25 * scale), left)  # seen, but no wider than an eyelet
    marks += [
        Polygon(boxed(i * each - wide, low, i * each + wide, high), THIN, 1.0, "ring-edge-on")
        for i in range(panel.count)
    ]
    marks.append(Polygon(boxed(0, 0, span, length), CLOTH, None, "panel"))
    return Picture(width / scale, length / scale, scale, tuple(marks))


def flat_strip(job: Job, panel: PanelPlan, typeface: Typeface, scale: int) -> Picture:
    """The heading laid flat, as seen from the face: eyelets, front and back gaps, seams."""
    width, height = float(panel.width) / scale, float(panel.band_height) / scale
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    marks: list[Mark] = [Polygon(corners, CLOTH, None, "band")]
    y = float(panel.band_height - panel.above - panel.outside / 2) / scale

    def x(measure: Fraction) -> float:
        return float(panel.width - measure if panel.side == "left" else measure) / scale

    for diameter, pen, role in ((panel.outside, THIN, "outside"), (panel.hole, CLOTH, "hole")):
        marks += [Circle(x(c), y, float(diameter) / 2 / scale, pen, role) for c in panel.centers]
    names = dict(zip(("front", "back"), job.paper.letters, strict=True))
    size = min(3.4, float(panel.gap) / scale * 0.8)
    if size >= 1.2:
        marks += [
            drawing.text(
                typeface,
                x(before + panel.pitch / 2),
                y - size * 0.36,
                names[kind],
                size,
                "letter-" + kind,
                anchor="middle",
            )
            for before, kind in zip(panel.centers, panel.gaps, strict=False)
        ]
    marks += [Line(x(s), 0.0, x(s), height, SEAM, "seam") for s in panel.seams or ()]
    return Picture(width, height, scale, tuple(marks))


def moved(picture: Picture, dx: float, dy: float) -> Iterator[Mark]:
    """The picture's marks, shifted."""
    return shifted(picture.marks, dx, dy)


def shifted(marks: Iterable[Mark], dx: float, dy: float) -> Iterator[Mark]:
    """All marks, shifted alike."""
    return (drawing.moved(mark, dx, dy) for mark in marks)


def captions(job: Job, panel: PanelPlan, hang: Hang) -> tuple[str, str]:
    """What the closed and the stacked view show, in words: depth, room to the wall, length."""

    def say(length: Fraction) -> str:
        return format_length(length, job.units)

    def free(depth: Fraction) -> str:
        if hang.wall_room is None:
            return "wall not known"
        room = hang.wall_room - depth
        return (
            f"{say(room)} free at the back" if room >= 0 else f"{say(-room)} too deep at the back"
        )

    guess = " (assumed)" if hang.assumed else ""
    span = Fraction(hang.closed.pole_per_gap) * (panel.count - 1)
    closed = (
        f"Closed at {hang.fullness:.2f} times{guess}: {say(span)} of pole, folds "
        f"{say(hang.depth_closed)} deep to either side, {free(hang.depth_closed)}"
    )
    stacked = (
        f"Stacked: {say(panel.stack)} of pole, folds up to {say(hang.depth_stacked)} deep, "
        f"{free(hang.depth_stacked)}"
    )
    return closed, stacked


def window_pictures(
    job: Job, window: Window, planned: WindowPlan, typeface: Typeface, room: float
) -> list[tuple[str, Picture]]:
    """Every picture of a window's first panel with its caption, each no wider than `room` mm.

    The two views from above share one scale.
    """
    panel = planned.panels[0]
    flat = flat_strip(job, panel, typeface, scale_for(panel.width, room))
    strip = ("The heading laid flat, seen from the face", flat)
    hang = panel.hang
    if hang is None:
        return [strip]
    side = {"left": "left panel", "right": "right panel", "single": "panel"}[panel.side]
    wide = closed_width(panel, hang)
    above = scale_for(wide, room - 14)
    front = max(scale_for(wide, room), scale_for(shown_length(planned, panel, hang), MOST_HEIGHT))
    closed, stacked = captions(job, panel, hang)
    unknown = ", its length not known and not to scale" if planned.length is None else ""
    return [
        (
            f"The {side} from above, wall at the top. {closed}",
            from_above(job, window, panel, hang, typeface, above),
        ),
        (stacked, from_above(job, window, panel, hang, typeface, above, stacked=True)),
        (f"The {side} from the front, closed{unknown}", from_front(planned, panel, hang, front)),
        strip,
    ]
