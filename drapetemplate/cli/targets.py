"""Job files and --out in, the files to write out: checked before anything is done."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from pathlib import Path

from drapetemplate import files
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.files import LONGEST_NAME, file_part
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import MOST_BYTES

PLACEHOLDERS = ("number", "name", "file")
_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")


def choose_targets(job_files: Sequence[Path], out: Path | None) -> list[Path]:
    """Return where each job's PDF goes; FileError where two would go to the same place."""
    if out is not None and _PLACEHOLDER.search(str(out)):
        pattern = str(out)
        pattern = pattern if pattern.lower().endswith(".pdf") else f"{pattern}.pdf"
        targets = _fill_in(job_files, pattern)
    elif out is None or os.path.isdir(out):  # noqa: PTH112  # likewise
        targets = [(out or Path()) / f"{job_file.stem}.pdf" for job_file in job_files]
    elif len(job_files) == 1:
        targets = [out]
    else:
        text = "for several jobs, name a folder that is there, or put {name} or {file} in it"
        raise FileError([Fault(str(out), text)])
    before: dict[Path, int] = {}
    for n, target in enumerate(targets):
        before.setdefault(target, n)
    faults = [
        Fault(
            str(job_file), f"its PDF, {target}, is an earlier job's too: make it alone with --out"
        )
        for n, (job_file, target) in enumerate(zip(job_files, targets, strict=True))
        if before[target] < n
    ]
    taken = {os.path.realpath(path) for path in job_files}  # Path's own raises on a loop
    faults += [
        Fault(str(job_file), "the PDF would replace a job file: name another with --out")
        for job_file, target in zip(job_files, targets, strict=True)
        if os.path.realpath(target) in taken
    ]
    if faults:
        raise FileError(faults)
    return targets


CUT_ENDINGS = (".dxf", ".svg")


def choose_cut_target(job_file: Path, out: Path) -> Path:
    """Return where a job's cut file goes, before its strips are told apart: a DXF in a folder.

    FileError for a name that ends otherwise than in .dxf or .svg.
    """
    if os.path.isdir(out):  # noqa: PTH112  # Path's own raises on a name too long
        return out / f"{job_file.stem}.dxf"
    if out.suffix.lower() not in CUT_ENDINGS:
        text = "name a file that ends in .dxf or .svg, or a folder that is there"
        raise FileError([Fault(str(out), text)])
    if _PLACEHOLDER.search(str(out)):
        (out,) = _fill_in([job_file], str(out))
    return out


def lettered(target: Path, letter: str) -> Path:
    """Return a file's name for the strip of this letter; the same where there is none.

    >>> lettered(Path("bay.dxf"), "A").name, lettered(Path("bay.dxf"), "").name
    ('bay-A.dxf', 'bay.dxf')
    """
    return target.with_name(f"{target.stem}-{letter}{target.suffix}") if letter else target


def make_folders(targets: Sequence[Path], out: Path | None) -> None:
    """Make the folders of targets that a pattern names; without one they must be there."""
    if out is not None and "{" in str(out):
        for folder in {target.parent for target in targets}:
            files.make_folder(folder)


def _fill_in(job_files: Sequence[Path], pattern: str) -> list[Path]:
    """The pattern with each job's number, name or file in the place of {number}, {name}, {file}.

    A job that can't be read takes its file's name for all: making it says what is wrong with it.
    """
    unknown = [word for word in _PLACEHOLDER.findall(pattern) if word not in PLACEHOLDERS]
    if unknown:
        known = ", ".join(f"{{{word}}}" for word in PLACEHOLDERS)
        text = f"{{{unknown[0]}}} stands for nothing: use {known}"
        raise FileError([Fault("--out", text)])
    # However many values a name has, all of them fit.
    literal, parts = _PLACEHOLDER.subn("", Path(pattern).name)
    most = (LONGEST_NAME - len(os.fsencode(literal))) // max(1, parts)
    targets = []
    for path in job_files:
        words = dict.fromkeys(PLACEHOLDERS, path.stem)
        try:
            details = read_job(files.read(path, MOST_BYTES), str(path)).details
            words |= {"name": details.name, "number": details.number or "unnumbered"}
        except DrapeError:
            pass
        filled = pattern
        # A value can't bring a placeholder of its own: its braces are made safe too.
        for word, value in words.items():
            filled = filled.replace(f"{{{word}}}", file_part(value, max(1, most)))
        targets.append(Path(filled))
    return targets


def check_not_job_file(target: Path, job_file: Path, option: str) -> None:
    """FileError where a target is the job file itself."""
    if os.path.realpath(target) == os.path.realpath(job_file):
        raise FileError([Fault(option, "would replace the job file itself: name another file")])


def numbered(target: Path, count: int) -> list[Path]:
    """Return `count` files named after one, in an order that any listing keeps.

    >>> [path.name for path in numbered(Path("panel.png"), 10)][:2]
    ['panel-01.png', 'panel-02.png']
    """
    digits = len(str(count))
    return [
        target.with_name(f"{target.stem}-{n:0{digits}}{target.suffix}") for n in range(1, count + 1)
    ]
