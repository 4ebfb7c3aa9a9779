"""calibrate, and what make and plan do with a printer, as a user types them."""

from __future__ import annotations

import shlex
from fractions import Fraction
from pathlib import Path

import pdfplumber
import pytest
from typer.testing import Result

from drapetemplate.job.factors import Factors
from drapetemplate.printers import check_sheet, store
from tests.helpers.commands import run, typed
from tests.helpers.jobfiles import job_toml

LASER = Factors("workroom laser", Fraction(375, 374), Fraction(750, 751))
LASER_SAID = "workroom laser: ×1.0027 across, ×0.9987 down"
NOSUCH = 'no printer is called "nosuch": known here: "workroom laser"; drapetemplate calibrate '


def lines(result: Result) -> list[str]:
    """Standard error's lines, of a command that ended with 2 and was no traceback."""
    assert result.exit_code == 2
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert result.stdout == ""
    return result.stderr.splitlines()


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder, empty; the configuration folder is beside it."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def laser() -> Factors:
    """A printer that is known."""
    store.keep(LASER)
    return LASER


def job(path: Path, paper: str = "", window: str = "width = 40") -> Path:
    """A job file with something under [paper]."""
    path.write_text(job_toml(window, tables=f"[paper]\n{paper}"), encoding="utf-8")
    return path


def words_of(path: Path) -> list[str]:
    """Each page's text, in reading order or not, without its spaces."""
    with pdfplumber.open(path) as pdf:
        return ["".join(char["text"] for char in page.chars).replace(" ", "") for page in pdf.pages]


@pytest.mark.parametrize(
    ("words", "name", "size"),
    [
        ([], "calibrate-letter.pdf", (612, 792)),
        (["--paper", "A4"], "calibrate-a4.pdf", (595.28, 841.89)),
        (["--paper", "11 x 8.5 in"], "calibrate-11-x-8.5-in.pdf", (612, 792)),
        (["--out", "mine.pdf"], "mine.pdf", (612, 792)),
    ],
)
def test_check_sheet(here: Path, words: list[str], name: str, size: tuple[float, float]) -> None:
    """A check sheet is one PDF in the current folder, or where --out says."""
    result = run("calibrate", *words)
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"{name}\n", "")
    assert [path.name for path in here.iterdir()] == [name]
    with pdfplumber.open(here / name) as pdf:
        [page] = pdf.pages
        assert pytest.approx(size, abs=0.01) == (page.width, page.height)


@pytest.mark.parametrize("size", ["letter", "a4", "13 x 19 in", "148 x 210 mm", '8 1/2" x 11"'])
def test_command_on_the_sheet(size: str) -> None:
    """The command that a check sheet prints can be typed as it stands."""
    command = check_sheet.command(check_sheet.read_size(size))
    tool, *words = shlex.split(command)
    assert tool == "drapetemplate"
    result = run(*words)
    assert result.exit_code == 0, result.stderr
    [known] = store.known()
    true = Fraction(100 if "mm" in size else 150)
    assert known == Factors(
        "workroom laser", true / (true - Fraction(2, 5)), true / (true + Fraction(1, 5))
    )


def test_save_list_forget() -> None:
    """Readings are kept under a name, listed as factors and per cent, and forgotten again."""
    saved = run("calibrate", "--across", "149.6 mm", "--down", "150.2", "--save", "workroom laser")
    assert (saved.exit_code, saved.stderr) == (0, "")
    assert saved.stdout.splitlines() == [
        f"kept: {LASER_SAID}",
        'corrected for by: drapetemplate make JOB --printer "workroom laser"',
    ]
    assert store.known() == (LASER,)
    listed = run("calibrate", "--list")
    assert (listed.exit_code, listed.stdout) == (
        0,
        "workroom laser  ×1.0027 (+0.27 %) across, ×0.9987 (\N{MINUS SIGN}0.13 %) down\n",
    )
    forgotten = run("calibrate", "--forget", "Workroom Laser")
    assert (forgotten.exit_code, forgotten.stdout) == (0, f"forgotten: {LASER_SAID}\n")
    assert run("calibrate", "--list").stdout == (
        "none yet: drapetemplate calibrate writes a check sheet to measure\n"
    )


def test_a_setting_is_kept_for_who_is_sure() -> None:
    """Readings that a setting gives are one line and keep nothing; with --sure they are kept."""
    words = ["calibrate", "--across", "145.9", "--down", "146", "--save", "den"]
    [line] = lines(run(*words))
    assert line == (
        "--across, --down: 97.3 and 97.3 for 100 look like a letter file fit to A4 paper (about "
        "97.3), not like the printer: print at actual size (100 %, no fit, no shrink) and measure "
        "again; --sure keeps it all the same"
    )
    assert store.known() == ()
    kept = run(*words, "--sure")
    assert (kept.exit_code, kept.stderr) == (0, "")
    assert store.known() == (Factors("den", Fraction(1500, 1459), Fraction(75, 73)),)


