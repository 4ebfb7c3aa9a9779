"""Kept jobs, planned, in; one order for all of them out, with what isn't in it and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from drapetemplate.errors import Fault, FileError, JobError, StopError
from drapetemplate.planning.codes import LEVELS
from drapetemplate.planning.joint_doubts import Doubt, counted, order_doubts
from drapetemplate.planning.joint_order import JointOrder, PlannedJob, joint_order
from drapetemplate.record.quick_read import NO_JOB
from drapetemplate.shelf.kept import NO_JOB_FILE, PassedOver
from drapetemplate.shelf.planned import NotPlanned
from drapetemplate.wording import all_of
from drapetemplate.wording import counted as in_number

MOST_NAMED = 6
"""Files or jobs that a line names before it counts the rest."""


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order and what is doubtful in it.

    `faulty` are jobs met in a folder that aren't in it, since they can't be planned; `passed_over`
    are files there that hold no job.
    """

    order: JointOrder
    doubts: tuple[Doubt, ...]
    faulty: tuple[NotPlanned, ...]
    passed_over: tuple[PassedOver, ...]


def ordered(
    jobs: Iterable[PlannedJob | NotPlanned],
    passed_over: Sequence[PassedOver] = (),
    due_before: date | None = None,
) -> Ordered:
    """Return one order for all jobs, or for those that are due before a day.

    JobError with every fault of a job that was named itself, FileError where there is no job at
    all, StopError where none is due so soon.
    """
    found: list[PlannedJob] = []
    faulty: list[NotPlanned] = []
    for job in jobs:
        if isinstance(job, PlannedJob):
            found.append(job)
        else:
            faulty.append(job)
    if faults := [fault for job in faulty if job.named for fault in job.faults]:
        raise JobError(faults)
    if not found and not faulty:
        raise FileError([Fault("order", "no job in any of these files and folders")])
    counting, versions = counted(found)
    soon = [job for job in counting if _due(job, due_before)]
    undated = [job for job in counting if job.due is None and due_before is not None]
    if not soon:
        raise StopError(_nothing(counting, faulty, due_before, undated))
    order = joint_order(soon)
    faulty.sort(key=lambda job: job.source)
    doubts = (
        *_left_out(faulty, undated),
        *versions,
        *order_doubts(order),
        *_passed_over(passed_over),
    )
    worst_first = sorted(doubts, key=lambda doubt: LEVELS.index(doubt.level))
    return Ordered(order, tuple(worst_first), tuple(faulty), tuple(passed_over))


def _due(job: PlannedJob, due_before: date | None) -> bool:
    return due_before is None or (job.due is not None and job.due < due_before)


def _nothing(
    jobs: Sequence[PlannedJob],
    faulty: Sequence[NotPlanned],
    due_before: date | None,
    undated: Sequence[PlannedJob],
) -> Iterator[Fault]:
    """Why nothing is ordered."""
    for job in faulty:
        yield from job.faults
    if due_before is not None and jobs:
        text = f"none of {in_number(len(jobs), 'job')} is due before {due_before.isoformat()}"
        text += f"; {len(undated)} without a due date" if undated else ""
        yield Fault("--due-before", text)


def _left_out(faulty: Sequence[NotPlanned], undated: Sequence[PlannedJob]) -> Iterator[Doubt]:
    """Jobs that may have to be bought for all the same."""
    if faulty:
        isnt = "isn't" if len(faulty) == 1 else "aren't"
        text = (
            f"{_few([job.source for job in faulty])} can't be planned, and {isnt} in this order: "
            "mend the faults first"
        )
        yield Doubt("warn", "faulty-job", text)
    if undated:
        names = [job.called for job in sorted(undated, key=lambda job: job.called)]
        text = f"without a due date, and not in this order: {_few(names)}"
        yield Doubt("warn", "no-date", text)


def _passed_over(files: Sequence[PassedOver]) -> Iterator[Doubt]:
    """Files met in folders that gave no job."""
    lost = [each for each in files if each.why not in {NO_JOB, NO_JOB_FILE}]
    if foreign := len(files) - len(lost):
        text = f"{in_number(foreign, 'file')} passed over: no job in {_it(foreign)}"
        yield Doubt("note", "passed-over", text)
    if lost:
        named = _few([f"{each.path} ({each.why})" for each in lost])
        yield Doubt("warn", "unreadable", f"can't be read, and may hold a job: {named}")


def _it(count: int) -> str:
    return "it" if count == 1 else "them"


def _few(names: Sequence[str]) -> str:
    """Names, the last of very many only counted."""
    if len(names) <= MOST_NAMED:
        return all_of(names)
    return all_of([*names[:MOST_NAMED], f"{len(names) - MOST_NAMED} more"])
