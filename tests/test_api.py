"""The package's own functions: the steps a program takes, and what each refuses."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from io import BytesIO
from types import FrameType

import pikepdf
import pytest

import drapetemplate
from drapetemplate.drawing.marks import Text
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.report.plan_json import as_json
from drapetemplate.report.plan_text import as_text
from tests.helpers.jobfiles import job_toml

JOB = job_toml("width = 40\npanels = 'left'").encode()
STOPPED = job_toml(
    "covers = 20\nfullness = 2\npanels = 'left'\ncount = 4",
    tables="[pole]\ndiameter = 0.75\nprojection = 2",
).encode()


def test_from_job_to_measured() -> None:
    """Read, planned, laid out, written, measured and recalled: the same job, true."""
    job = drapetemplate.read_job(JOB, "linen.toml")
    plan = drapetemplate.plan_job(job)
    assert plan.windows[0].panels[0].width == 40 * Fraction(254, 10)
    [document] = drapetemplate.lay_out(job, plan)
    pdf = drapetemplate.to_pdf(document, JOB)
    with pikepdf.open(BytesIO(pdf)) as opened:
        assert len(opened.pages) == len(document.pages)
    assert drapetemplate.measure_pdf(pdf).true
    assert drapetemplate.recall_job(pdf) == JOB


def test_a_stop_is_not_laid_out() -> None:
    """A plan with a stop is refused by name, unless that very code is accepted."""
    job = drapetemplate.read_job(STOPPED)
    plan = drapetemplate.plan_job(job)
    assert [stop.code for stop in plan.stops] == ["back-fold-hits-wall"]
    with pytest.raises(drapetemplate.StopError) as error:
        drapetemplate.lay_out(job, plan, accepted=["odd-count"])
    [fault] = error.value.faults
    assert fault.where == "back-fold-hits-wall"
    # Whoever prints the error itself reads every fault, and a command ends with another code.
    assert str(error.value) == f"back-fold-hits-wall: {fault.text}"
    assert (error.value.exit_code, drapetemplate.JobError([fault, fault]).exit_code) == (1, 2)
    assert str(drapetemplate.JobError([fault, fault])).splitlines() == [str(fault)] * 2
    # Two are one wherever each was found: in other lines, or another file.
    assert fault == replace(fault, line=7, source="job.toml")
    assert fault != replace(fault, where="tight-turn")
    [document] = drapetemplate.lay_out(job, plan, accepted=["back-fold-hits-wall"])
    assert document.settings.accepted == {"back-fold-hits-wall"}


def test_cut_for_a_machine() -> None:
    """A job's strips as DXF and SVG, of one drawing; a stop is refused there as well."""
    job = drapetemplate.read_job(JOB)
    [drawing] = drapetemplate.cut_drawings(job, drapetemplate.plan_job(job))
    assert (drawing.letter, drawing.width) == ("", 40 * Fraction(254, 10))
    assert drapetemplate.to_dxf(drawing).startswith(b"  0\r\nSECTION\r\n")
    assert drapetemplate.to_svg(drawing).startswith(b"<?xml")
    stopped = drapetemplate.read_job(STOPPED)
    with pytest.raises(drapetemplate.StopError, match="back-fold-hits-wall"):
        drapetemplate.cut_drawings(stopped, drapetemplate.plan_job(stopped))


def test_a_stop_names_its_windows() -> None:
    """Of a job of several windows a stop says at which of them it is."""
    rest = "width = 60\nreturn = 3"
    windows = [f'name = "{name}"\n{rest}\ncount = {n}' for name, n in (("Attic", 8), ("Porch", 9))]
    job = drapetemplate.read_job(job_toml(*windows).encode())
    with pytest.raises(drapetemplate.StopError, match=r"odd-count: Porch: 9 eyelets would"):
        drapetemplate.lay_out(job, drapetemplate.plan_job(job))


def test_for_a_printer() -> None:
    """A printer's factors scale every coordinate, and stand in the PDF."""
    job = drapetemplate.read_job(JOB)
    factors = Factors("workroom laser", Fraction(600, 599), Fraction(1))
    [document] = drapetemplate.lay_out(job, drapetemplate.plan_job(job), printer=factors)
    assert document.scale == (Fraction(600, 599), Fraction(1))
    assert drapetemplate.measure_pdf(drapetemplate.to_pdf(document, JOB)).true


@contextmanager
def jobs_passed() -> Iterator[list[Job]]:
    """Every job that any function of the package is called with meanwhile."""
    seen: list[Job] = []

    def look(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_globals.get("__name__", "").startswith("drapetemplate"):
            seen.extend(value for value in frame.f_locals.values() if isinstance(value, Job))

    before = sys.getprofile()
    sys.setprofile(look)
    try:
        yield seen
    finally:
        sys.setprofile(before)


@pytest.mark.parametrize("paper", ['size = "24 in roll"', 'style = "stepping"', 'strips = "one"'])
def test_a_job_stays_as_it_was_said(paper: str) -> None:
    """However a job is laid out, for a printer or on a roll, each step is given the very job.

    So nothing that tells what the job says can tell a figure of its printer's instead.
    """
    job = drapetemplate.read_job(
        job_toml("width = 80", tables=f"[paper]\nmargin = 0.5\n{paper}").encode()
    )
    before = replace(job, paper=replace(job.paper))
    factors = Factors("workroom laser", Fraction(600, 599), Fraction(100, 101))
    with jobs_passed() as seen:
        plan = drapetemplate.plan_job(job)
        documents = drapetemplate.lay_out(job, plan, printer=factors)
        as_json(job, plan, factors)
        as_text(job, plan, factors=factors)
    assert all(each is job for each in seen)
    assert len(seen) > 50
    assert job == before
    marks = [mark for page in documents[-1].pages for mark in page.marks]
    words = [mark.text for mark in marks if isinstance(mark, Text)]
    assert words[words.index("Paper margin") + 1] == "1/2 in"


def test_faults_are_one_family() -> None:
    """Whatever can't be done is a DrapeError, its faults each with a place."""
    job = drapetemplate.read_job(job_toml("width = 40", tables="[paper]\nmargin = 4").encode())
    plan = drapetemplate.plan_job(job)
    for step in (
        lambda: drapetemplate.read_job(b"units = 3"),
        lambda: drapetemplate.lay_out(job, plan),
        lambda: drapetemplate.recall_job(b""),
        lambda: drapetemplate.measure_pdf(b""),
    ):
        with pytest.raises(drapetemplate.DrapeError) as error:
            step()
        assert error.value.faults
        assert all(fault.where and fault.text for fault in error.value.faults)


def test_all_is_named() -> None:
    """Everything offered is there, and documented."""
    for name in drapetemplate.__all__:
        found = getattr(drapetemplate, name)
        assert found.__doc__, name


def test_loading_is_light() -> None:
    """Loading the package, and planning with it, loads no PDF library."""
    code = (
        "import sys, drapetemplate\n"
        f"job = drapetemplate.read_job({JOB!r})\n"
        "drapetemplate.plan_job(job)\n"
        "heavy = {'reportlab', 'pypdf', 'pdfplumber', 'pdfminer', 'typer', 'rich'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
