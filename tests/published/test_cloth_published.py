"""Published figures and rules for widths, cuts, yards and seams; common practice is marked so."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

from rows import goods, row_of, seams_of

from drapetemplate.measures import INCH, YARD
from drapetemplate.planning.cloth import cloth_orders, cut_length, takes
from drapetemplate.planning.eyelets import width_from_widths
from drapetemplate.planning.seams import Row

# The panel of common practice: 75 in finished, eyelets 3 3/4 in across, 3 in left at each end,
# 10 eyelets 3 1/2 in apart.
PANEL = row_of(Fraction(15, 4) * INCH, Fraction(7, 2) * INCH, 10, (3 * INCH, 3 * INCH))


def raw_row(raw: Fraction) -> Row:
    """A row of hooks so close that seams may stand nearly anywhere, for counting widths."""
    width = raw - 6 * INCH
    return replace(row_of(INCH / 8, width - 2 * INCH - INCH / 4, 2, (INCH, INCH)), gaps=())


def test_five_widths() -> None:
    """84 x 2.5 + 2 x 3.5 + 8 in = 225 in of 54 in cloth: 5 widths (ehow.co.uk, how_6326063)."""
    assert 84 * Fraction(5, 2) + 2 * Fraction(7, 2) + 8 == 225
    # The source joins without allowances; 1/2 in seams take the same number.
    for seam in (Fraction(0), INCH / 2):
        made = seams_of(goods(54 * INCH, seam=seam), raw_row(225 * INCH), panels=1)
        assert (made.drops, made.least_drops) == (5, 5)


def test_widths_are_rounded_up() -> None:
    """Widths are finished width by fullness over cloth width, rounded up (Damour handout)."""
    # Allowances aside, which the handout leaves to the workroom.
    for raw in range(30, 400, 7):
        cloth = goods(54 * INCH, seam=Fraction(0))
        made = seams_of(cloth, raw_row(raw * INCH), panels=1)
        assert len(made.pieces) == ceil(Fraction(raw, 54))


def test_published_yards() -> None:
    """Five cuts of 88 in are 440 in, 12.22 yd (ehow.co.uk, how_6326063), so 12 1/4 to order."""
    cloth = replace(goods(54 * INCH), heading=4 * INCH, bottom_hem=6 * INCH)
    made = takes("face", cloth, raw_row(225 * INCH), 78 * INCH, panels=1, key="", units="in")
    assert made.total == 440 * INCH
    assert round(float(made.total / YARD), 2) == 12.22
    (order,) = cloth_orders([made], "in")
    assert (order.amount, order.unit) == (Fraction(49, 4), "yd")


def test_published_repeat() -> None:
    """100 + 16 in, repeat 25 in: cut 125 in, 9 in over (Workroom Threads, August 2011)."""
    cloth = replace(goods(54 * INCH), heading=8 * INCH, bottom_hem=8 * INCH, repeat_down=25 * INCH)
    made = takes("face", cloth, PANEL, 100 * INCH, panels=1, key="", units="in")
    assert made.cut == 125 * INCH
    assert made.cut - 116 * INCH == 9 * INCH
    assert made.total == 2 * cut_length(cloth, 100 * INCH)


def test_half_widths_go_to_the_return_edge() -> None:
    """Half widths go to the return edge (Damour handout): the whole ones lead."""
    # Two widths and a half of 54 in make 127 in; hooks 1 1/2 in apart let a seam stand every
    # 1 1/2 in, so that 124 in is sure to come out of them.
    assert width_from_widths(Fraction(5, 2), 54 * INCH, INCH / 2, 3 * INCH) == 127 * INCH
    end = Fraction(19, 16) * INCH
    row = replace(row_of(INCH / 8, Fraction(11, 8) * INCH, 82, (end, end)), gaps=())
    assert row.width == 124 * INCH
    made = seams_of(goods(54 * INCH), row)
    *whole, half = made.pieces
    assert all(piece > 52 * INCH for piece in whole)
    assert half <= 27 * INCH
    assert (made.drops, made.cuts[-1].pieces) == (5, (2, 2))


def test_width_and_a_half_shows_its_seam() -> None:
    """Common practice: 54 in cloth as a width and a half seams at 50 1/2 in, in a front gap."""
    assert PANEL.width == 75 * INCH
    cloth = goods(54 * INCH)
    assert cloth.width is not None
    # The whole width leads, less one seam and one hem.
    at = cloth.width - cloth.seam - cloth.side_hem
    assert at == Fraction(101, 2) * INCH
    before = [n for n, center in enumerate(PANEL.centers) if center < at]
    assert PANEL.gaps[before[-1]] == "front"


def test_two_full_widths_hide_it() -> None:
    """Common practice: from two full widths the seam moves into a back gap, close behind."""
    made = seams_of(goods(54 * INCH), PANEL)
    assert (made.hidden, made.visible, made.drops) == (1, (), 4)
    (at,) = made.seams
    before = [n for n, center in enumerate(PANEL.centers) if center < at]
    assert PANEL.gaps[before[-1]] == "back"
    # A flange, the seam allowance and 1/8 in: 5/8 in behind the eyelet's edge.
    assert at - PANEL.centers[before[-1]] == PANEL.outside / 2 + Fraction(5, 8) * INCH
