"""How a window's panels stand on their pole: its brackets, the glass, the floor, what they bear.

Along the pole measures run from its left end as seen from the room, the neck of the left finial.

Glossary:
  end bracket  holds the pole near its end. The end eyelet at a return stands between it and the
               finial, so that the panel's end stays and turns to the wall; `beyond` is how far the
               pole goes past it for that
  support      a bracket between the ends. They stand evenly apart; eyelets can't pass one
  glass        the width to be seen through. A pair's pole is taken to stand over its middle; of one
               panel all that the pole is longer is taken to be at the side it is drawn to
  stack        the pole a panel takes when it is drawn open
  bare         glass that the closed panels don't hide: between a pair's leading edges, or past the
               end of one panel

Figures of the folds are floats; what is made of them here is rounded up to what is printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil, cos, radians, sin

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import MOST_SUPPORTS, Panels, Window
from drapetemplate.measures import Length, Units, format_length, rounded_up
from drapetemplate.planning.eyelets import length_from_pole
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.set_out import Setting

ONE_PIECE = Fraction(5, 4)
"""A support under a pole of one piece bears up to 10/8 of what the pole's two halves to either side
weigh: beam theory, two equal spans evenly loaded; more spans, and a jointed pole, take less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PoleStand:
    """How the panels of one window stand on one pole.

    `length` is the usable pole: given, or where `worked_out` what clears the `glass`, or not known.
    `stack` and `covers` are one panel's, `covers` None where unknown; a panel has `count` eyelets.
    `span` is a panel's flat cloth between its end eyelets' centres, more than which it never
    covers. `beyond` is how far the pole goes past an end bracket, which is what a ring takes of it;
    None on hooks, which turn at no bracket. `past_ring` is how far along the pole a panel's edge
    stands past the ring that isn't at the return, or past the hook.
    `supports` is how many brackets stand between the ends, None where nothing says. `bottom` is the
    panels' lower edge above the floor, negative on it. `weight` is in grams, of all panels.
    """

    panels: Panels
    length: Length | None
    worked_out: bool
    glass: Length | None
    stack: Length
    covers: Length | None
    span: Length
    count: int
    beyond: Length | None
    past_ring: Length
    supports: int | None
    bottom: Length | None
    weight: Fraction | None

    @property
    def on_pole(self) -> int:
        """How many panels hang on the pole."""
        return 2 if self.panels == "pair" else 1

    @property
    def clearing(self) -> Length | None:
        """The pole on which the panels drawn open clear the glass; None where that isn't known."""
        return None if self.glass is None else self.glass + self.on_pole * self.stack

    @property
    def over_glass(self) -> Length | None:
        """How much of the glass one panel's stack covers; None without glass or pole."""
        if self.glass is None or self.length is None:
            return None
        beside = (self.length - self.glass) / self.on_pole
        return min(max(self.stack - beside, Length(0)), self.glass)

    @property
    def brackets(self) -> tuple[Length, ...]:
        """Where brackets stand, the end ones included; none where the pole's length isn't known."""
        edge = self.beyond or Length(0)
        if self.length is None or self.length <= 2 * edge:
            return ()
        spans = (self.supports or 0) + 1
        step = (self.length - 2 * edge) / spans
        return tuple(edge + i * step for i in range(spans + 1))

    @property
    def room(self) -> Length | None:
        """The most there is for one panel from its first to its last eyelet centre, closed.

        Its share of the pole, less what one ring takes; None where the pole's length isn't known.
        """
        if self.length is None:
            return None
        return max(self.length / self.on_pole - (self.beyond or 0), Length(0))

    @property
    def reach(self) -> Length:
        """From the first to the last eyelet centre of a closed panel, as it stands.

        What it is to cover, or where that isn't known what its cloth allows, as far as there is
        room; 0 where neither that nor the pole is known.
        """
        if self.room is None:
            return self.covers or Length(0)
        return min(self.span if self.covers is None else self.covers, self.room)

    @property
    def bare(self) -> Length | None:
        """How much of the glass the closed panels leave bare; None without glass or pole.

        A panel hides the pole from its end at the return to the edge past its other end ring.
        """
        if self.glass is None or self.room is None:
            return None
        gap = self.on_pole * (self.room - self.reach - self.past_ring)
        return min(max(gap, Length(0)), self.glass)

    def crossed(self) -> tuple[Length, ...]:
        """Return the supports that a closed panel would have to pass, from the end it hangs at.

        Where the pole's length isn't known, it is taken to be what the panels cover, or else 1: the
        supports of a pair, or of one panel, stand at the same shares of any pole.
        """
        if not self.supports or self.beyond is None:
            return ()
        length = self.length or (self.covers or 1) * Fraction(self.on_pole)
        edge = self.beyond if self.length is not None else Length(0)
        step = (length - 2 * edge) / (self.supports + 1)
        needs = length / self.on_pole
        if self.covers is not None:
            needs = self.covers
        places = (edge + i * step for i in range(1, self.supports + 1))
        return tuple(place for place in places if place < needs)

    def places(self, side: str, *, opened: bool = False) -> tuple[Length, ...]:
        """Return where a panel's eyelets stand along the pole, from eyelet 1; none if not known.

        Closed, or `opened` with each at its share of the stack at the end where it returns; a
        single panel is drawn to the left.
        """
        if self.length is None:
            return ()
        start = (self.beyond or Length(0)) / 2
        step = self.stack / self.count if opened else self.reach / (self.count - 1)
        from_end = [start + i * step for i in range(self.count)]
        if side == "single":
            return tuple(from_end)
        if side == "left":
            return tuple(reversed(from_end))
        return tuple(self.length - place for place in reversed(from_end))

    @property
    def sides(self) -> tuple[str, ...]:
        """Its panels from left to right."""
        return ("left", "right") if self.panels == "pair" else (self.panels,)

    @property
    def bearing(self) -> tuple[Fraction, ...]:
        """The most grams each bracket bears, closed or open; none where weight or place is unknown.

        The pole's own weight isn't known, and not in it.
        """
        if self.weight is None or not self.brackets:
            return ()
        each = self.weight / (self.on_pole * self.count)
        most = [Fraction(0)] * len(self.brackets)
        for places in self._standings():
            borne = [each * share for share in shares(self.brackets, places)]
            most = [max(pair) for pair in zip(most, borne, strict=True)]
        return (most[0], *(load * ONE_PIECE for load in most[1:-1]), most[-1])

    def _standings(self) -> list[list[Length]]:
        """All eyelets' places, closed and drawn open; of a single panel to either side."""
        closed, opened = (
            [place for side in self.sides for place in self.places(side, opened=each)]
            for each in (False, True)
        )
        ways = [closed, opened]
        if self.panels == "single" and self.length is not None:
            ways.append([self.length - place for place in opened])
        return ways


