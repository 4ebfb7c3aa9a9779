"""A PDF of a document's marks written by hand, as plainly as the format allows: a floor.

Each mark is written once, marks that pages share once for all of them, packed by zlib as the tool
packs; the fonts hold the letters used, cut down by fontTools. There is no job file in it and
nothing of a record. None of it is the tool's own code but the marks themselves.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable
from io import BytesIO
from math import ceil, cos, pi, radians, sin, tan

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Pen, Polygon, Text
from drapetemplate.render.font_metrics import FONTS

POINT = 72 / 25.4
FACES = {False: "DejaVuSans", True: "DejaVuSans-Bold"}
BACK = {"start": 0.0, "middle": 0.5, "end": 1.0}
Codes = dict[bool, dict[str, int]]
"""Each weight's letters used, with the byte that stands for each."""


def contents(document: Document) -> tuple[list[bytes], Codes]:
    """Every content stream, packed: the pages' own, then those that they share, each once."""
    codes: Codes = {False: {}, True: {}}
    shared = {id(page.shared): page.shared for page in document.pages if page.shared}
    own = (page.marks[: len(page.marks) - len(page.shared)] for page in document.pages)
    return [zlib.compress(_stream(marks, codes)) for marks in (*own, *shared.values())], codes


def raw_pdf(document: Document) -> bytes:
    """The whole file, which any reader takes."""
    streams, codes = contents(document)
    objects = [b"<</Type/Catalog/Pages 2 0 R>>", b"", *map(_packed, streams)]
    first = len(objects) - len(streams) + 1
    fonts = b""
    for bold, letters in codes.items():
        if letters:
            program, widths = _cut(FACES[bold], letters)
            objects += [
                _packed(zlib.compress(program)),
                b"<</Type/FontDescriptor/FontName/F/Flags 4/FontFile2 %d 0 R>>"
                % (len(objects) + 1),
                b"<</Type/Font/Subtype/TrueType/BaseFont/F/FirstChar 0/LastChar %d/Widths[%b]"
                b"/FontDescriptor %d 0 R>>" % (len(letters) - 1, widths, len(objects) + 2),
            ]
            fonts += b"/%b %d 0 R" % (b"B" if bold else b"R", len(objects))
    shared = list({id(page.shared): None for page in document.pages if page.shared})
    kids = []
    for n, page in enumerate(document.pages):
        named = [first + n]
        if page.shared:
            named.append(first + len(document.pages) + shared.index(id(page.shared)))
        objects.append(
            b"<</Type/Page/Parent 2 0 R/Contents[%b]>>" % b" ".join(b"%d 0 R" % k for k in named)
        )
        kids.append(b"%d 0 R" % len(objects))
    box = b"0 0 %.7g %.7g" % (float(document.width) * POINT, float(document.height) * POINT)
    objects[1] = b"<</Type/Pages/Count %d/Kids[%b]/MediaBox[%b]/Resources<</Font<<%b>>>>>>" % (
        len(kids),
        b" ".join(kids),
        box,
        fonts,
    )
    file, entries = b"%PDF-1.7\n", b"0000000000 65535 f \n"
    for n, written in enumerate(objects, 1):
        entries += b"%010d 00000 n \n" % len(file)
        file += b"%d 0 obj%b\nendobj\n" % (n, written)
    table = b"xref\n0 %d\n%b" % (len(objects) + 1, entries)
    trailer = b"trailer<</Size %d/Root 1 0 R>>" % (len(objects) + 1)
    return file + table + trailer + b"\nstartxref\n%d\n%%%%EOF" % len(file)


def _packed(stream: bytes) -> bytes:
    return b"<</Filter/FlateDecode/Length %d>>stream\n%b\nendstream" % (len(stream), stream)


def _cut(name: str, letters: Iterable[str]) -> tuple[bytes, bytes]:
    """A face's file with these letters alone, and their widths as a font dictionary has them."""
    font = TTFont(FONTS / f"{name}.ttf")
    glyphs, units = font.getBestCmap(), font["head"].unitsPerEm
    widths = [font["hmtx"][glyphs[ord(letter)]][0] * 1000 / units for letter in letters]
    options = Options(
        hinting=False,
        layout_features=[],
        drop_tables=["GSUB", "GPOS", "GDEF", "MATH", "FFTM", "kern"],
    )
    cut = Subsetter(options)
    cut.populate(text="".join(letters))
    cut.subset(font)
    file = BytesIO()
    font.save(file)
    return file.getvalue(), b" ".join(b"%.5g" % width for width in widths)


def _stream(marks: Iterable[Mark], codes: Codes) -> bytes:
    lines: list[str] = []
    pen: Pen | None = None
    for mark in marks:
        own = None if isinstance(mark, Text) else mark.pen
        if own is not None and own != pen:
            dashes = " ".join(f"{dash * POINT:.4g}" for dash in own.dash)
            lines.append(f"{own.width * POINT:.4g} w {own.grey:g} G [{dashes}] 0 d")
            pen = own
        match mark:
            case Line():
                lines.append(f"{_at(mark.x1, mark.y1)} m {_at(mark.x2, mark.y2)} l S")
            case Circle():
                lines.append(_curve(mark, 0.0, 2 * pi))
            case Arc():
                lines.append(_curve(mark, radians(mark.start), radians(mark.sweep)))
            case Polygon():
                fill = "" if mark.fill is None else f"{mark.fill:g} g "
                first, *rest = (_at(x, y) for x, y in mark.points)
                lines.append(f"{fill}{first} m {' '.join(f'{p} l' for p in rest)} h B")
            case Text():
                lines.append(_text(mark, codes[mark.bold]))
    return "\n".join(lines).encode("latin-1")


def _at(x: object, y: object) -> str:
    return f"{float(x) * POINT:.7g} {float(y) * POINT:.7g}"  # type: ignore[arg-type]  # numbers


def _curve(mark: Circle | Arc, start: float, sweep: float) -> str:
    """As many Bezier arcs as the tool's precision takes: one for 45 degrees."""
    x, y, r = float(mark.x), float(mark.y), float(mark.r)
    pieces = max(1, ceil(sweep / (pi / 4) - 1e-9))
    step = sweep / pieces
    k = 4 / 3 * tan(step / 4)
    parts = [f"{_at(x + r * cos(start), y + r * sin(start))} m"]
    for n in range(pieces):
        a, b = start + n * step, start + (n + 1) * step
        parts.append(
            f"{_at(x + r * (cos(a) - k * sin(a)), y + r * (sin(a) + k * cos(a)))} "
            f"{_at(x + r * (cos(b) + k * sin(b)), y + r * (sin(b) - k * cos(b)))} "
            f"{_at(x + r * cos(b), y + r * sin(b))} c"
        )
    return " ".join(parts) + " S"


def _text(mark: Text, letters: dict[str, int]) -> str:
    codes = bytes(letters.setdefault(letter, len(letters) % 256) for letter in mark.text)
    shown = codes.decode("latin-1").replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")
    font = f"/{'B' if mark.bold else 'R'} {mark.size * POINT:.4g} Tf"
    back = BACK[mark.anchor] * mark.width
    c, s = cos(radians(mark.angle)), sin(radians(mark.angle))
    at = _at(float(mark.x) - back * c, float(mark.y) - back * s)
    placed = f"{c:.6g} {s:.6g} {-s:.6g} {c:.6g} {at} Tm" if mark.angle else f"{at} Td"
    return f"BT {font} {placed} ({shown}) Tj ET"
