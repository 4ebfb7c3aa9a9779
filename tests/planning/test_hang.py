"""A panel on its pole: turning, wall, weight, and advice that holds when it is followed."""

from __future__ import annotations

import re
from fractions import Fraction
from math import acos, atan, degrees, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobfiles import inches, job_of, panel_of, plan_of, window_of
from scipy.optimize import brentq

from drapetemplate.errors import JobError
from drapetemplate.planning import folds
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.hanging import Hang

# Ring and pole of the examples: opening 2 in, 1/4 in thick, on a 1 in pole.
THICK = 'outside = "3 in"\nopening = "2 in"\nthickness = "1/4 in"'
POLE = '[pole]\ndiameter = 1\nprojection = "4 1/2"'


def hang_of(window: str, *, eyelet: str = THICK, tables: str = POLE) -> Hang:
    """The panel on its pole."""
    hang = panel_of(window, eyelet=eyelet, tables=tables).hang
    assert hang is not None
    return hang


def found(window: str, code: str, *, eyelet: str = THICK, tables: str = POLE) -> list[Finding]:
    """The findings of that code."""
    findings = window_of(window, eyelet=eyelet, tables=tables).findings
    return [finding for finding in findings if finding.code == code]


def measure(text: str, pattern: str) -> Fraction:
    """The measure in inches that a finding's text gives at the pattern's group."""
    match = re.search(pattern, text)
    assert match, text
    return inches(match.group(1))


def test_fullness_of_the_job() -> None:
    """A fullness that the job gives is the closed panel's, and the fold has it."""
    hang = hang_of("width = 90\nfullness = 2.4")
    assert (hang.fullness, hang.assumed) == (2.4, False)
    assert hang.closed.fullness == pytest.approx(2.4, rel=1e-12)


def test_fullness_from_covers() -> None:
    """Covers says the fullness: flat cloth between the end centres over covers."""
    panel = panel_of("width = 90\ncovers = 40", eyelet=THICK, tables=POLE)
    assert panel.hang is not None
    span = panel.centers[-1] - panel.centers[0]
    assert panel.hang.fullness == float(span / inches("40"))


def test_fullness_assumed() -> None:
    """With neither, twice is assumed and listed."""
    window = window_of("width = 90", eyelet=THICK, tables=POLE)
    assert [a.value for a in window.assumed if a.key == "fullness"] == ["2 times, for the folds"]
    hang = window.panels[0].hang
    assert hang is not None
    assert (hang.fullness, hang.assumed) == (2.0, True)


def test_turn_limit() -> None:
    """The turn at which a thick ring touches its pole, against a root of the clearance itself."""
    expected = degrees(acos(1 / sqrt(2**2 + 0.25**2)) - atan(0.25 / 2))
    assert hang_of("width = 90").turn_limit == pytest.approx(expected, rel=1e-12)


def test_least_fullness_stands_at_the_turn_limit() -> None:
    """Pulled as flat as the rings let it be, the rings are at their limit."""
    hang = hang_of("width = 90")
    assert hang.turn_limit is not None

    def short(fullness: float) -> float:
        angle = folds.solve(hang.closed.pitch, hang.closed.outside, fullness).angle_deg
        return float(90 - angle - (hang.turn_limit or 0))

    assert hang.least_fullness == pytest.approx(brentq(short, 1.01, 3), rel=1e-6)


def test_depths_and_wall() -> None:
    """Stacked is half a pitch; the room is projection less clearance; free is what remains."""
    panel = panel_of("width = 90\ncount = 14\nreturn = 3", eyelet=THICK, tables=POLE)
    hang = panel.hang
    assert hang is not None
    pitch = (90 - Fraction("1.5") - 3 - 14 * 3) / 13 + 3  # inches
    assert hang.depth_stacked == pitch / 2 * inches("1")
    assert hang.wall_room == inches("4")
    assert hang.free(hang.depth_stacked) == inches("4") - pitch / 2 * inches("1")


def test_nothing_hangs_on_hooks() -> None:
    """On hooks there is neither fold nor finding of one."""
    window = window_of("width = 90\ncount = 2", eyelet=THICK + '\nhung = "hooks"', tables=POLE)
    assert window.panels[0].hang is None
    assert window.findings == ()


@pytest.mark.parametrize("key", ["fullness = 9.9", "covers = 8"])
def test_too_full(key: str) -> None:
    """More than the eyelets allow is refused at its key, with the most, which is then taken."""
    with pytest.raises(JobError) as caught:
        hang_of(f"width = 90\ncount = 10\n{key}")
    (fault,) = caught.value.faults
    assert fault.where == f"window[1].{key.split(maxsplit=1)[0]}"
    match = re.search(r"touch: ([0-9.]+) times or less", fault.text)
    assert match
    hang = hang_of(f"width = 90\ncount = 10\nfullness = {match.group(1)}")
    assert hang.fullness == float(match.group(1))


def test_weight() -> None:
    """Cloth over the flat raw width and cut length, lining likewise, plus eyelets, by hand."""
    tables = (
        '[fabric]\nweight = "300 gsm"\nside_hem = "75 mm"\nheading = "200 mm"\n'
        'bottom_hem = "200 mm"\nshrinkage = 0.05\nrepeat_down = "640 mm"\n'
        '[lining]\nweight = "100 gsm"\nside_hem = "25 mm"\nheading = 0\nbottom_hem = "100 mm"\n'
    )
    panel = panel_of(
        'width = "2 m"\nlength = "2.5 m"\ncount = 10',
        eyelet=THICK + '\nweight = "12 g"',
        tables=tables,
    )
    # Cloth: (2.5 + 0.4) x 1.05 = 3.045 m, up to 5 repeats of 0.64 = 3.2 m; 2.15 m wide.
    cloth = Fraction("2.15") * Fraction("3.2") * 300
    lining = Fraction("2.05") * Fraction("2.6") * 100
    assert panel.weight == cloth + lining + 120


