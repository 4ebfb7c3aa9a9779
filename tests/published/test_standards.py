"""Published measures and rules of workmanship, each with its source, asked of the tool itself."""

from __future__ import annotations

import re
from fractions import Fraction
from io import BytesIO

import pdfplumber
import pytest

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH, parse_length
from tests.helpers.jobfiles import inches, job_of, job_toml, panel_of, plan_of, window_of
from tests.helpers.made import made

MM = 25.4 / 72
RING = 'outside = "2 5/8"\nopening = "1 9/16"'


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("1 in", "25.4"),
        ("1 yd", "914.4"),
        ("1 ft", "304.8"),
        ("36 in", "914.4"),
        ("2 yd", "1828.8"),
    ],
)
def test_units_as_read(said: str, mm: str) -> None:
    """What a job file says in inches, feet and yards is exact: 25.4 mm and 0.9144 m.

    NBS Circular 572, Addendum (1960), in force from 1 July 1959; NIST SP 811, appendix B.
    """
    assert Fraction(mm) == parse_length(said, "mm")


def test_a_square_yard_weighs_its_ounces() -> None:
    """A raw panel of a yard by a yard, of 10 oz/yd2, weighs 10 oz of 28.349523125 g each.

    The exact definitions of yard and ounce: NBS Circular 572, Addendum; NIST SP 811, appendix B.
    """
    # 30 + 2 x 3 in raw; 20 + 8 + 8 in cut.
    table = 'width = 54\nside_hem = 3\nheading = 8\nbottom_hem = 8\nweight = "10 oz/yd2"'
    panel = panel_of("width = 30\nlength = 20\nreturn = 3", tables=f"[fabric]\n{table}")
    assert panel.weight == 10 * Fraction("28.349523125")


def test_longest_side_of_a_page() -> None:
    """No page is over 14,400 units, 200 in, a side (ISO 32000-1:2008, annex C).

    ISO 32000-2:2020 has its table of printing preferences as Table 147.
    """
    job = job_of(tables='[paper]\nsize = "10 x 200 in"')
    assert job.paper.height == Fraction(14_400, 72) * Fraction("25.4")
    with pytest.raises(JobError, match="up to 200 in"):
        job_of(tables='[paper]\nsize = "10 x 200 1/16 in"')
    # A strip of 199 in, its margins and its bars would take a page of 200 1/2 in.
    toml = job_toml('panels = "left"\nwidth = 199', tables='[paper]\nsize = "8 in roll"')
    [strips, _] = made(toml)
    with pdfplumber.open(BytesIO(strips)) as pdf:
        assert len(pdf.pages) == 2
        assert max(float(page.height) for page in pdf.pages) <= 14_400


@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_unprintable_edges(orientation: str) -> None:
    """With no margin said nothing is drawn where printers commonly can't print.

    6.35 mm at an edge, 11.68 mm at the foot of some inkjets: IPP sample printer attributes.
    """
    toml = job_toml('panels = "left"\nwidth = 40', tables=f'[paper]\norientation = "{orientation}"')
    [data] = made(toml)
    with pdfplumber.open(BytesIO(data)) as pdf:
        for page in pdf.pages:
            drawn = [*page.chars, *page.lines, *page.curves, *page.rects]
            assert min(one["x0"] for one in drawn) * MM > 11.68
            assert min(one["y0"] for one in drawn) * MM > 11.68
            assert (float(page.width) - max(one["x1"] for one in drawn)) * MM > 11.68
            assert (float(page.height) - max(one["y1"] for one in drawn)) * MM > 11.68


@pytest.mark.parametrize("fullness", ["2", "2 1/2", "3"])
def test_fullness_of_the_rod(fullness: str) -> None:
    """2, 2 1/2 or 3 times the rod, plus overlaps and returns (UFGS-12 22 00, 2.2.1.1)."""
    # The tool counts the rod from the first eyelet's centre to the last; half an eyelet lies
    # beyond either. A leading of 2 in and an eyelet's half meet the other panel's: the overlap.
    panel = panel_of(
        f'covers = 48\nfullness = "{fullness}"\nleading = 2\nreturn = "3 1/2"', eyelet=RING
    )
    beyond = inches("2") + inches("3 1/2") + inches("2 5/8")
    assert panel.width - beyond == inches(fullness) * 48
    assert panel.centers[-1] - panel.centers[0] == inches(fullness) * 48


def test_floor_length() -> None:
    """A floor-length panel clears the floor by 25 mm, 1 in (UFGS-12 22 00, 2.2.1.1)."""
    window = window_of(
        "width = 60", eyelet=RING, tables="[band]\nheight = 6\n[pole]\ntop = 96\noff_floor = 1"
    )
    panel = window.panels[0]
    assert window.length is not None
    # The opening's top rests on the pole's: the panel's top stands over it by what is above the
    # eyelet and the flange beside the opening.
    top = inches("96") + panel.above + (panel.outside - panel.opening) / 2
    assert top - window.length == inches("1")


def test_band_and_hem_as_usual() -> None:
    """A 4 in band wrapped whole takes 8 in, a hem of 4 in turned double 8 in (Damour handout)."""
    tables = "[band]\nheight = 4\n[fabric]\nwidth = 54"
    (face,) = plan_of("width = 40\nlength = 100", tables=tables).windows[0].cloth
    assert (face.cloth.heading, face.cloth.bottom_hem) == (8 * INCH, 8 * INCH)
    assert face.cut == 116 * INCH


def test_cloth_and_fire() -> None:
    """Ticket and hanging page point to NFPA 701 and EN 13773 (their scopes), and give no class.

    NFPA 701 has a method up to 700 g/m2 (21 oz/yd2) and one for heavier cloth, EN 13773 classes 1
    to 5: the tool judges none of it, so that cloths on both sides of the limit are told the same.
    """
    told = []
    for weight in ("20 oz/yd2", "22 oz/yd2"):
        toml = job_toml("width = 40", tables=f'[fabric]\nwidth = 54\nweight = "{weight}"')
        with pdfplumber.open(BytesIO(made(toml)[0])) as pdf:
            text = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
        told.append(re.findall(r"[^.]*\b(?:[Ff]ire|NFPA|EN 13773|Method|[Cc]lass)\b[^.]*\.", text))
    light, heavy = told
    assert light == heavy
    assert len(light) == 2
    for sentence in light:
        assert "local fire codes decide what cloth may hang" in sentence
        assert "(in many places by NFPA 701 or EN 13773)" in sentence
