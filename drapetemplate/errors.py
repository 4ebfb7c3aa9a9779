"""What is wrong in, one family of errors out: each carries every fault found.

A fault is something a user can mend: where it is, and what would be right.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: `where` is a key path or a file, `text` what was read and would be right.

    `source` is the file a key path is of, `line` the line of it, or of `where` where that is the
    file. Both are for people alone: two faults are equal whatever their lines.
    """

    where: str
    text: str
    line: int | None = field(default=None, compare=False)
    source: str = field(default="", compare=False)

    def __str__(self) -> str:
        """Return one line: file, line, key path and text, as far as they are known.

        >>> str(Fault("window[2].width", "missing", line=12, source="job.toml"))
        'job.toml, line 12: window[2].width: missing'
        """
        file = self.source or self.where
        line = "" if self.line is None else f", line {self.line}"
        key = f"{self.where}: " if self.source else ""
        return f"{file}{line}: {key}{self.text}"


class DrapeError(Exception):
    """All faults of one try, in the order they are told; a command ends with `exit_code` on it."""

    exit_code = 2

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class JobError(DrapeError):
    """A job file that can't be read, or that asks for what can't be."""


class StopError(DrapeError):
    """A job that can't be made as asked: stop findings that nobody has accepted."""

    exit_code = 1


class PaperError(DrapeError):
    """Paper whose size, margin or overlap leaves no room for a sheet."""


class FileError(DrapeError):
    """A file, or a word of the command line, that can't be used as it is."""
