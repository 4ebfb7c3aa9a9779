"""Faults of a job file as the commands tell them: file, line and key, all at once, in order."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers.commands import refused, run
from tests.helpers.jobfiles import job_toml


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("[[[[", [", line 1: [[[[: "]),
        ("units = 'furlong'\n", [": job.name: ", ": window: missing", ", line 1: units: "]),
        (
            job_toml("width = 40\nwidthh = 2\ncount = 'x'"),
            [", line 12: window[1].widthh", ", line 13: window[1].count"],
        ),
        (
            job_toml("width = 10\ncount = 30"),
            [", line 12: window[1].count: 30 eyelets of 2 in don't fit"],
        ),
        (
            job_toml("width = 40", tables="[paper]\nmargin = 4"),
            [", line 10: paper.margin: 4 in leaves"],
        ),
        (
            job_toml("width = 40", tables='[paper]\nsize = "24 in roll"\norientation = "portrait"'),
            [", line 11: paper.orientation: "],
        ),
    ],
)
def test_faults_are_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, lines: list[str]
) -> None:
    """Each fault is a line on standard error with file, line and key, in order; the code is 2."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_text(text, encoding="utf-8")
    done = run("make", "job.toml")
    said = done.stderr.splitlines()
    assert (done.exit_code, done.stdout) == (2, "")
    assert all(line.startswith(f"job.toml{start}") for line, start in zip(said, lines, strict=True))
    assert not (tmp_path / "job.pdf").exists()


@pytest.mark.parametrize(
    "words", [["make"], ["plan"], ["plan", "--json"], ["compare"], ["picture", "--out", "a.svg"]]
)
@pytest.mark.parametrize(
    ("text", "told"),
    [
        (job_toml("width = 4"), "line 11: window[1].width: 2 eyelets of 2 in"),
        (job_toml("width = 40,5"), "line 11: width = 40,5: goes on"),
        (job_toml("covers = 40"), "line 11: window[1].covers: 40 in settles"),
    ],
)
def test_every_command_tells_the_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], text: str, told: str
) -> None:
    """Whatever the command, a fault is one line with file, line and key, and nothing is written."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_text(text, encoding="utf-8")
    done = run(words[0], "job.toml", *words[1:])
    assert (done.exit_code, done.stdout) == (2, "")
    [line] = done.stderr.splitlines()
    assert line.startswith(f"job.toml, {told}")
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.parametrize("size", [10, 2_000_000])
@pytest.mark.parametrize(
    "words",
    [
        ["make"],
        ["plan"],
        ["compare"],
        ["picture", "--out", "a.svg"],
        ["cutfile", "--out", "a.dxf"],
    ],
)
def test_a_pdf_is_told_what_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], size: int
) -> None:
    """A PDF given as the job, however large, is told so, and how its job file is had."""
    monkeypatch.chdir(tmp_path)
    Path("job.pdf").write_bytes(b"%PDF-1.7\n" + b"\xe2" * size)
    done = run(words[0], "job.pdf", *words[1:])
    refused(done, "job.pdf: a PDF, no job file: drapetemplate recall takes the job file out of")
    assert [path.name for path in tmp_path.iterdir()] == ["job.pdf"]
