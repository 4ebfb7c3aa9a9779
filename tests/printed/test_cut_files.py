"""Cut files measured: every hole against the plan's own figures, and nothing drawn twice."""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from itertools import combinations
from math import hypot
from pathlib import Path
from typing import Any

import pytest

from tests.helpers.commands import run
from tests.helpers.cutfiles import (
    JOBS,
    Point,
    Read,
    Segment,
    opened,
    read_by_gdal,
    read_dxf,
    read_svg,
)
from tests.helpers.jobfiles import job_toml

READERS: dict[str, Callable[[Path], dict[str, Read]]] = {"dxf": read_dxf, "svg": read_svg}


def made(text: str, folder: Path, ending: str) -> tuple[list[Path], dict[str, Any]]:
    """A job's cut files in the order they are told, and its plan as JSON."""
    job = folder / "linen_store.toml"
    job.write_text(text, encoding="utf-8")
    result = run(
        "cutfile", job, "--out", folder / f"cut.{ending}", "--accept", "back-fold-hits-wall"
    )
    assert result.exit_code == 0, result.stderr
    files = [Path(line.partition(": ")[0]) for line in result.stdout.splitlines()]
    return files, json.loads(run("plan", job, "--json").stdout)


def wanted(panels: list[dict[str, Any]], *, back: bool) -> list[float]:
    """Where a strip's holes are from its left end, by the plan of its one panel or its two.

    Seen from the room a left panel has its leading edge at the right, a right one at the left; from
    behind the other way round. Two panels of a pair have their holes on one another, and whichever
    has more cloth before its first eyelet begins where the strip does.
    """
    panel = panels[0]
    centers: list[float] = panel["centers_mm"]
    if len(panels) == 2:
        before = max(panel["leading_mm"], panel["return_mm"]) + panel["outside_mm"] / 2
        return [before + center - centers[0] for center in centers]
    leading_right = (panel["side"] == "left") != back
    # A single panel's measures are from its left edge as seen from the room.
    if panel["side"] == "single":
        leading_right = back
    if leading_right:
        return sorted(panel["width_mm"] - center for center in centers)
    return centers


@pytest.mark.parametrize("ending", READERS)
@pytest.mark.parametrize("name", JOBS)
def test_holes(name: str, ending: str, tmp_path: Path) -> None:
    """Every hole where the plan has it and as wide, to 1e-6 mm; the outline the band's own size."""
    files, plan = made(JOBS[name], tmp_path, ending)
    shared = [window["panels"] for window in plan["windows"]]
    if name == "each":
        shared = [[panel] for window in plan["windows"] for panel in window["panels"]]
    assert len(files) == len(shared)
    for path, panels in zip(files, shared, strict=True):
        layers = READERS[ending](path)
        panel = panels[0]
        xs = wanted(panels, back="back" in name)
        holes = sorted(layers["HOLES"].circles)
        assert [hole[0] for hole in holes] == pytest.approx(xs, abs=1e-6)
        assert {round(hole[2], 6) for hole in holes} == {round(panel["hole_mm"], 6)}
        uneven = abs(panel["leading_mm"] - panel["return_mm"]) if len(panels) == 2 else 0
        length, height = panel["width_mm"] + uneven, panel["strip"]["height_mm"]
        (outline,) = layers["OUTLINE"].outlines
        assert box_of(outline) == pytest.approx((0, 0, length, height), abs=1e-6)
        # Centred in the band, as the jobs leave it.
        assert {round(hole[1] - height / 2, 6) for hole in holes} == {0}
        pricks = layers["PRICK"].circles
        assert [(x, y) for x, y, _ in sorted(pricks)] == [(x, y) for x, y, _ in holes]
        check_cut(layers)
        check_inside(layers, length, height)
        check_once(layers)


def box_of(points: tuple[Point, ...]) -> tuple[float, float, float, float]:
    """The box round points, which are the four corners of one."""
    xs, ys = zip(*points, strict=True)
    assert len(points) == 4
    return min(xs), min(ys), max(xs), max(ys)


def check_cut(layers: dict[str, Read]) -> None:
    """Only whole circles and one closed outline are cut, the outline last of all."""
    assert list(layers)[-2:] == ["HOLES", "OUTLINE"]
    assert layers["HOLES"] == Read(circles=layers["HOLES"].circles)
    assert layers["OUTLINE"] == Read(outlines=layers["OUTLINE"].outlines[:1])
    assert set(layers) <= {"HOLES", "OUTLINE", "PRICK", "FOLD", "MARKS", "TEXT"}


def check_inside(layers: dict[str, Read], length: float, height: float) -> None:
    """Nothing is drawn beyond the outline."""
    for layer in layers.values():
        for x, y in layer.corners:
            assert -1e-6 <= x <= length + 1e-6
            assert -1e-6 <= y <= height + 1e-6


def check_once(layers: dict[str, Read]) -> None:
    """No two circles are the same, and no two strokes run on one another for any length."""
    circles = [
        tuple(round(n, 5) for n in circle) for layer in layers.values() for circle in layer.circles
    ]
    assert len(set(circles)) == len(circles)
    segments = [segment for layer in layers.values() for segment in layer.segments]
    for one, other in combinations(segments, 2):
        assert lap(one, other) < 1e-5, (one, other)


