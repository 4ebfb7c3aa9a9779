"""Many jobs in one go: order, faults, names, workers, and what is said of them."""

from __future__ import annotations

import json
import os
import pty
import signal
import subprocess
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import drapetemplate
from drapetemplate.cli.job_files import find_job_files
from drapetemplate.cli.make import Request, make, make_all, requests_for
from drapetemplate.cli.targets import choose_targets
from drapetemplate.document.model import Document
from drapetemplate.errors import Fault, FileError
from drapetemplate.files import LONGEST_NAME, LONGEST_PART, file_part
from tests.helpers.commands import TOOL, around, run
from tests.helpers.jobfiles import job_toml, written

GOOD = job_toml("width = 40\npanels = 'left'", job='number = "HP-7"')
STOPPED = job_toml(
    "covers = 20\nfullness = 2\npanels = 'left'\ncount = 4",
    tables="[pole]\ndiameter = 0.75\nprojection = 2",
)
FAULTY = GOOD.replace("width = 40", "width = 'wide'\ncuont = 6")
WARNED = job_toml("width = 40\npanels = 'left'", tables="[pole]\ndiameter = 0.95")


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder of four jobs: good, stopped, faulty, warned; and a file that is no job."""
    folder = tmp_path / "jobs"
    folder.mkdir()
    for name, text in (("a", GOOD), ("b", STOPPED), ("c", FAULTY), ("d", WARNED)):
        (folder / f"{name}.toml").write_text(text)
    (folder / "notes.txt").write_text("not a job")
    return folder


@pytest.mark.parametrize("workers", ["1", "2"])
def test_folder(jobs: Path, tmp_path: Path, workers: str) -> None:
    """A folder's jobs are made in the order of their names; a bad one stops no other.

    A line a job, then what went wrong with each, then the sum; the worst is the exit code.
    """
    done = run("make", jobs, "--out", tmp_path, "--workers", workers)
    assert done.exit_code == 2
    *lines, total = done.stdout.splitlines()
    assert [line.rsplit(": ", 1)[0] for line in lines] == [
        str(tmp_path / "a.pdf"),
        str(jobs / "b.toml"),
        str(jobs / "c.toml"),
        str(tmp_path / "d.pdf"),
    ]
    assert total == ("4 jobs: 2 made, 1 stopped by a finding, 1 not made for faults, 2 warnings")
    said = done.stderr.splitlines()
    assert [line.split(".toml")[0][-1] for line in said] == ["b", "b", "c", "c", "d", "b"]
    assert "stop: back-fold-hits-wall: " in said[0]
    assert "did you mean count" in said[2] + said[3]
    assert "warn: tight-turn: " in said[4]
    assert said[5].startswith("to make it all the same: drapetemplate make ")
    assert sorted(path.name for path in tmp_path.glob("*.pdf")) == ["a.pdf", "d.pdf"]


def test_findings_name_their_windows(tmp_path: Path) -> None:
    """Of several windows each finding's line says whose it is, and none is said twice."""
    job = written(
        tmp_path,
        'name = "Porch"\nwidth = 60\ncount = 9',
        'name = "Scullery"\nwidth = 60',
        'name = "Larder"\nwidth = 70\nreturn = "3 1/2"',
        tables='[pole]\nprojection = 4\ndiameter = "3/4"',
    )
    # A pole of 3/4 in an opening of 1 in: acos(sqrt(3/4)) = 30 degrees, at every window.
    said = run("make", job, "--out", tmp_path / "a.pdf").stderr.splitlines()
    assert [line.removeprefix(f"{job}: ")[:36] for line in said] == [
        "stop: odd-count: Porch: 9 eyelets wo",
        "warn: tight-turn: every window: the ",
        "to make it all the same: drapetempla",
    ]
    wide = 'name = "Larder"\nwidth = 70\n[window.pole]\ndiameter = "1/2"'
    job = written(
        tmp_path,
        'name = "Porch"\nwidth = 60',
        'name = "Scullery"\nwidth = 60',
        wide,
        tables='[pole]\nprojection = 4\ndiameter = "3/4"',
    )
    said = run("make", job, "--out", tmp_path / "a.pdf").stderr.splitlines()
    assert [line.removeprefix(f"{job}: ")[:41] for line in said] == [
        "warn: tight-turn: Porch + Scullery: the p",
    ]


