"""Joins against a search of all places on a grid, from what sheets and circles look like.

The search shares no code and no reasoning with the joins: it knows laps, circles and sheets, and
tries every whole place. Strips are drawn with every limit a whole unit (half laps, radii) and
searched at two places a unit, where the best must lie, and at six, where nothing may be better.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from hypothesis import example, given, reject
from hypothesis import strategies as st

from drapetemplate.sheets.joins import Clear, SheetRun, joins
from tests.helpers.searching import searched

KINDS: tuple[Clear, ...] = ("outside", "hole", "hole only", "whole")
MOST_TRIED = 200_000
SCALES = (Fraction(1, 2), Fraction(1, 7), Fraction(127, 5), Fraction(3, 64))

Key = tuple[Fraction | int, ...]


@dataclass(frozen=True)
class Strip:
    """A strip in whole places; a ring is its centre and its two radii."""

    start: int
    end: int
    window: int
    half: int
    rings: tuple[tuple[int, int, int], ...]

    @cached_property
    def overlap(self) -> int:
        """How much two neighbours both show."""
        return 2 * self.half

    def times(self, factor: int) -> Strip:
        """The same with more places a unit."""
        rings = tuple((c * factor, o * factor, h * factor) for c, o, h in self.rings)
        start, end, window, half = (
            size * factor for size in (self.start, self.end, self.window, self.half)
        )
        return Strip(start, end, window, half, rings)

    def joined(self, scale: Fraction, *, even: bool = False) -> tuple[list[Fraction], Clear]:
        """What the code under test makes of the strip at a scale, back in whole places."""
        rings = [(c * scale, 2 * o * scale, 2 * h * scale) for c, o, h in self.rings]
        sizes = (self.start, self.end, self.window, 2 * self.half)
        found, clear = joins(SheetRun(*(size * scale for size in sizes)), rings, even=even)
        return [join / scale for join in found], clear

    def slack(self, kind: Clear, join: Fraction | int) -> Fraction | int:
        """How far a join could move and stay as clear, its lap on the strip; below 0, it isn't."""
        left, right = join - self.half, join + self.half
        found = [left - self.start, self.end - right]
        for center, outside, hole in self.rings:
            off_flange = max(center - outside - right, left - center - outside)
            off_hole = max(center - hole - right, left - center - hole)
            whole = max(right - (center + outside), center - outside - left)
            if self.half >= outside:  # Never cut, so that only its centre is left to keep off.
                whole = max(join - center, center - join)
            found.append(
                {
                    "outside": off_flange,
                    "hole": min(off_hole, whole),
                    "hole only": off_hole,
                    "whole": whole,
                }[kind]
            )
        return min(found)

    def clear(self, kind: Clear, join: int) -> bool:
        """True where a join is as clear as that of every circle, wherever the strip ends."""
        endless = Strip(self.start - 9999, self.end + 9999, self.window, self.half, self.rings)
        return endless.slack(kind, join) >= 0

    def sheets(self, found: list[Fraction] | list[int]) -> list[tuple[Fraction | int, ...]]:
        """What each sheet shows."""
        lefts = [self.start, *(join - self.half for join in found)]
        rights = [*(join + self.half for join in found), self.end]
        return list(zip(lefts, rights, strict=True))

    def narrow(self, found: list[Fraction] | list[int]) -> int:
        """How many sheets are narrower than two overlaps."""
        return sum(right - left < 2 * self.overlap for left, right in self.sheets(found))

    def key(self, kind: Clear, found: list[int]) -> Key:
        """The less, the better the joins, all of them clear."""
        slacks = [self.slack(kind, join) for join in found]
        parts: list[Fraction | int] = [-min(slacks), self.narrow(found)]
        long = self.end - self.start - self.overlap
        for i, join in enumerate(found, 1):
            even = self.start + self.half + Fraction(long * i, len(found) + 1)
            parts += [-slacks[i - 1], abs(join - even), join]
        return tuple(parts)

    def places(self, kind: Clear) -> list[int]:
        """Every whole place where a join is clear."""
        return [x for x in range(self.start + 1, self.end) if self.clear(kind, x)]

    def fewest(self, kind: Clear) -> int | None:
        """The fewest clear joins that let every sheet show its part; None where none do."""
        places = self.places(kind)
        ends = {x for x in places if self.end - (x - self.half) <= self.window}
        reached = {x for x in places if x + self.half - self.start <= self.window}
        seen: set[int] = set()
        count = 1
        while reached - seen:
            if reached & ends:
                return count
            seen |= reached
            far = self.window - self.overlap
            reached = {x for x in places if any(0 < x - y <= far for y in reached)}
            count += 1
        return None

    @cached_property
    def even(self) -> int:
        """How many joins even steps take."""
        even = 1
        while even * (self.window - self.overlap) + self.overlap < self.end - self.start:
            even += 1
        return even - 1

    @property
    def most(self) -> int:
        """How many joins are allowed for every flange to be whole: a fifth more sheets, or one."""
        return max(self.even + 1, int((self.even + 1) * 1.2) - 1)

    def kind(self) -> tuple[int, Clear] | None:
        """The number of joins and what they are clear of, by the rule; None where some is cut."""
        needed = {kind: self.fewest(kind) for kind in KINDS}
        one_more = self.even + 1
        if needed["outside"] is not None and needed["outside"] <= one_more:
            return needed["outside"], "outside"
        no_hole = needed["hole only"]
        if no_hole is not None and no_hole <= one_more:
            return no_hole, "hole" if needed["hole"] == no_hole else "hole only"
        whole = needed["whole"]
        if whole is None or whole > self.most:
            return None
        best: tuple[Clear, ...] = ("outside", "hole", "whole")
        return whole, next(kind for kind in best if needed[kind] == whole)

    def cut(self, join: Fraction | int) -> tuple[int, int, int]:
        """Holes and flanges whole on neither of a join's sheets, and holes its lap touches."""
        left, right = join - self.half, join + self.half

        def cut(center: int, radius: int) -> bool:
            return not (left <= center - radius or center + radius <= right)

        holes = sum(cut(center, hole) for center, _, hole in self.rings)
        flanges = sum(cut(center, outside) for center, outside, _ in self.rings)
        touched = sum(left < c + hole and c - hole < right for c, _, hole in self.rings)
        return holes, flanges, touched

    def cuts(self, found: list[Fraction] | list[int]) -> tuple[int, ...]:
        """The same of all joins of an arrangement together."""
        return tuple(map(sum, zip(*map(self.cut, found), strict=True)))

    def arrangements(self, kind: Clear, count: int) -> Iterator[list[int]]:
        """Every way to put so many clear joins on whole places."""
        places = self.places(kind)
        far = self.window - self.overlap

        def after(found: list[int]) -> Iterator[list[int]]:
            before = found[-1] if found else self.start + self.half
            left = count - len(found)
            if not left:
                if self.end - (before - self.half) <= self.window:
                    yield found
                return
            for x in places:
                short = self.end - (x - self.half) - self.window - (left - 1) * far
                if (not found or before < x) and x - before <= far and short <= 0:
                    yield from after([*found, x])

        yield from after([])


