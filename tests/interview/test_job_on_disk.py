"""A job file written by questions: what is beside it, and what would keep it from being made."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate.errors import FileError
from drapetemplate.interview.job_in_file import opened
from drapetemplate.interview.job_on_disk import faults_of, says_it_already, write_new
from drapetemplate.interview.states import Answer, State
from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import schema_text
from tests.helpers.jobfiles import LEAST, job_toml

STATE = State(
    (
        Answer("job.name", "Heron Point, writing room"),
        Answer("window[1].width", "88"),
        Answer("eyelet.outside", "2 5/8"),
        Answer("eyelet.opening", "1 9/16"),
    )
)


def test_what_keeps_a_job_from_being_made() -> None:
    """What can't be read, planned or laid out, by its line."""
    assert faults_of(LEAST.encode(), "bay.toml") == ()
    for text, told in (
        (LEAST.replace("88", "0"), 'window[1].width: "0" means nothing here'),
        (job_toml("width = 60\ncount = 80"), "window[1].count: 80 eyelets of 2 in don't fit"),
        (job_toml(tables='[paper]\nsize = "4 x 4 in"'), "paper.size: "),
    ):
        (fault,) = faults_of(text.encode(), "bay.toml")
        line = text[: text.index(told.partition(":")[0].rpartition(".")[2] + " =")].count("\n") + 1
        assert str(fault).startswith(f"bay.toml, line {line}: {told}")


def test_a_new_file_and_its_schema(tmp_path: Path) -> None:
    """The schema is put beside it, once; what else has that name stays, and isn't named."""
    target = write_new(tmp_path / "bay", None, STATE)
    schema = tmp_path / "job.schema.json"
    assert target == tmp_path / "bay.toml"
    assert target.read_text().startswith("#:schema ./job.schema.json\n")
    assert read_job(target.read_bytes(), "").windows == read_job(LEAST.encode(), "").windows
    assert schema.read_text() == schema_text()
    schema.write_text("{}")
    second = write_new(tmp_path / "bay 2.toml", None, STATE)
    assert (schema.read_text(), second.read_text()) == ("{}", target.read_text())
    schema.unlink()
    schema.mkdir()
    assert not write_new(tmp_path / "bay 3", None, STATE).read_text().startswith("#:schema")
    before = target.read_bytes()
    other = State((*STATE.answers[:1], Answer("window[1].width", "89"), *STATE.answers[2:]))
    with pytest.raises(FileError, match="is there already"):
        write_new(tmp_path / "bay", None, other)
    assert target.read_bytes() == before
    there = opened(before, "bay.toml")
    answers = dict(there.answers)
    assert says_it_already(there, State(tuple(Answer(*each) for each in answers.items())))
    answers["window[1].width"] = "89"
    assert not says_it_already(there, State(tuple(Answer(*each) for each in answers.items())))
