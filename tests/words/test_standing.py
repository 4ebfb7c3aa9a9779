"""What the hanging page says of pole, brackets, eyelets between them and weights."""

from __future__ import annotations

import pytest

from drapetemplate.planning.plan import plan
from drapetemplate.words.standing import eyelets_between, standing_rows
from tests.helpers.jobfiles import RING, job_of, window_of

PAIR = "width = 100\ncount = 8\nreturn = 3\nfullness = 3"


def rows(
    window: str = PAIR, tables: str = "", eyelet: str = RING, head: str = ""
) -> dict[str, str]:
    """The rows of a job's only window, by name."""
    job = job_of(window, tables=tables, eyelet=eyelet, head=head)
    found = standing_rows(job, plan(job).windows[0])
    assert len(found) == len(dict(found)), "each name once"
    return dict(found)


@pytest.mark.parametrize(
    ("panels", "supports", "expected"),
    [
        (
            "pair",
            1,
            [
                ("Left of bracket 1", "left panel's eyelet 8"),
                ("Between 1 and 2", "left panel's eyelets 7 to 1"),
                ("Between 2 and 3", "right panel's eyelets 1 to 7"),
                ("Right of bracket 3", "right panel's eyelet 8"),
            ],
        ),
        (
            "pair",
            0,
            [
                ("Left of bracket 1", "left panel's eyelet 8"),
                ("Between 1 and 2", "left panel's eyelets 7 to 1, right panel's eyelets 1 to 7"),
                ("Right of bracket 2", "right panel's eyelet 8"),
            ],
        ),
        (
            "single",
            0,
            [
                ("Left of bracket 1", "eyelet 1"),
                ("Between 1 and 2", "eyelets 2 to 7"),
                ("Right of bracket 2", "eyelet 8"),
            ],
        ),
    ],
)
def test_eyelets_between(panels: str, supports: int, expected: list[tuple[str, str]]) -> None:
    """The end eyelet at a return stands beyond its bracket; the others as numbered on the strip."""
    tables = f"[pole]\nlength = 66\nsupports = {supports}"
    window = PAIR.replace("fullness = 3", f"panels = '{panels}'")
    assert eyelets_between(window_of(window, tables=tables)) == expected


def test_eyelets_are_all_somewhere() -> None:
    """Every eyelet of every panel is told once, of a panel across brackets too."""
    for supports in range(4):
        tables = f"[pole]\nlength = 66\nsupports = {supports}"
        told = eyelets_between(window_of(PAIR, tables=tables))
        seen = []
        for _, words in told:
            for run in words.split(", "):
                side, _, numbers = run.partition(" panel's ")
                first, *last = (
                    numbers.replace("eyelets", "eyelet").removeprefix("eyelet ").split(" to ")
                )
                ends = sorted((int(first), int(last[0] if last else first)))
                seen += [(side, number) for number in range(ends[0], ends[1] + 1)]
        assert sorted(seen) == [(side, n) for side in ("left", "right") for n in range(1, 9)]


def test_a_single_panel_needs_an_end_that_moves() -> None:
    """With an eyelet past either bracket it can't be drawn: which to hang inside is said.

    Not of a pair, whose leading ends move, nor where a panel ends short of the other bracket.
    """
    single = "width = 100\ncount = 8\nreturn = 3\npanels = 'single'"
    moves = "the end that moves hangs inside its bracket"
    pole = "[pole]\nlength = 66\nsupports = 0"
    assert rows(single, pole)["To draw it open"] == (
        f"{moves}: eyelet 8 left of bracket 2, or eyelet 1 right of bracket 1"
    )
    assert rows(single)["To draw it open"] == f"{moves}, not past it"
    for other in (PAIR, f"{PAIR}\npanels = 'left'", f"{single}\ncovers = 50"):
        assert "To draw it open" not in rows(other, pole)


def test_not_given() -> None:
    """What the job doesn't say is told as that."""
    found = rows()
    assert found["Pole"] == "length not given"
    assert (found["Top of pole"], found["Projection"], found["Brackets"]) == ("not given",) * 3
    assert found["Weight"] == "not known: it takes the cloth's weight and the finished length"
    assert "Glass, open" not in found


def test_one_figure_for_what_lies_on_the_floor() -> None:
    """A finding and the row of the lower edge, on one page, say it alike: rounded up.

    An eyelet of 2 1/8 in, 1 in of it open: 90 + 1 + (2 1/8 - 1)/2 = 91 9/16 in, less 92 1/32.
    """
    ring = 'outside = "2 1/8"\nopening = 1\nhole = 1'
    window = 'width = 60\nlength = "92 1/32"'
    job = job_of(window, tables="[pole]\ntop = 90", eyelet=ring)
    planned = plan(job).windows[0]
    [warning] = [each.text for each in planned.findings if each.code == "on-floor"]
    assert "lies 1/2 in on the floor" in warning
    assert dict(standing_rows(job, planned))["Lower edge"] == "breaks on the floor by 1/2 in"


