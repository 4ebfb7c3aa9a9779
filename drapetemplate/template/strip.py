"""One panel's plan in, its strip out: the full-scale template of the heading, not yet on paper.

Frame: panel coordinates, exact millimetres; x from the strip's left end as it is seen, y up
from the band's bottom edge, so the panel's top edge is at y = height. Seen from the face, a
left panel's leading edge is at the right end; seen from the back everything is mirrored but
letters and figures. Running measures are always from the leading edge (a single panel's left
edge), rounded each for itself and never added up.

Mono ink tells the lines apart: the hole to cut is the heaviest, guides are thin and dashed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job, View
from drapetemplate.measures import Length, format_length
from drapetemplate.planning.model import PanelPlan, WindowPlan

HOLE = Pen(0.7)
OUTSIDE = Pen(0.3)
PANEL_END = Pen(0.5)
BAND_LINE = Pen(0.35)
CENTER_LINE = Pen(0.18, (6, 1.5, 1, 1.5))
CROSS = Pen(0.2)
GUIDE = Pen(0.15, (1.2, 1.2))
RETURN_FOLD = Pen(0.35, (4, 1, 1, 1, 1, 1))
SEAM = Pen(0.6, (0.6, 1.4))
OTHER_END = Pen(0.5, (3, 1))

# Room above and below the band for registration marks; as much again, next to the band, for
# numbers and measures where the band itself has no room for them.
EDGE_ZONE = Fraction(6)
CENTER_HOLE = Fraction(3, 2)
LABEL_ROOM = 5
LEAST_LABEL = 3.0
BIGGEST_LETTER = 15.0
SEAM_TEXT = Fraction(13, 5)
SEAM_WORDS = SEAM_TEXT + Fraction(3, 2)


@dataclass(frozen=True, slots=True)
class Ring:
    """An eyelet on the strip: its number from the leading edge, centre, and diameters."""

    number: int
    x: Length
    y: Length
    outside: Length
    hole: Length


@dataclass(frozen=True, slots=True)
class Strip:
    """What a strip is before anything is drawn: `length` x `height` of band, and its eyelets.

    The panel lies from `start` for `width`; only where one strip serves a pair's two panels, whose
    ends don't meet, is that less than `length`. `labels_inside` is False where the band has no
    room for numbers and measures; `edge` is the room that marks take above the band, and below it.
    """

    length: Length
    height: Length
    rings: tuple[Ring, ...]
    leading_at_right: bool
    labels_inside: bool
    start: Length
    width: Length

    @property
    def edge(self) -> Length:
        """Height of the zone above the band, and of the one below."""
        return EDGE_ZONE if self.labels_inside else 2 * EDGE_ZONE

    def x(self, measure: Length) -> Length:
        """Where a measure from the leading edge falls."""
        return self.start + (self.width - measure if self.leading_at_right else measure)

    def measure(self, x: Length) -> Length:
        """The measure from the leading edge of a place on the strip."""
        return self.width + self.start - x if self.leading_at_right else x - self.start


@dataclass(frozen=True, slots=True)
class Template:
    """A strip with every mark on it, and what it is of; `seen` is "face" or "back".

    `closing` says in words what the taped strip must measure.
    """

    window: str
    panel: str
    quantity: int
    seen: View
    strip: Strip
    marks: tuple[Mark, ...]
    closing: str


def strip(panel: PanelPlan, view: View, other: PanelPlan | None = None) -> Strip:
    """The strip of one panel, as it lies seen from the face or the back.

    With the `other` panel of its pair it is as long as both take with their eyelets on the same
    centres.
    """
    at_right = panel.leading_at_right != (view == "back")
    y = panel.band_height - panel.above - panel.outside / 2
    # The other panel's ends lie this much farther along than this one's.
    off = panel.return_ - panel.leading if at_right else panel.leading - panel.return_
    off = Fraction(0) if other is None else off
    bare = Strip(
        length=panel.width + abs(off),
        height=panel.band_height,
        rings=(),
        leading_at_right=at_right,
        labels_inside=min(panel.above, y - panel.outside / 2) >= LABEL_ROOM,
        start=max(-off, Fraction(0)),
        width=panel.width,
    )
    rings = (
        Ring(number, bare.x(center), y, panel.outside, panel.hole)
        for number, center in enumerate(panel.centers, 1)
    )
    return replace(bare, rings=tuple(rings))


def template(
    job: Job,
    window: WindowPlan,
    panel: PanelPlan,
    typeface: Typeface,
    other: PanelPlan | None = None,
) -> Template:
    """The strip of one panel of a plan, or of both of a pair, with everything drawn on it."""
    bare = strip(panel, job.paper.view, other)
    drawn = _Drawing(job, panel, bare, typeface)
    name, whose = f"{panel.side} panel", ""
    second: list[Mark] = []
    if other is not None:
        whose = f"{panel.side} panel "
        name = f"{panel.side} and {other.side} panel"
        also = _Other(job, other, bare, typeface)
        second = [*also.marks()]
        drawn.one_of_two = True
        drawn.other_seams = tuple(bare.measure(also.x(seam)) for seam in other.seams or ())
    marks = [*drawn.marks(), *second]
    return Template(
        window=window.name,
        panel=name,
        quantity=window.quantity,
        seen=job.paper.view,
        strip=bare,
        marks=tuple(marks),
        closing=f"{whose}{format_length(panel.width, job.units)} end to end",
    )


class _Drawing:
    """The drawing of one strip, part by part."""

    one_of_two = False  # True where another panel is drawn on the same strip
    other_seams: tuple[Length, ...] = ()  # where its seams stand, measured as this one's are

    def __init__(self, job: Job, panel: PanelPlan, bare: Strip, typeface: Typeface) -> None:
        self.job, self.panel, self.strip, self.typeface = job, panel, bare, typeface
        self.width, self.height, self.x = panel.width, bare.height, bare.x
        self.y = bare.rings[0].y

    def marks(self) -> Iterator[Mark]:
        yield from self._edges()
        yield from self._ends()
        for ring in self.strip.rings:
            yield from self._eyelet(ring)
        yield from self._letters()
        yield from self._seams()

    def _upright(self, measure: Length, pen: Pen, role: Role) -> Line:
        x = self.x(measure)
        return Line(x, Fraction(0), x, self.height, pen, role)

    def _edges(self) -> Iterator[Mark]:
        for y in (Fraction(0), self.height):
            yield Line(Fraction(0), y, self.strip.length, y, BAND_LINE, Role.BAND_LINE)
        for measure in (Fraction(0), self.width):
            yield self._upright(measure, PANEL_END, Role.PANEL_END)
        # The centre line stops short of the words at the ends.
        reach = Fraction(1)
        start = max(self.panel.leading - reach, Fraction(0))
        end = self.width - max(self.panel.return_ - reach, Fraction(0))
        left, right = sorted((self.x(start), self.x(end)))
        yield Line(left, self.y, right, self.y, CENTER_LINE, Role.CENTER_LINE)

    def _ends(self) -> Iterator[Mark]:
        panel, hooks = self.panel, not self.panel.gaps
        whose = f"{panel.side.upper()}: " if self.one_of_two else ""
        if panel.side == "single":
            kind = "EDGE" if hooks else "RETURN EDGE"
            names = (f"LEFT {kind}", f"RIGHT {kind}")
        else:
            names = (f"{whose}LEADING EDGE", f"{whose}RETURN EDGE")
        folds = [] if hooks else [(self.width, panel.return_)]
        if not hooks and panel.side == "single":
            folds.append((Fraction(0), panel.leading))
        for edge, cloth in folds:
            if cloth > 0:
                fold = abs(edge - cloth)
                yield self._upright(fold, RETURN_FOLD, Role.RETURN_FOLD)
                if cloth >= 22:
                    yield self._upright_words(fold, edge, "RETURN FOLD", 2.8, Role.FOLD_LABEL)
        for edge, cloth, name in (
            (Fraction(0), panel.leading, names[0]),
            (self.width, panel.return_, names[1]),
        ):
            if cloth >= 7:
                yield self._upright_words(edge, abs(self.width - edge), name, 3.6, Role.END_LABEL)
            if cloth >= 8 and "LEADING" in name and self._wedged:
                yield from self._wedges()

    def _upright_words(
        self, beside: Length, toward: Length, words: str, size: float, role: Role
    ) -> Mark:
        """Words that read upward, beside an upright line on the side of the measure `toward`."""
        at, right = self.x(beside), self.x(toward) > self.x(beside)
        baseline = at + Fraction(5) if right else at - Fraction(2)
        return drawing.text(
            self.typeface,
            baseline,
            self.height / 2,
            words,
            size,
            role,
            anchor="middle",
            bold=True,
            angle=90,
            most=float(self.height) - (24 if self._wedged else 4),
        )

    @property
    def _wedged(self) -> bool:
        """True where the band is high enough for wedges above and below the words."""
        return self.height >= 60

    def _wedges(self) -> Iterator[Mark]:
        """Two solid wedges that point at the leading edge."""
        tip = self.x(Fraction(0))
        back = self.x(Fraction(5))
        for y in (Fraction(7), self.height - 7):
            points = ((tip, y), (back, y + Fraction(5, 2)), (back, y - Fraction(5, 2)))
            yield Polygon(points, None, 0.0, Role.LEADING_WEDGE)

    def _eyelet(self, ring: Ring) -> Iterator[Mark]:
        x, y, r = ring.x, ring.y, ring.outside / 2
        for edge in (x - r, x + r):
            yield Line(edge, Fraction(0), edge, self.height, GUIDE, Role.GUIDE)
        yield Circle(x, y, r, OUTSIDE, Role.OUTSIDE)
        yield Circle(x, y, ring.hole / 2, HOLE, Role.HOLE)
        arm = min(Fraction(6), ring.hole / 3)
        yield Line(x - arm, y, x + arm, y, CROSS, Role.CENTER_CROSS)
        yield Line(x, y - arm, x, y + arm, CROSS, Role.CENTER_CROSS)
        yield Circle(x, y, min(CENTER_HOLE, ring.hole / 3) / 2, CROSS, Role.CENTER_HOLE)
        over, under = self.height - y - r, y - r
        measure = format_length(self.panel.centers[ring.number - 1], self.job.units)
        yield self._label(ring, y + r, over, str(ring.number), 6.5, Role.NUMBER)
        yield self._label(ring, Fraction(0), under, measure, 4.2, Role.MEASURE)

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
        return drawing.text(
            self.typeface,
            ring.x,
            baseline,
            words,
            size,
            role,
            anchor="middle",
            bold=role == Role.NUMBER,
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
            yield self._upright(seam, SEAM, Role.SEAM)
            yield self._beside_line(seam, f"SEAM · {self._beside(seam)}", Role.SEAM_LABEL)

    def _beside_line(
        self, measure: Length, words: str, role: Role, toward: Length = Fraction(0)
    ) -> Mark:
        """Words up along an upright line, on the side of the measure `toward`.

        For a seam that is the leading edge's side, where the eyelet is that hides it.
        """
        right = self.x(toward) > self.x(measure)
        return drawing.text(
            self.typeface,
            self.x(measure) + (SEAM_TEXT + Fraction(1, 2) if right else -1),
            Fraction(3),
            words,
            float(SEAM_TEXT),
            role,
            bold=True,
            angle=90,
            most=float(self.height) - 6,
        )

    def _beside(self, seam: Length) -> str:
        """How far a seam is from the nearest eyelet's edge, in words."""
        radius = self.panel.outside / 2
        n, center = min(enumerate(self.panel.centers, 1), key=lambda one: abs(one[1] - seam))
        off = abs(center - seam) - radius
        if off <= 0:
            return f"UNDER EYELET {self._printed(n)}"
        return f"{format_length(off, self.job.units)} from eyelet {self._printed(n)}"

    def _printed(self, number: int) -> int:
        """An eyelet's number as it stands on the strip."""
        return number


