"""The questions as a machine of frozen states: a state and a typed line in, the next state out.

It talks to whoever types lines, wherever the lines come from: nothing here reads or prints. A front
with fields instead of lines asks with `all_questions.in_order` and checks with `check_answers`.
Lines to say come without wrapping and are safe to print.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from typing import NamedTuple

from drapetemplate.errors import Fault
from drapetemplate.interview.all_questions import ANOTHER, in_order, next_question
from drapetemplate.interview.causes import part_in
from drapetemplate.interview.check_answers import (
    Check,
    FindingKey,
    as_kept,
    check_all,
    check_one,
    in_plain_words,
    is_measure,
)
from drapetemplate.interview.question import PlacedQuestion
from drapetemplate.interview.read_back import (
    default_in_words,
    defaults_shown,
    named,
    read_back,
    short,
)
from drapetemplate.planning.model import Finding

BACK, LIST, REST, KEEP, DEFAULT = "back", "list", "rest", "keep", "-"
NOT_TAKEN = "Not taken"
"""What a refusal begins with: at a question of yes or no a "No" would be read as the answer."""
WORDS = (
    f"{BACK} goes to the question before, {BACK} 10 to answer 10.",
    f"{LIST} shows all answers so far.",
    f"{REST} is Enter at each question as far as you were, or else to the end of this heading.",
    "Ctrl-C ends; nothing is lost.",
)
"""What can be typed at any question, beside its answer and a "?"."""

_BACK_TO = re.compile(rf"{BACK} (?:to )?#?([0-9]{{1,6}})\.?")
_QUOTED_WORD = re.compile(rf"[\"“](\?|{KEEP}|{LIST}|{REST}|{BACK}(?: [0-9]+)?)[\"”]", re.IGNORECASE)


class Answer(NamedTuple):
    """A question's path and the text typed there; empty text took the default."""

    path: str
    text: str


@dataclass(frozen=True, slots=True)
class State:
    """All that was answered. `taken_back` are offered again when their question comes.

    `in_file` is what the job file gives that is gone on with, if there is one. `stopped_text`: what
    was typed last, where a stop finding speaks against it. `reported`: the findings told by now of
    the window asked about.
    """

    answers: tuple[Answer, ...] = ()
    taken_back: tuple[Answer, ...] = ()
    in_file: tuple[Answer, ...] = ()
    stopped_text: str | None = None
    reported: frozenset[FindingKey] = field(default=frozenset())


def is_done(state: State) -> bool:
    """Whether every question has its answer."""
    return _next(state.answers) is None


def section_title(state: State) -> str:
    """Return what the next question stands under; empty where all is answered."""
    placed = _next(state.answers)
    return "" if placed is None else _title(placed)


def _title(placed: PlacedQuestion) -> str:
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
    return (f"{len(state.answers) + 1}. {placed.question.text}", *_offers(state, placed))


def _offers(state: State, placed: PlacedQuestion) -> tuple[str, ...]:
    """What stands with the question: what an empty line takes, and a lone DEFAULT if another."""
    shown = defaults_shown(placed)
    lines = [shown] if shown else []
    before = dict(state.taken_back).get(placed.path)
    default = default_in_words(placed)
    if before:
        as_where = "in the file" if Answer(placed.path, before) in state.in_file else "before"
        lines.append(f"Enter: {short(before)}, as {as_where}.")
        if default and default != before:
            lines.append(f"{DEFAULT} and Enter: {default}.")
    elif default:
        lines.append(f"Enter: {default}.")
    return tuple(lines)


def step(state: State, line: str) -> tuple[State, tuple[str, ...]]:
    """Take a typed line as the answer to the next question, or as a word to this machine.

    Returns the next state, the same one where the line is no answer, and the lines to say.
    """
    text = _clean(line)
    moved = by_word(state, text)
    if moved is not None:
        return moved
    placed = _next(state.answers)
    if placed is None:
        return state, ()
    match text.casefold():
        case "?":
            return state, (placed.question.explanation, _what_can_be_typed(state, placed))
        case word if word == REST:
            return _rest(state)
        case word if word == KEEP and state.stopped_text is not None:
            kept = state.stopped_text
            return _accepted(state, placed, kept, _check(state, placed, kept))
    if quoted := _QUOTED_WORD.fullmatch(text):
        text = quoted[1]  # a name that is one of these words
    before = dict(state.taken_back).get(placed.path, "")
    answered = _measured if is_measure(placed, text) else _answered
    return answered(state, placed, "" if text == DEFAULT else text or before)


