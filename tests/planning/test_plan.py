"""Whole jobs planned: which figures a panel gets, from what, and what can't be planned."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import assume, given, reject
from hypothesis import strategies as st

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.model import Assumption
from drapetemplate.measures import INCH, format_length
from tests.helpers.jobfiles import RING, inches, panel_of, plan_of, window_of

WALL = '[pole]\ndiameter = "3/4"\nprojection = "5"'
# (60 - 1 1/2 - 3 - 2N)/(N - 1): 14 leave 55/26 in, 2.115, the nearest to one 2 in eyelet apart.
USUAL = "width = 60"


def faults_of(*windows: str, head: str = "", eyelet: str = RING, tables: str = "") -> list[Fault]:
    """What a plan of this job is refused with."""
    with pytest.raises(JobError) as refused:
        plan_of(*windows, head=head, eyelet=eyelet, tables=tables)
    return list(refused.value.faults)


def test_usual_panel() -> None:
    """Of a width alone: 1 1/2 in leading, 3 in return, and the count nearest one eyelet apart."""
    panel = panel_of(USUAL)
    assert panel.width == inches("60")
    assert (panel.leading, panel.return_) == (inches("1 1/2"), inches("3"))
    assert (panel.count, panel.reason) == (14, "nearest to one eyelet apart")
    assert panel.gap == Fraction(55, 26) * INCH
    assert panel.pitch == Fraction(107, 26) * INCH
    assert panel.centers[0] == inches("2 1/2")
    assert panel.centers[-1] == inches("56")
    assert panel.gaps == ("front", "back") * 6 + ("front",)
    assert panel.stack == inches("17 1/2")
    assert (panel.fullness, panel.covers) == (None, None)


def test_count_asked_for() -> None:
    """An even count that is asked for is taken as it is."""
    panel = panel_of("width = 60\ncount = 8")
    assert (panel.count, panel.reason) == (8, "asked for")
    assert panel.gap == Fraction(79, 14) * INCH  # (60 - 4 1/2 - 16)/7


def test_pair_is_two_sides_of_one_panel() -> None:
    """A pair's panels share every figure, running measures from the leading edge included."""
    left, right = window_of(USUAL).panels
    assert (left.side, right.side) == ("left", "right")
    assert (left.centers, left.gaps, left.gap) == (right.centers, right.gaps, right.gap)


@pytest.mark.parametrize("side", ["left", "right"])
def test_one_panel_of_a_window(side: str) -> None:
    """A left or right panel alone has a leading edge and a return."""
    (panel,) = window_of(f'width = 60\npanels = "{side}"').panels
    assert side == panel.side
    assert (panel.leading, panel.return_) == (inches("1 1/2"), inches("3"))


@pytest.mark.parametrize(
    ("panels", "at_right", "expected"),
    [("left", True, "57 1/2"), ("right", False, "2 1/2"), ("single", False, "4")],
)
def test_measure_as_seen_from_the_room(panels: str, expected: str, *, at_right: bool) -> None:
    """The first eyelet's place from the panel's left edge as it hangs: a left panel is mirrored."""
    (panel,) = window_of(f'width = 60\npanels = "{panels}"').panels
    assert panel.leading_at_right == at_right
    assert panel.seen_from_room(panel.centers[0]) == inches(expected)


def test_single_panel_returns_at_both_ends() -> None:
    """A single panel has its return at its left edge too; its leading means nothing."""
    (panel,) = window_of('width = 60\npanels = "single"\nreturn = 2\ncount = 6').panels
    assert panel.side == "single"
    assert (panel.leading, panel.return_) == (inches("2"), inches("2"))
    assert panel.gap == Fraction(44, 5) * INCH  # (60 - 4 - 12)/5
    assert panel.centers[0] + panel.centers[-1] == panel.width


def test_single_panel_returns_to_the_wall() -> None:
    """With a projection both ends of a single panel get the return that reaches the wall."""
    (panel,) = window_of('width = 60\npanels = "single"', tables=WALL).panels
    # 5 - 2/2 * sin 45 = 4.293
    assert (panel.leading, panel.return_) == (inches("4 5/16"), inches("4 5/16"))


@pytest.mark.parametrize("count", [2, 3, 7, 8])
def test_hooks_take_any_count(count: int) -> None:
    """On hooks an odd count is as good as an even one, and there are no gaps to name."""
    window = window_of(f"width = 60\ncount = {count}", eyelet=RING + '\nhung = "hooks"')
    panel = window.panels[0]
    assert (count, ()) == (panel.count, panel.gaps)
    assert [f for f in window.findings if f.level == "stop"] == []


