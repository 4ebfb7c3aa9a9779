"""The DXF backend: release 12 (AC1009), which programs for cutting machines read, old ones too.

By Autodesk's DXF reference for release 12, from memory; what reads the files back in the tests is
none of ours. ASCII, millimetres ($INSUNITS 4 is a later release's, and heeded in any), one plane,
no handles and no date: the same drawing gives the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import cos, radians, sin

from drapetemplate.document.cut_drawing import Layer
from drapetemplate.drawing.marks import Arc, Circle, Line, Number, Pen, Polygon, Text

# Red, blue, green, magenta, cyan, and black on white: some programs go by colour.
COLOURS = {
    Layer.HOLES: 1,
    Layer.OUTLINE: 5,
    Layer.PRICK: 3,
    Layer.FOLD: 6,
    Layer.MARKS: 4,
    Layer.TEXT: 7,
}
CAPITALS = 0.729
"""Height of DejaVu Sans' capitals, by which DXF gives a text's size, in em."""
LONGEST = 255
"""Signs that a string of release 12 may have."""
WIDE_PERCENT = "\N{FULLWIDTH PERCENT SIGN}"
BEYOND = "\N{REPLACEMENT CHARACTER}"
"""For a character beyond U+FFFF, which \\U+XXXX can't name."""

Tag = tuple[int, str]


class DxfBackend:
    """Draws one page, layer by layer, and returns the file's bytes."""

    def __init__(self) -> None:
        self._width = self._height = 0.0
        self._layer = Layer.MARKS
        self._layers: list[Layer] = []
        self._dashes: dict[tuple[float, ...], str] = {}
        self._entities: list[Tag] = []

    def start_page(
        self, width: float, height: float, scale: tuple[float, float] = (1.0, 1.0)
    ) -> None:
        """Begin the page; a cut file holds one, at true size."""
        if scale != (1.0, 1.0):
            raise ValueError("a cut file is not corrected for a printer")
        if self._width:
            raise ValueError("a cut file holds one strip")
        self._width, self._height = width, height

    def start_layer(self, layer: Layer) -> None:
        """Begin a layer: marks that follow belong to it."""
        self._layer = layer
        self._layers.append(layer)

    def _begin(self, kind: str, pen: Pen | None = None) -> None:
        """An entity of this layer, in its pen's dashes."""
        self._entities += [(0, kind), (8, self._layer)]
        if pen is not None and pen.dash:
            name = self._dashes.setdefault(pen.dash, f"DASHED{len(self._dashes) + 1}")
            self._entities.append((6, name))

    def line(self, mark: Line) -> None:
        """Draw a straight line; its dashes begin at its start."""
        self._begin("LINE", mark.pen)
        self._entities += [*_point(10, mark.x1, mark.y1), *_point(11, mark.x2, mark.y2)]

    def circle(self, mark: Circle) -> None:
        """Draw a whole circle."""
        self._begin("CIRCLE", mark.pen)
        self._entities += [*_point(10, mark.x, mark.y), (40, _number(mark.r))]

    def arc(self, mark: Arc) -> None:
        """Draw part of a circle."""
        self._begin("ARC", mark.pen)
        end = (mark.start + mark.sweep) % 360
        self._entities += [*_point(10, mark.x, mark.y), (40, _number(mark.r))]
        self._entities += [(50, _number(mark.start)), (51, _number(end))]

    def polygon(self, mark: Polygon) -> None:
        """Draw a closed outline; release 12 knows no filling of one."""
        self._begin("POLYLINE", mark.pen)
        self._entities += [(66, "1"), *_point(10, 0, 0), (70, "1")]
        for x, y in mark.points:
            self._begin("VERTEX")
            self._entities += _point(10, x, y)
        self._begin("SEQEND")

    def text(self, mark: Text) -> None:
        """Write one line from where it starts to where it ends, whatever font is at hand."""
        back = {"start": 0.0, "middle": mark.width / 2, "end": mark.width}[mark.anchor]
        along, up = cos(radians(mark.angle)), sin(radians(mark.angle))
        start_x, start_y = float(mark.x) - back * along, float(mark.y) - back * up
        self._begin("TEXT")
        self._entities += [
            *_point(10, start_x, start_y),
            (40, _number(mark.size * CAPITALS)),
            (1, as_string(mark.text)),
            (50, _number(mark.angle % 360)),
            (72, "5"),  # fit between two points; who doesn't heed it begins at the first
            *_point(11, start_x + mark.width * along, start_y + mark.width * up),
        ]

    def finish(self) -> bytes:
        """The whole DXF, in ASCII."""
        zero = _point(10, 0, 0)
        corner = _point(10, self._width, self._height)
        tags: list[Tag] = [
            *_section("HEADER"),
            *_variable("$ACADVER", (1, "AC1009")),
            *_variable("$DWGCODEPAGE", (3, "ANSI_1252")),
            *_variable("$INSBASE", *zero),
            *_variable("$EXTMIN", *zero),
            *_variable("$EXTMAX", *corner),
            *_variable("$LIMMIN", *zero[:2]),
            *_variable("$LIMMAX", *corner[:2]),
            *_variable("$LTSCALE", (40, "1")),
            *_variable("$INSUNITS", (70, "4")),
            *_variable("$MEASUREMENT", (70, "1")),
            (0, "ENDSEC"),
            *_section("TABLES"),
            *self._line_types(),
            *self._layer_table(),
            *_TEXT_STYLE,
            (0, "ENDSEC"),
            *_section("BLOCKS"),
            (0, "ENDSEC"),
            *_section("ENTITIES"),
            *self._entities,
            (0, "ENDSEC"),
            (0, "EOF"),
        ]
        return "".join(f"{code:3}\r\n{value}\r\n" for code, value in tags).encode("ascii")

    def _line_types(self) -> Iterator[Tag]:
        yield from [(0, "TABLE"), (2, "LTYPE"), (70, str(len(self._dashes) + 1))]
        for dash, name in {(): "CONTINUOUS", **self._dashes}.items():
            words = " ".join(map(_number, dash)) or "solid"
            yield from [(0, "LTYPE"), (2, name), (70, "0"), (3, words), (72, "65")]
            yield from [(73, str(len(dash))), (40, _number(sum(dash)))]
            for place, length in enumerate(dash):  # what is left free has a minus
                yield 49, _number(-length if place % 2 else length)
        yield 0, "ENDTAB"

    def _layer_table(self) -> Iterator[Tag]:
        """Every layer, 0 first, which a drawing always has."""
        layers = [("0", 7), *((layer, COLOURS[layer]) for layer in self._layers)]
        yield from [(0, "TABLE"), (2, "LAYER"), (70, str(len(layers)))]
        for name, colour in layers:
            yield from [(0, "LAYER"), (2, name), (70, "0"), (62, str(colour)), (6, "CONTINUOUS")]
        yield 0, "ENDTAB"


