"""The JSON Schema of the job file: it takes all that the reader takes, and refuses what it can."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.fields import read_paper
from drapetemplate.job.json_schema import SCHEMA_LINE, SCHEMA_NAME, job_schema, schema_text
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.job.tables import TABLES, keys_of
from drapetemplate.measures import (
    AREA_WEIGHT_UNITS,
    LENGTH_UNITS,
    MASS_UNITS,
    parse_area_weight,
    parse_length,
    parse_mass,
    parse_number,
    parse_share,
)
from tests.helpers.jobfiles import LEAST

HOUSE = Path(__file__).parents[2]
SAMPLES = sorted((HOUSE / "sample_jobs").glob("*.toml"))
SCHEMA = job_schema()
CHECK = Draft202012Validator(SCHEMA, format_checker=Draft202012Validator.FORMAT_CHECKER)


def _json(value: Any) -> Any:  # noqa: ANN401
    """A parsed job file as JSON has it: a date is text."""
    match value:
        case dict():
            return {key: _json(one) for key, one in value.items()}
        case list():
            return [_json(one) for one in value]
        case date():
            return value.isoformat()
    return value


def _wrong(text: str) -> list[str]:
    """Where the schema finds a job file's text wrong."""
    read = _json(tomllib.loads(text))
    return sorted({".".join(map(str, error.path)) for error in CHECK.iter_errors(read)})


def _takes(table: str, key: str, value: object) -> bool:
    """Whether the schema lets a key have a value."""
    properties = SCHEMA["properties"]
    if table == "window":
        properties = SCHEMA["$defs"]["WindowTable"]["properties"]
    elif table:
        [found] = properties[table]["allOf"]
        properties = SCHEMA["$defs"][found["$ref"].rpartition("/")[2]]["properties"]
    return CHECK.evolve(schema={**properties[key], "$defs": SCHEMA["$defs"]}).is_valid(value)


def test_is_a_schema() -> None:
    """It is valid by the draft it names, and goes through JSON unchanged."""
    Draft202012Validator.check_schema(SCHEMA)
    assert json.loads(schema_text()) == SCHEMA
    assert SCHEMA["$schema"] == Draft202012Validator.META_SCHEMA["$id"]


def test_is_ascii_and_sorted() -> None:
    """Its text is the same each time, and ASCII alone."""
    assert schema_text().isascii()
    assert schema_text() == json.dumps(json.loads(schema_text()), indent=2, sort_keys=True) + "\n"


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples(path: Path) -> None:
    """Every sample job is right by it, and says in its first line where it is."""
    text = path.read_text(encoding="utf-8")
    assert (text.split("\n")[0], _wrong(text)) == (SCHEMA_LINE, [])


def test_schema_beside_the_samples() -> None:
    """The file the samples' first line names is the schema as the command prints it."""
    found = (HOUSE / "sample_jobs" / SCHEMA_NAME).read_bytes().decode()
    assert (f"#:schema ./{SCHEMA_NAME}", schema_text()) == (SCHEMA_LINE, found)


