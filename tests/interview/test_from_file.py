"""A job file's tables as answers: what the questions then say is what the file says."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from drapetemplate.errors import DrapeError
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.from_file import FromFile, from_tables
from drapetemplate.interview.job_text import job_text
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import tables_in
from tests.helpers.jobfiles import LEAST
from tests.helpers.shared_tables import jobs, unsayable

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))


def read(text: str) -> FromFile:
    """What a job file answers."""
    return from_tables(tables_in(text.encode(), "job.toml"))


def made(text: str) -> object:
    """What a job file makes, but for its printer; or what is wrong with it."""
    try:
        job = read_job(text.encode(), "job.toml")
    except DrapeError as error:
        return frozenset(fault.text for fault in error.faults)
    return replace(job, paper=replace(job.paper, printer=None))


def asked_again(text: str) -> str:
    """The file that `new` writes of a file's answers."""
    return job_text(dict(asked_of_all(read(text).answers).counted))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_samples_say_the_same(sample: Path) -> None:
    """Every key of every sample comes up, and its answers make the same job."""
    text = sample.read_text()
    assert read(text).left_out == ()
    assert made(asked_again(text)) == made(text)


def test_values_stay_spelled() -> None:
    """As in the file, whatever kind of value it is there."""
    text = """
units = "CM"
[job]
name = "Heron Point"
number = 102
due = 2027-02-12
[paper]
view = "Back"
letters = ["V", "H"]
[eyelet]
outside = 6.60
opening = '4'
weight = "12 g"
[fabric]
railroad = false
shrinkage = 0.03
[[window]]
width = 1_400
fullness = 2.250
length = '''84 '''
"""
    answers = read(text).answers
    assert {path: answer for path, answer in answers.items() if "?" not in path} == {
        "units": "CM",
        "job.name": "Heron Point",
        "job.number": "102",
        "job.due": "2027-02-12",
        "paper.view": "yes",
        "paper.letters": "V H",
        "eyelet.outside": "6.60",
        "eyelet.opening": "4",
        "eyelet.weight": "12 g",
        "fabric.railroad": "no",
        "fabric.shrinkage": "0.03",
        "window[1].width": "1400",
        "window[1].fullness": "2.250",
        "window[1].length": "84 ",
    }
    assert {path for path, answer in answers.items() if answer == "yes" and "?" in path} == {
        "?job", "?paper", "window[1].?pole", "window[1].?eyelet", "window[1].?cloth",
        "window[1].?more fabric",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("window", "route"),
    [
        ("width = 88", "width"),
        ("width = 88\ncovers = 40", "width"),
        ("covers = 40\nfullness = 2", "covers"),
        ("fullness = 2\npole.length = 80", "covers"),
        ("fullness = 2\nglass = 60", "covers"),
        ("widths = 2\nfabric.width = 54", "widths"),
        ("widths = 2\nfabric.width = 54\ncovers = 40", "widths"),
        ("name = 'North'", "width"),
    ],
)
def test_the_way_its_width_is_known(window: str, route: str) -> None:
    """Is chosen so that what the file gives is asked for."""
    text = LEAST.replace('width = "88"', window)
    assert read(text).answers["window[1].?route"] == route
    assert read(text).left_out == ()
    assert made(asked_again(text)) == made(text)


def test_keys_without_a_question_are_named() -> None:
    """Those that no question is for, and those whose question doesn't come up."""
    text = f"""{LEAST}count = 8
gap = 3
colour = "red"
[paper]
printer = "laser"
[curtain]
width = 3
"""
    assert read(text).left_out == (
        "window[1].gap", "window[1].colour", "paper.printer", "curtain.width",
    )  # fmt: skip
    assert read(text).answers["window[1].gap"] == "3"


WINDOWS = """
[pole]
diameter = "1 3/8"
top = 96
[lining]
width = 54
[fabric]
width = 54
repeat_down = 12
"""


