"""Faults of a job file with file, line and key, all in one go and in the file's order."""

from __future__ import annotations

import pytest

from drapetemplate.errors import DrapeError, Fault, FileError, JobError, PaperError
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import located, path_of, place_of, read_file
from drapetemplate.job.tables import TABLES, keys_of
from drapetemplate.planning.plan import plan

HEAD = '[job]\nname = "Heron Point"\n'
EYELET = '[eyelet]\noutside = "2 5/8"\nopening = "1 9/16"\n'
WINDOW = "[[window]]\nwidth = 88\n"
REPEATED = "gives a key that is already given: each once, or a [[window]] of its own"
QUOTES = 'goes on after its value (put the whole of it in quotes, as in "75 1/2")'


def _told(text: str) -> list[str]:
    """Every fault of a file as a user sees it: of its text, its keys, or its plan."""
    data = text.encode()
    try:
        plan(read_job(data, "job.toml"))
    except DrapeError as error:
        return [str(fault) for fault in located(error, data, "job.toml")]
    return []


def _lines(text: str) -> list[str]:
    """The lines and keys alone."""
    return [told.split(": ")[0].removeprefix("job.toml, line ") for told in _told(text)]


@pytest.mark.parametrize(
    ("fault", "line"),
    [
        (Fault("window[1].gap", "text"), "window[1].gap: text"),
        (Fault("job.toml", "text"), "job.toml: text"),
        (Fault("job.toml", "text", 3), "job.toml, line 3: text"),
        (Fault("window[1].gap", "text", None, "job.toml"), "job.toml: window[1].gap: text"),
        (Fault("window[1].gap", "text", 3, "job.toml"), "job.toml, line 3: window[1].gap: text"),
    ],
)
def test_one_form(fault: Fault, line: str) -> None:
    """A fault reads file, line, key and text, as far as each is known."""
    assert line == str(fault)


def test_lines_are_for_people() -> None:
    """Two faults at one key with one text are the same, whatever their lines."""
    assert Fault("gap", "text") == Fault("gap", "text", 3, "job.toml")


def test_all_in_one_go() -> None:
    """What isn't TOML, isn't known, can't be read and can't go together: all told, by line."""
    text = (
        HEAD
        + "[paper]\nmargin = -1\n"
        + EYELET.replace('"1 9/16"', "3")
        + "[[window]]\nwidth = 88 1/2\ngap = 3 in\n\n# a note\nlenght = 84\n"
        + "[[window]]\ncovers = 40\n[window.pole]\nprojection = '1/4'\n"
    )
    expected = [
        "job.toml, line 4: paper.margin: -1 is negative: write a length of 0 or more",
        "job.toml, line 7: eyelet.opening: 3 in must be less than eyelet.outside, 2 5/8 in",
        f"job.toml, line 9: width = 88 1/2: {QUOTES}",
        f"job.toml, line 10: gap = 3 in: {QUOTES}",
        "job.toml, line 13: window[1].lenght: unknown key: did you mean length?",
        (
            "job.toml, line 15: window[2].covers: 40 in settles the width only with fullness: "
            "add fullness, such as fullness = 2"
        ),
        (
            "job.toml, line 17: window[2].pole.projection: 1/4 in from wall to pole centre must be "
            "more than pole.wall_clearance, 1/2 in"
        ),
    ]
    assert expected == _told(text)


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        # A missing key has its table's line, and the file alone where that isn't there.
        (HEAD + "[eyelet]\noutside = 2\n" + WINDOW, ["3"]),
        (HEAD + WINDOW, ["job.toml", "job.toml"]),
        (HEAD + EYELET + "[[window]]\n\n[[window]]\nwidth = 88\n[[window]]\n", ["6", "10"]),
        ("[job]\n" + EYELET + WINDOW, ["1"]),
        (EYELET + WINDOW, ["job.toml"]),
        # However the key is spelled, and wherever it stands.
        (HEAD + EYELET + "pack = 0\n" + WINDOW, ["6"]),
        (f"eyelet.pack = 0\n{HEAD}{WINDOW}eyelet = {{outside = 2, opening = 1}}\n", ["1"]),
        (f"eyelet = {{outside = 2, 'opening' = 1, \"pack\" = 0}}\n{HEAD}{WINDOW}", ["1"]),
        (HEAD + EYELET + WINDOW + 'name = """\n\n"""\n\n["paper"]\n"margin" = -1\n', ["8", "13"]),
        (HEAD + EYELET + WINDOW + '"a\\u001b.b" = 1\n', ["8"]),
    ],
)
def test_lines_of_keys(text: str, lines: list[str]) -> None:
    """Each fault names the line of its key, or of what it is missing from."""
    assert lines == _lines(text)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (WINDOW + "count = 60\n", ["job.toml, line 8: window[1].count"]),
        ("[pole]\ntop = 3\n" + WINDOW * 2, ["job.toml, line 7: pole.top"]),
        (
            "[pole]\ntop = 3\n" + WINDOW + "[window.pole]\ntop = 2\n" + WINDOW,
            ["job.toml, line 7: pole.top", "job.toml, line 11: window[1].pole.top"],
        ),
        (
            WINDOW + "length = 3\n[[window]]\ncovers = 40\nfullness = 9\n",
            ["job.toml, line 8: window[1].length", "job.toml, line 11: window[2].fullness"],
        ),
    ],
)
def test_planning_faults(more: str, told: list[str]) -> None:
    """What only planning finds has its line too; what windows share is told once, as shared."""
    assert told == [": ".join(line.split(": ")[:2]) for line in _told(HEAD + EYELET + more)]


