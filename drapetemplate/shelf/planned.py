"""Kept jobs in, each planned once out, to be ordered for together.

A job file and the PDFs made from it are one job, also where a remark or a way of writing differs,
as `listing` has it. A PDF may be for some of its windows alone: of several such PDFs all windows
count, and of one beside the job file the whole job.
"""

from __future__ import annotations

import os
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from drapetemplate.errors import DrapeError, Fault, FileError, JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import narrowed
from drapetemplate.job.parse import located
from drapetemplate.planning.joint_order import PlannedJob
from drapetemplate.planning.plan import plan
from drapetemplate.record.made_with import read_settings
from drapetemplate.shelf.kept import Found, Kept, PassedOver, find, look, what_it_says


@dataclass(frozen=True, slots=True)
class ToPlan:
    """A job to plan: its job file's bytes, of the windows of these names, or of all for none.

    `sources` are the files that hold it, a job file first; `named` where one of them was given
    itself.
    """

    data: bytes
    identity: str
    sources: tuple[str, ...]
    in_job_file: bool
    windows: tuple[str, ...]
    named: bool


@dataclass(frozen=True, slots=True)
class NotPlanned:
    """A job that can't be ordered for: the file that holds it, and each of its faults."""

    source: str
    faults: tuple[Fault, ...]
    named: bool


@dataclass(frozen=True, slots=True)
class Gathered:
    """What paths stand for: jobs to plan, each once, and files that gave none, by their names."""

    to_plan: tuple[ToPlan, ...]
    passed_over: tuple[PassedOver, ...]


def gathered(paths: Iterable[Path]) -> Gathered:
    """Return the jobs that paths stand for, and the files in their folders that hold none.

    FileError with a line for each path that isn't there, and each file named itself that has no
    job in it.
    """
    return together((found, look(found)) for found in find(paths))


def together(looked_into: Iterable[tuple[Found, Kept | PassedOver]]) -> Gathered:
    """Return the same from files that were looked into."""
    kept: dict[Hashable, list[tuple[Found, Kept]]] = {}
    said: dict[str, Hashable] = {}
    passed_over: list[PassedOver] = []
    for found, each in looked_into:
        if isinstance(each, Kept):
            identity = each.identity
            if identity not in said:
                said[identity] = what_it_says(each.job)
            kept.setdefault(said[identity], []).append((found, each))
        else:
            passed_over.append(each)
    if named := [each for each in passed_over if each.named]:
        raise FileError([Fault(str(each.path), each.why) for each in named])
    return Gathered(
        tuple(map(_to_plan, kept.values())),
        tuple(sorted(passed_over, key=lambda each: str(each.path))),
    )


def _to_plan(files: Sequence[tuple[Found, Kept]]) -> ToPlan:
    """The one job of all these files."""
    in_turn = sorted(files, key=lambda pair: (pair[1].kind != "job file", str(pair[1].path)))
    windows: set[str] = set()
    whole = False
    for _, kept in in_turn:
        only = _windows(kept)
        whole = whole or not only
        windows.update(only)
    return ToPlan(
        data=in_turn[0][1].job,
        identity=in_turn[0][1].identity,
        sources=tuple(
            {os.path.realpath(kept.path): str(kept.path) for _, kept in in_turn[::-1]}.values()
        )[::-1],
        in_job_file=in_turn[0][1].kind == "job file",
        windows=() if whole else tuple(sorted(windows)),
        named=any(found.named for found, _ in in_turn),
    )


def _windows(kept: Kept) -> tuple[str, ...]:
    """The windows that a PDF is for, none where it is for all, or doesn't say so in its way."""
    try:
        return read_settings(kept.made_with, str(kept.path)).only
    except FileError:
        return ()


def planned(job: ToPlan) -> PlannedJob | NotPlanned:
    """Return a job planned, or every fault that keeps it from being."""
    source = job.sources[0]
    try:
        read = read_job(job.data, source)
        read = narrowed(read, job.windows) if job.windows else read
        made = plan(read, advise=False)  # nobody reads here what would mend a finding
    except DrapeError as error:
        faults = located(JobError(error.faults), job.data, source)
        return NotPlanned(source, faults, job.named)
    return PlannedJob(
        job=read,
        plan=made,
        sources=job.sources,
        in_job_file=job.in_job_file,
        identity=job.identity,
    )