def pole_stand(
    window: Window,
    setting: Setting,
    *,
    hang: Hang | None,
    weight: Fraction | None,
    units: Units,
) -> PoleStand:
    """Return how a window's panels, so set out, stand on their pole.

    `weight` is one panel's. JobError where `pole.span` asks for more brackets than a pole has.
    """
    pole, ring = window.pole, window.eyelet
    line, count, length = setting.line, setting.count, setting.length
    on_pole = 2 if window.panels == "pair" else 1
    stack = count * window.stack_each
    usable = pole.length
    if usable is None and window.glass is not None:
        usable = window.glass + on_pole * stack
    beyond, past_ring = None, line.leading + ring.outside / 2
    if hang is not None:
        turned = radians(hang.closed.angle_deg)
        # Nothing bends it: it stands as its ring does, and one turned past square leads back.
        past_ring = rounded_up(line.leading * max(Fraction(cos(turned)), Fraction(0)), units)
        along = float(ring.outside) * abs(cos(turned)) + float(ring.thickness) * sin(turned)
        beyond = rounded_up(max(Fraction(along), window.stack_each), units)
    bottom = None
    if pole.top is not None and length is not None and ring.hung == "pole":
        on_floor = length_from_pole(
            pole.top, window.band.above, ring.outside, ring.opening, Length(0)
        )
        bottom = on_floor - length
    return PoleStand(
        panels=window.panels,
        length=usable,
        worked_out=pole.length is None and usable is not None,
        glass=window.glass,
        stack=stack,
        covers=setting.covers,
        span=(count - 1) * line.pitch(count),
        count=count,
        beyond=beyond,
        past_ring=past_ring,
        supports=_supports(window, usable, beyond or Length(0), units),
        bottom=bottom,
        weight=None if weight is None else weight * on_pole,
    )


def _supports(window: Window, usable: Length | None, edge: Length, units: Units) -> int | None:
    """Return how many brackets stand between the ends: given, or the least that leave no more."""
    pole = window.pole
    if pole.span is None or usable is None:
        return pole.supports
    supports = max(ceil((usable - 2 * edge) / pole.span) - 1, 0)
    if supports > MOST_SUPPORTS:
        text = (
            f"{format_length(pole.span, units)} between brackets would take {supports} of them on "
            f"{format_length(usable, units)} of pole, more than {MOST_SUPPORTS}: give a longer span"
        )
        raise JobError([Fault(f"{window.key}.pole.span", text)])
    return supports


def shares(brackets: tuple[Length, ...], places: list[Length]) -> list[Fraction]:
    """Return how much each bracket bears of loads of 1 at these places, by the lever.

    The pole is taken to be jointed at each bracket; what stands beyond an end one hangs on it.

    >>> shares((Length(0), Length(10)), [Length(0), Length(4), Length(12)])
    [Fraction(8, 5), Fraction(7, 5)]
    """
    borne = [Fraction(0)] * len(brackets)
    for place in places:
        held = min(max(place, brackets[0]), brackets[-1])
        for n, (left, right) in enumerate(pairwise(brackets)):
            if left <= held <= right:
                share = (held - left) / (right - left)
                borne[n] += 1 - share
                borne[n + 1] += share
                break
    return borne
