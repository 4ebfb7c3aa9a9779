"""What a cut file holds, read back by what knows nothing of its writer: ezdxf, GDAL, an XML parser.

All in millimetres, y up, by layer.
"""

from __future__ import annotations

import json
import math
import os
import re
import shutil
import subprocess
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from ezdxf.document import Drawing
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.text import Text
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.encoding import decode_dxf_unicode

from tests.helpers.jobfiles import job_toml

Point = tuple[float, float]
Segment = tuple[Point, Point]
RING = 'outside = "2 5/8"\nopening = "1 9/16"\nhole = "1 11/16"'
SMALL = "outside = 26\nopening = 12\nhole = 13\nhung = 'hooks'"
CLOTH = '[fabric]\nwidth = "54"\n'
PATTERN = '[fabric]\nwidth = "54"\nrepeat_across = 27\nmotif = 9\n'
UNEQUAL = "covers = 40\nfullness = 2\nleading = '1 1/2'\nreturn = 3"
JOBS = {
    "left": job_toml("width = '75 1/3'\npanels = 'left'\nreturn = 3", eyelet=RING),
    "right": job_toml("width = 75\npanels = 'right'\nreturn = 3", eyelet=RING, tables=CLOTH),
    "single": job_toml("width = 75\npanels = 'single'", eyelet=RING, tables=CLOTH),
    "back": job_toml(
        "width = 75\npanels = 'left'\nreturn = 3", eyelet=RING, tables="[paper]\nview = 'back'"
    ),
    "pair": job_toml(UNEQUAL, eyelet=RING, tables=CLOTH),
    "pair-alike": job_toml(
        "covers = 40\nfullness = 2\nleading = 2\nreturn = 2", eyelet=RING, tables=CLOTH
    ),
    "pair-back": job_toml(UNEQUAL, eyelet=RING, tables=f"{CLOTH}[paper]\nview = 'back'"),
    "each": job_toml(UNEQUAL, eyelet=RING, tables="[paper]\nstrips = 'each'"),
    "stepping": job_toml(
        "width = 90\npanels = 'left'\ncount = 12", eyelet=RING, tables="[paper]\nstyle='stepping'"
    ),
    "stepping-pair": job_toml(UNEQUAL, eyelet=RING, tables="[paper]\nstyle='stepping'"),
    "motifs": job_toml(f"{UNEQUAL}\npattern = 'folds'", eyelet=RING, tables=PATTERN),
    "rolls": job_toml(
        "width = 100\npanels = 'single'", eyelet=RING, tables="[band]\nroll = '3 yd'"
    ),
    "hooks": job_toml(
        "width = 1234.5\npanels = 'left'\ncount = 7\nreturn = 60",
        head="units = 'mm'",
        eyelet=SMALL,
    ),
    "tight": job_toml(
        "width = 900\npanels = 'right'",
        head="units = 'mm'",
        eyelet=SMALL,
        tables="[band]\nheight = 32",
    ),
    "two-windows": job_toml(
        "name = 'North'\nwidth = 60\npanels = 'left'",
        "name = 'South'\nwidth = 72\npanels = 'left'",
        eyelet=RING,
    ),
}
"""Jobs of every kind of strip; all but those called back are seen from the face."""

SVG = "{http://www.w3.org/2000/svg}"
MUST = "DRAPETEMPLATE_MUST_HAVE_GDAL"
"""Set where GDAL that isn't there is a fault, and no reason to skip a test: .ci/run sets it."""


