"""Seams on the strip: each line in its place, its distance from the nearest eyelet in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.measures import INCH
from drapetemplate.planning.plan import plan
from drapetemplate.template.panel_drawing import template
from drapetemplate.template.strip import Template
from tests.helpers.jobfiles import RING, inches, job_of
from tests.helpers.marks import lines, texts
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED

# 12 eyelets of 2 in, 4 in apart: eyelet n's centre is at 6n - 2 in, its edges 1 in off: gap 1 from
# 5 to 9, gap 2 from 11 to 15, gap 8 from 47 to 51 in.
TWELVE = "width = 74\nleading = 3\nreturn = 3\ncount = 12"
MM = 1e-6


def seamed(
    *seams: Fraction,
    side: str = "right",
    view: str = "face",
    head: str = "",
    window: str = TWELVE,
    face: drawing.Typeface = FIXED,
) -> Template:
    """A panel's strip with seams where a test wants them."""
    tables = f'[paper]\nview = "{view}"'
    job = job_of(f'{window}\npanels = "{side}"', head=head, tables=tables)
    (planned,) = plan(job, advise=False).windows
    (panel,) = planned.panels
    return template(job, planned, replace(panel, seams=seams), face)


@pytest.mark.parametrize(
    ("side", "view", "mirrored"),
    [
        ("left", "face", True),
        ("right", "face", False),
        ("single", "face", False),
        ("left", "back", False),
        ("right", "back", True),
    ],
)
def test_lines(side: str, view: str, *, mirrored: bool) -> None:
    """A seam is an upright over the whole band, at its exact measure from the leading edge."""
    seams = [inches("11 5/8"), inches("47 5/8")]
    window = TWELVE.replace("leading = 3\n", "") if side == "single" else TWELVE
    made = seamed(*seams, side=side, view=view, window=window)
    expected = [74 * INCH - seam if mirrored else seam for seam in seams]
    found = lines(made, Role.SEAM)
    assert [line.x1 for line in found] == expected
    # The band is 2 + 2 in high.
    assert {(line.x2 - line.x1, line.y1, line.y2) for line in found} == {(0, 0, 4 * INCH)}


@pytest.mark.parametrize(
    ("seam", "words"),
    [
        ("11 5/8", "5/8 in from ring edge, eyelet 2"),  # its edge is at 11
        ("47 5/8", "5/8 in from ring edge, eyelet 8"),  # at 47
        ("14 1/2", "1/2 in from ring edge, eyelet 3"),  # at 15, ahead of it
        ("12 15/16", "1 15/16 in from ring edge, eyelet 2"),
        ("13 1/16", "1 15/16 in from ring edge, eyelet 3"),
        (
            "13",
            "2 in from ring edge, eyelet 2",
        ),  # as far from 3: the one nearer the leading edge
        ("2", "1 in from ring edge, eyelet 1"),  # before the first
        ("72 1/4", "1 1/4 in from ring edge, eyelet 12"),  # after the last
        ("10 1/2", "UNDER EYELET 2"),
        ("11", "UNDER EYELET 2"),  # at the very edge its allowance is under it
        ("10", "UNDER EYELET 2"),
    ],
)
@pytest.mark.parametrize("side", ["left", "right"])
def test_words(side: str, seam: str, words: str) -> None:
    """The label says how far the seam is from the nearest eyelet's edge, whichever side that is."""
    made = seamed(inches(seam), side=side)
    assert [mark.text for mark in texts(made, Role.SEAM_LABEL)] == [f"SEAM · {words}"]


def test_words_in_mm() -> None:
    """Millimetre jobs say it in millimetres."""
    # (1500 - 2 x 75 - 8 x 50.8)/7 = 943.6/7 = 134.8 mm of gap: eyelet 2's edge at 75 + 50.8 +
    # 134.8 + 50.8 = 311.4 mm.
    window = "width = 1500\nleading = 75\nreturn = 75\ncount = 8"
    made = seamed(Fraction("327.4"), head='units = "mm"', window=window)
    assert [mark.text for mark in texts(made, Role.SEAM_LABEL)] == [
        "SEAM · 16 mm from ring edge, eyelet 2"
    ]


def test_words_rounded() -> None:
    """A distance that no sixteenth hits is said to be near one."""
    made = seamed(inches("11") + INCH * Fraction(2, 3))
    assert [m.text for m in texts(made, Role.SEAM_LABEL)] == [
        "SEAM · ≈ 11/16 in from ring edge, eyelet 2"
    ]


@pytest.mark.parametrize(("side", "view"), [("left", "face"), ("right", "face"), ("right", "back")])
def test_words_stand_on_the_leading_side(side: str, view: str) -> None:
    """The words read up beside the line, on the side of the eyelet that hides the seam."""
    made = seamed(inches("11 5/8"), side=side, view=view)
    (line,), (label,) = lines(made, Role.SEAM), texts(made, Role.SEAM_LABEL)
    assert label.angle == 90
    left, bottom, right, top = drawing.box(label)
    assert 0 <= bottom < top <= float(made.strip.height)
    if made.strip.leading_at_right:
        assert float(line.x1) < left < right
    else:
        assert left < right < float(line.x1)
    # Near enough to be of that line and no other: within a line's height.
    assert max(abs(left - float(line.x1)), abs(right - float(line.x1))) < 5


