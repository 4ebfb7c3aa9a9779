"""Cuts, runs and totals of random jobs, against a reckoner of a workroom's own plain arithmetic.

Cloth is so wide that a panel is one piece and no two share a drop, so that the drops are the
panels. The reckoner knows no rounding but adding a step until there is enough.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from tests.helpers.jobfiles import mixed, plan_of, window_of

IN = Fraction(254, 10)


def enough(wanted: Fraction, step: Fraction) -> Fraction:
    """The fewest whole steps that hold what is wanted."""
    steps = int(wanted / step)
    while steps * step < wanted:
        steps += 1
    return steps * step


@dataclass(frozen=True)
class Cloth:
    """A panel and its cloth as the measure sheet says them, in mm but for the shrinkage."""

    units: str
    width: Fraction
    length: Fraction
    heading: Fraction
    bottom_hem: Fraction
    side_hem: Fraction
    shrinkage: int  # per cent
    down: Fraction | None
    across: Fraction | None
    turned: bool
    goods: Fraction
    panels: int

    @property
    def drop(self) -> Fraction:
        """From raw top to raw foot, nothing rounded."""
        finished_and_hems = self.length + self.heading + self.bottom_hem
        return finished_and_hems + finished_and_hems * self.shrinkage / 100

    @property
    def raw(self) -> Fraction:
        """From raw side to raw side, what shrinks included where it lies along the roll."""
        sides = self.width + self.side_hem + self.side_hem
        return sides + sides * self.shrinkage / 100

    @property
    def cut(self) -> Fraction:
        """What is cut off the roll for one panel."""
        along = self.raw if self.turned else self.drop
        if self.down:
            return enough(along, self.down)
        return enough(along, IN / 8 if self.units == "in" else Fraction(1))

    @property
    def toml(self) -> tuple[str, str]:
        """The window and its cloth."""

        def said(mm: Fraction) -> str:
            return f'"{mixed(mm)} mm"'

        lines = [
            f"width = {said(self.goods)}",
            f"heading = {said(self.heading)}",
            f"bottom_hem = {said(self.bottom_hem)}",
            f"side_hem = {said(self.side_hem)}",
            f'shrinkage = "{self.shrinkage} %"',
            f"railroad = {'true' if self.turned else 'false'}",
        ]
        lines += [f"repeat_down = {said(self.down)}"] if self.down else []
        lines += [f"repeat_across = {said(self.across)}"] if self.across else []
        window = f"width = {said(self.width)}\nlength = {said(self.length)}\n" + (
            'panels = "left"' if self.panels == 1 else f"quantity = {self.panels // 2}"
        )
        return window, "[fabric]\n" + "\n".join(lines)


@st.composite
def cloths(draw: st.DrawFn) -> Cloth:
    """Any panel in one piece, upright or turned."""
    units = draw(st.sampled_from(["in", "mm", "cm"]))
    grain = IN / 16 if units == "in" else Fraction(1, 10)

    def some(least: int, most: int) -> Fraction:
        return draw(st.integers(int(least / grain) + 1, int(most / grain))) * grain

    turned = draw(st.booleans())
    width, length, side_hem = some(600, 1800), some(900, 2600), some(10, 90)
    heading, bottom_hem = some(0, 300), some(0, 300)
    goods = some(1200, 3300)
    if not turned:  # one panel, and no more, to a width
        goods = (width + 2 * side_hem) + draw(st.integers(0, 500))
    return Cloth(
        units=units,
        width=width,
        length=length,
        heading=heading,
        bottom_hem=bottom_hem,
        side_hem=side_hem,
        shrinkage=draw(st.integers(0, 8)),
        down=draw(st.none() | st.just(some(100, 900))),
        across=draw(st.none() | st.just(some(100, 500))),
        turned=turned,
        goods=goods,
        panels=draw(st.sampled_from([1, 2, 6])),
    )


@given(cloth=cloths())
def test_every_cut_and_total(cloth: Cloth) -> None:
    """A panel's cut, the drops and their total are what the tape and the pattern come to."""
    window, tables = cloth.toml
    head = f'units = "{cloth.units}"'
    if cloth.turned and cloth.drop > cloth.goods:
        with pytest.raises(JobError, match="doesn't fit across"):
            window_of(window, head=head, tables=tables)
        return
    (use,) = window_of(window, head=head, tables=tables).cloth
    assert use.seams is not None
    assert (use.seams.drops, use.cut) == (cloth.panels, cloth.cut)
    assert use.total == cloth.panels * cloth.cut


