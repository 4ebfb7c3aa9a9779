"""The answers so far in, what the job file's reader and the planner say of them out.

Nothing here knows what a pole may be: an answer is put into a job file and read, and all answers
so far are read, planned and, at the end, laid out on sheets.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from drapetemplate.errors import DrapeError, Fault
from drapetemplate.interview.all_questions import THE_WINDOWS, next_question
from drapetemplate.interview.as_written import date_meant, units_meant
from drapetemplate.interview.job_text import (
    job_text,
    only_answer,
    units_of,
    windows_in,
    yes_or_no,
)
from drapetemplate.interview.question import (
    Answers,
    Condition,
    InWords,
    Kind,
    PlacedQuestion,
    Question,
)
from drapetemplate.interview.read_back import default_in_words
from drapetemplate.interview.window_questions import CLOTH_ASKED, EYELET_ASKED, POLE_ASKED
from drapetemplate.job.build import read_job
from drapetemplate.job.contradictions import contradictions
from drapetemplate.job.defaults import UNITS
from drapetemplate.job.merge import merge
from drapetemplate.job.parse import read_file
from drapetemplate.measures import LENGTH_UNITS, parse_length, shown
from drapetemplate.planning.model import Finding, Plan
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.words.job_words import WORDS

FindingKey = tuple[int, str]
"""What tells a finding from others: its window's number and its code."""

MOST_TIMES = 20
"""More widths than a panel is made of, and fuller than any hangs."""

_KEYS = tuple(dict.fromkeys(question.key for question in THE_WINDOWS))
# What opens a cloth's table; a later window that isn't asked has what the first one says.
_OPENING = frozenset({"?cloth", "?lining"})

# What is not said yet is no fault while its question is still to come.
_REQUIRED = re.compile(r"job\.name|eyelet\.(outside|opening)|window\[[0-9]+\]")
_PATH = re.compile(r"(?:window\[[0-9]+\]\.)?((?:paper|eyelet|band|pole|fabric|lining)\.[a-z_]+)")
_NEXT = '", "'
_LIST = re.compile(r'\["([^\[\]]*)"\]')  # two letters, as a job file lists them

# Findings that only say that a question was left open: its key, and none until it was asked here.
_LEFT_OPEN = {"die-not-measured": "eyelet.hole"}

_AS_WRITTEN: Mapping[Kind, Callable[[str], str]] = {"units": units_meant, "date": date_meant}

_ASKED_WITH: Mapping[str, Condition] = {
    "eyelet": EYELET_ASKED,
    "band": EYELET_ASKED,
    "pole": POLE_ASKED,
    "fabric": CLOTH_ASKED,
    "lining": CLOTH_ASKED,
}
"""When a later window is asked for its own of a table of the file."""


@dataclass(frozen=True, slots=True)
class Check:
    """What is wrong with answers, and their plan: None while too little is known for one.

    `window` is the number of the one that was planned, `asked` what was asked of it; 0 is all.
    """

    faults: tuple[Fault, ...] = ()
    plan: Plan | None = None
    window: int = 0
    asked: frozenset[str] = frozenset()

    def findings(self) -> list[tuple[FindingKey, Finding]]:
        """Return what is found in the one window planned, each with what tells it from others."""
        if self.plan is None or not self.window:
            return []
        return [
            ((self.window, finding.code), finding)
            for finding in self.plan.windows[0].findings
            if _LEFT_OPEN.get(finding.code, "") in {"", *self.asked}
        ]


def check_one(placed: PlacedQuestion, text: str) -> tuple[str, str]:
    """Return the answer to keep for `text`, by itself, and why it can't be taken, if it can't.

    Empty text takes the default. A choice is kept as its whole word, dates and units as a job file
    spells them.
    """
    text, fault = as_kept(placed, text)
    if fault or placed.question.steers:
        return text, fault
    if not text:
        needed = default_in_words(placed) is None
        return "", "this one needs an answer; ? explains it" if needed else ""
    path, answers = only_answer(placed, text)
    try:
        faults = read_file(job_text(answers).encode(), "").faults
    except DrapeError as error:
        faults = error.faults
    found = next((fault for fault in faults if fault.where == path or not fault.where), None)
    return text, "" if found is None else in_plain_words(found.text)


def is_measure(placed: PlacedQuestion, text: str) -> bool:
    """Return whether text at a choice is a length that is no number of widths and no fullness.

    So is one with a unit of its own, and a bare number of more than `MOST_TIMES`.
    """
    if not placed.question.measure:
        return False
    units = units_of(placed.answers.by_path)
    try:
        inches, millimetres = parse_length(text, "in"), parse_length(text, "mm")
    except ValueError:
        return False
    has_unit = inches == millimetres
    return has_unit or parse_length(text, units) > MOST_TIMES * LENGTH_UNITS[units]