def lap(one: Segment, other: Segment) -> float:
    """For how many mm two straight strokes run on one another: by their distances, whatever way."""
    (x1, y1), (x2, y2) = one
    length = hypot(x2 - x1, y2 - y1)
    assert length > 1e-5
    along, up = (x2 - x1) / length, (y2 - y1) / length
    reach: list[float] = []
    for x, y in other:
        if abs((y - y1) * along - (x - x1) * up) > 1e-5:
            return 0.0
        reach.append((x - x1) * along + (y - y1) * up)
    return min(max(reach), length) - max(min(reach), 0.0)


def test_laps_are_seen() -> None:
    """The check itself tells strokes on one another from those that cross or touch."""
    guide = ((5.0, 0.0), (5.0, 100.0))
    assert lap(guide, ((5.0, 90.0), (5.0, 20.0))) == pytest.approx(70)
    for other in (((5.0, 100.0), (5.0, 120.0)), ((0.0, 5.0), (9.0, 5.0)), ((5.1, 0.0), (5.1, 9.0))):
        assert lap(guide, other) < 1e-5


def test_folds_seams_and_ends(tmp_path: Path) -> None:
    """A pair's folds, seams and inner ends, each once and where its panel has it."""
    [path], plan = made(JOBS["pair"], tmp_path, "dxf")
    left, right = plan["windows"][0]["panels"]
    layers = read_dxf(path)
    width, inch = left["width_mm"], 25.4
    # The left panel's return is at the strip's left end, 1 1/2 in more than the right's leading.
    folds = [3 * inch, width + 1.5 * inch - 3 * inch]
    assert upright(layers["FOLD"]) == pytest.approx(folds)
    seams = [width - seam for seam in left["seams_mm"]]
    seams += [1.5 * inch + seam for seam in right["seams_mm"]]
    assert seams
    ends = [1.5 * inch, width]
    marked = upright(layers["MARKS"])
    for x in (*seams, *ends):
        assert any(abs(x - mark) < 1e-6 for mark in marked), x
    assert not any(abs(x - mark) < 1e-6 for mark in marked for x in folds)


def upright(layer: Read) -> list[float]:
    """Where a layer's upright lines stand, from the left."""
    return sorted(x1 for (x1, _), (x2, _) in layer.lines if x1 == x2)


def test_header(tmp_path: Path) -> None:
    """Release 12, millimetres, extents from (0, 0): what programs ask a file for."""
    [path], plan = made(JOBS["left"], tmp_path, "dxf")
    panel = plan["windows"][0]["panels"][0]
    drawing = opened(path)
    assert (drawing.dxfversion, drawing.units) == ("AC1009", 4)
    header = drawing.header
    assert tuple(header["$EXTMIN"]) == (0, 0, 0)
    size = (panel["width_mm"], panel["strip"]["height_mm"], 0)
    assert tuple(header["$EXTMAX"]) == pytest.approx(size, abs=1e-6)
    names = {layer.dxf.name for layer in drawing.layers}
    assert {"HOLES", "OUTLINE", "PRICK", "FOLD", "MARKS", "TEXT"} <= names
    used = {entity.dxf.linetype for entity in drawing.modelspace()}
    assert used <= {"BYLAYER", *(line.dxf.name for line in drawing.linetypes)}
    assert path.read_bytes().isascii()
    assert path.read_bytes().endswith(b"  0\r\nEOF\r\n")


def test_by_gdal(tmp_path: Path) -> None:
    """GDAL finds the same: holes on their layer, round and closed, one outline, the words."""
    [path], plan = made(JOBS["pair"], tmp_path, "dxf")
    panel = plan["windows"][0]["panels"][0]
    features = read_by_gdal(path)
    by_layer: dict[str, list[dict[str, Any]]] = {}
    for feature in features:
        by_layer.setdefault(feature["properties"]["Layer"], []).append(feature)
    centers = []
    for hole in by_layer["HOLES"]:
        points = [point[:2] for point in hole["geometry"]["coordinates"]]
        assert points[0] == pytest.approx(points[-1], abs=1e-9)
        xs, ys = zip(*points, strict=True)
        x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        for px, py in points:
            assert 2 * ((px - x) ** 2 + (py - y) ** 2) ** 0.5 == pytest.approx(
                panel["hole_mm"], abs=1e-6
            )
        centers.append(x)
    expected = wanted(plan["windows"][0]["panels"], back=False)
    assert sorted(centers) == pytest.approx(expected, abs=1e-6)
    (outline,) = by_layer["OUTLINE"]
    points = outline["geometry"]["coordinates"]
    assert points[0] == points[-1]
    assert len(points) == 5
    words = {feature["properties"]["Text"] for feature in by_layer["TEXT"]}
    assert {"LEFT 1", "RIGHT 1", "F", "B"} <= words


def test_thousand_eyelets(tmp_path: Path) -> None:
    """A strip of 99 m with a thousand holes, the last as true as the first."""
    job = tmp_path / "long.toml"
    window = "width = 99000\npanels = 'left'\ncount = 1000\nleading = 40\nreturn = 75"
    job.write_text(job_toml(window, head="units = 'mm'"), encoding="utf-8")
    result = run("cutfile", job, "--out", tmp_path / "long.dxf")
    assert result.exit_code == 0
    holes = sorted(read_dxf(tmp_path / "long.dxf")["HOLES"].circles)
    # The gap is what the rings leave of the width, parted into one less; in exact fractions.
    ring = Fraction(254, 5)
    pitch = (99000 - 40 - 75 - 1000 * ring) / 999 + ring
    exact = [75 + ring / 2 + n * pitch for n in range(1000)]
    assert [x for x, _, _ in holes] == pytest.approx([float(x) for x in exact], abs=1e-6)
