"""What is found wrong with a panel on its pole, just where it begins, and that its advice mends it.

The advice is read out of the text, as its reader would, and put into the job.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drapetemplate.measures import INCH, format_length
from drapetemplate.planning import folds
from drapetemplate.planning.model import Change, Finding, WindowPlan
from drapetemplate.planning.plan import plan
from drapetemplate.words.figures import in_full, window_figures
from tests.helpers.jobfiles import RING, inches, job_of, mixed, panel_of, window_of

# P = (60 - 4 1/2 - 16)/7 + 2 = 107/14 in, P/2 = 3.82 in.
EIGHT = "width = 60\nreturn = 3\ncount = 8"
CODES = {"tight-turn", "wont-close", "back-fold-hits-wall", "short-pole", "odd-count"}


def found(window: str, code: str, *, eyelet: str = RING, pole: str = "") -> list[Finding]:
    """The findings of that code."""
    findings = window_of(window, eyelet=eyelet, tables=f"[pole]\n{pole}").findings
    return [finding for finding in findings if finding.code == code]


def advice(finding: Finding, pattern: str) -> str:
    """What a finding's text gives where the pattern has its group."""
    match = re.search(pattern, finding.text)
    assert match is not None, finding.text
    return match[1]


def test_tight_turn() -> None:
    """Lifting before 45 degrees is a warning; (D - t)^2/2D is the pole it takes, rounded down."""
    # (1 - 1/8)^2/2 = 0.3828 in; in sixteenths 6.1.
    ring = RING + '\nthickness = "1/8"'
    assert found(EIGHT, "tight-turn", eyelet=ring, pole='diameter = "0.3828"') == []
    (finding,) = found(EIGHT, "tight-turn", eyelet=ring, pole='diameter = "0.3829"')
    assert finding.level == "warn"
    assert finding.text.startswith(
        "the panel will bind on this pole when it is opened and closed: its rings turn 44° before "
        "they lift off the pole's top, and it needs 45°. What would do: a pole of "
    )
    assert advice(finding, r"a pole of (.+?) or thinner") == "3/8 in"


def test_a_pole_of_half_the_opening_turns_its_ring() -> None:
    """Without thickness half the opening is what it takes, and exactly that is enough."""
    assert found(EIGHT, "tight-turn", pole='diameter = "1/2"') == []
    (finding,) = found(EIGHT, "tight-turn", pole='diameter = "9/16"')
    assert advice(finding, r"a pole of (.+?) or thinner") == "1/2 in"


def test_a_pole_in_whole_millimetres() -> None:
    """(40 - 5)^2/80 = 15.3 mm: no pole is sold so, and one of 15 does."""
    window = "width = 1900\nreturn = 50\ncount = 8"
    ring = "outside = 66\nopening = 40\nhole = 41\nthickness = 5"
    plan = window_of(
        window, head='units = "mm"', eyelet=ring, tables="[pole]\ndiameter = 19\nprojection = 150"
    )
    (finding,) = [each for each in plan.findings if each.code == "tight-turn"]
    assert advice(finding, r"a pole of (.+?) or thinner") == "15 mm"


@pytest.mark.parametrize("thickness", ["1", "15/16", "1 1/8"])
def test_tight_turn_of_a_thick_ring(thickness: str) -> None:
    """Where no pole worth the name would do, only a thinner ring is advised."""
    ring = RING + f'\nthickness = "{thickness}"'
    (finding,) = found(EIGHT, "tight-turn", eyelet=ring, pole='diameter = "1/2"')
    assert finding.text.endswith(": a thinner ring")


