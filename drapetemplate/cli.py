"""The command line: parses, calls, prints. No arithmetic.

Exit 0: done. 1: the job can't be made as asked (a stop finding). 2: the command line, a job
file or a target can't be used. Errors go to standard error, one line a fault.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Annotated

import typer

from drapetemplate import __version__, files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.job import Job, read_job
from drapetemplate.jobfile import MOST_BYTES
from drapetemplate.measures import printable
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.plan import Plan, plan

app = typer.Typer(
    help="From a job file to a full-scale marking template for eyelet-topped draperies.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

STOPPED = 1
JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="A job file (TOML).")]


@app.callback(invoke_without_command=True)
def _common(
    *,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    if version:
        typer.echo(f"drapetemplate {__version__}")
        raise typer.Exit


@app.command("make")
def make_command(
    jobs: Annotated[list[Path], typer.Argument(metavar="JOB...", help="Job files (TOML).")],
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH", help="The PDF to write, or a folder for it. Default: this folder."
        ),
    ] = None,
) -> None:
    """Write the job ticket and the 1:1 template, one PDF a job.

    Example: drapetemplate make writing_room.toml --out pdfs/
    """
    worst = 0
    try:
        targets = _targets(jobs, out)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    for path, target in zip(jobs, targets, strict=True):
        try:
            worst = max(worst, _make(path, target))
        except DrapeError as error:
            worst = max(worst, _complain(error))
    raise typer.Exit(worst)


@app.command("plan")
def plan_command(
    job: JobPath,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
) -> None:
    """Print every figure and finding; writes no file.

    Example: drapetemplate plan writing_room.toml --json
    """
    from drapetemplate import report  # noqa: PLC0415  # keeps other commands' start short

    try:
        read, planned = _planned(job)
        if as_json:
            found = report.as_json(read, planned)
            typer.echo(json.dumps(found, indent=2, ensure_ascii=True, allow_nan=False))
        else:
            typer.echo(report.as_text(read, planned))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    raise typer.Exit(STOPPED if planned.stops else 0)


def _planned(path: Path) -> tuple[Job, Plan]:
    job = read_job(files.read(path, MOST_BYTES), str(path))
    return job, plan(job)


def _targets(jobs: list[Path], out: Path | None) -> list[Path]:
    """Where each job's PDF goes; FileError where two would go to the same place."""
    if out is None or out.is_dir():
        targets = [(out or Path()) / f"{job.stem}.pdf" for job in jobs]
    elif len(jobs) == 1:
        targets = [out]
    else:
        raise FileError([Fault(str(out), "for several jobs, name a folder that is there")])
    faults = [
        Fault(str(job), f"would be written to {target}, like a job before it: make it apart")
        for i, (job, target) in enumerate(zip(jobs, targets, strict=True))
        if target in targets[:i]
    ]
    faults += [
        Fault(str(job), "the PDF would replace the job file itself: name another with --out")
        for job, target in zip(jobs, targets, strict=True)
        if target.resolve() == job.resolve()
    ]
    if faults:
        raise FileError(faults)
    return targets


def _make(path: Path, target: Path) -> int:
    """One job made; the exit code it asks for."""
    from drapetemplate.document import document  # noqa: PLC0415  # reportlab is slow to load
    from drapetemplate.render import render  # noqa: PLC0415
    from drapetemplate.render.pdf import PdfBackend  # noqa: PLC0415
    from drapetemplate.render.typeface import typeface  # noqa: PLC0415

    job, planned = _planned(path)
    found = [f for w in planned.windows for f in w.findings]
    if planned.stops:
        _say(path, found)
        return STOPPED
    made = document(job, planned, typeface())
    files.write(target, render(made, PdfBackend(made.title)))
    _say(path, [*found, *made.findings])
    typer.echo(f"{printable(str(target))}: {len(made.pages)} pages")
    return 0


def _say(path: Path, findings: list[Finding]) -> None:
    """Findings to standard error, the stops first."""
    for finding in sorted(findings, key=lambda f: ("stop", "warn", "note").index(f.level)):
        typer.echo(printable(f"{path}: {finding.level}: {finding.code}: {finding.text}"), err=True)


def _complain(error: DrapeError) -> int:
    """Every fault on a line of its own to standard error; the exit code."""
    for fault in error.faults:
        typer.echo(printable(str(fault)), err=True)
    return error.exit_code


def main() -> None:
    """Run the command line; characters a terminal can't show are escaped, never an error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    app(prog_name="drapetemplate")
