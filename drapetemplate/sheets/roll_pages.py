"""Strips and a roll in, where each of their sheets is cut from the roll's pages out.

Every part of a strip is a sheet with its own heading and map. Sheets lie in lanes along the roll,
several in a lane one after another (`roll_packing`), and are cut apart between double lines: a
sheet has full lines of its own, where it is cut before it is taped, its heading then gone. A page
has the check bars once, where no sheet is.

    +----------------------------+-----+----+
    | sheet A1                   |     |    |
    +---------------------+------+-----+bars|
    | sheet B1            | sheet C1   |down|
    +---------------------+------------+    |
    | bars across, what the page is    |    |
    +----------------------------------+----+

The bars down stand in a column beside the lanes, or under them. Frames: the sheet's and the page's
as they are read (`furniture`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, pairwise

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line, Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import Fault, PaperError
from drapetemplate.measures import Length
from drapetemplate.sheets import furniture
from drapetemplate.sheets.furniture import Frame
from drapetemplate.sheets.joins import CLEAR, shown_by_sheets
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.sheets.roll_packing import PageLanes, RollPacking, RollRoom, packed
from drapetemplate.sheets.tiling import (
    LANE_GAP,
    MOST_SHEETS,
    RollPlace,
    Tiling,
    fits_in,
    tile_on_roll,
)
from drapetemplate.template.strip import Strip
from drapetemplate.words.plan_words import listed

# A sheet so long has room for all it says in the title and one line under it, its map beside them.
ONE_LINE = Fraction(600)
ONE_LINE_HEADING = Fraction(11)
MOST_HEADING = furniture.HEADING + furniture.HEADING_MORE
# A shorter one has its map under the strip; where the roll has no room for that the map stands
# beside the heading all the same, and the sheet is at least so long that both can be read.
MAP_FOOT = Fraction(8)
LEAST_BESIDE = Fraction(240)
LONGEST_MAP = Fraction(180)
DOUBLE = Fraction(2)  # from one of the lines to cut between to the other
WORDS_SIZE = 3.3  # mm, of what a page says of itself


@dataclass(frozen=True, slots=True)
class SheetFrame(Frame):
    """The zones of a sheet that is cut from a roll: no bars, and no margin of its own.

    The map has `map_foot` under the strip, or where that is 0 the end of the heading.
    """

    map_foot: Length = Fraction(0)

    @property
    def strip_length(self) -> Length:
        """All of it."""
        return self.along

    @property
    def foot(self) -> Length:
        """Height of the zone under the strip."""
        return self.map_foot

    @property
    def heading_length(self) -> Length:
        """How much of its length the heading has."""
        return self.along if self.map_foot else self.map_box[0] - 2

    @property
    def map_box(self) -> tuple[Length, Length, Length, Length]:
        """The map's left, low, right and high side; its joins stand 1 mm over and under."""
        if self.map_foot:
            return Fraction(1), Fraction(1), self.along - 1, self.map_foot - 1
        long = min(max(self.along / 4, Fraction(furniture.LEAST_MAP)), self.along / 2, LONGEST_MAP)
        high = self.across - 1
        return self.along - long, high - furniture.HEADING + 3, self.along - 1, high


@dataclass(frozen=True, slots=True)
class RollLane:
    """A lane of a page: its lower and upper side, and where its sheets are cut from one another."""

    low: Length
    high: Length
    cuts: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class Roll:
    """The pages of a roll: their zones, alike on all, and the lanes of each from the top.

    `length` is what all take of the roll, as its printer feeds it.
    """

    frame: Frame
    pages: tuple[tuple[RollLane, ...], ...]
    length: Length


@dataclass(frozen=True, slots=True)
class _Layout:
    """One way to stand the bars: how strips fall on sheets, and those on pages."""

    frame: Frame
    tilings: tuple[Tiling, ...]
    sheets: tuple[tuple[SheetFrame, ...], ...]
    packing: RollPacking

    @property
    def cost(self) -> tuple[int, int, Length]:
        """What is to be as little as can be: sheets and joins, what these cut, then the roll."""
        works = [tiling.work for tiling in self.tilings]
        clear = sum(CLEAR.index(tiling.clear) for tiling in self.tilings)
        return sum(work[0] for work in works), clear, self.packing.taken


