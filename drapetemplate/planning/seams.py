"""Where a panel's seams stand and how its pieces are cut from drops: exact, the same each time.

Terminology
-----------
width
    One strip of cloth from selvage to selvage, and how wide that is. A panel's own measure across
    is its finished width (sewn) or its raw width (flat, side hems included).
drop
    One width cut to length.
piece
    What one panel has of one width, seam allowances and side hem included. Pieces and seams count
    from the leading edge, from 0.
seam
    The line where two pieces are sewn together; an allowance of `cloth.seam` of each lies behind.
repeat
    How far across the cloth its pattern begins anew. Every drop carries the pattern at the same
    places, and all seams of a panel stand at one phase of it, so that it runs on: pieces are cut
    where they match, not all from the selvage.
raw, finished
    Two ways to measure to a place on the panel: flat from the cloth's own end at the leading edge,
    or from the sewn edge. Raw = finished + side hem.
back gap, front gap
    The cloth between two eyelets where it passes behind the pole, or before it. On hooks it does
    neither and any gap will do for a seam.
hidden
    A seam in a back gap, its allowance and 1/8 in more clear of the flanges on both sides, so that
    neither flange nor hole meets the allowance. Nobody sees it there.
visible, struck
    Any other seam is visible; it is struck if it meets an eyelet or a side hem too.
partial
    A piece that shares its drop with another one, of its own panel or of another of the window:
    `drop_sharing` says which may.

The aims, in this order
-----------------------
The last two are common practice and a trade-school handout (P. Damour, The Perfect Drapery Panel:
half widths go to the return edge).

1. Every seam is hidden, with the least number of widths or up to two more.
2. As few seams as that takes; more, where the window allows them, if each saves a drop.
3. The fewest drops to buy for the window, all its panels together.
4. Few partials, as near the return edge as can be, then each seam, in turn from the leading edge,
   in the farthest gap it can have, so that full widths stand at the leading edge.
5. Each seam is as close behind its eyelet as allowed: in its gap, nearest to the eyelet that
   bounds the gap on the side of the leading edge.

Where the first fails: the least widths, the fewest visible seams, of those the fewest struck, and
then the aims from the third on.

One panel in numbers
--------------------
A pair of panels finishes at 75 in each: 3 in at either end, 10 eyelets of 3 3/4 in outside, gaps
of 3 1/2 in. The cloth is 54 in wide, seams take 1/2 in a side, side hems 3 in: 81 in raw.

- Where seams may stand, raw: the flange of eyelet n (from 0) ends at 9 3/4 + 7 1/4 n. A seam keeps
  1/2 + 1/8 in off, so that 2 1/4 in of each gap is left. Back gaps follow eyelets 1, 3, 5 and 7:
  17 5/8 to 19 7/8, 32 1/8 to 34 3/8, 46 5/8 to 48 7/8 and 61 1/8 to 63 3/8 in.
- Pieces: one of 54 in is too little and two span up to 53 1/2 in each, so the seam stands at 81 -
  53 1/2 = 27 1/2 to 53 1/2 in. Two of the back gaps are there: aim 1 is met with two widths.
- Drops: for a pair to share one, a piece must be 27 in wide or less, its seam at 26 1/2 or before
  or at 54 1/2 or after. There is none, so four drops are bought.
- Aim 4 takes the farther gap and aim 5 its start: 46 5/8 in raw, 43 5/8 in finished.
- The pieces are 46 5/8 + 1/2 = 47 1/8 and 81 - 46 5/8 + 1/2 = 34 7/8 in wide.

`seam_places` says where a seam may stand, `seam_search` has the search for the best places, with
this panel's steps, `drop_sharing` the choice among plans and `drop_packing` what drops hold where
pieces of several kinds are mixed. They reckon in whole units. Here all lengths are exact
millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import ceil, lcm
from typing import NamedTuple

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH, Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.planning.drop_packing import PackedDrops
from drapetemplate.planning.drop_sharing import (
    MOST_ALIKE,
    HiddenChoice,
    Panels,
    hide_all,
    least_drops,
    show_fewest,
)
from drapetemplate.planning.motif_seams import (
    Motif,
    MotifPlan,
    centred,
    centred_in_sight,
    off_centre,
)
from drapetemplate.planning.seam_places import (
    EyeletRow,
    Places,
    costs_anywhere,
    costs_hidden,
    hidden_and_clear,
    in_units,
    within,
)
from drapetemplate.planning.seam_search import PanelSizes
from drapetemplate.wording import Wording

FINEST_REPEAT = INCH / 16
MOST_WIDTHS = 200
"""A panel."""

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class DropLayout:
    """What lies side by side on each of `times` drops: the pieces, and the width left over.

    `starts` is where each begins across the drop, as `SeamPlan.starts` is. `lefts` says which
    pieces must be of left panels, their starts being from the right selvage, and which must not;
    None where each may be of any.
    """

    pieces: tuple[int, ...]
    times: int
    left_over: Length
    starts: tuple[Length, ...]
    lefts: tuple[bool, ...] | None = None


class MotifOff(NamedTuple):
    """How far a motif's centre is past the middle of a front fold, away from the leading edge.

    `left` of left panels, `near` of all others; 0 in the middle.
    """

    near: Length
    left: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamPlan:
    """The seams of each panel of a window, and the drops for all of them.

    `seams` are finished places from the leading edge. `pieces` are raw widths, and `trims` the
    cloth's width less each. `starts` is where each piece begins across a drop of its own, as that
    lies with the leading edge at the left: from the left selvage, so that a pattern matches at
    every seam. `visible` and `struck` say which seams are; `hidden` says how many are hidden.
    `least_drops` is the bare minimum without hiding, so that `drops` less that is what hiding
    costs, and `drops_with_one_more` what they would be if each panel might have one seam more.
    `layouts` has every drop; a railroaded run counts as a drop, and its piece runs along the cloth.
    Where a motif is placed, `motif_off` says how well, and a left panel's pieces have starts of
    their own, `left_starts`, from the right selvage.
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
    drops_with_one_more: int
    layouts: tuple[DropLayout, ...]
    left_starts: tuple[Length, ...] = ()
    motif_off: MotifOff | None = None


