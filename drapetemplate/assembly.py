"""How a strip's sheets are put together: its parts in small, the order of taping, what to check.

One strip's sheets in, its assembly page out; a strip that is whole on one sheet needs none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from drapetemplate import drawing
from drapetemplate.drawing import Circle, Line, Mark, Pen, Polygon
from drapetemplate.flow import Flow
from drapetemplate.job import Job
from drapetemplate.joins import windows
from drapetemplate.measures import Length, format_length
from drapetemplate.picture import scale_for
from drapetemplate.planning.plan import PanelPlan
from drapetemplate.sheets import SheetSet
from drapetemplate.stepping import steps
from drapetemplate.template import Template

SMALL = 2.75
OUTLINE = Pen(0.3)
JOIN = Pen(0.45)
THIN = Pen(0.15)
LEAST_PART = 10.0  # mm of paper a part may be drawn long, so that its name can be read
MOST_PARTS = 40  # drawn; more are named in words
CHECKED = 5

STEPS = (
    (
        "Check the bars on every sheet first. Lay the sheets out in this order on a flat table, "
        "print up."
    ),
    (
        "Work from left to right. Cut the next part on its solid line and lay it over the one "
        "before, its cut edge on the dashed line, crosses in circles on one another."
    ),
    (
        "Tape across each join above and below the band first, then once on the band between two "
        "eyelets. No tape over a hole circle or a registration mark: pens and pins slip there."
    ),
    (
        "Tape in runs of four or five parts, check each run against the measures below, then join "
        "the runs."
    ),
)

STEPPING = (
    "Lay the {edge} end on the band, its panel end on the band's; trace holes 1 and 2.",
    (
        "Lay the stepping piece with A on hole 1, B on hole 2, its band lines on the band's edges; "
        "trace B and C. Then lay A on the hole that was C, and so on, as the table says."
    ),
    (
        "After every step measure C from the {edge} edge by ruler before it is traced: steps add "
        "up, measures don't. Off by more than 1 mm (1/32 in): shift the piece to the measure."
    ),
    (
        "Lay the far end on the last two holes; trace hole {last} and the panel end. Measure the "
        "whole from end to end."
    ),
)

CLEARANCE = {
    "outside": "",
    "hole": "Laps cross some eyelets' outside circles, but no hole: take care where they meet.",
    "whole": (
        "Laps cross some holes: each is whole on one of its two sheets. Trace those holes from "
        "the sheet that shows them whole, before the next is taped over."
    ),
    "even": "An eyelet is larger than a sheet: its circle is whole on none. Check it by its cross.",
}


def assembly(
    job: Job, made: SheetSet, panel: PanelPlan, flow: Flow
) -> tuple[tuple[Mark, ...], ...]:
    """The assembly page of one strip, put on the empty page `flow`."""
    tiling, template = made.tiling, made.template
    if tiling.across == tiling.rows == 1:
        return ()
    flow.line("ASSEMBLY", SMALL, role="kicker")
    flow.paragraph(f"{template.window}, {template.panel}", 6.0, bold=True, role="title")
    seen = f"seen from the {template.seen}"
    parts = f"{tiling.across * tiling.rows} parts" if tiling.lanes > 1 else ""
    sheets = f"{tiling.count} sheets of {made.paper.name}"
    flow.paragraph(", ".join(part for part in (sheets, parts, seen) if part), bold=True)
    if CLEARANCE[tiling.clear]:
        flow.paragraph(CLEARANCE[tiling.clear], bullet="!", role="clearance")
    flow.space(2)
    _picture(flow, made)
    flow.heading("Taping")
    steps = list(STEPS)
    if tiling.lanes > 1:
        steps.insert(
            1, "Cut each sheet apart on its full line between the lanes: A is the upper one."
        )
    if tiling.rows > 1:
        steps.insert(
            1, "Tape each row from left to right, then the rows, the lower over the upper."
        )
    for n, words in enumerate(steps, 1):
        flow.paragraph(words, SMALL, bullet=f"{n}")
    flow.heading("Measure the taped strip")
    for words, at in _checks(panel):
        said = format_length(at, job.units)
        flow.pairs([(words, said if job.units != "in" else f"{said}  =  {float(at):.1f} mm")], 1)
    flow.space(1)
    flow.paragraph(
        "Off by more than 1 mm (1/32 in) in the whole length: find the join that is off by "
        "measuring part by part, and tape it again. Nothing is traced from a strip that is off.",
        SMALL,
    )
    return flow.numbered(job.details, "assembly")


def _checks(panel: PanelPlan) -> Iterator[tuple[str, Length]]:
    """What to measure, and how long it is.

    From the leading panel end to some holes, a fifth apart or so, and to the other end.
    """
    end = "left" if panel.side == "single" else "leading"
    count = panel.count
    for number in sorted({1 + round(n * (count - 1) / (CHECKED - 1)) for n in range(CHECKED)}):
        yield f"{end} panel end to centre of hole {number}", panel.centers[number - 1]
    yield "panel end to panel end", panel.width


def stepping_page(
    job: Job, pieces: Sequence[Template], panel: PanelPlan, flow: Flow
) -> tuple[tuple[Mark, ...], ...]:
    """How three pieces mark a whole panel: the steps with every hole's measure, as a page."""
    edge = "left" if panel.side == "single" else "leading"
    flow.line("STEPPING", SMALL, role="kicker")
    flow.paragraph(f"{pieces[0].window}, {panel.side} panel", 6.0, bold=True, role="title")
    flow.paragraph(
        f"{panel.count} holes from three short pieces: the {edge} end, a stepping piece with holes "
        "A, B and C, and the far end.",
        bold=True,
    )
    flow.space(1)
    for n, words in enumerate(STEPPING, 1):
        flow.paragraph(words.format(edge=edge, last=panel.count), SMALL, bullet=f"{n}")
    flow.heading(f"The steps; holes measured from the {edge} edge")
    flow.grid([(f"step {n}", *told) for n, told in steps(panel, job.units)], "step", SMALL)
    if panel.seams:
        flow.heading("Seams")
        places = ", ".join(format_length(seam, job.units) for seam in panel.seams)
        flow.paragraph(f"Mark them by ruler, from the {edge} edge: {places}.", SMALL)
    return flow.numbered(job.details, "stepping")


