"""What a page shows of a window: findings, figures and pictures as every other front has them."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from drapetemplate.desk.look import look
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_json import as_json
from drapetemplate.report.plan_text import as_text
from drapetemplate.report.screen import aloud
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import job_toml
from tests.helpers.on_screen import SVG, across

SAMPLES = sorted(Path("sample_jobs").glob("*.toml"))
KEY = r" \((extra_seams|pattern) = [^)]*\)"
LEAST = {
    "job.name": "Heron Point, writing room",
    "window[1].width": "88",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
}


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_figures_and_findings_are_the_plans(sample: Path) -> None:
    """Word for word what `plan` prints of each window of a sample job, and finds in it."""
    job = read_job(sample.read_bytes(), "")
    planned = plan(job)
    lines = as_text(job, planned, plain=True).splitlines()
    answers = answers_of(sample.read_text(encoding="utf-8"))
    for number, window in enumerate(as_json(job, planned)["windows"], 1):
        shown = look(answers, number)
        printed = {name: value for name, _, value in (line.partition(": ") for line in lines)}
        figures = {each["name"]: each["value"] for each in shown["figures"]}
        sheets = figures.pop("template")
        if len(planned.windows) == 1:
            assert {
                name: aloud(value) for name, value in figures.items()
            }.items() <= printed.items()
        assert int(sheets.split()[0]) >= window["panels"][0]["strip"]["sheets"]
        found = {(f["level"], f["code"], f["text"]) for f in window["findings"]}
        told = [(each["level"], each["code"], each["text"]) for each in shown["findings"]]
        as_told = {(level, code, re.sub(KEY, "", text)) for level, code, text in found}
        assert set(told) == {each for each in as_told if each[1] != "assumed"}
        assert not any(" = " in text for *_, text in told)  # a page has no keys
        levels = [["stop", "warn", "note"].index(level) for level, _, _ in told]
        assert levels == sorted(levels)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_pictures(sample: Path) -> None:
    """Each is SVG by itself that says what it shows and has no colour of its own but the ground.

    And what it draws is in its frame.
    """
    answers = answers_of(sample.read_text(encoding="utf-8"))
    shown = look(answers, 1)
    for panel in shown["panels"]:
        drawn = {**panel["above"], "front": panel["front"], "flat": panel["flat"]}
        for name, svg in drawn.items():
            if svg is None:
                assert "hooks" in dict(_pairs(shown["figures"]))["hung"]
                continue
            root = ET.fromstring(svg)  # noqa: S314  # our own
            title = root.find(f"{SVG}title")
            assert title is not None
            assert (title.text or "").startswith(panel["captions"][name])
            left, top, width, height = map(float, root.attrib["viewBox"].split())
            for x, y in re.findall(r"M(-?[0-9.]+) (-?[0-9.]+)", svg):  # where each line begins
                assert left <= float(x) <= left + width
                assert top <= float(y) <= top + height
            colours = re.findall(r'(?:fill|stroke)="([^"]*)"', svg)
            assert set(colours) <= {"none", "currentColor", "#fff"}
            white = [mark for mark in root.iter() if mark.get("fill") == "#fff"]
            assert all("ground" in mark.attrib["class"].split() for mark in white)
    assert json.loads(json.dumps(shown)) == shown


def _pairs(rows: list[dict[str, str]]) -> list[tuple[str, str]]:
    return [(row["name"], row["value"]) for row in rows]


def test_a_pairs_panels_are_mirrored() -> None:
    """Each panel of a pair has its own pictures, the right one's as in a mirror."""
    panels = look({**LEAST, "window[1].count": "8"}, 1)["panels"]
    assert [panel["side"] for panel in panels] == ["left", "right"]
    left, right = (across(panel["flat"], "hole") for panel in panels)
    width = float(re.search(r'viewBox="-0.5 -0.5 ([0-9.]+)', panels[0]["flat"])[1])  # type: ignore[index]
    assert sorted(width - 1 - x for x in left) == pytest.approx(sorted(right), abs=0.02)
    assert left != right


def test_flat_heading_shows_its_returns() -> None:
    """A fold line stands where the panel turns back to the wall, at both ends of a single one."""
    pair = look({**LEAST, "pole.projection": "4"}, 1)["panels"][1]["flat"]
    single = look({**LEAST, "window[1].panels": "single"}, 1)["panels"][0]["flat"]
    hooks = look({**LEAST, "eyelet.hung": "hooks"}, 1)["panels"][0]["flat"]
    assert [len(across(flat, "return-fold")) for flat in (pair, single, hooks)] == [1, 2, 0]
    # Over it stands what it is.
    assert [flat.count(">return</text>") for flat in (pair, single, hooks)] == [1, 2, 0]
    # The right panel's is at its right, 3 in of 88 from its end.
    right = look({**LEAST, "window[1].return": "3"}, 1)["panels"][1]["flat"]
    root = ET.fromstring(right)  # noqa: S314  # our own
    (at,) = across(right, "return-fold")
    width = float(root.attrib["width"].removesuffix("mm")) - 1
    assert at == pytest.approx(width * 85 / 88, abs=0.02)


