"""Files read with a limit and written whole or not at all, whatever goes wrong in between."""

from __future__ import annotations

import os
import stat
import sys
import tracemalloc
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from drapetemplate import files
from drapetemplate.errors import Fault, FileError


@pytest.fixture
def umask() -> Iterator[Callable[[int], object]]:
    """`os.umask`, put back at the end."""
    before = os.umask(0o022)
    yield os.umask
    os.umask(before)


def _fault(refused: pytest.ExceptionInfo[FileError], path: Path) -> str:
    """The text of the only fault, once it is sure that it names the file."""
    (fault,) = refused.value.faults
    assert str(path) == fault.where
    return fault.text


def _failing(error: BaseException) -> Callable[..., None]:
    def fail(*_: object, **__: object) -> None:
        raise error

    return fail


def test_read(tmp_path: Path) -> None:
    """A file's bytes come back as they are."""
    path = tmp_path / "job.toml"
    path.write_bytes(b"a\r\n\x00\xff")
    assert files.read(path, 100) == b"a\r\n\x00\xff"


def test_read_up_to_the_limit(tmp_path: Path) -> None:
    """A file of just the limit is read; one byte more is refused, with the limit."""
    path = tmp_path / "job.toml"
    path.write_bytes(b"x" * 1000)
    assert files.read(path, 1000) == b"x" * 1000
    path.write_bytes(b"x" * 1001)
    with pytest.raises(FileError) as refused:
        files.read(path, 1000)
    assert _fault(refused, path) == "over 1,000 bytes, so no job file"


def test_read_endless_file() -> None:
    """A file without an end is read no further than the limit."""
    path = Path("/dev/zero")
    if not path.exists():
        pytest.skip("this system has no /dev/zero")
    with pytest.raises(FileError) as refused:
        files.read(path, 1000)
    assert _fault(refused, path).startswith("over 1,000 bytes")


def test_read_takes_memory_for_what_is_there(tmp_path: Path) -> None:
    """A small file with a large limit takes little: a machine may have less than the limit."""
    path = tmp_path / "small.pdf"
    path.write_bytes(b"%PDF")
    tracemalloc.start()
    try:
        assert files.read(path, 500_000_000) == b"%PDF"
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 5_000_000


def test_read_missing_file(tmp_path: Path) -> None:
    """A file that isn't there is told in the system's words, without a second path."""
    with pytest.raises(FileError) as refused:
        files.read(tmp_path / "job.toml", 100)
    text = _fault(refused, tmp_path / "job.toml")
    assert text == "can't be read: no such file or directory"


def test_read_folder(tmp_path: Path) -> None:
    """A folder is no file."""
    with pytest.raises(FileError) as refused:
        files.read(tmp_path, 100)
    assert _fault(refused, tmp_path) == "can't be read: is a directory"


def test_read_name_no_file_can_have() -> None:
    """A name with a null byte is refused like any other that can't be read."""
    path = Path("job\0.toml")
    with pytest.raises(FileError) as refused:
        files.read(path, 100)
    assert _fault(refused, path).startswith("can't be read: ")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read and write everything")
def test_no_permission(tmp_path: Path) -> None:
    """A file that may not be read, and a folder that may not be written to, are refused."""
    path = tmp_path / "job.toml"
    path.write_bytes(b"x")
    path.chmod(0)
    with pytest.raises(FileError) as refused:
        files.read(path, 100)
    assert _fault(refused, path) == "can't be read: permission denied"
    tmp_path.chmod(0o500)
    with pytest.raises(FileError) as refused:
        files.write(tmp_path / "job.pdf", b"x")
    tmp_path.chmod(0o700)
    assert _fault(refused, tmp_path / "job.pdf") == "can't be written: permission denied"


def test_write(tmp_path: Path) -> None:
    """Bytes written are there, alone in their folder; written again, they are replaced."""
    path = tmp_path / "job.pdf"
    files.write(path, b"old and long")
    files.write(path, b"new")
    assert path.read_bytes() == b"new"
    assert [path] == list(tmp_path.iterdir())


