"""Work over several processes, one of which is ended from outside."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from drapetemplate.cli.make import Outcome, Request
from drapetemplate.cli.processes import ENDED, over_processes
from drapetemplate.errors import Fault, FileError
from tests.helpers.commands import run


def test_a_killed_worker_is_a_fault() -> None:
    """Whoever waits for the work is told in a line, and what to try.

    A process that leaves without a word looks as one that a system ends whose memory runs out.
    """
    with pytest.raises(FileError) as caught:
        list(over_processes(os._exit, range(1, 3), workers=2))
    assert [str(fault) for fault in caught.value.faults] == [f"--workers: {ENDED}"]


def test_what_was_made_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of jobs done before, their PDFs and their faults; then that the rest isn't."""
    paths = [tmp_path / f"{n}.toml" for n in range(3)]
    for path in paths:
        path.write_text("")

    def broken(requests: Sequence[Request], _: int | None) -> Iterator[Outcome]:
        yield Outcome(requests[0].job_file, 0, pdfs=((requests[0].target, 4),))
        yield Outcome(requests[1].job_file, 2, faults=(Fault("paper", "is torn"),))
        raise FileError([Fault("--workers", ENDED)])

    monkeypatch.setattr("drapetemplate.cli.commands.make.make_all", broken)
    result = run("make", *paths, "--out", tmp_path)
    assert result.exit_code == 2
    assert result.stdout.splitlines() == [
        f"{tmp_path / '0.pdf'}: 4 pages",
        f"{paths[1]}: not made",
    ]
    assert result.stderr.splitlines() == [f"{paths[1]}: paper: is torn", f"--workers: {ENDED}"]
