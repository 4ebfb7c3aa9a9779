"""What a window's panels take of their cloth: cut lengths, weight, drops, and what to order.

A drop is one width of cloth cut to length, hems and heading included. Railroaded cloth is turned:
its run, along the cloth, is a panel's flat raw width, and stands for a drop here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Cloth, Eyelet
from drapetemplate.measures import METRE, YARD, Length, Units, format_length
from drapetemplate.planning.seams import EyeletRow, SeamPlan, plan_seams

Part = Literal["face", "lining"]
OrderUnit = Literal["yd", "m"]
Kind = tuple[str, bool, Length | None]


@dataclass(frozen=True, slots=True)
class ClothUse:
    """What all panels of one window take of one cloth.

    `seams` is None where the cloth's width isn't known, `cut` (one drop along the cloth) where
    the panel's length isn't, and `total` where either isn't. A railroaded run needs no length.
    """

    part: Part
    cloth: Cloth
    seams: SeamPlan | None
    cut: Length | None

    @property
    def total(self) -> Length | None:
        """Drops times cut length, exact."""
        if self.seams is None or self.cut is None:
            return None
        return self.seams.drops * self.cut

    @property
    def shown(self) -> tuple[int, ...]:
        """Places of the seams that fail: a face's in sight, a lining's at an eyelet or a hem."""
        if self.seams is None:
            return ()
        return self.seams.struck if self.part == "lining" else self.seams.visible

    @property
    def hidden(self) -> int:
        """How many seams don't fail."""
        return 0 if self.seams is None else len(self.seams.seams) - len(self.shown)


@dataclass(frozen=True, slots=True)
class ClothOrder:
    """One cloth over all windows: exact `total`, and `amount` to order in `unit`, rounded up.

    `kind` tells it from other cloths. `fabric` is None where the job doesn't name it. `drops`,
    `total` and `amount` are None where a window's aren't known.
    """

    kind: Kind
    part: Part
    fabric: str | None
    width: Length | None
    drops: int | None
    total: Length | None
    amount: Fraction | None
    unit: OrderUnit


@dataclass(frozen=True, slots=True)
class EyeletOrder:
    """One eyelet over all windows: `used` and `spares`; `packs` is None where the pack isn't known.

    `bought` is used and spares together, up to whole packs.
    """

    eyelet: Eyelet
    used: int
    spares: int
    packs: int | None
    bought: int


@dataclass(frozen=True, slots=True)
class BandOrder:
    """Stiffener band of one height over all windows: the finished widths added up, exact."""

    height: Length
    length: Length


def wanted_length(cloth: Cloth, length: Length) -> Length:
    """Finished length, heading and bottom hem, enlarged for shrinkage."""
    return (length + cloth.heading + cloth.bottom_hem) * (1 + cloth.shrinkage)


def cut_length(cloth: Cloth, length: Length) -> Length:
    """Length of one drop for a panel finishing at `length` (3.12).

    The length wanted, up to a whole number of pattern repeats.
    """
    cut = wanted_length(cloth, length)
    if cloth.repeat_down:
        cut = ceil(cut / cloth.repeat_down) * cloth.repeat_down
    return cut


def weight(cloth: Cloth, width: Length, length: Length) -> Fraction | None:
    """Grams of cloth in a panel of finished `width` and `length` (3.13); None if not known.

    Flat raw width, side hems included, times the cut length.
    """
    if cloth.weight is None:
        return None
    area = (width + 2 * cloth.side_hem) * cut_length(cloth, length) / METRE**2
    return area * cloth.weight


