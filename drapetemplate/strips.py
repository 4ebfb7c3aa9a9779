"""Which strips a plan takes: panels that are alike share one, and a pair may share one too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from drapetemplate import stepping
from drapetemplate.drawing import Typeface
from drapetemplate.job import Job, Paper
from drapetemplate.measures import Units
from drapetemplate.planning.plan import PanelPlan, WindowPlan
from drapetemplate.template import Strip, Template, strip, template
from drapetemplate.tiling import Tiling, on_roll, tile


@dataclass(frozen=True, slots=True)
class Shared:
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
class Strips:
    """Every strip of a plan, bare, as it falls on `paper`; `of` says which each panel has.

    `of[w][p]` is the place in `shared` of window w's panel p; `pieces` and `tilings` are one
    where it is printed whole, three where it is stepped along. A roll's paper is a page of it.
    """

    shared: tuple[Shared, ...]
    bare: tuple[Strip, ...]
    pieces: tuple[tuple[Strip, ...], ...]
    tilings: tuple[tuple[Tiling, ...], ...]
    of: tuple[tuple[int, ...], ...]
    paper: Paper

    @property
    def sheets(self) -> int:
        """How many sheets all strips take."""
        return sum(map(self.sheets_of, range(len(self.shared))))

    def sheets_of(self, place: int) -> int:
        """How many sheets one strip takes."""
        return sum(tiling.count for tiling in self.tilings[place])


def strips(windows: Sequence[WindowPlan], paper: Paper, units: Units) -> Strips:
    """The strips of these windows on paper, each once; PaperError where one doesn't go on it."""
    shared: dict[object, Shared] = {}
    of: list[tuple[int, ...]] = []
    for window in windows:
        both = paper.strips == "one" and len(window.panels) == 2
        keys = []
        for panel in window.panels[: 1 if both else None]:
            other = window.panels[1] if both else None
            key = _alike(panel), other and _alike(other)
            one = shared.get(key, Shared(panel, other, ()))
            shared[key] = replace(one, windows=(*one.windows, window))
            keys.append(key)
        places = list(shared)
        found = tuple(places.index(key) for key in keys)
        of.append(found * 2 if both else found)
    bare = tuple(strip(one.panel, paper.view, one.other) for one in shared.values())
    cut = [stepping.pieces(one) if paper.style == "stepping" else () for one in bare]
    printed = tuple(
        tuple(stepping.strip_piece(one, piece) for piece in pieces) or (one,)
        for one, pieces in zip(bare, cut, strict=True)
    )
    page = on_roll(paper, [one for pieces in printed for one in pieces], units)
    return Strips(
        tuple(shared.values()),
        bare,
        printed,
        tuple(tuple(tile(one, page, units) for one in pieces) for pieces in printed),
        tuple(of),
        page,
    )


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
