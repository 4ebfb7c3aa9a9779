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
from itertools import accumulate

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
    are more than the panel takes. `motif` is where the first one's centre is across the cloth,
    from its left selvage; None where the pieces place none.
    """

    number: int
    window: str
    part: Part
    at: Length
    length: Length
    over: Length
    pieces: tuple[PlacedPiece, ...]
    cloth: Cloth
    motif: Length | None = None

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
            at += use.lead(at)
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
                    motif=None if use.seams.motif_off is None else use.cloth.motif,
                )
                at += use.cut


def motif_from_edge(drop: Drop, piece: PlacedPiece) -> Length | None:
    """Return how far a motif's centre is from a piece's left edge, the first on it; None if none.

    As it lies on its drop, its top at the far end.
    """
    repeat = drop.cloth.repeat_across
    if drop.motif is None or repeat is None:
        return None
    off = (drop.motif - piece.left) % repeat
    return off if off <= piece.width else None


def made_panels(window: WindowPlan) -> tuple[MadePanel, ...]:
    """Return every panel to be made of a window: pair after pair, or panel after panel."""
    many = window.quantity * len(window.panels)
    return tuple(made_panel(window, number) for number in range(many))


def made_panel(window: WindowPlan, number: int) -> MadePanel:
    """Return the panel of that number, from 0, of all that are to be made of a window."""
    pair, place = divmod(number, len(window.panels))
    return MadePanel(window.panels[place].side, None if window.quantity == 1 else pair + 1)


def _pieces_by_drop(
    window: WindowPlan, use: ClothUse, seams: SeamPlan
) -> Iterator[tuple[PlacedPiece, ...]]:
    """Yield the pieces of each drop: panel after panel, what several share after the last of them.

    Every piece is taken from the first panel that still needs one.
    """
    panels = made_panels(window)
    needed = [list(range(len(panels))) for _ in seams.pieces]
    filled: list[tuple[int, list[int], DropLayout]] = []
    # Those for given sides first, while their panels still need their pieces.
    for place, layout in sorted(enumerate(seams.layouts), key=lambda item: item[1].lefts is None):
        for _ in range(layout.times):
            numbers = []
            for n, piece in enumerate(layout.pieces):
                number = next(
                    number
                    for number in needed[piece]
                    if layout.lefts is None or layout.lefts[n] == (panels[number].side == "left")
                )
                needed[piece].remove(number)
                numbers.append(number)
            filled.append((place, numbers, layout))
    # Drops of one panel alone keep the order of the layouts, which is that of its pieces.
    for _, numbers, layout in sorted(
        filled, key=lambda drop: (max(drop[1]), len(set(drop[1])), drop[0])
    ):
        yield _laid(use, seams, layout, [panels[number] for number in numbers])


def _laid(
    use: ClothUse,
    seams: SeamPlan,
    layout: DropLayout,
    panels: Sequence[MadePanel],
) -> tuple[PlacedPiece, ...]:
    """Return the pieces of one drop where they lie on it, from its left selvage.

    `panels` are those that the layout's pieces are for, in its order. Those of left panels lie from
    the right selvage, all others from the left one.
    """
    cloth = use.cloth
    if cloth.railroad or cloth.width is None:  # only of turned cloth it may be unknown
        across = use.panel_cut or cloth.width or Fraction(0)
        known = use.panel_cut is not None
        return (PlacedPiece(panels[0], 1, 1, Fraction(0), across, known),)
    placed: list[PlacedPiece] = []
    for from_right in (False, True):
        of_side = [n for n, panel in enumerate(panels) if (panel.side == "left") == from_right]
        if layout.lefts is None:
            starts = [*_starts(seams, layout, [layout.pieces[n] for n in of_side], cloth)]
        else:
            starts = [layout.starts[n] for n in of_side]
        for n, start in zip(of_side, starts, strict=True):
            piece, panel = layout.pieces[n], panels[n]
            width = seams.pieces[piece]
            left = cloth.width - start - width if from_right else start
            placed.append(PlacedPiece(panel, piece + 1, len(seams.pieces), left, width))
    return tuple(sorted(placed, key=lambda piece: piece.left))


def _starts(
    seams: SeamPlan, layout: DropLayout, pieces: Sequence[int], cloth: Cloth
) -> Iterator[Length]:
    """Yield where the pieces of one drop that are of panels of one side begin, from their selvage.

    Plain pieces lie one beside the other. Patterned ones have the layout's places. Where a drop has
    pieces of both sides they are all alike, and have the places nearest to their selvage, or if
    they would meet there, the farthest ones. The farthest of both sides are clear of each other
    then, since no two places are nearer to each other than a piece is wide.
    """
    if not cloth.repeat_across:
        widths = [seams.pieces[piece] for piece in pieces]
        yield from accumulate(widths[:-1], initial=Fraction(0)) if widths else ()
        return
    places, others = len(pieces), len(layout.pieces) - len(pieces)
    ends = [
        layout.starts[count - 1] + seams.pieces[layout.pieces[0]]
        for count in (places, others)
        if count
    ]
    meets = len(ends) > 1 and sum(ends) > (cloth.width or 0)
    yield from layout.starts[others:] if meets else layout.starts[:places]
