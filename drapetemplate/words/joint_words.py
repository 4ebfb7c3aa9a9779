"""An order for many jobs in words: each thing to buy, what every job takes of it, the jobs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from drapetemplate.measures import format_length, format_order
from drapetemplate.planning.cloth import ClothOrder, EyeletOrder
from drapetemplate.planning.joint_order import BandLine, JointOrder, Line, PlannedJob, cuts
from drapetemplate.wording import Wording, counted
from drapetemplate.words.band_words import Owned, band_to_buy, rolls_cut, rolls_to_buy, splices_told
from drapetemplate.words.plan_words import (
    BAND_TO_TEST,
    PARTS,
    beside_packs,
    cloth_called,
    cloth_over,
    cloth_taken,
    eyelet_sizes,
    eyelets_to_buy,
    packs_of,
)

ROUNDED_ONCE = (
    "What each job takes is added up exactly, its allowance and spares with it, and rounded up "
    "once. Cloth is cut job by job: no drop is shared."
)
ROLLS_SHARED = "Rolls serve all jobs: cut the band by this list, not by the tickets' own"
NO_TEMPLATE = "This is a list to buy by. It is no template, and nothing is marked from it."


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBuy:
    """One thing to buy: which part of a panel it is for, what and how much, and `why` so much.

    `why` is empty where the amount says it all.
    `takes` has what each job takes of it, by its place among the jobs; `rolls` what each of a
    band's is cut into, `splices` where its panels are spliced. `due` is the first job's day.
    """

    part: str
    thing: str
    amount: str
    why: str
    takes: tuple[tuple[int, str], ...]
    due: date | None
    rolls: tuple[tuple[str, str], ...] = ()
    splices: tuple[tuple[str, str], ...] = ()


def to_buy(order: JointOrder) -> tuple[ToBuy, ...]:
    """Return every thing to buy, in the order's own order."""
    names = job_names(order)
    return (
        *(_cloth(order, line) for line in order.cloth),
        *_eyelets(order),
        *(_band(order, line, names) for line in order.bands),
    )


def job_names(order: JointOrder) -> list[str]:
    """Return what each job is called: number and name, and its file where others are called so."""
    called = [job.called for job in order.jobs]
    return [
        name if called.count(name) == 1 else f"{name} ({job.sources[0]})"
        for name, job in zip(called, order.jobs, strict=True)
    ]


def due_words(job: PlannedJob) -> str:
    """Return when a job is due; "no day" where it doesn't say."""
    return "no day" if job.due is None else job.due.isoformat()


def which_jobs(order: JointOrder) -> str:
    """Return how many jobs an order is for, and from when to when they are due."""
    days = sorted(job.due for job in order.jobs if job.due is not None)
    jobs = counted(len(order.jobs), "job")
    if not days:
        return jobs
    if days[0] == days[-1]:
        return f"{jobs}, due {days[0].isoformat()}"
    return f"{jobs}, due {days[0].isoformat()} to {days[-1].isoformat()}"


def job_rows(order: JointOrder) -> list[tuple[str, str]]:
    """Return each job, and when it is due, for whom, of which windows, and where it is kept."""
    rows = []
    for job, name in zip(order.jobs, job_names(order), strict=True):
        details = job.job.details
        words = [f"due {due_words(job)}" if job.due else "no day"]
        words += [word for word in (details.client, details.room) if word]
        if job.job.only:
            words.append(f"only {' + '.join(job.job.only)}")
        words.append(", ".join(job.sources))
        rows.append((name, " · ".join(words)))
    return rows


def _cloth(order: JointOrder, line: Line[ClothOrder]) -> ToBuy:
    cloth, say = line.order, Wording(line.units)
    width = "width not known" if cloth.width is None else f"{say(cloth.width)} wide"
    amount = "not known"
    if cloth.amount is not None:
        amount = format_order(cloth.amount, cloth.unit)
        # Of some jobs it isn't known: a buyer mustn't take this for all.
        amount = f"more than {amount}" if line.without else amount
    return ToBuy(
        part=PARTS[cloth.part],
        thing=f"{cloth_called(cloth)}, {width}",
        amount=amount,
        why=cloth_taken(cloth, say),
        takes=tuple((n, _cloth_of(order.jobs[n], own)) for n, own in line.takes),
        due=order.due(line),
    )


def _cloth_of(job: PlannedJob, own: ClothOrder) -> str:
    """What a job takes of a cloth: "8 drops of 100 in + 5 in allowance = 805 in"."""
    if own.to_buy is None:
        return "not known"
    say = Wording(job.units)
    noun = "run" if own.turned else "drop"
    lengths = cuts(job, own)
    words = " + ".join(f"{counted(n, noun)} of {say(length)}" for n, length in lengths)
    whole = f" = {say(own.to_buy)}" if lengths != ((1, own.to_buy),) else ""
    return f"{words}{cloth_over(own, say) or whole}"


def _eyelets(order: JointOrder) -> Iterator[ToBuy]:
    rings = [line.order for line in order.eyelets]
    for number, line in enumerate(order.eyelets):
        ring = line.order
        size = eyelet_sizes(rings, Wording(line.units))[number]
        testers = sum(not own.spares for _, own in line.takes)
        yield ToBuy(
            part="eyelets",
            thing=size,
            amount=(packs_of(ring) if ring.packs else str(ring.bought))
            + beside_packs(ring, testers),
            why=eyelets_to_buy(ring, testers) if ring.packs or ring.spares else "",
            takes=tuple((n, _eyelets_of(own)) for n, own in line.takes),
            due=order.due(line),
        )


def _eyelets_of(own: EyeletOrder) -> str:
    return f"{own.used} and {counted(own.spares, 'spare')}" if own.spares else str(own.used)


def _band(order: JointOrder, line: BandLine, names: list[str]) -> ToBuy:
    band, units = line.order, line.units
    owned = _owned(order, line, names)
    words = f"{band_to_buy(band, units)}, {BAND_TO_TEST}"
    return ToBuy(
        part="band",
        thing=f"{format_length(band.height, units)} high",
        amount=rolls_to_buy(band, units) or format_order(band.amount, band.unit),
        why=words,
        takes=tuple((n, format_length(own.length, order.jobs[n].units)) for n, own in line.takes),
        due=order.due(line),
        rolls=tuple((f"roll {n}", cut) for n, cut in rolls_cut(band, owned, units)),
        splices=tuple(splices_told(band, owned, units)),
    )


def _owned(order: JointOrder, line: BandLine, names: list[str]) -> Owned:
    """The windows of a band's panels, called for their jobs too where it is for several."""
    windows = [(job, order.jobs[job].plan.windows[n]) for job, n in line.owners]
    several = len(line.takes) > 1
    return [
        (f"{names[job]}, {window.name}" if several else window.name, window)
        for job, window in windows
    ]
