"""What a page really draws, held mark by mark against the marks it should have.

Frame: millimetres from the paper's lower left corner, divided by the printer's factors, so that
both sides are the template's own lengths. A drawn thing is a painted path or a glyph, as a reader
of PDFs finds it; nothing here knows how the marks were written. A circle is any closed run of
Bezier arcs that stays on it all the way round.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, inf, pi, radians, sin
from typing import TypeAlias

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Pen, Polygon, Text

TOLERANCE = 0.01
"""How far a mark may be off, in mm."""
NEAR = 25.0
FARTHEST = 1e6
"""Millimetres: no page, and nothing on it, is so large."""
MOST_TOLD = 4
"""So many of each kind of fault are told one by one."""
GREY_STEP = 0.005
Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """A painted path: each step an operator of m, l, c, h and its points; greys None if unused."""

    steps: tuple[tuple[str, tuple[Point, ...]], ...]
    pen: Pen | None
    fill: float | None

    @property
    def shape(self) -> str:
        """Its operators in a row."""
        return "".join(op for op, _ in self.steps)

    @property
    def ends(self) -> tuple[Point, ...]:
        """Where each step but a closing one ends."""
        return tuple(points[-1] for _, points in self.steps if points)


@dataclass(frozen=True, slots=True)
class Glyph:
    """A drawn character: its origin, its advance in mm before `turn`, a 2 x 2 matrix by rows."""

    text: str
    x: float
    y: float
    advance: float
    turn: tuple[float, float, float, float]
    bold: bool
    grey: float


Drawn: TypeAlias = Path | Glyph
Item: TypeAlias = Line | Circle | Arc | Polygon | Glyph


@dataclass(frozen=True, slots=True)
class PageComparison:
    """How a page compares: `worst` mm and where; `faults` in words; `like` of `marks` were found.

    Each character counts as a mark.
    """

    marks: int
    like: int
    worst: float
    where: str
    faults: tuple[str, ...] = ()


def measurable(drawn: Drawn) -> bool:
    """Whether all its numbers are less than any page could hold: a stranger's may even be none."""
    if isinstance(drawn, Glyph):
        numbers: Iterable[float] = (drawn.x, drawn.y, drawn.advance, *drawn.turn)
    else:
        numbers = (one for _, points in drawn.steps for point in points for one in point)
    return all(abs(one) < FARTHEST for one in numbers)


def beyond(drawn: Sequence[Drawn], width: float, height: float, margin: float) -> list[Drawn]:
    """What reaches nearer than `margin` to the edge of a page, pens' width and letters apart."""
    near = margin - TOLERANCE
    found = []
    for one in drawn:
        points = ((one.x, one.y),) if isinstance(one, Glyph) else one.ends
        if any(not (near <= x <= width - near and near <= y <= height - near) for x, y in points):
            found.append(one)
    return found


def items_of(marks: Sequence[Mark], typeface: Typeface) -> Iterator[Item]:
    """Everything that should be drawn, in order: text as its characters."""
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


def compare(items: Sequence[Item], drawn: Sequence[Drawn]) -> PageComparison:
    """What should be drawn against what is: in order where both agree, else nearest to nearest."""
    pairs = list(zip(items, drawn, strict=False))
    if len(items) == len(drawn) and all(alike(item, one) for item, one in pairs):
        errors = [off(item, one) for item, one in pairs]
        worst = max(errors, default=0.0)
        where = name_of(items[errors.index(worst)]) if errors else ""
        if worst <= TOLERANCE:
            return PageComparison(len(items), len(items), worst, where)
        said = _all_moved(pairs)
        if said:
            return PageComparison(len(items), 0, worst, where, (said,))
    return _one_by_one(items, drawn)


def alike(item: Item, drawn: Drawn) -> bool:
    """Whether a drawn thing is of the kind it should be, in the same ink, wherever it stands."""
    if isinstance(item, Glyph):
        return (
            isinstance(drawn, Glyph)
            and item.text == drawn.text
            and item.bold == drawn.bold
            and abs(item.grey - drawn.grey) <= GREY_STEP
        )
    if isinstance(drawn, Glyph) or not _same_ink(item, drawn):
        return False
    shape = drawn.shape
    match item:
        case Line():
            return shape in {"ml", "mlh"}
        case Polygon():
            return shape == "m" + "l" * (len(item.points) - 1) + "h"
        case Circle():
            return shape == "m" + "c" * (len(shape) - 2) + "h" and "c" in shape
        case Arc():
            return shape == "m" + "c" * (len(shape) - 1) and "c" in shape