@dataclass(frozen=True)
class Taken:
    """What one window takes of the cloth: panels, lengths in 1/8 in or mm; None isn't said."""

    panels: int
    length: int
    allowance: int | None
    down: int | None


@given(
    windows=st.lists(
        st.builds(
            Taken,
            panels=st.sampled_from([2, 4, 6]),
            length=st.integers(400, 3000),
            allowance=st.none() | st.integers(0, 300),
            down=st.none() | st.integers(100, 900),
        ),
        min_size=1,
        max_size=4,
    ),
    units=st.sampled_from(["in", "mm", "cm"]),
)
def test_every_order(windows: list[Taken], units: str) -> None:
    """One cloth is bought once: all drops, the largest allowance and repeat, then whole steps."""
    grain, eighths, unit = (IN / 8, 8, "in") if units == "in" else (Fraction(1), 1, "mm")

    def said(grains: int) -> str:
        return f"{mixed(Fraction(grains, eighths))} {unit}"

    usual = 4 * IN if units == "in" else Fraction(100)
    total = allowance = repeat = Fraction(0)
    tables = []
    for window in windows:
        drop = window.length * grain
        lines = [f'length = "{said(window.length)}"', "[window.fabric]", "heading = 0"]
        allowed = usual
        if window.allowance is not None:
            lines.append(f'allowance = "{said(window.allowance)}"')
            allowed = window.allowance * grain
        if window.down is not None:
            lines.append(f'repeat_down = "{said(window.down)}"')
            drop = enough(drop, window.down * grain)
            repeat = max(repeat, window.down * grain)
        allowance = max(allowance, allowed)
        total += window.panels * drop
        tables.append(f'width = "1000 mm"\nquantity = {window.panels // 2}\n' + "\n".join(lines))
    goods = '[fabric]\nname = "gull linen"\nwidth = "1400 mm"\nbottom_hem = 0\nside_hem = 0'
    (order,) = plan_of(*tables, head=f'units = "{units}"', tables=goods).order.cloth
    assert order.amount is not None
    yard = 36 * IN
    step, sold = (yard / 4, yard) if units == "in" else (Fraction(100), Fraction(1000))
    assert (order.total, order.to_buy) == (total, total + allowance + repeat)
    assert order.amount * sold == enough(total + allowance + repeat, step)


def test_an_order_to_the_inch_has_an_allowance() -> None:
    """3 x 168 in are 14 yd to the inch, and nothing to square the start with: 14 1/4 yd."""
    window = 'panels = "left"\nquantity = 3\nwidth = 40\nlength = 152'
    for more, amount in (("", "57/4"), ("\nallowance = 0", "14"), ("\nallowance = 9", "57/4")):
        (order,) = plan_of(window, tables=f"[fabric]\nwidth = 54{more}").order.cloth
        assert (order.drops, order.total) == (3, 504 * IN)
        assert order.amount == Fraction(amount)


def test_allowance_of_face_and_lining_of_one_cloth() -> None:
    """A cloth bought once is squared once, whether face or lining: the larger of both."""
    both = '[fabric]\nname = "x"\nwidth = 54\nallowance = 6\n[lining]\nname = "x"\nwidth = 54'
    (order,) = plan_of("width = 40\nlength = 84", tables=both).order.cloth
    # Two drops of 84 + 8 + 8 in, and two of the lining of 84 - 1 + 4 in.
    assert (order.total, order.to_buy) == (374 * IN, 380 * IN)


TURNED = "[fabric]\nwidth = 118\nrailroad = true\nrepeat_down = 27\n"


def test_turned_cloth_runs_in_whole_repeats() -> None:
    """A pair of 60 in panels takes 66 in runs, so 3 repeats of 27 in each: 162 in, not 135."""
    (use,) = window_of("width = 60\nlength = 84", tables=TURNED).cloth
    assert (use.cut, use.total) == (81 * IN, 162 * IN)
    # 72 in panels take 78 in: 3 repeats too.
    (use,) = window_of("width = 72\nlength = 84", tables=TURNED).cloth
    assert (use.cut, use.total) == (81 * IN, 162 * IN)


