"""What one question of `drapetemplate new` is, when it is asked and where its answer goes.

A question is data: a `key`, its words, a default, the `kind` of its answer and, in `when`, what
must have been answered before it is asked. `all_questions.in_order` has them in the order asked:
the job, every window, the paper. Answers are kept as typed text, each under its path:

- The key of a question that writes is a key of the job file. Its path is that key, of the window
  asked about where it is a window's: "pole.diameter", "window[2].width". The pole, eyelets, band
  and cloth of the first window are the whole file's; another window's are its own.
- A question that only steers, of the kind "choice", brings up others and writes nothing. Its key
  begins with a "?", as no key of a job file does.

    >>> more = branch("?pole", "The pole", "More about the pole (yes or no)?", "Its diameter.")
    >>> diameter = Question(
    ...     "pole.diameter",
    ...     "The pole",
    ...     "Pole diameter?",
    ...     "Straight through the pole.",
    ...     default=InWords("not known"),
    ...     when=(answer_is("?pole", "yes"),),
    ... )
    >>> first = Answers({"window[1].?pole": "yes", "window[2].?pole": "no"}, window=1)
    >>> second = Answers(first.by_path, window=2)
    >>> diameter.applies(first), diameter.applies(second)
    (True, False)
    >>> first.path(more.key), first.path(diameter.key), second.path(diameter.key)
    ('window[1].?pole', 'pole.diameter', 'window[2].pole.diameter')

Nothing here knows who asks: a terminal, or any other front.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from drapetemplate.job import defaults
from drapetemplate.measures import Length, Units

Kind = Literal[
    "text",
    "units",
    "date",
    "length",
    "whole",
    "times",
    "mass",
    "area weight",
    "share",
    "yes or no",
    "side",
    "letters",
    "choice",
]
"""How typed text becomes a value: "side" is yes or no to a template of the panel's back, "choice"
one of the question's own words, which steers the questions."""

YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class InWords:
    """A default that has no value of its own: what is taken instead, in words.

    {window} in it stands for the window's number. Where a metric job has something else, that is
    `metric`.
    """

    text: str
    metric: str = ""


