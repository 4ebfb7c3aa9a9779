"""Where the command starts: at once for what needs little, before the slow modules are loaded."""

from __future__ import annotations

import os
import sys

from drapetemplate.cli.completion_scripts import VARIABLE
from drapetemplate.version import __version__

INTERRUPTED = 130
"""What typer makes of Ctrl-C: 128 and the signal's number."""
CANNOT_BE_USED = 2


def main() -> None:
    """Run the command line; characters a terminal can't show are escaped, never an error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        code = _answered(sys.argv[1:], os.environ.get(VARIABLE))
    except KeyboardInterrupt:
        code = INTERRUPTED
    except OSError as error:
        # Every file is read and written through `files`, so this is standard output itself, on a
        # full disk say. What it still holds must not be tried again as Python ends.
        sys.stdout = None  # Python's own sign for no output
        if isinstance(error, BrokenPipeError):  # whoever read it has seen enough
            raise SystemExit(1) from None
        _print_error(f"standard output: can't be written: {(error.strerror or str(error)).lower()}")
        raise SystemExit(CANNOT_BE_USED) from None
    if code == INTERRUPTED:
        from drapetemplate.cli.signals import end_as_interrupted

        end_as_interrupted()
    raise SystemExit(code)


def _answered(words: list[str], shell: str | None) -> int:
    """Do what the words ask for; the exit code. `shell` is one that asks while its user types."""
    if shell is None and words == ["--version"]:
        print(f"drapetemplate {__version__}", flush=True)  # noqa: T201  # typer isn't loaded
        return 0
    from drapetemplate.cli import signals

    signals.load_quietly()
    # Else pydantic looks for plugins in all that is installed, and runs what it finds.
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "1"
    from drapetemplate.cli import app

    if shell is not None:
        app.print_completion(shell, words)
        return 0
    return app.run(words)


def _print_error(line: str) -> None:
    """Print a line to standard error, which may be no better off than standard output."""
    from contextlib import suppress

    with suppress(OSError):
        print(line, file=sys.stderr, flush=True)  # noqa: T201  # likewise