@pytest.mark.parametrize(("mask", "mode"), [(0o022, 0o644), (0o077, 0o600), (0o002, 0o664)])
def test_write_respects_the_umask(
    tmp_path: Path, umask: Callable[[int], object], mask: int, mode: int
) -> None:
    """A new file is as open as the user's umask lets new files be."""
    umask(mask)
    path = tmp_path / "job.pdf"
    files.write(path, b"x")
    assert mode == stat.S_IMODE(path.stat().st_mode)


@pytest.mark.parametrize("step", ["replace", "fsync"])
@pytest.mark.parametrize(
    ("error", "raised"),
    [
        (OSError(28, "No space left on device"), FileError),
        (KeyboardInterrupt(), KeyboardInterrupt),
    ],
)
def test_failing_write_leaves_the_old_file(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    step: str,
    error: BaseException,
    raised: type[BaseException],
) -> None:
    """Whatever stops a write, what stood there still stands, and nothing is left beside it."""
    path = tmp_path / "job.pdf"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, step, _failing(error))
    with pytest.raises(raised):
        files.write(path, b"new")
    monkeypatch.undo()
    assert path.read_bytes() == b"old"
    assert [path] == list(tmp_path.iterdir())


def test_failing_write_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk is told as that, with the file that was to be written."""
    path = tmp_path / "job.pdf"
    monkeypatch.setattr(os, "fsync", _failing(OSError(28, "No space left on device")))
    with pytest.raises(FileError) as refused:
        files.write(path, b"new")
    assert _fault(refused, path) == "can't be written: no space left on device"
    with pytest.raises(FileError) as refused:
        files.write_new(path, b"new")
    assert _fault(refused, path) == "can't be written: no space left on device"
    assert list(tmp_path.iterdir()) == []


def test_write_into_no_folder(tmp_path: Path) -> None:
    """A folder that isn't there is not made."""
    path = tmp_path / "pdfs" / "job.pdf"
    with pytest.raises(FileError) as refused:
        files.write(path, b"x")
    assert _fault(refused, path) == "can't be written: no such file or directory"
    assert list(tmp_path.iterdir()) == []


def test_write_over_a_folder(tmp_path: Path) -> None:
    """A folder is never replaced by a file, and nothing is left beside it."""
    path = tmp_path / "pdfs"
    path.mkdir()
    with pytest.raises(FileError) as refused:
        files.write(path, b"x")
    assert _fault(refused, path) == "can't be written: is a directory"
    assert path.is_dir()
    assert [path] == list(tmp_path.iterdir())


def test_write_over_a_pipe(tmp_path: Path) -> None:
    """A pipe or a device, /dev/null say, stays what it is: a rename would put a file there."""
    path = tmp_path / "pipe"
    os.mkfifo(path)
    with pytest.raises(FileError) as refused:
        files.write(path, b"x")
    assert _fault(refused, path) == "can't be written: not a plain file"
    assert path.is_fifo()
    assert [path] == list(tmp_path.iterdir())


def test_write_longest_name(tmp_path: Path) -> None:
    """A name as long as the folder allows can be written to."""
    path = tmp_path / ("a" * 251 + ".pdf")
    files.write(path, b"x")
    assert path.read_bytes() == b"x"


def test_write_name_too_long(tmp_path: Path) -> None:
    """A name longer than the folder allows is refused, with nothing left behind."""
    path = tmp_path / ("a" * 300)
    with pytest.raises(FileError) as refused:
        files.write(path, b"x")
    assert _fault(refused, path) == "can't be written: file name too long"
    assert list(tmp_path.iterdir()) == []


def test_write_new(tmp_path: Path) -> None:
    """What is there stands, and is right as it is where it is the same to the byte alone."""
    path = tmp_path / "job.toml"
    assert files.write_new(path, b"width = 60")
    os.utime(path, (0, 0))
    assert not files.write_new(path, b"width = 60")
    for others in (b"width = 61", b"width = 6"):
        with pytest.raises(FileError) as refused:
            files.write_new(path, others)
        assert _fault(refused, path) == "is there already: name another file with --out"
    assert (path.read_bytes(), path.stat().st_mtime) == (b"width = 60", 0)
    assert list(tmp_path.iterdir()) == [path]
    runs = tmp_path / "starter"
    files.write_new(runs, b"#!/bin/sh", runs=True)
    assert os.access(runs, os.X_OK)


