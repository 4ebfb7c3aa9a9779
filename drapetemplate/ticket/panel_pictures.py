"""A panel's plan in, pictures of it out: from the front as it hangs, and its heading laid flat.

Left is left as seen from the room in either.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import cos, radians

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job
from drapetemplate.planning.eyelets import GapKind
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import PanelPlan, WindowPlan
from drapetemplate.ticket.flow import SMALL
from drapetemplate.ticket.picture import CLOTH, MOTIF_HALF, SEAM, THIN, Picture, Point

REACH = Pen(0.15, (1.0, 0.8))
BACK_GREY = 0.86
LETTER_BESIDE = 0.4  # mm free beside a gap's letter
NAME_FREE = 1.0  # mm free under and beside a name over the heading
MOST_HEIGHT = 90.0  # mm of paper a panel from the front or from above may take


def closed_width(panel: PanelPlan, hang: Hang) -> float:
    """Room millimetres the closed panel takes of its pole, half a ring over at each end."""
    return (panel.count - 1) * hang.closed.pole_per_gap + hang.closed.outside


def left_to_right(panel: PanelPlan) -> tuple[GapKind, ...]:
    """The panel's gaps as seen from the room."""
    return panel.gaps[::-1] if panel.leading_at_right else panel.gaps


def shown_length(window: WindowPlan, panel: PanelPlan, hang: Hang) -> float:
    """Room millimetres a panel is drawn long: where that isn't known square, or twice its band."""
    if window.length is not None:
        return float(window.length)
    return max(closed_width(panel, hang), 2 * float(panel.band_height))


def from_front(window: WindowPlan, panel: PanelPlan, hang: Hang, scale: int) -> Picture:
    """The closed panel from the room: front folds white, back folds grey, rings seen edge on.

    Where the length isn't known the panel is drawn as `shown_length` says.
    """
    each, width = hang.closed.pole_per_gap, closed_width(panel, hang)
    length = shown_length(window, panel, hang)
    left = hang.closed.outside / 2

    def at(x: float, y: float) -> Point:
        return (x + left) / scale, y / scale

    def boxed(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
        return at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)

    marks: list[Mark] = []
    for i, kind in enumerate(left_to_right(panel)):
        if kind == "back":
            box = boxed(i * each, 0, (i + 1) * each, length)
            marks.append(Polygon(box, None, BACK_GREY, Role.BACK_FOLD))
    span = (panel.count - 1) * each
    marks += [
        Line(*at(i * each, 0), *at(i * each, length), THIN, Role.FOLD_EDGE)
        for i in range(panel.count)
    ]
    band = length - float(panel.band_height)
    marks.append(Line(*at(0, band), *at(span, band), REACH, Role.BAND_FOOT))
    across = hang.closed.outside / 2 * abs(cos(radians(hang.closed.angle_deg)))
    high = length - float(panel.above)
    low = high - float(panel.outside)
    half_width = min(max(across, 0.25 * scale), left)  # seen, but no wider than an eyelet
    marks += [
        Polygon(
            boxed(i * each - half_width, low, i * each + half_width, high),
            THIN,
            1.0,
            Role.RING_EDGE_ON,
        )
        for i in range(panel.count)
    ]
    marks.append(Polygon(boxed(0, 0, span, length), CLOTH, None, Role.PANEL))
    below = window.window.motif_below
    for along in motifs_along(panel):
        x, y = at(along * each, band if below is None else length - float(below))
        under = 3 * MOTIF_HALF if below is None else 0.0
        marks.append(drawing.lozenge(x, y - under, MOTIF_HALF, THIN, Role.MOTIF))
    return Picture(width / scale, length / scale, scale, tuple(marks))


def motifs_along(panel: PanelPlan) -> Iterator[float]:
    """Yield where motifs' centres hang in front, in pitches from the leftmost eyelet.

    None where they would be beside the fold that they belong to.
    """
    first = min(panel.seen_from_room(center) for center in panel.centers)
    for motif in panel.motifs or ():
        along = (panel.seen_from_room(motif) - first) / panel.pitch
        if 0 <= along <= panel.count - 1:
            yield float(along)


