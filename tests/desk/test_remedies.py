"""What a finding names to do, pressed on the page: the finding is gone, nothing else changed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.desk.reading import read_window
from drapetemplate.desk.remedies import Remedied, remedied, typed_length
from drapetemplate.interview.at_once import asked_of, asked_of_all
from drapetemplate.measures import INCH, Units, parse_length
from drapetemplate.planning.advice import changed
from drapetemplate.planning.model import Remedy, WindowPlan
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import RING, job_toml
from tests.planning.test_findings import EXAMPLES

OTHERS: dict[str, tuple[str, str, str]] = {
    # A width, and what it covers is said: the fullness takes the place of that.
    "wont-close": (
        "width = 60\nreturn = 3\ncount = 8\ncovers = 44",
        RING,
        '[pole]\ndiameter = "0.9"',
    ),
    "wont-close, by covers": (
        "covers = 44\nfullness = 1.2\ncount = 8\nreturn = 3",
        RING,
        '[pole]\ndiameter = "0.9"',
    ),
    "wont-close, all the pole": (
        "width = 60\ncount = 8\npanels = 'single'",
        RING,
        '[pole]\ndiameter = "0.9"\nlength = 46',
    ),
}
OTHERS |= {
    "panel-over-bracket, by widths": (
        "widths = 2\npanels = 'single'\nlength = 84",
        RING,
        "[pole]\nsupports = 1\n[fabric]\nwidth = 54",
    ),
    "panel-over-bracket, by covers": (
        "covers = 32\nfullness = 2\nreturn = 3",
        RING,
        "[pole]\nlength = 60\nsupports = 1",
    ),
    "stack-over-glass, all the pole": (
        "fullness = 2\nreturn = 3\nglass = 40",
        RING,
        "[pole]\nlength = 50",
    ),
}
OTHERS |= {
    "stack-over-glass, by covers": (
        "covers = 35\nfullness = 2\nreturn = 3\nglass = 56",
        RING,
        "[pole]\nlength = 70",
    ),
    "glass-bare, by covers": (
        "covers = 20\nfullness = 2\nreturn = 3\nglass = 40",
        RING,
        "[pole]\nlength = 60",
    ),
    "glass-bare, by widths": (
        "widths = 1\ncovers = 22\nglass = 40\nlength = 84",
        RING,
        "[pole]\nlength = 80\n[fabric]\nwidth = 54",
    ),
}
CASES = {
    **{f"{code}, {level}": job for (code, level), job in EXAMPLES.items()},
    **OTHERS,
    "wall": ("width = 60\ncount = 8\nfullness = 2", RING, "[pole]\nprojection = 2"),
}


def planned(answers: dict[str, str], window: int) -> WindowPlan:
    """The window's plan; AssertionError where something speaks against it."""
    read = read_window(answers, window)
    assert read.plan is not None, (read.faults, read.missing)
    return read.plan.windows[0]


def typed_everywhere(case: str, units: Units, window: int) -> dict[str, str]:
    """A case's answers in these units, as the first window or as one after a wide plain one."""
    body, eyelet, tables = CASES[case]
    head = f'units = "{units}"'
    if units != "in":  # the same lengths, to the last digit
        body, eyelet, tables = (_with_unit(text) for text in (body, eyelet, tables))
    windows = [body] if window == 1 else ['width = "3 m"\nlength = "84 in"', body]
    return answers_of(job_toml(*windows, head=head, eyelet=eyelet, tables=tables))


def _with_unit(text: str) -> str:
    """Every length of a job file with its inches behind it."""
    bare = {"count", "fullness", "panels", "pattern", "supports", "widths"}
    lines = []
    for line in text.splitlines():
        key, sign, value = line.partition(" = ")
        plain = value.strip('"').removesuffix(" in")
        lines.append(f'{key} = "{plain} in"' if sign and key not in bare else line)
    return "\n".join(lines)


KEYS = (
    *("panels", "width", "covers", "fullness", "widths", "length", "leading", "return_"),
    *("count", "extra_seams", "pattern", "pole"),
)


@pytest.mark.parametrize("window", [1, 2])
@pytest.mark.parametrize("units", ["in", "mm", "cm"])
@pytest.mark.parametrize("case", CASES)
def test_pressing_a_remedy(case: str, units: Units, window: int) -> None:
    """The window is then as the one that was planned for the advice, so has the finding no more."""
    answers = typed_everywhere(case, units, window)
    before = planned(answers, window)
    for finding in before.findings:
        for remedy in finding.remedies:
            pressed = pressing(answers, window, remedy)
            after = planned({**answers, **pressed["changes"]}, window)
            wanted = changed(before.window, remedy)
            for key in KEYS:
                assert getattr(after.window, key) == getattr(wanted, key), key
            codes = [each.code for each in before.findings], [each.code for each in after.findings]
            assert codes[1].count(finding.code) < codes[0].count(finding.code)
            assert pressed["words"]


