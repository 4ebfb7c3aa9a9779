"""A job's cutting pages as marks, and what the pages of any job must keep to."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

import pytest

from drapetemplate import drawing
from drapetemplate.drawing.marks import Line, Mark, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.job.model import Job
from drapetemplate.measures import parse_length
from drapetemplate.planning.drops import drops
from drapetemplate.planning.model import Plan
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.ticket import cut_pictures
from drapetemplate.ticket.cutting import MOST_DRAWN, cutting
from drapetemplate.ticket.flow import paper_flow
from tests.helpers.marks import texts

NEAR = 1e-6  # mm: floats of hundreds of mm keep a dozen digits

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Cutting:
    """A job, its plan and its cutting pages."""

    job: Job
    plan: Plan
    pages: tuple[tuple[Mark, ...], ...]

    def texts(self, role: Role | None = None) -> list[Text]:
        """Texts in order, of one role or all."""
        return [m for page in self.pages for m in texts(page) if role in {None, m.role}]

    def said(self, role: Role | None = None) -> str:
        """Their words."""
        return " ".join(text.text for text in self.texts(role))

    def lines(self, role: Role) -> list[Line]:
        """Lines of a role, in order."""
        return [m for page in self.pages for m in page if isinstance(m, Line) and m.role == role]

    def boxes(self, role: Role) -> list[Box]:
        """The boxes of polygons of a role, in order."""
        found = (m for page in self.pages for m in page if isinstance(m, Polygon))
        return [drawing.box(m) for m in found if m.role == role]


def cutting_of(job: Job) -> Cutting:
    """The cutting pages of a job."""
    planned = plan(job, advise=False)
    return Cutting(job, planned, cutting(job, planned, paper_flow(page_of(job), typeface())))


def page_of(job: Job) -> LaidPaper:
    """The job's paper to be read, a square of a roll: one too small for a template's sheet too."""
    paper = job.paper
    return LaidPaper(
        name=paper.name,
        width=paper.width,
        height=paper.width if paper.height is None else paper.height,
        margin=paper.margin,
        orientation=paper.orientation,
        overlap=paper.overlap,
        joins=paper.joins,
        factors=None,
    )


def within(inner: Box, outer: Box) -> bool:
    """Whether one box lies in another."""
    return (
        inner[0] >= outer[0] - NEAR
        and inner[1] >= outer[1] - NEAR
        and inner[2] <= outer[2] + NEAR
        and inner[3] <= outer[3] + NEAR
    )


def touching(one: Box, two: Box) -> bool:
    """Whether two boxes have anything in common."""
    return (
        one[0] < two[2] - NEAR
        and two[0] < one[2] - NEAR
        and one[1] < two[3] - NEAR
        and two[1] < one[3] - NEAR
    )


def check_page(job: Job, page: Iterable[Mark]) -> None:
    """Every mark within the margins, no text on another."""
    paper, marks = page_of(job), tuple(page)
    margin = float(paper.margin)
    room = (margin, margin, float(paper.width) - margin, float(paper.height) - margin)
    for mark in marks:
        assert within(drawing.box(mark), room), mark
    for one, two in combinations(texts(marks), 2):
        assert not touching(drawing.box(one), drawing.box(two)), (one.text, two.text)


def near(at: str, exact: float) -> bool:
    """Whether a printed length is the exact one, in mm, to its rounding."""
    step = 25.4 / 32 if at.endswith("in") else 0.05
    return abs(float(parse_length(at.removeprefix("≈ "), "in")) - exact) <= step + 1e-9


def listed(found: Cutting) -> list[tuple[list[int], str]]:
    """The cut lists' entries: their drops' numbers, and the words, wrapped lines put together."""
    entries: list[tuple[list[int], str]] = []
    for text in found.texts(Role.CUT_LIST):
        if re.match(r"Drops? \d", text.text):
            entries.append(([int(n) for n in re.findall(r"\d+", text.text)], ""))
        else:
            numbers, words = entries[-1]
            entries[-1] = (numbers, f"{words} {text.text}".strip())
    return entries


def check_slits(found: Cutting) -> None:
    """A drop's slits in its picture are those its entry names; both as the drop has them."""
    rows = iter(listed(found))
    lines = iter(_slit_places(found))
    for order in found.plan.order.cloth:
        width, mine = order.width, list(drops(found.plan, order))
        if not mine or order.total is None or width is None:
            continue
        named: dict[int, list[str]] = {}
        while len(named) < len(mine):
            numbers, words = next(rows)
            cut = re.search(r"Slit at (.*?):", words)
            for n in numbers[:12]:
                named[n] = re.split(", | and ", cut[1]) if cut else []
            if len(numbers) > 12:  # "… n in all"
                alike = [
                    d.number
                    for d in mine
                    if cut_pictures.slits(d, width)
                    == cut_pictures.slits(mine[numbers[0] - 1], width)
                ]
                named |= dict.fromkeys(alike, named[numbers[0]])
        for drop in mine:
            exact = [float(at) for at in cut_pictures.slits(drop, width)]
            assert len(named[drop.number]) == len(exact)
            assert all(near(at, mm) for at, mm in zip(named[drop.number], exact, strict=True))
            if drop.number <= MOST_DRAWN:
                assert [next(lines) for _ in exact] == pytest.approx(exact, abs=1e-6)
    assert next(lines, None) is None
    assert next(rows, None) is None


