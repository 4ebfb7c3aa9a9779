"""Strips that several panels share: panels alike over windows, and both panels of a pair."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest

from drapetemplate import drawing
from drapetemplate.document.job_document import document, documents
from drapetemplate.drawing.marks import Circle, Line, Mark, Text
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.report.plan_json import as_json
from drapetemplate.sheets.strip_list import StripList, strip_list
from drapetemplate.template.strip import Template
from tests.helpers.jobfiles import job_of
from tests.helpers.strips import FIXED

MM = 'units = "mm"'
RING = 'outside = "50 mm"\nopening = "30 mm"'
WINDOW = "width = 1000\nleading = 40\nreturn = 90\ncount = 6"
ONE = '[paper]\nstrips = "one"\nsize = "a4"'
EACH = '[paper]\nstrips = "each"'


def made(*windows: str, tables: str = EACH, eyelet: str = RING) -> tuple[Job, StripList]:
    """A job in mm and its strips."""
    job = job_of(*windows, head=MM, tables=tables, eyelet=eyelet)
    return job, strip_list(job, plan(job).windows, None)


def templates(job: Job, found: StripList) -> list[Template]:
    """Every strip with its marks."""
    return [strip.template(job, FIXED) for strip in found.strips]


def ticket_words(job: Job) -> list[str]:
    """All the ticket's words, in order."""
    return [
        mark.text
        for page in document(job, plan(job), FIXED).pages
        if page.label.startswith("ticket")
        for mark in page.marks
        if isinstance(mark, Text)
    ]


def test_windows_alike() -> None:
    """Two windows alike take one strip a side, named for both, to be made for all their panels."""
    job, found = made(
        f'name = "Bay"\nquantity = 2\n{WINDOW}', f'name = "Hall"\nquantity = 3\n{WINDOW}'
    )
    assert found.numbers == ((0, 1), (0, 1))
    told = [(one.window, one.panel, one.quantity) for one in templates(job, found)]
    assert told == [("Bay + Hall", "left panel", 5), ("Bay + Hall", "right panel", 5)]
    labels = {page.label.rsplit(", ", 1)[0] for page in document(job, plan(job), FIXED).pages}
    assert {"Bay + Hall, left panel", "Bay + Hall, right panel"} == {
        label for label in labels if "panel" in label
    }


def lettered(letters: str, style: str = "whole") -> list[str]:
    """What the pieces of six different strips are called, in a job with these gap letters."""
    windows = [f'name = "{n}"\npanels = "left"\n{WINDOW.replace("6", "8")}' for n in range(6)]
    windows = [text.replace("1000", f"{1500 + n}") for n, text in enumerate(windows)]
    tables = f'[paper]\nsize = "a3"\nstyle = "{style}"\nletters = {letters}'
    _, found = made(*windows, tables=tables)
    return [letter for strip in found.strips for letter in strip.letters]


@pytest.mark.parametrize(
    ("letters", "names"),
    [
        pytest.param('["F", "B"]', "A C D E G H", id="the-usual"),
        pytest.param('["V", "H"]', "A B C D E F", id="later-ones"),
        pytest.param('["a", "C"]', "B D E F G H", id="small"),
        pytest.param('["\uff21", "xy"]', "B C D E F G", id="wide-form"),
        pytest.param('["AB", "BA"]', "A B C D E F", id="longer-ones"),
    ],
)
def test_letters_of_strips_are_no_gaps(letters: str, names: str) -> None:
    """A letter that stands in gaps names no strip: B on a sheet is the back gap, and nothing else.

    Letters told apart by form or case alone are one.
    """
    assert lettered(letters) == names.split()


def test_letters_of_pieces_are_no_gaps_or_holes() -> None:
    """Of strips to step along the pieces skip the gaps' letters too, and A, B and C, their holes'.

    Eighteen pieces: 24 letters, which I and O are none of, less A, B, C and F are 20.
    """
    assert lettered('["F", "B"]', "stepping") == list("DEGHJKLMNPQRSTUVWX")
    assert lettered('["D", "AA"]', "stepping")[:2] == ["E", "F"]


