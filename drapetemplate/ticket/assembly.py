"""How a strip's sheets are put together: its parts in small, the order of taping, what to check.

One strip's sheets in, its assembly page out; a strip that is whole on one sheet needs none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from drapetemplate import drawing
from drapetemplate.drawing.marks import Circle, Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_length
from drapetemplate.planning.model import PanelPlan
from drapetemplate.sheets.joins import Clear
from drapetemplate.sheets.sheet import SheetSet, clear_laps, clear_row_laps
from drapetemplate.template.stepping import steps
from drapetemplate.template.strip import Template
from drapetemplate.ticket.flow import SMALL, Flow
from drapetemplate.ticket.picture import scale_for

OUTLINE = Pen(0.3)
JOIN = Pen(0.45)
THIN = Pen(0.15)
LEAST_PART = 10.0  # mm of paper a part may be drawn long, so that its name can be read
LEAST_ROW = 4.6  # likewise, high
PART_NAME = 3.4
JOIN_NAME = 2.4
BELOW = 3.0  # mm from a part's lower edge to the middle of its name
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
    "{far} Measure the whole from end to end.",
)
# With an even count the steps end one hole short of the last.
FAR_EVEN = (
    "Lay the far end with its hole {before} on the last hole traced, its band lines on the band's "
    "edges; trace hole {last} and the panel end."
)
FAR_ODD = "Lay the far end on the last two holes traced; trace the panel end."

CROSSED: dict[Clear, str] = {
    "hole": "the lap runs over an eyelet's outside circle, but over no hole",
    "whole": (
        "the lap runs over a hole, which is whole on one of the two sheets: trace it there before "
        "the next is taped over"
    ),
    "hole only": (
        "the lap runs over no hole, but an eyelet's outside circle is whole on neither of the two "
        "sheets: trace the hole, and the outside only where the sheets are taped"
    ),
    "hole whole": (
        "an eyelet's outside circle is whole on neither of the two sheets, and the lap runs over a "
        "hole, which is whole on one: trace it there before the next is taped over"
    ),
    "cut": (
        "a hole is whole on neither of the two sheets: trace it only where they are taped, and "
        "check it by its cross"
    ),
}


def assembly(
    job: Job, sheets: SheetSet, panel: PanelPlan, flow: Flow, *, pair: bool = False
) -> tuple[tuple[Mark, ...], ...]:
    """The assembly page of one strip, put on the empty page `flow`.

    `panel` is what is measured: of a `pair` on one strip, the first.
    """
    tiling, template = sheets.tiling, sheets.template
    if tiling.across == tiling.rows == 1:
        return ()
    flow.line("ASSEMBLY", SMALL, role=Role.KICKER)
    flow.paragraph(f"{template.window}, {template.panel}", 6.0, bold=True, role=Role.TITLE)
    seen = f"seen from the {template.seen}"
    parts = f"{tiling.across * tiling.rows} parts" if tiling.lanes > 1 else ""
    count = f"{tiling.count} sheets of {sheets.paper.name}"
    flow.paragraph(", ".join(words for words in (count, parts, seen) if words), bold=True)
    clear = clear_laps(template.strip, tiling, sheets.paper)
    for kind, words in CROSSED.items():
        joins = [number for number, join in enumerate(clear, 1) if join == kind]
        if joins:
            noun = "Join" if len(joins) == 1 else "Joins"
            text = f"{noun} {', '.join(map(str, joins))}: {words}."
            flow.paragraph(text, bullet="!", role=Role.CLEARANCE)
    for row, kind in enumerate(clear_row_laps(template.strip, tiling, sheets.paper), 1):
        if kind != "outside":
            text = f"Between rows {row} and {row + 1}: {CROSSED[kind]}."
            flow.paragraph(text, bullet="!", role=Role.CLEARANCE)
    flow.space(2)
    _picture(flow, sheets)
    flow.heading("Taping")
    taping = list(STEPS)
    if tiling.lanes > 1:
        taping.insert(
            1, "Cut each sheet apart on its full line between the lanes: A is the upper one."
        )
    if tiling.rows > 1:
        taping.insert(
            1, "Tape each row from left to right, then the rows, the lower over the upper."
        )
    for n, words in enumerate(taping, 1):
        flow.paragraph(words, SMALL, bullet=f"{n}")
    flow.heading("Measure the taped strip")
    rows = []
    for words, at in _checks(panel, pair=pair):
        length = format_length(at, job.units)
        rows.append((words, length if job.units != "in" else f"{length}  =  {float(at):.1f} mm"))
    flow.pairs(rows, 1)
    flow.space(1)
    flow.paragraph(
        "Off by more than 1 mm (1/32 in) in the whole length: find the join that is off by "
        "measuring part by part, and tape it again. Nothing is traced from a strip that is off.",
        SMALL,
    )
    return flow.numbered(job.details, "assembly")


def _checks(panel: PanelPlan, *, pair: bool) -> Iterator[tuple[str, Length]]:
    """What to measure, and how long it is.

    From the leading panel end to some holes, a quarter apart or so, and to the other end.
    """
    end = f"{panel.side} panel's {panel.edge}" if pair else panel.edge
    count = panel.count
    for number in sorted({1 + round(n * (count - 1) / (CHECKED - 1)) for n in range(CHECKED)}):
        yield f"{end} panel end to centre of hole {number}", panel.centers[number - 1]
    yield "panel end to panel end", panel.width


def stepping_page(
    job: Job, pieces: Sequence[Template], panel: PanelPlan, flow: Flow
) -> tuple[tuple[Mark, ...], ...]:
    """How three pieces mark a whole panel: the steps with every hole's measure, as a page."""
    edge = panel.edge
    flow.line("STEPPING", SMALL, role=Role.KICKER)
    flow.paragraph(f"{pieces[0].window}, {panel.side} panel", 6.0, bold=True, role=Role.TITLE)
    flow.paragraph(
        f"{panel.count} holes from three short pieces: the {edge} end, a stepping piece with holes "
        "A, B and C, and the far end.",
        bold=True,
    )
    flow.space(1)
    last = panel.count
    far = FAR_ODD if last % 2 else FAR_EVEN.format(before=last - 1, last=last)
    for n, words in enumerate(STEPPING, 1):
        flow.paragraph(words.format(edge=edge, far=far), SMALL, bullet=f"{n}")
    flow.heading(f"The steps; holes measured from the {edge} edge")
    flow.grid([(f"step {n}", *holes) for n, holes in steps(panel, job.units)], Role.STEP, SMALL)
    if panel.seams:
        flow.heading("Seams")
        places = ", ".join(format_length(seam, job.units) for seam in panel.seams)
        flow.paragraph(f"Mark them by ruler, from the {edge} edge: {places}.", SMALL)
    return flow.numbered(job.details, "stepping")


