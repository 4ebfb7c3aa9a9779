"""Counts side by side as text: a table, turned where it is too wide, or a fact a line."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from rich.cells import cell_len

from drapetemplate.job.model import Job
from drapetemplate.planning.compare import Comparison, compare
from drapetemplate.planning.plan import plan
from drapetemplate.report.compare_text import COMPARED, compare_text
from drapetemplate.report.plan_text import as_text
from drapetemplate.words.figures import in_short, window_figures
from tests.helpers.jobfiles import job_of, panel_of

# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54'


def table_of(job: Job, asked: Sequence[int] = ()) -> dict[str, dict[str, str]]:
    """The cells of the only window's table, by count and by column."""
    _, _, _, header, *lines = compare_text(job, compare(job, asked), columns=None).splitlines()
    names = re.split("  +", header.strip())
    found = {}
    for line in lines:
        if re.match(r"[> ] +\d", line) is None:
            continue
        cells = re.split("  +", line[1:].strip())
        found[cells[0]] = dict(zip(names, cells, strict=False))
    return found


def compared_cloth(tables: str) -> tuple[Job, tuple[Comparison, ...]]:
    """A window of twelve eyelets with these cloths, and its counts."""
    job = job_of(LONG, tables=tables)
    return job, compare(job, [12])


def test_compared_cloth() -> None:
    """Each count has its seams hidden, its drops and its order, the lining's after the face's."""
    job = job_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48")
    table = table_of(job)
    columns = ("seams hidden", "drops", "order")
    twelve, six = ([table[count][column] for column in columns] for count in ("12", "6"))
    # Four drops of 84 - 1 + 4 in of lining, and 4 in: 352 in are 9.78 yd.
    assert twelve == ["1/1 + 1/1", "4 + 4", "11 1/4 yd + 10 yd"]
    # Six let a pair share a drop of the face: 300 in are 8 1/3 yd.
    assert six == ["1/1 + 1/1", "3 + 4", "8 1/2 yd + 10 yd"]
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
        (
            LONG,
            "[fabric]\nwidth = 118\nrailroad = true",
            ["0/0", "2", "4 3/4 yd"],
        ),  # 164 in are 4.56
    ],
)
def test_compared_cloth_not_known(window: str, tables: str, expected: list[str]) -> None:
    """What isn't known is a dash."""
    row = table_of(job_of(window, tables=tables), [12])["12"]
    assert expected == [row[column] for column in ("seams hidden", "drops", "order")]


def test_compared_count_without_a_plan() -> None:
    """A count that doesn't fit has its reason in place of figures, which widens no column."""
    job = job_of(LONG, tables=LINEN)
    plain, with_fault = (
        compare_text(job, compare(job, asked), columns=None) for asked in ([12], [12, 60])
    )
    assert plain.splitlines()[:5] == with_fault.splitlines()[:5]
    assert any(
        line.startswith("       60  60 eyelets of 2 in don't fit across 74 in")
        for line in with_fault.splitlines()
    )


def test_compared_findings_of_the_chosen() -> None:
    """Under the table stand the findings of the job's own count, with their advice."""
    job = job_of(LONG, tables=LINEN)
    text = compare_text(job, compare(job), columns=None)
    assert "    extra-width: 4 drops keep every seam hidden; " in text
    assert text.endswith(". 6 eyelets a panel hide all with that many")


def test_units_are_said() -> None:
    """The figures carry no units, so the first line says which they are in."""
    for units, said in (("in", "inches"), ("mm", "mm"), ("cm", "cm")):
        job = job_of("width = 600", head=f'units = "{units}"')
        first = compare_text(job, compare(job)).splitlines()[0]
        assert first == f"Heron Point, linen store: counts side by side, lengths in {said}"


