"""A job narrowed to some of its windows: those alone, in its order, or a line of the names."""

from __future__ import annotations

import pytest

import drapetemplate
from drapetemplate.errors import JobError
from drapetemplate.job.model import MOST_LISTED, narrowed
from tests.helpers.jobfiles import job_of

NAMES = ("North", "East", "South")
JOB = job_of(*(f"width = {60 + n}\nname = '{name}'" for n, name in enumerate(NAMES)))


def test_narrowed() -> None:
    """Each keeps its measures and its key; nothing else of the job changes."""
    few = narrowed(JOB, ["South", "North", "South"])
    assert few.windows == (JOB.windows[0], JOB.windows[2])
    assert (few.only, few.paper, few.details) == (("South", "North"), JOB.paper, JOB.details)
    assert narrowed(JOB, ["East"]).windows == (JOB.windows[1],)
    assert drapetemplate.narrowed(JOB, ["South", "North", "South"]) == few


def test_no_such_window() -> None:
    """Each name once, with those that there are; of very many the rest are counted."""
    with pytest.raises(JobError) as refused:
        narrowed(JOB, ["West", "East", "Bay", "West"], "--window")
    has = 'the job has no window called that: it has "North", "East", "South"'
    faults = [(fault.where, fault.text) for fault in refused.value.faults]
    assert faults == [("--window", f'"West": {has}'), ("--window", f'"Bay": {has}')]
    for more, end in ((0, '"12"'), (2, '"12" and 2 more')):
        count = MOST_LISTED + more
        many = job_of(*(f"width = 60\nname = '{n}'" for n in range(1, count + 1)))
        with pytest.raises(JobError) as refused:
            narrowed(many, ["West"])
        (fault,) = refused.value.faults
        assert (fault.where, fault.text.endswith(f', "11", {end}')) == ("window", True)
