"""bash, zsh and fish as someone types in them: keys in, the words that reach the command out.

In each, `drapetemplate` is a small program that hands its words to the test's own process: what a
shell asks while one types is answered there, by the code that the real command calls, and what is
run at last is kept. So a key costs no start of the tool, and nothing rests on time: a line typed
ends in a command run, and a wait that doesn't end fails the test.
"""

from __future__ import annotations

import os
import pty
import queue
import select
import shlex
import shutil
import signal
import threading
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

import pytest
import typer

from drapetemplate.cli import completion
from drapetemplate.cli.app import app
from drapetemplate.cli.completion_install import install
from drapetemplate.cli.completion_scripts import VARIABLE

PATIENCE = 60
MUST = "DRAPETEMPLATE_MUST_HAVE_SHELLS"
"""Set where a shell that isn't there is a fault, and no reason to skip a test: .ci/run sets it."""


def needs(shell: str) -> str:
    """The path of a shell; the test is skipped without it, or fails where it must be there."""
    path = shutil.which(shell)
    if path is None:
        if os.environ.get(MUST):
            pytest.fail(f"{shell} isn't installed")
        pytest.skip(f"{shell} isn't installed: apt-get install {shell}")
    return path


class Shell:
    """A shell at a terminal of its own, in `folder`, with the completion installed."""

    def __init__(self, name: str, folder: Path) -> None:
        self.name = name
        path = needs(name)
        own = folder.parent / f"{folder.name}-{name}"
        (own / "bin").mkdir(parents=True)
        self._ran: queue.Queue[list[str]] = queue.Queue()
        self._program = typer.main.get_command(app)
        self._ask, self._answer = own / "ask", own / "answer"
        os.mkfifo(self._ask)
        os.mkfifo(self._answer)
        self._ended = False
        threading.Thread(target=self._serve, daemon=True).start()
        tool = own / "bin" / "drapetemplate"
        ask, answer = (shlex.quote(str(path)) for path in (self._ask, self._answer))
        # What is asked goes out by one pipe, NUL between its words; the answer comes by another.
        tool.write_text(
            "#!/bin/sh\n"
            f'printf \'%s\\0\' "${{{VARIABLE}-}}" "$@" >{ask}\n'
            f'[ -z "${{{VARIABLE}-}}" ] || cat {answer}\n'
        )
        tool.chmod(0o755)
        environment = {
            **os.environ,
            "HOME": str(own),
            "XDG_CONFIG_HOME": str(own),
            "XDG_DATA_HOME": str(own),
            "ZDOTDIR": str(own),
            "PATH": f"{own / 'bin'}:{os.environ['PATH']}",
            "LC_ALL": "C.UTF-8",
            "TERM": "xterm",
        }
        install(name, environment)
        words = {
            "bash": [path, "--noprofile", "--rcfile", str(own / ".bashrc"), "-i"],
            "zsh": [path, "-d", "-i"],  # -d: none of the machine's own start files
            "fish": [path, "-i"],
        }[name]
        self._process, self._terminal = pty.fork()
        if not self._process:
            os.chdir(folder)
            os.execve(path, words, environment)  # noqa: S606  # the shell under test
        self.screen = b""

    def __enter__(self) -> Self:
        """The shell itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End it."""
        os.kill(self._process, signal.SIGKILL)
        os.waitpid(self._process, 0)
        os.close(self._terminal)
        self._ended = True
        with suppress(OSError):  # nobody reads any more
            os.close(os.open(self._ask, os.O_WRONLY | os.O_NONBLOCK))

    def type(self, keys: str) -> list[str]:
        """Type keys and Enter; the words with which the command was run."""
        os.write(self._terminal, f"{keys}\r".encode())
        for _ in range(PATIENCE * 100):
            if select.select([self._terminal], [], [], 0.01)[0]:
                self.screen += os.read(self._terminal, 65536)
            try:
                return self._ran.get_nowait()
            except queue.Empty:
                continue
        pytest.fail(f"nothing was run: {self.screen[-2000:].decode(errors='replace')}")

    def _serve(self) -> None:
        """Answer until the shell is ended."""
        while True:
            asked = self._ask.read_bytes()
            if self._ended:
                return
            shell, *words, _ = asked.decode().split("\0")
            if not shell:
                self._ran.put(words)
                continue
            lines = completion.answer(shell, words, self._program)
            self._answer.write_text("".join(f"{line}\n" for line in lines))
