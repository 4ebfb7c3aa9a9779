"""A job file's bytes in; what could be read of it and every fault of its text and keys out.

A job file comes from anyone, so its text is looked over in one pass before the TOML reader sees
it: that reader takes quadratic time on long dotted keys and recurses into nested brackets.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from typing import Any, cast, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from drapetemplate.errors import DrapeError, Fault, JobError, PaperError
from drapetemplate.job.defaults import UNITS
from drapetemplate.job.fields import NONE, nearest_of
from drapetemplate.job.tables import MOST_WINDOWS, TABLES, JobFile, keys_of
from drapetemplate.job.toml_lines import TOKEN, Place, lines_of
from drapetemplate.measures import ECHO, Units, printable, shown

MOST_BYTES = 1 << 20
PDF_START = b"%PDF-"
A_PDF = (
    "a PDF, no job file: drapetemplate recall takes the job file out of one that was made from it"
)
"""What a PDF is told that stands where a job file belongs."""
MOST_PARTS = 8
MOST_DEPTH = 8
LONGEST_WORD = 200
MOST_FAULTS = 100
# Each line that isn't TOML costs one more look at the text.
MOST_LINES = 20
MOST_LOOKED_AT = 1 << 20

_KEY = r"(?:[A-Za-z0-9_-]+|\"[^\"\\]*\"|'[^']*')"
_KEY_AND_VALUE = re.compile(rf"([ \t]*{_KEY}(?:[ \t]*\.[ \t]*{_KEY})*[ \t]*=)(.*)")


@dataclass(frozen=True, slots=True)
class FileRead:
    """What could be read of a job file.

    `file` lacks the values at `unreadable` places, each of which has its fault, and is None when
    the windows themselves can't be told apart.
    """

    file: JobFile | None
    faults: tuple[Fault, ...] = ()
    unreadable: frozenset[Place] = frozenset()


def read_file(data: bytes, source: str) -> FileRead:
    """Read a job file's bytes; `source` names the file in messages.

    Raises JobError, with the file and line, when the bytes aren't TOML at all: too many, not
    UTF-8, a syntax fault, or nested or spelled out past any use.
    """
    where = printable(source)
    raw, text, faults, lost = _parsed(_checked_text(data, where), where)
    return _validated(raw, text, where, faults, lost)


def tables_in(data: bytes, source: str) -> dict[str, Any]:
    """Return a job file's tables as they are written, with nothing looked at but that it is TOML.

    Its numbers are int or Decimal. JobError as of `read_file`, and for each line that isn't TOML.
    """
    where = printable(source)
    raw, _, faults, _ = _parsed(_checked_text(data, where), where)
    if faults:
        raise JobError(in_order(faults))
    return raw


def located(error: DrapeError, data: bytes, source: str) -> tuple[Fault, ...]:
    """Return an error's faults with file and line, where they name keys of this job file.

    `data` are bytes that `read_file` has taken, or refused with this very error. A window's key
    that only the file's own table gives is named as there, and is a fault once. A key the file
    doesn't give has the line of its table; one whose table isn't there has the file alone. Faults
    that name files, or know their file already, come back as they are. All are in the order of
    lines.
    """
    where = printable(source)
    by_key = isinstance(error, JobError | PaperError)  # other errors name files
    places = [
        place_of(fault.where) if by_key or fault.where == "paper.printer" else None
        for fault in error.faults
    ]
    lines: dict[Place, int] = {}
    located_faults: dict[Fault, None] = {}
    for fault, place in zip(error.faults, places, strict=True):
        if place is None or fault.source or fault.where == where:
            located_faults[fault] = None
            continue
        lines = lines or lines_of(_text(data))
        shared = place[2:] if place[0] == "window" else ()
        key = shared if shared in lines and place not in lines else place
        at_line = replace(fault, where=path_of(key), line=_line(lines, key), source=where)
        located_faults[at_line] = None
    return tuple(in_order(located_faults))


def _checked_text(data: bytes, where: str) -> str:
    """Return a job file's text; JobError where there is too much of it, or it is none."""
    if len(data) > MOST_BYTES:
        raise JobError([Fault(where, f"{len(data)} bytes: a job file has {MOST_BYTES} at most")])
    if data.startswith(PDF_START):
        raise JobError([Fault(where, A_PDF)])
    try:
        return _text(data)
    except UnicodeDecodeError as error:
        fault = Fault(where, f"not UTF-8 text at byte {error.start + 1}: save the file as UTF-8")
        raise JobError([fault]) from None


def _text(data: bytes) -> str:
    return data.decode("utf-8-sig").replace("\r\n", "\n")


