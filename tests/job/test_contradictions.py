"""Windows and tables laid over each other, and what can't go together."""

from __future__ import annotations

import pytest

from drapetemplate.errors import JobError
from drapetemplate.job.build import read_job

HEAD = '[job]\nname = "Heron Point"\n'
EYELET = '[eyelet]\noutside = "2 5/8"\nopening = "1 9/16"\n'
WINDOW = "[[window]]\nwidth = 88\n"


def _faults(text: str) -> list[str]:
    try:
        read_job(text.encode(), "job.toml")
    except JobError as error:
        return [f"{fault.where}: {fault.text}" for fault in error.faults]
    return []


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        (
            WINDOW,
            [
                'eyelet.outside: missing: give the width over the flange, such as "2 5/8"',
                'eyelet.opening: missing: give the clear width inside, such as "1 9/16"',
            ],
        ),
        (
            "[eyelet]\noutside = 2\nopening = 2\nhole = 3\n" + WINDOW,
            [
                "eyelet.opening: 2 in must be less than eyelet.outside, 2 in",
                "eyelet.hole: 3 in must be less than eyelet.outside, 2 in",
            ],
        ),
        (
            EYELET + "[band]\nheight = 2\n" + WINDOW,
            [
                (
                    "band.height: 0 in above an eyelet of 2 5/8 in doesn't fit in a band of 2 "
                    "in: give a higher band, or less above"
                )
            ],
        ),
        (
            EYELET + "[band]\nabove = 3\n" + WINDOW,
            [
                (
                    "band.above: 3 in above an eyelet of 2 5/8 in doesn't fit in a band of 4 5/8 in"
                    " unless band.height says more: give a higher band, or less above"
                ),
            ],
        ),
        (
            EYELET + '[pole]\ndiameter = "1 9/16"\n' + WINDOW,
            [
                (
                    "pole.diameter: a pole of 1 9/16 in doesn't pass an opening of 1 9/16 in:"
                    " take a thinner pole or a wider eyelet"
                ),
            ],
        ),
        (
            EYELET + '[pole]\nprojection = "1/2"\ntop = 1\noff_floor = 1\n' + WINDOW,
            [
                (
                    "pole.projection: 1/2 in from wall to pole centre must be more than"
                    " pole.wall_clearance, 1/2 in"
                ),
                "pole.top: 1 in from floor to pole must be more than pole.off_floor, 1 in",
            ],
        ),
        (
            EYELET + "[fabric]\nwidth = 54\nseam = 27\n" + WINDOW,
            [
                (
                    "fabric.seam: 27 in on both sides leaves nothing of a width of 54 in: give "
                    "a narrower seam, or wider cloth"
                )
            ],
        ),
    ],
)
def test_geometry(text: str, faults: list[str]) -> None:
    """Measures that can't go together are told at the key to change."""
    assert faults == _faults(HEAD + text)


@pytest.mark.parametrize(
    "text",
    [
        '[eyelet]\noutside = 2\nopening = "1 63/64"\nhole = "1 63/64"\n' + WINDOW,
        EYELET + '[band]\nheight = "2 5/8"\n' + WINDOW,
        EYELET + "[band]\nabove = 2\n" + WINDOW,
        EYELET + "[pole]\ndiameter = 3\n" + WINDOW + '[window.eyelet]\nhung = "hooks"\n',
        EYELET + "[pole]\nprojection = 1\nwall_clearance = 0\n" + WINDOW,
        EYELET + "[pole]\ntop = 1\noff_floor = 1\n" + WINDOW + "length = 84\n",
        EYELET + WINDOW + "leading = 0\nreturn = 0\n",
    ],
)
def test_geometry_at_the_edge(text: str) -> None:
    """Measures that just go together have no fault."""
    assert not _faults(HEAD + text)