@given(
    opening=st.integers(8, 40),
    thickness=st.integers(0, 10),
    diameter=st.integers(50, 98),
    units=st.sampled_from(["in", "mm", "cm"]),
)
def test_advice_on_the_pole_holds(opening: int, thickness: int, diameter: int, units: str) -> None:
    """The thinner pole that the text asks for, as it is printed, lets the rings turn."""
    ring = f'outside = "45 mm"\nopening = "{opening} mm"\nthickness = "{thickness / 4} mm"'
    window = 'width = "2 m"\nreturn = "50 mm"\ncount = 8'

    def tight(pole: str) -> list[Finding]:
        head = f'units = "{units}"'
        plan = window_of(window, head=head, eyelet=ring, tables=f'[pole]\ndiameter = "{pole}"')
        return [f for f in plan.findings if f.code == "tight-turn"]

    findings = tight(f"{opening * diameter / 100} mm")
    assume(findings)
    assert tight(advice(findings[0], r"a pole of (.+?) or thinner")) == []


def test_wont_close() -> None:
    """A panel that can't be pulled as flat as the job asks is a stop, and says how far it goes."""
    # acos(0.9) = 25.84 degrees of turn: rings at 64.16 to the pole.
    (stop,) = found(f"{EIGHT}\nfullness = 1.2", "wont-close", pole='diameter = "0.9"')
    assert stop.level == "stop"
    least = folds.at_angle(float(Fraction(107, 14) * INCH), 50.8, 90 - 25.841933).fullness
    assert f"flatter than {least:.2f} times" in stop.text
    covers = Fraction(107, 2) * INCH / Fraction(least)
    reach = inches(advice(stop, r"covers (.+?) in of 44 5/8 in"))  # 53 1/2 / 1.2 = 44.58
    assert 0 <= covers - reach < INCH / 16


def test_wont_close_needs_to_be_asked() -> None:
    """Where the fullness is only assumed no pole is said to be too thick to close on."""
    thick = 'diameter = "0.99"'
    assert panel_of(EIGHT, tables=f"[pole]\n{thick}").hang is not None
    assert found(EIGHT, "wont-close", pole=thick) == []
    assert len(found(f"{EIGHT}\nfullness = 2", "wont-close", pole=thick)) == 1


@given(
    count=st.sampled_from([4, 6, 8, 10, 12]),
    diameter=st.integers(50, 98),
    fullness=st.integers(101, 250),
    width=st.sampled_from(["width = 60", "covers = 30"]),
)
def test_advice_on_fullness_holds(count: int, diameter: int, fullness: int, width: str) -> None:
    """The fullness that the text asks for, at the same count, can be pulled closed."""
    pole = f'diameter = "0.{diameter}"'
    window = f"{width}\nreturn = 3\ncount = {count}\nfullness = "
    # Twelve need 1 in between them: 27 in of cloth between the end centres and more.
    assume(width == "width = 60" or 30 * fullness >= 3400)
    findings = found(f'{window}"{fullness / 100}"', "wont-close", pole=pole)
    assume(findings)
    least = advice(findings[0], r"or ([\d.]+) times the pole with the same number")
    assert found(f'{window}"{least}"', "wont-close", pole=pole) == []


def reaching(projection: str, window: str = f"{EIGHT}\nfullness = 2") -> list[Finding]:
    """What is found of folds at a wall so far from the pole, 1/2 in clearance kept."""
    return found(window, "back-fold-hits-wall", pole=f'projection = "{projection}"')


def test_fold_at_the_wall() -> None:
    """Closed into the clearance is a stop, only stacked a warning, neither is nothing."""
    # Closed: the fold's depth, folds' own tests have it; stacked 107/28 in.
    depth = folds.solve(float(Fraction(107, 14) * INCH), 50.8, 2).depth / 25.4
    assert [f.level for f in reaching(f"{depth + 0.4999} in")] == ["stop"]
    assert [f.level for f in reaching(f"{depth + 0.5001} in")] == ["warn"]
    assert [f.level for f in reaching("4.3214 in")] == ["warn"]  # 107/28 + 1/2 = 4.32143
    assert reaching("4.3215 in") == []


