"""The font family shipped with the package: DejaVu Sans, regular and bold.

Its licence is beside it in fonts/. It covers Latin, Greek and Cyrillic and much more; what it
lacks is drawn as U+FFFD, the replacement character, so that a gap is seen.
"""

from __future__ import annotations

import unicodedata
from functools import cache

from drapetemplate.drawing.lettering import UNSHOWN
from drapetemplate.render.font_metrics import FONTS, FontMetrics

REGULAR = "DejaVuSans"
BOLD = "DejaVuSans-Bold"
STAND_IN = "\N{REPLACEMENT CHARACTER}"


class _Widths(dict[str, float]):
    """A font's widths of characters in 1/1000 em, each read when it is first asked for."""

    def __init__(self, font: FontMetrics) -> None:
        super().__init__()
        self._font = font

    def __missing__(self, char: str) -> float:
        self[char] = width = self._font.width(ord(char))
        return width


class DejaVu:
    """Measures text and replaces what the family can't draw; its fonts are `regular` and `bold`."""

    def __init__(self) -> None:
        self.regular, self.bold = (FontMetrics(FONTS / f"{name}.ttf") for name in (REGULAR, BOLD))
        self._regular_widths, self._bold_widths = _Widths(self.regular), _Widths(self.bold)

    def drawable(self, text: str) -> str:
        """Text with white space made plain spaces and each undrawable character a stand-in."""
        return "".join(map(self._drawable, text))

    @cache  # noqa: B019  # there is one typeface, and it lives as long as the process
    def _drawable(self, char: str) -> str:
        if char.isspace():
            return " "
        if unicodedata.category(char) in UNSHOWN:
            return STAND_IN  # it could reorder what stands beside it
        code = ord(char)
        if code in self.regular.glyphs and code in self.bold.glyphs:
            return char
        return STAND_IN

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """Advance width in mm of drawable text at `size` mm: the font's units are 1/1000 em."""
        widths = self._bold_widths if bold else self._regular_widths
        return float(sum(map(widths.__getitem__, text)) * size / 1000)


@cache
def typeface() -> DejaVu:
    """The one typeface, loaded when first asked for."""
    return DejaVu()
