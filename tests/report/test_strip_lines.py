"""The strip as a line picture: everything at its scaled place, or said to be left out."""
# ruff: noqa: RUF001  # a picture's own signs

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from drapetemplate.measures import INCH
from drapetemplate.planning.eyelets import EyeletLine, gap_kinds
from drapetemplate.planning.model import PanelPlan, Side
from drapetemplate.report.screen import BEYOND_ASCII
from drapetemplate.report.strip_columns import arranged
from drapetemplate.report.strip_lines import END_ROWS, MOST_ROWS, line_picture
from tests.helpers.jobfiles import panel_of
from tests.helpers.searching import searched

FB = ("F", "B")
SIDES: tuple[Side, ...] = ("left", "right", "single")
# 40 in, leading 1 1/2, return 3, six eyelets of 2 in: centres at 2.5, 9.2, 15.9, 22.6, 29.3, 36 in.
# In 41 columns an inch is a column: 3 (a half goes up), 9, 16, 23, 29, 36; the fold at 40 - 3.
SIX = "width = 40\nreturn = 3\ncount = 6"


def of(panel: PanelPlan, columns: int, *, ascii_only: bool = False) -> tuple[str, ...]:
    """The picture in inches, with F and B."""
    return line_picture(panel, "in", FB, columns, ascii_only=ascii_only)


def panel_with(
    count: int,
    *,
    outside: int = 50,
    gap: int = 60,
    ends: tuple[int, int] = (40, 80),
    side: Side = "right",
    hooks: bool = False,
    seams: tuple[Fraction, ...] = (),
) -> PanelPlan:
    """A panel by its measures in mm, `ends` its leading and its return; seams as parts of 1."""
    line = EyeletLine(
        width=Fraction(sum(ends) + count * outside + (count - 1) * gap),
        leading=Fraction(ends[0]),
        return_=Fraction(ends[1]),
        outside=Fraction(outside),
    )
    return replace(
        panel_of(SIX),
        side=side,
        width=line.width,
        count=count,
        outside=line.outside,
        gap=Fraction(gap),
        pitch=line.pitch(count),
        leading=line.leading,
        return_=line.return_,
        centers=line.centers(count),
        gaps=gap_kinds(count, "hooks" if hooks else "pole"),
        seams=tuple(sorted(part * line.width for part in seams)),
    )


def test_picture_in_one_row() -> None:
    """An inch a column: rings, letters, fold and numbers stand where they are worked to."""
    assert of(panel_of(f'{SIX}\npanels = "right"'), 41) == (
        "leading edge                  return edge",
        "┌────────────────────────────────────┬╌╌┐",
        "│  ○  F  ○  B   ○  F   ○  B  ○  F   ○   │",
        "└────────────────────────────────────┴╌╌┘",
        "   1     2      3      4     5      6",
        "├──────────────── 40 in ────────────────┤",
        "○ eyelet   F front gap   B back gap",
        "┬╌ return fold",
    )


def test_picture_in_ascii() -> None:
    """The same in ASCII, and a left panel's leading edge at its right: 40 - 2.5 is 37.5, so 38."""
    assert of(panel_of(f'{SIX}\npanels = "left"'), 41, ascii_only=True) == (
        "return edge                  leading edge",
        "+..+------------------------------------+",
        "|   o  F   o  B  o  F   o  B   o  F   o |",
        "+..+------------------------------------+",
        "    6      5     4      3      2      1",
        "|---------------- 40 in ----------------|",
        "o eyelet   F front gap   B back gap",
        "+. return fold",
    )


def test_picture_in_rows() -> None:
    """Six eyelets at 4 columns each need 24: in 20 columns two rows, each saying what it shows."""
    lines = of(panel_of(f'{SIX}\npanels = "right"'), 20)
    # 4 columns are 6.7 in: rings at 1, 5, 9, 13, 17, 21, the fold at 24 - 2, the end at 24. The
    # second row has a blank before its first ring. 10 in are 5.97 columns.
    assert lines == (
        "eyelets 1 to 3:",
        "  2 1/2 in to",
        "  ≈ 15 7/8 in from",
        "  the leading edge",
        "leading edge",
        "┌───────────╱",
        "│○ F ○ B ○ F╱",
        "└───────────╱",
        " 1   2   3",
        "eyelets 4 to 6:",
        "  ≈ 22 5/8 in to",
        "  36 in from the",
        "  leading edge",
        "   return edge",
        "╱──────────┬╌┐",
        "╱ ○ B ○ F ○  │",
        "╱──────────┴╌┘",
        "  4   5   6",
        "├─────┤ 10 in;",
        "40 in from end to",
        "end",
        "○ eyelet",
        "F front gap",
        "B back gap",
        "┬╌ return fold",
    )


