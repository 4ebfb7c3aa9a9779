"""Sheets where a limit is met exactly: what just fits, and the first that doesn't."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import PaperError
from drapetemplate.job.model import Paper
from drapetemplate.measures import Units
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.laid_paper import laid_paper
from drapetemplate.sheets.strip_list import StripList, strip_list
from tests.helpers.jobfiles import job_of
from tests.helpers.strips import Spec, parts, read_back

# A ring no wider than the lap is whole on some sheet wherever the joins fall, so even joins stay
# even. A4 along its long side, margins of 1/2 in: a sheet shows 297 - 25.4 - 2.5 = 269.1 mm and
# the lap is 12.7, so n sheets show 256.4 n + 12.7 mm, 1 mm of it past either end.
EVEN = '[paper]\nsize = "a4"\norientation = "landscape"\njoins = "even"\n'
RING = "outside = 12\nopening = 6"


def laid(*windows: str, band: int) -> StripList:
    """These windows' strips on A4."""
    job = job_of(
        *windows, head='units = "mm"', eyelet=RING, tables=f"{EVEN}[band]\nheight = {band}"
    )
    return strip_list(job, plan(job).windows, None)


def test_most_sheets_of_all_strips() -> None:
    """2,000 sheets over all strips are taken, one more isn't.

    40 sheets show 10,352 mm, 39 10,093.5: strips of 10,101 to 10,150 mm take 40 each. A band of
    130 mm with 6 above and below leaves no room for a second lane in the
    210 - 24 - 19 = 167 mm.
    """
    large = [f'width = {n}\npanels = "left"\ncount = 2' for n in range(10_101, 10_151)]
    assert laid(*large, band=130).sheets == 50 * 40
    with pytest.raises(PaperError, match=r"51 of this job's 51 strips take 2,001 sheets already"):
        laid(*large, 'width = 200\npanels = "left"\ncount = 2', band=130)


def test_most_sheets_of_one_strip() -> None:
    """One strip may take 2,000 sheets as well.

    Rows show 167 mm, 155 more each: eight of them 1,252, of which 12 is beside the band. 250 sheets
    along show 258.5 x 250 + 12 = 64,637 mm, 2 of it past the ends.
    """
    ends = "count = 2\nleading = 100\nreturn = 100"
    most = f'width = 64635\npanels = "left"\n{ends}'
    [strip] = laid(most, band=1200).strips
    [tiling] = strip.tilings
    assert (tiling.across, tiling.rows, tiling.count) == (250, 8, 2000)
    over = f'width = 64635.1\npanels = "left"\n{ends}'
    with pytest.raises(PaperError, match=r"the strip would take 2008 sheets, over 2000"):
        laid(over, band=1200)


def test_least_paper() -> None:
    """Paper just as wide as the check bars need does without a margin, and is told so.

    The 4 in bar and 12 mm beside or above it for labels: 113.6 mm.
    """

    def paper(margin: int) -> Paper:
        size = f'[paper]\nsize = "113.6 x 300 mm"\nmargin = {margin}'
        return job_of("width = 1000", head='units = "mm"', tables=size).paper

    assert laid_paper(paper(0), None, "mm").height == 300
    with pytest.raises(PaperError) as caught:
        laid_paper(paper(5), None, "mm")
    [fault] = caught.value.faults
    assert fault.where == "paper.margin"
    assert fault.text.endswith("the check bars need 113.6 mm each way: 0 mm or less")


def test_rows_numbered_on() -> None:
    """Sheets of a second row are numbered on from the first, and laps name them so.

    A band of 12 in, with 6 mm above and below, takes two rows of 171.5 mm on letter.
    """
    found = Spec(band="12", above="3", orientation="landscape").sheets()
    across = found.tiling.across
    assert [part.label for part in parts(found)] == [str(n + 1) for n in range(2 * across)]
    assert [sheet.number for sheet in found.sheets] == list(range(1, 2 * across + 1))
    # Words stand in the lower row only, which the strip's lower edge is on.
    words = [m.text for m in found.sheets[across].marks if isinstance(m, Text)]
    assert f"sheet {across + 2} goes on top, up to the long-dashed line" in words