READ = ["--across", "149.6", "--down", "150.2"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--across", "150"], ["--down: missing: --across goes with both", "--save: missing"]),
        (READ, ["--save: missing: --across goes with both readings and --save NAME"]),
        (["--save", "x"], ["--across: missing: --save goes", "--down: missing: --save goes"]),
        (["--down", "150", "--save", "x"], ["--across: missing: --down goes with both"]),
        ([*READ, "--save", " "], ["--save: is blank: write a name"]),
        ([*READ, "--save", "x" * 25], ["--save: 25 characters: write 24 or fewer"]),
        ([*READ, "--save", "x", "--paper", "leter"], ["--paper: "]),
        ([*READ, "--save", "x", "--out", "a.pdf"], ["--out: doesn't go with --across: one thing"]),
        (["--list", "--forget", "x"], ["--forget: doesn't go with --list: one thing at a time"]),
        (["--sure"], ["--sure: goes with --across, --down and --save NAME"]),
        (["--list", "--sure"], ["--sure: doesn't go with --list: one thing at a time"]),
        (["--list", "--paper", "a4"], ["--paper: doesn't go with --list"]),
        (["--forget", "x", "--save", "y"], ["--forget: doesn't go with --save"]),
        (["--forget", "nosuch"], [f"--forget: {NOSUCH}makes one known"]),
        (["--paper", "24 in roll"], ["--paper: a check sheet is one sheet"]),
        (["--paper", "8.5 x 11"], ["--paper: too small for a check sheet"]),
        (["--out", "no/folder.pdf"], ["no/folder.pdf: can't be written: no such file"]),
        (
            ["--across", "135", "--down", "5 7/8", "--save", "x"],
            ['--across: "135" for 150 mm is 90.0 for 100: more than 3 %', '--down: "5 7/8" is now'],
        ),
        (
            ["--across", "150", "--down", "144.9", "--save", "x"],
            ['--down: "144.9" for 150 mm is 96.6 for 100: more than 3 %'],
        ),
    ],
)
@pytest.mark.usefixtures("laser")
def test_faults_are_lines(here: Path, words: list[str], said: list[str]) -> None:
    """What can't be done is one line a fault that begins with its option, and changes nothing."""
    found = lines(run("calibrate", *words))
    assert [line.startswith(start) for line, start in zip(found, said, strict=True)] == [
        True for _ in said
    ]
    assert store.known() == (LASER,)
    assert list(here.iterdir()) == []


def test_damaged_list(here: Path) -> None:
    """A damaged list is said by every command that needs it; saving keeps it aside and says so."""
    kept = store.store()
    kept.parent.mkdir(parents=True)
    kept.write_bytes(b"{")
    job(here / "a.toml")
    for words in (
        ["calibrate", "--list"],
        ["calibrate", "--forget", "x"],
        ["make", "a.toml", "--printer", "x"],
        ["plan", "a.toml", "--printer", "x"],
    ):
        [line] = lines(run(*words))
        assert line.startswith(f"{kept}: damaged, it isn't JSON: mend it, or calibrate and --save")
    result = run("calibrate", *READ, "--save", "workroom laser")
    assert result.exit_code == 0
    aside = kept.with_name("printers.damaged-1.json")
    assert (
        result.stderr == f"{kept}: damaged, it isn't JSON: kept as {aside}, and a new one begun\n"
    )
    assert aside.read_bytes() == b"{"
    assert store.known() == (LASER,)


@pytest.mark.usefixtures("laser")
@pytest.mark.parametrize("words", [["make"], ["plan"]])
def test_unknown_printer(here: Path, words: list[str]) -> None:
    """A printer that isn't known is a fault when sheets are laid out, under key or option."""
    named = job(here / "named.toml", 'printer = "nosuch"')
    assert lines(run(*words, named)) == [
        f"{named}, line 10: paper.printer: {NOSUCH}makes one known"
    ]
    plain = job(here / "plain.toml")
    assert lines(run(*words, plain, "--printer", "nosuch")) == [
        f"--printer: {NOSUCH}makes one known"
    ]
    assert list(here.glob("*.pdf")) == []


@pytest.mark.usefixtures("laser")
def test_no_room_for_a_printer(here: Path) -> None:
    """Paper with just room for a sheet has none for a printer that is off: no file is written."""
    path = job(here / "a.toml", 'size = "126.3 x 200 mm"\nmargin = "6.35 mm"')
    assert run("plan", path).exit_code == 0
    for words in (["make"], ["plan", "--csv", here / "a.csv"]):
        [line] = lines(run(*words, path, "--printer", "workroom laser"))
        assert line.startswith(f"{path}, line 11: paper.margin: leaves no room on this paper for ")
    assert list(here.iterdir()) == [path]


@pytest.mark.usefixtures("laser")
def test_unknown_printer_among_jobs(here: Path) -> None:
    """Of several jobs, the one whose printer isn't known is named; the others are made."""
    bad, good = job(here / "bad.toml", 'printer = "nosuch"'), job(here / "good.toml")
    result = run("make", bad, good)
    assert result.exit_code == 2
    assert result.stderr == f"{bad}, line 10: paper.printer: {NOSUCH}makes one known\n"
    assert [path.name for path in here.glob("*.pdf")] == ["good.pdf"]


