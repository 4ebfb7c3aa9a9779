"""The command compare, as a user types it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from drapetemplate.cli.option_values import read_counts
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.planning.plan import plan
from drapetemplate.sheets.strip_list import StripList, strip_list
from tests.helpers.commands import refused, run, typed
from tests.helpers.jobfiles import NEAR, RING, USUAL, WALL, job_toml, written


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job of two windows."""
    return written(tmp_path, f'name = "East"\n{USUAL}', 'name = "West"\nwidth = 90\nlength = 84')


def no_constant(name: str) -> None:
    """Refuse what JSON has no word for."""
    pytest.fail(f"{name} is no JSON")


def parsed(text: str | bytes) -> dict[str, Any]:
    """Strict JSON, no NaN, no Infinity."""
    found: dict[str, Any] = json.loads(text, parse_constant=no_constant)
    return found


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


def test_each_count_is_planned_and_laid_out_once(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However it is told and drawn: the two windows' own counts together, each other by itself."""
    planned: list[list[int | None]] = []
    laid_out: list[int] = []

    def counted_plan(a_job: Job, **options: bool) -> Plan:
        planned.append([window.count for window in a_job.windows])
        return plan(a_job, **options)

    def counted_strips(
        a_job: Job, windows: Sequence[WindowPlan], factors: Factors | None
    ) -> StripList:
        laid_out.extend(window.panels[0].count for window in windows)
        return strip_list(a_job, windows, factors)

    monkeypatch.setattr("drapetemplate.planning.compare.plan", counted_plan)
    monkeypatch.setattr("drapetemplate.sheets.strip_list.strip_list", counted_strips)
    result = run("compare", job, "--counts", "14,16,22", "--pdf", tmp_path / "counts.pdf")
    assert result.exit_code == 0
    assert planned == [[None, None], [16], [22], [14], [16]]
    assert laid_out == [14, 16, 22, 14, 16, 22]


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
    """What is free at the wall is projection less the fold's depth, its clearance beside it."""
    path = written(tmp_path, f"{USUAL}\nreturn = 3\ncount = 8\nfullness = 2.25")
    (shown,) = parsed(run("compare", path, "--json").stdout)["windows"]
    eight = next(each for each in shown["counts"] if each["chosen"])
    assert eight["pitch_mm"] == pytest.approx(107 / 14 * 25.4, rel=1e-12)
    assert eight["depth_stacked_mm"] == pytest.approx(107 / 28 * 25.4, rel=1e-12)
    assert eight["stack_mm"] == pytest.approx(8 * 1.25 * 25.4, rel=1e-12)
    for state in ("closed", "stacked"):
        free = 4 * 25.4 - eight[f"depth_{state}_mm"]
        assert eight[f"wall_free_{state}_mm"] == pytest.approx(free, abs=1e-9)
    assert eight["wall_clearance_mm"] == 12.7


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
        ("lining", 2, 5.0, 0),  # one piece of 74 in, 2 x 87 in and 4: 4.94 yd
        ("face", 4, 11.25, 1),
        ("lining", 2, 5.0, 0),
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


def test_least_and_most_counts() -> None:
    """The least count and the most are counts, with zeros before them and spaces about them too."""
    assert read_counts("2,2000") == [2, 2000]
    assert read_counts(" 0002 , 002000,") == [2, 2000]
    assert read_counts("") == []


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


def test_compare_pdf_never_replaces_the_job(job: Path) -> None:
    """The job file named as the PDF, in another way of writing it, is refused and stays."""
    before = job.read_bytes()
    target = job.parent / ".." / job.parent.name / job.name
    refused(
        run("compare", job, "--counts", "6", "--pdf", target),
        "--pdf: would replace the job file itself: name another file",
    )
    assert job.read_bytes() == before


def test_compare_of_a_bad_job(tmp_path: Path) -> None:
    """A job that can't be planned is refused as by every command."""
    path = written(tmp_path, "width = 4")
    refused(run("compare", path), "window[1].width: ")


@pytest.mark.parametrize(
    ("words", "code", "errors"),
    [
        (("compare", "linen_store.toml", "--counts", "6,8,10"), 0, 0),
        (("compare", "linen_store.toml", "--counts", "x"), 2, 1),
        (("compare", "missing.toml"), 2, 1),
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
    assert (done.returncode, done.stderr) == (0, b"")
    assert len(parsed(done.stdout)["windows"]) == 2
    assert (tmp_path / "counts.pdf").read_bytes().startswith(b"%PDF-")


def test_compare_pdf_on_paper_without_room(tmp_path: Path) -> None:
    """A roll too narrow for a sheet is refused before the PDF, which is on letter, is made."""
    path, target = tmp_path / "job.toml", tmp_path / "counts.pdf"
    path.write_text(job_toml("width = 60", tables='[paper]\nsize = "4 in roll"'), encoding="utf-8")
    result = run("compare", path, "--pdf", target)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "paper.size: 4 in roll is too small" in result.stderr
    assert not target.exists()
