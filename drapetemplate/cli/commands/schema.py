"""What `schema` does: the job file's JSON Schema printed or written."""

from __future__ import annotations

import os
from pathlib import Path

import typer

from drapetemplate import files
from drapetemplate.cli import output
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.json_schema import SCHEMA_NAME, schema_text


def schema(*, out: Path | None) -> None:
    """Print the JSON Schema, or write it to a file or into a folder."""
    if out is None:
        typer.echo(schema_text(), nl=False)
        return
    target = out / SCHEMA_NAME if os.path.isdir(out) else out  # noqa: PTH112  # Path's may raise
    if target.suffix.lower() != ".json":  # never a job file
        raise FileError([Fault(str(target), "name a file that ends in .json")])
    files.write(target, schema_text().encode())
    output.print_lines([target])
