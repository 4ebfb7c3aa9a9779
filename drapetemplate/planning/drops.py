"""Every drop of a cloth in the order it comes off the roll, and where its pieces lie on it.

Frame: the cloth lies face up, the pattern's top toward the start of the roll. `at` runs along the
cloth from its start, `left` across it from its left selvage, as seen with the top at the far end.
Lengths are exact millimetres.

A piece lies with its edge nearer the panel's leading edge toward the selvage on that side, where
a pattern matches its neighbours' or at the selvage itself. So what is trimmed comes off toward the
return; and since a left panel's leading edge is at its right, its pieces lie from the right
selvage, as the pieces of other panels do from the left.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from drapetemplate.job.model import Cloth
from drapetemplate.measures import Length
from drapetemplate.planning.cloth import ClothOrder, ClothUse, Part
from drapetemplate.planning.model import Plan, Side, WindowPlan
from drapetemplate.planning.seams import DropLayout, SeamPlan


@dataclass(frozen=True, slots=True)
class MadePanel:
    """One panel to be made of a window: its side, and which of several such, from 1.

    `number` is None where the window is made once, and so has one panel of that side.
    """

    side: Side
    number: int | None = None

    @property
    def name(self) -> str:
        """What the panel goes by.

        >>> MadePanel("left").name, MadePanel("left", 2).name
        ('left', 'left 2')
        """
        return self.side if self.number is None else f"{self.side} {self.number}"


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """One piece where it lies on its drop: the `number`th of `of` that its panel has, from 1.

    Pieces count from the panel's leading edge, a single panel's from its left edge. `width` isn't
    `known` for turned cloth where the panel's length isn't: the cloth's own, or nothing, stands
    for it.
    """

    panel: MadePanel
    number: int
    of: int
    left: Length
    width: Length
    known: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """One drop: from `at` along the cloth for `length`, to be slit beside its `pieces`.

    `turned` cloth is railroaded: the panel's width runs along the cloth, and its one piece is the
    cut length across it. `over` is what is then trimmed off the drop's end, where its whole repeats
    are more than the panel takes.
    """

    number: int
    window: str
    part: Part
    at: Length
    length: Length
    over: Length
    pieces: tuple[PlacedPiece, ...]
    cloth: Cloth

    @property
    def turned(self) -> bool:
        """Whether the cloth is railroaded."""
        return self.cloth.railroad


def drops(plan: Plan, order: ClothOrder) -> Iterator[Drop]:
    """Yield every drop of one cloth of a plan's order, window by window; none of unknown cuts."""
    number, at = 0, Fraction(0)
    for window in plan.windows:
        for use in window.cloth:
            if use.cloth_key != order.cloth_key or use.seams is None or use.cut is None:
                continue
            for pieces in _pieces_by_drop(window, use, use.seams):
                number += 1
                yield Drop(
                    number=number,
                    window=window.name,
                    part=use.part,
                    at=at,
                    length=use.cut,
                    over=Fraction(0) if use.used is None else use.cut - use.used,
                    pieces=pieces,
                    cloth=use.cloth,
                )
                at += use.cut


def made_panels(window: WindowPlan) -> tuple[MadePanel, ...]:
    """Return every panel to be made of a window: pair after pair, or panel after panel."""
    if window.quantity == 1:
        return tuple(MadePanel(panel.side) for panel in window.panels)
    return tuple(
        MadePanel(panel.side, number)
        for number in range(1, window.quantity + 1)
        for panel in window.panels
    )


def _pieces_by_drop(
    window: WindowPlan, use: ClothUse, seams: SeamPlan
) -> Iterator[tuple[PlacedPiece, ...]]:
    """Yield the pieces of each drop: panel after panel, what two panels share after the second."""
    panels = made_panels(window)
    shared = [layout for layout in seams.layouts if len(layout.pieces) > len(set(layout.pieces))]
    own = [layout for layout in seams.layouts if layout not in shared]
    for n, panel in enumerate(panels):
        for layout in own:
            if layout.times == len(panels):
                yield _laid(use, seams, layout, (panel,) * len(layout.pieces))
        if n % 2:
            for layout in shared:
                yield _laid(use, seams, layout, (panels[n - 1], panel))
    for layout in own:
        if layout.times != len(panels):
            # Of an odd number of panels the last has nobody to share with.
            yield _laid(use, seams, layout, panels[-1:])


def _laid(
    use: ClothUse,
    seams: SeamPlan,
    layout: DropLayout,
    panels: Sequence[MadePanel],
) -> tuple[PlacedPiece, ...]:
    """Return the pieces of one drop where they lie on it, from its left selvage.

    `panels` are those that the layout's pieces are for, in its order.
    """
    cloth = use.cloth
    if cloth.railroad or cloth.width is None:  # only of turned cloth it may be unknown
        across = use.panel_cut or cloth.width or Fraction(0)
        known = use.panel_cut is not None
        return (PlacedPiece(panels[0], 1, 1, Fraction(0), across, known),)
    alike = len({panel.side == "left" for panel in panels}) == 1
    placed: list[PlacedPiece] = []
    for n, (piece, panel) in enumerate(zip(layout.pieces, panels, strict=True)):
        width, start = seams.pieces[piece], seams.starts[piece]
        if n and piece == layout.pieces[0] and alike:
            start += layout.step  # a second one of the same, on the same side
        elif not alike and start + width > cloth.width / 2:
            start += layout.step  # a pair's, from either selvage: they would meet nearer to it
        left = cloth.width - start - width if panel.side == "left" else start
        placed.append(PlacedPiece(panel, piece + 1, len(seams.pieces), left, width))
    return tuple(sorted(placed, key=lambda piece: piece.left))
