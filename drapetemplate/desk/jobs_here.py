"""The folder that the desk was started in: which jobs lie in it, as job files and in PDFs."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import Fault, FileError
from drapetemplate.files import file_part
from drapetemplate.measures import printable
from drapetemplate.shelf.kept import SUFFIXES, Found, Kept, look
from drapetemplate.shelf.listing import ListedJob, Place, in_order, listed_job

MOST_LOOKED_INTO = 500
"""Files that are looked into: half a second's work. `shelf` looks through more, and by words."""
MOST_COPIES = 100


@dataclass(frozen=True, slots=True)
class JobHere:
    """A job in the folder, by the file to open it with."""

    file: str
    job: ListedJob


@dataclass(frozen=True, slots=True)
class JobsHere:
    """The jobs in a folder, the first due first; `more` files were too many to be looked into."""

    jobs: tuple[JobHere, ...]
    more: int


def names_here(folder: Path) -> list[str]:
    """Return the names of a folder's own job files and PDFs, as their endings say, in order.

    What is hidden, is a link and may lead out of the folder, or has a name that can't be shown is
    left out. FileError where the folder can't be looked into.
    """
    paths = [path for suffix in SUFFIXES for path in files.listed(folder, suffix)]
    return [
        path.name
        for path in paths
        if not path.name.startswith(".")
        and printable(path.name) == path.name
        and not os.path.islink(path)  # noqa: PTH114  # Path's own may raise
        and os.path.isfile(path)  # noqa: PTH113  # likewise
    ]


def jobs_here(folder: Path) -> JobsHere:
    """Return the jobs in a folder: each job file, and each PDF whose job no job file there has."""
    names = names_here(folder)
    looked_into = [look(Found(folder / name)) for name in names[:MOST_LOOKED_INTO]]
    seen: set[str] = set()
    found = []
    # Job files stand before the PDFs.
    for kept in looked_into:
        if isinstance(kept, Kept) and (kept.kind == "job file" or kept.identity not in seen):
            seen.add(kept.identity)
            place = Place(kept.path, kept.kind, kept.identity)
            found.append(replace(listed_job(kept.job), places=(place,)))
    jobs = (JobHere(job.places[0].path.name, job) for job in in_order(found))
    return JobsHere(tuple(jobs), max(len(names) - MOST_LOOKED_INTO, 0))


def take_out(pdf: Path) -> Path:
    """Write the job file in a PDF beside it, byte for byte, and return where; nothing is replaced.

    It has the PDF's name, or one with a number where another file has that. FileError where the PDF
    has no job, or it can't be written.
    """
    kept = look(Found(pdf, named=True))
    if not isinstance(kept, Kept):
        raise FileError([Fault("", f"{pdf.name}: {kept.why}")])
    stem = file_part(pdf.stem)
    for number in range(1, MOST_COPIES):
        target = pdf.with_name(f"{stem}-{number}.toml" if number > 1 else f"{stem}.toml")
        try:
            files.write_new(target, kept.job)
        except FileError:
            if not os.path.lexists(target):
                raise
        else:
            return target
    raise FileError([Fault("", f"{MOST_COPIES} files are called {stem}: move some away")])