def _line(lines: dict[Place, int], place: Place) -> int | None:
    """Return the line of a key or a table, or of the nearest table it would be in."""
    outward = (place[:n] for n in range(len(place), 0, -1))
    return next((lines[outer] for outer in outward if outer in lines), None)


def _parsed(text: str, source: str) -> tuple[dict[str, Any], str, list[Fault], set[int]]:
    """Return the parsed text, the text, a fault for each line that isn't TOML, and those lines.

    The value of such a line is made empty text, so that the rest can be read. Raises JobError with
    the faults so far where a line can't be passed over: what follows would mean something else.
    """
    lines = text.split("\n")
    faults: list[Fault] = []
    lost: set[int] = set()
    most = min(MOST_LINES, MOST_LOOKED_AT // (len(text) + 1) + 1)
    while True:
        text = "\n".join(lines)
        trouble = next(_troubles(text), None)
        try:
            raw = {} if trouble else tomllib.loads(text, parse_float=_decimal)
        except (ValueError, RecursionError) as error:
            trouble = _syntax(str(error), text)
        if trouble is None:
            return raw, text, faults, lost
        line, words = trouble
        if line not in lost:
            faults.append(_line_fault(lines[line - 1], source, line, words))
        key = _key_of(lines[line - 1])
        if line in lost or not key or len(faults) == most:
            raise JobError(in_order(faults))
        if words == REPEATED:
            lines[line - 1] = ""
        else:
            lines[line - 1] = f"{key} ''"
            lost.add(line)


def _key_of(line: str) -> str:
    """Return "key =" of a line that has it, or nothing where its value may go on below."""
    pair = _KEY_AND_VALUE.fullmatch(line)
    if pair is None or any(quotes in pair[2] for quotes in ('"""', "'''")):
        return ""
    closed = all(pair[2].count(a) == pair[2].count(b) for a, b in ("[]", "{}"))
    return pair[1] if closed else ""


def in_order(faults: Iterable[Fault]) -> list[Fault]:
    """Return faults by their lines; those without one first."""
    return sorted(faults, key=lambda fault: fault.line or 0)


def _troubles(text: str) -> Iterator[tuple[int, str]]:
    """Yield line and trouble of what must not reach the TOML reader, in one linear pass."""
    line, depth, parts = 1, 0, 0
    after_dot = False
    for token in TOKEN.finditer(text):
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


REPEATED = "gives a key that is already given: each once, or a [[window]] of its own"
_SYNTAX = {
    "Expected newline": 'goes on after its value (put the whole of it in quotes, as in "75 1/2")',
    "Invalid value": "has no value that can be read (put words and measures in quotes)",
    "Expected '='": "needs a key, = and a value",
    "Invalid statement": "is neither key = value nor [table]",
    "Invalid initial character": "has a key that can't be read (use letters, digits and _)",
    "Cannot overwrite": REPEATED,
    "Duplicate inline": REPEATED,
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
    named = re.search(r"\(at line ([0-9]+)", message)
    line = int(named[1]) if named else len(text.rstrip().split("\n"))
    words = (plain for start, plain in _SYNTAX.items() if message.startswith(start))
    return line, next(words, "can't be read as TOML")


def _line_fault(faulty: str, source: str, line: int, trouble: str) -> Fault:
    faulty = faulty.strip()
    short = printable(faulty[:ECHO] + "…" if len(faulty) > ECHO else faulty)
    return Fault(source, f"{short}: {trouble}" if short else trouble, line)


def _validated(
    raw: dict[str, Any], text: str, source: str, faults: list[Fault], lost: set[int]
) -> FileRead:
    """Check a parsed file against its tables; leave out what is faulty, and check again.

    `faults` are those of its lines so far, `lost` the lines whose value stands for nothing.
    """
    units = raw.get("units")
    known = isinstance(units, str) and units.casefold() in get_args(Units)
    context = {"units": cast("Units", str(units).casefold()) if known else UNITS.value}
    try:
        file = JobFile.model_validate(raw, context=context)
    except ValidationError as invalid:
        errors = invalid.errors(include_url=False)
    else:
        if not lost:
            return FileRead(file, tuple(faults))
        errors = []
    lines = lines_of(text)
    order = {place: n for n, place in enumerate(lines)}
    errors.sort(key=lambda error: order.get(error["loc"], order.get(error["loc"][:-1], -1)))
    first = errors[:MOST_FAULTS]
    last = {line: place for place, line in lines.items()}  # a key comes after its tables
    passed_over = {last[line] for line in lost if line in last}
    meant = {_meant(error["loc"]) for error in first if error["type"] == "extra_forbidden"}
    for error in first:
        place, kind = error["loc"], error["type"]
        # A misspelled key is a fault once, not again as missing; a line that isn't TOML likewise.
        if kind == "extra_forbidden" or place not in (meant if kind == "missing" else passed_over):
            faults.append(replace(_fault(error), line=_line(lines, place), source=source))
    faults = in_order(faults)
    if len(errors) > MOST_FAULTS:
        faults.append(Fault(source, f"{len(errors) - MOST_FAULTS} more faults like these"))
        return FileRead(None, tuple(faults))
    if any(error["loc"][0] == "window" and len(error["loc"]) <= 2 for error in errors):
        return FileRead(None, tuple(faults))
    faulty = passed_over | {error["loc"] for error in errors}
    for place in sorted(faulty, key=len, reverse=True):  # what is inside another first
        _leave_out(raw, place)
    raw.setdefault("job", {}).setdefault("name", "?")
    file = JobFile.model_validate(raw, context=context)
    return FileRead(file, tuple(faults), frozenset(faulty | meant))


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
    table = _table_of(place)
    known = keys_of(table) if table in TABLES else []
    return (*place[:-1], nearest_of(str(place[-1]), known) or place[-1])


def path_of(place: Place) -> str:
    """Return a place as a key path, safe to print.

    >>> path_of(("window", 1, "fabric", "width"))
    'window[2].fabric.width'
    """
    path = ""
    for key in place:
        if isinstance(key, int):
            path += f"[{key + 1}]"
        else:
            plain = re.fullmatch(rf"[A-Za-z0-9_-]{{1,{ECHO}}}", key)
            path += f"{'.' if path else ''}{key if plain else shown(key)}"
    return path


_STEP = re.compile(r"([a-z_]+)(?:\[([1-9][0-9]{0,4})\])?")


def place_of(path: str) -> Place | None:
    """Return the place a key path names, or None where it isn't one of a job file's known keys.

    >>> place_of("window[2].fabric.width"), place_of("window[2].fabric.colour")
    (('window', 1, 'fabric', 'width'), None)
    """
    place: Place = ()
    table = ""
    for step in path.split("."):
        spelled = _STEP.fullmatch(step)
        if spelled is None or table not in TABLES or spelled[1] not in keys_of(table):
            return None
        table, number = spelled.groups()
        place = (*place, table, int(number) - 1) if number else (*place, table)
    return place


def _fault(error: ErrorDetails) -> Fault:
    """Return one thing that the tables found, in plain words."""
    place, read = error["loc"], shown(error["input"])
    match error["type"]:
        case "value_error":
            text = str(error["ctx"]["error"])
        case "extra_forbidden":
            text = _unknown(place, read)
        case "missing" if place == ("window",):
            text = "missing: add [[window]] and the window's measures below it"
        case "missing":
            place, text = ("job", "name"), 'missing: add [job] and below it name = "…"'
        case "too_short":
            text = "empty: add [[window]] and the window's measures below it"
        case "too_long":
            text = f"{error['ctx']['actual_length']} windows: at most {MOST_WINDOWS}"
        case _ if place[0] == "window" and len(place) <= 2:
            right = "start each with [[window]], in double brackets"
            text = f"{read} is not a list of windows: {right}"
        case _:
            right = f"write {_title(place)} in single brackets, its keys below it"
            if place[0] == "window" and place[-1] == "lining":
                right += f', or lining = "{NONE}"'
            text = f"{read} is not a table: {right}"
    return Fault(path_of(place), text)


def _title(place: Place) -> str:
    """Return a table's first line, as its place is written in a file."""
    name = ".".join(str(key) for key in place if isinstance(key, str))
    return f"[[{name}]]" if name == "window" else f"[{name}]"


def _home(place: Place, table: str) -> str:
    """Return a table's first line, a window's own where a key at `place` is a window's."""
    own = place[0] == "window" and table in keys_of("window")
    return _title(("window", table) if own else (table,))


def _unknown(place: Place, read: str) -> str:
    """Return what to do about a key its table doesn't know, with the value `read`."""
    table = _table_of(place)
    word = str(place[-1])
    homes = [name for name in TABLES if name and word in keys_of(name)]
    here = _title(place[:-1]) if table else "the top of the file"
    if word == "units":
        return "unknown here: units goes at the top of the file, before the first [table]"
    if place[0] == "window" and word == "lining" and read.strip('"').casefold() == NONE:
        return f"unknown here: put it right below [[window]], before {here}"
    if table and word in TABLES:
        return f"unknown here: start it as a table of its own, {_home(place, word)}"
    if homes:
        titles = [_home(place, name) for name in homes]
        return f"unknown here: {word} belongs in {' or '.join(titles)}"
    nearest = nearest_of(word, keys_of(table))
    if nearest:
        return f"unknown key: did you mean {nearest}?"
    return f"unknown key: {here} knows {', '.join(keys_of(table))}"
