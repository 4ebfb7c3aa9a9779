"""PDFs made to break a reader: each ends, in bounded memory, with plain lines and an exit code."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest

from drapetemplate import recall_job
from drapetemplate.errors import FileError
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.record.quick_read import NoJobError, attached_job
from tests.hostile import scrawls, strangers
from tests.hostile.bounded import ended
from tests.hostile.strangers import JOB, PDF, of_kind

pytestmark = pytest.mark.long

Held = tuple[str, bytes]
PARTS = [*strangers.PARTS, *scrawls.PARTS]


def quickly_wrong(pdf: bytes, recalled: Path) -> str:
    """What goes wrong as a PDF is looked into as one of many; "" where nothing does."""
    looked_at = 0

    def read_at(offset: int, count: int) -> bytes:
        nonlocal looked_at
        looked_at += count
        return pdf[offset : offset + count]

    try:
        job = attached_job(read_at, len(pdf), MOST_BYTES).job
    except NoJobError:
        job = None
    if looked_at > 20_000_000:
        return f"{looked_at:,} bytes were looked at"
    if job is not None and (not recalled.exists() or recalled.read_bytes() != job):
        return "another job than the one that is recalled"
    return ""


def wrong(corpus: Iterable[Held], folder: Path) -> dict[str, str]:
    """What goes wrong as each PDF of a corpus is measured and recalled, by its name."""
    held, out = folder / "held.pdf", folder / "out.toml"
    found = {}
    for name, data in corpus:
        held.write_bytes(data)
        out.unlink(missing_ok=True)
        runs = {"measure": ended(["measure", held], folder)}
        runs["recall"] = ended(["recall", held, "--out", out], folder)
        for command, run in runs.items():
            if said := run.wrong():
                found[f"{name}, {command}"] = said
        if out.exists() is not (runs["recall"].code == 0):
            found[f"{name}, file"] = "a file and its exit code don't agree"
        if said := quickly_wrong(data, out):
            found[f"{name}, quickly"] = said
    return found


@pytest.mark.parametrize("part", PARTS, ids=lambda part: str(part.__name__))
def test_corpus(part: Callable[[], Iterator[Held]], tmp_path: Path) -> None:
    """Nothing hangs, breaks, takes more memory than a small machine has, or says an odd character.

    Neither does what was recalled replace anything but itself.
    """
    assert wrong(part(), tmp_path) == {}


def test_made_is_true(tmp_path: Path) -> None:
    """What the corpus is made from is itself in order: so each is refused for what it has."""
    held = tmp_path / "held.pdf"
    held.write_bytes(PDF)
    measured = ended(["measure", held], tmp_path)
    assert (measured.code, measured.wrong(), measured.err) == (0, "", b"")
    assert recall_job(PDF) == JOB.encode()


def test_reader_is_silent(caplog: pytest.LogCaptureFixture) -> None:
    """What the library logs of a stranger's bytes goes to no stream unless a caller asks."""
    assert logging.getLogger("pypdf").hasHandlers()
    handlers = logging.getLogger("pypdf").handlers
    assert any(isinstance(one, logging.NullHandler) for one in handlers)
    assert not any(isinstance(one, logging.StreamHandler) for one in handlers)
    caplog.set_level(logging.CRITICAL)
    with pytest.raises(FileError):
        recall_job(b"\x1b[31m" + PDF[:200])


def test_checksum_of_another_kind() -> None:
    """A checksum that is none doesn't count as one left out."""
    with pytest.raises(FileError, match="is damaged"):
        recall_job(of_kind("params", "/CheckSum", 1))