def test_every_kind_of_remedy_was_pressed() -> None:
    """The cases above have a remedy of each key that advice changes."""
    keys = set()
    for case in CASES:
        for finding in planned(typed_everywhere(case, "in", 1), 1).findings:
            keys |= {key for remedy in finding.remedies for key, _ in remedy}
    assert keys == {
        *("count", "extra_seams", "leading", "pattern", "return"),
        *("fullness", "pole.projection", "pole.diameter", "pole.length"),
        *("panels", "width", "widths", "covers", "length"),
    }


def pressing(answers: dict[str, str], window: int, remedy: Remedy) -> Remedied:
    """A remedy to press where its window alone is looked at."""
    return remedied(answers, asked_of(answers, window).counted, window, remedy)


def remedy_of(answers: dict[str, str], window: int, code: str, key: str) -> Remedy:
    """The first remedy of a finding that changes a key."""
    remedies = (
        remedy
        for finding in planned(answers, window).findings
        if finding.code == code
        for remedy in finding.remedies
    )
    return next(remedy for remedy in remedies if remedy[0].key == key)


def test_what_was_typed_before_stays_out() -> None:
    """A later window gets its own bracket; a pole typed there once, and not meant, stays out."""
    body = "width = 60\ncount = 8\nfullness = 2"
    toml = job_toml("width = 120", body, tables="[pole]\nprojection = 2")
    answers = answers_of(toml) | {
        "window[2].?same": "yes",
        "window[2].?same pole": "no",
        "window[2].?same eyelet": "no",
        "window[2].pole.diameter": "7/8",
        "window[2].eyelet.outside": "9",
    }
    remedy = remedy_of(answers, 2, "back-fold-hits-wall", "pole.projection")
    pressed = pressing(answers, 2, remedy)
    assert pressed["changes"] == {
        "window[2].?same": "no",
        "window[2].?same pole": "no",
        "window[2].pole.projection": "4 7/16",
        "window[2].pole.diameter": "",
        "window[2].?same eyelet": "",
        "window[2].?same cloth": "",
        "window[2].eyelet.outside": "",
    }
    assert pressed["words"] == "projection of 4 7/16 in"
    assert pressed == remedied(answers, asked_of_all(answers).counted, 2, remedy)
    before, after = (asked_of_all(each).counted for each in (answers, answers | pressed["changes"]))
    given = ({path for path, text in each.items() if text} for each in (before, after))
    assert set.symmetric_difference(*given) == {
        "window[2].?same pole",
        "window[2].?same eyelet",
        "window[2].?same cloth",
        "window[2].pole.projection",
    }


def test_the_firsts_pole_is_others_too() -> None:
    """What changes for every window that has the first one's pole says so."""
    body = "width = 60\ncount = 8\nfullness = 2"
    answers = answers_of(job_toml(body, "width = 120", tables="[pole]\nprojection = 2"))
    remedy = remedy_of(answers, 1, "back-fold-hits-wall", "pole.projection")
    words = pressing(answers, 1, remedy)["words"]
    assert words == "projection of 4 7/16 in, at each window that has the first one's"


@pytest.mark.parametrize(
    ("length", "units"),
    [
        *[(INCH * 61 / 16, units) for units in ("in", "mm", "cm")],
        *[(Fraction(101), units) for units in ("in", "mm", "cm")],
        (Fraction(1001, 10), "in"),
        (Fraction(1, 3), "in"),
    ],
)
def test_typed_lengths_are_exact(length: Fraction, units: Units) -> None:
    """Whatever a remedy's length, what is typed for it reads back as that length."""
    assert parse_length(typed_length(length, units), units) == length


@pytest.mark.parametrize("case", ["wall", "back-fold-hits-wall, warn"])
def test_words_of_remedies(case: str) -> None:
    """Short enough for something to press, measures in the job's units."""
    answers = typed_everywhere(case, "mm", 1)
    remedies = [
        pressing(answers, 1, remedy)["words"]
        for finding in planned(answers, 1).findings
        if finding.code == "back-fold-hits-wall"
        for remedy in finding.remedies
    ]
    assert remedies
    assert all(words.endswith((" eyelets a panel", " mm")) for words in remedies)
