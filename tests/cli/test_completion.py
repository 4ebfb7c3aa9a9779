"""Shell completion: what is offered, through the shells' own protocol, and the scripts."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.helpers.commands import STARTS, Start, forked, typed
from tests.helpers.jobfiles import job_toml


def completed(
    words: str, folder: Path, start: Start = forked, env: dict[str, str] | None = None
) -> list[str]:
    """What bash is offered for the last word of a line."""
    asked = {
        "_DRAPETEMPLATE_COMPLETE": "complete_bash",
        "COMP_WORDS": words,
        "COMP_CWORD": str(len(words.split(" ")) - 1),
    }
    done = start(cwd=folder, env=asked | (env or {}))
    assert done.stderr == b""
    return done.stdout.decode().split()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with two jobs, a PDF, a hidden job and a folder."""
    (tmp_path / "linen.toml").write_text(
        job_toml(
            "width = 40\nname = 'Bay'", "width = 50\nname = 'Bow'", "width = 60\nname = 'Sash'"
        )
    )
    (tmp_path / "lamp.toml").write_text("faulty = ")
    (tmp_path / ".hidden.toml").write_text("")
    (tmp_path / "linen.pdf").write_text("")
    (tmp_path / "later").mkdir()
    (tmp_path / "later" / "attic.toml").write_text("")
    return tmp_path


def test_commands(folder: Path) -> None:
    """Commands are offered by their beginning."""
    assert set(completed("drapetemplate c", folder, typed)) == {"calibrate", "compare"}


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("make l", ["lamp.toml", "later/", "linen.toml"]),
        ("plan later/", ["later/attic.toml"]),
        ("make .h", [".hidden.toml"]),
        ("make ", ["lamp.toml", "later/", "linen.toml"]),
        ("measure l", ["later/", "linen.pdf"]),
        ("recall li", ["linen.pdf"]),
        ("make nowhere/", []),
        ("make linen.toml --accept wo", ["wont-close"]),
        ("make linen.toml --window B", ["Bay", "Bow"]),
        ("plan linen.toml --window B", ["Bay", "Bow"]),
        ("make lamp.toml --window B", []),
        ("make linen.toml --window ", ["Bay", "Bow", "Sash"]),
        ("calibrate --paper l", ["letter", "legal"]),
    ],
)
def test_offered(folder: Path, words: str, expected: list[str], start: Start) -> None:
    """Files, codes, papers and the windows of the job on the line; faults offer nothing."""
    assert completed(f"drapetemplate {words}", folder, start) == expected


def test_printers(folder: Path) -> None:
    """Printers that were calibrated are offered; a missing or damaged list offers none."""
    kept = folder / "drapetemplate" / "printers.json"
    kept.parent.mkdir()
    home = {"XDG_CONFIG_HOME": str(folder), "HOME": str(folder)}
    line = "drapetemplate make linen.toml --printer w"
    assert completed(line, folder, env=home) == []
    kept.write_text(
        '{"format": 1, "printers": {"workroom": {"across": "1", "down": "1"},'
        ' "attic": {"across": "1", "down": "1"}}}'
    )
    assert completed(line, folder, env=home) == ["workroom"]
    kept.write_text("{")
    assert completed(line, folder, env=home) == []


@pytest.mark.parametrize("shell", ["bash", "zsh"])
def test_script_loads(shell: str, tmp_path: Path) -> None:
    """The script a user installs loads in the shell without a word, and names the command."""
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} isn't installed")
    done = typed(env={"_DRAPETEMPLATE_COMPLETE": f"source_{shell}"})
    assert done.returncode == 0
    source = done.stdout.decode()
    assert "drapetemplate" in source
    script = tmp_path / "script"
    script.write_text(source)
    load = {
        "bash": ["bash", "--norc", "-c", f"source {script} && complete -p drapetemplate"],
        "zsh": [
            "zsh",
            "-fc",
            (
                f"autoload -U compinit && compinit -u -d {tmp_path / 'dump'} && source {script} "
                "&& print -r -- $_comps[drapetemplate]"
            ),
        ],
    }[shell]
    loaded = subprocess.run(load, capture_output=True, text=True, check=False)
    assert (loaded.returncode, loaded.stderr) == (0, "")
    assert "drapetemplate" in loaded.stdout
