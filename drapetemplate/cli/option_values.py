"""Options' words in, what they mean out, of those that typer can't read: days, codes, counts."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from drapetemplate.cli.completion_scripts import SHELLS
from drapetemplate.errors import Fault, FileError
from drapetemplate.measures import shown


def read_shell(shell: str, option: str) -> str:
    """Return a shell that words can be completed in; FileError for any other."""
    if shell not in SHELLS:
        text = f"{shown(shell)} isn't a shell known here: use {', '.join(SHELLS)}"
        raise FileError([Fault(option, text)])
    return shell


def read_day(text: str, option: str) -> date:
    """Return a day, written as a job file has it; FileError for what is none."""
    from drapetemplate.job.fields import read_date

    try:
        return read_date(text)
    except ValueError as error:
        raise FileError([Fault(option, str(error))]) from error


def read_codes(codes: Iterable[str]) -> frozenset[str]:
    """Return the codes that --accept names; FileError for those that no stop finding has."""
    from drapetemplate.planning.codes import STOP_CODES

    accepted = frozenset(codes)
    unknown = sorted(accepted.difference(STOP_CODES))
    if unknown:
        known = ", ".join(STOP_CODES)
        raise FileError(
            [Fault("--accept", f"no stop is called {shown(code)}: use {known}") for code in unknown]
        )
    return accepted


def read_counts(text: str) -> list[int]:
    """Return the counts that --counts lists, such as 6,8,10; FileError for what is none.

    >>> read_counts("6, 8,10")
    [6, 8, 10]
    """
    from drapetemplate.planning.eyelets import MOST_EYELETS

    parts = [part.strip() for part in text.split(",") if part.strip()]
    # Python reads no number of over 4,300 digits.
    counts = [int(part[-9:]) if re.fullmatch("0*[0-9]{1,4}", part) else 0 for part in parts]
    if not all(2 <= count <= MOST_EYELETS for count in counts):
        raise FileError([Fault("--counts", f"give counts from 2 to {MOST_EYELETS}, as in 6,8,10")])
    return counts
