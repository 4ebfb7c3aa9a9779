"""A PDF that two readers would show in two ways isn't true, whatever this one makes of it.

Each is a made PDF with an update at its end, or other bytes round it, after which at least one
other reader (PDFium, Poppler; seen in November 2026) shows another page than the one measured.
"""

from __future__ import annotations

import cmath
import re
from collections.abc import Callable, Iterator
from io import BytesIO
from math import pi, radians, tan

import pikepdf
import pytest

import drapetemplate
from drapetemplate.drawing.marks import Circle, Pen
from drapetemplate.drawing.roles import Role
from drapetemplate.measure.compare_marks import off
from drapetemplate.measure.drawn_marks import Path, Point, Step
from drapetemplate.measure.one_meaning import two_meanings
from drapetemplate.measure.strange_pdf import check_packing
from drapetemplate.record.budget import Budget, bounded
from drapetemplate.record.read import StrangePdf
from tests.helpers.edits import content, edited, sheet_of
from tests.helpers.made import made
from tests.hostile.strangers import JOB, PACKED, PLAIN, root_of, xref_stream

SPARE = 900
"""The number of an object that the file hasn't."""
WRONG = b"<< /Length 13 >>\nstream\n9 9 m 99 99 l\nendstream"


def object_of(number: int) -> bytes:
    """What the plain PDF has under a number."""
    found = re.search(rb"\n%d 0 obj\n(.*?)\nendobj" % number, PLAIN, re.DOTALL)
    assert found is not None
    return found[1]


with pikepdf.open(BytesIO(PLAIN)) as opened:
    PAGE_NUMBER = opened.pages[sheet_of(opened)].obj.objgen[0]
    CONTENT = opened.pages[sheet_of(opened)].obj.Contents.objgen[0]
    TREE_NUMBER = opened.Root.Pages.objgen[0]
PAGE, TREE = object_of(PAGE_NUMBER), object_of(TREE_NUMBER)
UNDER = b"/Parent %d 0 R" % TREE_NUMBER


def updated(*objects: tuple[int, int, bytes], free: int | None = None) -> bytes:
    """The plain PDF with further objects, by number and generation, at its end; one set free."""
    pdf, rows = PLAIN, []
    if free is not None:
        rows.append(b"%d 1\n0000000000 00001 f \n" % free)
    for number, generation, held in objects:
        rows.append(b"%d 1\n%010d %05d n \n" % (number, len(pdf), generation))
        pdf += b"%d %d obj\n%s\nendobj\n" % (number, generation, held)
    [*_, before] = re.findall(rb"startxref\s+(\d+)", PLAIN)
    trailer = b"trailer\n<< /Size 999 %s /Prev %s >>" % (root_of(PLAIN), before)
    end = b"%s\nstartxref\n%d\n%%%%EOF\n" % (trailer, len(pdf))
    return pdf + b"xref\n" + b"".join(rows) + end


def page(extra: bytes, *others: tuple[int, int, bytes], under: bytes = UNDER) -> bytes:
    """The sheet with an entry more, after its own, or another parent."""
    held = PAGE.replace(UNDER, under)[:-2] + extra + b" >>"
    return updated((PAGE_NUMBER, 0, held), *others)


def tree(old: bytes, new: bytes) -> bytes:
    """The tree of pages changed."""
    changed = re.sub(old, new, TREE)
    assert changed != TREE
    return updated((TREE_NUMBER, 0, changed))


def trees(count: int) -> bytes:
    """So many trees of pages, each in the one before it, the pages in the last."""
    numbers = [TREE_NUMBER, *range(SPARE, SPARE + count - 1)]
    objects = []
    for above, number, below in zip([0, *numbers], numbers, [*numbers[1:], 0], strict=False):
        held = re.sub(rb"\[.*\]", b"[%d 0 R]" % below, TREE) if below else TREE
        objects.append((number, 0, held[:-2] + b"/Parent %d 0 R >>" % above if above else held))
    last = b"/Parent %d 0 R" % numbers[-1]
    pages = map(int, re.findall(rb"(\d+) 0 R", TREE))
    moved = ((number, 0, object_of(number).replace(UNDER, last)) for number in pages)
    return updated(*objects, *moved)


