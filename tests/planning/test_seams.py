"""Seams and drops: worked examples and properties. The best of all plans has its own tests."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.job.model import Cloth
from drapetemplate.measures import INCH, Length
from drapetemplate.planning.drop_sharing import Panels
from drapetemplate.planning.seam_places import EyeletRow
from drapetemplate.planning.seams import DropLayout, plan_seams
from tests.helpers.rows import goods, row_of, seams_of
from tests.helpers.searching import searched

NONE = Fraction(0)


def inches(*lengths: float | Fraction | str) -> tuple[Length, ...]:
    """Inches, exact."""
    return tuple(Fraction(length) * INCH for length in lengths)


# Outside 2 in, gaps of 4 in, so a pitch of 6; 3 in at both ends. The flange of eyelet n (from 0)
# ends 5 + 6n from the leading edge, back gaps follow eyelets 1, 3, 5 ... A seam keeps
# 1/2 + 1/8 in off: in the back gap after eyelet n it stands 5 5/8 + 6n to 8 3/8 + 6n from the
# edge: 11 5/8 to 14 3/8, 23 5/8 to 26 3/8, 35 5/8 to 38 3/8, 47 5/8 to 50 3/8 ...
def sixes(count: int) -> EyeletRow:
    """A row of 2 in eyelets, 6 in from centre to centre."""
    return row_of(2 * INCH, 4 * INCH, count, (3 * INCH, 3 * INCH))


def test_one_piece() -> None:
    """A panel no wider than the cloth has no seam; a drop each, and what is left is trimmed."""
    # 12 eyelets: 3 + 2 + 66 + 3 = 74 finished, 80 raw.
    made = seams_of(goods(118 * INCH), sixes(12))
    assert ((), inches(80), inches(38)) == (made.seams, made.pieces, made.trims)
    assert (made.drops, made.least_drops) == (2, 2)
    assert (DropLayout((0,), 2, 38 * INCH, inches(0)),) == made.layouts
    assert inches(0) == made.starts


def test_one_piece_that_shares() -> None:
    """Three panels of half a width take two drops: one cut in two, one for the last alone."""
    # 6 eyelets: 3 + 2 + 30 + 3 = 38 finished, 44 raw.
    made = seams_of(goods(88 * INCH), sixes(6), panels=3)
    assert (made.drops, made.least_drops) == (2, 2)
    assert (
        DropLayout((0, 0), 1, NONE, inches(0, 44)),
        DropLayout((0,), 1, 44 * INCH, inches(0)),
    ) == made.layouts
    over = seams_of(goods(87 * INCH), sixes(6), panels=3)
    assert (3, (DropLayout((0,), 3, 43 * INCH, inches(0)),)) == (over.drops, over.layouts)


def test_full_width_at_the_leading_edge() -> None:
    """The wide piece leads, and its seam stands close behind the last eyelet it can reach."""
    # 74 finished, 80 raw, from 54 in: the first piece spans up to 53 1/2 raw, 50 1/2 finished.
    # That reaches the gap from 47 5/8; the last piece is 80 - 50 5/8 + 1/2 = 29 7/8 in.
    made = seams_of(goods(54 * INCH), sixes(12))
    assert inches("381/8") == made.seams  # 47 5/8
    assert inches("409/8", "239/8") == made.pieces
    assert inches("23/8", "193/8") == made.trims
    assert (made.hidden, made.visible, made.drops) == (1, (), 4)


def test_what_hiding_costs() -> None:
    """Seams anywhere would let a pair share a drop: the bare minimum says what hiding costs."""
    # The same panel: with the seam at 53 1/2 raw the last piece is 80 - 53 1/2 + 1/2 = 27 in,
    # half of 54. Hidden at 47 5/8 it is 29 7/8.
    made = seams_of(goods(54 * INCH), sixes(12))
    assert (made.drops, made.least_drops) == (4, 3)
    assert seams_of(goods(60 * INCH), sixes(12)).least_drops == 3


def test_like_pieces_share() -> None:
    """Where the return pieces fit side by side, a pair takes a drop less."""
    # The same panel from 60 in cloth: the last piece may be 30 in, and 29 7/8 is.
    made = seams_of(goods(60 * INCH), sixes(12))
    assert inches("381/8") == made.seams
    assert (made.drops, made.least_drops) == (3, 3)
    over, beside = inches("71/8", "239/8")
    own, shared = made.layouts
    assert DropLayout((0,), 2, over, inches(0)) == own
    assert DropLayout((1, 1), 1, INCH / 4, (NONE, beside)) == shared
    assert inches(0, 0) == made.starts


def test_sharing_moves_a_seam_only_as_far_as_it_must() -> None:
    """A seam leaves the place behind its eyelet where that saves a drop, and no farther."""
    # 59 in cloth: the return piece must be 29 1/2 or less, 29 of it before its seam allowance:
    # the seam stands at 80 - 29 - 3 = 48 in.
    made = seams_of(goods(59 * INCH), sixes(12))
    assert (inches(48), 3) == (made.seams, made.drops)


def test_partials_of_one_panel_share() -> None:
    """Two widths don't hide this seam; three do, and two of the three are cut from one drop."""
    # 18 eyelets: 3 + 2 + 102 + 3 = 110 finished, 116 raw. From 62 in: a seam of two pieces
    # stands 54 1/2 to 61 1/2 raw, 51 1/2 to 58 1/2 finished, past the gap that ends at 50 3/8 and
    # before the one from 59 5/8.
    made = seams_of(goods(62 * INCH), sixes(18), panels=1)
    assert (made.hidden, made.visible, made.drops) == (2, (), 2)
    assert made.least_drops == 2
    shared = made.layouts[-1]
    assert len(shared.pieces) == 2
    assert shared.left_over + sum(made.pieces[n] for n in shared.pieces) == 62 * INCH
    # The second lies beside the first.
    one, _ = shared.pieces
    assert shared.starts == (NONE, made.pieces[one])


