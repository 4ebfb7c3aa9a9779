"""The PDFs that the desk hands out: each part by its number and name, and what is refused."""

from __future__ import annotations

import pytest

from drapetemplate import recall_job
from drapetemplate.desk.pdf import approval_pdf, pdf
from drapetemplate.errors import DrapeError, StopError
from tests.helpers.jobfiles import job_toml

SMALL = job_toml("width = 12\ncount = 2\npanels = 'left'").encode()
ON_ROLL = job_toml(
    "width = 12\ncount = 2\npanels = 'left'", tables='[paper]\nsize = "24 in roll"'
).encode()


def test_parts() -> None:
    """One of sheets, two of a roll: the strip and the ticket, each with the job in it."""
    sheets = pdf(SMALL, [], 0)
    assert (sheets.ending, sheets.parts) == (".pdf", 1)
    strip, ticket = pdf(ON_ROLL, [], 0), pdf(ON_ROLL, [], 1)
    assert [(made.ending, made.parts) for made in (strip, ticket)] == [
        (".pdf", 2),
        ("-ticket.pdf", 2),
    ]
    assert recall_job(sheets.data) == SMALL
    assert recall_job(strip.data) == recall_job(ticket.data) == ON_ROLL
    assert strip.data != ticket.data
    for part in (-1, 1):
        with pytest.raises(DrapeError, match=f"this job has no part {part}"):
            pdf(SMALL, [], part)
    assert approval_pdf(SMALL).ending == "-approval.pdf"


def test_refused() -> None:
    """A stop that nobody took on, a code that there isn't, and a printer that isn't kept."""
    stopped = job_toml("width = 12\ncount = 3\npanels = 'left'").encode()
    with pytest.raises(StopError, match="odd-count"):
        pdf(stopped, ["back-fold-hits-wall"], 0)
    with pytest.raises(DrapeError, match='no stop is called "odd"'):
        pdf(stopped, ["odd-count", "odd"], 0)
    printed = job_toml("width = 12\ncount = 2", tables='[paper]\nprinter = "nobody\'s"').encode()
    with pytest.raises(DrapeError, match="no printer is called"):
        pdf(printed, [], 0)
