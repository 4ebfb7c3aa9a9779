"""The interview's terminal: where its job file goes, and that no other file knows a terminal."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import drapetemplate.interview
from drapetemplate.errors import FileError
from drapetemplate.interview.new_file import new_job_file, proposed_job_file

TERMINALS_OWN = {"sys", "shutil", "signal", "drapetemplate.report.screen", "input", "print"}
"""Modules and functions that only a terminal is spoken to with."""


def _used(source: str) -> set[str]:
    """Every module that a source imports from, and every plain name in it."""
    used = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            used |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            used.add(str(node.module))
        elif isinstance(node, ast.Name):
            used.add(node.id)
    return used


def test_one_file_knows_the_terminal() -> None:
    """A page can ask the same questions: only terminal.py reads lines, prints or has signals."""
    folder = Path(drapetemplate.interview.__file__).parent
    sources = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.py")}
    assert len(sources) > 5
    knowing = {name for name, source in sources.items() if _used(source) & TERMINALS_OWN}
    assert knowing == {"terminal.py"}
    others = {name for name, source in sources.items() if "interview.terminal" in source}
    assert others == set()


def test_target() -> None:
    """A name without .toml gets it, whatever points it has."""
    assert new_job_file(Path("room 1.5")) == Path("room 1.5.toml")
    assert new_job_file(Path("room.TOML")) == Path("room.TOML")
    with pytest.raises(FileError, match="its folder isn't there"):
        new_job_file(Path(f"{'x' * 300}/room.toml"))


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Heron Point, writing room", "heron_point_writing_room.toml"),
        ("../..//", "job.toml"),
        ("Éire № 5", "éire_5.toml"),
        ("con", "con.toml"),
        ("x" * 300, f"{'x' * 60}.toml"),
    ],
)
def test_proposed(tmp_path: Path, name: str, file: str) -> None:
    """A proposed name is plain, and never leaves its folder."""
    assert proposed_job_file(name, tmp_path) == tmp_path / file
