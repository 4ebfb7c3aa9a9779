"""A PDF's sheets measured by pdfplumber: what is printed, in mm, as a reader sees each sheet.

Nothing here knows the package. A circle is known by its closed curves, a letter by its size;
sheets are laid side by side by their registration marks, as a workroom would tape them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from io import BytesIO
from itertools import pairwise
from math import dist, hypot

import pdfplumber
from pdfplumber.page import Page

POINT = 25.4 / 72
# pdfplumber gives points to four decimals.
SAME = 0.005
REGISTRATION = 4.5


@dataclass(frozen=True)
class Round:
    """A whole circle, `pen` wide."""

    x: float
    y: float
    diameter: float
    pen: float


@dataclass(frozen=True)
class Stroke:
    """A straight line, from its lower or left end."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: float
    dashed: bool

    @property
    def length(self) -> float:
        """How long it is."""
        return hypot(self.x2 - self.x1, self.y2 - self.y1)

    @property
    def upright(self) -> bool:
        """True where it runs up the sheet."""
        return abs(self.x1 - self.x2) < SAME

    @property
    def level(self) -> bool:
        """True where it runs across the sheet."""
        return abs(self.y1 - self.y2) < SAME


@dataclass(frozen=True)
class Words:
    """Text on one baseline, from (x, y) to `end`; `level` where it reads across the sheet."""

    text: str
    x: float
    y: float
    end: float
    size: float
    level: bool

    @property
    def middle(self) -> float:
        """Half way along."""
        return (self.x + self.end) / 2

    @property
    def center(self) -> tuple[float, float]:
        """Half way along, on the baseline."""
        along = self.middle if self.level else (self.y + self.end) / 2
        return (along, self.y) if self.level else (self.x, along)


@dataclass(frozen=True)
class Sheet:
    """What one sheet shows; `ink` is the box round everything on it, on the upright page.

    `arcs` are points of circles that the sheet cuts, where their curves begin and end, each with
    its pen.
    """

    page: int
    number: int
    rounds: tuple[Round, ...]
    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...]
    ink: tuple[float, float, float, float]
    chars: tuple[float, float, float, float]
    arcs: tuple[tuple[float, float, float], ...] = ()

    def moved(self, dx: float, dy: float) -> Sheet:
        """The sheet laid elsewhere."""
        return Sheet(
            self.page,
            self.number,
            tuple(Round(c.x + dx, c.y + dy, c.diameter, c.pen) for c in self.rounds),
            tuple(
                Stroke(s.x1 + dx, s.y1 + dy, s.x2 + dx, s.y2 + dy, s.pen, s.dashed)
                for s in self.strokes
            ),
            tuple(
                Words(w.text, w.x + dx, w.y + dy, w.end + dx, w.size, w.level) for w in self.words
            ),
            self.ink,
            self.chars,
            tuple((x + dx, y + dy, pen) for x, y, pen in self.arcs),
        )

    def circles(self, diameter: float) -> list[Round]:
        """The whole circles of this diameter, from left to right."""
        found = [c for c in self.rounds if abs(c.diameter - diameter) < 0.01]
        return sorted(found, key=lambda c: (c.x, c.y))

    def marks(self, side: str) -> list[Round]:
        """The registration marks of one lap, from the lower or left one on."""
        found = self.circles(REGISTRATION)
        key: Callable[[Round], float] = {
            "left": lambda c: c.x,
            "right": lambda c: -c.x,
            "below": lambda c: c.y,
            "above": lambda c: -c.y,
        }[side]
        first = min(map(key, found))
        lap = (c for c in found if key(c) - first < SAME)
        # Along the lap: the other coordinate only repeats itself, to a rounding.
        return sorted(lap, key=lambda c: c.x if side in {"above", "below"} else c.y)


def sheets(
    data: bytes, *, turned: bool | None, scale: tuple[float, float] = (1.0, 1.0)
) -> list[Sheet]:
    """The template sheets of a PDF, its ticket left out; `turned` where they are landscape.

    None where a PDF may have both: each sheet is then read the way that its title is level.
    `scale` is what the file was multiplied by across and down the page: everything but `ink` and
    `chars` is divided by it, as the printer does that it was made for.
    """
    found = []
    with pdfplumber.open(BytesIO(data)) as pdf:
        for number, page in enumerate(pdf.pages):
            sheet = sheet_on(page, number, turned=turned, scale=scale)
            if sheet is not None:
                found.append(sheet)
    return found


def sheet_on(
    page: Page, number: int, *, turned: bool | None, scale: tuple[float, float]
) -> Sheet | None:
    """One page as `sheets` reads it; None where it is no template sheet."""
    for way in (False, True) if turned is None else (turned,):
        sheet = _sheet(page, number, turned=way, scale=scale)
        if sheet is not None:
            return sheet
    return None


