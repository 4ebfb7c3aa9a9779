"""A margin is kept on every page, those to read among them: seen in pixels, and by `measure`."""

from __future__ import annotations

from fractions import Fraction

import pypdfium2
import pytest

import drapetemplate
from drapetemplate.errors import DrapeError
from drapetemplate.job.factors import Factors
from tests.helpers.jobfiles import WALL, job_toml
from tests.helpers.made import made

DOTS = 100  # an inch
PAPER_WHITE = 255
CLOTH = "[fabric]\nname = 'linen'\nwidth = 54\nrepeat_down = 12\n[lining]\nname = 'sateen'"
WINDOW = "width = 40\nlength = 84\npanels = 'left'\nname = 'Pantry'"
FACTORS = Factors("workroom laser", Fraction(1004, 1000), Fraction(995, 1000))


def job(paper: str) -> str:
    """A job with every kind of page, on this paper."""
    return job_toml(WINDOW, tables=f"[paper]\n{paper}\n{CLOTH}\n{WALL}")


def ink_from_edge(pdf: bytes) -> float:
    """How near its page's edge, in mm, any page has ink."""
    document = pypdfium2.PdfDocument(pdf)
    nearest: list[int] = []
    for number in range(len(document)):
        image = document[number].render(scale=DOTS / 72).to_pil().convert("L")
        ink = image.point(lambda grey: PAPER_WHITE * (grey < PAPER_WHITE))
        left, top, right, bottom = ink.getbbox()
        nearest.append(min(left, top, image.width - right, image.height - bottom))
    document.close()
    return min(nearest) * 25.4 / DOTS


@pytest.mark.parametrize("printer", [None, FACTORS], ids=["", "corrected"])
@pytest.mark.parametrize(
    ("paper", "margin"),
    [
        pytest.param('size = "a4"\nmargin = "25 mm"', 25, id="a4"),
        pytest.param('size = "letter"\nmargin = "1 1/2"', 38.1, id="letter"),
        pytest.param('size = "a4"\nmargin = "19.95 mm"', 19.95, id="just-under-20"),
        pytest.param('size = "5.5 x 8.5 in"\nmargin = "12 mm"', 12, id="half-letter"),
        pytest.param('size = "letter"\nmargin = "50 mm"', 50, id="widest"),
        pytest.param('size = "letter"\nmargin = "1 1/2"\nstyle = "stepping"', 38.1, id="stepping"),
    ],
)
def test_margin_kept(paper: str, margin: float, printer: Factors | None) -> None:
    """No ink is nearer the edge than asked for, on any page, and `measure` says so too."""
    [pdf] = made(job(paper), printer=printer)
    # Half a pen, and a pixel that is touched.
    assert ink_from_edge(pdf) > margin - 25.4 / DOTS - 0.35
    assert [str(flaw) for flaw in drapetemplate.measure_pdf(pdf).flaws] == []


@pytest.mark.parametrize("printer", [None, FACTORS], ids=["", "corrected"])
@pytest.mark.parametrize("size", ["24 in roll", "200 mm roll"])
def test_margin_kept_on_a_roll(size: str, printer: Factors | None) -> None:
    """A roll's margin is its strip's; the ticket, for another printer, keeps the usual 1/2 in."""
    strip, ticket = made(job(f'size = "{size}"\nmargin = "40 mm"'), printer=printer)
    for pdf, margin in ((strip, 40), (ticket, 12.7)):
        assert ink_from_edge(pdf) > margin - 25.4 / DOTS - 0.35
        assert drapetemplate.measure_pdf(pdf).true


def test_too_wide_a_margin_is_refused() -> None:
    """A margin that leaves no room for the bars is refused in one line, and nothing is drawn."""
    # 8 1/2 less twice 2 1/16 is 4 3/8 in; the bars and a label take 113.6 mm, 4.47 in.
    with pytest.raises(DrapeError) as error:
        made(job('size = "letter"\nmargin = "2 1/16"'))
    [fault] = error.value.faults
    assert str(fault).startswith("paper.margin: 2 1/16 in leaves 4 3/8 in across this paper")
    assert str(fault).endswith("2 in or less")
