"""Cloths and rows of eyelets for tests of seams and cuts."""

from __future__ import annotations

from fractions import Fraction

from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH, Length
from drapetemplate.planning.drop_sharing import Panels
from drapetemplate.planning.eyelets import gap_kinds
from drapetemplate.planning.seam_places import EyeletRow
from drapetemplate.planning.seams import SeamPlan, plan_seams


def goods(
    width: Length,
    *,
    seam: Length = INCH / 2,
    side_hem: Length = 3 * INCH,
    repeat: Length | None = None,
) -> Cloth:
    """A cloth of which only the widths matter."""
    return Cloth(
        name=None,
        width=width,
        seam=seam,
        side_hem=side_hem,
        heading=Fraction(0),
        bottom_hem=Fraction(0),
        repeat_down=None,
        repeat_across=repeat,
        railroad=False,
        weight=None,
        shrinkage=Fraction(0),
        allowance=Fraction(0),
    )


def row_of(outside: Length, gap: Length, count: int, ends: tuple[Length, Length]) -> EyeletRow:
    """A row on a pole: `gap` between flanges, `ends` before the first and after the last."""
    pitch = outside + gap
    first = ends[0] + outside / 2
    centers = tuple(first + n * pitch for n in range(count))
    return EyeletRow(
        centers[-1] + outside / 2 + ends[1], outside, centers, gap_kinds(count, "pole")
    )


def seams_of(
    cloth: Cloth, row: EyeletRow, panels: int = 2, *, extra_seams: int = 0, pairs: bool = False
) -> SeamPlan:
    """The plan, which there is as the cloth's width is known."""
    all_panels = Panels(panels, pairs, extra_seams)
    made = plan_seams(cloth, row, panels=all_panels, key="window[1].fabric", units="in")
    assert made is not None
    return made
