"""A page's answers are read as the job file that says the same, and each fault at its question."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate.desk.form import form
from drapetemplate.desk.reading import read_window
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.job_text import job_text
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from tests.helpers.desk import answers_of

SAMPLES = sorted(Path("sample_jobs").glob("*.toml"))
LEAST = {
    "job.name": "Heron Point, writing room",
    "window[1].width": "88",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
}


def faults_of(answers: dict[str, str], window: int = 1) -> dict[str, str]:
    """What speaks against the least job with these answers, each under its question's path."""
    return faults_in({**LEAST, **answers}, window)


def faults_in(answers: dict[str, str], window: int) -> dict[str, str]:
    """What speaks against a window's answers, each under its question's path."""
    read = read_window(answers, window)
    assert read.strips is None
    return {fault.where: fault.text for fault in read.faults}


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_window_is_planned_as_the_files(sample: Path) -> None:
    """Each window of a sample job, typed into a page, has the plan that the file has."""
    windows = plan(read_job(sample.read_bytes(), "")).windows
    answers = answers_of(sample.read_text(encoding="utf-8"))
    for number, window in enumerate(windows, 1):
        read = read_window(answers, number)
        assert read.faults == ()
        assert read.plan is not None
        assert read.plan.windows == (window,)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_file_that_is_saved_says_the_same(sample: Path) -> None:
    """The job file written from the answers that count has the plan that the page shows."""
    answers = answers_of(sample.read_text(encoding="utf-8"))
    saved = job_text(asked_of_all(answers).counted).encode()
    for number, window in enumerate(plan(read_job(saved, "")).windows, 1):
        read = read_window(answers, number)
        assert read.plan is not None
        assert read.plan.windows == (window,)


def test_what_is_not_asked_counts_for_nothing() -> None:
    """A width typed before the panel was said to cover its pole is kept and not read."""
    answers = {
        **LEAST,
        "window[1].?route": "covers",
        "window[1].covers": "40",
        "window[1].fullness": "2",
        "window[1].length": "nonsense",
        "eyelet.hung": "hooks",
        "pole.diameter": "9",
    }
    assert faults_of(answers) == {
        "window[1].length": '"nonsense" is not a length: write a number, or text such as '
        '"75 1/2", "6 ft 3 in" or "190.5 cm"'
    }
    read = read_window({**answers, "window[1].length": "84"}, 1)
    assert read.job is not None
    (window,) = read.job.windows
    assert window.width is None
    assert window.pole.diameter is None


def test_another_windows_fault_is_its_own() -> None:
    """What is wrong with one window doesn't blank another; what they share blanks both."""
    answers = {**LEAST, "window[2].width": "0"}
    first, second = read_window(answers, 1), read_window(answers, 2)
    assert first.plan is not None
    assert [fault.where for fault in second.faults] == ["window[2].width"]
    later = read_window({**LEAST, "window[1].width": "0", "window[2].width": "60"}, 2)
    assert later.plan is not None
    shared = {**LEAST, "eyelet.opening": "3", "window[2].width": "60"}
    assert [fault.where for fault in read_window(shared, 1).faults] == ["eyelet.opening"]
    (fault,) = read_window(shared, 2).faults
    assert fault.where == ""
    assert fault.text.startswith("Opening, as at the first window: 3 in must be less than ")


def test_missing_is_no_fault() -> None:
    """An empty page has questions that need an answer, and says nothing against it."""
    read = read_window({}, 1)
    assert read.faults == ()
    assert set(read.missing) == {*LEAST}
    assert read.plan is None


