"""The schema on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from drapetemplate.job.json_schema import SCHEMA_NAME, job_schema, schema_text
from tests.helpers.commands import run


def test_schema_printed() -> None:
    """The schema goes to standard output as it is in its file."""
    done = run("schema")
    assert (done.exit_code, done.stdout, done.stderr) == (0, schema_text(), "")
    assert json.loads(done.stdout) == job_schema()


@pytest.mark.parametrize("out", ["", "any.json", "Any.JSON"])
def test_schema_written(tmp_path: Path, out: str) -> None:
    """With --out it goes to a file, or under its own name into a folder, and again over itself."""
    target = tmp_path / (out or SCHEMA_NAME)
    for _ in range(2):
        done = run("schema", "--out", tmp_path / out)
        assert (done.exit_code, done.stdout, done.stderr) == (0, f"{target}\n", "")
        assert target.read_bytes() == schema_text().encode()


@pytest.mark.parametrize("name", ["job.toml", "job", "x" * 300, "no/folder.json"])
def test_schema_not_written(tmp_path: Path, name: str) -> None:
    """Never over a job file, and what can't be written is told in a line."""
    job = tmp_path / "job.toml"
    job.write_bytes(b"kept")
    done = run("schema", "--out", tmp_path / name)
    assert (done.exit_code, done.stdout, len(done.stderr.splitlines())) == (2, "", 1)
    assert done.stderr.startswith(f"{tmp_path / name}: ")
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"kept"]