@pytest.mark.parametrize(
    ("window", "fault"),
    [
        ("", "window[1]: no width: give width, or covers and fullness, or widths"),
        (
            "covers = 40",
            (
                "window[1].covers: 40 in settles the width only with fullness: add "
                "fullness, such as fullness = 2"
            ),
        ),
        (
            "fullness = 2",
            (
                "window[1].fullness: 2 settles the width only with covers, with length in "
                "[pole] or with glass: add one of them"
            ),
        ),
        (
            "width = 88\ncovers = 40\nfullness = 2",
            (
                "window[1].width: covers 40 in and fullness 2 settle the panel's width "
                "too: give two of the three, width, covers and fullness"
            ),
        ),
        (
            "widths = 2\ncovers = 40\nfullness = 2\nfabric = {width = 54}",
            (
                "window[1].widths: covers 40 in and fullness 2 settle the panel's width "
                "too: give two of the three, widths, covers and fullness"
            ),
        ),
        (
            "width = 88\nwidths = 2\nfabric = {width = 54}",
            "window[1].widths: 2 beside a width of 88 in, which settles it: give one of the two",
        ),
        (
            "widths = 2",
            "window[1].widths: 2 of a cloth whose width isn't given: give width in [fabric]",
        ),
        (
            "widths = 2\nfabric = {width = 54, railroad = true}",
            (
                "window[1].widths: 2 of a railroaded cloth, which has no widths:"
                " give width, or covers and fullness"
            ),
        ),
        (
            "widths = 1\nfabric = {width = 6}",
            (
                "window[1].widths: 1 of 6 in leave nothing between hems of 3 in: give more "
                "widths, or narrower hems"
            ),
        ),
        (
            'width = 88\npanels = "single"\nleading = 1',
            (
                "window[1].leading: 1 in at the leading edge, which a single panel hasn't: "
                "it has a return at both ends, so give return instead"
            ),
        ),
    ],
)
def test_width_faults(window: str, fault: str) -> None:
    """A width that isn't settled, or twice, is told with what would settle it."""
    assert [fault] == _faults(f"{HEAD}{EYELET}[[window]]\n{window}\n")


@pytest.mark.parametrize(
    "window",
    [
        "width = 88",
        "width = 88\ncovers = 40",
        "width = 88\nfullness = 2",
        "covers = 40\nfullness = 2",
        'widths = "2 1/2"\nfabric = {width = 54}',
        "widths = 2\nfullness = 2\nfabric = {width = 54}",
        "fullness = 2\npole = {length = 96}",
    ],
)
def test_width_routes(window: str) -> None:
    """Every way to say a panel's width is taken."""
    assert not _faults(f"{HEAD}{EYELET}[[window]]\n{window}\n")


def test_shared_fault_is_told_once() -> None:
    """Windows that share a wrong table have one fault between them, at the file's key."""
    expected = ["eyelet.opening: 3 in must be less than eyelet.outside, 2 5/8 in"]
    assert expected == _faults(HEAD + EYELET.replace("1 9/16", "3") + WINDOW * 3)


def test_own_fault_is_told_at_the_window() -> None:
    """A window whose own key breaks a shared one is the one to change."""
    expected = ["window[2].eyelet.outside: 1 9/16 in must be less than eyelet.outside, 1 1/2 in"]
    text = HEAD + EYELET + WINDOW * 2 + '[window.eyelet]\noutside = "1 1/2"\n'
    assert expected == _faults(text)


def test_overridden_fault_is_none() -> None:
    """A shared value that no window uses can't be wrong for any."""
    text = HEAD + EYELET.replace("1 9/16", "3") + WINDOW + '[window.eyelet]\nopening = "1 9/16"\n'
    assert not _faults(text)


def test_unreadable_values_are_not_judged() -> None:
    """A value with a fault of its own brings no further faults with it."""
    text = f"""{HEAD}{EYELET.replace("opening", "openning")}thickness = 0
hung = "hook"
[band]
height = "6 inn"
above = 5
[pole]
diameter = 3
projection = 1
wall_clearance = -1
[[window]]
widht = 88
[[window]]
widths = 2
[window.fabric]
width = "54,500"
"""
    expected = [
        "eyelet.openning",
        "eyelet.hung",
        "band.height",
        "pole.wall_clearance",
        "window[1].widht",
        "window[2].fabric.width",
    ]
    assert expected == [fault.partition(":")[0] for fault in _faults(text)]


def test_a_windows_own_is_judged_beside_an_unreadable_one() -> None:
    """What a window says itself instead can be read, so that what is wrong with it is told too."""
    text = f"""{HEAD}{EYELET}hole = "wide"
[pole]
wall_clearance = -1
{WINDOW}
{WINDOW}
[window.eyelet]
hole = 3
[window.pole]
projection = 1
wall_clearance = 2
"""
    expected = [
        "eyelet.hole",
        "pole.wall_clearance",
        "window[2].eyelet.hole",
        "window[2].pole.projection",
    ]
    assert expected == [fault.partition(":")[0] for fault in _faults(text)]


