"""The plan as text: what is wrong first, then figures, holes, cloth and order in words."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from rich.cells import cell_len

from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_text import as_text
from drapetemplate.report.strip_lines import line_picture
from drapetemplate.words.figures import in_short, window_figures
from tests.helpers.jobfiles import RING, job_of

FULL = job_of(
    'name = "Shelves"\nquantity = 2\nwidth = 600\nlength = 900\nreturn = 40\nleading = 30\n'
    "count = 4\nfullness = 1.5",
    'panels = "single"\nwidth = "15 in"',
    head='units = "mm"',
    job="number = 7",
    eyelet="outside = 50\nopening = 25\nhole = 26",
)
LEAST = job_of('width = 60\npanels = "left"')
# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in. From
# 54 in the seam stands at 47 5/8 in, and pieces are 51 1/8 and 29 7/8 in; see test_plan_cloth.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54'


def text_of(job: Job) -> str:
    """The plan as a pipe gets it: no line wrapped."""
    return as_text(job, plan(job), columns=None)


def test_text_says_every_figure() -> None:
    """The text for a terminal has the job, each window, and every figure of its panels."""
    text = text_of(FULL)
    rows = {tuple(re_spaced.split("  ", 1)) for re_spaced in _rows(text)}
    assert text.splitlines()[0] == "7 · Heron Point, linen store"
    for row in (
        ("panels", "a pair, make 2"),
        ("panels", "a single panel, returns at both ends"),
        ("finished width", "600 mm"),
        ("finished length", "900 mm"),
        ("eyelets", "4, asked for"),
        ("gap, edge to edge", "110 mm"),
        ("pitch, centre to centre", "160 mm"),
        ("leading", "30 mm, leading edge to eyelet 1"),
        ("return", "40 mm, last eyelet to return edge"),
        ("return, both ends", "75 mm, edge to end eyelet"),
        ("gaps", "2 front (F), 1 back (B)"),
        ("eyelet outside", "50 mm"),
        ("opening", "25 mm"),
        ("hole to cut", "26 mm"),
        ("band height", "100 mm"),
        ("top to eyelet", "25 mm"),
        ("fullness", "1.50 times, first eyelet to last"),
        ("stack", "128 mm of pole, open"),
    ):
        assert row in rows


def _rows(text: str) -> Iterator[str]:
    """A line of two columns as "name  value", the space between them closed up."""
    for line in text.splitlines():
        name, _, value = line.strip().partition("  ")
        yield f"{name}  {value.strip()}"


def test_text_has_the_hole_centres() -> None:
    """Every centre is listed with its number and the gap that follows it, the last with none."""
    lines = [line.split() for line in text_of(FULL).splitlines()]
    at = [line[:4] for line in lines].index(["hole", "centres,", "each", "from"])
    assert lines[at + 1 : at + 5] == [
        ["1", "55", "mm", "front"],
        ["2", "215", "mm", "back"],
        ["3", "375", "mm", "front"],
        ["4", "535", "mm"],
    ]


def test_text_has_millimetres_beside_inches() -> None:
    """A job in inches has each centre in millimetres too, to 0.1 mm, for rulers that have them."""
    job = job_of("width = 60\ncount = 8")  # 2 1/2 in, then every 107/14 in
    lines = [line.split() for line in text_of(job).splitlines()]
    assert ["1", "2", "1/2", "in", "63.5", "mm", "front"] in lines
    assert ["2", "≈", "10", "1/8", "in", "257.6", "mm", "back"] in lines
    assert ["3", "≈", "17", "13/16", "in", "451.8", "mm", "front"] in lines


def test_text_says_from_which_edge() -> None:
    """A pair is measured from its leading edges, a single panel from its left edge."""
    text = text_of(FULL)
    assert text.count("hole centres, each from the leading edge, on the line 50 mm below") == 1
    assert text.count("hole centres, each from the left edge, on the line 50 mm below") == 1


@pytest.mark.parametrize(
    ("window", "expected"),
    [
        ('width = 6\nreturn = 1\nleading = 0\npanels = "left"', "1 panel, 2 eyelets"),
        ("width = 60\ncount = 8", "2 panels, 16 eyelets"),
    ],
)
def test_text_counts_in_words(window: str, expected: str) -> None:
    """One panel is not "1 panels"."""
    job = job_of(window)
    assert f"In all: {expected}, " in text_of(job)


def test_text_of_each_panels_sheets() -> None:
    """Each panel has its own row: with even joins (60 - 1/2)/9 1/2 make seven sheets."""
    tables = '[paper]\njoins = "even"\nstrips = "each"\norientation = "landscape"'
    rows = rows_of(job_of("width = 60\ncount = 8", tables=tables))
    for side in ("left", "right"):
        assert rows[f"template, {side}"] == "7 sheets, letter, landscape"


def test_text_of_one_sheet() -> None:
    """One sheet is not "1 sheets"."""
    job = job_of('width = 6\nreturn = 1\nleading = 0\npanels = "left"')
    assert "  1 sheet, letter, " in text_of(job)


def test_text_of_unknown_length() -> None:
    """What isn't known is said to be so, not left out."""
    assert "finished length  not known" in {
        row.replace("   ", " ") for row in _rows(text_of(LEAST))
    }


