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
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import lcm

from drapetemplate.errors import Fault, JobError
from drapetemplate.job import Cloth
from drapetemplate.measures import INCH, Length, Units, format_length
from drapetemplate.planning.eyelets import GapKind
from drapetemplate.planning.places import Found, Goods, drops, hide, least_visible, spans_of

CLEARANCE = INCH / 8
MOST_WIDTHS = 200

# What a seam costs where it shows: any number of struck ones weighs less than one more visible.
_SHOWN = 1000
_STRUCK = _SHOWN + 1


@dataclass(frozen=True, slots=True)
class Row:
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
    """`times` drops cut alike: the places of the pieces side by side, and the width left over."""

    pieces: tuple[int, ...]
    times: int
    over: Length


@dataclass(frozen=True, slots=True)
class Seams:
    """The seams of each panel of a window, and the drops for all of them.

    `seams` are finished coordinates from the leading edge. `pieces` are raw widths from the
    leading edge, seam and hem cloth included; `trims` is the cloth's width less each. `visible`
    and `struck` are places in `seams`; `hidden` says how many are hidden. `least_drops` is the
    bare minimum without hiding, so drops - least_drops is what hiding costs. `cuts` lists all
    drops; a railroaded run counts as a drop, and its piece runs along the cloth.
    """

    seams: tuple[Length, ...]
    pieces: tuple[Length, ...]
    trims: tuple[Length, ...]
    hidden: int
    visible: tuple[int, ...]
    struck: tuple[int, ...]
    drops: int
    least_drops: int
    cuts: tuple[Cut, ...]


def plan_seams(cloth: Cloth, row: Row, *, panels: int, key: str, units: Units) -> Seams | None:
    """Seams and drops of so many panels from one cloth (3.11); None where its width isn't known.

    `panels` counts all of a window, its quantity included; `key` is the cloth's path, for faults.
    Nothing is rounded. JobError: cloth too narrow for its hem and seam, a pattern wider than
    what seams leave of the cloth where inner pieces must match, more than 200 widths a panel.
    """
    total = row.width + 2 * cloth.side_hem
    if cloth.railroad:
        run = Cut((0,), panels, Fraction(0))
        return Seams((), (total,), (Fraction(0),), 0, (), (), panels, panels, (run,))
    if cloth.width is None:
        return None
    _check(cloth, cloth.width, total, key, units)
    scale = _scale(cloth, cloth.width, row)

    def whole(spans: Iterable[tuple[Length, Length]]) -> list[tuple[int, int]]:
        return [(int(lo * scale), int(hi * scale)) for lo, hi in spans]

    sizes = (total, cloth.width, cloth.seam, cloth.repeat_across or 0)
    goods = Goods(*(int(size * scale) for size in sizes))
    least = goods.least_widths()
    if least > MOST_WIDTHS:
        text = (
            f"a panel would take {least} widths of {format_length(cloth.width, units)}, more than "
            f"the {MOST_WIDTHS} this tool plans: use wider cloth or narrower panels"
        )
        raise JobError([Fault(f"{key}.width", text)])
    hidden, clear = whole(_hiding(cloth, row)), whole(_clear(cloth, row))
    found = hide(goods, (spans_of(0, hidden),), least, panels)
    if found is None:
        shown = [span for span in clear if span not in hidden]
        struck = list(_between(clear, goods.total))
        ground = spans_of(0, hidden), spans_of(_SHOWN, shown), spans_of(_STRUCK, struck)
        found = least_visible(goods, ground, least, panels)
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
        hidden=len(raw) - len(visible),
        visible=visible,
        struck=tuple(n for n in visible if not _within(found.seams[n], clear)),
        drops=drops(panels, len(pieces), found.mode),
        least_drops=goods.least_drops(least, panels),
        cuts=tuple(_cuts(found, pieces, cloth.width, panels)),
    )


def _check(cloth: Cloth, width: Length, total: Length, key: str, units: Units) -> None:
    """JobError where no number of widths makes a panel of raw width `total`."""

    def say(length: Length) -> str:
        return format_length(length, units)

    end, inner = width - cloth.seam, width - 2 * cloth.seam
    if total <= width:
        return
    if end <= cloth.side_hem or inner <= 0:
        text = (
            f"{say(width)} of cloth leaves nothing beside a side hem of {say(cloth.side_hem)} and "
            f"seams of {say(cloth.seam)}: use cloth wider than "
            f"{say(max(cloth.side_hem + cloth.seam, 2 * cloth.seam))}, or narrower hems and seams"
        )
        raise JobError([Fault(f"{key}.width", text)])
    repeat = cloth.repeat_across
    if repeat and repeat > inner and total > 2 * end:
        text = (
            f"a repeat of {say(repeat)} can't be matched at every seam: seams leave {say(inner)} "
            f"of a width of {say(width)}, so use cloth of {say(repeat + 2 * cloth.seam)} or wider, "
            f"panels of {say(2 * end - 2 * cloth.side_hem)} or narrower, finished, or railroad it"
        )
        raise JobError([Fault(f"{key}.repeat_across", text)])


def _scale(cloth: Cloth, width: Length, row: Row) -> int:
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


def _gaps(cloth: Cloth, row: Row) -> list[tuple[Length, Length]]:
    """Raw places in each gap where a seam clears both flanges; upside down where there are none."""
    off = row.outside / 2 + cloth.seam + CLEARANCE
    hem = cloth.side_hem
    return [(hem + one + off, hem + two - off) for one, two in pairwise(row.centers)]


def _hiding(cloth: Cloth, row: Row) -> list[tuple[Length, Length]]:
    """Raw places where a seam is hidden."""
    gaps = _gaps(cloth, row)
    kinds = row.gaps or ("back",) * len(gaps)
    return [
        (lo, hi) for (lo, hi), kind in zip(gaps, kinds, strict=True) if kind == "back" and lo <= hi
    ]


def _clear(cloth: Cloth, row: Row) -> list[tuple[Length, Length]]:
    """Raw places where a seam, allowance and all, clears every flange and both side hems."""
    off = row.outside / 2 + cloth.seam + CLEARANCE
    hem = cloth.side_hem
    first = (2 * hem + cloth.seam, hem + row.centers[0] - off)
    last = (hem + row.centers[-1] + off, row.width - cloth.seam)
    return [(lo, hi) for lo, hi in (first, *_gaps(cloth, row), last) if lo <= hi]


def _between(spans: Sequence[tuple[int, int]], total: int) -> Iterator[tuple[int, int]]:
    """What `spans` leave of 0 to `total`."""
    start = 0
    for lo, hi in (*spans, (total, total)):
        if lo > start:
            yield start, lo
        start = hi


def _within(at: int, spans: Iterable[tuple[int, int]]) -> bool:
    return any(lo <= at <= hi for lo, hi in spans)


def _cuts(found: Found, pieces: Sequence[Length], width: Length, panels: int) -> Iterator[Cut]:
    """Every drop of the window, those with a piece to itself first."""
    for place, piece in enumerate(pieces):
        if place not in found.partials:
            yield Cut((place,), panels, width - piece)
    if found.mode == "two":
        yield Cut(found.partials, panels, width - sum(pieces[place] for place in found.partials))
    elif found.mode == "like":
        (place,) = found.partials
        yield Cut((place, place), panels // 2, width - 2 * pieces[place])
        if panels % 2:
            yield Cut((place,), 1, width - pieces[place])
