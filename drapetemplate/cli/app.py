"""The command line: parses, calls, prints. No arithmetic.

Exit 0: done. 1: the job can't be made as asked (a stop finding). 2: the command line, a job
file or a target can't be used. Errors go to standard error, one line a fault.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any

import typer

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import arguments, help_pages
from drapetemplate.cli import calibrate as calibrating
from drapetemplate.cli import make as making
from drapetemplate.cli.targets import check_codes, check_other, counts_of, jobs_of, targets_of
from drapetemplate.document.model import Document
from drapetemplate.document.picture_document import comparison_sheets, page_picture, panel_picture
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.job.model import Job, narrowed
from drapetemplate.job.parse import MOST_BYTES, located
from drapetemplate.job.schema import SCHEMA_NAME, schema_text
from drapetemplate.measures import printable
from drapetemplate.planning.compare import compare
from drapetemplate.planning.model import LEVELS, Plan
from drapetemplate.printers import store
from drapetemplate.report import plan_json, plan_text
from drapetemplate.report.compare_text import compare_text
from drapetemplate.report.plan_csv import as_csv
from drapetemplate.report.screen import needs_ascii
from drapetemplate.sheets.laid_paper import laid_paper

app = typer.Typer(
    help=help_pages.APP,
    epilog=help_pages.APP_EPILOG,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

USAGE_ERROR: Any = typer.BadParameter.__mro__[1]  # its base, which typer gives no name
STOPPED = 1
MOST_PDF = 500_000_000


@app.callback(invoke_without_command=True)
def _common(
    *,
    version: arguments.Version = False,
) -> None:
    if version:
        typer.echo(f"drapetemplate {drapetemplate.__version__}")
        raise typer.Exit


@app.command("new", **help_pages.NEW)
def new_command(
    path: arguments.NewPath = None,
) -> None:
    """Ask for the measures, one at a time, and write a commented job file."""
    from drapetemplate.interview.terminal import interview  # noqa: PLC0415  # other commands never ask

    try:
        code = interview(path, sys.stdin, sys.stdout)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    raise typer.Exit(code)


@app.command("make", **help_pages.MAKE)
def make_command(
    jobs: arguments.Jobs,
    *,
    out: arguments.MakeOut = None,
    accept: arguments.Accept = None,
    printer: arguments.Printer = None,
    window: arguments.Windows = None,
    workers: arguments.Workers = None,
    open_it: arguments.OpenIt = False,
) -> None:
    """Write the job ticket and the 1:1 template, one PDF a job."""
    try:
        accepted = frozenset(accept or ())
        check_codes(accepted)
        found = jobs_of(jobs)
        if open_it and len(found) > 1:
            raise FileError([Fault("--open", "opens one job's PDF: name one job")])
        targets = targets_of(found, out)
        factors = None if printer is None else store.find(printer, "--printer")
        requests = making.requests(found, targets, accepted, factors, tuple(window or ()))
        if out is not None and "{" in str(out):
            for folder in {target.parent for target in targets}:
                files.make_folder(folder)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    outcomes = _make_each(requests, workers)
    if open_it:
        for path, _ in outcomes[0].made:
            if typer.launch(str(path)):
                typer.echo(f"{printable(str(path))}: no program here to open it with", err=True)
    raise typer.Exit(max(outcome.code for outcome in outcomes))


def _make_each(requests: Sequence[making.Request], workers: int | None) -> list[making.Outcome]:
    """Make all, saying so; what went wrong is said at the end, where it is seen."""
    outcomes = []
    several = len(requests) > 1
    for outcome in _watched(making.make_all(requests, workers), len(requests)):
        outcomes.append(outcome)
        for line in outcome.lines or [printable(f"{outcome.job}: not made")] * several:
            typer.echo(line)
    for outcome in outcomes:
        # Of many jobs, notes stand on the tickets alone: what matters would be lost in them.
        levels = LEVELS[:2] if several else LEVELS
        for line in outcome.said(levels, named=several):
            typer.echo(line, err=True)
    if several:
        typer.echo(making.summary(outcomes))
    return outcomes


def _watched(outcomes: Iterable[making.Outcome], count: int) -> Iterable[making.Outcome]:
    """The same, with a progress bar where someone watches: never between a line's characters."""
    if count == 1 or not (_seen(sys.stdout) and _seen(sys.stderr)):
        return outcomes
    from rich.console import Console  # noqa: PLC0415  # slow to load, and seldom needed
    from rich.progress import track  # noqa: PLC0415  # likewise

    bar = Console(stderr=True)
    return track(outcomes, "Making", total=count, console=bar, transient=True)


