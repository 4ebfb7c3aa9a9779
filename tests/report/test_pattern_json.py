"""A pattern on the folds in the plan as JSON."""

from __future__ import annotations

import pytest

from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_json import as_json
from tests.helpers.jobfiles import job_of

LONG = "width = 82\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"


def test_a_pattern_on_the_folds() -> None:
    """What became of it: its repeat, half repeats a pitch, and what the job asks for without it."""
    job = job_of(
        LONG + '\npattern = "folds"',
        tables="[fabric]\nwidth = 54\nrepeat_across = 7",
    )
    (window,) = as_json(job, plan(job))["windows"]
    assert window["panels"][0]["width_mm"] == 85 * 25.4
    assert window["pattern"] == {
        "repeat_mm": 177.8,
        "half_repeats": 2,
        "asked_width_mm": 2082.8,
        "asked_fullness": None,
    }


def test_motifs() -> None:
    """Each panel's motifs from its leading edge, and from a cut's start to where one hangs."""
    job = job_of(
        LONG + '\npattern = "folds"\nmotif_below = 20',
        tables="[fabric]\nwidth = 54\nrepeat_across = 7\nmotif = 2\nrepeat_down = 25\n"
        "motif_down = 9",
    )
    (window,) = as_json(job, plan(job))["windows"]
    for panel in window["panels"]:
        assert panel["motifs_mm"][:2] == [7.5 * 25.4, 21.5 * 25.4]
    assert window["cloth"][0]["motif_cut_mm"] == pytest.approx(28 * 25.4)
