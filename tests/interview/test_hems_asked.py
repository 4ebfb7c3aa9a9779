"""Hems, heading, seam allowance and what is bought over: shown with their defaults, then asked."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.interview.job_text import job_text
from drapetemplate.interview.states import State, list_answers, prompt, section_title
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from tests.helpers.talk import TO_COUNT, after, asked, dialogue, talk

TO_HEMS = (*TO_COUNT, *[""] * 4, "y", "gull linen", "54", "")
"""As far as the cloth's hems."""
LINED = {
    "job.name": "Heron Point, hall",
    "window[1].width": "88",
    "window[1].length": "84",
    "eyelet.outside": "3 3/8",
    "eyelet.opening": "2 1/8",
    "window[1].?cloth": "yes",
    "fabric.width": "54",
    "window[1].?lining": "yes",
    "lining.width": "54",
}


def job_of(state: State) -> Job:
    """The job that its file says."""
    return read_job(job_text(dict(state.answers)).encode(), "job.toml")


def test_all_are_shown_at_once() -> None:
    """One question shows every default of the group, and an empty line takes all of them."""
    state = after(*TO_HEMS)
    assert prompt(state)[1:] == (
        (
            "Each side hem 3 in; bottom hem 8 in; heading twice the stiffener band; seam allowance "
            "1/2 in; bought over 4 in."
        ),
        "Enter: no.",
    )
    assert section_title(state) == "The cloth"
    assert asked(after("", state=state)) == (
        "More about the cloth: railroading, weight, shrinkage (yes or no)?"
    )
    assert talk("?", state=state)[1][1].startswith(" ".join(prompt(state)[1:]))


def test_each_is_asked_with_its_default() -> None:
    """After a yes each is asked in the trade's words, and one keystroke takes what is offered."""
    state = after(*TO_HEMS, "y")
    met = []
    for line in ("2", "", "", "", ""):
        met.append(prompt(state)[0].partition(". ")[2] + " " + prompt(state)[-1])
        state = after(line, state=state)
    assert met == [
        "How much cloth does each side hem take, all its turns? Enter: 3 in (76.2 mm).",
        "How much cloth does the bottom hem take, all its turns? Enter: 8 in (203.2 mm).",
        (
            "How much cloth does the heading take, beyond the finished length? "
            "Enter: twice the stiffener band."
        ),
        "Seam allowance, on each side of a seam? Enter: 1/2 in (12.7 mm).",
        (
            "How much of it to buy over what is cut, to square the start and cut round flaws? "
            "Enter: 4 in (101.6 mm)."
        ),
    ]
    cloth = job_of(after("rest", state=state)).windows[0].fabric
    assert cloth is not None
    assert (cloth.side_hem, cloth.bottom_hem) == (2 * INCH, 8 * INCH)


@pytest.mark.parametrize("units", ["mm", "cm"])
def test_shown_in_the_jobs_units(units: str) -> None:
    """What is shown is what the file would be given without a word, in the job's own units."""
    measures = {"window[1].width": "88 in", "eyelet.outside": "3 in", "eyelet.opening": "2 in"}
    lengths = {"window[1].length": "84 in", "fabric.width": "54 in", "lining.width": "54 in"}
    state, _ = dialogue({**LINED, **measures, **lengths, "units": units})
    number = [answer.path for answer in state.answers].index("window[1].?hems fabric") + 1
    shown = prompt(after(f"back {number}", state=state))[1]
    cloth = job_of(state).windows[0].fabric
    assert cloth is not None
    scale = Fraction(1 if units == "mm" else 10)
    for called, length in (
        ("Each side hem", cloth.side_hem),
        ("bottom hem", cloth.bottom_hem),
        ("seam allowance", cloth.seam),
        ("bought over", cloth.allowance),
    ):
        assert f"{called} {float(length / scale):g} {units}" in shown


def test_a_lining_has_hems_of_its_own() -> None:
    """The lining's are asked by themselves, and a yes there leaves the cloth's as they are."""
    own = {"window[1].?hems lining": "yes", "lining.side_hem": "1 1/2", "lining.bottom_hem": "4"}
    state, _ = dialogue(LINED | own)
    (window,) = job_of(state).windows
    assert window.fabric is not None
    assert window.lining is not None
    assert (window.lining.side_hem, window.lining.bottom_hem) == (INCH * 3 / 2, 4 * INCH)
    assert (window.fabric.side_hem, window.fabric.bottom_hem) == (3 * INCH, 8 * INCH)
    assert any(
        line.endswith("Are the lining's hems, heading, seams or allowance other than these: yes")
        for line in list_answers(state)
    )