def _seen(stream: IO[str] | None) -> bool:
    """Whether someone watches a stream: it may be a file, or closed altogether."""
    return stream is not None and stream.isatty()


@app.command("plan", **help_pages.PLAN)
def plan_command(
    job: arguments.JobPath,
    *,
    as_json: arguments.AsJson = False,
    table: arguments.Csv = None,
    plain: arguments.Plain = False,
    printer: arguments.Printer = None,
    window: arguments.Windows = None,
) -> None:
    """Print every figure and finding: eyelets, folds, seams, drops and what to order."""
    with _told(job) as data:
        read, planned = _planned(data, job, window or ())
        factors = None if printer is None else store.find(printer, "--printer")
        factors = making.for_printer(read, factors)
        if factors is not None:
            laid_paper(read.paper, factors, read.units)  # no CSV where sheets have no room
        if table is not None:
            check_other(job, table, "--csv")
            files.write(table, as_csv(read, planned))
        if as_json:
            found = plan_json.as_json(read, planned, factors)
            typer.echo(json.dumps(found, indent=2, ensure_ascii=True, allow_nan=False))
        else:
            text = plan_text.as_text(
                read,
                planned,
                factors=factors,
                columns=_columns(),
                plain=plain,
                ascii_only=_ascii_only(),
            )
            typer.echo(text)
    raise typer.Exit(STOPPED if planned.stops else 0)


@app.command("compare", **help_pages.COMPARE)
def compare_command(
    job: arguments.JobPath,
    *,
    counts: arguments.Counts = "",
    as_json: arguments.AsJson = False,
    plain: arguments.Plain = False,
    pdf: arguments.ComparePdf = None,
) -> None:
    """Lay the even counts side by side: gaps, folds, wall, rings, and what is wrong with each."""
    with _told(job) as data:
        asked = counts_of(counts)
        read = drapetemplate.read_job(data, str(job))
        comparisons = compare(read, asked)
        if pdf is not None:
            check_other(job, pdf, "--pdf")
            files.write(pdf, _pdf(comparison_sheets(read, comparisons, _typeface())))
        if as_json:
            found = plan_json.compare_json(read, comparisons)
            typer.echo(json.dumps(found, indent=2, allow_nan=False))
        else:
            text = compare_text(
                read, comparisons, columns=_columns(), plain=plain, ascii_only=_ascii_only()
            )
            typer.echo(text)


@app.command("picture", **help_pages.PICTURE)
def picture_command(
    job: arguments.JobPath,
    *,
    out: arguments.PictureOut,
    page: arguments.PageName = None,
) -> None:
    """Draw each window's panel: from above on its pole, from the front, and its strip."""
    from drapetemplate.render.backend import render  # noqa: PLC0415
    from drapetemplate.render.png import png  # noqa: PLC0415
    from drapetemplate.render.svg import SvgBackend  # noqa: PLC0415

    with _told(job) as data:
        kind = out.suffix.lower()
        if kind not in {".png", ".svg"}:
            raise FileError([Fault(str(out), "name a file that ends in .png or .svg")])
        check_other(job, out, "--out")
        read, planned = _planned(data, job)
        if page is None:
            drawn = panel_picture(read, planned, _typeface())
        else:
            drawn = page_picture(read, planned, page, _typeface())
        image = png(_pdf(drawn)) if kind == ".png" else render(drawn, SvgBackend(drawn.title))
        files.write(out, image)
    typer.echo(printable(str(out)))


@app.command("recall", **help_pages.RECALL)
def recall_command(
    pdf: arguments.PdfPath,
    out: arguments.RecallOut = None,
) -> None:
    """Take the job file back out of a PDF made from it, byte for byte."""
    target = out or Path(f"{pdf.stem}.toml")
    if out is not None and os.path.isdir(out):  # noqa: PTH112  # Path's own may raise
        target = out / f"{pdf.stem}.toml"
    try:
        held = files.read(pdf, MOST_PDF, "PDF")
        files.write_new(target, drapetemplate.recall_job(held, str(pdf)))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    typer.echo(printable(str(target)))


