"""Why there is no PDF is told by question and window, and a stop by what it is."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from drapetemplate.desk.pdf import pdf
from drapetemplate.desk.refusals import in_words
from drapetemplate.errors import DrapeError, Fault, JobError, StopError
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.job_text import job_text

GOOD = {
    "units": "in",
    "job.name": "Heron Point, library",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
    "window[1].width": "88",
}


def told(changed: Mapping[str, str]) -> list[tuple[str, str]]:
    """What the page is told of a job with these answers changed: paths and texts."""
    answers = {**GOOD, **changed}
    with pytest.raises(DrapeError) as refused:
        pdf(job_text(asked_of_all(answers).counted).encode(), (), 0)
    return [(fault.where, fault.text) for fault in in_words(refused.value, answers).faults]


def test_what_is_missing_has_its_question() -> None:
    """A key of the job file means nothing to whoever sees only the page."""
    assert told({"eyelet.outside": "", "job.name": ""}) == [
        ("job.name", "“What is the job called?” is needed"),
        ("eyelet.outside", "“Eyelet, across the outside of its flange?” is needed"),
    ]


def test_of_several_windows_the_one_is_named() -> None:
    """By its name, or its number where it has none; what is not of a window has neither."""
    second = {"window[2].name": "Bay", "window[2].width": "x", "eyelet.opening": "y"}
    faults = dict(told(second | {"window[1].width": "z"}))
    asked = "“Finished width of one panel, laid flat?”"
    assert faults["window[1].width"].startswith(f'Window 1: {asked} "z" is not a length')
    assert faults["window[2].width"].startswith(f'Bay: {asked} "x" is not a length')
    assert faults["eyelet.opening"].startswith("“Its opening, clear inside?”")


def test_a_stop_has_its_short_words() -> None:
    """They stand before what was found, at no field."""
    (stop,) = told({"window[1].count": "7"})
    assert stop[0] == ""
    assert stop[1].startswith("an odd count of eyelets: ")


def test_what_is_no_questions_is_as_it_was() -> None:
    """Too much for a job file is said of the whole; a stop of no short words, or no answer's."""
    notes = {**GOOD, "?job": "yes", "job.notes": "x" * 1_100_000}
    (fault,) = in_words(JobError([Fault("", "too large")]), notes).faults
    assert fault.where == ""
    assert fault.text.endswith("a job file has 1048576 at most")
    kept = Fault("unheard-of", "a stop")
    assert in_words(StopError([kept]), GOOD).faults == (kept,)
    error = JobError([Fault("", "no printer")])
    assert in_words(error, GOOD) is error