def test_sheets_and_assembly_say_how_many_panels() -> None:
    """A pair's strip for two windows alike is taped once and marks four panels, said everywhere."""
    job, _ = made(f'name = "Bay, north"\n{WINDOW}', f'name = "Bay, south"\n{WINDOW}', tables=ONE)
    pages = document(job, plan(job), FIXED).pages
    texts = {
        page.short: " ".join(m.text for m in page.marks if isinstance(m, Text)) for page in pages
    }
    # In these wide letters the assembly page's measures go on on a second.
    texts = {short: words for short, words in texts.items() if not short.endswith("assembly 2")}
    of_strip = [words for short, words in texts.items() if short.startswith("strip ")]
    assert len(of_strip) > 2
    assert all("ape 1 strip, mark 4 panels" in words for words in of_strip)
    assert all("Bay, north + Bay, south" in words for words in of_strip)
    assert not any("make 2" in words for words in texts.values())


def test_feet_name_the_strip() -> None:
    """Two assembly pages aren't both page 1 of 1 of the same; one alone needs no letter."""
    job, _ = made(WINDOW, WINDOW.replace("1000", "1100"), tables=ONE)
    feet = [
        mark.text.split(" · ")[0]
        for page in document(job, plan(job), FIXED).pages
        for mark in page.marks
        if isinstance(mark, Text) and mark.role == Role.FOOT and "assembly" in mark.text
    ]
    assert [foot.rpartition(" of ")[0] for foot in feet if "page 1 of" in foot] == [
        "assembly of strip A, page 1",
        "assembly of strip C, page 1",
    ]


@pytest.mark.parametrize(("width", "sheets"), [(1200, 5), (1300, 6)])
def test_runs_only_of_many_sheets(width: int, sheets: int) -> None:
    """Five sheets are taped and measured at once; of more the page says to tape them in runs.

    Every strip is laid on one side and never turned, one panel's as well as a pair's.
    """
    window = f'panels = "single"\nwidth = {width}\nreturn = 90\ncount = {width // 200 * 2}'
    job, found = made(window, tables='[paper]\nsize = "a4"\norientation = "landscape"')
    assert found.sheets == sheets
    [page] = [p for p in document(job, plan(job), FIXED).pages if "assembly" in p.short]
    said = " ".join(mark.text for mark in page.marks if isinstance(mark, Text))
    assert ("runs of four or five" in said) == (sheets > 5)
    assert "Lay it on the face of the panel: its line marked TOP on the panel's top edge" in said


def test_same_as_for() -> None:
    """The ticket counts a shared strip's sheets once, and says whose a later window's are."""
    job, found = made(f'name = "Bay"\n{WINDOW}', f'name = "Hall"\n{WINDOW}')
    words = ticket_words(job)
    values = [words[i + 1] for i, word in enumerate(words) if word == "Template sheets"]
    each = [strip.sheets for strip in found.strips]
    assert values[0].startswith(f"{sum(each)} ({each[0]} + {each[1]}), {job.paper.name}, ")
    assert values[1:] == ["the same as for Bay"]
    assert found.sheets == sum(each)


def test_partly_the_same() -> None:
    """A window that shares one strip with an earlier one and has one of its own says so.

    The left panel's sheets are the hall's; the right panel's are counted.
    """
    left = f'name = "Hall"\npanels = "left"\n{WINDOW}'
    job, found = made(left, f'name = "Bay"\n{WINDOW}')
    assert found.numbers == ((0,), (0, 1))
    words = ticket_words(job)
    second = [i for i, word in enumerate(words) if word == "Template sheets"][1]
    value = " ".join(words[second + 1 : second + 4])  # it wraps
    assert value.startswith(f"{found.strips[1].sheets}, {job.paper.name}, ")
    assert "; the rest as for Hall" in value