def blocks_of(text: str) -> dict[str, list[str]]:
    """The figures of a turned table by their name, over all blocks; one figure a count."""
    found: dict[str, list[str]] = {}
    for line in text.splitlines():
        match = re.match(r"  ([a-z ]+?)  +(.*)", line)
        if match is not None and match[1] in COMPARED:
            found.setdefault(match[1], []).extend(re.split("  +", match[2].strip()))
    return found


@pytest.mark.parametrize("columns", [40, 60, 80, 100])
def test_turned_where_it_is_too_wide(columns: int) -> None:
    """Every figure of the wide table stands under its count, in blocks no wider than asked."""
    job = job_of(f"{LONG}\nglass = 60", tables=f"{LINEN}\n[lining]\nwidth = 48")
    text = compare_text(job, compare(job), columns=columns)
    assert max(map(cell_len, text.splitlines())) <= columns
    found = blocks_of(text)
    wide = table_of(job)
    assert found["eyelets"] == [f">{count}" if count == "12" else count for count in wide]
    for name in (name for name in COMPARED[1:-1] if name not in {"width", "fullness"}):
        assert found[name] == [row[name] for row in wide.values()]
    assert "\n  12: note extra-width\n" in text
    assert "\n  > 12: asked for\n" in text


def test_wide_enough_is_not_turned() -> None:
    """A terminal as wide as the table gets the table, one column less turns it."""
    job = job_of("width = 60\ncount = 8")
    long = compare_text(job, compare(job), columns=None)
    wide = max(map(cell_len, long.splitlines()))
    assert compare_text(job, compare(job), columns=wide) == long
    assert "eyelets        gap" not in compare_text(job, compare(job), columns=wide - 1)


def test_counts_in_the_fewest_columns() -> None:
    """Where not even one count fits beside the names, each figure follows its name."""
    job = job_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48")
    lines = compare_text(job, compare(job, [12]), columns=24).splitlines()
    assert "  >12 eyelets" in lines
    assert "    gap: 4" in lines
    assert [line for line in lines if cell_len(line) > 24] == []


def test_turned_count_without_a_plan() -> None:
    """Turned, a count that doesn't fit has no column, and its reason below."""
    job = job_of(LONG, tables=LINEN)
    text = compare_text(job, compare(job, [12, 60]), columns=60)
    assert blocks_of(text)["eyelets"] == [">12"]
    assert "\n  60: 60 eyelets of 2 in don't fit across 74 in" in text


def test_plain() -> None:
    """For a screen reader: each count's figures as name and value, with units, nothing aligned."""
    job = job_of(LONG, tables=f"{LINEN}\n[lining]\nwidth = 48\n[pole]\nprojection = 3")
    text = compare_text(job, compare(job, [6, 12, 60]), plain=True)
    assert "  " not in text
    assert text.isascii()
    lines = text.splitlines()
    assert [line for line in lines if ": " not in line] == []
    at = lines.index("eyelets: 12, the job's own: asked for")
    assert lines[at + 1 : at + 4] == ["gap: 4 in", "gap in eyelets: 2.00", "pitch: 6 in"]
    assert "seams hidden: 1 of 1, lining 1 of 1" in lines
    assert "drops: 4, lining 4" in lines
    alone = compare_text(*compared_cloth("[lining]\nwidth = 48"), plain=True).splitlines()
    assert "drops: lining 4" in alone
    part = compare_text(*compared_cloth("[fabric]\n[lining]\nwidth = 48"), plain=True)
    assert "drops: not known, lining 4" in part.splitlines()
    assert "seams hidden: not known, lining 1 of 1" in part.splitlines()
    # 74 in less 3 + 3 + 12 leave five gaps of 11 1/5: far deeper than 2 1/2 in to the wall.
    six = lines[lines.index("eyelets: 6") :]
    wall = next(line for line in six if line.startswith("free to the wall: "))
    past = r"none {} \([0-9/ ]+ in past it\), "
    both = past.format("closed") + past.format("stacked")
    assert re.fullmatch(rf"free to the wall: {both}1/2 in asked for", wall)
    sixty = lines[lines.index("eyelets: 60") + 1]
    assert sixty.startswith("can't be made: 60 eyelets of 2 in don't fit across 74 in")
    assert lines[-1].startswith("finding, ")


