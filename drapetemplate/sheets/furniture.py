"""What a sheet carries round its part of the strip: heading, check bars, map.

And the shapes that the part itself is marked with, where `sheet` puts them: wedges, lane cuts,
registration marks. To add a mark to every sheet, yield it here and call it where `sheet` gathers
what is on every sheet.

Frame: the sheet as it is read, exact millimetres, x along the strip from the paper's left edge,
y up from its lower edge. The zones of a sheet, inside the margins:

    +-----------------------------------------++
    | heading                                 ||
    | part of the strip, with EDGE_ZONE       ||  bars
    | above and below the band                ||  down
    | bars across, map, labels of bars down --+|
    +------------------------------------------+

The column of bars down lies outside the lap, so the next sheet covers it when taped. It is as
narrow as two lines side by side: what it takes the strip goes without, on every sheet. Their labels
stand in the foot, at their lower ends. Where the paper leaves as much height free as the bars take
all of them may stand in the foot: the strip then has the whole length.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from drapetemplate import drawing
from drapetemplate.drawing import lettering
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import INCH, Length
from drapetemplate.template.strip import Strip

HEADING = Fraction(8)  # at least; and as much more as the strip leaves free, up to
HEADING_MORE = Fraction(10)
FOOT = Fraction(11)
MAP_FOOT = Fraction(7)
COLUMN = Fraction(5, 2)
BARS_OVER = Fraction(95)  # what the bars down take over that
BAR_MM = Fraction(100)
BAR_IN = 4 * INCH
# Either side of the paper may run along the strip: the 4 in bar and, beside its end, the label of
# the one down; or the bars down over theirs. Every label is as large on this least paper as on any.
LEAST_PRINTABLE = BAR_IN + 12
BAR_LABELS = 3.1  # mm of their letters, whose capitals are 2.2 mm high
UNDER_BAR = Fraction(28, 10)  # from a bar or its end to the baseline of a label under it
OVER_TICK = Fraction(9, 10)  # and to that of one over it
LABELS = Fraction(16)  # what the labels of the bars down take of the foot, beside the column

BAR_PEN = Pen(0.25)
CUT_PEN = Pen(0.25)
LAND_PEN = Pen(0.25, (6, 1.5))
MAP_PEN = Pen(0.2)
REGISTRATION_PEN = Pen(0.2)
REGISTRATION_RADIUS = Fraction(9, 4)
REGISTRATION_ARM = Fraction(3)

LEAST_MAP = 45
MOST_ON_MAP = 60
WEDGE = Fraction(5, 2)
COVERED_GREY = 0.88
MOST_LANES = 26  # each has a letter


@dataclass(frozen=True, slots=True)
class Frame:
    """One sheet's zones: paper `along` and `across` the strip, and its margin.

    `bars_below` says that the bars down stand under the strip rather than in a column beside it.
    """

    along: Length
    across: Length
    margin: Length
    bars_below: bool = False

    @property
    def strip_length(self) -> Length:
        """Length of strip one sheet can show."""
        return self.along - 2 * self.margin - (0 if self.bars_below else COLUMN)

    @property
    def map_below(self) -> bool:
        """True where the map has no room beside the bars across."""
        left, right = self._map_beside
        return right - left < LEAST_MAP

    @property
    def _map_beside(self) -> tuple[Length, Length]:
        return self.margin + BAR_IN + 5, self.right - LABELS

    @property
    def foot(self) -> Length:
        """Height of the zone under the strip."""
        return self.bars_foot + (BARS_OVER if self.bars_below else 0)

    @property
    def bars_foot(self) -> Length:
        """Height of the zone of the bars across, the map, and the labels of the bars down."""
        return FOOT + (MAP_FOOT if self.map_below else 0)

    @property
    def strip_height(self) -> Length:
        """Height of band and edge zones one sheet can show."""
        return self.across - 2 * self.margin - HEADING - self.foot

    @property
    def strip_bottom(self) -> Length:
        """Where the strip's zone begins."""
        return self.margin + self.foot

    @property
    def right(self) -> Length:
        """Where the bars down begin."""
        return self.along - self.margin - COLUMN

    @property
    def strip_right(self) -> Length:
        """Where the strip's zone ends."""
        return self.margin + self.strip_length

    @property
    def heading_length(self) -> Length:
        """How much of its length the heading has."""
        return self.strip_length

    @property
    def map_box(self) -> tuple[Length, Length, Length, Length]:
        """The map's left, low, right and high side; its joins stand 1 mm over and under."""
        left, right = self._map_beside
        if self.map_below:
            # Half a millimetre over the ticks of the bars across.
            low = self.margin + FOOT + Fraction(3, 2)
            return self.margin + Fraction(1, 2), low, right, low + MAP_FOOT - 3
        low = self.margin + 1
        return left, low, right, low + FOOT - 3


