"""Windows added, copied and removed: a page's answers in, answers out in which the others stay.

The first window's pole, eyelets and cloth are the whole file's, and a later window has them but for
what it says itself. So where the first one goes, the second one's become the whole file's, and each
window that had the first one's now says them itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from drapetemplate.desk.reading import read_window
from drapetemplate.desk.refusals import window_named
from drapetemplate.desk.remedies import typed_length
from drapetemplate.errors import Fault, JobError
from drapetemplate.interview.all_questions import ANOTHER, THE_WINDOWS, question_for
from drapetemplate.interview.at_once import asked_of, asked_of_all
from drapetemplate.interview.job_text import units_of, windows_in
from drapetemplate.interview.question import YES_NO, Answers
from drapetemplate.job.model import Window
from drapetemplate.job.tables import MOST_WINDOWS
from drapetemplate.measures import Units
from drapetemplate.wording import number
from drapetemplate.words.job_words import words_of

_GROUPS = {"pole": ("pole",), "eyelet": ("eyelet", "band"), "cloth": ("fabric", "lining")}
"""What a later window has as the first one does, or says itself: each with its tables."""
_KEYS = tuple(
    dict.fromkeys(question.key for question in THE_WINDOWS if not question.key.startswith("?"))
)
_SHARED = tuple(key for key in _KEYS if "." in key)
_UNITS: Mapping[str, str] = {"mass": " g", "area weight": " gsm"}
_MEASURES = frozenset(
    question.key
    for question in THE_WINDOWS
    if "." not in question.key
    and question.kind in {"text", "length", "whole", "times"}
    and not question.choices
)
_PATH = re.compile(r"window\[([0-9]+)\]\.(.*)")


@dataclass(frozen=True, slots=True)
class Rearranged:
    """A page's answers with a window more or less, the one to show now, and what is to be told.

    `told` are lines about what a window has otherwise than before, which no answer could prevent.
    """

    answers: dict[str, str]
    window: int
    told: tuple[str, ...] = ()


def add_window(answers: Mapping[str, str]) -> Rearranged:
    """Return the answers with a window at the end, of which nothing is said yet.

    JobError where a job can't have one more.
    """
    count = windows_in(answers)
    if count >= MOST_WINDOWS:
        raise JobError([Fault("", f"a job has {MOST_WINDOWS} windows at most")])
    return Rearranged(_chained(answers, count + 1), count + 1)


def copy_window(answers: Mapping[str, str], window: int) -> Rearranged:
    """Return the answers with a window like this one at the end, but for its name.

    JobError where a job can't have one more, or has no such window.
    """
    _check_there(answers, window)
    added = add_window(answers)
    to = f"window[{added.window}]."
    copied = {
        f"{to}{match[2]}": text
        for path, text in answers.items()
        if (match := _PATH.fullmatch(path)) and int(match[1]) == window and match[2] != "name"
    }
    if window == 1:
        # What steers the first window's own pole, eyelets and cloth is asked of no later one.
        copied = {path: text for path, text in copied.items() if not _steers_shared(path)}
        extra = asked_of(answers, 1).counted.get("window[1].extra_seams")
        if extra:
            opened = {"?same": "no", "?same cloth": "no", "?more fabric": "yes"}
            copied |= {f"{to}{key}": word for key, word in opened.items()}
    return Rearranged(_chained({**answers, **copied}, added.window), added.window)


def remove_window(answers: Mapping[str, str], window: int) -> Rearranged:
    """Return the answers without a window; those after it move up.

    JobError for the only one, and for one that isn't there.
    """
    _check_there(answers, window)
    count = windows_in(answers)
    if count == 1:
        raise JobError([Fault("", "a job has one window at the least")])
    if window > 1:
        moved = _moved_up(answers, window)
        return Rearranged(_chained(moved, count - 1), min(window, count - 1))
    few, kinds = _one_of_a_kind(answers)
    moved = _without_the_first(few)
    told = dict(_changed(few, moved, len(kinds)))
    every = _every_window(answers, moved, kinds)
    lines = (
        f"{window_named(every, at)}: {told[kind]}"
        for kind, numbers in enumerate(kinds, 1)
        if kind in told
        for at in numbers
    )
    return Rearranged(_chained(every, count - 1), 1, tuple(lines))


def _check_there(answers: Mapping[str, str], window: int) -> None:
    """JobError where the job has no window of this number."""
    count = windows_in(answers)
    if not 1 <= window <= count:
        raise JobError([Fault("", f"there is no window {window}: the job has {count}")])


def _chained(answers: Mapping[str, str], count: int) -> dict[str, str]:
    """The answers with a yes to another window after each of so many but the last."""
    chain = {
        f"window[{n}].{ANOTHER.key}": "yes" if n < count else "no" for n in range(1, count + 1)
    }
    return {**answers, **chain}


def _moved_up(answers: Mapping[str, str], removed: int) -> dict[str, str]:
    """The answers without one window's, those of each after it one number lower."""
    moved = {}
    for path, text in answers.items():
        match = _PATH.fullmatch(path)
        at = int(match[1]) if match else 0
        if match is None or at < removed:
            moved[path] = text
        elif at > removed:
            moved[f"window[{at - 1}].{match[2]}"] = text
    return moved