def test_a_fold_that_hits_by_a_hair() -> None:
    """Beside a stop for less than 1/32 in what is free isn't rounded up to what is asked for."""
    # The depth at 8 eyelets, measured off the plan itself, and 1/64 in less than it would need.
    window = "width = 60\nreturn = 3\ncount = 8\nfullness = 2"
    panel = panel_of(window)
    assert panel.hang is not None
    bracket = float(panel.hang.depth_closed) / 25.4 + 1 / 2 - 1 / 64
    job = job_of(window, tables=f"[pole]\nprojection = {bracket:.5f}")
    text = compare_text(job, compare(job, [8]), plain=True)
    assert "finding, back-fold-hits-wall: closed, back folds reach " in text
    assert "free to the wall: 7/16 in closed, none stacked (" in text
    assert table_of(job, [8])["8"]["wall free"] == "7/16"
    # As near to the wall itself it is none, never 0 and never a plus.
    at_wall = bracket - 1 / 2
    job = job_of(window, tables=f"[pole]\nprojection = {at_wall:.5f}")
    text = compare_text(job, compare(job, [8]), plain=True)
    assert "free to the wall: none closed (1/16 in past it), none stacked (" in text
    assert table_of(job, [8])["8"]["wall free"] == "-1/16"


def test_whose_findings_and_what_they_are_held_against() -> None:
    """Of several windows each finding names its own; under a table stand clearance and turns."""
    tables = '[pole]\nprojection = 4\ndiameter = "3/4"'
    job = job_of("width = 60", 'name = "Porch"\nwidth = 70\nreturn = 3', tables=tables)
    plain = compare_text(job, compare(job, []), plain=True).splitlines()
    assert [line.split(":")[0] for line in plain if line.startswith("finding at ")] == [
        "finding at Window 1, tight-turn",
        "finding at Porch, short-return",
        "finding at Porch, tight-turn",
    ]
    # acos(sqrt(3/4)) = 30, acos(3/4) = 41.4.
    lift = "30 degrees before they lift off the pole's top; needs 45 degrees"
    assert plain.count(f"rings turn, at any count: {lift} to open and close") == 2
    assert plain.count("rings jam, at any count: at 41 degrees") == 2
    table = compare_text(job, compare(job, []), columns=None)
    assert "wall free: from the closed fold to the wall; 1/2 in is asked for" in table
    assert "rings turn 30° before they lift off the pole's top; needs 45° to open" in table
    assert "rings jam at 41°" in table
    assert "ring angle: from the pole to a ring, closed; a ring turns from 90°" in table


def test_every_form_is_safe_for_a_terminal() -> None:
    """Control characters of any name reach no form; ASCII alone where that is all there is."""
    bad = "a\\u001b[31mb\\nc\\u202e"
    job = job_of(f'name = "{bad}"\nwidth = 60', tables=f'[fabric]\nname = "{bad}"\nwidth = 54')
    for columns in (20, 80, None):
        for plain in (False, True):
            text = compare_text(job, compare(job), columns=columns, plain=plain, ascii_only=True)
            assert {"\x1b", "\u202e"}.isdisjoint(text)
            assert text.isascii()


def test_rings_are_said_alike_everywhere() -> None:
    """Plan, comparison and ticket say in the same words how far rings turn, and what is needed."""
    job = job_of("width = 60\nlength = 80", tables='[pole]\nprojection = 4\ndiameter = "3/4"')
    # acos(sqrt(3/4)) = 30, acos(3/4) = 41.4.
    turn = "30° before they lift off the pole's top; needs 45° to open and close"
    planned = plan(job)
    rows = {line.strip() for line in as_text(job, planned, columns=None).splitlines()}
    [said] = [row for row in rows if row.startswith("rings turn")]
    assert said.split("  ", 1)[1].strip() == turn
    assert any(row.startswith("rings jam") and " at 41°, " in row for row in rows)
    compared = compare_text(job, compare(job, []), columns=None).splitlines()
    assert [line.strip() for line in compared if "rings" in line][:2] == [
        f"rings turn {turn}",
        "rings jam at 41°",
    ]
    figures = dict(in_short(window_figures(job, planned.windows[0])))
    assert (figures["Rings turn"], figures["Rings jam"]) == (turn, "at 41°")