def _picture(flow: Flow, sheets: SheetSet) -> None:
    """The strip in small, part by part, over as many lines as it takes."""
    tiling, strip = sheets.tiling, sheets.template.strip
    edges = [Fraction(0), *tiling.joins, strip.length]
    # Half the first join's name stands left of its line.
    indent = flow.typeface.width(f"join {tiling.across}", JOIN_NAME) / 2
    least = _least(flow, sheets)
    room, height = flow.width - indent, flow.height - 2 * LEAST_PART
    step = float(max(b - a for a, b in pairwise(edges)))
    scale = max(scale_for(strip.length, room), scale_for(strip.height, height))
    # Short parts are drawn longer, over several lines.
    while scale > 1 and step / scale < least and 2 * step / (scale - 1) < room:
        if float(strip.height) / (scale - 1) > height / 2:
            break
        scale -= 1
    widths = [max(float(b - a) / scale, least) for a, b in pairwise(edges)]
    longer = any(float(b - a) / scale < least for a, b in pairwise(edges))
    flow.paragraph(
        f"Each part with its sheet{'' if tiling.lanes == 1 else ' and lane'}; numbers over the "
        f"lines are the joins. Scale 1:{scale}{', short parts drawn longer' if longer else ''}.",
        SMALL,
        role=Role.CAPTION,
    )
    first = 0
    while first < len(widths):
        last = first + 1
        while last < len(widths) and sum(widths[first : last + 1]) <= room:
            last += 1
        height = _levels(sheets, scale)[-1][1] + 9 + (BELOW if tiling.rows == 1 else 0)
        flow.down(height)
        xs = [flow.left + indent + sum(widths[first:n]) for n in range(first, last + 1)]
        flow.draw(_line(flow, sheets, first, list(zip(edges[first:], xs, strict=False)), scale))
        first = last


