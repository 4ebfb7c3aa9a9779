"""What a plan finds wrong, just where it begins to be wrong, and that its advice mends it."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.job.model import Assumption
from drapetemplate.planning.codes import CODES, STOP_CODES, Level
from drapetemplate.planning.findings import assumed, finding
from drapetemplate.planning.model import Finding
from tests.helpers.jobfiles import NO_HOLE, RING, plan_of, window_of

USUAL = "width = 60"
WALL = "width = 60\nreturn = 3\ncount = 8"
ENDS = "leading = 3\nreturn = 3\nlength = 84"
# A job's window, eyelet and tables for each code at each of its levels.
EXAMPLES: dict[tuple[str, Level], tuple[str, str, str]] = {
    ("odd-count", "stop"): ("width = 60\ncount = 7", RING, ""),
    ("back-fold-hits-wall", "stop"): (f"{WALL}\nfullness = 2", RING, "[pole]\nprojection = 2"),
    ("back-fold-hits-wall", "warn"): (f"{WALL}\nfullness = 1.1", RING, "[pole]\nprojection = 4"),
    ("wont-close", "stop"): (f"{WALL}\nfullness = 1.2", RING, '[pole]\ndiameter = "0.9"'),
    ("tight-turn", "warn"): (WALL, RING, '[pole]\ndiameter = "0.9"'),
    ("short-return", "warn"): (WALL, RING, "[pole]\nprojection = 5"),
    ("short-pole", "warn"): (WALL, RING, "[pole]\nlength = 19"),
    ("panel-over-bracket", "warn"): (f"{WALL}\npanels = 'single'", RING, "[pole]\nsupports = 1"),
    ("stack-over-glass", "note"): (f"{WALL}\nglass = 40", RING, "[pole]\nlength = 44"),
    ("glass-bare", "warn"): (f"{WALL}\nfullness = 2\nglass = 40", RING, "[pole]\nlength = 60"),
    ("on-floor", "warn"): (f"{USUAL}\nlength = 92", RING, "[pole]\ntop = 90"),
    ("narrow-gap", "warn"): ('width = "9 1/4"', RING, ""),
    ("eyelet-over-hem", "warn"): (f"{USUAL}\nleading = 1", RING, "[fabric]\nside_hem = 3"),
    ("eyelet-over-hem", "note"): (f"{USUAL}\nleading = 2", RING, "[lining]\nwidth = 54"),
    ("seam-in-front", "warn"): (f"{ENDS}\nwidth = 50\ncount = 2", RING, "[fabric]\nwidth = 54"),
    ("seam-under-eyelet", "warn"): (
        "leading = 1\nreturn = 1\nlength = 84\nwidth = 81\ncount = 16",
        "outside = 4\nopening = 2",
        "[fabric]\nwidth = 54\nside_hem = 1",
    ),
    ("extra-seam", "note"): (
        "leading = 1.5\nreturn = 3\nlength = 84\nwidth = 71.75\ncount = 10",
        'outside = "3 1/8"\nopening = 2',
        "[fabric]\nwidth = 56",
    ),
    ("extra-width", "note"): (f"{ENDS}\nwidth = 74\ncount = 12", RING, "[fabric]\nwidth = 54"),
    ("pattern-width", "note"): (
        f'{ENDS}\nwidth = 60\npattern = "folds"',
        RING,
        "[fabric]\nrepeat_across = 7",
    ),
    ("pattern-free", "warn"): (
        f'{ENDS}\nwidth = 60\npattern = "folds"',
        RING,
        "[pole]\nprojection = 3\n[fabric]\nrepeat_across = 20",
    ),
    ("pattern-off-centre", "note"): (
        f'{ENDS}\nwidth = 60\ncount = 8\npattern = "folds"',
        RING,
        "[fabric]\nwidth = 18\nrepeat_across = 17\nmotif = 9\nseam = 0.5",
    ),
    ("die-not-measured", "warn"): (USUAL, NO_HOLE, ""),
    ("small-hole", "warn"): (USUAL, NO_HOLE + '\nhole = "15/16"', ""),
}
# Of what is found beside a window's plan: what was assumed, and what its sheets can't show.
ELSEWHERE = {("assumed", "note"), ("missing-glyph", "note")}


def found(window: str, code: str, *, eyelet: str = RING, tables: str = "") -> list[Finding]:
    """The findings of that code."""
    findings = window_of(window, eyelet=eyelet, tables=tables).findings
    return [finding for finding in findings if finding.code == code]


@pytest.mark.parametrize(("code", "level"), EXAMPLES)
def test_every_code_is_found(code: str, level: Level) -> None:
    """Each code of the table is what some job is told, at each of its levels."""
    window, eyelet, tables = EXAMPLES[code, level]
    assert level in [finding.level for finding in found(window, code, eyelet=eyelet, tables=tables)]


def test_codes_are_all_listed() -> None:
    """No code of the table is without an example, and none is without a level."""
    listed = {(code, level) for code, levels in CODES.items() for level in levels}
    assert listed == EXAMPLES.keys() | ELSEWHERE
    assert all(CODES.values())


@pytest.mark.parametrize(("code", "level"), EXAMPLES)
def test_no_code_in_a_sentence(code: str, level: Level) -> None:
    """A finding's text is read by people: what it brings it names in words."""
    window, eyelet, tables = EXAMPLES[code, level]
    named = {each for each in CODES if "-" in each}
    for each in found(window, code, eyelet=eyelet, tables=tables):
        assert not [other for other in named if other in each.text], each.text


