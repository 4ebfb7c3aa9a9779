"""What goes wrong around the tool: full disks, kills, wrong clocks, poor locales, runs at once."""

from __future__ import annotations

import json
import os
import resource
import signal
import subprocess
import sys
import time
import warnings
from collections.abc import Callable
from itertools import count
from pathlib import Path
from types import FrameType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import files
from drapetemplate.errors import FileError
from drapetemplate.job import factors
from drapetemplate.printers import store
from tests.helpers.commands import STARTS, TOOL, Start, forked, run, typed
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made
from tests.helpers.searching import searched
from tests.hostile.bounded import ended

JOB = job_toml("width = 12\ncount = 2\nname = 'Pantry'")
KILLED = Path(__file__).parent / "killed.py"
Done = subprocess.CompletedProcess[bytes]


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder with a job in it and its PDF, and an empty home beside it."""
    folder = tmp_path / "here"
    folder.mkdir()
    (tmp_path / "home").mkdir()
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "old.pdf").write_bytes(made(JOB)[0])
    return folder


def tried(
    here: Path,
    *words: str,
    env: dict[str, str | None] | None = None,
    size: int | None = None,
    start: Start = forked,
) -> Done:
    """The tool run with its home beside; `size`: no file may grow over so many bytes."""

    def limited() -> None:
        if size is not None:
            sys.dont_write_bytecode = True
            resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))

    home: dict[str, str | None] = {"HOME": str(here.parent / "home"), "XDG_CONFIG_HOME": None}
    if size is not None:
        # Else a module compiled there is cut short as well, and every later run fails on it.
        home["PYTHONDONTWRITEBYTECODE"] = "1"
    return start(*words, cwd=here, env=home | (env or {}), first=limited)


WRITING = [
    pytest.param(["make", "job.toml", "--out"], "x.pdf", id="make"),
    pytest.param(["plan", "job.toml", "--csv"], "x.csv", id="plan"),
    pytest.param(["compare", "job.toml", "--pdf"], "x.pdf", id="compare"),
    pytest.param(["picture", "job.toml", "--out"], "x.svg", id="picture"),
    pytest.param(["picture", "job.toml", "--out"], "x.png", id="picture-png"),
    pytest.param(["cutfile", "job.toml", "--out"], "x.dxf", id="cutfile"),
    pytest.param(["order", "job.toml", "--out"], "x.pdf", id="order"),
    pytest.param(["recall", "old.pdf", "--out"], "x.toml", id="recall"),
    pytest.param(["calibrate", "--out"], "x.pdf", id="calibrate"),
]
"""Every command that writes a file, and a name for it."""


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize(("words", "name"), WRITING)
def test_disk_fills(here: Path, words: list[str], name: str, start: Start) -> None:
    """A disk that fills while a file is written is one line; nothing half is left, nothing lost."""
    before = {path: path.read_bytes() for path in here.iterdir()}
    done = tried(here, *words, name, size=100, start=start)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode() == f"{name}: can't be written: file too large\n"
    assert {path: path.read_bytes() for path in here.iterdir()} == before


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize(("words", "name"), WRITING)
def test_target_is_a_folder(here: Path, words: list[str], name: str, start: Start) -> None:
    """A folder where the file should be stays, and is told in a line, or takes the file."""
    target = here / name
    target.mkdir()
    (target / "kept").write_bytes(b"kept")
    done = tried(here, *words, name, start=start)
    assert (target / "kept").read_bytes() == b"kept"
    if done.returncode == 0:
        assert len(list(target.iterdir())) == 2
    else:
        assert done.returncode == 2
        [line] = done.stderr.decode().splitlines()
        assert name in line or "--out" in line
        assert len(list(target.iterdir())) == 1


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
@pytest.mark.parametrize(("words", "name"), WRITING)
def test_folder_is_read_only(here: Path, words: list[str], name: str) -> None:
    """A folder that may not be written to is one line."""
    here.chmod(0o500)
    done = tried(here, *words, name)
    here.chmod(0o700)
    assert done.returncode == 2
    assert done.stderr.decode() == f"{name}: can't be written: permission denied\n"


def test_open_elsewhere(here: Path) -> None:
    """A file that somebody has open is replaced; what they have open stays as it was."""
    old = (here / "old.pdf").read_bytes()
    with (here / "old.pdf").open("rb") as held:
        held.read(1000)
        done = tried(here, "calibrate", "--out", "old.pdf", start=typed)
        assert (done.returncode, done.stderr) == (0, b"")
        assert old[:1000] + held.read() == old
    assert (here / "old.pdf").read_bytes() != old


@pytest.mark.long
def test_killed_while_writing(tmp_path: Path) -> None:
    """Killed at 200 random moments: always one version or another, whole; leftovers are swept."""
    done = subprocess.run(
        [sys.executable, KILLED, tmp_path, "200", "8"], capture_output=True, check=True
    )
    found = json.loads(done.stdout)
    assert (found["torn"], found["ended"], found["rest"]) == (0, 0, 0)
    # So it was killed in the middle, and between: else nothing was tried.
    assert found["left"] >= 20
    assert found["versions"] >= 20
    # A sweep comes with a write that isn't killed, which a few in a row may be.
    assert found["most"] <= 25


def told_at_line(number: int, told: signal.Signals) -> Callable[[], None]:
    """What sends a signal to its own process at a line of `files.write`, once it comes to it."""

    def first() -> None:
        passed = count(1)

        def at_a_line(_frame: FrameType, event: str, _arg: object) -> Any:  # noqa: ANN401  # itself
            if event == "line" and next(passed) == number:
                signal.raise_signal(told)
            return at_a_line

        # As in a process that no test began: a file that the run's end closes is no fault.
        warnings.simplefilter("ignore", ResourceWarning)
        sys.settrace(lambda frame, *_: at_a_line if frame.f_code is files.write.__code__ else None)

    return first


@pytest.mark.parametrize("told", [signal.SIGTERM, signal.SIGINT])
def test_told_to_end_while_writing(here: Path, told: signal.Signals) -> None:
    """A run that is told to end leaves a file whole or not at all, at whatever line it writes it.

    It ends by Ctrl-C as a shell expects, else with the code that a shell gives the signal.
    """
    expected = -told if told == signal.SIGINT else 128 + told
    before = {path: path.read_bytes() for path in here.iterdir()}
    job, new = (here / "job.toml").read_bytes(), here / "new.toml"
    for number in count(1):
        done = ended(
            ["recall", "old.pdf", "--out", "new.toml"], here, first=told_at_line(number, told)
        )
        if done.code == 0:
            break
        assert (done.code, done.out, done.err) == (expected, b"", b"")
        after = {path: path.read_bytes() for path in here.iterdir()}
        assert after in (before, before | {new: job})
        new.unlink(missing_ok=True)
    assert number > 10  # lines were tried


def test_leftovers(tmp_path: Path) -> None:
    """What a killed run left is swept once it is old; a run's own part, and others' files, stay."""
    path = tmp_path / "job.pdf"
    parts = {
        name: tmp_path / name
        for name in (
            ".job.pdf.0123456789abcdef.part",
            ".job.pdf.fedcba9876543210.part",
            ".job.pdf.00000000deadbeef.part",
            ".other.pdf.0123456789abcdef.part",
            ".job.pdf.notes.part",
            ".job.pdf.0123456789abcdef.part.bak",
        )
    }
    now = time.time()
    for age, part in zip((-7200, 7200, -600, -7200, -7200, -7200), parts.values(), strict=True):
        part.write_bytes(b"half")
        os.utime(part, (now + age, now + age))
    files.write(path, b"whole")
    kept = sorted(one.name for one in tmp_path.iterdir())
    assert kept == sorted([path.name, *list(parts)[2:]])


def test_leftover_of_the_same_process(tmp_path: Path) -> None:
    """What a killed run left never stands in the way, though a process has its number again."""
    path = tmp_path / "job.pdf"
    for name in (f".job.pdf.{os.getpid()}.part", f".job.pdf.{os.getpid()}"):
        (tmp_path / name).write_bytes(b"half")
    files.write(path, b"whole")
    assert path.read_bytes() == b"whole"


@pytest.mark.parametrize("clock", [0.0, 4_070_908_800.0])
def test_wrong_clock(here: Path, monkeypatch: pytest.MonkeyPatch, clock: float) -> None:
    """In 1970 and in 2099 the same PDF is made, to the byte."""
    monkeypatch.setattr(time, "time", lambda: clock)
    monkeypatch.setattr(time, "localtime", lambda *_: time.gmtime(clock))
    monkeypatch.chdir(here)
    done = run("make", "job.toml", "--out", "new.pdf")
    monkeypatch.undo()
    assert done.exit_code == 0
    assert (here / "new.pdf").read_bytes() == (here / "old.pdf").read_bytes()


POOR = {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


@pytest.mark.long
def test_locale_c(here: Path) -> None:
    """In the C locale, UTF-8 taken for nothing, files of any name hold the same as elsewhere."""
    name = "Büro, 窓"
    text = job_toml(f"width = 12\ncount = 2\nname = '{name}'")
    (here / f"{name}.toml").write_text(text, encoding="utf-8")
    for words in (
        ("make", f"{name}.toml", "--out", f"{name}.pdf"),
        ("plan", f"{name}.toml", "--csv", f"{name}.csv"),
        ("plan", f"{name}.toml", "--json"),
        ("compare", f"{name}.toml"),
        ("picture", f"{name}.toml", "--out", f"{name}.svg"),
        ("cutfile", f"{name}.toml", "--out", f"{name}.dxf"),
        ("measure", f"{name}.pdf"),
        ("recall", f"{name}.pdf", "--out", f"{name}, again.toml"),
    ):
        done = tried(here, *words, env=dict(POOR), start=typed)
        assert (done.returncode, words) == (0, words)
        said = (done.stdout + done.stderr).decode("utf-8")  # click's choice, whatever the locale
        assert all(line.isprintable() for line in said.splitlines())
    assert (here / f"{name}.pdf").read_bytes() == made(text)[0]
    assert name in (here / f"{name}.csv").read_text("utf-8")
    assert (here / f"{name}, again.toml").read_text("utf-8") == text


NO_HOME = {
    "missing": {"HOME": "/nowhere/at/all"},
    "not-set": {"HOME": None},
    "not-writable": {"HOME": "/proc"},
    "empty": {"HOME": ""},
}


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("env", NO_HOME.values(), ids=NO_HOME)
def test_home_is_missing(here: Path, env: dict[str, str | None], start: Start) -> None:
    """Without a home folder everything is done that needs none, and none is made."""
    for words in (
        ("plan", "job.toml"),
        ("compare", "job.toml"),
        ("make", "job.toml", "--out", "new.pdf"),
        ("picture", "job.toml", "--out", "new.svg"),
        ("cutfile", "job.toml", "--out", "new.dxf"),
        ("measure", "old.pdf"),
        ("recall", "old.pdf", "--out", "new.toml"),
        ("calibrate", "--out", "sheet.pdf"),
    ):
        done = tried(here, *words, env=env, start=start)
        assert (done.returncode, words) == (0, words)
        assert b"home" not in done.stderr.lower()
    assert not Path("/nowhere").exists()


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("env", [NO_HOME["missing"], NO_HOME["not-writable"]], ids=["no", "read"])
def test_printers_without_a_home(here: Path, env: dict[str, str | None], start: Start) -> None:
    """What needs the list of printers says in a line that it can't be had, and why."""
    save = ("calibrate", "--across", "149.6", "--down", "150.2", "--save", "workroom laser")
    for words in (("make", "job.toml", "--out", "new.pdf", "--printer", "workroom laser"), save):
        done = tried(here, *words, env=env, start=start)
        assert (done.returncode, done.stdout) == (2, b"")
        assert len(done.stderr.splitlines()) == 1
    assert not (here / "new.pdf").exists()


