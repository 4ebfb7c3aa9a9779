"""make and plan as a user types them: exit codes, one line a fault, and nothing half written."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pdfplumber
import pytest
from jobfiles import job_toml
from typer.testing import CliRunner, Result

from drapetemplate import __version__
from drapetemplate.cli import app


def run(*words: object) -> Result:
    """The command line, run in this process."""
    return CliRunner().invoke(app, [str(word) for word in words])


def typed(
    *words: object, cwd: Path, env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[bytes]:
    """The command line, run as a user would."""
    command = [sys.executable, "-m", "drapetemplate", *map(str, words)]
    given = {**os.environ, **(env or {})}
    return subprocess.run(command, cwd=cwd, capture_output=True, check=False, env=given)


def written(path: Path, text: str) -> Path:
    """A file of that text."""
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job that can be made."""
    return written(tmp_path / "linen_store.toml", job_toml("width = 40"))


@pytest.fixture
def odd(tmp_path: Path) -> Path:
    """A job with an odd count on a pole."""
    return written(tmp_path / "odd.toml", job_toml("width = 60\ncount = 9"))


def test_version() -> None:
    """The version is printed on request."""
    assert run("--version").stdout == f"drapetemplate {__version__}\n"


def test_make_in_this_folder(job: Path, tmp_path: Path) -> None:
    """One PDF, named after the job, in the current folder, by the module as by the command."""
    folder = tmp_path / "here"
    folder.mkdir()
    done = typed("make", job, cwd=folder)
    assert (done.returncode, done.stderr) == (0, b"")
    assert os.listdir(folder) == ["linen_store.pdf"]  # noqa: PTH208  # names are what counts
    with pdfplumber.open(folder / "linen_store.pdf") as pdf:
        assert done.stdout.decode() == f"linen_store.pdf: {len(pdf.pages)} pages\n"


@pytest.mark.parametrize("out", ["other.pdf", "jobs"])
def test_make_out(job: Path, tmp_path: Path, out: str) -> None:
    """--out names the PDF, or a folder for it."""
    (tmp_path / "jobs").mkdir()
    assert run("make", job, "--out", tmp_path / out).exit_code == 0
    expected = tmp_path / ("other.pdf" if out == "other.pdf" else "jobs/linen_store.pdf")
    assert expected.read_bytes().startswith(b"%PDF-")


def test_odd_count_stops(odd: Path, tmp_path: Path) -> None:
    """A stop finding ends with 1, one line that names both even counts, and no PDF."""
    result = run("make", odd, "--out", tmp_path / "odd.pdf")
    assert result.exit_code == 1
    (line,) = result.stderr.splitlines()
    assert line.startswith(f"{odd}: stop: odd-count: 9 eyelets")
    assert line.endswith("8 or 10")
    assert not (tmp_path / "odd.pdf").exists()


def test_plan_stops_too(odd: Path) -> None:
    """A plan with a stop is printed whole and ends with 1."""
    result = run("plan", odd)
    assert result.exit_code == 1
    assert "odd-count" in result.stdout
    assert "hole centres" in result.stdout


def test_one_bad_job_stops_no_other(job: Path, odd: Path, tmp_path: Path) -> None:
    """Each job is made that can be; the exit code is the worst."""
    bad = written(tmp_path / "bad.toml", job_toml("widht = 3\nwidth = 40"))
    out = tmp_path / "out"
    out.mkdir()
    result = run("make", bad, odd, job, "--out", out)
    assert result.exit_code == 2
    assert [path.name for path in out.iterdir()] == ["linen_store.pdf"]


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("[[[[", ["job.toml, line 1: "]),
        ("units = 'furlong'\n", ["job.name: ", "units: ", "window: missing"]),
        (job_toml("width = 40\nwidthh = 2\ncount = 'x'"), ["window[1].count", "window[1].widthh"]),
        (job_toml("width = 10\ncount = 30"), ["window[1].count: 30 eyelets of 2 in don't fit"]),
        (job_toml("width = 40", tables="[paper]\nmargin = 4"), ["paper.margin: 4 in leaves"]),
        (job_toml("width = 40", tables='[paper]\nsize = "24 in roll"'), ["paper.size: "]),
    ],
)
def test_faults_are_lines(tmp_path: Path, text: str, lines: list[str]) -> None:
    """Each fault is one line on standard error that begins with its key, and the code is 2."""
    written(tmp_path / "job.toml", text)
    done = typed("make", "job.toml", cwd=tmp_path)
    said = sorted(done.stderr.decode().splitlines())
    assert done.returncode == 2
    assert done.stdout == b""
    assert [line.startswith(start) for line, start in zip(said, lines, strict=False)] == [
        True for _ in lines
    ]
    assert not any("Traceback" in line for line in said)
    assert not (tmp_path / "job.pdf").exists()


@pytest.mark.parametrize("name", ["nothing.toml", "."])
def test_job_that_isnt_there(tmp_path: Path, name: str) -> None:
    """A job that can't be read is one line with its name."""
    result = run("plan", tmp_path / name)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert "can't be read" in result.stderr


def test_two_jobs_one_target(job: Path, tmp_path: Path) -> None:
    """Two jobs of one name would overwrite each other: neither is made."""
    other = tmp_path / "other"
    other.mkdir()
    twin = written(other / job.name, job_toml("width = 50"))
    result = run("make", job, twin, "--out", tmp_path)
    assert result.exit_code == 2
    assert list(tmp_path.glob("*.pdf")) == []


def test_job_is_not_overwritten(job: Path) -> None:
    """The PDF never takes the job file's place."""
    before = job.read_bytes()
    assert run("make", job, "--out", job).exit_code == 2
    assert job.read_bytes() == before


def test_target_that_cant_be_written(job: Path, tmp_path: Path) -> None:
    """A folder that isn't there is one line, and nothing is left behind."""
    result = run("make", job, "--out", tmp_path / "no" / "x.pdf")
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert [path.name for path in tmp_path.iterdir()] == [job.name]


def test_plan_json(job: Path) -> None:
    """The JSON is the plan's, in its own format, whatever the terminal."""
    done = typed("plan", job, "--json", cwd=job.parent, env={"PYTHONIOENCODING": "ascii"})
    found = json.loads(done.stdout)
    assert found["format"] == 1
    assert found["windows"][0]["panels"][0]["width_mm"] == 1016.0


@pytest.mark.parametrize("env", [{"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}])
def test_poor_terminals(job: Path, env: dict[str, str]) -> None:
    """What a terminal can't show is escaped, never an error."""
    done = typed("plan", job, cwd=job.parent, env=env)
    assert (done.returncode, done.stderr) == (0, b"")


def test_terminal_escapes_never_get_through(tmp_path: Path) -> None:
    """Control characters of any field reach neither output."""
    text = job_toml('name = "a\\u001b[31mb\\u202ec"\nwidth = 40\ncount = 7')
    path = written(tmp_path / "job.toml", text.replace("Heron", "\\u001b]0;x\\u0007Heron"))
    for command in ("plan", "make"):
        done = typed(command, path, cwd=tmp_path)
        assert done.returncode == 1
        assert not {0x1B, 0x07} & set(done.stdout + done.stderr)
        assert "\u202e" not in (done.stdout + done.stderr).decode()


def test_closed_pipe(job: Path) -> None:
    """A reader that stops early brings no traceback."""
    command = f'"{sys.executable}" -m drapetemplate plan "{job}" | head -1'
    done = subprocess.run(["bash", "-c", command], capture_output=True, check=False)
    assert done.stdout.decode() == "Heron Point, linen store\n"
    assert b"Traceback" not in done.stderr
