"""The sample jobs: each plans, prints and measures true, and says at its top what it shows."""

from __future__ import annotations

import re
from pathlib import Path

import pages
import pytest
from jobfiles import inches

from drapetemplate import report
from drapetemplate.document import document
from drapetemplate.job import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.render import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface

SAMPLES = sorted((Path(__file__).parent.parent / "sample_jobs").glob("*.toml"))
# What later parts fill in.
TO_COME = {"cloth", "seams_mm", "pieces_mm"}


def test_there_are_enough() -> None:
    """At least five jobs, in inches and millimetres."""
    units = {re.findall(r'units = "(\w+)"', path.read_text())[0] for path in SAMPLES}
    assert len(SAMPLES) >= 5
    assert units == {"in", "mm"}


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample(path: Path) -> None:
    """No sample stops or warns, and each is of the invented house and says what it shows."""
    text = path.read_text()
    job = read_job(text.encode(), path.name)
    assert [f.text for window in plan(job).windows for f in window.findings] == []
    assert job.details.name.startswith("Heron Point, ")
    top = re.match(r"(?:# .+\n)+\n", text)
    assert top is not None
    assert len(top[0].split()) > 20


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample_figures_are_its_own(path: Path) -> None:
    """No sample repeats the panel of the trade facts, in any unit, nor the 72 in shower curtain."""
    job = read_job(path.read_bytes(), path.name)
    for window, planned in zip(job.windows, plan(job).windows, strict=True):
        panel = planned.panels[0]
        assert panel.width not in {inches("75"), inches("72")}
        assert panel.outside != inches("3 3/4")
        assert panel.band_height != inches("6")
        assert {panel.gap, panel.pitch}.isdisjoint(map(inches, ("3 1/2", "7 1/4")))
        assert window.return_ != inches("3")
        assert window.fabric is None or window.fabric.width != inches("54")


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample_json_is_complete(path: Path) -> None:
    """Only what later parts fill in, and what the job doesn't say, is null."""
    job = read_job(path.read_bytes(), path.name)
    found = report.as_json(job, plan(job))
    assert found["order"]["eyelets"] > 0
    for window, read in zip(found["windows"], job.windows, strict=True):
        for panel in window["panels"]:
            empty = {key for key, value in panel.items() if value is None}
            empty -= {"weight_kg"} if read.fabric is None or read.fabric.weight is None else set()
            assert empty <= TO_COME
            assert None not in panel["strip"].values()
            hung = read.eyelet.hung == "pole"
            unknown = {key for key, value in panel["fold"].items() if value is None}
            turns = {"turn_limit_deg", "least_fullness"}
            if hung:
                assert unknown == (set() if read.pole.diameter else turns)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample_measures_true(path: Path) -> None:
    """Every eyelet of a sample's PDF is there at its size, and every bar at its length."""
    job = read_job(path.read_bytes(), path.name)
    planned = plan(job)
    made = document(job, planned, typeface())
    tilings = [tiling for strips in report.laid_out(job, planned) for _, tiling in strips]
    (turn,) = {tiling.orientation for tiling in tilings}
    data = render(made, PdfBackend(made.title))
    sheets = pages.sheets(data, turned=turn == "landscape")
    assert len(sheets) == sum(tiling.count for tiling in tilings)
    panels = [panel for window in planned.windows for panel in window.panels]
    for size in {panel.hole for panel in panels}:
        holes = sum(len(sheet.circles(float(size))) for sheet in sheets)
        # A hole in a lap is whole on two sheets, so there may be more than eyelets.
        assert holes >= sum(panel.count for panel in panels if panel.hole == size)
    for sheet in sheets:
        lengths = [stroke.length for stroke in sheet.strokes]
        for bar in (100, 101.6):
            assert sum(abs(length - bar) < 0.01 for length in lengths) >= 2