@app.command("measure", **help_pages.MEASURE)
def measure_command(
    pdf: arguments.PdfPath,
    *,
    as_json: arguments.AsJson = False,
) -> None:
    """Measure a PDF's own marks against the job inside it: to 0.01 mm, page by page."""
    try:
        found = drapetemplate.measure_pdf(files.read(pdf, MOST_PDF, "PDF"), str(pdf))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    if as_json:
        typer.echo(json.dumps(found.as_json(), indent=2, allow_nan=False))
    else:
        for line in found.lines(str(pdf)):
            typer.echo(printable(line))
    raise typer.Exit(0 if found.true else STOPPED)


@app.command("calibrate", **help_pages.CALIBRATE)
def calibrate_command(
    *,
    paper: arguments.CheckPaper = None,
    out: arguments.CheckOut = None,
    across: arguments.Across = None,
    down: arguments.Down = None,
    save: arguments.Save = None,
    listing: arguments.Listing = False,
    forget: arguments.Forget = None,
) -> None:
    """Write a check sheet for a printer; then keep what its bars measured."""
    asked = calibrating.Asked(paper, out, across, down, save, listing, forget)
    try:
        done = calibrating.calibrate(asked, lambda sheet: _pdf(sheet(_typeface())))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    for line in done.said:
        typer.echo(printable(line), err=True)
    for line in done.lines:
        typer.echo(printable(line))


@app.command("schema", **help_pages.SCHEMA)
def schema_command(
    *,
    out: arguments.SchemaOut = None,
) -> None:
    """Print the JSON Schema of the job file, by which editors check a job as it is written."""
    if out is None:
        typer.echo(schema_text(), nl=False)
        return
    target = out / SCHEMA_NAME if os.path.isdir(out) else out  # noqa: PTH112  # Path's may raise
    try:
        if target.suffix.lower() != ".json":  # never a job file
            raise FileError([Fault(str(target), "name a file that ends in .json")])
        files.write(target, schema_text().encode())
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    typer.echo(printable(str(target)))


def _typeface() -> Typeface:
    from drapetemplate.render.typeface import typeface  # noqa: PLC0415  # reportlab is slow

    return typeface()


def _pdf(document: Document) -> bytes:
    from drapetemplate.render.backend import render  # noqa: PLC0415  # reportlab is slow to load
    from drapetemplate.render.pdf import PdfBackend  # noqa: PLC0415

    return render(document, PdfBackend(document.title))


def _columns() -> int | None:
    """The terminal's columns; None where standard output is none, so that lines stay whole."""
    return shutil.get_terminal_size().columns if _seen(sys.stdout) else None


def _ascii_only() -> bool:
    return needs_ascii(getattr(sys.stdout, "encoding", None) or "utf-8")


@contextmanager
def _told(path: Path) -> Iterator[bytes]:
    """A job file's bytes; a fault in what is done with them ends the command, and is told."""
    data = b""
    try:
        data = files.read(path, MOST_BYTES)
        yield data
    except DrapeError as error:
        raise typer.Exit(_complain(error, located(error, data, str(path)))) from error


def _planned(data: bytes, path: Path, windows: Sequence[str] = ()) -> tuple[Job, Plan]:
    job = drapetemplate.read_job(data, str(path))
    if windows:
        job = narrowed(job, windows, "--window")
    return job, drapetemplate.plan_job(job)


def _complain(error: DrapeError, faults: Sequence[Fault] = ()) -> int:
    """Every fault, or these for them, on a line of its own to standard error; the exit code."""
    for fault in faults or error.faults:
        typer.echo(printable(str(fault)), err=True)
    return error.exit_code


def main() -> None:
    """Run the command line; characters a terminal can't show are escaped, never an error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        raise SystemExit(app(prog_name="drapetemplate", standalone_mode=False))
    except USAGE_ERROR as error:
        error.message = "\n".join(map(printable, error.message.splitlines()))
        error.show()
        raise SystemExit(error.exit_code) from None
    except OSError as error:
        # Every file is read and written through `files`, so this is standard output itself, on a
        # full disk say. What it still holds must not be tried again as Python ends.
        sys.stdout = None  # Python's own sign for no output
        reason = (error.strerror or str(error)).lower()
        with suppress(OSError):  # standard error may be no better off
            typer.echo(f"standard output: can't be written: {reason}", err=True)
        raise SystemExit(FileError.exit_code) from None
