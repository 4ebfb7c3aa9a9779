"""What a job file leaves out is taken to be this: each default once, with its words and source.

The tables' descriptions, the schema, the page of the job file, the questions of `new` and what the
ticket lists as assumed are all made from these records.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Generic, TypeVar

from drapetemplate.job.model import (
    Hung,
    Joined,
    Joins,
    Orientation,
    Panels,
    Pattern,
    StripSharing,
    Style,
    View,
)
from drapetemplate.job.paper_sizes import SHEETS, PaperSize
from drapetemplate.measures import INCH, MM, Length, Units, format_length

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Default(Generic[_T]):
    """What stands for one key that a job file leaves out.

    `key` is as in a job file: "paper.margin"; a window's own keys have no table's name, and
    [lining] takes what is said of [fabric] where it has no default of its own. `value` is None
    where it is worked out from the rest of the job. `words` are the value as a job file may have
    it, or what it is worked out from; `note` is what the ticket adds where it lists the value as
    assumed. Where a job in mm or cm has a rounder one, that is `metric`, in `metric_words`; of what
    is worked out they name what is other than in `words`. `but` says where another key of the job
    leads to something else, and to what.
    """

    key: str
    value: _T
    words: str
    source: str
    note: str = ""
    metric: _T | None = None
    metric_words: str = ""
    but: str = ""

    def __str__(self) -> str:
        """Return the default as the tables say it.

        >>> print(HOLE, SEAM)
        Default: the opening. Default 1/2 in, or 15 mm in a metric job.
        """
        return f"Default{':' if self.value is None else ''} {self.all_words}."

    @property
    def all_words(self) -> str:
        """The words, those of a metric job where it has others, and what else there may be."""
        metric = f", or {self.metric_words} in a metric job" if self.metric_words else ""
        but = f"; {self.but}" if self.but else ""
        return f"{self.words}{metric}{but}"

    def in_units(self, units: Units) -> Default[_T]:
        """Return the default of a job in these units.

        >>> ALLOWANCE.in_units("cm").words, ALLOWANCE.in_units("in").words
        ('100 mm', '4 in')
        """
        if units == "in" or self.metric is None:
            return self
        return replace(self, value=self.metric, words=self.metric_words)

    def of(self, table: str) -> Default[_T]:
        """Return the same default for the same key of another table."""
        return replace(self, key=f"{table}.{self.key.rpartition('.')[2]}")

    def unless_given(self, given: _T | None) -> _T:
        """Return what the job file gives, or this default where it gives nothing."""
        return self.value if given is None else given


@dataclass(frozen=True, slots=True)
class Usual:
    """A length that is usual in the trade: in a job in inches, and the rounder one in a metric job.

    >>> BAND_OVER_EYELET.of("mm"), BAND_OVER_EYELET.words, BAND_OVER_EYELET.metric_words
    (Fraction(50, 1), '2 in', '50 mm')
    """

    inch: Length
    metric: Length

    def of(self, units: Units) -> Length:
        """Return the length that is usual in a job in these units."""
        return self.inch if units == "in" else self.metric

    @property
    def words(self) -> str:
        """The one of a job in inches."""
        return format_length(self.inch, "in")

    @property
    def metric_words(self) -> str:
        """The one of a metric job."""
        return format_length(self.metric, "mm")


TRADE = "common practice"
OURS = "this tool's choice"
UNPRINTABLE = "wider than most printers' unprintable edges"

PAPER_EDGE = INCH / 2
BAND_OVER_EYELET = Usual(2 * INCH, 50 * MM)
HEADING_IN_BANDS = 2
RETURN_WITHOUT_PROJECTION = Usual(3 * INCH, 75 * MM)

UNITS: Default[Units] = Default("units", "in", "in", OURS)

SIZE: Default[PaperSize] = Default(
    "paper.size", SHEETS["letter"], "letter", OURS, metric=SHEETS["a4"], metric_words="a4"
)
ORIENTATION: Default[Orientation] = Default(
    "paper.orientation", "auto", "auto: whichever takes fewer sheets", OURS
)
MARGIN = Default(
    "paper.margin", PAPER_EDGE, "1/2 in", UNPRINTABLE, metric=12 * MM, metric_words="12 mm"
)
OVERLAP = Default("paper.overlap", PAPER_EDGE, "1/2 in", OURS, metric=12 * MM, metric_words="12 mm")
JOINS: Default[Joins] = Default("paper.joins", "clear", "clear", OURS)
VIEW: Default[View] = Default("paper.view", "face", "face", OURS)
STRIPS: Default[StripSharing] = Default("paper.strips", "one", "one", OURS)
STYLE: Default[Style] = Default("paper.style", "whole", "whole", OURS)
LETTERS = Default("paper.letters", ("F", "B"), '["F", "B"]', OURS)
PRINTER = Default("paper.printer", None, "none", "")

HOLE = Default("eyelet.hole", None, "the opening", OURS, "the opening")
THICKNESS = Default("eyelet.thickness", Length(0), "0", OURS, "not given: turning may be less")
HUNG: Default[Hung] = Default("eyelet.hung", "pole", "pole", TRADE)
SPARES = Default("eyelet.spares", 0, "0", OURS)

BAND_HEIGHT = Default(
    "band.height",
    None,
    f"the eyelet's outside and {BAND_OVER_EYELET.words}",
    TRADE,
    metric_words=BAND_OVER_EYELET.metric_words,
)
BAND_ABOVE = Default("band.above", None, "eyelet centred in the band", TRADE, "eyelet centred")

WALL_CLEARANCE = Default(
    "pole.wall_clearance", INCH / 2, "1/2 in", TRADE, metric=12 * MM, metric_words="12 mm"
)
OFF_FLOOR = Default(
    "pole.off_floor", INCH / 2, "1/2 in", TRADE, metric=12 * MM, metric_words="12 mm"
)

SEAM = Default("fabric.seam", INCH / 2, "1/2 in", TRADE, metric=15 * MM, metric_words="15 mm")
SIDE_HEM = Default("fabric.side_hem", 3 * INCH, "3 in", TRADE, metric=75 * MM, metric_words="75 mm")
HEADING = Default("fabric.heading", None, "twice the band's height", TRADE, "twice the band")
BOTTOM_HEM = Default(
    "fabric.bottom_hem", 8 * INCH, "8 in", TRADE, metric=200 * MM, metric_words="200 mm"
)
RAILROAD = Default("fabric.railroad", value=False, words="false", source=TRADE)
MIRRORED = Default("fabric.mirrored", value=False, words="false", source=OURS)
SHRINKAGE = Default("fabric.shrinkage", Fraction(0), "0", OURS)
ALLOWANCE = Default(
    "fabric.allowance",
    4 * INCH,
    "4 in",
    TRADE,
    "to square the start and cut round a flaw",
    metric=100 * MM,
    metric_words="100 mm",
)

JOINED: Default[Joined] = Default("lining.joined", "loose", "loose", TRADE)
SET_IN = Default(
    "lining.set_in",
    INCH * 3 / 2,
    "1 1/2 in",
    TRADE,
    "from each side edge of the face",
    metric=40 * MM,
    metric_words="40 mm",
    but="0 where it is bagged",
)
SHORT = Default(
    "lining.short",
    INCH,
    "1 in",
    TRADE,
    "above the face's foot",
    metric=25 * MM,
    metric_words="25 mm",
    but="0 where it is bagged",
)
LINING_SIDE_HEM = Default(
    "lining.side_hem",
    INCH * 3 / 2,
    "1 1/2 in",
    TRADE,
    metric=40 * MM,
    metric_words="40 mm",
    but="the seam allowance where it is bagged",
)
LINING_HEADING = Default("lining.heading", Length(0), "0", TRADE, "caught under the face's heading")
LINING_BOTTOM_HEM = Default(
    "lining.bottom_hem",
    4 * INCH,
    "4 in",
    TRADE,
    metric=100 * MM,
    metric_words="100 mm",
    but="the seam allowance where it is bagged",
)

NAME = Default("name", None, "Window 1, and so on", OURS)
QUANTITY = Default("quantity", 1, "1", OURS)
PANELS: Default[Panels] = Default("panels", "pair", "pair", TRADE)
LENGTH = Default("length", None, "from pole.top, if given", OURS)
LEADING = Default("leading", INCH * 3 / 2, "1 1/2 in", TRADE, metric=40 * MM, metric_words="40 mm")
RETURN = Default(
    "return",
    None,
    f"to the wall, else {RETURN_WITHOUT_PROJECTION.words}",
    TRADE,
    metric_words=RETURN_WITHOUT_PROJECTION.metric_words,
)
COUNT = Default("count", "auto", "auto", OURS)
GAP = Default("gap", None, "one outside", TRADE)
EXTRA_SEAMS = Default("extra_seams", 0, "0", OURS)
STACK_EACH = Default(
    "stack_each", INCH * 5 / 4, "1 1/4 in", TRADE, metric=32 * MM, metric_words="32 mm"
)
PATTERN: Default[Pattern] = Default("pattern", "seams", "seams", TRADE)

DEFAULTS: dict[str, Default[Any]] = {
    default.key: default for default in tuple(globals().values()) if isinstance(default, Default)
}
"""Every default above by its key."""

# `covers` has a default only where the pole's length is known and a fullness beside the panel's
# width doesn't say what it covers.
HALF_THE_POLE = Default("covers", None, "half the pole", OURS, "half of pole.length")
WHOLE_POLE = Default("covers", None, "all the pole", OURS, "all of pole.length")

# A bagged lining is sewn to the face's edges right sides together and turned out: as wide and as
# long as the face, with a seam's cloth at its edges in place of hems.
BAGGED_SIDE_HEM = Default("lining.side_hem", None, "the seam", TRADE, "bagged: a seam, no hem")
BAGGED_BOTTOM_HEM = replace(BAGGED_SIDE_HEM, key="lining.bottom_hem")
BAGGED_SET_IN = Default("lining.set_in", Length(0), "0", TRADE, "bagged: as wide as the face")
BAGGED_SHORT = Default("lining.short", Length(0), "0", TRADE, "bagged: as long as the face")
