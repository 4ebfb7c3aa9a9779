"""Why there is no PDF, in the words of the page: which question, at which window, or which stop."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from drapetemplate.desk.reading import read_whole
from drapetemplate.errors import DrapeError, Fault, StopError
from drapetemplate.interview.job_text import windows_in
from drapetemplate.interview.question import Answers
from drapetemplate.interview.read_back import short
from drapetemplate.planning.finding_words import SHORT


def in_words(error: DrapeError, answers: Mapping[str, str]) -> DrapeError:
    """Return what a PDF of a page's answers was refused with, told to whoever typed them.

    A stop has its short words before its text; what is missing or wrong has its question. A fault
    of no question is as it was.
    """
    if isinstance(error, StopError):
        return StopError(
            Fault("", f"{SHORT[fault.where]}: {fault.text}") if fault.where in SHORT else fault
            for fault in error.faults
        )
    read = read_whole(answers)
    asked = {placed.path: placed for placed in read.asked.questions}
    many = windows_in(answers) > 1
    told = []
    for fault in (*(Fault(path, "is needed") for path in read.missing), *read.faults):
        if (placed := asked.get(fault.where)) is None:
            told.append(fault)
            continue
        own = many and fault.where.startswith("window[")
        at = f"{window_named(answers, placed.window)}: " if own else ""
        told.append(replace(fault, text=f"{at}“{placed.question.text}” {fault.text}"))
    return type(error)(told) if told else error


def window_named(answers: Mapping[str, str], window: int) -> str:
    """Return what a window of the answers is called, from 1, safe to show."""
    return short(Answers(answers, window).own("name").strip()) or f"Window {window}"
