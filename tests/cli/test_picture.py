"""The command picture, as a user types it."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from pypdf import PdfReader

from tests.helpers.commands import STARTS, Start, refused, run
from tests.helpers.jobfiles import USUAL, written


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job of two windows."""
    return written(tmp_path, f'name = "East"\n{USUAL}', 'name = "West"\nwidth = 90\nlength = 84')


def test_picture_svg(job: Path, tmp_path: Path) -> None:
    """A picture as SVG: well formed, of this job, with both windows."""
    target = tmp_path / "panel.svg"
    result = run("picture", job, "--out", target)
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"{target}\n", "")
    root = ET.fromstring(target.read_bytes())  # noqa: S314  # our own file
    words = [element.text for element in root.iter() if element.text]
    assert {"East", "West"} <= set(words)


def test_picture_of_one_window(job: Path, tmp_path: Path) -> None:
    """--window draws that window alone; a name that the job hasn't is refused."""
    target = tmp_path / "west.svg"
    assert run("picture", job, "--window", "West", "--out", target).exit_code == 0
    words = target.read_text(encoding="utf-8")
    assert "West" in words
    assert "East" not in words
    refused(run("picture", job, "--window", "North", "--out", target), '--window: "North"')


def test_pictures_of_many_windows(tmp_path: Path) -> None:
    """Windows that don't fit one picture have one each, numbered, and nothing else is written."""
    windows = [f'name = "Bay {n}"\n{USUAL}' for n in range(1, 41)]
    job, target = written(tmp_path, *windows), tmp_path / "bays" / "panel.svg"
    target.parent.mkdir()
    (target.parent / "panel-07.svg").write_text("an older one", encoding="utf-8")
    result = run("picture", job, "--out", target)
    made = [target.parent / f"panel-{n:02}.svg" for n in range(1, 41)]
    lines = [f"{path}: Bay {n}" for n, path in enumerate(made, 1)]
    assert (result.exit_code, result.stdout.splitlines(), result.stderr) == (0, lines, "")
    assert sorted(target.parent.iterdir()) == made
    for n, path in enumerate(made, 1):
        root = ET.fromstring(path.read_bytes())  # noqa: S314  # our own file
        words = [element.text for element in root.iter()]
        assert [word for word in words if word and word.startswith("Bay ")] == [f"Bay {n}"]


def test_picture_png(job: Path, tmp_path: Path) -> None:
    """A picture as PNG, whatever the case of its suffix."""
    target = tmp_path / "panel.PNG"
    assert run("picture", job, "--out", target).exit_code == 0
    assert target.read_bytes().startswith(b"\x89PNG\r\n\x1a\n")


@pytest.mark.parametrize("name", ["panel.pdf", "panel", "panel.svg.gz", "png"])
def test_picture_of_another_kind(job: Path, tmp_path: Path, name: str) -> None:
    """Another suffix is refused in one line that names the two, and no file is made."""
    target = tmp_path / name
    refused(run("picture", job, "--out", target), "name a file that ends in .png or .svg")
    assert not target.exists()


def test_picture_of_odd_words(tmp_path: Path) -> None:
    """Markup and control characters in a job's words leave the SVG well formed."""
    path = written(tmp_path, f'name = "<b>&\\u0007 North"\n{USUAL}')
    text = path.read_text(encoding="utf-8").replace("linen store", "linen\\u0008 store <i>")
    path.write_text(text, encoding="utf-8")
    target = tmp_path / "panel.svg"
    result = run("picture", path, "--out", target)
    assert result.exit_code == 0
    root = ET.fromstring(target.read_bytes())  # noqa: S314  # our own file
    words = [element.text for element in root.iter()]
    assert "Heron Point, linen\N{REPLACEMENT CHARACTER} store <i>" in words
    assert "<b>&\N{REPLACEMENT CHARACTER} North" in words


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize(("out", "code", "errors"), [("panel.svg", 0, 0), ("panel.jpg", 2, 1)])
def test_as_a_user(
    job: Path, tmp_path: Path, out: str, code: int, errors: int, start: Start
) -> None:
    """From a shell: the exit code, and an error on a line, never a traceback."""
    done = start("picture", job.name, "--out", out, cwd=tmp_path)
    assert (done.returncode, len(done.stderr.splitlines())) == (code, errors)
    assert bool(done.stdout) == (code == 0)


def test_picture_of_a_bad_job(tmp_path: Path) -> None:
    """A job that can't be planned is refused as by every command."""
    path = written(tmp_path, "width = 4")
    refused(run("picture", path, "--out", tmp_path / "a.svg"), "window[1].width: ")


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_approval(job: Path, tmp_path: Path, ending: str) -> None:
    """The client's page, which the job's PDF hasn't, may be a PDF of its own."""
    target = tmp_path / f"approval.{ending}"
    result = run("picture", job, "--page", "approval", "--out", target)
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"{target}\n", "")
    assert target.read_bytes()[:5] in {b"<?xml", b"<svg ", b"\x89PNG\r", b"%PDF-"}
    refused(
        run("picture", job, "--out", tmp_path / "panel.pdf"),
        "name a file that ends in .png or .svg",
    )


def test_approval_of_many_windows(tmp_path: Path) -> None:
    """Pages are numbered files as pictures; a PDF holds them all."""
    windows = [f'name = "Bay {n}"\nwidth = {60 + n}\nlength = 84' for n in range(1, 8)]
    job, target = written(tmp_path, *windows), tmp_path / "approval.svg"
    result = run("picture", job, "--page", "approval", "--out", target)
    lines = result.stdout.splitlines()
    assert lines[0] == f"{tmp_path / 'approval-1.svg'}: approval 1"
    assert len(lines) > 1
    whole = tmp_path / "approval.pdf"
    assert run("picture", job, "--page", "approval", "--out", whole).exit_code == 0
    assert len(PdfReader(whole).pages) == len(lines)
