"""What starts the desk from a computer's desktop: a file to press, written only when asked for.

Pure functions give the file's text for each system; `write_starter` puts it there. It runs the very
Python that runs now, in the folder of the jobs and in a terminal, which ends the desk as it closes.
"""

from __future__ import annotations

import shlex
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import Fault, FileError

NAME = "Drapetemplate desk"
ICON = Path(__file__).parent / "static" / "icon.svg"


# Readers of desktop entries look for the program before they read a %% in its name as a %. And a
# terminal closes with what it runs: a fault is to be read first.
_RUN = ("/bin/sh", "-c", """"$0" "$@" || { printf 'Press Enter. '; read -r _; }""")


@dataclass(frozen=True, slots=True)
class Starter:
    """A starter's file name, its text, and what its user may have to be told once it is there."""

    file_name: str
    text: str
    hint: str = ""


def desktop_entry(command: Sequence[str], folder: str) -> Starter:
    """Return a starter for Linux and its like, as the Desktop Entry Specification 1.5 has them.

    `command` is the program and its arguments, `folder` the one to run it in.
    """
    lines = [
        "[Desktop Entry]",
        "Type=Application",
        f"Name={NAME}",
        "Comment=Panels as their measures are typed",
        f"Exec={_escaped(' '.join(map(_exec_word, (*_RUN, *command))))}",
        f"Path={_escaped(folder)}",
        f"Icon={_escaped(str(ICON))}",
        "Terminal=true",
    ]
    hint = "Where it doesn't start, press it with the right button and allow launching."
    return Starter(f"{NAME}.desktop", "".join(f"{line}\n" for line in lines), hint)


def _exec_word(word: str) -> str:
    r"""A word of an Exec line: in quotes, and no % is a field to fill in.

    >>> print(_exec_word('10 % "off" at $5'))
    "10 %% \"off\" at \$5"
    """
    for char in '\\"`$':
        word = word.replace(char, f"\\{char}")
    return f'"{word.replace("%", "%%")}"'


def _escaped(text: str) -> str:
    r"""Text as a value of a desktop entry, where a backslash begins an escape.

    >>> print(_escaped(r" a\b"))
    \sa\\b
    """
    text = text.replace("\\", "\\\\")
    return f"\\s{text[1:]}" if text.startswith(" ") else text


def shell_script(command: Sequence[str], folder: str) -> Starter:
    """Return a starter for macOS, where a .command file opens in a terminal."""
    text = f"#!/bin/sh\ncd {shlex.quote(folder)} || exit\nexec {shlex.join(command)}\n"
    return Starter(f"{NAME}.command", text)


def batch_file(command: Sequence[str], folder: str) -> Starter:
    """Return a starter for Windows; its window stays where the desk ends with a fault."""
    run = " ".join(map(_batch_word, command))
    lines = ["@echo off", "chcp 65001 >nul", f"cd /d {_batch_word(folder)}", f"{run} || pause"]
    return Starter(f"{NAME}.cmd", "".join(f"{line}\r\n" for line in lines))


def _batch_word(word: str) -> str:
    """A word of a batch file: in quotes, which no path of Windows has, and no % is a variable."""
    return f'"{word.replace("%", "%%")}"'


STARTERS: dict[str, Callable[[Sequence[str], str], Starter]] = {
    "darwin": shell_script,
    "win32": batch_file,
}
"""What makes a starter, by `sys.platform`; elsewhere it is a desktop entry."""


def starter_is_missing() -> bool:
    """Whether there could be a starter on this computer's desktop, and isn't."""
    path = starter_path()
    return _is_desktop(path.parent) and not path.exists()


def _is_desktop(folder: Path) -> bool:
    """Whether a folder is one; where there is no desktop, the home folder stands for it."""
    return folder.is_dir() and folder != Path.home()


def starter_path() -> Path:
    """Return where this computer's starter is, or would be."""
    from platformdirs import user_desktop_path  # noqa: PLC0415  # the desk alone doesn't need it

    return user_desktop_path() / _starter(["python"], "").file_name


def write_starter(job: Path | None) -> tuple[Path, str]:
    """Write a starter of the desk for a job file or a folder, or this one; its path, and a hint.

    FileError where this computer has no desktop, another file has its name, or it can't be written.
    """
    path = starter_path()
    if not _is_desktop(path.parent):
        text = "is no folder of a desktop, so there is none to put a starter on"
        raise FileError([Fault(str(path.parent), text)])
    at = (job or Path()).resolve()
    is_file = job is not None and not at.is_dir()
    # Nothing that lies in the folder of the jobs is taken for a part of Python: -P.
    command = [sys.executable, "-P", "-m", "drapetemplate", "desk", *([at.name] * is_file)]
    folder = str(at.parent if is_file else at)
    for word in (*command, folder):
        if not word.isprintable():
            raise FileError([Fault("--starter", f"{word!r} can't be in a starter: rename it")])
    starter = _starter(command, folder)
    try:
        files.write_new(path, starter.text.encode(), runs=True)
    except FileError as error:
        if not path.exists():
            raise
        text = "is there already, and starts something else: remove or rename it first"
        raise FileError([Fault(str(path), text)]) from error
    return path, starter.hint


def _starter(command: Sequence[str], folder: str) -> Starter:
    return STARTERS.get(sys.platform, desktop_entry)(command, folder)
