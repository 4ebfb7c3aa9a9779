"""What a bar reads where a setting scaled the page: one table, and every text that tells it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from pathlib import Path

import pytest

from drapetemplate.printers.measured_factors import SCALED
from drapetemplate.ticket.work import READINGS
from drapetemplate.words.bar_readings import SCALED_PRINTS, readings

README = Path(__file__).parents[2] / "README.md"


def test_figures() -> None:
    """A bar of 100 is told in tenths of a millimetre where that matters, another in its own."""
    assert [scaled.reading() for scaled in SCALED_PRINTS] == [
        "about 90",
        "about 94",
        "96 to 97",
        "about 97.3",
        "102.8 to 102.9",
    ]
    assert [scaled.reading(Fraction(150)) for scaled in SCALED_PRINTS] == [
        "about 135",
        "about 141",
        "144 to 145.5",
        "about 145.9",
        "154.2 to 154.3",
    ]


@pytest.mark.parametrize(
    ("sheet", "page", "edges", "fit", "share"),
    [
        # What prints that were reported read, from the sizes of A4 and letter alone. Edges of
        # 6.35 mm are common, 3 mm those of many laser printers (from memory).
        ((210, 297), ("215.9", "279.4"), 0, min, "97.3"),
        (("215.9", "279.4"), (210, 297), 0, min, "94.1"),
        (("215.9", "279.4"), (210, 297), 0, max, "102.8"),
        (("209.9", "273.4"), (204, 291), 0, max, "102.9"),
        (("215.9", "279.4"), (210, 297), "12.7", min, "89.8"),
        (("215.9", "279.4"), ("215.9", "279.4"), "12.7", min, "94.1"),
        (("215.9", "279.4"), ("215.9", "279.4"), 8, min, "96.3"),
        (("215.9", "279.4"), ("215.9", "279.4"), 6, min, "97.2"),
        ((210, 297), (210, 297), 8, min, "96.2"),
    ],
)
def test_sizes_that_give_them(
    sheet: tuple[str, str],
    page: tuple[str, str],
    edges: str,
    fit: Callable[[Iterable[Fraction]], Fraction],
    share: str,
) -> None:
    """Each reading is that of some page, scaled to fit or to fill a sheet or its printable part."""
    shares = [
        (Fraction(there) - Fraction(edges)) / Fraction(own)
        for there, own in zip(sheet, page, strict=True)
    ]
    # Widened is by the widths alone: the foot is cut off.
    scaled = fit(shares) if fit is min else shares[0]
    assert f"{float(scaled) * 100:.1f}" == share
    assert any(setting.gives(scaled) for setting in SCALED_PRINTS)


def test_ticket() -> None:
    """The ticket tells what its 100 mm bar reads, whole."""
    assert READINGS == (
        ("about 90 mm", "an A4 file was sent to letter paper"),
        ("about 94 mm", "“fit to page” was on, or an A4 file was shrunk to letter paper"),
        ("96 to 97 mm", "the viewer shrank the page to its margins"),
        ("about 97.3 mm", "a letter file was fit to A4 paper"),
        ("102.8 to 102.9 mm", "an A4 file was widened to letter paper"),
        ("101.6 mm", "that is the 4 in bar"),
    )


def test_refused_reading() -> None:
    """A reading that no printer is off by is told the settings, for 100."""
    assert SCALED == (
        "print at actual size (100 %, no fit, no shrink) and measure again; about 90 for 100 means "
        "an A4 file sent to letter paper, about 94 fit to page or an A4 file shrunk to letter "
        "paper, 96 to 97 a viewer that shrank the page to its margins, about 97.3 a letter file "
        "fit to A4 paper, 102.8 to 102.9 an A4 file widened to letter paper"
    )


def test_longer_bar() -> None:
    """Another bar's readings are told in its own millimetres."""
    assert readings(Fraction(150)) == (
        "about 135 mm: an A4 file was sent to letter paper. About 141 mm: “fit to page” was on, "
        "or an A4 file was shrunk to letter paper. 144 to 145.5 mm: the viewer shrank the page to "
        "its margins. About 145.9 mm: a letter file was fit to A4 paper. 154.2 to 154.3 mm: an A4 "
        "file was widened to letter paper."
    )


def test_readme() -> None:
    """The README tells the same readings and what each means."""
    words = " ".join(README.read_text(encoding="utf-8").split())
    for scaled in SCALED_PRINTS:
        assert f"{scaled.reading().removeprefix('about ')} mm" in words
        assert scaled.happened.replace("“", '"').replace("”", '"') in words
