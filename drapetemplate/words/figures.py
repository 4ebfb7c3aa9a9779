"""A window's figures, each once: its plan in, names and values out, from which each front chooses.

The ticket's columns take the `short` words of those that its headline doesn't say; a terminal's
list takes all in `full`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drapetemplate.job.model import Job
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.hanging import OPERABLE_TURN, Hang
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.pattern_folds import FoldPattern, half_repeats
from drapetemplate.planning.pole_stand import PoleStand
from drapetemplate.wording import Wording, counted, degrees, times, weight_in
from drapetemplate.words.plan_words import (
    PARTS,
    edge_of,
    finished_size,
    lining_joined,
    panels_to_make,
)

NEEDED = f"needs {degrees(OPERABLE_TURN)} to open and close"


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure's name and its value in words; "" where short or full words leave it out."""

    name: str
    short: str
    full: str


def in_short(figures: Iterable[Figure]) -> list[tuple[str, str]]:
    """Return names and short values, of the figures that have one.

    >>> in_short([Figure("Eyelets", "", "12"), Figure("Stack", "15 in", "15 in")])
    [('Stack', '15 in')]
    """
    return [(figure.name, figure.short) for figure in figures if figure.short]


def in_full(figures: Iterable[Figure]) -> list[tuple[str, str]]:
    """Return names, as a list has them, and full values, of the figures that have one.

    >>> in_full([Figure("Eyelets", "", "12"), Figure("Stack", "15 in", "15 in")])
    [('eyelets', '12'), ('stack', '15 in')]
    """
    return [(figure.name.lower(), figure.full) for figure in figures if figure.full]


def window_figures(job: Job, window: WindowPlan) -> list[Figure]:
    """Return every figure of a window's panels, which are alike, and of its cloths."""
    return [*_panel(job, window), *cloth_figures(job, window)]


def _panel(job: Job, window: WindowPlan) -> Iterator[Figure]:
    say = Wording(job.units)
    panel = window.panels[0]
    yield _list_only("Panels", panels_to_make(window))
    yield _list_only("Finished width", say(panel.width))
    yield _list_only("Finished length", say.known(window.length))
    yield _list_only("Eyelets", f"{panel.count}, {panel.reason}")
    yield _list_only("Gap, edge to edge", say(panel.gap))
    yield _list_only("Pitch, centre to centre", say(panel.pitch))
    yield _everywhere("Eyelet outside", say(panel.outside))
    yield _everywhere("Opening", say(panel.opening))
    yield _everywhere("Hole to cut", say(panel.hole))
    yield _everywhere("Band height", say(panel.band_height))
    yield _everywhere("Band cut", f"{say(panel.width)} for each panel")
    yield _everywhere("Top to eyelet", say(panel.above))
    if panel.side == "single":
        yield _everywhere("Return, both ends", f"{say(panel.return_)}, edge to end eyelet")
    else:
        yield _everywhere("Leading", f"{say(panel.leading)}, leading edge to eyelet 1")
        yield _everywhere("Return", f"{say(panel.return_)}, last eyelet to return edge")
    if window.length is None:  # else it stands in the ticket's headline
        yield Figure("Finished length", "not known", "")
    if panel.gaps:
        front, back = job.paper.letters
        fronts, backs = panel.gaps.count("front"), panel.gaps.count("back")
        yield _everywhere("Gaps", f"{fronts} front ({front}), {backs} back ({back})")
    else:
        yield _everywhere("Hung", "from hooks")
    yield from _pattern(window, say)
    if panel.covers is not None:
        yield _everywhere("Pole covered", f"{say(panel.covers)} closed, first eyelet to last")
    if panel.fullness is not None:
        yield _everywhere("Fullness", f"{times(panel.fullness)}, first eyelet to last")
    held = held_on_pole(window.stand, say)
    if held:
        yield _everywhere("On this pole", held)
    yield _everywhere("Stack", f"{say(panel.stack)} of pole, open")
    yield from stand_figures(job, window)
    if panel.hang is not None:
        yield from _hanging(panel.hang, say)
    if panel.weight is not None:
        eyelets = "" if window.window.eyelet.weight else ", eyelets not counted"
        yield _everywhere("Weight, each panel", f"{weight_in(panel.weight, job.units)}{eyelets}")
    if panel.hang is not None and panel.hang.wall_room is None:
        yield _list_only("Free to the wall", "not known")