def test_on_hooks_there_is_the_flat_heading_alone() -> None:
    """Nothing weaves there, so there is nothing to be seen from above or from the front."""
    (panel, _) = look({**LEAST, "eyelet.hung": "hooks"}, 1)["panels"]
    assert panel["above"] == {"closed": None, "stacked": None}
    assert panel["front"] is None
    assert across(panel["flat"], "hole")
    assert panel["front_unknown"] == ""


def test_a_front_of_any_length_says_so() -> None:
    """Of a panel whose length nobody gave, so that no one takes it from the picture."""
    for length, said in (("", "length not told: drawn at any length"), ("84", "")):
        for panel in look({**LEAST, "window[1].length": length}, 1)["panels"]:
            assert panel["front_unknown"] == said


def test_what_speaks_against_it_blanks_the_rest() -> None:
    """A fault stands in the list and at its field, and nothing is drawn that can't be."""
    shown = look({**LEAST, "window[1].count": "80"}, 1)
    assert [fault["path"] for fault in shown["faults"]] == ["window[1].count"]
    field = next(each for each in _fields(shown) if each["path"] == "window[1].count")
    assert field["fault"] == shown["faults"][0]["text"]
    assert (shown["panels"], shown["figures"], shown["findings"]) == ([], [], [])


def test_paper_that_is_wrong_leaves_the_panel() -> None:
    """The template's paper has a fault of its own; the panel is planned and drawn all the same."""
    shown = look({**LEAST, "paper.size": "4 x 4 in"}, 1)
    assert [fault["path"] for fault in shown["faults"]] == ["paper.size"]
    assert shown["panels"]
    assert "template" not in dict(_pairs(shown["figures"]))


def _fields(shown: dict[str, Any]) -> list[dict[str, Any]]:
    return [field for group in shown["form"] for field in group["fields"]]


def test_windows_are_listed() -> None:
    """Each with its number and its name, what doesn't show taken out of it."""
    toml = job_toml('width = 60\nname = "North"', "width = 50")
    shown = look({**answers_of(toml), "window[2].name": "Ori\u202eel"}, 2)
    assert shown["windows"] == [
        {"number": 1, "name": "North"},
        {"number": 2, "name": "Ori\N{REPLACEMENT CHARACTER}el"},
    ]
    assert look({}, 1)["windows"] == [{"number": 1, "name": "Window 1"}]


def test_nothing_typed_says_what_is_missing() -> None:
    """An empty page has its questions, no fault, and the paths that need an answer."""
    shown = look({}, 1)
    assert shown["faults"] == []
    assert set(shown["missing"]) == {*LEAST}
    assert look(LEAST, 1)["missing"] == []


def test_a_count_that_the_wall_moves_says_why() -> None:
    """Beside the pictures the count says which one it would be, were the wall further off.

    75 in less 4 1/2 at the ends and so many rings of 2 5/8: at 14 gaps of (70 1/2 - 36 3/4)/13,
    2.6 in, and P/2 is as much, more than 2 1/2 - 1/2.
    """
    answers = LEAST | {"window[1].width": "75", "pole.projection": "2 1/2", "window[1].return": "3"}
    answers |= {"window[1].leading": "1 1/2"}

    def eyelets(more: dict[str, str]) -> dict[str, str]:
        figures = look(answers | more, 1)["figures"]
        return next(each for each in figures if each["name"] == "eyelets")

    near = eyelets({})
    assert near["value"].startswith(near["near"].partition(":")[0])
    assert near["near"].endswith(": 14 would hit the wall stacked")
    assert "near" not in eyelets({"pole.projection": "4"})
    assert eyelets({"pole.projection": "4"})["value"].startswith("14, ")


def names(svg: str) -> list[tuple[float, str]]:
    """What stands over the heading and how far from its left edge, in mm, left to right."""
    root = ET.fromstring(svg)  # noqa: S314  # our own
    said = [(float(mark.attrib["x"]), mark.text or "") for mark in root.iter(f"{SVG}text")]
    return sorted(each for each in said if each[1] in {"return", "seam", "motif"})


def test_flat_heading_names_its_marks() -> None:
    """Over the heading stands what is under it: each seam where it is, one motif of all."""
    answers = answers_of(Path("sample_jobs/card_room.toml").read_text(encoding="utf-8"))
    flat = look(answers, 1)["panels"][0]["flat"]
    named = names(flat)
    assert [word for _, word in named].count("motif") == 1
    assert [x for x, word in named if word == "seam"] == pytest.approx(
        sorted(across(flat, "seam")), abs=0.02
    )
    assert named[0][1] == "return"


def test_words_in_pictures_are_read_at_any_width() -> None:
    """A narrow page's pictures are no wider than it has room, their words as large as ever."""
    answers = answers_of(Path("sample_jobs/card_room.toml").read_text(encoding="utf-8"))
    for room in (100, 130, 220):
        (panel, _) = look(answers, 1, room)["panels"]
        for svg in (panel["above"]["closed"], panel["front"], panel["flat"]):
            root = ET.fromstring(svg)  # noqa: S314  # our own
            assert float(root.attrib["width"].removesuffix("mm")) <= room + 1
            sizes = {float(mark.attrib["font-size"]) for mark in root.iter(f"{SVG}text")}
            assert min(sizes) * 96 / 25.4 >= 11  # px
