"""The command line: parses, calls, prints. No arithmetic.

Every command is a function here under `@command`, in the order that `--help` lists them. A new one
takes its options from `arguments.py`, its page from `help_pages.py`; work of its own beyond calling
the package lies in a file beside, as `make.py` and `calibrate.py` do.

Exit 0: done. 1: the job can't be made as asked (a stop finding). 2: the command line, a job
file or a target can't be used. Errors go to standard error, one line a fault.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec

import typer

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import (
    arguments,
    completion,
    completion_scripts,
    help_pages,
    job_files,
    output,
    rendering,
)
from drapetemplate.cli.calibrate import Options, calibrate
from drapetemplate.cli.cutfile import cutfile, refuse_printer
from drapetemplate.cli.desk import desk, put_starter
from drapetemplate.cli.make import (
    Outcome,
    Request,
    factors_for,
    how_to_accept,
    make_all,
    requests_for,
    summary,
)
from drapetemplate.cli.order import check_targets, order_for
from drapetemplate.cli.targets import check_not_job_file, choose_targets, make_folders, numbered
from drapetemplate.document.order_document import order_document
from drapetemplate.document.picture_document import (
    approval_pages,
    comparison_sheets,
    page_picture,
    panel_pictures,
)
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.job.json_schema import SCHEMA_NAME, schema_text
from drapetemplate.measures import printable
from drapetemplate.planning.compare import compare
from drapetemplate.planning.model import LEVELS
from drapetemplate.printers import store
from drapetemplate.record.attachment import MOST_PDF
from drapetemplate.report import plan_json, plan_text
from drapetemplate.report.compare_text import compare_text
from drapetemplate.report.joint_csv import as_csv as joint_csv
from drapetemplate.report.joint_json import as_json as joint_json
from drapetemplate.report.joint_text import as_text as joint_text
from drapetemplate.report.plan_csv import as_csv
from drapetemplate.report.shelf_json import shelf_json
from drapetemplate.report.shelf_text import shelf_text, unreadable
from drapetemplate.shelf.kept import find, look
from drapetemplate.shelf.listing import listing

P = ParamSpec("P")

USAGE_ERROR: Any = typer.BadParameter.__mro__[1]  # its base, which typer gives no name
STOPPED = 1
APPROVAL = "approval"
"""What `picture --page` calls the pages for the client, which no PDF of a job has."""
IMAGES = {".png": rendering.as_png, ".svg": rendering.as_svg, ".pdf": rendering.as_pdf}

app = typer.Typer(
    help=help_pages.APP,
    epilog=help_pages.APP_EPILOG,
    no_args_is_help=True,
    add_completion=False,  # typer's own has shells run what files are called
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def command(
    name: str, page: help_pages.HelpPage
) -> Callable[[Callable[P, None]], Callable[P, None]]:
    """Make a function the command `name`, with its help page.

    A DrapeError ends it: every fault is printed to standard error, and the error has the exit code.
    """

    def registered(function: Callable[P, None]) -> Callable[P, None]:
        @app.command(name, **page)
        @wraps(function)
        def run(*args: P.args, **kwargs: P.kwargs) -> None:
            with _faults_told():
                function(*args, **kwargs)

        return run

    return registered


@contextmanager
def _faults_told() -> Iterator[None]:
    """End the command on a DrapeError in the block, its faults printed, with its exit code."""
    try:
        yield
    except DrapeError as error:
        output.print_lines(error.faults, errors=True)
        raise typer.Exit(error.exit_code) from error


@app.callback(invoke_without_command=True)
def _common(
    *,
    version: arguments.Version = False,
    install_completion: arguments.InstallCompletion = None,
    show_completion: arguments.ShowCompletion = None,
) -> None:
    if install_completion is not None:
        with _faults_told():
            shell = arguments.read_shell(install_completion, "--install-completion")
            output.print_lines(completion_scripts.install(shell))
        output.print_lines([f"{shell} completes the command's words once it is started anew"])
        raise typer.Exit
    if show_completion is not None:
        with _faults_told():
            shell = arguments.read_shell(show_completion, "--show-completion")
        typer.echo(completion_scripts.SCRIPTS[shell], nl=False)
        raise typer.Exit
    if version:
        typer.echo(f"drapetemplate {drapetemplate.__version__}")
        raise typer.Exit


@command("new", help_pages.NEW)
def new_command(
    path: arguments.NewPath = None,
) -> None:
    """Ask for the measures, one at a time, and write a commented job file."""
    # Other commands never ask.
    from drapetemplate.interview.terminal import interview  # noqa: PLC0415

    raise typer.Exit(interview(path, sys.stdin, sys.stdout))


@command("desk", help_pages.DESK)
def desk_command(
    job: arguments.DeskPath = None,
    *,
    no_open: arguments.NoOpen = False,
    starter: arguments.PutStarter = False,
) -> None:
    """Show the panel in the browser while its measures are typed."""
    if starter:
        put_starter(job, lambda line: output.print_lines([line]))
        return
    desk(job, lambda line: output.print_lines([line]), None if no_open else _open_page)


def _open_page(page: Path) -> None:
    """Open a page in this computer's browser, or say that none can be."""
    if typer.launch(str(page)):
        output.print_lines(["no browser here to open it with: open the address"], errors=True)


