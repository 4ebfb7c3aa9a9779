"""Two windows that differ: what each assumes, of its own and of the file's tables."""

from __future__ import annotations

import pytest

from drapetemplate.job.build import read_job
from drapetemplate.job.model import Assumption, Job
from drapetemplate.measures import INCH


def _job(text: str) -> Job:
    return read_job(text.encode(), "job.toml")


def _assumed(assumed: tuple[Assumption, ...]) -> dict[str, str]:
    return {one.key: one.value for one in assumed}


TWO_THAT_DIFFER = """
[job]
name = "Heron Point, dining room"
[eyelet]
outside = "60 mm"
opening = "40 mm"
[pole]
top = "100 in"
projection = "4 in"
[fabric]
width = "54 in"
[lining]
width = "54 in"
[[window]]
width = "88 in"
[[window]]
width = "44 in"
panels = "single"
[window.eyelet]
hole = "41 mm"
[window.band]
height = "5 in"
[window.pole]
off_floor = "1 in"
[window.fabric]
bottom_hem = "6 in"
[window.lining]
joined = "bagged"
seam = "1 in"
"""


@pytest.mark.parametrize(
    ("units", "first", "second"),
    [
        (
            "in",
            {
                "leading": "1 1/2 in",
                "stack_each": "1 1/4 in",
                "eyelet.hole": "≈ 1 9/16 in, the opening",
                "band.height": "≈ 4 3/8 in",  # 2.362 and 2 in
                "band.above": "1 in, eyelet centred",
                "pole.wall_clearance": "1/2 in",
                "pole.off_floor": "1/2 in",
                "fabric.seam": "1/2 in",
                "fabric.side_hem": "3 in",
                "fabric.heading": "≈ 8 3/4 in, twice the band",  # 8.724
                "fabric.bottom_hem": "8 in",
                "fabric.allowance": "4 in, to square the start and cut round a flaw",
                "lining.joined": "loose",
                "lining.seam": "1/2 in",
                "lining.side_hem": "1 1/2 in",
                "lining.heading": "0 in, caught under the face's heading",
                "lining.bottom_hem": "4 in",
                "lining.set_in": "1 1/2 in, from each side edge of the face",
                "lining.short": "1 in, above the face's foot",
                "lining.allowance": "4 in, to square the start and cut round a flaw",
            },
            {
                "stack_each": "1 1/4 in",
                "band.above": "≈ 1 5/16 in, eyelet centred",  # (127 - 60) / 2 mm
                "pole.wall_clearance": "1/2 in",
                "fabric.seam": "1/2 in",
                "fabric.side_hem": "3 in",
                "fabric.heading": "10 in, twice the band",
                "lining.side_hem": "1 in, bagged: a seam, no hem",
                "lining.bottom_hem": "1 in, bagged: a seam, no hem",
                "lining.heading": "0 in, caught under the face's heading",
                "lining.set_in": "0 in, bagged: as wide as the face",
                "lining.short": "0 in, bagged: as long as the face",
            },
        ),
        (
            "mm",
            {
                "leading": "40 mm",
                "stack_each": "32 mm",
                "eyelet.hole": "40 mm, the opening",
                "band.height": "110 mm",
                "band.above": "25 mm, eyelet centred",
                "pole.wall_clearance": "12 mm",
                "pole.off_floor": "12 mm",
                "fabric.seam": "15 mm",
                "fabric.side_hem": "75 mm",
                "fabric.heading": "220 mm, twice the band",
                "fabric.bottom_hem": "200 mm",
                "fabric.allowance": "100 mm, to square the start and cut round a flaw",
                "lining.joined": "loose",
                "lining.seam": "15 mm",
                "lining.side_hem": "40 mm",
                "lining.heading": "0 mm, caught under the face's heading",
                "lining.bottom_hem": "100 mm",
                "lining.set_in": "40 mm, from each side edge of the face",
                "lining.short": "25 mm, above the face's foot",
                "lining.allowance": "100 mm, to square the start and cut round a flaw",
            },
            {
                "stack_each": "32 mm",
                "band.above": "33.5 mm, eyelet centred",
                "pole.wall_clearance": "12 mm",
                "fabric.seam": "15 mm",
                "fabric.side_hem": "75 mm",
                "fabric.heading": "254 mm, twice the band",
                "lining.side_hem": "25.4 mm, bagged: a seam, no hem",
                "lining.bottom_hem": "25.4 mm, bagged: a seam, no hem",
                "lining.heading": "0 mm, caught under the face's heading",
                "lining.set_in": "0 mm, bagged: as wide as the face",
                "lining.short": "0 mm, bagged: as long as the face",
            },
        ),
    ],
)
def test_two_windows_that_differ(units: str, first: dict[str, str], second: dict[str, str]) -> None:
    """Each assumes what its own and the file's tables leave out, in the job's units, and no more.

    What the second says itself of a table it shares is its own, and the first has none of it.
    """
    job = _job(f'units = "{units}"\n{TWO_THAT_DIFFER}')
    alike = {
        "eyelet.hung": "pole",
        "eyelet.thickness": "0, not given: turning may be less",
        "fabric.shrinkage": "0",
        "lining.shrinkage": "0",
    }
    one, two = job.windows
    assert _assumed(one.assumed) == {**alike, "panels": "pair", **first}
    allowances = {key: first[key] for key in ("fabric.allowance", "lining.allowance")}
    assert _assumed(two.assumed) == {**alike, **allowances, **second}
    assert one.fabric is not None
    assert two.fabric is not None
    assert one.lining is not None
    assert two.lining is not None
    own = [two.eyelet.hole, two.band.height, two.pole.off_floor, two.fabric.bottom_hem]
    assert [*own, two.lining.seam] == [41, 127, INCH, 6 * INCH, INCH]
    assert (one.fabric.width, two.fabric.width, two.lining.width) == (54 * INCH,) * 3
    assert (one.lining.joined, two.lining.joined) == ("loose", "bagged")
    assert [one.eyelet.hole, two.eyelet.outside, two.pole.top] == [40, 60, 100 * INCH]
