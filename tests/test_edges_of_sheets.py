"""Sheets where a limit is met exactly: what just fits, and the first that doesn't."""

from __future__ import annotations

import pytest
from jobfiles import job_of

from drapetemplate.errors import PaperError
from drapetemplate.planning.plan import plan
from drapetemplate.strips import Strips, strips

# A ring no wider than the lap is whole on some sheet wherever the joins fall, so even joins stay
# even. A4 along its long side, margins of 1/2 in: a sheet shows 297 - 25.4 - 11 = 260.6 mm and the
# lap is 12.7, so n sheets show 247.9 n + 12.7 mm, 1 mm of it past either end.
EVEN = '[paper]\nsize = "a4"\norientation = "landscape"\njoins = "even"\n'
RING = "outside = 12\nopening = 6"


def laid(*windows: str, band: int) -> Strips:
    """These windows' strips on A4."""
    job = job_of(
        *windows, head='units = "mm"', eyelet=RING, tables=f"{EVEN}[band]\nheight = {band}"
    )
    return strips(plan(job).windows, job.paper, job.units)


def test_most_sheets_of_all_strips() -> None:
    """2,000 sheets over all strips are taken, one more isn't.

    40 sheets show 9,928.7 mm, 39 9,680.8: strips of 9,701 to 9,750 mm take 40 each. A band of
    130 mm with 6 above and below leaves no room for a second lane in the
    210 - 25.4 - 19 = 165.6 mm.
    """
    large = [f'width = {n}\npanels = "left"\ncount = 2' for n in range(9_701, 9_751)]
    assert laid(*large, band=130).sheets == 50 * 40
    with pytest.raises(PaperError, match=r"51 of this job's 51 strips take 2,001 sheets already"):
        laid(*large, 'width = 200\npanels = "left"\ncount = 2', band=130)


def test_most_sheets_of_one_strip() -> None:
    """One strip may take 2,000 sheets as well.

    Rows show 165.6 mm, 152.9 more each: five of them 777.3, of which 12 is beside the band. 400
    sheets along show 247.9 x 400 + 12.7 = 99,172.7 mm, 2 of it past the ends.
    """
    ends = "count = 2\nleading = 100\nreturn = 100"
    most = f'width = 99170.7\npanels = "left"\n{ends}'
    [[tiling]] = laid(most, band=765).tilings
    assert (tiling.across, tiling.rows, tiling.count) == (400, 5, 2000)
    over = f'width = 99170.8\npanels = "left"\n{ends}'
    with pytest.raises(PaperError, match=r"the strip would take 2005 sheets, over 2000"):
        laid(over, band=765)
