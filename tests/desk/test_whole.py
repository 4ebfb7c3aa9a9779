"""The whole job on a page: its paper, cloth and order as the tool prints them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from drapetemplate.desk.whole import whole
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_json import as_json
from drapetemplate.report.plan_text import as_text
from drapetemplate.report.screen import aloud
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import RING, job_toml

SAMPLES = sorted(Path("sample_jobs").glob("*.toml"))
LINED = "[fabric]\nwidth = 54\n[lining]\nwidth = 48"
WINDOW = "width = 88\nlength = 84\ncount = 14"


def planned(toml: str) -> dict[str, Any]:
    """A job's plan as `plan --json` has it."""
    job = read_job(toml.encode(), "")
    return as_json(job, plan(job))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_paper_and_order_are_the_plans(sample: Path) -> None:
    """As many sheets and joins as `plan --json` has, and what it prints that is to be bought."""
    toml = sample.read_text(encoding="utf-8")
    shown, printed = whole(answers_of(toml)), planned(toml)
    assert (shown["faults"], shown["missing"]) == ([], [])
    strips = {
        (window["name"], *panel["strip"]["panels"]): panel["strip"]  # a pair may share one
        for window in printed["windows"]
        for panel in window["panels"]
    }
    own = list(strips.values())
    assert shown["paper"]["sheets"] == sum(strip["sheets"] for strip in own)
    assert all(strip["rows"] == 1 for strip in own)
    assert shown["paper"]["joins"] == sum(len(strip["joins_mm"]) for strip in own)
    assert shown["paper"]["orientation"] == own[0]["orientation"]
    job = read_job(toml.encode(), "")
    lines = as_text(job, plan(job), plain=True).splitlines()
    bought = [line.removeprefix("to buy, ") for line in lines if line.startswith("to buy")]
    assert list(map(aloud, shown["order"])) == bought


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_findings_of_all_windows(sample: Path) -> None:
    """Each window's own, with its number and name."""
    toml = sample.read_text(encoding="utf-8")
    told = whole(answers_of(toml))["findings"]
    for number, window in enumerate(planned(toml)["windows"], 1):
        own = {each["text"] for each in told if each["window"] == number}
        texts = {f["text"] for f in window["findings"] if f["code"] != "assumed"}
        assert own == {re.sub(r" \((extra_seams|pattern) = [^)]*\)", "", text) for text in texts}
        assert {each["name"] for each in told if each["window"] == number} <= {window["name"]}


def test_joins_of_rows_are_taped_too() -> None:
    """A band higher than a sheet: three columns of two rows have five joins between six parts."""
    toml = job_toml(
        "width = 20\ncount = 4",
        tables='[band]\nheight = 9\n[paper]\nsize = "legal"\nstrips = "one"\n'
        'orientation = "landscape"',
    )
    shown, strip = whole(answers_of(toml))["paper"], planned(toml)["windows"][0]["panels"][0]
    rows, columns = strip["strip"]["rows"], len(strip["strip"]["joins_mm"]) + 1
    assert rows > 1
    assert shown["joins"] == rows * columns - 1


def test_paper_in_words() -> None:
    """The job's sheets in a line, then each strip's: which windows, and what its joins run over."""
    toml = job_toml('width = 60\nname = "North"', 'width = 60\nname = "South"')
    words = whole(answers_of(toml))["paper"]["words"]
    assert re.fullmatch(r"\d+ template sheets of letter, landscape, \d+ joins to tape", words[0])
    assert len(words) == 2
    assert words[1].startswith("North + South, both panels: ")
    assert words[1].endswith(", all clear of the eyelets")
    roll = job_toml("width = 60", tables='[paper]\nsize = "24 in roll"')
    on_roll = whole(answers_of(roll))["paper"]["words"][0]
    assert re.search(r", nothing to tape, on 1 page, [0-9/ ]+ in of the roll$", on_roll)