@st.composite
def panels(draw: st.DrawFn) -> PanelPlan:
    """Panels of 2 to 2000 eyelets of any make, with seams anywhere."""
    count = draw(st.one_of(st.integers(2, 60), st.integers(2, 2000)))
    parts = st.fractions(Fraction(1, 500), Fraction(499, 500), max_denominator=500)
    return panel_with(
        count,
        outside=draw(st.integers(8, 90)),
        gap=draw(st.integers(1, 600)),
        ends=(draw(st.integers(0, 300)), draw(st.integers(0, 300))),
        side=draw(st.sampled_from(SIDES)),
        hooks=draw(st.booleans()),
        seams=tuple(draw(st.sets(parts, max_size=6))),
    )


def seen(panel: PanelPlan) -> str:
    """The panel's rings and letters as they follow one another from left to right."""
    names = {"front": "F", "back": "B"}
    text = "o".join(["", *(names[kind] for kind in panel.gaps), ""])
    text = text if panel.gaps else "o" * panel.count
    return text[::-1] if panel.side == "left" else text


def middles(lines: tuple[str, ...]) -> list[str]:
    """The eyelet lines of a picture, in ASCII, told by what stands over and under them."""
    told_as = str.maketrans("○┊─╌│╱┌┐└┘┬┴", "o:-.|/++++++")
    lines = tuple(line.translate(told_as) for line in lines)
    return [
        line
        for above, line, below in zip(lines, lines[1:], lines[2:], strict=False)
        if set(above) <= set("+-.:/") and set(below) <= set("+-.:/") and line[0] in "|/"
    ]


def told(lines: tuple[str, ...]) -> str:
    """All words of a picture in one line."""
    return " ".join(" ".join(lines).split())


@searched(80)
@given(panel=panels(), columns=st.integers(20, 200))
def test_every_eyelet_is_drawn_or_said_to_be_left_out(panel: PanelPlan, columns: int) -> None:
    """Rings, and letters as the gaps alternate, are drawn in order; what isn't is counted."""
    lines = of(panel, columns, ascii_only=True)
    assert "".join(lines).isascii()
    rows = middles(lines)
    assert 1 <= len(rows) <= MOST_ROWS
    drawn = [re.sub(r"[ :|/]", "", row) for row in rows]
    left_out = re.search(r"([0-9]+) in all, aren't drawn|eyelet [0-9]+ isn't drawn", told(lines))
    if left_out is None:
        assert "".join(drawn) == seen(panel)
        return
    assert seen(panel).startswith("".join(drawn[:2]))
    assert seen(panel).endswith("".join(drawn[2:]))
    assert "".join(drawn).count("o") + int(left_out[1] or 1) == panel.count


@searched(80)
@given(panel=panels(), columns=st.integers(20, 200), ascii_only=st.booleans())
def test_every_eyelet_is_in_its_place(panel: PanelPlan, columns: int, *, ascii_only: bool) -> None:
    """No line is too wide, and each ring drawn is within a column of its true scaled place."""
    lines = of(panel, columns, ascii_only=ascii_only)
    assert [line for line in lines if cell_len(line) > columns and " " in line] == []
    laid, rows = arranged(panel, FB, columns)
    shown = rows if len(rows) <= MOST_ROWS else rows[:END_ROWS] + rows[-END_ROWS:]
    places = [center * laid.scale for center in panel.centers]
    if panel.side == "left":
        places = [panel.width * laid.scale - place for place in reversed(places)]
    for row, line in zip(shown, middles(lines), strict=True):
        drawn = [n + row.first - 1 for n, one in enumerate(line) if one == "o"]
        true = [places[n] for n in row.rings(laid)]
        assert [abs(a - b) <= 1 for a, b in zip(drawn, true, strict=True)] == [True] * len(drawn)
    shown_by = [[laid.numbers[n] for n in row.rings(laid)] for row in shown]
    said = re.findall(r"eyelets? ([0-9]+)(?: to ([0-9]+))?: ", told(lines))
    numbered = [(f"{one[0]}", f"{one[-1]}" if len(one) > 1 else "") for one in shown_by if one]
    assert said == (numbered if len(rows) > 1 else [])
    if len(rows) == 1:
        assert abs(laid.scale - Fraction(columns - 1) / panel.width) * panel.width <= 1


