"""Paths in, bytes out, with a limit; bytes in, files out, each whole or not at all.

Only here are files touched. Whatever the system refuses is a FileError that names the path.
"""

from __future__ import annotations

import errno
import io
import os
import re
import stat
import sys
import time
import unicodedata
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from drapetemplate.errors import Fault, FileError

BLOCK = 1 << 20
"""Bytes read at a time."""
STALE = 3600
"""Seconds after which a part of a file is what a killed run left: none takes so long to write."""
IS_THERE = "is there already: name another file with --out"
PATIENCE = 10
"""Seconds that a run waits for another one's lock."""


def read(path: Path, limit: int, noun: str = "job file") -> bytes:
    """Return a file's bytes, at most `limit`; FileError where it can't be read or holds more.

    `noun` is what the file should be, for the message.
    """
    try:
        with path.open("rb") as file:
            # A block at a time: one read asks for memory for `limit` bytes, whatever there is.
            data = io.BytesIO()
            while data.tell() <= limit and (block := file.read(BLOCK)):
                data.write(block)
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be read: {_reason(error)}")]) from error
    if data.tell() > limit:
        raise FileError([Fault(str(path), f"over {limit:,} bytes, so no {noun}")])
    return data.getvalue()


def starts_with(path: Path, start: bytes) -> bool:
    """Whether a plain file that can be read begins so; of a pipe nothing is taken."""
    try:
        if not path.is_file():
            return False
        with path.open("rb") as file:
            return file.read(len(start)) == start
    except (OSError, ValueError):
        return False


def write(path: Path, data: bytes, *, runs: bool = False, new: bool = False) -> None:
    """Write `data` to `path` whole: to a file beside it, which is then renamed over it.

    A file that `runs` is one that its user may start, one that is `new` replaces nothing. FileError
    where that can't be done; what stood at `path` then still stands.
    """
    # A name of its own for every write: runs at once, and what a killed run left, stay apart. Cut
    # short, since a name may be as long as a folder allows; no name at all is a folder.
    start = f".{path.name[:40]}."
    beside = path.parent / f"{start}{os.urandom(8).hex()}.part"
    try:
        _check_plain(path)
        # As an ordinary new file: the user's umask decides who may read it.
        mode = 0o777 if runs else 0o666
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            now = os.fstat(file.fileno()).st_mtime
        if new:
            _put_new(beside, path)
        else:
            beside.replace(path)
    except (OSError, ValueError) as error:
        with suppress(OSError, ValueError):
            beside.unlink()
        if new and isinstance(error, FileExistsError):
            raise FileError([Fault(str(path), IS_THERE)]) from error
        raise FileError([Fault(str(path), f"can't be written: {_reason(error)}")]) from error
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    _sweep(path.parent, start, now)


def _put_new(beside: Path, path: Path) -> None:
    """Rename a file to a name that is free; FileExistsError where it isn't any more."""
    try:
        os.link(beside, path)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError):  # a file system of one name a file: looked at, then done
        if os.path.lexists(path):
            raise FileExistsError(errno.EEXIST, IS_THERE) from None
        beside.replace(path)
    else:
        beside.unlink()


def _sweep(folder: Path, start: str, now: float) -> None:
    """Remove the parts of a file that killed runs left, once STALE by the folder's own clock.

    One from the future is as old: a clock was wrong then, or is now.
    """
    part = re.compile(re.escape(start) + r"[0-9a-f]{16}\.part")
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if part.fullmatch(entry.name) and abs(now - entry.stat().st_mtime) > STALE:
                Path(entry.path).unlink()


def listed(folder: Path, suffix: str) -> list[Path]:
    """Return a folder's files whose names end so, by name; FileError if it can't be looked into."""
    try:
        return sorted(path for path in folder.iterdir() if path.name.lower().endswith(suffix))
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(folder), f"can't be read: {_reason(error)}")]) from error


def walked(folder: Path, suffixes: Sequence[str]) -> Iterator[Path | Fault]:
    """Yield the files under a folder whose names end so, by name, those of inner folders after.

    What is hidden, its name beginning with a dot, is left out. Links to folders aren't followed,
    so that no circle is walked and nothing else on the disk is: each is a Fault, and so is an inner
    folder that can't be looked into. FileError where `folder` itself can't.
    """
    to_look_into = [folder]
    while to_look_into:
        here = to_look_into.pop()
        inner = []
        try:
            with os.scandir(here) as entries:
                listed_here = sorted(entries, key=lambda entry: entry.name)
        except (OSError, ValueError) as error:
            fault = Fault(str(here), f"can't be read: {_reason(error)}")
            if here is folder:
                raise FileError([fault]) from error
            yield fault
            continue
        for entry in listed_here:
            path = here / entry.name
            if entry.name.startswith("."):
                continue
            if entry.is_dir(follow_symlinks=False):
                inner.append(path)
            elif os.path.isdir(path):  # noqa: PTH112  # Path's own may raise
                yield Fault(str(path), "a link to a folder, which isn't followed: name it itself")
            elif entry.name.lower().endswith(tuple(suffixes)):
                yield path
        to_look_into += reversed(inner)


