"""A job's counts in, a table for a terminal out, turned where the terminal is narrow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from drapetemplate.job.model import Job
from drapetemplate.measures import Length, rounded_up
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.compare import Choice, Comparison
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.model import WindowPlan
from drapetemplate.planning.pole_stand import PoleStand
from drapetemplate.report.screen import USUAL_COLUMNS, Screen, aloud
from drapetemplate.sheets.strip_list import sheet_count
from drapetemplate.wording import Wording, times
from drapetemplate.words.figures import Figure, free_to_wall, glass_covered, rings_turn
from drapetemplate.words.plan_words import amount_to_order

COMPARED = (
    "eyelets",
    "width",
    "fullness",
    "gap",
    "in eyelets",
    "pitch",
    "fold closed",
    "stacked",
    "wall free",
    "ring angle",
    "stack",
    "over glass",
    "seams hidden",
    "drops",
    "order",
    "sheets",
    "findings",
)
_SPOKEN = {"in eyelets": "gap in eyelets", "wall free": "free to the wall", "over glass": "glass"}
_UNIT = {"in": "inches", "mm": "mm", "cm": "cm"}


def compare_text(
    job: Job,
    comparisons: Sequence[Comparison],
    *,
    columns: int | None = USUAL_COLUMNS,
    plain: bool = False,
    ascii_only: bool = False,
) -> str:
    """Return each window's counts, the job's own marked, with the reason under it.

    A count has a row if that fits `columns` (None: lines as long as they come), else a column,
    in as many blocks as it takes. `plain`, for screen readers: a fact a line.
    """
    screen = Screen(None if plain else columns, ascii_only)
    lines: list[str] = []
    if plain:
        lines = [screen.shown(aloud(line)) for line in _plain(job, comparisons)]
    else:
        title = f"{job.details.name}: counts side by side, lengths in {_UNIT[job.units]}"
        lines += screen.wrapped(title, rest="  ")
        for comparison in comparisons:
            lines += ["", *screen.wrapped(comparison.name, rest="  ")]
            lines += _table(job, comparison, screen)
            chosen = _chosen(comparison)
            lines += screen.wrapped(f"> {chosen.count}: {comparison.reason}", "  ", "    ")
            for text in _at_any_count(job, comparison):
                lines += screen.wrapped(text, "    ", "      ")
            for text in _findings(chosen):
                lines += screen.wrapped(text, "    ", "      ")
    return "\n".join(lines)


def _compared(comparison: Comparison) -> list[str]:
    """Return which figures a window's counts have: of the glass only where it is given.

    Width and fullness only where they follow the count, for a pattern on the folds.
    """
    window = comparison.window
    none = set() if window.glass is not None else {"over glass"}
    if window.pattern == "seams":
        none |= {"width", "fullness"}
    return [name for name in COMPARED if name not in none]


def _chosen(comparison: Comparison) -> Choice:
    return next(choice for choice in comparison.choices if choice.chosen)


def _hang(comparison: Comparison) -> Hang | None:
    """How the job's own count hangs."""
    window = _chosen(comparison).window
    return None if window is None else window.panels[0].hang


def _at_any_count(job: Job, comparison: Comparison) -> Iterator[str]:
    """What the table's figures are to be held against, whatever the count."""
    hang = _hang(comparison)
    own = _chosen(comparison).window
    pattern = None if own is None else own.pattern
    if pattern is not None:
        say = Wording(job.units)
        full = pattern.asked_fullness
        at = "" if full is None else f", {times(full)} full"
        yield f"width: for the pattern on the folds; {say(pattern.asked_width)} is asked for{at}"
    if hang is None:
        return
    if hang.projection is not None:
        clearance = Wording(job.units)(hang.clearance)
        yield f"wall free: from the closed fold to the wall; {clearance} is asked for"
    yield "ring angle: from the pole to a ring, closed; a ring turns from 90°, square on the pole"
    for figure in rings_turn(hang):
        yield f"{figure.name.lower()} {figure.short}"