def test_auto_count_on_hooks() -> None:
    """On hooks the eyelets stand about 6 in apart: 10 at (60 - 4 1/2 - 2)/9 = 5.94 in."""
    panel = panel_of(USUAL, eyelet=RING + '\nhung = "hooks"')
    assert panel.count == 10
    assert panel.pitch == Fraction(107, 18) * INCH


@pytest.mark.parametrize(
    ("tables", "expected"),
    [
        (
            '[pole]\nprojection = "4"',
            Assumption("return", "3 5/16 in, so that it reaches the wall"),  # 4 - sin 45 = 3.293
        ),
        (
            '[pole]\nprojection = "2"',
            Assumption("return", "1 1/2 in, so that it reaches the wall"),
        ),
        ("", Assumption("return", "3 in")),
    ],
)
def test_return_not_given_is_said(tables: str, expected: Assumption) -> None:
    """A return that the job doesn't give is worked out, and stands among the assumptions."""
    window = window_of("width = 60\ncount = 20", tables=tables)
    assert expected in window.assumed
    assert expected.value.split(" in")[0] == format_length(
        window.panels[0].return_, "in", unit=False
    )


def test_return_given_is_not_assumed() -> None:
    """A return that the job gives is no assumption; one that it leaves out is."""
    given, left_out = window_of("width = 60\nreturn = 3"), window_of("width = 60")
    assert "return" not in [a.key for a in given.assumed]
    assert "return" in [a.key for a in left_out.assumed]


def test_wall_keeps_the_gaps_small() -> None:
    """With the projection known only counts whose P/2 is within p - c are taken: here 2 1/4 in."""
    # b = 2 3/4 - 1 = 1 3/4, 56 3/4 in to share. At 2 5/8 in aimed at, 12 would come nearest
    # (S = 2.98, P/2 = 2.49); 14 has S = 2.21, P/2 = 2.11.
    free = panel_of('width = 60\ngap = "2 5/8"\nreturn = "1 3/4"')
    walled = panel_of('width = 60\ngap = "2 5/8"', tables='[pole]\nprojection = "2 3/4"')
    assert free.count == 12
    assert (walled.count, walled.reason) == (
        14,
        (
            "nearest to the gap asked for, among those that clear the wall; "
            "12 would hit the wall stacked"
        ),
    )


def test_wall_says_nothing_of_hooks() -> None:
    """On hooks nothing folds back round a pole, so the wall limits no count."""
    walled = panel_of(
        USUAL, eyelet=RING + '\nhung = "hooks"', tables='[pole]\nprojection = "2 1/2"'
    )
    assert walled.count == 10


def test_long_drop_starts_wider() -> None:
    """A finished length of 120 in aims at one and a half eyelets: 3 in, so 12 eyelets (2.86)."""
    assert panel_of("width = 60\nlength = 120").count == 12
    assert panel_of('width = 60\nlength = "119 7/8"').count == 14


def test_length_from_the_pole_counts_as_a_drop() -> None:
    """A length worked out from the pole chooses the target as a given one does."""
    window = window_of(USUAL, tables='[pole]\ntop = "120"')
    # top + (above + G/2 - D/2) - off_floor = 120 + (1 + 1 - 1/2) - 1/2
    assert window.length == inches("121")
    assert window.panels[0].count == 12


def test_length_given_goes_before_the_pole() -> None:
    """A finished length that is given isn't worked out again."""
    assert window_of("width = 60\nlength = 84", tables='[pole]\ntop = "96"').length == inches("84")


def test_length_on_hooks_is_not_known() -> None:
    """Hooks hang lower than the pole by nobody knows what."""
    window = window_of(USUAL, eyelet=RING + '\nhung = "hooks"', tables='[pole]\ntop = "96"')
    assert window.length is None


def test_pole_near_the_floor() -> None:
    """A pole that leaves less than the band between it and the floor is refused."""
    faults = faults_of(USUAL, tables='[pole]\ntop = "2 7/8"')
    assert [f.where for f in faults] == ["window[1].pole.top"]
    assert "too near the floor" in faults[0].text


def test_width_from_covers_and_fullness() -> None:
    """W = 2 1/4 x 40 + 1 1/2 + 3 + 2; the fullness and what it covers stay as they were given."""
    panel = panel_of("covers = 40\nfullness = 2.25")
    assert panel.width == inches("96 1/2")
    assert (panel.fullness, panel.covers) == (Fraction(9, 4), inches("40"))


