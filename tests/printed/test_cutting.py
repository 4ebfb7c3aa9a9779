"""A width and a half a panel, patterned and plain, measured from the PDF to a hundredth of a mm."""

from __future__ import annotations

import re
from dataclasses import dataclass
from io import BytesIO
from itertools import pairwise

import pdfplumber
import pytest

from tests.helpers import pages
from tests.helpers.cases import near
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import bare
from tests.helpers.pages import POINT, Stroke

IN = 25.4
CROSSCUT, SLIT, SEAM, FOLD, TICK = 0.6, 0.45, 0.4, 0.2, 0.2
STRIP_SEAM, GUIDE = 0.6, 0.15

# 12 eyelets of 2 in, 4 in apart: (74 - 2 x 3 - 12 x 2)/11 = 4. Eyelet 8 has its centre at
# 3 + 1 + 7 x 6 = 46 in, its edge at 47; a seam allowance of 1/2 in and 1/8 in clear of it put the
# seam at 47 5/8 in. Pieces: 47 5/8 + 3 + 1/2 = 51 1/8 and 74 + 2 x 3 - 50 5/8 + 1/2 = 29 7/8 in.
# The lining finishes 1 1/2 in within the face at each side and 1 in above its foot, 71 x 83 in,
# with hems of 1 1/2 and 4 in: 74 in raw, cuts of 87 in. Any gap will do for it: from 60 in its seam
# is 5/8 in behind eyelet 9, at 53 5/8 in from the face's edge, 52 1/8 from its own, and its pieces
# are 52 1/8 + 1 1/2 + 1/2 = 54 1/8 and 74 - 53 5/8 + 1/2 = 20 7/8 in, two of which share a drop.
WINDOW = 'name = "Hall"\nwidth = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84'
PAPER = '[paper]\norientation = "portrait"\n'
LINING = '[lining]\nname = "tern sateen"\nwidth = 60'


@dataclass(frozen=True)
class Case:
    """A job's cloth and what its roll must measure, in inches of cloth."""

    cloth: str
    cut: float
    slits: tuple[tuple[float, ...], ...]
    down: float = 0


# 84 + 8 + 8 = 100 in a cut. A left panel's pieces lie from the right selvage: 54 - 51 1/8, 54 -
# 29 7/8.
PLAIN = Case(
    '[fabric]\nname = "gull linen"\nwidth = 54', 100, ((2.875,), (24.125,), (51.125,), (29.875,))
)
# Four repeats of 25 1/4 in are 101. A lead piece's seam is 1/2 in from its edge: at 50 5/8 in from
# the selvage it lies at, and one repeat of 27 nearer it, at 23 5/8 in, on the next drop. There the
# piece begins 1/2 in before, at 23 1/8, and ends at 53 in; for the left panel all is mirrored.
PATTERN = Case(
    '[fabric]\nname = "gull stripe"\nwidth = 54\nrepeat_down = "25 1/4"\nrepeat_across = 27',
    101,
    ((2.875,), (1, 30.875), (51.125,), (23.125, 53)),
    down=25.25,
)
LINED = Case(LINING, 87, ((5.875,), (54.125,), (20.875, 39.125)))


@dataclass(frozen=True)
class Drawn:
    """What stands under one caption of a cutting page, and the scale that it states."""

    heading: str
    scale: float
    strokes: tuple[Stroke, ...]
    boxes: tuple[tuple[float, float, float, float, float], ...]

    def of(self, pen: float, *, dashed: bool) -> list[Stroke]:
        """Strokes of one pen."""
        return [s for s in self.strokes if abs(s.pen - pen) < 0.01 and s.dashed == dashed]


