"""What a pattern that is wanted on the folds did to a window, or why none fits it.

Each rule takes the same arguments; to add one, see `findings`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drapetemplate.job.model import Window
from drapetemplate.measures import Units, rounded_up
from drapetemplate.planning.advice import Advice, count_of
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.findings import finding
from drapetemplate.planning.model import Change, Finding, PanelPlan, Remedy
from drapetemplate.planning.pattern_folds import FoldPattern, half_repeats, least_half_repeats
from drapetemplate.planning.seams import MotifOff
from drapetemplate.wording import Wording, counted, times

AS_SEAMS: Remedy = (Change("pattern", "seams"),)
"""The pattern matched at the seams alone."""


def pattern_findings(
    window: Window,
    pattern: FoldPattern | None,
    panel: PanelPlan,
    uses: Sequence[ClothUse],
    units: Units,
    advice: Advice | None = None,
) -> Iterator[Finding]:
    """Yield what is to be said of a window whose pattern is wanted on its folds."""
    if pattern is None:
        return
    say = Wording(units)
    if pattern.half_repeats is None:
        yield _free(window, pattern, panel, say, advice)
        return
    if panel.width != pattern.asked_width:
        yield _moved(pattern, pattern.half_repeats, panel, uses, say, advice)
    off = next((use.seams.motif_off for use in uses if use.part == "face" and use.seams), None)
    if off is not None and any(off):
        yield _off_centre(window, off, say)


def _moved(
    pattern: FoldPattern,
    halves: int,
    panel: PanelPlan,
    uses: Sequence[ClothUse],
    say: Wording,
    advice: Advice | None,
) -> Finding:
    """The width that the folds' pattern asks for, beside the one that the job does."""
    off = panel.width - pattern.asked_width
    more = f"{say(abs(off))} {'more' if off > 0 else 'less'} than the {say(pattern.asked_width)}"
    text = (
        f"every front fold shows the same place of the pattern with eyelets {say(panel.pitch)} "
        f"apart, {half_repeats(halves)}: so a panel is {say(panel.width)} wide, {more} asked for"
    )
    if panel.fullness is not None and pattern.asked_fullness is not None:
        text += f", fullness {times(panel.fullness)} in place of {times(pattern.asked_fullness)}"
    plain = None if advice is None else advice.planned(AS_SEAMS)
    if plain is not None:
        text += _in_drops(uses, plain.cloth)
    remedies = [AS_SEAMS] if advice is not None and advice.mends(AS_SEAMS, "pattern-width") else []
    kept = '. Matched at the seams alone (pattern = "seams") it keeps the width' if remedies else ""
    return finding("pattern-width", f"{text}{kept}", remedies=remedies)


def _in_drops(uses: Sequence[ClothUse], plain: Sequence[ClothUse]) -> str:
    """What that does to the drops, of each cloth whose drops are known."""
    words = []
    for use, other in zip(uses, plain, strict=True):
        if use.seams is not None and other.seams is not None:
            drops, before = use.seams.drops, other.seams.drops
            noun = "lining drop" if use.part == "lining" else "drop"
            instead = "as many as without" if drops == before else f"in place of {before}"
            words.append(f"{counted(drops, noun)}, {instead}")
    return f"; {', '.join(words)}" if words else ""


def _free(
    window: Window, pattern: FoldPattern, panel: PanelPlan, say: Wording, advice: Advice | None
) -> Finding:
    """A pattern that no count and width put on the folds: why, and what would."""
    pitch = least_half_repeats(panel.line, pattern.repeat) * pattern.repeat / 2
    pole = window.pole
    room = None if pole.projection is None else pole.projection - pole.wall_clearance
    remedies: list[Remedy] = []
    if room is not None and pitch > 2 * room:
        why = (
            f"the eyelets would stand {say(pitch)} apart at the least, and stacked their folds "
            f"reach {say(pitch / 2)} behind the pole's centre, {say.at_least(pitch / 2 - room)} "
            f"more than a clearance of {say(pole.wall_clearance)} allows"
        )
        bracket = rounded_up(pitch / 2 + pole.wall_clearance, say.units)
        found, remedies = _first([(Change("pole.projection", bracket),)], advice)
        mend = "another cloth"
        if found is not None:
            mend = f"a bracket of {say(bracket)}, wall to pole centre{_price(found, advice)}"
    elif window.count is not None:
        why = _no_width(f"{window.count} eyelets")
        beside = sorted(panel.line.counts_beside(window.count), key=lambda n: abs(n - panel.count))
        found, remedies = _first([count_of(n) for n in beside], advice)
        mend = "another count or width"
        if found is not None:
            mend = f"{found[0].value} eyelets{_price(found, advice)}"
    elif room is None:
        why = (
            f"the eyelets would stand {say(pitch)} apart at the least, and nothing says that the "
            "wall leaves such deep folds room"
        )
        mend = "the pole's projection (projection in [pole]), or a count"
    else:
        why = _no_width("any count")
        mend = "another width"
    return finding(
        "pattern-free",
        f"no front folds show the same place of a pattern that repeats every {say(pattern.repeat)}:"
        f' {why}. It is matched at the seams alone (pattern = "seams"); what would do: {mend}',
        remedies=remedies,
    )


def _off_centre(window: Window, off: MotifOff, say: Wording) -> Finding:
    """A motif beside the middle of the front folds: by how much, and to which side."""
    where = []
    for of_left, past in ((True, off.left), (False, off.near)):
        if window.panels == "pair" or (window.panels == "left") == of_left:
            # Away from the leading edge is to the left in a left panel, else to the right.
            way = "right" if (past > 0) != of_left else "left"
            where.append(f"{say(abs(past))} {way} of the middle" if past else "in the middle")
    place = f"{where[0]} of every front fold"
    if len(set(where)) > 1:
        place = f"{where[0]} of the left panel's front folds, {where[1]} of the right one's"
    return finding(
        "pattern-off-centre",
        f"the motif's centre stands {place}, as seen from the room, since hiding seams goes before "
        "it: try another width of cloth or of panel",
    )


def _first(remedies: Sequence[Remedy], advice: Advice | None) -> tuple[Remedy | None, list[Remedy]]:
    """Return the first that puts the pattern on the folds, and it again if it brings nothing.

    One that brings nothing goes before one that does.
    """
    if advice is None:
        return None, []
    mending = advice.first(remedies, "pattern-free")
    if mending is not None:
        return mending, [mending]
    return next((each for each in remedies if advice.clears(each, "pattern-free")), None), []


def _price(remedy: Remedy, advice: Advice | None) -> str:
    """Return what to say after a remedy that brings something."""
    return "" if advice is None else advice.price(remedy)


def _no_width(count: str) -> str:
    """That so many eyelets make no panel for the pattern."""
    return (
        f"with {count} no panel does that is nine tenths as full as asked for, or more, with its "
        "folds clear of the wall and of each other"
    )