Default = str | Length | defaults.Default[Any] | defaults.Usual | InWords | None
"""What an empty line takes: a word, a length, the job file's own or what is usual, which may rest
on the job's units, something in words; None where one must answer."""


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers so far, as typed, by path, as a question about window number `window` sees them.

    Windows count from 1; 0 is the job and the paper, outside of any window.
    """

    by_path: Mapping[str, str]
    window: int = 0

    def path(self, key: str) -> str:
        """Where the answer to `key` goes."""
        if self.window and ("." not in key or self.window > 1):
            return f"window[{self.window}].{key}"
        return key

    def own(self, key: str) -> str:
        """Return what was typed for `key` here; empty where nothing was, or not yet."""
        return self.by_path.get(self.path(key), "")

    def shared(self, key: str) -> str:
        """Return what the whole file says of `key` to a window after the first; else empty."""
        return self.by_path.get(key, "") if self.window > 1 and "." in key else ""

    def takes_back(self, key: str) -> bool:
        """Whether this window is to have none of what the whole file says of `key`.

        A plain cloth takes back the repeats of a table, an unlined window all of the lining.
        """
        table, _, last = key.partition(".")
        if not self.shared(key) or self.own(key):
            return False
        plain = last.startswith("repeat_") and self.own(f"?pattern {table}") == "no"
        return plain or (table == "lining" and self.own("?lining") == "no")

    def text(self, key: str) -> str:
        """Return what counts for `key` here: the window's own text, else the file's."""
        return self.own(key) or self.shared(key)


Condition = Callable[[Answers], bool]
"""Something that must be true of the answers so far for a question to be asked."""


@dataclass(frozen=True, slots=True)
class Question:
    """One question: under the heading `section` it asks `text`; `explanation` is what "?" says.

    `key` is within its window or the file, without the window's number. It is asked where all of
    `when` hold. A "choice" is among its `choices`; where a word says too little, `choice_words` say
    each in full to whoever needn't type it. `shows` are keys that it speaks of, each with what it
    calls them: their defaults stand with it. A length typed at a choice in place of a word is the
    answer to the question of the key `measure`, which its default brings up.
    """

    key: str
    section: str
    text: str
    explanation: str
    default: Default = field(default=None, kw_only=True)
    kind: Kind = field(default="length", kw_only=True)
    when: tuple[Condition, ...] = field(default=(), kw_only=True)
    choices: tuple[str, ...] = field(default=(), kw_only=True)
    choice_words: tuple[str, ...] = field(default=(), kw_only=True)
    shows: tuple[tuple[str, str], ...] = field(default=(), kw_only=True)
    measure: str = field(default="", kw_only=True)

    @property
    def steers(self) -> bool:
        """Whether the answer only brings up other questions: the job file has no key for it."""
        return self.kind == "choice"

    def default_in(self, units: Units) -> str | Length | InWords | None:
        """What an empty line takes in a job in these units."""
        match self.default:
            case defaults.Default() as default:
                of_job = default.in_units(units)
                return of_job.value if isinstance(of_job.value, Fraction) else of_job.words
            case defaults.Usual() as usual:
                return usual.of(units)
            case InWords(metric=str(metric)) if metric and units != "in":
                return InWords(metric)
            case default:
                return default

    def applies(self, answers: Answers) -> bool:
        """Whether it is to be asked, after these answers."""
        return all(condition(answers) for condition in self.when)


@dataclass(frozen=True, slots=True)
class PlacedQuestion:
    """A question where it is asked: about the window that the `answers` so far are seen from."""

    question: Question
    answers: Answers

    @property
    def path(self) -> str:
        """Where its answer goes."""
        return self.answers.path(self.question.key)

    @property
    def window(self) -> int:
        """The number of the window it is about; 0 outside of windows."""
        return self.answers.window


def branch(
    key: str,
    section: str,
    text: str,
    explanation: str,
    *when: Condition,
    default: str = "no",
    shows: tuple[tuple[str, str], ...] = (),
) -> Question:
    """Return a yes or no that steers: the questions behind it are asked after a yes."""
    return Question(
        key,
        section,
        text,
        explanation,
        default=default,
        kind="choice",
        when=when,
        choices=YES_NO,
        shows=shows,
    )


def answer_is(key: str, *words: str) -> Condition:
    """Return a condition: the answer to `key` is one of `words`."""
    return lambda answers: answers.text(key).casefold() in words


def answer_is_not(key: str, *words: str) -> Condition:
    """Return a condition: the answer to `key` is none of `words`, or there is none."""
    return lambda answers: answers.text(key).casefold() not in words


def has_answer(key: str) -> Condition:
    """Return a condition: `key` was answered with a value, here or for the whole file."""
    return lambda answers: bool(answers.text(key))


def counts_here(key: str) -> Condition:
    """Return a condition: `key` has a value that counts here, and that this window doesn't refuse.

    >>> striped = {"fabric.repeat_across": "6", "window[2].?pattern fabric": "no"}
    >>> [counts_here("fabric.repeat_across")(Answers(striped, n)) for n in (1, 2, 3)]
    [True, False, True]
    """
    return lambda answers: bool(answers.text(key)) and not answers.takes_back(key)


def has_no_answer(key: str) -> Condition:
    """Return a condition: `key` was left empty, or not asked, here and for the whole file."""
    return lambda answers: not answers.text(key)


def has_own_answer(key: str) -> Condition:
    """Return a condition: `key` was answered with a value of this window's own."""
    return lambda answers: bool(answers.own(key))


def any_of(*conditions: Condition) -> Condition:
    """Return a condition: at least one of `conditions` holds."""
    return lambda answers: any(condition(answers) for condition in conditions)


def in_first_window(answers: Answers) -> bool:
    """Whether the question is about the first window."""
    return answers.window == 1


def in_later_window(answers: Answers) -> bool:
    """Whether the question is about a window after the first."""
    return answers.window > 1


def first_window_says(key: str, word: str) -> Condition:
    """Return a condition: this is a later window, and the first one's answer to `key` is `word`."""
    return lambda answers: (
        in_later_window(answers) and Answers(answers.by_path, 1).text(key).casefold() == word
    )


def first_window_does_not_say(key: str, word: str) -> Condition:
    """Return a condition: this is the first window, or that one's answer to `key` isn't `word`."""
    return lambda answers: not first_window_says(key, word)(answers)


def asked_here(what: str) -> Condition:
    """Return a condition: this window's own "pole", "eyelet" or "cloth" is to be asked.

    It is at the first window, and at a later one that isn't the same.
    """
    return lambda answers: (
        in_first_window(answers)
        or (
            answers.text("?same").casefold() == "no"
            and answers.text(f"?same {what}").casefold() == "no"
        )
    )
