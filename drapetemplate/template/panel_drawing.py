"""A panel's strip in, everything that is drawn on it out; for a pair both panels' marks.

Frame and units as in `strip.py`. Mono ink tells the lines apart: the hole to cut is the heaviest,
guides are thin and finely dotted, so that none is taken for a join.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Anchor, Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_length
from drapetemplate.planning.model import PanelPlan, Side, WindowPlan
from drapetemplate.template.hole_words import hole_words
from drapetemplate.template.strip import EDGE_ZONE, Ring, Strip, Template, strip

HOLE = Pen(0.7)
OUTSIDE = Pen(0.3)
PANEL_END = Pen(0.5)
BAND_LINE = Pen(0.35)
CENTER_LINE = Pen(0.18, (6, 1.5, 1, 1.5))
CROSS = Pen(0.2)
GUIDE = Pen(0.15, (0.3, 0.9))
RETURN_FOLD = Pen(0.35, (4, 1, 1, 1, 1, 1))
SEAM = Pen(0.6, (0.6, 1.4))
MOTIF = Pen(0.25)
OTHER_END = Pen(0.5, (3, 1))

NUMBER_SIZE, MEASURE_SIZE, LEAST_LABEL = 6.5, 4.2, 3.1
# On a strip for a pair each panel's number and measure of an eyelet are in one line, or in two
# where the room for them is as high as this; no more of it than this is used.
TWO_LINES, HIGHEST_LABEL = 12, 18
BETWEEN_WORDS = 2.0  # mm from a number to the measure in its line
BIGGEST_LETTER = 15.0
CENTER_HOLE = Fraction(3, 2)  # its diameter
CROSS_ARM = Fraction(6)  # at most, to either side of the centre
CENTER_LINE_OVER = Fraction(1)  # mm of the centre line beyond the end eyelets

MOTIF_HALF = Fraction(2)  # at most, half as wide as the mark of a motif is
MOTIF_UNDER = Fraction(2)  # mm from the centre line to its upper end, clear of the gap's letter

# Words at the panel's ends, and the cloth there that has room for them, in mm.
END_SIZE, FOLD_SIZE = 3.6, 3.1
END_ROOM, FOLD_ROOM = 7, 22
LEAST_UPRIGHT = 3.05  # mm of letters that read upward: capitals of 2.2 mm
WORDS_ROOM = 14  # mm beside a panel's end or fold that words of two panels take
WEDGE_ROOM = 8  # likewise for wedges at the leading edge
WEDGED_HEIGHT = 60  # mm of band that have room for wedges above and below the words
WEDGE_LENGTH, WEDGE_HALF = Fraction(5), Fraction(5, 2)
WEDGE_INSET = Fraction(7)  # from the band's edges to a wedge's tip

# Words up along a seam or the second panel's lines.
SEAM_TEXT = Fraction(31, 10)
SEAM_WORDS = SEAM_TEXT + Fraction(3, 2)  # mm beside a seam that its words take


def template(
    job: Job,
    window: WindowPlan,
    panel: PanelPlan,
    typeface: Typeface,
    other: PanelPlan | None = None,
) -> Template:
    """The strip of one panel of a plan, or of both of a pair, with everything drawn on it."""
    bare = strip(panel, job.paper.view, other)
    whose = ""
    sides: tuple[Side, ...] = (panel.side,)
    second = None
    if other is not None:
        whose, sides = f"{panel.side} panel ", (panel.side, other.side)
        second = _SecondPanel(job, other, bare, typeface, panel)
    marks = [*_FirstPanel(job, panel, bare, typeface, second).marks()]
    if second is not None:
        marks += second.marks()
    return Template(
        letter="",
        window=window.name,
        sides=sides,
        piece="",
        quantity=window.quantity,
        seen=job.paper.view,
        strip=bare,
        marks=tuple(marks),
        closing=f"{whose}{format_length(panel.width, job.units)} end to end",
    )


def _shorter(words: str) -> tuple[str, ...]:
    """Words at a panel's end or fold, and shorter ones that say the same.

    >>> _shorter("LEFT: LEADING EDGE")
    ('LEFT: LEADING EDGE', 'LEFT: LEADING', 'L: LEADING')
    >>> _shorter("RETURN FOLD")
    ('RETURN FOLD', 'FOLD')
    """
    short = words.replace("RETURN FOLD", "FOLD").removesuffix(" EDGE")
    whose, colon, line = short.partition(": ")
    forms = [words, short] if words != "EDGE" else [words]
    return (*forms, f"{whose[0]}: {line}") if colon else tuple(forms)


def _uncut(words: str) -> tuple[str, ...]:
    """The same of an end that the strip goes on beyond, for the other panel: it isn't cut there.

    >>> _uncut("LEFT: LEADING EDGE")[1:4]
    ("LEFT: LEADING · don't cut here", "L: LEADING · don't cut", 'LEFT: LEADING EDGE')
    """
    forms = _shorter(words)
    here = [f"{form} · don't cut{'' if form == forms[-1] else ' here'}" for form in forms]
    return (*here, *forms)


class _PanelDrawing:
    """What is drawn of a panel on a strip; measures are from its own leading edge.

    `name` is what its marks are named for where two panels share the strip, else "".
    """

    name_roles = (Role.NUMBER, Role.MEASURE)

    def __init__(
        self, job: Job, panel: PanelPlan, bare: Strip, typeface: Typeface, *, shared: bool
    ) -> None:
        self.job, self.panel, self.strip, self.typeface = job, panel, bare, typeface
        self.width, self.height = panel.width, bare.height
        self.name = panel.side.upper() if shared else ""
        self.is_second = False

    def x(self, measure: Length) -> Length:
        """Where a measure falls on the strip."""
        return self.strip.x(measure)

    def own_number(self, number: int) -> int:
        """The panel's number of the eyelet that the strip's first panel counts as `number`."""
        return number

    def upright(self, measure: Length, pen: Pen, role: Role) -> Line:
        """A line over the band's whole height."""
        x = self.x(measure)
        return Line(x, Fraction(0), x, self.height, pen, role)

    def beside_line(
        self, measure: Length, words: str, role: Role, toward: Length = Fraction(0)
    ) -> Mark:
        """Words up along an upright line, on the side of the measure `toward`.

        For a seam that is the leading edge's side, where the eyelet is that hides it.
        """
        right = self.x(toward) > self.x(measure)
        x = self.x(measure) + (SEAM_TEXT + Fraction(1, 2) if right else -1)
        forms = (words, words.partition(" from ")[0], words.partition(" · ")[0])
        return self._upward(
            x, Fraction(3), forms, float(SEAM_TEXT), role, float(self.height) - 6, "start"
        )

    def _upright_words(
        self, beside: Length, toward: Length, words: str, size: float, role: Role
    ) -> Mark:
        """Words that read upward, beside an upright line on the side of the measure `toward`.

        They have the band's height; where the lines of two panels are near one another the first
        panel's have its upper half, the second's its lower one. Too long for it they are shorter.
        """
        at, right = self.x(beside), self.x(toward) > self.x(beside)
        baseline = at + Fraction(5) if right else at - Fraction(2)
        wedged = self._wedged and beside == 0 and not self.is_second
        free = 10 if wedged else 2  # at the band's edges
        low, high = Fraction(free), self.height - free
        if self.name and self._lines_near:
            half = self.height / 2
            low, high = (low, half - 1) if self.is_second else (half + 1, high)
        goes_on = 0 < at < self.strip.length and (beside in {0, self.width})
        forms = _uncut(words) if goes_on else _shorter(words)
        return self._upward(
            baseline, (low + high) / 2, forms, size, role, float(high - low), "middle"
        )

    @property
    def _lines_near(self) -> bool:
        """True where words beside a line of one panel would reach a line of the other."""
        leading, return_ = self.panel.leading, self.panel.return_
        return min(abs(return_ - leading), leading, return_) < WORDS_ROOM

    def _upward(
        self,
        x: Length,
        y: Length,
        forms: Sequence[str],
        size: float,
        role: Role,
        most: float,
        anchor: Anchor,
    ) -> Mark:
        """The first of some `forms` of words that can be read, upward, in `most` mm; else the last.

        Where even that one is too long it is smaller.
        """
        readable = (
            form
            for form in forms
            if self.typeface.width(form, min(size, LEAST_UPRIGHT), bold=True) <= most
        )
        return drawing.text(
            self.typeface,
            x,
            y,
            next(readable, forms[-1]),
            size,
            role,
            anchor=anchor,
            bold=True,
            angle=90,
            most=most,
        )

    @property
    def _wedged(self) -> bool:
        """True where the band is high enough for wedges above and below the words."""
        return self.height >= WEDGED_HEIGHT

    def seam_words(self, seam: Length) -> str:
        """How far a seam is from the nearest eyelet's outside, the ring's edge, in words."""
        radius = self.panel.outside / 2
        off, number = min(
            (abs(center - seam) - radius, number)
            for number, center in enumerate(self.panel.centers, 1)
        )
        if off <= 0:
            return f"UNDER {self.name or 'EYELET'} {number}"
        whose = f"{self.name or 'eyelet'} {number}"
        return f"{format_length(off, self.job.units)} from ring edge, {whose}"

    def motif_marks(self, role: Role) -> Iterator[Mark]:
        """A lozenge at each motif's centre, under the centre line; what is off the panel isn't.

        With it a dot, which is the centre itself.
        """
        half = min(MOTIF_HALF, self.panel.outside / 16)
        y = self.strip.rings[0].y - MOTIF_UNDER - 2 * half
        for motif in self.panel.motifs or ():
            if 0 <= motif <= self.width:
                yield drawing.lozenge(self.x(motif), y, half, MOTIF, role)
                yield Circle(self.x(motif), y, CENTER_HOLE / 4, CROSS, role)

    def eyelet_names(self, *, over: bool) -> Iterator[Mark]:
        """The panel's number and measure of every eyelet, in a row over all of them or under.

        Each is named for its panel, so that nobody reads the other panel's.
        """
        for ring in self.strip.rings:
            number = self.own_number(ring.number)
            low, high = Fraction(0), ring.y - ring.outside / 2
            if over:
                low, high = ring.y + ring.outside / 2, self.height
            if not self.strip.labels_inside:
                low = self.height if over else -EDGE_ZONE
                high = low + EDGE_ZONE
            measure = format_length(self.panel.centers[number - 1], self.job.units)
            yield from self._eyelet_name(ring, low, high, number, measure)

    def _eyelet_name(
        self, ring: Ring, low: Length, high: Length, number: int, measure: str
    ) -> Iterator[Mark]:
        """One eyelet's number and measure between two heights, one above the other or in a line."""
        face, most = self.typeface, float(self.panel.pitch) - 2
        flange = float(ring.outside) - 1
        middle, room = (low + high) / 2, min(high - low, Fraction(HIGHEST_LABEL))
        two = room >= TWO_LINES
        line = float(room) / 2 if two else float(room)

        def size_of(ems: float, size: float, between: float = 0.0) -> float:
            # Between the guides at its flange, unless that would make it too small to read.
            return min(size, line * 0.75, max(LEAST_LABEL, (flange - between) / ems))

        measure_ems = face.width(measure, 1)
        # The panel's name, or its first letter where the eyelets are too near one another.
        for name in (f"{self.name} {number}", f"{self.name[0]}{number}"):
            name_ems = face.width(name, 1, bold=True)
            sizes = size_of(name_ems, NUMBER_SIZE), size_of(measure_ems, MEASURE_SIZE)
            widest = max(name_ems * sizes[0], measure_ems * sizes[1])
            if not two:
                sizes = (size_of(name_ems + measure_ems, MEASURE_SIZE, BETWEEN_WORDS),) * 2
                widest = (name_ems + measure_ems) * sizes[0] + BETWEEN_WORDS
            if widest <= most:
                break
        else:
            sizes = (sizes[0] * most / widest, sizes[1] * most / widest)
        roles = self.name_roles
        if two:
            for n, (words, size) in enumerate(zip((name, measure), sizes, strict=True)):
                center = middle + room / 4 * (1 - 2 * n)
                y = center - Fraction(0.365 * size)
                x = self.strip.inside(ring.x, Fraction(face.width(words, size, bold=n == 0)))
                yield drawing.text(face, x, y, words, size, roles[n], anchor="middle", bold=n == 0)
            return
        size = sizes[0]
        width = Fraction((name_ems + measure_ems) * size + BETWEEN_WORDS)
        x, y = self.strip.inside(ring.x, width), middle - Fraction(0.365 * size)
        yield drawing.text(face, x - width / 2, y, name, size, roles[0], bold=True)
        yield drawing.text(face, x + width / 2, y, measure, size, roles[1], anchor="end")


