"""The shipped fonts' characters and widths, as other programs read them out of the same files."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont as ToolFont
from reportlab.pdfbase.ttfonts import TTFont

from drapetemplate.render.font_metrics import FONTS, FontMetrics
from drapetemplate.render.typeface import BOLD, REGULAR, typeface

NAMES = (REGULAR, BOLD)
LACKING = 0x4E2D  # a Chinese character, which the family has none of


@pytest.mark.parametrize("name", NAMES)
def test_every_character_is_as_others_read_it(name: str) -> None:
    """Each of some 6,000 characters has the glyph and width that two other readers give it.

    One of them is what draws the PDF: text is measured as it will run there.
    """
    ours = FontMetrics(FONTS / f"{name}.ttf")
    other = ToolFont(FONTS / f"{name}.ttf")
    units = other["head"].unitsPerEm
    expected = {
        code: (other.getGlyphID(glyph), other["hmtx"][glyph][0] * 1000 / units)
        for code, glyph in other.getBestCmap().items()
    }
    assert len(expected) > 5000
    assert {code: (glyph, ours.width(code)) for code, glyph in ours.glyphs.items()} == expected
    drawn = TTFont(name, str(FONTS / f"{name}.ttf"), asciiReadable=1).face
    assert ours.glyphs.keys() == drawn.charToGlyph.keys()
    assert {code: ours.width(code) for code in ours.glyphs} == drawn.charWidths
    assert LACKING not in ours.glyphs
    assert ours.width(LACKING) == drawn.defaultWidth == other["hmtx"][".notdef"][0] * 1000 / units


def test_each_weight_is_measured_by_its_own_font() -> None:
    """By DejaVu's own design: an M of 1767 units of 2048 to the em, a bold one of 2038."""
    assert typeface().width("MM", 3.0) == pytest.approx(2 * 3.0 * 1767 / 2048)
    assert typeface().width("MM", 3.0, bold=True) == pytest.approx(2 * 3.0 * 2038 / 2048)
