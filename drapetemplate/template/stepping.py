"""A long strip in, three short ones out: its ends, and one front and back gap to step along.

For long panels on little paper. The stepping piece has three eyelets, A, B and C: laid with A on
the last odd hole traced it gives the next two; the far end begins at the last of them. Each step is
checked against the running measures, since steps add up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from drapetemplate import drawing
from drapetemplate.drawing.clip import clipped
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import Length, Units, format_length
from drapetemplate.planning.model import PanelPlan, Side
from drapetemplate.template.panel_drawing import MOTIF_HALF
from drapetemplate.template.strip import Strip, Template

PieceKind = Literal["near", "step", "far"]
FEWEST = 8  # eyelets from which stepping saves paper
STEP_RINGS = (3, 4, 5)  # the first is odd, so that its gap is a front one
# What belongs to one place of the panel, and so not on a piece that is laid at many.
_PLACED = {
    Role.NUMBER,
    Role.MEASURE,
    Role.SEAM,
    Role.SEAM_LABEL,
    Role.OTHER_SEAM,
    Role.OTHER_LABEL,
    Role.OTHER_END,
}
_MOTIFS = {Role.MOTIF, Role.OTHER_MOTIF}


@dataclass(frozen=True, slots=True)
class StepPiece:
    """A piece of a strip, from `left` to `right` in its frame, with the rings `first` to `last`."""

    kind: PieceKind
    left: Length
    right: Length
    first: int
    last: int


def pieces(whole: Strip) -> tuple[StepPiece, ...]:
    """The pieces of a strip, the leading end first; none where it has too few eyelets.

    Ten eyelets 20 mm across and 100 mm from centre to centre, on a strip of 1,080 mm:

    >>> from drapetemplate.template.strip import Ring
    >>> zero, length, height, outside, hole = (Fraction(mm) for mm in (0, 1080, 40, 20, 10))
    >>> rings = tuple(
    ...     Ring(number, Fraction(100 * number - 60), height / 2, outside, hole)
    ...     for number in range(1, 11)
    ... )
    >>> whole = Strip(length, height, rings, False, False, zero, length)
    >>> for piece in pieces(whole):
    ...     print(piece.kind, piece.first, piece.last, piece.left, piece.right)
    near 1 2 0 190
    step 3 5 190 490
    far 9 10 790 1080
    """
    count = len(whole.rings)
    if count < FEWEST:
        return ()
    half_gap = (abs(whole.rings[1].x - whole.rings[0].x) - whole.rings[0].outside) / 2
    parts = []
    ends: tuple[tuple[PieceKind, int, int], ...] = (
        ("near", 1, 2),
        ("step", STEP_RINGS[0], STEP_RINGS[-1]),
        ("far", count - 1, count),
    )
    for kind, first, last in ends:
        xs = [whole.rings[n - 1].x for n in (first, last)]
        reach = whole.rings[0].outside / 2 + half_gap
        left, right = min(xs) - reach, max(xs) + reach
        at_left = kind != "step" and (kind == "near") != whole.leading_at_right
        if kind != "step":
            left, right = (Fraction(0), right) if at_left else (left, whole.length)
        parts.append(StepPiece(kind, left, right, first, last))
    return tuple(parts)


def piece_name(kind: PieceKind, side: Side) -> str:
    """What a piece is called on its sheets and on the page that tells how to step.

    >>> [piece_name(kind, "left") for kind in ("near", "step", "far")]
    ['leading end', 'stepping piece', 'far end']
    """
    near = "left end" if side == "single" else "leading end"
    return {"near": near, "step": "stepping piece", "far": "far end"}[kind]


def strip_piece(whole: Strip, piece: StepPiece) -> Strip:
    """A piece as a strip of its own."""
    rings = whole.rings[piece.first - 1 : piece.last]
    return replace(
        whole,
        length=piece.right - piece.left,
        start=whole.start - piece.left,
        rings=tuple(replace(ring, x=ring.x - piece.left) for ring in rings),
    )


def template_piece(whole: Template, piece: StepPiece, units: Units, typeface: Typeface) -> Template:
    """A piece with the strip's own marks; the stepping piece's eyelets are A, B and C."""
    strip = strip_piece(whole.strip, piece)
    marks = _marks(whole, piece, strip, units, typeface)
    apart = abs(strip.rings[-1].x - strip.rings[0].x)
    first, last = ("A", "C") if piece.kind == "step" else (str(piece.first), str(piece.last))
    return replace(
        whole,
        piece=piece_name(piece.kind, whole.sides[0]),
        strip=strip,
        marks=tuple(marks),
        closing=f"{format_length(apart, units)} from hole {first} to hole {last}",
    )


def _marks(
    whole: Template, piece: StepPiece, strip: Strip, units: Units, typeface: Typeface
) -> Iterator[Mark]:
    height, edge = strip.height, strip.edge
    window = (piece.left, -edge, piece.right, height + edge)
    letters = dict(zip((str(n) for n in STEP_RINGS), "ABC", strict=True))
    centers = {ring.number: ring.x for ring in whole.strip.rings}
    for mark in whole.marks:
        if mark.role in _MOTIFS:
            left, _, right, _ = drawing.box(mark)
            middle = (left + right) / 2
            if not piece.left + MOTIF_HALF <= middle <= piece.right - MOTIF_HALF:
                continue  # of a mark cut through, its dot would be left
        if piece.kind == "step" and mark.role in _PLACED:
            if not isinstance(mark, Text) or mark.role not in {Role.NUMBER, Role.MEASURE}:
                continue
            number = next((n for n in STEP_RINGS if centers[n] == mark.x), None)
            if number is None:
                continue
            words = letters[str(number)]
            if mark.role == Role.MEASURE:
                off = abs(centers[number] - centers[STEP_RINGS[0]])
                words = f"A + {format_length(off, units)}" if off else "on the last odd hole"
            redrawn = drawing.text(
                typeface,
                mark.x,
                mark.y,
                words,
                mark.size,
                mark.role,
                anchor=mark.anchor,
                bold=mark.bold,
                most=float(strip.rings[0].outside) * 1.4,
            )
            yield drawing.moved(redrawn, -piece.left, Fraction(0))
            continue
        for part in clipped(mark, window):
            yield drawing.moved(part, -piece.left, Fraction(0))


def steps(panel: PanelPlan, units: Units) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Every step: its number, the hole A lies on, and holes B and C with their running measures.

    Measures are from the leading edge, each rounded for itself.
    """
    for step, a in enumerate(range(1, panel.count - 1, 2), 1):
        words = [f"A on hole {a}"]
        for letter, hole in (("B", a + 1), ("C", a + 2)):
            at = format_length(panel.centers[hole - 1], units)
            words.append(f"{letter} is hole {hole}, at {at}")
        yield step, tuple(words)
