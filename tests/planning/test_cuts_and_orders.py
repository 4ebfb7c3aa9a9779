"""What a window takes of its cloths, and what to order for the whole job."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.job.model import Cloth, Eyelet
from drapetemplate.measures import INCH, METRE, YARD, Length, Units
from drapetemplate.planning.cloth import (
    ClothKey,
    ClothOrder,
    ClothUse,
    EyeletOrder,
    Part,
    cloth_orders,
    cloth_use,
    eyelet_orders,
    rounded_order,
)
from drapetemplate.planning.drop_sharing import Panels
from drapetemplate.planning.seam_places import EyeletRow
from tests.helpers.rows import goods, row_of

# 12 eyelets, 74 in finished, 80 in raw: two pieces of 54 in cloth, see test_seams.
ROW = row_of(2 * INCH, 4 * INCH, 12, (3 * INCH, 3 * INCH))
FACE = replace(goods(54 * INCH), name="Heron linen", heading=8 * INCH, bottom_hem=8 * INCH)
LENGTH = 84 * INCH
RING = Eyelet(
    outside=2 * INCH,
    opening=INCH,
    hole=INCH,
    thickness=Fraction(0),
    hung="pole",
    weight=None,
    pack=10,
    spares=3,
)


def taken(
    cloth: Cloth,
    *,
    part: Part = "face",
    row: EyeletRow = ROW,
    length: Length | None = LENGTH,
    panels: int = 2,
) -> ClothUse:
    """What a pair takes of a cloth."""
    return cloth_use(
        part, cloth, row, length, panels=Panels(panels), key="window[1].fabric", units="in"
    )


def refused(cloth: Cloth, length: Length) -> tuple[str, str]:
    """Where a cloth is refused, and why."""
    with pytest.raises(JobError) as caught:
        taken(cloth, length=length)
    (fault,) = caught.value.faults
    return fault.where, fault.text


def test_total() -> None:
    """A pair of two widths a panel takes four drops of length, heading and hem."""
    made = taken(FACE)
    assert made.seams is not None
    assert (made.seams.drops, made.cut, made.total) == (4, 100 * INCH, 400 * INCH)


def test_not_known() -> None:
    """Without the length there is no cut, without the cloth's width no drops, so no total."""
    short = taken(FACE, length=None)
    assert (short.cut, short.total) == (None, None)
    assert short.seams is not None
    narrow = taken(replace(FACE, width=None))
    assert (narrow.seams, narrow.cut, narrow.total) == (None, 100 * INCH, None)


def test_lining_may_seam_in_any_gap() -> None:
    """A lining's seam clears the eyelets like the face's, but in whatever gap it comes to."""
    # From 48 in: the face reaches 44 1/2, so the back gap from 35 5/8; the lining the front gap
    # from 41 5/8.
    cloth = goods(48 * INCH)
    face, lining = taken(cloth), taken(cloth, part="lining")
    assert face.seams is not None
    assert lining.seams is not None
    assert [at / INCH for at in face.seams.seams] == [Fraction(285, 8)]
    assert [at / INCH for at in lining.seams.seams] == [Fraction(333, 8)]


def test_railroaded_run() -> None:
    """Turned cloth is bought by the panel's raw width, enlarged for shrinkage, length or not."""
    cloth = replace(FACE, width=118 * INCH, railroad=True, shrinkage=Fraction(1, 20))
    assert taken(cloth).total == 2 * 84 * INCH
    assert taken(cloth, length=None).total == 2 * 84 * INCH


def test_railroaded_cut_too_long() -> None:
    """A cut longer than the cloth is wide can't be railroaded; one as long can."""
    cloth = replace(FACE, width=100 * INCH, railroad=True)
    assert taken(cloth).cut == 80 * INCH
    where, text = refused(cloth, LENGTH + INCH)
    assert where == "window[1].fabric.railroad"
    assert "101 in" in text
    assert "100 in" in text


def test_seams_refused() -> None:
    """What seams refuse, a window's cloth refuses."""
    assert refused(replace(FACE, width=3 * INCH), LENGTH)[0] == "window[1].fabric.width"


@pytest.mark.parametrize(
    ("total", "unit", "expected"),
    [
        (YARD, "yd", "1"),
        (YARD + Fraction(1, 1000), "yd", "5/4"),
        (45 * INCH, "yd", "5/4"),
        (METRE, "m", "1"),
        (Fraction(1001), "m", "11/10"),
        (Fraction(0), "m", "0"),
    ],
)
def test_rounded_order(total: Length, unit: str, expected: str) -> None:
    """Up to a whole quarter yard or tenth of a metre, and not up from one."""
    assert unit in {"yd", "m"}
    assert Fraction(expected) == rounded_order(total, "yd" if unit == "yd" else "m")


