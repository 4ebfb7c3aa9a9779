"""Drops or a panel in, what is cut of them out, drawn to scale: off the roll, and flat and raw.

The roll runs to the right, face up, the tops of its drops to
the left: the cloth's left selvage, as seen with a drop's top at the far end, is the lower edge. A
panel is seen from its face, top up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from drapetemplate import drawing
from drapetemplate.drawing.fit_labels import LABEL, all_spaced, fitted, spaced, stacked
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Cloth, Job
from drapetemplate.measures import INCH, Length, format_length
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.drops import Drop, PlacedPiece, motif_from_edge
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.ticket.picture import CLOTH, MOTIF_HALF, SEAM, THIN, Picture, Point, scale_for
from drapetemplate.wording import Wording

CROSSCUT = Pen(0.6)
SLIT = Pen(0.45, (2.2, 1.2))
FOLD = Pen(0.2, (1.6, 1.0))
REPEAT = Pen(0.2)
OVER_GREY = 0.88
ROLL_FOOT = 10.0  # mm under a roll: running measures, in two lines where they are close
ROLL_HEAD = 5.2  # over it: drops' numbers
TICK = 1.6  # mm, at a repeat
SLIVER = INCH / 32  # narrower than shears cut, and no figure says it
TOP = 1.8  # mm, the wedge that points to a piece's top
WEDGED = 10.0  # mm of drop that has room for the wedge beside its words
LEAST_ROW = 30.0  # mm of paper that figures may take though the row is shorter
EDGE_WORDS = 4.1  # mm beside an edge that its words take
LEAST_REPEAT = 1.5  # mm between repeats that are still drawn


def roll_scale(cloth_width: Length, longest: Length, room: float, height: float) -> int:
    """The scale at which the cloth is `height` mm high at most and the longest drop fits `room`."""
    return max(scale_for(cloth_width, height), scale_for(longest, room))


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


def roll(job: Job, row: Sequence[Drop], width: Length, typeface: Typeface, scale: int) -> Picture:
    """One row of drops, one after another, with their pieces, slits and what is left over."""
    return _Roll(job, row, width, typeface, scale).picture()


@dataclass(frozen=True)
class _Roll:
    """One row of the roll; x runs along the cloth from the row's first drop."""

    job: Job
    row: Sequence[Drop]
    width: Length
    typeface: Typeface
    scale: int

    @property
    def across(self) -> float:
        """The cloth's width on paper."""
        return float(self.width) / self.scale

    @property
    def along(self) -> float:
        """The row's length on paper."""
        return self.x(self.row[-1].at + self.row[-1].length)

    @property
    def say(self) -> Wording:
        return Wording(self.job.units)

    def x(self, at: Length) -> float:
        return float(at - self.row[0].at) / self.scale

    def y(self, across: Length) -> float:
        return ROLL_FOOT + float(across) / self.scale

    def picture(self) -> Picture:
        return Picture(
            self.along, ROLL_FOOT + self.across + ROLL_HEAD, self.scale, tuple(self._marks())
        )

    def _marks(self) -> Iterator[Mark]:
        low, high = ROLL_FOOT, ROLL_FOOT + self.across
        box = ((0.0, low), (self.along, low), (self.along, high), (0.0, high))
        yield Polygon(box, None, OVER_GREY, Role.LEFT_OVER)
        for drop in self.row:
            yield from self._drop(drop)
        for y in (low, high):
            yield Line(0.0, y, self.along, y, CLOTH, Role.SELVAGE)
        yield from self._repeats()
        yield from self._figures()

    def _drop(self, drop: Drop) -> Iterator[Mark]:
        start, end = self.x(drop.at), self.x(drop.at + drop.length)
        trimmed = self.x(drop.at + drop.length - drop.over)
        for piece in drop.pieces:
            low, high = self.y(piece.left), self.y(piece.left + piece.width)
            box = ((start, low), (trimmed, low), (trimmed, high), (start, high))
            yield Polygon(box, None, 1.0, Role.PIECE)
            yield from self._inside(drop, piece, (start, low), (trimmed, high))
        yield from self._motifs(drop, trimmed)
        if is_trimmed(drop):
            yield Line(trimmed, ROLL_FOOT, trimmed, ROLL_FOOT + self.across, SLIT, Role.END_TRIM)
        for across in slits(drop, self.width):
            yield Line(start, self.y(across), end, self.y(across), SLIT, Role.SLIT)
        for at in (start, end):
            yield Line(at, ROLL_FOOT, at, ROLL_FOOT + self.across, CROSSCUT, Role.CROSSCUT)

    def _motifs(self, drop: Drop, end: float) -> Iterator[Mark]:
        """A lozenge at every motif's centre on the pieces, beside the end of the drop."""
        repeat = drop.cloth.repeat_across
        if repeat is None or float(repeat) / self.scale < LEAST_REPEAT:
            return
        for piece in drop.pieces:
            off = motif_from_edge(drop, piece)
            while off is not None and off <= piece.width:
                y = self.y(piece.left + off)
                yield drawing.lozenge(end - 2 * MOTIF_HALF, y, MOTIF_HALF, THIN, Role.MOTIF)
                off += repeat

    def _inside(self, drop: Drop, piece: PlacedPiece, low: Point, high: Point) -> Iterator[Mark]:
        """A wedge at the piece's top, and its words, up along it where it is narrow."""
        middle = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
        width, height = high[0] - low[0] - 1.4, high[1] - low[1] - 0.8
        if (height if drop.turned else width) >= WEDGED and height >= TOP:
            # Turned cloth has the panel's top along the cloth, not at its start.
            (x, y), (dx, dy) = (middle[0], high[1]), (0, -1)
            if not drop.turned:
                (x, y), (dx, dy) = (low[0], middle[1]), (1, 0)
            wedge = ((0.7, 0.0), (0.7 + TOP, TOP / 2.5), (0.7 + TOP, -TOP / 2.5))
            corners = ((x + dx * d - dy * off, y + dy * d + dx * off) for d, off in wedge)
            yield Polygon(tuple(corners), None, 0.0, Role.TOP)
            if drop.turned:
                height -= 2 * TOP
            else:
                width -= 2 * TOP
        name, panel, which, width_words = piece_words(self.job, drop, piece)
        whole = ", ".join(words for words in (panel, which) if words)
        forms = (
            (f", {whole}", width_words),
            ("", whole, width_words),
            *([("", panel, which, width_words)] if which else []),
            (f", {whole}, {width_words}",),
        )
        # The list below has every width.
        shorter = [(f", {whole}",)]
        if which:
            shorter.append((f", {panel} {piece.number}/{piece.of}",))
        # Without its window's name only where there is no other.
        bare: tuple[tuple[str, ...], ...] = ()
        if len(self.job.windows) == 1:
            bare = ((whole, width_words), (f"{whole}, {width_words}",), (whole,))
        ways = ((0, width, height), (90, height, width))
        label = fitted(self.typeface, forms, ways, name=name, shorter=shorter, bare=bare)
        yield from stacked(self.typeface, label, *middle, Role.PIECE_LABEL, bold=True)

    def _repeats(self) -> Iterator[Mark]:
        """Ticks on both selvages at each drop's repeats along it, and at its start across it."""
        for drop in self.row:
            down, across = drop.cloth.repeat_down, drop.cloth.repeat_across
            if down and float(down) / self.scale >= LEAST_REPEAT:
                for n in range(drop.length // down + (drop is self.row[-1])):
                    x = self.x(drop.at + n * down)
                    for y, way in ((ROLL_FOOT, 1), (ROLL_FOOT + self.across, -1)):
                        yield Line(x, y, x, y + way * TICK, REPEAT, Role.REPEAT)
            if across and float(across) / self.scale >= LEAST_REPEAT:
                x = self.x(drop.at)
                for n in range(1, self.width // across + 1):
                    y = self.y(n * across)
                    yield Line(x, y, x + TICK, y, REPEAT, Role.REPEAT)

    def _figures(self) -> Iterator[Mark]:
        """Over each drop its number; under each cut across how far it is from the cloth's start."""
        ends = [(self.x(drop.at), self.x(drop.at + drop.length)) for drop in self.row]
        noun = "" if min(end - start for start, end in ends) < 16 else "drop "
        numbers = (
            ((start + end) / 2, f"{noun}{drop.number}")
            for (start, end), drop in zip(ends, self.row, strict=True)
        )
        last = max(self.along, LEAST_ROW)
        y = ROLL_FOOT + self.across + 1.2
        yield from spaced(self.typeface, numbers, (y,), last, Role.DROP_NUMBER, bold=True)
        cuts = [self.row[0].at]
        for drop in self.row:
            end = drop.at + drop.length
            if drop.at != cuts[-1]:  # cloth left between two windows
                cuts.append(drop.at)
            cuts += [end - drop.over, end] if is_trimmed(drop) else [end]
        measures = ((self.x(at), self.say(at)) for at in cuts)
        levels = (ROLL_FOOT - 4.0, ROLL_FOOT - 8.0)
        yield from spaced(self.typeface, measures, levels, last, Role.RUNNING_MEASURE)


def piece_words(job: Job, drop: Drop, piece: PlacedPiece) -> tuple[str, str, str, str]:
    """A piece's label: its window, its panel, which piece of it ("" of one), and its width."""
    side, number = piece.panel.side, piece.panel.number
    panel = f"{side} panel" if drop.part == "face" or side == "single" else side
    panel += "" if number is None else f" {number}"
    panel += " lining" if drop.part == "lining" else ""
    which = f"piece {piece.number} of {piece.of}" if piece.of > 1 else ""
    if not piece.known:
        width_words = "length not known"
    else:
        width_words = format_length(piece.width, job.units) + ("" if drop.turned else " wide")
    return drop.window, panel, which, width_words


def hem_or_seam(cloth: Cloth, taken: Length) -> str:
    """What an edge takes its cloth for: of a bagged lining a seam, unless it is given more."""
    return "seam" if cloth.joined == "bagged" and taken == cloth.seam else "hem"


def is_trimmed(drop: Drop) -> bool:
    """Whether something is cut off a drop's end, and more than a sliver."""
    return drop.over >= SLIVER


def slits(drop: Drop, width: Length) -> tuple[Length, ...]:
    """Where a drop is slit, from its left selvage; no sliver is cut off a piece's edge."""
    places = [Fraction(0)]
    for piece in drop.pieces:
        for at in (piece.left, piece.left + piece.width):
            if at - places[-1] >= SLIVER and width - at >= SLIVER:
                places.append(at)
    return tuple(places[1:])


def raw_panel(
    job: Job,
    window: WindowPlan,
    panel: PanelPlan,
    use: ClothUse,
    typeface: Typeface,
    scale: int,
    *,
    named: bool = True,
) -> Picture:
    """A panel of one cloth flat and raw: pieces, seams, hems, and the finished size.

    What is left over of a drop isn't told here: another panel's piece may come of it. Without its
    window's name unless it is `named`.
    """
    return _RawPanel(job, window, panel, use, typeface, scale, named=named).picture()


def raw_size(panel: PanelPlan, use: ClothUse) -> tuple[Length, Length]:
    """A panel's raw width and its length; where that isn't known, so that it can be drawn."""
    width = use.width + 2 * use.cloth.side_hem
    if use.panel_cut is None:
        return width, use.cloth.heading + use.cloth.bottom_hem + max(width, 4 * panel.band_height)
    return width, use.panel_cut


class _RawPanel:
    """One panel; x from its left raw edge as seen from the face, y from its raw foot."""

    foot, head = 10.7, 5.8  # mm of paper for words under and over the cloth

    def __init__(
        self,
        job: Job,
        window: WindowPlan,
        panel: PanelPlan,
        use: ClothUse,
        typeface: Typeface,
        scale: int,
        *,
        named: bool,
    ) -> None:
        self.name = window.name if named else ""
        self.job, self.panel, self.use = job, panel, use
        self.typeface, self.scale = typeface, scale
        self.width, self.length = raw_size(panel, use)
        self.shrinks = 1 + use.cloth.shrinkage

    @property
    def say(self) -> Wording:
        return Wording(self.job.units)

    @property
    def across(self) -> float:
        """The raw width on paper."""
        return float(self.width) / self.scale

    def x(self, raw: Length) -> float:
        """Paper x of a measure from the raw edge beside the leading edge."""
        return float(self.width - raw if self.panel.leading_at_right else raw) / self.scale

    def y(self, up: Length) -> float:
        return self.foot + float(up) / self.scale

    def picture(self) -> Picture:
        height = self.y(self.length) + self.head
        return Picture(self.across, height, self.scale, tuple(self._marks()))

    def _marks(self) -> Iterator[Mark]:
        cloth, panel = self.use.cloth, self.panel
        hem, zero = cloth.side_hem, Fraction(0)
        foot = self._finished_foot()
        top = self.length - cloth.heading * self.shrinks
        low, high = self.y(zero), self.y(self.length)
        corners = ((0.0, low), (self.across, low), (self.across, high), (0.0, high))
        yield Polygon(corners, CROSSCUT, None, Role.RAW_EDGE)
        for up in (foot, top) if cloth.heading else (foot,):
            yield Line(self.x(zero), self.y(up), self.x(self.width), self.y(up), FOLD, Role.FOLD)
        for raw in (hem, self.width - hem):
            yield Line(self.x(raw), self.y(zero), self.x(raw), self.y(self.length), FOLD, Role.FOLD)
        y = self.y(top - (panel.above + panel.outside / 2) * self.shrinks)
        r = float(panel.outside) / 2 / self.scale
        # An end eyelet beside a lining that is set in far isn't on it.
        across = (self.x(hem + center - cloth.set_in) for center in panel.centers)
        yield from (Circle(x, y, r, THIN, Role.EYELET) for x in across if r <= x <= self.across - r)
        yield from self._motifs(y - r)
        seams = () if self.use.seams is None else self.use.seams.seams
        for seam in seams:
            x = self.x(hem + seam)
            yield Line(x, self.y(zero), x, self.y(self.length), SEAM, Role.SEAM)
        yield from self._words(foot, top)
        yield from self._pieces()

    def _motifs(self, under_eyelets: float) -> Iterator[Mark]:
        """A lozenge at each motif's centre in front, at its height where it has one of its own.

        One that has only a height is drawn in the middle of the panel.
        """
        use, panel = self.use, self.panel
        y = under_eyelets
        places = (panel.motifs or ()) if use.part == "face" else ()
        if use.motif_cut is not None:
            y = self.y(self.length - use.motif_cut)
            places = places or (use.width / 2,)
        for motif in places:
            if 0 <= motif <= panel.width:
                x = self.x(use.cloth.side_hem + motif)
                yield drawing.lozenge(x, y, MOTIF_HALF, THIN, Role.MOTIF)

    def _finished_foot(self) -> Length:
        """How far the finished foot is above the raw one; what a repeat leaves over is below it."""
        cloth = self.use.cloth
        if self.use.length is None:
            return cloth.bottom_hem
        return self.length - (cloth.heading + self.use.length) * self.shrinks

    def _words(self, foot: Length, top: Length) -> Iterator[Mark]:
        """The finished size in the middle, heading and hem in their strips, edges at the sides."""
        cloth, panel, face = self.use.cloth, self.panel, self.typeface
        finished = float(self.use.width) / self.scale
        middle = float(self.width) / 2 / self.scale
        single = panel.side == "single"
        noun = "panel" if self.use.part == "face" else "lining"
        side = f"{panel.side} {noun}"
        under = top - (panel.above + panel.outside) * self.shrinks  # the eyelets
        y = (self.y(foot) + self.y(under)) / 2
        height = float(under - foot) / self.scale - 1
        across = self.say(self.use.width)
        if self.use.length is None:
            size, along = f"{across} wide", "length not known"
        else:
            size = f"{across} × {self.say(self.use.length)}"
            along = f"{self.say(self.use.length)} long"
        forms = ((f", {side}", "finished", size), ("", side, "finished", f"{across} wide", along))
        bare = ((side, size), (side,))  # the window stands in the heading
        # A narrow panel has its name along it, before it goes without. Words stand in the widest
        # piece, off its seams, where they fit there.
        along_it = ((f", {side}",),)
        whole = finished - 2 * EDGE_WORDS - 0.3
        for at, room in (self._widest_piece(), (middle, whole)):
            across_it, along_all = (0, room, height), (90, height, room)
            if self.name:
                label = fitted(face, forms, (across_it,), name=self.name) or fitted(
                    face, along_it, (along_all,), name=self.name
                )
            else:
                label = fitted(face, (), (across_it,), bare=((side, *forms[0][1:]), forms[1][1:]))
            label = label or fitted(face, (), (across_it, along_all), bare=bare)
            middle_of_words = at
            if label is not None:
                break
        words = [*stacked(face, label, middle_of_words, y, Role.PANEL_WORDS, bold=True)]
        for hem_words, low, high in (
            ((f"heading {self.say(cloth.heading)}",), top, self.length),
            (self._hem(foot), Fraction(0), foot),
        ):
            strip = float(high - low) / self.scale
            on_one_line = (" ".join(hem_words),)
            at, room = self._widest_piece()
            label = fitted(face, (), ((0, room, strip),), bare=(on_one_line,))
            if label is None:
                at = middle
                label = fitted(
                    face, (), ((0, finished, strip),), bare=(on_one_line, hem_words, hem_words[:1])
                )
            words += stacked(face, label, at, (self.y(low) + self.y(high)) / 2, Role.PANEL_WORDS)
        ends = ("LEFT", "RIGHT") if single else ("LEADING", "RETURN")
        reach = min(EDGE_WORDS, finished / 2)
        for raw, end, inward in (
            (cloth.side_hem, ends[0], 1),
            (self.width - cloth.side_hem, ends[1], -1),
        ):
            edge = f"{end} EDGE"
            hem = f"{edge} · {hem_or_seam(cloth, cloth.side_hem)} {self.say(cloth.side_hem)}"
            ways = ((90, height, reach),)
            label = fitted(face, (), ways, bare=((hem,), (edge,), (end,)))
            x = self.x(raw) + (-inward if panel.leading_at_right else inward) * reach / 2
            words += stacked(face, label, x, y, Role.PANEL_WORDS)
        for mark in words:
            # On white, so that no seam runs through them.
            x0, y0, x1, y1 = drawing.box(mark)
            yield Polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), None, 1.0, Role.GROUND)
            yield mark

    def _widest_piece(self) -> tuple[float, float]:
        """The middle of the widest place between seams and the edges' words, and its room."""
        hem = float(self.use.cloth.side_hem) / self.scale + EDGE_WORDS
        seams = sorted(map(self.x, self._edges()[1:-1]))
        places = [x for x in seams if hem < x < self.across - hem]
        spans = pairwise([hem, *places, self.across - hem])
        left, right = max(spans, key=lambda span: span[1] - span[0])
        return (left + right) / 2, right - left - (1.0 if places else 0.3)

    def _edges(self) -> list[Length]:
        """Raw edges and seams, from the edge beside the leading edge."""
        seams = () if self.use.seams is None else self.use.seams.seams
        return [Fraction(0), *(s + self.use.cloth.side_hem for s in seams), self.width]

    def _hem(self, foot: Length) -> tuple[str, ...]:
        """The bottom hem, and what the pattern's repeats leave over at the foot."""
        cloth = self.use.cloth
        over = foot - cloth.bottom_hem * self.shrinks
        in_repeats = cloth.repeat_down and not cloth.railroad  # else it is less than can be cut
        more = (f"+ {self.say(over)} left over",) if in_repeats and over > 0 else ()
        turned = hem_or_seam(cloth, cloth.bottom_hem)
        return (f"bottom {turned} {self.say(cloth.bottom_hem)}", *more)

    def _pieces(self) -> Iterator[Mark]:
        """Over the panel each piece's number and raw width; under it the seams."""
        seams = self.use.seams
        if seams is None:
            return
        face, numbers = self.typeface, []
        for n, (start, end) in enumerate(pairwise(self._edges())):
            middle, room = (self.x(start) + self.x(end)) / 2, float(end - start) / self.scale - 1
            words = f"{n + 1}: {self.say(seams.pieces[n])}"
            fits = face.width(words, LABEL, bold=True) <= room
            numbers.append((middle, words if fits else f"{n + 1}"))
        hem = self.use.cloth.side_hem
        from_edge = f" from {self.panel.edge} edge"
        sewn = [(self.x(seam + hem), f"seam {self.say(seam)}") for seam in seams.seams]
        at_length = [(x, f"{words}{from_edge}") for x, words in sewn]
        y = self.y(self.length) + 1.4
        yield from spaced(face, numbers, (y,), self.across, Role.PIECE_NUMBER, bold=True)
        y = self.foot - 7.4
        marks = all_spaced(face, at_length, y, self.across, Role.SEAM_MEASURE)
        yield from marks or all_spaced(face, sewn, y, self.across, Role.SEAM_MEASURE)
