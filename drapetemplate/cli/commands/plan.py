"""What `plan` does: a job file in, every figure and finding of it printed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import typer

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import job_files, output
from drapetemplate.cli.job_printer import factors_for, find_printer
from drapetemplate.cli.targets import check_not_job_file
from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.planning.model import Plan


def plan(
    job_file: Path,
    *,
    as_json: bool,
    table: Path | None,
    plain: bool,
    printer: str | None,
    windows: Sequence[str],
) -> None:
    """Print a job's plan, and write it as CSV to `table`; exit 1 where a stop is in it."""
    with job_files.opened(job_file) as data:
        job = job_files.read(data, job_file, windows)
        planned = drapetemplate.plan_job(job)
        factors = None if printer is None else find_printer(printer, "--printer")
        factors = factors_for(job, factors)
        # All that can be refused is, before anything is written or printed.
        told = (
            _json(job, planned, factors) if as_json else _text(job, planned, factors, plain=plain)
        )
        if table is not None:
            from drapetemplate.report.plan_csv import as_csv

            check_not_job_file(table, job_file, "--csv")
            files.write(table, as_csv(job, planned))
        typer.echo(told)
    raise typer.Exit(output.STOPPED if planned.stops else 0)


def _json(job: Job, planned: Plan, factors: Factors | None) -> str:
    from drapetemplate.report.plan_json import as_json

    return output.json_text(as_json(job, planned, factors))


def _text(job: Job, planned: Plan, factors: Factors | None, *, plain: bool) -> str:
    from drapetemplate.report.plan_text import as_text

    return as_text(
        job,
        planned,
        factors=factors,
        columns=output.columns(),
        plain=plain,
        ascii_only=output.ascii_only(),
    )