class _Other(_Drawing):
    """The second panel on a strip that serves a pair: its ends and seams, told apart by name."""

    def __init__(self, job: Job, panel: PanelPlan, bare: Strip, typeface: Typeface) -> None:
        super().__init__(job, panel, bare, typeface)
        start = bare.length - bare.width - bare.start
        self.x = replace(bare, start=start, leading_at_right=not bare.leading_at_right).x

    def marks(self) -> Iterator[Mark]:
        name = self.panel.side.upper()
        for measure, edge in ((Fraction(0), "LEADING"), (self.width, "RETURN")):
            yield self._upright(measure, OTHER_END, Role.OTHER_END)
            yield self._beside_line(measure, f"{name}: {edge}", Role.OTHER_LABEL, self.width / 2)
        if self.panel.gaps and self.panel.return_ > 0:
            fold = self.width - self.panel.return_
            yield self._upright(fold, RETURN_FOLD, Role.OTHER_FOLD)
            yield self._beside_line(fold, f"{name}: FOLD", Role.OTHER_LABEL, self.width)
        for seam in self.panel.seams or ():
            yield self._upright(seam, SEAM, Role.OTHER_SEAM)
            yield self._beside_line(seam, f"{name}: SEAM · {self._beside(seam)}", Role.OTHER_LABEL)

    def _printed(self, number: int) -> int:
        """The first panel's number of the same eyelet: that is what is printed."""
        return self.panel.count + 1 - number
