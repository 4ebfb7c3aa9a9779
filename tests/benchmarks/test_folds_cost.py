"""What folds cost: planning panels on a pole against planning the same panels on hooks.

Processor time, as a ratio within one run, so that the machine's own pace cancels out. Run with
-s to see the figures.
"""

from __future__ import annotations

import time
from collections.abc import Sequence

import pytest

from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from tests.helpers.jobfiles import RING, job_of

pytestmark = pytest.mark.long

PANELS = 100
RUNS = 7
# Measured 2.8 where the wall is clear, and 18 where it isn't, the count is given (which spares the
# hooks their share), larger counts are looked at, and a count and a bracket are planned whole. Near
# twice as much leaves room for another machine's pace of floats against fractions; folds ten times
# as dear, by plain integration say, would be 15 and more, and looking at every larger count 70.
MOST_CLEAR = 5.0
MOST_NEAR = 38.0
# Measured 3.8: a return is tried once or twice. Twice as much again for another machine; every
# return up to the whole way, tried without regard to where one may begin to reach, 83.
MOST_TRYING = 8.0

CLEAR = '[pole]\nprojection = 6\ndiameter = "5/8"'
NEAR = '[pole]\nprojection = 2\ndiameter = "5/8"'


def jobs(eyelet: str, tables: str, settings: str) -> list[Job]:
    """So many jobs of one window, no two alike in width or fullness."""
    return [
        job_of(
            f"width = {60 + n / 4}\nfullness = {(150 + n) / 100}\n{settings}",
            eyelet=eyelet,
            tables=tables,
        )
        for n in range(PANELS)
    ]


def spent(work: Sequence[Job]) -> float:
    """Processor seconds that planning takes."""
    start = time.process_time()
    for job in work:
        plan(job)
    return time.process_time() - start


def ratio(tables: str, settings: str) -> float:
    """Time on a pole over time on hooks, each the best of several runs taken in turns."""
    pole = jobs(RING, tables, settings)
    hooks = jobs(RING + '\nhung = "hooks"', tables, settings)
    plans = [plan(job).windows[0].panels[0] for job in (*pole, *hooks)]
    assert [panel.hang is None for panel in plans] == [False] * PANELS + [True] * PANELS
    times = [(spent(pole), spent(hooks)) for _ in range(RUNS)]
    with_folds, without = min(on for on, _ in times), min(off for _, off in times)
    print(  # noqa: T201  # read with -s
        f"\n{PANELS} panels: {with_folds * 1e3:.1f} ms on a pole, {without * 1e3:.1f} ms on "
        f"hooks, {with_folds / without:.2f} times"
    )
    return with_folds / without


def test_folds_of_panels_that_clear_the_wall() -> None:
    """A panel's fold and its limits cost no more than a few times its exact layout."""
    assert ratio(CLEAR, "return = 6") < MOST_CLEAR


def test_folds_of_panels_that_hit_the_wall() -> None:
    """Looking for a larger count that clears the wall keeps planning affordable too."""
    assert ratio(NEAR, "return = 3\ncount = 4") < MOST_NEAR


def test_returns_that_are_worked_out() -> None:
    """Trying returns until one reaches the wall costs a few folds more, and no more than that."""
    assert ratio(CLEAR, "") < MOST_TRYING
