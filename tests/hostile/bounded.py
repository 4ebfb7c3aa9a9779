"""The command line run as a user runs it, but bounded: a process of its own, so long, so large.

A process is forked for each run, so that what is imported is imported once; what hangs is killed,
and what would take more memory than a small machine has gets none.
"""

from __future__ import annotations

import os
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO, NoReturn

from drapetemplate.cli import main
from tests.helpers import loaded  # noqa: F401  # by every run that is forked

SECONDS = 60
MEMORY = 1_500_000_000


@dataclass(frozen=True)
class Ended:
    """How a run ended: its exit code, None where it was killed for taking too long."""

    code: int | None
    out: bytes
    err: bytes

    def wrong(self) -> str:
        """What no run may do, whatever it was given, in a few words; "" where it did none."""
        said = self.err + self.out
        for wrong, words in (
            (self.code is None, "it didn't end"),
            (b"Traceback" in said, f"it broke: {said.decode(errors='replace')[-600:]}"),
            (self.code not in {0, 1, 2}, f"its exit code was {self.code}"),
            (self.code and not said.strip(), "it failed without a word"),
            (self.code == 2 and not self.err.strip(), "its fault isn't on standard error"),
            (unsafe(said), f"it says {unsafe(said)!r}"),
        ):
            if wrong:
                return words
        return ""


def unsafe(said: bytes) -> str:
    """Characters that could change a terminal or hide text: all that don't print but newlines."""
    text = said.decode("utf-8", errors="surrogateescape")
    return "".join(sorted({one for one in text if one != "\n" and not one.isprintable()}))


def ended(
    words: Sequence[object],
    folder: Path,
    seconds: float = SECONDS,
    env: Mapping[str, str | None] | None = None,
    first: Callable[[], None] | None = None,
) -> Ended:
    """Run the command line with these words in a folder.

    `env` goes over the tests' own environment, None taking a name out; `first` is called in the
    child before all else.
    """
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        child = os.fork()
        if not child:
            for name, value in (env or {}).items():
                if value is None:
                    os.environ.pop(name, None)
                else:
                    os.environ[name] = value
            _run([str(word) for word in words], folder, out, err, first)
        code = _wait(child, seconds)
        out.seek(0)
        err.seek(0)
        return Ended(code, out.read(), err.read())


def _wait(child: int, seconds: float) -> int | None:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.002)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _run(
    words: list[str],
    folder: Path,
    out: IO[bytes],
    err: IO[bytes],
    first: Callable[[], None] | None,
) -> NoReturn:
    """The child's whole life."""
    code = 99
    try:
        os.dup2(out.fileno(), 1)
        os.dup2(err.fileno(), 2)
        sys.stdout = os.fdopen(1, "w", encoding="utf-8", closefd=False)
        sys.stderr = os.fdopen(2, "w", encoding="utf-8", closefd=False)
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        os.chdir(folder)
        if first is not None:
            first()
        sys.argv = ["drapetemplate", *words]
        main()
    except SystemExit as done:
        code = done.code if isinstance(done.code, int) else 0 if done.code is None else 98
    except BaseException:  # noqa: BLE001  # anything else is what a run may not do
        traceback.print_exc()
    finally:
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:
                stream.flush()
        os._exit(code)
