"""The order for all jobs of the desk's folder: what the page shows of it, its PDF and its table.

The jobs are those that their files have: what a page has typed and not saved isn't among them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from drapetemplate.desk.jobs_here import MOST_LOOKED_INTO, names_here
from drapetemplate.document.order_document import order_document
from drapetemplate.errors import Fault, JobError, StopError
from drapetemplate.job.fields import read_date
from drapetemplate.record.write import as_lasting
from drapetemplate.render.typeface import typeface
from drapetemplate.report.joint_csv import as_csv
from drapetemplate.shelf.kept import Found, Kept, PassedOver, look
from drapetemplate.shelf.ordered import Ordered, ordered
from drapetemplate.shelf.planned import planned, together
from drapetemplate.words.joint_words import (
    ROLLS_SHARED,
    ROUNDED_ONCE,
    ToBuy,
    due_words,
    job_names,
    job_rows,
    to_buy,
    which_jobs,
)


class NothingDueError(JobError):
    """No job of the folder is due before the day that was asked for."""


@dataclass(frozen=True, slots=True)
class Week:
    """The order for a folder's jobs; `more` files were too many to be looked into."""

    ordered: Ordered
    more: int


def week(folder: Path, due_before: str = "") -> Week:
    """Return the order for a folder's own jobs, or for those due before a day such as 2027-03-31.

    NothingDueError where none is, JobError where there is no job at all, or the text is no day.
    """
    try:
        day = read_date(due_before) if due_before else None
    except ValueError as error:
        raise JobError([Fault("", f"due before: {error}")]) from error
    names = names_here(folder)
    jobs = together(_looked_into(folder, names[:MOST_LOOKED_INTO]))
    if not jobs.to_plan:
        raise JobError([Fault("", "no job is saved in this folder yet")])
    try:
        found = ordered(map(planned, jobs.to_plan), jobs.passed_over, day)
    except StopError as error:
        raise NothingDueError(Fault("", fault.text) for fault in error.faults) from error
    return Week(found, max(len(names) - MOST_LOOKED_INTO, 0))


def _looked_into(folder: Path, names: list[str]) -> Iterator[tuple[Found, Kept | PassedOver]]:
    """Look into files of the folder; on the page they have their names alone."""
    for name in names:
        found = look(Found(folder / name))
        yield Found(Path(name)), replace(found, path=Path(name))


def week_shown(folder: Path, due_before: str = "") -> dict[str, Any]:
    """Return what the page shows of the order, or under "none" why there is nothing to buy."""
    try:
        return _shown(week(folder, due_before))
    except NothingDueError as error:
        return {"none": "; ".join(fault.text for fault in error.faults)}


def _shown(found: Week) -> dict[str, Any]:
    """The order in words."""
    order = found.ordered.order
    names = job_names(order)
    return {
        "title": f"Order for {which_jobs(order)}",
        "doubts": [{"level": doubt.level, "text": doubt.text} for doubt in found.ordered.doubts],
        "things": [_thing(thing, names) for thing in to_buy(order)],
        "jobs": [
            {"name": name, "due": due_words(job), "rest": words}
            for name, job, (_, words) in zip(names, order.jobs, job_rows(order), strict=True)
        ],
        "rounded": ROUNDED_ONCE if len(order.jobs) > 1 else "",
        "more": found.more,
    }


def _thing(thing: ToBuy, names: list[str]) -> dict[str, Any]:
    shared = len(thing.takes) > 1
    return {
        "amount": thing.amount,
        "what": f"{thing.part}: {thing.thing}",
        "why": thing.why,
        "due": "" if thing.due is None else thing.due.isoformat(),
        "takes": [{"job": names[number], "words": words} for number, words in thing.takes],
        "cut_by": ROLLS_SHARED if shared and thing.rolls else "",
        "rolls": [list(row) for row in (*thing.rolls, *thing.splices)] if shared else [],
    }


def week_pdf(found: Week) -> bytes:
    """Return the order's pages, as `order --out` writes them."""
    document = order_document(found.ordered.order, found.ordered.doubts, typeface())
    return as_lasting(document)


def week_csv(found: Week) -> bytes:
    """Return the order's table, as `order --csv` writes it."""
    return as_csv(found.ordered.order)
