"""An order for many jobs in, one CSV table for a spreadsheet out: what to buy, and for which jobs.

A `buy` row is one thing to buy, the `job` rows after it what each job takes of it. `length_mm` is
exact, to 0.001 mm, allowance and all, `measure` what to order, and of a job what it takes in its
own unit. `quantity` counts drops, eyelets or rolls; eyelets with spares.
"""

from __future__ import annotations

from collections.abc import Iterator

from drapetemplate.measures import format_length, format_order
from drapetemplate.planning.cloth import ClothOrder
from drapetemplate.planning.joint_order import JointOrder, Line
from drapetemplate.report.csv_table import Row, csv_table, in_mm
from drapetemplate.words.joint_words import ToBuy, to_buy

COLUMNS = (
    "record",
    "part",
    "fabric",
    "width_mm",
    "opening_mm",
    "number",
    "job",
    "client",
    "room",
    "due",
    "quantity",
    "length_mm",
    "measure",
    "files",
    "note",
)
NAMES = ("fabric", "number", "job", "client", "room", "files", "note")


def as_csv(order: JointOrder) -> bytes:
    """Return the table as a file's bytes: RFC 4180, UTF-8, a line of column names first."""
    return csv_table(COLUMNS, _rows(order), NAMES)


def _rows(order: JointOrder) -> Iterator[Row]:
    things = iter(to_buy(order))
    for cloth in order.cloth:
        yield from _cloth(order, cloth, next(things))
    for eyelets in order.eyelets:
        thing = next(things)
        ring = eyelets.order.eyelet
        common = {
            "part": thing.part,
            "width_mm": in_mm(ring.outside),
            "opening_mm": in_mm(ring.opening),
        }
        bought = str(eyelets.order.bought)
        yield {**common, **_buy(thing), "quantity": bought, "measure": thing.amount}
        for number, own in eyelets.takes:
            yield {**common, **_job(order, number), "quantity": str(own.used + own.spares)}
    for line in order.bands:
        thing, band = next(things), line.order
        common = {"part": thing.part, "width_mm": in_mm(band.height)}
        rolls = "" if band.rolls is None else str(band.rolls)
        yield {
            **common,
            **_buy(thing),
            "quantity": rolls,
            "length_mm": in_mm(band.length),
            "measure": format_order(band.amount, band.unit),
        }
        for number, piece in line.takes:
            units = order.jobs[number].units
            measure = format_length(piece.length, units)
            lengths = {"length_mm": in_mm(piece.length), "measure": measure}
            yield {**common, **_job(order, number), **lengths}


def _cloth(order: JointOrder, line: Line[ClothOrder], thing: ToBuy) -> Iterator[Row]:
    """One cloth: what to buy, and what each job takes, its allowance and all."""
    cloth = line.order
    common = {
        "part": thing.part,
        "fabric": cloth.fabric or "",
        "width_mm": in_mm(cloth.width),
    }
    yield {
        **common,
        **_buy(thing),
        "quantity": "" if cloth.drops is None else str(cloth.drops),
        "length_mm": in_mm(cloth.to_buy),
        "measure": "" if cloth.amount is None else thing.amount,
    }
    words = dict(thing.takes)
    for number, own in line.takes:
        yield {
            **common,
            **_job(order, number),
            "quantity": "" if own.drops is None else str(own.drops),
            "length_mm": in_mm(own.to_buy),
            "measure": ""
            if own.to_buy is None
            else format_length(own.to_buy, order.jobs[number].units),
            "note": words[number],
        }


def _buy(thing: ToBuy) -> Row:
    return {
        "record": "buy",
        "due": "" if thing.due is None else thing.due.isoformat(),
        "note": thing.why,
    }


def _job(order: JointOrder, number: int) -> Row:
    """Which job takes something."""
    job = order.jobs[number]
    details = job.job.details
    return {
        "record": "job",
        "number": details.number or "",
        "job": details.name,
        "client": details.client or "",
        "room": details.room or "",
        "due": "" if job.due is None else job.due.isoformat(),
        "files": "; ".join(job.sources),
    }
