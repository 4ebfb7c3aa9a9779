"""Figures from outside the project: standards, and facts of the trade that planning rests on.

A standard's figure stands beside its source. A fact of the trade is common practice: it has no
source. Seams, cloth and folds have checks of their own.
"""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from drapetemplate.document.job_document import document
from drapetemplate.errors import JobError
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.measures import INCH, parse_area_weight
from drapetemplate.planning.plan import plan
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface
from tests.helpers.jobfiles import inches, job_of, panel_of, window_of

# PWG 5101.1-2013, Media Standardized Names, in 1/100 mm: na_letter_8.5x11in,
# na_legal_8.5x14in, na_ledger_11x17in, iso_a4_210x297mm, iso_a3_297x420mm. The A sizes are
# ISO 216's, the others those of ASME Y14.1.
PWG = {
    "letter": (21590, 27940),
    "legal": (21590, 35560),
    "tabloid": (27940, 43180),
    "a4": (21000, 29700),
    "a3": (29700, 42000),
}

# The panel of the facts: 75 in finished, eyelets 3 3/4 in across, 3 in left at each end. The
# facts don't say how wide the ring is inside; no figure here depends on it.
RING = 'outside = "3 3/4"\nopening = "2"'
PANEL = "width = 75\nleading = 3\nreturn = 3"


def test_ounce_per_square_yard() -> None:
    """One oz/yd2 is 33.9057474749 g/m2: 28.349523125/0.83612736, by the exact definitions.

    NIST SP 811, appendix B, has 3.390575 E-02 kg/m2 (from memory).
    """
    read = parse_area_weight("1 oz/yd2")
    assert read == Fraction("28.349523125") / Fraction("0.83612736")
    assert float(read) == pytest.approx(33.9057474749, abs=5e-11, rel=0)
    assert float(read / 1000) == pytest.approx(3.390575e-2, abs=5e-9, rel=0)


@pytest.mark.parametrize("name", sorted(PWG))
def test_paper_sizes(name: str) -> None:
    """Every paper known by name measures what its standard says."""
    paper = job_of(tables=f'[paper]\nsize = "{name}"').paper
    assert (paper.width, paper.height) == tuple(Fraction(side, 100) for side in PWG[name])


def test_every_named_paper_has_a_standard() -> None:
    """No paper is known by name without a standard's figures beside it."""
    assert sorted(PWG) == sorted(SHEETS)


@pytest.mark.parametrize("name", sorted(PWG))
def test_page_in_pdf_units(name: str) -> None:
    """A PDF's unit is 1/72 in (ISO 32000-1:2008, 8.3.2.3): every page measures so, unscaled."""
    width, height = (Fraction(side, 100) / Fraction("25.4") * 72 for side in PWG[name])
    for page in _pdf(name).pages:
        left, bottom, right, top = (float(x) for x in page.mediabox)
        assert (left, bottom) == (0, 0)
        # 0.002 units is under a thousandth of a millimetre.
        assert (right, top) == pytest.approx((float(width), float(height)), abs=0.002, rel=0)
        assert page.get("/UserUnit", 1) == 1
        assert page.rotation == 0


def test_print_scaling() -> None:
    """The file asks for no scaling: PrintScaling None (ISO 32000-1:2008, Table 150)."""
    preferences = _pdf("letter").trailer["/Root"]["/ViewerPreferences"]  # type: ignore[index]
    assert isinstance(preferences, DictionaryObject)
    assert str(preferences["/PrintScaling"]) == "/None"


def test_ten_eyelets() -> None:
    """Common practice: ten stand 3 1/2 in apart edge to edge, 7 1/4 in centre to centre."""
    panel = panel_of(f"{PANEL}\ncount = 10", eyelet=RING)
    assert (panel.gap, panel.pitch) == (inches("3 1/2"), inches("7 1/4"))


def test_eight_eyelets() -> None:
    """Common practice: eight stand about 5 1/2 in and 9 1/4 in, to within 1/8 in."""
    panel = panel_of(f"{PANEL}\ncount = 8", eyelet=RING)
    assert abs(panel.gap - inches("5 1/2")) <= INCH / 8
    assert abs(panel.pitch - inches("9 1/4")) <= INCH / 8


def test_band_takes_the_eyelets() -> None:
    """Common practice: a 6 in band takes 3 3/4 in eyelets; the usual band is no higher."""
    panel = panel_of(PANEL, eyelet=RING, tables='[band]\nheight = "6"')
    # As much band above the flange as below it: (6 - 3 3/4)/2.
    assert (panel.band_height, panel.above) == (inches("6"), inches("1 1/8"))
    assert panel_of(PANEL, eyelet=RING).band_height <= inches("6")
    with pytest.raises(JobError, match=r"band\.height"):
        panel_of(PANEL, eyelet=RING, tables='[band]\nheight = "3 1/2"')


def test_even_count() -> None:
    """Common practice: the number of eyelets is even, so that both ends turn to the wall."""
    panel = panel_of(PANEL, eyelet=RING)
    assert panel.count % 2 == 0
    assert (panel.gaps[0], panel.gaps[-1]) == ("front", "front")
    odd = window_of(f"{PANEL}\ncount = 9", eyelet=RING)
    assert [f.code for f in odd.findings if f.level == "stop"] == ["odd-count"]


