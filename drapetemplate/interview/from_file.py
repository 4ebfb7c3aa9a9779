"""A job file's tables in, the answers by path that say the same out, for questions to go on from.

Values stay spelled as in the file. The questions that only steer are answered so that every key
that the file gives comes up, where it can. What the first window alone gives of a table is the
answer to the first window's question; each later window then has the file's own as its answer.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from drapetemplate.interview.all_questions import (
    ANOTHER,
    NOT_ASKED,
    THE_JOB,
    THE_PAPER,
    THE_WINDOWS,
    question_for,
)
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.question import YES_NO, Answers, Kind, Question
from drapetemplate.job.fields import NONE
from drapetemplate.job.tables import TABLES, path_in_file

Tables = Mapping[str, Any]

SHARED = ("eyelet", "band", "pole", "fabric", "lining")
"""The tables that a file may give for all its windows, and a window for itself."""
CLOTHS = ("fabric", "lining")


@dataclass(frozen=True, slots=True)
class FromFile:
    """The answers that a job file gives, by path, and the keys in it that no question comes up for.

    Answers to those are among the answers too, if they could be: for a question that comes up once
    others are answered otherwise.
    """

    answers: Mapping[str, str]
    left_out: tuple[str, ...]


def from_tables(tables: Tables) -> FromFile:
    """Return what a job file's tables, as `job.parse.tables_in` gives them, answer.

    >>> tables = {"job": {"name": "Heron Point"}, "window": [{"width": 88, "colour": "red"}]}
    >>> read = from_tables(tables)
    >>> read.answers["window[1].?route"], read.answers["window[1].width"], read.left_out
    ('width', '88', ('window[1].colour',))
    """
    windows = windows_of(tables)
    answers: dict[str, str] = {}
    for table in ("", "job", "paper"):
        answers |= _texts(table, _table(tables, table), "")
    _open_branches(answers, THE_JOB, 0)
    _open_branches(answers, THE_PAPER, 0)
    answers |= _of_window(tables, windows, 1)
    _steer(answers, tables, windows, 1)
    # What a later window is asked rests on its own answers, the first one's and the file's.
    before = dict(answers)
    for number in range(2, len(windows) + 1):
        near = before | _of_window(tables, windows, number)
        _steer(near, tables, windows, number)
        answers |= near
    counted = asked_of_all(answers).counted
    of_later = {path.partition("].")[2] for path in counted}
    left_out = [
        path
        for path, answer in _keys_given(tables)
        if not _comes_up(answer, counted) and answer not in of_later
    ]
    return FromFile(answers, tuple(left_out))


def windows_of(tables: Tables) -> list[Tables]:
    """Return a file's windows; an empty one where there are none, or they are no list of tables."""
    windows = tables.get("window")
    if not isinstance(windows, list) or not windows:
        return [{}]
    return [window if isinstance(window, dict) else {} for window in windows]


def is_none(value: object) -> bool:
    """Whether a value is the word by which a window takes back what the file says."""
    return isinstance(value, str) and value.casefold() == NONE


def _table(tables: Tables, name: str) -> Tables:
    """A table of a file or of a window; an empty one where it isn't there, or is no table."""
    table = tables.get(name, {}) if name else tables
    return table if isinstance(table, dict) else {}


def _texts(table: str, given: Tables, prefix: str) -> dict[str, str]:
    """The answers in one table's own keys, by path."""
    texts = {}
    for key, value in given.items():
        path = path_in_file(table, key)
        if key not in TABLES and _is_asked(path):
            texts[f"{prefix}{path}"] = as_typed(question_for(path).kind, value)
    return texts


def _is_asked(path: str) -> bool:
    """Whether there is a question at all for a key of a job file."""
    try:
        question_for(path)
    except KeyError:
        return False
    return path not in NOT_ASKED


_SIDES = {"back": "yes", "face": "no"}


def as_typed(kind: Kind, value: object) -> str:
    """Return a value of a job file as someone would type it, spelled as it is there.

    >>> as_typed("length", "2 5/8"), as_typed("length", Decimal("75.50")), as_typed("side", "back")
    ('2 5/8', '75.50', 'yes')
    """
    match value:
        case str():
            return _SIDES.get(value.casefold(), value) if kind == "side" else value
        case bool() if kind == "yes or no":
            return "yes" if value else "no"
        case Decimal():
            return f"{value:f}"
        case date():
            return value.isoformat()
        case list() if kind == "letters" and all(_is_word(each) for each in value):
            return " ".join(value)
        case _:
            return json.dumps(value, ensure_ascii=False, default=str)


def _is_word(value: object) -> bool:
    return isinstance(value, str) and value.split() == [value] and "," not in value


def _of_window(tables: Tables, windows: list[Tables], number: int) -> dict[str, str]:
    """A window's answers to questions that write."""
    window, first = windows[number - 1], windows[0]
    at = f"window[{number}]."
    answers = _texts("window", window, at)
    for table in SHARED:
        shared, own = _table(tables, table), _table(window, table)
        if number == 1:
            answers |= _texts(table, own if is_none(window.get(table)) else {**shared, **own}, "")
            continue
        # What the first window doesn't take from the file, its answers don't hand on.
        refused = is_none(first.get(table))
        not_of_first = {
            key: value for key, value in shared.items() if refused or key in _table(first, table)
        }
        answers |= _texts(table, {**not_of_first, **own}, at)
    for table in CLOTHS:
        repeats = ("repeat_down", "repeat_across")
        if number > 1 and all(is_none(_table(window, table).get(key)) for key in repeats):
            for key in repeats:  # said by the question whether it has a pattern
                del answers[f"{at}{table}.{key}"]
    return answers