@pytest.mark.parametrize(
    "changed",
    [
        pytest.param("length = 2000", id="length"),
        pytest.param("quantity = 4", id="quantity"),
        pytest.param('name = "Other"', id="name"),
        pytest.param("stack_each = 30", id="stack"),
        pytest.param("[window.pole]\ndiameter = 20\nprojection = 90", id="pole"),
        pytest.param('[window.eyelet]\nweight = "9 g"', id="eyelet-weight"),
        pytest.param("[window.eyelet]\nthickness = 8", id="eyelet-thickness"),
        pytest.param("fullness = 2", id="fullness"),
        pytest.param("[window.fabric]\nwidth = 3000", id="cloth-without-seams"),
        pytest.param("[window.eyelet]\nopening = 29\nhole = 30", id="opening"),
    ],
)
def test_alike_where_nothing_drawn_differs(changed: str) -> None:
    """What the strip doesn't show may differ: one strip a side all the same."""
    _, found = made(WINDOW, f"{WINDOW}\n{changed}")
    assert found.numbers == ((0, 1), (0, 1))


def test_alike_for_other_reasons() -> None:
    """A count that was asked for and the same that was found take one strip."""
    bare = WINDOW.replace("count = 6", "")
    job = job_of(bare, head=MM, eyelet=RING, tables=EACH)
    count = plan(job).windows[0].panels[0].count
    _, found = made(bare, f"{bare}\ncount = {count}")
    assert found.numbers == ((0, 1), (0, 1))


def test_alike_in_other_cloth() -> None:
    """Cloth of another weight but the same width, and so the same seams, takes one strip."""
    fabric = '[window.fabric]\nwidth = 700\nweight = "{} g/m2"'
    cloth = [f"{WINDOW}\nlength = 2000\n{fabric.format(grams)}" for grams in (200, 300)]
    job, found = made(*cloth)
    weights = {panel.weight for window in plan(job).windows for panel in window.panels}
    assert len(weights) == 2
    assert found.numbers == ((0, 1), (0, 1))


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(WINDOW.replace("1000", "1001"), id="width"),
        pytest.param(WINDOW.replace("40", "41"), id="leading"),
        pytest.param(WINDOW.replace("90", "91"), id="return"),
        pytest.param(WINDOW.replace("6", "8"), id="count"),
        pytest.param(f"{WINDOW}\n[window.eyelet]\noutside = 51", id="outside"),
        pytest.param(f"{WINDOW}\n[window.eyelet]\nhole = 31", id="hole"),
        pytest.param(f"{WINDOW}\n[window.band]\nheight = 102", id="band"),
        pytest.param(f"{WINDOW}\n[window.band]\nabove = 20", id="above"),
        pytest.param(f"{WINDOW}\n[window.fabric]\nwidth = 700", id="seams"),
    ],
)
def test_unlike(other: str) -> None:
    """Panels that differ in anything drawn have a strip each."""
    _, found = made(WINDOW, other)
    assert found.numbers == ((0, 1), (2, 3))


def test_sides_differ() -> None:
    """Left, right and single panels of the same figures aren't alike: they are seen turned."""
    equal = "width = 1000\nleading = 90\nreturn = 90\ncount = 6"
    _, found = made(*(f'{equal}\npanels = "{side}"' for side in ("left", "right", "left")))
    assert found.numbers == ((0,), (1,), (0,))


def test_json_of_shared() -> None:
    """In JSON each panel tells its own strip, though two share it."""
    job, found = made(WINDOW, WINDOW)
    told = [window["panels"] for window in as_json(job, plan(job))["windows"]]
    sheets = [[panel["strip"]["sheets"] for panel in panels] for panels in told]
    assert sheets == [[strip.sheets for strip in found.strips]] * 2


def test_pair_alike() -> None:
    """Strips for pairs are shared over windows too; a single panel has its own."""
    single = 'panels = "single"\nwidth = 1000\nreturn = 90\ncount = 6'
    job, found = made(WINDOW, single, WINDOW, tables=ONE)
    assert found.numbers == ((0, 0), (1,), (0, 0))
    told = [(one.window, one.panel) for one in templates(job, found)]
    assert told == [
        ("Window 1 + Window 3", "left and right panel"),
        ("Window 2", "single panel"),
    ]


