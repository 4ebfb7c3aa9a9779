"""A job file's bytes in, the whole job out: what is given, what is assumed, and as what."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Assumption, Band, Cloth, Details, Eyelet, Job, Paper, Pole
from drapetemplate.job.tables import keys_of
from drapetemplate.measures import INCH

LEAST = """
[job]
name = "Heron Point, writing room"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
[[window]]
width = "88"
"""

FULL = """
units = "cm"
[job]
name = "Heron Point, writing room"
number = 41
client = "The house"
room = "Writing room"
due = 2027-03-31
notes = "<b>Mind</b>\\nthe cat"
[paper]
size = "A3"
orientation = "landscape"
margin = 0
overlap = 2
joins = "even"
view = "back"
strips = "each"
style = "stepping"
letters = ["V", "H"]
[eyelet]
outside = 6.6
opening = 4
hole = 4.4
thickness = 0.5
hung = "Pole"
weight = "12 g"
pack = 10
spares = 2
[band]
height = 10
above = 2
[pole]
diameter = 2.8
projection = 9
wall_clearance = 1
top = 250
off_floor = 1
length = 200
span = 150
[fabric]
name = "Reed"
width = 140
seam = 1
side_hem = 5
heading = 20
bottom_hem = 15
repeat_down = 64
repeat_across = 70
railroad = false
weight = "250 gsm"
shrinkage = "3 %"
allowance = 12
[lining]
width = 137
[[window]]
name = "East"
quantity = 2
panels = "left"
covers = 80
glass = 70
fullness = "2 1/2"
length = 240
leading = 4
return = 7
count = 12
gap = 8
stack_each = 3
[[window]]
fullness = 2
panels = "single"
[window.eyelet]
hung = "hooks"
thickness = 0.2
[window.pole]
length = 100
[window.lining]
seam = 2
[[window]]
fullness = 2
"""


def _job(text: str) -> Job:
    return read_job(text.encode(), "job.toml")


def _assumed(assumed: tuple[Assumption, ...]) -> dict[str, str]:
    return {one.key: one.value for one in assumed}


def test_least_assumes() -> None:
    """The least job says what it assumes, each under its key, in inches."""
    job = _job(LEAST)
    expected = {
        "panels": "pair",
        "leading": "1 1/2 in",
        "eyelet.hung": "pole",
        "eyelet.thickness": "0, not given: turning may be less",
        "eyelet.hole": "1 9/16 in, the opening",
        "band.height": "4 5/8 in",
        "band.above": "1 in, eyelet centred",
        "stack_each": "1 1/4 in",
    }
    assert expected == _assumed(job.windows[0].assumed)


def test_least_job_assumes() -> None:
    """What is assumed for all of a job is its units and its paper."""
    expected = {
        "units": "in",
        "paper.size": "letter",
        "paper.margin": "1/2 in",
        "paper.overlap": "1/2 in",
    }
    assert expected == _assumed(_job(LEAST).assumed)


def test_least_values() -> None:
    """The least job's values are the defaults, exactly."""
    job = _job(LEAST)
    [window] = job.windows
    expected = (
        Paper(
            name="letter",
            width=INCH * 17 / 2,
            height=INCH * 11,
            orientation="auto",
            margin=INCH / 2,
            overlap=INCH / 2,
            joins="clear",
            view="face",
            strips="one",
            style="whole",
            letters=("F", "B"),
        ),
        Eyelet(
            outside=INCH * 21 / 8,
            opening=INCH * 25 / 16,
            hole=INCH * 25 / 16,
            thickness=Fraction(0),
            hung="pole",
            weight=None,
            pack=None,
            spares=0,
        ),
        Band(INCH * 37 / 8, INCH),
        Pole(
            diameter=None,
            projection=None,
            wall_clearance=INCH / 2,
            top=None,
            off_floor=INCH / 2,
            length=None,
            supports=None,
            span=None,
        ),
    )
    assert expected == (job.paper, window.eyelet, window.band, window.pole)


def test_least_window() -> None:
    """What the least window leaves out is unknown or its default."""
    [window] = _job(LEAST).windows
    expected = ("window[1]", "Window 1", 1, "pair", INCH * 88, INCH * 3 / 2, INCH * 5 / 4)
    assert expected == (
        window.key,
        window.name,
        window.quantity,
        window.panels,
        window.width,
        window.leading,
        window.stack_each,
    )
    unknown: list[object] = [window.covers, window.fullness, window.widths, window.length]
    unknown += [window.return_, window.count, window.gap, window.fabric, window.lining]
    assert all(value is None for value in unknown)