@pytest.mark.parametrize(
    ("error", "wheres"),
    [
        (PaperError([Fault("paper.margin", "")]), ["job.toml, line 2: paper.margin: "]),
        (PaperError([Fault("paper.overlap", "")]), ["job.toml, line 1: paper.overlap: "]),
        (FileError([Fault("paper.printer", "")]), ["job.toml, line 1: paper.printer: "]),
        (FileError([Fault("paper", "")]), ["paper: "]),  # a file of that name
        (FileError([Fault("--printer", "")]), ["--printer: "]),
        (JobError([Fault("job.toml", "")]), ["job.toml: "]),
        (JobError([Fault("window[2]", "", 7, "other.toml")]), ["other.toml, line 7: window[2]: "]),
        (JobError([Fault("pole.top", "")]), ["job.toml: pole.top: "]),
    ],
)
def test_located(error: DrapeError, wheres: list[str]) -> None:
    """Keys of the job file get their lines; files, options and what has a line stay as they are."""
    data = b"[paper]\nmargin = 3\n"
    assert wheres == [str(fault) for fault in located(error, data, "job.toml")]


def test_a_file_named_like_a_key() -> None:
    """A job file whose name reads as a key is a file still."""
    with pytest.raises(JobError) as caught:
        read_file(b"\xff", "window")
    assert located(caught.value, b"\xff", "window") == caught.value.faults


@pytest.mark.parametrize("table", TABLES)
def test_place_of(table: str) -> None:
    """A place's path leads back to it, for every key of every table."""
    for key in keys_of(table):
        for outer in ((), ("window", 11)):
            place = (*outer, *([table] if table else []), key)
            known = not (outer and table in {"", "job", "paper", "window"}) and table != "window"
            if known:
                assert place == place_of(path_of(place))


@pytest.mark.parametrize("path", ["", "job.nme", "window[0]", "window[x]", "a.b", "paper.pdf", "."])
def test_no_place(path: str) -> None:
    """What names no key of a job file is no place."""
    assert place_of(path) is None


@pytest.mark.parametrize(
    ("text", "told"),
    [
        # A line that can't be passed over ends the list: what follows would mean something else.
        ("gap = 3 in\n[eyelet]\nhole = 1,5\n", ["8: gap = 3 in", "9: [eyelet]"]),
        ("letters = ['F'\ngap = 3 in\n", ["9: gap = 3 in"]),
        ("letters = ['F' 'B',\n'C']\n", ["8: letters = ['F' 'B',"]),
        (
            "[[window]]\nwidht = 4 in\n",
            ["9: widht = 4 in", "9: window[2].widht"],
        ),
        ("gap 3\nlength = 3 in\n", ["8: gap 3"]),
        # A value in quotes that goes on over lines is not a line of its own.
        ('name = """\ngap = \\x\n"""\nlength = 3 in\n', ["9: gap = \\x", "11: length = 3 in"]),
        # The first of two counts.
        ("gap = -1\ngap = 4\n", ["8: window[1].gap", "9: gap = 4"]),
        ("job = 3 in\n", ["8: job = 3 in", "8: window[1].job"]),
    ],
)
def test_lines_that_are_not_toml(text: str, told: list[str]) -> None:
    """Every line that isn't TOML is told, as far as the rest can be made out."""
    found = [line.removeprefix("job.toml, line ") for line in _told(HEAD + EYELET + WINDOW + text)]
    assert told == [": ".join(line.split(": ")[:2]) for line in found]


def test_lost_value_brings_no_further_fault() -> None:
    """A key whose line isn't TOML is neither missing nor too small nor at odds with another."""
    text = HEAD.replace('"', "") + EYELET.replace('"', "") + WINDOW.replace("88", "88 1/2")
    assert _lines(text + "leading = 1\npanels = 'single' # or\n")[:4] == ["2", "4", "5", "7"]
    assert _lines(text) == ["2", "4", "5", "7"]


def test_lost_value_is_left_out() -> None:
    """The value of a line that isn't TOML is not there, even where empty text would do."""
    text = HEAD + "client = Heron\n" + EYELET + WINDOW
    reading = read_file(text.encode(), "job.toml")
    assert reading.file is not None
    assert reading.file.job.client is None
    assert reading.unreadable == {("job", "client")}


def test_twenty_lines() -> None:
    """Twenty lines that aren't TOML are told at most: each costs a look at the whole text."""
    keys = [f"note{n} = 1 1/2\n" for n in range(30)]
    assert [str(n) for n in range(1, 21)] == _lines("".join(keys))


def test_lines_below_one_that_is_not_toml() -> None:
    """A trailing comma takes no line from what is told below it, be it a table or its keys."""
    text = (
        '[job]\nname = "Heron Point"\nnumber = 7,\n[eyelet]\noutside = 1\nopening = 2\n'
        "[[window]]\nwidth = 88,\n[[window]]\nwidth = 60\n[[window]]\nwidth = 60\nwidths = 2\n"
    )
    told = [": ".join(line.split(": ")[:2]) for line in _told(text)]
    assert told[0].endswith("line 3: number = 7,")
    assert "job.toml, line 8: width = 88," in told
    assert "job.toml, line 6: eyelet.opening" in told
    assert told[-1].split(": ")[0] in {"job.toml, line 12", "job.toml, line 13"}
    assert "window[3]" in told[-1]
