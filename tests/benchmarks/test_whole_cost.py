"""The bounds that no release may pass: ratios in one run, as `tests.benchmarks.bench` has them."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest

import drapetemplate
from drapetemplate.render.font_metrics import FONTS
from tests.benchmarks import bench, raw_pdf

pytestmark = pytest.mark.long


def held(figures: list[bench.Figure]) -> None:
    """Every ratio is at most its bound; -s shows them."""
    print("\n" + bench.table(figures))  # noqa: T201  # read with -s
    for figure in figures:
        assert figure.ratio <= figure.bound, figure


def test_make() -> None:
    """Making twelve sheets costs a process little more than plain marks drawn and kept."""
    held(bench.whole())


def test_the_bare_process_takes_nothing_of_the_tool(tmp_path: Path) -> None:
    """A floor that loaded the tool's own modules would hide what they cost."""
    job = tmp_path / "job.toml"
    job.write_text(bench.TWELVE_SHEETS)
    words = [bench.HERE / "bare_process.py", 1, 1, 1, 1, FONTS, tmp_path / "bare.pdf", job]
    command = [sys.executable, "-X", "importtime", *map(str, words)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "reportlab.pdfgen.canvas" in done.stderr
    assert "pypdf._writer" in done.stderr
    assert "drapetemplate" not in done.stderr


def test_what_is_written_by_hand_is_all_of_it() -> None:
    """A floor that left marks out would flatter nobody: each page's lines and letters are there."""
    document = bench.document()
    read = pdfplumber.open(BytesIO(raw_pdf.raw_pdf(document)))
    ours = pdfplumber.open(BytesIO(drapetemplate.to_pdf(document, b"")))
    for by_hand, page in list(zip(read.pages, ours.pages, strict=True))[::5]:
        for kind in ("line", "curve", "rect", "char"):
            assert len(by_hand.objects.get(kind, [])) == len(page.objects.get(kind, [])), kind


def test_starting() -> None:
    """What is answered at once takes little more than Python and the parser take to load."""
    held(bench.starting())


def test_drawing() -> None:
    """Drawing and its bytes cost little more than bare calls, or streams by hand."""
    held(bench.drawing())


def test_measure() -> None:
    """Measuring costs little more than making the PDF again and reading the pages alone."""
    held(bench.measuring())


def test_growth() -> None:
    """Cost grows no faster than the panel."""
    held([bench.growth()])


def test_hotel() -> None:
    """A job of many windows costs no more a page than one of few."""
    held(bench.hotel(4))


def test_shelf() -> None:
    """A PDF on the shelf costs a few times its bytes and its job: at the bound 1,000 take 3 s.

    To order for it costs little more than to plan it, however many there are.
    """
    held(bench.shelved())


def test_many() -> None:
    """Many jobs in one call: cheaper than one by one, flat in memory."""
    held(bench.many(100))
