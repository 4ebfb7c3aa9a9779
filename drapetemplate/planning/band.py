"""Stiffener band: what to order of each height, and how the panels' lengths come off its rolls.

A panel takes its finished width of band. Band comes off a roll panel after panel; where a roll ends
within a panel, what is left of it is spliced to the next roll, butted, so that no length is lost.
A splice keeps `SPLICE_CLEAR` from every eyelet's flange, so what is left of a roll beyond the last
such place is not used. A panel may be cut either way round: band has no left and right.

Looked for are the fewest rolls, then the fewest splices, then the most left on the last roll. Of
the panels already cut, in whatever order, only two things count for what follows: how much band is
not used, and how many splices there are. So the search goes from one set of panels to those that
have one more, and keeps for each set what is better in neither. Panels of one kind are alike, so
that a set is how many of each kind are cut. Where that comes to more than `MOST_SETS` sets, kinds
are cut one lot after another, and what is found may have a splice, seldom a roll, more than needed.

Rolls are unrolled one after another, and what is left of one is only ever joined to the next: a way
that pieces together the ends of several rolls is not looked for.

Places are whole units of a length that all of them are multiples of.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import lcm, prod

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.defaults import Usual
from drapetemplate.measures import INCH, MM, Length, Units, format_length
from drapetemplate.planning.cloth import OrderUnit, order_unit, rounded_order

SPLICE_CLEAR = Usual(INCH / 2, 13 * MM)
"""What a splice keeps from a flange, so that no tool of the press meets it; common practice.

Millimetres are up to a whole one, so that it is no nearer than in inches.
"""
MOST_PANELS = 2000
MOST_ROLLS = 2000
MOST_SETS = 1000
MOST_SETS_OF_LOT = 100
MOST_KEPT = 16

Blocked = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BandUse:
    """What `panels` panels of one window take: each its width, with its eyelets' centres.

    `window` is its place among the windows, from 0; all is measured from a panel's leading edge,
    or a single panel's left one.
    """

    window: int
    key: str
    panels: int
    height: Length
    roll: Length | None
    width: Length
    outside: Length
    centers: tuple[Length, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPiece:
    """From `start` for `length` of a panel, cut from the `roll`th roll at `at` from its start."""

    roll: int
    at: Length
    start: Length
    length: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPanel:
    """One panel's band: the `number`th panel to be made of a window, both from 0, and its pieces.

    In order from the edge that the panel is measured from; one piece where it isn't spliced.
    """

    window: int
    number: int
    pieces: tuple[BandPiece, ...]

    @property
    def splices(self) -> tuple[Length, ...]:
        """Where it is spliced, from the edge that the panel is measured from."""
        return tuple(piece.start for piece in self.pieces[1:])


@dataclass(frozen=True, slots=True, kw_only=True)
class BandOrder:
    """Band of one height, and one roll, over all windows: the finished widths added up, exact.

    `amount` is that to order in `unit`, rounded up. `panels` are cut from `rolls` rolls; without
    the length of a `roll` there are none.
    """

    height: Length
    length: Length
    amount: Fraction
    unit: OrderUnit
    roll: Length | None = None
    panels: tuple[BandPanel, ...] = ()

    @property
    def rolls(self) -> int | None:
        """How many rolls to buy; None where a roll's length isn't known."""
        if self.roll is None:
            return None
        return max(piece.roll for panel in self.panels for piece in panel.pieces)

    @property
    def splices(self) -> int:
        """How many splices all panels have."""
        return sum(len(panel.splices) for panel in self.panels)


def band_orders(uses: Iterable[BandUse], units: Units) -> tuple[BandOrder, ...]:
    """Return the band of each height and roll; JobError for panels that its rolls can't make."""
    together: dict[tuple[Length, Length | None], list[BandUse]] = {}
    for use in uses:
        together.setdefault((use.height, use.roll), []).append(use)
    unit = order_unit(units)
    orders = []
    faults: list[Fault] = []
    for (height, roll), alike in together.items():
        length = sum((use.panels * use.width for use in alike), Fraction(0))
        panels: tuple[BandPanel, ...] = ()
        if roll is not None:
            problems = list(_faults(alike, roll, length, units))
            faults += problems
            panels = () if problems else _cut(alike, roll, units)
        orders.append(
            BandOrder(
                height=height,
                length=length,
                amount=rounded_order(length, unit),
                unit=unit,
                roll=roll,
                panels=panels,
            )
        )
    if faults:
        raise JobError(faults)
    return tuple(orders)


def blocked_stretches(
    width: Length, outside: Length, centers: Sequence[Length], units: Units
) -> list[tuple[Length, Length]]:
    """Return between which places of a panel, in order, no splice may lie; their ends are free.

    >>> blocked = blocked_stretches(Length(900), Length(50), [Length(90)], "mm")
    >>> [(float(start), float(end)) for start, end in blocked]
    [(52.0, 128.0)]
    """
    reach = outside / 2 + SPLICE_CLEAR.of(units)
    stretches: list[tuple[Length, Length]] = []
    for center in sorted(centers):
        low, high = max(center - reach, Fraction(0)), min(center + reach, width)
        if stretches and low < stretches[-1][1]:
            stretches[-1] = (stretches[-1][0], high)
        else:
            stretches.append((low, high))
    return stretches


