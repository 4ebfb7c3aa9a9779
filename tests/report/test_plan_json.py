"""The plan as JSON: the keys that are promised, the figures, and what isn't known."""

from __future__ import annotations

import json
from collections.abc import Iterator
from math import ceil
from typing import Any

import pytest

from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_json import as_json
from tests.helpers.jobfiles import RING, job_of


def keys(words: str, **more: object) -> dict[str, object]:
    """A table of these keys, of any value, and then of those that hold what is told."""
    return {**dict.fromkeys(words.split()), **more}


# Design, section 5. What a list holds stands in a list; None stands for any value.
FOLD = keys(
    "fullness pole_per_gap_mm depth_closed_mm depth_stacked_mm ring_angle_deg free_turn_deg "
    "turn_limit_deg least_fullness"
)
STRIP = keys("length_mm height_mm paper orientation sheets rows lanes overlap_mm joins_mm panels")
PANEL = {
    **keys("side width_mm count outside_mm opening_mm hole_mm leading_mm return_mm gap_mm"),
    **keys("pitch_mm centers_mm gaps", fold=FOLD),
    **keys("stack_mm weight_kg seams_mm pieces_mm motifs_mm", strip=STRIP),
}
AMOUNT = keys("amount unit")
ALLOWED = {"allowance_mm": 101.6, "repeat_mm": 0.0}
USED = {**ALLOWED, "motif_cut_mm": None}
ORDERED = {**ALLOWED, "between_mm": 0.0}
CLOTH = {
    **keys("part fabric joined set_in_mm short_mm finished_width_mm finished_length_mm"),
    **keys("drops least_drops cut_length_mm total_mm allowance_mm repeat_mm motif_cut_mm"),
    **keys("to_buy_mm", order=AMOUNT),
    **keys("seams_mm pieces_mm seams_hidden"),
}
STAND = keys(
    "length_mm worked_out glass_mm glass_covered_mm glass_bare_mm clearing_mm supports brackets_mm "
    "past_bracket_mm off_floor_mm weight_kg brackets_kg"
)
# Lists of cloth are empty where a job names none.
PROMISED = keys(
    "format",
    job=keys("name number client room due notes"),
    windows=[
        keys(
            "name quantity length_mm",
            panels=[PANEL],
            pattern=None,
            pole=STAND,
            cloth=[CLOTH],
            findings=[keys("level code text remedies")],
        )
    ],
    paper=keys("name sheets pages roll_mm"),
    order={
        "cloth": [
            keys(
                "part fabric width_mm drops total_mm allowance_mm repeat_mm between_mm to_buy_mm",
                order=AMOUNT,
            )
        ],
        **keys("eyelets band_mm"),
        "packs": [keys("outside_mm opening_mm hole_mm used spares pack packs bought")],
        "bands": [
            keys(
                "height_mm length_mm roll_mm rolls",
                order=AMOUNT,
                panels=[keys("window panel", pieces=[keys("roll at_mm start_mm length_mm")])],
            )
        ],
    },
)

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
# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw with its side hems; cuts of 84 + 8 + 8
# = 100 in. From 54 in the face reaches 50 1/2 in, so its seam is behind the eighth eyelet, at
# 47 5/8 in: pieces of 51 1/8 and 29 7/8 in. The lining finishes at 74 - 3 by 84 - 1 in, its own
# edge 1 1/2 in within the face's: 74 in raw with hems of 1 1/2 in, cuts of 83 + 4 = 87 in. From
# 48 in it reaches 46 in: behind the seventh, at 41 5/8 - 1 1/2 = 40 1/8 in, pieces of 42 1/8 and
# 32 7/8 in.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
SEWN = job_of(
    LONG,
    f"{LONG}\nquantity = 2",
    eyelet=f"{RING}\npack = 10\nspares = 3",
    tables='[fabric]\nname = "Heron linen"\nwidth = 54\nweight = "300 gsm"\n[lining]\nwidth = 48',
)
# Neither the cloth's width nor a length.
UNKNOWN = job_of("width = 74\ncount = 12", tables='[fabric]\nname = "Heron linen"')
ROLLED = job_of(LONG, tables='[band]\nroll = "25 yd"')


def _keys(promised: object, found: object, path: str) -> Iterator[str]:
    """Where the keys of what is found aren't those promised, in their order."""
    match promised, found:
        case dict(), dict():
            if list(promised) != list(found):
                yield f"{path}: {list(found)}"
            for key, inner in promised.items():
                yield from _keys(inner, found.get(key), f"{path}.{key}")
        case [inner], list():
            if not found and not path.endswith((".cloth", ".bands[].panels")):
                yield f"{path}: empty"
            for item in found:
                yield from _keys(inner, item, f"{path}[]")
        case None, _:
            return
        case _:
            yield f"{path}: {type(found).__name__}"


