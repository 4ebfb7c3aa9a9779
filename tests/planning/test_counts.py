"""Counts side by side: each is what the job would be with that count."""

from __future__ import annotations

from dataclasses import replace

from jobfiles import job_of

from drapetemplate.planning.compare import compare
from drapetemplate.planning.plan import plan

POLE = '[pole]\ndiameter = "1/2"\nprojection = 4'


def test_chosen_once() -> None:
    """The job's own count is marked, once, with the reason that the plan gives."""
    job = job_of("width = 60", tables=POLE)
    (comparison,) = compare(job)
    panel = plan(job).windows[0].panels[0]
    assert [c.count for c in comparison.choices if c.chosen] == [panel.count]
    assert comparison.reason == panel.reason


def test_counts_beside() -> None:
    """Unasked, the even counts beside the chosen one are taken, as far as they fit."""
    (comparison,) = compare(job_of("width = 20"))
    # 20 - 4 1/2 = 15 1/2 in; N x 2 + (N - 1) x 1 <= 15 1/2 up to 5: two and four fit.
    assert [c.count for c in comparison.choices] == [2, 4]
    (wide,) = compare(job_of("width = 60\ncount = 12"))
    assert [c.count for c in wide.choices] == [6, 8, 10, 12, 14, 16, 18]


def test_same_as_planned() -> None:
    """A choice's figures and findings are those of the job with that count."""
    job = job_of("width = 60", "width = 80\nfullness = 2.2", tables=POLE)
    for window, comparison in zip(job.windows, compare(job), strict=True):
        for choice in comparison.choices:
            one = replace(job, windows=(replace(window, count=choice.count),))
            (expected,) = plan(one).windows
            assert choice.window is not None
            assert choice.window.findings == expected.findings
            assert [p.centers for p in choice.window.panels] == [p.centers for p in expected.panels]


def test_asked_counts() -> None:
    """Asked for, only those and the chosen one; odd ones with their stop, too many with a fault."""
    (comparison,) = compare(job_of("width = 60\ncount = 12"), [7, 100])
    assert [c.count for c in comparison.choices] == [7, 12, 100]
    odd, _, many = comparison.choices
    assert odd.window is not None
    assert [f.code for f in odd.window.findings] == ["odd-count"]
    assert many.window is None
    assert many.fault.endswith("up to 18 fit")