@command("make", help_pages.MAKE)
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
    accepted = arguments.read_codes(accept or ())
    paths = job_files.find_job_files(jobs)
    if open_it and len(paths) > 1:
        raise FileError([Fault("--open", "opens one job's PDF: name one job")])
    targets = choose_targets(paths, out)
    factors = None if printer is None else store.find(printer, "--printer")
    requests = requests_for(paths, targets, accepted, factors, tuple(window or ()))
    make_folders(targets, out)
    given = {"--out": out, "--printer": printer, "--window": window, "--accept": accept}
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
    for outcome in output.with_progress(make_all(requests, workers), len(requests)):
        outcomes.append(outcome)
        output.print_lines(outcome.pdf_lines or [f"{outcome.job_file}: not made"] * several)
    for outcome in outcomes:
        # Of many jobs, notes stand on the tickets alone: what matters would be lost in them.
        levels = LEVELS[:2] if several else LEVELS
        output.print_lines(outcome.problem_lines(levels, named=several), errors=True)
    hint = how_to_accept(outcomes, given)
    if hint is not None:
        output.print_lines([hint], errors=True)
    if several:
        output.print_lines([summary(outcomes)])
    return outcomes


@command("plan", help_pages.PLAN)
def plan_command(
    job_file: arguments.JobPath,
    *,
    as_json: arguments.AsJson = False,
    table: arguments.Csv = None,
    plain: arguments.Plain = False,
    printer: arguments.Printer = None,
    window: arguments.Windows = None,
) -> None:
    """Print every figure and finding: eyelets, folds, seams, drops and what to order."""
    with job_files.opened(job_file) as data:
        job = job_files.read(data, job_file, window or ())
        plan = drapetemplate.plan_job(job)
        factors = None if printer is None else store.find(printer, "--printer")
        factors = factors_for(job, factors)
        # All that can be refused is, before anything is written or printed.
        if as_json:
            told = output.json_text(plan_json.as_json(job, plan, factors))
        else:
            told = plan_text.as_text(
                job,
                plan,
                factors=factors,
                columns=output.columns(),
                plain=plain,
                ascii_only=output.ascii_only(),
            )
        if table is not None:
            check_not_job_file(table, job_file, "--csv")
            files.write(table, as_csv(job, plan))
        typer.echo(told)
    raise typer.Exit(STOPPED if plan.stops else 0)


@command("compare", help_pages.COMPARE)
def compare_command(
    job_file: arguments.JobPath,
    *,
    counts: arguments.Counts = "",
    as_json: arguments.AsJson = False,
    plain: arguments.Plain = False,
    pdf: arguments.ComparePdf = None,
) -> None:
    """Lay the even counts side by side: gaps, folds, wall, rings, and what is wrong with each."""
    with job_files.opened(job_file) as data:
        wanted = arguments.read_counts(counts)
        job = job_files.read(data, job_file)
        comparisons = compare(job, wanted)
        if as_json:
            told = output.json_text(plan_json.compare_json(job, comparisons))
        else:
            told = compare_text(
                job,
                comparisons,
                columns=output.columns(),
                plain=plain,
                ascii_only=output.ascii_only(),
            )
        if pdf is not None:
            check_not_job_file(pdf, job_file, "--pdf")
            sheets = comparison_sheets(job, comparisons, rendering.typeface())
            files.write(pdf, rendering.as_pdf(sheets))
        typer.echo(told)


