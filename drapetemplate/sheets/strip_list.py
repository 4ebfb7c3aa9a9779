"""Which strips a plan takes: panels that are alike share one, and a pair may share one too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.errors import Fault, PaperError
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.planning.compare import Choice
from drapetemplate.planning.model import PanelPlan, Plan, WindowPlan
from drapetemplate.sheets.laid_paper import LaidPaper, laid_paper
from drapetemplate.sheets.tiling import MOST_SHEETS, Tiling, roll_page, tile
from drapetemplate.template import stepping
from drapetemplate.template.strip import Strip, Template, strip, template

MOST_DRAWN = 20_000
"""Eyelets on all strips of a job: on a roll, where each is one sheet, nothing else bounds them."""


@dataclass(frozen=True, slots=True)
class SharedStrip:
    """One strip to print, for one panel of each of `windows`; `other` is a pair's second panel."""

    panel: PanelPlan
    other: PanelPlan | None
    windows: tuple[WindowPlan, ...]

    def template(self, job: Job, typeface: Typeface) -> Template:
        """The strip with every mark on it, named for all its windows."""
        drawn = template(job, self.windows[0], self.panel, typeface, self.other)
        return replace(
            drawn,
            window=", ".join(window.name for window in self.windows),
            quantity=sum(window.quantity for window in self.windows),
        )

    def templates(self, job: Job, typeface: Typeface) -> tuple[Template, ...]:
        """The strip, or the pieces of it that are printed where the job asks for stepping."""
        whole = self.template(job, typeface)
        cut = stepping.pieces(whole.strip) if job.paper.style == "stepping" else ()
        pieces = (stepping.template_piece(whole, one, job.units, typeface) for one in cut)
        return tuple(pieces) or (whole,)


@dataclass(frozen=True, slots=True)
class StripList:
    """Every strip of a plan, bare, as it falls on `paper`; `of` says which each panel has.

    `of[w][p]` is the place in `shared` of window w's panel p; `pieces` and `tilings` are one
    where it is printed whole, three where it is stepped along. A roll's paper is a page of it.
    """

    shared: tuple[SharedStrip, ...]
    bare: tuple[Strip, ...]
    pieces: tuple[tuple[Strip, ...], ...]
    tilings: tuple[tuple[Tiling, ...], ...]
    of: tuple[tuple[int, ...], ...]
    paper: LaidPaper

    @property
    def sheets(self) -> int:
        """How many sheets all strips take."""
        return sum(map(self.sheets_of, range(len(self.shared))))

    def sheets_of(self, place: int) -> int:
        """How many sheets one strip takes."""
        return sum(tiling.count for tiling in self.tilings[place])


def strip_list(job: Job, windows: Sequence[WindowPlan], factors: Factors | None) -> StripList:
    """The strips of these windows of a job on its paper, for a printer's factors, each once.

    PaperError as `laid_paper` has it, and where one doesn't go on the paper, or all together take
    over 2,000 sheets or have over 20,000 eyelets.
    """
    paper = job.paper
    shared: dict[int, SharedStrip] = {}
    numbers: dict[object, int] = {}
    of: list[tuple[int, ...]] = []
    for window in windows:
        # Steps go one way along one panel, with measures from its own edge.
        both = paper.strips == "one" and paper.style == "whole" and len(window.panels) == 2
        places = []
        for panel in window.panels[: 1 if both else None]:
            other = window.panels[1] if both else None
            key = _alike(panel), other and _alike(other)
            place = numbers.setdefault(key, len(numbers))
            one = shared.get(place, SharedStrip(panel, other, ()))
            shared[place] = replace(one, windows=(*one.windows, window))
            places.append(place)
        of.append(tuple(places) * 2 if both else tuple(places))
    eyelets = sum(one.panel.count for one in shared.values())
    if eyelets > MOST_DRAWN:
        text = (
            f"this job's {len(shared):,} strips have {eyelets:,} eyelets to draw, and a job may "
            f"have {MOST_DRAWN:,}: make several jobs of it"
        )
        raise PaperError([Fault("window", text)])
    bare = tuple(strip(one.panel, paper.view, one.other) for one in shared.values())
    cut = [stepping.pieces(one) if paper.style == "stepping" else () for one in bare]
    printed = tuple(
        tuple(stepping.strip_piece(one, piece) for piece in pieces) or (one,)
        for one, pieces in zip(bare, cut, strict=True)
    )
    page = laid_paper(paper, factors, job.units)
    if paper.height is None:
        page = roll_page(page, [one for pieces in printed for one in pieces])
    return StripList(
        tuple(shared.values()),
        bare,
        printed,
        tuple(_tiled(printed, page)),
        tuple(of),
        page,
    )


def _tiled(printed: Sequence[tuple[Strip, ...]], page: LaidPaper) -> Iterator[tuple[Tiling, ...]]:
    """Each strip's pieces on sheets; PaperError as soon as they are too many for one job."""
    sheets = 0
    for number, pieces in enumerate(printed, 1):
        tilings = tuple(tile(one, page) for one in pieces)
        sheets += sum(tiling.count for tiling in tilings)
        if sheets > MOST_SHEETS:
            text = (
                f"{number} of this job's {len(printed)} strips take {sheets:,} sheets already, and "
                f"a job may take {MOST_SHEETS:,}: use larger paper or a roll, or make several jobs "
                "of it"
            )
            raise PaperError([Fault("paper.size", text)])
        yield tilings


def _alike(panel: PanelPlan) -> PanelPlan:
    """A panel without what its strip doesn't show."""
    return replace(
        panel,
        reason="",
        stack=Fraction(0),
        hang=None,
        weight=None,
        fullness=None,
        covers=None,
        pieces=None,
    )


PanelStrip = tuple[Strip, tuple[tuple[Strip, Tiling], ...]]


def laid_out(job: Job, plan: Plan, factors: Factors | None) -> tuple[tuple[PanelStrip, ...], ...]:
    """For each window, each panel's strip and how it, or its pieces, fall on the paper."""
    found = strip_list(job, plan.windows, factors)
    return tuple(
        tuple(
            (
                found.bare[place],
                tuple(zip(found.pieces[place], found.tilings[place], strict=True)),
            )
            for place in own
        )
        for own in found.of
    )


def sheet_count(job: Job, choice: Choice) -> int | None:
    """How many sheets a count's strips take; None where it has no plan."""
    window = choice.window
    return None if window is None else strip_list(job, (window,), None).sheets
