"""What is wrong, doubtful or assumed in a panel, each with what would mend it.

A finding's level: `stop` keeps the template from being made, `warn` may spoil the work,
`note` is for the record. Codes are public and stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil

from drapetemplate.job.model import Assumption, Window
from drapetemplate.measures import Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.planning import folds
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.eyelets import LEAST_GAP, EyeletLine
from drapetemplate.planning.hanging import OPERABLE_TURN, Hang, first_clear
from drapetemplate.planning.model import Finding, Level
from drapetemplate.planning.seams import CLEARANCE, Seams


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


def panel_findings(window: Window, line: EyeletLine, count: int, units: Units) -> Iterator[Finding]:
    """Findings of one panel's layout: its window, its line of so many eyelets in."""
    ring, pole = window.eyelet, window.pole

    def say(length: Length) -> str:
        return format_length(length, units)

    gap = line.gap(count)
    if gap < LEAST_GAP:
        most = line.most_that_fit
        mend = f"{most} eyelets leave at least that" if most else "use a wider panel"
        yield Finding(
            "warn",
            "narrow-gap",
            f"{_down(gap, units)} between eyelets is under {say(LEAST_GAP)}, too tight "
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
            {"return": line.return_}
            if window.panels == "single"
            else ({"leading": line.leading, "return": line.return_})
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
        short = pole.projection - ring.outside / 2 - line.return_
        if short > 0:
            text = (
                f"the return stops {say(short)} short of the wall: "
                f"give {_up(line.return_ + short, units)}"
            )
            yield Finding("warn", "short-return", text)


def hanging_findings(
    window: Window,
    hang: Hang,
    line: EyeletLine,
    count: int,
    *,
    covers: Length | None,
    stack: Length,
    units: Units,
) -> Iterator[Finding]:
    """Findings of a panel of so many eyelets on its pole."""
    yield from _turning(window, hang, covers, units)
    if hang.wall_room is not None:
        yield from _wall(window, hang, hang.wall_room, line, count, units)
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
    line: EyeletLine,
    count: int,
    units: Units,
) -> Iterator[Finding]:
    """Whether a back fold reaches the wall: closed it is a stop, only stacked a warning."""
    larger = range(count - count % 2 + 2, line.most_that_fit + 1, 2)
    level: Level
    if hang.depth_closed > room:
        level, state, depth, verb = "stop", "closed", hang.depth_closed, "reach"
        clear = first_clear(line, larger, room, hang.fullness)
    elif hang.depth_stacked > room:
        level, state, depth, verb = "warn", "stacked", hang.depth_stacked, "can reach"
        clear = first_clear(line, larger, room, None)
    else:
        return
    mend = f"{clear} eyelets would clear, or" if clear else "no larger count clears; it takes"
    yield Finding(
        level,
        "back-fold-hits-wall",
        f"{state}, back folds {verb} {_up(depth, units)} behind the pole's centre, "
        f"{_up(depth - room, units)} more than is free: {mend} a bracket of "
        f"{_up(depth + window.pole.wall_clearance, units)}, wall to pole centre",
    )


SEAM_CODES = frozenset({"seam-in-front", "seam-under-eyelet"})

Others = Mapping[int, Sequence[ClothUse]]


def cloth_findings(
    window: Window,
    taken: Sequence[ClothUse],
    count: int,
    *,
    better: Callable[[], Others] | None,
    units: Units,
) -> Iterator[Finding]:
    """Findings of a window's seams; `better`, where advice is wanted, what other counts take."""
    others: Others | None = None
    for n, one in enumerate(taken):
        seams = one.seams
        if seams is None or (not seams.visible and seams.drops == seams.least_drops):
            continue
        if others is None and better is not None:
            others = better()
        beside = None
        if others is not None:
            beside = {c: o[n] for c, o in others.items() if not _worse(taken, o, but=n)}
        yield from _Said(window, one, seams, count, beside, units).findings()


def _worse(taken: Sequence[ClothUse], other: Sequence[ClothUse], *, but: int) -> bool:
    """True where another count brings trouble to a cloth, `but` for the one looked at."""
    return any(
        new.failing and not old.failing
        for n, (old, new) in enumerate(zip(taken, other, strict=True))
        if n != but
    )


