"""Answers as a job file's text: what was typed comes back out, whatever it was, with its words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.interview.all_questions import ALL_QUESTIONS
from drapetemplate.interview.job_text import job_text, toml_value, windows_in, yes_or_no
from drapetemplate.interview.question import Kind
from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import SCHEMA_LINE
from drapetemplate.job.model import Job
from drapetemplate.job.parse import read_file
from drapetemplate.job.tables import TABLES, keys_of
from drapetemplate.planning.plan import plan
from tests.helpers.jobfiles import NAME

LEAST = {
    "job.name": NAME,
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
    "window[1].width": "75-1/2",
}
PATHS = sorted(
    {
        path
        for question in ALL_QUESTIONS
        for path in (
            question.key if "." in question.key or question.key == "units" else "",
            f"window[1].{question.key}" if "." not in question.key else "",
            f"window[2].{question.key}",
        )
        if path and not path.startswith(("window[2].job", "window[2].paper"))
        if not path.endswith("].units")
    }
)


def _read(answers: dict[str, str]) -> Job:
    return read_job(job_text(answers).encode(), "job.toml")


@settings(deadline=None)
@given(st.text(min_size=1), st.text(min_size=1), st.text(min_size=1))
def test_any_text_comes_back(name: str, client: str, notes: str) -> None:
    """Text of any characters is read back as it was typed."""
    typed = {"job.name": f"a{name}", "job.client": client, "job.notes": notes}
    details = _read(LEAST | typed).details
    assert (details.name, details.client, details.notes) == (f"a{name}", client, notes)


@settings(deadline=None)
@given(st.dictionaries(st.sampled_from(PATHS), st.text(min_size=1), max_size=20))
def test_always_toml(answers: dict[str, str]) -> None:
    """Whatever was typed for whatever question, only its own keys can be at fault."""
    try:
        faults = read_file(job_text(LEAST | answers).encode(), "job.toml").faults
    except JobError as error:
        pytest.fail(str(error))
    assert {fault.where for fault in faults} <= {*answers, "job.name"}


@settings(deadline=None)
@given(st.text(alphabet=st.characters(min_codepoint=0xD800, max_codepoint=0xDFFF), min_size=1))
def test_lone_surrogates(text: str) -> None:
    """What no file can hold becomes the sign for that, one for each."""
    details = _read(LEAST | {"job.client": text}).details
    assert details.client == "\N{REPLACEMENT CHARACTER}" * len(text)


def test_spelling_kept() -> None:
    """Measures stand in the file as they were typed."""
    text = job_text(LEAST | {"pole.top": "7' 6 1/2\"", "window[1].length": "190.5 cm"})
    assert 'width = "75-1/2"' in text
    assert 'top = "7\' 6 1/2\\""' in text
    assert 'length = "190.5 cm"' in text


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("text", 'a "b" \\ c', '"a \\"b\\" \\\\ c"'),
        ("text", "\x1b[31m\x7f", '"\\u001B[31m\\u007F"'),
        ("text", "\N{RIGHT-TO-LEFT OVERRIDE}\U000e0001", '"\\u202E\\U000E0001"'),
        ("text", "é 𝄞", '"é 𝄞"'),
        ("whole", "08", "8"),
        ("whole", "auto", '"auto"'),
        ("whole", "9" * 300, f'"{"9" * 300}"'),
        ("whole", "٣", '"٣"'),
        ("yes or no", "Y", "true"),
        ("yes or no", "no", "false"),
        ("yes or no", "perhaps", '"perhaps"'),
        ("side", "yes", '"back"'),
        ("side", "n", '"face"'),
        ("letters", "V, H", '["V", "H"]'),
        ("letters", " ", "[]"),
    ],
)
def test_values(kind: Kind, text: str, value: str) -> None:
    """A value is written in the kind its key has, or as text for the reader to refuse."""
    assert toml_value(kind, text) == value


@pytest.mark.parametrize(
    ("text", "word"),
    [("y", "yes"), (" YES ", "yes"), ("n", "no"), ("yesno", ""), ("", ""), ("o", "")],
)
def test_yes_or_no(text: str, word: str) -> None:
    """Any beginning of yes or no will do, and nothing else."""
    assert yes_or_no(text) == word


def test_every_key_stands_there() -> None:
    """Every key of a job file is in it once, given or as a comment, each with what it means."""
    lines = job_text(LEAST).splitlines()
    for table in TABLES:
        for key in keys_of(table):
            if key in TABLES:
                continue
            found = [line for line in lines if line.removeprefix("# ").startswith(f"{key} = ")]
            assert found, key
            assert all("  # " in line for line in found), key
    assert 'width = "75-1/2"                    # One panel, finished, flat.' in lines
    assert '# leading = "1 1/2 in"              # Leading edge to the first' in "\n".join(lines)


def test_order_of_tables() -> None:
    """Tables come in the order of the design, windows last; what isn't given is a comment."""
    text = job_text(LEAST | {"window[2].width": "60", "window[2].pole.diameter": "1"})
    heads = [line for line in text.splitlines() if line.removeprefix("# ").startswith("[")]
    assert heads == [
        "[job]",
        "# [paper]",
        "[eyelet]",
        "# [band]",
        "# [pole]",
        "# [fabric]",
        "# [lining]",
        "[[window]]",
        "[[window]]",
        "[window.pole]",
    ]


