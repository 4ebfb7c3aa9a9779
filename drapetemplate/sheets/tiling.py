"""A strip and paper in, how the one falls on the other out: which way round, joins, rows, lanes.

A strip goes over columns along its length. Where the band is taller than a sheet it goes over
rows; where several of its pieces find room above one another on a sheet they share it, in lanes
that are cut apart. A roll is a sheet as long as the longest piece needs, up to 200 in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from drapetemplate.errors import Fault, PaperError
from drapetemplate.job.model import Paper
from drapetemplate.measures import INCH, Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.sheets import furniture
from drapetemplate.sheets.furniture import Frame
from drapetemplate.sheets.joins import Clear, Span, joins, windows
from drapetemplate.template.strip import Strip

Turn = Literal["portrait", "landscape"]

END_PAD = Fraction(1)
LEAST_OVERLAP = 2 * furniture.REGISTRATION_ARM
MOST_SHEETS = 2000
LANE_GAP = Fraction(4)
# ISO 32000-1:2008, Annex C: a page side is at most 14,400 units of 1/72 in.
LONGEST_PAGE = 200 * INCH


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a strip falls on sheets of one orientation: joins along it, and between rows.

    `lanes` pieces of a single row share each sheet, one above the other, the first on top.
    """

    orientation: Turn
    frame: Frame
    columns: Span
    joins: tuple[Length, ...]
    clear: Clear
    levels: Span
    row_joins: tuple[Length, ...]
    lanes: int

    @property
    def rows(self) -> int:
        """How many sheets high."""
        return len(self.row_joins) + 1

    @property
    def across(self) -> int:
        """How many pieces long."""
        return len(self.joins) + 1

    @property
    def count(self) -> int:
        """How many sheets in all."""
        return -(-self.across // self.lanes) * self.rows

    def label(self, row: int, column: int) -> str:
        """What a piece is called: its sheet's number, with its lane's letter where it has lanes."""
        if self.lanes == 1:
            return str(row * self.across + column + 1)
        return f"{column // self.lanes + 1}{chr(ord('A') + column % self.lanes)}"

    def joins_from_leading(self, strip: Strip) -> tuple[Length, ...]:
        """Join centres in running order, measured from the leading edge."""
        return tuple(sorted(strip.measure(x) for x in self.joins))


def check_paper(paper: Paper, units: Units) -> Length:
    """The paper's height, once it is known to have room for a sheet; PaperError with each fault.

    A roll's is the most that one page of it can have.
    """
    if paper.height is None:
        if paper.orientation == "portrait":
            text = '"portrait" on a roll, along which a strip runs: leave orientation out'
            raise PaperError([Fault("paper.orientation", text)])
        return check_paper(replace(paper, height=LONGEST_PAGE / paper.scale[1]), units)
    faults = []
    least = furniture.LEAST_PRINTABLE
    short = min(paper.width, paper.height)
    if short - 2 * paper.margin < least:
        needs = f"the check bars need {format_length(least, units)} each way"
        if short < least:
            faults.append(
                Fault("paper.size", f"{paper.name} is too small for a template sheet: {needs}")
            )
        else:
            left = max(short - 2 * paper.margin, Fraction(0))
            allowed = rounded_down((short - least) / 2, units)
            faults.append(
                Fault(
                    "paper.margin",
                    f"{format_length(paper.margin, units)} leaves {format_length(left, units)} "
                    f"across this paper and {needs}: {format_length(allowed, units)} or less",
                )
            )
    elif paper.overlap < LEAST_OVERLAP:
        need = rounded_up(LEAST_OVERLAP, units)
        text = (
            f"{format_length(paper.overlap, units)} is too little: the registration marks need "
            f"{format_length(need, units)} or more"
        )
        faults.append(Fault("paper.overlap", text))
    elif paper.overlap > (short - 2 * paper.margin) / 4:
        most = rounded_down((short - 2 * paper.margin) / 4, units)
        text = (
            f"{format_length(paper.overlap, units)} is too much: {format_length(most, units)} or "
            "less on this paper"
        )
        faults.append(Fault("paper.overlap", text))
    if faults:
        raise PaperError(faults)
    return paper.height


def turns_of(tilings: Sequence[Tiling]) -> str:
    """Which way round the sheets of these are, in words: "landscape", "landscape and portrait"."""
    return " and ".join(dict.fromkeys(one.orientation for one in tilings))


def on_roll(paper: Paper, strips: Sequence[Strip], units: Units) -> Paper:
    """A roll as a page of it: as long as the longest piece of these strips needs, upright.

    Other paper is given back as it is.
    """
    if paper.height is not None:
        return paper
    longest = replace(paper, height=check_paper(paper, units), orientation="landscape")
    needs = [paper.width]
    for strip in strips:
        tiling = tile(strip, longest, units)
        piece = max(right - left for left, right in windows(tiling.columns, tiling.joins))
        needs.append(piece + 2 * paper.margin + furniture.COLUMN)
    return replace(longest, height=max(needs))


def tile(strip: Strip, paper: Paper, units: Units) -> Tiling:
    """The tiling with the fewest sheets, then rows, then pieces, then along the longer side.

    PaperError as `check_paper` has it, or for over 2,000 sheets.
    """
    height = check_paper(paper, units)
    turns: tuple[Turn, ...] = ("landscape", "portrait")
    if paper.orientation != "auto":
        turns = (paper.orientation,)
    tilings = []
    for turn in turns:
        sides = (height, paper.width) if turn == "landscape" else (paper.width, height)
        tilings.append(_tile(strip, paper, Frame(*sides, paper.margin), turn))
    best = min(tilings, key=lambda t: (t.count, t.rows, t.across))
    if best.count > MOST_SHEETS:
        text = (
            f"on {paper.name} the strip would take {best.count} sheets, over {MOST_SHEETS}: use "
            "larger paper"
        )
        raise PaperError([Fault("paper.size", text)])
    return best


def _tile(strip: Strip, paper: Paper, frame: Frame, turn: Turn) -> Tiling:
    even = paper.joins == "even"
    columns = Span(-END_PAD, strip.length + END_PAD, frame.window, paper.overlap)
    rings = sorted((r.x, r.outside, r.hole) for r in strip.rings)
    along, clear = joins(columns, rings, even=even)
    bottom, top = -strip.edge, strip.height + strip.edge
    levels = Span(bottom, top, frame.strip_height, paper.overlap)
    ring = strip.rings[0]
    up, _ = joins(levels, [(ring.y, ring.outside, ring.hole)], even=even)
    lanes = 1
    if not up:
        room, each = frame.strip_height + LANE_GAP, top - bottom + LANE_GAP
        lanes = min(int(room // each), len(along) + 1, furniture.MOST_LANES)
    return Tiling(turn, frame, columns, along, clear, levels, up, lanes)