@st.composite
def strips(draw: st.DrawFn, *, most: int, rings: int) -> Strip:
    """A strip over one sheet or more, its rings of all sizes anywhere on it or all alike."""
    half = draw(st.integers(1, 2))
    window = draw(st.integers(4 * half + 1, 16))
    length = draw(st.integers(window + 1, max(window + 1, most)))
    start = draw(st.integers(-9, 9))
    count = draw(st.integers(0, rings))
    outside, hole = draw(st.integers(1, 6)), draw(st.integers(1, 6))
    alike = draw(st.booleans())
    pitch = draw(st.integers(1, 14))
    found = []
    for i in range(count):
        center = start + outside + i * pitch if alike else draw(st.integers(start, start + length))
        radius = outside if alike else draw(st.integers(1, 6))
        found.append((center, radius, min(radius, hole)))
    return Strip(start, start + length, window, half, tuple(sorted(found)))


@st.composite
def tight_strips(draw: st.DrawFn) -> Strip:
    """A strip of eyelets alike, none of which leaves a sheet room for much else."""
    half = draw(st.integers(1, 2))
    window = draw(st.integers(4 * half + 1, 16))
    outside = draw(st.integers(window // 3, window))
    hole = draw(st.integers(1, outside))
    pitch = 2 * outside + draw(st.integers(0, 6))
    count = draw(st.integers(1, 9))
    lead = draw(st.integers(0, 5))
    rings = tuple((lead + outside + i * pitch, outside, hole) for i in range(count))
    end = rings[-1][0] + outside + draw(st.integers(0, 5))
    return Strip(-1, max(end, window), window, half, rings)


def best_of_all(strip: Strip, kind: Clear, count: int) -> list[int]:
    """The best of every arrangement there is; a strip with too many is not looked at."""
    best: tuple[Key, list[int]] | None = None
    for tried, found in enumerate(strip.arrangements(kind, count)):
        if tried == MOST_TRIED:
            reject()
        key = strip.key(kind, found)
        if best is None or key < best[0]:
            best = key, found
    assert best is not None
    return best[1]


@searched(500)
@given(strips(most=40, rings=6), st.sampled_from(SCALES))
def test_best_of_all(strip: Strip, scale: Fraction) -> None:
    """No arrangement of the fewest joins, as clear as can be, is better, and none is as good."""
    found, clear = strip.joined(scale)
    rule = strip.kind()
    if rule is None:
        assert strip.cuts(found) > (0, 0, 99)
        return
    count, kind = rule
    assert (count, kind) == (len(found), clear)
    assert best_of_all(strip.times(2), kind, count) == [2 * join for join in found]


@searched(150)
@given(strips(most=20, rings=4), st.sampled_from(SCALES))
def test_no_better_between(strip: Strip, scale: Fraction) -> None:
    """Places between those that the best are found on, three times as many, hold none better."""
    found, clear = strip.joined(scale)
    if clear not in KINDS or len(found) > 2 or strip.kind() is None:
        reject()
    assert best_of_all(strip.times(6), clear, len(found)) == [6 * join for join in found]


def widest(strip: Strip, kind: Clear, count: int) -> tuple[Fraction | int, int]:
    """The largest smallest slack of so many joins, and with it the fewest narrow sheets.

    From join to join: the best so far of every place that the join could stand in.
    """
    far = strip.window - strip.overlap
    slack = {x: strip.slack(kind, x) for x in strip.places(kind)}
    least = {x: slack[x] for x in slack if x - strip.half - strip.start <= far}
    for _ in range(count - 1):
        least = {
            x: min(slack[x], max(near))
            for x in slack
            if (near := [least[y] for y in range(x - far, x) if y in least])
        }
    margin = max(v for x, v in least.items() if strip.end - (x - strip.half) <= strip.window)

    def thin(width: int) -> bool:
        return width < 2 * strip.overlap

    kept = [x for x in slack if slack[x] >= margin]
    narrow = {
        x: int(thin(x + strip.half - strip.start))
        for x in kept
        if x - strip.half - strip.start <= far
    }
    for _ in range(count - 1):
        narrow = {
            x: min(near)
            for x in kept
            if (
                near := [
                    narrow[y] + thin(x - y + strip.overlap)
                    for y in range(x - far, x)
                    if y in narrow
                ]
            )
        }
    ends = {x: strip.end - (x - strip.half) for x in narrow}
    last = [narrow[x] + thin(wide) for x, wide in ends.items() if wide <= strip.window]
    return margin, min(last)


@searched(300)
@given(st.one_of(strips(most=120, rings=16), tight_strips()), st.sampled_from(SCALES))
def test_widest_of_many(strip: Strip, scale: Fraction) -> None:
    """On longer strips, too, the number, the clearance, the margin and the narrow sheets hold."""
    found, clear = strip.joined(scale)
    rule = strip.kind()
    if rule is None:
        assert strip.cuts(found) > (0, 0, 99)
        return
    count, kind = rule
    assert (count, kind) == (len(found), clear)
    least = min(strip.slack(kind, join) for join in found)
    margin, narrow = widest(strip.times(2), kind, count)
    assert (margin, narrow) == (2 * least, strip.narrow(found))
    assert all(right - left <= strip.window for left, right in strip.sheets(found))
    assert all(a < b for a, b in pairwise(found))


def added(a: tuple[int, int, int], b: tuple[int, int, int]) -> tuple[int, int, int]:
    """What two cut together."""
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


MANY_TRIES = Strip(
    -1,
    224,
    12,
    2,
    tuple(
        (center, 6, 5)
        for center in (6, 24, 36, 54, 69, 82, 100, 114, 131, 147, 160, 175, 188, 201, 218)
    ),
)
"""Where one more join saves a hole, a flange or a touch by turns, and no more may be set."""


@searched(300)
@given(tight_strips(), st.sampled_from(SCALES))
@example(MANY_TRIES, Fraction(1, 7))
def test_least_cut(strip: Strip, scale: Fraction) -> None:
    """Where not every flange can be whole, no arrangement cuts less, nor as little on fewer sheets.

    All ways to put joins on places of half a unit, from join to join: of all that end at a place
    the one that cuts the fewest holes, then flanges, then touches the fewest holes.
    """
    if strip.kind() is not None:
        reject()
    found, _ = strip.joined(scale)
    fine = strip.times(2)
    far = fine.window - fine.overlap
    first, last = fine.start + fine.half, fine.end - fine.half
    cost = {x: fine.cut(x) for x in range(first + 1, last + 1)}
    reached = {first: (0, 0, 0)}
    best: list[tuple[tuple[int, ...], int]] = []
    for count in range(1, strip.most + 1):
        reached = {
            x: min(added(reached[y], cut) for y in near)
            for x, cut in cost.items()
            if (near := [y for y in range(x - far, x) if y in reached])
        }
        best += [(cuts, count) for x, cuts in reached.items() if x >= last - far]
    assert min(best) == (strip.cuts(found), len(found))
    assert all(right - left <= strip.window for left, right in strip.sheets(found))
    assert all(a < b for a, b in pairwise(found))


@searched(150)
@given(strips(most=60, rings=8), st.sampled_from(SCALES))
def test_even_steps(strip: Strip, scale: Fraction) -> None:
    """Even joins stand at equal steps, as few as will do, whatever they cut."""
    found, clear = strip.joined(scale, even=True)
    step = Fraction(strip.end - strip.start - strip.overlap, strip.even + 1)
    assert found == [strip.start + strip.half + step * n for n in range(1, strip.even + 1)]
    holes, flanges, touched = strip.cuts(found)
    assert (clear == "cut") == (holes > 0)
    assert (clear in {"outside", "hole", "whole"}) == (flanges == 0)
    assert (clear in {"outside", "hole", "hole only"}) == (touched == 0)
