"""Published figures and rules for widths, cuts, yards and seams; common practice is marked so."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest

from drapetemplate.measures import INCH, YARD
from drapetemplate.planning.eyelets import width_from_widths
from drapetemplate.planning.seam_places import EyeletRow, hidden_and_clear
from tests.helpers.jobfiles import plan_of
from tests.helpers.rows import goods, row_of, seams_of


def raw_row(raw: Fraction) -> EyeletRow:
    """A row of hooks so close that seams may stand nearly anywhere, for counting widths."""
    width = raw - 6 * INCH
    return replace(row_of(INCH / 8, width - 2 * INCH - INCH / 4, 2, (INCH, INCH)), gaps=())


def test_widths_are_rounded_up() -> None:
    """Widths are finished width by fullness over cloth width, rounded up (Damour handout)."""
    # Allowances aside, which the handout leaves to the workroom.
    for raw in range(30, 400, 7):
        cloth = goods(54 * INCH, seam=Fraction(0))
        made = seams_of(cloth, raw_row(raw * INCH), panels=1)
        assert len(made.pieces) == ceil(Fraction(raw, 54))


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
    assert (made.drops, made.layouts[-1].pieces) == (5, (2, 2))


def test_five_widths() -> None:
    """84 x 2.5 + 2 x 3.5 + 8 in, 88 in cuts: 5 widths, 440 in, 12.22 yd (how_6326063)."""
    # 2 1/2 in of return and half of a 2 in eyelet are the 3 1/2 in to the wall; 4 in of hem.
    made = plan_of(
        'panels = "single"\ncovers = 84\nfullness = 2.5\nreturn = 2.5\nlength = 78',
        tables="[fabric]\nwidth = 54\nside_hem = 4\nheading = 4\nbottom_hem = 6\nallowance = 0",
    )
    ((one,), (panel,)) = made.windows[0].cloth, made.windows[0].panels
    assert panel.width + 8 * INCH == 225 * INCH
    assert one.seams is not None
    assert (one.seams.drops, one.seams.least_drops, one.seams.visible) == (5, 5, ())
    assert (one.cut, one.total) == (88 * INCH, 440 * INCH)
    assert one.total is not None
    assert f"{float(one.total / YARD):.2f}" == "12.22"
    (order,) = made.order.cloth
    assert (order.drops, order.amount, order.unit) == (5, Fraction(49, 4), "yd")


@pytest.mark.parametrize(
    ("covers", "fullness", "repeat", "widths", "cut"),
    [
        # The handout's own rule; figures worked out here. 30 x 2 = 60 in: 1.1 widths of 54 in;
        # 84 + 16 = 100 in.
        ("30", "2", "", 2, 100),
        ("60", "2 1/2", "24", 3, 120),  # 150 in: 2.8 widths; 4.2 repeats
        ("71 7/8", "3", "25", 4, 100),  # 215 5/8 in: 3.99 widths; 4 repeats
        ("72 1/8", "3", "27", 5, 108),  # 216 3/8 in: 4.007 widths; 3.7 repeats
    ],
)
def test_widths_cut_and_yards(
    covers: str, fullness: str, repeat: str, widths: int, cut: int
) -> None:
    """Widths, cut and yards of the Damour handout: up to whole widths and whole repeats."""
    # Allowances aside, as above: no seams or side hems, hooks as close as can be, and ends that
    # together with one eyelet come to nothing beside the cloth.
    table = "width = 54\nseam = 0\nside_hem = 0\nheading = 8\nbottom_hem = 8\nallowance = 0"
    made = plan_of(
        f'panels = "single"\ncovers = "{covers}"\nfullness = "{fullness}"\nlength = 84\n'
        "return = 0\ngap = 1",
        eyelet='outside = "1/100 mm"\nopening = "1/200 mm"\nhung = "hooks"',
        tables=f"[fabric]\n{table}\n" + (f"repeat_down = {repeat}" if repeat else ""),
    )
    (one,) = made.windows[0].cloth
    assert one.seams is not None
    assert (widths, cut * INCH) == (len(one.seams.pieces), one.cut)
    (order,) = made.order.cloth
    assert order.amount is not None
    # Yards are widths x cut / 36, then up to what is sold; a repeat more is this tool's.
    yards = Fraction(widths * cut + int(repeat or 0), 36)
    assert 0 <= order.amount - yards < Fraction(1, 4)


def test_published_repeat() -> None:
    """100 + 16 in, repeat 25 in: cut 125 in (Workroom Threads, August 2011), band wrapped whole."""
    # A 4 in band wrapped whole takes 8 in, a 4 in hem turned double 8 in (Damour handout).
    for repeat, cut in (("repeat_down = 25", 125), ("", 116)):
        made = plan_of(
            "width = 40\nlength = 100", tables=f"[band]\nheight = 4\n[fabric]\nwidth = 54\n{repeat}"
        )
        (one,) = made.windows[0].cloth
        assert one.cut == cut * INCH
        assert one.total == 2 * cut * INCH


@pytest.mark.parametrize("widths", ["1.5", "2.5"])
def test_half_widths(widths: str) -> None:
    """Panels are of full or half widths (UFGS-12 22 00, 2.2.1.1); the half goes to the return."""
    # Hooks 6 in apart let the seams be moved, so pieces are near their widths, not just so.
    made = plan_of(
        f"widths = {widths}\nlength = 84",
        eyelet='outside = "1/8"\nopening = "1/16"\nhung = "hooks"',
        tables="[fabric]\nwidth = 54",
    )
    (one,) = made.windows[0].cloth
    assert one.seams is not None
    *whole, half = one.seams.pieces
    assert len(whole) == int(float(widths))
    assert half < min(whole)
    assert all(piece > 46 * INCH for piece in whole)


def test_the_panel_of_common_practice() -> None:
    """Common practice, as a job: 50 1/2 in is in a front gap; two full widths hide the seam."""
    made = plan_of(
        "width = 75\nleading = 3\nreturn = 3\ncount = 10\nlength = 90",
        eyelet='outside = "3 3/4"\nopening = 2',
        tables="[band]\nheight = 6\n[fabric]\nwidth = 54\nallowance = 0",
    )
    (window,) = made.windows
    panel = window.panels[0]
    assert (panel.gap, panel.pitch) == (Fraction(7, 2) * INCH, Fraction(29, 4) * INCH)

    def before(at: Fraction) -> int:
        return max(n for n, center in enumerate(panel.centers) if center < at)

    # A width and a half: the whole width leads, 54 - 1/2 - 3 = 50 1/2 in of it finished.
    at = Fraction(101, 2) * INCH
    assert panel.gaps[before(at)] == "front"
    (one,) = window.cloth
    row = EyeletRow(panel.width, panel.outside, panel.centers, panel.gaps)
    scale = 160  # in whole 1/160 mm, for 3 in of hem, and for 1/8 and 1/16 in
    hidden, _ = hidden_and_clear(one.cloth, row, scale)
    raw = (at + 3 * INCH) * scale
    assert not any(start <= raw <= end for start, end in hidden)
    # Two full widths a panel: behind the sixth eyelet, whose flange ends at 4 7/8 + 5 x 7 1/4 +
    # 1 7/8 = 43 in, and 5/8 in on.
    assert panel.seams == (Fraction(349, 8) * INCH,)
    eyelet = before(panel.seams[0])
    assert (eyelet, panel.gaps[eyelet]) == (5, "back")
    assert panel.seams[0] - panel.centers[eyelet] - panel.outside / 2 == Fraction(5, 8) * INCH
    # 3 + 43 5/8 + 1/2 and 75 - 43 5/8 + 3 + 1/2 in, from four full widths for the pair.
    assert panel.pieces == (Fraction(377, 8) * INCH, Fraction(279, 8) * INCH)
    assert one.seams is not None
    assert (one.seams.drops, one.seams.hidden, one.seams.visible) == (4, 1, ())
    assert [finding.code for finding in window.findings if "seam" in finding.code] == []
    # Cuts of 90 + 12 + 8 = 110 in: 440 in are 12.22 yd.
    assert made.order.cloth[0].amount == Fraction(49, 4)


def test_every_count_hides_the_seam_of_common_practice() -> None:
    """Common practice: the eyelets of that panel may be 8 or 10, and either hides the seam."""
    for count in (8, 10):
        made = plan_of(
            f"width = 75\nleading = 3\nreturn = 3\ncount = {count}\nlength = 90",
            eyelet='outside = "3 3/4"\nopening = 2',
            tables="[fabric]\nwidth = 54",
        )
        (one,) = made.windows[0].cloth
        assert one.seams is not None
        assert (one.seams.visible, one.seams.drops) == ((), 4)