def _picture(flow: Flow, made: SheetSet) -> None:
    """The strip in small, part by part, over as many lines as it takes."""
    tiling, strip = made.tiling, made.template.strip
    columns = windows(tiling.columns, tiling.joins)
    room = flow.right - flow.left
    step = max(b - a for (a, _), (b, _) in pairwise(columns)) if len(columns) > 1 else strip.length
    scale = scale_for(strip.length, room)
    # Short parts are drawn longer, over several lines.
    while scale > 1 and float(step) / scale < LEAST_PART and float(step) * 2 / (scale - 1) < room:
        scale -= 1
    per = max(1, int(room * scale / float(step)))
    flow.paragraph(
        f"Each part with its sheet{'' if tiling.lanes == 1 else ' and lane'}; numbers over the "
        f"lines are the joins. Scale 1:{scale}.",
        SMALL,
        role="caption",
    )
    for first in range(0, min(len(columns), MOST_PARTS), per):
        last = min(first + per, len(columns))
        high = float(strip.height) / scale + 9
        flow.room(high)
        flow.y -= high
        flow.pages[-1] += _line(flow, made, range(first, last), scale)
    if len(columns) > MOST_PARTS:
        flow.paragraph(f"{len(columns) - MOST_PARTS} more parts go on in the same way.", SMALL)


def _line(
    flow: Flow,
    made: SheetSet,
    which: range,
    scale: int,
) -> Iterator[Mark]:
    """Some neighbouring parts of the strip, from join to join."""
    tiling, strip = made.tiling, made.template.strip
    edges = [Fraction(0), *tiling.joins, strip.length]
    start, end = edges[which[0]], edges[which[-1] + 1]
    low = flow.y + 3
    high = low + float(strip.height) / scale

    def x(at: Length) -> float:
        return flow.left + float(at - start) / scale

    box = ((x(start), low), (x(end), low), (x(end), high), (x(start), high))
    yield Polygon(box, OUTLINE, None, "part-outline")
    for ring in strip.rings:
        if start - ring.outside / 2 < ring.x < end + ring.outside / 2:
            r = float(ring.outside) / 2 / scale
            if x(ring.x) - r >= flow.left and x(ring.x) + r <= flow.right:
                yield Circle(x(ring.x), low + float(ring.y) / scale, r, THIN, "part-eyelet")
    rows = [low + float(y) / scale for y in tiling.row_joins]
    for y in rows:
        yield Line(x(start), y, x(end), y, JOIN, "part-row")
    levels = [low, *rows, high]
    for column in which:
        middle = (x(edges[column]) + x(edges[column + 1])) / 2
        for row in range(tiling.rows):
            # Rows are numbered from the top.
            y = (levels[-1 - row] + levels[-2 - row]) / 2
            mark = drawing.text(
                flow.typeface,
                middle,
                y - 1.1,
                tiling.label(row, column),
                3.4,
                "part-name",
                anchor="middle",
                bold=True,
                most=x(edges[column + 1]) - x(edges[column]) - 0.5,
            )
            x0, y0, x1, y1 = drawing.box(mark)
            ground = ((x0 - 0.6, y0), (x1 + 0.6, y0), (x1 + 0.6, y1), (x0 - 0.6, y1))
            yield Polygon(ground, None, 1.0, "ground")
            yield mark
    for n in which:
        if n == 0:
            continue
        at = x(edges[n])
        yield Line(at, low - 1.5, at, high + 1.5, JOIN, "part-join")
        anchor: drawing.Anchor = "start" if n == which[0] else "middle"
        yield drawing.text(
            flow.typeface, at, high + 2.2, f"join {n}", 2.4, "part-join-name", anchor=anchor
        )
