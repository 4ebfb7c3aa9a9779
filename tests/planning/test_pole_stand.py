"""How panels stand on their pole, held against sums by hand and a pole laid out on a line.

The line: panels, brackets and glass are put on a pole inch by inch, each eyelet walked from where
the open panel stacks it to its place in the closed one. Nothing of it is the planner's own rule.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job
from drapetemplate.measures import INCH
from drapetemplate.planning.model import Change, Finding, WindowPlan
from drapetemplate.planning.pole_stand import shares
from tests.helpers.jobfiles import RING, job_toml, plan_of, window_of

PAIR = "width = 60\ncount = 8\nreturn = 3"
"""A panel of 60 in: 8 eyelets stack on 8 x 1 1/4 = 10 in."""
WIDE = "width = 100\ncount = 8\nreturn = 3"
"""A wider one, as deep when stacked."""


def found(window: WindowPlan, code: str) -> list[Finding]:
    """Its findings of that code."""
    return [finding for finding in window.findings if finding.code == code]


def test_pair_over_glass() -> None:
    """70 in of pole over 56 in of glass leave 7 in a side; a stack of 10 covers 3 of glass.

    The pole that clears it is 56 + 2 x 10 = 76 in.
    """
    window = window_of(f"{PAIR}\nglass = 56", tables="[pole]\nlength = 70")
    [note] = found(window, "stack-over-glass")
    assert note.level == "note"
    assert note.text == (
        "drawn open, 10 in of stack covers 3 in of the glass at either side: a pole of 76 in "
        "clears it, 56 in of glass and 2 stacks of 10 in"
    )
    assert note.remedies == ((Change("pole.length", 76 * INCH),),)
    assert window.stand.over_glass == 3 * INCH
    clear = window_of(f"{PAIR}\nglass = 56", tables="[pole]\nlength = 76")
    assert clear.stand.over_glass == 0
    assert found(clear, "stack-over-glass") == []
    short = window_of(f"{PAIR}\nglass = 56", tables='[pole]\nlength = "75 15/16"')
    assert short.stand.over_glass == INCH / 32


@pytest.mark.parametrize("side", ["left", "right", "single"])
def test_one_panel_over_glass(side: str) -> None:
    """One panel has at its side all that the pole is longer: of 60 in over 56, 10 - 4 = 6 covered.

    56 + 10 = 66 in would clear.
    """
    window = window_of(f"{WIDE}\nglass = 56\npanels = '{side}'", tables="[pole]\nlength = 60")
    [note] = found(window, "stack-over-glass")
    assert "covers 6 in of the glass at its side: a pole of 66 in clears it" in note.text


def test_pole_for_the_same_fullness() -> None:
    """Where the panels are as wide as the pole asks, a longer pole takes wider panels.

    Each pole is planned by itself here: the shortest of whole 1/16 in that its own stacks clear.
    """
    keys = "fullness = 2\nreturn = 3\nglass = 40"
    window = window_of(keys, tables="[pole]\nlength = 50")
    [note] = found(window, "stack-over-glass")
    [[change]] = note.remedies
    for sixteenths in range(50 * 16, 120 * 16):
        longer = window_of(keys, tables=f"[pole]\nlength = {sixteenths / 16}")
        if 40 * INCH + 2 * longer.panels[0].count * INCH * 5 / 4 <= longer.window.pole.length:  # type: ignore[operator]
            break
    assert change == Change("pole.length", Fraction(sixteenths, 16) * INCH)
    assert note.text.endswith("with panels as full that cover it")


@pytest.mark.parametrize("keys", ["covers = 35\nfullness = 2", "width = 80\ncovers = 35"])
def test_a_longer_pole_is_closed_over(keys: str) -> None:
    """Panels that are told what to cover, and close, are told to cover their half of a longer one.

    Else they would leave glass bare in the middle of it; as they are both findings are gone.
    """
    window = window_of(f"{keys}\nreturn = 3\nglass = 56", tables="[pole]\nlength = 70")
    [note] = found(window, "stack-over-glass")
    [[pole, covers]] = note.remedies
    assert (pole.key, covers.key) == ("pole.length", "covers")
    assert covers.value == pole.value / 2  # type: ignore[operator]
    inches = covers.value / INCH  # type: ignore[operator]
    mended = window_of(
        f"{keys.replace('covers = 35', f'covers = {float(inches)}')}\nreturn = 3\nglass = 56",
        tables=f"[pole]\nlength = {float(2 * inches)}",
    )
    assert found(mended, "stack-over-glass") == found(mended, "glass-bare") == []
    assert note.text.endswith("that cover it")


def test_pole_worked_out() -> None:
    """Without a pole's length it is the glass and both stacks, assumed and said."""
    window = window_of(f"{PAIR}\nglass = 56")
    assert (window.stand.length, window.stand.worked_out) == (76 * INCH, True)
    assert found(window, "stack-over-glass") == []
    [told] = [a.value for a in window.assumed if a.key == "pole.length"]
    assert told == "76 in, the glass and what the open panels take"


