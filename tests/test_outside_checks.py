"""The table of outside checks: every test in it is there, and no figure of a ticket is without."""

from __future__ import annotations

import ast
import fnmatch
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.ticket.job_ticket import LONG, ticket, ticket_paper
from tests.helpers.jobfiles import job_toml
from tests.helpers.strips import FIXED
from tests.outside import FIGURES, WORDS
from tests.outside.table import WHOLE_WAY, Figure

TESTS = Path(__file__).parent
SAMPLES = sorted((TESTS.parent / "sample_jobs").glob("*.toml"))
# What the samples have none of: a single panel, a lining's seams, hooks, windows alike, long notes,
# glass left bare, motifs at a height.
MORE = (
    job_toml("panels = 'single'\nwidth = 60\nlength = 80", tables="[lining]\nwidth = 54"),
    job_toml(
        "width = 60",
        "width = 60",
        job=f"client = 'Quillon'\nnotes = '{'x ' * LONG}'",
        eyelet='outside = 2\nopening = 1\nhung = "hooks"',
    ),
    job_toml("covers = 20\nfullness = 2\nglass = 60"),
    job_toml(
        "width = 60\nlength = 84\npattern = 'folds'\nmotif_below = 9",
        tables="[fabric]\nwidth = 54\nrepeat_across = 7\nrepeat_down = 7\nmotif = 3\n"
        "motif_down = 3",
    ),
)
# Where the ticket goes on to what isn't reckoned: what was assumed, and what the job says.
AFTER = ("Assumed, *", "The job in full", "Printing and taping")


@cache
def functions(file: Path) -> frozenset[str]:
    """The test functions at the top of a file."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return frozenset(
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    )


def there(test: str) -> bool:
    """True where a test is there to be run: its file, and where one is named, its function."""
    name, _, function = test.partition("::")
    file = TESTS / name
    if not file.is_file() or not file.name.startswith("test_"):
        return False
    return function in functions(file) if function else bool(functions(file))


def labels_of(toml: str) -> Iterator[str]:
    """The names that stand beside figures on a job's ticket."""
    job = read_job(toml.encode(), "job.toml")
    planned = plan(job)
    strips = strip_list(job, planned.windows, None)
    for page in ticket(job, planned, strips, (), frozenset(), ticket_paper(job, None), FIXED):
        for mark in page:
            if isinstance(mark, Text) and mark.role == Role.SECTION:
                if any(fnmatch.fnmatchcase(mark.text, pattern) for pattern in AFTER):
                    return
            elif isinstance(mark, Text) and mark.role == Role.NAME:
                yield mark.text


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: str(figure.name))
def test_every_test_is_there(figure: Figure) -> None:
    """Each figure has a check, and each check names tests that are there and says how near."""
    assert figure.checks
    for check in figure.checks:
        assert check.outside
        assert check.tolerance
        assert check.tests
        assert [test for test in check.tests if not there(test)] == []


def test_whole_way_is_there() -> None:
    """So is the test that holds many of them from a job's file to its PDF."""
    assert there(WHOLE_WAY)
    assert sum(figure.whole_way for figure in FIGURES) > 10


@pytest.mark.parametrize(
    "test",
    [
        "test_measures.py::test_nothing",
        "published/test_nothing.py",
        "published/test_nothing.py::test_five_widths",
        "published",
        "helpers/cases.py",
        "conftest.py::printed",
    ],
)
def test_missing_tests_are_told(test: str) -> None:
    """A test that is renamed or gone is missed."""
    assert not there(test)


def test_figures_are_named_once() -> None:
    """No figure has two rows."""
    assert max(Counter(figure.name for figure in FIGURES).values()) == 1


def test_every_figure_of_a_ticket_has_a_row() -> None:
    """Each name on a ticket beside a figure belongs to a row of the table, and no label to none."""
    jobs = [*(path.read_text(encoding="utf-8") for path in SAMPLES), *MORE]
    shown = {label for toml in jobs for label in labels_of(toml)}
    known = {label for figure in FIGURES for label in figure.labels}
    assert shown == known | set(WORDS)
