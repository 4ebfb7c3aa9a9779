"""Files read with a limit and written whole or not at all, whatever goes wrong in between."""

from __future__ import annotations

import os
import stat
import tracemalloc
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from drapetemplate import files
from drapetemplate.errors import FileError


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
