"""A state of the questions in, its job file out: a new one, or the one that was opened, changed."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.interview.job_in_file import NotInPlaceError, OpenFile, changed_file, new_file
from drapetemplate.interview.new_file import new_job_file
from drapetemplate.interview.states import State
from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import SCHEMA_NAME, schema_text
from drapetemplate.job.parse import MOST_BYTES, located
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list


def faults_of(data: bytes, source: str) -> tuple[Fault, ...]:
    """Return what keeps a job file from being planned and laid out, by line, if anything does."""
    try:
        job = read_job(data, source)
        strip_list(job, plan(job).windows, None)
    except DrapeError as error:
        return located(error, data, source)
    return ()


def says_it_already(there: OpenFile, state: State) -> bool:
    """Whether an opened file needs no change to say what a state's answers do."""
    try:
        return changed_file(there, dict(state.answers)) == there.data
    except FileError:
        return False


def change_in_place(path: Path, there: OpenFile, state: State) -> bool:
    """Change the file at `path`, opened as `there`, to say a state's answers; False if it does.

    FileError where it can't be changed or written, or isn't as it was opened any more.
    """
    try:
        data = changed_file(there, dict(state.answers))
    except FileError as error:
        raise FileError([Fault(str(path), fault.text) for fault in error.faults]) from error
    if data == there.data:
        return False
    if files.read(path, MOST_BYTES) != there.data:
        text = "has changed on disk since it was opened: name another file"
        raise FileError([Fault(str(path), text)])
    # Of a link, what it leads to is written, and the link stays.
    files.write(Path(os.path.realpath(path)), data)
    return True


def write_new(path: Path, there: OpenFile | None, state: State) -> Path:
    """Write a state's answers as a new job file, and return its path, which ends in .toml.

    It is what was opened, changed, where there is such a file and that can be done. FileError where
    something is at that path already, or it can't be written.
    """
    target = new_job_file(path)
    data = None
    if there is not None:
        with suppress(NotInPlaceError):
            data = changed_file(there, dict(state.answers))
    if data is None:
        data = new_file(dict(state.answers), there, schema=_schema_beside(target))
    files.write_new(target, data)
    return target


def _schema_beside(job: Path) -> bool:
    """Whether the schema is beside a job file, put there unless its name is taken."""
    beside = job.with_name(SCHEMA_NAME)
    if not os.path.lexists(beside):
        with suppress(FileError):  # an editor goes without; the job file's own fault is told
            files.write(beside, schema_text().encode())
    return beside.is_file()