def test_pole_worked_out_settles_the_width() -> None:
    """Fullness and glass are enough: each panel covers half of the least pole that clears.

    Twice 30 in of glass: 2 x 15 in, 2 in eyelets 2 in apart, so about 8; with their stacks of 10
    in more eyelets, and so on until glass + 2 x stack is the pole that the panels cover.
    """
    window = window_of("glass = 30\nfullness = 2\nreturn = 3")
    panel, length = window.panels[0], window.stand.length
    assert length == 30 * INCH + 2 * panel.count * INCH * 5 / 4
    assert panel.covers == length / 2
    assert panel.width == 2 * panel.covers + INCH * 3 / 2 + 3 * INCH + 2 * INCH
    # No shorter pole of the kind does: with fewer eyelets the panels that cover it have more.
    for count in range(2, panel.count, 2):
        pole = 30 + 2.5 * count
        share = window_of(f"fullness = 2\nreturn = 3\ncovers = {pole / 2}")
        assert share.panels[0].count > count


def test_no_count_is_named_for_the_seams_where_glass_settles_the_width() -> None:
    """Another count has another pole there, so other panels: what it would hide says nothing.

    With 12 eyelets in place of 18 the panels are 63 in wide in place of 80 5/8, of 7 drops.
    """
    keys = 'glass = 20.75\nfullness = "2.34"\nreturn = 0\nlength = 84'
    eyelet = "outside = 2.1875\nopening = 1"
    window = window_of(keys, eyelet=eyelet, tables="[fabric]\nwidth = 24")
    [note] = found(window, "extra-width")
    assert note.remedies == ()
    other = window_of(f"{keys}\ncount = 12", eyelet=eyelet, tables="[fabric]\nwidth = 24")
    assert found(other, "extra-width")


def test_no_pole_clears() -> None:
    """Panels whose stacks grow faster than the pole they cover are refused with what would do."""
    with pytest.raises(JobError) as error:
        window_of('glass = 30\nfullness = 4\nreturn = 3\nstack_each = "2 1/2"')
    [fault] = error.value.faults
    assert str(fault).startswith("window[1].glass: no pole clears 30 in")


RIGID = 'thickness = "1/8"'


def test_past_the_bracket() -> None:
    """The end eyelet takes of the pole what its ring does, closed: G cos + t sin, or its stack.

    8 eyelets of 2 in on 60 in, closed at 1.2 times. Read up to a whole 1/16 in.
    """
    window = window_of(f"{PAIR}\nfullness = 1.2", eyelet=f"{RING}\n{RIGID}")
    hang = window.panels[0].hang
    assert hang is not None
    turn = radians(hang.closed.angle_deg)
    along = 2 * cos(turn) + sin(turn) / 8
    assert window.stand.beyond == ceil(max(along, 1.25) * 16) * INCH / 16
    assert along > 1.25
    full = window_of(f"{PAIR}\nfullness = 3", eyelet=f"{RING}\n{RIGID}")
    assert full.stand.beyond == INCH * 5 / 4
    assert window_of(PAIR, eyelet=f'{RING}\nhung = "hooks"').stand.beyond is None