def off(item: Item, drawn: Drawn) -> float:
    """How far a drawn thing, alike, is from where it should be, in mm."""
    if isinstance(item, Glyph) and isinstance(drawn, Glyph):
        turned = max(abs(a - b) for a, b in zip(item.turn, drawn.turn, strict=True))
        # What a letter is wide or turned wrongly shows at its far end.
        return (
            hypot(item.x - drawn.x, item.y - drawn.y)
            + abs(item.advance - drawn.advance)
            + turned * max(item.advance, drawn.advance)
        )
    if isinstance(item, Glyph) or isinstance(drawn, Glyph):
        return inf
    match item:
        case Line():
            ends = ((float(item.x1), float(item.y1)), (float(item.x2), float(item.y2)))
            return _farthest(ends, drawn.ends)
        case Polygon():
            return _farthest([(float(x), float(y)) for x, y in item.points], drawn.ends)
        case Circle():
            return _round_off(item, 0.0, 360.0, drawn)
        case Arc():
            return _round_off(item, item.start, item.sweep, drawn)


def _same_ink(item: Line | Circle | Arc | Polygon, drawn: Path) -> bool:
    fill = item.fill if isinstance(item, Polygon) else None
    if (fill is None) != (drawn.fill is None) or (item.pen is None) != (drawn.pen is None):
        return False
    if fill is not None and drawn.fill is not None and abs(fill - drawn.fill) > GREY_STEP:
        return False
    if item.pen is None or drawn.pen is None:
        return True
    return (
        abs(item.pen.width - drawn.pen.width) <= TOLERANCE
        and abs(item.pen.grey - drawn.pen.grey) <= GREY_STEP
        and len(item.pen.dash) == len(drawn.pen.dash)
        and all(
            # Dashes are stretched along their line by a printer's factors, at most 3 %.
            abs(a - b) <= TOLERANCE + 0.05 * a
            for a, b in zip(item.pen.dash, drawn.pen.dash, strict=True)
        )
    )


def _farthest(expected: Sequence[Point], found: Sequence[Point]) -> float:
    return max(hypot(a - c, b - d) for (a, b), (c, d) in zip(expected, found, strict=True))


def _round_off(item: Circle | Arc, start: float, sweep: float, drawn: Path) -> float:
    """How far a run of Bezier arcs strays from a circle, or from the part of it asked for."""
    (_, (last,)), *rest = drawn.steps
    x, y, r = float(item.x), float(item.y), float(item.r)
    begun = radians(start)
    worst = hypot(last[0] - x - r * cos(begun), last[1] - y - r * sin(begun))
    turned = 0.0
    for op, points in rest:
        if op == "h":
            continue
        for t in (0.25, 0.5, 0.75, 1.0):
            px, py = _bezier(last, points, t)
            worst = max(worst, abs(hypot(px - x, py - y) - r))
        a, b = points[2]
        step = atan2(b - y, a - x) - atan2(last[1] - y, last[0] - x)
        turned += (step + pi) % (2 * pi) - pi
        last = points[2]
    end = radians(start + sweep)
    worst = max(worst, hypot(last[0] - x - r * cos(end), last[1] - y - r * sin(end)))
    return max(worst, r * abs(turned - radians(sweep)))


def _bezier(start: Point, points: Sequence[Point], t: float) -> Point:
    (x1, y1), (x2, y2), (x3, y3) = points
    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return a * start[0] + b * x1 + c * x2 + d * x3, a * start[1] + b * y1 + c * y2 + d * y3


def name_of(item: Item) -> str:
    """An item for people: what it stands for and where."""
    x, y = _place(item)
    what = f"letter “{item.text}”" if isinstance(item, Glyph) else item.role.replace("-", " ")
    return f"{what} at {x:.1f}, {y:.1f} mm"


