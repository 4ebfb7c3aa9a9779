"""Letters as they are printed: what is read at a table has capitals of 2.2 mm or more."""

from __future__ import annotations

import re
from functools import cache
from io import BytesIO
from pathlib import Path

import pdfplumber
import pypdfium2
import pytest

from tests.helpers.jobfiles import job_toml
from tests.helpers.made import bare

POINT = 25.4 / 72
LEAST = 2.2
SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
KINDS = r"(ticket|cutting|assembly|stepping|hanging), page \d+ of \d+"
# What any of these pages may hold: a pair with lining and pattern, windows of which one is single,
# many eyelets on little paper, a pair on one strip, pieces to step along, names that are long.
JOBS = {
    "all": job_toml(
        'name = "Landing"\nwidth = 74\nlength = 84\nfullness = 2',
        'name = "Bay"\nwidth = 20\nlength = 84\npanels = "single"\nquantity = 14',
        tables='[pole]\nprojection = 4\ndiameter = 0.75\n[fabric]\nname = "gull linen"\n'
        "width = 54\nrepeat_down = 25\nrepeat_across = 13\n[lining]\nwidth = 60",
    ),
    "small paper": job_toml(
        "width = 90\nlength = 84\ncount = 40\ngap = 1",
        tables='[paper]\nsize = "5 x 9 in"\nmargin = 0.25\n[fabric]\nwidth = 54',
        eyelet='outside = 1\nopening = "1/2"\nhole = "9/16"',
    ),
    "one strip": job_toml(
        "width = 60\nlength = 84", tables='[paper]\nstrips = "one"\nview = "back"\nsize = "a4"'
    ),
    "stepping": job_toml(
        "width = 60\nlength = 84\ncount = 8", tables='[paper]\nstyle = "stepping"\n'
    ),
    "stepping on small paper": job_toml(
        "width = 60\nlength = 84\ncount = 8",
        tables='[paper]\nstyle = "stepping"\nsize = "5.5 x 8.5 in"\n',
    ),
    "long names": job_toml(
        *(
            f'name = "{"the upper gallery, " * 6}{n}"\nwidth = {12 + n}\nlength = 84'
            for n in (1, 2)
        ),
        tables="[fabric]\nwidth = 30\nrailroad = false",
    ),
    "hooks": job_toml("width = 70", eyelet='outside = 1\nopening = "1/2"\nhung = "hooks"'),
}


@cache
def capitals() -> float:
    """How high a capital is for its size: the ink of every H of a ticket, measured by pdfium."""
    [data] = bare(JOBS["hooks"])
    page = pypdfium2.PdfDocument(data)[0]
    text = page.get_textpage()
    inked = set()
    for n in range(text.count_chars()):
        if text.get_text_range(n, 1) == "H":
            _, bottom, _, top = text.get_charbox(n)
            inked.add(top - bottom)
    with pdfplumber.open(BytesIO(data)) as pdf:
        sizes = {char["height"] for char in pdf.pages[0].chars if char["text"] == "H"}
    return float(max(inked) / max(sizes))


def read_pages(toml: str) -> list[tuple[str, list[tuple[str, float, bool]]]]:
    """Each page to be read: its kind, and every letter with its capitals' height, turned or not."""
    found = []
    share = capitals()
    for data in bare(toml):
        with pdfplumber.open(BytesIO(data)) as pdf:
            for page in pdf.pages:
                kind = re.search(KINDS, page.extract_text() or "")
                if kind is None:
                    continue
                letters = [
                    (
                        char["text"],
                        (char["width"] if upright else char["height"]) * POINT * share,
                        upright,
                    )
                    for char in page.chars
                    for upright in [not char["upright"]]
                    if char["text"].strip()
                ]
                found.append((kind[1], letters))
    return found


def test_capitals() -> None:
    """The font's capitals are about 0.73 of its size, so that 2.2 mm are 3.02 mm of size."""
    assert capitals() == pytest.approx(0.729, abs=0.001)


@pytest.mark.parametrize("name", JOBS)
def test_large_enough(name: str) -> None:
    """Every letter of every page to be read has capitals of 2.2 mm at least, turned ones too."""
    pages = read_pages(JOBS[name])
    assert "ticket" in {kind for kind, _ in pages}
    for kind, letters in pages:
        small = {(text, round(height, 3)) for text, height, _ in letters if height < LEAST}
        assert not small, (kind, small)


def test_turned_words_were_read() -> None:
    """A raw panel's edges are named along them, so that the test above has seen turned letters."""
    cutting = [letters for kind, letters in read_pages(JOBS["all"]) if kind == "cutting"]
    assert any(turned for letters in cutting for _, _, turned in letters)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_are_large_enough(path: Path) -> None:
    """So has every sample."""
    for kind, letters in read_pages(path.read_text(encoding="utf-8")):
        small = {(text, round(height, 3)) for text, height, _ in letters if height < LEAST}
        assert not small, (kind, small)


@pytest.mark.parametrize("name", [name for name in JOBS if name != "long names"])
def test_nothing_is_cut(name: str) -> None:
    """What is no longer made smaller isn't cut instead; the sign stands in lists of drops alone."""
    for data in bare(JOBS[name]):
        with pdfplumber.open(BytesIO(data)) as pdf:
            for page in pdf.pages:
                text = page.extract_text() or ""
                if re.search(KINDS, text):
                    assert not re.search("…(?! [0-9]+ in all)", text)
