"""Whatever is typed into whichever field: everything a page shows is shown, or a fault says why."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drapetemplate.desk.counts import counts
from drapetemplate.desk.look import look
from drapetemplate.desk.positions import positions
from drapetemplate.desk.whole import whole
from drapetemplate.desk.windows import copy_window, remove_window
from drapetemplate.interview.all_questions import ALL_QUESTIONS
from drapetemplate.interview.job_text import windows_in
from drapetemplate.interview.question import Answers
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import job_toml

KEYS = sorted({question.key for question in ALL_QUESTIONS})
TYPED = st.one_of(
    st.sampled_from(
        [
            *("", " ", "0", "1", "2", "7", "8", "60", "88", "2 5/8", "1 1/2", "190.5 cm", "-3"),
            *("yes", "no", "width", "covers", "widths", "pair", "single", "hooks", "pole", "mm"),
            *("none", "auto", "99 m", "3 %", "12 g", "250 gsm", "a4", "24 in roll", "stepping"),
            *(
                "1 Dec 2026",
                "11/2",
                "75,5",
                "75,500",
                "\N{BELL}",
                "\u202e",
                "<b>&amp;",
                '"',
                "\\",
                "]",
                "\n",
            ),
            *("x" * 500, "9" * 60),
        ]
    ),
    st.text(max_size=8),
)
START = [
    {},
    answers_of(job_toml("width = 60\nlength = 84", tables='[pole]\ndiameter = "5/8"')),
    answers_of(
        job_toml(
            "covers = 30\nfullness = 2",
            "width = 50\n[window.fabric]\nwidth = 60",
            tables="[pole]\nprojection = 4\n[fabric]\nwidth = 54\n[lining]\nwidth = 48",
        )
    ),
]


@st.composite
def some_answers(draw: st.DrawFn) -> dict[str, str]:
    """A job's answers, or none, with some of them typed over."""
    answers = dict(draw(st.sampled_from(START)))
    typed = draw(st.dictionaries(st.tuples(st.sampled_from(KEYS), st.integers(1, 3)), TYPED))
    for (key, window), text in typed.items():
        answers[Answers({}, window).path(key)] = text
    return answers


@settings(deadline=None, max_examples=60)
@given(some_answers())
def test_all_is_shown_or_a_fault_says_why(answers: dict[str, str]) -> None:
    """Each part is JSON; where the panel isn't drawn, something is missing or at fault."""
    for window in range(1, windows_in(answers) + 1):
        shown = look(answers, window)
        assert shown["panels"] or shown["faults"] or shown["missing"]
        paths = {field["path"] for group in shown["form"] for field in group["fields"]}
        assert {fault["path"] for fault in shown["faults"]} <= {*paths, ""}
        parts = [shown, counts(answers, window), positions(answers, window)]
        assert json.loads(json.dumps(parts)) == parts
    everything = whole(answers)
    assert json.loads(json.dumps(everything)) == everything
    assert everything["order"] or everything["faults"] or everything["missing"]


@settings(deadline=None, max_examples=60)
@given(some_answers(), st.data())
def test_windows_of_anything(answers: dict[str, str], data: st.DataObject) -> None:
    """A copy adds one, and a removal takes one away, whatever was typed."""
    count = windows_in(answers)
    window = data.draw(st.integers(1, count))
    assert windows_in(copy_window(answers, window).answers) == count + 1
    if count > 1:
        assert windows_in(remove_window(answers, window).answers) == count - 1


@pytest.mark.parametrize("text", ["<script>", "&lt;", '"><svg onload=x>', "]]>"])
def test_names_in_pictures_are_text(text: str) -> None:
    """A window's name in a picture's words is text, not markup."""
    shown = whole(
        {
            **answers_of(job_toml("width = 60\nlength = 84", tables="[fabric]\nwidth = 54")),
            "window[1].name": text,
        }
    )
    drawn = "".join(picture for cloth in shown["cloth"] for picture in cloth["pictures"])
    assert "<script" not in drawn
    assert "<svg onload" not in drawn