def test_one_eyelet_apart() -> None:
    """Common practice: start from one eyelet's width between eyelets; here that means ten."""
    panel = panel_of(PANEL, eyelet=RING)
    assert panel.count == 10
    # 10 leave 3 1/2, 12 leave 2 2/11: nothing even comes nearer to 3 3/4.
    assert abs(panel.gap - inches("3 3/4")) <= INCH / 4


def test_small_eyelets_stand_wider() -> None:
    """Common practice: under a number six (13/16 in opening, from memory) eyelets want more."""
    small = panel_of("width = 75", eyelet='outside = "1 3/8"\nopening = "3/4"')
    six = panel_of("width = 75", eyelet='outside = "1 3/8"\nopening = "13/16"')
    assert six.gap < inches("1 1/2")
    assert small.gap > 3 * six.gap


def test_wide_gaps_suit_long_drops() -> None:
    """Common practice: drops of about 120 in and more may have wider gaps."""
    usual = panel_of(f"{PANEL}\nlength = 96", eyelet=RING)
    tall = panel_of(f"{PANEL}\nlength = 120", eyelet=RING)
    assert tall.gap > usual.gap
    assert (usual.count, tall.count) == (10, 8)


@pytest.mark.parametrize("gaps", ["count = 4", "count = 6", "count = 8"])
def test_back_folds_stay_off_the_wall(gaps: str) -> None:
    """Common practice: gaps are never so wide that a back fold reaches the wall."""
    tables = '[pole]\nprojection = "4"'
    window = window_of(f"{PANEL}\n{gaps}", eyelet=RING, tables=tables)
    assert "back-fold-hits-wall" in [f.code for f in window.findings]
    auto = window_of(PANEL, eyelet=RING, tables=tables)
    assert auto.panels[0].pitch / 2 <= inches("3 1/2")
    assert "back-fold-hits-wall" not in [f.code for f in auto.findings]


@pytest.mark.parametrize("return_", ["3/4", "1", "1 1/2", "2 5/8", "3"])
def test_shower_curtain(return_: str) -> None:
    """Common practice: a shower curtain hangs from hooks, 12 on 72 in.

    The fact names no eyelet and no ends. With 3/4 in eyelets any return from 3/4 to 3 in gives
    12; with 2 5/8 in they stand 6 in apart to the thread: 2 x 2 5/8 + 3/4 + 11 x 6 = 72.
    """
    panel = panel_of(
        f'panels = "single"\nwidth = 72\nreturn = "{return_}"',
        eyelet='outside = "3/4"\nopening = "3/8"\nhung = "hooks"',
    )
    assert panel.count == 12
    if return_ == "2 5/8":
        assert panel.pitch == inches("6")


def test_rod_of_a_magazine_project() -> None:
    """A hole of 1 9/16 in takes a rod up to 1 3/8 in (allpeoplequilt.com, DIY drapes).

    It takes it, though not to be drawn: the ring's largest turn is acos(1 3/8 / 1 9/16) = 28.4, and
    it lifts from acos(sqrt(1 3/8 / 1 9/16)) = 20.3 on.
    """
    ring = 'outside = "2 5/8"\nopening = "1 9/16"'
    window = window_of(PANEL, eyelet=ring, tables='[pole]\ndiameter = "1 3/8"')
    hang = window.panels[0].hang
    assert hang is not None
    assert hang.turn_limit == pytest.approx(28.36, abs=0.005)
    assert hang.free_turn == pytest.approx(20.27, abs=0.005)
    codes = [finding.code for finding in window.findings]
    assert "tight-turn" in codes
    with pytest.raises(JobError, match="doesn't pass an opening"):
        window_of(PANEL, eyelet=ring, tables='[pole]\ndiameter = "1 9/16"')


@pytest.mark.parametrize("fullness", ["1.5", "2"])
def test_fullness_of_a_magazine_project(fullness: str) -> None:
    """Fullness 1 1/2 or 2 (allpeoplequilt.com, DIY drapes): cloth for so many times the rod."""
    panel = panel_of(f"covers = 40\nfullness = {fullness}", eyelet=RING)
    assert panel.centers[-1] - panel.centers[0] == Fraction(fullness) * 40 * INCH
    assert panel.hang is not None
    assert panel.hang.closed.fullness == pytest.approx(float(fullness), rel=1e-12)


def test_operable_panels_turn() -> None:
    """Common practice: the eyelet of a panel that is drawn can turn 45 degrees on its pole."""
    # Without thickness the opening looks cos(45)^2, that is half, as round at its top.
    found = {}
    for diameter in ("1", "1.001"):
        window = window_of(PANEL, eyelet=RING, tables=f"[pole]\ndiameter = {diameter}")
        found[diameter] = "tight-turn" in [finding.code for finding in window.findings]
    assert found == {"1": False, "1.001": True}


def _pdf(paper: str) -> PdfReader:
    job = job_of('width = 40\npanels = "left"', tables=f'[paper]\nsize = "{paper}"')
    made = document(job, plan(job), typeface())
    return PdfReader(BytesIO(render(made, PdfBackend(made.title))))
