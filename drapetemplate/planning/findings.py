"""What is wrong, doubtful or assumed in a panel, each with what would mend it.

A finding's level: `stop` keeps the template from being made, `warn` may spoil the work,
`note` is for the record. Codes are public and stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal, get_args

from drapetemplate.job import Assumption, Window
from drapetemplate.measures import Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.planning import eyelets, folds
from drapetemplate.planning.hanging import (
    OPERABLE_TURN,
    Hang,
    first_clear,
)

Level = Literal["stop", "warn", "note"]
LEVELS: tuple[Level, ...] = get_args(Level)
"""Worst first."""
STOP_CODES = ("back-fold-hits-wall", "odd-count", "wont-close")


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the job's owner should know, and what to do about it."""

    level: Level
    code: str
    text: str


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings by level, else as they come."""
    return sorted(findings, key=lambda finding: LEVELS.index(finding.level))


def assumed(assumption: Assumption) -> Finding:
    """The note that says a default was taken."""
    return Finding("note", "assumed", f"{assumption.key} = {assumption.value}")


def odd_count(count: int) -> Finding:
    """The stop for an odd count on a pole, naming the even counts beside it."""
    beside = f"{count - 1} or {count + 1}" if count > 2 else "2"
    return Finding(
        "stop",
        "odd-count",
        f"{count} eyelets would turn one end of the panel to the wall and the other to the "
        f"room: use an even count, {beside}",
    )


def panel_findings(
    window: Window,
    *,
    gap: Length,
    leading: Length,
    return_: Length,
    best: int,
    units: Units,
) -> Iterator[Finding]:
    """Findings of one panel's layout; `best` is the largest count with the least gap."""
    ring, pole = window.eyelet, window.pole

    def say(length: Length) -> str:
        return format_length(length, units)

    if gap < eyelets.LEAST_GAP:
        mend = f"{best} eyelets leave at least that" if best else "use a wider panel"
        yield Finding(
            "warn",
            "narrow-gap",
            f"{_down(gap, units)} between eyelets is under {say(eyelets.LEAST_GAP)}, too tight "
            f"to fold well: {mend}",
        )
    if ring.hole < ring.opening:
        yield Finding(
            "warn",
            "small-hole",
            f"a hole of {say(ring.hole)} is smaller than the ring's opening of "
            f"{say(ring.opening)}: check the die against the eyelet",
        )
    if window.fabric is not None:
        hem = window.fabric.side_hem / 2
        ends = (
            {"return": return_}
            if window.panels == "single"
            else ({"leading": leading, "return": return_})
        )
        for end, cloth in ends.items():
            if hem > cloth:
                yield Finding(
                    "warn",
                    "eyelet-over-hem",
                    f"the side hem, {say(hem)} finished if folded double, reaches under the "
                    f"flange of the eyelet at the {end} edge ({say(cloth)} of cloth): extra "
                    f"layers in the press; give the {end} {_up(hem, units)} or more, or a "
                    f"narrower hem",
                )
    if ring.hung == "pole" and pole.projection is not None:
        short = pole.projection - ring.outside / 2 - return_
        if short > 0:
            text = (
                f"the return stops {say(short)} short of the wall: "
                f"give {_up(return_ + short, units)}"
            )
            yield Finding("warn", "short-return", text)


def hanging_findings(
    window: Window,
    hang: Hang,
    *,
    covers: Length | None,
    stack: Length,
    more: Sequence[int],
    pitch_of: Callable[[int], Length],
    units: Units,
) -> Iterator[Finding]:
    """Findings of a panel on its pole; `more` are larger counts that fit, `pitch_of` theirs."""
    yield from _turning(window, hang, covers, units)
    if hang.wall_room is not None:
        yield from _wall(window, hang, hang.wall_room, more, pitch_of, units)
    usable = window.pole.length
    if usable is not None:
        panels = 2 if window.panels == "pair" else 1
        for state, each in (("stacked", stack), ("closed", covers)):
            if each is not None and panels * each > usable:
                yield Finding(
                    "warn",
                    "short-pole",
                    f"{state}, the panels take {_up(panels * each, units)} of pole, "
                    f"{_up(panels * each - usable, units)} more than is usable: a longer pole, or "
                    + ("fewer eyelets" if state == "stacked" else "less to cover"),
                )


def _up(length: Length, units: Units) -> str:
    return format_length(rounded_up(length, units), units)


def _down(length: Length, units: Units) -> str:
    return format_length(rounded_down(length, units), units)


def _turning(window: Window, hang: Hang, covers: Length | None, units: Units) -> Iterator[Finding]:
    """Whether the rings turn as far as drawing the panel and closing it ask."""
    ring, turn, least = window.eyelet, hang.turn_limit, hang.least_fullness
    if turn is None or least is None:
        return
    if turn < OPERABLE_TURN:
        mend = "a thinner ring"
        if ring.thickness < ring.opening:
            thickest = folds.pole_for_turn(float(ring.opening), float(ring.thickness))
            if rounded_down(Fraction(thickest), units):
                mend = f"a pole of {_down(Fraction(thickest), units)} or thinner, or a larger ring"
        yield Finding(
            "warn",
            "tight-turn",
            f"the rings turn {int(turn)}° on this pole, and a panel that is to be drawn should "
            f"reach 45°: {mend}",
        )
    if covers is not None and not hang.assumed and least > hang.fullness * (1 + 1e-9):
        reach = covers * Fraction(hang.fullness / least)
        yield Finding(
            "stop",
            "wont-close",
            f"the rings turn {int(turn)}°, so the panel can't be pulled flatter than {least:.2f} "
            f"times and covers {_down(reach, units)} of {_up(covers, units)}: a thinner pole, a "
            f"larger ring, or {ceil(least * 100) / 100:.2f} times the pole or more with the same "
            "number of eyelets",
        )


def _wall(
    window: Window,
    hang: Hang,
    room: Length,
    more: Sequence[int],
    pitch_of: Callable[[int], Length],
    units: Units,
) -> Iterator[Finding]:
    """Whether a back fold reaches the wall: closed it is a stop, only stacked a warning."""
    outside = window.eyelet.outside
    level: Level
    if hang.depth_closed > room:
        level, state, depth, verb = "stop", "closed", hang.depth_closed, "reach"
        count = first_clear(more, pitch_of, outside, room, hang.fullness)
    elif hang.depth_stacked > room:
        level, state, depth, verb = "warn", "stacked", hang.depth_stacked, "can reach"
        count = first_clear(more, pitch_of, outside, room, None)
    else:
        return
    mend = f"{count} eyelets would clear, or" if count else "no larger count clears; it takes"
    yield Finding(
        level,
        "back-fold-hits-wall",
        f"{state}, back folds {verb} {_up(depth, units)} behind the pole's centre, "
        f"{_up(depth - room, units)} more than is free: {mend} a bracket of "
        f"{_up(depth + window.pole.wall_clearance, units)}, wall to pole centre",
    )