def test_brackets_evenly() -> None:
    """Two supports part what lies between the end brackets in three; a span says how many."""
    full = f"{PAIR}\nfullness = 3"
    stand = window_of(full, tables="[pole]\nlength = 92.5\nsupports = 2").stand
    assert stand.beyond == INCH * 5 / 4
    assert [float(place / INCH) for place in stand.brackets] == [1.25, 31.25, 61.25, 91.25]
    for span, supports in (("90", 0), ("89.9", 1), ("45", 1), ("44.9", 2), ("30", 2), ("29", 3)):
        by_span = window_of(full, tables=f"[pole]\nlength = 92.5\nspan = {span}").stand
        assert by_span.supports == supports


def test_span_without_a_pole() -> None:
    """How many brackets a span asks for isn't known before the pole is; with glass it is."""
    assert window_of(PAIR, tables="[pole]\nspan = 30").stand.supports is None
    # 56 + 20 - 2 x 1 1/4 = 73 1/2 in: three spans of 24 1/2 in.
    assert window_of(f"{PAIR}\nglass = 56", tables="[pole]\nspan = 30").stand.supports == 2


def test_too_many_brackets() -> None:
    """A span that would take a bracket every inch is taken for a slip."""
    with pytest.raises(JobError) as error:
        window_of(PAIR, tables="[pole]\nlength = 92.5\nspan = 1")
    [fault] = error.value.faults
    assert "1 in between brackets would take 89 of them on 92 1/2 in of pole" in str(fault)


# How many panels, where they hang, brackets between, and whether any has to pass one.
@pytest.mark.parametrize(
    ("panels", "supports", "over"),
    [
        ("pair", 0, False),
        ("pair", 1, False),
        ("pair", 2, True),
        ("pair", 3, True),
        ("left", 0, False),
        ("left", 1, True),
        ("right", 1, True),
        ("single", 1, True),
        ("single", 0, False),
    ],
)
@pytest.mark.parametrize("length", ["", "length = 60\n"])
def test_over_bracket(panels: str, supports: int, over: bool, length: str) -> None:  # noqa: FBT001
    """A pair meets at one bracket; one panel has none to pass; with a pole's length or without."""
    window = window_of(
        f"{WIDE}\npanels = '{panels}'", tables=f"[pole]\n{length}supports = {supports}"
    )
    assert bool(found(window, "panel-over-bracket")) is over


def test_a_pair_for_a_single() -> None:
    """A single panel across a bracket is told a pair: half its cloth each, and how many eyelets.

    60 in with 3 in at both ends and 2 in eyelets: 52 in between the end centres, so 26 in each:
    26 + 1 1/2 + 3 + 2 = 32 1/2 in. Six eyelets would stand (26 - 10)/5 = 3 1/5 in apart, eight
    (26 - 14)/7 = 1 5/7 in: nearer to 2 in.
    """
    window = window_of(
        f"{PAIR}\npanels = 'single'\ncount = 14".replace("count = 8\n", ""),
        tables="[pole]\nsupports = 1",
    )
    [warning] = found(window, "panel-over-bracket")
    assert warning.remedies == (
        (Change("panels", "pair"), Change("width", INCH * 65 / 2), Change("count", 8)),
    )
    assert warning.text == (
        "eyelets can't pass the bracket, and closed the panel reaches past it: a pair of 8 eyelets "
        "each, which meets at it"
    )
    free = window_of("width = 60\nreturn = 3\npanels = 'single'", tables="[pole]\nsupports = 1")
    [warning] = found(free, "panel-over-bracket")
    assert warning.remedies == ((Change("panels", "pair"), Change("width", INCH * 65 / 2)),)
    assert "a pair of 8 eyelets each" in warning.text


def test_a_panel_a_span() -> None:
    """With two brackets a pair of 60 in is told three panels, with a third of its cloth each.

    2 x 53 1/2 in between end centres, a third of it 35 2/3 in: 8 eyelets stand (35 2/3 - 14)/7 =
    3.1 in apart, 10 (35 2/3 - 18)/9 = 1.96, nearer to 2 in.
    """
    window = window_of(PAIR, tables="[pole]\nlength = 60\nsupports = 2")
    [warning] = found(window, "panel-over-bracket")
    assert warning.text == (
        "eyelets can't pass the bracket 20 7/16 in from the pole's end, and closed each panel "
        "reaches past it: a panel between every two brackets, so 3 panels of 10 eyelets each"
    ).replace("20 7/16", "≈ 20 7/16")
    assert warning.remedies == ()


