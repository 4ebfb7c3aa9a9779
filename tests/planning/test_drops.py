"""The drops of a cloth in order: whose pieces they hold, where those lie, and how far along."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, example, given, reject
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning.cloth import ClothOrder
from drapetemplate.planning.drops import Drop, MadePanel, PlacedPiece, drops, made_panels
from drapetemplate.planning.model import Plan
from tests.helpers.jobfiles import RING, inches, plan_of
from tests.helpers.searching import searched
from tests.helpers.strips import sixteenths

# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in. From
# 54 in and 60 in cloth alike the seam stands at 47 5/8 in, so the pieces are 51 1/8 and 29 7/8 in.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LEAD, REST = inches("51 1/8"), inches("29 7/8")
LEFT, RIGHT = MadePanel("left"), MadePanel("right")
# A pair whose panels have a first and a last piece that share a drop of patterned cloth.
DIFFERENT = (
    "width = 110\nleading = 3\nreturn = 3\ncount = 18\nlength = 84",
    "[fabric]\nwidth = 61\nrepeat_across = 10",
)


def cut_from(plan: Plan) -> list[Drop]:
    """The drops of a plan's only cloth."""
    (order,) = plan.order.cloth
    return list(drops(plan, order))


def held(found: list[Drop]) -> list[list[tuple[str, int]]]:
    """The panels and places on each drop, from its left selvage."""
    return [[(piece.panel.name, piece.number) for piece in drop.pieces] for drop in found]


@pytest.mark.parametrize(
    ("window", "expected"),
    [
        ("", ("left", "right")),
        ('panels = "left"', ("left",)),
        ('panels = "single"', ("single",)),
        ("quantity = 2", ("left 1", "right 1", "left 2", "right 2")),
        ('quantity = 3\npanels = "right"', ("right 1", "right 2", "right 3")),
    ],
)
def test_names(window: str, expected: tuple[str, ...]) -> None:
    """Panels go by their side, and by a number where the window is made more than once."""
    panels = made_panels(plan_of(f"width = 74\n{window}").windows[0])
    assert expected == tuple(panel.name for panel in panels)


def test_pair() -> None:
    """Panel after panel, piece after piece from the leading edge, each drop after the last."""
    found = cut_from(plan_of(LONG, tables="[fabric]\nwidth = 54"))
    assert [drop.number for drop in found] == [1, 2, 3, 4]
    assert held(found) == [[("left", 1)], [("left", 2)], [("right", 1)], [("right", 2)]]
    assert [drop.at for drop in found] == [0, 100 * INCH, 200 * INCH, 300 * INCH]
    assert {drop.length for drop in found} == {100 * INCH}
    assert {(drop.window, drop.part, drop.turned) for drop in found} == {
        ("Window 1", "face", False)
    }


def test_where_pieces_lie() -> None:
    """A left panel's pieces lie from the right selvage, where it leads; others from the left."""
    one, two, three, four = cut_from(plan_of(LONG, tables="[fabric]\nwidth = 54"))
    assert one.pieces == (PlacedPiece(LEFT, 1, 2, inches("2 7/8"), LEAD),)  # 54 - 51 1/8
    assert two.pieces == (PlacedPiece(LEFT, 2, 2, inches("24 1/8"), REST),)  # 54 - 29 7/8
    assert three.pieces == (PlacedPiece(RIGHT, 1, 2, Fraction(0), LEAD),)
    assert four.pieces == (PlacedPiece(RIGHT, 2, 2, Fraction(0), REST),)


def test_single_panel_lies_from_the_left() -> None:
    """A single panel counts from its left edge, so its pieces lie from the left selvage."""
    window = 'panels = "single"\nwidth = 74\nreturn = 3\ncount = 12\nlength = 84'
    found = cut_from(plan_of(window, tables="[fabric]\nwidth = 54"))
    assert [drop.pieces[0].left for drop in found] == [0, 0]
    assert held(found) == [[("single", 1)], [("single", 2)]]


def test_a_drop_for_two_panels() -> None:
    """What a pair shares comes after both panels' own: each panel's piece on its own side."""
    # 60 - 2 x 29 7/8 = 1/4 in between them.
    found = cut_from(plan_of(LONG, tables="[fabric]\nwidth = 60"))
    assert held(found) == [[("left", 1)], [("right", 1)], [("right", 2), ("left", 2)]]
    right, left = found[-1].pieces
    assert (right.left, right.width) == (Fraction(0), REST)
    assert (left.left, left.width) == (inches("30 1/8"), REST)


