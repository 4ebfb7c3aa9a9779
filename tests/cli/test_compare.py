"""The commands compare, picture and make --accept, as a user types them."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pdfplumber
import pytest
from typer.testing import CliRunner, Result

from drapetemplate.cli.app import app
from drapetemplate.planning.model import STOP_CODES
from tests.helpers.jobfiles import RING, job_toml

USUAL = "width = 60\nlength = 84"
WALL = '[pole]\nprojection = 4\ndiameter = "5/8"'
NEAR = '[pole]\nprojection = 2\ndiameter = "5/8"'


def run(*words: object) -> Result:
    """The command line, run in this process."""
    return CliRunner().invoke(app, [str(word) for word in words])


def typed(*words: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    """The command line, run as a user would."""
    command = [sys.executable, "-m", "drapetemplate", *map(str, words)]
    return subprocess.run(
        command, cwd=cwd, capture_output=True, text=True, encoding="utf-8", check=False
    )


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job of two windows."""
    return written(tmp_path, f'name = "East"\n{USUAL}', 'name = "West"\nwidth = 90\nlength = 84')


def written(folder: Path, *windows: str, tables: str = WALL, eyelet: str = RING) -> Path:
    """A job file."""
    path = folder / "linen_store.toml"
    path.write_text(job_toml(*windows, tables=tables, eyelet=eyelet), encoding="utf-8")
    return path


def words_of(pdf: Path) -> str:
    """All text of a PDF, its lines joined."""
    with pdfplumber.open(pdf) as opened:
        return " ".join((page.extract_text() or "").replace("\n", " ") for page in opened.pages)


def no_constant(name: str) -> None:
    """Refuse what JSON has no word for."""
    pytest.fail(f"{name} is no JSON")


def parsed(text: str) -> dict[str, Any]:
    """Strict JSON, no NaN, no Infinity."""
    found: dict[str, Any] = json.loads(text, parse_constant=no_constant)
    return found


def refused(result: Result, expected: str) -> None:
    """Fail unless a command ended with one line of error, exit 2 and nothing else."""
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.endswith("\n")
    (line,) = result.stderr.splitlines()
    assert expected in line


def test_compare(job: Path) -> None:
    """Each window's counts in a table, the job's own marked, with its reason below."""
    result = run("compare", job)
    assert (result.exit_code, result.stderr) == (0, "")
    lines = result.stdout.splitlines()
    assert "East" in lines
    assert "West" in lines
    marked = [line for line in lines if line.startswith("> ")]
    assert len(marked) == 2
    assert [line.split()[1] for line in marked] == ["14", "22"]
    assert "  > 14: nearest to one eyelet apart, among those that clear the wall" in lines


@pytest.mark.parametrize(
    ("window", "tables", "eyelet"),
    [
        (USUAL, WALL, RING),
        (USUAL, NEAR, RING),
        ("width = 60\ncount = 7", "", RING),
        (f"{USUAL}\nfullness = 1", '[pole]\nprojection = 1\nlength = 9\ndiameter = "15/16"', RING),
        (USUAL, WALL, RING + '\nhung = "hooks"'),
    ],
)
def test_compare_json(tmp_path: Path, window: str, tables: str, eyelet: str) -> None:
    """Strict JSON with every count asked for and the job's own, chosen once."""
    path = written(tmp_path, window, tables=tables, eyelet=eyelet)
    result = run("compare", path, "--json", "--counts", "2, 4,60")
    assert (result.exit_code, result.stderr) == (0, "")
    found = parsed(result.stdout)
    assert found["format"] == 1
    (shown,) = found["windows"]
    counts = [each["count"] for each in shown["counts"]]
    assert counts == sorted(counts)
    assert {2, 4, 60} <= set(counts)
    assert [each["chosen"] for each in shown["counts"]].count(True) == 1
    sixty = shown["counts"][-1]
    assert "don't fit" in sixty["fault"]
    assert sixty["gap_mm"] is None
    four = shown["counts"][counts.index(4)]
    assert four["fault"] is None
    assert four["gap_eyelets"] == pytest.approx(four["gap_mm"] / 50.8, rel=1e-12)
    assert four["pitch_mm"] - four["gap_mm"] == pytest.approx(50.8, rel=1e-12)


