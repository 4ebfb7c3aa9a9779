"""Printers kept in the user's folder: exact, whole, and never lost without a word."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import platformdirs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.errors import FileError
from drapetemplate.job import factors
from drapetemplate.job.factors import Factors
from drapetemplate.printers import store

NAMES = ["printers.json", "printers.json.lock"]
"""All that stands in the folder: the list, and what is locked while it is changed."""
LASER = Factors("workroom laser", Fraction(600, 599), Fraction(1))
INKJET = Factors("Büro 2", Fraction(97, 100), Fraction(103, 100))


@pytest.fixture(autouse=True)
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where printers are kept, in a folder of the test's own."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return tmp_path / "config" / "drapetemplate" / "printers.json"


def written(path: Path, data: bytes) -> Path:
    """A file of these bytes, its folders made."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


def fault(refused: pytest.ExceptionInfo[FileError]) -> str:
    """The one fault, as a user reads it."""
    (found,) = refused.value.faults
    assert "\n" not in str(found)
    return str(found)


def test_none_yet(kept: Path) -> None:
    """Where nothing was ever kept there are no printers, and looking makes no file."""
    assert store.known() == ()
    assert not kept.parent.exists()


def test_kept(kept: Path) -> None:
    """Printers are kept by name, exactly, in the user's own folder; the folder is made."""
    assert store.keep(LASER) is None
    assert store.keep(INKJET) is None
    assert store.known() == (INKJET, LASER)
    assert json.loads(kept.read_bytes()) == {
        "format": 1,
        "printers": {
            "Büro 2": {"across": "97/100", "down": "103/100"},
            "workroom laser": {"across": "600/599", "down": "1"},
        },
    }
    assert sorted(path.name for path in kept.parent.iterdir()) == NAMES


def test_kept_again() -> None:
    """A printer measured again takes its old place, however its name is written."""
    store.keep(LASER)
    again = Factors("Workroom Laser", Fraction(1), Fraction(99, 100))
    store.keep(again)
    assert store.known() == (again,)


def test_forgotten() -> None:
    """Forgetting takes out the one printer and gives it back; the others stay."""
    store.keep(LASER)
    store.keep(INKJET)
    assert store.forget(" WORKROOM  laser", "--forget") == LASER
    assert store.known() == (INKJET,)


def test_found_in_any_case() -> None:
    """A printer is found whatever the case and the spaces."""
    store.keep(LASER)
    assert store.find("Workroom   LASER ", "--printer") == LASER


@pytest.mark.parametrize("command", [store.find, store.forget])
def test_unknown(command: object) -> None:
    """An unknown printer is one line that names the known ones, and changes nothing."""
    assert callable(command)
    store.keep(LASER)
    store.keep(INKJET)
    with pytest.raises(FileError) as refused:
        command("nosuch\n\x1b[31m", "--printer")
    assert fault(refused) == (
        '--printer: no printer is called "nosuch \ufffd[31m": known here: "Büro 2", '
        '"workroom laser"; drapetemplate calibrate makes one known'
    )
    assert store.known() == (INKJET, LASER)


def test_unknown_among_many() -> None:
    """Of very many known printers a line names a dozen."""
    for n in range(20):
        store.keep(Factors(f"p{n:02}", Fraction(1), Fraction(1)))
    with pytest.raises(FileError, match='"p11" and 8 more; ') as refused:
        store.find("x", "--printer")
    assert '"p12"' not in fault(refused)


def test_unknown_where_none_is() -> None:
    """Where no printer is known the line says so."""
    with pytest.raises(FileError, match='called "x": none is known here; drapetemplate calibrate'):
        store.find("x", "paper.printer")


@given(
    st.dictionaries(
        st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=24),
        st.tuples(
            *[st.fractions(Fraction(97, 100), Fraction(103, 100), max_denominator=10**9)] * 2
        ),
        max_size=5,
    )
)
def test_file_read_back(table: dict[str, tuple[Fraction, Fraction]]) -> None:
    """What is written is read back to the last digit, whatever the names."""
    unlike = {name.casefold(): Factors(name, *both) for name, both in table.items()}
    found = store.parse(store.as_file(unlike.values()))
    assert set(unlike.values()) == set(found)
    assert len(unlike) == len(found)


def test_a_bare_one() -> None:
    """A factor of 1 is read without its quotes too, as a hand may have left it."""
    data = b'{"format": 1, "printers": {"workroom laser": {"across": "600/599", "down": 1}}}'
    assert store.parse(data) == (LASER,)


