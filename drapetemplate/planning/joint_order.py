"""Many jobs' plans in, one order for all of them out: each thing once, with what each job takes.

A buyer gets one length of a cloth and cuts it up job by job, on different days. So every job brings
the exact length that its own order comes to, its allowance and its repeat included, and the sum is
rounded up once. Part widths are never shared: the drops of a job stay its own. Eyelets are packed
once over all, the spares of each job among them, since each is tried on scrap of its own. Band
comes off the same rolls for all jobs: how these are cut is looked for anew.

What is one thing to buy

- cloth of one name and width, whether face or lining. Capitals and spaces make no other name.
  Cloth without a name is its own job's alone.
- eyelets of one outside and opening, whatever else a job says of them;
- band of one height, and one roll. A job that doesn't say how long a roll is takes the only one
  that others say of this height, if its panels can be cut from that.

What one job keeps apart stays apart: where that has two eyelets of a size, or one name spelled two
ways, these are told apart in all jobs. So one job's order is the one that its own plan has.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from math import ceil
from typing import Generic, TypeVar

from drapetemplate.errors import JobError
from drapetemplate.job.model import Job
from drapetemplate.measures import Length, Units
from drapetemplate.planning.band import (
    MOST_PANELS,
    MOST_ROLLS,
    BandOrder,
    BandPanel,
    BandPiece,
    BandUse,
    band_orders,
)
from drapetemplate.planning.cloth import (
    ClothOrder,
    ClothUse,
    EyeletOrder,
    Part,
    order_unit,
    rounded_order,
)
from drapetemplate.planning.model import Plan
from drapetemplate.planning.plan import band_use

Thing = TypeVar("Thing", ClothOrder, EyeletOrder, BandOrder)
PARTS: tuple[Part, ...] = ("face", "lining")


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedJob:
    """A job with its plan, and the files that hold it: `in_job_file` where one is a job file.

    `identity` tells its job file's bytes from others.
    """

    job: Job
    plan: Plan
    sources: tuple[str, ...]
    in_job_file: bool
    identity: str

    @property
    def due(self) -> date | None:
        """The day it is due, where it says one."""
        return self.job.details.due

    @property
    def units(self) -> Units:
        """The units that it is measured in."""
        return self.job.units

    @property
    def called(self) -> str:
        """Its number, where it has one, and its name."""
        details = self.job.details
        return f"{details.number} · {details.name}" if details.number else details.name


@dataclass(frozen=True, slots=True)
class Line(Generic[Thing]):
    """One thing to buy: the order for all jobs, and each job's own, by its place among them.

    `units` are those that it is told in. Of `without` it isn't known how much they take: none of
    theirs is in the order.
    """

    order: Thing
    takes: tuple[tuple[int, Thing], ...]
    units: Units
    without: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class BandLine(Line[BandOrder]):
    """Band to buy; `owners` has a job's place and its window's for each window of the panels."""

    owners: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class JointOrder:
    """What to buy for all `jobs`: cloths, eyelets, bands, each with what every job takes of it."""

    jobs: tuple[PlannedJob, ...]
    cloth: tuple[Line[ClothOrder], ...]
    eyelets: tuple[Line[EyeletOrder], ...]
    bands: tuple[BandLine, ...]

    def due(self, line: Line[Thing]) -> date | None:
        """Return the first day that one of a line's jobs is due; None where none says."""
        days = [self.jobs[number].due for number, _ in line.takes]
        return min((day for day in days if day is not None), default=None)


def joint_order(jobs: Iterable[PlannedJob]) -> JointOrder:
    """Return one order for all jobs, the first due first; their order makes no difference."""
    in_turn = tuple(sorted(jobs, key=_turn))
    return JointOrder(
        jobs=in_turn,
        cloth=tuple(sorted(_cloth_lines(in_turn), key=_place_of_cloth)),
        eyelets=tuple(sorted(_eyelet_lines(in_turn), key=_place_of_eyelet)),
        bands=tuple(sorted(_band_lines(in_turn), key=_place_of_band)),
    )


def one_name(name: str) -> str:
    """Return a name as it is told from others: without regard to capitals and spaces.

    >>> one_name(" Heron  LINEN") == one_name("Heron linen")
    True
    """
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def cuts(job: PlannedJob, order: ClothOrder) -> tuple[tuple[int, Length], ...]:
    """Return how many drops a job cuts from a cloth of its own order, and how long each is.

    In the order of its windows, lengths alike together; none of what isn't known.
    """
    counts: dict[Length, int] = {}
    for use in cloth_uses(job, order):
        if use.seams is not None and use.cut is not None:
            counts[use.cut] = counts.get(use.cut, 0) + use.seams.drops
    return tuple((count, length) for length, count in counts.items())


def cloth_uses(job: PlannedJob, order: ClothOrder) -> Iterator[ClothUse]:
    """Yield what a job's windows take of one cloth of its own order."""
    for window in job.plan.windows:
        for use in window.cloth:
            if use.cloth_key == order.cloth_key:
                yield use


