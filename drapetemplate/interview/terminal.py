"""`drapetemplate new` at a terminal: reads lines, prints plain ones, keeps every answer at once.

What is answered stands in a draft beside the job file to come, and goes when that is written.
"""

from __future__ import annotations

import json
import os
import shlex
import shutil
import signal
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.files import file_part
from drapetemplate.interview import states
from drapetemplate.interview.job_text import job_text, yes_or_no
from drapetemplate.interview.states import BACK, Answer, State
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.job.schema import SCHEMA_NAME, schema_text
from drapetemplate.measures import printable
from drapetemplate.planning.plan import plan
from drapetemplate.report import plan_text
from drapetemplate.report.screen import Screen, needs_ascii
from drapetemplate.words.plan_words import counted

ENDED = 1
DRAFT = ".draft"
NO_NAME_YET = Path("new_job.toml")
"""Beside what the draft is kept while the job file has no name."""

_FORMAT = 1
_INDENT = "   "
_INTRO = (
    f"Type each answer and press Enter. ? explains the question, {BACK} goes to the one before. "
    "Ctrl-C ends, and nothing is lost."
)
_NO_TERMINAL = (
    "asks its questions at a terminal, and this is none: write a job file instead, from the least "
    "one in the README; `drapetemplate schema` tells an editor its keys"
)


@dataclass(frozen=True, slots=True)
class Terminal:
    """Where lines come from and go to."""

    typed: IO[str]
    shown: IO[str]

    def screen(self) -> Screen:
        """The terminal as it is now: its window may have changed."""
        ascii_only = needs_ascii(getattr(self.shown, "encoding", None) or "utf-8")
        return Screen(shutil.get_terminal_size().columns, ascii_only)

    def say(self, text: str = "", indent: str = "", rest: str | None = None) -> None:
        """A line, wrapped to the terminal, at once."""
        lines = self.screen().wrapped(text, indent, indent if rest is None else rest)
        self.shown.write("".join(f"{line}\n" for line in lines))
        self.shown.flush()

    def ask(self) -> str:
        """What is typed next, without its line's end; EOFError where there is nothing more."""
        self.shown.write("> ")
        self.shown.flush()
        line = self.typed.readline()
        if not line:
            raise EOFError
        return line.removesuffix("\n")


def ask(path: Path | None, typed: IO[str] | None, shown: IO[str] | None) -> int:
    """Ask for a job and write its file at `path`, or at a name that is asked last.

    Returns the exit code: ENDED where it was broken off, with the answers kept. FileError where
    there is no terminal, or no job file can go to `path`.
    """
    if typed is None or shown is None or not (typed.isatty() and shown.isatty()):
        raise FileError([Fault("new", _NO_TERMINAL)])
    target = None if path is None else target_of(path)
    draft = draft_of(target or NO_NAME_YET)
    reconfigure = getattr(typed, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")  # what isn't text in this terminal's encoding
    terminal = Terminal(typed, shown)
    with _ending_alike():
        try:
            return _asked(target, draft, terminal)
        except (KeyboardInterrupt, EOFError):
            with suppress(OSError):  # the terminal itself may be gone
                terminal.say()
                terminal.say(_kept(draft))
            return ENDED


def target_of(path: Path) -> Path:
    """Where a new job file goes: `path`, ending in .toml. FileError where it can't."""
    if os.path.isdir(path):  # noqa: PTH112  # Path's own raises on a name too long
        raise FileError([Fault(str(path), "is a folder: name a file in it, such as my_job.toml")])
    named = path.name.lower().endswith(".toml")
    target = path if named else path.with_name(f"{path.name}.toml")
    if os.path.lexists(target):
        raise FileError([Fault(str(target), "is there already: name another file")])
    if not os.path.isdir(target.parent):  # noqa: PTH112  # likewise
        raise FileError([Fault(str(target), "its folder isn't there: make it, or name another")])
    return target


def draft_of(target: Path) -> Path:
    """Where the answers are kept until the job file is there: NAME.toml.draft."""
    return target.with_name(f"{target.name}{DRAFT}")


def as_draft(state: State) -> bytes:
    """A state as a draft's bytes: its answers, and those taken back."""
    kept = {"format": _FORMAT, "answers": state.answers, "aside": state.aside}
    return json.dumps(kept, indent=1).encode()


def from_draft(data: bytes) -> tuple[list[Answer], list[Answer]] | None:
    """The answers in a draft's bytes, and those taken back; None where it is no draft."""
    try:
        kept = json.loads(data)
        if kept["format"] != _FORMAT:
            return None
        answers, aside = [
            [(_text(path), _text(text)) for path, text in kept[name]]
            for name in ("answers", "aside")
        ]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return answers, aside


def proposed(name: str, folder: Path) -> Path:
    """A name for the job file of a job called so, which nothing in the folder has yet."""
    plain = file_part("".join(one if one.isalnum() else " " for one in name.casefold()))
    stem = plain.replace(" ", "_").strip("_") or "job"
    names = (f"{stem}{'' if n == 1 else f'_{n}'}.toml" for n in range(1, 10_000))
    return next(folder / one for one in names if not os.path.lexists(folder / one))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value.encode("utf-8", "replace").decode()


@contextmanager
def _ending_alike() -> Iterator[None]:
    """A closed window or a system that shuts down ends it as Ctrl-C does."""
    before = {}
    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)  # Windows has no SIGHUP
        if number is not None:
            before[number] = signal.signal(number, signal.default_int_handler)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _asked(target: Path | None, draft: Path, terminal: Terminal) -> int:
    """All questions, then the job file, its plan and what to type next."""
    state = _begun(draft, terminal)
    files.write(draft, as_draft(state))  # at once, so that a folder that takes none is told now
    terminal.say(_INTRO)
    where = f"Your answers are kept in {draft} until the job file is written."
    terminal.say(where)
    under = ""
    while True:
        while not states.done(state):
            if states.heading(state) != under:
                under = states.heading(state)
                terminal.say()
                terminal.say(under.upper())
            terminal.say()
            question, *more = states.prompt(state)
            terminal.say(question, rest=_INDENT)
            for line in more:
                terminal.say(line, _INDENT)
            after, said = states.step(state, terminal.ask())
            if after != state:
                _keep(draft, after, terminal)
            for line in said:
                terminal.say(line, _INDENT)
            state = after
        written = _saved(target, state, terminal)
        if written is not None:
            break
        target = None
        state, _ = states.taken_back(state)
    with suppress(OSError):
        draft.unlink()
    _shown(written, terminal)
    return 0


