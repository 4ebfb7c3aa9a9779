"""A face as a PDF has it: letters get one-byte codes as they are drawn, then it holds just those.

A font of a PDF has at most 255 letters here; what is drawn beside them is in a second one, and so
on. A letter of ASCII has its own code, so that what is written can be read in the file.
"""

from __future__ import annotations

from itertools import groupby
from operator import itemgetter
from struct import unpack_from

from reportlab.pdfbase.pdfdoc import PDFObjectReference

from drapetemplate.render.font_metrics import FontMetrics
from drapetemplate.render.font_subset import subset
from drapetemplate.render.pdf_file import PdfFile, Value, array, dictionary, name

ASCII = range(32, 127)
OTHERS = (*range(128, 256), *range(1, 32), 127)
"""What other letters have in the first font; 0 is for a letter that a font hasn't."""
LATER = tuple(range(1, 256))
"""What letters have in each later font."""
TABLES = ("glyf", "head", "hhea", "hmtx", "loca", "maxp")
# Flags of a descriptor (ISO 32000-1, Table 123).
SYMBOLIC = 1 << 2
FORCE_BOLD = 1 << 18
SEMIBOLD = 600
"""OS/2's weight from which a font counts as bold."""
NONE = -1
"""No character: the font draws its glyph 0."""


class FontInUse:
    """One face in one PDF: its font, and its name.

    `label` is what its parts are called on pages, each with its number.
    """

    def __init__(self, font: FontMetrics, face: str, label: str) -> None:
        self._font, self._face, self._label = font, face, label
        # Each font's letters by their codes.
        self._fonts: list[dict[int, str]] = [{}]
        # Each letter's font and its code there.
        self._places: dict[str, tuple[int, int]] = {}
        self._free = iter(OTHERS)

    def runs(self, text: str) -> list[tuple[int, bytes]]:
        """Return a drawable text in runs: the number of a font, and the letters' codes in it."""
        for letter in text:
            if letter not in self._places:
                self._place(letter)
        places = map(self._places.__getitem__, text)
        by_font = groupby(places, key=itemgetter(0))
        return [(number, bytes(code for _, code in run)) for number, run in by_font]

    def name(self, number: int) -> str:
        """Return what a font is called on pages, by its number."""
        return f"{self._label}{number}"

    def _place(self, letter: str) -> None:
        """Give a letter its font and its code there."""
        number, code = 0, ord(letter)
        if code not in ASCII:
            following = next(self._free, None)
            if following is None:
                self._fonts.append({})
                self._free = iter(LATER)
                following = next(self._free)
            number, code = len(self._fonts) - 1, following
        self._fonts[number][code] = letter
        self._places[letter] = number, code

    def add_to(self, file: PdfFile) -> dict[str, PDFObjectReference]:
        """Put the fonts that are used into a file; each by its name on pages."""
        return {
            self.name(number): self._added(file, number, dict(sorted(letters.items())))
            for number, letters in enumerate(self._fonts)
            if letters
        }

    def _added(self, file: PdfFile, number: int, letters: dict[int, str]) -> PDFObjectReference:
        """One font (ISO 32000-1, 9.6.3): its letters are told by code alone, so it is symbolic."""
        font = self._font
        glyphs = {code: font.glyphs[ord(letter)] for code, letter in letters.items()}
        program = subset({tag: font.table(tag) for tag in TABLES}, glyphs)
        # Six capitals before the name say that it is a part of the face (9.6.4).
        own_name = f"AAAAA{chr(ord('A') + number)}+{self._face}"
        codes = range(min(letters), max(letters) + 1)
        widths = [font.width(ord(letters[code])) if code in letters else 0 for code in codes]
        descriptor = dictionary(
            Type=name("FontDescriptor"),
            FontName=name(own_name),
            FontFile2=file.stream(program, Length1=len(program)),
            **_described(font),
        )
        return file.add(
            dictionary(
                Type=name("Font"),
                Subtype=name("TrueType"),
                BaseFont=name(own_name),
                FirstChar=codes[0],
                LastChar=codes[-1],
                Widths=array(*widths),
                FontDescriptor=file.add(descriptor),
                ToUnicode=file.stream(_to_unicode(own_name, letters).encode()),
            )
        )


def _described(font: FontMetrics) -> dict[str, Value]:
    """What a descriptor says of a font (ISO 32000-1, 9.8), by its tables head, OS/2 and post."""
    (weight,) = unpack_from(">H", font.table("OS/2"), 4)
    ascent, descent = (
        units * 1000 / font.units for units in unpack_from(">hh", font.table("OS/2"), 68)
    )
    (whole, part) = unpack_from(">hH", font.table("post"), 4)
    box = [side * 1000 / font.units for side in unpack_from(">4h", font.table("head"), 36)]
    return {
        "Flags": SYMBOLIC | (FORCE_BOLD if weight >= SEMIBOLD else 0),
        "FontBBox": array(*box),
        "ItalicAngle": whole + part / 65536,
        "Ascent": ascent,
        "Descent": descent,
        "CapHeight": ascent,
        # A rule of thumb, for a reader that draws another font in its place; likewise the capitals.
        "StemV": 50 + int((weight / 65) ** 2),
        "MissingWidth": font.width(NONE),
    }


def _to_unicode(own_name: str, letters: dict[int, str]) -> str:
    """The map from a font's codes to text (ISO 32000-1, 9.10.3), for search and copying.

    In blocks of 100, the most that a reader needs to take (Adobe Technical Note 5014, from memory).
    """
    lines = [
        "/CIDInit /ProcSet findresource begin",
        "12 dict begin",
        "begincmap",
        f"/CIDSystemInfo << /Registry ({own_name}) /Ordering ({own_name}) /Supplement 0 >> def",
        f"/CMapName /{own_name} def",
        "/CMapType 2 def",
        "1 begincodespacerange",
        "<00> <FF>",
        "endcodespacerange",
    ]
    pairs = [
        f"<{code:02X}> <{letter.encode('utf-16-be').hex().upper()}>"
        for code, letter in letters.items()
    ]
    for start in range(0, len(pairs), 100):
        block = pairs[start : start + 100]
        lines += [f"{len(block)} beginbfchar", *block, "endbfchar"]
    lines += ["endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end"]
    return "\n".join(lines)