def test_a_pair_that_covers_too_much() -> None:
    """A pair that is to cover more than half each can't: up to the bracket it does."""
    window = window_of(
        "covers = 32\nfullness = 2\nreturn = 3", tables="[pole]\nlength = 60\nsupports = 1"
    )
    [warning] = found(window, "panel-over-bracket")
    assert warning.text.endswith("cover 30 in each, up to it")
    assert warning.remedies == ((Change("covers", 30 * INCH),),)


def crossed_on_a_line(window: WindowPlan) -> bool:
    """Whether any eyelet has to pass a bracket, walked along a pole from open to closed.

    The panels' ends are held at the ends of the pole, where the end eyelet is beyond the bracket; a
    single one's at the left, and at the right too where it covers all of the pole.
    """
    length = window.window.pole.length
    supports = window.window.pole.supports or 0
    assert length is not None
    beyond = window.stand.beyond or Fraction(0)
    brackets = [beyond + (length - 2 * beyond) * n / (supports + 1) for n in range(1, supports + 1)]
    panel = window.panels[0]
    share = length / len(window.panels)
    reach = share if panel.covers is None else panel.covers
    each = window.window.stack_each
    for n in range(panel.count):
        stacked, closed = n * each, n * reach / (panel.count - 1)
        first, last = sorted((min(stacked, beyond), closed))
        walks = [(first, last)]
        if len(window.panels) == 2 or panel.side == "right":
            walks.append((length - last, length - first))
        if any(low < bracket < high for low, high in walks for bracket in brackets):
            return True
    return False


def covered_on_a_line(window: WindowPlan) -> Fraction:
    """How much of the glass the left (or only) stack covers, counted in 1/32 in along the pole."""
    length, glass = window.window.pole.length, window.window.glass
    assert length is not None
    assert glass is not None
    stack = window.panels[0].count * window.window.stack_each
    start = (length - glass) / len(window.panels)
    step = INCH / 32
    places = (n * step for n in range(int(length / step)))
    return sum((step for x in places if x < stack and start <= x < start + glass), Fraction(0))


def bare_on_a_line(window: WindowPlan) -> float:
    """How much of the glass no closed panel hides, in inches, counted in 1/32 in along the pole.

    Each panel hides from its end of the pole to its leading edge. Its end ring begins there; its
    last ring stands as far on as it covers, turned as its folds turn it, and the cloth past that
    goes on as the ring does.
    """
    panel, ring = window.panels[0], window.stand.beyond
    assert window.window.pole.length is not None
    assert window.window.glass is not None
    assert panel.hang is not None
    assert ring is not None
    length, glass = (
        float(each / INCH) for each in (window.window.pole.length, window.window.glass)
    )
    flat = panel.centers[-1] - panel.centers[0]
    past = float(panel.leading) * max(cos(radians(panel.hang.closed.angle_deg)), 0)
    edge = (float(ring + (flat if panel.covers is None else panel.covers)) + past) / 25.4
    start = (length - glass) / len(window.panels)
    bare = 0
    for n in range(int(length * 32)):
        x = n / 32
        hidden = x < edge or (len(window.panels) == 2 and length - x <= edge)
        bare += start <= x < start + glass and not hidden
    return bare / 32


