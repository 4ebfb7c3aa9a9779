"""A stepping template: three pieces that mark a whole panel, and the steps in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.document.job_document import document
from drapetemplate.drawing.marks import Circle, Line, Text
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from drapetemplate.planning.model import PanelPlan
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.template import stepping
from drapetemplate.template.strip import Template
from tests.helpers.jobfiles import job_of
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED, Spec, inches

# S = (60 - 1 1/2 - 3 - 12 x 2)/11 = 63/22 in, P = S + 2.
TWELVE = Spec(width="60", count="12", outside="2")
PITCH = (Fraction(63, 22) + 2) * INCH
SEAMS = {Role.SEAM, Role.SEAM_LABEL, Role.OTHER_SEAM, Role.OTHER_LABEL}


def stepped(spec: Spec) -> tuple[Job, PanelPlan, tuple[Template, ...]]:
    """A job that asks for stepping, its first panel and the templates that are printed for it."""
    job = spec.job()
    job = replace(job, paper=replace(job.paper, style="stepping"))
    planned = plan(job)
    found = strip_list(job, planned.windows, None)
    return job, planned.windows[0].panels[0], found.strips[0].templates(job, FIXED)


def xs(template: Template, role: Role) -> list[Fraction]:
    """Where the whole circles of one role are, from left to right."""
    return sorted(Fraction(m.x) for m in template.marks if isinstance(m, Circle) and m.role == role)


def ends(template: Template) -> list[Fraction]:
    """Where the panel's ends are on a piece."""
    return [
        Fraction(m.x1) for m in template.marks if isinstance(m, Line) and m.role == Role.PANEL_END
    ]


@searched(40)
@given(
    panels=st.sampled_from(["left", "right", "single"]),
    view=st.sampled_from(["face", "back"]),
    count=st.sampled_from(["8", "10", "16"]),
    return_=st.sampled_from(["1", "3", "5 1/4"]),
)
def test_steps_rebuild_the_panel(panels: str, view: str, count: str, return_: str) -> None:
    """The near end, steps of A to C, and the far end give every hole's place, to the last digit."""
    spec = TWELVE.but(panels=panels, view=view, count=count, return_=return_)
    _, panel, (near, step, far) = stepped(spec)
    leading = inches(return_ if panels == "single" else "1 1/2") * INCH
    pitch = (60 * INCH - leading - inches(return_) * INCH - int(count) * 2 * INCH) / (
        int(count) - 1
    ) + 2 * INCH
    [end] = ends(near)
    holes = sorted(abs(x - end) for x in xs(near, Role.HOLE))
    assert holes == [leading + INCH, leading + INCH + pitch]
    a, b, c = xs(step, Role.HOLE)
    assert (b - a, c - b) == (pitch, pitch)
    found = [holes[0]]
    while len(found) < panel.count - 1:
        found += [found[-1] + (b - a), found[-1] + (c - a)]
    [end] = ends(far)
    last_two = sorted((abs(x - end) for x in xs(far, Role.HOLE)), reverse=True)
    assert last_two == [inches(return_) * INCH + INCH + pitch, inches(return_) * INCH + INCH]
    found.append(found[-1] + last_two[0] - last_two[1])
    assert tuple(found) == panel.centers
    assert found[-1] + last_two[1] == 60 * INCH


@pytest.mark.parametrize("panels", ["left", "right"])
def test_stepping_piece_reads(panels: str) -> None:
    """Its holes are A, B, C from the leading edge on, its gaps front then back, no panel end."""
    _, _, (_, step, _) = stepped(TWELVE.but(panels=panels))
    words = sorted((m for m in step.marks if isinstance(m, Text)), key=lambda m: float(m.x))
    order = [m.text for m in words if m.role == Role.NUMBER or m.role in LETTERS.values()]
    # Half a gap shows at either side, whose letters are cut away.
    expected = ["A", "F", "B", "B", "C"]
    assert order == (expected if panels == "right" else expected[::-1])
    measures = {m.text for m in words if m.role == Role.MEASURE}
    # P = 4.8636 in, to 1/16 in 4 7/8; 2 P = 9.7273 in, 9 3/4.
    assert measures == {"on the last odd hole", "A + ≈ 4 7/8 in", "A + ≈ 9 3/4 in"}
    assert ends(step) == []
    assert step.closing == "≈ 9 3/4 in from hole A to hole C"


