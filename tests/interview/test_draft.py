"""Drafts: answers kept until the job file is there, and told from what is none."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from drapetemplate.errors import FileError
from drapetemplate.interview.draft import (
    as_draft,
    draft_bytes,
    draft_path,
    from_draft,
    read_draft,
    remove_draft,
    write_draft,
)
from drapetemplate.interview.states import Answer, State


def test_draft_stands_beside() -> None:
    """A draft has its job file's name and one ending more."""
    assert draft_path(Path("jobs/room.toml")) == Path("jobs/room.toml.draft")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"[]",
        b'"x"',
        b"\xff",
        b'{"format": 2, "answers": [], "aside": []}',
        b'{"format": 1, "answers": [["units", 1]], "aside": []}',
        b'{"format": 1, "answers": [["units"]], "aside": []}',
        b'{"format": 1, "answers": ["ab", 3], "aside": []}',
        b'{"format": 1, "answers": []}',
        b"[" * 100_000,
    ],
)
def test_no_draft(data: bytes) -> None:
    """What isn't a draft is told from one."""
    assert from_draft(data) is None


def test_draft_round_trip() -> None:
    """A draft keeps answers and what was taken back, whatever their characters."""
    state = State(
        (Answer("job.name", 'a\x1b"é\\'),), (Answer("job.room", "\N{RIGHT-TO-LEFT OVERRIDE}"),)
    )
    assert from_draft(as_draft(state)) == (list(state.answers), list(state.taken_back))


def test_nobodys_draft_is_undone_in_silence(tmp_path: Path) -> None:
    """What another keeps there since is neither written over nor removed, until it is taken."""
    draft, mine = tmp_path / "job.toml.draft", State((Answer("job.name", "mine"),))
    others = State((Answer("job.name", "the other's"),))
    write_draft(draft, mine, by="me")
    write_draft(draft, others, by="page", take=True)
    with pytest.raises(FileError, match="is kept by a page or another `new` by now"):
        write_draft(draft, mine, by="me")
    remove_draft(draft, "me")
    assert read_draft(draft) == (list(others.answers), [])
    write_draft(draft, mine, by="me", take=True)
    remove_draft(draft, "me")
    assert not draft.exists()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with a name here")
def test_pipe_is_no_draft(tmp_path: Path) -> None:
    """A pipe in a draft's place is refused, and not waited for."""
    pipe = tmp_path / "linen.toml.draft"
    os.mkfifo(pipe)
    with ThreadPoolExecutor() as pool:
        reading = pool.submit(draft_bytes, pipe)
        try:
            error = reading.exception(timeout=5)
        finally:
            # One that waits has its other end opened, so that this test ends too.
            os.close(os.open(pipe, os.O_RDWR | os.O_NONBLOCK))
    assert isinstance(error, FileError)
    assert str(error) == f"{pipe}: not a plain file"
