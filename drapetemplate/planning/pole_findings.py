"""What is wrong or to be known about how a window's panels stand: glass, brackets, floor.

Each rule takes the same arguments; to add one, see `findings`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import partial
from math import ceil, floor

from drapetemplate.errors import JobError
from drapetemplate.job.model import Window
from drapetemplate.measures import Length, Units, rounded_down, rounded_up
from drapetemplate.planning.advice import Advice
from drapetemplate.planning.codes import STOP_CODES
from drapetemplate.planning.findings import finding
from drapetemplate.planning.hanging import USUAL_FULLNESS
from drapetemplate.planning.model import Change, Finding, PanelPlan, Remedy, WindowPlan
from drapetemplate.planning.pole_stand import PoleStand
from drapetemplate.planning.set_out import set_out
from drapetemplate.wording import Wording, times

MOST_POLES = 8
"""Poles tried one after the other for one that clears the glass, where a longer one has the panels
cover more and so stack deeper."""

Rule = Callable[[Window, PanelPlan, PoleStand, Wording, Advice | None], Iterator[Finding]]


def pole_findings(
    window: Window, panel: PanelPlan, stand: PoleStand, units: Units, advice: Advice | None = None
) -> Iterator[Finding]:
    """Yield all that is to be said of how a window's panels stand, in the order of the rules."""
    say = Wording(units)
    rules: tuple[Rule, ...] = (panel_over_bracket, glass_bare, on_floor, stack_over_glass)
    for rule in rules:
        yield from rule(window, panel, stand, say, advice)


