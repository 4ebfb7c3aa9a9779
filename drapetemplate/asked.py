"""What a command line asks for, checked before anything is done: targets, counts, codes."""

from __future__ import annotations

import os
from pathlib import Path

from drapetemplate.errors import Fault, FileError
from drapetemplate.planning.findings import STOP_CODES


def counts_of(text: str) -> list[int]:
    """The counts of a list such as 6,8,10."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not all(part.isascii() and part.isdigit() and 2 <= int(part[:6]) <= 2000 for part in parts):
        raise FileError([Fault("--counts", "give counts from 2 to 2000, as in 6,8,10")])
    return [int(part) for part in parts]


def targets_of(jobs: list[Path], out: Path | None) -> list[Path]:
    """Where each job's PDF goes; FileError where two would go to the same place."""
    if out is None or os.path.isdir(out):  # noqa: PTH112  # Path's own raises on a name too long
        targets = [(out or Path()) / f"{job.stem}.pdf" for job in jobs]
    elif len(jobs) == 1:
        targets = [out]
    else:
        raise FileError([Fault(str(out), "for several jobs, name a folder that is there")])
    faults = [
        Fault(str(job), f"its PDF, {target}, is an earlier job's too: make it alone with --out")
        for i, (job, target) in enumerate(zip(jobs, targets, strict=True))
        if target in targets[:i]
    ]
    faults += [
        Fault(str(job), "the PDF would replace the job file itself: name another with --out")
        for job, target in zip(jobs, targets, strict=True)
        if os.path.realpath(target) == os.path.realpath(job)  # Path's own raises on a loop
    ]
    if faults:
        raise FileError(faults)
    return targets


def check_other(job: Path, target: Path, option: str) -> None:
    """FileError where a target is the job file itself."""
    if os.path.realpath(target) == os.path.realpath(job):
        raise FileError([Fault(option, "would replace the job file itself: name another file")])


def check_codes(codes: frozenset[str]) -> None:
    """FileError for codes that no stop finding has."""
    unknown = sorted(codes.difference(STOP_CODES))
    if unknown:
        known = ", ".join(STOP_CODES)
        raise FileError(
            [Fault("--accept", f'no stop is called "{c}": use {known}') for c in unknown]
        )
