"""What `cutfile` does: a job file in, its strips' files written, each told in a line."""

from __future__ import annotations

from pathlib import Path

import typer

from drapetemplate.cli import option_values, output
from drapetemplate.cli.cutfile import cutfile as write_cutfiles
from drapetemplate.cli.cutfile import refuse_printer
from drapetemplate.cli.make import how_to_accept


def cutfile(
    job_file: Path,
    *,
    out: Path,
    accept: list[str],
    windows: list[str],
    uncorrected: bool,
    printer: str | None,
) -> None:
    """Write a job's strips for a cutting machine; exit as its outcome asks for."""
    accepted = option_values.read_codes(accept)
    if printer is not None:
        refuse_printer(printer)
    lines, outcome = write_cutfiles(
        job_file, out, accepted, tuple(windows), uncorrected=uncorrected
    )
    output.print_lines(lines)
    output.print_lines(outcome.problem_lines(), errors=True)
    given = {"--out": out, "--window": windows, "--uncorrected": uncorrected, "--accept": accept}
    hint = how_to_accept([outcome], given, "cutfile")
    if hint is not None:
        output.print_lines([hint], errors=True)
    raise typer.Exit(outcome.exit_code)
