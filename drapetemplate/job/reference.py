"""The page that lists every key of a job file: what it means, what it may be, its default.

It is made from the tables that read the file, their defaults and their schema, so that it can't
part from them. `python -m drapetemplate.job.reference` prints it.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

from drapetemplate.job.defaults import DEFAULTS
from drapetemplate.job.json_schema import SCHEMA_LINE, SCHEMA_NAME, job_schema
from drapetemplate.job.tables import TABLES, field_of, keys_of, path_in_file

PAGE_NAME = "job_file.md"
"""What the page's file is called, beside the schema."""

_HEAD = f"""\
# The job file

A job file is TOML: say what you know; the rest is worked out or assumed, and every assumption is
printed on the ticket. A bare number is in `units`; a text may carry its own unit: `75`, `75.5`,
`"75 1/2"`, `"75-1/2"`, `"75½"`, `"6' 3 1/2\\""`, `"190.5 cm"`, `"2 yd"`, and with a decimal comma
`"64,5"`; `"1,250"`, which may be a thousand, is refused. Lengths are kept exactly.

Needed are the job's `name`, each eyelet's `outside` and `opening`, and of each window what settles
a panel's width: `width`, or `covers` with `fullness`, or `widths`. Where `[pole]` has a `length`,
`fullness` alone will do: a panel then covers all of the pole, of a pair half.

`[eyelet]`, `[band]`, `[pole]`, `[fabric]` and `[lining]` hold for all windows. A window may have
each of them for itself, `[window.eyelet]` and so on below its `[[window]]`; its keys go over the
file's one by one. `"none"` takes something back for one window: `repeat_down` and `repeat_across`
in its `[window.fabric]` or `[window.lining]`, and `lining = "none"` right below its `[[window]]`.

`left` and `right` are as seen from the room: a left panel hangs at the left of the window, so
its return edge is its left edge. `covers` is the pole between a panel's first and last eyelet
centre when it is closed; `fullness` is how many times that much cloth there is, so 2 means
twice. Where `count` is auto, eyelets start one eyelet's width apart (one and a half for drops of
120 in or more; 6 in from centre to centre for small rings and on hooks; 3000 mm and 150 mm in a
metric job), always an even number on a pole, and never so far apart that a stacked fold would reach
the wall.

An editor that knows TOML checks a job file as it is typed where its first line is
`{SCHEMA_LINE}` and `{SCHEMA_NAME}` lies beside it.
"""

_CELLS = "| {} | {} | {} | {} | {} |"


def reference_text() -> str:
    """Return the page as Markdown, the same each time: a section a table, a row a key."""
    schema = job_schema()
    lines = [_HEAD]
    for table, model in TABLES.items():
        lines += [f"## {_title(table)}", "", _sentence(table, model.__doc__ or ""), ""]
        lines += [_CELLS.format("key", "what it is", "may be", "left out", "source")]
        lines += [_CELLS.format(*["---"] * 5)]
        lines += [*_rows(table, schema), ""]
    return "\n".join(lines)


def _title(table: str) -> str:
    if not table:
        return "Top level"
    return "`[[window]]`" if table == "window" else f"`[{table}]`"


def _sentence(table: str, doc: str) -> str:
    """Return what a table is for, from its model's docstring."""
    match table:
        case "":
            return "Before the first table."
        case "lining":
            return "The lining's cloth: the keys of `[fabric]` as they stand there, but for these."
    meaning = doc.partition(": ")[2]
    return meaning[0].upper() + meaning[1:]


def _rows(table: str, schema: dict[str, Any]) -> Iterator[str]:
    """Yield a row a key that has a value, of [lining] where [fabric]'s row doesn't hold."""
    for key in keys_of(table):
        if key in TABLES or (table == "lining" and path_in_file(table, key) not in DEFAULTS):
            continue
        field = field_of(table, key)
        default = DEFAULTS.get(path_in_file(table, key))
        meaning = (field.description or "").removesuffix(str(default)).strip()
        left_out = ("", "") if default is None else (default.all_words, default.source)
        may_be = _may_be(_properties(table, schema)[key])
        yield _CELLS.format(f"`{key}`", meaning or f"{field.title}.", may_be, *left_out)


def _properties(table: str, schema: dict[str, Any]) -> dict[str, Any]:
    """Return the schema of each key of a table."""
    properties: dict[str, Any] = schema["properties"]
    if not table:
        return properties
    described = properties[table]
    name = (described["items"] if table == "window" else described["allOf"][0])["$ref"]
    return dict(schema["$defs"][name.rpartition("/")[2]]["properties"])


def _may_be(schema: dict[str, Any]) -> str:
    """Return what a key's schema lets through, in a few words.

    >>> _may_be({"type": "integer", "minimum": 1, "maximum": 1000})
    'a whole number, 1 to 1000'
    >>> _may_be({"anyOf": [{"enum": ["clear", "even"]}, {"type": "string", "pattern": "^clear"}]})
    '`"clear"`, `"even"`'
    """
    match schema:
        case {"anyOf": [{"enum": listed}, spelled]}:
            words = ", ".join(f'`"{word}"`' for word in [*listed, *spelled.get("examples", ())])
        case {"anyOf": [number, {"const": word}, *_]}:
            words = f'{_may_be(number)}, or `"{word}"`'
        case {"allOf": [{"$ref": name}]} | {"$ref": name}:
            words = "a length over 0" if name.endswith("over_0") else "a length"
        case {"type": "integer", "minimum": least, "maximum": most}:
            words = f"a whole number, {least} to {most}"
        case {"type": ["number", "string"], "minimum": least, "maximum": most}:
            words = f"a number, {least} to {most}"
        case {"type": "boolean"}:
            words = "`true` or `false`"
        case {"type": "array"}:
            words = "two texts"
        case {"format": "date"}:
            words = "a date"
        case {"type": "string", "allOf": _}:
            words = "a weight with its unit"
        case _:
            words = "text"
    return words


if __name__ == "__main__":
    sys.stdout.buffer.write(reference_text().encode())
