"""Seams where a limit is met exactly, and cloth without seam allowance or hem."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from drapetemplate.measures import INCH
from tests.helpers.rows import goods, row_of, seams_of

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


def test_half_of_an_odd_width() -> None:
    """Half a width is exact, and a piece a hair wider than it has no like on its drop.

    Millimetres, raw: cloth of 1000.025, half of it 500.0125, so with a seam of 10 a first piece
    that shares ends at 490.0125 or before. Behind eyelets 1 and 3 (from 0) of 40, 100 from centre
    to centre from 156.85 on, seams may stand at 290.025 to 323.675 and 490.025 to 523.675. The
    panel is 1300, so the last piece begins at 1300 - 990.025 = 309.975 or after, and is too wide
    for two from a drop.
    """
    hem = Fraction(50)
    cloth = goods(Fraction(40001, 40), seam=Fraction(10), side_hem=hem)
    row = row_of(Fraction(40), Fraction(60), 6, (Fraction("86.85"), Fraction("573.15")))
    assert row.width == 1200
    made = seams_of(cloth, row)
    assert made.seams == (Fraction("309.975") - hem,)
    assert (made.drops, made.layouts[-1].pieces) == (3, (0, 0))
    assert made.layouts[-1].left_over == Fraction("1000.025") - 2 * Fraction("319.975")


def test_two_partials_that_just_fit() -> None:
    """Two pieces of a panel share a drop where they fill it to the last digit, and no other way.

    Eighths of an inch, raw: 8 eyelets of 1, gaps of 9, ends 2 and 4, hems of 3: 83 in all. A seam
    of 1 keeps 2 off, so seams may stand at 18 to 23, 38 to 43 and 58 to 63. Cloth of 36 spans 35
    at an end and 34 between: three pieces don't reach from 23 to 58. With four, seams x, y and z
    leave x + 1, y - x + 2, z - y + 2 and 84 - z, and of these only the first and the third can be
    36 together: x + z - y + 3 is 36 where x = 18, y = 43 and z = 58.
    """
    eighth = INCH / 8
    row = row_of(eighth, 9 * eighth, 8, (2 * eighth, 4 * eighth))
    made = seams_of(goods(36 * eighth, seam=eighth, side_hem=3 * eighth), row, panels=1)
    assert [(seam / eighth) + 3 for seam in made.seams] == [18, 43, 58]
    assert (made.drops, made.hidden) == (3, 3)
    assert (made.layouts[-1].pieces, made.layouts[-1].left_over) == ((0, 2), NONE)


def test_two_partials_tie() -> None:
    """Of two ways to set the seam between two partials, the farther gap from the leading edge.

    In 1/8 in: ten rings of 1 with gaps of 7 on hooks, 2 before the first and 3 after the last, so
    78 finished and 80 raw; cloth 30, seam 1. Between the partials, pieces 0 and 2, the seams may
    stand at 5 and 32 or at 21 and 48; the last one is at 53 either way, and six drops are bought.
    """
    eighth = INCH / 8
    row = replace(row_of(eighth, 7 * eighth, 10, (2 * eighth, 3 * eighth)), gaps=())
    made = seams_of(goods(30 * eighth, seam=eighth, side_hem=eighth), row)
    assert [seam / eighth for seam in made.seams] == [21, 48, 53]
    assert made.drops == 6