@searched(80)
@given(panel=panels(), columns=st.integers(20, 200))
def test_seams_are_drawn_in_their_gaps(panel: PanelPlan, columns: int) -> None:
    """Between two rings stand as many seam marks as that gap has seams."""
    lines = of(panel, columns, ascii_only=True)
    if "drawn" in told(lines):
        return
    between = "".join(re.sub(r"[ |/FB]", "", row) for row in middles(lines)).split("o")[1:-1]
    if panel.side == "left":
        between.reverse()
    half = panel.outside / 2
    expected = [
        sum(one + half < seam < two - half for seam in panel.seams or ())
        for one, two in pairwise(panel.centers)
    ]
    assert [len(marks) for marks in between] == expected


def near(panel: PanelPlan, gap: int, *parts: Fraction) -> PanelPlan:
    """The panel with seams in one gap, each at a part of the way from flange to flange."""
    start = panel.centers[gap] + panel.outside / 2
    return replace(panel, seams=tuple(start + part * panel.gap for part in sorted(parts)))


ALL_ALIKE = (Fraction(97, 100), Fraction(98, 100), Fraction(99, 100))
CROWDED = [
    near(panel_with(12, side=side, hooks=hooks, ends=(0, 0), outside=8, gap=flat), gap, *parts)
    for side in SIDES
    for hooks in (False, True)
    for gap, flat in ((0, 9), (4, 9), (10, 9), (0, 600), (10, 600))
    for parts in (ALL_ALIKE, ALL_ALIKE[:2], tuple(1 - part for part in ALL_ALIKE))
]
WIDE_GAP = [
    near(
        panel_with(2, outside=10, gap=5000, ends=(1, 1)),
        0,
        *(Fraction(n + (n > before) * room, many + 1 + room) for n in range(1, many + 1)),
    )
    for many in (8, 13)
    for before in range(0, many, 2)
    for room in range(4)
]


@pytest.mark.parametrize("panel", CROWDED + WIDE_GAP)
def test_crowded_gaps(panel: PanelPlan) -> None:
    """However many seams a gap has, and wherever a row ends: nothing hides or breaks another."""
    marks = seen(panel).replace("F", "<o>").replace("B", "<i>")
    for columns in range(20, 48, 3):
        lines = line_picture(panel, "mm", ("<o>", "<i>"), columns, ascii_only=True)
        assert [line for line in lines if len(line) > columns and " " in line] == []
        rows = middles(lines)
        if len(rows) == 2 * END_ROWS and "drawn" in told(lines):
            continue
        drawn = "".join(row[1:-1] for row in rows)
        assert re.sub(r"[ :]", "", drawn) == marks
        assert drawn.count(":") == len(panel.seams or ())


def test_numbers_never_run_together() -> None:
    """A ring kept off the panel's end may come near the one before; its number then gives way."""
    # A pitch of 608 mm is 4 columns, so the ring at 4 mm is moved to column 1, 3 from the next.
    panel = panel_with(120, side="left", outside=8, gap=600, ends=(0, 0), hooks=True)
    numbers = of(panel, 60)[6]
    assert numbers.startswith("120    118 117 ")