def bars(frame: Frame, typeface: Typeface) -> Iterator[Mark]:
    """The check bars: 100 mm and 4 in, across and down, with a tick every 10 mm and 1/2 in."""
    yield from _bars_across(frame, typeface)
    yield from _bars_down(frame, typeface)


def _bars_across(frame: Frame, typeface: Typeface) -> Iterator[Mark]:
    """One over the other, each with its label close under it and its ticks up, like a ruler's."""
    m = frame.margin
    left = m + Fraction(1, 2)
    for length, every, y, name, role in (
        (BAR_MM, Fraction(10), m + Fraction(99, 10), "100 mm", Role.BAR_ACROSS_MM),
        (BAR_IN, INCH / 2, m + Fraction(39, 10), "4 in", Role.BAR_ACROSS_IN),
    ):
        yield Line(left, y, left + length, y, BAR_PEN, role)
        for i in range(int(length / every) + 1):
            below = 1 if i * every in (0, length) else 0
            x = left + i * every
            yield Line(x, y - below, x, y + 1, BAR_PEN, Role.BAR_TICK)
        x, under = left + every * 5 / 2, y - UNDER_BAR
        yield drawing.text(typeface, x, under, name, BAR_LABELS, Role.BAR_LABEL, bold=True)


def _bars_down(frame: Frame, typeface: Typeface) -> Iterator[Mark]:
    """Side by side, with one tick over both upper ends.

    The lower end of each turns to its label: 100 mm stands on it, and 4 in hangs under the other,
    1.6 mm lower.
    """
    low, left = frame.margin + frame.bars_foot - Fraction(71, 10), frame.right
    top, labels_end = low + BAR_IN, left + Fraction(4, 10)
    for length, every, x, side, name, role in (
        (BAR_MM, Fraction(10), left + Fraction(9, 10), -1, "100 mm", Role.BAR_DOWN_MM),
        (BAR_IN, INCH / 2, left + Fraction(19, 10), 1, "4 in", Role.BAR_DOWN_IN),
    ):
        y = top - length
        yield Line(x, y, x, top, BAR_PEN, role)
        for i in range(1, int(length / every)):
            tick = y + i * every
            yield Line(x, tick, x + side * Fraction(1, 2), tick, BAR_PEN, Role.BAR_TICK)
        baseline = y + OVER_TICK if side < 0 else y - UNDER_BAR
        label = drawing.text(
            typeface,
            labels_end,
            baseline,
            name,
            BAR_LABELS,
            Role.BAR_LABEL,
            anchor="end",
            bold=True,
        )
        yield label
        yield Line(labels_end - Fraction(label.width), y, x, y, BAR_PEN, Role.BAR_TICK)
    yield Line(labels_end, top, labels_end + 2, top, BAR_PEN, Role.BAR_TICK)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadingWords:
    """What a sheet says of itself.

    `title` are its number, whose panel it is and which side is seen, printed as large as can be
    with the `window` beside. `job` and `window` are names, which are cut where there isn't room for
    all; the title, `printer`, "" for none, and `facts` never are, whatever the paper. `spare` are
    facts that are left out where they would make the letters too small.
    """

    title: tuple[str, ...]
    window: str
    job: str
    printer: str
    facts: tuple[str, ...]
    spare: tuple[str, ...] = ()


TITLE_SIZES = (6.0, 5.0, 4.2, 3.6, 3.1, 2.7, 2.4, 2.1, 1.8, 1.5)  # mm, as they are tried
READ_SIZES = (3.3, 3.1)  # likewise of the lines under the title, whose capitals are 2.2 mm high
SMALL_SIZES = (2.7, 2.4, 2.1, 1.8, 1.5)  # and where the paper has no room for these
TITLE_LINE, TEXT_LINE = 1.12, 1.25  # of the size, from line to line
AIR = 0.25  # of the title's size, between it and the lines under it where the height is free
BASELINE = 0.79  # of the size, under its line's top
ENOUGH_OF_NAME = 40  # letters of a name below which smaller letters are worth it
LEAST_OF_NAME = 4
LONGEST_NAME = 200  # letters of a name that are measured at all
BETWEEN = " · "