class _FirstPanel(_PanelDrawing):
    """Everything of the panel that a strip is of, its eyelets included."""

    def __init__(
        self,
        job: Job,
        panel: PanelPlan,
        bare: Strip,
        typeface: Typeface,
        second: _SecondPanel | None,
    ) -> None:
        super().__init__(job, panel, bare, typeface, shared=second is not None)
        self.y = bare.rings[0].y
        self.other_seams = () if second is None else second.seams_from_the_other()
        self.arm = min(CROSS_ARM, panel.hole / 3)
        self.hole_words = hole_words(panel.hole, self.arm, job.units, typeface)

    def marks(self) -> Iterator[Mark]:
        """In the order they are drawn."""
        yield from self._edges()
        yield from self._ends()
        for ring in self.strip.rings:
            yield from self._eyelet(ring)
        if self.name:
            yield from self.eyelet_names(over=True)
        yield from self._letters()
        yield from self.motif_marks(Role.MOTIF)
        yield from self._seams()

    def _edges(self) -> Iterator[Mark]:
        for y in (Fraction(0), self.height):
            yield Line(Fraction(0), y, self.strip.length, y, BAND_LINE, Role.BAND_LINE)
        for measure in (Fraction(0), self.width):
            yield self.upright(measure, PANEL_END, Role.PANEL_END)
        # The centre line stops short of the words at the ends.
        start = max(self.panel.leading - CENTER_LINE_OVER, Fraction(0))
        end = self.width - max(self.panel.return_ - CENTER_LINE_OVER, Fraction(0))
        left, right = sorted((self.x(start), self.x(end)))
        yield Line(left, self.y, right, self.y, CENTER_LINE, Role.CENTER_LINE)

    def _ends(self) -> Iterator[Mark]:
        panel, hooks = self.panel, not self.panel.gaps
        whose = f"{self.name}: " if self.name else ""
        if panel.side == "single":
            kind = "EDGE" if hooks else "RETURN EDGE"
            start_name, end_name = f"LEFT {kind}", f"RIGHT {kind}"
        else:
            start_name, end_name = f"{whose}LEADING EDGE", f"{whose}RETURN EDGE"
        folds = [] if hooks else [(self.width, panel.return_)]
        if not hooks and panel.side == "single":
            folds.append((Fraction(0), panel.leading))
        for edge, cloth in folds:
            if cloth > 0:
                fold = abs(edge - cloth)
                yield self.upright(fold, RETURN_FOLD, Role.RETURN_FOLD)
                if cloth >= FOLD_ROOM:
                    yield self._upright_words(
                        fold, edge, f"{whose}RETURN FOLD", FOLD_SIZE, Role.FOLD_LABEL
                    )
        for edge, cloth, name in (
            (Fraction(0), panel.leading, start_name),
            (self.width, panel.return_, end_name),
        ):
            leading = panel.side != "single" and edge == 0
            if cloth >= END_ROOM:
                far = abs(self.width - edge)
                yield self._upright_words(edge, far, name, END_SIZE, Role.END_LABEL)
            if leading and cloth >= WEDGE_ROOM and self._wedged:
                yield from self._wedges()

    def _wedges(self) -> Iterator[Mark]:
        """Two solid wedges that point at the leading edge."""
        tip = self.x(Fraction(0))
        back = self.x(WEDGE_LENGTH)
        for y in (WEDGE_INSET, self.height - WEDGE_INSET):
            points = ((tip, y), (back, y + WEDGE_HALF), (back, y - WEDGE_HALF))
            yield Polygon(points, None, 0.0, Role.LEADING_WEDGE)

    def _eyelet(self, ring: Ring) -> Iterator[Mark]:
        x, y, r = ring.x, ring.y, ring.outside / 2
        for edge in (x - r, x + r):
            yield Line(edge, Fraction(0), edge, self.height, GUIDE, Role.GUIDE)
        yield Circle(x, y, r, OUTSIDE, Role.OUTSIDE)
        yield Circle(x, y, ring.hole / 2, HOLE, Role.HOLE)
        arm = self.arm
        yield Line(x - arm, y, x + arm, y, CROSS, Role.CENTER_CROSS)
        yield Line(x, y - arm, x, y + arm, CROSS, Role.CENTER_CROSS)
        yield Circle(x, y, min(CENTER_HOLE, ring.hole / 3) / 2, CROSS, Role.CENTER_HOLE)
        if not self._seam_through(ring):
            yield from self.hole_words.at(ring, self.typeface)
        if self.name:
            return
        over, under = self.height - y - r, y - r
        measure = format_length(self.panel.centers[ring.number - 1], self.job.units)
        yield self._label(ring, y + r, over, str(ring.number), NUMBER_SIZE, Role.NUMBER)
        yield self._label(ring, Fraction(0), under, measure, MEASURE_SIZE, Role.MEASURE)

    def _seam_through(self, ring: Ring) -> bool:
        """True where a seam's line, or its words, would run through the words in a hole."""
        reach = ring.hole / 2 + SEAM_WORDS
        center = self.panel.centers[ring.number - 1]
        seams = (*(self.panel.seams or ()), *self.other_seams)
        return any(abs(seam - center) < reach for seam in seams)

    def _label(
        self, ring: Ring, bottom: Length, room: Length, words: str, size: float, role: Role
    ) -> Mark:
        """A ring's number above it or measure below it: in the band where that has room."""
        if not self.strip.labels_inside:
            room = EDGE_ZONE
            bottom = self.height if role == Role.NUMBER else -EDGE_ZONE
        size = min(size, float(room) * 0.75)
        # Between the guides at its flange, unless that would make it too small to read.
        em = self.typeface.width(words, 1, bold=role == Role.NUMBER)
        size = min(size, max(LEAST_LABEL, (float(ring.outside) - 1) / em))
        baseline = bottom + (room - Fraction(0.73 * size)) / 2
        bold = role == Role.NUMBER
        width = Fraction(self.typeface.width(words, size, bold=bold))
        return drawing.text(
            self.typeface,
            self.strip.inside(ring.x, width),
            baseline,
            words,
            size,
            role,
            anchor="middle",
            bold=bold,
            most=float(self.panel.pitch) - 2,
        )

    def _letters(self) -> Iterator[Mark]:
        panel = self.panel
        names = dict(zip(("front", "back"), self.job.paper.letters, strict=True))
        widest = max(self.typeface.width(name, 1, bold=True) for name in names.values())
        # No wider than the sheets' overlap, so that a join can't leave a letter whole nowhere.
        lap = float(self.job.paper.overlap) - 1
        for before, kind in zip(panel.centers, panel.gaps, strict=False):
            start, end = self._free(before + panel.outside / 2)
            most = min(float(end - start) * 0.7, lap)
            size = min(BIGGEST_LETTER, float(panel.outside) / 2, most / widest)
            if size <= 0:
                continue
            yield drawing.text(
                self.typeface,
                self.x((start + end) / 2),
                self.y + 3,
                names[kind],
                size,
                LETTERS[kind],
                anchor="middle",
                bold=True,
            )

    def _free(self, start: Length) -> tuple[Length, Length]:
        """The widest part of the gap from `start` that no seam line or its words run through."""
        end = start + self.panel.gap
        # Words stand towards the seam's own leading edge, which is the other panel's far one.
        taken = [(seam - SEAM_WORDS, seam + 1) for seam in self.panel.seams or ()]
        taken += [(seam - 1, seam + SEAM_WORDS) for seam in self.other_seams]
        parts, free = [], start
        for low, high in sorted(taken):
            if high > start and low < end:
                parts.append((free, max(free, low)))
                free = max(free, high)
        parts.append((free, max(free, end)))
        return max(parts, key=lambda part: part[1] - part[0])

    def _seams(self) -> Iterator[Mark]:
        for seam in self.panel.seams or ():
            yield self.upright(seam, SEAM, Role.SEAM)
            words = f"{f'{self.name}: ' if self.name else ''}SEAM · {self.seam_words(seam)}"
            yield self.beside_line(seam, words, Role.SEAM_LABEL)


