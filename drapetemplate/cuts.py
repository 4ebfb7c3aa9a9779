"""What is cut, drawn to scale: drops as they come off the roll, and a panel flat and raw.

Frame of a picture: as in `picture`. The roll runs to the right, face up, the tops of its drops to
the left: the cloth's left selvage, as seen with a drop's top at the far end, is the lower edge. A
panel is seen from its face, top up.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from drapetemplate import drawing
from drapetemplate.drawing import Circle, Line, Mark, Pen, Polygon, Typeface
from drapetemplate.job import Cloth, Job
from drapetemplate.measures import Length, format_length
from drapetemplate.picture import CLOTH, SEAM, THIN, Picture, scale_for
from drapetemplate.planning.cloth import Takes, cut_length
from drapetemplate.planning.drops import Drop, Piece
from drapetemplate.planning.plan import PanelPlan, WindowPlan

CROSSCUT = Pen(0.6)
SLIT = Pen(0.45, (2.2, 1.2))
FOLD = Pen(0.2, (1.6, 1.0))
REPEAT = Pen(0.2)
OVER_GREY = 0.88
LABEL = 2.5
LEAST = 1.9
ROLL_HIGH = 30.0  # mm of paper a width of cloth may take
ROLL_FOOT = 8.5  # under it: running measures, in two lines where they are close
PANEL_HIGH = 112.0
TICK = 1.6
TOP = 1.8  # the wedge that points to a piece's top
LEAST_REPEAT = 1.5  # mm between repeats that are still drawn


def roll_scale(order_width: Length, longest: Length, room: float) -> int:
    """The scale at which a width of cloth is `ROLL_HIGH` at most and the longest drop fits."""
    return max(scale_for(order_width, ROLL_HIGH), scale_for(longest, room))


def roll_rows(drops: Sequence[Drop], scale: int, room: float) -> Iterator[tuple[Drop, ...]]:
    """Drops in rows no longer than `room` mm at this scale."""
    row: list[Drop] = []
    for drop in drops:
        if row and float(drop.at + drop.length - row[0].at) / scale > room:
            yield tuple(row)
            row = []
        row.append(drop)
    if row:
        yield tuple(row)


def roll(
    job: Job, row: Sequence[Drop], cloth: Cloth, width: Length, typeface: Typeface, scale: int
) -> Picture:
    """One row of drops, one after another, with their pieces, slits and what is left over."""
    return _Roll(job, row, cloth, width, typeface, scale).picture()


class _Roll:
    """One row of the roll; x runs along the cloth from the row's first drop."""

    def __init__(
        self,
        job: Job,
        row: Sequence[Drop],
        cloth: Cloth,
        width: Length,
        typeface: Typeface,
        scale: int,
    ) -> None:
        self.job, self.row, self.cloth, self.typeface = job, row, cloth, typeface
        self.scale = scale
        self.wide = float(width) / scale
        self.long = float(row[-1].at + row[-1].length - row[0].at) / scale

    def say(self, length: Length) -> str:
        return format_length(length, self.job.units)

    def x(self, at: Length) -> float:
        return float(at - self.row[0].at) / self.scale

    def y(self, across: Length) -> float:
        return ROLL_FOOT + float(across) / self.scale

    def picture(self) -> Picture:
        return Picture(self.long, ROLL_FOOT + self.wide + 4, self.scale, tuple(self._marks()))

    def _marks(self) -> Iterator[Mark]:
        low, high = ROLL_FOOT, ROLL_FOOT + self.wide
        box = ((0.0, low), (self.long, low), (self.long, high), (0.0, high))
        yield Polygon(box, None, OVER_GREY, "left-over")
        for drop in self.row:
            yield from self._drop(drop)
        for y in (low, high):
            yield Line(0.0, y, self.long, y, CLOTH, "selvage")
        yield from self._repeats()
        yield from self._measures()

    def _drop(self, drop: Drop) -> Iterator[Mark]:
        start, end = self.x(drop.at), self.x(drop.at + drop.length)
        for piece in drop.pieces:
            low, high = self.y(piece.left), self.y(piece.left + piece.width)
            box = ((start, low), (end, low), (end, high), (start, high))
            yield Polygon(box, None, 1.0, "piece")
            if high - low >= TOP:
                yield from self._top(start, (low + high) / 2)
            for y in (low, high):
                if ROLL_FOOT + 1e-6 < y < ROLL_FOOT + self.wide - 1e-6:
                    yield Line(start, y, end, y, SLIT, "slit")
            yield from self._label(drop, piece_words(self.job, drop, piece), low, high)
        for at in (start, end):
            yield Line(at, ROLL_FOOT, at, ROLL_FOOT + self.wide, CROSSCUT, "crosscut")
        yield drawing.text(
            self.typeface,
            (start + end) / 2,
            ROLL_FOOT + self.wide + 1.2,
            f"{drop.number}" if end - start < 16 else f"drop {drop.number}",
            LABEL,
            "drop-number",
            anchor="middle",
            bold=True,
            most=end - start - 0.5,
        )

    def _top(self, start: float, middle: float) -> Iterator[Mark]:
        """A wedge that points to where the piece's top is."""
        tip, back = (start + 0.7, middle), start + 0.7 + TOP
        points = (tip, (back, middle + TOP / 2.5), (back, middle - TOP / 2.5))
        yield Polygon(points, None, 0.0, "top")

    def _label(self, drop: Drop, words: Sequence[str], low: float, high: float) -> Iterator[Mark]:
        """A piece's words inside it, as many lines as it is high enough for."""
        start, end = self.x(drop.at), self.x(drop.at + drop.length)
        lines = list(words[: max(1, int((high - low - 0.6) / (LABEL * 1.25)))])
        size = min(LABEL, (high - low) * 0.8)
        top = (low + high) / 2 + len(lines) * size * 1.25 / 2
        for n, line in enumerate(lines):
            yield drawing.text(
                self.typeface,
                (start + end) / 2,
                top - size * 0.95 - n * size * 1.25,
                line,
                size,
                "piece-label",
                anchor="middle",
                bold=n == 0,
                most=end - start - 2 * TOP - 2,
                least=min(LEAST, size),
            )

    def _repeats(self) -> Iterator[Mark]:
        """Ticks on both selvages at each repeat along, and at each repeat across."""
        down, across = self.cloth.repeat_down, self.cloth.repeat_across
        if down and float(down) / self.scale >= LEAST_REPEAT:
            first = -(-self.row[0].at // down)
            last = (self.row[-1].at + self.row[-1].length) // down
            for n in range(int(first), int(last) + 1):
                x = self.x(n * down)
                for y, way in ((ROLL_FOOT, 1), (ROLL_FOOT + self.wide, -1)):
                    yield Line(x, y, x, y + way * TICK, REPEAT, "repeat")
        if across and float(across) / self.scale >= LEAST_REPEAT:
            for n in range(1, int(self.wide * self.scale / float(across)) + 1):
                y = self.y(n * across)
                for drop in self.row:
                    x = self.x(drop.at)
                    yield Line(x, y, x + TICK, y, REPEAT, "repeat")

    def _measures(self) -> Iterator[Mark]:
        """Under each cut across: how far it is from the start of the cloth."""
        ends = [self.row[0].at, *(drop.at + drop.length for drop in self.row)]
        reach = [-2.0, -2.0]
        for n, at in enumerate(ends):
            words = self.say(at)
            wide = self.typeface.width(words, LABEL)
            x = self.x(at)
            last = n == len(ends) - 1
            anchor: drawing.Anchor = "start" if n == 0 else "end" if last else "middle"
            left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            level = 0 if left > reach[0] + 1.5 else 1
            if left <= reach[level]:
                continue
            reach[level] = left + wide
            y = ROLL_FOOT - 3.4 - 3.2 * level
            yield drawing.text(self.typeface, x, y, words, LABEL, "running-measure", anchor=anchor)


def piece_words(job: Job, drop: Drop, piece: Piece) -> tuple[str, str]:
    """A piece's label: whose it is and which, and its width."""
    which = f", piece {piece.place} of {piece.of}" if piece.of > 1 else ""
    wide = format_length(piece.width, job.units)
    much = f"turned, {wide} of the width" if drop.turned else f"{wide} wide"
    return f"{drop.window}, {piece.panel}{which}", much


def raw_panel(
    job: Job, window: WindowPlan, panel: PanelPlan, one: Takes, typeface: Typeface, scale: int
) -> Picture:
    """A panel of one cloth flat and raw: pieces, seams, hems, trims, and the finished size."""
    return _RawPanel(job, window, panel, one, typeface, scale).picture()


def raw_size(window: WindowPlan, panel: PanelPlan, one: Takes) -> tuple[Length, Length]:
    """A panel's raw width and its length; where that isn't known, so that it can be drawn."""
    width = panel.width + 2 * one.cloth.side_hem
    if window.length is None:
        return width, one.cloth.heading + one.cloth.bottom_hem + 4 * panel.band_height
    return width, cut_length(one.cloth, window.length)


class _RawPanel:
    """One panel; x from its left raw edge as seen from the face, y from its raw foot."""

    foot, head = 9.5, 5.0

    def __init__(
        self,
        job: Job,
        window: WindowPlan,
        panel: PanelPlan,
        one: Takes,
        typeface: Typeface,
        scale: int,
    ) -> None:
        self.job, self.window, self.panel, self.one = job, window, panel, one
        self.typeface, self.scale = typeface, scale
        self.width, self.length = raw_size(window, panel, one)
        self.mirrored = panel.side == "left"
        self.shrinks = 1 + one.cloth.shrinkage

    def say(self, length: Length) -> str:
        return format_length(length, self.job.units)

    def x(self, raw: Length) -> float:
        """Paper x of a measure from the raw edge beside the leading edge."""
        return float(self.width - raw if self.mirrored else raw) / self.scale

    def y(self, up: Length) -> float:
        return self.foot + float(up) / self.scale

    def picture(self) -> Picture:
        wide, high = float(self.width) / self.scale, self.y(self.length) + self.head
        return Picture(wide, high, self.scale, tuple(self._marks()))

    def _marks(self) -> Iterator[Mark]:
        cloth, panel = self.one.cloth, self.panel
        hem, zero = cloth.side_hem, Fraction(0)
        foot = self._finished_foot()
        top = self.length - cloth.heading * self.shrinks
        yield self._box(zero, self.width, zero, self.length, CROSSCUT, "raw-edge")
        yield self._box(hem, self.width - hem, foot, top, FOLD, "finished-edge")
        for up in (foot, top):
            yield Line(self.x(zero), self.y(up), self.x(self.width), self.y(up), FOLD, "fold")
        for raw in (hem, self.width - hem):
            yield Line(self.x(raw), self.y(zero), self.x(raw), self.y(self.length), FOLD, "fold")
        y = self.y(top - (panel.above + panel.outside / 2) * self.shrinks)
        r = float(panel.outside) / 2 / self.scale
        yield from (Circle(self.x(hem + c), y, r, THIN, "eyelet") for c in panel.centers)
        seams = () if self.one.seams is None else self.one.seams.seams
        for seam in seams:
            x = self.x(hem + seam)
            yield Line(x, self.y(zero), x, self.y(self.length), SEAM, "seam")
        yield from self._words(foot, top)
        yield from self._pieces()

    def _finished_foot(self) -> Length:
        """How far the finished foot is above the raw one; what a repeat leaves over is below it."""
        cloth = self.one.cloth
        if self.window.length is None:
            return cloth.bottom_hem
        return self.length - (cloth.heading + self.window.length) * self.shrinks

    def _box(self, x0: Length, x1: Length, y0: Length, y1: Length, pen: Pen, role: str) -> Polygon:
        (a, b), (c, d) = (self.x(x0), self.x(x1)), (self.y(y0), self.y(y1))
        return Polygon(((a, c), (b, c), (b, d), (a, d)), pen, None, role)

    def _words(self, foot: Length, top: Length) -> Iterator[Mark]:
        """The finished size in the middle, heading and hem in their strips, edges at the sides."""
        length = "length not known" if self.window.length is None else self.say(self.window.length)
        cloth = self.one.cloth
        middle, wide = float(self.width) / 2 / self.scale, float(self.panel.width) / self.scale
        y = (self.y(foot) + self.y(top)) / 2
        single = self.panel.side == "single"
        name = "panel" if single else f"{self.panel.side} panel"
        lines = [
            (y + 3.6, f"{self.window.name}, {name}", True),
            (y, "finished", False),
            (y - 3.6, f"{self.say(self.panel.width)} × {length}", True),
        ]
        if cloth.heading:
            at = (self.y(top) + self.y(self.length)) / 2
            lines.append((at - 0.8, f"heading {self.say(cloth.heading)}", False))
        if foot:
            lines.append(((self.y(foot) + self.foot) / 2 - 0.8, self._hem(foot), False))
        for at, words, bold in lines:
            mark = drawing.text(
                self.typeface,
                middle,
                at,
                words,
                LABEL,
                "panel-words",
                anchor="middle",
                bold=bold,
                most=wide - 8,
            )
            # On white, so that no seam runs through them.
            x0, y0, x1, y1 = drawing.box(mark)
            box = ((x0 - 0.5, y0), (x1 + 0.5, y0), (x1 + 0.5, y1), (x0 - 0.5, y1))
            yield Polygon(box, None, 1.0, "ground")
            yield mark
        ends = ("LEFT EDGE", "RIGHT EDGE") if single else ("LEADING EDGE", "RETURN EDGE")
        for n, (raw, words) in enumerate(
            zip((cloth.side_hem, self.width - cloth.side_hem), ends, strict=True)
        ):
            at = self.x(raw)
            inward = 2.8 if (n == 0) != self.mirrored else -1.0
            yield drawing.text(
                self.typeface,
                at + inward,
                y,
                f"{words} · hem {self.say(cloth.side_hem)}",
                2.2,
                "panel-words",
                anchor="middle",
                angle=90,
                most=float(top - foot) / self.scale - 2,
            )

    def _edges(self) -> list[Length]:
        """Raw edges and seams, from the edge beside the leading edge."""
        seams = () if self.one.seams is None else self.one.seams.seams
        return [Fraction(0), *(s + self.one.cloth.side_hem for s in seams), self.width]

    def _hem(self, foot: Length) -> str:
        """The bottom hem, and what the pattern's repeats leave over at the foot."""
        cloth = self.one.cloth
        over = foot - cloth.bottom_hem * self.shrinks
        more = f" + {self.say(over)} over" if over > 0 else ""
        return f"bottom hem {self.say(cloth.bottom_hem)}{more}"

    def _pieces(self) -> Iterator[Mark]:
        """Over the panel each piece's number and raw width; under it what is trimmed, and seams."""
        seams = self.one.seams
        if seams is None:
            return
        edges = self._edges()
        for n, (start, end) in enumerate(itertools.pairwise(edges)):
            middle = (self.x(start) + self.x(end)) / 2
            room = float(end - start) / self.scale - 1
            words = f"{n + 1}: {self.say(seams.pieces[n])}"
            if self.typeface.width(words, LABEL, bold=True) > room:
                words = f"{n + 1}"
            yield self._under(middle, self.y(self.length) + 1.4, words, room, bold=True)
            if seams.trims[n]:
                words = f"trim {self.say(seams.trims[n])}"
                if self.typeface.width(words, LABEL) <= room:
                    yield self._under(middle, self.foot - 3.2, words, room)
        least = min(float(end - start) for start, end in pairwise(edges)) / self.scale
        for seam in seams.seams:
            words = f"seam {self.say(seam)}"
            if self.typeface.width(words, LABEL) <= least:
                x = self.x(seam + self.one.cloth.side_hem)
                yield self._under(x, self.foot - 6.6, words, least)

    def _under(self, x: float, y: float, words: str, room: float, *, bold: bool = False) -> Mark:
        return drawing.text(
            self.typeface,
            x,
            y,
            words,
            LABEL,
            "panel-measure",
            anchor="middle",
            bold=bold,
            most=room,
        )