def _faults(uses: Sequence[BandUse], roll: Length, length: Length, units: Units) -> Iterator[Fault]:
    """What keeps panels from being cut from such rolls."""
    said = format_length(roll, units)
    for use in uses:
        stretches = blocked_stretches(use.width, use.outside, use.centers, units)
        longest = max(high - low for low, high in stretches)
        if min(longest, use.width) > roll:
            yield Fault(
                f"{use.key}.band.roll",
                f"a roll of {said} is too short to be spliced clear of the eyelets: "
                f"{format_length(longest, units)} must be in one piece",
            )
    if length > MOST_ROLLS * roll:
        text = f"over {MOST_ROLLS} rolls of {said} would be needed: is that a roll's length?"
        yield Fault(f"{uses[0].key}.band.roll", text)
    if sum(use.panels for use in uses) > MOST_PANELS:
        text = (
            f"more than {MOST_PANELS} panels aren't cut from rolls at once: make several jobs of "
            "it, or leave roll out"
        )
        yield Fault(f"{uses[0].key}.band.roll", text)


@dataclass(frozen=True, slots=True)
class _Kind:
    """Panels that take the same band: their width and where none is spliced, in whole units."""

    width: int
    blocked: Blocked

    @property
    def turned(self) -> _Kind:
        """The same begun from its other end."""
        stretches = ((self.width - high, self.width - low) for low, high in reversed(self.blocked))
        return _Kind(self.width, tuple(stretches))

    def splice_up_to(self, place: int) -> int:
        """Where it can be spliced at a place or the next before it; 0 where only its start is."""
        n = bisect_left(self.blocked, (place,)) - 1
        if n >= 0 and self.blocked[n][0] < place < self.blocked[n][1]:
            return self.blocked[n][0]
        return place


@dataclass(frozen=True, slots=True)
class _Laid:
    """One panel's band begun from either end: what that wastes of rolls, and where it is spliced.

    `splices` are from the end that it is begun from.
    """

    kind: _Kind
    turned: bool
    waste: int
    splices: tuple[int, ...]


def _laid(kind: _Kind, turned_kind: _Kind, left: int, roll: int) -> Iterator[_Laid]:
    """Yield how a panel is cut from what is left of a roll and as many more as it takes.

    As far along each roll as it can be spliced; nothing where none of what is left can be used.
    """
    if left >= kind.width:
        yield _Laid(kind, turned=False, waste=0, splices=())
        return
    for turned, way in ((False, kind), (True, turned_kind)):
        waste, start, room = 0, 0, left
        splices = []
        while kind.width - start > room:
            splice = way.splice_up_to(start + room)
            if splice <= start:
                break
            waste += start + room - splice
            splices.append(splice)
            start, room = splice, roll
        else:
            yield _Laid(kind, turned, waste, tuple(splices))


@dataclass(frozen=True, slots=True)
class _State:
    """So many panels of each kind cut: what isn't used, and the splices; the last panel's laying.

    `skipped` of it is the rest of a roll that the last panel didn't begin on.
    """

    waste: int
    splices: int
    laid: _Laid | None = None
    skipped: int = 0
    before: _State | None = None


def _cut(uses: Sequence[BandUse], roll: Length, units: Units) -> tuple[BandPanel, ...]:
    """Every panel's band, cut from rolls that can all make some headway with it."""
    stretches = [blocked_stretches(use.width, use.outside, use.centers, units) for use in uses]
    sizes = [roll, *(use.width for use in uses)]
    sizes += [place for own in stretches for stretch in own for place in stretch]
    unit = lcm(*{size.denominator for size in sizes})
    # As many panels of each kind, and which they are.
    panels: dict[_Kind, list[tuple[int, int]]] = {}
    for use, own in zip(uses, stretches, strict=True):
        kind = _Kind(int(use.width * unit), tuple((int(a * unit), int(b * unit)) for a, b in own))
        panels.setdefault(kind, []).extend((use.window, n) for n in range(use.panels))
    length = int(roll * unit)
    best = _best({kind: len(named) for kind, named in panels.items()}, length)
    todo = {kind: iter(named) for kind, named in panels.items()}
    at = 0  # along all rolls, one after another
    cut = []
    for state in best:
        at += state.skipped
        if state.laid is None:
            continue
        window, number = next(todo[state.laid.kind])
        pieces, at = _pieces(state.laid, at, length)
        if state.laid.turned:
            width = state.laid.kind.width
            pieces = [(place, width - end, width - start) for place, start, end in pieces][::-1]
        cut.append(
            BandPanel(
                window=window,
                number=number,
                pieces=tuple(
                    BandPiece(
                        roll=place // length + 1,
                        at=Fraction(place % length, unit),
                        start=Fraction(start, unit),
                        length=Fraction(end - start, unit),
                    )
                    for place, start, end in pieces
                ),
            )
        )
    return tuple(cut)


