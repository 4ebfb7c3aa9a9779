"""What one question of `drapetemplate new` is, and what was said so far.

A path is where an answer goes: the job file's own key path ("pole.diameter", "window[2].width"),
or one with a "?" before its last word for what only steers the questions ("?job"). The pole,
eyelets, band and cloth of the first window are the whole file's; another window's are its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from drapetemplate.measures import Length

Kind = Literal[
    "text",
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
one of a question's own words, which steers the questions."""

YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class Worked:
    """A default that has no value of its own: what it rests on, in words.

    {window} in it stands for the window's number.
    """

    text: str


Default = str | Length | Worked | None
"""What an empty line takes: a word, a length, something worked out; None where one must answer."""


@dataclass(frozen=True, slots=True)
class Said:
    """The answers so far, as typed, by path; `window` counts from 1 and is 0 outside of windows."""

    answers: Mapping[str, str]
    window: int = 0

    def path(self, key: str) -> str:
        """Where the answer to `key` goes."""
        if self.window and ("." not in key or self.window > 1):
            return f"window[{self.window}].{key}"
        return key

    def own(self, key: str) -> str:
        """What was typed for `key` here; empty where nothing was, or not yet."""
        return self.answers.get(self.path(key), "")

    def shared(self, key: str) -> str:
        """What the whole file says of `key` to a window after the first; else empty."""
        return self.answers.get(key, "") if self.window > 1 and "." in key else ""

    def __call__(self, key: str) -> str:
        """What counts here: the window's own, else the file's."""
        return self.own(key) or self.shared(key)


Test = Callable[[Said], bool]
"""Whether a question is to be asked, from what was said before it."""


@dataclass(frozen=True, slots=True)
class Question:
    """One question. `key` is within its window or the file, `section` the heading it stands under.

    `explains` is what "?" says. It is asked where all of `when` hold; a "choice" has `words`.
    """

    key: str
    section: str
    asks: str
    explains: str
    default: Default = None
    kind: Kind = "length"
    when: tuple[Test, ...] = ()
    words: tuple[str, ...] = ()

    def applies(self, said: Said) -> bool:
        """Whether it is to be asked."""
        return all(test(said) for test in self.when)


def chose(key: str, *words: str) -> Test:
    """True where the answer to `key` is one of `words`."""
    return lambda said: said(key).casefold() in words


def unless(key: str, *words: str) -> Test:
    """True where the answer to `key` is none of `words`, or there is none."""
    return lambda said: said(key).casefold() not in words


def told(key: str) -> Test:
    """True where `key` has a value of its own, here or for the whole file."""
    return lambda said: bool(said(key))


def untold(key: str) -> Test:
    """True where `key` hasn't."""
    return lambda said: not said(key)


def as_first(key: str, word: str) -> Test:
    """True of a window after the first where that one's answer to `key` is `word`."""
    return lambda said: later(said) and Said(said.answers, 1)(key).casefold() == word


def unless_first(key: str, word: str) -> Test:
    """True of the first window, and of others where that one's answer to `key` isn't `word`."""
    return lambda said: not as_first(key, word)(said)


def first(said: Said) -> bool:
    """True of the first window."""
    return said.window == 1


def later(said: Said) -> bool:
    """True of every window after it."""
    return said.window > 1


def own(what: str) -> Test:
    """True where this window's pole, eyelets or cloth are to be asked."""
    return lambda said: (
        first(said)
        or (said("?same").casefold() == "no" and said(f"?same {what}").casefold() == "no")
    )


def either(*tests: Test) -> Test:
    """True where one of `tests` is."""
    return lambda said: any(test(said) for test in tests)


def gate(key: str, section: str, asks: str, explains: str, *when: Test) -> Question:
    """A yes or no before rare questions; an empty line says no."""
    return Question(key, section, asks, explains, "no", "choice", when, YES_NO)
