"""The plan as CSV: holes, seams, drops, pieces and order, and words that nothing can run."""

from __future__ import annotations

import csv
import io
from itertools import groupby

import pytest

from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_csv import COLUMNS, as_csv
from tests.helpers.jobfiles import RING, job_of

# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in (2540
# mm). From 54 in (1371.6 mm) the seam stands at 47 5/8 in (1209.675), and pieces are 51 1/8 and
# 29 7/8 in (1298.575 and 758.825); see test_plan_cloth.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54'
SEWN = job_of(LONG, tables=LINEN)
SHARED = job_of(LONG, tables="[fabric]\nwidth = 60")
# A pair that shares a drop of patterned cloth: see test_drops.
MATCHED = job_of(
    "width = 50\nleading = 3\nreturn = 3\ncount = 8\nlength = 84",
    tables="[fabric]\nwidth = 40\nrepeat_across = 17",
)
# Two windows, one made twice, of one cloth, lined.
LINED = job_of(
    f'name = "East"\n{LONG}\nquantity = 2',
    f'name = "West"\n{LONG.replace("84", "60")}',
    tables=f"{LINEN}\n[lining]\nwidth = 60",
)
RAILROADED = job_of(LONG, tables="[fabric]\nwidth = 118\nrailroad = true")
# Cloth barely wider than its hem, whose first seam has no room outside that.
NARROW = job_of(
    "width = 14\nleading = 3\nreturn = 3\ncount = 2\nlength = 84",
    tables="[fabric]\nwidth = 7\nrepeat_across = 6",
)
JOBS = {
    "sewn": SEWN,
    "shared": SHARED,
    "matched": MATCHED,
    "lined": LINED,
    "railroaded": RAILROADED,
    "narrow": NARROW,
    "least": job_of("width = 60"),
}

Record = dict[str, str]


def records(job: Job, kind: str = "") -> list[Record]:
    """Every record of a job's CSV, or those of one kind."""
    text = as_csv(job, plan(job)).decode("utf-8")
    found = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    return [record for record in found if not kind or record["record"] == kind]


def told(record: Record) -> Record:
    """The cells that aren't empty."""
    return {column: cell for column, cell in record.items() if cell}


def test_columns() -> None:
    """The first line names the columns, which are those promised."""
    expected = (
        "record,window,panel,part,fabric,drop,number,position_mm,width_mm,length_mm,measure,"
        "quantity,note"
    )
    lines = as_csv(SEWN, plan(SEWN)).decode().split("\r\n")
    assert expected == lines[0]
    assert tuple(expected.split(",")) == COLUMNS


def test_lines_end_as_the_standard_has_it() -> None:
    """Every line ends in CR LF, the last too, and nothing else breaks a line (RFC 4180)."""
    data = as_csv(SEWN, plan(SEWN))
    assert data.endswith(b"\r\n")
    assert data.count(b"\n") == data.count(b"\r") == data.count(b"\r\n")
    assert data.count(b"\r\n") == len(records(SEWN)) + 1


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_every_record_has_every_column(job: Job) -> None:
    """No record has a cell too few or too many."""
    text = as_csv(job, plan(job)).decode("utf-8")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert {len(row) for row in rows} == {len(COLUMNS)}


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_millimetres_are_plain_numbers(job: Job) -> None:
    """What a spreadsheet is to reckon with is a number or empty, never text."""
    cells = [
        record[column] for record in records(job) for column in COLUMNS if column.endswith("_mm")
    ]
    assert any(cells)
    for cell in filter(None, cells):
        assert -(10**6) < float(cell) < 10**6


def test_order_of_records() -> None:
    """Holes and seams of a window, then every drop with its pieces, then the order."""
    kinds = [kind for kind, _ in groupby(record["record"] for record in records(SEWN))]
    assert kinds == ["hole", "seam", *["drop", "piece"] * 4, "order", "allowance", "order"]


def test_holes() -> None:
    """Every hole of every panel: its place, its size, and the gap that follows it."""
    holes = records(SEWN, "hole")
    assert [hole["panel"] for hole in holes] == ["left"] * 12 + ["right"] * 12
    for panel in (holes[:12], holes[12:]):
        assert [hole["number"] for hole in panel] == [str(n) for n in range(1, 13)]
        # 3 + 1 in, then every 6 in.
        expected = [(4 + 6 * n) * 25.4 for n in range(12)]
        assert [float(hole["position_mm"]) for hole in panel] == pytest.approx(expected, abs=5e-4)
        assert [hole["measure"] for hole in panel] == [f"{4 + 6 * n} in" for n in range(12)]
        assert [hole["note"] for hole in panel] == [
            *["front gap after it", "back gap after it"] * 5,
            "front gap after it",
            "",
        ]
    assert told(holes[0]) == {
        "record": "hole",
        "window": "Window 1",
        "panel": "left",
        "number": "1",
        "position_mm": "101.6",
        "width_mm": "25.4",
        "measure": "4 in",
        "quantity": "1",
        "note": "front gap after it",
    }