def lines(marks: tuple[Mark, ...], role: Role) -> list[Fraction]:
    """Where the uprights of one role stand."""
    return [Fraction(m.x1) for m in marks if isinstance(m, Line) and m.role == role]


# W = 1000, G = 50, N = 6. Leading 40, return 90: S = (1000 - 130 - 300)/5 = 114, P = 164; the first
# hole is 90 + 25 = 115 from the strip's end, the last 115 + 5 x 164 = 935, the strip 1050 long. Its
# left panel, seen from the face, ends at 0 and leads at 935 + 25 + 40 = 1000; the right one leads
# at 115 - 65 = 50 and ends at 1050. Leading 120, return 30: S = (1000 - 150 - 300)/5 = 110,
# P = 160; first 120 + 25 = 145, last 945, length 1090; left from 145 - 55 = 90 to 1090, right from
# 0 to 1000. Leading 60, return 60: S = 116, P = 166; first 85, and both from 0 to 1000. From the
# back the two change places.
PAIRS = [
    pytest.param(40, 90, 1050, 115, 164, (1000, 0), (50, 1050), id="return-longer"),
    pytest.param(120, 30, 1090, 145, 160, (1090, 90), (0, 1000), id="leading-longer"),
    pytest.param(60, 60, 1000, 85, 166, (1000, 0), (0, 1000), id="equal"),
]


@pytest.mark.parametrize("view", ["face", "back"])
@pytest.mark.parametrize(("leading", "return_", "length", "first", "pitch", "left", "right"), PAIRS)
def test_one_for_a_pair(
    view: str,
    leading: int,
    return_: int,
    length: int,
    first: int,
    pitch: int,
    left: tuple[int, int],
    right: tuple[int, int],
) -> None:
    """One strip has the holes of both panels of a pair, and the leading and return end of each."""
    job, found = made(
        f"width = 1000\nleading = {leading}\nreturn = {return_}\ncount = 6",
        tables=f'{ONE}\nview = "{view}"',
    )
    [one] = templates(job, found)
    if view == "back":
        left, right = (length - left[0], length - left[1]), (length - right[0], length - right[1])
    assert one.strip.length == length
    holes = [Fraction(m.x) for m in one.marks if isinstance(m, Circle) and m.role == Role.HOLE]
    assert sorted(holes) == [first + i * pitch for i in range(6)]
    assert lines(one.marks, Role.PANEL_END) == list(left)
    assert lines(one.marks, Role.OTHER_END) == list(right)
    # Every hole of either panel is where it should be from that panel's own leading edge.
    for edge, end in (left, right):
        own = sorted(abs(hole - edge) for hole in holes)
        assert own == [leading + 25 + i * pitch for i in range(6)]
        assert abs(end - edge) == 1000


@pytest.mark.parametrize("view", ["face", "back"])
def test_seams_of_a_pair(view: str) -> None:
    """Each panel's seams are measured from its own leading edge, and the second's are named.

    The left panel leads at 1000 and the right one at 50, as above; the strip is 1050 long.
    """
    fabric = "[fabric]\nwidth = 700"
    job, found = made(WINDOW, tables=f'{ONE}\nview = "{view}"\n{fabric}')
    [one] = templates(job, found)
    mine, other = (panel.seams for panel in plan(job).windows[0].panels)
    assert mine
    assert other
    expected = [1000 - seam for seam in mine], [50 + seam for seam in other]
    if view == "back":
        expected = [1050 - x for x in expected[0]], [1050 - x for x in expected[1]]
    assert expected[0] == lines(one.marks, Role.SEAM)
    assert expected[1] == lines(one.marks, Role.OTHER_SEAM)
    named = [m.text for m in one.marks if isinstance(m, Text) and m.role == Role.OTHER_LABEL]
    assert [name.split(" · ")[0] for name in named] == [
        "RIGHT: LEADING EDGE",
        "RIGHT: RETURN EDGE",
        "RIGHT: RETURN FOLD",
        *["RIGHT: SEAM"] * len(other),
    ]


