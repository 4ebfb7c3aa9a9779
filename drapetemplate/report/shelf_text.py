"""A list of kept jobs in, text for a terminal out: a table where it fits, else lines a job."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from drapetemplate.record.quick_read import NO_JOB
from drapetemplate.report.screen import USUAL_COLUMNS, Screen, aloud, padded
from drapetemplate.shelf.kept import NO_JOB_FILE, PassedOver
from drapetemplate.shelf.listing import STALE_PDF, Doubt, ListedJob, Listing
from drapetemplate.wording import all_of, counted

UNKNOWN = "-"
NO_DAY = "no date"
NAMELESS = "no name"
MOST_TOLD = 10
"""How many files that couldn't be read are named; the rest are counted."""
LONGEST_CELL = 60
"""Letters of a job's own words that stand in a list: a job file may have 20,000."""
_NUMBERS = ("panels", "sheets")


def shelf_text(
    listing: Listing,
    where: str,
    *,
    columns: int | None = USUAL_COLUMNS,
    plain: bool = False,
    ascii_only: bool = False,
) -> str:
    """Return the jobs that were asked for under a folder, which is called `where`, and a summary.

    `columns` None, for pipes: a line a job. `plain`, for screen readers: a fact a line.
    """
    screen = Screen(None if plain else columns, ascii_only)
    lines: list[str] = []
    if plain:
        lines += [screen.shown(aloud(line)) for line in _plain(listing.jobs)]
    elif listing.jobs:
        table = _table(listing.jobs, screen)
        wide = any(cell_len(line) > screen.width for line in table)
        whole = screen.columns is None or not wide
        lines += table if whole else list(_records(listing.jobs, screen))
    for text in notes(listing):
        lines += screen.wrapped(text, "  " if not plain else "", "    " if not plain else "")
    for text in summary(listing, where):
        lines += screen.wrapped(text, rest="  ")
    return "\n".join(lines)


def notes(listing: Listing) -> Iterator[str]:
    """What to look at before one of the jobs is used."""
    for job in listing.jobs:
        if job.faults:
            where = job.places[0].path
            told = counted(job.faults, "fault")
            yield f"{where}: {told} in the job file, so that its panels aren't counted"
    for doubt in listing.doubts:
        yield doubt_told(doubt)


def doubt_told(doubt: Doubt) -> str:
    """Return what is doubtful, and what to do about it."""
    if doubt.code == STALE_PDF:
        pdf, job_file = doubt.paths
        source = job_file.name if job_file.parent == pdf.parent else job_file
        return f"{pdf}: not made from {source} as that is now; make it again before it is used"
    paths = all_of(str(path) for path in doubt.paths)
    return f"number {cut(doubt.number)}: {len(doubt.paths)} jobs have it and differ: {paths}"


def unreadable(listing: Listing) -> list[str]:
    """Return a line for each file that may have held a job but couldn't be read; few of many."""
    lost = [each for each in listing.passed_over if not _foreign(each)]
    lines = [f"{each.path}: {each.why}" for each in lost[:MOST_TOLD]]
    if len(lost) > MOST_TOLD:
        lines.append(f"and {len(lost) - MOST_TOLD} more that can't be read")
    return lines


def summary(listing: Listing, where: str) -> Iterator[str]:
    """How many jobs there are, how many of them are listed, and how many files were passed over."""
    if not listing.kept:
        yield f"no jobs are kept in {where}"
    elif len(listing.jobs) == listing.kept:
        yield f"{counted(listing.kept, 'job')} in {where}"
    elif listing.jobs:
        yield f"{len(listing.jobs)} of {counted(listing.kept, 'job')} in {where}"
    else:
        yield f"none of {counted(listing.kept, 'job')} in {where} is as asked for"
    if listing.undated:
        verb = "has" if listing.undated == 1 else "have"
        yield f"{counted(listing.undated, 'job')} not listed {verb} no due date"
    if listing.passed_over:
        foreign = sum(map(_foreign, listing.passed_over))
        lost = len(listing.passed_over) - foreign
        parts = [f"{counted(foreign, 'file')} without a job"] if foreign else []
        parts += [f"{counted(lost, 'file')} that can't be read"] if lost else []
        yield f"passed over: {', '.join(parts)}"