@pytest.mark.parametrize(
    ("answers", "path", "word"),
    [
        ({"window[1].width": "75,500"}, "window[1].width", "comma"),
        ({"units": "ells"}, "units", "in, mm or cm"),
        ({"?job": "yes", "job.due": "3/4/2027"}, "job.due", "could be"),
        ({"window[1].?pole": "perhaps"}, "window[1].?pole", "yes or no"),
        ({"paper.view": "perhaps"}, "paper.view", "yes or no"),
        ({"window[1].count": "1"}, "window[1].count", "2 to 2000"),
        ({"window[1].count": "80"}, "window[1].count", "don't fit"),
        ({"window[1].panels": "pears"}, "window[1].panels", "pair"),
        ({"eyelet.hole": "3"}, "eyelet.hole", "less than"),
        ({"pole.diameter": "2"}, "pole.diameter", "doesn't pass"),
        ({"pole.projection": "1/4"}, "pole.projection", "wall"),
        ({"paper.size": "letter box"}, "paper.size", "paper size"),
        ({"paper.size": "4 x 4 in"}, "paper.size", "too small"),
        ({"?paper": "yes", "paper.margin": "3"}, "paper.margin", "or less"),
        ({"?paper": "yes", "paper.letters": "F F"}, "paper.letters", "both front and back"),
        ({"window[1].length": "2"}, "window[1].length", "band"),
    ],
)
def test_fault_stands_at_its_question(answers: dict[str, str], path: str, word: str) -> None:
    """Each has one line, at the question it is about, in words without quotes to write."""
    faults = faults_of(answers)
    assert faults.keys() == {path}
    assert word in faults[path]
    assert "without quotes" not in faults[path]


def test_fault_of_what_is_not_asked_stands_at_what_asks_for_it() -> None:
    """A margin that nobody typed, too much for small paper, stands where margins are opened."""
    faults = faults_of({"paper.size": "5 x 7 in", "units": "in"})
    assert faults.keys() == {"?paper"}
    assert faults["?paper"].startswith("Paper margin: 1/2 in leaves")
    pole = {
        "window[1].?pole": "yes",
        "pole.length": "200",
        "window[1].width": "60",
        "window[1].panels": "single",
    }
    assert faults_of(pole).keys() == {"window[1].covers"}


def test_second_window_by_its_own_number() -> None:
    """A window without a name is called by its place, and its faults stand at its own fields."""
    answers = {**LEAST, "window[2].width": "70", "window[3].width": "60"}
    read = read_window(answers, 3)
    assert read.plan is not None
    assert read.plan.windows[0].name == "Window 3"
    wrong = {
        "window[3].?same": "no",
        "window[3].?same pole": "no",
        "window[3].pole.diameter": "2",
        "window[3].width": "60",
    }
    assert faults_of(wrong, 3).keys() == {"window[3].pole.diameter"}


def test_a_later_window_has_the_firsts_cloths() -> None:
    """Also where nothing more is known of them than that they are there."""
    answers = {**LEAST, "window[2].width": "60", "window[1].?cloth": "yes"}
    for lining in ("no", "yes"):
        read = read_window({**answers, "window[1].?lining": lining}, 2)
        assert read.job is not None
        (window,) = read.job.windows
        assert window.fabric is not None
        assert (window.lining is not None) == (lining == "yes")
    bare = read_window({**LEAST, "window[2].width": "60"}, 2).job
    assert bare is not None
    assert bare.windows[0].fabric is None


def wrong_answers() -> list[tuple[str, int, str]]:
    """Every question of the sample jobs that isn't free text: its sample, window and path."""
    wrong = []
    for sample in SAMPLES:
        answers = answers_of(sample.read_text(encoding="utf-8"))
        for window in (1, 2) if "window[2].width" in answers else (1,):
            groups = form(read_window(answers, window), answers)
            wrong += [
                (sample.stem, window, field["path"])
                for group in groups
                for field in group["fields"]
                if field["kind"] != "text" or field["path"] == "paper.size"
            ]
    return wrong


@pytest.mark.parametrize(("sample", "window", "path"), wrong_answers())
def test_wrong_text_in_any_field(sample: str, window: int, path: str) -> None:
    """Its fault, and no other, stands at the field it was typed into."""
    answers = answers_of(Path(f"sample_jobs/{sample}.toml").read_text(encoding="utf-8"))
    assert faults_in({**answers, path: "amaranth"}, window).keys() == {path}


def test_a_hundred_wrong_answers() -> None:
    """There are over a hundred such fields."""
    assert len(wrong_answers()) > 100