def stand_figures(job: Job, window: WindowPlan) -> Iterator[Figure]:
    """How the panels stand: the pole that clears the glass, brackets, the lower edge."""
    say, stand = Wording(job.units), window.stand
    if stand.glass is not None and stand.length is not None:
        stacks = f"2 stacks of {say(stand.stack)}" if stand.on_pole == 2 else "the stack"
        clears = f"{say(stand.glass)} of glass and {stacks}"
        if stand.worked_out:
            yield _everywhere("Pole worked out", f"{say(stand.length)}: {clears}")
        else:
            yield _everywhere("Glass, drawn open", glass_covered(stand, say))
        if stand.bare:
            yield _everywhere("Glass, closed", glass_bare(stand, say))
    if stand.brackets:
        places = ", ".join(map(say, stand.brackets))
        between = "" if stand.supports is None else f"; {stand.supports} between the ends"
        yield _everywhere("Brackets", f"{places} from the pole's left end{between}")
    elif stand.supports is not None:
        yield _everywhere("Brackets", f"{stand.supports} between the ends, evenly apart")
    if stand.beyond is not None:
        words = f"{say(stand.beyond)} at each end, for the eyelet between it and the finial"
        short = words if stand.brackets else ""
        yield Figure("Pole past bracket", short, words)
    if stand.bottom is not None:
        yield _everywhere("Lower edge", lower_edge(stand, say))


def on_the_folds(pattern: FoldPattern, say: Wording) -> str:
    """Return what became of a pattern that is wanted on the folds."""
    if pattern.half_repeats is None:
        return "not alike on the front folds: no count and width do it"
    every = half_repeats(pattern.half_repeats)
    return f"alike on every front fold, {every} of {say(pattern.repeat)} from eyelet to eyelet"


def _pattern(window: WindowPlan, say: Wording) -> Iterator[Figure]:
    """What became of a pattern that is wanted on the folds, and where its motif is."""
    if window.pattern is not None:
        yield _everywhere("Pattern", on_the_folds(window.pattern, say))
    if window.panels[0].motifs:
        yield _everywhere("Motif", _motifs(window, say))


def _motifs(window: WindowPlan, say: Wording) -> str:
    """Return where the motif's centre is: first from the leading edge, then how far apart."""
    panel = window.panels[0]
    firsts = [each.motifs[0] for each in window.panels if each.motifs]
    edge = f"from the {panel.edge} edge"
    apart = f"every {say(2 * panel.pitch)} from there" if len(panel.motifs or ()) > 1 else ""
    if len(set(firsts)) == 1:
        return ", ".join(filter(None, (f"centre {say(firsts[0])} {edge}", apart)))
    left, right = map(say, firsts)
    return f"centre {left} {edge} in the left panel, {right} in the right one, {apart}"


def held_on_pole(stand: PoleStand, say: Wording) -> str:
    """Return what a closed panel comes to on its pole, where rings leave less than it is to cover.

    Half the pole is half a ring more than there is from centre to centre at either end. "" where a
    panel covers what it is to, and where what it is to cover is more than there is of the pole.
    """
    covers, room = stand.covers, stand.room
    if covers is None or not room or not stand.length or covers <= stand.reach:
        return ""
    if covers * stand.on_pole > stand.length:
        return ""
    fuller = times(stand.span / stand.reach)
    return f"{say.at_most(stand.reach)} between end eyelets, {fuller}: rings take the rest"


def glass_covered(stand: PoleStand, say: Wording) -> str:
    """Return how much of the glass the panels cover drawn open; "" where it isn't known."""
    if stand.over_glass is None:
        return ""
    if not stand.over_glass:
        return "clear"
    side = "at either side" if stand.on_pole == 2 else "at one side"
    return f"{say.at_least(stand.over_glass)} covered {side}"


def glass_bare(stand: PoleStand, say: Wording) -> str:
    """Return how much of the glass the closed panels leave bare; "" where that is none."""
    if not stand.bare:
        return ""
    where = "between the panels" if stand.on_pole == 2 else "past the panel's end"
    return f"{say.at_least(stand.bare)} stays bare {where}"


