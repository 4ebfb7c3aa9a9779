"""A job in, each window's plan at several even counts side by side out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drapetemplate.errors import JobError
from drapetemplate.job.model import Job, Window
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.plan import plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One count of a window: its plan, or the `fault` that leaves it without one.

    `chosen` is true of the job's own count.
    """

    count: int
    chosen: bool = False
    window: WindowPlan | None = None
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """A window of the job, its counts in rising order, and the reason for the chosen one."""

    window: Window
    reason: str
    choices: tuple[Choice, ...]

    @property
    def name(self) -> str:
        """What the job calls the window."""
        return self.window.name


def compare(job: Job, asked: Sequence[int] = ()) -> tuple[Comparison, ...]:
    """Return for each window its own count and the even ones beside it that fit, each planned.

    With counts `asked` for, only those and its own. JobError as `plan` raises it.
    """
    return tuple(compare_window(job, chosen, asked) for chosen in plan(job).windows)


def compare_window(job: Job, chosen: WindowPlan, asked: Sequence[int] = ()) -> Comparison:
    """Return a window's plan beside the plans of the same window at other counts, as `compare`."""
    panel = chosen.panels[0]
    counts = {panel.count, *(asked or panel.line.counts_beside(panel.count))}
    return Comparison(
        window=chosen.window,
        reason=panel.reason,
        choices=tuple(
            Choice(count=count, chosen=True, window=chosen)
            if count == panel.count
            else _at_count(job, chosen.window, count)
            for count in sorted(counts)
        ),
    )


def _at_count(job: Job, window: Window, count: int) -> Choice:
    """Return a window planned by itself at another count, without advice on counts beside that."""
    alone = replace(job, windows=(replace(window, count=count),))
    try:
        return Choice(count=count, window=plan(alone, advise=False).windows[0])
    except JobError as error:
        return Choice(count=count, fault="; ".join(fault.text for fault in error.faults))
