"""A job of two windows that differ in all but their cloth: each figure is its own window's.

Every row was worked out by hand, its sum beside it; only how far closed folds reach, which takes
more than a calculator, is left to the tests of whole jobs.
"""

from __future__ import annotations

from functools import cache

from drapetemplate import lay_out, plan_job
from drapetemplate.document.model import Page
from drapetemplate.drawing.roles import Role
from tests.helpers.jobfiles import job_of
from tests.helpers.marks import texts

EAST = """
name = "East"
width = 74
leading = 3
return = 3
count = 12
length = 84
[window.pole]
length = 80
"""
WEST = """
name = "West"
quantity = 2
panels = "left"
width = 45
leading = 3
return = 4
count = 8
length = 60
[window.eyelet]
outside = 3
opening = 2
hole = "2 1/4"
[window.pole]
top = 70
supports = 1
[window.fabric]
allowance = 5
"""
EYELET = 'outside = 2\nopening = 1\nhole = "1 1/8"\nthickness = "1/8"'
TABLES = """
[paper]
strips = "each"
[pole]
diameter = "1/2"
projection = 4
[fabric]
name = "gull linen"
width = 54
shrinkage = 0.05
weight = "8 oz/yd2"
"""

# East: (74 - 3 - 3 - 12 x 2)/11 = 4 in of gap, 6 of pitch, from 3 + 1 in; 66 in between the end
# centres. Its band is 2 + 2 in, centred: 1 above the flange, 1 + 1 to the line of the holes.
# It covers half of 80, of which end rings take 1 1/4: 66/40 = 1.65, 66/38 3/4 = 1.703.
# acos(sqrt(1/2)/1.00778) - atan(1/8) = 45.4 - 7.1 = 38.3; acos(0.5/1.00778) - 7.1 = 53.1.
# Cuts are 1.05 x (84 + 8 + 8) = 105 in; 80 x 105/1296 x 8 = 51.9 oz a panel.
EAST_ROWS = {
    "Eyelet outside": "2 in",
    "Opening": "1 in",
    "Hole to cut": "1 1/8 in",
    "Band height": "4 in",
    "Band cut": "74 in for each panel",
    "Top to eyelet": "1 in",
    "Leading": "3 in, leading edge to eyelet 1",
    "Return": "3 in, last eyelet to return edge",
    "Gaps": "6 front (F), 5 back (B)",
    "Pole covered": "40 in closed, first eyelet to last",
    "Fullness": "1.65 times, first eyelet to last",
    "On this pole": "38 3/4 in between end eyelets, 1.70 times: rings take the rest",
    "Stack": "15 in of pole, open",
    "Brackets": "1 1/4 in, 78 3/4 in from the pole's left end",
    "Pole past bracket": "1 1/4 in at each end, for the eyelet between it and the finial",
    "Folds, stacked": "to 3 in from pole's centre",
    "Rings turn": "38° before they lift off the pole's top; needs 45° to open and close",
    "Rings jam": "at 53°",
    "Weight, each panel": "3 lb 4 oz, eyelets not counted",
    "Fabric": "4 drops of 105 in: 420 in",
    "Fabric seams": "47 5/8 in from the leading edge, all hidden",
}
# West: (45 - 3 - 4 - 8 x 3)/7 = 2 in of gap, 5 of pitch, from 3 + 1 1/2 in. Its band is 3 + 2 in:
# 1 above the flange, 1 + 1 1/2 to the line of the holes.
# acos(1/2.0039) - atan(1/16) = 60.1 - 3.6 = 56.5; acos(0.5/2.0039) - 3.6 = 71.97.
# Its top is 1 + 1 1/2 - 1 in over the pole's, 71 1/2 in up, and its edge 60 in lower.
# Cuts are 1.05 x (60 + 10 + 8) = 81.9 in, up to eighths 82; 51 x 82/1296 x 8 = 25.8 oz.
WEST_ROWS = {
    "Eyelet outside": "3 in",
    "Opening": "2 in",
    "Hole to cut": "2 1/4 in",
    "Band height": "5 in",
    "Band cut": "45 in for each panel",
    "Top to eyelet": "1 in",
    "Leading": "3 in, leading edge to eyelet 1",
    "Return": "4 in, last eyelet to return edge",
    "Gaps": "4 front (F), 3 back (B)",
    "Stack": "10 in of pole, open",
    "Brackets": "1 between the ends, evenly apart",
    "Lower edge": "11 1/2 in off the floor",
    "Folds, stacked": "to 2 1/2 in from pole's centre",
    "Rings turn": "56° before they lift off the pole's top; needs 45° to open and close",
    "Rings jam": "at 71°",
    "Weight, each panel": "1 lb 10 oz, eyelets not counted",
    "Fabric": "2 drops of 82 in: 164 in",
}