JOBS = pytest.mark.parametrize(
    "job",
    [FULL, LEAST, HOOKS, SEWN, UNKNOWN, ROLLED],
    ids=["full", "least", "hooks", "sewn", "unknown", "rolled"],
)


@JOBS
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
        "stack_mm": 128.0,  # 4 x 32 mm
    }
    assert expected == {key: left[key] for key in expected}
    assert expected == {key: right[key] for key in expected}
    assert left["fold"]["fullness"] == 1.5


def test_folds_of_a_panel() -> None:
    """A pitch of (60 - 4 1/2 - 2)/7 = 107/14 in hung 2 1/4 times as full as its pole.

    A ring of 1 in without depth lifts from acos(sqrt(1/2)) on and jams at acos(1/2). How deep the
    folds are, at which angle the rings then stand, and how full the panel is with its rings
    jammed, at 30 degrees to the pole, were integrated step by step, as in planning/test_hanging.
    """
    window = "width = 60\nreturn = 3\ncount = 8\nfullness = 2.25"
    (panel, _) = _windows(job_of(window, tables='[pole]\ndiameter = "1/2"'))[0]["panels"]
    assert panel["fold"] == pytest.approx(
        {
            "fullness": 2.25,
            "pole_per_gap_mm": 107 / 14 * 25.4 / 2.25,
            "depth_closed_mm": 75.0395231,
            "depth_stacked_mm": 107 / 28 * 25.4,
            "ring_angle_deg": 86.2369206,
            "free_turn_deg": 45,
            "turn_limit_deg": 60,
            "least_fullness": 1.08228022,
        },
        rel=1e-8,
    )


def test_figures_of_a_single_panel() -> None:
    """A single panel's leading is its return at the left edge: 75 mm at both ends of 15 in."""
    (panel,) = _windows(FULL)[1]["panels"]
    assert (panel["side"], panel["leading_mm"], panel["return_mm"]) == ("single", 75.0, 75.0)
    assert panel["centers_mm"][0] + panel["centers_mm"][-1] == pytest.approx(381)


def test_strip_on_paper() -> None:
    """The strip is as long as a pair takes and as high as the band; its joins run in order.

    Ends of 30 and 40 mm on the same holes make 600 mm of panel 610 of strip.
    """
    strip = _windows(FULL)[0]["panels"][0]["strip"]
    assert (strip["length_mm"], strip["height_mm"]) == (610.0, 100.0)  # 50 mm + 50 mm
    assert strip["panels"] == ["left", "right"]
    assert (strip["paper"], strip["overlap_mm"]) == ("A4", 20.0)
    assert strip["orientation"] in {"portrait", "landscape"}
    lengths = len(strip["joins_mm"]) + 1
    assert strip["sheets"] == ceil(lengths / strip["lanes"]) * strip["rows"]
    assert sorted(strip["joins_mm"]) == strip["joins_mm"]
    assert all(0 < x < 600 for x in strip["joins_mm"])


def test_sheets_of_each_strip() -> None:
    """Each strip has its own count, and the paper all of them: joins are 9 1/2 in apart.

    (60 - 1/2)/9 1/2 is 6.3 and (45 - 1/2)/9 1/2 4.7.
    """
    job = job_of(
        "width = 60\ncount = 8",
        'width = 45\ncount = 8\npanels = "left"',
        tables='[paper]\njoins = "even"\nstrips = "each"\norientation = "landscape"',
    )
    found = as_json(job, plan(job))
    strips = [panel["strip"] for window in found["windows"] for panel in window["panels"]]
    assert [strip["sheets"] for strip in strips] == [7, 7, 5]
    assert [len(strip["joins_mm"]) for strip in strips] == [6, 6, 4]
    assert (found["paper"]["sheets"], found["paper"]["pages"]) == (19, 19)


def test_joins_run_from_the_leading_edge() -> None:
    """A pair's panels are mirror images on paper, so their joins mirror: both from the leading."""
    tables = '[paper]\njoins = "even"\nstrips = "each"'
    job = job_of("width = 60\ncount = 4\nreturn = 3", tables=tables)
    left, right = (panel["strip"]["joins_mm"] for panel in _windows(job)[0]["panels"])
    width = 60 * 25.4
    assert [width - x for x in reversed(left)] == pytest.approx(right)


