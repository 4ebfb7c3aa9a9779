"""What could steer a terminal, or a spreadsheet, in every word a job or a command line can hold."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from drapetemplate.job.tables import TABLES, keys_of
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_csv import as_csv
from tests.helpers.jobfiles import job_of, job_toml
from tests.helpers.made import made
from tests.hostile.bounded import ended, unsafe

pytestmark = pytest.mark.long

# Escape, a terminal's title and its end, colours in both forms, null, breaks and returns, delete,
# every C1 control, directions, a mark of the order of bytes, separators, half a pair.
ODD = (
    "\x1b[31m\x1b]0;x\x07\x9b31m\x9d0;y\x9c\0\a\b\v\f\n\r\t\x7f"
    + "".join(map(chr, range(0x80, 0xA0)))
    + "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff\u2028\u2029"
)
WHOLE: dict[str, dict[str, Any]] = {
    "": {"units": "mm"},
    "job": {"name": "Heron Point, attic", "due": "2031-05-06"},
    "paper": {"size": "a4"},
    "eyelet": {"outside": 50, "opening": 30},
    "window": {"width": 700, "count": 4, "length": 2000},
    "fabric": {"width": 900},
    "lining": {"width": 800},
}
"""A job that can be made."""


def quoted(text: str) -> str:
    """A TOML string of any text."""
    return '"' + "".join(f"\\U{ord(char):08X}" for char in text) + '"'


def value_of(value: object) -> str:
    """A TOML value."""
    return quoted(value) if isinstance(value, str) else json.dumps(value)


def toml(tables: dict[str, dict[str, Any]]) -> str:
    """A job file of these tables, each with its keys."""
    text = ""
    for name, keys in tables.items():
        title = {"": "", "window": "[[window]]"}.get(name, f"[{name}]")
        text += f"{title}\n" + "".join(f"{key} = {value_of(keys[key])}\n" for key in keys)
    return text


def words() -> Iterator[tuple[str, str]]:
    """Every key of every table that isn't a table itself."""
    for table in TABLES:
        for key in keys_of(table):
            if key not in TABLES:
                yield table, key


COMMANDS = (
    ("plan",),
    ("plan", "--json"),
    ("plan", "--plain"),
    ("plan", "--csv", "table.csv"),
    ("compare",),
    ("compare", "--json"),
    ("make", "--out", "made.pdf"),
    ("picture", "--out", "drawn.svg"),
)


@pytest.mark.parametrize(("table", "key"), list(words()))
def test_every_key(table: str, key: str, tmp_path: Path) -> None:
    """Whatever key has odd characters in it, and as its own name, none comes out again."""
    tables = {name: dict(keys) for name, keys in WHOLE.items()}
    tables.setdefault(table, {})[key] = f"{ODD}x{ODD}"
    path = tmp_path / "odd.toml"
    path.write_text(toml(tables), encoding="utf-8")
    plain = ended(["plan", path], tmp_path)
    wrong: dict[tuple[str, ...], str] = {("plan",): plain.wrong()}
    # What is refused is refused by every command alike, before it does anything.
    for command in COMMANDS[1:] if plain.code != 2 else ():
        run = ended([command[0], path, *command[1:]], tmp_path)
        wrong[command] = run.wrong()
    if (table_made := tmp_path / "table.csv").exists():
        cells = csv.reader(io.StringIO(table_made.read_text("utf-8"), newline=""))
        found = "".join(
            unsafe(cell.encode()) + "\n" * ("\n" in cell) for row in cells for cell in row
        )
        wrong["the table",] = found
    assert {command: said for command, said in wrong.items() if said} == {}


def test_words_are_let_in(tmp_path: Path) -> None:
    """The words of a job may hold any character: so what is tried above isn't all refused."""
    tables = {name: dict(keys) for name, keys in WHOLE.items()}
    for table, key in (("job", "name"), ("job", "notes"), ("window", "name"), ("fabric", "name")):
        tables[table][key] = f"{ODD}x{ODD}"
    path = tmp_path / "odd.toml"
    path.write_text(toml(tables), encoding="utf-8")
    run = ended(["plan", path], tmp_path)
    assert (run.code, run.wrong()) == (0, "")
    assert "\ufffd[31m".encode() in run.out
    for command in COMMANDS:
        assert ended([command[0], path, *command[1:]], tmp_path).wrong() == ""
    assert ended(["measure", "made.pdf"], tmp_path).wrong() == ""
    assert ended(["recall", "made.pdf", "--out", "again.toml"], tmp_path).wrong() == ""
    assert (tmp_path / "again.toml").read_bytes() == path.read_bytes()