def test_text_is_safe_for_a_terminal() -> None:
    """Control characters of the job's words don't reach a terminal."""
    job = job_of('width = 60\nname = "a\\u001b[31mb\\nc"', job='number = "\\u0007\\u202e"')
    text = text_of(job)
    assert "\ufffd[31mb c" in text
    assert {"\x1b", "\x07", "\u202e"}.isdisjoint(text)


def test_text_says_how_it_hangs() -> None:
    """The terminal's plan has folds, wall and turn: the figures of the JSON, as measures."""
    job = job_of(
        "width = 60\nlength = 80\ncount = 10\nreturn = 3",
        tables='[pole]\ndiameter = "1/2"\nprojection = 4\n[fabric]\nweight = "300 gsm"',
    )
    # (60 - 1 1/2 - 3 - 20)/9 = 3 17/18 in of gap, 5 17/18 of pitch: 2 35/36 stacked, of 4.
    rows = rows_of(job)
    assert rows["folds, stacked"] == "to 3 in from pole's centre"
    assert rows["folds, closed"].endswith(" in from pole's centre, at 2 times, assumed")
    assert rows["free to the wall"].endswith(" in closed, 1 in stacked, 1/2 in asked for")
    assert rows_of(job_of("width = 60\ncount = 10"))["free to the wall"] == "not known"
    # A ring of 1 in without thickness turns acos(1/2) = 60 degrees, and lifts from
    # acos(sqrt(1/2)) = 45 on; shown rounded down.
    lift = "45° before they lift off the pole's top; needs 45° to open and close"
    assert rows["rings turn"] == lift
    assert rows["rings jam"].startswith("at 60°, so the panel is never flatter than ")
    # 66 in x (80 + 8 + 8) in of cloth at 300 g/m2: 1226.3 g, 43.26 oz.
    assert rows["weight, each panel"] == "2 lb 11 oz, eyelets not counted"
    metric = job_of(
        "width = 1500\nlength = 2000\ncount = 10\nreturn = 75",
        head='units = "mm"',
        eyelet="outside = 50\nopening = 25\nhole = 26",
        tables='[fabric]\nweight = "300 gsm"',
    )
    # 1650 x (2000 + 200 + 200) mm.
    assert rows_of(metric)["weight, each panel"] == "1.2 kg, eyelets not counted"


def rows_of(job: Job) -> dict[str, str]:
    """The rows of two columns by their name."""
    return {name: value for name, _, value in (row.partition("  ") for row in _rows(text_of(job)))}


