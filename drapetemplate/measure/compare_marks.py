"""What a page really draws, held mark by mark against the marks it should have.

Frame: `drawn_marks`'s. A circle is any closed run of Bezier arcs that stays on it all the way
round.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, inf, pi, radians, sin
from operator import sub
from typing import TypeAlias

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Polygon, Text
from drapetemplate.measure.drawn_marks import DrawnMark, Glyph, Path, Point
from drapetemplate.wording import counted

TOLERANCE = 0.01
"""How far a mark may be off, in mm."""
NEAR = 25.0
MOST_TOLD = 4
"""So many of each kind of fault are told one by one."""
MOST_PAIRS = 250_000
"""Marks that aren't in their places times marks that are drawn elsewhere, on one page."""
GREY_STEP = 0.005
# How much of each of its four points a Bezier arc has at eighths of its way. How far it is from a
# centre, squared, goes by the sixth power: it could be right at five places and far off between.
ALONG = tuple(
    ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    for t in (eighth / 8 for eighth in range(1, 9))
)


ExpectedMark: TypeAlias = Line | Circle | Arc | Polygon | Glyph
"""A mark of the layout, its text letter by letter."""


@dataclass(frozen=True, slots=True)
class PageComparison:
    """How a page compares: `worst` mm and where; `faults` in words; `matched` of its `marks`.

    Each character counts as a mark. `pairs` is how many were tried to find what has moved.
    """

    marks: int
    matched: int
    worst: float
    where: str
    faults: tuple[str, ...] = ()
    pairs: int = 0


def beyond_margin(
    drawn: Sequence[DrawnMark], width: float, height: float, margin: float
) -> list[DrawnMark]:
    """What reaches nearer than `margin` to the edge of a page, pens' width and letters apart."""
    near = margin - TOLERANCE
    beyond = []
    for mark in drawn:
        points = ((mark.x, mark.y),) if isinstance(mark, Glyph) else mark.ends
        if any(not (near <= x <= width - near and near <= y <= height - near) for x, y in points):
            beyond.append(mark)
    return beyond


def expected_marks(marks: Sequence[Mark], typeface: Typeface) -> Iterator[ExpectedMark]:
    """A page's marks in, everything that should be drawn out, in order: text as its characters."""
    for mark in marks:
        if isinstance(mark, Text):
            yield from _glyphs(mark, typeface)
        else:
            yield mark


def _glyphs(mark: Text, typeface: Typeface) -> Iterator[Glyph]:
    angle = radians(mark.angle)
    c, s = cos(angle), sin(angle)
    run = -{"start": 0.0, "middle": mark.width / 2, "end": mark.width}[mark.anchor]
    for char in mark.text:
        advance = typeface.width(char, mark.size, bold=mark.bold)
        x, y = float(mark.x) + run * c, float(mark.y) + run * s
        yield Glyph(char, x, y, advance, (c, s, -s, c), mark.bold, 0.0)
        run += advance


def compare(
    expected: Sequence[ExpectedMark], drawn: Sequence[DrawnMark], most_pairs: int = MOST_PAIRS
) -> PageComparison:
    """What should be drawn against what is: in order where both agree, else nearest to nearest.

    What has moved is looked for in at most so many pairs; where there are more, it is only counted.
    """
    pairs = list(zip(expected, drawn, strict=False))
    if len(expected) == len(drawn) and all(alike(mark, other) for mark, other in pairs):
        errors = [off(mark, other) for mark, other in pairs]
        worst = max(errors, default=0.0)
        where = expected_words(expected[errors.index(worst)]) if errors else ""
        if worst <= TOLERANCE:
            return PageComparison(len(expected), len(expected), worst, where)
        moved = _whole_page_moved(pairs)
        if moved:
            return PageComparison(len(expected), 0, worst, where, (moved,))
    return _nearest_to_nearest(expected, drawn, most_pairs)