def test_full_assumes_nothing() -> None:
    """A job that says everything assumes nothing but for its bare lining."""
    job = _job(FULL)
    expected = {
        "lining.joined": "loose",
        "lining.seam": "1.5 cm",
        "lining.side_hem": "4 cm",
        "lining.heading": "0 cm, caught under the face's heading",
        "lining.bottom_hem": "10 cm",
        "lining.set_in": "4 cm, from each side edge of the face",
        "lining.short": "2.5 cm, above the face's foot",
        "lining.shrinkage": "0",
        "lining.allowance": "10 cm, to square the start and cut round a flaw",
    }
    assert ({}, expected) == (_assumed(job.assumed), _assumed(job.windows[0].assumed))


def test_full_values() -> None:
    """Every key given reaches its field, in exact millimetres."""
    job = _job(FULL)
    window = job.windows[0]
    expected = (
        Details(
            name="Heron Point, writing room",
            number="41",
            client="The house",
            room="Writing room",
            due=date(2027, 3, 31),
            notes="<b>Mind</b>\nthe cat",
        ),
        Paper(
            name="A3",
            width=Fraction(297),
            height=Fraction(420),
            orientation="landscape",
            margin=Fraction(0),
            overlap=Fraction(20),
            joins="even",
            view="back",
            strips="each",
            style="stepping",
            letters=("V", "H"),
        ),
        Eyelet(
            outside=Fraction(66),
            opening=Fraction(40),
            hole=Fraction(44),
            thickness=Fraction(5),
            hung="pole",
            weight=Fraction(12),
            pack=10,
            spares=2,
        ),
        Band(Fraction(100), Fraction(20)),
        Pole(
            diameter=Fraction(28),
            projection=Fraction(90),
            wall_clearance=Fraction(10),
            top=Fraction(2500),
            off_floor=Fraction(10),
            length=Fraction(2000),
            supports=None,
            span=Fraction(1500),
        ),
    )
    assert expected == (job.details, job.paper, window.eyelet, window.band, window.pole)


def test_full_window() -> None:
    """Every key of a window reaches its field, in exact millimetres."""
    window = _job(FULL).windows[0]
    expected = ("East", 2, "left", None, Fraction(800), Fraction(700), Fraction(5, 2), None)
    expected_edges = (Fraction(2400), Fraction(40), Fraction(70), 12, Fraction(80), Fraction(30))
    assert expected == (
        window.name,
        window.quantity,
        window.panels,
        window.width,
        window.covers,
        window.glass,
        window.fullness,
        window.widths,
    )
    assert expected_edges == (
        window.length,
        window.leading,
        window.return_,
        window.count,
        window.gap,
        window.stack_each,
    )


def test_full_cloth() -> None:
    """Every key of a cloth reaches its field, in exact millimetres and shares of 1."""
    expected = Cloth(
        name="Reed",
        width=Fraction(1400),
        seam=Fraction(10),
        side_hem=Fraction(50),
        heading=Fraction(200),
        bottom_hem=Fraction(150),
        repeat_down=Fraction(640),
        repeat_across=Fraction(700),
        railroad=False,
        weight=Fraction(250),
        shrinkage=Fraction(3, 100),
        allowance=Fraction(120),
    )
    assert expected == _job(FULL).windows[0].fabric


def test_overrides_key_by_key() -> None:
    """A window's own table changes the keys it gives, and leaves the others."""
    second = _job(FULL).windows[1]
    assert second.lining is not None
    expected = ("hooks", Fraction(2), Fraction(66), Fraction(20), Fraction(1370))
    assert expected == (
        second.eyelet.hung,
        second.eyelet.thickness,
        second.eyelet.outside,
        second.lining.seam,
        second.lining.width,
    )


def test_covers_from_pole_length() -> None:
    """A window with only a fullness covers the pole: all of it, or half for each of a pair."""
    expected = [Fraction(800), Fraction(1000), Fraction(1000)]
    assert expected == [window.covers for window in _job(FULL).windows]


@pytest.mark.parametrize(
    ("panels", "text"),
    [("pair", "48 in, half of pole.length"), ("single", "96 in, all of pole.length")],
)
def test_covers_from_pole_length_is_assumed(panels: str, text: str) -> None:
    """What a panel covers is not what the file says: the ticket has it to be checked."""
    toml = LEAST.replace('width = "88"', "") + (
        f'fullness = 2\npanels = "{panels}"\n[pole]\nlength = 96\n'
    )
    [window] = _job(toml).windows
    assert ("covers", text) in [(one.key, one.value) for one in window.assumed]