def test_shared_drops_of_two_pairs() -> None:
    """Each pair shares its own drop, before the next pair begins."""
    found = cut_from(plan_of(f"{LONG}\nquantity = 2", tables="[fabric]\nwidth = 60"))
    assert held(found) == [
        [("left 1", 1)],
        [("right 1", 1)],
        [("right 1", 2), ("left 1", 2)],
        [("left 2", 1)],
        [("right 2", 1)],
        [("right 2", 2), ("left 2", 2)],
    ]


def test_a_drop_for_two_panels_of_one_side() -> None:
    """Two left panels share from the right selvage on; a third has a drop of its own."""
    window = f'{LONG}\npanels = "left"\nquantity = 3'
    found = cut_from(plan_of(window, tables="[fabric]\nwidth = 60"))
    assert held(found) == [
        [("left 1", 1)],
        [("left 2", 1)],
        [("left 2", 2), ("left 1", 2)],
        [("left 3", 1)],
        [("left 3", 2)],
    ]
    second, first = found[2].pieces
    assert (second.left, first.left) == (inches("1/4"), inches("30 1/8"))
    assert found[-1].pieces[0].left == inches("30 1/8")


def test_a_drop_for_two_pieces_of_one_panel() -> None:
    """Two partials of one panel lie side by side, that nearer the leading edge on its side."""
    # 18 eyelets: 110 in finished, 116 in raw, from 62 in: two pieces can't hide the seam, three
    # can, two of them from one drop.
    window = "width = 110\nleading = 3\nreturn = 3\ncount = 18\nlength = 84\npanels = "
    places: dict[str, list[Fraction]] = {}
    for side in ("left", "right"):
        made = plan_of(f'{window}"{side}"', tables="[fabric]\nwidth = 62")
        _, shared = cut_from(made)
        assert {piece.panel.name for piece in shared.pieces} == {side}
        assert {piece.of for piece in shared.pieces} == {3}
        near, far = sorted(shared.pieces, key=lambda piece: piece.number)
        places[side] = [near.left, near.left + near.width, far.left, far.left + far.width]
        assert near.width + far.width <= 62 * INCH
    near_left, near_right, far_left, far_right = places["right"]
    assert (near_left, near_right) == (Fraction(0), far_left)
    # The left panel's drop is the mirror image.
    assert places["left"] == [62 * INCH - x for x in (near_right, near_left, far_right, far_left)]


def test_running_over_windows() -> None:
    """One cloth runs on from window to window, each with cuts of its own length."""
    # Cuts of 100 in, then of 60 + 8 + 8 = 76 in.
    short = LONG.replace("84", "60") + '\nname = "Larder"'
    found = cut_from(plan_of(LONG, short, tables="[fabric]\nwidth = 54"))
    at = [0, 100, 200, 300, 400, 476, 552, 628]
    assert [drop.at for drop in found] == [x * INCH for x in at]
    assert [drop.number for drop in found] == list(range(1, 9))
    assert [drop.window for drop in found] == ["Window 1"] * 4 + ["Larder"] * 4


def test_cloths_run_apart() -> None:
    """Each cloth starts at its own beginning; one cloth as face and lining runs on."""
    made = plan_of(LONG, tables="[fabric]\nwidth = 54\n[lining]\nwidth = 54")
    face, lining = (list(drops(made, order)) for order in made.order.cloth)
    assert [one[0].at for one in (face, lining)] == [0, 0]
    assert [one[0].part for one in (face, lining)] == ["face", "lining"]
    both = '[fabric]\nname = "x"\nwidth = 54\n[lining]\nname = "x"\nwidth = 54'
    found = cut_from(plan_of(LONG, tables=both))
    # The face takes four drops of 100 in. The lining is 74 - 2 x 1 1/2 + 2 x 1 1/2 = 74 in raw: its
    # seam, 47 5/8 in from the raw edge, leaves pieces of 26 7/8 in, and two share a drop of 87 in.
    assert [drop.part for drop in found] == ["face"] * 4 + ["lining"] * 3
    assert found[-1].at == 574 * INCH


def test_railroaded() -> None:
    """Turned cloth has a run of the raw width a panel, the cut length lying across it."""
    found = cut_from(plan_of(LONG, tables="[fabric]\nwidth = 118\nrailroad = true"))
    assert [(drop.at, drop.length, drop.turned) for drop in found] == [
        (0, 80 * INCH, True),
        (80 * INCH, 80 * INCH, True),
    ]
    assert [drop.pieces for drop in found] == [
        (PlacedPiece(LEFT, 1, 1, Fraction(0), 100 * INCH),),
        (PlacedPiece(RIGHT, 1, 1, Fraction(0), 100 * INCH),),
    ]


@pytest.mark.parametrize(
    "job",
    [
        ("width = 74\ncount = 12", "[fabric]\nwidth = 54"),  # no length
        (LONG, '[fabric]\nname = "x"'),  # no width
    ],
)
def test_nothing_known_nothing_cut(job: tuple[str, str]) -> None:
    """Without a cut length or the cloth's width there are no drops to list."""
    window, tables = job
    assert cut_from(plan_of(window, tables=tables)) == []


