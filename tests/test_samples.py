"""The sample jobs: each plans, prints and measures true, and says at its top what it shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drapetemplate.document.job_document import document
from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import SCHEMA_LINE
from drapetemplate.job.model import Job
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.plan import plan
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface
from drapetemplate.report import plan_json, plan_text
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.ticket.cutting import cutting
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.hanging_pictures import hanging
from drapetemplate.ticket.job_ticket import ticket, ticket_paper
from tests.helpers import pages
from tests.helpers.jobfiles import inches

LARGE = ("long_gallery", "garden_room")
SAMPLES = sorted((Path(__file__).parent.parent / "sample_jobs").glob("*.toml"))


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
    findings = [f for window in plan(job).windows for f in window.findings]
    assert [f.text for f in findings if f.level != "note"] == []
    assert job.details.name.startswith("Heron Point, ")
    assert text.startswith(f"{SCHEMA_LINE}\n")
    top = re.match(r"(?:# .+\n)+\n", text.removeprefix(f"{SCHEMA_LINE}\n"))
    assert top is not None
    assert len(top[0].split()) > 20


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample_figures_are_its_own(path: Path) -> None:
    """No sample repeats the panel of the trade facts, in any unit, nor the 72 in shower curtain."""
    job = read_job(path.read_bytes(), path.name)
    for planned in plan(job).windows:
        window, panel = planned.window, planned.panels[0]
        assert panel.width not in {inches("75"), inches("72")}
        assert panel.outside != inches("3 3/4")
        assert panel.band_height != inches("6")
        assert {panel.gap, panel.pitch}.isdisjoint(map(inches, ("3 1/2", "7 1/4")))
        assert window.return_ != inches("3")
        assert window.fabric is None or window.fabric.width != inches("54")


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample_json_is_complete(path: Path) -> None:
    """Only what the job doesn't say is null."""
    job = read_job(path.read_bytes(), path.name)
    found = plan_json.as_json(job, plan(job))
    assert found["order"]["eyelets"] > 0
    for window, read in zip(found["windows"], job.windows, strict=True):
        face = read.fabric
        unknown = {"weight_kg"} if face is None or face.weight is None else set()
        if face is None or (face.width is None and not face.railroad):
            unknown |= {"seams_mm", "pieces_mm"}
        if read.pattern == "seams" or face is None or face.motif is None:
            unknown |= {"motifs_mm"}
        for panel in window["panels"]:
            assert unknown == {key for key, value in panel.items() if value is None}
            assert None not in panel["strip"].values()
            hung = read.eyelet.hung == "pole"
            turns = {"free_turn_deg", "turn_limit_deg", "least_fullness"}
            if hung:
                open_ = {key for key, value in panel["fold"].items() if value is None}
                assert open_ == (set() if read.pole.diameter else turns)
        named = [
            (part, cloth.name)
            for part, cloth in (("face", read.fabric), ("lining", read.lining))
            if cloth is not None
        ]
        assert [(one["part"], one["fabric"]) for one in window["cloth"]] == named
        assert all(one["order"]["amount"] > 0 for one in window["cloth"])


def test_samples_show_cloth() -> None:
    """At least one sample sews widths together, so that seams, drops and order are to be seen."""
    jobs = [read_job(path.read_bytes(), path.name) for path in SAMPLES]
    assert any(one.seams and one.seams.seams for job in jobs for one in cloth_of(job))