def test_fullness_from_covers() -> None:
    """A width and what it covers give the fullness between the end centres: 53 1/2 over 26 3/4."""
    panel = panel_of('width = 60\ncovers = "26 3/4"')
    assert (panel.fullness, panel.covers) == (Fraction(2), inches("26 3/4"))


def test_covers_from_fullness() -> None:
    """A width and its fullness give the pole it covers: 53 1/2 / 2 1/2."""
    panel = panel_of("width = 60\nfullness = 2.5")
    assert (panel.fullness, panel.covers) == (Fraction(5, 2), Fraction(107, 5) * INCH)


@pytest.mark.parametrize(("panels", "covers"), [("pair", "40"), ("left", "80"), ("single", "80")])
def test_covers_from_the_pole(panels: str, covers: str) -> None:
    """With a fullness alone a usable pole of 80 in is covered: half by each panel of a pair."""
    panel = panel_of(f'fullness = 2\npanels = "{panels}"', tables='[pole]\nlength = "80"')
    assert inches(covers) == panel.covers
    assert panel.width == 2 * inches(covers) + panel.leading + panel.return_ + panel.outside


@pytest.mark.parametrize(
    ("number", "expected"), [("1", "48"), ("1.5", "74"), ("2", "101"), ("2.5", "127")]
)
def test_width_from_widths(number: str, expected: str) -> None:
    """Widths of 54 in cloth: 1/2 in seams both sides of every seam, a 3 in hem at both edges."""
    panel = panel_of(f"widths = {number}", tables='[fabric]\nwidth = "54"')
    assert inches(expected) == panel.width


def test_fullness_of_widths() -> None:
    """Widths with what they cover give a fullness: 48 - 1 1/2 - 3 - 2 = 41 1/2 in over 20 3/4."""
    panel = panel_of('widths = 1\ncovers = "20 3/4"', tables='[fabric]\nwidth = "54"')
    assert panel.fullness == 2


def test_more_to_cover_than_cloth() -> None:
    """A panel can't cover more pole than there is cloth between its end eyelets."""
    assert [
        Fault(
            "window[1].covers",
            "53 1/2 in of cloth between the end eyelets can't cover 53 9/16 in of pole: "
            "a wider panel, or less to cover",
        )
    ] == faults_of('width = 60\ncovers = "53 9/16"')
    assert panel_of('width = 60\ncovers = "53 1/2"').fullness == 1


def test_too_narrow_for_the_count() -> None:
    """A count that can't fit is refused with the largest that does; and that one then does."""
    (fault,) = faults_of('width = "20"\ncount = 8')  # 20 - 4 1/2 - 16 < 0
    assert fault.where == "window[1].count"
    fits = re.fullmatch(
        r"8 eyelets of 2 in don't fit across 20 in with 4 1/2 in kept at the ends: up to "
        r"(\d+) fit well",
        fault.text,
    )
    assert fits is not None
    assert fits[1] == "4"  # 15 1/2 - 8 leaves 2 1/2 in a gap, 6 would have 7/10 in
    window = window_of(f"width = 20\ncount = {fits[1]}")
    assert "narrow-gap" not in [f.code for f in window.findings]


@pytest.mark.parametrize(
    ("units", "width", "outside"),
    [
        ("in", '"8 in"', '"2 in"'),
        # 114.3 + 2 x 60.5 + 25.4 = 260.7 mm = 164.2 sixteenths: the nearest is too little.
        ("in", '"8 in"', '"60.5 mm"'),
        # 114.3 + 2 x 50.8508 + 25.4 = 241.4016 mm, likewise to 0.1 mm.
        ("mm", "200", '"2.002 in"'),
        ("cm", "20", '"2.002 in"'),
    ],
)
def test_too_narrow_for_two(units: str, width: str, outside: str) -> None:
    """A panel too narrow for two is refused with the width two need; that width then works."""
    head, ring = f'units = "{units}"', f'outside = {outside}\nopening = "1 in"'
    (fault,) = faults_of(f"width = {width}", head=head, eyelet=ring)
    assert fault.where == "window[1].width"
    need = re.search(r"two need a panel of (.+) or more$", fault.text)
    assert need is not None
    window = window_of(f'width = "{need[1]}"', head=head, eyelet=ring)
    assert window.panels[0].count == 2
    assert "narrow-gap" not in [f.code for f in window.findings]


