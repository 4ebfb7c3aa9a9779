"""An order for many jobs in, text for a terminal out: what is doubtful, what to buy, for whom."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drapetemplate.planning.codes import Level
from drapetemplate.planning.joint_doubts import Doubt
from drapetemplate.planning.joint_order import JointOrder
from drapetemplate.report.screen import USUAL_COLUMNS, Screen, aloud
from drapetemplate.wording import counted
from drapetemplate.words.joint_words import (
    ROLLS_SHARED,
    ROUNDED_ONCE,
    ToBuy,
    job_names,
    job_rows,
    to_buy,
    which_jobs,
)

_SPOKEN: dict[Level, str] = {"stop": "stop", "warn": "warning", "note": "note"}


def as_text(
    order: JointOrder,
    doubts: Sequence[Doubt],
    *,
    columns: int | None = USUAL_COLUMNS,
    plain: bool = False,
    ascii_only: bool = False,
) -> str:
    """Return the order as lines for a terminal of so many columns, without a newline at the end.

    `columns` None, for pipes: no line is wrapped. `plain`, for screen readers: a fact a line,
    nothing set in columns. `ascii_only`: signs beyond ASCII are replaced.
    """
    if plain:
        screen = Screen(None, ascii_only)
        return "\n".join(screen.shown(aloud(line)) for line in _plain(order, doubts))
    return "\n".join(_laid_out(order, doubts, Screen(columns, ascii_only)))


def _laid_out(order: JointOrder, doubts: Sequence[Doubt], screen: Screen) -> Iterator[str]:
    yield from screen.wrapped(f"Order for {which_jobs(order)}", rest="  ")
    if warnings := sum(doubt.level == "warn" for doubt in doubts):
        yield from screen.wrapped(f"{counted(warnings, 'warning')}: read before you buy")
    yield ""
    for doubt in doubts:
        text = f"{doubt.code}: {doubt.text}"
        yield from screen.wrapped(text, f"  {doubt.level.upper():5} ", " " * 8)
    if doubts:
        yield ""
    names = job_names(order)
    for thing in to_buy(order):
        yield from screen.wrapped(f"{thing.amount}  {_what(thing)}", rest="    ")
        if why := _why(thing):
            yield from screen.wrapped(why, "  ", "    ")
        yield from screen.table([_take(order, names, *take) for take in thing.takes], "    ")
        yield from _rolls(thing, screen)
        yield ""
    if len(order.jobs) > 1:
        yield from screen.wrapped(ROUNDED_ONCE)
        yield ""
    yield "Jobs"
    yield from screen.table(job_rows(order))


def _what(thing: ToBuy) -> str:
    return f"{thing.part}: {thing.thing}"


def _why(thing: ToBuy) -> str:
    words = [thing.why] if thing.why else []
    if thing.due is not None and len(thing.takes) > 1:
        words.append(f"first due {thing.due.isoformat()}")
    return "; ".join(words)


def _take(order: JointOrder, names: Sequence[str], number: int, words: str) -> tuple[str, str]:
    """Who takes something, with the day it is due, and how much."""
    due = order.jobs[number].due
    return f"{names[number]}{'' if due is None else f', {due.isoformat()}'}", words


def _rolls(thing: ToBuy, screen: Screen) -> Iterator[str]:
    """What rolls of band are cut into, where they serve several jobs: else the ticket says it."""
    if thing.rolls and len(thing.takes) > 1:
        yield from screen.wrapped(f"{ROLLS_SHARED}:", "  ", "    ")
        yield from screen.table(thing.rolls, "    ")
        if thing.splices:
            yield from screen.table([("spliced", f"{a} {b}") for a, b in thing.splices], "    ")


def _plain(order: JointOrder, doubts: Sequence[Doubt]) -> Iterator[str]:
    """The same facts in the same order, a line each."""
    yield f"order for {which_jobs(order)}"
    for doubt in doubts:
        yield f"{_SPOKEN[doubt.level]}, {doubt.code}: {doubt.text}"
    names = job_names(order)
    for thing in to_buy(order):
        yield f"to buy, {_what(thing)}: {thing.amount}"
        if why := _why(thing):
            yield f"that is: {why}"
        for take in thing.takes:
            yield "of it for {}: {}".format(*_take(order, names, *take))
        if thing.rolls and len(thing.takes) > 1:
            yield ROLLS_SHARED
            yield from (f"{name}: {words}" for name, words in thing.rolls)
            yield from (f"spliced: {name} {words}" for name, words in thing.splices)
    if len(order.jobs) > 1:
        yield ROUNDED_ONCE
    for name, words in job_rows(order):
        yield f"job: {name}: {words}"
