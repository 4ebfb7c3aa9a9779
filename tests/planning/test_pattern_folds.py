"""Counts and widths with the pattern on the folds, against a search of all of them and by hand."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning.compare import compare
from drapetemplate.planning.model import WindowPlan
from tests.helpers.jobfiles import inches, job_of, mixed, window_of
from tests.helpers.searching import searched

BIG = 'outside = "2 5/8"\nopening = "1 9/16"\nhole = "1 5/8"'
POLE = '[pole]\nprojection = {}\ndiameter = "3/4"'
STRIPE = '[fabric]\nwidth = 54\nrepeat_across = "{}"'
FIXED = 'pattern = "folds"\nlength = 84\nleading = "1 1/2"\nreturn = 3'


def planned(window: str, *, repeat: str, projection: str = "4", eyelet: str = BIG) -> WindowPlan:
    """A window of striped cloth on its folds."""
    tables = f"{POLE.format(projection)}\n{STRIPE.format(repeat)}"
    return window_of(f"{FIXED}\n{window}", eyelet=eyelet, tables=tables)


def test_a_width_by_hand() -> None:
    """Nearest of all: 14 eyelets a repeat apart, 13 * 6 3/4 and 7 1/8 at the ends, 94 7/8 in.

    Asked for are 90 in: 82 7/8 between the end centres, which is 24.56 half repeats. Folds of more
    than one repeat reach the wall, and half a repeat leaves 3/4 in between eyelets: so only whole
    repeats do, an odd number of them. 13 of them are 87 3/4 in; 11 would be under nine tenths.
    """
    window = planned("width = 90", repeat="6 3/4")
    panel = window.panels[0]
    assert (panel.count, panel.pitch, panel.width) == (14, inches("6 3/4"), inches("94 7/8"))
    assert window.pattern is not None
    assert window.pattern.half_repeats == 2
    assert window.pattern.asked_width == 90 * INCH
    (note,) = [each for each in window.findings if each.code == "pattern-width"]
    assert note.level == "note"
    assert "eyelets 6 3/4 in apart, 1 repeat:" in note.text
    assert "94 7/8 in wide, 4 7/8 in more than the 90 in asked for" in note.text


def test_fullness_goes_with_the_width() -> None:
    """What is covered stays: 42 in of pole with 87 3/4 in of cloth are 2 5/56 times, not twice."""
    panel = planned("covers = 42\nfullness = 2", repeat="6 3/4").panels[0]
    assert (panel.covers, panel.fullness) == (42 * INCH, Fraction(117, 56))


def test_half_a_repeat_is_the_other_stripe() -> None:
    """A repeat of 13 in has front folds alike at 6 1/2 in apart, and the backs half a repeat on."""
    window = planned("width = 90", repeat="13")
    assert window.pattern is not None
    assert window.pattern.half_repeats == 1
    assert window.panels[0].pitch == inches("6 1/2")


def test_the_width_asked_for_may_be_right() -> None:
    """A panel of 13 repeats and its ends is made as asked for, and nothing is said of it."""
    window = planned('width = "94 7/8"', repeat="6 3/4")
    assert window.panels[0].width == inches("94 7/8")
    assert not [each for each in window.findings if each.code.startswith("pattern")]


def test_nothing_fits() -> None:
    """Half of 27 in is too far apart for a bracket of 4 in; one of 7 1/4 in would have room.

    13 1/2 in apart, stacked folds reach 6 3/4 in, and 1/2 in is kept off the wall. The panel is
    what it would be with its pattern at the seams alone.
    """
    window = planned("width = 90", repeat="27")
    plain = window_of(
        f"{FIXED}\nwidth = 90".replace("folds", "seams"),
        eyelet=BIG,
        tables=f"{POLE.format(4)}\n{STRIPE.format(27)}",
    )
    assert window.panels == plain.panels
    assert (plain.pattern, window.pattern and window.pattern.half_repeats) == (None, None)
    (free,) = [each for each in window.findings if each.code == "pattern-free"]
    assert free.level == "warn"
    assert "13 1/2 in apart at the least" in free.text
    assert "a bracket of 7 1/4 in" in free.text
    assert planned("width = 90", repeat="27", projection="7.25").pattern.half_repeats == 1  # type: ignore[union-attr]


def test_deep_folds_only_where_the_wall_is_known() -> None:
    """Without a projection no gap is over twice the eyelet's outside, whatever width that costs.

    29 half repeats of 5 in would be nearest to 145 in of cloth, all in one gap.
    """
    window = window_of(
        f"{FIXED}\nwidth = 152", eyelet=BIG, tables='[fabric]\nwidth = 54\nrepeat_across = "10"'
    )
    panel = window.panels[0]
    assert (panel.pitch, panel.count) == (5 * INCH, 30)


def test_no_panel_that_its_rings_keep_from_closing() -> None:
    """36 in of pole at 1.15 times are 41.4 in of cloth; a pitch is 2 or 3 half repeats of 2 1/8 in.

    10 eyelets a repeat apart have 9 x 4 1/4 = 38 1/4 in, 3.15 in less, 1.06 times: with rings that
    turn no more than some 60 degrees such a panel never closes. 8 of them one and a half apart have
    7 x 6 3/8 = 44 5/8 in, 3.225 in more, and do. Where no pole says how far rings turn, the nearer.
    """
    ring = BIG + '\nthickness = "1/8"'
    flat = "covers = 36\nfullness = 1.15"
    for diameter, count, pitch in (('diameter = "5/8"', 8, "6 3/8"), ("", 10, "4 1/4")):
        pole = f"[pole]\nprojection = 4\n{diameter}"
        window = window_of(
            f"{FIXED}\n{flat}", eyelet=ring, tables=f"{pole}\n{STRIPE.format('4 1/4')}"
        )
        panel = window.panels[0]
        assert (panel.count, panel.pitch) == (count, inches(pitch))
        assert not [each for each in window.findings if each.level == "stop"]


def test_compare_keeps_each_count_on_the_folds() -> None:
    """Each count has a width of its own, an odd number of repeats, or says that none does."""
    job = job_of(
        f"{FIXED}\nwidth = 90", eyelet=BIG, tables=f"{POLE.format(4)}\n{STRIPE.format('6 3/4')}"
    )
    (window,) = compare(job)
    widths = {
        choice.count: choice.window.panels[0].width
        for choice in window.choices
        if choice.window and choice.window.pattern and choice.window.pattern.half_repeats
    }
    ends = inches("7 1/8")
    assert widths == {count: ends + (count - 1) * inches("6 3/4") for count in widths}
    assert {14, 16, 18} <= widths.keys()


@pytest.mark.parametrize(
    ("window", "tables", "said"),
    [
        ("", "[fabric]\nwidth = 54", "give repeat_across in [fabric], or seams"),
        ("", "", "give repeat_across in [fabric], or seams"),
        ("", "[fabric]\nrepeat_across = 6\nrailroad = true", "runs down the panel: give seams"),
        ("[window.eyelet]\nhung = 'hooks'", "[fabric]\nrepeat_across = 6", "folds on hooks"),
        (
            "[window.fabric]\nrepeat_across = 'none'",
            "[fabric]\nrepeat_across = 6",
            "give repeat_across in [fabric], or seams",
        ),
    ],
)
def test_folds_that_cant_be(window: str, tables: str, said: str) -> None:
    """Folds of a cloth without a repeat across, of turned cloth, or on hooks: one line each."""
    with pytest.raises(JobError) as refused:
        job_of(f'width = 60\npattern = "folds"\n{window}', tables=tables)
    (fault,) = refused.value.faults
    assert fault.where == "window[1].pattern"
    assert said in fault.text


def nearest_of_all(
    cloth: Fraction,
    repeat: Fraction,
    outside: Fraction,
    *,
    longest: Fraction | None,
    counts: Iterable[int],
    least: Fraction,
) -> tuple[Fraction, int, Fraction] | None:
    """How far off, the count and the pitch of every one that does the nearest; None if none does.

    Every count is tried with every whole number of half repeats from one centre to the next.
    """
    best = None
    for n in counts:
        for m in range(1, 400):
            pitch = m * repeat / 2
            flat = (n - 1) * pitch
            if pitch < outside + 1 or flat < least:
                continue
            if longest is not None and pitch > longest:
                break
            rank = (abs(flat - cloth), abs(pitch - 2 * outside), -n)
            if best is None or rank < best[0]:
                best = rank, n, pitch
            if flat > cloth:
                break
    return None if best is None else (best[0][0], best[1], best[2])


@searched(250)
@given(
    width=st.integers(120, 500).map(lambda n: Fraction(n, 4)),
    repeat=st.integers(4, 240).map(lambda n: Fraction(n, 8)),
    outside=st.sampled_from([Fraction(3, 2), Fraction(2), Fraction("2.625"), Fraction(4)]),
    projection=st.sampled_from([None, Fraction(3), Fraction(4), Fraction(6), Fraction(9)]),
    count=st.sampled_from([None, None, 6, 8, 12]),
    fullness=st.sampled_from([None, Fraction("1.02"), Fraction("1.5"), Fraction(2), Fraction(3)]),
)
def test_the_nearest_of_all(
    width: Fraction,
    repeat: Fraction,
    outside: Fraction,
    projection: Fraction | None,
    count: int | None,
    fullness: Fraction | None,
) -> None:
    """The count and width are those of a search of all of them, in inches.

    The gap is 1 in or more, half a pitch clears the wall by 1/2 in, the panel covers its pole with
    nine tenths of the fullness asked for or more; the nearest width is taken.
    """
    cloth = width - Fraction(9, 2) - outside
    longest = None if projection is None else 2 * (projection - Fraction(1, 2))
    if projection is None and count is None:
        longest = 3 * outside
    best = nearest_of_all(
        cloth,
        repeat,
        outside,
        longest=longest,
        counts=range(2, 200, 2) if count is None else [count],
        least=max(cloth * 9 / 10, cloth / (fullness or 10)),
    )
    words = [f"width = '{mixed(width)}'", "pattern = 'folds'", "leading = 1.5", "return = 3"]
    words += [] if count is None else [f"count = {count}"]
    words += [] if fullness is None else [f"fullness = {float(fullness)}"]
    pole = "" if projection is None else f"[pole]\nprojection = '{mixed(projection)}'"
    goods = f"[fabric]\nwidth = 200\nrepeat_across = '{mixed(repeat)}'"
    eyelet = f"outside = {float(outside)}\nopening = 1\nhole = 1"
    try:
        window = window_of("\n".join(words), eyelet=eyelet, tables=f"{pole}\n{goods}")
    except JobError:
        assert count is not None  # so many don't fit the width asked for
        return
    panel = window.panels[0]
    assert window.pattern is not None
    if window.pattern.half_repeats is None:
        # Nothing does, or it is so much too wide that its folds would touch.
        assert best is None or (best[1] - 1) * best[2] > 6 * cloth / (fullness or 1)
        assert panel.width == width * INCH
        return
    assert best is not None
    off, n, pitch = best
    assert abs(panel.width - width * INCH) == off * INCH
    assert (panel.count, panel.pitch) == (n, pitch * INCH)


def test_no_count_is_named_that_would_be_another_width() -> None:
    """Where the pattern settles the width, what hiding seams costs is told without a count."""
    window = planned("width = 90", repeat="6 3/4")
    (note,) = [each for each in window.findings if each.code == "extra-width"]
    assert note.remedies == ()
    assert note.text.endswith(". Buy them, or try another width of cloth or of panel")


def test_counts_are_named_where_no_width_does() -> None:
    """A window that is planned as at its seams is advised of its seams as such a window is."""
    window = planned("covers = 42\nfullness = 2\ncount = 18", repeat="27")
    (found,) = [each for each in window.findings if each.code.startswith("seam-")]
    assert "eyelets a panel hide every seam" in found.text