def test_glass_at_each_count() -> None:
    """How much of the glass each count's stack covers: 1 1/4 in an eyelet, less 15 in beside it.

    It has a column only where glass is given.
    """
    job = job_of(f"{LONG}\nglass = 60\nfullness = 2", tables="[pole]\nlength = 90")
    table = table_of(job)
    assert {count: row["over glass"] for count, row in table.items()} == {
        "6": "0",
        "8": "0",
        "10": "0",
        "12": "0",
        "14": "2 1/2",
        "16": "5",
        "18": "7 1/2",
    }
    text = compare_text(job, compare(job), plain=True)
    assert "glass: clear when drawn open" in text
    assert "glass: 2 1/2 in covered at either side when drawn open" in text
    assert "over glass" not in table_of(job_of(LONG))["12"]


def test_widths_of_a_pattern_on_the_folds() -> None:
    """Each count's own width and fullness stand in the table, and what was asked for under it.

    Repeats of 7 in a pitch, 2 in eyelets and 6 in at the ends: 11 pitches are 85 in wide, 13 are
    99. Asked for are 82 in, so 74 in of cloth for 37 in of pole; 77 in are 2.08 times.
    """
    window = f'{LONG}\nfullness = 2\npattern = "folds"'.replace("width = 74", "width = 82")
    job = job_of(window, tables=f"{LINEN}\nrepeat_across = 7")
    table = table_of(job)
    assert (table["12"]["width"], table["12"]["fullness"]) == ("85", "2.08 times")
    assert (table["14"]["width"], table["14"]["pitch"]) == ("99", "7")
    text = compare_text(job, compare(job), columns=None)
    assert "width: for the pattern on the folds; 82 in is asked for, 2.00 times full" in text
    assert "width: 85 in\nfullness: 2.08 times" in compare_text(job, compare(job), plain=True)


def test_figures_of_a_count() -> None:
    """Beside each count stand its gap, pitch, folds, wall, ring, stack and sheets, in inches.

    8 of 2 in across 60 less 1 1/2 and 3: gaps of 39 1/2 in by 7, pitches of 107/14, half of that
    stacked. Twice and a quarter full a fold is 75.04 mm deep, its rings at 86.2 degrees (see
    planning/test_hanging): 2 15/16 in and, up, 3; to the wall 4 in less 2.954, down, 1. Even joins
    on 10 in of paper leave 9 1/2: (60 - 1/2)/9 1/2 is 6.3 a panel, so 7 sheets.
    """
    window = "width = 60\nreturn = 3\ncount = 8\nfullness = 2.25"
    tables = (
        '[pole]\ndiameter = "5/8"\nprojection = 4\n'
        '[paper]\njoins = "even"\nstrips = "each"\norientation = "landscape"'
    )
    [eight] = table_of(job_of(window, tables=tables), [8]).values()
    assert eight == {
        "eyelets": "8",
        "gap": "≈ 5 5/8",
        "in eyelets": "2.82",
        "pitch": "≈ 7 5/8",
        "fold closed": "3",
        "stacked": "3 7/8",
        "wall free": "1",
        "ring angle": "86°",
        "stack": "10",
        "seams hidden": "-",
        "drops": "-",
        "order": "-",
        "sheets": "14",
        # Stacked a fold reaches 3 7/8 of the 3 1/2 in that are free; 5/8 is over half of an inch.
        "findings": "warn short-return, warn tight-turn, warn back-fold-hits-wall",
    }
