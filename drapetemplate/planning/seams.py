"""Where one window's seams fall, and how its pieces are cut from drops: exact, the same each time.

Glossary (lengths are exact millimetres):
  raw       measured along the flat cloth of a panel from the cloth's own end at the leading edge:
            raw = finished + side hem
  piece     what one panel has of one width; pieces and seams count from the leading edge, from 0
  partial   a piece that shares its drop with another
  hidden    a seam in a back gap (on hooks, in any gap) with its allowance and 1/8 in clear of
            both flanges, so that neither flange nor hole meets the allowance
  visible   any other seam; struck: a visible seam that doesn't clear an eyelet or a side hem

The aims, in this order (3.11; the last two are common practice and a trade-school handout,
P. Damour, The Perfect Drapery Panel: half widths go to the return edge):
  1. every seam hidden, with the least number of widths or up to two more;
  2. fewest drops to buy for the window, then fewest seams;
  3. partials as near the return edge as can be, then each seam, in turn from the leading edge, in
     the farthest gap it can have, so that full widths stand at the leading edge;
  4. each seam as close behind its eyelet as allowed: in its gap, nearest to the eyelet that
     bounds the gap on the side of the leading edge.
Where aim 1 fails: the least widths, fewest visible seams, of those fewest struck, then 2 to 4.

Sharing. A drop is slit once at most, and a panel has two partials at most: either one, which
shares with the same piece of another panel of the window, or two that share with each other.
Two that share with each other each reach from one gap into another or to a panel's edge, so that
no sliver is sewn in. With a pattern across, only like pieces share, the second starting whole
repeats after the first, so that both show the pattern alike.

Pattern. Every drop carries the pattern at the same places across, and every seam of a panel
stands at one phase of it. So pieces are cut where they match, not all from the selvage.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil, lcm
from typing import Literal, NamedTuple

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH, Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.planning.eyelets import GapKind
from drapetemplate.planning.seam_search import (
    Front,
    Goods,
    Ground,
    Lane,
    cheapest,
    fronts_of,
    ground_of,
    settled,
    two,
)
from drapetemplate.wording import Wording

CLEARANCE = INCH / 8
FINEST_REPEAT = INCH / 16
MOST_WIDTHS = 200
MORE_WIDTHS = 2

# What a seam costs where it shows: any number of struck ones weighs less than one more visible.
_SHOWN = 1000
_STRUCK = _SHOWN + 1


_Mode = Literal["like", "each", "two"]
"""How a panel's pieces share drops: one with its like, none, or two with each other."""


