"""A panel on its pole, from above: the wall at the top, the room below, closed or stacked."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from fractions import Fraction
from itertools import accumulate, pairwise
from math import cos, dist, radians, sin, sqrt

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job, Window
from drapetemplate.planning import folds
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import PanelPlan
from drapetemplate.ticket.flow import SMALL
from drapetemplate.ticket.panel_pictures import REACH, left_to_right
from drapetemplate.ticket.picture import CLOTH, THIN, Picture, Point

RING = Pen(0.9)
WALL = Pen(0.6)
POLE_GREY = 0.82
LEAST_STEPS, MOST_STEPS = 12, 48  # half a gap's, so that a large fold looks round
SCREEN_STEPS = 6
"""As few as a page in a browser needs, which draws a picture anew at each key."""
FEWEST_STEPS = 2
"""Of a fold so small there that it has no shape, of hundreds side by side."""
STEPS_PER_MM = 4
LETTER = SMALL  # mm, of the gaps' letters
LETTER_BESIDE = 0.5  # mm between one and the next
LETTER_FREE = 0.6  # mm between a fold and its letter
WALL_SHOWN = 3.0  # mm of paper above the wall line, for its hatching
SEAM_DOT = 0.7


def from_above(
    job: Job,
    window: Window,
    panel: PanelPlan,
    hang: Hang,
    typeface: Typeface,
    scale: int,
    *,
    stacked: bool = False,
    least_steps: int = LEAST_STEPS,
) -> Picture:
    """The panel on its pole from above: closed, or `stacked` with its folds as deep as can be.

    Half a gap is drawn in so many straight steps at the least.
    """
    view = _ViewFromAbove(
        job, window, panel, hang, typeface, scale, stacked=stacked, least_steps=least_steps
    )
    return view.picture()


def pushed_together(
    window: Window, panel: PanelPlan, hang: Hang
) -> tuple[float, tuple[Point, ...]]:
    """The pole that a gap of a stacked panel takes, and its cloth from ring centre to ring centre.

    Straight between the deepest points, which no fold can pass: x along the pole, y off its axis.
    """
    pitch = float(panel.pitch)
    pole_per_gap = min(float(window.stack_each), hang.closed.pole_per_gap, 0.98 * pitch)
    depth = sqrt(pitch**2 - pole_per_gap**2) / 2
    return pole_per_gap, ((0.0, 0.0), (pole_per_gap / 2, depth), (pole_per_gap, 0.0))


class _ViewFromAbove:
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
        least_steps: int,
    ) -> None:
        self.job, self.window, self.panel, self.hang = job, window, panel, hang
        self.typeface, self.scale, self.stacked = typeface, scale, stacked
        fold = hang.closed
        if stacked:
            self.pole_per_gap, self.gap = pushed_together(window, panel, hang)
            self.depth = self.gap[1][1]
            run, rise = self.pole_per_gap / float(panel.pitch), 2 * self.depth / float(panel.pitch)
        else:
            self.pole_per_gap, self.depth = fold.pole_per_gap, fold.depth
            run, rise = cos(radians(fold.angle_deg)), sin(radians(fold.angle_deg))
            if least_steps == SCREEN_STEPS:
                seen = int(STEPS_PER_MM * fold.pitch / scale)
                least_steps = min(least_steps, max(FEWEST_STEPS, seen))
            steps = max(least_steps, min(int(fold.pitch / scale / 2), MOST_STEPS))
            self.gap = folds.points(fold, steps)
        self.half_ring = (float(panel.outside) / 2 * run, float(panel.outside) / 2 * rise)
        # The first gap and the last pass in front; both ends turn back to the wall.
        lengths = (float(panel.leading), float(panel.return_))
        self.at_left, self.at_right = lengths[::-1] if panel.leading_at_right else lengths
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
        self.left = abs(self.half_ring[0]) + 5 * scale
        self.length = (panel.count - 1) * self.pole_per_gap

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
            yield Line(self.x(x0), self.y(y0), self.x(x1), self.y(y1), CLOTH, Role.CLOTH)
        dx, dy = self.half_ring
        for i in range(self.panel.count):
            at, tilt = i * self.pole_per_gap, (-dy if i % 2 == 0 else dy) * self.turns[0]
            yield Line(
                self.x(at - dx), self.y(-tilt), self.x(at + dx), self.y(tilt), RING, Role.RING
            )
        for seam in self.panel.seams or ():
            yield from self._seam(seam)
        yield from self._letters()

    def _seam(self, seam: Fraction) -> Iterator[Mark]:
        """A dot on the cloth where a seam is, as far along the fold as it lies flat in its gap."""
        centers, pitch = self.panel.centers, float(self.panel.pitch)
        n = bisect_right(centers, seam) - 1
        if not 0 <= n < len(self.gaps):
            return
        along = float(seam - centers[n])
        if self.panel.leading_at_right:
            n, along = len(self.gaps) - 1 - n, pitch - along
        reach = [*accumulate((dist(a, b) for a, b in pairwise(self.gap)), initial=0.0)]
        share = along / pitch * reach[-1]
        i = min(bisect_right(reach, share), len(reach) - 1)
        (x0, y0), (x1, y1) = self.gap[i - 1 : i + 1]
        part = (share - reach[i - 1]) / (reach[i] - reach[i - 1])
        sign = -1 if self.gaps[n] == "front" else 1
        x, y = n * self.pole_per_gap + x0 + part * (x1 - x0), sign * (y0 + part * (y1 - y0))
        yield Circle(self.x(x), self.y(y), SEAM_DOT, CLOTH, Role.SEAM)

    def _curve(self) -> Iterator[Point]:
        """The cloth from panel edge to panel edge, as it lies."""
        dx, dy = self.half_ring
        yield from self._end(-dx, self.turns[0] * dy, self.at_left, outward=-1)[::-1]
        for i, kind in enumerate(self.gaps):
            sign = -1 if kind == "front" else 1
            yield from ((i * self.pole_per_gap + x, sign * y) for x, y in self.gap)
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
            yield Polygon(corners, None, POLE_GREY, Role.POLE)
        yield Line(0.0, self.y(0), width, self.y(0), THIN, Role.POLE_AXIS)
        for side in (1, -1):
            y = self.y(side * self.depth)
            yield Line(0.0, y, width, y, REACH, Role.REACH)

    def _wall(self, width: float) -> Iterator[Mark]:
        if self.wall is None:
            return
        y = self.y(self.wall)
        yield Line(0.0, y, width, y, WALL, Role.WALL)
        for i in range(int(width / 3)):
            yield Line(i * 3.0, y, i * 3.0 + 2.5, y + 2.5, THIN, Role.WALL_HATCH)

    def _letters(self) -> Iterator[Mark]:
        names = dict(zip(("front", "back"), self.job.paper.letters, strict=True))
        size = LETTER
        widest = max(self.typeface.width(name, size) for name in names.values())
        if widest + LETTER_BESIDE > self.pole_per_gap / self.scale:
            return  # too many to be read
        places = {"front": self.y(-self.depth) - size - 0.4, "back": self._back_letter(size)}
        for i, kind in enumerate(self.gaps):
            y = places[kind]
            if y is None:
                continue
            x = self.x((i + 0.5) * self.pole_per_gap)
            yield drawing.text(
                self.typeface, x, y, names[kind], size, LETTERS[kind], anchor="middle"
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