@dataclass
class Read:
    """What one layer draws: circles by centre and diameter, lines, closed outlines, words."""

    circles: list[tuple[float, float, float]] = field(default_factory=list)
    lines: list[Segment] = field(default_factory=list)
    outlines: list[tuple[Point, ...]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    @property
    def segments(self) -> list[Segment]:
        """Every straight stroke, an outline's sides among them."""
        sides = [
            side
            for points in self.outlines
            for side in zip(points, points[1:] + points[:1], strict=True)
        ]
        return self.lines + sides

    @property
    def corners(self) -> list[Point]:
        """Points that no stroke goes beyond."""
        round_ = [(x + s * d / 2, y + s * d / 2) for x, y, d in self.circles for s in (-1, 1)]
        return round_ + [point for segment in self.segments for point in segment]


def opened(path: Path) -> Drawing:
    """A DXF file as ezdxf takes it; fails where ezdxf finds anything to mend in it."""
    drawing = readfile(path)
    audit = drawing.audit()
    assert not audit.errors
    assert not audit.fixes
    return drawing


def read_dxf(path: Path) -> dict[str, Read]:
    """A DXF file's layers in the order of what they hold; every kind that may be there is read."""
    layers: dict[str, Read] = defaultdict(Read)
    for entity in opened(path).modelspace():
        layer = layers[entity.dxf.layer]
        match entity.dxftype():
            case "CIRCLE":
                x, y, _ = entity.dxf.center
                layer.circles.append((x, y, 2 * entity.dxf.radius))
            case "LINE":
                (x1, y1, _), (x2, y2, _) = entity.dxf.start, entity.dxf.end
                layer.lines.append(((x1, y1), (x2, y2)))
            case "POLYLINE":
                assert isinstance(entity, Polyline)
                assert entity.is_closed
                layer.outlines.append(tuple((x, y) for x, y, _ in entity.points()))
            case "TEXT":
                assert isinstance(entity, Text)
                layer.words.append(words_of(entity))
            case kind:
                pytest.fail(f"a cut file has no {kind}")
    return dict(layers)


def words_of(text: Text) -> str:
    r"""A text as it shows: codes that begin with a caret or %%, then \U+XXXX, stand for others."""
    return decode_dxf_unicode(text.plain_text())


def read_svg(path: Path) -> dict[str, Read]:
    """An SVG file's groups in their order, by their names."""
    root = ET.fromstring(path.read_bytes())  # noqa: S314  # our own bytes
    width, height = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert [float(n) for n in root.attrib["viewBox"].split()] == [0, 0, width, height]
    layers = {}
    for group in root.findall(f"{SVG}g"):
        layer = layers[group.attrib["id"]] = Read()
        for element in group:
            assert element.get("fill") == "none" or element.tag in {f"{SVG}text", f"{SVG}line"}
            at = {key: float(n) for key, n in element.attrib.items() if len(key) <= 2}
            match element.tag.removeprefix(SVG):
                case "circle":
                    layer.circles.append((at["cx"], height - at["cy"], 2 * at["r"]))
                case "line":
                    start, end = (at["x1"], height - at["y1"]), (at["x2"], height - at["y2"])
                    layer.lines.append((start, end))
                case "polygon":
                    pairs = re.findall(r"([\d.-]+),([\d.-]+)", element.attrib["points"])
                    layer.outlines.append(tuple((float(x), height - float(y)) for x, y in pairs))
                case "text":
                    layer.words.append(element.text or "")
                case kind:
                    pytest.fail(f"a cut file has no {kind}")
    return layers


def read_by_gdal(path: Path) -> list[dict[str, Any]]:
    """A DXF file's features as GDAL takes them, in their order, with geometry as GeoJSON has it.

    The test is skipped without GDAL, or fails where it must be there.
    """
    program = shutil.which("ogr2ogr")
    if program is None:
        if os.environ.get(MUST):
            pytest.fail("ogr2ogr isn't installed")
        pytest.skip("ogr2ogr isn't installed: apt-get install gdal-bin")
    words = [program, "-f", "GeoJSON", "/vsistdout/", str(path)]
    done = subprocess.run(words, capture_output=True, check=True)
    assert done.stderr == b""
    found: list[dict[str, Any]] = json.loads(done.stdout)["features"]
    return found


def circles_by_inkscape(path: Path, layer: str) -> list[tuple[float, float, float]]:
    """Centres, y down from the top, and diameters of an SVG file's circles, as Inkscape has them.

    Its boxes are in px, 96 an inch, and hold the line's own breadth, which is read off the file.
    The test is skipped without Inkscape.
    """
    program = shutil.which("inkscape")
    if program is None:
        pytest.skip("Inkscape isn't installed: apt-get install inkscape")
    root = ET.fromstring(path.read_bytes())  # noqa: S314  # our own
    named = {}
    for n, circle in enumerate(root.iterfind(f"{SVG}g[@id='{layer}']/{SVG}circle")):
        circle.set("id", f"asked-{n}")
        named[f"asked-{n}"] = float(circle.attrib["stroke-width"])
    asked = path.with_name("asked.svg")
    asked.write_bytes(ET.tostring(root))
    done = subprocess.run([program, "--query-all", str(asked)], capture_output=True, check=True)
    found = []
    for name, *box in (line.split(",") for line in done.stdout.decode().splitlines()):
        if name in named:
            x, y, wide, high = (float(n) * 25.4 / 96 for n in box)
            assert math.isclose(wide, high, abs_tol=0.01)
            found.append((x + wide / 2, y + high / 2, wide - named[name]))
    return found
