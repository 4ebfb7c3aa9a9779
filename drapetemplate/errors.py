"""The one family of errors: each carries every fault found, with its key or file.

A fault is something a user can mend: where it is, and what would be right.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: `where` is a key path or a file, `text` says what would be right."""

    where: str
    text: str

    def __str__(self) -> str:
        return f"{self.where}: {self.text}"


class DrapeError(Exception):
    """Takes the faults found; `exit_code` is what a command ends with on it."""

    exit_code = 2

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class JobError(DrapeError):
    """The job file can't be read, or asks for what can't be."""


class PaperError(DrapeError):
    """The paper, its margins or its overlap leave no room for a sheet."""


class FileError(DrapeError):
    """A file can't be read or written."""
