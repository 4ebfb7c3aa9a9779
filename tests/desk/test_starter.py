"""The starter on the desktop: read as its system does, not as it is written, and run."""

from __future__ import annotations

import os
import shlex
import shutil
import signal
import subprocess
import sys
from configparser import RawConfigParser
from pathlib import Path

import pytest

from drapetemplate.cli.commands.desk import serve_desk
from drapetemplate.desk import server, starter
from drapetemplate.desk.starter import batch_file, desktop_entry, shell_script
from drapetemplate.errors import FileError
from tests.helpers.commands import run
from tests.helpers.desk_server import PATIENCE, running, until
from tests.helpers.jobfiles import LEAST

ODD = """ it's "50 %" & 100%U of $HOME `x` \\n Ωμέγα; ~"""
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="names that Windows doesn't take")


def entry(text: str) -> dict[str, str]:
    """The values of a desktop entry, as its specification has them read: escapes first."""
    reader = RawConfigParser(delimiters=("=",), comment_prefixes=("#",), strict=True)
    reader.optionxform = str  # type: ignore[method-assign,assignment]
    # Only what stands behind the = is the value, whitespace around it aside.
    reader.read_string(text)
    assert reader.sections() == ["Desktop Entry"]
    return {key: _unescaped(value) for key, value in reader["Desktop Entry"].items()}


def _unescaped(value: str) -> str:
    meant, rest = "", value
    while rest:
        char, rest = rest[0], rest[1:]
        if char == "\\":
            char, rest = {"s": " ", "n": "\n", "t": "\t", "r": "\r", "\\": "\\"}[rest[0]], rest[1:]
        meant += char
    return meant


def words(exec_line: str) -> list[str]:
    """A command's words: parted by spaces, or in quotes with backslash escapes; %% is a %."""
    found, rest = [], exec_line
    while rest := rest.lstrip(" "):
        word = ""
        assert rest[0] == '"', "a word with a reserved character stands in quotes"
        rest = rest[1:]
        while rest[0] != '"':
            if rest[0] == "\\":
                assert rest[1] in '"`$\\'
                rest = rest[1:]
            elif rest[0] == "%":
                assert rest[1] == "%", "a field code, which would be filled in"
                rest = rest[1:]
            else:
                assert rest[0] not in '"`$', "to be escaped inside quotes"
            word += rest[0]
            rest = rest[1:]
        rest = rest[1:]
        found.append(word)
    return found


@pytest.fixture
def odd(tmp_path: Path) -> Path:
    """A folder whose name has all that any of these languages takes for its own."""
    folder = tmp_path / ODD
    folder.mkdir()
    return folder


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home with a desktop under a name of its language."""
    home = tmp_path / "home"
    (home / "Werk bank ü").mkdir(parents=True)
    (home / ".config").mkdir()
    (home / ".config" / "user-dirs.dirs").write_text(
        '# made by a program\nXDG_MUSIC_DIR="$HOME/"\nXDG_DESKTOP_DIR="$HOME/Werk bank ü"\n'
    )
    for name in ("XDG_CONFIG_HOME", "XDG_DESKTOP_DIR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("HOME", str(home))
    return home


def _noting(folder: Path) -> Path:
    """A program, in a folder of any name, that notes where it was run and with what words."""
    program = folder / "python"
    noted = folder.parent / "noted"
    program.write_text(
        f'#!/bin/sh\nprintf "%s\\0" "$PWD" "$@" >{shlex.quote(str(noted))}.part\n'
        f"mv {shlex.quote(str(noted))}.part {shlex.quote(str(noted))}\n"
    )
    program.chmod(0o755)
    return program


def _noted(folder: Path) -> list[str]:
    until((folder.parent / "noted").exists)
    return (folder.parent / "noted").read_text().split("\0")[:-1]


@pytest.mark.skipif(sys.platform != "linux", reason="this system has no desktop entries")
def test_it_starts_the_desk(home: Path, odd: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pressed, it runs this very Python in the folder of the jobs, in a terminal."""
    python = odd / "python"
    real = shlex.quote(sys.executable)
    python.write_text(f'#!/bin/sh\necho $$ >../number\nexec {real} "$@"\n')
    python.chmod(0o755)
    monkeypatch.setattr(sys, "executable", str(python))
    (odd / "bay.toml").write_text(LEAST)
    monkeypatch.chdir(odd)
    written, hint = starter.write_starter(Path("bay.toml"))
    assert written == home / "Werk bank ü" / "Drapetemplate desk.desktop"
    assert os.access(written, os.X_OK)
    assert "allow launching" in hint
    read = entry(written.read_text(encoding="utf-8"))
    assert (read["Type"], read["Terminal"]) == ("Application", "true")
    assert read["Path"] == str(odd)
    assert Path(read["Icon"]).is_file()
    *program, word, job = words(read["Exec"])
    assert (str(python) in program, word, job) == (True, "desk", "bay.toml")
    with running(Path(read["Path"]), job, "--no-open", program=program) as pressed:
        assert pressed.start()["file"] == "bay.toml"
        os.kill(int((odd.parent / "number").read_text()), signal.SIGINT)
        assert pressed.process.wait(PATIENCE) == 0