def takes(
    part: Part,
    cloth: Cloth,
    row: EyeletRow,
    length: Length | None,
    *,
    panels: int,
    key: str,
    units: Units,
) -> ClothUse:
    """What `panels` panels alike, finishing at `length`, take of one cloth (3.11, 3.12).

    `panels` counts all of a window, its quantity included; `key` is the cloth's path, for faults.
    A lining's seams needn't hide, so any gap will do, but they clear eyelets and holes as the
    face's do. Its run, railroaded, is enlarged for shrinkage as a cut length is.
    JobError: what `plan_seams` refuses, or a railroaded cut longer than the cloth is wide.
    """
    if part == "lining":
        row = EyeletRow(row.width, row.outside, row.centers, ())
    cut = None if length is None else cut_length(cloth, length)
    if cloth.railroad:
        if cut is not None and cloth.width is not None and cut > cloth.width:
            text = (
                f"railroaded, a cut of {format_length(cut, units)} doesn't fit across a width of "
                f"{format_length(cloth.width, units)}: use cloth at least as wide as the cut, or "
                "railroad = false"
            )
            raise JobError([Fault(f"{key}.railroad", text)])
        cut = (row.width + 2 * cloth.side_hem) * (1 + cloth.shrinkage)
    return ClothUse(part, cloth, plan_seams(cloth, row, panels=panels, key=key, units=units), cut)


def cloth_orders(taken: Iterable[ClothUse], units: Units) -> tuple[ClothOrder, ...]:
    """What to order of each cloth over all windows, in the order they first come (3.12).

    One cloth is one name and one width, whether face or lining; without a name, one part and one
    width (`kind`). Each total is rounded up once: to 1/4 yd where `units` is in, else to 0.1 m.
    """
    alike: dict[Kind, list[ClothUse]] = {}
    for one in taken:
        alike.setdefault(kind(one), []).append(one)
    return tuple(_order(group, units) for group in alike.values())


def kind(one: ClothUse) -> Kind:
    """What makes one cloth: its name, or else its part, and its width."""
    name = one.cloth.name
    return name or one.part, name is None, one.cloth.width


def _order(group: list[ClothUse], units: Units) -> ClothOrder:
    """The order of one cloth; its part is that of the first window that takes it."""
    totals = [one.total for one in group]
    known = [total for total in totals if total is not None]
    total = sum(known, Fraction(0)) if len(known) == len(totals) else None
    unit = order_unit(units)
    first = group[0]
    drops = [one.seams.drops for one in group if one.seams is not None]
    return ClothOrder(
        kind=kind(first),
        part=first.part,
        fabric=first.cloth.name,
        width=first.cloth.width,
        drops=sum(drops) if len(drops) == len(group) else None,
        total=total,
        amount=None if total is None else rounded_order(total, unit),
        unit=unit,
    )


def order_unit(units: Units) -> OrderUnit:
    """What cloth is ordered in: yards where the job is in inches, else metres (3.12)."""
    return "yd" if units == "in" else "m"


def rounded_order(total: Length, unit: OrderUnit) -> Fraction:
    """Yards up to a whole 1/4 yd, or metres up to a whole 0.1 m (3.12)."""
    size, steps = (YARD, 4) if unit == "yd" else (METRE, 10)
    return Fraction(ceil(total / size * steps), steps)


def eyelet_orders(used: Iterable[tuple[Eyelet, int]]) -> tuple[EyeletOrder, ...]:
    """What to buy of each eyelet, from the number that each window takes of it.

    Eyelets that differ in nothing are one; `spares` are bought once for each, not per window.
    """
    counts: dict[Eyelet, int] = {}
    for eyelet, count in used:
        counts[eyelet] = counts.get(eyelet, 0) + count
    orders = []
    for eyelet, count in counts.items():
        need = count + eyelet.spares
        packs = None if eyelet.pack is None else ceil(Fraction(need, eyelet.pack))
        bought = need if packs is None or eyelet.pack is None else packs * eyelet.pack
        orders.append(EyeletOrder(eyelet, count, eyelet.spares, packs, bought))
    return tuple(orders)


def band_orders(used: Iterable[tuple[Length, Length]]) -> tuple[BandOrder, ...]:
    """Stiffener band of each height, from each window's band height and finished widths in all."""
    lengths: dict[Length, Length] = {}
    for height, length in used:
        lengths[height] = lengths.get(height, Fraction(0)) + length
    return tuple(BandOrder(height, length) for height, length in lengths.items())