@pytest.mark.parametrize(
    ("width", "count", "joins", "overlap", "expected"),
    [
        (60, 10, "clear", "1/2", "all clear of the eyelets"),
        (40, 10, "clear", "1/2", "some over an eyelet's flange, none over a hole"),
        (28, 8, "clear", "1", "some over a hole, each whole on one sheet"),
        (60, 14, "even", "1/2", "some over a hole, each whole on one sheet"),
        (30, 10, "even", "1/2", "some through a hole"),
    ],
)
def test_what_joins_run_over(
    width: int, count: int, joins: str, overlap: str, expected: str
) -> None:
    """Found again from where sheets begin and end, and from holes of 1 in in flanges of 2 in."""
    toml = job_toml(
        f"width = {width}\ncount = {count}\npanels = 'left'",
        tables=f'[paper]\nsize = "7 x 7 in"\njoins = "{joins}"\noverlap = "{overlap}"',
    )
    assert whole(answers_of(toml))["paper"]["words"][1].endswith(f" joins, {expected}")
    panel = planned(toml)["windows"][0]["panels"][0]
    middles, half = panel["strip"]["joins_mm"], panel["strip"]["overlap_mm"] / 2
    laps = [(middle - half, middle + half) for middle in middles]
    starts, ends = [0.0, *(lap[0] for lap in laps)], [*(lap[1] for lap in laps), width * 25.4]
    over: set[str] = set()
    for center in panel["centers_mm"]:
        for radius, kind in ((25.4, "flange"), (12.7, "hole")):
            left, right = center - radius, center + radius
            if any(left < end and start < right for start, end in laps):
                over.add(kind)
        left, right = center - 12.7, center + 12.7
        if not any(start <= left and right <= end for start, end in zip(starts, ends, strict=True)):
            over.add("cut")
    found = {
        frozenset[str](): "all clear of the eyelets",
        frozenset({"flange"}): "some over an eyelet's flange, none over a hole",
        frozenset({"flange", "hole"}): "some over a hole, each whole on one sheet",
        frozenset({"flange", "hole", "cut"}): "some through a hole",
    }
    assert found[frozenset(over)] == expected


def test_cloth_in_words_and_pictures() -> None:
    """Each cloth: what is cut of it, where its seams fall, and its pictures."""
    toml = job_toml(WINDOW, tables=LINED)
    shown, printed = whole(answers_of(toml))["cloth"], planned(toml)
    assert [cloth["part"] for cloth in shown] == ["fabric", "lining"]
    for cloth, order in zip(shown, printed["order"]["cloth"], strict=True):
        drops = re.search(r": (\d+) drops, ", cloth["words"][0])
        assert drops is not None
        assert int(drops[1]) == order["drops"]
        assert all(picture.startswith("<svg") for picture in cloth["pictures"])
        assert "flat and raw" in cloth["pictures"][-1]
        assert "Off the roll, drop" in cloth["pictures"][0]


def seams_of(toml: str) -> list[tuple[float, str]]:
    """Every seam's place in inches, and what it falls on."""
    lines = [line for cloth in whole(answers_of(toml))["cloth"] for line in cloth["words"]]
    found = (
        re.search(r"seam at ≈? ?([0-9 /]+) in from the \w+ edge: (.*)", line) for line in lines
    )
    return [
        (sum(float(_part(part)) for part in match[1].split()), match[2]) for match in found if match
    ]


def _part(text: str) -> float:
    over, _, under = text.partition("/")
    return float(over) / float(under or 1)


@pytest.mark.parametrize("count", [2, 8, 10, 12, 14, 16])
@pytest.mark.parametrize("leading", ["1.5", "24"])
def test_what_seams_fall_on(count: int, leading: str) -> None:
    """Found again from the seam's place and the eyelets' centres alone."""
    toml = job_toml(
        f"width = 88\nlength = 84\nleading = {leading}\nreturn = 3\ncount = {count}",
        tables="[fabric]\nwidth = 54",
    )
    panel = planned(toml)["windows"][0]["panels"][0]
    centers = [center / 25.4 for center in panel["centers_mm"]]
    seams = [seam / 25.4 for seam in panel["seams_mm"]]
    told = seams_of(toml)
    assert [place for place, _ in told] == pytest.approx(seams, abs=1 / 32)
    for seam, (_, falls) in zip(seams, told, strict=True):
        near = [
            n for n, center in enumerate(centers, 1) if abs(center - seam) < 1 + 0.5 + 1 / 8 - 1e-6
        ]
        before = sum(center <= seam for center in centers)
        if near:
            assert falls.startswith("at eyelet")
            assert str(near[0]) in falls
        elif not before:
            assert falls.startswith("before the first eyelet")
        elif before == count:
            assert falls.startswith("beyond the last eyelet")
        else:
            kind = "behind the pole" if before % 2 == 0 else "in front"
            assert falls.startswith(f"{kind}, in the gap between eyelets {before} and {before + 1}")
        hidden = not near and 0 < before < count and before % 2 == 0
        assert falls.endswith((", in sight", ", meets it")) == (not hidden)