def heading(
    frame: Frame, typeface: Typeface, words: HeadingWords, height: Length = HEADING
) -> Iterator[Mark]:
    """A sheet's title, large, and what else it says in lines under it, over `height` mm.

    All is kept inside the printable width. The more of the height is free, the larger it is.
    """
    spare = words.spare
    job, window = (measured_name(typeface, name) for name in (words.job, words.window))
    words = replace(
        words,
        title=tuple(map(typeface.drawable, words.title)),
        printer=typeface.drawable(words.printer),
        job=job,
        window=window,
        facts=tuple(map(typeface.drawable, words.facts)),
        spare=(),
    )
    with_spare = replace(words, facts=(*words.facts, *map(typeface.drawable, spare)))
    left, width = frame.margin + Fraction(1, 2), float(frame.heading_length) - 1.5
    rooms = (width, float(height))
    tries = (
        (with_spare, READ_SIZES, len(window), ENOUGH_OF_NAME),
        (with_spare, READ_SIZES, ENOUGH_OF_NAME, ENOUGH_OF_NAME),
        (words, READ_SIZES, len(window), ENOUGH_OF_NAME),
        (words, READ_SIZES, ENOUGH_OF_NAME, ENOUGH_OF_NAME),
        (words, READ_SIZES, LEAST_OF_NAME, LEAST_OF_NAME),
        (words, SMALL_SIZES, LEAST_OF_NAME, LEAST_OF_NAME),
    )
    title, large, text, size = next(
        (
            found
            for said, sizes, *enough in tries
            for size in sizes
            if (found := _heading_lines(typeface, said, size, rooms, (enough[0], enough[1])))
        ),
        # Nothing else can be done: more than any job has to say.
        ((BETWEEN.join(words.title),), 1.5, (BETWEEN.join((*words.facts, words.window)),), 1.5),
    )
    y = frame.across - frame.margin - Fraction(large * BASELINE)
    # Its number is a mark of its own, by which a sheet is known.
    number = words.title[0]
    mark = drawing.text(typeface, left, y, number, large, Role.SHEET_NUMBER, bold=True)
    yield mark
    x, rest, most = float(left) + mark.width, title[0].removeprefix(number), width - mark.width
    yield drawing.text(typeface, x, y, rest, large, Role.SHEET_TITLE, bold=True, most=most)
    for line in title[1:]:
        y -= Fraction(large * TITLE_LINE)
        yield drawing.text(typeface, left, y, line, large, Role.SHEET_TITLE, bold=True, most=width)
    # What the lines leave free stands under the title, which they would else touch.
    taken = len(title) * large * TITLE_LINE + len(text) * size * TEXT_LINE
    air = min(max(rooms[1] - taken, 0.0), AIR * large)
    y -= Fraction(large * (TITLE_LINE - BASELINE) + air + size * BASELINE)
    for line in text:
        yield drawing.text(typeface, left, y, line, size, Role.HEADING, most=width)
        y -= Fraction(size * TEXT_LINE)


def measured_name(typeface: Typeface, name: str) -> str:
    """A name that can be drawn, and is no longer than any sheet shows: it is cut many times."""
    return typeface.drawable(name if len(name) <= LONGEST_NAME else name[:LONGEST_NAME] + "…")


def _heading_lines(
    typeface: Typeface,
    words: HeadingWords,
    size: float,
    rooms: tuple[float, float],
    enough: tuple[int, int],
) -> tuple[tuple[str, ...], float, tuple[str, ...], float] | None:
    """The title's lines and their size, and the other lines with theirs, `size`, where all fit.

    None too where the window's name or the job's would be cut to under `enough` letters.
    """
    width, height = rooms
    window, job = enough
    text = _text_lines(typeface, words, size, width, job)
    left = height - len(text) * size * TEXT_LINE
    for large in TITLE_SIZES:
        if large < size:
            break
        for title in _titles(typeface, words, large, width, window):
            if len(title) * large * TITLE_LINE <= left:
                return (title, large, text, size) if text else None
    return None


def _titles(
    typeface: Typeface, words: HeadingWords, size: float, width: float, enough: int
) -> Iterator[tuple[str, ...]]:
    """The title with the window's name in its line, or in a second, where these fit."""
    title = BETWEEN.join(words.title)
    first = typeface.width(title + BETWEEN, size, bold=True)
    for lines, room in ((1, width - first), (2, width)):
        name = lettering.name_cut_short(typeface, words.window, size, room, bold=True)
        if first <= width and len(name) >= min(len(words.window), enough):
            yield (title + BETWEEN + name,) if lines == 1 else (title, name)