def test_worked_out() -> None:
    """A pole that clears the glass is said to be worked out: 50 + 2 x 10 in."""
    found = rows(f"{PAIR}\nglass = 50", tables='[pole]\ndiameter = "3/4"\nsupports = 0')
    assert found["Pole"] == (
        "70 in between the finials, 3/4 in thick, worked out to clear the glass"
    )
    assert found["Glass, open"] == "clear"
    assert found["Brackets"] == "1 at 1 1/4 in; 2 at 68 3/4 in, from the pole's left end"


@pytest.mark.parametrize(
    ("panels", "words"),
    [
        ("pair", "10 in at either side"),
        ("single", "20 in at the side it is drawn to"),
        ("left", "20 in at the left, none at the right"),
        ("right", "20 in at the right, none at the left"),
    ],
)
def test_where_the_pole_stands_over_the_glass(panels: str, words: str) -> None:
    """Of 80 in of pole 20 aren't over 60 in of glass: whoever hangs it is told at which side.

    So the stacks cover just what is said of them.
    """
    window = f"covers = 40\nfullness = 2\nreturn = 3\nglass = 60\npanels = '{panels}'"
    assert rows(window, "[pole]\nlength = 80")["Pole past glass"] == words
    assert "Pole past glass" not in rows(window.replace("glass = 60", ""), "[pole]\nlength = 80")


@pytest.mark.parametrize(
    ("panels", "covered"),
    [("pair", "8 in covered at either side"), ("left", "6 in covered at one")],
)
def test_glass_covered_drawn_open(panels: str, covered: str) -> None:
    """8 rings stack on 10 in: of 80 in of pole 4 aren't over 76 of glass, 2 at a pair's each side.

    A return of 3 in and a leading edge of 2 are told apart.
    """
    window = f"width = 100\ncount = 8\nleading = 2\nreturn = 3\nglass = 76\npanels = '{panels}'"
    found = rows(window, "[pole]\nlength = 80")
    assert found["Glass, open"].startswith(covered)
    assert found["Return"] == "3 in of cloth turns back to the wall"
    assert found["Stack, open"] == ("10 in each panel" if panels == "pair" else "10 in")


def test_glass_left_bare() -> None:
    """What closed panels leave bare of the glass is said for whoever hangs them, if any."""
    pole = "[pole]\nlength = 80"
    meeting = "covers = 40\nfullness = 2\nreturn = 3\nglass = 60"
    assert "Glass, closed" not in rows(meeting, pole)
    # 2 x (38 3/4 - 34) in between the rings, less 1 1/2 in of cloth past each, 73 degrees to the
    # pole as its ring stands: 7/16 in of it.
    words = rows(meeting.replace("40", "34"), pole)["Glass, closed"]
    assert words == "8 5/8 in stays bare between the panels"


def test_weights() -> None:
    """The pole bears both panels; both systems, the job's own first.

    Of 100 in + 6 in of hems by 84 + 8 + 8 in: 106 x 100 x 0.00064516 x 300 g = 2.05 kg a panel.
    """
    tables = '[fabric]\nweight = "300 gsm"\n[pole]\nlength = 66\nsupports = 0'
    found = rows(f"{PAIR}\nlength = 84", tables=tables)
    assert found["Weight, each panel"] == "4 lb 8 oz (2.1 kg)"
    assert found["Weight on the pole"] == "9 lb 1 oz (4.1 kg), eyelets not counted"
    assert found["Most on a bracket"].startswith("1: 4 lb 8 oz (2.1 kg); 2: 4 lb 8 oz (2.1 kg);")


def test_rings_take_their_share_of_the_pole() -> None:
    """Half a pole of 66 in is 33; a ring takes 1 1/4 in of it, half at its end and half inside.

    99 in between the end eyelets are 3 times 33, and 3.12 times 31 3/4. A panel that is to cover
    more than its half is another matter, and one with room to spare covers what it is to.
    """
    pole = "[pole]\nlength = {}"
    assert rows("fullness = 3\nreturn = 3", pole.format(66))["Closed"] == (
        "31 3/4 in between end eyelets, 3.12 times: rings take the rest"
    )
    for covers in (34, 31):
        window = f"covers = {covers}\nfullness = 3\nreturn = 3"
        assert "Closed" not in rows(window, pole.format(66))