def test_turned_cloth_takes_any_height_that_fits() -> None:
    """95 + 8 + 8 in fit across 118 in, though 5 repeats of 27 in wouldn't; 102 1/8 in don't."""
    (use,) = window_of("width = 60\nlength = 95", tables=TURNED).cloth
    assert use.panel_cut == 111 * IN
    window_of("width = 60\nlength = 102", tables=TURNED)
    with pytest.raises(JobError, match="take 118 1/8 in, which doesn't fit across"):
        window_of('width = 60\nlength = "102 1/8"', tables=TURNED)


def test_turned_cloth_shrinks_both_ways() -> None:
    """5 %: (84 + 16) in take 105 across, 66 in a run of 69.3, up to 69 3/8 in."""
    tables = "[fabric]\nwidth = {}\nrailroad = true\nshrinkage = 0.05"
    (use,) = window_of("width = 60\nlength = 84", tables=tables.format(105)).cloth
    assert (use.cut, use.panel_cut) == (Fraction(555, 8) * IN, 105 * IN)
    with pytest.raises(JobError, match="take 105 in, which doesn't fit across"):
        window_of("width = 60\nlength = 84", tables=tables.format(104))


def test_turned_cloth_is_cut_no_wider_than_it_is() -> None:
    """100 1/16 in fit across as much: up to 1/8 in they would not."""
    tables = '[fabric]\nwidth = "100 1/16"\nrailroad = true'
    (use,) = window_of('width = 60\nlength = "84 1/16"', tables=tables).cloth
    assert use.panel_cut == Fraction(1601, 16) * IN


@pytest.mark.parametrize(
    ("units", "length", "cut", "total"),
    [
        ("in", "84 1/16 in", "100 1/8 in", "200 1/4 in"),
        ("in", "84 1/8 in", "100 1/8 in", "200 1/4 in"),
        ("in", "2134 mm", "100 1/8 in", "200 1/4 in"),  # 84.016 in
        # Twice the band of 50.8 + 50 mm, and 200 mm of hem: 401.6 mm.
        ("mm", "2133.4 mm", "2535 mm", "5070 mm"),
        ("mm", "2133.5 mm", "2536 mm", "5072 mm"),
        ("cm", "84 1/16 in", "2537 mm", "5074 mm"),  # 2536.8 mm
    ],
)
def test_cut_before_it_is_multiplied(units: str, length: str, cut: str, total: str) -> None:
    """Each of two cuts is rounded up to 1/8 in or 1 mm, and so is what they come to."""
    tables = '[fabric]\nwidth = "54 in"'
    window = f'width = "40 in"\nlength = "{length}"'
    (use,) = window_of(window, head=f'units = "{units}"', tables=tables).cloth
    mm = {"in": IN, "mm": Fraction(1)}

    def measure(text: str) -> Fraction:
        *numbers, unit = text.split()
        return sum(map(Fraction, numbers), Fraction(0)) * mm[unit]

    assert (use.cut, use.total) == (measure(cut), measure(total))


def test_a_pattern_is_cut_by_the_pattern() -> None:
    """Whole repeats stay whole: up to 1/8 in more, and the next drop would begin off its place."""
    # 100 in are 4 repeats of 25 1/16 in: 100 1/4; and of 640 mm (25.197 in): 2560 mm.
    for repeat, cut in (("25 1/16 in", Fraction(401, 4) * IN), ("640 mm", Fraction(2560))):
        tables = f'[fabric]\nwidth = 54\nrepeat_down = "{repeat}"'
        (use,) = window_of("width = 40\nlength = 84", tables=tables).cloth
        assert (use.cut, use.total) == (cut, 2 * cut)


def test_what_just_holds_takes_no_more_repeats() -> None:
    """100 1/16 in are in 4 repeats of 25 1/64 in, which 100 1/8 in wouldn't be."""
    tables = '[fabric]\nwidth = 54\nrepeat_down = "25 1/64"'
    (use,) = window_of('width = 40\nlength = "84 1/16"', tables=tables).cloth
    assert use.cut == 4 * Fraction(1601, 64) * IN
