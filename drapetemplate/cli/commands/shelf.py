"""What `shelf` does: a folder in, the jobs kept under it printed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import typer

from drapetemplate.cli import option_values, output
from drapetemplate.shelf.kept import find, look
from drapetemplate.shelf.listing import listing


def shelf(
    folder: Path, words: Sequence[str], *, due_before: str | None, as_json: bool, plain: bool
) -> None:
    """Print the jobs under a folder that have all these words and are due before a day."""
    day = None if due_before is None else option_values.read_day(due_before, "--due-before")
    found = find([folder])
    looked_into = output.with_progress(map(look, found), len(found), "Looking", wait=1)
    listed = listing(looked_into, words, day)
    if as_json:
        from drapetemplate.report.shelf_json import shelf_json

        typer.echo(output.json_text(shelf_json(listed)))
        return
    from drapetemplate.report.shelf_text import shelf_text, unreadable

    told = shelf_text(
        listed,
        str(folder),
        columns=output.columns(),
        plain=plain,
        ascii_only=output.ascii_only(),
    )
    typer.echo(told)
    output.print_lines(unreadable(listed), errors=True)