def test_only_what_is_known_is_cut() -> None:
    """A window without a length is left out; the cloth runs on for the others."""
    made = plan_of(LONG.replace("\nlength = 84", ""), LONG, tables="[fabric]\nwidth = 54")
    found = cut_from(made)
    assert [(drop.window, drop.number) for drop in found] == [("Window 2", n) for n in (1, 2, 3, 4)]


def test_a_pattern_shared_by_a_pair() -> None:
    """A pair's like pieces are laid clear of each other, each where its pattern matches."""
    # 8 eyelets: 50 in finished, 56 raw. From 40 in with a repeat of 17: seams leave 39 in, two
    # repeats and 5 in. The seam stands close behind its eyelet, 35 5/8 + 3 = 38 5/8 in raw: the
    # lead piece is 39 1/8 in and what is left 56 - 38 5/8 + 1/2 = 17 7/8 in. The lead piece starts
    # at its selvage, and its seam is 38 5/8 in from there: seams match there and at 21 5/8 and
    # 4 5/8 in, and the others start at 4 1/8 or 21 1/8 in. From 4 1/8 in two would meet: they end
    # at 22 in, past the middle. From 21 1/8 in each lies past the middle, on the other's side.
    window = "width = 50\nleading = 3\nreturn = 3\ncount = 8\nlength = 84"
    found = cut_from(plan_of(window, tables="[fabric]\nwidth = 40\nrepeat_across = 17"))
    *_, shared = found
    assert [piece.width for piece in shared.pieces] == [inches("17 7/8")] * 2
    one, two = shared.pieces
    assert one.left + one.width <= two.left
    for piece in shared.pieces:
        # From the selvage on the side that it leads.
        start = 40 * INCH - piece.left - piece.width if piece.panel == LEFT else piece.left
        assert start == inches("21 1/8")


def test_a_pattern_shared_by_two_pairs() -> None:
    """Four like pieces of two pairs lie on one drop, each where its pattern matches."""
    # 14 eyelets: 86 in finished, 92 raw. From 76 in with a repeat of 17 seams leave 75 in, four
    # repeats and 7 in. The lead piece is a full width, its seam at 75 1/2 in raw, and what is left
    # is 92 - 75 1/2 + 1/2 = 17 in; it starts 7, 24, 41 or 58 in from the selvage that it leads at.
    # From both selvages 7 and 24 would meet: 2 x 41 is more than 76.
    window = "width = 86\nleading = 3\nreturn = 3\ncount = 14\nlength = 84\nquantity = 2"
    found = cut_from(plan_of(window, tables="[fabric]\nwidth = 76\nrepeat_across = 17"))
    assert held(found)[-1] == [("left 2", 2), ("left 1", 2), ("right 1", 2), ("right 2", 2)]
    assert [piece.left / INCH for piece in found[-1].pieces] == [1, 18, 41, 58]
    assert {piece.width for piece in found[-1].pieces} == {17 * INCH}
    assert len(found) == 5


def test_a_pattern_shared_by_different_pieces() -> None:
    """Each panel's first and last piece come from one drop, each where its pattern matches."""
    # 18 eyelets: 110 in finished, 116 raw. From 61 in with a repeat of 10 seams leave 60 in. Seams
    # stand at 38 5/8 and 98 5/8 in raw: the pieces are 39 1/8, 61 and 116 - 98 5/8 + 1/2 = 17 7/8.
    # Seams match 1/2 in from the selvage and tens from there. The last piece begins at the
    # selvage; the first one ends at the other, so it begins at 61 - 39 1/8 = 21 7/8 in.
    found = cut_from(plan_of(DIFFERENT[0], tables=DIFFERENT[1]))
    assert held(found) == [
        [("left", 2)],
        [("left", 1), ("left", 3)],
        [("right", 2)],
        [("right", 3), ("right", 1)],
    ]
    of_left, of_right = found[1].pieces, found[3].pieces
    assert [piece.left for piece in of_right] == [0, inches("21 7/8")]
    assert [piece.width for piece in of_right] == [inches("17 7/8"), inches("39 1/8")]
    # The left panel's drop is the mirror image.
    assert [piece.left for piece in of_left] == [0, inches("43 1/8")]


Words = tuple[str, str]
"""A job's window and its tables."""


