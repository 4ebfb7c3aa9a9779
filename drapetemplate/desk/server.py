"""The desk's server: uvicorn on the loopback, at a port of the system's choosing, for one run.

The key of the run is in the fragment of the page's address, which no browser sends and no other
user of the computer can read: the browser is started with the name of a file that only its user
may read, and that leads on to the address.
"""

from __future__ import annotations

import asyncio
import html
import logging
import os
import secrets
import signal
import socket
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import FrameType

import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

from drapetemplate.desk.app import build
from drapetemplate.desk.desk_job import DeskJob
from drapetemplate.desk.guard import Guard
from drapetemplate.errors import Fault, FileError

LOOPBACK = "127.0.0.1"
KEY_BYTES = 24
HEAD_TIME = 10.0
"""Seconds in which the head of a request is to be there whole."""
MOST_CONNECTIONS = 64
_SIGNALS = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")


def serve(job: DeskJob, say: Callable[[str], None], show: Callable[[Path], None] | None) -> None:
    """Serve the desk until a signal ends it, as Ctrl-C does.

    `say` is told the page's address; `show` is given a file that leads a browser there, None leaves
    browsers alone. FileError where the computer has no port left.
    """
    key = secrets.token_urlsafe(KEY_BYTES)
    listening = _listening()
    port = listening.getsockname()[1]
    address = f"http://{LOOPBACK}:{port}/#{key}"
    _quiet()
    config = uvicorn.Config(
        Guard(build(job), port, key),
        http=_Protocol,
        ws="none",
        loop="asyncio",
        lifespan="off",
        log_config=None,
        access_log=False,
        server_header=False,
        proxy_headers=False,
        limit_concurrency=MOST_CONNECTIONS,
        timeout_graceful_shutdown=1,
    )
    with listening, _leading_to(address) as lead:
        say(address)
        if show is not None:
            show(lead)
        _Server(config).run([listening])


def _listening() -> socket.socket:
    """Return a socket that listens on the loopback alone; FileError where none can be had."""
    # Named TCP, since only of such a socket does asyncio send what is small at once (TCP_NODELAY):
    # else the second part of each answer waits 40 ms for the browser to confirm the first.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        listening.bind((LOOPBACK, 0))
        listening.listen(MOST_CONNECTIONS)
    except OSError as error:
        listening.close()
        reason = (error.strerror or str(error)).lower()
        raise FileError([Fault("desk", f"this computer gives it no port: {reason}")]) from error
    return listening


@contextmanager
def _leading_to(address: str) -> Iterator[Path]:
    """A page that leads to an address, in a folder and a file that only this user may read."""
    with tempfile.TemporaryDirectory(prefix="drapetemplate-", ignore_cleanup_errors=True) as folder:
        page = Path(folder) / "desk.html"
        handle = os.open(page, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(
                '<!doctype html><meta charset="utf-8"><title>The desk</title>\n'
                f'<meta http-equiv="refresh" content="0; url={html.escape(address)}">\n'
            )
        yield page


def _quiet() -> None:
    """Keep what uvicorn says of strangers' requests off the terminal: only what breaks is told."""
    to_terminal = logging.StreamHandler()
    to_terminal.setLevel(logging.ERROR)
    for name in ("uvicorn", "asyncio"):
        logger = logging.getLogger(name)
        logger.addHandler(to_terminal)
        logger.propagate = False


class _Server(uvicorn.Server):
    """A server that any signal to end ends quietly, with what is to be tidied up after it."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Let signals end the server, and nothing more."""
        before = {}
        for name in _SIGNALS:
            with suppress(AttributeError, ValueError):  # not every system has each
                number = getattr(signal, name)
                before[number] = signal.signal(number, self._end)
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def _end(self, number: int, frame: FrameType | None) -> None:
        # What is broken off now is no fault.
        logging.disable()
        self.handle_exit(number, frame)


class _Protocol(H11Protocol):
    """HTTP as uvicorn speaks it, with a time limit on a request's head."""

    _head_timer: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin with a connection: it has HEAD_TIME to ask for something."""
        super().connection_made(transport)
        self._limit_head()

    def data_received(self, data: bytes) -> None:
        """Take what came."""
        super().data_received(data)
        self._limit_head()

    def connection_lost(self, exc: Exception | None) -> None:
        """Leave a connection that has ended."""
        self._stop_timer()
        super().connection_lost(exc)

    def _limit_head(self) -> None:
        """See to it that the time runs exactly while a head is awaited, or only half there."""
        if self.cycle is not None and not self.cycle.response_complete:
            self._stop_timer()
        elif self._head_timer is None:
            self._head_timer = self.loop.call_later(HEAD_TIME, self._hang_up)

    def _hang_up(self) -> None:
        self._head_timer = None
        if self.cycle is None or self.cycle.response_complete:
            self.transport.close()

    def _stop_timer(self) -> None:
        if self._head_timer is not None:
            self._head_timer.cancel()
            self._head_timer = None
