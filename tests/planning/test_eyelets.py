"""Returns, counts, gaps and centres, worked by hand and against brute force; lengths in inches."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.job.model import Hung
from drapetemplate.measures import INCH, Units
from drapetemplate.planning import eyelets
from drapetemplate.planning.eyelets import EyeletLine
from tests.helpers.jobfiles import inches

lengths = st.fractions(min_value=0, max_value=200, max_denominator=640)
rings = st.fractions(min_value=10, max_value=120, max_denominator=640)
widths = st.fractions(min_value=300, max_value=6000, max_denominator=640)
even_counts = st.integers(1, 60).map(lambda half: 2 * half)

ASKED = (INCH, "as asked")


def line_of(width: str) -> EyeletLine:
    """A panel so wide: 2 in kept at one end, 4 in at the other, eyelets 2 in across."""
    return EyeletLine(
        width=inches(width), leading=inches("2"), return_=inches("4"), outside=inches("2")
    )


@st.composite
def lines(draw: st.DrawFn) -> EyeletLine:
    """Any panel's line, with room for its eyelets or not."""
    return EyeletLine(
        width=draw(widths), leading=draw(lengths), return_=draw(lengths), outside=draw(rings)
    )


@pytest.mark.parametrize(
    ("width", "count", "expected"),
    [
        ("60", 6, Fraction(42, 5)),  # (60 - 2 - 4 - 6 x 2)/5
        ("60", 10, Fraction(34, 9)),  # (60 - 6 - 20)/9
        ("18", 6, Fraction(0)),  # flange against flange
        ("13", 6, Fraction(-1)),  # (13 - 6 - 12)/5: the flanges would overlap
        ("61", 2, Fraction(51)),
    ],
)
def test_gap(width: str, count: int, expected: Fraction) -> None:
    """What the eyelets, the leading and the return leave is shared between the gaps."""
    line = line_of(width)
    assert expected * INCH == line.gap(count)
    assert (expected + 2) * INCH == line.pitch(count)


def test_centers_are_running_measures() -> None:
    """Each centre is its own multiple of the pitch from the first: 2 + 1, then every 8 2/5 + 2."""
    found = line_of("60").centers(6)
    expected = (3, Fraction(67, 5), Fraction(119, 5), Fraction(171, 5), Fraction(223, 5), 55)
    assert tuple(n * INCH for n in expected) == found


def test_gaps_begin_and_end_in_front() -> None:
    """From an even count both ends go back to the wall: one more front gap than back gaps."""
    assert eyelets.gap_kinds(6, "pole") == ("front", "back", "front", "back", "front")
    assert eyelets.gap_kinds(2, "pole") == ("front",)


def test_hooks_have_no_front_or_back() -> None:
    """Nothing weaves on hooks."""
    assert eyelets.gap_kinds(6, "hooks") == ()


@pytest.mark.parametrize(
    ("width", "expected"),
    [
        ("29", 8),  # 6 + 8 x 2 + 7 x 1, to the last thread
        ("28 15/16", 6),
        ("31 15/16", 8),  # nine would fit from 32 in, but nine is odd
        ("34 15/16", 8),
        ("35", 10),
        ("11", 2),
        ("10 15/16", 0),
        ("3", 0),  # less than the ends alone
    ],
)
def test_most_that_fit(width: str, expected: int) -> None:
    """The largest even count whose gap is at least 1 in; 2 in at one end, 4 in at the other."""
    assert expected == line_of(width).most_that_fit


def test_most_that_fit_is_bounded() -> None:
    """A hundred metres of hair-thin eyelets don't ask for nearly four thousand of them."""
    hair = EyeletLine(
        width=Fraction(100_000), leading=Fraction(0), return_=Fraction(0), outside=Fraction(1, 1000)
    )
    assert hair.most_that_fit == 2000


@pytest.mark.parametrize(
    ("opening", "hung", "length", "asked", "expected"),
    [
        ("1 9/16", "pole", None, None, "2 5/8"),  # one eyelet apart
        ("1 9/16", "pole", "119 15/16", None, "2 5/8"),
        ("1 9/16", "pole", "120", None, "3 15/16"),  # one and a half
        ("13/16", "pole", None, None, "2 5/8"),  # not under 13/16
        ("3/4", "pole", None, None, "3 3/8"),  # 6 - 2 5/8
        ("51/64", "pole", None, None, "3 3/8"),  # just under 13/16
        ("3/4", "pole", "130", None, "3 3/8"),  # a small ring's rule, however long the drop
        ("1 9/16", "hooks", "130", None, "3 3/8"),
        ("3/4", "hooks", "130", "5", "5"),  # what is asked for goes before every rule
        ("1 9/16", "pole", "130", "4", "4"),
    ],
)
def test_target_gap(
    opening: str, hung: Hung, length: str | None, asked: str | None, expected: str
) -> None:
    """The gap to come near: asked for, small rings and hooks, long drops, else one eyelet."""
    found, _ = eyelets.target_gap(
        inches("2 5/8"),
        inches(opening),
        hung,
        None if length is None else inches(length),
        None if asked is None else inches(asked),
        "in",
    )
    assert inches(expected) == found


