"""A job file's text and keys: every fault in plain words, and nothing hostile gets far."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.job.parse import A_PDF, MOST_BYTES, MOST_FAULTS, path_of, read_file
from tests.helpers.jobfiles import LEAST


def _faults(text: str | bytes) -> list[str]:
    """Return every fault's line, of the text as of the keys."""
    data = text.encode() if isinstance(text, str) else text
    try:
        return [str(fault) for fault in read_file(data, "job.toml").faults]
    except JobError as error:
        return [str(fault) for fault in error.faults]


def _keys(text: str) -> list[str]:
    """Return every fault's key and text, without file and line."""
    return [f"{fault.where}: {fault.text}" for fault in read_file(text.encode(), "job.toml").faults]


def test_least() -> None:
    """The least job file has no fault."""
    assert not _faults(LEAST)


@pytest.mark.parametrize(
    "text", [LEAST.replace("\n", "\r\n"), "\ufeff" + LEAST, LEAST + "# don't mind [ me\n"]
)
def test_harmless(text: str) -> None:
    """Windows line ends, a byte order mark and a comment's quotes do no harm."""
    assert not _faults(text)


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        (
            "gap = 1 1/2",
            'gap = 1 1/2: goes on after its value (put the whole of it in quotes, as in "75 1/2")',
        ),
        (
            "gap = 3 in",
            'gap = 3 in: goes on after its value (put the whole of it in quotes, as in "75 1/2")',
        ),
        ('gap = 75"', "gap = 75\": opens a quote and doesn't close it (for inches write in)"),
        (
            'gap = "6\' 3""',
            'gap = "6\' 3"": opens a quote and doesn\'t close it (for inches write in)',
        ),
        (
            'name = """Heron',
            'name = """Heron: opens a quote and doesn\'t close it (for inches write in)',
        ),
        (
            "panels = pair",
            "panels = pair: has no value that can be read (put words and measures in quotes)",
        ),
        ("gap 3", "gap 3: needs a key, = and a value"),
        ("= 3", "= 3: is neither key = value nor [table]"),
        ("\x1b", "�: is neither key = value nor [table]"),
        (
            "width = 3",
            "width = 3: gives a key that is already given: each once, or a [[window]] of its own",
        ),
        ("[eyelet]", "[eyelet]: opens a table that is already there (only [[window]] may repeat)"),
        ("[pole", "[pole: has a table's name that isn't closed with ]"),
        ("gap = [1", "gap = [1: has a list that isn't closed with ], or lacks a comma"),
        ("pole = {top = 1", "pole = {top = 1: has a { that isn't closed with }, or lacks a comma"),
        (
            'name = "a\\pb"',
            'name = "a\\pb": has a \\ in double quotes (use single quotes, or double it)',
        ),
        ('name = "\x07"', 'name = "�": has a character that can\'t stand there'),
        ("gap = 2027-02-30", "gap = 2027-02-30: has a date that is not in the calendar"),
        ("a.b.c.d.e.f.g.h.i = 1", "a.b.c.d.e.f.g.h.i = 1: has a key of more than 8 parts"),
        (
            "'a' .b.\"c\".d.e.f.g.h.i = 1",
            "'a' .b.\"c\".d.e.f.g.h.i = 1: has a key of more than 8 parts",
        ),
        ("a = [[[[[[[[[1", "a = [[[[[[[[[1: is nested more than 8 brackets deep"),
        (
            "gap = " + "9" * 201,
            f"gap = {'9' * 34}…: has a word or number of more than 200 characters",
        ),
    ],
)
def test_line_faults(line: str, fault: str) -> None:
    """A line that isn't TOML is told with its number and what would be right."""
    assert [f"job.toml, line 9: {fault}"] == _faults(LEAST + line + "\n")


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        (
            b"%PDF-1.7\n\xe2\xe3",
            f"job.toml: {A_PDF}",
        ),
        (b"\xff\xfe1", "job.toml: not UTF-8 text at byte 1: save the file as UTF-8"),
        (b"x" * (MOST_BYTES + 1), "job.toml: 1048577 bytes: a job file has 1048576 at most"),
    ],
)
def test_file_faults(data: bytes, fault: str) -> None:
    """Bytes that can't be a job file are told in one line."""
    assert [fault] == _faults(data)