def lines_of(page: Page) -> list[str]:
    """The lines of text of an upright page from its top, what stands side by side in one."""
    high = float(page.height)
    rows: dict[float, list[Words]] = {}
    for word in _words(page, lambda p: (p[0] * POINT, (high - p[1]) * POINT), turned=False):
        if word.level and word.text.strip():
            y = next((y for y in rows if abs(y - word.y) < SAME), word.y)
            rows.setdefault(y, []).append(word)
    return [
        " ".join(w.text.strip() for w in sorted(rows[y], key=lambda w: w.x))
        for y in sorted(rows, reverse=True)
    ]


def _sheet(page: Page, number: int, *, turned: bool, scale: tuple[float, float]) -> Sheet | None:
    """One page as its reader sees it; None where it is no sheet, or its title isn't level."""
    width, height = float(page.width), float(page.height)
    across, down = POINT / scale[0], POINT / scale[1]

    def at(point: tuple[float, float]) -> tuple[float, float]:
        """From pdfplumber's points, y down, to the sheet's mm, y up."""
        x, y = point[0] * across, (height - point[1]) * down
        return (y, width * across - x) if turned else (x, y)

    words = _words(page, at, turned=turned)
    found = (re.match(r"Sheet [A-Z]*(\d+) of \d+\b", w.text) for w in words if w.level)
    titles = (match[1] for match in found if match)
    title = next(titles, None)
    if title is None:
        return None
    rounds, arcs = [], []
    for curve in page.curves:
        if not any(step[0] == "c" for step in curve["path"]):
            continue
        if curve["path"][-1][0] != "h":
            pen = curve["linewidth"] * POINT
            arcs += [(*at(step[-1]), pen) for step in curve["path"]]
            continue
        points = [at(point) for point in curve["pts"]]
        xs, ys = zip(*points, strict=True)
        x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        for point in points:
            assert abs(dist(point, (x, y)) - (max(xs) - min(xs)) / 2) < SAME, "not a circle"
        rounds.append(Round(x, y, max(xs) - min(xs), curve["linewidth"] * POINT))
    strokes = []
    for line in page.lines:
        (x1, y1), (x2, y2) = sorted(at(point) for point in line["pts"])
        dashed = bool(line["dash"] and line["dash"][0])
        strokes.append(Stroke(x1, y1, x2, y2, line["linewidth"] * POINT, dashed))
    drawn = [*page.curves, *page.lines, *page.rects]
    ink = _round(
        (o["x0"] - half, o["y0"] - half, o["x1"] + half, o["y1"] + half)
        for o in drawn
        for half in [o["linewidth"] / 2 if o["stroke"] else 0]
    )
    chars = _round((o["x0"], o["y0"], o["x1"], o["y1"]) for o in page.chars)
    return Sheet(
        number,
        int(title),
        tuple(rounds),
        tuple(strokes),
        tuple(words),
        ink,
        chars,
        tuple(arcs),
    )


def _round(boxes: Iterable[tuple[float, float, float, float]]) -> tuple[float, float, float, float]:
    """The box round some boxes, in mm."""
    left, bottom, right, top = zip(*boxes, strict=True)
    return min(left) * POINT, min(bottom) * POINT, max(right) * POINT, max(top) * POINT


def _words(
    page: Page, at: Callable[[tuple[float, float]], tuple[float, float]], *, turned: bool
) -> list[Words]:
    """Lines of text: characters that follow one another on one baseline."""
    height = float(page.height)
    found: list[Words] = []
    for char in page.chars:
        a, b, _, _, e, f = char["matrix"]
        x, y = at((e, height - f))
        # Its matrix carries the page's scale, so the direction alone counts.
        run = (b, -a) if turned else (a, b)
        level = run[0] > 0 and run[1] == 0
        corners = [at((char["x0"], char["top"])), at((char["x1"], char["bottom"]))]
        (x1, y1), (x2, y2) = corners
        size, end = (abs(y2 - y1), max(x1, x2)) if level else (abs(x2 - x1), max(y1, y2))
        along, baseline = (x, y) if level else (y, x)
        last = found[-1] if found else None
        if (
            last is not None
            and last.level == level
            and abs((last.y if level else last.x) - baseline) < SAME
            and abs(last.end - along) < SAME
            and abs(last.size - size) < SAME
        ):
            found[-1] = Words(last.text + char["text"], last.x, last.y, end, size, level)
        else:
            found.append(Words(char["text"], x, y, end, size, level))
    return found


def lanes(sheet: Sheet) -> list[Sheet]:
    """A sheet cut apart along its full solid lines, from the top; the bars are no longer than 4 in.

    What is above the first line goes with the first lane, what is below the last with the last.
    """
    cuts = [
        s.y1
        for s in sheet.strokes
        if s.level and not s.dashed and abs(s.pen - 0.25) < SAME and s.length > 102
    ]
    edges = [float("inf"), *sorted(cuts, reverse=True), float("-inf")]
    return [
        replace(
            sheet,
            rounds=tuple(c for c in sheet.rounds if low < c.y < high),
            strokes=tuple(s for s in sheet.strokes if low < (s.y1 + s.y2) / 2 < high),
            words=tuple(w for w in sheet.words if low < w.y < high),
            arcs=tuple(a for a in sheet.arcs if low < a[1] < high),
        )
        for high, low in pairwise(edges)
    ]


