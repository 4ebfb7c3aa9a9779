"""Every example runs: the README's, its page on printing's, and those of each command's help."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest
from typer.testing import Result

from tests.helpers.commands import run
from tests.helpers.jobfiles import LEAST, job_toml

ROOT = Path(__file__).parent.parent
README = "".join(
    (ROOT / page).read_text(encoding="utf-8") for page in ("README.md", "sample_jobs/printing.md")
)
LINE = re.compile(r"^ {4,8}(?:\$ )?drapetemplate (.+)$", re.MULTILINE)
BAY = 'name = "Bay"\nwidth = 40'
COMMANDS = [
    "new", "desk", "make", "plan", "compare", "picture", "shelf", "cutfile", "order", "recall",
    "measure", "calibrate", "schema",
]  # fmt: skip


def _run(line: str) -> Result:
    return run(*shlex.split(line), env={"XDG_CONFIG_HOME": "config"})


MADE = ("writing_room", "stair_hall")


@pytest.fixture(scope="module")
def pdfs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the PDFs that the examples take for made."""
    folder = tmp_path_factory.mktemp("made")
    for name in MADE:
        job = ROOT / "sample_jobs" / f"{name}.toml"
        assert run("make", job, "--out", folder).exit_code == 0
    return folder


@pytest.fixture
def workroom(tmp_path: Path, pdfs: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that the examples speak of."""
    shutil.copytree(ROOT / "sample_jobs", tmp_path / "sample_jobs")
    for name in MADE:
        shutil.copy(ROOT / "sample_jobs" / f"{name}.toml", tmp_path)
        shutil.copy(pdfs / f"{name}.pdf", tmp_path)
    (tmp_path / "my_job.toml").write_text(f"{LEAST}[[window]]\n{BAY}\n")
    (tmp_path / "bay.toml").write_text(job_toml('name = "Bay, left"\nwidth = 40', BAY))
    (tmp_path / "jobs").mkdir()
    for number in ("7", "8"):
        (tmp_path / "jobs" / f"{number}.toml").write_text(
            job_toml(job=f'number = "{number}"\ndue = 2027-01-15')
        )
    home = tmp_path / "home"
    (home / "Desktop").mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("uvicorn.Server.run", lambda *_: None)  # the desk ends when someone does
    monkeypatch.setattr("typer.launch", lambda *_: 0)  # no browser is started
    return tmp_path


def test_readme_examples(workroom: Path) -> None:
    """Each line in the README and its page on printing does what it says, one after another."""
    lines = [re.split(r"  +", line)[0] for line in LINE.findall(README)]
    lines += re.findall(r"`drapetemplate ((?:plan|make|compare|calibrate) [^`]*)`", README)
    lines += [f"calibrate {one}" for one in re.findall(r"`calibrate (--[^`]+)`", README)]
    assert len(lines) > 20
    for line in lines:
        if line.startswith("new "):
            continue  # it asks at a terminal: test_new talks it through
        done = _run(line.replace("NAME", '"workroom laser"'))
        assert done.exit_code == 0, f"{line}: {done.output}"
    left = {str(path.relative_to(workroom)) for path in workroom.rglob("*")}
    assert {
        "my_job.pdf", "jobs/my_job.pdf", "my_job.csv", "counts.pdf", "my_job.png", "again.toml",
        "pdfs/7 Heron Point, linen store.pdf", "pdfs/8 Heron Point, linen store.pdf",
        "calibrate-letter.pdf", "job.schema.json",
    } <= left  # fmt: skip
    assert (workroom / "again.toml").read_bytes() == (workroom / "my_job.toml").read_bytes()


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(name, marks=pytest.mark.long if name in {"make", "measure"} else ())
        for name in COMMANDS
    ],
)
def test_help_examples(command: str, workroom: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A command's help is a page: what it is for, its options, lines to copy, its exit codes."""
    (workroom / "pdfs").mkdir()
    monkeypatch.setattr("typer.launch", lambda _: 0)
    told = run(command, "--help", env={"COLUMNS": "80"})
    assert told.exit_code == 0
    assert max(map(len, told.output.splitlines())) <= 80
    assert re.search(r"^  Exit codes:\n    0  ", told.output, re.MULTILINE)
    lines = re.findall(r"^    drapetemplate (.+)$", told.output, re.MULTILINE)
    assert lines
    assert all(line.split()[0] == command for line in lines)
    for line in lines if command != "new" else ():
        if line == "recall writing_room.pdf":
            (workroom / "writing_room.toml").unlink()
        done = _run(line)
        assert done.exit_code == 0, f"{line}: {done.output}"


def test_alone_it_says_what_is_next() -> None:
    """Without a word it shows where to begin, and every command on a whole line."""
    told = run(env={"COLUMNS": "80"})
    listed = told.output.partition("Commands:")[2]
    assert re.search(r"To begin:\n +drapetemplate new .*\n +drapetemplate make JOB ", listed)
    assert re.findall(r"^  (\w+)  +\S", listed, re.MULTILINE)[: len(COMMANDS)] == COMMANDS
    assert "..." not in listed