def flat_strip(
    job: Job, panel: PanelPlan, typeface: Typeface, scale: int, *, named: bool = False
) -> Picture:
    """The heading laid flat, as seen from the face: eyelets, front and back gaps, seams.

    `named`, it shows too where a panel on a pole turns back to the wall, and over it stands what
    its marks are.
    """
    width, height = float(panel.width) / scale, float(panel.band_height) / scale
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    marks: list[Mark] = [Polygon(corners, CLOTH, None, Role.BAND)]
    y = float(panel.band_height - panel.above - panel.outside / 2) / scale

    def x(measure: Fraction) -> float:
        return float(panel.seen_from_room(measure)) / scale

    for diameter, pen, role in (
        (panel.outside, THIN, Role.OUTSIDE),
        (panel.hole, CLOTH, Role.HOLE),
    ):
        marks += [Circle(x(c), y, float(diameter) / 2 / scale, pen, role) for c in panel.centers]
    names = dict(zip(("front", "back"), job.paper.letters, strict=True))
    size = SMALL
    needed = max(typeface.width(name, size) for name in names.values()) + LETTER_BESIDE
    # No gap is wider than without a seam, so of hundreds of small ones none need be looked at.
    gaps = panel.gaps if needed <= float(panel.gap) / scale else ()
    starts = [before + panel.outside / 2 for before in panel.centers[: len(gaps)]]
    fits = [needed <= float(_widest_part(panel, start)) / scale for start in starts]
    marks += [
        drawing.text(
            typeface,
            x(_beside_seams(panel, start)),
            y - size * 0.36,
            names[kind],
            size,
            LETTERS[kind],
            anchor="middle",
        )
        for start, kind, fit in zip(starts, gaps, fits, strict=True)
        if all(fits) or (named and fit)
    ]
    for motif in panel.motifs or ():
        if 0 <= motif <= panel.width:
            marks.append(drawing.lozenge(x(motif), 2.5 * MOTIF_HALF, MOTIF_HALF, THIN, Role.MOTIF))
    marks += [Line(x(s), 0.0, x(s), height, SEAM, Role.SEAM) for s in panel.seams or ()]
    if not named:
        return Picture(width, height, scale, tuple(marks))
    words = [(x(s), "seam") for s in panel.seams or ()]
    words += [(x(motif), "motif") for motif in panel.motifs or () if 0 <= motif <= panel.width][:1]
    if panel.hang is not None:
        returns = list(_returns(panel))
        marks += [Line(x(at), 0.0, x(at), height, REACH, Role.RETURN_FOLD) for at, _ in returns]
        words = [*((x((at + edge) / 2), "return") for at, edge in returns), *words]
    marks += _names(typeface, words, width, height + NAME_FREE)
    return Picture(width, height + NAME_FREE + SMALL if words else height, scale, tuple(marks))


def _names(
    typeface: Typeface, words: Sequence[tuple[float, str]], width: float, y: float
) -> Iterator[Mark]:
    """Words in one row, each over its x or as near as the row's ends let it be.

    One that would stand on those before it is left out: the like of it is named elsewhere.
    """
    taken: list[tuple[float, float]] = []
    for x, word in words:
        half = typeface.width(word, SMALL) / 2
        middle = max(half, min(x, width - half))
        start, end = middle - half - NAME_FREE, middle + half + NAME_FREE
        if all(end <= other_start or other_end <= start for other_start, other_end in taken):
            taken.append((middle - half, middle + half))
            yield drawing.text(typeface, middle, y, word, SMALL, Role.SIZE, anchor="middle")


def _returns(panel: PanelPlan) -> Iterator[tuple[Fraction, Fraction]]:
    """Where the panel turns back to the wall and the edge there; a single one's two ends do."""
    if panel.return_:
        yield panel.width - panel.return_, panel.width
    if panel.side == "single" and panel.leading:
        yield panel.leading, Fraction(0)


def _free(panel: PanelPlan, start: Fraction) -> tuple[Fraction, Fraction]:
    """The widest part that seams leave of the gap from `start`."""
    end = start + panel.gap
    edges = [start, *(seam for seam in sorted(panel.seams or ()) if start < seam < end), end]
    return max(pairwise(edges), key=lambda part: part[1] - part[0])


def _beside_seams(panel: PanelPlan, start: Fraction) -> Fraction:
    """The middle of that part."""
    before, after = _free(panel, start)
    return (before + after) / 2


def _widest_part(panel: PanelPlan, start: Fraction) -> Fraction:
    """How wide it is."""
    before, after = _free(panel, start)
    return after - before
