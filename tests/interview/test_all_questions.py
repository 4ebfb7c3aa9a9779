"""The questions of `new`: all of a job file is asked, in the measure sheet's order, in words."""

from __future__ import annotations

import re

import pytest

from drapetemplate.interview.all_questions import (
    ALL_QUESTIONS,
    NOT_ASKED,
    THE_WINDOWS,
    in_order,
    next_question,
    question_for,
)
from drapetemplate.interview.at_once import asked_of, asked_of_all
from drapetemplate.interview.question import Answers, Question
from drapetemplate.interview.states import State, step
from drapetemplate.job.tables import TABLES, keys_of


def _every_key() -> set[str]:
    """Every key of a job file that has a value, a window's own without a table's name."""
    return {
        key if table in {"", "window"} else f"{table}.{key}"
        for table in TABLES
        for key in keys_of(table)
        if key not in TABLES
    }


def _asked(answers: dict[str, str]) -> list[str]:
    """The keys asked, as these answers stand; what isn't among them is left to its default."""
    whole = dict(answers)
    while (placed := next_question(whole)) is not None:
        question = placed.question
        whole[placed.path] = str(question.default) if question.steers else ""
    return [placed.path for placed in in_order(whole)]


def test_every_key_is_asked() -> None:
    """Every key the tables know is asked, or stands among those that aren't."""
    asked = {question.key for question in ALL_QUESTIONS if not question.steers}
    assert asked == _every_key() - NOT_ASKED
    assert _every_key() >= NOT_ASKED


def test_order_of_a_measure_sheet() -> None:
    """The job, the window, its width, pole, finish, eyelets and cloth, then the paper."""
    sections = list(dict.fromkeys(question.section for question in ALL_QUESTIONS))
    assert sections == [
        "The job",
        "The window",
        "The panel's width",
        "The pole",
        "Length and edges",
        "The eyelets",
        "The cloth",
        "The lining",
        "Another window",
        "The paper",
    ]


def test_first_job_is_short() -> None:
    """A first job takes 30 questions, of which four need more than an empty line."""
    answers = dict.fromkeys(_asked({}), "") | {"window[1].?route": "width"}
    questions = [placed.question for placed in in_order(answers)]
    needed = [question.key for question in questions if question.default is None]
    assert len(questions) == 30
    assert needed == ["job.name", "width", "eyelet.outside", "eyelet.opening"]


def test_headings_fit_what_is_asked() -> None:
    """What settles a panel's width stands under that, not under the pole."""
    headings = {question.key: question.section for question in ALL_QUESTIONS}
    for key in ("?route", "width", "widths"):
        assert headings[key] == "The panel's width"
    for key in ("pole.diameter", "pole.projection", "pole.wall_clearance"):
        assert headings[key] == "The pole"
    of_pole = {question.key for question in ALL_QUESTIONS if question.section == "The pole"}
    assert not of_pole & {"?route", "width", "widths", "fabric.width"}


@pytest.mark.parametrize("question", ALL_QUESTIONS, ids=[q.key for q in ALL_QUESTIONS])
def test_question_is_a_question(question: Question) -> None:
    """Each ends in a question mark, and what explains it is whole sentences."""
    assert question.text.endswith("?")
    assert re.fullmatch(r"\w.*[.]", question.explanation)
    if question.choices:
        assert question.default in question.choices
        assert all(word in question.text for word in question.choices)


@pytest.mark.parametrize(
    ("answers", "asked", "not_asked"),
    [
        ({"?job": "yes"}, "job.due", "?same"),
        ({"window[1].?route": "covers"}, "pole.length", "window[1].width"),
        ({"window[1].?route": "widths"}, "fabric.width", "window[1].?cloth"),
        ({"window[1].?pole": "yes"}, "pole.wall_clearance", "window[1].widths"),
        ({"window[1].?pole": "yes", "window[1].covers": "40"}, "pole.length", "window[1].fullness"),
        ({"eyelet.hung": "Hooks"}, "window[1].length", "pole.diameter"),
        ({"window[1].length": "84"}, "pole.top", "pole.off_floor"),
        ({"window[1].?route": "covers", "window[1].?pole": "yes"}, "pole.span", "window[2].name"),
        ({"window[1].?pole": "yes", "pole.supports": "1"}, "window[1].glass", "pole.span"),
        ({"window[1].?route": "covers"}, "window[1].glass", "pole.supports"),
        ({"pole.top": "84"}, "pole.off_floor", "window[2].name"),
        ({"window[1].panels": "single"}, "window[1].return", "window[1].leading"),
        ({"window[1].?eyelet": "yes", "window[1].count": "8"}, "band.above", "window[1].gap"),
        ({}, "eyelet.pack", "eyelet.weight"),
        ({}, "eyelet.spares", "window[1].gap"),
        ({"window[1].?cloth": "yes"}, "window[1].?hems fabric", "fabric.side_hem"),
        (
            {"window[1].?cloth": "yes", "window[1].?hems fabric": "yes"},
            "fabric.allowance",
            "fabric.railroad",
        ),
        ({"window[1].?cloth": "yes"}, "window[1].?pattern fabric", "fabric.repeat_down"),
        ({"window[1].?cloth": "yes"}, "window[1].?lining", "lining.width"),
        (
            {"window[1].?cloth": "yes", "window[1].?lining": "yes"},
            "lining.width",
            "fabric.seam",
        ),
        ({"?paper": "yes"}, "paper.letters", "paper.printer"),
        ({"window[1].?another": "yes"}, "window[2].?same", "window[2].?same pole"),
    ],
)
def test_what_brings_up_what(answers: dict[str, str], asked: str, not_asked: str) -> None:
    """A question is asked only where what was said before calls for it."""
    found = _asked(answers)
    assert asked in found
    assert not_asked not in found