def alike(expected: ExpectedMark, drawn: DrawnMark) -> bool:
    """Whether a drawn mark is of the kind it should be, in the same ink, wherever it stands."""
    if isinstance(expected, Glyph):
        return (
            isinstance(drawn, Glyph)
            and expected.text == drawn.text
            and expected.bold == drawn.bold
            and abs(expected.grey - drawn.grey) <= GREY_STEP
        )
    if isinstance(drawn, Glyph) or not _same_ink(expected, drawn):
        return False
    shape = drawn.shape
    match expected:
        case Line():
            return shape in {"ml", "mlh"}
        case Polygon():
            return shape == "m" + "l" * (len(expected.points) - 1) + "h"
        case Circle():
            return shape == "m" + "c" * (len(shape) - 2) + "h" and "c" in shape
        case Arc():
            return shape == "m" + "c" * (len(shape) - 1) and "c" in shape


def off(expected: ExpectedMark, drawn: DrawnMark) -> float:
    """How far a drawn mark, alike, is from where it should be, in mm."""
    if isinstance(expected, Glyph) and isinstance(drawn, Glyph):
        turned = 0.0
        if expected.turn != drawn.turn:
            turned = max(map(abs, map(sub, expected.turn, drawn.turn)))
        # What a letter is wide or turned wrongly shows at its far end.
        return (
            hypot(expected.x - drawn.x, expected.y - drawn.y)
            + abs(expected.advance - drawn.advance)
            + turned * max(expected.advance, drawn.advance)
        )
    if isinstance(expected, Glyph) or isinstance(drawn, Glyph):
        return inf
    match expected:
        case Line():
            ends = (
                (float(expected.x1), float(expected.y1)),
                (float(expected.x2), float(expected.y2)),
            )
            return _farthest(ends, drawn.ends)
        case Polygon():
            return _farthest([(float(x), float(y)) for x, y in expected.points], drawn.ends)
        case Circle():
            return _off_circle(expected, 0.0, 360.0, drawn)
        case Arc():
            return _off_circle(expected, expected.start, expected.sweep, drawn)


def _same_ink(expected: Line | Circle | Arc | Polygon, drawn: Path) -> bool:
    fill = expected.fill if isinstance(expected, Polygon) else None
    if (fill is None) != (drawn.fill is None) or (expected.pen is None) != (drawn.pen is None):
        return False
    if fill is not None and drawn.fill is not None and abs(fill - drawn.fill) > GREY_STEP:
        return False
    if expected.pen is None or drawn.pen is None:
        return True
    return (
        abs(expected.pen.width - drawn.pen.width) <= TOLERANCE
        and abs(expected.pen.grey - drawn.pen.grey) <= GREY_STEP
        and len(expected.pen.dash) == len(drawn.pen.dash)
        and all(
            # Dashes are stretched along their line by a printer's factors, at most 3 %.
            abs(a - b) <= TOLERANCE + 0.05 * a
            for a, b in zip(expected.pen.dash, drawn.pen.dash, strict=True)
        )
    )


def _farthest(expected: Sequence[Point], drawn: Sequence[Point]) -> float:
    return max([hypot(a - c, b - d) for (a, b), (c, d) in zip(expected, drawn, strict=True)])


def _off_circle(circle: Circle | Arc, start: float, sweep: float, drawn: Path) -> float:
    """How far a run of Bezier arcs strays from a circle, or from the part of it asked for."""
    (_, (last,)), *rest = drawn.steps
    x, y, r = float(circle.x), float(circle.y), float(circle.r)
    begun = radians(start)
    worst = hypot(last[0] - x - r * cos(begun), last[1] - y - r * sin(begun))
    turned = 0.0
    for operator, points in rest:
        if operator == "h":
            continue
        here = last[0] - x, last[1] - y
        for weights in ALONG:
            px, py = _bezier(last, points, weights)
            next_one = px - x, py - y
            # Neither beside the circle, nor there and back along it beyond an end.
            back = (here[1] * next_one[0] - here[0] * next_one[1]) / r
            worst = max(worst, abs(hypot(*next_one) - r), back)
            here = next_one
        a, b = points[2]
        step = atan2(b - y, a - x) - atan2(last[1] - y, last[0] - x)
        turned += (step + pi) % (2 * pi) - pi
        last = points[2]
    end = radians(start + sweep)
    worst = max(worst, hypot(last[0] - x - r * cos(end), last[1] - y - r * sin(end)))
    return max(worst, r * abs(turned - radians(sweep)))