def _slit_places(found: Cutting) -> Iterator[float]:
    """Every slit's way from its left selvage in mm of cloth, at the scale its picture states."""
    scale, low = 0.0, 0.0
    for mark in (mark for page in found.pages for mark in page):
        if mark.role == Role.CAPTION and isinstance(mark, drawing.Text):
            stated = re.match(r"Scale 1:(\d+)", mark.text)
            scale = float(stated[1]) if stated else scale
        elif mark.role == Role.LEFT_OVER:
            low = drawing.box(mark)[1]
        elif mark.role == Role.SLIT and isinstance(mark, Line):
            yield (float(mark.y1) - low) * scale


def check_pieces(found: Cutting) -> None:
    """Every piece is drawn, to the scale stated, and its label lies on it or is left out."""
    drawn: list[tuple[float, float]] = []
    scale = 0.0
    last: list[tuple[float, float, float, float]] = []
    for mark in (mark for page in found.pages for mark in page):
        if isinstance(mark, drawing.Text) and mark.role == Role.CAPTION:
            stated = re.match(r"Scale 1:(\d+)", mark.text)
            scale = float(stated[1]) if stated else scale
        elif isinstance(mark, Polygon) and mark.role == Role.PIECE:
            last.append(drawing.box(mark))
            left, low, right, high = last[-1]
            drawn.append(((right - left) * scale, (high - low) * scale))
        elif isinstance(mark, drawing.Text) and mark.role == Role.PIECE_LABEL:
            assert within(drawing.box(mark), last[-1])
    expected = [
        (float(drop.length - drop.over), float(piece.width))
        for order in found.plan.order.cloth
        if order.total is not None and order.width is not None
        for drop in list(drops(found.plan, order))[:MOST_DRAWN]
        for piece in drop.pieces
    ]
    assert len(drawn) == len(expected)
    for one, two in zip(drawn, expected, strict=True):
        assert one == pytest.approx(two, abs=1e-5)


def check_words(found: Cutting) -> None:
    """No figure, unit or word of the pages is cut; a long window's name alone may be."""
    sides, parts = ("single", "left", "right"), ("panel", "lining")
    tails = {"", *(f", {side} {part}" for side in sides for part in parts)}
    for order in found.plan.order.cloth:
        for drop in drops(found.plan, order):
            for piece in drop.pieces:
                _, *which, much = cut_pictures.piece_words(found.job, drop, piece)
                whole_words = ", ".join(filter(None, which))
                tails |= {f", {whole_words}", f", {whole_words}, {much}"}
    names = [window.name for window in found.job.windows]
    whole = {(name, f"{last}{tail}") for name in names for tail in tails for last in _lasts(name)}
    for text in found.texts():
        if "…" not in text.text or text.role == Role.FOOT:
            continue
        if text.role == Role.CUT_LIST:
            assert re.fullmatch(r"Drops [\d, ]+ … \d+ in all", text.text)
            continue
        assert text.role in {Role.PIECE_LABEL, Role.PANEL_WORDS}, text
        start, _, end = text.text.partition("…")
        assert any(name.startswith(start) and end == kept for name, kept in whole), text.text


def _lasts(name: str) -> tuple[str, str]:
    """What may stand after the sign that a name is cut: nothing, or its last word."""
    _, space, last = name.rpartition(" ")
    return "", space + last


def check(job: Job) -> Cutting:
    """All that any job's cutting pages must keep to."""
    found = cutting_of(job)
    for page in found.pages:
        check_page(job, page)
        for left, _, right, _ in (drawing.box(m) for m in page if m.role == Role.LEFT_OVER):
            assert right - left <= float(job.paper.width) - 2 * min(float(job.paper.margin), 20)
    check_words(found)
    check_pieces(found)
    check_slits(found)
    return found
