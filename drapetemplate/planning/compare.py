"""A job in, each window's plan at several even counts side by side out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drapetemplate.errors import JobError
from drapetemplate.job.model import Job, Window
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.plan import BESIDE, plan


@dataclass(frozen=True, slots=True)
class Choice:
    """One count: its plan, or the `fault` that leaves it without one; `chosen` by the job."""

    count: int
    chosen: bool
    window: WindowPlan | None
    fault: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """A window's counts in rising order, and why the chosen one was taken."""

    window: Window
    name: str
    reason: str
    choices: tuple[Choice, ...]


def compare(job: Job, asked: Sequence[int] = ()) -> tuple[Comparison, ...]:
    """Each window's chosen count, the even ones beside it that fit, and each count `asked` for.

    With counts asked for, only those and the chosen one. JobError as `plan` raises it.
    """
    return tuple(_compare(job, chosen, asked) for chosen in plan(job).windows)


def _compare(job: Job, chosen: WindowPlan, asked: Sequence[int]) -> Comparison:
    window, panel = chosen.window, chosen.panels[0]
    counts = {panel.count, *asked}
    if not asked:
        most = panel.line.most_that_fit
        even = panel.count - panel.count % 2
        beside = range(even - 2 * BESIDE, even + 2 * BESIDE + 1, 2)
        counts.update(n for n in beside if 2 <= n <= most)
    choices = []
    for count in sorted(counts):
        if count == panel.count:
            choices.append(Choice(count, chosen=True, window=chosen, fault=""))
            continue
        one = replace(job, windows=(replace(window, count=count),))
        try:
            choices.append(
                Choice(count, chosen=False, window=plan(one, advise=False).windows[0], fault="")
            )
        except JobError as error:
            text = "; ".join(fault.text for fault in error.faults)
            choices.append(Choice(count, chosen=False, window=None, fault=text))
    return Comparison(window, chosen.name, panel.reason, tuple(choices))
