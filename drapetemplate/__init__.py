"""A job file in; the plan of eyelet-topped draperies and a 1:1 marking template out.

The functions here are the whole of the public interface, and what the command line itself calls.
Each is one step, a pure function of frozen values; a caller reads and writes the files:

    data = Path("my_job.toml").read_bytes()
    job = drapetemplate.read_job(data, "my_job.toml")
    plan = drapetemplate.plan_job(job)
    for document in drapetemplate.lay_out(job, plan):
        pdf = drapetemplate.to_pdf(document, data)

Lengths are exact `fractions.Fraction`s of a millimetre. Everything that can't be done is told by a
`DrapeError`, whose `faults` each name a key or a file and say what would be right.
"""

# Each step loads what it needs when it is first called: planning takes no PDF library.
# ruff: noqa: PLC0415

from __future__ import annotations

from drapetemplate.version import __version__

# As `typing` has it, which takes as long to load as Python itself: the version is told without.
TYPE_CHECKING = False

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from drapetemplate.document.cut_drawing import CutDrawing
    from drapetemplate.document.model import Document
    from drapetemplate.errors import DrapeError, Fault, FileError, JobError, PaperError, StopError
    from drapetemplate.job.factors import Factors
    from drapetemplate.job.model import Job
    from drapetemplate.measure.check_pdf import Measured
    from drapetemplate.planning.model import Plan

__all__ = [
    "DrapeError",
    "Fault",
    "FileError",
    "JobError",
    "PaperError",
    "StopError",
    "__version__",
    "cut_drawings",
    "lay_out",
    "measure_pdf",
    "narrowed",
    "plan_job",
    "read_job",
    "recall_job",
    "to_dxf",
    "to_pdf",
    "to_svg",
]


if not TYPE_CHECKING:  # what is checked are the errors' own types, and no name is let through

    def __getattr__(name):  # noqa: ANN001, ANN202  # never checked
        """Return an error's class, loaded when it is first asked for."""
        if name in __all__:
            from drapetemplate import errors

            return getattr(errors, name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}", name=name)


def read_job(data: bytes, source: str = "job.toml") -> Job:
    """Return the job in a job file's bytes, with every default filled in.

    `source` names the file in messages. JobError with every fault of the file at once.
    """
    from drapetemplate.job.build import read_job

    return read_job(data, source)


def narrowed(job: Job, windows: Sequence[str]) -> Job:
    """Return the job with only the windows of these names; JobError for a name it hasn't."""
    from drapetemplate.job.model import narrowed

    return narrowed(job, windows)


def plan_job(job: Job) -> Plan:
    """Return every figure and finding of a job; JobError where it leaves nothing to plan.

    A stop is a finding like another here: `plan.stops` lists them.
    """
    from drapetemplate.planning.plan import plan

    return plan(job)


def lay_out(
    job: Job, plan: Plan, *, accepted: Iterable[str] = (), printer: Factors | None = None
) -> tuple[Document, ...]:
    """Return every mark of the job's PDF, page by page in mm: one document, on a roll two.

    `accepted` are codes of stop findings that someone takes on; StopError for any other that the
    plan has. `printer` is corrected for; PaperError where the paper leaves no room.
    """
    from drapetemplate.document.job_document import documents
    from drapetemplate.render.typeface import typeface

    codes = frozenset(accepted)
    _check_stops(plan, codes)
    return documents(job, plan, typeface(), codes, printer)


def _check_stops(plan: Plan, accepted: frozenset[str]) -> None:
    """StopError where a plan has stops that aren't among those accepted."""
    from drapetemplate.errors import Fault, StopError
    from drapetemplate.words.plan_words import findings_told

    if any(stop.code not in accepted for stop in plan.stops):
        raise StopError(
            Fault(finding.code, text)
            for finding, text in findings_told(plan)
            if finding.level == "stop" and finding.code not in accepted
        )


def to_pdf(document: Document, job_file: bytes) -> bytes:
    """Return a document as PDF/A-3b, the job file's bytes in it: the same in, the same out."""
    from drapetemplate.record.write import as_record

    return as_record(document, job_file)


def cut_drawings(job: Job, plan: Plan, *, accepted: Iterable[str] = ()) -> tuple[CutDrawing, ...]:
    """Return every strip of a job, whole and at true size, as a cutting machine draws it.

    StopError as `lay_out` has it. No printer is corrected for, whatever the job names.
    """
    from drapetemplate.document.cut_drawing import cut_drawings
    from drapetemplate.render.typeface import typeface

    codes = frozenset(accepted)
    _check_stops(plan, codes)
    return cut_drawings(job, plan, typeface(), codes)


def to_dxf(drawing: CutDrawing) -> bytes:
    """Return a strip for a cutting machine as DXF of release 12: the same in, the same out."""
    from drapetemplate.render.backend import render_cut
    from drapetemplate.render.dxf import DxfBackend

    return render_cut(drawing, DxfBackend())


def to_svg(drawing: CutDrawing) -> bytes:
    """Return a strip for a cutting machine as SVG: the same in, the same out."""
    from drapetemplate.render.backend import render_cut
    from drapetemplate.render.svg import CutSvgBackend

    return render_cut(drawing, CutSvgBackend(drawing.title))


def recall_job(pdf: bytes, source: str = "the PDF") -> bytes:
    """Return the job file's bytes out of a PDF made from it; FileError where it holds none."""
    from drapetemplate.job.parse import MOST_BYTES
    from drapetemplate.record.read import job_in

    return job_in(pdf, source, MOST_BYTES)


def measure_pdf(pdf: bytes, source: str = "the PDF") -> Measured:
    """Return a PDF's own marks measured against the job inside it, laid out again.

    FileError where it can't be read; all that is wrong with what it draws is in `flaws`.
    """
    from drapetemplate.measure.check_pdf import measure
    from drapetemplate.render.typeface import typeface

    return measure(pdf, source, typeface(), to_pdf)