# East's pair weighs 103.7 oz, and its two brackets bear half of it each, one panel.
EAST_HANGING = {
    "Pole": "80 in between the finials, 1/2 in thick",
    "Projection": "4 in, wall to pole's centre",
    "Brackets": "1 at 1 1/4 in; 2 at 78 3/4 in, from the pole's left end, none given between",
    "Left of bracket 1": "left panel's eyelet 12",
    "Between 1 and 2": "left panel's eyelets 11 to 1, right panel's eyelets 1 to 11",
    "Right of bracket 2": "right panel's eyelet 12",
    "Closed": "38 3/4 in between end eyelets, 1.70 times: rings take the rest",
    "Return": "3 in of cloth turns back to the wall",
    "Stack, open": "15 in each panel",
    "Weight on the pole": "6 lb 8 oz (2.9 kg), eyelets not counted",
    "Weight, each panel": "3 lb 4 oz (1.5 kg)",
    "Most on a bracket": (
        "1: 3 lb 4 oz (1.5 kg); 2: 3 lb 4 oz (1.5 kg); the pole's own weight comes to it"
    ),
}
WEST_HANGING = {
    "Pole": "length ________________, 1/2 in thick",
    "Top of pole": "70 in above the floor",
    "Brackets": "1 between the ends, evenly apart",
    "Return": "4 in of cloth turns back to the wall",
    "Stack, open": "10 in",
    "Lower edge": "11 1/2 in off the floor",
    "Weight on the pole": "1 lb 10 oz (0.7 kg), eyelets not counted",
}

CAPTIONS = (
    (
        "Closed: the window from the front; grey: folds behind the pole; black: brackets, numbered "
        "from the left. Scale 1:60 Open: 15 in each on the pole. Scale 1:60"
    ),
    (
        "Open: 15 in of pole, folds up to 3 in from pole's centre, 1 in free to the wall with "
        "1/2 in asked for. Scale 1:10"
    ),
    (
        "The left panel's heading laid flat, seen from the face, seams dotted; the right one's is "
        "its mirror image. Scale 1:10"
    ),
    (
        "Closed: the window from the front; grey: folds behind the pole; the pole's length isn't "
        "known, so its ends are drawn at the panels'. Scale 1:50 Open: 10 in on the pole. Scale "
    ),
    (
        "Open: 10 in of pole, folds up to 2 1/2 in from pole's centre, 1 1/2 in free to the wall "
        "with 1/2 in asked for. Scale 1:5"
    ),
    "The left panel's heading laid flat, seen from the face. Scale 1:6",
)


@cache
def pages(kind: str) -> tuple[Page, ...]:
    """The job's pages of one kind, laid out once."""
    return tuple(page for page in every_page() if page.label.startswith(kind))


@cache
def every_page() -> tuple[Page, ...]:
    """All pages of the job."""
    job = job_of(EAST, WEST, eyelet=EYELET, tables=TABLES)
    return tuple(page for document in lay_out(job, plan_job(job)) for page in document.pages)


def words(kind: str, *roles: Role) -> str:
    """What the pages of a kind say in order, all of it or in some roles."""
    return " ".join(text.text for page in pages(kind) for text in texts(page, *roles))


