"""Letters of every page to read, as they are laid out: none too small to be read at a table."""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from reportlab.pdfbase.ttfonts import TTFontFile

from drapetemplate import drawing
from drapetemplate.document.job_document import documents
from drapetemplate.drawing.marks import Mark, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import DrapeError
from drapetemplate.job.build import read_job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from tests.helpers.anyjob import KINDS, AnyJob, jobs
from tests.helpers.marks import texts

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
LEAST = 2.2  # mm of a capital that is read at a table, cloth in both hands
LEAST_TURNED = 2.0
SMALLER: dict[Role, str] = {}
"""Roles that may have smaller letters, each with its reason; there is none."""
TO_READ = (
    r"(ticket|cutting|assembly|stepping|hanging)(?: of strip \w+)?, page \d+ of \d+"
    r"( · \d+ of \d+ in all)?"
)
PIECE = re.compile(r"\b(left|right|single)( \d+)? (panel|lining)\b")


@cache
def capitals() -> float:
    """How high an H is for its size, by its outline in the font; the lower of the two weights."""
    folder = files("drapetemplate.render") / "fonts"
    heights = []
    for weight in ("", "-Bold"):
        font = TTFontFile(str(folder / f"DejaVuSans{weight}.ttf"))
        # TrueType: head has units per em at 18 and the offsets' size at 50; a glyph its yMax at 8.
        head, glyph = _table(font, "head"), font.charToGlyph[ord("H")]
        [units], [long] = struct.unpack_from(">H", head, 18), struct.unpack_from(">h", head, 50)
        entry, size = (">L", 4) if long else (">H", 2)
        [start] = struct.unpack_from(entry, _table(font, "loca"), glyph * size)
        [highest] = struct.unpack_from(">h", _table(font, "glyf"), (1 if long else 2) * start + 8)
        heights.append(highest / units)
    return float(min(heights))


def _table(font: TTFontFile, name: str) -> bytes:
    """One of the font's tables."""
    return bytes(font.get_table(name))  # type: ignore[no-untyped-call]  # reportlab has no types


def pages_to_read(toml: str) -> Iterator[tuple[str, tuple[Mark, ...]]]:
    """Each page to read of a job, with its kind; every stop of it taken on."""
    job = read_job(toml.encode(), "job.toml")
    planned = plan(job)
    accepted = frozenset(stop.code for stop in planned.stops)
    for document in documents(job, planned, typeface(), accepted):
        for page in document.pages:
            for foot in texts(page.marks, Role.FOOT):
                if kind := re.fullmatch(TO_READ, foot.text):
                    yield kind[1], tuple(page.marks)


def check(toml: str) -> set[str]:
    """No letter of any page is too small, and no piece has a name that says too little; kinds."""
    share, kinds = capitals(), set()
    for kind, marks in pages_to_read(toml):
        kinds.add(kind)
        small = [
            (mark.role, mark.text)
            for mark in texts(marks)
            if mark.size * share < (LEAST_TURNED if mark.angle else LEAST)
            and mark.role not in SMALLER
        ]
        assert small == [], kind
        for words in piece_names(marks):
            assert PIECE.search(words), words
    return kinds


def piece_names(marks: tuple[Mark, ...]) -> Iterator[str]:
    """What is written in each piece of cloth on a page, of those that have a name at all."""
    labels = texts(marks, Role.PIECE_LABEL)
    for mark in marks:
        if isinstance(mark, Polygon) and mark.role == Role.PIECE:
            left, low, right, high = drawing.box(mark)
            inside = [label for label in labels if in_box(label, left, low, right, high)]
            if inside:
                yield " ".join(label.text for label in inside)


def in_box(label: Text, left: float, low: float, right: float, high: float) -> bool:
    """True where a label's middle stands in a box."""
    x0, y0, x1, y1 = drawing.box(label)
    return left < (x0 + x1) / 2 < right and low < (y0 + y1) / 2 < high


def test_the_fonts_own_capitals() -> None:
    """2.2 mm of a capital are letters of 3.02 mm: the font says so, as its ink does."""
    assert capitals() == pytest.approx(0.729, abs=0.001)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples(path: Path) -> None:
    """Every sample job's pages can be read."""
    assert {"ticket", "assembly"} <= check(path.read_text(encoding="utf-8"))


@settings(
    max_examples=40,
    phases=[Phase.generate],
    derandomize=True,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
@given(st.sampled_from(KINDS).flatmap(jobs))
def test_any_job(job: AnyJob) -> None:
    """So can those of any job, whatever its paper, counts and cloths."""
    try:
        check(job.toml)
    except DrapeError:
        return


def test_little_pieces_have_whole_names() -> None:
    """Narrow pieces of single panels say what they are, or leave it to the list: never half."""
    windows = "".join(
        f'[[window]]\nname = "W{n}"\npanels = "single"\nwidth = {40 + 9 * n}\nlength = {20 + n}\n'
        for n in range(6)
    )
    names = []
    toml = (
        '[job]\nname = "Heron Point, linen store"\n[eyelet]\noutside = 2\nopening = 1\nhole = 1\n'
        f"[fabric]\nwidth = 30\n{windows}"
    )
    for kind, marks in pages_to_read(toml):
        if kind == "cutting":
            names += list(piece_names(marks))
    assert names
    assert all(PIECE.search(words) for words in names)