def _steers_shared(path: str) -> bool:
    """Whether a path is of a question that steers those about cloth."""
    key = path.partition("].")[2]
    return key.startswith("?") and any(key.endswith(name) for name in ("cloth", "fabric", "lining"))


def _one_of_a_kind(answers: Mapping[str, str]) -> tuple[dict[str, str], list[list[int]]]:
    """The answers with the first two windows, and of later ones that are alike one alone.

    And of each window but the first which ones are like it, by the numbers that they have when that
    is removed. Those that are alike differ in names and measures of their own, not in what they
    say of pole, eyelets and cloth: so what becomes of that is found out once for all of them.
    """
    windows = _by_window(answers)
    kinds: dict[object, list[int]] = {}
    for at in range(2, len(windows)):
        said = (
            (key, bool(text) if _is_measure(key) else text) for key, text in windows[at].items()
        )
        kind = frozenset(each for each in said if each[0] != ANOTHER.key)
        kinds.setdefault("the second" if at == 2 else kind, []).append(at - 1)
    few = {**windows[0], **_placed(1, windows[1])}
    for number_now, alike in enumerate(kinds.values(), 2):
        # One that can be read tells the defaults that the others have, too.
        readable = (at for at in alike if _model(answers, at + 1) is not None)
        few |= _placed(number_now, windows[next(readable, alike[0]) + 1])
    return _chained(few, len(kinds) + 1), list(kinds.values())


def _every_window(
    answers: Mapping[str, str], moved: Mapping[str, str], kinds: Iterable[Iterable[int]]
) -> dict[str, str]:
    """All windows but the first, as became of those like them, with measures of their own."""
    windows, done = _by_window(answers), _by_window(moved)
    every = dict(done[0])
    for kind, numbers in enumerate(kinds, 1):
        for at in numbers:
            own = {
                key: windows[at + 1][key] if _is_measure(key) else text
                for key, text in done[kind].items()
            }
            every |= _placed(at, own)
    return every


def _by_window(answers: Mapping[str, str]) -> list[dict[str, str]]:
    """The answers of each window, without its number; before them those of the whole file."""
    windows: list[dict[str, str]] = [{} for _ in range(windows_in(answers) + 1)]
    for path, text in answers.items():
        match = _PATH.fullmatch(path)
        at, key = (int(match[1]), match[2]) if match else (0, path)
        windows[at][key] = text
    return windows


def _placed(window: int, own: Mapping[str, str]) -> dict[str, str]:
    """A window's answers by path."""
    return {f"window[{window}].{key}": text for key, text in own.items()}


def _is_measure(key: str) -> bool:
    """Whether a key is of a window's own name or measures: nothing else rests on what they say."""
    return key in _MEASURES


def _without_the_first(answers: Mapping[str, str]) -> dict[str, str]:
    """The answers without the first window's: the second's pole, eyelets and cloth are the file's.

    Each other window that had the first one's says them itself.
    """
    counted = asked_of_all(answers).counted
    units = units_of(counted)
    windows = [Answers(counted, n) for n in range(1, windows_in(answers) + 1)]
    has = [{key: _text(window, key) for key in _SHARED} for window in windows]
    lined = [_lined(window) for window in windows]
    cloth = [_has_cloth(windows[0], own) for own in has]
    models = [_model(answers, window.window) for window in windows]

    # Of the windows only what counts: opened questions would bring up what was typed once.
    meant = {
        path: text
        for path, text in answers.items()
        if path in counted or "?" in path or not path.startswith("window[")
    }
    moved = {
        path: text
        for path, text in _moved_up(meant, 1).items()
        if path not in _SHARED and not _is_of_a_table(path) and ".?same" not in path
    }
    moved |= {key: text for key, text in has[1].items() if text}
    moved |= {"window[1].?cloth": YES_NO[not cloth[1]], "window[1].?lining": YES_NO[not lined[1]]}
    moved = _opened(moved, 1, has[1])
    of_file = asked_of(moved, 1).counted
    shared = {key: of_file.get(key, "") for key in _SHARED}
    parted = _by_window(moved)
    for at in range(2, len(windows)):
        own: dict[str, str] = {}
        for key in _SHARED:
            if has[at][key] != shared[key]:
                own[key] = has[at][key] or _explicit(models[at], key, units)
        if not lined[at]:
            own = {key: text for key, text in own.items() if not key.startswith("lining.")}
        differs = {
            group: any(key.partition(".")[0] in tables for key in own)
            for group, tables in _GROUPS.items()
        }
        differs["cloth"] |= lined[at] != lined[1] or bool(windows[at].own("extra_seams"))
        said = {
            **parted[at],
            **own,
            "?same": YES_NO[any(differs.values())],
            **{f"?same {group}": YES_NO[differs[group]] for group in differs},
            "?lining": YES_NO[not lined[at]],
        }
        near = {**parted[0], **_placed(1, parted[1]), **_placed(at, said)}
        moved |= _opened(near, at, {**own, **has[at]})
    return moved


