"""The plan and its counts side by side as text: figures, findings, cloth and order in words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import pytest
from jobfiles import RING, job_of

from drapetemplate.console import as_text, compare_text
from drapetemplate.job import Job
from drapetemplate.planning.compare import compare
from drapetemplate.planning.plan import Plan, plan

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


def test_text_says_every_figure() -> None:
    """The text for a terminal has the job, each window, and every figure of its panels."""
    text = as_text(FULL, plan(FULL))
    rows = {tuple(re_spaced.split("  ", 1)) for re_spaced in _rows(text)}
    assert text.splitlines()[0] == "7 · Heron Point, linen store"
    for row in (
        ("panels", "left and right, make 2"),
        ("finished width", "600 mm"),
        ("finished length", "900 mm"),
        ("eyelets", "4, asked for"),
        ("gap, edge to edge", "110 mm"),
        ("pitch, centre to centre", "160 mm"),
        ("leading", "30 mm"),
        ("return", "40 mm"),
        ("return, both ends", "76.2 mm"),
        ("ring", "50 mm outside, 25 mm opening"),
        ("hole to cut", "26 mm"),
        ("band", "100.8 mm high, eyelets 25.4 mm below its top"),
        ("stack", "127 mm"),
    ):
        assert row in rows


def _rows(text: str) -> Iterator[str]:
    """A line of two columns as "name  value", the space between them closed up."""
    for line in text.splitlines():
        name, _, value = line.strip().partition("  ")
        yield f"{name}  {value.strip()}"


def test_text_has_the_hole_centres() -> None:
    """Every centre is listed with its number and the gap that follows it, the last with none."""
    lines = [line.split() for line in as_text(FULL, plan(FULL)).splitlines()]
    at = [line[:4] for line in lines].index(["hole", "centres", "from", "the"])
    assert lines[at + 1 : at + 5] == [
        ["1", "55", "mm", "front"],
        ["2", "215", "mm", "back"],
        ["3", "375", "mm", "front"],
        ["4", "535", "mm"],
    ]


def test_text_has_millimetres_beside_inches() -> None:
    """A job in inches has each centre in millimetres too, to 0.1 mm, for rulers that have them."""
    job = job_of("width = 60\ncount = 8")  # 2 1/2 in, then every 107/14 in
    lines = [line.split() for line in as_text(job, plan(job)).splitlines()]
    assert ["1", "2", "1/2", "in", "63.5", "mm", "front"] in lines
    assert ["2", "≈", "10", "1/8", "in", "257.6", "mm", "back"] in lines


def test_text_says_from_which_edge() -> None:
    """A pair is measured from its leading edges, a single panel from its left edge."""
    text = as_text(FULL, plan(FULL))
    assert text.count("hole centres from the leading edge:") == 1
    assert text.count("hole centres from the left edge:") == 1


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
    assert f"In all: {expected}, " in as_text(job, plan(job))


def test_text_of_one_sheet() -> None:
    """One sheet is not "1 sheets"."""
    job = job_of('width = 6\nreturn = 1\nleading = 0\npanels = "left"')
    assert "  1 sheet, letter, " in as_text(job, plan(job))


def test_text_of_unknown_length() -> None:
    """What isn't known is said to be so, not left out."""
    assert "finished length  not known" in {
        row.replace("   ", " ") for row in _rows(as_text(LEAST, plan(LEAST)))
    }


def test_text_is_safe_for_a_terminal() -> None:
    """Control characters of the job's words don't reach a terminal."""
    job = job_of('width = 60\nname = "a\\u001b[31mb\\nc"', job='number = "\\u0007\\u202e"')
    text = as_text(job, plan(job))
    assert "\ufffd[31mb c" in text
    assert {"\x1b", "\x07", "\u202e"}.isdisjoint(text)


