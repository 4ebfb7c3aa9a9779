"""The command line: parses, calls, prints. No arithmetic.

Exit 0: done. 1: the job can't be made as asked (a stop finding). 2: the command line, a job
file or a target can't be used. Errors go to standard error, one line a fault.
"""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import IO, Annotated

import typer

import drapetemplate
from drapetemplate import (
    calibrating,
    calibration,
    completing,
    console,
    files,
    making,
    printers,
    report,
)
from drapetemplate.asked import check_codes, check_other, counts_of, jobs_of, targets_of
from drapetemplate.document import Document
from drapetemplate.drawing import Typeface
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.gallery import comparison_sheets, panel_picture
from drapetemplate.job import Job, narrowed
from drapetemplate.jobfile import MOST_BYTES
from drapetemplate.listing import as_csv
from drapetemplate.measures import printable
from drapetemplate.planning.compare import compare
from drapetemplate.planning.plan import Plan
from drapetemplate.sidebyside import compare_text
from drapetemplate.wrapping import needs_ascii

app = typer.Typer(
    help="From a job file to a full-scale marking template for eyelet-topped draperies.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

STOPPED = 1
MOST_PDF = 500_000_000
Printer = Annotated[
    str | None,
    typer.Option(
        metavar="NAME",
        help="Correct for this calibrated printer, whatever the job names.",
        autocompletion=completing.printer_names,
    ),
]
Windows = Annotated[
    list[str] | None,
    typer.Option(
        "--window",
        metavar="NAME",
        help="Only this window of the job; may be repeated.",
        autocompletion=completing.window_names,
    ),
]
Plain = Annotated[
    bool,
    typer.Option("--plain", help="For screen readers: a fact a line, no picture, no columns."),
]
JobPath = Annotated[
    Path,
    typer.Argument(metavar="JOB", help="A job file (TOML).", autocompletion=completing.job_files),
]
PdfPath = Annotated[
    Path,
    typer.Argument(
        metavar="PDF", help="A PDF made from a job.", autocompletion=completing.pdf_files
    ),
]


@app.callback(invoke_without_command=True)
def _common(
    *,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    if version:
        typer.echo(f"drapetemplate {drapetemplate.__version__}")
        raise typer.Exit


@app.command("make")
def make_command(
    jobs: Annotated[
        list[Path],
        typer.Argument(
            metavar="JOB...",
            help="Job files (TOML), or folders of them.",
            autocompletion=completing.job_files,
        ),
    ],
    *,
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            help="The PDF to write, or a folder for it. {number}, {name} and {file} in it stand "
            "for the job's. Default: this folder.",
        ),
    ] = None,
    accept: Annotated[
        list[str] | None,
        typer.Option(
            metavar="CODE",
            help="Make the template despite this stop finding; the ticket says so.",
            autocompletion=completing.stop_codes,
        ),
    ] = None,
    printer: Printer = None,
    window: Windows = None,
    workers: Annotated[
        int | None,
        typer.Option(min=1, max=64, help="Processes at once. Default: as many as pay."),
    ] = None,
    open_it: Annotated[bool, typer.Option("--open", help="Open the PDF when it is made.")] = False,
) -> None:
    """Write the job ticket and the 1:1 template, one PDF a job.

    Example: drapetemplate make writing_room.toml --out pdfs/

    Example: drapetemplate make jobs/ --out "pdfs/{number} {name}.pdf"
    """
    try:
        accepted = frozenset(accept or ())
        check_codes(accepted)
        found = jobs_of(jobs)
        if open_it and len(found) > 1:
            raise FileError([Fault("--open", "opens one job's PDF: name one job")])
        targets = targets_of(found, out)
        if out is not None and "{" in str(out):
            for folder in {target.parent for target in targets}:
                files.make_folder(folder)
        factors = None if printer is None else printers.find(printer, "--printer")
        orders = making.orders(found, targets, accepted, factors, tuple(window or ()))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    outcomes = _make_each(orders, workers)
    if open_it:
        for path, _ in outcomes[0].made:
            if typer.launch(str(path)):
                typer.echo(f"{printable(str(path))}: no program here to open it with", err=True)
    raise typer.Exit(max(outcome.code for outcome in outcomes))


