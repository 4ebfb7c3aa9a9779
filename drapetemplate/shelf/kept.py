"""Files and folders in, the jobs that are kept in them out; nothing is written, nothing trusted.

A kept job is a job file, or a PDF that `make` wrote, which has the job file in it. Whatever else a
folder holds is passed over, each file with the reason. Of a PDF only a few short looks are taken
(`record/quick_read.py`), so that a thousand are soon looked through; one that is named itself is
read as `recall` reads it where these don't do.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Literal

from drapetemplate import files
from drapetemplate.errors import Fault, FileError, JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.record.attachment import MOST_PDF, PDF_TO_READ
from drapetemplate.record.quick_read import NoJobError, attached_job

Kind = Literal["job file", "PDF"]

SUFFIXES = (".toml", ".pdf")
"""How the names of files end that are looked into in a folder."""
NO_JOB_FILE = "no job file"

# A table or a key that only job files have: other programs' TOML files lie beside them.
_OF_A_JOB = re.compile(
    rb"^[ \t]*(?:\[{1,2}[ \t]*(?:job|eyelet|window)[ \t]*[\].]|(?:job|eyelet|window)[ \t]*[.=])",
    re.MULTILINE,
)


@dataclass(frozen=True, slots=True)
class Found:
    """A file to look into; `named` where it was given itself, not met in a folder.

    `why` not where it can't be: empty for a file that can.
    """

    path: Path
    named: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class Kept:
    """A job kept at `path`: its job file's bytes, as they are or as the PDF has them.

    `sheets` are those that the PDF has for its strips, or on a roll the roll's pages; None where
    that isn't known, as of a job file. `made_with` is the text of the settings that the PDF was
    made with, empty for none.
    """

    path: Path
    kind: Kind
    job: bytes
    sheets: int | None = None
    made_with: str = ""

    @property
    def identity(self) -> str:
        """The same for a job file and all PDFs made from these very bytes: their SHA-256."""
        return sha256(self.job).hexdigest()


def what_it_says(data: bytes) -> Hashable:
    """Return what tells a job file from others: the job it describes, or faulty bytes themselves.

    Equal for files that differ in a remark or a way of writing alone.
    """
    try:
        return read_job(data, "")
    except JobError:
        return data


@dataclass(frozen=True, slots=True)
class PassedOver:
    """A file that gave no job, and why, in a few words; `named` as for `Found`."""

    path: Path
    why: str
    named: bool = False


def find(paths: Iterable[Path]) -> list[Found]:
    """Return the files that paths stand for: a file itself, of a folder all job files and PDFs.

    Folders are looked through to their ends, what is hidden left out. FileError with a fault for
    each path that isn't there or can't be looked into.
    """
    found = []
    faults: list[Fault] = []
    for path in paths:
        try:
            if not path.is_dir():
                path.stat()
                found.append(Found(path, named=True))
                continue
            for each in files.walked(path, SUFFIXES):
                if isinstance(each, Fault):
                    found.append(Found(Path(each.where), why=each.text))
                else:
                    found.append(Found(each))
        except FileError as error:
            faults += error.faults
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            faults.append(Fault(str(path), f"can't be read: {reason.lower()}"))
    if faults:
        raise FileError(faults)
    return found


def look(found: Found) -> Kept | PassedOver:
    """Return the job kept in a file, or why there is none."""
    if found.why:
        return PassedOver(found.path, found.why, found.named)
    try:
        return _opened(found)
    except NoJobError as error:
        return _read_whole(found) if found.named else PassedOver(found.path, str(error))
    except FileError as error:
        return PassedOver(found.path, error.faults[0].text, found.named)


def kept_jobs(paths: Iterable[Path]) -> Iterator[Kept | PassedOver]:
    """Yield what each file gives that these paths stand for: see `find` and `look`."""
    return map(look, find(paths))


def _opened(found: Found) -> Kept | PassedOver:
    """The job in a file; NoJobError for a PDF without one, FileError for what can't be read."""
    path = found.path
    with files.opened_plain(path) as file:
        if path.suffix.lower() == ".pdf" or file.read_at(0, 5) == b"%PDF-":
            attached = attached_job(file.read_at, file.size, MOST_BYTES)
            return Kept(path, "PDF", attached.job, attached.sheets, attached.made_with)
        if file.size > MOST_BYTES:
            return PassedOver(path, f"over {MOST_BYTES:,} bytes, so no job file", found.named)
        data = file.read_at(0, MOST_BYTES)
    # One that was named is meant as a job file, and whoever reads it will say what it lacks.
    if found.named or _OF_A_JOB.search(data):
        return Kept(path, "job file", data)
    return PassedOver(path, NO_JOB_FILE)


def _read_whole(found: Found) -> Kept | PassedOver:
    """A PDF that a few looks weren't enough for, as `recall` reads it."""
    from drapetemplate.record import read  # noqa: PLC0415  # slow to load, seldom needed

    path = found.path
    try:
        pdf = files.read(path, MOST_PDF, PDF_TO_READ)
        job, made_with = read.job_and_settings_text(pdf, str(path), MOST_BYTES)
        return Kept(path, "PDF", job, made_with=made_with)
    except FileError as error:
        return PassedOver(path, error.faults[0].text, found.named)