def test_a_second_window_is_short() -> None:
    """What is the same as at the first window isn't asked again, and its own keys are."""
    second = [path for path in _asked({"window[1].?another": "yes"}) if "[2]" in path]
    assert second == [
        f"window[2].{key}"
        for key in (
            *("name", "quantity", "panels", "?same", "?route", "width", "?pole", "length"),
            *("pole.top", "leading", "return", "count", "?eyelet", "?another"),
        )
    ]


def test_a_second_window_of_its_own() -> None:
    """A window that differs is asked about what differs, under its own keys."""
    other = {"window[1].?another": "yes", "window[2].?same": "no", "window[2].?same pole": "no"}
    found = _asked(other)
    assert "window[2].pole.diameter" in found
    assert "window[2].eyelet.outside" not in found


def test_lined_like_the_first() -> None:
    """Where the file has a lining, another window of its own cloth may be lined so or unlined."""
    lined = {
        "window[1].?cloth": "yes",
        "window[1].?lining": "yes",
        "window[1].?another": "yes",
        "window[2].?same": "no",
        "window[2].?same cloth": "no",
    }
    found = _asked(lined | {"window[2].?lining": "yes"})
    assert found.index("window[2].?lining") < found.index("window[2].lining.width")
    assert "window[2].fabric.width" in found
    found = _asked(lined | {"window[2].?lining": "no"})
    assert "window[2].lining.width" not in found


def test_paths() -> None:
    """The first window's pole is the file's, another's its own; both windows' widths are theirs."""
    first, second = Answers({"pole.top": "90"}, 1), Answers({"pole.top": "90"}, 2)
    actual = [
        window.path(key) for window in (first, second) for key in ("width", "pole.top", "?pole")
    ]
    assert actual == [
        "window[1].width",
        "pole.top",
        "window[1].?pole",
        "window[2].width",
        "window[2].pole.top",
        "window[2].?pole",
    ]
    assert (first.text("pole.top"), second.own("pole.top"), second.text("pole.top")) == (
        "90",
        "",
        "90",
    )


def test_question_for_is_the_first() -> None:
    """A key that two questions may ask is known by the first."""
    keys = [question.key for question in THE_WINDOWS]
    assert keys.count("covers") == 5
    assert question_for("covers") is THE_WINDOWS[keys.index("covers")]
    with pytest.raises(KeyError):
        question_for("paper.printer")


def test_no_question_answers_itself() -> None:
    """Going through all with empty lines and one measure for all ends, and leaves a whole job."""
    state = State()
    for _ in range(200):
        if next_question(dict(state.answers)) is None:
            break
        before = state
        state, _ = step(state, "")
        if state == before:
            needed = {"job.name": "Heron Point", "eyelet.outside": "2", "eyelet.opening": "1"}
            placed = next_question(dict(state.answers))
            assert placed is not None
            state, _ = step(state, needed.get(placed.path, "60"))
    assert len(state.answers) == 30


def test_all_at_once() -> None:
    """What can't be kept has a fault at its question and counts as if nothing were typed there.

    A choice then stands at its default, so that what follows on that is asked.
    """
    typed = {
        "window[1].?route": "perhaps",
        "window[1].width": "88",
        "?paper": "yes",
        "paper.view": "perhaps",
        "window[2].width": "60",
        "window[2].?same eyelet": "no",
        "window[2].eyelet.outside": "3",
    }
    asked = asked_of_all(typed)
    assert [fault.where for fault in asked.faults] == ["window[1].?route", "paper.view"]
    counted = asked.counted
    assert (counted["window[1].?route"], counted["paper.view"]) == ("width", "")
    assert (counted["window[1].width"], counted["window[2].width"]) == ("88", "60")
    # How many windows there are is what the page has, and no question of it.
    assert not any(path.endswith("?another") for path in counted)
    assert "window[2].width" not in asked_of(typed, 1).counted
    assert "window[2].width" in asked_of(typed, 2).counted


def test_whose_answer_counts() -> None:
    """A window's own before the file's, which it takes back by a word, but not beside its own."""
    said = {
        "pole.diameter": "1",
        "window[2].pole.diameter": "3/4",
        "fabric.repeat_down": "25",
        "window[2].?pattern fabric": "no",
        "window[3].?pattern fabric": "no",
        "window[3].fabric.repeat_down": "12",
        "lining.width": "54",
        "window[2].?lining": "no",
        "window[1].width": "60",
    }
    first, second, third = (Answers(said, number) for number in (1, 2, 3))
    poles = [window.text("pole.diameter") for window in (first, second, third)]
    assert poles == ["1", "3/4", "1"]
    back = [[key for key in said if window.takes_back(key)] for window in (first, second, third)]
    assert back == [[], ["fabric.repeat_down", "lining.width"], []]
    assert third.text("fabric.repeat_down") == "12"
    assert (second.text("width"), second.shared("width")) == ("", "")
