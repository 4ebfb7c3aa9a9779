"""Fonts cut down to some letters: read back by another library, their outlines to the unit."""

from __future__ import annotations

from io import BytesIO

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables.ttProgram import Program

from drapetemplate.render.font_metrics import FONTS, FontMetrics
from drapetemplate.render.font_subset import subset
from drapetemplate.render.typeface import BOLD, REGULAR

# Letters by themselves, put together, and together from what is put together; an empty one.
LETTERS = "".join(map(chr, range(0x20, 0x7F))) + "éÄÅçñøßþ½¼¾″′×–’ ЖйёΩΐǖỂﬁ№≈\u2009\U0001d54f\ufffd"
KEPT = {"cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp"}
TABLES = sorted(KEPT - {"cmap"})


def read(data: bytes) -> TTFont:
    """A font file, every sum in it checked, and that each table begins at four bytes."""
    font = TTFont(BytesIO(data), checkChecksums=2, lazy=False)
    assert {table.offset % 4 for table in font.reader.tables.values()} == {0}
    return font


def outline(font: TTFont, name: str) -> object:
    """A glyph's strokes, those of its parts put where they are drawn."""
    glyphs = font.getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    return pen.value


def held(whole: TTFont, part: TTFont, letters: dict[int, str]) -> None:
    """Each code's glyph in the part has the outline, advance and bearing that the whole has."""
    names = part["cmap"].tables[0].cmap
    assert set(names) == set(letters)
    for code, name in letters.items():
        own = names[code]
        assert outline(part, own) == outline(whole, name)
        assert part["hmtx"][own] == whole["hmtx"][name]
        assert part["glyf"][own].numberOfContours == whole["glyf"][name].numberOfContours


@pytest.mark.parametrize("face", [REGULAR, BOLD])
def test_shipped_fonts(face: str) -> None:
    """Of the fonts that are shipped: nothing but what a PDF needs, and no programs."""
    path = FONTS / f"{face}.ttf"
    ours, whole = FontMetrics(path), TTFont(path)
    codes = dict(enumerate(LETTERS, 1))
    tables = {tag: ours.table(tag) for tag in TABLES}
    data = subset(tables, {code: ours.glyphs[ord(letter)] for code, letter in codes.items()})
    part = read(data)
    assert set(part.keys()) - {"GlyphOrder"} == KEPT
    best = whole.getBestCmap()
    held(whole, part, {code: best[ord(letter)] for code, letter in codes.items()})
    assert outline(part, part.getGlyphOrder()[0]) == outline(whole, ".notdef")
    for name in part.getGlyphOrder():
        assert not getattr(part["glyf"][name], "program", Program()).getBytecode()
    assert len(data) < 20_000
    compound = [n for n in part.getGlyphOrder() if part["glyf"][n].isComposite()]
    assert len(compound) > 10


def built() -> TTFont:
    """A font with all that an outline may be: parts moved, scaled three ways, of parts; programs.

    Its offsets are short and its last glyphs share a width.
    """
    names = [".notdef", "empty", "square", "moved", "scaled", "stretched", "turned", "deep"]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({65 + n: name for n, name in enumerate(names[1:])})
    glyphs = {}
    for name in names:
        pen = TTGlyphPen(dict.fromkeys(names))
        if name in {".notdef", "square"}:
            pen.moveTo((0, 0))
            for point in ((0, 401), (300, 400), (301, 0)):
                pen.lineTo(point)
            pen.closePath()
        elif name != "empty":
            matrix = {
                "moved": (1, 0, 0, 1, 700, -3),
                "scaled": (0.5, 0, 0, 0.5, 10, 20),
                "stretched": (0.5, 0, 0, 1.5, 10, 20),
                "turned": (0, 1, -1, 0, 10, 20),
                "deep": (1, 0, 0, 1, 5, 5),
            }[name]
            pen.addComponent("turned" if name == "deep" else "square", matrix)
            if name == "scaled":
                pen.addComponent("stretched", (1, 0, 0, 1, -200, 300))
        glyphs[name] = pen.glyph()
        if name in {"square", "deep"}:
            program = Program()
            program.fromBytecode(b"\x4f\x4f\x4f")
            glyphs[name].program = program
    builder.setupGlyf(glyphs)
    widths = [500, 333, 600, 700, 444, 444, 444, 444]
    builder.setupHorizontalMetrics(
        {name: (w, n) for n, (name, w) in enumerate(zip(names, widths, strict=True))}
    )
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupOS2()
    builder.setupPost()
    out = BytesIO()
    builder.save(out)
    return read(out.getvalue())


def test_every_kind_of_outline() -> None:
    """Parts of parts come along, whichever letter is asked for, and each is drawn where it was."""
    whole = built()
    tables = {tag: bytes(whole.reader[tag]) for tag in TABLES}
    assert whole["head"].indexToLocFormat == 0
    assert whole["hhea"].numberOfHMetrics == 5
    names = whole.getGlyphOrder()
    for wanted in (["deep"], ["empty"], ["scaled", "moved"], names[:0:-1]):
        letters = {40 + 2 * n: name for n, name in enumerate(wanted)}
        part = read(subset(tables, {code: names.index(name) for code, name in letters.items()}))
        held(whole, part, letters)
    assert len(part.getGlyphOrder()) == len(names)
    assert not part["head"].flags & 0b10100
