"""Which strips a plan takes: panels that are alike share one, and a pair may share one too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count as count_from
from itertools import islice

from drapetemplate.drawing.lettering import Typeface
from drapetemplate.errors import Fault, PaperError
from drapetemplate.job.factors import Factors
from drapetemplate.job.fields import letter_as_seen
from drapetemplate.job.model import Job, Paper
from drapetemplate.planning.compare import Choice
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.sheets.laid_paper import LaidPaper, laid_paper
from drapetemplate.sheets.roll_pages import Roll, laid_on_roll
from drapetemplate.sheets.tiling import MOST_SHEETS, Tiling, tile
from drapetemplate.template import stepping
from drapetemplate.template.panel_drawing import template
from drapetemplate.template.strip import Strip, Template, strip
from drapetemplate.wording import joined

MOST_DRAWN = 20_000
"""Eyelets on all strips of a job: on a roll, where each is one sheet, nothing else bounds them."""

# I and O are left out, as on drawings: beside a sheet's number they pass for 1 and 0.
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """What is taped by itself: a strip, or a piece of one to step along, and how it is tiled."""

    strip: Strip
    tiling: Tiling


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedStrip:
    """One strip before it falls on any sheet, for one panel of each of `windows`.

    `other` is a pair's second panel that shares it.
    """

    panel: PanelPlan
    other: PanelPlan | None
    windows: tuple[WindowPlan, ...]

    def template(self, job: Job, typeface: Typeface) -> Template:
        """The strip with every mark on it, named for all its windows."""
        drawn = template(job, self.windows[0], self.panel, typeface, self.other)
        return replace(
            drawn,
            window=joined(window.name for window in self.windows),
            quantity=sum(window.quantity for window in self.windows),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStrip(SharedStrip):
    """One strip on its sheets.

    `strip` is all of it; `pieces` are one where it is printed whole, three where it is stepped
    along. Each has its own of the `letters`, which stand before its sheets' numbers; "" where
    nothing else of the job is taped.
    """

    strip: Strip
    pieces: tuple[PlacedPiece, ...]
    letters: tuple[str, ...]

    @property
    def tilings(self) -> tuple[Tiling, ...]:
        """How each of its pieces falls on sheets."""
        return tuple(piece.tiling for piece in self.pieces)

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return sum(tiling.count for tiling in self.tilings)

    @property
    def roll_pages(self) -> list[int]:
        """The pages of a roll that its sheets are cut from, counted from 1; none on cut paper."""
        return sorted({place.page + 1 for tiling in self.tilings for place in tiling.places})

    def templates(self, job: Job, typeface: Typeface) -> tuple[Template, ...]:
        """Each of its pieces with every mark on it."""
        whole = self.template(job, typeface)
        cut = stepping.pieces(whole.strip) if job.paper.style == "stepping" else ()
        pieces = [stepping.template_piece(whole, piece, job.units, typeface) for piece in cut]
        lettered = zip(pieces or [whole], self.letters, strict=True)
        return tuple(replace(piece, letter=letter) for piece, letter in lettered)


@dataclass(frozen=True, slots=True, kw_only=True)
class StripList:
    """Every strip of a plan, each once, as it falls on `paper`; a roll's is one page of it.

    `numbers[w][p]` is the place in `strips` of the strip that window w's panel p has. `roll` has
    the pages that all sheets are cut from; None on cut paper, where each sheet is a page.
    """

    strips: tuple[PlacedStrip, ...]
    numbers: tuple[tuple[int, ...], ...]
    paper: LaidPaper
    roll: Roll | None

    @property
    def sheets(self) -> int:
        """How many sheets all strips take."""
        return sum(strip.sheets for strip in self.strips)

    @property
    def pages(self) -> int:
        """How many pages they are printed on."""
        return self.sheets if self.roll is None else len(self.roll.pages)

    @property
    def by_panel(self) -> tuple[tuple[PlacedStrip, ...], ...]:
        """For each window, the strip of each of its panels."""
        return tuple(tuple(self.strips[number] for number in own) for own in self.numbers)


def strip_list(job: Job, windows: Sequence[WindowPlan], factors: Factors | None) -> StripList:
    """The strips of these windows of a job on its paper, for a printer's factors, each once.

    PaperError as `laid_paper` has it, and where one doesn't go on the paper, or all together take
    over 2,000 sheets or have over 20,000 eyelets.
    """
    shared, numbers = _shared(windows, job.paper)
    strips = [strip(each.panel, job.paper.view, each.other) for each in shared]
    pieces = [_pieces_of(whole, job.paper) for whole in strips]
    paper = laid_paper(job.paper, factors, job.units)
    roll = None
    if paper.roll:
        every = [piece for own_pieces in pieces for piece in own_pieces]
        paper, tilings, roll = laid_on_roll(every, paper)
        placed_pieces = _dealt(pieces, tilings)
    else:
        placed_pieces = list(_placed(pieces, paper))
    letters = _letters(job.paper, [len(own_pieces) for own_pieces in pieces])
    placed = (
        PlacedStrip(
            panel=each.panel,
            other=each.other,
            windows=each.windows,
            strip=whole,
            pieces=own_pieces,
            letters=own_letters,
        )
        for each, whole, own_pieces, own_letters in zip(
            shared, strips, placed_pieces, letters, strict=True
        )
    )
    return StripList(strips=tuple(placed), numbers=numbers, paper=paper, roll=roll)


def whole_strips(
    job: Job, windows: Sequence[WindowPlan], typeface: Typeface
) -> Iterator[tuple[SharedStrip, Template]]:
    """The strips of these windows of a job, each once and whole, on no paper; drawn and lettered.

    Stepping saves paper, so that here `paper.style` says nothing. PaperError where all together
    have over 20,000 eyelets.
    """
    paper = replace(job.paper, style="whole")
    shared, _ = _shared(windows, paper)
    letters = _letters(paper, [1] * len(shared))
    for each, (letter,) in zip(shared, letters, strict=True):
        yield each, replace(each.template(job, typeface), letter=letter)


def _shared(
    windows: Sequence[WindowPlan], paper: Paper
) -> tuple[list[SharedStrip], tuple[tuple[int, ...], ...]]:
    """Every strip of these windows once, and for each window which of them its panels have.

    PaperError where all together have over 20,000 eyelets.
    """
    places: dict[object, int] = {}
    panels: list[tuple[PanelPlan, PanelPlan | None]] = []
    windows_of: list[list[WindowPlan]] = []
    numbers: list[tuple[int, ...]] = []
    for window in windows:
        own = []
        for panel, other in _panels_of(window, paper):
            number = places.setdefault((_alike(panel), other and _alike(other)), len(places))
            if number == len(panels):
                panels.append((panel, other))
                windows_of.append([])
            windows_of[number].append(window)
            own += [number] if other is None else [number] * 2
        numbers.append(tuple(own))
    eyelets = sum(panel.count for panel, _ in panels)
    if eyelets > MOST_DRAWN:
        text = (
            f"this job's {len(panels):,} strips have {eyelets:,} eyelets to draw, and a job may "
            f"have {MOST_DRAWN:,}: make several jobs of it"
        )
        raise PaperError([Fault("window", text)])
    shared = [
        SharedStrip(panel=panel, other=other, windows=tuple(sharing))
        for (panel, other), sharing in zip(panels, windows_of, strict=True)
    ]
    return shared, tuple(numbers)


def _letters(paper: Paper, counts: Sequence[int]) -> list[tuple[str, ...]]:
    """Letters for so many pieces a strip: A, C ... Z, AA ...; none where there is but one in all.

    None is taken for a gap's letter, B or F where the job has no others, nor for an eyelet of a
    stepping piece, A, B or C.
    """
    if sum(counts) == 1:
        return [("",)]
    taken = {letter_as_seen(letter) for letter in paper.letters}
    taken |= set("abc") if paper.style == "stepping" else set()
    every = (letter for n in count_from() if letter_as_seen(letter := _letter(n)) not in taken)
    return [tuple(islice(every, count)) for count in counts]


def _letter(number: int) -> str:
    """A number from 0 on in letters: A to Z, then AA, AB and on."""
    before = "" if number < len(LETTERS) else _letter(number // len(LETTERS) - 1)
    return before + LETTERS[number % len(LETTERS)]


def _panels_of(window: WindowPlan, paper: Paper) -> list[tuple[PanelPlan, PanelPlan | None]]:
    """A window's panels, each with the one that shares its strip: a pair's two where that is asked.

    Where a strip is stepped along none is shared so: steps go one way along one panel, with
    measures from its own edge.
    """
    if paper.strips == "one" and paper.style == "whole" and len(window.panels) == 2:
        return [(window.panels[0], window.panels[1])]
    return [(panel, None) for panel in window.panels]


def _pieces_of(whole: Strip, paper: Paper) -> tuple[Strip, ...]:
    """A strip in, what is printed of it out: itself, or the pieces that are stepped along."""
    cut = stepping.pieces(whole) if paper.style == "stepping" else ()
    return tuple(stepping.strip_piece(whole, piece) for piece in cut) or (whole,)


def _dealt(
    pieces: Sequence[tuple[Strip, ...]], tilings: Sequence[Tiling]
) -> list[tuple[PlacedPiece, ...]]:
    """Each strip's pieces with their tilings, which stand in one row."""
    numbers = iter(tilings)
    return [tuple(PlacedPiece(piece, next(numbers)) for piece in own) for own in pieces]


def _placed(
    pieces: Sequence[tuple[Strip, ...]], paper: LaidPaper
) -> Iterator[tuple[PlacedPiece, ...]]:
    """Each strip's pieces on sheets; PaperError as soon as they are too many for one job."""
    sheets = 0
    for number, own in enumerate(pieces, 1):
        placed = tuple(PlacedPiece(piece, tile(piece, paper)) for piece in own)
        sheets += sum(piece.tiling.count for piece in placed)
        if sheets > MOST_SHEETS:
            text = (
                f"{number} of this job's {len(pieces)} strips take {sheets:,} sheets already, and "
                f"a job may take {MOST_SHEETS:,}: use larger paper or a roll, or make several jobs "
                "of it"
            )
            raise PaperError([Fault("paper.size", text)])
        yield placed


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
        opening=panel.hole,
        seams=panel.seams or (),
        pieces=None,
    )


def sheet_count(job: Job, choice: Choice) -> int | None:
    """How many sheets a count's strips take; None where it has no plan."""
    window = choice.window
    return None if window is None else strip_list(job, (window,), None).sheets
