"""A plan in, which of its windows are like an earlier one out."""

from __future__ import annotations

from dataclasses import replace

from drapetemplate.job.model import Window
from drapetemplate.planning.model import Plan


def twins_of(plan: Plan) -> dict[int, int]:
    """Windows that differ from an earlier one only in name and number to make, and from which."""
    first: dict[Window, int] = {}
    twins = {}
    for n, planned in enumerate(plan.windows):
        bare = replace(planned.window, key="", name="", quantity=1, assumed=())
        of = first.setdefault(bare, n)
        if of != n and plan.windows[of].panels == planned.panels:
            twins[n] = of
    return twins