def test_both_kinds_in_one_go() -> None:
    """What can't be read and what can't go together are told in one go."""
    expected = [
        "window[1].gap: -1 is negative: write a length of 0 or more",
        "window[2]: no width: give width, or covers and fullness, or widths",
    ]
    assert expected == _faults(f"{HEAD}{EYELET}{WINDOW}gap = -1\n[[window]]\n")


def test_faults_in_the_units_of_the_file() -> None:
    """A fault shows measures in the file's units."""
    expected = ["eyelet.hole: 70 mm must be less than eyelet.outside, 66.7 mm"]
    assert expected == _faults(
        f'units = "mm"\n{HEAD}[eyelet]\noutside = "2 5/8 in"\nopening = 40\nhole = 70\n{WINDOW}'
    )


@pytest.mark.parametrize(
    ("window", "fabric", "expected"),
    [
        # From the left selvage 3, 15, 27, 39, 51; from the right one 3 as well.
        ("", "repeat_across = 12\nmotif = 3\nmirrored = true", ""),
        # 1/8 in apart is as good as none: 3 1/16 from the left, 2 15/16 from the right.
        ("", 'repeat_across = 12\nmotif = "3 1/16"\nmirrored = true', ""),
        ("", 'repeat_across = 12\nmotif = "2 15/16"\nmirrored = true', ""),
        (
            "",
            'repeat_across = 12\nmotif = "3 3/32"\nmirrored = true',
            (
                "fabric.mirrored: true, but from the right selvage a motif's centre is at "
                "≈ 2 15/16 in, and from the left one at ≈ 3 1/8 in: give false, or another motif "
                "or width"
            ),
        ),
        # 18 from the left, so 6; 54 - 18 = 36 from the right, so 0.
        (
            "",
            "repeat_across = 12\nmotif = 18\nmirrored = true",
            (
                "fabric.mirrored: true, but from the right selvage a motif's centre is at 0 in, "
                "and from the left one at 6 in: give false, or another motif or width"
            ),
        ),
        ("", "motif = 18\nmirrored = true", ""),
        ("", "repeat_across = 12\nmotif = 18", ""),
        (
            "",
            "mirrored = true",
            (
                "fabric.mirrored: true of a cloth whose motif isn't given: give motif in [fabric], "
                "or false"
            ),
        ),
        ("", "repeat_across = 12\nmotif = 53", ""),
        ("", "motif = 54", ""),
        (
            "",
            "repeat_across = 12\nmotif = 54",
            (
                "fabric.motif: 54 in from the left selvage is more than fabric.width, 54 in: give "
                "the centre of the first whole motif"
            ),
        ),
        ('pattern = "folds"', "repeat_across = 12\nmotif = 3", ""),
        (
            'pattern = "folds"',
            "motif = 3",
            (
                "window[1].pattern: folds of a cloth without a repeat: give repeat_across in "
                "[fabric], or seams"
            ),
        ),
        (
            'pattern = "folds"',
            "repeat_across = 12\nrailroad = true",
            (
                "window[1].pattern: folds of a railroaded cloth, whose repeat across runs down the "
                "panel: give seams"
            ),
        ),
        (
            'pattern = "folds"\neyelet.hung = "hooks"',
            "repeat_across = 12",
            (
                "window[1].pattern: folds on hooks, where no gap is sure to be in front: give "
                "seams, or hung = pole"
            ),
        ),
        ('eyelet.hung = "hooks"', "repeat_across = 12", ""),
        ("motif_below = 9", "repeat_down = 24\nmotif_down = 0", ""),
        (
            "motif_below = 9",
            "motif_down = 0",
            (
                "window[1].motif_below: 9 in of a cloth without repeat_down: give repeat_down in "
                "[fabric]"
            ),
        ),
        (
            "motif_below = 9",
            "repeat_down = 24",
            (
                "window[1].motif_below: 9 in of a cloth without motif_down: give motif_down in "
                "[fabric]"
            ),
        ),
        (
            "motif_below = 9",
            "repeat_down = 24\nmotif_down = 0\nrailroad = true",
            (
                "window[1].motif_below: 9 in of a railroaded cloth, whose motifs lie on their "
                "side: leave it out"
            ),
        ),
    ],
)
def test_patterns_and_motifs(window: str, fabric: str, expected: str) -> None:
    """A motif is where it can be, and a pattern asks for no more than is known of its cloth."""
    text = f"{HEAD}{EYELET}[fabric]\nwidth = 54\n{fabric}\n{WINDOW}{window}\n"
    assert _faults(text) == ([expected] if expected else [])