def has_cloth(tables: Tables, window: Tables, table: str) -> bool:
    """Whether a window has a cloth of this table: its own, or the file's that it doesn't refuse."""
    return not is_none(window.get(table)) and (table in tables or table in window)


def _steer(answers: dict[str, str], tables: Tables, windows: list[Tables], number: int) -> None:
    """Answer the questions of a window that steer."""
    answers |= _chosen(tables, windows, number, answers)
    _open_branches(answers, THE_WINDOWS, number)


def _chosen(
    tables: Tables, windows: list[Tables], number: int, answers: Mapping[str, str]
) -> dict[str, str]:
    """What a window answers to the questions that steer by what the file has, not by one key."""
    window, first = windows[number - 1], windows[0]
    given = Answers(answers, number)
    chosen = {
        "?route": _route(given),
        "?lining": _yes(has_cloth(tables, window, "lining")),
        ANOTHER.key: _yes(number < len(windows)),
    }
    for table in CLOTHS:
        repeats = [given.text(f"{table}.repeat_{way}") for way in ("down", "across")]
        refused = number > 1 and all(
            is_none(_table(window, table).get(f"repeat_{way}")) for way in ("down", "across")
        )
        chosen[f"?pattern {table}"] = _yes(any(repeats) and not refused)
    if number == 1:
        chosen["?cloth"] = _yes(any(has_cloth(tables, window, table) for table in CLOTHS))
    else:
        own = {table for table in SHARED if table in window or _own_answers(answers, number, table)}
        lined = [has_cloth(tables, each, "lining") for each in (first, window)]
        same = {
            "?same pole": "pole" not in own,
            "?same eyelet": own.isdisjoint({"eyelet", "band"}),
            "?same cloth": own.isdisjoint(CLOTHS) and lined[0] == lined[1],
        }
        same = {key: each and not _comes_with(key, given) for key, each in same.items()}
        chosen |= {key: _yes(each) for key, each in same.items()}
        chosen["?same"] = _yes(all(same.values()))
    return {given.path(key): word for key, word in chosen.items()}


def _route(given: Answers) -> str:
    """Which way a window's width is known."""
    for key in ("width", "widths"):
        if given.text(key):
            return key
    return "covers" if any(map(given.text, ("covers", "fullness", "pole.length"))) else "width"


def _comes_with(key: str, given: Answers) -> bool:
    """Whether a window answers something that is asked only after a no to this question."""

    def asked(word: str) -> set[str]:
        opened = dict(given.by_path)
        for question in THE_WINDOWS:
            if question.steers and given.path(question.key) not in opened:
                same = question.key.startswith("?same")
                opened[given.path(question.key)] = YES_NO[1] if same else YES_NO[0]
        opened[given.path(key)] = word
        window = Answers(opened, given.window)
        return {question.key for question in answered if question.applies(window)}

    answered = [question for question in THE_WINDOWS if given.own(question.key)]
    return bool(asked(YES_NO[1]) - asked(YES_NO[0]))


def _own_answers(answers: Mapping[str, str], number: int, table: str) -> bool:
    at = f"window[{number}].{table}."
    return any(path.startswith(at) for path in answers)


def _yes(yes: bool) -> str:  # noqa: FBT001  # a truth put in words
    return YES_NO[0] if yes else YES_NO[1]


def _open_branches(answers: dict[str, str], questions: Iterable[Question], window: int) -> None:
    """Answer each steering question that is still open so that more of the answers are asked for.

    Where that makes no odds it keeps its default.
    """

    def asked() -> set[str]:
        so_far = Answers(answers, window)
        return {
            question.key
            for question in questions
            if so_far.own(question.key) and question.applies(so_far)
        }

    for question in questions:
        so_far = Answers(answers, window)
        path = so_far.path(question.key)
        if question.steers and path not in answers and question.applies(so_far):
            asked_with = {}
            for word in question.choices:
                answers[path] = word
                asked_with[word] = len(asked())
            default = str(question.default)
            best = max(question.choices, key=lambda word: (asked_with[word], word == default))
            answers[path] = best


def _keys_given(tables: Tables) -> Iterator[tuple[str, str]]:
    """Yield each key's path in a file, and the path of the answer that says the same."""
    for key, value in tables.items():
        if key == "window" and isinstance(value, list):
            for number, window in enumerate(value, 1):
                yield from _keys_of_window(window, number)
        elif isinstance(value, dict):
            yield from ((f"{key}.{inner}", f"{key}.{inner}") for inner in value)
        else:
            yield key, key


def _keys_of_window(window: object, number: int) -> Iterator[tuple[str, str]]:
    at = f"window[{number}]"
    if not isinstance(window, dict):
        yield at, at
        return
    for key, value in window.items():
        if isinstance(value, dict):
            for inner in value:
                path = f"{key}.{inner}"
                yield f"{at}.{path}", Answers({}, number).path(path)
        elif key == "lining" and is_none(value):
            yield f"{at}.{key}", f"{at}.?lining"
        else:
            yield f"{at}.{key}", f"{at}.{key}"


def _comes_up(path: str, counted: Mapping[str, str]) -> bool:
    """Whether a question comes up for a key of the file, or one says that there is none of it."""
    at, _, key = path.rpartition("].")
    if path in counted or not at:
        return path in counted
    table, _, last = key.partition(".")
    plain = counted.get(f"{at}].?pattern {table}") == YES_NO[1] and last.startswith("repeat_")
    return plain or Answers(counted, int(at[len("window[") :])).takes_back(key)
