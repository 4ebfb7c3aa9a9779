"""An order for many jobs in, what programs read (JSON) out.

Lengths are millimetres as floats; what isn't known is null. Cloths, eyelets and bands have the keys
that they have in the order of `plan --json`, with `due`, the first day that one of their jobs is
due, and `jobs`: what each takes, in the same keys, `job` its place in the list of `jobs`. `cuts`
are a cloth's drops by their length. Of the jobs in `without` it isn't known how much cloth they
take: the order is without theirs. `windows` are those that a job is narrowed to, null for all.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from drapetemplate.planning.cloth import ClothOrder
from drapetemplate.planning.joint_doubts import Doubt
from drapetemplate.planning.joint_order import BandLine, JointOrder, Line, PlannedJob, cuts
from drapetemplate.report.plan_json import (
    band_order_json,
    cloth_order_json,
    eyelet_order_json,
)
from drapetemplate.shelf.kept import PassedOver
from drapetemplate.shelf.planned import NotPlanned

FORMAT = 1


def as_json(
    order: JointOrder,
    doubts: Sequence[Doubt],
    not_planned: Sequence[NotPlanned] = (),
    passed_over: Sequence[PassedOver] = (),
) -> dict[str, Any]:
    """Return the order as `order --json` prints it, ready for a JSON writer.

    With it what isn't in it: jobs with faults, and files in which there is no job.
    """
    return {
        "format": FORMAT,
        "jobs": [_job(job) for job in order.jobs],
        "cloth": [_cloth(order, line) for line in order.cloth],
        "eyelets": [
            {
                **eyelet_order_json(line.order),
                "due": _day(order.due(line)),
                "jobs": [{"job": n, **eyelet_order_json(own)} for n, own in line.takes],
            }
            for line in order.eyelets
        ],
        "bands": [_band(order, line) for line in order.bands],
        "doubts": [
            {"level": doubt.level, "code": doubt.code, "text": doubt.text} for doubt in doubts
        ],
        "faulty": [
            {"file": each.source, "faults": [str(fault) for fault in each.faults]}
            for each in not_planned
        ],
        "passed_over": [{"file": str(each.path), "why": each.why} for each in passed_over],
    }


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _job(job: PlannedJob) -> dict[str, Any]:
    details = job.job.details
    return {
        "name": details.name,
        "number": details.number,
        "client": details.client,
        "room": details.room,
        "due": _day(details.due),
        "windows": list(job.job.only) or None,
        "files": list(job.sources),
        "stops": list(dict.fromkeys(stop.code for stop in job.plan.stops)),
    }


def _cloth(order: JointOrder, line: Line[ClothOrder]) -> dict[str, Any]:
    return {
        **cloth_order_json(line.order),
        "due": _day(order.due(line)),
        "without": list(line.without),
        "jobs": [
            {
                "job": number,
                **cloth_order_json(own),
                "cuts": [
                    {"drops": drops, "length_mm": float(length)}
                    for drops, length in cuts(order.jobs[number], own)
                ],
            }
            for number, own in line.takes
        ],
    }


def _band(order: JointOrder, line: BandLine) -> dict[str, Any]:
    """One band's order, each of its panels with its job."""
    windows = [order.jobs[job].plan.windows[window] for job, window in line.owners]
    together = band_order_json(line.order, windows)
    owners = [line.owners[panel.window][0] for panel in line.order.panels]
    together["panels"] = [
        {"job": job, **panel} for job, panel in zip(owners, together["panels"], strict=True)
    ]
    return {
        **together,
        "due": _day(order.due(line)),
        "jobs": [{"job": n, "length_mm": float(own.length)} for n, own in line.takes],
    }