def _bezier(start: Point, points: Sequence[Point], weights: tuple[float, ...]) -> Point:
    (x1, y1), (x2, y2), (x3, y3) = points
    a, b, c, d = weights
    return a * start[0] + b * x1 + c * x2 + d * x3, a * start[1] + b * y1 + c * y2 + d * y3


def expected_words(mark: ExpectedMark) -> str:
    """A mark of the layout for people: what it stands for and where."""
    x, y = _place(mark)
    what = f"letter “{mark.text}”" if isinstance(mark, Glyph) else mark.role.replace("-", " ")
    return f"{what} at {x:.1f}, {y:.1f} mm"


def _begins(mark: ExpectedMark | DrawnMark) -> Point:
    """Where a mark begins, which is told of each alike by the layout and by what is drawn."""
    match mark:
        case Path():
            return mark.ends[0]
        case Circle():
            return float(mark.x + mark.r), float(mark.y)
        case Arc():
            x, y, r, start = float(mark.x), float(mark.y), float(mark.r), radians(mark.start)
            return x + r * cos(start), y + r * sin(start)
        case Line():
            return float(mark.x1), float(mark.y1)
        case Polygon():
            return float(mark.points[0][0]), float(mark.points[0][1])
        case Glyph():
            return mark.x, mark.y


def _place(mark: ExpectedMark | DrawnMark) -> Point:
    """Where a mark is, for people: a circle's centre, the middle of other paths, a letter's origin.

    A drawn arc doesn't tell its circle's centre: its place is the middle of its points.
    """
    match mark:
        case Glyph() | Circle() | Arc():
            return float(mark.x), float(mark.y)
        case Line():
            points: Sequence[Point] = (
                (float(mark.x1), float(mark.y1)),
                (float(mark.x2), float(mark.y2)),
            )
        case Polygon():
            points = [(float(x), float(y)) for x, y in mark.points]
        case Path():
            points = mark.ends
            if "c" in mark.shape and mark.shape.endswith("h"):
                points = points[1:]  # a circle ends where it began
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _whole_page_moved(alike: Sequence[tuple[ExpectedMark, DrawnMark]]) -> str:
    """What was done to the whole page, where one scale and one shift explain all; else ""."""
    places = [(_begins(mark), _begins(other)) for mark, other in alike]
    # Where a line's other end goes shows in its middle; an arc's path tells no middle.
    places += [(_place(mark), _place(other)) for mark, other in alike if not isinstance(mark, Arc)]
    fits = [_fit([(p[axis], q[axis]) for p, q in places]) for axis in (0, 1)]
    if any(left > TOLERANCE for _, _, left in fits):
        return ""
    (across, right, _), (down, up, _) = fits
    if across < 0 and down < 0:
        return "everything on it is upside down"
    moves = []
    if max(abs(across - 1), abs(down - 1)) > 1e-5:
        text = f"everything on it is scaled: ×{across:.4f} across, ×{down:.4f} down"
        moves.append(f"{text} (100 mm would print as {100 * across:.2f} by {100 * down:.2f} mm)")
    if max(abs(right), abs(up)) > TOLERANCE:
        # Adding 0 makes a negative nothing plain.
        text = f"{round(right, 2) + 0.0:+.2f} mm across and {round(up, 2) + 0.0:+.2f} mm up"
        moves.append(
            f"and shifted by {text}" if moves else f"everything on it is shifted by {text}"
        )
    return " ".join(moves)


