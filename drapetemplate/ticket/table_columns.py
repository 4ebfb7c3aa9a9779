"""Rows of a table in, the columns that take them out: read down a column, then the next.

Counted in lines of text; nothing here measures or draws.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """A pair's name and the lines of its value; a row without a name goes on from a column."""

    name: str
    lines: tuple[str, ...]


def rows_of(name: Sequence[str], value: Sequence[str]) -> list[Row]:
    """Return the rows of a pair whose name and value have so many lines: one for each of the name.

    >>> rows_of(["a long", "name"], ["1", "2", "3"])
    [Row(name='a long', lines=('1',)), Row(name='name', lines=('2', '3'))]
    """
    *before, last = name
    rows = [Row(line, (value[n] if n < len(value) else "",)) for n, line in enumerate(before)]
    return [*rows, Row(last, tuple(value[len(before) :]) or ("",))]


def balanced(rows: Sequence[Row], columns: int) -> int:
    """The fewest lines that hold the rows in so many columns, none of them parted.

    >>> balanced([Row("a", ("1", "2", "3")), Row("b", ("4",)), Row("c", ("5", "6"))], 2)
    3
    """
    counts = [len(row.lines) for row in rows]
    lines = max(-(-sum(counts) // columns), *counts)
    while columns_taken(counts, lines) > columns:
        lines += 1
    return lines


def columns_taken(counts: Sequence[int], lines: int) -> int:
    """How many columns of at most `lines` lines take rows of so many lines each, in order.

    >>> columns_taken([3, 1, 2], 3)
    2
    """
    taken, used = 1, 0
    for count in counts:
        if used + count > lines:
            taken, used = taken + 1, 0
        used += count
    return taken


def filled_columns(
    rows: list[Row], columns: int, lines: int, page: int
) -> tuple[list[list[Row]], list[Row]]:
    """Columns of at most `lines` lines, and the rows left over.

    A row is parted only where it is longer than a whole page, of `page` lines.
    """
    filled: list[list[Row]] = []
    rest = list(rows)
    while rest and len(filled) < columns:
        column: list[Row] = []
        free = lines
        while rest and free:
            row = rest[0]
            if len(row.lines) <= free:
                column.append(rest.pop(0))
                free -= len(row.lines)
            elif len(row.lines) > page:
                column.append(Row(row.name, row.lines[:free]))
                rest[0] = Row("", row.lines[free:])
                free = 0
            else:
                break
        filled.append(column)
    return filled, rest
