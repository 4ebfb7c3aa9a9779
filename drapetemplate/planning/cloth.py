"""What a window's panels take of their cloth: cut lengths, weight, drops, and what to order.

A drop is one width of cloth cut to length, hems and heading included. Railroaded cloth is turned:
its run, along the cloth, holds a panel's flat raw width, and stands for a drop here.

What is cut by the tape is rounded up to what a table can cut before it is multiplied. What is cut
by the pattern is not: a cut of whole repeats begins and ends at the same place of the pattern, and
any more would put the next one off it.

A lining finishes narrower and shorter than its panel: set in from the face's side edges, and short
of its foot. All of it goes by that finished size of its own, its seams from its own edge too.

An order is what the cuts take and an allowance, bought once however many windows a cloth is for: to
square the start of the roll and cut round a flaw, and with a pattern down the cloth one repeat, to
begin at a chosen place of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Literal, NamedTuple

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Cloth, Eyelet
from drapetemplate.measures import INCH, METRE, MM, YARD, Length, Units
from drapetemplate.planning.drop_sharing import Panels
from drapetemplate.planning.seam_places import EyeletRow
from drapetemplate.planning.seams import SeamPlan, plan_seams
from drapetemplate.wording import Wording

Part = Literal["face", "lining"]
OrderUnit = Literal["yd", "m"]


class ClothKey(NamedTuple):
    """What makes one cloth: its width and its name, or else the part it is for and its repeats.

    `named` tells a cloth called "lining" from an unnamed lining. `repeats`, down and across, are
    None of a named cloth, whose name says enough; without one plain cloth isn't patterned cloth.
    """

    name: str
    named: bool
    width: Length | None
    repeats: tuple[Length | None, Length | None] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothUse:
    """What all panels of one window take of one cloth.

    `seams` is None where the cloth's width isn't known, `cut` (one drop along the cloth) where
    the panel's length isn't, and `total` where either isn't. A railroaded run needs no length.
    `panel_cut` is a panel's raw top to its raw foot: the cut, or across railroaded cloth. `used` is
    how much of a cut its pieces reach along; only of a railroaded run may whole repeats leave some.
    `width` and `length` are what this cloth finishes at: a face at its panel's, a lining within it.
    `motif_cut` is from a cut's start to the centre of the motif that is to hang at a height, None
    where none is.
    """

    part: Part
    cloth: Cloth
    width: Length
    length: Length | None
    seams: SeamPlan | None
    cut: Length | None
    panel_cut: Length | None
    used: Length | None
    motif_cut: Length | None = None

    def lead(self, at: Length) -> Length:
        """Return how far past a place of the cloth the first cut begins, for its motif."""
        if self.motif_cut is None or self.cloth.motif_down is None or not self.cloth.repeat_down:
            return Fraction(0)
        return (self.cloth.motif_down - self.motif_cut - at) % self.cloth.repeat_down

    @property
    def total(self) -> Length | None:
        """Drops times cut length, exact."""
        if self.seams is None or self.cut is None:
            return None
        return self.seams.drops * self.cut

    @property
    def to_buy(self) -> Length | None:
        """The total and the allowance, were the cloth bought for this window alone."""
        if self.total is None:
            return None
        return self.total + self.cloth.allowance + (self.cloth.repeat_down or 0)

    @property
    def cloth_key(self) -> ClothKey:
        """Which cloth it is."""
        cloth = self.cloth
        if cloth.name is not None:
            return ClothKey(cloth.name, named=True, width=cloth.width)
        repeats = (cloth.repeat_down, cloth.repeat_across)
        return ClothKey(self.part, named=False, width=cloth.width, repeats=repeats)

    @property
    def failing(self) -> tuple[int, ...]:
        """Which seams fail, from 0: a face's in sight, a lining's at an eyelet or a side hem."""
        if self.seams is None:
            return ()
        return self.seams.struck if self.part == "lining" else self.seams.visible

    @property
    def hidden(self) -> int:
        """How many seams don't fail."""
        return 0 if self.seams is None else len(self.seams.seams) - len(self.failing)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothOrder:
    """One cloth over all windows: exact `total`, and `amount` to order in `unit`, rounded up.

    `cloth_key` tells it from other cloths. `fabric` is None where the job doesn't name it. `drops`,
    `total` and `amount` are None where a window's aren't known. The amount holds the total, the
    `allowance`, a `repeat` to begin at a chosen place of the pattern (0 where it has none), and
    what lies `between` windows whose motifs hang at other heights. All drops of a `turned` cloth
    are railroaded runs.
    """

    cloth_key: ClothKey
    part: Part
    fabric: str | None
    width: Length | None
    drops: int | None
    total: Length | None
    allowance: Length
    repeat: Length
    amount: Fraction | None
    unit: OrderUnit
    turned: bool = False
    between: Length = Fraction(0)

    @property
    def patterned(self) -> bool:
        """Whether it has no name, and a repeat tells it from a plain cloth without one."""
        return any(self.cloth_key.repeats or ())

    @property
    def to_buy(self) -> Length | None:
        """The total, the allowance and the repeat, exact."""
        if self.total is None:
            return None
        return self.total + self.allowance + self.repeat + self.between


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


