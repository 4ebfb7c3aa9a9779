"""What is bought and what a window takes, in the words that terminal and ticket share."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drapetemplate.measures import INCH, METRE, YARD
from drapetemplate.planning.plan import plan
from drapetemplate.words.figures import cloth_figures, in_full, in_short, window_figures
from drapetemplate.words.plan_words import amount_to_order, findings_told, order_rows, pages_named
from tests.helpers.jobfiles import RING, job_of

# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in. The seam
# is hidden 5/8 in behind eyelet 8's edge, at 3 + 7 x 6 + 2 + 5/8 = 47 5/8 in.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
CLOTH = '[fabric]\nname = "gull stripe"\nwidth = 54'
WIDE = 'outside = "2 5/8"\nopening = "1 9/16"'
MM = 'units = "mm"'


def bought(*windows: str, tables: str = "", eyelet: str = RING, head: str = "") -> dict[str, str]:
    """What a job buys, by thing."""
    job = job_of(*windows, tables=tables, eyelet=eyelet, head=head)
    rows = order_rows(job, plan(job, advise=False))
    assert len(rows) == len(dict(rows)), "each thing once"
    return dict(rows)


def takes(window: str, tables: str, eyelet: str = RING) -> list[tuple[str, str]]:
    """What a job's only window takes of its cloth."""
    job = job_of(window, tables=tables, eyelet=eyelet)
    return in_full(cloth_figures(job, plan(job, advise=False).windows[0]))


def test_to_buy() -> None:
    """Cloth by name, width, amount and drops; eyelets with their size; band with its height."""
    # 4 drops of 100 in are 400 in, with 4 in 11.22 yd, so 11 1/4; 2 x 74 in of band, 4 in high.
    assert bought(LONG, tables=CLOTH) == {
        "fabric": "gull stripe, 54 in wide: 11 1/4 yd (4 drops 400 in + 4 in allowance = 404 in)",
        "eyelets": "2 in outside, 1 in opening: 24, and one to test",
        "band": "4 in high: 4 1/4 yd (148 in), and a piece to test",
    }


def test_eyelets_of_one_size_are_told_apart() -> None:
    """Two dies are two eyelets, and each says which; one on hooks too is bought with the others."""
    drilled, hung = '[window.eyelet]\nhole = "1 1/8"', '[window.eyelet]\nhung = "hooks"'
    job = job_of(LONG, f"{LONG}\n{drilled}", f"{LONG}\n{hung}", eyelet=RING)
    rows = order_rows(job, plan(job, advise=False))
    assert [words for name, words in rows if name == "eyelets"] == [
        "2 in outside, 1 in opening, 1 in hole: 48, and one to test",
        "2 in outside, 1 in opening, 1 1/8 in hole: 24, and one to test",
    ]


def test_to_buy_in_metres() -> None:
    """Millimetre jobs buy metres, to a tenth."""
    # A lining's one drop of 2100 - 25 + 100 = 2175 mm; with 100 mm 2.3 m.
    window = 'panels = "left"\nwidth = 900\nlength = 2100\ncount = 6'
    found = bought(window, head=MM, tables="[lining]\nwidth = 1400")
    assert found["lining"] == (
        "not named, 1400 mm wide: 2.3 m (1 drop 2175 mm + 100 mm allowance = 2275 mm)"
    )


@pytest.mark.parametrize(
    ("tables", "window", "expected"),
    [
        ('[fabric]\nname = "x"', LONG, "x, width not known: amount not known"),
        ("[fabric]\nwidth = 54", "width = 74", "not named, 54 in wide: amount not known"),
    ],
)
def test_amount_not_known(tables: str, window: str, expected: str) -> None:
    """What can't be worked out is said to be unknown, not left out."""
    assert bought(window, tables=tables)["fabric"] == expected


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("", "24, and one to test"),
        ("spares = 1", "24 and 1 spare"),
        ("spares = 4", "24 and 4 spares"),
        ("pack = 24", "24: 1 pack of 24, and one to test"),
        ("pack = 10", "24: 3 packs of 10, with one to test"),  # six are left
        # 24 and 4 are 28: three packs of 10, two of 14.
        ("spares = 4\npack = 10", "24 and 4 spares: 3 packs of 10"),
        ("spares = 4\npack = 14", "24 and 4 spares: 2 packs of 14"),
    ],
)
def test_eyelets_with_packs_and_spares(more: str, expected: str) -> None:
    """Used, spares and packs, each named only where the job has them, and one to test."""
    found = bought(LONG, eyelet=f"{RING}\n{more}")
    assert found["eyelets"] == f"2 in outside, 1 in opening: {expected}"