def cloth_of(job: Job) -> list[ClothUse]:
    """What all windows take of all cloths."""
    return [one for window in plan(job).windows for one in window.cloth]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_sample_cloth(path: Path) -> None:
    """Every seam is hidden, pieces make the panel, and the order covers every drop."""
    job = read_job(path.read_bytes(), path.name)
    found = plan_json.as_json(job, plan(job))
    for window, read in zip(found["windows"], job.windows, strict=True):
        for one in window["cloth"]:
            cloth = read.lining if one["part"] == "lining" else read.fabric
            assert cloth is not None
            assert one["seams_hidden"] == len(one["seams_mm"]) == len(one["pieces_mm"]) - 1
            joined = 2 * float(cloth.seam) * len(one["seams_mm"]) + 2 * float(cloth.side_hem)
            width = window["panels"][0]["width_mm"] - 2 * float(cloth.set_in)
            assert sum(one["pieces_mm"]) - joined == pytest.approx(width, abs=1e-6)
            assert one["total_mm"] == pytest.approx(one["drops"] * one["cut_length_mm"])
    taken = [one for window in found["windows"] for one in window["cloth"]]
    ordered = found["order"]["cloth"]
    assert sum(one["drops"] for one in ordered) == sum(one["drops"] for one in taken)
    total = sum(one["total_mm"] for one in taken)
    assert sum(one["total_mm"] for one in ordered) == pytest.approx(total)
    for one in ordered:
        size = {"yd": 914.4, "m": 1000}[one["order"]["unit"]]
        assert one["order"]["amount"] * size >= one["total_mm"] * (1 - 1e-12)


@pytest.mark.parametrize(
    "path",
    [pytest.param(p, marks=pytest.mark.long if p.stem in LARGE else ()) for p in SAMPLES],
    ids=lambda p: p.stem,
)
def test_sample_measures_true(path: Path) -> None:
    """Every eyelet of a sample's PDF is there at its size, and every bar at its length."""
    job = read_job(path.read_bytes(), path.name)
    planned = plan(job)
    made = document(job, planned, typeface())
    found = strip_list(job, planned.windows, None)
    (turn,) = {tiling.orientation for strip in found.strips for tiling in strip.tilings}
    data = render(made, PdfBackend(made.title))
    sheets = pages.sheets(data, turned=turn == "landscape")
    assert len(sheets) == found.sheets
    # Panels that are alike share a strip, and so do a pair's, hole for hole.
    panels = [one.panel for one in found.strips]
    for size in {panel.hole for panel in panels}:
        holes = sum(len(sheet.circles(float(size))) for sheet in sheets)
        # A hole in a lap is whole on two sheets, so there may be more than eyelets.
        assert holes >= sum(panel.count for panel in panels if panel.hole == size)
    for sheet in sheets:
        lengths = [stroke.length for stroke in sheet.strokes]
        for bar in (100, 101.6):
            assert sum(abs(length - bar) < 0.01 for length in lengths) >= 2


METRIC = [path for path in SAMPLES if read_job(path.read_bytes(), path.name).units != "in"]
TENTH = re.compile(r"[0-9]+\.[0-9]+ (?:mm|cm)\b")


@pytest.mark.parametrize("path", METRIC, ids=lambda p: p.stem)
def test_metric_figures_are_whole(path: Path) -> None:
    """No figure of a metric sample has a tenth of a millimetre, but where its holes stand."""
    job = read_job(path.read_bytes(), path.name)
    planned = plan(job)
    lines = plan_text.as_text(job, planned).splitlines()
    holes = re.compile(r" *[0-9]+  [0-9.]+ mm")
    assert [line for line in lines if TENTH.search(line) and not holes.match(line)] == []
    paper, face = ticket_paper(job, None), typeface()
    strips = strip_list(job, planned.windows, None)
    pages_read = (
        *ticket(job, planned, strips, (), frozenset(), paper, face),
        *cutting(job, planned, paper_flow(paper, face)),
        *hanging(job, planned, paper_flow(paper, face)),
    )
    # What a print may be off, and a bar's reading, are no figures of the job.
    others = {Role.HOLE_CENTRE, Role.STEP, Role.NAME}
    words = [
        mark.text
        for page in pages_read
        for mark in page
        if isinstance(mark, Text) and mark.role not in others
    ]
    assert [text for text in words if TENTH.search(text)] == []
