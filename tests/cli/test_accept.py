"""make --accept, as a user types it: a stop is made only where somebody takes it on."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pdfplumber
import pytest

from drapetemplate.planning.codes import STOP_CODES
from tests.helpers.commands import STARTS, Start, refused, run
from tests.helpers.jobfiles import NEAR, USUAL, written


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job of two windows."""
    return written(tmp_path, f'name = "East"\n{USUAL}', 'name = "West"\nwidth = 90\nlength = 84')


def words_of(pdf: Path) -> str:
    """All text of a PDF, its lines joined."""
    with pdfplumber.open(pdf) as opened:
        return " ".join((page.extract_text() or "").replace("\n", " ") for page in opened.pages)


ODD = f"{USUAL}\ncount = 7"


def test_make_with_a_stop(tmp_path: Path) -> None:
    """A stop that nobody accepts: exit 1, the finding on standard error, and no PDF."""
    path, target = written(tmp_path, ODD), tmp_path / "made.pdf"
    result = run("make", path, "--out", target)
    assert (result.exit_code, result.stdout) == (1, "")
    first = result.stderr.splitlines()[0]
    assert first.startswith(f"{path}: stop: odd-count: 7 eyelets would turn")
    assert not target.exists()


def test_make_with_a_stop_accepted(tmp_path: Path) -> None:
    """An accepted stop is made, still told, and the ticket has it to be signed for."""
    path, target = written(tmp_path, ODD), tmp_path / "made.pdf"
    result = run("make", path, "--out", target, "--accept", "odd-count")
    assert result.exit_code == 0
    assert "stop: odd-count" in result.stderr
    words = words_of(target)
    assert "ACCEPTED all the same (odd-count) by:" in words
    assert "STOP 7 eyelets would turn one end of the panel to the wall" in words


def test_make_without_a_stop_accepts_nothing(job: Path, tmp_path: Path) -> None:
    """Accepting what doesn't occur puts nothing on the ticket, nor into the PDF's settings."""
    target = tmp_path / "made.pdf"
    assert run("make", job, "--out", target, "--accept", "odd-count").exit_code == 0
    assert "ACCEPTED" not in words_of(target)
    plain = tmp_path / "plain.pdf"
    assert run("make", job, "--out", plain).exit_code == 0
    assert target.read_bytes() == plain.read_bytes()


def test_make_accepts_only_what_is_named(tmp_path: Path) -> None:
    """With two stops both must be named; one named alone makes nothing."""
    path, target = written(tmp_path, ODD, tables=NEAR), tmp_path / "made.pdf"
    for code in ("odd-count", "back-fold-hits-wall"):
        assert run("make", path, "--out", target, "--accept", code).exit_code == 1
        assert not target.exists()
    both = ["--accept", "odd-count", "--accept", "back-fold-hits-wall"]
    assert run("make", path, "--out", target, *both).exit_code == 0
    # Whoever signs takes on the stop right above the line, under that stop's own name.
    signed = words_of(target).split("ACCEPTED all the same ")
    assert [part.split(" by:")[0] for part in signed[1:]] == [
        "(odd-count)",
        "(back-fold-hits-wall)",
    ]
    assert "7 eyelets would turn" in signed[0].rpartition("STOP ")[2]
    assert "back folds reach" in signed[1].rpartition("STOP ")[2]


AGAIN = "to make it all the same: "


def typed_again(stderr: str) -> list[str]:
    """The words of the command that the last line says, as a shell reads them."""
    last = stderr.splitlines()[-1]
    assert last.startswith(AGAIN)
    assert stderr.count(AGAIN) == 1
    read = ["bash", "-c", f"printf '%s\\0' {last.removeprefix(AGAIN)}"]
    done = subprocess.run(read, capture_output=True, text=True, check=True)
    return done.stdout.split("\0")[:-1]


def test_what_to_type(tmp_path: Path) -> None:
    """After its stops the whole command is said once; typed as it is, it makes the PDF."""
    folder = tmp_path / "Heron Point's jobs; $(touch ran)"
    folder.mkdir()
    path, target = written(folder, ODD, tables=NEAR), folder / "made here.pdf"
    options = ["--out", target, "--window", "Window 1", "--accept", "odd-count"]
    result = run("make", path, *options)
    assert result.exit_code == 1
    name, *words = typed_again(result.stderr)
    assert name == "drapetemplate"
    accepted = ["--accept", "odd-count", "--accept", "back-fold-hits-wall"]
    assert words == ["make", str(path), *map(str, options[:4]), *accepted]
    again = run(*words)
    assert (again.exit_code, AGAIN in again.stderr) == (0, False)
    assert target.exists()


def test_what_to_type_for_several(tmp_path: Path) -> None:
    """Of several jobs the command has those that were stopped, and all their codes."""
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    good = written(tmp_path, USUAL)
    odd, near = written(tmp_path / "a", ODD), written(tmp_path / "b", ODD, tables=NEAR)
    out = tmp_path / "{file} of {number}"
    for path, number in ((odd, "1"), (near, "2"), (good, "3")):
        text = path.read_text(encoding="utf-8").replace("[job]", f"[job]\nnumber = {number}")
        path.write_text(text, encoding="utf-8")
    result = run("make", odd, good, near, "--out", out)
    assert result.exit_code == 1
    words = typed_again(result.stderr)[1:]
    codes = ["--accept", "odd-count", "--accept", "back-fold-hits-wall"]
    assert words == ["make", str(odd), str(near), "--out", str(out), *codes]
    assert run(*words).exit_code == 0
    assert len(list(tmp_path.glob("*.pdf"))) == 3


@pytest.mark.parametrize("start", STARTS)
def test_what_to_type_of_an_odd_name(tmp_path: Path, start: Start) -> None:
    """A job file that begins with a dash stands after --; one with a newline isn't typed."""
    for name in ("-odd.toml", "odd\n.toml"):
        written(tmp_path, ODD).rename(tmp_path / name)
    done = start("make", "--", "-odd.toml", cwd=tmp_path)
    words = typed_again(done.stderr.decode())[1:]
    assert words == ["make", "--accept", "odd-count", "--", "-odd.toml"]
    done = start("make", "odd\n.toml", cwd=tmp_path)
    last = done.stderr.decode().splitlines()[-1]
    assert last == "to make it all the same, add: --accept odd-count"


@pytest.mark.parametrize("code", ["odd", "tight-turn", ""])
def test_make_with_an_unknown_code(tmp_path: Path, code: str) -> None:
    """A code that no stop has is refused in one line that names those there are."""
    path, target = written(tmp_path, ODD), tmp_path / "made.pdf"
    result = run("make", path, "--out", target, "--accept", code)
    refused(result, f'no stop is called "{code}": ')
    assert all(known in result.stderr for known in STOP_CODES)
    assert not target.exists()


@pytest.mark.parametrize("start", STARTS)
def test_as_a_user(job: Path, tmp_path: Path, start: Start) -> None:
    """From a shell a code that no stop has is an error on a line, never a traceback."""
    done = start("make", job.name, "--accept", "none", cwd=tmp_path)
    assert (done.returncode, done.stdout, len(done.stderr.splitlines())) == (2, b"", 1)