@pytest.mark.parametrize("links", [True, False])
def test_write_new_beside_another_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, links: bool
) -> None:
    """What another run puts there meanwhile stands, on a disk of one name a file as well."""
    if not links:
        monkeypatch.setattr(os, "link", _failing(OSError(1, "Operation not permitted")))
    free = tmp_path / "free.toml"
    assert files.write_new(free, b"mine")
    assert list(tmp_path.iterdir()) == [free]
    path = tmp_path / "job.toml"
    real = os.fsync

    def meanwhile(handle: int) -> None:
        path.write_bytes(b"another's")
        real(handle)

    monkeypatch.setattr(os, "fsync", meanwhile)
    with pytest.raises(FileError) as refused:
        files.write_new(path, b"mine")
    assert _fault(refused, path) == "is there already: name another file with --out"
    assert path.read_bytes() == b"another's"
    assert sorted(tmp_path.iterdir()) == [free, path]


def test_what_killed_runs_left(tmp_path: Path) -> None:
    """Parts of a file older than an hour go, and those from the future: a clock was wrong then.

    One that another run may be writing stays, and so does whatever else is there.
    """
    now = tmp_path / "now"
    now.touch()
    hour = 3600
    ages = {
        ".job.pdf.0123456789abcdef.part": 1.1 * hour,
        ".job.pdf.1123456789abcdef.part": -1.1 * hour,
        ".job.pdf.2123456789abcdef.part": 0.9 * hour,
        ".job.pdf.3123456789abcdef.part": -0.9 * hour,
        ".jobspdf.4123456789abcdef.part": 2 * hour,
        ".job.pdf.512345678.part": 2 * hour,
        "job.pdf.6123456789abcdef.part": 2 * hour,
    }
    for name, age in ages.items():
        part = tmp_path / name
        part.touch()
        os.utime(part, (0, now.stat().st_mtime - age))
    files.write(tmp_path / "job.pdf", b"x")
    left = {path.name for path in tmp_path.iterdir()}
    assert set(ages) - left == {
        ".job.pdf.0123456789abcdef.part",
        ".job.pdf.1123456789abcdef.part",
    }
    assert left - set(ages) == {"now", "job.pdf"}


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (None, b"two\n"),
        (b"", b"two\n"),
        (b"one", b"one\ntwo\n"),
        (b"one\n", b"one\ntwo\n"),
        (b"twofold\n", b"twofold\ntwo\n"),
        (b"two\r\none", None),
    ],
)
def test_add_line(tmp_path: Path, before: bytes | None, after: bytes | None) -> None:
    """A line is added once, on a line of its own, whatever stands before it."""
    path = tmp_path / "start"
    if before is not None:
        path.write_bytes(before)
    assert files.add_line(path, "two") == (after is not None)
    assert path.read_bytes() == (before if after is None else after)
    assert not files.add_line(path, "two")


def test_locked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second run is told that the first has it, and has it once that is through, or failed."""
    path = tmp_path / "printers.json"
    monkeypatch.setattr(files, "PATIENCE", 0)
    with suppress(KeyError), files.locked(path):
        with pytest.raises(FileError) as refused, files.locked(path):
            pass
        expected = "another run has kept it locked for 0 s: try again"
        assert _fault(refused, path) == expected
        raise KeyError
    with files.locked(path):
        assert [each.name for each in tmp_path.iterdir()] == ["printers.json.lock"]
    with pytest.raises(FileError) as refused, files.locked(tmp_path / "no" / "printers.json"):
        pass
    assert _fault(refused, tmp_path / "no" / "printers.json").startswith("can't be written: ")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has another lock")
def test_a_disk_without_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody is kept waiting there."""
    import fcntl  # noqa: PLC0415  # not on Windows

    monkeypatch.setattr(fcntl, "flock", _failing(OSError(38, "Function not implemented")))
    monkeypatch.setattr(files, "PATIENCE", 0)
    with files.locked(tmp_path / "printers.json"), files.locked(tmp_path / "printers.json"):
        pass