def _make_each(orders: Sequence[making.Order], workers: int | None) -> list[making.Outcome]:
    """Make all, saying so; what went wrong is said at the end, where it is seen."""
    outcomes = []
    several = len(orders) > 1
    for outcome in _watched(making.make_all(orders, workers), len(orders)):
        outcomes.append(outcome)
        for line in outcome.lines or [printable(f"{outcome.job}: not made")] * several:
            typer.echo(line)
    for outcome in outcomes:
        # Of many jobs, notes stand on the tickets alone: what matters would be lost in them.
        levels = making.LEVELS[:2] if several else making.LEVELS
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


@app.command("plan")
def plan_command(
    job: JobPath,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
    table: Annotated[
        Path | None,
        typer.Option("--csv", metavar="PATH", help="Also write holes, cut list and order as CSV."),
    ] = None,
    plain: Plain = False,
    printer: Printer = None,
    window: Windows = None,
) -> None:
    """Print every figure and finding: eyelets, folds, seams, drops and what to order.

    Example: drapetemplate plan writing_room.toml --csv writing_room.csv
    """
    try:
        read, planned = _planned(job, window or ())
        factors = None if printer is None else printers.find(printer, "--printer")
        factors = making.for_printer(read, factors)
        read = read if factors is None else calibration.corrected(read, factors)
        if table is not None:
            check_other(job, table, "--csv")
            files.write(table, as_csv(read, planned))
        if as_json:
            found = report.as_json(read, planned)
            typer.echo(json.dumps(found, indent=2, ensure_ascii=True, allow_nan=False))
        else:
            text = console.as_text(
                read, planned, columns=_columns(), plain=plain, ascii_only=_ascii_only()
            )
            typer.echo(text)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    raise typer.Exit(STOPPED if planned.stops else 0)


@app.command("compare")
def compare_command(
    job: JobPath,
    *,
    counts: Annotated[
        str, typer.Option(metavar="6,8,10", help="The counts to compare. Default: those beside.")
    ] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
    plain: Plain = False,
    pdf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Also draw them, a page a window.")
    ] = None,
) -> None:
    """Lay the even counts side by side: gaps, folds, wall, rings, and what is wrong with each.

    Example: drapetemplate compare writing_room.toml --counts 12,14,16 --pdf counts.pdf
    """
    try:
        asked = counts_of(counts)
        read = _read(job)
        comparisons = compare(read, asked)
        if pdf is not None:
            check_other(job, pdf, "--pdf")
            files.write(pdf, _pdf(comparison_sheets(read, comparisons, _typeface())))
        if as_json:
            found = report.compare_json(read, comparisons)
            typer.echo(json.dumps(found, indent=2, allow_nan=False))
        else:
            text = compare_text(
                read, comparisons, columns=_columns(), plain=plain, ascii_only=_ascii_only()
            )
            typer.echo(text)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error


@app.command("picture")
def picture_command(
    job: JobPath,
    out: Annotated[Path, typer.Option(metavar="FILE.png|svg", help="The picture to write.")],
) -> None:
    """Draw each window's panel: from above on its pole, from the front, and its strip.

    Example: drapetemplate picture writing_room.toml --out writing_room.svg
    """
    from drapetemplate.render import render  # noqa: PLC0415
    from drapetemplate.render.png import png  # noqa: PLC0415
    from drapetemplate.render.svg import SvgBackend  # noqa: PLC0415

    try:
        kind = out.suffix.lower()
        if kind not in {".png", ".svg"}:
            raise FileError([Fault(str(out), "name a file that ends in .png or .svg")])
        check_other(job, out, "--out")
        read, planned = _planned(job)
        drawn = panel_picture(read, planned, _typeface())
        data = png(_pdf(drawn)) if kind == ".png" else render(drawn, SvgBackend(drawn.title))
        files.write(out, data)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    typer.echo(printable(str(out)))