def _begun(draft: Path, terminal: Terminal) -> State:
    """Where to begin: at a draft's answers, if there are any and they are wanted."""
    if not os.path.lexists(draft):
        return State()
    kept = from_draft(files.read(draft, MOST_BYTES, "draft"))
    if kept is None:
        terminal.say(f"{draft} can't be read as answers: it is now {_aside(draft)}.")
        return State()
    state = states.resumed(*kept)
    if not state.answers:
        return State()
    many = counted(len(state.answers), "answer")
    if len(state.answers) < len(kept[0]):
        many += f" of {len(kept[0])} that still count"
    terminal.say(f"Go on where you stopped (yes or no)? {many}, the last one:")
    terminal.say(states.last_said(state), _INDENT)
    terminal.say("Enter: yes.", _INDENT)
    while True:
        word = yes_or_no(terminal.ask() or "yes")
        if word == "yes":
            return state
        if word == "no":
            terminal.say(f"The old answers are now in {_aside(draft)}.")
            return State()
        terminal.say("No: write yes or no", _INDENT)


def _aside(draft: Path) -> Path:
    """Where a draft is put away: under a name that is free; FileError where that can't be."""
    names = (draft.with_name(f"{draft.name}.{n}") for n in range(1, 10_000))
    free = next(name for name in names if not os.path.lexists(name))
    try:
        draft.rename(free)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise FileError([Fault(str(draft), f"can't be put aside: {reason}")]) from error
    return free


def _keep(draft: Path, state: State, terminal: Terminal) -> None:
    """Keep the answers so far; where that fails it is said, and asking goes on."""
    try:
        files.write(draft, as_draft(state))
    except FileError as error:
        for fault in error.faults:
            terminal.say(f"Not kept: {printable(str(fault))}", _INDENT)


def _kept(draft: Path) -> str:
    """What to say at an early end."""
    kept = None
    with suppress(DrapeError):
        kept = from_draft(files.read(draft, MOST_BYTES, "draft"))
    if kept is None or not kept[0]:
        if kept is not None:
            with suppress(OSError):
                draft.unlink()
        return "Ended: nothing was answered."
    return (
        f"Ended: {counted(len(kept[0]), 'answer')} kept in {draft}. The same command goes on from "
        "there."
    )


def _saved(target: Path | None, state: State, terminal: Terminal) -> Path | None:
    """The job file's path, written; its name is asked where there is none, or it can't be had.

    None to go back a question.
    """
    answers = dict(state.answers)
    while True:
        try:
            if target is not None:
                found = target_of(target)
                text = job_text(answers, schema=_schema_beside(found))
                files.write_new(found, text.encode())
                return found
        except FileError as error:
            _refused(error.faults, terminal)
        name = proposed(answers["job.name"], Path())
        terminal.say()
        terminal.say("Save the job file as?")
        terminal.say(f"Enter: {name}.", _INDENT)
        line = terminal.ask().strip()
        if line == "?":
            terminal.say("The name of a new file, in this folder unless it names one.", _INDENT)
            target = None
            continue
        if line.casefold() == BACK:
            return None
        target = Path(line).expanduser() if line else name


def _schema_beside(job: Path) -> bool:
    """Whether the schema is beside a job file, put there unless its name is taken."""
    beside = job.with_name(SCHEMA_NAME)
    if not os.path.lexists(beside):
        with suppress(FileError):  # an editor goes without; the job file's own fault is told
            files.write(beside, schema_text().encode())
    return beside.is_file()


def _refused(faults: Sequence[Fault], terminal: Terminal) -> None:
    for fault in faults:
        terminal.say(f"No: {fault}", _INDENT)


def _shown(path: Path, terminal: Terminal) -> None:
    """The plan of the job file as it was written, its path, and what to type next."""
    job = read_job(files.read(path, MOST_BYTES), str(path))
    planned = plan(job)
    screen = terminal.screen()
    text = plan_text.as_text(job, planned, columns=screen.columns, ascii_only=screen.ascii_only)
    codes = "".join(f" --accept {one}" for one in sorted({stop.code for stop in planned.stops}))
    terminal.say()
    terminal.shown.write(f"{text}\n")
    terminal.say()
    terminal.say(f"Written: {path}")
    if path.with_name(SCHEMA_NAME).is_file():
        terminal.say(f"Beside it {SCHEMA_NAME}, by which editors check it as it is changed.")
    terminal.say("Next, for the ticket and the template, type:")
    # Whole, so that it can be copied; the terminal folds it if it must.
    terminal.shown.write(f"{_INDENT}drapetemplate make {printable(_word(path))}{codes}\n")
    terminal.shown.flush()


def _word(path: Path) -> str:
    """A path as one word of a command line."""
    text = str(path)
    if os.name == "nt":
        return f'"{text}"' if " " in text else text
    return shlex.quote(text)
