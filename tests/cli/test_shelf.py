"""`shelf`: the jobs kept under a folder listed, and nothing in it touched."""

from __future__ import annotations

import json
import sys
from hashlib import sha256
from pathlib import Path
from types import SimpleNamespace

import pytest

from drapetemplate.cli import output
from drapetemplate.cli.output import json_text
from tests.helpers.commands import refused, run
from tests.helpers.jobfiles import LEAST, NAME, job_toml
from tests.helpers.made import made


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder of two jobs and two files that hold none."""
    folder = tmp_path / "jobs"
    (folder / "2026").mkdir(parents=True)
    (folder / "writing.toml").write_text(LEAST)
    (folder / "2026" / "writing.pdf").write_bytes(made(LEAST)[0])
    (folder / "linen.toml").write_text(job_toml(job="due = 2027-02-10\nnumber = 7"))
    (folder / "pyproject.toml").write_text("[project]\n")
    (folder / "bad\x1b[31m\u202e.pdf").write_bytes(b"%PDF-1.7\n")
    return folder


def state(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Every file's bytes and time."""
    return {
        str(path): (path.read_bytes(), path.stat().st_mtime_ns)
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_shelf(jobs: Path) -> None:
    """Each job once, with what was passed over; what can't be read is named; nothing is written."""
    before = state(jobs)
    done = run("shelf", jobs)
    assert done.exit_code == 0
    header, linen, writing, *rest = done.stdout.splitlines()
    assert header.split() == ["due", "number", "name", "panels", "sheets", "kept", "in"]
    assert linen.split("  ")[0] == "2027-02-10"
    assert f"7       {NAME}" in linen
    assert writing.endswith(f"{jobs / 'writing.toml'}, {jobs / '2026' / 'writing.pdf'}")
    passed = "passed over: 1 file without a job, 1 file that can't be read"
    assert rest == [f"2 jobs in {jobs}", passed]
    assert done.stderr == f"{jobs}/bad\ufffd[31m\ufffd.pdf: damaged, or no PDF\n"
    assert state(jobs) == before


def test_found_by_words_and_day(jobs: Path) -> None:
    """Words and a day say which; where none is so, that is said and is no failure."""
    words = json.loads(run("shelf", jobs, "WRITING", "--json").stdout)
    assert [job["name"] for job in words["jobs"]] == ["Heron Point, writing room"]
    due = json.loads(run("shelf", jobs, "--due-before", "2027-02-11", "--json").stdout)
    assert [job["number"] for job in due["jobs"]] == ["7"]
    assert (due["kept"], due["undated"]) == (2, 1)
    none = run("shelf", jobs, "nowhere", "--plain")
    assert none.exit_code == 0
    assert none.stdout.splitlines()[0] == f"none of 2 jobs in {jobs} is as asked for"


def test_json(jobs: Path) -> None:
    """Everything known, with null for what isn't, and every file passed over with its reason."""
    details = 'number = "7"\nclient = "The keeper"\nroom = "Hall"'
    (jobs / "2026" / "linen.toml").write_text(job_toml(job=details))
    told = json.loads(run("shelf", jobs, "--json").stdout)
    first = told["jobs"][0]
    assert first == {
        "number": "7",
        "name": NAME,
        "client": None,
        "room": None,
        "due": "2027-02-10",
        "panels": 2,
        "sheets": None,
        "roll_pages": None,
        "faults": 0,
        "files": [
            {
                "file": str(jobs / "linen.toml"),
                "kind": "job file",
                "sha256": sha256((jobs / "linen.toml").read_bytes()).hexdigest(),
            }
        ],
    }
    told_of = {(job["number"], job["client"], job["room"]) for job in told["jobs"]}
    assert ("7", "The keeper", "Hall") in told_of
    [doubt] = told["doubts"]
    assert doubt["code"] == "same-number"
    assert doubt["files"] == [str(jobs / "linen.toml"), str(jobs / "2026" / "linen.toml")]
    assert [each["reason"] for each in told["passed_over"]] == [
        "damaged, or no PDF",
        "no job file",
    ]


def test_refused(jobs: Path) -> None:
    """A folder that isn't there, and a day that is none."""
    refused(run("shelf", jobs / "none"), "none: can't be read: no such file or directory")
    refused(run("shelf", jobs, "--due-before", "soon"), '--due-before: "soon" is not a date')
    refused(run("shelf", jobs, "--due-before", "2027-02-30"), "is not a day of the calendar")


def test_bar_comes_late(monkeypatch: pytest.MonkeyPatch) -> None:
    """A bar is drawn on a terminal where a scan takes over a second, and every item comes."""
    drawn: list[tuple[str, object]] = []

    class Bar:
        def add_task(self, doing: str, total: int) -> int:
            drawn.append((doing, total))
            return 0

        def start(self) -> None: ...

        def update(self, _task: int, completed: int) -> None:
            drawn.append(("done", completed))

        def stop(self) -> None:
            drawn.append(("end", None))

    monkeypatch.setattr(output, "_bar", Bar)
    clock = iter([0, 0.5, 0.9, 1.1, 1.2])
    monkeypatch.setattr(output, "time", SimpleNamespace(monotonic=lambda: next(clock)))
    assert list(output.with_progress("abcd", 4, "Looking", wait=1)) == list("abcd")
    assert drawn == []
    monkeypatch.setattr(output, "_is_terminal", lambda _stream: True)
    assert list(output.with_progress("abcd", 4, "Looking", wait=1)) == list("abcd")
    assert drawn == [("Looking", 4), ("done", 2), ("done", 3), ("end", None)]


@pytest.mark.parametrize("name", ["stdout", "stderr"])
def test_no_bar_where_one_stream_is_kept(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """Where lines or faults go to a file or a pipe no bar is drawn: its signs would be among them.

    One thing alone has none either.
    """
    other = {"stdout": "stderr", "stderr": "stdout"}[name]
    terminal = getattr(sys, other)
    monkeypatch.setattr(output, "_is_terminal", lambda stream: stream is terminal)
    items = iter("abcd")
    assert output.with_progress(items, 4) is items
    monkeypatch.setattr(output, "_is_terminal", lambda _stream: True)
    assert output.with_progress(items, 1) is items
    assert output.with_progress(items, 2) is not items


def test_json_that_any_reader_takes() -> None:
    """JSON is ASCII, so that any terminal shows it; what JSON has no number for is refused."""
    assert json_text({"room": "crème"}) == '{\n  "room": "cr\\u00e8me"\n}'
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_text({"width": float("nan")})