@dataclass(frozen=True, slots=True)
class PlainFile:
    """A file open to be read here and there; `size` is how many bytes it had as it was opened."""

    size: int
    _file: io.FileIO

    def read_at(self, offset: int, count: int) -> bytes:
        """Return at most `count` bytes from an offset on; fewer where the file ends before."""
        if not 0 <= offset < self.size:
            return b""
        self._file.seek(offset)
        data = b""
        while len(data) < count and (block := self._file.read(count - len(data))):
            data += block
        return data


@contextmanager
def opened_plain(path: Path) -> Iterator[PlainFile]:
    """A plain file, open for the block; FileError where it is none or can't be opened or read.

    A pipe or a device is refused and isn't waited for.
    """
    try:
        # Asked before as well: opening some devices does something.
        if not stat.S_ISREG(path.stat().st_mode):
            raise FileError([Fault(str(path), "not a plain file")])
        handle = os.open(
            path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        )
        with io.FileIO(handle) as file:
            state = os.fstat(handle)
            if not stat.S_ISREG(state.st_mode):
                raise FileError([Fault(str(path), "not a plain file")])
            yield PlainFile(state.st_size, file)
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be read: {_reason(error)}")]) from error


def make_folder(path: Path) -> None:
    """Make a folder at `path`, and those above it; FileError where that can't be done."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be made: {_reason(error)}")]) from error


def write_new(path: Path, data: bytes, *, runs: bool = False) -> bool:
    """Write `data` to `path` as `write` does, over nothing that is there; whether it was written.

    It isn't where these very bytes are there. FileError where others are, also those that another
    run has put there meanwhile.
    """
    if os.path.lexists(path):
        with suppress(OSError):
            if path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data:
                return False
        raise FileError([Fault(str(path), IS_THERE)])
    write(path, data, runs=runs, new=True)
    return True


def add_line(path: Path, line: str) -> bool:
    """Add a line to a text file, or begin one with it; False where the line is there already.

    Added in place, since the file is its user's own, with its rights, or a link. FileError where it
    can't be written.
    """
    try:
        text = path.read_bytes() if path.exists() else b""
        if line.encode() in text.splitlines():
            return False
        with path.open("ab") as file:
            file.write(b"\n" * (not text.endswith(b"\n") and bool(text)) + f"{line}\n".encode())
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be written: {_reason(error)}")]) from error
    return True


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Keep other runs that lock `path` waiting for the block: one at a time changes what is there.

    The lock is the system's own, on a file beside, so it ends with the run that has it. FileError
    where another run keeps it for PATIENCE seconds, or that file can't be made.
    """
    beside = path.with_name(f"{path.name}.lock")
    try:
        # Never removed: a run that waits for it would then lock what nobody else can see.
        handle = os.open(beside, os.O_RDWR | os.O_CREAT, 0o666)
    except (OSError, ValueError) as error:
        raise FileError([Fault(str(path), f"can't be written: {_reason(error)}")]) from error
    try:
        until = time.monotonic() + PATIENCE
        while not _lock(handle):
            if time.monotonic() > until:
                text = f"another run has kept it locked for {PATIENCE} s: try again"
                raise FileError([Fault(str(path), text)])
            time.sleep(0.02)
        yield
    finally:
        os.close(handle)  # which unlocks it


def _lock(handle: int) -> bool:
    """Return whether an open file's lock is ours now; a file system without locks says yes."""
    try:
        if sys.platform == "win32":
            import msvcrt  # noqa: PLC0415  # Windows alone has it

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl  # noqa: PLC0415  # and this one everyone else

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return not isinstance(error, BlockingIOError | PermissionError)
    return True


def _check_plain(path: Path) -> None:
    """FileError for a device or a pipe, as /dev/null: a rename would put a plain file there."""
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise FileError([Fault(str(path), "can't be written: not a plain file")])


def _reason(error: OSError | ValueError) -> str:
    """Return the system's own words for what went wrong, without the path it repeats."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror.lower()
    return str(error)


LONGEST_PART = 60
"""Letters of a text that a file's name takes."""
LONGEST_NAME = 200
"""Bytes that a file's name may have here: 255 are common (ext4, APFS), some for what is added."""
# Names that stand for a device on Windows, whatever follows their first dot, spaces before it left
# aside (Microsoft, "Naming Files, Paths, and Namespaces", from memory).
_DEVICES = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in "123456789")}


def file_part(text: str, most_bytes: int = LONGEST_NAME) -> str:
    """Return any text as part of a file's name: it can't leave its folder, hide, or be a device.

    Letters and their accents are kept, composed as most systems write them; at most LONGEST_PART
    of them, and no more than fit into `most_bytes` of UTF-8 (but one, where not even that fits).

    >>> file_part("../North window: bay"), file_part("con")
    ('_North window_ bay', '_con')
    """
    composed = unicodedata.normalize("NFC", text)
    plain = "".join(
        char if char.isalnum() or _is_accent(char) or char in " -_,.()" else "_"
        for char in composed
    )
    plain = " ".join(plain.split())[:LONGEST_PART].encode()[:most_bytes].decode(errors="ignore")
    plain = plain.strip(" .")
    if plain.split(".")[0].rstrip().lower() in _DEVICES:
        plain = f"_{plain}"
    return plain or "_"


def _is_accent(char: str) -> bool:
    """Whether it is written on the letter before it, as the vowels of Hindi are."""
    return unicodedata.category(char) in {"Mn", "Mc"}
