"""What `compare` does: a job file in, its even counts printed side by side."""

from __future__ import annotations

from pathlib import Path

import typer

from drapetemplate import files
from drapetemplate.cli import job_files, option_values, output
from drapetemplate.cli.targets import check_not_job_file
from drapetemplate.planning.compare import compare as compared


def compare(job_file: Path, *, counts: str, as_json: bool, plain: bool, pdf: Path | None) -> None:
    """Print what each count comes to, and draw them into `pdf`."""
    with job_files.opened(job_file) as data:
        wanted = option_values.read_counts(counts)
        job = job_files.read(data, job_file)
        comparisons = compared(job, wanted)
        if as_json:
            from drapetemplate.report.plan_json import compare_json

            told = output.json_text(compare_json(job, comparisons))
        else:
            from drapetemplate.report.compare_text import compare_text

            told = compare_text(
                job,
                comparisons,
                columns=output.columns(),
                plain=plain,
                ascii_only=output.ascii_only(),
            )
        if pdf is not None:
            from drapetemplate.cli import rendering
            from drapetemplate.document.picture_document import comparison_sheets

            check_not_job_file(pdf, job_file, "--pdf")
            sheets = comparison_sheets(job, comparisons, rendering.typeface())
            files.write(pdf, rendering.as_pdf(sheets))
        typer.echo(told)