@st.composite
def jobs(draw: st.DrawFn) -> Words:
    """A window and its cloth, their measures in sixteenths of an inch."""

    def length(low: int, high: int) -> str:
        return f'"{draw(sixteenths(str(low), str(high)))} in"'

    panels = draw(st.sampled_from(["pair", "left", "right", "single"]))
    window = [
        f'panels = "{panels}"',
        f"width = {length(20, 200)}",
        f"return = {length(0, 5)}",
        f"quantity = {draw(st.integers(1, 3))}",
        f"length = {length(60, 110)}",
        f"count = {2 * draw(st.integers(1, 14))}",
        f"extra_seams = {draw(st.integers(0, 2))}",
    ]
    cloth = [f"width = {length(24, 70)}", f"seam = {length(0, 1)}", f"side_hem = {length(0, 4)}"]
    if draw(st.booleans()):
        cloth.append(f"repeat_across = {length(1, 30)}")
    return "\n".join(window), "[fabric]\n" + "\n".join(cloth)


PROPERTY = searched(200)
# A pair that shares a drop of patterned cloth, and two that do: see above.
SHARED = (
    "width = 50\nleading = 3\nreturn = 3\ncount = 8\nlength = 84",
    "[fabric]\nwidth = 40\nrepeat_across = 17",
)
SHARED_BY_FOUR = (
    "width = 86\nleading = 3\nreturn = 3\ncount = 14\nlength = 84\nquantity = 2",
    "[fabric]\nwidth = 76\nrepeat_across = 17",
)


def planned(job: Words) -> Plan:
    """Its plan; where it has none there is nothing to test."""
    window, tables = job
    try:
        return plan_of(window, tables=tables)
    except JobError:
        reject()


def order_of(plan: Plan) -> ClothOrder:
    """The order of the only cloth."""
    (order,) = plan.order.cloth
    return order


@PROPERTY
@example(SHARED)
@example(SHARED_BY_FOUR)
@example(DIFFERENT)
@given(jobs())
def test_pieces_lie_on_their_drop(job: Words) -> None:
    """Pieces lie within the cloth's width, from left to right, and none on another."""
    plan = planned(job)
    width = order_of(plan).width
    assert width is not None
    for drop in cut_from(plan):
        ends = [(piece.left, piece.left + piece.width) for piece in drop.pieces]
        assert ends[0][0] >= 0
        assert all(one[1] <= two[0] for one, two in pairwise(ends))
        assert ends[-1][1] <= width


@PROPERTY
@example(DIFFERENT)
@given(jobs())
def test_every_piece_is_cut_once(job: Words) -> None:
    """Each panel of the window has each of its pieces once, as wide as the plan has it."""
    plan = planned(job)
    (window,) = plan.windows
    expected = window.panels[0].pieces
    assert expected is not None
    found = [piece for drop in cut_from(plan) for piece in drop.pieces]
    for panel in made_panels(window):
        own = sorted((piece for piece in found if piece.panel == panel), key=lambda p: p.number)
        assert [piece.number for piece in own] == list(range(1, len(expected) + 1))
        assert expected == tuple(piece.width for piece in own)
        assert {piece.of for piece in own} == {len(expected)}
    assert len(found) == len(expected) * len(made_panels(window))


@PROPERTY
@given(jobs())
def test_drops_make_the_order(job: Words) -> None:
    """Drops follow each other without a gap, and end where the order's exact total does."""
    plan = planned(job)
    found, order = cut_from(plan), order_of(plan)
    assert order.drops == len(found)
    assert [drop.number for drop in found] == list(range(1, len(found) + 1))
    assert found[0].at == 0
    assert all(one.at + one.length == two.at for one, two in pairwise(found))
    assert order.total == found[-1].at + found[-1].length


@PROPERTY
@example(SHARED)
@example(SHARED_BY_FOUR)
@example(DIFFERENT)
@given(jobs())
def test_the_pattern_runs_through_every_seam(job: Words) -> None:
    """Where two pieces of a panel are sewn together both show the pattern at one phase."""
    plan = planned(job)
    (window,) = plan.windows
    (one,) = window.cloth
    cloth, width = one.cloth, one.cloth.width
    assume(cloth.repeat_across)
    assert cloth.repeat_across is not None
    assert width is not None
    found = [piece for drop in cut_from(plan) for piece in drop.pieces]
    for panel in made_panels(window):
        own = sorted((piece for piece in found if piece.panel == panel), key=lambda p: p.number)
        for near, far in pairwise(own):
            if panel.side == "left":  # leads at its right
                near_seam, far_seam = near.left + cloth.seam, far.left + far.width - cloth.seam
            else:
                near_seam, far_seam = near.left + near.width - cloth.seam, far.left + cloth.seam
            assert (near_seam - far_seam) % cloth.repeat_across == 0


def test_hooks_share_too() -> None:
    """On hooks drops are listed as on a pole."""
    made = plan_of(LONG, eyelet=f'{RING}\nhung = "hooks"', tables="[fabric]\nwidth = 54")
    assert len(cut_from(made)) == order_of(made).drops
