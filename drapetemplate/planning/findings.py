"""What is wrong, doubtful or assumed in a panel, each with what would mend it.

A finding's level: `stop` keeps the template from being made, `warn` may spoil the work,
`note` is for the record. Codes are public and stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil

from drapetemplate.job.model import Assumption, Window
from drapetemplate.measures import Length, Units, rounded_down
from drapetemplate.planning import eyelets, folds
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.hanging import OPERABLE_TURN, Hang, first_clear
from drapetemplate.planning.model import Finding, Level
from drapetemplate.planning.seams import CLEARANCE, SeamPlan
from drapetemplate.wording import Wording, degrees, times


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
    say = Wording(units)
    if gap < eyelets.LEAST_GAP:
        mend = f"{best} eyelets leave at least that" if best else "use a wider panel"
        yield Finding(
            "warn",
            "narrow-gap",
            f"{say.at_most(gap)} between eyelets is under {say(eyelets.LEAST_GAP)}, too tight "
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
                    f"layers in the press; give the {end} {say.at_least(hem)} or more, or a "
                    f"narrower hem",
                )
    if ring.hung == "pole" and pole.projection is not None:
        short = pole.projection - ring.outside / 2 - return_
        if short > 0:
            text = (
                f"the return stops {say(short)} short of the wall: "
                f"give {say.at_least(return_ + short)}"
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
    say = Wording(units)
    usable = window.pole.length
    if usable is not None:
        panels = 2 if window.panels == "pair" else 1
        for state, each in (("stacked", stack), ("closed", covers)):
            if each is not None and panels * each > usable:
                yield Finding(
                    "warn",
                    "short-pole",
                    f"{state}, the panels take {say.at_least(panels * each)} of pole, "
                    f"{say.at_least(panels * each - usable)} more than is usable: a longer pole, "
                    f"or {'fewer eyelets' if state == 'stacked' else 'less to cover'}",
                )


def _turning(window: Window, hang: Hang, covers: Length | None, units: Units) -> Iterator[Finding]:
    """Whether the rings turn as far as drawing the panel and closing it ask."""
    say = Wording(units)
    ring, turn, least = window.eyelet, hang.turn_limit, hang.least_fullness
    if turn is None or least is None:
        return
    if turn < OPERABLE_TURN:
        mend = "a thinner ring"
        if ring.thickness < ring.opening:
            thickest = folds.pole_for_turn(float(ring.opening), float(ring.thickness))
            if rounded_down(Fraction(thickest), units):
                mend = f"a pole of {say.at_most(Fraction(thickest))} or thinner, or a larger ring"
        yield Finding(
            "warn",
            "tight-turn",
            f"the rings turn {degrees(turn)} on this pole, and a panel that is to be drawn should "
            f"reach 45°: {mend}",
        )
    if covers is not None and not hang.assumed and least > hang.fullness * (1 + 1e-9):
        reach = covers * Fraction(hang.fullness / least)
        yield Finding(
            "stop",
            "wont-close",
            f"the rings turn {degrees(turn)}, so the panel can't be pulled flatter than "
            f"{times(least)} and covers {say.at_most(reach)} of {say.at_least(covers)}: a thinner "
            f"pole, a larger ring, or {times(ceil(least * 100) / 100)} the pole or more with the "
            "same number of eyelets",
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
    say = Wording(units)
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
        f"{state}, back folds {verb} {say.at_least(depth)} behind the pole's centre, "
        f"{say.at_least(depth - room)} more than is free: {mend} a bracket of "
        f"{say.at_least(depth + window.pole.wall_clearance)}, wall to pole centre",
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
        seams: SeamPlan,
        count: int,
        beside: Mapping[int, ClothUse] | None,
        units: Units,
    ) -> None:
        self.one, self.seams, self.count, self.say = one, seams, count, Wording(units)
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
        seams = [self.say(self.seams.seams[place]) for place in places[:6]]
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
        return (
            "no count beside this one hides every seam: try another width of cloth or of panel; a "
            f"seam hides in a {'gap' if self.any_gap else 'back gap'} of "
            f"{self.say.at_least(2 * (self.one.cloth.seam + CLEARANCE))} or more"
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
            cost = f", {self.say.at_least(more * cut)} of cloth"
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
