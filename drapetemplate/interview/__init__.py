"""The questions of `new`, as data and as a machine of frozen states, asked anywhere."""

from drapetemplate.interview.states import (
    Answer,
    State,
    go_back,
    is_done,
    last_answer,
    prompt,
    resume,
    section_title,
    step,
)

__all__ = [
    "Answer",
    "State",
    "go_back",
    "is_done",
    "last_answer",
    "prompt",
    "resume",
    "section_title",
    "step",
]
