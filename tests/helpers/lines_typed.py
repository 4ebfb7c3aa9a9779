"""A session of `new` in this process: lines typed in, its exit code and all that was printed out.

For what rests on no keys or signals: tests/helpers/terminal.py has a real terminal.
"""

from __future__ import annotations

import io
from pathlib import Path

from drapetemplate.interview.terminal import interview


class Typed(io.StringIO):
    """Text that passes for a terminal."""

    def isatty(self) -> bool:
        """It does."""
        return True


def session(path: Path | None, *lines: str) -> tuple[int, str]:
    """Type lines, and then what ends a terminal's input; DrapeError as `interview` raises it."""
    shown = Typed()
    code = interview(path, Typed("".join(f"{line}\n" for line in lines)), shown)
    return code, shown.getvalue()