@pytest.mark.parametrize(
    ("right", "wrong", "where"),
    [
        ('width = "88"', 'widht = "88"', "window.0"),
        ('width = "88"', 'width = "88,500"', "window.0.width"),
        ('width = "88"', 'width = "-88"', "window.0.width"),
        ('width = "88"', "width = -88", "window.0.width"),
        ('width = "88"', "width = 0", "window.0.width"),
        ('width = "88"', 'width = "0 in"', "window.0.width"),
        ('width = "88"', "width = true", "window.0.width"),
        ('width = "88"', 'width = "88 furlongs"', "window.0.width"),
        ('width = "88"', "width = 100001", "window.0.width"),
        ('width = "88"', "", "window.0"),
        ('width = "88"', "covers = 40", "window.0"),
        ('width = "88"', "width = 88\nwidths = 2", "window.0"),
        ('width = "88"', "width = 88\ncovers = 40\nfullness = 2", "window.0"),
        ('width = "88"', 'width = 88\npanels = "paire"', "window.0.panels"),
        ('width = "88"', 'width = 88\ncount = "8"', "window.0.count"),
        ('width = "88"', "width = 88\ncount = 1", "window.0.count"),
        ('width = "88"', "width = 88\ncount = 8.5", "window.0.count"),
        ('width = "88"', "width = 88\n[window.papers]", "window.0"),
        ('width = "88"', "width = 88\n[window.fabric]\nweight = 250", "window.0.fabric.weight"),
        ('width = "88"', 'width = 88\n[window.fabric]\nweight = "8 oz"', "window.0.fabric.weight"),
        (
            'width = "88"',
            "width = 88\n[window.fabric]\nrailroad = 'no'",
            "window.0.fabric.railroad",
        ),
        (
            'width = "88"',
            "width = 88\n[window.fabric]\nrepeat_down = 'plain'",
            "window.0.fabric.repeat_down",
        ),
        ('width = "88"', "width = 88\nlining = 'plain'", "window.0.lining"),
        ('width = "88"', "width = 88\nfabric = 'none'", "window.0.fabric"),
        ('width = "88"', "widths = 2.25", "window.0.widths"),
        ('width = "88"', "fullness = 200", "window.0.fullness"),
        ("[[window]]", "[window]", "window"),
        ("[[window]]", "[[windows]]", ""),
        ("name =", "nme =", "job"),
        ('"Heron Point, writing room"', '" "', "job.name"),
        ("[job]", "[job]\ndue = '31/3/2027'", "job.due"),
        ("[job]", "[job]\ndue = '2027-02-30'", "job.due"),
        ("[job]", "[job]\nclient = 4", "job.client"),
        ('units = "in"', 'units = "inch"', "units"),
        ('units = "in"', 'paper.size = "a5"', "paper.size"),
        ('units = "in"', "paper.size = 13", "paper.size"),
        ('units = "in"', 'paper.letters = ["F"]', "paper.letters"),
        ('units = "in"', 'paper.letters = ["F", "back"]', "paper.letters.1"),
        ("outside =", "hole =", ""),
        ("opening =", "hole =", ""),
    ],
)
def test_faulty(right: str, wrong: str, where: str) -> None:
    """What the reader refuses and a schema can see is refused where it stands."""
    text = LEAST.replace(right, wrong)
    with pytest.raises(JobError):
        read_job(text.encode(), "job.toml")
    assert [where] == [place for place in _wrong(text) if place == where or not where]
    assert _wrong(LEAST) == []


def test_every_key_is_there() -> None:
    """Every key of every table is in the schema, described, and no other key is let through."""
    found = {"": SCHEMA, **{name: SCHEMA["properties"].get(name, {}) for name in TABLES if name}}
    for name in ("job", "paper", "eyelet", "band", "pole", "fabric", "lining"):
        [one] = found[name]["allOf"]
        found[name] = SCHEMA["$defs"][one["$ref"].rpartition("/")[2]]
    found["window"] = SCHEMA["$defs"]["WindowTable"]
    for name, table in found.items():
        assert sorted(keys_of(name)) == sorted(table["properties"])
        assert table["additionalProperties"] is False
        assert all(one["description"].endswith((".", "]")) for one in table["properties"].values())


