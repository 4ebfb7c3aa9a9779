"""What `make` does: job files in, their PDFs on disk out, one or a thousand over processes.

Nothing here prints: what there is to say of a job comes back with it, in the order asked for.
"""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import job_files
from drapetemplate.cli.job_printer import factors_for
from drapetemplate.cli.processes import over_processes
from drapetemplate.errors import DrapeError, Fault, FileError, StopError
from drapetemplate.job.factors import Factors
from drapetemplate.planning.codes import LEVELS
from drapetemplate.planning.model import Finding
from drapetemplate.wording import counted
from drapetemplate.words.plan_words import findings_told


@dataclass(frozen=True, slots=True)
class Request:
    """One PDF to make: of a job file, at `target`, with these stops accepted, for this printer.

    Only of `windows` where there are any. `ticket_taken`: another file of the same call stands
    where a roll's ticket would go.
    """

    job_file: Path
    target: Path
    accepted: frozenset[str] = frozenset()
    printer: Factors | None = None
    ticket_taken: bool = False
    windows: tuple[str, ...] = ()

    @property
    def ticket_target(self) -> Path:
        """Where a roll's ticket goes, which is a PDF of its own."""
        return self.target.with_name(f"{self.target.stem}-ticket{self.target.suffix}")


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a request: the exit code it asks for, and PDFs written, each with its pages.

    `findings` are those of the job, each with its words, its windows named where there are several;
    `faults` what kept it from being made.
    """

    job_file: Path
    exit_code: int
    pdfs: tuple[tuple[Path, int], ...] = ()
    findings: tuple[tuple[Finding, str], ...] = ()
    faults: tuple[Fault, ...] = ()

    @property
    def pdf_lines(self) -> list[str]:
        """A line for each PDF written."""
        return [f"{path}: {counted(pages, 'page')}" for path, pages in self.pdfs]

    def problem_lines(self, levels: Sequence[str] = LEVELS, *, named: bool = False) -> list[str]:
        """Return faults, then findings of these levels, the worst first.

        `named`: every line begins with the job file, not those of findings alone.
        """
        where = str(self.job_file)
        lines = [
            str(fault) if str(fault).startswith(where) or not named else f"{where}: {fault}"
            for fault in self.faults
        ]
        lines += [
            f"{where}: {finding.level}: {finding.code}: {text}"
            for finding, text in sorted(self.findings, key=lambda told: LEVELS.index(told[0].level))
            if finding.level in levels
        ]
        return lines


def requests_for(
    job_files: Sequence[Path],
    targets: Sequence[Path],
    accepted: frozenset[str],
    printer: Factors | None,
    windows: tuple[str, ...] = (),
) -> list[Request]:
    """Return what to make, job by job."""
    taken = {os.path.realpath(path) for path in (*job_files, *targets)}
    requests = []
    for job_file, target in zip(job_files, targets, strict=True):
        request = Request(job_file, target, accepted, printer, windows=windows)
        ticket_taken = os.path.realpath(request.ticket_target) in taken
        requests.append(replace(request, ticket_taken=ticket_taken))
    return requests


def make(request: Request) -> Outcome:
    """Make one job's PDF, or two on a roll; every fault comes back in the outcome."""
    findings: tuple[tuple[Finding, str], ...] = ()
    try:
        with job_files.opened(request.job_file) as data:
            job = job_files.read(data, request.job_file, request.windows)
            plan = drapetemplate.plan_job(job)
            findings = tuple(findings_told(plan))
            factors = factors_for(job, request.printer)
            documents = drapetemplate.lay_out(job, plan, accepted=request.accepted, printer=factors)
            if len(documents) > 1 and request.ticket_taken:
                text = (
                    "this roll's ticket would replace another file of this call: name another --out"
                )
                raise FileError([Fault(str(request.ticket_target), text)])
            targets = (request.target, request.ticket_target)
            made = [
                (target, drapetemplate.to_pdf(document, data), len(document.pages))
                for document, target in zip(documents, targets, strict=False)
            ]
            # A roll's ticket goes first, so that no template is without one.
            for target, pdf, _ in reversed(made):
                files.write(target, pdf)
    except StopError as stopped:
        return Outcome(request.job_file, stopped.exit_code, findings=findings)
    except DrapeError as error:
        return Outcome(request.job_file, error.exit_code, faults=error.faults)
    more = tuple((finding, finding.text) for finding in documents[0].findings)
    pdfs = tuple((target, pages) for target, _, pages in reversed(made))
    return Outcome(request.job_file, 0, pdfs, (*findings, *more))


def make_all(requests: Sequence[Request], workers: int | None = None) -> Iterator[Outcome]:
    """Yield every request's outcome, in their order, each once it and those before are done.

    Over `workers` processes; None: one a processor, where there are enough jobs to pay for them.
    """
    return over_processes(make, requests, workers)


def summary(outcomes: Sequence[Outcome]) -> str:
    """Return how a call for several jobs went, in one line."""
    codes = [outcome.exit_code for outcome in outcomes]
    parts = [f"{counted(len(codes), 'job')}: {codes.count(0)} made"]
    if stopped := codes.count(StopError.exit_code):
        parts.append(f"{stopped} stopped by a finding")
    if failed := codes.count(FileError.exit_code):
        parts.append(f"{failed} not made for faults")
    levels = [finding.level for outcome in outcomes for finding, _ in outcome.findings]
    if warned := levels.count("warn"):
        parts.append(counted(warned, "warning"))
    return ", ".join(parts)


def how_to_accept(
    outcomes: Sequence[Outcome], given: Mapping[str, object], command: str = "make"
) -> str | None:
    """Return what to type so that what stops kept from being made is made; None where none did.

    `command` is that of this call, and `given` are its options, each with its value, a list of
    them, or None; a flag's is whether it was given. The line has them too. It is quoted for a
    shell; where signs in it don't print it is the codes alone.
    """
    stopped = [outcome for outcome in outcomes if outcome.exit_code == StopError.exit_code]
    if not stopped:
        return None
    found = [finding for outcome in stopped for finding, _ in outcome.findings]
    codes = dict.fromkeys(finding.code for finding in found if finding.level == "stop")
    options: list[tuple[str, ...]] = []
    for option, value in given.items():
        if isinstance(value, bool):
            options += [(option,)] * value
            continue
        values = value if isinstance(value, list) else [] if value is None else [value]
        options += [(option, str(word)) for word in values]
    options += [("--accept", code) for code in codes]
    listed = [word for each in dict.fromkeys(options) for word in each]
    job_files = [str(outcome.job_file) for outcome in stopped]
    words = ["drapetemplate", command, *job_files, *listed]
    if any(path.startswith("-") for path in job_files):
        words = ["drapetemplate", command, *listed, "--", *job_files]
    if not all(word.isprintable() for word in words):
        return f"to make it all the same, add: {' '.join(f'--accept {code}' for code in codes)}"
    quoted = subprocess.list2cmdline(words) if sys.platform == "win32" else shlex.join(words)
    return f"to make it all the same: {quoted}"
