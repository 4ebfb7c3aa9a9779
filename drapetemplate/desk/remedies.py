"""What a finding names to do, as something to press: changes of a page's answers.

Typed into their fields, they give exactly the value that was tried for the advice.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TypedDict

from drapetemplate.interview.at_once import asked_of
from drapetemplate.interview.job_text import units_of, windows_in
from drapetemplate.interview.question import Answers
from drapetemplate.measures import Length, Units, format_length, parse_length
from drapetemplate.planning.advice import MULTIPLIERS
from drapetemplate.planning.model import Change, Remedy
from drapetemplate.wording import Wording, counted, number


class Remedied(TypedDict):
    """A remedy: what it does, in words, and the answers it changes, by path."""

    words: str
    changes: dict[str, str]


# What must be answered for a key to be asked; a later window has the first one's pole and cloth
# until it says that its own differ.
_POLE = (("?same", "no"), ("?same pole", "no"))
_OPENED_BY: Mapping[str, tuple[tuple[str, str], ...]] = {
    "pole.projection": _POLE,
    "pole.diameter": _POLE,
    "pole.length": (*_POLE, ("?pole", "yes")),
    "covers": (("?pole", "yes"),),
    "fullness": (("?pole", "yes"),),
    "extra_seams": (("?same", "no"), ("?same cloth", "no"), ("?more fabric", "yes")),
}
_TAKES_BACK = {"fullness": "covers"}  # beside a width either says what the other is


def remedied(
    answers: Mapping[str, str], counting: Mapping[str, str], window: int, remedy: Remedy
) -> Remedied:
    """Return a remedy of a window's finding as changes of a page's answers.

    `counting` is what counts of the answers: of this window and what it rests on, or of all.
    """
    units = units_of(counting)
    changes: dict[str, str] = {}
    for change in remedy:
        changes |= _changed(answers, counting, window, change, units)
    changes |= _left_counting_for_nothing(answers, counting, window, changes)
    words = " with ".join(_words(change, units) for change in remedy)
    shared = any("." in change.key for change in remedy)
    if shared and window == 1 and windows_in(answers) > 1:
        words += ", at each window that has the first one's"
    return Remedied(words=words, changes=changes)


def _changed(
    answers: Mapping[str, str],
    counting: Mapping[str, str],
    window: int,
    change: Change,
    units: Units,
) -> dict[str, str]:
    """What answers one change of a key takes: those that bring its question up, and its own."""
    own = Answers(answers, window)
    changes = {}
    if own.path(change.key) not in counting:
        changes = {
            own.path(key): word
            for key, word in _OPENED_BY.get(change.key, ())
            if window > 1 or not key.startswith("?same")
        }
    other = _TAKES_BACK.get(change.key)
    by_covers = counting.get(own.path("?route")) == "covers"
    if other is not None and not by_covers and counting.get(own.path(other)):
        changes |= {own.path("?pole"): "yes", own.path(other): ""}
    return {**changes, own.path(change.key): _typed(change, units)}


def _left_counting_for_nothing(
    answers: Mapping[str, str],
    counting: Mapping[str, str],
    window: int,
    changes: Mapping[str, str],
) -> dict[str, str]:
    """What was typed before and would come to count by these changes, emptied."""
    after = asked_of({**answers, **changes}, window).counted
    return {
        path: ""
        for path in after
        if path not in counting and path not in changes and answers.get(path)
    }


def _typed(change: Change, units: Units) -> str:
    """A change's value as it is typed: in the job's units where that is exact."""
    match change.key, change.value:
        case _, str() as word:
            return word
        case key, value if key in MULTIPLIERS:
            return number(Fraction(value))
        case _, int() as count:
            return str(count)
        case _, length:
            return typed_length(length, units)


def typed_length(length: Length, units: Units) -> str:
    """Return a length as it is typed in a job of these units, so that it is read back exactly.

    >>> typed_length(Fraction("114.3"), "in"), typed_length(Fraction(5), "in")
    ('4 1/2', '5 mm')
    """
    text = format_length(length, units, unit=False)
    return text if parse_length(text, units) == length else f"{number(length)} mm"


def _words(change: Change, units: Units) -> str:
    """A change in a few words."""
    match change.key, change.value:
        case "extra_seams", value:
            words = counted(int(value), "extra seam")
        case _, str() as words:
            pass
        case key, value if key in _NUMBERS:
            words = number(Fraction(value))
        case _, value:
            words = Wording(units)(Fraction(value))
    return _SAID.get(change.key, f"{change.key} of {{}}").format(words)


_NUMBERS = {"count", *MULTIPLIERS}
_SAID = {
    "panels": "a {}",
    "count": "{} eyelets a panel",
    "widths": "{} widths a panel",
    "covers": "{} covered by each panel",
    "extra_seams": "{} a panel",
    "pattern": "pattern matched at the {} alone",
    "pole.projection": "projection of {}",
    "pole.diameter": "pole of {}",
    "pole.length": "pole {} long",
}
