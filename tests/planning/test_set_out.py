"""A return that isn't given: drawn from the end ring of the closed fold, it reaches the wall."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning import folds
from drapetemplate.planning.model import PanelPlan
from tests.helpers.jobfiles import RING, panel_of, window_of
from tests.helpers.searching import searched

LEAST = {"in": INCH * 3 / 2, "mm": Fraction(40)}
CLOTH = "[fabric]\nwidth = 54"
# Each route to a width: a window's keys, and where the pole's length or a cloth is needed.
KNOWN = [
    'width = "{width}"\ncovers = "{covers}"',
    'width = "{width}"\nfullness = "{fullness}"',
    'covers = "{covers}"\nfullness = "{fullness}"',
    'widths = 2\nfullness = "{fullness}"',
    'widths = 1.5\ncovers = "{covers}"',
]


def reach(panel: PanelPlan) -> float:
    """How far toward the wall the panel's end comes, drawn: the end ring, and the return from it.

    The end ring hangs as every ring of the closed fold does, turned about its own centre: its far
    flange edge stands as far behind the axis as its near one before it.
    """
    assert panel.hang is not None
    _, (_, flange), *_ = folds.points(panel.hang.closed, 1)
    return flange + float(panel.return_)


def tried(window: str, eyelet: str, pole: str, return_: Fraction, units: str) -> float | None:
    """How far the same panel comes with a return that it is given; None where none is made."""
    size = return_ / INCH if units == "in" else return_
    try:
        panel = panel_of(
            f'{window}\nreturn = "{float(size)!r}"',
            head=f'units = "{units}"',
            eyelet=eyelet,
            tables=pole,
        )
    except JobError:
        return None
    return reach(panel)


@searched(300)
@given(
    route=st.sampled_from(KNOWN),
    panels=st.sampled_from(["pair", "left", "single"]),
    count=st.sampled_from(["", "count = 6", "count = 10"]),
    outside=st.integers(24, 64),
    projection=st.integers(40, 120),
    covers=st.integers(18, 40),
    fullness=st.integers(104, 330),
    units=st.sampled_from(["in", "mm"]),
)
def test_it_reaches_the_wall_and_a_step_less_does_not(
    *,
    route: str,
    panels: str,
    count: str,
    outside: int,
    projection: int,
    covers: int,
    fullness: int,
    units: str,
) -> None:
    """Whatever settles the fullness: no return of whole steps that is shorter would reach."""
    said = route.format(
        width=f"{covers * fullness / 100 + 8} in", covers=f"{covers} in", fullness=fullness / 100
    )
    window = f'{said}\npanels = "{panels}"\n{count}\nstack_each = "1 in"'
    eyelet = f'outside = "{outside / 16} in"\nopening = "1 in"'
    pole = f'[pole]\nprojection = "{projection / 16} in"\n{CLOTH.replace("54", "1371.6")}'
    if units == "in":
        pole = pole.replace("1371.6", "54")
    try:
        panel = panel_of(window, head=f'units = "{units}"', eyelet=eyelet, tables=pole)
    except JobError:
        reject()  # too full, too flat, or too narrow
    step = INCH / 16 if units == "in" else Fraction(1)
    wall = projection / 16 * 25.4
    assert (panel.return_ / step).denominator == 1
    least = LEAST[units]
    assert panel.return_ >= least
    assert reach(panel) >= wall
    less = panel.return_ - step
    # Farther down than some steps is as well covered by the other examples.
    while less >= max(least, panel.return_ - 6 * step):
        came = tried(window, eyelet, pole, less, units)
        assert came is None or came < wall + 1e-6
        less -= step


def test_of_a_panel_that_hangs_at_one_and_a_half() -> None:
    """At 1 1/2 times a 3 3/4 in ring stands far from square, and the return must make up for it."""
    eyelet = 'outside = "3 3/4"\nopening = "2"'
    panel = panel_of(
        "covers = 40\nfullness = 1.5", eyelet=eyelet, tables='[pole]\nprojection = "4 1/4"'
    )
    assert reach(panel) >= 4.25 * 25.4
    # A ring square to the pole would have left 4 1/4 - 1 7/8 = 2 3/8 in, and that is short.
    assert panel.return_ > Fraction(19, 8) * INCH


@pytest.mark.parametrize("hung", ["pole", "hooks"])
@given(outside=st.integers(18, 80), projection=st.integers(40, 130))
def test_where_nothing_says_how_full(hung: str, outside: int, projection: int) -> None:
    """The ring is taken to stand at 45 degrees; so it is on hooks, which hold it at no angle."""
    panel = panel_of(
        "width = 80",
        eyelet=f'outside = "{outside / 16}"\nopening = "1"\nhung = "{hung}"',
        tables=f'[pole]\nprojection = "{projection / 16}"',
    )
    # In sixteenths: p - b <= G/2 * sqrt(1/2), that is 8 (p - b)^2 <= G^2.
    sixteenths = next(
        b for b in range(24, 200) if b >= projection or 8 * (projection - b) ** 2 <= outside**2
    )
    assert panel.return_ == sixteenths * INCH / 16


def test_in_whole_millimetres() -> None:
    """A metric job's return is of whole millimetres, and never under 40 mm."""
    ring = "outside = 50\nopening = 25"
    panels = {
        wall: panel_of(
            "width = 1500",
            head='units = "mm"',
            eyelet=ring,
            tables=f"[pole]\nprojection = {wall}",
        )
        for wall in (100, 40)
    }
    # 100 - 25 * 0.70711 = 82.3; 40 - 17.7 is less than the least.
    assert {wall: panel.return_ for wall, panel in panels.items()} == {100: 83, 40: 40}


