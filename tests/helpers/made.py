"""Whole PDFs as `make` writes them, job inside, for tests that take them apart."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from hypothesis import strategies as st

import drapetemplate
from drapetemplate.document.model import Document, Page
from drapetemplate.job.factors import Factors
from drapetemplate.record.write import as_record
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend


@cache
def made(
    toml: str, printer: Factors | None = None, accepted: frozenset[str] = frozenset()
) -> tuple[bytes, ...]:
    """Every PDF of a job."""
    data = toml.encode()
    job = drapetemplate.read_job(data)
    laid = drapetemplate.lay_out(
        job, drapetemplate.plan_job(job), accepted=accepted, printer=printer
    )
    return tuple(drapetemplate.to_pdf(document, data) for document in laid)


def bare(toml: str) -> tuple[bytes, ...]:
    """Every PDF of a job as it is drawn, without the job inside."""
    job = drapetemplate.read_job(toml.encode(), "job.toml")
    laid = drapetemplate.lay_out(job, drapetemplate.plan_job(job))
    return tuple(render(document, PdfBackend(document.title)) for document in laid)


def with_job(job: bytes) -> bytes:
    """A PDF of one empty page with these bytes as its job file."""
    side = Fraction(100)
    document = Document("Heron Point, pantry", side, side, (Page("page 1", (), "Page", "1"),), ())
    return as_record(document, job)


@st.composite
def damaged(draw: st.DrawFn, whole: bytes) -> tuple[bytes, bytes]:
    """A file cut short anywhere, and one with any of its bytes another."""
    cut, at = draw(st.integers(0, len(whole))), draw(st.integers(0, len(whole) - 1))
    return whole[:cut], whole[:at] + bytes([draw(st.integers(0, 255))]) + whole[at + 1 :]
