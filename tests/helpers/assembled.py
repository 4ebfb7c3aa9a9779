"""The assembly pages of a strip, the texts on them, and whether all of it can be read."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line, Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.sheet import SheetSet
from drapetemplate.ticket.assembly import assembly
from drapetemplate.ticket.flow import paper_flow
from tests.helpers.strips import FIXED, Spec

INCH = Fraction(254, 10)
HAIR = 1e-6


def assembled(spec: Spec, face: Typeface = FIXED) -> tuple[SheetSet, tuple[tuple[Mark, ...], ...]]:
    """A strip's sheets and its assembly pages."""
    [found] = spec.every(face)
    pages = assembly(spec.job(), found, spec.panel(), paper_flow(found.paper, face))
    return found, pages


def texts(pages: tuple[tuple[Mark, ...], ...], role: Role) -> list[str]:
    """The texts of one role, page after page."""
    return [m.text for page in pages for m in page if isinstance(m, Text) and m.role == role]


def placed(pages: tuple[tuple[Mark, ...], ...], *roles: Role) -> list[Text]:
    """The texts of some roles on the only page, from left to right."""
    [page] = pages
    return sorted((m for m in page if isinstance(m, Text) and m.role in roles), key=lambda m: m.x)


def outside_or_colliding(spec: Spec) -> None:
    """Nothing is past the margins, nothing is cut, and no text lies on another or on a join."""
    readable(*assembled(spec, typeface()))


def readable(found: SheetSet, pages: tuple[tuple[Mark, ...], ...]) -> None:
    """Nothing on assembly pages is past the margins, cut, on other words or on a join."""
    height = found.paper.height
    assert height is not None
    margin = float(found.paper.margin) - HAIR
    for page in pages:
        words = []
        for mark in page:
            left, bottom, right, top = drawing.box(mark)
            assert min(left, bottom) >= margin, mark
            assert right <= float(found.paper.width) - margin, mark
            assert top <= float(height) - margin, mark
            if isinstance(mark, Text):
                words.append((mark, (left, bottom, right, top)))
                # The job's name at the foot may be cut where the paper is narrow.
                assert mark.role == Role.FOOT or "…" not in mark.text
        for (one, a), (other, b) in combinations(words, 2):
            wide, high = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
            assert min(wide, high) < HAIR, (one.text, other.text)
        for mark in page:
            if isinstance(mark, Line) and mark.role == Role.PART_JOIN:
                x, low, high = float(mark.x1), float(mark.y1), float(mark.y2)
                for text, (left, bottom, right, top) in words:
                    crossed = left < x < right and bottom < high and low < top
                    assert not crossed, text.text
