"""The questions as a machine of frozen states: a state and a typed line in, the next state out.

It talks to whoever types lines, wherever the lines come from: nothing here reads or prints. A front
with fields instead of lines asks with `all_questions.in_order` and checks with `check_answers`.
Lines to say come without wrapping and are safe to print.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from drapetemplate.interview.all_questions import ANOTHER, next_question
from drapetemplate.interview.check_answers import (
    Check,
    FindingKey,
    check_all,
    check_one,
    in_plain_words,
)
from drapetemplate.interview.question import PlacedQuestion
from drapetemplate.interview.read_back import default_in_words, read_back, short
from drapetemplate.planning.model import Finding

BACK, KEEP, DEFAULT = "back", "keep", "-"
NOT_TAKEN = "Not taken"
"""What a refusal begins with: at a question of yes or no a "No" would be read as the answer."""


class Answer(NamedTuple):
    """A question's path and the text typed there; empty text took the default."""

    path: str
    text: str


@dataclass(frozen=True, slots=True)
class State:
    """All that was answered. `taken_back` are offered again when their question comes.

    `stopped_text`: what was typed last, where a stop finding speaks against it. `reported`: the
    findings told by now of the window asked about.
    """

    answers: tuple[Answer, ...] = ()
    taken_back: tuple[Answer, ...] = ()
    stopped_text: str | None = None
    reported: frozenset[FindingKey] = field(default=frozenset())


def is_done(state: State) -> bool:
    """Whether every question has its answer."""
    return _next(state.answers) is None


def section_title(state: State) -> str:
    """Return what the next question stands under; empty where all is answered."""
    placed = _next(state.answers)
    if placed is None:
        return ""
    section = placed.question.section
    if placed.window < 2 or placed.question is ANOTHER:
        return section
    if section == "The window":
        return f"Window {placed.window}"
    return f"Window {placed.window}: {section[0].lower()}{section[1:]}"


def prompt(state: State) -> tuple[str, ...]:
    """Return the lines that ask the next question: itself, and its default; none at the end."""
    placed = _next(state.answers)
    if placed is None:
        return ()
    lines = [f"{len(state.answers) + 1}. {placed.question.text}"]
    before = dict(state.taken_back).get(placed.path)
    default = default_in_words(placed)
    if before:
        lines.append(f"Enter: {short(before)}, as before.")
        if default and default != before:
            lines.append(f"{DEFAULT} and Enter: {default}.")
    elif default:
        lines.append(f"Enter: {default}.")
    return tuple(lines)


def step(state: State, line: str) -> tuple[State, tuple[str, ...]]:
    """Take a typed line as the answer to the next question, or as a word to this machine.

    Returns the next state, the same one where the line is no answer, and the lines to say.
    """
    placed = _next(state.answers)
    if placed is None:
        return state, ()
    text = _clean(line)
    match text.casefold():
        case "?":
            return state, (placed.question.explanation, _what_can_be_typed(placed))
        case word if word == BACK:
            return go_back(state)
        case word if word == KEEP and state.stopped_text is not None:
            kept = state.stopped_text
            return _accepted(state, placed, kept, _check(state, placed, kept))
    before = dict(state.taken_back).get(placed.path, "")
    return _answered(state, placed, "" if text == DEFAULT else text or before)


def go_back(state: State) -> tuple[State, tuple[str, ...]]:
    """Return the state before the last answer, which is then offered again; and what to say."""
    if not state.answers:
        return state, ("This is the first question.",)
    *kept, last = state.answers
    taken_back = {**dict(state.taken_back), last.path: last.text}
    offered = tuple(Answer(path, text) for path, text in taken_back.items())
    return State(tuple(kept), offered, reported=_reported(kept)), ()


