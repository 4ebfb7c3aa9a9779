"""What is wrong, doubtful or assumed in a panel, each finding with what would mend it.

To add one: a line in `codes.py`, its short name in `finding_words.py`, a function beside those
below that yields it, and its place in `RULES`, in the order in which findings are told; one of
seams goes in `seam_findings.py`, one of brackets, glass and floor in `pole_findings.py`, of a
pattern on the folds in `pattern_findings.py`. Its text says what to change and by how much, and
names no code. Then a job that has it in `EXAMPLES` of its test, and its row in
sample_jobs/findings.md: tests ask for all. Codes are public and stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import cast

from drapetemplate.errors import JobError
from drapetemplate.job.defaults import HOLE
from drapetemplate.job.model import Assumption, Window
from drapetemplate.measures import Length, Units, rounded_down, rounded_up
from drapetemplate.planning import rings
from drapetemplate.planning.advice import Advice, count_of
from drapetemplate.planning.codes import CODES, Level
from drapetemplate.planning.hanging import OPERABLE_TURN, Hang, first_clear
from drapetemplate.planning.model import Change, Finding, PanelPlan, Remedy
from drapetemplate.planning.set_out import (
    NEEDNT_CLOSE,
    UNKNOWN_ANGLE,
    covers_from,
    reaching_return,
    return_to_wall,
)
from drapetemplate.wording import Wording, all_of, degrees, times

MOST_COUNTS = 3
"""Counts in a row that are tried for one that mends a finding and brings no other."""


def finding(
    code: str, text: str, level: Level | None = None, remedies: Iterable[Remedy] = ()
) -> Finding:
    """Return a finding of the table's code that says this, and the remedies that it names.

    `level` is needed only where the code has more than one.

    >>> finding("narrow-gap", "1/2 in between eyelets is too tight").level
    'warn'
    """
    levels = CODES[code]
    if level is None:
        (level,) = levels
    elif level not in levels:
        raise ValueError(f"{code} is no {level}")
    return Finding(level, code, text, tuple(remedies))


def panel_findings(
    window: Window, panel: PanelPlan, units: Units, advice: Advice | None = None
) -> Iterator[Finding]:
    """Yield all that is wrong with a panel of the window but its seams, in the order of `RULES`.

    `advice` tries what would mend it; without it no count or measure is named that must be tried.
    """
    say = Wording(units)
    for rule in RULES:
        yield from rule(window, panel, say, advice)


def assumed(assumption: Assumption) -> Finding:
    """Return the note that says a default was taken."""
    return finding("assumed", f"{assumption.key} = {assumption.value}")


def _value(remedy: Remedy) -> int:
    """Return the count of a remedy that changes nothing else."""
    ((_, value),) = remedy
    return int(value)


def odd_count(
    _window: Window, panel: PanelPlan, _say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """An odd count on a pole: of the even counts beside it those that bring nothing else."""
    count = panel.count
    if panel.hang is None or count % 2 == 0:
        return
    mending: list[Remedy] = []
    named = ""
    if advice is not None:
        beside = [count_of(n) for n in (count - 1, count + 1) if n > 1]
        mending = [remedy for remedy in beside if advice.mends(remedy, "odd-count")]
        planned = mending or [remedy for remedy in beside if advice.planned(remedy)]
        named = " or ".join(f"{_value(remedy)}{advice.price(remedy)}" for remedy in planned)
    yield finding(
        "odd-count",
        f"{count} eyelets would turn one end of the panel to the wall and the other to the "
        f"room: use an even count{named and ', '}{named}",
        remedies=mending,
    )


def narrow_gap(
    _window: Window, panel: PanelPlan, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """Eyelets too near for the cloth to fold: how many leave room enough."""
    if panel.gap >= panel.least_gap:
        return
    most = panel.line.most_that_fit
    mend, remedy = "use a wider panel", None
    if most:
        mend = "use fewer eyelets, or a wider panel"
    if most and advice is not None:
        fewer = [count_of(n) for n in range(most, 1, -2)[:MOST_COUNTS]]
        remedy = advice.first(fewer, "narrow-gap")
        named = remedy or fewer[0]
        if advice.clears(named, "narrow-gap"):
            mend = f"{_value(named)} eyelets leave at least that{advice.price(named)}"
    yield finding(
        "narrow-gap",
        f"{say.at_most(panel.gap)} between eyelets is under "
        f"{say(panel.least_gap)}, too tight to fold well: {mend}",
        remedies=[remedy] if remedy else [],
    )


def die_not_measured(
    window: Window, panel: PanelPlan, say: Wording, _advice: Advice | None
) -> Iterator[Finding]:
    """No hole given: the ring's opening, taken for it, is less than what the ring goes through.

    A warning, where other defaults are only listed: each of those is how a workroom may well have
    it, and this one is too small for any ring, so that holes cut by it are torn or cut again.
    """
    if any(assumption.key == HOLE.key for assumption in window.assumed):
        yield finding(
            "die-not-measured",
            f"no hole is given, so the opening of {say(panel.opening)} is taken for it, and a "
            "ring's barrel is wider than its opening: measure the die, or the barrel, and give "
            "it as hole before anything is cut",
        )


def small_hole(
    _window: Window, panel: PanelPlan, say: Wording, _advice: Advice | None
) -> Iterator[Finding]:
    """A die smaller than the ring's opening."""
    if panel.hole < panel.opening:
        yield finding(
            "small-hole",
            f"a hole of {say(panel.hole)} is smaller than the ring's opening of "
            f"{say(panel.opening)}: check the die against the eyelet",
        )


