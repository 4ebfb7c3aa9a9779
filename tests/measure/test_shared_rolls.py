"""`measure` on a roll's page that has two strips: it is as strict with either as with one alone."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

import drapetemplate
from drapetemplate import drawing
from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.factors import Factors
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made

TWO = job_toml(
    "width = 18\ncount = 4\nname = 'North'",
    tables='[paper]\nsize = "24 in roll"\nstrips = "each"',
)
# A panel of 230 in takes two parts, which lie beside the other strip.
TAPED = job_toml(
    "width = 230\ncount = 4\npanels = 'left'\nname = 'North'",
    "width = 18\ncount = 4\npanels = 'right'\nname = 'South'",
    tables='[paper]\nsize = "24 in roll"',
)


def laid_out(toml: str) -> Document:
    """The roll's PDF to be, and its ticket's left out."""
    job = drapetemplate.read_job(toml.encode())
    return drapetemplate.lay_out(job, drapetemplate.plan_job(job))[0]


def with_mark(document: Document, page: int, number: int, mark: Mark) -> Document:
    """A document with another mark in the place of one."""
    marks = list(document.pages[page].marks)
    marks[number] = mark
    pages = list(document.pages)
    pages[page] = replace(pages[page], marks=tuple(marks))
    return replace(document, pages=tuple(pages))


def one_of_each(document: Document) -> list[tuple[int, int]]:
    """The first and the last mark of each role on every page: of either strip, where both have it.

    The sheets' marks stand one strip after the other.
    """
    found = []
    for number, page in enumerate(document.pages):
        by_role: dict[Role, list[int]] = {}
        for n, mark in enumerate(page.marks):
            by_role.setdefault(mark.role, []).append(n)
        found += [(number, n) for own in by_role.values() for n in sorted({own[0], own[-1]})]
    return found


@pytest.mark.parametrize("toml", [TWO, TAPED], ids=["two", "taped"])
@pytest.mark.parametrize("printer", [None, Factors("plotter", Fraction(1002, 1000), Fraction(1))])
def test_true(toml: str, printer: Factors | None) -> None:
    """As made it is true, corrected for a printer too."""
    for pdf in made(toml, printer=printer):
        assert [str(flaw) for flaw in drapetemplate.measure_pdf(pdf).flaws] == []


@pytest.mark.parametrize(
    ("toml", "way"),
    [
        pytest.param(TWO, (Fraction(3, 100), Fraction(0)), id="two-along"),
        pytest.param(TWO, (Fraction(0), Fraction(-3, 100)), id="two-across"),
        pytest.param(TAPED, (Fraction(3, 100), Fraction(0)), id="taped"),
    ],
)
def test_any_mark_shifted(toml: str, way: tuple[Fraction, Fraction]) -> None:
    """One mark of any kind, on either strip, that is 0.03 mm off is told, with its page.

    A line that is shifted along itself too: its ends are off.
    """
    document, data = laid_out(toml), toml.encode()
    # The strips that are taped are tried with what the others haven't.
    tried = {mark.role for mark in laid_out(TWO).pages[0].marks} if toml == TAPED else set()
    for page, number in one_of_each(document):
        mark = document.pages[page].marks[number]
        if mark.role in tried:
            continue
        off = with_mark(document, page, number, drawing.moved(mark, *way))
        found = drapetemplate.measure_pdf(drapetemplate.to_pdf(off, data))
        assert not found.true, mark
        assert {flaw.page for flaw in found.flaws} == {page + 1}, mark