@pytest.mark.parametrize("side", ["left", "right"])
def test_letter_moves_beside_the_seam(side: str) -> None:
    """A gap's letter stands in the middle of the widest part that the seam leaves."""
    # In gap 2, 11 to 15 in, the seam at 11 5/8 leaves 1 mm past it to the next flange.
    made = seamed(inches("11 5/8"), side=side)
    middle = (inches("11 5/8") + 1 + 15 * INCH) / 2
    expected = [(8 + 6 * n - 1) * INCH for n in range(11)]
    expected[1] = middle
    xs = [74 * INCH - x if side == "left" else x for x in expected]
    letters = texts(made, *LETTERS.values())
    assert [mark.x for mark in letters] == xs
    assert "".join(mark.text for mark in letters) == "FBFBFBFBFBF"


def test_letter_before_a_late_seam() -> None:
    """Where the seam is near the far eyelet the letter stands before it and its words."""
    made = seamed(inches("14 1/2"))
    # From 11 in to where the words begin: 3.1 mm of words and 1.5 mm about them.
    expected = (11 * INCH + inches("14 1/2") - Fraction("4.6")) / 2
    assert [mark.x for mark in texts(made, *LETTERS.values())][1] == expected


@searched(60)
@given(
    seams=st.lists(st.fractions(5, 69, max_denominator=32), max_size=4, unique=True),
    side=st.sampled_from(["left", "right"]),
    gaps=st.sampled_from([8, 12, 16, 20]),
)
def test_letters_clear_of_seams(seams: list[Fraction], side: str, gaps: int) -> None:
    """Wherever seams fall no letter touches a seam, its words or a flange guide."""
    window = TWELVE.replace("count = 12", f"count = {gaps}")
    made = seamed(*(seam * INCH for seam in seams), side=side, window=window)
    lines_ = [
        (float(x.x1), float(x.x1)) for x in (*lines(made, Role.SEAM), *lines(made, Role.GUIDE))
    ]
    words = [drawing.box(mark) for mark in texts(made, Role.SEAM_LABEL)]
    spans = [*lines_, *((left, right) for left, _, right, _ in words)]
    letters = [drawing.box(mark) for mark in texts(made, *LETTERS.values())]
    for left, _, right, _ in letters:
        assert left < right
        assert all(high <= left + MM or right <= low + MM for low, high in spans)
    # A letter is left out only where seams fill its gap.
    assert len(letters) >= gaps - 1 - len(seams)


def test_no_seams_no_words() -> None:
    """A panel without seams, or of cloth of unknown width, has none on its strip."""
    for tables in ("", "[fabric]", "[fabric]\nwidth = 118"):
        job = job_of(TWELVE, tables=tables)
        (planned,) = plan(job, advise=False).windows
        made = template(job, planned, planned.panels[0], FIXED)
        assert (lines(made, Role.SEAM), texts(made, Role.SEAM_LABEL)) == ([], [])


def test_seams_of_the_plan() -> None:
    """What the plan hides the strip shows: a seam 5/8 in behind the eyelet that hides it."""
    job = job_of(TWELVE, tables="[fabric]\nwidth = 54", eyelet=RING)
    (planned,) = plan(job, advise=False).windows
    for panel in planned.panels:
        made = template(job, planned, panel, FIXED)
        (line,), (label,) = lines(made, Role.SEAM), texts(made, Role.SEAM_LABEL)
        assert made.strip.measure(Fraction(line.x1)) == inches("47 5/8")
        assert label.text == "SEAM · 5/8 in from ring edge, eyelet 8"


def test_one_strip_for_a_pair() -> None:
    """On a strip for both panels the other's seam has its own line, named for that panel."""
    job = job_of(TWELVE, tables="[fabric]\nwidth = 54")
    (planned,) = plan(job, advise=False).windows
    left, right = planned.panels
    made = template(job, planned, left, FIXED, right)
    # Both ends take 3 in, so the right panel lies exactly over the left, from the other end.
    assert [line.x1 for line in lines(made, Role.SEAM)] == [74 * INCH - inches("47 5/8")]
    assert [line.x1 for line in lines(made, Role.OTHER_SEAM)] == [inches("47 5/8")]
    words = [m.text for m in texts(made, Role.OTHER_LABEL) if "SEAM" in m.text]
    # Each seam is told from an eyelet by its own panel's number, under that panel's name.
    assert words == ["RIGHT: SEAM · 5/8 in from ring edge, RIGHT 8"]
    assert [m.text for m in texts(made, Role.SEAM_LABEL)] == [
        "LEFT: SEAM · 5/8 in from ring edge, LEFT 8"
    ]


@pytest.mark.parametrize("view", ["face", "back"])
def test_letters_clear_both_panels_seams(view: str) -> None:
    """On a strip for both panels no gap's letter touches a seam, or its words, of either."""
    tables = f'[paper]\nview = "{view}"\nstrips = "one"\n[fabric]\nwidth = 54'
    job = job_of("width = 90\ncount = 10", tables=tables)
    (planned,) = plan(job).windows
    left, right = planned.panels
    made = template(job, planned, left, FIXED, right)
    seams = [
        drawing.box(mark)
        for mark in made.marks
        if mark.role in {Role.SEAM, Role.SEAM_LABEL, Role.OTHER_SEAM, Role.OTHER_LABEL}
    ]
    assert sum(mark.role == Role.OTHER_SEAM for mark in made.marks) == len(right.seams or ()) > 0
    letters = [mark for mark in made.marks if mark.role in LETTERS.values()]
    assert len(letters) == 9
    for letter in letters:
        box = drawing.box(letter)
        for seam in seams:
            assert box[2] < seam[0] + MM or box[0] > seam[2] - MM