def test_holes_on_hooks() -> None:
    """On hooks no gap is a front or a back one."""
    holes = records(job_of(LONG, eyelet=f'{RING}\nhung = "hooks"'), "hole")
    assert {hole["note"] for hole in holes} == {""}


def test_holes_of_several() -> None:
    """A panel that is made twice has its holes listed once, for two."""
    holes = records(LINED, "hole")
    assert [hole["quantity"] for hole in holes] == ["2"] * 24 + ["1"] * 24
    assert [hole["window"] for hole in holes] == ["East"] * 24 + ["West"] * 24


def test_seams() -> None:
    """Every seam of face and lining: its place, and whether it shows."""
    tables = f"{LINEN}\n[lining]\nwidth = 48"
    face, lining = records(job_of(LONG, tables=tables), "seam")
    assert told(face) == {
        "record": "seam",
        "window": "Window 1",
        "part": "face",
        "fabric": "Heron linen",
        "number": "1",
        "position_mm": "1209.675",
        "measure": "47 5/8 in",
        "note": "hidden",
    }
    # From 48 in the lining reaches 46 in from its own edge, which is 1 1/2 in within the face's:
    # behind the seventh eyelet, 41 5/8 - 1 1/2 in.
    assert (lining["part"], lining["fabric"], lining["position_mm"]) == ("lining", "", "1019.175")


def test_lining() -> None:
    """A lined window has a row of what its lining finishes at, and how it is joined."""
    job = job_of(f"{LONG}\nquantity = 2", tables=f"{LINEN}\n[lining]\nwidth = 48")
    (lining,) = records(job, "lining")
    assert told(lining) == {
        "record": "lining",
        "window": "Window 1",
        "part": "lining",
        "width_mm": "1803.4",  # 74 - 3 in
        "length_mm": "2108.2",  # 84 - 1 in
        "measure": "71 in × 83 in",
        "quantity": "4",
        "note": (
            "loose (sewn to the face at the top alone), "
            "set in 1 1/2 in from each side edge of the face, 1 in short of the face's foot"
        ),
    }
    assert records(job_of(LONG, tables=LINEN), "lining") == []


def test_seam_in_sight() -> None:
    """A seam in a front gap is in sight."""
    job = job_of(
        "width = 50\nleading = 3\nreturn = 3\ncount = 2\nlength = 84",
        tables="[fabric]\nwidth = 54",
    )
    (seam,) = records(job, "seam")
    assert (seam["measure"], seam["note"]) == ("26 1/2 in", "in sight")


def test_seam_under_an_eyelet() -> None:
    """Gaps of 1 in are too narrow for a seam's two 1/2 in, so it falls under an eyelet's flange.

    15 eyelets of 4 in from 1 in on: 76 in, 82 raw.
    """
    job = job_of(
        'width = 76\nleading = 1\nreturn = 1\ncount = 15\npanels = "left"\nlength = 84',
        eyelet='outside = 4\nopening = 2\nhole = 2\nhung = "hooks"',
        tables="[fabric]\nwidth = 54",
    )
    assert [seam["note"] for seam in records(job, "seam")] == ["under an eyelet or a hem"]


def test_seam_of_a_lining_beyond_the_eyelets() -> None:
    """A lining's seam may stand in a return of 20 in, past all eyelets: it meets none of them."""
    job = job_of(
        'width = 60\npanels = "left"\nreturn = 20\ncount = 10',
        eyelet='outside = "2 5/8"\nopening = "1 9/16"',
        tables="[lining]\nwidth = 50\nseam = 1\n[fabric]\nwidth = 200",
    )
    [seam] = records(job, "seam")
    assert (seam["part"], seam["note"]) == ("lining", "outside the eyelets")
    # Past the last flange, measured from the lining's edge 1 1/2 in within the face's.
    assert float(seam["position_mm"]) > (60 - 20 - 1.5) * 25.4