def test_text_of_cloth() -> None:
    """Drops, cut and order of face and lining, with every seam and piece."""
    rows = rows_of(job_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48"))
    assert rows["fabric seams"] == "47 5/8 in from the leading edge, all hidden"
    assert rows["fabric pieces"] == "51 1/8 in + 29 7/8 in, raw, from the leading edge"
    # From 48 in the lining reaches 46 in from its own edge: behind the seventh eyelet. It is 71 in
    # wide, 74 in raw.
    loose = "71 in × 83 in, loose (sewn to the face at the top alone), set in 1 1/2 in from each"
    assert rows["lining finished"].startswith(loose)
    assert rows["lining seams"] == "40 1/8 in from the lining's leading edge, all hidden"
    assert rows["lining pieces"] == "42 1/8 in + 32 7/8 in, raw, from the lining's leading edge"


@pytest.mark.parametrize(
    ("window", "tables", "expected"),
    [
        (LONG, LINEN, "4 drops of 100 in: 400 in"),
        (
            f'{LONG}\npanels = "left"',
            "[fabric]\nwidth = 118",
            "1 drop of 100 in",
        ),
        (
            LONG,
            "[fabric]\nwidth = 118\nrailroad = true",
            "2 runs of 80 in: 160 in",
        ),
        (LONG, f"{LINEN}\nallowance = 0", "4 drops of 100 in: 400 in"),
        (LONG.replace("\nlength = 84", ""), LINEN, "4 drops cut length not known"),
        (LONG, '[fabric]\nname = "x"', "cloth width not given, so no seams and drops"),
    ],
)
def test_text_of_drops(window: str, tables: str, expected: str) -> None:
    """The window's own row of cloth says how many, how long, and what that comes to."""
    text = text_of(job_of(window, tables=tables))
    window_rows, _, _ = text.partition("\nIn all: ")
    lines = [line.split("  ") for line in window_rows.splitlines()]
    assert [line[-1].strip() for line in lines if line[1:2] == ["fabric"]] == [expected]


def test_text_without_seams() -> None:
    """A panel of one piece has no row of seams; a job without cloth no row of cloth."""
    assert "fabric seams" in rows_of(job_of(LONG, tables="[fabric]\nwidth = 54"))
    assert "fabric seams" not in rows_of(job_of(LONG, tables="[fabric]\nwidth = 118"))
    assert "fabric" not in text_of(job_of(LONG))


def test_text_of_seams_in_sight() -> None:
    """Seams that aren't hidden are counted as such, and the finding stands above the rows."""
    job = job_of('panels = "single"\nwidth = 50\nreturn = 3\ncount = 2\nlength = 84', tables=LINEN)
    # One gap, in front: the seam as close behind its eyelet as allowed, 3 + 2 + 5/8 in.
    assert rows_of(job)["fabric seams"] == "5 5/8 in from the left edge, 0 hidden"
    text = text_of(job)
    assert text.index("  WARN  seam-in-front: the seam at 5 5/8 in") < text.index("finished width")


def test_text_of_the_order() -> None:
    """Everything to buy follows the windows: cloths, eyelets and bands of the whole job."""
    job = job_of(
        LONG,
        f"{LONG}\n[window.band]\nheight = 6\n[window.fabric]\nheading = 8",
        eyelet=f"{RING}\npack = 10\nspares = 1",
        tables=f"{LINEN}\n[lining]\nheading = 8",
    )
    _, _, order = text_of(job).partition("In all: ")
    assert order.startswith("4 panels, 48 eyelets, 296 in of stiffener band, ")
    assert order.splitlines()[1:6] == [
        "  fabric   Heron linen, 54 in wide: 22 1/2 yd (8 drops 800 in + 4 in allowance = 804 in)",
        "  lining   not named, width not known: amount not known",
        "  eyelets  2 in outside, 1 in opening: 48 and 1 spare: 5 packs of 10",
        "  band     4 in high: 4 1/4 yd (148 in), and a piece to test",
        "  band     6 in high: 4 1/4 yd (148 in), and a piece to test",
    ]


def test_text_of_cloth_is_safe_for_a_terminal() -> None:
    """Control characters in a cloth's name don't reach a terminal."""
    job = job_of(LONG, tables='[fabric]\nname = "a\\u001b[31mb\\nc\\u202e"\nwidth = 54')
    text = text_of(job)
    assert {"\x1b", "\u202e"}.isdisjoint(text)
    assert "  fabric   a\ufffd[31mb c\ufffd, 54 in wide: " in text


SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
# Nine eyelets are a stop; the side hem, half of 3 in, is under an eyelet 1 in from the edge, a
# warning; in cloth of 54 in hiding its seam takes a drop more, a note.
TROUBLED = "width = 74\nleading = 1\nreturn = 3\ncount = 9\nlength = 84"


def sample(path: Path) -> Job:
    """A job of sample_jobs."""
    return read_job(path.read_bytes(), path.name)


def test_findings_stand_first() -> None:
    """Under the job's name what must be mended, and at its window each finding, worst first."""
    job = job_of('name = "Bay"\nwidth = 60', f'name = "Porch"\n{TROUBLED}', tables=LINEN)
    lines = text_of(job).splitlines()
    assert lines[1] == (
        "1 stop, 1 warning (Porch): no template is made until each stop is mended, or named with "
        "make --accept"
    )
    at = lines.index("Porch")
    assert [line.split()[:2] for line in lines[at + 1 : at + 3]] == [
        ["STOP", "odd-count:"],
        ["WARN", "eyelet-over-hem:"],
    ]
    levels = [line.split()[0] for line in lines if line.startswith(("  STOP", "  WARN", "  NOTE"))]
    assert levels == sorted(levels, key=["STOP", "WARN", "NOTE"].index)


def test_warnings_alone_are_announced() -> None:
    """A warning at one of many windows is told at the top, with that window's name."""
    job = job_of(
        'name = "Bay"\nwidth = 60', 'name = "Porch"\nwidth = 60\nleading = 1', tables=LINEN
    )
    assert text_of(job).splitlines()[1] == "1 warning (Porch): read before you cut"
    alone = job_of("width = 60\nleading = 1", tables=LINEN)
    assert text_of(alone).splitlines()[1] == "1 warning: read before you cut"


def test_many_windows_in_trouble_are_counted() -> None:
    """Beyond six names the summary says how many more; what is alike counts and is said once."""
    windows = [f'name = "Bay {n}"\nwidth = 60\nleading = 1' for n in range(1, 10)]
    text = text_of(job_of(*windows, tables=LINEN))
    first = text.splitlines()[1]
    assert first.startswith(
        "1 warning (Bay 1 + Bay 2 + Bay 3 + Bay 4 + Bay 5 + Bay 6 and 3 more): "
    )
    assert text.count("WARN") == 9
    assert text.count("WARN  eyelet-over-hem: as at Bay 1\n") == 8


def test_folds_that_hit_the_wall() -> None:
    """A fold past the wall is told as such, beside what is free, and both on the safe side."""
    # (53 - 3 - 3 - 2)/7 = 6 3/7 in of pitch: stacked 3 3/14 in, closed less.
    window = "width = 53\nleading = 3\nreturn = 3\ncount = 8"

    def wall(projection: str) -> str:
        return rows_of(job_of(window, tables=f"[pole]\nprojection = {projection}"))[
            "free to the wall"
        ]

    closed = r"[0-9/ ]+ in closed"
    # 3.5 - 3 3/14 = 2/7 in: 1/4 for certain. 3 - 3 3/14 = -3/14 in: 1/4 at most.
    assert re.fullmatch(rf"{closed}, 1/4 in stacked, 1/2 in asked for", wall("3.5"))
    past = rf"{closed}, none stacked \(1/4 in past it\), 1/2 in asked for"
    assert re.fullmatch(past, wall("3"))


def test_nothing_to_announce() -> None:
    """Without stops and warnings nothing stands between the job's name and its windows."""
    assert text_of(LEAST).splitlines()[1:3] == ["", "Window 1"]


def test_picture_of_a_pair() -> None:
    """A pair's right panel is drawn, named as such, between the findings and the figures."""
    planned = plan(FULL).windows[0]
    text = as_text(FULL, plan(FULL))
    drawn = "".join(f"  {line}\n" for line in line_picture(planned.panels[1], "mm", ("F", "B"), 78))
    start = text.index(drawn)
    assert text.index("Shelves") < start < text.index("finished width")
    assert "The right panel's heading laid flat, seen from the face; the left one's" in text
    assert "\n  The heading laid flat, seen from the face:\n  return edge" in text  # the single one


def test_picture_of_a_left_panel() -> None:
    """A left panel by itself is drawn as it hangs, with no word of another."""
    text = as_text(LEAST, plan(LEAST))
    assert "  The left panel's heading laid flat, seen from the face:\n  return edge  " in text


def test_figures_have_the_tickets_names() -> None:
    """Every figure that the ticket gives a window stands here under the same name."""
    for path in SAMPLES:
        job = sample(path)
        planned = plan(job)
        ticket = in_short(window_figures(job, planned.windows[0]))
        assert {name.lower() for name, _ in ticket} <= set(rows_of(job))


@pytest.mark.parametrize("columns", [20, 30, 40, 60, 80, 100, 120])
@pytest.mark.parametrize("path", SAMPLES, ids=[path.stem for path in SAMPLES])
def test_no_line_is_too_wide(path: Path, columns: int) -> None:
    """In a terminal of any width no line runs over, but one that is a single word or measure.

    Before a finding's code, which is one word, its level may stand.
    """
    job = sample(path)
    text = as_text(job, plan(job), columns=columns)
    wide = [line for line in text.splitlines() if cell_len(line) > columns]
    measure = re.compile(r"((STOP|WARN|NOTE) +)?\S+|≈ [0-9/ ]+ in")
    assert [line for line in wide if measure.fullmatch(line.strip()) is None] == []


def test_narrow_terminals_lose_nothing() -> None:
    """In 40 columns each figure follows its name, and every word of the wide form is there."""
    job = job_of(LONG, tables=LINEN)
    wide, narrow = (as_text(job, plan(job), columns=columns) for columns in (200, 40))
    assert "\n  gap, edge to edge: 4 in\n" in narrow
    figures = wide.index("finished width")
    words = re.sub("[^a-z0-9/]+", " ", wide[figures:]).split()
    assert Counter(words) - Counter(re.sub("[^a-z0-9/]+", " ", narrow).split()) == Counter()


def test_holes_go_over_columns() -> None:
    """Where there is room, hole centres stand in several columns, read downwards."""
    lines = as_text(FULL, plan(FULL), columns=60).splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith("  hole centres"))
    assert [line.split() for line in lines[at + 2 : at + 4]] == [
        ["1", "55", "mm", "front", "3", "375", "mm", "front"],
        ["2", "215", "mm", "back", "4", "535", "mm"],
    ]


