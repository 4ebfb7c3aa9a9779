"""A page's fonts: which letter each code of a string is, and how far it moves the next.

Only what this tool's own fonts are is read: simple TrueType fonts with a width and a name for each
code (ISO 32000-1, 9.6.3 and 9.10.3). Any other is refused, so that no letter is guessed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TypeAlias

from pypdf import PageObject
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, StreamObject

from drapetemplate.record.budget import Budget
from drapetemplate.record.unpacking import entry_of, resolved, unpacked

MOST_MAP = 50_000
MOST_CODES = 256
# A map from codes to text lists each code; what spans ranges, or refers elsewhere, isn't ours.
_RANGES = re.compile(rb"bfrange|cidrange|notdefrange|usecmap")
_LISTS = re.compile(rb"beginbfchar\b(.*?)\bendbfchar", re.DOTALL)
_PAIR = re.compile(rb"\s*<([0-9A-Fa-f]{2})>\s*<((?:[0-9A-Fa-f]{4})+)>\s*")

Letters: TypeAlias = dict[int, tuple[str, float]]
"""By code: what it says, and its advance in thousandths of the size."""


class OddFontError(Exception):
    """A font that no page of this tool has."""


@dataclass(frozen=True, slots=True, eq=False)
class Font:
    """A font as far as measuring takes it; equal to none but itself."""

    letters: Letters
    bold: bool


class Fonts:
    """Reads the fonts of a PDF's pages, each once, however many pages it is on."""

    def __init__(self, budget: Budget) -> None:
        self._budget = budget
        self._read: dict[int, Font] = {}

    def of(self, page: PageObject) -> dict[str, Font]:
        """A page's fonts by their names there; OddFontError names one of another kind."""
        entry = entry_of(page.get("/Resources"), "/Font")
        fonts = {}
        if isinstance(entry, DictionaryObject):
            for name in entry:
                try:
                    fonts[str(name)] = self._font(entry.raw_get(name))
                except (OddFontError, UnicodeDecodeError) as error:
                    raise OddFontError(f"a font, {name}, of another kind") from error
        return fonts

    def _font(self, held: object) -> Font:
        number = held.idnum if isinstance(held, IndirectObject) else None
        if number in self._read:
            return self._read[number]
        font = self._new(held)
        if number is not None:
            self._read[number] = font
        return font

    def _new(self, held: object) -> Font:
        if entry_of(held, "/Subtype") != "/TrueType":
            raise OddFontError
        widths, first = entry_of(held, "/Widths"), entry_of(held, "/FirstChar")
        if not isinstance(widths, ArrayObject) or not isinstance(first, int):
            raise OddFontError
        if first < 0 or first + len(widths) > MOST_CODES:
            raise OddFontError
        texts = self._texts(entry_of(held, "/ToUnicode"))
        letters = {}
        for code, width in enumerate(map(resolved, widths), first):
            if not isinstance(width, int | float) or isinstance(width, bool):
                raise OddFontError
            if code in texts:
                letters[code] = texts[code], float(width)
        return Font(letters, str(entry_of(held, "/BaseFont")).endswith("Bold"))

    def _texts(self, held: object) -> dict[int, str]:
        """What each code says, by a font's map (9.10.3)."""
        text = unpacked(held, MOST_MAP, self._budget) if isinstance(held, StreamObject) else None
        if text is None or _RANGES.search(text):
            raise OddFontError
        self._budget.spend("parsed", len(text))
        texts: dict[int, str] = {}
        for listed in _LISTS.findall(text):
            place = 0
            while place < len(listed):
                pair = _PAIR.match(listed, place)
                if pair is None:
                    raise OddFontError
                place = pair.end()
                code = int(pair[1], 16)
                said = bytes.fromhex(pair[2].decode("ascii")).decode("utf-16-be")
                if texts.setdefault(code, said) != said:
                    raise OddFontError
        return texts