def test_joins_of_one_strip_run_from_each_leading_edge() -> None:
    """A pair's one strip has joins in one place, told from either panel's own leading edge.

    60 in of panel, 1 1/2 in at its leading edge and 3 in at its return: the leading edges stand
    60 - 1 1/2 in apart on the strip, the right panel's left of the left one's.
    """
    job = job_of("width = 60\ncount = 4\nreturn = 3", tables='[paper]\njoins = "even"')
    left, right = (panel["strip"]["joins_mm"] for panel in _windows(job)[0]["panels"])
    assert [58.5 * 25.4 - x for x in reversed(left)] == pytest.approx(right)


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


def remedies_of(window: str, code: str, tables: str = "") -> list[list[dict[str, object]]]:
    """A finding's remedies, as JSON has them."""
    findings = _windows(job_of(window, tables=tables))[0]["findings"]
    (remedies,) = (each["remedies"] for each in findings if each["code"] == code)
    return [*remedies]


def test_remedies() -> None:
    """What a finding names to do, as keys and values: lengths in mm, numbers and words as such.

    60 in with 1 1/2 in at both ends and 8 eyelets of 2 in leave 41 in, so a pitch of 41/7 + 2 in;
    half of it stacked and 1/2 in to the wall are 4.43 in, rounded up 4 7/16 in.
    """
    odd = remedies_of("width = 60\ncount = 7", "odd-count")
    assert odd == [[{"key": "count", "value": 6}], [{"key": "count", "value": 8}]]
    near = "[pole]\nprojection = 2"
    wall = remedies_of("width = 60\ncount = 8\nfullness = 2", "back-fold-hits-wall", near)
    assert wall[-1] == [{"key": "pole.projection", "value_mm": 112.7125}]
    thick = '[pole]\ndiameter = "0.9"'
    body = "width = 60\ncount = 8\nreturn = 3"
    ((fuller, count),) = remedies_of(f"{body}\nfullness = 1.2", "wont-close", thick)
    assert fuller.keys() == {"key", "value"}
    assert 1.2 < float(str(fuller["value"])) < 2
    assert count == {"key": "count", "value": 8}
    single = "width = 60\nreturn = 3\npanels = 'single'"
    assert remedies_of(single, "panel-over-bracket", "[pole]\nsupports = 1") == [
        [{"key": "panels", "value": "pair"}, {"key": "width", "value_mm": 32.5 * 25.4}]
    ]
    assert remedies_of(body, "short-pole", "[pole]\nlength = 19") == []


def test_how_the_panels_stand() -> None:
    """Pole, glass, brackets and floor; what isn't known is null or empty.

    8 eyelets stack on 10 in; 70 in of pole over 56 of glass leave 7, so 3 in are covered. The end
    eyelet takes 1 1/4 in. Closed each panel covers a third of its 93 1/2 in; its rings stand
    past square, so that no leading edge reaches on. From 90 in up 91 in end 1/2 in off the floor.
    """
    body = "width = 100\ncount = 8\nreturn = 3\nfullness = 3\nglass = 56\nlength = 91"
    job = job_of(body, tables="[pole]\nlength = 70\nsupports = 1\ntop = 90")
    stand = _windows(job)[0]["pole"]
    inches = {key: value / 25.4 for key, value in stand.items() if isinstance(value, float)}
    assert inches == pytest.approx(
        {
            "length_mm": 70,
            "glass_mm": 56,
            "glass_covered_mm": 3,
            "glass_bare_mm": 2 * (35 - 1.25 - 93.5 / 3),
            "clearing_mm": 76,
            "past_bracket_mm": 1.25,
            "off_floor_mm": 0.5,
        }
    )
    assert [place / 25.4 for place in stand["brackets_mm"]] == pytest.approx([1.25, 35, 68.75])
    assert (stand["supports"], stand["worked_out"]) == (1, False)
    assert (stand["weight_kg"], stand["brackets_kg"]) == (None, [])
    least = _windows(LEAST)[0]["pole"]
    assert {key for key, value in least.items() if value not in (None, [], False)} == {
        "past_bracket_mm"
    }


def test_what_the_pole_carries() -> None:
    """A panel of 8 oz cloth, (74 + 6) x 100 in, is 49.4 oz; two brackets bear one each."""
    tables = '[fabric]\nwidth = 54\nweight = "8 oz/yd2"\n[pole]\nlength = 80'
    stand = _windows(job_of(LONG, tables=tables))[0]["pole"]
    kilos = 80 * 100 / 1296 * 8 * 0.028349523125
    assert stand["weight_kg"] == pytest.approx(2 * kilos)
    assert stand["brackets_kg"] == pytest.approx([kilos, kilos])