def test_assumed_is_said_once() -> None:
    """What was assumed stands at the end, once, with its windows where it isn't all of them."""
    job = job_of('name = "Bay"\nwidth = 60', 'name = "Porch"\nwidth = 60\nleading = 1')
    _, _, assumed = text_of(job).partition("Assumed, since the job file doesn't say: ")
    lines = assumed.splitlines()
    assert lines[0] == "check before cutting"
    assert [line.split("  ")[-1].strip() for line in lines if line.startswith("  leading ")] == [
        "1 1/2 in (Bay)"
    ]
    assert [line.split("  ")[-1].strip() for line in lines if line.startswith("  stack_each ")] == [
        "1 1/4 in"
    ]


def test_plain_is_a_fact_a_line() -> None:
    """For a screen reader: the same figures as name and value, no picture, nothing aligned."""
    job = job_of(f'name = "Bay"\n{LONG}', tables=LINEN)
    text = as_text(job, plan(job), plain=True)
    lines = text.splitlines()
    assert lines[:4] == ["job: Heron Point, linen store", "window: Bay", lines[2], "panels: a pair"]
    assert lines[2].startswith("note, extra-width: 4 drops keep every seam hidden")
    assert "  " not in text
    assert text.isascii()
    assert [line for line in lines if ": " not in line] == []
    figures, _, _ = text_of(job).partition("  hole centres")
    rows = [row.split("  ", 1) for row in _rows(figures) if "│" not in row and "┌" not in row]
    table = {name: value for name, value in rows if value}
    for name, value in (one.split(": ", 1) for one in lines[3:20]):
        assert value == table[name].replace("≈", "about").replace(" + ", " plus ")
    shown = {one.split(": ", 1)[0] for one in lines}
    ticket = in_short(window_figures(job, plan(job).windows[0]))
    assert {name.lower() for name, _ in ticket} <= shown