def test_what_the_first_window_alone_has() -> None:
    """Is the answer to the first window's question; the others keep the file's own."""
    text = f"""{LEAST}pole.diameter = 1
[[window]]
width = 60
[[window]]
width = 60
pole.top = 100
{WINDOWS}"""
    answers = read(text).answers
    assert answers["pole.diameter"] == "1"
    assert answers["window[2].pole.diameter"] == answers["window[3].pole.diameter"] == "1 3/8"
    assert "window[2].pole.top" not in answers
    assert [answers[f"window[{n}].?same pole"] for n in (2, 3)] == ["no", "no"]
    assert [answers[f"window[{n}].?same cloth"] for n in (2, 3)] == ["yes", "yes"]
    assert [answers[f"window[{n}].?another"] for n in (1, 2, 3)] == ["yes", "yes", "no"]
    assert made(asked_again(text)) == made(text)


@pytest.mark.parametrize(
    ("own", "differs"),
    [
        ("", []),
        ("pole.diameter = 1", ["pole"]),
        ("band.height = 6", ["eyelet"]),
        ("fabric.seam = 1", ["cloth"]),
        ("lining.seam = 1", ["cloth"]),
    ],
)
def test_a_later_window_that_is_as_the_first(own: str, differs: list[str]) -> None:
    """What it has from the file it is said to have alike, so that nobody is asked for it again."""
    answers = read(f"{LEAST}[[window]]\nwidth = 60\n{own}\n{WINDOWS}").answers
    said = {name: answers[f"window[2].?same {name}"] for name in ("pole", "eyelet", "cloth")}
    assert [name for name, word in said.items() if word == "no"] == differs
    assert answers["window[2].?same"] == ("no" if differs else "yes")


@pytest.mark.parametrize(
    "windows",
    [
        ("", 'lining = "none"', ""),
        ('lining = "none"', "", 'lining = "None"'),
        ("", 'fabric.repeat_down = "none"\nfabric.repeat_across = "none"', ""),
        ("", 'fabric.repeat_down = "none"', "fabric.repeat_across = 3"),
        ("extra_seams = 1", "extra_seams = 1", ""),
        ("eyelet.outside = 3", "", "band.height = 5"),
        # The file's, the first one's and the third one's own: three poles.
        ("pole.diameter = 1", "", 'pole.diameter = "3/4"'),
        ("pole.diameter = 1", 'pole.diameter = "3/4"\npole.top = 90', "pole.top = 100"),
        ("", "lining.width = 60", "fabric.name = 'wool'"),
    ],
)
def test_windows_that_share_tables(windows: tuple[str, ...]) -> None:
    """Each has what the file gives it, by its own table or by what it takes back."""
    each = "".join(f"[[window]]\nwidth = 60\n{own}\n" for own in windows)
    text = LEAST.partition("[[window]]")[0] + each + WINDOWS
    assert read(text).left_out == ()
    assert made(asked_again(text)) == made(text)


@pytest.mark.parametrize(
    "text",
    [
        "", "window = 3", "window = []", "window = [1, 2]", "job = 3", "[window]\nwidth = 3",
        "[[window]]\npole = 3\nlining = 4", "[pole]\ntop = {a = 1}", "pole = [[]]", "units = 3",
        "[[window]]\nwidth = [[[]]]\ncount = true\nname = ''", "[[job]]\nname = 'x'",
    ],
)  # fmt: skip
def test_any_tables_are_answers(text: str) -> None:
    """However wrong they are: what has a question is text, and nothing else is lost."""
    answers = read(text).answers
    assert all(isinstance(answer, str) for answer in answers.values())
    assert answers["window[1].?route"] == "width"
    assert isinstance(asked_again(text), str)


@pytest.mark.searched
@given(jobs())
@settings(max_examples=150, deadline=None)
def test_any_job_says_the_same(text: str) -> None:
    """But for what a later window would have to say that it hasn't, and no question asks that."""
    if not list(unsayable(text)) and not read(text).left_out:
        assert made(asked_again(text)) == made(text)
