"""The desk's order for the jobs of its folder: what `order` gives, shown and handed out to keep."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate.desk.week import week, week_shown
from drapetemplate.errors import JobError
from tests.helpers.commands import run
from tests.helpers.desk_server import running
from tests.helpers.made import made
from tests.helpers.ordered import LINEN, PAIR, order_toml

STUDY = order_toml("study", job='number = "2041"\ndue = 2027-03-12')
HALL = order_toml(
    "hall",
    f'{PAIR}\nname = "Bay"\nquantity = 2',
    job="due = 2027-03-05",
    tables=f"{LINEN}\n[band]\nroll = 360",
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of two jobs, one with its PDF, one job that is faulty, and a bill."""
    (tmp_path / "study.toml").write_text(STUDY)
    (tmp_path / "study.pdf").write_bytes(made(STUDY)[0])
    (tmp_path / "hall.toml").write_text(HALL)
    (tmp_path / "faulty.toml").write_text(STUDY.replace("width = 74", "width = wide"))
    (tmp_path / "bill.pdf").write_bytes(b"%PDF-1.7\n%%EOF\n")
    return tmp_path


def test_shown(folder: Path) -> None:
    """Each thing is told in words with what each job takes; what isn't in it is told too."""
    told = week_shown(folder)
    assert told["title"] == "Order for 2 jobs, due 2027-03-05 to 2027-03-12"
    cloth, rings, band = told["things"]
    # 8 and 4 drops of 100 in: 1200 in are 33.33 yd. 48 and 24 eyelets. Six panels of 74 in.
    assert (cloth["amount"], cloth["what"]) == ("33 1/2 yd", "fabric: Heron linen, 54 in wide")
    assert cloth["takes"] == [
        {"job": "Heron Point, hall", "words": "8 drops of 100 in = 800 in"},
        {"job": "2041 · Heron Point, study", "words": "4 drops of 100 in = 400 in"},
    ]
    assert rings["amount"] == "72 and 2 to test"
    assert band["amount"] == "2 rolls of 10 yd"
    assert [row[0] for row in band["rolls"][:2]] == ["roll 1", "roll 2"]
    # Needed by the day that the first of the jobs is due.
    assert {thing["due"] for thing in told["things"]} == {"2027-03-05"}
    assert [(job["name"], job["due"]) for job in told["jobs"]] == [
        ("Heron Point, hall", "2027-03-05"),
        ("2041 · Heron Point, study", "2027-03-12"),
    ]
    texts = [doubt["text"] for doubt in told["doubts"]]
    assert any(text.startswith("faulty.toml can't be planned") for text in texts)
    assert any("bill.pdf" in text for text in texts)
    assert not any(str(folder) in text for text in texts)


def test_undated(folder: Path) -> None:
    """What is for a job without a day is needed by none."""
    (folder / "hall.toml").unlink()
    (folder / "study.pdf").unlink()
    (folder / "study.toml").write_text(STUDY.replace("due = 2027-03-12", ""))
    told = week_shown(folder)
    assert [(thing["due"], thing["cut_by"], thing["rolls"]) for thing in told["things"]] == [
        ("", "", []),
        ("", "", []),
        ("", "", []),
    ]
    assert (told["rounded"], told["more"]) == ("", 0)


def test_narrowed(folder: Path) -> None:
    """Only jobs due before a day; what is no day, and a day before all, are told as such."""
    assert week_shown(folder, "2027-03-12")["title"] == "Order for 1 job, due 2027-03-05"
    assert week_shown(folder, "2027-03-05")["none"].endswith(
        "none of 2 jobs is due before 2027-03-05"
    )
    for text, why in (("soon", "year-month-day"), ("2027-03-05", "none of 2 jobs is due before")):
        with pytest.raises(JobError, match=why):
            week(folder, text)


def test_nothing_saved(tmp_path: Path) -> None:
    """A folder without jobs says so."""
    with pytest.raises(JobError, match="no job is saved in this folder yet"):
        week(tmp_path)


def test_asked_for(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The desk hands out what the command writes, byte for byte, and writes nothing itself."""
    monkeypatch.chdir(folder)
    told = folder.parent / "told"
    told.mkdir()
    options = ("--out", told / "o.pdf", "--csv", told / "o.csv", "--due-before", "2027-03-12")
    assert run("order", ".", *options).exit_code == 1  # for the faulty job
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with running(folder, "--no-open") as desk:
        body = {"due_before": "2027-03-12"}
        assert desk.ask("/order", body).json == week_shown(folder, "2027-03-12")
        pdf, table = desk.ask("/order-pdf", body), desk.ask("/order-csv", body)
        assert pdf.body == (told / "o.pdf").read_bytes()
        assert table.body == (told / "o.csv").read_bytes()
        assert pdf.headers["content-disposition"] == 'attachment; filename="order.pdf"'
        assert desk.ask("/order", {"due_before": "soon"}).status == 422
        assert desk.ask("/order", {"due_before": "x" * 41}).status == 422
        assert desk.send("POST", "/order", b"{}").status == 403
    assert {path: path.read_bytes() for path in folder.iterdir()} == before
