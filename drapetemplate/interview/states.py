"""The questions as a machine of frozen states: a state and a typed line in, the next state out.

An answer is judged by the job file's own reader and planner, on all answers so far: nothing here
knows what a pole may be. Lines to say come without wrapping and are safe to print.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from drapetemplate.errors import DrapeError, Fault
from drapetemplate.interview.all_questions import ANOTHER, next_question
from drapetemplate.interview.job_text import alone_in_a_job, job_text, windows_in, yes_or_no
from drapetemplate.interview.question import Question, Said
from drapetemplate.interview.read_back import default_said, read_back, short
from drapetemplate.job.build import read_job
from drapetemplate.job.contradictions import contradictions
from drapetemplate.job.defaults import UNITS
from drapetemplate.job.merge import merge
from drapetemplate.job.parse import read_file
from drapetemplate.measures import shown
from drapetemplate.planning.model import Finding, Plan
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import laid_out
from drapetemplate.words.job_words import WORDS

Answer = tuple[str, str]
"""A path and what was typed there; empty text took the default."""

BACK, KEEP, DEFAULT = "back", "keep", "-"
# What is not said yet is no fault while its question is still to come.
_REQUIRED = re.compile(r"job\.name|eyelet\.(outside|opening)|window\[[0-9]+\]")
_PATH = re.compile(r"(?:window\[[0-9]+\]\.)?((?:paper|eyelet|band|pole|fabric|lining)\.[a-z_]+)")


@dataclass(frozen=True, slots=True)
class State:
    """All that was said. `aside`: answers taken back, offered again when their question comes.

    `doubt`: what was typed last, where a stop speaks against it. `said`: the findings that were
    told of the window asked about.
    """

    answers: tuple[Answer, ...] = ()
    aside: tuple[Answer, ...] = ()
    doubt: str | None = None
    said: frozenset[tuple[str, str]] = field(default=frozenset())


@dataclass(frozen=True, slots=True)
class Judged:
    """What the reader and the planner say: `plan` is None while too little is known for one."""

    faults: tuple[Fault, ...] = ()
    plan: Plan | None = None

    @property
    def codes(self) -> frozenset[tuple[str, str]]:
        """Every finding of the windows planned, by the window's key and the finding's code."""
        windows = () if self.plan is None else self.plan.windows
        return frozenset(
            (window.window.key, finding.code) for window in windows for finding in window.findings
        )


def done(state: State) -> bool:
    """Whether every question has its answer."""
    return next_question(dict(state.answers)) is None


def heading(state: State) -> str:
    """What the next question stands under; empty where all is answered."""
    coming = next_question(dict(state.answers))
    if coming is None:
        return ""
    said, question = coming
    if said.window < 2 or question is ANOTHER:
        return question.section
    if question.section == "The window":
        return f"Window {said.window}"
    return f"Window {said.window}: {question.section[0].lower()}{question.section[1:]}"


def prompt(state: State) -> tuple[str, ...]:
    """The lines that ask the next question: itself, and its default; none where all is said."""
    coming = next_question(dict(state.answers))
    if coming is None:
        return ()
    said, question = coming
    lines = [f"{len(state.answers) + 1}. {question.asks}"]
    again = dict(state.aside).get(said.path(question.key))
    default = default_said(said, question)
    if again:
        lines.append(f"Enter: {short(again)}, as before.")
        if default and default != again:
            lines.append(f"{DEFAULT} and Enter: {default}.")
    elif default:
        lines.append(f"Enter: {default}.")
    return tuple(lines)


def step(state: State, line: str) -> tuple[State, tuple[str, ...]]:
    """Take a typed line as the answer to the next question, or as a word to this machine.

    Returns the next state, the same one where the line is no answer, and what to say. Nothing may
    be asked of a state that is `done`.
    """
    coming = next_question(dict(state.answers))
    if coming is None:
        return state, ()
    said, question = coming
    text = _typed(line)
    match text.casefold():
        case "?":
            return state, (question.explains, _usage(said, question))
        case word if word == BACK:
            return taken_back(state)
        case word if word == KEEP and state.doubt is not None:
            return _accept(state, said, question, state.doubt, _judge(state, said, state.doubt))
    again = dict(state.aside).get(said.path(question.key), "")
    return _answered(state, said, question, "" if text == DEFAULT else text or again)


def _answered(
    state: State, said: Said, question: Question, text: str
) -> tuple[State, tuple[str, ...]]:
    """Take `text` as the answer, or say why not; empty text stands for the default."""
    text, fault = _understood(said, question, text)
    if fault:
        return replace(state, doubt=None), (f"No: {fault}",)
    judged = _judge(state, said, text)
    if judged.faults:
        refused = tuple(f"No: {_plainly(fault.text)}" for fault in judged.faults)
        return replace(state, doubt=None), refused
    stops = [one for one in _news(state, said, judged) if one.level == "stop"]
    if not stops:
        return _accept(state, said, question, text, judged)
    codes = " ".join(f"--accept {code}" for code in dict.fromkeys(s.code for s in stops))
    choose = (
        f"Type another answer, {BACK} for the question before, or {KEEP} to leave it so: the "
        f"template is then made only with {codes}."
    )
    return replace(state, doubt=text), (*(f"STOP {_told(stop)}" for stop in stops), choose)


def resumed(answers: Iterable[Answer], aside: Iterable[Answer]) -> State:
    """The state after these answers, as far as the questions still take them."""
    kept: list[Answer] = []
    for path, text in answers:
        coming = next_question(dict(kept))
        if coming is None or coming[0].path(coming[1].key) != path:
            break
        if _understood(*coming, text)[1]:
            break
        kept.append((path, text))
    return State(tuple(kept), tuple(aside), said=_codes(kept))


def last_said(state: State) -> str:
    """The last answer, named and read back; empty where there is none."""
    if not state.answers:
        return ""
    *before, (path, text) = state.answers
    coming = next_question(dict(before))
    assert coming is not None, path  # noqa: S101  # its own question
    return read_back(*coming, text)


def _typed(line: str) -> str:
    """A line as text that a file can hold, without what surrounds it."""
    return line.encode("utf-8", "replace").decode("utf-8").strip()


def _usage(said: Said, question: Question) -> str:
    """What can be typed, for those who asked."""
    default = default_said(said, question)
    empty = "" if default is None else f"Enter alone takes: {default}. "
    return f"{empty}{BACK} goes to the question before. Ctrl-C ends; nothing is lost."


def taken_back(state: State) -> tuple[State, tuple[str, ...]]:
    """The state before the last answer, which is offered again; and what to say."""
    if not state.answers:
        return state, ("This is the first question.",)
    *kept, last = state.answers
    aside = {**dict(state.aside), last[0]: last[1]}
    return State(tuple(kept), tuple(aside.items()), said=_codes(kept)), ()


def _codes(answers: Sequence[Answer]) -> frozenset[tuple[str, str]]:
    """The findings told by now of the window that the last answer was about."""
    before = next_question(dict(answers[:-1]))
    window = 0 if before is None else before[0].window
    return _judged(answers, window).codes if window else frozenset()


def _understood(said: Said, question: Question, text: str) -> tuple[str, str]:
    """The answer to keep, and why it can't be read, if it can't."""
    if question.kind == "choice":
        word = _word(question, text)
        listed = " or ".join([", ".join(question.words[:-1]), question.words[-1]])
        return word, "" if word else f"{shown(text)} is not known here: write {listed}"
    if not text:
        needed = default_said(said, question) is None
        return "", "this one needs an answer; ? explains it" if needed else ""
    if question.kind in {"yes or no", "side"} and not yes_or_no(text):
        return "", f"{shown(text)} is neither: write yes or no"
    path, alone = alone_in_a_job(said, question.key, text)
    try:
        faults = read_file(job_text(alone).encode(), "").faults
    except DrapeError as error:
        faults = error.faults
    fault = next((fault for fault in faults if fault.where == path or not fault.where), None)
    return text, "" if fault is None else _plainly(fault.text)


def _word(question: Question, text: str) -> str:
    """The one of a question's words that was meant, its default for an empty line; else empty."""
    plain = text.casefold() or str(question.default)
    meant = [word for word in question.words if word.startswith(plain)]
    return plain if plain in meant else meant[0] if len(meant) == 1 else ""