def _text_lines(
    typeface: Typeface, words: HeadingWords, size: float, width: float, enough: int
) -> tuple[str, ...]:
    """The job and the facts in as few lines as they take, whole but for the job's name.

    A fact begins a line rather than be parted; a very long one can't but be.
    """
    best: tuple[str, ...] = ()
    for share in (1, 0.75, 0.5, 0.35, 0.25, 0.15):
        name = lettering.name_cut_short(typeface, words.job, size, width * share)
        if len(name) < min(len(words.job), enough):
            break
        lines = [name]
        for fact in (*((words.printer,) if words.printer else ()), *words.facts):
            whole = typeface.width(fact, size) <= width
            for n, word in enumerate([fact] if whole else fact.split(" ")):
                longer = f"{lines[-1]}{' ' if n else BETWEEN}{word}"
                if typeface.width(longer, size) <= width:
                    lines[-1] = longer
                else:
                    lines.append(word)
        fits = all(typeface.width(line, size) <= width * (1 + 1e-9) for line in lines)
        if fits and (not best or len(lines) < len(best)):
            best = tuple(lines)
    return best


@dataclass(frozen=True, slots=True)
class _MapScale:
    """Where the strip's map stands on a sheet, and how small it is."""

    left: Length
    low: Length
    scale: Length

    @classmethod
    def of(cls, frame: Frame, strip: Strip) -> _MapScale:
        """As large as the map's box has room for, in the middle of its height."""
        left, low, right, high = frame.map_box
        scale = min((right - left) / strip.length, (high - low) / strip.height)
        return cls(left, low + (high - low - strip.height * scale) / 2, scale)

    def box(
        self, x0: Length, y0: Length, x1: Length, y1: Length
    ) -> tuple[tuple[Length, Length], ...]:
        """The corners of a box on the strip."""
        left, right = self.left + x0 * self.scale, self.left + x1 * self.scale
        low, high = self.low + y0 * self.scale, self.low + y1 * self.scale
        return (left, low), (right, low), (right, high), (left, high)


def map_parts(
    frame: Frame, strip: Strip, shown: Iterable[tuple[Length, Length, Length, Length]]
) -> Iterator[Mark]:
    """The parts of the strip that a sheet shows, grey on its map, under the map's own lines.

    `shown` holds (left, bottom, right, top) on the strip.
    """
    on_map = _MapScale.of(frame, strip)
    for left, bottom, right, top in shown:
        low, high = max(bottom, Fraction(0)), min(top, strip.height)
        box = on_map.box(max(left, Fraction(0)), low, min(right, strip.length), high)
        yield Polygon(box, None, 0.78, Role.MAP_SHEET)


def strip_map(frame: Frame, strip: Strip, cuts: Sequence[Length]) -> Iterator[Mark]:
    """The whole strip in small: its eyelets, and its joins, `cuts`. Alike on all of its sheets.

    Of very many eyelets or joins none is drawn.
    """
    on_map = _MapScale.of(frame, strip)
    corners = on_map.box(Fraction(0), Fraction(0), strip.length, strip.height)
    yield Polygon(corners, MAP_PEN, None, Role.MAP_STRIP)
    (left, low), (_, high) = corners[0], corners[2]
    scale = on_map.scale
    if len(strip.rings) <= MOST_ON_MAP:
        for ring in strip.rings:
            x, y = left + ring.x * scale, low + ring.y * scale
            yield Circle(x, y, ring.outside / 2 * scale, MAP_PEN, Role.MAP_EYELET)
    if len(cuts) <= MOST_ON_MAP:
        for cut in cuts:
            x = left + cut * scale
            yield Line(x, low - 1, x, high + 1, MAP_PEN, Role.MAP_JOIN)


def lane_cuts(frame: Frame, lanes: Sequence[tuple[Length, Length]]) -> Iterator[Mark]:
    """Where the lanes of a sheet are cut apart: midway between them. `lanes` are (low, high)."""
    for (low, _), (_, high) in pairwise(lanes):
        y = (low + high) / 2
        yield Line(frame.margin, y, frame.strip_right, y, CUT_PEN, Role.LANE_CUT)


def wedge(x: Length, y: Length, role: Role) -> Mark:
    """A wedge whose tip is on the upright line at x, from its right."""
    half = WEDGE / 2
    return Polygon(((x, y), (x + WEDGE, y + half), (x + WEDGE, y - half)), None, 0.0, role)


def has_wedges(overlap: Length) -> bool:
    """Whether registration marks leave room for the wedges at a join's two lines."""
    return overlap / 2 - REGISTRATION_ARM >= WEDGE


def registration(x: Length, y: Length) -> Iterator[Mark]:
    """A registration mark: a cross in a circle, on the strip."""
    yield Circle(x, y, REGISTRATION_RADIUS, REGISTRATION_PEN, Role.REGISTRATION)
    arm = REGISTRATION_ARM
    yield Line(x - arm, y, x + arm, y, REGISTRATION_PEN, Role.REGISTRATION_CROSS)
    yield Line(x, y - arm, x, y + arm, REGISTRATION_PEN, Role.REGISTRATION_CROSS)
