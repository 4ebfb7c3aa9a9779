"""Where two sets of answers differ, so that a person can be told which of them to take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drapetemplate.interview.at_once import Asked, asked_of_all


@dataclass(frozen=True, slots=True)
class Difference:
    """An answer by its path and its question; what a file and a draft have, "" for none."""

    path: str
    label: str
    file: str
    draft: str


def differences(file: Mapping[str, str], draft: Mapping[str, str]) -> tuple[Difference, ...]:
    """Return where a draft's answers count otherwise than a file's, in the order of asking.

    An answer that no question asks for any more doesn't count, nor how a default is left out.
    Where an answer can't be kept as it stands it is held against the other as it was typed.
    """
    in_file, in_draft = asked_of_all(file), asked_of_all(draft)
    labels = _labels(in_draft) | _labels(in_file)
    order = dict.fromkeys([*_labels(in_draft), *_labels(in_file)])
    unkept = {fault.where for fault in (*in_file.faults, *in_draft.faults)}

    def value(answers: Mapping[str, str], asked: Asked, path: str) -> str:
        return answers.get(path, "") if path in unkept else asked.counted.get(path, "")

    found = (
        Difference(path, labels[path], value(file, in_file, path), value(draft, in_draft, path))
        for path in order
    )
    return tuple(each for each in found if each.file != each.draft)


def _labels(asked: Asked) -> dict[str, str]:
    """The questions that come up, by path; a later window's with its number."""
    labels = {}
    for placed in asked.questions:
        number = placed.path.partition("]")[0].removeprefix("window[")
        later = number.isdecimal() and number != "1"
        labels[placed.path] = (
            f"Window {number}: {placed.question.text}" if later else placed.question.text
        )
    return labels
