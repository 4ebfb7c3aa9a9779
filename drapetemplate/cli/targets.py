"""What a command line asks for, checked before anything is done: targets, counts, codes."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.files import file_part
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.measures import shown
from drapetemplate.planning.eyelets import MOST_EYELETS
from drapetemplate.planning.model import STOP_CODES

PLACEHOLDERS = ("number", "name", "file")
_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")


def counts_of(text: str) -> list[int]:
    """The counts of a list such as 6,8,10."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    # Python reads no number of over 4,300 digits.
    counts = [int(part[-9:]) if re.fullmatch("0*[0-9]{1,4}", part) else 0 for part in parts]
    if not all(2 <= count <= MOST_EYELETS for count in counts):
        raise FileError([Fault("--counts", f"give counts from 2 to {MOST_EYELETS}, as in 6,8,10")])
    return counts


def jobs_of(asked: Sequence[Path]) -> list[Path]:
    """The job files asked for: each file itself, each folder's own *.toml files by name.

    FileError for a folder without any.
    """
    found: list[Path] = []
    faults = []
    for path in asked:
        if not os.path.isdir(path):  # noqa: PTH112  # Path's own raises on a name too long
            found.append(path)
            continue
        inside = files.listed(path, ".toml")
        if not inside:
            faults.append(Fault(str(path), "no job files in this folder: they end in .toml"))
        found += inside
    if faults:
        raise FileError(faults)
    return found


def targets_of(jobs: Sequence[Path], out: Path | None) -> list[Path]:
    """Where each job's PDF goes; FileError where two would go to the same place."""
    if out is not None and _PLACEHOLDER.search(str(out)):
        targets = _filled(jobs, str(out))
    elif out is None or os.path.isdir(out):  # noqa: PTH112  # likewise
        targets = [(out or Path()) / f"{job.stem}.pdf" for job in jobs]
    elif len(jobs) == 1:
        targets = [out]
    else:
        text = "for several jobs, name a folder that is there, or put {name} or {file} in it"
        raise FileError([Fault(str(out), text)])
    before: dict[Path, int] = {}
    for n, target in enumerate(targets):
        before.setdefault(target, n)
    faults = [
        Fault(str(job), f"its PDF, {target}, is an earlier job's too: make it alone with --out")
        for n, (job, target) in enumerate(zip(jobs, targets, strict=True))
        if before[target] < n
    ]
    held = {os.path.realpath(job) for job in jobs}  # Path's own raises on a loop
    faults += [
        Fault(str(job), "the PDF would replace a job file: name another with --out")
        for job, target in zip(jobs, targets, strict=True)
        if os.path.realpath(target) in held
    ]
    if faults:
        raise FileError(faults)
    return targets


def _filled(jobs: Sequence[Path], pattern: str) -> list[Path]:
    """The pattern with each job's number, name or file in the place of {number}, {name}, {file}.

    A job that can't be read takes its file's name for all: making it says what is wrong with it.
    """
    unknown = [word for word in _PLACEHOLDER.findall(pattern) if word not in PLACEHOLDERS]
    if unknown:
        known = ", ".join(f"{{{word}}}" for word in PLACEHOLDERS)
        text = f"{{{unknown[0]}}} stands for nothing: use {known}"
        raise FileError([Fault("--out", text)])
    pattern = pattern if pattern.lower().endswith(".pdf") else f"{pattern}.pdf"
    targets = []
    for path in jobs:
        words = dict.fromkeys(PLACEHOLDERS, path.stem)
        try:
            details = read_job(files.read(path, MOST_BYTES), str(path)).details
            words |= {"name": details.name, "number": details.number or "unnumbered"}
        except DrapeError:
            pass
        filled = pattern
        # A value can't bring a placeholder of its own: its braces are made safe too.
        for word, value in words.items():
            filled = filled.replace(f"{{{word}}}", file_part(value))
        targets.append(Path(filled))
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
            [Fault("--accept", f"no stop is called {shown(c)}: use {known}") for c in unknown]
        )