def finished_width(cloth: Cloth, width: Length) -> Length:
    """Return what a cloth finishes at in a panel of this finished width; 0 or less: nothing."""
    return width - 2 * cloth.set_in


def finished_length(cloth: Cloth, length: Length) -> Length:
    """Return what a cloth finishes at in a panel of this finished length; 0 or less: nothing."""
    return length - cloth.short


def wanted_length(cloth: Cloth, length: Length) -> Length:
    """Return finished length, heading and bottom hem together, enlarged for shrinkage."""
    return (length + cloth.heading + cloth.bottom_hem) * (1 + cloth.shrinkage)


def wanted_run(cloth: Cloth, width: Length) -> Length:
    """Return the flat raw width of a panel finishing at `width`, enlarged for shrinkage."""
    return (width + 2 * cloth.side_hem) * (1 + cloth.shrinkage)


def cuttable(length: Length, units: Units) -> Length:
    """Return a length up to what a table can cut: a whole 1/8 in, or 1 mm in a metric job.

    >>> cuttable(Fraction(20), "in") / INCH, cuttable(Fraction("20.01"), "cm")
    (Fraction(7, 8), Fraction(21, 1))
    """
    step = INCH / 8 if units == "in" else MM
    return ceil(length / step) * step


def cut_length(cloth: Cloth, length: Length, units: Units) -> Length:
    """Return how long a panel finishing at `length` is cut, from its raw top to its raw foot.

    The length wanted, up to whole repeats down, or else to what can be cut. Of railroaded cloth it
    lies across the width, which is all there is: no repeat rounds it.
    """
    wanted = wanted_length(cloth, length)
    if not cloth.railroad:
        return _along_roll(cloth, wanted, units)
    cut = cuttable(wanted, units)
    return cut if cloth.width is None else min(cut, cloth.width)


def run_length(cloth: Cloth, width: Length, units: Units) -> Length:
    """Return the run along railroaded cloth of a panel finishing at `width`.

    Its flat raw width, up to whole repeats down, so that every panel starts alike, or else to
    what can be cut.
    """
    return _along_roll(cloth, wanted_run(cloth, width), units)


def _along_roll(cloth: Cloth, wanted: Length, units: Units) -> Length:
    """Return how far along the roll a cut goes so that it holds what is wanted."""
    if cloth.repeat_down:
        return ceil(wanted / cloth.repeat_down) * cloth.repeat_down
    return cuttable(wanted, units)


def cloth_weight(cloth: Cloth, width: Length, length: Length) -> Fraction | None:
    """Return the grams of a cloth in a panel of finished `width` and `length`; None if not known.

    Flat raw width, side hems included, times the length wanted: what a pattern's repeats or a
    table's marks add to a cut is cut off again, and doesn't hang.
    """
    if cloth.weight is None:
        return None
    raw_width = finished_width(cloth, width) + 2 * cloth.side_hem
    raw_length = wanted_length(cloth, finished_length(cloth, length))
    return raw_width * raw_length / METRE**2 * cloth.weight


