"""A panel pushed along its pole: figures as the folds' solver has them, cloth as long as ever."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from math import dist
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from drapetemplate.desk.positions import positions
from drapetemplate.job.build import read_job
from drapetemplate.planning import folds
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_json import as_json
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import RING, job_toml

SAMPLES = sorted(
    path for path in Path("sample_jobs").glob("*.toml") if 'hung = "hooks"' not in path.read_text()
)
WALL = '[pole]\nprojection = "3 1/2"\ndiameter = "5/8"'
JOBS = {
    **{path.stem: path.read_text(encoding="utf-8") for path in SAMPLES},
    "right": job_toml('width = 60\npanels = "right"\nreturn = "4 1/2"', tables=WALL),
    "odd": job_toml('width = 60\npanels = "left"\ncount = 7', tables=WALL),
    "pole not known": job_toml("width = 60"),
    "won't close": job_toml("width = 60\ncovers = 50", tables='[pole]\ndiameter = "7/8"'),
    "hardly stacks": job_toml('width = 60\nstack_each = "3 in"\ncount = 8', tables=WALL),
    "stacks to nothing": job_toml('width = 60\nstack_each = "1/8"\ncount = 8', tables=WALL),
    "many": job_toml('width = "3900 in"', eyelet=RING, tables=WALL),
    "two": job_toml("width = 12\ncount = 2", tables=WALL),
}


def panel_of(toml: str) -> dict[str, Any]:
    """The first panel as `plan --json` has it."""
    job = read_job(toml.encode(), "")
    panel: dict[str, Any] = as_json(job, plan(job))["windows"][0]["panels"][0]
    return panel


@pytest.mark.parametrize("name", JOBS)
def test_figures_are_the_solvers(name: str) -> None:
    """At twenty positions and more: turned so far, a panel of that pitch takes that much pole."""
    panel, table = panel_of(JOBS[name]), positions(answers_of(JOBS[name]), 1)["positions"]
    gaps = panel["count"] - 1
    solved = [each["figures"] for each in table if each["figures"]["ring_angle_deg"] is not None]
    every = max(1, len(solved) // 20)
    assert len(solved[::every]) >= min(len(solved), 14)
    for figures in solved[::every]:
        fullness = panel["pitch_mm"] * gaps / figures["pole_taken_mm"]
        fold = folds.solve(panel["pitch_mm"], panel["outside_mm"], fullness)
        assert figures["depth_mm"] == pytest.approx(fold.depth, rel=1e-6)
        assert figures["ring_angle_deg"] == pytest.approx(fold.angle_deg, rel=1e-6, abs=1e-4)
        assert figures["fullness"] == pytest.approx(fullness)


@pytest.mark.parametrize("name", JOBS)
def test_ends_are_the_planned_ones(name: str) -> None:
    """Closed and stacked are exactly the plan's; the flattest is what the rings allow."""
    panel, table = panel_of(JOBS[name]), positions(answers_of(JOBS[name]), 1)
    fold, gaps = panel["fold"], panel["count"] - 1
    closed = table["positions"][table["planned"]]
    assert closed["name"] == "planned"
    assert closed["figures"]["depth_mm"] == fold["depth_closed_mm"]
    assert closed["figures"]["ring_angle_deg"] == fold["ring_angle_deg"]
    taken = pytest.approx(gaps * fold["pole_per_gap_mm"], rel=1e-9)
    assert closed["figures"]["pole_taken_mm"] == taken
    last = table["positions"][-1]
    assert (table["stacked"], last["name"]) == (len(table["positions"]) - 1, "stacked")
    assert last["figures"]["pole_taken_mm"] == panel["stack_mm"]
    assert last["figures"]["depth_mm"] == fold["depth_stacked_mm"]
    flattest = next(each for each in table["positions"] if each["name"] == "flattest")
    least = 1.0 if fold["least_fullness"] is None else fold["least_fullness"]
    assert flattest["figures"]["fullness"] == pytest.approx(least)
    on_the_way = [each["figures"]["pole_taken_mm"] for each in table["positions"]]
    assert on_the_way == sorted(on_the_way, reverse=True)