@pytest.mark.parametrize(
    ("opening", "hung", "units", "expected"),
    [
        ("3/4", "pole", "in", "6 in from centre to centre, usual for openings under 13/16 in"),
        # As round in a metric job, where 6 in are 152.4 mm, 13/16 in 20.6 and 120 in 3048.
        ("3/4", "pole", "mm", "150 mm from centre to centre, usual for openings under 20 mm"),
        ("3/4", "pole", "cm", "15 cm from centre to centre, usual for openings under 2 cm"),
        ("2", "hooks", "in", "6 in from centre to centre, usual on hooks"),
        ("2", "hooks", "mm", "150 mm from centre to centre, usual on hooks"),
        ("2", "pole", "in", "one and a half eyelets apart, for a drop of 120 in or more"),
        ("2", "pole", "mm", "one and a half eyelets apart, for a drop of 3000 mm or more"),
    ],
)
def test_target_gap_in_the_jobs_units(
    opening: str, hung: Hung, units: Units, expected: str
) -> None:
    """Why the eyelets aim at a gap is told in the units of the job, as round in them."""
    long = inches("130")
    _, why = eyelets.target_gap(inches("2 5/8"), inches(opening), hung, long, None, units)
    assert why == expected


@pytest.mark.parametrize(
    ("target", "expected"),
    [
        ("3", 12),  # 12 leave (60 - 6 - 24)/11 = 2.73, 10 leave 3.78
        ("5", 8),  # 8 leave 5.43, 10 leave 3.78
        ("35", 2),  # 2 leave 50, 4 leave 15.33
        ("1/2", 18),  # the most whose gap is 1 in or more: (54 - 36)/17 = 1.06
    ],
)
def test_auto_count_is_nearest_the_target(target: str, expected: int) -> None:
    """Of the even counts, the one whose gap comes nearest the target; room to the wall unknown."""
    found = eyelets.auto_count(line_of("60"), (inches(target), "as asked"), None)
    assert (expected, "nearest to as asked") == found


@pytest.mark.parametrize(
    ("nudge", "expected"), [(Fraction(0), 6), (Fraction(1, 1000), 4), (Fraction(-1, 1000), 6)]
)
def test_tie_takes_the_larger_count(nudge: Fraction, expected: int) -> None:
    """Half way between the gaps of 4 and 6, 6 it is; a hair nearer to 4's, 4."""
    # Of 54 in, 4 eyelets leave 46/3 and 6 leave 42/5.
    target = (Fraction(46, 3) + Fraction(42, 5)) / 2 * INCH + nudge
    found = eyelets.auto_count(line_of("60"), (target, "half way"), None)
    assert found is not None
    assert expected == found[0]


@pytest.mark.parametrize(
    ("room", "expected", "moved"),
    [
        ("3 3/4", 8, ""),  # 8 eyelets: P/2 = (38/7 + 2)/2 = 3.71, and 38/7 is nearest to 5
        ("3 5/8", 10, "; 8 would hit the wall stacked"),  # 10: (34/9 + 2)/2 = 2.89
        # 18: (18/17 + 2)/2 = 1.53; 16: (22/15 + 2)/2 = 1.73
        ("1 5/8", 18, "; 8 would hit the wall stacked"),
    ],
)
def test_auto_count_clears_the_wall(room: str, expected: int, moved: str) -> None:
    """With 5 in aimed at, counts whose stacked fold, half a pitch, wants more room are left out.

    The one that it would be without the wall is named.
    """
    found = eyelets.auto_count(line_of("60"), (inches("5"), "5 in"), inches(room))
    assert (expected, f"nearest to 5 in, among those that clear the wall{moved}") == found


def test_fold_may_fill_the_room_to_the_wall() -> None:
    """Half a pitch of exactly the room is clear: W = 45 in, 6 eyelets, S = 27/5, P/2 = 3.7 in.

    Four have S = 31/3, which is nearer to 9.
    """
    room = Fraction(37, 10) * INCH
    aim = (inches("9"), "9 in")
    line = line_of("45")
    assert eyelets.auto_count(line, aim, room) == (
        6,
        "nearest to 9 in, among those that clear the wall; 4 would hit the wall stacked",
    )
    tighter = eyelets.auto_count(line, aim, room - Fraction(1, 10**6))
    assert tighter is not None
    assert tighter[0] == 8


def test_no_count_clears_the_wall() -> None:
    """Where even the most that fit reach the wall, the most it is, and the reason says so."""
    found = eyelets.auto_count(line_of("60"), (inches("5"), "5 in"), inches("1"))
    assert found == (18, "the most that fit: no count keeps a stacked fold off the wall")