@pytest.mark.parametrize(
    ("said", "covers"),
    [
        ('width = "88"', "48"),
        ("widths = 2\n[window.fabric]\nwidth = 54", "48"),
        ('width = "88"\npanels = "left"', "96"),
        ('width = "88"\n[window.eyelet]\nhung = "hooks"', "48"),
        ('width = "88"\ncovers = 30', "30"),
        # Width and fullness say what is covered, which planning works out.
        ('width = "88"\nfullness = 2', None),
    ],
)
def test_covers_of_a_width(said: str, covers: str | None) -> None:
    """Beside a width too the pole's length is what is covered, where nothing else says it."""
    toml = LEAST.replace('width = "88"', said) + "[pole]\nlength = 96\n"
    [window] = _job(toml).windows
    assert window.covers == (None if covers is None else int(covers) * INCH)
    assert window.covers_assumed == (covers in {"48", "96"})


@pytest.mark.parametrize(
    ("more", "assumed"),
    [
        ("[pole]\nprojection = 3\n", {"pole.wall_clearance"}),
        ("[pole]\ntop = 96\n", {"pole.off_floor"}),
        ("length = 84\n[pole]\ntop = 96\n", set[str]()),
        ("[pole]\ndiameter = 1\n", set[str]()),
        ("[pole]\ndiameter = 1\nlength = 96\n", {"covers"}),
        (
            "[window.fabric]\n",
            {
                "fabric.seam",
                "fabric.side_hem",
                "fabric.heading",
                "fabric.bottom_hem",
                "fabric.shrinkage",
                "fabric.allowance",
            },
        ),
    ],
)
def test_assumed_where_a_figure_rests_on_it(more: str, assumed: set[str]) -> None:
    """A default is noted only where something is worked out from it."""
    keys = _assumed(_job(LEAST + more).windows[0].assumed).keys()
    assert assumed == keys - _assumed(_job(LEAST).windows[0].assumed).keys()


@pytest.mark.parametrize(
    ("more", "missing"),
    [
        ('panels = "single"\n', {"leading", "panels"}),
        ('[window.eyelet]\nhung = "hooks"\n', {"eyelet.hung", "eyelet.thickness"}),
    ],
)
def test_not_assumed(more: str, missing: set[str]) -> None:
    """A single panel has no leading edge, and on hooks no ring turns on a pole."""
    keys = _assumed(_job(LEAST + more).windows[0].assumed).keys()
    assert missing == _assumed(_job(LEAST).windows[0].assumed).keys() - keys


def test_read_job_faults() -> None:
    """A job that can't be is refused with every fault."""
    with pytest.raises(JobError) as caught:
        _job(LEAST.replace("88", "0"))
    expected = (Fault("window[1].width", '"0" means nothing here: write a length over 0'),)
    assert expected == caught.value.faults


def test_same_bytes_same_job() -> None:
    """Reading is a pure function of the bytes."""
    assert _job(FULL) == _job(FULL)


VALUES = ["0", "1", "2", "3.5", '"1 1/2"', '"54 in"', '"250 gsm"', "200", "-1", "true", '"pole"']
TABLE_NAMES = ["pole", "band", "fabric", "lining", "eyelet", "paper"]
lines = st.sampled_from(["window", *TABLE_NAMES]).flatmap(
    lambda table: st.tuples(
        st.just(table), st.booleans(), st.sampled_from(keys_of(table)), st.sampled_from(VALUES)
    )
)


@given(st.lists(lines, max_size=8, unique_by=lambda line: line[:3]))
def test_any_keys(lines: list[tuple[str, bool, str, str]]) -> None:
    """Any values at any keys make a job with a settled width, or printable faults."""
    text = LEAST.replace('width = "88"\n', "")
    for table, own, key, value in lines:
        prefix = f"{table}." if own and table != "window" else ""
        if table == "window" or own:
            text += f"{prefix}{key} = {value}\n"
    for table in TABLE_NAMES[:-2]:
        shared = [
            f"{key} = {value}\n" for name, own, key, value in lines if (name, own) == (table, False)
        ]
        text += f"[{table}]\n{''.join(shared)}" if shared else ""
    try:
        [window] = _job(text).windows
    except JobError as error:
        faults = [str(fault) for fault in error.faults]
        settled = bool(faults) and all(fault.isprintable() for fault in faults)
    else:
        routes = (window.width, window.widths, window.covers and window.fullness)
        settled = any(route is not None for route in routes)
    assert settled


def test_roll() -> None:
    """A roll has a width and no height."""
    paper = _job(LEAST + '[paper]\nsize = "24 in roll"\n').paper
    expected = ("24 in roll", INCH * 24)
    assert paper.height is None
    assert expected == (paper.name, paper.width)