@searched(60)
@given(data=st.binary(max_size=200) | st.text(max_size=99).map(str.encode))
def test_any_list_of_printers(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    """Whatever the list holds, reading leaves it be, and saving keeps it aside, whole."""
    folder = tmp_path_factory.mktemp("config")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CONFIG_HOME", str(folder))
        path = folder / "drapetemplate" / "printers.json"
        path.parent.mkdir()
        path.write_bytes(data)
        with pytest.raises(FileError, match=r"printers\.json: damaged"):
            store.known()
        assert path.read_bytes() == data
        said = store.keep(factors.factors_of("laser", {"across": "1", "down": "1"}))
        assert said is not None
        assert [one.name for one in store.known()] == ["laser"]
        assert (path.parent / "printers.damaged-1.json").read_bytes() == data


@pytest.mark.parametrize("count", [3, pytest.param(10, marks=pytest.mark.long)])
def test_one_target_many_runs(here: Path, count: int) -> None:
    """Several runs at once that make one target all end in order, and it is whole."""
    runs = [
        subprocess.Popen(
            [*TOOL, "make", "job.toml", "--out", "new.pdf"], cwd=here, stdout=-1, stderr=-1
        )
        for _ in range(count)
    ]
    ends = [(*run.communicate(), run.returncode) for run in runs]
    assert {(err, code) for _, err, code in ends} == {(b"", 0)}
    assert (here / "new.pdf").read_bytes() == (here / "old.pdf").read_bytes()
    assert sorted(one.name for one in here.iterdir()) == ["job.toml", "new.pdf", "old.pdf"]


def test_lock_is_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who finds a file locked waits so long, then says so; a lock ends with who has it."""
    path = tmp_path / "list.json"
    code = "import sys, time; from pathlib import Path; from drapetemplate import files\n"
    code += "with files.locked(Path(sys.argv[1])): print('locked', flush=True); time.sleep(600)"
    with subprocess.Popen([sys.executable, "-c", code, path], stdout=subprocess.PIPE) as other:
        try:
            assert other.stdout is not None
            assert other.stdout.readline() == b"locked\n"
            monkeypatch.setattr(files, "PATIENCE", 0)
            with pytest.raises(FileError, match="another run has kept it"), files.locked(path):
                pytest.fail("locked twice")
        finally:
            other.kill()
    with files.locked(path):
        path.write_bytes(b"x")
    assert path.read_bytes() == b"x"


def test_lock_that_cant_be_made(tmp_path: Path) -> None:
    """Where there is no folder for a lock, that is one line."""
    path = tmp_path / "none" / "list.json"
    with pytest.raises(FileError, match="can't be written: no such file"), files.locked(path):
        pytest.fail("locked in no folder")


def test_no_locks_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file system that has no locks keeps nobody from working."""
    fcntl = pytest.importorskip("fcntl")

    asked = []

    def none(*_: object) -> None:
        asked.append("lock")
        raise OSError(37, "No locks available")

    monkeypatch.setattr(fcntl, "flock", none)
    with files.locked(tmp_path / "list.json"):
        files.write(tmp_path / "list.json", b"kept")
    assert asked
    assert (tmp_path / "list.json").read_bytes() == b"kept"


def test_recall_never_breaks_on_what_is_there(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file in the way that can't even be read is in the way."""
    (here / "new.toml").write_bytes(JOB.encode())

    def denied(*_: object) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", denied)
    with pytest.raises(FileError, match="is there already"):
        files.write_new(here / "new.toml", JOB.encode())


@pytest.mark.parametrize("links", [True, False])
def test_new_file_replaces_nothing(
    here: Path, monkeypatch: pytest.MonkeyPatch, *, links: bool
) -> None:
    """What another run puts there while a new file is being written still stands."""
    target = here / "new.toml"

    def meanwhile(_: int) -> None:
        target.write_bytes(b"another run's")

    def none(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "fsync", meanwhile)
    if not links:
        monkeypatch.setattr(os, "link", none)
    with pytest.raises(FileError, match="is there already"):
        files.write_new(target, JOB.encode())
    assert target.read_bytes() == b"another run's"
    assert not list(here.glob(".*"))
