"""The PDF as a file: true page sizes, printing hints, fonts inside, and nothing that acts."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from hashlib import sha256
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from tests.helpers import pages
from tests.helpers.cases import A4_BACK, CASES, LETTER_LEFT, Case, Printed, near
from tests.helpers.made import bare

MM = 25.4 / 72
ACTS = {"/JS", "/JavaScript", "/OpenAction", "/AA", "/Launch", "/URI", "/EmbeddedFiles"}


def opened(printed: Printed) -> pikepdf.Pdf:
    """The PDF, by a library that had no part in making it."""
    return pikepdf.open(BytesIO(printed.data))


def test_page_boxes(printed: Printed) -> None:
    """Every page, the ticket's too, is upright, of the paper's exact size and one scale."""
    with opened(printed) as pdf:
        assert len(pdf.pages) > len(printed.sheets)
        for page in pdf.pages:
            left, bottom, right, top = (float(side) * MM for side in page.mediabox)
            assert near((0, 0, *printed.case.paper)) == (left, bottom, right, top)
            assert page.mediabox == page.cropbox
            assert "/UserUnit" not in page.obj
            assert "/Rotate" not in page.obj


def test_hints(printed: Printed) -> None:
    """The file asks for no scaling, one side, and the tray by page size."""
    with opened(printed) as pdf:
        asked = pdf.Root.ViewerPreferences
        assert asked.PrintScaling == "/None"
        assert asked.Duplex == "/Simplex"
        assert bool(asked.PickTrayByPDFSize) is True


def objects(thing: pikepdf.Object) -> Iterator[str]:
    """The keys of every dictionary directly inside one object."""
    if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
        for key, value in thing.items():
            yield key
            if isinstance(value, pikepdf.Object) and not value.is_indirect:
                yield from objects(value)
    elif isinstance(thing, pikepdf.Array):
        for value in thing:
            if isinstance(value, pikepdf.Object) and not value.is_indirect:
                yield from objects(value)


def test_nothing_acts(printed: Printed) -> None:
    """No script, no action, no file inside."""
    with opened(printed) as pdf:
        keys = {key for thing in pdf.objects for key in objects(thing)}
    assert "/MediaBox" in keys, "the search finds keys at all"
    assert keys.isdisjoint(ACTS)


def test_fonts_inside(printed: Printed) -> None:
    """Every font the file speaks of is in it."""
    with opened(printed) as pdf:
        fonts = [
            thing
            for thing in pdf.objects
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font"
        ]
        assert fonts
        for font in fonts:
            inner = font.DescendantFonts[0] if "/DescendantFonts" in font else font
            assert "/FontFile2" in inner.FontDescriptor


# Another clock, as the process sees it; then the tool as it is called.
CLOCK = """
import sys, time
time.time = lambda: {seconds}
time.localtime = time.gmtime = lambda *_: time.struct_time((1999, 12, 31, 23, 59, 59, 4, 365, 0))
from drapetemplate.cli import main
sys.argv = ["drapetemplate", "make", *sys.argv[1:]]
main()
"""
# Hash seed, time zone, language, a user's own settings of the PDF library, which lacks its parts
# in C in the last.
SURROUNDINGS = [
    {},
    {"PYTHONHASHSEED": "1", "TZ": "UTC-14", "LC_ALL": "C", "PYTHONUTF8": "0"},
    {"PYTHONHASHSEED": "2", "TZ": "UTC+12", "LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"},
    {
        "RL_useA85": "1",
        "RL_invariant": "0",
        "RL_pageCompression": "0",
        "RL_pdfMultiLine": "1",
        "RL_ttfAsciiReadable": "0",
        "RL_documentLang": "de",
        "RL_canvas_baseColor": "(1,0,0)",
        "RL_pdfComments": "1",
        "PYTHONPATH": os.pathsep.join(["slow", os.environ.get("PYTHONPATH", "")]),
    },
]


def test_accelerated() -> None:
    """Parts in C are installed with the tool, so that what is tried without them is another way."""
    assert find_spec("_rl_accel")


@pytest.mark.parametrize(
    "name",
    [pytest.param(n, marks=() if n == "letter-left" else pytest.mark.long) for n in CASES],
)
def test_same_bytes(name: str, tmp_path: Path) -> None:
    """Whatever clock, folder, hash seed, zone, language and settings: the same SHA-256."""
    found = set()
    for n, surroundings in enumerate(SURROUNDINGS):
        folder = tmp_path / f"folder {n}"
        folder.mkdir()
        (folder / "job.toml").write_text(CASES[name].toml, encoding="utf-8")
        (folder / "slow").mkdir()
        (folder / "slow" / "_rl_accel.py").write_text("raise ImportError", encoding="utf-8")
        run = subprocess.run(
            [sys.executable, "-c", CLOCK.format(seconds=n * 1e8), "job.toml"],
            cwd=folder,
            env={**os.environ, **surroundings},
            capture_output=True,
            text=True,
            check=False,
        )
        assert run.returncode == 0, run.stderr
        found.add(sha256((folder / "job.pdf").read_bytes()).hexdigest())
    assert len(found) == 1


@pytest.mark.parametrize(
    ("case", "sheet"), [(LETTER_LEFT, 2), (A4_BACK, 3)], ids=["landscape", "portrait"]
)
def test_pixels(case: Case, sheet: int) -> None:
    """A renderer's pixels across a hole, at 600 dpi, are its diameter apart to two pixels."""
    [data] = bare(case.toml)
    measured = pages.sheets(data, turned=case.turned)[sheet - 1]
    hole = measured.circles(case.hole)[0]
    pdf = pypdfium2.PdfDocument(data)
    dpi = 600
    picture = pdf[measured.page].render(scale=dpi / 72, grayscale=True).to_numpy()
    dark = picture < 128
    pdf.close()
    # Up the strip through the centre there are only the cross, words 1 mm or more inside the hole's
    # circle, and the circles: across a turned page, down one that isn't.
    if case.turned:
        line, center = dark[round((case.paper[1] - hole.x) / 25.4 * dpi), :], case.paper[0] - hole.y
    else:
        line, center = dark[:, round(hole.x / 25.4 * dpi)], case.paper[1] - hole.y
    middle = round(center / 25.4 * dpi)
    arm = round((case.hole / 2 - 0.9) / 25.4 * dpi)  # past the cross and the words
    edges = []
    for step in (-1, 1):
        start = next(i for i in range(arm, len(line)) if line[middle + step * i])
        run = next(i for i in range(start, len(line)) if not line[middle + step * i]) - start
        assert run == pytest.approx(0.7 / 25.4 * dpi, abs=2)
        edges.append(start + run / 2)
    assert sum(edges) == pytest.approx(case.hole / 25.4 * dpi, abs=2)
