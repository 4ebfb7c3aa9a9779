"""The questions as a machine of frozen states: a state and a typed line in, the next state out.

An answer is judged by the job file's own reader and planner, on all answers so far: nothing here
knows what a pole may be. Lines to say come without wrapping and are safe to print.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from typing import cast

from drapetemplate.errors import DrapeError, Fault
from drapetemplate.given import WORDS, number, words_of
from drapetemplate.job import read_job
from drapetemplate.jobfile import place_of, read_file
from drapetemplate.jobtext import job_text, windows_in, yes_or_no
from drapetemplate.measures import Units, format_length, printable, shown
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.plan import Plan, plan
from drapetemplate.question import Question, Said
from drapetemplate.questions import in_order, next_question
from drapetemplate.readers import PaperSize
from drapetemplate.report import laid_out
from drapetemplate.resolve import contradictions, merge

Answer = tuple[str, str]
"""A path and what was typed there; empty text took the default."""

HELP, BACK, KEEP, DEFAULT = "?", "back", "keep", "-"
LONGEST_SHOWN = 200
# What is not said yet is no fault while its question is still to come.
_REQUIRED = re.compile(r"job\.name|eyelet\.(outside|opening)|window\[[0-9]+\]")
_PATH = re.compile(r"(?:window\[[0-9]+\]\.)?((?:paper|eyelet|band|pole|fabric|lining)\.[a-z_]+)")


@dataclass(frozen=True, slots=True)
class State:
    """All that was said. `aside`: answers taken back, offered again when their question comes.

    `doubt`: what was typed last, where a stop speaks against it. `said`: findings that were told.
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
        """Every finding of every window, by the window's key and the finding's code."""
        windows = () if self.plan is None else self.plan.windows
        return frozenset((one.key, found.code) for one in windows for found in one.findings)


def done(state: State) -> bool:
    """Whether every question has its answer."""
    return next_question(dict(state.answers)) is None


def prompt(state: State) -> tuple[str, ...]:
    """The lines that ask the next question: its heading where one begins, itself, its default.

    Nothing where all is answered.
    """
    answers = dict(state.answers)
    coming = next_question(answers)
    if coming is None:
        return ()
    said, question = coming
    lines = [f"{len(state.answers) + 1}. {question.asks}"]
    heading = _heading(said, question)
    if not state.answers or heading != _heading_of(state.answers):
        lines = ["", heading, "", *lines]
    again = dict(state.aside).get(said.path(question.key))
    default = _default(said, question)
    if again:
        other = f" {DEFAULT} takes the default, {default}." if default else ""
        lines.append(f"   Enter: {_short(again)}, as before.{other}")
    elif default:
        lines.append(f"   Enter: {default}.")
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
            return state, (question.explains, *_usage(said, question))
        case "back":
            return _back(state)
        case "keep" if state.doubt is not None:
            return _accept(state, said, question, state.doubt, _judge(state, said, state.doubt))
    again = dict(state.aside).get(said.path(question.key), "")
    text = "" if text == DEFAULT else text or again
    if not text and _default(said, question) is None:
        return state, ("This one needs an answer; ? explains it.",)
    text, fault = _understood(said, question, text)
    if fault:
        return replace(state, doubt=None), (f"No: {fault}",)
    judged = _judge(state, said, text)
    if judged.faults:
        return replace(state, doubt=None), tuple(
            f"No: {_plainly(fault.text)}" for fault in judged.faults
        )
    stops = [one for one in _news(state, said, judged) if one.level == "stop"]
    if stops:
        codes = " ".join(f"--accept {code}" for code in dict.fromkeys(s.code for s in stops))
        return replace(state, doubt=text), (
            *(f"STOP {_told(stop)}" for stop in stops),
            f"Type another answer, {BACK} for the question before, or {KEEP} to leave it so: the "
            f"template is then made only with {codes}.",
        )
    return _accept(state, said, question, text, judged)


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
    found = _judged(kept, 0)
    return State(tuple(kept), tuple(aside), said=found.codes)


def last_said(state: State) -> str:
    """The last answer, named and read back; empty where there is none."""
    if not state.answers:
        return ""
    *before, (path, text) = state.answers
    coming = next_question(dict(before))
    assert coming is not None, path  # noqa: S101  # its own question
    return _read_back(*coming, text)


def _typed(line: str) -> str:
    """A line as text that a file can hold, without what surrounds it."""
    return line.encode("utf-8", "replace").decode("utf-8").strip()


def _heading(said: Said, question: Question) -> str:
    if said.window < 2:
        return question.section
    if question.key == "name" or question.section == "The window":
        return f"Window {said.window}"
    return f"Window {said.window}: {question.section[0].lower()}{question.section[1:]}"


def _heading_of(answers: Sequence[Answer]) -> str:
    """The heading that the last answer stood under."""
    coming = next_question(dict(answers[:-1]))
    return "" if coming is None else _heading(*coming)