def _fit(pairs: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """Scale, shift and what is left over, of the straight line that fits (should, is) best."""
    n = len(pairs)
    mean_a, mean_b = sum(a for a, _ in pairs) / n, sum(b for _, b in pairs) / n
    spread = sum((a - mean_a) ** 2 for a, _ in pairs)
    scale = sum((a - mean_a) * (b - mean_b) for a, b in pairs) / spread if spread else 1.0
    shift = mean_b - scale * mean_a
    return scale, shift, max(abs(scale * a + shift - b) for a, b in pairs)


def _nearest_to_nearest(
    expected: Sequence[ExpectedMark], drawn: Sequence[DrawnMark], most_pairs: int
) -> PageComparison:
    """Each expected mark with the drawn one that is it, wherever it comes; then what is left."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for n, other in enumerate(drawn):
        x, y = _begins(other)
        cells[int(x // 1), int(y // 1)].append(n)
    used: set[int] = set()
    unmatched: list[ExpectedMark] = []
    worst, where = 0.0, ""
    for mark in expected:
        x, y = _begins(mark)
        near = (
            n
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for n in cells.get((int(x // 1) + i, int(y // 1) + j), ())
            if n not in used and alike(mark, drawn[n])
        )
        error, n = min(((off(mark, drawn[n]), n) for n in near), default=(inf, -1))
        if error > TOLERANCE:
            unmatched.append(mark)
            continue
        used.add(n)
        if error > worst:
            worst, where = error, expected_words(mark)
    extra = [other for n, other in enumerate(drawn) if n not in used]
    matched = len(expected) - len(unmatched)
    pairs = len(unmatched) * len(extra)
    tried = pairs if pairs <= most_pairs else 0
    faults, moved = _faults(unmatched, extra, few=pairs <= most_pairs)
    if moved:
        worst, where = max(moved)
    return PageComparison(len(expected), matched, worst, where, tuple(faults), tried)


def _faults(
    unmatched: Sequence[ExpectedMark], extra: Sequence[DrawnMark], *, few: bool
) -> tuple[list[str], list[tuple[float, str]]]:
    """Words for what wasn't found and what shouldn't be there; and how far what moved has moved.

    Where they aren't `few`, they are only counted.
    """
    moved: list[tuple[float, str]] = []
    spare, missing = list(extra), []
    for mark in sorted(unmatched, key=_rank) if few else ():
        near = 1.0 if isinstance(mark, Glyph) else NEAR
        candidates = ((off(mark, other), n) for n, other in enumerate(spare) if alike(mark, other))
        error, n = min(candidates, default=(inf, -1))
        if error <= near:
            del spare[n]
            moved.append((error, expected_words(mark)))
        else:
            missing.append(mark)
    faults = [f"{name} is off by {error:.2f} mm" for error, name in moved[:MOST_TOLD]]
    faults += [
        f"{expected_words(mark)} is missing, or drawn otherwise" for mark in missing[:MOST_TOLD]
    ]
    if few:
        faults += [
            f"{drawn_words(other)} that doesn't belong there"
            for other in sorted(spare, key=_rank)[:MOST_TOLD]
        ]
    if not few or max(len(moved), len(missing), len(spare)) > MOST_TOLD:
        faults.append(
            f"in all {counted(len(unmatched), 'mark')} not where they should be, "
            f"{counted(len(extra), 'other')} drawn"
        )
    return faults, moved


def _rank(mark: ExpectedMark | DrawnMark) -> int:
    """Holes and lines before letters, those before spaces: only the first few are told."""
    return (1 + mark.text.isspace()) if isinstance(mark, Glyph) else 0


def drawn_words(mark: DrawnMark) -> str:
    """A drawn mark in words, with its place."""
    x, y = _place(mark)
    if isinstance(mark, Glyph):
        what = f"a letter “{mark.text}”"
    elif mark.pen is None:
        what = "an area of ink"
    else:
        what = "a line" if mark.shape in {"ml", "mlh"} else "a curve or outline"
    return f"{what} at {x:.1f}, {y:.1f} mm"