class _SecondPanel(_PanelDrawing):
    """The other panel on a strip that serves a pair: its measures, ends and seams, all named."""

    name_roles = (Role.OTHER_NUMBER, Role.OTHER_MEASURE)

    def __init__(
        self, job: Job, panel: PanelPlan, bare: Strip, typeface: Typeface, first: PanelPlan
    ) -> None:
        super().__init__(job, panel, bare, typeface, shared=True)
        self.is_second = True
        self.own = bare.of_other
        of_first = {bare.x(motif) for motif in first.motifs or ()}
        self.same_motifs = {self.x(motif) for motif in panel.motifs or ()} == of_first

    def x(self, measure: Length) -> Length:
        """Where a measure from this panel's own leading edge falls."""
        return self.own.x(measure)

    def seams_from_the_other(self) -> tuple[Length, ...]:
        """Where this panel's seams stand, measured from the first panel's leading edge."""
        return tuple(self.strip.measure(self.x(seam)) for seam in self.panel.seams or ())

    def marks(self) -> Iterator[Mark]:
        """In the order they are drawn."""
        name = self.name
        yield from self.eyelet_names(over=False)
        for edge, cloth, end in (
            (Fraction(0), self.panel.leading, "LEADING EDGE"),
            (self.width, self.panel.return_, "RETURN EDGE"),
        ):
            yield self.upright(edge, OTHER_END, Role.OTHER_END)
            if cloth >= END_ROOM:
                yield self._upright_words(
                    edge, abs(self.width - edge), f"{name}: {end}", END_SIZE, Role.OTHER_LABEL
                )
        if self.panel.gaps and self.panel.return_ > 0:
            fold = self.width - self.panel.return_
            yield self.upright(fold, RETURN_FOLD, Role.OTHER_FOLD)
            if self.panel.return_ >= FOLD_ROOM:
                yield self._upright_words(
                    fold, self.width, f"{name}: RETURN FOLD", FOLD_SIZE, Role.OTHER_LABEL
                )
        if not self.same_motifs:
            yield from self.motif_marks(Role.OTHER_MOTIF)
        for seam in self.panel.seams or ():
            yield self.upright(seam, SEAM, Role.OTHER_SEAM)
            yield self.beside_line(
                seam, f"{name}: SEAM · {self.seam_words(seam)}", Role.OTHER_LABEL
            )

    def own_number(self, number: int) -> int:
        """Counted from this panel's own leading edge, at the strip's other end."""
        return self.panel.count + 1 - number
