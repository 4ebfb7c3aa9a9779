"""A panel on its pole, against figures worked here: by hand, and by integration."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from drapetemplate.errors import JobError
from drapetemplate.job.model import Window
from drapetemplate.measures import (
    INCH,
    Units,
    format_length,
    parse_length,
    rounded_down,
    rounded_up,
)
from drapetemplate.planning import hanging
from drapetemplate.planning.hanging import Hang
from drapetemplate.planning.plan import plan
from tests.helpers.jobfiles import RING, inches, job_of, panel_of

EIGHT = "width = 60\nreturn = 3\ncount = 8"  # P = (60 - 4 1/2 - 16)/7 + 2 = 107/14 in


def hang_of(window: str, *, eyelet: str = RING, pole: str = "") -> Hang:
    """How the first panel hangs."""
    hang = panel_of(window, eyelet=eyelet, tables=f"[pole]\n{pole}").hang
    assert hang is not None
    return hang


def bent(pitch: float, outside: float, angle: float) -> tuple[float, float]:
    """Fullness and depth of a fold by integration: curvature is -force times height."""
    height = outside / 2 * math.sin(angle)
    half = (pitch - outside) / 2

    def end(force: float) -> list[float]:
        shape = solve_ivp(
            lambda _, at: [math.cos(at[2]), math.sin(at[2]), -force * at[1]],
            (0, half),
            [0, height, angle],
            rtol=1e-11,
            atol=1e-11,
        )
        return [float(row[-1]) for row in shape.y]

    # The strip never comes nearer the axis than its ring: so much force bends it past level.
    force = brentq(lambda force: end(force)[2], 0, angle / (half * height), xtol=1e-15)
    across, deep, _ = end(force)
    return pitch / (outside * math.cos(angle) + 2 * across), deep


@pytest.mark.parametrize(
    ("said", "fullness", "assumed"),
    [("fullness = 2.25", 2.25, False), ("", 2.0, True), ("covers = 107/4", 2.0, False)],
)
def test_fullness(said: str, fullness: float, *, assumed: bool) -> None:
    """The job's fullness, or cloth between the end centres over covers, or 2, said as assumed."""
    # 7 pitches of 107/14 in are 107/2 in of cloth.
    said = said.replace("107/4", '"26 3/4"')
    hang = hang_of(f"{EIGHT}\n{said}")
    assert (fullness, assumed) == (hang.fullness, hang.assumed)
    assert fullness == pytest.approx(hang.closed.fullness, rel=1e-12)


def test_assumed_fullness_is_said() -> None:
    """Where no fullness is known, 2 stands among the window's assumptions."""
    notes = {note.key: note.value for note in plan(job_of(EIGHT)).windows[0].assumed}
    assert notes["fullness"].startswith("2 times")


def test_depth_closed() -> None:
    """The closed panel's folds are as deep as an integrated strip of the same ring angle."""
    hang = hang_of(f"{EIGHT}\nfullness = 1.8")
    fullness, depth = bent(107 / 14 * 25.4, 50.8, math.radians(hang.closed.angle_deg))
    # Ten digits of integration over a fold leave far less than a hundredth of a millimetre.
    assert fullness == pytest.approx(1.8, rel=1e-7)
    assert depth == pytest.approx(float(hang.depth_closed), abs=1e-5)


def test_depth_stacked() -> None:
    """Half a pitch of cloth, exactly: it can reach no further."""
    expected = Fraction(107, 28) * INCH
    assert expected == hang_of(EIGHT).depth_stacked


@pytest.mark.parametrize(
    ("thickness", "diameter", "expected"),
    [
        # Without thickness the opening looks D cos(a) wide: half of it at 60 degrees.
        ("", "20 mm", 60.0),
        # D cos a - t sin a with tan a = 3/4: 40 * 4/5 - 10 * 3/5 = 26.
        ("thickness = 10", "26 mm", math.degrees(math.atan(3 / 4))),
    ],
)
def test_turn_limit(thickness: str, diameter: str, expected: float) -> None:
    """A ring turns until what it leaves clear along the pole is the pole's diameter."""
    job = job_of(
        "width = 1500",
        head='units = "mm"',
        eyelet=f"outside = 66\nopening = 40\n{thickness}",
        tables=f'[pole]\ndiameter = "{diameter}"',
    )
    hang = plan(job).windows[0].panels[0].hang
    assert hang is not None
    assert hang.turn_limit == pytest.approx(expected, abs=1e-9)


def test_least_fullness() -> None:
    """The flattest panel has its rings turned all the way; its fold is integrated here."""
    hang = hang_of(EIGHT, pole='diameter = "1/2"')  # acos((1/2)/1): 60 degrees of turn
    fullness, _ = bent(107 / 14 * 25.4, 50.8, math.radians(90 - 60))
    assert hang.least_fullness == pytest.approx(fullness, rel=1e-7)


def test_without_a_pole_nothing_is_known_of_turns() -> None:
    """No diameter, no turn; no projection, no room to the wall."""
    hang = hang_of(EIGHT)
    unknown = (hang.turn_limit, hang.least_fullness, hang.wall_room)
    assert unknown == (None, None, None)
    assert hang.free(hang.depth_closed) is None


