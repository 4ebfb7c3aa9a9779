"""The order for many jobs as text, as a table and as JSON: every figure, and none misleads."""

from __future__ import annotations

import csv
import io
import json

import pytest
from rich.cells import cell_len

from drapetemplate.planning.joint_doubts import order_doubts
from drapetemplate.planning.joint_order import PlannedJob, joint_order
from drapetemplate.report.joint_csv import COLUMNS, as_csv
from drapetemplate.report.joint_json import as_json
from drapetemplate.report.joint_text import as_text
from tests.helpers.jobfiles import RING
from tests.helpers.ordered import LINEN, PAIR, order_toml, planned

# Panels of 74 in. The hall's are cut first: rolls of 160 in hold two, and 12 in are left.
ROLL = "[band]\nroll = 160"
HALL = planned(
    order_toml(
        "hall",
        f'{PAIR}\nname = "Bay"',
        job='number = "2040"\ndue = 2027-03-05\nclient = "The keeper"\nroom = "Hall"',
        eyelet=f"{RING}\npack = 10\nspares = 2",
        tables=f"{LINEN.replace('allowance = 0', 'allowance = 5')}\n{ROLL}",
    ),
    "hall.toml",
)
STUDY = planned(
    order_toml("study", f'{PAIR.replace("84", "60")}\nname = "Door"\nquantity = 2'), "study.toml"
)
METRIC = planned(
    order_toml(
        "landing",
        'width = "74 in"\nleading = "3 in"\nreturn = "3 in"\ncount = 12\nlength = 2000',
        head='units = "mm"',
        eyelet='outside = "66"\nopening = "40"',
        tables='[fabric]\nwidth = 1400\n[lining]\nname = "Sateen"\nwidth = 1400',
    ),
    "landing.toml",
)


def text(*jobs: PlannedJob, columns: int | None = 80, plain: bool = False) -> str:
    """The order as text."""
    order = joint_order(jobs)
    return as_text(order, order_doubts(order), columns=columns, plain=plain)


def test_text() -> None:
    """Each thing is told with what each job takes of it, and from which jobs all that is."""
    expected = """\
Order for 2 jobs, due 2027-03-05

28 1/4 yd  fabric: Heron linen, 54 in wide
  12 drops 1008 in + 5 in allowance = 1013 in; first due 2027-03-05
    2040 · Heron Point, hall, 2027-03-05  4 drops of 100 in + 5 in allowance =
                                          405 in
    Heron Point, study                    8 drops of 76 in = 608 in

8 packs of 10  eyelets: 2 in outside, 1 in opening
  72 and 2 spares: 8 packs of 10, with one to test; first due 2027-03-05
    2040 · Heron Point, hall, 2027-03-05  24 and 2 spares
    Heron Point, study                    48

3 rolls of 160 in  band: 4 in high
  3 rolls of 160 in, for 12 1/2 yd (444 in), and a piece to test; first due
    2027-03-05
    2040 · Heron Point, hall, 2027-03-05  148 in
    Heron Point, study                    296 in
"""
    told = text(HALL, STUDY)
    assert told.startswith(expected)
    # Two panels of 74 in come off each roll.
    assert (
        """\
    roll 1  2040 · Heron Point, hall, Bay 74 in ×2; 12 in over
    roll 2  Heron Point, study, Door 74 in ×2; 12 in over
    roll 3  Heron Point, study, Door 74 in ×2; 12 in over
"""
        in told
    )


def test_plain() -> None:
    """For screen readers every fact is a line, without columns."""
    lines = text(HALL, METRIC, plain=True).splitlines()
    assert lines[0] == "order for 2 jobs, due 2027-03-05"
    assert "to buy, fabric: Heron linen, 54 in wide: 11 1/4 yd" in lines
    assert (
        "of it for 2040, Heron Point, hall, 2027-03-05: 4 drops of 100 in plus 5 in allowance = "
        "405 in"
    ) in lines
    assert lines[-2:] == [
        "job: 2040, Heron Point, hall: due 2027-03-05, The keeper, Hall, hall.toml",
        "job: Heron Point, landing: no day, landing.toml",
    ]


@pytest.mark.parametrize("columns", [80, 60, 40])
def test_text_is_no_wider_than_the_terminal(columns: int) -> None:
    """Lines wrap, and measures stay with their units."""
    lines = text(HALL, STUDY, METRIC, columns=columns).splitlines()
    assert max(map(cell_len, lines)) <= columns


def test_one_job() -> None:
    """Of one job nothing is said of adding up, and its rolls are the ticket's."""
    told = text(HALL)
    assert "added up" not in told
    assert "roll 1" not in told
    assert "Rolls serve" in text(HALL, STUDY)


def test_not_all_is_known() -> None:
    """What isn't known is never taken for nothing."""
    endless = planned(order_toml("porch", PAIR.replace("\nlength = 84", "")))
    assert "not known  fabric: Heron linen" in text(endless)
    both = text(endless, STUDY)
    assert "more than 17 yd  fabric: Heron linen" in both
    assert "WARN  amount-not-known: Heron linen: how much Heron Point, porch takes" in both