@app.command("recall")
def recall_command(
    pdf: PdfPath,
    out: Annotated[
        Path | None,
        typer.Option(metavar="PATH", help="The job file to write. Default: PDF's name, .toml."),
    ] = None,
) -> None:
    """Take the job file back out of a PDF made from it, byte for byte.

    Example: drapetemplate recall writing_room.pdf --out again.toml
    """
    target = out or Path(f"{pdf.stem}.toml")
    if out is not None and out.is_dir():
        target = out / f"{pdf.stem}.toml"
    try:
        held = files.read(pdf, MOST_PDF, "PDF")
        files.write_new(target, drapetemplate.recall_job(held, str(pdf)))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    typer.echo(printable(str(target)))


@app.command("measure")
def measure_command(
    pdf: PdfPath,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
) -> None:
    """Measure a PDF's own marks against the job inside it: to 0.01 mm, page by page.

    Example: drapetemplate measure writing_room.pdf
    """
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


@app.command("calibrate")
def calibrate_command(
    *,
    paper: Annotated[
        str | None,
        typer.Option(
            metavar="SIZE",
            help="The check sheet's paper, as a job names it. Default: letter.",
            autocompletion=completing.paper_sizes,
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="PATH", help="The check sheet. Default: calibrate-SIZE.pdf here."),
    ] = None,
    across: Annotated[
        str | None, typer.Option(metavar="MEASURED", help="What the long bar across reads.")
    ] = None,
    down: Annotated[
        str | None, typer.Option(metavar="MEASURED", help="What the long bar down reads.")
    ] = None,
    save: Annotated[
        str | None, typer.Option(metavar="NAME", help="Keep the readings as this printer's.")
    ] = None,
    listing: Annotated[bool, typer.Option("--list", help="Print the printers kept.")] = False,
    forget: Annotated[
        str | None, typer.Option(metavar="NAME", help="Remove a printer from the list.")
    ] = None,
) -> None:
    """Write a check sheet for a printer; then keep what its bars measured, in mm or as "5 7/8 in".

    Example: drapetemplate calibrate --across 149.6 --down 150.2 --save "workroom laser"
    """
    asked = calibrating.Asked(paper, out, across, down, save, listing, forget)
    try:
        done = calibrating.calibrate(asked, lambda sheet: _pdf(sheet(_typeface())))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    for line in done.said:
        typer.echo(printable(line), err=True)
    for line in done.lines:
        typer.echo(printable(line))


def _typeface() -> Typeface:
    from drapetemplate.render.typeface import typeface  # noqa: PLC0415  # reportlab is slow

    return typeface()


def _pdf(document: Document) -> bytes:
    from drapetemplate.render import render  # noqa: PLC0415  # reportlab is slow to load
    from drapetemplate.render.pdf import PdfBackend  # noqa: PLC0415

    return render(document, PdfBackend(document.title))


def _columns() -> int | None:
    """The terminal's columns; None where standard output is none, so that lines stay whole."""
    return shutil.get_terminal_size().columns if _seen(sys.stdout) else None


def _ascii_only() -> bool:
    return needs_ascii(getattr(sys.stdout, "encoding", None) or "utf-8")


def _read(path: Path) -> Job:
    return drapetemplate.read_job(files.read(path, MOST_BYTES), str(path))


def _planned(path: Path, windows: Sequence[str] = ()) -> tuple[Job, Plan]:
    job = _read(path)
    if windows:
        job = narrowed(job, windows, "--window")
    return job, drapetemplate.plan_job(job)


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
    try:
        app(prog_name="drapetemplate")
    except OSError as error:
        # Every file is read and written through `files`, so this is standard output itself, on a
        # full disk say. What it still holds must not be tried again as Python ends.
        sys.stdout = None  # Python's own sign for no output
        reason = (error.strerror or str(error)).lower()
        with suppress(OSError):  # standard error may be no better off
            typer.echo(f"standard output: can't be written: {reason}", err=True)
        raise SystemExit(FileError.exit_code) from None