def test_fold_at_the_wall_is_told() -> None:
    """The text names state, reach, excess, the first larger count that clears, and the bracket.

    Both clear the panel stacked too, so that no warning comes for the stop.
    """
    (stop,) = reaching("3 in")  # 2 1/2 in free
    depth = {
        n: folds.solve(float(INCH) * (55.5 - 2 * n) / (n - 1) + 50.8, 50.8, 2).depth / 25.4
        for n in (8, 10, 12)
    }
    first = next(n for n, deep in depth.items() if deep <= 2.5)
    assert first == 10
    reach = math.ceil(depth[8] * 16)  # up to 1/16 in, as pictures and the slider have it
    excess = math.ceil((depth[8] - 2.5) * 16)
    more = math.ceil((107 / 28 - 2.5) * 16)
    bracket = math.ceil((107 / 28 + 0.5) * 16)  # clear of the stacked fold too, P/2
    say = [format_length(n * INCH / 16, "in") for n in (reach, excess, more, bracket)]
    # P/2 is 107/28 = 3.821 in, more than 3 13/16, which is 3.8125.
    # Ten would still reach stacked, (35.5/9 + 2)/2 = 2.97 in; twelve don't, (31.5/11 + 2)/2 = 2.43.
    # The return, given as 3 in, doesn't reach a wall 4 3/8 in off.
    assert stop.text == (
        f"closed, back folds reach {say[0]} behind the pole's centre, {say[1]} more than "
        "a clearance of 1/2 in allows; stacked, back folds can reach 3 7/8 in behind the "
        f"pole's centre, {say[2]} more: 12 eyelets would clear both, or a bracket of {say[3]}, "
        "wall to pole centre, as the stacked folds need, but then the return "
        "stops short of the wall"
    )
    assert stop.remedies == ((Change("count", 12),),)


def test_stacked_fold_at_the_wall_is_told() -> None:
    """A warning speaks of the stacked panel: P/2, and the count whose P/2 clears."""
    (warn,) = reaching("3 1/2 in")  # 3 in free; P/2 = 3.82, at 10 eyelets (35.5/9 + 2)/2 = 2.97
    reach = "stacked, back folds can reach 3 7/8 in behind the pole's centre, 7/8 in more than"
    assert warn.text.startswith(f"{reach} a clearance of 1/2 in allows, though closed they clear: ")
    assert ": 10 eyelets would clear, or a bracket" in warn.text
    assert advice(warn, "a bracket of (.+?),") == "4 3/8 in"


def test_one_length_is_one_figure() -> None:
    """A fold's depth in a finding is the figure of pictures, figures and the slider: no other."""
    job = job_of(f"{EIGHT}\nfullness = 2", eyelet=RING, tables='[pole]\nprojection = "3"')
    (planned,) = plan(job).windows
    stop = next(each for each in planned.findings if each.code == "back-fold-hits-wall")
    said = dict(in_full(window_figures(job, planned)))
    depths = [said[name].split(" from pole's")[0] for name in ("folds, closed", "folds, stacked")]
    closed, stacked = (depth.removeprefix("to ") for depth in depths)
    assert f"closed, back folds reach {closed} behind" in stop.text
    assert f"stacked, back folds can reach {stacked} behind" in stop.text


@pytest.mark.parametrize(
    ("units", "width", "projection"), [("in", "60", "4"), ("mm", "1524", "110")]
)
def test_depth_and_what_is_free_add_up(units: str, width: str, projection: str) -> None:
    """Whoever adds a fold's depth to what is free behind it has the projection, to the last digit.

    Fuller and fuller panels have their folds at every part of a sixteenth or a millimetre.
    """
    ring = RING if units == "in" else "outside = 51\nopening = 25"
    for hundredths in range(150, 240, 7):
        job = job_of(
            f"width = {width}\ncount = 8\nfullness = {hundredths / 100}",
            head=f'units = "{units}"',
            eyelet=ring,
            tables=f"[pole]\nprojection = {projection}",
        )
        said = dict(in_full(window_figures(job, plan(job).windows[0])))
        free = advice_in(said["free to the wall"], r"(.+?) closed, (.+?) stacked")
        for name, room in zip(("folds, closed", "folds, stacked"), free, strict=True):
            deep = said[name].removeprefix("to ").split(f" {units} from pole's")[0]
            both = sum(map(plain, (deep, room.removesuffix(f" {units}"))))
            assert both == Fraction(projection), said[name]


