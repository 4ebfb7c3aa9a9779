"""A plan as frozen values: panels, windows, orders, and what was found wrong or doubtful."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple

from drapetemplate.job.model import Assumption, Window
from drapetemplate.measures import Length
from drapetemplate.planning.band import BandOrder
from drapetemplate.planning.cloth import ClothOrder, ClothUse, EyeletOrder
from drapetemplate.planning.codes import LEVELS, Level
from drapetemplate.planning.eyelets import EyeletLine, GapKind
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.pattern_folds import FoldPattern
from drapetemplate.planning.pole_stand import PoleStand


class Change(NamedTuple):
    """A window's key, as "pole.projection", and the value that it is to have."""

    key: str
    value: Length | int | str


Remedy = tuple[Change, ...]
"""What would mend a finding: all of these changes together."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the job's owner should know, and what to do about it.

    `remedies` are what its text names to do, any one of which clears it and makes no other finding
    worse; what names no value has none. `part` is the cloth that it is about, "face" or "lining",
    where it is about one.
    """

    level: Level
    code: str
    text: str
    remedies: tuple[Remedy, ...] = ()
    part: str = ""


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Return findings by level, else as they come."""
    return sorted(findings, key=lambda finding: LEVELS.index(finding.level))


Side = Literal["left", "right", "single"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPlan:
    """One finished panel. `leading` is the cloth before the first eyelet, whatever that end is.

    `reason` says why `count` was taken, `least_gap` is what a `gap` should be at the least; `hang`
    is None on hooks; `weight` is in grams. `seams` are the face's seam lines from the same edge,
    `pieces` its raw widths, hem and seam cloth included; None where the cloth's width isn't known.
    `motifs` are the places of the cloth's motif in the front folds, None where none is placed.
    """

    side: Side
    width: Length
    count: int
    reason: str
    outside: Length
    opening: Length
    hole: Length
    leading: Length
    return_: Length
    gap: Length
    least_gap: Length
    pitch: Length
    centers: tuple[Length, ...]
    gaps: tuple[GapKind, ...]
    band_height: Length
    above: Length
    stack: Length
    hang: Hang | None
    weight: Fraction | None
    fullness: Fraction | None = None
    covers: Length | None = None
    seams: tuple[Length, ...] | None = None
    pieces: tuple[Length, ...] | None = None
    motifs: tuple[Length, ...] | None = None

    @property
    def line(self) -> EyeletLine:
        """The line its eyelets stand on, which says what any other count comes to."""
        return EyeletLine(
            width=self.width,
            leading=self.leading,
            return_=self.return_,
            outside=self.outside,
            least_gap=self.least_gap,
        )

    @property
    def edge(self) -> str:
        """The edge that all is measured from: "left" of a single panel, else "leading"."""
        return "left" if self.side == "single" else "leading"

    @property
    def leading_at_right(self) -> bool:
        """True where `edge` is at the right, as seen from the room: on a left panel."""
        return self.side == "left"

    def seen_from_room(self, measure: Length) -> Length:
        """Return a measure from `edge` as one from the left, as seen from the room."""
        return self.width - measure if self.leading_at_right else measure


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowPlan:
    """One `window` of the job with its panels; `findings` leave out what is `assumed`.

    `length` is the finished length, from the job or from the pole, `stand` how the panels stand on
    that. `cloth` is what all panels
    take, `quantity` counted in: of the face, then of the lining, where the job has them. `pattern`
    is what became of one that the job wants on the folds, None where it wants none there.
    """

    window: Window
    length: Length | None
    panels: tuple[PanelPlan, ...]
    stand: PoleStand
    cloth: tuple[ClothUse, ...]
    findings: tuple[Finding, ...]
    assumed: tuple[Assumption, ...]
    pattern: FoldPattern | None = None

    @property
    def name(self) -> str:
        """What the job calls the window."""
        return self.window.name

    @property
    def quantity(self) -> int:
        """How many times its panels are to be made."""
        return self.window.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What to buy for the whole job: each cloth, each eyelet, band of each height and roll."""

    cloth: tuple[ClothOrder, ...]
    eyelets: tuple[EyeletOrder, ...]
    bands: tuple[BandOrder, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole job. `eyelets` and `band` are what all its panels take together.

    `assumed` is what was assumed for all windows alike.
    """

    windows: tuple[WindowPlan, ...]
    eyelets: int
    band: Length
    order: Order
    assumed: tuple[Assumption, ...]

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings that keep the template from being made."""
        return tuple(
            finding
            for window in self.windows
            for finding in window.findings
            if finding.level == "stop"
        )