def test_unnamed_cloths_with_and_without_a_pattern() -> None:
    """Plain cloth without a name isn't bought with patterned cloth of its width."""
    plain = f'{LONG}\n[window.fabric]\nrepeat_down = "none"'
    job = job_of(LONG, plain, tables="[fabric]\nwidth = 54\nrepeat_down = 30")
    rows = [row for name, row in order_rows(job, plan(job, advise=False)) if name == "fabric"]
    assert [row.partition(":")[0] for row in rows] == [
        "not named, patterned, 54 in wide",
        "not named, 54 in wide",
    ]
    assert ["(4 drops 480 in" in rows[0], "(4 drops 400 in" in rows[1]] == [True, True]


def test_turned_cloth_is_bought_in_runs() -> None:
    """Cloth that is all railroaded is cut into runs, and said so."""
    found = bought(LONG, tables="[fabric]\nwidth = 118\nrailroad = true")["fabric"]
    assert "(2 runs 160 in + 4 in allowance = 164 in)" in found


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        # 400 in are 11.11 yd, 480 in 13.33, 510 in 14.17, 514 in 14.28.
        ("allowance = 0", "11 1/4 yd (4 drops 400 in)"),
        (
            "allowance = 0\nrepeat_down = 30",
            "14 1/4 yd (4 drops 480 in + 30 in repeat = 510 in)",
        ),
        (
            "repeat_down = 30",
            "14 1/2 yd (4 drops 480 in + 4 in allowance + 30 in repeat = 514 in)",
        ),
    ],
)
def test_allowance(more: str, expected: str) -> None:
    """What the drops take stands beside what is bought over, and both together."""
    found = bought(LONG, tables=f"{CLOTH}\n{more}")["fabric"]
    assert found == f"gull stripe, 54 in wide: {expected}"


@pytest.mark.parametrize(
    ("panels", "edge"),
    [("single", "left"), ("pair", "leading"), ("left", "leading"), ("right", "leading")],
)
def test_edge(panels: str, edge: str) -> None:
    """Measures start from the leading edge, a single panel's from its left."""
    window = plan(job_of(f'width = 60\npanels = "{panels}"')).windows[0]
    assert {panel.edge for panel in window.panels} == {edge}


def test_a_windows_cloth() -> None:
    """Drops with their cut length and what that comes to; seams; raw pieces."""
    assert takes(LONG, CLOTH) == [
        ("fabric", "4 drops of 100 in: 400 in"),
        ("fabric seams", "47 5/8 in from the leading edge, all hidden"),
        # 47 5/8 + 3 + 1/2 and 80 - 47 5/8 - 3 + 1/2.
        ("fabric pieces", "51 1/8 in + 29 7/8 in, raw, from the leading edge"),
    ]


def test_lining_comes_after_the_face() -> None:
    """Each cloth's rows are named for it; one without a seam has no more than its drops."""
    names = [name for name, _ in takes(LONG, f"[lining]\nwidth = 118\n{CLOTH}")]
    assert names == ["fabric", "fabric seams", "fabric pieces", "lining finished", "lining"]


@pytest.mark.parametrize(
    ("window", "keys", "expected"),
    [
        # 74 - 3 and 84 - 1 in.
        (
            LONG,
            "",
            (
                "71 in × 83 in, loose (sewn to the face at the top alone), set in 1 1/2 in from "
                "each side edge of the face, 1 in short of the face's foot"
            ),
        ),
        (
            LONG.replace("\nlength = 84", ""),
            "set_in = 1",
            (
                "72 in, loose (sewn to the face at the top alone), set in 1 in from each side "
                "edge of the face, 1 in short of the face's foot"
            ),
        ),
        (
            LONG,
            'joined = "bagged"',
            (
                "74 in × 84 in, bagged (sewn to the face's edges and turned out), "
                "as wide and long as the face"
            ),
        ),
        (
            LONG,
            "set_in = 0",
            (
                "74 in × 83 in, loose (sewn to the face at the top alone), 1 in short of the "
                "face's foot"
            ),
        ),
    ],
)
def test_how_a_lining_is_joined(window: str, keys: str, expected: str) -> None:
    """What a lining finishes at, and how far it stays within its face."""
    assert dict(takes(window, f"[lining]\nwidth = 54\n{keys}"))["lining finished"] == expected