def laid_on_roll(
    strips: Sequence[Strip], longest: LaidPaper
) -> tuple[LaidPaper, list[Tiling], Roll]:
    """Strips and a roll's longest page in, out its pages' paper, each strip's sheets, the pages.

    Pages are no lower than wide. The bars stand where fewer sheets and joins are needed, then less
    of the roll, then under the strips. PaperError where the strips take over 2,000 sheets.
    """
    ways = []
    for bars_below in (True, False):
        frame = Frame(longest.height, longest.width, longest.margin, bars_below)
        if not bars_below or all(fits_in(strip, frame) for strip in strips):
            ways.append(_layout(strips, longest, frame))
    best = min(ways, key=lambda way: way.cost)
    paper = replace(longest, height=best.packing.length)
    frame = replace(best.frame, along=paper.height)
    roll, places = _placed(best, frame)
    length = len(roll.pages) * paper.true_size[1]
    tilings = [
        replace(tiling, frame=frame, places=own)
        for tiling, own in zip(best.tilings, places, strict=True)
    ]
    return paper, tilings, replace(roll, length=length)


def _layout(strips: Sequence[Strip], paper: LaidPaper, frame: Frame) -> _Layout:
    """Each strip's sheets, packed on pages; PaperError as soon as they are too many for one job."""
    tilings: list[Tiling] = []
    count = 0
    for number, strip in enumerate(strips, 1):
        tilings.append(tile_on_roll(strip, paper, bars_below=frame.bars_below))
        count += tilings[-1].count
        if count > MOST_SHEETS:
            text = (
                f"{number} of this job's {len(strips)} strips take {count:,} sheets already, and a "
                f"job may take {MOST_SHEETS:,}: use a wider roll, or make several jobs of it"
            )
            raise PaperError([Fault("paper.size", text)])
    across = frame.strip_height + furniture.HEADING
    sheets = tuple(tuple(_sheet_frames(tiling, across)) for tiling in tilings)
    room = RollRoom(
        along=frame.strip_length,
        across=across,
        beside=frame.along - frame.strip_length,
        least=paper.width,
        gap=LANE_GAP,
    )
    packing = packed([(sheet.along, sheet.across) for own in sheets for sheet in own], room)
    return _Layout(frame, tuple(tilings), sheets, packing)


def _sheet_frames(tiling: Tiling, across: Length) -> Iterator[SheetFrame]:
    """The zones of a strip's sheets, row by row from the top; none is higher than `across`."""
    columns = shown_by_sheets(tiling.columns, tiling.joins)
    for bottom, top in shown_by_sheets(tiling.levels, tiling.row_joins)[::-1]:
        for left, right in columns:
            yield sheet_frame(right - left, top - bottom, across)


def sheet_frame(length: Length, height: Length, across: Length) -> SheetFrame:
    """The zones of a sheet that shows so much of a strip, no higher than `across`.

    >>> frame = sheet_frame(Fraction(900), Fraction(100), Fraction(500))
    >>> int(frame.across), int(frame.map_foot)
    (111, 0)
    >>> frame = sheet_frame(Fraction(300), Fraction(100), Fraction(500))
    >>> int(frame.across), int(frame.map_foot)
    (126, 8)
    >>> frame = sheet_frame(Fraction(180), Fraction(100), Fraction(115))
    >>> int(frame.along), int(frame.across), int(frame.map_foot)
    (240, 115, 0)
    """
    heading, map_foot = ONE_LINE_HEADING, Fraction(0)
    if length < ONE_LINE:
        heading = MOST_HEADING
        if height + heading + MAP_FOOT <= across:
            map_foot = MAP_FOOT
        else:
            length = max(length, LEAST_BESIDE)
    high = height + min(heading, across - height - map_foot) + map_foot
    return SheetFrame(length, high, Fraction(0), map_foot=map_foot)