def plan_seams(
    cloth: Cloth, row: EyeletRow, *, panels: Panels, key: str, units: Units
) -> SeamPlan | None:
    """Return the seams and drops of a window's panels; None where the cloth's width isn't known.

    `key` is the cloth's path, for faults.
    Nothing is rounded. JobError: cloth too narrow for its hem and seam, a pattern wider than
    what seams leave of the cloth where a panel needs a seam, more than 200 widths a panel.
    """
    raw_width = row.width + 2 * cloth.side_hem
    if cloth.railroad:
        return _railroaded(raw_width, panels.count)
    if cloth.width is None:
        return None
    _check(cloth, cloth.width, raw_width, key, units)
    scale = _scale(cloth, cloth.width, row, panels.count)
    sizes = PanelSizes(
        panel=in_units(raw_width, scale),
        width=in_units(cloth.width, scale),
        seam=in_units(cloth.seam, scale),
        repeat=in_units(cloth.repeat_across, scale) if cloth.repeat_across else 1,
        pairs=panels.pairs and cloth.repeat_across is not None,
    )
    least = _least_pieces(sizes)
    if least > MOST_WIDTHS:
        text = (
            f"a panel would take {least} widths of {format_length(cloth.width, units)}, more than "
            f"the {MOST_WIDTHS} this tool plans: use wider cloth or narrower panels"
        )
        raise JobError([Fault(f"{key}.width", text)])
    hidden, clear = hidden_and_clear(cloth, row, scale)
    motif = _motif(cloth, row, scale)
    if motif is not None:
        return _MotifSeams(cloth, sizes, panels, least, hidden, clear, scale).plan(motif)
    choice = hide_all(sizes, costs_hidden(hidden), least, panels)
    if choice is None:
        everywhere = costs_anywhere(hidden, clear, sizes.panel)
        plan = show_fewest(sizes, everywhere, least, panels.count)
        choice = HiddenChoice(plan, plan.drop_count)
    places, packed, skew = choice.plan
    raw_seams = tuple(Fraction(place) / scale for place in places)
    pieces = _pieces(cloth, raw_seams, raw_width)
    if skew is None:
        starts = _starts(cloth, _least_skew(cloth, packed, pieces, cloth.width), pieces)
    else:
        starts = _starts(cloth, Fraction(skew, scale), pieces)
    layouts = [_layout(cloth, each, pieces, starts, cloth.width) for each in packed]
    if any(layout.starts[-1] + pieces[layout.pieces[-1]] > cloth.width for layout in layouts):
        # From one selvage they don't fit, but they do from both.
        starts, layouts = _laid_in_halves(cloth, packed, pieces, cloth.width)
    visible = tuple(n for n, place in enumerate(places) if not within(place, hidden))
    return SeamPlan(
        seams=tuple(place - cloth.side_hem for place in raw_seams),
        pieces=pieces,
        trims=tuple(cloth.width - piece for piece in pieces),
        starts=starts,
        hidden=len(raw_seams) - len(visible),
        visible=visible,
        struck=tuple(n for n in visible if not within(places[n], clear)),
        drops=choice.plan.drop_count,
        # With a seam more there may be fewer than the least number of pieces takes.
        least_drops=min(least_drops(sizes, least, panels.count), choice.plan.drop_count),
        drops_with_one_more=choice.drops_with_one_more,
        layouts=tuple(layouts),
    )