def test_text_says_how_it_hangs() -> None:
    """The terminal's plan has folds, wall and turn: the figures of the JSON, as measures."""
    job = job_of(
        "width = 60\nlength = 80\ncount = 10\nreturn = 3",
        tables='[pole]\ndiameter = "1/2"\nprojection = 4\n[fabric]\nweight = "300 gsm"',
    )
    text = as_text(job, plan(job))
    # (60 - 1 1/2 - 3 - 20)/9 = 3 17/18 in of gap, 5 17/18 of pitch: 2 35/36 stacked, 3 1/2 free.
    assert "≈ 3 in each way, ≈ 1/2 in free to the wall" in text
    assert "folds closed, at 2 times, assumed" in text
    # A ring of 1 in without thickness turns acos(1/2) = 60 degrees; shown rounded down.
    assert "rings turn" in text
    # 66 in x (80 + 8 + 8) in of cloth at 300 g/m2.
    assert "1.2 kg" in text


def rows_of(job: Job) -> dict[str, str]:
    """The rows of two columns by their name."""
    return {
        name: value
        for name, _, value in (row.partition("  ") for row in _rows(as_text(job, plan(job))))
    }


def test_text_of_cloth() -> None:
    """Drops, cut and order of face and lining, with every seam and piece."""
    rows = rows_of(job_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48"))
    assert rows["fabric seams"] == "47 5/8 in from the leading edge, all hidden"
    assert rows["fabric pieces"] == "51 1/8 in + 29 7/8 in, raw, from the leading edge"
    # From 48 in the lining reaches 44 1/2 in: behind the seventh eyelet.
    assert rows["lining seams"] == "41 5/8 in from the leading edge, all hidden"
    assert rows["lining pieces"] == "45 1/8 in + 35 7/8 in, raw, from the leading edge"


@pytest.mark.parametrize(
    ("window", "tables", "expected"),
    [
        (LONG, LINEN, "4 drops of 100 in, 11 1/4 yd"),  # 400 in are 11.11 yd
        (f'{LONG}\npanels = "left"', "[fabric]\nwidth = 118", "1 drop of 100 in, 3 yd"),  # 2.78
        (LONG, "[fabric]\nwidth = 118\nrailroad = true", "2 runs of 80 in, 4 1/2 yd"),  # 4.44
        (LONG.replace("\nlength = 84", ""), LINEN, "4 drops cut length not known"),
        (LONG, '[fabric]\nname = "x"', "cloth width not given, so no seams and drops"),
    ],
)
def test_text_of_drops(window: str, tables: str, expected: str) -> None:
    """The window's own row of cloth says how many, how long, and what that comes to."""
    text = as_text(*_planned(job_of(window, tables=tables)))
    window_rows, _, _ = text.partition("\nIn all: ")
    lines = [line.split("  ") for line in window_rows.splitlines()]
    assert [line[-1].strip() for line in lines if line[1:2] == ["fabric"]] == [expected]


def _planned(job: Job) -> tuple[Job, Plan]:
    return job, plan(job)


def test_text_without_seams() -> None:
    """A panel of one piece has no row of seams; a job without cloth no row of cloth."""
    assert "fabric seams" not in rows_of(job_of(LONG, tables="[fabric]\nwidth = 118"))
    assert "fabric" not in as_text(*_planned(job_of(LONG)))


def test_text_of_seams_in_sight() -> None:
    """Seams that aren't hidden are counted as such, and the finding stands above the rows."""
    job = job_of('panels = "single"\nwidth = 50\nreturn = 3\ncount = 2\nlength = 84', tables=LINEN)
    # One gap, in front: the seam as close behind its eyelet as allowed, 3 + 2 + 5/8 in.
    assert rows_of(job)["fabric seams"] == "5 5/8 in from the left edge, 0 hidden"
    text = as_text(*_planned(job))
    assert text.index("  WARN  seam-in-front: the seam at 5 5/8 in") < text.index("finished width")


def test_text_of_the_order() -> None:
    """Everything to buy follows the windows: cloths, eyelets and bands of the whole job."""
    job = job_of(
        LONG,
        f"{LONG}\n[window.band]\nheight = 6\n[window.fabric]\nheading = 8",
        eyelet=f"{RING}\npack = 10\nspares = 1",
        tables=f"{LINEN}\n[lining]\nheading = 8",
    )
    _, _, order = as_text(job, plan(job)).partition("In all: ")
    assert order.startswith("4 panels, 48 eyelets, 296 in of stiffener band, ")
    assert order.splitlines()[1:6] == [
        "  fabric    Heron linen, 54 in wide: 22 1/4 yd (8 drops, 800 in exactly)",
        "  lining    not named, width not known: amount not known",
        "  eyelets   2 in outside, 1 in opening: 48 and 1 spare: 5 packs of 10",
        "  band      4 in high: 148 in",
        "  band      6 in high: 148 in",
    ]


def test_text_of_cloth_is_safe_for_a_terminal() -> None:
    """Control characters in a cloth's name don't reach a terminal."""
    job = job_of(LONG, tables='[fabric]\nname = "a\\u001b[31mb\\nc\\u202e"\nwidth = 54')
    text = as_text(job, plan(job))
    assert {"\x1b", "\u202e"}.isdisjoint(text)
    assert "  fabric    a\ufffd[31mb c\ufffd, 54 in wide: " in text


def table_of(job: Job, asked: Sequence[int] = ()) -> dict[str, dict[str, str]]:
    """The cells of the only window's table, by count and by column."""
    _, _, _, header, *lines = compare_text(job, compare(job, asked)).splitlines()
    names = re.split("  +", header.strip())
    found = {}
    for line in lines:
        if re.match(r"[> ] +\d", line) is None:
            continue
        cells = re.split("  +", line[1:].strip())
        found[cells[0]] = dict(zip(names, cells, strict=False))
    return found


def test_compared_cloth() -> None:
    """Each count has its seams hidden, its drops and its order, the lining's after the face's."""
    job = job_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48")
    table = table_of(job)
    columns = ("seams hidden", "drops", "order")
    twelve, six = ([table[count][column] for column in columns] for count in ("12", "6"))
    assert twelve == ["1/1 + 1/1", "4 + 4", "11 1/4 yd + 11 1/4 yd"]
    # Six let a pair share a drop of the face: 300 in are 8 1/3 yd.
    assert six == ["1/1 + 1/1", "3 + 4", "8 1/2 yd + 11 1/4 yd"]
    assert table["12"]["findings"] == "note extra-width"


def test_compared_seam_in_sight() -> None:
    """A count that shows its seam says how many of how many are hidden."""
    table = table_of(job_of("width = 50\nreturn = 3\ncount = 4\nlength = 84", tables=LINEN), [2])
    assert (table["2"]["seams hidden"], table["2"]["findings"]) == ("0/1", "warn seam-in-front")
    assert table["4"]["seams hidden"] == "1/1"


@pytest.mark.parametrize(
    ("window", "tables", "expected"),
    [
        (LONG, "", ["-", "-", "-"]),
        (LONG, '[fabric]\nname = "x"', ["-", "-", "-"]),
        (LONG.replace("\nlength = 84", ""), LINEN, ["1/1", "4", "-"]),
        (LONG, "[fabric]\nwidth = 118\nrailroad = true", ["0/0", "2", "4 1/2 yd"]),
    ],
)
def test_compared_cloth_not_known(window: str, tables: str, expected: list[str]) -> None:
    """What isn't known is a dash."""
    row = table_of(job_of(window, tables=tables), [12])["12"]
    assert expected == [row[column] for column in ("seams hidden", "drops", "order")]


def test_compared_count_without_a_plan() -> None:
    """A count that doesn't fit has its reason in place of figures, which widens no column."""
    job = job_of(LONG, tables=LINEN)
    plain, with_fault = (compare_text(job, compare(job, asked)) for asked in ([12], [12, 60]))
    assert plain.splitlines()[:5] == with_fault.splitlines()[:5]
    assert any(
        line.startswith("       60  60 eyelets of 2 in don't fit across 74 in")
        for line in with_fault.splitlines()
    )


def test_compared_findings_of_the_chosen() -> None:
    """Under the table stand the findings of the job's own count, with their advice."""
    job = job_of(LONG, tables=LINEN)
    text = compare_text(job, compare(job))
    assert "    extra-width: 4 drops keep every seam hidden; " in text
    assert text.endswith(". 6 eyelets a panel hide all with that many")
