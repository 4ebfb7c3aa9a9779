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
    ties: tuple[str, str]


_UNICODE = _Signs("○", "┊", "─", "╌", "│", "╱", "┌┐└┘", "┬┴", ("├", "┤"))  # noqa: RUF001
_ASCII = _Signs("o", ":", "-", ".", "|", "/", "++++", "++", ("|", "|"))


def line_picture(
    panel: PanelPlan,
    units: Units,
    letters: tuple[str, str],
    columns: int,
    *,
    ascii_only: bool = False,
) -> tuple[str, ...]:
    """Return the panel's strip flat, seen from the face, in lines of at most `columns`, from 20 up.

    Eyelets, the `letters` of front and back gaps, seams and return folds stand at their scaled
    places. Where they don't fit one row they go over several, each saying what it shows; beyond
    `MOST_ROWS` the middle is left out, and a line says so.
    """
    screen = Screen(max(columns, LEAST_COLUMNS), ascii_only)
    signs = _ASCII if ascii_only else _UNICODE
    can_show = _can_show(letters, signs, ascii_only=ascii_only)
    shown = letters if can_show else _PLAIN_LETTERS
    line, rows = arranged(panel, shown, screen.width)
    picture = _LinePicture(panel, units, line, signs, screen)
    lines = [*picture.strip(rows), *picture.legend(shown)]
    if line.letters and not can_show:
        lines += screen.wrapped("(the template has the job's own letters, which can't show here)")
    return tuple(text.rstrip() for text in lines)


def _can_show(letters: tuple[str, str], signs: _Signs, *, ascii_only: bool) -> bool:
    """False for letters that can't be shown here, would be taken for a sign, or turn the line."""
    taken = {signs.ring, signs.seam, signs.side, signs.torn}
    return all(
        cell_len(letter) > 0
        and (letter.isascii() or not ascii_only)
        and not set(letter) <= taken
        and not any(unicodedata.bidirectional(sign) in {"R", "AL", "AN"} for sign in letter)
        for letter in letters
    )


