"""What a PDF says that it was made with beside its job file: that text in, settings out.

It is the PDF's own word, and checked like any input.
"""

from __future__ import annotations

import json

from drapetemplate.document.model import Settings
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.factors import factors_of
from drapetemplate.planning.codes import STOP_CODES

MOST_SETTINGS = 2_000_000


def read_settings(text: str, source: str) -> Settings:
    """Return the settings that a PDF's text says, the usual for none; `source` is the PDF's name.

    FileError for anything else.
    """
    if not text:
        return Settings()
    try:
        return _settings(text)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        fault = "the settings it was made with can't be read: damaged, or not made by this tool"
        raise FileError([Fault(source, fault)]) from error


def _settings(text: str) -> Settings:
    """Settings out of their JSON; ValueError, TypeError or KeyError for anything else."""
    entries = json.loads(text[:MOST_SETTINGS])
    factors = None
    if (printer := entries.get("printer")) is not None:
        factors = factors_of(str(printer["name"]), printer)
    accepted = frozenset(entries.get("accepted", ()))
    number, of = entries.get("pdf", (1, 1))
    if not (isinstance(number, int) and isinstance(of, int)):
        raise TypeError("no such numbers")
    if not accepted <= set(STOP_CODES) or not 1 <= number <= of <= 2:
        raise ValueError("no such settings")
    only = tuple(map(str, entries.get("windows", ())))
    return Settings(factors, accepted, number, of, only)
