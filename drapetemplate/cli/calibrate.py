"""What `calibrate` does: write a check sheet, or keep a printer's readings, list or forget them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from drapetemplate import files
from drapetemplate.document.model import Document
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.factors import Factors
from drapetemplate.printers import check_sheet, correction, store

NO_PRINTERS = "none yet: drapetemplate calibrate writes a check sheet to measure"


@dataclass(frozen=True, slots=True)
class Asked:
    """The command line's options, as given."""

    paper: str | None
    out: Path | None
    across: str | None
    down: str | None
    save: str | None
    listing: bool
    forget: str | None


@dataclass(frozen=True, slots=True)
class Done:
    """Lines to print, and beside them what there is to `say` on standard error."""

    lines: tuple[str, ...]
    said: tuple[str, ...] = ()


def calibrate(asked: Asked, pdf: Callable[[Callable[[Typeface], Document]], bytes]) -> Done:
    """Do the one thing asked for; FileError where it is two, or half of one.

    `pdf` renders what is laid out with the typeface it hands in.
    """
    readings = {"--across": asked.across, "--down": asked.down, "--save": asked.save}
    given = [option for option, value in readings.items() if value is not None]
    others = ["--list"] * asked.listing + ["--forget"] * (asked.forget is not None)
    things = [*given[:1], *others, *(["--out"] if asked.out is not None else [])]
    things += ["--paper"] if asked.paper is not None and others else []
    if len(things) > 1:
        raise FileError([Fault(things[1], f"doesn't go with {things[0]}: one thing at a time")])
    if asked.listing:
        return Done(tuple(store.listed(store.known())) or (NO_PRINTERS,))
    if asked.forget is not None:
        return Done((f"forgotten: {store.forget(asked.forget, '--forget').words}",))
    size = check_sheet.read_size(asked.paper or "letter")
    if asked.across is not None and asked.down is not None and asked.save is not None:
        return _kept(correction.measured(size, asked.across, asked.down, asked.save))
    if given:
        missing = [option for option in readings if option not in given]
        text = f"missing: {given[0]} goes with both readings and --save NAME"
        raise FileError([Fault(option, text) for option in missing])
    target = asked.out or Path(check_sheet.file_name(size))
    files.write(target, pdf(lambda typeface: check_sheet.check_sheet(size, typeface)))
    return Done((str(target),))


def _kept(factors: Factors) -> Done:
    """A printer kept: what is kept, and how to use it."""
    said = store.keep(factors)
    use = f'corrected for by: drapetemplate make JOB --printer "{factors.name}"'
    return Done((f"kept: {factors.words}", use), () if said is None else (said,))