def test_stops_are_what_accept_takes() -> None:
    """Only codes that can be a stop, in the order of the alphabet."""
    assert STOP_CODES == ("back-fold-hits-wall", "odd-count", "wont-close")


def test_no_finding_beside_the_table() -> None:
    """Neither a code nor a level that the table doesn't have makes a finding."""
    with pytest.raises(KeyError):
        finding("no-such-code", "text")
    with pytest.raises(ValueError, match="narrow-gap is no stop"):
        finding("narrow-gap", "text", "stop")


@pytest.mark.parametrize(
    ("count", "beside"), [(3, "2 or 4"), (7, "6 or 8"), (9, "8 or 10"), (11, "10 or 12")]
)
def test_odd_count(count: int, beside: str) -> None:
    """An odd count on a pole is a stop that names the even counts on both sides of it."""
    (finding,) = found(f"width = 60\ncount = {count}", "odd-count")
    assert finding.level == "stop"
    assert finding.text.endswith(f"use an even count, {beside}")


@pytest.mark.parametrize("count", [2, 8, 12])
def test_even_count(count: int) -> None:
    """An even count is no finding."""
    assert found(f"width = 60\ncount = {count}", "odd-count") == []


def test_odd_count_on_hooks() -> None:
    """On hooks nothing weaves, so an odd count turns no end to the room."""
    assert found("width = 60\ncount = 7", "odd-count", eyelet=RING + '\nhung = "hooks"') == []


def test_narrow_gap() -> None:
    """Under 1 in between flanges is too tight to fold, and the text names a count that isn't."""
    # 4 1/2 in kept at the ends, 8 x 2 in of eyelets: 27 1/2 in leave exactly 1 in a gap.
    assert found('width = "27 1/2"\ncount = 8', "narrow-gap") == []
    (finding,) = found('width = "27 7/16"\ncount = 8', "narrow-gap")
    assert finding.level == "warn"
    assert finding.text.endswith("6 eyelets leave at least that")
    assert found('width = "27 7/16"\ncount = 6', "narrow-gap") == []


def test_narrow_gap_of_the_fewest() -> None:
    """Where even two stand too near, only a wider panel helps."""
    (finding,) = found('width = "9 1/4"', "narrow-gap")  # 9 1/4 - 4 1/2 - 4 = 3/4
    assert finding.text.endswith("use a wider panel")


