"""The two ends that touch files: bytes read with a limit, bytes written whole or not at all."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from drapetemplate.errors import Fault, FileError


def read(path: Path, limit: int, noun: str = "job file") -> bytes:
    """A file's bytes, at most `limit`; FileError where it can't be read or holds more.

    `noun` is what the file should be, for the message.
    """
    try:
        with path.open("rb") as file:
            data = file.read(limit + 1)
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be read: {_reason(error)}")]) from error
    if len(data) > limit:
        raise FileError([Fault(str(path), f"over {limit:,} bytes, so no {noun}")])
    return data


def write(path: Path, data: bytes) -> None:
    """Put `data` at `path` whole: written beside it, then renamed over it.

    FileError where that can't be done; what stood at `path` then still stands.
    """
    # Cut short, since a name may be as long as a folder allows; no name at all is a folder.
    beside = path.parent / f".{path.name[:40]}.{os.getpid()}.part"
    try:
        _check_plain(path)
        # As an ordinary new file: the user's umask decides who may read it.
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except (OSError, ValueError) as error:
        with suppress(OSError, ValueError):
            beside.unlink()
        raise FileError([Fault(str(path), f"can't be written: {_reason(error)}")]) from error
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise


def listed(folder: Path, suffix: str) -> list[Path]:
    """A folder's own files whose names end so, by name; FileError where it can't be looked into."""
    try:
        return sorted(path for path in folder.iterdir() if path.name.lower().endswith(suffix))
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(folder), f"can't be read: {_reason(error)}")]) from error


def make_folder(path: Path) -> None:
    """A folder at `path`, and those above it; FileError where that can't be done."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be made: {_reason(error)}")]) from error


def write_new(path: Path, data: bytes) -> None:
    """As `write`, but FileError where something else is at `path` already; its own bytes may be."""
    if os.path.lexists(path):
        if path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data:
            return
        raise FileError([Fault(str(path), "is there already: name another file with --out")])
    write(path, data)


def _check_plain(path: Path) -> None:
    """FileError for a device or a pipe, /dev/null say: a rename would put a plain file there."""
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise FileError([Fault(str(path), "can't be written: not a plain file")])


def _reason(error: OSError | ValueError) -> str:
    """The system's own words for what went wrong, without the path it repeats."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror.lower()
    return str(error)