@pytest.mark.parametrize(("units", "most"), [("in", "1 7/8 in"), ("mm", "47 mm")])
def test_most_overlap(units: Units, most: str) -> None:
    """Too large an overlap is told the largest that does: a quarter of what a sheet prints.

    Letter, margins of 1/2 in: (215.9 - 25.4)/4 = 47.625 mm, 1 7/8 in; 47 in whole millimetres.
    """
    with pytest.raises(PaperError) as caught:
        laid_paper(Spec(overlap="3").job().paper, None, units)
    [fault] = caught.value.faults
    assert fault.text.endswith(f"is too much: {most} or less on this paper")


def test_margins_that_meet() -> None:
    """Margins that take all of the paper leave nothing of it, and no less than that."""
    with pytest.raises(PaperError) as caught:
        laid_paper(Spec(size="letter", margin="4 1/2").job().paper, None, "in")
    [fault] = caught.value.faults
    # (8 1/2 in - 113.6 mm)/2 = 51.15 mm, 2 in and 0.35 mm.
    assert "4 1/2 in leaves 0 in across this paper" in fault.text
    assert fault.text.endswith(": 2 in or less")


@pytest.mark.parametrize(("overlap", "wedges"), [("11", True), ("10.9", False)])
def test_wedges_beside_registration(overlap: str, wedges: bool) -> None:  # noqa: FBT001
    """Wedges of 2 1/2 mm stand where half the lap leaves them room beside a mark's 3 mm arm."""
    found = Spec(overlap=str(Fraction(overlap) * 10 / 254), orientation="landscape").sheets()
    assert len(found.sheets) > 1
    roles = {mark.role for sheet in found.sheets for mark in sheet.marks}
    assert wedges == (Role.CUT_WEDGE in roles)
    assert wedges == (Role.LAND_WEDGE in roles)


def test_names_of_two_lanes() -> None:
    """Two lanes of a sheet are named, each name midway between those of the joins beside it.

    A band of 2 1/2 in takes 63.5 + 12 = 75.5 mm: (171.5 + 4)/79.5 = 2.2 lanes. A join's name takes
    23 mm; on its right sheet it begins 4 mm past the join, 6.35 + 4 from the sheet's edge, and on
    its left one it ends before the landing line, 12.7 + 2 from the edge. "↑ TOP" of 0.7 x 3.6 mm a
    letter stands before it, 12.6 long, with 3 mm between.
    """
    spec = Spec(outside="1", hole="1/2", band="2 1/2", above="3/4", orientation="landscape")
    found = spec.sheets()
    assert found.tiling.lanes == 2
    assert found.tiling.clear == "outside"
    last = found.tiling.across - 1
    assert last == 4
    for part in parts(found):
        [name] = [m for m in read_back(found, part) if m.role == Role.LANE_NAME]
        assert isinstance(name, Text)
        assert name.text == f"{part.column // 2 + 1}{'ab'[part.column % 2]}"
        left = float(part.shown[0]) + (6.35 + 4 + 23 if part.column else 0) + 15.6
        right = float(part.shown[2]) - (12.7 + 2 + 23 if part.column < last else 0)
        assert float(name.x) == pytest.approx((left + right) / 2)


def test_nobody_beside_one_sheet() -> None:
    """One sheet alone names no neighbours.

    8 in of strip on tabloid, whose long side shows 16 in less the column of bars.
    """
    found = Spec(width="8", outside="1", hole="1/2", count="2", size="tabloid").sheets()
    [sheet] = found.sheets
    lines = [m.text for m in sheet.marks if isinstance(m, Text) and m.role == Role.HEADING]
    said = " · ".join(lines)
    assert said.startswith("Heron Point, upper landing · check the taped strip: 8 in end to end")
    assert "sheet " not in said