def _findings(choice: Choice) -> list[str]:
    """A count's findings in full, each once."""
    findings = () if choice.window is None else choice.window.findings
    return list(dict.fromkeys(f"{finding.code}: {finding.text}" for finding in findings))


def _plain(job: Job, comparisons: Sequence[Comparison]) -> Iterator[str]:
    """Every count's figures, a line each, with their units."""
    yield f"job: {job.details.name}"
    for comparison in comparisons:
        yield f"window: {comparison.name}"
        hang = _hang(comparison)
        if hang is not None:
            for figure in rings_turn(hang):
                yield f"{figure.name.lower()}, at any count: {figure.short}"
        for choice in comparison.choices:
            own = f", the job's own: {comparison.reason}" if choice.chosen else ""
            yield f"eyelets: {choice.count}{own}"
            if choice.window is None:
                yield f"can't be made: {choice.fault}"
                continue
            for figure in choice_figures(job, choice, choice.window):
                yield f"{_SPOKEN.get(figure.name, figure.name)}: {figure.full}"
        for text in _findings(_chosen(comparison)):
            at = f" at {comparison.name}" if len(comparisons) > 1 else ""
            yield f"finding{at}, {text}"


def _table(job: Job, comparison: Comparison, screen: Screen) -> list[str]:
    """A row a count if that fits; else turned."""
    rows = [[screen.shown(cell) for cell in _row(job, choice)] for choice in comparison.choices]
    names = _compared(comparison)
    whole = [row for row in (names, *rows) if len(row) == len(names)]
    widths = [max(map(cell_len, column)) for column in zip(*whole, strict=True)]
    lines = []
    for row, choice in zip((names, *rows), (None, *comparison.choices), strict=True):
        sign = ">" if choice is not None and choice.chosen else " "
        figures = "  ".join(
            text.rjust(width) for text, width in zip(row[:-1], widths, strict=False)
        )
        lines.append(f"{sign} {figures}  {row[-1]}".rstrip())
    if screen.columns is None or all(cell_len(line) <= screen.width for line in lines):
        return lines
    return _turned(comparison, rows, screen)