def test_a_pair_takes_one_strip() -> None:
    """A job that doesn't say takes one strip for a pair; one that is stepped along is each's."""
    _, found = made(WINDOW, tables="")
    assert found.numbers == ((0, 0),)
    _, found = made(WINDOW.replace("6", "8"), tables='[paper]\nstyle = "stepping"')
    assert found.numbers == ((0, 1),)


def named(one: Template) -> list[tuple[Fraction, str, str]]:
    """Every hole that words name: its centre, the panel and number, and the measure with it.

    Words are of the hole between whose guides they stand, and of the words nearest under them.
    """
    holes = [Fraction(m.x) for m in one.marks if isinstance(m, Circle) and m.role == Role.HOLE]
    texts = [m for m in one.marks if isinstance(m, Text)]
    found = []
    for numbers, measures in (
        (Role.NUMBER, Role.MEASURE),
        (Role.OTHER_NUMBER, Role.OTHER_MEASURE),
    ):
        values = [m for m in texts if m.role == measures]
        for name in (m for m in texts if m.role == numbers):
            x0, y0, x1, _ = drawing.box(name)
            middle = (x0 + x1) / 2
            hole = min(holes, key=lambda x: abs(float(x) - middle))

            def far(mark: Text, at: float = middle, y: float = y0) -> float:
                box = drawing.box(mark)
                return abs((box[0] + box[2]) / 2 - at) + abs(box[1] - y)

            found.append((hole, name.text, min(values, key=far).text))
    return found


@pytest.mark.parametrize("view", ["face", "back"])
@pytest.mark.parametrize(("leading", "return_", "length", "first", "pitch", "left", "right"), PAIRS)
def test_measures_of_a_pair(
    view: str,
    leading: int,
    return_: int,
    length: int,
    first: int,
    pitch: int,
    left: tuple[int, int],
    right: tuple[int, int],
) -> None:
    """Each hole has both panels' numbers and measures, each from that panel's own leading edge.

    Of a band 54 high 2 mm are over the eyelet, so that the words stand beyond it; of 70 it is 10,
    room for a line, of 100 it is 25, for two.
    """
    if view == "back":
        left, right = (length - left[0], length - left[1]), (length - right[0], length - right[1])
    expected = set()
    for x in (first + n * pitch for n in range(6)):
        for name, (edge, _) in (("LEFT", left), ("RIGHT", right)):
            off = abs(x - edge)
            number = (off - leading - 25) // pitch + 1
            expected.add((Fraction(x), f"{name} {number}", f"{off} mm"))
    for band in (54, 70, 100):
        job, found = made(
            f"width = 1000\nleading = {leading}\nreturn = {return_}\ncount = 6",
            tables=f'{ONE}\nview = "{view}"\n[band]\nheight = {band}',
        )
        [one] = templates(job, found)
        assert set(named(one)) == expected


@pytest.mark.parametrize("band", [50, 54, 62, 70, 100])
@pytest.mark.parametrize("width", [900, 1000, 1300])
@pytest.mark.parametrize("count", [6, 8])
@pytest.mark.parametrize(("leading", "return_"), [(40, 90), (38, 40), (60, 60), (10, 30)])
def test_words_of_a_pair_apart(
    band: int, width: int, count: int, leading: int, return_: int
) -> None:
    """No words of one panel touch the other's, the eyelets' circles, or words of their own.

    The left panel's are over every eyelet, the right one's under it; the seams all find a back gap.
    """
    job, found = made(
        f"width = {width}\nleading = {leading}\nreturn = {return_}\ncount = {count}",
        tables=f"{ONE}\n[band]\nheight = {band}\n[fabric]\nwidth = 700",
    )
    [whole] = (strip.template(job, typeface()) for strip in found.strips)
    roles = {Role.NUMBER, Role.MEASURE, Role.OTHER_NUMBER, Role.OTHER_MEASURE}
    roles |= {Role.END_LABEL, Role.FOLD_LABEL, Role.OTHER_LABEL, Role.SEAM_LABEL}
    texts = [m for m in whole.marks if isinstance(m, Text) and m.role in roles]
    boxes: list[tuple[Mark, tuple[float, float, float, float]]]
    boxes = [(m, drawing.box(m)) for m in texts]
    boxes += [(m, drawing.box(m)) for m in whole.marks if m.role == Role.OUTSIDE]
    for (one, a), (two, b) in combinations(boxes, 2):
        if one.role == two.role == Role.OUTSIDE:
            continue
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, (one, two)
    # What is read upward has capitals of 2.2 mm, and nothing is cut.
    assert all("…" not in m.text for m in texts)
    assert min((m.size for m in texts if m.angle), default=9) >= 3.02
    rows = {m.role: [drawing.box(t)[1] for t in texts if t.role == m.role] for m in texts}
    over = min(rows[Role.NUMBER] + rows[Role.MEASURE])
    under = max(rows[Role.OTHER_NUMBER] + rows[Role.OTHER_MEASURE])
    assert under < float(whole.strip.rings[0].y) < over