@settings(deadline=None)  # each window is planned with all that would mend it
@given(
    st.sampled_from(["pair", "left", "right", "single"]),
    st.integers(20, 120),
    st.integers(0, 3),
    st.integers(4, 60),
    st.sampled_from(["width = 60", "covers = 20\nfullness = 2", "covers = 31\nfullness = 2"]),
)
def test_laid_out_on_a_line(
    panels: str, length: int, supports: int, glass: int, width: str
) -> None:
    """Glass covered and brackets in the way are what a pole laid out on a line shows."""
    try:
        window = window_of(
            f"{width}\nreturn = 3\npanels = '{panels}'\nglass = {min(glass, length)}",
            tables=f"[pole]\nlength = {length}\nsupports = {supports}",
        )
    except JobError:
        return
    assert window.stand.over_glass == covered_on_a_line(window)
    told = {finding.code for finding in window.findings}
    assert ("panel-over-bracket" in told) is crossed_on_a_line(window)
    assert ("stack-over-glass" in told) is (covered_on_a_line(window) > 0)
    bare = bare_on_a_line(window)
    assert window.stand.bare is not None
    # Either edge is counted to 1/32 in, and what leads past the ring rounded up to 1/16 in.
    assert abs(float(window.stand.bare / INCH) - bare) <= 3 / 16
    assert ("glass-bare" in told) or bare <= 3 / 16


def test_on_floor() -> None:
    """From a pole 90 in up 1 in eyelet openings hang the panel 1/2 + 1 1/2 in above the pole's top.

    Band 4 in, eyelet centred: 1 in above it, (2 - 1)/2 in of flange. So 91 1/2 in touch, 91 in end
    1/2 in off, 92 in lie 1/2 in on the floor.
    """
    for length, bottom in (("91", "0.5"), ("91.5", "0"), ("92", "-0.5"), ("90", "1.5")):
        window = window_of(f"{PAIR}\nlength = {length}", tables="[pole]\ntop = 90")
        assert window.stand.bottom == Fraction(bottom) * INCH
        assert bool(found(window, "on-floor")) is (length == "92")
    window = window_of(f"{PAIR}\nlength = 92", tables="[pole]\ntop = 90")
    [warning] = found(window, "on-floor")
    assert warning.text == (
        "from a pole 90 in above the floor a length of 92 in lies 1/2 in on the floor: 91 in ends "
        "1/2 in off the floor"
    )
    assert warning.remedies == ((Change("length", 91 * INCH),),)


def test_break_on_the_floor() -> None:
    """A negative off_floor asks for a break: the length from the pole has it, and it is no finding.

    A given length is found only where it lies more than that on the floor.
    """
    floor = "[pole]\ntop = 90\noff_floor = -1"
    window = window_of(PAIR, tables=floor)
    assert window.length == INCH * 185 / 2
    assert window.stand.bottom == -INCH
    assert found(window, "on-floor") == []
    assert found(window_of(f"{PAIR}\nlength = 92.5", tables=floor), "on-floor") == []
    [warning] = found(window_of(f"{PAIR}\nlength = 94", tables=floor), "on-floor")
    assert (
        "lies 2 1/2 in on the floor, 1 1/2 in more than asked for: 92 1/2 in ends 1 in on it"
        in (warning.text)
    )


A_LENGTH = 'write a number, or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"'


@pytest.mark.parametrize(
    ("off_floor", "fault"),
    [
        ("-25", "-25 is more cloth on the floor than is ever wanted: write 24 in or less"),
        ('"-1 m"', '"-1 m" is more cloth on the floor than is ever wanted: write 24 in or less'),
        ('"--1"', '"-1" is negative: write a length of 0 or more'),
        ("true", f"true is not a length: {A_LENGTH}"),
    ],
)
def test_off_floor_that_cant_be(off_floor: str, fault: str) -> None:
    """A slip in off_floor is one plain line."""
    with pytest.raises(JobError) as error:
        window_of(PAIR, tables=f"[pole]\ntop = 90\noff_floor = {off_floor}")
    assert [str(each) for each in error.value.faults] == [
        f"job.toml, line 11: pole.off_floor: {fault}"
    ]


@pytest.mark.parametrize("off_floor", ["-1", "-1.0", '"-1"', '"- 1 in"', '"\u22121"', '"-25.4 mm"'])
def test_off_floor_spelled(off_floor: str) -> None:
    """A minus of any kind, on a number or on text."""
    window = window_of(PAIR, tables=f"[pole]\ntop = 90\noff_floor = {off_floor}")
    assert window.window.pole.off_floor == -INCH


