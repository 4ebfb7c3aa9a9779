"""`plan --csv` as a user types it: a whole table, or one line of error and no half of it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_csv import as_csv
from tests.helpers.commands import run
from tests.helpers.jobfiles import job_of, job_toml

LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54'
SEWN = job_of(LONG, tables=LINEN)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A job file."""
    file = tmp_path / "linen_store.toml"
    file.write_text(job_toml(LONG, tables=LINEN), encoding="utf-8")
    return file


@pytest.mark.parametrize("words", [[], ["--json"]])
def test_plan_csv(path: Path, words: list[str]) -> None:
    """The table is written beside what is printed, which is the same as without it."""
    target = path.with_name("table.csv")
    result = run("plan", path, "--csv", target, *words)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == run("plan", path, *words).stdout
    assert target.read_bytes() == as_csv(SEWN, plan(SEWN))


def test_plan_csv_with_a_stop(path: Path) -> None:
    """A plan with a stop is written too, and ends with 1."""
    path.write_text(job_toml("width = 60\ncount = 7"), encoding="utf-8")
    target = path.with_name("table.csv")
    assert run("plan", path, "--csv", target).exit_code == 1
    assert target.read_bytes().count(b"\r\nhole,") == 14


@pytest.mark.parametrize("name", ["none/table.csv", ".", "x" * 300, "linen_store.toml"])
def test_plan_csv_that_cant_be_written(path: Path, name: str) -> None:
    """A missing folder, a folder, too long a name, the job itself: one line, exit 2, no file."""
    before, target = path.read_bytes(), path.parent / name
    result = run("plan", path, "--csv", target)
    assert (result.exit_code, result.stdout) == (2, "")
    (line,) = result.stderr.splitlines()
    assert line.startswith("--csv: " if target == path else f"{target}: ")
    assert [file.name for file in path.parent.iterdir()] == [path.name]
    assert path.read_bytes() == before


def test_plan_csv_on_a_full_disk(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A table that can't be finished leaves what stood there, and no half of itself."""
    target = path.with_name("table.csv")
    target.write_bytes(b"as it was")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    result = run("plan", path, "--csv", target)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == f"{target}: can't be written: no space left on device\n"
    assert target.read_bytes() == b"as it was"
    assert sorted(file.name for file in path.parent.iterdir()) == [path.name, target.name]


@pytest.mark.parametrize("words", [[], ["--json"], ["--plain"]])
def test_plan_csv_on_paper_without_room(path: Path, words: list[str]) -> None:
    """Paper that the plan's sheets don't go on is refused before anything is written."""
    tables = f'{LINEN}\n[paper]\nsize = "3 x 5 in"'
    path.write_text(job_toml(LONG, tables=tables), encoding="utf-8")
    target = path.with_name("table.csv")
    result = run("plan", path, "--csv", target, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "paper.size: 3 x 5 in is too small for a template sheet" in result.stderr
    assert not target.exists()


def test_plan_csv_of_a_bad_job(path: Path) -> None:
    """A job that can't be planned writes nothing."""
    path.write_text(job_toml("width = 4"), encoding="utf-8")
    target = path.with_name("table.csv")
    assert run("plan", path, "--csv", target).exit_code == 2
    assert not target.exists()
