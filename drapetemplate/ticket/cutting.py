"""The cutting pages: what to buy, the cloth off the roll with every cut, and each panel raw.

A page is followed at the table from top to bottom: buy, lay and cut, then check each panel against
its drawing before it is sewn.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from drapetemplate.drawing.marks import Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Cloth, Job
from drapetemplate.measures import Length, format_length, format_order
from drapetemplate.planning.cloth import ClothOrder, ClothUse, wanted_length, wanted_run
from drapetemplate.planning.drops import Drop, MadePanel, drops, motif_from_edge
from drapetemplate.planning.model import Plan, WindowPlan
from drapetemplate.ticket import cut_pictures
from drapetemplate.ticket.cut_pictures import hem_or_seam
from drapetemplate.ticket.flow import BODY, LEADING, SMALL, Flow
from drapetemplate.ticket.picture import Picture, scale_for
from drapetemplate.ticket.windows_alike import twins_of
from drapetemplate.wording import Wording, all_of, counted
from drapetemplate.words.plan_words import (
    PARTS,
    cloth_called,
    drops_of_cloth,
    edge_of,
    lining_joined,
    order_rows,
    windows_named,
)

MOST_DRAWN = 120  # drops; the list has them all
LIST_BEGINS = 4  # lines of the cut list that stand together at its beginning
MOST_NUMBERS = 12  # of drops cut alike that are named one by one
BETWEEN = 6.0  # mm from a panel's drawing to the next
# mm of paper that a width of cloth and a raw panel may be high: the largest at which most pieces
# have their names, of these that take the fewest pages, and leave the fewest short. Beyond so many
# pages the largest are taken untried.
HEIGHTS = (
    (40.0, 112.0),
    (40.0, 88.0),
    (40.0, 76.0),
    (40.0, 70.0),
    (36.0, 112.0),
    (36.0, 100.0),
    (36.0, 88.0),
    (30.0, 100.0),
    (30.0, 88.0),
    (30.0, 76.0),
    (30.0, 62.0),
)
MOST_TRIED = 24
SHORT_NAME = re.compile(r"(?<= )([0-9]+)/([0-9]+)$")  # how a narrow piece says which it is
ROOM_FOR_WORDS = 60.0  # mm of a page beside a raw panel's picture

STEPS = (
    (
        "Check the cloth's width, length and flaws before the first cut. Press it and lay it face "
        "up, the start of the roll at the left, the top of every drop to the left: nap and pattern "
        "the same way. Square the start."
    ),
    (
        "Cut across at each heavy line. The measures under the roll run from the squared start; "
        "the list has each drop's own length."
    ),
    (
        "Cut along each dashed line. White is a piece, maybe of another panel, as it says; grey is "
        "left over. Mark every piece on its back: label, and an arrow to its top."
    ),
    (
        "Sew a panel's pieces together in order, 1 at its {edge}. Check its seams against the "
        "panel's drawing, then turn hems and heading."
    ),
)


def cutting(job: Job, plan: Plan, flow: Flow) -> tuple[tuple[Mark, ...], ...]:
    """The cutting pages, put on the empty page `flow`; none where the job names no cloth."""
    if not plan.order.cloth:
        return ()
    laid: list[Flow] = []
    for heights in HEIGHTS:
        laid.append(_filled(job, plan, flow.fresh(), *heights))
        if not 1 < len(laid[0].pages) <= MOST_TRIED:
            break
    best = min(laid, key=lambda filled: (_unnamed(filled), len(filled.pages), filled.short_pages))
    return best.numbered(job.details, "cutting")


def _unnamed(filled: Flow) -> int:
    """How many pieces are drawn on the pages too small for any name."""
    marks = [mark for page in filled.pages for mark in page]
    named = sum(isinstance(m, Text) and m.bold and m.role == Role.PIECE_LABEL for m in marks)
    return sum(mark.role == Role.PIECE for mark in marks) - named


def _filled(job: Job, plan: Plan, flow: Flow, roll_height: float, panel_height: float) -> Flow:
    """The empty `flow` with everything on it, its pictures no higher than these."""
    flow.line("CUTTING", SMALL, role=Role.KICKER)
    flow.paragraph(job.details.name, 6.0, bold=True, role=Role.TITLE)
    flow.heading("To buy for the whole job")
    flow.pairs(order_rows(job, plan), 1)
    flow.heading("At the table")
    edges = {panel.edge for window in plan.windows for panel in window.panels}
    edge = " edge, or its ".join(sorted(edges)) + " edge"
    edge += " if it is single" if len(edges) > 1 else ""
    for n, words in enumerate(STEPS, 1):
        flow.paragraph(words.format(edge=edge), SMALL, bullet=f"{n}")
    for order in plan.order.cloth:
        _cloth(flow, job, plan, order, roll_height)
    for windows in _cut_alike(plan):
        for use in windows[0].cloth:
            _panels(flow, job, windows, use, panel_height)
    return flow


def _cut_alike(plan: Plan) -> list[list[WindowPlan]]:
    """The windows in their order, those together whose panels are cut alike."""
    twins = twins_of(plan)
    groups: dict[tuple[object, ...], list[WindowPlan]] = {}
    for n, window in enumerate(plan.windows):
        cuts = [
            (use.part, use.panel_cut, use.seams and (use.seams.seams, use.seams.pieces))
            for use in window.cloth
        ]
        groups.setdefault((twins.get(n, n), *cuts), []).append(window)
    return list(groups.values())


def _cloth(flow: Flow, job: Job, plan: Plan, order: ClothOrder, height: float) -> None:
    """One cloth off the roll: its drops to scale, or why they can't be drawn; then the cut list."""
    say = Wording(job.units)
    name = order.fabric or f"{PARTS[order.part].capitalize()}, {cloth_called(order)}"
    across = "" if order.width is None else f", {say(order.width)} wide"
    if order.total is None or order.amount is None or order.width is None:
        missing = "its width" if order.width is None else "a finished length"
        flow.heading(f"{name}{across}")
        flow.paragraph(f"Drops not known: the job doesn't give {missing}.")
        return
    all_drops = list(drops(plan, order))
    cloths = list(dict.fromkeys(drop.cloth for drop in all_drops))
    flow.heading(
        f"{name}{across}: {drops_of_cloth(order)}, {say(order.total)}, "
        f"order {format_order(order.amount, order.unit)}",
        keep=height + 30,
    )
    longest = max(drop.length for drop in all_drops)
    scale = cut_pictures.roll_scale(order.width, longest, flow.width, height)
    shown = all_drops[:MOST_DRAWN]
    pictures = [
        cut_pictures.roll(job, row, order.width, flow.typeface, scale)
        for row in cut_pictures.roll_rows(shown, scale, flow.width)
    ]
    scaled, edges, *minded = roll_notes(job, cloths, scale)
    minded += _motif_cuts(plan, order, say)
    if any(drop.motif is not None for drop in all_drops):
        minded.append(
            "Lozenges: motifs' centres. Slit by the nearest one where it isn't just where the list "
            "has it"
        )
    shown_as = ". ".join((scaled, edges, *short_name(pictures)))
    flow.paragraph(f"{shown_as}.", SMALL, role=Role.CAPTION)
    for words in (*minded, *bought_over(order, say)):
        flow.paragraph(f"{words}.", SMALL, bullet="·", role=Role.CAPTION)
    for picture in pictures:
        flow.space(1.5)
        flow.room(picture.height)
        flow.pictures([picture])
    if len(all_drops) > len(shown):
        flow.paragraph(f"{len(all_drops) - len(shown)} more drops, cut as the list says.", SMALL)
    flow.space(1)
    flow.room(LIST_BEGINS * SMALL * LEADING)
    flow.paragraph("Across each drop, measured from the left selvage:", SMALL, bold=True)
    for bullet, words in cut_list(job, order.width, all_drops):
        flow.paragraph(words, SMALL, bullet=bullet, role=Role.CUT_LIST)