def _turn(job: PlannedJob) -> tuple[object, ...]:
    """What jobs are sorted by: the day, then what tells them apart for people, then their bytes."""
    details = job.job.details
    day = details.due or date.max
    return day, details.number or "", details.name, job.identity, job.job.only, job.sources


def _together(
    entries: Iterable[tuple[int, Thing]],
    alike: Callable[[int, Thing], Hashable],
    apart: Callable[[Thing], Hashable],
) -> list[list[tuple[int, Thing]]]:
    """Return entries in groups that are one thing to buy, each with its job's place.

    Those that are `alike`, unless a job has two of them: then by what tells them `apart` there.
    """
    groups: dict[Hashable, list[tuple[int, Thing]]] = {}
    for number, entry in entries:
        groups.setdefault(alike(number, entry), []).append((number, entry))
    found = []
    for group in groups.values():
        if len({number for number, _ in group}) == len(group):
            found.append(group)
            continue
        parted: dict[Hashable, list[tuple[int, Thing]]] = {}
        for number, entry in group:
            parted.setdefault(apart(entry), []).append((number, entry))
        found += parted.values()
    return found


def _units_of(jobs: Sequence[PlannedJob], takes: Iterable[tuple[int, object]]) -> Units:
    """The units that most of a line's jobs are in; of as many in either, the first job's."""
    units = [jobs[number].units for number, _ in takes]
    in_inches = units.count("in")
    if in_inches * 2 == len(units):
        return units[0]
    if in_inches * 2 > len(units):
        return "in"
    return next(unit for unit in units if unit != "in")


def _cloth_lines(jobs: Sequence[PlannedJob]) -> Iterator[Line[ClothOrder]]:
    def alike(number: int, order: ClothOrder) -> Hashable:
        if order.fabric is None:
            return number, order.cloth_key
        return one_name(order.fabric), order.width

    entries = [(n, order) for n, job in enumerate(jobs) for order in job.plan.order.cloth]
    for takes in _together(entries, alike, lambda order: order.cloth_key):
        without = tuple(number for number, order in takes if order.to_buy is None)
        units = _units_of(jobs, takes)
        yield Line(_cloth_of(takes, units), tuple(takes), units, without)


def _cloth_of(takes: Sequence[tuple[int, ClothOrder]], units: Units) -> ClothOrder:
    """One cloth's order for several jobs, as far as what they take is known; of one its own."""
    orders = [order for _, order in takes]
    if len(orders) == 1:
        return orders[0]
    known = [order for order in orders if order.to_buy is not None]
    unit = order_unit(units)
    together = replace(
        orders[0],
        part=min((order.part for order in orders), key=PARTS.index),
        drops=sum(order.drops or 0 for order in known) if known else None,
        total=sum((order.total or Fraction(0) for order in known), Fraction(0)) if known else None,
        allowance=sum((order.allowance for order in known), Fraction(0)),
        repeat=sum((order.repeat for order in known), Fraction(0)),
        between=sum((order.between for order in known), Fraction(0)),
        turned=all(order.turned for order in orders),
        amount=None,
        unit=unit,
    )
    to_buy = together.to_buy
    return together if to_buy is None else replace(together, amount=rounded_order(to_buy, unit))


def _place_of_cloth(line: Line[ClothOrder]) -> tuple[object, ...]:
    """Faces before linings, by name, then those without one, each as its first job comes."""
    order = line.order
    name = order.fabric or ""
    width = -1 if order.width is None else order.width
    first = line.takes[0][0]
    return PARTS.index(order.part), order.fabric is None, one_name(name), width, name, first


def _eyelet_lines(jobs: Sequence[PlannedJob]) -> Iterator[Line[EyeletOrder]]:
    entries = [(n, order) for n, job in enumerate(jobs) for order in job.plan.order.eyelets]
    for takes in _together(
        entries,
        lambda _, order: (order.eyelet.outside, order.eyelet.opening),
        lambda order: (order.eyelet.hole, order.eyelet.thickness, order.eyelet.pack),
    ):
        orders = [order for _, order in takes]
        yield Line(_eyelets_of(orders), tuple(takes), _units_of(jobs, takes))


def _eyelets_of(orders: Sequence[EyeletOrder]) -> EyeletOrder:
    """One eyelet's order for several jobs; of packs that differ the smallest, which is enough."""
    if len(orders) == 1:
        return orders[0]
    used = sum(order.used for order in orders)
    spares = sum(order.spares for order in orders)
    pack = min((order.eyelet.pack for order in orders if order.eyelet.pack), default=None)
    packs = None if pack is None else ceil(Fraction(used + spares, pack))
    return EyeletOrder(
        eyelet=replace(orders[0].eyelet, pack=pack, spares=spares),
        used=used,
        spares=spares,
        packs=packs,
        bought=used + spares if pack is None or packs is None else packs * pack,
    )


