"""A TOML text and changes to it in, the text with those lines changed and all others as they were.

What a file has is changed and taken out by tomlkit, which keeps comments and layout. What it hasn't
yet is put in as a line where someone would write it: where the file has the key or the table behind
a #, as the files of `new` have, in the place of that line. Lines end in a line feed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit.items import Array, Date, Float, InlineTable, Integer

from drapetemplate.job.toml_lines import TOKEN, Place, lines_of

_IDLE = re.compile(r"\s*(#.*)?")
_NUMBER = re.compile(r"(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class NoPlaceError(Exception):
    """A text that has no place for a change: for a window after one that isn't there, say."""


@dataclass(frozen=True, slots=True)
class Change:
    """One key's new value, as TOML; None takes the key out, with all that it holds.

    `table` is the place of its table: ("window", 1, "pole") for [window.pole] of the second window.
    `text` is the value as typed, which goes without quotes where the old one did.
    """

    table: Place
    key: str
    toml: str | None
    text: str = ""


def changed(text: str, changes: Iterable[Change]) -> str:
    """Return a TOML text with these changes made."""
    wanted = list(changes)
    if not wanted:
        return text
    document: Any = tomlkit.parse(text)
    to_come = []
    for change in wanted:
        table: Any = _at(document, change.table)
        if table is not None and change.key in table:
            if change.toml is None:
                del table[change.key]
            else:
                table[change.key] = tomlkit.value(_in_its_manner(table[change.key], change))
        elif change.toml is not None:
            if table is None:
                table = _opened_in_line(document, change.table)
            if table is not None and (
                isinstance(table, InlineTable) or _is_dotted(text, change.table)
            ):
                table[change.key] = tomlkit.value(change.toml)
            else:
                to_come.append(change)
    text = tomlkit.dumps(document)
    for change in to_come:
        text = _with_line(text, change)
    return text


def with_table(text: str, place: Place) -> str:
    """Return a text with a table opened that it hasn't yet, empty: the file's or a window's own."""
    document = tomlkit.parse(text)
    if _opened_in_line(document, place) is not None:
        return tomlkit.dumps(document)
    lines = text.split("\n")
    *outer, name = place
    title = f"[{'.'.join(part for part in place if isinstance(part, str))}]"
    if outer:
        _, at = _window_lines(text, lines, place)
        return "\n".join([*lines[:at], "", title, *lines[at:]])
    if f"# {title}" in lines:
        at = lines.index(f"# {title}")
        return "\n".join([*lines[:at], title, *lines[at + 1 :]])
    windows = [line for line, place in _headers(text) if place[:1] == ("window",)]
    if not windows:
        return f"{text.rstrip()}\n\n[{name}]\n"
    at = _above(lines, windows[0])
    return "\n".join([*lines[:at], title, "", *lines[at:]])


def without_table(text: str, place: Place) -> str:
    """Return a text without a table, what is in it, and the comments right above it."""
    lines = text.split("\n")
    headers = _headers(text)
    start = next((line for line, each in headers if each == place), None)
    if start is None:
        return changed(text, [Change(place[:-1], str(place[-1]), None)])
    end = next((line for line, _ in headers if line > start), len(lines))
    end = _above(lines, end) if end < len(lines) else end
    after = lines[end:] or [""]
    return "\n".join([*lines[: _above(lines, start)], *after])


def without_windows(text: str, numbers: Iterable[int]) -> str:
    """Return a text without these of its windows, counted from 0, and the comments above each."""
    document = tomlkit.parse(text)
    in_line = _windows_in_line(document)
    if in_line is not None:
        for number in sorted(numbers, reverse=True):
            del in_line[number]
        return tomlkit.dumps(document)
    for number in sorted(numbers, reverse=True):
        lines = text.split("\n")
        start, end = _window_lines(text, lines, ("window", number))
        while end < len(lines) and not lines[end].strip():
            end += 1
        text = "\n".join([*lines[: _above(lines, start)], *lines[end:]])
    return f"{text.rstrip()}\n"


def with_window(text: str, number: int) -> str:
    """Return a text with an empty window put in after its first `number` windows.

    After none it goes to the end, in a text that has none yet.
    """
    document = tomlkit.parse(text)
    in_line = _windows_in_line(document)
    if in_line is not None:
        in_line.insert(number, tomlkit.inline_table())
        return tomlkit.dumps(document)
    if not number:
        return f"{text.rstrip()}\n\n[[window]]\n"
    lines = text.split("\n")
    _, at = _window_lines(text, lines, ("window", number - 1))
    return "\n".join([*lines[:at], "", "[[window]]", *lines[at:]])


