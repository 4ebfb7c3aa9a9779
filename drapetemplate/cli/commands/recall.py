"""What `recall` does: a PDF in, the job file inside it written."""

from __future__ import annotations

import os
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import output
from drapetemplate.record.attachment import MOST_PDF


def recall(pdf: Path, *, out: Path | None) -> None:
    """Write the job file in a PDF beside it, or where `out` says."""
    target = out or Path(f"{pdf.stem}.toml")
    if out is not None and os.path.isdir(out):  # noqa: PTH112  # Path's own may raise
        target = out / f"{pdf.stem}.toml"
    data = files.read(pdf, MOST_PDF, "PDF")
    files.write_new(target, drapetemplate.recall_job(data, str(pdf)))
    output.print_lines([target])
