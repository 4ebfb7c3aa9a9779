"""The hanging pages: every window's pictures, those of windows alike once, with sizes drawn."""

from __future__ import annotations

import pytest

from drapetemplate.drawing.marks import Line, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.hanging_pictures import hanging
from drapetemplate.ticket.job_ticket import ticket_paper
from drapetemplate.ticket.panel_views import window_pictures
from tests.helpers.jobfiles import RING, job_of, job_toml
from tests.helpers.marks import texts

INCH = 25.4
EIGHT = "width = 60\ncount = 8\nfullness = 2\nlength = 84"
POLE = '[pole]\nprojection = 4\ndiameter = "5/8"'


def pages(*windows: str, tables: str = POLE, eyelet: str = RING) -> list[list[str]]:
    """The words of each hanging page."""
    job = read_job(job_toml(*windows, tables=tables, eyelet=eyelet).encode(), "job.toml")
    flow = paper_flow(ticket_paper(job, None), typeface())
    return [[text.text for text in texts(page)] for page in hanging(job, plan(job), flow)]


def test_windows_alike_once() -> None:
    """Windows that differ in name and number alone are drawn once, named both."""
    found = pages(f'name = "Bay"\n{EIGHT}', f'name = "Hall"\nquantity = 2\n{EIGHT}')
    heads = [words for page in found for words in page if "how it hangs" in words]
    assert heads == ["Bay + Hall: how it hangs"]


def test_one_page_a_window() -> None:
    """A usual window has its five pictures on one page, two and two of them side by side.

    Each is named by what it shows: no name is a side, which could be a panel's.
    """
    [words] = pages(EIGHT)
    assert words[-1] == "hanging, page 1 of 1"
    starts = (
        *("Closed: the window from the front", "Open: 10 in each on the pole"),
        *("Closed, fullness 2", "Open: 10 in of pole, folds", "The left panel's heading laid"),
    )
    assert [sum(line.startswith(start) for line in words) for start in starts] == [1] * 5
    assert not [line for line in words if line.startswith(("Left", "Right"))]


def test_a_single_panel_opens_to_one_side() -> None:
    """Its left end stays at the wall as it is drawn; the other can pass no bracket."""
    [words] = pages(f'{EIGHT}\npanels = "single"')
    said = " ".join(words)
    assert "Open: 10 in on the pole, drawn to the left: its left end stays at the wall, " in said
    assert "or as well to the right" in said
    assert "To draw it open the end that moves hangs inside its bracket, not past it" in said
    assert "drawn to the left" not in " ".join(*pages(EIGHT))


def test_none_on_hooks() -> None:
    """What hangs on hooks has nothing to show but its holes: the ticket has them."""
    assert pages("width = 60", tables="", eyelet=RING + '\nhung = "hooks"') == []


@pytest.mark.parametrize(
    ("units", "sizes"),
    [
        # 60 - 1 1/2 - 3 - 2 = 53 1/2 in of cloth from the first centre to the last, hung twice
        # as full: 26 3/4 in of pole.
        ("in", ["26 3/4 in", "84 in", "60 in"]),
        ("mm", ["679 mm", "2133.6 mm", "1524 mm"]),
    ],
)
def test_sizes(units: str, sizes: list[str]) -> None:
    """Covered pole, length and width are drawn from end to end of what they measure, and said."""
    window = "\n".join(f'{line} in"' for line in EIGHT.replace("= ", '= "').split("\n"))
    window = window.replace('"8 in"', "8").replace('"2 in"', "2") + '\nreturn = "3 in"'
    head = f'units = "{units}"\n'
    pole = '[pole]\nprojection = "4 in"\ndiameter = "5/8 in"'
    eyelet = 'outside = "2 in"\nopening = "1 in"'
    job = job_of(f'{window}\nleading = "1 1/2 in"', head=head, tables=pole, eyelet=eyelet)
    shots = window_pictures(job, plan(job).windows[0], typeface(), 190)
    (_, _), (_, _), (caption, front), (_, flat) = shots
    assert "grey: the folds behind the pole (B)" in caption
    words = [text.text for one in (front, flat) for text in texts(one, Role.SIZE)]
    assert words == [
        f"pole covered {sizes[0]}, first eyelet to last",
        f"finished length {sizes[1]}",
        f"finished width {sizes[2]}",
    ]
    level, _, _, upright, *_ = [m for m in front.marks if m.role == Role.SIZE_LINE]
    assert isinstance(level, Line)
    assert isinstance(upright, Line)
    assert float(level.x2 - level.x1) * front.scale == pytest.approx(26.75 * INCH, rel=1e-3)
    assert float(upright.y2 - upright.y1) * front.scale == pytest.approx(84 * INCH)
    # Beside the panel, and as far as it goes.
    [panel] = [m for m in front.marks if m.role == Role.PANEL]
    assert isinstance(panel, Polygon)
    xs, ys = zip(*panel.points, strict=True)
    assert (min(ys), max(ys)) == pytest.approx((upright.y1, upright.y2))
    assert (min(xs), max(xs)) == pytest.approx((level.x1, level.x2))
    assert level.y1 < min(ys)
    assert upright.x1 > max(xs)
    [across, *_] = [m for m in flat.marks if m.role == Role.SIZE_LINE]
    assert isinstance(across, Line)
    assert float(across.x2 - across.x1) * flat.scale == pytest.approx(60 * INCH)


def test_grey_is_named() -> None:
    """Either grey is named where it is drawn: the pole from above, the back folds in front."""
    [words] = pages(EIGHT)
    said = " ".join(words)
    assert "grey along the rings: the pole" in said
    assert "grey: folds behind the pole" in said
    [words] = pages(EIGHT, tables="[pole]\nprojection = 4")
    assert "the pole. Closed" not in " ".join(words)


def test_figures_for_whoever_hangs_it() -> None:
    """Pole height, length and projection, brackets, eyelets between them, stack, weights."""
    tables = (
        '[pole]\nprojection = 4\ndiameter = "5/8"\nlength = 66\ntop = 84\nsupports = 1\n'
        '[fabric]\nweight = "300 gsm"\n[paper]\nsize = "a4"'
    )
    window = "width = 60\ncount = 8\nfullness = 2\nlength = 84\nglass = 50"
    [words] = pages(window, tables=tables)
    said = " ".join(words)
    for figure in (
        *("66 in between the finials", "84 in above the floor", "4 in, wall to pole's centre"),
        *("1 at 1 1/4 in; 2 at 33 in; 3 at 64 3/4 in", "left panel's eyelets 7 to 1"),
        *("10 in each panel", "2 in covered at either side", "Most on a bracket"),
    ):
        assert figure in said, figure


def test_cautions_are_on_the_page() -> None:
    """Makers' ratings, licensed trades, wires, ladders and heaters, before the first window."""
    [words] = pages(EIGHT)
    before = " ".join(words[: words.index("Window 1: how it hangs")])
    for word in ("Ladders", "makers' ratings", "wires", "licensed trade", "heaters"):
        assert word in before


def test_what_is_wrong_is_on_the_page() -> None:
    """A panel that would have to pass a bracket is told to whoever hangs it."""
    tables = '[pole]\nprojection = 4\ndiameter = "5/8"\nsupports = 1'
    [words] = pages(f"{EIGHT}\npanels = 'single'", tables=tables)
    assert any("eyelets can't pass the bracket" in line for line in words)