@pytest.mark.skipif(shutil.which("gio") is None, reason="no gio here")
def test_gio_reads_it_so_too(odd: Path, tmp_path: Path) -> None:
    """Another reader of desktop entries runs the same words in the same folder."""
    command = [str(_noting(odd)), "-P", "a b", "it's", '50 % "off"', "$5", "back\\slash", "`", "λ"]
    # Its terminal would be looked for among those that are installed here.
    text = desktop_entry(command, str(odd)).text.replace("Terminal=true", "Terminal=false")
    (tmp_path / "a.desktop").write_text(text, encoding="utf-8")
    subprocess.run(["gio", "launch", tmp_path / "a.desktop"], check=True, timeout=60)
    assert _noted(odd) == [str(odd), *command[1:]]


def test_a_shell_runs_the_one_for_macos(odd: Path, tmp_path: Path) -> None:
    """It is a script that any shell reads, whatever the names in it."""
    command = [str(_noting(odd)), "-P", "a b", "it's", '50 % "off"', "$5", "back\\slash", "`", "λ"]
    made = shell_script(command, str(odd))
    assert made.file_name == "Drapetemplate desk.command"
    script = tmp_path / made.file_name
    script.write_text(made.text)
    script.chmod(0o755)
    subprocess.run([script], check=True)
    assert _noted(odd) == [str(odd), *command[1:]]


def test_the_one_for_windows() -> None:
    """By hand: no % is a variable's, the folder may be on another drive, Greek is read as UTF-8."""
    made = batch_file([r"C:\50%\python.exe", "-m", "drapetemplate", "desk"], r"D:\Ωμέγα & co")
    assert made.file_name == "Drapetemplate desk.cmd"
    assert made.text.split("\r\n") == [
        "@echo off",
        "chcp 65001 >nul",
        'cd /d "D:\\Ωμέγα & co"',
        '"C:\\50%%\\python.exe" "-m" "drapetemplate" "desk" || pause',
        "",
    ]


@pytest.mark.skipif(sys.platform != "linux", reason="this system has its own desktop")
def test_as_a_command(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It says what it wrote and how to be rid of it; twice is once; another's file stays."""
    monkeypatch.chdir(tmp_path)
    put = run("desk", "--starter")
    path = home / "Werk bank ü" / "Drapetemplate desk.desktop"
    assert (put.exit_code, put.stderr) == (0, "")
    assert put.stdout == (
        f"Written: {path}\nIt starts the desk for the folder {tmp_path}. To be rid of it, delete "
        "that file.\nWhere it doesn't start, press it with the right button and allow launching.\n"
    )
    before = path.read_bytes()
    assert run("desk", "--starter").exit_code == 0
    other = run("desk", home, "--starter")
    assert (other.exit_code, other.stdout) == (2, "")
    assert other.stderr == (
        f"{path}: is there already, and starts something else: remove or rename it first\n"
    )
    assert path.read_bytes() == before
    missing = run("desk", "none.toml", "--starter")
    assert (missing.exit_code, missing.stderr[:9]) == (2, "none.toml")


@pytest.mark.skipif(sys.platform != "linux", reason="this system has its own desktop")
@pytest.mark.parametrize("where", ["Desk", "."])
def test_without_a_desktop(tmp_path: Path, home: Path, where: str) -> None:
    """One that isn't there, or was turned off, which the home folder stands for, is told."""
    (home / ".config" / "user-dirs.dirs").write_text(f'XDG_DESKTOP_DIR="$HOME/{where}"\n')
    assert not starter.starter_is_missing()
    with pytest.raises(FileError, match="is no folder of a desktop"):
        starter.write_starter(tmp_path)
    assert sorted(path.name for path in home.iterdir()) == [".config", "Werk bank ü"]


def test_a_name_that_no_starter_can_hold(home: Path, tmp_path: Path) -> None:
    """A line feed in a folder's name would end the line that holds it."""
    folder = tmp_path / "two\nlines"
    folder.mkdir()
    with pytest.raises(FileError, match="can't be in a starter: rename it"):
        starter.write_starter(folder)
    assert list((home / "Werk bank ü").iterdir()) == []


@pytest.mark.skipif(sys.platform != "linux", reason="this system has its own desktop")
def test_the_desk_says_how(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In its terminal, as long as there is no starter."""
    monkeypatch.setattr(server, "serve", lambda _job, say, _show: say("http://127.0.0.1:1/#key"))
    how = "To start it from your desktop: drapetemplate desk --starter"
    for there in (False, True):
        said: list[str] = []
        serve_desk(tmp_path, said.append, None)
        assert said[0] == "The desk is at http://127.0.0.1:1/#key"
        assert (how in said) is not there
        (home / "Werk bank ü" / "Drapetemplate desk.desktop").touch()