NUMBERS = st.sampled_from(
    [
        *("75", "3", "0", "1", "12", "007", "1/2", "75 1/2", "75-1/2", "75 - 1/2", "7\u20111/2"),
        *("5/0", "5/00", "0/5", "1 / 2", "7 2\u20444", "½", "75½", "75 - ⅞", "75.5", "5.", ".5"),
    ]
)
UNITS = st.sampled_from(
    [
        *(*LENGTH_UNITS, *MASS_UNITS, *AREA_WEIGHT_UNITS, *("" for _ in range(20))),
        *("Inche\u017f", "\u212ag", "\u2032", "″", "’’", "ft.", "in.", "OZ. / yd 2", "gsm.", "%"),
        *("roll", "x 3 in", "×½ FT", "ROLL", "q", "IN", "Ft", "MM"),
    ]
)
SPACES = st.sampled_from(["", "", " ", " ", "\t ", "\u00a0"])
JOINS = st.sampled_from(["", " ", " - ", "-", "\u2013", ", "])
terms = st.tuples(NUMBERS, SPACES, UNITS).map("".join)
measures = st.tuples(
    st.sampled_from(["", "", "≈ ", " ", "-", "≈", "letter", " A4 "]),
    st.lists(st.tuples(terms, JOINS).map("".join), max_size=2).map("".join),
    terms,
    SPACES,
).map("".join)
texts = measures | terms | st.text(max_size=6)
KINDS: list[tuple[str, str, Callable[[str], object]]] = [
    ("window", "return", lambda text: parse_length(text, "mm")),
    ("window", "width", lambda text: parse_length(text, "in") or parse_length("-", "in")),
    ("eyelet", "weight", lambda text: parse_mass(text) or parse_mass("-")),
    ("fabric", "weight", lambda text: parse_area_weight(text) or parse_mass("-")),
    ("fabric", "shrinkage", parse_share),
    ("window", "fullness", lambda text: 1 / (1 <= parse_number(text) <= 10)),
    ("paper", "size", lambda text: read_paper(text, "in")),
]
# What a pattern can't know: sizes.
BEYOND = re.compile(
    "^$|is over 100 m|has a fraction of 1 or more|is out of step|is not a length|needs a unit after"
)


@pytest.mark.parametrize(("table", "key", "parse"), KINDS, ids=[f"{a}.{b}" for a, b, _ in KINDS])
def test_takes_what_the_reader_takes(table: str, key: str, parse: Callable[[str], object]) -> None:
    """Text that the reader takes passes the schema, however it is spelled."""

    @given(texts)
    def check(text: str) -> None:
        try:
            parse(text)
        except (ValueError, ZeroDivisionError):
            return
        assert _takes(table, key, text)

    check()


@pytest.mark.parametrize(
    ("table", "key", "text"),
    [
        ("window", "return", "≈ 75 2\u20444 in"),
        ("window", "return", "2 yd - 2 ft 3 in."),
        ("window", "return", "3 ft \u2013 .5 inche\u017f"),
        ("window", "return", "75\u2011½″"),
        ("window", "return", "6 ft 3,5 in"),
        ("window", "width", "0,125 m"),
        ("window", "width", "1905,500 mm"),
        ("eyelet", "weight", "12,5 g"),
        ("window", "return", "6\u2032 3’’"),
        ("window", "width", "1 / 2\u00a0METRES"),
        ("eyelet", "weight", "½ \u212aG."),
        ("fabric", "weight", "8.5oz / yd²"),
        ("fabric", "weight", "250 g / S q m"),
        ("fabric", "shrinkage", "2 1/2 %"),
        ("window", "fullness", "≈2-1/2"),
        ("paper", "size", " Letter\t"),
        ("paper", "size", "8½ X 11 in"),
        ("paper", "size", "6' 3 × ≈ 26 IN"),
        ("paper", "size", "24inRoll"),
    ],
)
def test_takes_odd_spellings(table: str, key: str, text: str) -> None:
    """Spellings that only few will write, each as far from the plain one as the reader goes."""
    [parse] = [parse for one, name, parse in KINDS if (one, name) == (table, key)]
    assert parse(text)
    assert _takes(table, key, text)


def _refusal(text: str) -> str:
    """Why text is no length, or nothing where it is one."""
    try:
        parse_length(text, "in")
    except ValueError as error:
        return str(error)
    return ""


@given(texts)
@example("6 ft.3 in")
@example("5/3")
@example("75 5/00")
def test_refuses_what_it_can(text: str) -> None:
    """Text that passes as a length is one, or only its sizes are wrong."""
    if _takes("window", "return", text):
        assert BEYOND.search(_refusal(text))


