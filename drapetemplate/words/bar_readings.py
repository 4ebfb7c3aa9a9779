"""What a check bar reads where a setting scaled the page, and what that says of the setting."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drapetemplate.measures import Length


@dataclass(frozen=True, slots=True)
class ScaledPrint:
    """A setting that scales pages: what a bar of 100 then reads, `least` to `most`.

    `happened` says it as a sentence does, `cause` as a name does.
    """

    least: int
    most: int
    happened: str
    cause: str

    def reading(self, nominal: Length = Fraction(100)) -> str:
        """What a bar of `nominal` mm reads, in mm: "about 94", "96 to 97"."""
        least, most = (f"{float(nominal * share / 100):g}" for share in (self.least, self.most))
        return f"about {least}" if least == most else f"{least} to {most}"


SCALED_PRINTS = (
    ScaledPrint(90, 90, "an A4 file was sent to letter paper", "an A4 file sent to letter paper"),
    ScaledPrint(94, 94, "“fit to page” was on", "fit to page"),
    ScaledPrint(
        96,
        97,
        "the viewer shrank the page to its margins",
        "a viewer that shrank the page to its margins",
    ),
)


def readings(nominal: Length) -> str:
    """What a bar of `nominal` mm reads for each setting, in sentences to go on from "it reads".

    >>> readings(Fraction(150)).split(". ")[:2]
    ['about 135 mm: an A4 file was sent to letter paper', 'About 141 mm: “fit to page” was on']
    """
    first, *rest = [f"{scaled.reading(nominal)} mm: {scaled.happened}." for scaled in SCALED_PRINTS]
    return " ".join([first, *(sentence[0].upper() + sentence[1:] for sentence in rest)])


def readings_for_100() -> str:
    """The same of a bar of 100, as a list in a sentence.

    >>> readings_for_100().split(", ")[:2]
    ['about 90 for 100 means an A4 file sent to letter paper', 'about 94 fit to page']
    """
    first, *rest = SCALED_PRINTS
    causes = [f"{scaled.reading()} {scaled.cause}" for scaled in rest]
    return ", ".join([f"{first.reading()} for 100 means {first.cause}", *causes])
