"""One word for a thing on every page and in every message, and no word left unexplained."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drapetemplate import lay_out, plan_job, read_job
from drapetemplate.report.plan_text import as_text
from drapetemplate.words.figures import in_short, window_figures
from tests.helpers.marks import texts

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
# What is said otherwise: a part of a sheet, a strip, the trade's two repeats.
UNSAID = re.compile(
    r"\b(lanes?|stripes?|segments?|tiles?|pattern repeats?|repeats? (down|across))\b",
    re.IGNORECASE,
)
EXPLAINED = {
    "Leading": "leading edge to eyelet 1",
    "Return": "last eyelet to return edge",
    "Return, both ends": "edge to end eyelet",
    "Rings turn": "before they lift off the pole's top; needs 45° to open and close",
    "Rings jam": "at ",
    "Pole covered": "closed, first eyelet to last",
    "Stack": "of pole, open",
    "Folds, closed": "from pole's centre",
    "Folds, stacked": "from pole's centre",
}


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_one_word_for_a_thing(path: Path) -> None:
    """No page of a sample, and nothing that its plan says, has another word for these."""
    job = read_job(path.read_bytes(), path.name)
    planned = plan_job(job)
    said = [
        mark.text for doc in lay_out(job, planned) for page in doc.pages for mark in texts(page)
    ]
    said += as_text(job, planned, columns=None).splitlines()
    assert [words for words in said if UNSAID.search(words)] == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_figures_say_what_they_measure(path: Path) -> None:
    """Beside each of these names on the ticket stands from where to where, or what is needed."""
    job = read_job(path.read_bytes(), path.name)
    for window in plan_job(job).windows:
        figures = dict(in_short(window_figures(job, window)))
        named = figures.keys() & EXPLAINED.keys()
        assert {"Stack"} < named
        for name in named:
            assert EXPLAINED[name] in figures[name]