def lower_edge(stand: PoleStand, say: Wording) -> str:
    """Return where the panels' lower edge hangs; "" where it isn't known."""
    if stand.bottom is None:
        return ""
    if stand.bottom < 0:
        return f"breaks on the floor by {say.at_least(-stand.bottom)}"
    return f"{say(stand.bottom)} off the floor" if stand.bottom else "just touches the floor"


def _hanging(hang: Hang, say: Wording) -> Iterator[Figure]:
    """How far the folds reach, what is free behind them, and how far the rings turn."""
    closed, stacked = hang.depth_closed, hang.depth_stacked
    at = f"{hang.fullness:g} times, assumed" if hang.assumed else times(hang.fullness)
    deep, deepest = (f"{say.deep(depth)} from pole's centre" for depth in (closed, stacked))
    yield Figure("Folds, closed", deep, f"{deep}, at {at}")
    yield _everywhere("Folds, stacked", f"to {deepest}")
    if hang.projection is not None:
        yield _everywhere("Free to the wall", free_to_wall(hang, say))
    yield from rings_turn(hang)


def free_to_wall(hang: Hang, say: Wording) -> str:
    """Return what is free from the folds to the wall, closed and stacked; "" where not known."""
    closed, stacked = hang.free(hang.depth_closed), hang.free(hang.depth_stacked)
    if closed is None or stacked is None:
        return ""
    return (
        say.free(closed, "{} closed", "none closed ({} past it)")
        + say.free(stacked, ", {} stacked", ", none stacked ({} past it)")
        + f", {say(hang.clearance)} asked for"
    )


def rings_turn(hang: Hang) -> Iterator[Figure]:
    """Yield how far the rings turn before they lift, and at which turn they jam, where known.

    Both are turns from square on the pole, in whole degrees, rounded down.
    """
    turn, most, least = hang.free_turn, hang.turn_limit, hang.least_fullness
    if turn is None or most is None or least is None:
        return
    yield _everywhere(
        "Rings turn", f"{degrees(turn)} before they lift off the pole's top; {NEEDED}"
    )
    jammed = f"at {degrees(most)}"
    yield Figure(
        "Rings jam", jammed, f"{jammed}, so the panel is never flatter than {times(least)}"
    )


def cloth_figures(job: Job, window: WindowPlan) -> list[Figure]:
    """Return what a window takes of each cloth, its seams and, in full, its pieces."""
    return [figure for use in window.cloth for figure in _cloth(job, use, window.panels[0].edge)]


def _cloth(job: Job, use: ClothUse, edge: str) -> Iterator[Figure]:
    say = Wording(job.units)
    name, seams = PARTS[use.part].capitalize(), use.seams
    if use.cloth.joined is not None:
        size = finished_size(use, say)
        joined = lining_joined(use.cloth, say)
        yield Figure(f"{name} finished", f"{size}, {use.cloth.joined}", f"{size}, {joined}")
    if seams is None:
        yield _everywhere(name, "cloth width not given, so no seams and drops")
        return
    drops = counted(seams.drops, "run" if use.cloth.railroad else "drop")
    cut = "cut length not known" if use.cut is None else f"of {say(use.cut)}"
    # What is bought over comes once, to the whole job's order.
    in_all = "" if use.total in {None, use.cut} else f": {say.known(use.total)}"
    yield _everywhere(name, f"{drops} {cut}{in_all}")
    if use.motif_cut is not None:
        words = f"cut {say(use.motif_cut)} above a motif's centre"
        yield _everywhere(f"{name} motif", words)
    if seams.seams:
        hidden = f"{use.hidden} hidden" if use.failing else "all hidden"
        places = ", ".join(map(say, seams.seams))
        measured = edge_of(use.part, edge)
        yield _everywhere(f"{name} seams", f"{places} from {measured}, {hidden}")
        pieces = " + ".join(map(say, seams.pieces))
        yield _list_only(f"{name} pieces", f"{pieces}, raw, from {measured}")


def _everywhere(name: str, value: str) -> Figure:
    """Return a figure that short and full words say alike."""
    return Figure(name, value, value)


def _list_only(name: str, value: str) -> Figure:
    """Return a figure that only the full list says."""
    return Figure(name, "", value)
