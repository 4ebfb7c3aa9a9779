"""The font family shipped with the package: DejaVu Sans, regular and bold.

Its licence is beside it in fonts/. It covers Latin, Greek and Cyrillic and much more; what it
lacks is drawn as U+FFFD, the replacement character, so that a gap is seen.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from importlib.resources import files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "DejaVuSans"
BOLD = "DejaVuSans-Bold"
STAND_IN = "\N{REPLACEMENT CHARACTER}"
# Control and formatting characters, bidirectional ones among them, draw nothing of their own
# and could reorder what stands beside them.
UNDRAWN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


class DejaVu:
    """Measures text and replaces what the family can't draw; registers it with reportlab."""

    def __init__(self) -> None:
        self._faces = {}
        for name in (REGULAR, BOLD):
            font = TTFont(name, str(files("drapetemplate.render") / "fonts" / f"{name}.ttf"))
            pdfmetrics.registerFont(font)
            self._faces[name] = font.face

    def drawable(self, text: str) -> str:
        """Text with white space made plain spaces and each undrawable character a stand-in."""
        return "".join(map(self._drawable, text))

    @cache  # noqa: B019  # there is one typeface, and it lives as long as the process
    def _drawable(self, char: str) -> str:
        if char.isspace():
            return " "
        if unicodedata.category(char) in UNDRAWN:
            return STAND_IN
        code = ord(char)
        if all(code in face.charToGlyph for face in self._faces.values()):
            return char
        return STAND_IN

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """Advance width in mm of drawable text at `size` mm: the font's units are 1/1000 em."""
        face = self._faces[BOLD if bold else REGULAR]
        widths, default = face.charWidths, face.defaultWidth
        return float(sum(widths.get(ord(char), default) for char in text) * size / 1000)


@cache
def typeface() -> DejaVu:
    """The one typeface, loaded when first asked for."""
    return DejaVu()
