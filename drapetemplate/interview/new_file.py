"""Where a job file is, or a new one goes: a name that is free, in a folder that is there."""

from __future__ import annotations

import os
from pathlib import Path

from drapetemplate.errors import Fault, FileError
from drapetemplate.files import file_part


def job_file_at(path: Path) -> Path:
    """Return where a job file is or could be: `path`, ending in .toml. FileError where it can't."""
    if os.path.isdir(path):  # noqa: PTH112  # Path's own raises on a name too long
        raise FileError([Fault(str(path), "is a folder: name a file in it, such as my_job.toml")])
    named = path.name.lower().endswith(".toml")
    target = path if named else path.with_name(f"{path.name}.toml")
    if not os.path.isdir(target.parent):  # noqa: PTH112  # likewise
        raise FileError([Fault(str(target), "its folder isn't there: make it, or name another")])
    return target


def new_job_file(path: Path) -> Path:
    """Return where a new job file goes, as `job_file_at`; FileError where something is there."""
    target = job_file_at(path)
    if os.path.lexists(target):
        raise FileError([Fault(str(target), "is there already: name another file")])
    return target


def proposed_job_file(name: str, folder: Path) -> Path:
    """Return a path for the job file of a job called so, which nothing in the folder has yet."""
    plain = file_part("".join(char if char.isalnum() else " " for char in name.casefold()))
    stem = plain.replace(" ", "_").strip("_") or "job"
    names = (f"{stem}{'' if n == 1 else f'_{n}'}.toml" for n in range(1, 10_000))
    return next(folder / name for name in names if not os.path.lexists(folder / name))