def test_middle_that_has_no_room_is_said() -> None:
    """2000 eyelets in 60 columns: two rows at either end, and how many there are between."""
    panel = panel_with(2000, seams=(Fraction(1, 3), Fraction(1, 2)))
    lines = of(panel, 60)
    assert len(middles(lines)) == 2 * END_ROWS
    # Rings stand 5 columns apart, so 11 a row, less one beside the panel's ends.
    assert (
        "... eyelets 22 to 1979, 1958 in all, aren't drawn, nor 2 of the seams; each stands "
        "≈ 4 5/16 in from the one before, centre to centre" in told(lines)
    )


def test_seam_under_an_eyelet() -> None:
    """A seam that meets a flange shows over and under that ring, in no gap."""
    # Centres at 65, 175, 285, 395 of 500 mm; 290 is 5 off the third.
    lines = of(panel_with(4, seams=(Fraction(290, 500),)), 51, ascii_only=True)
    (row,) = middles(lines)
    place = [n for n, one in enumerate(row) if one == "o"][2]
    assert ":" not in row
    assert [lines[n].index(":") for n in (1, 3)] == [place, place]


@pytest.mark.parametrize(
    ("panel", "folds"),
    [
        (panel_with(4, side="left"), 1),
        (panel_with(4, side="single", ends=(80, 80)), 2),
        (panel_with(4, ends=(40, 0)), 0),
        (panel_with(4, ends=(40, 12)), 1),  # a column, of 500 - 80 + 12 mm in 59
        (panel_with(4, hooks=True), 0),
    ],
)
def test_return_folds(panel: PanelPlan, folds: int) -> None:
    """A single panel folds back at both ends, one on hooks or without a return at none."""
    lines = of(panel, 60)
    assert lines[1].count("┬") == lines[3].count("┴") == folds
    assert ("return fold" in told(lines)) == bool(folds)


def test_ends_are_named_in_few_columns() -> None:
    """Where both names have no room, they lose the word edge before they run together."""
    wide, narrow = (of(panel_with(2), columns)[0] for columns in (24, 22))
    assert wide == "leading edge return edge"
    assert narrow == "leading         return"


@pytest.mark.parametrize(
    ("letters", "ascii_only", "shown"),
    [
        (("R", "W"), False, ("R", "W")),
        (("out", "in"), True, ("out", "in")),
        (("前", "後"), False, ("前", "後")),
        (("前", "後"), True, ("F", "B")),
        (("○", "B"), False, ("F", "B")),
        (("o", "i"), True, ("F", "B")),
        (("א", "ב"), False, ("F", "B")),  # would turn the line round
        (("\ufe0f", "B"), False, ("F", "B")),  # takes no room
    ],
)
def test_letters(letters: tuple[str, str], shown: tuple[str, str], *, ascii_only: bool) -> None:
    """The job's own letters, or F and B where those can't be told here, which is said."""
    lines = line_picture(panel_with(4), "mm", letters, 60, ascii_only=ascii_only)
    ring = "o" if ascii_only else "○"
    order = [ring, shown[0], ring, shown[1], ring, shown[0], ring]
    assert lines[2].strip("|│").split() == order
    assert cell_len(lines[2]) == 60
    assert f"{shown[0]} front gap   {shown[1]} back gap" in " ".join(lines)
    assert ("the template has the job's own letters" in told(lines)) == (letters != shown)


def test_signs_are_those_that_a_stream_is_asked_for() -> None:
    """What is asked of a stream's encoding is every sign beyond ASCII that a picture has."""
    panel = panel_with(60, seams=(Fraction(1, 3),))
    drawn = "".join(of(panel, 60) + of(panel_with(6), 80))
    assert {one for one in drawn if not one.isascii()} <= set(BEYOND_ASCII)


def test_a_seam_in_the_return_stands_by_itself() -> None:
    """In 20 in of return a seam 3 in from the flange is drawn there, and not on the last ring.

    On 61 columns a panel of 60 in has one an inch: the flange ends at 40, the seam is at 43.
    """
    panel = panel_of("width = 60\nleading = 2\nreturn = 20\ncount = 4\npanels = 'right'")
    laid, _ = arranged(replace(panel, seams=(43 * INCH,)), FB, 61)
    assert laid.rings == (3, 15, 27, 39)
    assert laid.seams == (43,)
    under, _ = arranged(replace(panel, seams=(40 * INCH,)), FB, 61)
    assert under.seams == (39,)
