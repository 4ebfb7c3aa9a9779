"""The plan as JSON and as text: the keys that are promised, the figures, and what isn't known."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jobfiles import RING, job_of

from drapetemplate.job import Job
from drapetemplate.planning.plan import plan
from drapetemplate.report import as_json, as_text

# Design, section 5. What a list holds stands in a list; None stands for any value.
FOLD = {
    "fullness": None,
    "pole_per_gap_mm": None,
    "depth_closed_mm": None,
    "depth_stacked_mm": None,
    "ring_angle_deg": None,
    "turn_limit_deg": None,
    "least_fullness": None,
}
STRIP = {
    "length_mm": None,
    "height_mm": None,
    "paper": None,
    "orientation": None,
    "sheets": None,
    "rows": None,
    "lanes": None,
    "overlap_mm": None,
    "joins_mm": None,
}
PANEL = {
    "side": None,
    "width_mm": None,
    "count": None,
    "outside_mm": None,
    "opening_mm": None,
    "hole_mm": None,
    "leading_mm": None,
    "return_mm": None,
    "gap_mm": None,
    "pitch_mm": None,
    "centers_mm": None,
    "gaps": None,
    "fold": FOLD,
    "stack_mm": None,
    "weight_kg": None,
    "seams_mm": None,
    "pieces_mm": None,
    "strip": STRIP,
}
PROMISED = {
    "format": None,
    "job": {
        "name": None,
        "number": None,
        "client": None,
        "room": None,
        "due": None,
        "notes": None,
    },
    "windows": [
        {
            "name": None,
            "quantity": None,
            "length_mm": None,
            "panels": [PANEL],
            "cloth": None,
            "findings": [{"level": None, "code": None, "text": None}],
        }
    ],
    "order": {"cloth": None, "eyelets": None, "band_mm": None},
}

FULL = job_of(
    'name = "Shelves"\nquantity = 2\nwidth = 600\nlength = 900\nreturn = 40\nleading = 30\n'
    "count = 4\nfullness = 1.5",
    'panels = "single"\nwidth = "15 in"',
    head='units = "mm"',
    job='number = 7\nclient = "The house"\nroom = "Store"\ndue = 2027-03-31\nnotes = "Mind\\nit"',
    eyelet="outside = 50\nopening = 25\nhole = 26",
    tables='[paper]\nsize = "a4"\noverlap = 20',
)
LEAST = job_of('width = 60\npanels = "left"')
HOOKS = job_of("width = 60", eyelet=RING + '\nhung = "hooks"')


def _keys(promised: object, found: object, path: str) -> Iterator[str]:
    """Where the keys of what is found aren't those promised, in their order."""
    match promised, found:
        case dict(), dict():
            if list(promised) != list(found):
                yield f"{path}: {list(found)}"
            for key, inner in promised.items():
                yield from _keys(inner, found.get(key), f"{path}.{key}")
        case [inner], list():
            if not found:
                yield f"{path}: empty"
            for item in found:
                yield from _keys(inner, item, f"{path}[]")
        case None, _:
            return
        case _:
            yield f"{path}: {type(found).__name__}"


@pytest.mark.parametrize("job", [FULL, LEAST, HOOKS], ids=["full", "least", "hooks"])
def test_keys_are_those_promised(job: Job) -> None:
    """The keys are the same, in the same order, whatever the job says or leaves out."""
    assert list(_keys(PROMISED, as_json(job, plan(job)), "plan")) == []


def _windows(job: Job) -> list[dict[str, Any]]:
    windows: list[dict[str, Any]] = as_json(job, plan(job))["windows"]
    return windows


def test_job_as_given() -> None:
    """The job's own words come back as they are, the date as year-month-day."""
    assert as_json(FULL, plan(FULL))["job"] == {
        "name": "Heron Point, linen store",
        "number": "7",
        "client": "The house",
        "room": "Store",
        "due": "2027-03-31",
        "notes": "Mind\nit",
    }


def test_what_the_job_leaves_out_is_null() -> None:
    """What the job doesn't say stands as null under its key."""
    job = as_json(LEAST, plan(LEAST))["job"]
    assert [job[key] for key in ("number", "client", "room", "due", "notes")] == [None] * 5
    assert _windows(LEAST)[0]["length_mm"] is None


def test_format_is_said() -> None:
    """The first key says which form of JSON this is."""
    assert as_json(LEAST, plan(LEAST))["format"] == 1


