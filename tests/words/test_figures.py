"""A window's figures in words: each by hand, and left out where there is nothing to say."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from drapetemplate.measures import INCH
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.plan import plan
from drapetemplate.words.figures import in_full, in_short, window_figures
from tests.helpers.jobfiles import RING, job_of

# Of cloth that repeats every 7 in 12 eyelets stand 7 in apart: 3 + 1 in to the first centre, so the
# first front fold's middle is 7 1/2 in from the leading edge, and the next 14 in on.
FOLDS = job_of(
    "width = 82\nleading = 3\nreturn = 3\ncount = 12\nlength = 84\npattern = 'folds'",
    tables="[fabric]\nwidth = 54\nrepeat_across = 7\nmotif = 2",
)
[WINDOW] = plan(FOLDS).windows


def motif(window: WindowPlan) -> str:
    """What is said of where a window's motif is."""
    return dict(in_short(window_figures(FOLDS, window)))["Motif"]


def moved(*firsts: str | None) -> WindowPlan:
    """The same window, each panel's motifs moved; None leaves it none but its first."""
    panels = []
    for panel, first in zip(WINDOW.panels, firsts, strict=True):
        assert panel.motifs is not None
        by = Fraction(first or 0) * INCH
        motifs = tuple(at + by for at in panel.motifs)
        panels.append(replace(panel, motifs=motifs[:1] if first is None else motifs))
    return replace(WINDOW, panels=tuple(panels))


def test_where_motifs_are() -> None:
    """The first from the leading edge, and how far apart the others are, where there are any."""
    assert motif(WINDOW) == "centre 7 1/2 in from the leading edge, every 14 in from there"
    assert motif(moved(None, None)) == "centre 7 1/2 in from the leading edge"
    assert motif(moved("1", "-2")) == (
        "centre 8 1/2 in from the leading edge in the left panel, 5 1/2 in in the right one, "
        "every 14 in from there"
    )


def test_every_figure_of_a_plain_window() -> None:
    """A terminal's list has them all in full, the ticket those that its headline doesn't say.

    (60 - 1 1/2 - 3 - 8 x 2)/7 = 5 9/14 in; 8 rings stack on 10. 2 in of ring have 1 in of band over
    and under them.
    """
    job = job_of("width = 60\nreturn = 3\ncount = 8", eyelet=f"{RING}\nhung = 'hooks'")
    [window] = plan(job).windows
    both = [
        ("Eyelet outside", "2 in"),
        ("Opening", "1 in"),
        ("Hole to cut", "1 in"),
        ("Band height", "4 in"),
        ("Band cut", "60 in for each panel"),
        ("Top to eyelet", "1 in"),
        ("Leading", "1 1/2 in, leading edge to eyelet 1"),
        ("Return", "3 in, last eyelet to return edge"),
    ]
    hung = [("Hung", "from hooks"), ("Stack", "10 in of pole, open")]
    figures = window_figures(job, window)
    assert in_short(figures) == [*both, ("Finished length", "not known"), *hung]
    assert in_full(figures) == [
        ("panels", "a pair"),
        ("finished width", "60 in"),
        ("finished length", "not known"),
        ("eyelets", "8, asked for"),
        ("gap, edge to edge", "≈ 5 5/8 in"),
        ("pitch, centre to centre", "≈ 7 5/8 in"),
        *((name.lower(), words) for name, words in (*both, *hung)),
    ]