@command("picture", help_pages.PICTURE)
def picture_command(
    job_file: arguments.JobPath,
    *,
    out: arguments.PictureOut,
    page: arguments.PageName = None,
    window: arguments.Windows = None,
) -> None:
    """Draw each window's panel: from above on its pole, from the front, and its strip."""
    with job_files.opened(job_file) as data:
        ending, approves = out.suffix.lower(), page == APPROVAL
        if ending not in {".png", ".svg"} and not (approves and ending == ".pdf"):
            endings = ".png, .svg or .pdf" if approves else ".png or .svg"
            raise FileError([Fault(str(out), f"name a file that ends in {endings}")])
        check_not_job_file(out, job_file, "--out")
        job = job_files.read(data, job_file, window or ())
        plan = drapetemplate.plan_job(job)
        typeface = rendering.typeface()
        if page is None:
            pictures = panel_pictures(job, plan, typeface)
            names = [each.name for each in job.windows]
        elif approves:
            whole = approval_pages(job, plan, typeface)
            pages = [replace(whole, pages=(each,)) for each in whole.pages]
            pictures = (whole,) if ending == ".pdf" else tuple(pages)
            names = [each.label for each in whole.pages]
        else:
            pictures = (page_picture(job, plan, page, typeface),)
            names = [page]
        as_image = IMAGES[ending]
        targets = [out] if len(pictures) == 1 else numbered(out, len(pictures))
        for target in targets:
            check_not_job_file(target, job_file, "--out")
        # All are drawn before one is written.
        images = [as_image(picture) for picture in pictures]
        for target, image in zip(targets, images, strict=True):
            files.write(target, image)
    if len(targets) == 1:
        output.print_lines(targets)
    else:
        output.print_lines(f"{target}: {name}" for target, name in zip(targets, names, strict=True))


@command("shelf", help_pages.SHELF)
def shelf_command(
    folder: arguments.ShelfFolder,
    words: arguments.ShelfWords = None,
    *,
    due_before: arguments.DueBefore = None,
    as_json: arguments.AsJson = False,
    plain: arguments.Plain = False,
) -> None:
    """List the jobs kept under a folder, as job files or in PDFs, to find one."""
    day = None if due_before is None else arguments.read_day(due_before, "--due-before")
    found = find([folder])
    looked_into = output.with_progress(map(look, found), len(found), "Looking", wait=1)
    listed = listing(looked_into, words or (), day)
    if as_json:
        typer.echo(output.json_text(shelf_json(listed)))
        return
    told = shelf_text(
        listed,
        str(folder),
        columns=output.columns(),
        plain=plain,
        ascii_only=output.ascii_only(),
    )
    typer.echo(told)
    output.print_lines(unreadable(listed), errors=True)


@command("cutfile", help_pages.CUTFILE)
def cutfile_command(
    job_file: arguments.JobPath,
    *,
    out: arguments.CutOut,
    accept: arguments.CutAccept = None,
    window: arguments.Windows = None,
    uncorrected: arguments.Uncorrected = False,
    printer: arguments.NoPrinter = None,
) -> None:
    """Write each strip at full scale for a cutting machine, as DXF or SVG."""
    accepted = arguments.read_codes(accept or ())
    if printer is not None:
        refuse_printer(printer)
    lines, outcome = cutfile(job_file, out, accepted, tuple(window or ()), uncorrected=uncorrected)
    output.print_lines(lines)
    output.print_lines(outcome.problem_lines(), errors=True)
    given = {"--out": out, "--window": window, "--uncorrected": uncorrected, "--accept": accept}
    hint = how_to_accept([outcome], given, "cutfile")
    if hint is not None:
        output.print_lines([hint], errors=True)
    raise typer.Exit(outcome.exit_code)


