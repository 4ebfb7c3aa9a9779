"""Every key that a job file may have is on its ticket: read from the models, so none is forgotten.

A job is changed in one key to something unusual; its ticket must then say so.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Annotated, Any

import pytest
from pydantic import PlainValidator, TypeAdapter

from drapetemplate.drawing.marks import Text
from drapetemplate.errors import DrapeError
from drapetemplate.job import fields
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.job.tables import TABLES, keys_of
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.ticket.job_ticket import ticket, ticket_paper
from drapetemplate.words import job_words
from tests.helpers.strips import FIXED

OWN = ("eyelet", "band", "pole", "fabric", "lining")
BASE: dict[str, Any] = {
    "job": {"name": "Heron Point, linen store"},
    "eyelet": {"outside": "2 in", "opening": "1 in"},
    "fabric": {"width": "118 in"},
    "lining": {"width": "118 in"},
    "window": {"width": "60 in", "length": "84 in"},
}
# The same, of striped cloth.
STRIPED: dict[str, Any] = {
    **BASE,
    "fabric": {
        "width": "118 in",
        "repeat_across": "7 in",
        "motif": "3 in",
        "repeat_down": "25 in",
        "motif_down": "5 in",
    },
}
# The same, its width by widths of cloth: where a width is given they can't be.
BY_WIDTHS: dict[str, Any] = {**BASE, "window": {"widths": 1, "length": "84 in"}}

PLACES = [(table, key) for table in TABLES for key in keys_of(table) if key not in TABLES]
PLACES += [(f"window.{table}", key) for table in OWN for key in keys_of(table)]


def toml(job: dict[str, Any]) -> str:
    """A job as a job file; its one window's own tables stand under it."""
    lines = [f"{key} = {written(value)}" for key, value in job.items() if key == "units"]
    for table, keys in job.items():
        if isinstance(keys, dict):
            lines.append("[[window]]" if table == "window" else f"[{table}]")
            lines += [f"{key} = {written(value)}" for key, value in keys.items()]
    return "\n".join(lines)


def written(value: object) -> str:
    """A value as TOML."""
    return value.isoformat() if isinstance(value, date) else json.dumps(value)


def unusual(reader: PlainValidator) -> Iterator[tuple[object, str]]:
    """Values that this reader takes, and what must be read on the ticket."""
    one: dict[int, tuple[object, str]] = {
        id(fields.NAME): ("Quillon", "Quillon"),
        id(fields.TEXT): ("Quillon", "Quillon"),
        id(fields.NUMBER): ("HP-7719", "HP-7719"),
        id(fields.DATE): (date(2031, 5, 6), "2031-05-06"),
        id(fields.PAPER): ("tabloid", "tabloid"),
        id(fields.LETTERS): (["Rr", "Ww"], "Rr"),
        id(fields.MASS): ("13 g", "13 g"),
        id(fields.AREA_WEIGHT): ("231 gsm", "231 gsm"),
        id(fields.SHARE): (0.035, "3.5 %"),
        id(fields.FULLNESS): (2.35, "2.35"),
        id(fields.WIDTHS): (2.5, "2.5"),
        id(fields.YES_OR_NO): (True, "yes"),
    }
    schema = TypeAdapter[object](Annotated[object, reader]).json_schema()
    numbers = [schema, *schema.get("anyOf", ())]
    if id(reader) in one:
        yield one[id(reader)]
    elif reader in (
        fields.LENGTH,
        fields.OFF_FLOOR,
        fields.POSITIVE,
        fields.POSITIVE_OR_NONE,
    ):
        for length in ("13/16", "1 5/16", "21 5/16", "71 3/16"):
            yield f"{length} in", f"{length} in"
    elif any(schema.get("type") == "integer" for schema in numbers):
        yield from ((number, str(number)) for number in (14, 1))
    elif listed := [word for schema in numbers for word in schema.get("enum", ())]:
        yield from ((word, word) for word in listed)
    else:
        pytest.fail(f"a new kind of value: give {reader} something unusual here")