def test_figures_of_a_panel() -> None:
    """Worked by hand: (600 - 30 - 40 - 4 x 50)/3 = 110, pitch 160, first centre at 30 + 25."""
    window = _windows(FULL)[0]
    assert (window["name"], window["quantity"], window["length_mm"]) == ("Shelves", 2, 900.0)
    left, right = window["panels"]
    assert (left["side"], right["side"]) == ("left", "right")
    expected = {
        "width_mm": 600.0,
        "count": 4,
        "outside_mm": 50.0,
        "opening_mm": 25.0,
        "hole_mm": 26.0,
        "leading_mm": 30.0,
        "return_mm": 40.0,
        "gap_mm": 110.0,
        "pitch_mm": 160.0,
        "centers_mm": [55.0, 215.0, 375.0, 535.0],
        "gaps": ["front", "back", "front"],
        "stack_mm": 127.0,  # 4 x 1 1/4 in
    }
    assert expected == {key: left[key] for key in expected}
    assert expected == {key: right[key] for key in expected}
    assert left["fold"]["fullness"] == 1.5


def test_figures_of_a_single_panel() -> None:
    """A single panel's leading is its return at the left edge: 3 in at both ends of 15 in."""
    (panel,) = _windows(FULL)[1]["panels"]
    assert (panel["side"], panel["leading_mm"], panel["return_mm"]) == ("single", 76.2, 76.2)
    assert panel["centers_mm"][0] + panel["centers_mm"][-1] == pytest.approx(381)


def test_strip_on_paper() -> None:
    """The strip is as long as the panel and as high as the band; its joins run in order."""
    strip = _windows(FULL)[0]["panels"][0]["strip"]
    assert (strip["length_mm"], strip["height_mm"]) == (600.0, 100.8)  # 50 mm + 2 in
    assert (strip["paper"], strip["overlap_mm"], strip["lanes"]) == ("A4", 20.0, 1)
    assert strip["orientation"] in {"portrait", "landscape"}
    assert strip["sheets"] == (len(strip["joins_mm"]) + 1) * strip["rows"]
    assert sorted(strip["joins_mm"]) == strip["joins_mm"]
    assert all(0 < x < 600 for x in strip["joins_mm"])


def test_joins_run_from_the_leading_edge() -> None:
    """A pair's panels are mirror images on paper, so their joins mirror: both from the leading."""
    job = job_of("width = 60\ncount = 4\nreturn = 3", tables='[paper]\njoins = "even"')
    left, right = (panel["strip"]["joins_mm"] for panel in _windows(job)[0]["panels"])
    width = 60 * 25.4
    assert [width - x for x in reversed(left)] == pytest.approx(right)


def test_hooks_have_no_gaps_to_name() -> None:
    """On hooks there are no front and back gaps, and no folds."""
    panel = _windows(HOOKS)[0]["panels"][0]
    assert panel["gaps"] == []
    assert panel["fold"]["depth_closed_mm"] is None


def test_findings_and_assumptions() -> None:
    """Findings come before what is assumed, the window's and the job's, each with its level."""
    job = job_of("width = 60\ncount = 7")
    findings = [(f["level"], f["code"]) for f in _windows(job)[0]["findings"]]
    assert findings[0] == ("stop", "odd-count")
    assert findings[-1] == ("note", "assumed")
    texts = [f["text"] for f in _windows(job)[0]["findings"]]
    assert "return = 3 in" in texts
    assert "paper.size = letter" in texts


def test_order() -> None:
    """What all panels take together: 2 pairs of 4 eyelets and one single panel's."""
    order = as_json(FULL, plan(FULL))["order"]
    single = _windows(FULL)[1]["panels"][0]["count"]
    assert order["eyelets"] == 2 * 2 * 4 + single
    assert order["band_mm"] == 4 * 600 + 381


@pytest.mark.parametrize("job", [FULL, LEAST, HOOKS], ids=["full", "least", "hooks"])
def test_json_is_plain(job: Job) -> None:
    """Every value is one JSON knows, none infinite or not a number, and comes back the same."""
    found = as_json(job, plan(job))
    assert found == json.loads(json.dumps(found, allow_nan=False))


def test_lengths_are_floats() -> None:
    """Every length is a float, never a fraction or text, even where it is whole."""
    panel = _windows(FULL)[0]["panels"][0]
    measures = [value for key, value in panel.items() if key.endswith("_mm")]
    measures += panel["centers_mm"] + panel["strip"]["joins_mm"]
    assert {float} == {type(x) for x in measures if x is not None and not isinstance(x, list)}


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
