"""A job file's answers in, the state that goes on with them out; and how a state differs from them.

All that the file answers is taken at once, so that whoever opens it says only what is to change.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from drapetemplate.interview.all_questions import ANOTHER, in_order
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.check_answers import as_kept, check_all, in_plain_words
from drapetemplate.interview.job_text import windows_in
from drapetemplate.interview.question import PlacedQuestion
from drapetemplate.interview.read_back import default_in_words, named, short
from drapetemplate.interview.states import Answer, State, placed_answers, state_after
from drapetemplate.planning.model import Plan


def with_all_taken(answers: Mapping[str, str], at_fault: Collection[str] = ()) -> State:
    """Return the state in which all of a file's answers are taken, up to the first at fault.

    `answers` are by path, and so are those `at_fault`. From there on all are offered, and with them
    the defaults that the file leaves standing.
    """
    asked = asked_of_all(answers)
    not_kept = {fault.where for fault in asked.faults}
    counted = {path: text for path, text in asked.counted.items() if path not in not_kept}
    offered = {**counted, **_chain(answers), **answers}
    taken: dict[str, str] = {}
    for placed in in_order(taken):  # which sees each answer once it is put in
        if placed.path in taken:
            continue
        text, fault = as_kept(placed, offered.get(placed.path, ""))
        is_needed = not text and default_in_words(placed) is None
        if fault or is_needed or placed.path in at_fault:
            break
        taken[placed.path] = text
    # Some are spelled in one way in the file, and in another as they are kept: both are its own.
    given = [Answer(*each) for each in (*counted.items(), *offered.items())]
    to_come = [Answer(*each) for each in offered.items() if each[0] not in taken]
    return state_after((Answer(*each) for each in taken.items()), to_come, given)


def changes(state: State) -> tuple[str, ...]:
    """Return a line for each answer that isn't as in the file, with its number; then what went.

    Of what the file has no question for, such as a new window's width, defaults aren't told.
    """
    in_file = dict(state.in_file)
    before = asked_of_all(in_file)
    had = {**before.counted, **_chain(in_file)}
    lines = []
    for number, (placed, text) in enumerate(placed_answers(state), 1):
        was = had.pop(placed.path, None)
        if was is None:
            if text and text != placed.question.default:
                lines.append(f"{number}. {_whose(placed)}{named(placed, text)}; new")
        elif was != text:
            said = short(was) if was else "the default"
            lines.append(f"{number}. {_whose(placed)}{named(placed, text)}; was {said}")
    return (*lines, *_gone(state, before.questions, had))


def says_what_the_file_says(state: State) -> bool:
    """Whether nothing that was typed would be lost, were there only the file."""
    return {*state.answers, *state.taken_back} <= set(state.in_file)


def new_findings(state: State) -> tuple[str, ...]:
    """Return a line for each stop and each warning that the file's own answers don't bring."""
    before = check_all(asked_of_all(dict(state.in_file)).counted, 0).plan
    after = check_all(dict(state.answers), 0).plan
    told = set() if before is None else set(_findings(before))
    return tuple(line for line in _findings(after) if line not in told) if after else ()


def _findings(planned: Plan) -> Iterator[str]:
    several = len(planned.windows) > 1
    for window in planned.windows:
        whose = f"{short(window.window.name)}: " if several else ""
        for finding in window.findings:
            if finding.level != "note":
                text = in_plain_words(finding.text)
                yield f"{finding.level.upper()} {whose}{finding.code}: {text}"


def _gone(
    state: State, questions: Collection[PlacedQuestion], had: Mapping[str, str]
) -> Iterator[str]:
    """What the file says and nothing asks for any more; of a window that went its name alone."""
    many = windows_in(dict(state.answers))
    for placed in questions:
        text = had.get(placed.path)
        is_told = placed.question.key == "name" if placed.window > many else bool(text)
        if text is not None and is_told and not placed.question.steers:
            yield f"Not any more: {_whose(placed)}{named(placed, text)}"


def _chain(answers: Mapping[str, str]) -> dict[str, str]:
    """What answers say to another window after each one."""
    many = windows_in(answers)
    return {f"window[{n}].{ANOTHER.key}": "yes" if n < many else "no" for n in range(1, many + 1)}


def _whose(placed: PlacedQuestion) -> str:
    """Which window an answer is of, unless it is the first one."""
    return f"window {placed.window}, " if placed.window > 1 else ""