def test_odd_key_and_text(tmp_path: Path) -> None:
    """A key, a table and a line that isn't TOML are told without their odd characters."""
    path = tmp_path / "odd.toml"
    for text in (
        f"{quoted(ODD)} = 1\n" + job_toml(),
        f"[{quoted(ODD)}]\na = 1\n" + job_toml(),
        f"\x1b[31m = {ODD}\n" + job_toml(),
        f"units = 'in\x9b31m'\n{ODD}",
    ):
        path.write_bytes(text.encode())
        run = ended(["plan", path], tmp_path)
        assert (run.code, run.wrong()) == (2, "")


NAME = "a\x1b[31m\x9b31m\u202e\nb"
"""A file's name may hold all but a null and a slash."""


@pytest.mark.parametrize(
    "line",
    [
        ["plan", NAME],
        ["make", NAME],
        ["make", "job.toml", "--out", NAME],
        ["make", "job.toml", "--out", f"{NAME}/{{name}}.pdf"],
        ["make", "job.toml", "--out", f"{{{NAME}}}"],
        ["make", "job.toml", "--out", f"no/{NAME}"],
        ["make", "job.toml", "--accept", NAME],
        ["make", "job.toml", "--printer", NAME],
        ["plan", "job.toml", "--printer", NAME],
        ["plan", "job.toml", "--csv", f"no/{NAME}"],
        ["plan", "job.toml", f"--{NAME}"],
        ["compare", "job.toml", "--counts", NAME],
        ["compare", "job.toml", "--pdf", f"no/{NAME}"],
        ["picture", "job.toml", "--out", NAME],
        ["picture", "job.toml", "--out", f"{NAME}.svg"],
        ["cutfile", "job.toml", "--out", NAME],
        ["cutfile", "job.toml", "--out", f"{NAME}.dxf"],
        ["cutfile", "job.toml", "--out", "x.dxf", "--printer", NAME],
        ["recall", NAME],
        ["recall", "job.pdf", "--out", NAME],
        ["recall", "job.pdf", "--out", f"no/{NAME}"],
        ["measure", NAME],
        ["measure", "job.toml", NAME],
        ["calibrate", "--paper", NAME],
        ["calibrate", "--out", f"no/{NAME}"],
        ["calibrate", "--across", NAME, "--down", "150", "--save", "x"],
        ["calibrate", "--across", "150", "--down", "150", "--save", NAME],
        ["calibrate", "--forget", NAME],
        [NAME],
        [f"--{NAME}"],
    ],
    ids=lambda line: " ".join(line).encode("unicode_escape").decode(),
)
def test_command_line(line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Odd characters in a path or an option come out of no command."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    (tmp_path / "job.toml").write_text(job_toml("width = 12\ncount = 2"), encoding="utf-8")
    (tmp_path / "job.pdf").write_bytes(made(job_toml("width = 12\ncount = 2"))[0])
    run = ended(line, tmp_path)
    assert run.wrong() == ""
    assert len(run.err.splitlines()) <= 8


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20"])
def test_nothing_a_spreadsheet_would_run(sign: str) -> None:
    """No cell begins as a formula, behind spaces or in what semicolons would make a cell."""
    for name in (f"{sign}1", f"  {sign}1", f"\\t{sign}1", f"a;{sign}1", f"a; {sign}1;{sign}2"):
        tables = f'[fabric]\nwidth = 54\nname = "{name}"'
        job = job_of(f'width = 100\nname = "{name}"', tables=tables)
        for row in csv.reader(io.StringIO(as_csv(job, plan(job)).decode(), newline="")):
            cells = [cell.lstrip() for part in row for cell in part.split(";")]
            assert [cell for cell in cells if cell.startswith(sign)] == []
