"""What just reaches a limit is still within it: room behind the pole, the work of a whole job."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning import folds, hanging
from drapetemplate.planning import plan as planning
from drapetemplate.planning.eyelets import EyeletLine
from tests.helpers.jobfiles import inches, plan_of, window_of

FOUR = "width = 60\ncount = 4"


# 6, 8 or 10 eyelets of 2 in on 58 in: 56 in / 5 = 11.2, 8 and 6.2 in from centre to centre.
LINE = EyeletLine(width=inches("58"), leading=Fraction(0), return_=Fraction(0), outside=inches("2"))
COUNTS = (6, 8, 10)


def test_a_fold_that_just_fits_clears() -> None:
    """A closed fold hits the wall where it is deeper than the room, not where it is as deep.

    The room is the depth itself of the fold at 8 in; those at 11.2 in are deeper.
    """
    room = Fraction(folds.solve(float(inches("8")), float(inches("2")), 2.0).depth)
    assert hanging.first_clear(LINE, COUNTS, room, 2.0) == 8


def test_a_stacked_fold_that_just_fits_clears() -> None:
    """Stacked likewise: half a pitch of 8 in fits in 4 in of room, and not in less."""
    for room, expected in (("4", 8), ("3 15/16", 10)):
        assert hanging.first_clear(LINE, COUNTS, inches(room), None) == expected


def test_folds_that_touch_clear_nothing() -> None:
    """A fullness at which folds touch clears no wall, however far off: eyelets nearer may."""
    pitches = {6: 56 * INCH / 5, 8: 8 * INCH}
    most = {n: folds.largest_fullness(float(pitches[n]), float(inches("2"))) for n in pitches}
    between = (most[6] + most[8]) / 2
    assert most[6] < between < most[8]
    assert hanging.first_clear(LINE, COUNTS, inches("100"), between) == 8


def test_the_most_work_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two windows of 4 eyelets come to 4 x 4 + 4 x 4 = 32: taken at 32, refused at 31."""
    monkeypatch.setattr(planning, "MOST_WORK", 32)
    assert len(plan_of(FOUR, FOUR).windows) == 2
    monkeypatch.setattr(planning, "MOST_WORK", 31)
    with pytest.raises(JobError) as refused:
        plan_of(FOUR, FOUR)
    assert [fault.where for fault in refused.value.faults] == ["window[2]"]


def test_a_ring_as_thick_as_its_opening() -> None:
    """No pole lets it turn far enough, so none is advised."""
    ring = 'outside = "2 in"\nopening = "1 in"\nthickness = "1 in"'
    window = window_of("width = 60", eyelet=ring, tables='[pole]\ndiameter = "1/16"')
    (finding,) = (one for one in window.findings if one.code == "tight-turn")
    assert finding.text.endswith(": a thinner ring")


def test_the_finest_pattern() -> None:
    """A repeat of 1/16 in is matched, one a hair finer is refused."""
    cloth = '[fabric]\nwidth = 54\nrepeat_across = "{}"'
    window = "width = 88\nlength = 84\nleading = 3\nreturn = 3"
    (one,) = window_of(window, tables=cloth.format("1/16")).cloth
    assert one.seams is not None
    assert len(one.seams.pieces) == 2  # 94 in raw from 54
    with pytest.raises(JobError, match="1/16 in or more, or leave it out"):
        window_of(window, tables=cloth.format("0.0624"))


@pytest.mark.parametrize(
    ("fullness", "told"), [("", [("fullness", "2 times, for the folds")]), ("fullness = 3", [])]
)
def test_an_assumed_fullness_is_told(fullness: str, told: list[tuple[str, str]]) -> None:
    """Where it isn't said how full a panel hangs, the twice that folds are worked for is told."""
    window = window_of(f"width = 60\n{fullness}", tables="[pole]\nprojection = 4")
    assert [(one.key, one.value) for one in window.assumed if one.key == "fullness"] == told
