"""Stiffener band in words: what to buy of it, and what each of its rolls is cut into."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from drapetemplate.measures import METRE, YARD, Length, Units, format_order
from drapetemplate.planning.band import BandOrder, BandPanel, BandPiece
from drapetemplate.planning.drops import made_panel
from drapetemplate.planning.model import PanelPlan, Plan, WindowPlan
from drapetemplate.wording import Wording, counted, number

BUTTED = "Butt the ends of a splice and tape or stitch them flat"


def band_to_buy(order: BandOrder, units: Units) -> str:
    """Return how much band to buy, and what the panels take exactly.

    "10 1/4 yd (368 in)"; where the length of a roll is known "1 roll of 25 yd, for 10 1/4 yd (368
    in)".
    """
    exact = Wording(units)(order.length)
    amount = f"{format_order(order.amount, order.unit)} ({exact})"
    rolls = rolls_to_buy(order, units)
    return f"{rolls}, for {amount}" if rolls else amount


def rolls_to_buy(order: BandOrder, units: Units) -> str:
    """Return how many rolls to buy, "2 rolls of 25 yd"; "" where a roll's length isn't known."""
    if order.roll is None or order.rolls is None:
        return ""
    return f"{counted(order.rolls, 'roll')} of {_roll_length(order.roll, units)}"


def _roll_length(roll: Length, units: Units) -> str:
    """A roll's length as it is sold, where that is in quarters of a yard or tenths of a metre."""
    in_yards, in_metres = roll / YARD, roll / METRE
    said = [f"{number(in_metres)} m"] if (in_metres * 10).denominator == 1 else []
    if (in_yards * 4).denominator == 1:
        said.insert(0 if units == "in" else 1, format_order(in_yards, "yd"))
    return said[0] if said else Wording(units)(roll)


def roll_rows(plan: Plan, units: Units) -> list[tuple[str, str]]:
    """Return what each roll of band is cut into: its name, and its pieces in order.

    Bands whose roll isn't known have none.
    """
    several = len(plan.order.bands) > 1
    say = Wording(units)
    rows = []
    for order in plan.order.bands:
        of = f", {say(order.height)} high" if several else ""
        rows += [(f"roll {n}{of}", words) for n, words in rolls_cut(order, _owned(plan), units)]
    return rows


Owned = Sequence[tuple[str, WindowPlan]]
"""For each window that a band's panels are of, what it is called and its plan."""


def _owned(plan: Plan) -> Owned:
    return [(window.name, window) for window in plan.windows]


def rolls_cut(order: BandOrder, owned: Owned, units: Units) -> Iterator[tuple[int, str]]:
    """Yield each roll's number and what it is cut into, in order; nothing without rolls."""
    if order.roll is None:
        return
    say = Wording(units)
    pieces = [(piece, panel) for panel in order.panels for piece in panel.pieces]
    pieces.sort(key=lambda pair: (pair[0].roll, pair[0].at))
    for roll, on_roll in groupby(pieces, key=lambda pair: pair[0].roll):
        cut = list(on_roll)
        last = cut[-1][0]
        over = order.roll - last.at - last.length
        alike = groupby(_piece(owned[panel.window], panel, piece, say) for piece, panel in cut)
        words = [f"{same}{_times(len(list(times)))}" for same, times in alike]
        yield roll, "; ".join([*words, f"{say(over)} over"] if over else words)


def _times(count: int) -> str:
    return f" ×{count}" if count > 1 else ""


def _piece(owned: tuple[str, WindowPlan], band: BandPanel, piece: BandPiece, say: Wording) -> str:
    """A piece: its window and length; of a spliced panel's, which part of which panel it is."""
    name, window = owned
    if len(band.pieces) == 1:
        return f"{name} {say(piece.length)}"
    which = f"{name} {made_panel(window, band.number).name}"
    return f"{which}: {say(piece.length)} {_part(window.panels[0], band, piece, say)}"


def _part(panel: PanelPlan, band: BandPanel, piece: BandPiece, say: Wording) -> str:
    """Where a spliced panel has a piece: at one of its edges, or from a splice on."""
    if piece is band.pieces[0]:
        return f"at its {panel.edge} edge"
    if piece is band.pieces[-1]:
        return f"at its {'right' if panel.side == 'single' else 'return'} edge"
    return f"from {say(piece.start)} on"


def splice_rows(plan: Plan, units: Units) -> list[tuple[str, str]]:
    """Return where each spliced panel is spliced: its name, and its measures."""
    return [row for order in plan.order.bands for row in splices_told(order, _owned(plan), units)]


def splices_told(order: BandOrder, owned: Owned, units: Units) -> Iterator[tuple[str, str]]:
    """Yield where each spliced panel of one band is spliced: its name, and its measures."""
    say = Wording(units)
    for band in sorted(order.panels, key=lambda band: (band.window, band.number)):
        if band.splices:
            name, window = owned[band.window]
            places = ", ".join(map(say, band.splices))
            words = f"{places} from its {window.panels[0].edge} edge"
            yield f"{name} {made_panel(window, band.number).name}", words