def test_compare_figures(tmp_path: Path) -> None:
    """What is free at the wall is projection less clearance less the fold's depth."""
    path = written(tmp_path, f"{USUAL}\nreturn = 3\ncount = 8\nfullness = 2.25")
    (shown,) = parsed(run("compare", path, "--json").stdout)["windows"]
    eight = next(each for each in shown["counts"] if each["chosen"])
    assert eight["pitch_mm"] == pytest.approx(107 / 14 * 25.4, rel=1e-12)
    assert eight["depth_stacked_mm"] == pytest.approx(107 / 28 * 25.4, rel=1e-12)
    assert eight["stack_mm"] == pytest.approx(8 * 1.25 * 25.4, rel=1e-12)
    for state in ("closed", "stacked"):
        free = 3.5 * 25.4 - eight[f"depth_{state}_mm"]
        assert eight[f"wall_clear_{state}_mm"] == pytest.approx(free, abs=1e-9)


def test_compare_is_the_plan(job: Path) -> None:
    """The chosen count's figures are those that `plan --json` prints."""
    planned = parsed(run("plan", job, "--json").stdout)["windows"]
    compared = parsed(run("compare", job, "--json").stdout)["windows"]
    for window, shown in zip(planned, compared, strict=True):
        panel = window["panels"][0]
        chosen = next(each for each in shown["counts"] if each["chosen"])
        for key in ("count", "gap_mm", "pitch_mm", "stack_mm"):
            assert panel[key] == chosen[key]
        for key in ("depth_closed_mm", "depth_stacked_mm", "ring_angle_deg"):
            assert panel["fold"][key] == chosen[key]


def test_compare_cloth(tmp_path: Path) -> None:
    """Each count has its seams, drops and order of every cloth, as `plan --json` has them."""
    # 12: the seam at 47 5/8 in, four drops; 6: at 50 1/2 in, where a pair shares a drop: 300 in
    # are 8 1/3 yd, 400 in 11.11 yd.
    window = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
    path = written(tmp_path, window, tables="[fabric]\nwidth = 54\n[lining]\nwidth = 118")
    (shown,) = parsed(run("compare", path, "--json", "--counts", "6,60").stdout)["windows"]
    six, twelve, sixty = (each["cloth"] for each in shown["counts"])
    figures = [
        (cloth["part"], cloth["drops"], cloth["order"]["amount"], cloth["seams_hidden"])
        for cloth in (*six, *twelve)
    ]
    assert figures == [
        ("face", 3, 8.5, 1),
        ("lining", 2, 5.75, 0),  # one piece of 80 in, 200 in in all: 5.56 yd
        ("face", 4, 11.25, 1),
        ("lining", 2, 5.75, 0),
    ]
    assert [cloth["seams_mm"] for cloth in (*six, *twelve)] == [[1282.7], [], [1209.675], []]
    assert sixty == []  # it doesn't fit
    (planned,) = parsed(run("plan", path, "--json").stdout)["windows"]
    assert planned["cloth"] == twelve


def test_compare_without_cloth(job: Path) -> None:
    """A job that names no cloth has none to compare."""
    for window in parsed(run("compare", job, "--json").stdout)["windows"]:
        assert [each["cloth"] for each in window["counts"]] == [[]] * len(window["counts"])


@pytest.mark.parametrize(
    "counts",
    [
        "1",
        "0",
        "-4",
        "six",
        "6;8",
        "6,8.5",
        "2001",
        "6,,x",
        "٤",
        "9" * 30,
        "002000999",
        "000002" + "0" * 5000,
    ],
)
def test_bad_counts(job: Path, counts: str) -> None:
    """Counts that can't be read are refused in one line that shows how."""
    refused(run("compare", job, "--counts", counts), "--counts: give counts from 2 to 2000")


