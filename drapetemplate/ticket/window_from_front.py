"""A window from the front, to scale: its panels on their pole, closed or drawn open, with sizes.

Room frame: millimetres, x along the pole from its left end as seen from the room, y up from the
floor; where the pole's height isn't known, from the panels' lower edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.ticket.flow import SMALL
from drapetemplate.ticket.panel_pictures import BACK_GREY, left_to_right, motifs_along
from drapetemplate.ticket.picture import CLOTH, MOTIF_HALF, THIN, Picture, scale_for, shifted
from drapetemplate.ticket.sized_picture import ABOVE, BELOW, Size, beside, with_sizes
from drapetemplate.wording import Wording

GLASS = Pen(0.7, (0.7, 1.4))
FLOOR = Pen(0.6)
POLE_GREY = 0.7
FINIAL = 1.6  # mm on paper, across a finial's ball
LEAST_POLE = 0.7  # mm on paper that a pole is drawn thick, whatever its diameter
BRACKET = 1.4  # mm on paper, a bracket's width
OVER = 1.5  # mm on paper that a bracket's mark stands over the panels
LEAST_BETWEEN = 0.5  # mm on paper between two folds' lines; nearer ones are left out


def from_front_of_window(
    job: Job,
    planned: WindowPlan,
    typeface: Typeface,
    box: tuple[float, float],
    *,
    brackets: bool = True,
) -> tuple[Picture, Picture]:
    """Return the window from the front, closed and drawn open, neither larger than `box`, in mm.

    Both are to one scale. The closed view has the pole's length, what a panel covers and the
    finished length as sizes; the open one the pole's height and the glass, or the stack where no
    glass is given. Without `brackets` it has neither these nor the pole's sizes: only what the
    client sees.
    """
    say = Wording(job.units)
    closed, opened = (
        _WindowFromFront(planned, typeface, say, opened=each, brackets=brackets)
        for each in (False, True)
    )
    scale = max(closed.scale(box), opened.scale(box))
    return closed.sized(scale), opened.sized(scale)


class _WindowFromFront:
    """One view. Inside, lengths are the room's."""

    def __init__(
        self,
        planned: WindowPlan,
        typeface: Typeface,
        say: Wording,
        *,
        opened: bool,
        brackets: bool,
    ) -> None:
        self.planned, self.typeface = planned, typeface
        self.opened, self.brackets = opened, brackets
        self.stand, self.panel = planned.stand, planned.panels[0]
        self.reach = self._reach()
        half = float(self.panel.outside) / 2
        bare = self.stand.on_pole * (self.reach + 2 * half)
        self.pole = bare if self.stand.length is None else float(self.stand.length)
        self.start = half if self.stand.length is None else float(self.stand.beyond or 0) / 2
        long = planned.length
        self.high = 2 * float(self.panel.band_height) if long is None else float(long)
        if long is None:
            self.high = max(self.high, self.pole / 2)
        bottom = float(self.stand.bottom or 0)
        self.bottom, self.top = max(bottom, 0.0), bottom + self.high
        self.sizes = self._sizes(say)

    def _reach(self) -> float:
        """From the first to the last eyelet of the closed panel, in the room."""
        if self.stand.length is not None or self.panel.covers is not None:
            return float(self.stand.reach)
        hang = self.panel.hang
        flat = float(self.panel.centers[-1] - self.panel.centers[0])
        return flat if hang is None else flat / hang.fullness

    def places(self, panel: PanelPlan) -> list[float]:
        """A panel's eyelets along the pole, from left to right."""
        step = self.reach / (panel.count - 1)
        if self.opened:
            step = float(panel.stack) / panel.count
        from_end = [self.start + i * step for i in range(panel.count)]
        if panel.side == "right":
            return [self.pole - place for place in reversed(from_end)]
        return from_end

    def scale(self, box: tuple[float, float]) -> int:
        """The largest customary scale at which the view fits with its sizes."""
        room, most = box
        _, over, up = self.sizes
        taken = beside(up[2], self.typeface) if up else 0.0
        higher = BELOW + OVER + SMALL + FINIAL + (ABOVE if over else 0.0)
        wide = scale_for(self.pole, room - taken - 2 * FINIAL)
        return max(wide, scale_for(self.top, most - higher))

    def sized(self, scale: int) -> Picture:
        """Return the view with its sizes."""
        across, over, up = self.sizes
        bare = self._picture(scale)
        return with_sizes(
            bare,
            self.typeface,
            self._on_paper(across, scale),
            None if up is None else (up[0] / scale, up[1] / scale, up[2]),
            None if over is None else self._on_paper(over, scale),
        )

    def _on_paper(self, size: Size, scale: int) -> Size:
        return size[0] / scale + FINIAL, size[1] / scale + FINIAL, size[2]

    def _sizes(self, say: Wording) -> tuple[Size, Size | None, Size | None]:
        """What is drawn under it, over it and beside it, in the room's millimetres."""
        stand, first = self.stand, self.planned.panels[0]
        each = " each" if stand.on_pole == 2 else ""
        places = self.places(first)
        if not self.opened:
            across = (places[0], places[-1], "closed")
            covers = self.panel.covers
            if covers is not None:
                start = places[0] if stand.length is None else 0.0
                if first.side == "right" and stand.length is not None:
                    start = self.pole - float(covers)
                # The client's page has it in plain words; the others as ticket and plan do.
                name = "pole covered" if self.brackets else "covers"
                across = (start, start + float(covers), f"{name} {say(covers)}{each}")
            over = None
            if stand.length is not None and self.brackets:
                over = (0.0, self.pole, f"pole {say(stand.length)}")
            length = self.planned.length
            up = None if length is None else (self.bottom, self.top, f"{say(length)} long")
            return across, over, up
        across = (places[0], places[-1], f"{say(stand.stack)} open{each}")
        if stand.glass is not None:
            left, right = self._glass()
            across = (left, right, f"glass {say(stand.glass)}")
        up = None
        top = self.planned.window.pole.top
        if top is not None and stand.bottom is not None and self.brackets:
            up = (0.0, self._pole_top(), f"pole's top {say(top)}")
        return across, None, up

    def _pole_top(self) -> float:
        panel = self.panel
        return self.top - float(panel.above + (panel.outside - panel.opening) / 2)

    def _glass(self) -> tuple[float, float]:
        """From where to where the glass is: in the middle, or all to the far side of one panel."""
        glass = float(self.stand.glass or 0)
        beside = self.pole - glass
        left = {"pair": beside / 2, "right": 0.0}.get(self.stand.panels, beside)
        return left, left + glass

    def _picture(self, scale: int) -> Picture:
        marks = tuple(shifted(self._marks(scale), FINIAL, 0.0))
        high = self.top / scale + OVER + (SMALL if self.brackets else 0.0)
        return Picture(self.pole / scale + 2 * FINIAL, high, scale, marks)

    def _marks(self, scale: int) -> Iterator[Mark]:
        if self.stand.bottom is not None:
            yield Line(-FINIAL, 0.0, self.pole / scale + FINIAL, 0.0, FLOOR, Role.FLOOR)
        yield from self._pole_marks(scale)
        for panel in self.planned.panels:
            yield from self._panel(panel, scale)
        if self.stand.glass is not None and (self.opened or self.stand.bare):
            for x in self._glass():
                at = x / scale
                yield Line(at, self.bottom / scale, at, self._pole_top() / scale, GLASS, Role.GLASS)
        if self.brackets:
            yield from self._bracket_marks(scale)

    def _pole_marks(self, scale: int) -> Iterator[Mark]:
        diameter = float(self.planned.window.pole.diameter or 0) / scale
        high, length = self._pole_top() / scale, self.pole / scale
        low = high - max(diameter, LEAST_POLE)
        corners = ((0.0, low), (length, low), (length, high), (0.0, high))
        yield Polygon(corners, THIN, POLE_GREY, Role.POLE)
        for x in (-FINIAL / 2, length + FINIAL / 2):
            yield Circle(x, (low + high) / 2, FINIAL / 2, CLOTH, Role.FINIAL)

    def _panel(self, panel: PanelPlan, scale: int) -> Iterator[Mark]:
        """The cloth with its folds, and its eyelets seen edge on."""
        places = [place / scale for place in self.places(panel)]
        low, high = self.bottom / scale, self.top / scale
        left, right = places[0], max(places[-1], places[0] + 0.5)
        corners = ((left, low), (right, low), (right, high), (left, high))
        yield Polygon(corners, None, 1.0, Role.PANEL_GROUND)
        between = (places[-1] - places[0]) / (panel.count - 1)
        drawn = between >= LEAST_BETWEEN
        if panel.gaps and not self.opened:
            for (x0, x1), kind in zip(pairwise(places), left_to_right(panel), strict=True):
                if kind == "back" and drawn:
                    fold = ((x0, low), (x1, low), (x1, high), (x0, high))
                    yield Polygon(fold, None, BACK_GREY, Role.BACK_FOLD)
        for x in places[:: ceil(LEAST_BETWEEN / between)]:
            yield Line(x, low, x, high, THIN, Role.FOLD_EDGE)
        yield Polygon(corners, CLOTH, None, Role.PANEL)
        if drawn and not self.opened:
            down = self.planned.window.motif_below
            below = high - float(panel.band_height) / scale - 3 * MOTIF_HALF
            if down is not None:
                below = high - float(down) / scale
            for along in motifs_along(panel):
                x = left + along * between
                yield drawing.lozenge(x, below, MOTIF_HALF, THIN, Role.MOTIF)
        top = high - float(panel.above) / scale
        foot = top - float(panel.outside) / scale
        half = min(0.4, between / 3)
        if drawn:
            for x in places:
                ring = ((x - half, foot), (x + half, foot), (x + half, top), (x - half, top))
                yield Polygon(ring, THIN, 1.0, Role.RING_EDGE_ON)

    def _bracket_marks(self, scale: int) -> Iterator[Mark]:
        """A black mark from the pole to over the panels for each bracket, and its number."""
        places = [float(place) / scale for place in self.stand.brackets]
        low, high = self._pole_top() / scale, self.top / scale + OVER
        for x in places:
            corners = ((x - BRACKET / 2, high), (x + BRACKET / 2, high), (x, high - 2 * BRACKET))
            yield Polygon(corners, None, 0.0, Role.BRACKET)
            yield Line(x, low, x, high - BRACKET, THIN, Role.BRACKET)
        if all(right - left > SMALL * 1.5 for left, right in pairwise(places)):
            for number, x in enumerate(places, 1):
                yield drawing.text(
                    self.typeface,
                    x,
                    high + 0.5,
                    str(number),
                    SMALL,
                    Role.BRACKET_NUMBER,
                    anchor="middle",
                )
