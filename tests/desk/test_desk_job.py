"""What is told of a file as the desk opens it, without a server: what no field can show."""

from __future__ import annotations

from pathlib import Path

from drapetemplate.desk.desk_job import DeskJob
from tests.helpers.jobfiles import LEAST, job_toml


def told(folder: Path, text: str) -> list[str]:
    """What a page is told of a file that it opens."""
    (folder / "job.toml").write_text(text)
    return [fault.text for fault in DeskJob(folder, "job.toml").start("page").faults]


def test_what_no_field_shows(tmp_path: Path) -> None:
    """A fault at a key that isn't asked for, and a key that goes; a fault at a field isn't."""
    assert told(tmp_path, LEAST) == []
    assert told(tmp_path, LEAST.replace("88", "0")) == []
    (text,) = told(tmp_path, f"{LEAST}[paper]\nprinter = 5\n")
    assert text.startswith("5 ")
    three = job_toml("width = 60\ncovers = 40\nfullness = 2")
    assert told(tmp_path, three) == [
        "window[1].fullness counts only beside other answers: saving takes it out of the file"
    ]
