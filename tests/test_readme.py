"""The README keeps its word: its Python runs, its commands exist, its pictures are the tool's."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from drapetemplate.planning.codes import CODES
from tests.helpers import desk_picture
from tests.helpers.commands import run
from tests.test_imports import ORDER

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
TESTS = (ROOT / "tests" / "README.md").read_text(encoding="utf-8")
PICTURES = re.findall(r"^ {4}drapetemplate picture (sample_jobs/.+)$", TESTS, re.MULTILINE)


def test_python_runs() -> None:
    """The example for programs runs as written, and finds its PDF true."""
    [code] = re.findall(r"^```python\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    eyelets, *verdicts = done.stdout.splitlines()
    assert re.fullmatch(r"\d+ eyelets, the first at \d+\.\d+ mm", eyelets)
    assert verdicts == ["True"]


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")
@pytest.mark.parametrize(("number", "program"), [(0, "drapetemplate"), (1, "pytest")])
def test_commands_are_found_after_the_install(number: int, program: str, tmp_path: Path) -> None:
    """In the terminal where a command block was typed, what it installs is found by its name."""
    blocks = re.findall(r"^```sh\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
    # What pip would install: programs that do nothing. The second block is typed in a new terminal.
    pip = "".join(
        f"printf '#!/bin/sh\\n' >.venv/bin/{name}; chmod +x .venv/bin/{name}; "
        for name in ("drapetemplate", "pytest")
    )
    made = "" if number == 0 else f"{sys.executable} -m venv --without-pip .venv\n"
    script = f"set -euo pipefail\npip() {{ {pip} }}\n{made}{blocks[number]}\ncommand -v {program}"
    done = subprocess.run(
        ["bash", "-c", script], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.stdout.splitlines()[-1:] == [str(tmp_path / ".venv" / "bin" / program)], done.stderr
    assert "drapetemplate make" in blocks[0]


@pytest.mark.parametrize("line", PICTURES)
def test_pictures_are_the_tools(line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each picture is, byte for byte, what the command beside it writes."""
    monkeypatch.chdir(ROOT)
    *words, _, out = shlex.split(line)
    made = tmp_path / Path(out).name
    done = run("picture", *words, "--out", made)
    assert done.exit_code == 0, done.output
    assert made.read_bytes() == (ROOT / out).read_bytes()
    assert f"]({out})" in README


def test_every_picture_is_made() -> None:
    """No picture stands there without its command, and each is small."""
    held = sorted((ROOT / "sample_jobs" / "pictures").iterdir())
    made = [ROOT / shlex.split(line)[-1] for line in PICTURES]
    assert held == sorted([*made, desk_picture.PICTURE])
    assert "python -m tests.helpers.desk_picture" in TESTS
    assert all(path.stat().st_size < 120_000 for path in held)


def test_commands_exist() -> None:
    """Every command line in the README names a command and options that are there."""
    lines = re.findall(r"^ {4,8}(?:\$ )?drapetemplate (.+)$", README, re.MULTILINE)
    assert len(lines) > 15
    for line in lines:
        command, *words = shlex.split(re.split(r"  +", line)[0])
        told = run(command, "--help", env={"COLUMNS": "200"})
        assert told.exit_code == 0, line
        for word in words:
            if word.startswith("--"):
                assert word in told.output, line


def test_findings_as_listed() -> None:
    """The page of findings has the tool's own: every code, its levels, what it says."""
    rows = [
        f"| {f'`{code}`' if first else ''} | {level} | {text} |".replace("|  |", "| |")
        for code, levels in CODES.items()
        for first, (level, text) in zip((True, False), levels.items(), strict=False)
    ]
    page = (ROOT / "sample_jobs" / "findings.md").read_text(encoding="utf-8")
    table = re.findall(r"^\| code \| level \| says \|\n.*\n((?:\|.*\n)+)", page, re.MULTILINE)
    assert table == ["".join(f"{row}\n" for row in rows)]


def test_first_job_plans(tmp_path: Path) -> None:
    """The least job file that the README gives is planned without a fault."""
    first, *_ = re.findall(r"^```toml\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
    job = tmp_path / "my_job.toml"
    job.write_text(first, encoding="utf-8")
    done = run("plan", job)
    assert (done.exit_code, done.stderr) == (0, "")


def test_output_is_as_shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the README shows of a measurement is what is printed."""
    [(line, shown)] = re.findall(
        r"^ {4}\$ drapetemplate (measure .+)\n {4}(.+)$", README, re.MULTILINE
    )
    monkeypatch.chdir(tmp_path)
    sample = ROOT / "sample_jobs" / "stair_hall.toml"
    assert run("make", sample).exit_code == 0
    assert run(*shlex.split(line)).stdout == f"{shown}\n"


def test_folders_as_listed() -> None:
    """DEVELOPERS.md lists every folder and file at the top of the package, in order of imports."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (`.+?`) \|", text.partition("| folder |")[2], re.MULTILINE)
    listed = [name for row in rows for name in re.findall(r"`(\w+)(?:\.py|/)`", row)]
    listed = ["drapetemplate" if name == "__init__" else name for name in listed]
    assert listed == [name for name in ORDER if name != "__main__"]