def test_order() -> None:
    """What all panels take together: 2 pairs of 4 eyelets and one single panel's."""
    order = as_json(FULL, plan(FULL))["order"]
    single = _windows(FULL)[1]["panels"][0]["count"]
    assert order["eyelets"] == 2 * 2 * 4 + single
    assert order["band_mm"] == 4 * 600 + 381
    assert order["bands"] == [
        {
            "height_mm": 100.0,
            "length_mm": 4 * 600 + 381,
            "order": {"amount": 2.8, "unit": "m"},
            "roll_mm": None,
            "rolls": None,
            "panels": [],
        }
    ]
    assert order["packs"] == [
        {
            "outside_mm": 50.0,
            "opening_mm": 25.0,
            "hole_mm": 26.0,
            "used": 2 * 2 * 4 + single,
            "spares": 0,
            "pack": None,
            "packs": None,
            "bought": 2 * 2 * 4 + single,
        }
    ]
    assert order["cloth"] == []


def test_cloth_of_a_window() -> None:
    """Face and lining of a pair: seams, pieces, drops, and what they come to in yards."""
    face, lining = _windows(SEWN)[0]["cloth"]
    assert face == {
        "part": "face",
        "fabric": "Heron linen",
        "joined": None,
        "set_in_mm": 0.0,
        "short_mm": 0.0,
        "finished_width_mm": 1879.6,
        "finished_length_mm": 2133.6,
        "drops": 4,
        "least_drops": 3,  # with the seam at 50 1/2 in, 27 in twice from one drop
        "cut_length_mm": 2540.0,
        "total_mm": 10160.0,
        **USED,
        "to_buy_mm": 10261.6,
        "order": {"amount": 11.25, "unit": "yd"},  # 404 in are 11.22 yd
        "seams_mm": [1209.675],
        "pieces_mm": [1298.575, 758.825],
        "seams_hidden": 1,
    }
    assert lining == {
        "part": "lining",
        "fabric": None,
        "joined": "loose",
        "set_in_mm": 38.1,
        "short_mm": 25.4,
        "finished_width_mm": 1803.4,
        "finished_length_mm": 2108.2,
        "drops": 4,
        "least_drops": 4,  # 74 - 47 1/2 + 1/2 = 27 in, over half of 48
        "cut_length_mm": 2209.8,
        "total_mm": 8839.2,
        **USED,
        "to_buy_mm": 8940.8,
        "order": {"amount": 10.0, "unit": "yd"},  # 352 in are 9.78 yd
        "seams_mm": [1019.175],
        "pieces_mm": [1069.975, 835.025],
        "seams_hidden": 1,
    }


def test_seams_that_are_not_hidden() -> None:
    """Without a back gap the one seam is in sight: `seams_hidden` counts those that are hidden."""
    window = "width = 50\nleading = 3\nreturn = 3\ncount = 2\nlength = 84"
    (face,) = _windows(job_of(window, tables="[fabric]\nwidth = 54"))[0]["cloth"]
    assert (face["seams_mm"], face["seams_hidden"]) == ([673.1], 0)  # 26 1/2 in


def test_seams_of_a_panel() -> None:
    """Every panel has the seams and the pieces of its face."""
    panels = [panel for window in _windows(SEWN) for panel in window["panels"]]
    assert [panel["seams_mm"] for panel in panels] == [[1209.675]] * 4
    assert [panel["pieces_mm"] for panel in panels] == [[1298.575, 758.825]] * 4


def test_order_of_cloth() -> None:
    """Three pairs take 12 drops of either cloth: 1,204 in are 33.4 yd; packs hold the spares.

    Of the lining, 87 in each, 1,048 in are 29.1 yd.
    """
    order = as_json(SEWN, plan(SEWN))["order"]
    assert order["cloth"] == [
        {
            "part": "face",
            "fabric": "Heron linen",
            "width_mm": 1371.6,
            "drops": 12,
            "total_mm": 30480.0,
            **ORDERED,
            "to_buy_mm": 30581.6,
            "order": {"amount": 33.5, "unit": "yd"},
        },
        {
            "part": "lining",
            "fabric": None,
            "width_mm": 1219.2,
            "drops": 12,
            "total_mm": 26517.6,
            **ORDERED,
            "to_buy_mm": 26619.2,
            "order": {"amount": 29.25, "unit": "yd"},
        },
    ]
    (packs,) = order["packs"]
    expected = {"used": 72, "spares": 3, "pack": 10, "packs": 8, "bought": 80}
    assert expected == {key: packs[key] for key in expected}
    [band] = order["bands"]
    assert (band["height_mm"], band["length_mm"]) == (101.6, order["band_mm"])
    assert band["order"] == {"amount": 12.5, "unit": "yd"}
    assert order["band_mm"] == pytest.approx(6 * 74 * 25.4, rel=1e-12)