@pytest.mark.parametrize(
    ("tables", "window", "expected"),
    [
        ("[fabric]", LONG, "cloth width not given, so no seams and drops"),
        ("[fabric]\nwidth = 118", "width = 74", "2 drops cut length not known"),
        # A run of 80 in a panel, and 4 in: 164 in, 4.56 yd.
        (
            "[fabric]\nwidth = 118\nrailroad = true",
            LONG,
            "2 runs of 80 in: 160 in",
        ),
        (
            "[fabric]\nwidth = 118\nallowance = 0",
            f'{LONG}\npanels = "left"',
            "1 drop of 100 in",
        ),
    ],
)
def test_drops_and_runs(tables: str, window: str, expected: str) -> None:
    """Railroaded cloth is counted in runs; what isn't known is said."""
    assert takes(window, tables) == [("fabric", expected)]


def test_visible_seams_are_not_called_hidden() -> None:
    """Where a seam shows the row says how many don't."""
    # Two eyelets have one gap, in front: the seam of 80 in raw from 54 in can't hide.
    window = "width = 74\nreturn = 3\ncount = 2\nlength = 84"
    rows = dict(takes(window, "[fabric]\nwidth = 54"))
    assert rows["fabric seams"].endswith("from the leading edge, 0 hidden")


def test_amount_to_order() -> None:
    """An exact total goes up to a quarter yard, or a tenth of a metre; none is a dash."""
    assert amount_to_order("in", YARD * 2) == "2 yd"
    assert amount_to_order("in", YARD * 2 + INCH / 16) == "2 1/4 yd"
    assert amount_to_order("mm", METRE * Fraction(21, 10) + 1) == "2.2 m"
    assert amount_to_order("in", None) == "-"


def test_whose_findings_are() -> None:
    """A finding is said once, under its windows' names, of all of them or with none of one window.

    Rings of 1 in bind on a pole of 0.9.
    """
    tight = "\n[window.pole]\ndiameter = 0.9"
    windows = [
        f'name = "{name}"\nwidth = 60\ncount = 8\nreturn = 3' for name in ("Bay", "Hall", "Den")
    ]
    for bound, whose in (
        ("Bay", "Bay: "),
        ("Bay Den", "Bay + Den: "),
        ("Bay Hall Den", "every window: "),
    ):
        job = job_of(*(w + tight * (w.split('"')[1] in bound) for w in windows))
        [said] = [
            text for finding, text in findings_told(plan(job)) if finding.code == "tight-turn"
        ]
        assert said.startswith(f"{whose}the panel will bind")
    alone = job_of(windows[0] + tight)
    [said] = [text for finding, text in findings_told(plan(alone)) if finding.code == "tight-turn"]
    assert said.startswith("the panel will bind")


@pytest.mark.parametrize(
    ("numbers", "expected"),
    [
        ([7], "page 7"),
        ([7, 8], "pages 7 and 8"),
        ([7, 9], "pages 7 and 9"),
        ([7, 8, 9], "pages 7 to 9"),
        ([7, 8, 10], "pages 7, 8 and 10"),
        ([7, 9, 10, 12], "pages 7, 9, 10 and 12"),
    ],
)
def test_pages_named(numbers: list[int], expected: str) -> None:
    """Every page is among those named; a row of three and more has its first and its last."""
    assert pages_named(numbers) == expected


def test_a_turn_is_never_rounded_up() -> None:
    """A ring that turns 44.6 degrees doesn't turn 45, on the ticket as in the finding."""
    # acos(sqrt(d/D)) = 44.6: d = 0.50698 D; acos(d/D) = 59.54.
    tables = '[pole]\ndiameter = "0.50698"\nprojection = 4'
    job = job_of("width = 60", eyelet='outside = "2 in"\nopening = "1 in"', tables=tables)
    (window,) = plan(job).windows
    figures = in_short(window_figures(job, window))
    lift = "44° before they lift off the pole's top; needs 45° to open and close"
    assert ("Rings turn", lift) in figures
    assert ("Rings jam", "at 59°") in figures
    (tight,) = (one for one in window.findings if one.code == "tight-turn")
    assert "its rings turn 44° before they lift" in tight.text


def test_a_lining_seam_beyond_the_eyelets() -> None:
    """A lining's seam that meets nothing is hidden in every count of hidden seams."""
    tables = "[lining]\nwidth = 50\nseam = 1\n[fabric]\nwidth = 200"
    window = 'width = 60\npanels = "left"\nreturn = 20\ncount = 10'
    (planned,) = plan(job_of(window, eyelet=WIDE, tables=tables)).windows
    (lining,) = (one for one in planned.cloth if one.part == "lining")
    assert lining.seams is not None
    assert (lining.seams.visible, lining.seams.struck) == ((0,), ())
    assert (lining.failing, lining.hidden) == ((), 1)
