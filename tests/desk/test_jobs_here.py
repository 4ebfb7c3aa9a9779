"""The jobs in the desk's folder: listed, and one of them opened in place of another."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from drapetemplate.desk.desk_job import desk_job
from drapetemplate.desk.jobs_here import MOST_LOOKED_INTO, jobs_here, take_out
from drapetemplate.errors import FileError
from tests.helpers.desk_server import running
from tests.helpers.jobfiles import LEAST, NAME, job_toml
from tests.helpers.made import made

LINEN = job_toml(
    job='number = "HP-9"\ndue = 2027-02-10\nclient = "Heron\\u202e"\nnotes = "Grey wool"'
)
PANTRY = f"# As measured on Monday.\n{job_toml(job='due = 2027-01-03')}"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of job files, their PDFs, and much that isn't for the desk."""
    folder = tmp_path / "folder"
    (folder / "inner").mkdir(parents=True)
    (folder / "writing.toml").write_text(LEAST)
    (folder / "linen.toml").write_text(LINEN)
    (folder / "linen.pdf").write_bytes(made(LINEN)[0])
    (folder / "pantry.pdf").write_bytes(made(PANTRY)[0])
    (folder / "faulty.toml").write_text(LEAST.replace("88", "88 parsecs"))
    (folder / "pyproject.toml").write_text("[project]\n")
    (folder / "bill.pdf").write_bytes(b"%PDF-1.7\n")
    (folder / ".hidden.toml").write_text(LEAST)
    (folder / "odd\u202e.toml").write_text(LEAST)
    (folder / "inner" / "deep.toml").write_text(LEAST)
    (tmp_path / "outside.toml").write_text(LEAST)
    (folder / "link.toml").symlink_to(tmp_path / "outside.toml")
    os.mkfifo(folder / "pipe.toml")
    return folder


def test_listed_and_opened(folder: Path) -> None:
    """Job files, and PDFs whose job no job file there has; only the folder's own, due ones first.

    A page has the file that it asks for, and keeps and saves that one; another page has its own.
    """
    with running(folder, "writing.toml", "--no-open") as desk:
        told = desk.ask("/jobs", {}).json
        names = ["pantry.pdf", "linen.toml", "faulty.toml", "writing.toml"]
        assert ([job["file"] for job in told["jobs"]], told["more"]) == (names, 0)
        assert told["jobs"][1] == {
            "file": "linen.toml",
            "number": "HP-9",
            "name": NAME,
            "client": "Heron\ufffd",
            "due": "2027-02-10",
            "found_by": ["HP-9", NAME, "Heron\u202e", "Grey wool", "Window 1", "linen.toml"],
        }
        other = desk.start("other")
        mine = desk.ask("/start", {"file": "linen.toml"}, "mine").json
        assert (mine["file"], mine["answers"]["job.number"]) == ("linen.toml", "HP-9")
        answers = {**mine["answers"], "window[1].width": "61"}
        assert desk.ask("/draft", {"answers": answers}, "mine").json == {"differs": True}
        assert (folder / "linen.toml.draft").exists()
        body = {"answers": answers, "name": None, "revision": mine["revision"]}
        assert desk.ask("/save", body, "mine").json["file"] == "linen.toml"
        body = {"answers": {**other["answers"], "window[1].width": "89"}}
        assert desk.ask("/draft", body, "other").json == {"differs": True}
        assert (folder / "writing.toml.draft").exists()
        for file in (3, ["linen.toml"], {"name": "linen.toml"}):
            assert desk.ask("/start", {"file": file}).status == 422
        assert desk.ask("/start", {"file": "../outside.toml"}).status == 422
        assert desk.ask("/jobs", {"x": 1}).status == 422
        assert desk.send("POST", "/jobs", b"{}").status == 403
        assert desk.lives()
    assert (folder / "linen.toml").read_text() == LINEN.replace("60", "61")
    assert (folder / "writing.toml").read_text() == LEAST


def test_what_is_not_saved_waits(folder: Path) -> None:
    """A draft left at one job is taken up when that is opened again; a new job has its own."""
    desk = desk_job(folder / "writing.toml")
    answers = {**desk.start("first").answers, "window[1].width": "89"}
    assert desk.keep("first", answers)
    new = desk.start("new", "")
    assert (new.opened.name, new.source, new.answers) == (None, "new", {})
    again = desk.start("again", "writing.toml")
    assert (again.source, again.answers) == ("draft", answers)


def test_pdf_opened(folder: Path) -> None:
    """Its job file is written beside it byte for byte, and opened; nothing there is replaced."""
    desk = desk_job(folder)
    start = desk.start("page", "pantry.pdf")
    assert start.opened.name == "pantry.toml"
    assert [fault.text for fault in start.faults] == ["pantry.toml has the job out of pantry.pdf"]
    assert (folder / "pantry.toml").read_text() == PANTRY
    (folder / "pantry.toml").write_text(LEAST)
    assert desk.start("page", "pantry.pdf").opened.name == "pantry-2.toml"
    assert (folder / "pantry.toml").read_text() == LEAST
    assert desk.start("page", "pantry.pdf").opened.name == "pantry-2.toml"


@pytest.mark.parametrize(
    "file",
    [
        "../outside.toml",
        "inner/deep.toml",
        "link.toml",
        ".hidden.toml",
        "pipe.toml",
        "odd\u202e.toml",
        "/etc/passwd",
        "none.toml",
        "bill.pdf",
        "linen.toml\0",
        ".",
    ],
)
def test_nothing_else_is_opened(folder: Path, file: str) -> None:
    """Only what lies in the folder itself under that very name; the page is told in a line."""
    before = sorted(path.name for path in folder.iterdir())
    with pytest.raises(FileError) as error:
        desk_job(folder / "writing.toml").start("page", file)
    assert len(error.value.faults) == 1
    assert sorted(path.name for path in folder.iterdir()) == before


def test_very_many(tmp_path: Path) -> None:
    """So many are looked into, and the rest counted."""
    for number in range(MOST_LOOKED_INTO + 3):
        (tmp_path / f"{number:04}.toml").write_bytes(b"# no job")
    (tmp_path / "0000.toml").write_text(LEAST)
    here = jobs_here(tmp_path)
    assert ([job.file for job in here.jobs], here.more) == (["0000.toml"], 3)


def test_taken_out_of_nothing(folder: Path) -> None:
    """A PDF without a job, and a folder that can't be written to."""
    with pytest.raises(FileError, match=r"bill\.pdf"):
        take_out(folder / "bill.pdf")
    assert not (folder / "bill.toml").exists()
