"""A motif in the middle of the front folds, on the panel laid flat from its pieces as cut."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise, permutations

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning.drops import drops
from drapetemplate.planning.model import PanelPlan, Plan
from tests.helpers.flat_panel import Laid, flat_panels
from tests.helpers.jobfiles import inches, job_of, mixed, plan_of
from tests.helpers.searching import searched

BIG = 'outside = "2 5/8"\nopening = "1 9/16"\nhole = "1 5/8"'
FIXED = 'pattern = "folds"\nlength = 84\nleading = "1 1/2"\nreturn = 3'
NEAR = Fraction(1, 100)


def off(place: Fraction, motif: Fraction, repeat: Fraction) -> Fraction:
    """How far the cloth's place is from the nearest motif's centre."""
    past = (place - motif) % repeat
    return min(past, repeat - past)


def folds_of(panel: PanelPlan, hem: Fraction) -> list[Fraction]:
    """The middles of the gaps that come in front, on the raw panel."""
    return [
        hem + (before + after) / 2
        for n, (before, after) in enumerate(pairwise(panel.centers))
        if n % 2 == 0
    ]


def at(pieces: list[Laid], place: Fraction) -> Fraction:
    """What shows at a place of the panel, which is on no seam."""
    (piece,) = [each for each in pieces if each.start < place < each.end]
    return piece.shows(place)


def check_pattern_runs_on(pieces: list[Laid], repeat: Fraction) -> None:
    """At every seam both pieces show the same place of the pattern."""
    for one, other in pairwise(pieces):
        assert one.end == other.start
        assert (one.shows(one.end) - other.shows(other.start)) % repeat == 0


def check_cut(plan: Plan, motif: Fraction, repeat: Fraction, hem: Fraction, seam: Fraction) -> bool:
    """Whether a motif is in the middle of every front fold; if not, it is where the plan says."""
    window = plan.windows[0]
    codes = Counter(finding.code for finding in window.findings)
    panels = {panel.side: panel for panel in window.panels}
    shown = set()
    for name, pieces in flat_panels(plan, seam):
        panel = panels[name.split()[0]]  # type: ignore[index]
        check_pattern_runs_on(pieces, repeat)
        assert pieces[-1].end == panel.width + 2 * hem
        places = [at(pieces, fold) for fold in folds_of(panel, hem)]
        if not codes["pattern-off-centre"]:
            assert all(off(place, motif, repeat) < NEAR for place in places)
        assert panel.motifs is not None
        assert len(panel.motifs) == len(places)
        for told in panel.motifs:
            if 0 < told < panel.width and told + hem not in {each.end for each in pieces}:
                assert off(at(pieces, told + hem), motif, repeat) < NEAR
        shown |= {place % repeat for place in places}
    assert len(shown) == 1 or codes["pattern-off-centre"]
    return not codes["pattern-off-centre"]


def test_one_width_by_hand() -> None:
    """A stripe every 6 3/4 in, its first centre 4 in from the left selvage; 60 in of cloth.

    8 eyelets, 7 repeats: 47 1/4 in and 7 1/8 in at the ends, 54 3/8 in, raw 60 3/8; so two pieces.
    The first front fold's middle is 1 1/2 + 1 5/16 + 3 3/8 = 6 3/16 in, raw 9 3/16 in, from the
    leading edge. A right panel's raw edge then lies 9 3/16 in left of a stripe: 4 - 9 3/16 + 6 3/4
    = 1 9/16 in from the left selvage. A left panel's raw edge lies 9 3/16 in right of one; stripes
    are at 4 + 6 3/4 n, the last 58 in (4 + 8 * 6 3/4): so 58 - 6 3/4
    + 9 3/16 is past the selvage, and 58 - 13 1/2 + 9 3/16 = 53 11/16 in, 6 5/16 in from the right.
    """
    plan = plan_of(
        f'{FIXED}\nwidth = "54 3/8"\ncount = 8',
        eyelet=BIG,
        tables='[fabric]\nwidth = 60\nrepeat_across = "6 3/4"\nmotif = 4',
    )
    panels = dict(flat_panels(plan, INCH / 2))
    assert panels["right"][0].cloth == inches("1 9/16")
    assert panels["left"][0].cloth == inches("53 11/16")
    assert check_cut(plan, 4 * INCH, inches("6 3/4"), 3 * INCH, INCH / 2)


def test_a_mirrored_cloth_is_cut_as_mirror_images() -> None:
    """Stripes as far from either selvage: what is cut from the left is cut alike from the right."""
    tables = '[fabric]\nwidth = 54\nrepeat_across = "6 3/4"\nmotif = "3 3/8"\nmirrored = {}'
    body = f"{FIXED}\nwidth = 88"
    for told in ("true", "false"):  # the cloth is so, whether it is told or not
        plan = plan_of(body, eyelet=BIG, tables=tables.format(told))
        panels = dict(flat_panels(plan, INCH / 2))
        for left, right in zip(panels["left"], panels["right"], strict=True):
            assert (54 * INCH - left.cloth - right.cloth) % inches("6 3/4") == 0
        assert check_cut(plan, inches("3 3/8"), inches("6 3/4"), 3 * INCH, INCH / 2)


def test_hiding_goes_before_the_middle() -> None:
    """Where no plan hides the seams and has the motif in the middle, the note says by how much.

    A repeat as wide as the cloth less its seams leaves its pieces one place: they begin at the
    selvage on their side, so what is in the middle follows from where seams hide, and is as far
    off in the left panel as in the right one.
    """
    plan = plan_of(
        f"{FIXED}\nwidth = 60\ncount = 8",
        eyelet=BIG,
        tables="[fabric]\nwidth = 18\nrepeat_across = 17\nmotif = 9",
    )
    window = plan.windows[0]
    assert not check_cut(plan, 9 * INCH, 17 * INCH, 3 * INCH, INCH / 2)
    (note,) = [each for each in window.findings if each.code == "pattern-off-centre"]
    assert note.level == "note"
    for name, pieces in flat_panels(plan, INCH / 2):
        (panel,) = [each for each in window.panels if each.side == name]
        shown = at(pieces, folds_of(panel, 3 * INCH)[0])
        assert off(shown, 9 * INCH, 17 * INCH) == inches("2 5/16")
    assert "2 5/16 in right of the middle of the left panel's front folds" in note.text
    assert "2 5/16 in left of the middle of the right one's, as seen from the room" in note.text


@pytest.mark.parametrize(
    ("tables", "where", "said"),
    [
        ("repeat_across = 6\nmotif = 3", "fabric.motif", "give width in [fabric]"),
        ("width = 54\nrepeat_across = 6\nmotif = 54", "fabric.motif", "more than fabric.width"),
        ("width = 54\nrepeat_across = 6\nmirrored = true", "fabric.mirrored", "give motif"),
        (
            "width = 54\nrepeat_across = 6\nmotif = 2\nmirrored = true",
            "fabric.mirrored",
            "from the right selvage a motif's centre is at 4 in, and from the left one at 2 in",
        ),
    ],
)
def test_motifs_that_cant_be(tables: str, where: str, said: str) -> None:
    """A motif on no cloth of known width, off it, or not as far from the right selvage as told."""
    with pytest.raises(JobError) as refused:
        job_of('width = 60\npattern = "folds"', tables=f"[fabric]\n{tables}")
    (fault,) = refused.value.faults
    assert fault.where == where
    assert said in fault.text


EIGHTHS = st.integers(1, 400).map(lambda n: Fraction(n, 8))


@searched(400)
@given(
    width=st.integers(40, 160).map(Fraction),
    cloth=st.integers(160, 480).map(lambda n: Fraction(n, 8)),
    repeat=st.integers(24, 220).map(lambda n: Fraction(n, 8)),
    motif=EIGHTHS,
    panels=st.sampled_from(["pair", "left", "right", "single"]),
    quantity=st.integers(1, 3),
    mirrored=st.booleans(),
    sewn=st.sampled_from([(Fraction(1, 2), Fraction(3)), (Fraction(5, 8), Fraction(2))]),
)
def test_a_motif_at_every_front_fold(
    width: Fraction,
    cloth: Fraction,
    repeat: Fraction,
    motif: Fraction,
    panels: str,
    quantity: int,
    mirrored: bool,  # noqa: FBT001  # hypothesis names it
    sewn: tuple[Fraction, Fraction],
) -> None:
    """On panels of either side, mirrored or not, seams and all, to 0.01 mm."""
    assume(motif < cloth)
    seam, hem = sewn
    if mirrored:  # as far from the right selvage: half the cloth, or half a repeat beside that
        motif = (cloth / 2) % repeat
        assume(0 < motif < cloth)
    words = f'pattern = "folds"\nlength = 84\nreturn = 3\nwidth = {width}\npanels = "{panels}"'
    table = {"width": cloth, "repeat_across": repeat, "motif": motif, "seam": seam, "side_hem": hem}
    goods = "\n".join(f"{key} = '{mixed(value)}'" for key, value in table.items())
    told = "true" if mirrored else "false"
    try:
        plan = plan_of(
            f"{words}\nquantity = {quantity}",
            eyelet=BIG,
            tables=f"[fabric]\n{goods}\nmirrored = {told}",
        )
    except JobError:
        event("can't be made")
        return
    pattern = plan.windows[0].pattern
    assert pattern is not None
    if pattern.half_repeats is None:
        event("no pattern on the folds")
        assert plan.windows[0].panels[0].motifs is None
        return
    middle = check_cut(plan, motif * INCH, repeat * INCH, hem * INCH, seam * INCH)
    event("in the middle" if middle else "off the middle")


class Grid:
    """One window on a grid of 1/16 in, its seams tried at every place of it."""

    def __init__(self, cloth: int, repeat: int, motif: int, panel: PanelPlan) -> None:
        self.cloth, self.repeat, self.motif = cloth, repeat, motif
        self.raw = sixteenths(panel.width) + 2 * HEM
        centers = [sixteenths(center) + HEM for center in panel.centers]
        self.fold = (centers[0] + centers[1]) // 2
        radius = sixteenths(panel.outside / 2)
        self.hiding = sorted(
            place
            for n, (before, after) in enumerate(pairwise(centers))
            if n % 2
            for place in range(before + radius + SEAM + 2, after - radius - SEAM - 1)
            if 2 * HEM + SEAM <= place <= self.raw - 2 * HEM - SEAM
        )

    def lies(self, start: int, end: int, *, left: bool) -> bool:
        """Whether a piece from one place of the panel to another lies on the cloth as it must.

        A right panel's place x shows x - fold + motif, from the left selvage; a left panel's shows
        motif + fold - x. Whole repeats make no odds.
        """
        shown = [self.motif + (self.fold - x if left else x - self.fold) for x in (start, end)]
        low, high = min(shown), max(shown)
        return low % self.repeat + high - low <= self.cloth

    def hides_all(self, pieces: int, sides: list[bool]) -> bool:
        """Whether so many pieces make the panel with every seam hidden, a whole repeat apart."""

        def goes_on(after: int, left_over: int, start: int) -> bool:
            if left_over == 1:
                return all(self.lies(start, self.raw, left=left) for left in sides)
            return any(
                goes_on(seam, left_over - 1, seam - SEAM)
                for seam in self.hiding
                if seam > after
                and (after == 0 or (seam - after) % self.repeat == 0)
                and all(self.lies(start, seam + SEAM, left=left) for left in sides)
            )

        return goes_on(0, pieces, 0)


HEM, SEAM = 48, 8


def sixteenths(length: Fraction) -> int:
    """A length in sixteenths of an inch, which it must be."""
    number = length / INCH * 16
    assert number.denominator == 1
    return int(number)


@searched(200)
@given(
    count=st.sampled_from([6, 8, 10]),
    cloth=st.integers(30, 58),
    repeat=st.integers(12, 70).map(lambda n: Fraction(n, 4)),
    motif=st.integers(1, 160).map(lambda n: Fraction(n, 8)),
    panels=st.sampled_from(["pair", "left", "right"]),
)
def test_the_middle_is_had_where_it_can_be(
    count: int, cloth: int, repeat: Fraction, motif: Fraction, panels: str
) -> None:
    """Each place of every seam is tried, of up to two pieces more than the fewest."""
    body = f'{FIXED}\nwidth = 60\ncount = {count}\npanels = "{panels}"'
    goods = f"width = {cloth}\nrepeat_across = '{mixed(repeat)}'\nmotif = '{mixed(motif)}'"
    try:
        plan = plan_of(body, eyelet=BIG, tables=f"[fabric]\n{goods}")
    except JobError:
        return
    window = plan.windows[0]
    if window.pattern is None or window.pattern.half_repeats is None:
        return
    panel = window.panels[0]
    grid = Grid(cloth * 16, int(repeat * 16), int(motif * 16), panel)
    inner = (grid.cloth - 2 * SEAM) // grid.repeat * grid.repeat
    beyond = max(grid.raw - grid.cloth, 0)
    fewest = 1 + (-(-beyond // inner) if beyond else 0)
    sides = {"pair": [True, False], "left": [True], "right": [False]}[panels]
    had = [n for n in range(fewest, fewest + 3) if grid.hides_all(n, sides)]
    codes = {finding.code for finding in window.findings}
    event(f"{len(had)} numbers of pieces")
    if had:
        assert "pattern-off-centre" not in codes
        assert panel.pieces is not None
        assert len(panel.pieces) == had[0]
        assert not codes & {"seam-in-front", "seam-under-eyelet"}
    else:
        assert codes & {"pattern-off-centre", "seam-in-front", "seam-under-eyelet"}


def fewest_drops(pieces: list[tuple[Fraction, Fraction]], width: Fraction, repeat: Fraction) -> int:
    """The fewest drops that hold pieces, each as wide and at such a place of the pattern.

    Every way to part them among drops is tried, and every order on each.
    """

    def fits(held: list[tuple[Fraction, Fraction]]) -> bool:
        for order in permutations(held):
            end = Fraction(0)
            for wide, place in order:
                end += (place - end) % repeat + wide
            if end <= width:
                return True
        return False

    def parted(
        rest: list[tuple[Fraction, Fraction]], drops: list[list[tuple[Fraction, Fraction]]]
    ) -> int:
        if not rest:
            return len(drops)
        first, *others = rest
        ways = [parted(others, [*drops, [first]])]
        for n, held in enumerate(drops):
            if fits([*held, first]):
                ways.append(parted(others, [*drops[:n], [*held, first], *drops[n + 1 :]]))
        return min(ways)

    return parted(pieces, [])


@searched(60)
@given(
    count=st.sampled_from([4, 6, 8]),
    cloth=st.integers(40, 70),
    repeat=st.integers(12, 60).map(lambda n: Fraction(n, 4)),
    motif=st.integers(1, 160).map(lambda n: Fraction(n, 8)),
    panels=st.sampled_from(["pair", "left", "right"]),
)
def test_pieces_share_as_few_drops_as_can_be(
    count: int, cloth: int, repeat: Fraction, motif: Fraction, panels: str
) -> None:
    """Those of one window, where the motif wants them; the seams may be others for fewer still."""
    body = f'{FIXED}\nwidth = 40\ncount = {count}\npanels = "{panels}"'
    goods = f"width = {cloth}\nrepeat_across = '{mixed(repeat)}'\nmotif = '{mixed(motif)}'"
    try:
        plan = plan_of(body, eyelet=BIG, tables=f"[fabric]\n{goods}")
    except JobError:
        return
    panel = plan.windows[0].panels[0]
    if panel.motifs is None or panel.pieces is None or len(panel.pieces) > 3:
        return
    (order,) = plan.order.cloth
    laid = [piece for drop in drops(plan, order) for piece in drop.pieces]
    pieces = [(piece.width, piece.left % (repeat * INCH)) for piece in laid]
    fewest = fewest_drops(pieces, cloth * INCH, repeat * INCH)
    event(f"{fewest} drops for {len(pieces)} pieces")
    assert order.drops == fewest