def _default(said: Said, question: Question) -> str | None:
    """What an empty line takes, in words; None where there must be an answer."""
    shared = said.shared(question.key)
    if shared:
        return f"{_short(shared)}, as at the first window"
    match question.default:
        case None | str():
            return question.default
        case Fraction():
            return _length(question.default, _units(said))
        case worked:
            return worked.text


def _usage(said: Said, question: Question) -> tuple[str, ...]:
    """What can be typed, for those who asked."""
    default = _default(said, question)
    enter = "" if default is None else f"an empty line takes: {default}. "
    return (f"To answer: {enter}{BACK} goes to the question before. Ctrl-C ends; nothing is lost.",)


def _back(state: State) -> tuple[State, tuple[str, ...]]:
    if not state.answers:
        return state, ("This is the first question.",)
    *kept, last = state.answers
    aside = {**dict(state.aside), last[0]: last[1]}
    found = _judged(kept, 0)
    return State(tuple(kept), tuple(aside.items()), said=found.codes), ()


def _understood(said: Said, question: Question, text: str) -> tuple[str, str]:
    """The answer to keep, and why it can't be read, if it can't."""
    if question.kind == "choice":
        word = _word(question, text)
        listed = " or ".join([", ".join(question.words[:-1]), question.words[-1]])
        return word, "" if word else f"{shown(text)} is not known here: write {listed}"
    if not text:
        return "", ""
    if question.kind in {"yes or no", "side"} and not yes_or_no(text):
        return "", f"{shown(text)} is neither: write yes or no"
    path = said.path(question.key)
    alone = {"units": said.answers.get("units", ""), path: text}
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
    """What the reader and the planner say of answers; `window` 0 has its sheets laid out too."""
    found = dict(answers)
    open_ = next_question(found) is not None
    data = job_text(_settled(found)).encode()
    try:
        reading = read_file(data, "")
        if reading.file is None:
            return Judged(reading.faults)
        windows = merge(reading.file, reading.unreadable)
        faults = [*reading.faults, *contradictions(windows, reading.file.units or "in")]
        real = [fault for fault in faults if not (open_ and _REQUIRED.fullmatch(fault.where))]
        if real or faults:
            return Judged(tuple(real))
        job = read_job(data, "")
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
    planned = judged.plan.windows[said.window - 1]
    return [
        one
        for one in planned.findings
        if one.level != "note" and (planned.key, one.code) not in state.said
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
    return after, (_read_back(said, question, text), *warned)


def _read_back(said: Said, question: Question, text: str) -> str:
    """An answer as it was understood."""
    if question.kind == "choice":
        return f"{text[0].upper()}{text[1:]}."
    name = words_of(question.key)
    if not text:
        return f"{name}: {_default(said, question)}"
    return f"{name}: {_value(said, question, text)}"


def _value(said: Said, question: Question, text: str) -> str:
    """The value that was read, in words and in both systems of units where it is a length."""
    path = said.path(question.key)
    units = _units(said) if question.key != "units" else "in"
    alone = {"units": text if question.key == "units" else units, path: text}
    found: object = read_file(job_text(alone).encode(), "").file
    for key in place_of(path) or ():
        if isinstance(key, int):
            found = cast("list[object]", found)[key]
        else:
            found = getattr(found, "return_" if key == "return" else key)
    match question.kind, found:
        case "length", Fraction():
            return _length(found, units)
        case "times", Fraction():
            return number(found)
        case "mass", Fraction():
            return f"{float(found):.4g} g"
        case "area weight", Fraction():
            return f"{float(found):.4g} gsm"
        case "share", Fraction():
            return f"{number(found * 100)} %"
        case "yes or no" | "side", _:
            return yes_or_no(text)
        case _, date():
            return found.isoformat()
        case _, PaperSize():
            return found.name
        case _, (str(), str()):
            front, back = cast("tuple[str, str]", found)
            return printable(f"{front} in front, {back} behind")
        case _, None:
            return "auto"
    return _short(str(found))


def _units(said: Said) -> Units:
    units = said.answers.get("units", "").casefold()
    return "mm" if units == "mm" else "cm" if units == "cm" else "in"


def _length(length: Fraction, units: Units) -> str:
    """A length in the job's units and, beside it, in the others."""
    other: Units = "mm" if units == "in" else "in"
    return f"{format_length(length, units)} ({_exactly(length, other)})"


def _exactly(length: Fraction, units: Units) -> str:
    """A length in mm to the last digit where that is short, as 66.675 mm; else as formatted."""
    thousandths = length * 1000
    if units == "mm" and thousandths.denominator == 1:
        return f"{number(length)} mm"
    return format_length(length, units)


def _short(text: str) -> str:
    return printable(text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…")


def _told(finding: Finding) -> str:
    return f"{finding.code}: {_plainly(finding.text)}"


def _plainly(text: str) -> str:
    """A message in the words of the questions: no key paths, and nothing about quotes."""
    text = text.replace(", without quotes", "")
    return _PATH.sub(lambda key: f'"{WORDS[key[1]]}"' if key[1] in WORDS else key[0], text)
