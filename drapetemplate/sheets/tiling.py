"""A strip and paper in, how the one falls on the other out: which way round, joins, rows, lanes.

A strip goes over columns along its length. Where the band is taller than a sheet it goes over
rows; where several of its parts find room above one another on a sheet they share it, in lanes
that are cut apart. On a roll each part is a sheet of its own, cut from one of the roll's pages
(`roll_pages`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from string import ascii_lowercase
from typing import Literal

from drapetemplate.errors import Fault, PaperError
from drapetemplate.measures import Length
from drapetemplate.sheets import furniture
from drapetemplate.sheets.furniture import Frame
from drapetemplate.sheets.joins import CLEAR, Clear, SheetRun, joins
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.template.strip import Strip

Turn = Literal["portrait", "landscape"]

END_PAD = Fraction(1)
MOST_SHEETS = 2000
LANE_GAP = Fraction(4)


@dataclass(frozen=True, slots=True, kw_only=True)
class RollPlace:
    """Where a sheet is cut from a roll: its page, counted from 0, and its lower left corner there.

    `frame` has the sheet's own zones.
    """

    page: int
    left: Length
    low: Length
    frame: Frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """How a strip falls on sheets of one orientation: joins along it, and between rows.

    `lanes` parts of a single row share each sheet, one above the other, the first on top. Of a roll
    `frame` is a page's, and `places` says where on the pages each sheet lies, in their order.
    """

    orientation: Turn
    frame: Frame
    columns: SheetRun
    joins: tuple[Length, ...]
    clear: Clear
    levels: SheetRun
    row_joins: tuple[Length, ...]
    lanes: int
    places: tuple[RollPlace, ...] = ()

    @property
    def rows(self) -> int:
        """How many sheets high."""
        return len(self.row_joins) + 1

    @property
    def across(self) -> int:
        """How many parts long."""
        return len(self.joins) + 1

    @property
    def count(self) -> int:
        """How many sheets in all."""
        return -(-self.across // self.lanes) * self.rows

    @property
    def work(self) -> tuple[int, int, int, int]:
        """What there is to cut and tape, to be as little as can be: sheets and joins come first."""
        # All parts of a strip are joined: one join fewer than parts.
        parts = self.across * self.rows
        return self.count + parts, CLEAR.index(self.clear), self.count, self.rows

    def label(self, row: int, column: int) -> str:
        """What a part is called: its sheet's number, with its lane's letter where it has lanes."""
        if self.lanes == 1:
            return str(row * self.across + column + 1)
        return f"{column // self.lanes + 1}{ascii_lowercase[column % self.lanes]}"

    def joins_from_leading(self, strip: Strip) -> tuple[Length, ...]:
        """Join centres in running order, measured from the leading edge."""
        return tuple(sorted(strip.measure(x) for x in self.joins))


def turns_of(tilings: Sequence[Tiling]) -> str:
    """Which way round the sheets of these are, in words: "landscape", "landscape and portrait"."""
    return " and ".join(dict.fromkeys(tiling.orientation for tiling in tilings))


def tile(strip: Strip, paper: LaidPaper) -> Tiling:
    """The tiling on cut paper with the fewest sheets and joins together, each to cut and tape.

    Of two with as many the one whose joins cut less, then with the fewest sheets, rows and parts,
    then along the longer side. Of two ways to stand the bars down the one beside the strip, which
    leaves its heading more room.

    PaperError for over 2,000 sheets.
    """
    turns: tuple[Turn, ...] = ("landscape", "portrait")
    if paper.orientation != "auto":
        turns = (paper.orientation,)
    tilings = []
    for turn in turns:
        along, across = paper.height, paper.width
        if turn == "portrait":
            along, across = across, along
        for below in (False, True):
            frame = Frame(along, across, paper.margin, below)
            if not below or fits_in(strip, frame):
                tilings.append(_tile(strip, paper, frame, turn))
    best = min(tilings, key=lambda tiling: tiling.work)
    _check_count(best, paper)
    return best


def tile_on_roll(strip: Strip, paper: LaidPaper, *, bars_below: bool) -> Tiling:
    """The tiling on a roll's longest page, each part a sheet by itself, which has no place yet.

    PaperError for over 2,000 sheets.
    """
    frame = Frame(paper.height, paper.width, paper.margin, bars_below)
    tiling = replace(_tile(strip, paper, frame, "landscape"), lanes=1)
    _check_count(tiling, paper)
    return tiling


def fits_in(strip: Strip, frame: Frame) -> bool:
    """True where a strip takes a single row."""
    return strip.height + 2 * strip.edge <= frame.strip_height


def _check_count(tiling: Tiling, paper: LaidPaper) -> None:
    if tiling.count > MOST_SHEETS:
        text = (
            f"on {paper.name} the strip would take {tiling.count} sheets, over {MOST_SHEETS}: use "
            "larger paper"
        )
        raise PaperError([Fault("paper.size", text)])


def _tile(strip: Strip, paper: LaidPaper, frame: Frame, turn: Turn) -> Tiling:
    even = paper.joins == "even"
    columns = SheetRun(-END_PAD, strip.length + END_PAD, frame.strip_length, paper.overlap)
    rings = sorted((r.x, r.outside, r.hole) for r in strip.rings)
    along, clear = joins(columns, rings, even=even)
    bottom, top = -strip.edge, strip.height + strip.edge
    levels = SheetRun(bottom, top, frame.strip_height, paper.overlap)
    ring = strip.rings[0]
    up, _ = joins(levels, [(ring.y, ring.outside, ring.hole)], even=even, each=len(along) + 1)
    lanes = 1
    if not up:
        room, each = frame.strip_height + LANE_GAP, top - bottom + LANE_GAP
        lanes = min(int(room // each), len(along) + 1, furniture.MOST_LANES)
    return Tiling(
        orientation=turn,
        frame=frame,
        columns=columns,
        joins=along,
        clear=clear,
        levels=levels,
        row_joins=up,
        lanes=lanes,
    )
