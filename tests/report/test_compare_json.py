"""Counts side by side as JSON."""

from __future__ import annotations

import pytest

from drapetemplate.planning.compare import compare
from drapetemplate.report.plan_json import compare_json
from tests.helpers.jobfiles import job_of

# What `compare --json` has of each count; null where a count has no plan.
COMPARED = (
    "count chosen fault width_mm fullness half_repeats gap_mm gap_eyelets pitch_mm depth_closed_mm "
    "depth_stacked_mm wall_free_closed_mm wall_free_stacked_mm wall_clearance_mm ring_angle_deg "
    "free_turn_deg turn_limit_deg stack_mm glass_covered_mm clearing_mm cloth sheets findings"
)


def test_figures_of_a_count() -> None:
    """Counts side by side have every figure of theirs; a count that doesn't fit has its fault.

    Cloth repeats every 4 1/2 in: three halves of it are 6 3/4 in, and 13 of those 87 3/4, where 2 x
    44 were asked for. Half of that pitch, 4 in less that, and a gap of 6 3/4 - 2 5/8 in. 14 eyelets
    stack on 17 1/2 in; 60 in of glass and two stacks make the pole. The ring's angle and the fold
    it goes with were found by quadrature in tests/test_whole_jobs_by_hand.
    """
    job = job_of(
        'covers = 44\nfullness = 2\nreturn = "2 3/4"\npattern = "folds"\nglass = 60',
        job='number = "HP-7"',
        eyelet='outside = "2 5/8"\nopening = "1 9/16"\nhole = "1 5/8"\nthickness = "1/8"',
        tables='[pole]\ndiameter = 1\nprojection = 4\n[fabric]\nrepeat_across = "4 1/2"',
    )
    found = compare_json(job, compare(job, [14, 60]))
    assert found["job"] == {"name": "Heron Point, linen store", "number": "HP-7"}
    (window,) = found["windows"]
    assert window["name"] == "Window 1"
    assert window["reason"].startswith("the nearest width at which every front fold")
    fourteen, sixty = window["counts"]
    assert list(fourteen) == list(sixty) == COMPARED.split()
    assert {key: fourteen[key] for key in ("count", "chosen", "fault", "half_repeats")} == {
        "count": 14,
        "chosen": True,
        "fault": None,
        "half_repeats": 3,
    }
    figures = {
        "width_mm": 94.625 * 25.4,
        "fullness": 87.75 / 44,
        "gap_mm": 4.125 * 25.4,
        "gap_eyelets": 4.125 / 2.625,
        "pitch_mm": 6.75 * 25.4,
        "depth_stacked_mm": 3.375 * 25.4,
        "wall_free_stacked_mm": 0.625 * 25.4,
        "wall_clearance_mm": 12.7,
        "stack_mm": 17.5 * 25.4,
        "glass_covered_mm": 0,
        "clearing_mm": 95 * 25.4,
    }
    assert {key: fourteen[key] for key in figures} == pytest.approx(figures)
    depth, free = fourteen["depth_closed_mm"], fourteen["wall_free_closed_mm"]
    assert (depth, free) == pytest.approx((65.3576, 4 * 25.4 - 65.3576), rel=1e-6)
    turns = [fourteen[key] for key in ("ring_angle_deg", "free_turn_deg", "turn_limit_deg")]
    assert turns == pytest.approx([77.0236, 32.5386, 45.7861], abs=1e-4)
    unknown = {key for key, value in sixty.items() if value is None}
    assert unknown == {*COMPARED.split()[3:]} - {"cloth", "findings"}
    assert (sixty["count"], sixty["chosen"], sixty["cloth"], sixty["findings"]) == (
        60,
        False,
        [],
        [],
    )
    assert "60 eyelets of 2 5/8 in don't fit" in sixty["fault"]
