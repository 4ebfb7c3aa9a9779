"""What `desk` does: a job file or a folder in, a page served to this computer's browser."""

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

    def say_where(address: str) -> None:
        say(f"The desk is at {address}")
        say("On this computer alone. Ctrl-C ends it.")

    serve(desk_job(path), say_where, show)
    say("Ended.")
