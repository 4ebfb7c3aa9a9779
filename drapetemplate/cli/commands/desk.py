"""What `desk` does: a job file or a folder in, a page served to this computer's browser.

Or, where it is asked for, a file on the desktop that starts it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import typer

from drapetemplate.cli import output
from drapetemplate.desk.desk_job import desk_job
from drapetemplate.desk.starter import starter_is_missing, write_starter


def desk(path: Path | None, *, no_open: bool, starter: bool) -> None:
    """Serve the desk, shown in a browser unless `no_open`; or only put its starter."""
    if starter:
        put_starter(path, _say)
    else:
        serve_desk(path, _say, None if no_open else _open_page)


def _say(line: str) -> None:
    output.print_lines([line])


def _open_page(page: Path) -> None:
    """Open a page in this computer's browser, or say that none can be."""
    if typer.launch(str(page)):
        output.print_lines(["no browser here to open it with: open the address"], errors=True)


def serve_desk(
    path: Path | None, say: Callable[[str], None], show: Callable[[Path], None] | None
) -> None:
    """Serve the desk for a job file, or a new job, until Ctrl-C.

    `say` prints a line; `show` opens a file in a browser, None doesn't.
    """
    opened = desk_job(path)
    from drapetemplate.desk.server import serve

    def say_where(address: str) -> None:
        say(f"The desk is at {address}")
        say("On this computer alone. Ctrl-C ends it.")
        if starter_is_missing():
            say("To start it from your desktop: drapetemplate desk --starter")

    serve(opened, say_where, show)
    say("Ended.")


def put_starter(path: Path | None, say: Callable[[str], None]) -> None:
    """Put a starter of the desk, for a job file, a folder or this one, on the computer's desktop.

    `say` prints a line.
    """
    opened = desk_job(path)
    written, hint = write_starter(path)
    say(f"Written: {written}")
    what = f"{opened.name} in {opened.folder}" if opened.name else f"the folder {opened.folder}"
    say(f"It starts the desk for {what}. To be rid of it, delete that file.")
    if hint:
        say(hint)