def _place_of_eyelet(line: Line[EyeletOrder]) -> tuple[object, ...]:
    eyelet = line.order.eyelet
    return eyelet.outside, eyelet.opening, eyelet.hole, line.takes[0][0]


def _band_lines(jobs: Sequence[PlannedJob]) -> Iterator[BandLine]:
    entries = [(n, order) for n, job in enumerate(jobs) for order in job.plan.order.bands]
    rolls = _rolls(jobs, entries)
    for takes in _together(
        entries, lambda n, order: (order.height, rolls[n, order.height, order.roll]), _roll_of
    ):
        yield _band_line(jobs, takes, rolls)


def _roll_of(order: BandOrder) -> Hashable:
    return order.height, order.roll


def _rolls(
    jobs: Sequence[PlannedJob], entries: Iterable[tuple[int, BandOrder]]
) -> dict[tuple[int, Length, Length | None], Length | None]:
    """The roll that each job's band of a height, and of the roll it says, comes from."""
    rolls: dict[tuple[int, Length, Length | None], Length | None] = {}
    said: dict[Length, set[Length]] = {}
    for number, order in entries:
        rolls[number, order.height, order.roll] = order.roll
        if order.roll is not None:
            said.setdefault(order.height, set()).add(order.roll)
    own = {(number, height) for number, height, roll in rolls if roll is not None}
    for number, height, roll in rolls:
        others = said.get(height, set())
        if roll is None and len(others) == 1 and (number, height) not in own:
            (only,) = others
            if _cut_from(only, _band_uses(jobs[number], height, None), jobs[number].units):
                rolls[number, height, roll] = only
    return rolls


def _cut_from(roll: Length, uses: Iterable[BandUse], units: Units) -> bool:
    """Whether a job's panels can be cut from rolls that it doesn't speak of."""
    try:
        band_orders((replace(use, roll=roll) for use in uses), units)
    except JobError:
        return False
    return True


def _band_uses(job: PlannedJob, height: Length, roll: Length | None) -> list[BandUse]:
    """What a job's windows take of band of one height, where they say this roll."""
    uses = [band_use(n, window) for n, window in enumerate(job.plan.windows)]
    return [use for use in uses if (use.height, use.roll) == (height, roll)]


def _band_line(
    jobs: Sequence[PlannedJob],
    takes: Sequence[tuple[int, BandOrder]],
    rolls: dict[tuple[int, Length, Length | None], Length | None],
) -> BandLine:
    """One band's order for several jobs, cut from rolls that serve them all; of one its own."""
    first, order = takes[0]
    if len(takes) == 1:
        windows = range(len(jobs[first].plan.windows))
        return BandLine(
            order, tuple(takes), jobs[first].units, owners=tuple((first, n) for n in windows)
        )
    units = _units_of(jobs, takes)
    roll = rolls[first, order.height, order.roll]
    owners: list[tuple[int, int]] = []
    uses: list[BandUse] = []
    for number, own in takes:
        for use in _band_uses(jobs[number], own.height, own.roll):
            uses.append(replace(use, window=len(owners), roll=roll))
            owners.append((number, use.window))
    length = sum((own.length for _, own in takes), Fraction(0))
    unit = order_unit(units)
    together = BandOrder(
        height=order.height,
        length=length,
        amount=rounded_order(length, unit),
        unit=unit,
        roll=roll,
        panels=() if roll is None else _cut(uses, roll, units),
    )
    return BandLine(together, tuple(takes), units, owners=tuple(owners))


def _cut(uses: Sequence[BandUse], roll: Length, units: Units) -> tuple[BandPanel, ...]:
    """Every panel's band, cut from rolls of one kind: as many panels as are cut at once, in lots.

    Each lot begins on a roll of its own.
    """
    panels: list[BandPanel] = []
    before = 0
    for lot in _lots(uses, roll):
        (order,) = band_orders(lot, units)
        panels += (_rolled_on(panel, before) for panel in order.panels)
        before += order.rolls or 0
    return tuple(panels)


def _lots(uses: Sequence[BandUse], roll: Length) -> Iterator[list[BandUse]]:
    """What windows take, in lots that `band_orders` cuts at once; of one job it has cut each."""
    lot: list[BandUse] = []
    for use in uses:
        more = [*lot, use]
        length = sum((one.panels * one.width for one in more), Fraction(0))
        if lot and (sum(one.panels for one in more) > MOST_PANELS or length > MOST_ROLLS * roll):
            yield lot
            more = [use]
        lot = more
    yield lot


def _rolled_on(panel: BandPanel, rolls: int) -> BandPanel:
    """A panel cut from rolls that come after so many others."""
    pieces: tuple[BandPiece, ...] = tuple(
        replace(piece, roll=piece.roll + rolls) for piece in panel.pieces
    )
    return replace(panel, pieces=pieces)


def _place_of_band(line: BandLine) -> tuple[object, ...]:
    order = line.order
    return order.height, order.roll is None, order.roll or 0, line.takes[0][0]
