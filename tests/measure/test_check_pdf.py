"""`measure`: what is as made passes, and every edited copy fails with a sentence that says why."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

import drapetemplate
from drapetemplate.errors import DrapeError
from drapetemplate.job.factors import Factors
from drapetemplate.measure import strange_pdf
from drapetemplate.measure.check_pdf import Measured
from tests.helpers.commands import run
from tests.helpers.edits import (
    JOB,
    PDF,
    WINDOW,
    Edit,
    added,
    content,
    dropped,
    edited,
    first_line,
    foreign,
    hint_gone,
    hole_moved,
    last_sheet_of,
    neighbour,
    noted,
    scrawled,
    set_,
    sheet_of,
    stamped,
    swapped,
    through,
    unreadable,
)
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made, with_job


def page_of(number: int) -> int:
    """A sheet's page of PDF as a reader counts: from 1."""
    with pikepdf.open(BytesIO(PDF)) as opened:
        return sheet_of(opened, number) + 1


def measured(pdf: bytes) -> Measured:
    """What measuring says."""
    return drapetemplate.measure_pdf(pdf, "held.pdf")


def said(pdf: bytes) -> str:
    """All that is wrong, a line each."""
    found = measured(pdf)
    assert not found.true
    return "\n".join(map(str, found.flaws))


@pytest.mark.parametrize(
    "toml",
    [
        pytest.param(JOB, id="letter"),
        pytest.param(
            job_toml("width = 1000", head='units = "mm"', eyelet="outside=66\nopening=40"), id="mm"
        ),
        pytest.param(job_toml("width = 40", tables='[paper]\nsize = "24 in roll"'), id="roll"),
        pytest.param(job_toml("width = 90", tables='[paper]\nstyle = "stepping"'), id="stepping"),
        pytest.param(job_toml("width = 40", tables='[paper]\nstrips = "one"'), id="one"),
        pytest.param(job_toml("width = 40", tables='[paper]\nview = "back"'), id="back"),
        pytest.param(job_toml(WINDOW, tables="[band]\nheight = 13"), id="rows"),
        pytest.param(job_toml(WINDOW, eyelet="outside=1\nopening=0.5\nhung='hooks'"), id="hooks"),
    ],
)
def test_true(toml: str) -> None:
    """Every PDF of a job is true to 0.001 mm, all its marks and pages counted."""
    for pdf in made(toml):
        found = measured(pdf)
        assert [str(flaw) for flaw in found.flaws] == []
        assert 0 < found.worst < 0.001
        with pikepdf.open(BytesIO(pdf)) as opened:
            assert found.pages == len(opened.pages)
        assert found.marks > 200


def test_marks_counted() -> None:
    """The count is that of the marks drawn, each letter one."""
    job = drapetemplate.read_job(JOB.encode())
    [document] = drapetemplate.lay_out(job, drapetemplate.plan_job(job))
    marks = [mark for page in document.pages for mark in page.marks]
    expected = sum(len(getattr(mark, "text", "x")) for mark in marks)
    assert measured(PDF).marks == expected


def test_through_another_writer() -> None:
    """Written again by another library, compressed otherwise, it is as true."""
    out = BytesIO()
    with pikepdf.open(BytesIO(PDF)) as pdf:
        pdf.save(out, object_stream_mode=pikepdf.ObjectStreamMode.generate, recompress_flate=True)
    assert measured(out.getvalue()).true


FACTORS = Factors("workroom laser", Fraction(600, 599), Fraction(995, 1000))


def test_printer_honoured() -> None:
    """A PDF corrected for a printer is true; it says its factors itself, on roll and sheets."""
    for toml in (JOB, job_toml("width = 40", tables='[paper]\nsize = "24 in roll"')):
        for pdf in made(toml, printer=FACTORS):
            assert measured(pdf).true


@pytest.mark.parametrize(
    ("x", "y", "outside"),
    [(202.6, 200, False), (203.0, 200, True), (100, 267.8, False), (100, 268.3, True)],
)
def test_what_a_corrected_printer_cuts_off(x: float, y: float, *, outside: bool) -> None:
    """What is drawn ×600/599 and ×199/200 may reach less far across and further up.

    Half an inch printed, 12.7 mm, is at most 12.7 / 0.995 = 12.764 of the job's own. So its window
    ends at 215.9 × 599/600 - 12.764 = 202.776 across, and at 279.4 × 200/199 - 12.764 = 268.040 up.
    """
    across, up = x * 600 / 599 * 72 / 25.4, y * 0.995 * 72 / 25.4
    line = f"\n{across:.4f} {up:.4f} m {across - 9:.4f} {up - 9:.4f} l S".encode()
    [pdf] = made(JOB, printer=FACTORS)
    drawn = edited(lambda pdf: content(pdf, sheet_of(pdf), lambda held: held + line), pdf)
    assert ("outside the printable window" in said(drawn)) is outside


