"""One sheet turned to pixels at 600 dpi by renderers that had no part in it, and measured there.

Circles are found in the pixels: along rays from near a hole, the line of its width is looked for,
and a circle is fitted to the middles of what was found.
"""

from __future__ import annotations

import os
import shutil
import struct
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest

from tests.helpers import pages
from tests.helpers.made import bare

Picture: TypeAlias = npt.NDArray[np.uint8]

DPI = 600
PIXEL = 25.4 / DPI

# W = 40 in = 1016 mm, a = 1 1/2 in = 38.1, b = 3 in = 76.2, G = 2 in = 50.8, N = 12:
# S = (1016 - 38.1 - 76.2 - 609.6)/11 = 292.1/11, P = 50.8 + S = 850.9/11 = 77.355. The hole is
# 1 1/16 in = 26.9875 mm.
TOML = """
[job]
name = "Heron Point, upper landing"
[paper]
size = "letter"
orientation = "landscape"
[eyelet]
outside = 2
opening = 1
hole = "1 1/16"
[[window]]
panels = "left"
width = 40
return = 3
count = 12
"""
PITCH = 850.9 / 11
HOLE = 26.9875
WIDE, HIGH = 215.9, 279.4


@dataclass(frozen=True)
class Sheet:
    """A sheet's PDF, its page there, and its holes' centres in mm from the upper left corner."""

    path: Path
    page: int
    holes: tuple[tuple[float, float], ...]


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    """The second sheet of the job, which has holes and a lap on either side."""
    [data] = bare(TOML)
    path = tmp_path_factory.mktemp("pixels") / "job.pdf"
    path.write_bytes(data)
    found = pages.sheets(data, turned=True)[1]
    # The sheet was turned a quarter: its (x, y) is the page's (width - y, x), y up.
    holes = tuple((WIDE - c.y, HIGH - c.x) for c in found.circles(HOLE))
    assert len(holes) >= 2
    return Sheet(path, found.page, holes)


def by_pdfium(sheet: Sheet) -> Picture:
    """The page by pdfium."""
    pdf = pypdfium2.PdfDocument(sheet.path)
    picture = pdf[sheet.page].render(scale=DPI / 72, grayscale=True).to_numpy()
    pdf.close()
    return np.array(picture.reshape(picture.shape[:2]))


def by_poppler(sheet: Sheet) -> Picture:
    """The page by poppler, through a PGM; skipped where it isn't installed."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm isn't installed")
    page = str(sheet.page + 1)
    command = ["pdftoppm", "-r", str(DPI), "-gray", "-f", page, "-l", page, str(sheet.path)]
    done = subprocess.run(command, capture_output=True, check=True)
    kind, size, most, data = done.stdout.split(b"\n", 3)
    assert (kind, most) == (b"P5", b"255")
    width, height = map(int, size.split())
    return np.frombuffer(data, np.uint8).reshape(height, width)


def runs(dark: npt.NDArray[np.bool_]) -> Iterator[tuple[int, int]]:
    """Where dark stretches along a ray begin and end."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], dark.astype(np.int8), [0]))))
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        yield int(start), int(end)


def circle(picture: Picture, x: float, y: float, pen: float) -> tuple[float, float, float]:
    """Centre and diameter in pixels of the circle `pen` mm wide round about a point in pixels.

    Least squares: x^2 + y^2 = 2 a x + 2 b y + c, linear in a, b and c = r^2 - a^2 - b^2.
    """
    step, found = 0.25, []
    reach = np.arange(6 / PIXEL, 20 / PIXEL, step)
    for angle in np.radians(np.arange(0, 360, 0.5)):
        xs, ys = x + reach * np.cos(angle), y + reach * np.sin(angle)
        dark = picture[np.floor(ys).astype(int), np.floor(xs).astype(int)] < 128
        for start, end in runs(dark):
            if abs((end - start) * step * PIXEL - pen) < 0.12:
                r = reach[0] + (start + end - 1) / 2 * step
                found.append((x + r * np.cos(angle), y + r * np.sin(angle)))
                break
    assert len(found) > 500
    points = np.array(found)
    # What isn't of the circle, a letter's stem or a line that a ray met, is off the first fit.
    for allowed in (40, 4, 2):
        left = np.column_stack([2 * points, np.ones(len(points))])
        (a, b, c), *_ = np.linalg.lstsq(left, (points**2).sum(axis=1), rcond=None)
        r = np.sqrt(c + a * a + b * b)
        points = points[np.abs(np.hypot(points[:, 0] - a, points[:, 1] - b) - r) < allowed]
        assert len(points) > 500
    return float(a), float(b), 2 * float(r)