def test_hiding_may_take_another_width() -> None:
    """Where the least widths would show a seam, another width hides them all."""
    # 14 eyelets: 3 + 2 + 78 + 3 = 86 finished, 92 raw, from 32 in. Three pieces span up to
    # 31 1/2 + 31 + 31 1/2 = 94. From the leading edge 28 1/2 reaches the gap from 23 5/8 to
    # 26 3/8, 31 more reach 57 3/8, so the gap from 47 5/8 to 50 3/8; but the last piece starts
    # at 89 - 31 1/2 = 57 1/2 or later. With a fourth the next is the gap from 71 5/8.
    made = seams_of(goods(32 * INCH), sixes(14), panels=1)
    assert inches("189/8", "381/8", "573/8") == made.seams
    assert (made.hidden, made.visible, made.drops, made.least_drops) == (3, (), 4, 3)


def test_seam_in_front_where_nothing_hides() -> None:
    """Without a back gap the least widths are taken, and the seam stands clear of both eyelets."""
    row = row_of(2 * INCH, 40 * INCH, 2, (3 * INCH, 3 * INCH))  # 50 finished, 56 raw
    made = seams_of(goods(54 * INCH), row)
    assert (made.hidden, made.visible, made.struck) == (0, (0,), ())
    # The piece at the return shares, so the seam is far enough from the leading edge: the
    # partial is 27 in at most, 26 1/2 of it before the allowance, from 56 - 26 1/2 - 3 on.
    assert (inches("53/2"), 3) == (made.seams, made.drops)


def test_seam_through_eyelets_is_the_last_resort() -> None:
    """Gaps too narrow for any seam let it fall on an eyelet, and the plan says which."""
    row = row_of(4 * INCH, INCH, 15, (INCH, INCH))  # 76 finished, 82 raw
    made = seams_of(goods(54 * INCH), row)
    assert (made.hidden, made.visible, made.struck) == (0, (0,), (0,))


def test_hooks() -> None:
    """On hooks any gap hides a seam: the last within reach is taken, close to its eyelet."""
    # 47 5/8 is in the gap after eyelet 7 and is the last that 50 1/2 reaches, back or front; with
    # 48 in cloth 44 1/2 reaches 41 5/8, in the gap after eyelet 6.
    row = replace(sixes(12), gaps=())
    assert inches("381/8") == seams_of(goods(54 * INCH), row).seams
    assert inches("333/8") == seams_of(goods(48 * INCH), row).seams


