"""Answers read back as they were understood, and defaults said: all of it safe to print."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import cast

from drapetemplate.interview.all_questions import question_for
from drapetemplate.interview.as_written import day_in_words
from drapetemplate.interview.job_text import job_text, only_answer, units_of
from drapetemplate.interview.question import Kind, PlacedQuestion
from drapetemplate.job.fields import NONE
from drapetemplate.job.paper_sizes import PaperSize
from drapetemplate.job.parse import place_of, read_file
from drapetemplate.job.tables import JobFile
from drapetemplate.measures import printable
from drapetemplate.wording import Wording, number
from drapetemplate.words.job_words import words_of

LONGEST_SHOWN = 200


def default_in_words(placed: PlacedQuestion) -> str | None:
    """Return what an empty line takes, in words; None where there must be an answer."""
    shared = placed.answers.shared(placed.question.key)
    if shared:
        return f"{short(shared)}, as at the first window"
    units = units_of(placed.answers.by_path)
    match placed.question.default_in(units):
        case (None | str()) as default:
            return default
        case Fraction() as length:
            return Wording(units).in_both(length)
        case in_words:
            return in_words.text.format(window=placed.window)


def defaults_shown(placed: PlacedQuestion) -> str:
    """Return what stands for the keys that a question speaks of; empty where it shows none."""
    shown = [
        f"{called} {_stands(PlacedQuestion(question_for(key), placed.answers))}"
        for key, called in placed.question.shows
    ]
    return f"{'; '.join(shown).capitalize()}." if shown else ""


def _stands(placed: PlacedQuestion) -> str:
    """A key's default, or the first window's answer, in the job's own units."""
    shared = placed.answers.shared(placed.question.key)
    units = units_of(placed.answers.by_path)
    default = placed.question.default_in(units)
    if isinstance(default, Fraction) and not shared:
        return Wording(units).exact(default)
    return _value(placed, shared) if shared else str(default_in_words(placed))


def read_back(placed: PlacedQuestion, text: str) -> str:
    """Return an answer as it was understood, named; empty `text` stands for the default."""
    question = placed.question
    if question.steers:
        return f"{text[0].upper()}{text[1:]}."
    name = words_of(question.key)
    found = question.default_in(units_of(placed.answers.by_path))
    default = found if isinstance(found, str) else ""
    meant = text or placed.answers.shared(question.key) or default
    if not meant:
        return f"{name}: {default_in_words(placed) or 'no answer'}"
    return f"{name}: {_value(placed, meant)}"


def named(placed: PlacedQuestion, text: str) -> str:
    """Return an answer as it stands in a list: one that only steers with what was asked."""
    if not placed.question.steers:
        return read_back(placed, text)
    return f"{re.split(r':| [(]', placed.question.text)[0]}: {text}"


def _value(placed: PlacedQuestion, text: str) -> str:
    """The value that was read, in words and in both systems of units where it is a length."""
    path, answers = only_answer(placed, text)
    file = read_file(job_text(answers).encode(), "").file
    return value_in_words(placed, value_at(file, path))


def value_at(file: JobFile | None, path: str) -> object:
    """Return the value that a job file gives at a key path; None where it gives none."""
    value: object = file
    for key in place_of(path) or ():
        if value is None:
            return None
        if isinstance(key, int):
            value = cast("list[object]", value)[key]
        else:
            value = getattr(value, "return_" if key == "return" else key)
    return value


def value_in_words(placed: PlacedQuestion, value: object) -> str:
    """Return a value that was read for a question: a length in both systems of units."""
    kind = placed.question.kind
    if kind == "length":
        if value is None:
            return NONE
        say, length = Wording(units_of(placed.answers.by_path)), cast("Fraction", value)
        # Only what a panel ends off the floor may be negative.
        return say.in_both(length) if length >= 0 else f"{say.in_both(-length)} on the floor"
    if isinstance(value, Fraction):
        return _MEASURES[kind](value)
    return day_in_words(value) if isinstance(value, date) else _word(kind, value)


_MEASURES: dict[Kind, Callable[[Fraction], str]] = {
    "times": number,
    "mass": lambda grams: f"{float(grams):.4g} g",
    "area weight": lambda weight: f"{float(weight):.4g} gsm",
    "share": lambda share: f"{number(share * 100)} %",
}


def _word(kind: Kind, value: object) -> str:
    """A value that is no measure."""
    match value:
        case None:
            return "auto"
        case bool():
            return "yes" if value else "no"
        case _ if kind == "side":
            return f"the {value}"
        case PaperSize():
            return short(value.name)
        case (str() as front, str() as back):
            return short(f"{front} in front, {back} behind")
    return short(str(value))


def short(text: str) -> str:
    """Return any text as a line may show it: safe, and cut where it is very long."""
    return printable(text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…")