def panel_over_bracket(
    window: Window, panel: PanelPlan, stand: PoleStand, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """A panel whose eyelets would have to pass a bracket: a pair, or a panel for every span."""
    crossed, supports = stand.crossed(), stand.supports or 0
    if not crossed:
        return
    reaches = "each panel reaches" if stand.on_pole == 2 else "the panel reaches"
    where = _which(crossed, supports, stand, say)
    mend, remedies = _either_side(window, panel, stand, crossed, say, advice)
    yield finding(
        "panel-over-bracket",
        f"eyelets can't pass {where}, and closed {reaches} past it: {mend}",
        remedies=remedies,
    )


def _which(crossed: tuple[Length, ...], supports: int, stand: PoleStand, say: Wording) -> str:
    """Return which brackets a panel would have to pass, in words."""
    if stand.length is None:
        return "the bracket" if supports == 1 else f"any of the {supports} brackets"
    more = f" and {len(crossed) - 1} more" if len(crossed) > 1 else ""
    return f"the bracket {say(crossed[0])} from the pole's end{more}"


def _either_side(
    window: Window,
    panel: PanelPlan,
    stand: PoleStand,
    crossed: tuple[Length, ...],
    say: Wording,
    advice: Advice | None,
) -> tuple[str, list[Remedy]]:
    """Return panels that have no bracket to pass, in words, and as remedies where keys say it."""
    panels = (stand.supports or 0) + 1
    if panels == 2 and stand.on_pole == 2:
        remedy: Remedy = (Change("covers", rounded_down(crossed[0], say.units)),)
        given = window.covers is not None and not window.covers_assumed
        mends = given and advice is not None and advice.mends(remedy, "panel-over-bracket")
        return f"cover {say.at_most(crossed[0])} each, up to it", [remedy] if mends else []
    width = _width_of_each(window, panel, stand, panels, say.units)
    number = _count_of_each(window, width, say.units)
    of = f" of {number} eyelets each" if number else ""
    if panels > 2:
        return f"a panel between every two brackets, so {panels} panels{of}", []
    remedy = _as_pair(window, panel, width, say.units)
    planned = advice.planned(remedy) if advice is not None and remedy else None
    if advice is None or planned is None or not advice.clears(remedy, "panel-over-bracket"):
        return f"a pair{of}, which meets at it", []
    price = advice.price(remedy)
    words = f"a pair of {planned.panels[0].count} eyelets each, which meets at it{price}"
    return words, [] if price else [remedy]


def _width_of_each(
    window: Window, panel: PanelPlan, stand: PoleStand, panels: int, units: Units
) -> Length:
    """Return the width of each of so many panels as full as the window's: their cloth, shared."""
    span = stand.on_pole * (panel.centers[-1] - panel.centers[0]) / panels
    return rounded_up(span + window.leading + panel.return_ + panel.outside, units)


def _count_of_each(window: Window, width: Length, units: Units) -> int | None:
    """Return how many eyelets such a panel takes; None where it is too narrow for any."""
    by_width = replace(
        window, panels="pair", width=width, widths=None, covers=None, fullness=None, count=None
    )
    try:
        return set_out(by_width, units).count
    except JobError:
        return None


def _as_pair(window: Window, panel: PanelPlan, width: Length, units: Units) -> Remedy:
    """Return what makes one panel a pair of half its cloth each; nothing where no key says it."""
    changes = [Change("panels", "pair")]
    if window.width is not None:
        changes.append(Change("width", width))
    if window.widths is not None:
        half = window.widths / 2
        if half < 1 or (2 * half).denominator != 1:
            return ()
        changes.append(Change("widths", half))
    if window.covers is not None and not window.covers_assumed:
        changes.append(Change("covers", rounded_down(window.covers / 2, units)))
    if window.count is not None:
        changes.append(Change("count", max(2, 2 * ceil(panel.count / 4))))
    return tuple(changes)


def glass_bare(
    window: Window, panel: PanelPlan, stand: PoleStand, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """Closed panels that leave some of the glass bare: wider ones that close it, or less full."""
    bare = stand.bare
    if not bare:
        return
    pair = stand.on_pole == 2
    each = " each" if pair else ""
    covered = f"{'the panels cover' if pair else 'the panel covers'} {say(stand.reach)}"
    flat = "even pulled flat " if panel.covers is None else ""
    where = "between them" if pair else "past its end"
    closing: list[tuple[str, Remedy]] = []
    if advice is not None:
        for closer in (_wider, _less_full):
            found = _closing(partial(closer, window, panel, say.units), stand, advice)
            # What stops the template closes nothing.
            if found is not None and not set(advice.brings(found[0])) & set(STOP_CODES):
                remedy, planned = found
                words = _closed_by(remedy, planned, panel, each, say)
                closing.append((words + advice.price(remedy), remedy))
    mend = "; or ".join(words for words, _ in closing) or "wider panels"
    yield finding(
        "glass-bare",
        f"closed, {flat}{covered} of pole{each}, and {say.at_least(bare)} of the glass stays bare "
        f"{where}. What would close it: {mend}",
        remedies=[remedy for _, remedy in closing if advice and not advice.brings(remedy)],
    )


def _closing(
    closer: Callable[[PoleStand], Remedy], stand: PoleStand, advice: Advice
) -> tuple[Remedy, WindowPlan] | None:
    """Return the first remedy that leaves no glass bare, and the plan with it; None if none does.

    `closer` gives what closes on a pole like that. One that is worked out may be longer with it,
    and ask for more again.
    """
    for _ in range(MOST_POLES):
        remedy = closer(stand)
        planned = advice.planned(remedy) if remedy else None
        if planned is None:
            return None
        if not planned.stand.bare:
            return remedy, planned
        stand = planned.stand
    return None


def _wider(window: Window, panel: PanelPlan, units: Units, stand: PoleStand) -> Remedy:
    """Return wider panels, as full as they are, that cover their share of a pole."""
    face = window.fabric
    fullness = panel.fullness or Fraction(USUAL_FULLNESS)
    covers = _to_cover(window, stand, units)
    reach = covers[0].value if covers else (stand.room or Length(0))
    width = fullness * Fraction(reach) + panel.leading + panel.return_ + panel.outside
    if window.width is not None:
        return (Change("width", rounded_up(width, units)), *covers)
    if window.widths is not None and face is not None and face.width is not None:
        widths = (width + 2 * face.side_hem - 2 * face.seam) / (face.width - 2 * face.seam)
        return (Change("widths", Fraction(ceil(2 * widths), 2)), *covers)
    return covers


def _less_full(window: Window, panel: PanelPlan, units: Units, stand: PoleStand) -> Remedy:
    """Return the same panels pulled flatter; none where their width isn't given, or they can't."""
    room, span = stand.room, panel.centers[-1] - panel.centers[0]
    if (window.width is None and window.widths is None) or not room or span < room:
        return ()
    covers = _to_cover(window, stand, units)
    return covers or (Change("fullness", Fraction(floor(100 * span / room), 100)),)


def _to_cover(window: Window, stand: PoleStand, units: Units) -> Remedy:
    """Return their share of a pole as what panels cover; nothing where another key says that."""
    if window.covers is None or stand.length is None:
        return ()
    return (Change("covers", rounded_down(stand.length / stand.on_pole, units)),)


def _closed_by(
    remedy: Remedy, planned: WindowPlan, before: PanelPlan, each: str, say: Wording
) -> str:
    """Return in words what a remedy makes of the panels."""
    panel, keys = planned.panels[0], dict(remedy)
    made = [f"panels {say(panel.width)} wide"]
    if "widths" in keys:
        made = [f"panels of {float(keys['widths']):g} widths"]
    elif panel.width == before.width:
        made = ["the same panels"]
    if "covers" in keys:
        made.append(f"to cover {say(Fraction(keys['covers']))}{each}")
    if panel.fullness is not None:
        made.append(f"at {times(panel.fullness)}")
    return ", ".join(made)


def on_floor(
    window: Window, _panel: PanelPlan, stand: PoleStand, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """A given length that reaches the floor where no break on it is asked for, or a smaller one."""
    bottom, off_floor = stand.bottom, window.pole.off_floor
    wanted = min(off_floor, Length(0))
    if bottom is None or window.length is None or window.pole.top is None or bottom >= wanted:
        return
    right = window.length + bottom - off_floor
    ends = f"{say(off_floor)} off the floor" if off_floor >= 0 else f"{say(-off_floor)} on it"
    more = f", {say.at_least(wanted - bottom)} more than asked for" if wanted else ""
    mend, remedies = "a shorter one, or a higher pole", []
    if right > window.band.height:
        mend = f"{say.at_most(right)} ends {ends}"
        remedy = (Change("length", rounded_down(right, say.units)),)
        if advice is not None and advice.clears(remedy, "on-floor"):
            mend += advice.price(remedy)
            remedies = [remedy] if advice.mends(remedy, "on-floor") else []
    yield finding(
        "on-floor",
        f"from a pole {say(window.pole.top)} above the floor a length of {say(window.length)} lies "
        f"{say.at_least(-bottom)} on the floor{more}: {mend}",
        remedies=remedies,
    )


def stack_over_glass(
    window: Window, panel: PanelPlan, stand: PoleStand, say: Wording, advice: Advice | None
) -> Iterator[Finding]:
    """Panels that cover some of the glass when drawn open: the pole on which they wouldn't."""
    over, clearing = stand.over_glass, stand.clearing
    if not over or clearing is None or window.pole.length is None:
        return
    pair = stand.on_pole == 2
    side = "at either side" if pair else "at its side"
    stacks = "2 stacks" if pair else "the stack"
    pole, stack, panels = rounded_up(clearing, say.units), stand.stack, ""
    price, remedies = "", []
    if advice is not None:
        for _ in range(MOST_POLES):
            remedy = (Change("pole.length", pole), *_closing_on(window, stand, pole, say.units))
            planned = advice.planned(remedy)
            needed = None if planned is None else planned.stand.clearing
            if planned is None or needed is None:
                break
            if needed <= pole:
                stack, price = planned.stand.stack, advice.price(remedy)
                if stack != stand.stack or len(remedy) > 1:
                    same = planned.panels[0].fullness == panel.fullness
                    panels = f", with panels{' as full' if same else ''} that cover it"
                remedies = [] if price else [remedy]
                break
            pole = rounded_up(needed, say.units)
    yield finding(
        "stack-over-glass",
        f"drawn open, {say(stand.stack)} of stack covers {say.at_least(over)} of the glass {side}: "
        f"a pole of {say(pole)} clears it, {say(stand.glass or Fraction(0))} of glass and {stacks} "
        f"of {say(stack)}{panels}{price}",
        remedies=remedies,
    )


def _closing_on(window: Window, stand: PoleStand, pole: Length, units: Units) -> Remedy:
    """Return what panels that close on their pole are to cover of a longer one, to close there too.

    Nothing where that follows from the pole, or where they don't close now.
    """
    if window.covers is None or window.covers_assumed or stand.bare:
        return ()
    return (Change("covers", rounded_down(pole / stand.on_pole, units)),)
