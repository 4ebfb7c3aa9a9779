"""make and plan as a user types them: exit codes, one line a fault, and nothing half written."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import pdfplumber
import pytest

import drapetemplate
from drapetemplate import __version__
from tests.helpers.commands import STARTS, TOOL, Start, run, typed
from tests.helpers.jobfiles import job_toml


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


def test_processes_run_this_checkout(tmp_path: Path) -> None:
    """A process that a test starts has the package that the tests have, wherever it is started."""
    code = "import drapetemplate; print(drapetemplate.__file__)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout == f"{drapetemplate.__file__}\n"


def test_desk_opens_nothing_where_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The desk is shown in a browser, or with --no-open isn't; its job is the one named."""
    served: list[tuple[Path | None, bool]] = []
    monkeypatch.setattr(
        "drapetemplate.cli.commands.desk.serve_desk",
        lambda path, _say, show: served.append((path, show is not None)),
    )
    job = tmp_path / "linen_store.toml"
    for words in ([], [job], [job, "--no-open"]):
        assert run("desk", *words).exit_code == 0
    assert served == [(None, True), (job, True), (job, False)]


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


def test_no_folder_for_nothing(job: Path, tmp_path: Path) -> None:
    """Where nothing can be made no folder is made for it."""
    out = tmp_path / "new" / "{name}.pdf"
    done = run("make", job, "--out", out, "--printer", "not calibrated")
    assert done.exit_code == 2
    assert not (tmp_path / "new").exists()


def test_odd_count_stops(odd: Path, tmp_path: Path) -> None:
    """A stop finding ends with 1, one line that names both even counts, and no PDF."""
    result = run("make", odd, "--out", tmp_path / "odd.pdf")
    assert result.exit_code == 1
    line, _ = result.stderr.splitlines()  # and what to type to make it all the same
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
    # With several jobs each line says whose it is.
    starts = (
        f"{bad}, line 11: window[1].widht: ",
        f"{odd}: stop: odd-count: ",
        "to make it all the same: drapetemplate make ",
    )
    said = result.stderr.splitlines()
    assert all(x.startswith(s) for x, s in zip(said, starts, strict=True))
    assert [path.name for path in out.iterdir()] == ["linen_store.pdf"]


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


@pytest.mark.parametrize("start", STARTS)
def test_terminal_escapes_never_get_through(tmp_path: Path, start: Start) -> None:
    """Control characters of any field reach neither output."""
    text = job_toml('name = "a\\u001b[31mb\\u202ec"\nwidth = 40\ncount = 7')
    path = written(tmp_path / "job.toml", text.replace("Heron", "\\u001b]0;x\\u0007Heron"))
    for command in ("plan", "make"):
        done = start(command, path, cwd=tmp_path)
        assert done.returncode == 1
        assert not {0x1B, 0x07} & set(done.stdout + done.stderr)
        assert "\u202e" not in (done.stdout + done.stderr).decode()