def test_one_line_stays_between_the_guides() -> None:
    """Number and measure in a line keep between their eyelet's guides, as any label does."""
    job, found = made(
        "width = 700\ncount = 6",
        tables=f"{ONE}\n[band]\nheight = 60",
        eyelet='outside = "40 mm"\nopening = "25 mm"',
    )
    [one] = (strip.template(job, typeface()) for strip in found.strips)
    roles = {Role.NUMBER, Role.MEASURE, Role.OTHER_NUMBER, Role.OTHER_MEASURE}
    labels = [drawing.box(m) for m in one.marks if m.role in roles]
    assert len(labels) == 24
    guides = lines(one.marks, Role.GUIDE)
    assert not any(left < guide < right for left, _, right, _ in labels for guide in guides)


def test_inner_ends_are_not_cut() -> None:
    """Where one panel ends and the strip goes on, its words say not to cut; the outer ones don't.

    The return takes 50 mm more than the leading edge, so that each panel ends once inside.
    """
    job, found = made(WINDOW, tables=ONE)
    [one] = templates(job, found)
    ends = [
        (m.text, m.x)
        for m in one.marks
        if isinstance(m, Text) and m.role in {Role.END_LABEL, Role.OTHER_LABEL}
    ]
    edges = {text.split(" · ")[0]: "don't cut" in text for text, _ in ends if "FOLD" not in text}
    assert edges == {
        "LEFT: LEADING EDGE": True,
        "LEFT: RETURN EDGE": False,
        "RIGHT: LEADING EDGE": True,
        "RIGHT: RETURN EDGE": False,
    }


def test_ends_that_meet_say_nothing_of_cutting() -> None:
    """Nor does any where both panels end together, or one has the strip for itself."""
    for window, tables in ((WINDOW.replace("90", "40"), ONE), (WINDOW, EACH)):
        job, found = made(window, tables=tables)
        said = [m.text for one in templates(job, found) for m in one.marks if isinstance(m, Text)]
        assert "don't cut" not in " ".join(said)


def test_gaps_of_a_pair() -> None:
    """F and B are right for both panels: from either leading edge the first gap goes forward."""
    job, found = made(WINDOW, tables=ONE)
    [one] = templates(job, found)
    letters = sorted(
        (float(m.x), m.text)
        for m in one.marks
        if isinstance(m, Text) and m.role in LETTERS.values()
    )
    read = "".join(letter for _, letter in letters)
    assert (read, read[::-1]) == ("FBFBF", "FBFBF")


def test_ticket_of_a_pair() -> None:
    """A strip for both panels is counted once on the ticket, and closes at a panel's width."""
    job, found = made(WINDOW, tables=ONE)
    words = ticket_words(job)
    value = words[words.index("Template sheets") + 1]
    assert value.startswith(f"{found.sheets} for both, {job.paper.name}, ")
    assert templates(job, found)[0].closing == "left panel 1000 mm end to end"


def test_one_pdf_without_a_roll() -> None:
    """Sheets are one PDF, whatever shares a strip."""
    job, _ = made(WINDOW, WINDOW, tables=ONE)
    assert len(documents(job, plan(job), FIXED)) == 1
