"""Defaults: what is said of each, what it is and what a job gets are one."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from drapetemplate.interview.all_questions import NOT_ASKED, question_for
from drapetemplate.interview.job_text import toml_value
from drapetemplate.interview.question import InWords
from drapetemplate.job.build import read_job
from drapetemplate.job.defaults import DEFAULTS, Default
from drapetemplate.job.model import Job
from drapetemplate.job.tables import TABLES, JobFile, field_of, keys_of, path_in_file
from drapetemplate.measures import Units

VALUES = [default for default in DEFAULTS.values() if default.value is not None]
METRIC = [default for default in VALUES if default.metric is not None]
ASKED = [default for default in VALUES if default.key not in NOT_ASKED]


def _read(key: str, toml: str) -> object:
    """What the job file's reader makes of a value in TOML."""
    table, _, last = key.rpartition(".")
    raw: dict[str, Any] = {"job": {"name": "Heron Point"}, "window": [{"width": 88}]}
    place = raw if key == "units" else raw["window"][0] if not table else raw.setdefault(table, {})
    place[last] = tomllib.loads(f"value = {toml}")["value"]
    file: object = JobFile.model_validate(raw, context={"units": "mm"})
    if key != "units":
        file = getattr(file, table) if table else file.window[0]  # type: ignore[attr-defined]
    return getattr(file, last)


def _toml(words: str) -> str:
    """A default's words as TOML: what isn't a value there goes in quotes."""
    plain = words.partition(":")[0]
    return plain if plain.isdigit() or plain[0] == "[" or plain == "false" else f'"{plain}"'


def _description(key: str) -> str:
    """What the tables say of a key."""
    table, _, last = key.rpartition(".")
    return field_of(table or ("" if key == "units" else "window"), last).description or ""


@pytest.mark.parametrize("default", VALUES, ids=[default.key for default in VALUES])
def test_words_are_the_value(default: Default[Any]) -> None:
    """A default's words, written into a job file, are read as its value."""
    expected = None if default.key == "count" else default.value  # the reader's word for auto
    assert _read(default.key, _toml(default.words)) == expected


@pytest.mark.parametrize("default", METRIC, ids=[default.key for default in METRIC])
def test_metric_words_are_the_metric_value(default: Default[Any]) -> None:
    """So are a metric default's, which is the one of a job in mm or cm, and of no other."""
    assert _read(default.key, _toml(default.metric_words)) == default.metric
    for units in ("mm", "cm"):
        metric = default.in_units(units)
        assert (metric.value, metric.words) == (default.metric, default.metric_words)
    assert default.in_units("in") == default


@pytest.mark.parametrize("default", DEFAULTS.values(), ids=DEFAULTS)
def test_tables_say_the_default(default: Default[Any]) -> None:
    """What the tables say of a key ends with its default, and they name no other."""
    description = _description(default.key)
    assert description.endswith(str(default))
    assert description.count("Default") == 1


def test_no_other_default_is_said() -> None:
    """Every key whose description names a default has it here."""
    keys = {
        path_in_file(table, key)
        for table in TABLES
        for key in keys_of(table)
        if "Default" in (field_of(table, key).description or "")
    }
    # Of the lining's keys those that have no default of their own have the face's.
    told = {key if key in DEFAULTS else key.replace("lining.", "fabric.") for key in keys}
    assert told == set(DEFAULTS)
    assert set(DEFAULTS) <= keys


SPARSE = """\
[job]
name = "Heron Point, writing room"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
[pole]
projection = 4
top = 96
[fabric]
width = 54
[lining]
width = 54
[[window]]
width = "88"
"""


SPARSE_METRIC = """\
[job]
name = "Heron Point, writing room"
[eyelet]
outside = "66 mm"
opening = "40 mm"
[fabric]
width = "1400 mm"
[lining]
width = "1400 mm"
[[window]]
width = "2240 mm"
"""


def _job(text: str) -> Job:
    """A job without what was assumed, as that says which keys were given."""
    job = read_job(text.encode(), "job.toml")
    windows = tuple(replace(window, assumed=()) for window in job.windows)
    return replace(job, windows=windows, assumed=())


def _given(default: Default[Any], sparse: str) -> str:
    """A sparse job that gives a default's words."""
    table, _, last = default.key.rpartition(".")
    line = f"{last} = {_toml(default.words)}\n"
    if default.key == "units":
        return line + sparse
    if not table:
        return sparse + line
    if f"[{table}]\n" in sparse:
        return sparse.replace(f"[{table}]\n", f"[{table}]\n{line}")
    return f"{sparse}[{table}]\n{line}"


@pytest.mark.parametrize("default", VALUES, ids=[default.key for default in VALUES])
def test_given_or_left_out(default: Default[Any]) -> None:
    """A job that gives a default's words is the job that leaves the key out."""
    assert _job(_given(default, SPARSE)) == _job(SPARSE)


@pytest.mark.parametrize("default", METRIC, ids=[default.key for default in METRIC])
@pytest.mark.parametrize("units", ["mm", "cm"])
def test_given_or_left_out_of_a_metric_job(default: Default[Any], units: Units) -> None:
    """In a metric job it is the metric default that may be left out."""
    sparse = f'units = "{units}"\n{SPARSE_METRIC}'
    assert _job(_given(default.in_units(units), sparse)) == _job(sparse)
    assert _job(_given(default, sparse)) != _job(sparse)


@pytest.mark.parametrize("default", ASKED, ids=[default.key for default in ASKED])
def test_new_offers_the_default(default: Default[Any]) -> None:
    """What an empty line takes at a key's question is read as the key's default."""
    question = question_for(default.key)
    match question.default:
        case InWords(text):
            assert text.startswith(default.words)
        case Fraction():
            assert question.default == default.value
        case Default():
            assert question.default == default
        case str(text):
            expected = None if default.key == "count" else default.value
            assert _read(default.key, toml_value(question.kind, text)) == expected
        case _:
            pytest.fail("it must be answered")