def _at(document: Any, place: Place) -> Any:  # noqa: ANN401  # tables as tomlkit has them
    """The table at a place; None where there is none."""
    table: Any = document
    for step in place:
        if isinstance(step, str) and step not in table:
            return None
        table = table[step]
        if not isinstance(table, dict | list):
            return None
    return table


def _windows_in_line(document: Any) -> Array | None:  # noqa: ANN401
    """The windows of a file that has them all in one value, window = [{…}, {…}]; else None."""
    windows = document.get("window")
    return windows if isinstance(windows, Array) else None


def _opened_in_line(document: Any, place: Place) -> InlineTable | None:  # noqa: ANN401
    """A table opened in a window that stands in line, where no header can; None elsewhere."""
    *outer, name = place or ("",)
    around = _at(document, tuple(outer)) if outer else None
    if not isinstance(around, InlineTable):
        return None
    around[str(name)] = tomlkit.inline_table()
    opened: InlineTable = around[str(name)]
    return opened


def _in_its_manner(old: object, change: Change) -> str:
    """The new value as TOML, without quotes where the old one had none and it needs none."""
    bare = (isinstance(old, Integer | Float) and _NUMBER.fullmatch(change.text)) or (
        isinstance(old, Date) and _DAY.fullmatch(change.text)
    )
    return change.text if bare else str(change.toml)


def _headers(text: str) -> list[tuple[int, Place]]:
    """Every [table] and [[table]] in order: the index of its line, and its place."""
    places = {line: place for place, line in lines_of(text).items()}
    headers = []
    line, depth, begins = 1, 0, True
    for token in TOKEN.finditer(text):
        kind = token.lastgroup
        if kind == "open":
            if begins and not depth and line in places:
                headers.append((line - 1, places[line]))
            depth += 1
        elif kind == "close":
            depth -= 1
        if kind not in {"space", "comment"}:
            begins = kind == "newline"
        line += token[0].count("\n")
    return headers


def _is_dotted(text: str, place: Place) -> bool:
    """Whether a table is there, but with no header of its own: dotted keys bring it about."""
    return place in lines_of(text) and place not in {place for _, place in _headers(text)}


def _region(text: str, lines: list[str], place: Place) -> tuple[int, int]:
    """The lines of a table's own keys: from after its header to the next one's."""
    headers = _headers(text)
    starts = [line for line, _ in headers]
    start = 0
    if place:
        start = next(line for line, each in headers if each == place) + 1
    end = next((line for line in starts if line >= start), len(lines))
    return start, end


def _window_lines(text: str, lines: list[str], place: Place) -> tuple[int, int]:
    """The lines of a window, its own tables with it, without what stands above the next header."""
    headers = _headers(text)
    window = place[:2]
    start = next((line for line, each in headers if each == window), None)
    if start is None:
        raise NoPlaceError
    end = next((line for line, each in headers if line > start and each[:2] != window), len(lines))
    end = _above(lines, end) if end < len(lines) else end
    while not lines[end - 1].strip():
        end -= 1
    return start, end


def _above(lines: list[str], line: int) -> int:
    """The first of the comments that stand right above a line; itself where there are none."""
    while line and lines[line - 1].startswith("#"):
        line -= 1
    return line


def _with_line(text: str, change: Change) -> str:
    """A text with a key that it hasn't yet, in its table, which is opened if it must be."""
    if change.table and change.table not in {place for _, place in _headers(text)}:
        text = with_table(text, change.table)
    lines = text.split("\n")
    start, end = _region(text, lines, change.table)
    behind_hash = re.compile(rf'#\s*{change.key}\s*=\s*("[^"]*"|\[[^\]]*\]|[^\s#"]+)?\s*(#.*)?')
    new = f"{change.key} = {change.toml}"
    for at in range(start, end):
        if held := behind_hash.fullmatch(lines[at]):
            if held[2]:
                new = f"{new:{held.start(2) - 2}}  {held[2]}"
            return "\n".join([*lines[:at], new, *lines[at + 1 :]])
    while end > start and _IDLE.fullmatch(lines[end - 1]):
        end -= 1
    return "\n".join([*lines[:end], new, *lines[end:]])
