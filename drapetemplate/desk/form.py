"""The questions of one window as a page's fields: what `new` asks, grouped as it is asked there."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from itertools import groupby
from typing import Literal, TypedDict, get_args, get_origin

from drapetemplate.desk.reading import WindowRead
from drapetemplate.interview.question import YES_NO, PlacedQuestion, Question
from drapetemplate.interview.read_back import (
    default_in_words,
    defaults_shown,
    value_at,
    value_in_words,
)
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.job.tables import field_of


class Field(TypedDict):
    """One question as a page shows it, and what was typed; all of it safe to show as text.

    `kind` is the question's, or "word" where one of `choices` is the whole answer; another kind's
    choices are only suggested. `choice_words` say the choices in full, where they have more than
    themselves to say. `default` is what an empty field takes, in words; None where there
    must be an answer (`needed`). `note` is what stands beside the question, `read_back` how the
    answer was understood where that isn't as it was typed.
    """

    path: str
    label: str
    explanation: str
    note: str
    kind: str
    choices: list[str]
    choice_words: list[str]
    value: str
    default: str | None
    read_back: str
    needed: bool
    fault: str


class Group(TypedDict):
    """Fields under one heading."""

    title: str
    fields: list[Field]


def form(read: WindowRead, answers: Mapping[str, str]) -> list[Group]:
    """Return the fields of a window that was read from a page's answers, under their headings."""
    faults: dict[str, str] = {}
    for fault in read.faults:
        faults[fault.where] = (
            f"{faults[fault.where]} {fault.text}" if fault.where in faults else fault.text
        )
    return [
        Group(
            title=title,
            fields=[_field(read, placed, answers, faults.get(placed.path, "")) for placed in group],
        )
        for title, group in groupby(read.asked.questions, key=lambda each: each.question.section)
    ]


def _field(
    read: WindowRead, placed: PlacedQuestion, answers: Mapping[str, str], fault: str
) -> Field:
    question = placed.question
    words = _words(question)
    default = default_in_words(placed)
    typed = answers.get(placed.path, "")
    return Field(
        path=placed.path,
        label=question.text,
        explanation=question.explanation,
        note=defaults_shown(placed),
        kind="word" if words else question.kind,
        choices=list(
            words
            or question.choices
            or _CHOICES.get(question.kind, _SUGGESTED.get(question.key, ()))
        ),
        choice_words=list(question.choice_words),
        value=typed,
        default=default,
        read_back="" if fault else _read_back(read, placed, typed),
        needed=default is None,
        fault=fault,
    )


def _read_back(read: WindowRead, placed: PlacedQuestion, typed: str) -> str:
    """How an answer was understood; "" where there is none, or where it is just as typed."""
    if placed.question.steers or not read.asked.counted[placed.path]:
        return ""
    value = value_at(read.file, read.path_in_file(placed.path))
    if value is None:
        return ""
    words = value_in_words(placed, value)
    return "" if words.casefold() == typed.strip().casefold() else words


_CHOICES: dict[str, tuple[str, ...]] = {"yes or no": YES_NO, "side": YES_NO}
_SUGGESTED = {"paper.size": tuple(SHEETS)}


@cache
def _words(question: Question) -> tuple[str, ...]:
    """The words that are all a question's key of the job file takes; none where there are none."""
    key = question.key
    if question.kind not in {"text", "units"}:
        return ()
    table, _, last = key.rpartition(".")
    if not table and key != "units":
        table = "window"
    kinds = get_args(field_of(table, last).annotation)
    return next((get_args(kind) for kind in kinds if get_origin(kind) is Literal), ())