_TEXT_STYLE: tuple[Tag, ...] = (
    *((0, "TABLE"), (2, "STYLE"), (70, "1")),
    *((0, "STYLE"), (2, "STANDARD"), (70, "0"), (40, "0"), (41, "1"), (50, "0"), (71, "0")),
    *((42, "2.5"), (3, "txt"), (4, "")),
    (0, "ENDTAB"),
)


def _section(name: str) -> tuple[Tag, ...]:
    return (0, "SECTION"), (2, name)


def _variable(name: str, *values: Tag) -> tuple[Tag, ...]:
    return (9, name), *values


def _point(code: int, x: Number, y: Number) -> tuple[Tag, ...]:
    """A point's three tags, from its first one's code on."""
    return (code, _number(x)), (code + 10, _number(y)), (code + 20, "0")


def _number(value: Number) -> str:
    """A number to nine decimals.

    >>> _number(12.5), _number(-0.0), _number(40)
    ('12.5', '0', '40')
    """
    text = f"{float(value):.9f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def as_string(text: str) -> str:
    r"""Text as a string of release 12 that means just that, cut where it would be too long.

    What is beyond ASCII is \U+XXXX. Two percent signs begin a code, so that each after another is
    the wide one; a caret begins one too, and is itself before a space.

    >>> print(as_string("Ερωδιός"), as_string("5%%d ^J"), as_string("\\P"))
    \U+0395\U+03C1\U+03C9\U+03B4\U+03B9\U+03CC\U+03C2 5%\U+FF05d ^ J \U+005CP
    """
    text = re.sub("%+", lambda run: f"%{(len(run[0]) - 1) * WIDE_PERCENT}", text)
    string = ""
    for char in text:
        plain = char if ord(char) < 0x10000 else BEYOND
        sign = plain if " " <= plain <= "~" and plain != "\\" else f"\\U+{ord(plain):04X}"
        sign = "^ " if plain == "^" else sign
        if len(string) + len(sign) > LONGEST:
            break
        string += sign
    return string