def test_a_motif_is_whole_or_not_there() -> None:
    """The stepping piece has one under its F; of the one half a gap past C nothing is left.

    Eyelets stand 6 3/4 in apart, and the piece begins half of that before A's centre: a motif's is
    half of it past A's.
    """
    job = job_of(
        'pattern = "folds"\nlength = 84\nwidth = 90\nreturn = 3\npanels = "right"',
        eyelet='outside = "2 5/8"\nopening = "1 9/16"\nhole = "1 5/8"',
        tables=(
            '[paper]\nstyle = "stepping"\n[fabric]\nwidth = 54\nrepeat_across = "6 3/4"\n'
            "motif = 4\n[pole]\nprojection = 4"
        ),
    )
    near, step, far = strip_list(job, plan(job).windows, None).strips[0].templates(job, FIXED)
    for piece in (near, step, far):  # a lozenge and its dot each
        assert len([mark for mark in piece.marks if mark.role == Role.MOTIF]) == 2
    assert xs(step, Role.MOTIF) == [Fraction(27, 4) * INCH]


def test_seams_only_where_they_are() -> None:
    """A seam is on an end piece if it is there, and never on the stepping piece."""
    spec = TWELVE.but(fabric="30")
    job, panel, pieces = stepped(spec)
    assert panel.seams
    near_end = pieces[0].strip.length
    for piece, lo, hi in (
        (pieces[0], Fraction(0), near_end),
        (pieces[2], panel.width - pieces[2].strip.length, panel.width),
    ):
        drawn = [m for m in piece.marks if m.role == Role.SEAM]
        assert len(drawn) == sum(lo <= seam <= hi for seam in panel.seams)
    assert not [m for m in pieces[1].marks if m.role in SEAMS]
    assert job.paper.style == "stepping"


@pytest.mark.parametrize("panels", ["left", "right", "single"])
def test_pieces_measure_as_the_panel_does(panels: str) -> None:
    """A piece's place is measured from the panel's edge, not from the piece's own."""
    return_ = "1 1/2" if panels == "single" else "3"
    _, panel, pieces = stepped(TWELVE.but(panels=panels, return_=return_))
    for piece in pieces:
        for ring in piece.strip.rings:
            assert piece.strip.measure(ring.x) == panel.centers[ring.number - 1]


@pytest.mark.parametrize("count", ["2", "4", "6"])
def test_few_eyelets_are_printed_whole(count: str) -> None:
    """With fewer than eight eyelets stepping would save nothing, so the strip is whole."""
    _, panel, templates = stepped(TWELVE.but(count=count))
    [whole] = templates
    assert whole.strip.length == panel.width


@searched(30)
@given(count=st.integers(8, 40), hung=st.sampled_from(["pole", "hooks"]))
def test_every_hole_has_its_step(count: int, hung: str) -> None:
    """Every hole after the first is B or C of one step, but the last one where the far end has it.

    On hooks a count may be odd: then the last is a C.
    """
    count -= count % 2 if hung == "pole" else 0
    spec = Spec(width="120", outside="1", hole="1/2", count=str(count), hung=hung)
    job, panel, _ = stepped(spec)
    told = list(stepping.steps(panel, job.units))
    assert [n for n, _ in told] == list(range(1, len(told) + 1))
    holes = [int(w.split("hole ")[1].split(",")[0]) for _, words in told for w in words[1:]]
    assert holes == list(range(2, count + count % 2))
    assert [words[0] for _, words in told] == [f"A on hole {2 * n - 1}" for n, _ in told]