def reader_of(table: str, key: str) -> PlainValidator:
    """What reads this key, from the model."""
    fields = TABLES[table.removeprefix("window.")].model_fields
    [field] = [field for name, field in fields.items() if (field.alias or name) == key]
    [reader] = [one for one in field.metadata if isinstance(one, PlainValidator)]
    return reader


@cache
def ticket_texts(job: str) -> tuple[str, ...]:
    """Every text of a job's ticket."""
    read = read_job(job.encode(), "job.toml")
    planned = plan(read)
    found = strip_list(read, planned.windows, None)
    pages = ticket(read, planned, found, (), frozenset(), ticket_paper(read, None), FIXED)
    return tuple(mark.text for page in pages for mark in page if isinstance(mark, Text))


def values(job: str) -> Job:
    """A job's values alone, given or assumed."""
    read = read_job(job.encode(), "job.toml")
    windows = tuple(replace(window, assumed=()) for window in read.windows)
    return replace(read, windows=windows, assumed=())


def changed(table: str, key: str) -> Iterator[tuple[str, str, str]]:
    """Jobs that this key makes another job: before, after, and what the ticket must say."""
    for base in (BASE, BY_WIDTHS, STRIPED):
        before = values(toml(base))
        for value, expected in unusual(reader_of(table, key)):
            job = deepcopy(base)
            if table:
                job.setdefault(table, {})[key] = value
            else:
                job[key] = value
            try:
                after = values(toml(job))
                plan(after)
            except DrapeError:
                continue  # it doesn't go with the rest of this job
            if after != before:
                yield toml(base), toml(job), expected


@pytest.mark.parametrize(("table", "key"), PLACES)
def test_every_key_is_on_the_ticket(table: str, key: str) -> None:
    """Whatever a job gives, in the file's table or the window's own, is told with its value."""
    found = next(changed(table, key), None)
    assert found is not None, "no job has this key: give one in BASE"
    before, after, expected = found
    new = Counter(ticket_texts(after)) - Counter(ticket_texts(before))
    whole = re.compile(rf"(?<![\w/.]){re.escape(expected)}(?!\w)")
    assert [text for text in new if whole.search(text)] != []


@pytest.mark.parametrize(
    ("table", "key"), [one for one in PLACES if one[0] != "job" and one != ("window", "name")]
)
def test_every_key_is_given_in_words(table: str, key: str) -> None:
    """Each of those values stands in its own row, under the key's name for people."""
    _, after, expected = next(changed(table, key))
    job = read_job(after.encode(), "job.toml")
    rows = dict([*job_words.of_job(job), *job_words.of_window(job.windows[0], job.units)])
    name = table.removeprefix("window.")
    assert expected in rows[job_words.words_of(key if name in {"", "window"} else f"{name}.{key}")]


def test_places_are_all() -> None:
    """The places are those of the tables: some of each, and each window's own."""
    assert {table for table, _ in PLACES} == {*TABLES, *(f"window.{one}" for one in OWN)}
    assert ("window.lining", "shrinkage") in PLACES


@pytest.mark.parametrize("name", ["South", "South window over the sea wall and the boathouse"])
def test_own_table_stands_with_its_window(name: str) -> None:
    """What only one of two windows has is told beside its name, what both have is told once."""
    job = toml(BASE) + f'\n[[window]]\nname = "{name}"\nwidth = 50\nlength = 84\n'
    words = " ".join(ticket_texts(job + '[window.fabric]\nweight = "231 gsm"\n'))
    says = words[words.index("The job in full") :]
    own = says[says.index(name) :]
    assert "Fabric weight 231 gsm" in own
    assert "Finished width 50 in" in own
    assert says.count("231 gsm") == 1
    assert says.count("Finished length 84 in") == 1
