"""A plan in, text for a terminal out: what is wrong, each strip drawn, its figures, its holes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from drapetemplate.job.factors import Factors
from drapetemplate.job.model import Job
from drapetemplate.measures import Length, format_length, round_half_up
from drapetemplate.planning.model import Finding, PanelPlan, Plan, WindowPlan, worst_first
from drapetemplate.report.screen import LEAST_COLUMNS, USUAL_COLUMNS, Screen, aloud, padded
from drapetemplate.report.strip_lines import line_picture
from drapetemplate.sheets.strip_list import PlacedStrip, StripList, strip_list
from drapetemplate.sheets.tiling import turns_of
from drapetemplate.wording import Wording, counted, joined
from drapetemplate.words.figures import in_full, window_figures
from drapetemplate.words.plan_words import (
    assumed_where,
    measured_from,
    order_rows,
    pages_named,
    roll_taken,
)

MOST_NAMES = 6
_SPOKEN = {"stop": "stop", "warn": "warning", "note": "note"}
ASSUMED = "Assumed, since the job file doesn't say: check before cutting"


def as_text(
    job: Job,
    plan: Plan,
    *,
    factors: Factors | None = None,
    columns: int | None = USUAL_COLUMNS,
    plain: bool = False,
    ascii_only: bool = False,
) -> str:
    """Return the plan as lines for a terminal of so many columns, without a newline at the end.

    Its sheets are as a printer with these `factors` takes them.
    `columns` None, for pipes: no line is wrapped, and pictures take `USUAL_COLUMNS`. `plain`, for
    screen readers: a fact a line, no picture, nothing set in columns. `ascii_only`: signs beyond
    ASCII are replaced; the job's own words are left to the stream.
    """
    strips = strip_list(job, plan.windows, factors)
    if plain:
        screen = Screen(None, ascii_only)
        lines = [screen.shown(aloud(line)) for line in _plain(job, plan, strips)]
    else:
        lines = list(_laid_out(job, plan, strips, Screen(columns, ascii_only)))
    return "\n".join(lines)


def _laid_out(job: Job, plan: Plan, strips: StripList, screen: Screen) -> Iterator[str]:
    details = job.details
    yield from screen.wrapped(
        f"{details.number} · {details.name}" if details.number else details.name, rest="  "
    )
    summary = _summary(plan)
    if summary:
        yield from screen.wrapped(summary, rest="  ")
    yield ""
    said_at: dict[Finding, str] = {}
    for planned, own in zip(plan.windows, strips.by_panel, strict=True):
        yield from screen.wrapped(planned.name, rest="  ")
        for finding in worst_first(planned.findings):
            first = said_at.setdefault(finding, planned.name)
            said = finding.text if first == planned.name else f"as at {first}"
            text = f"{finding.code}: {said}"
            yield from screen.wrapped(text, f"  {finding.level.upper():5} ", " " * 8)
        yield ""
        yield from _picture(job, planned, screen)
        yield ""
        yield from screen.table(_figures(job, planned, own))
        yield ""
        holes = f"hole centres, {measured_from(job, planned)}:"
        yield from screen.wrapped(holes, "  ", "    ")
        yield from _holes(job, planned.panels[0], screen)
        yield ""
    yield from screen.wrapped(f"In all: {_in_all(job, plan, strips)}", rest="  ")
    yield from screen.table(order_rows(job, plan))
    assumed = _assumed(plan)
    if assumed:
        yield ""
        yield from screen.wrapped(ASSUMED, rest="  ")
        yield from screen.table(assumed)


def _plain(job: Job, plan: Plan, strips: StripList) -> Iterator[str]:
    """The same facts in the same order, a line each."""
    if job.details.number:
        yield f"job number: {job.details.number}"
    yield f"job: {job.details.name}"
    summary = _summary(plan)
    if summary:
        yield summary
    windows = len(plan.windows)
    for n, (planned, own) in enumerate(zip(plan.windows, strips.by_panel, strict=True)):
        place = f" {n + 1} of {windows}" if windows > 1 else ""
        yield f"window{place}: {planned.name}"
        for finding in worst_first(planned.findings):
            at = f" at {planned.name}" if windows > 1 else ""
            yield f"{_SPOKEN[finding.level]}{at}, {finding.code}: {finding.text}"
        for name, value in _figures(job, planned, own):
            yield f"{name}: {value}"
        yield f"hole centres: {measured_from(job, planned)}"
        yield from _plain_holes(job, planned.panels[0])
    yield f"in all: {_in_all(job, plan, strips)}"
    for name, value in order_rows(job, plan):
        yield f"to buy, {name}: {value}"
    assumed = _assumed(plan)
    if assumed:
        many = counted(len(assumed), "figure")
        yield f"assumed: {many} that the job file doesn't say; check before cutting"
    for name, value in assumed:
        yield f"assumed, {name}: {value}"


def _plain_holes(job: Job, panel: PanelPlan) -> Iterator[str]:
    """Every hole's measure, and the gap that follows."""
    after = [f"then {kind} gap" for kind in panel.gaps]
    after += [""] * (panel.count - 1 - len(after)) + ["the last"]
    for i, (center, then) in enumerate(zip(panel.centers, after, strict=True), 1):
        measure = format_length(center, job.units)
        yield f"eyelet {i}: {measure}, {then}" if then else f"eyelet {i}: {measure}"


