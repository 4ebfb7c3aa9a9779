"""A strip in, what a file for a cutting machine draws of it out: its marks, layer by layer.

Frame: the strip's (x from its left end as it is seen, y up from the band's bottom edge), so that
the outline goes from (0, 0) to (length, height), in mm, and nothing lies outside it.

What a knife or a laser cuts is in HOLES and OUTLINE alone; all else is for a pen, or left out:

- a machine goes over a line that is drawn twice again, and cuts what is cut already. So what lies
  on another mark is left out, or as much of it as does: the band's edges and a panel's ends in the
  outline, the guide at a return fold;
- pens come first and the outline last, since a strip that is cut out may shift;
- what stands in a hole falls out with it: of that only the small hole at the centre is there, for a
  strip that is pricked through instead;
- dots and fine dashes would have a pen down and up a thousand times: what neither layer nor words
  tell apart has long dashes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from drapetemplate.document.model import titled
from drapetemplate.document.strip_name import strip_name
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark, Pen, Polygon, Text, box
from drapetemplate.drawing.repeats import each_once
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import Length
from drapetemplate.planning.model import PanelPlan, Plan
from drapetemplate.sheets.strip_list import SharedStrip, whole_strips
from drapetemplate.template.strip import Strip, Template


class Layer(StrEnum):
    """A cut file's layers, whose names have letters alone, which every program takes."""

    HOLES = "HOLES"  # to cut: what the eyelets' die cuts
    OUTLINE = "OUTLINE"  # to cut: the band, in one closed line
    PRICK = "PRICK"  # the holes' centres
    FOLD = "FOLD"  # where a panel turns back to the wall
    MARKS = "MARKS"  # for a pen: flanges and their edges, seams, inner ends, motifs
    TEXT = "TEXT"  # for a pen: numbers, measures, letters, what the strip is of


DRAWN_IN_ORDER = (Layer.PRICK, Layer.FOLD, Layer.MARKS, Layer.TEXT, Layer.HOLES, Layer.OUTLINE)
"""Pens, then the holes, while the strip still lies fast; then the outline."""

_WIDTH = 0.2  # mm, as it is shown on a screen: what a knife or a pen draws is its own
SOLID = Pen(_WIDTH)
INNER_END = Pen(_WIDTH, (12, 4))
SEAM = Pen(_WIDTH, (4, 4))
# A strip's roles, each with its layer and line. Of two marks on one line that is kept whose role
# stands first.
_LINES: dict[Role, tuple[Layer, Pen]] = {
    Role.OUTLINE: (Layer.OUTLINE, SOLID),
    Role.HOLE: (Layer.HOLES, SOLID),
    Role.CENTER_HOLE: (Layer.PRICK, SOLID),
    Role.RETURN_FOLD: (Layer.FOLD, SOLID),
    Role.OTHER_FOLD: (Layer.FOLD, SOLID),
    Role.PANEL_END: (Layer.MARKS, INNER_END),
    Role.OTHER_END: (Layer.MARKS, INNER_END),
    Role.SEAM: (Layer.MARKS, SEAM),
    Role.OTHER_SEAM: (Layer.MARKS, SEAM),
    Role.LEADING_WEDGE: (Layer.MARKS, SOLID),
    Role.MOTIF: (Layer.MARKS, SOLID),
    Role.OTHER_MOTIF: (Layer.MARKS, SOLID),
    Role.OUTSIDE: (Layer.MARKS, SOLID),
    Role.CENTER_LINE: (Layer.MARKS, SOLID),
    Role.GUIDE: (Layer.MARKS, SOLID),
}
_RANKS = {role: rank for rank, role in enumerate(_LINES)}
# The outline has the first; the others fall out with a hole.
_LEFT_OUT = {Role.BAND_LINE, Role.CENTER_CROSS, Role.HOLE_WORDS}