@pytest.mark.parametrize(("name", "touch"), [("hardly stacks", False), ("stacks to nothing", True)])
def test_folds_touch_before_they_stack(name: str, *, touch: bool) -> None:
    """Seven gaps stacked to an inch touch on the way, and stacked to two feet they never do."""
    table = positions(answers_of(JOBS[name]), 1)["positions"]
    touching = [each for each in table if each["name"] == "touching"]
    assert len(touching) == touch
    if touch:
        assert table.index(touching[0]) == len(table) - 2  # the last but for the stack


def points_of(path: str) -> list[tuple[float, float]]:
    """A path's points, from moves, lines to a point, and lines by a step."""
    points: list[tuple[float, float]] = []
    for kind, x, y in re.findall(r"([MLlm])(-?[0-9.]+) (-?[0-9.]+)", path):
        here = points[-1] if kind in "lm" else (0.0, 0.0)
        points.append((here[0] + float(x), here[1] + float(y)))
    return points


def rings_of(path: str) -> list[list[tuple[float, float]]]:
    """Each ring's two ends."""
    ends = points_of(path)
    return [ends[n : n + 2] for n in range(0, len(ends), 2)]


def off(point: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """How far a point is off the straight line from a to b."""
    whole = dist(a, b) ** 2 or 1.0
    along = sum((p - q) * (r - q) for p, q, r in zip(point, a, b, strict=True)) / whole
    share = min(max(along, 0.0), 1.0)
    return dist(point, [q + share * (r - q) for q, r in zip(a, b, strict=True)])


@pytest.mark.parametrize("name", JOBS)
def test_cloth_neither_stretches_nor_leaves_its_rings(name: str) -> None:
    """From first to last eyelet there is as much cloth at every position as there is flat.

    Every ring is as long as it is across, its middle on the pole's axis, evenly along it, and both
    its ends lie on the cloth.
    """
    panel, table = panel_of(JOBS[name]), positions(answers_of(JOBS[name]), 1)["positions"]
    gaps, outside = panel["count"] - 1, panel["outside_mm"]
    coarse = 0.1 if gaps > 100 else 0.02  # chords are shorter than the curve
    for position in table[:: max(1, len(table) // 12)] + table[-1:]:
        rings = rings_of(position["rings"])
        assert len(rings) == panel["count"]
        length = rings[-1][0][0] + rings[-1][1][0]
        for n, ends in enumerate(rings):
            assert dist(*ends) == pytest.approx(outside, abs=0.15)
            middle = [(a + b) / 2 for a, b in zip(*ends, strict=True)]
            assert middle == pytest.approx([length / 2 * n / gaps, 0.0], abs=0.11)
        cloth = points_of(position["path"])
        first, last = (
            min(range(len(cloth)), key=lambda n, end=end: dist(cloth[n], end))  # type: ignore[misc]
            for end in ((0.0, 0.0), (length / 2, 0.0))
        )
        between = sum(dist(a, b) for a, b in pairwise(cloth[first : last + 1]))
        assert between == pytest.approx(gaps * panel["pitch_mm"], rel=coarse)
        assert between <= gaps * panel["pitch_mm"] * (1 + 2e-3)
        some = rings[:5] + rings[-5:]
        for end in (end for ends in some for end in ends):
            assert min(off(end, a, b) for a, b in pairwise(cloth)) < 0.2


@pytest.mark.parametrize("name", JOBS)
def test_all_lies_in_the_frame(name: str) -> None:
    """One frame holds every position, and folds reach as deep as the figures say."""
    answers = positions(answers_of(JOBS[name]), 1)
    for panel in answers["panels"]:
        root = ET.fromstring(panel["svg"])  # noqa: S314  # our own
        x0, y0, width, height = map(float, root.attrib["viewBox"].split())
        for position in answers["positions"]:
            xs, ys = zip(*points_of(position["path"]), strict=True)
            assert x0 < min(xs)
            assert max(xs) < x0 + width
            assert y0 < min(ys)
            assert max(ys) < y0 + height
            inner = [y for _, y in points_of(position["path"])[3:-3]]
            assert max(map(abs, inner)) <= position["figures"]["depth_mm"] + 0.2


def test_return_reaches_the_wall_and_lies_along_it() -> None:
    """Cloth that is more than the way to the wall goes on along it, outward."""
    table = positions(answers_of(JOBS["right"]), 1)
    start, turn, ring = points_of(table["positions"][table["planned"]]["path"])[:3]
    assert turn[1] == start[1] == pytest.approx(-3.5 * 25.4, abs=0.05)
    assert turn[0] == ring[0]
    assert start[0] < turn[0]
    assert dist(start, turn) + dist(turn, ring) == pytest.approx(4.5 * 25.4, abs=0.2)


def test_a_pairs_panels_share_a_table() -> None:
    """The right one is the left one turned over, and is kept at the right."""
    toml = job_toml("width = 60", tables=WALL)
    left, right = positions(answers_of(toml), 1)["panels"]
    assert (left["side"], right["side"]) == ("left", "right")
    assert "scale(-1 1)" not in left["svg"]
    assert "scale(-1 1)" in right["svg"]
    for panel in (left, right):
        root = ET.fromstring(panel["svg"])  # noqa: S314  # our own
        drawn = {mark.get("class"): mark.get("d") for mark in root.iter()}
        table = positions(answers_of(toml), 1)
        at = table["positions"][table["planned"]]
        assert (drawn["cloth"], drawn["ring"]) == (at["path"], at["rings"])
        assert {"wall", "pole", "pole-axis"} <= drawn.keys()


def test_words() -> None:
    """What stands beside the slider, in the job's units: rounded the safe way, as everywhere."""
    table = positions(answers_of(job_toml("width = 60\nfullness = 2", tables=WALL)), 1)
    words = {each["name"]: each["words"] for each in table["positions"]}
    assert words["planned"]["state"] == "closed, at 2.00 times"
    assert words["flattest"]["state"] == "as flat as the rings turn"
    assert words["stacked"]["state"] == "stacked"
    assert words["stacked"]["behind"].startswith("up to ")
    assert words["planned"]["free"].endswith(", 1/2 in asked for")
    assert words["flattest"]["angle"].endswith("to the pole, lifted")
    assert words["planned"]["fullness"] == "2.00 times"
    unknown = positions(answers_of(JOBS["pole not known"]), 1)
    told = {each["name"]: each["words"] for each in unknown["positions"]}
    assert told["planned"]["free"] == "wall not known"
    assert told["planned"]["state"] == "closed, at 2.00 times, assumed"
    assert told["flattest"]["state"] == "flat: how far the rings turn isn't known"
    stuck = positions(answers_of(JOBS["won't close"]), 1)
    first, second = stuck["positions"][:2]
    assert first["words"]["state"].endswith("flatter than the rings turn")
    assert (first["name"], second["name"]) == ("planned", "flattest")


def test_nothing_slides_on_hooks_or_while_a_fault_stands() -> None:
    """There is no table, and no picture."""
    hooks = positions(answers_of(job_toml(eyelet=f'{RING}\nhung = "hooks"')), 1)
    fault = positions(answers_of(job_toml("width = 60\ncount = 80")), 1)
    for table in (hooks, fault):
        assert (table["panels"], table["positions"]) == ([], [])


@pytest.mark.parametrize("name", JOBS)
def test_how_much_a_page_is_sent(name: str) -> None:
    """About eighty positions, fewer and coarser where a panel has very many gaps: 1.45 MB."""
    table = positions(answers_of(JOBS[name]), 1)
    assert len(json.dumps(table)) < 1_450_000
    gaps = panel_of(JOBS[name])["count"] - 1
    if name not in {"hardly stacks", "stacks to nothing"}:
        assert 75 <= len(table["positions"]) <= 81 if gaps <= 60 else len(table["positions"]) >= 14