def _turned(comparison: Comparison, rows: Sequence[Sequence[str]], screen: Screen) -> list[str]:
    """A column a count, a row a figure, in blocks that fit; under them what has no figure."""
    columns = [
        (f"{'>' if choice.chosen else ''}{choice.count}", *row[1:-1])
        for choice, row in zip(comparison.choices, rows, strict=True)
        if choice.window is not None
    ]
    names = _compared(comparison)[:-1]
    label = max(map(len, names))
    width = max(cell_len(figure) for column in columns for figure in column)
    across = (screen.width - 2 - label) // (width + 2)
    lines: list[str] = []
    if across < 1:
        for count, *figures in columns:
            lines += screen.wrapped(f"{count} eyelets", "  ")
            for name, figure in zip(names[1:], figures, strict=True):
                lines += screen.wrapped(f"{name}: {figure}", "    ")
    else:
        blocks = -(-len(columns) // across)
        size = -(-len(columns) // blocks)
        for start in range(0, len(columns), size):
            if start:
                lines.append("")
            block = columns[start : start + size]
            for name, *figures in zip(names, *block, strict=True):
                line = "".join(f"  {figure.rjust(width)}" for figure in figures)
                lines.append(f"  {name:<{label}}{line}")
    if any(row[-1] for row in rows):
        lines.append("")
    for choice, row in zip(comparison.choices, rows, strict=True):
        if row[-1]:
            lines += screen.wrapped(f"{choice.count}: {row[-1]}", "  ", "    ")
    return lines


def _row(job: Job, choice: Choice) -> list[str]:
    """A count's figures in the order of `COMPARED`; or the count and why it has none."""
    if choice.window is None:
        return [f"{choice.count}", choice.fault]
    return [f"{choice.count}", *(fig.short for fig in choice_figures(job, choice, choice.window))]


def choice_figures(
    job: Job, choice: Choice, window: WindowPlan, *, on_sheets: bool = True
) -> Iterator[Figure]:
    """A count's figures, named as in `COMPARED`: `short` for the table, `full` for a line.

    Its sheets are laid out to be counted, unless they aren't asked for `on_sheets`.
    """
    say = Wording(job.units)

    def length(name: str, value: Length | None) -> Figure:
        return Figure(name, say.bare(value), say.known(value))

    panel = window.panels[0]
    hang = panel.hang
    if window.pattern is not None:
        yield length("width", panel.width)
        full = panel.fullness
        yield _unknown("fullness") if full is None else Figure("fullness", *[times(full)] * 2)
    yield length("gap", panel.gap)
    in_eyelets = f"{float(panel.gap / panel.outside):.2f}"
    yield Figure("in eyelets", in_eyelets, in_eyelets)
    yield length("pitch", panel.pitch)
    yield _fold(say, "fold closed", None if hang is None else hang.depth_closed)
    yield _fold(say, "stacked", None if hang is None else hang.depth_stacked)
    yield _wall_free(say, hang)
    if hang is None:
        yield _unknown("ring angle")
    else:
        angle = f"{hang.closed.angle_deg:.0f}°"
        yield Figure("ring angle", angle, angle)
    yield length("stack", panel.stack)
    if window.stand.glass is not None:
        yield _over_glass(say, window.stand)
    yield from _cloths(job, window)
    if on_sheets:
        sheets = f"{sheet_count(job, choice)}"
        yield Figure("sheets", sheets, sheets)
    codes = ", ".join(dict.fromkeys(f"{f.level} {f.code}" for f in window.findings))
    yield Figure("findings", codes, codes or "none")


def _fold(say: Wording, name: str, depth: Length | None) -> Figure:
    """How far a fold reaches."""
    if depth is None:
        return Figure(name, say.bare(None), say.known(None))
    words = say.deep(depth)
    return Figure(name, words.removesuffix(f" {say.units}"), words)


def _wall_free(say: Wording, hang: Hang | None) -> Figure:
    """What is free to the wall; the table has the closed fold, with a minus where it is past it."""
    free = None if hang is None else hang.free(hang.depth_closed)
    if hang is None or free is None:
        return Figure("wall free", say.bare(None), say.known(None))
    return Figure("wall free", say.bare(say.free_for_certain(free)), free_to_wall(hang, say))


def _over_glass(say: Wording, stand: PoleStand) -> Figure:
    """How much of the glass a panel covers drawn open; with no pole given, none."""
    over = stand.over_glass
    if over is None:
        return _unknown("over glass")
    up = rounded_up(over, say.units)
    return Figure("over glass", say.bare(up), f"{glass_covered(stand, say)} when drawn open")


def _cloths(job: Job, window: WindowPlan) -> Iterator[Figure]:
    """The figures of a window's cloths, the lining's after the face's and named as such."""
    for figures in zip(*(_cloth(job, use) for use in window.cloth), strict=True):
        full = (
            f"lining {figure.full}" if use.part == "lining" else figure.full
            for use, figure in zip(window.cloth, figures, strict=True)
        )
        short = " + ".join(figure.short for figure in figures)
        yield Figure(figures[0].name, short, ", ".join(full))
    if not window.cloth:
        yield from map(_unknown, ("seams hidden", "drops", "order"))


def _cloth(job: Job, use: ClothUse) -> tuple[Figure, Figure, Figure]:
    """One cloth's figures: how many of its seams are hidden, its drops, and what to order."""
    order = amount_to_order(job.units, use.to_buy)
    ordered = Figure("order", order, "not known" if use.to_buy is None else order)
    if use.seams is None:
        return _unknown("seams hidden"), _unknown("drops"), ordered
    hidden, seams, drops = use.hidden, len(use.seams.seams), f"{use.seams.drops}"
    return (
        Figure("seams hidden", f"{hidden}/{seams}", f"{hidden} of {seams}"),
        Figure("drops", drops, drops),
        ordered,
    )


def _unknown(name: str) -> Figure:
    return Figure(name, "-", "not known")
