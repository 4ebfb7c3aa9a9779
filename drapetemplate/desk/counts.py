"""The even counts about a window's own, side by side: each as a small picture, with its figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from drapetemplate.desk.pictures import as_svg
from drapetemplate.desk.reading import MOST_LAID, read_window
from drapetemplate.drawing.roles import LETTERS
from drapetemplate.errors import PaperError
from drapetemplate.job.model import Job
from drapetemplate.planning.codes import Level
from drapetemplate.planning.compare import Choice, compare_window
from drapetemplate.planning.finding_words import short
from drapetemplate.planning.model import WindowPlan
from drapetemplate.render.typeface import typeface
from drapetemplate.report.compare_text import choice_figures
from drapetemplate.ticket.from_above import SCREEN_STEPS, from_above
from drapetemplate.ticket.panel_pictures import closed_width, flat_strip
from drapetemplate.ticket.picture import Picture, scale_for

ROOM = 80.0
"""Millimetres that the widest of the small pictures may be wide, at the page's own size."""
MOST_DRAWN = 200
"""Eyelets a panel that can be told apart in so small a picture; with more there is none."""
SHOWN = {"gap": "gap", "pitch": "pitch", "wall free": "wall", "drops": "drops", "sheets": "sheets"}
"""Figures that stand under a picture, by their names where counts are compared."""
_NOT_KNOWN = "not known"


def counts(answers: Mapping[str, str], window: int) -> list[dict[str, Any]]:
    """Return the counts of one window of a page's answers, the lowest first, ready for JSON.

    All are drawn at one scale. None while something speaks against the answers.
    """
    read = read_window(answers, window, in_full=False)
    if read.job is None or read.plan is None:
        return []
    comparison = compare_window(read.job, read.plan.windows[0])
    planned = [choice.window for choice in comparison.choices if choice.window is not None]
    scale = scale_for(max(map(_width, planned)), ROOM)
    return [_count(read.job, choice, scale) for choice in comparison.choices]


def common(shown: Sequence[Mapping[str, Any]]) -> dict[str, list[dict[str, str]]]:
    """Return the stops and warnings that stand against every count that can be made.

    No count is better than another for them, so a page says them once. Of a single count none are.
    """
    planned = [each for each in shown if not each["fault"]]
    several = planned if len(planned) > 1 else []
    return {
        key: [each for each in several[0][key] if all(each in other[key] for other in several)]
        if several
        else []
        for key in ("stops", "warnings")
    }


def _count(job: Job, choice: Choice, scale: int) -> dict[str, Any]:
    """One count: its figures in words, "" for those not known, and what is found against it."""
    shown: dict[str, Any] = {
        "count": choice.count,
        "chosen": choice.chosen,
        "fault": choice.fault,
        **dict.fromkeys(SHOWN.values(), ""),
        "stops": [],
        "warnings": [],
        "picture": None,
    }
    window = choice.window
    if window is None:
        return shown
    grave: tuple[tuple[Level, str], ...] = (("stop", "stops"), ("warn", "warnings"))
    for level, key in grave:
        codes = (finding.code for finding in window.findings if finding.level == level)
        shown[key] = [{"code": code, "short": short(code, level)} for code in dict.fromkeys(codes)]
    shown |= _figures(job, choice, window)
    if choice.count <= MOST_DRAWN:
        picture = _picture(job, window, scale)
        shown["picture"] = as_svg(picture, f"{choice.count} eyelets")
    return shown


def _figures(job: Job, choice: Choice, window: WindowPlan) -> dict[str, str]:
    """What a count takes, in words; its sheets not where they take long to lay out."""
    on_sheets = choice.count <= MOST_LAID
    try:
        figures = list(choice_figures(job, choice, window, on_sheets=on_sheets))
    except PaperError:  # the paper is at fault whatever the count
        figures = list(choice_figures(job, choice, window, on_sheets=False))
    return {
        SHOWN[figure.name]: "" if figure.full == _NOT_KNOWN else figure.full
        for figure in figures
        if figure.name in SHOWN
    }


def _width(window: WindowPlan) -> float:
    """The room a count's picture takes across."""
    panel = window.panels[0]
    return float(panel.width) if panel.hang is None else closed_width(panel, panel.hang)


def _picture(job: Job, window: WindowPlan, scale: int) -> Picture:
    """The closed panel from above, without its gaps' letters; on hooks its heading flat."""
    panel = window.panels[0]
    if panel.hang is None:
        return flat_strip(job, panel, typeface(), scale)
    picture = from_above(
        job, window.window, panel, panel.hang, typeface(), scale, least_steps=SCREEN_STEPS
    )
    too_small = frozenset(LETTERS.values())
    marks = tuple(mark for mark in picture.marks if mark.role not in too_small)
    return replace(picture, marks=marks)
