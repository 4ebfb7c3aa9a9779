"""A striped panel sewn together from what is printed alone: a motif stands at each F.

The cutting page's list says where each piece is slit from the cloth, the plan's text where holes
are. Nothing else is read of the plan, and all else is what the job file says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

import pytest

from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_text import as_text
from tests.helpers.cutpages import cutting_of, listed
from tests.helpers.jobfiles import job_of

NUMBER = r"(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?) (?:in|mm)"
IN = "pattern = 'folds'\nlength = 84"
STRIPE = "[fabric]\nwidth = {}\nrepeat_across = '{}'\nmotif = '{}'\n{}"
BIG = "outside = '2 5/8'\nopening = '1 9/16'\nhole = '1 5/8'"
METRIC = "outside = 66\nopening = 40\nhole = 41"


@dataclass(frozen=True)
class Cloth:
    """What the job file says of the cloth, in its own unit."""

    width: Fraction
    repeat: Fraction
    motif: Fraction
    seam: Fraction
    hem: Fraction

    def off(self, place: Fraction) -> Fraction:
        """How far a place of the cloth is from the nearest motif's centre."""
        past = (place - self.motif) % self.repeat
        return min(past, self.repeat - past)


def number(words: str) -> Fraction:
    """A printed figure: "8 1/2"."""
    return sum((Fraction(part) for part in words.split()), Fraction(0))


def front_folds(job: Job) -> list[Fraction]:
    """The middles of front gaps from the panel's edge, as the plan's text has holes and gaps."""
    text = as_text(job, plan(job), plain=True)
    rows = re.findall(
        rf"^eyelet \d+: {NUMBER}, (then front|then back|the last)", text, re.MULTILINE
    )
    assert len(rows) > 2
    return [
        (number(before) + number(after)) / 2
        for (before, gap), (after, _) in pairwise(rows)
        if gap == "then front"
    ]


def pieces(job: Job, cloth: Cloth) -> dict[str, dict[int, tuple[Fraction, Fraction]]]:
    """Each panel's pieces, as the cutting page's list has them: from where to where on the cloth.

    Each says too where a motif's centre is, which is held against the cloth.
    """
    found: dict[str, dict[int, tuple[Fraction, Fraction]]] = {}
    for _, words in listed(cutting_of(job)):
        how, _, parts = words.partition(": ")
        assert "≈" not in words
        slits = [number(at) for at in re.findall(NUMBER, how.partition("Slit at")[2])]
        ends = pairwise([Fraction(0), *slits, cloth.width])
        for (start, end), part in zip(ends, parts.split("; "), strict=True):
            piece = re.match(rf"Window 1, (\w+) panel, piece (\d) of \d, {NUMBER} wide", part)
            if piece is None:
                assert "left over" in part
                continue
            assert number(piece[3]) == end - start
            centre = re.search(f"motif's centre {NUMBER} from its left edge", part)
            assert centre is not None
            assert cloth.off(start + number(centre[1])) == 0
            found.setdefault(piece[1], {}).setdefault(int(piece[2]), (start, end))
    return found


JOBS = {
    "pair": (IN + "\nwidth = 88", BIG, STRIPE.format(54, "6 3/4", 4, ""), ""),
    "mirrored": (
        IN + "\nwidth = 88",
        BIG,
        STRIPE.format(54, "6 3/4", "3 3/8", "mirrored = true"),
        "",
    ),
    "half repeats": (IN + "\nwidth = 88", BIG, STRIPE.format(54, 13, 4, ""), ""),
    "three of the left": (
        "pattern = 'folds'\nlength = 2000\nwidth = 2400\npanels = 'left'\nquantity = 3",
        METRIC,
        STRIPE.format(1370, 172, 61, ""),
        'units = "mm"',
    ),
    "single": (
        "pattern = 'folds'\nlength = 2000\nwidth = 2400\npanels = 'single'",
        METRIC,
        STRIPE.format(1370, 172, 61, ""),
        'units = "mm"',
    ),
}


@pytest.mark.parametrize("name", JOBS)
def test_a_motif_at_each_f(name: str) -> None:
    """On every panel, seams and all, and the pattern runs on over each seam."""
    window, eyelet, tables, head = JOBS[name]
    job = job_of(window, eyelet=eyelet, tables=tables, head=head)
    said = {key: number(value) for key, value in re.findall(r"(\w+) = '?([\d /]+)'?", tables)}
    seam, hem = (Fraction(15), Fraction(75)) if head else (Fraction(1, 2), Fraction(3))
    cloth = Cloth(said["width"], said["repeat_across"], said["motif"], seam, hem)
    folds = front_folds(job)
    panels = pieces(job, cloth)
    assert len(panels) == (2 if "panels" not in window else 1)
    for side, cut in panels.items():
        sewn_to, seen = -cloth.hem, 0  # from the finished edge that holes are measured from
        shown = None
        for n, (start, end) in sorted(cut.items()):
            before, after = cloth.seam * (n > 1), cloth.seam * (n < len(cut))
            # A left panel's leading edge is at its right.
            first, way = (end - before, -1) if side == "left" else (start + before, 1)
            assert shown is None or (first - shown) % cloth.repeat == 0
            here, sewn_to = sewn_to, sewn_to + end - start - before - after
            shown = first + way * (sewn_to - here)
            mine = [fold for fold in folds if here < fold < sewn_to]
            assert [cloth.off(first + way * (fold - here)) for fold in mine] == [0] * len(mine)
            seen += len(mine)
        assert seen == len(folds)
        assert len(cut) > 1