def advice_in(words: str, pattern: str) -> tuple[str, ...]:
    """All that words give where the pattern has its groups."""
    match = re.search(pattern, words)
    assert match is not None, words
    return match.groups()


def plain(measure: str) -> Fraction:
    """A printed number: "2 5/8", "49"."""
    return sum(map(Fraction, measure.split()), Fraction(0))


def test_fold_at_the_wall_without_a_larger_count() -> None:
    """Where no larger count clears, that is said, and the bracket alone would mend it."""
    (stop,) = reaching("1 in")
    assert ": no larger count clears; it takes a bracket of " in stop.text
    assert "eyelets would" not in stop.text


@given(
    count=st.sampled_from([4, 6, 8, 10]),
    fullness=st.integers(105, 350),
    sixteenths=st.integers(12, 80),
    width=st.sampled_from(["width = 60", "width = 60\ncovers = 20", "covers = 40"]),
)
def test_advice_at_the_wall_holds(count: int, fullness: int, sixteenths: int, width: str) -> None:
    """The count, and the bracket, that the text asks for end what the text says."""
    window = f"{width}\n"
    if "20" not in width:
        window += f'fullness = "{fullness / 100}"\n'
    projection = f"{sixteenths / 16} in"
    findings = reaching(projection, f"{window}count = {count}")
    assume(findings)
    finding = findings[0]
    mended = []
    if "a bracket of" in finding.text:
        bracket = advice(finding, "a bracket of (.+?), wall to pole centre")
        mended.append(reaching(bracket, f"{window}count = {count}"))
    if "eyelets would clear" in finding.text:
        more = advice(finding, r": (\d+) eyelets would clear")
        assert (int(more) > count, int(more) % 2) == (True, 0)
        after = reaching(projection, f"{window}count = {more}")
        if "eyelets would clear closed" in finding.text:
            assert [f.level for f in after] == ["warn"]
        else:
            mended.append(after)
    # Closed and stacked.
    assert all(each == [] for each in mended)


@given(sixteenths=st.integers(12, 96), width=st.integers(20, 90))
def test_auto_count_keeps_folds_off_the_wall(sixteenths: int, width: int) -> None:
    """An automatic count has P/2 <= projection - clearance wherever an even one with 1 in can.

    Common practice: gaps are never so wide that a back fold reaches the wall.
    """
    projection = Fraction(sixteenths, 16) * INCH
    panel = panel_of(
        f"width = {width}", tables=f'[pole]\nprojection = "{mixed(Fraction(sixteenths, 16))}"'
    )
    assert panel.hang is not None
    room = projection - INCH / 2
    free = panel.width - panel.leading - panel.return_
    clear = [
        n
        for n in range(2, 60, 2)
        if free - n * panel.outside >= (n - 1) * INCH
        and (free - panel.outside) / (n - 1) <= 2 * room
    ]
    assert bool(clear) == (panel.hang.depth_stacked <= room)
    assert not clear or panel.count in clear


@pytest.mark.parametrize(
    ("window", "length", "expected"),
    [
        # Eight rings of 1 1/4 in stack on 10 in; a pair on 20.
        (f'{EIGHT}\npanels = "left"', "10", []),
        (f'{EIGHT}\npanels = "left"', "9 15/16", ["stacked, the panels take 10 in"]),
        (EIGHT, "20", []),
        (EIGHT, "19 15/16", ["stacked, the panels take 20 in of pole, 1/16 in more"]),
        # Closed each covers 25 in.
        (f"{EIGHT}\ncovers = 25", "50", []),
        (f"{EIGHT}\ncovers = 25", "49 1/2", ["closed, the panels take 50 in of pole, 1/2 in more"]),
        (f"{EIGHT}\ncovers = 25", "15", ["stacked", "closed"]),
    ],
)
def test_short_pole(window: str, length: str, expected: list[str]) -> None:
    """Panels that take more pole than is usable, stacked or closed, are a warning each."""
    findings = found(window, "short-pole", pole=f'length = "{length}"')
    assert len(expected) == len(findings)
    assert all(f.text.startswith(e) for f, e in zip(findings, expected, strict=True))
    assert {"warn"} >= {f.level for f in findings}