def test_sheets_as_planned() -> None:
    """The document has the pages that the plan counted, a page of steps, and no assembly."""
    job, _, _ = stepped(TWELVE.but(panels="left"))
    planned = plan(job)
    labels = [page.label for page in document(job, planned, FIXED).pages]
    sheets = [label for label in labels if "sheet" in label]
    assert len(sheets) == strip_list(job, planned.windows, None).sheets
    assert len([label for label in labels if "stepping" in label and "sheet" not in label]) == 1
    assert not [label for label in labels if "assembly" in label]
    whole = replace(job, paper=replace(job.paper, style="whole"))
    assert len(sheets) < strip_list(whole, planned.windows, None).sheets


def _pages(job: Job, name: str) -> list[str]:
    """All that the pages so named say, in order."""
    return [
        mark.text
        for page in document(job, plan(job), FIXED).pages
        if name in page.label
        for mark in page.marks
        if isinstance(mark, Text)
    ]


@pytest.mark.parametrize(
    ("count", "hung", "last_c", "far"),
    [
        # A is on 1, 3, 5 ... and C two on: of 10 holes the last C is 9, and of 9 likewise.
        (10, "pole", 9, "with its hole 9 on the last hole traced, its band lines on the band's"),
        (9, "hooks", 9, "on the last two holes traced; trace the panel end."),
    ],
)
def test_the_far_end_is_laid_where_the_steps_end(
    count: int, hung: str, last_c: int, far: str
) -> None:
    """The page says on which hole the far end lies, and that is the last one the steps give."""
    spec = Spec(width="120", outside="1", hole="1/2", count=str(count), hung=hung)
    job, panel, _ = stepped(spec)
    *_, (_, words) = stepping.steps(panel, job.units)
    assert words[-1].startswith(f"C is hole {last_c}, ")
    said = " ".join(_pages(job, "stepping"))
    assert f"Lay the far end {far}" in said
    assert ("trace hole 10 and the panel end." in said) == (count == 10)


def test_each_panel_of_a_pair_is_stepped_by_itself() -> None:
    """Steps run one way, from one panel's own edge: strips for both would mislead."""
    job = job_of("width = 60\ncount = 10", tables='[paper]\nstyle = "stepping"\nstrips = "one"')
    found = strip_list(job, plan(job).windows, None)
    assert [one.panel.side for one in found.strips] == ["left", "right"]
    assert all(one.other is None for one in found.strips)


def test_ticket_of_pieces() -> None:
    """No piece is as long as the panel, so none is to be measured for it; both turns are told."""
    # On A4 at 60 in and 8 eyelets the ends lie along the sheet and the stepping piece across it.
    tables = '[paper]\nstyle = "stepping"\nsize = "a4"'
    job = job_of('width = 60\ncount = 8\npanels = "left"', tables=tables)
    [strip] = strip_list(job, plan(job).windows, None).strips
    tilings = strip.tilings
    turns = list(dict.fromkeys(one.orientation for one in tilings))
    assert len(turns) == 2
    said = " ".join(_pages(job, "ticket"))
    assert "Check each piece: what its last sheet says." in said
    assert "Then step it along the band" in said
    assert "from panel end to panel end" not in said
    assert f"A4, {turns[0]} and {turns[1]}" in said


@pytest.mark.parametrize(("panels", "edge"), [("left", "leading"), ("single", "left")])
def test_seams_are_marked_by_ruler(panels: str, edge: str) -> None:
    """Where pieces are stepped the page says where the seam is, from the edge all is measured from.

    12 eyelets 6 in apart, the first at 4 in: behind the eighth's flange, 4 + 42 + 1 + 5/8.
    """
    body = f'width = 74\nreturn = 3\ncount = 12\nlength = 84\npanels = "{panels}"'
    body += "" if panels == "single" else "\nleading = 3"
    job = job_of(body, tables='[paper]\nstyle = "stepping"\n[fabric]\nwidth = 54')
    said = " ".join(_pages(job, "Window 1"))
    assert f"Mark them by ruler, from the {edge} edge: 47 5/8 in." in said
