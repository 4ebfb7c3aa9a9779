"""What is found of seams in a whole plan: seams in sight, seams at eyelets, and what hiding costs.

The advice is read out of the text, as its reader would, and each count is planned again.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import assume, example, given, reject
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH, format_length
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.eyelets import BESIDE
from drapetemplate.planning.model import Finding, WindowPlan
from drapetemplate.planning.seams import SeamPlan
from tests.helpers.jobfiles import RING, inches, window_of
from tests.helpers.searching import searched
from tests.helpers.strips import sixteenths

ENDS = "leading = 3\nreturn = 3\nlength = 84"
# 12 eyelets 4 in apart: seams at 47 5/8 in and pieces of 51 1/8 and 29 7/8 in, see test_plan_cloth;
# cuts of 100 in.
TWELVE = f"{ENDS}\nwidth = 74\ncount = 12"
# Flanges of 4 in, 1 in apart: 1 + 16 x 4 + 15 x 1 + 1 = 81 in, and no room for a seam.
TIGHT = "leading = 1\nreturn = 1\nlength = 84\nwidth = 81\ncount = 16"
LARGE = "outside = 4\nopening = 2"
NARROW_HEM = "width = 54\nside_hem = 1"
# A lining as wide as the face, with its hems: its seams fall as the face's do.
AS_THE_FACE = "set_in = 0\nside_hem = 3"
CODES = ("seam-in-front", "seam-under-eyelet", "extra-width")


def found(window: str, tables: str, *, eyelet: str = RING) -> list[Finding]:
    """What is found of the cloth."""
    findings = window_of(window, eyelet=eyelet, tables=tables).findings
    return [finding for finding in findings if finding.code in CODES]


def advised(finding: Finding) -> dict[int, int | None]:
    """The counts that a finding's text names as a cure, with the drops it names for each."""
    match = re.search(r"((?:\d+(?: \(in \d+ drops\))?(?: or )?)+) eyelets a panel", finding.text)
    if match is None:
        return {}
    each = re.findall(r"(\d+)(?: \(in (\d+) drops\))?(?: or |$)", match[1])
    return {int(count): int(drops) if drops else None for count, drops in each}


def at_count(window: str, count: int) -> str:
    """The same window with another count."""
    return re.sub(r"(?m)^count = \d+$", f"count = {count}", window)


def part_of(window: WindowPlan, part: str) -> tuple[ClothUse, SeamPlan]:
    """The face or the lining, and its seams."""
    (one,) = (one for one in window.cloth if one.part == part)
    assert one.seams is not None
    return one, one.seams


def test_nothing_to_say() -> None:
    """Seams hidden in the least drops are found nothing of."""
    # 60 in cloth: 29 7/8 in twice from one drop, as with seams anywhere.
    assert found(TWELVE, "[fabric]\nwidth = 60") == []
    assert found(TWELVE, "[fabric]\nwidth = 118\nrailroad = true") == []


def test_seam_in_front() -> None:
    """A seam in sight is a warning that says where it is, and which count would hide it."""
    # Two eyelets have one gap, in front. The piece at the return shares a drop, so it has 27 in
    # at most, 26 1/2 before its seam: from 50 - 26 1/2 + 3 = 26 1/2 in on.
    window = f"{ENDS}\nwidth = 50\ncount = 2"
    (finding,) = found(window, "[fabric]\nwidth = 54")
    assert (finding.level, finding.code) == ("warn", "seam-in-front")
    assert finding.text.startswith("the seam at 26 1/2 in from the leading edge falls in sight")
    # Four have a back gap from 19 to 31 in (gaps of 12), so a seam stands there from 19 5/8 on.
    assert advised(finding) == {4: None}
    assert found(at_count(window, 4), "[fabric]\nwidth = 54") == []


def test_seam_of_a_single_panel() -> None:
    """A single panel's seam is told from its left edge."""
    window = 'panels = "single"\nreturn = 3\nlength = 84\nwidth = 50\ncount = 2'
    (finding,) = found(window, "[fabric]\nwidth = 54")
    assert " from the left edge falls in sight" in finding.text


def test_seams_in_front() -> None:
    """Several seams are counted and each is placed."""
    # 90 in, 96 raw, from 40 in cloth: the return piece has 20 in, so its seam is at
    # 96 - 19 1/2 - 3 = 73 1/2 in; the piece before it spans 39.
    (finding,) = found(f"{ENDS}\nwidth = 90\ncount = 2", "[fabric]\nwidth = 40")
    assert finding.text.startswith(
        "2 seams, at 34 1/2 in, 73 1/2 in from the leading edge fall in sight"
    )