def _motif_cuts(plan: Plan, order: ClothOrder, say: Wording) -> Iterator[str]:
    """Where to cut from a motif's centre, window by window, and where the first cut is."""
    at, drawn = Fraction(0), False
    for window in plan.windows:
        for use in window.cloth:
            if use.cloth_key != order.cloth_key:
                continue
            lead = use.lead(at)
            if use.motif_cut is not None:
                below = say(window.window.motif_below or Fraction(0))
                begins = f"; begin {say(lead)} further on" if lead and drawn else ""
                if not drawn:
                    begins = f"; begin {say(lead)} from the squared start"
                yield (
                    f"{window.name}: cut {say(use.motif_cut)} above a motif's centre, which then "
                    f"hangs {below} below the finished top{begins}"
                )
            at += lead + (use.total or 0)
            drawn = True


def roll_notes(job: Job, cloths: Sequence[Cloth], scale: int) -> Iterator[str]:
    """What a picture of the roll shows, in words; `cloths` are the one cloth as windows say it."""
    yield f"Scale 1:{scale}"
    yield "Lower edge: left selvage. Wedge: the piece's top"
    said = (words for cloth in cloths for words in _cloth_notes(job, cloth))
    yield from dict.fromkeys(said)


def short_name(pictures: Sequence[Picture]) -> Iterator[str]:
    """What a piece's short name stands for, where one is drawn."""
    for picture in pictures:
        for mark in picture.marks:
            of_many = SHORT_NAME.search(mark.text) if isinstance(mark, Text) else None
            if of_many and mark.role == Role.PIECE_LABEL:
                yield f"{of_many[0]}: piece {of_many[1]} of {of_many[2]}"
                return


