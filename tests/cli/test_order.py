"""`order` as a user types it: one order whatever holds the jobs, and nothing written but asked."""

from __future__ import annotations

import json
import shutil
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from drapetemplate.cli.order import check_targets
from drapetemplate.errors import FileError
from tests.helpers.commands import refused, run
from tests.helpers.made import made
from tests.helpers.ordered import LINEN, PAIR, order_toml

STUDY = order_toml("study", job='number = "2041"\ndue = 2027-03-12')
HALL = order_toml(
    "hall", f"{PAIR}\nquantity = 2", job="due = 2027-03-05", tables=f"{LINEN}\n[band]\nroll = 360"
)
PORCH = order_toml("porch")
STOPPED = order_toml("loft", PAIR.replace("count = 12", "count = 11"))


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two job files, the PDF of one, the PDF of a third, and a bill."""
    folder = tmp_path_factory.mktemp("kept")
    (folder / "study.toml").write_text(STUDY)
    (folder / "hall.toml").write_text(HALL)
    (folder / "2026").mkdir()
    (folder / "2026" / "study.pdf").write_bytes(made(STUDY)[0])
    (folder / "2026" / "porch.pdf").write_bytes(made(PORCH)[0])
    (folder / "bill.pdf").write_bytes(b"%PDF-1.7\n%%EOF\n")
    return folder


@pytest.fixture
def jobs(kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The same, to be worked in."""
    folder = tmp_path / "jobs"
    shutil.copytree(kept, folder)
    monkeypatch.chdir(tmp_path)
    return folder


def parsed(*words: object) -> dict[str, Any]:
    """What `order --json` prints."""
    done = run("order", *words, "--json")
    assert (done.exit_code, done.stderr) == (0, "")
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_each_job_once(jobs: Path) -> None:
    """Files, folders and PDFs that hold a job three times count it once."""
    found = parsed(jobs, jobs / "study.toml", jobs / "2026" / "study.pdf")
    assert [job["name"] for job in found["jobs"]] == [
        "Heron Point, hall",
        "Heron Point, study",
        "Heron Point, porch",
    ]
    # A pair takes 4 drops of 100 in: 16 in all, 1600 in, 44.44 yd.
    (cloth,) = found["cloth"]
    assert (cloth["drops"], cloth["order"]) == (16, {"amount": 44.5, "unit": "yd"})
    assert cloth["to_buy_mm"] == pytest.approx(1600 * 25.4)
    assert [taken["cuts"][0]["drops"] for taken in cloth["jobs"]] == [8, 4, 4]
    (ring,) = found["eyelets"]
    assert (ring["used"], ring["bought"]) == (96, 96)
    # 8 panels of 74 in, all from rolls of 360 in, though one job alone says how long these are.
    (band,) = found["bands"]
    assert (band["length_mm"], band["rolls"]) == (pytest.approx(592 * 25.4), 2)
    assert [found["jobs"][taken["job"]]["due"] for taken in band["jobs"]] == [
        "2027-03-05",
        "2027-03-12",
        None,
    ]
    assert [each["why"] for each in found["passed_over"]] == ["damaged, or no PDF"]


@pytest.mark.parametrize("held_in", ["hall.toml", "2026/porch.pdf"])
def test_one_jobs_order_is_its_plans(jobs: Path, held_in: str) -> None:
    """The order for one job, or for its PDF, has every figure of the order in its plan."""
    job = jobs / "job.toml"
    job.write_text(HALL if held_in == "hall.toml" else PORCH)
    own = json.loads(run("plan", job, "--json").stdout)["order"]
    job.unlink()
    found = parsed(jobs / held_in)
    for mine, theirs in (("cloth", "cloth"), ("eyelets", "packs"), ("bands", "bands")):
        for line, expected in zip(found[mine], own[theirs], strict=True):
            for panel in line.get("panels", ()):
                assert panel.pop("job") == 0
            assert {key: line[key] for key in expected} == expected


def test_arguments_in_any_order(jobs: Path) -> None:
    """Text, JSON, table and pages are the same to the last byte however jobs are named."""
    words = [jobs / "study.toml", jobs / "2026", jobs / "hall.toml"]
    seen = set()
    for order in permutations(words):
        told = run("order", *order, "--csv", "o.csv", "--out", "o.pdf").stdout
        as_json = run("order", *order, "--json").stdout
        seen.add((told, as_json, Path("o.csv").read_bytes(), Path("o.pdf").read_bytes()))
    assert len(seen) == 1