def _pieces(cloth: Cloth, raw_seams: Sequence[Length], raw_width: Length) -> tuple[Length, ...]:
    """Return the raw width of each piece between raw edges and seams, its allowances included."""
    return tuple(
        end - start + cloth.seam * ((start > 0) + (end < raw_width))
        for start, end in pairwise((_ZERO, *raw_seams, raw_width))
    )


def _motif(cloth: Cloth, row: EyeletRow, scale: int) -> Motif | None:
    """Return the motif that is to stand in the middle of a row's front folds, if one is."""
    if cloth.motif is None or cloth.repeat_across is None or row.motif_at is None:
        return None
    fold = in_units(cloth.side_hem, scale) + in_units(row.motif_at, scale)
    return Motif(in_units(cloth.motif, scale), fold, cloth.mirrored)


@dataclass(frozen=True, slots=True)
class _MotifSeams:
    """The seams of panels that place a motif: hidden first, then it in the middle, then few drops.

    `least` is how many pieces make the panel at the least; the other values are `plan_seams`'s.
    """

    cloth: Cloth
    sizes: PanelSizes
    panels: Panels
    least: int
    hidden: Places
    clear: Places
    scale: int

    def plan(self, motif: Motif) -> SeamPlan:
        """Return the seams and drops, in lengths."""
        sizes, panels = self.sizes, self.panels
        placed = self._placed(motif)
        raw_seams = tuple(map(self._length, placed.seams))
        pieces = _pieces(self.cloth, raw_seams, self._length(sizes.panel))
        drops = sum(each.times for each in placed.drops)
        starts = {
            side.left: tuple(map(self._length, placed.starts(sizes, side))) for side in placed.sides
        }
        off = {side.left: self._length(n) for side, n in zip(placed.sides, placed.off, strict=True)}
        visible = tuple(n for n, place in enumerate(placed.seams) if not within(place, self.hidden))
        return SeamPlan(
            seams=tuple(place - self.cloth.side_hem for place in raw_seams),
            pieces=pieces,
            trims=tuple(self._length(sizes.width) - piece for piece in pieces),
            starts=starts.get(False, starts.get(True, ())),
            hidden=len(raw_seams) - len(visible),
            visible=visible,
            struck=tuple(n for n in visible if not within(placed.seams[n], self.clear)),
            drops=drops,
            least_drops=min(least_drops(sizes, self.least, panels.count), drops),
            drops_with_one_more=drops,
            layouts=tuple(self._layout(placed, each) for each in placed.drops),
            left_starts=starts.get(True, ()),
            motif_off=MotifOff(off.get(False, _ZERO), off.get(True, _ZERO)),
        )

    def _placed(self, motif: Motif) -> MotifPlan:
        sizes, panels, least = self.sizes, self.panels, self.least
        hiding = costs_hidden(self.hidden)
        placed = centred(sizes, hiding, motif, panels, least)
        if placed is not None:
            return placed
        choice = hide_all(sizes, hiding, least, replace(panels, extra_seams=0))
        if choice is not None:
            return off_centre(sizes, motif, panels, tuple(map(int, choice.plan.seams)))
        everywhere = costs_anywhere(self.hidden, self.clear, sizes.panel)
        seams = tuple(map(int, show_fewest(sizes, everywhere, least, panels.count).seams))
        placed = centred_in_sight(sizes, everywhere, motif, panels, least, seams)
        return placed or off_centre(sizes, motif, panels, seams)

    def _layout(self, placed: MotifPlan, packed: PackedDrops) -> DropLayout:
        """Return how pieces lie on their drops, each at its side's place of the pattern."""
        laid = placed.laid(self.sizes, packed.pieces)
        return DropLayout(
            pieces=tuple(piece.number for piece in laid),
            times=packed.times,
            left_over=self._length(self.sizes.width - sum(piece.width for piece in laid)),
            starts=tuple(self._length(piece.start) for piece in laid),
            lefts=tuple(piece.left for piece in laid),
        )

    def _length(self, units: int) -> Length:
        return Fraction(units, self.scale)