def test_own_brackets_over_the_files() -> None:
    """A window's own supports take the place of the file's span, and the other way round."""
    tables = "[pole]\nlength = 92.5\nspan = 30"
    own = f"{PAIR}\n[window.pole]\nsupports = 0"
    first, second = plan_of(PAIR, own, tables=tables).windows
    assert (first.stand.supports, second.stand.supports) == (2, 0)


def test_contradicting() -> None:
    """Both keys of the brackets, and glass wider than the pole, are a plain line each."""
    text = job_toml(f"{PAIR}\nglass = 100", tables="[pole]\nlength = 92.5\nspan = 30\nsupports = 1")
    with pytest.raises(JobError) as error:
        read_job(text.encode(), "job.toml")
    told = [str(fault).partition(": ")[2] for fault in error.value.faults]
    assert told == [
        (
            "pole.span: 30 in beside pole.supports, 1, which settles how many brackets there are: "
            "give one of the two"
        ),
        (
            "window[1].glass: 100 in is more than pole.length, 92 1/2 in: a pole reaches from one "
            "side of the glass to the other"
        ),
    ]


def test_shares_by_the_lever() -> None:
    """Loads of 1: between brackets by the lever, on one whole, past the end one all on that."""
    brackets = (Fraction(10), Fraction(30), Fraction(70))
    assert shares(brackets, [Fraction(10)]) == [1, 0, 0]
    assert shares(brackets, [Fraction(15)]) == [Fraction(3, 4), Fraction(1, 4), 0]
    assert shares(brackets, [Fraction(60)]) == [0, Fraction(1, 4), Fraction(3, 4)]
    assert shares(brackets, [Fraction(0), Fraction(80)]) == [1, 0, 1]


WEIGHED = '[fabric]\nwidth = 118\nweight = "300 gsm"\n[pole]\nlength = 60\n'


def test_what_brackets_bear() -> None:
    """Drawn open a pair hangs nearly whole on the end brackets; no bracket bears more than all.

    The middle one bears most with the pair closed: half of each panel, a quarter more in one piece.
    """
    stand = window_of(f"{PAIR}\nlength = 84", tables=f"{WEIGHED}supports = 0").stand
    assert stand.weight is not None
    left, right = stand.bearing
    assert left == right
    # Eight eyelets from 5/8 in on, 1 1/4 in apart, on a pole with brackets at 1 1/4 and 58 3/4 in.
    places = [0.625 + 1.25 * n for n in range(8)]
    borne = sum(1 - max(x - 1.25, 0) / 57.5 for x in places) / 8
    assert float(left / stand.weight * 2) == pytest.approx(borne + (1 - borne))
    middle = window_of(f"{PAIR}\nlength = 84", tables=f"{WEIGHED}supports = 1").stand
    assert middle.weight is not None
    low, mid, high = middle.bearing
    assert low == high
    assert low <= middle.weight / 2
    reach = 30 - 1.25
    share = sum(max(0.625 + reach * n / 7 - 1.25, 0) / 28.75 for n in range(8)) / 8
    assert float(mid / middle.weight) == pytest.approx(share * 1.25)


def test_a_single_panel_stands_as_far_as_it_covers() -> None:
    """Over all of the pole its returns hold it at both ends; told to cover less it ends there.

    So does a left one. A panel of 53 in of cloth between its end eyelets, told to cover 27 of 80 in
    of pole, can't stand at both ends of that, nor has it to pass a bracket at 40 in.
    """
    tables = "[pole]\nlength = 60"
    single = window_of(f"{WIDE}\npanels = 'single'", tables=tables)
    edge = single.stand.beyond
    assert edge is not None
    places = single.stand.places("single")
    assert (places[0], places[-1]) == (edge / 2, 60 * INCH - edge / 2)
    left = window_of(f"{WIDE}\npanels = 'left'\ncovers = 40", tables=tables)
    places = left.stand.places("left")
    assert places[0] - places[-1] == 40 * INCH
    short = window_of(
        "width = 60\nreturn = 3\npanels = 'single'\ncovers = 27",
        tables="[pole]\nlength = 80\nsupports = 1",
    )
    places = short.stand.places("single")
    assert places[-1] - places[0] == 27 * INCH
    assert found(short, "panel-over-bracket") == []


