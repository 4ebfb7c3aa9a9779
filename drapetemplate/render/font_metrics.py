"""A TrueType font file in, which characters it has and how wide each runs out: no library loaded.

What is read: the tables' directory, head's units per em, hhea's number of widths, hmtx, and of cmap
the one table of all Unicode (OpenType 1.9, chapters of those names); tables are handed on whole to
what puts some letters into a PDF. Only the fonts shipped with
the package are read, which are trusted; tests hold every character of them against other readers.
"""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from struct import unpack_from

FONTS = Path(__file__).with_name("fonts")
"""Where the fonts lie that are shipped with the package."""
_ALL_UNICODE = (3, 10)
"""cmap's platform and encoding for Unicode beyond U+FFFF too: a table of format 12."""


class FontMetrics:
    """Takes a font file; each character's glyph and width are looked up when they are asked for.

    `units` is how many of its own units the font has to the em.
    """

    def __init__(self, path: Path) -> None:
        self._data = data = path.read_bytes()
        (count,) = unpack_from(">H", data, 4)
        entries = [unpack_from(">4s4xII", data, 12 + 16 * n) for n in range(count)]
        self._tables = {tag.decode(): start for tag, start, _ in entries}
        self._lengths = {tag.decode(): length for tag, _, length in entries}
        (self.units,) = unpack_from(">H", data, self._tables["head"] + 18)
        (self._widths,) = unpack_from(">H", data, self._tables["hhea"] + 34)

    @cached_property
    def glyphs(self) -> dict[int, int]:
        """Every character's code with the number of its glyph."""
        cmap = self._tables["cmap"]
        (count,) = unpack_from(">H", self._data, cmap + 2)
        tables = (unpack_from(">HHI", self._data, cmap + 4 + 8 * n) for n in range(count))
        starts = {(platform, encoding): start for platform, encoding, start in tables}
        table = cmap + starts[_ALL_UNICODE]
        (groups,) = unpack_from(">I", self._data, table + 12)
        found: dict[int, int] = {}
        for n in range(groups):
            first, last, glyph = unpack_from(">III", self._data, table + 16 + 12 * n)
            found |= {code: glyph + code - first for code in range(first, last + 1)}
        return found

    def table(self, tag: str) -> bytes:
        """Return one of the font's tables, as it stands in the file."""
        start = self._tables[tag]
        return self._data[start : start + self._lengths[tag]]

    def width(self, code: int) -> float:
        """Return how wide a character runs in 1/1000 em; one that the font lacks as its glyph 0."""
        # The last width goes for all glyphs after it.
        entry = min(self.glyphs.get(code, 0), self._widths - 1)
        (units,) = unpack_from(">H", self._data, self._tables["hmtx"] + 4 * entry)
        return float(units * 1000 / self.units)
