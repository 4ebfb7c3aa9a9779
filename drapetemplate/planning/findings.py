"""What is wrong, doubtful or assumed in a panel, each with what would mend it.

A finding's level: `stop` keeps the template from being made, `warn` may spoil the work,
`note` is for the record. Codes are public and stay.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from drapetemplate.job import Assumption, Window
from drapetemplate.measures import Length, Units, format_length
from drapetemplate.planning import eyelets

Level = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the job's owner should know, and what to do about it."""

    level: Level
    code: str
    text: str


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
    pitch: Length,
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
            f"{say(gap)} between eyelets is under {say(eyelets.LEAST_GAP)}, too tight to fold "
            f"well: {mend}",
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
                    f"layers in the press; give the {end} {say(hem)} or more, or a narrower hem",
                )
    if ring.hung == "hooks" or pole.projection is None:
        return
    short = pole.projection - ring.outside / 2 - return_
    if short > 0:
        yield Finding(
            "warn",
            "short-return",
            f"the return stops {say(short)} short of the wall: {say(return_ + short)} reaches it",
        )
    room = pole.projection - pole.wall_clearance
    if pitch / 2 > room:
        yield Finding(
            "warn",
            "back-fold-hits-wall",
            f"stacked, a back fold can reach {say(pitch / 2)} behind the pole and "
            f"{say(room)} are free: {say(pitch / 2 - room)} short; more eyelets, or a bracket of "
            f"{say(pitch / 2 + pole.wall_clearance)}",
        )
