"""`drapetemplate new` at a terminal: reads lines, prints plain ones, keeps every answer at once.

What is answered stands in a draft beside the job file to come, and goes when that is written. A job
file that is there already is gone on with: its answers are taken, and what is to change is asked.
Of all files here this one alone knows a terminal, its keys and its signals.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from secrets import token_hex
from typing import IO

from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError, JobError
from drapetemplate.interview import states
from drapetemplate.interview.draft import (
    NO_NAME_YET,
    draft_bytes,
    draft_path,
    from_draft,
    kept_by,
    put_aside,
    read_draft,
    remove_draft,
    revision_in,
    revision_of,
    write_draft,
)
from drapetemplate.interview.job_in_file import OpenFile, opened
from drapetemplate.interview.job_on_disk import (
    change_in_place,
    faults_of,
    says_it_already,
    write_new,
)
from drapetemplate.interview.job_text import yes_or_no
from drapetemplate.interview.new_file import job_file_at, proposed_job_file
from drapetemplate.interview.reopened import (
    changes,
    new_findings,
    says_what_the_file_says,
    with_all_taken,
)
from drapetemplate.interview.states import NOT_TAKEN, WORDS, State
from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import SCHEMA_NAME
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
_CHANGE = "What {else_}is to change? Type the number of an answer."
_HOW_TO_CHANGE = (
    "A number asks that answer again: there Enter keeps it, another answer takes its place, and a "
    "lone - and Enter takes back what the file says, for what is taken where it says nothing. All "
    'others stay, and only what comes up besides is asked. A yes to "Another window in this job" '
    "asks for one more, a no leaves out all after that window. list shows all answers."
)
_NO_NUMBER = f"{NOT_TAKEN}: write the number of an answer, or press Enter"
_OPENED_INTRO = (
    "? explains what is asked.",
    f"{states.LIST} shows all answers.",
    f"{states.BACK} 10, or 10 alone, asks answer 10 again.",
    "Ctrl-C ends, and leaves the file as it is.",
)
_OF_FIRST = re.compile(r"window\[1\]\.(?=[a-z_]+\.)")  # the first window's tables are the file's
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


@dataclass(frozen=True, slots=True)
class _JobFile:
    """The job file that is asked for: where it goes, where answers are kept until it is written.

    `target` is None while its name is still to be asked; `opened` is what is there already. `by`
    tells this run's draft from those of others.
    """

    target: Path | None
    draft: Path
    opened: OpenFile | None = None
    by: str = field(default_factory=token_hex)

    @property
    def revision(self) -> str | None:
        """What tells the bytes that are there already from others."""
        return None if self.opened is None else revision_of(self.opened.data)


def interview(path: Path | None, typed: IO[str] | None, shown: IO[str] | None) -> int:
    """Ask for a job and write its file at `path`, or at a name that is asked last.

    A file that is at `path` already is gone on with, and written where its answers change. Returns
    the exit code: ENDED where it was broken off, with the answers kept. FileError where there is no
    terminal, or no job file can go to `path`; JobError where what is there isn't TOML, or what it
    then says makes no job.
    """
    if typed is None or shown is None or not (typed.isatty() and shown.isatty()):
        raise FileError([Fault("new", _NO_TERMINAL)])
    job = _job_file(path)
    reconfigure = getattr(typed, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")  # what isn't text in this terminal's encoding
    terminal = Terminal(typed, shown)
    with _signals_as_ctrl_c():
        try:
            written, how = _ask_until_written(job, terminal)
            _show_result(written, how, terminal)
        except (KeyboardInterrupt, EOFError):
            with suppress(OSError):  # the terminal itself may be gone
                terminal.say()
                terminal.say(_what_is_kept(job))
            return ENDED
    return 0


def _job_file(path: Path | None) -> _JobFile:
    """What is asked for at a path; FileError or JobError where it can't be."""
    if path is None:
        return _JobFile(None, draft_path(NO_NAME_YET))
    target = job_file_at(path)
    there = opened(files.read(target, MOST_BYTES), str(target)) if os.path.lexists(target) else None
    return _JobFile(target, draft_path(target), there)


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