def test_die_not_measured() -> None:
    """A hole that isn't given is a warning that names the opening; any given one is none."""
    (finding,) = found(USUAL, "die-not-measured", eyelet=NO_HOLE)
    assert finding.level == "warn"
    assert finding.text.startswith("no hole is given, so the opening of 1 in is taken for it")
    assert "measure the die, or the barrel" in finding.text
    for hole in ("1", "15/16", "1 1/8"):
        assert found(USUAL, "die-not-measured", eyelet=f'{NO_HOLE}\nhole = "{hole}"') == []


def test_die_not_measured_on_hooks() -> None:
    """A ring on hooks goes through a hole too."""
    assert found(USUAL, "die-not-measured", eyelet=f'{NO_HOLE}\nhung = "hooks"')


def test_die_not_measured_of_a_windows_own_eyelet() -> None:
    """A window's own hole is its own: one without says it of its eyelet, alike of eyelets alike."""
    own = f"{USUAL}\n[window.eyelet]\n"
    windows = plan_of(USUAL, f"{own}hole = 1.125", f"{own}opening = 1.25", eyelet=NO_HOLE).windows
    told = [[f for f in window.findings if f.code == "die-not-measured"] for window in windows]
    assert [len(each) for each in told] == [1, 0, 1]
    assert "the opening of 1 1/4 in" in told[2][0].text
    first, second = plan_of(USUAL, USUAL, eyelet=NO_HOLE).windows
    assert first.findings == second.findings


def test_small_hole() -> None:
    """A hole smaller than the ring's opening is doubtful; one as large is usual."""
    assert found(USUAL, "small-hole", eyelet=NO_HOLE + '\nhole = "1"') == []
    (finding,) = found(USUAL, "small-hole", eyelet=NO_HOLE + '\nhole = "15/16"')
    assert finding.level == "warn"
    assert "15/16 in is smaller than the ring's opening of 1 in" in finding.text


@pytest.mark.parametrize(
    ("ends", "hem", "expected"),
    [
        ('leading = "1 1/2"\nreturn = 3', "3", []),  # half of 3 in ends at the flange
        ('leading = "1 7/16"\nreturn = 3', "3", ["leading"]),
        ('leading = 3\nreturn = "1 7/16"', "3", ["return"]),
        ("leading = 1\nreturn = 1", "3", ["leading", "return"]),
        ('leading = "1 1/2"\nreturn = 3', "3 1/8", ["leading"]),
        ('panels = "single"\nreturn = 1', "3", ["return"]),  # both ends, said once
    ],
)
def test_eyelet_over_hem(ends: str, hem: str, expected: list[str]) -> None:
    """Half of a side hem longer than the cloth at an end lies under that end's flange."""
    cloth = f'[fabric]\nside_hem = "{hem}"'
    findings = found(f"width = 60\n{ends}", "eyelet-over-hem", tables=cloth)
    assert {"warn"} >= {finding.level for finding in findings}
    assert expected == [
        match[1] for f in findings if (match := re.search(r"eyelet at the (\w+) edge", f.text))
    ]


def test_eyelet_over_hem_needs_a_hem() -> None:
    """Where the job names no cloth nothing is known of a hem."""
    assert found("width = 60\nleading = 1\nreturn = 1", "eyelet-over-hem") == []