def test_compare_stops_are_no_failure(tmp_path: Path) -> None:
    """Comparing is how a stop is mended, so a stop among the counts doesn't fail it."""
    path = written(tmp_path, f"{USUAL}\ncount = 7", tables=NEAR)
    result = run("compare", path)
    assert result.exit_code == 0
    assert "stop odd-count" in result.stdout
    assert "stop back-fold-hits-wall" in result.stdout


def test_compare_pdf(job: Path, tmp_path: Path) -> None:
    """With --pdf the counts are drawn, a page a window, beside the table."""
    target = tmp_path / "counts.pdf"
    result = run("compare", job, "--counts", "6,8", "--pdf", target)
    assert result.exit_code == 0
    assert [line[:1] for line in result.stdout.splitlines()].count(">") == 2
    with pdfplumber.open(target) as pdf:
        found = [page.extract_text() for page in pdf.pages]
        assert {(float(p.width), float(p.height)) for p in pdf.pages} == {(612.0, 792.0)}
    assert [text.splitlines()[0].split(" · ")[1] for text in found] == ["East", "West"]
    assert all("6 eyelets, " in text and "8 eyelets, " in text for text in found)


def test_compare_pdf_that_cant_be_written(job: Path, tmp_path: Path) -> None:
    """A target that can't be written is one line and exit 2."""
    refused(run("compare", job, "--pdf", tmp_path / "none" / "counts.pdf"), "counts.pdf")


def test_compare_of_a_bad_job(tmp_path: Path) -> None:
    """A job that can't be planned is refused as by every command."""
    path = written(tmp_path, "width = 4")
    refused(run("compare", path), "window[1].width: ")
    refused(run("picture", path, "--out", tmp_path / "a.svg"), "window[1].width: ")


def test_picture_svg(job: Path, tmp_path: Path) -> None:
    """A picture as SVG: well formed, of this job, with both windows."""
    target = tmp_path / "panel.svg"
    result = run("picture", job, "--out", target)
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"{target}\n", "")
    root = ET.fromstring(target.read_bytes())  # noqa: S314  # our own file
    words = [element.text for element in root.iter() if element.text]
    assert {"East", "West"} <= set(words)


def test_picture_png(job: Path, tmp_path: Path) -> None:
    """A picture as PNG, whatever the case of its suffix."""
    target = tmp_path / "panel.PNG"
    assert run("picture", job, "--out", target).exit_code == 0
    assert target.read_bytes().startswith(b"\x89PNG\r\n\x1a\n")


@pytest.mark.parametrize("name", ["panel.pdf", "panel", "panel.svg.gz", "png"])
def test_picture_of_another_kind(job: Path, tmp_path: Path, name: str) -> None:
    """Another suffix is refused in one line that names the two, and no file is made."""
    target = tmp_path / name
    refused(run("picture", job, "--out", target), "name a file that ends in .png or .svg")
    assert not target.exists()


def test_picture_of_odd_words(tmp_path: Path) -> None:
    """Markup and control characters in a job's words leave the SVG well formed."""
    path = written(tmp_path, f'name = "<b>&\\u0007 North"\n{USUAL}')
    text = path.read_text(encoding="utf-8").replace("linen store", "linen\\u0008 store <i>")
    path.write_text(text, encoding="utf-8")
    target = tmp_path / "panel.svg"
    result = run("picture", path, "--out", target)
    assert result.exit_code == 0
    root = ET.fromstring(target.read_bytes())  # noqa: S314  # our own file
    words = [element.text for element in root.iter()]
    assert "Heron Point, linen\N{REPLACEMENT CHARACTER} store <i>" in words
    assert "<b>&\N{REPLACEMENT CHARACTER} North" in words


ODD = f"{USUAL}\ncount = 7"


