"""A paper in, the check sheet that shows how a printer is on it out: to print and measure.

The check sheet's frame is the page's: millimetres from the upright page's lower left corner. Along
its lower and its left edge run a long bar and a 4 in bar each; in the corner between them stands a
square, and instructions fill what is above. Nothing on it is corrected: it shows how the printer
is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from drapetemplate import drawing
from drapetemplate.document.model import Document, Page
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line, Mark, Pen, Polygon
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import Fault, FileError
from drapetemplate.job.defaults import PAPER_EDGE
from drapetemplate.job.fields import read_paper
from drapetemplate.job.paper_sizes import PaperSize
from drapetemplate.measures import INCH, Length, format_length
from drapetemplate.printers.measured_factors import CORNER, LONG, long_bar
from drapetemplate.ticket.flow import Flow
from drapetemplate.words.bar_readings import readings

BAR_IN = 4 * INCH
SQUARE = Fraction(100)
# From the margin: the long bar, the 4 in bar, and the square's corner, where both bars begin.
LONG_AT = Fraction(7, 2)
IN_AT = Fraction(12)
LEAST = CORNER + BAR_IN + Fraction(1, 2)

BAR = Pen(0.25)
HEAVY = Pen(0.7)
DIAGONAL = Pen(0.15, (2, 1.5))
# Dotted, so that nobody takes it for a bar.
BLANK = Pen(0.2, (0.4, 0.8))
# The largest letters at which the instructions fit above the figure are taken.
SIZES = (4.2, 3.9, 3.6, 3.3, 3.0, 2.75, 2.4)
EXAMPLE = "workroom laser"

BarRoles = tuple[Role, Role]
"""A bar's own role and its ticks'."""
# Of the long bar, then of the 4 in bar.
ACROSS = (
    (Role.BAR_ACROSS_LONG, Role.TICK_ACROSS_LONG),
    (Role.BAR_ACROSS_IN, Role.TICK_ACROSS_IN),
)
DOWN = ((Role.BAR_DOWN_LONG, Role.TICK_DOWN_LONG), (Role.BAR_DOWN_IN, Role.TICK_DOWN_IN))


def read_size(text: str) -> PaperSize:
    """The check sheet's paper, as --paper names it; FileError for what can't be one."""
    try:
        paper = read_paper(text, "mm")
    except ValueError as error:
        raise FileError([Fault("--paper", str(error))]) from None
    if paper.height is None:
        text = 'a check sheet is one sheet: for a roll name what is cut off it, as in "24 x 36 in"'
        raise FileError([Fault("--paper", text)])
    if paper.width - 2 * PAPER_EDGE < LEAST:
        needs = f"{format_length(LEAST + 2 * PAPER_EDGE, 'mm')} each way"
        hint = 'write the unit with a size, as in "8.5 x 11 in"'
        raise FileError([Fault("--paper", f"too small for a check sheet, {needs}: {hint}")])
    return paper


def file_name(paper: PaperSize) -> str:
    """What the check sheet's PDF is called: calibrate-letter.pdf."""
    return f"calibrate-{re.sub('[^a-z0-9.]+', '-', paper.name.casefold())}.pdf"


def check_sheet(paper: PaperSize, typeface: Typeface) -> Document:
    """The check sheet for this paper; on small paper the instructions have a page of their own."""
    if paper.height is None:
        raise ValueError("a check sheet is one sheet")
    nominal, height = long_bar(paper), float(paper.height)
    title = f"Printer check sheet, {paper.name}"
    above = float(PAPER_EDGE + CORNER + max(nominal, BAR_IN) + 5)
    figure = tuple(_figure(typeface, PAPER_EDGE, nominal))
    for size in SIZES:
        flow = Flow(typeface, float(paper.width), height, float(PAPER_EDGE), bottom=above)
        _instruct(flow, paper, title, size)
        if len(flow.pages) == 1:
            page = Page("check sheet", (*figure, *flow.pages[0]))
            return Document(title, paper.width, paper.height, (page,), ())
    middle = PAPER_EDGE + CORNER + SQUARE / 2
    heading = drawing.text(
        typeface, middle, middle - 44, title, 3.6, Role.TITLE, anchor="middle", bold=True, most=80
    )
    flow = Flow(typeface, float(paper.width), height, float(PAPER_EDGE))
    _instruct(flow, paper, title, SIZES[-3])
    pages = [Page("check sheet", (*figure, heading))]
    pages += [Page("check sheet, instructions", marks) for marks in flow.pages]
    return Document(title, paper.width, paper.height, tuple(pages), ())