# An eyelet of 2 in at the leading edge has its flange from so much cloth to 2 in more, one at the
# return from 5 to 7 in. The lining's hem lies from `set_in` to half its cloth further, as it is
# folded double.
@pytest.mark.parametrize(
    ("leading", "lining", "expected"),
    [
        ("1 1/2", "", ["leading"]),  # what is usual: 1 1/2 to 2 1/4 in, all under 1 1/2 to 3 1/2
        ("2 3/16", "", ["leading"]),  # just under it
        ("2 1/4", "", []),  # ends where the flange begins
        ("1 1/2", 'set_in = "3/4"', []),  # 3/4 to 1 1/2 in
        ("1 1/2", 'set_in = "7/8"', ["leading"]),
        ("1 1/2", 'set_in = "3 7/16"', ["leading"]),  # begins under its other side
        ("1 1/2", 'set_in = "3 1/2"', []),
        ("1 1/2", 'set_in = "3/4"\nside_hem = 2', ["leading"]),  # 3/4 to 1 3/4 in
        ("1 1/2", "side_hem = 0", []),
        ("1 1/2", 'set_in = 4\nside_hem = "2 1/8"', ["return"]),  # 4 to 5 1/16 in
        ("1 1/2", 'set_in = "1/2"\nside_hem = 10', ["leading", "return"]),  # 1/2 to 5 1/2 in
        ("1 1/2", 'joined = "bagged"', []),  # a seam at its edges, no hem
    ],
)
def test_eyelet_over_the_linings_hem(leading: str, lining: str, expected: list[str]) -> None:
    """A lining's own hem that lies under some of an end eyelet's flange is told, once for both."""
    window = f'width = 60\nleading = "{leading}"\nreturn = 5\nlength = 80'
    findings = found(window, "eyelet-over-hem", tables=f"[lining]\nwidth = 54\n{lining}")
    assert {("note", "lining")} >= {(each.level, each.part) for each in findings}
    assert len(findings) == bool(expected)
    assert expected == re.findall(r"at the (\w+) edge \(", " ".join(f.text for f in findings))


def test_both_ends_of_a_single_over_the_linings_hem() -> None:
    """Both ends of a single panel are return edges; from where to where the hem lies is said."""
    window = "width = 60\npanels = 'single'\nreturn = 2\nlength = 80"
    (note,) = found(window, "eyelet-over-hem", tables="[lining]\nwidth = 54")
    assert note.text.startswith(
        "the lining's side hem, folded double, lies 1 1/2 in to 2 1/4 in from the face's side "
        "edges, under the eyelet at the return edge (2 in of cloth): "
    )


@pytest.mark.parametrize("hem", ["3 1/8", "3 1/16", "77.9 mm", "79.3 mm"])
def test_advice_on_the_hem_holds(hem: str) -> None:
    """The leading that the text asks for, as it is printed, mends it."""
    cloth = f'[fabric]\nside_hem = "{hem}"'
    (finding,) = found("width = 60\nreturn = 4", "eyelet-over-hem", tables=cloth)
    advice = re.search(r"give the leading (.+?), or a narrower hem", finding.text)
    assert advice is not None
    window = f'width = 60\nreturn = 4\nleading = "{advice[1]}"'
    assert found(window, "eyelet-over-hem", tables=cloth) == []


def test_short_return() -> None:
    """A return that doesn't reach the wall from the end eyelet, at 45 degrees, says by how much."""
    pole = '[pole]\nprojection = "5"'
    # 5 - 2/2 * sin 45 = 4.2929: 4 3/8 reaches, 4 1/4 is 0.043 short, 2 3/4 is 1.543 short.
    assert found('width = 60\nreturn = "4 3/8"', "short-return", tables=pole) == []
    (finding,) = found('width = 60\nreturn = "4 1/4"', "short-return", tables=pole)
    assert finding.text == "the return stops 1/16 in short of the wall: give 4 5/16 in"
    (finding,) = found('width = 60\nreturn = "2 3/4"', "short-return", tables=pole)
    assert finding.level == "warn"
    assert finding.text == "the return stops 1 9/16 in short of the wall: give 4 5/16 in"


