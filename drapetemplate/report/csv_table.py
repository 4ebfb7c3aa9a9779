"""Rows in, the bytes of a table for a spreadsheet out, in which nothing is run."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Iterable, Sequence

from drapetemplate.measures import Length, printable

# What makes a spreadsheet take a cell for a formula, whole width signs included, at its start or
# where a spreadsheet that separates cells by semicolons begins another one.
_FORMULA = re.compile(r"(^|;)(\s*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])")

Row = dict[str, str]


def csv_table(columns: Sequence[str], rows: Iterable[Row], names: Collection[str]) -> bytes:
    """Return rows as a file's bytes: RFC 4180, UTF-8, a line of column names first.

    `names` are the columns whose cells may hold a job's own words.
    """
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, restval="")
    writer.writeheader()
    for row in rows:
        writer.writerow({column: _cell(value, column in names) for column, value in row.items()})
    return out.getvalue().encode()


def _cell(value: str, a_name: bool) -> str:  # noqa: FBT001  # of a row's cells, by their column
    """Text that no spreadsheet runs: a quote before what would be a formula in a name."""
    value = printable(value)
    return _FORMULA.sub(r"\1\2'", value) if a_name else value


def in_mm(length: Length | None) -> str:
    """Return millimetres to 0.001, without a unit; "" for what isn't known."""
    return "" if length is None else f"{float(length):.3f}".rstrip("0").rstrip(".")
