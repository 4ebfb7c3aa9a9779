"""What `desk` does: a job file or a folder in, a page served to this computer's browser.

Or, where it is asked for, a file on the desktop that starts it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path


def desk(
    path: Path | None, say: Callable[[str], None], show: Callable[[Path], None] | None
) -> None:
    """Serve the desk for a job file, or a new job, until Ctrl-C.

    `say` prints a line; `show` opens a file in a browser, None doesn't.
    """
    # Their libraries are loaded for this command alone.
    from drapetemplate.desk.desk_job import desk_job  # noqa: PLC0415
    from drapetemplate.desk.server import serve  # noqa: PLC0415
    from drapetemplate.desk.starter import starter_is_missing  # noqa: PLC0415

    def say_where(address: str) -> None:
        say(f"The desk is at {address}")
        say("On this computer alone. Ctrl-C ends it.")
        if starter_is_missing():
            say("To start it from your desktop: drapetemplate desk --starter")

    serve(desk_job(path), say_where, show)
    say("Ended.")


def put_starter(path: Path | None, say: Callable[[str], None]) -> None:
    """Put a starter of the desk, for a job file, a folder or this one, on the computer's desktop.

    `say` prints a line.
    """
    from drapetemplate.desk.desk_job import desk_job  # noqa: PLC0415  # likewise
    from drapetemplate.desk.starter import write_starter  # noqa: PLC0415  # likewise

    opened = desk_job(path)
    written, hint = write_starter(path)
    say(f"Written: {written}")
    what = f"{opened.name} in {opened.folder}" if opened.name else f"the folder {opened.folder}"
    say(f"It starts the desk for {what}. To be rid of it, delete that file.")
    if hint:
        say(hint)
