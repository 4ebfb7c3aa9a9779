"""What `measure` does: a PDF in, how true its marks are printed."""

from __future__ import annotations

from pathlib import Path

import typer

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import output
from drapetemplate.record.attachment import MOST_PDF, PDF_TO_READ


def measure(pdf: Path, *, as_json: bool) -> None:
    """Print how a PDF's marks measure; exit 1 where they aren't true."""
    measured = drapetemplate.measure_pdf(files.read(pdf, MOST_PDF, PDF_TO_READ), str(pdf))
    if as_json:
        typer.echo(output.json_text(measured.as_json()))
    else:
        output.print_lines(measured.lines(str(pdf)))
    raise typer.Exit(0 if measured.true else output.STOPPED)