def resume(answers: Iterable[Answer], taken_back: Iterable[Answer]) -> State:
    """Return the state after these answers, as far as the questions still take them."""
    kept: list[Answer] = []
    for answer in answers:
        placed = _next(kept)
        if placed is None or placed.path != answer.path:
            break
        _, fault = check_one(placed, answer.text)
        if fault:
            break
        kept.append(answer)
    return State(tuple(kept), tuple(taken_back), reported=_reported(kept))


def last_answer(state: State) -> str:
    """Return the last answer, named and read back; empty where there is none."""
    if not state.answers:
        return ""
    *before, last = state.answers
    placed = _next(before)
    assert placed is not None, last.path  # noqa: S101  # its own question
    return read_back(placed, last.text)


def job_named(state: State) -> str:
    """Return what the job is called, safe to print; empty where that wasn't answered yet."""
    return short(dict(state.answers).get("job.name", ""))


def _next(answers: Sequence[Answer]) -> PlacedQuestion | None:
    return next_question(dict(answers))


def _clean(line: str) -> str:
    """A typed line as text that a file can hold, without what surrounds it."""
    return line.encode("utf-8", "replace").decode("utf-8").strip()


def _what_can_be_typed(placed: PlacedQuestion) -> str:
    default = default_in_words(placed)
    empty = "" if default is None else f"Enter alone takes: {default}. "
    return f"{empty}{BACK} goes to the question before. Ctrl-C ends; nothing is lost."


def _answered(state: State, placed: PlacedQuestion, text: str) -> tuple[State, tuple[str, ...]]:
    """Take `text` as the answer, or say why not; empty text stands for the default."""
    text, fault = check_one(placed, text)
    if fault:
        return replace(state, stopped_text=None), (f"{NOT_TAKEN}: {fault}",)
    check = _check(state, placed, text)
    if check.faults:
        refused = tuple(f"{NOT_TAKEN}: {in_plain_words(fault.text)}" for fault in check.faults)
        return replace(state, stopped_text=None), refused
    stops = [finding for finding in _new_findings(state, placed, check) if finding.level == "stop"]
    if not stops:
        return _accepted(state, placed, text, check)
    codes = " ".join(f"--accept {code}" for code in dict.fromkeys(stop.code for stop in stops))
    choose = (
        f"Type another answer, {BACK} for the question before, or {KEEP} to leave it so: the "
        f"template is then made only with {codes}."
    )
    return replace(state, stopped_text=text), (
        *(f"STOP {_finding_line(stop)}" for stop in stops),
        choose,
    )


def _accepted(
    state: State, placed: PlacedQuestion, text: str, check: Check
) -> tuple[State, tuple[str, ...]]:
    """The next state, and the answer read back with the warnings that it brings."""
    warnings = [
        finding for finding in _new_findings(state, placed, check) if finding.level == "warn"
    ]
    after = State(
        (*state.answers, Answer(placed.path, text)),
        tuple(answer for answer in state.taken_back if answer.path != placed.path),
        reported=state.reported if check.plan is None else _keys(check),
    )
    lines = (read_back(placed, text), *(f"WARN {_finding_line(warning)}" for warning in warnings))
    return after, lines


def _check(state: State, placed: PlacedQuestion, text: str) -> Check:
    """What is to be said of all answers, with `text` for the question asked."""
    return check_all({**dict(state.answers), placed.path: text}, placed.window)


def _keys(check: Check) -> frozenset[FindingKey]:
    return frozenset(key for key, _ in check.findings())


def _reported(answers: Sequence[Answer]) -> frozenset[FindingKey]:
    """The findings told by now of the window that the last answer was about."""
    last = _next(answers[:-1])
    return _keys(check_all(dict(answers), last.window)) if last and last.window else frozenset()


def _new_findings(state: State, placed: PlacedQuestion, check: Check) -> list[Finding]:
    """The findings of the window asked about that weren't told before; none outside of windows."""
    if not placed.window:
        return []
    return [finding for key, finding in check.findings() if key not in state.reported]


def _finding_line(finding: Finding) -> str:
    return f"{finding.code}: {in_plain_words(finding.text)}"