def test_many_seams_in_front() -> None:
    """Of many seams the first six are placed and the others counted."""
    # 300 in, 306 raw, from 30 in: end pieces span 29 1/2 and inner ones 29, so eleven pieces.
    (finding,) = found(f"{ENDS}\nwidth = 300\ncount = 2", "[fabric]\nwidth = 30")
    assert finding.text.startswith("10 seams, at ")
    assert finding.text.count(" in, ") == 5
    assert " and 4 more from the leading edge fall in sight" in finding.text


def test_six_seams_in_front() -> None:
    """Six seams are all placed, and none is counted besides."""
    # 190 in, 196 raw, from 30 in: six pieces reach 2 x 29 1/2 + 4 x 29 = 175, seven 204.
    (finding,) = found(f"{ENDS}\nwidth = 190\ncount = 2", "[fabric]\nwidth = 30")
    assert finding.text.startswith("6 seams, at ")
    assert finding.text.count(" in, ") == 5
    assert re.search(r" \d+( \d+/\d+)? in from the leading edge fall in sight", finding.text)


# The face is 83 in raw from 54: its lead piece takes 83 - 53 1/2 = 29 1/2 or more, 28 1/2 finished:
# under the flange from 26 to 30 in. The lining is 81 - 3 + 2 = 80 in raw: with a whole width in the
# lead its seam is 53 1/2 in raw, 52 1/2 from its own edge and 54 from the face's, under the flange
# from 51 to 55 in; what is left, 27 in, is half a width.
@pytest.mark.parametrize(
    ("part", "named", "at_14", "then"),
    [
        ("fabric", "seam at 28 1/2 in from the leading edge", None, []),
        ("lining", "lining seam at 52 1/2 in from the lining's leading edge", 4, ["extra-width"]),
    ],
)
def test_seam_under_eyelet(part: str, named: str, at_14: int | None, then: list[str]) -> None:
    """A seam that must meet an eyelet is told, the lining's too, and not as in sight besides."""
    (finding,) = found(TIGHT, f"[{part}]\n{NARROW_HEM}", eyelet=LARGE)
    assert (finding.level, finding.code) == ("warn", "seam-under-eyelet")
    assert finding.text.startswith(f"the {named} meets an eyelet")
    # 14 leave (81 - 2 - 56)/13 = 1.77 in, enough for 1 1/4.
    assert advised(finding) == {14: at_14}
    after = found(at_count(TIGHT, 14), f"[{part}]\n{NARROW_HEM}", eyelet=LARGE)
    assert [finding.code for finding in after] == then


def test_face_and_lining_under_eyelets() -> None:
    """Face and lining are told apart, the face first."""
    tables = f"[fabric]\n{NARROW_HEM}\n[lining]\n{NARROW_HEM}"
    face, lining = found(TIGHT, tables, eyelet=LARGE)
    assert face.text.startswith("the seam at")
    assert lining.text.startswith("the lining seam at")


def test_lining_in_sight_of_nobody() -> None:
    """A lining's seam outside the eyelets is no trouble where the face's would be."""
    # 40 in of return: 12 eyelets 4/11 in apart end at 53 in, and a seam stands at 59 1/2 in.
    window = "leading = 1\nreturn = 40\nlength = 84\nwidth = 93\ncount = 12"
    cloth = "width = 70\nside_hem = 1"
    (finding,) = found(window, f"[fabric]\n{cloth}", eyelet=LARGE)
    assert finding.code == "seam-in-front"
    assert found(window, f"[lining]\n{cloth}", eyelet=LARGE) == []


def test_front_gap_of_a_lining_or_on_hooks() -> None:
    """In a front gap only the face of a panel on a pole shows its seam."""
    window = f"{ENDS}\nwidth = 50\ncount = 2"
    assert found(window, "[lining]\nwidth = 54") == []
    assert found(window, "[fabric]\nwidth = 54", eyelet=f'{RING}\nhung = "hooks"') == []


def test_no_count_hides() -> None:
    """Where no count beside hides it, the text says how wide a back gap must be; that will do."""
    # Seams of 3 in keep 3 1/8 in off on both sides: 6 1/4 in.
    (finding,) = found(f"{ENDS}\nwidth = 56\ncount = 14", "[fabric]\nwidth = 40\nseam = 3")
    assert advised(finding) == {}
    match = re.search(r"no count beside this one .* a back gap of (.+?) or more", finding.text)
    assert match is not None
    need = inches(match[1])
    assert need == inches("6 1/4")
    # From 72 in a seam reaches 72 - 3 - 3 = 66 in; eyelets 6 1/4 in apart leave one place after
    # the eighth, 3 + 8 x 2 + 7 x 6 1/4 + 3 1/8 = 65 7/8 in.
    for gap, hidden in ((need, 1), (need - INCH / 16, 0)):
        width = 6 * INCH + 14 * 2 * INCH + 13 * gap
        window = f'{ENDS}\nwidth = "{format_length(width, "in")}"\ncount = 14'
        _, seams = part_of(window_of(window, tables="[fabric]\nwidth = 72\nseam = 3"), "face")
        assert hidden == seams.hidden