def _measured(state: State, placed: PlacedQuestion, text: str) -> tuple[State, tuple[str, ...]]:
    """Take a length typed at a choice: the choice's default, and the length at what that asks."""
    chosen, lines = _answered(state, placed, "")
    asked = _next(chosen.answers)
    if asked is None or asked.question.key != placed.question.measure:
        return chosen, lines
    measured, more = _answered(chosen, asked, text)
    return measured, (*lines, *more)


def by_word(state: State, line: str) -> tuple[State, tuple[str, ...]] | None:
    """Return what `step` does where the line is a word that goes back or lists; None where not.

    It does so at the end too, where all is answered.
    """
    word = " ".join(line.casefold().split())
    if word == LIST:
        return state, list_answers(state)
    if word == BACK:
        return go_back(state)
    if number := _BACK_TO.fullmatch(word):
        return go_back(state, int(number[1]))
    return None


def go_back(state: State, number: int | None = None) -> tuple[State, tuple[str, ...]]:
    """Return the state before answer `number`, or before the last one, and what to say.

    That answer and all after it are then offered again.
    """
    many = len(state.answers)
    if not many and number is None:
        return state, ("This is the first question.",)
    if not many:
        told = f"there is no answer {number} to go back to: this is the first question"
        return state, (f"{NOT_TAKEN}: {told}",)
    if number is None:
        number = many
    if not 1 <= number <= many:
        there = "1" if many == 1 else f"1 to {many}"
        return state, (f"{NOT_TAKEN}: there is no answer {number} to go back to: write {there}",)
    kept, undone = state.answers[: number - 1], state.answers[number - 1 :]
    taken_back = {**dict(state.taken_back), **dict(undone)}
    offered = tuple(Answer(path, text) for path, text in taken_back.items())
    return state_after(kept, offered, state.in_file), ()


def list_answers(state: State) -> tuple[str, ...]:
    """Return all answers so far under their headings, numbered as they were asked, read back."""
    if not state.answers:
        return ("Nothing is answered yet.",)
    lines: list[str] = []
    title = ""
    for number, (placed, text) in enumerate(placed_answers(state), 1):
        if _title(placed) != title:
            title = _title(placed)
            lines.append(title.upper())
        lines.append(f"{number}. {named(placed, text)}")
    return tuple(lines)


def resume(
    answers: Iterable[Answer], taken_back: Iterable[Answer], in_file: Iterable[Answer] = ()
) -> State:
    """Return the state after these answers, as far as the questions still take them."""
    given = tuple(answers)
    kept: dict[str, str] = {}
    for placed in in_order(kept):  # which sees each answer once it is put in
        if placed.path in kept:
            continue
        if len(kept) == len(given) or placed.path != given[len(kept)].path:
            break
        if check_one(placed, given[len(kept)].text)[1]:
            break
        kept[placed.path] = given[len(kept)].text
    return state_after(given[: len(kept)], taken_back, in_file)


def state_after(
    answers: Iterable[Answer], taken_back: Iterable[Answer], in_file: Iterable[Answer]
) -> State:
    """Return the state with just these answers, which are in the order of asking."""
    kept = tuple(answers)
    return State(kept, tuple(taken_back), tuple(in_file), reported=_reported(kept))


def placed_answers(state: State) -> Iterator[tuple[PlacedQuestion, str]]:
    """Yield each answer's question and its text, in their order."""
    answers = dict(state.answers)
    so_far: dict[str, str] = {}
    for placed in in_order(so_far):  # which sees each answer once it is put in
        if placed.path not in answers:
            return
        if placed.path not in so_far:
            yield placed, answers[placed.path]
            so_far[placed.path] = answers[placed.path]


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


def _what_can_be_typed(state: State, placed: PlacedQuestion) -> str:
    key = placed.question.key
    is_free = placed.question.kind == "text" and (key.startswith("job.") or key.endswith("name"))
    quoted = ('A name that is one of these words goes in quotes: "list".',) if is_free else ()
    return " ".join((*_offers(state, placed), *WORDS, *quoted))