def _instruct(flow: Flow, paper: PaperSize, title: str, size: float) -> None:
    """What to do, in letters of this size."""
    nominal = long_bar(paper)
    flow.line(title, size * 1.6, bold=True, role=Role.TITLE)
    flow.space(1.5)
    steps = (
        (
            "Print this sheet at actual size: 100 %, no “fit”, no “shrink”, on the paper and from "
            "the tray that your templates will use."
        ),
        (
            f"Measure the two heavy bars, across and down, from end tick to end tick ({nominal} mm "
            "is true), to 0.25 mm or 1/64 in. Write what they read beside them."
        ),
        (
            "Measure both diagonals of the square: 141.4 mm is true. If they differ by 1 mm or "
            "more, the paper runs askew: no factor mends that, so print templates elsewhere."
        ),
        "Type, with your two readings and your own name for the printer:",
    )
    for number, words in enumerate(steps, 1):
        flow.paragraph(words, size, bullet=f"{number}", role=Role.STEP)
        flow.gap(0.25 * size)
    flow.line(command(paper), size, bold=True, role=Role.COMMAND)
    flow.gap(0.25 * size)
    inches = "5 57/64 in" if nominal == LONG else "3 59/64 in"
    flow.paragraph(f'Inches go in quotes with their unit: --across "{inches}".', size * 0.8)
    flow.gap(0.25 * size)
    flow.paragraph(
        f'Then: drapetemplate make my_job.toml --printer "{EXAMPLE}"',
        size,
        bullet="5",
        role=Role.STEP,
    )
    flow.gap(0.25 * size)
    flow.paragraph(
        f"A heavy bar of {readings(nominal)} Those are settings: put them right and print again.",
        size * 0.8,
    )


def command(paper: PaperSize) -> str:
    """The command line that keeps what this paper's check sheet measured, with example readings."""
    name = paper.name.casefold().replace('"', " in")
    size = name if re.fullmatch("[a-z0-9.]+", name) else f'"{name}"'
    nominal = long_bar(paper)
    across, down = (f"{float(nominal + off):g}" for off in (Fraction(-2, 5), Fraction(1, 5)))
    return (
        f'drapetemplate calibrate --paper {size} --across {across} --down {down} --save "{EXAMPLE}"'
    )


def _figure(typeface: Typeface, margin: Length, nominal: Length) -> Iterator[Mark]:
    """The bars, the square, and where to write what they read."""
    corner = margin + CORNER
    inches = INCH / 2
    for upright, way, (long, short) in ((False, "across", ACROSS), (True, "down", DOWN)):
        yield from _bar(upright, corner, margin + LONG_AT, nominal, Fraction(10), long, HEAVY)
        yield from _bar(upright, corner, margin + IN_AT, BAR_IN, inches, short)
        words = f"{way.upper()}: {nominal} mm, reads"
        label = _label(typeface, upright, corner + 3, margin + LONG_AT + 3, words, 3.6)
        yield label
        start = corner + 3 + Fraction(label.width) + 2
        yield _line(upright, start, margin + LONG_AT + 3, Fraction(30), BLANK, Role.BLANK)
        yield _label(typeface, upright, corner + 3, margin + IN_AT + 3, "4 in", 3.0)
    far = corner + SQUARE
    corners = ((corner, corner), (far, corner), (far, far), (corner, far))
    yield Polygon(corners, BAR, None, Role.SQUARE)
    yield Line(corner, corner, far, far, DIAGONAL, Role.DIAGONAL)
    yield Line(corner, far, far, corner, DIAGONAL, Role.DIAGONAL)
    middle = corner + SQUARE / 2
    for y, words in (
        (far - 12, "100 × 100 mm"),
        (far - 18, "both diagonals 141.4 mm"),
    ):
        yield drawing.text(typeface, middle, y, words, 3.6, Role.SQUARE_LABEL, anchor="middle")


def _bar(
    upright: bool,  # noqa: FBT001  # which way it runs is all there is to say
    start: Length,
    at: Length,
    length: Length,
    every: Length,
    roles: BarRoles,
    pen: Pen = BAR,
) -> Iterator[Mark]:
    """A bar from `start` along the page, `at` across it; fine ticks, longer at its ends."""
    bar, tick_role = roles
    yield _line(upright, start, at, length, pen, bar)
    for i in range(int(length / every) + 1):
        tick = Fraction(2) if i * every in (0, length) else Fraction(1)
        yield _line(not upright, at - tick, start + i * every, 2 * tick, BAR, tick_role)


def _line(
    upright: bool,  # noqa: FBT001  # which way it runs is all there is to say
    start: Length,
    at: Length,
    length: Length,
    pen: Pen,
    role: Role,
) -> Line:
    if upright:
        return Line(at, start, at, start + length, pen, role)
    return Line(start, at, start + length, at, pen, role)


def _label(
    typeface: Typeface,
    upright: bool,  # noqa: FBT001  # which way it runs is all there is to say
    start: Length,
    at: Length,
    words: str,
    size: float,
) -> drawing.Text:
    """Words beside a bar, on the square's side of it; beside one that runs up they read up."""
    if upright:
        # Read from the right, so its letters rise toward the bar: the baseline stands off.
        x = at + Fraction(size) * Fraction(78, 100)
        return drawing.text(typeface, x, start, words, size, Role.BAR_LABEL, bold=True, angle=90)
    return drawing.text(typeface, start, at, words, size, Role.BAR_LABEL, bold=True)
