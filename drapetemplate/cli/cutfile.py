"""What `cutfile` does: a job file in, a file on disk for each of its strips out.

Nothing here prints: what there is to say comes back.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import job_files
from drapetemplate.cli.make import Outcome
from drapetemplate.cli.targets import (
    check_not_job_file,
    choose_cut_target,
    lettered,
    make_folders,
)
from drapetemplate.document.cut_drawing import CutDrawing
from drapetemplate.errors import Fault, FileError, JobError, StopError
from drapetemplate.job.model import Job
from drapetemplate.measures import format_length, shown
from drapetemplate.words.plan_words import findings_told

FORMATS: dict[str, Callable[[CutDrawing], bytes]] = {
    ".dxf": drapetemplate.to_dxf,
    ".svg": drapetemplate.to_svg,
}


def cutfile(
    job_file: Path,
    out: Path,
    accepted: frozenset[str],
    windows: tuple[str, ...],
    *,
    uncorrected: bool,
) -> tuple[list[str], Outcome]:
    """Write the cut files of a job: a line for each of them, and the job's outcome.

    Where a stop keeps them from being made no line comes and nothing is written. DrapeError for all
    else that does.
    """
    target = choose_cut_target(job_file, out)
    with job_files.opened(job_file) as data:
        job = job_files.read(data, job_file, windows)
        if not uncorrected:
            _check_uncorrected(job)
        plan = drapetemplate.plan_job(job)
        findings = tuple(findings_told(plan))
        try:
            drawings = drapetemplate.cut_drawings(job, plan, accepted=accepted)
        except StopError as stopped:
            return [], Outcome(job_file, stopped.exit_code, findings=findings)
        targets = [lettered(target, drawing.letter) for drawing in drawings]
        for path in targets:
            check_not_job_file(path, job_file, "--out")
        # All are drawn before one is written.
        cut_files = [FORMATS[target.suffix.lower()](drawing) for drawing in drawings]
        make_folders(targets, out)
        for path, cut_file in zip(targets, cut_files, strict=True):
            files.write(path, cut_file)
    lines = [
        f"{path}: {drawing.name}, {_size(drawing)}"
        for path, drawing in zip(targets, drawings, strict=True)
    ]
    return lines, Outcome(job_file, 0, findings=findings)


def refuse_printer(name: str) -> None:
    """FileError: no machine is a printer."""
    text = f"a cut file is corrected for no printer, and so not for {shown(name)}: leave it out"
    raise FileError([Fault("--printer", text)])


def _check_uncorrected(job: Job) -> None:
    """JobError where a job names a printer: whoever cuts may count on its correction."""
    if job.paper.printer is not None:
        text = (
            f"corrects for {shown(job.paper.printer)}, which doesn't cut: add --uncorrected, and "
            "the cut file is at true size"
        )
        raise JobError([Fault("paper.printer", text)])


def _size(drawing: CutDrawing) -> str:
    """What the machine's program must show for the outline, and where that is no panel's band."""
    width = format_length(drawing.width, "mm", unit=False)
    size = f"{width} × {format_length(drawing.height, 'mm')}"
    if drawing.width == drawing.panel_width:
        return size
    panel = format_length(drawing.panel_width, "mm")
    return f"{size}, to mark from; each panel's band is {panel} of it"