def test_every_window_is_told() -> None:
    """Faults of several windows are told in one go, each with its window."""
    faults = faults_of("width = 5", USUAL, "width = 60\ncount = 60")
    assert [f.where for f in faults] == ["window[1].width", "window[3].count"]


def test_job_totals() -> None:
    """Eyelets and band are for every panel that is made: pairs twice, a quantity each time."""
    found = plan_of(
        "width = 60\ncount = 8\nquantity = 3", 'width = 40\ncount = 6\npanels = "single"'
    )
    assert found.eyelets == 3 * 2 * 8 + 6
    assert found.band == inches("400")  # 3 x 2 x 60 + 40


def test_windows_keep_their_names_and_order() -> None:
    """Windows come as the job has them, named as it names them."""
    found = plan_of('width = 60\nname = "Bay"', "width = 50")
    assert [(w.window.key, w.name) for w in found.windows] == [
        ("window[1]", "Bay"),
        ("window[2]", "Window 2"),
    ]


def test_stops_of_every_window() -> None:
    """A plan's stops are those of all its windows, and nothing milder."""
    found = plan_of(USUAL, "width = 60\ncount = 7", 'width = 60\ncount = 9\neyelet.hole = "3/4"')
    assert [stop.code for stop in found.stops] == ["odd-count", "odd-count"]


eighths = st.integers(1, 40).map(lambda n: Fraction(n, 8))


@given(
    width=st.integers(8 * 12, 8 * 200).map(lambda n: Fraction(n, 8)),
    leading=eighths,
    return_=eighths,
    outside=st.integers(4, 32).map(lambda n: Fraction(n, 8)),
    panels=st.sampled_from(["pair", "left", "right", "single"]),
    units=st.sampled_from(["in", "mm", "cm"]),
)
def test_parts_of_a_planned_panel_add_up(  # one argument a strategy
    width: Fraction,
    leading: Fraction,
    return_: Fraction,
    outside: Fraction,
    panels: str,
    units: str,
) -> None:
    """Whatever is asked: the parts make the width exactly, and the count is even and not tight."""
    size = {"in": INCH, "mm": Fraction(1), "cm": Fraction(10)}[units]
    scale = INCH / size  # so that measures are about the same in all units
    numbers = [float(x * scale) for x in (width, leading, return_, outside)]
    w, a, b, g = (f"{x:.2f}" for x in numbers)
    lead = "" if panels == "single" else f"leading = {a}"
    ring = f"outside = {g}\nopening = {float(g) * 0.9:.3f}"
    try:
        panel = panel_of(
            f'width = {w}\npanels = "{panels}"\nreturn = {b}\n{lead}',
            head=f'units = "{units}"',
            eyelet=ring,
        )
    except JobError:
        reject()  # too narrow for two
    if panel.gap < (INCH if units == "in" else 25):
        assert panel.count == 2
    assert panel.count % 2 == 0
    assert panel.width == Fraction(w) * size
    gaps = (panel.count - 1) * panel.gap
    assert panel.width == panel.leading + panel.count * panel.outside + gaps + panel.return_
    assert panel.centers[-1] == panel.width - panel.return_ - panel.outside / 2


@given(
    covers=st.integers(8 * 20, 8 * 120).map(lambda n: Fraction(n, 8)),
    hundredths=st.integers(110, 260),
    panels=st.sampled_from(["pair", "single"]),
)
def test_planned_fullness_comes_back(covers: Fraction, hundredths: int, panels: str) -> None:
    """A panel made for a fullness, then planned by its width, has that very fullness."""
    over, settings = f"covers = {float(covers)}", f'panels = "{panels}"\nreturn = 2'
    made = panel_of(f"{over}\nfullness = {hundredths / 100}\n{settings}")
    again = panel_of(f'width = "{float(made.width / 10)!r} cm"\n{over}\n{settings}')
    assume(again.width == made.width)  # a decimal can say it
    assert again.fullness == Fraction(hundredths, 100)
    assert again.centers == made.centers


def test_length_shorter_than_its_band() -> None:
    """A panel no longer than its band is high is a slip of the pen, refused at its key."""
    with pytest.raises(JobError) as caught:
        panel_of("width = 60\nlength = 4")  # the band is 2 + 2 in high
    assert [fault.where for fault in caught.value.faults] == ["window[1].length"]
    assert panel_of('width = 60\nlength = "4 1/16"').band_height == inches("4")
