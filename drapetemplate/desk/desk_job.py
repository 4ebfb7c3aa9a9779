"""The folder that the desk was started for, and the job file open in it, with its bytes as read."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.parse import MOST_BYTES


@dataclass(slots=True)
class DeskJob:
    """A folder; of the open job file its name in it, and its bytes as they were read last."""

    folder: Path
    name: str | None = None
    data: bytes = b""

    @property
    def revision(self) -> str | None:
        """What tells the open file's bytes from others; None where none is open."""
        return None if self.name is None else revision_of(self.data)


def opened(path: Path | None) -> DeskJob:
    """Return the desk's job: the file at `path`, or a new one in the folder there, or in this one.

    FileError where the file can't be read, or isn't in a folder that is there.
    """
    if path is None or path.is_dir():
        return DeskJob((path or Path()).resolve())
    data = files.read(path, MOST_BYTES)
    if path.name in {"", ".", ".."}:
        raise FileError([Fault(str(path), "names no file")])
    return DeskJob(path.parent.resolve(), path.name, data)


def revision_of(data: bytes) -> str:
    """Return what tells a file's bytes from any others."""
    return hashlib.sha256(data).hexdigest()
