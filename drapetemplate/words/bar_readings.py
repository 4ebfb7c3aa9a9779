"""What a check bar reads where a setting scaled the page, and what that says of the setting.

Most of these come of A4 (210 x 297 mm) and letter (215.9 x 279.4 mm) taken for one another. A page
is scaled to fit a sheet by the smaller of the sheet's width and height over the page's; what fits
the sheet's printable part, short of its edges, is scaled by that part's.

  90           A4 in letter's printable part, edges of 1/4 in: (279.4 - 12.7)/297 = 0.898
  94           A4 in letter: 279.4/297 = 0.9407; letter in its own printable part, edges of 1/4 in,
               is as good as the same: (215.9 - 12.7)/215.9 = 0.9412, and A4 in its own 0.9395
  96 to 97     either in its own printable part, edges of 3 to 4 mm: letter 0.963 to 0.972
  97.3         letter in A4: 210/215.9 = 0.9727; one's printable part in the other's, edges of 3 mm:
               204/209.9 = 0.9719
  102.8, 102.9 A4 widened to letter, its foot cut off: 215.9/210 = 1.0281; one's printable part
               widened to the other's, edges of 3 mm: 209.9/204 = 1.0289
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.measures import MM, Length

CLOSE = Fraction(3, 1000)
"""How near to a setting's reading, as a share of it, a reading is taken for that setting's."""

_LETTER, _A4 = SHEETS["letter"].width, SHEETS["a4"].width
_EDGES = 6 * MM  # both of 3 mm


@dataclass(frozen=True, slots=True)
class ScaledPrint:
    """A setting that scales pages: what it multiplies a length by, `least` to `most`.

    `happened` says it as a sentence does, `cause` as a name does.
    """

    least: Fraction
    most: Fraction
    happened: str
    cause: str

    def reading(self, nominal: Length = Fraction(100)) -> str:
        """What a bar of `nominal` mm reads, in mm: "about 94", "96 to 97"."""
        least, most = (f"{round(float(nominal * share), 1):g}" for share in (self.least, self.most))
        return f"about {least}" if least == most else f"{least} to {most}"

    def gives(self, share: Fraction) -> bool:
        """True where a bar that reads this share of its length reads what the setting makes it."""
        return self.least * (1 - CLOSE) <= share <= self.most * (1 + CLOSE)


SCALED_PRINTS = (
    ScaledPrint(
        Fraction(90, 100),
        Fraction(90, 100),
        "an A4 file was sent to letter paper",
        "an A4 file sent to letter paper",
    ),
    ScaledPrint(
        Fraction(94, 100),
        Fraction(94, 100),
        "“fit to page” was on, or an A4 file was shrunk to letter paper",
        "fit to page or an A4 file shrunk to letter paper",
    ),
    ScaledPrint(
        Fraction(96, 100),
        Fraction(97, 100),
        "the viewer shrank the page to its margins",
        "a viewer that shrank the page to its margins",
    ),
    ScaledPrint(
        _A4 / _LETTER,
        _A4 / _LETTER,
        "a letter file was fit to A4 paper",
        "a letter file fit to A4 paper",
    ),
    ScaledPrint(
        _LETTER / _A4,
        (_LETTER - _EDGES) / (_A4 - _EDGES),
        "an A4 file was widened to letter paper",
        "an A4 file widened to letter paper",
    ),
)


def settings_that_give(across: Fraction, down: Fraction) -> tuple[ScaledPrint, ...]:
    """The settings that make bars read both these shares of their length, across and down.

    >>> [setting.cause for setting in settings_that_give(Fraction("0.975"), Fraction("0.974"))]
    ['a letter file fit to A4 paper']
    >>> settings_that_give(Fraction("0.975"), Fraction(1))
    ()
    """
    return tuple(
        setting for setting in SCALED_PRINTS if setting.gives(across) and setting.gives(down)
    )


def readings(nominal: Length) -> str:
    """What a bar of `nominal` mm reads for each setting, in sentences to go on from "it reads".

    >>> readings(Fraction(150)).split(". ")[3]
    'About 145.9 mm: a letter file was fit to A4 paper'
    """
    first, *rest = [f"{scaled.reading(nominal)} mm: {scaled.happened}." for scaled in SCALED_PRINTS]
    return " ".join([first, *(sentence[0].upper() + sentence[1:] for sentence in rest)])


def readings_for_100() -> str:
    """The same of a bar of 100, as a list in a sentence.

    >>> readings_for_100().split(", ")[3]
    'about 97.3 a letter file fit to A4 paper'
    """
    first, *rest = SCALED_PRINTS
    causes = [f"{scaled.reading()} {scaled.cause}" for scaled in rest]
    return ", ".join([f"{first.reading()} for 100 means {first.cause}", *causes])
