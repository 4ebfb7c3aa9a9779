"""A panel pushed along its pole: the fold at every position from as flat as can be to stacked.

Each is solved as the plan's own closed fold is, `planning/folds.py`; the page steps through them
and works nothing out. The frame of all is the room's: millimetres, x along the pole from the centre
of the end eyelet that stays where it is, y away from the wall from the pole's axis. That eyelet is
at the left, as on a left panel; a right panel's picture is turned over.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html import escape
from itertools import pairwise
from math import cos, radians, sin
from typing import Any, Literal

from drapetemplate.desk.reading import read_window
from drapetemplate.job.model import Window
from drapetemplate.planning import folds
from drapetemplate.planning.folds import Fold
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import PanelPlan
from drapetemplate.ticket.from_above import pushed_together
from drapetemplate.ticket.panel_pictures import left_to_right
from drapetemplate.ticket.panel_views import covered
from drapetemplate.ticket.picture import Point
from drapetemplate.wording import Wording, times

Name = Literal["", "flattest", "planned", "touching", "stacked"]

MOST, FEWEST = 80, 16
"""Positions of a panel of up to `MANY` gaps, and of one of very many, whose paths are long."""
MANY = 60
FINEST, COARSEST = 8, 2
"""Steps that half a gap is drawn in: so few where a panel has many that a gap is a few pixels."""
ALL_STEPS = 200
ALONG_WALL = 60.0  # mm that is drawn of cloth which lies along the wall
MARGIN = 30.0  # mm of room round all that is drawn
_UNKNOWN = "how far the rings turn isn't known"
HATCH = 40.0  # mm along the wall from one hatch to the next


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """One position: what it is called, what it takes, and how one gap of cloth and its ring lie.

    `pole` is from the first eyelet's centre to the last, `depth` how far folds stand off the pole's
    axis. `fold` is None stacked, where cloth is pushed together past what an elastica says.
    """

    name: Name
    pole: Fraction
    depth: Fraction
    fold: Fold | None


def positions(answers: Mapping[str, str], window: int) -> dict[str, Any]:
    """Return the slider's table of one window of a page's answers, ready for a JSON writer.

    Empty while something speaks against the answers, and for panels on hooks.
    """
    read = read_window(answers, window, in_full=False)
    empty: dict[str, Any] = {"panels": [], "positions": [], "planned": None, "stacked": None}
    if read.job is None or read.plan is None:
        return empty
    (planned,) = read.plan.windows
    panel = planned.panels[0]
    hang = panel.hang
    if hang is None:
        return empty
    table = table_of(panel, hang)
    drawing = _Drawing(planned.window, panel, hang, longest=table[0].pole)
    say = Wording(read.job.units)
    names = [position.name for position in table]
    at = names.index("planned")
    paths = [drawing.paths(position) for position in table]
    return {
        "panels": [
            {"side": each.side, "svg": drawing.svg(each, *paths[at])} for each in planned.panels
        ],
        "positions": [
            {
                "name": position.name,
                "figures": _figures(hang, position),
                "words": _words(hang, position, say),
                "path": cloth,
                "rings": rings,
            }
            for position, (cloth, rings) in zip(table, paths, strict=True)
        ],
        "planned": at,
        "stacked": names.index("stacked"),
    }


def table_of(panel: PanelPlan, hang: Hang) -> list[Position]:
    """Return every position of a panel, from the longest on its pole to the shortest.

    From as flat as its rings let it be, or flat where that isn't known, to neighbouring folds
    touching or to stacked, whichever takes more of the pole, in even steps of the rings' angle, and
    so nearly even ones of pole; and stacked at the end. The planned closed panel is among them,
    even where the rings won't let it be so flat.
    """
    gaps, pitch, outside = panel.count - 1, float(panel.pitch), float(panel.outside)
    flattest = 1.0 if hang.least_fullness is None else hang.least_fullness
    touching = folds.largest_fullness(pitch, outside)
    fullest = min(touching, max(flattest, pitch * gaps / float(panel.stack)))
    named: list[tuple[Name, Fold]] = [
        ("flattest", folds.solve(pitch, outside, flattest)),
        ("planned", hang.closed),
    ]
    last = folds.solve(pitch, outside, fullest)
    if fullest == touching:
        named.append(("touching", last))
    first, turn = named[0][1].angle_deg, last.angle_deg - named[0][1].angle_deg
    steps = _how_many(gaps) - len(named)
    even = (first + turn * n / steps for n in range(1, steps))
    taken = [fold.angle_deg for _, fold in named]
    angles = [each for each in even if all(abs(each - at) > turn / steps / 2 for at in taken)]
    between: list[tuple[Name, Fold]] = [
        ("", fold) for fold in folds.at_angles(pitch, outside, angles)
    ]
    on_pole = (
        Position(
            name=name,
            pole=covered(panel, hang) if name == "planned" else Fraction(gaps * fold.pole_per_gap),
            depth=Fraction(fold.depth),
            fold=fold,
        )
        for name, fold in (*named, *between)
    )
    stacked = Position(name="stacked", pole=panel.stack, depth=hang.depth_stacked, fold=None)
    kept = (each for each in on_pole if each.name == "planned" or each.pole > panel.stack)
    return [*sorted(kept, key=lambda each: -each.pole), stacked]


def _how_many(gaps: int) -> int:
    """How many positions a panel of so many gaps has."""
    return min(MOST, max(FEWEST, MOST * MANY // gaps))


def _figures(hang: Hang, position: Position) -> dict[str, float | None]:
    free = hang.free(position.depth)
    fold = position.fold
    return {
        "pole_taken_mm": float(position.pole),
        "depth_mm": float(position.depth),
        "free_mm": None if free is None else float(free),
        "ring_angle_deg": None if fold is None else fold.angle_deg,
        "fullness": None if fold is None else fold.fullness,
    }


def _words(hang: Hang, position: Position, say: Wording) -> dict[str, str]:
    free, fold = hang.free(position.depth), position.fold
    deep = f"{'' if fold else 'up to '}{say.deep(position.depth)}"
    room = "wall not known"
    if free is not None:
        room = say.free(free, "{}", "none, {} past it") + f", {say(hang.clearance)} asked for"
    return {
        "state": _state(hang, position),
        "pole": say(position.pole),
        "behind": deep,
        "before": deep,
        "free": room,
        "angle": "pushed together" if fold is None else _angle(hang, fold),
        "fullness": "pushed together" if fold is None else times(fold.fullness),
    }


def _state(hang: Hang, position: Position) -> str:
    """What a position is, in words; "" for one on the way."""
    match position.name:
        case "planned":
            flat = hang.least_fullness is not None and hang.fullness < hang.least_fullness
            beyond = ", flatter than the rings turn" if flat else ""
            return f"closed, at {times(hang.fullness)}{', assumed' if hang.assumed else ''}{beyond}"
        case "flattest":
            unknown = hang.least_fullness is None
            return f"flat: {_UNKNOWN}" if unknown else "as flat as the rings turn"
        case "touching":
            return "neighbouring folds touch"
        case "stacked":
            return "stacked"
        case _:
            return ""


def _angle(hang: Hang, fold: Fold) -> str:
    """The rings' angle to the pole, and whether they hang free at it."""
    lifted = hang.free_turn is not None and 90 - fold.angle_deg > hang.free_turn + 1e-9
    return f"{fold.angle_deg:.0f}° to the pole{', lifted' if lifted else ''}"


