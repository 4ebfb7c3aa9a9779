"""Cut lengths and weights of cloth: published examples, and the rules one at a time."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH
from drapetemplate.planning import cloth
from tests.helpers.jobfiles import inches, job_of, mixed

# A 4 in band wrapped whole takes 8 in, a 4 in bottom hem turned double 8 in: 16 in in all
# (trade-school handout, P. Damour, The Perfect Drapery Panel).
SIXTEEN = "heading = 8\nbottom_hem = 8"


def cloth_of(table: str) -> Cloth:
    """A job's fabric, in inches."""
    fabric = job_of(tables=f"[fabric]\n{table}").windows[0].fabric
    assert fabric is not None
    return fabric


def test_cut_of_a_published_repeat() -> None:
    """100 in finished and 16 in of hems, repeat 25 in: cut 125 in (Workroom Threads, Aug 2011)."""
    cut = cloth.cut_length(cloth_of(f"{SIXTEEN}\nrepeat_down = 25"), inches("100"), "in")
    assert inches("125") == cut
    assert inches("9") == cut - inches("116")  # over, as published


def test_cut_of_a_published_panel() -> None:
    """78 in finished and 10 in of hems: 88 in cuts (ehow.co.uk, how_6326063)."""
    cut = cloth.cut_length(cloth_of("heading = 4\nbottom_hem = 6"), inches("78"), "in")
    assert inches("88") == cut


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        (SIXTEEN, "116"),
        (f"{SIXTEEN}\nrepeat_down = 29", "116"),  # four repeats just do
        (f'{SIXTEEN}\nrepeat_down = "28 15/16"', "144 11/16"),  # five times 28 15/16
        (f"{SIXTEEN}\nrepeat_down = 200", "200"),
        (f"{SIXTEEN}\nshrinkage = 0.25", "145"),
        # Shrinkage first, then repeats: 145 takes 6 of 25, not 125 enlarged to 156 1/4.
        (f"{SIXTEEN}\nshrinkage = 0.25\nrepeat_down = 25", "150"),
    ],
)
def test_cut(table: str, expected: str) -> None:
    """Length, heading and hem, enlarged for shrinkage, then up to whole repeats."""
    assert inches(expected) == cloth.cut_length(cloth_of(table), inches("100"), "in")


@given(
    length=st.fractions(1, 5000, max_denominator=1000),
    repeat=st.integers(16, 16 * 40),
    shrinkage=st.integers(0, 25),
)
def test_cut_is_whole_repeats_and_never_short(
    length: Fraction, repeat: int, shrinkage: int
) -> None:
    """The cut holds the panel after it shrinks, in whole repeats, with less than one over."""
    grid = repeat * INCH / 16
    table = f'{SIXTEEN}\nrepeat_down = "{mixed(Fraction(repeat, 16))}"\nshrinkage = "{shrinkage} %"'
    cut = cloth.cut_length(cloth_of(table), length, "in")
    assert (cut / grid).denominator == 1
    need = (length + 16 * INCH) * (100 + shrinkage) / 100
    assert 0 <= cut - need < grid


def test_weight() -> None:
    """Width with both side hems, times length, heading and hem, times the cloth's weight."""
    # (60 + 2 * 3) by (100 + 16) in: 7656 sq in of 0.00064516 m2 each.
    grams = cloth.cloth_weight(
        cloth_of(f'{SIXTEEN}\nside_hem = 3\nweight = "250 gsm"'), inches("60"), inches("100")
    )
    assert Fraction(7656 * 64516 * 250, 10**8) == grams


@given(repeat=st.integers(1, 60), shrinkage=st.integers(0, 25), extra=st.integers(0, 15))
def test_weight_leaves_out_what_is_cut_off(repeat: int, shrinkage: int, extra: int) -> None:
    """A pattern down the cloth, or a cut rounded up for the table, makes it no heavier."""
    # 66 in wide; heading and hem are 16 in. Shrinking cloth is cut longer, and stays as heavy.
    long = 100 + Fraction(extra, 16)
    table = f'{SIXTEEN}\nside_hem = 3\nweight = "250 gsm"\nshrinkage = "{shrinkage} %"'
    grams = cloth.cloth_weight(
        cloth_of(f"{table}\nrepeat_down = {repeat}"), inches("60"), long * INCH
    )
    square_inches = 66 * (long + 16) * (100 + shrinkage) / 100
    assert square_inches * 64516 * 250 / 10**8 == grams


def test_weight_in_ounces() -> None:
    """A square yard of 8 oz cloth, hems and all, weighs 8 oz of 28.349523125 g (exact)."""
    table = 'heading = 8\nbottom_hem = 8\nside_hem = 3\nweight = "8 oz/yd2"'
    grams = cloth.cloth_weight(cloth_of(table), inches("30"), inches("20"))
    assert 8 * Fraction("28.349523125") == grams


def test_weight_not_known() -> None:
    """Cloth whose weight the job doesn't say has none."""
    assert cloth.cloth_weight(cloth_of(SIXTEEN), inches("60"), inches("100")) is None