class _Said:
    """One cloth's findings in words; `beside` is it at other counts, None without advice."""

    def __init__(
        self,
        window: Window,
        one: ClothUse,
        seams: Seams,
        count: int,
        beside: Mapping[int, ClothUse] | None,
        units: Units,
    ) -> None:
        self.one, self.seams, self.count, self.units = one, seams, count, units
        self.edge = "left" if window.panels == "single" else "leading"
        self.lining = one.part == "lining"
        self.any_gap = self.lining or window.eyelet.hung == "hooks"
        self.advised = beside is not None
        self.hiding = {
            n: other.seams
            for n, other in (beside or {}).items()
            if other.seams is not None and not other.failing
        }

    def findings(self) -> Iterator[Finding]:
        seams = self.seams
        # A lining's seams don't show: only those that meet an eyelet or a hem are told.
        shown = [p for p in seams.visible if p not in seams.struck and not self.lining]
        for places, code, verb, where in (
            (shown, "seam-in-front", "fall", "in sight, in a front gap or outside the eyelets"),
            (seams.struck, "seam-under-eyelet", "meet", "an eyelet or a side hem: extra layers"),
        ):
            if places:
                does = verb + ("s" if len(places) == 1 else "")
                text = f"{self._places(places)} {does} {where}; {self._mend()}"
                yield Finding("warn", code, text)
        if seams.drops > seams.least_drops:
            yield Finding("note", "extra-width", self._extra())

    def _places(self, places: Sequence[int]) -> str:
        """The seams meant, by where they are."""
        seams = [format_length(self.seams.seams[place], self.units) for place in places[:6]]
        more = f" and {len(places) - 6} more" if len(places) > 6 else ""
        whose = "lining seam" if self.lining else "seam"
        many = f"the {whose}" if len(places) == 1 else f"{len(places)} {whose}s,"
        return f"{many} at {', '.join(seams)}{more} from the {self.edge} edge"

    def _mend(self) -> str:
        """What would hide every seam: the counts beside that do, or else."""
        if not self.advised:
            return "look at the counts beside this one"
        if self.hiding:
            told = [
                f"{n} (in {self.hiding[n].drops} drops)"
                if self.hiding[n].drops != self.seams.drops
                else f"{n}"
                for n in _nearest(self.hiding, self.count)
            ]
            return f"{' or '.join(told)} eyelets a panel hide every seam"
        need = rounded_up(2 * (self.one.cloth.seam + CLEARANCE), self.units)
        return (
            "no count beside this one hides every seam: try another width of cloth or of panel; a "
            f"seam hides in a {'gap' if self.any_gap else 'back gap'} of "
            f"{format_length(need, self.units)} or more"
        )

    def _extra(self) -> str:
        """What hiding the seams costs, and which count would save it."""
        seams, cut = self.seams, self.one.cut
        more = seams.drops - seams.least_drops
        held = "keep every seam hidden"
        if self.lining:
            held = "keep the lining's seams clear of the eyelets"
            if self.one.failing:
                held += " as far as can be"
        elif seams.visible:
            held = "show as few seams as can be"
        cost = ""
        if cut is not None:
            cost = f", {format_length(rounded_up(more * cut, self.units), self.units)} of cloth"
        text = (
            f"{seams.drops} drops {held}; the bare minimum, with seams where they fall, is "
            f"{seams.least_drops} ({more} fewer{cost})"
        )
        saving = [n for n, found in self.hiding.items() if found.drops == seams.least_drops]
        if saving:
            told = " or ".join(map(str, _nearest(saving, self.count)))
            text += f". {told} eyelets a panel hide all with that many"
        elif self.advised:
            text += (
                ". No count beside this one hides all with that many: buy them, or try another "
                "width of cloth or of panel"
            )
        return text


def _nearest(counts: Iterable[int], count: int) -> list[int]:
    """Of these counts the nearest below and the nearest above."""
    below = [n for n in counts if n < count]
    above = [n for n in counts if n > count]
    return [*([max(below)] if below else []), *([min(above)] if above else [])]