@pytest.mark.long
def test_workers_write_the_same(jobs: Path, tmp_path: Path) -> None:
    """Two processes write the very bytes that one does."""
    for workers in ("1", "2"):
        (tmp_path / workers).mkdir()
        run("make", jobs, "--out", tmp_path / workers, "--workers", workers)
    for name in ("a.pdf", "d.pdf"):
        assert (tmp_path / "1" / name).read_bytes() == (tmp_path / "2" / name).read_bytes()


@pytest.mark.long
def test_outcomes_keep_their_order(tmp_path: Path) -> None:
    """However long each takes, outcomes come in the order asked for."""
    requests = []
    for n, width in enumerate((900, 20, 300, 21, 22, 23)):
        job = tmp_path / f"j{n}.toml"
        job.write_text(GOOD.replace("width = 40", f"width = {width}"))
        requests.append(Request(job, tmp_path / f"j{n}.pdf"))
    outcomes = list(make_all(requests, 2))
    assert [outcome.job_file for outcome in outcomes] == [request.job_file for request in requests]
    assert [outcome.pdfs[0][0] for outcome in outcomes] == [request.target for request in requests]


def test_folder_without_jobs(tmp_path: Path) -> None:
    """A folder with none is one line and exit 2."""
    done = run("make", tmp_path)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == f"{tmp_path}: no job files in this folder: they end in .toml\n"


def test_named_by_number_and_name(jobs: Path, tmp_path: Path) -> None:
    """{number}, {name} and {file} stand for the job's own; folders are made; .pdf is added."""
    done = run("make", jobs / "a.toml", "--out", tmp_path / "{number}" / "{name}, {file}")
    assert done.exit_code == 0, done.stderr
    assert (tmp_path / "HP-7" / "Heron Point, linen store, a.pdf").is_file()


def test_no_number(jobs: Path, tmp_path: Path) -> None:
    """A job without a number is unnumbered; one that can't be read goes by its file's name."""
    found = choose_targets([jobs / "d.toml", jobs / "c.toml"], tmp_path / "{number}.pdf")
    assert found == [tmp_path / "unnumbered.pdf", tmp_path / "c.pdf"]


def test_an_ending_is_added_once(tmp_path: Path) -> None:
    """A pattern gets the ending of a PDF where it has none, in capitals or not."""
    job = tmp_path / "linen.toml"
    for pattern, name in (("{file}", "linen.pdf"), ("{file}.PDF", "linen.PDF")):
        assert choose_targets([job], tmp_path / pattern) == [tmp_path / name]


def test_a_job_by_another_way_is_not_replaced(tmp_path: Path) -> None:
    """A target that is a job file of the call is refused however its path is written."""
    (tmp_path / "folder").mkdir()
    job, other = tmp_path / "a.toml", tmp_path / "other.pdf"
    job.write_text(GOOD)
    other.symlink_to(job)
    for target in (tmp_path / "folder" / ".." / "a.toml", other):
        with pytest.raises(FileError, match="would replace a job file: name another with --out"):
            choose_targets([job], target)


def test_unknown_placeholder(jobs: Path) -> None:
    """A placeholder that stands for nothing is told, with those that do."""
    done = run("make", jobs, "--out", "{client}.pdf")
    assert done.exit_code == 2
    assert done.stderr == "--out: {client} stands for nothing: use {number}, {name}, {file}\n"


def test_names_that_meet(jobs: Path, tmp_path: Path) -> None:
    """Two jobs of one name would be one PDF: told before any is made."""
    (jobs / "e.toml").write_text(GOOD)
    done = run("make", jobs / "a.toml", jobs / "e.toml", "--out", tmp_path / "{name}.pdf")
    assert done.exit_code == 2
    assert "is an earlier job's too" in done.stderr
    assert list(tmp_path.rglob("*.pdf")) == []


