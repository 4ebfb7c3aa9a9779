"""A page's answers in, one window of them read and planned out, with every fault at its question.

They go through the text of a job file, as all jobs do, so that a page can't say anything that the
file it saves doesn't. Only the window chosen is planned: what another lacks doesn't blank it.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, replace

from drapetemplate.errors import DrapeError, Fault
from drapetemplate.interview.at_once import Asked, asked_of, asked_of_all
from drapetemplate.interview.check_answers import in_plain_words
from drapetemplate.interview.job_text import job_text
from drapetemplate.interview.read_back import default_in_words
from drapetemplate.job.build import job_of, read_job
from drapetemplate.job.contradictions import contradictions
from drapetemplate.job.defaults import UNITS
from drapetemplate.job.merge import merge
from drapetemplate.job.model import Job
from drapetemplate.job.parse import read_file
from drapetemplate.job.tables import JobFile
from drapetemplate.planning.model import Plan
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import StripList, strip_list
from drapetemplate.words.job_words import WORDS

MOST_LAID = 100
"""Eyelets a panel up to which its sheets are laid out as it is typed."""

_WINDOW = re.compile(r"window\[([0-9]+)\]")
_WIDTHS = ("width", "covers", "fullness", "widths")  # one way or another a window needs one


@dataclass(frozen=True, slots=True)
class WindowRead:
    """What a page's answers say of one window.

    `file` has the window's own values as its last, None where it can't be read at all. `faults`
    are in the words of the questions, each at the path of a question that is asked, or at "".
    `missing` are the paths of questions that need an answer and have none. `job` has this window
    alone; it and its `plan` are None while something speaks against them. `strips` are its sheets,
    None too where they weren't laid out.
    """

    number: int
    asked: Asked
    file: JobFile | None
    faults: tuple[Fault, ...]
    missing: tuple[str, ...]
    job: Job | None = None
    plan: Plan | None = None
    strips: StripList | None = None

    def path_in_file(self, path: str) -> str:
        """Return where `file` has the answer at a question's path."""
        return path.replace(f"window[{self.number}]", _last(self.number), 1)


def read_window(answers: Mapping[str, str], window: int, *, in_full: bool = True) -> WindowRead:
    """Return one window of a page's answers, by path, read and planned; it counts from 1.

    `in_full` what would mend its findings is tried, and its strips are laid out too, which may
    speak against the paper; but not those of more than `MOST_LAID` eyelets, whose sheets take
    longer than all else.
    """
    asked = asked_of(answers, window)
    missing = _missing(asked)

    def shown(faults: Iterable[Fault]) -> tuple[Fault, ...]:
        named = (replace(fault, where=_as_asked(fault.where, window)) for fault in faults)
        return _at_questions(answers, asked, missing, named)

    read = WindowRead(window, asked, None, asked.faults, missing)
    try:
        reading = read_file(job_text(_in_file(asked.counted, window)).encode(), "")
    except DrapeError as error:
        return replace(read, faults=shown([*asked.faults, *error.faults]))
    file = reading.file
    if file is None:
        return replace(read, faults=shown([*asked.faults, *reading.faults]))
    last = merge(file, reading.unreadable)[-1]
    merged = replace(last, key=f"window[{window}]", number=window)
    faults = [*asked.faults, *reading.faults]
    # While a choice is none of its words, what is asked for isn't known, so nor what is against it.
    if not any("?" in fault.where for fault in asked.faults):
        faults += contradictions([merged], UNITS.unless_given(file.units))
    read = replace(read, file=file, faults=shown(faults))
    if faults or missing:
        return read
    job = job_of(file, [merged])
    read = replace(read, job=job)
    try:
        planned = plan(job, advise=in_full)
        read = replace(read, plan=planned)
        if not in_full or planned.windows[0].panels[0].count > MOST_LAID:
            return read
        return replace(read, strips=strip_list(job, planned.windows, None))
    except DrapeError as error:
        return replace(read, faults=shown(error.faults))