def _railroaded(raw_width: Length, panels: int) -> SeamPlan:
    """Return the plan of turned cloth: a run as long as the panel's raw width, without a seam."""
    return SeamPlan(
        seams=(),
        pieces=(raw_width,),
        trims=(_ZERO,),
        starts=(_ZERO,),
        hidden=0,
        visible=(),
        struck=(),
        drops=panels,
        least_drops=panels,
        drops_with_one_more=panels,
        layouts=(DropLayout((0,), panels, _ZERO, (_ZERO,)),),
    )


def _check(cloth: Cloth, width: Length, raw_width: Length, key: str, units: Units) -> None:
    """JobError where no number of widths makes a panel of that raw width."""
    say = Wording(units)
    end, inner = width - cloth.seam, width - 2 * cloth.seam
    repeat = cloth.repeat_across
    if repeat and repeat < FINEST_REPEAT:
        text = f"{say(FINEST_REPEAT)} or more, or leave it out: so fine a pattern needs no matching"
        raise JobError([Fault(f"{key}.repeat_across", text)])
    if raw_width <= width:
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


def _scale(cloth: Cloth, width: Length, row: EyeletRow, panels: int) -> int:
    """Return units a millimetre so that every length of the problem is whole, and its parts too.

    Parts, since so many pieces alike may have a half, a third or less of a width each.
    """
    lengths = (
        width,
        cloth.seam,
        cloth.side_hem,
        cloth.repeat_across or _ZERO,
        row.width,
        row.outside / 2,
        row.clearance,
        *row.centers,
        cloth.motif or _ZERO,
        row.motif_at or _ZERO,
    )
    # With a pattern they start whole repeats from each other, and need no such parts.
    alike = range(1, 1 if cloth.repeat_across else min(panels, MOST_ALIKE) + 1)
    return lcm(*(length.denominator for length in lengths)) * lcm(2, *alike)


def _least_pieces(sizes: PanelSizes) -> int:
    """Return the fewest pieces that make the panel, wherever its seams fall."""
    # One piece has a whole width; each more adds what a piece between two seams spans.
    beyond = sizes.panel - sizes.width
    return 1 if beyond <= 0 else 1 + ceil(Fraction(beyond, sizes.inner_reach))


def _least_skew(
    cloth: Cloth, packed: Sequence[PackedDrops], pieces: Sequence[Length], width: Length
) -> Length:
    """Return the least skew with which drops hold pieces of one kind each."""
    repeat = cloth.repeat_across
    if not repeat or len(pieces) == 1:
        return _ZERO
    # Seams stand `skew` past the left selvage and an allowance, and whole repeats from there.
    # The last of them leaves `slack` less skew, and the first piece, with its like, ends there.
    slack = (width - 2 * cloth.seam) % repeat
    more_alike = max(each.pieces.count(0) for each in packed) - 1
    ends = pieces[0] + more_alike * ceil(pieces[0] / repeat) * repeat
    return max(_ZERO, ends + slack - width)