def test_source_is_printable() -> None:
    """A file's name can't reach the terminal with control characters in it."""
    with pytest.raises(JobError) as caught:
        read_file(b"\xff", "a\x1bb.toml")
    expected = "a�b.toml"
    assert expected == caught.value.faults[0].where


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        (
            "",
            [
                'job.name: missing: add [job] and below it name = "…"',
                "window: missing: add [[window]] and the window's measures below it",
            ],
        ),
        (
            "job = 4\nwindow = []\n",
            [
                "job: 4 is not a table: write [job] in single brackets, its keys below it",
                "window: empty: add [[window]] and the window's measures below it",
            ],
        ),
        (
            '[job]\nname = " "\n[window]\n[[eyelet]]\n',
            [
                'job.name: " " is blank: write a name',
                (
                    "window: a table is not a list of windows: start each with [[window]], in "
                    "double brackets"
                ),
                (
                    "eyelet: [a table] is not a table: "
                    "write [eyelet] in single brackets, its keys below it"
                ),
            ],
        ),
        (
            "window = [1]\n[job]\n",
            [
                (
                    "window[1]: 1 is not a list of windows: "
                    "start each with [[window]], in double brackets"
                ),
                'job.name: missing: add [job] and below it name = "…"',
            ],
        ),
        (
            LEAST + "[[window]]\n" * 1000,
            ["window: 1001 windows: at most 1000"],
        ),
        (
            LEAST + "heigth = 3\nheading = 4\n[window.eyelet]\nopenning = 1\nunits = 'mm'\n",
            [
                "window[1].heigth: unknown key: did you mean length?",
                (
                    "window[1].heading: unknown here: heading belongs in [window.fabric] or "
                    "[window.lining]"
                ),
                "window[1].eyelet.openning: unknown key: did you mean opening?",
                (
                    "window[1].eyelet.units: unknown here: "
                    "units goes at the top of the file, before the first [table]"
                ),
            ],
        ),
        (
            LEAST + "[window.paper]\n[papers]\n[pole]\nlength = 3\nzzz = 1\n",
            [
                "window[1].paper: unknown here: start it as a table of its own, [paper]",
                "papers: unknown key: did you mean paper?",
                (
                    "pole.zzz: unknown key: [pole] knows "
                    "diameter, projection, wall_clearance, top, off_floor, length, supports, span"
                ),
            ],
        ),
        (
            "outside = 3\nzzz = 1\n" + LEAST.removeprefix('units = "in"\n'),
            [
                "outside: unknown here: outside belongs in [eyelet]",
                (
                    "zzz: unknown key: the top of the file knows "
                    "units, job, paper, eyelet, band, pole, fabric, lining, window"
                ),
            ],
        ),
        (
            LEAST + '"a\\u001bb" = 1\n"a.b" = 2\n[window.fabric]\nwidth = inf\n',
            [
                (
                    'window[1]."a�b": unknown key: [[window]] knows name, quantity, panels, width, '
                    "covers, glass, fullness, widths, length, leading, return, count, gap, "
                    "stack_each, extra_seams, pattern, motif_below, eyelet, band, pole, fabric, "
                    "lining"
                ),
                (
                    'window[1]."a.b": unknown key: [[window]] knows name, quantity, panels, width, '
                    "covers, glass, fullness, widths, length, leading, return, count, gap, "
                    "stack_each, extra_seams, pattern, motif_below, eyelet, band, pole, fabric, "
                    "lining"
                ),
                (
                    "window[1].fabric.width: Infinity is not a length: write a number, "
                    'or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"'
                ),
            ],
        ),
        (
            LEAST + "gap = 1e-99999999999999999999\n[[window]]\nreturn = true\n",
            [
                (
                    "window[1].gap: NaN is not a length: write a number, "
                    'or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"'
                ),
                (
                    "window[2].return: true is not a length: write a number, "
                    'or text such as "75 1/2", "6 ft 3 in" or "190.5 cm"'
                ),
            ],
        ),
        (
            LEAST.replace('"in"', '"inch"') + "gap = -1\n",
            [
                'units: "inch" is not known here: did you mean in? write "in", "mm" or "cm"',
                "window[1].gap: -1 is negative: write a length of 0 or more",
            ],
        ),
    ],
)
def test_key_faults(text: str, faults: list[str]) -> None:
    """Every fault of a file is told in one go, in the file's order, with what would be right."""
    assert faults == _keys(text)


def test_units_in_any_case() -> None:
    """Units are known in any case, and bare numbers follow them."""
    reading = read_file(LEAST.replace('"in"', '"MM"').encode(), "job.toml")
    assert reading.file is not None
    expected = ("mm", Fraction(88))
    assert expected == (reading.file.units, reading.file.window[0].width)


def test_what_is_left() -> None:
    """What isn't faulty is still read, and what is has its place."""
    reading = read_file((LEAST + "gap = -1\nretrun = 3\n").encode(), "job.toml")
    assert reading.file is not None
    assert (
        reading.file.window[0].gap,
        ("window", 0, "gap") in reading.unreadable,
        ("window", 0, "return") in reading.unreadable,
    ) == (None, True, True)