@dataclass(frozen=True, slots=True)
class WholeRead:
    """What a page's answers say of the whole job: as `WindowRead`, of all its windows."""

    asked: Asked
    faults: tuple[Fault, ...]
    missing: tuple[str, ...]
    job: Job | None = None
    plan: Plan | None = None
    strips: StripList | None = None


def read_whole(answers: Mapping[str, str]) -> WholeRead:
    """Return a page's answers, by path, read and planned as the job file that they are saved as."""
    asked = asked_of_all(answers)
    missing = _missing(asked)
    read = WholeRead(asked, asked.faults, missing)
    try:
        job = read_job(job_text(asked.counted).encode(), "")
        if missing or asked.faults:
            return read
        read = replace(read, job=job)
        planned = plan(job)
        read = replace(read, plan=planned)
        return replace(read, strips=strip_list(job, planned.windows, None))
    except DrapeError as error:
        faults = [*asked.faults, *error.faults]
        return replace(read, faults=_at_questions(answers, asked, missing, faults))


def _missing(asked: Asked) -> tuple[str, ...]:
    """The paths of questions that need an answer and have none."""
    return tuple(
        placed.path
        for placed in asked.questions
        if not asked.counted[placed.path] and default_in_words(placed) is None
    )


def _last(window: int) -> str:
    """The key path of the chosen window in the file: the first's, or after it."""
    return f"window[{min(window, 2)}]"


def _as_asked(where: str, window: int) -> str:
    """A key path of the chosen window's file, with the window's own number."""
    last = _last(window)
    return f"window[{window}]{where.removeprefix(last)}" if where.startswith(last) else where


def _in_file(counted: Mapping[str, str], window: int) -> dict[str, str]:
    """The answers of a file with this window as its last; a first before it says nothing itself."""
    own, last = f"window[{window}].", f"{_last(window)}."
    answers = {}
    for path, text in counted.items():
        if path.startswith(own):
            answers[f"{last}{path.removeprefix(own)}"] = text
        elif not path.startswith("window[") or path.startswith("window[1].?"):
            answers[path] = text
    return answers


def _at_questions(
    answers: Mapping[str, str],
    asked: Asked,
    missing: Container[str],
    faults: Iterable[Fault],
) -> tuple[Fault, ...]:
    """Faults as the page shows them, each once; those that an empty field says itself left out."""
    paths = {placed.path for placed in asked.questions}
    shown: dict[Fault, None] = {}
    for fault in faults:
        path = _question_at(paths, fault.where)
        empty = _WINDOW.fullmatch(fault.where) and any(
            f"{fault.where}.{key}" in missing for key in _WIDTHS
        )
        if path in missing or fault.where in missing or empty:
            continue
        text = in_plain_words(fault.text)
        if not path:
            path = _opening(answers, asked, fault.where)
            key = fault.where.partition("].")[2] or fault.where
            shared = ", as at the first window" if not path and key == fault.where else ""
            if key in WORDS:
                text = f"{WORDS[key]}{shared}: {text}"
        shown[Fault(path, text)] = None
    return tuple(shown)


def _opening(answers: Mapping[str, str], asked: Asked, where: str) -> str:
    """The path of a question that steers and, answered otherwise, asks for what is at fault.

    A default that can't be, such as a margin on very small paper, stands behind one. "" for none.
    """
    own = _WINDOW.match(where)
    window = int(own[1]) if own else 0
    elsewhere = {each.path for each in asked_of(answers, window or 1).questions}
    if _question_at(elsewhere, where):
        return ""  # at another window than the one shown
    for placed in asked.questions:
        if placed.window != window:
            continue  # of a thousand windows only the one at fault is tried
        for word in placed.question.choices:
            if word != asked.counted[placed.path]:
                others = asked_of({**answers, placed.path: word}, window or 1).questions
                if _question_at({each.path for each in others}, where):
                    return placed.path
    return ""


def _question_at(asked: Container[str], where: str) -> str:
    """The path of the question that a fault is about: the window's own, or the whole file's."""
    if _WINDOW.fullmatch(where):
        return f"{where}.?route"
    key = where.partition("].")[2]
    return next((path for path in (where, key) if path in asked), "")