def sections(kind: str) -> dict[str, dict[str, str]]:
    """Under each heading its rows: names, and values whose lines are put together."""
    found: dict[str, dict[str, str]] = {}
    rows: dict[str, str] = {}
    name = ""
    for text in (text for page in pages(kind) for text in texts(page)):
        if text.role == Role.SECTION:
            rows = found.setdefault(text.text, {})
        elif text.role == Role.NAME:
            name = text.text
        elif text.role == Role.VALUE:
            rows[name] = f"{rows.get(name, '')} {text.text}".strip()
    return found


def test_each_window_has_its_own_figures() -> None:
    """Under each window stand its own figures, and its sheets are as many as are printed of it."""
    found = sections("ticket")
    for heading, rows, strips, sheets in (
        (
            "East: a pair",
            EAST_ROWS,
            ("East, left", "East, right"),
            "12 (6 + 6), letter, portrait, 2 parts on each",
        ),
        ("West: a left panel, make 2", WEST_ROWS, ("West, left",), "6, letter, landscape"),
    ):
        own = found[heading]
        assert own.items() >= rows.items()
        assert own["Template sheets"] == sheets
        assert [len(pages(f"{strip} panel, sheet")) for strip in strips] == [6] * len(strips)
        assert own.keys() - rows.keys() <= {"Folds, closed", "Free to the wall", "Template sheets"}


def test_at_a_glance() -> None:
    """Four panels, a pair and two left ones, of two windows."""
    assert words("ticket", Role.GLANCE) == "4 2"


def test_each_windows_holes() -> None:
    """Each window's holes stand under its line below the top, which its flange is centred on."""
    said = words("ticket", Role.TEXT)
    assert said == (
        "Hole centres, each from the leading edge, on the line 2 in below the panel's top "
        "Hole centres, each from the leading edge, on the line 2 1/2 in below the panel's top"
    )
    cells = [text.text for page in pages("ticket") for text in texts(page, Role.HOLE_CENTRE)]
    east = {str(n): f"{6 * n - 2} in" for n in range(1, 13)}
    west = {str(n): f"{5 * n - 1} 1/2 in" for n in range(1, 9)}
    assert dict(zip(cells[:36:3], cells[1:36:3], strict=True)) == east
    assert dict(zip(cells[36::3], cells[37::3], strict=True)) == west


def test_what_is_said_of_both_and_of_each() -> None:
    """As the whole job's stands only what both windows say; what one says has its name.

    Of the file's keys only the ring's depth, the pole's diameter and projection, the leading edge
    and the cloth are the same for both.
    """
    found = sections("ticket")
    given = found["The job in full"]
    assert {name: given[name] for name in ("East", "West")} == {
        "East": (
            "Finished width 74 in; Finished length 84 in; Return 3 in; Eyelets a panel 12; Usable "
            "pole 80 in"
        ),
        "West": (
            "Windows alike 2; Panels left; Finished width 45 in; Finished length 60 in; Return "
            "4 in; Eyelets a panel 8; Floor to pole top 70 in; Off the floor 1/2 in; Brackets "
            "between the ends 1; Fabric allowance 5 in"
        ),
    }
    assert list(given)[6:-2] == [
        *("Leading", "Ring thickness", "Spare eyelets", "Pole diameter", "Projection", "Fabric"),
        *("Fabric width", "Fabric railroaded", "Fabric weight", "Fabric shrinkage"),
    ]
    assumed = found["Assumed, since the job file doesn't say: check before cutting"]
    # What is assumed of both, under both's words, has no window's name.
    both = {
        name: assumed[name] for name in ("Hung on", "Stack, each eyelet", "Fabric seam allowance")
    }
    assert both == {
        "Hung on": "pole",
        "Stack, each eyelet": "1 1/4 in",
        "Fabric seam allowance": "1/2 in",
    }
    ours = {name: value for name, value in assumed.items() if value.endswith(("(East)", "(West)"))}
    assert ours == {
        "Panels": "pair (East)",
        "Pole covered": "40 in, half of pole.length (East)",
        "Band height": "4 in (East) 5 in (West)",
        "Fabric heading": "8 in, twice the band (East) 10 in, twice the band (West)",
        "Fabric allowance": "4 in, to square the start and cut round a flaw (East)",
        "Fullness": "2 times, for the folds (West)",
    }