@pytest.mark.parametrize(
    ("eyelet", "tables"),
    [(RING, ""), (RING + '\nhung = "hooks"', '[pole]\nprojection = "5"')],
)
def test_short_return_needs_a_wall(eyelet: str, tables: str) -> None:
    """Without a projection, or on hooks, no return is too short."""
    assert found("width = 60\nreturn = 1", "short-return", eyelet=eyelet, tables=tables) == []


@given(sixteenths_of_mm=st.integers(16 * 60, 16 * 200))
def test_advice_on_the_return_holds(sixteenths_of_mm: int) -> None:
    """The return that the text asks for, as it is printed, reaches the wall."""
    pole = f'[pole]\nprojection = "{sixteenths_of_mm / 16} mm"'
    (finding,) = found('width = 60\nreturn = "1"', "short-return", tables=pole)
    advice = re.search(r"give (.+)$", finding.text)
    assert advice is not None
    assert found(f'width = 60\nreturn = "{advice[1]}"', "short-return", tables=pole) == []


# 8 eyelets: (60 - 1 1/2 - 3 - 16)/7 = 79/14 in, P = 107/14, P/2 = 3.821 in.
EIGHT = "width = 60\nreturn = 3\ncount = 8\nfullness = 1.25"


@pytest.mark.parametrize(("projection", "expected"), [("4 3/8", []), ("4 5/16", ["warn"])])
def test_stacked_fold_at_the_wall(projection: str, expected: list[str]) -> None:
    """A stacked fold, half a pitch deep, may not want more than the projection less 1/2 in."""
    pole = f'[pole]\nprojection = "{projection}"'
    assert expected == [f.level for f in found(EIGHT, "back-fold-hits-wall", tables=pole)]


def test_wall_clearance_counts() -> None:
    """Air kept before the wall is taken off what is free: 4 3/8 in less 5/8 in is too little."""
    pole = '[pole]\nprojection = "4 3/8"\nwall_clearance = "5/8"'
    assert len(found(EIGHT, "back-fold-hits-wall", tables=pole)) == 1


@pytest.mark.parametrize(
    ("window", "eyelet", "tables"),
    [
        (EIGHT, RING, ""),
        (
            "width = 60\nreturn = 3\ncount = 8",
            RING + '\nhung = "hooks"',
            '[pole]\nprojection = "1"',
        ),
    ],
)
def test_no_wall_no_finding(window: str, eyelet: str, tables: str) -> None:
    """Without a projection, or on hooks, no fold is said to reach the wall."""
    assert found(window, "back-fold-hits-wall", eyelet=eyelet, tables=tables) == []


@given(count=st.sampled_from([4, 6, 8, 10]))
def test_advice_on_the_bracket_holds(count: int) -> None:
    """The bracket that the text asks for, as it is printed, keeps the folds off the wall."""
    window = f"width = 60\nreturn = 3\ncount = {count}\nfullness = 1.25"
    pole = '[pole]\nprojection = "{}"'
    (finding,) = found(window, "back-fold-hits-wall", tables=pole.format("2 1/4"))
    advice = re.search(r"a bracket of ([^,]+ in)", finding.text)
    assert advice is not None
    still = found(window, "back-fold-hits-wall", tables=pole.format(advice[1]))
    assert [f for f in still if f.level == finding.level] == []


def test_measures_in_findings_follow_the_units() -> None:
    """A job in millimetres is told in millimetres."""
    window = window_of(
        "width = 1500\nreturn = 30",
        head='units = "mm"',
        eyelet="outside = 50\nopening = 25",
        tables="[pole]\nprojection = 100",
    )
    (finding,) = [f for f in window.findings if f.code == "short-return"]
    # 100 - 25 * sin 45 = 82.32
    assert finding.text == "the return stops 53 mm short of the wall: give 83 mm"


def test_assumption_is_a_note() -> None:
    """A default taken is a finding for the record: its key and its value."""
    assert Finding("note", "assumed", "eyelet.hole = 1 in, the opening") == assumed(
        Assumption("eyelet.hole", "1 in, the opening")
    )
