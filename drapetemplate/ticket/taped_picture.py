"""A strip's sheets in, the taped strip in small out: its holes, gaps, ends, sheets and joins.

It lies as it is taped, over as many lines as it takes. From the top of a line: which side is the
panel's top and which ends these are, the holes' numbers, the band with its eyelets and the gaps'
letters, the sheets, the joins. Of a pair's one strip the second panel's numbers stand under the
band, as on the sheets.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job
from drapetemplate.measures import Length
from drapetemplate.planning.eyelets import GapKind
from drapetemplate.planning.model import PanelPlan
from drapetemplate.sheets.sheet import SheetSet
from drapetemplate.ticket.flow import SMALL, Flow
from drapetemplate.ticket.picture import scale_for

OUTLINE = Pen(0.3)
JOIN = Pen(0.45)
THIN = Pen(0.15)
INNER_END = Pen(0.3, (1.2, 0.6))
LEAST_PART = 10.0  # mm of paper a part may be drawn long, so that its name can be read
LEAST_ROW = 4.6  # likewise, high
PART_NAME = 3.8
NAME = 3.4  # of holes, gaps, ends and joins
TEXT_LINE = 4.7  # mm of paper from a line of names to the next
APART = 6.0  # mm between an end's name and TOP, so that they aren't read as one
ASIDE = 0.8  # mm at least between two names
BELOW = 3.2  # mm from the band's lower edge to the middle of a sheet's name
A_LITTLE = 1.25  # of a scale, by which a picture is made smaller to go on one line
BETWEEN = 3.0  # mm from a line of the picture to the next


def end_names(panel: PanelPlan, other: PanelPlan | None) -> tuple[str, str]:
    """What a panel's ends are called, the one that its measures begin at first.

    With the `other` of a pair that shares its strip each end has two names.
    """
    if panel.side == "single":
        kind = "RETURN EDGE" if panel.gaps else "EDGE"
        return f"LEFT {kind}", f"RIGHT {kind}"
    if other is None:
        return "LEADING EDGE", "RETURN EDGE"
    one, two = panel.side.upper(), other.side.upper()
    return (
        f"{one}: LEADING EDGE, {two}: RETURN EDGE",
        f"{one}: RETURN EDGE, {two}: LEADING EDGE",
    )


def draw_taped(
    flow: Flow, job: Job, sheets: SheetSet, panel: PanelPlan, other: PanelPlan | None
) -> None:
    """Put the picture and its caption on `flow`."""
    _Taped(flow, job, sheets, panel, other).draw()


@dataclass(frozen=True, slots=True)
class _Gap:
    """Where a gap lies on the strip, from flange to flange, and its letter.

    `clear` is its longest part without a join.
    """

    start: Length
    end: Length
    clear: tuple[Length, Length]
    kind: GapKind
    letter: str


_Edges = Sequence[tuple[Length, float]]
"""Places of the strip, in order, and where on the page each is drawn."""


class _Taped:
    """The picture of one strip. Places on the strip are exact, those on the page mm."""

    def __init__(
        self,
        flow: Flow,
        job: Job,
        sheets: SheetSet,
        panel: PanelPlan,
        other: PanelPlan | None,
    ) -> None:
        self.flow, self.tiling, self.strip = flow, sheets.tiling, sheets.template.strip
        self.template = sheets.template
        self.rings = sorted(self.strip.rings, key=lambda ring: ring.x)
        at_right = self.strip.leading_at_right
        self.ends = end_names(panel, other)[:: -1 if at_right else 1]
        self.letters = dict(zip(("front", "back"), job.paper.letters, strict=True))
        self.gaps = [
            self._gap(left.x + left.outside / 2, right.x - right.outside / 2, kind)
            for (left, right), kind in zip(
                pairwise(self.rings), panel.gaps[:: -1 if at_right else 1], strict=False
            )
        ]
        self.edges = [Fraction(0), *self.tiling.joins, self.strip.length]
        face = flow.typeface
        self.number_width = face.width(str(len(self.rings)), NAME, bold=True)
        self.letter_width = max(face.width(word, NAME, bold=True) for word in self.letters.values())
        # Half the first join's name stands left of its line.
        self.indent = face.width(self.template.join_name(self.tiling.across), NAME) / 2
        # A pair has two rows of numbers: the first panel's above the band, the other's below.
        self.panels = () if other is None else (panel.side.upper(), other.side.upper())
        if self.panels:
            names = max(face.width(name, NAME, bold=True) for name in self.panels)
            self.indent = max(self.indent, names + 2 * ASIDE + self.number_width / 2)
        self.numbers_below = TEXT_LINE if self.panels else 0.0
        lies = (self.strip, self.strip.of_other) if self.panels else ()
        ends = (x for one in lies for x in (one.start, one.start + one.width))
        self.inner_ends = [x for x in ends if 0 < x < self.strip.length]
        self.least = self._least()
        self.scale = self._scale()
        # All letters of a picture stand alike: in the band, or else between the holes' numbers, or
        # where neither has room over these.
        self.letters_in_band = self._in_band(self.scale)
        own_row = bool(self.gaps) and not (self.letters_in_band or self._beside_numbers(self.scale))
        self.letters_over = TEXT_LINE if own_row else 0.0

    def _gap(self, start: Length, end: Length, kind: GapKind) -> _Gap:
        joins = self.tiling.joins
        inside = joins[bisect_right(joins, start) : bisect_left(joins, end)]
        parts = pairwise([start, *inside, end])
        return _Gap(start, end, max(parts, key=lambda p: p[1] - p[0]), kind, self.letters[kind])

    @property
    def typeface(self) -> Typeface:
        return self.flow.typeface

    @property
    def room(self) -> float:
        """What a line of it may be long, with half a name kept free at either end."""
        return self.flow.width - self.indent - self.number_width / 2

    def _least(self) -> float:
        """How long a part must be drawn for its name, and for its joins' names side by side."""
        tiling, face = self.tiling, self.typeface
        names = [
            face.width(self._name(row, column), PART_NAME, bold=True) + 2
            for row in range(tiling.rows)
            for column in range(tiling.across)
        ]
        join = face.width(self.template.join_name(tiling.across), NAME)
        return max(LEAST_PART, join + 1.5, *names)

    def _name(self, row: int, column: int) -> str:
        return self.template.sheet_name(self.tiling.label(row, column))

    def _scale(self) -> int:
        """The smallest picture whose names fit: on one line, or else over several."""
        room = self.room
        height = self.flow.height - 2 * LEAST_PART - 6 * TEXT_LINE
        step = float(max(b - a for a, b in pairwise(self.edges)))
        scale = max(scale_for(self.strip.length, room), scale_for(self.strip.height, height))
        while scale > 1 and not (step / scale >= self.least and self._named(scale)):
            if step / (scale - 1) > room or float(self.strip.height) / (scale - 1) > height / 2:
                break
            scale -= 1
        # What is a little too long leaves a part or two for a second line: rather one smaller line.
        smaller = range(scale, ceil(scale * A_LITTLE) + 1)
        return next((s for s in smaller if self._on_one_line(s)), scale)

    def _on_one_line(self, scale: int) -> bool:
        """True where all of it goes on one line at this scale, with every hole's number."""
        widths = (max(float(b - a) / scale, self.least) for a, b in pairwise(self.edges))
        numbered = len(self.rings) < 2 or self._pitch(scale) >= self.number_width + ASIDE
        return numbered and sum(widths) <= self.room

    def _named(self, scale: int) -> bool:
        """True where every hole and every gap has room for its name at this scale."""
        if len(self.rings) < 2:
            return True
        if self._pitch(scale) < self.number_width + ASIDE:
            return False
        return self._beside_numbers(scale) or self._in_band(scale)

    def _pitch(self, scale: int) -> float:
        """How far apart holes' numbers stand at the least."""
        return min(float(b.x - a.x) for a, b in pairwise(self.rings)) / scale

    def _beside_numbers(self, scale: int) -> bool:
        """True where every gap's letter has room between the holes' numbers."""
        return self._pitch(scale) >= self.number_width + self.letter_width + 2 * ASIDE

    def _in_band(self, scale: int) -> bool:
        """True where every gap's letter has room between the eyelets."""
        return all(self._beside_joins(gap, scale) is not None for gap in self.gaps)

    def _beside_joins(self, gap: _Gap, scale: int) -> Length | None:
        """Where in a gap its letter stands clear of joins and eyelets; None where it doesn't fit.

        In rows, parts' names stand in the band, so that letters don't.
        """
        if self.tiling.rows > 1:
            return None
        low, high = gap.clear
        needed = self.typeface.width(gap.letter, NAME, bold=True) + ASIDE
        fits = float(high - low) / scale >= needed and self._band_holds_letters(scale)
        return (low + high) / 2 if fits else None

    def _band_holds_letters(self, scale: int) -> bool:
        """True where a letter on the eyelets' line stays inside the band."""
        y = self.rings[0].y
        return float(min(y, self.strip.height - y)) / scale >= NAME / 2 + 0.4

    def draw(self) -> None:
        """The caption, and every line of the picture."""
        widths = [max(float(b - a) / self.scale, self.least) for a, b in pairwise(self.edges)]
        self._caption(
            longer=any(float(b - a) / self.scale < self.least for a, b in pairwise(self.edges))
        )
        flow, first, room = self.flow, 0, self.room
        while first < len(widths):
            last = first + 1
            while last < len(widths) and sum(widths[first : last + 1]) <= room:
                last += 1
            xs = [flow.left + self.indent + sum(widths[first:n]) for n in range(first, last + 1)]
            edges = list(zip(self.edges[first:], xs, strict=False))
            rows = list(self._name_rows(edges))
            under = TEXT_LINE + (2 * BELOW if self.tiling.rows == 1 else 1.0) + self.numbers_below
            over = (len(rows) + 1) * TEXT_LINE + self.letters_over
            low = flow.down(under + self._levels()[-1][1] + over) + under
            flow.draw(self._line(first, edges, low, rows))
            flow.gap(BETWEEN)
            first = last

    def _caption(self, *, longer: bool) -> None:
        front, back = self.letters["front"], self.letters["back"]
        gaps = f"; {front}: a gap in front of the pole, {back}: one behind it" if self.gaps else ""
        numbers, below = "the holes' numbers", ""
        if self.panels:
            first, second = self.panels
            numbers, below = f"{numbers} of {first}", f"those of {second}, "
        whose = "sheets" if self.tiling.lanes == 1 else "sheets' parts"
        named = f"Below it: {below}the {whose}, then the joins"
        if self.tiling.rows > 1:
            named = f"In it: the {whose}. Below it: {below}the joins"
        inner = " Dashed: where one panel ends and the other goes on." if self.inner_ends else ""
        drawn = ", short parts drawn longer" if longer else ""
        self.flow.paragraph(
            f"The strip as it is taped. Above the band: {numbers}{gaps}. {named}. "
            f"Scale 1:{self.scale}{drawn}.{inner}",
            SMALL,
            role=Role.CAPTION,
        )
        self.flow.space(2)

    def _levels(self) -> list[tuple[Length, float]]:
        """The band's edges and the joins of rows, and how far above its foot each is drawn."""
        height, rows = self.strip.height, self.tiling.row_joins
        levels = [(Fraction(0), 0.0)]
        for at in (*(min(max(y, Fraction(0)), height) for y in rows), height):
            drawn = float(at - levels[-1][0]) / self.scale
            levels.append((at, levels[-1][1] + (max(drawn, LEAST_ROW) if rows else drawn)))
        return levels

    def _name_rows(self, edges: _Edges) -> Iterator[list[Mark]]:
        """Rows of words over the holes' numbers, upward, with their baselines at 0."""
        (first, left), (last, right) = edges[0], edges[-1]
        face, role = self.typeface, Role.PART_END

        def put(x: float, words: str) -> Mark:
            width = face.width(words, NAME, bold=True)
            x = max(self.flow.left, min(x, self.flow.right - width))
            return drawing.text(face, x, 0.0, words, NAME, role, bold=True)

        names = []
        if first == 0:
            names.append(put(left, self.ends[0]))
        if last == self.strip.length:
            names.append(put(right - face.width(self.ends[1], NAME, bold=True), self.ends[1]))
        top_width = face.width("TOP", NAME, bold=True)
        top = put((left + right - top_width) / 2, "TOP")
        row: list[Mark] = []
        for mark in (*names, top):
            if any(_near(mark, there) for there in row):
                yield row
                row = []
            row.append(mark)
        yield row

    def _line(
        self, first: int, edges: _Edges, low: float, rows: list[list[Mark]]
    ) -> Iterator[Mark]:
        """Neighbouring parts from `first` on; `low` is the band's foot, `rows` words over it."""
        levels = [(at, low + y) for at, y in self._levels()]
        high = levels[-1][1]
        (_, left), (_, right) = edges[0], edges[-1]
        box = ((left, low), (right, low), (right, high), (left, high))
        yield Polygon(box, OUTLINE, None, Role.PART_OUTLINE)
        yield from self._inner_ends(edges, low, high)
        yield from self._holes(edges, levels)
        yield from self._gap_letters(edges, levels)
        for _, y in levels[1:-1]:
            yield Line(left, y, right, y, JOIN, Role.PART_ROW)
        for column, ((_, x0), (_, x1)) in enumerate(pairwise(edges), first):
            yield from self._part_names(column, (x0 + x1) / 2, levels)
            if column > 0:
                yield from self._join(column, x0, low, high)
        y = high + TEXT_LINE + 1.2 + self.letters_over
        for row in rows:
            yield from (drawing.moved(mark, 0.0, y) for mark in row)
            y += TEXT_LINE

    def _inner_ends(self, edges: _Edges, low: float, high: float) -> Iterator[Mark]:
        """Dashed, where a panel ends and the strip goes on for the other."""
        for at in self.inner_ends:
            if edges[0][0] <= at <= edges[-1][0]:
                x = _drawn(at, edges)
                yield Line(x, low, x, high, INNER_END, Role.PART_INNER_END)

    def _holes(self, edges: _Edges, levels: _Edges) -> Iterator[Mark]:
        """Circles with their numbers over the band or under it."""
        face, flow = self.typeface, self.flow
        over = levels[-1][1] + 1.2
        baselines = (over, levels[0][1] - TEXT_LINE + 1.2)
        for y, name in zip(baselines, self.panels, strict=False):
            yield drawing.text(face, flow.left, y, name, NAME, Role.PART_HOLE_OF, bold=True)
        start, end = edges[0][0], edges[-1][0]
        here = [ring for ring in self.rings if start <= ring.x < end]
        reach = edges[0][1] - self.number_width / 2 if self.panels else flow.left
        for ring in here:
            x, r = _drawn(ring.x, edges), float(ring.outside) / 2 / self.scale
            if x - r >= flow.left and x + r <= flow.right:
                yield Circle(x, _drawn(ring.y, levels), r, THIN, Role.PART_EYELET)
            widest = str(len(self.rings)) if self.panels else str(ring.number)
            half = face.width(widest, NAME, bold=True) / 2
            # Of more holes than have room for their numbers, as many are named as have it.
            if x - half >= reach and x + half <= flow.right:
                reach = x + half + ASIDE
                numbers = (ring.number, len(self.rings) + 1 - ring.number)
                shown = zip(numbers[: max(len(self.panels), 1)], baselines, strict=False)
                for number, y in shown:
                    yield drawing.text(
                        face,
                        x,
                        y,
                        str(number),
                        NAME,
                        Role.PART_HOLE,
                        anchor="middle",
                        bold=True,
                    )

    def _gap_letters(self, edges: _Edges, levels: _Edges) -> Iterator[Mark]:
        """The gaps' letters, on one line."""
        face, reach = self.typeface, self.flow.left
        y = levels[-1][1] + 1.2 + self.letters_over
        if self.letters_in_band:
            y = _drawn(self.rings[0].y, levels) - NAME * 0.36
        for gap in self.gaps:
            at = (gap.start + gap.end) / 2
            if self.letters_in_band:
                at = self._beside_joins(gap, self.scale) or at
            if not edges[0][0] <= at < edges[-1][0]:
                continue
            x, half = _drawn(at, edges), face.width(gap.letter, NAME, bold=True) / 2
            # Of more gaps than have room for their letters, as many are named as have it.
            if x - half >= reach:
                reach = x + half + ASIDE
                yield drawing.text(
                    face, x, y, gap.letter, NAME, LETTERS[gap.kind], anchor="middle", bold=True
                )

    def _part_names(self, column: int, x: float, levels: _Edges) -> Iterator[Mark]:
        """Below the band each sheet's or part's name; in rows, which count from the top, inside.

        There it is kept from the eyelets, where it would pass for a hole's number.
        """
        holes = _drawn(self.rings[0].y, levels)
        for row in range(self.tiling.rows):
            top, bottom = levels[-1 - row][1], levels[-2 - row][1]
            y = min((top + bottom) / 2, bottom + BELOW)
            if bottom < holes < (top + bottom) / 2:
                y = max((top + bottom) / 2, top - BELOW)
            y = levels[0][1] - self.numbers_below - BELOW if self.tiling.rows == 1 else y
            name = self._name(row, column)
            mark = drawing.text(
                self.typeface,
                x,
                y - PART_NAME * 0.36,
                name,
                PART_NAME,
                Role.PART_NAME,
                anchor="middle",
                bold=True,
            )
            x0, y0, x1, y1 = drawing.box(mark)
            ground = ((x0 - 0.6, y0), (x1 + 0.6, y0), (x1 + 0.6, y1), (x0 - 0.6, y1))
            yield Polygon(ground, None, 1.0, Role.GROUND)
            yield mark

    def _join(self, number: int, x: float, low: float, high: float) -> Iterator[Mark]:
        """A join's line over the band and past the sheets' names, and its own name under it.

        It leaves out the numbers below the band, which may be wider than what is free beside it.
        """
        names = low - self.numbers_below
        foot = names - (2 * BELOW - 0.6 if self.tiling.rows == 1 else 0.6)
        if self.numbers_below:
            yield Line(x, low, x, high, JOIN, Role.PART_JOIN)
            yield Line(x, foot, x, names, JOIN, Role.PART_JOIN)
        else:
            yield Line(x, foot, x, high, JOIN, Role.PART_JOIN)
        yield drawing.text(
            self.typeface,
            x,
            foot - NAME,
            self.template.join_name(number),
            NAME,
            Role.PART_JOIN_NAME,
            anchor="middle",
        )


def _near(one: Mark, other: Mark) -> bool:
    """True where two words of a row are closer than they may be."""
    a, b = drawing.box(one), drawing.box(other)
    return float(a[0]) < float(b[2]) + APART and float(b[0]) < float(a[2]) + APART


def _drawn(at: Length, edges: _Edges) -> float:
    """Where a place of the strip is drawn, between edges that are drawn where they say."""
    (start, low), (end, high) = next(pair for pair in pairwise(edges) if at <= pair[1][0])
    return low + float((at - start) / (end - start)) * (high - low)
