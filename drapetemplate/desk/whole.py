"""The whole job of a page's answers: its paper, its cloth and how it is cut, and what to buy."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from drapetemplate.desk.look import findings_shown
from drapetemplate.desk.pictures import as_svg
from drapetemplate.desk.reading import read_whole
from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_order
from drapetemplate.planning.cloth import ClothOrder, ClothUse
from drapetemplate.planning.drops import drops
from drapetemplate.planning.model import PanelPlan, Plan, WindowPlan
from drapetemplate.planning.seam_places import FLANGE_CLEARANCE
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.joins import CLEAR, Clear
from drapetemplate.sheets.sheet import clear_laps, clear_row_laps
from drapetemplate.sheets.strip_list import PlacedStrip, StripList
from drapetemplate.sheets.tiling import turns_of
from drapetemplate.ticket import cut_pictures
from drapetemplate.ticket.cutting import bought_over, cut_list, roll_notes, short_name
from drapetemplate.ticket.picture import Picture, scale_for
from drapetemplate.wording import Wording, counted
from drapetemplate.words.plan_words import (
    PARTS,
    cloth_called,
    drops_of_cloth,
    edge_of,
    order_rows,
    roll_taken,
    windows_named,
)

ROOM, HIGH = 180.0, 40.0
"""Millimetres that a row of drops may be wide, and the cloth high, at the page's own size."""
PANEL_HIGH = 90.0
MOST_DROPS, MOST_PANELS = 40, 12
"""Drops of a cloth, and windows' raw panels, that a page draws; the PDF has them all."""


def whole(answers: Mapping[str, str], accept: Collection[str] = ()) -> dict[str, Any]:
    """Return what a page shows of the whole job, ready for a JSON writer.

    `accept` are codes of stops that someone takes on. While something speaks against the answers,
    or one is missing, there is nothing but that.
    """
    read = read_whole(answers)
    shown: dict[str, Any] = {
        "faults": [{"path": fault.where, "text": fault.text} for fault in read.faults],
        "missing": list(read.missing),
        "findings": [],
        "stops": [],
        "paper": None,
        "cloth": [],
        "windows": [],
        "order": [],
    }
    if read.job is None or read.plan is None:
        return shown
    shown["findings"] = [
        {**finding, "window": number, "name": planned.name}
        for number, planned in enumerate(read.plan.windows, 1)
        for finding in findings_shown(answers, read.asked.counted, number, planned)
    ]
    shown["stops"] = _stops(read.plan, accept)
    shown["windows"] = [
        {
            "number": number,
            "name": planned.name,
            "stops": _how_many(planned, "stop"),
            "warnings": _how_many(planned, "warn"),
        }
        for number, planned in enumerate(read.plan.windows, 1)
    ]
    if read.strips is not None:
        shown["paper"] = _paper(read.job, read.strips)
    shown["cloth"] = list(_cloths(read.job, read.plan))
    shown["order"] = [f"{name}: {value}" for name, value in order_rows(read.job, read.plan)]
    return shown


def _how_many(planned: WindowPlan, level: str) -> int:
    """How many different findings of a level a window has."""
    return len({finding for finding in planned.findings if finding.level == level})


def _stops(plan: Plan, accept: Collection[str]) -> list[dict[str, Any]]:
    """Every stop's code once: at which windows, and whether it is taken on."""
    windows: dict[str, list[int]] = {}
    for number, planned in enumerate(plan.windows, 1):
        for code in {finding.code for finding in planned.findings if finding.level == "stop"}:
            windows.setdefault(code, []).append(number)
    return [
        {"code": code, "windows": at, "accepted": code in accept}
        for code, at in sorted(windows.items())
    ]


def _paper(job: Job, strips: StripList) -> dict[str, Any]:
    """How many sheets, which way round, how many joins to tape; and of each strip in a line."""
    tilings = [tiling for strip in strips.strips for tiling in strip.tilings]
    joins = sum(map(_joins, strips.strips))
    orientation = turns_of(tilings)
    sheets, taped = counted(strips.sheets, "template sheet"), counted(joins, "join")
    in_all = f"{sheets} of {job.paper.name}, {orientation}, {taped if joins else 'nothing'} to tape"
    if strips.roll is not None:
        taken = roll_taken(strips.pages, strips.roll.length, job.units)
        in_all += f", on {taken}"
    lines = [in_all, *(_strip(strip, strips) for strip in strips.strips)]
    return {"sheets": strips.sheets, "orientation": orientation, "joins": joins, "words": lines}


def _joins(strip: PlacedStrip) -> int:
    """How many joins a strip has, along it and between rows."""
    return sum(len(tiling.joins) * tiling.rows + len(tiling.row_joins) for tiling in strip.tilings)


def _strip(strip: PlacedStrip, strips: StripList) -> str:
    """A strip's windows and side, its sheets and joins, and what those run over at worst."""
    names = windows_named([window.name for window in strip.windows])
    side = f"{strip.panel.side} panel" if strip.other is None else "both panels"
    joins = _joins(strip)
    words = f"{names}, {side}: {counted(strip.sheets, 'sheet')}, {counted(joins, 'join')}"
    return f"{words}, {_CLEAR[_worst(strip, strips)]}" if joins else words


def _worst(strip: PlacedStrip, strips: StripList) -> Clear:
    """What a strip's joins run over at worst."""
    kinds = [
        kind
        for piece in strip.pieces
        for laps in (clear_laps, clear_row_laps)
        for kind in laps(piece.strip, piece.tiling, strips.paper)
    ]
    return max(kinds, key=CLEAR.index)