def test_extra_width() -> None:
    """What hiding costs in drops and cloth is a note, with the count that would save it."""
    # Hidden at 47 5/8 in, 29 7/8 in don't share 54 in; at 50 1/2 in, 27 in would: 3 drops for 4.
    (finding,) = found(TWELVE, "[fabric]\nwidth = 54")
    assert (finding.level, finding.code) == ("note", "extra-width")
    assert finding.text.startswith(
        "4 drops keep every seam hidden; the bare minimum, with seams where they fall, is 3 "
        "(1 fewer, 100 in of cloth)"
    )
    # Six leave (74 - 6 - 12)/5 = 11.2 in: the back gap after the fourth reaches from
    # 3 + 4 x 2 + 3 x 11.2 = 44.6 to 55.8 in, with 50 1/2 in it.
    assert advised(finding) == {6: None}
    _, seams = part_of(window_of(at_count(TWELVE, 6), tables="[fabric]\nwidth = 54"), "face")
    assert (seams.drops, seams.visible) == (3, ())


def test_extra_width_of_a_lining() -> None:
    """A lining's extra drop is told as what it is for: to clear the eyelets."""
    (finding,) = found(TWELVE, f"[lining]\nwidth = 54\n{AS_THE_FACE}")
    assert finding.code == "extra-width"
    assert finding.text.startswith("4 drops keep the lining's seams clear of the eyelets;")


def test_extra_width_without_a_length() -> None:
    """Without a length there is no saying how much cloth that is."""
    (finding,) = found(TWELVE.replace("\nlength = 84", ""), "[fabric]\nwidth = 54")
    assert "is 3 (1 fewer)" in finding.text


def test_extra_width_where_a_seam_shows() -> None:
    """Drops that leave a seam in sight aren't said to keep every seam hidden."""
    # One gap, in front: 14 in finished, 20 raw, from 14 in cloth. Clear of the left flange the
    # seam is at 5 5/8 in at least, so the other piece is 14 - 5 5/8 + 3 + 1/2 = 11 7/8 in, and two
    # don't share 14 in.
    texts = [
        finding.text for finding in found(f"{ENDS}\nwidth = 14\ncount = 2", "[fabric]\nwidth = 14")
    ]
    assert texts[0].startswith("the seam at 5 5/8 in from the leading edge falls in sight")
    assert not any("every seam hidden" in text for text in texts)


Words = tuple[str, str]
"""A job's window and its tables."""


@st.composite
def jobs(draw: st.DrawFn) -> Words:
    """A window with an even count and its cloth, lined now and then."""

    def length(low: int, high: int) -> str:
        return f'"{draw(sixteenths(str(low), str(high)))} in"'

    panels = draw(st.sampled_from(["pair", "left", "single"]))
    window = [
        f'panels = "{panels}"',
        f"width = {length(20, 200)}",
        f"return = {length(1, 5)}",
        f"quantity = {draw(st.integers(1, 2))}",
        "length = 84",
        f"count = {2 * draw(st.integers(1, 14))}",
    ]
    tables = []
    for part in ("fabric", "lining"):
        if part == "fabric" or draw(st.booleans()):
            tables += [f"[{part}]", f"width = {length(24, 70)}", f"seam = {length(0, 2)}"]
            if draw(st.booleans()):
                tables.append(f"repeat_across = {length(1, 20)}")
    return "\n".join(window), "\n".join(tables)


PROPERTY = searched(60)
# Ten and fourteen save the face a drop, but put the lining's seam under an eyelet.
LINED = (
    """panels = "right"
width = 110
return = "1 11/16"
quantity = 2
length = 84
leading = "2 1/4"
count = 12""",
    """[fabric]
width = 50
side_hem = "1 15/16"
[lining]
width = 39
seam = "13/16"
side_hem = "11/16"
set_in = 0
repeat_across = "27 1/2\"""",
)


def planned(job: Words, count: int | None = None) -> WindowPlan | None:
    """Its plan, with another count; None where that can't be planned."""
    window, tables = job
    try:
        return window_of(window if count is None else at_count(window, count), tables=tables)
    except JobError:
        return None


