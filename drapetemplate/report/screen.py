"""Text for a terminal: how many columns it takes, where it wraps, what it becomes in plain ASCII.

Nothing here touches a terminal: how wide one is and what it can show is the caller's to find out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from drapetemplate.measures import printable
from drapetemplate.wording import SCREEN_BREAKS

USUAL_COLUMNS = 80
LEAST_COLUMNS = 20
"""Nothing is laid out for fewer columns than these; such a terminal folds the lines itself."""

BEYOND_ASCII = "≈°·×○┊─╌│╱┌┐└┘┬┴├┤"  # noqa: RUF001  # a picture's own signs
"""Every character beyond ASCII that this package itself prints in a terminal."""

_LEAST_VALUE = 24  # columns; a value squeezed into fewer reads worse than one after its name
_HOLD = "\N{NO-BREAK SPACE}"
_ASCII = str.maketrans(
    {
        "≈": "~",
        "°": " deg",
        "·": "-",
        "×": "x",
        "–": "-",
        "…": "...",
        "\N{REPLACEMENT CHARACTER}": "?",
        **dict.fromkeys("‘’", "'"),
        **dict.fromkeys("“”", '"'),
    }
)
_ALOUD = str.maketrans({"≈": "about", "°": " degrees"})


def needs_ascii(encoding: str | None) -> bool:
    """Return True for a stream whose encoding can't carry `BEYOND_ASCII`, or isn't known."""
    try:
        BEYOND_ASCII.encode(encoding or "ascii")
    except (LookupError, UnicodeEncodeError):
        return True
    return False


def padded(text: str, columns: int) -> str:
    """Return text with spaces after it, so that it takes so many columns; wider text as it is.

    >>> padded("前", 4)
    '前  '
    """
    return text + " " * (columns - cell_len(text))


def held(text: str) -> str:
    """Return text that `Screen.wrapped` keeps on one line."""
    return text.replace(" ", _HOLD)


def aloud(text: str) -> str:
    """Return text for a screen reader: safe, in words where a sign would be read by its name.

    >>> aloud("≈ 2 in · 45°")
    'about 2 in, 45 degrees'
    """
    return printable(text).replace(" · ", ", ").replace(" + ", " plus ").translate(_ALOUD)


@dataclass(frozen=True, slots=True)
class Screen:
    """What text is laid out for: so many columns, or None for lines as long as they come.

    `ascii_only` where the stream can't carry this package's own signs.
    """

    columns: int | None = USUAL_COLUMNS
    ascii_only: bool = False

    @property
    def width(self) -> int:
        """Return the columns for what must have some number of them: a picture."""
        return USUAL_COLUMNS if self.columns is None else max(self.columns, LEAST_COLUMNS)

    def shown(self, text: str) -> str:
        """Return text that is safe to show here, our signs replaced where they can't be shown.

        A job's own words are left: the stream escapes what of them it can't carry.
        """
        safe = _HOLD.join(printable(part) for part in text.split(_HOLD))
        return safe.translate(_ASCII) if self.ascii_only else safe

    def wrapped(self, text: str, first: str = "", rest: str | None = None) -> list[str]:
        """Return text in lines that begin with `first`, then with `rest` (None: as `first`).

        No line is wider than the screen unless one word, or a measure with its unit, is.

        >>> Screen(20).wrapped("a gap of 10234.5 mm or more", "- ", "  ")
        ['- a gap of', '  10234.5 mm or more']
        """
        safe = self.shown(text)
        if self.columns is None:
            return [(first + safe.replace(_HOLD, " ")).rstrip()]
        lines, line = [], first
        hang = first if rest is None else rest
        empty = True
        for word in SCREEN_BREAKS.split(safe):
            if not empty and cell_len(line) + 1 + cell_len(word) > self.width:
                lines.append(line)
                line, empty = hang, True
            line += word if empty else f" {word}"
            empty = False
        return [text.replace(_HOLD, " ").rstrip() for text in (*lines, line)]

    def table(self, rows: Sequence[tuple[str, str]], indent: str = "  ") -> list[str]:
        """Return names and values in two columns; where too narrow, each value after its name."""
        names = max((cell_len(self.shown(name)) for name, _ in rows), default=0)
        start = len(indent) + names + 2
        lines = []
        for name, value in rows:
            if self.columns is not None and self.width - start < _LEAST_VALUE:
                lines += self.wrapped(f"{name}: {value}", indent, indent + "  ")
            else:
                first = f"{indent}{padded(self.shown(name), names)}  "
                lines += self.wrapped(value, first, " " * start)
        return lines

    def grid(self, entries: Sequence[str], indent: str = "  ") -> list[str]:
        """Return entries in as many columns as have room, read downwards; one without `columns`."""
        shown = [self.shown(entry).replace(_HOLD, " ") for entry in entries]
        width = max(map(cell_len, shown), default=0)
        across = 1
        if self.columns is not None:
            across = max((self.width - len(indent) + 3) // (width + 3), 1)
        down = -(-len(shown) // across)
        return [
            (indent + "   ".join(padded(entry, width) for entry in shown[n::down])).rstrip()
            for n in range(down)
        ]
