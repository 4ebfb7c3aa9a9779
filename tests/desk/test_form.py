"""A page's fields are the questions of `new`, in its order, with what was typed and understood."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate.desk.form import Field, form
from drapetemplate.desk.reading import read_window
from drapetemplate.interview.all_questions import ALL_QUESTIONS
from tests.helpers.desk import answers_of
from tests.helpers.talk import dialogue

SAMPLES = sorted(Path("sample_jobs").glob("*.toml"))


def fields_of(answers: dict[str, str], window: int = 1) -> dict[str, Field]:
    """The fields of a window, by path."""
    groups = form(read_window(answers, window), answers)
    fields = [field for group in groups for field in group["fields"]]
    assert len(fields) == len({field["path"] for field in fields})
    return {field["path"]: field for field in fields}


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_fields_are_what_new_asks(sample: Path) -> None:
    """With the answers of a job typed at a terminal: the same questions in the same order."""
    answers = answers_of(sample.read_text(encoding="utf-8"))
    state, _ = dialogue(answers)
    asked = [answer.path for answer in state.answers if not answer.path.endswith("?another")]
    windows = max(path.startswith(f"window[{n}]") * n for n in (1, 2) for path in asked)
    for window in range(1, windows + 1):
        other = tuple(f"window[{n}]" for n in range(1, windows + 1) if n != window)
        # The whole file's pole, eyelets and cloth are asked at the first window.
        shared = ("eyelet", "band", "pole", "fabric", "lining") if window > 1 else ()
        expected = [
            path
            for path in asked
            if not path.startswith(other) and path.partition(".")[0] not in shared
        ]
        assert list(fields_of(answers, window)) == expected


def test_headings_are_the_sections() -> None:
    """Each heading once, in the order of the questions."""
    groups = form(read_window({"window[1].?cloth": "yes"}, 1), {})
    sections = list(dict.fromkeys(question.section for question in ALL_QUESTIONS))
    titles = [group["title"] for group in groups]
    assert titles == [title for title in sections if title in titles]


def test_a_field_in_full() -> None:
    """Its words are the question's, its default is in words, its measure is read back in both."""
    answers = {"units": "mm", "pole.diameter": "1 3/8 in"}
    field = fields_of(answers)["pole.diameter"]
    assert field["label"] == "Pole diameter?"
    assert "caliper" in field["explanation"]
    assert field["value"] == "1 3/8 in"
    assert field["read_back"] == "34.9 mm (1 3/8 in)"
    assert field["default"] == "not known, so it isn't checked how far the rings turn"
    assert (field["kind"], field["choices"], field["needed"]) == ("length", [], False)
    assert fields_of(answers)["window[1].leading"]["default"] == "40 mm (≈ 1 9/16 in)"


def test_needed_and_not() -> None:
    """What has no default needs an answer, and being empty is no fault of it."""
    fields = fields_of({})
    needed = {path for path, field in fields.items() if field["needed"]}
    assert needed == {"job.name", "window[1].width", "eyelet.outside", "eyelet.opening"}
    assert not any(field["fault"] for field in fields.values())


@pytest.mark.parametrize(
    ("path", "kind", "choices"),
    [
        ("units", "word", ["in", "mm", "cm"]),
        ("window[1].panels", "word", ["pair", "left", "right", "single"]),
        ("window[1].?route", "choice", ["width", "covers", "widths"]),
        ("paper.view", "side", ["yes", "no"]),
        ("paper.size", "text", ["letter", "legal", "tabloid", "a4", "a3"]),
        ("paper.joins", "word", ["clear", "even"]),
        ("window[1].name", "text", []),
        ("window[1].count", "whole", []),
    ],
)
def test_what_a_field_takes(path: str, kind: str, choices: list[str]) -> None:
    """Words that are all there is to choose from, words only suggested, or none."""
    field = fields_of({"?paper": "yes"})[path]
    assert (field["kind"], field["choices"]) == (kind, choices)


@pytest.mark.parametrize(
    ("path", "typed", "read_back"),
    [
        ("job.name", "Heron Point, oriel", ""),
        ("job.due", "1 Dec 2026", "1 December 2026"),
        ("units", "inches", "in"),
        ("window[1].count", "8", ""),
        ("window[1].width", "6' 3\"", "75 in (1905 mm)"),
        ("window[1].panels", "PAIR", ""),
        ("paper.letters", "V H", "V in front, H behind"),
        ("fabric.shrinkage", "0.03", "3 %"),
        ("fabric.repeat_down", "none", ""),
        ("window[1].width", "75,5", "75 1/2 in (1917.7 mm)"),
        ("window[1].width", "75,500", ""),
    ],
)
def test_read_back(path: str, typed: str, read_back: str) -> None:
    """An answer that isn't understood just as typed is said again, but for one at fault."""
    opened = {"?job": "yes", "?paper": "yes", "window[1].?cloth": "yes"}
    opened |= {"window[1].?more fabric": "yes", "window[1].?pattern fabric": "yes"}
    field = fields_of({**opened, path: typed})[path]
    assert (field["read_back"], field["value"]) == (read_back, typed)
    assert bool(field["fault"]) == (typed == "75,500")


def test_a_later_windows_defaults_are_the_firsts() -> None:
    """An empty field of a window that differs takes what the first one has, and says so."""
    answers = {
        "pole.diameter": "1 3/8",
        "window[2].?same": "no",
        "window[2].?same pole": "no",
    }
    field = fields_of(answers, 2)["window[2].pole.diameter"]
    assert field["default"] == "1 3/8, as at the first window"


def test_what_stands_with_a_question() -> None:
    """The defaults that one yes or no speaks of stand beside it."""
    fields = fields_of({"window[1].?cloth": "yes"})
    assert fields["window[1].?hems fabric"]["note"].startswith("Each side hem 3 in;")


def test_a_choice_that_is_none_takes_its_default() -> None:
    """What stands behind the default is asked, and the fault says what may be chosen."""
    fields = fields_of({"window[1].?route": "weight"})
    assert "window[1].width" in fields
    assert "width, covers or widths" in fields["window[1].?route"]["fault"]


def test_fields_that_lie_behind_another() -> None:
    """A yes brings its questions up; typed text behind a no is kept and not shown."""
    typed = {"pole.length": "120"}
    assert "pole.length" not in fields_of(typed)
    opened = fields_of({**typed, "window[1].?pole": "YES"})
    assert opened["pole.length"]["value"] == "120"