def _is_of_a_table(path: str) -> bool:
    """Whether a window's path is of its own pole, eyelets or cloth."""
    return "." in path.partition("].")[2]


def _text(window: Answers, key: str) -> str:
    """What counts for a window, its own or the whole file's; "" where it takes that back."""
    return "" if window.takes_back(key) else window.text(key)


def _lined(window: Answers) -> bool:
    """Whether a window has a lining: it says so, or the first one does."""
    said = window.own("?lining") or Answers(window.by_path, 1).own("?lining")
    return said == "yes"


def _has_cloth(first: Answers, own: Mapping[str, str]) -> bool:
    """Whether a window's cloth is planned: the first one's is, or it says something of its own."""
    return first.own("?cloth") == "yes" or any(
        text for key, text in own.items() if key.startswith("fabric.")
    )


def _opened(answers: dict[str, str], window: int, has: Mapping[str, str]) -> dict[str, str]:
    """The answers with each yes or no of a window such that all it has is asked for, and no more.

    All are opened first. Each that isn't needed is then closed again.
    """
    at = f"window[{window}]."
    branches = [
        question.key
        for question in THE_WINDOWS
        if question.choices == YES_NO and question is not ANOTHER
    ]
    settled = {"?cloth", "?lining", *(key for key in branches if key.startswith("?same"))}
    for key in branches:
        if key.startswith("?pattern "):
            table = key.removeprefix("?pattern ")
            repeats = any(has.get(f"{table}.repeat_{way}") for way in ("down", "across"))
            answers[f"{at}{key}"] = YES_NO[not repeats]
            settled.add(key)
        elif key not in settled:
            answers[f"{at}{key}"] = "yes"
    meant = _meant(answers, window)
    for key in branches:
        closed = {**answers, f"{at}{key}": "no"}
        if key not in settled and _meant(closed, window) == meant:
            answers = closed
    return answers


def _meant(answers: Mapping[str, str], window: int) -> dict[str, str]:
    """The answers that count and say something, but for those that only steer."""
    counted = asked_of(answers, window).counted
    return {path: text for path, text in counted.items() if text and "?" not in path}


def _model(answers: Mapping[str, str], window: int) -> Window | None:
    """A window as a job has it; None where something speaks against it."""
    job = read_window(answers, window, in_full=False).job
    return None if job is None else job.windows[0]


def _explicit(window: Window | None, key: str, units: Units) -> str:
    """What a window has by default, as it is typed; "" where that is nothing that can be typed."""
    value = _value(window, key)
    kind = question_for(key).kind
    if value is None:
        return ""
    if kind == "length":
        return typed_length(value, units)
    if kind == "yes or no":
        return YES_NO[not value]
    if isinstance(value, Fraction):
        return f"{number(value)}{_UNITS.get(kind, '')}"
    return str(value)


def _value(window: Window | None, key: str) -> Any:  # noqa: ANN401  # whatever a job's key holds
    """What a job's window has of a table's key; None where it has none."""
    table, _, name = key.partition(".")
    return getattr(getattr(window, table, None), name, None)


def _changed(
    before: Mapping[str, str], after: Mapping[str, str], count: int
) -> Iterator[tuple[int, str]]:
    """Yield each window that has something otherwise than before, and what, in words."""
    for number_now in range(1, count + 1):
        was, now = _model(before, number_now + 1), _model(after, number_now)
        if was is None or now is None:
            continue
        others = list(_others(was, now, _SHARED))
        if others:
            yield number_now, f"without the first window it has another {', '.join(others)}"


def _others(was: Window, now: Window, keys: Sequence[str]) -> Iterator[str]:
    """Keys that a window has otherwise, in words; a cloth that it has or hasn't as one."""
    for table in ("fabric", "lining"):
        if (getattr(was, table) is None) != (getattr(now, table) is None):
            yield table
    yield from _differing(was, now, keys)


def _differing(was: Window, now: Window, keys: Iterable[str]) -> Iterator[str]:
    for key in keys:
        table = key.partition(".")[0]
        if getattr(was, table) is None or getattr(now, table) is None:
            continue
        if _value(was, key) != _value(now, key):
            yield words_of(key).lower()
