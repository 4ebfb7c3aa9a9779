"""How a command starts: what it loads and what it doesn't, and how it ends before it has begun."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from drapetemplate.cli.completion_scripts import VARIABLE
from tests.helpers.commands import TOOL, typed
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made
from tests.test_imports import ORDER

JOB = job_toml("width = 12\ncount = 2\nname = 'Pantry'")

WATCHED = {
    "PIL",
    "fontTools",
    "pdfminer",
    "pdfplumber",
    "platformdirs",
    "pydantic",
    "pypdf",
    "pypdfium2",
    "reportlab",
    "rich",
    "starlette",
    "tomlkit",
    "tomllib",
    "typer",
    "uvicorn",
    "concurrent",
    "dataclasses",
    "html",
    "multiprocessing",
    "typing",
    "xml",
    *ORDER,
} - {"__main__"}
"""Libraries that are slow to load, and every room of the package."""
SCRIPT = f"""
import json, os, sys
from drapetemplate.cli import main
sys.argv[0] = "drapetemplate"
if sys.argv[-1] == "?":
    os.environ["{VARIABLE}"] = "fish"
    sys.argv[-1] = ""
try:
    main()
finally:
    sys.__stderr__.write("\\nLOADED" + json.dumps(list(sys.modules)))
"""

ENTRY = {"drapetemplate", "version", "cli"}
PARSED = ENTRY | {"typer", "typing", "dataclasses"}
# typer reads a command's words through pydantic.
GROUND = PARSED | {"pydantic", "errors", "measures", "files"}
READ = GROUND | {"tomllib", "job"}
PLANNED = READ | {"planning", "wording", "words"}
LAID_OUT = PLANNED | {"drawing", "template", "sheets"}
DRAWN = LAID_OUT | {"ticket", "document", "render"}
WRITTEN = DRAWN | {"reportlab", "PIL", "record", "html"}
# reportlab and pypdf load PIL, pypdf fontTools too where that is installed.
"""Each is what a step takes, those before it included."""

LOADS = {
    "--version": ENTRY,
    "--help": PARSED,
    "plan --help": PARSED | {"pydantic"},
    "plann": PARSED | {"pydantic", "measures"},
    "--show-completion bash": GROUND,
    "make job.toml --accept ?": GROUND | {"planning"},
    "plan job.toml --json": LAID_OUT | {"report"},
    "plan job.toml": LAID_OUT | {"report", "rich"},
    "make none.toml": PLANNED,
    "make job.toml": WRITTEN,
    "compare job.toml --json": LAID_OUT | {"report"},
    "picture job.toml --out x.svg": DRAWN | {"html"},
    "picture job.toml --out x.png": DRAWN | {"reportlab", "PIL", "pypdfium2"},
    "calibrate --out x.pdf": DRAWN | {"reportlab", "PIL", "printers", "platformdirs"},
    "order job.toml --out x.pdf": WRITTEN | {"shelf", "report", "rich"},
    "cutfile job.toml --out x.dxf": DRAWN,
    "order job.toml": PLANNED | {"drawing", "document", "shelf", "record", "report", "rich"},
    "shelf .": READ | {"wording", "shelf", "record", "report", "rich"},
    "recall job.pdf": PLANNED
    | {"drawing", "document", "record", "pypdf", "PIL", "fontTools", "xml"},
    "measure none.pdf": GROUND | {"record"},
    "calibrate --list": READ | {"printers", "platformdirs"},
    "schema": READ,
    "new nowhere/x.toml": LAID_OUT | {"report", "rich", "interview", "tomlkit"},
    "desk none.toml": LAID_OUT | {"desk", "interview", "tomlkit", "shelf", "record", "report"},
}
"""What each command may load of what is watched; all else it does without.

Where "?" stands a shell asks what may.
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a job in it and its PDF."""
    path = tmp_path_factory.mktemp("start")
    (path / "job.toml").write_text(JOB)
    (path / "job.pdf").write_bytes(made(JOB)[0])
    return path


def loaded(folder: Path, words: str) -> set[str]:
    """What a command line loads of what is watched, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, *words.split()],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    said, _, names = done.stderr.rpartition("\nLOADED")
    assert "Traceback" not in said
    rooms = {name.removeprefix("drapetemplate.").partition(".")[0] for name in json.loads(names)}
    return rooms & WATCHED


@pytest.mark.parametrize("words", LOADS)
def test_a_command_loads_no_more_than_it_takes(folder: Path, words: str) -> None:
    """Help comes without a job's modules, a plan without what draws, each without the desk's."""
    assert sorted(loaded(folder, words) - LOADS[words]) == []


