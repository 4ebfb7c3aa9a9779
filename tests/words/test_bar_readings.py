"""What a bar reads where a setting scaled the page: one table, and every text that tells it."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from drapetemplate.printers.measured_factors import SCALED
from drapetemplate.ticket.job_ticket import PRINTING
from drapetemplate.words.bar_readings import SCALED_PRINTS, readings

README = Path(__file__).parents[2] / "README.md"


def test_figures() -> None:
    """A bar of 100 is told in whole millimetres, another in its own."""
    assert [scaled.reading() for scaled in SCALED_PRINTS] == ["about 90", "about 94", "96 to 97"]
    assert [scaled.reading(Fraction(150)) for scaled in SCALED_PRINTS] == [
        "about 135",
        "about 141",
        "144 to 145.5",
    ]


def test_ticket() -> None:
    """The ticket tells what its 100 mm bar reads, whole."""
    [words] = [words for words in PRINTING if "reads" in words]
    assert words.startswith(
        "The 100 mm bar reads about 90 mm: an A4 file was sent to letter paper. About 94 mm: “fit "
        "to page” was on. 96 to 97 mm: the viewer shrank the page to its margins. Off by less"
    )


def test_refused_reading() -> None:
    """A reading that no printer is off by is told the settings, for 100."""
    assert SCALED == (
        "print at actual size (100 %, no fit, no shrink) and measure again; about 90 for 100 means "
        "an A4 file sent to letter paper, about 94 fit to page, 96 to 97 a viewer that shrank the "
        "page to its margins"
    )


def test_longer_bar() -> None:
    """Another bar's readings are told in its own millimetres."""
    assert readings(Fraction(150)) == (
        "about 135 mm: an A4 file was sent to letter paper. About 141 mm: “fit to page” was on. "
        "144 to 145.5 mm: the viewer shrank the page to its margins."
    )


def test_readme() -> None:
    """The README tells the same readings and what each means."""
    words = " ".join(README.read_text(encoding="utf-8").split())
    for scaled in SCALED_PRINTS:
        assert f"{scaled.reading().removeprefix('about ')} mm" in words
        assert scaled.happened.replace("“", '"').replace("”", '"') in words
