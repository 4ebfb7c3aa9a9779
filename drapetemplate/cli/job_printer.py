"""A job in, what corrects for the printer it names out."""

from __future__ import annotations

from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job


def factors_for(job: Job, factors: Factors | None) -> Factors | None:
    """Return these factors, else those of the printer the job names; FileError for one not kept."""
    if factors is None and job.paper.printer is not None:
        return find_printer(job.paper.printer, "paper.printer")
    return factors


def find_printer(name: str, option: str) -> Factors:
    """Return what corrects for a printer; FileError, under the option or key, for one not kept."""
    from drapetemplate.printers import store

    return store.find(name, option)
