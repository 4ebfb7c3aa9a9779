"""Answers in, the text of a commented job file out: always TOML, whatever was typed.

Measures stay spelled as typed. A key without an answer stands there as a comment with its
default; what the keys mean is said in the words of `tables`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction

from drapetemplate.interview.all_questions import NOT_ASKED, question_for
from drapetemplate.interview.question import YES_NO, Answers, Kind, PlacedQuestion
from drapetemplate.job.defaults import UNITS
from drapetemplate.job.fields import NONE
from drapetemplate.job.json_schema import SCHEMA_LINE
from drapetemplate.job.tables import TABLES, field_of, keys_of, path_in_file
from drapetemplate.measures import Units, format_length, parse_length

_HEAD = """\
# A job file of drapetemplate. A measure without a unit is in `units`; any may have its own, as
# "190.5 cm". A line that begins with # counts for nothing: take the # away and write a value.
"""
_UNKNOWN = "…"
_COMMENT_AT = 34  # columns before a comment, so that most of them line up
_OVERRIDES = ("eyelet", "band", "pole", "fabric", "lining")
_OPENED_BY = {"fabric": "?cloth", "lining": "?lining"}
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\t": "\\t", "\n": "\\n", "\r": "\\r"}


def job_text(answers: Mapping[str, str], *, schema: bool = False) -> str:
    """Return the text of a job file that says these answers, by path; empty ones are defaults.

    With `schema` its first line names the schema beside it, for editors. Lone surrogates, which no
    file can hold, become U+FFFD.
    """
    given = {path: text for path, text in answers.items() if text}
    units = units_of(given)
    lines = [SCHEMA_LINE] if schema else []
    lines += [*_HEAD.splitlines(), ""]
    for table in TABLES:
        if table != "window":
            lines += [*_table(table, given, units), ""]
    for number in range(1, windows_in(answers) + 1):
        lines += [*_window(number, given, units), ""]
    return "\n".join(lines)


def windows_in(answers: Mapping[str, str]) -> int:
    """Return how many windows these answers, by path, are about; one at the least."""
    matches = (re.match(r"window\[([0-9]+)\]", path) for path in answers)
    return max((int(match[1]) for match in matches if match), default=1)


def only_answer(placed: PlacedQuestion, text: str) -> tuple[str, dict[str, str]]:
    """Return a path, and the answers of a job that says nothing but `text` there, and its units.

    It is the path in the first window, whichever is asked about: every window's key reads alike.
    """
    path = Answers({}, min(placed.window, 1)).path(placed.question.key)
    return path, {"units": placed.answers.by_path.get("units", ""), path: text}


def toml_value(kind: Kind, text: str) -> str:
    """Return typed text as a TOML value of its kind, for the job file's own reader to judge.

    >>> toml_value("whole", "08"), toml_value("yes or no", "y"), toml_value("letters", "V, H")
    ('8', 'true', '["V", "H"]')
    >>> toml_value("length", "2 5/8")
    '"2 5/8"'
    """
    match kind:
        case "whole" if re.fullmatch("[0-9]{1,9}", text):
            return str(int(text))
        case "yes or no" if yes_or_no(text):
            return "true" if yes_or_no(text) == "yes" else "false"
        case "side" if yes_or_no(text):
            return '"back"' if yes_or_no(text) == "yes" else '"face"'
        case "letters":
            return f"[{', '.join(_quoted(letters) for letters in text.replace(',', ' ').split())}]"
        case _:
            return _quoted(text)


def yes_or_no(text: str) -> str:
    """Return "yes" or "no" for any text that begins one of them; empty for another.

    >>> yes_or_no("Y"), yes_or_no("maybe")
    ('yes', '')
    """
    plain = text.strip().casefold()
    return next((word for word in YES_NO if plain and word.startswith(plain)), "")


def _quoted(text: str) -> str:
    """Any text as TOML: what doesn't print is escaped, so that a file shows all that is in it."""
    return '"' + "".join(map(_escaped, text)) + '"'


def _escaped(char: str) -> str:
    if char in _ESCAPES:
        return _ESCAPES[char]
    if "\ud800" <= char <= "\udfff":
        return "\N{REPLACEMENT CHARACTER}"
    if char.isprintable():
        return char
    return f"\\u{ord(char):04X}" if ord(char) <= 0xFFFF else f"\\U{ord(char):08X}"


def units_of(given: Mapping[str, str]) -> Units:
    """Return the units that answers, by path, are in."""
    match given.get("units", "").casefold():
        case "mm":
            return "mm"
        case "cm":
            return "cm"
        case _:
            return UNITS.value


def _table(table: str, given: Mapping[str, str], units: Units) -> Iterator[str]:
    """One of the file's own tables: all of it a comment where nothing in it was answered."""
    prefix = f"{table}." if table else ""
    opened = any(path.startswith(prefix) for path in given) if table else True
    opened = opened or table == "job" or _opened(table, 1, given)
    if table:
        yield f"[{table}]" if opened else f"# [{table}]"
    yield from _keys(table, lambda key: given.get(f"{prefix}{key}", ""), units)


def _window(number: int, given: Mapping[str, str], units: Units) -> Iterator[str]:
    """A window, and its own tables so far as it has any."""
    window = Answers(given, number)
    yield "[[window]]"
    yield from _keys("window", window.own, units)
    if number == 1:
        return
    unlined = _opened("lining", 1, given) and window.own("?lining") == "no"
    if unlined:
        yield _with_comment(f'lining = "{NONE}"', "This window has no lining.")
    for table in _OVERRIDES:
        if table == "lining" and unlined:
            continue
        own = {key: window.own(f"{table}.{key}") for key in keys_of(table)}
        own |= {key: NONE for key in own if window.takes_back(f"{table}.{key}")}
        if any(own.values()) or _opened(table, number, given):
            yield ""
            yield f"[window.{table}]"
            for key, text in own.items():
                if text:
                    yield _line(table, key, text, units)


def _opened(table: str, number: int, given: Mapping[str, str]) -> bool:
    """Whether a yes brings a cloth's table, though nothing may be known of it."""
    return Answers(given, number).text(_OPENED_BY.get(table, "")).casefold() == "yes"


def _keys(table: str, answer: Callable[[str], str], units: Units) -> Iterator[str]:
    return (_line(table, key, answer(key), units) for key in keys_of(table) if key not in TABLES)


def _line(table: str, key: str, text: str, units: Units) -> str:
    """A key with its answer, or its default behind a #; then what it means."""
    path = path_in_file(table, key)
    if text:
        line = f"{key} = {toml_value(question_for(path).kind, text)}"
    else:
        line = f"# {key} = {_default(path, units)}"
    return _with_comment(line, field_of(table, key).description or "")


def _with_comment(line: str, meaning: str) -> str:
    return f"{line:{_COMMENT_AT}}  # {meaning}"


def _default(path: str, units: Units) -> str:
    """A key's default as a value, or a gap to fill in where it has none of its own."""
    default = None if path in NOT_ASKED else question_for(path).default_in(units)
    if isinstance(default, str):
        return toml_value(question_for(path).kind, default)
    if isinstance(default, Fraction):
        text = format_length(default, units)
        exact = parse_length(text, units) == default
        return _quoted(text if exact else format_length(default, "in"))
    return _quoted(_UNKNOWN)
