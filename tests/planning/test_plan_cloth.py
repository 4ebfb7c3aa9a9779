"""Cloth in a whole plan: what each window takes, what the job orders, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from drapetemplate.errors import Fault, JobError
from drapetemplate.measures import INCH
from drapetemplate.planning.band import BandOrder
from drapetemplate.planning.cloth import ClothKey, ClothOrder, ClothUse
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.seams import SeamPlan
from tests.helpers.jobfiles import RING, inches, panel_of, plan_of, window_of

# 3 + 12 x 2 + 11 x 4 + 3 = 74 in: gaps of 4 in, pitch 6 in, 80 in raw with side hems of 3 in.
# A seam keeps 1/2 + 1/8 in off a flange; back gaps run from 11, 23, 35, 47 and 59 in on, so the
# first places behind their eyelets are 11 5/8, 23 5/8, 35 5/8, 47 5/8 and 59 5/8 in.
SIXES = "width = 74\nleading = 3\nreturn = 3\ncount = 12"
LONG = f"{SIXES}\nlength = 84"
# Heading 2 x 4 in of band and 8 in of hem: cuts of 84 + 8 + 8 = 100 in.
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54'


def only(window: WindowPlan) -> ClothUse:
    """The only cloth of a window."""
    (one,) = window.cloth
    return one


def seams_of(one: ClothUse) -> SeamPlan:
    """The seams, which are known."""
    assert one.seams is not None
    return one.seams


def faults_of(*windows: str, tables: str) -> list[Fault]:
    """What a plan of this job is refused with."""
    with pytest.raises(JobError) as refused:
        plan_of(*windows, tables=tables)
    return list(refused.value.faults)


def test_face() -> None:
    """A pair from 54 in cloth: the seam, the pieces, four drops and their length."""
    # The first piece reaches 54 - 1/2 = 53 1/2 in raw, 50 1/2 in finished, so the back gap from
    # 47 in: seam at 47 5/8 in. Pieces 3 + 47 5/8 + 1/2 and 74 - 47 5/8 + 3 + 1/2 in.
    one = only(window_of(LONG, tables=LINEN))
    seams = seams_of(one)
    assert one.part == "face"
    assert seams.seams == (inches("47 5/8"),)
    assert seams.pieces == (inches("51 1/8"), inches("29 7/8"))
    assert (seams.hidden, seams.visible, seams.drops) == (1, (), 4)
    assert (one.cut, one.total) == (100 * INCH, 400 * INCH)


def test_panels_have_the_seams_of_the_face() -> None:
    """Both panels of a pair have the face's seams and pieces, lined or not."""
    window = window_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48")
    for panel in window.panels:
        assert panel.seams == (inches("47 5/8"),)
        assert panel.pieces == (inches("51 1/8"), inches("29 7/8"))


def test_face_then_lining() -> None:
    """The lining comes after the face, its seam in a front gap where that is what it reaches."""
    # 48 in reaches 48 - 1/2 - 3 = 44 1/2 in: the face's last back gap is that from 35 in. The
    # lining reaches 48 - 1/2 - 1 1/2 = 46 in from its own edge, 47 1/2 in from the face's: its last
    # gap of any kind is that from 41 in, its seam 41 5/8 - 1 1/2 in from its own edge.
    window = window_of(LONG, tables="[fabric]\nwidth = 48\n[lining]\nwidth = 48\nheading = 2")
    assert [one.part for one in window.cloth] == ["face", "lining"]
    face, lining = window.cloth
    assert seams_of(face).seams == (inches("35 5/8"),)
    assert seams_of(lining).seams == (inches("40 1/8"),)
    assert seams_of(lining).hidden == 1
    # 84 - 1 + 2 + 4 in.
    assert (face.cut, lining.cut) == (100 * INCH, 89 * INCH)


