"""The DXF backend: what ezdxf reads back is what was drawn, and words mean themselves."""

from __future__ import annotations

from pathlib import Path

import pytest
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.text import Text as DxfText
from ezdxf.enums import TextEntityAlignment

from drapetemplate import drawing
from drapetemplate.document.cut_drawing import Layer
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.render.backend import draw
from drapetemplate.render.dxf import DxfBackend, as_string
from drapetemplate.render.svg import CutSvgBackend
from drapetemplate.render.typeface import typeface
from tests.helpers.cutfiles import opened, words_of

PEN = Pen(0.2)


def drawn(folder: Path, *marks: Mark) -> list[DXFGraphic]:
    """What ezdxf finds of these marks on the layer MARKS."""
    backend = DxfBackend()
    backend.start_page(100.0, 50.0)
    backend.start_layer(Layer.MARKS)
    for mark in marks:
        draw(mark, backend)
    path = folder / "a.dxf"
    path.write_bytes(backend.finish())
    found = list(opened(path).modelspace())
    assert {entity.dxf.layer for entity in found} <= {"MARKS"}
    return found


def test_every_kind(tmp_path: Path) -> None:
    """Each kind of mark is the entity that it looks like."""
    line, circle, arc, polygon = drawn(
        tmp_path,
        Line(1.5, 2, 3, 4.25, PEN, Role.GUIDE),
        Circle(10, 20, 7.123456789, PEN, Role.OUTSIDE),
        Arc(1, 2, 3, 300, 90, PEN, Role.OUTSIDE),
        Polygon(((0, 0), (4, 0), (4, 3)), PEN, 0.0, Role.LEADING_WEDGE),
    )
    assert (tuple(line.dxf.start), tuple(line.dxf.end)) == ((1.5, 2, 0), (3, 4.25, 0))
    assert (tuple(circle.dxf.center), circle.dxf.radius) == ((10, 20, 0), 7.123456789)
    assert (arc.dxf.start_angle, arc.dxf.end_angle) == (300, 30)
    assert isinstance(polygon, Polyline)
    assert polygon.is_closed
    assert [tuple(point) for point in polygon.points()] == [(0, 0, 0), (4, 0, 0), (4, 3, 0)]


def test_dashes(tmp_path: Path) -> None:
    """A pen's dashes are a line type of their lengths, of which the gaps are below zero."""
    dashed = Line(0, 0, 9, 0, Pen(0.2, (12, 4)), Role.SEAM)
    (line,) = drawn(tmp_path, dashed)
    line_type = opened(tmp_path / "a.dxf").linetypes.get(line.dxf.linetype)
    assert [tag.value for tag in line_type.pattern_tags.tags if tag.code == 49] == [12, -4]


@pytest.mark.parametrize("angle", [0, 90, 180, 270])
def test_text_fits_its_place(angle: int, tmp_path: Path) -> None:
    """A line of text goes from where layout begins it to where it ends; its capitals are true."""
    word = drawing.text(
        typeface(), 30.0, 20.0, "LEFT 12", 5.0, Role.NUMBER, anchor="middle", angle=angle
    )
    (text,) = drawn(tmp_path, word)
    assert isinstance(text, DxfText)
    align, start, end = text.get_placement()
    assert align == TextEntityAlignment.FIT
    assert end is not None
    across, up = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}[angle]
    half = word.width / 2
    assert tuple(start) == pytest.approx((30 - across * half, 20 - up * half, 0))
    assert tuple(end) == pytest.approx((30 + across * half, 20 + up * half, 0))
    assert text.dxf.rotation == angle
    # DejaVu Sans' capitals are 1493 of 2048 units high.
    assert text.dxf.height == pytest.approx(5 * 1493 / 2048, abs=0.001)


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        ("Heron Point, 47 5/8 in", None),
        ("Ερωδιός · 窓 é ½ €", None),
        ("100 % cotton, 5%", None),
        ("^J ^ ^^I x", None),
        ("\\P \\U+0041 \\M+1 {\\fArial;x}", None),
        ("%%c %%%d", "%\N{FULLWIDTH PERCENT SIGN}c %" + 2 * "\N{FULLWIDTH PERCENT SIGN}" + "d"),
        ("a 😀 face", "a \N{REPLACEMENT CHARACTER} face"),
    ],
)
def test_words_mean_themselves(words: str, shown: str | None, tmp_path: Path) -> None:
    """No sign of a word is heeded as a code, and all but the few that can't be named come back."""
    mark = drawing.text(typeface(), 1.0, 1.0, words, 3.0, Role.NUMBER)
    (text,) = drawn(tmp_path, mark)
    assert isinstance(text, DxfText)
    assert words_of(text) == (shown or typeface().drawable(words))
    assert (tmp_path / "a.dxf").read_bytes().isascii()


def test_long_words_are_cut_at_a_sign() -> None:
    """A string has at most 255 signs, and ends with a whole one."""
    assert as_string("a" * 300) == "a" * 255
    assert as_string("é" * 40) == "\\U+00E9" * 36


@pytest.mark.parametrize("backend", [DxfBackend(), CutSvgBackend("a title")])
def test_one_strip_at_true_size(backend: DxfBackend | CutSvgBackend) -> None:
    """A cut file is corrected for no printer, and holds one strip."""
    with pytest.raises(ValueError, match="corrected"):
        backend.start_page(10.0, 10.0, (1.01, 1.0))
    backend.start_page(10.0, 10.0)
    with pytest.raises(ValueError, match="one"):
        backend.start_page(10.0, 10.0)