def _ask_until_written(job: _JobFile, terminal: Terminal) -> tuple[Path, str]:
    """Ask all questions and write the job file; return its path, and what was done to it."""
    state = _first_state(job, terminal)
    if job.opened is None:
        # At once, so that a folder that takes none is told now.
        write_draft(job.draft, state, by=job.by, take=True)
        for line in _INTRO:
            terminal.say(line)
        terminal.say(f"Your answers are kept in {job.draft} until the job file is written.")
    while True:
        state = _ask_all(state, job, terminal)
        if job.opened is not None:
            after = _ask_what_changes(state, job, terminal)
            if after != state:
                state = after
                _keep(job, state, terminal)
                continue
        written = _write_job_file(job, state, terminal)
        if isinstance(written, State):
            job, state = replace(job, target=None) if job.opened is None else job, written
            continue
        remove_draft(job.draft, job.by)
        return written


def _ask_all(state: State, job: _JobFile, terminal: Terminal) -> State:
    """The state after all questions that are still without an answer, asked under their titles."""
    title = ""
    while not states.is_done(state):
        if states.section_title(state) != title:
            title = states.section_title(state)
            terminal.say()
            terminal.say(title.upper())
        state = _ask_one(state, job, terminal)
    return state


def _ask_what_changes(state: State, job: _JobFile, terminal: Terminal) -> State:
    """Where all is answered, which of the answers is to change: the state that asks it again.

    The same state where none is.
    """
    changed = changes(state)
    terminal.say()
    if changed:
        terminal.say(f"Other than in {job.target}:")
        for line in (*changed, *new_findings(state)):
            terminal.say(line, _INDENT, _INDENT * 2)
    stays = not changed and job.opened is not None and says_it_already(job.opened, state)
    outcome = "stays as it is" if stays else "is written"
    while True:
        terminal.say(_CHANGE.format(else_="else " if changed else ""))
        terminal.say(f"Enter: nothing; {job.target} {outcome}.", _INDENT)
        typed = " ".join(terminal.read_line().casefold().split())
        if typed in {"", states.REST}:
            return state
        number = typed.removesuffix(".").removeprefix("#")
        word = f"{states.BACK} {number}" if number.isdecimal() else typed
        after, lines = states.by_word(state, word) or (state, (_NO_NUMBER,))
        if after != state:
            return after
        for line in (_HOW_TO_CHANGE,) if typed == "?" else lines:
            terminal.say(line, _INDENT)
        terminal.say()


def _ask_one(state: State, job: _JobFile, terminal: Terminal) -> State:
    """Ask the next question once; return the state after what was typed."""
    terminal.say()
    question, *defaults = states.prompt(state)
    terminal.say(question, rest=_INDENT)
    for line in defaults:
        terminal.say(line, _INDENT)
    after, lines = states.step(state, terminal.read_line())
    if job.opened is not None and len(after.answers) > len(state.answers):
        after, more = states.take_again(after)
        lines += more
    if after != state:
        _keep(job, after, terminal)
    for line in lines:
        terminal.say(line, _INDENT)
    return after


def _first_state(job: _JobFile, terminal: Terminal) -> State:
    """Where to begin: at a draft's answers, if there are any and they are wanted, or a file's."""
    start = State()
    if job.opened is not None:
        start = _opened_state(job.opened, str(job.target), terminal)
    draft = job.draft
    if not os.path.lexists(draft):
        return start
    data = draft_bytes(draft)
    kept = from_draft(data)
    if kept is None:
        terminal.say(f"{draft} can't be read as answers: it is now {put_aside(draft)}.")
        return start
    if job.opened is not None and revision_in(data) != job.revision:
        terminal.say(
            f"{job.target} has changed since there was typed what isn't in it yet: that is now in "
            f"{put_aside(draft)}."
        )
        return start
    state = states.resume(*kept, start.in_file)
    if not state.answers:
        return start
    many = counted(len(state.answers), "answer")
    if len(state.answers) < len(kept[0]):
        many += f" of {len(kept[0])} that still count"
    if _goes_on(state, many, terminal):
        with suppress(FileError):  # where nothing can be kept that is told at the next answer
            write_draft(draft, state, job.revision, by=job.by, take=True)
        return state
    terminal.say(f"The old answers are now in {put_aside(draft)}.")
    return start