def eyelet_over_hem(
    window: Window, panel: PanelPlan, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """A finished side hem that reaches under an end eyelet: the cloth that end would need."""
    if window.fabric is None:
        return
    hem = window.fabric.side_hem / 2
    ends = {"return": panel.return_}
    if panel.side != "single":
        ends = {"leading": panel.leading, **ends}
    for end, cloth in ends.items():
        if hem > cloth:
            remedy = (Change(end, rounded_up(hem, say.units)),)
            mends = advice is not None and advice.mends(remedy, "eyelet-over-hem")
            mend = "a narrower hem"
            if mends:
                mend = f"give the {end} {say.at_least(hem)}, or a narrower hem"
            elif advice is not None and advice.clears(remedy, "eyelet-over-hem"):
                mend += f", or {say.at_least(hem)} at the {end}{advice.price(remedy)}"
            yield finding(
                "eyelet-over-hem",
                f"the side hem, {say(hem)} finished if folded double, reaches "
                f"under the flange of the eyelet at the {end} edge "
                f"({say(cloth)} of cloth): extra layers in the press; {mend}",
                "warn",
                [remedy] if mends else [],
            )


def eyelet_over_lining_hem(
    window: Window, panel: PanelPlan, say: Wording, _advice: Advice | None
) -> Iterator[Finding]:
    """A loose lining's finished side hem under an end eyelet: where it lies, so that it is tested.

    A lining is thin, and its usual hem lies just there: so it is a note, and no measure is advised.
    """
    lining = window.lining
    if lining is None or lining.joined == "bagged" or not lining.side_hem:
        return
    begins, ends = lining.set_in, lining.set_in + lining.side_hem / 2
    edges = {"return": panel.return_}
    if panel.side != "single":
        edges = {"leading": panel.leading, **edges}
    over = [
        f"at the {edge} edge ({say(cloth)} of cloth)"
        for edge, cloth in edges.items()
        if begins < cloth + panel.outside and ends > cloth
    ]
    if over:
        found = finding(
            "eyelet-over-hem",
            f"the lining's side hem, folded double, lies {say(begins)} to {say(ends)} from the "
            f"face's side edges, under the eyelet {all_of(over)}: two more layers under one side "
            "of it in the press; set the test eyelet over such a hem",
            "note",
        )
        yield replace(found, part="lining")


def short_return(
    window: Window, panel: PanelPlan, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """A return that doesn't reach the wall, at the ring's angle in the closed panel: one that does.

    A longer return leaves less cloth to fold, so what is advised has been tried.
    """
    hang = panel.hang
    if hang is None or window.pole.projection is None:
        return
    angle = UNKNOWN_ANGLE if hang.assumed else hang.closed.angle_deg
    short = return_to_wall(window, angle) - panel.return_
    if short <= 0:
        return
    mend, remedies = "a longer one", []
    if advice is not None:
        try:
            longer = reaching_return(window, panel.return_, say.units).line.return_
        except JobError:
            mend = "this panel has no cloth for a longer one, so it takes a wider panel"
        else:
            remedy = (Change("return", longer),)
            mend = f"give {say(longer)}{advice.price(remedy)}"
            remedies = [remedy] if advice.mends(remedy, "short-return") else []
    yield finding(
        "short-return",
        f"the return stops {say.at_least(short)} short of the wall: {mend}",
        remedies=remedies,
    )


def tight_turn(
    window: Window, panel: PanelPlan, say: Wording, _advice: Advice | None
) -> Iterator[Finding]:
    """Rings that lift too soon for a panel that is drawn: the pole on which they wouldn't.

    It needn't be tried: a thinner pole lets rings turn further, and changes nothing else.
    """
    turn = None if panel.hang is None else panel.hang.free_turn
    # A float's last digits must not speak against a pole that is just thin enough.
    if turn is None or turn >= OPERABLE_TURN - 1e-9:
        return
    ring = window.eyelet
    mend, remedies = "a thinner ring", []
    if ring.thickness < ring.opening:
        pole = rings.pole_for_free_turn(float(ring.opening), float(ring.thickness))
        thickest = Fraction(pole * (1 + 1e-12))
        if rounded_down(thickest, say.units):
            mend = f"a pole of {say.at_most(thickest)} or thinner, or a larger ring"
            remedies = [(Change("pole.diameter", rounded_down(thickest, say.units)),)]
    yield finding(
        "tight-turn",
        f"the panel will bind on this pole when it is opened and closed: its rings turn "
        f"{degrees(turn)} before they lift off the pole's top, and it needs "
        f"{degrees(OPERABLE_TURN)}. What would do: {mend}",
        remedies=remedies,
    )


def wont_close(
    window: Window, panel: PanelPlan, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """Rings that turn too little for the panel to cover its pole: the fullness that they allow."""
    hang, covers = panel.hang, panel.covers
    if hang is None or hang.assumed or covers is None:
        return
    turn, least = hang.turn_limit, hang.least_fullness
    if turn is None or least is None:
        return
    # A float's last digits must not stop a panel that hangs just as flat as its rings allow.
    if least > hang.fullness * (1 + 1e-9):
        reach = covers * Fraction(hang.fullness / least)
        share = needn_t = ""
        if window.covers_assumed:
            share, needn_t = f", {covers_from(window)}", f", or {NEEDNT_CLOSE}"
        fuller, remedies = _fuller(panel, least, advice)
        yield finding(
            "wont-close",
            f"the rings jam at {degrees(turn)}, so the panel can't be pulled flatter than "
            f"{times(least)} and covers {say.at_most(reach)} of {say.at_least(covers)}"
            f"{share}: a thinner pole, a larger ring{fuller}{needn_t}",
            remedies=remedies,
        )


def _fuller(panel: PanelPlan, least: float, advice: Advice | None) -> tuple[str, list[Remedy]]:
    """Return the fullness at which a panel closes, in words, and as a remedy where it brings none.

    A wider panel of as many eyelets has a wider pitch, which asks for more again.
    """
    first = Fraction(ceil(least * 100), 100)
    fullest = [
        (Change("fullness", first + Fraction(more, 100)), Change("count", panel.count))
        for more in (0, 1, 2, 5, 10)
    ]
    if advice is None:
        return ", or more fullness", []
    mending = advice.first(fullest, "wont-close")
    priced = next((each for each in fullest if advice.clears(each, "wont-close")), None)
    remedy = mending or priced
    if remedy is None:
        return ", or more fullness", []
    fullness = times(float(remedy[0].value))
    words = f", or {fullness} the pole with the same number of eyelets{advice.price(remedy)}"
    return words, [mending] if mending else []


def back_fold_hits_wall(
    _window: Window, panel: PanelPlan, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """A back fold that reaches the wall: the count or the bracket with which none would.

    Closed it is a stop, only stacked a warning. What clears it stacked clears it closed, since a
    fold is never deeper than stacked. So the text of a stop speaks of both.
    """
    hang = panel.hang
    if hang is None or hang.wall_room is None:
        return
    room = hang.wall_room
    if hang.depth_stacked <= room:
        return

    def reach(depth: Length) -> str:
        return f"{say.deep(depth)} behind the pole's centre, {say.at_least(depth - room)}"

    level: Level = "stop" if hang.depth_closed > room else "warn"
    allows = f"more than a clearance of {say(hang.clearance)} allows"
    stacked = f"stacked, back folds can reach {reach(hang.depth_stacked)}"
    told, as_deep = f"{stacked} {allows}, though closed they clear", ""
    if level == "stop":
        told = f"closed, back folds reach {reach(hang.depth_closed)} {allows}; {stacked} more"
        as_deep = ", as the stacked folds need"
    mend, remedies = "more eyelets, or a bracket that stands out further", []
    if advice is not None:
        by_count, count = _clearing_count(panel, hang, advice)
        bracket = rounded_up(hang.depth_stacked + hang.clearance, say.units)
        by_bracket = (Change("pole.projection", bracket),)
        remedies = [each for each in (count, by_bracket) if each and advice.mends(each, _WALL)]
        mend = f"{by_count} a bracket that stands out further"
        if advice.clears(by_bracket, _WALL):
            price = advice.price(by_bracket)
            mend = f"{by_count} a bracket of {say(bracket)}, wall to pole centre{as_deep}{price}"
    yield finding(_WALL, f"{told}: {mend}", level, remedies)


_WALL = "back-fold-hits-wall"


def _clearing_count(panel: PanelPlan, hang: Hang, advice: Advice) -> tuple[str, Remedy | None]:
    """Return what a larger count would clear, in words up to the bracket, and that count.

    The first that mends all; failing that the first that clears, with what it brings; failing that
    the first that clears the closed panel alone.
    """
    line, room = panel.line, cast("Length", hang.wall_room)
    larger = range(panel.count - panel.count % 2 + 2, line.most_that_fit + 1, 2)
    first = first_clear(line, larger, room, None)
    if first is not None:
        clearing = [count_of(n) for n in range(first, larger.stop, 2)[:MOST_COUNTS]]
        remedy = advice.first(clearing, _WALL)
        if remedy is None:
            remedy = next((each for each in clearing if advice.clears(each, _WALL)), None)
        if remedy is not None:
            both = " both" if hang.depth_closed > room else ""
            return f"{_value(remedy)} eyelets would clear{both}{advice.price(remedy)}, or", remedy
    closed = None
    if hang.depth_closed > room:
        closed = first_clear(line, larger, room, hang.fullness)
    if closed is not None and advice.planned(count_of(closed)) is not None:
        price = advice.price(count_of(closed))
        text = f"{closed} eyelets would clear closed{price}; stacked the folds would still reach"
        return f"{text}. To clear both takes", None
    return "no larger count clears; it takes", None


def short_pole(
    window: Window, panel: PanelPlan, say: Wording, _advice: Advice | None
) -> Iterator[Finding]:
    """A pole too short for the panels, stacked or closed: how much more they take.

    Hooks take their room on a pole or a rail as rings do.
    """
    usable = window.pole.length
    if usable is None:
        return
    panels = 2 if window.panels == "pair" else 1
    for state, each, mend in (
        ("stacked", panel.stack, "fewer eyelets"),
        ("closed", panel.covers, "less to cover"),
    ):
        if each is not None and panels * each > usable:
            yield finding(
                "short-pole",
                f"{state}, the panels take {say.at_least(panels * each)} of pole, "
                f"{say.at_least(panels * each - usable)} more than is usable: a longer pole, or "
                f"{mend}",
            )


RULES: tuple[Callable[[Window, PanelPlan, Wording, Advice | None], Iterator[Finding]], ...] = (
    odd_count,
    narrow_gap,
    die_not_measured,
    small_hole,
    eyelet_over_hem,
    eyelet_over_lining_hem,
    short_return,
    tight_turn,
    wont_close,
    back_fold_hits_wall,
    short_pole,
)
"""Every rule of a panel, in the order in which findings are told. All take the same arguments."""
