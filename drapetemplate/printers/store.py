"""Printers and how each is off: what a file must be multiplied by to come out true on it.

A printer stretches paper by its own little, across and down differently. What its check bars
measured (`correction`) gives a factor each way: nominal / measured. They are kept under the
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

from drapetemplate import files
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.factors import Factors, factors_of
from drapetemplate.measures import shown

FORMAT = 1
MOST_NAMED = 12
MOST_BYTES = 1 << 20


def parse(data: bytes) -> tuple[Factors, ...]:
    """Read a file of printers, in its order; ValueError says what is wrong with a damaged one."""
    try:
        # `int` and the rest are never asked for: what isn't text is refused as it stands.
        content = json.loads(data.decode("utf-8"), parse_int=str, parse_float=str)
    except (ValueError, RecursionError):
        raise ValueError("it isn't JSON") from None
    if not isinstance(content, dict) or content.get("format") != str(FORMAT):
        raise ValueError(f'it isn\'t of "format": {FORMAT}')
    printers = content.get("printers")
    if not isinstance(printers, dict):
        raise ValueError('"printers" isn\'t a table')  # noqa: TRY004  # a damaged file
    read = tuple(factors_of(name, value) for name, value in printers.items())
    if len({printer.name.casefold() for printer in read}) < len(read):
        raise ValueError("it has a printer twice")
    return read


def as_file(printers: Iterable[Factors]) -> bytes:
    """A file of printers, by name: what `parse` reads, to the last digit."""
    table = {
        printer.name: {"across": str(printer.across), "down": str(printer.down)}
        for printer in sorted(printers, key=lambda printer: printer.name.casefold())
    }
    whole = {"format": FORMAT, "printers": table}
    return (json.dumps(whole, indent=2, ensure_ascii=True) + "\n").encode()


def store() -> Path:
    """Where printers are kept; FileError where the user has no home folder to keep them in."""
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
    """Every printer kept; FileError where the file of them can't be read, or is damaged."""
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
    """The printer of that name, in any case; FileError at `where` that names the known ones."""
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
    """Keep a printer, in place of one of its name; what there is to say of the old file, or None.

    A damaged file is first copied beside, under a name that says so, and never lost. FileError
    where that, or the new file, can't be written; the old one then still stands. Runs that keep at
    the same time wait for each other.
    """
    path = store()
    files.make_folder(path.parent)
    with files.locked(path):
        data = _kept(path)
        warning = None
        try:
            printers = () if data is None else parse(data)
        except ValueError as error:
            aside = _aside(path)
            # The bytes that were read, not the file: somebody may have mended it since by hand.
            files.write(aside, data or b"")
            printers = ()
            warning = f"{path}: damaged, {error}: kept as {aside}, and a new one begun"
        files.write(path, as_file((*_others(printers, factors.name), factors)))
    return warning


def forget(name: str, where: str) -> Factors:
    """Take a printer out of the file and return it; FileError at `where` for an unknown one."""
    find(name, where)  # so that a name nobody knows needs no lock, nor a folder for it
    path = store()
    with files.locked(path):
        printer = find(name, where)
        files.write(path, as_file(_others(known(), printer.name)))
    return printer


def _others(printers: Iterable[Factors], name: str) -> list[Factors]:
    return [printer for printer in printers if printer.name.casefold() != name.casefold()]


def _kept(path: Path) -> bytes | None:
    """The file's bytes, None where there is none yet."""
    try:
        return files.read(path, MOST_BYTES, "list of printers")
    except FileError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return None
        raise


def _aside(path: Path) -> Path:
    """A name beside `path` that says it is damaged, and that nothing has yet."""
    number = 1
    while True:
        aside = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
        if not aside.exists():
            return aside
        number += 1


def listed(printers: Iterable[Factors]) -> list[str]:
    """A line a printer: its name, and each factor as a number and in per cent."""
    rows = list(printers)
    width = max((len(printer.name) for printer in rows), default=0)
    return [
        f"{printer.name:<{width}}  {_factor_words(printer.across)} across, "
        f"{_factor_words(printer.down)} down"
        for printer in rows
    ]


def _factor_words(factor: Fraction) -> str:
    """A factor as a number and in per cent.

    >>> _factor_words(Fraction(600, 599))
    '×1.0017 (+0.17 %)'
    """
    per_cent = f"{float(factor - 1) * 100:+.2f} %".replace("-", "\N{MINUS SIGN}")
    return f"×{float(factor):.4f} ({per_cent})"
