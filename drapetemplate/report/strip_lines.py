"""A panel's strip as a line picture for a terminal, to scale across: characters, no graphics."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from drapetemplate.measures import CM, INCH, MM, Units, format_length, round_half_up
from drapetemplate.planning.model import PanelPlan
from drapetemplate.report.screen import LEAST_COLUMNS, Screen, held
from drapetemplate.report.strip_columns import LongLine, Stretch, arranged

MOST_ROWS = 6
"""With more rows than these only `END_ROWS` at either end are drawn."""

END_ROWS = 2
_UNIT = {"in": INCH, "mm": MM, "cm": CM}
_PLAIN_LETTERS = ("F", "B")


@dataclass(frozen=True, slots=True)
class _Signs:
    """The characters of a picture; `corners` and `folds` above then below, left then right."""

    ring: str
    seam: str
    edge: str
    turned: str
    side: str
    torn: str
    corners: str
    folds: str
    ties: str


_UNICODE = _Signs("○", "┊", "─", "╌", "│", "╱", "┌┐└┘", "┬┴", "├┤")  # noqa: RUF001
_ASCII = _Signs("o", ":", "-", ".", "|", "/", "++++", "++", "||")


def line_picture(
    panel: PanelPlan,
    units: Units,
    letters: tuple[str, str],
    columns: int,
    *,
    ascii_only: bool = False,
) -> tuple[str, ...]:
    """The panel's strip flat, as seen from the face, in lines of at most `columns` (20 or more).

    Eyelets, the `letters` of front and back gaps, seams and return folds stand at their scaled
    places. Where they don't fit one row they go over several, each saying what it shows; beyond
    `MOST_ROWS` the middle is left out, and said to be.
    """
    columns = max(columns, LEAST_COLUMNS)
    screen = Screen(columns, ascii_only)
    signs = _ASCII if ascii_only else _UNICODE
    own = _can_show(letters, signs, ascii_only=ascii_only)
    laid, rows = arranged(panel, letters if own else _PLAIN_LETTERS, columns)
    lines: list[str] = []
    if len(rows) == 1:
        lines += _row(panel, laid, rows[0], signs, columns)
        lines += _whole_width(panel, units, laid.end + 1, signs, screen)
    else:
        drawn = range(len(rows))
        if len(rows) > MOST_ROWS:
            drawn = range(END_ROWS)
        for row in rows[: len(drawn)]:
            lines += _heading(panel, laid, row, units, screen)
            lines += _row(panel, laid, row, signs, columns)
        if len(rows) > MOST_ROWS:
            lines += _left_out(panel, laid, rows[END_ROWS:-END_ROWS], units, screen)
            for row in rows[-END_ROWS:]:
                lines += _heading(panel, laid, row, units, screen)
                lines += _row(panel, laid, row, signs, columns)
        lines += _scale_bar(panel, laid, units, signs, screen)
    lines += _legend(laid, letters if own else _PLAIN_LETTERS, signs, screen, own=own)
    return tuple(line.rstrip() for line in lines)


def _can_show(letters: tuple[str, str], signs: _Signs, *, ascii_only: bool) -> bool:
    """False for letters that can't be shown here, would be taken for a sign, or turn the line."""
    taken = {signs.ring, signs.seam, signs.side, signs.torn}
    return all(
        cell_len(letter) > 0
        and (letter.isascii() or not ascii_only)
        and not set(letter) <= taken
        and not any(unicodedata.bidirectional(one) in {"R", "AL", "AN"} for one in letter)
        for letter in letters
    )


def _row(
    panel: PanelPlan, laid: LongLine, row: Stretch, signs: _Signs, columns: int
) -> Iterator[str]:
    """A stretch of the strip in lines: ends named, top edge, eyelets, foot, eyelet numbers."""
    wide = row.last - row.first + 3
    ends = row.first == 1, row.last == laid.end - 1

    def local(column: int) -> int:
        return column - row.first + 1

    label = _end_names(panel, ends, wide)
    if label:
        yield label
    middle = [" "] * wide
    for start, text in laid.letters:
        if row.first <= start <= row.last:
            columns_taken = cell_len(text)
            rest = [""] * (columns_taken - 1)
            middle[local(start) : local(start) + columns_taken] = [text, *rest]
    shown = [seam for seam in laid.seams if row.first <= seam <= row.last]
    for seam in shown:
        middle[local(seam)] = signs.seam
    for n in row.rings(laid):
        middle[local(laid.rings[n])] = signs.ring
    middle[0], middle[-1] = (signs.side if end else signs.torn for end in ends)
    edges = []
    for above in (True, False):
        edge = [
            _edge(laid, column, signs, above=above) for column in range(row.first, row.last + 1)
        ]
        for seam in shown:
            edge[seam - row.first] = signs.seam
        corners = signs.corners[:2] if above else signs.corners[2:]
        left, right = (corners[n] if end else signs.torn for n, end in enumerate(ends))
        edges.append(f"{left}{''.join(edge)}{right}")
    yield edges[0]
    yield "".join(middle)
    yield edges[1]
    if row.rings(laid):
        yield _numbers(laid, row, columns)