def test_folders(tmp_path: Path) -> None:
    """Files are listed by name, whatever letters their endings have; inner folders come after."""
    files.make_folder(tmp_path / "b" / "c")
    files.make_folder(tmp_path / "b")
    files.make_folder(tmp_path / "d")
    for name in (
        "d/w.toml",
        "b/z.toml",
        "b/c/y.pdf",
        "b/.hidden.toml",
        "x.TOML",
        "a.toml",
        "a.txt",
    ):
        (tmp_path / name).touch()
    assert [path.name for path in files.listed(tmp_path, ".toml")] == ["a.toml", "x.TOML"]
    (tmp_path / "link").symlink_to(tmp_path / "b")
    walked = files.walked(tmp_path, [".toml", ".pdf"])
    told = "a link to a folder, which isn't followed: name it itself"
    assert list(walked) == [
        tmp_path / "a.toml",
        Fault(str(tmp_path / "link"), told),
        tmp_path / "x.TOML",
        tmp_path / "b/z.toml",
        tmp_path / "b/c/y.pdf",
        tmp_path / "d/w.toml",
    ]
    for refused_by in (
        lambda path: files.listed(path, ".toml"),
        lambda path: list(files.walked(path, [".toml"])),
    ):
        with pytest.raises(FileError) as refused:
            refused_by(tmp_path / "nowhere")
        assert _fault(refused, tmp_path / "nowhere") == "can't be read: no such file or directory"
    with pytest.raises(FileError) as refused:
        files.make_folder(tmp_path / "a.toml")
    assert _fault(refused, tmp_path / "a.toml") == "can't be made: file exists"


def test_read_here_and_there(tmp_path: Path) -> None:
    """So many bytes from an offset on, fewer at the end, none past it or before the start."""
    path = tmp_path / "job.pdf"
    path.write_bytes(b"0123456789")
    with files.opened_plain(path) as file:
        assert file.size == 10
        asked = [(0, 3), (7, 3), (7, 9), (9, 1), (10, 1), (-1, 3), (4, 0)]
        expected = [b"012", b"789", b"789", b"9", b"", b"", b""]
        assert [file.read_at(*each) for each in asked] == expected
    for odd, why in [(tmp_path, "not a plain file"), (tmp_path / "no", "can't be read: no such")]:
        with pytest.raises(FileError) as refused, files.opened_plain(odd):
            pass
        assert _fault(refused, odd).startswith(why)


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("North window", "North window"),
        ("../etc: a/b\\c", "_etc_ a_b_c"),
        (" . hidden. ", "hidden"),
        (" a   b ", "a b"),
        ("a\tb\nc", "a_b_c"),
        ("cafe\N{COMBINING ACUTE ACCENT}", "café"),
        ("हिन्दी", "हिन्दी"),
        ("0-9_,.()", "0-9_,.()"),
        # Devices on Windows, whatever follows the first dot.
        ("con", "_con"),
        ("Aux.bay", "_Aux.bay"),
        ("COM1 .x", "_COM1 .x"),
        ("lpt9", "_lpt9"),
        ("lpt0", "lpt0"),
        ("bay.con", "bay.con"),
        ("console", "console"),
        ("", "_"),
        ("...", "_"),
        ("a" * 61, "a" * 60),
    ],
)
def test_part_of_a_name(text: str, part: str) -> None:
    """A job's words name its files: no folder left, nothing hidden, no device."""
    assert files.file_part(text) == part


def test_part_of_a_name_in_bytes() -> None:
    """Letters of several bytes are kept whole, as many as fit."""
    assert files.file_part("漢" * 60, 181) == "漢" * 60
    assert files.file_part("漢" * 60, 179) == "漢" * 59
    assert files.file_part("漢", 2) == "_"
    assert files.file_part("\U00020000" * 60) == "\U00020000" * 50  # 200 bytes
    assert files.file_part("a" + "\U00020000" * 60) == "a" + "\U00020000" * 49