def _place(thing: Item | Drawn) -> Point:
    """Where a thing is: a circle's centre, the middle of other paths, a letter's origin."""
    match thing:
        case Glyph() | Circle() | Arc():
            return float(thing.x), float(thing.y)
        case Line():
            points: Sequence[Point] = (
                (float(thing.x1), float(thing.y1)),
                (float(thing.x2), float(thing.y2)),
            )
        case Polygon():
            points = [(float(x), float(y)) for x, y in thing.points]
        case Path():
            points = thing.ends
            if "c" in thing.shape and thing.shape.endswith("h"):
                points = points[1:]  # a circle ends where it began
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _all_moved(alike: Sequence[tuple[Item, Drawn]]) -> str:
    """What was done to the whole page, where one scale and one shift explain all; else ""."""
    # An arc has no middle that its path tells.
    pairs = [(_place(item), _place(one)) for item, one in alike if not isinstance(item, Arc)]
    fits = [_fit([(p[axis], q[axis]) for p, q in pairs]) for axis in (0, 1)]
    if any(left > TOLERANCE for _, _, left in fits):
        return ""
    (across, right, _), (down, up, _) = fits
    if across < 0 and down < 0:
        return "everything on it is upside down"
    said = []
    if max(abs(across - 1), abs(down - 1)) > 1e-5:
        text = f"everything on it is scaled: ×{across:.4f} across, ×{down:.4f} down"
        said.append(f"{text} (100 mm would print as {100 * across:.2f} by {100 * down:.2f} mm)")
    if max(abs(right), abs(up)) > TOLERANCE:
        # Adding 0 makes a negative nothing plain.
        text = f"{round(right, 2) + 0.0:+.2f} mm across and {round(up, 2) + 0.0:+.2f} mm up"
        said.append(f"and shifted by {text}" if said else f"everything on it is shifted by {text}")
    return " ".join(said)


def _fit(pairs: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """Scale, shift and what is left over, of the straight line that fits (should, is) best."""
    n = len(pairs)
    mean_a, mean_b = sum(a for a, _ in pairs) / n, sum(b for _, b in pairs) / n
    spread = sum((a - mean_a) ** 2 for a, _ in pairs)
    scale = sum((a - mean_a) * (b - mean_b) for a, b in pairs) / spread if spread else 1.0
    shift = mean_b - scale * mean_a
    return scale, shift, max(abs(scale * a + shift - b) for a, b in pairs)


def _one_by_one(items: Sequence[Item], drawn: Sequence[Drawn]) -> PageComparison:
    """Each item with the drawn thing that is it, wherever it comes; then what is left, told."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for n, one in enumerate(drawn):
        x, y = _place(one)
        cells[int(x // 1), int(y // 1)].append(n)
    used: set[int] = set()
    left: list[Item] = []
    worst, where = 0.0, ""
    for item in items:
        x, y = _place(item)
        near = (
            n
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for n in cells.get((int(x // 1) + i, int(y // 1) + j), ())
            if n not in used and alike(item, drawn[n])
        )
        error, n = min(((off(item, drawn[n]), n) for n in near), default=(inf, -1))
        if error > TOLERANCE:
            left.append(item)
            continue
        used.add(n)
        if error > worst:
            worst, where = error, name_of(item)
    extra = [one for n, one in enumerate(drawn) if n not in used]
    like = len(items) - len(left)
    faults, moved = _told(left, extra)
    if moved:
        worst, where = max(moved)
    return PageComparison(len(items), like, worst, where, tuple(faults))


def _told(
    left: Sequence[Item], extra: Sequence[Drawn]
) -> tuple[list[str], list[tuple[float, str]]]:
    """Words for what wasn't found and what shouldn't be there; and how far what moved has moved."""
    moved: list[tuple[float, str]] = []
    spare, gone = list(extra), []
    few = len(left) * len(spare) <= 250_000
    for item in sorted(left, key=_rank) if few else ():
        near = 1.0 if isinstance(item, Glyph) else NEAR
        found = ((off(item, one), n) for n, one in enumerate(spare) if alike(item, one))
        error, n = min(found, default=(inf, -1))
        if error <= near:
            del spare[n]
            moved.append((error, name_of(item)))
        else:
            gone.append(item)
    told = [f"{name} is off by {error:.2f} mm" for error, name in moved[:MOST_TOLD]]
    told += [f"{name_of(item)} is missing, or drawn otherwise" for item in gone[:MOST_TOLD]]
    if few:
        told += [
            f"{kind_of(one)} that doesn't belong there"
            for one in sorted(spare, key=_rank)[:MOST_TOLD]
        ]
    if max(len(moved), len(gone), len(spare)) > MOST_TOLD:
        told.append(f"in all {len(left)} marks not where they should be, {len(extra)} others drawn")
    return told, moved


def _rank(thing: Item | Drawn) -> int:
    """Holes and lines before letters, those before spaces: only the first few are told."""
    return (1 + thing.text.isspace()) if isinstance(thing, Glyph) else 0


def kind_of(drawn: Drawn) -> str:
    """A drawn thing in words, with its place."""
    x, y = _place(drawn)
    if isinstance(drawn, Glyph):
        what = f"a letter “{drawn.text}”"
    elif drawn.pen is None:
        what = "an area of ink"
    else:
        what = "a line" if drawn.shape in {"ml", "mlh"} else "a curve or outline"
    return f"{what} at {x:.1f}, {y:.1f} mm"
