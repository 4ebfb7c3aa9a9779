"""What commands print: lines that are safe to print, as wide as the terminal is, and progress."""

from __future__ import annotations

import json
import shutil
import sys
import time
from collections.abc import Iterable, Iterator
from typing import IO, TYPE_CHECKING, Any, TypeVar

import typer

from drapetemplate.measures import printable

if TYPE_CHECKING:
    from rich.progress import Progress

T = TypeVar("T")

STOPPED = 1
"""The exit code where a job can't be made as asked."""


def print_lines(lines: Iterable[object], *, errors: bool = False) -> None:
    """Print each on a line of its own, to standard output or to standard error."""
    for line in lines:
        typer.echo(printable(str(line)), err=errors)


def json_text(value: dict[str, Any]) -> str:
    """Return a value as JSON, in ASCII, so that any terminal and any reader takes it."""
    return json.dumps(value, indent=2, ensure_ascii=True, allow_nan=False)


def columns() -> int | None:
    """Return the terminal's columns; None where standard output is none, so lines stay whole."""
    return shutil.get_terminal_size().columns if _is_terminal(sys.stdout) else None


def ascii_only() -> bool:
    """Whether standard output can show no more than ASCII."""
    from drapetemplate.report.screen import needs_ascii

    return needs_ascii(getattr(sys.stdout, "encoding", None) or "utf-8")


def with_progress(
    items: Iterable[T], count: int, doing: str = "Making", wait: float = 0
) -> Iterable[T]:
    """Return the same items, with a progress bar where someone watches and there are several.

    It says what is being done. With `wait` it comes only after so many seconds. The bar is never
    drawn between a line's characters.
    """
    if count == 1 or not (_is_terminal(sys.stdout) and _is_terminal(sys.stderr)):
        return items
    return _with_bar(items, count, doing, wait)


def _with_bar(items: Iterable[T], count: int, doing: str, wait: float) -> Iterator[T]:
    begun = time.monotonic()
    bar: Progress | None = None
    try:
        for done, item in enumerate(items):
            if bar is None and time.monotonic() - begun >= wait:
                bar = _bar()
                task = bar.add_task(doing, total=count)
                bar.start()
            if bar is not None:
                bar.update(task, completed=done)
            yield item
    finally:
        if bar is not None:
            bar.stop()


def _bar() -> Progress:
    from rich.console import Console
    from rich.progress import Progress

    return Progress(console=Console(stderr=True), transient=True)


def _is_terminal(stream: IO[str] | None) -> bool:
    """Whether a stream is a terminal: it may be a file, or closed altogether."""
    return stream is not None and stream.isatty()
