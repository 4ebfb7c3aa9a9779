"""A desk as its user starts it, spoken to over sockets: by JSON, or by bytes of any kind."""

from __future__ import annotations

import json
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from typing import Any

import pytest

from tests.helpers.commands import TOOL, around

PATIENCE = 30.0
"""Seconds in which a busy machine does what takes a tenth of one."""
PAGE = "page-1"
SHORT = 0.6
"""Seconds that a hasty desk waits for the rest of a request."""
HASTY = (
    sys.executable,
    "-c",
    (
        "from drapetemplate.cli import main\n"
        "from drapetemplate.desk import guard, server\n"
        f"guard.BODY_TIME = server.HEAD_TIME = {SHORT}\n"
        "main()"
    ),
)
"""What starts the tool with a desk that doesn't wait as long as the real one."""


@dataclass(frozen=True)
class Answer:
    """What the desk answered: status, headers by their names in lower case, and the body."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def json(self) -> dict[str, Any]:
        """The body's object."""
        told = json.loads(self.body)
        assert isinstance(told, dict)
        return told

    @property
    def faults(self) -> list[str]:
        """The texts of its faults."""
        return [fault["text"] for fault in self.json["faults"]]


@dataclass
class RunningDesk:
    """A desk that runs: its process, the file that its standard error goes to, port and key."""

    process: subprocess.Popen[str]
    errors: Path
    port: int
    key: str
    printed: str

    def send(
        self,
        method: str,
        path: str,
        body: bytes | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Answer:
        """Send a request with these headers, and Host unless it is among them; what came back."""
        given = {"Host": f"127.0.0.1:{self.port}"} | dict(headers or {})
        connection = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        with closing(connection):
            connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            for name, value in given.items():
                connection.putheader(name, value)
            if body is not None and "Content-Length" not in given:
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body)
            with connection.getresponse() as came:
                headers = {name.lower(): value for name, value in came.getheaders()}
                return Answer(came.status, headers, came.read())

    def own_headers(self, page: str = PAGE) -> dict[str, str]:
        """The headers that the desk's own page sends."""
        return {
            "Host": f"127.0.0.1:{self.port}",
            "Origin": f"http://127.0.0.1:{self.port}",
            "Sec-Fetch-Site": "same-origin",
            "Content-Type": "application/json",
            "X-Desk-Key": self.key,
            "X-Desk-Page": page,
        }

    def ask(self, path: str, body: object, page: str = PAGE) -> Answer:
        """Ask as the desk's own page does."""
        return self.send("POST", path, json.dumps(body).encode(), self.own_headers(page))

    def start(self, page: str = PAGE) -> dict[str, Any]:
        """Begin as a page that is loaded does."""
        answer = self.ask("/start", {}, page)
        assert answer.status == 200, answer.body
        return answer.json

    def raw(self, data: bytes, wait: float = PATIENCE) -> bytes:
        """Send bytes as they are; all that comes back until the desk hangs up, or the time ends."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=wait) as connection:
            connection.sendall(data)
            came = b""
            try:
                while more := connection.recv(65536):
                    came += more
            except (TimeoutError, ConnectionResetError):
                pass
            return came

    def lives(self) -> bool:
        """Whether it still answers its page, and has said nothing on standard error."""
        answers = self.ask("/start", {}, "is-it-there").status == 200
        time.sleep(0.01)  # for what it has to say of a request before
        assert self.process.poll() is None
        assert self.errors.read_text() == ""
        return answers

    def end(self, number: int = signal.SIGINT) -> int:
        """End it by a signal; its exit code."""
        self.process.send_signal(number)
        return self.process.wait(PATIENCE)


@contextmanager
def running(
    folder: Path,
    *words: str,
    env: Mapping[str, str] | None = None,
    program: Sequence[str] = TOOL,
) -> Iterator[RunningDesk]:
    """A desk started in a folder, with what is typed behind `drapetemplate desk`."""
    errors = folder.parent / f"{folder.name}.stderr"
    with errors.open("w") as to_errors:
        process = subprocess.Popen(
            [*program, "desk", *words],
            cwd=folder,
            env=around({"PYTHONUNBUFFERED": "1", **(env or {})}),
            stdout=subprocess.PIPE,
            stderr=to_errors,
            text=True,
        )
    assert process.stdout is not None
    try:
        printed = ""
        for line in process.stdout:
            printed += line
            if found := re.search(r"http://127\.0\.0\.1:(\d+)/#([\w-]+)", line):
                yield RunningDesk(process, errors, int(found[1]), found[2], printed)
                break
        else:
            pytest.fail(f"the desk said no address: {printed} {errors.read_text()}")
    finally:
        if process.poll() is None:
            process.kill()
            process.wait()
        process.stdout.close()


def until(true: Any, within: float = PATIENCE) -> None:  # noqa: ANN401  # any function
    """Wait until a function says something true; fail when the time is over."""
    end = time.monotonic() + within
    while not true():
        assert time.monotonic() < end, "it didn't come true"
        time.sleep(0.02)
