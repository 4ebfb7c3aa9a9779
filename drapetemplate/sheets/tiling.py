"""A strip and paper in, how the one falls on the other out: which way round, joins, rows, lanes.

A strip goes over columns along its length. Where the band is taller than a sheet it goes over
rows; where several of its parts find room above one another on a sheet they share it, in lanes
that are cut apart. A roll is a sheet as long as the longest part needs, up to 200 in.
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
from drapetemplate.sheets.joins import CLEAR, Clear, SheetRun, joins, shown_by_sheets
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.template.strip import Strip

Turn = Literal["portrait", "landscape"]

END_PAD = Fraction(1)
MOST_SHEETS = 2000
LANE_GAP = Fraction(4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """How a strip falls on sheets of one orientation: joins along it, and between rows.

    `lanes` parts of a single row share each sheet, one above the other, the first on top.
    """

    orientation: Turn
    frame: Frame
    columns: SheetRun
    joins: tuple[Length, ...]
    clear: Clear
    levels: SheetRun
    row_joins: tuple[Length, ...]
    lanes: int

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


def roll_page(longest: LaidPaper, strips: Sequence[Strip]) -> LaidPaper:
    """A roll's longest page and the strips on it in, the page they need out, no lower than wide.

    It is as long as the longest part of any of them. PaperError as `tile` has it.
    """
    needs = [longest.width]
    for strip in strips:
        tiling = tile(strip, longest)
        part = max(right - left for left, right in shown_by_sheets(tiling.columns, tiling.joins))
        frame = tiling.frame
        needs.append(part + frame.along - frame.strip_length)
    return replace(longest, height=max(needs))


def tile(strip: Strip, paper: LaidPaper) -> Tiling:
    """The tiling with the fewest sheets and joins together, each a thing to cut and tape.

    Of two with as many the one whose joins cut less, then with the fewest sheets, rows and parts,
    then along the longer side. Of two ways to stand the bars down the one beside the strip, which
    leaves its heading more room; on a roll the one below it, which takes less of the roll.

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
        for below in (paper.roll, not paper.roll):
            frame = Frame(along, across, paper.margin, below)
            if not below or strip.height + 2 * strip.edge <= frame.strip_height:
                tilings.append(_tile(strip, paper, frame, turn))
    # All parts of a strip are joined: one join fewer than parts.
    best = min(
        tilings,
        key=lambda t: (t.count + t.across * t.rows, CLEAR.index(t.clear), t.count, t.rows),
    )
    if best.count > MOST_SHEETS:
        text = (
            f"on {paper.name} the strip would take {best.count} sheets, over {MOST_SHEETS}: use "
            "larger paper"
        )
        raise PaperError([Fault("paper.size", text)])
    return best


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
