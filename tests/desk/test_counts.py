"""Counts side by side: the figures that `compare` prints, and pictures of them at one scale."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from drapetemplate.desk.counts import common, counts
from drapetemplate.desk.reading import read_window
from drapetemplate.job.build import read_job
from drapetemplate.planning.compare import compare
from drapetemplate.report.plan_json import compare_json
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import RING, inches, job_toml
from tests.helpers.on_screen import across

SAMPLES = sorted(Path("sample_jobs").glob("*.toml"))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_what_compare_prints(sample: Path) -> None:
    """The same counts, the same one chosen, with as many drops and sheets and the same stops."""
    job = read_job(sample.read_bytes(), "")
    for number, compared in enumerate(compare_json(job, compare(job))["windows"], 1):
        shown = counts(answers_of(sample.read_text(encoding="utf-8")), number)
        assert [each["count"] for each in shown] == [each["count"] for each in compared["counts"]]
        for one, other in zip(shown, compared["counts"], strict=True):
            assert one["chosen"] == other["chosen"]
            assert one["sheets"] == str(other["sheets"])
            drops = [use["drops"] for use in other["cloth"] if use["drops"] is not None]
            assert [int(drop) for drop in re.findall("[0-9]+", one["drops"])] == drops
            for key, level in (("stops", "stop"), ("warnings", "warn")):
                codes = {found["code"] for found in other["findings"] if found["level"] == level}
                assert {found["code"] for found in one[key]} == codes


def test_gap_and_pitch_by_hand() -> None:
    """60 in with 1 1/2 in and 3 in at the ends leave 55 1/2 in for the eyelets and their gaps."""
    shown = {each["count"]: each for each in counts(answers_of(job_toml("width = 60")), 1)}
    assert shown[10]["gap"] == "≈ 3 15/16 in"
    for count, each in shown.items():
        gap = (inches("55 1/2") - count * inches("2")) / (count - 1)
        read = inches(each["gap"].removeprefix("≈ "))
        assert abs(read - gap) <= inches("1/32")
        pitch = inches(each["pitch"].removeprefix("≈ "))
        assert abs(pitch - gap - inches("2")) <= inches("1/32")


def test_pictures_share_a_scale() -> None:
    """Pitches in the pictures are to one another as on the pole; as many rings as eyelets."""
    toml = job_toml("width = 60\nfullness = 2", tables='[pole]\ndiameter = "5/8"')
    shown = counts(answers_of(toml), 1)
    scales = set()
    for each in shown:
        assert each["picture"].startswith("<svg")
        assert "letter-" not in each["picture"]  # too small to be read
        window = read_window(answers_of(toml) | {"window[1].count": str(each["count"])}, 1).plan
        assert window is not None
        hang = window.windows[0].panels[0].hang
        assert hang is not None
        places = across(each["picture"], "ring")
        assert len(places) == each["count"]
        scales.add(round(2 * hang.closed.pole_per_gap / (places[2] - places[0])))
    assert len(scales) == 1


def test_on_hooks_the_heading_is_flat() -> None:
    """Nothing is seen from above there, and nothing is said of a wall."""
    shown = counts(answers_of(job_toml(eyelet=f'{RING}\nhung = "hooks"')), 1)
    assert all(len(across(each["picture"], "hole")) == each["count"] for each in shown)
    assert {each["wall"] for each in shown} == {""}


def test_an_odd_count_stands_among_the_even_ones() -> None:
    """What was asked for is the chosen one, with its stop."""
    shown = counts(answers_of(job_toml("width = 60\ncount = 7")), 1)
    chosen = [each for each in shown if each["chosen"]]
    stop = {"code": "odd-count", "short": "an odd count of eyelets"}
    assert [(each["count"], each["stops"]) for each in chosen] == [(7, [stop])]
    assert all(each["count"] % 2 == 0 for each in shown if not each["chosen"])


def test_paper_that_is_wrong_leaves_the_counts() -> None:
    """Only their sheets aren't known."""
    shown = counts(answers_of(job_toml(tables='[paper]\nsize = "4 x 4 in"')), 1)
    assert shown
    assert {each["sheets"] for each in shown} == {""}


def test_very_many_eyelets_are_figures_alone() -> None:
    """No picture and no sheets: one can't tell them apart, and the other takes long."""
    shown = counts(answers_of(job_toml('width = "60 m"')), 1)
    assert {each["picture"] for each in shown} == {None}
    assert {each["sheets"] for each in shown} == {""}
    assert all(each["gap"] for each in shown)


def test_none_while_a_fault_stands() -> None:
    """Nothing is compared with what can't be planned."""
    assert counts(answers_of(job_toml("width = 60\ncount = 80")), 1) == []
    assert counts({}, 1) == []


def test_a_wall_met_stacked_alone_is_called_so() -> None:
    """Beside room enough closed the warning says that it is of the stacked panel, as room does."""
    job = job_toml("width = 60\nreturn = 3\ncount = 8", tables='[pole]\nprojection = "3 1/2"')
    (chosen,) = (each for each in counts(answers_of(job), 1) if each["chosen"])
    warning = {"code": "back-fold-hits-wall", "short": "stacked, back folds hit the wall"}
    assert warning in chosen["warnings"]
    assert chosen["stops"] == []
    assert " in closed, none stacked (" in chosen["wall"]


def test_what_stands_against_all_counts_is_told_apart() -> None:
    """What no count mends is common to those that can be made; of one count alone nothing is."""

    def one(fault: str, stops: list[str], warnings: list[str]) -> dict[str, Any]:
        found = {"stops": stops, "warnings": warnings}
        said = {key: [{"code": code, "short": code} for code in found[key]] for key in found}
        return {"fault": fault, **said}

    shown = [
        one("", ["wall"], ["tight", "odd"]),
        one("", [], ["odd", "tight"]),
        one("too many", [], []),
        one("", ["wall"], ["tight"]),
    ]
    assert common(shown) == {"stops": [], "warnings": [{"code": "tight", "short": "tight"}]}
    assert common(shown[2:]) == {"stops": [], "warnings": []}
    assert common([]) == {"stops": [], "warnings": []}