def test_no_printer_needs_no_list(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A job for no printer is planned and made without any configuration folder, or home."""
    monkeypatch.delenv("XDG_CONFIG_HOME")
    monkeypatch.setenv("HOME", str(here / "nobody"))
    path = job(here / "a.toml")
    assert run("plan", path).exit_code == 0
    assert run("make", path).exit_code == 0
    [line] = lines(run("make", path, "--printer", "x"))
    assert line.endswith("no home folder to keep printers in: set HOME to one that is there")


@pytest.mark.parametrize("command", ["compare", "picture"])
def test_pictures_need_no_printer(here: Path, command: str) -> None:
    """What prints no template doesn't ask for the printer that a job names."""
    path = job(here / "a.toml", 'printer = "nosuch"')
    out = ["--out", "a.svg"] if command == "picture" else []
    assert run(command, path, *out).exit_code == 0


@pytest.mark.parametrize(("key", "option"), [("workroom laser", ""), ("nosuch", "Workroom  laser")])
@pytest.mark.usefixtures("laser")
def test_said_on_every_sheet(here: Path, key: str, option: str) -> None:
    """Every sheet and the ticket name the printer and its factors; --printer goes over the job."""
    path = job(here / "a.toml", f'printer = "{key}"')
    result = run("make", path, *(["--printer", option] if option else []))
    assert (result.exit_code, result.stderr) == (0, "")
    pages = words_of(here / "a.pdf")
    said = LASER_SAID.replace(" ", "")
    sheets = [page for page in pages if "join" in page and "Sheet" in page]
    assert len(sheets) > 3
    assert all(f"printer{said}" in page for page in sheets)
    ticket = [page for page in pages if "ticket,page" in page]
    assert any(f"correctedforprinter{said}" in page for page in ticket)


@pytest.mark.usefixtures("laser")
def test_what_to_type_keeps_the_printer(here: Path) -> None:
    """The command that makes a stopped job all the same corrects for the printer asked for."""
    path = job(here / "a.toml", window="width = 60\ncount = 7")
    result = run("make", path, "--printer", "Workroom  laser")
    assert result.exit_code == 1
    last = result.stderr.splitlines()[-1].removeprefix("to make it all the same: drapetemplate ")
    assert last == f"make {path} --printer 'Workroom  laser' --accept odd-count"


@pytest.mark.usefixtures("laser")
def test_said_beside_a_long_name(here: Path) -> None:
    """A job's name too long for its line is cut, not the printer's, even on upright sheets."""
    path = here / "a.toml"
    text = job_toml("width = 40", tables='[paper]\norientation = "portrait"')
    path.write_text(text.replace("linen store", "linen store " * 40), encoding="utf-8")
    store.keep(Factors("W" * 24, Fraction(1), Fraction(1)))
    assert run("make", path, "--printer", "w" * 24).exit_code == 0
    sheets = [page for page in words_of(here / "a.pdf") if "join" in page and "Sheet" in page]
    assert len(sheets) > 3
    assert all(f"printer{'W' * 24}:×1.0000across,×1.0000down" in page for page in sheets)


def test_plan_counts_what_make_prints(here: Path) -> None:
    """The sheets that plan counts are those that make prints, for a printer too."""
    # 1.03 each way leaves less of every sheet: a strip that just fits two sheets takes three.
    store.keep(Factors("mono", Fraction(103, 100), Fraction(103, 100)))
    paper = 'size = "letter"\norientation = "landscape"\njoins = "even"'
    window = 'panels = "left"\nwidth = 19\ncount = 2\nreturn = 3\n'
    path = job(here / "a.toml", paper, window)
    counts = []
    for words in ([], ["--printer", "mono"]):
        said = run("plan", path, *words).stdout
        [count] = [line.split()[2] for line in said.splitlines() if line.startswith("  template, ")]
        assert run("make", path, *words).exit_code == 0
        pages = words_of(here / "a.pdf")
        counts.append(int(count))
        assert int(count) == sum(f"of{count}" in page and "100mm" in page for page in pages[2:])
    assert counts == [2, 3]


def test_characters_of_a_name(here: Path) -> None:
    """A printer's name in characters that the font lacks is drawn as stand-ins, and noted."""
    store.keep(Factors("窓", Fraction(1), Fraction(1)))
    result = run("make", job(here / "a.toml"), "--printer", "窓")
    assert result.exit_code == 0
    assert "note: missing-glyph: " in result.stderr
    assert "U+7A93" in result.stderr


@pytest.mark.parametrize("env", [{"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}])
def test_poor_terminals(env: dict[str, str], laser: Factors) -> None:
    """What a terminal can't show is escaped, never an error."""
    assert laser
    for words in (["--list"], [*READ, "--save", "Büro"], ["--forget", "窓"]):
        done = typed("calibrate", *words, env=env)
        assert done.returncode == (2 if "窓" in words else 0)
        assert b"Traceback" not in done.stderr
