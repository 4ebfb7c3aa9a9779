"""The command line: parses, calls, prints. No arithmetic.

Exit 0: done. 1: the job can't be made as asked (a stop finding). 2: the command line, a job
file or a target can't be used. Errors go to standard error, one line a fault.
"""

from __future__ import annotations

import json
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import Annotated

import typer

from drapetemplate import __version__, calibration, console, files, printers, report
from drapetemplate.asked import check_codes, check_other, counts_of, targets_of
from drapetemplate.document import Document, documents
from drapetemplate.drawing import Typeface
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.gallery import comparison_sheets, panel_picture
from drapetemplate.job import Job, read_job
from drapetemplate.jobfile import MOST_BYTES
from drapetemplate.listing import as_csv
from drapetemplate.measures import printable
from drapetemplate.planning.compare import compare
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.plan import Plan, plan

app = typer.Typer(
    help="From a job file to a full-scale marking template for eyelet-topped draperies.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

STOPPED = 1
Printer = Annotated[
    str | None,
    typer.Option(
        metavar="NAME", help="Correct for this calibrated printer, whatever the job names."
    ),
]
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
    accept: Annotated[
        list[str] | None,
        typer.Option(
            metavar="CODE",
            help="Make the template despite this stop finding; the ticket says so.",
        ),
    ] = None,
    printer: Printer = None,
) -> None:
    """Write the job ticket and the 1:1 template, one PDF a job.

    Example: drapetemplate make writing_room.toml --out pdfs/
    """
    worst = 0
    accepted = frozenset(accept or ())
    try:
        check_codes(accepted)
        targets = targets_of(jobs, out)
        factors = None if printer is None else printers.find(printer, "--printer")
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    claimed = {os.path.realpath(path) for path in (*jobs, *targets)}
    for path, target in zip(jobs, targets, strict=True):
        try:
            worst = max(worst, _make(path, target, accepted, factors, claimed))
        except DrapeError as error:
            worst = max(worst, _complain(error, path if len(jobs) > 1 else None))
    raise typer.Exit(worst)


@app.command("plan")
def plan_command(
    job: JobPath,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
    table: Annotated[
        Path | None,
        typer.Option("--csv", metavar="PATH", help="Also write holes, cut list and order as CSV."),
    ] = None,
    printer: Printer = None,
) -> None:
    """Print every figure and finding: eyelets, folds, seams, drops and what to order.

    Example: drapetemplate plan writing_room.toml --csv writing_room.csv
    """
    try:
        read, planned = _planned(job)
        factors = None if printer is None else printers.find(printer, "--printer")
        read = _for_printer(read, factors)
        if table is not None:
            check_other(job, table, "--csv")
            files.write(table, as_csv(read, planned))
        if as_json:
            found = report.as_json(read, planned)
            typer.echo(json.dumps(found, indent=2, ensure_ascii=True, allow_nan=False))
        else:
            typer.echo(console.as_text(read, planned))
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
            typer.echo(console.compare_text(read, comparisons))
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
    pdf: Annotated[Path, typer.Argument(metavar="PDF", help="A PDF made from a job.")],
    out: Annotated[
        Path | None,
        typer.Option(metavar="PATH", help="The job file to write. Default: PDF's name, .toml."),
    ] = None,
) -> None:
    """Take the job file back out of a PDF made from it, byte for byte.

    Example: drapetemplate recall writing_room.pdf --out again.toml
    """
    from drapetemplate.record import MOST_PDF, job_in  # noqa: PLC0415  # pypdf is slow to load

    target = out or Path(f"{pdf.stem}.toml")
    if out is not None and out.is_dir():
        target = out / f"{pdf.stem}.toml"
    try:
        data = job_in(files.read(pdf, MOST_PDF, "PDF"), str(pdf), MOST_BYTES)
        files.write_new(target, data)
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error
    typer.echo(printable(str(target)))