class _Found(NamedTuple):
    """Raw seams in whole numbers, how pieces share, and which pieces do."""

    seams: tuple[int, ...]
    mode: _Mode
    partials: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class EyeletRow:
    """One panel's row of eyelets: finished `width`, flange `outside`, `centers` and gap kinds.

    Positions are finished, from the leading edge (from the left edge of a single panel). `gaps`
    empty means that any gap hides a seam: hooks, or a lining.
    """

    width: Length
    outside: Length
    centers: tuple[Length, ...]
    gaps: tuple[GapKind, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """`times` drops cut alike: the places of the pieces side by side, and the width left over.

    `step` is from where the first piece starts to where the second does; 0 with one piece.
    """

    pieces: tuple[int, ...]
    times: int
    over: Length
    step: Length


@dataclass(frozen=True, slots=True)
class Seams:
    """The seams of each panel of a window, and the drops for all of them.

    `seams` are finished coordinates from the leading edge. `pieces` are raw widths from the
    leading edge, seam and hem cloth included; `trims` is the cloth's width less each. `starts`
    is where each begins across its drop, as that lies with the leading edge at the left: from
    the left selvage, so that a pattern matches at every seam. The second piece that `cuts` lists
    for a drop starts its `step` after the first; where the two differ, `starts` says so too.
    `visible` and `struck` are places in `seams`; `hidden` says how many are hidden. `least_drops`
    is the bare minimum without hiding, so drops - least_drops is what hiding costs. `cuts` lists
    all drops; a railroaded run counts as a drop, and its piece runs along the cloth.
    """

    seams: tuple[Length, ...]
    pieces: tuple[Length, ...]
    trims: tuple[Length, ...]
    starts: tuple[Length, ...]
    hidden: int
    visible: tuple[int, ...]
    struck: tuple[int, ...]
    drops: int
    least_drops: int
    cuts: tuple[Cut, ...]


def plan_seams(
    cloth: Cloth, row: EyeletRow, *, panels: int, key: str, units: Units
) -> Seams | None:
    """Seams and drops of so many panels from one cloth (3.11); None where its width isn't known.

    `panels` counts all of a window, its quantity included; `key` is the cloth's path, for faults.
    Nothing is rounded. JobError: cloth too narrow for its hem and seam, a pattern wider than
    what seams leave of the cloth where a panel needs a seam, more than 200 widths a panel.
    """
    total = row.width + 2 * cloth.side_hem
    if cloth.railroad:
        none = Fraction(0)
        run = Cut((0,), panels, none, none)
        return Seams((), (total,), (none,), (none,), 0, (), (), panels, panels, (run,))
    if cloth.width is None:
        return None
    _check(cloth, cloth.width, total, key, units)
    scale = _scale(cloth, cloth.width, row)
    repeat = cloth.repeat_across or Fraction(1, scale)  # a unit: every place is alike
    sizes = (total, cloth.width, cloth.seam, repeat)
    goods = Goods(*(_whole(size, scale) for size in sizes))
    over = goods.total - goods.width
    least = 1 + ceil(Fraction(over, goods.whole)) if over > 0 else 1
    if least > MOST_WIDTHS:
        text = (
            f"a panel would take {least} widths of {format_length(cloth.width, units)}, more than "
            f"the {MOST_WIDTHS} this tool plans: use wider cloth or narrower panels"
        )
        raise JobError([Fault(f"{key}.width", text)])
    hidden, clear = _spans(cloth, row, scale)
    found = _hide(goods, ground_of((0, hidden)), least, panels) or _least_visible(
        goods, _everywhere(hidden, clear, goods.total), least, panels
    )
    raw = tuple(Fraction(at, scale) for at in found.seams)
    pieces = tuple(
        end - start + cloth.seam * ((start > 0) + (end < total))
        for start, end in pairwise((Fraction(0), *raw, total))
    )
    visible = tuple(n for n, at in enumerate(found.seams) if not _within(at, hidden))
    return Seams(
        seams=tuple(at - cloth.side_hem for at in raw),
        pieces=pieces,
        trims=tuple(cloth.width - piece for piece in pieces),
        starts=tuple(_starts(cloth, found, pieces, cloth.width)),
        hidden=len(raw) - len(visible),
        visible=visible,
        struck=tuple(n for n in visible if not _within(found.seams[n], clear)),
        drops=_drops(panels, len(pieces), found.mode),
        least_drops=_least_drops(goods, least, panels),
        cuts=tuple(_cuts(cloth, found, pieces, cloth.width, panels)),
    )


def _check(cloth: Cloth, width: Length, total: Length, key: str, units: Units) -> None:
    """JobError where no number of widths makes a panel of raw width `total`."""
    say = Wording(units)
    end, inner = width - cloth.seam, width - 2 * cloth.seam
    repeat = cloth.repeat_across
    if repeat and repeat < FINEST_REPEAT:  # every place on its grid is looked at
        text = f"{say(FINEST_REPEAT)} or more, or leave it out: so fine a pattern needs no matching"
        raise JobError([Fault(f"{key}.repeat_across", text)])
    if total <= width:
        return
    if end <= cloth.side_hem or inner <= 0:
        wider = rounded_up(max(cloth.side_hem + cloth.seam, 2 * cloth.seam), units)
        text = (
            f"{say(width)} of cloth leaves nothing beside a side hem of {say(cloth.side_hem)} and "
            f"seams of {say(cloth.seam)}: use cloth wider than {say(wider)}, or narrower hems and "
            "seams"
        )
        raise JobError([Fault(f"{key}.width", text)])
    if repeat and repeat > inner:
        wider = rounded_up(repeat + 2 * cloth.seam, units)
        narrower = rounded_down(width - 2 * cloth.side_hem, units)
        panel = f"panels of {say(narrower)} or narrower, finished, " if narrower > 0 else ""
        text = (
            f"a repeat of {say(repeat)} can't be matched at a seam: seams leave {say(inner)} of a "
            f"width of {say(width)}, so use cloth of {say(wider)} or wider, {panel}or railroad it"
        )
        raise JobError([Fault(f"{key}.repeat_across", text)])


def _scale(cloth: Cloth, width: Length, row: EyeletRow) -> int:
    """A number that makes every length of the problem, and half of each, whole."""
    lengths = (
        width,
        cloth.seam,
        cloth.side_hem,
        cloth.repeat_across or Fraction(0),
        row.width,
        row.outside / 2,
        CLEARANCE,
        *row.centers,
    )
    return 2 * lcm(*(length.denominator for length in lengths))


def _whole(length: Length, scale: int) -> int:
    """A length in whole numbers."""
    return length.numerator * (scale // length.denominator)


_Pairs = list[tuple[int, int]]


def _spans(cloth: Cloth, row: EyeletRow, scale: int) -> tuple[_Pairs, _Pairs]:
    """Raw places where a seam is hidden, and where it clears every flange and both side hems."""
    hem, seam = _whole(cloth.side_hem, scale), _whole(cloth.seam, scale)
    off = _whole(row.outside / 2, scale) + seam + _whole(CLEARANCE, scale)
    centers = [hem + _whole(center, scale) for center in row.centers]
    gaps = [(one + off, two - off) for one, two in pairwise(centers)]
    kinds = row.gaps or ("back",) * len(gaps)
    first = (2 * hem + seam, centers[0] - off)
    last = (centers[-1] + off, _whole(row.width, scale) - seam)
    hidden = [
        (lo, hi) for (lo, hi), kind in zip(gaps, kinds, strict=True) if kind == "back" and lo <= hi
    ]
    return hidden, [(lo, hi) for lo, hi in (first, *gaps, last) if lo <= hi]


def _everywhere(hidden: _Pairs, clear: _Pairs, total: int) -> Ground:
    """Every place between 0 and `total`, at its cost."""
    shown, struck, start = sorted({*clear} - {*hidden}), [], 1
    for lo, hi in (*clear, (total, total)):
        if lo > start:
            struck.append((start, lo - 1))
        start = hi + 1
    return ground_of((0, hidden), (_SHOWN, shown), (_STRUCK, struck))


def _within(at: int, spans: _Pairs) -> bool:
    return any(lo <= at <= hi for lo, hi in spans)


def _drops(panels: int, count: int, mode: _Mode) -> int:
    """Drops for `panels` panels of `count` pieces."""
    return panels * count - {"like": panels // 2, "each": 0, "two": panels}[mode]


def _least_drops(goods: Goods, count: int, panels: int) -> int:
    """The fewest drops for panels of `count` pieces, wherever their seams fall."""
    # With all the skew it can have, a partial at an edge leaves the others more than an inner one.
    most = (count - 1) * goods.whole + goods.slack + goods.half(goods.slack)
    like = goods.total <= (most if count > 1 else goods.half(0))
    return _drops(panels, count, "like" if like else "each")


def _hide(goods: Goods, ground: Ground, least: int, panels: int) -> _Found | None:
    """The best plan that hides every seam, with up to two more widths than `least`."""
    counts = range(least, least + MORE_WIDTHS + 1)
    modes: tuple[_Mode, ...] = ("like", "each", "two")
    levels = sorted((_drops(panels, n, mode), n, mode) for n in counts for mode in modes)
    every: dict[int, list[Lane]] = {}
    for _, count, mode in levels:
        if count not in every:
            every[count] = cheapest(ground, goods.grids(ground, count), goods.total, 0)[1]
        lanes, found = every[count], None
        # Pieces that share are narrower, so they make no panel that others don't.
        if not lanes:
            continue
        if mode == "each":
            found = _Found(settled(ground, lanes, goods.total, 0), mode, ())
        elif mode == "like" and panels > 1:
            found = _like(goods, ground, lanes, 0)
        elif mode == "two" and count > least and goods.repeat == 1:
            pair = two(goods, ground, count)
            found = pair and _Found(pair[0], mode, pair[1])
        if found is not None:
            return found
    return None


def _least_visible(goods: Goods, ground: Ground, count: int, panels: int) -> _Found:
    """The best plan of `count` widths that costs least, on a ground that covers the panel."""
    # So many widths make the panel if seams may fall anywhere, and `ground` is everywhere.
    cost, lanes = cheapest(ground, goods.grids(ground, count), goods.total)
    like = _like(goods, ground, lanes, cost) if panels > 1 else None
    return like or _Found(settled(ground, lanes, goods.total, cost), "each", ())


def _like(goods: Goods, ground: Ground, lanes: list[Lane], budget: int) -> _Found | None:
    """The best plan with one partial that shares with its like, at no more cost than `lanes`."""
    count, total = len(lanes[0][0].caps), goods.total
    flipped = ground.flipped(total)
    befores: list[list[Front]] = []
    # Narrower pieces cost no less, on any phase that was tried.
    alive = {grid.phase for grid, _ in lanes}
    for place in reversed(range(count)):
        if place in {0, count - 1}:
            grids = [
                grid
                for grid in goods.grids(ground, count, place)
                if grid.phase in alive or (grid.phase - total - goods.seam) % grid.repeat == 0
            ]
        else:
            befores = befores or [
                fronts_of(flipped, grid.flipped(total), total, budget) for grid, _ in lanes
            ]
            grids = [
                grid._replace(caps=(*grid.caps[:place], goods.shared, *grid.caps[place + 1 :]))
                for (grid, after), before in zip(lanes, befores, strict=True)
                if sum(grid.caps) - goods.whole + goods.shared >= total
                and _joined(before[-1 - place], after[place], total + goods.shared, budget)
            ]
        _, found = cheapest(ground, grids, total, budget)
        if found:
            return _Found(settled(ground, found, total, budget), "like", (place,))
    return None


def _joined(before: Front, after: Front, most: int, budget: int) -> bool:
    """Whether a piece may reach from one front to the next at no more cost: if not, none can."""
    # Together the places exceed the panel by what the piece spans.
    return any(
        cost + after.least(most - back) <= budget
        for cost, back, was in zip(
            before.costs, before.places, (budget + 1, *before.costs), strict=False
        )
        if was > cost <= budget
    )


def _step(cloth: Cloth, found: _Found, pieces: Sequence[Length]) -> Length:
    """From the first piece of a shared drop to the second; 0 where none is shared."""
    if found.mode == "each":
        return Fraction(0)
    piece, repeat = pieces[found.partials[0]], cloth.repeat_across
    return ceil(piece / repeat) * repeat if repeat else piece


def _starts(
    cloth: Cloth, found: _Found, pieces: Sequence[Length], width: Length
) -> Iterator[Length]:
    """Where each piece begins on its drop: as far left as the pattern lets it."""
    step, repeat = _step(cloth, found, pieces), cloth.repeat_across
    if not repeat or len(pieces) == 1:
        for place in range(len(pieces)):
            yield step if found.mode == "two" and place == found.partials[1] else Fraction(0)
        return
    # Seams stand `skew` past the left selvage and an allowance, and whole repeats from there.
    # The last of them leaves `slack` less skew, and the first piece, with its like, ends there.
    slack = (width - 2 * cloth.seam) % repeat
    ends = pieces[0] + (step if found.partials == (0,) else 0)
    skew = max(Fraction(0), ends + slack - width)
    yield (2 * cloth.seam + skew - pieces[0]) % repeat
    for _ in pieces[1:]:
        yield skew


def _cuts(
    cloth: Cloth, found: _Found, pieces: Sequence[Length], width: Length, panels: int
) -> Iterator[Cut]:
    """Every drop of the window, those with a piece to itself first."""
    step, none = _step(cloth, found, pieces), Fraction(0)
    for place, piece in enumerate(pieces):
        if place not in found.partials:
            yield Cut((place,), panels, width - piece, none)
    if found.mode == "two":
        over = width - sum(pieces[place] for place in found.partials)
        yield Cut(found.partials, panels, over, step)
    elif found.mode == "like":
        (place,) = found.partials
        yield Cut((place, place), panels // 2, width - 2 * pieces[place], step)
        if panels % 2:
            yield Cut((place,), 1, width - pieces[place], none)
