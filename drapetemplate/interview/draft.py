"""The answers of an interview kept beside the job file to come, until that is written.

A draft that can't be read is put aside, never overwritten.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import Fault, FileError
from drapetemplate.interview.states import Answer, State
from drapetemplate.job.parse import MOST_BYTES

NO_NAME_YET = Path("new_job.toml")
"""Beside what the draft is kept while the job file has no name."""

_SUFFIX = ".draft"
_FORMAT = 1


def draft_path(job_file: Path) -> Path:
    """Return where the answers are kept until the job file is there: NAME.toml.draft."""
    return job_file.with_name(f"{job_file.name}{_SUFFIX}")


def revision_of(data: bytes) -> str:
    """Return what tells a job file's bytes from any others."""
    return hashlib.sha256(data).hexdigest()


def as_draft(
    state: State, revision: str | None = None, more: Mapping[str, object] | None = None
) -> bytes:
    """Return a state as a draft's bytes: its answers, and those taken back.

    `revision` is of the job file that it would change; None where there is none yet. `more` is what
    whoever keeps it adds, by names of its own.
    """
    kept = {
        **(more or {}),
        "format": _FORMAT,
        "answers": state.answers,
        "aside": state.taken_back,
        "revision": revision,
    }
    return json.dumps(kept).encode()  # not laid out: that takes four times as long


def from_draft(data: bytes) -> tuple[list[Answer], list[Answer]] | None:
    """Return the answers in a draft's bytes, and those taken back; None where it is no draft."""
    try:
        kept = json.loads(data)
        if kept["format"] != _FORMAT:
            return None
        return _answers(kept["answers"]), _answers(kept["aside"])
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def revision_in(data: bytes) -> str | None:
    """Return the revision of the job file that a draft's bytes go with; None where they name none.

    >>> revision_in(as_draft(State(), "5f7c")), revision_in(b"[]")
    ('5f7c', None)
    """
    try:
        revision = json.loads(data)["revision"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return revision if isinstance(revision, str) else None


def read_draft(draft: Path) -> tuple[list[Answer], list[Answer]] | None:
    """Return what `from_draft` says of a file; FileError where it can't be read."""
    return from_draft(draft_bytes(draft))


def draft_bytes(draft: Path) -> bytes:
    """Return a draft's bytes; FileError where it can't be read, a pipe that is waited for say."""
    most = MOST_BYTES * 4
    with files.opened_plain(draft) as file:
        if file.size > most:
            raise FileError([Fault(str(draft), f"over {most:,} bytes, so no draft")])
        return file.read_at(0, most)


def kept_by(draft: Path) -> str | None:
    """Return who keeps a draft: a run of `new`, or a page; None where there is none, or nobody."""
    try:
        by = json.loads(draft_bytes(draft))["by"]
    except (FileError, ValueError, KeyError, TypeError, RecursionError):
        return None
    return by if isinstance(by, str) else None


def write_draft(
    draft: Path, state: State, revision: str | None = None, *, by: str, take: bool = False
) -> None:
    """Keep a state's answers in a file as `as_draft` has them; FileError where that can't be.

    `by` is who keeps it. What somebody else has put there since is left alone, which is a FileError
    too, but for who has read it and is to `take` it.
    """
    if not take and os.path.lexists(draft) and kept_by(draft) != by:
        raise FileError([Fault(str(draft), "is kept by a page or another `new` by now")])
    files.write(draft, as_draft(state, revision, {"by": by}))


def remove_draft(draft: Path, by: str | None = None) -> None:
    """Remove a draft that isn't needed any more, if that can be done: of somebody, only theirs."""
    if by is not None and kept_by(draft) != by:
        return
    with suppress(OSError):
        draft.unlink()


def put_aside(draft: Path) -> Path:
    """Rename a draft to a name that is free, and return it; FileError where that can't be done."""
    names = (draft.with_name(f"{draft.name}.{n}") for n in range(1, 10_000))
    free = next(name for name in names if not os.path.lexists(name))
    try:
        draft.rename(free)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise FileError([Fault(str(draft), f"can't be put aside: {reason}")]) from error
    return free


def _answers(pairs: Iterable[tuple[object, object]]) -> list[Answer]:
    return [Answer(_text(path), _text(text)) for path, text in pairs]


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value.encode("utf-8", "replace").decode()