def test_band_off_rolls() -> None:
    """Panels of 60 in from rolls of 40: each takes a roll and half of one that both share.

    A piece has the number of its roll, its place along that, and where it is spliced.
    """
    job = job_of("width = 60\ncount = 8\nlength = 84", tables='[band]\nroll = "40 in"')
    pieces = records(job, "band")
    first = {
        "record": "band",
        "window": "Window 1",
        "panel": "left",
        "part": "band",
        "drop": "2",
        "number": "1",
        "position_mm": "0",
        "width_mm": "101.6",
        "length_mm": "508",
        "measure": "20 in",
    }
    spliced = {"number": "2", "length_mm": "1016", "measure": "40 in"}
    spliced["note"] = "spliced 20 in from the leading edge"
    assert [told(piece) for piece in pieces] == [
        first,
        {**first, **spliced, "drop": "1"},
        {**first, "panel": "right", "position_mm": "508"},
        {**first, **spliced, "panel": "right", "drop": "3"},
    ]
    _, band = records(job, "order")
    assert band["length_mm"] == "3048"
    assert (band["measure"], band["quantity"]) == ("3 1/2 yd", "3")
    assert band["note"].endswith("; 3 rolls of 40 in")


def test_drops_and_pieces() -> None:
    """A pair's four drops and their pieces: along the cloth, and across it from its left."""
    common = {"window": "Window 1", "part": "face", "fabric": "Heron linen", "length_mm": "2540"}
    found = [record for record in records(SEWN) if record["record"] in {"drop", "piece"}]
    drops, pieces = found[::2], found[1::2]
    for n, drop in enumerate(drops):
        assert told(drop) == {
            **common,
            "record": "drop",
            "drop": str(n + 1),
            "position_mm": str(2540 * n),
            "width_mm": "1371.6",
            "measure": "100 in",
        }
    # A left panel leads at its right: from the right selvage, 54 - 51 1/8 and 54 - 29 7/8 in.
    expected = [
        ("left", "1", "73.025", "1298.575", "51 1/8 in"),
        ("left", "2", "612.775", "758.825", "29 7/8 in"),
        ("right", "1", "0", "1298.575", "51 1/8 in"),
        ("right", "2", "0", "758.825", "29 7/8 in"),
    ]
    for n, (panel, number, left, width, measure) in enumerate(expected):
        assert told(pieces[n]) == {
            **common,
            "record": "piece",
            "drop": str(n + 1),
            "panel": panel,
            "number": number,
            "position_mm": left,
            "width_mm": width,
            "measure": measure,
        }


def test_a_shared_drop() -> None:
    """Two pieces side by side: 60 - 2 x 29 7/8 = 1/4 in between them."""
    right, left = records(SHARED, "piece")[-2:]
    assert (right["drop"], right["panel"], right["position_mm"]) == ("3", "right", "0")
    assert (left["drop"], left["panel"], left["position_mm"]) == ("3", "left", "765.175")
    assert (right["width_mm"], left["width_mm"]) == ("758.825", "758.825")


def test_railroaded() -> None:
    """A run along the cloth, its one piece the cut length across it."""
    drops, pieces = records(RAILROADED, "drop"), records(RAILROADED, "piece")
    assert [(d["position_mm"], d["length_mm"], d["note"]) for d in drops] == [
        ("0", "2032", "railroaded"),
        ("2032", "2032", "railroaded"),
    ]
    assert [(p["panel"], p["position_mm"], p["width_mm"]) for p in pieces] == [
        ("left", "0", "2540"),
        ("right", "0", "2540"),
    ]


def test_railroaded_in_repeats() -> None:
    """A run is whole repeats; its piece is as long as the panel is raw."""
    tables = "[fabric]\nwidth = 118\nrailroad = true\nrepeat_down = 27"
    job = job_of(LONG.replace("74", "60"), tables=tables)
    # 81 and 66 in.
    assert [d["length_mm"] for d in records(job, "drop")] == ["2057.4", "2057.4"]
    assert [p["length_mm"] for p in records(job, "piece")] == ["1676.4", "1676.4"]