def test_without_a_projection() -> None:
    """Where the projection isn't known the return is 3 in or 75 mm, whatever the fullness."""
    assert panel_of("width = 80\ncovers = 40").return_ == 3 * INCH
    ring = "outside = 50\nopening = 25"
    metric = panel_of("width = 2000\ncovers = 1000", head='units = "mm"', eyelet=ring)
    assert metric.return_ == 75


def test_flat_on_its_pole() -> None:
    """Rings along the pole reach nowhere, so the return is the whole way, not a sixteenth more."""
    panel = panel_of("width = 60\nfullness = 1", tables='[pole]\nprojection = "4 3/16"')
    assert panel.return_ == Fraction(67, 16) * INCH


def test_of_an_enormous_eyelet() -> None:
    """However large the eyelet, few returns are tried, and the one taken reaches."""
    panel = panel_of(
        'width = "90 m"\ncovers = "40 m"\ncount = 4',
        eyelet='outside = "9 m"\nopening = "8 m"',
        tables='[pole]\nprojection = "20 m"\ndiameter = "1 m"',
    )
    assert reach(panel) >= 20_000


@given(
    outside=st.integers(24, 64),
    sixteenths=st.integers(40, 110),
    fullness=st.integers(105, 300),
    short=st.integers(1, 24),
    route=st.sampled_from(KNOWN[:4]),
)
def test_advice_on_a_short_return_holds(
    *, outside: int, sixteenths: int, fullness: int, short: int, route: str
) -> None:
    """A return that stops short is said to, and the one advised, given instead, isn't."""
    said = route.format(width="80", covers="33", fullness=fullness / 100)
    eyelet = f'outside = "{outside / 16}"\nopening = "1"'
    tables = f'[pole]\nprojection = "{sixteenths / 16}"\n{CLOTH}'

    def found(return_: str) -> tuple[list[str], PanelPlan]:
        window = f'{said}\nreturn = "{return_}"'
        planned = window_of(window, eyelet=eyelet, tables=tables)
        texts = [f.text for f in planned.findings if f.code == "short-return"]
        return texts, planned.panels[0]

    try:
        texts, panel = found(f"{max(sixteenths - short, 4) / 16}")
    except JobError:
        reject()
    missing = sixteenths / 16 * 25.4 - reach(panel)
    assert bool(texts) == (missing > 0)
    if texts:
        assert texts[0].startswith("the return stops ")
        # What it brings is told after it.
        again, longer = found(texts[0].partition(": give ")[2].partition(" in")[0])
        assert again == []
        assert reach(longer) >= sixteenths / 16 * 25.4


def test_a_return_that_no_longer_one_can_mend() -> None:
    """Where a longer return leaves too little cloth to cover the pole, a wider panel is asked."""
    # 30 - 1 1/2 - 1 1/2 - 2 = 25 in on 24 3/4 in of pole; the wall takes about 3 in more.
    window = 'width = 30\nreturn = "1 1/2"\ncovers = "24 3/4"\ncount = 6'
    planned = window_of(window, eyelet=RING, tables='[pole]\nprojection = "4 1/2"')
    (text,) = (f.text for f in planned.findings if f.code == "short-return")
    assert text.endswith("no cloth for a longer one, so it takes a wider panel")


@pytest.mark.parametrize(
    ("panels", "cloth", "pole"),
    [
        # 44 - 1 1/2 - 3 - 2 = 37 1/2 in of cloth for half of 120 in; a single one has 44 - 6 - 2.
        ("pair", "37 1/2 in", "60 in of pole, half of pole.length"),
        ("left", "37 1/2 in", "120 in of pole, all of pole.length"),
        ("single", "36 in", "120 in of pole, all of pole.length"),
    ],
)
def test_too_narrow_for_its_pole(panels: str, cloth: str, pole: str) -> None:
    """Panels whose cloth doesn't reach over the pole are refused, unless they needn't close."""
    window = f'width = 44\npanels = "{panels}"\n'
    with pytest.raises(JobError) as caught:
        panel_of(window, tables="[pole]\nlength = 120")
    (fault,) = caught.value.faults
    assert fault.where == "window[1].covers"
    assert fault.text == (
        f"{cloth} of cloth between the end eyelets can't cover {pole}: a wider panel, or give "
        "covers for a panel that isn't to close"
    )
    for needn_t in ("covers = 20", "fullness = 2"):
        assert panel_of(window + needn_t, tables="[pole]\nlength = 120").fullness is not None


def test_pole_length_says_how_full() -> None:
    """A pair on a pole of known length hangs as full as half of that makes it, which is said."""
    planned = window_of("width = 66\nreturn = 3", tables="[pole]\nlength = 50")
    panel = planned.panels[0]
    # 66 - 1 1/2 - 3 - 2 = 59 1/2 in on 25 in.
    assert (panel.covers, panel.fullness) == (25 * INCH, Fraction(119, 50))
    assert ("covers", "25 in, half of pole.length") in [(a.key, a.value) for a in planned.assumed]
    assert "fullness" not in [a.key for a in planned.assumed]


def test_pole_too_short_for_any_fold() -> None:
    """A pole so short that folds would touch is refused, with where its share comes from."""
    with pytest.raises(JobError) as caught:
        panel_of("width = 60\nreturn = 3\ncount = 8", tables="[pole]\nlength = 12")
    (fault,) = caught.value.faults
    # 53 1/2 in on half of 12 in.
    assert fault.text.startswith(
        "8.92 times, on half of pole.length, is more than the eyelets allow, since"
    )
