"""Motifs' centres on strip, pictures and cutting pages: where each front fold has one."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.drawing.marks import Mark, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from drapetemplate.planning.plan import plan
from drapetemplate.template.panel_drawing import template
from drapetemplate.ticket.cutting import cutting
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.hanging_pictures import window_views
from drapetemplate.ticket.job_ticket import ticket_paper
from drapetemplate.ticket.panel_pictures import flat_strip, from_front
from tests.helpers.jobfiles import inches, job_of
from tests.helpers.strips import FIXED

BIG = 'outside = "2 5/8"\nopening = "1 9/16"\nhole = "1 5/8"'
WINDOW = (
    'pattern = "folds"\nlength = 84\nleading = "1 1/2"\nreturn = 3\nwidth = "54 3/8"\ncount = 8\n'
    "fullness = 2"
)
STRIPE = '[fabric]\nwidth = 60\nrepeat_across = "6 3/4"\nmotif = 4'
MIRRORED_OFF = "[fabric]\nwidth = 18\nrepeat_across = 17\nmotif = 9\nmirrored = true"
FIRST = Fraction(99, 16)
"""Inches from the leading edge to the middle of the first front gap: 1 1/2 + 1 5/16 + 3 3/8."""


def striped(view: str = "face", tables: str = STRIPE, window: str = WINDOW) -> Job:
    """A pair, or one panel, of striped cloth on its folds."""
    return job_of(window, eyelet=BIG, tables=f'[paper]\nview = "{view}"\n{tables}')


def centres(marks: tuple[Mark, ...] | list[Mark], role: Role) -> list[float]:
    """Where lozenges of a role have their centres, from the left."""
    found = [mark for mark in marks if isinstance(mark, Polygon) and mark.role == role]
    return sorted(float(sum(x for x, _ in mark.points)) / 4 for mark in found)


@pytest.mark.parametrize(("view", "side"), [("face", 1), ("face", 0), ("back", 1), ("back", 0)])
def test_on_the_strip(view: str, side: int) -> None:
    """A lozenge under each F, from the leading edge as it lies: at the right of a left panel."""
    job = striped(view)
    panel = plan(job).windows[0].panels[side]
    drawn = template(job, plan(job).windows[0], panel, FIXED)
    from_leading = [(FIRST + n * Fraction(27, 2)) * INCH for n in range(4)]
    at_right = (panel.side == "left") != (view == "back")
    places = [panel.width - x if at_right else x for x in from_leading]
    assert centres(drawn.marks, Role.MOTIF) == pytest.approx(sorted(map(float, places)))
    letters = sorted(
        float(mark.x)
        for mark in drawn.marks
        if isinstance(mark, Text) and mark.role == Role.LETTER_FRONT
    )
    assert centres(drawn.marks, Role.MOTIF) == pytest.approx(letters)


def test_on_a_pairs_strip() -> None:
    """Where both panels have them at the same places they are drawn once, and else each its own."""
    job = striped()
    window = plan(job).windows[0]
    left, right = window.panels
    drawn = template(job, window, left, FIXED, right)
    assert len(centres(drawn.marks, Role.MOTIF)) == 4
    assert centres(drawn.marks, Role.OTHER_MOTIF) == []
    job = striped(tables=MIRRORED_OFF, window=WINDOW.replace("54 3/8", "60"))
    window = plan(job).windows[0]
    left, right = window.panels
    drawn = template(job, window, left, FIXED, right)
    first, other = (centres(drawn.marks, role) for role in (Role.MOTIF, Role.OTHER_MOTIF))
    # Both are as far toward their leading edges, which are at either end.
    assert len(first) == len(other) == 4
    assert first != pytest.approx(other)


def test_on_the_pictures() -> None:
    """One in each front fold, in the middle of it, from the front and flat."""
    job = striped()
    window = plan(job).windows[0]
    for panel in window.panels:
        assert panel.hang is not None
        flat = centres(flat_strip(job, panel, FIXED, 10).marks, Role.MOTIF)
        seen = [float(panel.seen_from_room(motif)) / 10 for motif in panel.motifs or ()]
        assert flat == pytest.approx(sorted(seen))
        closed = from_front(window, panel, panel.hang, 10)
        each, ring = panel.hang.closed.pole_per_gap, float(panel.outside)
        places = [(ring / 2 + (n + 0.5) * each) / 10 for n in (0, 2, 4, 6)]
        assert centres(closed.marks, Role.MOTIF) == pytest.approx(places)


def test_on_the_cutting_page() -> None:
    """The list says how far a motif's centre is from each piece's left edge; none without one."""
    job = striped()
    planned = plan(job)
    flow = paper_flow(ticket_paper(job, None), FIXED)
    marks = [mark for page in cutting(job, planned, flow) for mark in page]
    words = " ".join(m.text for m in marks if isinstance(m, Text) and m.role == Role.CUT_LIST)
    # A right panel's first piece begins 1 9/16 in from the selvage, the stripe's centre at 4 in.
    assert "a motif's centre 2 7/16 in from its left edge" in words
    assert centres(marks, Role.MOTIF)
    plain = striped(tables=STRIPE.replace("\nmotif = 4", ""))
    flow = paper_flow(ticket_paper(plain, None), FIXED)
    marks = [mark for page in cutting(plain, plan(plain), flow) for mark in page]
    assert centres(marks, Role.MOTIF) == []
    assert not any("motif" in mark.text for mark in marks if isinstance(mark, Text))


def test_what_a_motif_is_cut_by_is_of_windows_that_place_it() -> None:
    """A window whose pattern is at its seams alone has none, though its cloth has a motif."""
    job = striped(window=WINDOW.replace("folds", "seams"))
    (window,) = plan(job).windows
    assert window.panels[0].motifs is None
    assert window.panels[0].width == inches("54 3/8")


@pytest.mark.parametrize("brackets", [True, False])
def test_pictures_from_the_front_say_what_lozenges_are(*, brackets: bool) -> None:
    """On the hanging page, and on the client's, which has no brackets."""
    job = striped()
    (window,) = plan(job).windows
    (caption, picture), _ = window_views(job, window, FIXED, (180.0, 90.0), brackets=brackets)
    assert "; lozenges: motifs' centres" in caption
    assert len(centres(picture.marks, Role.MOTIF)) == 8  # four folds of each panel