def troubles(window: WindowPlan) -> set[tuple[str, str]]:
    """The troubles of a plan, each cloth's its own.

    A stop is the trouble that a warning would be, and one more.
    """
    found = [finding for finding in window.findings if finding.level != "note"]
    return {(finding.code, whose(finding)) for finding in found} | {
        (f"{f.code}, stop", whose(f)) for f in found if f.level == "stop"
    }


def whose(finding: Finding) -> str:
    """The cloth that a finding is about."""
    return "lining" if "lining" in finding.text else "face"


def drops_but(window: WindowPlan, part: str) -> int:
    """The drops of all cloths but one."""
    return sum(one.seams.drops for one in window.cloth if one.part != part and one.seams)


def cures(finding: Finding, window: WindowPlan, other: WindowPlan) -> bool:
    """Whether a count does for a cloth what the finding's text asks a count to do.

    To save a drop of one cloth is no saving where it costs one of the other.
    """
    part = whose(finding)
    (_, before), (_, seams) = part_of(window, part), part_of(other, part)
    fewest = finding.code != "extra-width" or (
        seams.drops <= before.least_drops and drops_but(other, part) <= drops_but(window, part)
    )
    # A lining's seams may be in sight, which they never are, but not at an eyelet or a hem.
    failing = seams.struck if whose(finding) == "lining" else seams.visible
    return not failing and fewest


# Another count clears the lining's seams of the eyelets, and sets the face's under them.
FROM_LINING_TO_FACE = (
    'panels = "pair"\nwidth = "175 3/8"\nreturn = "1"\nlength = 84\ncount = 22',
    (
        '[fabric]\nwidth = 24\nseam = "5/16"\n'
        f'[lining]\nwidth = 24\nseam = 0\nrepeat_across = "7 3/4"\n{AS_THE_FACE}'
    ),
)


@PROPERTY
@example(LINED)
@example(FROM_LINING_TO_FACE)
@given(jobs())
def test_advice_holds(job: Words) -> None:
    """Each count named cures what it is named for, in the drops it says, and brings no trouble."""
    window = planned(job)
    if window is None:
        reject()
    findings = [finding for finding in window.findings if finding.code in CODES]
    assume(findings)
    for finding in findings:
        _, before = part_of(window, whose(finding))
        for count, drops in advised(finding).items():
            other = planned(job, count)
            assert other is not None
            assert cures(finding, window, other)
            _, seams = part_of(other, whose(finding))
            if finding.code != "extra-width":
                assert seams.drops == drops or (drops is None and seams.drops == before.drops)
            assert troubles(other) <= troubles(window)


# Fourteen eyelets cost the lining a drop, and still leave its seams under eyelets.
# Two left panels: of a pair the last pieces would share a drop of the lining after all.
LINED_AND_STRUCK = (
    """panels = "left"
quantity = 2
width = "143 3/16"
return = 1
length = 84
count = 14""",
    """[fabric]
width = 24
seam = 0
[lining]
width = 24
seam = "15/16"
set_in = 0
side_hem = 3
repeat_across = "7 9/16\"""",
)


@PROPERTY
@example(LINED_AND_STRUCK)
@given(jobs())
def test_advice_is_the_nearest(job: Words) -> None:
    """No even count nearer than those named that leaves 1 in of gap would do as well."""
    window = planned(job)
    if window is None:
        reject()
    findings = [finding for finding in window.findings if finding.code in CODES]
    assume(findings)
    count = window.panels[0].count
    for finding in findings:
        named = advised(finding)
        below = max((n for n in named if n < count), default=count - 2 * BESIDE - 2)
        above = min((n for n in named if n > count), default=count + 2 * BESIDE + 2)
        for n in range(max(2, below + 2), above, 2):
            other = planned(job, n)
            if n == count or other is None or ("narrow-gap", "face") in troubles(other):
                continue
            if troubles(other) <= troubles(window):
                assert not cures(finding, window, other), (n, finding.text)


def test_advice_for_the_lining_spares_the_face() -> None:
    """A count that saves the lining a drop isn't named where the face shows a seam for it.

    Nor is one that costs the face a drop.
    """
    tables = f"[fabric]\nwidth = 54\n[lining]\nwidth = 36\n{AS_THE_FACE}"
    taken = f"{ENDS}\nwidth = 152\ncount = 6"
    (finding,) = found(taken, tables)
    assert (finding.code, "lining" in finding.text) == ("extra-width", True)
    assert advised(finding) == {12: None}
    four, eight, twelve = (window_of(at_count(taken, n), tables=tables) for n in (4, 8, 12))
    for window in (four, eight, twelve):
        _, seams = part_of(window, "lining")
        assert seams.drops == seams.least_drops
    faces = [part_of(window, "face")[1] for window in (four, eight, twelve)]
    assert [face.visible == () for face in faces] == [False, True, True]
    # The face takes six drops with six eyelets.
    assert [face.drops for face in faces[1:]] == [7, 6]


