"""Jobs kept in folders: each found once, whatever else lies there passed over with its reason."""

from __future__ import annotations

import os
from hashlib import sha256
from pathlib import Path

import pytest

import drapetemplate
from drapetemplate.errors import FileError
from drapetemplate.report.plan_json import as_json
from drapetemplate.shelf.kept import Found, Kept, PassedOver, find, kept_jobs, look
from tests.helpers.jobfiles import LEAST
from tests.helpers.made import made

PDF = made(LEAST)[0]


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A folder of jobs and of all that lies beside them."""
    inner = tmp_path / "2026" / "hall"
    inner.mkdir(parents=True)
    (tmp_path / "b.toml").write_text(LEAST)
    (inner / "a.PDF").write_bytes(PDF)
    (tmp_path / "faulty.toml").write_text("[job]\nname = ")
    (tmp_path / "pyproject.toml").write_text('[project]\nname = "x"\n[tool.job]\nx = 1\n')
    (tmp_path / "bill.pdf").write_bytes(PDF.replace(b"EmbeddedFiles", b"EmbeddedFilms"))
    (tmp_path / "notes.txt").write_text(LEAST)
    (tmp_path / ".hidden.toml").write_text(LEAST)
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "c.toml").write_text(LEAST)
    return tmp_path


def told(paths: list[Path], folder: Path) -> list[tuple[str, str]]:
    """Each file by its path in the folder, with its kind or why it was passed over."""
    return [
        (
            str(each.path.relative_to(folder)),
            each.kind if isinstance(each, Kept) else each.why,
        )
        for each in kept_jobs(paths)
    ]


def test_folder(shelf: Path) -> None:
    """Job files, faulty ones too, and PDFs are found in all folders; other files have a reason."""
    assert told([shelf], shelf) == [
        ("b.toml", "job file"),
        ("bill.pdf", "no job in it"),
        ("faulty.toml", "job file"),
        ("pyproject.toml", "no job file"),
        ("2026/hall/a.PDF", "PDF"),
    ]


def test_file_and_its_pdf_are_one(shelf: Path) -> None:
    """A job file and the PDF made from it have one identity, and another job another one."""
    kept = [each for each in kept_jobs([shelf]) if isinstance(each, Kept)]
    by_name = {each.path.name: each for each in kept}
    assert by_name["b.toml"].identity == by_name["a.PDF"].identity
    assert by_name["b.toml"].identity == sha256(LEAST.encode()).hexdigest()
    assert by_name["faulty.toml"].identity != by_name["b.toml"].identity
    assert by_name["b.toml"].sheets is None
    job = drapetemplate.read_job(LEAST.encode())
    planned = as_json(job, drapetemplate.plan_job(job))
    assert by_name["a.PDF"].sheets == planned["paper"]["sheets"]


def test_named_files(shelf: Path) -> None:
    """A file that is named is read whatever its name ends in, and says so where it gives none."""
    (shelf / "job").write_bytes(PDF)
    names = ["notes.txt", "pyproject.toml", "job", "bill.pdf"]
    found = list(kept_jobs([shelf / name for name in names]))
    kinds = [each.kind if isinstance(each, Kept) else "" for each in found]
    assert kinds == ["job file", "job file", "PDF", ""]
    passed = found[-1]
    assert isinstance(passed, PassedOver)
    assert passed.named
    assert "has no job file in it" in passed.why


def test_named_pdf_is_read_whole(tmp_path: Path) -> None:
    """A PDF whose cross references are lost gives its job when it is named, not in a folder."""
    damaged = PDF.replace(b"startxref\n", b"startxref\n9")
    (tmp_path / "a.pdf").write_bytes(damaged)
    assert told([tmp_path], tmp_path) == [("a.pdf", "damaged, or no PDF")]
    assert told([tmp_path / "a.pdf"], tmp_path) == [("a.pdf", "PDF")]


def test_odd_files(tmp_path: Path) -> None:
    """Pipes, devices, dead links and folders called like files keep nobody waiting."""
    os.mkfifo(tmp_path / "pipe.pdf")
    (tmp_path / "device.toml").symlink_to("/dev/zero")
    (tmp_path / "dead.toml").symlink_to(tmp_path / "nowhere")
    (tmp_path / "loop.pdf").symlink_to(tmp_path / "loop.pdf")
    (tmp_path / "around").symlink_to(tmp_path)
    (tmp_path / "folder.pdf").mkdir()
    (tmp_path / "folder.pdf" / "job.toml").write_text(LEAST)
    (tmp_path / "large.toml").write_bytes(LEAST.encode() + b"#" * (1 << 20))
    linked = "a link to a folder, which isn't followed: name it itself"
    assert told([tmp_path], tmp_path) == [
        ("around", linked),
        ("dead.toml", "can't be read: no such file or directory"),
        ("device.toml", "not a plain file"),
        ("large.toml", "over 1,048,576 bytes, so no job file"),
        ("loop.pdf", "can't be read: too many levels of symbolic links"),
        ("pipe.pdf", "not a plain file"),
        ("folder.pdf/job.toml", "job file"),
    ]


def test_what_vanishes(shelf: Path) -> None:
    """A file that is gone when its turn comes, or a folder, is passed over."""
    found = find([shelf])
    (shelf / "b.toml").unlink()
    passed = look(found[0])
    assert passed == PassedOver(shelf / "b.toml", "can't be read: no such file or directory")


def test_inner_folder_that_is_closed(shelf: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that can't be looked into is passed over, all others are looked through."""
    real = os.scandir

    def refusing(path: Path) -> object:
        if path.name == "2026":
            raise PermissionError(13, "Permission denied")
        return real(path)

    monkeypatch.setattr(os, "scandir", refusing)
    assert told([shelf], shelf)[-1] == ("2026", "can't be read: permission denied")
    with pytest.raises(FileError) as error:
        find([shelf / "2026"])
    [fault] = error.value.faults
    assert fault.where == str(shelf / "2026")


def test_nothing_there(tmp_path: Path) -> None:
    """Each path that isn't there is a fault."""
    with pytest.raises(FileError) as error:
        find([tmp_path / "a", tmp_path, tmp_path / "b.toml"])
    assert [fault.where for fault in error.value.faults] == [
        str(tmp_path / "a"),
        str(tmp_path / "b.toml"),
    ]
    assert find([tmp_path]) == []


def test_names_in_order(tmp_path: Path) -> None:
    """A folder's own files come by name, then its folders by name."""
    for name in ("b/z.toml", "b/a.toml", "a/x.toml", "c.toml", "0.toml"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(LEAST)
    names = ["0.toml", "c.toml", "a/x.toml", "b/a.toml", "b/z.toml"]
    assert find([tmp_path]) == [Found(tmp_path / name) for name in names]
