"""What a job says, in plain words: values exact, names for people, nothing that was assumed."""

from __future__ import annotations

import pytest

from drapetemplate.job.tables import TABLES, keys_of
from drapetemplate.planning.plan import plan
from drapetemplate.words import job_words
from tests.helpers.jobfiles import NO_HOLE, RING, job_of

WINDOW = "width = 60\nlength = 84"
MM = 'units = "mm"'


def of_window(window: str = WINDOW, tables: str = "", eyelet: str = RING) -> dict[str, str]:
    """What a job says of its only window, by name."""
    job = job_of(window, tables=tables, eyelet=eyelet)
    rows = job_words.of_window(job.windows[0], job.units)
    assert len(rows) == len(dict(rows)), "each name once"
    return dict(rows)


def test_every_key_has_words() -> None:
    """Every key of every table has a name for people, and no two of them the same."""
    keys = [
        f"{table}.{key}" if table not in {"", "window"} else key
        for table in TABLES
        for key in keys_of(table)
        if key not in TABLES
    ]
    assert sorted(job_words.WORDS) == sorted(set(keys))
    assert len(set(job_words.WORDS.values())) == len(job_words.WORDS)
    assert [key for key, words in job_words.WORDS.items() if "_" in words or "." in words] == []


@pytest.mark.parametrize(
    ("window", "head", "tables", "eyelet"),
    [
        pytest.param(WINDOW, "", "", RING, id="inches"),
        pytest.param("width = 900", MM, "", 'outside = 50\nopening = 25\nhung = "hooks"', id="mm"),
        pytest.param("width = 60", "", "[pole]\nprojection = 5\ntop = 90", RING, id="pole"),
        pytest.param('width = 60\npanels = "single"', "", "[fabric]\n[lining]", RING, id="cloth"),
    ],
)
def test_what_is_assumed_has_words(window: str, head: str, tables: str, eyelet: str) -> None:
    """Nothing that a job leaves open is named by its key alone."""
    job = job_of(window, head=head, tables=tables, eyelet=eyelet)
    planned = plan(job)
    keys = {a.key for a in (*planned.assumed, *planned.windows[0].assumed)}
    assert keys
    assert [key for key in keys if job_words.words_of(key) == key] == []


def test_key_without_words() -> None:
    """A key that isn't known is named by itself rather than lost."""
    assert job_words.words_of("eyelet.colour") == "eyelet.colour"


def test_assumed_is_left_out() -> None:
    """What the job doesn't say isn't among what it says; once it says it, it is."""
    least = of_window(eyelet=NO_HOLE)
    for name in ("Hole to cut", "Leading", "Stack, each eyelet", "Return", "Fullness", "Fabric"):
        assert name not in least
    more = of_window(f"{WINDOW}\nleading = 2\nstack_each = 1", eyelet=f"{NO_HOLE}\nhole = 1.125")
    assert more["Hole to cut"] == "1 1/8 in"
    assert more["Leading"] == "2 in"
    assert more["Stack, each eyelet"] == "1 in"


def test_clearances_nothing_rests_on() -> None:
    """A pole's clearances are told where they count or were given, not where only assumed."""
    assert not {"Kept off the wall", "Off the floor"} & set(of_window())
    found = of_window(tables='[pole]\nwall_clearance = "5/8"\noff_floor = "3/4"')
    assert (found["Kept off the wall"], found["Off the floor"]) == ("5/8 in", "3/4 in")
    found = of_window(tables='[pole]\nprojection = 4\nwall_clearance = "1/2"')
    assert found["Kept off the wall"] == "1/2 in"
    found = of_window("width = 60", tables="[pole]\ntop = 90\noff_floor = -2")
    assert found["Off the floor"] == "none: 2 in on the floor"


def test_of_the_paper() -> None:
    """Units and every setting of the paper, in words; those assumed are left out."""
    tables = (
        '[paper]\nsize = "a4"\nmargin = "1/4"\njoins = "even"\nview = "back"\nstrips = "one"\n'
        'style = "stepping"\nletters = ["R", "W"]\nprinter = "hall laser"'
    )
    assert job_words.of_job(job_of(tables=tables)) == (
        ("Paper", "A4"),
        ("Orientation", "fewest sheets"),
        ("Paper margin", "1/4 in"),
        ("Joins", "in even steps"),
        ("Template shows", "the back"),
        ("Strip", "one a pair"),
        ("Template", "stepping piece"),
        ("Gap letters", "R front, W back"),
        ("Printer", "hall laser"),
    )
    assert dict(job_words.of_job(job_of(head='units = "in"')))["Units"] == "in"


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("250 gsm", "250 gsm"),
        ("8 oz/yd2", "8 oz/yd²"),
        ("8.5 oz/yd2", "8.5 oz/yd²"),
        ("8.12345 oz/yd2", "≈ 275.43 gsm"),
    ],
)
def test_cloth_weight(said: str, expected: str) -> None:
    """A cloth's weight is told in the unit it was given in, as far as that can be known."""
    found = of_window(tables=f'[fabric]\nweight = "{said}"')
    assert found["Fabric weight"] == expected


@pytest.mark.parametrize(
    ("said", "expected"), [("12 g", "12 g"), ("0.4 oz", "0.4 oz"), ("0.12345 oz", "≈ 3.50 g")]
)
def test_eyelet_weight(said: str, expected: str) -> None:
    """An eyelet's weight likewise."""
    assert of_window(eyelet=f'{RING}\nweight = "{said}"')["Eyelet weight"] == expected


def test_of_a_cloth() -> None:
    """A cloth's name and every figure of it, the lining's apart from the fabric's."""
    found = of_window(
        tables='[fabric]\nname = "gull stripe"\nwidth = 54\nrepeat_down = 12\nshrinkage = 0.025\n'
        "[lining]\nwidth = 118\nrailroad = true\nseam = 0.75"
    )
    assert found["Fabric"] == "gull stripe"
    assert (found["Fabric width"], found["Lining width"]) == ("54 in", "118 in")
    assert found["Fabric vertical repeat"] == "12 in"
    assert found["Fabric shrinkage"] == "2.5 %"
    assert (found["Fabric railroaded"], found["Lining railroaded"]) == ("no", "yes")
    assert found["Lining seam allowance"] == "3/4 in"
    assert "Fabric seam allowance" not in found


def test_of_a_window() -> None:
    """How many, how wide by which route, which count: as the job asks for it."""
    asked = 'quantity = 3\npanels = "left"\nfullness = "2 1/3"\ngap = 3\nreturn = 4'
    found = of_window(f"{WINDOW}\n{asked}")
    given = (found["Windows alike"], found["Panels"], found["Eyelets a panel"])
    assert given == ("3", "left", "chosen here")
    assert (found["Finished width"], found["Finished length"]) == ("60 in", "84 in")
    assert (found["Fullness"], found["Gap aimed at"], found["Return"]) == (
        "2 1/3 times",
        "3 in",
        "4 in",
    )
    assert of_window(f"{WINDOW}\ncount = 8")["Eyelets a panel"] == "8"
    assert of_window("widths = 1.5", tables="[fabric]\nwidth = 54")["Widths a panel"] == "1.5"
