"""What `recall` does: a PDF in, the job file inside it written."""

from __future__ import annotations

import os
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import output
from drapetemplate.record.attachment import MOST_PDF, PDF_TO_READ


def recall(pdf: Path, *, out: Path | None) -> None:
    """Write the job file in a PDF into this folder, under the PDF's name, or where `out` says."""
    target = out or Path(f"{pdf.stem}.toml")
    if out is not None and os.path.isdir(out):  # noqa: PTH112  # Path's own may raise
        target = out / f"{pdf.stem}.toml"
    job = drapetemplate.recall_job(files.read(pdf, MOST_PDF, PDF_TO_READ), str(pdf))
    if files.write_new(target, job):
        output.print_lines([target])
    else:
        output.print_lines([f"{target} is this job file already, byte for byte: nothing written"])