def drawings(data: bytes) -> list[Drawn]:
    """Every drawing to scale on the PDF's cutting pages, in order."""
    found = []
    with pdfplumber.open(BytesIO(data)) as pdf:
        for page in pdf.pages:
            words = page.extract_text_lines()
            if not any("cutting, page" in line["text"] for line in words):
                continue
            starts = [n for n, line in enumerate(words) if line["text"].startswith("Scale 1:")]
            tops = [words[n]["top"] for n in starts] + [float(page.height)]
            for n, (top, end) in zip(starts, pairwise(tops), strict=True):
                scale = re.match(r"Scale 1:(\d+)", words[n]["text"])
                assert scale
                strokes = [
                    Stroke(
                        line["x0"] * POINT,
                        (float(page.height) - line["bottom"]) * POINT,
                        line["x1"] * POINT,
                        (float(page.height) - line["top"]) * POINT,
                        line["linewidth"] * POINT,
                        bool(line["dash"] and line["dash"][0]),
                    )
                    for line in page.lines
                    if top < line["top"] < end
                ]
                boxes = [
                    (
                        box["x0"] * POINT,
                        (float(page.height) - box["bottom"]) * POINT,
                        box["x1"] * POINT,
                        (float(page.height) - box["top"]) * POINT,
                        box["linewidth"] * POINT,
                    )
                    for box in page.rects
                    if top < box["top"] < end and box["stroke"] and not box["fill"]
                ]
                heading = words[n - 1]["text"]
                found.append(Drawn(heading, float(scale[1]), tuple(strokes), tuple(boxes)))
    return found


@pytest.fixture(scope="module", params=[PLAIN, PATTERN], ids=["plain", "pattern"])
def cut(request: pytest.FixtureRequest) -> tuple[Case, bytes, list[Drawn]]:
    """Each job with its PDF and what that has to scale: two rolls, then panels of two cloths."""
    case: Case = request.param
    [data] = bare(job_toml(WINDOW, tables=f"{PAPER}{case.cloth}\n{LINING}"))
    found = drawings(data)
    assert len(found) == 4
    return case, data, found


def rows(drawn: Drawn) -> list[tuple[float, float, float, list[float]]]:
    """Each row of a roll from the top: selvages, left end, and its cuts across from there."""
    across = drawn.of(CROSSCUT, dashed=False)
    found = []
    for low in reversed(pages.distinct(s.y1 for s in across)):
        row = [s for s in across if abs(s.y1 - low) < 0.01]
        (high,) = pages.distinct(s.y2 for s in row)
        xs = pages.distinct(s.x1 for s in row)
        found.append((low, high, xs[0], [x - xs[0] for x in xs]))
    return found


@pytest.mark.parametrize("cloth", [0, 1], ids=["face", "lining"])
def test_roll(cut: tuple[Case, bytes, list[Drawn]], cloth: int) -> None:
    """Drops are as long as they are cut and as wide as the cloth, slit at their pieces' edges."""
    case, wide = (cut[0], 54) if cloth == 0 else (LINED, 60)
    drawn = cut[2][cloth]
    # 54 in over 40 mm is 34.3, 60 in 38.1; of 190.5 mm a row takes three drops of 100 in, 63.5 mm
    # each, but two of 101; of 87 in, 55.2 mm each, three.
    scale = 40
    assert drawn.scale == scale
    drop = case.cut * IN / scale
    found = rows(drawn)
    counts = [len(cuts) - 1 for _, _, _, cuts in found]
    assert counts == ([3] if cloth == 1 else [3, 1] if case.cut == 100 else [2, 2])
    slits = []
    for low, high, left, cuts in found:
        assert near([n * drop for n in range(len(cuts))]) == cuts
        assert near(wide * IN / scale) == high - low
        for n in range(len(cuts) - 1):
            mine = [
                s
                for s in drawn.of(SLIT, dashed=True)
                if low < s.y1 < high and abs(s.x1 - left - n * drop) < 0.01
            ]
            assert all(near(drop) == s.x2 - s.x1 and s.level for s in mine)
            slits.append(pages.distinct(s.y1 - low for s in mine))
    assert near([at * IN / scale for row in case.slits for at in row]) == [
        at for row in slits for at in row
    ]
    assert [len(row) for row in slits] == [len(row) for row in case.slits]


def test_repeats(cut: tuple[Case, bytes, list[Drawn]]) -> None:
    """Ticks on both selvages stand at every repeat from the start of the cloth; plain has none."""
    case, _, (drawn, *_) = cut
    gone = 0.0
    for low, high, left, cuts in rows(drawn):
        ticks = [s for s in drawn.of(TICK, dashed=False) if s.upright and low <= s.y1 + 0.01 < high]
        for side in ("y1", "y2"):
            edge = low if side == "y1" else high
            xs = pages.distinct(s.x1 - left for s in ticks if abs(getattr(s, side) - edge) < 0.01)
            count = round(cuts[-1] * 40 / IN / case.down) + 1 if case.down else 0
            assert near([n * case.down * IN / 40 for n in range(count)]) == xs
        gone += cuts[-1]
    assert near(4 * case.cut * IN / 40) == gone


