"""What folds cost a plan, as a ratio in one run; `pytest -s tests/benchmarks` prints it."""

from __future__ import annotations

from time import process_time

from jobfiles import job_of

from drapetemplate.job import Job
from drapetemplate.planning.plan import plan

PANELS = 100
ROUNDS = 5
# Measured on a 2-core machine: 100 panels plan in 0.03 s of processor time without folds and in
# 0.07 s with them, 2.6 times as long. A solver three times slower would fail; a busy machine
# slows both alike.
MOST = 6


def seconds(job: Job) -> float:
    """Processor time of one plan."""
    start = process_time()
    plan(job)
    return process_time() - start


def test_folds_cost_little() -> None:
    """A plan of 100 different panels with folds, against the same panels without."""
    windows = [f"width = {60 + i / 7:.4f}\nfullness = {1.5 + i / 100:.2f}" for i in range(PANELS)]
    pole = "[pole]\ndiameter = 0.5\nprojection = 4"
    hung = job_of(*windows, tables=pole)
    ring = 'outside = "2 in"\nopening = "1 in"\nhung = "hooks"'
    flat = job_of(*windows, eyelet=ring, tables=pole)
    pairs = [(seconds(hung), seconds(flat)) for _ in range(ROUNDS)]
    with_folds, without = (min(times) for times in zip(*pairs, strict=True))
    ratio = with_folds / without
    print(f"\n{PANELS} panels: {with_folds:.3f} s with folds, {without:.3f} s without: {ratio:.1f}")  # noqa: T201  # the table this module is for
    assert ratio < MOST