DAMAGED = {
    "empty": (b"", "it isn't JSON"),
    "cut short": (b'{"format": 1, "printers": {"a": {"across": "1"', "it isn't JSON"),
    "not UTF-8": (b'{"format": 1, "x": "\xff"}', "it isn't JSON"),
    "nested": (b"[" * 100_000, "it isn't JSON"),
    "list": (b"[]", 'it isn\'t of "format": 1'),
    "other format": (b'{"format": 2, "printers": {}}', 'it isn\'t of "format": 1'),
    "no printers": (b'{"format": 1}', '"printers" isn\'t a table'),
    "no table": (b'{"format": 1, "printers": {"a": 1}}', '"a" isn\'t a table'),
    "blank name": (b'{"format": 1, "printers": {" ": {}}}', "\" \" isn't a printer's name"),
    "name with controls": (
        b'{"format": 1, "printers": {"a\\u001b": {}}}',
        "\"a\ufffd\" isn't a printer's name",
    ),
    "factor gone": (
        b'{"format": 1, "printers": {"a": {"across": "1"}}}',
        '"a" has no factor down, such as "600/599"',
    ),
    "float": (
        b'{"format": 1, "printers": {"a": {"across": 1.01, "down": "1"}}}',
        '"a" has no factor across, such as "600/599"',
    ),
    "negative": (
        b'{"format": 1, "printers": {"a": {"across": "-1", "down": "1"}}}',
        '"a" has no factor across, such as "600/599"',
    ),
    "scaled": (
        b'{"format": 1, "printers": {"a": {"across": "1", "down": "9/10"}}}',
        '"a" has a factor down beyond 3 %',
    ),
    "by zero": (
        b'{"format": 1, "printers": {"a": {"across": "1/0", "down": "1"}}}',
        '"a" has a factor across beyond 3 %',
    ),
    "twice": (
        b"""{"format": 1, "printers": {"a": {"across": "1", "down": "1"},
        "A": {"across": "1", "down": "1"}}}""",
        "it has a printer twice",
    ),
}


@pytest.mark.parametrize(("data", "why"), DAMAGED.values(), ids=DAMAGED)
def test_damaged_is_said(kept: Path, data: bytes, why: str) -> None:
    """A damaged file is one line that says what is wrong and what to do; reading leaves it be."""
    written(kept, data)
    for command in (store.known, lambda: store.forget("a", "--forget")):
        with pytest.raises(FileError) as refused:
            command()
        assert fault(refused).startswith(f"{kept}: damaged, {why}: mend it, or calibrate and ")
    assert kept.read_bytes() == data


@pytest.mark.parametrize("data", [data for data, _ in DAMAGED.values()], ids=DAMAGED)
def test_damaged_is_kept_aside(kept: Path, data: bytes) -> None:
    """Keeping a printer sets a damaged file aside whole, says so, and begins a new one."""
    written(kept, data)
    said = store.keep(LASER)
    aside = kept.with_name("printers.damaged-1.json")
    assert said is not None
    assert said.startswith(f"{kept}: damaged, ")
    assert said.endswith(f": kept as {aside}, and a new one begun")
    assert aside.read_bytes() == data
    assert store.known() == (LASER,)


def test_damaged_twice(kept: Path) -> None:
    """A second damaged file doesn't take the first one's place."""
    for data in (b"one", b"two"):
        written(kept, data)
        store.keep(LASER)
    copies = [kept.with_name(f"printers.damaged-{n}.json").read_bytes() for n in (1, 2)]
    assert copies == [b"one", b"two"]


def test_damaged_that_cant_be_set_aside(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a damaged file can't be kept aside it stays where it is, and nothing is kept."""
    written(kept, b"damaged")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"damaged-1\.json: can't be written: no space left"):
        store.keep(LASER)
    assert kept.read_bytes() == b"damaged"
    assert sorted(path.name for path in kept.parent.iterdir()) == NAMES


def test_far_too_large(kept: Path) -> None:
    """A file no list of printers could be is refused, by keeping too, and stays."""
    written(kept, b" " * (store.MOST_BYTES + 1))
    for command in (store.known, lambda: store.keep(LASER)):
        with pytest.raises(FileError) as refused:
            command()
        assert fault(refused) == f"{kept}: over 1,048,576 bytes, so no list of printers"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
def test_a_pipe_isnt_waited_for(kept: Path) -> None:
    """What nobody writes into isn't waited for: it is no list of printers."""
    kept.parent.mkdir(parents=True)
    os.mkfifo(kept)
    look = "from drapetemplate.printers.store import known; known()"
    done = subprocess.run(
        [sys.executable, "-c", look], check=False, capture_output=True, text=True, timeout=20
    )
    assert done.stderr.splitlines()[-1].endswith("printers.json: not a plain file")


def test_full_disk_keeps_the_old(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list that can't be written whole leaves the one of before."""
    store.keep(LASER)
    before = kept.read_bytes()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match=r"printers\.json: can't be written: no space left"):
        store.keep(INKJET)
    assert kept.read_bytes() == before