def _placed(layout: _Layout, frame: Frame) -> tuple[Roll, list[tuple[RollPlace, ...]]]:
    """The lanes of each page, and for each strip where its sheets lie, as they are numbered."""
    frames = [sheet for own in layout.sheets for sheet in own]
    places: dict[int, RollPlace] = {}
    pages = []
    for page, lanes in enumerate(layout.packing.pages):
        top = frame.across - frame.margin
        more = _more_heading(lanes, frames, top - frame.strip_bottom)
        laid = []
        for lane in lanes:
            low = top - more - max(frames[n].across for n in lane)
            lefts = accumulate((frames[n].along + LANE_GAP for n in lane), initial=frame.margin)
            starts = dict(zip(lane, lefts, strict=False))
            for n, left in starts.items():
                own = replace(frames[n], across=frames[n].across + more)
                places[n] = RollPlace(page=page, left=left, low=top - own.across, frame=own)
            cuts = [left - LANE_GAP / 2 for left in list(starts.values())[1:]]
            laid.append(RollLane(low, top, tuple(cuts)))
            top = low - LANE_GAP
        pages.append(tuple(laid))
    numbers = iter(range(len(frames)))
    by_strip = [tuple(places[next(numbers)] for _ in own) for own in layout.sheets]
    return Roll(frame, tuple(pages), Fraction(0)), by_strip


def _more_heading(lanes: PageLanes, frames: Sequence[SheetFrame], across: Length) -> Length:
    """How much higher each lane's headings can be for what a page leaves free across."""
    used = sum(max(frames[n].across for n in lane) + LANE_GAP for lane in lanes) - LANE_GAP
    return min((across - used) / len(lanes), MOST_HEADING - ONE_LINE_HEADING)


def page_bars(roll: Roll, typeface: Typeface) -> tuple[Mark, ...]:
    """The check bars, which all of a roll's pages have at the same place, on the upright page."""
    frame = roll.frame
    return tuple(drawing.turned(mark, frame.across) for mark in furniture.bars(frame, typeface))


def page_marks(roll: Roll, page: int, names: Sequence[str], typeface: Typeface) -> Iterator[Mark]:
    """What a page has of its own beside its sheets, which have these names: cut lines, what it is.

    `page` counts from 0. The marks are on the upright page.
    """
    frame = roll.frame
    marks = [*_cuts(frame, roll.pages[page])]
    if len(names) > 1 or len(roll.pages) > 1:
        marks.append(_words(roll, page, names, typeface))
    for mark in marks:
        yield drawing.turned(mark, frame.across)


def _cuts(frame: Frame, lanes: Sequence[RollLane]) -> Iterator[Mark]:
    """Double lines where lanes are cut apart, and where the sheets of one are from one another."""
    half, left, right = DOUBLE / 2, frame.margin, frame.strip_right
    middles = [(upper.low + lower.high) / 2 for upper, lower in pairwise(lanes)]
    for y in (side for middle in middles for side in (middle + half, middle - half)):
        yield Line(left, y, right, y, furniture.CUT_PEN, Role.LANE_CUT)
    edges = [lanes[0].high + half, *middles, lanes[-1].low - half]
    for lane, (high, low) in zip(lanes, pairwise(edges), strict=True):
        for x in (side for cut in lane.cuts for side in (cut - half, cut + half)):
            yield Line(x, low + half, x, high - half, furniture.CUT_PEN, Role.LANE_CUT)


def _words(roll: Roll, page: int, names: Sequence[str], typeface: Typeface) -> Mark:
    """Which page this is and what is cut from it: as much as the map has room for on cut paper."""
    frame = roll.frame
    which = f"Page {page + 1} of {len(roll.pages)}"
    forms = [which, f"{page + 1}/{len(roll.pages)}"]
    if len(names) > 1:
        cut = f"{which}{furniture.BETWEEN}cut apart between the double lines into"
        forms = [f"{cut} {listed(names)}", f"{cut} {len(names)} sheets", *forms]
    left, low, right, high = frame.map_box
    room = float(right - left)
    words = next((f for f in forms if typeface.width(f, WORDS_SIZE, bold=True) <= room), forms[-1])
    y = (low + high) / 2 - Fraction(0.365 * WORDS_SIZE)  # half the height of a capital
    return drawing.text(typeface, left, y, words, WORDS_SIZE, Role.ROLL_PAGE, bold=True, most=room)
