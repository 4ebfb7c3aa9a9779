"""Kept jobs in, a list to find one in out: each job once, in the order that it is due."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Hashable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.fields import LONGEST_TEXT, read_date
from drapetemplate.job.model import Job
from drapetemplate.job.parse import tables_in
from drapetemplate.shelf.kept import Kept, Kind, PassedOver


@dataclass(frozen=True, slots=True)
class Place:
    """Where a job is kept, as what, and which bytes its job file has there, by their SHA-256."""

    path: Path
    kind: Kind
    identity: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedJob:
    """One job, wherever it is kept; None for what it doesn't say, or can't be known of it.

    `panels` are all that are made for it, `sheets` those of its strips as a PDF of it has them, or
    with `on_roll` the pages of a roll. `faults` are how many its job file has: what needs the whole
    job is then unknown.
    """

    name: str | None = None
    number: str | None = None
    client: str | None = None
    room: str | None = None
    due: date | None = None
    panels: int | None = None
    sheets: int | None = None
    on_roll: bool = False
    faults: int = 0
    places: tuple[Place, ...] = ()
    words: tuple[str, ...] = ()
    """What else it is found by: its notes, its windows' names and its cloths'."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Files that one may take for the same job, which they aren't; `code` says how they differ."""

    code: str
    paths: tuple[Path, ...]
    number: str = ""


STALE_PDF = "stale-pdf"
SAME_NUMBER = "same-number"


@dataclass(frozen=True, slots=True)
class Listing:
    """The jobs that were asked for, out of `kept` in all, and what was passed over.

    `undated` jobs have the words asked for, but no day by which to ask.
    """

    jobs: tuple[ListedJob, ...]
    kept: int
    undated: int
    doubts: tuple[Doubt, ...]
    passed_over: tuple[PassedOver, ...]


def listing(
    looked_into: Iterable[Kept | PassedOver],
    words: Sequence[str] = (),
    due_before: date | None = None,
) -> Listing:
    """Return the jobs that have all these words and are due before that day, the first due first.

    A word may stand in a job's number, name, client, room, notes, windows' and cloths' names or
    files' names, within another too; capitals and accents don't count. Jobs without a day come
    last, and aren't listed where one is asked for. Job files that say the same are one job, though
    a remark or a way of writing differs.
    """
    jobs: dict[Hashable, ListedJob] = {}
    read: dict[str, tuple[Hashable, ListedJob]] = {}
    passed_over = []
    for each in looked_into:
        if isinstance(each, PassedOver):
            passed_over.append(each)
            continue
        identity = each.identity
        if identity not in read:
            read[identity] = _read(each.job)
        says, listed = read[identity]
        job = jobs.get(says, listed)
        sheets = [pages for pages in (job.sheets, each.sheets) if pages is not None]
        places = (*job.places, Place(each.path, each.kind, identity))
        jobs[says] = replace(job, sheets=max(sheets, default=None), places=places)
    found = [job for job in jobs.values() if _has(job, words)]
    asked = [
        job for job in found if due_before is None or (job.due is not None and job.due < due_before)
    ]
    undated = sum(job.due is None for job in found) if due_before is not None else 0
    shown = {place.path for job in asked for place in job.places}
    doubts = tuple(
        doubt for doubt in _doubts(list(jobs.values())) if shown.intersection(doubt.paths)
    )
    return Listing(tuple(in_order(asked)), len(jobs), undated, doubts, tuple(passed_over))


def listed_job(data: bytes) -> ListedJob:
    """Return what a list says of the job in a job file's bytes, as far as it can be read."""
    return _read(data)[1]


def _read(data: bytes) -> tuple[Hashable, ListedJob]:
    """What tells a job from others, the job itself or faulty bytes; and what a list says of it."""
    try:
        job = read_job(data, "")
    except JobError as error:
        return data, _faulty(data, len(error.faults))
    details = job.details
    return job, ListedJob(
        name=details.name,
        number=details.number,
        client=details.client,
        room=details.room,
        due=details.due,
        panels=sum(w.quantity * (2 if w.panels == "pair" else 1) for w in job.windows),
        on_roll=job.paper.height is None,
        words=tuple(word for word in _words_of(job) if word),
    )


def found_by(job: ListedJob) -> list[str]:
    """Return the texts in which words are looked for to find a job."""
    told = (job.number, job.name, job.client, job.room, *job.words)
    names = (place.path.name for place in job.places)
    return [text for text in (*told, *names) if text]