@pytest.mark.parametrize("units", ["in", "mm", "cm"])
def test_comments_tell_the_defaults(units: str) -> None:
    """With the # taken from every default that has a value, the same job comes out."""
    answers = {**LEAST, "units": units, "window[1].width": "75 1/2 in"}
    answers |= {"eyelet.outside": "2 5/8 in", "eyelet.opening": "1 9/16 in", "pole.top": "90 in"}
    answers |= {"window[1].?cloth": "yes", "window[1].?lining": "yes"}
    text = job_text(answers)
    lines = [
        line.removeprefix("# ") if " = " in line and '"…"' not in line else line
        for line in text.splitlines()
        if not line.startswith("# [")
    ]
    heads = ["[paper]" if line.startswith("size = ") else "" for line in lines]
    told = "\n".join(f"{head}\n{line}" for head, line in zip(heads, lines, strict=True))
    bare, full = _read(answers), read_job(told.encode(), "job.toml")
    assert len(full.windows[0].assumed) < len(bare.windows[0].assumed)
    windows = [replace(job.windows[0], assumed=()) for job in (bare, full)]
    assert windows[0] == windows[1]
    assert bare.paper == full.paper


def test_cloth_that_is_only_said_to_be() -> None:
    """A lining of which nothing is known is a lining still."""
    job = _read(LEAST | {"window[1].?lining": "yes", "window[1].?cloth": "no"})
    assert (job.windows[0].fabric, job.windows[0].lining is None) == (None, False)


def test_a_window_of_its_own() -> None:
    """A later window's tables override the file's, and no other's."""
    answers = LEAST | {"pole.diameter": "1", "window[2].width": "60"}
    answers |= {"window[2].pole.diameter": "3/4", "window[3].width": "50"}
    answers |= {"window[3].?lining": "yes"}
    job = _read(answers)
    poles = [window.pole.diameter for window in job.windows]
    assert [str(pole) for pole in poles] == ["127/5", "381/20", "127/5"]
    assert [window.lining is None for window in job.windows] == [True, True, False]
    assert len(plan(job).windows) == 3


def test_windows_counted() -> None:
    """There are as many windows as the last that anything was said of, and one at the least."""
    assert [windows_in(dict.fromkeys(paths, "")) for paths in ([], ["window[12].name"])] == [1, 12]


def test_schema_line() -> None:
    """The schema is named in the first line where it is wanted, and nowhere else."""
    plain, named = job_text(LEAST), job_text(LEAST, schema=True)
    assert named == f"{SCHEMA_LINE}\n{plain}"
    assert "#:schema" not in plain


@pytest.mark.parametrize(
    ("units", "expected"), [("", "4 in"), ("in", "4 in"), ("mm", "100 mm"), ("cm", "10 cm")]
)
def test_a_default_in_the_jobs_units(units: str, expected: str) -> None:
    """A default that a metric job has rounder stands there as that job's."""
    lines = job_text({"units": units, "?cloth": "yes"}).splitlines()
    allowances = [line for line in lines if "allowance =" in line]
    assert [line.split("  ")[0] for line in allowances] == [f'# allowance = "{expected}"'] * 2
