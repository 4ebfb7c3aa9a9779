"""An interview held in this process: lines typed in, states and the lines said out."""

from __future__ import annotations

from collections.abc import Mapping

from drapetemplate.interview.all_questions import in_order, next_question
from drapetemplate.interview.states import State, prompt, step

TO_EYELET = (
    *("", "Heron Point, linen store", ""),
    *("", "", "", ""),
    *("", "88", "1 3/8", "3 1/2", ""),
    *("", "", "", ""),
)
"""Short answers as far as the eyelet's outside: a pair, 88 in wide, on a pole of 1 3/8 in."""
TO_COUNT = (*TO_EYELET, "3 3/8", "2 1/8", "", "", "")
"""As far as how many eyelets."""
TO_PAPER = (*TO_COUNT, *[""] * 6)
"""As far as the paper."""


def after(*lines: str, state: State | None = None) -> State:
    """The state after these lines."""
    return talk(*lines, state=state)[0]


def talk(*lines: str, state: State | None = None) -> tuple[State, list[str]]:
    """The state after these lines, and the lines said to the last one."""
    state = state or State()
    said: tuple[str, ...] = ()
    for line in lines:
        state, said = step(state, line)
    return state, list(said)


def dialogue(wanted: Mapping[str, str]) -> tuple[State, list[str]]:
    """The state after every question, answered as wanted by path or else with an empty line.

    AssertionError where an answer is refused. Beside it, all that was said.
    """
    state = State()
    said: list[str] = []
    while (placed := next_question(dict(state.answers))) is not None:
        answered, lines = step(state, wanted.get(placed.path, ""))
        assert len(answered.answers) == len(state.answers) + 1, (placed.path, lines)
        state = answered
        said += lines
    return state, said


def asked(state: State) -> str:
    """The next question, without its number; empty where all is answered."""
    lines = prompt(state)
    return lines[0].split(". ", 1)[1] if lines else ""


def files_answers(state: State) -> dict[str, str]:
    """What the job file is given: answers that are neither defaults nor steer the questions."""
    answers = dict(state.answers)
    return {
        placed.path: answers[placed.path]
        for placed in in_order(answers)
        if answers.get(placed.path) and not placed.question.steers
    }
