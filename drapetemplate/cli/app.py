"""The command line: every command with its options, and which module does its work.

Every command is a function here under `@command`, in the order that `--help` lists them. It takes
its options from `arguments.py`, its page from `help_pages.py`, and gives back its work, which lies
in a module of its name in `commands/`. Only that module is loaded, and only by this function, so
that help, completion and a slip of the pen are answered at once.

Exit 0: done. 1: the job can't be made as asked (a stop finding). 2: the command line, a job
file or a target can't be used. Errors go to standard error, one line a fault.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial, wraps
from typing import Any, ParamSpec

import typer

from drapetemplate.cli import arguments, help_pages, signals
from drapetemplate.version import __version__

P = ParamSpec("P")
Work = Callable[[], None]
"""What a command does, its options in it already."""

USAGE_ERROR: Any = typer.BadParameter.__mro__[1]  # its base, which typer gives no name

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
) -> Callable[[Callable[P, Work]], Callable[P, None]]:
    """Make a function the command `name`, with its help page: it gives back what is then done.

    A DrapeError ends it: every fault is printed to standard error, and the error has the exit code.
    """

    def registered(function: Callable[P, Work]) -> Callable[P, None]:
        @app.command(name, **page)
        @wraps(function)
        def run(*args: P.args, **kwargs: P.kwargs) -> None:
            work = function(*args, **kwargs)  # loads what it takes
            with _faults_told():
                work()

        return run

    return registered


@contextmanager
def _faults_told() -> Iterator[None]:
    """Heed signals in the block, and end the command on a DrapeError there, its faults printed."""
    from drapetemplate.cli import output
    from drapetemplate.errors import DrapeError

    signals.heed()
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
        from drapetemplate.cli import completion_install, option_values, output

        with _faults_told():
            shell = option_values.read_shell(install_completion, "--install-completion")
            output.print_lines(completion_install.install(shell))
        output.print_lines([f"{shell} completes the command's words once it is started anew"])
        raise typer.Exit
    if show_completion is not None:
        from drapetemplate.cli import completion_scripts, option_values

        with _faults_told():
            shell = option_values.read_shell(show_completion, "--show-completion")
        typer.echo(completion_scripts.SCRIPTS[shell], nl=False)
        raise typer.Exit
    if version:
        typer.echo(f"drapetemplate {__version__}")
        raise typer.Exit


@command("new", help_pages.NEW)
def new_command(
    path: arguments.NewPath = None,
) -> Work:
    """Ask for the measures, one at a time, and write a commented job file."""
    from drapetemplate.cli.commands.new import new

    return partial(new, path)


@command("desk", help_pages.DESK)
def desk_command(
    job: arguments.DeskPath = None,
    *,
    no_open: arguments.NoOpen = False,
    starter: arguments.PutStarter = False,
) -> Work:
    """Show the panel in the browser while its measures are typed."""
    from drapetemplate.cli.commands.desk import desk

    return partial(desk, job, no_open=no_open, starter=starter)


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
) -> Work:
    """Write the job ticket and the 1:1 template, one PDF a job."""
    from drapetemplate.cli.commands.make import make

    return partial(
        make,
        jobs,
        out=out,
        accept=accept or [],
        printer=printer,
        windows=window or [],
        workers=workers,
        open_it=open_it,
    )


@command("plan", help_pages.PLAN)
def plan_command(
    job_file: arguments.JobPath,
    *,
    as_json: arguments.AsJson = False,
    table: arguments.Csv = None,
    plain: arguments.Plain = False,
    printer: arguments.Printer = None,
    window: arguments.Windows = None,
) -> Work:
    """Print every figure and finding: eyelets, folds, seams, drops and what to order."""
    from drapetemplate.cli.commands.plan import plan

    return partial(
        plan,
        job_file,
        as_json=as_json,
        table=table,
        plain=plain,
        printer=printer,
        windows=window or [],
    )


@command("compare", help_pages.COMPARE)
def compare_command(
    job_file: arguments.JobPath,
    *,
    counts: arguments.Counts = "",
    as_json: arguments.AsJson = False,
    plain: arguments.Plain = False,
    pdf: arguments.ComparePdf = None,
) -> Work:
    """Lay the even counts side by side: gaps, folds, wall, rings, and what is wrong with each."""
    from drapetemplate.cli.commands.compare import compare

    return partial(compare, job_file, counts=counts, as_json=as_json, plain=plain, pdf=pdf)


@command("picture", help_pages.PICTURE)
def picture_command(
    job_file: arguments.JobPath,
    *,
    out: arguments.PictureOut,
    page: arguments.PageName = None,
    window: arguments.Windows = None,
) -> Work:
    """Draw each window's panel: from above on its pole, from the front, and its strip."""
    from drapetemplate.cli.commands.picture import picture

    return partial(picture, job_file, out=out, page=page, windows=window or [])


