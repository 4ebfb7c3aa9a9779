"""Jobs planned to be ordered for together; every name in them belongs to an invented house."""

from __future__ import annotations

from hashlib import sha256

from drapetemplate.job.build import read_job
from drapetemplate.planning.joint_order import PlannedJob
from drapetemplate.planning.plan import plan
from tests.helpers.jobfiles import NAME, RING, job_toml

# One panel raw: 74 + 2 hems of 1 1/2 = 77 in, two widths of 54. Its cut 84 + 8 + 8 = 100 in: a pair
# takes four drops, 400 in. Its eyelets are 24.
PAIR = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
LINEN = '[fabric]\nname = "Heron linen"\nwidth = 54\nallowance = 0'


def order_toml(
    name: str,
    *windows: str,
    job: str = "",
    eyelet: str = RING,
    tables: str = LINEN,
    head: str = 'units = "in"',
) -> str:
    """The job file of a job of this name at Heron Point."""
    text = job_toml(*(windows or (PAIR,)), head=head, job=job, eyelet=eyelet, tables=tables)
    return text.replace(NAME, f"Heron Point, {name}")


def planned(text: str, source: str = "job.toml") -> PlannedJob:
    """A job file's text, read and planned."""
    job = read_job(text.encode(), source)
    return PlannedJob(
        job=job,
        plan=plan(job),
        sources=(source,),
        in_job_file=source.endswith(".toml"),
        identity=sha256(text.encode()).hexdigest(),
    )
