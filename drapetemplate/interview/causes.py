"""Which answers a fault or a stop comes from: each is varied, and what is said then compared.

A fault's line says the measures that can't go together. So where an answer has a part in it, the
line is another, or gone, once that answer is a little more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction

from drapetemplate.interview.check_answers import Check, check_all
from drapetemplate.interview.job_text import units_of
from drapetemplate.interview.question import PlacedQuestion
from drapetemplate.measures import MM, Length, Units, parse_length, parse_number

Lines = Callable[[Check], frozenset[str]]
"""The lines of a check that are asked about."""

_LITTLE_MORE = Fraction(51, 50)
_MOST_TIMES = 9  # a fullness is 10 at most
_SILENT = frozenset({"units", "name", "fabric.name", "lining.name"})  # or in every line there is


def part_in(
    asked: Iterable[tuple[PlacedQuestion, str]],
    answers: Mapping[str, str],
    window: int,
    lines: Lines,
) -> list[bool | None]:
    """Return of each answer, a question and its text, whether it has a part in what is said.

    It is None of an answer that can't be varied, such as a name, or a yes to more questions.
    `answers` are all, by path, and `lines` takes what is asked about out of the check of `window`.
    """
    said = lines(check_all(answers, window))

    def has_part(placed: PlacedQuestion, text: str) -> bool | None:
        other = _varied(placed, text, units_of(answers)) if _counts_for(placed, window) else None
        if other is None:
            return None
        return not said <= lines(check_all({**answers, placed.path: other}, window))

    return [has_part(placed, text) for placed, text in asked]


def _counts_for(placed: PlacedQuestion, window: int) -> bool:
    """Whether an answer may count for a window: its own, or the file's, asked at the first."""
    key = placed.question.key
    if placed.question.steers or key in _SILENT or key.startswith("job."):
        return False
    if not window:
        return key.startswith("paper.")
    return placed.window == window or (placed.window == 1 and "." in key)


def _varied(placed: PlacedQuestion, text: str, units: Units) -> str | None:
    """Another answer near this one; None where there is none. Empty text is the default's."""
    question = placed.question
    match question.kind:
        case "length":
            length = _length(placed, text, units)
            return None if length is None else f"{float(length * _LITTLE_MORE or MM):.6f} mm"
        case "times" if text:
            times = parse_number(text)
            if question.key == "widths":
                return f"{float(times + Fraction(1, 2))}"
            return f"{float(times * _LITTLE_MORE if times < _MOST_TIMES else times - 1):.6f}"
        case "whole" if text.isdecimal():
            return str(int(text) + 2)
        case "yes or no" | "side":
            return "no" if text.casefold().startswith("y") else "yes"
        case _:
            return "" if text else None


def _length(placed: PlacedQuestion, text: str, units: Units) -> Length | None:
    """The length that counts, the default's where there is no text; None where there is none."""
    if text:
        try:
            return parse_length(text, units)
        except ValueError:  # none, in words
            return None
    default = placed.question.default_in(units)
    shared = placed.answers.shared(placed.question.key)
    return default if isinstance(default, Fraction) and not shared else None
