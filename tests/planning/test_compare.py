"""A window's even counts side by side: which are shown, and that each is what a job would get."""

from __future__ import annotations

from dataclasses import replace

import pytest
from jobfiles import RING, job_of

from drapetemplate.errors import JobError
from drapetemplate.planning.compare import BESIDE, Comparison, compare
from drapetemplate.planning.plan import plan

# (60 - 4 1/2 - 2N)/(N - 1) is nearest to 2 in at N = 14, and at least 1 in up to N = 18.
USUAL = "width = 60"
HOOKS = RING + '\nhung = "hooks"'


def counts(comparison: Comparison) -> list[int]:
    """The counts shown, in order."""
    return [choice.count for choice in comparison.choices]


def marked(comparison: Comparison) -> list[int]:
    """The counts marked as the job's own."""
    return [choice.count for choice in comparison.choices if choice.chosen]


@pytest.mark.parametrize(
    ("window", "expected", "chosen"),
    [
        (USUAL, [8, 10, 12, 14, 16, 18], 14),  # 20 leave less than 1 in
        (f"{USUAL}\ncount = 6", [2, 4, 6, 8, 10, 12], 6),  # none under two
        (f"{USUAL}\ncount = 10", [4, 6, 8, 10, 12, 14, 16], 10),
        (f"{USUAL}\ncount = 20", [14, 16, 18, 20], 20),  # its own, however narrow
        (f"{USUAL}\ncount = 7", [2, 4, 6, 7, 8, 10, 12], 7),  # an odd one of its own
        ("width = 10", [2], 2),
    ],
)
def test_counts_beside(window: str, expected: list[int], chosen: int) -> None:
    """The job's count, marked once, and three even ones on either side that fit."""
    (comparison,) = compare(job_of(window))
    assert expected == counts(comparison)
    assert [chosen] == marked(comparison)
    assert len(expected) <= 2 * BESIDE + 2


def test_counts_asked_for() -> None:
    """Counts asked for are shown with the job's own, each once, in rising order."""
    (comparison,) = compare(job_of(USUAL), [16, 6, 14, 6, 9])
    assert counts(comparison) == [6, 9, 14, 16]
    assert marked(comparison) == [14]


def test_counts_on_hooks() -> None:
    """On hooks counts are compared too, and an odd one asked for is no stop."""
    (comparison,) = compare(job_of(USUAL, eyelet=HOOKS), [9])
    (nine,) = [choice for choice in comparison.choices if choice.count == 9]
    assert nine.window is not None
    assert nine.window.findings == ()
    assert nine.window.panels[0].hang is None


def test_count_without_room() -> None:
    """A count that doesn't fit has no plan but a text that says how many do."""
    (comparison,) = compare(job_of(USUAL), [40])
    none = comparison.choices[-1]
    assert (none.count, none.chosen, none.window) == (40, False, None)
    assert none.fault.startswith("40 eyelets of 2 in don't fit across 60 in")
    assert none.fault.endswith("up to 18 fit")


def test_count_whose_folds_would_touch() -> None:
    """A count that fits the strip but not the pole, at the job's fullness, says so."""
    # The fewer the rings, the smaller beside their pitch, and the less fullness they take.
    (comparison,) = compare(job_of("width = 60\ncount = 16\nfullness = 8"), [2])
    two, sixteen = comparison.choices
    assert two.fault.startswith("8.00 times is more than the eyelets allow")
    assert (two.window, sixteen.fault) == (None, "")


@pytest.mark.parametrize(
    ("window", "tables"),
    [
        (USUAL, ""),
        ("covers = 40\nfullness = 2.2\nlength = 90", '[pole]\nprojection = 3\ndiameter = "5/8"'),
        ('width = 72\npanels = "single"\nquantity = 2', "[pole]\nprojection = 4"),
    ],
)
@pytest.mark.parametrize("eyelet", [RING, HOOKS])
def test_every_count_is_what_a_job_would_get(window: str, tables: str, eyelet: str) -> None:
    """Each count's plan is the plan of the same job with that count, but for its reason."""
    job = job_of(window, eyelet=eyelet, tables=tables)
    (comparison,) = compare(job, [4, 7])
    for choice in comparison.choices:
        assert choice.window is not None
        asked = job_of(f"{window}\ncount = {choice.count}", eyelet=eyelet, tables=tables)
        expected = plan(asked).windows[0]
        reason = {panel.reason for panel in choice.window.panels}
        assert reason == {comparison.reason if choice.chosen else "asked for"}
        panels = tuple(replace(panel, reason="asked for") for panel in choice.window.panels)
        assert expected == replace(choice.window, panels=panels)


def test_every_window() -> None:
    """Each window is compared under its own name, with its own count and reason."""
    job = job_of('name = "East"\nwidth = 60', 'name = "West"\nwidth = 60\ncount = 8')
    east, west = compare(job)
    assert [(c.name, marked(c)) for c in (east, west)] == [("East", [14]), ("West", [8])]
    assert (east.reason, west.reason) == ("nearest to one eyelet apart", "asked for")
    assert [job.windows[0], job.windows[1]] == [east.window, west.window]


def test_job_that_cant_be_planned() -> None:
    """A job without a plan of its own is refused as planning refuses it."""
    job = job_of("width = 60\ncount = 40")
    with pytest.raises(JobError) as expected:
        plan(job)
    with pytest.raises(JobError) as actual:
        compare(job, [4])
    assert expected.value.faults == actual.value.faults