def settings(old: str, new: str) -> Edit:
    """What a PDF says it was made with, changed."""

    def edit(pdf: pikepdf.Pdf) -> None:
        held = str(pdf.docinfo["/MadeWith"])
        assert old in held
        pdf.docinfo["/MadeWith"] = held.replace(old, new)

    return edit


@pytest.mark.parametrize(("old", "new"), [("600/599", "599/600"), ("199/200", "200/200")])
def test_printer_not_as_said(old: str, new: str) -> None:
    """Where the factors said aren't those drawn with, no page is true."""
    [pdf] = made(JOB, printer=FACTORS)
    found = measured(edited(settings(old, new), pdf))
    assert {flaw.page for flaw in found.flaws} >= set(range(1, found.pages + 1))


def test_accepted_stop() -> None:
    """A job made despite a stop is measured as made, its line to sign included."""
    toml = job_toml(
        "covers = 20\nfullness = 2\npanels = 'left'\ncount = 4",
        tables="[pole]\ndiameter = 0.75\nprojection = 2",
    )
    with pytest.raises(drapetemplate.StopError):
        made(toml)
    assert measured(made(toml, accepted=frozenset({"back-fold-hits-wall"}))[0]).true


COVER = b"\n1 g n 100 300 m 200 300 l 200 400 l 100 400 l h f*"
FIRST = page_of(1)
SHEET_1 = rf"page {FIRST} \(Pantry, left panel, sheet 1 of \d\): "
EDITS: dict[str, tuple[Edit, str]] = {
    "scaled": (
        through("1.005 0 0 1.005 0 0"),
        SHEET_1 + r"everything on it is scaled: ×1\.0050 across, ×1\.0050 down \(100 mm would",
    ),
    "stretched": (through("1 0 0 0.995 0 0"), SHEET_1 + r".*×1\.0000 across, ×0\.9950 down"),
    "shifted": (
        through("1 0 0 1 0 0.1"),
        SHEET_1 + r"everything on it is shifted by \+0\.00 mm across and \+0\.04 mm up",
    ),
    "scaled-about-middle": (
        through("1.01 0 0 1.01 -3 -4"),
        SHEET_1 + r".*scaled: ×1\.0100 across.*and shifted by -1\.06 mm across and -1\.41 mm up",
    ),
    "upside-down": (through("-1 0 0 -1 612 792"), SHEET_1 + "everything on it is upside down"),
    "quarter-turn": (through("0 1 -1 0 612 0"), SHEET_1 + r"(.|\n)*in all \d+ marks not where"),
    "circle-moved": (hole_moved(0.1), SHEET_1 + r"outside at .* mm is off by 0\.10 mm"),
    "circle-nudged": (hole_moved(0.02), SHEET_1 + r"outside at .* mm is off by 0\.02 mm"),
    "line-gone": (dropped(first_line(PDF)), SHEET_1 + r"[a-z -]+ at .* mm is missing"),
    "pen-changed": (
        lambda pdf: content(
            pdf, sheet_of(pdf), lambda held: re.sub(rb"\n([\d.]+) w\n", b"\n9 w\n", held)
        ),
        SHEET_1 + r"(.|\n)*is missing, or drawn otherwise(.|\n)*that doesn't belong there",
    ),
    "covered": (
        lambda pdf: content(pdf, sheet_of(pdf), lambda held: held + COVER),
        SHEET_1 + r"an area of ink at 52\.9, 123\.5 mm that doesn't belong there",
    ),
    "in-the-margin": (
        lambda pdf: content(
            pdf,
            sheet_of(pdf),
            lambda held: held + b"\nn 20 300 m 30 300 l S\nn 20 310 m 30 310 l S",
        ),
        SHEET_1 + r"a line at 8\.8, 105\.8 mm and 1 other outside the printable window",
    ),
    "pushed-off": (
        through("1 0 0 1 40 0"),
        SHEET_1 + r".* and \d+ others outside the printable window",
    ),
    "clipped": (
        lambda pdf: content(pdf, sheet_of(pdf), lambda held: b"0 0 300 300 re W n\n" + held),
        SHEET_1 + "is drawn with W, re, which no page of this tool is",
    ),
    "text-hidden": (
        lambda pdf: content(pdf, sheet_of(pdf), lambda held: held.replace(b"BT", b"BT 3 Tr")),
        SHEET_1 + "is drawn with Tr, which",
    ),
    "word-changed": (
        lambda pdf: content(pdf, sheet_of(pdf), lambda held: held.replace(b"Pantry", b"Pastry")),
        SHEET_1 + r"letter “n” at .* mm is missing(.|\n)*a letter “s” at",
    ),
    "stamped": (stamped, SHEET_1 + "is drawn with Do, which no page of this tool is"),
    "half-a-page": (
        unreadable,
        rf"page {FIRST} .*(is drawn with [a-zA-Z]+\*? w|in all \d+ marks|isn’t a page)",
    ),
    "swapped": (
        swapped,
        (
            rf"page {FIRST} \(Pantry, left panel, sheet 2 of \d\): is out of order: "
            rf"it belongs on page {FIRST + 1}\n"
            rf"page {FIRST + 1} \(Pantry, left panel, sheet 1 of \d\): is out of order: "
            rf"it belongs on page {FIRST}$"
        ),
    ),
    "dropped": (
        lambda pdf: pdf.pages.__delitem__(sheet_of(pdf, 2)),
        rf"^Pantry, left panel, sheet 2 of \d is missing: it was page {FIRST + 1}$",
    ),
    "last-dropped": (
        lambda pdf: pdf.pages.__delitem__(-1),
        r"^hanging 1 is missing: it was page \d+$",
    ),
    "last-sheet-dropped": (
        lambda pdf: pdf.pages.__delitem__(last_sheet_of(pdf)),
        r"^Pantry, left panel, sheet (\d) of \1 is missing: it was page \d$",
    ),
    "twice": (
        lambda pdf: pdf.pages.insert(sheet_of(pdf, 2), pdf.pages[sheet_of(pdf)]),
        rf"page {FIRST + 1} \(Pantry, left panel, sheet 1 of \d\): is there twice",
    ),
    "added": (added, r"^page 2 \(.*\): isn’t a page of this job$"),
    "added-last": (lambda pdf: added(pdf, len(pdf.pages)), r"one too many\): isn’t a page of this"),
    "foreign": (foreign, rf"page {FIRST} .*isn’t a page of this job"),
    "neighbour": (neighbour, rf"page {FIRST} (.|\n)*is off by"),
    "box": (
        set_("/MediaBox", [0, 0, 612, 793]),
        r"page 2 \(.*\): has a MediaBox of 215\.90 × 279\.75 mm, not 215\.90 × 279\.40 mm",
    ),
    "box-shifted": (
        set_("/MediaBox", [1, 0, 613, 792]),
        r"MediaBox of 215\.90 × 279\.40 mm from 0\.35, 0\.00(.|\n)*shifted by -0\.35 mm across",
    ),
    "cropped": (set_("/CropBox", [0, 0, 600, 792]), r"page 2 \(.*\): has a CropBox of 211\.67 ×"),
    "rotated": (set_("/Rotate", 90), r"page 2 \(.*\): is turned by 90°"),
    "endless": (
        scrawled(b"10 10 m " + b"9" * 400 + b".0 10 l S"),
        rf"page {FIRST} \(.*\): is drawn with words that can’t be read",
    ),
    "endless-matrix": (
        scrawled(b"q " + (b"9" * 40 + b" 0 0 1 0 0 cm ") * 8 + b"0 0 m 1 1 l S Q"),
        rf"page {FIRST} \(.*\): can’t be read: damaged$",
    ),
    "far": (
        scrawled(b"10 10 m " + b"9" * 40 + b".0 10 l S"),
        rf"page {FIRST} \(.*\): can’t be read: damaged$",
    ),
    "unit": (set_("/UserUnit", 2), r"page 2 \(.*\): has a unit of 2"),
    "noted": (noted, r"page 2 \(.*\): has something laid over it"),
    "hint": (hint_gone, r"^the printing hint PrintScaling isn’t /None any more: viewers may fit"),
}