@given(total=st.fractions(0, 10**6), units=st.sampled_from(["in", "mm", "cm"]))
def test_orders_cover_with_less_than_a_step_over(total: Fraction, units: Units) -> None:
    """An order covers its total, in whole steps, with less than one over."""
    size, step = (YARD, Fraction(1, 4)) if units == "in" else (METRE, Fraction(1, 10))
    amount = rounded_order(total, "yd" if units == "in" else "m")
    assert 0 <= amount * size - total < step * size
    assert (amount / step).denominator == 1


def test_one_order_a_cloth() -> None:
    """A cloth's windows add up before they are rounded, face and lining alike."""
    # 400 in a window; 800 in is 22.22 yd, where two orders of 11.11 would make 22.5.
    face, lining = taken(FACE), taken(FACE, part="lining")
    assert cloth_orders([face, lining], "in") == (
        ClothOrder(
            cloth_key=ClothKey("Heron linen", named=True, width=54 * INCH),
            part="face",
            fabric="Heron linen",
            width=54 * INCH,
            drops=8,
            total=800 * INCH,
            allowance=Fraction(0),
            repeat=Fraction(0),
            amount=Fraction(89, 4),
            unit="yd",
        ),
    )


def test_orders_by_cloth() -> None:
    """Names, widths and, where there is no name, parts keep cloths apart; metres for mm and cm."""
    plain = replace(FACE, name=None)
    wide = replace(FACE, width=118 * INCH)  # one piece of 80 in: two drops
    orders = cloth_orders(
        [taken(FACE), taken(plain), taken(plain, part="lining"), taken(wide), taken(FACE)], "cm"
    )
    assert [one.drops for one in orders] == [8, 4, 4, 2]
    assert len({one.cloth_key for one in orders}) == 4
    assert [(one.part, one.fabric, one.width, one.amount, one.unit) for one in orders] == [
        ("face", "Heron linen", 54 * INCH, Fraction(204, 10), "m"),  # 20.32
        ("face", None, 54 * INCH, Fraction(102, 10), "m"),  # 10.16
        ("lining", None, 54 * INCH, Fraction(102, 10), "m"),
        ("face", "Heron linen", 118 * INCH, Fraction(51, 10), "m"),  # 5.08
    ]


def test_cloth_key() -> None:
    """A name tells a cloth whatever it is for; a part is no name, even where they are alike."""
    width = 54 * INCH
    key = ClothKey("Heron linen", named=True, width=width)
    assert taken(FACE).cloth_key == taken(FACE, part="lining").cloth_key == key
    plain, named = replace(FACE, name=None), replace(FACE, name="face")
    assert taken(plain).cloth_key == ClothKey(
        "face", named=False, width=width, repeats=(None, None)
    )
    assert taken(named).cloth_key == ClothKey("face", named=True, width=width)


def test_order_not_known() -> None:
    """One window without a length leaves its cloth's order open, though not its drops."""
    (order,) = cloth_orders([taken(FACE), taken(FACE, length=None)], "in")
    assert (order.drops, order.total, order.amount) == (8, None, None)


def test_drops_not_known() -> None:
    """Without the cloth's width its drops aren't known either."""
    (order,) = cloth_orders([taken(replace(FACE, width=None))], "in")
    assert (order.width, order.drops, order.total) == (None, None, None)


def test_eyelets() -> None:
    """Eyelets alike add up over windows; spares come once, then whole packs."""
    full = replace(RING, spares=2)
    assert eyelet_orders([(RING, 24), (RING, 24)]) == (EyeletOrder(RING, 48, 3, 6, 60),)
    assert eyelet_orders([(full, 48)]) == (EyeletOrder(full, 48, 2, 5, 50),)


def test_one_eyelet_on_pole_and_hooks_is_bought_together() -> None:
    """24 and 8 with 3 spares are 35 eyelets, four packs of 10; apart they would be five."""
    hooks = replace(RING, hung="hooks", pack=None, spares=0)
    assert eyelet_orders([(RING, 24), (hooks, 8)]) == (EyeletOrder(RING, 32, 3, 4, 40),)
    (first,) = eyelet_orders([(hooks, 8), (RING, 24)])
    assert (first.used, first.spares, first.packs) == (32, 3, 4)


@pytest.mark.parametrize(
    "other",
    [
        replace(RING, hole=INCH * 9 / 8),
        replace(RING, outside=INCH * 9 / 4),
        replace(RING, pack=12),
        replace(RING, thickness=INCH / 4),
    ],
)
def test_other_eyelets_are_bought_apart(other: Eyelet) -> None:
    """Each in packs of its own, where any size or the pack is another."""
    mine = replace(RING, thickness=INCH / 8)
    assert [(order.eyelet, order.used) for order in eyelet_orders([(mine, 9), (other, 7)])] == [
        (mine, 9),
        (other, 7),
    ]