@app.command("calibrate")
def calibrate_command(
    *,
    paper: Annotated[
        str | None,
        typer.Option(
            metavar="SIZE", help="The check sheet's paper, as a job names it. Default: letter."
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
    readings = {"--across": across, "--down": down, "--save": save}
    given = [option for option, value in readings.items() if value is not None]
    others = ["--list"] * listing + ["--forget"] * (forget is not None)
    asked = [*given[:1], *others, *(["--out"] if out is not None else [])]
    asked += ["--paper"] if paper is not None and others else []
    try:
        if len(asked) > 1:
            text = f"doesn't go with {asked[0]}: one thing at a time"
            raise FileError([Fault(asked[1], text)])
        if listing:
            for line in printers.listed(printers.known()) or [NO_PRINTERS]:
                typer.echo(line)
        elif forget is not None:
            typer.echo(f"forgotten: {printers.forget(forget, '--forget').words}")
        elif across is not None and down is not None and save is not None:
            size = calibration.read_size(paper or "letter")
            _save(calibration.measured(size, across, down, save))
        elif given:
            missing = [option for option in readings if option not in given]
            text = f"missing: {given[0]} goes with both readings and --save NAME"
            raise FileError([Fault(option, text) for option in missing])
        else:
            size = calibration.read_size(paper or "letter")
            target = out or Path(calibration.file_name(size))
            files.write(target, _pdf(calibration.check_sheet(size, _typeface())))
            typer.echo(printable(str(target)))
    except DrapeError as error:
        raise typer.Exit(_complain(error)) from error


NO_PRINTERS = "none yet: drapetemplate calibrate writes a check sheet to measure"


def _save(factors: printers.Factors) -> None:
    """Keep a printer, and say what is kept and how to use it."""
    said = printers.keep(factors)
    if said is not None:
        typer.echo(printable(said), err=True)
    typer.echo(f"kept: {printable(factors.words)}")
    typer.echo(f'corrected for by: drapetemplate make JOB --printer "{printable(factors.name)}"')


def _typeface() -> Typeface:
    from drapetemplate.render.typeface import typeface  # noqa: PLC0415  # reportlab is slow

    return typeface()


def _pdf(document: Document) -> bytes:
    from drapetemplate.render import render  # noqa: PLC0415  # reportlab is slow to load
    from drapetemplate.render.pdf import PdfBackend  # noqa: PLC0415

    return render(document, PdfBackend(document.title))


def _read(path: Path) -> Job:
    return read_job(files.read(path, MOST_BYTES), str(path))


def _planned(path: Path) -> tuple[Job, Plan]:
    job = _read(path)
    return job, plan(job)


def _for_printer(job: Job, factors: printers.Factors | None) -> Job:
    """The job corrected for the printer asked for, else for the one it names itself, if any."""
    if factors is None and job.paper.printer is not None:
        factors = printers.find(job.paper.printer, "paper.printer")
    return job if factors is None else calibration.corrected(job, factors)


def _make(
    path: Path,
    target: Path,
    accepted: frozenset[str],
    factors: printers.Factors | None,
    claimed: set[str],
) -> int:
    """One job made; the exit code it asks for. `claimed` are all jobs' and targets' real paths."""
    data = files.read(path, MOST_BYTES)
    job = read_job(data, str(path))
    planned = plan(job)
    found = [f for w in planned.windows for f in w.findings]
    if any(stop.code not in accepted for stop in planned.stops):
        _say(path, found)
        return STOPPED
    from drapetemplate.record import with_job  # noqa: PLC0415  # pypdf is slow to load

    made = documents(_for_printer(job, factors), planned, _typeface(), accepted)
    beside = target.with_name(f"{target.stem}-ticket{target.suffix}")
    if len(made) > 1 and os.path.realpath(beside) in claimed:
        text = "this roll's ticket would replace another file of this call: name another --out"
        raise FileError([Fault(str(beside), text)])
    # A roll's ticket is a PDF of its own; it goes first, so that no template is without one.
    for document, to in reversed(list(zip(made, (target, beside), strict=False))):
        files.write(to, with_job(_pdf(document), data))
        typer.echo(f"{printable(str(to))}: {len(document.pages)} pages")
    _say(path, [*found, *made[0].findings])
    return 0


def _say(path: Path, findings: list[Finding]) -> None:
    """Findings to standard error, the stops first."""
    for finding in sorted(findings, key=lambda f: ("stop", "warn", "note").index(f.level)):
        typer.echo(printable(f"{path}: {finding.level}: {finding.code}: {finding.text}"), err=True)


def _complain(error: DrapeError, job: Path | None = None) -> int:
    """Every fault on a line of its own to standard error; the exit code.

    A `job` is named before each fault that doesn't name it itself: one of several is meant.
    """
    for fault in error.faults:
        named = job is None or fault.where.startswith(str(job))
        typer.echo(printable(str(fault) if named else f"{job}: {fault}"), err=True)
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
