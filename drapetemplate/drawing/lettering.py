"""Text made drawable and measured, through a `Typeface` that knows the font."""

from __future__ import annotations

from typing import Protocol

from drapetemplate.drawing.marks import Anchor, Number, Text
from drapetemplate.drawing.roles import Role

# Controls, formatting characters (bidirectional ones among them), halves of surrogate pairs,
# private and unassigned ones, and line and paragraph separators: none shows as itself.
UNSHOWN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


class Typeface(Protocol):
    """What layout must know of the font family: which characters it has, and how wide they run."""

    def drawable(self, text: str) -> str:
        """Text with what the font can't draw replaced by a visible stand-in."""
        ...

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """Advance width in mm of drawable text at `size` mm."""
        ...


def text(  # noqa: PLR0913  # a line of text has this many properties
    typeface: Typeface,
    x: Number,
    y: Number,
    string: str,
    size: float,
    role: Role,
    *,
    anchor: Anchor = "start",
    bold: bool = False,
    angle: int = 0,
    most: float | None = None,
    least: float = 1.8,
) -> Text:
    """Return one line of text, measured.

    To fit `most` mm it shrinks to `least`, then is cut with "…".
    """
    string = typeface.drawable(string)
    width = typeface.width(string, size, bold=bold)
    if most is not None and width > most:
        size = max(size * most / width, min(least, size))
        string = clipped_to(typeface, string, size, most, bold=bold)
        width = typeface.width(string, size, bold=bold)
    return Text(x, y, string, size, width, anchor, bold, angle, role)


def clipped_to(
    typeface: Typeface, string: str, size: float, most: float, *, bold: bool = False
) -> str:
    """Return as much of a drawable string as fits `most` mm, ending in "…" where any is left out.

    >>> from drapetemplate.render.typeface import typeface
    >>> clipped_to(typeface(), "Heron Point", 3.0, 14.0)
    'Heron…'
    """
    if typeface.width(string, size, bold=bold) <= most * (1 + 1e-9):
        return string
    # Far more letters than fit are never measured: a name may be thousands long.
    low, high = 0, min(16, len(string))
    while high < len(string) and typeface.width(string[:high], size, bold=bold) <= most:
        high = min(2 * high, len(string))
    while low < high:
        middle = (low + high + 1) // 2
        if typeface.width(string[:middle].rstrip() + "…", size, bold=bold) <= most:
            low = middle
        else:
            high = middle - 1
    return string[:low].rstrip() + "…"


def name_cut_short(
    typeface: Typeface, name: str, size: float, room: float, *, bold: bool = False
) -> str:
    """Return a drawable name cut to `room` mm, its last word kept where that is short.

    It may be what tells one bay from another:

    >>> from drapetemplate.render.typeface import typeface
    >>> name_cut_short(typeface(), "Heron Point, long gallery, bay 12", 3.0, 30.0)
    'Heron Point, lo… 12'
    """
    if typeface.width(name, size, bold=bold) <= room * (1 + 1e-9):
        return name
    start, space, last = name.rpartition(" ")
    width = typeface.width(space + last, size, bold=bold)
    if width > room / 2:
        return clipped_to(typeface, name, size, room, bold=bold)
    return clipped_to(typeface, start, size, room - width, bold=bold) + space + last