def _rest(state: State) -> tuple[State, tuple[str, ...]]:
    """Take what is offered at each question, up to one that can't be answered so.

    Where the next one was answered before, as far as that holds; else to the end of its heading.
    """
    title = section_title(state)
    before = dict(state.taken_back)
    again = _is_next_among(state, before)
    said: list[str] = []
    while _is_next_among(state, before) if again else section_title(state) == title:
        placed = _next(state.answers)
        assert placed is not None  # noqa: S101  # it has a title
        after, lines = _answered(state, placed, before.get(placed.path, ""))
        if after.answers == state.answers:
            return after, (*said, *lines)
        said += (named(placed, after.answers[-1].text), *lines[1:])
        state = after
    return state, tuple(said)


def take_again(state: State) -> tuple[State, tuple[str, ...]]:
    """Take what was answered before at each question to come, up to one that wasn't answered.

    Nothing is said of what holds. Where all are then answered and can't go together, they are taken
    one at a time, as by REST, up to the one that can't be.
    """
    before = dict(state.taken_back)
    kept = dict(state.answers)
    for placed in in_order(kept):  # which sees each answer once it is put in
        if placed.path in kept:
            continue
        text, fault = as_kept(placed, before.get(placed.path, ""))
        is_needed = not text and default_in_words(placed) is None
        if placed.path not in before or fault or is_needed:
            break
        kept[placed.path] = text
    else:
        if check_all(kept, 0).faults:
            return _rest(state)
    offered = (answer for answer in state.taken_back if answer.path not in kept)
    return state_after((Answer(*each) for each in kept.items()), offered, state.in_file), ()


def _is_next_among(state: State, before: Mapping[str, str]) -> bool:
    placed = _next(state.answers)
    return placed is not None and placed.path in before


def _answered(state: State, placed: PlacedQuestion, text: str) -> tuple[State, tuple[str, ...]]:
    """Take `text` as the answer, or say why not; empty text stands for the default."""
    text, fault = check_one(placed, text)
    if fault:
        return replace(state, stopped_text=None), (f"{NOT_TAKEN}: {fault}",)
    check = _check(state, placed, text)
    if check.faults:
        refused = tuple(f"{NOT_TAKEN}: {in_plain_words(fault.text)}" for fault in check.faults)
        source = _comes_from(state, placed, text, check.faults)
        return replace(state, stopped_text=None), (*refused, *source)
    stops = [finding for finding in _new_findings(state, placed, check) if finding.level == "stop"]
    if not stops:
        return _accepted(state, placed, text, check)
    codes = " ".join(f"--accept {code}" for code in dict.fromkeys(stop.code for stop in stops))
    keep = f"{KEEP} leaves it so: the template is then made only with {codes}."
    return replace(state, stopped_text=text), (
        *(f"STOP {_finding_line(stop)}" for stop in stops),
        *_comes_from(state, placed, text, stops),
        keep,
    )


def _comes_from(
    state: State, placed: PlacedQuestion, text: str, said: Sequence[Fault | Finding]
) -> tuple[str, ...]:
    """Which earlier answers what is said comes from, by their numbers, and how to go there."""
    earlier = list(placed_answers(state))
    answers = {**dict(state.answers), placed.path: text}
    texts = {one.text for one in said}

    def lines(check: Check) -> frozenset[str]:
        findings = {finding.text for _, finding in check.findings()}
        return frozenset(texts & ({fault.text for fault in check.faults} | findings))

    *parts, this_one = part_in([*earlier, (placed, text)], answers, placed.window, lines)
    # Of all windows together only the keys at fault say where, as the paper's answers do.
    at_fault = set() if placed.window else {one.where for one in said if isinstance(one, Fault)}
    sources = {
        number: named(question, answer)
        for number, (question, answer), part in zip(count(1), earlier, parts, strict=False)
        if part or question.path in at_fault
    }
    if not sources:
        return (f"Type another answer, or {BACK} for the question before.",)
    more = ", and so on" if len(sources) > 1 else ""
    return (
        f"It rests on earlier answers {'rather than this one' if this_one is False else 'too'}:",
        *(f"{number}. {line}" for number, line in sources.items()),
        f"Type another answer, or {BACK} {max(sources)} to change that one{more}.",
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
        state.in_file,
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
