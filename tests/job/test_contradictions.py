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