def _summary(plan: Plan) -> str:
    """What must be looked at before all else, and at which windows; empty where nothing must.

    What is said of several windows alike counts once.
    """
    findings = {finding for window in plan.windows for finding in window.findings}
    levels = [(f.level, window.name) for window in plan.windows for f in window.findings]
    parts = []
    for level in ("stop", "warn"):
        count = sum(finding.level == level for finding in findings)
        if count:
            parts.append(counted(count, _SPOKEN[level]))
    if not parts:
        return ""
    names = list(dict.fromkeys(name for level, name in levels if level != "note"))
    more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    where = f" ({joined(names[:MOST_NAMES])}{more})" if len(plan.windows) > 1 else ""
    advice = "read before you cut"
    if plan.stops:
        advice = "no template is made until each stop is mended, or named with make --accept"
    return f"{', '.join(parts)}{where}: {advice}"


def _picture(job: Job, planned: WindowPlan, screen: Screen) -> Iterator[str]:
    """The strip in lines, and whose it is: of a pair the right one, which reads from eyelet 1."""
    panel = planned.panels[-1]
    whose = "The heading" if panel.side == "single" else f"The {panel.side} panel's heading"
    other = "; the left one's is its mirror image" if len(planned.panels) > 1 else ""
    caption = f"{whose} laid flat, seen from the face{other}:"
    yield from screen.wrapped(caption, "  ", "    ")
    indent = "  " if screen.width >= LEAST_COLUMNS + 2 else ""
    room = screen.width - len(indent)
    letters = job.paper.letters
    for line in line_picture(panel, job.units, letters, room, ascii_only=screen.ascii_only):
        yield f"{indent}{line}".rstrip()


def _figures(job: Job, window: WindowPlan, strips: Sequence[PlacedStrip]) -> list[tuple[str, str]]:
    """Every figure of a window's panels in full, and the sheets of each panel's template."""
    rows = in_full(window_figures(job, window))
    for panel, strip in zip(window.panels, strips, strict=True):
        sheets = counted(strip.sheets, "sheet")
        pages = strip.roll_pages
        where = pages_named(pages) if pages else turns_of(strip.tilings)
        value = f"{sheets}, {job.paper.name}, {where}"
        rows.append((f"template, {panel.side}", value))
    return rows


def _holes(job: Job, panel: PanelPlan, screen: Screen) -> list[str]:
    """Every hole's number, running measure, in inches mm beside it, and the gap that follows."""
    say = Wording(job.units)
    numbers = _lined_up([f"{number}" for number in range(1, panel.count + 1)])
    lengths = [screen.shown(say(center)) for center in panel.centers]
    width = max(map(len, lengths))
    measures = [padded(length, width) for length in lengths]
    kinds = [*panel.gaps, *[""] * (panel.count - len(panel.gaps))]
    bare = ["  ".join(parts).rstrip() for parts in zip(numbers, measures, kinds, strict=True)]
    entries = bare
    if job.units == "in":
        metric = _lined_up([f"{_tenths(center)} mm" for center in panel.centers])
        parts = zip(numbers, measures, metric, kinds, strict=True)
        entries = ["  ".join(part).rstrip() for part in parts]

    def fits(lines: Sequence[str]) -> bool:
        return screen.columns is None or 4 + max(map(cell_len, lines)) <= screen.width

    if fits(entries):
        return screen.grid(entries, "    ")
    if fits(bare):
        return screen.grid(bare, "    ")
    return [
        line for entry in bare for line in screen.wrapped(" ".join(entry.split()), "  ", "    ")
    ]


def _lined_up(texts: Sequence[str]) -> list[str]:
    """Texts of one column, moved to its right edge."""
    width = max(map(len, texts))
    return [text.rjust(width) for text in texts]


def _tenths(length: Length) -> str:
    """A length in mm with one decimal, always, so that a column of them lines up."""
    whole, tenth = divmod(round_half_up(length * 10), 10)
    return f"{whole}.{tenth}"


def _in_all(job: Job, plan: Plan, strips: StripList) -> str:
    """What the whole job takes."""
    panels = sum(w.quantity * len(w.panels) for w in plan.windows)
    return (
        f"{counted(panels, 'panel')}, {plan.eyelets} eyelets, "
        f"{format_length(plan.band, job.units)} of stiffener band, "
        f"{counted(strips.sheets, 'template sheet')}"
        f"{_of_roll(job, strips)}"
    )


def _of_roll(job: Job, strips: StripList) -> str:
    """What the sheets take of a roll; "" on cut paper."""
    if strips.roll is None:
        return ""
    return f" on {roll_taken(strips.pages, strips.roll.length, job.units)}"


def _assumed(plan: Plan) -> list[tuple[str, str]]:
    """What was assumed, each thing once, with its windows where it isn't all of them."""
    where = assumed_where(plan)
    keys = list(dict.fromkeys(assumption.key for assumption in where))
    rows = []
    for assumption in sorted(where, key=lambda assumption: keys.index(assumption.key)):
        names = f" ({joined(where[assumption])})" if where[assumption] else ""
        rows.append((assumption.key, f"{assumption.value}{names}"))
    return rows
