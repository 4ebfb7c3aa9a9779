"""A window after the first, whose pole, eyelets and cloth are its own: whole dialogues."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drapetemplate.interview.draft import as_draft, from_draft
from drapetemplate.interview.job_text import job_text
from drapetemplate.interview.states import State, prompt, resume
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from tests.helpers.talk import dialogue

TWO = {
    "job.name": "Heron Point, linen store",
    "window[1].width": "88",
    "window[1].length": "84",
    "window[1].?another": "yes",
    "window[2].width": "88",
    "window[2].length": "84",
    "window[2].?same": "no",
    "window[2].?same pole": "no",
    "window[2].?same eyelet": "no",
    "window[2].?same cloth": "no",
}
RING = {"eyelet.outside": "3 3/8", "eyelet.opening": "2 1/8", "eyelet.hole": "2 1/4"}


def job_after(state: State) -> Job:
    """The job that its file says."""
    return read_job(job_text(dict(state.answers)).encode(), "job.toml")


def own(keys: dict[str, str]) -> dict[str, str]:
    """The second window's own answers to these."""
    return {f"window[2].{key}": text for key, text in keys.items()}


def test_a_smaller_eyelet() -> None:
    """A later window's eyelet may be smaller than the first one's opening, all through."""
    small = {"eyelet.outside": "1 5/8", "eyelet.opening": "1", "eyelet.hole": "1 1/16"}
    state, said = dialogue({**TWO, **RING, **own(small)})
    second = job_after(state).windows[1].eyelet
    assert (second.outside, second.opening) == (Fraction(13, 8) * INCH, INCH)
    assert not [line for line in said if "die-not-measured" in line]


def test_a_thicker_pole_with_its_larger_eyelet() -> None:
    """A pole that the first window's rings don't pass is no fault before its own are told."""
    small = {"eyelet.outside": "1 5/8", "eyelet.opening": "1", "eyelet.hole": "1 1/16"}
    thick = {"pole.diameter": "1 3/8", **RING}
    state, _ = dialogue({**TWO, **small, "pole.diameter": "5/8", **own(thick)})
    assert job_after(state).windows[1].pole.diameter == Fraction(11, 8) * INCH


def test_what_this_window_says_is_held_against_itself() -> None:
    """A hole as wide as the ring is still refused as soon as both are told."""
    wrong = {"eyelet.outside": "1 5/8", "eyelet.opening": "1 3/4"}
    with pytest.raises(AssertionError, match=r"window.2..eyelet.opening.*must be less than"):
        dialogue({**TWO, **RING, **own(wrong)})


def test_the_die_is_asked_of_each_eyelet() -> None:
    """A hole left open is warned of where it was asked: at the first window, or at its own ring."""
    first = {"eyelet.outside": "3 3/8", "eyelet.opening": "2 1/8"}
    same = {**TWO, "window[2].?same": "yes"}
    told = [line for line in dialogue({**same, **first})[1] if "die-not-measured" in line]
    assert len(told) == 1
    # An empty line at the second one takes the first one's hole, here none.
    small = {"eyelet.outside": "1 5/8", "eyelet.opening": "1"}
    told = [line for line in dialogue({**TWO, **first, **own(small)})[1] if "die-not" in line]
    assert ["2 1/8 in" in told[0], "opening of 1 in" in told[1]] == [True, True]


@st.composite
def hardware(draw: st.DrawFn) -> dict[str, str]:
    """A pole, a ring that passes it and a band that takes it, in sixteenths."""

    def inches(sixteenths: int) -> str:
        return f"{sixteenths / 16}"

    pole = draw(st.integers(4, 30))
    opening = pole + draw(st.integers(1, 20))
    outside = opening + draw(st.integers(2, 20))
    above = draw(st.integers(0, 20))
    band = above + outside + draw(st.integers(0, 40))
    return {
        "?eyelet": "yes",
        "pole.diameter": inches(pole),
        "eyelet.outside": inches(outside),
        "eyelet.opening": inches(opening),
        "eyelet.hole": inches(draw(st.integers(opening, outside - 1))),
        "band.height": inches(band),
        "band.above": inches(above),
    }