def test_order_in_metres() -> None:
    """A job that isn't in inches orders metres."""
    window = "width = 1880\nleading = 76\nreturn = 76\ncount = 12\nlength = 2000"
    job = job_of(
        window,
        head='units = "mm"',
        eyelet="outside = 50\nopening = 25",
        tables="[fabric]\nwidth = 2100\nheading = 200\nbottom_hem = 160",
    )
    # One piece a panel: 1,880 + 2 x 75 = 2,030 mm of 2,100. Two cuts of 2,360 mm
    # and 100 mm.
    (cloth,) = _windows(job)[0]["cloth"]
    assert (cloth["total_mm"], cloth["order"]) == (4720.0, {"amount": 4.9, "unit": "m"})
    assert (cloth["seams_mm"], cloth["seams_hidden"]) == ([], 0)
    assert cloth["pieces_mm"] == [2030.0]


def test_no_cloth() -> None:
    """Where the job names no cloth there is none, and seams and pieces are null."""
    (window,) = _windows(LEAST)
    assert window["cloth"] == []
    (panel,) = window["panels"]
    assert (panel["seams_mm"], panel["pieces_mm"], panel["weight_kg"]) == (None, None, None)


def test_cloth_not_known() -> None:
    """What the cloth's width or the length would settle is null."""
    found = as_json(UNKNOWN, plan(UNKNOWN))
    assert found["windows"][0]["cloth"] == [
        {
            "part": "face",
            "fabric": "Heron linen",
            "joined": None,
            "set_in_mm": 0.0,
            "short_mm": 0.0,
            "finished_width_mm": 1879.6,
            "finished_length_mm": None,
            "drops": None,
            "least_drops": None,
            "cut_length_mm": None,
            "total_mm": None,
            **USED,
            "to_buy_mm": None,
            "order": {"amount": None, "unit": "yd"},
            "seams_mm": None,
            "pieces_mm": None,
            "seams_hidden": None,
        }
    ]
    assert found["windows"][0]["panels"][0]["pieces_mm"] is None
    assert found["order"]["cloth"] == [
        {
            "part": "face",
            "fabric": "Heron linen",
            "width_mm": None,
            "drops": None,
            "total_mm": None,
            **ORDERED,
            "to_buy_mm": None,
            "order": {"amount": None, "unit": "yd"},
        }
    ]


def test_railroaded() -> None:
    """A railroaded panel has no seams and one piece; its run is what is cut along the cloth."""
    job = job_of(LONG, tables="[fabric]\nwidth = 118\nrailroad = true")
    (window,) = _windows(job)
    assert (window["panels"][0]["seams_mm"], window["panels"][0]["pieces_mm"]) == ([], [2032.0])
    (cloth,) = window["cloth"]
    expected = {"drops": 2, "cut_length_mm": 2032.0, "total_mm": 4064.0, "seams_hidden": 0}
    assert expected == {key: cloth[key] for key in expected}
    assert cloth["order"] == {"amount": 4.75, "unit": "yd"}  # 164 in are 4.56 yd


@JOBS
def test_json_is_plain(job: Job) -> None:
    """Every value is one JSON knows, none infinite or not a number, and comes back the same."""
    found = as_json(job, plan(job))
    assert found == json.loads(json.dumps(found, allow_nan=False))


def test_lengths_are_floats() -> None:
    """Every length is a float, never a fraction or text, even where it is whole."""
    panel = _windows(FULL)[0]["panels"][0]
    measures = [value for key, value in panel.items() if key.endswith("_mm")]
    measures += panel["centers_mm"] + panel["strip"]["joins_mm"]
    sewn = _windows(SEWN)[0]
    measures += sewn["panels"][0]["seams_mm"] + sewn["panels"][0]["pieces_mm"]
    measures += [value for key, value in sewn["cloth"][0].items() if key.endswith("_mm")]
    assert {float} == {type(x) for x in measures if x is not None and not isinstance(x, list)}