def test_a_lining_is_loose_unless_said() -> None:
    """How it is joined is asked, and so is how far it stays within the face; Enter passes both."""
    state, _ = dialogue(LINED)
    number = [answer.path for answer in state.answers].index("lining.joined") + 1
    joined = after(f"back {number}", state=state)
    assert prompt(joined) == (
        f"{number}. Is the lining loose, or bagged (loose or bagged)?",
        "Enter: loose.",
    )
    hems = after("", state=joined)
    assert prompt(hems)[1] == (
        "Set in from each side edge of the face 1 1/2 in; short of the face's foot 1 in; each side "
        "hem 1 1/2 in; bottom hem 4 in; heading 0 in; seam allowance 1/2 in; bought over 4 in."
    )
    met = []
    state = after("y", state=hems)
    for line in ("2", "1/2", "", "", "", "", ""):
        met.append(prompt(state)[0].partition(". ")[2])
        state = after(line, state=state)
    assert met[:5] == [
        "How far is it set in from each side edge of the face?",
        "How far does it hang above the face's foot?",
        "How much cloth does each side hem take, all its turns?",
        "How much cloth does the bottom hem take, all its turns?",
        "How much cloth does a top turn of its own take?",
    ]
    lining = job_of(after("rest", state=state)).windows[0].lining
    assert lining is not None
    assert (lining.joined, lining.set_in, lining.short) == ("loose", 2 * INCH, INCH / 2)
    assert (lining.side_hem, lining.bottom_hem) == (INCH * 3 / 2, 4 * INCH)


def test_a_bagged_lining_is_asked_for_its_seams() -> None:
    """It has no hems to ask for, and isn't set in: what its edges take is its seam."""
    bagged = {"lining.joined": "bagged", "window[1].?hems lining": "yes", "lining.seam": "5/8"}
    state, _ = dialogue(LINED | bagged)
    asked_for = [answer.path for answer in state.answers]
    assert not {"lining.set_in", "lining.short"} & set(asked_for)
    number = asked_for.index("lining.side_hem") + 1
    assert prompt(after(f"back {number}", state=state)) == (
        f"{number}. How much cloth does the seam at each side take?",
        "Enter: the seam, its seam allowance.",
    )
    lining = job_of(state).windows[0].lining
    assert lining is not None
    assert (lining.joined, lining.side_hem) == ("bagged", INCH * 5 / 8)
    assert lining.set_in == 0


def test_a_later_window_shows_the_first_ones() -> None:
    """Where a later window's cloth is its own, what is shown is what it takes: the first one's."""
    two = LINED | {
        "window[1].?hems fabric": "yes",
        "fabric.bottom_hem": "10",
        "window[1].?another": "yes",
        "window[2].width": "60",
        "window[2].?same": "no",
        "window[2].?same cloth": "no",
    }
    state, _ = dialogue(two)
    number = [answer.path for answer in state.answers].index("window[2].?hems fabric") + 1
    shown = prompt(after(f"back {number}", state=state))[1]
    assert shown.startswith("Each side hem 3 in; bottom hem 10 in (254 mm); heading twice")
    second = job_of(state).windows[1].fabric
    assert second is not None
    assert second.bottom_hem == 10 * INCH


def test_packs_and_spares_are_asked() -> None:
    """How eyelets are bought is asked of each kind of eyelet, with what an empty line takes."""
    state = after(*TO_COUNT, "")
    assert prompt(state)[0].endswith("How many eyelets come in a pack?")
    state = after("8", state=state)
    assert prompt(state)[0].endswith("Spare eyelets, how many to buy over in the whole job?")
    assert prompt(state)[1] == "Enter: 0."


def test_letters_are_refused_as_they_are_typed() -> None:
    """No brackets, commas or quotes of a job file are asked of whoever types two letters."""
    letters = after(*TO_COUNT, *[""] * 8, "y", *[""] * 6)
    said = talk("x", state=letters)[1]
    assert said[0] == 'Not taken: "x" is not a pair of letters: write two, such as "F B"'
