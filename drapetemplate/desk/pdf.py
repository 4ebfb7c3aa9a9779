"""A job file's bytes in, a PDF out: the one that `make` writes of them, or the client's page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drapetemplate import lay_out, plan_job, read_job, to_pdf
from drapetemplate.document.picture_document import approval_pages
from drapetemplate.errors import Fault, JobError
from drapetemplate.measures import shown
from drapetemplate.planning.codes import STOP_CODES
from drapetemplate.printers import store
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface


@dataclass(frozen=True, slots=True)
class Made:
    """A PDF: its bytes, how its name ends, and how many a job has: on a roll two."""

    data: bytes
    ending: str
    parts: int


def pdf(job_file: bytes, accept: Sequence[str], part: int) -> Made:
    """Return a job's PDF, with these codes of stops taken on; `part` 1 is a roll's ticket.

    DrapeError for all that `make` refuses, in its words.
    """
    unknown = [code for code in accept if code not in STOP_CODES]
    if unknown:
        raise JobError([Fault("", f"no stop is called {shown(code)}") for code in unknown])
    job = read_job(job_file, "")
    planned = plan_job(job)
    printer = job.paper.printer
    factors = None if printer is None else store.find(printer, "paper.printer")
    documents = lay_out(job, planned, accepted=accept, printer=factors)
    if not 0 <= part < len(documents):
        raise JobError([Fault("", f"this job has no part {part}")])
    ending = "-ticket.pdf" if part else ".pdf"
    return Made(to_pdf(documents[part], job_file), ending, len(documents))


def approval_pdf(job_file: bytes) -> Made:
    """Return the pages for a job's client to sign, as `picture --page approval` draws them.

    DrapeError for what is no job, or can't be planned.
    """
    job = read_job(job_file, "")
    document = approval_pages(job, plan_job(job), typeface())
    return Made(render(document, PdfBackend(document.title)), "-approval.pdf", 1)
