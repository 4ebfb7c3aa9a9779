"""Seams where a limit is met exactly, and cloth without seam allowance or hem."""

from __future__ import annotations

from fractions import Fraction

from rows import goods, row_of, seams_of

from drapetemplate.measures import INCH

NONE = Fraction(0)


def test_no_allowance_and_no_hem() -> None:
    """Without a hem the cloth before the first eyelet begins at its edge, and a seam may be there.

    Leading 40, an eyelet of 20 in at either side of a gap of 2 in, return 17: 99 in finished and
    raw. From cloth of 60 1/16 the seam stands 38 15/16 to 60 1/16 from the leading edge: clear of
    the eyelet, which takes 39 7/8 to 60 1/8 with 1/8 in beside it, only before it.
    """
    cloth = goods(Fraction(961, 16) * INCH, seam=NONE, side_hem=NONE, repeat=INCH / 2)
    row = row_of(20 * INCH, 2 * INCH, 2, (40 * INCH, 17 * INCH))
    made = seams_of(cloth, row)
    assert (made.visible, made.struck) == ((0,), ())
    assert made.seams == (Fraction(623, 16) * INCH,)
