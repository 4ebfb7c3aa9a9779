"""What `order` does: files and folders in, one order for the jobs in them out."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from drapetemplate.cli import output
from drapetemplate.cli.processes import over_processes
from drapetemplate.errors import Fault, FileError
from drapetemplate.shelf.kept import Found, Kept, find, look
from drapetemplate.shelf.ordered import Ordered, ordered
from drapetemplate.shelf.planned import planned, together

FEW = 500
"""Jobs that are planned in one process: in the second that these take another one has started."""
ENDINGS = {"--out": ".pdf", "--csv": ".csv"}
"""How the names of what is written end, so that it never replaces a job file."""


@dataclass(frozen=True, slots=True)
class OrderFound:
    """An order, and every file that holds a job of it."""

    ordered: Ordered
    files: tuple[Path, ...]


def order_for(
    paths: Sequence[Path], due_before: date | None = None, workers: int | None = None
) -> OrderFound:
    """Return one order for all jobs that files and folders hold, or those due before a day.

    DrapeError as `find`, `together` and `ordered` have it.
    """
    found = find(paths)
    looked_into = output.with_progress(map(look, found), len(found), "Looking", wait=1)
    jobs = together(zip(found, looked_into, strict=True))
    plans = over_processes(planned, jobs.to_plan, workers, FEW)
    made = output.with_progress(plans, len(jobs.to_plan), "Planning", wait=1)
    files = tuple(Path(source) for job in jobs.to_plan for source in job.sources)
    return OrderFound(ordered(made, jobs.passed_over, due_before), files)


def check_targets(targets: Mapping[str, Path | None], read: Sequence[Path]) -> None:
    """FileError for a target that would replace a job, or another target, or has a wrong ending."""
    taken = {os.path.realpath(path): "a job that it is worked out from" for path in read}
    faults = []
    for option, target in targets.items():
        if target is None:
            continue
        if target.suffix.lower() != ENDINGS[option]:
            faults.append(Fault(str(target), f"name a file that ends in {ENDINGS[option]}"))
            continue
        place = os.path.realpath(target)
        if place in taken:
            faults.append(
                Fault(str(target), f"would replace {taken[place]}: name another {option}")
            )
        elif isinstance(look(Found(target)), Kept):
            faults.append(Fault(str(target), f"holds a job: name another {option}"))
        taken.setdefault(place, f"what {option} writes")
    if faults:
        raise FileError(faults)
