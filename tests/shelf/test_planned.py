"""Kept jobs planned once each: a job file and its PDFs, their windows, and what is faulty."""

from __future__ import annotations

from pathlib import Path

import pytest

from drapetemplate import lay_out, plan_job, read_job, to_pdf
from drapetemplate.errors import FileError
from drapetemplate.job.model import narrowed
from drapetemplate.planning.joint_order import PlannedJob, joint_order
from drapetemplate.shelf.planned import NotPlanned, gathered, planned
from tests.helpers.made import made
from tests.helpers.ordered import PAIR, order_toml

TEXT = order_toml("hall", f'{PAIR}\nname = "Bay"', f'{PAIR}\nname = "Door"\nquantity = 2')


def pdf_of(window: str) -> bytes:
    """The PDF for one of the job's windows alone."""
    job = narrowed(read_job(TEXT.encode()), [window])
    return to_pdf(lay_out(job, plan_job(job))[0], TEXT.encode())


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job file, its PDF, and one for each of its windows."""
    folder = tmp_path_factory.mktemp("jobs")
    (folder / "hall.toml").write_text(TEXT)
    (folder / "hall.pdf").write_bytes(made(TEXT)[0])
    (folder / "bay.pdf").write_bytes(pdf_of("Bay"))
    (folder / "door.pdf").write_bytes(pdf_of("Door"))
    return folder


def jobs(*paths: Path) -> list[PlannedJob]:
    """Every job of these paths, planned."""
    found = [planned(each) for each in gathered(paths).to_plan]
    assert all(isinstance(each, PlannedJob) for each in found)
    return [each for each in found if isinstance(each, PlannedJob)]


@pytest.mark.parametrize(
    ("names", "eyelets"),
    [
        # A pair has 24 eyelets; the door is made twice.
        (["hall.toml"], 72),
        (["hall.pdf"], 72),
        (["hall.pdf", "hall.toml", "hall.toml"], 72),
        (["bay.pdf"], 24),
        (["door.pdf", "bay.pdf"], 72),
        (["bay.pdf", "hall.pdf"], 72),
        (["door.pdf", "hall.toml"], 72),
    ],
)
def test_each_window_counts_once(folder: Path, names: list[str], eyelets: int) -> None:
    """A job counts once however many files hold it, with the windows that these are for."""
    (job,) = jobs(*(folder / name for name in names))
    assert joint_order([job]).eyelets[0].order.used == eyelets


@pytest.mark.parametrize("name", ["hall", "bay"])
def test_order_of_a_pdf_is_the_one_it_prints(folder: Path, name: str) -> None:
    """The order for a PDF is that of the job that it was made from."""
    job = read_job(TEXT.encode())
    own = plan_job(job if name == "hall" else narrowed(job, ["Bay"])).order
    (found,) = jobs(folder / f"{name}.pdf")
    order = joint_order([found])
    assert tuple(line.order for line in order.cloth) == own.cloth
    assert tuple(line.order for line in order.eyelets) == own.eyelets
    assert tuple(line.order for line in order.bands) == own.bands


def test_job_file_comes_before_its_pdfs(folder: Path) -> None:
    """Of the files that hold a job the job file is told first."""
    (job,) = jobs(folder)
    names = [Path(source).name for source in job.sources]
    assert (names, job.in_job_file) == (["hall.toml", "bay.pdf", "door.pdf", "hall.pdf"], True)


def test_faults_are_told_with_their_lines(tmp_path: Path) -> None:
    """A job file with faults, or one that can't be planned, comes back with every fault."""
    file = tmp_path / "hall.toml"
    file.write_text(TEXT.replace("width = 74", "width = wide", 1))
    (found,) = gathered([tmp_path]).to_plan
    told = planned(found)
    assert isinstance(told, NotPlanned)
    line = TEXT[: TEXT.index("width = 74")].count("\n") + 1
    assert str(told.faults[0]).startswith(f"{file}, line {line}: ")
    assert not told.named
    file.write_text(TEXT.replace("count = 12", "count = 100", 1))
    (found,) = gathered([file]).to_plan
    told = planned(found)
    assert isinstance(told, NotPlanned)
    assert told.named
    assert "window[1].count" in str(told.faults[0])


def test_what_holds_no_job(folder: Path, tmp_path: Path) -> None:
    """Met in a folder it is passed over; named itself, or not there, it is a fault."""
    bill = tmp_path / "bill.pdf"
    bill.write_bytes(b"%PDF-1.7\nnothing")
    found = gathered([folder, tmp_path])
    assert [each.path for each in found.passed_over] == [bill]
    assert len(found.to_plan) == 1
    with pytest.raises(FileError, match=r"bill\.pdf"):
        gathered([bill])
    with pytest.raises(FileError, match="nowhere"):
        gathered([tmp_path / "nowhere"])


def test_windows_that_the_job_lacks(folder: Path) -> None:
    """A PDF that claims to be for a window that its job hasn't is a fault, not a traceback."""
    forged = folder / "forged.pdf"
    forged.write_bytes((folder / "bay.pdf").read_bytes().replace(b"Bay", b"Bow"))
    try:
        (found,) = gathered([forged]).to_plan
        assert isinstance(planned(found), NotPlanned)
    finally:
        forged.unlink()


def test_a_remark_makes_no_other_job(folder: Path, tmp_path: Path) -> None:
    """A job file in which only a remark was changed since is its PDF's own."""
    (tmp_path / "hall.pdf").write_bytes((folder / "hall.pdf").read_bytes())
    (tmp_path / "hall.toml").write_text(f"# for the hall\n{TEXT}\n")
    (job,) = jobs(tmp_path)
    assert joint_order([job]).eyelets[0].order.used == 72
    assert [Path(source).name for source in job.sources] == ["hall.toml", "hall.pdf"]