@given(st.text(max_size=300))
def test_file_part_is_tame(text: str) -> None:
    """Whatever the text, it's one plain part of a file's name: no folder, nothing hidden."""
    part = file_part(text)
    assert part
    assert len(part) <= LONGEST_PART + 1
    assert len(part.encode()) <= LONGEST_NAME + 1
    assert not set(part) & set('/\\:*?"<>|{}\0\n\r\t\x1b')
    assert part.isprintable()
    assert part == part.strip(" .")
    assert Path("/x", part).resolve().parent == Path("/x")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("../../etc/passwd", "_.._etc_passwd"),
        ("..", "_"),
        ("", "_"),
        (".hidden", "hidden"),
        ("CON", "_CON"),
        ("nul.txt", "_nul.txt"),
        ("con .pdf", "_con .pdf"),
        ("COM1 .x", "_COM1 .x"),
        ("a/b", "a_b"),
        ("Cafe\u0301 Zoe\u0308", "Café Zoë"),
        ("खिड़की", "खिड़की"),
    ],
)
def test_file_part_by_hand(text: str, expected: str) -> None:
    """Names that climb, hide or stand for a device don't; accents stay, composed."""
    assert file_part(text) == unicodedata.normalize("NFC", expected)


@pytest.mark.parametrize(
    "pattern", ["{name}", "{name} {name} {number}, {file}", f"{'x' * 150}{{name}}"]
)
def test_long_names_fit(pattern: str, tmp_path: Path) -> None:
    """Names of sixty letters of four bytes, several of them in a file's name, are cut to fit."""
    job = tmp_path / f"{'ж' * 100}.toml"
    job.write_text(GOOD.replace("Heron Point, linen store", "𠀋" * 60), encoding="utf-8")
    done = run("make", job, "--out", tmp_path / "out" / pattern)
    assert done.exit_code == 0, done.stderr
    [made] = (tmp_path / "out").iterdir()
    assert 100 < len(os.fsencode(made.name)) <= LONGEST_NAME
    assert "𠀋" in made.name


def test_a_name_stays_in_its_folder(tmp_path: Path) -> None:
    """A job whose name climbs is made inside the folder asked for all the same."""
    job = tmp_path / "j.toml"
    job.write_text(GOOD.replace("Heron Point, linen store", "../../../{number}/x"))
    done = run("make", job, "--out", tmp_path / "out" / "{name}.pdf")
    assert done.exit_code == 0, done.stderr
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["_.._..__number__x.pdf"]


def test_roll_beside_another(tmp_path: Path) -> None:
    """A roll whose ticket would replace another job's PDF isn't made, and says so."""
    roll = tmp_path / "a.toml"
    roll.write_text(job_toml("width = 40", tables='[paper]\nsize = "24 in roll"'))
    other = tmp_path / "a-ticket.toml"
    other.write_text(GOOD)
    done = run("make", roll, other, "--out", tmp_path)
    assert done.exit_code == 2
    assert "would replace another file of this call" in done.stderr
    assert sorted(path.name for path in tmp_path.glob("*.pdf")) == ["a-ticket.pdf"]


def test_open_is_for_one(jobs: Path) -> None:
    """--open with several jobs is refused."""
    done = run("make", jobs, "--open")
    assert (done.exit_code, done.stderr) == (2, "--open: opens one job's PDF: name one job\n")