_CLEAR: dict[Clear, str] = {
    "outside": "all clear of the eyelets",
    "hole": "some over an eyelet's flange, none over a hole",
    "hole only": "some over an eyelet's flange, none over a hole",
    "whole": "some over a hole, each whole on one sheet",
    "hole whole": "some over a hole, each whole on one sheet",
    "cut": "some through a hole",
}
"""What a strip's joins run over, at worst, in a few words; the assembly page has each join's."""


def _cloths(job: Job, plan: Plan) -> Iterator[dict[str, Any]]:
    """Each cloth: how it is cut off the roll, and each window's panels of it, raw."""
    drawn = 0
    for order in plan.order.cloth:
        words, pictures = _off_the_roll(job, plan, order)
        for planned in plan.windows:
            for use in planned.cloth:
                if use.cloth_key != order.cloth_key or use.seams is None:
                    continue
                words += _seams(job, planned, use, several=len(plan.windows) > 1)
                if drawn < MOST_PANELS:
                    drawn += 1
                    pictures.append(_raw(job, planned, use))
        yield {
            "part": PARTS[order.part],
            "fabric": cloth_called(order),
            "words": words,
            "pictures": pictures,
        }


def _off_the_roll(job: Job, plan: Plan, order: ClothOrder) -> tuple[list[str], list[str]]:
    """A cloth's drops in words and pictures, as the cutting page has them."""
    say = Wording(job.units)
    if order.total is None or order.amount is None or order.width is None:
        missing = "its width" if order.width is None else "a finished length"
        return [f"Drops not known: the job doesn't give {missing}"], []
    all_drops = list(drops(plan, order))
    taken = f"{drops_of_cloth(order)}, {say(order.total)}"
    words = [f"{say(order.width)} wide: {taken}, order {format_order(order.amount, order.unit)}"]
    scale = cut_pictures.roll_scale(order.width, max(drop.length for drop in all_drops), ROOM, HIGH)
    cloths = list(dict.fromkeys(drop.cloth for drop in all_drops))
    rows = list(cut_pictures.roll_rows(all_drops[:MOST_DROPS], scale, ROOM))
    drawn = [cut_pictures.roll(job, row, order.width, typeface(), scale) for row in rows]
    _, *notes = roll_notes(job, cloths, scale)
    words += [*notes, *bought_over(order, say), *short_name(drawn)]
    words += [f"{which}: {across}" for which, across in cut_list(job, order.width, all_drops)]
    pictures = []
    for row, picture in zip(rows, drawn, strict=True):
        first, last = row[0].number, row[-1].number
        which = f"drop {first}" if first == last else f"drops {first} to {last}"
        pictures.append(as_svg(picture, f"Off the roll, {which}. Scale 1:{scale}"))
    if len(all_drops) > MOST_DROPS:
        words.append(f"{len(all_drops) - MOST_DROPS} more drops, cut as the list says")
    return words, pictures


def _raw(job: Job, planned: WindowPlan, use: ClothUse) -> str:
    """A window's first panel of a cloth, flat and raw."""
    panel = planned.panels[0]
    width, length = cut_pictures.raw_size(panel, use)
    scale = max(scale_for(width, ROOM), scale_for(length, PANEL_HIGH))
    picture: Picture = cut_pictures.raw_panel(job, planned, panel, use, typeface(), scale)
    lining = ", lining" if use.part == "lining" else ""
    words = f"{planned.name}{lining}: the {panel.side} panel flat and raw. Scale 1:{scale}"
    return as_svg(picture, words)


def _seams(job: Job, planned: WindowPlan, use: ClothUse, *, several: bool) -> list[str]:
    """What each seam of a window's panels falls on, a line each."""
    seams, panel = use.seams, planned.panels[0]
    if seams is None:
        return []
    where = [planned.name] if several else []
    where += ["lining"] if use.part == "lining" else []
    say = Wording(job.units)
    lines = []
    for number, seam in enumerate(seams.seams):
        kept_off = use.cloth.seam + FLANGE_CLEARANCE.of(job.units)
        falls = _falls_on(panel, seam + use.cloth.set_in, kept_off)
        fails = number in use.failing
        judged = "" if not fails else ", meets it" if number in seams.struck else ", in sight"
        place = f"{say(seam)} from {edge_of(use.part, panel.edge)}"
        lines.append(f"{', '.join([*where, 'seam'])} at {place}: {falls}{judged}")
    return lines


def _falls_on(panel: PanelPlan, seam: Length, kept_off: Length) -> str:
    """What a place of the panel is: in which gap, beyond the eyelets, or at one a seam meets."""
    centers = panel.centers
    reach = panel.outside / 2 + kept_off
    near, beyond = bisect_right(centers, seam - reach), bisect_left(centers, seam + reach)
    if near < beyond:
        first = near + 1
        return f"at eyelet {first}" if first == beyond else f"at eyelets {first} and {first + 1}"
    before = bisect_right(centers, seam)
    if before == 0:
        return f"before the first eyelet, at the {panel.edge} edge"
    if before == len(centers):
        return "beyond the last eyelet"
    kind = _KINDS[panel.gaps[before - 1]] if panel.gaps else "in the gap"
    return f"{kind} between eyelets {before} and {before + 1}"


_KINDS = {"front": "in front, in the gap", "back": "behind the pole, in the gap"}