@command("shelf", help_pages.SHELF)
def shelf_command(
    folder: arguments.ShelfFolder,
    words: arguments.ShelfWords = None,
    *,
    due_before: arguments.DueBefore = None,
    as_json: arguments.AsJson = False,
    plain: arguments.Plain = False,
) -> Work:
    """List the jobs kept under a folder, as job files or in PDFs, to find one."""
    from drapetemplate.cli.commands.shelf import shelf

    return partial(shelf, folder, words or [], due_before=due_before, as_json=as_json, plain=plain)


@command("cutfile", help_pages.CUTFILE)
def cutfile_command(
    job_file: arguments.JobPath,
    *,
    out: arguments.CutOut,
    accept: arguments.CutAccept = None,
    window: arguments.Windows = None,
    uncorrected: arguments.Uncorrected = False,
    printer: arguments.NoPrinter = None,
) -> Work:
    """Write each strip at full scale for a cutting machine, as DXF or SVG."""
    from drapetemplate.cli.commands.cutfile import cutfile

    return partial(
        cutfile,
        job_file,
        out=out,
        accept=accept or [],
        windows=window or [],
        uncorrected=uncorrected,
        printer=printer,
    )


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
) -> Work:
    """Add up what many jobs take, each thing to buy once, with what every job takes of it."""
    from drapetemplate.cli.commands.order import order

    return partial(
        order,
        jobs,
        due_before=due_before,
        out=out,
        table=table,
        as_json=as_json,
        plain=plain,
        workers=workers,
    )


@command("recall", help_pages.RECALL)
def recall_command(
    pdf: arguments.PdfPath,
    out: arguments.RecallOut = None,
) -> Work:
    """Take the job file back out of a PDF made from it, byte for byte."""
    from drapetemplate.cli.commands.recall import recall

    return partial(recall, pdf, out=out)


@command("measure", help_pages.MEASURE)
def measure_command(
    pdf: arguments.PdfPath,
    *,
    as_json: arguments.AsJson = False,
) -> Work:
    """Measure a PDF's own marks against the job inside it: to 0.01 mm, page by page."""
    from drapetemplate.cli.commands.measure import measure

    return partial(measure, pdf, as_json=as_json)


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
) -> Work:
    """Write a check sheet for a printer; then keep what its bars measured."""
    from drapetemplate.cli.commands.calibrate import Options, calibrate

    options = Options(
        paper=paper,
        out=out,
        across=across,
        down=down,
        save=save,
        sure=sure,
        listing=listing,
        forget=forget,
    )
    return partial(calibrate, options)


@command("schema", help_pages.SCHEMA)
def schema_command(
    *,
    out: arguments.SchemaOut = None,
) -> Work:
    """Print the JSON Schema of the job file, by which editors check a job as it is written."""
    from drapetemplate.cli.commands.schema import schema

    return partial(schema, out=out)


def run(words: Sequence[str]) -> int:
    """Do what a command line asks for; its exit code. OSError where nothing can be printed."""
    try:
        code: int | None = app(words, prog_name="drapetemplate", standalone_mode=False)
    except USAGE_ERROR as error:
        from drapetemplate.measures import printable

        error.message = "\n".join(map(printable, error.message.splitlines()))
        error.show()
        code = error.exit_code
    return code or 0


def print_completion(shell: str, words: Sequence[str]) -> None:
    """Answer a shell that asks what may stand next, while its user types."""
    from drapetemplate.cli import completion

    completion.print_answer(shell, words, typer.main.get_command(app))