@dataclass(frozen=True, slots=True, kw_only=True)
class CutDrawing:
    """One strip for a cutting machine: `width` x `height` in mm, from (0, 0) up.

    `panel_width` is the panel's, and so its band's: less than `width` where a pair shares the strip
    and one end's cloth is more than the other's.
    `letter` tells it from the job's other strips, "" where there are none; `name` says whose it is,
    `title` of which job too. `layers` come in the order in which they are drawn, each once.
    """

    letter: str
    name: str
    title: str
    width: Length
    height: Length
    panel_width: Length
    layers: tuple[tuple[Layer, tuple[Mark, ...]], ...]


def cut_drawings(
    job: Job, plan: Plan, typeface: Typeface, accepted: frozenset[str] = frozenset()
) -> tuple[CutDrawing, ...]:
    """Every strip of a plan once, whole, as a cutting machine draws it, at true size.

    `accepted` are codes of stop findings that someone takes on; a strip that has them says so. No
    printer is corrected for, since none draws it. PaperError where all strips together have over
    20,000 eyelets.
    """
    return tuple(
        _cut_drawing(job, strip.panel, template, typeface, _taken_on(strip, accepted))
        for strip, template in whole_strips(job, plan.windows, typeface)
    )


def _taken_on(strip: SharedStrip, accepted: frozenset[str]) -> list[str]:
    """The codes of a strip's own stops among those accepted."""
    stops = {
        finding.code
        for window in strip.windows
        for finding in window.findings
        if finding.level == "stop"
    }
    return sorted(stops & accepted)


def _cut_drawing(
    job: Job, panel: PanelPlan, template: Template, typeface: Typeface, taken_on: list[str]
) -> CutDrawing:
    """One strip, named for its job and for the stops that were taken on."""
    strip = template.strip
    layers: dict[Layer, list[Mark]] = {layer: [] for layer in DRAWN_IN_ORDER}
    for mark in each_once(sorted(_lines(template), key=lambda mark: _RANKS[mark.role])):
        layer, pen = _LINES[mark.role]
        layers[layer].append(_in_line(mark, pen))
    # Where the band has no room for numbers they stand above and below it, and would be cut off.
    words = [
        mark
        for mark in template.marks
        if isinstance(mark, Text) and mark.role not in _LEFT_OUT and _lies_on(strip, mark)
    ]
    bare = replace(template, marks=(*(m for m in template.marks if m.role in _LINES), *words))
    layers[Layer.TEXT] = [
        *words,
        *strip_name(bare, _name_in_words(job, template, taken_on), typeface),
    ]
    return CutDrawing(
        letter=template.letter,
        name=f"{template.window}, {template.panel}",
        title=titled(f"{job.details.name}, {template.window}, {template.panel}"),
        width=strip.length,
        height=strip.height,
        panel_width=panel.width,
        layers=tuple((layer, tuple(marks)) for layer, marks in layers.items()),
    )


def _lines(template: Template) -> Iterator[Mark]:
    """The outline, and all that a strip has but words."""
    right, top = template.strip.length, template.strip.height
    zero = Fraction(0)
    corners = ((zero, zero), (right, zero), (right, top), (zero, top))
    yield Polygon(corners, SOLID, None, Role.OUTLINE)
    for mark in template.marks:
        if not isinstance(mark, Text) and mark.role not in _LEFT_OUT:
            yield mark


def _in_line(mark: Mark, pen: Pen) -> Mark:
    """A mark of a strip in this pen, and not filled: a machine would go over the whole of it."""
    match mark:
        case Polygon():
            return replace(mark, pen=pen, fill=None)
        case Text():
            return mark
        case _:
            return replace(mark, pen=pen)


def _lies_on(strip: Strip, mark: Mark) -> bool:
    """Whether all of a mark is on the band."""
    left, bottom, right, top = box(mark)
    return left >= 0 and bottom >= 0 and right <= strip.length and top <= strip.height


def _name_in_words(job: Job, template: Template, taken_on: list[str]) -> list[str]:
    """What a strip is of, what matters most first."""
    details = job.details
    return [
        f"{f'Strip {template.letter}: ' if template.letter else ''}{template.panel_large}",
        f"seen from the {template.seen}, top edge above",
        *(f"made despite {code}" for code in taken_on),
        template.closing,
        template.window,
        f"{details.name}{f', {details.number}' if details.number else ''}",
    ]