# Of LONG, 74 x 84 in. In all of these a pair's second pieces are half of 54 in at most, so that
# they share a drop. Eyelet n's flange ends 5 + 6n in from the face's edge, a seam 5/8 in farther.
@pytest.mark.parametrize(
    ("keys", "finished", "pieces", "cut"),
    [
        # 74 - 3 and 84 - 1 in; 71 + 3 in raw, 83 + 4 in to cut. Behind eyelet 7 the seam is
        # 47 5/8 - 1 1/2 + 1 1/2 in from the raw edge.
        ("", ("71", "83"), ("48 1/8", "26 7/8"), "87"),
        # A top turn of its own.
        ('heading = "2 1/2"', ("71", "83"), ("48 1/8", "26 7/8"), "89 1/2"),
        # As wide and long as the face, with 1/2 in of seam at each edge: 75 in raw, 84 1/2 to cut.
        # 48 1/8 in raw is clear of the flange, but leaves 27 3/8 in; 48 1/2 is clear too.
        ('joined = "bagged"', ("74", "84"), ("49", "27"), "84 1/2"),
        # With 5/8 in of seam: 75 1/4 in raw, and 48 7/8 leaves 26 3/8 + 5/8 in.
        ('joined = "bagged"\nseam = "5/8"', ("74", "84"), ("49 1/2", "27"), "84 5/8"),
        # Sewn in at the sides alone, 1 in short, with a hem of its own.
        (
            'joined = "bagged"\nshort = 1\nbottom_hem = 4',
            ("74", "83"),
            ("49", "27"),
            "87",
        ),
        # 74 - 4 in and 2 in of hems: 72 in raw; eyelet 8's flange ends 53 - 2 + 1 in raw.
        ("set_in = 2\nside_hem = 1\nshort = 0", ("70", "84"), ("53 1/8", "19 7/8"), "88"),
    ],
)
def test_lining_as_it_is_made(
    keys: str, finished: tuple[str, str], pieces: tuple[str, str], cut: str
) -> None:
    """A lining is set in and short of the face, or bagged as large, with hems of its own."""
    lining = only(window_of(LONG, tables=f"[lining]\nwidth = 54\n{keys}"))
    assert (lining.width, lining.length) == tuple(map(inches, finished))
    seams = seams_of(lining)
    assert seams.pieces == tuple(map(inches, pieces))
    assert (seams.drops, seams.struck) == (3, ())
    assert (lining.cut, lining.total) == (inches(cut), 3 * inches(cut))


def test_lining_of_a_metric_job() -> None:
    """In mm: 40 set in, 25 short, hems of 40 and 100; 1880 - 80 + 80 across, 2134 - 25 + 100 down.

    Turned, the lining's run is its raw width.
    """
    window = "width = 1880\nleading = 76\nreturn = 76\ncount = 12\nlength = 2134"
    tables = "[lining]\nwidth = 2300\nrailroad = true\n"
    metric = 'units = "mm"'
    ring = "outside = 50\nopening = 25"
    lining = only(window_of(window, head=metric, eyelet=ring, tables=tables))
    assert [lining.width, lining.length] == [1800, 2109]
    assert [lining.cut, lining.panel_cut, lining.total] == [1880, 2209, 2 * 1880]
    bagged = f'{tables}joined = "bagged"\nseam = 15'
    lining = only(window_of(window, head=metric, eyelet=ring, tables=bagged))
    assert [lining.width, lining.length] == [1880, 2134]
    assert [lining.cut, lining.panel_cut] == [1910, 2149]


def test_lining_of_a_length_not_known() -> None:
    """Without a finished length its width is known all the same, and no cut."""
    lining = only(window_of(SIXES, tables="[lining]\nwidth = 54"))
    assert (lining.width, lining.length, lining.cut) == (71 * INCH, None, None)


def test_a_window_lines_its_own_way() -> None:
    """A window's own keys go over the file's: one of two is bagged, the other stays loose."""
    own = f'{LONG}\n[window.lining]\njoined = "bagged"'
    made = plan_of(LONG, own, tables="[lining]\nwidth = 54\nbottom_hem = 3")
    first, second = (only(window) for window in made.windows)
    # 84 - 1 + 3 in; 84 + 3 in, as the file's bottom hem counts for both.
    assert (first.cut, second.cut) == (86 * INCH, 87 * INCH)
    assert (first.width, second.width) == (71 * INCH, 74 * INCH)
    (order,) = made.order.cloth
    assert (order.drops, order.total) == (6, 3 * (86 + 87) * INCH)


def test_a_lining_of_nothing_is_refused() -> None:
    """Set in or short as far as its panel goes, or farther, it is refused at both keys."""
    short = "[lining]\nwidth = 54\nset_in = 37\nshort = 84"
    assert [(fault.where, fault.text) for fault in faults_of(LONG, tables=short)] == [
        (
            "window[1].lining.set_in",
            "37 in from both side edges leaves nothing of a panel of 74 in: set it in less",
        ),
        ("window[1].lining.short", "84 in leaves nothing of a panel of 84 in: give less"),
    ]
    window_of(LONG, tables="[lining]\nwidth = 54\nset_in = 36\nshort = 83")