def test_what_is_bought() -> None:
    """Eyelets and band by window, cloth together: 4 x 105 + 2 x 82 = 584 in and the 5 asked for.

    589 in are 16.36 yd; bands of 2 x 74 in are 4.11 yd and of 2 x 45 in 2 1/2.
    """
    bought = (
        "gull linen, 54 in wide: 16 1/2 yd (6 drops 584 in + 5 in allowance = 589 in) "
        "2 in outside, 1 in opening: 24, and one to test "
        "3 in outside, 2 in opening: 16, and one to test "
        "4 in high: 4 1/4 yd (148 in), and a piece to test "
        "5 in high: 2 1/2 yd (90 in), and a piece to test"
    )
    assert words("cutting", Role.VALUE) == bought


def test_the_cut_list() -> None:
    """Drops of both windows on one roll: East's seam is 1/2 in within its piece, West has none."""
    assert words("cutting", Role.CUT_LIST) == (
        "Drop 1 105 in long. Slit at 2 7/8 in: 2 7/8 in left over; East, left panel, piece 1 of 2, "
        "51 1/8 in wide "
        "Drop 2 105 in long. Slit at 24 1/8 in: 24 1/8 in left over; East, left panel, piece 2 of "
        "2, 29 7/8 in wide "
        "Drop 3 105 in long. Slit at 51 1/8 in: East, right panel, piece 1 of 2, 51 1/8 in wide; "
        "2 7/8 in left over "
        "Drop 4 105 in long. Slit at 29 7/8 in: East, right panel, piece 2 of 2, 29 7/8 in wide; "
        "24 1/8 in left over "
        "Drops 5, 6 82 in long. Slit at 3 in: 3 in left over; West, left panel, 51 in wide"
    )
    # From 315 on in the second row, which begins with the fourth drop.
    measures = "0 in 105 in 210 in 315 in 315 in 420 in 502 in 584 in"
    assert words("cutting", Role.RUNNING_MEASURE) == measures
    captions = words("cutting", Role.CAPTION)
    assert "Cut lengths include 5 % for shrinkage." in captions
    east = (
        "Finished width 74 in, finished length 84 in. Cloth turned in: side hems 3 in each edge, "
        "heading 8 in, bottom hem 8 in. Seams, as finished, from the leading edge: 47 5/8 in. "
        "Pieces as cut, from the same edge: 1 is 51 1/8 in, 2 is 29 7/8 in. Seam allowance 1/2 in "
        "on each piece."
    )
    west = (
        "Finished width 45 in, finished length 60 in. Cloth turned in: side hems 3 in each edge, "
        "heading 10 in, bottom hem 8 in."
    )
    assert east in captions
    assert west in captions


def test_what_a_taped_strip_may_be_off() -> None:
    """Each strip's own measure, with a 400th of it and 1/4 mm a join, down to 1/32 in.

    1879.6/400 + 10/4 = 7.2 mm; 1143/400 + 5/4 = 4.1 mm. East's 11 parts lie two on a sheet.
    """
    steps = words("ticket", Role.STEP)
    for strip in (
        "Strip A, East: 74 in, and may be off by 9/32 in.",
        "Strip C, East: 74 in, and may be off by 9/32 in.",
        "Strip D, West: 45 in, and may be off by 5/32 in.",
    ):
        assert strip in steps


def test_how_each_hangs() -> None:
    """The hanging pages have each window's own figures, and its pictures its own measures."""
    found = sections("hanging")
    assert found["East: how it hangs"].items() >= EAST_HANGING.items()
    assert found["West: how it hangs"].items() >= WEST_HANGING.items()
    captions = words("hanging", Role.CAPTION)
    for caption in CAPTIONS:
        assert caption in captions
    sizes = words("hanging", Role.SIZE).split(" finished width ")
    assert "pole covered 40 in each" in sizes[0]
    assert sizes[1].startswith("74 in")
    assert sizes[2] == "45 in"
    assert "pole's top 70 in" in sizes[1]
