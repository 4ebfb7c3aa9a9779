"""What a document is: pages of marks with their names, and what they were made with."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from drapetemplate.drawing.lettering import UNSHOWN
from drapetemplate.drawing.marks import Mark
from drapetemplate.job.factors import Factors
from drapetemplate.measures import Length
from drapetemplate.planning.model import Finding

LONGEST_TITLE = 200
SUBJECT = "Job ticket and full-scale eyelet template"
"""What a job's PDF is, in its own description."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its `label` in words, and its marks in page coordinates.

    `part` is the bookmark it stands under and `bookmark` its own there, `short` what a viewer shows
    in place of its number. `shared` are the last of its marks where other pages end with the very
    same tuple: a format may write them once.
    """

    label: str
    marks: tuple[Mark, ...]
    part: str = ""
    short: str = ""
    bookmark: str = ""
    shared: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class Settings:
    """What a PDF is made with beside its job file.

    Factors, accepted stops, which PDF of how many, and the windows where it isn't for all.
    """

    factors: Factors | None = None
    accepted: frozenset[str] = frozenset()
    number: int = 1
    of: int = 1
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """A PDF to be: every page is upright, `width` x `height`; `findings` only paper can show.

    `scale` is what every mark's x and y is multiplied by as it is drawn, to come out true on a
    calibrated printer; `width` and `height` are the paper's own. No mark is nearer the edge than
    `margin`, in the marks' frame. `subject` is what the PDF says that it is.
    """

    title: str
    width: Length
    height: Length
    pages: tuple[Page, ...]
    findings: tuple[Finding, ...]
    scale: tuple[Fraction, Fraction] = (Fraction(1), Fraction(1))
    settings: Settings = Settings()
    margin: Length = Fraction(0)
    subject: str = SUBJECT


def titled(text: str) -> str:
    """Text as a PDF's title or bookmark: one line of what shows, cut with a sign where too long.

    Any script stays; what a title bar could misread is a replacement character.
    """
    line = " ".join(text.split())
    short = line if len(line) <= LONGEST_TITLE else line[: LONGEST_TITLE - 1] + "…"
    return "".join(
        "\N{REPLACEMENT CHARACTER}" if unicodedata.category(char) in UNSHOWN else char
        for char in short
    )
