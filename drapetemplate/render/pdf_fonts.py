"""The shipped fonts made known to reportlab, and what it writes of them put right."""

from __future__ import annotations

from functools import cache

from reportlab.pdfbase import pdfmetrics, ttfonts
from reportlab.pdfbase.ttfonts import TTFont

from drapetemplate.render.font_metrics import FONTS
from drapetemplate.render.typeface import BOLD, REGULAR


@cache
def register_fonts() -> None:
    """Make both weights known to reportlab under their own names."""
    for name in (REGULAR, BOLD):
        # Said, since a user's own reportlab settings would else decide it.
        pdfmetrics.registerFont(TTFont(name, str(FONTS / f"{name}.ttf"), asciiReadable=1))


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