def test_words_on_the_first_sheet() -> None:
    """The first sheet has one join's words and all its room for them: all is said.

    On 7 x 8 in upright a sheet shows 177.8 - 25.4 - 2.5 = 149.9 mm; 1,018 mm take 8 of 125.66, and
    the first shows 138.4. Its words, 42 letters of 0.6 x 3.1 mm, are 78.1 long; two joins' words
    would have (138.4 - 25.6)/2 = 56.4 mm each.
    """
    found = Spec(
        outside="1/2", hole="1/4", size="7 x 8 in", orientation="portrait", joins="even"
    ).sheets()
    assert len(found.sheets) == 8
    [words] = [
        mark
        for mark in found.sheets[0].marks
        if isinstance(mark, Text) and mark.role == Role.LAP_WORDS
    ]
    assert (words.text, words.size) == ("sheet 2 goes on top, up to the long-dashed line", 3.1)


def test_room_for_two_joins_words() -> None:
    """A sheet between two joins shares its room between their words, 1 mm apart.

    As above: 138.3625 mm. The words at the left begin 6.35 + 4 mm in, past the mark; those at the
    right end 1.5 mm short of the landing line: (138.3625 - 10.35 - 14.2 - 1)/2 = 56.40625 each.
    That is room for 30 letters of 0.6 x 3.1 mm, so that both are said in short.
    """
    found = Spec(
        outside="1/2", hole="1/4", size="7 x 8 in", orientation="portrait", joins="even"
    ).sheets()
    words = {
        mark.text: mark
        for mark in found.sheets[1].marks
        if isinstance(mark, Text) and mark.role == Role.LAP_WORDS
    }
    assert set(words) == {
        "lay over sheet 1",
        "sheet 3 goes on top",
    }
    for mark in words.values():
        assert mark.size == 3.1


def test_words_moved_into_a_row() -> None:
    """Words that no row has whole are moved into the one with more of them, as little as need be.

    "RETURN EDGE" runs up the middle of a band of 12 in, 11 letters of 2.52 mm, so from 138.54 to
    166.26. Rows show up to 152 and from 139.3 on: up by 0.76 mm, and not sideways.
    """
    found = Spec(band="12", above="3", orientation="landscape").sheets()
    assert [part.shown[3] for part in parts(found)][-1] == 152
    read = [
        (float(mark.x), float(mark.y))
        for part in parts(found)
        for mark in read_back(found, part)
        if isinstance(mark, Text) and mark.text == "RETURN EDGE"
    ]
    assert read == [pytest.approx((5, 152.4 + 0.76))]


def test_lane_names_beside_longer_words() -> None:
    """A join's name that says its lap has a flange in it takes 47 mm from the lane's, not 23.

    36 in and 2 mm take four even parts of 225.925 mm: joins at 231.275, 457.2 and 683.125 mm. The
    eyelets are 152.4 apart, 95.25 to 857.25: 16.375 mm from the first join, 57.15 from the second,
    21.725 from the third. A flange of 1 1/2 in and half the lap reach 19.05 + 6.35 = 25.4 mm.
    """
    found = Spec(
        width="36",
        outside="1 1/2",
        hole="1/2",
        band="2 1/2",
        above="1/4",
        orientation="landscape",
        joins="even",
    ).sheets()
    rooms = (47, 23, 47)
    assert (found.tiling.lanes, len(found.tiling.joins)) == (2, 3)
    for part in parts(found):
        [name] = [m for m in read_back(found, part) if m.role == Role.LANE_NAME]
        assert isinstance(name, Text)
        # After "↑ TOP", as above.
        left, right = float(part.shown[0]) + 15.6, float(part.shown[2])
        if part.column > 0:
            left += 6.35 + 4 + rooms[part.column - 1]
        if part.column < 3:
            right -= 12.7 + 2 + rooms[part.column]
        assert float(name.x) == pytest.approx((left + right) / 2)
