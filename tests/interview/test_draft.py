"""Drafts: answers kept until the job file is there, and told from what is none."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate.interview.draft import as_draft, draft_path, from_draft
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