def _pieces(laid: _Laid, at: int, roll: int) -> tuple[list[tuple[int, int, int]], int]:
    """A panel's pieces in the order they are cut: where along all rolls, and from where to where.

    And where the next panel begins.
    """
    pieces = []
    start = 0
    for splice in laid.splices:
        pieces.append((at, start, splice))
        start, at = splice, (at // roll + 1) * roll
    pieces.append((at, start, laid.kind.width))
    return pieces, at + laid.kind.width - start


def _best(counts: dict[_Kind, int], roll: int) -> list[_State]:
    """The best way to cut so many panels of each kind, panel by panel."""
    total = sum(kind.width * count for kind, count in counts.items())
    lots = list(_lots(counts))
    most = None if len(lots) == 1 else MOST_KEPT
    # What is wasted is bounded by the fewest rolls, which the least waste gives.
    least = min(state.waste for state in _searched(lots, roll, None, 2))
    spare = -(-(total + least) // roll) * roll - total
    found = min(_searched(lots, roll, spare, most), key=lambda state: (state.splices, state.waste))
    states = []
    state: _State | None = found
    while state is not None:
        states.append(state)
        state = state.before
    return states[::-1]


def _lots(counts: dict[_Kind, int]) -> Iterator[dict[_Kind, int]]:
    """Kinds that are searched together: all of them, or as many as there is time for."""
    if prod(count + 1 for count in counts.values()) <= MOST_SETS or len(counts) == 1:
        yield counts
        return
    lot: dict[_Kind, int] = {}
    # Wide panels and narrow ones together: what a wide one leaves of a roll a narrow one may fill.
    by_width = sorted(counts, key=lambda kind: kind.width)
    for n in range(len(by_width)):
        kind = by_width[n // 2 if n % 2 else -1 - n // 2]
        if lot and prod(n + 1 for n in lot.values()) * (counts[kind] + 1) > MOST_SETS_OF_LOT:
            yield lot
            lot = {}
        lot[kind] = counts[kind]
    yield lot


def _searched(
    lots: Iterable[dict[_Kind, int]], roll: int, spare: int | None, most: int | None
) -> list[_State]:
    """Every best way to cut all lots one after another, wasting at most what there is to `spare`.

    Of more than `most` ways to cut a set so many are kept, the one that wastes least with them.
    """
    front, done = [_State(0, 0)], 0
    for lot in lots:
        makers = [_Maker(kind, roll) for kind in lot]
        sets = {(0,) * len(makers): front}
        for chosen in product(*(range(count + 1) for count in lot.values())):
            at = done + sum(m.kind.width * count for m, count in zip(makers, chosen, strict=True))
            states: list[_State] = []
            for n, maker in enumerate(makers):
                if chosen[n]:
                    fewer = (*chosen[:n], chosen[n] - 1, *chosen[n + 1 :])
                    # None where so few waste more than there is to spare however they are cut.
                    for state in sets.get(fewer, ()):
                        states += maker.one_more(state, at - maker.kind.width + state.waste)
            if states:
                sets[chosen] = _kept(states, spare, most)
        front = sets[tuple(lot.values())]
        done += sum(kind.width * count for kind, count in lot.items())
    return front


class _Maker:
    """Cuts one panel more of a kind, from wherever the rolls have been cut up to."""

    def __init__(self, kind: _Kind, roll: int) -> None:
        self.kind, self.turned, self.roll = kind, kind.turned, roll
        self.known: dict[int, list[_Laid]] = {}

    def one_more(self, state: _State, at: int) -> Iterator[_State]:
        """Yield what comes of a state, of which so much is cut or wasted, by one panel more."""
        left = -at % self.roll
        for laid in self._from(left):
            yield self._after(state, laid, 0)
        # A new roll has no use where the panel is whole on what is left.
        if left < self.kind.width:
            for laid in self._from(self.roll):
                yield self._after(state, laid, left)

    def _from(self, left: int) -> list[_Laid]:
        if left not in self.known:
            self.known[left] = list(_laid(self.kind, self.turned, left, self.roll))
        return self.known[left]

    @staticmethod
    def _after(state: _State, laid: _Laid, skipped: int) -> _State:
        waste = state.waste + skipped + laid.waste
        return _State(waste, state.splices + len(laid.splices), laid, skipped, state)


def _kept(states: Iterable[_State], spare: int | None, most: int | None) -> list[_State]:
    """States of one set of panels that no other is as good as in both waste and splices."""
    kept: list[_State] = []
    for state in sorted(states, key=lambda state: (state.waste, state.splices)):
        if spare is not None and state.waste > spare:
            break
        if not kept or state.splices < kept[-1].splices:
            kept.append(state)
    if most is None or len(kept) <= most:
        return kept
    return [*kept[:: -(-len(kept) // (most - 1))], kept[-1]]
