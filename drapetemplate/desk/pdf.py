"""A job file's bytes in, the PDF to print out: the one that `make` writes of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drapetemplate import lay_out, plan_job, read_job, to_pdf
from drapetemplate.errors import Fault, JobError
from drapetemplate.measures import shown
from drapetemplate.planning.findings import STOP_CODES
from drapetemplate.printers import store


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
