"""`drapetemplate new` at a terminal: reads lines, prints plain ones, keeps every answer at once.

What is answered stands in a draft beside the job file to come, and goes when that is written.
Of all files here this one alone knows a terminal, its keys and its signals.
"""

from __future__ import annotations

import os
import shlex
import shutil
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.interview import states
from drapetemplate.interview.draft import (
    NO_NAME_YET,
    draft_path,
    put_aside,
    read_draft,
    remove_draft,
    write_draft,
)
from drapetemplate.interview.job_text import job_text, yes_or_no
from drapetemplate.interview.new_file import new_job_file, proposed_job_file
from drapetemplate.interview.states import NOT_TAKEN, WORDS, State
from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import SCHEMA_NAME, schema_text
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.measures import printable
from drapetemplate.planning.plan import plan
from drapetemplate.report import plan_text
from drapetemplate.report.screen import Screen, needs_ascii
from drapetemplate.wording import counted

ENDED = 1
_INDENT = "   "
_INTRO = ("Type each answer and press Enter.", "? explains the question.", *WORDS)
_GO_ON = (
    "yes goes on after the last answer, no puts all of them aside and begins anew. "
    f"{states.LIST} shows them."
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
        """Return the screen as it is now: its window may have changed."""
        ascii_only = needs_ascii(getattr(self.shown, "encoding", None) or "utf-8")
        return Screen(shutil.get_terminal_size().columns, ascii_only)

    def say(self, text: str = "", indent: str = "", rest: str | None = None) -> None:
        """Print a line, wrapped to the terminal, at once."""
        lines = self.screen().wrapped(text, indent, indent if rest is None else rest)
        self.shown.write("".join(f"{line}\n" for line in lines))
        self.shown.flush()

    def read_line(self) -> str:
        """Return what is typed next, without its end of line; EOFError where nothing comes."""
        self.shown.write("> ")
        self.shown.flush()
        line = self.typed.readline()
        if not line:
            raise EOFError
        return line.removesuffix("\n")


def interview(path: Path | None, typed: IO[str] | None, shown: IO[str] | None) -> int:
    """Ask for a job and write its file at `path`, or at a name that is asked last.

    Returns the exit code: ENDED where it was broken off, with the answers kept. FileError where
    there is no terminal, or no job file can go to `path`.
    """
    if typed is None or shown is None or not (typed.isatty() and shown.isatty()):
        raise FileError([Fault("new", _NO_TERMINAL)])
    target = None if path is None else new_job_file(path)
    draft = draft_path(target or NO_NAME_YET)
    reconfigure = getattr(typed, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")  # what isn't text in this terminal's encoding
    terminal = Terminal(typed, shown)
    with _signals_as_ctrl_c():
        try:
            written = _ask_until_written(target, draft, terminal)
            _show_result(written, terminal)
        except (KeyboardInterrupt, EOFError):
            with suppress(OSError):  # the terminal itself may be gone
                terminal.say()
                terminal.say(_what_is_kept(draft))
            return ENDED
    return 0


@contextmanager
def _signals_as_ctrl_c() -> Iterator[None]:
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


def _ask_until_written(target: Path | None, draft: Path, terminal: Terminal) -> Path:
    """Ask all questions and write the job file; return its path."""
    state = _first_state(draft, terminal)
    write_draft(draft, state)  # at once, so that a folder that takes none is told now
    for line in _INTRO:
        terminal.say(line)
    terminal.say(f"Your answers are kept in {draft} until the job file is written.")
    title = ""
    while True:
        while not states.is_done(state):
            if states.section_title(state) != title:
                title = states.section_title(state)
                terminal.say()
                terminal.say(title.upper())
            state = _ask_one(state, draft, terminal)
        written = _write_job_file(target, state, terminal)
        if isinstance(written, Path):
            remove_draft(draft)
            return written
        target = None
        state = written


def _ask_one(state: State, draft: Path, terminal: Terminal) -> State:
    """Ask the next question once; return the state after what was typed."""
    terminal.say()
    question, *defaults = states.prompt(state)
    terminal.say(question, rest=_INDENT)
    for line in defaults:
        terminal.say(line, _INDENT)
    after, lines = states.step(state, terminal.read_line())
    if after != state:
        _keep(draft, after, terminal)
    for line in lines:
        terminal.say(line, _INDENT)
    return after


def _first_state(draft: Path, terminal: Terminal) -> State:
    """Where to begin: at a draft's answers, if there are any and they are wanted."""
    if not os.path.lexists(draft):
        return State()
    kept = read_draft(draft)
    if kept is None:
        terminal.say(f"{draft} can't be read as answers: it is now {put_aside(draft)}.")
        return State()
    state = states.resume(*kept)
    if not state.answers:
        return State()
    many = counted(len(state.answers), "answer")
    if len(state.answers) < len(kept[0]):
        many += f" of {len(kept[0])} that still count"
    if _goes_on(state, many, terminal):
        return state
    terminal.say(f"The old answers are now in {put_aside(draft)}.")
    return State()


def _goes_on(state: State, many: str, terminal: Terminal) -> bool:
    """Whether a draft's answers, so many, are gone on with: asked until it is yes or no."""
    job = states.job_named(state)
    whose = f"with {job} " if job else ""
    while True:
        terminal.say(f"Go on {whose}where you stopped (yes or no)? {many}, the last one:")
        terminal.say(states.last_answer(state), _INDENT)
        terminal.say("Enter: yes.", _INDENT)
        typed = terminal.read_line().strip().casefold() or "yes"
        if yes_or_no(typed):
            return yes_or_no(typed) == "yes"
        lines: tuple[str, ...] = (f"{NOT_TAKEN}: write yes or no",)
        if typed == states.LIST:
            lines = states.list_answers(state)
        elif typed == "?":
            lines = (_GO_ON,)
        for line in lines:
            terminal.say(line, _INDENT)
        terminal.say()


def _keep(draft: Path, state: State, terminal: Terminal) -> None:
    """Keep the answers so far; where that fails it is said, and asking goes on."""
    try:
        write_draft(draft, state)
    except FileError as error:
        for fault in error.faults:
            terminal.say(f"Not kept: {printable(str(fault))}", _INDENT)


def _what_is_kept(draft: Path) -> str:
    """What to say at an early end."""
    kept = None
    with suppress(DrapeError):
        kept = read_draft(draft)
    if kept is None or not kept[0]:
        if kept is not None:
            remove_draft(draft)
        return "Ended: nothing was answered."
    return (
        f"Ended: {counted(len(kept[0]), 'answer')} kept in {draft}. The same command goes on from "
        "there."
    )


def _write_job_file(target: Path | None, state: State, terminal: Terminal) -> Path | State:
    """The job file's path, written; its name is asked where there is none, or it can't be had.

    Or the state to go back to.
    """
    answers = dict(state.answers)
    while True:
        try:
            if target is not None:
                job_file = new_job_file(target)
                text = job_text(answers, schema=_schema_beside(job_file))
                files.write_new(job_file, text.encode())
                return job_file
        except FileError as error:
            for fault in error.faults:
                terminal.say(f"{NOT_TAKEN}: {fault}", _INDENT)
        proposed = proposed_job_file(answers["job.name"], Path())
        terminal.say()
        terminal.say("Save the job file as?")
        terminal.say(f"Enter: {proposed}.", _INDENT)
        line = terminal.read_line().strip()
        if line == "?":
            terminal.say("The name of a new file, in this folder unless it names one.", _INDENT)
            target = None
            continue
        after, lines = states.by_word(state, line) or (state, None)
        if after != state:
            return after
        for text in lines or ():
            terminal.say(text, _INDENT)
        target = None if lines is not None else Path(line).expanduser() if line else proposed


def _schema_beside(job: Path) -> bool:
    """Whether the schema is beside a job file, put there unless its name is taken."""
    beside = job.with_name(SCHEMA_NAME)
    if not os.path.lexists(beside):
        with suppress(FileError):  # an editor goes without; the job file's own fault is told
            files.write(beside, schema_text().encode())
    return beside.is_file()


def _show_result(path: Path, terminal: Terminal) -> None:
    """The plan of the job file as it was written, its path, and what to type next."""
    job = read_job(files.read(path, MOST_BYTES), str(path))
    planned = plan(job)
    screen = terminal.screen()
    text = plan_text.as_text(job, planned, columns=screen.columns, ascii_only=screen.ascii_only)
    codes = "".join(f" --accept {code}" for code in sorted({stop.code for stop in planned.stops}))
    terminal.say()
    terminal.shown.write(f"{text}\n")
    terminal.say()
    terminal.say(f"Written: {path}")
    if path.with_name(SCHEMA_NAME).is_file():
        terminal.say(f"Beside it {SCHEMA_NAME}, by which editors check it as it is changed.")
    terminal.say("Next, for the ticket and the template, type:")
    # Whole, so that it can be copied; the terminal folds it if it must.
    terminal.shown.write(f"{_INDENT}drapetemplate make {printable(_as_word(path))}{codes}\n")
    terminal.shown.flush()


def _as_word(path: Path) -> str:
    """A path as one word of a command line."""
    text = str(path)
    if os.name == "nt":
        return f'"{text}"' if " " in text else text
    return shlex.quote(text)
