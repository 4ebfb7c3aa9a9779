"""The job files that a command line names: found, read, and their faults told by line."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.job.model import Job, narrowed
from drapetemplate.job.parse import A_PDF, MOST_BYTES, PDF_START, located


def find_job_files(paths: Sequence[Path]) -> list[Path]:
    """Return the job files that paths stand for: a file itself, a folder's own *.toml by name.

    FileError for a folder without any, and for a PDF.
    """
    job_files: list[Path] = []
    faults = [Fault(str(path), A_PDF) for path in paths if files.starts_with(path, PDF_START)]
    for path in paths:
        if not os.path.isdir(path):  # noqa: PTH112  # Path's own raises on a name too long
            job_files.append(path)
            continue
        inside = files.listed(path, ".toml")
        if not inside:
            faults.append(Fault(str(path), "no job files in this folder: they end in .toml"))
        job_files += inside
    if faults:
        raise FileError(faults)
    return job_files


@contextmanager
def opened(job_file: Path) -> Iterator[bytes]:
    """A job file's bytes: whatever fault is found in the block gets this file's name and its line.

    A DrapeError comes out of the block as the same kind of error.
    """
    data = b""
    try:
        if files.starts_with(job_file, PDF_START):  # however large
            raise FileError([Fault(str(job_file), A_PDF)])
        data = files.read(job_file, MOST_BYTES)
        yield data
    except DrapeError as error:
        raise type(error)(located(error, data, str(job_file))) from error


def read(data: bytes, job_file: Path, windows: Sequence[str] = ()) -> Job:
    """Return the job in a job file's bytes, with only the windows of these names if there are any.

    JobError with every fault of the file, or for a name it hasn't.
    """
    job = drapetemplate.read_job(data, str(job_file))
    return narrowed(job, windows, "--window") if windows else job
