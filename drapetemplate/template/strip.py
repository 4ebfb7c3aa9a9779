"""One panel's plan in, its strip out: the full-scale template of the heading, not yet on paper.

Frame: panel coordinates, exact millimetres; x from the strip's left end as it is seen, y up
from the band's bottom edge, so the panel's top edge is at y = height. Seen from the face, a
left panel's leading edge is at the right end; seen from the back everything is mirrored but
letters and figures. Running measures are always from the leading edge (a single panel's left
edge), rounded each for itself and never added up.

What is drawn on a strip is in `panel_drawing.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from drapetemplate.drawing.marks import Mark
from drapetemplate.job.model import View
from drapetemplate.measures import Length
from drapetemplate.planning.model import PanelPlan, Side

# Room above and below the band for registration marks; as much again, next to the band, for
# numbers and measures where the band itself has no room for them.
EDGE_ZONE = Fraction(6)
LABEL_ROOM = 5  # mm between eyelet and band edge that have room for a number or a measure


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

    def inside(self, x: Length, width: Length) -> Length:
        """The middle of words so wide that are meant for x, moved where they would leave the strip.

        >>> strip = Strip(Fraction(100), Fraction(40), (), False, True, Fraction(0), Fraction(100))
        >>> [int(strip.inside(Fraction(x), Fraction(20))) for x in (4, 50, 99)]
        [10, 50, 90]
        """
        if width > self.length:
            return x
        return min(max(x, width / 2), self.length - width / 2)

    @property
    def of_other(self) -> Strip:
        """The same strip as the second panel of a pair has it, measured from its own leading edge.

        Its ends are the first one's, mirrored on the strip; eyelets keep the first one's numbers.
        """
        start = self.length - self.width - self.start
        return replace(self, start=start, leading_at_right=not self.leading_at_right)

    def measure(self, x: Length) -> Length:
        """The measure from the leading edge of a place on the strip."""
        return self.width + self.start - x if self.leading_at_right else x - self.start


@dataclass(frozen=True, slots=True)
class Template:
    """A strip with every mark on it, and what it is of; `seen` is "face" or "back".

    `letter` stands before the numbers of its sheets and joins: "" where the job has no other strip.
    `sides` are its panels', `piece` is which piece of a strip it is, "" for all of it. `closing`
    says in words what the taped strip must measure.
    """

    letter: str
    window: str
    sides: tuple[Side, ...]
    piece: str
    quantity: int
    seen: View
    strip: Strip
    marks: tuple[Mark, ...]
    closing: str

    @property
    def panel(self) -> str:
        """Whose it is: "left panel", "left and right panel", "left panel, stepping piece"."""
        return f"{' and '.join(self.sides)} panel{self.piece and f', {self.piece}'}"

    @property
    def panels(self) -> int:
        """How many panels it marks."""
        return self.quantity * len(self.sides)

    @property
    def panel_large(self) -> str:
        """The same as it is printed large on every sheet: "LEFT + RIGHT panel"."""
        return f"{' + '.join(self.sides).upper()} panel{self.piece and f', {self.piece}'}"

    def sheet_name(self, label: str) -> str:
        """What a sheet or a part of one is called, by its label among the strip's own."""
        return f"{self.letter}{label}"

    def join_name(self, number: int) -> str:
        """What a join is called, counted from the strip's left end."""
        return f"join {self.letter}{number}"


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