def test_no_cloth() -> None:
    """A job that names no cloth has none: no seams to tell, nothing to order."""
    made = plan_of(LONG)
    (window,) = made.windows
    assert (window.cloth, made.order.cloth) == ((), ())
    assert {(panel.seams, panel.pieces) for panel in window.panels} == {(None, None)}


def test_lining_alone() -> None:
    """A lining without a face is planned, but the panel's seams are the face's alone."""
    window = window_of(LONG, tables="[lining]\nwidth = 54")
    assert only(window).part == "lining"
    assert (window.panels[0].seams, window.panels[0].pieces) == (None, None)


def test_width_not_known() -> None:
    """Cloth of unknown width has a cut length but no seams, drops or total."""
    made = plan_of(LONG, tables='[fabric]\nname = "Heron linen"')
    one = only(made.windows[0])
    assert (one.seams, one.cut, one.total) == (None, 100 * INCH, None)
    assert made.windows[0].panels[0].seams is None
    (order,) = made.order.cloth
    assert (order.width, order.drops, order.total, order.amount) == (None, None, None, None)


def test_length_not_known() -> None:
    """Without a finished length seams and drops are known, cut and total aren't."""
    made = plan_of(SIXES, tables=LINEN)
    one = only(made.windows[0])
    assert (seams_of(one).drops, one.cut, one.total) == (4, None, None)
    (order,) = made.order.cloth
    assert (order.drops, order.total, order.amount) == (4, None, None)


def test_length_from_the_pole() -> None:
    """A length worked out from the pole is cut like one that is given."""
    # 84 to the pole, 1 in above the eyelet, (2 - 1)/2 of flange, 1/2 in off the floor: 85 in.
    one = only(window_of(SIXES, tables=f"[pole]\ntop = 84\n{LINEN}"))
    assert one.cut == 101 * INCH


def test_repeat_and_shrinkage() -> None:
    """A cut grows by the shrinkage, then up to whole repeats."""
    # 100 in and 4 in a hundred are 104: five repeats of 24 in.
    one = only(window_of(LONG, tables=f'{LINEN}\nrepeat_down = 24\nshrinkage = "4 %"'))
    assert (one.cut, one.total) == (120 * INCH, 480 * INCH)


def test_repeat_across() -> None:
    """A pattern keeps the seams of a panel whole repeats apart, all the same hidden."""
    # 24 eyelets: 3 + 2 + 138 + 3 = 146 in. The first piece reaches 50 1/2 in: 47 5/8. Repeats of
    # 25 in take the next to 97 5/8, in the back gap whose places are 95 5/8 to 98 3/8 in.
    window = "width = 146\nleading = 3\nreturn = 3\ncount = 24\nlength = 84"
    panel = panel_of(window, tables=f"{LINEN}\nrepeat_across = 25")
    assert panel.seams == (inches("47 5/8"), inches("97 5/8"))
    assert panel_of(window, tables=LINEN).seams == (inches("47 5/8"), inches("95 5/8"))


def test_single_panel() -> None:
    """A single panel's seam is measured from its left edge; it takes two drops."""
    window = window_of(
        'panels = "single"\nwidth = 74\nreturn = 3\ncount = 12\nlength = 84', tables=LINEN
    )
    assert window.panels[0].seams == (inches("47 5/8"),)
    assert seams_of(only(window)).drops == 2


def test_hooks() -> None:
    """On hooks a seam may stand in any gap."""
    # 48 in reaches 44 1/2: the gap from 41 in, a front gap on a pole.
    panel = panel_of(LONG, eyelet=f'{RING}\nhung = "hooks"', tables="[fabric]\nwidth = 48")
    assert panel.seams == (inches("41 5/8"),)


@pytest.mark.parametrize(
    ("width", "panels", "quantity", "drops"),
    [
        (54, "pair", 3, 12),  # 29 7/8 in twice is more than 54: two drops to each of 6 panels
        (60, "pair", 3, 9),  # 29 7/8 in twice fits 60: six and three shared
        (60, "left", 3, 5),  # three, one shared and one for the last panel alone
        (60, "left", 1, 2),
    ],
)
def test_quantity(width: int, panels: str, quantity: int, drops: int) -> None:
    """All panels of a window's quantity share drops where they can."""
    window = f'{LONG}\npanels = "{panels}"\nquantity = {quantity}'
    one = only(window_of(window, tables=f"[fabric]\nwidth = {width}"))
    assert drops == seams_of(one).drops
    assert one.total == drops * 100 * INCH