def test_wall_that_rules_nothing_out_is_not_mentioned() -> None:
    """A reason speaks of the wall only where the wall ruled a count out."""
    found = eyelets.auto_count(line_of("60"), (inches("5"), "5 in"), inches("26"))
    assert found == (8, "nearest to 5 in")


def test_auto_count_without_room_for_two() -> None:
    """A panel that can't take two eyelets 1 in apart has no automatic count."""
    assert eyelets.auto_count(line_of("10 15/16"), ASKED, None) is None


def test_width_from_covers() -> None:
    """Twice 40 in of pole, the ends and one eyelet: 80 + 1 1/2 + 3 + 2 5/8."""
    found = eyelets.width_from_covers(
        inches("40"), Fraction(2), inches("1 1/2"), inches("3"), inches("2 5/8")
    )
    assert inches("87 1/8") == found


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [
        ("1", "48"),  # 54 - 2 x 3: no seam
        ("1 1/2", "74"),  # 81 - 1 - 6: the half is a piece of its own, sewn on at a whole seam
        ("2", "101"),  # 108 - 1 - 6
        ("2 1/2", "127"),  # 135 - 2 - 6
        ("3", "154"),  # 162 - 2 - 6
    ],
)
def test_width_from_widths(pieces: str, expected: str) -> None:
    """Widths of 54 in less 1/2 in seams on both sides of each seam and a 3 in hem at each edge."""
    number = sum((Fraction(part) for part in pieces.split()), Fraction(0))
    found = eyelets.width_from_widths(number, inches("54"), inches("1/2"), inches("3"))
    assert inches(expected) == found


def test_length_from_the_pole() -> None:
    """The ring hangs on the pole: 96 + (1 + 5/4 - 3/4) - 1/2 for a 2 1/2 in ring open 1 1/2 in."""
    found = eyelets.length_from_pole(
        inches("96"), inches("1"), inches("2 1/2"), inches("1 1/2"), inches("1/2")
    )
    assert inches("97") == found


@given(lines(), even_counts)
def test_parts_add_up(line: EyeletLine, count: int) -> None:
    """Leading, eyelets, gaps and return make the width to the last digit."""
    gaps = (count - 1) * line.gap(count)
    assert line.width == line.leading + count * line.outside + gaps + line.return_


@given(lines(), even_counts)
def test_centers_are_symmetric(line: EyeletLine, count: int) -> None:
    """The n-th centre from either end is as far from the end eyelets; the last ends the return."""
    centers = line.centers(count)
    assert count == len(centers)
    assert {line.leading + line.width - line.return_} == {
        a + b for a, b in zip(centers, reversed(centers), strict=True)
    }
    assert [line.pitch(count)] * (count - 1) == [b - a for a, b in pairwise(centers)]
    assert line.width == centers[-1] + line.outside / 2 + line.return_


@given(
    lines(),
    st.fractions(min_value=0, max_value=400, max_denominator=64),
    st.none() | st.fractions(min_value=1, max_value=300, max_denominator=64),
)
def test_nobody_is_nearer_the_target(
    line: EyeletLine, target: Fraction, room: Fraction | None
) -> None:
    """A search over every even count finds the automatic one, or that there is none."""
    outside = line.outside

    def gap(count: int) -> Fraction:
        return (line.width - line.leading - line.return_ - count * outside) / (count - 1)

    allowed = [n for n in range(2, 700, 2) if gap(n) >= INCH]
    clear = [n for n in allowed if room is None or gap(n) + outside <= 2 * room]
    found = eyelets.auto_count(line, (target, "aim"), room)
    if not allowed:
        assert found is None
        return
    assert found is not None
    count = found[0]
    if not clear:
        assert max(allowed) == count
        return
    nearest = min(abs(gap(n) - target) for n in clear)
    assert max(n for n in clear if abs(gap(n) - target) == nearest) == count


@given(even_counts)
def test_gap_letters_alternate(count: int) -> None:
    """Front, back ... front: half the count in front, one fewer behind, never two alike."""
    kinds = eyelets.gap_kinds(count, "pole")
    assert (kinds[0], kinds[-1]) == ("front", "front")
    assert (count // 2, count // 2 - 1) == (kinds.count("front"), kinds.count("back"))
    assert all(a != b for a, b in pairwise(kinds))


@given(
    st.fractions(min_value=100, max_value=3000, max_denominator=640),
    st.fractions(min_value=1, max_value=4, max_denominator=100),
    lengths,
    lengths,
    rings,
    even_counts,
)
def test_fullness_comes_back(  # one argument a strategy
    covers: Fraction,
    fullness: Fraction,
    leading: Fraction,
    return_: Fraction,
    outside: Fraction,
    count: int,
) -> None:
    """A width made from a fullness has exactly that fullness between its end eyelets."""
    width = eyelets.width_from_covers(covers, fullness, leading, return_, outside)
    line = EyeletLine(width=width, leading=leading, return_=return_, outside=outside)
    pitch = line.pitch(count)
    assert fullness == (count - 1) * pitch / covers