def test_plain_holes() -> None:
    """Each eyelet says its measure and the gap after it; the last says that it is."""
    job = job_of("width = 60\ncount = 4")  # 2 1/2 in, then every 53 1/2 over 3
    lines = as_text(job, plan(job), plain=True).splitlines()
    at = lines.index(
        "hole centres: each from the leading edge, on the line 2 in below the panel's top"
    )
    assert lines[at + 1 : at + 5] == [
        "eyelet 1: 2 1/2 in, then front gap",
        "eyelet 2: about 20 5/16 in, then back gap",
        "eyelet 3: about 38 3/16 in, then front gap",
        "eyelet 4: 56 in, the last",
    ]
    hooks = job_of("width = 60\ncount = 3", eyelet=f'{RING}\nhung = "hooks"')
    said = as_text(hooks, plan(hooks), plain=True).splitlines()
    assert [line for line in said if line.startswith("eyelet 2")] == ["eyelet 2: 29 1/4 in"]


def test_plain_findings_in_words() -> None:
    """Levels are words, the summary too, and each window says which of how many it is."""
    job = job_of('name = "Bay"\nwidth = 60', f'name = "Porch"\n{TROUBLED}', tables=LINEN)
    lines = as_text(job, plan(job), plain=True).splitlines()
    assert lines[1].startswith("1 stop, 1 warning (Porch): ")
    at = lines.index("window 2 of 2: Porch")
    assert lines[at + 1].startswith("stop at Porch, odd-count: 9 eyelets would turn")
    assert lines[at + 2].startswith("warning at Porch, eyelet-over-hem: ")


def test_ascii_form() -> None:
    """Where the stream carries ASCII alone, none of our signs is left, as there are else."""
    texts = [as_text(sample(path), plan(sample(path))) for path in SAMPLES]
    assert not any(text.isascii() for text in texts)
    for path in SAMPLES:
        job = sample(path)
        for plain in (False, True):
            assert as_text(job, plan(job), ascii_only=True, plain=plain).isascii()


def test_every_form_is_safe_for_a_terminal() -> None:
    """Control characters of any name reach no form, wrapped, narrow, plain or in ASCII."""
    bad = "a\\u001b[31mb\\nc\\u202e\\u0007"
    job = job_of(
        f'name = "{bad}"\nwidth = 60\ncount = 7',
        job=f'number = "{bad}"',
        tables=f'[fabric]\nname = "{bad}"\nwidth = 54',
    )
    for columns in (20, 80, None):
        for plain in (False, True):
            for ascii_only in (False, True):
                text = as_text(job, plan(job), columns=columns, plain=plain, ascii_only=ascii_only)
                assert {"\x1b", "\x07", "\u202e"}.isdisjoint(text)
                assert "\n\n\n" not in text
