"""What `make` does: job files and folders of them in, their PDFs written, each told in a line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import typer

from drapetemplate.cli import job_files, option_values, output
from drapetemplate.cli.job_printer import find_printer
from drapetemplate.cli.make import (
    Outcome,
    Request,
    how_to_accept,
    make_all,
    requests_for,
    summary,
)
from drapetemplate.cli.targets import choose_targets, make_folders
from drapetemplate.errors import Fault, FileError
from drapetemplate.planning.codes import LEVELS


def make(
    jobs: Sequence[Path],
    *,
    out: Path | None,
    accept: list[str],
    printer: str | None,
    windows: list[str],
    workers: int | None,
    open_it: bool,
) -> None:
    """Make every job's PDF; exit as the worst of them asks for."""
    accepted = option_values.read_codes(accept)
    paths = job_files.find_job_files(jobs)
    if open_it and len(paths) > 1:
        raise FileError([Fault("--open", "opens one job's PDF: name one job")])
    targets = choose_targets(paths, out)
    factors = None if printer is None else find_printer(printer, "--printer")
    requests = requests_for(paths, targets, accepted, factors, tuple(windows))
    make_folders(targets, out)
    given = {"--out": out, "--printer": printer, "--window": windows, "--accept": accept}
    outcomes = _make_and_print(requests, workers, given)
    if open_it:
        for path, _ in outcomes[0].pdfs:
            if typer.launch(str(path)):
                output.print_lines([f"{path}: no program here to open it with"], errors=True)
    raise typer.Exit(max(outcome.exit_code for outcome in outcomes))


def _make_and_print(
    requests: Sequence[Request], workers: int | None, given: Mapping[str, object]
) -> list[Outcome]:
    """Make all, saying so; what went wrong is said at the end, where it is seen.

    `given` are the options that a command to make them all the same repeats.
    """
    outcomes = []
    several = len(requests) > 1
    broken_off: FileError | None = None
    try:
        for outcome in output.with_progress(make_all(requests, workers), len(requests)):
            outcomes.append(outcome)
            output.print_lines(outcome.pdf_lines or [f"{outcome.job_file}: not made"] * several)
    except FileError as error:
        broken_off = error
    for outcome in outcomes:
        # Of many jobs, notes stand on the tickets alone: what matters would be lost in them.
        levels = LEVELS[:2] if several else LEVELS
        output.print_lines(outcome.problem_lines(levels, named=several), errors=True)
    if broken_off is not None:
        raise broken_off
    hint = how_to_accept(outcomes, given)
    if hint is not None:
        output.print_lines([hint], errors=True)
    if several:
        output.print_lines([summary(outcomes)])
    return outcomes
