"""One window of a page's answers as the page shows it: fields, findings, figures and pictures."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from drapetemplate.desk.form import form
from drapetemplate.desk.pictures import as_svg
from drapetemplate.desk.reading import WindowRead, read_window
from drapetemplate.desk.refusals import window_named
from drapetemplate.desk.remedies import remedied
from drapetemplate.interview.job_text import windows_in
from drapetemplate.job.model import Job
from drapetemplate.planning.finding_words import short
from drapetemplate.planning.model import PanelPlan, WindowPlan, worst_first
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.panel_views import window_pictures
from drapetemplate.wording import counted
from drapetemplate.words.figures import in_full, window_figures

ROOM = 180
"""Millimetres that a picture may be wide, at the page's own size, if the page doesn't say."""
LENGTH_UNKNOWN = "length not told: drawn at any length"
_OF_A_FILE = re.compile(r" \([a-z_.]+ (?:= |in \[)[^()]*\)")
"""What a job file's key is, in brackets: a page has none, but what a finding names to press."""
LEVELS = {"stop": "Stop", "warn": "Warning", "note": "Note"}


def look(answers: Mapping[str, str], window: int, room: float = ROOM) -> dict[str, Any]:
    """Return what a page shows of one window, from 1, ready for a JSON writer.

    Pictures are at most `room` mm wide, so that a page that has no more needn't show them, and the
    words in them, any smaller.

    While something speaks against the answers, or an answer is missing, there are no findings,
    figures and panels.
    """
    read = read_window(answers, window)
    shown: dict[str, Any] = {
        "form": form(read, answers),
        "faults": [{"path": fault.where, "text": fault.text} for fault in read.faults],
        "missing": list(read.missing),
        "windows": windows_named(answers),
        "findings": [],
        "figures": [],
        "panels": [],
    }
    if read.job is None or read.plan is None:
        return shown
    (planned,) = read.plan.windows
    shown["findings"] = findings_shown(answers, read.asked.counted, window, planned)
    shown["figures"] = _figures(read, read.job, planned)
    shown["panels"] = [_panel(read.job, planned, panel, room) for panel in planned.panels]
    return shown


def windows_named(answers: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return every window of the answers: its number and what it is called, safe to show."""
    return [
        {
            "number": number,
            "name": window_named(answers, number),
        }
        for number in range(1, windows_in(answers) + 1)
    ]


def findings_shown(
    answers: Mapping[str, str], counting: Mapping[str, str], window: int, planned: WindowPlan
) -> list[dict[str, Any]]:
    """Return a window's findings, worst first, each once, with its remedies to press.

    `counting` is what counts of the answers, at this window at least.
    """
    return [
        {
            "level": finding.level,
            "title": LEVELS[finding.level],
            "code": finding.code,
            "short": short(finding.code, finding.level),
            "text": _OF_A_FILE.sub("", finding.text),
            "remedies": [
                {**remedied(answers, counting, window, remedy)} for remedy in finding.remedies
            ],
        }
        for finding in worst_first(dict.fromkeys(planned.findings))
    ]


def _figures(read: WindowRead, job: Job, planned: WindowPlan) -> list[dict[str, str]]:
    """A window's figures, and the sheets that its strips take by themselves.

    `near` is what stands by the pictures, where it isn't the value's beginning.
    """
    rows = in_full(window_figures(job, planned))
    if read.strips is not None:
        rows.append(("template", counted(read.strips.sheets, "sheet")))
    figures = [{"name": name, "value": value} for name, value in rows]
    panel = planned.panels[0]
    # A count that another answer has moved says so where it is read at a glance.
    _, _, moved = panel.reason.partition("; ")
    if moved:
        eyelets = next(each for each in figures if each["name"] == "eyelets")
        eyelets["near"] = f"{panel.count}: {moved}"
    return figures


def _panel(job: Job, planned: WindowPlan, panel: PanelPlan, room: float) -> dict[str, Any]:
    """A panel's pictures with their captions; None for those that one on hooks hasn't."""
    drawn = window_pictures(
        job, replace(planned, panels=(panel,)), typeface(), room, on_screen=True
    )
    names = ("closed", "stacked", "front", "flat")[-len(drawn) :]
    pictures = {
        name: (words, as_svg(picture, words))
        for name, (words, picture) in zip(names, drawn, strict=True)
    }
    svg = {name: picture for name, (_, picture) in pictures.items()}
    return {
        "side": panel.side,
        "above": {name: svg.get(name) for name in ("closed", "stacked")},
        "front": svg.get("front"),
        "front_unknown": LENGTH_UNKNOWN if planned.length is None and "front" in svg else "",
        "flat": svg["flat"],
        "captions": {name: words for name, (words, _) in pictures.items()},
    }