@pytest.mark.parametrize(
    ("window", "tables"),
    [
        ("width = 60", '[fabric]\nweight = "300 gsm"'),
        ("width = 60\nlength = 80", "[fabric]\nwidth = 54"),
        ("width = 60\nlength = 80", '[fabric]\nweight = "300 gsm"\n[lining]\nwidth = 54'),
        ("width = 60\nlength = 80", ""),
    ],
)
def test_weight_not_known(window: str, tables: str) -> None:
    """Without a length, or the weight of every cloth, there is no weight rather than too little."""
    assert panel_of(window, tables=tables).weight is None


def test_operable_turn() -> None:
    """45 degrees is what an operable panel's eyelet can turn (common practice)."""
    # (2 - 1/4)/sqrt 2 = 1.2374 in: 1 1/4 in is just too thick, 1 3/16 in is not.
    at = '[pole]\ndiameter = "{}"'
    (finding,) = found("width = 90", "tight-turn", tables=at.format("1 1/4"))
    assert finding.level == "warn"
    assert "a pole of 1 3/16 in or thinner" in finding.text
    assert found("width = 90", "tight-turn", tables=at.format("1 3/16")) == []


def test_closed_fold_at_the_wall_is_a_stop() -> None:
    """A closed fold beyond the clearance stops; short of it, one that only stacks there warns."""
    window = "width = 90\nreturn = 3\ncount = 8\nfullness = 2"
    at = "[pole]\nprojection = {}"
    depth = hang_of(window).closed.depth / 25.4
    (stop,) = found(window, "back-fold-hits-wall", tables=at.format(depth + 0.49))
    (warn,) = found(window, "back-fold-hits-wall", tables=at.format(depth + 0.51))
    assert [stop.level, warn.level] == ["stop", "warn"]


@given(
    count=st.sampled_from([4, 6, 8, 10]), projection=st.integers(20, 64), full=st.integers(11, 40)
)
def test_advice_on_the_wall_holds(count: int, projection: int, full: int) -> None:
    """The count or the bracket that a finding names clears, in the same state of the panel."""
    window = "width = 90\nreturn = 3\nfullness = {}\ncount = {}"
    tables = '[pole]\nprojection = "{}"'
    here = found(
        window.format(full / 10, count),
        "back-fold-hits-wall",
        tables=tables.format(f"{projection}/8"),
    )
    if not here:
        return
    (finding,) = here
    bracket = measure(finding.text, r"a bracket of (?:≈ )?(.+?) in, wall") / inches("1")
    after = found(
        window.format(full / 10, count), "back-fold-hits-wall", tables=tables.format(bracket)
    )
    assert finding.level not in [f.level for f in after]
    named = re.search(r"(\d+) eyelets would clear", finding.text)
    if named:
        after = found(
            window.format(full / 10, named.group(1)),
            "back-fold-hits-wall",
            tables=tables.format(f"{projection}/8"),
        )
        assert finding.level not in [f.level for f in after]


def test_auto_count_clears_the_wall() -> None:
    """Gaps are never so wide that a back fold reaches the wall (common practice)."""
    for eighths in range(18, 60):
        projection = Fraction(eighths, 8)
        panel = panel_of("width = 90", eyelet=THICK, tables=f'[pole]\nprojection = "{projection}"')
        room = inches(str(projection)) - inches("1/2")
        assert panel.pitch / 2 <= room or "no count" in panel.reason


def test_wont_close() -> None:
    """Rings that can't turn flat enough to cover the pole stop it, and the advice mends it."""
    window = "width = 90\nreturn = 3\ncount = 12\nfullness = {}"
    tables = '[pole]\ndiameter = "1 3/4"'
    (finding,) = found(window.format(1.3), "wont-close", tables=tables)
    assert finding.level == "stop"
    named = re.search(r"or ([0-9.]+) times the pole or more", finding.text)
    assert named
    assert found(window.format(named.group(1)), "wont-close", tables=tables) == []
    # And it covers what it says, at the least: that much as covers is no stop.
    reach = measure(finding.text, r"covers (.+?) in of") / inches("1")
    covering = window.replace("fullness = {}", f'covers = "{reach}"')
    assert found(covering, "wont-close", tables=tables) == []


@pytest.mark.parametrize(("length", "states"), [(96, []), (79, ["closed"]), (29, ["stacked"])])
def test_short_pole(length: int, states: list[str]) -> None:
    """A pole shorter than the panels closed, or than their stacks, is said."""
    # A pair of 12 eyelets at 1 1/4 in stacks to 30 in; closed it covers 80 in.
    window = f"width = 90\ncount = 12\n{'covers = 40' if length != 29 else ''}"
    texts = [f.text for f in found(window, "short-pole", tables=f"[pole]\nlength = {length}")]
    assert [text.split(",")[0] for text in texts] == states


def test_stops_of_the_plan() -> None:
    """The plan gathers the stops of all its windows."""
    plan = plan_of("width = 60\ncount = 7", "width = 60", "width = 60\ncount = 9")
    assert [stop.code for stop in plan.stops] == ["odd-count", "odd-count"]
    assert job_of("width = 60").windows[0].count is None
