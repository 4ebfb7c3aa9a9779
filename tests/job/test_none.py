"""`none` in a job file: a window takes back what the whole file says."""

from __future__ import annotations

import pytest

from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from tests.helpers.jobfiles import LEAST

PATTERNED = """\
[job]
name = "Heron Point, den"
[eyelet]
outside = 2
opening = 1
[fabric]
width = 54
repeat_down = 27
repeat_across = 13.5
[lining]
width = 48
repeat_down = 20
[[window]]
width = 74
[[window]]
width = 74
"""


def _job(text: str) -> Job:
    return read_job(text.encode(), "job.toml")


@pytest.mark.parametrize("none", ["none", "None", "NONE"])
def test_none_takes_a_repeat_back(none: str) -> None:
    """A window's cloth may be plain one way or both, and keeps what else the file says of it."""
    own = f'[window.fabric]\nrepeat_down = "{none}"\n[window.lining]\nrepeat_down = "{none}"\n'
    first, second = _job(PATTERNED + own).windows
    assert first.fabric is not None
    assert second.fabric is not None
    assert second.lining is not None
    assert first.fabric.repeat_down == 27 * INCH
    assert (second.fabric.repeat_down, second.lining.repeat_down) == (None, None)
    assert (second.fabric.repeat_across, second.lining.width) == (INCH * 27 / 2, 48 * INCH)


@pytest.mark.parametrize("none", ["none", "None", "NONE"])
def test_none_takes_the_lining_back(none: str) -> None:
    """One window may be unlined where the file has a lining; the others keep it."""
    first, second = _job(f'{PATTERNED}lining = "{none}"\n').windows
    assert (first.lining is None, second.lining) == (False, None)
    assert not [one for one in second.assumed if one.key.startswith("lining.")]


def test_none_of_nothing() -> None:
    """To have none of what nobody gave is no fault; of the whole file a repeat is none so too."""
    text = LEAST + 'lining = "none"\n[fabric]\nrepeat_down = "none"\nrepeat_across = "none"\n'
    (window,) = _job(text).windows
    assert window.lining is None
    assert window.fabric is not None
    assert (window.fabric.repeat_down, window.fabric.repeat_across) == (None, None)


@pytest.mark.parametrize(
    ("more", "where", "right"),
    [
        ('lining = "yes"', "window[2].lining", 'or lining = "none"'),
        ('fabric = "none"', "window[2].fabric", "write [window.fabric] in single brackets"),
        (
            '[window.fabric]\nlining = "none"',
            "window[2].fabric.lining",
            "put it right below [[window]], before [window.fabric]",
        ),
        ('[window.fabric]\nwidth = "none"', "window[2].fabric.width", "is not a length"),
        ("[window.eyelet]\nseam = 1", "window[2].eyelet.seam", "seam belongs in [window.fabric]"),
    ],
)
def test_none_where_it_means_nothing(more: str, where: str, right: str) -> None:
    """A word that isn't none, and none where something is needed, say what would be right."""
    with pytest.raises(JobError) as caught:
        _job(f"{PATTERNED}{more}\n")
    (fault,) = caught.value.faults
    assert fault.where == where
    assert right in fault.text
