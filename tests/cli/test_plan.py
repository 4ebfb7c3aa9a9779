"""plan and compare as a user sees them: in terminals of any width, in pipes, in the C locale."""

from __future__ import annotations

import fcntl
import os
import pty
import struct
import subprocess
import termios
from pathlib import Path

import pytest
from rich.cells import cell_len

from tests.helpers.commands import TOOL, around, typed
from tests.helpers.jobfiles import job_toml

LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54'
C_LOCALE = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A pair with a seam a panel and a finding."""
    path = tmp_path / "linen_store.toml"
    path.write_text(job_toml(LONG, tables=LINEN), encoding="utf-8")
    return path


def environment(**more: str) -> dict[str, str | None]:
    """UTF-8, and nothing that says how wide a terminal is."""
    return {"COLUMNS": None, "LINES": None, "PYTHONUTF8": "1", "TERM": "xterm", **more}


def piped(*words: object, **more: str) -> str:
    """What a pipe gets."""
    done = typed(*words, env=environment(**more))
    assert done.stderr == b""
    return done.stdout.decode()


def typed_at(columns: int, *words: object, **more: str) -> list[str]:
    """The lines a terminal of so many columns gets."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 40, columns, 0, 0))
    command = [*TOOL, *map(str, words)]
    with subprocess.Popen(
        command,
        stdin=theirs,
        stdout=theirs,
        stderr=subprocess.PIPE,
        env=around(environment(**more)),
    ) as process:
        os.close(theirs)
        seen = b""
        while True:
            try:
                read = os.read(ours, 65536)
            except OSError:  # how Linux says that the other end is closed
                break
            if not read:
                break
            seen += read
        os.close(ours)
        assert process.stderr is not None
        assert process.stderr.read() == b""
    return seen.decode().split("\r\n")


@pytest.mark.parametrize("columns", [40, 100])
@pytest.mark.parametrize("command", ["plan", "compare"])
def test_terminal(job: Path, columns: int, command: str) -> None:
    """Lines wrap at the terminal's own width, and use what there is of it."""
    lines = typed_at(columns, command, job)
    widest = max(map(cell_len, lines))
    assert columns - 12 <= widest <= columns
    assert "\x1b" not in "".join(lines)  # nothing depends on colour: there is none


def test_terminal_that_gives_its_width_otherwise(job: Path) -> None:
    """COLUMNS counts for a terminal, as it does for other programs; no width at all means 80."""
    assert max(map(cell_len, typed_at(100, "plan", job, COLUMNS="60"))) <= 60
    assert 60 < max(map(cell_len, typed_at(0, "plan", job))) <= 80


def test_pipe_keeps_its_lines(job: Path) -> None:
    """A pipe's lines are whole, so that they can be searched; the picture takes 80 columns."""
    text = piped("plan", job)
    (note,) = [line for line in text.splitlines() if "extra-width" in line]
    assert note.endswith("6 eyelets a panel hide all with that many")
    assert max(len(line) for line in text.splitlines() if line.startswith("  ┌")) == 80
    assert text == piped("plan", job, COLUMNS="40")
    assert any(len(line) > 100 for line in piped("compare", job).splitlines())


@pytest.mark.parametrize("command", ["plan", "compare"])
def test_plain(job: Path, command: str) -> None:
    """--plain is the same in a terminal and in a pipe: a fact a line, ASCII, no columns."""
    text = piped(command, job, "--plain")
    assert text.isascii()
    assert "  " not in text
    assert [line for line in text.splitlines() if ": " not in line] == []
    assert typed_at(40, command, job, "--plain", TERM="dumb") == text.split("\n")


def test_plain_leaves_json_alone(job: Path) -> None:
    """With --json there is nothing to make plainer."""
    assert piped("plan", job, "--json", "--plain") == piped("plan", job, "--json")


@pytest.mark.parametrize("command", ["plan", "compare"])
@pytest.mark.parametrize("more", [C_LOCALE, {"PYTHONUTF8": "0", "PYTHONIOENCODING": "cp437"}])
def test_poor_encodings(job: Path, command: str, more: dict[str, str]) -> None:
    """Where signs can't be shown, ASCII stands in for them; nothing is left escaped."""
    text = piped(command, job, **more)
    assert text.isascii()
    assert "\\" not in text
    assert ("o  F  o  B" in text) == (command == "plan")


@pytest.mark.parametrize("more", [{}, C_LOCALE])
def test_control_characters_in_names(tmp_path: Path, more: dict[str, str]) -> None:
    """Escape sequences and bidi marks of any name reach no terminal, whatever the form."""
    bad = "a\\u001b]0;x\\u0007b\\nc\\u202ed"
    path = tmp_path / "job.toml"
    tables = f'[fabric]\nname = "{bad}"\nwidth = 54'
    text = job_toml(f'name = "{bad}"\n{LONG}', tables=tables, job=f'number = "{bad}"')
    path.write_text(text, encoding="utf-8")
    for command in ("plan", "compare"):
        for words in ((), ("--plain",)):
            shown = "\n".join(typed_at(60, command, path, *words, **more))
            assert {"\x1b", "\x07", "\u202e"}.isdisjoint(shown)
            assert "b c" in shown