@command("order", help_pages.ORDER)
def order_command(
    jobs: arguments.OrderJobs,
    *,
    due_before: arguments.DueBefore = None,
    out: arguments.OrderOut = None,
    table: arguments.OrderCsv = None,
    as_json: arguments.AsJson = False,
    plain: arguments.Plain = False,
    workers: arguments.Workers = None,
) -> None:
    """Add up what many jobs take, each thing to buy once, with what every job takes of it."""
    day = None if due_before is None else arguments.read_day(due_before, "--due-before")
    targets = {"--out": out, "--csv": table}
    found = order_for(jobs, day, workers)
    check_targets(targets, found.files)
    # All is drawn before anything is written or printed.
    ordered = found.ordered
    if as_json:
        told = output.json_text(
            joint_json(ordered.order, ordered.doubts, ordered.faulty, ordered.passed_over)
        )
    else:
        told = joint_text(
            ordered.order,
            ordered.doubts,
            columns=output.columns(),
            plain=plain,
            ascii_only=output.ascii_only(),
        )
    written: list[tuple[Path, bytes]] = []
    if out is not None:
        pages = order_document(ordered.order, ordered.doubts, rendering.typeface())
        written.append((out, rendering.as_lasting_pdf(pages)))
    if table is not None:
        written.append((table, joint_csv(ordered.order)))
    for path, data in written:
        files.write(path, data)
    typer.echo(told)
    faults = [fault for job in ordered.faulty for fault in job.faults]
    output.print_lines(faults, errors=True)
    raise typer.Exit(STOPPED if faults else 0)


@command("recall", help_pages.RECALL)
def recall_command(
    pdf: arguments.PdfPath,
    out: arguments.RecallOut = None,
) -> None:
    """Take the job file back out of a PDF made from it, byte for byte."""
    target = out or Path(f"{pdf.stem}.toml")
    if out is not None and os.path.isdir(out):  # noqa: PTH112  # Path's own may raise
        target = out / f"{pdf.stem}.toml"
    data = files.read(pdf, MOST_PDF, "PDF")
    files.write_new(target, drapetemplate.recall_job(data, str(pdf)))
    output.print_lines([target])


@command("measure", help_pages.MEASURE)
def measure_command(
    pdf: arguments.PdfPath,
    *,
    as_json: arguments.AsJson = False,
) -> None:
    """Measure a PDF's own marks against the job inside it: to 0.01 mm, page by page."""
    measured = drapetemplate.measure_pdf(files.read(pdf, MOST_PDF, "PDF"), str(pdf))
    if as_json:
        typer.echo(output.json_text(measured.as_json()))
    else:
        output.print_lines(measured.lines(str(pdf)))
    raise typer.Exit(0 if measured.true else STOPPED)


@command("calibrate", help_pages.CALIBRATE)
def calibrate_command(
    *,
    paper: arguments.CheckPaper = None,
    out: arguments.CheckOut = None,
    across: arguments.Across = None,
    down: arguments.Down = None,
    save: arguments.Save = None,
    sure: arguments.Sure = False,
    listing: arguments.Listing = False,
    forget: arguments.Forget = None,
) -> None:
    """Write a check sheet for a printer; then keep what its bars measured."""
    result = calibrate(
        Options(
            paper=paper,
            out=out,
            across=across,
            down=down,
            save=save,
            sure=sure,
            listing=listing,
            forget=forget,
        )
    )
    output.print_lines(result.warnings, errors=True)
    output.print_lines(result.lines)


@command("schema", help_pages.SCHEMA)
def schema_command(
    *,
    out: arguments.SchemaOut = None,
) -> None:
    """Print the JSON Schema of the job file, by which editors check a job as it is written."""
    if out is None:
        typer.echo(schema_text(), nl=False)
        return
    target = out / SCHEMA_NAME if os.path.isdir(out) else out  # noqa: PTH112  # Path's may raise
    if target.suffix.lower() != ".json":  # never a job file
        raise FileError([Fault(str(target), "name a file that ends in .json")])
    files.write(target, schema_text().encode())
    output.print_lines([target])


def main() -> None:
    """Run the command line; characters a terminal can't show are escaped, never an error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    shell = os.environ.get(completion_scripts.VARIABLE)
    if shell is not None:  # a shell asks while its user types
        completion.print_answer(shell, sys.argv[1:], typer.main.get_command(app))
        raise SystemExit(0)
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
