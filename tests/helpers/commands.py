"""The command line, run in the tests' own process or in one of its own, as a user starts it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from drapetemplate.cli.app import app
from tests.hostile.bounded import ended

TOOL = (sys.executable, "-m", "drapetemplate")
"""What starts the tool in a process of its own; which checkout that is, `conftest.py` sees to."""

Environment = Mapping[str, str | None]


def run(*words: object, env: Environment | None = None) -> Result:
    """The command line, run in this process."""
    return CliRunner().invoke(app, [str(word) for word in words], env=env)


def around(env: Environment | None = None) -> dict[str, str]:
    """The tests' own environment with some names set over it; None takes one out."""
    names = {**os.environ, **(env or {})}
    return {name: value for name, value in names.items() if value is not None}


def typed(
    *words: object,
    cwd: Path | None = None,
    env: Environment | None = None,
    first: Callable[[], None] | None = None,
) -> subprocess.CompletedProcess[bytes]:
    """The command line, run as a user would, in a folder.

    `first` is called in the new process before all else.
    """
    return subprocess.run(
        [*TOOL, *map(str, words)],
        cwd=cwd,
        env=around(env),
        capture_output=True,
        check=False,
        preexec_fn=first,  # no threads here
    )


def forked(
    *words: object,
    cwd: Path,
    env: Environment | None = None,
    first: Callable[[], None] | None = None,
) -> subprocess.CompletedProcess[bytes]:
    """The same but for its start: a fork of the tests' process, where all is imported already.

    So it shows nothing of how Python starts, its locale and encodings.
    """
    line = list(map(str, words))
    run = ended(line, cwd, env=env, first=first)
    assert run.code is not None, "it didn't end"
    return subprocess.CompletedProcess(line, run.code, run.out, run.err)


Start = Callable[..., subprocess.CompletedProcess[bytes]]

STARTS = [
    pytest.param(forked, id="fork"),
    pytest.param(typed, id="process", marks=pytest.mark.long),
]
"""Both ways, for tests of what a process does: the fork in every run, the other in long ones."""


def refused(result: Result, expected: str) -> None:
    """Fail unless a command ended with one line of error, exit 2 and nothing else."""
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.endswith("\n")
    (line,) = result.stderr.splitlines()
    assert expected in line
