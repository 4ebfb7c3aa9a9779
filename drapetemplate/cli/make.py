"""Job files in, their PDFs on disk out: one job, or a thousand over several processes.

Nothing here prints: what there is to say of a job comes back with it, in the order asked for.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from multiprocessing import get_context
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError, StopError
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job, narrowed
from drapetemplate.job.parse import MOST_BYTES, located
from drapetemplate.measures import printable
from drapetemplate.planning.model import LEVELS, Finding, worst_first
from drapetemplate.printers import store
from drapetemplate.wording import counted

FEW = 8
"""Up to this many jobs are made in one process, which is sooner done than others are started."""


@dataclass(frozen=True, slots=True)
class Request:
    """One PDF to make: of `job`, at `target`, with these stops accepted, for this printer.

    Only of `windows` where there are any. `beside_taken`: another file of the same call stands
    where a roll's ticket would go.
    """

    job: Path
    target: Path
    accepted: frozenset[str] = frozenset()
    printer: Factors | None = None
    beside_taken: bool = False
    windows: tuple[str, ...] = ()

    @property
    def beside(self) -> Path:
        """Where a roll's ticket goes."""
        return self.target.with_name(f"{self.target.stem}-ticket{self.target.suffix}")


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a request: the exit code it asks for, files made with pages, things to say.

    `findings` are those of the job; `faults` what kept it from being made.
    """

    job: Path
    code: int
    made: tuple[tuple[Path, int], ...] = ()
    findings: tuple[Finding, ...] = ()
    faults: tuple[Fault, ...] = ()

    @property
    def lines(self) -> list[str]:
        """A line for each file made."""
        return [printable(f"{path}: {counted(pages, 'page')}") for path, pages in self.made]

    def said(self, levels: Sequence[str] = LEVELS, *, named: bool = False) -> list[str]:
        """Faults, then findings of these levels, the worst first; `named`: each by its job file."""
        where = str(self.job)
        lines = [
            str(fault) if str(fault).startswith(where) or not named else f"{where}: {fault}"
            for fault in self.faults
        ]
        lines += [
            f"{where}: {finding.level}: {finding.code}: {finding.text}"
            for finding in worst_first(self.findings)
            if finding.level in levels
        ]
        return [printable(line) for line in lines]


def requests(
    jobs: Sequence[Path],
    targets: Sequence[Path],
    accepted: frozenset[str],
    printer: Factors | None,
    windows: tuple[str, ...] = (),
) -> list[Request]:
    """What to make, job by job."""
    claimed = {os.path.realpath(path) for path in (*jobs, *targets)}
    found = []
    for job, target in zip(jobs, targets, strict=True):
        one = Request(job, target, accepted, printer, windows=windows)
        found.append(replace(one, beside_taken=os.path.realpath(one.beside) in claimed))
    return found


def for_printer(job: Job, factors: Factors | None) -> Factors | None:
    """The printer asked for, else the one the job names itself; FileError for one not kept."""
    if factors is None and job.paper.printer is not None:
        return store.find(job.paper.printer, "paper.printer")
    return factors


def make(request: Request) -> Outcome:
    """One job made; every fault comes back as words."""
    findings: tuple[Finding, ...] = ()
    data = b""
    try:
        data = files.read(request.job, MOST_BYTES)
        job = drapetemplate.read_job(data, str(request.job))
        if request.windows:
            job = narrowed(job, request.windows, "--window")
        planned = drapetemplate.plan_job(job)
        findings = tuple(f for window in planned.windows for f in window.findings)
        factors = for_printer(job, request.printer)
        laid = drapetemplate.lay_out(job, planned, accepted=request.accepted, printer=factors)
        if len(laid) > 1 and request.beside_taken:
            text = "this roll's ticket would replace another file of this call: name another --out"
            raise FileError([Fault(str(request.beside), text)])
        made = []
        # A roll's ticket is a PDF of its own; it goes first, so that no template is without one.
        for document, to in reversed(
            list(zip(laid, (request.target, request.beside), strict=False))
        ):
            files.write(to, drapetemplate.to_pdf(document, data))
            made.append((to, len(document.pages)))
    except StopError as stopped:
        return Outcome(request.job, stopped.exit_code, findings=findings)
    except DrapeError as error:
        faults = located(error, data, str(request.job))
        return Outcome(request.job, error.exit_code, faults=faults)
    return Outcome(request.job, 0, tuple(made), (*findings, *laid[0].findings))


def make_all(requests: Sequence[Request], workers: int | None = None) -> Iterator[Outcome]:
    """Every order's outcome, in the order asked for, each as soon as it and those before are done.

    Over `workers` processes; None: one a processor, where there are enough jobs to pay for them.
    """
    if workers is None:
        workers = 1 if len(requests) <= FEW else min(os.cpu_count() or 1, len(requests) // FEW + 1)
    if workers == 1 or len(requests) == 1:
        yield from map(make, requests)
        return
    # Spawned: a forked process would share whatever threads and locks this one has.
    pool = ProcessPoolExecutor(min(workers, len(requests)), get_context("spawn"))
    try:
        with _deaf_to_interrupts():
            outcomes = pool.map(make, requests)
        yield from outcomes
    finally:
        pool.shutdown(cancel_futures=True)


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """Processes started within don't hear Ctrl-C, which a terminal sends to all: this one does.

    Each then ends the job it is at; those not begun are dropped.
    """
    try:
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    except ValueError:  # only a main thread may say what a signal does
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def summary(outcomes: Sequence[Outcome]) -> str:
    """How a call for several jobs went, in one line."""
    codes = [outcome.code for outcome in outcomes]
    parts = [f"{counted(len(codes), 'job')}: {codes.count(0)} made"]
    if stopped := codes.count(StopError.exit_code):
        parts.append(f"{stopped} stopped by a finding")
    if failed := codes.count(FileError.exit_code):
        parts.append(f"{failed} not made for faults")
    levels = [finding.level for outcome in outcomes for finding in outcome.findings]
    if warned := levels.count("warn"):
        parts.append(counted(warned, "warning"))
    return ", ".join(parts)