def _foreign(each: PassedOver) -> bool:
    """Whether a file was read, and is simply none of this tool's."""
    return each.why in {NO_JOB, NO_JOB_FILE}


def cut(text: str | None) -> str:
    """Return a job's own words on one line, with a sign where many are cut off; "" for none."""
    line = " ".join((text or "")[: 10 * LONGEST_CELL].split())
    return line if len(line) <= LONGEST_CELL else f"{line[: LONGEST_CELL - 1].rstrip()}…"


def _name(job: ListedJob) -> str:
    return cut(job.name) or NAMELESS


def _due(job: ListedJob) -> str:
    return job.due.isoformat() if job.due else NO_DAY


def _sheets(job: ListedJob) -> str:
    """How much paper a job's strips take, with its noun: empty where no PDF says."""
    if job.sheets is None:
        return ""
    return counted(job.sheets, "roll page" if job.on_roll else "sheet")


def _files(job: ListedJob) -> str:
    return ", ".join(str(place.path) for place in job.places)


def _row(job: ListedJob) -> dict[str, str]:
    """A job's cells by their columns; empty for what isn't known."""
    return {
        "due": _due(job),
        "number": cut(job.number),
        "name": _name(job),
        "client": cut(job.client),
        "room": cut(job.room),
        "panels": "" if job.panels is None else f"{job.panels}",
        "sheets": "" if job.sheets is None else f"{job.sheets}{' of roll' * job.on_roll}",
        "kept in": _files(job),
    }


def _table(jobs: Sequence[ListedJob], screen: Screen) -> list[str]:
    """A row a job, under the names of those columns that any of them has."""
    rows = [_row(job) for job in jobs]
    names = [name for name in rows[0] if any(row[name] for row in rows)]
    cells = [names, *([screen.shown(row[name]) or UNKNOWN for name in names] for row in rows)]
    widths = [max(map(cell_len, column)) for column in zip(*cells, strict=True)]
    return [
        "  ".join(
            " " * (width - cell_len(cell)) + cell if name in _NUMBERS else padded(cell, width)
            for name, cell, width in zip(names, row, widths, strict=True)
        ).rstrip()
        for row in cells
    ]


def _records(jobs: Sequence[ListedJob], screen: Screen) -> Iterator[str]:
    """A few lines a job: its day, number and name, and under the name all else."""
    days = max(cell_len(_due(job)) for job in jobs)
    for job in jobs:
        head = f"{_due(job):{days}}  "
        rest = " " * cell_len(head)
        name = " · ".join(text for text in (cut(job.number), _name(job)) if text)
        yield from screen.wrapped(name, head, rest + "  ")
        panels = "" if job.panels is None else counted(job.panels, "panel")
        facts = [text for text in (cut(job.client), cut(job.room), panels, _sheets(job)) if text]
        if facts:
            yield from screen.wrapped(" · ".join(facts), rest)
        for place in job.places:
            yield from screen.wrapped(str(place.path), rest)


def _plain(jobs: Sequence[ListedJob]) -> Iterator[str]:
    """A fact a line."""
    for n, job in enumerate(jobs, 1):
        yield f"job {n} of {len(jobs)}: {_name(job)}"
        facts = {
            "number": cut(job.number),
            "client": cut(job.client),
            "room": cut(job.room),
            "due": _due(job),
            "panels": "" if job.panels is None else f"{job.panels}",
            "paper": _sheets(job),
        }
        for name, value in facts.items():
            if value:
                yield f"{name}: {value}"
        for place in job.places:
            yield f"{place.kind}: {place.path}"