def test_railroaded() -> None:
    """Turned cloth has no seams: a run of the raw width a panel, length known or not."""
    tables = "[fabric]\nwidth = 100\nrailroad = true"
    for window in (LONG, SIXES):
        made = window_of(window, tables=tables)
        seams = seams_of(only(made))
        assert (seams.seams, seams.pieces, seams.drops) == ((), (80 * INCH,), 2)
        assert (only(made).cut, only(made).total) == (80 * INCH, 160 * INCH)
        assert (made.panels[0].seams, made.panels[0].pieces) == ((), (80 * INCH,))


def test_a_window_of_its_own_cloth() -> None:
    """A window's own cloth counts for it, key by key."""
    own = f"{LONG}\n[window.fabric]\nwidth = 60"
    made = plan_of(LONG, own, tables=LINEN)
    first, second = (only(window) for window in made.windows)
    assert (first.cloth.name, first.cloth.width) == ("Heron linen", 54 * INCH)
    assert (second.cloth.name, second.cloth.width) == ("Heron linen", 60 * INCH)
    assert (seams_of(first).drops, seams_of(second).drops) == (4, 3)


def test_order_of_the_whole_job() -> None:
    """Cloth, eyelets and bands add up over all windows before they are rounded."""
    # Cuts of 100 and, with a 6 in band, 84 + 12 + 8 = 104 in; 4 drops of each make 816 in,
    # and 4 in of allowance 820 in, 22.8 yd. Eyelets 2 x 12 + 2 x 12 = 48 and 3 spares: six packs of
    # 10.
    made = plan_of(
        LONG,
        f"{LONG}\n[window.band]\nheight = 6",
        eyelet=f"{RING}\npack = 10\nspares = 3",
        tables=LINEN,
    )
    key = ClothKey("Heron linen", named=True, width=54 * INCH)
    assert made.order.cloth == (
        ClothOrder(
            cloth_key=key,
            part="face",
            fabric="Heron linen",
            width=54 * INCH,
            drops=8,
            total=816 * INCH,
            allowance=4 * INCH,
            repeat=Fraction(0),
            amount=Fraction(23),
            unit="yd",
        ),
    )
    (ring,) = made.order.eyelets
    assert (ring.used, ring.spares, ring.packs, ring.bought) == (48, 3, 6, 60)
    # 148 in are 4.11 yd.
    four = BandOrder(height=4 * INCH, length=148 * INCH, amount=Fraction(17, 4), unit="yd")
    assert made.order.bands == (four, replace(four, height=6 * INCH))
    assert (made.eyelets, made.band) == (48, 296 * INCH)


def test_order_counts_the_quantity() -> None:
    """A window made twice takes and orders everything twice."""
    made = plan_of(f"{LONG}\nquantity = 2", tables=LINEN)
    (order,) = made.order.cloth
    assert (order.drops, order.total) == (8, 800 * INCH)
    assert order.amount == Fraction(45, 2)  # 804 in: 22.33 yd
    assert made.order.eyelets[0].used == 48
    [band] = made.order.bands
    assert (band.height, band.length, band.amount) == (4 * INCH, 296 * INCH, Fraction(33, 4))


def test_order_in_metres() -> None:
    """A job in millimetres orders metres, up to a tenth."""
    window = 'width = "74 in"\nleading = "3 in"\nreturn = "3 in"\ncount = 12\nlength = "84 in"'
    ring = 'outside = "2 in"\nopening = "1 in"'
    made = plan_of(window, head='units = "mm"', eyelet=ring, tables='[fabric]\nwidth = "54 in"')
    (order,) = made.order.cloth
    assert (order.total, order.amount, order.unit) == (
        # 2133.6 + 2 x (50.8 + 50) + 200 mm, to cut 2536 mm, four times; and 100 mm.
        Fraction(10144),
        Fraction(103, 10),
        "m",
    )


