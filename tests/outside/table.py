"""What the rows of the table of outside checks are made of."""

from __future__ import annotations

from dataclasses import dataclass

WHOLE_WAY = "test_whole_way.py::test_what_was_planned_is_what_is_printed"
EXACT = "exact"
DRAWN = "0.01 mm"


@dataclass(frozen=True)
class Check:
    """One outside check: what it is held against, how near, and the tests that do it.

    A test is named from `tests/` on, "folder/file.py::function"; a file alone stands for all of it.
    """

    outside: str
    tolerance: str
    tests: tuple[str, ...]


@dataclass(frozen=True)
class Figure:
    """A figure that is printed, and its checks.

    `labels` are the names beside it on the ticket. `whole_way`: random jobs hold it from their file
    to their PDF, printed as planned; marks within 0.01 mm, measures within their rounding (1/32 in,
    0.05 mm).
    """

    name: str
    checks: tuple[Check, ...]
    labels: tuple[str, ...] = ()
    whole_way: bool = False


def check(outside: str, tolerance: str, *tests: str) -> Check:
    """One row's check, its tests at the end."""
    return Check(outside, tolerance, tests)


WHOLE_JOBS = check(
    "two jobs by hand, from the window's measures to their pages",
    "as printed",
    "test_whole_jobs_by_hand.py::test_every_page",
)
