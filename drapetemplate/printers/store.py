"""Printers and how each is off: what a file must be multiplied by to come out true on it.

A printer stretches paper by its own little, across and down differently. What its check bars
measured (`measured_factors`) gives a factor each way: nominal / measured. They are kept under the
printer's name in `printers.json`, in the user's configuration folder, as JSON with every factor as
the text of an exact fraction:

    {"format": 1, "printers": {"workroom laser": {"across": "600/599", "down": "1"}}}

"Across" and "down" are the upright page's, whichever way round a sheet on it is read.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ValidationError, field_validator
from pydantic_core import ErrorDetails

from drapetemplate import files
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.factors import RIGHT, Factors, FactorsTable, PrinterName
from drapetemplate.measures import shown

FORMAT = 1
MOST_NAMED = 12
MOST_BYTES = 1 << 20


class _PrintersFile(BaseModel):
    """The file as JSON has it; keys that it doesn't know are passed over."""

    format: Literal[1]
    printers: dict[PrinterName, FactorsTable]

    @field_validator("printers", mode="after")
    @classmethod
    def _once_each(cls, printers: dict[str, FactorsTable]) -> dict[str, FactorsTable]:
        if len({name.casefold() for name in printers}) < len(printers):
            raise ValueError("it has a printer twice")
        return printers


def parse(data: bytes) -> tuple[Factors, ...]:
    """Read a file of printers, in its order; ValueError says what is wrong with a damaged one."""
    try:
        file = _PrintersFile.model_validate_json(data)
    except ValidationError as invalid:
        raise ValueError(_damage(invalid.errors(include_url=False)[0])) from None
    return tuple(Factors(name, table.across, table.down) for name, table in file.printers.items())


def _damage(error: ErrorDetails) -> str:
    """Return what is wrong with a damaged file, in plain words."""
    reason = str(error.get("ctx", {}).get("error", ""))
    match error["loc"]:
        case () if error["type"] == "json_invalid":
            return "it isn't JSON"
        case () | ("format",):
            return f'it isn\'t of "format": {FORMAT}'
        case ("printers",):
            return reason or '"printers" isn\'t a table'
        case ("printers", name):
            return f"{shown(name)} isn't a table"
        case (_, name, way):
            return f"{shown(name)} {reason or f'has no factor {way}, {RIGHT}'}"
        case _:
            return reason


def as_file(printers: Iterable[Factors]) -> bytes:
    """Return a file of printers, by name: what `parse` reads, to the last digit."""
    by_name = sorted(printers, key=lambda printer: printer.name.casefold())
    file = _PrintersFile(
        format=FORMAT,
        printers={
            printer.name: FactorsTable.model_construct(across=printer.across, down=printer.down)
            for printer in by_name
        },
    )
    return (json.dumps(file.model_dump(), indent=2, ensure_ascii=True) + "\n").encode()


def store() -> Path:
    """Return where printers are kept; FileError where the user has no home folder for them."""
    from platformdirs import user_config_path  # noqa: PLC0415  # slow to load, and seldom needed

    path = user_config_path("drapetemplate", appauthor=False) / "printers.json"
    try:
        home = Path.home()
        # A home that isn't there is not made: that would hide a mistyped one.
        lost = not path.is_absolute() or (path.is_relative_to(home) and not home.is_dir())
    except (OSError, RuntimeError):
        lost = not path.is_absolute()
    if lost:
        text = "no home folder to keep printers in: set HOME to one that is there"
        raise FileError([Fault(str(path), text)])
    return path


def known() -> tuple[Factors, ...]:
    """Return every printer kept; FileError where the file can't be read, or is damaged."""
    path = store()
    data = _kept(path)
    try:
        return () if data is None else parse(data)
    except ValueError as error:
        text = (
            f"damaged, {error}: mend it, or calibrate and --save again, which keeps it aside "
            "and begins a new one"
        )
        raise FileError([Fault(str(path), text)]) from None


def find(name: str, where: str) -> Factors:
    """Return the printer of that name, in any case; FileError at `where` names the known ones."""
    printers = known()
    plain = " ".join(name.split()).casefold()
    for printer in printers:
        if printer.name.casefold() == plain:
            return printer
    names = ", ".join(f'"{printer.name}"' for printer in printers[:MOST_NAMED])
    if len(printers) > MOST_NAMED:
        names += f" and {len(printers) - MOST_NAMED} more"
    right = f"known here: {names}" if names else "none is known here"
    text = f"no printer is called {shown(name)}: {right}; drapetemplate calibrate makes one known"
    raise FileError([Fault(where, text)])


def keep(factors: Factors) -> str | None:
    """Keep a printer, in place of one of its name; return what to say of the old file, or None.

    A damaged file is first copied beside, under a name that says so, and never lost. FileError
    where that, or the new file, can't be written; the old one then still stands. Runs that keep at
    the same time wait for each other.
    """
    path = store()
    files.make_folder(path.parent)
    with files.locked(path):
        data = _kept(path)
        message = None
        try:
            printers = () if data is None else parse(data)
        except ValueError as error:
            aside = _aside(path)
            # The bytes that were read, not the file: somebody may have mended it since by hand.
            files.write(aside, data or b"")
            printers = ()
            message = f"{path}: damaged, {error}: kept as {aside}, and a new one begun"
        files.write(path, as_file((*_others(printers, factors.name), factors)))
    return message


def forget(name: str, where: str) -> Factors:
    """Take a printer out of the file and return it; FileError at `where` for an unknown one."""
    find(name, where)  # so that a name nobody knows needs no lock, nor a folder for it
    path = store()
    with files.locked(path):
        forgotten = find(name, where)
        files.write(path, as_file(_others(known(), forgotten.name)))
    return forgotten


def _others(printers: Iterable[Factors], name: str) -> list[Factors]:
    return [printer for printer in printers if printer.name.casefold() != name.casefold()]


def _kept(path: Path) -> bytes | None:
    """Return the file's bytes, None where there is none yet."""
    try:
        # A pipe there would keep each run that looks for a printer waiting.
        with files.opened_plain(path):
            return files.read(path, MOST_BYTES, "list of printers")
    except FileError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return None
        raise


def _aside(path: Path) -> Path:
    """Return a name beside `path` that says it is damaged, and that nothing has yet."""
    number = 1
    while True:
        aside = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
        if not aside.exists():
            return aside
        number += 1


def listed(printers: Iterable[Factors]) -> list[str]:
    """Return a line a printer: its name, and each factor as a number and in per cent."""
    rows = list(printers)
    width = max((len(printer.name) for printer in rows), default=0)
    return [
        f"{printer.name:<{width}}  {_factor_words(printer.across)} across, "
        f"{_factor_words(printer.down)} down"
        for printer in rows
    ]


def _factor_words(factor: Fraction) -> str:
    per_cent = f"{float(factor - 1) * 100:+.2f} %".replace("-", "\N{MINUS SIGN}")
    return f"×{float(factor):.4f} ({per_cent})"
