"""What a page draws by pdfplumber, a reader of PDFs that others made: as measuring's own marks.

Our reader is held against it. Two things it takes otherwise than ISO 32000-1 has them: a pen's
width is scaled by the matrix as it's set, not as it paints (8.4.3.2), dashes by none (8.4.3.6).
A third is put right here: a pen that nobody has set is 1 wide (table 52), not 0.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from io import BytesIO
from itertools import chain
from math import inf
from typing import Any
from unittest.mock import patch

import pdfplumber
from pdfminer import pdfinterp
from pdfminer.layout import LTChar, LTContainer, LTCurve, LTItem

from drapetemplate.drawing.marks import Pen
from drapetemplate.measure.drawn_marks import POINT, DrawnMark, Glyph, Path

WITHIN = 1e-9
"""Millimetres, and parts of 1."""


class _State(pdfinterp.PDFGraphicState):
    """The state a page begins in."""

    def __init__(self) -> None:
        super().__init__()
        self.linewidth = 1


def plumbed_pages(
    pdf: bytes, scale: tuple[Fraction, Fraction], numbers: Sequence[int]
) -> Iterator[list[DrawnMark]]:
    """What each of these pages, counted from 0, draws by pdfplumber."""
    with (
        patch.object(pdfinterp, "PDFGraphicState", _State),
        pdfplumber.open(BytesIO(pdf)) as opened,
    ):
        for number in numbers:
            yield list(_marks(opened.pages[number], scale))


def _marks(page: Any, scale: tuple[Fraction, Fraction]) -> Iterator[DrawnMark]:  # noqa: ANN401  # pdfplumber has no types
    across, down = (float(factor) for factor in scale)
    by_x, by_y = POINT / across, POINT / down
    waiting: list[LTItem] = [page.layout]
    while waiting:
        item = waiting.pop()
        if isinstance(item, LTContainer):
            waiting += reversed(list(item))
        elif isinstance(item, LTChar):
            a, b, c, d, x, y = item.matrix
            turn = (a / across, b / down, c / across, d / down)
            bold = item.fontname.endswith("Bold")
            grey = _grey(item.graphicstate.ncolor)
            yield Glyph(item.get_text(), x * by_x, y * by_y, item.adv * POINT, turn, bold, grey)
        elif isinstance(item, LTCurve):
            path: Any = item.original_path or ()  # pdfminer's own type leaves the points out
            steps = tuple(
                (operator, tuple((x * by_x, y * by_y) for x, y in points))
                for operator, *points in path
            )
            pen = _pen(item) if item.stroke else None
            yield Path(steps, pen, _grey(item.non_stroking_color) if item.fill else None)


def _pen(curve: LTCurve) -> Pen:
    style: Any = curve.dashing_style  # pdfminer gives it no type
    dashes = style[0] if style else ()
    dash = tuple(float(length) * POINT for length in dashes)
    return Pen(curve.linewidth * POINT, dash, _grey(curve.stroking_color))


def _grey(colour: Any) -> float:  # noqa: ANN401  # whatever a PDF names
    """A device's grey; infinite for any other colour."""
    if isinstance(colour, (tuple, list)) and len(colour) == 1:
        colour = colour[0]
    if colour is None:
        return 0.0
    return float(colour) if isinstance(colour, (int, float)) else inf


def assert_alike(ours: Sequence[DrawnMark], theirs: Sequence[DrawnMark]) -> None:
    """The same marks in the same order, all their numbers within WITHIN."""
    assert [_words(mark) for mark in ours] == [_words(mark) for mark in theirs]
    numbers = zip(
        chain.from_iterable(map(_numbers, ours)),
        chain.from_iterable(map(_numbers, theirs)),
        strict=True,
    )
    assert max((abs(a - b) for a, b in numbers), default=0.0) <= WITHIN


def _words(mark: DrawnMark) -> tuple[object, ...]:
    """What of a mark is no number."""
    if isinstance(mark, Glyph):
        return mark.text, mark.bold
    dashes = len(mark.pen.dash) if mark.pen else None
    return mark.shape, [len(points) for _, points in mark.steps], dashes, mark.fill is None


def _numbers(mark: DrawnMark) -> Iterator[float]:
    if isinstance(mark, Glyph):
        yield from (mark.x, mark.y, mark.advance, *mark.turn, mark.grey)
        return
    yield from (number for _, points in mark.steps for point in points for number in point)
    if mark.pen is not None:
        yield from (mark.pen.width, *mark.pen.dash, mark.pen.grey)
    if mark.fill is not None:
        yield mark.fill
