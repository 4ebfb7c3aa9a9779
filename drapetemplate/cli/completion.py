"""The beginning of a word in, what a shell may offer for it out: files, printers, windows, codes.

Whatever goes wrong here offers nothing: a shell asks while its user types.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from drapetemplate import files
from drapetemplate.errors import DrapeError
from drapetemplate.job.build import read_job
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.planning.findings import STOP_CODES
from drapetemplate.printers import store


def job_files(incomplete: str) -> Iterator[str]:
    """Yield job files and folders that begin so."""
    yield from _paths(incomplete, ".toml")


def pdf_files(incomplete: str) -> Iterator[str]:
    """Yield PDFs and folders that begin so."""
    yield from _paths(incomplete, ".pdf")


def printer_names(incomplete: str) -> Iterator[str]:
    """Yield calibrated printers' names that begin so."""
    with suppress(DrapeError):
        yield from _starting((printer.name for printer in store.known()), incomplete)


def window_names(ctx: Any, incomplete: str) -> Iterator[str]:  # noqa: ANN401  # the shell's context
    """Yield names of the windows of the jobs named before on the line."""
    # A command that takes several jobs has them still unread among its words.
    named = [ctx.params.get("job_file"), *(ctx.params.get("jobs") or ()), *ctx.args]
    for path in named:
        with suppress(DrapeError, TypeError):
            job = read_job(files.read(Path(path), MOST_BYTES), str(path))
            yield from _starting((window.name for window in job.windows), incomplete)


def stop_codes(incomplete: str) -> Iterator[str]:
    """Yield codes that --accept takes."""
    yield from _starting(STOP_CODES, incomplete)


def paper_sizes(incomplete: str) -> Iterator[str]:
    """Yield papers with a name."""
    yield from _starting(SHEETS, incomplete)


def _starting(words: Iterable[str], incomplete: str) -> Iterator[str]:
    return (word for word in words if word.startswith(incomplete))


def _paths(incomplete: str, suffix: str) -> Iterator[str]:
    """Paths as typed so far and on: folders end in /, so that typing can go on inside."""
    folder, _, start = incomplete.rpartition("/")
    prefix = f"{folder}/" if folder or incomplete.startswith("/") else ""
    with suppress(OSError, ValueError):
        for path in sorted(Path(prefix or ".").iterdir()):
            if path.name.startswith(start) and (start or not path.name.startswith(".")):
                if path.is_dir():
                    yield f"{prefix}{path.name}/"
                elif path.name.lower().endswith(suffix):
                    yield f"{prefix}{path.name}"
