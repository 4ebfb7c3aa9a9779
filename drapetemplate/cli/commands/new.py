"""What `new` does: the measures asked for, one at a time, and a job file written."""

from __future__ import annotations

import sys
from pathlib import Path

import typer

from drapetemplate.interview.terminal import interview


def new(path: Path | None) -> None:
    """Ask at the terminal; exit as the interview ends."""
    raise typer.Exit(interview(path, sys.stdin, sys.stdout))
