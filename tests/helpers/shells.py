"""bash, zsh and fish as someone types in them: keys in, the words that reach the command out.

In each, `drapetemplate` is a small program that hands its words to the test's own process: what a
shell asks while one types is answered there, by the code that the real command calls, and what is
run at last is kept. So a key costs no start of the tool, and nothing rests on time: a line typed
ends in a command run, and a wait that doesn't end fails the test.
"""

from __future__ import annotations

import json
import os
import pty
import queue
import select
import shlex
import shutil
import signal
import socket
import sys
import threading
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import pytest
import typer

from drapetemplate.cli import completion
from drapetemplate.cli.app import app
from drapetemplate.cli.completion_scripts import VARIABLE, install

PATIENCE = 60
MUST = "DRAPETEMPLATE_MUST_HAVE_SHELLS"
"""Set where a shell that isn't there is a fault, and no reason to skip a test: .ci/run sets it."""

_CLIENT = f"""
import json, os, socket, sys
asked = [os.environ.get({VARIABLE!r}), sys.argv[1:]]
with socket.socket(socket.AF_UNIX) as server:
    server.connect({{path!r}})
    server.sendall(json.dumps(asked).encode() + b"\\n")
    while said := server.recv(65536):
        sys.stdout.buffer.write(said)
"""


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
        self._server = socket.socket(socket.AF_UNIX)
        self._server.bind(str(own / "s"))
        self._server.listen()
        threading.Thread(target=self._serve, daemon=True).start()
        (own / "client.py").write_text(_CLIENT.format(path=str(own / "s")))
        tool = own / "bin" / "drapetemplate"
        start = shlex.join([sys.executable, "-IS", str(own / "client.py")])
        tool.write_text(f'#!/bin/sh\nexec {start} "$@"\n')
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
        self._server.close()

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
            try:
                client, _ = self._server.accept()
            except OSError:
                return
            with client, client.makefile("rb") as asking:
                shell, words = json.loads(asking.readline())
                if shell is None:
                    self._ran.put(words)
                else:
                    client.sendall(_answer(shell, words, self._program))


def _answer(shell: str, words: list[str], program: Any) -> bytes:  # noqa: ANN401  # typer's
    lines = completion.answer(shell, words, program)
    return "".join(f"{line}\n" for line in lines).encode()
