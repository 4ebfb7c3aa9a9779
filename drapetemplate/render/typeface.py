"""The font family shipped with the package: DejaVu Sans, regular and bold.

Its licence is beside it in fonts/. It covers Latin, Greek and Cyrillic and much more; what it
lacks is drawn as U+FFFD, the replacement character, so that a gap is seen.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from importlib.resources import files

from reportlab.pdfbase import pdfmetrics, ttfonts
from reportlab.pdfbase.ttfonts import TTFont

from drapetemplate.drawing.lettering import UNSHOWN

REGULAR = "DejaVuSans"
BOLD = "DejaVuSans-Bold"
STAND_IN = "\N{REPLACEMENT CHARACTER}"


class DejaVu:
    """Measures text and replaces what the family can't draw; registers it with reportlab."""

    def __init__(self) -> None:
        self._faces = {}
        for name in (REGULAR, BOLD):
            path = str(files("drapetemplate.render") / "fonts" / f"{name}.ttf")
            # Said, since a user's own reportlab settings would else decide it.
            font = TTFont(name, path, asciiReadable=1)
            pdfmetrics.registerFont(font)
            self._faces[name] = font.face

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
        if all(code in face.charToGlyph for face in self._faces.values()):
            return char
        return STAND_IN

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """Advance width in mm of drawable text at `size` mm: the font's units are 1/1000 em."""
        face = self._faces[BOLD if bold else REGULAR]
        widths, default = face.charWidths, face.defaultWidth
        return float(sum(widths.get(ord(char), default) for char in text) * size / 1000)


def _to_unicode(fontname: str, subset: list[int]) -> str:
    """The map from a font subset's codes to text (ISO 32000-1, 9.10.3), for search and copying.

    In blocks of 100, the most that a reader needs to take (Adobe Technical Note 5014, from memory).
    """
    lines = [
        "/CIDInit /ProcSet findresource begin",
        "12 dict begin",
        "begincmap",
        f"/CIDSystemInfo << /Registry ({fontname}) /Ordering ({fontname}) /Supplement 0 >> def",
        f"/CMapName /{fontname} def",
        "/CMapType 2 def",
        "1 begincodespacerange",
        "<00> <FF>",
        "endcodespacerange",
    ]
    pairs = [f"<{i:02X}> <{_utf16(code)}>" for i, code in enumerate(subset)]
    for start in range(0, len(pairs), 100):
        block = pairs[start : start + 100]
        lines += [f"{len(block)} beginbfchar", *block, "endbfchar"]
    lines += ["endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end"]
    return "\n".join(lines)


def _utf16(code: int) -> str:
    return chr(code).encode("utf-16-be").hex().upper()


# reportlab's own writes a code beyond U+FFFF in five digits, which no reader can take.
ttfonts.makeToUnicodeCMap = _to_unicode


@cache
def typeface() -> DejaVu:
    """The one typeface, loaded when first asked for."""
    return DejaVu()
