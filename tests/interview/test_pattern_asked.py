"""A pattern on the folds is asked of a cloth that has a repeat across, and only of such a one."""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.interview.job_text import job_text
from drapetemplate.job.build import read_job
from tests.helpers.talk import dialogue

STRIPED = {
    "job.name": "Heron Point, hall",
    "window[1].width": "88",
    "window[1].length": "84",
    "eyelet.outside": "3 3/8",
    "eyelet.opening": "2 1/8",
    "window[1].?cloth": "yes",
    "fabric.width": "54",
    "window[1].?pattern fabric": "yes",
    "fabric.repeat_across": "9",
}
TWO = {
    **STRIPED,
    "window[1].pattern": "folds",
    "window[1].?another": "yes",
    "window[2].width": "60",
    "window[2].length": "84",
}


def pattern_of(answers: dict[str, str]) -> list[str]:
    """What each window's pattern is to do, in the file that these answers make."""
    state, _ = dialogue(answers)
    job = read_job(job_text(dict(state.answers)).encode(), "job.toml")
    return [window.pattern for window in job.windows]


def test_an_empty_line_passes_it_by() -> None:
    """It matches at the seams, as without the question, and the file doesn't say so."""
    state, _ = dialogue(STRIPED)
    assert dict(state.answers)["window[1].pattern"] == ""
    assert '\npattern = "' not in job_text(dict(state.answers))
    assert pattern_of(STRIPED) == ["seams"]


def test_on_the_folds() -> None:
    """The word goes into the file, of the window it was said of."""
    assert pattern_of({**STRIPED, "window[1].pattern": "folds"}) == ["folds"]
    assert pattern_of(TWO) == ["folds", "seams"]
    assert pattern_of({**TWO, "window[2].pattern": "folds"}) == ["folds", "folds"]


def test_it_is_asked_where_it_can_be() -> None:
    """Not of plain cloth, of turned cloth, of hooks, or of a window that is plain by itself."""
    plain = {key: text for key, text in STRIPED.items() if "repeat" not in key}
    turned = {
        **STRIPED,
        "fabric.width": "118",
        "window[1].?more fabric": "yes",
        "fabric.railroad": "yes",
    }
    hooks = {**STRIPED, "window[1].?eyelet": "yes", "eyelet.hung": "hooks"}
    for answers in (plain, turned, hooks):
        assert "window[1].pattern" not in dict(dialogue(answers)[0].answers)
    other = {
        **TWO,
        "window[2].?same": "no",
        "window[2].?same cloth": "no",
        "window[2].?pattern fabric": "no",
    }
    asked = dict(dialogue(other)[0].answers)
    assert "window[1].pattern" in asked
    assert "window[2].pattern" not in asked


def test_where_its_motif_is() -> None:
    """After a yes: from the left selvage, and whether it is as far from the right one."""
    no = dict(dialogue(STRIPED)[0].answers)
    assert (no["window[1].?motif fabric"], "fabric.motif" in no) == ("no", False)
    answers = {**STRIPED, "window[1].?motif fabric": "yes", "fabric.motif": "4 1/2"}
    state, _ = dialogue(answers)
    cloth = read_job(job_text(dict(state.answers)).encode(), "job.toml").windows[0].fabric
    assert cloth is not None
    assert (cloth.motif, cloth.mirrored) == (Fraction("114.3"), False)
    state, _ = dialogue({**answers, "fabric.mirrored": "yes"})
    cloth = read_job(job_text(dict(state.answers)).encode(), "job.toml").windows[0].fabric
    assert cloth is not None
    assert cloth.mirrored
