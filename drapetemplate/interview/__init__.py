"""The questions of `new`, as a machine of frozen states, asked anywhere."""

from drapetemplate.interview.states import (
    Answer,
    Judged,
    State,
    done,
    heading,
    last_said,
    prompt,
    resumed,
    step,
    taken_back,
)

__all__ = [
    "Answer",
    "Judged",
    "State",
    "done",
    "heading",
    "last_said",
    "prompt",
    "resumed",
    "step",
    "taken_back",
]