class _Drawing:
    """A panel's picture from above in one frame: what stays, and the paths of each position."""

    def __init__(self, window: Window, panel: PanelPlan, hang: Hang, *, longest: Fraction) -> None:
        self.window, self.panel, self.hang, self.longest = window, panel, hang, float(longest)
        self.gaps = left_to_right(panel)
        lengths = (float(panel.return_), float(panel.leading))
        if panel.side == "single":
            lengths = lengths[::-1]
        elif not panel.leading_at_right:
            self.gaps = self.gaps[::-1]
        self.ends = lengths
        projection = window.pole.projection
        self.wall = None if projection is None else float(projection)
        self.steps = min(FINEST, max(COARSEST, ALL_STEPS // len(self.gaps)))
        to_wall = float(panel.outside) / 2 + max(lengths) if self.wall is None else self.wall
        deepest = float(hang.depth_stacked)
        self.top = max(to_wall, deepest) + MARGIN
        odd = panel.count % 2
        self.bottom = max(deepest, odd * (float(panel.outside) / 2 + max(lengths))) + MARGIN
        self.beside = float(panel.outside) / 2 + ALONG_WALL + MARGIN

    def paths(self, position: Position) -> tuple[str, str]:
        """The cloth from edge to edge and its rings, as SVG paths."""
        fold = position.fold
        if fold is None:
            pole_per_gap, gap = pushed_together(self.window, self.panel, self.hang)
            run = pole_per_gap / float(self.panel.pitch)
            rise = (1 - run * run) ** 0.5
        else:
            pole_per_gap, gap = fold.pole_per_gap, folds.points(fold, self.steps)
            run, rise = cos(radians(fold.angle_deg)), sin(radians(fold.angle_deg))
        half = float(self.panel.outside) / 2
        dx, dy = half * run, half * rise
        # The first gap passes in front or behind, and so its ring is turned; y is away from it.
        first, last = (1 if self.gaps[at] == "front" else -1 for at in (0, -1))
        length = pole_per_gap * len(self.gaps)
        start = self._end(-dx, -first * dy, self.ends[0], -1)[::-1]
        end = self._end(length + dx, -last * dy, self.ends[1], 1)
        there = {"front": _steps(gap, 1), "back": _steps(gap, -1)}
        cloth = (
            f"M{_point(start[0])}{_lines([*start[1:], (0.0, 0.0)])}"
            f"{''.join(there[kind] for kind in self.gaps)}{_lines(end)}"
        )
        return cloth, self._rings(pole_per_gap, dx, first * dy)

    def _rings(self, pole_per_gap: float, dx: float, dy: float) -> str:
        """Each ring as a stroke; they lean to and fro, so each begins as high as the last ends."""
        across = round(2 * dx, 1)
        to_next = f"m{pole_per_gap - across:.4f} 0"
        leaning = [f"l{across:.1f} {2 * up:.1f}" for up in (dy, -dy)]
        strokes = (leaning[i % 2] for i in range(self.panel.count))
        return f"M{_point((-across / 2, -dy))}{to_next.join(strokes)}"

    def _end(self, x: float, y: float, cloth: float, outward: int) -> list[Point]:
        """The cloth beyond an end eyelet: to the wall and on along it; to the room if turned so."""
        if y > 0:
            return [(x, y), (x, y + cloth)]
        room = cloth if self.wall is None else max(self.wall + y, 0.0)
        straight = min(cloth, room)
        points = [(x, y), (x, y - straight)]
        if cloth > straight:
            points.append((x + outward * min(cloth - straight, ALONG_WALL), y - straight))
        return points

    def svg(self, panel: PanelPlan, cloth: str, rings: str) -> str:
        """A panel's whole picture at one position, whose two paths have the classes cloth, ring."""
        width = self.longest + 2 * self.beside
        left, height = -self.beside, self.top + self.bottom
        turned = panel.side == "right"
        side = {"left": "left panel", "right": "right panel", "single": "panel"}[panel.side]
        words = escape(f"The {side} on its pole from above, wall at the top", quote=False)
        over = f' transform="translate({self.longest:.1f} 0) scale(-1 1)"' if turned else ""
        stroke = (
            'fill="none" stroke="currentColor" stroke-linejoin="round" '
            'vector-effect="non-scaling-stroke"'
        )
        box = f"{left:.1f} {-self.top:.1f} {width:.1f} {height:.1f}"
        return "\n".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img">',
                f"<title>{words}</title>",
                *self._what_stays(left, width, stroke),
                f"<g{over}>",
                f'<path class="cloth" {stroke} stroke-width="1.5" d="{cloth}"/>',
                f'<path class="ring" {stroke} stroke-width="4" d="{rings}"/>',
                "</g>",
                "</svg>",
            ]
        )

    def _what_stays(self, left: float, width: float, stroke: str) -> Iterator[str]:
        """Pole, its axis and the wall, as far as they are known."""
        diameter = self.window.pole.diameter
        if diameter is not None:
            yield (
                f'<rect class="pole" x="{left:.1f}" y="{-float(diameter) / 2:.1f}" '
                f'width="{width:.1f}" height="{float(diameter):.1f}" '
                'fill="currentColor" fill-opacity="0.18"/>'
            )
        yield (
            f'<path class="pole-axis" {stroke} stroke-width="0.5" d="M{left:.1f} 0h{width:.1f}"/>'
        )
        if self.wall is not None:
            y = f"{-self.wall:.1f}"
            along = f"M{left:.1f} {y}h{width:.1f}"
            yield f'<path class="wall" {stroke} stroke-width="2.5" d="{along}"/>'
            hatches = "".join(
                f"M{left + n * HATCH:.1f} {y}l{MARGIN:g} -{MARGIN:g}"
                for n in range(int(width / HATCH))
            )
            yield f'<path class="wall-hatch" {stroke} stroke-width="0.5" d="{hatches}"/>'


def _steps(gap: Sequence[Point], side: int) -> str:
    """A gap's points as steps from each to the next, in front (1) or behind (-1).

    The last ends just where the gap does, so that no rounding adds up along the panel.
    """
    rounded = [(round(x, 1), round(side * y, 1)) for x, y in gap]
    steps = "".join(
        f"l{x1 - x0:.1f} {y1 - y0:.1f}" for (x0, y0), (x1, y1) in pairwise(rounded[:-1])
    )
    (x, y), end = rounded[-2], gap[-1][0]
    return f"{steps}l{end - x:.4f} {-y:.1f}"


def _lines(points: Sequence[Point]) -> str:
    return "".join(f"L{_point(point)}" for point in points)


def _point(point: Point) -> str:
    """A tenth of a millimetre in the room is far under a pixel of any page."""
    return f"{point[0]:.1f} {point[1]:.1f}"