def test_no_seam_hides_under_a_side_hem() -> None:
    """Behind the first eyelet on hooks a seam keeps its allowance off the hem that lies there.

    8 eyelets of 1 in, 6 in from centre to centre, 1/2 in at the ends: 44 in finished. A side hem of
    6 in, turned in once, lies behind 6 in of it, and a seam takes 1/2 in more: up to 37 1/2 in. Of
    50 in the first piece of 56 in raw reaches 49 1/2, 43 1/2 in finished. The last gap would do,
    from 36 1/2 + 1 + 5/8 = 38 1/8 in on, but for the hem; the one before begins 6 in earlier.
    """
    row = replace(row_of(INCH, 5 * INCH, 8, (INCH / 2, INCH / 2)), gaps=())
    made = seams_of(goods(50 * INCH, side_hem=6 * INCH), row, 1)
    assert ((), inches("257/8")) == (made.visible, made.seams)
    # With two eyelets the one gap begins at 2 1/8 in, but a hem of 2 in leaves it from 2 1/2 in.
    narrow = row_of(INCH, 5 * INCH, 2, (INCH / 2, INCH / 2))
    moved = seams_of(goods(9 * INCH, side_hem=2 * INCH), replace(narrow, gaps=()), 1)
    assert inches("5/2") == moved.seams


def test_railroaded() -> None:
    """Turned cloth has no seams: one run a panel, as long as its raw width."""
    made = seams_of(replace(goods(118 * INCH), railroad=True), sixes(12), panels=4)
    assert ((), inches(80), 4, 4) == (made.seams, made.pieces, made.drops, made.least_drops)
    assert (inches(0), (DropLayout((0,), 4, NONE, inches(0)),)) == (made.starts, made.layouts)


def test_width_not_known() -> None:
    """Without the cloth's width there is nothing to plan."""
    cloth = replace(goods(INCH), width=None)
    assert plan_seams(cloth, sixes(4), panels=Panels(1), key="window[1].fabric", units="in") is None


def test_pattern_puts_seams_whole_repeats_apart() -> None:
    """With a repeat across, seams stand whole repeats from each other, close behind as it lets."""
    # 24 eyelets: 3 + 2 + 138 + 3 = 146 finished, 152 raw. From 54 in the seams stand at 47 5/8,
    # and in the gap from 95 5/8 to 98 3/8. Repeats of 25 in put them 50 apart.
    plain = seams_of(goods(54 * INCH), sixes(24), panels=1)
    assert inches("381/8", "765/8") == plain.seams
    made = seams_of(goods(54 * INCH, repeat=25 * INCH), sixes(24), panels=1)
    assert inches("381/8", "781/8") == made.seams
    assert made.visible == ()
    # A seam stands on the cloth at 1/2 in and 25 and 50 from there. The first piece ends 1/8 in
    # past the last of these, so all seams move over by that: 51 1/8 less 1/2 is 50 5/8.
    assert inches(0, "1/8", "1/8") == made.starts
    assert inches("409/8", 51, "415/8") == made.pieces


def test_pattern_keeps_its_place_in_a_shared_drop() -> None:
    """Side by side, the second piece starts whole repeats after the first, so fewer fit."""
    # Of 60 in the first piece, 51 1/8, has its seam 50 5/8 from the selvage. On 1/2 in and tens
    # from there that is 1/8 in over, so the partials start there, and 30 in on: 1/8 + 30 + 29 7/8.
    made = seams_of(goods(60 * INCH, repeat=10 * INCH), sixes(12))
    assert (3, inches(0, "1/8")) == (made.drops, made.starts)
    assert made.layouts[-1].left_over == INCH / 4
    assert inches("1/8", "241/8") == made.layouts[-1].starts
    # On fifteens it is 5 1/8 over, and nothing is left for two.
    assert seams_of(goods(60 * INCH, repeat=15 * INCH), sixes(12)).drops == 4


def test_as_many_patterned_pieces_share_as_fit() -> None:
    """Pieces alike start at one place of the pattern, each clear of the one before."""
    # 44 in raw on repeats of 25: they start 50 apart, so three take 100 + 44 in.
    three = seams_of(goods(144 * INCH, repeat=25 * INCH), sixes(6), panels=3)
    assert (DropLayout((0, 0, 0), 1, 12 * INCH, inches(0, 50, 100)),) == three.layouts
    assert (three.drops, three.least_drops) == (1, 1)
    # A hair less holds two of them, and plain cloth of 132 in holds three.
    over = seams_of(goods(144 * INCH - INCH / 64, repeat=25 * INCH), sixes(6), panels=3)
    assert [(layout.pieces, layout.times) for layout in over.layouts] == [((0, 0), 1), ((0,), 1)]
    assert seams_of(goods(132 * INCH), sixes(6), panels=3).drops == 1


