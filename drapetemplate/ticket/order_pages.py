"""The order for many jobs as pages to buy by: each thing with a box to tick, and who takes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Details, Paper
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.planning.joint_doubts import Doubt
from drapetemplate.planning.joint_order import JointOrder, PlannedJob
from drapetemplate.sheets.laid_paper import LEAST_OVERLAP
from drapetemplate.ticket.flow import BODY, LEADING, SMALL, Flow
from drapetemplate.ticket.job_ticket import HEADLINE, LARGE, TICKET_MARGIN
from drapetemplate.ticket.work import BOX, INDENT
from drapetemplate.words.joint_words import (
    NO_TEMPLATE,
    ROLLS_SHARED,
    ROUNDED_ONCE,
    ToBuy,
    job_names,
    job_rows,
    to_buy,
    which_jobs,
)

KIND = "order"
PAPERS = ("letter", "a4")
_BULLETS = {"stop": "STOP", "warn": "WARN", "note": "NOTE"}


def order_paper(jobs: Sequence[PlannedJob]) -> Paper:
    """Return the paper that the order is read on: letter or A4, as most of its jobs are.

    A job on other paper counts for letter where it is in inches, else for A4; of as many for
    either, it is the first job's.
    """
    wanted = [_paper_of(job) for job in jobs]
    name = max(PAPERS, key=lambda paper: (wanted.count(paper), paper == wanted[0]))
    size = SHEETS[name]
    return replace(
        jobs[0].job.paper,
        name=size.name,
        width=size.width,
        height=size.height,
        margin=TICKET_MARGIN,
        overlap=LEAST_OVERLAP,
    )


def _paper_of(job: PlannedJob) -> str:
    paper = job.job.paper
    for name in PAPERS:
        if (paper.width, paper.height) == (SHEETS[name].width, SHEETS[name].height):
            return name
    return PAPERS[0] if job.units == "in" else PAPERS[1]


def title(order: JointOrder) -> str:
    """Return what the order is called."""
    return f"Order for {which_jobs(order)}"


def order_pages(
    order: JointOrder, doubts: Sequence[Doubt], flow: Flow
) -> tuple[tuple[Mark, ...], ...]:
    """Return the order's pages: what is doubtful, what to buy, and the jobs, from an empty flow."""
    flow.line("ORDER", SMALL, role=Role.KICKER)
    flow.paragraph(title(order), LARGE, bold=True, role=Role.TITLE)
    flow.paragraph(NO_TEMPLATE, SMALL)
    for doubt in doubts:
        flow.warning(doubt.text, _BULLETS[doubt.level])
    flow.heading("To buy")
    names = job_names(order)
    for thing in to_buy(order):
        head = partial(_head, flow, thing)
        takes = partial(_takes, flow, order, names, thing)
        flow.in_parts([head, takes], lambda: None)
        _rolls(flow, thing)
    if len(order.jobs) > 1:
        flow.space(2)
        flow.paragraph(ROUNDED_ONCE, SMALL)
    flow.table("The jobs", job_rows(order), 1, SMALL)
    return flow.numbered(Details(name=title(order)), f"{KIND}, no template")


def _head(flow: Flow, thing: ToBuy) -> None:
    """What and how much, large, and why so much."""
    flow.space(2.5)
    flow.room(3 * HEADLINE * LEADING)
    words = f"{thing.amount}  {thing.part}: {thing.thing}"
    flow.paragraph(words, HEADLINE, bold=True, bullet=BOX, role=Role.HEADLINE)
    with flow.indented(INDENT):
        reasons = [thing.why] if thing.why else []
        if thing.due is not None and len(thing.takes) > 1:
            reasons.append(f"First due {thing.due.strftime('%Y-%m-%d, %A')}")
        if reasons:
            flow.paragraph(". ".join(reasons), BODY)


def _takes(flow: Flow, order: JointOrder, names: Sequence[str], thing: ToBuy) -> None:
    """Which job takes how much of it, and when that is due."""
    rows = []
    for number, words in thing.takes:
        due = order.jobs[number].due
        rows.append((f"{names[number]}{'' if due is None else f', {due.isoformat()}'}", words))
    with flow.indented(INDENT):
        flow.space(1)
        flow.pairs(rows, 1, SMALL)


def _rolls(flow: Flow, thing: ToBuy) -> None:
    """What each roll of band is cut into, where it serves several jobs."""
    if not thing.rolls or len(thing.takes) == 1:
        return
    with flow.indented(INDENT):
        flow.space(1)
        flow.paragraph(f"{ROLLS_SHARED}:", SMALL, bold=True)
        flow.pairs([(name.capitalize(), words) for name, words in thing.rolls], 1, SMALL)
        if thing.splices:
            flow.paragraph("Spliced, from roll to roll:", SMALL, bold=True)
            flow.pairs(thing.splices, 1, SMALL)
