"""A command line as far as it is typed in, what a shell may offer for its next word out.

File names are left to the shell, which lists and quotes its own. What is offered from here, the
names of windows and printers among it, may come from a stranger's job file: it is quoted for the
shell that asks, and left out where that can't be done. Whatever goes wrong offers nothing: a shell
asks while its user types. The scripts that ask are in `completion_scripts.py`.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from drapetemplate import files
from drapetemplate.cli.completion_scripts import SHELLS
from drapetemplate.cli.shell_words import can_be_typed, completed_for_bash, read_line
from drapetemplate.errors import DrapeError

FILES = {
    "JOB": "toml",
    "PDF": "pdf",
    "PATH": "",
    "FILE.png|svg": "",
    "FILE.dxf|svg": "",
    "FOLDER": "",
    "FILE.pdf": "pdf",
    "JOB|PDF|FOLDER": "",
}
"""The words in help that stand for a file, each with the ending such files have, if any."""
FREE = {"WORD"}
"""The words in help that stand for what nobody can offer."""


@dataclass(frozen=True, slots=True)
class Offer:
    """What may come next: words, or files where `suffix` isn't None ("": with any ending).

    `prefix` is what stands before the words in one with them, as in --window=NAME.
    """

    words: tuple[str, ...] = ()
    suffix: str | None = None
    prefix: str = ""


def printer_names(_jobs: Sequence[str]) -> Iterator[str]:
    """Yield calibrated printers' names."""
    from drapetemplate.printers import store

    with suppress(DrapeError):
        yield from (printer.name for printer in store.known())


def window_names(jobs: Sequence[str]) -> Iterator[str]:
    """Yield names of the windows of these jobs."""
    from drapetemplate.job.build import read_job
    from drapetemplate.job.parse import MOST_BYTES

    for path in jobs:
        # A shell hands on ~ as it was typed.
        with suppress(DrapeError, RuntimeError):
            job = read_job(files.read(Path(path).expanduser(), MOST_BYTES), path)
            yield from (window.name for window in job.windows)


def stop_codes(_jobs: Sequence[str]) -> Iterator[str]:
    """Yield what --accept takes."""
    from drapetemplate.planning.codes import STOP_CODES

    yield from STOP_CODES


def paper_sizes(_jobs: Sequence[str]) -> Iterator[str]:
    """Yield the sheets that a job may name."""
    from drapetemplate.job.paper_sizes import SHEETS

    yield from SHEETS


OFFERS: dict[str, Callable[[Sequence[str]], Iterator[str]]] = {
    "--window": window_names,
    "--printer": printer_names,
    "--forget": printer_names,
    "--accept": stop_codes,
    "--paper": paper_sizes,
    "--show-completion": lambda _jobs: iter(SHELLS),
    "--install-completion": lambda _jobs: iter(SHELLS),
}
"""What each option's value may be, from the jobs on the line; others offer files or nothing."""


def answer(shell: str, words: Sequence[str], program: Any) -> list[str]:  # noqa: ANN401  # typer's
    """Return the lines that a shell's script reads: "words" and a word a line, or "files SUFFIX".

    `words` are what the script hands over: the words typed and the one begun, or from bash the line
    and its end that will be replaced. `program` is the command that typer made of the app.
    """
    if shell not in SHELLS or not words:
        return []
    if shell == "bash":
        line, replaced = words[0], words[-1]
        typed = read_line(line)
        offer = offered(program, typed.words[1:], typed.begun)
        values = [f"{offer.prefix}{word}" for word in offer.words]
        lines = completed_for_bash(values, line, replaced)
    else:
        offer = offered(program, words[:-1], words[-1])
        lines = [f"{offer.prefix}{word}" for word in offer.words if can_be_typed(word)]
    if offer.suffix is not None:
        return [f"files {offer.suffix}".strip()]
    return ["words", *dict.fromkeys(lines)]


def offered(program: Any, words: Sequence[str], begun: str) -> Offer:  # noqa: ANN401  # typer's
    """Return what may stand next after these words where `begun` is typed of it already."""
    name = next((word for word in words if not word.startswith("-")), None)
    command = program if name is None else program.commands.get(name)
    options = {} if command is None else _options(command)
    line = _read(words if name is None else words[words.index(name) + 1 :], options)
    if line.waiting:
        return _offer_value(line.waiting, options, line.files)
    option, equals, _ = begun.partition("=")
    if begun.startswith("-") and not line.only_files:
        if equals:
            return _offer_value(option, options, line.files, f"{option}=")
        return Offer(tuple(options))
    if name is None:
        return Offer(tuple(program.commands))
    for param in command.params if command else ():
        # One that takes several takes any number.
        if param.param_type_name == "argument" and not (line.files and param.nargs == 1):
            return Offer(suffix=FILES.get(param.metavar))
    return Offer()


@dataclass(slots=True)
class _Line:
    """The words after a command's name: its files, and the option whose value comes next, or ""."""

    files: list[str]
    waiting: str = ""
    only_files: bool = False


def _read(words: Sequence[str], options: Mapping[str, str]) -> _Line:
    line = _Line([])
    for word in words:
        if line.waiting:
            line.waiting = ""
        elif line.only_files or not word.startswith("-"):
            line.files.append(word)
        elif word == "--":
            line.only_files = True
        elif options.get(word):
            line.waiting = word
    return line


def _options(command: Any) -> dict[str, str]:  # noqa: ANN401  # typer's
    """Return a command's options, each with the word in help for its value, "" for none."""
    options = {"--help": ""}
    for param in command.params:
        if param.param_type_name == "option" and not param.hidden:
            options |= dict.fromkeys(param.opts, "" if param.is_flag else param.metavar or "VALUE")
    return options


def _offer_value(
    option: str, options: Mapping[str, str], jobs: Sequence[str], prefix: str = ""
) -> Offer:
    if option in OFFERS:
        return Offer(tuple(OFFERS[option](jobs)), prefix=prefix)
    return Offer(suffix=FILES.get(options.get(option, "")), prefix=prefix)


def print_answer(shell: str, words: Sequence[str], program: Any) -> None:  # noqa: ANN401  # typer's
    """Print the answer in the bytes that file names have here."""
    lines = b""
    for line in answer(shell, words, program):
        with suppress(UnicodeEncodeError):
            lines += os.fsencode(f"{line}\n")
    with suppress(OSError):
        os.write(1, lines)