def test_no_plugin_of_another_program_is_run(folder: Path, tmp_path: Path) -> None:
    """What is installed beside the tool and would have a hand in reading a job is left alone."""
    (tmp_path / "stranger-1.dist-info").mkdir()
    (tmp_path / "stranger-1.dist-info" / "METADATA").write_text("Name: stranger\nVersion: 1\n")
    (tmp_path / "stranger-1.dist-info" / "entry_points.txt").write_text(
        "[pydantic]\na = stranger:a\n"
    )
    (tmp_path / "stranger.py").write_text("print('a stranger is here')\na = None\n")
    path = os.pathsep.join([str(tmp_path), os.environ.get("PYTHONPATH", "")])
    done = typed("plan", folder / "job.toml", "--json", env={"PYTHONPATH": path})
    assert json.loads(done.stdout)["job"]["name"]


INTERRUPTED = """
import signal, sys
name = sys.argv.pop(1)
class Finder:
    def find_spec(self, found, *_):
        if found == name:
            signal.raise_signal(signal.SIGINT)
sys.meta_path.insert(0, Finder())
sys.argv[0] = "drapetemplate"
from drapetemplate.cli import main
main()
"""


@pytest.mark.parametrize(
    "name", ["typer", "pydantic", "drapetemplate.cli.commands.plan", "drapetemplate.planning.plan"]
)
def test_interrupted_while_it_loads(folder: Path, name: str) -> None:
    """Ctrl-C while any module is loaded ends the process by that signal, without a word."""
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, name, "plan", "job.toml"],
        cwd=folder,
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (-signal.SIGINT, b"", b"")


LOST = """
import signal
from drapetemplate.cli import signals
class Told:
    def __del__(self):
        signal.raise_signal(signal.{name})
signals.load_quietly()
signals.heed()
Told()
print("it goes on")
"""


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_a_signal_is_never_lost(name: str) -> None:
    """One that comes in a destructor, where Python drops exceptions, ends the process as well."""
    done = subprocess.run(
        [sys.executable, "-c", LOST.format(name=name)], capture_output=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (-signal.Signals[name], b"", b"")


WORKER = """
import signal
from drapetemplate.cli import signals
def work(_):
    try:
        {work}
    finally:
        signal.raise_signal(signal.SIGTERM)
        print("tidied up", flush=True)
signals.Worker.begin()
try:
    signals.Worker.do(work, 0)
    signal.raise_signal(signal.{name})
except BaseException:
    pass
print("it asks for more work")
"""


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
@pytest.mark.parametrize(
    ("work", "said"), [("signal.raise_signal(signal.{name})", b"tidied up\n"), ("return", b"")]
)
def test_a_worker_that_is_told_ends(name: str, work: str, said: bytes) -> None:
    """It tidies up, also when told again meanwhile, and asks for no more work after that.

    One that has nothing in hand ends at once.
    """
    code = WORKER.format(name=name, work=work.format(name=name))
    if not said:
        code = code.replace("signal.raise_signal(signal.SIGTERM)\n        print", "0 and print")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert (done.returncode, done.stdout) == (128 + signal.Signals[name], said)


IGNORED = """
import signal
for name in ("SIGINT", "SIGTERM", "SIGHUP"):
    signal.signal(getattr(signal, name), signal.SIG_IGN)
from drapetemplate.cli import signals
signals.load_quietly()
signals.heed()
signals.Worker.begin()
for name in ("SIGINT", "SIGTERM", "SIGHUP"):
    signal.raise_signal(getattr(signal, name))
"""


def test_what_is_ignored_stays_ignored() -> None:
    """A run that whoever started it keeps from signals, as nohup does, goes on."""
    done = subprocess.run([sys.executable, "-c", IGNORED], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize(
    ("out", "code", "said"),
    [
        ("/dev/full", 2, b"standard output: can't be written: no space left on device\n"),
        ("/dev/null", 0, b""),
    ],
)
def test_version_on_a_poor_output(out: str, code: int, said: bytes) -> None:
    """The version, told before the parser is loaded, fails in a line as all else does."""
    with Path(out).open("wb") as file:
        done = subprocess.run([*TOOL, "--version"], stdout=file, stderr=-1, check=False)
    assert (done.returncode, done.stderr) == (code, said)


def test_version_for_a_shell() -> None:
    """A shell that asks what may stand for --version is answered, and isn't told the version."""
    done = typed("--version", env={VARIABLE: "zsh"})
    assert done.stdout.startswith(b"words\n")