@pytest.mark.parametrize("renderer", [by_pdfium, by_poppler], ids=["pdfium", "poppler"])
def test_holes(sheet: Sheet, renderer: Callable[[Sheet], Picture]) -> None:
    """Each hole's circle in the pixels is within a pixel of its place and of its diameter.

    Looked for from 1 mm off; and from hole to hole it is the worked pitch.
    """
    picture = renderer(sheet)
    size = (HIGH / PIXEL, WIDE / PIXEL)
    # pdfium's binding rounds a picture's sides up.
    assert size == pytest.approx(picture.shape, abs=1.001)
    pitch, hole = PITCH / PIXEL, HOLE / PIXEL
    centers = []
    for x, y in sheet.holes:
        a, b, across = circle(picture, (x + 1) / PIXEL, (y - 1) / PIXEL, 0.7)
        assert x / PIXEL == pytest.approx(a, abs=1)
        assert y / PIXEL == pytest.approx(b, abs=1)
        assert hole == pytest.approx(across, abs=1)
        centers.append((a, b))
    for (x0, y0), (x1, y1) in pairwise(centers):
        assert pitch == pytest.approx(abs(y1 - y0), abs=1)
        assert pytest.approx(0, abs=1) == x1 - x0


def pwg(data: bytes) -> Picture:
    """The first page of a PWG raster as grey; PWG 5102.4-2012, PWG Raster Format.

    A header of 1796 bytes; then each line says how often it is repeated, and its runs: a count
    below 128 of the same pixel, above it of pixels one by one.
    """
    assert data[:4] == b"RaS2"

    def field(offset: int) -> int:
        return int(struct.unpack_from(">I", data, 4 + offset)[0])

    assert {field(276), field(280)} == {DPI}
    width, height, size = field(372), field(376), field(388) // 8
    picture = np.zeros((height, width), np.uint8)
    at, row = 1800, 0
    while row < height:
        again, at, line = data[at] + 1, at + 1, bytearray()
        while len(line) < width * size:
            count, at = data[at], at + 1
            if count < 128:
                line += data[at : at + size] * (count + 1)
                at += size
            else:
                line += data[at : at + size * (257 - count)]
                at += size * (257 - count)
        picture[row : row + again] = np.frombuffer(line, np.uint8).reshape(width, size)[:, 0]
        row += again
    return picture


def test_print_pipeline(sheet: Sheet) -> None:
    """Through Debian's print filters with no scaling asked for, the 100 mm bars are 100 mm long.

    Seen as on the upright page, whose sheet was turned a quarter: the bar across runs down.
    """
    found = shutil.which("cupsfilter", path=f"{os.environ.get('PATH', '')}:/usr/sbin")
    if found is None:
        pytest.skip("cupsfilter, of Debian's cups and cups-filters, isn't installed")
    asked = ["print-scaling=none", "media=Letter", "Resolution=600dpi"]
    asked.append(f"page-ranges={sheet.page + 1}")
    options = [word for option in asked for word in ("-o", option)]
    command = [found, "-i", "application/pdf", "-m", "image/pwg-raster", *options, str(sheet.path)]
    done = subprocess.run(command, capture_output=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr.decode(errors="replace")[-2000:]
    picture = pwg(done.stdout)
    size = (round(HIGH / PIXEL), round(WIDE / PIXEL))
    assert size == picture.shape
    # 9 mm above the lower margin of the sheet, 12.7 mm: the page's right side, and along it.
    bar = picture[:, round((WIDE - 12.7 - 9) / PIXEL)] < 128
    low, high = max(runs(bar), key=lambda run: run[1] - run[0])
    expected = (100 + 0.25) / PIXEL  # half a tick's pen over at either end
    assert expected == pytest.approx(high - low, abs=2)
