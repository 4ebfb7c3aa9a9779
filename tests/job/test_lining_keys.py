"""A lining's own keys: how it is joined, and what is assumed of it then."""

from __future__ import annotations

import pytest

from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Assumption, Job
from drapetemplate.measures import INCH
from tests.helpers.jobfiles import LEAST

LINED = f"""{LEAST}
[window.lining]
seam = "5/8"
"""


def _job(text: str) -> Job:
    return read_job(text.encode(), "job.toml")


def _assumed(assumed: tuple[Assumption, ...]) -> dict[str, str]:
    return {one.key: one.value for one in assumed}


def test_a_lining_hangs_loose() -> None:
    """What a lining leaves out is common practice, listed as assumed; a face has none of it."""
    window = _job(LINED.replace("[window.lining]", "[window.fabric]\n[window.lining]")).windows[0]
    lining, face = window.lining, window.fabric
    assert lining is not None
    assert face is not None
    assert (lining.joined, lining.set_in, lining.short) == ("loose", INCH * 3 / 2, INCH)
    assert (lining.side_hem, lining.bottom_hem) == (INCH * 3 / 2, 4 * INCH)
    assert lining.heading == 0
    assert face.joined is None
    assert face.set_in == face.short == 0
    found = _assumed(window.assumed)
    assert {key: text for key, text in found.items() if key.startswith("lining.")} == {
        "lining.joined": "loose",
        "lining.heading": "0 in, caught under the face's heading",
        "lining.side_hem": "1 1/2 in",
        "lining.bottom_hem": "4 in",
        "lining.set_in": "1 1/2 in, from each side edge of the face",
        "lining.short": "1 in, above the face's foot",
        "lining.shrinkage": "0",
        "lining.allowance": "4 in, to square the start and cut round a flaw",
    }


def test_a_bagged_lining_is_as_large_as_the_face() -> None:
    """Its seams are all it takes beyond that, unless it says more; so it is listed."""
    (window,) = _job(f'{LINED}joined = "Bagged"\nbottom_hem = 3').windows
    lining = window.lining
    assert lining is not None
    assert lining.joined == "bagged"
    assert lining.set_in == lining.short == lining.heading == 0
    assert (lining.side_hem, lining.bottom_hem) == (INCH * 5 / 8, 3 * INCH)
    found = _assumed(window.assumed)
    assert {key: text for key, text in found.items() if key.startswith("lining.")} == {
        "lining.heading": "0 in, caught under the face's heading",
        "lining.side_hem": "5/8 in, bagged: a seam, no hem",
        "lining.set_in": "0 in, bagged: as wide as the face",
        "lining.short": "0 in, bagged: as long as the face",
        "lining.shrinkage": "0",
        "lining.allowance": "4 in, to square the start and cut round a flaw",
    }


@pytest.mark.parametrize(
    ("table", "line", "where", "text"),
    [
        (
            "lining",
            'joined = "pillow"',
            "window[1].lining.joined",
            '"pillow" is not known here: write "loose" or "bagged"',
        ),
        (
            "lining",
            'joined = "bag"',
            "window[1].lining.joined",
            '"bag" is not known here: did you mean bagged? write "loose" or "bagged"',
        ),
        ("lining", "short = -1", "window[1].lining.short", "-1 is negative"),
        (
            "fabric",
            "short = 1",
            "window[1].fabric.short",
            "unknown here: short belongs in [window.lining]",
        ),
    ],
)
def test_what_a_lining_cant_be(table: str, line: str, where: str, text: str) -> None:
    """How it is joined is one of two words, and a face has none of these keys."""
    with pytest.raises(JobError) as caught:
        _job(f"{LEAST}\n[window.{table}]\n{line}\n")
    (fault,) = caught.value.faults
    assert fault.where == where
    assert fault.text.startswith(text)
