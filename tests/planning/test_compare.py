"""A window's even counts side by side: which are shown, and that each is what a job would get."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drapetemplate.errors import JobError
from drapetemplate.planning.compare import Comparison, compare
from drapetemplate.planning.eyelets import BESIDE
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.plan import plan
from tests.helpers.jobfiles import RING, inches, job_of

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
    assert none.fault.endswith("up to 18 fit well")


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
        (f"{USUAL}\nlength = 84", "[fabric]\nwidth = 54\n[lining]\nwidth = 40"),
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
        # What other counts would bring is worked out for the job's own count alone.
        assert found(expected) == found(choice.window)
        counted = replace(choice.window.window, count=choice.count)
        assert expected == replace(
            choice.window, window=counted, panels=panels, findings=expected.findings
        )


def found(window: WindowPlan) -> list[tuple[str, str]]:
    """Levels and codes of a window's findings."""
    return [(finding.level, finding.code) for finding in window.findings]


def test_findings_without_cloth_are_those_of_a_job() -> None:
    """But for what is said of cloth, every count has its findings; what mends them isn't tried.

    So no count or measure is named that might bring something else.
    """
    (comparison,) = compare(
        job_of("width = 60\ncount = 8", tables="[pole]\nprojection = 3"), [4, 7]
    )
    for choice in comparison.choices:
        assert choice.window is not None
        asked = job_of(f"width = 60\ncount = {choice.count}", tables="[pole]\nprojection = 3")
        assert found(plan(asked).windows[0]) == found(choice.window)
        if not choice.chosen:
            assert not any(finding.remedies for finding in choice.window.findings)


def test_cloth_of_every_count() -> None:
    """Each count has its own seams and drops: those that a pair can share, and those it can't."""
    # 74 in finished, 80 raw: with 12 the seam hides at 47 5/8 in and leaves 29 7/8 in, over half
    # of 54; six have a back gap that a seam at 50 1/2 in stands in, which leaves 27 in.
    window = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
    (comparison,) = compare(job_of(window, tables="[fabric]\nwidth = 54"), [6])
    six, twelve = (choice.window for choice in comparison.choices)
    assert six is not None
    assert twelve is not None
    for made, seam, drops in ((six, "50 1/2", 3), (twelve, "47 5/8", 4)):
        (one,) = made.cloth
        assert one.seams is not None
        assert (one.seams.seams, one.seams.drops) == ((inches(seam),), drops)


def test_no_count_is_said_to_have_no_cure_that_has_one() -> None:
    """A count that shows its seam isn't said to have none beside it that hides it, if it has."""
    # Two eyelets have no back gap; from four on the seam of 54 in cloth hides.
    window = "width = 50\nleading = 3\nreturn = 3\nlength = 84\ncount = "
    (comparison,) = compare(job_of(f"{window}4", tables="[fabric]\nwidth = 54"), [2])
    two, four = (choice.window for choice in comparison.choices)
    assert two is not None
    assert four is not None
    assert (found(two), found(four)) == ([("warn", "seam-in-front")], [])
    assert "no count beside this one" not in two.findings[0].text


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


def test_only_the_chosen_count_is_advised() -> None:
    """A seam in sight at another count points to the counts that stand beside it anyway."""
    window = "leading = 3\nreturn = 3\nlength = 84\nwidth = 152\ncount = 6"
    (comparison,) = compare(job_of(window, tables="[fabric]\nwidth = 54"), [4])
    four, _ = comparison.choices
    assert four.window is not None
    (shown,) = (one for one in four.window.findings if one.code == "seam-in-front")
    assert shown.text.endswith("; look at the counts beside this one")