@pytest.mark.parametrize("code", [0, 1])
def test_open(jobs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    """--open hands the PDF to the system once made; where nothing opens it, that is said."""
    opened = []

    def launch(path: str) -> int:
        assert Path(path).is_file()
        opened.append(path)
        return code

    monkeypatch.setattr("typer.launch", launch)
    done = run("make", jobs / "a.toml", "--out", tmp_path, "--open")
    assert done.exit_code == 0
    assert opened == [str(tmp_path / "a.pdf")]
    said = f"{tmp_path / 'a.pdf'}: no program here to open it with\n"
    assert done.stderr == (said if code else "")


def test_jobs_of_mixes(jobs: Path) -> None:
    """Files and folders may be mixed; each stands where it was asked for."""
    assert find_job_files([jobs / "d.toml", jobs]) == [
        jobs / "d.toml",
        *(jobs / f"{name}.toml" for name in "abcd"),
    ]


def test_a_job_twice(jobs: Path) -> None:
    """A job asked for by itself and by its folder is told, not made twice."""
    with pytest.raises(FileError, match=r"earlier job's too"):
        choose_targets(find_job_files([jobs / "d.toml", jobs]), None)


def test_what_layout_finds_is_said_after_the_plan(tmp_path: Path) -> None:
    """A character that the font lacks is known once pages are laid out: a note, after a warning."""
    job = written(
        tmp_path,
        'name = "Porch \N{CJK UNIFIED IDEOGRAPH-4E2D}"\nwidth = 60',
        tables='[pole]\nprojection = 4\ndiameter = "3/4"',
    )
    done = run("make", job, "--out", tmp_path / "a.pdf")
    said = [line.removeprefix(f"{job}: ") for line in done.stderr.splitlines()]
    assert done.exit_code == 0
    assert [line.split(": ")[:2] for line in said] == [
        ["warn", "tight-turn"],
        ["note", "missing-glyph"],
    ]


def test_make_says_all(tmp_path: Path) -> None:
    """A missing job file is an outcome like another: never an exception."""
    outcome = make(Request(tmp_path / "none.toml", tmp_path / "x.pdf"))
    assert outcome.exit_code == 2
    assert outcome.problem_lines() == [
        f"{tmp_path / 'none.toml'}: can't be read: no such file or directory"
    ]


def test_progress_on_a_terminal(jobs: Path, tmp_path: Path) -> None:
    """On a terminal a bar is drawn while jobs are made, and every job's line is whole."""
    command = [*TOOL, "make", str(jobs), "--out", str(tmp_path)]
    held, terminal = pty.openpty()
    process = subprocess.Popen(
        command,
        stdin=terminal,
        stdout=terminal,
        stderr=terminal,
        env=around({"TERM": "xterm"}),
    )
    os.close(terminal)
    said = b""
    while True:
        try:
            piece = os.read(held, 65536)
        except OSError:  # the terminal's other end is closed
            break
        if not piece:
            break
        said += piece
    os.close(held)
    assert process.wait(60) == 2
    assert b"Making" in said
    assert f"{tmp_path / 'a.pdf'}: ".encode() in said
    assert b"4 jobs: 2 made" in said


@pytest.mark.long
@pytest.mark.parametrize("told", [signal.SIGINT, signal.SIGTERM])
def test_interrupted(tmp_path: Path, told: signal.Signals) -> None:
    """Ctrl-C or a system that shuts down ends several processes' work: no traceback, no half file.

    And no process is left.
    """
    for n in range(40):
        (tmp_path / f"j{n:02}.toml").write_text(GOOD.replace("width = 40", "width = 400"))
    out = tmp_path / "out"
    out.mkdir()
    process = subprocess.Popen(
        [*TOOL, "make", tmp_path, "--out", out, "--workers", "2"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    assert process.stdout is not None
    process.stdout.readline()  # the first job is made
    os.killpg(process.pid, told)
    _, said = process.communicate(timeout=60)  # whose end all have to hold closed
    assert process.returncode not in {0, 2}
    assert b"Traceback" not in said
    assert all(path.suffix == ".pdf" for path in out.iterdir()), list(out.iterdir())
    assert len(list(out.iterdir())) < 40


THREE = job_toml(*(f"width = {40 + n}\npanels = 'left'\nname = '{w}'" for n, w in enumerate("NES")))


def test_one_window_alone(tmp_path: Path) -> None:
    """--window makes only that window's ticket and template; the whole job is still inside."""
    job = tmp_path / "three.toml"
    job.write_text(THREE)
    done = run("make", job, "--out", tmp_path, "--window", "E")
    assert done.exit_code == 0, done.stderr
    pdf = (tmp_path / "three.pdf").read_bytes()
    assert drapetemplate.recall_job(pdf) == THREE.encode()
    assert drapetemplate.measure_pdf(pdf).true
    alone = drapetemplate.narrowed(drapetemplate.read_job(THREE.encode()), ["E"])
    [document] = drapetemplate.lay_out(alone, drapetemplate.plan_job(alone))
    labels = [page.label for page in document.pages]
    assert any(label.startswith("E, left panel, sheet 1") for label in labels)
    assert not any(label.startswith(("N, ", "S, ")) for label in labels)
    assert drapetemplate.to_pdf(document, THREE.encode()) == pdf


def test_two_windows_of_three(tmp_path: Path) -> None:
    """--window may be repeated; windows keep the job's order; plan takes it too."""
    job = tmp_path / "three.toml"
    job.write_text(THREE)
    done = run("plan", job, "--window", "S", "--window", "N", "--json")
    assert [window["name"] for window in json.loads(done.stdout)["windows"]] == ["N", "S"]


def test_no_such_window(tmp_path: Path) -> None:
    """A window the job hasn't is told, with those it has."""
    job = tmp_path / "three.toml"
    job.write_text(THREE)
    for command in ("make", "plan"):
        done = run(command, job, "--window", "W")
        assert (done.exit_code, done.stdout) == (2, "")
        said = '--window: "W": the job has no window called that: it has "N", "E", "S"\n'
        assert done.stderr == said


@pytest.mark.parametrize("units", ["in", "mm"])
def test_roll_with_a_wide_overlap(tmp_path: Path, units: str) -> None:
    """A roll's overlap may be more than its ticket's paper could have, whose pages don't lap.

    A quarter of what letter prints between margins of 1/2 in is 1.9 in, of A4 about 1.8 in.
    """
    path = tmp_path / "a.toml"
    tables = '[paper]\nsize = "24 in roll"\noverlap = "3 in"'
    text = job_toml('width = "300 in"', head=f'units = "{units}"', tables=tables)
    path.write_text(text, encoding="utf-8")
    done = run("make", path, "--out", tmp_path)
    assert done.exit_code == 0, done.stderr
    assert sorted(pdf.name for pdf in tmp_path.glob("*.pdf")) == ["a-ticket.pdf", "a.pdf"]


def test_roll_whose_second_pdf_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where one of a roll's two PDFs can't be made, the other isn't written either."""
    path = tmp_path / "a.toml"
    path.write_text(job_toml("width = 40", tables='[paper]\nsize = "24 in roll"'), encoding="utf-8")
    to_pdf = drapetemplate.to_pdf

    def failing(document: Document, data: bytes) -> bytes:
        if document.settings.number == 1:
            raise FileError([Fault("the strip", "can't be drawn")])
        return to_pdf(document, data)

    monkeypatch.setattr(drapetemplate, "to_pdf", failing)
    assert run("make", path, "--out", tmp_path).exit_code == 2
    assert list(tmp_path.glob("*.pdf")) == []


def test_no_template_of_a_roll_without_its_ticket(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a roll's ticket can't be written, nor is its template: nobody cuts by that alone."""
    path = tmp_path / "a.toml"
    path.write_text(job_toml("width = 40", tables='[paper]\nsize = "24 in roll"'), encoding="utf-8")
    tried = []

    def full(target: Path, _: bytes) -> None:
        tried.append(target.name)
        raise FileError([Fault(str(target), "can't be written: no space left on device")])

    monkeypatch.setattr("drapetemplate.files.write", full)
    done = run("make", path, "--out", tmp_path)
    assert (done.exit_code, done.stdout, tried) == (2, "", ["a-ticket.pdf"])


def test_a_ticket_replaces_no_file_of_the_call(tmp_path: Path) -> None:
    """Where a roll's ticket goes is taken by a job file or a PDF there, however they are named."""
    (tmp_path / "inner").mkdir()
    roll, ticket = tmp_path / "a.toml", tmp_path / "inner" / ".." / "a-ticket.pdf"
    target, other = tmp_path / "a.pdf", tmp_path / "other.pdf"
    for jobs, targets in (([roll, ticket], [target, other]), ([roll, roll], [target, ticket])):
        first, _ = requests_for(jobs, targets, frozenset(), None)
        assert first.ticket_taken
    assert not requests_for([roll], [target], frozenset(), None)[0].ticket_taken