def test_railroaded_length_not_known() -> None:
    """What lies across turned cloth isn't known without a length: empty, not 0."""
    window = "width = 74\nleading = 3\nreturn = 3\ncount = 12"
    for piece in records(job_of(window, tables="[fabric]\nrailroad = true"), "piece"):
        assert (piece["width_mm"], piece["measure"]) == ("", "")


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_positions_chain(job: Job) -> None:
    """Each cloth's drops follow each other; they end at the order's exact length."""
    drops = records(job, "drop")
    orders = [one for one in records(job, "order") if one["part"] in {"face", "lining"}]
    cloths = [list(each) for _, each in groupby(drops, key=lambda drop: drop["part"])]
    for cloth, order in zip(cloths, orders, strict=True):
        assert [drop["drop"] for drop in cloth] == [str(n + 1) for n in range(len(cloth))]
        assert order["quantity"] == str(len(cloth))
        ends = [float(drop["position_mm"]) + float(drop["length_mm"]) for drop in cloth]
        starts = [float(drop["position_mm"]) for drop in cloth]
        assert starts == pytest.approx([0, *ends[:-1]], abs=2e-3)
        assert float(order["length_mm"]) == pytest.approx(ends[-1], abs=2e-3)


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_pieces_lie_within_their_drop(job: Job) -> None:
    """The pieces of a drop lie side by side within the cloth's width, and no two overlap."""
    width = 0.0
    last: Record = {}
    for record in records(job):
        if record["record"] == "drop":
            width, last = float(record["width_mm"]), {}
        elif record["record"] == "piece":
            left = float(record["position_mm"])
            before = float(last["position_mm"]) + float(last["width_mm"]) if last else 0.0
            assert left >= before - 2e-3
            assert left + float(record["width_mm"]) <= width + 2e-3
            last = record


@pytest.mark.parametrize("job", [SEWN, SHARED, MATCHED, LINED])
def test_pieces_add_up_to_the_panel(job: Job) -> None:
    """A panel's pieces, less its seams and its hems, are its finished width.

    A lining's hems take what it is set in, 1 1/2 in each, so that its raw width is the panel's.
    """
    windows = {window.name: window for window in plan(job).windows}
    found = sorted(records(job, "piece"), key=lambda p: (p["window"], p["part"], p["panel"]))
    panels = groupby(found, key=lambda p: (p["window"], p["part"], p["panel"]))
    count = 0
    hems = {"face": 2 * 76.2, "lining": 0}
    for (window, part, _), pieces in panels:
        widths = [float(piece["width_mm"]) for piece in pieces]
        finished = sum(widths) - 25.4 * (len(widths) - 1) - hems[part]
        assert finished == pytest.approx(float(windows[window].panels[0].width), abs=2e-3)
        count += 1
    parts = 2 if job is LINED else 1
    assert count == sum(w.quantity * len(w.panels) for w in windows.values()) * parts


def test_order() -> None:
    """What to buy of the whole job: each cloth, each eyelet, each height of band."""
    job = job_of(LONG, eyelet=f"{RING}\npack = 10\nspares = 3", tables=LINEN)
    cloth, eyelets, band = records(job, "order")
    (allowance,) = records(job, "allowance")
    assert told(cloth) == {
        "record": "order",
        "part": "face",
        "fabric": "Heron linen",
        "width_mm": "1371.6",
        "length_mm": "10160",  # 400 in
        "measure": "11 1/4 yd",
        "quantity": "4",
        "note": "drops, what they take exactly, and what to order, allowance included",
    }
    assert told(allowance) == {
        "record": "allowance",
        "part": "face",
        "fabric": "Heron linen",
        "width_mm": "1371.6",
        "length_mm": "101.6",
        "measure": "4 in",
        "note": "to square the start and cut round a flaw",
    }
    assert told(eyelets) == {
        "record": "order",
        "part": "eyelets",
        "width_mm": "50.8",
        "quantity": "30",
        "note": "2 in outside, 1 in opening: 24 used, 3 spare, 3 packs of 10",
    }
    assert told(band) == {
        "record": "order",
        "part": "band",
        "width_mm": "101.6",
        "length_mm": "3759.2",
        "measure": "4 1/4 yd",
        "note": "what all panels take exactly, and what to order",
    }


def test_order_with_a_repeat() -> None:
    """A repeat more has a row of its own; an allowance of 0 has none."""
    job = job_of(LONG, tables=f"{LINEN}\nrepeat_down = 30\nallowance = 0")
    (extra,) = records(job, "allowance")
    assert (extra["length_mm"], extra["measure"]) == ("762", "30 in")
    assert extra["note"] == "one repeat, to begin at a chosen place of the pattern"
    # Four drops of 120 in and 30 in are 510 in: 14.17 yd.
    assert records(job, "order")[0]["measure"] == "14 1/4 yd"


def test_order_not_known() -> None:
    """What isn't known is an empty cell."""
    order = records(job_of(LONG, tables='[fabric]\nname = "Heron linen"'), "order")[0]
    assert (order["width_mm"], order["length_mm"]) == ("", "")
    assert (order["measure"], order["quantity"]) == ("", "")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t=", "\r="])
