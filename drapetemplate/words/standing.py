"""How a window's panels stand on their pole, in words for whoever hangs them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from drapetemplate.job.model import Job
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.planning.pole_stand import PoleStand
from drapetemplate.wording import Wording, load
from drapetemplate.words.figures import glass_bare, glass_covered, held_on_pole, lower_edge

NOT_GIVEN = "not given"


def standing_rows(job: Job, planned: WindowPlan) -> list[tuple[str, str]]:
    """Return names and values: the pole, its brackets, eyelets between them, stack, weights."""
    return [row for row in _rows(job, planned) if row[1]]


def _rows(job: Job, planned: WindowPlan) -> Iterator[tuple[str, str]]:
    say = Wording(job.units)
    stand, pole, panel = planned.stand, planned.window.pole, planned.panels[0]
    each = " each panel" if stand.on_pole == 2 else ""
    yield "Pole", _pole(stand, pole.diameter, say)
    yield "Top of pole", NOT_GIVEN if pole.top is None else f"{say(pole.top)} above the floor"
    projection = NOT_GIVEN
    if pole.projection is not None:
        projection = f"{say(pole.projection)}, wall to pole's centre"
    yield "Projection", projection
    yield "Pole past glass", _past_glass(stand, say)
    yield "Brackets", _brackets(stand, say)
    if stand.beyond is not None:
        yield (
            "Past end bracket",
            f"{say(stand.beyond)} of pole: the end eyelet stands between bracket and finial",
        )
    yield from eyelets_between(planned)
    yield "Closed", held_on_pole(stand, say)
    yield "To draw it open", _moving_end(stand)
    yield "Return", f"{say(panel.return_)} of cloth turns back to the wall"
    yield "Stack, open", f"{say(stand.stack)}{each}"
    yield "Glass, closed", glass_bare(stand, say)
    yield "Glass, open", glass_covered(stand, say)
    yield "Lower edge", lower_edge(stand, say)
    yield from _weights(job, planned)


def _pole(stand: PoleStand, diameter: Fraction | None, say: Wording) -> str:
    """How long the pole is and how thick."""
    thick = "" if diameter is None else f", {say(diameter)} thick"
    if stand.length is None:
        return f"length {NOT_GIVEN}{thick}"
    why = ", worked out to clear the glass" if stand.worked_out else ""
    return f"{say(stand.length)} between the finials{thick}{why}"


def _past_glass(stand: PoleStand, say: Wording) -> str:
    """How far the pole goes past the glass, and at which side; "" where that isn't known."""
    if stand.glass is None or stand.length is None:
        return ""
    past = (stand.length - stand.glass) / stand.on_pole
    sides = {
        "pair": "at either side",
        "left": "at the left, none at the right",
        "right": "at the right, none at the left",
        "single": "at the side it is drawn to",
    }
    return f"{say(past)} {sides[stand.panels]}"


def _brackets(stand: PoleStand, say: Wording) -> str:
    """Where brackets stand."""
    if stand.brackets:
        places = "; ".join(f"{n} at {say(place)}" for n, place in enumerate(stand.brackets, 1))
        between = ", none given between" if stand.supports is None else ""
        return f"{places}, from the pole's left end{between}"
    if stand.supports is None:
        return NOT_GIVEN
    return f"{stand.supports} between the ends, evenly apart" if stand.supports else "at the ends"


def eyelets_between(planned: WindowPlan) -> list[tuple[str, str]]:
    """Return which eyelets of the closed panels stand between which brackets, from the left.

    Eyelets are numbered as on the strip. None where the pole's length isn't known.
    """
    stand = planned.stand
    brackets = stand.brackets
    if not brackets:
        return []
    names = ["Left of bracket 1"]
    names += [f"Between {n} and {n + 1}" for n in range(1, len(brackets))]
    names.append(f"Right of bracket {len(brackets)}")
    held: list[list[str]] = [[] for _ in names]
    for panel in planned.panels:
        numbers: list[list[int]] = [[] for _ in names]
        for number, place in enumerate(stand.places(panel.side), 1):
            numbers[sum(place > bracket for bracket in brackets)].append(number)
        for words, run in zip(held, numbers, strict=True):
            if run:
                words.append(_run(panel, run))
    return [(name, ", ".join(words)) for name, words in zip(names, held, strict=True) if words]


def _moving_end(stand: PoleStand) -> str:
    """Where an end eyelet of a single panel has to hang for that end to move; else "".

    One past its bracket stays: with both there the panel can't be drawn at all.
    """
    if stand.panels != "single" or stand.beyond is None:
        return ""
    inside = "the end that moves hangs inside its bracket"
    last = len(stand.brackets)
    if not last:
        return f"{inside}, not past it"
    if stand.places("single")[-1] <= stand.brackets[-1]:
        return ""
    return f"{inside}: eyelet {stand.count} left of bracket {last}, or eyelet 1 right of bracket 1"


def _run(panel: PanelPlan, numbers: list[int]) -> str:
    """A run of a panel's eyelets as they stand from the left: "left panel 15 to 1"."""
    first, last = (numbers[-1], numbers[0]) if panel.side == "left" else (numbers[0], numbers[-1])
    side = "" if panel.side == "single" else f"{panel.side} panel's "
    if len(numbers) == 1:
        return f"{side}eyelet {first}"
    return f"{side}eyelets {first} to {last}"


def _weights(job: Job, planned: WindowPlan) -> Iterator[tuple[str, str]]:
    """What a panel weighs, what the pole bears, and the most that each bracket does."""
    stand, panel = planned.stand, planned.panels[0]
    if panel.weight is None or stand.weight is None:
        yield "Weight", "not known: it takes the cloth's weight and the finished length"
        return
    eyelets = "" if planned.window.eyelet.weight else ", eyelets not counted"
    yield "Weight on the pole", f"{load(stand.weight, job.units)}{eyelets}"
    if stand.on_pole == 2:
        yield "Weight, each panel", load(panel.weight, job.units)
    if stand.bearing:
        borne = "; ".join(
            f"{n}: {load(grams, job.units)}" for n, grams in enumerate(stand.bearing, 1)
        )
        yield "Most on a bracket", f"{borne}; the pole's own weight comes to it"