@dataclass(frozen=True, slots=True)
class _LinePicture:
    """A panel along one `line` of columns, and what to draw it with."""

    panel: PanelPlan
    units: Units
    line: LongLine
    signs: _Signs
    screen: Screen

    def strip(self, rows: Sequence[Stretch]) -> Iterator[str]:
        """The strip in rows, each with what it shows if there are several; then its measures."""
        if len(rows) == 1:
            yield from self._row(rows[0])
            yield self._whole_width()
            return
        drawn, left_out, last = rows, rows[:0], rows[:0]
        if len(rows) > MOST_ROWS:
            drawn, left_out, last = rows[:END_ROWS], rows[END_ROWS:-END_ROWS], rows[-END_ROWS:]
        for row in drawn:
            yield from (*self._heading(row), *self._row(row))
        if left_out:
            yield from self._left_out(left_out)
        for row in last:
            yield from (*self._heading(row), *self._row(row))
        yield from self._scale_bar()

    def _row(self, row: Stretch) -> Iterator[str]:
        """A stretch of the strip in lines: ends named, top edge, eyelets, foot, eyelet numbers."""
        line, signs = self.line, self.signs
        ends = row.first == 1, row.last == line.end - 1
        start = row.first - 1
        middle = [" "] * (row.last - row.first + 3)
        label = _end_names(self.panel, ends, len(middle))
        if label:
            yield label
        for column, letter in line.letters:
            if row.first <= column <= row.last:
                letter_end = column + cell_len(letter)
                rest = [""] * (letter_end - column - 1)
                middle[column - start : letter_end - start] = [letter, *rest]
        seams = [seam for seam in line.seams if row.first <= seam <= row.last]
        for seam in seams:
            middle[seam - start] = signs.seam
        for n in row.rings(line):
            middle[line.rings[n] - start] = signs.ring
        middle[0], middle[-1] = (signs.side if end else signs.torn for end in ends)
        yield self._edge(row, seams, ends, signs.corners[:2], signs.folds[0])
        yield "".join(middle)
        yield self._edge(row, seams, ends, signs.corners[2:], signs.folds[1])
        if row.rings(line):
            yield self._numbers(row)

    def _edge(
        self, row: Stretch, seams: Sequence[int], ends: tuple[bool, bool], corners: str, fold: str
    ) -> str:
        """The band's upper or lower edge along a row; what turns back to the wall is dashed."""
        signs = self.signs
        left, right = self.line.folds
        edge = []
        for column in range(row.first, row.last + 1):
            back = (left is not None and column < left) or (right is not None and column > right)
            sign = signs.turned if back else signs.edge
            if column in self.line.folds:
                sign = fold
            if column in seams:
                sign = signs.seam
            edge.append(sign)
        first, last = (
            corner if end else signs.torn for corner, end in zip(corners, ends, strict=True)
        )
        return f"{first}{''.join(edge)}{last}"

    def _numbers(self, row: Stretch) -> str:
        """Each eyelet's number under it, wherever it doesn't run into the one before."""
        text = ""
        for n in row.rings(self.line):
            number = str(self.line.numbers[n])
            start = self.line.rings[n] - row.first + 1 - (len(number) - 1) // 2
            start = max(min(start, self.screen.width - len(number)), 0)
            if start > len(text) or not text:
                text = f"{text:<{start}}{number}"
        return text

    def _heading(self, row: Stretch) -> list[str]:
        """What a row shows: from which eyelet to which, and where these are."""
        numbers = [self.line.numbers[n] for n in row.rings(self.line)]
        if not numbers:
            return self.screen.wrapped("no eyelets here:", rest="  ")
        centers = self.panel.centers
        first, last = (format_length(centers[n - 1], self.units) for n in (numbers[0], numbers[-1]))
        text = f"eyelets {numbers[0]} to {numbers[-1]}: {first} to {last}"
        if len(numbers) == 1:
            text = f"eyelet {numbers[0]}: {first}"
        return self.screen.wrapped(f"{text} from the {self.panel.edge} edge", rest="  ")

    def _left_out(self, rows: Sequence[Stretch]) -> list[str]:
        """What isn't drawn between the rows that are."""
        numbers = [self.line.numbers[n] for row in rows for n in row.rings(self.line)]
        seams = sum(rows[0].first <= seam <= rows[-1].last for seam in self.line.seams)
        also = f", nor {seams} of the seams" if seams else ""
        if not numbers:
            return self.screen.wrapped(f"plain cloth isn't drawn here{also}", "... ", "    ")
        which = f"eyelets {numbers[0]} to {numbers[-1]}, {len(numbers)} in all, aren't"
        if len(numbers) == 1:
            which = f"eyelet {numbers[0]} isn't"
        pitch = format_length(self.panel.pitch, self.units)
        text = f"{which} drawn{also}; each stands {pitch} from the one before, centre to centre"
        return self.screen.wrapped(text, "... ", "    ")

    def _whole_width(self) -> str:
        """The overall width, as a dimension line under the strip."""
        left, right = self.signs.ties
        text = self.screen.shown(f" {format_length(self.panel.width, self.units)} ")
        return f"{left}{text.center(self.line.end - 1, self.signs.edge)}{right}"

    def _scale_bar(self) -> list[str]:
        """A round measure at the rows' scale, and the overall width."""
        columns = self.line.scale * _UNIT[self.units]  # a unit
        # 1, 2, 5, 10 ... up to 100 m in mm.
        rounds = [step * 10**power for power in range(6) for step in (1, 2, 5)]
        most = self.screen.width // 2
        fitting = [n for n in rounds if 3 <= round_half_up(n * columns) + 1 <= most]
        whole = f"{format_length(self.panel.width, self.units)} from end to end"
        if not fitting:
            return self.screen.wrapped(whole)
        left, right = self.signs.ties
        rule = self.signs.edge * (round_half_up(fitting[-1] * columns) - 1)
        bar = f"{left}{rule}{right} {fitting[-1]} {self.units}"
        text = self.screen.shown(f"{bar}; {whole}")
        fits = cell_len(text) <= self.screen.width
        return [text] if fits else [f"{bar};", *self.screen.wrapped(whole)]

    def legend(self, letters: tuple[str, str]) -> list[str]:
        """What the signs mean, those alone that the panel has."""
        line, signs = self.line, self.signs
        meanings = [f"{signs.ring} eyelet"]
        if line.letters:
            meanings += [f"{letters[0]} front gap", f"{letters[1]} back gap"]
        if line.seams:
            meanings.append(f"{signs.seam} seam")
        if line.folds != (None, None):
            dashed = signs.turned if {1, line.end - 1}.isdisjoint(line.folds) else ""
            meanings.append(f"{signs.folds[0]}{dashed} return fold")
        return self.screen.wrapped(" ".join(held(f"{meaning}  ") for meaning in meanings))


def _end_names(panel: PanelPlan, ends: tuple[bool, bool], width: int) -> str:
    """The names of the panel's ends that a row shows, over them."""
    names = {"left": ("return", "leading"), "right": ("leading", "return")}.get(
        panel.side, ("return", "return")
    )
    shown = [name if end else "" for name, end in zip(names, ends, strict=True)]
    for suffix in (" edge", ""):
        left, right = (name + suffix if name else "" for name in shown)
        if len(left) + bool(left and right) + len(right) <= width:
            return f"{left}{right:>{width - len(left)}}".rstrip()
    return ""