def _least(flow: Flow, sheets: SheetSet) -> float:
    """How long a part must be drawn for its name, and for its joins' names beside one another."""
    tiling, face = sheets.tiling, flow.typeface
    names = [
        face.width(tiling.label(row, column), PART_NAME, bold=True) + 2
        for row in range(tiling.rows)
        for column in range(tiling.across)
    ]
    return max(LEAST_PART, face.width(f"join {tiling.across}", JOIN_NAME) + 1, *names)


def _levels(sheets: SheetSet, scale: int) -> list[tuple[Length, float]]:
    """The band's edges and the joins of rows, and how far above its lower edge each is drawn."""
    height, rows = sheets.template.strip.height, sheets.tiling.row_joins
    levels = [(Fraction(0), 0.0)]
    for at in (*(min(max(y, Fraction(0)), height) for y in rows), height):
        drawn = float(at - levels[-1][0]) / scale
        levels.append((at, levels[-1][1] + (max(drawn, LEAST_ROW) if rows else drawn)))
    return levels


def _drawn(at: Length, edges: Sequence[tuple[Length, float]]) -> float:
    """Where a place of the strip is drawn, between edges that are drawn where they say."""
    (start, low), (end, high) = next(pair for pair in pairwise(edges) if at <= pair[1][0])
    return low + float((at - start) / (end - start)) * (high - low)


def _line(
    flow: Flow, sheets: SheetSet, first: int, edges: Sequence[tuple[Length, float]], scale: int
) -> Iterator[Mark]:
    """Some neighbouring parts of the strip from `first` on; `edges` are joins and where they go."""
    tiling, strip = sheets.tiling, sheets.template.strip
    low = flow.y + 3 + (BELOW if tiling.rows == 1 else 0)
    levels = [(at, low + y) for at, y in _levels(sheets, scale)]
    high = levels[-1][1]
    (_, left), (_, right) = edges[0], edges[-1]
    box = ((left, low), (right, low), (right, high), (left, high))
    yield Polygon(box, OUTLINE, None, Role.PART_OUTLINE)
    for ring in strip.rings:
        if edges[0][0] <= ring.x < edges[-1][0]:
            x, y, r = _drawn(ring.x, edges), _drawn(ring.y, levels), float(ring.outside) / 2 / scale
            if x - r >= flow.left and x + r <= flow.right:
                yield Circle(x, y, r, THIN, Role.PART_EYELET)
    for _, y in levels[1:-1]:
        yield Line(left, y, right, y, JOIN, Role.PART_ROW)
    for column, ((_, x0), (_, x1)) in enumerate(pairwise(edges), first):
        for row in range(tiling.rows):
            # Off the eyelets: below the band, or low in each row; rows are numbered from the top.
            top, bottom = levels[-1 - row][1], levels[-2 - row][1]
            y = min((top + bottom) / 2, bottom + BELOW) if tiling.rows > 1 else low - BELOW
            name = tiling.label(row, column)
            yield from _name(flow, (x0 + x1) / 2, y, name)
        if column > 0:
            yield Line(x0, low - 1.5, x0, high + 1.5, JOIN, Role.PART_JOIN)
            name = f"join {column}"
            yield drawing.text(
                flow.typeface, x0, high + 2.2, name, JOIN_NAME, Role.PART_JOIN_NAME, anchor="middle"
            )


def _name(flow: Flow, x: float, y: float, name: str) -> Iterator[Mark]:
    """A part's name about a point, on white."""
    mark = drawing.text(
        flow.typeface, x, y - 1.1, name, PART_NAME, Role.PART_NAME, anchor="middle", bold=True
    )
    x0, y0, x1, y1 = drawing.box(mark)
    ground = ((x0 - 0.6, y0), (x1 + 0.6, y0), (x1 + 0.6, y1), (x0 - 0.6, y1))
    yield Polygon(ground, None, 1.0, Role.GROUND)
    yield mark
