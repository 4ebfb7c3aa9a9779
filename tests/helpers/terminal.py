"""A command run at a pseudo-terminal, as someone at a keyboard would: what it asks, what one types.

Nothing rests on time: every line is typed once its prompt is there, and a wait that doesn't end
fails the test after far longer than any machine takes.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path
from types import TracebackType
from typing import Self

PATIENCE = 120
PROMPT = b"> "


class Session:
    """`python -m drapetemplate` with `words`, at a terminal of its own, so many `columns` wide."""

    def __init__(self, *words: str, cwd: Path, columns: int = 80) -> None:
        self.master, slave = pty.openpty()
        size = struct.pack("HHHH", 40, columns, 0, 0)
        fcntl.ioctl(slave, termios.TIOCSWINSZ, size)
        # The shell opens the terminal as the first of its session, so that Ctrl-C reaches it.
        run = 'exec "$@" <"$TERMINAL" >"$TERMINAL" 2>&1'
        command = ["sh", "-c", run, "sh", sys.executable, "-m", "drapetemplate", *words]
        given = {**os.environ, "TERMINAL": os.ttyname(slave), "PYTHONUTF8": "1"}
        given.pop("COLUMNS", None)
        # Held open until the shell has it: what was written would be lost with the last holder.
        self.slave: int | None = slave
        self.process = subprocess.Popen(command, cwd=cwd, env=given, start_new_session=True)
        self.text = ""

    def __enter__(self) -> Self:
        """The session itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End what still runs."""
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait(PATIENCE)
        self._let_go()
        os.close(self.master)

    def wait(self) -> str:
        """All that was printed since the last line typed, as far as the next prompt."""
        printed = b""
        while not printed.endswith(PROMPT):
            printed += self._more()
        self._let_go()  # whoever asks has opened the terminal
        return self._as_text(printed)

    def type(self, *lines: str) -> str:
        """Each line once it is asked for; all that was printed between the last and its prompt."""
        printed = ""
        for line in lines:
            printed = self.wait()
            os.write(self.master, f"{line}\n".encode())
        return printed

    def press(self, key: bytes) -> str:
        """A key such as Ctrl-C once there is a prompt; all that is printed until the end."""
        self.wait()
        self._listening()
        os.write(self.master, key)
        return self.rest()

    def rest(self) -> str:
        """All that is printed until the end; a few lines at most where nothing was asked."""
        if self.slave is not None:
            self.code()
            self._let_go()
        printed = b""
        while True:
            try:
                more = self._more()
            except OSError:  # Linux's way to say that nobody holds the terminal any more
                break
            if not more:
                break
            printed += more
        return self._as_text(printed)

    def code(self) -> int:
        """The exit code."""
        return self.process.wait(PATIENCE)

    def interrupt(self, number: signal.Signals) -> str:
        """A signal once there is a prompt; all that is printed until the end."""
        self.wait()
        self._listening()
        self.process.send_signal(number)
        return self.rest()

    def _listening(self) -> None:
        """Wait until the command sleeps for a while, which after a prompt it does only to read.

        A signal that comes just before it does so is seen by Python only after a line more; and
        between prompt and reading it may sleep for a moment too.
        """
        state = Path(f"/proc/{self.process.pid}/stat")
        until = time.monotonic() + PATIENCE
        asleep = 0
        while state.exists() and asleep < 5:
            sleeps = state.read_text().rpartition(")")[2].split()[0] == "S"
            asleep = asleep + 1 if sleeps else 0
            assert time.monotonic() < until, f"it never reads after: {self.text[-2000:]}"
            time.sleep(0.01)

    def _let_go(self) -> None:
        """Close this end of the terminal's other side."""
        if self.slave is not None:
            os.close(self.slave)
            self.slave = None

    def _more(self) -> bytes:
        ready, _, _ = select.select([self.master], [], [], PATIENCE)
        assert ready, f"nothing more was printed after: {self.text[-2000:]}"
        return os.read(self.master, 65536)

    def _as_text(self, printed: bytes) -> str:
        text = printed.decode(errors="replace").replace("\r\n", "\n")
        self.text += text
        return text