@settings(deadline=None, max_examples=12)  # 70 answers each, planned one by one
@given(first=hardware(), second=hardware())
def test_any_hardware_after_any_other(first: dict[str, str], second: dict[str, str]) -> None:
    """Whatever the first window hangs on, a second one's good measures are never refused."""
    steered = {"window[1].?eyelet": "yes", **{k: v for k, v in first.items() if k[0] != "?"}}
    state, _ = dialogue({**TWO, **steered, **own(second)})
    window = job_after(state).windows[1]
    assert window.eyelet.outside == Fraction(second["eyelet.outside"]) * INCH
    assert window.band.above == Fraction(second["band.above"]) * INCH


PATTERNED = {
    **TWO,
    **RING,
    "window[1].?cloth": "yes",
    "fabric.width": "54",
    "window[1].?pattern fabric": "yes",
    "fabric.repeat_down": "27",
    "fabric.repeat_across": "13 1/2",
    "window[1].?lining": "yes",
    "lining.width": "54",
}


def kept(state: State) -> State:
    """The same state out of its draft."""
    kept = from_draft(as_draft(state))
    assert kept is not None
    return resume(*kept)


def test_a_plain_unlined_cloth_after_a_lined_pattern() -> None:
    """A later window's plain cloth has no repeat of the first one's, nor its lining if so said."""
    plain = own({"?pattern fabric": "no", "?lining": "no", "fabric.name": "gull plain"})
    state, _ = dialogue(PATTERNED | plain)
    first, second = job_after(state).windows
    assert first.fabric is not None
    assert second.fabric is not None
    assert (first.fabric.repeat_down, first.lining is None) == (27 * INCH, False)
    assert (second.fabric.repeat_down, second.fabric.repeat_across) == (None, None)
    assert (second.fabric.width, second.lining) == (54 * INCH, None)
    text = job_text(dict(state.answers))
    assert [text.count(f'{key} = "none"') for key in ("repeat_down", "lining")] == [1, 1]
    assert job_text(dict(kept(state).answers)) == text


def test_an_empty_line_keeps_pattern_and_lining() -> None:
    """Where a later cloth isn't said to be plain or unlined it has what the first one has."""
    state, _ = dialogue(PATTERNED)
    second = job_after(state).windows[1]
    assert second.fabric is not None
    assert second.lining is not None
    assert (second.fabric.repeat_down, second.fabric.repeat_across) == (27 * INCH, INCH * 27 / 2)
    assert '"none"' not in job_text(dict(state.answers))


def test_one_repeat_taken_back() -> None:
    """None at one repeat's question takes back that one alone, and is read back as such."""
    state, said = dialogue(PATTERNED | own({"fabric.repeat_across": "none"}))
    second = job_after(state).windows[1]
    assert second.fabric is not None
    assert (second.fabric.repeat_down, second.fabric.repeat_across) == (27 * INCH, None)
    assert "Fabric horizontal repeat: none" in said


def test_a_pattern_is_asked_of_with_the_first_ones_in_mind() -> None:
    """What an empty line takes is yes where the first window's cloth has a pattern, else no."""
    for first, expected in (("yes", "Enter: yes."), ("no", "Enter: no.")):
        wanted = PATTERNED | {"window[1].?pattern fabric": first}
        state, _ = dialogue(wanted)
        answers = list(state.answers)
        at = [answer.path for answer in answers].index("window[2].?pattern fabric")
        assert prompt(State(tuple(answers[:at])))[1] == expected


def test_plain_cloth_is_planned_plain_while_asked() -> None:
    """What is said of a plain cloth on the way isn't of the first one's pattern."""
    # A repeat of 60 in can't be matched on 54 in cloth, which only the second window's seams need.
    wide = PATTERNED | {"fabric.repeat_across": "60", "window[1].width": "40"}
    with pytest.raises(AssertionError, match=r"window.2..fabric.repeat_across.*can't be matched"):
        dialogue(wide)
    dialogue(wide | own({"?pattern fabric": "no"}))
