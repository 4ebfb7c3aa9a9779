"""A job's paper and its printer's factors in, the paper that sheets are laid out on out.

A printer that is off is corrected for by laying out in what it makes millimetres: the paper's
lengths divided by its factors. Every mark is multiplied by them again as it is drawn, so that the
page keeps the paper's own size and nothing comes nearer its edge than the margin.

Here is what the page itself is; what a job wishes of the drawing (`view`, `letters`, `strips`,
`style`) stays on its `Paper`, where layout reads it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from drapetemplate.errors import Fault, PaperError
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Joins, Orientation, Paper
from drapetemplate.job.paper_sizes import LONGEST_PAGE
from drapetemplate.measures import Length, Units, format_length, rounded_down, rounded_up
from drapetemplate.sheets import furniture

LEAST_OVERLAP = 2 * furniture.REGISTRATION_ARM


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPaper:
    """An upright page with room for a sheet; its lengths are what its printer makes millimetres.

    Of a roll it is one page. `factors` are None where no printer is corrected for.
    """

    name: str
    width: Length
    height: Length
    margin: Length
    orientation: Orientation
    overlap: Length
    joins: Joins
    factors: Factors | None
    roll: bool = False

    @property
    def scale(self) -> tuple[Fraction, Fraction]:
        """What to multiply by across and down the page as it is drawn."""
        if self.factors is None:
            return Fraction(1), Fraction(1)
        return self.factors.across, self.factors.down

    @property
    def true_size(self) -> tuple[Length, Length]:
        """The paper's own width and height, as the page's printer feeds it."""
        across, down = self.scale
        return self.width * across, self.height * down


def laid_paper(paper: Paper, factors: Factors | None, units: Units) -> LaidPaper:
    """A job's paper as a printer with these factors takes it; a roll as its longest page.

    PaperError, with lengths in `units`, where a sheet has no room on it, or has none once the
    printer is corrected for.
    """
    roll = paper.height is None
    if roll and paper.orientation == "portrait":
        text = '"portrait" on a roll, along which a strip runs: leave orientation out'
        raise PaperError([Fault("paper.orientation", text)])
    true = LaidPaper(
        name=paper.name,
        width=paper.width,
        height=LONGEST_PAGE if paper.height is None else paper.height,
        margin=paper.margin,
        orientation="landscape" if roll else paper.orientation,
        overlap=paper.overlap,
        joins=paper.joins,
        factors=None,
        roll=roll,
    )
    fault = _no_room(true, units)
    if fault is not None:
        raise PaperError([fault])
    if factors is None:
        return true
    corrected = replace(
        true,
        width=true.width / factors.across,
        height=true.height / factors.down,
        margin=true.margin / factors.smaller,
        factors=factors,
    )
    if _no_room(corrected, units) is not None:
        text = f"leaves no room on this paper for printer {factors.words}: give less"
        raise PaperError([Fault("paper.margin", text)])
    return corrected


def _no_room(paper: LaidPaper, units: Units) -> Fault | None:
    """Why a sheet has no room on this paper, and what would be right; None where it has."""
    least, short = furniture.LEAST_PRINTABLE, min(paper.width, paper.height)
    printable = short - 2 * paper.margin
    if printable < least:
        needs = f"the check bars need {format_length(least, units)} each way"
        if short < least:
            text = f"{paper.name} is too small for a template sheet: {needs}"
            return Fault("paper.size", text)
        left = format_length(max(printable, Fraction(0)), units)
        allowed = format_length(rounded_down((short - least) / 2, units), units)
        margin = format_length(paper.margin, units)
        text = f"{margin} leaves {left} across this paper and {needs}: {allowed} or less"
        return Fault("paper.margin", text)
    overlap = format_length(paper.overlap, units)
    if paper.overlap < LEAST_OVERLAP:
        need = format_length(rounded_up(LEAST_OVERLAP, units), units)
        text = f"{overlap} is too little: the registration marks need {need} or more"
        return Fault("paper.overlap", text)
    if paper.overlap > printable / 4:
        most = format_length(rounded_down(printable / 4, units), units)
        return Fault("paper.overlap", f"{overlap} is too much: {most} or less on this paper")
    return None