def test_jobs_called_alike() -> None:
    """Jobs of one name are told apart by their files."""
    other = planned(order_toml("study", f"{PAIR}\nquantity = 3"), "2026/study.toml")
    told = text(STUDY, other, columns=None)
    assert "Heron Point, study (study.toml)       8 drops of 76 in" in told
    assert "Heron Point, study (2026/study.toml)  12 drops of 100 in" in told


HOSTILE = "=1+1 \\u001b[31m\\u202e;@x"


def test_strange_names() -> None:
    """No terminal obeys a job's words, and no spreadsheet runs them."""
    strange = planned(
        order_toml("x", tables=LINEN.replace("Heron linen", HOSTILE)).replace(
            "Heron Point, x", HOSTILE
        ),
        "-2.toml",
    )
    order = joint_order([strange, STUDY])
    told = as_text(order, order_doubts(order))
    assert all(char.isprintable() or char == "\n" for char in told)
    for row in csv.reader(io.StringIO(as_csv(order).decode())):
        for cell in row:
            assert not any(part.lstrip().startswith(("=", "@", "-")) for part in cell.split(";"))
            assert cell.isprintable()


def test_from_when_to_when_jobs_are_due() -> None:
    """The title says how many jobs, and the first and last of their days; without any, none."""
    later = planned(order_toml("loft", job="due = 2027-03-12"), "loft.toml")
    for jobs, expected in (
        ((STUDY,), "Order for 1 job"),
        ((STUDY, METRIC), "Order for 2 jobs"),
        ((HALL, STUDY), "Order for 2 jobs, due 2027-03-05"),
        ((later, STUDY, HALL), "Order for 3 jobs, due 2027-03-05 to 2027-03-12"),
    ):
        assert text(*jobs).splitlines()[0] == expected


def test_csv() -> None:
    """The table adds up: of each thing the jobs' rows come to what is bought."""
    rows = list(csv.DictReader(io.StringIO(as_csv(joint_order([HALL, STUDY])).decode())))
    assert list(rows[0]) == list(COLUMNS)
    cloth = [row for row in rows if row["part"] == "fabric"]
    assert [(row["record"], row["number"], row["quantity"], row["measure"]) for row in cloth] == [
        ("buy", "", "12", "28 1/4 yd"),
        ("job", "2040", "4", "405 in"),
        ("job", "", "8", "608 in"),
    ]
    for part, column in (("fabric", "length_mm"), ("fabric", "quantity"), ("band", "length_mm")):
        bought, *taken = [float(row[column]) for row in rows if row["part"] == part]
        assert bought == pytest.approx(sum(taken))
    rings = [row for row in rows if row["part"] == "eyelets"]
    assert [row["quantity"] for row in rings] == ["80", "26", "48"]
    assert rings[1]["due"] == "2027-03-05"
    bands = [row for row in rows if row["part"] == "band"]
    # 6 panels of 74 in, two from a roll of 160: 444 in are 12.33 yd.
    assert [(row["quantity"], row["measure"], row["width_mm"]) for row in bands] == [
        ("3", "12 1/2 yd", "101.6"),
        ("", "148 in", "101.6"),
        ("", "296 in", "101.6"),
    ]
    of_hall = [row for row in rows if row["number"] == "2040"]
    told = {(row["job"], row["client"], row["room"], row["files"]) for row in of_hall}
    assert told == {("Heron Point, hall", "The keeper", "Hall", "hall.toml")}
    assert len(of_hall) == 3


def test_csv_of_band_by_the_yard() -> None:
    """Band that isn't bought in rolls has no number of them: 4 x 74 in are 8.22 yd."""
    rows = list(csv.DictReader(io.StringIO(as_csv(joint_order([STUDY])).decode())))
    [bought] = [row for row in rows if (row["record"], row["part"]) == ("buy", "band")]
    assert (bought["quantity"], bought["measure"], bought["length_mm"]) == (
        "",
        "8 1/4 yd",
        "7518.4",
    )


def test_json() -> None:
    """It goes through a JSON writer, and each line's jobs are among the jobs."""
    order = joint_order([HALL, STUDY, METRIC])
    found = json.loads(json.dumps(as_json(order, order_doubts(order)), allow_nan=False))
    assert [job["files"] for job in found["jobs"]] == [
        ["hall.toml"],
        ["landing.toml"],
        ["study.toml"],
    ]
    for line in (*found["cloth"], *found["eyelets"], *found["bands"]):
        assert {taken["job"] for taken in line["jobs"]} <= {0, 1, 2}
    (line,) = [line for line in found["cloth"] if line["fabric"] == "Heron linen"]
    assert line["to_buy_mm"] == pytest.approx(1013 * 25.4)
    assert line["due"] == "2027-03-05"
    assert line["jobs"][1]["cuts"] == [{"drops": 8, "length_mm": pytest.approx(76 * 25.4)}]
    assert found["jobs"][0] == {
        "name": "Heron Point, hall",
        "number": "2040",
        "client": "The keeper",
        "room": "Hall",
        "due": "2027-03-05",
        "windows": None,
        "files": ["hall.toml"],
        "stops": [],
    }
    band = found["bands"][0]
    owners = {(panel["job"], panel["window"], panel["panel"]) for panel in band["panels"]}
    assert owners == {
        (0, "Bay", "left"),
        (0, "Bay", "right"),
        *((2, "Door", f"{side} {n}") for side in ("left", "right") for n in (1, 2)),
    }
