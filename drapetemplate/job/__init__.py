"""A job file's bytes in, a `Job` out: every key read, every default filled in and remembered."""

from drapetemplate.job.build import read_job
from drapetemplate.job.model import (
    Assumption,
    Band,
    Cloth,
    Details,
    Eyelet,
    Job,
    Paper,
    Pole,
    Window,
    narrowed,
)

__all__ = [
    "Assumption",
    "Band",
    "Cloth",
    "Details",
    "Eyelet",
    "Job",
    "Paper",
    "Pole",
    "Window",
    "narrowed",
    "read_job",
]
