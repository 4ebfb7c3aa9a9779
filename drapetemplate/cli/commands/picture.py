"""What `picture` does: a job file in, its panels or a page of its PDF drawn into a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import drapetemplate
from drapetemplate import files
from drapetemplate.cli import job_files, output, rendering
from drapetemplate.cli.targets import check_not_job_file, numbered
from drapetemplate.document.picture_document import (
    approval_pages,
    page_picture,
    panel_pictures,
)
from drapetemplate.errors import Fault, FileError

APPROVAL = "approval"
"""What `picture --page` calls the pages for the client, which no PDF of a job has."""
IMAGES = {".png": rendering.as_png, ".svg": rendering.as_svg, ".pdf": rendering.as_pdf}


def picture(job_file: Path, *, out: Path, page: str | None, windows: Sequence[str]) -> None:
    """Draw each window's panel, or the page of this name, into a file or several named after it."""
    with job_files.opened(job_file) as data:
        ending, approves = out.suffix.lower(), page == APPROVAL
        if ending not in {".png", ".svg"} and not (approves and ending == ".pdf"):
            endings = ".png, .svg or .pdf" if approves else ".png or .svg"
            raise FileError([Fault(str(out), f"name a file that ends in {endings}")])
        check_not_job_file(out, job_file, "--out")
        job = job_files.read(data, job_file, windows)
        plan = drapetemplate.plan_job(job)
        typeface = rendering.typeface()
        if page is None:
            pictures = panel_pictures(job, plan, typeface)
            names = [each.name for each in job.windows]
        elif approves:
            whole = approval_pages(job, plan, typeface)
            pages = [replace(whole, pages=(each,)) for each in whole.pages]
            pictures = (whole,) if ending == ".pdf" else tuple(pages)
            names = [each.label for each in whole.pages]
        else:
            pictures = (page_picture(job, plan, page, typeface),)
            names = [page]
        as_image = IMAGES[ending]
        targets = [out] if len(pictures) == 1 else numbered(out, len(pictures))
        for target in targets:
            check_not_job_file(target, job_file, "--out")
        # All are drawn before one is written.
        images = [as_image(picture) for picture in pictures]
        for target, image in zip(targets, images, strict=True):
            files.write(target, image)
    if len(targets) == 1:
        output.print_lines(targets)
    else:
        output.print_lines(f"{target}: {name}" for target, name in zip(targets, names, strict=True))