def in_order(jobs: Iterable[ListedJob]) -> list[ListedJob]:
    """Return jobs by the day they are due, by number and name; none of these after some."""
    return sorted(jobs, key=_order)


def folded(text: str) -> str:
    """Return text as it is searched: no capitals, no accents, one space between words.

    >>> folded("Crème  Straße")
    'creme strasse'
    """
    plain = unicodedata.normalize("NFKD", text).casefold()
    bare = "".join(char for char in plain if not unicodedata.combining(char))
    return " ".join(bare.split())


def _words_of(job: Job) -> Iterable[str | None]:
    yield job.details.notes
    for window in job.windows:
        yield window.name
        for cloth in (window.fabric, window.lining):
            yield None if cloth is None else cloth.name


def _faulty(data: bytes, faults: int) -> ListedJob:
    """The same of a job file with faults: what its [job] table says, where that can be read."""
    table: object = {}
    with suppress(JobError):
        table = tables_in(data, "").get("job")
    said = table if isinstance(table, Mapping) else {}

    def text(key: str) -> str | None:
        value = said.get(key)
        return str(value)[:LONGEST_TEXT] if isinstance(value, str | int) else None

    due = None
    with suppress(ValueError):
        due = read_date(said.get("due"))
    notes = text("notes")
    return ListedJob(
        name=text("name"),
        number=text("number"),
        client=text("client"),
        room=text("room"),
        due=due,
        faults=faults,
        words=(notes,) if notes else (),
    )


def _has(job: ListedJob, words: Sequence[str]) -> bool:
    """Whether all words stand in what the job is found by, each in one of these."""
    texts = [folded(text) for text in found_by(job)]
    return all(any(folded(word) in text for text in texts) for word in words)


def _order(job: ListedJob) -> tuple[object, ...]:
    """By day, number and name; those that have none after those that have."""
    return (
        job.due is None,
        job.due or date.max,
        job.number is None,
        _counted(job.number or ""),
        folded(job.name or ""),
        str(job.places[0].path),
    )


def _counted(number: str) -> list[tuple[int, str]]:
    """A number with its parts in order, so that HP-9 comes before HP-10."""
    parts = re.findall("[0-9]{1,18}|[^0-9]+", folded(number))
    return [(int(part), "") if part[0] in "0123456789" else (0, part) for part in parts]


def _doubts(jobs: Sequence[ListedJob]) -> Iterable[Doubt]:
    """A PDF that isn't made from its job file as that is now; one number of several jobs.

    Its job file is the one of its name beside it, or else the only one of the same job wherever
    that is kept, as `order` tells versions of a job.
    """
    kept = [(place, n) for n, job in enumerate(jobs) for place in job.places]
    job_files = [(place.path, n) for place, n in kept if place.kind == "job file"]
    beside = {(path.parent, path.stem): (path, n) for path, n in job_files}
    in_job_file = {n for _, n in job_files}
    versions: dict[Hashable, dict[int, Path]] = {}
    for path, n in job_files:
        versions.setdefault(_which_job(jobs[n]), {}).setdefault(n, path)
    old = set()
    for place, n in kept:
        if place.kind != "PDF":
            continue
        path = place.path
        # On a roll the ticket is a PDF of its own, named for that.
        its_own = beside.get((path.parent, path.stem)) or beside.get(
            (path.parent, path.stem.removesuffix("-ticket"))
        )
        others = versions.get(_which_job(jobs[n]), {})
        if its_own is None and n not in in_job_file and jobs[n].name and len(others) == 1:
            its_own = next((path, other) for other, path in others.items())
        if its_own is not None and its_own[1] != n:
            old.update({n} - in_job_file)
            yield Doubt(STALE_PDF, (path, its_own[0]))
    by_number: dict[str, list[int]] = {}
    for n, job in enumerate(jobs):
        # What a stale PDF explains isn't said twice.
        if job.number and n not in old:
            by_number.setdefault(folded(job.number), []).append(n)
    for same in by_number.values():
        if len(same) > 1:
            paths = tuple(jobs[n].places[0].path for n in same)
            yield Doubt(SAME_NUMBER, paths, jobs[same[0]].number or "")


def _which_job(job: ListedJob) -> Hashable:
    """What versions of one job share: number and name, without a number name, client and room."""
    name = folded(job.name or "")
    if job.number:
        return folded(job.number), name
    return None, name, folded(job.client or ""), folded(job.room or "")
