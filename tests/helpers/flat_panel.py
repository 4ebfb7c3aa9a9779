"""A panel of patterned cloth laid flat from its pieces as they are cut: what shows where.

Only what the cutting page says is used: where a piece lies on the cloth, how wide it is, which it
is of its panel, and what a seam and a side hem take. All in millimetres, from the leading edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from drapetemplate.planning.drops import drops
from drapetemplate.planning.model import Plan


@dataclass(frozen=True)
class Laid:
    """A piece sewn in: from `start` to `end` of the raw panel; `cloth` is the cloth at its start.

    From the left selvage; `way` is 1 where it runs to the right from there, and -1 in a left panel.
    """

    start: Fraction
    end: Fraction
    cloth: Fraction
    way: int

    def shows(self, place: Fraction) -> Fraction:
        """What place of the cloth is there, from its left selvage."""
        return self.cloth + self.way * (place - self.start)


def flat_panels(plan: Plan, seam: Fraction) -> Iterator[tuple[str, list[Laid]]]:
    """Each panel of a one-window plan, its name and its pieces from the leading edge on."""
    found: dict[str, dict[int, tuple[Fraction, Fraction, int]]] = {}
    (order, *_) = plan.order.cloth
    for drop in drops(plan, order):
        for piece in drop.pieces:
            assert piece.left >= 0
            assert drop.cloth.width is not None
            assert piece.left + piece.width <= drop.cloth.width
            cut = found.setdefault(piece.panel.name, {})
            assert piece.number not in cut
            cut[piece.number] = (piece.left, piece.width, piece.of)
        ends = sorted((piece.left, piece.left + piece.width) for piece in drop.pieces)
        assert all(one[1] <= other[0] for one, other in pairwise(ends))
    for name, cut in found.items():
        way = -1 if name.startswith("left") else 1
        laid: list[Laid] = []
        at = Fraction(0)
        for number, (left, width, of) in sorted(cut.items()):
            assert len(cut) == of
            sewn = width - seam * ((number > 1) + (number < of))
            before = seam if number > 1 else 0
            edge = left + before if way == 1 else left + width - before
            laid.append(Laid(at, at + sewn, edge, way))
            at += sewn
        yield name, laid