def cloth_use(
    part: Part,
    cloth: Cloth,
    row: EyeletRow,
    length: Length | None,
    *,
    panels: Panels,
    key: str,
    units: Units,
    motif_below: Length | None = None,
) -> ClothUse:
    """Return what a window's panels, finishing at `length`, take of one cloth.

    `key` is the cloth's path, for faults, `motif_below` where a motif's centre is to hang, below
    the finished top. A lining's seams needn't hide, so any gap will do, but they clear eyelets and
    holes as the face's do.
    JobError: what `plan_seams` refuses, railroaded cloth narrower than the length wanted, or a
    lining set in or short so far that nothing is left of it.
    """
    _check_finished(cloth, row.width, length, key, Wording(units))
    if part == "lining":
        row = _row_of_lining(cloth, row)
    length = None if length is None else finished_length(cloth, length)
    panel_cut = None if length is None else cut_length(cloth, length, units)
    cut = used = panel_cut
    if cloth.railroad:
        wanted = None if length is None else wanted_length(cloth, length)
        if wanted is not None and cloth.width is not None and wanted > cloth.width:
            say = Wording(units)
            text = (
                f"railroaded, length, heading and bottom hem take {say.at_least(wanted)}, which "
                f"doesn't fit across a width of {say(cloth.width)}: use cloth at least that wide, "
                "or railroad = false"
            )
            raise JobError([Fault(f"{key}.railroad", text)])
        cut = run_length(cloth, row.width, units)
        used = min(cut, cuttable(wanted_run(cloth, row.width), units))
    return ClothUse(
        part=part,
        cloth=cloth,
        width=row.width,
        length=length,
        seams=plan_seams(cloth, row, panels=panels, key=key, units=units),
        cut=cut,
        panel_cut=panel_cut,
        used=used,
        motif_cut=None if motif_below is None else _motif_cut(cloth, motif_below),
    )


def _motif_cut(cloth: Cloth, below: Length) -> Length:
    """Return how far a cut's start is above a motif's centre that hangs so far below the top."""
    return (cloth.heading + below) * (1 + cloth.shrinkage)


def _check_finished(
    cloth: Cloth, width: Length, length: Length | None, key: str, say: Wording
) -> None:
    """JobError where a lining set in and short of the face is nothing at all."""
    faults = []
    if finished_width(cloth, width) <= 0:
        text = (
            f"{say(cloth.set_in)} from both side edges leaves nothing of a panel of {say(width)}: "
            "set it in less"
        )
        faults.append(Fault(f"{key}.set_in", text))
    if length is not None and finished_length(cloth, length) <= 0:
        text = f"{say(cloth.short)} leaves nothing of a panel of {say(length)}: give less"
        faults.append(Fault(f"{key}.short", text))
    if faults:
        raise JobError(faults)


def _row_of_lining(cloth: Cloth, row: EyeletRow) -> EyeletRow:
    """Return the panel's eyelets as they stand from the lining's own edge; any gap will do."""
    centers = tuple(center - cloth.set_in for center in row.centers)
    return EyeletRow(finished_width(cloth, row.width), row.outside, centers, (), row.clearance)


def cloth_orders(uses: Iterable[ClothUse], units: Units) -> tuple[ClothOrder, ...]:
    """Return what to order of each cloth over all windows, in the order they first come.

    One cloth is one name and one width, whether face or lining; without a name, one part, width and
    pattern. Allowance and repeat come to each cloth once, the largest that its windows say; what
    that makes is rounded up once: to 1/4 yd where `units` is in, else to 0.1 m.
    """
    by_cloth: dict[ClothKey, list[ClothUse]] = {}
    for use in uses:
        by_cloth.setdefault(use.cloth_key, []).append(use)
    return tuple(_order_of(same_cloth, units) for same_cloth in by_cloth.values())