def as_kept(placed: PlacedQuestion, text: str) -> tuple[str, str]:
    """Return what is kept of an answer's text, before any job file is read, and why it can't be.

    A choice is its whole word, the default's where the text is empty; dates and units are as a job
    file spells them; a default in words is empty.
    """
    question = placed.question
    if question.steers:
        word = _choice_meant(question, text)
        listed = " or ".join([", ".join(question.choices[:-1]), question.choices[-1]])
        if not word and question.measure and any(char.isdigit() for char in text):
            return "", f"{shown(text)} may be any of them: write {listed}, and then the number"
        return word, "" if word else f"{shown(text)} is not known here: write {listed}"
    if not text or _is_the_default(placed, text):
        return "", ""
    if question.kind in {"yes or no", "side"} and not yes_or_no(text):
        return "", f"{shown(text)} is neither: write yes or no"
    if question.kind in _AS_WRITTEN:
        try:
            text = _AS_WRITTEN[question.kind](text)
        except ValueError as error:
            return "", str(error)
    return text, ""


def _is_the_default(placed: PlacedQuestion, text: str) -> bool:
    """Whether text is what the prompt says of an empty line in words, such as none or not known."""
    default = placed.question.default_in(units_of(placed.answers.by_path))
    if not isinstance(default, InWords) or placed.answers.shared(placed.question.key):
        return False
    return text.casefold() in {default.text.casefold(), default.text.partition(",")[0].casefold()}


def check_all(answers: Mapping[str, str], window: int) -> Check:
    """Return what the reader and the planner say of one window's answers, by path, so far.

    Where `window` is 0 all windows are planned, and their sheets laid out too.
    """
    unfinished = next_question(answers) is not None
    told = Answers(answers, window)
    asked = frozenset(key for key in _KEYS if told.path(key) in answers)
    if window:
        answers = _alone(told)
    data = job_text(_without_half_told(answers)).encode()
    try:
        reading = read_file(data, "")
        if reading.file is None:
            return Check(reading.faults)
        windows = merge(reading.file, reading.unreadable)
        faults = [*reading.faults, *contradictions(windows, UNITS.unless_given(reading.file.units))]
        if faults:
            return Check(
                tuple(
                    fault for fault in faults if not (unfinished and _still_to_come(fault, answers))
                )
            )
        job = read_job(data, "")
        if window and _covers_still_to_come(told):
            (only,) = job.windows
            if only.covers_assumed:
                job = replace(job, windows=(replace(only, covers=None),))
        planned = plan(job)
        if not window:
            strip_list(job, planned.windows, None)
    except DrapeError as error:
        return Check(error.faults)
    return Check((), planned, window, asked)


def _alone(window: Answers) -> dict[str, str]:
    """Return the answers of a job with this window alone, as its first.

    What is still to be asked of a later window is left out: until then the first window's stands
    for it in the file, and may not go with what this one has.
    """
    to_come = _keys_to_come(window)
    alone = {path: text for path, text in window.by_path.items() if not path.startswith("window[")}
    only = Answers({}, 1)
    for key in _KEYS:
        text = "" if key in to_come or window.takes_back(key) else window.text(key)
        if key in _OPENING and window.path(key) not in window.by_path:
            text = Answers(window.by_path, 1).text(key)
        alone[only.path(key)] = text
    return {path: text for path, text in alone.items() if text}


def _keys_to_come(window: Answers) -> set[str]:
    """Return the keys of the file's tables that this window is still to be asked for its own of."""
    upcoming = next_question(window.by_path)
    if upcoming is None or upcoming.window != window.window:
        return set()
    later = THE_WINDOWS[THE_WINDOWS.index(upcoming.question) :]
    return {
        question.key
        for question in later
        if "." in question.key
        and _ASKED_WITH[question.key.partition(".")[0]](window)
        and window.path(question.key) not in window.by_path
    }


def in_plain_words(text: str) -> str:
    """Return a message in the words of the questions: no key paths, and nothing about quotes."""
    text = text.replace(", without quotes", "")
    text = _LIST.sub(lambda listed: f'"{listed[1].replace(_NEXT, " ")}"', text)
    return _PATH.sub(lambda key: f'"{WORDS[key[1]]}"' if key[1] in WORDS else key[0], text)


def _choice_meant(question: Question, text: str) -> str:
    """The one choice that begins with `text`, the default for an empty line; else empty."""
    plain = text.casefold() or str(question.default)
    meant = [word for word in question.choices if word.startswith(plain)]
    return plain if plain in meant else meant[0] if len(meant) == 1 else ""


def _covers_still_to_come(answers: Answers) -> bool:
    """Whether what a panel covers beside its width is asked after this, so isn't to be assumed."""
    by_width = answers.text("?route").casefold() != "covers"
    asked = answers.path("covers") in answers.by_path or answers.text("?pole").casefold() == "no"
    return by_width and not asked


def _still_to_come(fault: Fault, answers: Mapping[str, str]) -> bool:
    """Whether a fault is only that something required wasn't answered yet."""
    return bool(_REQUIRED.fullmatch(fault.where)) and not answers.get(fault.where)


def _without_half_told(answers: Mapping[str, str]) -> dict[str, str]:
    """The answers without those that say nothing until the next one is there: half of a width."""
    half_told = set()
    for number in range(1, windows_in(answers) + 1):
        window = Answers(answers, number)
        if window.text("widths") and not window.text("fabric.width"):
            half_told.add(window.path("widths"))
        if window.text("?route") == "covers" and not window.text("fullness"):
            half_told.add(window.path("covers"))
    return {path: text for path, text in answers.items() if path not in half_told}
