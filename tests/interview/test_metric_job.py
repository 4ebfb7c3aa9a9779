"""A job in mm or cm is offered round figures of its own, in its prompts and in its file."""

from __future__ import annotations

import pytest

from drapetemplate.interview.job_text import job_text
from drapetemplate.interview.states import prompt
from drapetemplate.job.build import read_job
from tests.helpers.talk import after, dialogue

METRIC = {
    "units": "mm",
    "job.name": "Heron Point, hall",
    "window[1].width": "2240",
    "window[1].length": "2100",
    "window[1].?pole": "yes",
    "window[1].?eyelet": "yes",
    "pole.top": "2200",
    "eyelet.outside": "66",
    "eyelet.opening": "44",
    "window[1].?cloth": "yes",
    "window[1].?hems fabric": "yes",
    "window[1].?lining": "yes",
    "window[1].?hems lining": "yes",
    "?paper": "yes",
}
OFFERED = {
    "paper.size": "a4",
    "paper.margin": "12 mm (≈ 1/2 in)",
    "paper.overlap": "12 mm (≈ 1/2 in)",
    "window[1].leading": "40 mm (≈ 1 9/16 in)",
    "window[1].return": "75 mm (≈ 2 15/16 in)",
    "window[1].stack_each": "32 mm (≈ 1 1/4 in)",
    "band.height": "the eyelet and 50 mm",
    "pole.wall_clearance": "12 mm (≈ 1/2 in)",
    "pole.off_floor": "12 mm (≈ 1/2 in)",
    "fabric.seam": "15 mm (≈ 9/16 in)",
    "fabric.side_hem": "75 mm (≈ 2 15/16 in)",
    "fabric.bottom_hem": "200 mm (≈ 7 7/8 in)",
    "fabric.allowance": "100 mm (≈ 3 15/16 in)",
    "lining.side_hem": "40 mm (≈ 1 9/16 in)",
    "lining.bottom_hem": "100 mm (≈ 3 15/16 in)",
    "lining.set_in": "40 mm (≈ 1 9/16 in)",
    "lining.short": "25 mm (≈ 1 in)",
}
INCHES = {
    "paper.size": "letter",
    "paper.margin": "1/2 in (12.7 mm)",
    "window[1].leading": "1 1/2 in (38.1 mm)",
    "window[1].return": "3 in (76.2 mm)",
    "band.height": "the eyelet and 2 in",
    "fabric.seam": "1/2 in (12.7 mm)",
    "lining.short": "1 in (25.4 mm)",
}


@pytest.mark.parametrize(
    ("units", "offered"), [({}, OFFERED), ({"units": "in"}, INCHES)], ids=["mm", "in"]
)
def test_what_is_offered(units: dict[str, str], offered: dict[str, str]) -> None:
    """An empty line takes what is usual in the job's own units, and the prompt says it."""
    measures = {} if not units else {"window[1].width": "88", "window[1].length": "84"}
    ring = {} if not units else {"pole.top": "96", "eyelet.outside": "3", "eyelet.opening": "2"}
    state, _ = dialogue(METRIC | units | measures | ring)
    paths = [answer.path for answer in state.answers]
    for path, words in offered.items():
        back = after(f"back {paths.index(path) + 1}", state=state)
        assert prompt(back)[-1] == f"Enter: {words}.", path


def test_the_file_has_them_too() -> None:
    """What the file shows behind a # is what the job takes, so that uncommented nothing changes."""
    state, _ = dialogue(METRIC)
    text = job_text(dict(state.answers))
    assert '# size = "a4"' in text
    assert '# leading = "40 mm"' in text
    assert '# short = "25 mm"' in text
    job = read_job(text.encode(), "job.toml")
    uncommented = text.replace('# leading = "40 mm"', 'leading = "40 mm"')
    again = read_job(uncommented.encode(), "job.toml")
    assert job.windows[0].leading == again.windows[0].leading == 40