def _opened_state(there: OpenFile, source: str, terminal: Terminal) -> State:
    """The state with a file's answers, and what is to be told of the file: all of it, by number."""
    faults = faults_of(there.data, source)
    at_fault = {_OF_FIRST.sub("", fault.where) for fault in faults}
    state = with_all_taken(there.answers, at_fault)
    for line in _OPENED_INTRO:
        terminal.say(line)
    terminal.say()
    terminal.say(f"{source} says:")
    for line in states.list_answers(state):
        terminal.say(line, _INDENT, _INDENT * 2)
    for paths, told in (
        (there.left_out, "no question is for it, and it stays as it is"),
        (there.taken_out, "it counts only beside other answers, and goes when the file is written"),
    ):
        for path in paths:
            terminal.say(f"{printable(path)}: {told}.", rest=_INDENT)
    for fault in faults:
        terminal.say(f"Not right: {printable(str(fault))}", rest=_INDENT)
    return state


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


def _keep(job: _JobFile, state: State, terminal: Terminal) -> None:
    """Keep the answers so far; where that fails it is said, and asking goes on.

    What says no more than the file that is there leaves no draft.
    """
    try:
        if job.opened is not None and says_what_the_file_says(state):
            remove_draft(job.draft, job.by)
        else:
            write_draft(job.draft, state, job.revision, by=job.by)
    except FileError as error:
        for fault in error.faults:
            terminal.say(f"Not kept: {printable(str(fault))}", _INDENT)


def _what_is_kept(job: _JobFile) -> str:
    """What to say at an early end."""
    kept = None
    with suppress(DrapeError):
        kept = read_draft(job.draft)
    if kept is not None and kept_by(job.draft) != job.by:
        return f"Ended: {job.draft} has what a page, or another `new`, keeps there by now."
    if job.opened is not None:
        unchanged = f"Ended: {job.target} is as it was."
        if kept is None:
            return unchanged
        return (
            f"{unchanged} What was typed is kept in {job.draft}. The same command goes on from "
            "there."
        )
    if kept is None or not kept[0]:
        if kept is not None:
            remove_draft(job.draft)
        return "Ended: nothing was answered."
    return (
        f"Ended: {counted(len(kept[0]), 'answer')} kept in {job.draft}. The same command goes on "
        "from there."
    )


def _write_job_file(job: _JobFile, state: State, terminal: Terminal) -> tuple[Path, str] | State:
    """The job file, written if it must be, and what was done; or the state to go back to.

    A name is asked for where there is none, or it can't be had.
    """
    answers = dict(state.answers)
    target = job.target
    while True:
        try:
            if target is not None and target == job.target and job.opened is not None:
                changed = change_in_place(target, job.opened, state)
                return target, "Written" if changed else "Unchanged"
            if target is not None:
                return write_new(target, job.opened, state), "Written"
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


def _show_result(path: Path, how: str, terminal: Terminal) -> None:
    """The plan of the job file as it is now, its path, and what to type next.

    JobError where it makes no job: keys that no question is for may be at fault.
    """
    data = files.read(path, MOST_BYTES)
    if faults := faults_of(data, str(path)):
        terminal.say()
        terminal.say(f"{how}: {path}")
        raise JobError(faults)
    job = read_job(data, str(path))
    planned = plan(job)
    screen = terminal.screen()
    text = plan_text.as_text(job, planned, columns=screen.columns, ascii_only=screen.ascii_only)
    codes = "".join(f" --accept {code}" for code in sorted({stop.code for stop in planned.stops}))
    terminal.say()
    terminal.shown.write(f"{text}\n")
    terminal.say()
    terminal.say(f"{how}: {path}")
    if path.with_name(SCHEMA_NAME).is_file():
        terminal.say(f"Beside it {SCHEMA_NAME}, by which editors check it as it is changed.")
    terminal.say("Next, for the ticket and the template, type:")
    # Whole, so that it can be copied; the terminal folds it if it must.
    terminal.shown.write(f"{_INDENT}drapetemplate make {printable(_as_word(path))}{codes}\n")
    terminal.shown.flush()


def _as_word(path: Path) -> str:
    """A path as one word of a command line, which doesn't begin as an option does."""
    text = str(path)
    if text.startswith("-"):
        text = os.path.join(os.curdir, text)  # noqa: PTH118  # Path leaves ./ out
    if os.name == "nt":
        return f'"{text}"' if " " in text else text
    return shlex.quote(text)
