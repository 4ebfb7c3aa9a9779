"""What `calibrate` does: write a check sheet, or keep a printer's readings, list or forget them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from drapetemplate import files
from drapetemplate.cli import output
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.factors import Factors
from drapetemplate.printers import store

NO_PRINTERS = "none yet: drapetemplate calibrate writes a check sheet to measure"


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """The command line's options, as given."""

    paper: str | None
    out: Path | None
    across: str | None
    down: str | None
    save: str | None
    sure: bool
    listing: bool
    forget: str | None


@dataclass(frozen=True, slots=True)
class _Result:
    """Lines to print, and warnings for standard error."""

    lines: tuple[str, ...]
    warnings: tuple[str, ...] = ()


def calibrate(options: Options) -> None:
    """Do the one thing asked for and print what came of it; FileError where it is two, or half."""
    result = _calibrated(options)
    output.print_lines(result.warnings, errors=True)
    output.print_lines(result.lines)


def _calibrated(options: Options) -> _Result:
    """Do the one thing asked for; what is to be printed of it."""
    readings = {"--across": options.across, "--down": options.down, "--save": options.save}
    given = [option for option, value in readings.items() if value is not None]
    _check_one_thing(options, given)
    if options.listing:
        return _Result(tuple(store.listed(store.known())) or (NO_PRINTERS,))
    if options.forget is not None:
        return _Result((f"forgotten: {store.forget(options.forget, '--forget').words}",))
    from drapetemplate.printers import check_sheet

    size = check_sheet.read_size(options.paper or "letter")
    if options.across is not None and options.down is not None and options.save is not None:
        from drapetemplate.printers.measured_factors import measured_factors

        return _keep(
            measured_factors(size, options.across, options.down, options.save, sure=options.sure)
        )
    if given:
        missing = [option for option in readings if option not in given]
        text = f"missing: {given[0]} goes with both readings and --save NAME"
        raise FileError([Fault(option, text) for option in missing])
    if options.sure:
        raise FileError([Fault("--sure", "goes with --across, --down and --save NAME")])
    from drapetemplate.cli import rendering

    target = options.out or Path(check_sheet.file_name(size))
    sheet = check_sheet.check_sheet(size, rendering.typeface())
    files.write(target, rendering.as_pdf(sheet))
    return _Result((str(target),))


def _check_one_thing(options: Options, given: list[str]) -> None:
    """FileError for options that ask for two things at once; `given` are the readings'."""
    others = ["--list"] * options.listing + ["--forget"] * (options.forget is not None)
    things = [*given[:1], *others, *(["--out"] if options.out is not None else [])]
    things += ["--paper"] if options.paper is not None and others else []
    things += ["--sure"] if options.sure and others else []
    if len(things) > 1:
        raise FileError([Fault(things[1], f"doesn't go with {things[0]}: one thing at a time")])


def _keep(factors: Factors) -> _Result:
    """Keep a printer; the result says what is kept, and how to use it."""
    warning = store.keep(factors)
    use = f'corrected for by: drapetemplate make JOB --printer "{factors.name}"'
    return _Result((f"kept: {factors.words}", use), () if warning is None else (warning,))