Box = tuple[float, float, float, float]


def cells(sheet: Sheet) -> list[Box]:
    """What a roll's page is cut apart into between its double lines, as (left, low, right, high).

    Double lines are full ones 2 mm apart: level ones reach as far as any, upright ones from one
    level pair to the next. From the top, each lane from the left.
    """
    full = [s for s in sheet.strokes if not s.dashed and abs(s.pen - 0.25) < SAME]
    level = _doubled([(s.y1, s.x1, s.x2) for s in full if s.level and s.length > 102])
    upright = _doubled([(s.x1, s.y1, s.y2) for s in full if s.upright and s.length > 15])
    found = []
    for high, low in pairwise([1e6, *(y for y, _, _ in reversed(level)), -1e6]):
        own = [x for x, start, end in upright if low < (start + end) / 2 < high]
        found += [(left, low, right, high) for left, right in pairwise([-1e6, *own, 1e6])]
    return found


def _doubled(lines: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """The middles of double lines, from the lowest or leftmost, each with where it runs."""
    return sorted(
        ((a[0] + b[0]) / 2, a[1], a[2])
        for a in lines
        for b in lines
        if abs(b[0] - a[0] - 2) < SAME and hypot(a[1] - b[1], a[2] - b[2]) < SAME
    )


def cut_out(sheet: Sheet, cell: Box) -> Sheet:
    """What of a page lies in one of its cells, without the lines that it is cut out between."""
    left, low, right, high = cell

    def inside(x: float, y: float) -> bool:
        return left < x < right and low < y < high

    def cut_at(s: Stroke) -> bool:
        at, edges = (s.y1, (low, high)) if s.level else (s.x1, (left, right))
        return any(abs(abs(at - edge) - 1) < SAME for edge in edges)

    return replace(
        sheet,
        rounds=tuple(c for c in sheet.rounds if inside(c.x, c.y)),
        strokes=tuple(
            s
            for s in sheet.strokes
            if inside((s.x1 + s.x2) / 2, (s.y1 + s.y2) / 2) and not cut_at(s)
        ),
        words=tuple(w for w in sheet.words if inside(*w.center)),
        arcs=tuple(a for a in sheet.arcs if inside(a[0], a[1])),
    )


def sheets_cut(page: Sheet) -> list[tuple[str, Sheet]]:
    """The sheets that are cut out of a roll's page, each with its strip's letter, and its number.

    What is over at a lane's end has no title: nothing is on it.
    """
    found = []
    for cell in cells(page):
        piece = cut_out(page, cell)
        titles = [
            m for w in piece.words if (m := re.match(r"Sheet ([A-Z]*)(\d+) of \d+\b", w.text))
        ]
        assert len(titles) <= 1, "two sheets in one piece"
        assert titles or not piece.rounds, "a piece that says nothing of itself"
        found += [(m[1], replace(piece, number=int(m[2]))) for m in titles]
    return found


def taped(found: list[Sheet], columns: int, start: tuple[float, float]) -> list[Sheet]:
    """The sheets laid together by their registration marks, `start` moved to the origin.

    `start` is a point of the first sheet. Each sheet is laid by one mark it shares with a
    neighbour before it; every mark shared must then fall on its twin.
    """
    laid: list[Sheet] = []
    for i, sheet in enumerate(found):
        if i == 0:
            laid.append(sheet.moved(-start[0], -start[1]))
            continue
        old, new = (
            (laid[i - 1].marks("right"), sheet.marks("left"))
            if i % columns
            else (laid[i - columns].marks("below"), sheet.marks("above"))
        )
        laid.append(sheet.moved(old[0].x - new[0].x, old[0].y - new[0].y))
    for i, sheet in enumerate(laid):
        if i % columns:
            _twins(laid[i - 1].marks("right"), sheet.marks("left"))
        if i >= columns:
            _twins(laid[i - columns].marks("below"), sheet.marks("above"))
    return laid


def _twins(old: list[Round], new: list[Round]) -> None:
    assert len(old) == len(new), "marks without a twin"
    for a, b in zip(old, new, strict=True):
        assert hypot(a.x - b.x, a.y - b.y) < SAME, "twins that don't meet"


def distinct(values: Iterable[float]) -> list[float]:
    """Values in order, each once: neighbours show the same things in their lap."""
    ordered = sorted(values)
    return ordered[:1] + [b for a, b in pairwise(ordered) if b - a > SAME]


def covered(strokes: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches joined where they touch or lap."""
    whole: list[tuple[float, float]] = []
    for low, high in sorted(strokes):
        if whole and low <= whole[-1][1] + SAME:
            whole[-1] = (whole[-1][0], max(whole[-1][1], high))
        else:
            whole.append((low, high))
    return whole