@pytest.mark.parametrize(("edit", "expected"), EDITS.values(), ids=EDITS)
def test_edited(edit: Edit, expected: str) -> None:
    """Each edit is told by a sentence of its own, and the page it is on."""
    assert re.search(expected, said(edited(edit)), re.MULTILINE), said(edited(edit))


def test_worst_is_named() -> None:
    """The worst error and where it is are those of the moved circle."""
    found = measured(edited(hole_moved(0.1)))
    assert found.worst == pytest.approx(0.1, abs=0.001)
    assert found.where.startswith(f"page {FIRST}, outside at ")


def test_within_tolerance() -> None:
    """A circle off by less than 0.01 mm is still true, and is the worst."""
    found = measured(edited(hole_moved(0.008)))
    assert found.true
    assert found.worst == pytest.approx(0.008, abs=0.0005)


def test_another_job_inside() -> None:
    """The same pages with another job attached are true to nothing."""
    other = JOB.replace("width = 40", "width = 41").encode()

    def edit(pdf: pikepdf.Pdf) -> None:
        spec = pikepdf.AttachedFileSpec(pdf, other, filename="job.toml")
        pdf.attachments["job.toml"] = spec

    assert "is off by" in said(edited(edit))


@pytest.mark.parametrize(
    ("pdf", "expected"),
    [
        (b"", "can't be read as a PDF"),
        (PDF[: len(PDF) // 2], "can't be read|has no job file"),
        (with_job(b"units = 3"), "missing: add"),
        (with_job(JOB.encode()), None),
    ],
    ids=["empty", "half", "no-job", "one-page"],
)
def test_not_to_be_measured(pdf: bytes, expected: str | None) -> None:
    """What is no PDF of a job is one error; an empty page with a job has all of it missing."""
    if expected is None:
        assert "isn’t a page of this job" in said(pdf)
        assert said(pdf).count("is missing") > 3
        return
    with pytest.raises(DrapeError) as error:
        measured(pdf)
    assert re.search(expected, str(error.value.faults[0]))


def test_settings_not_to_be_read() -> None:
    """Settings that this tool would not write are refused in one line."""
    [pdf] = made(JOB, printer=FACTORS)
    for old, new in (("600/599", "600/500"), ('{"printer"', '["printer"'), ("199/200", "-1")):
        broken = edited(settings(old, new), pdf)
        with pytest.raises(DrapeError, match="settings it was made with can't be read"):
            measured(broken)


def test_bomb_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A part that unpacks to more than any page of this tool's is not unpacked."""
    monkeypatch.setattr(strange_pdf, "MOST_CONTENT", 100_000)

    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Extra = pdf.make_indirect(pdf.make_stream(bytes(3_000_000)))

    out = BytesIO()
    with pikepdf.open(BytesIO(PDF)) as opened:
        edit(opened)
        opened.save(out, compress_streams=True)
    assert len(out.getvalue()) < len(PDF) + 50_000
    with pytest.raises(DrapeError, match="unpacks to over 100,000 bytes"):
        measured(out.getvalue())


def test_command(tmp_path: Path) -> None:
    """True is exit 0 and a line; not true is 1, its sentences and a verdict; no PDF is 2."""
    held = tmp_path / "held.pdf"
    held.write_bytes(PDF)
    done = run("measure", held)
    assert done.exit_code == 0
    [line] = done.stdout.splitlines()
    assert re.match(
        re.escape(str(held)) + r": true: \d+ pages, \d+ marks where they should be", line
    )
    held.write_bytes(edited(swapped))
    done = run("measure", held)
    assert done.exit_code == 1
    *faults, verdict = done.stdout.splitlines()
    assert len(faults) == 2
    assert f"{held}: NOT TRUE, 2 faults" in verdict
    held.write_bytes(b"x")
    done = run("measure", held)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == f"{held}: can't be read as a PDF: damaged, or no PDF\n"


def test_command_json(tmp_path: Path) -> None:
    """The JSON says the same, in mm, with the page of each fault."""
    held = tmp_path / "held.pdf"
    held.write_bytes(edited(hole_moved(0.1)))
    done = run("measure", held, "--json")
    assert done.exit_code == 1
    found = json.loads(done.stdout)
    assert found["format"] == 1
    assert found["true"] is False
    assert found["worst_mm"] == pytest.approx(0.1, abs=0.001)
    assert found["marks"] == measured(PDF).marks - 1
    assert found["tolerance_mm"] == 0.01
    [fault] = found["faults"]
    assert fault["page"] == FIRST
    assert fault["label"].startswith("Pantry, left panel, sheet 1 of ")
    assert "is off by 0.10 mm" in fault["text"]


def test_another_version(tmp_path: Path) -> None:
    """Where a PDF isn't true and another version made it, that is said beside."""
    held = tmp_path / "held.pdf"

    def edit(pdf: pikepdf.Pdf) -> None:
        swapped(pdf)
        pdf.docinfo["/Creator"] = "drapetemplate 0.0.1"

    held.write_bytes(edited(edit))
    last = run("measure", held).stdout.splitlines()[-1]
    assert last.startswith("made by drapetemplate 0.0.1, measured by drapetemplate ")