def test_nothing_else_is_written(jobs: Path, tmp_path: Path) -> None:
    """Only what is named is written, beside jobs that stay as they are."""
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert run("order", jobs).exit_code == 0
    assert run("order", jobs, "--out", jobs / "order.pdf").exit_code == 0
    again = run("order", jobs, "--out", jobs / "order.pdf")
    assert again.exit_code == 0  # the order of last week is no job
    after = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert after.pop(jobs / "order.pdf").startswith(b"%PDF")
    assert after == before


@pytest.mark.parametrize(
    ("options", "expected"),
    [
        (["--out", "jobs/2026/study.pdf"], "would replace a job"),
        (["--out", "other.pdf"], "holds a job: name another --out"),
        (["--out", "study.toml"], "name a file that ends in .pdf"),
        (["--csv", "study.toml"], "name a file that ends in .csv"),
        (["--due-before", "next week"], "--due-before"),
        (["nowhere.toml"], "nowhere.toml"),
        (["jobs/bill.pdf"], "bill.pdf"),
    ],
)
def test_refused(jobs: Path, options: list[str], expected: str) -> None:
    """What can't be used is one line of error, and nothing is written."""
    other = made(order_toml("attic"))[0]
    Path("other.pdf").write_bytes(other)
    refused(run("order", jobs, "--csv", "o.csv", *options), expected)
    assert Path("other.pdf").read_bytes() == other
    assert not Path("o.csv").exists()


def test_targets_by_another_way(tmp_path: Path) -> None:
    """An ending may be in capitals; one file under two names isn't written twice."""
    check_targets({"--out": tmp_path / "O.PDF", "--csv": tmp_path / "O.CSV"}, [])
    table = tmp_path / "o.csv"
    table.symlink_to(tmp_path / "o.pdf")
    with pytest.raises(FileError, match="would replace what --out writes: name another --csv"):
        check_targets({"--out": tmp_path / "o.pdf", "--csv": table}, [])


def test_empty_folder(tmp_path: Path) -> None:
    """A folder without jobs is a fault."""
    refused(run("order", tmp_path), "no job in any of these files and folders")


def test_job_with_faults(jobs: Path) -> None:
    """One that is named keeps all from being ordered; one met in a folder is left out and told."""
    faulty = jobs / "faulty.toml"
    faulty.write_text(order_toml("attic", PAIR.replace("width = 74", "width = wide")))
    refused(run("order", jobs, faulty, "--out", "o.pdf"), f"{faulty}, line ")
    assert not Path("o.pdf").exists()
    found = run("order", jobs, "--out", "o.pdf")
    assert found.exit_code == 1
    assert found.stderr.startswith(f"{faulty}, line ")
    assert "faulty-job" in found.stdout
    assert "Order for 3 jobs" in found.stdout
    assert Path("o.pdf").exists()


def test_worst_first(jobs: Path) -> None:
    """What may be missing is told before what is only passed over."""
    (jobs / "pyproject.toml").write_text("[project]\n")
    doubts = parsed(jobs)["doubts"]
    assert [(doubt["level"], doubt["code"]) for doubt in doubts] == [
        ("warn", "unreadable"),
        ("note", "passed-over"),
    ]


def test_stop(jobs: Path) -> None:
    """A job with a stop is ordered, and a warning says that no template is made of it yet."""
    (jobs / "loft.toml").write_text(STOPPED)
    found = parsed(jobs / "loft.toml")
    assert found["jobs"][0]["stops"] == ["odd-count"]
    assert found["doubts"][0]["code"] == "stop"
    assert found["eyelets"][0]["used"] == 22


def test_due_before(jobs: Path) -> None:
    """Only jobs due before a day are ordered for; those without one are told of."""
    found = parsed(jobs, "--due-before", "2027-03-12")
    assert [job["name"] for job in found["jobs"]] == ["Heron Point, hall"]
    (doubt,) = [doubt for doubt in found["doubts"] if doubt["code"] == "no-date"]
    assert doubt["text"] == "without a due date, and not in this order: Heron Point, porch"
    none = run("order", jobs, "--due-before", "2027-03-05", "--out", "o.pdf")
    assert (none.exit_code, none.stdout) == (1, "")
    assert none.stderr == (
        "--due-before: none of 3 jobs is due before 2027-03-05; 1 without a due date\n"
    )
    assert not Path("o.pdf").exists()


@pytest.mark.long
def test_workers(jobs: Path) -> None:
    """Over processes the order is the same."""
    assert run("order", jobs, "--workers", "2").stdout == run("order", jobs).stdout