def test_wall_room() -> None:
    """Projection less clearance is a fold's room; what is free behind it is all to the wall."""
    hang = hang_of(EIGHT, pole='projection = "4 1/2"\nwall_clearance = "3/4"')
    assert hang.wall_room == inches("3 3/4")
    assert hang.free(inches("4")) == inches("1/2")
    assert hang.free(inches("4 3/4")) == -inches("1/4")
    assert hang.free(hang.depth_stacked) == inches("4 1/2") - Fraction(107, 28) * INCH


METRIC = """
[fabric]
side_hem = 50
heading = 200
bottom_hem = 200
shrinkage = "4 %"
repeat_down = 640
weight = "250 gsm"
"""
LINED = '[lining]\nside_hem = 25\nheading = 100\nbottom_hem = 100\nweight = "120 gsm"\n'


def metric(window: str, tables: str, weight: str = "") -> Window:
    """The window of a job in millimetres."""
    job = job_of(
        window,
        head='units = "mm"',
        eyelet=f"outside = 50\nopening = 25\n{weight}",
        tables=tables,
    )
    return job.windows[0]


# (2000 + 200 + 200) * 1.04 = 2496; the cut is 2560, 4 repeats, and what is over is cut off again.
# (1500 + 100) * 2496 = 3.9936 m2, 998.4 g.
# Lining, 40 within the face at each side and 25 above its foot: 1500 - 80 + 50 = 1470 across,
# 2000 - 25 + 200 = 2175 down, 3.19725 m2, 383.67 g. 10 eyelets of 12 g: 120 g.
@pytest.mark.parametrize(
    ("tables", "weight", "expected"),
    [
        (METRIC, "", Fraction(9984, 10)),
        (METRIC, 'weight = "12 g"', Fraction(11184, 10)),
        (METRIC + LINED, 'weight = "12 g"', Fraction(150207, 100)),
    ],
)
def test_weight(tables: str, weight: str, expected: Fraction) -> None:
    """Raw width times length wanted times cloth weight, the lining's likewise, and the eyelets."""
    window = metric("width = 1500\nlength = 2000", tables, weight)
    assert expected == hanging.panel_weight(window, Fraction(1500), Fraction(2000), 10)


@pytest.mark.parametrize(
    "tables",
    [
        "",
        METRIC.replace('weight = "250 gsm"', ""),
        METRIC + LINED.replace('weight = "120 gsm"', ""),
    ],
)
def test_weight_not_known(tables: str) -> None:
    """Cloth or lining of unknown weight leaves the panel's unknown, never too light."""
    window = metric("width = 1500\nlength = 2000", tables, 'weight = "12 g"')
    assert hanging.panel_weight(window, Fraction(1500), Fraction(2000), 10) is None


def test_weight_needs_a_length() -> None:
    """Without a finished length there is no weight."""
    window = metric("width = 1500", METRIC)
    assert hanging.panel_weight(window, Fraction(1500), None, 10) is None


@given(ratio=st.integers(20, 40), count=st.integers(2, 8), over=st.integers(900, 1000))
def test_advice_on_too_much_fullness_holds(ratio: int, count: int, over: int) -> None:
    """Folds that would overlap are refused, and the fullness the text gives is then accepted."""
    window = f"width = 60\nreturn = 3\ncount = {2 * count}\nfullness = "
    eyelet = f'outside = "{ratio / 20}"\nopening = "1/2"'
    fullness = f"{over / 100}"
    with pytest.raises(JobError) as caught:
        panel_of(window + fullness, eyelet=eyelet)
    (fault,) = caught.value.faults
    assert fault.where == "window[1].fullness"
    most = re.search(r"touch: ([\d.]+) times or less$", fault.text)
    assert most is not None
    assert panel_of(window + most[1], eyelet=eyelet).hang is not None
    # One hundredth more is refused again: the value isn't merely a safe one.
    with pytest.raises(JobError):
        panel_of(window + f"{float(most[1]) + 0.01:.2f}", eyelet=eyelet)


def test_too_little_to_cover() -> None:
    """Fullness that follows from covers is refused there, and its advice is about covers."""
    with pytest.raises(JobError) as caught:
        panel_of(f"{EIGHT}\ncovers = 5")  # 53 1/2 in over 5 in: 10.7 times
    (fault,) = caught.value.faults
    assert fault.where == "window[1].covers"
    assert fault.text.startswith("10.70 times is more than the eyelets allow")
    most = re.search(r"([\d.]+) times or less, so cover more pole", fault.text)
    assert most is not None
    assert panel_of(f'{EIGHT}\ncovers = "{53.5 / float(most[1]) + 1e-6:.6f}"').hang is not None


@given(
    length=st.fractions(0, 3000, max_denominator=10_000),
    units=st.sampled_from(["in", "mm", "cm"]),
)
def test_rounded_up_reads_as_printed(length: Fraction, units: Units) -> None:
    """Up by less than 1/16 in or 1 mm, and what is printed of it is the whole truth."""
    up = rounded_up(length, units)
    assert 0 <= up - length < (INCH / 16 if units == "in" else 1)
    assert up == parse_length(format_length(up, units), units)


@given(
    length=st.fractions(0, 3000, max_denominator=10_000),
    units=st.sampled_from(["in", "mm", "cm"]),
)
def test_rounded_down_reads_as_printed(length: Fraction, units: Units) -> None:
    """Down by less than 1/16 in or 1 mm, and what is printed of it is the whole truth."""
    down = rounded_down(length, units)
    assert 0 <= length - down < (INCH / 16 if units == "in" else 1)
    assert down == parse_length(format_length(down, units), units)
