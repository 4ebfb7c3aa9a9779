"""A job file's bytes in; what could be read of it and every fault of its text and keys out.

A job file comes from anyone, so its text is looked over in one pass before the TOML reader sees
it: that reader takes quadratic time on long dotted keys and recurses into nested brackets.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any, cast

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from drapetemplate.errors import Fault, JobError
from drapetemplate.measures import ECHO, Units, printable, shown
from drapetemplate.readers import nearest_of
from drapetemplate.tables import MOST_WINDOWS, TABLES, JobFile, keys_of

MOST_BYTES = 1 << 20
MOST_PARTS = 8
MOST_DEPTH = 8
LONGEST_WORD = 200
MOST_FAULTS = 100

Place = tuple[int | str, ...]
"""Where a value stands in the file: ("window", 1, "width") is the second window's width."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What could be read of a job file.

    `file` lacks the values at `unreadable` places, each of which has its fault, and is None when
    the windows themselves can't be told apart.
    """

    file: JobFile | None
    faults: tuple[Fault, ...] = ()
    unreadable: frozenset[Place] = frozenset()


def read_file(data: bytes, source: str) -> Reading:
    """Read a job file's bytes; `source` names the file in messages.

    Raises JobError, with the file and line, when the bytes aren't TOML at all: too many, not
    UTF-8, a syntax fault, or nested or spelled out past any use.
    """
    where = printable(source)
    if len(data) > MOST_BYTES:
        raise JobError([Fault(where, f"{len(data)} bytes: a job file has {MOST_BYTES} at most")])
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        fault = Fault(where, f"not UTF-8 text at byte {error.start + 1}: save the file as UTF-8")
        raise JobError([fault]) from None
    found = next(_troubles(text), None)
    if found:
        raise JobError([_line_fault(text, where, *found)])
    try:
        raw = tomllib.loads(text, parse_float=_decimal)
    except (ValueError, RecursionError) as error:
        raise JobError([_line_fault(text, where, *_syntax(str(error), text))]) from None
    return _validated(raw, where)


# The same strings and comments the TOML reader sees. Closing quotes are optional, so that an
# open string is read once and told, not tried again from every quote in it.
_TOKEN = re.compile(
    r'''
      (?P<newline>\n)
    | (?P<comment>\#[^\n]*+)
    | (?P<text>
          """ (?:[^"\\]|\\[\s\S]|"(?!""))*+ (?P<end1>"{3,5})?
        | \'\'\' (?:[^']|'(?!''))*+ (?P<end2>'{3,5})?
        | " (?:[^"\\\n]|\\.)*+ (?P<end3>")?
        | ' [^'\n]*+ (?P<end4>')?
      )
    | (?P<word>[A-Za-z0-9_+-]++)
    | (?P<dot>\.)
    | (?P<open>[\[{])
    | (?P<close>[\]}])
    | (?P<space>[ \t]++)
    | (?P<other>.)
    ''',
    re.VERBOSE,
)


def _troubles(text: str) -> Iterator[tuple[int, str]]:
    """Yield line and trouble of what must not reach the TOML reader, in one linear pass."""
    line, depth, parts = 1, 0, 0
    after_dot = False
    for token in _TOKEN.finditer(text):
        kind = token.lastgroup
        if kind == "word" and len(token[0]) > LONGEST_WORD:
            yield line, f"has a word or number of more than {LONGEST_WORD} characters"
        if kind == "text" and not any(token[f"end{n}"] for n in range(1, 5)):
            yield line, "opens a quote and doesn't close it (for inches write in)"
        if kind in {"word", "text"}:
            parts = parts + 1 if after_dot else 1
            if parts > MOST_PARTS:
                yield line, f"has a key of more than {MOST_PARTS} parts"
        if kind == "open":
            depth += 1
            if depth > MOST_DEPTH:
                yield line, f"is nested more than {MOST_DEPTH} brackets deep"
        if kind == "close":
            depth = max(0, depth - 1)
        if kind != "space":
            after_dot = kind == "dot" and parts > 0
        line += token[0].count("\n")


def _decimal(text: str) -> Decimal:
    """Return a TOML float exactly; one beyond any exponent is not a number."""
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("NaN")


_SYNTAX = {
    "Expected newline": 'goes on after its value (put the whole of it in quotes, as in "75 1/2")',
    "Invalid value": "has no value that can be read (put words and measures in quotes)",
    "Expected '='": "needs a key, = and a value",
    "Invalid statement": "is neither key = value nor [table]",
    "Invalid initial character": "has a key that can't be read (use letters, digits and _)",
    "Cannot overwrite": "gives a key that is already given",
    "Duplicate inline": "gives a key that is already given",
    "Cannot declare": "opens a table that is already there (only [[window]] may repeat)",
    "Cannot redefine": "adds to a table that is already complete",
    "Cannot mutate": "adds to a table that is already complete",
    "Unescaped": "has a \\ in double quotes (use single quotes, or double it)",
    "Illegal character": "has a character that can't stand there",
    "Found invalid": "has a character that can't stand there",
    "Expected ']": "has a table's name that isn't closed with ]",
    "Unclosed array": "has a list that isn't closed with ], or lacks a comma",
    "Unclosed inline": "has a { that isn't closed with }, or lacks a comma",
    "Invalid date": "has a date that is not in the calendar",
}


def _syntax(message: str, text: str) -> tuple[int, str]:
    """Return line and plain words for what the TOML reader says."""
    found = re.search(r"\(at line ([0-9]+)", message)
    line = int(found[1]) if found else len(text.rstrip().split("\n"))
    words = (plain for start, plain in _SYNTAX.items() if message.startswith(start))
    return line, next(words, "can't be read as TOML")


def _line_fault(text: str, source: str, line: int, trouble: str) -> Fault:
    faulty = text.split("\n")[line - 1].strip()
    short = printable(faulty[:ECHO] + "…" if len(faulty) > ECHO else faulty)
    return Fault(f"{source}, line {line}", f"{trouble}: {short}")


def _validated(raw: dict[str, Any], source: str) -> Reading:
    """Check a parsed file against its tables; leave out what is faulty, and check again."""
    units = raw.get("units")
    known = isinstance(units, str) and units.casefold() in {"in", "mm", "cm"}
    context = {"units": cast("Units", str(units).casefold()) if known else "in"}
    try:
        return Reading(JobFile.model_validate(raw, context=context))
    except ValidationError as invalid:
        errors = invalid.errors(include_url=False)
    order = {place: n for n, place in enumerate(_places(raw))}
    errors.sort(key=lambda error: order.get(error["loc"], order.get(error["loc"][:-1], -1)))
    told = errors[:MOST_FAULTS]
    meant = {_meant(error["loc"]) for error in told if error["type"] == "extra_forbidden"}
    # A misspelled key is told once, not once as unknown and once as missing.
    faults = [_fault(one) for one in told if one["type"] != "missing" or one["loc"] not in meant]
    if len(errors) > MOST_FAULTS:
        faults.append(Fault(source, f"{len(errors) - MOST_FAULTS} more faults like these"))
        return Reading(None, tuple(faults))
    if any(error["loc"][0] == "window" and len(error["loc"]) <= 2 for error in errors):
        return Reading(None, tuple(faults))
    for error in errors:
        _leave_out(raw, error["loc"])
    raw.setdefault("job", {}).setdefault("name", "?")
    unreadable = {error["loc"] for error in errors} | meant
    file = JobFile.model_validate(raw, context=context)
    return Reading(file, tuple(faults), frozenset(unreadable))


def _places(value: object, place: Place = ()) -> Iterator[Place]:
    """Yield where every value stands, in the order of the file."""
    yield place
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _places(inner, (*place, key))
    elif isinstance(value, list):
        for n, inner in enumerate(value):
            if isinstance(inner, dict):  # a bare value in a list has no place of its own
                yield from _places(inner, (*place, n))


def _leave_out(raw: dict[str, Any], place: Place) -> None:
    """Take the value at `place` out of a parsed file, where it is there at all."""
    *outer, last = place
    table: Any = raw
    for key in outer:
        table = table[key]
    table.pop(last, None)


def _table_of(place: Place) -> str:
    """Return the name of the table the last key of `place` is in."""
    names = [key for key in place[:-1] if isinstance(key, str)]
    return names[-1] if names else ""


def _meant(place: Place) -> Place:
    """Return `place` with its last key taken for the known key it is most like, if any is."""
    known = keys_of(_table_of(place))
    return (*place[:-1], nearest_of(str(place[-1]), known) or place[-1])


def path_of(place: Place) -> str:
    """Return a place as a key path, safe to print: "window[2].fabric.width"."""
    path = ""
    for key in place:
        if isinstance(key, int):
            path += f"[{key + 1}]"
        else:
            plain = re.fullmatch(rf"[A-Za-z0-9_-]{{1,{ECHO}}}", key)
            path += f"{'.' if path else ''}{key if plain else shown(key)}"
    return path


def _fault(error: ErrorDetails) -> Fault:
    """Put one thing the tables found into plain words."""
    place = error["loc"]
    match error["type"]:
        case "value_error":
            text = str(error["ctx"]["error"])
        case "extra_forbidden":
            text = _unknown(place)
        case "missing" if place == ("window",):
            text = "missing: add [[window]] and the window's measures below it"
        case "missing":
            return Fault("job.name", 'missing: add [job] and below it name = "…"')
        case "too_short":
            text = "empty: add [[window]] and the window's measures below it"
        case "too_long":
            text = f"too many windows: at most {MOST_WINDOWS}"
        case _ if place[0] == "window" and len(place) <= 2:
            text = "not a list of windows: start each with [[window]], in double brackets"
        case _:
            text = f"not a table: write {_title(place)} in single brackets, its keys below it"
    return Fault(path_of(place), text)


def _title(place: Place) -> str:
    """Return a table's first line, as its place is written in a file."""
    name = ".".join(str(key) for key in place if isinstance(key, str))
    return f"[[{name}]]" if name == "window" else f"[{name}]"


def _unknown(place: Place) -> str:
    """Say what to do about a key its table doesn't know."""
    table = _table_of(place)
    word = str(place[-1])
    homes = [name for name in TABLES if name and word in keys_of(name)]
    here = _title(place[:-1]) if table else "the top of the file"
    if word == "units":
        return "unknown here: units goes at the top of the file, before the first [table]"
    if table and word in TABLES:
        return f"unknown here: start it as a table of its own, {_title((word,))}"
    if homes:
        titles = [_title((name,)) for name in homes]
        return f"unknown here: {word} belongs in {' or '.join(titles)}"
    nearest = nearest_of(word, keys_of(table))
    if nearest:
        return f"unknown key: did you mean {nearest}?"
    return f"unknown key: {here} knows {', '.join(keys_of(table))}"