def packed(*inside: tuple[int, bytes], place: int) -> bytes:
    """The plain PDF with a stream of objects, the page being that at a `place` in it."""
    heads, bodies = b"", b""
    for number, held in inside:
        heads += b"%d %d " % (number, len(bodies))
        bodies += held + b" "
    entries = b"<< /Type /ObjStm /N %d /First %d /Length %d >>" % (
        len(inside),
        len(heads),
        len(heads + bodies),
    )
    stream = b"%d 0 obj\n%s\nstream\n%s\nendstream\nendobj\n" % (SPARE, entries, heads + bodies)
    rows = b"\2" + SPARE.to_bytes(4, "big") + bytes([place])
    rows += b"\1" + len(PLAIN).to_bytes(4, "big") + b"\0"
    [*_, before] = re.findall(rb"startxref\s+(\d+)", PLAIN)
    index = b"/Size 9999 /W [1 4 1] /Index [%d 1 %d 1]" % (PAGE_NUMBER, SPARE)
    return xref_stream(index + b" /Prev " + before, rows, PLAIN + stream)


NODE = b"<< /Type /Pages /Count 1 /Kids [%d 0 R] /Rotate 90 /Parent %d 0 R >>"
NO_TREE = "lists its pages in a way that is no tree"
TWO_PLACES = "says in two ways where its objects are"
TURNED = PAGE[:-2] + b" /Rotate 90 >>"
VERSIONS = "has an object in two versions"
SAID_TWICE = "is damaged, or says two things in one place"
TWO_WAYS = {
    "box-twice": (page(b" /MediaBox [10 10 622 802]"), SAID_TWICE),
    "content-twice": (page(b" /Contents %d 0 R" % SPARE, (SPARE, 0, WRONG)), SAID_TWICE),
    "content-spelled": (page(b" /#43ontents %d 0 R" % SPARE, (SPARE, 0, WRONG)), SAID_TWICE),
    "number-of-another": (
        updated((CONTENT, 0, object_of(CONTENT))).replace(
            b"EOF\n%d 0 obj" % CONTENT, b"EOF\n%d 0 obj" % (CONTENT + 1)
        ),
        SAID_TWICE,
    ),
    "listed-twice": (
        updated((CONTENT, 0, object_of(CONTENT)), (CONTENT, 0, WRONG)),
        TWO_PLACES,
    ),
    "free": (updated(free=CONTENT), TWO_PLACES),
    "packed-twice": (packed((PAGE_NUMBER, PAGE), (PAGE_NUMBER, TURNED), place=1), TWO_PLACES),
    "packed-elsewhere": (packed((PAGE_NUMBER, PAGE), (SPARE, TURNED), place=1), TWO_PLACES),
    "two-versions": (updated((CONTENT, 1, WRONG)), VERSIONS),
    "second-version": (updated((CONTENT, 2, WRONG)), VERSIONS),
    "two-later-versions": (updated((SPARE, 1, WRONG), (SPARE, 2, WRONG)), VERSIONS),
    "other-parent": (
        page(
            b"",
            (SPARE, 0, NODE % (PAGE_NUMBER, TREE_NUMBER)),
            under=b"/Parent %d 0 R" % SPARE,
        ),
        NO_TREE,
    ),
    "parent-inside": (page(b"", under=b"/Parent << /CropBox [9 9 99 99] >>"), NO_TREE),
    "no-parent": (page(b"", under=b""), NO_TREE),
    "count-less": (tree(rb"/Count \d+", b"/Count 3"), NO_TREE),
    "count-more": (tree(rb"/Count \d+", b"/Count 99"), NO_TREE),
    "no-count": (tree(rb"/Count \d+", b""), NO_TREE),
    "null-among": (tree(rb"/Kids \[", b"/Kids [ null"), NO_TREE),
    "page-inside": (tree(rb"/Kids \[", b"/Kids [ << /Type /Page %s >>" % UNDER), NO_TREE),
    "no-type": (tree(rb"/Type /Pages", b""), NO_TREE),
    "too-many-trees": (trees(51), NO_TREE),
    "before": (b"%\n" + PLAIN, "has something before its beginning"),
    "after": (
        PLAIN + b"%d 0 obj\n%s\nendobj\n" % (CONTENT, WRONG),
        "has no end, or something after it",
    ),
    "white-after": (PLAIN + b"\n" * 2_000, "has no end, or something after it"),
}


def doubts(pdf: bytes) -> Iterator[str]:
    """All that is doubtful of a PDF's file, all of it read as measuring does."""
    with bounded("x.pdf"):
        budget = Budget(len(pdf))
        reader = StrangePdf(pdf, "x.pdf", budget).reader
        check_packing(reader, "x.pdf", budget)
        assert len(reader.pages) > 0
        yield from two_meanings(pdf, reader, budget)


@pytest.mark.parametrize(("pdf", "why"), TWO_WAYS.values(), ids=TWO_WAYS)
def test_two_ways(pdf: bytes, why: str) -> None:
    """Each is told in a sentence of its own, with what it may lead to."""
    assert f"the file {why}: readers may differ in what it shows" in list(doubts(pdf))


