"""What `order` does: files and folders in, one order for the jobs in them printed and written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import typer

from drapetemplate import files
from drapetemplate.cli import option_values, output
from drapetemplate.cli.order import check_targets, order_for
from drapetemplate.shelf.ordered import Ordered


def order(
    jobs: Sequence[Path],
    *,
    due_before: str | None,
    out: Path | None,
    table: Path | None,
    as_json: bool,
    plain: bool,
    workers: int | None,
) -> None:
    """Print one order for many jobs, and write it as pages and as CSV; exit 1 for a faulty job."""
    day = None if due_before is None else option_values.read_day(due_before, "--due-before")
    targets = {"--out": out, "--csv": table}
    found = order_for(jobs, day, workers)
    check_targets(targets, found.files)
    # All is drawn before anything is written or printed.
    ordered = found.ordered
    told = _json(ordered) if as_json else _text(ordered, plain=plain)
    written: list[tuple[Path, bytes]] = []
    if out is not None:
        from drapetemplate.cli import rendering
        from drapetemplate.document.order_document import order_document

        pages = order_document(ordered.order, ordered.doubts, rendering.typeface())
        written.append((out, rendering.as_lasting_pdf(pages)))
    if table is not None:
        from drapetemplate.report.joint_csv import as_csv

        written.append((table, as_csv(ordered.order)))
    for path, data in written:
        files.write(path, data)
    typer.echo(told)
    faults = [fault for job in ordered.faulty for fault in job.faults]
    output.print_lines(faults, errors=True)
    raise typer.Exit(output.STOPPED if faults else 0)


def _json(ordered: Ordered) -> str:
    from drapetemplate.report.joint_json import as_json

    return output.json_text(
        as_json(ordered.order, ordered.doubts, ordered.faulty, ordered.passed_over)
    )


def _text(ordered: Ordered, *, plain: bool) -> str:
    from drapetemplate.report.joint_text import as_text

    return as_text(
        ordered.order,
        ordered.doubts,
        columns=output.columns(),
        plain=plain,
        ascii_only=output.ascii_only(),
    )