def test_closed_pipe(job: Path) -> None:
    """A reader that stops early brings no traceback."""
    command = f'"{sys.executable}" -m drapetemplate plan "{job}" | head -1'
    done = subprocess.run(["bash", "-c", command], capture_output=True, check=False)
    assert done.stdout.decode() == "Heron Point, linen store\n"
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize(
    "words",
    [
        [],
        ["nothing"],
        ["make"],
        ["plan"],
        ["plan", "a.toml", "b.toml"],
        ["make", "a.toml", "--out"],
        ["plan", "a.toml", "--loud"],
        ["make", "a.toml", "--accept", "narrow-gap"],
    ],
)
def test_command_line_that_cant_be_read(tmp_path: Path, words: list[str], start: Start) -> None:
    """What can't be a command ends with 2, says something, and is no traceback."""
    done = start(*words, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr + done.stdout
    assert b"Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_stops_are_said_first(tmp_path: Path) -> None:
    """Of several findings the stop comes first, each on a line of its own."""
    window = "width = 26\ncount = 9\nreturn = 1"  # (26 - 2 1/2 - 18)/8: under an inch apart
    path = written(tmp_path / "job.toml", job_toml(window))
    levels = [line.split(": ")[1] for line in run("make", path).stderr.splitlines()]
    assert levels[:2] == ["stop", "warn"]


def test_stop_stops_no_other_job(job: Path, odd: Path, tmp_path: Path) -> None:
    """A stop with jobs that can be made ends with 1, and the others are made."""
    result = run("make", odd, job, "--out", tmp_path)
    assert result.exit_code == 1
    assert [path.name for path in tmp_path.glob("*.pdf")] == ["linen_store.pdf"]


def test_old_pdf_outlives_a_stop(odd: Path, tmp_path: Path) -> None:
    """A PDF of before isn't touched when the job of now can't be made."""
    old = written(tmp_path / "odd.pdf", "old")
    assert run("make", odd, "--out", tmp_path).exit_code == 1
    assert old.read_text() == "old"


def test_several_jobs_into_no_folder(job: Path, odd: Path, tmp_path: Path) -> None:
    """Several jobs want a folder that is there; one file for all is refused."""
    for out in ("no", "one.pdf"):
        result = run("make", job, odd, "--out", tmp_path / out)
        assert result.exit_code == 2
        said = "for several jobs, name a folder that is there, or put {name} or {file} in it\n"
        assert result.stderr == f"{tmp_path / out}: {said}"
    assert list(tmp_path.glob("*.pdf")) == []


def test_job_named_twice(job: Path, tmp_path: Path) -> None:
    """The same job twice is told once, and not made."""
    result = run("make", job, job, "--out", tmp_path)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert list(tmp_path.glob("*.pdf")) == []


@pytest.mark.parametrize("start", STARTS)
def test_job_with_the_pdfs_own_name(tmp_path: Path, start: Start) -> None:
    """A job file that is called as its PDF would be isn't replaced by it."""
    path = written(tmp_path / "store.pdf", job_toml("width = 40"))
    before = path.read_bytes()
    done = start("make", "store.pdf", cwd=tmp_path)
    assert done.returncode == 2
    assert path.read_bytes() == before


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("out", ["a" * 300, "loop", "pipe/x.pdf"])
def test_targets_nobody_can_write(job: Path, tmp_path: Path, out: str, start: Start) -> None:
    """A name too long, a link to itself and a file for a folder are a line each, at most."""
    (tmp_path / "loop").symlink_to("loop")
    written(tmp_path / "pipe", "no folder")
    done = start("make", job, "--out", tmp_path / out, cwd=tmp_path)
    assert b"Traceback" not in done.stderr
    if out != "loop":  # a rename replaces the link
        assert done.returncode == 2
        assert len(done.stderr.splitlines()) == 1
        assert done.stderr.decode().startswith(f"{tmp_path / out}: can't be written: ")


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("command", ["make", "plan"])
def test_job_that_links_to_itself(tmp_path: Path, command: str, start: Start) -> None:
    """A link that leads to itself is a job that can't be read."""
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    done = start(command, "loop.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith(b"loop.toml: can't be read: ")
    assert len(done.stderr.splitlines()) == 1


def test_device_is_not_replaced(job: Path, tmp_path: Path) -> None:
    """--out names a pipe: it stays one."""
    os.mkfifo(tmp_path / "pipe")
    result = run("make", job, "--out", tmp_path / "pipe")
    assert result.exit_code == 2
    assert (tmp_path / "pipe").is_fifo()


@pytest.mark.parametrize("words", [["plan"], ["plan", "--json"], ["make", "--out", "x.pdf"]])
def test_full_disk(job: Path, tmp_path: Path, words: list[str]) -> None:
    """Standard output that can't be written to is one line, and no traceback."""
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("this system has no /dev/full")
    command = [*TOOL, words[0], str(job), *words[1:]]
    with full.open("wb") as out:
        done = subprocess.run(command, cwd=tmp_path, stdout=out, stderr=-1, check=False)
    assert done.returncode == 2
    assert done.stderr == b"standard output: can't be written: no space left on device\n"


@pytest.mark.parametrize("words", [["plan"], ["plan", "--json"], ["make", "--out", "x.pdf"]])
def test_no_standard_output(job: Path, tmp_path: Path, words: list[str]) -> None:
    """A closed standard output, as a service may have, is no fault."""
    command = f'"{sys.executable}" -m drapetemplate {words[0]} "{job}" {" ".join(words[1:])} >&-'
    done = subprocess.run(["bash", "-c", command], cwd=tmp_path, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def test_reader_that_reads_nothing(job: Path) -> None:
    """A reader that goes at once brings no traceback either, long JSON or not."""
    command = f'"{sys.executable}" -m drapetemplate plan --json "{job}" | true'
    done = subprocess.run(["bash", "-c", command], capture_output=True, check=False)
    assert (done.stdout, done.stderr) == (b"", b"")


def _reader_of(pipe: Path) -> int:
    """A pipe's writing end, once somebody has it open to read."""
    for _ in range(600):
        with suppress(OSError):
            return os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
        time.sleep(0.05)
    pytest.fail("nobody reads")


def _interrupted(running: subprocess.Popen[bytes]) -> tuple[bytes, bytes]:
    """What a program says when it is interrupted.

    One just before it begins to wait is seen only once the wait is over, so it comes again.
    """
    for _ in range(30):
        running.send_signal(signal.SIGINT)
        with suppress(subprocess.TimeoutExpired):
            return running.communicate(timeout=2)
    pytest.fail("it doesn't end")


def test_interrupt_while_reading(tmp_path: Path) -> None:
    """Ctrl-C ends the tool without a word, a traceback or a file."""
    pipe = tmp_path / "job.toml"
    os.mkfifo(pipe)
    command = [*TOOL, "make", "job.toml"]
    with subprocess.Popen(command, cwd=tmp_path, stdout=-1, stderr=-1) as running:
        try:
            end = _reader_of(pipe)
            said = _interrupted(running)
            os.close(end)
        finally:
            running.kill()
    assert said == (b"", b"")
    assert running.returncode != 0
    assert [pipe] == list(tmp_path.iterdir())


def test_interrupt_while_writing(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C in the middle of writing leaves the old PDF, and no part of the new one."""
    old = written(tmp_path / "linen_store.pdf", "old")

    def interrupted(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    result = run("make", job, "--out", tmp_path)
    monkeypatch.undo()
    assert result.exit_code != 0
    assert old.read_text() == "old"
    assert sorted([job, old]) == sorted(tmp_path.iterdir())


@pytest.mark.parametrize("start", STARTS)
def test_path_with_control_characters(tmp_path: Path, start: Start) -> None:
    """Control characters and line breaks in a path don't reach a terminal, nor break a line."""
    done = start("plan", "a\x1b[31m\nb.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr.decode() == "a\ufffd[31m b.toml: can't be read: no such file or directory\n"


@pytest.mark.parametrize("env", [{"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}])
def test_poor_terminals_get_errors_too(tmp_path: Path, env: dict[str, str]) -> None:
    """An error about what a terminal can't show is still one line; a stop has what to type too."""
    name = "\u7a93.toml"
    written(tmp_path / name, job_toml("width = 60\ncount = 7"))
    for words in (["make", name], ["plan", "no" + name], ["plan", name]):
        done = typed(*words, cwd=tmp_path, env=env)
        assert done.returncode in {1, 2}
        assert b"Traceback" not in done.stderr
        lines = {"make": 2, "plan": 0 if words[1] == name else 1}
        assert len(done.stderr.splitlines()) == lines[words[0]]