def test_make_with_a_stop(tmp_path: Path) -> None:
    """A stop that nobody accepts: exit 1, the finding on standard error, and no PDF."""
    path, target = written(tmp_path, ODD), tmp_path / "made.pdf"
    result = run("make", path, "--out", target)
    assert (result.exit_code, result.stdout) == (1, "")
    first = result.stderr.splitlines()[0]
    assert first.startswith(f"{path}: stop: odd-count: 7 eyelets would turn")
    assert not target.exists()


def test_make_with_a_stop_accepted(tmp_path: Path) -> None:
    """An accepted stop is made, still told, and the ticket has it to be signed for."""
    path, target = written(tmp_path, ODD), tmp_path / "made.pdf"
    result = run("make", path, "--out", target, "--accept", "odd-count")
    assert result.exit_code == 0
    assert "stop: odd-count" in result.stderr
    words = words_of(target)
    assert "ACCEPTED all the same (odd-count) by:" in words
    assert "STOP 7 eyelets would turn one end of the panel to the wall" in words


def test_make_without_a_stop_accepts_nothing(job: Path, tmp_path: Path) -> None:
    """Accepting what doesn't occur puts nothing on the ticket."""
    target = tmp_path / "made.pdf"
    assert run("make", job, "--out", target, "--accept", "odd-count").exit_code == 0
    assert "ACCEPTED" not in words_of(target)


def test_make_accepts_only_what_is_named(tmp_path: Path) -> None:
    """With two stops both must be named; one named alone makes nothing."""
    path, target = written(tmp_path, ODD, tables=NEAR), tmp_path / "made.pdf"
    for code in ("odd-count", "back-fold-hits-wall"):
        assert run("make", path, "--out", target, "--accept", code).exit_code == 1
        assert not target.exists()
    both = ["--accept", "odd-count", "--accept", "back-fold-hits-wall"]
    assert run("make", path, "--out", target, *both).exit_code == 0
    words = words_of(target)
    assert "(odd-count) by:" in words
    assert "(back-fold-hits-wall) by:" in words


@pytest.mark.parametrize("code", ["odd", "tight-turn", ""])
def test_make_with_an_unknown_code(tmp_path: Path, code: str) -> None:
    """A code that no stop has is refused in one line that names those there are."""
    path, target = written(tmp_path, ODD), tmp_path / "made.pdf"
    result = run("make", path, "--out", target, "--accept", code)
    refused(result, f'no stop is called "{code}": ')
    assert all(known in result.stderr for known in STOP_CODES)
    assert not target.exists()


@pytest.mark.parametrize(
    ("words", "code", "errors"),
    [
        (("compare", "linen_store.toml", "--counts", "6,8,10"), 0, 0),
        (("compare", "linen_store.toml", "--counts", "x"), 2, 1),
        (("compare", "missing.toml"), 2, 1),
        (("picture", "linen_store.toml", "--out", "panel.svg"), 0, 0),
        (("picture", "linen_store.toml", "--out", "panel.jpg"), 2, 1),
        (("make", "linen_store.toml", "--accept", "none"), 2, 1),
    ],
)
def test_as_a_user(job: Path, tmp_path: Path, words: Sequence[str], code: int, errors: int) -> None:
    """From a shell: the exit code, and errors on a line each, never a traceback."""
    assert job.parent == tmp_path
    done = typed(*words, cwd=tmp_path)
    assert (done.returncode, len(done.stderr.splitlines())) == (code, errors)
    assert bool(done.stdout) == (code == 0)


def test_compare_with_bare_json_output(job: Path, tmp_path: Path) -> None:
    """From a shell, standard output is the JSON and nothing else, even with --pdf."""
    done = typed("compare", job.name, "--json", "--pdf", "counts.pdf", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert len(parsed(done.stdout)["windows"]) == 2
    assert (tmp_path / "counts.pdf").read_bytes().startswith(b"%PDF-")