def test_glass_left_bare() -> None:
    """A pair told to cover 34 in each of an 80 in pole leaves light between, with 60 in of glass.

    A ring takes 1 1/4 in of pole, as its stack does, so there is room for 40 - 1 1/4 = 38 3/4 in
    from end to end eyelet. Folds turn the ring, and the 1 1/2 in past it, by theta to the pole.
    """
    pair = "covers = 34\nfullness = 2\nreturn = 3\nglass = 60"
    window = window_of(pair, tables="[pole]\nlength = 80")
    hang = window.panels[0].hang
    assert hang is not None
    past = 1.5 * cos(radians(hang.closed.angle_deg))
    assert past > 0.4
    assert window.stand.bare is not None
    assert float(window.stand.bare / INCH) == pytest.approx(2 * (38.75 - 34 - past), abs=1 / 8)
    [warning] = found(window, "glass-bare")
    assert warning.level == "warn"
    assert warning.text.startswith("closed, the panels cover 34 in of pole each, and ")
    # 2 x 40 + 1 1/2 + 3 + 2 in, with which they meet in the middle.
    assert warning.text.endswith(
        "stays bare between them. What would close it: panels 86 1/2 in wide, to cover 40 in each, "
        "at 2.00 times"
    )
    assert warning.remedies == ((Change("covers", 40 * INCH),),)
    for covers in ("38.75", "39", "40"):
        meeting = window_of(pair.replace("34", covers), tables="[pole]\nlength = 80")
        assert meeting.stand.bare == 0
        assert found(meeting, "glass-bare") == []
    # Where no glass is given none is bare, nor is more of it than there is.
    none = window_of(pair.replace("glass = 60", ""), tables="[pole]\nlength = 80")
    assert none.stand.bare is None
    slit = window_of(pair.replace("glass = 60", "glass = 2"), tables="[pole]\nlength = 80")
    assert slit.stand.bare == 2 * INCH


def test_one_panel_leaves_glass_bare() -> None:
    """One panel that covers 50 of 80 in leaves bare what lies past its end.

    Its width is given: pulled flatter it closes, 91 1/2 in of cloth over 78 3/4 in of pole.
    """
    one = "width = 98\nfullness = 1.8\nreturn = 3\npanels = 'left'\nglass = 60"
    window = window_of(one, tables="[pole]\nlength = 80")
    [warning] = found(window, "glass-bare")
    assert "stays bare past its end" in warning.text
    assert warning.text.endswith("; or the same panels, at 1.16 times")
    assert (Change("fullness", Fraction(116, 100)),) in warning.remedies


def test_cloth_that_cant_reach() -> None:
    """No fullness is given, and 40 in panels don't reach over 100 in of glass even laid flat.

    Nor are they drawn wider than their cloth: 40 - 1 1/2 - 3 - 2 in between the end eyelets.
    """
    window = window_of("width = 40\nreturn = 3\ncount = 6\nglass = 100")
    assert window.stand.reach == INCH * 67 / 2
    [warning] = found(window, "glass-bare")
    assert warning.text.startswith(
        "closed, even pulled flat the panels cover 33 1/2 in of pole each, and "
    )


def test_a_pair_covers_half_each() -> None:
    """A single panel's covers, given, are halved for each of the pair."""
    window = window_of(
        "covers = 50\nfullness = 2\nreturn = 3\npanels = 'single'", tables="[pole]\nsupports = 1"
    )
    [warning] = found(window, "panel-over-bracket")
    assert warning.remedies == ((Change("panels", "pair"), Change("covers", 25 * INCH)),)


def test_nothing_known() -> None:
    """A job that says nothing of pole and glass is told nothing of them."""
    stand = window_of("width = 60").stand
    assert (stand.length, stand.brackets, stand.bearing, stand.over_glass) == (None, (), (), None)
    assert (stand.supports, stand.bottom, stand.clearing) == (None, None, None)