def test_pattern_takes_from_two_full_widths() -> None:
    """Cloth beside its whole repeats serves the first piece or the last, not both."""
    # 16 eyelets: 3 + 2 + 90 + 3 = 98 finished, 104 raw; two pieces of 53 in span 52 1/2 each. A
    # repeat of 40 in leaves 12 of the 52 between seams: together they span 53 + 40.
    assert len(seams_of(goods(53 * INCH), sixes(16)).pieces) == 2
    assert len(seams_of(goods(53 * INCH, repeat=40 * INCH), sixes(16)).pieces) == 3
    assert len(seams_of(goods(53 * INCH, repeat=52 * INCH), sixes(16)).pieces) == 2


@pytest.mark.parametrize(
    ("cloth", "count", "where", "said"),
    [
        (goods(Fraction(7, 2) * INCH), 8, "width", "wider than 3 1/2 in"),
        (goods(INCH, side_hem=Fraction(0)), 8, "width", "wider than 1 in"),
        (goods(30 * INCH, repeat=32 * INCH), 20, "repeat_across", "33 in or wider"),
        (goods(30 * INCH, repeat=32 * INCH), 5, "repeat_across", "panels of 24 in or narrower"),
        (goods(6 * INCH, side_hem=4 * INCH, repeat=8 * INCH), 8, "repeat_across", "wider, or rail"),
        (goods(4 * INCH), 200, "width", "more than the 200"),
    ],
)
def test_refused(cloth: Cloth, count: int, where: str, said: str) -> None:
    """Cloth that can't make the panel is refused at its key, with what would do."""
    with pytest.raises(JobError) as caught:
        seams_of(cloth, sixes(count))
    (fault,) = caught.value.faults
    assert f"window[1].fabric.{where}" == fault.where
    assert said in fault.text


def test_what_a_refusal_asks_for_will_do() -> None:
    """The cloth that a refused repeat asks for makes the panel, and so does the narrower panel."""
    assert seams_of(goods(33 * INCH, repeat=32 * INCH), sixes(20), panels=1).drops
    row = row_of(2 * INCH, 4 * INCH, 4, (2 * INCH, 2 * INCH))
    assert row.width == 24 * INCH
    assert seams_of(goods(30 * INCH, repeat=32 * INCH), row).seams == ()


SIXTEENTH = INCH / 16


@st.composite
def panels(draw: st.DrawFn) -> tuple[Cloth, EyeletRow, int]:
    """A cloth, a row of eyelets and a number of panels, as a workroom might have them."""

    def length(low: int, high: int) -> Length:
        return draw(st.integers(16 * low, 16 * high)) * SIXTEENTH

    ends = (length(0, 6), length(0, 6))
    row = row_of(length(1, 4), length(1, 9), 2 * draw(st.integers(1, 24)), ends)
    if draw(st.booleans()):
        row = replace(row, gaps=())
    repeat = draw(st.none() | st.integers(16, 16 * 27).map(lambda n: n * SIXTEENTH))
    cloth = goods(length(30, 120), seam=length(0, 1), side_hem=length(0, 4), repeat=repeat)
    return cloth, row, draw(st.integers(1, 6))


PROPERTY = searched(300)


@PROPERTY
@given(panels())
def test_pieces_make_the_panel(problem: tuple[Cloth, EyeletRow, int]) -> None:
    """No piece is wider than the cloth; less seams and hems, they are the finished width."""
    cloth, row, count = problem
    made = seams_of(cloth, row, count)
    assert cloth.width is not None
    assert all(0 < piece <= cloth.width for piece in made.pieces)
    joined = 2 * cloth.seam * (len(made.pieces) - 1)
    assert row.width == sum(made.pieces) - joined - 2 * cloth.side_hem
    assert all(
        cloth.width == piece + trim for piece, trim in zip(made.pieces, made.trims, strict=True)
    )
    # Each seam stands where the pieces before it end.
    for n, seam in enumerate(made.seams):
        ends = sum(made.pieces[: n + 1]) - cloth.seam * (2 * n + 1) - cloth.side_hem
        assert ends == seam