@pytest.mark.parametrize(
    "pdf",
    [
        made(JOB)[0],
        PLAIN,
        PACKED,
        PLAIN + b"\r\n\0\n",
        updated((CONTENT, 0, object_of(CONTENT))),
        packed((SPARE + 1, b"5"), (PAGE_NUMBER, PAGE), place=1),
        trees(2),
        trees(50),
    ],
    ids=[
        "as-made",
        "written-again",
        "packed",
        "line-after",
        "updated",
        "page-packed",
        "tree-in-a-tree",
        "fifty-trees",
    ],
)
def test_one_way(pdf: bytes) -> None:
    """What is only packed, updated or sorted otherwise leaves no doubt."""
    assert list(doubts(pdf)) == []


def test_told_by_measuring() -> None:
    """A page that some readers would crop isn't true, though every mark is where it should be."""
    measured = drapetemplate.measure_pdf(TWO_WAYS["parent-inside"][0], "x.pdf")
    assert [str(flaw) for flaw in measured.flaws] == [
        f"the file {NO_TREE}: readers may differ in what it shows"
    ]
    assert measured.as_json()["faults"][0]["page"] is None


def flaws(change: Callable[[bytes], bytes]) -> list[str]:
    """What measuring says of the first sheet's content, changed."""
    pdf = edited(lambda pdf: content(pdf, sheet_of(pdf), change), PLAIN)
    return [flaw.text for flaw in drapetemplate.measure_pdf(pdf, "x.pdf").flaws]


def test_a_number_that_some_cut_short() -> None:
    """Three hundred noughts before a number are no number: some readers take but the first 255."""

    def change(held: bytes) -> bytes:
        return re.sub(rb"(?=\b[\d.]+ [\d.]+ m )", b"0" * 300, held, count=1)

    [said] = flaws(change)
    assert said.startswith("is drawn with words that can’t be read")


def test_lines_that_change_places() -> None:
    """Two lines drawn each in the other's turn: what lies over what isn't as this tool draws it."""

    def change(held: bytes) -> bytes:
        line = rb"((?:n )?[\d.]+ [\d.]+ m [\d.]+ [\d.]+ l S\n)"
        return re.sub(line + line, rb"\2\1", held, count=1)

    assert flaws(change) == [
        "is drawn in another order than this tool draws it, which may print otherwise"
    ]


# Five points of a Bezier arc at quarters of its way, by degrees round a circle: the arc's ends are
# right, and so are the three between, each on the circle. That a cubic goes through all five is
# worked by hand: p0 - 4 p1 + 6 p2 - 4 p3 + p4 is nothing.
ASTRAY = {
    "across": (0.0, 22.5 - 121.2667, 202.5, 22.5 + 121.2667, 45.0),
    "there-and-back": (0.0, 22.5 + 11.2425, 22.5, 22.5 - 11.2425, 45.0),
}


@pytest.mark.parametrize("degrees", ASTRAY.values(), ids=ASTRAY)
def test_an_arc_right_at_five_points(degrees: tuple[float, ...]) -> None:
    """A hole with an arc that leaves it between the points where it is right isn't that hole."""
    circle = Circle(100, 100, 20, Pen(0.7), Role.HOLE)
    a, b, _, c, d = (cmath.rect(20, radians(one)) + (100 + 100j) for one in degrees)
    # The arc's inner control points, out of a quarter and three quarters of its way.
    first, last = 64 * b - 27 * a - d, 64 * c - a - 27 * d
    inner = (3 * first - last) / 72, (3 * last - first) / 72
    steps: list[Step] = [("m", (point(a),)), ("c", (point(inner[0]), point(inner[1]), point(d)))]
    reach = 4 / 3 * tan(pi / 16)
    for eighth in range(1, 8):
        begin, end = (cmath.rect(20, (eighth + n) * pi / 4) for n in (0, 1))
        places = (begin * (1 + reach * 1j), end * (1 - reach * 1j), end)
        x, y, z = (point(place + 100 + 100j) for place in places)
        steps.append(("c", (x, y, z)))
    assert off(circle, Path((*steps, ("h", ())), Pen(0.7), None)) > 0.5
    usual = 20 * (1 + reach * 1j), cmath.rect(20, pi / 4) * (1 - reach * 1j)
    right = ("c", (point(usual[0] + 100 + 100j), point(usual[1] + 100 + 100j), point(d)))
    assert off(circle, Path((steps[0], right, *steps[2:], ("h", ())), Pen(0.7), None)) < 0.001


def point(place: complex) -> Point:
    """A number of two parts as a place."""
    return place.real, place.imag