def test_folder_that_cant_be_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A plain file where the folder should be is one line, for reading and for keeping."""
    written(tmp_path / "config", b"")
    with pytest.raises(FileError) as refused:
        store.known()
    assert fault(refused).endswith("printers.json: can't be read: not a directory")
    # Where the file system says that nothing is there, the folder itself is what can't be made.
    monkeypatch.setattr(store, "_kept", lambda _: None)
    with pytest.raises(FileError, match="can't be made: "):
        store.keep(LASER)


def test_home_that_isnt_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A home folder that isn't there is one line, and isn't made."""
    monkeypatch.delenv("XDG_CONFIG_HOME")
    monkeypatch.setenv("HOME", str(tmp_path / "nobody"))
    for command in (store.known, lambda: store.keep(LASER)):
        with pytest.raises(FileError) as refused:
            command()
        assert fault(refused).endswith(
            "printers.json: no home folder to keep printers in: set HOME to one that is there"
        )
    assert not (tmp_path / "nobody").exists()


def test_no_home_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A user without any home folder gets the same line, and no folder called ~."""
    monkeypatch.chdir(tmp_path)

    def nowhere(*_: object, **__: object) -> Path:
        return Path("~/.config/drapetemplate")

    monkeypatch.setattr(platformdirs, "user_config_path", nowhere)
    with pytest.raises(FileError, match="no home folder to keep printers in"):
        store.keep(LASER)
    assert list(tmp_path.iterdir()) == []


def test_home_is_where_it_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a configuration folder of its own, printers are kept under the home folder."""
    monkeypatch.delenv("XDG_CONFIG_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    store.keep(LASER)
    assert store.store().is_relative_to(tmp_path)
    assert store.known() == (LASER,)


SAVING = """
from fractions import Fraction
from drapetemplate.printers import store
from drapetemplate.job.factors import Factors
for n in range(60):
    store.keep(Factors(f"{name} {{n}}", Fraction(1000 + n % 9, 1000), Fraction(1)))
    if n % 2:
        store.forget(f"{name} {{n}}", "--forget")
"""


def test_two_runs_at_once() -> None:
    """Runs that keep and forget printers at the same time lose none of each other's."""
    store.keep(LASER)
    runs = [
        subprocess.Popen([sys.executable, "-c", SAVING.format(name=name)], stderr=subprocess.PIPE)
        for name in ("one", "two")
    ]
    looks = 0
    while any(run.poll() is None for run in runs):
        assert LASER in store.known()
        looks += 1
    assert [run.communicate()[1] for run in runs] == [b"", b""]
    assert looks > 10
    kept = {f"{name} {n}" for name in ("one", "two") for n in range(0, 60, 2)}
    assert {one.name for one in store.known()} == kept | {LASER.name}


@pytest.mark.parametrize(
    ("text", "name"),
    [("a", "a"), ("  workroom\t laser ", "workroom laser"), ("x" * 24, "x" * 24), ("窓", "窓")],
)
def test_name(text: str, name: str) -> None:
    """A name is kept as written, its spaces made single."""
    assert factors.read_name(text) == name


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "is blank: write a name"),
        (" \n", "is blank: write a name"),
        ("x" * 25, "25 characters: write 24 or fewer"),
        ("a\x1b[31m", '"a\ufffd[31m" has characters that don\'t show: leave them out'),
        ("a\u202eb", "has characters that don't show"),
    ],
)
def test_name_refused(text: str, why: str) -> None:
    """A name that nobody could print on a sheet is refused."""
    with pytest.raises(ValueError, match=r"^.") as refused:
        factors.read_name(text)
    assert why in str(refused.value)


@pytest.mark.parametrize(
    ("factor", "expected"),
    [
        (Fraction(97, 100), True),
        (Fraction(103, 100), True),
        (Fraction(97, 100) - Fraction(1, 10**9), False),
        (Fraction(103, 100) + Fraction(1, 10**9), False),
    ],
)
def test_within(factor: Fraction, *, expected: bool) -> None:
    """Three per cent either way is a printer's; anything over is a setting."""
    assert expected is factors.within(factor)


def test_words() -> None:
    """For sheets: the name and both factors; for the list, in per cent too."""
    assert LASER.words == "workroom laser: ×1.0017 across, ×1.0000 down"
    assert store.listed([INKJET, LASER]) == [
        "Büro 2          ×0.9700 (\N{MINUS SIGN}3.00 %) across, ×1.0300 (+3.00 %) down",
        "workroom laser  ×1.0017 (+0.17 %) across, ×1.0000 (+0.00 %) down",
    ]