def _order_of(uses: list[ClothUse], units: Units) -> ClothOrder:
    """Return the order of the one cloth of all these; its part is that of the first."""
    totals = [use.total for use in uses if use.total is not None]
    drops = [use.seams.drops for use in uses if use.seams is not None]
    total = sum(totals, Fraction(0)) if len(totals) == len(uses) else None
    unit = order_unit(units)
    first = uses[0]
    order = ClothOrder(
        cloth_key=first.cloth_key,
        part=first.part,
        fabric=first.cloth.name,
        width=first.cloth.width,
        drops=sum(drops) if len(drops) == len(uses) else None,
        total=total,
        allowance=max(use.cloth.allowance for use in uses),
        repeat=max(use.cloth.repeat_down or Fraction(0) for use in uses),
        amount=None,
        unit=unit,
        turned=all(use.cloth.railroad for use in uses),
        between=_between(uses),
    )
    to_buy = order.to_buy
    return order if to_buy is None else replace(order, amount=rounded_order(to_buy, unit))


def _between(uses: Iterable[ClothUse]) -> Length:
    """Return the cloth that lies unused before windows after the first, to begin at their motifs.

    Before the first window it is at most the repeat that is bought for that.
    """
    at = between = Fraction(0)
    for number, use in enumerate(uses):
        lead = use.lead(at)
        between += lead if number else 0
        at += lead + (use.total or 0)
    return between


def order_unit(units: Units) -> OrderUnit:
    """Return what cloth is ordered in: yards where the job is in inches, else metres."""
    return "yd" if units == "in" else "m"


def rounded_order(total: Length, unit: OrderUnit) -> Fraction:
    """Return a length in yards up to a whole 1/4 yd, or in metres up to a whole 0.1 m.

    >>> rounded_order(440 * YARD / 36, "yd")
    Fraction(49, 4)
    """
    size, steps = (YARD, 4) if unit == "yd" else (METRE, 10)
    return Fraction(ceil(total / size * steps), steps)


def eyelet_orders(used: Iterable[tuple[Eyelet, int]]) -> tuple[EyeletOrder, ...]:
    """Return what to buy of each eyelet, from the number that each window takes of it.

    One eyelet is bought together, on a pole or on hooks; `spares` once for each, not per window,
    the most that a window says.
    """
    orders: list[tuple[Eyelet, int]] = []
    for eyelet, count in used:
        for n, (other, so_far) in enumerate(orders):
            both = _same_eyelet(other, eyelet)
            if both is not None:
                orders[n] = (both, so_far + count)
                break
        else:
            orders.append((eyelet, count))
    return tuple(_eyelet_order(eyelet, count) for eyelet, count in orders)


def _same_eyelet(one: Eyelet, other: Eyelet) -> Eyelet | None:
    """Return all that two say of one eyelet; None where they are to be bought as two.

    Its sizes make an eyelet, and how many come in a pack: of these one may say what the other
    leaves open. On what it hangs, its weight and its spares make no other eyelet of it.
    """
    sizes = ("outside", "opening", "hole")
    alike = all(getattr(one, size) == getattr(other, size) for size in sizes)
    for size in ("thickness", "pack"):
        mine, theirs = getattr(one, size), getattr(other, size)
        alike = alike and (mine == theirs or not mine or not theirs)
    if not alike:
        return None
    return replace(
        one,
        thickness=one.thickness or other.thickness,
        weight=other.weight if one.weight is None else one.weight,
        pack=one.pack or other.pack,
        spares=max(one.spares, other.spares),
    )


def _eyelet_order(eyelet: Eyelet, used: int) -> EyeletOrder:
    """Return the order of one eyelet, of which the windows take so many."""
    needed = used + eyelet.spares
    pack = eyelet.pack or 1  # bought one by one where no pack is known
    packs = ceil(Fraction(needed, pack))
    return EyeletOrder(
        eyelet=eyelet,
        used=used,
        spares=eyelet.spares,
        packs=None if eyelet.pack is None else packs,
        bought=packs * pack,
    )