def test_order_keeps_things_apart() -> None:
    """Cloths by name and eyelets by what they are, in the order in which windows take them."""
    other = (
        f'{LONG}\n[window.fabric]\nname = "Heron wool"\n[window.eyelet]\nhole = "1 1/8"\n'
        "[window.lining]\nwidth = 54"
    )
    made = plan_of(LONG, other, tables=LINEN)
    assert [(one.part, one.fabric, one.drops) for one in made.order.cloth] == [
        ("face", "Heron linen", 4),
        ("face", "Heron wool", 4),
        ("lining", None, 3),
    ]
    assert [(one.eyelet.hole, one.used) for one in made.order.eyelets] == [
        (INCH, 24),
        (inches("1 1/8"), 24),
    ]


def test_one_cloth_as_face_and_lining() -> None:
    """One name and one width is one cloth to buy, whatever it is used for."""
    made = plan_of(LONG, tables=f"{LINEN}\n{LINEN.replace('fabric', 'lining')}")
    (order,) = made.order.cloth
    # Four drops of 100 in, and three of the lining's 84 - 1 + 4 in.
    assert (order.drops, order.total, order.part) == (7, 661 * INCH, "face")


def test_order_of_a_length_not_known() -> None:
    """One window without a length leaves what to order of its cloth open, drops but for that."""
    made = plan_of(LONG, SIXES, tables=LINEN)
    (order,) = made.order.cloth
    assert (order.drops, order.total, order.amount) == (8, None, None)


TURNED = "width = {}\nrailroad = true"
COARSE = "width = 30\nrepeat_across = 32"
NARROW = "width = 7\nseam = 3.4"


@pytest.mark.parametrize(
    ("part", "table", "key", "said"),
    [
        ("fabric", TURNED.format(99), "railroad", "take 100 in, which doesn't fit across"),
        ("lining", TURNED.format(86), "railroad", "take 87 in, which doesn't fit across"),
        ("fabric", "width = 3.5", "width", "wider than 3 1/2 in"),
        ("lining", "width = 2", "width", "wider than 2 in"),
        ("fabric", COARSE, "repeat_across", "33 in or wider"),
        ("lining", COARSE, "repeat_across", "33 in or wider"),
        # Inner pieces of 7 - 6.8 = 0.2 in: (80 - 7)/0.2 = 365 and one more; of the lining's 74 raw
        # (74 - 7)/0.2 = 335 and one more.
        ("fabric", NARROW, "width", "366 widths of 7 in, more than the 200"),
        ("lining", NARROW, "width", "336 widths of 7 in, more than the 200"),
    ],
)
def test_refused(part: str, table: str, key: str, said: str) -> None:
    """Cloth that can't make the panels is refused at its key, with what would be right."""
    (fault,) = faults_of(LONG, tables=f"[{part}]\n{table}")
    assert f"window[1].{part}.{key}" == fault.where
    assert said in fault.text


def test_every_window_is_refused() -> None:
    """Windows that can't be planned are told together, each at its own key."""
    narrow = f"{LONG}\n[window.fabric]\nwidth = 3.5"
    turned = f"{LONG}\n[window.fabric]\nwidth = 99\nrailroad = true"
    faults = faults_of(narrow, LONG, turned, tables=LINEN)
    assert [fault.where for fault in faults] == [
        "window[1].fabric.width",
        "window[3].fabric.railroad",
    ]


def test_every_cloth_is_refused() -> None:
    """A face and a lining that can't be cut are told together."""
    faults = faults_of(LONG, tables="[fabric]\nwidth = 3.5\n[lining]\nwidth = 2")
    assert [fault.where for fault in faults] == ["window[1].fabric.width", "window[1].lining.width"]


@pytest.mark.parametrize("table", ["width = 100\nrailroad = true", "width = 99\nrailroad = false"])
def test_what_a_refusal_asks_for_will_do(table: str) -> None:
    """Cloth as wide as the cut can be railroaded; narrower cloth can be cut along it."""
    assert only(window_of(LONG, tables=f"[fabric]\n{table}")).total is not None


def test_a_panel_of_one_piece_needs_no_match() -> None:
    """A pattern wider than seams leave of the cloth is no matter where a panel has no seam."""
    # 20 + 2 x 3 = 26 in of 30 in cloth.
    panel = panel_of("width = 20\ncount = 4", tables="[fabric]\nwidth = 30\nrepeat_across = 32")
    assert (panel.seams, panel.pieces) == ((), (26 * INCH,))