def bought_over(order: ClothOrder, say: Wording) -> Iterator[str]:
    """What the order has beside the drops, and what it is for."""
    if order.allowance:
        yield (
            f"The order has {say(order.allowance)} beside the drops, to square the start and cut "
            "round a flaw"
        )
    if order.repeat:
        yield (
            f"One vertical repeat more is bought, {say(order.repeat)}, to begin at a chosen place "
            "of the pattern"
        )
    if order.between:
        yield (
            f"{say(order.between)} more lies between windows whose motifs hang at different places "
            "of their cuts"
        )


def _cloth_notes(job: Job, cloth: Cloth) -> Iterator[str]:
    """How a cloth's pattern, its turning and its shrinkage tell on the roll."""
    for way, name, repeat in (
        ("long edges", "vertical", cloth.repeat_down),
        ("cut edges", "horizontal", cloth.repeat_across),
    ):
        if repeat:
            yield f"Ticks on the {way}: {name} repeat, {format_length(repeat, job.units)}"
    if cloth.repeat_down:
        yield "Begin every drop at the same place in the pattern"
    if cloth.repeat_across and not cloth.railroad:
        yield (
            "Slit where the list says: all seams then fall on the same place in the pattern, and "
            "match"
        )
    if cloth.railroad:
        yield "Railroaded: every panel's top toward the same selvage, here the upper edge"
    if cloth.shrinkage:
        yield f"Cut lengths include {float(cloth.shrinkage) * 100:g} % for shrinkage"


def cut_list(job: Job, width: Length, all_drops: Sequence[Drop]) -> Iterator[tuple[str, str]]:
    """Drops cut alike together: how many, and what lies across them from the left selvage."""
    alike: dict[tuple[Length, str], list[int]] = {}
    for drop in all_drops:
        alike.setdefault((drop.length, _across(job, width, drop)), []).append(drop.number)
    for (length, across), numbers in alike.items():
        names = ", ".join(map(str, numbers[:MOST_NUMBERS])) + (
            f" … {len(numbers)} in all" if len(numbers) > MOST_NUMBERS else ""
        )
        noun = "Drop" if len(numbers) == 1 else "Drops"
        yield f"{noun} {names}", f"{format_length(length, job.units)} long. {across}"


def _across(job: Job, width: Length, drop: Drop) -> str:
    """What lies across a drop, from its left selvage, and where it is slit."""
    say = Wording(job.units)
    parts = []
    edge = Fraction(0)
    for piece in drop.pieces:
        if piece.left - edge >= cut_pictures.SLIVER:
            parts.append(f"{say(piece.left - edge)} left over")
        # Drops of a window's pairs are alike, so the pair's number is left out.
        alike = replace(piece, panel=MadePanel(piece.panel.side))
        words = [*cut_pictures.piece_words(job, drop, alike)]
        motif = motif_from_edge(drop, piece)
        if motif is not None:
            words.append(f"a motif's centre {say(motif)} from its left edge")
        parts.append(", ".join(filter(None, words)))
        edge = piece.left + piece.width
    if width - edge >= cut_pictures.SLIVER:
        parts.append(f"{say(width - edge)} left over")
    slits = [say(at) for at in cut_pictures.slits(drop, width)]
    cut = f"Slit at {all_of(slits)}: " if slits else "Not slit: "
    turned = "Turned. " if drop.turned else ""
    if cut_pictures.is_trimmed(drop):
        turned += f"Trim to {say(drop.length - drop.over)}, {say(drop.over)} left over. "
    return turned + cut + "; ".join(parts)