@pytest.mark.parametrize(
    ("right", "wrong", "fault"),
    [
        ("[[window]]", "[[windows]]", "windows: unknown key: did you mean window?"),
        ("[job]", "[jobs]", "jobs: unknown key: did you mean job?"),
        ("name", "nme", "job.nme: unknown key: did you mean name?"),
    ],
)
def test_misspelled(right: str, wrong: str, fault: str) -> None:
    """A misspelled key is told once, not again as missing."""
    assert [fault] == _keys(LEAST.replace(right, wrong))


def test_most_faults() -> None:
    """A file of nothing but faults is told as far as anyone reads, and how many more."""
    faults = _faults(LEAST + "".join(f"k{n} = 1\n" for n in range(MOST_FAULTS + 7)))
    expected = (MOST_FAULTS + 1, "job.toml: 7 more faults like these")
    assert expected == (len(faults), faults[-1])


def test_path_of() -> None:
    """A place is written as a user counts, from 1."""
    expected = "window[2].fabric.width"
    assert expected == path_of(("window", 1, "fabric", "width"))


@given(st.binary(max_size=200))
@example(b'a = "\\ud800"')
@example(b"a = 0x" + b"f" * 190)
@example(b"a = 1_0_0e9")
def test_any_bytes(data: bytes) -> None:
    """Any bytes give printable faults, and no other error."""
    assert all(fault.isprintable() and fault for fault in _faults(data))


PIECES = [
    *('"', "'", '"""', "'''", "\\", "#", "\n", "[", "]", "{", "}", ".", ",", "=", " ", "a", "1"),
    *("[job]\n", "[[window]]\n", "name=", "eyelet", "units", "-", "é", "\r", "2027-01-01", "inf"),
]


@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
def test_any_toml(text: str) -> None:
    """Any text put together from TOML's signs gives printable faults, and no other error."""
    assert all(fault.isprintable() and fault for fault in _faults(text))


@given(st.lists(st.sampled_from(PIECES), max_size=30).map("".join))
def test_first_look_agrees(text: str) -> None:
    """The first look over the text sees an open quote only where the TOML reader fails too."""
    if any("opens a quote" in fault for fault in _faults(text)):
        with pytest.raises(tomllib.TOMLDecodeError):
            tomllib.loads(text)


HOSTILE: list[Callable[[int], str]] = [
    lambda n: "[" * n,
    lambda n: "a = " + "[" * n,
    lambda n: "a = " + "{b = " * n,
    lambda n: ".".join("a" * n) + " = 1",
    lambda n: "." * n,
    lambda n: '"' * n,
    lambda n: "'" * n,
    lambda n: '\\"' * n,
    lambda n: 'a = "' + "\\" * n,
    lambda n: 'a = """' + '\\"' * n,
    lambda n: "a = '''" + "''x" * n,
    lambda n: "#" * n + "\n" + "# '\n" * n,
    lambda n: "a" + " " * n,
    lambda n: "a = " + "9" * n,
    lambda n: "a = 0x" + "f" * n,
    lambda n: "".join(f"a.b.c.d.e.f.g{k} = 1\n" for k in range(n // 20)),
    lambda n: "".join(f"[a.b.c.d.e.f{k}]\nx.y.z = 1\n" for k in range(n // 30)),
    lambda n: "[[window]]\n" * (n // 11),
    lambda n: "a = [" + "1, " * n + "]",
    lambda n: "a = [" + "{x = 1}, " * (n // 9) + "]",
    lambda n: "a = {" + ", ".join(f"k{k} = 1" for k in range(n // 10)) + "}",
    lambda n: "a = {" + ", ".join(f"a.b.k{k} = 1" for k in range(n // 14)) + "}",
    lambda n: LEAST + "".join(f"k{k} = 1\n" for k in range(n // 8)),
    lambda n: LEAST + "name = '" + "x" * n + "'",
]


@pytest.mark.parametrize("hostile", HOSTILE)
def test_linear_time(hostile: Callable[[int], str]) -> None:
    """Four times as much hostile text takes about four times as long, never sixteen times."""

    def seconds(data: bytes) -> float:
        best = float("inf")
        for _ in range(3):
            start = time.process_time()
            _faults(data)
            best = min(best, time.process_time() - start)
        return best

    small, large = (hostile(n).encode() for n in (16_000, 64_000))
    # A few milliseconds each way are the clock's and the machine's own.
    assert seconds(large) < 8 * (seconds(small) + 0.004)