@pytest.mark.parametrize(("hung", "kind"), [("pole", "a back gap"), ("hooks", "a gap")])
def test_where_a_seam_would_hide(hung: str, kind: str) -> None:
    """Where no count hides a seam, what would: on hooks any gap, on a pole a back one."""
    # 26 flanges of 2 in leave 60 - 6 - 52 = 2 in for 25 gaps, and 20 of them 14/19 in: a seam
    # takes 2 x (1/2 + 1/8) = 1 1/4 in.
    window = "leading = 3\nreturn = 3\nlength = 84\nwidth = 60\ncount = 26"
    (finding,) = found(window, "[fabric]\nwidth = 36", eyelet=f'{RING}\nhung = "{hung}"')
    assert (finding.code, advised(finding)) == ("seam-under-eyelet", {})
    assert finding.text.endswith(f"; a seam hides in {kind} of 1 1/4 in or more")


def test_extra_drops_that_nothing_saves() -> None:
    """Extra width is told with what to do also where no count beside this one saves it."""
    window = f"{ENDS}\nwidth = 151\ncount = 8"
    (finding,) = found(window, "[fabric]\nwidth = 30")
    assert (finding.code, advised(finding)) == ("extra-width", {})
    assert ". No count beside this one hides all with that many and brings " in finding.text
    assert "nothing else: buy them, or try " in finding.text
    _, now = part_of(window_of(window, tables="[fabric]\nwidth = 30"), "face")
    for count in (2, 4, 6, 10, 12, 14):
        other = window_of(at_count(window, count), tables="[fabric]\nwidth = 30")
        _, seams = part_of(other, "face")
        assert seams.visible or seams.drops > now.least_drops


def test_a_lining_kept_clear_as_far_as_can_be() -> None:
    """Where its seams still meet eyelets, a lining's extra drops aren't said to keep them clear."""
    window, tables = LINED_AND_STRUCK
    (said,) = (f for f in found(window, tables) if f.code == "extra-width" and "lining" in f.text)
    assert " keep the lining's seams clear of the eyelets as far as can be; " in said.text


# See test_drop_packing: of 56 in cloth four drops with one seam a panel, three with two; cuts of
# 84 + 2 x 5 1/8 + 8 = 102 1/4 in.
ONE_MORE = "leading = 1.5\nreturn = 3\nlength = 84\nwidth = 71.75\ncount = 10"
ONE_MORE_RING = 'outside = "3 1/8"\nopening = 2'


def test_extra_seam() -> None:
    """Where one seam more a panel saves a drop the note says so, with the key that allows it."""
    planned = window_of(ONE_MORE, eyelet=ONE_MORE_RING, tables="[fabric]\nwidth = 56")
    (finding,) = (f for f in planned.findings if f.code == "extra-seam")
    assert finding.level == "note"
    assert finding.text == (
        "one more seam a panel, hidden like the others, would take 3 drops in place of 4 "
        "(1 fewer, 102 1/4 in of cloth). 1 extra seam a panel (extra_seams = 1) would allow it"
    )
    allowed = window_of(
        f"{ONE_MORE}\nextra_seams = 1", eyelet=ONE_MORE_RING, tables="[fabric]\nwidth = 56"
    )
    _, seams = part_of(allowed, "face")
    assert (seams.drops, len(seams.seams), seams.visible) == (3, 2, ())
    assert not [f for f in allowed.findings if f.code in {"extra-seam", "extra-width"}]


def test_extra_seam_of_a_lining() -> None:
    """A lining's is told as the lining's, and its seams needn't be behind the pole."""
    window = f"{ENDS}\nquantity = 3\nwidth = 146\ncount = 8"
    lined = window_of(window, tables="[lining]\nwidth = 56")
    _, seams = part_of(lined, "lining")
    (finding,) = (f for f in lined.findings if f.code == "extra-seam")
    assert seams.drops > seams.drops_with_one_more
    assert finding.text.startswith(
        "one more lining seam a panel, clear of the eyelets like the others, would take "
        f"{seams.drops_with_one_more} drops in place of {seams.drops} "
    )