@pytest.mark.parametrize(
    "text", ["6' 3 1/2\"", "6 ft 3 in", "≈ 75-1/2", "190.5 CM", ".5", "75½", "64,5 mm", "1,25"]
)
@given(data=st.data())
def test_near_misses(text: str, data: st.DataObject) -> None:
    """A good length with one sign more is refused with the reader, but for sizes."""
    at = data.draw(st.integers(0, len(text)))
    near = text[:at] + data.draw(st.sampled_from([*",-x%q/.٣0", " ", "in"])) + text[at:]
    refusal = _refusal(near)
    assert _takes("window", "return", near) == (refusal == "") or BEYOND.search(refusal)


@pytest.mark.parametrize(
    ("table", "key", "words"),
    [
        ("", "units", ("in", "mm", "cm")),
        ("window", "panels", ("pair", "left", "right", "single")),
        ("window", "count", ("auto",)),
        ("eyelet", "hung", ("pole", "hooks")),
        ("paper", "style", ("whole", "stepping")),
        ("paper", "size", tuple(SHEETS)),
    ],
)
@given(data=st.data())
def test_words_in_any_case(
    table: str, key: str, words: tuple[str, ...], data: st.DataObject
) -> None:
    """A word passes in any case, as the reader takes it, and with a letter more doesn't."""
    word = data.draw(st.sampled_from(words))
    spelled = "".join(data.draw(st.sampled_from([one, one.upper()])) for one in word)
    assert _takes(table, key, spelled)
    assert not _takes(table, key, f"{spelled}e")


VALUES = [
    *("0", "1", "2", "3.5", "200", "-1", "true", "8.0", "2027-03-31", "[]", "inf"),
    *('"1 1/2"', '"54 in"', '"250 gsm"', '"12 g"', '"3 %"', '"pole"', '"Hooks"', '"AUTO"', '"A4"'),
    *('"24 in roll"', '["F", "B"]', '"PAIR"', '"single"', '"0"', '""', '"2027-03-31"'),
]
tables = st.sampled_from(["paper", "eyelet", "band", "pole", "fabric", "lining", "window", "job"])
given_keys = tables.flatmap(
    lambda table: st.tuples(
        st.just(table), st.sampled_from(keys_of(table)), st.sampled_from(VALUES)
    )
)


@given(st.lists(given_keys, max_size=6, unique_by=lambda one: one[:2]), st.booleans())
def test_takes_every_job_that_can_be_read(
    keys: list[tuple[str, str, str]],
    own: bool,  # noqa: FBT001
) -> None:
    """A whole job that can be read passes, whatever is given in which table."""
    text = LEAST.replace('width = "88"\n', "")
    taken = [(t, k) for t, k, _ in keys]
    if not {("window", "widths"), ("window", "fullness"), ("window", "width")} & set(taken):
        text += "width = 88\n"
    for table, key, value in keys:
        if table == "window":
            text += f"{key} = {value}\n"
        elif own and table not in {"job", "paper"}:
            text += f"{table}.{key} = {value}\n"
    for table, key, value in keys:
        if table in {"paper", "band", "pole", "fabric", "lining"} and not own:
            text = f"{table}.{key} = {value}\n{text}"
    try:
        read_job(text.encode(), "job.toml")
    except JobError:
        return
    assert _wrong(text) == []


def test_lengths_bound() -> None:
    """The most a bare number may be is the most it may be in the smallest units."""
    most = SCHEMA["$defs"]["length"]["maximum"]
    assert parse_length(most, "mm") == Fraction(100_000)
    with pytest.raises(ValueError, match="over 100 m"):
        parse_length(most + 1, "mm")


def test_takes_none() -> None:
    """What a window takes back is taken, in any case, as the reader takes it."""
    text = LEAST.replace('width = "88"', 'width = "88"\nlining = "None"\n[window.fabric]')
    for word in ("none", "NONE"):
        told = f'{text}\nrepeat_down = "{word}"\nrepeat_across = "{word}"\n'
        read_job(told.encode(), "job.toml")
        assert _wrong(told) == []