def _laid_in_halves(
    cloth: Cloth, packed: Sequence[PackedDrops], pieces: Sequence[Length], width: Length
) -> tuple[tuple[Length, ...], list[DropLayout]]:
    """Return where pieces begin, and the drops, where pairs' pieces alike lie from both selvages.

    As the skew grows, pieces come to fit where one begins at a selvage or in the middle. The search
    of seams has found that they do.
    """
    repeat, first = cloth.repeat_across or width, pieces[0] - 2 * cloth.seam

    def laid(skew: Length) -> tuple[tuple[Length, ...], list[DropLayout]]:
        starts = _starts(cloth, skew, pieces)
        return starts, [
            _layout_of_halves(cloth, each, pieces, starts, width)
            if len(each.pieces) > 1
            else _layout(cloth, each, pieces, starts, width)
            for each in packed
        ]

    skews = {place % repeat for place in (_ZERO, first, width / 2, first + width / 2)}
    return next(
        (starts, layouts)
        for starts, layouts in map(laid, sorted(skews))
        if all(_is_clear(layout, pieces, width) for layout in layouts)
    )


def _is_clear(layout: DropLayout, pieces: Sequence[Length], width: Length) -> bool:
    """Return whether the halves of a drop's pieces, if it has halves, are clear of each other."""
    end = layout.starts[-1] + pieces[layout.pieces[-1]]
    if layout.lefts is None:
        return end <= width
    return 2 * end <= width or (end <= width and 2 * layout.starts[0] >= width)


def _starts(cloth: Cloth, skew: Length, pieces: Sequence[Length]) -> tuple[Length, ...]:
    """Return where each piece begins on its drop: as far left as the pattern lets it."""
    repeat = cloth.repeat_across
    if not repeat or len(pieces) == 1:
        return (_ZERO,) * len(pieces)
    return ((2 * cloth.seam + skew - pieces[0]) % repeat, *(skew,) * (len(pieces) - 1))


def _layout(
    cloth: Cloth,
    packed: PackedDrops,
    pieces: Sequence[Length],
    starts: Sequence[Length],
    width: Length,
) -> DropLayout:
    """Return how pieces lie on their drops: each as soon after the one before as it matches."""
    places: list[Length] = []
    end = _ZERO
    for piece in packed.pieces:
        to_match = (starts[piece] - end) % cloth.repeat_across if cloth.repeat_across else _ZERO
        places.append(end + to_match)
        end = places[-1] + pieces[piece]
    left_over = width - sum(pieces[n] for n in packed.pieces)
    lefts = None if packed.left is None else (packed.left,) * len(packed.pieces)
    return DropLayout(packed.pieces, packed.times, left_over, tuple(places), lefts)


def _layout_of_halves(
    cloth: Cloth,
    packed: PackedDrops,
    pieces: Sequence[Length],
    starts: Sequence[Length],
    width: Length,
) -> DropLayout:
    """Return how pairs' pieces alike lie on their drops, one half of them from either selvage.

    Each half lies on the half of the cloth at its selvage, or if it doesn't fit there, as far from
    that selvage as it can be, on the other half.
    """
    half = len(packed.pieces) // 2
    one_half = _layout(cloth, PackedDrops(packed.pieces[:half], 1), pieces, starts, width)
    end = one_half.starts[-1] + pieces[packed.pieces[0]]
    farther = _ZERO
    if cloth.repeat_across and 2 * end > width:
        farther = (width - end) // cloth.repeat_across * cloth.repeat_across
    places = tuple(start + farther for start in one_half.starts) * 2
    left_over = width - sum(pieces[n] for n in packed.pieces)
    lefts = (False,) * half + (True,) * half
    return DropLayout(packed.pieces, packed.times, left_over, places, lefts)