def test_cloth_that_isnt_known() -> None:
    """Without a width or a length its drops aren't known, and there is nothing to draw."""
    toml = job_toml("width = 60", tables="[fabric]\nseam = 1")
    (cloth,) = whole(answers_of(toml))["cloth"]
    assert cloth["words"] == ["Drops not known: the job doesn't give its width"]
    assert cloth["pictures"] == []


def test_stops_and_who_takes_them_on() -> None:
    """Each stop's code once, with its windows; each window with how many it has."""
    toml = job_toml("width = 60\ncount = 7", "width = 60", "width = 50\ncount = 9")
    shown = whole(answers_of(toml), ["odd-count"])
    assert shown["stops"] == [{"code": "odd-count", "windows": [1, 3], "accepted": True}]
    assert whole(answers_of(toml))["stops"][0]["accepted"] is False
    assert [window["stops"] for window in shown["windows"]] == [1, 0, 1]
    bare = job_toml("width = 60", eyelet=RING.partition("\nhole")[0])
    assert whole(answers_of(bare))["windows"][0]["warnings"] == 1


def test_every_windows_faults() -> None:
    """All at once, each at its question; while one stands there is nothing else."""
    toml = job_toml("width = 60\ncount = 80", "width = 0", "width = 50")
    shown = whole(answers_of(toml))
    paths = [fault["path"] for fault in shown["faults"]]
    assert paths == ["window[2].width"]
    both = whole(answers_of(job_toml("width = 60\ncount = 80", "width = 50\ncount = 90")))
    assert [fault["path"] for fault in both["faults"]] == ["window[1].count", "window[2].count"]
    assert (shown["paper"], shown["cloth"], shown["order"]) == (None, [], [])


def test_the_firsts_pole_at_fault_is_a_fault_once() -> None:
    """What several windows share stands at the first one's question."""
    toml = job_toml("width = 60", "width = 50", tables="[pole]\ndiameter = 2")
    (fault,) = whole(answers_of(toml))["faults"]
    assert fault["path"] == "pole.diameter"


def test_paper_that_is_wrong_leaves_cloth_and_order() -> None:
    """Its fault stands at its question."""
    toml = job_toml(WINDOW, tables=f'{LINED}\n[paper]\nsize = "4 x 4 in"')
    shown = whole(answers_of(toml))
    assert [fault["path"] for fault in shown["faults"]] == ["paper.size"]
    assert shown["paper"] is None
    assert shown["cloth"]
    assert shown["order"]


def test_missing() -> None:
    """What needs an answer, of every window."""
    shown = whole({"job.name": "Heron Point, oriel", "window[2].width": "50"})
    assert set(shown["missing"]) == {"eyelet.outside", "eyelet.opening", "window[1].width"}
    assert shown["faults"] == []


def test_what_a_linings_seams_fall_on() -> None:
    """Its seams are told from its own edge, set in from the panel's, and fall where they do there.

    60 in with ends of 1 1/2 in and 3 in: 10 eyelets of 2 in, their centres 2.5 + n·5.94 in.
    """
    toml = job_toml(
        "width = 60\nlength = 84\nreturn = 3\ncount = 10",
        tables="[fabric]\nwidth = 70\n[lining]\nwidth = 33\nset_in = 4",
    )
    lines = [line for cloth in whole(answers_of(toml))["cloth"] for line in cloth["words"]]
    told = [line for line in lines if line.startswith("lining, seam at ")]
    seams = planned(toml)["windows"][0]["cloth"][1]["seams_mm"]
    assert len(told) == len(seams) > 0
    for line, seam in zip(told, seams, strict=True):
        place = seam / 25.4 + 4
        before = sum(2.5 + n * 53.5 / 9 <= place for n in range(10))
        assert " from the lining's leading edge: " in line
        assert line.endswith(f"between eyelets {before} and {before + 1}")


def test_too_much_for_one_job_is_one_fault() -> None:
    """What no field is to blame for is said without one, in no longer than a job's plan takes."""
    bodies = [f"width = {400 + n / 8}" for n in range(190)]
    toml = job_toml(*bodies, tables='[paper]\nsize = "36 in roll"\nstrips = "each"')
    (fault,) = whole(answers_of(toml))["faults"]
    assert fault["path"] == ""
    assert fault["text"].startswith("this job's 380 strips have ")
    assert "make several jobs of it" in fault["text"]
    notes = {"job.name": "Heron Point, oriel", "?job": "yes", "job.notes": "x" * 2_000_000}
    (fault,) = whole(notes)["faults"]
    assert fault["path"] == ""
    assert fault["text"].endswith("a job file has 1048576 at most")
    assert fault["text"][0].isdigit()