# The finished foot is 84 in under the heading's fold, 8 in under the top; what whole repeats leave
# is under it. A lining's top is its raw edge, its foot 83 in under it.
@pytest.mark.parametrize(
    ("place", "wide", "hem", "seam", "levels"),
    [(2, 80, 3, 47.625, (8, 92)), (3, 74, 1.5, 52.125, (83,))],
    ids=["face", "lining"],
)
def test_raw_panels(
    cut: tuple[Case, bytes, list[Drawn]],
    place: int,
    wide: float,
    hem: float,
    seam: float,
    levels: tuple[float, ...],
) -> None:
    """A panel has its raw size, its seam at seam and side hem, its folds at hems, mirrored at left.

    80 in over (190.5 - 6)/2 mm is 22, a cut of 100 or 101 in over 112 mm 22.7 or 22.9; the
    lining's are 20.4 and 19.7.
    """
    case, drawn = cut[0], cut[2][place]
    assert drawn.scale == 24
    high = case.cut if place == 2 else LINED.cut
    edges = sorted(box for box in drawn.boxes if abs(box[4] - CROSSCUT) < 0.01)
    assert len(edges) == 2
    for (left, low, right, top, _), mirrored in zip(edges, (True, False), strict=True):
        assert near((wide * IN / 24, high * IN / 24)) == (right - left, top - low)
        here = [s for s in drawn.strokes if left - 0.01 < s.x1 and s.x2 < right + 0.01 and s.dashed]
        lead = right if mirrored else left
        (line,) = [s for s in here if abs(s.pen - SEAM) < 0.01]
        assert near((seam + hem) * IN / 24) == abs(line.x1 - lead)
        assert near((low, top)) == (line.y1, line.y2)
        assert line.upright
        folds = [s for s in here if abs(s.pen - FOLD) < 0.01]
        upright = pages.distinct(s.x1 - left for s in folds if s.upright)
        assert near([hem * IN / 24, (wide - hem) * IN / 24]) == upright
        level = pages.distinct(top - s.y1 for s in folds if s.level)
        assert near([at * IN / 24 for at in levels]) == level


def test_seams_on_the_sheets(cut: tuple[Case, bytes, list[Drawn]]) -> None:
    """Each panel's seam on its pair's strip is 5/8 in from the flange guide of its eyelet 8."""
    seen = 0
    for sheet in pages.sheets(cut[1], turned=False):
        lines = [s for s in sheet.strokes if s.dashed and abs(s.pen - STRIP_SEAM) < 0.01]
        for line in (s for s in lines if s.upright):
            near_it = [
                s
                for s in sheet.strokes
                if s.upright
                and s.dashed
                and abs(s.pen - GUIDE) < 0.01
                and s.y1 < line.y2
                and line.y1 < s.y2
            ]
            closest = min(abs(s.x1 - line.x1) for s in near_it)
            if closest > 20:
                continue  # its eyelet is on the sheet before, or in the lane above
            assert near(0.625 * IN) == closest
            # The hole's centre is an inch further, by its number.
            hole = min(
                (c for c in sheet.circles(IN) if line.y1 < c.y < line.y2),
                key=lambda c: abs(c.x - line.x1),
            )
            assert near(1.625 * IN) == abs(hole.x - line.x1)
            number = [
                w.text
                for w in sheet.words
                if w.level and abs(w.middle - hole.x) < 0.5 and line.y1 < w.y < line.y2
            ]
            side = "LEFT" if "LEFT 8" in number else "RIGHT"
            assert f"{side} 8" in number
            said = [w for w in sheet.words if not w.level and f"{side}: SEAM" in w.text]
            (beside,) = [w for w in said if abs(w.x - line.x1) < 4 and line.y1 < w.y < line.y2]
            assert beside.text == f"{side}: SEAM · 5/8 in from ring edge, {side} 8"
            seen += 1
    assert seen >= 2  # one of each panel's