def _judge(state: State, said: Said, text: str) -> Judged:
    """What is to be said of all answers, with `text` for the next question."""
    coming = next_question(dict(state.answers))
    assert coming is not None  # noqa: S101  # step has asked
    return _judged([*state.answers, (said.path(coming[1].key), text)], said.window)


def _judged(answers: Sequence[Answer], window: int) -> Judged:
    """What the reader says of all answers and the planner of one window, or of all where it is 0.

    All of them have their sheets laid out too.
    """
    found = dict(answers)
    open_ = next_question(found) is not None
    data = job_text(_settled(found)).encode()
    try:
        reading = read_file(data, "")
        if reading.file is None:
            return Judged(reading.faults)
        windows = merge(reading.file, reading.unreadable)
        faults = [*reading.faults, *contradictions(windows, UNITS.unless_given(reading.file.units))]
        early = [
            fault
            for fault in faults
            if open_ and _REQUIRED.fullmatch(fault.where) and not found.get(fault.where)
        ]
        real = [fault for fault in faults if fault not in early]
        if faults:
            return Judged(tuple(real))
        job = read_job(data, "")
        if window:
            job = replace(job, windows=job.windows[window - 1 : window])
        planned = plan(job)
        if not window:
            laid_out(job, planned)
    except DrapeError as error:
        return Judged(error.faults)
    return Judged((), planned)


def _settled(answers: dict[str, str]) -> dict[str, str]:
    """The answers without those that say nothing until the next one: a width half told."""
    held = set()
    for n in range(1, windows_in(answers) + 1):
        said = Said(answers, n)
        if said("widths") and not said("fabric.width"):
            held.add(said.path("widths"))
        if said("?route") == "covers" and not said("fullness"):
            held.add(said.path("covers"))
    return {path: text for path, text in answers.items() if path not in held}


def _news(state: State, said: Said, judged: Judged) -> list[Finding]:
    """What is to be told of this window that wasn't told before: stops and warnings."""
    if judged.plan is None or not said.window:
        return []
    [planned] = judged.plan.windows
    return [
        one
        for one in planned.findings
        if one.level != "note" and (planned.window.key, one.code) not in state.said
    ]


def _accept(
    state: State, said: Said, question: Question, text: str, judged: Judged
) -> tuple[State, tuple[str, ...]]:
    """The next state, and the answer read back with what it brings."""
    path = said.path(question.key)
    warned = [f"WARN {_told(one)}" for one in _news(state, said, judged) if one.level == "warn"]
    after = State(
        (*state.answers, (path, text)),
        tuple(one for one in state.aside if one[0] != path),
        said=state.said if judged.plan is None else judged.codes,
    )
    return after, (read_back(said, question, text), *warned)


def _told(finding: Finding) -> str:
    return f"{finding.code}: {_plainly(finding.text)}"


def _plainly(text: str) -> str:
    """A message in the words of the questions: no key paths, and nothing about quotes."""
    text = text.replace(", without quotes", "")
    return _PATH.sub(lambda key: f'"{WORDS[key[1]]}"' if key[1] in WORDS else key[0], text)