def _panels(
    flow: Flow, job: Job, windows: Sequence[WindowPlan], use: ClothUse, most: float
) -> None:
    """The panels of windows that are cut alike, of one cloth: flat, raw, side by side as hung."""
    if use.seams is None:
        return
    window, names = windows[0], windows_named([each.name for each in windows])
    named = len(windows) == 1  # else the heading alone says whose it is
    each = (flow.width - BETWEEN * (len(window.panels) - 1)) / len(window.panels)
    width, length = cut_pictures.raw_size(window.panels[0], use)
    most = min(most, flow.height - ROOM_FOR_WORDS)
    scale = max(scale_for(width, each), scale_for(length, most))
    pictures = [
        cut_pictures.raw_panel(job, window, panel, use, flow.typeface, scale, named=named)
        for panel in window.panels
    ]
    height = max(picture.height for picture in pictures)
    which = "each panel flat and raw, from the face"
    if use.part == "lining":
        which = "each lining flat and raw, as it lies behind its panel seen from the room"
    flow.heading(f"{names}: {which}", keep=height + 6 * BODY)
    flow.paragraph(". ".join(panel_words(job, window, use, scale)) + ".", SMALL, role=Role.CAPTION)
    flow.space(1.5)
    flow.room(height)
    flow.pictures(pictures, between=BETWEEN)


def panel_words(job: Job, window: WindowPlan, use: ClothUse, scale: int) -> Iterator[str]:
    """What the drawings of a window's raw panels show, in words."""
    say = Wording(job.units)
    seams = use.seams
    unknown = ", length not known and not to scale" if use.length is None else ""
    yield f"Scale 1:{scale}{unknown}"
    cloth = use.cloth
    by_length = "" if use.length is None else f", finished length {say(use.length)}"
    yield f"Finished width {say(use.width)}{by_length}"
    if cloth.joined is not None:
        yield lining_joined(cloth, say).capitalize()
        yield "The lining's right side is down here, toward the window"
    side, bottom = (hem_or_seam(cloth, hem) for hem in (cloth.side_hem, cloth.bottom_hem))
    top, caught = f"heading {say(cloth.heading)}, ", ""
    if cloth.joined is not None and not cloth.heading:
        top, caught = "", ", its raw top caught under the face's heading"
    hems = f"{top}bottom {bottom} {say(cloth.bottom_hem)}{caught}"
    yield f"Cloth turned in: side {side}s {say(cloth.side_hem)} each edge, {hems}"
    if seams is not None and seams.seams:
        places = ", ".join(map(say, seams.seams))
        yield f"Seams, as finished, from {edge_of(use.part, window.panels[0].edge)}: {places}"
        widths = ", ".join(f"{n} is {say(piece)}" for n, piece in enumerate(seams.pieces, 1))
        yield f"Pieces as cut, from the same edge: {widths}"
        yield f"Seam allowance {say(use.cloth.seam)} on each piece"
    repeat = cloth.repeat_down
    if repeat is None or use.cut is None:
        return
    in_repeats = f"{counted(int(use.cut / repeat), 'vertical repeat')} of {say(repeat)}"
    if cloth.railroad:
        wanted = wanted_run(cloth, use.width)
        over = f"{say(use.cut - wanted)} left over at the run's end"
        yield f"Run {say(use.cut)}, {in_repeats}: {say(wanted)} wanted, {over}"
    elif use.length is not None:
        wanted = wanted_length(cloth, use.length)
        over = f"{say(use.cut - wanted)} left over at the foot"
        yield f"Cut {say(use.cut)}, {in_repeats}: {say(wanted)} wanted, {over}"
