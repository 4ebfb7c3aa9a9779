"""Job files from few words, read and planned; every name in them belongs to an invented house."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from drapetemplate.job.build import read_job
from drapetemplate.job.model import Job
from drapetemplate.measures import INCH
from drapetemplate.planning.model import PanelPlan, Plan, WindowPlan
from drapetemplate.planning.plan import plan

NAME = "Heron Point, linen store"
LEAST = """units = "in"
[job]
name = "Heron Point, writing room"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
[[window]]
width = "88"
"""
NO_HOLE = 'outside = "2 in"\nopening = "1 in"'
"""An eyelet whose die nobody measured, which is a warning."""
RING = f'{NO_HOLE}\nhole = "1 in"'
USUAL = "width = 60\nlength = 84"
WALL = '[pole]\nprojection = 4\ndiameter = "5/8"'
NEAR = '[pole]\nprojection = 2\ndiameter = "5/8"'
"""Poles that the folds of the usual window clear, and don't."""


def inches(text: str) -> Fraction:
    """Exact millimetres of a measure in inches, such as "47 5/8", "381/8" or "2.5 in"."""
    return sum(map(Fraction, text.removesuffix(" in").split()), start=Fraction(0)) * INCH


def mixed(number: Fraction) -> str:
    """A number as a job file takes it, which refuses a fraction of 1 or more."""
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else str(number)


def job_toml(
    *windows: str, head: str = "", job: str = "", eyelet: str = RING, tables: str = ""
) -> str:
    """A job file: each of `windows` the body of one [[window]], `tables` whole tables."""
    body = "\n".join(f"[[window]]\n{window}" for window in windows or ("width = 60",))
    return f'{head}\n[job]\nname = "{NAME}"\n{job}\n[eyelet]\n{eyelet}\n{tables}\n{body}\n'


def written(folder: Path, *windows: str, tables: str = WALL, eyelet: str = RING) -> Path:
    """The same as a file in a folder; on a pole that is clear of its wall."""
    path = folder / "linen_store.toml"
    path.write_text(job_toml(*windows, tables=tables, eyelet=eyelet), encoding="utf-8")
    return path


def job_of(
    *windows: str, head: str = "", job: str = "", eyelet: str = RING, tables: str = ""
) -> Job:
    """The same, read."""
    text = job_toml(*windows, head=head, job=job, eyelet=eyelet, tables=tables)
    return read_job(text.encode(), "job.toml")


def plan_of(*windows: str, head: str = "", eyelet: str = RING, tables: str = "") -> Plan:
    """The same, planned."""
    return plan(job_of(*windows, head=head, eyelet=eyelet, tables=tables))


def window_of(*windows: str, head: str = "", eyelet: str = RING, tables: str = "") -> WindowPlan:
    """The plan's first window."""
    return plan_of(*windows, head=head, eyelet=eyelet, tables=tables).windows[0]


def panel_of(*windows: str, head: str = "", eyelet: str = RING, tables: str = "") -> PanelPlan:
    """The first panel of the plan's first window."""
    return window_of(*windows, head=head, eyelet=eyelet, tables=tables).panels[0]
