"""Which answers a fault or a stop comes from: each is varied, and what is said then compared.

A fault's line says the measures that can't go together. So where an answer has a part in it, the
line is another, or gone, once that answer is a little more; or much more, where the line rounds.
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

_MORE = (Fraction(51, 50), Fraction(5, 4))
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
        varied = _varied(placed, text, units_of(answers)) if _counts_for(placed, window) else ()
        if not varied:
            return None
        little, *much = [check_all({**answers, placed.path: other}, window) for other in varied]
        # What is much more may bring faults of its own, behind which no line is seen any more.
        return not said <= lines(little) or any(
            check.plan is not None and not said <= lines(check) for check in much
        )

    return [has_part(placed, text) for placed, text in asked]


def _counts_for(placed: PlacedQuestion, window: int) -> bool:
    """Whether an answer may count for a window: its own, or the file's, asked at the first."""
    key = placed.question.key
    if placed.question.steers or key in _SILENT or key.startswith("job."):
        return False
    if not window:
        return key.startswith("paper.")
    return placed.window == window or (placed.window == 1 and "." in key)


def _varied(placed: PlacedQuestion, text: str, units: Units) -> tuple[str, ...]:
    """Other answers near this one, a little more and much more; none where there can't be.

    Empty text is the default's.
    """
    question = placed.question
    match question.kind:
        case "length":
            lengths = _lengths(placed, text, units)
            more = (length * times or MM for length in lengths for times in _MORE)
            return tuple(f"{float(length):.6f} mm" for length in more)
        case "times" if text:
            number = parse_number(text)
            if question.key == "widths":
                return (f"{float(number + Fraction(1, 2))}",)
            return (f"{float(number * _MORE[0] if number < _MOST_TIMES else number - 1):.6f}",)
        case "whole" if text.isdecimal():
            return (str(int(text) + 2),)
        case "yes or no" | "side":
            return ("no" if text.casefold().startswith("y") else "yes",)
        case _:
            return ("",) if text else ()


def _lengths(placed: PlacedQuestion, text: str, units: Units) -> tuple[Length, ...]:
    """The length that counts, the default's where there is no text; none where there is none."""
    if text:
        try:
            return (parse_length(text, units),)
        except ValueError:  # none, in words
            return ()
    default = placed.question.default_in(units)
    shared = placed.answers.shared(placed.question.key)
    return (default,) if isinstance(default, Fraction) and not shared else ()
