"""Planned jobs as one order: what isn't in it and why, the worst first, and nothing left unsaid."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from drapetemplate.errors import Fault, FileError, JobError, StopError
from drapetemplate.planning.joint_order import PlannedJob
from drapetemplate.record.quick_read import NO_JOB
from drapetemplate.shelf.kept import NO_JOB_FILE, PassedOver
from drapetemplate.shelf.ordered import ordered
from drapetemplate.shelf.planned import NotPlanned
from tests.helpers.ordered import order_toml, planned

SOON = date(2027, 3, 12)


@pytest.fixture(scope="module")
def hall() -> PlannedJob:
    """A job of 24 eyelets, due the day before."""
    return planned(order_toml("hall", job="due = 2027-03-11"), "hall.toml")


@pytest.fixture(scope="module")
def study() -> PlannedJob:
    """Another, due that very day."""
    return planned(order_toml("study", job="due = 2027-03-12"), "study.toml")


@pytest.fixture(scope="module")
def porch() -> PlannedJob:
    """A third, due some day."""
    return planned(order_toml("porch"), "porch.toml")


def faulty(source: str, *, named: bool = False) -> NotPlanned:
    """A job with a fault."""
    return NotPlanned(source, (Fault("window[1].width", "missing", source=source),), named)


def doubts_of(*arguments: object) -> list[tuple[str, str, str]]:
    """Each doubt of an order."""
    found = ordered(*arguments)  # type: ignore[arg-type]
    return [(doubt.level, doubt.code, doubt.text) for doubt in found.doubts]


def test_due_before(hall: PlannedJob, study: PlannedJob, porch: PlannedJob) -> None:
    """The day itself isn't before it; without one every job is ordered for and nothing said."""
    jobs = (hall, study, porch)
    every = ordered(jobs)
    assert (every.order.eyelets[0].order.used, every.doubts) == (72, ())
    soon = ordered(jobs, (), SOON)
    assert soon.order.eyelets[0].order.used == 24
    assert doubts_of(jobs, (), SOON) == [
        ("warn", "no-date", "without a due date, and not in this order: Heron Point, porch")
    ]
    assert ordered(jobs, (), date(2027, 3, 13)).order.eyelets[0].order.used == 48
    assert doubts_of((hall, study), (), SOON) == []


def test_nothing_due(hall: PlannedJob, porch: PlannedJob) -> None:
    """A day before which nothing is due gives no order, and says what was looked at."""
    day = date(2027, 3, 11)
    for jobs, text in (
        ((hall, porch), "none of 2 jobs is due before 2027-03-11; 1 without a due date"),
        ((hall,), "none of 1 job is due before 2027-03-11"),
    ):
        with pytest.raises(StopError) as stopped:
            ordered(jobs, (), day)
        assert stopped.value.faults == (Fault("--due-before", text),)
    with pytest.raises(StopError) as stopped:
        ordered((faulty("a.toml"), hall), (), day)
    assert [fault.where for fault in stopped.value.faults] == ["window[1].width", "--due-before"]
    with pytest.raises(StopError) as stopped:
        ordered((faulty("a.toml"),))
    assert len(stopped.value.faults) == 1
    with pytest.raises(FileError, match="no job in any of these files and folders"):
        ordered((), (PassedOver(Path("bill.pdf"), NO_JOB),))


def test_faulty_jobs(hall: PlannedJob) -> None:
    """One that was named keeps all from being ordered; those met in a folder are told by name."""
    with pytest.raises(JobError) as refused:
        ordered((hall, faulty("b.toml"), faulty("c.toml", named=True)))
    assert [fault.source for fault in refused.value.faults] == ["c.toml"]
    found = ordered((faulty("b.toml"), hall, faulty("a.toml")))
    assert [job.source for job in found.faulty] == ["a.toml", "b.toml"]
    (doubt,) = found.doubts
    assert (doubt.level, doubt.code) == ("warn", "faulty-job")
    assert doubt.text == (
        "a.toml and b.toml can't be planned, and aren't in this order: mend the faults first"
    )
    assert doubts_of((hall, faulty("b.toml")))[0][2] == (
        "b.toml can't be planned, and isn't in this order: mend the faults first"
    )


def test_very_many(porch: PlannedJob, hall: PlannedJob) -> None:
    """Of more than six names the rest are counted."""
    six = [faulty(f"{n}.toml") for n in range(6)]
    text = doubts_of((hall, *six))[0][2]
    assert text.startswith("0.toml, 1.toml, 2.toml, 3.toml, 4.toml and 5.toml can't be planned")
    text = doubts_of((hall, *six, faulty("6.toml"), faulty("7.toml")))[0][2]
    assert text.startswith("0.toml, 1.toml, 2.toml, 3.toml, 4.toml, 5.toml and 2 more can't be ")
    names = ["b", "a"]
    undated = [
        replace(
            planned(order_toml(name), f"{name}.toml"),
            identity=name,
        )
        for name in names
    ]
    (doubt,) = doubts_of((hall, *undated, porch), (), SOON)
    assert doubt[2].endswith(": Heron Point, a, Heron Point, b and Heron Point, porch")


@pytest.mark.parametrize(
    ("whys", "expected"),
    [
        ([NO_JOB], [("note", "passed-over", "1 file passed over: no job in it")]),
        (
            [NO_JOB, NO_JOB_FILE],
            [("note", "passed-over", "2 files passed over: no job in them")],
        ),
        (
            [NO_JOB, "damaged, or no PDF"],
            [
                (
                    "warn",
                    "unreadable",
                    "can't be read, and may hold a job: 1.pdf (damaged, or no PDF)",
                ),
                ("note", "passed-over", "1 file passed over: no job in it"),
            ],
        ),
    ],
)
def test_passed_over(
    hall: PlannedJob, whys: list[str], expected: list[tuple[str, str, str]]
) -> None:
    """What can't be read may hold a job, and is told by name before what holds none."""
    files = [PassedOver(Path(f"{n}.pdf"), why) for n, why in enumerate(whys)]
    assert doubts_of((hall,), files) == expected
    assert ordered((hall,), files).passed_over == tuple(files)