def test_nothing_a_spreadsheet_would_run(start: str) -> None:
    """Words of the job that begin like a formula come as text, in every column."""
    word = f"{start}1+1"
    name = word.replace("\t", "\\t").replace("\r", "\\r")
    job = job_of(f'{LONG}\nname = "{name}"', tables=f'[fabric]\nname = "{name}"\nwidth = 54')
    for record in records(job):
        assert not any(cell[:1] in {"=", "+", "-", "@", "\t", "\r"} for cell in record.values())
    seam = records(job, "seam")[0]
    assert seam["window"].lstrip("' ") == word.lstrip()
    assert seam["fabric"] == seam["window"]


def test_words_as_they_are() -> None:
    """Commas, quotes and letters of any script come back as they went in."""
    name = 'Läden, \\"großes\\" Fenster'
    job = job_of(f'{LONG}\nname = "{name}"', tables=LINEN)
    assert {r["window"] for r in records(job, "hole")} == {'Läden, "großes" Fenster'}


def test_control_characters() -> None:
    """Control and bidi characters of the job's words are replaced, and line breaks are spaces."""
    name = "a\\u001b[31mb\\r\\nc\\u202e\\u0085d"
    job = job_of(f'{LONG}\nname = "{name}"', tables=f'[fabric]\nname = "{name}"\nwidth = 54')
    (seam,) = records(job, "seam")
    assert seam["window"] == seam["fabric"] == "a\ufffd[31mb  c\ufffd d"
    text = as_csv(job, plan(job)).decode().replace("\r\n", "")
    assert all(one.isprintable() for one in text)


def test_pole_and_brackets() -> None:
    """The pole, worked out or given, and its brackets from its left end; none where not known.

    12 eyelets stack on 15 in: 40 + 2 x 15 = 70 in. The end eyelet takes 1 1/4 in.
    """
    window = f"{LONG}\nfullness = 3\nglass = 40"
    job = job_of(window, tables="[pole]\nsupports = 1")
    [pole] = records(job, "pole")
    assert (pole["length_mm"], pole["measure"], pole["note"]) == (
        *("1778", "70 in", "worked out, to clear the glass"),
    )
    brackets = records(job, "bracket")
    assert [(row["number"], row["measure"], row["note"]) for row in brackets] == [
        ("1", "1 1/4 in", "at an end"),
        ("2", "35 in", "between the ends"),
        ("3", "68 3/4 in", "at an end"),
    ]
    assert [row["position_mm"] for row in brackets] == ["31.75", "889", "1746.25"]
    [given] = records(job_of(LONG, tables="[pole]\nlength = 60"), "pole")
    assert (given["measure"], given["note"]) == ("60 in", "")
    assert records(SEWN, "pole") == records(SEWN, "bracket") == []


def test_a_pattern_on_the_folds() -> None:
    """One row says the width asked for, the repeat, and how many a pitch has."""
    job = job_of(
        'width = 82\nleading = 3\nreturn = 3\ncount = 12\npattern = "folds"',
        tables="[fabric]\nwidth = 54\nrepeat_across = 7",
    )
    (row,) = records(job, "pattern")
    assert (row["width_mm"], row["length_mm"], row["measure"]) == ("2082.8", "177.8", "82 in")
    assert row["note"] == "alike on every front fold, 1 repeat of 7 in from eyelet to eyelet"


def test_motifs() -> None:
    """A row for each front fold of each panel, and one for the height at which a motif hangs.

    Front gaps' middles of 12 eyelets, 3 in from the edge and 7 in apart: 3 + 1 + 3 1/2 = 7 1/2 in.
    The motif is 20 in below the top, and the heading takes 8 in.
    """
    job = job_of(
        'width = 82\nleading = 3\nreturn = 3\ncount = 12\npattern = "folds"\nlength = 84\n'
        "motif_below = 20",
        tables="[fabric]\nwidth = 54\nrepeat_across = 7\nmotif = 2\nrepeat_down = 25\n"
        "motif_down = 9",
    )
    found = records(job, "motif")
    assert [row["panel"] for row in found] == ["left"] * 6 + ["right"] * 6
    assert [row["measure"] for row in found[:3]] == ["7 1/2 in", "21 1/2 in", "35 1/2 in"]
    (down,) = records(job, "motif down")
    assert (down["measure"], down["position_mm"]) == ("28 in", "711.2")
