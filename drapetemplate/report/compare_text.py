"""A job's counts side by side for a terminal: a table, turned where the terminal is narrow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_length
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.compare import Choice, Comparison
from drapetemplate.planning.model import WindowPlan
from drapetemplate.report.screen import USUAL_COLUMNS, Screen, aloud, cells
from drapetemplate.sheets.strip_list import sheet_count
from drapetemplate.words.plan_words import ordered

COMPARED = (
    "eyelets",
    "gap",
    "in eyelets",
    "pitch",
    "fold closed",
    "stacked",
    "wall free",
    "ring angle",
    "stack",
    "seams hidden",
    "drops",
    "order",
    "sheets",
    "findings",
)
_LENGTHS = ("gap", "pitch", "fold closed", "stacked", "wall free", "stack")
_CLOTH = ("seams hidden", "drops", "order")
_SPOKEN = {"in eyelets": "gap in eyelets", "wall free": "free to the wall"}
_UNIT = {"in": "inches", "mm": "mm", "cm": "cm"}


def compare_text(
    job: Job,
    comparisons: Sequence[Comparison],
    *,
    columns: int | None = USUAL_COLUMNS,
    plain: bool = False,
    ascii_only: bool = False,
) -> str:
    """Each window's counts, the job's own marked, with the reason under it.

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
            for text in _findings(chosen):
                lines += screen.wrapped(text, "    ", "      ")
    return "\n".join(lines)


def _chosen(comparison: Comparison) -> Choice:
    return next(choice for choice in comparison.choices if choice.chosen)


def _findings(choice: Choice) -> list[str]:
    """A count's findings in full, each once."""
    found = () if choice.window is None else choice.window.findings
    return list(dict.fromkeys(f"{finding.code}: {finding.text}" for finding in found))


def _plain(job: Job, comparisons: Sequence[Comparison]) -> Iterator[str]:
    yield f"job: {job.details.name}"
    for comparison in comparisons:
        yield f"window: {comparison.name}"
        for choice in comparison.choices:
            own = f", the job's own: {comparison.reason}" if choice.chosen else ""
            yield f"eyelets: {choice.count}{own}"
            if choice.window is None:
                yield f"can't be made: {choice.fault}"
                continue
            yield from _spoken(job, choice)
        for text in _findings(_chosen(comparison)):
            yield f"finding, {text}"


def _spoken(job: Job, choice: Choice) -> Iterator[str]:
    """A count's figures, a line each, with their units."""
    for name, cell in zip(COMPARED[1:], _cells(job, choice)[1:], strict=True):
        if name in _CLOTH and choice.window is not None and choice.window.cloth:
            yield f"{name}: {_spoken_cloth(job, choice.window, _CLOTH.index(name))}"
            continue
        value = "not known" if cell == "-" else cell or "none"
        if name in _LENGTHS and cell != "-":
            value = f"{cell} {job.units}"
            if "-" in cell:
                value = f"none, {value.replace('-', '')} too deep"
        yield f"{_SPOKEN.get(name, name)}: {value}"


def _spoken_cloth(job: Job, window: WindowPlan, place: int) -> str:
    """One figure of each cloth, the lining's named as such."""
    cells = [(one.part, _takes_cells(job, one)[place]) for one in window.cloth]
    said = (
        (part, "not known" if cell == "-" else cell.replace("/", " of ") if not place else cell)
        for part, cell in cells
    )
    return ", ".join(f"lining {cell}" if part == "lining" else cell for part, cell in said)


def _table(job: Job, comparison: Comparison, screen: Screen) -> list[str]:
    """A row a count if that fits; else turned."""
    rows = [
        COMPARED,
        *(
            tuple(screen.shown(cell) for cell in _cells(job, choice))
            for choice in comparison.choices
        ),
    ]
    wide = [max(cells(row[c]) for row in rows if len(row) > 2) for c in range(len(COMPARED))]
    lines = []
    for row, choice in zip(rows, (None, *comparison.choices), strict=True):
        sign = ">" if choice is not None and choice.chosen else " "
        cell = "  ".join(text.rjust(wide[c]) for c, text in enumerate(row[:-1]))
        lines.append(f"{sign} {cell}  {row[-1]}".rstrip())
    if screen.columns is None or all(cells(line) <= screen.wide for line in lines):
        return lines
    return _turned(comparison, rows[1:], screen)


def _turned(comparison: Comparison, rows: Sequence[tuple[str, ...]], screen: Screen) -> list[str]:
    """A column a count, a row a figure, in blocks that fit; under them what has no figure."""
    made = [
        (f"{'>' if choice.chosen else ''}{choice.count}", row)
        for choice, row in zip(comparison.choices, rows, strict=True)
        if choice.window is not None
    ]
    names = COMPARED[:-1]
    label = max(map(len, names))
    wide = max(max(map(cells, (count, *row[1:-1]))) for count, row in made)
    across = (screen.wide - 2 - label) // (wide + 2)
    lines: list[str] = []
    if across < 1:
        for count, row in made:
            lines += screen.wrapped(f"{count} eyelets", "  ")
            pairs = zip(names[1:], row[1:-1], strict=True)
            lines += [one for pair in pairs for one in screen.wrapped(": ".join(pair), "    ")]
    else:
        blocks = -(-len(made) // across)
        each = -(-len(made) // blocks)
        for n in range(0, len(made), each):
            block = [(count, *row[1:-1]) for count, row in made[n : n + each]]
            if n:
                lines.append("")
            for c, name in enumerate(names):
                figures = "".join(f"  {column[c].rjust(wide)}" for column in block)
                lines.append(f"  {name:<{label}}{figures}")
    if any(row[-1] for row in rows):
        lines.append("")
    for choice, row in zip(comparison.choices, rows, strict=True):
        if row[-1]:
            lines += screen.wrapped(f"{choice.count}: {row[-1]}", "  ", "    ")
    return lines


def _cells(job: Job, choice: Choice) -> tuple[str, ...]:
    """A count's figures in the order of `COMPARED`; or the count and why it has none."""

    def say(length: Length | None) -> str:
        return "-" if length is None else format_length(length, job.units, unit=False)

    if choice.window is None:
        return f"{choice.count}", choice.fault
    panel = choice.window.panels[0]
    hang = panel.hang
    codes = ", ".join(dict.fromkeys(f"{f.level} {f.code}" for f in choice.window.findings))
    return (
        f"{choice.count}",
        say(panel.gap),
        f"{float(panel.gap / panel.outside):.2f}",
        say(panel.pitch),
        say(None if hang is None else hang.depth_closed),
        say(None if hang is None else hang.depth_stacked),
        say(None if hang is None else hang.free(hang.depth_closed)),
        "-" if hang is None else f"{hang.closed.angle_deg:.0f}°",
        say(panel.stack),
        *_cloth_cells(job, choice.window),
        f"{sheet_count(job, choice)}",
        codes,
    )


def _cloth_cells(job: Job, window: WindowPlan) -> tuple[str, ...]:
    """Seams hidden, drops and order of a count, the lining's after the face's."""
    cells = zip(*(_takes_cells(job, one) for one in window.cloth), strict=True)
    return tuple(" + ".join(cell) for cell in cells) or ("-",) * len(_CLOTH)


def _takes_cells(job: Job, one: ClothUse) -> tuple[str, str, str]:
    """The same of one cloth."""
    seams = one.seams
    if seams is None:
        return "-", "-", ordered(job, one.total)
    return f"{one.hidden}/{len(seams.seams)}", f"{seams.drops}", ordered(job, one.total)