@PROPERTY
@given(panels())
def test_hidden_seams_clear_the_eyelets(problem: tuple[Cloth, EyeletRow, int]) -> None:
    """A hidden seam is in a back gap (on hooks, any), its allowance 1/8 in off every flange."""
    cloth, row, count = problem
    made = seams_of(cloth, row, count)
    off = row.outside / 2 + cloth.seam + INCH / 8
    for n, seam in enumerate(made.seams):
        before = [center for center in row.centers if center <= seam]
        between = 0 < len(before) < len(row.centers)
        back = between and (not row.gaps or row.gaps[len(before) - 1] == "back")
        clear = all(abs(center - seam) >= off for center in row.centers)
        # Turned in once, a hem lies as far behind the finished edge as its cloth reaches.
        hem = cloth.side_hem + cloth.seam
        clear = clear and hem <= seam <= row.width - hem
        assert (back and clear) == (n not in made.visible)
    assert made.hidden == len(made.seams) - len(made.visible)
    assert set(made.struck) <= set(made.visible)


@PROPERTY
@given(panels())
def test_pattern_matches(problem: tuple[Cloth, EyeletRow, int]) -> None:
    """Seams are whole repeats apart; on both sides of each the cloth is at one place of its own."""
    cloth, row, count = problem
    repeat = cloth.repeat_across or 5 * INCH
    made = seams_of(replace(cloth, repeat_across=repeat), row, count)
    assert all((two - one) % repeat == 0 for one, two in pairwise(made.seams))
    ends = [start + piece for start, piece in zip(made.starts, made.pieces, strict=True)]
    assert all(
        (end - cloth.seam - start - cloth.seam) % repeat == 0
        for end, start in zip(ends, made.starts[1:], strict=False)
    )
    # As far left as can be: no piece could begin a repeat before, nor all of them together.
    assert all(0 <= start < repeat for start in made.starts)
    assert 0 in made.starts[:2]


@PROPERTY
@given(panels())
def test_pieces_lie_on_their_drops(problem: tuple[Cloth, EyeletRow, int]) -> None:
    """Pieces keep to the cloth; those of a drop lie side by side, where their pattern is."""
    cloth, row, count = problem
    made = seams_of(cloth, row, count)
    assert cloth.width is not None
    for start, piece in zip(made.starts, made.pieces, strict=True):
        assert 0 <= start <= start + piece <= cloth.width
    for layout in made.layouts:
        assert layout.starts[0] == made.starts[layout.pieces[0]]
        placed = list(zip(layout.pieces, layout.starts, strict=True))
        for (before, at), (_, after) in pairwise(placed):
            assert at + made.pieces[before] <= after
        for n, at in placed:
            assert at + made.pieces[n] <= cloth.width
            if cloth.repeat_across:
                assert (at - made.starts[n]) % cloth.repeat_across == 0


@PROPERTY
@given(panels())
def test_drops_hold_every_piece(problem: tuple[Cloth, EyeletRow, int]) -> None:
    """The drops listed are the drops counted, hold every piece once, and never less than area."""
    cloth, row, count = problem
    made = seams_of(cloth, row, count)
    assert cloth.width is not None
    assert made.drops == sum(layout.times for layout in made.layouts)
    for place in range(len(made.pieces)):
        assert count == sum(layout.times * layout.pieces.count(place) for layout in made.layouts)
    for layout in made.layouts:
        assert layout.left_over == cloth.width - sum(made.pieces[n] for n in layout.pieces)
        assert layout.left_over >= 0
        assert layout.times > 0
    assert made.drops >= made.least_drops


@PROPERTY
@given(panels())
def test_seams_stand_close_behind(problem: tuple[Cloth, EyeletRow, int]) -> None:
    """No seam alone can move nearer to its eyelet: its own gap or a full width stops it."""
    cloth, row, count = problem
    cloth = replace(cloth, repeat_across=None)
    made = seams_of(cloth, row, count)
    shared = {n for layout in made.layouts if len(layout.pieces) > 1 for n in layout.pieces}
    off = row.outside / 2 + cloth.seam + INCH / 8
    for n, seam in enumerate(made.seams):
        if n in made.visible or shared & {n, n + 1}:
            continue
        behind = seam - off == max(center for center in row.centers if center <= seam)
        assert behind or made.trims[n + 1] == 0