def test_a_motif_on_a_cloth_of_no_known_width() -> None:
    """On folds it must be known where the cloth ends; elsewhere only that it has a motif."""
    text = f"{HEAD}{EYELET}[fabric]\nrepeat_across = 12\nmotif = 3\n{WINDOW}"
    assert not _faults(text)
    assert _faults(f'{text}pattern = "folds"\n') == [
        "fabric.motif: 3 in on a cloth whose width isn't given: give width in [fabric]"
    ]


@pytest.mark.parametrize(
    ("widths", "width", "hem", "fits"),
    [
        # Two of 5 in lose 2 seams of 1 in where they meet: 8 in, which hems of 4 take up.
        ("2", "5", "4", False),
        ("2", "5", '"3 15/16"', True),
        # Two and a half of 4 in have two seams, which take 4 in: 6 in are left.
        ('"2 1/2"', "4", "3", False),
        ('"2 1/2"', "4", '"2 15/16"', True),
        # One has no seam.
        ("1", "6", "3", False),
        ("1", "6", '"2 15/16"', True),
    ],
)
def test_widths_and_their_hems(widths: str, width: str, hem: str, *, fits: bool) -> None:
    """Widths are sewn together before they are hemmed: what is left of them is the panel."""
    fabric = f"[fabric]\nwidth = {width}\nseam = 1\nside_hem = {hem}\n"
    faults = _faults(f"{HEAD}{EYELET}{fabric}[[window]]\nwidths = {widths}\n")
    assert ["leave nothing between hems" in fault for fault in faults] == [True] * (not fits)


@pytest.mark.parametrize(
    ("tables", "window", "expected"),
    [
        ("[pole]\nsupports = 3\n", "", []),
        (
            "[pole]\nsupports = 3\nspan = 40\n",
            "",
            [
                (
                    "pole.span: 40 in beside pole.supports, 3, which settles how many brackets "
                    "there are: give one of the two"
                )
            ],
        ),
        # A window's own of either takes the place of both that the file has.
        ("[pole]\nspan = 40\n", "pole.supports = 3", []),
        ("[pole]\nsupports = 3\n", "pole.span = 40", []),
        ("[pole]\nlength = 70\n", "glass = 70", []),
        (
            "[pole]\nlength = 70\n",
            'glass = "70 1/16"',
            [
                (
                    "window[1].glass: 70 1/16 in is more than pole.length, 70 in: a pole reaches "
                    "from one side of the glass to the other"
                )
            ],
        ),
    ],
)
def test_poles(tables: str, window: str, expected: list[str]) -> None:
    """A pole's brackets are said in one way, and it is as long as its glass is wide."""
    assert _faults(f"{HEAD}{EYELET}{tables}{WINDOW}{window}\n") == expected


@pytest.mark.parametrize(
    ("fabric", "window", "key"),
    [
        ("railroad = 3", "widths = 2", "fabric.railroad"),
        ("side_hem = -1\nwidth = 6", "widths = 1", "fabric.side_hem"),
        ("repeat_across = -1\nwidth = 54", 'width = 60\npattern = "folds"', "fabric.repeat_across"),
        ("motif = -1\nwidth = 54\nmirrored = true", "width = 60", "fabric.motif"),
        (
            "motif = 60\nwidth = -1\nrepeat_across = 12",
            'width = 60\npattern = "folds"',
            "fabric.width",
        ),
        ("repeat_down = -1\nmotif_down = 0", "width = 60\nmotif_below = 9", "fabric.repeat_down"),
        ("motif_down = -1\nrepeat_down = 9", "width = 60\nmotif_below = 9", "fabric.motif_down"),
    ],
)
def test_unreadable_cloth_is_not_judged(fabric: str, window: str, key: str) -> None:
    """What can't be read of a cloth is told once: who knows what it would have gone with."""
    faults = _faults(f"{HEAD}{EYELET}[fabric]\n{fabric}\n[[window]]\n{window}\n")
    assert [fault.partition(":")[0] for fault in faults] == [key]