@pytest.mark.parametrize("hung", ["pole", "hooks"])
def test_short_pole_of_a_width_and_a_fullness(hung: str) -> None:
    """What a panel covers by its width and its fullness must fit too, and on hooks as well."""
    # 60 - 4 1/2 - 2 = 53 1/2 in of cloth, at 1.25 times on 42.8 in: a pair takes 85.6.
    eyelet = f'{RING}\nhung = "{hung}"'
    window = f"{EIGHT}\nfullness = 1.25"
    (finding,) = found(window, "short-pole", eyelet=eyelet, pole='length = "85 1/2"')
    assert finding.text.startswith("closed, the panels take 85 5/8 in of pole, 1/8 in more")
    assert found(window, "short-pole", eyelet=eyelet, pole='length = "85 5/8"') == []


def test_fold_at_the_wall_by_the_length_of_the_pole() -> None:
    """How full a panel hangs follows from the pole's length: what would clear at 2 may not."""
    # 53 1/2 in of cloth on half of 40 in: 2.675 times. The folds' own tests have the depths.
    pitch = float(Fraction(107, 14) * INCH)
    depth = {times: folds.solve(pitch, 50.8, times).depth / 25.4 for times in (2, 2.675)}
    bracket = f"{(depth[2] + depth[2.675]) / 2 + 0.5}"
    pole = f'projection = "{bracket}"\nlength = '
    (stop,) = found(EIGHT, "back-fold-hits-wall", pole=f"{pole}40")
    assert stop.level == "stop"
    reach = format_length(math.ceil(depth[2.675] * 16) * INCH / 16, "in")
    assert stop.text.startswith(f"closed, back folds reach {reach} behind")
    # Twice as full on 53 1/2 in of pole: only the stacked panel comes so near.
    (warn,) = found(EIGHT, "back-fold-hits-wall", pole=f'{pole}"53 1/2"')
    assert warn.level == "warn"


def test_wont_close_on_half_a_pole() -> None:
    """Where the pole's length is why a panel should close, it is said, and that it needn't."""
    # 53 1/2 in of cloth on half of 90 in: 1.19 times, too flat for acos(0.9) of turn.
    (stop,) = found(EIGHT, "wont-close", pole='diameter = "0.9"\nlength = 90')
    assert " of 45 in, half of pole.length: " in stop.text
    assert stop.text.endswith(", or give covers for a panel that isn't to close")
    assert found(f"{EIGHT}\ncovers = 25", "wont-close", pole='diameter = "0.9"\nlength = 90') == []


def test_advice_on_a_short_pole_holds() -> None:
    """The pole that the text says the panels take is long enough for them."""
    window = f"{EIGHT}\ncovers = 25.01\nstack_each = 1.3"
    for finding in found(window, "short-pole", pole="length = 12"):
        length = advice(finding, r"take (.+?) of pole")
        state = finding.text.split(",")[0]
        again = found(window, "short-pole", pole=f'length = "{length}"')
        assert [f for f in again if f.text.startswith(state)] == []


def codes(plan: WindowPlan) -> Mapping[str, str]:
    """Codes found, with their texts."""
    return {finding.code: finding.text for finding in plan.findings}


def test_nothing_of_this_on_hooks() -> None:
    """On hooks nothing weaves or turns, so it is no finding; room they take all the same."""
    window = "width = 60\ncount = 7\ncovers = 50"
    pole = '[pole]\ndiameter = "0.95"\nprojection = 1\nlength = 12'
    on_pole = codes(window_of(window, eyelet=RING, tables=pole))
    assert on_pole.keys() >= CODES
    on_hooks = codes(window_of(window, eyelet=RING + '\nhung = "hooks"', tables=pole))
    assert CODES & on_hooks.keys() == {"short-pole"}