def _edge(laid: LongLine, column: int, signs: _Signs, *, above: bool) -> str:
    """The sign of the band's edge at a column: what turns back to the wall is dashed."""
    left, right = laid.folds
    if column in laid.folds:
        return signs.folds[0 if above else 1]
    back = (left is not None and column < left) or (right is not None and column > right)
    return signs.turned if back else signs.edge


def _end_names(panel: PanelPlan, ends: tuple[bool, bool], wide: int) -> str:
    """The names of the panel's ends that a row shows, over them."""
    names = {"left": ("return", "leading"), "right": ("leading", "return")}.get(
        panel.side, ("return", "return")
    )
    shown = [name if end else "" for name, end in zip(names, ends, strict=True)]
    for suffix in (" edge", ""):
        left, right = (name + suffix if name else "" for name in shown)
        if len(left) + bool(left and right) + len(right) <= wide:
            return f"{left}{right:>{wide - len(left)}}".rstrip()
    return ""


def _numbers(laid: LongLine, row: Stretch, columns: int) -> str:
    """Each eyelet's number under it, wherever it doesn't run into the one before."""
    line = ""
    for n in row.rings(laid):
        text = str(laid.numbers[n])
        start = laid.rings[n] - row.first + 1 - (len(text) - 1) // 2
        start = max(min(start, columns - len(text)), 0)
        if start > len(line) or not line:
            line = f"{line:<{start}}{text}"
    return line


def _heading(
    panel: PanelPlan, laid: LongLine, row: Stretch, units: Units, screen: Screen
) -> list[str]:
    """What a row shows: from which eyelet to which, and where these are."""
    shown = [laid.numbers[n] for n in row.rings(laid)]
    if not shown:
        return screen.wrapped("no eyelets here:", rest="  ")
    first, last = (format_length(panel.centers[n - 1], units) for n in (shown[0], shown[-1]))
    edge = f"from the {panel.edge} edge"
    if len(shown) == 1:
        return screen.wrapped(f"eyelet {shown[0]}: {first} {edge}", rest="  ")
    text = f"eyelets {shown[0]} to {shown[-1]}: {first} to {last} {edge}"
    return screen.wrapped(text, rest="  ")


def _left_out(
    panel: PanelPlan, laid: LongLine, rows: Sequence[Stretch], units: Units, screen: Screen
) -> list[str]:
    """What isn't drawn between the rows that are."""
    shown = [laid.numbers[n] for row in rows for n in row.rings(laid)]
    seams = sum(rows[0].first <= seam <= rows[-1].last for seam in laid.seams)
    also = f", nor {seams} of the seams" if seams else ""
    if not shown:
        return screen.wrapped(f"plain cloth isn't drawn here{also}", "... ", "    ")
    many = f"eyelets {shown[0]} to {shown[-1]}, {len(shown)} in all, aren't"
    if len(shown) == 1:
        many = f"eyelet {shown[0]} isn't"
    pitch = format_length(panel.pitch, units)
    text = f"{many} drawn{also}; each stands {pitch} from the one before, centre to centre"
    return screen.wrapped(text, "... ", "    ")


def _whole_width(
    panel: PanelPlan, units: Units, wide: int, signs: _Signs, screen: Screen
) -> list[str]:
    """The overall width, as a dimension line under the strip."""
    text = screen.shown(f" {format_length(panel.width, units)} ")
    return [f"{signs.ties[0]}{text.center(wide - 2, signs.edge)}{signs.ties[1]}"]


def _scale_bar(
    panel: PanelPlan, laid: LongLine, units: Units, signs: _Signs, screen: Screen
) -> list[str]:
    """A round measure at the rows' scale, and the overall width."""
    most = screen.width // 2
    unit = _UNIT[units]
    # 1, 2, 5, 10 ... up to 100 m in mm.
    rounds = [step * 10**power for power in range(6) for step in (1, 2, 5)]
    fitting = [n for n in rounds if 3 <= round_half_up(n * unit * laid.scale) + 1 <= most]
    whole = f"{format_length(panel.width, units)} from end to end"
    if not fitting:
        return screen.wrapped(whole)
    steps = round_half_up(fitting[-1] * unit * laid.scale)
    bar = f"{signs.ties[0]}{signs.edge * (steps - 1)}{signs.ties[1]} {fitting[-1]} {units}"
    line = screen.shown(f"{bar}; {whole}")
    return [line] if cell_len(line) <= screen.width else [f"{bar};", *screen.wrapped(whole)]


def _legend(
    laid: LongLine, letters: tuple[str, str], signs: _Signs, screen: Screen, *, own: bool
) -> list[str]:
    """What the signs mean, those alone that the panel has."""
    meant = [f"{signs.ring} eyelet"]
    if laid.letters:
        meant += [f"{letters[0]} front gap", f"{letters[1]} back gap"]
    if laid.seams:
        meant.append(f"{signs.seam} seam")
    if laid.folds != (None, None):
        dashed = signs.turned if {1, laid.end - 1}.isdisjoint(laid.folds) else ""
        meant.append(f"{signs.folds[0]}{dashed} return fold")
    lines = screen.wrapped(" ".join(held(f"{one}  ") for one in meant))
    if laid.letters and not own:
        lines += screen.wrapped("(the template has the job's own letters, which can't show here)")
    return lines
