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

from drapetemplate.measures import Length
from drapetemplate.planning.cloth import ClothOrder, ClothUse, Part, cut_length, kind
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.planning.seams import DropLayout, SeamPlan


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece on its drop. `panel` names the panel, `place` counts from its leading edge, from 1.

    A single panel's pieces count from its left edge. `width` isn't `known` for turned cloth
    where the panel's length isn't: the cloth's own, or nothing, stands for it.
    """

    panel: str
    place: int
    of: int
    left: Length
    width: Length
    known: bool = True


@dataclass(frozen=True, slots=True)
class Drop:
    """One drop: from `at` along the cloth for `length`, to be slit beside its `pieces`.

    `turned` cloth is railroaded: the panel's width runs along the cloth, and its one piece is the
    cut length across it.
    """

    number: int
    window: str
    part: Part
    at: Length
    length: Length
    pieces: tuple[Piece, ...]
    turned: bool


def drops(plan: Plan, order: ClothOrder) -> Iterator[Drop]:
    """Every drop of one cloth of a plan's order, window by window; none where a cut isn't known."""
    number, at = 0, Fraction(0)
    for window in plan.windows:
        for one in window.cloth:
            if kind(one) != order.kind or one.seams is None or one.cut is None:
                continue
            for pieces in _drops(window, one, one.seams):
                number += 1
                turned = one.cloth.railroad
                yield Drop(number, window.name, one.part, at, one.cut, pieces, turned)
                at += one.cut


def panel_names(window: WindowPlan) -> tuple[str, ...]:
    """Every panel of a window by its side, numbered where more than one pair or panel is made."""
    if window.quantity == 1:
        return tuple(panel.side for panel in window.panels)
    return tuple(
        f"{panel.side} {n}" for n in range(1, window.quantity + 1) for panel in window.panels
    )


def _drops(window: WindowPlan, one: ClothUse, seams: SeamPlan) -> Iterator[tuple[Piece, ...]]:
    """The pieces of each drop: panel after panel, what two panels share after both."""
    names = panel_names(window)
    shared = [cut for cut in seams.layouts if len(cut.pieces) > len(set(cut.pieces))]
    every = [cut for cut in seams.layouts if cut not in shared and cut.times == len(names)]
    for n, name in enumerate(names):
        for cut in every:
            yield _on_drop(window, one, seams, cut, (name,) * len(cut.pieces))
        if n % 2:
            for cut in shared:
                yield _on_drop(window, one, seams, cut, (names[n - 1], name))
    for cut in seams.layouts:
        if cut not in shared and cut not in every:
            yield _on_drop(window, one, seams, cut, names[-1:])


def _on_drop(
    window: WindowPlan, one: ClothUse, seams: SeamPlan, cut: DropLayout, names: Sequence[str]
) -> tuple[Piece, ...]:
    """The pieces of one drop where they lie on it, from its left selvage."""
    cloth = one.cloth
    if cloth.railroad:
        across, known = cloth.width or Fraction(0), window.length is not None
        if window.length is not None:
            across = cut_length(cloth, window.length)
        return (Piece(names[0], 1, 1, Fraction(0), across, known),)
    found: list[Piece] = []
    for n, (place, name) in enumerate(zip(cut.pieces, names, strict=True)):
        wide, start = seams.pieces[place], seams.starts[place]
        from_right = name.startswith("left")
        alike = len({one.startswith("left") for one in names}) == 1
        if n and place == cut.pieces[0] and alike:
            start += cut.step  # a second one of the same, on the same side
        elif not alike and cloth.width is not None and start + wide > cloth.width / 2:
            start += cut.step  # a pair's, from either selvage: they would meet nearer to it
        left = cloth.width - start - wide if from_right and cloth.width is not None else start
        found.append(Piece(name, place + 1, len(seams.pieces), left, wide))
    return tuple(sorted(found, key=lambda piece: piece.left))
